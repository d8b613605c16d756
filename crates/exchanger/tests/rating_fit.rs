//! Sheets made from hidden units, and sheets worked out by hand: the fit finds the unit again.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use approx::{assert_abs_diff_eq, assert_relative_eq};
use exchanger::CoreKind;
use exchanger::rating::{
    CrossLeakageSource, FanPosition, Figure, Figures, Fitted, FlowExponent, Place, Point, RatedUnit, Sheet,
    Standard, TestAir, UseInFit, fit, label_figures, line_core, run_test,
};

/// A fixed additive recurrence (golden ratio in each dimension) spreads points evenly without a generator.
fn spread(n: usize, dimension: usize) -> f64 {
    const STEPS: [f64; 8] = [
        0.618033988749895,
        0.754877666246693,
        0.819172513396165,
        0.856674883854503,
        0.880970184254133,
        0.897653980206303,
        0.910146640231085,
        0.919767600131443,
    ];
    (0.5 + (n as f64 + 1.0) * STEPS[dimension]).fract()
}

/// A sheet whose figures a hidden unit gives: winter at three flows, and summer for a core that passes moisture.
fn sheet_of(kind: CoreKind, unit: &RatedUnit, noise: impl Fn(usize) -> f64) -> Sheet {
    let flow = unit.at_kg_per_s / 1.204;
    let mut told = vec![Figure::ApparentSensible, Figure::SensibleRecovery];
    let mut stations = vec![
        (Standard::CsaWinter, flow, 60.0),
        (Standard::CsaWinter, 0.75 * flow, 35.0),
        (Standard::CsaWinter, 0.5 * flow, 20.0),
    ];
    if kind == CoreKind::EnthalpyPlate {
        told.push(Figure::MoistureRecovery);
        stations.push((Standard::CsaSummer, flow, 60.0));
    }
    let mut points = Vec::new();
    let mut count = 0;
    for (standard, m3_per_s, power_w) in stations {
        let mut point = Point { power_w: Some(power_w), ..Point::usual(standard, m3_per_s).unwrap() };
        let given = label_figures(&run_test(unit, &point.test(), &line_core(kind)));
        for &figure in &told {
            point.stated = point.stated.with(figure, given.get(figure).unwrap() + noise(count));
            count += 1;
        }
        points.push(point);
    }
    Sheet {
        fan_position: unit.fan_position,
        supply_fan_share: unit.supply_fan_share,
        case_w_per_k: unit.case_w_per_k,
        ..Sheet::new(kind, points)
    }
}

/// The flow to which a fit's conductances belong is the dry air of the first point; the hidden unit is asked there.
fn hidden_at(unit: &RatedUnit, fitted: &Fitted) -> (f64, f64) {
    let core = unit.core_at(fitted.unit.at_kg_per_s);
    (core.ua_w_per_k, core.vapour_kg_per_s)
}

fn hidden(n: usize, kind: CoreKind) -> RatedUnit {
    let between = |dimension, low: f64, high: f64| low + (high - low) * spread(n, dimension);
    let at_kg_per_s = between(0, 0.03, 0.1);
    let ntu = between(1, 1.2, 5.0);
    let vapour_ntu = if kind == CoreKind::EnthalpyPlate { ntu * between(2, 0.3, 0.6) } else { 0.0 };
    RatedUnit {
        ua_w_per_k: ntu * at_kg_per_s * 1006.0,
        vapour_kg_per_s: vapour_ntu * at_kg_per_s,
        at_kg_per_s,
        flow_exponent: between(3, 0.5, 1.1),
        cross_leakage: between(4, 0.002, 0.095),
        fan_position: if n.is_multiple_of(4) { FanPosition::BeforeCore } else { FanPosition::AfterCore },
        supply_fan_share: between(5, 0.4, 0.6),
        case_w_per_k: between(6, 0.0, 1.0),
    }
}

