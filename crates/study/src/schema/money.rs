//! The mirror of `[tariff]`, `[economics]` and `[bills]`.
//!
//! Here: what the schema says of money. Not here: a unit's price (`schema/unit.rs`).

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};

use super::quantities::{CarbonPerEnergy, Energy, Years};
use crate::kinds::Price;
use crate::specs;

macro_rules! money {
    ($($(#[$meta:meta])+ $name:ident = $price:expr;)*) => {$(
        $(#[$meta])+
        pub(super) struct $name;

        impl JsonSchema for $name {
            fn schema_name() -> Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                priced(&$price)
            }
        }
    )*};
}

money! {
    /// A price of energy.
    MoneyPerEnergy = specs::FLAT_PRICE;
    /// Money a year.
    MoneyPerYear = specs::STANDING;
    /// Money paid once.
    MoneyPaid = specs::UNIT_PRICE;
}

fn priced(price: &Price) -> Schema {
    let names = price.per.iter().flat_map(|per| std::iter::once(&per.name).chain(per.also)).copied();
    let names: Vec<&str> = names.collect();
    let per = if names.is_empty() { String::new() } else { format!(r"\s*/\s*({})", names.join("|")) };
    json_schema!({
        "type": "string",
        "description": format!("{} in a currency of three letters, the same in the whole study", price.what),
        "pattern": format!(r"^\s*\+?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?\s*[A-Z]{{3}}{per}\s*$"),
    })
}

/// A price, or a table with it.
struct BoughtAt;

impl JsonSchema for BoughtAt {
    fn schema_name() -> Cow<'static, str> {
        "BoughtAt".into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let price = generator.subschema_for::<MoneyPerEnergy>();
        let table = generator.subschema_for::<CarrierTariff>();
        json_schema!({ "anyOf": [price, table] })
    }
}

/// What energy costs: electricity, and what the house is heated and cooled with.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct Tariff {
    /// Price of electricity, or a table with price, standing charge and bands.
    #[schemars(example = "0.14 USD/kWh")]
    electricity: Option<BoughtAt>,
    /// Price of gas, by higher heating value, or a table with price, standing charge and bands.
    #[schemars(example = "0.045 USD/kWh")]
    gas: Option<BoughtAt>,
    /// Price of heating oil, by higher heating value, or a table with price, standing charge and bands.
    #[schemars(example = "0.10 USD/kWh")]
    oil: Option<BoughtAt>,
    /// Price of propane, by higher heating value, or a table with price, standing charge and bands.
    #[schemars(example = "0.11 USD/kWh")]
    propane: Option<BoughtAt>,
    /// Price of wood, by higher heating value, or a table with price, standing charge and bands.
    #[schemars(example = "0.06 USD/kWh")]
    wood: Option<BoughtAt>,
    /// Carbon dioxide for the energy bought.
    carbon: Option<Carbon>,
    /// Energy taken from nature for the energy bought.
    source: Option<SourceFactors>,
}

/// A price that holds in every hour, or bands that price every hour once.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(extend("oneOf" = [{"required": ["price"]}, {"required": ["band"]}]))]
struct CarrierTariff {
    /// The same in every hour.
    #[schemars(example = "0.14 USD/kWh")]
    price: Option<MoneyPerEnergy>,
    /// What the connection costs. Left out: nothing.
    #[schemars(example = "120 USD/year")]
    standing: Option<MoneyPerYear>,
    /// Prices by time of use.
    #[schemars(length(min = 1))]
    band: Option<Vec<Band>>,
}

