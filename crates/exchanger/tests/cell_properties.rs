//! What must hold at any state: books, order, the second law, symmetry; over a fixed set of evenly spread states.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]
mod common;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use common::{solved, spread, w};
use exchanger::Inlets;
use exchanger::cell::{Arrangement, Deposit, PlateCase, PlateSolution};
use psychrometrics::formulas::{enthalpy_j_per_kg, saturation_pa, vapour_pressure_pa};

const STATES: usize = 400;

/// Winter and summer, either stream warmer or more humid, tight plates and membranes, all arrangements.
fn state(n: usize) -> PlateCase {
    let between = |dimension, low: f64, high: f64| low + (high - low) * spread(n, dimension);
    let [outdoor_c, extract_c] = [between(0, -30.0, 45.0), between(1, 14.0, 30.0)];
    let pressure_pa = [101_325.0, 84_000.0, 70_000.0][n % 3];
    let inlets = Inlets {
        outdoor_c,
        outdoor_humidity_ratio: w(outdoor_c, between(2, 0.1, 1.0), pressure_pa),
        extract_c,
        extract_humidity_ratio: w(extract_c, between(3, 0.1, 0.9), pressure_pa),
        supply_kg_per_s: between(4, 0.3, 3.0),
        extract_kg_per_s: 1.0,
        pressure_pa,
    };
    let ua_w_per_k = between(5, 0.3, 7.0) * 1006.0 * inlets.supply_kg_per_s.min(1.0);
    let heat_capacities = 2012.0 + 1860.0 * (inlets.outdoor_humidity_ratio + inlets.extract_humidity_ratio);
    // From a membrane of no resistance down to a tight plate, which every second state is.
    let share = if n.is_multiple_of(2) { 0.0 } else { between(6, 0.02, 1.0) };
    let arrangement = match (n / 2) % 3 {
        0 => Arrangement::Counter,
        1 => Arrangement::Cross,
        _ => Arrangement::QuasiCounter { counter_share: between(7, 0.0, 1.0) },
    };
    let vapour_kg_per_s = share * 2.0 * ua_w_per_k / heat_capacities;
    PlateCase { inlets, ua_w_per_k, vapour_kg_per_s, arrangement, cells: 20 }
}

fn water(deposit: &Deposit) -> f64 {
    deposit.liquid_kg_per_s + deposit.ice_kg_per_s
}

fn each(check: impl Fn(&PlateCase, &PlateSolution)) {
    for n in 0..STATES {
        let case = state(n);
        check(&case, &solved(&case));
    }
}

#[test]
fn the_states_hold_what_they_are_for() {
    let mut count = [0; 4];
    for n in 0..STATES {
        let found = solved(&state(n));
        count[0] += usize::from(water(&found.extract_deposit) > 0.0);
        count[1] += usize::from(found.extract_deposit.ice_kg_per_s > 0.0);
        count[2] += usize::from(water(&found.supply_deposit) > 0.0);
        count[3] += usize::from(found.foggy_cells > 0);
    }
    println!("{STATES} states: extract side wet, icy, supply side wet, foggy {count:?}");
    assert!(count[0] > 100 && count[1] > 50 && count[2] > 20, "{count:?}");
}

#[test]
fn heat_and_water_of_the_streams_agree() {
    each(|case, found| {
        let (i, o) = (&case.inlets, &found.outlets);
        let h = enthalpy_j_per_kg::<f64>;
        let supply = i.supply_kg_per_s
            * (h(o.supply_c, o.supply_humidity_ratio) - h(i.outdoor_c, i.outdoor_humidity_ratio));
        let exhaust = i.extract_kg_per_s
            * (h(i.extract_c, i.extract_humidity_ratio) - h(o.exhaust_c, o.exhaust_humidity_ratio));
        let deposit = found.supply_deposit.enthalpy_w + found.extract_deposit.enthalpy_w;
        let turnover = supply.abs().max(exhaust.abs()).max(1000.0);
        assert_abs_diff_eq!(exhaust, supply + deposit, epsilon = 1e-12 * turnover);
        let worst = found.heat_residual.max(found.water_residual);
        assert!(worst < 1e-12, "{worst} {case:?}");

        let gained = i.supply_kg_per_s * (o.supply_humidity_ratio - i.outdoor_humidity_ratio);
        let lost = i.extract_kg_per_s * (i.extract_humidity_ratio - o.exhaust_humidity_ratio);
        let crossing = found.vapour_to_supply_kg_per_s;
        let [supply, extract] = [&found.supply_deposit, &found.extract_deposit].map(water);
        assert_relative_eq!(gained, crossing - supply, max_relative = 1e-12, epsilon = 1e-16);
        assert_relative_eq!(lost, crossing + extract, max_relative = 1e-12, epsilon = 1e-16);
    });
}

