//! A unit run at a test point: core, leak, fans, case.
//!
//! Flows: of the supply air `m₂` that is delivered, `e m₂` is extract air that joins behind the core; so `m₂ (1 − e)`
//! passes the supply side of the core and `m₃ − e m₂` its extract side. The core is solved with the test's own humidity,
//! wet where it is wet.
//!
//! Not here: what a label makes of it (`figures`).

use lanes::Real;
use psychrometrics::formulas::{
    CP_DRY_AIR_J_PER_KGK, enthalpy_j_per_kg, moist_heat_capacity, temperature_from_enthalpy_c,
};

use super::air::{RATED_PRESSURE_PA, TestAir};
use super::figures::{Heats, Measured};
use crate::line::solve;
use crate::streams::{Core, CoreKind, Inlets, Outlets, outlets};

/// Where the fans stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum FanPosition {
    /// Behind the core: the supply fan warms the supply air, the extract fan's heat leaves with the exhaust air.
    #[default]
    AfterCore,
    /// Before the core: the supply fan warms outdoor air, the extract fan warms extract air, both before the core.
    BeforeCore,
}

/// A unit as the test bench meets it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RatedUnit {
    /// Heat conductance at the flow below [W/K].
    pub ua_w_per_k: f64,
    /// Vapour conductance at the flow below [kg dry air/s], 0 for a core that passes none.
    pub vapour_kg_per_s: f64,
    /// Supply flow to which these belong [kg dry air/s].
    pub at_kg_per_s: f64,
    /// `n` in `NTU ∝ m⁻ⁿ`: 1 for developed laminar flow, 0.7…0.8 for developing flow, 0.2 for turbulent flow.
    pub flow_exponent: f64,
    /// Share of the supply air that is extract air, 0…0.1.
    pub cross_leakage: f64,
    /// Where the fans stand.
    pub fan_position: FanPosition,
    /// Share of the unit's power that is the supply fan's, 0…1.
    pub supply_fan_share: f64,
    /// Conductance of the case between test room and supply stream [W/K].
    pub case_w_per_k: f64,
}

impl RatedUnit {
    /// The core's conductances at another supply flow [kg dry air/s]: `UA ∝ m^(1 − n)`, vapour the same.
    ///
    /// Without flow nothing passes.
    pub fn core_at(&self, supply_kg_per_s: f64) -> Core<f64> {
        if supply_kg_per_s <= 0.0 {
            return Core::counterflow(0.0, 0.0);
        }
        let logarithm = Real::ln(supply_kg_per_s / self.at_kg_per_s);
        let ratio: f64 = Real::exp((1.0 - self.flow_exponent) * logarithm);
        Core::counterflow(self.ua_w_per_k * ratio, self.vapour_kg_per_s * ratio)
    }
}

/// The air, flows and power of a test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Test {
    /// Outdoor air.
    pub outdoor: TestAir,
    /// Indoor air: extract air, and the test room around the case.
    pub indoor: TestAir,
    /// Supply air as delivered [kg dry air/s].
    pub supply_kg_per_s: f64,
    /// Extract air as it leaves the house [kg dry air/s].
    pub extract_kg_per_s: f64,
    /// Electric power of both fans and the controls \[W\].
    pub power_w: f64,
}

/// A solution of the core: the states that leave it.
pub type CoreSolver<'a> = &'a dyn Fn(&Core<f64>, &Inlets<f64>) -> Outlets<f64>;

/// The line solution of a kind of core, as [`run_test`] asks for it.
pub fn line_core(kind: CoreKind) -> impl Fn(&Core<f64>, &Inlets<f64>) -> Outlets<f64> {
    move |core, inlets| outlets(inlets, &solve(kind, core, inlets))
}

/// Runs a unit at a test point with this solution of its core.
///
/// Supply air is `(1 − e)` of the core's outlet and `e` of extract air, mixed at constant enthalpy, then warmed by the
/// supply fan (behind the core) and through the case: `Q_C = K (t_room − (t₁ + t₂,core)/2)`. Both are spread over
/// `m₂ (1006 + 1860 W₂)`.
///
/// Valid for an extract flow above `e m₂`. Fog in the exhaust air is not looked for.
pub fn run_test(unit: &RatedUnit, test: &Test, core: CoreSolver<'_>) -> Measured {
    let e = unit.cross_leakage;
    let (supply, through_extract) = (test.supply_kg_per_s, test.extract_kg_per_s - e * test.supply_kg_per_s);
    let supply_fan_w = test.power_w * unit.supply_fan_share;
    let extract_fan_w = test.power_w - supply_fan_w;
    let (before, after) = match unit.fan_position {
        FanPosition::AfterCore => (0.0, 1.0),
        FanPosition::BeforeCore => (1.0, 0.0),
    };
    let outdoor = warmed(test.outdoor, before * supply_fan_w, supply * (1.0 - e));
    let indoor = warmed(test.indoor, before * extract_fan_w, through_extract);
    let inlets = Inlets {
        outdoor_c: outdoor.dry_bulb_c,
        outdoor_humidity_ratio: outdoor.humidity_ratio,
        extract_c: indoor.dry_bulb_c,
        extract_humidity_ratio: indoor.humidity_ratio,
        supply_kg_per_s: supply * (1.0 - e),
        extract_kg_per_s: through_extract,
        pressure_pa: RATED_PRESSURE_PA,
    };
    let out = core(&unit.core_at(supply), &inlets);
    let from_core = TestAir { dry_bulb_c: out.supply_c, humidity_ratio: out.supply_humidity_ratio };
    let case_w =
        unit.case_w_per_k * (test.indoor.dry_bulb_c - 0.5 * (test.outdoor.dry_bulb_c + from_core.dry_bulb_c));
    let mixed = mixed(from_core, test.indoor, e);
    let exhaust = TestAir { dry_bulb_c: out.exhaust_c, humidity_ratio: out.exhaust_humidity_ratio };
    Measured {
        outdoor: test.outdoor,
        supply: warmed(mixed, after * supply_fan_w + case_w, supply),
        extract: test.indoor,
        exhaust: warmed(exhaust, after * extract_fan_w, through_extract),
        supply_kg_per_s: supply,
        extract_kg_per_s: test.extract_kg_per_s,
        cross_leakage: e,
        heats: Heats { supply_fan_w, extract_fan_upstream_w: before * extract_fan_w, case_w },
    }
}

fn warmed(air: TestAir, heat_w: f64, dry_air_kg_per_s: f64) -> TestAir {
    let rise_k = heat_w / (dry_air_kg_per_s * moist_heat_capacity(air.humidity_ratio));
    TestAir { dry_bulb_c: air.dry_bulb_c + rise_k, ..air }
}

/// Air with this share of other air in it.
fn mixed(air: TestAir, other: TestAir, share: f64) -> TestAir {
    let blend = |a: f64, b: f64| a + share * (b - a);
    let humidity_ratio = blend(air.humidity_ratio, other.humidity_ratio);
    let h = |a: TestAir| enthalpy_j_per_kg(a.dry_bulb_c, a.humidity_ratio);
    let dry_bulb_c = temperature_from_enthalpy_c(blend(h(air), h(other)), humidity_ratio);
    TestAir { dry_bulb_c, humidity_ratio }
}

/// Dry counterflow NTU [–] of this unit at a supply flow [kg dry air/s], equal flows.
pub(crate) fn dry_ntu(unit: &RatedUnit, supply_kg_per_s: f64) -> f64 {
    unit.core_at(supply_kg_per_s).ua_w_per_k / (supply_kg_per_s * CP_DRY_AIR_J_PER_KGK)
}