#[test]
fn hidden_units_are_found_again_from_their_sheets() {
    let mut worst = [0.0_f64; 4];
    for n in 0..200 {
        let kind = if n % 2 == 0 { CoreKind::SensiblePlate } else { CoreKind::EnthalpyPlate };
        let unit = hidden(n, kind);
        let fitted = fit(&sheet_of(kind, &unit, |_| 0.0)).unwrap_or_else(|e| panic!("{n} {unit:?}: {e}"));
        let (ua, vapour) = hidden_at(&unit, &fitted);
        let off = [
            fitted.unit.ua_w_per_k / ua - 1.0,
            if vapour > 0.0 {
                fitted.unit.vapour_kg_per_s / vapour - 1.0
            } else {
                fitted.unit.vapour_kg_per_s
            },
            fitted.unit.flow_exponent - unit.flow_exponent,
            fitted.unit.cross_leakage - unit.cross_leakage,
        ];
        for (most, here) in worst.iter_mut().zip(off) {
            *most = most.max(here.abs());
        }
    }
    println!("worst of UA, vapour conductance, exponent, leak: {worst:?}");
    assert!(worst.iter().all(|&most| most < 1e-6), "{worst:?}");
}

/// Labels are printed in whole points and measured no better: each figure is off by up to one point, evenly spread.
#[test]
fn one_point_of_noise_moves_the_conductance_by_less_than_five_per_cent() {
    for (n, kind, ntu) in [
        (0, CoreKind::SensiblePlate, 2.0),
        (1, CoreKind::SensiblePlate, 3.0),
        (2, CoreKind::EnthalpyPlate, 2.5),
    ] {
        let unit = RatedUnit {
            ua_w_per_k: ntu * 0.06 * 1006.0,
            vapour_kg_per_s: if kind == CoreKind::EnthalpyPlate { 0.5 * ntu * 0.06 } else { 0.0 },
            at_kg_per_s: 0.06,
            flow_exponent: 0.8,
            cross_leakage: 0.03,
            fan_position: FanPosition::AfterCore,
            supply_fan_share: 0.5,
            case_w_per_k: 0.0,
        };
        let sheet = sheet_of(kind, &unit, |count| 0.02 * (spread(count, n) - 0.5));
        let fitted = fit(&sheet).unwrap();
        let (ua, vapour) = hidden_at(&unit, &fitted);
        println!(
            "sheet {n}: UA {:+.4}, vapour {:.5} of {vapour:.5} kg/s, n {:.3}, e {:.4}",
            fitted.unit.ua_w_per_k / ua - 1.0,
            fitted.unit.vapour_kg_per_s,
            fitted.unit.flow_exponent,
            fitted.unit.cross_leakage
        );
        assert_relative_eq!(fitted.unit.ua_w_per_k, ua, max_relative = 0.05);
    }
}

/// A point in dry air, 0 °C outdoors and 20 °C indoors, this dry-air flow on both sides.
fn round(kg_per_s: f64, power_w: f64, stated: Figures) -> Point {
    Point {
        outdoor: TestAir::dry(0.0),
        indoor: TestAir::dry(20.0),
        power_w: Some(power_w),
        stated,
        ..Point::usual(Standard::CsaWinter, kg_per_s / 1.204).unwrap()
    }
}

/// No leak. 0.05 kg/s: `m cp` 50.3 W/K, UA 201.2 W/K, NTU 4, ε 0.8, core 16 °C; supply fan 25.15 W, 0.5 K: 16.5 °C.
/// Apparent 0.825, recovery (829.95 − 25.15)/1006 = 0.800.
/// 0.025 kg/s, developed laminar flow (UA the same): NTU 8, ε 0.8889, core 17.778 °C; supply fan 6.2875 W, 0.25 K:
/// apparent 0.9014, recovery 0.8889. The label prints whole points.
fn tight_sheet() -> Sheet {
    let stated = |apparent, recovery| {
        Figures::none().with(Figure::ApparentSensible, apparent).with(Figure::SensibleRecovery, recovery)
    };
    let points = vec![round(0.05, 50.3, stated(0.83, 0.80)), round(0.025, 12.575, stated(0.90, 0.89))];
    Sheet { cross_leakage: Some(0.0), ..Sheet::new(CoreKind::SensiblePlate, points) }
}

