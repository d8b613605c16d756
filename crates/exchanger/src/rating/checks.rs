//! What is refused before anything is fitted.
//!
//! Not here: what only the fit can tell (residuals, fitted leak and exponent).

use psychrometrics::formulas::{enthalpy_j_per_kg, moist_heat_capacity, saturation_humidity_ratio};

use super::air::{RATED_PRESSURE_PA, TestAir};
use super::error::{Place, RatingError};
use super::figures::{Carrier, Figure, Figures, Measured, label_figures};
use super::fitted::{CrossLeakage, CrossLeakageSource};
use super::forward::FanPosition;
use super::sheet::{Point, Sheet};
use crate::streams::CoreKind;

/// How far a stated figure may be from what follows from others: 3 points.
pub(crate) const TOLERANCE: f64 = 0.03;
/// The most extract air in the supply air that is believed.
pub(crate) const MOST_CROSS_LEAKAGE: f64 = 0.1;
/// Net airflows are printed in whole L/s; two points may differ by this for that reason.
const LEAKAGE_ROUNDING: f64 = 0.01;

pub(crate) fn passes_vapour(kind: CoreKind) -> bool {
    kind.passes_vapour()
}

/// The points with their places.
pub(crate) fn places(sheet: &Sheet) -> impl Iterator<Item = (Place, &Point)> {
    sheet.points.iter().enumerate().map(|(i, point)| {
        let outdoor_c = point.outdoor.dry_bulb_c;
        (Place::Point { number: i + 1, standard: point.standard, outdoor_c }, point)
    })
}

/// Everything that each point shows by itself.
pub(crate) fn check(sheet: &Sheet) -> Result<(), RatingError> {
    let share = Range { quantity: "supply fan's share of the power", unit: "", low: 0.0, high: 1.0 };
    share.check(Place::Sheet, sheet.supply_fan_share)?;
    let case = Range { quantity: "conductance of the case", unit: " W/K", low: 0.0, high: 20.0 };
    case.check(Place::Sheet, sheet.case_w_per_k)?;
    for (place, point) in places(sheet) {
        ranges(place, point)?;
        meaning(place, point)?;
        moisture(sheet.kind, place, point)?;
        recovery_below_apparent(place, point)?;
        fan_heat(sheet, place, point)?;
        totals(sheet, place, point)?;
    }
    Ok(())
}

pub(crate) struct Range {
    pub(crate) quantity: &'static str,
    pub(crate) unit: &'static str,
    pub(crate) low: f64,
    pub(crate) high: f64,
}

impl Range {
    pub(crate) fn check(self, place: Place, value: f64) -> Result<(), RatingError> {
        let Self { quantity, unit, low, high } = self;
        if (low..=high).contains(&value) {
            return Ok(());
        }
        Err(RatingError::OutOfRange { place, quantity, value, unit, low, high })
    }
}

fn ranges(place: Place, point: &Point) -> Result<(), RatingError> {
    let check = |quantity, unit, (low, high), value| Range { quantity, unit, low, high }.check(place, value);
    let wettest = |air: TestAir| saturation_humidity_ratio(air.dry_bulb_c, RATED_PRESSURE_PA);
    let supply = point.supply_m3_per_s;
    check("outdoor air", " °C", (-40.0, 50.0), point.outdoor.dry_bulb_c)?;
    check("indoor air", " °C", (10.0, 40.0), point.indoor.dry_bulb_c)?;
    check("outdoor humidity ratio", "", (0.0, wettest(point.outdoor)), point.outdoor.humidity_ratio)?;
    check("indoor humidity ratio", "", (0.0, wettest(point.indoor)), point.indoor.humidity_ratio)?;
    check("supply airflow", " m³/s", (0.005, 5.0), supply)?;
    check("extract airflow", " m³/s", (0.5 * supply, 2.0 * supply), point.extract_m3_per_s)?;
    if let Some(net) = point.net_supply_m3_per_s {
        check("net supply airflow", " m³/s", (0.0, supply), net)?;
    }
    if let Some(power) = point.power_w {
        check("power", " W", (0.0, 5000.0), power)?;
    }
    if let Some(reduction) = point.ventilation_reduction {
        check("ventilation reduction", "", (0.0, 1.0), reduction)?;
    }
    for (figure, value) in point.stated.iter() {
        check(figure.name(), "", (0.0, 1.5), value)?;
    }
    Ok(())
}

/// Figures that compare air with its like are refused.
fn meaning(place: Place, point: &Point) -> Result<(), RatingError> {
    let defined = label_figures(&Measured {
        outdoor: point.outdoor,
        supply: point.outdoor,
        extract: point.indoor,
        exhaust: point.indoor,
        supply_kg_per_s: 1.0,
        extract_kg_per_s: 1.0,
        cross_leakage: 0.0,
        heats: super::figures::Heats::default(),
    });
    match point.stated.iter().find(|&(figure, _)| defined.get(figure).is_none()) {
        Some((figure, _)) => Err(RatingError::Meaningless { place, figure }),
        None => Ok(()),
    }
}

fn is_winter(point: &Point) -> bool {
    point.indoor.dry_bulb_c > point.outdoor.dry_bulb_c
}

