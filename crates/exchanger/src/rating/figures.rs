//! Label figures, and how they follow from what a test measures.
//!
//! Stations: 1 outdoor air, 2 supply air as delivered, 3 extract air, 4 exhaust air as it leaves the unit. `m` is a flow
//! of dry air, `m₂` of supply, `m₃` of extract air; `m_min`, `m_max` the smaller and the larger of the two; `e` the
//! share of the supply air that is extract air; `cp = 1006 + 1860 W₁`. Heats entering the supply stream: `Q_SF` of the
//! supply fan (and its controls), `Q_C` through the case from the test room, `Q_L` with leaked air; `Q_EF` of the
//! extract fan if it stands upstream of the core, else 0. Without heaters and defrost:
//!
//! | figure | formula |
//! | --- | --- |
//! | apparent sensible | `m₂ (t₂ − t₁) / (m_min (t₃ − t₁))` |
//! | sensible recovery | `(m₂ cp (t₂ − t₁) − Q_SF − Q_C − Q_L) / (m_max cp (t₃ − t₁) + Q_EF)`, `Q_L = e m₂ cp (t₃ − t₁)` |
//! | adjusted sensible recovery | the same without `Q_SF` and `Q_EF` |
//! | apparent moisture | `m₂ (W₂ − W₁) / (m_min (W₃ − W₁))` |
//! | moisture recovery | `m₂ (W₂ − W₁ − e (W₃ − W₁)) / (m_max (W₃ − W₁))` |
//! | apparent total | `m₂ (h₂ − h₁) / (m_min (h₃ − h₁))` |
//! | total recovery | as sensible recovery with `h` for `cp t`, `Q_L = e m₂ (h₃ − h₁)` |
//! | adjusted total recovery | the same without `Q_SF` and `Q_EF` |
//! | supply temperature ratio | `(t₂ − t₁) / (t₃ − t₁)` |
//! | exhaust temperature ratio | `(t₃ − t₄) / (t₃ − t₁)` |
//! | humidity ratio | `(W₂ − W₁) / (W₃ − W₁)` |
//!
//! In summer both numerator and denominator change sign, and fan heat counts against the unit.
//! Not here: how the states come about (`forward`).
//!
//! # Source
//! ASHRAE 84 and CSA C439 (sensible, moisture, total), EN 308 and EN 13141-7 (ratios): recalled from memory.

use std::fmt;

use psychrometrics::formulas::{enthalpy_j_per_kg, moist_heat_capacity};

use super::air::TestAir;

/// A figure that a label can state, as a fraction. The formulas stand at the head of this file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Figure {
    /// Apparent sensible effectiveness: fan heat, leak and case included.
    ApparentSensible,
    /// Sensible recovery efficiency: fan heat, leak and case taken out.
    SensibleRecovery,
    /// Adjusted sensible recovery efficiency: the fan terms left out of the formula.
    AdjustedSensibleRecovery,
    /// Apparent latent effectiveness: leak included.
    ApparentMoisture,
    /// Latent recovery, or moisture transfer: leak taken out.
    MoistureRecovery,
    /// Apparent total effectiveness, from enthalpies.
    ApparentTotal,
    /// Total recovery efficiency, from enthalpies.
    TotalRecovery,
    /// Adjusted total recovery efficiency: the fan terms left out of the formula.
    AdjustedTotalRecovery,
    /// Temperature ratio on the supply side.
    SupplyTemperatureRatio,
    /// Temperature ratio on the exhaust side.
    ExhaustTemperatureRatio,
    /// Humidity ratio on the supply side.
    HumidityRatio,
}

/// What carries a figure: this decides which conductance it can tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Carrier {
    Heat,
    Moisture,
    Both,
}

impl Figure {
    /// All figures, in the order of the formulas above.
    pub const ALL: [Self; 11] = [
        Self::ApparentSensible,
        Self::SensibleRecovery,
        Self::AdjustedSensibleRecovery,
        Self::ApparentMoisture,
        Self::MoistureRecovery,
        Self::ApparentTotal,
        Self::TotalRecovery,
        Self::AdjustedTotalRecovery,
        Self::SupplyTemperatureRatio,
        Self::ExhaustTemperatureRatio,
        Self::HumidityRatio,
    ];

    /// What the figure is called.
    pub const fn name(self) -> &'static str {
        match self {
            Self::ApparentSensible => "apparent sensible effectiveness",
            Self::SensibleRecovery => "sensible recovery",
            Self::AdjustedSensibleRecovery => "adjusted sensible recovery",
            Self::ApparentMoisture => "apparent moisture effectiveness",
            Self::MoistureRecovery => "moisture recovery",
            Self::ApparentTotal => "apparent total effectiveness",
            Self::TotalRecovery => "total recovery",
            Self::AdjustedTotalRecovery => "adjusted total recovery",
            Self::SupplyTemperatureRatio => "supply temperature ratio",
            Self::ExhaustTemperatureRatio => "exhaust temperature ratio",
            Self::HumidityRatio => "humidity ratio",
        }
    }

    pub(crate) fn carrier(self) -> Carrier {
        match self {
            Self::ApparentMoisture | Self::MoistureRecovery | Self::HumidityRatio => Carrier::Moisture,
            Self::ApparentTotal | Self::TotalRecovery | Self::AdjustedTotalRecovery => Carrier::Both,
            _ => Carrier::Heat,
        }
    }
}

