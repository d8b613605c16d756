//! The starter study over each published year and each invented climate: it runs, what is found in the file is of a
//! kind that the reader explains, and the results add up.

use super::books;
use super::room::{Room, published, sample};
use super::tables::Table;

/// What the reader says of an invented climate, numbers left out.
const INVENTED: &[&str] = &[
    "note: The file states the humidity ratio itself; no curve was needed.",
    "note: The sun is placed # h after each hour begins; beam, diffuse and global agree there to # W/m² rms.",
    "note: This climate is invented: for tests and examples, not for a design or a claim.",
];

const ICE: &str = "note: Above saturation over ice in # hours below # °C: limited to it.";
const BASIS_WATER: &str = "note: Humidity below # °C was read over liquid water: in # cold hours relative humidity lies \
    on average # points from the dew point's over water, # over ice.";
const BASIS_ICE: &str = "note: Humidity below # °C was read over ice: in # cold hours relative humidity lies on average \
    # points from the dew point's over water, # over ice.";
const DISAGREE: &str =
    "note: Relative humidity and dew point disagree by more than # points in # rows: the dew point was used.";
const PRESSURE: &str = "note: Pressure is # Pa all year: a filler, not a measurement.";
const STUCK: &str = "warning: The dry bulb shows one value for a day or longer (# time, at most # h): a stuck sensor, \
    or coarse rounding in steady air.";
const SUN: &str =
    "note: The sun is placed # h after each hour begins; beam, diffuse and global agree there to # W/m² rms.";

/// Runs the study over the file, and answers its findings as they were printed.
fn runs(weather: &std::path::Path, expected: &[&str]) -> Vec<String> {
    let room = Room::with_study(weather.to_str().unwrap());
    let said = room.done(&["run", "study.toml", "--out", "x", "--hourly", "none"]);
    let mut lines: Vec<&str> = said.err.lines().collect();
    let last = lines.pop().unwrap();
    assert!(
        last.ends_with(" values were left to defaults; manifest.json lists them with their reasons."),
        "{last}"
    );
    let prefix = format!("{}: ", weather.display());
    let findings: Vec<String> =
        lines.iter().map(|line| line.strip_prefix(&prefix).unwrap().to_owned()).collect();
    assert_eq!(findings.iter().map(|finding| kind(finding)).collect::<Vec<_>>(), expected);
    let manifest: serde_json::Value = serde_json::from_str(&room.read("x/manifest.json")).unwrap();
    let filed: Vec<&str> = manifest["findings"]
        .as_array()
        .unwrap()
        .iter()
        .map(|finding| finding["text"].as_str().unwrap())
        .collect();
    assert_eq!(filed, findings);
    books::add_up(&Table::read(&room.read("x/annual.csv")), &Table::read(&room.read("x/monthly.csv")));
    findings
}

/// The sentence without its places, every number as `#`.
fn kind(finding: &str) -> String {
    let sentence = finding.split(" First at ").next().unwrap().split(" At ").next().unwrap();
    let mut kind = String::new();
    for c in sentence.chars() {
        let in_number = kind.ends_with('#');
        match c {
            '0'..='9' if in_number => {}
            '0'..='9' => kind.push('#'),
            '.' if in_number => kind.push('.'),
            _ => kind.push(c),
        }
        if kind.ends_with("#.#") {
            kind.truncate(kind.len() - 2);
        }
    }
    kind
}

#[test]
fn frosthollow() {
    runs(&sample("frosthollow.csv"), INVENTED);
}

#[test]
fn saltmere() {
    runs(&sample("saltmere.csv"), INVENTED);
}

#[test]
fn millbrook() {
    runs(&sample("millbrook.csv"), INVENTED);
}

#[test]
fn palmreach() {
    runs(&sample("palmreach.csv"), INVENTED);
}

/// Measured with pvlib on the file: relative humidity and dew point fit over liquid water, within 0.5 points.
#[test]
fn greensboro() {
    let findings = runs(&published("tmy3_greensboro_nc_723170TYA.csv"), &[ICE, BASIS_WATER, DISAGREE, SUN]);
    assert!(
        findings[1].contains("lies on average 0.46 points from the dew point's over water"),
        "{}",
        findings[1]
    );
}

/// The file's own column says that pressure is 1012 mbar all year; measured with pvlib, its humidity fits over ice,
/// within 0.03 points. The day of one dry bulb is found again here.
#[test]
fn sand_point() {
    let path = published("tmy3_sandpoint_ak_703165TY.csv");
    let findings = runs(&path, &[BASIS_ICE, DISAGREE, PRESSURE, STUCK, SUN]);
    assert!(findings[0].ends_with(", 0.03 over ice."), "{}", findings[0]);
    assert_eq!(findings[2], "note: Pressure is 101200 Pa all year: a filler, not a measurement.");
    let text = std::fs::read_to_string(path).unwrap();
    let hours: Vec<Vec<&str>> = text.lines().skip(2).map(|line| line.split(',').collect()).collect();
    let still: Vec<usize> = (0..=hours.len() - 24)
        .filter(|&h| (h..h + 24).all(|other| hours[other][31] == hours[h][31]))
        .collect();
    assert_eq!(still.len(), 1);
    let stamp = &hours[still[0]][..2];
    assert!(stamp[0].starts_with("11/25/") && stamp[1] == "13:00", "{stamp:?}");
    assert!(
        findings[3].contains("(1 time, at most 24 h)") && findings[3].ends_with(" At 25 November, hour 13.")
    );
}

/// The service that publishes this file states its irradiance 0.1761 h after the full hour of universal time; the file
/// is an hour ahead of that, so on its own clock the sun stands 1.1761 h after the hour of the first row begins.
#[test]
fn piedmont() {
    let findings = runs(&published("pvgis_tmy_piedmont_it_45N_8E.epw"), &[ICE, BASIS_WATER, DISAGREE, SUN]);
    assert!(
        findings[3].starts_with("note: The sun is placed 1.1761 h after each hour begins"),
        "{}",
        findings[3]
    );
}
