//! Reads a study: the file as a whole, its title and place.
//!
//! Here: the order of reading and the checks between tables. Not here: the house (`read/house.rs`), its
//! ventilation (`read/ventilation.rs`), the units
//! (`read/unit.rs`). Every reader goes on after a problem, so that one run finds them all.
//! Read next: `read/house.rs`.

mod air_ways;
mod bedroom;
mod control;
mod fabric;
mod fan;
mod free_cooling;
mod frost;
mod house;
mod indoors;
mod leakage;
mod money;
mod performance;
mod plant;
mod rating;
mod unit;
mod ventilation;

use std::ops::Range;

use toml::Spanned;
use toml::de::DeTable;

use crate::conditions::Filling;
use crate::keys;
use crate::kinds::Fault;
use crate::model::{Language, ShowIn, Site, Study, TimeStep};
use crate::problem::{Problem, Problems};
use crate::specs;
use crate::table::{Log, Table};
use leakage::Driven;
use ventilation::OfHouse;

/// The study that a TOML text holds, checked, in SI.
///
/// `file_name` is used for wording only; nothing is opened.
///
/// # Errors
/// [`Problems`]: all that is wrong, in the order of the text. A text that is no TOML gives the first fault of
/// its syntax alone.
///
/// # Example
/// ```
/// let study = study::parse_study(study::starter_study(), "bungalow.toml")?;
/// assert_eq!(study.units.len(), 3);
/// # Ok::<(), study::Problems>(())
/// ```
pub fn parse_study(text: &str, file_name: &str) -> Result<Study, Problems> {
    let (root, errors) = DeTable::parse_recoverable(text);
    match errors.iter().min_by_key(|error| start_of(error)) {
        None => study_of((text, file_name), &root),
        Some(error) => Err(no_toml(error, file_name)),
    }
}

/// A text that is no TOML.
pub(crate) fn no_toml(error: &toml::de::Error, file_name: &str) -> Problems {
    let mut log = Log::default();
    log.problem(error.span().unwrap_or(0..0), syntax_fault(error));
    Problems { file_name: file_name.to_owned(), list: log.problems }
}

/// The study that these tables of a text hold.
pub(crate) fn study_of(
    (text, file_name): (&str, &str),
    root: &Spanned<DeTable<'_>>,
) -> Result<Study, Problems> {
    let mut log = Log::default();
    let study = match Filling::of(root.get_ref()) {
        Some(filling) => {
            let filled = filling.tables_filled(&mut log, root);
            read_root(&mut log, text, &filled)
        }
        None => read_root(&mut log, text, root),
    };
    if let (Some(study), true) = (study, log.problems.is_empty()) {
        return Ok(Study { defaults_used: log.defaults, ..study });
    }
    if log.problems.is_empty() {
        log.problem(
            0..0,
            Fault::new("the study could not be read: a fault of this program", "somewhere here"),
        );
    }
    log.problems.sort_by_key(|problem| problem.span.start);
    Err(Problems { file_name: file_name.to_owned(), list: log.problems })
}

/// The text that the bytes of a file hold.
///
/// # Errors
/// [`Problems`] with a single entry where the bytes are not UTF-8; render it with an empty text.
pub fn text_of<'b>(bytes: &'b [u8], file_name: &str) -> Result<&'b str, Problems> {
    std::str::from_utf8(bytes).map_err(|error| {
        let before = &bytes[..error.valid_up_to()];
        let line = before.split(|byte| *byte == b'\n').count();
        let wide = bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]);
        let hint = if wide { "it looks like UTF-16: save it as UTF-8" } else { "save it as UTF-8" };
        let problem = Problem {
            message: format!(
                "the file is not UTF-8 text: line {line} holds a byte that is no part of a character"
            ),
            span: 0..0,
            label: String::new(),
            hint: Some(hint.to_owned()),
        };
        Problems { file_name: file_name.to_owned(), list: vec![problem] }
    })
}

/// Later faults of the syntax are mostly echoes of the first.
pub(crate) fn start_of(error: &toml::de::Error) -> usize {
    error.span().map_or(0, |span| span.start)
}

fn syntax_fault(error: &toml::de::Error) -> Fault {
    let message: Vec<&str> = error.message().lines().collect();
    Fault::new(format!("this is not TOML: {}", message.join("; ")), "here")
        .hint("a table is [name], a key is name = value, and text and quantities stand in quotation marks")
}

