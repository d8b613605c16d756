//! What a study says about a recovery unit: its core, how well it exchanges, its leaks.
//!
//! Here: plain values in SI, every check done; temperatures in °C. Not here: fans, filters and free cooling
//! (`model/fan.rs`), frost (`model/frost.rs`), what follows from all of them (`build`). Read next: `model/frost.rs`.

use super::{DefaultUsed, Fan, Filter, FreeCooling, Frost, UnitCost, Upkeep};
use crate::kinds::brief;

/// A recovery unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Unit {
    /// Name, unique within the study.
    pub name: String,
    /// What the core is made of.
    pub core: CoreKind,
    /// Where it stands.
    pub location: UnitLocation,
    /// How the streams pass each other; [`Arrangement::Counter`] for a wheel.
    pub arrangement: Arrangement,
    /// How well it exchanges.
    pub performance: Performance,
    /// Share of the supply air that is extract air leaked across [-], 0…0.1; `None` where the file leaves it out:
    /// fitted to the points of [`Performance::Ratings`], else 0.
    pub cross_leakage: Option<f64>,
    /// Outdoor air that enters over supply air that leaves [-], 0.9…1.1; never less than `1 − cross_leakage`.
    pub outdoor_air_correction: f64,
    /// Extract flow over supply flow [-], 0.5…2.
    pub balance: f64,
    /// Share of the air drawn in from outdoors that is the unit's own exhaust air [-], 0…0.3.
    pub hood_recirculation: f64,
    /// Heat capacity flow of the turning matrix over that of the smaller air flow [-], 1…50; `None` for plates.
    pub wheel_capacity_ratio: Option<f64>,
    /// Its fans.
    pub fan: Fan,
    /// Heat capacity of the core [J/K], 0.1…1000 kJ/K; `None` where the file leaves it out: by the size of the core, see
    /// [`Unit::core_heat_capacity_j_per_k`].
    pub core_heat_capacity_j_per_k: Option<f64>,
    /// What it does about frost.
    pub frost: Frost,
    /// How its filters load; `None`: they stay clean.
    pub filter: Option<Filter>,
    /// When its core is washed; `None`: it stays clean.
    pub upkeep: Option<Upkeep>,
    /// When air passes round its core to cool the house; `None`: never.
    pub free_cooling: Option<FreeCooling>,
    /// What it costs.
    pub cost: UnitCost,
}

/// Where a unit stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum UnitLocation {
    /// In the heated house.
    HeatedRoom,
    /// In a cellar that is not heated.
    Cellar,
    /// In an attic that is not heated.
    Attic,
    /// In a garage that is not heated.
    Garage,
}

impl Unit {
    /// Heat capacity of the core [J/K]: as stated, else that of plates for this heat conductance [W/K]:
    /// `UA/(25 W/m²K) × 0.5 kg/m² × 1300 J/kgK`, 26 J/K for each W/K.
    ///
    /// # Source
    /// Assumed: laminar passages of about 2 mm give some 25 W/m²K from air to air; a plastic plate of 0.4 mm weighs
    /// 0.5 kg/m² and takes 1.3 kJ/kgK.
    pub fn core_heat_capacity_j_per_k(&self, ua_w_per_k: f64) -> f64 {
        self.core_heat_capacity_j_per_k.unwrap_or(ua_w_per_k * CORE_J_PER_K_FOR_W_PER_K)
    }

    /// The same as an entry of the list of defaults, for whoever finds the conductance; `None` where it is stated.
    pub fn core_heat_capacity_default(&self, ua_w_per_k: f64) -> Option<DefaultUsed> {
        let assumed = self.core_heat_capacity_j_per_k.is_none();
        assumed.then(|| DefaultUsed {
            path: format!("unit.{}.core_heat_capacity", self.name),
            value: format!("{} kJ/K", brief(self.core_heat_capacity_j_per_k(ua_w_per_k) / 1000.0)),
            why: "assumed: plates of 0.5 kg/m² and 1.3 kJ/kgK, of an area that passes 25 W/m²K",
        })
    }
}

const CORE_J_PER_K_FOR_W_PER_K: f64 = 0.5 * 1300.0 / 25.0;

/// What a core is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CoreKind {
    /// Tight plates: heat alone.
    SensiblePlate,
    /// Membrane plates: heat and water vapour.
    EnthalpyPlate,
    /// A turning matrix that takes up heat alone.
    SensibleWheel,
    /// A turning matrix that takes up heat and water vapour.
    EnthalpyWheel,
}

impl CoreKind {
    /// Whether water vapour passes, beside heat.
    pub const fn passes_vapour(self) -> bool {
        matches!(self, Self::EnthalpyPlate | Self::EnthalpyWheel)
    }

    /// Whether it turns.
    pub const fn is_wheel(self) -> bool {
        matches!(self, Self::SensibleWheel | Self::EnthalpyWheel)
    }
}

/// How the two streams pass each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Arrangement {
    /// Counterflow.
    Counter,
    /// Crossflow, neither stream mixed.
    Cross,
    /// Counterflow in the middle, crossflow at both ends, as in hexagonal plates.
    QuasiCounter {
        /// Share of the plate area that is in counterflow [-], 0…1.
        counter_share: f64,
    },
}

