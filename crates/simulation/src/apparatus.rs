//! A cooling coil: its apparatus dew point and bypass factor from a rating, at other flows, and in part load.
//!
//! Air that leaves the coil lies on the straight line from the air that enters to saturated air at the apparatus dew point: as if a part of it,
//! the bypass factor, had passed untouched, and the rest had come into balance with the coil. The rating gives both; off the
//! rating the apparatus dew point is held and `A₀ = −m ln BF` is constant.
//! Not here: how much cooling is asked for (`thermal`), the room's water (`moisture`), capacity by temperature.
//!
//! # Sources
//! Apparatus dew point and bypass factor: common practice, as handbooks print it. \[HENDERSON-1996\] Henderson and Rengarajan, ASHRAE
//! Transactions 102(1), 1996: moisture that a wet coil gives back in part load; recalled, and used as a first-order rule only.

use lanes::Real;
use psychrometrics::formulas::{
    enthalpy_j_per_kg, fast_saturation_humidity_ratio, fast_saturation_humidity_ratio_with_slope,
    liquid_enthalpy_j_per_kg, moist_heat_capacity,
};

use crate::inputs::numbers;
use crate::out_of_range::{OutOfRange, within};

/// Air before or after a coil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoilAir<R> {
    /// Temperature [°C].
    pub temperature_c: R,
    /// Humidity ratio.
    pub humidity_ratio: R,
}

/// Why a rating gives no coil.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum CoilError {
    /// A number outside its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The coil does not cool.
    #[error("the air leaves the coil at {leaving_c} °C and enters at {entering_c} °C; it must leave colder")]
    NotCooled {
        /// Entering [°C].
        entering_c: f64,
        /// Leaving [°C].
        leaving_c: f64,
    },
    /// The coil does not dry: it has no apparatus dew point.
    #[error(
        "the air leaves the coil with {leaving_w} kg/kg and enters with {entering_w} kg/kg; a rating must be of a wet coil, whose air leaves drier"
    )]
    NotDried {
        /// Humidity ratio entering.
        entering_w: f64,
        /// Humidity ratio leaving.
        leaving_w: f64,
    },
    /// Leaving air at or above saturation: nothing is left for the bypass.
    #[error(
        "the air leaves the coil with {leaving_w} kg/kg, and air of {leaving_c} °C holds {saturation_w} kg/kg; a rating must be below saturation"
    )]
    Saturated {
        /// Leaving [°C].
        leaving_c: f64,
        /// Humidity ratio leaving.
        leaving_w: f64,
        /// The most that this air holds.
        saturation_w: f64,
    },
    /// The line from the entering to the leaving air does not meet saturation above 0 °C.
    #[error(
        "the line from the entering to the leaving air meets saturation nowhere above 0 °C; the rating dries too much for its cooling, or the coil freezes"
    )]
    NoApparatusDewPoint,
}

/// Sensible part of the cooling, 0…1: `(h(t_in, w_out) − h_out)/(h_in − h_out)`.
///
/// The heat of the condensate that drains, some thousandths of the whole, is left out of both, as ratings do.
///
/// # Errors
/// [`CoilError`] unless the air is 0…60 °C with 0…0.1 kg/kg and leaves colder, and not damper.
pub fn sensible_heat_ratio(entering: &CoilAir<f64>, leaving: &CoilAir<f64>) -> Result<f64, CoilError> {
    check(entering, leaving)?;
    let leaving_j = enthalpy_j_per_kg(leaving.temperature_c, leaving.humidity_ratio);
    let sensible_j = enthalpy_j_per_kg(entering.temperature_c, leaving.humidity_ratio) - leaving_j;
    Ok(sensible_j / (enthalpy_j_per_kg(entering.temperature_c, entering.humidity_ratio) - leaving_j))
}

/// Heat that the coil takes from each kilogram of dry air, less what drains with the condensate \[J/kg\], for air that leaves colder and drier.
#[inline(always)]
pub fn cooling_j_per_kg<R: Real>(entering: &CoilAir<R>, leaving: &CoilAir<R>, drain_c: R) -> R {
    let condensate = entering.humidity_ratio - leaving.humidity_ratio;
    enthalpy_j_per_kg(entering.temperature_c, entering.humidity_ratio)
        - enthalpy_j_per_kg(leaving.temperature_c, leaving.humidity_ratio)
        - condensate * liquid_enthalpy_j_per_kg(drain_c)
}

