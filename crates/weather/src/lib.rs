//! Typical-year weather: reading it, doubting it, summarising it, making it.
//!
//! Text comes in as bytes, a [`WeatherYear`] and its [`Findings`] come out. No file is opened here and nothing is
//! printed. Dirty data is not an error: what was filled, limited or doubted is counted and listed. An error is what
//! cannot be read without guessing.
//!
//! Read next: [`year`] (what an hour means), [`read()`] (how a file is recognised), [`sun`] and [`tilted`] (what the
//! sun does in that hour), [`mod@summary`] (the year in a few numbers), [`mod@design`], [`mod@months`] and [`mod@wind`] (more of them), [`mod@make`] (invented climates),
//! [`mod@shift`] (climates to come).
//!
//! # Sources
//! Keys used beside formulas in this crate:
//! - \[ASHRAE-F\] ASHRAE Handbook, Fundamentals, chapter 1, psychrometrics.
//! - \[BENDT-1981\] Bendt, Collares-Pereira, Rabl, Solar Energy 27 (1981) 1; exponent after Herzog, Trans. ASME 108.
//! - \[BHP-2005\] Belcher, Hacker, Powell, Building Services Engineering Research and Technology 26 (2005) 49 (recalled):
//!   shifting and stretching a year's months.
//! - \[ERBS-1982\] Erbs, Klein, Duffie, Solar Energy 28 (1982) 293: diffuse share of hourly irradiation.
//! - \[ERBS-1983\] Erbs, Klein, Beckman, ASHRAE Journal 25 (1983) 60: the daily shape of temperature, its swing, the spread
//!   of days.
//! - \[FAO-56\] Allen and others, FAO Irrigation and Drainage Paper 56 (1998): clear-sky irradiation (recalled).
//! - \[GRAHAM-HOLLANDS\] Graham, Hollands, Solar Energy 44 (1990) 333: clearness of hours.
//! - \[KASTEN-YOUNG\] Kasten, Young, Applied Optics 28 (1989) 4735: air mass.
//! - \[KKD-1991\] Knight, Klein, Duffie, Solar Energy 46 (1991) 109: made weather.
//! - \[MEEUS\] Meeus, Astronomical Algorithms, 2nd edition, chapters 25 and 28.
//! - \[PEREZ-1990\] Perez and others, Solar Energy 44 (1990) 271: sky irradiance on tilted surfaces.
//! - \[SPENCER\] Spencer, Search 2 (1971) 172: Fourier series of the sun.
//! - \[TMY2-MANUAL\] Marion, Urban, User's Manual for TMY2s, NREL, 1995, table 3-2 (recalled; checked on a published file).
//! - \[TMY3-MANUAL\] Wilcox, Marion, Users Manual for TMY3 Data Sets, NREL, 2008.
//!
//! Coefficients were checked against other tools' values, which stand beside the tests; the papers of made weather
//! (Bendt, Graham and Hollands, Knight) were not at hand and are cited from secondary sources.
//!
//! # Example
//! ```
//! use weather::{Overrides, invented, make::make, read, summary, write_plain_csv};
//!
//! # fn main() -> Result<(), weather::WeatherError> {
//! let made = make(&invented::millbrook().climate)?;
//! let (year, findings) = read(write_plain_csv(&made).as_bytes(), &Overrides::default())?;
//! assert_eq!(year.humidity_ratio, made.humidity_ratio);
//! assert!((summary(&year).mean_dry_bulb_c - 10.69).abs() < 0.01);
//! for finding in findings.iter() {
//!     println!("{finding}");
//! }
//! # Ok(())
//! # }
//! ```

mod beam;
pub mod bins;
pub mod calendar;
mod complete;
pub mod design;
mod dew_point;
mod doubts;
mod epw;
pub mod error;
mod filled;
pub mod findings;
mod gaps;
mod halves;
mod humidity;
pub mod invented;
pub mod make;
pub mod months;
pub mod normals;
mod nsrdb;
mod outliers;
mod place;
pub mod plain;
mod plain_writer;
mod pressure;
mod pvgis;
mod quantity;
mod read;
pub mod shift;
pub mod summary;
pub mod sun;
pub mod sun_check;
mod table;
mod text;
pub mod tilted;
mod tmy2;
mod tmy3;
mod turn;
mod unit_guess;
pub mod wave;
pub mod wind;
pub mod year;

pub use calendar::{Calendar, Stamp};
pub use design::{Design, design};
pub use error::WeatherError;
pub use findings::{Finding, FindingKind, Findings, Location, Severity};
pub use months::{DegreeDays, Month, degree_days, months};
pub use normals::{MonthMeans, normals};
pub use plain_writer::{checked_plain_csv, write_plain_csv};
pub use read::read;
pub use shift::{Shift, shift};
pub use summary::{Summary, summary};
pub use wind::{Wind, wind};
pub use year::{
    Format, HumidityBasis, HumidityOrigin, Overrides, Place, PlaceOverride, UNNAMED_PLACE, WeatherYear,
};
