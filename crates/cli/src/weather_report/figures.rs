//! The rows of the table: means and extremes, design conditions, degree-days, wind.
//!
//! Not here: what was checked (`checks.rs`), the numbers themselves (`weather`).

use reporting::ShowIn;
use weather::months::Side;
use weather::{WeatherYear, degree_days, design, summary, wind};

/// A row's label with its unit, and one file's value.
pub(crate) struct Figure {
    pub(crate) label: String,
    pub(crate) value: String,
}

/// What is not clear from a label.
pub(crate) const DEFINITIONS: &str = "\n  \
    Design values: at most this share of the hours goes beyond; with k = floor(share × hours), the\n  \
    value after the k most extreme (0.4 % of 8 760: 35). Coincident values are means over the hours\n  \
    within 0.5 K of it. One typical year leaves out the extremes of decades: for sizing, take those of\n  \
    a handbook.\n  \
    Degree-days by hours count every hour, by days the daily means. Calm is below 0.5 m/s.\n";

/// m/s in a mile an hour, by definition (1 609.344 m).
const METRES_PER_SECOND_PER_MPH: f64 = 0.447_04;
/// Btu (International Table) in a kilowatt-hour, over square feet in a square metre, in thousands.
const KBTU_PER_FT2_PER_KWH_PER_M2: f64 = 3600.0 / 1.055_055_852_62 * 0.092_903_04 / 1000.0;

pub(crate) fn of(year: &WeatherYear, show_in: ShowIn) -> Vec<(&'static str, Vec<Figure>)> {
    vec![
        ("Means and extremes", means(year, show_in)),
        ("Design conditions", design_conditions(year, show_in)),
        ("Degree-days", degrees(year, show_in)),
        ("Wind", winds(year, show_in)),
    ]
}

pub(crate) fn figure(label: impl Into<String>, value: String) -> Figure {
    Figure { label: label.into(), value }
}

pub(crate) fn temperature(show_in: ShowIn, celsius: f64) -> String {
    format!("{:.2}", show_in.temperature(celsius))
}

/// A temperature to a tenth, as files and handbooks state single hours.
pub(crate) fn tenths(show_in: ShowIn, celsius: f64) -> String {
    format!("{:.1}", show_in.temperature(celsius))
}

pub(crate) fn humidity(show_in: ShowIn, ratio: f64) -> String {
    let decimals = if show_in == ShowIn::Si { 3 } else { 2 };
    format!("{:.decimals$}", show_in.humidity_ratio(ratio))
}

pub(crate) fn speed(show_in: ShowIn, m_per_s: f64) -> String {
    let factor = if show_in == ShowIn::Si { 1.0 } else { METRES_PER_SECOND_PER_MPH.recip() };
    format!("{:.1}", m_per_s * factor)
}

pub(crate) fn irradiation(show_in: ShowIn, kwh_per_m2: f64) -> String {
    let factor = if show_in == ShowIn::Si { 1.0 } else { KBTU_PER_FT2_PER_KWH_PER_M2 };
    format!("{:.1}", kwh_per_m2 * factor)
}

pub(crate) fn speed_unit(show_in: ShowIn) -> &'static str {
    if show_in == ShowIn::Si { "m/s" } else { "mph" }
}

pub(crate) fn irradiation_unit(show_in: ShowIn) -> &'static str {
    if show_in == ShowIn::Si { "kWh/m²" } else { "kBtu/ft²" }
}

pub(crate) fn difference_unit(show_in: ShowIn) -> &'static str {
    if show_in == ShowIn::Si { "K" } else { "°F" }
}

/// A temperature in a label: "18 °C", "64.4 °F".
pub(crate) fn base(show_in: ShowIn, celsius: f64) -> String {
    let shown = (show_in.temperature(celsius) * 10.0).round() / 10.0;
    format!("{shown} {}", show_in.temperature_unit())
}