/// How well a core exchanges, dry.
#[derive(Debug, Clone, PartialEq)]
pub enum Performance {
    /// Conductances, which hold at any temperature.
    Conductance {
        /// Heat conductance from air to air [W/K], 1…10 000.
        ua_w_per_k: f64,
        /// Vapour conductance from air to air [kg dry air/s]; 0 for a sensible core, else 0.0001…10.
        vapour_kg_per_s: f64,
        /// Flow at which they hold [m³/s], 2…2000 L/s.
        at_m3_per_s: f64,
    },
    /// The simple pair, at one balanced flow.
    Effectiveness {
        /// Sensible effectiveness [-], 0.05…0.97.
        sensible: f64,
        /// Latent effectiveness [-]; 0 for a sensible core, else 0.05…0.97.
        latent: f64,
        /// Flow at which they hold [m³/s], 2…2000 L/s.
        at_m3_per_s: f64,
    },
    /// The pair at two or more balanced flows: in ascending order of flow, no flow twice.
    EffectivenessTable(Vec<EffectivenessPoint>),
    /// What a rating sheet states: at least one point, one of them frost-free; in the order of the file.
    Ratings(Vec<RatingPoint>),
    /// Size of the plates, from which the conductances follow.
    Geometry(Geometry),
}

/// The effectivenesses at one balanced flow.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EffectivenessPoint {
    /// Sensible effectiveness [-], 0.05…0.97.
    pub sensible: f64,
    /// Latent effectiveness [-]; 0 for a sensible core, else 0.05…0.97.
    pub latent: f64,
    /// Flow at which they hold [m³/s], 2…2000 L/s.
    pub at_m3_per_s: f64,
}

/// The passages of a stack of plates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Geometry {
    /// Height of a passage, from plate to plate \[m\], 0.5…20 mm.
    pub gap_m: f64,
    /// Length of a passage along its stream \[m\], 0.05…3 m.
    pub length_m: f64,
    /// Width of a passage across its stream \[m\], 0.02…3 m.
    pub width_m: f64,
    /// Passages of each stream, 1…2000.
    pub channels: u32,
    /// Resistance of the membrane to water vapour [s/m], 1…5000; `None` for tight plates.
    pub membrane_resistance_s_per_m: Option<f64>,
}

/// A test standard, which says what a figure means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum RatingStandard {
    /// CSA C439: effectiveness and recovery efficiencies.
    CsaC439,
    /// EN 13141-7: temperature and humidity ratios.
    En13141Part7,
}

/// One test of a unit, as its rating sheet states it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RatingPoint {
    /// What the figures mean.
    pub standard: RatingStandard,
    /// Air outdoors, −50…50 °C.
    pub outdoor: RatedAir,
    /// Air indoors, 10…40 °C, 3 K or more away from that outdoors.
    pub indoor: RatedAir,
    /// Supply flow where it leaves the unit, leaked air included [m³/s], 2…2000 L/s.
    pub supply_m3_per_s: f64,
    /// Supply flow less the extract air leaked into it [m³/s], at most `supply_m3_per_s`, and at a frost-free point
    /// at least 0.9 of it.
    pub net_supply_m3_per_s: Option<f64>,
    /// Extract flow where it enters the unit [m³/s], 2…2000 L/s.
    pub extract_m3_per_s: f64,
    /// Electrical power of both fans together \[W\], 0…5000.
    pub power_w: f64,
    /// What was found; at least one.
    pub figures: RatedFigures,
    /// Share of the net supply flow that defrosting takes away [-], 0…0.5: 0 where nothing is lost. Only at a point
    /// that is not frost-free.
    pub ventilation_reduction: Option<f64>,
}

impl RatingPoint {
    /// The lowest outdoor temperature of a point that is taken to be free of frost [°C].
    pub const FROST_FREE_FROM_C: f64 = -10.0;

    /// Whether conductances can be found from the point: outdoors −10 °C or warmer, so that no defrosting is in it.
    pub fn is_frost_free(&self) -> bool {
        self.outdoor.dry_bulb_c >= Self::FROST_FREE_FROM_C
    }
}

/// Air as a test states it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RatedAir {
    /// Dry bulb [°C].
    pub dry_bulb_c: f64,
    /// How moist it is.
    pub humidity: RatedHumidity,
}

/// How moist air is, as it was stated.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RatedHumidity {
    /// Relative humidity [-], 0.01…1.
    Relative(f64),
    /// Wet bulb [°C]: not above the dry bulb, nor below that of perfectly dry air at 101 325 Pa.
    WetBulbC(f64),
}

/// What a test found, each 0…1.2 \[-\]; `None` where the sheet does not state it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct RatedFigures {
    /// Apparent sensible effectiveness: supply air, fan heat and leaks included. C439.
    pub apparent_sensible: Option<f64>,
    /// Sensible recovery efficiency: fan heat, leaks and defrosting taken out. C439.
    pub sensible_recovery: Option<f64>,
    /// The same with no term for the fans' energy. C439.
    pub adjusted_sensible_recovery: Option<f64>,
    /// Latent recovery, or moisture transfer, of the net supply air. C439, enthalpy cores only.
    pub latent_recovery: Option<f64>,
    /// Total (enthalpy) recovery efficiency. C439.
    pub total_recovery: Option<f64>,
    /// The same with no term for the fans' energy. C439.
    pub adjusted_total_recovery: Option<f64>,
    /// Temperature ratio on the supply side. EN 13141-7.
    pub temperature_ratio: Option<f64>,
    /// Humidity ratio on the supply side. EN 13141-7, enthalpy cores only.
    pub moisture_ratio: Option<f64>,
    /// Temperature ratio on the exhaust side. EN 13141-7.
    pub exhaust_temperature_ratio: Option<f64>,
}
