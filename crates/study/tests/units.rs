//! Units against their exact definitions, and quantities as people write them.
//!
//! Expected factors follow from the exact definitions (1 ft = 0.3048 m, 1 lb = 0.45359237 kg, 1 gal = 3.785411784 L,
//! 1 Btu(IT) = 1055.05585262 J) and are the figures of NIST SP 811, appendix B, recalled from memory to the
//! digits given.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]
#![allow(clippy::float_cmp, reason = "the same arithmetic gives the same bits")]

use approx::assert_relative_eq;
use proptest::prelude::*;
use study::{Dimension as D, QuantityError, UNITS, parse_quantity};

fn si(text: &str, dimension: D) -> f64 {
    parse_quantity(text, dimension).unwrap_or_else(|error| panic!("{text}: {error}")).si()
}

#[test]
fn every_unit_has_its_factor() {
    let expected = [
        ("1 °C", D::Temperature, 1.0),
        ("293.15 K", D::Temperature, 20.0),
        ("212 °F", D::Temperature, 100.0),
        ("1 K", D::TemperatureDifference, 1.0),
        ("9 °F", D::TemperatureDifference, 5.0),
        ("1 m2", D::Area, 1.0),
        ("1 ft2", D::Area, 0.09290304),
        ("1 m", D::Length, 1.0),
        ("1 cm", D::Length, 0.01),
        ("1 mm", D::Length, 0.001),
        ("1 ft", D::Length, 0.3048),
        ("1 in", D::Length, 0.0254),
        ("1 L/s", D::AirFlow, 0.001),
        ("3600 m3/h", D::AirFlow, 1.0),
        ("1 m3/s", D::AirFlow, 1.0),
        ("1 cfm", D::AirFlow, 0.0004719474432),
        ("1 kg/s", D::AirMassFlow, 1.0),
        ("1 g/s", D::AirMassFlow, 0.001),
        ("3600 kg/h", D::AirMassFlow, 1.0),
        ("1 lb/h", D::AirMassFlow, 1.259979e-4),
        ("1 lb/min", D::AirMassFlow, 7.559873e-3),
        ("1 m3", D::Volume, 1.0),
        ("1 ft3", D::Volume, 0.02831685),
        ("3600 1/h", D::AirChangeRate, 1.0),
        ("10000 cm2", D::LeakageArea, 1.0),
        ("1 in2", D::LeakageArea, 6.4516e-4),
        ("86.4 kg/day", D::WaterRate, 0.001),
        ("3600 g/h", D::WaterRate, 0.001),
        ("86.4 L/day", D::WaterRate, 0.001),
        ("86400 g/day", D::WaterRate, 0.001),
        ("3.6 kg/h", D::WaterRate, 0.001),
        ("1 kg/s", D::WaterRate, 1.0),
        ("86400 pint/day", D::WaterRate, 0.473176473),
        ("86400 lb/day", D::WaterRate, 0.45359237),
        ("3600 lb/h", D::WaterRate, 0.45359237),
        ("1 W", D::Power, 1.0),
        ("1 kW", D::Power, 1000.0),
        ("1 Btu/h", D::Power, 0.2930711),
        ("1 W/K", D::Conductance, 1.0),
        ("1 Btu/h°F", D::Conductance, 0.5275279),
        ("1 W/m2K", D::Transmittance, 1.0),
        ("1 Btu/hft2°F", D::Transmittance, 5.678263),
        ("1 kJ/K", D::HeatCapacity, 1000.0),
        ("1 Wh/K", D::HeatCapacity, 3600.0),
        ("1 J/K", D::HeatCapacity, 1.0),
        ("1 Btu/°F", D::HeatCapacity, 1899.101),
        ("1 kJ/m2K", D::HeatCapacityPerArea, 1000.0),
        ("1 Wh/m2K", D::HeatCapacityPerArea, 3600.0),
        ("1 J/m2K", D::HeatCapacityPerArea, 1.0),
        ("1 Btu/ft2°F", D::HeatCapacityPerArea, 20441.75),
        ("1 W/m2", D::HeatFlowPerArea, 1.0),
        ("1 W/ft2", D::HeatFlowPerArea, 10.76391),
        ("1 Btu/hft2", D::HeatFlowPerArea, 3.154591),
        ("1 deg", D::Angle, 1.0),
        ("1 min", D::Duration, 60.0),
        ("1 h", D::Duration, 3600.0),
        ("1 d", D::Duration, 86400.0),
        ("1 s", D::Duration, 1.0),
        ("40 %", D::RelativeHumidity, 0.4),
        ("50 %/K", D::HumiditySlope, 0.5),
        ("5 %/°F", D::HumiditySlope, 0.09),
        ("1 ppm", D::Concentration, 1.0),
        ("60 s/m", D::VapourResistance, 60.0),
        ("0.6 s/cm", D::VapourResistance, 60.0),
        ("3600000 L/kWh", D::WaterPerEnergy, 1.0),
        ("3600000 pint/kWh", D::WaterPerEnergy, 0.473176473),
        ("1 kg", D::Mass, 1.0),
        ("1 g", D::Mass, 0.001),
        ("1 lb", D::Mass, 0.45359237),
        ("1 Pa", D::Pressure, 1.0),
        ("1 in w.g.", D::Pressure, 249.0889),
        ("1 kWh", D::Energy, 3.6e6),
        ("1 MWh", D::Energy, 3.6e9),
        ("1 GJ", D::Energy, 1e9),
        ("1 therm", D::Energy, 1.055056e8),
        ("1 MMBtu", D::Energy, 1.055056e9),
        ("3600000 g/kWh", D::CarbonPerEnergy, 0.001),
        ("1000000 kg/GJ", D::CarbonPerEnergy, 0.001),
        ("1055056 kg/MMBtu", D::CarbonPerEnergy, 0.001),
        ("3600000 lb/MWh", D::CarbonPerEnergy, 4.5359237e-4),
        ("20 years", D::Years, 20.0),
    ];
    for (text, dimension, value) in expected {
        // Half a unit in the seventh figure, the last that the source prints.
        assert_relative_eq!(si(text, dimension), value, max_relative = 4e-7, epsilon = 1e-12);
    }
    let untested = UNITS.len() - expected.len();
    assert_eq!(untested, 0, "each unit stands in the table above");
}