fn check(entering: &CoilAir<f64>, leaving: &CoilAir<f64>) -> Result<(), CoilError> {
    within("temperature of the air entering the coil", entering.temperature_c, (0.0, 60.0), " °C")?;
    within("temperature of the air leaving the coil", leaving.temperature_c, (0.0, 60.0), " °C")?;
    within("humidity ratio of the air entering the coil", entering.humidity_ratio, (0.0, 0.1), " kg/kg")?;
    within("humidity ratio of the air leaving the coil", leaving.humidity_ratio, (0.0, 0.1), " kg/kg")?;
    let (entering_c, leaving_c) = (entering.temperature_c, leaving.temperature_c);
    if leaving_c >= entering_c {
        return Err(CoilError::NotCooled { entering_c, leaving_c });
    }
    let (entering_w, leaving_w) = (entering.humidity_ratio, leaving.humidity_ratio);
    if leaving_w > entering_w {
        return Err(CoilError::NotDried { entering_w, leaving_w });
    }
    Ok(())
}

/// Apparatus dew point [°C]: where the line from the entering through the leaving air meets saturation.
///
/// # Errors
/// [`CoilError`] for what is no rating of a wet coil above freezing; pressure 50…110 kPa.
pub fn apparatus_dew_point_c(
    entering: &CoilAir<f64>,
    leaving: &CoilAir<f64>,
    pressure_pa: f64,
) -> Result<f64, CoilError> {
    check(entering, leaving)?;
    within("pressure", pressure_pa, (50e3, 110e3), " Pa")?;
    let (entering_w, leaving_w) = (entering.humidity_ratio, leaving.humidity_ratio);
    if leaving_w >= entering_w {
        return Err(CoilError::NotDried { entering_w, leaving_w });
    }
    let leaving_c = leaving.temperature_c;
    let saturation_w = fast_saturation_humidity_ratio(leaving_c, pressure_pa);
    if leaving_w >= saturation_w {
        return Err(CoilError::Saturated { leaving_c, leaving_w, saturation_w });
    }
    let slope = (entering_w - leaving_w) / (entering.temperature_c - leaving_c);
    let mut t = leaving_c;
    // The line less the curve is concave, and below zero at the leaving air: Newton's steps go down to the warmer of the two points where
    // they meet and never past it, and leave the range when there is none.
    for _ in 0..200 {
        let (curve_w, curve_slope) = fast_saturation_humidity_ratio_with_slope(t, pressure_pa);
        let steeper = curve_slope - slope;
        if steeper <= 0.0 {
            return Err(CoilError::NoApparatusDewPoint);
        }
        let step_k = (curve_w - leaving_w - slope * (t - leaving_c)) / steeper;
        t -= step_k;
        if t < 0.01 {
            return Err(CoilError::NoApparatusDewPoint);
        }
        if step_k < 1e-11 {
            return Ok(t);
        }
    }
    Err(CoilError::NoApparatusDewPoint)
}

numbers! {
    /// A coil as numbers.
    CoilNumbers {
        /// Apparatus dew point [°C].
        apparatus_dew_point_c,
        /// `A₀ = −m ln BF` [kg/s]; infinite for a coil that nothing bypasses.
        contact_kg_per_s,
    }
}

impl CoilNumbers<f64> {
    /// From a rating: air entering and leaving at this flow of dry air [kg/s].
    ///
    /// # Errors
    /// As [`apparatus_dew_point_c`]; flow 0.001…100 kg/s.
    pub fn rated(
        entering: &CoilAir<f64>,
        leaving: &CoilAir<f64>,
        air_kg_per_s: f64,
        pressure_pa: f64,
    ) -> Result<Self, CoilError> {
        within("airflow of the coil", air_kg_per_s, (0.001, 100.0), " kg/s")?;
        let adp_c = apparatus_dew_point_c(entering, leaving, pressure_pa)?;
        let bypass = (leaving.temperature_c - adp_c) / (entering.temperature_c - adp_c);
        Self::with_bypass(adp_c, bypass, air_kg_per_s)
    }

