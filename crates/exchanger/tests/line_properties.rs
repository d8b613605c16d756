//! What must hold of the line solution at any state: finite numbers, order, books, the second law; every kind of core.
//!
//! Not here: smoothness and symmetry (`line_continuity.rs`), its distance from the cell solution (`accuracy.rs`).
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]
mod line_states;

use exchanger::cell::{Arrangement, PlateCase, solve_plate};
use exchanger::{Core, CoreKind, Fluxes, Inlets, Outlets};
use line_states::{Random, Range, SUBJECTS, State, state, w};
use psychrometrics::formulas::{
    enthalpy_j_per_kg, ice_enthalpy_j_per_kg, liquid_enthalpy_j_per_kg, moist_heat_capacity, saturation_pa,
    vapour_pressure_pa,
};

/// For each kind of core.
const STATES: usize = 3000;

fn each(range: Range, check: impl Fn(&State, &Fluxes<f64>, &Outlets<f64>)) {
    for subject in SUBJECTS {
        let mut random = Random(7);
        for _ in 0..STATES {
            let state = state(subject, range, &mut random);
            let (fluxes, out) = state.solved();
            check(&state, &fluxes, &out);
        }
    }
}

fn numbers(f: &Fluxes<f64>, o: &Outlets<f64>) -> [f64; 16] {
    [
        f.heat_w,
        f.vapour_kg_per_s,
        f.liquid_kg_per_s,
        f.ice_kg_per_s,
        f.supply_liquid_kg_per_s,
        f.liquid_c,
        f.ice_c,
        f.plate_cold_c,
        f.own_exhaust_c,
        f.dry_supply_effectiveness,
        f.vapour_supply_effectiveness,
        f.vapour_offset_kg_per_s,
        o.supply_c,
        o.supply_humidity_ratio,
        o.exhaust_c,
        o.exhaust_humidity_ratio,
    ]
}

/// Below or above both, by how much.
fn outside(x: f64, a: f64, b: f64) -> f64 {
    (a.min(b) - x).max(x - a.max(b)).max(0.0)
}

fn water(f: &Fluxes<f64>) -> f64 {
    f.liquid_kg_per_s + f.ice_kg_per_s + f.supply_liquid_kg_per_s
}

fn flow_ratio(i: &Inlets<f64>) -> f64 {
    i.supply_kg_per_s / i.extract_kg_per_s
}

#[test]
fn the_states_hold_what_they_are_for() {
    for subject in SUBJECTS {
        let mut random = Random(7);
        let mut count = [0; 5];
        for _ in 0..STATES {
            let state = state(subject, Range::House, &mut random);
            let (fluxes, _) = state.solved();
            count[0] += usize::from(fluxes.liquid_kg_per_s > 0.0);
            count[1] += usize::from(fluxes.ice_kg_per_s > 0.0);
            count[2] += usize::from(fluxes.supply_liquid_kg_per_s > 0.0);
            count[3] += usize::from(!state.is_winter());
            count[4] += usize::from(state.inlets.extract_c == state.inlets.outdoor_c);
        }
        println!("{subject:?}: liquid, ice, supply side wet, summer, equal temperatures {count:?}");
        assert!(count[0] > 150 && count[1] > 300 && count[3] > 500 && count[4] > 30);
        // What condenses on a wheel in summer evaporates again.
        assert!(subject.0.is_wheel() || count[2] > 15);
    }
}

#[test]
fn every_number_is_finite_in_a_house() {
    each(Range::House, |state, fluxes, out| {
        assert!(numbers(fluxes, out).iter().all(|x| x.is_finite()), "{state:?} {fluxes:?}");
    });
}

/// Liquid is between 0 °C and the warmer inlet and no colder than the coldest face; ice is between that and 0 °C. The cold end is found
/// from its own balance, so cells near it may lie up to half a kelvin below.
#[test]
fn water_is_as_warm_as_the_faces_that_it_lies_on() {
    for subject in SUBJECTS {
        let mut random = Random(7);
        let (mut ice_c, mut ice) = (0.0, 0.0);
        for _ in 0..STATES {
            let state = state(subject, Range::House, &mut random);
            let (fluxes, _) = state.solved();
            let coldest = fluxes.plate_cold_c - 0.5;
            if fluxes.liquid_kg_per_s > 1e-9 {
                let warmest = state.inlets.extract_c.max(state.inlets.outdoor_c);
                let is_between = fluxes.liquid_c >= coldest.max(-1e-9) && fluxes.liquid_c <= warmest + 1e-9;
                assert!(is_between, "{state:?} {fluxes:?}");
            }
            if fluxes.ice_kg_per_s > 1e-9 {
                assert!(fluxes.ice_c >= coldest && fluxes.ice_c <= 0.26, "{state:?} {fluxes:?}");
                ice_c += fluxes.ice_c;
                ice += 1.0;
            }
        }
        // −30 °C to 0 °C outdoors: faces with ice are some kelvin below zero on the mean.
        assert!(ice_c / ice < -1.0, "{subject:?} {}", ice_c / ice);
    }
}

