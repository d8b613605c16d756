//! How a house leaks: from a test or an area to a coefficient, and from that to air by wind and temperature.
//!
//! Worked out once a house, outside the hour loop; the hour itself (`envelope`) takes [`Natural`]. Three single-zone models: the
//! enhanced one is what runs; the basic and the full one stand beside it to be compared with. Volume flows are air at the density that
//! is given. Not here: joining with fans in the hour (`flows`, `envelope`).
//!
//! # Sources
//! \[ASHRAE-F16\] Handbook of Fundamentals, chapter 16 (leakage, basic and enhanced model) and chapter 24 (wind at height): coefficients
//! recalled. \[WW98\] Walker and Wilson, HVAC&R Research 4(2), 1998, LBNL-42361: equations recalled.

use lanes::Real;

/// Density of air in the definitions of leakage areas [kg/m³].
const LEAKAGE_DENSITY: f64 = 1.2;
/// Pressure of an effective leakage area \[Pa\].
const EFFECTIVE_PA: f64 = 4.0;

/// `x^p`, 0 for `x` of 0.
fn power(x: f64, p: f64) -> f64 {
    if x > 0.0 { Real::exp(p * Real::ln(x)) } else { 0.0 }
}

/// Leakage through the envelope: `Q = c Δpⁿ`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leakage {
    /// `c` [m³/(s Paⁿ)], 0 or more.
    pub coefficient_m3_per_s: f64,
    /// `n`, 0.5…1.
    pub exponent: f64,
}

/// Why a leakage cannot be.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("the {quantity} is {value}; it must be from {low} to {high}")]
pub struct LeakageError {
    quantity: &'static str,
    value: f64,
    low: f64,
    high: f64,
}

fn within(quantity: &'static str, value: f64, (low, high): (f64, f64)) -> Result<(), LeakageError> {
    if value >= low && value <= high { Ok(()) } else { Err(LeakageError { quantity, value, low, high }) }
}

impl Leakage {
    /// From a flow [m³/s] at a pressure \[Pa\], such as a blower-door result.
    ///
    /// # Errors
    /// [`LeakageError`] unless the flow is 0…50 m³/s, the pressure 1…100 Pa and the exponent 0.5…1.
    pub fn of_flow(m3_per_s: f64, pressure_pa: f64, exponent: f64) -> Result<Self, LeakageError> {
        within("leakage flow [m³/s]", m3_per_s, (0.0, 50.0))?;
        within("leakage's pressure [Pa]", pressure_pa, (1.0, 100.0))?;
        within("leakage exponent", exponent, (0.5, 1.0))?;
        Ok(Self { coefficient_m3_per_s: m3_per_s / power(pressure_pa, exponent), exponent })
    }

    /// From an area \[m²\] that leaks as much at a pressure \[Pa\] as the envelope, with discharge coefficient 1: `Q = A √(2 Δp/ρ)`.
    ///
    /// # Errors
    /// As [`Leakage::of_flow`].
    ///
    /// # Source
    /// [ASHRAE-F16], recalled.
    pub fn of_area(area_m2: f64, pressure_pa: f64, exponent: f64) -> Result<Self, LeakageError> {
        within("leakage's pressure [Pa]", pressure_pa, (1.0, 100.0))?;
        Self::of_flow(area_m2 * (2.0 * pressure_pa / LEAKAGE_DENSITY).sqrt(), pressure_pa, exponent)
    }

    /// Flow at a pressure of 0 Pa or more [m³/s].
    pub fn flow_m3_per_s(&self, pressure_pa: f64) -> f64 {
        self.coefficient_m3_per_s * power(pressure_pa, self.exponent)
    }

    /// Pressure at which this much passes \[Pa\]; infinite for a tight envelope.
    pub fn pressure_pa(&self, m3_per_s: f64) -> f64 {
        if self.coefficient_m3_per_s > 0.0 {
            power(m3_per_s / self.coefficient_m3_per_s, 1.0 / self.exponent)
        } else if m3_per_s > 0.0 {
            f64::INFINITY
        } else {
            0.0
        }
    }

