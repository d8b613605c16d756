//! The core whose label figures come closest to a sheet's.
//!
//! Least squares over the figures of frost-free points, all weighted the same; unknown are ln UA, ln of the vapour
//! conductance (kinds that pass vapour), the flow exponent (two flows or more) and the cross-leakage (not stated, and
//! a point tells apparent from corrected figures). Points below −10 °C outdoors contain defrost: they fix its loss only.
//!
//! Not here: what is refused beforehand (`checks`), the search (`least_squares`).

use lanes::Real;
use psychrometrics::formulas::CP_DRY_AIR_J_PER_KGK;

use super::air::TestAir;
use super::checks::{
    MOST_CROSS_LEAKAGE, TOLERANCE, believed, check, core_effectiveness, known_cross_leakage, leakage_between,
    passes_vapour, places,
};
use super::error::{Place, RatingError};
use super::figures::{Carrier, Figure, label_figures};
use super::fitted::{
    CrossLeakage, CrossLeakageSource, DefrostLoss, EffectivenessAtFlow, Fitted, FlowExponent, Naive,
    PointCheck, UseInFit,
};
use super::forward::{CoreSolver, RatedUnit, Test, dry_ntu, line_core, run_test};
use super::least_squares::{Parameter, least_squares};
use super::sheet::{Point, Sheet};

/// Exponent of a sheet with one flow, and what it may well be.
const ASSUMED_EXPONENT: f64 = 0.8;
const EXPONENT_SPREAD: (f64, f64) = (0.7, 1.0);
const EXPONENTS: (f64, f64) = (0.0, 1.5);
/// Flows that differ by less do not tell the exponent.
const TWO_FLOWS: f64 = 1.1;
/// NTU that the search may reach.
const NTU: (f64, f64) = (0.01, 100.0);
/// Starts of the search, as multiples of the conductances that a first guess gives.
const STARTS: [f64; 3] = [1.0, 0.6, 1.6];

/// Conductances, exponent and leak from a sheet, with the line solution.
///
/// # Errors
/// [`RatingError`]: numbers out of range; figures that no core can have, alone or together; a frost-free figure more
/// than 3 points away from the closest core; a cross-leakage above 0.1; nothing to fit.
///
/// The conductances are those of a counterflow core, whatever the kind; for another arrangement give [`fit_with`] a core
/// that is sized by `Core::new` for it.
///
/// # Example
/// ```
/// use exchanger::CoreKind;
/// use exchanger::rating::{Figure, Figures, Point, Sheet, Standard, fit};
///
/// let stated = Figures::none().with(Figure::ApparentSensible, 0.80).with(Figure::SensibleRecovery, 0.74);
/// let point = Point { power_w: Some(60.0), stated, ..Point::usual(Standard::CsaWinter, 0.05)? };
/// let fitted = fit(&Sheet::new(CoreKind::SensiblePlate, vec![point]))?;
/// assert!(fitted.unit.ua_w_per_k > 120.0 && fitted.cross_leakage.value < 0.05);
/// # Ok::<(), exchanger::rating::RatingError>(())
/// ```
pub fn fit(sheet: &Sheet) -> Result<Fitted, RatingError> {
    fit_with(sheet, &line_core(sheet.kind))
}

/// As [`fit`], with another solution of the core.
///
/// # Errors
/// As [`fit`].
pub fn fit_with(sheet: &Sheet, core: CoreSolver<'_>) -> Result<Fitted, RatingError> {
    check(sheet)?;
    let known = known_cross_leakage(sheet)?;
    let plan = Plan::of(sheet, known)?;
    below_one(sheet, &plan)?;
    let unit = plan.search(sheet, core);
    if plan.fits_leak {
        believed(Place::Sheet, unit.cross_leakage)?;
    }
    if plan.fits_exponent && !(EXPONENTS.0..=EXPONENTS.1).contains(&unit.flow_exponent) {
        return Err(RatingError::FlowExponent { value: unit.flow_exponent });
    }
    let points = compare(sheet, &unit, core);
    agree(&points)?;
    Ok(Fitted {
        unit,
        flow_exponent: exponent(&plan, &unit),
        cross_leakage: plan.leak_of(&unit, known),
        without_power: places(sheet).filter(|(_, p)| p.power_w.is_none()).map(|(place, _)| place).collect(),
        low_temperature: defrost(sheet, &points),
        naive: naive(sheet, &unit, core),
        points,
    })
}

