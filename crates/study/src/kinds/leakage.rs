//! Air leakage: a constant flow, or what a pressure test found.
//!
//! Here: one value, such as `"2.5 1/h @50Pa"`. Not here: the flow that follows from it with the volume of the house
//! (`read/leakage.rs`). Read next: `read/leakage.rs`.

use toml::de::DeValue;

use super::{Fault, Kind, Measure};
use crate::model::LeakageTest;
use crate::quantity::{QuantityError, parse_quantity};
use crate::units::Dimension;

/// The measures of one key.
#[derive(Clone, Copy)]
pub(crate) struct Leakage {
    pub constant: Measure,
    pub rate: Measure,
    pub flow: Measure,
    pub area: Measure,
    pub pressure: Measure,
}

/// What an air leakage was given as; air at rest at 20 °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum GivenLeakage {
    Constant { m3_per_s: f64 },
    Flow { m3_per_s: f64, pressure_pa: f64 },
    Rate { per_s: f64, pressure_pa: f64 },
}

const FORMS: &str = "write a pressure test like \"2.5 1/h @50Pa\", \"900 m3/h @50Pa\" or \"450 cm2 @4Pa\"";

impl Kind for Leakage {
    type Out = GivenLeakage;

    fn key(&self) -> &'static str {
        self.constant.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<GivenLeakage, Fault> {
        let DeValue::String(text) = value else {
            return self.constant.read(value).map(|m3_per_s| GivenLeakage::Constant { m3_per_s });
        };
        match text.split_once('@') {
            Some((amount, pressure)) => self.tested(amount.trim(), pressure.trim()),
            None if measures(text) == Dimension::AirFlow => {
                self.constant.read(value).map(|m3_per_s| GivenLeakage::Constant { m3_per_s })
            }
            None => {
                let message = format!("{} needs the pressure of its test", measures(text).with_article());
                Err(Fault::new(message, "at what pressure?").hint(FORMS))
            }
        }
    }
}

impl Leakage {
    fn tested(&self, amount: &str, pressure: &str) -> Result<GivenLeakage, Fault> {
        let read = |measure: &Measure, text: &str| {
            measure.read(&DeValue::String(text.into())).map_err(|fault| fault.hint(FORMS))
        };
        let pressure_pa = read(&self.pressure, pressure)?;
        match measures(amount) {
            Dimension::AirChangeRate => {
                read(&self.rate, amount).map(|per_s| GivenLeakage::Rate { per_s, pressure_pa })
            }
            Dimension::LeakageArea => {
                let area_m2 = read(&self.area, amount)?;
                let flow = LeakageTest::flow_through_area_m3_per_s(area_m2, pressure_pa);
                let fault = || {
                    let hint = "at another pressure, write the flow: \"900 m3/h @50Pa\"";
                    Fault::new("a leakage area is stated at 4 Pa or at 10 Pa", "another pressure").hint(hint)
                };
                flow.map(|m3_per_s| GivenLeakage::Flow { m3_per_s, pressure_pa }).ok_or_else(fault)
            }
            _ => read(&self.flow, amount).map(|m3_per_s| GivenLeakage::Flow { m3_per_s, pressure_pa }),
        }
    }
}

/// What the unit of a quantity measures among the three that say a leakage; a flow where it is none of them.
fn measures(text: &str) -> Dimension {
    match parse_quantity(text, Dimension::AirFlow) {
        Err(QuantityError::WrongUnit { measures, .. })
            if matches!(measures, Dimension::AirChangeRate | Dimension::LeakageArea) =>
        {
            measures
        }
        _ => Dimension::AirFlow,
    }
}
