//! A unit's plain core in one hour of steady air: what a bin method asks for.
//!
//! The very intake, inlets and core solution of the hourly step, at the unit's rated flows for the whole hour: own exhaust air at
//! the hood, fans and ducts before the core, water that runs to the cold end. No defrost, no preheat, no air led round the core,
//! no filters, no ice from an hour before; the indoor air is told and does not answer. Not here: bins (crate `reporting`).

use exchanger::outlets;
use psychrometrics::formulas::{moist_heat_capacity, vapour_enthalpy_j_per_kg};
use weather::wave::Wave;

use crate::avoidance::Avoidance;
use crate::drivers::{Clock, HourDriver, MAX_FACINGS};
use crate::inputs::Variant;
use crate::mixing::Air;
use crate::step::{HOUR_S, Setting, setting};

/// The air on both sides of a unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AirAround {
    /// Outdoor air [°C], −60…60.
    pub outdoor_c: f64,
    /// Outdoor air [kg/kg dry air].
    pub outdoor_humidity_ratio: f64,
    /// Air taken from the rooms [°C], −60…60.
    pub indoor_c: f64,
    /// Air taken from the rooms [kg/kg dry air].
    pub indoor_humidity_ratio: f64,
    /// Barometric pressure \[Pa\].
    pub pressure_pa: f64,
}

/// What passes in the core and forms in it, in one hour. Signs and meaning are those of the columns of the hourly run.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PlainHour {
    /// Sensible heat passed to the supply air \[W\].
    pub recovered_sensible_w: f64,
    /// Latent heat passed to it \[W\].
    pub recovered_latent_w: f64,
    /// Liquid of both sides that drains \[kg\]; 0 for a wheel, which has no drain.
    pub drain_kg: f64,
    /// Ice laid down \[kg\]. It melts in no hour.
    pub ice_kg: f64,
}

/// Rounds after which own exhaust air has settled: each leaves at most 0.3 of the difference.
const MOST_ROUNDS: usize = 60;
/// What is settled.
const SETTLED_K: f64 = 1e-10;
const SETTLED_KG_PER_KG: f64 = 1e-14;

/// The plain core of this unit in an hour of this air.
pub fn plain_hour(variant: &Variant, air: &AirAround) -> PlainHour {
    let driver = still_hour(air);
    let as_it_comes = Avoidance::none();
    let setting = setting(variant.core, (&variant.house, &variant.unit), (&driver, &[]), &as_it_comes);
    let mut exhaust = Air { temperature_c: air.outdoor_c, humidity_ratio: air.outdoor_humidity_ratio };
    let mut hour = PlainHour::default();
    for _ in 0..MOST_ROUNDS {
        let leaving;
        (hour, leaving) = solved(&setting, air, &exhaust);
        let moved_k = (leaving.temperature_c - exhaust.temperature_c).abs();
        let moved = (leaving.humidity_ratio - exhaust.humidity_ratio).abs();
        let drawn_back = variant.unit.recirculated_share > 0.0;
        if !drawn_back || (moved_k < SETTLED_K && moved < SETTLED_KG_PER_KG) {
            break;
        }
        exhaust = leaving;
    }
    hour
}

/// The hour with this exhaust air at the hood, and the exhaust air that follows.
fn solved(setting: &Setting<'_, f64>, air: &AirAround, drawn_back: &Air<f64>) -> (PlainHour, Air<f64>) {
    let intake = setting.intake(drawn_back, air.indoor_c).air;
    let inlets = setting.inlets(&intake, air.indoor_c, air.indoor_humidity_ratio);
    let fluxes = setting.solve_core(&inlets);
    let out = outlets(&inlets, &fluxes);
    let supply = inlets.supply_kg_per_s;
    let moistened = out.supply_humidity_ratio - inlets.outdoor_humidity_ratio;
    let liquid_kg_per_s = fluxes.liquid_kg_per_s + fluxes.supply_liquid_kg_per_s;
    let hour = PlainHour {
        recovered_sensible_w: supply
            * moist_heat_capacity(inlets.outdoor_humidity_ratio)
            * (out.supply_c - inlets.outdoor_c),
        recovered_latent_w: supply * moistened * vapour_enthalpy_j_per_kg(out.supply_c),
        drain_kg: if setting.core.is_wheel() { 0.0 } else { liquid_kg_per_s * HOUR_S },
        ice_kg: fluxes.ice_kg_per_s * HOUR_S,
    };
    (hour, Air { temperature_c: out.exhaust_c, humidity_ratio: out.exhaust_humidity_ratio })
}

/// An hour of this outdoor air without sun, wind and people; nothing of it but the air reaches the core.
fn still_hour(air: &AirAround) -> HourDriver {
    HourDriver {
        outdoor_c: air.outdoor_c,
        outdoor_humidity_ratio: air.outdoor_humidity_ratio,
        pressure_pa: air.pressure_pa,
        wind_m_per_s: 0.0,
        wave: Wave::default(),
        clock: Clock::STEADY,
        irradiance_w_per_m2: [0.0; MAX_FACINGS],
        presence: 0.0,
        hour_of_day: 0,
        month: 0,
        hour_of_year: 0,
    }
}
