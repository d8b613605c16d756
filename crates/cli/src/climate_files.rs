//! `dewledger weather make`, `shift` and `convert`: weather files that are written, always as our plain CSV.
//!
//! Not here: the year itself (`weather::make`, `weather::shift`), the TOML files (`climate_files/sheet.rs`).

mod normals_file;
mod sheet;
mod shift_file;

use std::fmt::Write as _;

use weather::calendar::MONTH_NAMES;
use weather::shift::MonthShifted;
use weather::{Findings, WeatherYear, checked_plain_csv, make, normals};

use crate::arguments::{Convert, Make, Shift, WeatherTool};
use crate::failure::Failure;
use crate::output_file::Place;
use crate::show;
use crate::weather_report::{self, weather_failure, wrapped};

pub(crate) fn write(tool: &WeatherTool) -> Result<(), Failure> {
    match tool {
        WeatherTool::Make(options) => from_normals(options),
        WeatherTool::Shift(options) => shift(options),
        WeatherTool::Convert(options) => convert(options),
    }
}

fn from_normals(options: &Make) -> Result<(), Failure> {
    let to = Place::choose(&options.to, &[&options.normals])?;
    let asked = normals_file::read(&options.normals, options.seed)?;
    let year = make::from_normals(&asked).map_err(|cause| {
        Failure::input(format!("{}: {cause}", options.normals.display())).hint(cause.hint())
    })?;
    put(&to, &year, &Findings::default())?;
    let mut out = wrote(&to, &year);
    let seed = options.seed;
    let _ = writeln!(out, "  Made from monthly normals with seed {seed}. Its means, humidity over water:\n");
    out.push_str(&means(&year));
    out.push_str("\n  This climate is invented: for tests and examples, not for a design or a claim.\n");
    show::result(&out)
}

fn shift(options: &Shift) -> Result<(), Failure> {
    let to = Place::choose(&options.to, &[&options.file, &options.deltas])?;
    let by = shift_file::read(&options.deltas)?;
    let file = weather_report::read(&options.file, &weather_report::overrides(&options.place)?)?;
    let (year, months) = weather::shift(&file.year, &by)
        .map_err(|cause| Failure::input(format!("{}: {cause}", options.deltas.display())))?;
    put(&to, &year, &file.findings)?;
    tell(&file.name, &file.findings);
    tell(&to.path().display().to_string(), &weather::shift::findings(&by, &months));
    let mut out = wrote(&to, &year);
    let _ = writeln!(out, "  Shifted from {}\n  Means of its months, and what they changed by:\n", file.name);
    out.push_str(&changes(&months));
    let how = year.shifted.as_deref().unwrap_or_default();
    out.push('\n');
    out.push_str(&wrapped(&format!("This climate is shifted ({how}): a scenario, not a record.")));
    if year.is_synthetic {
        out.push_str("  It was invented before: for tests and examples, not for a design or a claim.\n");
    }
    show::result(&out)
}

fn convert(options: &Convert) -> Result<(), Failure> {
    let to = Place::choose(&options.to, &[&options.file])?;
    let file = weather_report::read(&options.file, &weather_report::overrides(&options.place)?)?;
    put(&to, &file.year, &file.findings)?;
    tell(&file.name, &file.findings);
    show::result(&wrote(&to, &file.year))
}

fn put(to: &Place, year: &WeatherYear, findings: &Findings) -> Result<(), Failure> {
    let text = checked_plain_csv(year, findings)
        .map_err(|cause| weather_failure(&to.path().display().to_string(), &cause))?;
    to.write(&text)
}

fn tell(name: &str, findings: &Findings) {
    for finding in findings.iter() {
        show::note(format!("{name}: {finding}"));
    }
}

fn wrote(to: &Place, year: &WeatherYear) -> String {
    format!("Wrote {}\n  {}\n", to.path().display(), weather_report::site(year))
}

fn month_name(month: usize) -> &'static str {
    MONTH_NAMES.get(month).and_then(|name| name.get(..3)).unwrap_or_default()
}

fn line(out: &mut String, first: &str, cells: &[String]) {
    let mut line = format!("  {first:<5}");
    for cell in cells {
        // Writing into a String cannot fail.
        let _ = write!(line, " {cell:>11}");
    }
    out.push_str(line.trim_end());
    out.push('\n');
}

fn means(year: &WeatherYear) -> String {
    let mut out = String::new();
    let words = |words: [&str; 6]| words.map(str::to_owned);
    line(&mut out, "", &words(["dry bulb", "daily range", "humidity", "dew point", "irradiation", "wind"]));
    line(&mut out, "", &words(["°C", "K", "%", "°C", "kWh/m²", "m/s"]));
    for (month, of) in normals(year).iter().enumerate() {
        let cells = [
            // Adding zero turns -0 into 0.
            format!("{:.1}", (of.dry_bulb_c * 10.0).round() / 10.0 + 0.0),
            format!("{:.1}", of.daily_range_k),
            format!("{:.0}", 100.0 * of.relative_humidity),
            format!("{:.1}", (of.dew_point_c * 10.0).round() / 10.0 + 0.0),
            format!("{:.1}", of.global_kwh_per_m2),
            format!("{:.1}", of.wind_m_per_s),
        ];
        line(&mut out, month_name(month), &cells);
    }
    out
}

fn changes(months: &[MonthShifted; 12]) -> String {
    let mut out = String::new();
    let words = |words: [&str; 7]| words.map(str::to_owned);
    let quantities = ["dry bulb", "daily range", "humidity", "dew point", "irradiation", "wind", "limited"];
    line(&mut out, "", &words(quantities));
    line(&mut out, "", &words(["°C", "K", "%", "°C", "kWh/m²", "m/s", "h"]));
    for (month, MonthShifted { before, after, humidity_limited_h, sun_limited_h }) in
        months.iter().enumerate()
    {
        // Adding zero turns -0 into 0.
        let tenths = |x: f64| (x * 10.0).round() / 10.0 + 0.0;
        let pair = |before: f64, after: f64| format!("{:.1} {:+.1}", tenths(after), tenths(after - before));
        let times = |before: f64, after: f64| {
            let times = if before > 0.0 { after / before } else { 1.0 };
            format!("{after:.1} ×{times:.2}")
        };
        let cells = [
            pair(before.dry_bulb_c, after.dry_bulb_c),
            pair(before.daily_range_k, after.daily_range_k),
            pair(100.0 * before.relative_humidity, 100.0 * after.relative_humidity),
            pair(before.dew_point_c, after.dew_point_c),
            times(before.global_kwh_per_m2, after.global_kwh_per_m2),
            times(before.wind_m_per_s, after.wind_m_per_s),
            (humidity_limited_h + sun_limited_h).to_string(),
        ];
        line(&mut out, month_name(month), &cells);
    }
    out
}
