//! How the schema describes a quantity: text with a number and one of the units that fit.
//!
//! Here: one type a dimension. Not here: the units (`units`). Read next: `units.rs`.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use crate::specs;
use crate::units::{Dimension, UnitOfMeasure};

macro_rules! quantities {
    ($($name:ident),*) => {$(
        /// Text with a number and a unit.
        pub(super) struct $name;

        impl JsonSchema for $name {
            fn schema_name() -> Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                quantity(Dimension::$name)
            }
        }
    )*};
}

quantities!(
    AirChangeRate,
    AirFlow,
    AirMassFlow,
    Angle,
    Area,
    CarbonPerEnergy,
    Concentration,
    Conductance,
    Duration,
    Energy,
    HeatCapacity,
    HeatFlowPerArea,
    HumiditySlope,
    Length,
    Mass,
    Power,
    Pressure,
    RelativeHumidity,
    Temperature,
    TemperatureDifference,
    Transmittance,
    VapourResistance,
    Volume,
    WaterPerEnergy,
    WaterRate,
    Years
);

/// An air leakage: what a test found at a pressure, or a constant flow.
pub(super) struct AirLeakage;

impl JsonSchema for AirLeakage {
    fn schema_name() -> Cow<'static, str> {
        "AirLeakage".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let forms = [Dimension::AirChangeRate, Dimension::AirFlow, Dimension::LeakageArea];
        let tested: Vec<Schema> = forms.into_iter().map(at_a_pressure).collect();
        json_schema!({ "anyOf": [{ "anyOf": tested }, quantity(Dimension::AirFlow)] })
    }
}

fn at_a_pressure(dimension: Dimension) -> Schema {
    let (amount, pressure) = (amount(dimension), amount(Dimension::Pressure));
    json_schema!({
        "type": "string",
        "description": format!("{} at the pressure of a test", dimension.with_article()),
        "pattern": format!(r"^\s*{amount}\s*@\s*{pressure}\s*$"),
    })
}

fn quantity(dimension: Dimension) -> Schema {
    let units: Vec<&str> = dimension.units().map(|unit| unit.name).collect();
    json_schema!({
        "type": "string",
        "description": format!("{} with its unit: {}", dimension.with_article(), units.join(", ")),
        "pattern": pattern(dimension),
    })
}

/// Matches what the reader takes: number, then a unit in any of its spellings.
fn pattern(dimension: Dimension) -> String {
    format!(r"^\s*{}\s*$", amount(dimension))
}

fn amount(dimension: Dimension) -> String {
    let units: Vec<String> = dimension.units().flat_map(spellings).collect();
    format!(r"[-+−]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?\s*({})", units.join("|"))
}

/// Each spelling; between its parts may stand what the reader leaves out.
fn spellings(unit: &UnitOfMeasure) -> Vec<String> {
    std::iter::once(&unit.name).chain(unit.also).map(|name| spelling(name)).collect()
}

fn spelling(name: &str) -> String {
    const BETWEEN: &str = r"[\s·⋅*()]*";
    let mut out = String::new();
    for c in name.chars() {
        // Never twice in a row: a checker that goes back on its steps would take long over it.
        if matches!(c, ' ' | '/' | '°') && !out.ends_with(BETWEEN) {
            out.push_str(BETWEEN);
        }
        match c {
            ' ' => {}
            '/' => out.extend(["/", BETWEEN]),
            '2' => out.extend(["[2²]", BETWEEN]),
            '3' => out.extend(["[3³]", BETWEEN]),
            // A point is any character to a pattern.
            '.' => out.push_str(r"\."),
            '°' => out.push_str("[°º˚]"),
            letter => out.push(letter),
        }
    }
    out + r"\)?"
}

/// A thermal mass: a class or a heat capacity per area.
pub(super) struct ThermalMass;

impl JsonSchema for ThermalMass {
    fn schema_name() -> Cow<'static, str> {
        "ThermalMass".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        words_or(
            specs::THERMAL_MASS.classes.options.iter().map(|(word, _)| *word),
            Dimension::HeatCapacityPerArea,
        )
    }
}

/// A facing: a name or an angle.
pub(super) struct Facing;

impl JsonSchema for Facing {
    fn schema_name() -> Cow<'static, str> {
        "Facing".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        words_or(specs::FACING.names.options.iter().map(|(word, _)| *word), Dimension::Angle)
    }
}

/// An airflow: a rule or a flow.
pub(super) struct Airflow;

impl JsonSchema for Airflow {
    fn schema_name() -> Cow<'static, str> {
        "AirflowOrRule".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        words_or(specs::AIRFLOW.words.options.iter().map(|(word, _)| *word), Dimension::AirFlow)
    }
}

fn words_or(words: impl Iterator<Item = &'static str>, dimension: Dimension) -> Schema {
    let words: Vec<&str> = words.collect();
    json_schema!({ "anyOf": [{ "type": "string", "enum": words }, quantity(dimension)] })
}
