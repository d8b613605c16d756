//! Water in the core through the seasons of the invented years: condensation on the supply side in a humid summer, moisture that
//! a membrane returns in winter and keeps out in summer.
//!
//! Each is summed over the hours once more by hand: from the hour's outdoor and indoor air, by the cell solution or by the
//! latent effectiveness. Not here: water on the extract side (`steady_condensate.rs`), ice (`frost_and_thaw.rs`).
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]
mod common;

use std::sync::Arc;

use approx::assert_relative_eq;
use common::{FILES, drivers, file, line, lived_in_house, mean, membrane, plate, run, sum, unit};
use exchanger::Inlets;
use exchanger::cell::{Arrangement, PlateCase, PlateSolution, solve_plate};
use psychrometrics::formulas::saturation_humidity_ratio;
use simulation::results::Hourly;
use simulation::{House, Line, Unit};

const FROSTHOLLOW: &str = FILES[0];
const MILLBROOK: &str = FILES[2];
const PALMREACH: &str = FILES[3];
const HOUR_S: f64 = 3600.0;
const FLOW_KG_PER_S: f64 = 0.05;
const SENSIBLE: f64 = 0.78;
const LATENT: f64 = 0.55;

fn cooled_to(set_point_c: f64) -> House {
    let mut house = lived_in_house();
    house.numbers.cooling_set_point_c = set_point_c;
    house
}

/// The air that enters the core in this hour: extract from the wet rooms, no fans, no leaks.
fn inlets(h: &Hourly, hour: usize, unit: &Unit) -> Inlets<f64> {
    // The mean over an hour that ends saturated can pass saturation by 0.1 %, which the cell solution refuses.
    let saturation = saturation_humidity_ratio(h.air_c[hour], h.pressure_pa[hour]);
    Inlets {
        outdoor_c: h.outdoor_c[hour],
        outdoor_humidity_ratio: h.outdoor_humidity_ratio[hour],
        extract_c: h.air_c[hour],
        extract_humidity_ratio: h.wet_humidity_ratio[hour].min(saturation),
        supply_kg_per_s: unit.supply_kg_per_s,
        extract_kg_per_s: unit.extract_kg_per_s,
        pressure_pa: h.pressure_pa[hour],
    }
}

fn cells(h: &Hourly, hour: usize, unit: &Unit) -> PlateSolution {
    let case = PlateCase {
        inlets: inlets(h, hour, unit),
        ua_w_per_k: unit.ua_w_per_k,
        vapour_kg_per_s: unit.vapour_kg_per_s,
        arrangement: Arrangement::Counter,
        cells: 40,
    };
    solve_plate(&case).unwrap()
}

/// Hours and litres of a plate's supply side through this year, by the run and by hand: the sum of the cell solution over the
/// hours.
fn supply_side(path: &str, set_point_c: f64) -> [(usize, f64); 2] {
    let unit = unit(FLOW_KG_PER_S, SENSIBLE, 0.0);
    let [year, _] = run(&plate(&cooled_to(set_point_c), unit), &drivers(&file(path)));
    let h = &year.hourly;
    let drained = -line(&year, Line::CoreSupplyLiquid);
    assert_relative_eq!(drained, sum(&h.supply_side_liquid_kg), max_relative = 1e-9);
    // No spot of the plate is colder than the extract air in summer, so drier outdoor air leaves no water.
    let may_condense = |i: &Inlets<f64>| {
        i.outdoor_c > i.extract_c
            && i.outdoor_humidity_ratio > saturation_humidity_ratio(i.extract_c, i.pressure_pa)
    };
    let rates: Vec<f64> = (0..h.air_c.len())
        .filter(|&hour| may_condense(&inlets(h, hour, &unit)))
        .map(|hour| cells(h, hour, &unit).supply_deposit.liquid_kg_per_s * HOUR_S)
        .collect();
    let counted = |kg: &[f64]| (kg.iter().filter(|&&kg| kg > 0.0).count(), sum(kg));
    let both = [counted(&h.supply_side_liquid_kg), counted(&rates)];
    println!("{path}, cooled to {set_point_c} °C: hours and litres, the run and by hand {both:.2?}");
    both
}

#[test]
fn a_plate_condenses_on_its_supply_side_in_a_humid_summer() {
    for (path, set_point_c, least) in
        [(PALMREACH, 22.0, 100.0), (PALMREACH, 24.0, 20.0), (MILLBROOK, 22.0, 0.5)]
    {
        let [(hours, litres), (hours_by_hand, litres_by_hand)] = supply_side(path, set_point_c);
        assert!(litres_by_hand > least, "{litres_by_hand}");
        assert_relative_eq!(litres, litres_by_hand, max_relative = 0.05);
        assert_relative_eq!(hours as f64, hours_by_hand as f64, max_relative = 0.05);
    }
}