/// In summer a plate dries the supply air, which reads as moisture recovered; so only winter points are judged.
fn moisture(kind: CoreKind, place: Place, point: &Point) -> Result<(), RatingError> {
    if passes_vapour(kind) || !is_winter(point) {
        return Ok(());
    }
    let by_leak = MOST_CROSS_LEAKAGE + TOLERANCE;
    let most = |figure| if figure == Figure::MoistureRecovery { TOLERANCE } else { by_leak };
    let carried =
        |&(figure, value): &(Figure, f64)| figure.carrier() == Carrier::Moisture && value > most(figure);
    match point.stated.iter().find(carried) {
        Some((figure, stated)) => Err(RatingError::Moisture { place, figure, stated }),
        None => Ok(()),
    }
}

fn recovery_below_apparent(place: Place, point: &Point) -> Result<(), RatingError> {
    let pair = (point.stated.get(Figure::SensibleRecovery), point.stated.get(Figure::ApparentSensible));
    match pair {
        (Some(recovery), Some(apparent)) if recovery > apparent && is_winter(point) => {
            Err(RatingError::RecoveryAboveApparent { place, recovery, apparent })
        }
        _ => Ok(()),
    }
}

/// The supply fan warms the air by less than the unit does. Where only recovery is stated, by less than the whole
/// difference between indoor and outdoor air.
fn fan_heat(sheet: &Sheet, place: Place, point: &Point) -> Result<(), RatingError> {
    let flows = Flows::of(point);
    let fan_w = flows.power_w * sheet.supply_fan_share;
    let full_w = flows.supply_w_per_k * flows.full_k;
    let ratio = point.stated.get(Figure::SupplyTemperatureRatio).map(|ratio| ratio * full_w);
    let apparent =
        point.stated.get(Figure::ApparentSensible).map(|ase| ase * flows.least_w_per_k * flows.full_k);
    let rise_w = apparent.or(ratio).unwrap_or(full_w);
    if is_winter(point) && fan_w > rise_w {
        return Err(RatingError::FanHeat { place, fan_w, rise_w });
    }
    Ok(())
}

/// A total, and the parts it is made of.
const TOTALS: [(Figure, Figure, Figure); 3] = [
    (Figure::ApparentTotal, Figure::ApparentSensible, Figure::ApparentMoisture),
    (Figure::TotalRecovery, Figure::SensibleRecovery, Figure::MoistureRecovery),
    (Figure::AdjustedTotalRecovery, Figure::AdjustedSensibleRecovery, Figure::MoistureRecovery),
];

/// A total is the mean of its parts, weighted by the enthalpy that each could carry.
fn totals(sheet: &Sheet, place: Place, point: &Point) -> Result<(), RatingError> {
    let silent = !passes_vapour(sheet.kind) && is_winter(point);
    for (figure, of_heat, of_moisture) in TOTALS {
        let (Some(total), Some(sensible)) = (point.stated.get(figure), point.stated.get(of_heat)) else {
            continue;
        };
        let weights = Weights::of(sheet, point, figure);
        let by_heat = sensible * weights.heat;
        let leaked = figure == Figure::ApparentTotal;
        let stated = point.stated.get(of_moisture).or((silent && !leaked).then_some(0.0));
        if let Some(moisture) = stated {
            let expected = by_heat + moisture * weights.moisture;
            if (total - expected).abs() > TOLERANCE {
                return Err(RatingError::Total { place, figure, total, sensible, moisture, expected });
            }
        } else if passes_vapour(sheet.kind) && weights.moisture.abs() > TOLERANCE {
            let moisture = (total - by_heat) / weights.moisture;
            let slack = (TOLERANCE / weights.moisture).abs();
            if !(-slack..=1.0 + slack).contains(&moisture) {
                return Err(RatingError::ImpliedMoisture { place, figure, total, sensible, moisture });
            }
        }
    }
    Ok(())
}

/// Shares of heat and moisture in what a total compares; they make 1 together.
struct Weights {
    heat: f64,
    moisture: f64,
}

impl Weights {
    fn of(sheet: &Sheet, point: &Point, total: Figure) -> Self {
        let enthalpy = |air: TestAir| enthalpy_j_per_kg(air.dry_bulb_c, air.humidity_ratio);
        let flows = Flows::of(point);
        let sensible_w = flows.largest_w_per_k * flows.full_k;
        let all_w = flows.largest_kg_per_s * (enthalpy(point.indoor) - enthalpy(point.outdoor));
        let upstream_w = match (total, sheet.fan_position) {
            (Figure::TotalRecovery, FanPosition::BeforeCore) => {
                flows.power_w * (1.0 - sheet.supply_fan_share)
            }
            _ => 0.0,
        };
        let heat = (sensible_w + upstream_w) / (all_w + upstream_w);
        Self { heat, moisture: 1.0 - heat }
    }
}

