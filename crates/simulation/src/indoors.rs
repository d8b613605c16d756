//! What dries, dampens, sweats and stirs the air of a house, as numbers: humidifier, dehumidifier, glass, a building that dries out,
//! the blower of a furnace, a bedroom with its door closed.
//!
//! Not here: what they do in an hour (`treatment`, `panes`, `blower`, `bedroom`).

use lanes::Real;

use crate::inputs::numbers;
use crate::surfaces::GLASS_RESISTANCE_M2K_PER_W;

/// Kinds of glass that a house may have.
pub const MAX_PANES: usize = 4;

numbers! {
    /// Fittings of a house. A limit that is infinite, a flow or an area of zero: there is no such thing.
    IndoorsNumbers {
        /// The humidifier keeps relative humidity at this at least, 0 for none.
        humidify_to,
        /// Water it gives at most [kg/s].
        humidifier_kg_per_s,
        /// 1: it boils the water (isothermal); 0: room heat evaporates it (adiabatic).
        humidifier_steam,
        /// The dehumidifier keeps relative humidity at this at most; infinite for none.
        dry_to,
        /// Water it takes at most [kg/s].
        dehumidifier_kg_per_s,
        /// Its electricity for each kg of water [J/kg].
        dehumidifier_j_per_kg,
        /// Water that a new building gives on the first of January [kg/s], and how much less for each hour after [1/h].
        drying_kg_per_s,
        /// Rate at which that dies away [1/h].
        drying_per_h,
        /// Electricity of the blower while it runs \[W\].
        blower_w,
        /// 1: it runs all the time.
        blower_always,
        /// 1: it runs along with the ventilation unit.
        blower_with_unit,
        /// Heat that the heating gives while its burner runs \[W\], above 0: what makes a load a share of the hour.
        heating_w,
        /// Sensible heat that the cooling takes while its compressor runs \[W\], above 0.
        cooling_w,
        /// 1: water on the coil evaporates again while the blower runs on.
        re_evaporates,
        /// Share of the unit's flow that the return duct both brings and takes.
        through_return_duct,
        /// People who sleep in the bedroom, 0 for none that is looked at.
        sleepers,
        /// Dry air in it \[kg\], above 0.
        bedroom_air_kg,
        /// Share of the supply air that it gets.
        bedroom_supply_share,
        /// Hour of the day at which its door closes, and opens.
        bedroom_from_h,
        /// Hour of the day at which it opens.
        bedroom_to_h,
    }
}

numbers! {
    /// A kind of glass.
    PaneNumbers {
        /// Its area, edge included \[m²\]; 0 for none.
        area_m2,
        /// Share of the area that is edge.
        edge_share,
        /// Temperature of the inside of the glass, 0 at the outdoor, 1 at the indoor temperature: at its centre.
        centre_factor,
        /// The same at its edge.
        edge_factor,
    }
}

impl IndoorsNumbers<f64> {
    /// None of it.
    pub const NONE: Self = Self {
        humidify_to: 0.0,
        humidifier_kg_per_s: 0.0,
        humidifier_steam: 0.0,
        dry_to: f64::INFINITY,
        dehumidifier_kg_per_s: 0.0,
        dehumidifier_j_per_kg: 0.0,
        drying_kg_per_s: 0.0,
        drying_per_h: 0.0,
        blower_w: 0.0,
        blower_always: 0.0,
        blower_with_unit: 0.0,
        heating_w: 1.0,
        cooling_w: 1.0,
        re_evaporates: 0.0,
        through_return_duct: 0.0,
        sleepers: 0.0,
        bedroom_air_kg: 1.0,
        bedroom_supply_share: 0.0,
        bedroom_from_h: 0.0,
        bedroom_to_h: 0.0,
    };
}

impl PaneNumbers<f64> {
    /// No glass.
    pub const NONE: Self = Self { area_m2: 0.0, edge_share: 0.0, centre_factor: 1.0, edge_factor: 1.0 };

    /// Glass of an area \[m²\] and a transmittance [W/(m² K)], 0…7: its inside at `1 − 0.13 U`, its edge at this temperature
    /// factor, or at the centre's where that is lower.
    ///
    /// # Source
    /// Inside surface resistance of glazing: [ISO 13788], recalled. A fifth of an opening counts as edge: assumed, a strip of
    /// 63 mm round 1.2 m × 1.2 m.
    pub fn new(area_m2: f64, u_w_per_m2k: f64, edge_factor: f64) -> Self {
        let centre_factor = 1.0 - GLASS_RESISTANCE_M2K_PER_W * u_w_per_m2k;
        Self { area_m2, edge_share: 0.2, centre_factor, edge_factor: edge_factor.min(centre_factor) }
    }
}

/// Fittings of a house and its glass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct IndoorsOf<R> {
    /// All that is one number.
    pub numbers: IndoorsNumbers<R>,
    /// Its kinds of glass.
    pub panes: [PaneNumbers<R>; MAX_PANES],
}

/// Fittings of one house.
pub type Indoors = IndoorsOf<f64>;

impl IndoorsOf<f64> {
    /// None of it, and no glass that is looked at.
    pub const NONE: Self = Self { numbers: IndoorsNumbers::NONE, panes: [PaneNumbers::NONE; MAX_PANES] };
}

impl<R: Real> IndoorsOf<R> {
    /// A row from one item a lane; the last fills the lanes that are left.
    pub(crate) fn gather(items: &[Indoors]) -> Option<Self> {
        let numbers: Vec<IndoorsNumbers<f64>> = items.iter().map(|item| item.numbers).collect();
        let mut panes = [PaneNumbers::gather(&[PaneNumbers::NONE])?; MAX_PANES];
        for (k, pane) in panes.iter_mut().enumerate() {
            let of_lanes: Vec<PaneNumbers<f64>> = items.iter().map(|item| item.panes[k]).collect();
            *pane = PaneNumbers::gather(&of_lanes)?;
        }
        Some(Self { numbers: IndoorsNumbers::gather(&numbers)?, panes })
    }
}
