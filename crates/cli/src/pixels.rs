//! Charts as PNG: the SVG drawn once more in pixels, two to each unit of the picture.
//!
//! The text is set in the embedded font alone, whatever the machine has. Not here: what is drawn (`reporting::charts`).

use std::sync::Arc;

use reporting::charts::{FONT_BOLD, FONT_REGULAR};
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::fontdb::Database;
use resvg::usvg::{Options, Tree};

use crate::failure::Failure;

/// Pixels to a unit of the picture.
const SCALE: f32 = 2.0;

/// Draws SVG pictures in pixels.
pub(crate) struct Painter {
    options: Options<'static>,
}

impl Painter {
    pub(crate) fn new() -> Self {
        let mut fonts = Database::new();
        fonts.load_font_data(FONT_REGULAR.to_vec());
        fonts.load_font_data(FONT_BOLD.to_vec());
        Self { options: Options { fontdb: Arc::new(fonts), ..Options::default() } }
    }

    /// The PNG file of an SVG picture.
    pub(crate) fn png(&self, svg: &str) -> Result<Vec<u8>, Failure> {
        let tree = Tree::from_str(svg, &self.options).map_err(Failure::work)?;
        let size = tree.size().to_int_size().scale_by(SCALE);
        let pixmap = size.and_then(|size| Pixmap::new(size.width(), size.height()));
        let mut pixmap =
            pixmap.ok_or_else(|| Failure::work("a chart is too large for a picture in pixels"))?;
        resvg::render(&tree, Transform::from_scale(SCALE, SCALE), &mut pixmap.as_mut());
        pixmap.encode_png().map_err(Failure::work)
    }
}