/// What is fitted, and where the search starts.
struct Plan {
    unit: RatedUnit,
    passes_vapour: bool,
    fits_exponent: bool,
    fits_leak: bool,
}

impl Plan {
    fn of(sheet: &Sheet, known: Option<CrossLeakage>) -> Result<Self, RatingError> {
        let told = |carriers: &[Carrier]| {
            frost_free(sheet).any(|(_, p)| p.stated.iter().any(|(f, _)| carriers.contains(&f.carrier())))
        };
        let Some((_, first)) = frost_free(sheet).next().filter(|_| told(&[Carrier::Heat, Carrier::Both]))
        else {
            return Err(RatingError::NothingToFit);
        };
        let passes_vapour = passes_vapour(sheet.kind);
        let kinds = [Carrier::Heat, Carrier::Moisture, Carrier::Both].map(|carrier| told(&[carrier]));
        if passes_vapour && kinds.into_iter().filter(|&stated| stated).count() < 2 {
            return Err(RatingError::MoistureUnknown);
        }
        let fits_leak = known.is_none() && tells_leak(sheet);
        let cross_leakage = known.map_or(0.0, |leak| leak.value);
        let test = first.test();
        let unit = RatedUnit {
            ua_w_per_k: 0.0,
            vapour_kg_per_s: 0.0,
            at_kg_per_s: test.supply_kg_per_s,
            flow_exponent: ASSUMED_EXPONENT,
            cross_leakage: if fits_leak { first_leak(sheet) } else { cross_leakage },
            fan_position: sheet.fan_position,
            supply_fan_share: sheet.supply_fan_share,
            case_w_per_k: sheet.case_w_per_k,
        };
        let plan = Self { unit, passes_vapour, fits_exponent: two_flows(sheet), fits_leak };
        Ok(plan.with_first_conductances(sheet))
    }

    /// Conductances of a dry core at equal flows from the first figure of each kind.
    fn with_first_conductances(mut self, sheet: &Sheet) -> Self {
        let ntu = |effectiveness: f64| {
            let held = effectiveness.clamp(0.1, 0.95);
            held / (1.0 - held)
        };
        let leak = self.unit.cross_leakage;
        let first = |carriers: &[Carrier]| {
            frost_free(sheet).flat_map(|(_, p)| p.stated.iter().map(move |stated| (p, stated))).find_map(
                |(p, (f, value))| {
                    let guess = || core_effectiveness(sheet, p, f, leak).unwrap_or(value);
                    carriers.contains(&f.carrier()).then(guess)
                },
            )
        };
        let heat = first(&[Carrier::Heat]).or(first(&[Carrier::Both])).unwrap_or(0.7);
        let moisture = first(&[Carrier::Moisture]).or(first(&[Carrier::Both])).unwrap_or(0.5);
        let flow = self.unit.at_kg_per_s;
        self.unit.ua_w_per_k = ntu(heat) * flow * CP_DRY_AIR_J_PER_KGK;
        self.unit.vapour_kg_per_s = if self.passes_vapour { ntu(moisture) * flow } else { 0.0 };
        self
    }

    fn search(&self, sheet: &Sheet, core: CoreSolver<'_>) -> RatedUnit {
        let residuals = |values: &[f64]| -> Vec<f64> {
            let unit = self.unit_at(values);
            let used = compare(sheet, &unit, core).into_iter().filter(|c| c.use_in_fit == UseInFit::Fitted);
            used.map(|check| check.error).collect()
        };
        let mut best: Option<(Vec<f64>, f64)> = None;
        for factor in STARTS {
            let (values, sum) = least_squares(&self.parameters(factor), &residuals);
            if best.as_ref().is_none_or(|(_, least)| sum < *least) {
                best = Some((values, sum));
            }
        }
        best.map_or(self.unit, |(values, _)| self.unit_at(&values))
    }

    fn parameters(&self, factor: f64) -> Vec<Parameter> {
        let flow = self.unit.at_kg_per_s;
        let conductance = |start: f64, per_ntu: f64| Parameter {
            start: Real::ln(start * factor),
            low: Real::ln(NTU.0 * per_ntu),
            high: Real::ln(NTU.1 * per_ntu),
        };
        let mut parameters = vec![conductance(self.unit.ua_w_per_k, flow * CP_DRY_AIR_J_PER_KGK)];
        if self.passes_vapour {
            parameters.push(conductance(self.unit.vapour_kg_per_s, flow));
        }
        if self.fits_exponent {
            parameters.push(Parameter { start: ASSUMED_EXPONENT, low: -1.0, high: 3.0 });
        }
        if self.fits_leak {
            // Past what is believed, so that what would be needed can be told.
            let high = 3.0 * MOST_CROSS_LEAKAGE;
            parameters.push(Parameter { start: self.unit.cross_leakage, low: 0.0, high });
        }
        parameters
    }

