//! What the cell solution answers for a plate, added up cell by cell, and its books.
//!
//! Not here: the physics (`patch`).

use psychrometrics::formulas::{
    CP_DRY_AIR_J_PER_KGK, enthalpy_j_per_kg, ice_enthalpy_j_per_kg, liquid_enthalpy_j_per_kg,
    saturation_humidity_ratio,
};

use super::part::Place;
use super::patch::{Air, Patch, Plate, ice_share};
use super::series::Closed;
use crate::streams::Outlets;

/// Water that one side of the plate has taken from its air.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Deposit {
    /// Liquid [kg/s].
    pub liquid_kg_per_s: f64,
    /// Ice [kg/s].
    pub ice_kg_per_s: f64,
    /// Enthalpy of both, at the plate temperatures where they formed \[W\].
    pub enthalpy_w: f64,
}

/// The core at one place between the house side and the weather side.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PlatePoint {
    /// Share of the core on the house side of this place, 0…1.
    pub share: f64,
    /// Supply air [°C]; like all temperatures here a mean across the core at this place.
    pub supply_c: f64,
    /// Extract air [°C].
    pub extract_c: f64,
    /// Plate [°C].
    pub plate_c: f64,
    /// Share of the extract face that is wet or icy, 0…1.
    pub extract_wet_share: f64,
    /// Liquid and ice that form on the extract side here; the points add up to the core's [kg/s].
    pub extract_deposit_kg_per_s: f64,
    /// Of that, ice [kg/s].
    pub extract_ice_kg_per_s: f64,
}

/// A plate core, solved.
#[derive(Debug, Clone)]
pub struct PlateSolution {
    /// The air that leaves; streams that leave a crossflow grid are mixed.
    pub outlets: Outlets<f64>,
    /// Heat into the supply air through its film, without the enthalpy of vapour \[W\].
    pub heat_to_supply_w: f64,
    /// Vapour through the membrane into the supply side [kg/s].
    pub vapour_to_supply_kg_per_s: f64,
    /// What forms on the extract side.
    pub extract_deposit: Deposit,
    /// What forms on the supply side.
    pub supply_deposit: Deposit,
    /// Coldest spot of the plate, ends and corners included [°C].
    pub coldest_plate_c: f64,
    /// Coldest spot on which water or ice forms [°C].
    pub coldest_wet_plate_c: Option<f64>,
    /// From the house side to the weather side; for crossflow along the extract stream, averaged across.
    pub profile: Vec<PlatePoint>,
    /// Cells in which an air is above saturation itself, as droplets or ice needles that the model leaves in it
    /// as vapour.
    pub foggy_cells: usize,
    /// Enthalpy that the streams and the deposits do not account for, as a share of what the streams exchange
    /// (of 1 K of the smaller flow at least).
    pub heat_residual: f64,
    /// Water likewise (of a hundredth of what the streams carry at least).
    pub water_residual: f64,
    /// Newton steps.
    pub iterations: usize,
}

/// Adds up cells.
#[derive(Debug)]
pub(super) struct Tally {
    pressure_pa: f64,
    heat_to_supply_w: f64,
    vapour_to_supply_kg_per_s: f64,
    /// Supply side, extract side.
    deposit: [Deposit; 2],
    coldest_c: f64,
    coldest_wet_c: Option<f64>,
    profile: Vec<PlatePoint>,
    /// Cells that the last point of the profile has taken in.
    in_point: usize,
    foggy_cells: usize,
}

/// Less than this above saturation is rounding.
const FOG: f64 = 1e-9;

impl Tally {
    pub(super) fn new(plate: &Plate) -> Self {
        Self {
            pressure_pa: plate.pressure_pa,
            heat_to_supply_w: 0.0,
            vapour_to_supply_kg_per_s: 0.0,
            deposit: [Deposit::default(); 2],
            coldest_c: f64::INFINITY,
            coldest_wet_c: None,
            profile: Vec::new(),
            in_point: 0,
            foggy_cells: 0,
        }
    }

    /// Takes in a cell: its fluxes, its place in the profile, its plate temperature.
    pub(super) fn add(&mut self, patch: &Patch, place: Place) {
        self.heat_to_supply_w -= place.size * patch.heat_w[0];
        self.vapour_to_supply_kg_per_s += place.size * patch.crossing_kg_per_s;
        let ice = ice_share(patch.plate_c);
        let per_kg = ice * ice_enthalpy_j_per_kg(patch.plate_c)
            + (1.0 - ice) * liquid_enthalpy_j_per_kg(patch.plate_c);
        for (sum, rate) in self.deposit.iter_mut().zip(patch.deposit_kg_per_s) {
            let water = place.size * rate;
            sum.ice_kg_per_s += ice * water;
            sum.liquid_kg_per_s += (1.0 - ice) * water;
            sum.enthalpy_w += per_kg * water;
        }
        let saturated = |air: Air| air.w > (1.0 + FOG) * saturation_humidity_ratio(air.c, self.pressure_pa);
        self.foggy_cells += usize::from(patch.mean.into_iter().any(saturated));
        self.note_coldest(patch, place.size > 0.0);
        self.add_to_profile(patch, place);
    }

