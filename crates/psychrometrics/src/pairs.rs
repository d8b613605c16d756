//! From two properties to a state: one function for each kind of first property.
//!
//! Every pair ends in a dry bulb and a humidity ratio, which `accept` checks. Where a search is needed, the function
//! searched rises between two ends and stays on one side of the ice–water break, or crosses it without a jump.
//! Not here: the wet-bulb equations (`wet_bulb`), the search (`root`).

use crate::curve::Curve;
use crate::error::AirError;
use crate::formulas as f;
use crate::moist_air::{Given, MoistAir, Property};
use crate::range::{
    DEW_POINT, DRY_BULB, DRY_BULB_OF_PAIR, ENTHALPY, HUMIDITY_RATIO, RELATIVE_HUMIDITY, WET_BULB,
};
use crate::root::root_of_rising;
use crate::wet_bulb;

/// Beyond saturation by this share is rounding, or the step of 6e-9 where the published curves meet at 0.01 °C.
pub(crate) const SATURATION_ROUNDING: f64 = 1e-8;
/// Below no vapour by this much is rounding (kg/kg).
const DRY_ROUNDING: f64 = 1e-12;

/// Beyond an end of the range by this much is rounding (K).
const END_ROUNDING_K: f64 = 1e-9;

/// Dry bulb and humidity ratio.
type Point = (f64, f64);

/// The two numbers given, in the order of [`Property::ALL`], for the words of an error.
#[derive(Clone, Copy)]
struct Pair {
    first: Given,
    second: Given,
    curve: Curve,
}

pub(crate) fn solve(first: Given, second: Given, curve: Curve) -> Result<MoistAir, AirError> {
    check(first)?;
    check(second)?;
    let (first, second) = in_order(first, second);
    let pair = Pair { first, second, curve };
    let point = match first {
        Given::DryBulbC(t) => Ok((t, pair.ratio_at_dry_bulb(t)?)),
        Given::WetBulbC(t) => pair.point_at_wet_bulb(t),
        Given::DewPointC(t) => pair.point_at_dew_point(t),
        Given::RelativeHumidity(share) => pair.point_at_relative_humidity(share),
        Given::HumidityRatio(w) => pair.point_at_humidity_ratio(w),
        Given::EnthalpyJPerKg(_) => Err(pair.same_twice()),
    }?;
    Ok(pair.accept(point)?.keeping(first).keeping(second))
}

fn check(given: Given) -> Result<f64, crate::OutOfRange> {
    match given.property() {
        Property::DryBulb => DRY_BULB,
        Property::WetBulb => WET_BULB,
        Property::DewPoint => DEW_POINT,
        Property::RelativeHumidity => RELATIVE_HUMIDITY,
        Property::HumidityRatio => HUMIDITY_RATIO,
        Property::Enthalpy => ENTHALPY,
    }
    .check(given.value())
}

fn in_order(first: Given, second: Given) -> (Given, Given) {
    let place = |given: Given| Property::ALL.iter().position(|&property| property == given.property());
    if place(first) <= place(second) { (first, second) } else { (second, first) }
}

impl Pair {
    fn ratio_at_dry_bulb(self, t: f64) -> Result<f64, AirError> {
        match self.second {
            Given::DryBulbC(_) => Err(self.same_twice()),
            Given::WetBulbC(wet) => Ok(wet_bulb::humidity_ratio(t, wet, self.curve)),
            Given::DewPointC(dew) => Ok(self.curve.saturation_ratio(dew)),
            Given::RelativeHumidity(share) => Ok(self.curve.ratio_at(t, share)),
            Given::HumidityRatio(w) => Ok(w),
            Given::EnthalpyJPerKg(h) => {
                Ok((h - f::CP_DRY_AIR_J_PER_KGK * t) / f::vapour_enthalpy_j_per_kg(t))
            }
        }
    }

    fn point_at_wet_bulb(self, wet: f64) -> Result<Point, AirError> {
        let at_ratio = |w| Ok((wet_bulb::dry_bulb_c(wet, w, self.curve), w));
        match self.second {
            Given::DewPointC(dew) => at_ratio(self.curve.saturation_ratio(dew)),
            Given::HumidityRatio(w) => at_ratio(w),
            Given::RelativeHumidity(share) => {
                let excess = |t| self.curve.ratio_at(t, share) - wet_bulb::humidity_ratio(t, wet, self.curve);
                let t = self.search(wet.max(DRY_BULB.low), excess)?;
                Ok((t, self.curve.ratio_at(t, share)))
            }
            Given::EnthalpyJPerKg(_) => {
                Err(AirError::Singular(self.first.property(), self.second.property()))
            }
            Given::DryBulbC(_) | Given::WetBulbC(_) => Err(self.same_twice()),
        }
    }

