//! House-years that nobody simulated: constant ones for sums by hand, and a lively one to look at in pictures.

#![allow(dead_code, reason = "every test file uses its own part")]
#![allow(clippy::cast_precision_loss, reason = "hours of a year")]

pub mod svg;

use simulation::results::{Case, Hour, Hourly, HouseYear, LedgerLine};

pub const HOURS: usize = 8760;
const TURN: f64 = std::f64::consts::TAU;

/// A year in which every hour is the same.
pub fn constant(unit: &str, case: Case, hour: &Hour) -> HouseYear {
    each_hour(unit, case, |_| *hour)
}

/// A year from a rule for each hour.
pub fn each_hour(unit: &str, case: Case, rule: impl Fn(usize) -> Hour) -> HouseYear {
    let mut hourly = Hourly::with_capacity(HOURS);
    for hour in 0..HOURS {
        hourly.extend(&[rule(hour)]);
    }
    HouseYear { unit: unit.to_owned(), case, hourly: hourly.into(), ledger_by_month: Vec::new() }
}

/// What sets the lively years apart.
#[derive(Clone, Copy)]
pub struct Core {
    /// Share of heat that comes back.
    pub sensible: f64,
    /// Share of vapour that comes back.
    pub latent: f64,
}

/// Plate and membrane, each with its baseline, and the house without ventilation.
pub fn lively_run() -> Vec<HouseYear> {
    let plate = Core { sensible: 0.78, latent: 0.0 };
    let membrane = Core { sensible: 0.72, latent: 0.5 };
    let none = Core { sensible: 0.0, latent: 0.0 };
    vec![
        lively("Plate A", Case::Unit, plate),
        lively("Plate A", Case::NoRecovery, none),
        lively("Membrane B", Case::Unit, membrane),
        lively("Membrane B", Case::NoRecovery, none),
        lively("", Case::NoVentilation, none),
    ]
}

fn lively(unit: &str, case: Case, core: Core) -> HouseYear {
    let mut year = each_hour(unit, case, |hour| lively_hour(hour, case, core));
    let months = |of: &dyn Fn(&Hour) -> f64| -> [f64; 12] {
        std::array::from_fn(|month| {
            (month * 730..(month + 1) * 730).map(|hour| of(&lively_hour(hour, case, core)) * 3600.0).sum()
        })
    };
    let heat = |label, by_month| LedgerLine { book: "heat", label, by_month };
    year.ledger_by_month = vec![
        heat("heating", months(&|h| h.heating_load_w)),
        heat("solar_gains", months(&|h| 550.0 + 20.0 * h.outdoor_c)),
        heat("internal_gains", months(&|_| 336.0)),
        heat("source_vapour", months(&|_| 210.0)),
        heat("conduction_opaque", months(&|h| 85.0 * (h.outdoor_c - h.air_c))),
        heat("conduction_windows", months(&|h| 45.0 * (h.outdoor_c - h.air_c))),
        heat("ground", months(&|_| -190.0)),
        heat("infiltration_sensible", months(&|h| 22.0 * (h.outdoor_c - h.air_c))),
        heat("supply_sensible", months(&|h| 36.0 * (1.0 - core.sensible) * (h.outdoor_c - h.air_c))),
        heat("cooling_sensible", months(&|h| -h.cooling_sensible_w)),
        heat("storage_change", months(&|h| 6.0 * (h.air_c - 22.0))),
        LedgerLine { book: "water", label: "sources", by_month: [210.0; 12] },
    ];
    year
}

/// Pressure of saturation over water, Magnus form; near enough for a picture.
fn saturation_pa(t: f64) -> f64 {
    611.2 * (17.62 * t / (243.12 + t)).exp()
}

fn outdoor(hour: usize) -> f64 {
    let day = hour as f64 / 24.0;
    let front = 5.0 * (day / 6.1 * TURN).sin()
        + 3.5 * (day / 2.7 * TURN + 1.0).sin()
        + 3.0 * (day / 17.0 * TURN).sin();
    3.5 - 17.0 * ((day - 15.0) / 365.0 * TURN).cos()
        + 4.0 * ((hour % 24) as f64 / 24.0 * TURN - 2.3).sin()
        + front
}

fn lively_hour(hour: usize, case: Case, core: Core) -> Hour {
    let outdoor_c = outdoor(hour);
    let p_out = saturation_pa(outdoor_c) * (0.74 + 0.12 * (hour as f64 / 31.0).sin());
    let outdoor_w = 0.622 * p_out / (101_325.0 - p_out);
    let air_c = (21.0 + 0.35 * (outdoor_c - 12.0).max(0.0)).min(25.5);
    let at_home = 0.35 + 0.1 * ((hour % 24) as f64 / 24.0 * TURN).cos();
    let flow = if case == Case::NoVentilation { 0.0 } else { 0.036 };
    let fresh = 0.018 + flow * (1.0 - core.latent);
    let w = (outdoor_w + at_home / 3600.0 / fresh).min(0.622 * saturation_pa(air_c) * 0.93 / 100_000.0);
    let ratio = w / (0.622 + w) * 101_325.0 / saturation_pa(air_c);
    let has_core = case == Case::Unit;
    let wet = if has_core {
        ((4.0 - 9.0 * core.latent - outdoor_c) * 0.012 * (1.0 - core.latent)).max(0.0)
    } else {
        0.0
    };
    let ice = if has_core { ((-9.0 - 6.0 * core.latent - outdoor_c) * 0.006).max(0.0) } else { 0.0 };
    let need = (160.0 * (18.0 - outdoor_c) + 36.0 * (1.0 - core.sensible) * (21.0 - outdoor_c)).max(0.0);
    let heat = (need - 350.0).max(0.0);
    let cool = (130.0 * (outdoor_c - 20.0)).max(0.0);
    Hour {
        outdoor_c,
        outdoor_humidity_ratio: outdoor_w,
        pressure_pa: 101_325.0,
        air_c,
        operative_c: air_c - 0.3,
        humidity_ratio: w,
        relative_humidity: ratio,
        delivered_air_kg: flow * 3600.0,
        outdoor_air_kg: flow * 3600.0,
        infiltration_air_kg: 0.018 * 3600.0,
        exfiltration_air_kg: 0.018 * 3600.0,
        intake_air_kg: flow * 3600.0,
        exhaust_air_kg: flow * 3600.0,
        heating_load_w: heat,
        heating_site_w: heat / 0.95,
        cooling_sensible_w: cool,
        cooling_latent_w: cool * 0.2,
        cooling_site_w: cool * 1.2 / 3.2,
        fan_w: if flow > 0.0 { 44.0 } else { 0.0 },
        recovered_sensible_w: if has_core { 36.0 * core.sensible * (air_c - outdoor_c) } else { 0.0 },
        recovered_latent_w: if has_core { flow * core.latent * (w - outdoor_w) * 2.5e6 } else { 0.0 },
        drain_kg: wet,
        liquid_kg: wet,
        ice_formed_kg: ice,
        ice_melted_kg: ice,
        frost_kg: ice * 4.0,
        coil_kg: cool * 0.2 / 2.5e6 * 3600.0,
        sources_kg: at_home,
        energy_residual_j: 1.2e-9,
        energy_inflow_j: 9.0e6,
        water_residual_kg: 1e-15,
        water_inflow_kg: 0.4,
        core_residual_j: 3e-9,
        core_inflow_j: 2.6e6,
        core_water_residual_kg: 1e-16,
        core_water_inflow_kg: 0.8,
        ..Hour::default()
    }
}
