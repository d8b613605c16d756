//! What is refused, in the words a user meets.
#![allow(clippy::unwrap_used, clippy::panic)] // In helpers of tests, as in the tests themselves.

use psychrometrics::processes::{Stream, Water, humidify_by_steam, mix, temper_to};
use psychrometrics::{AirError, EnhancementFactor, Given, MoistAir, checked, standard_pressure_pa};

const P: f64 = 101_325.0;

fn refusal(first: Given, second: Given) -> String {
    MoistAir::from_pair(first, second, P).unwrap_err().to_string()
}

#[test]
fn dew_point_with_humidity_ratio_says_the_same_twice() {
    let expected = "dew point and humidity ratio say the same twice: replace one of them by another property";
    assert_eq!(refusal(Given::DewPointC(5.0), Given::HumidityRatio(0.005)), expected);
    assert_eq!(refusal(Given::HumidityRatio(0.005), Given::DewPointC(5.0)), expected);
}

#[test]
fn a_property_with_itself_says_the_same_twice() {
    for given in [
        Given::DryBulbC(20.0),
        Given::WetBulbC(10.0),
        Given::DewPointC(10.0),
        Given::RelativeHumidity(0.5),
        Given::HumidityRatio(0.005),
        Given::EnthalpyJPerKg(40e3),
    ] {
        assert!(matches!(MoistAir::from_pair(given, given, P), Err(AirError::SameTwice(..))), "{given}");
    }
    assert!(refusal(Given::HumidityRatio(0.0), Given::RelativeHumidity(0.0)).contains("say the same twice"));
}

#[test]
fn wet_bulb_with_enthalpy_is_singular() {
    assert_eq!(
        refusal(Given::EnthalpyJPerKg(9e3), Given::WetBulbC(0.0)),
        "wet bulb and enthalpy are singular near 0 °C: replace one of them by another property"
    );
}

#[test]
fn over_saturated_air_is_refused_with_its_relative_humidity() {
    assert_eq!(
        refusal(Given::DewPointC(20.0), Given::DryBulbC(10.0)),
        // 2338.8037 Pa over 1227.9953 Pa.
        "dry bulb 10 °C and dew point 20 °C: over-saturated, relative humidity would be 1.904571"
    );
    assert!(refusal(Given::WetBulbC(12.0), Given::DryBulbC(10.0)).contains("over-saturated"));
    assert!(refusal(Given::HumidityRatio(0.02), Given::DryBulbC(10.0)).contains("over-saturated"));
    assert!(refusal(Given::HumidityRatio(0.02), Given::EnthalpyJPerKg(30e3)).contains("over-saturated"));
    assert!(refusal(Given::HumidityRatio(0.02), Given::WetBulbC(10.0)).contains("over-saturated"));
}

#[test]
fn air_drier_than_dry_is_refused() {
    assert_eq!(
        refusal(Given::DryBulbC(20.0), Given::WetBulbC(0.0)),
        "dry bulb 20 °C and wet bulb 0 °C: even perfectly dry air at that dry bulb has a higher wet bulb"
    );
    assert_eq!(
        refusal(Given::EnthalpyJPerKg(20e3), Given::DryBulbC(20.0)),
        "dry bulb 20 °C and enthalpy 20000 J/kg: even perfectly dry air at that dry bulb has a higher enthalpy"
    );
}

#[test]
fn air_outside_the_range_is_refused() {
    assert_eq!(
        refusal(Given::WetBulbC(55.0), Given::RelativeHumidity(0.1)),
        "no air from -60 to 60 °C has wet bulb 55 °C and relative humidity 0.1"
    );
    assert!(refusal(Given::DewPointC(30.0), Given::RelativeHumidity(0.0)).starts_with("no air from -60"));
    assert!(refusal(Given::DewPointC(50.0), Given::RelativeHumidity(0.1)).starts_with("no air from -60"));
    assert_eq!(
        refusal(Given::HumidityRatio(0.0), Given::EnthalpyJPerKg(100_600.0)),
        "dry bulb of this pair 100 °C is outside -60 to 60 °C"
    );
}

