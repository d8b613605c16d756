//! Cases that the cell solution refuses, with the words it says.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]
mod common;

use common::w;
use exchanger::Inlets;
use exchanger::cell::{Arrangement, CellError, PlateCase, solve_plate};

fn good() -> PlateCase {
    let inlets = Inlets {
        outdoor_c: -5.0,
        outdoor_humidity_ratio: w(-5.0, 0.8, 101_325.0),
        extract_c: 21.0,
        extract_humidity_ratio: w(21.0, 0.4, 101_325.0),
        supply_kg_per_s: 0.05,
        extract_kg_per_s: 0.05,
        pressure_pa: 101_325.0,
    };
    PlateCase {
        inlets,
        ua_w_per_k: 150.0,
        vapour_kg_per_s: 0.02,
        arrangement: Arrangement::QuasiCounter { counter_share: 0.5 },
        cells: 20,
    }
}

fn refused(change: impl Fn(&mut PlateCase)) -> String {
    let mut case = good();
    change(&mut case);
    solve_plate(&case).unwrap_err().to_string()
}

#[test]
fn the_case_is_good_until_changed() {
    assert!(solve_plate(&good()).is_ok());
}

#[test]
fn impossible_numbers_are_named() {
    let said = refused(|c| c.inlets.supply_kg_per_s = 0.0);
    assert_eq!(said, "supply flow 0 kg/s is outside 0.000001…1000 kg/s");
    let said = refused(|c| c.inlets.extract_kg_per_s = f64::NAN);
    assert_eq!(said, "extract flow NaN kg/s is outside 0.000001…1000 kg/s");
    let said = refused(|c| c.inlets.outdoor_c = -61.0);
    assert_eq!(said, "outdoor temperature -61 °C is outside -60…60 °C");
    let said = refused(|c| c.inlets.extract_c = f64::INFINITY);
    assert_eq!(said, "extract temperature inf °C is outside -60…60 °C");
    let said = refused(|c| c.inlets.extract_humidity_ratio = -1e-9);
    assert_eq!(said, "extract humidity ratio -0.000000001 kg/kg is outside 0…0.5 kg/kg");
    let said = refused(|c| c.inlets.pressure_pa = 101.325);
    assert_eq!(said, "pressure 101.325 Pa is outside 50000…110000 Pa");
    let said = refused(|c| c.ua_w_per_k = -1.0);
    assert_eq!(said, "heat conductance -1 W/K is outside 0…10000000 W/K");
    let said = refused(|c| c.arrangement = Arrangement::QuasiCounter { counter_share: 1.5 });
    assert_eq!(said, "counterflow share 1.5 is outside 0…1");
    let said = refused(|c| c.cells = 9);
    assert_eq!(said, "number of cells 9 is outside 10…10000");
}

#[test]
fn air_above_saturation_is_refused_beyond_rounding() {
    let mut case = good();
    case.inlets.extract_humidity_ratio = w(21.0, 1.0, 101_325.0) * (1.0 + 1e-9);
    assert!(solve_plate(&case).is_ok());
    case.inlets.extract_humidity_ratio = w(21.0, 1.01, 101_325.0);
    assert!(matches!(solve_plate(&case), Err(CellError::AboveSaturation { stream: "extract", .. })));
}

#[test]
fn a_vapour_conductance_beyond_that_of_the_films_is_refused() {
    // Two films of 300 W/K over 1006 J/kgK in series pass 0.149 kg/s.
    let said = refused(|c| c.vapour_kg_per_s = 0.2);
    assert!(
        said.starts_with(
            "vapour conductance (its films alone allow the upper end) 0.2 kg/s is outside 0…0.14"
        )
    );
    let said = refused(|c| c.ua_w_per_k = 0.0);
    assert!(said.starts_with("vapour conductance"), "{said}");
}

#[test]
fn cells_too_large_for_the_conductance_are_refused() {
    let mut case = good();
    case.ua_w_per_k = 30.0 * 0.05 * 1010.0;
    // NTU 30 on the drier, lighter side at 1010 J/kgK: 1006 and 1860 times 0.002 there.
    assert_eq!(solve_plate(&case).unwrap_err(), CellError::TooFewCells { cells: 20, least: 31.0 });
    assert!(solve_plate(&PlateCase { cells: 31, ..case }).is_ok());
}
