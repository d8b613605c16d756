//! Text in the embedded font: how wide it is, where lines break, and what stands for signs that the font lacks.
//!
//! Not here: where on a page it goes (`flow`).

use reporting::charts::{FONT_BOLD, FONT_REGULAR};
use ttf_parser::Face;

use crate::PageError;

/// Line height over type size.
pub(super) const LEADING: f32 = 1.4;

/// Thickness of the letters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Weight {
    Regular,
    Bold,
}

/// Signs up to this one are looked up once; the fonts hold hardly any beyond it.
const KNOWN_SIGNS: u32 = 0x2300;

/// A font's widths, since a page asks for the same signs thousands of times.
struct Widths {
    face: Face<'static>,
    /// By code, `None` where the font lacks the sign.
    known: Vec<Option<u16>>,
}

impl Widths {
    fn new(bytes: &'static [u8]) -> Result<Self, PageError> {
        let face = Face::parse(bytes, 0).map_err(|cause| PageError::Pdf(format!("the font: {cause}")))?;
        let known = (0..KNOWN_SIGNS).map(|code| advance(&face, char::from_u32(code)?)).collect();
        Ok(Self { face, known })
    }

    /// Width in the font's units; `None` where it lacks the sign.
    fn of(&self, sign: char) -> Option<u16> {
        match self.known.get(sign as usize) {
            Some(known) => *known,
            None => advance(&self.face, sign),
        }
    }
}

fn advance(face: &Face<'_>, sign: char) -> Option<u16> {
    let glyph = face.glyph_index(sign)?;
    Some(face.glyph_hor_advance(glyph).unwrap_or(0))
}

/// The two fonts, to measure with.
pub(super) struct Fonts {
    regular: Widths,
    bold: Widths,
}

impl Fonts {
    pub(super) fn new() -> Result<Self, PageError> {
        Ok(Self { regular: Widths::new(FONT_REGULAR)?, bold: Widths::new(FONT_BOLD)? })
    }

    /// Width of a text \[pt\].
    pub(super) fn width(&self, text: &str, (size, weight): (f32, Weight)) -> f32 {
        let widths = match weight {
            Weight::Regular => &self.regular,
            Weight::Bold => &self.bold,
        };
        let units: f32 = text.chars().map(|sign| f32::from(widths.of(sign).unwrap_or(0))).sum();
        units / f32::from(widths.face.units_per_em()) * size
    }

    /// The text with the code of every sign that the font lacks; white space becomes a blank.
    pub(super) fn printable(&self, text: &str) -> String {
        let mut out = String::new();
        for sign in text.chars() {
            if sign == '\t' || sign == '\n' || sign == '\r' {
                out.push(' ');
            } else if self.regular.of(sign).is_some() {
                out.push(sign);
            } else {
                out.push_str(&code(sign));
            }
        }
        out
    }

    /// The text in lines of at most this width \[pt\]; a word that is too long is cut.
    pub(super) fn lines(&self, text: &str, look: (f32, Weight), width: f32) -> Vec<String> {
        let mut lines = vec![String::new()];
        for word in self.printable(text).split(' ').filter(|word| !word.is_empty()) {
            for piece in self.pieces(word, look, width) {
                let last = lines.last().cloned().unwrap_or_default();
                let joined = if last.is_empty() { piece.clone() } else { format!("{last} {piece}") };
                if last.is_empty() || self.width(&joined, look) <= width {
                    if let Some(line) = lines.last_mut() {
                        *line = joined;
                    }
                } else {
                    lines.push(piece);
                }
            }
        }
        lines
    }

    fn pieces(&self, word: &str, look: (f32, Weight), width: f32) -> Vec<String> {
        if self.width(word, look) <= width {
            return vec![word.to_owned()];
        }
        let mut pieces = vec![String::new()];
        let mut used = 0.0;
        for sign in word.chars() {
            let own = self.width(sign.encode_utf8(&mut [0; 4]), look);
            if used > 0.0 && used + own > width {
                pieces.push(String::new());
                used = 0.0;
            }
            used += own;
            if let Some(piece) = pieces.last_mut() {
                piece.push(sign);
            }
        }
        pieces
    }
}

fn code(sign: char) -> String {
    format!("[U+{:04X}]", u32::from(sign))
}

/// A text as the PDF prints it: signs that its font lacks as their code.
///
/// # Errors
/// [`PageError::Pdf`] when the font cannot be read.
pub fn as_printed(text: &str) -> Result<String, PageError> {
    Ok(Fonts::new()?.printable(text))
}