    /// Effective leakage area at 4 Pa with discharge coefficient 1 \[m²\].
    pub fn effective_area_m2(&self) -> f64 {
        self.flow_m3_per_s(EFFECTIVE_PA) * (LEAKAGE_DENSITY / (2.0 * EFFECTIVE_PA)).sqrt()
    }

    /// Equivalent leakage area at 10 Pa with discharge coefficient 0.611 \[m²\].
    pub fn equivalent_area_m2(&self) -> f64 {
        const PRESSURE_PA: f64 = 10.0;
        self.flow_m3_per_s(PRESSURE_PA) / 0.611 * (LEAKAGE_DENSITY / (2.0 * PRESSURE_PA)).sqrt()
    }

    /// Normalised leakage: `1000 (A_L/A_floor) (H/2.5 m)^0.4` [-].
    ///
    /// # Source
    /// ASHRAE 62.2, recalled.
    pub fn normalised(&self, floor_m2: f64, height_m: f64) -> f64 {
        1000.0 * self.effective_area_m2() / floor_m2 * power(height_m / 2.5, 0.4)
    }
}

/// What the ground around the house does to the wind, as the handbook's chapter on airflow around buildings has it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Surroundings {
    /// Large city centres.
    Urban,
    /// Suburbs, woods.
    Suburban,
    /// Open land with few obstacles.
    Open,
    /// Flat coast, exposed to wind over water.
    Water,
}

impl Surroundings {
    /// Exponent and thickness of the boundary layer \[m\].
    fn layer(self) -> (f64, f64) {
        match self {
            Self::Urban => (0.33, 460.0),
            Self::Suburban => (0.22, 370.0),
            Self::Open => (0.14, 270.0),
            Self::Water => (0.10, 210.0),
        }
    }
}

/// Wind at a height \[m\] for each m/s at a station's mast \[m\] in open land: `(270/h_met)^0.14 (H/δ)^a`.
///
/// # Errors
/// [`LeakageError`] for heights outside 1…100 m.
///
/// # Source
/// \[ASHRAE-F16\] chapter 24, recalled.
pub fn wind_factor(
    surroundings: Surroundings,
    height_m: f64,
    station_height_m: f64,
) -> Result<f64, LeakageError> {
    within("height of the eaves [m]", height_m, (1.0, 100.0))?;
    within("height of the station's mast [m]", station_height_m, (1.0, 100.0))?;
    let (exponent, thickness_m) = surroundings.layer();
    Ok(power(270.0 / station_height_m, 0.14) * power(height_m / thickness_m, exponent))
}

/// What a house stands on, where its leaks are concerned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Base {
    /// Slab or basement.
    SlabOrBasement,
    /// A vented crawlspace.
    Crawlspace,
}

/// Whether a flue opens into the rooms.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Flue {
    /// None, or sealed from the rooms.
    None,
    /// Open.
    Open,
}

/// A house as the single-zone models see it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Building {
    /// Storeys, 1…3; higher houses are taken as three.
    pub storeys: u32,
    /// What it stands on.
    pub base: Base,
    /// Its flue.
    pub flue: Flue,
    /// Wind shelter class, 1 (none) … 5 (immediately adjacent buildings).
    pub shelter_class: u32,
}

impl Building {
    fn storey(&self) -> usize {
        self.storeys.clamp(1, 3) as usize - 1
    }

    fn shelter(&self) -> usize {
        self.shelter_class.clamp(1, 5) as usize - 1
    }

    /// Stack coefficient of the enhanced model [Paⁿ/Kⁿ].
    pub fn stack_coefficient(&self) -> f64 {
        let by_storey = match self.flue {
            Flue::None => [0.054, 0.078, 0.098],
            Flue::Open => [0.069, 0.089, 0.107],
        };
        by_storey[self.storey()]
    }