/// Cross-leakage as the sheet gives it: stated, or from net and gross airflow (mean of the points that give it).
pub(crate) fn known_cross_leakage(sheet: &Sheet) -> Result<Option<CrossLeakage>, RatingError> {
    let mut found: Option<CrossLeakage> = None;
    if let Some(value) = sheet.cross_leakage {
        Range { quantity: "cross-leakage", unit: "", low: 0.0, high: 1.0 }.check(Place::Sheet, value)?;
        believed(Place::Sheet, value)?;
        found = Some(CrossLeakage { value, source: CrossLeakageSource::Stated });
    }
    for (place, point) in places(sheet) {
        let Some(net) = point.net_supply_m3_per_s else { continue };
        let here = 1.0 - net / point.supply_m3_per_s;
        believed(place, here)?;
        let known = found.get_or_insert(CrossLeakage { value: here, source: CrossLeakageSource::Airflows });
        if (known.value - here).abs() > LEAKAGE_ROUNDING {
            return Err(RatingError::LeakageContradiction { place, here, elsewhere: known.value });
        }
    }
    Ok(found)
}

pub(crate) fn believed(place: Place, value: f64) -> Result<(), RatingError> {
    if value > MOST_CROSS_LEAKAGE {
        return Err(RatingError::CrossLeakage { place, value });
    }
    Ok(())
}

/// A point's flows as heat capacities, by the one `cp` of the label's formulas.
struct Flows {
    supply_w_per_k: f64,
    extract_w_per_k: f64,
    least_w_per_k: f64,
    largest_w_per_k: f64,
    largest_kg_per_s: f64,
    full_k: f64,
    power_w: f64,
}

impl Flows {
    fn of(point: &Point) -> Self {
        let test = point.test();
        let cp = moist_heat_capacity(point.outdoor.humidity_ratio);
        let (supply, extract) = (test.supply_kg_per_s, test.extract_kg_per_s);
        Self {
            supply_w_per_k: supply * cp,
            extract_w_per_k: extract * cp,
            least_w_per_k: supply.min(extract) * cp,
            largest_w_per_k: supply.max(extract) * cp,
            largest_kg_per_s: supply.max(extract),
            full_k: point.indoor.dry_bulb_c - point.outdoor.dry_bulb_c,
            power_w: test.power_w,
        }
    }
}

/// Cross-leakage by which a point's apparent sensible effectiveness and its sensible recovery differ, fans and case
/// taken out; none unless both are stated. The case's heat is estimated from the apparent figure.
pub(crate) fn leakage_between(sheet: &Sheet, stated: &Figures, point: &Point) -> Option<f64> {
    let flows = Flows::of(point);
    let apparent = stated.get(Figure::ApparentSensible)?;
    let recovery = stated.get(Figure::SensibleRecovery)?;
    let fan_w = flows.power_w * sheet.supply_fan_share;
    let upstream_w = match sheet.fan_position {
        FanPosition::AfterCore => 0.0,
        FanPosition::BeforeCore => flows.power_w - fan_w,
    };
    let gain_w = apparent * flows.least_w_per_k * flows.full_k;
    let case_w = sheet.case_w_per_k * flows.full_k * (1.0 - 0.5 * apparent);
    let recovered_w = recovery * (flows.largest_w_per_k * flows.full_k + upstream_w);
    Some((gain_w - recovered_w - fan_w - case_w) / (flows.supply_w_per_k * flows.full_k))
}

/// Effectiveness that a sensible figure leaves to the core, once fans, leak and case are taken out; none for others.
///
/// The label's formulas are solved for the core's outlet, with one `cp` for all air.
pub(crate) fn core_effectiveness(sheet: &Sheet, point: &Point, figure: Figure, e: f64) -> Option<f64> {
    let stated = point.stated.get(figure)?;
    let flows = Flows::of(point);
    let (full_k, supply) = (flows.full_k, flows.supply_w_per_k);
    let fan_w = flows.power_w * sheet.supply_fan_share;
    let extract_fan_w = flows.power_w - fan_w;
    let through = (supply * (1.0 - e), flows.extract_w_per_k - e * supply);
    let (fan_behind_w, upstream_w, warmed_k) = match sheet.fan_position {
        FanPosition::AfterCore => (fan_w, 0.0, (0.0, 0.0)),
        FanPosition::BeforeCore => (0.0, extract_fan_w, (fan_w / through.0, extract_fan_w / through.1)),
    };
    let case = sheet.case_w_per_k;
    let from_gain = |gain_w: f64| {
        (gain_w - e * supply * full_k - fan_behind_w - case * full_k) / (through.0 - 0.5 * case)
    };
    let outlet_rise_k = match figure {
        Figure::ApparentSensible => from_gain(stated * flows.least_w_per_k * full_k),
        Figure::SupplyTemperatureRatio => from_gain(stated * supply * full_k),
        Figure::SensibleRecovery => {
            (stated * (flows.largest_w_per_k * full_k + upstream_w) + fan_w - fan_behind_w) / through.0
        }
        Figure::AdjustedSensibleRecovery => {
            (stated * flows.largest_w_per_k * full_k - fan_behind_w) / through.0
        }
        _ => return None,
    };
    let ratio = (outlet_rise_k - warmed_k.0) / (full_k + warmed_k.1 - warmed_k.0);
    Some(ratio * through.0 / through.0.min(through.1))
}
