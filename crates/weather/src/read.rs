//! Reading: which format a file is in (by what it holds, never by its name), and the way from there to a year. What is
//! not here: the formats themselves (`tmy3.rs`, `tmy2.rs`, `nsrdb.rs`, `pvgis.rs`, `epw.rs`, [`crate::plain`]). Read next:
//! `complete.rs`.

use crate::complete;
use crate::error::WeatherError;
use crate::findings::Findings;
use crate::text;
use crate::year::{Overrides, WeatherYear};
use crate::{epw, nsrdb, plain, pvgis, tmy2, tmy3};

/// Reads a weather file.
///
/// Accepted are a TMY3 table (68 or 71 columns), TMY2 (fixed width), an NSRDB table (hourly or half-hourly, with or
/// without its two lines of place and units), a PVGIS typical year (UTC, turned to local standard time), a file with the
/// extension `.epw` (35 columns), and the plain table of [`crate::plain`]. Each hour is found by month, day and hour;
/// years are not looked at, since the months of a typical year come from different ones. Gaps up to 6 h are filled and
/// listed.
///
/// # Errors
/// [`WeatherError`], with line and [`WeatherError::hint`], for everything that cannot be read without guessing.
pub fn read(bytes: &[u8], overrides: &Overrides) -> Result<(WeatherYear, Findings), WeatherError> {
    let decoded = text::decode(bytes)?;
    let mut table = match Kind::of(&decoded.text) {
        Some(Kind::Tmy2) => tmy2::parse(&decoded.text)?,
        Some(Kind::Nsrdb) => nsrdb::parse(&decoded.text)?,
        Some(Kind::Pvgis) => pvgis::parse(&decoded.text)?,
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
    Tmy2,
    Nsrdb,
    Pvgis,
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
        } else if tmy2::recognises(first) {
            Some(Self::Tmy2)
        } else if nsrdb::recognises(text) {
            Some(Self::Nsrdb)
        } else if pvgis::recognises(text) {
            Some(Self::Pvgis)
        } else if plain::recognises(text) {
            Some(Self::Plain)
        } else {
            None
        }
    }
}
