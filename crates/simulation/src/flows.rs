//! A unit's air flows from what a study states: leaks in the unit, own exhaust air at the hood, imbalance, and what
//! imbalance and leakage together draw through the envelope.
//!
//! Done once a variant, outside the hour loop. Flows of the four ports, for a delivered flow `m₂`:
//!
//! | flow | formula |
//! | --- | --- |
//! | delivered: leaves the supply port, the rated flow | `m₂` |
//! | taken from the rooms | `m₃ = balance m₂` |
//! | cross-leaked: extract air that joins the supply air past the core | `e m₂` |
//! | core, supply side | `m₂ (1 − e)` |
//! | core, extract side | `m₃ − e m₂` |
//! | own exhaust air drawn back in at the hood | `r m₂ (1 − e)` |
//! | outdoor air delivered to the rooms | `m₂ (1 − e) (1 − r)` |
//! | intake | `m₁ = OACF m₂` |
//! | passed from intake straight to the exhaust port | `m₁ − m₂ (1 − e)` |
//!
//! The air that passes straight to the exhaust touches neither core nor rooms: it is in two columns (intake and
//! exhaust air) and in no book. Left out: leaks that change with pressure and filters; casing leakage to the room around
//! the unit. Not here: the states of the mixtures (`mixing`), the hour (`step`).

use lanes::Real;

use crate::inputs::{Unit, UnitOf};

/// Air flows of a unit as a study states them, and the leakage of its house.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flows {
    /// Air that leaves the supply port, `m₂` [kg dry air/s], above 0 and at most 10.
    pub delivered_kg_per_s: f64,
    /// Air taken from the rooms for each kg delivered, `m₃/m₂`, above 0 and at most 10.
    pub balance: f64,
    /// Exhaust air transfer ratio `e`: the share of the delivered air that is extract air, 0…1 without 1.
    pub cross_leakage: f64,
    /// Outdoor air correction factor, `m₁/m₂`: intake for each kg delivered, `1 − e`…10.
    pub outdoor_air_correction: f64,
    /// Share `r` of the air entering the core's supply side that is the unit's own exhaust air, 0…1 without 1.
    pub hood_recirculation: f64,
    /// Leakage of the house without a unit, in and out alike [kg dry air/s], 0…10.
    pub leakage_kg_per_s: f64,
}

/// Why flows cannot be run.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum FlowsError {
    /// A number outside its range, or none at all.
    #[error("the {quantity} is {value}{unit}; it must be {allowed}")]
    OutOfRange {
        /// What it is.
        quantity: &'static str,
        /// Its value.
        value: f64,
        /// Its unit, with a space before it; empty for a ratio.
        unit: &'static str,
        /// What is allowed.
        allowed: &'static str,
    },
    /// Cross-leakage takes all of the extract air.
    #[error(
        "the balance is {balance} and the cross-leakage is {cross_leakage}: no extract air is left for the core; the \
         balance must be greater than the cross-leakage"
    )]
    ExtractSide {
        /// Extract flow for each kg delivered.
        balance: f64,
        /// Cross-leakage.
        cross_leakage: f64,
    },
    /// An intake that draws less than the core's supply side passes.
    #[error(
        "the outdoor air correction is {outdoor_air_correction} and the cross-leakage is {cross_leakage}: the intake \
         would draw less than the core's supply side takes; the two must add up to 1 or more"
    )]
    Intake {
        /// Intake for each kg delivered.
        outdoor_air_correction: f64,
        /// Cross-leakage.
        cross_leakage: f64,
    },
    /// More own exhaust air drawn in than there is.
    #[error(
        "the hood recirculation is {hood_recirculation}: {drawn_kg_per_s} kg/s of exhaust air would be drawn back in, but \
         the core's extract side passes {exhaust_kg_per_s} kg/s; it must pass more than is drawn back"
    )]
    Hood {
        /// Share of own exhaust air.
        hood_recirculation: f64,
        /// What would be drawn back in [kg dry air/s].
        drawn_kg_per_s: f64,
        /// Air of the core's extract side [kg dry air/s].
        exhaust_kg_per_s: f64,
    },
}

/// Largest flow that is taken for a house's [kg dry air/s].
const LARGEST_KG_PER_S: f64 = 10.0;
/// Largest ratio of two of a unit's flows.
const LARGEST_RATIO: f64 = 10.0;
/// Decimals that add up to 1 on paper add up to it within this in binary.
const ROUNDING: f64 = 1e-12;

