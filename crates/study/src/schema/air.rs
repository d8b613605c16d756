//! The mirror of a unit's fans, filters, frost control and free cooling.
//!
//! Here: what the schema says of `[unit.fan]`, `[unit.frost]`, `[unit.filter]` and `[unit.bypass]`. Not here: the core
//! (`schema/unit.rs`). Read next: `specs/air.rs`.

use schemars::JsonSchema;

use super::quantities::{AirFlow, Duration, Mass, Power, Pressure, Temperature, TemperatureDifference};

/// Its two fans.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(extend("oneOf" = [
    {"required": ["kind", "curve"], "properties": {"kind": {"const": "fixed-speed"}}},
    {"properties": {"kind": {"const": "constant-flow"}, "curve": false}}
]))]
pub(super) struct Fan {
    /// Power of both fans together; 0 W … 5000 W. Left out: as in the nearest rating point, else 1.2 W per L/s.
    #[schemars(example = "44 W")]
    power: Option<Power>,
    /// Where each fan sits in its stream. Left out: after-core.
    position: Option<FanPosition>,
    /// What the fans keep when the way of the air gets narrower. Left out: constant-flow.
    kind: Option<FanKind>,
    /// Share of the power that the supply fan takes. Left out: 0.5.
    #[schemars(range(min = 0.0, max = 1.0))]
    supply_share: Option<f64>,
    curve: Option<FanCurve>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum FanPosition {
    /// After the core: the supply fan warms the house.
    AfterCore,
    /// Before the core.
    BeforeCore,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum FanKind {
    /// Their flow: the power rises.
    ConstantFlow,
    /// Their speed: the flow falls along their curve.
    FixedSpeed,
}

/// The curve of each fan, a parabola, and the ducts against it: for kind = "fixed-speed" only, and needed there.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct FanCurve {
    /// Pressure at no flow; 10 Pa … 2500 Pa.
    #[schemars(example = "300 Pa")]
    shut_off: Pressure,
    /// Flow against no pressure, more than `ventilation.airflow`; 2 L/s … 5000 L/s.
    #[schemars(example = "90 L/s")]
    free_flow: AirFlow,
    /// External static pressure of the ducts at `ventilation.airflow`; 0 Pa … 1000 Pa.
    #[schemars(example = "100 Pa")]
    system: Pressure,
}

/// Frost, and what is done about it. Keys that belong to one strategy stand with no other.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(extend("oneOf" = [
    {"required": ["strategy"], "properties": {"strategy": {"const": "recirculate"},
        "preheat_to": false, "preheat_power": false, "start_below": false, "end_above": false}},
    {"required": ["strategy"], "properties": {"strategy": {"const": "preheat"},
        "timetable": false, "returned": false, "start_below": false, "end_above": false}},
    {"required": ["strategy"], "properties": {"strategy": {"const": "supply-off"},
        "timetable": false, "returned": false, "preheat_to": false, "preheat_power": false}},
    {"properties": {"strategy": {"enum": ["bypass", "slow-down", "none"]}, "timetable": false, "returned": false,
        "preheat_to": false, "preheat_power": false, "start_below": false, "end_above": false}}
]))]
pub(super) struct Frost {
    /// What is done about frost. Left out: none for plates, slow-down for wheels.
    strategy: Option<Strategy>,
    /// Frost that blocks the passages; 0.01 kg … 500 kg. Left out: 0.03 kg for each L/s of `ventilation.airflow`.
    #[schemars(example = "1.4 kg")]
    capacity: Option<Mass>,
    /// Share of the water on the plate that flows on to its cold end, for plates only. Left out: 0.
    #[schemars(range(min = 0.0, max = 1.0))]
    to_cold_end: Option<f64>,
    /// Whether the flow is raised so that defrosting takes no outdoor air. Left out: false.
    hold_outdoor_air: Option<bool>,
    /// recirculate: when and how long, by falling outdoor temperature; colder rows defrost no less. Left out: on demand.
    #[schemars(length(min = 1))]
    timetable: Option<Vec<TimetableRow>>,
    /// recirculate: share of the heat that warmed the core which comes back into the supply air. Left out: 0.5.
    #[schemars(range(min = 0.0, max = 1.0))]
    returned: Option<f64>,
    /// preheat: air that enters the core; -30 °C … 15 °C. Left out: where this core first frosts in that hour.
    #[schemars(example = "-3 °C")]
    preheat_to: Option<Temperature>,
    /// preheat: power of the heater at most; 1 W … 100000 W. Left out: unlimited.
    #[schemars(example = "800 W")]
    preheat_power: Option<Power>,
    /// supply-off: starts with colder air leaving the extract side; -20 °C … 20 °C. Left out: on demand.
    #[schemars(example = "-2 °C")]
    start_below: Option<Temperature>,
    /// supply-off: ends with warmer air leaving it, above `start_below`; -20 °C … 30 °C. Left out: when it has melted.
    #[schemars(example = "3 °C")]
    end_above: Option<Temperature>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Strategy {
    /// Plates: the outdoor damper shuts, and house air melts the frost.
    Recirculate,
    /// Plates: an electric heater warms the outdoor air before the core.
    Preheat,
    /// Plates: the supply fan stops, and extract air melts the frost.
    SupplyOff,
    /// Plates: cold air passes round the core.
    Bypass,
    /// Wheels: it turns more slowly.
    SlowDown,
    /// Nothing: the core may block.
    None,
}

/// A row of the timetable: it holds down to the next one.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct TimetableRow {
    /// The warmest outdoor air at which it holds; -60 °C … 15 °C.
    #[schemars(example = "-10 °C")]
    at_or_below: Temperature,
    /// Time in defrost; 0.5 min … 120 min.
    #[schemars(example = "6 min")]
    defrost: Duration,
    /// Time from one defrost to the next; 1 min … 1440 min.
    #[schemars(example = "54 min")]
    run: Duration,
}

/// Filters that load until they are changed.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct Filter {
    /// From one change to the next; 1 d … 1000 d.
    #[schemars(example = "90 d")]
    interval: Duration,
    /// Resistance added by the end of the interval, over that of the whole system with clean filters. Left out: 1.
    #[schemars(range(min = 0.0, max = 3.0))]
    load: Option<f64>,
}

/// Air passes round the core to cool the house while all of this holds.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct Bypass {
    /// The indoor air is warmer than this; 10 °C … 35 °C. Left out: midway between the set-points, or 3 K above that of heating.
    #[schemars(example = "23 °C")]
    indoor_above: Option<Temperature>,
    /// The outdoor air is colder than the indoor air by more than this; 0 K … 20 K. Left out: 1 K.
    #[schemars(example = "1 K")]
    colder_by: Option<TemperatureDifference>,
    /// The supply air would not be colder than this, below `indoor_above`; 0 °C … 30 °C. Left out: 14 °C.
    #[schemars(example = "14 °C")]
    supply_at_least: Option<Temperature>,
}