    fn point_at_dew_point(self, dew: f64) -> Result<Point, AirError> {
        let w = self.curve.saturation_ratio(dew);
        match self.second {
            Given::RelativeHumidity(share) => self.point_with_ratio_and_humidity(w, share),
            Given::EnthalpyJPerKg(h) => Ok((f::temperature_from_enthalpy_c(h, w), w)),
            _ => Err(self.same_twice()),
        }
    }

    fn point_at_relative_humidity(self, share: f64) -> Result<Point, AirError> {
        match self.second {
            Given::HumidityRatio(w) => self.point_with_ratio_and_humidity(w, share),
            Given::EnthalpyJPerKg(h) => {
                let at = |t| f::enthalpy_j_per_kg(t, self.curve.ratio_at(t, share));
                let t = self.search(DRY_BULB.low, |t| at(t) - h)?;
                Ok((t, self.curve.ratio_at(t, share)))
            }
            _ => Err(self.same_twice()),
        }
    }

    fn point_at_humidity_ratio(self, w: f64) -> Result<Point, AirError> {
        match self.second {
            Given::EnthalpyJPerKg(h) => Ok((f::temperature_from_enthalpy_c(h, w), w)),
            _ => Err(self.same_twice()),
        }
    }

    /// The dry bulb at which this vapour is this share of saturation.
    fn point_with_ratio_and_humidity(self, w: f64, share: f64) -> Result<Point, AirError> {
        if w <= 0.0 && share <= 0.0 {
            return Err(self.same_twice());
        }
        if w <= 0.0 || share <= 0.0 {
            return Err(self.no_such_air());
        }
        let saturation_pa = f::vapour_pressure_pa(w, self.curve.pressure_pa) / share;
        let t = self.curve.dew_point_c(saturation_pa).ok_or_else(|| self.no_such_air())?;
        Ok((t, w))
    }

    /// The dry bulb, from `low` up, at which `excess` passes zero.
    fn search(self, low: f64, excess: impl Fn(f64) -> f64) -> Result<f64, AirError> {
        // A little beyond the ends, so that rounding of a property computed at an end does not exclude it.
        let (low, high) = (low - END_ROUNDING_K, DRY_BULB.high + END_ROUNDING_K);
        if excess(low) > 0.0 || excess(high) < 0.0 {
            return Err(self.no_such_air());
        }
        Ok(root_of_rising(low, high, excess))
    }

    fn accept(self, (dry_bulb_c, humidity_ratio): Point) -> Result<MoistAir, AirError> {
        if humidity_ratio < -DRY_ROUNDING {
            return Err(AirError::DrierThanDry { first: self.first, second: self.second });
        }
        let humidity_ratio = humidity_ratio.max(0.0);
        let dry_bulb_c = within_rounding(dry_bulb_c);
        DRY_BULB_OF_PAIR.check(dry_bulb_c)?;
        let relative_humidity = self.curve.relative_humidity(dry_bulb_c, humidity_ratio);
        if relative_humidity > 1.0 + SATURATION_ROUNDING {
            let Self { first, second, .. } = self;
            return Err(AirError::Supersaturated { first, second, relative_humidity });
        }
        Ok(MoistAir::complete(self.curve, dry_bulb_c, humidity_ratio))
    }

    fn same_twice(self) -> AirError {
        AirError::SameTwice(self.first.property(), self.second.property())
    }

    fn no_such_air(self) -> AirError {
        AirError::NoSuchAir { first: self.first, second: self.second }
    }
}

/// A dry bulb past an end of the range by no more than rounding came from that end.
fn within_rounding(dry_bulb_c: f64) -> f64 {
    let held = dry_bulb_c.clamp(DRY_BULB.low, DRY_BULB.high);
    if (held - dry_bulb_c).abs() < 2.0 * END_ROUNDING_K { held } else { dry_bulb_c }
}
