//! A published hot and humid year (Miami, TMY2, NREL) through a core: water on the supply side in summer, and what a membrane
//! does with the moisture, hour by hour, by both solutions.
//!
//! Indoor air is held at 24 °C and 50 % (22 °C and 45 % in winter): a core alone, no house. Not here: the year of a house.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]
mod common;

use common::w;
use exchanger::cell::{Arrangement, PlateCase, PlateSolution, solve_plate};
use exchanger::{Core, CoreKind, Fluxes, Inlets, outlets, solve};

const YEAR: &str = include_str!("../../../tests/data/weather/tmy2_miami_fl_12839.tm2");
const FLOW_KG_PER_S: f64 = 0.05;
const HOUR_S: f64 = 3600.0;

struct Hour {
    month: u32,
    dry_bulb_c: f64,
    dew_point_c: f64,
    pressure_pa: f64,
}

/// Columns of the TMY2 manual (recalled): month 4–5, dry bulb 68–71 and dew point 74–77 in tenths of a degree, pressure
/// 85–88 in millibar.
fn year() -> Vec<Hour> {
    let field = |line: &str, from: usize, to: usize| line[from - 1..to].trim().parse::<f64>().unwrap();
    YEAR.lines()
        .skip(1)
        .filter(|line| line.len() > 90)
        .map(|line| Hour {
            month: line[3..5].trim().parse().unwrap(),
            dry_bulb_c: field(line, 68, 71) / 10.0,
            dew_point_c: field(line, 74, 77) / 10.0,
            pressure_pa: field(line, 85, 88) * 100.0,
        })
        .collect()
}

fn inlets(hour: &Hour, (indoor_c, indoor_rh): (f64, f64)) -> Inlets<f64> {
    let dew_c = hour.dew_point_c.min(hour.dry_bulb_c);
    Inlets {
        outdoor_c: hour.dry_bulb_c,
        outdoor_humidity_ratio: w(dew_c, 1.0, hour.pressure_pa),
        extract_c: indoor_c,
        extract_humidity_ratio: w(indoor_c, indoor_rh, hour.pressure_pa),
        supply_kg_per_s: FLOW_KG_PER_S,
        extract_kg_per_s: FLOW_KG_PER_S,
        pressure_pa: hour.pressure_pa,
    }
}

const UA_W_PER_K: f64 = 4.0 * FLOW_KG_PER_S * 1006.0;
const VAPOUR_KG_PER_S: f64 = 1.6 * FLOW_KG_PER_S;

fn line(kind: CoreKind, inlets: &Inlets<f64>) -> Fluxes<f64> {
    let vapour = if kind.passes_vapour() { VAPOUR_KG_PER_S } else { 0.0 };
    solve(kind, &Core::counterflow(UA_W_PER_K, vapour), inlets)
}

fn cells(vapour_kg_per_s: f64, inlets: &Inlets<f64>) -> PlateSolution {
    let case = PlateCase {
        inlets: *inlets,
        ua_w_per_k: UA_W_PER_K,
        vapour_kg_per_s,
        arrangement: Arrangement::Counter,
        cells: 40,
    };
    solve_plate(&case).unwrap()
}

#[test]
fn the_file_is_read_as_its_statistics_say() {
    let year = year();
    assert_eq!(year.len(), 8760);
    let mean = |of: fn(&Hour) -> f64| year.iter().map(of).sum::<f64>() / 8760.0;
    // 24.31 °C and 18.78 °C: computed with pandas from the same file.
    assert!((mean(|h| h.dry_bulb_c) - 24.31).abs() < 0.006);
    assert!((mean(|h| h.dew_point_c) - 18.78).abs() < 0.006);
}

#[test]
fn miamis_summer_leaves_water_on_the_supply_side_of_a_plate() {
    let summer: Vec<Hour> = year().into_iter().filter(|h| (6..=8).contains(&h.month)).collect();
    let (mut fast_l, mut cells_l, mut hours) = (0.0, 0.0, 0);
    for hour in &summer {
        let inlets = inlets(hour, (24.0, 0.50));
        let fluxes = line(CoreKind::SensiblePlate, &inlets);
        assert!(fluxes.supply_liquid_kg_per_s == 0.0 || fluxes.liquid_kg_per_s == 0.0);
        let deposit = cells(0.0, &inlets).supply_deposit;
        fast_l += fluxes.supply_liquid_kg_per_s * HOUR_S;
        cells_l += (deposit.liquid_kg_per_s + deposit.ice_kg_per_s) * HOUR_S;
        hours += usize::from(fluxes.supply_liquid_kg_per_s > 0.0);
    }
    println!("{hours} of {} hours, {fast_l:.1} L, cell by cell {cells_l:.1} L", summer.len());
    // Outdoor dew points above 24 °C are what it takes: the plate is never colder than the extract air.
    let humid = summer.iter().filter(|h| h.dew_point_c > 24.0).count();
    assert!(hours > 50 && hours <= humid, "{hours} {humid}");
    assert!((fast_l / cells_l - 1.0).abs() < 0.05, "{fast_l} {cells_l}");
}

#[test]
fn a_membrane_keeps_moisture_out_in_miamis_summer_and_brings_it_back_in_a_dry_winter() {
    let (mut summer_kg, mut summer_cells_kg, mut offered_kg) = (0.0, 0.0, 0.0);
    let (mut winter_kg, mut winter_hours) = (0.0, 0);
    for hour in year() {
        if (6..=8).contains(&hour.month) {
            let inlets = inlets(&hour, (24.0, 0.50));
            let out = outlets(&inlets, &line(CoreKind::EnthalpyPlate, &inlets));
            summer_kg += FLOW_KG_PER_S * (out.supply_humidity_ratio - inlets.outdoor_humidity_ratio) * HOUR_S;
            let reference = cells(VAPOUR_KG_PER_S, &inlets).outlets.supply_humidity_ratio;
            summer_cells_kg += FLOW_KG_PER_S * (reference - inlets.outdoor_humidity_ratio) * HOUR_S;
            offered_kg +=
                FLOW_KG_PER_S * (inlets.extract_humidity_ratio - inlets.outdoor_humidity_ratio) * HOUR_S;
        }
        let inlets = inlets(&hour, (22.0, 0.45));
        let dry_outdoors = inlets.outdoor_humidity_ratio < inlets.extract_humidity_ratio;
        if matches!(hour.month, 12 | 1 | 2) && dry_outdoors {
            let vapour = line(CoreKind::EnthalpyPlate, &inlets).vapour_kg_per_s;
            assert!(vapour > 0.0);
            winter_kg += vapour * HOUR_S;
            winter_hours += 1;
        }
    }
    println!(
        "summer {summer_kg:.0} kg of {offered_kg:.0} kg, cell by cell {summer_cells_kg:.0} kg; {winter_kg:.1} kg back in {winter_hours} dry winter hours"
    );
    assert!(summer_kg < 0.0 && (summer_kg / summer_cells_kg - 1.0).abs() < 0.02);
    // 1.6/2.6 = 61.5 % of the difference crosses a dry membrane at equal flows; a little more is drained.
    let share = summer_kg / offered_kg;
    assert!((0.61..0.64).contains(&share), "{share}");
    assert!(winter_kg > 0.0 && winter_hours > 100);
}
