//! From what a study states of a unit to a core at the flows it runs at.
//!
//! Conductances are found once: as stated, from effectivenesses, by the fit to rating points, or from the measures of the
//! plates. They are then carried to the flows of the study, each air film with its own side's flow.
//! Not here: the fit (`exchanger::rating`), reading (`read`).

use exchanger::geometry::{ChannelAir, GeometryError, PlateAnswer, PlateCore, Section, Wall, plate_core};
use exchanger::rating::{
    FanPosition, Figure, Figures, Fitted, Point, RatingError, Sheet, Standard, TableRow, TestAir, fit_table,
    fit_with,
};
use exchanger::{Arrangement, Core, CoreKind, Inlets, Outlets, SizingError, ntu_of, outlets, solve};
use psychrometrics::formulas::CP_DRY_AIR_J_PER_KGK;
use simulation::{Flows, FlowsError, FrostPlanError};

use crate::model;

/// A unit's core, sized.
#[derive(Debug, Clone, PartialEq)]
pub struct SizedUnit {
    /// Kind of core; one kind a batch.
    pub kind: CoreKind,
    /// How the streams pass each other.
    pub arrangement: Arrangement,
    /// The core at the flows of the study.
    pub core: Core<f64>,
    /// Heat conductance of the core itself at those flows [W/K].
    pub ua_w_per_k: f64,
    /// Vapour conductance likewise [kg dry air/s].
    pub vapour_kg_per_s: f64,
    /// `n` in `NTU ∝ m⁻ⁿ`.
    pub flow_exponent: f64,
    /// The unit's flows.
    pub flows: Flows,
    /// The fit, for a unit described by rating points.
    pub fit: Option<Fitted>,
    /// What follows from the plates' measures, for a unit described by them.
    pub plates: Option<PlateAnswer>,
    /// Conductances as found, and the flow that they belong to.
    at: At,
}

/// Conductances at the flow of dry air that they were found at.
#[derive(Debug, Clone, Copy, PartialEq)]
struct At {
    ua_w_per_k: f64,
    vapour_kg_per_s: f64,
    kg_per_s: f64,
    /// Of a wheel whose films were stated: what turning costs is not in them yet.
    capacity_ratio: Option<f64>,
}

