//! Writes a year as the plain table of [`crate::plain`]. What is not here: reading it. Read next: `plain.rs`.

use crate::calendar::Stamp;
use crate::error::WeatherError;
use crate::findings::Findings;
use crate::read::read;
use crate::year::{Format, HumidityBasis, HumidityOrigin, Overrides, Place, WeatherYear};
use std::fmt::Write;

/// The year as a plain table. Every number is written with all its digits, so reading it back gives the same bits.
///
/// Line breaks in texts become spaces; spaces, commas and quotation marks at their ends are left out. `format` and
/// `humidity_origin` are not written: they say how a year came here.
pub fn write_plain_csv(year: &WeatherYear) -> String {
    written(year, &Findings::default())
}

/// The year as a plain table, with what was found when it was read as remarks, and read back before it is given away.
///
/// # Errors
/// [`WeatherError`] where the table cannot hold the year: what is out of range is named, with its line in the table;
/// [`WeatherError::NotKept`] if anything came back changed.
///
/// # Example
/// ```
/// use weather::{Findings, Overrides, checked_plain_csv, invented, make::make, read};
///
/// let made = make(&invented::saltmere().climate)?;
/// let text = checked_plain_csv(&made, &Findings::default())?;
/// assert_eq!(read(text.as_bytes(), &Overrides::default())?.0.dry_bulb_c, made.dry_bulb_c);
/// # Ok::<(), weather::WeatherError>(())
/// ```
pub fn checked_plain_csv(year: &WeatherYear, findings: &Findings) -> Result<String, WeatherError> {
    let text = written(year, findings);
    let (back, _) = read(text.as_bytes(), &Overrides::default())?;
    let what = difference(year, &back);
    what.map_or(Ok(text), |what| Err(WeatherError::NotKept { what }))
}

/// The first thing that is not the same to the bit.
fn difference(year: &WeatherYear, back: &WeatherYear) -> Option<&'static str> {
    let bits = |column: &[f64]| column.iter().map(|x| x.to_bits()).collect::<Vec<_>>();
    let same = |(ours, theirs): (&[f64], &[f64])| bits(ours) == bits(theirs);
    let place =
        |place: &Place| [place.latitude_deg, place.longitude_deg, place.elevation_m, place.time_zone_h];
    let text = |year: &WeatherYear| {
        [
            one_line(&year.place.name),
            one_line(&year.source),
            year.shifted.as_deref().map(one_line).unwrap_or_default(),
        ]
    };
    let marks = |year: &WeatherYear| (year.is_synthetic, year.humidity_basis, year.shifted.is_some());
    let rest = |year: &WeatherYear| [year.sun_offset_h, year.wind_height_m];
    let checks = [
        ("the number of hours", year.hours() == back.hours()),
        ("an hour's value", columns_of(year).into_iter().zip(columns_of(back)).all(same)),
        ("the place", same((&place(&year.place), &place(&back.place)))),
        ("a name", text(year) == text(back)),
        ("a mark", marks(year) == marks(back)),
        ("the sun's or the wind's place", same((&rest(year), &rest(back)))),
        ("the format", back.format == Format::PlainCsv && back.humidity_origin == HumidityOrigin::NotNeeded),
    ];
    checks.into_iter().find(|(_, is_same)| !is_same).map(|(what, _)| what)
}

fn written(year: &WeatherYear, findings: &Findings) -> String {
    let mut out = heading(year, findings);
    let calendar = year.calendar();
    for h in 0..year.hours() {
        let Stamp { month, day, hour_ending } = calendar.stamp(h);
        // Writing to a String cannot fail.
        let _ = write!(out, "{month},{day},{hour_ending}");
        for column in columns_of(year) {
            let _ = write!(out, ",{}", column.get(h).copied().unwrap_or_default());
        }
        out.push('\n');
    }
    out
}

fn columns_of(year: &WeatherYear) -> [&[f64]; 8] {
    [
        &year.dry_bulb_c,
        &year.humidity_ratio,
        &year.pressure_pa,
        &year.wind_speed_m_per_s,
        &year.wind_direction_deg,
        &year.global_horizontal_w_per_m2,
        &year.direct_normal_w_per_m2,
        &year.diffuse_horizontal_w_per_m2,
    ]
}

/// A text as a remark holds it: the reader takes off what a spreadsheet may have put at its end.
fn one_line(text: &str) -> String {
    let joined = text.split(['\n', '\r']).collect::<Vec<_>>().join(" ");
    joined.trim_start().trim_end_matches(|c: char| c.is_whitespace() || matches!(c, ',' | '"')).to_owned()
}

fn heading(year: &WeatherYear, findings: &Findings) -> String {
    let Place { name, latitude_deg, longitude_deg, elevation_m, time_zone_h } = &year.place;
    let basis = match year.humidity_basis {
        HumidityBasis::Water => "water",
        HumidityBasis::Ice => "ice",
    };
    let synthetic = if year.is_synthetic { "yes" } else { "no" };
    let shifted = year.shifted.as_deref().map(|how| format!("# shifted: {}\n", one_line(how)));
    let mut remarks = String::new();
    for finding in findings.iter() {
        // Writing to a String cannot fail.
        let _ = writeln!(remarks, "# found when it was read: {}", one_line(&finding.to_string()));
    }
    format!(
        "# name: {}\n# latitude_deg: {latitude_deg}\n# longitude_deg: {longitude_deg}\n# elevation_m: {elevation_m}\n\
         # time_zone_h: {time_zone_h}\n# synthetic: {synthetic}\n{}# source: {}\n# sun_offset_h: {}\n\
         # wind_height_m: {}\n# humidity_basis: {basis}\n{remarks}\
         month,day,hour_ending,dry_bulb_c,humidity_ratio,pressure_pa,wind_speed_m_per_s,wind_direction_deg,\
         global_horizontal_w_per_m2,direct_normal_w_per_m2,diffuse_horizontal_w_per_m2\n",
        one_line(name),
        shifted.unwrap_or_default(),
        one_line(&year.source),
        year.sun_offset_h,
        year.wind_height_m,
    )
}