    /// Wind coefficient of the enhanced model [Paⁿ s²ⁿ/m²ⁿ].
    pub fn wind_coefficient(&self) -> f64 {
        let by_storey = match (self.base, self.flue) {
            (Base::SlabOrBasement, Flue::None) => [0.156, 0.170, 0.170],
            (Base::SlabOrBasement, Flue::Open) => [0.142, 0.156, 0.167],
            (Base::Crawlspace, Flue::None) => [0.128, 0.142, 0.151],
            (Base::Crawlspace, Flue::Open) => [0.128, 0.142, 0.154],
        };
        by_storey[self.storey()]
    }

    /// Shelter factor of the enhanced model on the wind's speed.
    pub fn shelter_factor(&self) -> f64 {
        let by_class = match self.flue {
            Flue::None => [1.00, 0.90, 0.70, 0.50, 0.30],
            Flue::Open => [1.10, 1.02, 0.86, 0.70, 0.54],
        };
        by_class[self.shelter()]
    }
}

/// Natural leakage of a house: `√((a |ΔT|ⁿ)² + (b U²ⁿ)²)`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Natural {
    /// For 1 K between indoors and outdoors [m³/s].
    pub stack_m3_per_s: f64,
    /// For 1 m/s at the weather station [m³/s].
    pub wind_m3_per_s: f64,
    /// `n`.
    pub exponent: f64,
}

impl Natural {
    /// The enhanced model; `wind_factor` is the wind at the eaves for each m/s at the station, in place of the model's own multiplier
    /// for suburban surroundings.
    ///
    /// # Source
    /// [ASHRAE-F16], coefficients recalled.
    pub fn enhanced(leakage: &Leakage, building: &Building, wind_factor: f64) -> Self {
        let (c, n) = (leakage.coefficient_m3_per_s, leakage.exponent);
        let speed = building.shelter_factor() * wind_factor;
        Self {
            stack_m3_per_s: c * building.stack_coefficient(),
            wind_m3_per_s: c * building.wind_coefficient() * power(speed, 2.0 * n),
            exponent: n,
        }
    }

    /// Flow at a temperature difference \[K\] and a wind at the station [m/s] [m³/s].
    pub fn flow_m3_per_s(&self, difference_k: f64, wind_m_per_s: f64) -> f64 {
        let stack = self.stack_m3_per_s * power(difference_k.abs(), self.exponent);
        let wind = self.wind_m3_per_s * power(wind_m_per_s, 2.0 * self.exponent);
        (stack * stack + wind * wind).sqrt()
    }
}

/// The basic model: `A_L/1000 √(C_s |ΔT| + C_w U²)` [m³/s], `A_L` in cm² at 4 Pa.
///
/// # Source
/// Sherman and Grimsrud, as \[ASHRAE-F16\] has it; coefficients recalled.
pub fn basic_m3_per_s(building: &Building, area_m2: f64, difference_k: f64, wind_m_per_s: f64) -> f64 {
    const STACK: [f64; 3] = [0.000145, 0.000290, 0.000435];
    const WIND: [[f64; 3]; 5] = [
        [0.000319, 0.000420, 0.000494],
        [0.000246, 0.000325, 0.000382],
        [0.000174, 0.000231, 0.000271],
        [0.000104, 0.000137, 0.000161],
        [0.000032, 0.000042, 0.000049],
    ];
    let wind = WIND[building.shelter()][building.storey()] * wind_m_per_s * wind_m_per_s;
    area_m2 * 1e4 / 1000.0 * (STACK[building.storey()] * difference_k.abs() + wind).sqrt()
}

/// A house for the full model: where its leaks are, and the air around it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FullCase {
    /// `(c_ceiling + c_floor)/c`, 0…1.
    pub ceiling_and_floor: f64,
    /// `(c_ceiling − c_floor)/c`.
    pub ceiling_less_floor: f64,
    /// Height of the ceiling of the top storey \[m\].
    pub height_m: f64,
    /// Shelter coefficient on the wind's speed.
    pub shelter: f64,
    /// Wind at the eaves [m/s].
    pub wind_m_per_s: f64,
    /// Indoor and outdoor temperature [°C].
    pub indoor_c: f64,
    /// Outdoor temperature [°C].
    pub outdoor_c: f64,
}

