//! `dewledger air`: a moist-air state from two properties, typed or by the row of a CSV file.
//!
//! Not here: the relations themselves (`psychrometrics`).

pub(crate) mod amounts;
mod table;

use psychrometrics::{EnhancementFactor, Given, MoistAir, standard_pressure_pa};
use study::{Dimension, QuantityError, parse_quantity};

use crate::arguments::{Air, ShowIn};
use crate::failure::Failure;
use crate::show;
use amounts::{ENTHALPY, FRACTION, HUMIDITY_RATIO, PRESSURE, enthalpy_ip};

pub(crate) fn air(options: &Air) -> Result<(), Failure> {
    let enhancement =
        if options.enhancement { EnhancementFactor::ByPressure } else { EnhancementFactor::None };
    if let Some(path) = &options.from {
        return table::convert(path, enhancement);
    }
    let given = given(options)?;
    let [first, second] = given[..] else {
        let names = "--dry-bulb, --wet-bulb, --dew-point, --relative-humidity, --humidity-ratio, --enthalpy";
        let message = format!("two properties fix a state of moist air; {} given", words(given.len()));
        return Err(Failure::input(message).hint(format!("give exactly two of {names}")));
    };
    let pressure_pa = pressure(options)?;
    let state =
        MoistAir::from_pair_enhanced(first, second, pressure_pa, enhancement).map_err(Failure::input)?;
    if options.json { show::result_line(json(&state)?) } else { show::result(&text(&state, options.show_in)) }
}

fn words(count: usize) -> String {
    match count {
        0 => "none was".to_owned(),
        1 => "one was".to_owned(),
        n => format!("{n} were"),
    }
}

fn given(options: &Air) -> Result<Vec<Given>, Failure> {
    let mut given = Vec::new();
    let temperatures = [
        ("--dry-bulb", &options.dry_bulb, Given::DryBulbC as fn(f64) -> Given),
        ("--wet-bulb", &options.wet_bulb, Given::WetBulbC),
        ("--dew-point", &options.dew_point, Given::DewPointC),
    ];
    for (option, text, of) in temperatures {
        if let Some(text) = text {
            given.push(of(quantity(option, text, Dimension::Temperature)?));
        }
    }
    if let Some(text) = &options.relative_humidity {
        let share = FRACTION.read("--relative-humidity", text)?;
        if !(0.0..=1.0).contains(&share) {
            // Said here, in the user's own unit: the science counts from 0 to 1.
            return Err(Failure::input(format!("--relative-humidity \"{text}\": is outside 0 to 100 %")));
        }
        given.push(Given::RelativeHumidity(share));
    }
    if let Some(text) = &options.humidity_ratio {
        given.push(Given::HumidityRatio(HUMIDITY_RATIO.read("--humidity-ratio", text)?));
    }
    if let Some(text) = &options.enthalpy {
        given.push(Given::EnthalpyJPerKg(ENTHALPY.read("--enthalpy", text)?));
    }
    Ok(given)
}

fn pressure(options: &Air) -> Result<f64, Failure> {
    if let Some(text) = &options.pressure {
        return PRESSURE.read("--pressure", text);
    }
    let altitude_m = match &options.altitude {
        Some(text) => quantity("--altitude", text, Dimension::Length)?,
        None => 0.0,
    };
    standard_pressure_pa(altitude_m).map_err(Failure::input)
}

pub(crate) fn quantity(option: &str, text: &str, dimension: Dimension) -> Result<f64, Failure> {
    let quantity = parse_quantity(text, dimension).map_err(|cause| {
        let units: Vec<&str> = dimension.units().map(|unit| unit.name).collect();
        let hint = match cause {
            QuantityError::Comma { .. } => amounts::decimal_point(text),
            _ => format!("units that fit: {}", units.join(", ")),
        };
        Failure::input(format!("{option} \"{text}\": {cause}")).hint(hint)
    })?;
    Ok(quantity.si())
}

fn text(state: &MoistAir, show_in: ShowIn) -> String {
    let rows = match show_in {
        ShowIn::Si => rows_si(state),
        ShowIn::Ip => rows_ip(state),
    };
    let lines = rows.iter().map(|(label, value, unit)| format!("{label:<22} {value:>12} {unit}"));
    lines.collect::<Vec<_>>().join("\n") + "\n"
}

/// The dew point of perfectly dry air.
fn none() -> (String, &'static str) {
    ("none".to_owned(), "without any vapour")
}

type Rows = Vec<(&'static str, String, &'static str)>;

fn rows_si(state: &MoistAir) -> Rows {
    let dew = state.dew_point_c().map_or_else(none, |t| (format!("{t:.3}"), "°C"));
    vec![
        ("Dry bulb", format!("{:.3}", state.dry_bulb_c()), "°C"),
        ("Wet bulb", format!("{:.3}", state.wet_bulb_c()), "°C"),
        ("Dew point", dew.0, dew.1),
        ("Relative humidity", format!("{:.2}", 100.0 * state.relative_humidity()), "%"),
        ("Humidity ratio", format!("{:.4}", 1e3 * state.humidity_ratio()), "g/kg"),
        ("Enthalpy", format!("{:.3}", 1e-3 * state.enthalpy_j_per_kg()), "kJ/kg"),
        ("Specific volume", format!("{:.5}", state.specific_volume_m3_per_kg()), "m³/kg dry air"),
        ("Vapour pressure", format!("{:.2}", state.vapour_pressure_pa()), "Pa"),
        ("Saturation pressure", format!("{:.2}", state.saturation_pressure_pa()), "Pa"),
        ("Pressure", format!("{:.0}", state.pressure_pa()), "Pa"),
    ]
}

fn rows_ip(state: &MoistAir) -> Rows {
    const PA_PER_INHG: f64 = 3386.389;
    const FT3_PER_LB_IN_M3_PER_KG: f64 = 16.018_463_37;
    let fahrenheit = |t: f64| format!("{:.3}", 1.8 * t + 32.0);
    let inhg = |p: f64| format!("{:.5}", p / PA_PER_INHG);
    let dew = state.dew_point_c().map_or_else(none, |t| (fahrenheit(t), "°F"));
    vec![
        ("Dry bulb", fahrenheit(state.dry_bulb_c()), "°F"),
        ("Wet bulb", fahrenheit(state.wet_bulb_c()), "°F"),
        ("Dew point", dew.0, dew.1),
        ("Relative humidity", format!("{:.2}", 100.0 * state.relative_humidity()), "%"),
        ("Humidity ratio", format!("{:.3}", 7000.0 * state.humidity_ratio()), "gr/lb"),
        ("Enthalpy", format!("{:.3}", enthalpy_ip(state.enthalpy_j_per_kg())), "Btu/lb, of dry air at 0 °F"),
        (
            "Specific volume",
            format!("{:.4}", FT3_PER_LB_IN_M3_PER_KG * state.specific_volume_m3_per_kg()),
            "ft³/lb dry air",
        ),
        ("Vapour pressure", inhg(state.vapour_pressure_pa()), "inHg"),
        ("Saturation pressure", inhg(state.saturation_pressure_pa()), "inHg"),
        ("Pressure", inhg(state.pressure_pa()), "inHg"),
    ]
}

fn json(state: &MoistAir) -> Result<String, Failure> {
    let cells = table::cells(state).into_iter();
    let object: serde_json::Map<String, serde_json::Value> =
        cells.map(|(name, value)| (name.to_owned(), value.into())).collect();
    serde_json::to_string_pretty(&object).map_err(Failure::work)
}
