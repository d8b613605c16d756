//! The table of months.
//!
//! Not here: the months themselves (`weather::months`).

use std::fmt::Write as _;

use reporting::ShowIn;
use weather::calendar::MONTH_NAMES;
use weather::{Month, WeatherYear, months};

use super::figures::{
    base, difference_unit, humidity, irradiation, irradiation_unit, speed, speed_unit, tenths,
};

pub(crate) fn table(year: &WeatherYear, show_in: ShowIn) -> String {
    let degrees = show_in.temperature_unit();
    let days = format!("{}·d", difference_unit(show_in));
    let (heating, cooling) = (base(show_in, 18.0), base(show_in, 18.3));
    let headings = [
        [
            "",
            "dry bulb",
            "lowest",
            "highest",
            "dew point",
            "humidity",
            "wind",
            "global",
            "heating",
            "cooling",
        ],
        [
            "",
            degrees,
            degrees,
            degrees,
            degrees,
            show_in.humidity_ratio_unit(),
            speed_unit(show_in),
            irradiation_unit(show_in),
            &heating,
            &cooling,
        ],
        ["Month", "mean", "", "", "mean", "mean", "mean", "sum", &days, &days],
    ];
    let mut out = String::new();
    for heading in headings {
        line(&mut out, &heading.map(str::to_owned));
    }
    for month in months(year) {
        line(&mut out, &cells(&month, show_in));
    }
    out
}

fn cells(month: &Month, show_in: ShowIn) -> [String; 10] {
    let name = MONTH_NAMES.get(usize::from(month.month).wrapping_sub(1)).and_then(|name| name.get(..3));
    let days = |kelvin_days: f64| format!("{:.1}", show_in.difference(kelvin_days));
    [
        name.unwrap_or_default().to_owned(),
        tenths(show_in, month.mean_dry_bulb_c),
        tenths(show_in, month.min_dry_bulb_c),
        tenths(show_in, month.max_dry_bulb_c),
        tenths(show_in, month.mean_dew_point_c),
        humidity(show_in, month.mean_humidity_ratio),
        speed(show_in, month.mean_wind_speed_m_per_s),
        irradiation(show_in, month.global_kwh_per_m2),
        days(month.heating_degree_days_18),
        days(month.cooling_degree_days_18_3),
    ]
}

fn line(out: &mut String, cells: &[String; 10]) {
    let [name, numbers @ ..] = cells;
    let mut line = format!("  {name:<6}");
    for cell in numbers {
        // Writing into a String cannot fail.
        let _ = write!(line, " {cell:>9}");
    }
    let _ = writeln!(out, "{}", line.trim_end());
}
