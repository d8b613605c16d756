//! Pages filled from top to bottom; what does not fit goes to the next page.
//!
//! Not here: tables (`table`), the file (`draw`).

use krilla::geom::Size;
use usvg::Tree;

use super::text::{Fonts, LEADING, Weight};
use super::{SIGN_PT, TEXT_PT};
use crate::PageError;
use crate::model::Picture;

/// A4, of ISO 216 \[pt\].
pub(super) const PAGE_PT: (f32, f32) = (595.28, 841.89);
/// Left and right of the text \[pt\].
pub(super) const SIDE_PT: f32 = 46.0;
const TOP_PT: f32 = 44.0;
const BOTTOM_PT: f32 = 56.0;
/// Greatest share of a page that a picture takes.
const PICTURE_SHARE: f32 = 0.9;

/// Ink of a thing on a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ink {
    Text,
    Quiet,
    Line,
    Faint,
    Mark,
}

/// A thing on a page; positions from the top left \[pt\].
pub(super) enum Item {
    /// A line of text on its base line.
    Text { at: (f32, f32), size: f32, weight: Weight, ink: Ink, text: String },
    /// A filled rectangle.
    Box { at: (f32, f32), size: (f32, f32), ink: Ink },
    /// A chart.
    Picture { at: (f32, f32), size: Size, tree: Box<Tree> },
}

/// The pages so far.
pub(super) struct Flow<'a> {
    pub(super) fonts: &'a Fonts,
    pages: Vec<Vec<Item>>,
    places: Vec<Place>,
    y: f32,
}

/// Where a heading stands, for the file's outline.
pub(super) struct Place {
    pub(super) heading: String,
    pub(super) page: usize,
    pub(super) y: f32,
}

impl<'a> Flow<'a> {
    pub(super) fn new(fonts: &'a Fonts) -> Self {
        Self { fonts, pages: vec![Vec::new()], places: Vec::new(), y: TOP_PT }
    }

    /// The pages, and where the headings are.
    pub(super) fn filled(self) -> (Vec<Vec<Item>>, Vec<Place>) {
        (self.pages, self.places)
    }

    /// Width of the text \[pt\].
    pub(super) const fn width() -> f32 {
        PAGE_PT.0 - 2.0 * SIDE_PT
    }

    pub(super) const fn y(&self) -> f32 {
        self.y
    }

    pub(super) fn put(&mut self, item: Item) {
        if let Some(page) = self.pages.last_mut() {
            page.push(item);
        }
    }

    pub(super) fn gap(&mut self, height: f32) {
        self.y += height;
    }

    pub(super) fn break_page(&mut self) {
        self.pages.push(Vec::new());
        self.y = TOP_PT;
    }

    /// Whether this much still fits.
    pub(super) fn fits(&self, height: f32) -> bool {
        self.y + height <= PAGE_PT.1 - BOTTOM_PT
    }

    /// Goes to the next page unless this much fits, or the page is empty.
    pub(super) fn room_for(&mut self, height: f32) {
        if !self.fits(height) && self.y > TOP_PT {
            self.break_page();
        }
    }

    /// Height of a paragraph set in from the left \[pt\].
    pub(super) fn height(&self, text: &str, look: (f32, Weight), left: f32) -> f32 {
        self.fonts.lines(text, look, Self::width() - left).len() as f32 * look.0 * LEADING + 2.0
    }

    fn set(&mut self, text: &str, look: (f32, Weight), (left, ink): (f32, Ink)) {
        let (size, weight) = look;
        for line in self.fonts.lines(text, look, Self::width() - left) {
            self.room_for(size * LEADING);
            let at = (SIDE_PT + left, self.y + size);
            self.put(Item::Text { at, size, weight, ink, text: line });
            self.y += size * LEADING;
        }
        self.y += 2.0;
    }

    pub(super) fn paragraph(&mut self, text: &str, look: (f32, Weight), left: f32) {
        self.set(text, look, (left, Ink::Text));
    }

    pub(super) fn quiet(&mut self, text: &str) {
        self.set(text, (TEXT_PT, Weight::Regular), (0.0, Ink::Quiet));
    }