    /// The unit for these values, in the order of `parameters`.
    fn unit_at(&self, values: &[f64]) -> RatedUnit {
        let mut unit = self.unit;
        let mut values = values.iter().copied();
        if let Some(logarithm) = values.next() {
            unit.ua_w_per_k = Real::exp(logarithm);
        }
        if self.passes_vapour
            && let Some(logarithm) = values.next()
        {
            unit.vapour_kg_per_s = Real::exp(logarithm);
        }
        if self.fits_exponent
            && let Some(exponent) = values.next()
        {
            unit.flow_exponent = exponent;
        }
        if self.fits_leak
            && let Some(share) = values.next()
        {
            unit.cross_leakage = share;
        }
        unit
    }

    fn leak_of(&self, unit: &RatedUnit, known: Option<CrossLeakage>) -> CrossLeakage {
        let source =
            if self.fits_leak { CrossLeakageSource::Fitted } else { CrossLeakageSource::TakenAsNone };
        known.unwrap_or(CrossLeakage { value: unit.cross_leakage, source })
    }
}

fn frost_free(sheet: &Sheet) -> impl Iterator<Item = (Place, &Point)> {
    places(sheet).filter(|(_, point)| !point.may_frost())
}

fn two_flows(sheet: &Sheet) -> bool {
    let flows = frost_free(sheet)
        .filter(|(_, p)| p.stated.iter().any(|(f, _)| f.carrier() != Carrier::Moisture))
        .map(|(_, p)| p.supply_m3_per_s);
    let (least, most) =
        flows.fold((f64::INFINITY, 0.0), |(a, b): (f64, f64), flow| (a.min(flow), b.max(flow)));
    most > TWO_FLOWS * least
}

/// Whether some point tells leaked air from the core: an apparent and a corrected figure of one kind, fan heat known
/// where it matters; or moisture in the supply air of a core that passes none.
fn tells_leak(sheet: &Sheet) -> bool {
    frost_free(sheet).any(|(_, point)| {
        let stated = |figures: &[Figure]| figures.iter().any(|&figure| point.stated.get(figure).is_some());
        let corrected = |plain: Figure, adjusted: Figure| {
            stated(&[adjusted]) || (point.power_w.is_some() && stated(&[plain]))
        };
        let heat = stated(&[Figure::ApparentSensible, Figure::SupplyTemperatureRatio])
            && corrected(Figure::SensibleRecovery, Figure::AdjustedSensibleRecovery);
        let total = stated(&[Figure::ApparentTotal])
            && corrected(Figure::TotalRecovery, Figure::AdjustedTotalRecovery);
        let carried = stated(&[Figure::ApparentMoisture, Figure::HumidityRatio]);
        let dry_plate = !passes_vapour(sheet.kind) && point.indoor.dry_bulb_c > point.outdoor.dry_bulb_c;
        heat || total || carried && (dry_plate || stated(&[Figure::MoistureRecovery]))
    })
}

/// Where the search for the leak starts.
fn first_leak(sheet: &Sheet) -> f64 {
    let between = frost_free(sheet).find_map(|(_, p)| leakage_between(sheet, &p.stated, p));
    between.unwrap_or(0.5 * MOST_CROSS_LEAKAGE).clamp(0.0, MOST_CROSS_LEAKAGE)
}

/// Refuses figures that an endless core could not reach.
fn below_one(sheet: &Sheet, plan: &Plan) -> Result<(), RatingError> {
    for (place, point) in frost_free(sheet) {
        for (figure, stated) in point.stated.iter() {
            match core_effectiveness(sheet, point, figure, plan.unit.cross_leakage) {
                Some(effectiveness) if effectiveness >= 1.0 => {
                    return Err(RatingError::Effectiveness { place, figure, stated, effectiveness });
                }
                _ => {}
            }
        }
    }
    Ok(())
}

