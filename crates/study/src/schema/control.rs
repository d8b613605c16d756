//! The mirror of `[ventilation.control]` and its tables.
//!
//! Here: what the schema says of control. Not here: the flow itself (`schema/ventilation.rs`). Read next: `schema/unit.rs`.

use schemars::JsonSchema;

use super::quantities::{Concentration, Duration, HumiditySlope, RelativeHumidity, Temperature};

/// How the flow is controlled. Shares are of `ventilation.airflow`; keys that belong to one mode stand with no other.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(extend("oneOf" = [
    {"properties": {"mode": {"const": "continuous"}, "on_share": false, "on": false, "off": false,
        "humidity_at_or_above": false, "falls_per_k": false, "falls_below": false, "co2_limit": false,
        "low_share": false, "weekdays": false, "weekends": false}},
    {"required": ["mode"], "properties": {"mode": {"const": "intermittent"},
        "humidity_at_or_above": false, "falls_per_k": false, "falls_below": false, "co2_limit": false,
        "low_share": false, "weekdays": false, "weekends": false},
        "oneOf": [{"required": ["on_share"], "properties": {"on": false, "off": false}},
            {"required": ["on", "off"], "properties": {"on_share": false}}]},
    {"required": ["mode", "humidity_at_or_above"], "properties": {"mode": {"const": "humidity"},
        "on_share": false, "on": false, "off": false, "co2_limit": false, "weekdays": false, "weekends": false}},
    {"required": ["mode", "co2_limit"], "properties": {"mode": {"const": "co2"},
        "on_share": false, "on": false, "off": false, "humidity_at_or_above": false, "falls_per_k": false,
        "falls_below": false, "weekdays": false, "weekends": false}},
    {"required": ["mode", "weekdays"], "properties": {"mode": {"const": "schedule"},
        "on_share": false, "on": false, "off": false, "humidity_at_or_above": false, "falls_per_k": false,
        "falls_below": false, "co2_limit": false, "low_share": false}}
]))]
pub(super) struct Control {
    /// Left out: continuous.
    mode: Option<Mode>,
    /// intermittent: share of the time in which it runs. Or `on` and `off`.
    #[schemars(range(min = 0.01, max = 1.0))]
    on_share: Option<f64>,
    /// intermittent: how long it runs; 1 min … 60 min.
    #[schemars(example = "20 min")]
    on: Option<Duration>,
    /// intermittent: how long it then rests; 1 min … 60 min.
    #[schemars(example = "40 min")]
    off: Option<Duration>,
    /// humidity: relative humidity indoors from which the whole flow runs; 10 % … 90 %.
    #[schemars(example = "45 %")]
    humidity_at_or_above: Option<RelativeHumidity>,
    /// humidity: what the limit falls by for each kelvin of cold; 0 %/K … 5 %/K. Left out: 0 %/K.
    #[schemars(example = "0.5 %/K")]
    falls_per_k: Option<HumiditySlope>,
    /// humidity: outdoor temperature below which it falls; -20 °C … 20 °C. Left out: 5 °C.
    #[schemars(example = "5 °C")]
    falls_below: Option<Temperature>,
    /// co2: carbon dioxide indoors from which the whole flow runs; 450 ppm … 5000 ppm.
    #[schemars(example = "1000 ppm")]
    co2_limit: Option<Concentration>,
    /// humidity and co2: share of the flow below the limit. Left out: 0.3.
    #[schemars(range(min = 0.0, max = 1.0))]
    low_share: Option<f64>,
    /// schedule: share of the flow in each hour of Monday to Friday, one of them more than 0.
    #[schemars(length(min = 24, max = 24), inner(range(min = 0.0, max = 1.0)))]
    weekdays: Option<Vec<f64>>,
    /// schedule: share of the flow in each hour of Saturday and Sunday. Left out: as `weekdays`.
    #[schemars(length(min = 24, max = 24), inner(range(min = 0.0, max = 1.0)))]
    weekends: Option<Vec<f64>>,
    /// Left out: nothing raises the flow.
    boost: Option<Boost>,
    /// Left out: the house is never left.
    away: Option<Away>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Mode {
    /// The whole flow, always.
    Continuous,
    /// The whole flow in a part of each hour.
    Intermittent,
    /// The whole flow in humid air, less otherwise.
    Humidity,
    /// The whole flow in air with much carbon dioxide, less otherwise.
    Co2,
    /// By the hour of the day.
    Schedule,
}

/// More air for a while.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Boost {
    /// Whether each shower starts it: it must. Left out: true.
    showers: Option<bool>,
    /// Flow over `ventilation.airflow` while it lasts. Left out: 2.
    #[schemars(range(min = 1.0, max = 4.0))]
    factor: Option<f64>,
    /// How long it lasts from its start; 5 min … 240 min. Left out: 30 min.
    #[schemars(example = "30 min")]
    lasts: Option<Duration>,
}

/// Less air on days away.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Away {
    /// Share of the flow that there would be otherwise.
    #[schemars(range(min = 0.0, max = 1.0))]
    share: f64,
    /// Ranges of days, each from month and day to month and day.
    #[schemars(length(min = 1), inner(regex(pattern = r"^\s*\d\d-\d\d\s*\.\.\s*\d\d-\d\d\s*$")))]
    days: Vec<String>,
}
