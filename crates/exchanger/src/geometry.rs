//! Conductances and pressure drop from the measures of a plate core with laminar channels.
//!
//! Both streams have the same channels and the same flow. Fully developed laminar flow: the film does not depend on the
//! flow, so `NTU ∝ m⁻¹`.
//!
//! Not here: what a unit with fans and leaks makes of it (`rating`).
//! Left out: developing flow at the inlet (real films are 5–20 % better on short channels), uneven flow among the channels
//! (worse), bends and headers (pressure), conduction along the plate, and the change of air with temperature: from 0 to 40 °C
//! viscosity and conductivity rise by some 12 %, pressure drop and film with them.

use psychrometrics::formulas::CP_DRY_AIR_J_PER_KGK;

/// Air in the channels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChannelAir {
    /// Dynamic viscosity [Pa s].
    pub viscosity_pa_s: f64,
    /// Thermal conductivity [W/mK].
    pub conductivity_w_per_mk: f64,
    /// Density [kg/m³].
    pub density_kg_per_m3: f64,
    /// Heat capacity [J/kgK], which ties the vapour film to the heat film.
    pub heat_capacity_j_per_kgk: f64,
}

impl ChannelAir {
    /// Air of 20 °C at sea level.
    ///
    /// # Source
    /// Handbook values, recalled: 1.81e-5 Pa s, 0.0257 W/mK, 1.204 kg/m³; heat capacity of dry air as everywhere here.
    pub const ROOM: Self = Self {
        viscosity_pa_s: 1.81e-5,
        conductivity_w_per_mk: 0.0257,
        density_kg_per_m3: 1.204,
        heat_capacity_j_per_kgk: CP_DRY_AIR_J_PER_KGK,
    };
}

/// What the walls of the channels are at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Wall {
    /// One temperature along the channel.
    #[default]
    ConstantTemperature,
    /// One heat flux along the channel: the limit of a counterflow core at equal flows.
    ConstantFlux,
}

/// The shape of a channel across the flow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Section {
    /// As wide as the plate.
    BetweenPlates,
    /// Parted by ribs into rectangles of this short over long side, 0…1. The ribs themselves take no room and pass no heat.
    Rectangular {
        /// Gap over the distance of the ribs, or the inverse.
        aspect: f64,
    },
}

/// The measures of a core.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlateCore {
    /// Distance between plates \[m\].
    pub gap_m: f64,
    /// Length in flow direction \[m\].
    pub length_m: f64,
    /// Width across the flow \[m\].
    pub width_m: f64,
    /// Channels of each stream; each has both of its faces on a plate.
    pub channels_per_stream: u32,
    /// Shape of a channel.
    pub section: Section,
    /// Thermal boundary.
    pub wall: Wall,
    /// Heat resistance of the plate [m²K/W]: thickness over conductivity. 0.1 mm of plastic is 0.0005, 1 % of the films.
    pub plate_m2k_per_w: f64,
    /// Resistance of the membrane to vapour [s/m]; none for a plate that passes none.
    pub membrane_s_per_m: Option<f64>,
    /// Air in the channels.
    pub air: ChannelAir,
}

/// What follows from the measures at a flow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlateAnswer {
    /// Plate area \[m²\].
    pub area_m2: f64,
    /// Mean velocity in the channels [m/s].
    pub velocity_m_per_s: f64,
    /// Reynolds number.
    pub reynolds: f64,
    /// Pressure drop of the channels \[Pa\].
    pub pressure_drop_pa: f64,
    /// Heat film [W/m²K].
    pub film_w_per_m2k: f64,
    /// Heat from air to air [W/m²K].
    pub u_w_per_m2k: f64,
    /// Heat conductance [W/K].
    pub ua_w_per_k: f64,
    /// Vapour conductance [kg dry air/s], 0 for a plate that passes none.
    pub vapour_kg_per_s: f64,
    /// Share of the vapour resistance that one film has; none for a plate that passes none.
    pub film_share_of_vapour: Option<f64>,
}

/// Why measures give no answer.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum GeometryError {
    /// A number outside its range; also a number that is none (NaN).
    #[error("{quantity} {value}{unit} is outside {low}…{high}{unit}")]
    OutOfRange {
        /// What.
        quantity: &'static str,
        /// How much.
        value: f64,
        /// Its unit with a space before it; empty for a ratio.
        unit: &'static str,
        /// The lowest allowed.
        low: f64,
        /// The highest allowed.
        high: f64,
    },
    /// Too fast for laminar flow.
    #[error(
        "Reynolds number {reynolds:.0} is above 2300: the flow is not laminar, and these films do not hold"
    )]
    NotLaminar {
        /// Reynolds number.
        reynolds: f64,
    },
}