#[test]
fn nothing_leaves_beyond_what_enters() {
    each(|case, found| {
        let (i, o) = (&case.inlets, &found.outlets);
        let between = |x: f64, a: f64, b: f64, slack: f64| (a.min(b) - slack..=a.max(b) + slack).contains(&x);
        for c in [o.supply_c, o.exhaust_c, found.coldest_plate_c] {
            assert!(between(c, i.outdoor_c, i.extract_c, 1e-9), "{c} {case:?}");
        }
        for w in [o.supply_humidity_ratio, o.exhaust_humidity_ratio] {
            assert!(between(w, i.outdoor_humidity_ratio, i.extract_humidity_ratio, 1e-15), "{w} {case:?}");
        }
    });
}

#[test]
fn vapour_moves_only_from_the_more_humid_air_and_deposits_are_never_negative() {
    each(|case, found| {
        let difference = case.inlets.extract_humidity_ratio - case.inlets.outdoor_humidity_ratio;
        assert!(found.vapour_to_supply_kg_per_s * difference >= 0.0, "{case:?}");
        for deposit in [&found.supply_deposit, &found.extract_deposit] {
            assert!(deposit.liquid_kg_per_s >= 0.0 && deposit.ice_kg_per_s >= 0.0);
        }
        if case.vapour_kg_per_s == 0.0 {
            assert_eq!(found.vapour_to_supply_kg_per_s, 0.0);
        }
    });
}

/// No core passes more than the counterflow core without end, and latent heat set free at the plate comes on top.
#[test]
fn recovered_heat_is_within_the_counterflow_limit_and_the_latent_heat() {
    each(|case, found| {
        let i = &case.inlets;
        let most_w = i.outdoor_humidity_ratio.max(i.extract_humidity_ratio);
        let capacity = i.supply_kg_per_s.min(i.extract_kg_per_s) * (1006.0 + 1860.0 * most_w);
        let latent = 2.9e6 * (water(&found.extract_deposit) + water(&found.supply_deposit));
        // Vapour that crosses gives the difference of its enthalpies at the two airs to the plate.
        let crossing = 1860.0 * found.vapour_to_supply_kg_per_s.abs();
        let limit = (capacity + crossing) * (i.extract_c - i.outdoor_c).abs() + latent;
        assert!(found.heat_to_supply_w.abs() <= limit, "{case:?}");
    });
}

const ZERO_C_K: f64 = 273.15;
const VAPOUR_GAS_J_PER_KGK: f64 = 287.042 / 0.621945;

/// Moist air, ideal mixture [J/K for each kg of dry air]; zero for dry air at 0 °C and 101 325 Pa and for
/// liquid water at 0 °C.
fn air_entropy(c: f64, w: f64, pressure_pa: f64) -> f64 {
    let heat = ((c + ZERO_C_K) / ZERO_C_K).ln();
    let vapour_pa = vapour_pressure_pa(w, pressure_pa);
    let air = 1006.0 * heat - 287.042 * ((pressure_pa - vapour_pa) / 101_325.0).ln();
    if w == 0.0 {
        return air;
    }
    let mixing = VAPOUR_GAS_J_PER_KGK * (vapour_pa / saturation_pa(0.0)).ln();
    air + w * (2_501_000.0 / ZERO_C_K + 1860.0 * heat - mixing)
}

/// Water that formed at one temperature [W/K].
fn water_entropy(liquid: f64, ice: f64, c: f64) -> f64 {
    let heat = ((c + ZERO_C_K) / ZERO_C_K).ln();
    liquid * 4186.0 * heat + ice * (2100.0 * heat - 333_400.0 / ZERO_C_K)
}

/// Streams and water together, mixing included. Saturation curve and latent heats are separate fits, consistent
/// to about 0.1 % of the chemical potential; what a state produces by heat flow through its films is far above
/// that.
#[test]
fn entropy_is_produced() {
    each(|case, found| {
        let (i, o) = (&case.inlets, &found.outlets);
        let p = i.pressure_pa;
        let streams = i.supply_kg_per_s
            * (air_entropy(o.supply_c, o.supply_humidity_ratio, p)
                - air_entropy(i.outdoor_c, i.outdoor_humidity_ratio, p))
            + i.extract_kg_per_s
                * (air_entropy(o.exhaust_c, o.exhaust_humidity_ratio, p)
                    - air_entropy(i.extract_c, i.extract_humidity_ratio, p));
        let extract: f64 = found
            .profile
            .iter()
            .map(|point| {
                let ice = point.extract_ice_kg_per_s;
                water_entropy(point.extract_deposit_kg_per_s - ice, ice, point.plate_c)
            })
            .sum();
        // Liquid alone on the supply side here, at about the temperature that its enthalpy tells.
        let d = &found.supply_deposit;
        assert_eq!(d.ice_kg_per_s, 0.0);
        let supply_c = if d.liquid_kg_per_s > 0.0 { d.enthalpy_w / d.liquid_kg_per_s / 4186.0 } else { 0.0 };
        let produced = streams + extract + water_entropy(d.liquid_kg_per_s, 0.0, supply_c);
        assert!(produced >= 0.0, "{produced} {case:?}");
        let difference = (i.extract_c - i.outdoor_c).abs();
        assert!(difference < 1.0 || produced > 0.0);
    });
}