    /// Takes in a spot without extent: an end or a corner.
    pub(super) fn add_spot(&mut self, patch: &Patch, has_core: bool) {
        self.note_coldest(patch, has_core);
    }

    fn note_coldest(&mut self, patch: &Patch, has_core: bool) {
        self.coldest_c = self.coldest_c.min(patch.plate_c);
        if has_core && patch.deposit_kg_per_s.iter().any(|d| *d > 0.0) {
            let before = self.coldest_wet_c.unwrap_or(f64::INFINITY);
            self.coldest_wet_c = Some(before.min(patch.plate_c));
        }
    }

    fn add_to_profile(&mut self, patch: &Patch, place: Place) {
        if self.in_point == 0 {
            self.profile.push(PlatePoint { share: place.along, ..PlatePoint::default() });
        }
        self.in_point = (self.in_point + 1) % place.abreast;
        let Some(point) = self.profile.last_mut() else { return };
        let part = 1.0 / place.abreast as f64;
        let deposit = place.size * patch.deposit_kg_per_s[1];
        point.supply_c += part * patch.mean[0].c;
        point.extract_c += part * patch.mean[1].c;
        point.plate_c += part * patch.plate_c;
        point.extract_wet_share += if deposit > 0.0 { part } else { 0.0 };
        point.extract_deposit_kg_per_s += deposit;
        point.extract_ice_kg_per_s += deposit * ice_share(patch.plate_c);
    }

    /// Closes the books.
    pub(super) fn finish(self, plate: &Plate, inlet: [Air; 2], closed: &Closed) -> PlateSolution {
        let [supply, exhaust] = closed.out;
        let outlets = Outlets {
            supply_c: supply.c,
            supply_humidity_ratio: supply.w,
            exhaust_c: exhaust.c,
            exhaust_humidity_ratio: exhaust.w,
        };
        let (heat_residual, water_residual) = residuals(plate, inlet, closed.out, &self.deposit);
        PlateSolution {
            outlets,
            heat_to_supply_w: self.heat_to_supply_w,
            vapour_to_supply_kg_per_s: self.vapour_to_supply_kg_per_s,
            extract_deposit: self.deposit[1],
            supply_deposit: self.deposit[0],
            coldest_plate_c: self.coldest_c,
            coldest_wet_plate_c: self.coldest_wet_c,
            profile: self.profile,
            foggy_cells: self.foggy_cells,
            heat_residual,
            water_residual,
            iterations: closed.iterations,
        }
    }
}

/// Exchanged water below this is not told from the rounding of what the streams carry [kg/s].
pub(super) fn least_water(carried_kg_per_s: [f64; 2]) -> f64 {
    1e-2 * (carried_kg_per_s[0] + carried_kg_per_s[1]) + f64::MIN_POSITIVE
}

/// Heat and water that do not close, as shares of what is exchanged.
fn residuals(plate: &Plate, inlet: [Air; 2], out: [Air; 2], deposit: &[Deposit; 2]) -> (f64, f64) {
    let enthalpy = |air: Air| enthalpy_j_per_kg(air.c, air.w);
    let gained =
        |of: &dyn Fn(Air) -> f64| [0, 1].map(|side| plate.kg_per_s[side] * (of(out[side]) - of(inlet[side])));
    let heat = gained(&enthalpy);
    let water = gained(&|air: Air| air.w);
    let smaller = plate.kg_per_s[0].min(plate.kg_per_s[1]);
    let left = |d: &Deposit| d.liquid_kg_per_s + d.ice_kg_per_s;
    let residual = |gained: [f64; 2], left: f64, least: f64| {
        (gained[0] + gained[1] + left).abs() / gained[0].abs().max(gained[1].abs()).max(least)
    };
    (
        residual(heat, deposit[0].enthalpy_w + deposit[1].enthalpy_w, smaller * CP_DRY_AIR_J_PER_KGK),
        residual(
            water,
            left(&deposit[0]) + left(&deposit[1]),
            least_water([0, 1].map(|side| plate.kg_per_s[side] * inlet[side].w)),
        ),
    )
}
