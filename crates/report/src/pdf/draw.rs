//! Filled pages as a PDF file, with foot and page number.
//!
//! Not here: what goes where (`flow`, `table`).

use std::sync::Arc;

use krilla::Document;
use krilla::color::rgb;
use krilla::destination::XyzDestination;
use krilla::geom::{PathBuilder, Point, Rect, Transform};
use krilla::metadata::Metadata;
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule};
use krilla::surface::Surface;
use krilla::text::{Font, TextDirection};
use krilla_svg::{SurfaceExt, SvgSettings};
use reporting::charts::{FONT_BOLD, FONT_REGULAR};
use usvg::fontdb::Database;
use usvg::{Options, Tree};

use super::flow::{Ink, Item, PAGE_PT, Place, SIDE_PT};
use super::text::{Fonts, Weight};
use crate::PageError;
use crate::model::{Report, Span};
use crate::words::{Sentences, Words};

/// Type size of the foot \[pt\].
const FOOT_PT: f32 = 6.5;
const FOOT_FROM_BOTTOM_PT: f32 = 30.0;

/// A chart, ready to be drawn.
pub(super) fn tree(svg: &str) -> Result<Tree, String> {
    let mut fonts = Database::new();
    fonts.load_font_data(FONT_REGULAR.to_vec());
    fonts.load_font_data(FONT_BOLD.to_vec());
    let options = Options { fontdb: Arc::new(fonts), ..Options::default() };
    Tree::from_str(svg, &options).map_err(|cause| cause.to_string())
}

struct Pens {
    regular: Font,
    bold: Font,
}

/// The file.
pub(super) fn file(
    report: &Report,
    words: &Words,
    (fonts, pages, places): (&Fonts, Vec<Vec<Item>>, Vec<Place>),
) -> Result<Vec<u8>, PageError> {
    let font = |bytes: &[u8]| {
        Font::new(bytes.to_vec().into(), 0)
            .ok_or_else(|| PageError::Pdf("the font cannot be read".to_owned()))
    };
    let pens = Pens { regular: font(FONT_REGULAR)?, bold: font(FONT_BOLD)? };
    let mut document = Document::new();
    let metadata = Metadata::new().title(report.title.clone()).language(report.language.to_owned());
    document.set_metadata(metadata.creator("Dewledger".to_owned()));
    let count = pages.len();
    for (at, items) in pages.iter().enumerate() {
        let settings = PageSettings::from_wh(PAGE_PT.0, PAGE_PT.1);
        let settings = settings.ok_or_else(|| PageError::Pdf("a page has no size".to_owned()))?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        for item in items {
            draw(&mut surface, item, &pens);
        }
        for item in foot(report, words, (fonts, at + 1, count)) {
            draw(&mut surface, &item, &pens);
        }
        surface.finish();
        page.finish();
    }
    let mut outline = Outline::new();
    for place in places {
        let there = XyzDestination::new(place.page, Point::from_xy(SIDE_PT, place.y));
        outline.push_child(OutlineNode::new(place.heading, there));
    }
    document.set_outline(outline);
    document.finish().map_err(|cause| PageError::Pdf(format!("{cause:?}")))
}

fn foot(report: &Report, words: &Words, (fonts, page, pages): (&Fonts, usize, usize)) -> Vec<Item> {
    let pieces = [("page", Span::words(page.to_string())), ("pages", Span::words(pages.to_string()))];
    let number = fonts.printable(&words.line("page.pages", &pieces).plain());
    let look = (FOOT_PT, Weight::Regular);
    let y = PAGE_PT.1 - FOOT_FROM_BOTTOM_PT;
    let right = PAGE_PT.0 - SIDE_PT - fonts.width(&number, look);
    let text = |at, text| Item::Text { at, size: FOOT_PT, weight: look.1, ink: Ink::Quiet, text };
    vec![text((SIDE_PT, y), fonts.printable(&report.foot)), text((right, y), number)]
}

fn draw(surface: &mut Surface<'_>, item: &Item, pens: &Pens) {
    match item {
        Item::Text { at, size, weight, ink, text } => {
            let font = if *weight == Weight::Bold { &pens.bold } else { &pens.regular };
            surface.set_fill(Some(fill(*ink)));
            let point = Point::from_xy(at.0, at.1);
            surface.draw_text(point, font.clone(), *size, text, false, TextDirection::LeftToRight);
        }
        Item::Box { at, size, ink } => {
            let mut path = PathBuilder::new();
            if let Some(rect) = Rect::from_xywh(at.0, at.1, size.0, size.1) {
                path.push_rect(rect);
            }
            if let Some(path) = path.finish() {
                surface.set_fill(Some(fill(*ink)));
                surface.draw_path(&path);
            }
        }
        Item::Picture { at, size, tree } => {
            surface.push_transform(&Transform::from_translate(at.0, at.1));
            // Answers nothing when the picture has no size, which `tree` has refused.
            let _ = surface.draw_svg(tree, *size, SvgSettings::default());
            surface.pop();
        }
    }
}

fn fill(ink: Ink) -> Fill {
    let colour = match ink {
        Ink::Text => rgb::Color::new(0x26, 0x2b, 0x30),
        Ink::Quiet => rgb::Color::new(0x5d, 0x65, 0x6d),
        Ink::Line => rgb::Color::new(0xd5, 0xd9, 0xdd),
        Ink::Faint => rgb::Color::new(0xf3, 0xf5, 0xf6),
        Ink::Mark => rgb::Color::new(0xd5, 0x5e, 0x00),
    };
    Fill { paint: colour.into(), opacity: NormalizedF32::ONE, rule: FillRule::NonZero }
}