/// On a plate that passes no vapour water is taken as warm as the mean of what is above 0 °C between dew point and cold end; ice as what is
/// below.
#[test]
fn water_on_a_plate_lies_between_the_dew_point_and_the_cold_end() {
    for (outdoor_c, freezes) in [(4.0, false), (-25.0, true)] {
        let inlets = Inlets {
            outdoor_c,
            outdoor_humidity_ratio: 0.0004,
            extract_c: 22.0,
            extract_humidity_ratio: 0.009,
            supply_kg_per_s: 0.05,
            extract_kg_per_s: 0.05,
            pressure_pa: 101_325.0,
        };
        let fluxes = exchanger::solve(CoreKind::SensiblePlate, &Core::counterflow(150.0, 0.0), &inlets);
        let dew_c = psychrometrics::checked::dew_point_c(vapour_pressure_pa(0.009, 101_325.0)).unwrap();
        let cold_c = fluxes.plate_cold_c;
        assert_eq!(fluxes.ice_kg_per_s > 0.0, freezes);
        assert!(fluxes.liquid_kg_per_s > 0.0 && dew_c > 12.0 && (cold_c < 0.0) == freezes, "{fluxes:?}");
        let expected = 0.5 * (dew_c + cold_c.max(0.0));
        assert!((fluxes.liquid_c - expected).abs() < 0.01, "{} {expected}", fluxes.liquid_c);
        if freezes {
            assert!((fluxes.ice_c - 0.5 * cold_c).abs() < 0.01, "{} {cold_c}", fluxes.ice_c);
        }
    }
}

/// −60…60 °C, 50…110 kPa, humidity ratios from 0 to saturation: far beyond what `solve` calls valid, yet no number is
/// lost, and all but a few in a thousand supply airs are between the inlets.
#[test]
fn every_number_is_finite_at_any_weather_there_is() {
    let (mut not_finite, mut far) = (0, 0);
    for subject in SUBJECTS {
        let mut random = Random(7);
        for _ in 0..STATES {
            let state = state(subject, Range::Whole, &mut random);
            let (fluxes, out) = state.solved();
            let i = &state.inlets;
            let finite = numbers(&fluxes, &out).iter().all(|x| x.is_finite());
            let off = outside(out.supply_c, i.outdoor_c, i.extract_c);
            not_finite += usize::from(!finite);
            far += usize::from(finite && off > 1.0);
        }
    }
    assert_eq!(not_finite, 0);
    // Seen: 18 of 24 000.
    assert!(far < SUBJECTS.len() * STATES / 1000, "{far} supply airs more than 1 K past both inlets");
}

/// No house, but its numbers are weather's and a bathing hall's: −42 °C outdoors, 37 °C and humid indoors.
#[test]
fn every_number_is_finite_past_any_house() {
    each(Range::Climate, |state, fluxes, out| {
        assert!(numbers(fluxes, out).iter().all(|x| x.is_finite()), "{state:?} {fluxes:?}");
        let i = &state.inlets;
        assert!(outside(out.exhaust_c, i.outdoor_c, i.extract_c) < 5.0, "{state:?} {out:?}");
    });
}

/// No allowance is needed: what the enthalpy books shift in the exhaust air does not take it past the inlets. Rounding.
#[test]
fn air_leaves_between_the_temperatures_at_which_it_entered() {
    each(Range::House, |state, fluxes, out| {
        let i = &state.inlets;
        for c in [out.supply_c, out.exhaust_c] {
            assert!(outside(c, i.outdoor_c, i.extract_c) < 1e-9, "{c} {state:?} {fluxes:?}");
        }
    });
}