#[test]
fn a_tight_unit_worked_by_hand_is_found() {
    let fitted = fit(&tight_sheet()).unwrap();
    assert!(fitted.points.iter().all(|check| check.error.abs() < 0.01), "{:?}", fitted.points);
    // Half a point of rounding at ε 0.8 is 3 % of UA.
    assert_relative_eq!(fitted.unit.ua_w_per_k, 201.2, max_relative = 0.03);
    let FlowExponent::Fitted(n) = fitted.flow_exponent else { panic!("two flows were given") };
    assert_abs_diff_eq!(n, 1.0, epsilon = 0.1);
    assert_eq!(fitted.cross_leakage.source, CrossLeakageSource::Stated);
    assert!(fitted.without_power.is_empty() && fitted.low_temperature.is_empty());
}

/// 4 % leaked. 0.05 kg/s, of which 0.048 pass the core on each side: `m cp` 48.288 W/K, UA 144.864 W/K, NTU 3, ε 0.75,
/// core 15 °C; 0.96 · 15 + 0.04 · 20 = 15.2 °C; supply fan 25.15 W, 0.5 K: 15.7 °C. Apparent 0.785, recovery
/// (50.3 · 15.7 − 25.15 − 0.04 · 50.3 · 20)/1006 = 0.720.
fn leaky_sheet() -> Sheet {
    let stated = Figures::none().with(Figure::ApparentSensible, 0.785).with(Figure::SensibleRecovery, 0.720);
    Sheet::new(CoreKind::SensiblePlate, vec![round(0.05, 50.3, stated)])
}

#[test]
fn a_leaky_unit_worked_by_hand_is_found_with_its_leak() {
    let fitted = fit(&leaky_sheet()).unwrap();
    assert_relative_eq!(fitted.unit.ua_w_per_k, 144.864, max_relative = 1e-6);
    assert_abs_diff_eq!(fitted.cross_leakage.value, 0.04, epsilon = 1e-7);
    assert_eq!(fitted.cross_leakage.source, CrossLeakageSource::Fitted);
    assert!(fitted.points.iter().all(|check| check.error.abs() < 0.01));
}

/// NTU at the delivered flow is 144.864/50.3 = 2.88. At half the flow 2.88 · 0.5⁻ⁿ: n 0.7 4.6786, 0.8 5.0143,
/// 1 5.76; ε = NTU/(1 + NTU).
#[test]
fn one_flow_leaves_the_exponent_assumed_and_its_spread_is_reported() {
    let fitted = fit(&leaky_sheet()).unwrap();
    let FlowExponent::Assumed { value, spread: [half, more] } = fitted.flow_exponent else {
        panic!("one flow was given")
    };
    assert_eq!((value, half.flow_share, more.flow_share), (0.8, 0.5, 1.5));
    assert_abs_diff_eq!(half.least_exponent, 0.8239, epsilon = 5e-5);
    assert_abs_diff_eq!(half.assumed_exponent, 0.8337, epsilon = 5e-5);
    assert_abs_diff_eq!(half.largest_exponent, 0.8521, epsilon = 5e-5);
    assert!(more.least_exponent > more.assumed_exponent && more.assumed_exponent > more.largest_exponent);
}

#[test]
fn net_and_gross_airflow_fix_the_leak() {
    let mut sheet = leaky_sheet();
    let gross = sheet.points[0].supply_m3_per_s;
    sheet.points[0].net_supply_m3_per_s = Some(0.96 * gross);
    let fitted = fit(&sheet).unwrap();
    assert_abs_diff_eq!(fitted.cross_leakage.value, 0.04, epsilon = 1e-12);
    assert_eq!(fitted.cross_leakage.source, CrossLeakageSource::Airflows);
    assert_relative_eq!(fitted.unit.ua_w_per_k, 144.864, max_relative = 1e-6);
}

/// Recovery of 0.72 alone, no leak assumed: ε 0.72, NTU 2.5714, UA 129.34 W/K.
#[test]
fn a_leak_that_nothing_tells_is_taken_as_none_and_said_so() {
    let mut sheet = leaky_sheet();
    sheet.points[0].stated = Figures::none().with(Figure::SensibleRecovery, 0.72);
    sheet.points[0].power_w = None;
    let fitted = fit(&sheet).unwrap();
    assert_eq!(fitted.cross_leakage.source, CrossLeakageSource::TakenAsNone);
    assert_eq!(
        fitted.without_power,
        [Place::Point { number: 1, standard: Standard::CsaWinter, outdoor_c: 0.0 }]
    );
    assert_relative_eq!(fitted.unit.ua_w_per_k, 0.72 / 0.28 * 50.3, max_relative = 1e-6);
}