    pub(super) fn heading(&mut self, text: &str, size: f32) {
        self.room_for(90.0);
        self.gap(10.0);
        let at = (SIDE_PT, self.y);
        let page = self.pages.len().saturating_sub(1);
        self.places.push(Place { heading: text.to_owned(), page, y: self.y });
        self.put(Item::Box { at, size: (Self::width(), 1.2), ink: Ink::Text });
        self.gap(5.0);
        self.set(text, (size, Weight::Bold), (0.0, Ink::Text));
    }

    pub(super) fn marked(&mut self, text: &str) {
        self.room_for(self.height(text, (TEXT_PT, Weight::Regular), 12.0));
        let at = (SIDE_PT, self.y + TEXT_PT);
        let mark = "•".to_owned();
        self.put(Item::Text { at, size: TEXT_PT, weight: Weight::Bold, ink: Ink::Quiet, text: mark });
        self.set(text, (TEXT_PT, Weight::Regular), (12.0, Ink::Text));
    }

    pub(super) fn caution(&mut self, text: &str) {
        let height = self.height(text, (TEXT_PT, Weight::Regular), 12.0) + 6.0;
        self.room_for(height + 6.0);
        self.gap(3.0);
        let at = (SIDE_PT, self.y);
        self.put(Item::Box { at, size: (Self::width(), height), ink: Ink::Faint });
        self.put(Item::Box { at, size: (3.0, height), ink: Ink::Mark });
        self.gap(4.0);
        self.set(text, (TEXT_PT, Weight::Regular), (12.0, Ink::Text));
        self.gap(5.0);
    }

    /// A question in the left column; what follows stands beside it. Answers where it ends.
    pub(super) fn aside(&mut self, text: &str, width: f32) -> f32 {
        self.gap(5.0);
        let look = (TEXT_PT, Weight::Bold);
        let end = self.y + self.fonts.lines(text, look, width).len() as f32 * TEXT_PT * LEADING;
        for (place, line) in self.fonts.lines(text, look, width).into_iter().enumerate() {
            let at = (SIDE_PT, self.y + TEXT_PT * (1.1 + place as f32 * LEADING));
            self.put(Item::Text { at, size: TEXT_PT, weight: look.1, ink: Ink::Quiet, text: line });
        }
        end
    }

    /// Goes down to here, if it is not there yet; on a page begun since, it is.
    pub(super) fn at_least(&mut self, y: f32) {
        if self.y > TOP_PT * 2.0 {
            self.y = self.y.max(y);
        }
    }

    pub(super) fn rule(&mut self) {
        self.gap(3.0);
        let at = (SIDE_PT, self.y);
        self.put(Item::Box { at, size: (Self::width(), 0.5), ink: Ink::Line });
    }

    pub(super) fn sign(&mut self, label: &str) {
        self.room_for(SIGN_PT);
        self.gap(24.0);
        let at = (SIDE_PT, self.y);
        let text = self.fonts.printable(label);
        self.put(Item::Text { at, size: TEXT_PT, weight: Weight::Regular, ink: Ink::Quiet, text });
        let at = (SIDE_PT + 170.0, self.y);
        self.put(Item::Box { at, size: (Self::width() - 170.0, 0.6), ink: Ink::Text });
    }

    pub(super) fn picture(&mut self, picture: &Picture) -> Result<(), PageError> {
        let failed = |reason: String| PageError::Chart { file: picture.file.clone(), reason };
        let tree = super::draw::tree(&picture.svg).map_err(&failed)?;
        let size = tree.size();
        let most = (PAGE_PT.1 - TOP_PT - BOTTOM_PT) * PICTURE_SHARE;
        let scale = (Self::width() / size.width()).min(most / size.height());
        let (width, height) = (size.width() * scale, size.height() * scale);
        let size = Size::from_wh(width, height).ok_or_else(|| failed("it has no size".to_owned()))?;
        self.room_for(height + 28.0);
        self.gap(8.0);
        self.set(&picture.caption, (TEXT_PT, Weight::Bold), (0.0, Ink::Text));
        let at = (SIDE_PT, self.y);
        self.put(Item::Picture { at, size, tree: Box::new(tree) });
        self.gap(height + 6.0);
        Ok(())
    }
}