/// Every stated figure beside what this unit gives.
fn compare(sheet: &Sheet, unit: &RatedUnit, core: CoreSolver<'_>) -> Vec<PointCheck> {
    let mut checks = Vec::new();
    for (place, point) in places(sheet) {
        let given = label_figures(&run_test(unit, &point.test(), core));
        let use_in_fit = if point.may_frost() { UseInFit::MayContainDefrost } else { UseInFit::Fitted };
        checks.extend(point.stated.iter().filter_map(|(figure, stated)| {
            let given_by_core = given.get(figure)?;
            let error = given_by_core - stated;
            Some(PointCheck { place, figure, stated, given_by_core, error, use_in_fit })
        }));
    }
    checks
}

/// Refuses a frost-free figure that is more than 3 points off, and names what pulls the other way.
fn agree(points: &[PointCheck]) -> Result<(), RatingError> {
    let mut used: Vec<&PointCheck> = points.iter().filter(|c| c.use_in_fit == UseInFit::Fitted).collect();
    used.sort_by(|a, b| b.error.abs().total_cmp(&a.error.abs()));
    let Some((first, rest)) = used.split_first() else { return Ok(()) };
    if first.error.abs() <= TOLERANCE {
        return Ok(());
    }
    let other_way = rest.iter().find(|c| c.error * first.error < 0.0);
    match other_way.or(rest.first()) {
        Some(second) => Err(RatingError::Contradiction { first: **first, second: **second }),
        None => Err(RatingError::OutOfReach { check: **first }),
    }
}

fn exponent(plan: &Plan, unit: &RatedUnit) -> FlowExponent {
    if plan.fits_exponent {
        return FlowExponent::Fitted(unit.flow_exponent);
    }
    let at = |flow_share: f64| {
        let with = |flow_exponent: f64| {
            let ntu = dry_ntu(&RatedUnit { flow_exponent, ..*unit }, unit.at_kg_per_s * flow_share);
            ntu / (1.0 + ntu)
        };
        EffectivenessAtFlow {
            flow_share,
            least_exponent: with(EXPONENT_SPREAD.0),
            assumed_exponent: with(ASSUMED_EXPONENT),
            largest_exponent: with(EXPONENT_SPREAD.1),
        }
    };
    FlowExponent::Assumed { value: ASSUMED_EXPONENT, spread: [at(0.5), at(1.5)] }
}

fn defrost(sheet: &Sheet, points: &[PointCheck]) -> Vec<DefrostLoss> {
    let reduction_at = |place: Place| {
        places(sheet).find(|&(here, _)| here == place).and_then(|(_, point)| point.ventilation_reduction)
    };
    let cold = points.iter().filter(|c| c.use_in_fit == UseInFit::MayContainDefrost);
    cold.map(|c| DefrostLoss {
        place: c.place,
        figure: c.figure,
        stated: c.stated,
        frost_free: c.given_by_core,
        difference: -c.error,
        ventilation_reduction: reduction_at(c.place),
    })
    .collect()
}

/// Which figure of a label is most likely to be taken for an effectiveness.
const TAKEN_FOR_EFFECTIVENESS: [Figure; 4] = [
    Figure::SensibleRecovery,
    Figure::ApparentSensible,
    Figure::SupplyTemperatureRatio,
    Figure::ExhaustTemperatureRatio,
];

fn naive(sheet: &Sheet, unit: &RatedUnit, core: CoreSolver<'_>) -> Option<Naive> {
    let (point, figure, stated) = frost_free(sheet).find_map(|(_, p)| {
        TAKEN_FOR_EFFECTIVENESS.into_iter().find_map(|figure| Some((p, figure, p.stated.get(figure)?)))
    })?;
    let test = point.test();
    let ua_w_per_k = crate::sizing::conductance_w_per_k(stated, test.supply_kg_per_s).ok()?;
    let believing = RatedUnit { ua_w_per_k, at_kg_per_s: test.supply_kg_per_s, flow_exponent: 1.0, ..*unit };
    let error_k = |outdoor_c: f64| {
        let outdoor = TestAir::at_relative_humidity(outdoor_c, 0.8).ok()?;
        let test = Test { outdoor, ..test };
        let supply_c = |unit: &RatedUnit| run_test(unit, &test, core).supply.dry_bulb_c;
        Some(supply_c(&believing) - supply_c(unit))
    };
    Some(Naive {
        figure,
        stated,
        ua_w_per_k,
        supply_error_at_0_c_k: error_k(0.0)?,
        supply_error_at_minus_20_c_k: error_k(-20.0)?,
    })
}
