//! Words, numbers, and texts that would like to be something else. What is right is from HTML's and SI's own rules.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]

use std::collections::BTreeSet;

use report::model::{Block, Hours, Line, Section, Span, Table, TableRow, UnitHours};
use report::{Language, Report, Words, page, pdf};

const HOSTILE: &str = "<script>alert('x')</script> \"quoted\" & 🏠 עברית";

fn made_up(title: &str) -> Report {
    let table = Table {
        caption: Line::words("Made up"),
        heads: vec!["house".to_owned(), "kWh".to_owned()],
        word_columns: 1,
        rows: (0..120)
            .map(|at| TableRow {
                unit: title.to_owned(),
                month: 0,
                cells: vec![
                    Line::words(title),
                    Span { text: at.to_string(), from: format!("annual.csv|{title}|unit|heating_kwh") }
                        .into(),
                ],
            })
            .collect(),
    };
    let unit = UnitHours { name: title.to_owned(), ..UnitHours::default() };
    Report {
        language: "en",
        title: title.to_owned(),
        below_title: Line::words("below"),
        foot: "foot".to_owned(),
        sections: vec![Section {
            id: "answer",
            heading: "The answer".to_owned(),
            blocks: vec![Block::Text { line: Line::words(title) }, Block::Table { table }],
        }],
        hours: Some(Hours { units: vec![unit], ..Hours::default() }),
    }
}

#[test]
fn every_language_has_the_same_keys_and_the_same_places_to_fill() {
    let all: Vec<&Words> = Language::ALL.into_iter().map(|language| Words::of(language).unwrap()).collect();
    let keys: Vec<BTreeSet<&str>> = all.iter().map(|words| words.keys().collect()).collect();
    assert_eq!(keys[0], keys[1]);
    assert!(keys[0].len() > 200);
    let places = |text: &str| {
        let names = text.split('{').skip(1).filter_map(|rest| rest.split('}').next());
        names.map(str::to_owned).collect::<BTreeSet<String>>()
    };
    for key in &keys[0] {
        assert_eq!(places(&all[0].text(key)), places(&all[1].text(key)), "{key}");
    }
}

/// SI Brochure, 9th edition, 5.4.4 (recalled): point or comma, groups of three parted by a space, none needed for four digits.
#[test]
fn numbers_are_written_as_each_language_writes_them() {
    let cases = [
        (1234.0, 0, "1234", "1234"),
        (12345.678, 1, "12\u{202f}345.7", "12\u{202f}345,7"),
        (-0.04, 1, "0.0", "0,0"),
        (-6.25, 2, "\u{2212}6.25", "\u{2212}6,25"),
        (1_000_000.0, 0, "1\u{202f}000\u{202f}000", "1\u{202f}000\u{202f}000"),
    ];
    for (value, decimals, english, french) in cases {
        assert_eq!(Language::English.number(value, decimals), english);
        assert_eq!(Language::French.number(value, decimals), french);
    }
}

/// A power of ten as it is written, with the language's decimal marker.
#[test]
fn small_numbers_are_written_in_powers_of_ten() {
    let cases = [
        (4.6e-14, "4.6\u{a0}×\u{a0}10⁻¹⁴", "4,6\u{a0}×\u{a0}10⁻¹⁴"),
        (-1.25e3, "\u{2212}1.2\u{a0}×\u{a0}10³", "\u{2212}1,2\u{a0}×\u{a0}10³"),
        (0.0, "0", "0"),
    ];
    for (value, english, french) in cases {
        assert_eq!(Language::English.scientific(value), english);
        assert_eq!(Language::French.scientific(value), french);
    }
}

/// Every key is named somewhere in the sources; those put together from parts are left out.
#[test]
fn every_string_of_the_table_is_used() {
    let mut sources = String::new();
    for folder in
        ["src", "src/content", "src/pdf", "page", "../reporting/src", "../reporting/src/charts", "../cli/src"]
    {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
        for entry in
            std::fs::read_dir(folder).unwrap().map(Result::unwrap).filter(|entry| entry.path().is_file())
        {
            sources.push_str(&std::fs::read_to_string(entry.path()).unwrap());
        }
    }
    let put_together =
        ["month.", "figure.", "chart.m", "chart.outdoor", "chart.exhaust", "chart.supply", "chart.extract"];
    for key in Words::of(Language::English).unwrap().keys() {
        let (group, name) = key.split_once('.').unwrap();
        let is_named = sources.contains(&format!("\"{key}\""))
            || (group == "page" && sources.contains(&format!("\"{name}\"")));
        assert!(is_named || put_together.iter().any(|start| key.starts_with(start)), "{key} is used nowhere");
    }
}

#[test]
fn a_title_that_would_be_a_script_is_text_on_the_page() {
    let words = Words::of(Language::English).unwrap();
    let html = page(&made_up(HOSTILE), words).unwrap();
    assert!(!html.contains("<script>alert"), "the title runs");
    // The rules of HTML: `<` in text is `&lt;`, `"` in an attribute is `&quot;` or a number.
    assert!(html.contains("&lt;script&gt;alert("));
    assert!(!html.contains("value=\"<"), "the title ends an attribute");
    assert!(html.contains("🏠 עברית"));
    // One element for data of each kind and one script: the title adds none.
    assert_eq!(html.matches("<script").count(), 3);
    assert_eq!(html.matches("</script>").count(), 3);
}

#[test]
fn nothing_on_the_page_is_fetched() {
    let words = Words::of(Language::English).unwrap();
    let html = page(&made_up("A house"), words).unwrap();
    for fetches in ["http://", "https://", "src=\"", "@import", "<link"] {
        assert!(!html.contains(fetches), "{fetches}");
    }
}

#[test]
fn signs_that_the_font_lacks_are_shown_by_their_code() {
    // Unicode: U+1F3E0 house building, U+05E2 Hebrew letter ayin.
    assert_eq!(pdf::as_printed("a 🏠 ע é €").unwrap(), "a [U+1F3E0] [U+05E2] é €");
}

#[test]
fn a_hostile_title_makes_a_pdf_of_several_pages() {
    let words = Words::of(Language::English).unwrap();
    let bytes = pdf(&made_up(HOSTILE), words).unwrap();
    // ISO 32000-1, 7.5.2 and 7.5.5: how a file begins and ends.
    assert!(bytes.starts_with(b"%PDF-1."));
    assert!(bytes.windows(5).any(|window| window == b"%%EOF"));
    // 7.7.3.2: the root of the pages counts them.
    let text = String::from_utf8_lossy(&bytes);
    let count =
        text.split("/Count ").nth(1).and_then(|rest| rest.split(|sign: char| !sign.is_ascii_digit()).next());
    let pages: u32 = count.expect("a count of pages").parse().unwrap();
    assert!(pages >= 2, "{pages} pages for a table of 120 rows");
    // 12.3.3: an outline is named in the catalog.
    assert!(text.contains("/Outlines"));
}

#[test]
fn a_word_without_an_end_does_not_leave_the_page() {
    let words = Words::of(Language::English).unwrap();
    assert!(pdf(&made_up(&"W".repeat(200)), words).is_ok());
}
