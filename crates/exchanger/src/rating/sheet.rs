//! What a rating sheet states.
//!
//! Not here: what is refused (`checks`).

use super::air::{RATED_AIR_KG_PER_M3, Standard, TestAir};
use super::error::RatingError;
use super::figures::Figures;
use super::forward::{FanPosition, Test};
use crate::streams::CoreKind;

/// A rating sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Kind of core.
    pub kind: CoreKind,
    /// Test points; the first frost-free one names the flow to which the conductances belong.
    pub points: Vec<Point>,
    /// Share of the supply air that is extract air, 0…0.1, if the sheet states it.
    pub cross_leakage: Option<f64>,
    /// Where the fans stand.
    pub fan_position: FanPosition,
    /// Share of the power that is the supply fan's, 0…1.
    pub supply_fan_share: f64,
    /// Conductance of the case between test room and supply stream [W/K], 0 or more.
    pub case_w_per_k: f64,
}

impl Sheet {
    /// A sheet with the usual assumptions: fans behind the core, half the power each, no heat through the case,
    /// cross-leakage not stated.
    pub const fn new(kind: CoreKind, points: Vec<Point>) -> Self {
        Self {
            kind,
            points,
            cross_leakage: None,
            fan_position: FanPosition::AfterCore,
            supply_fan_share: 0.5,
            case_w_per_k: 0.0,
        }
    }
}

/// A test point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Standard by which it was measured.
    pub standard: Standard,
    /// Outdoor air.
    pub outdoor: TestAir,
    /// Indoor air.
    pub indoor: TestAir,
    /// Supply air as delivered, leaked air included [m³/s of air of 1.204 kg/m³].
    pub supply_m3_per_s: f64,
    /// Extract air [m³/s of air of 1.204 kg/m³].
    pub extract_m3_per_s: f64,
    /// Supply air less the leaked air in it, where both are stated [m³/s]: it fixes `e = 1 − net/gross`.
    pub net_supply_m3_per_s: Option<f64>,
    /// Electric power of the unit \[W\]; without it fan heat is taken as none, and the answer says so.
    pub power_w: Option<f64>,
    /// The figures stated.
    pub stated: Figures,
    /// Supply air of a low-temperature test as a share of that without defrost, where stated.
    pub ventilation_reduction: Option<f64>,
}

impl Point {
    /// A point in the standard's usual air, supply and extract both at this flow, nothing stated.
    ///
    /// # Errors
    /// See [`Standard::usual_air`].
    pub fn usual(standard: Standard, m3_per_s: f64) -> Result<Self, RatingError> {
        let (outdoor, indoor) = standard.usual_air()?;
        Ok(Self {
            standard,
            outdoor,
            indoor,
            supply_m3_per_s: m3_per_s,
            extract_m3_per_s: m3_per_s,
            net_supply_m3_per_s: None,
            power_w: None,
            stated: Figures::none(),
            ventilation_reduction: None,
        })
    }

    /// The point as a test: dry-air flows `1.204 Q/(1 + W)` with the humidity ratio of the *entering* air.
    ///
    /// Supply air of an enthalpy core is moister than outdoor air; that makes the flow 0.5 % less at most.
    pub fn test(&self) -> Test {
        let dry = |m3_per_s: f64, air: TestAir| RATED_AIR_KG_PER_M3 * m3_per_s / (1.0 + air.humidity_ratio);
        Test {
            outdoor: self.outdoor,
            indoor: self.indoor,
            supply_kg_per_s: dry(self.supply_m3_per_s, self.outdoor),
            extract_kg_per_s: dry(self.extract_m3_per_s, self.indoor),
            power_w: self.power_w.unwrap_or(0.0),
        }
    }

    /// Whether frost may have entered the label: outdoor air below −10 °C.
    pub fn may_frost(&self) -> bool {
        self.outdoor.dry_bulb_c < FROST_BELOW_C
    }
}

/// Outdoor temperature below which a test point is not fitted [°C].
const FROST_BELOW_C: f64 = -10.0;