/// Why a unit cannot be sized.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SizedError {
    /// Conductances that no core has.
    #[error(transparent)]
    Sizing(#[from] SizingError),
    /// A rating sheet that contradicts itself, or a table that does.
    #[error(transparent)]
    Rating(#[from] RatingError),
    /// Plates outside the range of the laminar channel.
    #[error(transparent)]
    Geometry(#[from] GeometryError),
    /// Flows that do not fit together.
    #[error(transparent)]
    Flows(#[from] FlowsError),
    /// What is done about frost, or a fan, that cannot be run.
    #[error(transparent)]
    Frost(#[from] FrostPlanError),
    /// An effectiveness that this arrangement cannot have.
    #[error("an effectiveness of {effectiveness} cannot be reached in {arrangement} however large the core")]
    Unreachable {
        /// Asked for.
        effectiveness: f64,
        /// In words.
        arrangement: &'static str,
    },
}

/// NTU falls with flow to this power where nothing tells it: developing laminar flow, so each film grows with flow to the
/// power 0.2.
pub(crate) const NTU_FLOW_EXPONENT: f64 = 0.8;

/// Conductances as stated, and the flow of dry air that they belong to.
struct Stated {
    ua_w_per_k: f64,
    vapour_kg_per_s: f64,
    at_kg_per_s: f64,
    flow_exponent: f64,
    fit: Option<Fitted>,
    plates: Option<PlateAnswer>,
    /// A wheel's stated figures contain what turning costs, unless its films are stated themselves.
    films: Films,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Films {
    Stated,
    Within,
}

/// Sizes a unit that delivers this much supply air, in a house of this leakage, at this density of dry air [kg/m³].
///
/// # Errors
/// [`SizedError`] with the reason.
pub fn size(
    unit: &model::Unit,
    delivered_m3_per_s: f64,
    leakage_m3_per_s: f64,
    density_kg_per_m3: f64,
) -> Result<SizedUnit, SizedError> {
    let (kind, arrangement) = (kind(unit), arrangement(unit));
    let stated = stated(unit, (kind, arrangement), delivered_m3_per_s, density_kg_per_m3)?;
    let fitted_leak = stated.fit.as_ref().map(|fit| fit.unit.cross_leakage);
    let flows = Flows {
        delivered_kg_per_s: delivered_m3_per_s * density_kg_per_m3,
        balance: unit.balance,
        cross_leakage: unit.cross_leakage.or(fitted_leak).unwrap_or(0.0),
        outdoor_air_correction: unit.outdoor_air_correction,
        hood_recirculation: unit.hood_recirculation,
        leakage_kg_per_s: leakage_m3_per_s * density_kg_per_m3,
    };
    let at = At {
        ua_w_per_k: stated.ua_w_per_k,
        vapour_kg_per_s: stated.vapour_kg_per_s,
        kg_per_s: stated.at_kg_per_s,
        capacity_ratio: unit.wheel_capacity_ratio.filter(|_| stated.films == Films::Stated),
    };
    let core = Core::counterflow(at.ua_w_per_k, at.vapour_kg_per_s);
    let unscaled = SizedUnit {
        kind,
        arrangement,
        core,
        ua_w_per_k: at.ua_w_per_k,
        vapour_kg_per_s: at.vapour_kg_per_s,
        flow_exponent: stated.flow_exponent,
        flows,
        fit: stated.fit,
        plates: stated.plates,
        at,
    };
    unscaled.with_flows(flows)
}

impl SizedUnit {
    /// The same core at other flows.
    ///
    /// # Errors
    /// [`SizedError`] for flows that do not fit together, or a core that cannot be at them.
    pub fn with_flows(&self, flows: Flows) -> Result<Self, SizedError> {
        let through = simulation::Unit::of_flows(&flows)?;
        let sides = (through.supply_kg_per_s, through.extract_kg_per_s);
        let scale = flow_scale(&flows, self.at.kg_per_s, self.flow_exponent);
        let conductances = (self.at.ua_w_per_k * scale, self.at.vapour_kg_per_s * scale);
        let core = match self.at.capacity_ratio {
            Some(ratio) => Core::wheel(conductances, sides, ratio)?,
            None => Core::new(self.arrangement, conductances, sides)?,
        };
        let (ua_w_per_k, vapour_kg_per_s) = conductances;
        Ok(Self { core, ua_w_per_k, vapour_kg_per_s, flows, ..self.clone() })
    }
}

/// How conductances change from the flow that they are stated at: each film with its own port's flow.
fn flow_scale(flows: &Flows, at_kg_per_s: f64, exponent: f64) -> f64 {
    let film = |kg_per_s: f64| exchanger::flow_scale(kg_per_s / at_kg_per_s, exponent);
    let (supply, extract) = (film(flows.delivered_kg_per_s), film(flows.delivered_kg_per_s * flows.balance));
    2.0 / (1.0 / supply + 1.0 / extract)
}

fn kind(unit: &model::Unit) -> CoreKind {
    let crosses = unit.arrangement == model::Arrangement::Cross;
    match (unit.core, crosses) {
        (model::CoreKind::SensiblePlate, false) => CoreKind::SensiblePlate,
        (model::CoreKind::SensiblePlate, true) => CoreKind::SensibleCrossPlate,
        (model::CoreKind::EnthalpyPlate, false) => CoreKind::EnthalpyPlate,
        (model::CoreKind::EnthalpyPlate, true) => CoreKind::EnthalpyCrossPlate,
        (model::CoreKind::SensibleWheel, _) => CoreKind::SensibleWheel,
        (model::CoreKind::EnthalpyWheel, _) => CoreKind::EnthalpyWheel,
    }
}

fn arrangement(unit: &model::Unit) -> Arrangement {
    match unit.arrangement {
        model::Arrangement::Counter => Arrangement::Counter,
        model::Arrangement::Cross => Arrangement::Cross,
        model::Arrangement::QuasiCounter { counter_share } => Arrangement::QuasiCounter { counter_share },
    }
}

fn stated(
    unit: &model::Unit,
    (kind, arrangement): (CoreKind, Arrangement),
    delivered_m3_per_s: f64,
    density: f64,
) -> Result<Stated, SizedError> {
    let plain = |(ua_w_per_k, vapour_kg_per_s), at_kg_per_s, flow_exponent, films| Stated {
        ua_w_per_k,
        vapour_kg_per_s,
        at_kg_per_s,
        flow_exponent,
        fit: None,
        plates: None,
        films,
    };
    match &unit.performance {
        &model::Performance::Conductance { ua_w_per_k, vapour_kg_per_s, at_m3_per_s } => {
            Ok(plain((ua_w_per_k, vapour_kg_per_s), at_m3_per_s * density, NTU_FLOW_EXPONENT, Films::Stated))
        }
        &model::Performance::Effectiveness { sensible, latent, at_m3_per_s } => {
            let at = at_m3_per_s * density;
            let pair = (ntu(arrangement, sensible)?, ntu(arrangement, latent)?);
            Ok(plain((pair.0 * at * CP_DRY_AIR_J_PER_KGK, pair.1 * at), at, NTU_FLOW_EXPONENT, Films::Within))
        }
        model::Performance::EffectivenessTable(rows) => {
            let (pair, at, exponent) = of_table(rows, kind, arrangement, density)?;
            Ok(plain(pair, at, exponent, Films::Within))
        }
        model::Performance::Ratings(points) => of_ratings(unit, points, (kind, arrangement)),
        model::Performance::Geometry(measures) => of_plates(measures, delivered_m3_per_s, density),
    }
}

/// NTU of a core of this effectiveness at equal flows.
fn ntu(arrangement: Arrangement, effectiveness: f64) -> Result<f64, SizedError> {
    ntu_of(arrangement, effectiveness, 1.0).ok_or(SizedError::Unreachable {
        effectiveness,
        arrangement: match arrangement {
            Arrangement::Counter => "counterflow",
            Arrangement::Cross => "crossflow",
            Arrangement::QuasiCounter { .. } => "quasi-counterflow",
        },
    })
}

fn of_table(
    rows: &[model::EffectivenessPoint],
    kind: CoreKind,
    arrangement: Arrangement,
    density: f64,
) -> Result<((f64, f64), f64, f64), SizedError> {
    let rows: Vec<TableRow> = rows
        .iter()
        .map(|row| TableRow {
            flow_kg_per_s: row.at_m3_per_s * density,
            sensible: row.sensible,
            latent: kind.passes_vapour().then_some(row.latent),
        })
        .collect();
    let fitted = fit_table(&rows)?;
    let at = fitted.at_kg_per_s;
    // The table's law is that of counterflow; the arrangement's own conductance has the same effectiveness.
    let own = |counter_ntu: f64| ntu(arrangement, counter_ntu / (1.0 + counter_ntu));
    let heat = own(fitted.ua_w_per_k / (at * CP_DRY_AIR_J_PER_KGK))?;
    let vapour = own(fitted.vapour_kg_per_s / at)?;
    let exponent = fitted.flow_exponent.unwrap_or(NTU_FLOW_EXPONENT);
    Ok(((heat * at * CP_DRY_AIR_J_PER_KGK, vapour * at), at, exponent))
}

fn of_plates(measures: &model::Geometry, m3_per_s: f64, density: f64) -> Result<Stated, SizedError> {
    let core = PlateCore {
        gap_m: measures.gap_m,
        length_m: measures.length_m,
        width_m: measures.width_m,
        channels_per_stream: measures.channels,
        section: Section::BetweenPlates,
        wall: Wall::ConstantTemperature,
        plate_m2k_per_w: 0.0,
        membrane_s_per_m: measures.membrane_resistance_s_per_m,
        air: ChannelAir { density_kg_per_m3: density, ..ChannelAir::ROOM },
    };
    let answer = plate_core(&core, m3_per_s)?;
    Ok(Stated {
        ua_w_per_k: answer.ua_w_per_k,
        vapour_kg_per_s: answer.vapour_kg_per_s,
        at_kg_per_s: m3_per_s * density,
        // Developed laminar films do not change with flow.
        flow_exponent: 1.0,
        fit: None,
        plates: Some(answer),
        films: Films::Stated,
    })
}

fn of_ratings(
    unit: &model::Unit,
    points: &[model::RatingPoint],
    (kind, arrangement): (CoreKind, Arrangement),
) -> Result<Stated, SizedError> {
    let fitted = fit_ratings(unit, points, (kind, arrangement))?;
    Ok(Stated {
        ua_w_per_k: fitted.unit.ua_w_per_k,
        vapour_kg_per_s: fitted.unit.vapour_kg_per_s,
        at_kg_per_s: fitted.unit.at_kg_per_s,
        flow_exponent: fitted.unit.flow_exponent,
        fit: Some(fitted),
        plates: None,
        films: Films::Within,
    })
}

fn fit_ratings(
    unit: &model::Unit,
    points: &[model::RatingPoint],
    (kind, arrangement): (CoreKind, Arrangement),
) -> Result<Fitted, RatingError> {
    let points = points.iter().map(rated_point).collect::<Result<Vec<_>, _>>()?;
    let mut sheet = Sheet::new(kind, points);
    sheet.cross_leakage = unit.cross_leakage;
    sheet.supply_fan_share = unit.fan.supply_share;
    sheet.fan_position = match unit.fan.position {
        model::FanPosition::AfterCore => FanPosition::AfterCore,
        model::FanPosition::BeforeCore => FanPosition::BeforeCore,
    };
    let solved = move |core: &Core<f64>, inlets: &Inlets<f64>| solved(core, inlets, (kind, arrangement));
    fit_with(&sheet, &solved)
}

/// The line solution of a core of this arrangement with these conductances of its own.
fn solved(
    core: &Core<f64>,
    inlets: &Inlets<f64>,
    (kind, arrangement): (CoreKind, Arrangement),
) -> Outlets<f64> {
    // A trial of the fit may ask for more vapour than the films let pass: that core is the film's limit.
    let vapour = core.vapour_kg_per_s.min(core.ua_w_per_k / CP_DRY_AIR_J_PER_KGK);
    let flows = (inlets.supply_kg_per_s, inlets.extract_kg_per_s);
    let arranged = Core::new(arrangement, (core.ua_w_per_k, vapour), flows)
        .unwrap_or(Core::counterflow(core.ua_w_per_k, vapour));
    outlets(inlets, &solve(kind, &arranged, inlets))
}

fn rated_point(point: &model::RatingPoint) -> Result<Point, RatingError> {
    let figures = [
        (Figure::ApparentSensible, point.figures.apparent_sensible),
        (Figure::SensibleRecovery, point.figures.sensible_recovery),
        (Figure::AdjustedSensibleRecovery, point.figures.adjusted_sensible_recovery),
        (Figure::MoistureRecovery, point.figures.latent_recovery),
        (Figure::TotalRecovery, point.figures.total_recovery),
        (Figure::AdjustedTotalRecovery, point.figures.adjusted_total_recovery),
        (Figure::SupplyTemperatureRatio, point.figures.temperature_ratio),
        (Figure::ExhaustTemperatureRatio, point.figures.exhaust_temperature_ratio),
        (Figure::HumidityRatio, point.figures.moisture_ratio),
    ];
    let mut stated = Figures::none();
    for (figure, value) in figures {
        if let Some(value) = value {
            stated = stated.with(figure, value);
        }
    }
    Ok(Point {
        standard: standard(point),
        outdoor: rated_air(&point.outdoor)?,
        indoor: rated_air(&point.indoor)?,
        supply_m3_per_s: point.supply_m3_per_s,
        extract_m3_per_s: point.extract_m3_per_s,
        net_supply_m3_per_s: point.net_supply_m3_per_s,
        power_w: Some(point.power_w),
        stated,
        ventilation_reduction: point.ventilation_reduction.map(|lost| 1.0 - lost),
    })
}

/// The standard's point that is meant; its usual air is not used, since the study states the air.
fn standard(point: &model::RatingPoint) -> Standard {
    let outdoor_c = point.outdoor.dry_bulb_c;
    match point.standard {
        model::RatingStandard::CsaC439 if !point.is_frost_free() => Standard::CsaLowTemperature,
        model::RatingStandard::CsaC439 if outdoor_c > 20.0 => Standard::CsaSummer,
        model::RatingStandard::CsaC439 => Standard::CsaWinter,
        model::RatingStandard::En13141Part7 if !point.is_frost_free() => Standard::En13141Cold,
        model::RatingStandard::En13141Part7 => Standard::En13141,
    }
}

fn rated_air(air: &model::RatedAir) -> Result<TestAir, RatingError> {
    Ok(match air.humidity {
        model::RatedHumidity::Relative(rh) => TestAir::at_relative_humidity(air.dry_bulb_c, rh)?,
        model::RatedHumidity::WetBulbC(wet_bulb) => TestAir::at_wet_bulb(air.dry_bulb_c, wet_bulb)?,
    })
}
