//! The saturation curve of air at one pressure, with or without the enhancement factor.
//!
//! Everything that asks how much vapour air can hold asks here, so that the factor enters everywhere or nowhere.
//! Not here: the pressure of steam alone ([`crate::formulas`]). Read next: `wet_bulb`.

use lanes::Real;

use crate::formulas as f;
use crate::range::DEW_POINT;
use crate::root::root_of_rising;

/// Whether saturated air holds a little more vapour than steam of the same temperature alone would.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum EnhancementFactor {
    /// Ideal gases, factor 1, as the handbook's equations have it. Humidity ratios read 0.3…0.6 % low.
    #[default]
    None,
    /// `f = 1.0043 + 3.831e-8 (p − 101325)`: mean over −40…50 °C of real-gas values at 70, 84 and 101.3 kPa.
    /// Humidity ratios within 0.17 % of the real gas there.
    ByPressure,
}

/// The curve: `p_v,sat = f p_sat(t)` at one total pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Curve {
    pub(crate) pressure_pa: f64,
    pub(crate) enhancement: EnhancementFactor,
}

impl Curve {
    pub(crate) const fn ideal(pressure_pa: f64) -> Self {
        Self { pressure_pa, enhancement: EnhancementFactor::None }
    }

    pub(crate) fn factor(self) -> f64 {
        match self.enhancement {
            EnhancementFactor::None => 1.0,
            EnhancementFactor::ByPressure => 1.0043 + 3.831e-8 * (self.pressure_pa - 101_325.0),
        }
    }

    /// Vapour pressure of saturated air (Pa).
    pub(crate) fn saturation_pa(self, temperature_c: f64) -> f64 {
        self.factor() * f::saturation_pa(temperature_c)
    }

    /// Humidity ratio of saturated air.
    pub(crate) fn saturation_ratio(self, temperature_c: f64) -> f64 {
        f::humidity_ratio(self.saturation_pa(temperature_c), self.pressure_pa)
    }

    /// Humidity ratio at a relative humidity.
    pub(crate) fn ratio_at(self, temperature_c: f64, relative_humidity: f64) -> f64 {
        f::humidity_ratio(relative_humidity * self.saturation_pa(temperature_c), self.pressure_pa)
    }

    pub(crate) fn relative_humidity(self, temperature_c: f64, humidity_ratio: f64) -> f64 {
        f::vapour_pressure_pa(humidity_ratio, self.pressure_pa) / self.saturation_pa(temperature_c)
    }

    /// Where saturated air has this vapour pressure (°C); none below −100 °C, above 60 °C, or without vapour.
    pub(crate) fn dew_point_c(self, vapour_pressure_pa: f64) -> Option<f64> {
        saturation_temperature_c(vapour_pressure_pa / self.factor())
    }
}

/// Inverse of [`f::saturation_pa`] between −100 and 60 °C, each branch on its own side of the triple point.
pub(crate) fn saturation_temperature_c(pressure_pa: f64) -> Option<f64> {
    if pressure_pa <= f::saturation_over_ice_pa(f::TRIPLE_POINT_C) {
        invert(f::saturation_over_ice_pa, DEW_POINT.low, f::TRIPLE_POINT_C, pressure_pa)
    } else {
        invert(f::saturation_over_water_pa, f::TRIPLE_POINT_C, DEW_POINT.high, pressure_pa)
    }
}

/// Where a rising `curve` reaches `pressure_pa`; the logarithm makes it nearly straight.
pub(crate) fn invert(curve: fn(f64) -> f64, low: f64, high: f64, pressure_pa: f64) -> Option<f64> {
    // One part in 1e9 beyond the ends is rounding of a pressure that came from an end.
    let within =
        pressure_pa >= curve(DEW_POINT.low) * (1.0 - 1e-9) && pressure_pa <= curve(high) * (1.0 + 1e-9);
    within.then(|| {
        let wanted = Real::ln(pressure_pa);
        root_of_rising(low, high, |t| Real::ln(curve(t)) - wanted)
    })
}