/// The full model without flue, slab or basement [m³/s]: to compare the enhanced model with.
///
/// # Source
/// \[WW98\], equations recalled.
pub fn full_m3_per_s(leakage: &Leakage, case: &FullCase) -> f64 {
    let (c, n) = (leakage.coefficient_m3_per_s, leakage.exponent);
    let density = 353.0 / (case.outdoor_c + 273.15);
    let (r, x) = (case.ceiling_and_floor, case.ceiling_less_floor);
    let stack_pa =
        density * 9.81 * case.height_m * (case.indoor_c - case.outdoor_c).abs() / (case.indoor_c + 273.15);
    let speed = case.shelter * case.wind_m_per_s;
    let wind_pa = density * speed * speed / 2.0;
    let level = power(x * x / (2.0 - r), 1.25);
    let f_stack = (1.0 + n * r) / (n + 1.0) * power(0.5 - 0.5 * level, n + 1.0);
    let f_wind = 0.19 * (2.0 - n) * (1.0 - power(f64::midpoint(x, r), 1.5));
    let stack = c * f_stack * power(stack_pa, n);
    let wind = c * f_wind * power(wind_pa, n);
    let both = power(stack, 1.0 / n) + power(wind, 1.0 / n) - power(stack * wind, 1.0 / (2.0 * n)) / 3.0;
    power(both.max(0.0), n)
}

/// Rules by which natural leakage joins fans; the first is what runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Joining {
    /// `Q_b + √(Q_u² + Q_i²)`.
    Quadrature,
    /// `Q_b + max(Q_u, Q_i + Q_u/2)`.
    HalfFan,
    /// `Q_b + Q_u + φ Q_i`, `φ = Q_i/(Q_i + Q_u)`.
    SubAdditive,
}

/// All air through a house whose fans move `balanced` both ways and `unbalanced` one way, with this natural leakage, in the unit of
/// the three.
///
/// # Source
/// Reviews of superposition (quadrature as \[ASHRAE-F16\]; half-fan by Palmiter and Bond; the last as ASHRAE 62.2), recalled.
pub fn joined(rule: Joining, natural: f64, balanced: f64, unbalanced: f64) -> f64 {
    let through = match rule {
        Joining::Quadrature => (unbalanced * unbalanced + natural * natural).sqrt(),
        Joining::HalfFan => unbalanced.max(natural + unbalanced / 2.0),
        Joining::SubAdditive if natural + unbalanced > 0.0 => {
            unbalanced + natural * natural / (natural + unbalanced)
        }
        Joining::SubAdditive => 0.0,
    };
    balanced + through
}

/// Appliances that draw their air from the rooms, and the depressurisation that they are commonly held to stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Appliance {
    /// A water heater with a draught hood alone.
    DraughtHoodWaterHeater,
    /// Naturally drafted.
    NaturalDraught,
    /// With an induced-draught fan.
    InducedDraught,
    /// Direct vent or sealed.
    Sealed,
}

impl Appliance {
    /// All of them, the most sensitive first.
    pub const ALL: [Self; 4] =
        [Self::DraughtHoodWaterHeater, Self::NaturalDraught, Self::InducedDraught, Self::Sealed];

    /// Depressurisation that it stands \[Pa\]: recalled from public guides on worst-case tests; local codes rule.
    pub fn limit_pa(self) -> f64 {
        match self {
            Self::DraughtHoodWaterHeater => 2.0,
            Self::NaturalDraught => 5.0,
            Self::InducedDraught => 10.0,
            Self::Sealed => 20.0,
        }
    }

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::DraughtHoodWaterHeater => "a water heater with a draught hood",
            Self::NaturalDraught => "a naturally drafted appliance",
            Self::InducedDraught => "an appliance with an induced-draught fan",
            Self::Sealed => "a sealed appliance",
        }
    }
}
