//! The hourly heat balance: five resistances, one capacity.
//!
//! The simple hourly method of [ISO 13790] Annex C, with ventilation entering through the supply temperature's
//! own slope with the room's, so that the room balance is solved and not lagged. Nothing is divided by the
//! ventilation conductance, so a house without air change is no special case.
//!
//! Left out: sky long-wave exchange; heat capacity of the air (its stored vapour is booked by `step`).

use lanes::Real;

use crate::inputs::{HouseNumbers, HouseOf};

/// What drives the balance in one hour.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ThermalDrive<R> {
    /// Outdoor air [°C].
    pub(crate) outdoor_c: R,
    /// Heat that comes with air for each kelvin that the room is colder [W/K].
    pub(crate) air_w_per_k: R,
    /// Heat into the air node at a room temperature of 0 °C \[W\]: air streams, fans, half of the internal gains,
    /// heat carried over.
    pub(crate) air_w: R,
    /// Half of the internal gains and all of the sun \[W\]: what mass and surface share.
    pub(crate) radiant_w: R,
    /// Ground below the house [°C], and the conductance to it [W/K].
    pub(crate) ground_c: R,
    pub(crate) ground_w_per_k: R,
    /// How far the set-points are set back and up in this hour \[K\].
    pub(crate) set_back_k: R,
    pub(crate) set_up_k: R,
}

/// The hour's temperatures and loads.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ThermalHour<R> {
    pub(crate) air_c: R,
    pub(crate) surface_c: R,
    /// Mean of the hour.
    pub(crate) mass_c: R,
    pub(crate) mass_end_c: R,
    pub(crate) heating_w: R,
    /// Sensible heat removed, 0 or more.
    pub(crate) cooling_w: R,
}

/// The balance in terms of one unknown: heat given to the air.
struct Response<R> {
    capacity_w_per_k: R,
    damping: R,
    /// Reciprocals of all conductance to the air, and to the surface [K/W], and of capacity and damping [K/W].
    per_air: R,
    per_surface: R,
    per_mass: R,
    air_share: R,
}

/// Solves the hour: free-floating, then heating or cooling to the set-points within their capacities.
#[inline(always)]
pub(crate) fn solve_hour<R: Real>(
    house: &HouseOf<R>,
    mass_start_c: R,
    drive: &ThermalDrive<R>,
) -> ThermalHour<R> {
    let h = &house.numbers;
    let zero = R::zero();
    let response = response(h, drive);
    let free = temperatures(h, drive, &response, mass_start_c, zero);
    let w_per_k = R::one() / air_for_watt(h, &response);
    let wanted = |set_point: R| (set_point - free.air_c) * w_per_k;
    let heating_w = wanted(h.heating_set_point_c - drive.set_back_k).max(zero).min(h.heating_capacity_w);
    let cooling_w = (-wanted(h.cooling_set_point_c + drive.set_up_k)).max(zero).min(h.cooling_capacity_w);
    let hour = temperatures(h, drive, &response, mass_start_c, heating_w - cooling_w);
    ThermalHour { heating_w, cooling_w, ..hour }
}

#[inline(always)]
fn response<R: Real>(h: &HouseNumbers<R>, drive: &ThermalDrive<R>) -> Response<R> {
    let per_air = R::one() / (h.surface_to_air_w_per_k + drive.air_w_per_k);
    let air_share = h.surface_to_air_w_per_k * per_air;
    let h2 = drive.air_w_per_k * air_share + h.windows_w_per_k;
    let per_surface = R::one() / (h.mass_to_surface_w_per_k + h2);
    let h3 = h2 * h.mass_to_surface_w_per_k * per_surface;
    let capacity_w_per_k = h.mass_j_per_k * (1.0 / 3600.0);
    let damping = (h3 + h.outdoor_to_mass_w_per_k + drive.ground_w_per_k) * 0.5;
    Response {
        capacity_w_per_k,
        damping,
        per_air,
        per_surface,
        per_mass: R::one() / (capacity_w_per_k + damping),
        air_share,
    }
}

#[inline(always)]
fn temperatures<R: Real>(
    h: &HouseNumbers<R>,
    drive: &ThermalDrive<R>,
    r: &Response<R>,
    mass_start_c: R,
    plant_w: R,
) -> ThermalHour<R> {
    let air_w = drive.air_w + plant_w;
    let surface_gain = drive.radiant_w * (R::one() - h.gain_share_mass - h.gain_share_lost);
    let at_surface = surface_gain + h.windows_w_per_k * drive.outdoor_c + r.air_share * air_w;
    let at_mass = drive.radiant_w * h.gain_share_mass
        + h.outdoor_to_mass_w_per_k * drive.outdoor_c
        + drive.ground_w_per_k * drive.ground_c
        + h.mass_to_surface_w_per_k * r.per_surface * at_surface;
    let mass_end_c = (mass_start_c * (r.capacity_w_per_k - r.damping) + at_mass) * r.per_mass;
    let mass_c = (mass_start_c + mass_end_c) * 0.5;
    let surface_c = (h.mass_to_surface_w_per_k * mass_c + at_surface) * r.per_surface;
    let air_c = (h.surface_to_air_w_per_k * surface_c + air_w) * r.per_air;
    ThermalHour { air_c, surface_c, mass_c, mass_end_c, heating_w: R::zero(), cooling_w: R::zero() }
}

/// Kelvin of the air for each watt given to it.
#[inline(always)]
fn air_for_watt<R: Real>(h: &HouseNumbers<R>, r: &Response<R>) -> R {
    let mass = h.mass_to_surface_w_per_k * r.per_surface * r.air_share * r.per_mass * 0.5;
    let surface = (h.mass_to_surface_w_per_k * mass + r.air_share) * r.per_surface;
    (h.surface_to_air_w_per_k * surface + 1.0) * r.per_air
}

#[cfg(test)]
#[path = "thermal_tests.rs"]
pub(crate) mod thermal_tests;