#[test]
fn a_plate_or_wheel_is_no_colder_than_the_colder_air() {
    each(Range::House, |state, fluxes, _| {
        let crossed = [CoreKind::SensibleCrossPlate, CoreKind::EnthalpyCrossPlate].contains(&state.kind);
        let i = &state.inlets;
        let past = outside(fluxes.plate_cold_c, i.outdoor_c, i.extract_c);
        assert!(crossed || past < 1e-9, "{past} {state:?} {fluxes:?}");
    });
}

#[test]
fn a_crossflow_plate_is_no_colder_than_the_colder_air() {
    each(Range::House, |state, fluxes, _| {
        let i = &state.inlets;
        let past = outside(fluxes.plate_cold_c, i.outdoor_c, i.extract_c);
        assert!(past < 1e-9, "{past} {state:?} {fluxes:?}");
    });
}

#[test]
fn air_leaves_between_the_humidities_at_which_it_entered() {
    each(Range::House, |state, fluxes, out| {
        let i = &state.inlets;
        let past = |w: f64| outside(w, i.outdoor_humidity_ratio, i.extract_humidity_ratio);
        assert!(past(out.supply_humidity_ratio) < 1e-15, "{state:?} {fluxes:?}");
        assert!(past(out.exhaust_humidity_ratio) < 1e-15, "{state:?} {fluxes:?} {out:?}");
    });
}

/// Three times as much supply as extract air in severe cold: the straight saturation line alone would dry the extract air
/// past nothing. The cell solution of this state is the check, within the bounds of `accuracy.rs`.
#[test]
fn air_leaves_between_the_humidities_at_which_it_entered_also_with_little_extract_air() {
    let inlets = Inlets {
        outdoor_c: -28.603,
        outdoor_humidity_ratio: 0.000341,
        extract_c: 27.023,
        extract_humidity_ratio: 0.008954,
        supply_kg_per_s: 2.954,
        extract_kg_per_s: 1.0,
        pressure_pa: 78_925.0,
    };
    let core = Core::counterflow(5834.0, 0.0);
    let (fluxes, out) = State { kind: CoreKind::SensiblePlate, core, inlets, ntu: 5.8 }.solved();
    let cells = solve_plate(&PlateCase {
        inlets,
        ua_w_per_k: 5834.0,
        vapour_kg_per_s: 0.0,
        arrangement: Arrangement::Counter,
        cells: 200,
    })
    .unwrap();
    println!("line {out:?}, cells {:?}", cells.outlets);
    assert!((out.supply_c - cells.outlets.supply_c).abs() < 0.3, "{fluxes:?} {out:?}");
    let humid = out.exhaust_humidity_ratio - cells.outlets.exhaust_humidity_ratio;
    assert!(humid.abs() < 0.15e-3, "{fluxes:?} {out:?}");
    each(Range::House, |state, fluxes, out| {
        let i = &state.inlets;
        let past = outside(out.exhaust_humidity_ratio, i.outdoor_humidity_ratio, i.extract_humidity_ratio);
        assert!(past < 1e-15, "{past} {state:?} {fluxes:?} {out:?}");
    });
}

#[test]
fn vapour_moves_to_the_drier_air_and_deposits_are_never_negative() {
    each(Range::House, |state, fluxes, _| {
        let i = &state.inlets;
        let difference = i.extract_humidity_ratio - i.outdoor_humidity_ratio;
        assert!(fluxes.vapour_kg_per_s * difference >= 0.0, "{state:?} {fluxes:?}");
        let deposits = [fluxes.liquid_kg_per_s, fluxes.ice_kg_per_s, fluxes.supply_liquid_kg_per_s];
        assert!(deposits.iter().all(|&x| x >= 0.0), "{state:?} {fluxes:?}");
        if fluxes.ice_kg_per_s > 0.0 {
            assert!(fluxes.plate_cold_c <= 0.25, "{state:?} {fluxes:?}");
        }
        if matches!(state.kind, CoreKind::SensiblePlate) {
            assert_eq!(fluxes.vapour_kg_per_s, 0.0);
        }
        let on_colder_side = if state.is_winter() {
            fluxes.supply_liquid_kg_per_s
        } else {
            fluxes.liquid_kg_per_s + fluxes.ice_kg_per_s
        };
        assert_eq!(on_colder_side, 0.0, "{state:?} {fluxes:?}");
    });
}