/// The tight unit's first point, apparent figure only: 0.825 taken as effectiveness where 0.8 is right, and the fan's
/// heat added once more: 0.025 · 20 = 0.5 K too warm at 0 °C, 0.025 · 40 = 1.0 K at −20 °C.
/// The leaky unit's recovery of 0.72 taken as effectiveness: UA 129.34 W/K in 48.288 W/K, NTU 2.6786, ε 0.72816 where
/// 0.75 is right: 0.96 · 0.02184 · 20 = 0.419 K too cold at 0 °C, 0.839 K at −20 °C.
/// Outdoor air of 80 % instead of dry air moves these by less than 0.01 K.
#[test]
fn a_label_taken_as_effectiveness_errs_by_half_a_kelvin_to_one() {
    let stated = Figures::none().with(Figure::ApparentSensible, 0.825);
    let tight = Sheet { points: vec![round(0.05, 50.3, stated)], ..tight_sheet() };
    let naive = fit(&tight).unwrap().naive.unwrap();
    println!("apparent: {:+.3} K, {:+.3} K", naive.supply_error_at_0_c_k, naive.supply_error_at_minus_20_c_k);
    assert_eq!((naive.figure, naive.stated), (Figure::ApparentSensible, 0.825));
    assert_abs_diff_eq!(naive.supply_error_at_0_c_k, 0.5, epsilon = 0.01);
    assert_abs_diff_eq!(naive.supply_error_at_minus_20_c_k, 1.0, epsilon = 0.01);
    let naive = fit(&leaky_sheet()).unwrap().naive.unwrap();
    println!("recovery: {:+.3} K, {:+.3} K", naive.supply_error_at_0_c_k, naive.supply_error_at_minus_20_c_k);
    assert_eq!(naive.figure, Figure::SensibleRecovery);
    assert_abs_diff_eq!(naive.supply_error_at_0_c_k, -0.419, epsilon = 0.01);
    assert_abs_diff_eq!(naive.supply_error_at_minus_20_c_k, -0.839, epsilon = 0.01);
}

/// The tight unit at −25 °C in dry air: the core gives 0.8 there too, the label 0.62 with its defrost.
#[test]
fn a_cold_point_fixes_the_defrost_loss_and_nothing_else() {
    let mut sheet = tight_sheet();
    let without = fit(&sheet).unwrap();
    sheet.points.push(Point {
        standard: Standard::CsaLowTemperature,
        outdoor: TestAir::dry(-25.0),
        ventilation_reduction: Some(0.85),
        ..round(0.05, 50.3, Figures::none().with(Figure::SensibleRecovery, 0.62))
    });
    let fitted = fit(&sheet).unwrap();
    assert_eq!(fitted.unit, without.unit);
    let [loss] = fitted.low_temperature[..] else { panic!("one cold figure") };
    assert_abs_diff_eq!(loss.frost_free, 0.8, epsilon = 0.01);
    assert_abs_diff_eq!(loss.difference, 0.62 - 0.8, epsilon = 0.01);
    assert_eq!((loss.stated, loss.ventilation_reduction), (0.62, Some(0.85)));
    assert_eq!(fitted.points[4].use_in_fit, UseInFit::MayContainDefrost);
}

/// 22 °C and 40 % wet a good plate at 0 °C: the same stated figure then needs less conductance than a dry plate would.
#[test]
fn a_wet_rating_point_is_fitted_wet() {
    let stated = Figures::none().with(Figure::SensibleRecovery, 0.80);
    let wet = Point { power_w: Some(0.0), stated, ..Point::usual(Standard::CsaWinter, 0.05).unwrap() };
    let dry = Point { outdoor: TestAir::dry(0.0), indoor: TestAir::dry(22.0), ..wet };
    let ua_per_flow = |point| {
        let unit = fit(&Sheet::new(CoreKind::SensiblePlate, vec![point])).unwrap().unit;
        unit.ua_w_per_k / (unit.at_kg_per_s * 1006.0)
    };
    let (wet, dry) = (ua_per_flow(wet), ua_per_flow(dry));
    assert_abs_diff_eq!(dry, 4.0, epsilon = 1e-6);
    assert!(wet < 0.97 * dry, "{wet}");
}
