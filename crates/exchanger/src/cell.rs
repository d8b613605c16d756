//! The reference: a counterflow plate cut into small cells, marched and shot until both ends fit.
//!
//! Each cell: sensible exchange through both films and the plate; where the plate is colder than the hot air's
//! dew point, water leaves the air at the rate of its film (Lewis number 1), as liquid above 0 °C and as ice below,
//! both within ±0.25 K. What a cell takes from one stream it gives to the other, so the books close to rounding.
//!
//! One number at a time and slow on purpose: it shares no step with the line solution.
//! Not here: membranes, crossflow.

use psychrometrics::formulas::{
    enthalpy_j_per_kg, ice_enthalpy_j_per_kg, liquid_enthalpy_j_per_kg, moist_heat_capacity,
    saturation_humidity_ratio, temperature_from_enthalpy_c, vapour_enthalpy_j_per_kg,
};

/// A plate and the air that enters it, the warmer stream first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CellCase {
    /// Hotter stream [°C].
    pub hot_c: f64,
    /// Hotter stream [kg/kg dry air].
    pub hot_humidity_ratio: f64,
    /// Hotter stream [kg dry air/s].
    pub hot_kg_per_s: f64,
    /// Colder stream [°C].
    pub cold_c: f64,
    /// Colder stream [kg/kg dry air].
    pub cold_humidity_ratio: f64,
    /// Colder stream [kg dry air/s].
    pub cold_kg_per_s: f64,
    /// Conductance of both films in series [W/K].
    pub ua_w_per_k: f64,
    /// Barometric pressure \[Pa\].
    pub pressure_pa: f64,
}

/// What the reference found.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct CellAnswer {
    /// Colder stream leaving [°C].
    pub cold_out_c: f64,
    /// Hotter stream leaving [°C].
    pub hot_out_c: f64,
    /// Hotter stream leaving [kg/kg dry air].
    pub hot_out_humidity_ratio: f64,
    /// Heat from the hotter to the colder stream \[W\].
    pub heat_w: f64,
    /// Liquid formed [kg/s].
    pub liquid_kg_per_s: f64,
    /// Ice formed [kg/s].
    pub ice_kg_per_s: f64,
    /// Enthalpy of that water, at the plate temperatures where it formed \[W\].
    pub water_enthalpy_w: f64,
    /// Plate where the hotter stream leaves [°C].
    pub plate_cold_c: f64,
}

/// Air in a cell.
#[derive(Clone, Copy)]
struct State {
    hot_c: f64,
    hot_w: f64,
    cold_c: f64,
}

/// Rates in a cell for the whole plate's conductance.
struct Rates {
    plate_c: f64,
    to_cold_w: f64,
    deposit_kg_per_s: f64,
    ice_share: f64,
}

/// Solves the plate with this many cells (20 or more; 200 for reference values).
///
/// The unknown is the colder stream's leaving temperature; a bracketed search closes its inlet to 1e-10 K.
pub fn solve_cells(case: &CellCase, cells: usize) -> CellAnswer {
    let (mut low, mut high) = (case.cold_c, case.hot_c);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        let (_, entering_c) = march(case, middle, cells);
        if entering_c > case.cold_c {
            high = middle;
        } else {
            low = middle;
        }
        if high - low < 1e-11 {
            break;
        }
    }
    march(case, 0.5 * (low + high), cells).0
}

/// From the warm end to the cold end; answers also the temperature at which the colder stream would have had
/// to enter.
fn march(case: &CellCase, cold_out_c: f64, cells: usize) -> (CellAnswer, f64) {
    let share = 1.0 / cells as f64;
    let mut now = State { hot_c: case.hot_c, hot_w: case.hot_humidity_ratio, cold_c: cold_out_c };
    let mut sum = CellAnswer { cold_out_c, ..CellAnswer::default() };
    for _ in 0..cells {
        let half = advance(case, &now, &rates(case, &now), 0.5 * share, &mut CellAnswer::default());
        let middle = rates(case, &half);
        now = advance(case, &now, &middle, share, &mut sum);
    }
    sum.hot_out_c = now.hot_c;
    sum.hot_out_humidity_ratio = now.hot_w;
    sum.plate_cold_c = rates(case, &now).plate_c;
    (sum, now.cold_c)
}

fn advance(case: &CellCase, from: &State, rates: &Rates, share: f64, sum: &mut CellAnswer) -> State {
    let water = (rates.deposit_kg_per_s * share).min(case.hot_kg_per_s * from.hot_w);
    let heat = rates.to_cold_w * share;
    let ice = water * rates.ice_share;
    let water_enthalpy =
        ice * ice_enthalpy_j_per_kg(rates.plate_c) + (water - ice) * liquid_enthalpy_j_per_kg(rates.plate_c);
    sum.heat_w += heat;
    sum.ice_kg_per_s += ice;
    sum.liquid_kg_per_s += water - ice;
    sum.water_enthalpy_w += water_enthalpy;
    let hot_w = from.hot_w - water / case.hot_kg_per_s;
    let hot_h = enthalpy_j_per_kg(from.hot_c, from.hot_w) - (heat + water_enthalpy) / case.hot_kg_per_s;
    let cold_capacity = case.cold_kg_per_s * moist_heat_capacity(case.cold_humidity_ratio);
    State {
        hot_c: temperature_from_enthalpy_c(hot_h, hot_w),
        hot_w,
        cold_c: from.cold_c - heat / cold_capacity,
    }
}

fn rates(case: &CellCase, air: &State) -> Rates {
    let film = 2.0 * case.ua_w_per_k;
    let film_kg_per_s = film / moist_heat_capacity(air.hot_w);
    let deposit = |plate_c: f64| {
        (film_kg_per_s * (air.hot_w - saturation_humidity_ratio(plate_c, case.pressure_pa))).max(0.0)
    };
    let surplus = |plate_c: f64| {
        let latent = vapour_enthalpy_j_per_kg(air.hot_c) - water_enthalpy_j_per_kg(plate_c);
        film * (air.hot_c - plate_c) + deposit(plate_c) * latent - film * (plate_c - air.cold_c)
    };
    let (mut low, mut high) = (air.hot_c.min(air.cold_c), air.hot_c.max(air.cold_c));
    for _ in 0..50 {
        let middle = 0.5 * (low + high);
        if surplus(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    let plate_c = 0.5 * (low + high);
    Rates {
        plate_c,
        to_cold_w: film * (plate_c - air.cold_c),
        deposit_kg_per_s: deposit(plate_c),
        ice_share: ice_share(plate_c),
    }
}

/// All ice 0.25 K below 0 °C, all liquid 0.25 K above.
fn ice_share(plate_c: f64) -> f64 {
    ((0.25 - plate_c) / 0.5).clamp(0.0, 1.0)
}

fn water_enthalpy_j_per_kg(plate_c: f64) -> f64 {
    let ice = ice_share(plate_c);
    ice * ice_enthalpy_j_per_kg(plate_c) + (1.0 - ice) * liquid_enthalpy_j_per_kg(plate_c)
}
