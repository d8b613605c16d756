//! Shared by the tests of frost: plans, a cold year under every strategy, a house held at a humidity.
#![allow(dead_code)]
#![allow(clippy::large_types_passed_by_value, reason = "once a test")]

use exchanger::CoreKind;
use psychrometrics::formulas::{fast_relative_humidity, saturation_humidity_ratio};
use simulation::results::HouseYear;
use simulation::{
    Drivers, FrostPlan, FrostStrategy, House, OutdoorAir, PreheatTo, Start, Steps, ThawLimits, Timetable,
    TimetableRow, Unit, Variant,
};

use super::{
    FILES, PRESSURE_PA, constant_year, drivers, drivers_at, file, lived_in_house, plain_house, plate, run,
    unit,
};

pub const FLOW: f64 = 0.036;
pub const CP: f64 = 1006.0;
pub const CORE_J_PER_K: f64 = 5000.0;

pub fn row(at_or_below_c: f64, defrost_min: f64, run_min: f64) -> TimetableRow {
    TimetableRow { at_or_below_c, defrost_min, run_min }
}

pub fn timed(rows: &[TimetableRow]) -> FrostStrategy {
    FrostStrategy::Recirculate(Start::Timetable(Timetable::new(rows).unwrap()))
}

/// A core of a litre of ice, narrowed by it.
pub fn plan(strategy: FrostStrategy) -> FrostPlan {
    FrostPlan {
        strategy,
        capacity_kg: 1.0,
        plate_area_m2: 5.0,
        core_heat_capacity_j_per_k: CORE_J_PER_K,
        ..FrostPlan::unlimited()
    }
}

pub fn with(house: &House, unit: Unit, plan: FrostPlan) -> Variant {
    Variant { frost: plan, ..plate(house, unit) }
}

/// Every strategy that a plate may have, and that of a wheel.
pub fn strategies() -> [(&'static str, FrostStrategy); 9] {
    [
        ("none", FrostStrategy::None),
        ("timetable", timed(&[row(-5.0, 6.0, 54.0), row(-15.0, 10.0, 20.0)])),
        ("on demand", FrostStrategy::Recirculate(Start::OnDemand)),
        ("preheat", FrostStrategy::Preheat(PreheatTo::FirstFrost)),
        ("preheat to -4", FrostStrategy::Preheat(PreheatTo::Fixed(-4.0))),
        ("supply off", FrostStrategy::SupplyOff(ThawLimits::ON_DEMAND)),
        ("bypass", FrostStrategy::Bypass),
        ("slow wheel", FrostStrategy::SlowWheel),
        ("held", timed(&[row(-5.0, 10.0, 20.0)])),
    ]
}

pub fn cold_year() -> Drivers {
    drivers_at(&file(FILES[0]), Steps::Four)
}

pub fn over_a_cold_year(name: &str, strategy: FrostStrategy, drivers: &Drivers) -> [HouseYear; 2] {
    let fans = Unit { fan_w: 50.0, fan_heat_after_w: 25.0, ..unit(FLOW, 0.8, 0.0) };
    let mut frost = plan(strategy);
    if name == "held" {
        frost.outdoor_air = OutdoorAir::Held;
    }
    let mut variant = with(&lived_in_house(), fans, frost);
    if strategy == FrostStrategy::SlowWheel {
        variant.core = CoreKind::SensibleWheel;
    }
    run(&variant, drivers)
}

/// Dry air, so that nothing freezes: what a defrost takes is known to the last digit.
pub fn dry_cold(unit: Unit, plan: FrostPlan, outdoor_c: f64) -> HouseYear {
    let [year, _] = run(&with(&plain_house(), unit, plan), &drivers(&constant_year(outdoor_c, 0.0)));
    year
}

/// A house at 21 °C whose sources hold this relative humidity with the water balance of a sensible plate:
/// `w_in = w_out + G/m`.
pub fn held_at(relative_humidity: f64, outdoor_w: f64) -> House {
    let wanted = saturation_humidity_ratio(21.0, PRESSURE_PA);
    let (mut low, mut high) = (0.0, wanted);
    for _ in 0..60 {
        let w = (low + high) * 0.5;
        let rh = fast_relative_humidity(21.0, w, PRESSURE_PA);
        if rh < relative_humidity { low = w } else { high = w }
    }
    let mut house = plain_house();
    house.numbers.plants_kg_per_day = (low - outdoor_w) * FLOW * 86_400.0;
    house
}

pub fn most(column: &[f64]) -> f64 {
    column.iter().copied().fold(0.0, f64::max)
}
