//! What a study says of leaks, and of what drives air through them.
//!
//! Here: plain values in SI, every check done. Not here: the flow that follows from weather (`simulation`).
//! Read next: `read/leakage.rs`, which makes these.

/// Air leakage of the house.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum AirLeakage {
    /// A constant flow, whatever the weather.
    Constant {
        /// Flow [m³/s at 20 °C and the site's standard pressure], 0…1.
        m3_per_s: f64,
    },
    /// What a pressure test found; the flow follows wind and temperatures.
    Tested(LeakageTest),
}

impl AirLeakage {
    /// The flow [m³/s at 20 °C and the site's standard pressure] where it is constant.
    pub const fn constant_m3_per_s(self) -> Option<f64> {
        match self {
            Self::Constant { m3_per_s } => Some(m3_per_s),
            Self::Tested(_) => None,
        }
    }
}

/// A point of the power law `Q = C Δpⁿ`: `C` is the flow over the pressure to the exponent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeakageTest {
    /// Flow through the leaks at `pressure_pa` [m³/s at 20 °C and the site's standard pressure], more than 0.
    pub flow_m3_per_s: f64,
    /// Pressure across the envelope \[Pa\], 1…100.
    pub pressure_pa: f64,
    /// Exponent `n` [-], 0.5…1.
    pub exponent: f64,
}

impl LeakageTest {
    /// Air density to which leakage areas are stated [kg/m³].
    const AREA_DENSITY_KG_PER_M3: f64 = 1.2;

    /// Flow through a leakage area [m³/s]: `C_D A √(2 Δp/ρ)`, with ρ = 1.2 kg/m³.
    ///
    /// `area_m2` and `pressure_pa` are not negative. `None` but at 4 Pa (`C_D` = 1) and 10 Pa (`C_D` = 0.611), which have an
    /// agreed discharge coefficient.
    ///
    /// # Source
    /// [ASTM E779-19] for 4 Pa, [CAN/CGSB-149.10-2019] for 10 Pa (both recalled).
    pub fn flow_through_area_m3_per_s(area_m2: f64, pressure_pa: f64) -> Option<f64> {
        const ROUNDING_PA: f64 = 1e-9;
        let is_at = |pa: f64| (pressure_pa - pa).abs() <= ROUNDING_PA;
        let discharge = if is_at(4.0) {
            1.0
        } else if is_at(10.0) {
            0.611
        } else {
            return None;
        };
        Some(discharge * area_m2 * (2.0 * pressure_pa / Self::AREA_DENSITY_KG_PER_M3).sqrt())
    }
}

/// A chimney that leaks at the top of the house.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Flue {
    /// None, or a closed one.
    None,
    /// An open one.
    Open,
}

/// Wind at the house.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wind {
    /// What stands round the house, for a kilometre or more.
    pub surroundings: Surroundings,
    /// How near buildings and trees shelter it: 1 (none) … 5 (on all sides).
    pub shelter_class: u32,
    /// Height above ground at which the file's wind is measured \[m\], 1…200; `None`: as the weather file says, else 10 m.
    pub height_m: Option<f64>,
}

/// What stands round the house: terrain categories of the handbook, by the power law of wind with height.
///
/// # Source
/// [ASHRAE Handbook, Fundamentals] chapter 24, table 1 (recalled): exponent and thickness of the boundary layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Surroundings {
    /// Water or bare plain for a kilometre or more upwind; category 4: 0.10, 210 m.
    Open,
    /// Fields, with obstacles lower than 10 m here and there; category 3: 0.14, 270 m.
    Rural,
    /// Suburbs, small towns, woods; category 2: 0.22, 370 m.
    Suburban,
    /// A city, half of the buildings higher than 25 m; category 1: 0.33, 460 m.
    Urban,
}
