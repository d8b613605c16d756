//! The second calculation's core against closed forms and tables made apart from it. Not here: the house and its year
//! (`../oracle.rs`).

use approx::{assert_abs_diff_eq, assert_relative_eq};

use crate::oracle::air::Saturation;
use crate::oracle::cells::{Core, Fluxes, Inlets, Outlets};
use crate::{SEA_LEVEL_PA, humidity};

/// Equal dry-air flows, NTU by the capacity of dry air; temperature and relative humidity of room and outdoors.
fn balanced(room: (f64, f64), outdoor: (f64, f64), ntu: (f64, f64), cells: usize) -> (Fluxes, Outlets) {
    let m = 0.04;
    let inlets = Inlets {
        extract_c: room.0,
        extract_w: humidity(room.0, room.1),
        outdoor_c: outdoor.0,
        outdoor_w: humidity(outdoor.0, outdoor.1),
        extract_kg_per_s: m,
        supply_kg_per_s: m,
    };
    let mut core = Core::new(ntu.0 * m * 1006.0, ntu.1 * m, cells);
    let fluxes = core.solve(&inlets, &Saturation::new(SEA_LEVEL_PA));
    assert!(fluxes.settled && fluxes.gap_k < 1e-6);
    assert!(fluxes.residual_w().abs() < 1e-9 * fluxes.from_extract_w);
    assert!(fluxes.residual_kg_per_s().abs() < 1e-15);
    (fluxes, fluxes.outlets(&inlets))
}

/// Shooting by a Runge-Kutta march of 200 steps, made apart from this crate; latent heat 2501 - 2.361 t, or 2835 kJ/kg.
/// Outdoor air dry. Room °C, its humidity, outdoor °C, NTU; supply °C, exhaust °C, condensate kg/kg, of which ice, plate's cold end °C.
const WET_ROWS: [[f64; 9]; 9] = [
    [21.0, 0.4, 5.0, 3.0, 17.051, 9.085, 0.0, 0.0, 7.043],
    [21.0, 0.4, 0.0, 3.0, 16.038, 6.345, 0.00049, 0.0, 3.972],
    [21.0, 0.4, -5.0, 3.0, 15.245, 3.981, 0.00122, 0.0, 0.689],
    [21.0, 0.4, -10.0, 3.0, 14.547, 1.640, 0.00192, 0.00057, -2.525],
    [21.0, 0.4, -20.0, 3.0, 13.267, -3.421, 0.00319, 0.00192, -9.828],
    [21.0, 0.6, 0.0, 3.0, 17.106, 9.199, 0.00207, 0.0, 6.228],
    [21.0, 0.6, -10.0, 3.0, 16.128, 4.720, 0.00386, 0.00009, -0.234],
    [21.0, 0.3, -20.0, 5.0, 15.761, -7.530, 0.00252, 0.00218, -12.606],
    [21.0, 0.5, 2.0, 5.0, 18.403, 7.752, 0.00120, 0.0, 5.846],
];

#[test]
fn wet_plates_are_those_of_the_march() {
    for [room_c, rh, outdoor_c, ntu, supply_c, exhaust_c, water, ice, cold_end_c] in WET_ROWS {
        let (_, coarse) = balanced((room_c, rh), (outdoor_c, 0.0), (ntu, 0.0), 40);
        let (fluxes, out) = balanced((room_c, rh), (outdoor_c, 0.0), (ntu, 0.0), 400);
        assert_abs_diff_eq!(out.supply_c, supply_c, epsilon = 0.05);
        assert_abs_diff_eq!(out.exhaust_c, exhaust_c, epsilon = 0.1);
        assert_abs_diff_eq!(fluxes.plate_coldest_c, cold_end_c, epsilon = 0.1);
        // Half a unit of the last printed digit, and 2 %.
        let condensate = (fluxes.liquid_kg_per_s + fluxes.ice_kg_per_s) / 0.04;
        assert_abs_diff_eq!(condensate, water, epsilon = 5e-6 + 0.02 * water);
        assert_abs_diff_eq!(fluxes.ice_kg_per_s / 0.04, ice, epsilon = 5e-6 + 0.02 * ice);
        assert_abs_diff_eq!(coarse.supply_c, out.supply_c, epsilon = 0.005);
        assert_abs_diff_eq!(coarse.exhaust_w, out.exhaust_w, epsilon = 1e-5);
    }
}