fn means(year: &WeatherYear, show_in: ShowIn) -> Vec<Figure> {
    let s = summary(year);
    let degrees = show_in.temperature_unit();
    let (pressure, pressure_unit) = match show_in {
        ShowIn::Si => (format!("{:.1}", s.mean_pressure_pa / 100.0), "hPa"),
        ShowIn::Ip => {
            (format!("{:.2}", s.mean_pressure_pa / reporting::units::PASCALS_PER_INCH_OF_MERCURY), "inHg")
        }
    };
    vec![
        figure(format!("Mean dry bulb [{degrees}]"), temperature(show_in, s.mean_dry_bulb_c)),
        figure(format!("Lowest dry bulb [{degrees}]"), temperature(show_in, s.min_dry_bulb_c)),
        figure(format!("Highest dry bulb [{degrees}]"), temperature(show_in, s.max_dry_bulb_c)),
        figure(format!("Mean dew point [{degrees}]"), temperature(show_in, s.mean_dew_point_c)),
        figure(
            format!("Mean humidity ratio [{}]", show_in.humidity_ratio_unit()),
            humidity(show_in, s.mean_humidity_ratio),
        ),
        figure(format!("Mean pressure [{pressure_unit}]"), pressure),
        figure(format!("Hours below {} [h]", base(show_in, -10.0)), s.hours_below_minus_10_c.to_string()),
        figure(
            format!("Hours with dew point above {} [h]", base(show_in, 16.0)),
            s.hours_dew_point_above_16_c.to_string(),
        ),
        figure(
            format!("Global irradiation, horizontal [{}]", irradiation_unit(show_in)),
            irradiation(show_in, s.global_kwh_per_m2),
        ),
    ]
}

fn design_conditions(year: &WeatherYear, show_in: ShowIn) -> Vec<Figure> {
    let found = design(year);
    let degrees = show_in.temperature_unit();
    let mut rows = vec![
        figure(format!("Heating 99.6 %, dry bulb [{degrees}]"), tenths(show_in, found.heating_99_6_c)),
        figure(format!("Heating 99 %, dry bulb [{degrees}]"), tenths(show_in, found.heating_99_c)),
    ];
    for cooling in found.cooling {
        let share = cooling.share_pct;
        rows.push(figure(
            format!("Cooling {share} %, dry bulb [{degrees}]"),
            tenths(show_in, cooling.dry_bulb_c),
        ));
        let wet_bulb = cooling.coincident_wet_bulb_c.map_or_else(|| "–".to_owned(), |t| tenths(show_in, t));
        rows.push(figure(format!("  mean coincident wet bulb [{degrees}]"), wet_bulb));
    }
    for humid in found.dehumidification {
        let share = humid.share_pct;
        rows.push(figure(
            format!("Dehumidification {share} %, dew point [{degrees}]"),
            tenths(show_in, humid.dew_point_c),
        ));
        rows.push(figure(
            format!("  mean coincident dry bulb [{degrees}]"),
            tenths(show_in, humid.coincident_dry_bulb_c),
        ));
    }
    rows
}

fn degrees(year: &WeatherYear, show_in: ShowIn) -> Vec<Figure> {
    let unit = difference_unit(show_in);
    let mut rows = Vec::new();
    for days in degree_days(year) {
        let side = match days.side {
            Side::Heating => "Heating",
            Side::Cooling => "Cooling",
        };
        let base = base(show_in, days.base_c);
        let shown = |kelvin: f64| show_in.difference(kelvin);
        rows.push(figure(
            format!("{side}, base {base}, by hours [{unit}·d]"),
            format!("{:.1}", shown(days.of_hours)),
        ));
        rows.push(figure(
            format!("{side}, base {base}, by days [{unit}·d]"),
            format!("{:.1}", shown(days.of_daily_means)),
        ));
        rows.push(figure(
            format!("{side} degree-hours, base {base} [{unit}·h]"),
            format!("{:.0}", shown(days.degree_hours)),
        ));
    }
    rows
}

fn winds(year: &WeatherYear, show_in: ShowIn) -> Vec<Figure> {
    let wind = wind(year);
    let unit = speed_unit(show_in);
    let share = wind.sector_shares.iter().copied().fold(0.0, f64::max);
    vec![
        figure(format!("Mean wind speed [{unit}]"), speed(show_in, wind.mean_m_per_s)),
        figure(
            format!("Wind speed, 1 % of the hours above [{unit}]"),
            speed(show_in, wind.upper_1_pct_m_per_s),
        ),
        figure("Calm [% of the hours]", format!("{:.1}", 100.0 * wind.calm_share)),
        figure("Most often from", wind.prevailing().unwrap_or("–").to_owned()),
        figure("  in [% of the hours]", format!("{:.1}", 100.0 * share)),
    ]
}