#[test]
fn exact_definitions_hold_to_the_last_digits() {
    assert_relative_eq!(si("60 cfm", D::AirFlow), 0.028316846592, max_relative = 1e-15);
    assert_relative_eq!(si("100 ft2", D::Area), 9.290304, max_relative = 1e-15);
    assert_relative_eq!(si("3600 Btu/h", D::Power), 1055.05585262, max_relative = 1e-15);
    assert_relative_eq!(si("-40 °F", D::Temperature), -40.0, max_relative = 1e-15);
}

#[test]
fn spaces_minus_signs_and_spellings_do_not_matter() {
    for text in
        ["-12.5 °C", "\u{2212}12.5\u{a0}°C", " -12.5\u{202f}C ", "-12.5\u{2009}°C", "-1.25e1 degC", "-12.5C"]
    {
        assert_eq!(si(text, D::Temperature), -12.5, "{text:?}");
    }
    for text in ["1.6 W/m2K", "1.6 W/m²K", "1.6 W/(m2 K)", "1.6 W/(m²·K)", "1.6W/m2 K"] {
        assert_eq!(si(text, D::Transmittance), 1.6, "{text:?}");
    }
    let imperial = si("1 Btu/hft2°F", D::Transmittance);
    for text in ["1 Btu/(h ft2 °F)", "1 Btu/h·ft²·°F", "1 Btu/hr ft2 °F", "1 BTU/(h*ft2*°F)"] {
        assert_eq!(si(text, D::Transmittance), imperial, "{text:?}");
    }
    for text in ["0.5 in w.g.", "0.5 in. w.g.", "0.5 in wg", "0.5in w.c.", "0.5 inH2O"] {
        assert_eq!(si(text, D::Pressure), si("0.5 in w.g.", D::Pressure), "{text:?}");
    }
    for text in ["2.5 1/h", "2.5 ACH", "2.5 ach", "2.5ach", "2.5 h-1", "2.5  1 / h"] {
        assert_eq!(si(text, D::AirChangeRate), si("2.5 1/h", D::AirChangeRate), "{text:?}");
    }
    assert_eq!(si("300 m³/h", D::AirFlow), si("300 m3/h", D::AirFlow));
    assert_eq!(si(".5 m", D::Length), 0.5);
    assert_eq!(si("5. m", D::Length), 5.0);
}

