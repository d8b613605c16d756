//! Ninety states against two independent libraries: psychrolib 2.5.0 (the same equations) and CoolProp 8.0.0 (real
//! gas). The table and its origin are in `tests/data/psychro`.
#![allow(clippy::unwrap_used, clippy::panic)] // In helpers of tests, as in the tests themselves.

use psychrometrics::{EnhancementFactor, Given, MoistAir, checked};

struct Row(std::collections::HashMap<String, f64>);

impl Row {
    fn get(&self, column: &str) -> f64 {
        self.0[column]
    }

    fn air(&self, enhancement: EnhancementFactor) -> MoistAir {
        let (t, share) = (Given::DryBulbC(self.get("tdb_C")), Given::RelativeHumidity(self.get("rh_frac")));
        MoistAir::from_pair_enhanced(t, share, self.get("p_Pa"), enhancement).unwrap()
    }

    fn place(&self) -> String {
        format!("{} °C, {}, {} Pa", self.get("tdb_C"), self.get("rh_frac"), self.get("p_Pa"))
    }
}

fn rows() -> Vec<Row> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/data/psychro/psychro_checks.csv");
    let mut reader = csv::Reader::from_path(path).unwrap();
    let rows: Vec<Row> = reader.deserialize().map(|row| Row(row.unwrap())).collect();
    assert_eq!(rows.len(), 90);
    rows
}

fn ideal() -> impl Iterator<Item = (Row, MoistAir)> {
    rows().into_iter().map(|row| {
        let air = row.air(EnhancementFactor::None);
        (row, air)
    })
}

fn assert_within(found: f64, expected: f64, limit: f64, row: &Row) {
    assert!((found - expected).abs() <= limit, "{}: {found}, expected {expected} ± {limit}", row.place());
}

/// The table prints the humidity ratio with eight decimals.
#[test]
fn humidity_ratio_is_psychrolibs() {
    for (row, air) in ideal() {
        let expected = row.get("W_psychrolib");
        assert_within(air.humidity_ratio(), expected, 1e-6 * expected + 1e-8, &row);
    }
}

#[test]
fn enthalpy_and_volume_are_psychrolibs() {
    for (row, air) in ideal() {
        assert_within(air.enthalpy_j_per_kg(), row.get("h_psychrolib_J_per_kgda"), 1.0, &row);
        let volume = row.get("v_psychrolib_m3_per_kgda");
        assert_within(air.specific_volume_m3_per_kg(), volume, 1e-6 * volume.max(1.0), &row);
    }
}

/// psychrolib stops its searches at 0.001 K.
#[test]
fn dew_point_and_wet_bulb_are_psychrolibs() {
    for (row, air) in ideal() {
        assert_within(air.dew_point_c().unwrap(), row.get("tdp_psychrolib_C"), 0.002, &row);
        assert_within(air.wet_bulb_c(), row.get("twb_psychrolib_C"), 0.002, &row);
    }
}

/// Printed with five and four decimals.
#[test]
fn degree_of_saturation_and_pressures_are_psychrolibs() {
    for (row, air) in ideal() {
        assert_within(air.degree_of_saturation(), row.get("degsat_psychrolib"), 6e-6, &row);
        assert_within(air.saturation_pressure_pa(), row.get("pws_psychrolib_Pa"), 6e-5, &row);
        assert_within(air.vapour_pressure_pa(), row.get("pw_psychrolib_Pa"), 6e-5, &row);
    }
}

#[test]
fn the_checked_functions_give_the_same_numbers_as_the_state() {
    for (row, air) in ideal() {
        let (t, share, p) = (row.get("tdb_C"), row.get("rh_frac"), row.get("p_Pa"));
        let w = checked::humidity_ratio_from_relative_humidity(t, share, p).unwrap();
        assert_within(w, air.humidity_ratio(), 1e-15, &row);
        let wet = checked::wet_bulb_c(t, w, p).unwrap();
        assert_within(wet, row.get("twb_psychrolib_C"), 0.002, &row);
        assert_within(checked::humidity_ratio_from_wet_bulb(t, wet, p).unwrap(), w, 1e-14, &row);
        let degree = checked::degree_of_saturation(t, w, p).unwrap();
        assert_within(degree, row.get("degsat_psychrolib"), 6e-6, &row);
        let back = checked::relative_humidity_from_degree_of_saturation(t, degree, p).unwrap();
        assert_within(back, share, 1e-12, &row);
        assert_within(checked::relative_humidity(t, w, p).unwrap(), share, 1e-12, &row);
        let volume = checked::specific_volume_m3_per_kg(t, w, p).unwrap();
        assert_within(checked::density_kg_per_m3(t, w, p).unwrap() * volume, 1.0 + w, 1e-14, &row);
        let dew = checked::dew_point_c(checked::vapour_pressure_pa(w, p).unwrap()).unwrap();
        assert_within(dew, row.get("tdp_psychrolib_C"), 0.002, &row);
    }
}

/// The limits are the known distance of ideal-gas equations from the real gas.
#[test]
fn the_state_is_as_near_to_coolprop_as_ideal_gases_can_be() {
    for (row, air) in ideal() {
        let (w, volume) = (row.get("W_coolprop"), row.get("v_coolprop_m3_per_kgda"));
        assert_within(air.humidity_ratio(), w, 0.007 * w, &row);
        assert_within(air.specific_volume_m3_per_kg(), volume, 0.0015 * volume, &row);
        assert_within(air.dew_point_c().unwrap(), row.get("tdp_coolprop_C"), 0.03, &row);
        assert_within(air.wet_bulb_c(), row.get("twb_coolprop_C"), 0.03, &row);
        assert_within(air.enthalpy_j_per_kg(), row.get("h_coolprop_J_per_kgda"), 1000.0, &row);
    }
}

#[test]
fn with_the_enhancement_factor_the_humidity_ratio_is_within_0_17_percent_of_coolprop() {
    for row in rows() {
        let air = row.air(EnhancementFactor::ByPressure);
        let w = row.get("W_coolprop");
        assert_within(air.humidity_ratio(), w, 0.0017 * w, &row);
    }
}