#[test]
fn numbers_out_of_range_are_refused_with_their_range() {
    assert_eq!(
        refusal(Given::DryBulbC(75.0), Given::RelativeHumidity(0.5)),
        "dry bulb 75 °C is outside -60 to 60 °C"
    );
    assert_eq!(
        refusal(Given::DryBulbC(20.0), Given::RelativeHumidity(50.0)),
        "relative humidity 50 is outside 0 to 1"
    );
    assert_eq!(
        refusal(Given::DryBulbC(f64::NAN), Given::WetBulbC(1.0)),
        "dry bulb NaN °C is outside -60 to 60 °C"
    );
    let low = MoistAir::from_pair(Given::DryBulbC(20.0), Given::RelativeHumidity(0.5), 1013.25);
    assert_eq!(low.unwrap_err().to_string(), "pressure 1013.25 Pa is outside 50000 to 110000 Pa");
    assert_eq!(
        standard_pressure_pa(12e3).unwrap_err().to_string(),
        "altitude 12000 m is outside -5000 to 11000 m"
    );
}

#[test]
fn every_checked_function_refuses_what_is_no_number() {
    let x = f64::NAN;
    let results = [
        checked::saturation_pressure_pa(x),
        checked::saturation_pressure_over_water_pa(x),
        checked::saturation_pressure_over_ice_pa(x),
        checked::saturation_humidity_ratio(x, P),
        checked::saturation_humidity_ratio(20.0, x),
        checked::humidity_ratio_from_vapour_pressure(x, P),
        checked::humidity_ratio_from_relative_humidity(20.0, x, P),
        checked::humidity_ratio_from_relative_humidity_over_water(x, 0.5, P),
        checked::humidity_ratio_from_dew_point(x, P),
        checked::humidity_ratio_from_dew_point_over_water(x, P),
        checked::humidity_ratio_from_wet_bulb(20.0, x, P),
        checked::humidity_ratio_from_wet_bulb(20.0, 15.0, x),
        checked::vapour_pressure_pa(x, P),
        checked::relative_humidity(20.0, x, P),
        checked::relative_humidity_over_water(x, 0.005, P),
        checked::degree_of_saturation(20.0, x, P),
        checked::relative_humidity_from_degree_of_saturation(20.0, 0.5, x),
        checked::dew_point_c(x),
        checked::dew_point_over_water_c(x),
        checked::frost_point_c(x),
        checked::wet_bulb_c(20.0, x, P),
        checked::specific_volume_m3_per_kg(20.0, 0.005, x),
        checked::density_kg_per_m3(20.0, x, P),
        checked::enthalpy_j_per_kg(x, 0.005),
        checked::dry_bulb_from_enthalpy_c(x, 0.005),
    ];
    for (i, result) in results.iter().enumerate() {
        assert!(result.is_err_and(|error| error.value.is_nan()), "number {i}: {result:?}");
    }
}

#[test]
fn processes_say_what_they_cannot_do() {
    let room = MoistAir::from_pair(Given::DryBulbC(20.0), Given::DewPointC(10.0), P).unwrap();
    let message = temper_to(&room, 5.0).unwrap_err().to_string();
    assert!(message.starts_with("5 °C is below the dew point "), "{message}");
    let high = MoistAir::from_pair(Given::DryBulbC(20.0), Given::DewPointC(10.0), 80e3).unwrap();
    let stream = |air| Stream { air, dry_air_kg_per_s: 1.0 };
    assert_eq!(
        mix(stream(room), stream(high)).unwrap_err().to_string(),
        "streams at 101325 Pa and 80000 Pa: bring them to one pressure before mixing"
    );
    let (t, dew) = (Given::DryBulbC(20.0), Given::DewPointC(10.0));
    let real = MoistAir::from_pair_enhanced(t, dew, P, EnhancementFactor::ByPressure).unwrap();
    assert_eq!(mix(stream(room), stream(real)), Err(AirError::EnhancementsDiffer));
    let steam = Water { kg_per_kg: 0.01, temperature_c: 300.0 };
    assert_eq!(
        humidify_by_steam(&room, steam).unwrap_err().to_string(),
        "steam temperature 300 °C is outside 0 to 200 °C"
    );
}
