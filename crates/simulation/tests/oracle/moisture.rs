//! Water in the air of two zones, in the surface layer of the furnishings and on the panes. Explicit midpoint steps of a
//! minute: what flows at the middle of the minute is posted once, to both sides. Read next: `year.rs`.
//!
//! Choices:
//! - Supply air enters the rest, extract air leaves the wet zone, the same flow passes from the rest to the wet zone.
//! - People and plants are in the rest; so are panes, furnishings and the coil's return air.
//! - The layer's depth is that of a day's wave at 20 °C; one node with half its depth and the air film before it.
//! - Water on panes counts as liquid of the room's temperature in the heat, whatever its phase.

use super::air::{Saturation, liquid_j_per_kg, vapour_j_per_kg};
use super::case::{Case, Storage};

/// Capacities and conductances that stay.
pub struct Zones {
    wet_kg: f64,
    rest_kg: f64,
    door_kg_per_s: f64,
    /// Water per unit of relative humidity in the layer \[kg\], and its conductance [kg/(s Pa)].
    layer_kg: f64,
    layer_kg_per_spa: f64,
    panes: Vec<Pane>,
}

struct Pane {
    area_m2: f64,
    u_w_per_m2k: f64,
    kg_per_s: f64,
}

/// Humidity ratios [kg/kg], relative humidity of the layer [0…1], water on each pane \[kg\].
#[derive(Clone, Debug)]
pub struct Water {
    pub wet: f64,
    pub rest: f64,
    pub layer: f64,
    pub film_kg: Vec<f64>,
}

/// What flows in a minute.
#[derive(Clone, Copy, Debug, Default)]
pub struct Flows {
    /// Air [kg/s]: supply and extract through the core, leaks, recirculation.
    pub ventilation: f64,
    pub leakage: f64,
    pub recirculated: f64,
    /// Humidity ratio of supply and outdoor air.
    pub supply_w: f64,
    pub outdoor_w: f64,
    /// Sources [kg/s].
    pub to_wet: f64,
    pub to_rest: f64,
    /// Air through the coil [kg/s], and humidity ratio there of saturated air at the apparatus dew point; only the share
    /// of the air that does not pass untouched.
    pub coil: f64,
    pub coil_w: f64,
    pub room_c: f64,
    pub outdoor_c: f64,
}

/// Water that was moved in a minute \[kg\].
#[derive(Clone, Debug, Default)]
pub struct Moved {
    pub in_by_leaks: f64,
    pub out_by_leaks: f64,
    pub in_by_supply: f64,
    pub out_by_extract: f64,
    pub sources: f64,
    pub to_coil: f64,
    pub to_layer: f64,
    pub to_panes: f64,
    pub ran_off: f64,
    /// Condensed in saturated room air.
    pub condensed: f64,
    /// Latent heat for the room air \[J\].
    pub heat_j: f64,
}

struct Rates {
    wet: f64,
    rest: f64,
    layer: f64,
    coil: f64,
    panes: Vec<f64>,
}

/// Film of a pane: 3 W/(m² K) over the heat capacity of air; what it can hold.
const PANE_FILM: f64 = 3.0 / 1006.0;
const PANE_HOLDS_KG_PER_M2: f64 = 0.05;

impl Storage {
    /// Depth that a day's wave reaches at 20 °C \[m\].
    pub fn depth_m(&self) -> f64 {
        let saturated_pa = 2338.8037;
        (self.permeability * saturated_pa * 86_400.0 / (self.capacity_kg_per_m3 * std::f64::consts::PI))
            .sqrt()
    }
}

impl Zones {
    pub fn new(case: &Case, dry_air_kg_per_m3: f64) -> Self {
        let air_kg = case.volume_m3 * dry_air_kg_per_m3;
        let s = &case.storage;
        let depth = s.depth_m();
        let resistance = 1.0 / s.film + depth / (2.0 * s.permeability);
        let pane = |w: &super::case::Window| Pane {
            area_m2: w.area_m2,
            u_w_per_m2k: w.u_w_per_m2k,
            kg_per_s: if case.panes_sweat { PANE_FILM * w.area_m2 } else { 0.0 },
        };
        let zones = Self {
            wet_kg: case.wet_share * air_kg,
            rest_kg: (1.0 - case.wet_share) * air_kg,
            door_kg_per_s: case.door_kg_per_s,
            layer_kg: s.area_m2 * depth * s.capacity_kg_per_m3,
            layer_kg_per_spa: s.area_m2 / resistance,
            panes: case.windows.iter().map(pane).collect(),
        };
        let leaving = case.door_kg_per_s + case.ventilation_kg_per_s + case.leakage_kg_per_s;
        assert!(
            zones.wet_kg == 0.0 || 60.0 * leaving < 0.5 * zones.wet_kg,
            "a minute is too long for explicit steps of this wet zone"
        );
        zones
    }

    fn is_one_zone(&self) -> bool {
        self.wet_kg == 0.0
    }

    fn share(&self) -> f64 {
        self.wet_kg / (self.wet_kg + self.rest_kg)
    }

    /// Water in air, layer and films \[kg\].
    pub fn held_kg(&self, water: &Water) -> f64 {
        let films: f64 = water.film_kg.iter().sum();
        self.wet_kg * water.wet + self.rest_kg * water.rest + self.layer_kg * water.layer + films
    }