#[test]
fn what_is_no_quantity_says_why() {
    let error = |text: &str| parse_quantity(text, D::Area).expect_err(text).to_string();
    assert_eq!(error("12,5 m2"), "a number with a comma is not read");
    assert_eq!(error("1 500 m2"), "a number is written without gaps or marks between its digits");
    assert_eq!(error("1'500 m2"), "a number is written without gaps or marks between its digits");
    assert_eq!(error("140"), "an area needs a unit");
    assert_eq!(error("m2"), "an area is needed, but there is no number at its start");
    assert_eq!(error(""), "an area is needed, but there is no number at its start");
    assert_eq!(error("NaN m2"), "an area is needed, but there is no number at its start");
    assert_eq!(error("inf m2"), "an area is needed, but there is no number at its start");
    assert_eq!(error("1e999 m2"), "the number is too large");
    assert_eq!(error("140 1/h"), "an area is needed, but `1/h` measures an air change rate");
    assert_eq!(error("140 1/m2"), "a number is written without gaps or marks between its digits");
    assert_eq!(error("140 sqm"), "an area is needed, but the unit `sqm` is unknown");
    assert_eq!(error("140 cfm"), "an area is needed, but `cfm` measures a flow of air");
    assert!(matches!(parse_quantity("1e308 kW", D::Power), Err(QuantityError::TooLarge { .. })));
}

#[test]
fn a_litre_an_hour_is_no_flow_of_air_and_a_litre_a_second_no_rate_of_water() {
    assert!(parse_quantity("2 L/day", D::AirMassFlow).is_err());
    assert!(parse_quantity("2 L/s", D::WaterRate).is_err());
}

#[test]
fn no_two_units_of_a_dimension_share_a_spelling() {
    for dimension in D::ALL {
        for unit in dimension.units() {
            for name in std::iter::once(&unit.name).chain(unit.also) {
                assert_eq!(dimension.unit(name).map(|found| found.name), Some(unit.name), "{name}");
            }
        }
    }
}

proptest! {
    #[test]
    fn a_quantity_written_in_any_unit_reads_back(number in -1e6..1e6f64, pick in 0..UNITS.len()) {
        let unit = &UNITS[pick];
        let text = format!("{number} {}", unit.name);
        let read = parse_quantity(&text, unit.dimension).expect("a number and its unit");
        prop_assert_eq!(read.number, number);
        prop_assert_eq!(read.unit.name, unit.name);
    }

    #[test]
    fn conversion_to_si_and_back_returns_the_number(number in -1e6..1e6f64, pick in 0..UNITS.len()) {
        let unit = &UNITS[pick];
        let back = unit.from_si(unit.to_si(number));
        // The shift of kelvin costs its own rounding: a few parts in 1e16 of 273.15.
        prop_assert!((back - number).abs() <= 1e-15 * (number.abs() + 500.0), "{} {}", number, unit.name);
    }

    #[test]
    fn any_text_gives_a_quantity_or_an_error(text in any::<String>(), pick in 0..D::ALL.len()) {
        if let Ok(quantity) = parse_quantity(&text, D::ALL[pick]) {
            prop_assert!(quantity.si().is_finite());
        }
    }
}
