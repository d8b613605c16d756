//! Reads back what a chart's SVG holds: boxes of its text and of its marks, in units of the finished picture.

#![allow(dead_code, reason = "every test file uses its own part")]
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "helpers of tests fail like tests")]

/// Drawing units in one unit of the picture.
const FINE: f64 = 4.0;
#[derive(Debug, Clone)]
pub struct Text {
    pub words: String,
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
}

impl Text {
    pub fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }
}

fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    let start = tag.find(&format!(" {name}=\""))? + name.len() + 3;
    tag[start..].split('"').next()
}

fn number(tag: &str, name: &str) -> f64 {
    attribute(tag, name).unwrap().parse().unwrap()
}

/// Estimated width of text, as a share of its size: widths of the letters of a common broad sans-serif, recalled to two
/// decimals; bold is a ninth wider.
fn ems(words: &str, bold: f64) -> f64 {
    let width = |c: char| match c {
        'i' | 'j' | 'l' | 'I' | '\'' => 0.29,
        ' ' | '.' | ',' | ':' | ';' | '/' | '|' => 0.33,
        'f' | 't' | 'r' | '-' | '(' | ')' | '[' | ']' | '"' => 0.39,
        's' | 'z' | 'c' | '°' => 0.54,
        'm' | '%' | 'W' | 'M' | '—' => 0.97,
        'w' | '−' | '+' | '<' | '>' | '…' => 0.83,
        'A'..='Z' => 0.70,
        _ => 0.63,
    };
    words.chars().map(width).sum::<f64>() * bold
}

/// Every text with its box; capitals and digits reach 0.73 of the size.
pub fn texts(svg: &str) -> Vec<Text> {
    let read = |piece: &str| {
        let (tag, words) = piece.split_once('>').unwrap();
        let words = words.split('<').next().unwrap().trim().replace("&lt;", "<").replace("&gt;", ">");
        let size = number(tag, "font-size") / FINE;
        let bold = if tag.contains("bold") { 1.11 } else { 1.0 };
        let width = ems(&words, bold) * size;
        let (x, y) = (number(tag, "x") / FINE, number(tag, "y") / FINE);
        let left = match attribute(tag, "text-anchor").unwrap() {
            "start" => x,
            "middle" => x - width / 2.0,
            _ => x - width,
        };
        let half = 0.73 * size / 2.0;
        Text { words, left, top: y - half, right: left + width, bottom: y + half }
    };
    svg.split("<text").skip(1).map(|piece| read(&format!(" {}", piece.trim_start()))).collect()
}

/// Every corner of every line, area and rectangle.
pub fn corners(svg: &str) -> Vec<(f64, f64)> {
    let mut corners = Vec::new();
    for piece in svg.split('<').skip(1) {
        let tag = piece.split('>').next().unwrap();
        if let Some(points) = attribute(tag, "points") {
            let all: Vec<f64> = points
                .split([' ', ','])
                .filter(|part| !part.is_empty())
                .map(|part| part.parse().unwrap())
                .collect();
            corners.extend(all.chunks_exact(2).map(|pair| (pair[0] / FINE, pair[1] / FINE)));
        } else if tag.starts_with("rect") {
            let (x, y) = (number(tag, "x") / FINE, number(tag, "y") / FINE);
            corners.push((x, y));
            corners.push((x + number(tag, "width") / FINE, y + number(tag, "height") / FINE));
        }
    }
    corners
}

/// Size of the picture.
pub fn size(svg: &str) -> (f64, f64) {
    let tag = svg.split('>').next().unwrap();
    (number(tag, "width"), number(tag, "height"))
}

/// Tags open and close in order, and no bare `<` or `&` is left in text.
pub fn assert_well_formed(svg: &str) {
    let mut open: Vec<&str> = Vec::new();
    for piece in svg.split('<').skip(1) {
        let (tag, text) = piece.split_once('>').expect("a tag ends");
        for entity in text.split('&').skip(1) {
            assert!(
                ["lt;", "gt;", "amp;", "quot;", "apos;"].iter().any(|known| entity.starts_with(known)),
                "{entity}"
            );
        }
        match tag.strip_prefix('/') {
            Some(name) => assert_eq!(open.pop(), Some(name)),
            None if tag.ends_with('/') => {}
            None => open.push(tag.split_whitespace().next().expect("a tag has a name")),
        }
    }
    assert!(open.is_empty(), "{open:?}");
}

/// Set `REPORTING_PICTURES` to a folder to look at the charts.
pub fn keep(name: &str, svg: &str) {
    if let Ok(folder) = std::env::var("REPORTING_PICTURES") {
        std::fs::write(format!("{folder}/{name}"), svg).unwrap();
    }
}

/// Well formed, no NaN, everything on the page, no text over another.
pub fn assert_sound(name: &str, svg: &str) {
    keep(name, svg);
    assert_well_formed(svg);
    assert!(!svg.contains("NaN") && !svg.contains("inf"), "{name}");
    let (width, height) = size(svg);
    for (x, y) in corners(svg) {
        assert!((-0.5..=width + 0.5).contains(&x) && (-0.5..=height + 0.5).contains(&y), "{name}: {x}, {y}");
    }
    let texts = texts(svg);
    for (place, text) in texts.iter().enumerate() {
        assert!(text.left >= 0.0 && text.right <= width, "{name}: {text:?}");
        assert!(text.top >= 0.0 && text.bottom <= height, "{name}: {text:?}");
        for other in &texts[place + 1..] {
            assert!(!text.overlaps(other), "{name}: {text:?}\n{other:?}");
        }
    }
}
