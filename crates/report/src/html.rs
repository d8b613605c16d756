//! The report as one page for a browser: styles, font, charts and script are all in it, and nothing is fetched.
//!
//! Not here: the words (`content`), the PDF (`pdf`).

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use minijinja::value::Serde;
use minijinja::{Environment, UndefinedBehavior, context};
use reporting::charts::{FONT_BOLD, FONT_REGULAR};

use crate::PageError;
use crate::model::Report;
use crate::words::Words;

const TEMPLATE: &str = include_str!("../page/report.html");
const STYLE: &str = include_str!("../page/report.css");
const SCRIPT: &str = include_str!("../page/report.js");
/// The name decides that everything put in is escaped.
const NAME: &str = "report.html";

/// The page. Everything that is not a chart is escaped; charts are drawn by `reporting`, which escapes what it writes.
///
/// # Errors
/// [`PageError::Template`] when the template cannot be filled.
pub fn page(report: &Report, words: &Words) -> Result<String, PageError> {
    let mut environment = Environment::new();
    environment.set_undefined_behavior(UndefinedBehavior::Strict);
    environment.add_template(NAME, TEMPLATE)?;
    let hours = report.hours.as_ref().map(json).transpose()?;
    let fonts = [FONT_REGULAR, FONT_BOLD].map(|bytes| STANDARD.encode(bytes));
    let keys = [
        "choose",
        "units",
        "month",
        "all_year",
        "day",
        "hour",
        "outdoor",
        "supply",
        "humidity",
        "drain",
        "ice",
        "day_label",
        "without_script",
        "sideways",
    ];
    let told: std::collections::BTreeMap<&str, String> =
        keys.iter().map(|key| (*key, words.text(&format!("page.{key}")))).collect();
    let months: Vec<String> = (1..=12).map(|month| words.text(&format!("month.m{month}"))).collect();
    let units: Vec<&str> =
        report.hours.iter().flat_map(|hours| hours.units.iter().map(|unit| unit.name.as_str())).collect();
    let said = json(&serde_json::json!({ "words": &told, "months": &months, "language": report.language }))?;
    let filled = environment.get_template(NAME)?.render(context! {
        report => Serde(report),
        words => Serde(&told),
        months => Serde(&months),
        units => Serde(&units),
        contents => words.text("report.contents"),
        regular => &fonts[0],
        bold => &fonts[1],
        style => STYLE,
        script => SCRIPT,
        hours,
        said,
    })?;
    Ok(filled)
}

/// Data for the script: `<` is written as its code, so that no text can end the element that holds it.
fn json(data: &impl serde::Serialize) -> Result<String, PageError> {
    let text = serde_json::to_string(data).map_err(|cause| PageError::Words(cause.to_string()))?;
    Ok(text.replace('<', "\\u003c"))
}