/// Conductances and pressure drop at a flow on each side [m³/s of the channels' air].
///
/// `D_h` is twice the gap between plates, `2 b/(1 + a)` for rectangles whose short side is the gap; `h = Nu k/D_h`;
/// `1/U = 2/h + R_plate`; `Δp = 4 f (L/D_h) ρu²/2`. Vapour: `1/U_m = 2 cp/h + r/ρ` (Lewis number 1).
///
/// # Errors
/// [`GeometryError`]: gap 0.5…20 mm, length and width 0.02…3 m, 1…2000 channels, flow 0.0001…10 m³/s, aspect 0…1,
/// resistances 0…1 m²K/W and 0…5000 s/m; Reynolds number above 2300.
///
/// # Source
/// Shah and London, *Laminar Flow Forced Convection in Ducts*, 1978 (recalled); Lewis relation.
pub fn plate_core(core: &PlateCore, flow_m3_per_s: f64) -> Result<PlateAnswer, GeometryError> {
    check(core, flow_m3_per_s)?;
    let aspect = aspect(core.section);
    let air = &core.air;
    let hydraulic_m = 2.0 * core.gap_m / (1.0 + aspect);
    let velocity_m_per_s = flow_m3_per_s / (f64::from(core.channels_per_stream) * core.width_m * core.gap_m);
    let reynolds = air.density_kg_per_m3 * velocity_m_per_s * hydraulic_m / air.viscosity_pa_s;
    if reynolds > 2300.0 {
        return Err(GeometryError::NotLaminar { reynolds });
    }
    let friction = friction_reynolds(core.section) / reynolds;
    let dynamic_pa = 0.5 * air.density_kg_per_m3 * velocity_m_per_s * velocity_m_per_s;
    let area_m2 = 2.0 * f64::from(core.channels_per_stream) * core.length_m * core.width_m;
    let film_w_per_m2k = nusselt(core.section, core.wall) * air.conductivity_w_per_mk / hydraulic_m;
    let u_w_per_m2k = 1.0 / (2.0 / film_w_per_m2k + core.plate_m2k_per_w);
    let film = air.heat_capacity_j_per_kgk / film_w_per_m2k;
    let resistance = core.membrane_s_per_m.map(|r| 2.0 * film + r / air.density_kg_per_m3);
    Ok(PlateAnswer {
        area_m2,
        velocity_m_per_s,
        reynolds,
        pressure_drop_pa: 4.0 * friction * (core.length_m / hydraulic_m) * dynamic_pa,
        film_w_per_m2k,
        u_w_per_m2k,
        ua_w_per_k: u_w_per_m2k * area_m2,
        vapour_kg_per_s: resistance.map_or(0.0, |all| area_m2 / all),
        film_share_of_vapour: resistance.map(|all| film / all),
    })
}

/// Fanning friction factor times Reynolds number, fully developed laminar flow: 24 between plates, and
/// `24 (1 − 1.3553 a + 1.9467 a² − 1.7012 a³ + 0.9564 a⁴ − 0.2537 a⁵)` in rectangles of short over long side `a` (0…1).
///
/// # Source
/// Shah and London 1978, recalled.
pub fn friction_reynolds(section: Section) -> f64 {
    24.0 * polynomial(aspect(section), [-1.3553, 1.9467, -1.7012, 0.9564, -0.2537])
}

/// Nusselt number, fully developed laminar flow: 7.541 (wall of one temperature) or 8.235 (one heat flux) between
/// plates, times a polynomial in the aspect (0…1) in rectangles.
///
/// # Source
/// Shah and London 1978, recalled.
pub fn nusselt(section: Section, wall: Wall) -> f64 {
    let a = aspect(section);
    match wall {
        Wall::ConstantTemperature => 7.541 * polynomial(a, [-2.610, 4.970, -5.119, 2.702, -0.548]),
        Wall::ConstantFlux => 8.235 * polynomial(a, [-2.0421, 3.0853, -2.4765, 1.0578, -0.1861]),
    }
}

const fn aspect(section: Section) -> f64 {
    match section {
        Section::BetweenPlates => 0.0,
        Section::Rectangular { aspect } => aspect,
    }
}

/// `1 + c₁ a + c₂ a² + …`
fn polynomial(a: f64, coefficients: [f64; 5]) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| (sum + c) * a) + 1.0
}

fn check(core: &PlateCore, flow_m3_per_s: f64) -> Result<(), GeometryError> {
    let air = &core.air;
    let ranges = [
        ("gap", core.gap_m, " m", 0.0005, 0.02),
        ("length", core.length_m, " m", 0.02, 3.0),
        ("width", core.width_m, " m", 0.02, 3.0),
        ("number of channels", f64::from(core.channels_per_stream), "", 1.0, 2000.0),
        ("aspect", aspect(core.section), "", 0.0, 1.0),
        ("plate resistance", core.plate_m2k_per_w, " m²K/W", 0.0, 1.0),
        ("membrane resistance", core.membrane_s_per_m.unwrap_or(0.0), " s/m", 0.0, 5000.0),
        ("viscosity", air.viscosity_pa_s, " Pa s", 1e-5, 3e-5),
        ("conductivity", air.conductivity_w_per_mk, " W/mK", 0.01, 0.05),
        ("density", air.density_kg_per_m3, " kg/m³", 0.5, 2.0),
        ("heat capacity", air.heat_capacity_j_per_kgk, " J/kgK", 900.0, 1100.0),
        ("flow", flow_m3_per_s, " m³/s", 1e-4, 10.0),
    ];
    match ranges.into_iter().find(|&(_, value, _, low, high)| !(low..=high).contains(&value)) {
        Some((quantity, value, unit, low, high)) => {
            Err(GeometryError::OutOfRange { quantity, value, unit, low, high })
        }
        None => Ok(()),
    }
}