#[test]
fn heat_and_water_of_both_streams_agree() {
    each(Range::House, |state, fluxes, out| {
        let i = &state.inlets;
        let (supply, extract) = (i.supply_kg_per_s, i.extract_kg_per_s);
        let h = enthalpy_j_per_kg::<f64>;
        let into = supply * h(i.outdoor_c, i.outdoor_humidity_ratio)
            + extract * h(i.extract_c, i.extract_humidity_ratio);
        let leaving = supply * h(out.supply_c, out.supply_humidity_ratio)
            + extract * h(out.exhaust_c, out.exhaust_humidity_ratio)
            + (fluxes.liquid_kg_per_s + fluxes.supply_liquid_kg_per_s)
                * liquid_enthalpy_j_per_kg(fluxes.liquid_c)
            + fluxes.ice_kg_per_s * ice_enthalpy_j_per_kg(fluxes.ice_c);
        let turnover = into.abs() + leaving.abs() + 1e4 * (supply + extract);
        assert!((into - leaving).abs() < 1e-12 * turnover, "{state:?} {fluxes:?}");
        let water_in = supply * i.outdoor_humidity_ratio + extract * i.extract_humidity_ratio;
        let water_out =
            supply * out.supply_humidity_ratio + extract * out.exhaust_humidity_ratio + water(fluxes);
        assert!((water_in - water_out).abs() < 1e-12 * water_in, "{state:?} {fluxes:?}");
    });
}

/// A bound that follows from those on the supply air (0.3 K) and the water (5 % of 3 g/kg, 0.4 K of latent heat), both
/// carried by the extract air.
#[test]
fn the_exhaust_temperature_of_the_books_is_near_the_solutions_own() {
    for subject in SUBJECTS {
        let mut random = Random(7);
        let mut largest = 0.0_f64;
        for _ in 0..STATES {
            let state = state(subject, Range::House, &mut random);
            let (fluxes, out) = state.solved();
            let gap_k = (out.exhaust_c - fluxes.own_exhaust_c).abs();
            largest = largest.max(gap_k);
            assert!(gap_k < 0.3 * flow_ratio(&state.inlets).max(1.0) + 0.4, "{gap_k} {state:?} {fluxes:?}");
        }
        println!("{subject:?}: the books move the exhaust air by {largest:.3} K at most");
    }
}

/// What the smaller stream could carry, latent heat set free at the plate, and the sensible heat of vapour that crosses.
#[test]
fn recovered_heat_is_within_the_counterflow_limit_and_the_latent_heat() {
    each(Range::House, |state, fluxes, out| {
        let i = &state.inlets;
        let supply = i.supply_kg_per_s * moist_heat_capacity(i.outdoor_humidity_ratio);
        let extract = i.extract_kg_per_s * moist_heat_capacity(i.extract_humidity_ratio);
        let carried = supply.min(extract) + 1860.0 * fluxes.vapour_kg_per_s.abs();
        // A wheel sets latent heat free also where what condenses evaporates again; 2.85 MJ/kg is sublimation.
        let wetted = if state.kind.is_wheel() { fluxes.vapour_kg_per_s.abs() } else { 0.0 };
        let limit = carried * (i.extract_c - i.outdoor_c).abs() + 2.85e6 * (water(fluxes) + wetted);
        let recovered = supply * (out.supply_c - i.outdoor_c);
        assert!(recovered.abs() <= limit + 1e-9, "{recovered} {limit} {state:?} {fluxes:?}");
    });
}

const ZERO_C_K: f64 = 273.15;
const VAPOUR_GAS_J_PER_KGK: f64 = 287.042 / 0.621945;

/// Moist air, ideal mixture [J/K for each kg of dry air]; zero for dry air at 0 °C and 101 325 Pa and for liquid water
/// at 0 °C.
fn air_entropy(c: f64, w: f64, pressure_pa: f64) -> f64 {
    let heat = ((c + ZERO_C_K) / ZERO_C_K).ln();
    let vapour_pa = vapour_pressure_pa(w, pressure_pa);
    let air = 1006.0 * heat - 287.042 * ((pressure_pa - vapour_pa) / 101_325.0).ln();
    if w <= 0.0 {
        return air;
    }
    let mixing = VAPOUR_GAS_J_PER_KGK * (vapour_pa / saturation_pa(0.0)).ln();
    air + w * (2_501_000.0 / ZERO_C_K + 1860.0 * heat - mixing)
}

