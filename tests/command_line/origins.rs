//! Every number of a report is looked up where it says that it is from; one that says nothing must be in the table of words.
//!
//! Not here: how a page is taken apart (`pages`).

use std::collections::HashMap;

use reporting::{Language, Words};
use serde_json::Value;

use super::pages::Piece;
use super::room::Room;

/// Limits of the report itself, each reckoned by hand: a trap of twice 250 Pa as a column of water (9.81 Pa a millimetre) and 10 mm;
/// a litre in gallons of 3.785 411 784 L.
const RULES: [(&str, f64); 5] = [
    ("close_percent", 5.0),
    ("hardly_l", 1.0),
    ("hardly_gal", 0.264_172),
    ("trap_mm", 60.968),
    ("trap_in", 60.968 / 25.4),
];
/// Signs of units that hold a digit.
const UNITS: [&str; 1] = ["\u{a0}1/h"];

/// The result files of a run.
pub struct Files {
    cells: HashMap<String, String>,
    facts: HashMap<String, (Value, String)>,
    manifest: Value,
    money: Value,
    study: Vec<String>,
    is_ip: bool,
}

/// Cells of a table by `file|key|…|column`.
fn cells(room: &Room, file: &str, keys: &[usize]) -> HashMap<String, String> {
    let mut cells = HashMap::new();
    let path = format!("out/{file}");
    if !room.path.join(&path).exists() {
        return cells;
    }
    let text = room.read(&path);
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let headers = reader.headers().unwrap().clone();
    for record in reader.records() {
        let record = record.unwrap();
        let row: Vec<&str> = keys.iter().map(|key| &record[*key]).collect();
        for (name, cell) in headers.iter().zip(record.iter()) {
            cells.insert(format!("{file}|{}|{name}", row.join("|")), cell.to_owned());
        }
    }
    cells
}

impl Files {
    /// What is in the folder `out` of a room.
    pub fn of(room: &Room, study: &str, is_ip: bool) -> Self {
        let mut all = cells(room, "annual.csv", &[0, 1]);
        all.extend(cells(room, "monthly.csv", &[0, 1, 2]));
        all.extend(cells(room, "money.csv", &[0, 1]));
        all.extend(cells(room, "bins.csv", &[0, 1]));
        let json = |name: &str| {
            let path = format!("out/{name}");
            let exists = room.path.join(&path).exists();
            if exists { serde_json::from_str(&room.read(&path)).unwrap() } else { Value::Null }
        };
        let manifest: Value = json("manifest.json");
        let facts = manifest["understood"].as_array().unwrap().iter().map(|fact| {
            let text = |key: &str| fact[key].as_str().unwrap().to_owned();
            (text("key"), (fact["value"].clone(), text("unit")))
        });
        let facts = facts.collect();
        let study = study.lines().map(str::to_owned).collect();
        Self { cells: all, facts, manifest, money: json("money.json"), study, is_ip }
    }

    /// A number that was understood.
    pub fn fact(&self, key: &str) -> f64 {
        self.facts.get(key).and_then(|(value, _)| value.as_f64()).unwrap_or_else(|| panic!("no {key}"))
    }

    /// Looks up every piece; answers how many named an origin.
    pub fn hold(&self, pieces: &[Piece], language: Language) -> usize {
        let words = Words::of(language).unwrap();
        for piece in pieces {
            if piece.from.is_empty() {
                self.is_of_words(&piece.text, words);
            } else {
                self.is_as_filed(piece);
            }
        }
        pieces.iter().filter(|piece| !piece.from.is_empty()).count()
    }

    /// Text that names no origin: without digits, a name of the study, or of the table of words.
    fn is_of_words(&self, text: &str, words: &Words) {
        let has_digit = |text: &str| text.chars().any(|sign| sign.is_ascii_digit());
        let names = self.names();
        let without_names = names.iter().fold(text.to_owned(), |text, name| text.replace(name.as_str(), ""));
        let known = || words.keys().any(|key| is_made_of(&without_names, &words.text(key)));
        let is_unit = UNITS.contains(&text);
        assert!(!has_digit(&without_names) || is_unit || known(), "`{text}` names no origin");
    }

    fn names(&self) -> Vec<String> {
        let title = self.manifest["title"].as_str().unwrap().to_owned();
        let units = self.manifest["residuals"].as_array().unwrap().iter();
        let units = units.map(|line| line["unit"].as_str().unwrap().to_owned());
        std::iter::once(title).chain(units).filter(|name| !name.is_empty()).collect()
    }