    pub fn at_start(&self, w: f64, relative_humidity: f64) -> Water {
        Water { wet: w, rest: w, layer: relative_humidity, film_kg: vec![0.0; self.panes.len()] }
    }

    /// Where the air stands half a minute on, if `flows` go on.
    pub fn halfway(&self, water: &Water, flows: &Flows, air: &Saturation) -> Water {
        let rates = self.rates(water, flows, water.wet, air);
        // The films stay as they are: they limit what the whole minute can take off them.
        Water { film_kg: water.film_kg.clone(), ..self.advanced(water, &rates, 30.0) }
    }

    /// One minute. `middle` is what [`Zones::halfway`] gave: the core has been solved with its extract air.
    pub fn minute(&self, water: &mut Water, middle: &Water, flows: &Flows, air: &Saturation) -> Moved {
        const S: f64 = 60.0;
        let rates = self.rates(middle, flows, middle.wet, air);
        let share = self.share();
        let mean = share * middle.wet + (1.0 - share) * middle.rest;
        let mut moved = Moved {
            in_by_leaks: flows.leakage * flows.outdoor_w * S,
            out_by_leaks: flows.leakage * mean * S,
            in_by_supply: flows.ventilation * flows.supply_w * S,
            out_by_extract: flows.ventilation * middle.wet * S,
            sources: (flows.to_wet + flows.to_rest) * S,
            to_coil: rates.coil * S,
            to_layer: rates.layer * S,
            to_panes: rates.panes.iter().sum::<f64>() * S,
            ..Moved::default()
        };
        *water = self.advanced(water, &rates, S);
        for (film, pane) in water.film_kg.iter_mut().zip(&self.panes) {
            let most = PANE_HOLDS_KG_PER_M2 * pane.area_m2;
            moved.ran_off += (*film - most).max(0.0);
            *film = film.min(most);
        }
        let most = air.ratio(flows.room_c).0;
        moved.condensed =
            self.wet_kg * (water.wet - most).max(0.0) + self.rest_kg * (water.rest - most).max(0.0);
        water.wet = water.wet.min(most);
        water.rest = water.rest.min(most);
        let latent = vapour_j_per_kg(flows.room_c) - liquid_j_per_kg(flows.room_c);
        moved.heat_j = latent * (moved.to_layer + moved.to_panes + moved.condensed);
        moved
    }

    fn advanced(&self, water: &Water, rates: &Rates, seconds: f64) -> Water {
        let rest = water.rest + rates.rest * seconds / self.rest_kg;
        let wet = if self.is_one_zone() { rest } else { water.wet + rates.wet * seconds / self.wet_kg };
        let layer = if self.layer_kg > 0.0 {
            water.layer + rates.layer * seconds / self.layer_kg
        } else {
            water.layer
        };
        let film_kg = water.film_kg.iter().zip(&rates.panes).map(|(kg, rate)| kg + rate * seconds).collect();
        Water { wet, rest, layer, film_kg }
    }

    /// Gains of the zones' air, of the layer, the coil and the panes [kg/s].
    fn rates(&self, water: &Water, flows: &Flows, extract_w: f64, air: &Saturation) -> Rates {
        let share = self.share();
        let layer = if self.layer_kg > 0.0 {
            let surface_pa = water.layer * air.pressure(flows.room_c).0;
            self.layer_kg_per_spa * (air.vapour_pressure(water.rest) - surface_pa)
        } else {
            0.0
        };
        let coil = flows.coil * (water.rest - flows.coil_w).max(0.0);
        let panes: Vec<f64> = self
            .panes
            .iter()
            .zip(&water.film_kg)
            .map(|(p, &kg)| p.rate(kg, water.rest, flows, air))
            .collect();
        let leak = |share: f64, w: f64| flows.leakage * share * (flows.outdoor_w - w);
        let taken = layer + coil + panes.iter().sum::<f64>();
        let supply = flows.ventilation * flows.supply_w;
        if self.is_one_zone() {
            let rest = flows.to_wet + flows.to_rest + leak(1.0, water.rest) + supply
                - flows.ventilation * extract_w
                - taken;
            return Rates { wet: rest, rest, layer, coil, panes };
        }
        let across = (self.door_kg_per_s + flows.recirculated) * (water.rest - water.wet);
        let transfer = flows.ventilation * water.rest;
        Rates {
            wet: flows.to_wet + leak(share, water.wet) + across + transfer - flows.ventilation * extract_w,
            rest: flows.to_rest + leak(1.0 - share, water.rest) - across + supply - transfer - taken,
            layer,
            coil,
            panes,
        }
    }
}

impl Pane {
    /// Water onto the pane, or off it where negative [kg/s]; no more than it has, within a minute.
    fn rate(&self, film_kg: f64, w: f64, flows: &Flows, air: &Saturation) -> f64 {
        if self.kg_per_s == 0.0 {
            return 0.0;
        }
        let inside = 1.0 - 0.13 * self.u_w_per_m2k;
        let surface_c = flows.outdoor_c + inside * (flows.room_c - flows.outdoor_c);
        (self.kg_per_s * (w - air.ratio(surface_c).0)).max(-film_kg / 60.0)
    }
}
