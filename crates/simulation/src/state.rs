//! What a house and its unit remember from one hour to the next.
//!
//! Not here: what an hour does with it (`step`).

use lanes::Real;
use psychrometrics::formulas::{
    VAPORISATION_0C_J_PER_KG, fast_relative_humidity, fast_saturation_humidity_ratio,
};

use crate::drivers::HourDriver;
use crate::inputs::HouseOf;
use crate::mixing::Air;
use crate::moisture::Water;
use crate::panes::FILMS;
use crate::passages::Layer;
use crate::stale_air::OUTDOOR_CO2_PPM;
use crate::step::SORBED_J_PER_KG;

/// What a house and its unit remember from one hour to the next.
#[derive(Debug, Clone, Copy)]
pub struct State<R> {
    pub(crate) mass_c: R,
    pub(crate) water: Water<R>,
    /// Ice in the core \[kg\], and its enthalpy against liquid at 0 °C \[J\], below zero.
    pub(crate) frost_kg: R,
    pub(crate) frost_j: R,
    pub(crate) layer: Layer<R>,
    /// Heat that warms the core until the unit runs again \[J\].
    pub(crate) core_j: R,
    /// Heat found after the heat balance, paid into the next hour's air node \[J\].
    pub(crate) carried_j: R,
    /// Indoor air that the last hour ended with: where the core is first solved.
    pub(crate) last_air_c: R,
    pub(crate) last_extract_w: R,
    /// Carbon dioxide of the whole house \[ppm\], and of a bedroom that is looked at.
    pub(crate) co2_ppm: R,
    pub(crate) bedroom_ppm: R,
    /// Water on each film of the windows \[kg\].
    pub(crate) films_kg: [R; FILMS],
    /// Share of the last hour in which heating or cooling ran, with a blower.
    pub(crate) plant_share: R,
    /// Exhaust air of the last solution, before frost melts in it: what the hood draws back.
    pub(crate) exhaust: Air<R>,
}

impl<R: Real> State<R> {
    /// Where a lead-in starts: the building at the heating set-point, indoor air 2 g/kg above the outdoor air.
    pub fn start(house: &HouseOf<R>, first: &HourDriver) -> Self {
        let set_point = house.numbers.heating_set_point_c;
        let w = R::splat(first.outdoor_humidity_ratio + 0.002);
        let saturation = fast_saturation_humidity_ratio(set_point, R::splat(first.pressure_pa));
        let w = w.min(saturation * 0.8);
        let rh = fast_relative_humidity(set_point, w, R::splat(first.pressure_pa));
        let stores = house.numbers.surface_kg_per_s_pa.gt(R::zero());
        Self {
            mass_c: set_point,
            water: Water { rest_w: w, wet_w: w, surface_rh: R::select(stores, rh, R::zero()) },
            frost_kg: R::zero(),
            frost_j: R::zero(),
            layer: Layer::none(),
            core_j: R::zero(),
            carried_j: R::zero(),
            last_air_c: set_point,
            last_extract_w: w,
            co2_ppm: R::splat(OUTDOOR_CO2_PPM),
            bedroom_ppm: R::splat(OUTDOOR_CO2_PPM),
            films_kg: [R::zero(); FILMS],
            plant_share: R::zero(),
            exhaust: Air {
                temperature_c: R::splat(first.outdoor_c),
                humidity_ratio: R::splat(first.outdoor_humidity_ratio),
            },
        }
    }

    /// Heat stored in the house \[J\], water in it \[kg\], heat and water stored in the core.
    #[inline(always)]
    pub(crate) fn stored(&self, house: &HouseOf<R>) -> [R; 4] {
        let h = &house.numbers;
        let vapour = h.rest_air_kg * self.water.rest_w + h.wet_air_kg * self.water.wet_w;
        let sorbed = h.surface_capacity_kg * self.water.surface_rh;
        let mut films = R::zero();
        for film in &self.films_kg {
            films += *film;
        }
        let heat = h.mass_j_per_k * self.mass_c
            + vapour * VAPORISATION_0C_J_PER_KG
            + (sorbed + films) * SORBED_J_PER_KG
            + self.carried_j;
        [heat, vapour + sorbed + films, self.frost_j + self.core_j, self.frost_kg]
    }

    /// The state with some lane's numbers in every lane: lane `i` gets those of lane `of[i]`.
    #[inline(always)]
    pub(crate) fn spread<const N: usize>(&self, of: &[usize; N]) -> Self {
        let mut films_kg = self.films_kg;
        for film in &mut films_kg {
            *film = spread(*film, of);
        }
        Self {
            mass_c: spread(self.mass_c, of),
            water: Water {
                rest_w: spread(self.water.rest_w, of),
                wet_w: spread(self.water.wet_w, of),
                surface_rh: spread(self.water.surface_rh, of),
            },
            frost_kg: spread(self.frost_kg, of),
            frost_j: spread(self.frost_j, of),
            layer: Layer {
                thickness_m: spread(self.layer.thickness_m, of),
                spread: spread(self.layer.spread, of),
            },
            core_j: spread(self.core_j, of),
            carried_j: spread(self.carried_j, of),
            last_air_c: spread(self.last_air_c, of),
            last_extract_w: spread(self.last_extract_w, of),
            co2_ppm: spread(self.co2_ppm, of),
            bedroom_ppm: spread(self.bedroom_ppm, of),
            films_kg,
            plant_share: spread(self.plant_share, of),
            exhaust: Air {
                temperature_c: spread(self.exhaust.temperature_c, of),
                humidity_ratio: spread(self.exhaust.humidity_ratio, of),
            },
        }
    }

    /// Takes over, in these lanes, what deciding an hour does to a state: ice that a defrost melts, heat that the core pays out.
    #[inline(always)]
    pub(crate) fn take_decided(&mut self, lanes: R::Mask, decided: &Self) {
        self.frost_kg = R::select(lanes, decided.frost_kg, self.frost_kg);
        self.frost_j = R::select(lanes, decided.frost_j, self.frost_j);
        self.layer.thickness_m = R::select(lanes, decided.layer.thickness_m, self.layer.thickness_m);
        self.layer.spread = R::select(lanes, decided.layer.spread, self.layer.spread);
        self.core_j = R::select(lanes, decided.core_j, self.core_j);
    }
}

/// Lane `i` gets the number of lane `of[i]`.
#[inline(always)]
fn spread<R: Real, const N: usize>(x: R, of: &[usize; N]) -> R {
    R::from_lanes(
        #[inline(always)]
        |lane| x.lane(of[lane]),
    )
}