/// Cold, and cooled no lower than its dew point is in summer.
#[test]
fn a_plate_keeps_its_supply_side_dry_where_it_is_never_humid() {
    let [(hours, litres), (hours_by_hand, _)] = supply_side(FROSTHOLLOW, 25.0);
    assert_eq!((hours, litres, hours_by_hand), (0, 0.0, 0));
}

#[derive(Debug, Clone, Copy)]
enum Season {
    /// December, January, February.
    Winter,
    /// June, July, August.
    Summer,
}

impl Season {
    fn holds(self, hour: usize) -> bool {
        let day = hour / 24;
        match self {
            Self::Winter => !(59..334).contains(&day),
            Self::Summer => (151..243).contains(&day),
        }
    }
}

/// A season's latent heat [kWh], into the house positive: the run, by hand with the latent effectiveness, by the cells.
#[derive(Debug, Default)]
struct Latent {
    hours: usize,
    recovered: f64,
    by_hand: f64,
    by_cells: f64,
}

/// Hours with a dry membrane, and all hours.
fn latent(h: &Hourly, unit: &Unit, season: Season) -> [Latent; 2] {
    let mut sums = [Latent::default(), Latent::default()];
    for hour in (0..h.air_c.len()).filter(|&hour| season.holds(hour)) {
        let i = inlets(h, hour, unit);
        // Equal flows: ε = NTU/(1 + NTU) for vapour, as given.
        let taken_up = LATENT * (i.extract_humidity_ratio - i.outdoor_humidity_ratio);
        let out = cells(h, hour, unit).outlets;
        let heat =
            |difference: f64, supply_c: f64| FLOW_KG_PER_S * difference * (2_501e3 + 1860.0 * supply_c) / 1e3;
        let water = h.liquid_kg[hour] + h.ice_formed_kg[hour] + h.supply_side_liquid_kg[hour];
        let from = usize::from(water > 0.0);
        for sum in &mut sums[from..] {
            sum.hours += 1;
            sum.recovered += h.recovered_latent_w[hour] / 1e3;
            sum.by_hand += heat(taken_up, h.supply_c[hour]);
            sum.by_cells += heat(out.supply_humidity_ratio - i.outdoor_humidity_ratio, out.supply_c);
        }
    }
    sums
}

fn check(path: &str, season: Season) -> f64 {
    let unit = unit(FLOW_KG_PER_S, SENSIBLE, LATENT);
    let [year, _] = run(&membrane(&cooled_to(24.0), unit), &drivers(&file(path)));
    let [dry, all] = latent(&year.hourly, &unit, season);
    println!("{path}, {season:?}: dry {dry:.1?}, all {all:.1?}");
    assert!(dry.hours > 200, "{dry:?}");
    assert_relative_eq!(dry.recovered, dry.by_hand, max_relative = 0.02);
    // A membrane that is wet drains part of what it would have returned: there the cells are asked.
    assert_relative_eq!(all.recovered, all.by_cells, max_relative = 0.02);
    all.recovered
}

#[test]
fn a_membrane_returns_moisture_in_a_cold_winter() {
    for path in [FROSTHOLLOW, MILLBROOK, FILES[1]] {
        let kwh = check(path, Season::Winter);
        assert!(kwh > 100.0, "{path}: {kwh}");
    }
}

#[test]
fn a_membrane_keeps_moisture_out_in_a_humid_summer() {
    for path in [PALMREACH, MILLBROOK, FILES[4]] {
        let kwh = check(path, Season::Summer);
        assert!(kwh < -50.0, "{path}: {kwh}");
    }
}

#[test]
fn what_a_membrane_returns_and_keeps_out_shows_in_the_rooms() {
    let [with, without] = [LATENT, 0.0].map(|latent| unit(FLOW_KG_PER_S, SENSIBLE, latent));
    let house = cooled_to(24.0);
    let years = |path| {
        let drivers = drivers(&file(path));
        [run(&membrane(&house, with), &drivers), run(&plate(&house, without), &drivers)]
            .map(|[year, _]| Arc::unwrap_or_clone(year.hourly))
    };
    let [membrane_year, plate_year] = years(FROSTHOLLOW);
    let winter = |h: &Hourly| {
        let humid: Vec<f64> = (0..h.air_c.len())
            .filter(|&hour| Season::Winter.holds(hour))
            .map(|hour| h.relative_humidity[hour])
            .collect();
        mean(&humid)
    };
    let [moist, dry] = [&membrane_year, &plate_year].map(winter);
    println!(
        "winter indoors, {FROSTHOLLOW}: {:.1} % with the membrane, {:.1} % with the plate",
        1e2 * moist,
        1e2 * dry
    );
    assert!(moist > dry + 0.05);
    let [membrane_year, plate_year] = years(PALMREACH);
    let coil_kwh = |h: &Hourly| sum(&h.cooling_latent_w) / 1e3;
    let [less, more] = [&membrane_year, &plate_year].map(coil_kwh);
    println!(
        "drying by the coil, {PALMREACH}: {less:.0} kWh with the membrane, {more:.0} kWh with the plate"
    );
    assert!(less < 0.9 * more);
}