/// Streams and water together, mixing included. Nothing is allowed but rounding: what heat flow through films produces is
/// above the errors of the solution at every state.
#[test]
fn entropy_is_produced() {
    each(Range::House, |state, fluxes, out| {
        let i = &state.inlets;
        let s = |c, w| air_entropy(c, w, i.pressure_pa);
        let streams = i.supply_kg_per_s
            * (s(out.supply_c, out.supply_humidity_ratio) - s(i.outdoor_c, i.outdoor_humidity_ratio))
            + i.extract_kg_per_s
                * (s(out.exhaust_c, out.exhaust_humidity_ratio) - s(i.extract_c, i.extract_humidity_ratio));
        let heated = |c: f64| ((c + ZERO_C_K) / ZERO_C_K).ln();
        let liquid = fluxes.liquid_kg_per_s + fluxes.supply_liquid_kg_per_s;
        let ice = fluxes.ice_kg_per_s * (2100.0 * heated(fluxes.ice_c) - 333_400.0 / ZERO_C_K);
        let produced = streams + liquid * 4186.0 * heated(fluxes.liquid_c) + ice;
        let rounding = 1e-10 * (i.supply_kg_per_s + i.extract_kg_per_s);
        assert!(produced > -rounding, "{produced} W/K {state:?} {fluxes:?}");
        let difference = (i.extract_c - i.outdoor_c).abs();
        assert!(difference < 1.0 || produced > 0.0, "{produced} W/K {state:?}");
    });
}

/// To the ends of the range, since no arithmetic is left.
#[test]
fn without_conductance_or_flow_air_leaves_as_it_entered() {
    for subject in SUBJECTS {
        let mut random = Random(11);
        for n in 0..STATES {
            let mut state = state(subject, Range::Whole, &mut random);
            match n % 4 {
                0 => state.core = Core::counterflow(0.0, 0.0),
                1 => state.inlets.supply_kg_per_s = 0.0,
                2 => state.inlets.extract_kg_per_s = 0.0,
                _ => (state.inlets.supply_kg_per_s, state.inlets.extract_kg_per_s) = (0.0, 0.0),
            }
            let (fluxes, out) = state.solved();
            let i = &state.inlets;
            assert!(numbers(&fluxes, &out).iter().all(|x| x.is_finite()), "{state:?} {fluxes:?}");
            assert_eq!(
                [fluxes.heat_w, fluxes.vapour_kg_per_s, water(&fluxes)],
                [0.0; 3],
                "{state:?} {fluxes:?}"
            );
            assert!(
                (out.supply_c - i.outdoor_c).abs() < 1e-12 && (out.exhaust_c - i.extract_c).abs() < 1e-12
            );
            assert!((out.supply_humidity_ratio - i.outdoor_humidity_ratio).abs() < 1e-15);
            assert!((out.exhaust_humidity_ratio - i.extract_humidity_ratio).abs() < 1e-15);
        }
    }
}

#[test]
fn air_of_one_state_on_both_sides_stays_as_it_is() {
    for subject in SUBJECTS {
        let mut random = Random(13);
        for _ in 0..500 {
            let state = state(subject, Range::House, &mut random);
            let i = state.inlets;
            let alike = state.with(|j| {
                (j.outdoor_c, j.outdoor_humidity_ratio) = (i.extract_c, i.extract_humidity_ratio);
            });
            let (fluxes, out) = alike.solved();
            assert_eq!(
                [fluxes.heat_w, fluxes.vapour_kg_per_s, water(&fluxes)],
                [0.0; 3],
                "{state:?} {fluxes:?}"
            );
            assert!((out.supply_c - i.extract_c).abs() < 1e-12);
        }
    }
}

/// Equal temperatures: vapour alone passes, through membranes and enthalpy wheels alone.
#[test]
fn air_of_one_temperature_passes_no_heat() {
    for subject in SUBJECTS {
        let mut random = Random(17);
        for _ in 0..500 {
            let state = state(subject, Range::House, &mut random);
            let i = state.inlets;
            let humid = w(i.extract_c, random.between(0.0, 0.95), i.pressure_pa);
            let alike = state.with(|j| (j.outdoor_c, j.outdoor_humidity_ratio) = (i.extract_c, humid));
            let (fluxes, out) = alike.solved();
            assert_eq!(water(&fluxes), 0.0, "{state:?} {fluxes:?}");
            assert!((out.supply_c - i.extract_c).abs() < 1e-9 && (out.exhaust_c - i.extract_c).abs() < 1e-9);
            let passes = (fluxes.vapour_kg_per_s.abs() > 1e-25) && humid != i.extract_humidity_ratio;
            assert_eq!(passes, state.kind.passes_vapour(), "{state:?} {fluxes:?}");
        }
    }
}