    /// From an apparatus dew point and the bypass factor at this flow of dry air [kg/s].
    ///
    /// # Errors
    /// [`CoilError::OutOfRange`] unless the apparatus dew point is 0.01…30 °C, the bypass factor 1e-9…0.99, the flow 0.001…100 kg/s.
    pub fn with_bypass(
        apparatus_dew_point_c: f64,
        bypass_factor: f64,
        air_kg_per_s: f64,
    ) -> Result<Self, CoilError> {
        within("apparatus dew point", apparatus_dew_point_c, (0.01, 30.0), " °C")?;
        within("bypass factor", bypass_factor, (1e-9, 0.99), "")?;
        within("airflow of the coil", air_kg_per_s, (0.001, 100.0), " kg/s")?;
        Ok(Self { apparatus_dew_point_c, contact_kg_per_s: -air_kg_per_s * Real::ln(bypass_factor) })
    }
}

impl<R: Real> CoilNumbers<R> {
    /// Bypass factor at this flow of dry air, `e^(−A₀/m)`; 0 without flow.
    #[inline(always)]
    pub fn bypass_factor(&self, air_kg_per_s: R) -> R {
        let flows = air_kg_per_s.gt(R::zero());
        let safe = R::select(flows, air_kg_per_s, R::one());
        R::select(flows, (-(self.contact_kg_per_s / safe)).exp(), R::zero())
    }

    /// Air leaving the coil while it runs, for entering air that is warmer than the apparatus dew point. A coil that would moisten the air
    /// is dry: then only the temperature changes.
    #[inline(always)]
    pub fn leaving(&self, entering: &CoilAir<R>, air_kg_per_s: R, pressure_pa: R) -> CoilAir<R> {
        let bypass = self.bypass_factor(air_kg_per_s);
        let adp_c = self.apparatus_dew_point_c;
        let adp_w = fast_saturation_humidity_ratio(adp_c, pressure_pa).min(entering.humidity_ratio);
        CoilAir {
            temperature_c: adp_c + bypass * (entering.temperature_c - adp_c),
            humidity_ratio: adp_w + bypass * (entering.humidity_ratio - adp_w),
        }
    }

    /// Part of the time that the coil runs to take this sensible heat \[W\] from the air that passes it, 0…1; 1 also when it cannot take all.
    #[inline(always)]
    pub fn run_fraction(&self, sensible_w: R, entering: &CoilAir<R>, air_kg_per_s: R) -> R {
        let lift_k = (entering.temperature_c - self.apparatus_dew_point_c).max(R::zero());
        let in_contact = air_kg_per_s * (R::one() - self.bypass_factor(air_kg_per_s));
        let most_w = in_contact * moist_heat_capacity(entering.humidity_ratio) * lift_k;
        let can = most_w.gt(R::zero());
        let part = (sensible_w / R::select(can, most_w, R::one())).between(0.0, 1.0);
        R::select(can, part, R::select(sensible_w.gt(R::zero()), R::one(), R::zero()))
    }
}

/// What the blower does while the coil is off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Blower {
    /// It stops with the coil: what the coil holds drains.
    StopsWithCoil,
    /// It runs on, and dries the coil into the rooms.
    RunsOn,
}

/// Run fraction up to which a blower that runs on brings all water back.
pub const BRINGS_ALL_BACK_UP_TO: f64 = 0.3;

/// Share of the water taken from the air that really drains, 0…1, by the part of the time that the coil runs.
///
/// A blower that runs on brings everything back up to a run fraction of 0.3; the share grows in a straight line to 1 at full load. The
/// 0.3 is a first-order reading of \[HENDERSON-1996\]; the line is assumed. The sensible part of the cooling becomes
/// `1 − (1 − SHR) × share`.
#[inline(always)]
pub fn drained_share<R: Real>(blower: Blower, run_fraction: R) -> R {
    match blower {
        Blower::StopsWithCoil => R::one(),
        Blower::RunsOn => {
            ((run_fraction - BRINGS_ALL_BACK_UP_TO) / (1.0 - BRINGS_ALL_BACK_UP_TO)).between(0.0, 1.0)
        }
    }
}

#[cfg(test)]
#[path = "apparatus_tests.rs"]
mod apparatus_tests;