fn read_root(log: &mut Log, text: &str, root: &Spanned<DeTable<'_>>) -> Option<Study> {
    if root.get_ref().is_empty() {
        let what = if text.trim().is_empty() { "the file is empty" } else { "the file holds no keys" };
        let hint = "a study has the tables [study], [site], [house], [ventilation] and [[unit]]";
        log.problem(0..0, Fault::new(what, "nothing here").hint(hint));
        return None;
    }
    let end = text.trim_end().len();
    let mut root = Table::root(root.get_ref(), end..end);
    let study_table = root.required_table(log, &keys::STUDY);
    let site = root.required_table(log, &keys::SITE);
    let house = root.required_table(log, &keys::HOUSE);
    let driven = house.as_ref().map_or(Driven::NotAtAll, leakage::driven);
    let site = site.and_then(|table| read_site(log, table, driven));
    let area_text = house.as_ref().and_then(|table| table.text("floor_area"));
    let house = house.and_then(|table| house::read(log, table));
    let of_house = house.as_ref().map(|house| OfHouse { house, area_text });
    let ventilation = root
        .required_table(log, &keys::VENTILATION)
        .and_then(|table| ventilation::read(log, table, of_house));
    let airflow_m3_per_s = ventilation.as_ref().map(|ventilation| ventilation.airflow_m3_per_s);
    let set_points = house.as_ref().map(free_cooling::set_points);
    let money = money::read(log, &root, house.as_ref().map(money::OfHouse::new));
    let has_tariff = root.has("tariff");
    let units = unit::read_all(log, &root, unit::Around { airflow_m3_per_s, set_points, has_tariff });
    let events = house.as_ref().map(house::events);
    let head = study_table.and_then(|table| read_head(log, table, events));
    let report = root.table(log, &keys::REPORT);
    let language = report.map_or(Some(Language::English), |table| read_report(log, table));
    root.finish(log);
    let Head { title, show_in, time_step, lead_in_h } = head?;
    let language = language?;
    let (site, house, ventilation, money) = (site?, house?, ventilation?, money?.money());
    let defaults_used = Vec::new();
    Some(Study {
        title,
        show_in,
        language,
        time_step,
        lead_in_h,
        site,
        house,
        ventilation,
        units,
        money,
        defaults_used,
    })
}

struct Head {
    title: String,
    show_in: ShowIn,
    time_step: TimeStep,
    lead_in_h: u32,
}

fn read_head(log: &mut Log, mut table: Table<'_>, events: Option<house::Events>) -> Option<Head> {
    let title = table.required(log, &specs::TITLE);
    table.optional(log, &specs::CONDITIONS);
    let show_in = table.or(log, &specs::SHOW_IN, ("si", "common practice: data files are SI as well"));
    let step = match events {
        Some(house::Events::None) => ("1 h", "assumed: no showers, cooking or laundry to follow"),
        _ => ("15 min", "assumed: showers, cooking and laundry come in short events"),
    };
    let time_step = table.or(log, &specs::TIME_STEP, step);
    let lead_in_h =
        table.or(log, &specs::LEAD_IN, ("21 d", "assumed: furnishings forget within three weeks"));
    table.finish(log);
    Some(Head { title: title?, show_in: show_in?, time_step: time_step?, lead_in_h: lead_in_h? })
}

fn read_report(log: &mut Log, table: Table<'_>) -> Option<Language> {
    let language = table.or_unlisted(log, &specs::LANGUAGE, "en");
    table.finish(log);
    language
}

fn read_site(log: &mut Log, mut table: Table<'_>, driven: Driven) -> Option<Site> {
    let weather = table.required(log, &specs::WEATHER);
    let latitude_deg = table.optional(log, &specs::LATITUDE);
    let longitude_deg = table.optional(log, &specs::LONGITUDE);
    let elevation_m = table.optional(log, &specs::ELEVATION);
    let time_zone_h = table.optional(log, &specs::TIME_ZONE).map(|seconds| seconds / 3600.0);
    let humidity_basis = table.optional(log, &specs::HUMIDITY_BASIS);
    if !table.has("humidity_basis") {
        let why = "assumed: the weather file's own hours below 0 °C tell, else water";
        log.took(table.path_of("humidity_basis"), "inferred", why);
    }
    let wind = leakage::read_wind(log, &table, driven);
    table.finish(log);
    let (weather, wind) = (weather?, wind?);
    Some(Site { weather, latitude_deg, longitude_deg, elevation_m, time_zone_h, humidity_basis, wind })
}

/// A problem between values that are each right by themselves.
fn conflict(log: &mut Log, span: Range<usize>, message: String, (label, hint): (&str, String)) {
    log.problem(span, Fault::new(message, label).hint(hint));
}