impl Flows {
    fn check(&self) -> Result<(), FlowsError> {
        let above_zero = |limit: f64, x: f64| x > 0.0 && x <= limit;
        let share = |x: f64| (0.0..1.0).contains(&x);
        let rules = [
            (
                "delivered flow",
                self.delivered_kg_per_s,
                " kg/s",
                "above 0 and at most 10 kg/s",
                above_zero(LARGEST_KG_PER_S, self.delivered_kg_per_s),
            ),
            ("balance", self.balance, "", "above 0 and at most 10", above_zero(LARGEST_RATIO, self.balance)),
            ("cross-leakage", self.cross_leakage, "", "from 0 to below 1", share(self.cross_leakage)),
            (
                "outdoor air correction",
                self.outdoor_air_correction,
                "",
                "above 0 and at most 10",
                above_zero(LARGEST_RATIO, self.outdoor_air_correction),
            ),
            (
                "hood recirculation",
                self.hood_recirculation,
                "",
                "from 0 to below 1",
                share(self.hood_recirculation),
            ),
            (
                "leakage",
                self.leakage_kg_per_s,
                " kg/s",
                "from 0 to 10 kg/s",
                (0.0..=LARGEST_KG_PER_S).contains(&self.leakage_kg_per_s),
            ),
        ];
        match rules.into_iter().find(|&(.., holds)| !holds) {
            Some((quantity, value, unit, allowed, _)) => {
                Err(FlowsError::OutOfRange { quantity, value, unit, allowed })
            }
            None => self.check_together(),
        }
    }

    fn check_together(&self) -> Result<(), FlowsError> {
        let &Self { balance, cross_leakage, outdoor_air_correction, hood_recirculation, .. } = self;
        if balance <= cross_leakage {
            return Err(FlowsError::ExtractSide { balance, cross_leakage });
        }
        if outdoor_air_correction + cross_leakage < 1.0 - ROUNDING {
            return Err(FlowsError::Intake { outdoor_air_correction, cross_leakage });
        }
        let drawn = hood_recirculation * (1.0 - cross_leakage);
        let exhaust = balance - cross_leakage;
        if drawn >= exhaust {
            return Err(FlowsError::Hood {
                hood_recirculation,
                drawn_kg_per_s: drawn * self.delivered_kg_per_s,
                exhaust_kg_per_s: exhaust * self.delivered_kg_per_s,
            });
        }
        Ok(())
    }
}

/// Air through the envelope.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EnvelopeFlows {
    /// Outdoor air that enters, untempered [kg dry air/s].
    pub infiltration_kg_per_s: f64,
    /// Room air that leaves [kg dry air/s].
    pub exfiltration_kg_per_s: f64,
}

/// Air through the envelope of a house with this leakage (in and out alike without a unit), whose unit supplies and
/// extracts these flows [kg dry air/s each, 0 or more].
///
/// Quadrature on mass flows: with `D = supply − extract` the larger flow is `√(D² + L²)` and the smaller is that less
/// `|D|`, so that air in is air out; the larger is exfiltration where more is supplied, infiltration where more is
/// extracted. `D = 0` gives `L` both ways exactly.
///
/// # Source
/// The basic superposition rule of a fan and natural leakage, in quadrature; recalled.
pub fn envelope_flows(leakage_kg_per_s: f64, supply_kg_per_s: f64, extract_kg_per_s: f64) -> EnvelopeFlows {
    let (infiltration_kg_per_s, exfiltration_kg_per_s) =
        envelope_of(leakage_kg_per_s, supply_kg_per_s, extract_kg_per_s);
    EnvelopeFlows { infiltration_kg_per_s, exfiltration_kg_per_s }
}

/// Infiltration and exfiltration of [`envelope_flows`] for a row of houses.
#[inline(always)]
pub(crate) fn envelope_of<R: Real>(leakage: R, supply: R, extract: R) -> (R, R) {
    let difference = (supply - extract).abs();
    let unequal = difference.gt(R::zero());
    let squared = leakage * leakage;
    let larger = (difference * difference + squared).sqrt();
    // L²/(larger + |D|) is larger − |D| without the digits that the difference of two near numbers loses.
    let smaller = squared / R::select(unequal, larger + difference, R::one());
    let more_supply = supply.gt(extract);
    let infiltration = R::select(more_supply, smaller, larger);
    let exfiltration = R::select(more_supply, larger, smaller);
    (R::select(unequal, infiltration, leakage), R::select(unequal, exfiltration, leakage))
}