/// Room humidity; outdoor °C at which the first ice forms on a plate and on a membrane of NTU 3 and 1.5 at 21 °C: wet
/// solutions made apart from this crate.
const FIRST_FROST: [[f64; 3]; 5] =
    [[0.2, -5.9, -15.8], [0.3, -4.1, -9.8], [0.4, -6.1, -5.3], [0.5, -7.7, -3.3], [0.6, -9.3, -4.1]];

#[test]
fn first_frost_comes_where_other_wet_solutions_have_it() {
    for [rh, plate_c, membrane_c] in FIRST_FROST {
        for (vapour_ntu, expected_c) in [(0.0, plate_c), (1.5, membrane_c)] {
            let (mut frosts, mut clear) = (-25.0, 5.0);
            for _ in 0..12 {
                let middle = 0.5 * (frosts + clear);
                let (fluxes, _) = balanced((21.0, rh), (middle, 0.8), (3.0, vapour_ntu), 1600);
                *(if fluxes.ice_kg_per_s > 0.0 { &mut frosts } else { &mut clear }) = middle;
            }
            assert_abs_diff_eq!(frosts, expected_c, epsilon = 0.1);
        }
    }
}

#[test]
fn a_dry_core_is_the_counterflow_closed_form() {
    // Supply over extract flow; effectiveness by supply and by exhaust temperature, for UA of NTU 3 at equal flows.
    let rows = [
        (0.80, 0.84814, 0.67851),
        (0.90, 0.79823, 0.71841),
        (1.00, 0.75000, 0.75000),
        (1.10, 0.70475, 0.77523),
        (1.25, 0.64346, 0.80433),
    ];
    for (ratio, supply, exhaust) in rows {
        let inlets = Inlets {
            extract_c: 20.0,
            extract_w: 0.0,
            outdoor_c: 0.0,
            outdoor_w: 0.0,
            extract_kg_per_s: 0.04,
            supply_kg_per_s: 0.04 * ratio,
        };
        let fluxes = Core::new(3.0 * 0.04 * 1006.0, 0.0, 40).solve(&inlets, &Saturation::new(SEA_LEVEL_PA));
        let out = fluxes.outlets(&inlets);
        assert_abs_diff_eq!(out.supply_c / 20.0, supply, epsilon = 1e-4);
        assert_abs_diff_eq!(1.0 - out.exhaust_c / 20.0, exhaust, epsilon = 1e-4);
    }
}

#[test]
fn a_dry_membrane_passes_vapour_by_the_same_closed_form() {
    // NTU 1.9568 for vapour: 1.9568/2.9568; cool on both sides of 20 °C and dry, so that no face is wet.
    let (fluxes, out) = balanced((20.0, 0.5), (12.0, 0.8), (4.3245, 1.9568), 40);
    let (room_w, outdoor_w) = (humidity(20.0, 0.5), humidity(12.0, 0.8));
    assert_eq!(fluxes.liquid_kg_per_s + fluxes.supply_liquid_kg_per_s + fluxes.ice_kg_per_s, 0.0);
    assert_relative_eq!((out.supply_w - outdoor_w) / (room_w - outdoor_w), 0.6618, max_relative = 1e-4);
}

#[test]
fn streams_may_change_places_where_nothing_freezes() {
    let air = Saturation::new(SEA_LEVEL_PA);
    for vapour in [0.0, 0.03] {
        let summer = Inlets {
            extract_c: 24.0,
            extract_w: humidity(24.0, 0.7),
            outdoor_c: 35.0,
            outdoor_w: humidity(35.0, 0.95),
            extract_kg_per_s: 0.04,
            supply_kg_per_s: 0.036,
        };
        let turned = Inlets {
            extract_c: summer.outdoor_c,
            extract_w: summer.outdoor_w,
            outdoor_c: summer.extract_c,
            outdoor_w: summer.extract_w,
            extract_kg_per_s: 0.036,
            supply_kg_per_s: 0.04,
        };
        let a = Core::new(120.0, vapour, 40).solve(&summer, &air);
        let b = Core::new(120.0, vapour, 40).solve(&turned, &air);
        assert!(a.settled && b.settled && a.supply_liquid_kg_per_s > 1e-5);
        assert_eq!(a.liquid_kg_per_s, 0.0);
        assert_relative_eq!(a.supply_liquid_kg_per_s, b.liquid_kg_per_s, max_relative = 1e-6);
        assert_relative_eq!(a.from_extract_w, -b.to_supply_w, max_relative = 1e-6);
        assert_abs_diff_eq!(a.residual_w(), 0.0, epsilon = 1e-7);
    }
}