impl fmt::Display for Figure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// Figures that are stated, or that a test gives; those that are not are `None`.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Figures([Option<f64>; 11]);

impl Figures {
    /// No figure.
    pub const fn none() -> Self {
        Self([None; 11])
    }

    /// These figures and one more, as a fraction.
    pub const fn with(mut self, figure: Figure, value: f64) -> Self {
        self.0[figure as usize] = Some(value);
        self
    }

    /// One figure, as a fraction.
    pub const fn get(&self, figure: Figure) -> Option<f64> {
        self.0[figure as usize]
    }

    /// The figures there are.
    pub fn iter(&self) -> impl Iterator<Item = (Figure, f64)> + '_ {
        Figure::ALL.into_iter().filter_map(|figure| Some((figure, self.get(figure)?)))
    }
}

/// Heats that a label's formulas name.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Heats {
    /// Supply fan energy that enters the supply stream \[W\].
    pub supply_fan_w: f64,
    /// Extract fan energy that enters upstream of the core \[W\].
    pub extract_fan_upstream_w: f64,
    /// Heat through the case from the test room into the supply stream \[W\].
    pub case_w: f64,
}

/// What a test measures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// Station 1.
    pub outdoor: TestAir,
    /// Station 2, as delivered.
    pub supply: TestAir,
    /// Station 3, as it leaves the house.
    pub extract: TestAir,
    /// Station 4, as it leaves the unit.
    pub exhaust: TestAir,
    /// Supply air as delivered [kg dry air/s].
    pub supply_kg_per_s: f64,
    /// Extract air as it leaves the house [kg dry air/s].
    pub extract_kg_per_s: f64,
    /// Share of the supply air that is extract air.
    pub cross_leakage: f64,
    /// Heats that entered.
    pub heats: Heats,
}

/// Differences between indoor and outdoor air below which a figure says nothing: 1 K, 0.5 g/kg, 1 kJ/kg.
const LEAST: (f64, f64, f64) = (1.0, 0.0005, 1000.0);

/// The label's figures, by the formulas at the head of this file.
///
/// A figure is `None` where indoor and outdoor air differ by less than 1 K, 0.5 g/kg or 1 kJ/kg in what it compares.
pub fn label_figures(test: &Measured) -> Figures {
    let rise = |air: TestAir| {
        let h = |a: TestAir| enthalpy_j_per_kg(a.dry_bulb_c, a.humidity_ratio);
        (
            air.dry_bulb_c - test.outdoor.dry_bulb_c,
            air.humidity_ratio - test.outdoor.humidity_ratio,
            h(air) - h(test.outdoor),
        )
    };
    let (full_k, full_w, full_h) = rise(test.extract);
    let (supply_k, supply_w, supply_h) = rise(test.supply);
    let cp = moist_heat_capacity(test.outdoor.humidity_ratio);
    let mut figures = Figures::none();
    if full_k.abs() >= LEAST.0 {
        let [apparent, recovery, adjusted] = efficiencies(test, cp * supply_k, cp * full_k);
        let exhaust_k = test.extract.dry_bulb_c - test.exhaust.dry_bulb_c;
        figures = figures
            .with(Figure::ApparentSensible, apparent)
            .with(Figure::SensibleRecovery, recovery)
            .with(Figure::AdjustedSensibleRecovery, adjusted)
            .with(Figure::SupplyTemperatureRatio, supply_k / full_k)
            .with(Figure::ExhaustTemperatureRatio, exhaust_k / full_k);
    }
    if full_w.abs() >= LEAST.1 {
        let unheated = Measured { heats: Heats::default(), ..*test };
        let [apparent, recovery, _] = efficiencies(&unheated, supply_w, full_w);
        figures = figures
            .with(Figure::ApparentMoisture, apparent)
            .with(Figure::MoistureRecovery, recovery)
            .with(Figure::HumidityRatio, supply_w / full_w);
    }
    if full_h.abs() >= LEAST.2 {
        let [apparent, recovery, adjusted] = efficiencies(test, supply_h, full_h);
        figures = figures
            .with(Figure::ApparentTotal, apparent)
            .with(Figure::TotalRecovery, recovery)
            .with(Figure::AdjustedTotalRecovery, adjusted);
    }
    figures
}

/// Apparent effectiveness, recovery efficiency and adjusted recovery efficiency of what each kg of dry air carries:
/// what the supply air gained, and what the extract air has above outdoor air.
fn efficiencies(test: &Measured, gained: f64, full: f64) -> [f64; 3] {
    let (supply, extract) = (test.supply_kg_per_s, test.extract_kg_per_s);
    let Heats { supply_fan_w, extract_fan_upstream_w, case_w } = test.heats;
    let unleaked = supply * (gained - test.cross_leakage * full) - case_w;
    let available = supply.max(extract) * full;
    [
        supply * gained / (supply.min(extract) * full),
        (unleaked - supply_fan_w) / (available + extract_fan_upstream_w),
        unleaked / available,
    ]
}
