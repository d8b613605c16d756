//! Reading: which format a file is in (by what it holds, never by its name), and the way from there to a year. What is
//! not here: the formats themselves (`tmy3.rs`, `epw.rs`, [`crate::plain`]). Read next:
//! `complete.rs`.

use crate::complete;
use crate::error::WeatherError;
use crate::findings::Findings;
use crate::text;
use crate::year::{Overrides, WeatherYear};
use crate::{epw, plain, tmy3};

/// Reads a weather file.
///
/// Accepted are a TMY3 table (68 or 71 columns), a file with the extension `.epw` (35 columns), and the plain table of
/// [`crate::plain`]. Each hour is found by month, day and the hour it ends at; years are not looked at. Gaps up to 6 h
/// are filled and listed.
///
/// # Errors
/// [`WeatherError`], with line and [`WeatherError::hint`], for everything that cannot be read without guessing.
pub fn read(bytes: &[u8], overrides: &Overrides) -> Result<(WeatherYear, Findings), WeatherError> {
    let decoded = text::decode(bytes)?;
    let mut table = match Kind::of(&decoded.text) {
        Some(Kind::Tmy3) => tmy3::parse(&decoded.text)?,
        Some(Kind::Epw) => epw::parse(&decoded.text)?,
        Some(Kind::Plain) => plain::parse(&decoded.text)?,
        None => {
            let beginning = text::printable(decoded.text.trim_start(), 40);
            return Err(WeatherError::NotRecognised { beginning });
        }
    };
    table.findings.splice(0..0, decoded.findings);
    complete::complete(table, overrides)
}

enum Kind {
    Tmy3,
    Epw,
    Plain,
}

impl Kind {
    fn of(text: &str) -> Option<Self> {
        let first = text::numbered_lines(text).next().map_or("", |(_, line)| line);
        let second = text::numbered_lines(text).nth(1).map_or("", |(_, line)| line);
        if epw::recognises(first) {
            Some(Self::Epw)
        } else if tmy3::recognises(second) {
            Some(Self::Tmy3)
        } else if plain::recognises(text) {
            Some(Self::Plain)
        } else {
            None
        }
    }
}