impl Unit {
    /// The flows of a unit without core and fans, extract from the wet rooms, supply to the others; the rest is filled in
    /// from other sources: `Unit { ua_w_per_k, ..Unit::of_flows(&flows)? }`.
    ///
    /// # Errors
    /// [`FlowsError`] for a number outside its range, an extract side without air, an intake that draws less than the core
    /// passes, and a hood that draws back more exhaust air than there is.
    pub fn of_flows(flows: &Flows) -> Result<Self, FlowsError> {
        flows.check()?;
        let delivered = flows.delivered_kg_per_s;
        let extract = flows.balance * delivered;
        let cross_leak = flows.cross_leakage * delivered;
        let surplus = flows.outdoor_air_correction + flows.cross_leakage - 1.0;
        // What is rounded away here is at most 1e-12 of the flow.
        let bypass = if surplus > ROUNDING { surplus * delivered } else { 0.0 };
        let envelope = envelope_flows(flows.leakage_kg_per_s, delivered, extract);
        Ok(Self {
            supply_kg_per_s: delivered - cross_leak,
            extract_kg_per_s: extract - cross_leak,
            cross_leak_kg_per_s: cross_leak,
            recirculated_share: flows.hood_recirculation,
            bypass_kg_per_s: bypass,
            infiltration_kg_per_s: envelope.infiltration_kg_per_s,
            exfiltration_kg_per_s: envelope.exfiltration_kg_per_s,
            ..Self::none()
        })
    }

    /// The same unit in a house of this leakage [kg dry air/s]: see [`envelope_flows`].
    pub fn in_house_of_leakage(self, leakage_kg_per_s: f64) -> Self {
        let EnvelopeFlows { infiltration_kg_per_s, exfiltration_kg_per_s } =
            envelope_flows(leakage_kg_per_s, self.supply_kg_per_s, self.extract_kg_per_s);
        Self { infiltration_kg_per_s, exfiltration_kg_per_s, ..self }
    }

    /// The `no recovery` baseline: the same fans without the core, without leaks in the unit and without own exhaust air.
    ///
    /// Its supply is the outdoor air that the unit delivers, `m₂ (1 − e)(1 − r)`; its extract is what leaves the house
    /// through the unit for good, `m₃ − e m₂ − r m₂ (1 − e)`. So both houses get the same outdoor air, and the imbalance,
    /// hence infiltration and exfiltration, is the same too.
    pub fn without_core(self) -> Self {
        let drawn_back = self.recirculated_share * self.supply_kg_per_s;
        Self {
            supply_kg_per_s: self.supply_kg_per_s - drawn_back,
            extract_kg_per_s: self.extract_kg_per_s - drawn_back,
            cross_leak_kg_per_s: 0.0,
            recirculated_share: 0.0,
            bypass_kg_per_s: 0.0,
            ua_w_per_k: 0.0,
            vapour_kg_per_s: 0.0,
            crossed_ua_w_per_k: 0.0,
            crossed_vapour_kg_per_s: 0.0,
            ..self
        }
    }
}

impl<R: Real> UnitOf<R> {
    /// Air that leaves the supply port [kg dry air/s].
    #[inline(always)]
    pub(crate) fn delivered_kg_per_s(&self) -> R {
        self.supply_kg_per_s + self.cross_leak_kg_per_s
    }

    /// Air taken from the rooms [kg dry air/s].
    #[inline(always)]
    pub(crate) fn taken_kg_per_s(&self) -> R {
        self.extract_kg_per_s + self.cross_leak_kg_per_s
    }

    /// Own exhaust air drawn back in at the hood [kg dry air/s].
    #[inline(always)]
    pub(crate) fn drawn_back_kg_per_s(&self) -> R {
        self.recirculated_share * self.supply_kg_per_s
    }

    /// Outdoor air delivered to the rooms [kg dry air/s].
    #[inline(always)]
    pub(crate) fn outdoor_kg_per_s(&self) -> R {
        self.supply_kg_per_s - self.drawn_back_kg_per_s()
    }
}

#[cfg(test)]
#[path = "flows_tests.rs"]
mod flows_tests;