/// Hours that share a price, in local standard time, 1 January a Monday.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Band {
    /// Its name.
    #[schemars(length(min = 1, max = 40), example = &"peak")]
    name: String,
    /// What a unit of energy costs in its hours.
    #[schemars(example = "0.24 USD/kWh")]
    price: MoneyPerEnergy,
    /// Full hour at which it begins. Left out: 0:00.
    #[schemars(regex(pattern = r"^\s*\d{1,2}:00\s*$"), example = "16:00")]
    from: Option<String>,
    /// Full hour at which it ends, past midnight if before `from`. Left out: 24:00.
    #[schemars(regex(pattern = r"^\s*\d{1,2}:00\s*$"), example = "21:00")]
    to: Option<String>,
    /// On which days. Left out: every-day.
    days: Option<Days>,
    /// By number. Left out: all.
    #[schemars(length(min = 1, max = 12), inner(range(min = 1, max = 12)))]
    months: Option<Vec<u32>>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Days {
    /// Monday to Sunday.
    EveryDay,
    /// Monday to Friday.
    Weekdays,
    /// Saturday and Sunday.
    Weekends,
}

/// Carbon dioxide for the energy bought; each 0 g/kWh … 3000 g/kWh. Left out: typical of the United States, listed with its source.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Carbon {
    /// Of electricity.
    #[schemars(example = "350 g/kWh")]
    electricity: Option<CarbonPerEnergy>,
    /// Of gas, by higher heating value.
    #[schemars(example = "181 g/kWh")]
    gas: Option<CarbonPerEnergy>,
    /// Of heating oil, by higher heating value.
    #[schemars(example = "252 g/kWh")]
    oil: Option<CarbonPerEnergy>,
    /// Of propane, by higher heating value.
    #[schemars(example = "215 g/kWh")]
    propane: Option<CarbonPerEnergy>,
    /// Of wood, by higher heating value.
    #[schemars(example = "0 g/kWh")]
    wood: Option<CarbonPerEnergy>,
}

/// Energy taken from nature for the energy bought. Left out: typical of the United States, listed with its source.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct SourceFactors {
    /// Of electricity.
    #[schemars(range(min = 0.0, max = 10.0))]
    electricity: Option<f64>,
    /// Of gas, by higher heating value.
    #[schemars(range(min = 0.0, max = 10.0))]
    gas: Option<f64>,
    /// Of heating oil, by higher heating value.
    #[schemars(range(min = 0.0, max = 10.0))]
    oil: Option<f64>,
    /// Of propane, by higher heating value.
    #[schemars(range(min = 0.0, max = 10.0))]
    propane: Option<f64>,
    /// Of wood, by higher heating value.
    #[schemars(range(min = 0.0, max = 10.0))]
    wood: Option<f64>,
}

/// How the future is weighed. Rates are all without inflation, or all with it.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct Economics {
    /// A year, as a fraction. Left out: 0.03.
    #[schemars(range(min = -0.05, max = 0.3))]
    discount_rate: Option<f64>,
    /// By how much energy grows dearer a year, as a fraction. Left out: 0.
    #[schemars(range(min = -0.1, max = 0.2))]
    escalation: Option<f64>,
    /// Years that are looked at; 1 years … 60 years. Left out: 20 years.
    #[schemars(example = "20 years")]
    horizon: Option<Years>,
}

/// A year of the house's own bills; the modelled heating is multiplied so that it meets them.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(super) struct Bills {
    /// Bought of what the house is heated with, with electric heating all electricity; 10 kWh … 1000000 kWh.
    #[schemars(example = "14000 kWh")]
    heating: Energy,
    /// How much of that was for something else; 0 kWh … 1000000 kWh. Left out: nothing; with electric heating it must be given.
    #[schemars(example = "3000 kWh")]
    other_uses: Option<Energy>,
    /// Electricity of a house heated by something else; 0 kWh … 1000000 kWh.
    #[schemars(example = "4500 kWh")]
    electricity: Option<Energy>,
    /// How the house was ventilated in that year. Left out: no-ventilation.
    house: Option<BilledHouse>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum BilledHouse {
    /// Through its leaks alone.
    NoVentilation,
    /// By an extract fan.
    ExtractOnly,
    /// By two fans without a core.
    NoRecovery,
}