    fn is_as_filed(&self, piece: &Piece) {
        let (from, text) = (piece.from.as_str(), piece.text.as_str());
        let (file, place) = from.split_once('|').unwrap_or((from, ""));
        match file {
            "annual.csv" | "monthly.csv" | "money.csv" | "bins.csv" => {
                let cell = self.cells.get(from).unwrap_or_else(|| panic!("{from} is in no file"));
                if from.ends_with("_date") {
                    let day = cell.split_once('-').unwrap().1.trim_start_matches('0').to_owned();
                    assert!(text.starts_with(&day), "{from}: {text}, {cell}");
                } else {
                    let column = place.rsplit('|').next().unwrap_or_default();
                    let exact: f64 = cell.parse().unwrap_or_else(|_| panic!("{from}: {cell}"));
                    near(from, text, self.shown(unit_of(column), exact));
                }
            }
            "understood" => match self.facts.get(place) {
                Some((Value::String(told), _)) => assert_eq!(text, told, "{from}"),
                Some((told, unit)) => near(from, text, self.shown(unit, told.as_f64().unwrap())),
                None => panic!("{from} is not in the manifest"),
            },
            "manifest.json" => told(from, text, self.manifest.pointer(place)),
            "money.json" => told(from, text, self.money.pointer(place)),
            "study" => {
                let line = &self.study[place.parse::<usize>().unwrap() - 1];
                assert!(text == place || text == line, "{from}: {text}, {line}");
            }
            "rule" => {
                let rule = RULES.iter().find(|(name, _)| *name == place);
                near(from, text, rule.unwrap_or_else(|| panic!("{from} is no rule")).1);
            }
            "date" => assert!(text.chars().any(char::is_alphabetic), "{text} is no day of a month"),
            _ => panic!("{from} names no result file"),
        }
    }

    /// A quantity in the reader's units. NIST SP 811, appendix B.8 (recalled): what a foot, a pound, a gallon and a Btu are.
    fn shown(&self, unit: &str, value: f64) -> f64 {
        let foot = 0.3048;
        match unit {
            "share" => 100.0 * value,
            _ if !self.is_ip => value,
            "°C" => value * 1.8 + 32.0,
            "L/s" => value / (foot * foot * foot * 1000.0 / 60.0),
            "m" => value / foot,
            "m2" => value / (foot * foot),
            "m3" => value / (foot * foot * foot),
            "L" => value / 3.785_411_784,
            "kg" | "kg/d" => value / 0.453_592_37,
            "W/K" => value * 3600.0 / 1055.056 / 1.8,
            "kg/s" => value / 0.453_592_37 * 3600.0,
            _ => value,
        }
    }
}

/// Unit of a column whose figures are shown in the reader's own; the others are shown as they are filed.
fn unit_of(column: &str) -> &'static str {
    let bare = ["hourly_", "no_history_", "told_", "blind_"]
        .iter()
        .fold(column, |name, way| name.strip_prefix(way).unwrap_or(name));
    match bare {
        "condensate_l" | "peak_condensate_l_per_day" | "carried_over_l" => "L",
        "ice_formed_kg" | "frost_kg_peak" => "kg",
        "low_c" | "high_c" => "°C",
        _ => "",
    }
}

fn told(from: &str, text: &str, value: Option<&Value>) {
    match value {
        Some(Value::String(told)) => assert!(told == text || contains(told, text), "{from}: {text}, {told}"),
        Some(Value::Array(items)) => assert_eq!(text, items.len().to_string(), "{from}"),
        Some(Value::Number(number)) => near(from, text, number.as_f64().unwrap()),
        other => panic!("{from}: {text}, {other:?}"),
    }
}

/// Whether a day or an amount stands in a longer text: `2026-12-01` in a time, `240` in a sentence.
fn contains(told: &str, text: &str) -> bool {
    let number = text.split('\u{a0}').next().unwrap_or_default().replace('\u{202f}', "");
    !number.is_empty() && number.starts_with(|sign: char| sign.is_ascii_digit()) && told.contains(&number)
}

/// A number as the page writes it is this one, rounded to its last digit.
fn near(from: &str, text: &str, exact: f64) {
    let (shown, last) = parsed(text);
    assert!((shown - exact).abs() <= 0.500_000_1 * last, "{from}: {text} is shown, {exact} is filed");
}

/// A number of the page and one of its last digit: narrow spaces between thousands, a true minus, point or comma, powers of ten.
fn parsed(text: &str) -> (f64, f64) {
    let plain = text.replace('\u{202f}', "").replace('\u{2212}', "-").replace(',', ".");
    let (lead, power) = plain.split_once("\u{a0}×\u{a0}10").map_or((plain.as_str(), 0), |(lead, raised)| {
        let place = |sign| "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().position(|digit| digit == sign);
        let digits = raised.chars().filter_map(place).fold(0, |number, digit| number * 10 + digit);
        let power = i32::try_from(digits).unwrap();
        (lead, if raised.starts_with('⁻') { -power } else { power })
    });
    let number = lead.split('\u{a0}').next().unwrap_or_default();
    let decimals = number.split_once('.').map_or(0, |(_, rest)| i32::try_from(rest.len()).unwrap());
    let value: f64 = number.parse().unwrap_or_else(|_| panic!("{text} is no number"));
    (value * 10f64.powi(power), 10f64.powi(power - decimals))
}

/// Whether a text is a string of the table, or a part of one between its places, with nothing that has a digit put into them.
fn is_made_of(text: &str, template: &str) -> bool {
    let parts: Vec<&str> = template
        .split('{')
        .flat_map(|part| part.split_once('}').map_or([part, ""], |(_, behind)| [behind, ""]))
        .filter(|part| !part.is_empty())
        .collect();
    if parts.contains(&text) {
        return true;
    }
    let mut rest = text.to_owned();
    for part in &parts {
        if !part.chars().any(|sign| sign.is_ascii_digit()) {
            continue;
        }
        match rest.split_once(part.trim()) {
            Some((before, behind)) => rest = format!("{before}{behind}"),
            None => return false,
        }
    }
    !rest.chars().any(|sign| sign.is_ascii_digit())
}