/// Extract air as outdoor air and outdoor air as extract air.
#[test]
fn mirrored_states_give_mirrored_answers() {
    for n in 0..100 {
        let case = state(n);
        let i = case.inlets;
        let mirrored = PlateCase {
            inlets: Inlets {
                outdoor_c: i.extract_c,
                outdoor_humidity_ratio: i.extract_humidity_ratio,
                extract_c: i.outdoor_c,
                extract_humidity_ratio: i.outdoor_humidity_ratio,
                supply_kg_per_s: i.extract_kg_per_s,
                extract_kg_per_s: i.supply_kg_per_s,
                ..i
            },
            ..case
        };
        let (a, b) = (solved(&case), solved(&mirrored));
        assert_abs_diff_eq!(a.outlets.supply_c, b.outlets.exhaust_c, epsilon = 1e-10);
        assert_abs_diff_eq!(a.outlets.exhaust_c, b.outlets.supply_c, epsilon = 1e-10);
        assert_abs_diff_eq!(
            a.outlets.supply_humidity_ratio,
            b.outlets.exhaust_humidity_ratio,
            epsilon = 1e-14
        );
        assert_abs_diff_eq!(a.vapour_to_supply_kg_per_s, -b.vapour_to_supply_kg_per_s, epsilon = 1e-14);
        assert_abs_diff_eq!(water(&a.extract_deposit), water(&b.supply_deposit), epsilon = 1e-13);
        assert_abs_diff_eq!(a.extract_deposit.ice_kg_per_s, b.supply_deposit.ice_kg_per_s, epsilon = 1e-13);
        assert_abs_diff_eq!(a.coldest_plate_c, b.coldest_plate_c, epsilon = 1e-10);
    }
}

/// All flows and conductances doubled: a core twice as large.
#[test]
fn a_core_twice_as_large_passes_twice_as_much() {
    for n in 0..60 {
        let case = state(n);
        let i = case.inlets;
        let double = PlateCase {
            inlets: Inlets {
                supply_kg_per_s: 2.0 * i.supply_kg_per_s,
                extract_kg_per_s: 2.0 * i.extract_kg_per_s,
                ..i
            },
            ua_w_per_k: 2.0 * case.ua_w_per_k,
            vapour_kg_per_s: 2.0 * case.vapour_kg_per_s,
            ..case
        };
        let (one, two) = (solved(&case), solved(&double));
        assert_relative_eq!(2.0 * one.heat_to_supply_w, two.heat_to_supply_w, max_relative = 1e-9);
        assert_abs_diff_eq!(one.outlets.supply_c, two.outlets.supply_c, epsilon = 1e-10);
    }
}

#[test]
fn a_humid_summer_wets_the_supply_side() {
    for arrangement in
        [Arrangement::Counter, Arrangement::Cross, Arrangement::QuasiCounter { counter_share: 0.6 }]
    {
        let inlets = Inlets {
            outdoor_c: 35.0,
            outdoor_humidity_ratio: w(35.0, 0.7, 101_325.0),
            extract_c: 24.0,
            extract_humidity_ratio: w(24.0, 0.5, 101_325.0),
            supply_kg_per_s: 1.0,
            extract_kg_per_s: 1.0,
            pressure_pa: 101_325.0,
        };
        let case = PlateCase { inlets, ua_w_per_k: 3018.0, vapour_kg_per_s: 0.0, arrangement, cells: 40 };
        let plate = solved(&case);
        assert!(plate.supply_deposit.liquid_kg_per_s > 3e-4, "{plate:?}");
        assert_eq!(water(&plate.extract_deposit), 0.0);
        // The plate hands over the heat of condensation: the supply air leaves warmer than a dry plate would
        // send it.
        assert!(plate.outlets.supply_c > 35.0 - 0.75 * 11.0);
        // A membrane takes the vapour away before it condenses.
        let membrane = solved(&PlateCase { vapour_kg_per_s: 1.2, ..case });
        assert!(membrane.supply_deposit.liquid_kg_per_s < 0.5 * plate.supply_deposit.liquid_kg_per_s);
        assert!(membrane.vapour_to_supply_kg_per_s < 0.0);
    }
}
