//! Label figures from measured states, and a unit run at a test point.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use approx::assert_abs_diff_eq;
use exchanger::rating::{
    FanPosition, Figure, Heats, Measured, Point, RatedUnit, Standard, Test, TestAir, label_figures,
    line_core, run_test,
};
use exchanger::{Core, CoreKind, Inlets, Outlets};

fn unit() -> RatedUnit {
    RatedUnit {
        ua_w_per_k: 150.9,
        vapour_kg_per_s: 0.0,
        at_kg_per_s: 0.05,
        flow_exponent: 0.8,
        cross_leakage: 0.0,
        fan_position: FanPosition::AfterCore,
        supply_fan_share: 0.5,
        case_w_per_k: 0.0,
    }
}

/// Equal flows of 0.05 kg/s, dry air, 0 and 20 °C.
fn dry_test(power_w: f64) -> Test {
    Test {
        outdoor: TestAir::dry(0.0),
        indoor: TestAir::dry(20.0),
        supply_kg_per_s: 0.05,
        extract_kg_per_s: 0.05,
        power_w,
    }
}

/// A core that has this effectiveness whatever the flows, in dry air.
fn with_effectiveness(effectiveness: f64) -> impl Fn(&Core<f64>, &Inlets<f64>) -> Outlets<f64> {
    move |_, inlets| Outlets {
        supply_c: inlets.outdoor_c + effectiveness * (inlets.extract_c - inlets.outdoor_c),
        supply_humidity_ratio: inlets.outdoor_humidity_ratio,
        exhaust_c: inlets.extract_c - effectiveness * (inlets.extract_c - inlets.outdoor_c),
        exhaust_humidity_ratio: inlets.extract_humidity_ratio,
    }
}

/// Worked by hand: 36 g/s of air of 1006 J/kgK (that is: dry air), 0, 22 and 17.6 °C, 15 W in each fan, 2 % leaked.
/// Numerator 637.40 − 15 − 15.94, denominator 796.75 + 15.
#[test]
fn sensible_recovery_takes_out_fans_and_leak() {
    let measured = Measured {
        outdoor: TestAir::dry(0.0),
        supply: TestAir::dry(17.6),
        extract: TestAir::dry(22.0),
        exhaust: TestAir::dry(4.4),
        supply_kg_per_s: 0.036,
        extract_kg_per_s: 0.036,
        cross_leakage: 0.02,
        heats: Heats { supply_fan_w: 15.0, extract_fan_upstream_w: 15.0, case_w: 0.0 },
    };
    let figures = label_figures(&measured);
    assert_abs_diff_eq!(figures.get(Figure::ApparentSensible).unwrap(), 0.800, epsilon = 1e-12);
    assert_abs_diff_eq!(figures.get(Figure::SensibleRecovery).unwrap(), 0.7471, epsilon = 5e-5);
    // (637.40 − 15.94)/796.75
    assert_abs_diff_eq!(figures.get(Figure::AdjustedSensibleRecovery).unwrap(), 0.7800, epsilon = 5e-5);
    assert_abs_diff_eq!(figures.get(Figure::SupplyTemperatureRatio).unwrap(), 0.800, epsilon = 1e-12);
    assert_abs_diff_eq!(figures.get(Figure::ExhaustTemperatureRatio).unwrap(), 0.800, epsilon = 1e-12);
    assert_eq!(figures.get(Figure::MoistureRecovery), None, "both airs are dry");
}

/// By hand: 0.70 + 0.05 · 0.30 = 0.715; 0.95 of the supply air is outdoor air.
#[test]
fn leaked_air_raises_the_apparent_figure_and_lowers_ventilation() {
    let leaky = RatedUnit { cross_leakage: 0.05, ..unit() };
    let outdoor_kg_per_s = std::cell::Cell::new(0.0);
    let core = with_effectiveness(0.70);
    let measured = run_test(&leaky, &dry_test(0.0), &|c, inlets| {
        outdoor_kg_per_s.set(inlets.supply_kg_per_s);
        core(c, inlets)
    });
    let figures = label_figures(&measured);
    assert_abs_diff_eq!(figures.get(Figure::ApparentSensible).unwrap(), 0.715, epsilon = 1e-12);
    assert_abs_diff_eq!(outdoor_kg_per_s.get() / 0.05, 0.95, epsilon = 1e-12);
    // Corrected: 0.715 − 0.05, which is 0.95 · 0.70.
    assert_abs_diff_eq!(figures.get(Figure::SensibleRecovery).unwrap(), 0.665, epsilon = 1e-12);
}

/// By hand: 50.3 W in each fan is 1 K in 0.05 kg/s of dry air. Behind the core: 0.7 · 20 + 1 = 15 °C. Before it: the
/// core sees 1 and 21 °C, so 1 + 0.7 · 20 = 15 °C again, and sensible recovery (15 · 50.3 − 50.3)/(20 · 50.3 + 50.3).
#[test]
fn fans_warm_the_air_where_they_stand() {
    let core = with_effectiveness(0.70);
    let behind = label_figures(&run_test(&unit(), &dry_test(100.6), &core));
    let before = RatedUnit { fan_position: FanPosition::BeforeCore, ..unit() };
    let before = label_figures(&run_test(&before, &dry_test(100.6), &core));
    let check =
        |given: Option<f64>, expected: f64| assert_abs_diff_eq!(given.unwrap(), expected, epsilon = 1e-12);
    check(behind.get(Figure::ApparentSensible), 15.0 / 20.0);
    check(behind.get(Figure::SensibleRecovery), 14.0 / 20.0);
    check(behind.get(Figure::AdjustedSensibleRecovery), 15.0 / 20.0);
    // Exhaust 6 °C from the core and 1 K of the fan.
    check(behind.get(Figure::ExhaustTemperatureRatio), 13.0 / 20.0);
    check(before.get(Figure::ApparentSensible), 15.0 / 20.0);
    check(before.get(Figure::SensibleRecovery), 14.0 / 21.0);
    check(before.get(Figure::ExhaustTemperatureRatio), 13.0 / 20.0);
}

/// By hand: a tenth of 0.05 kg/s is leaked, so 0.045 kg/s pass the core on each side, 45.27 W/K; a fan of 45.27 W before each warms them
/// by 1 K, to 1 °C and 21 °C. ε 0.5: 11 °C leave both ways; 0.9 · 11 + 0.1 · 20 = 11.9 °C are supplied.
#[test]
fn a_fan_before_the_core_warms_what_is_left_once_some_leaks() {
    let unit = RatedUnit { cross_leakage: 0.1, fan_position: FanPosition::BeforeCore, ..unit() };
    let measured = run_test(&unit, &dry_test(90.54), &with_effectiveness(0.5));
    assert_abs_diff_eq!(measured.supply.dry_bulb_c, 11.9, epsilon = 1e-9);
    assert_abs_diff_eq!(measured.exhaust.dry_bulb_c, 11.0, epsilon = 1e-9);
}

/// By hand: 5.03 W/K between 20 °C and the mean of 0 and 14 °C is 65.39 W, or 1.3 K.
#[test]
fn the_case_warms_the_supply_air_and_is_taken_out() {
    let unit = RatedUnit { case_w_per_k: 5.03, ..unit() };
    let figures = label_figures(&run_test(&unit, &dry_test(0.0), &with_effectiveness(0.70)));
    assert_abs_diff_eq!(figures.get(Figure::ApparentSensible).unwrap(), 15.3 / 20.0, epsilon = 1e-12);
    assert_abs_diff_eq!(figures.get(Figure::SensibleRecovery).unwrap(), 0.70, epsilon = 1e-12);
}

/// By hand in summer, 30 °C outdoors, 20 °C indoors, ε 0.7: core outlet 23 °C; 50.3 W of fan heat make it 24 °C.
/// Apparent 6/10; recovery (−6 − 1)/(−10).
#[test]
fn in_summer_fan_heat_counts_against_the_unit() {
    let test = Test { outdoor: TestAir::dry(30.0), ..dry_test(100.6) };
    let figures = label_figures(&run_test(&unit(), &test, &with_effectiveness(0.70)));
    assert_abs_diff_eq!(figures.get(Figure::ApparentSensible).unwrap(), 0.6, epsilon = 1e-12);
    assert_abs_diff_eq!(figures.get(Figure::SensibleRecovery).unwrap(), 0.7, epsilon = 1e-12);
}

/// A core of 0.75 (NTU 3) at rated flow; ε = NTU/(1 + NTU), NTU = 3 (m/m₀)⁻ⁿ, worked in a separate program.
#[test]
fn conductance_scales_with_airflow() {
    let table = [
        (0.2, [0.7751, 0.7606, 0.7500, 0.7415, 0.7345]),
        (0.8, [0.8393, 0.7906, 0.7500, 0.7151, 0.6844]),
        (1.0, [0.8571, 0.8000, 0.7500, 0.7059, 0.6667]),
    ];
    let line = line_core(CoreKind::SensiblePlate);
    for (flow_exponent, expected) in table {
        let unit = RatedUnit { flow_exponent, ..unit() };
        for (ratio, effectiveness) in [0.5, 0.75, 1.0, 1.25, 1.5].into_iter().zip(expected) {
            let flow = 0.05 * ratio;
            let test = Test { supply_kg_per_s: flow, extract_kg_per_s: flow, ..dry_test(0.0) };
            let given = label_figures(&run_test(&unit, &test, &line)).get(Figure::ApparentSensible).unwrap();
            assert_abs_diff_eq!(given, effectiveness, epsilon = 5e-5);
        }
    }
}

/// By hand: W₂ halfway between W₁ and W₃ with 5 % leaked is 0.475 + 0.05 apparent, 0.475 corrected.
#[test]
fn moisture_figures_tell_leaked_from_passed() {
    let core = |_: &Core<f64>, inlets: &Inlets<f64>| Outlets {
        supply_humidity_ratio: 0.5 * (inlets.outdoor_humidity_ratio + inlets.extract_humidity_ratio),
        exhaust_humidity_ratio: 0.5 * (inlets.outdoor_humidity_ratio + inlets.extract_humidity_ratio),
        ..with_effectiveness(0.7)(&Core::counterflow(0.0, 0.0), inlets)
    };
    let test = Test { indoor: TestAir { dry_bulb_c: 20.0, humidity_ratio: 0.006 }, ..dry_test(0.0) };
    let unit = RatedUnit { cross_leakage: 0.05, ..unit() };
    let figures = label_figures(&run_test(&unit, &test, &core));
    assert_abs_diff_eq!(figures.get(Figure::ApparentMoisture).unwrap(), 0.525, epsilon = 1e-12);
    assert_abs_diff_eq!(figures.get(Figure::HumidityRatio).unwrap(), 0.525, epsilon = 1e-12);
    assert_abs_diff_eq!(figures.get(Figure::MoistureRecovery).unwrap(), 0.475, epsilon = 1e-12);
}

/// Total lies between sensible and moisture where both differences have one sign, and follows from
/// `(ε_s Δh_s + ε_L Δh_L)/(Δh_s + Δh_L)`; the heat that vapour itself carries makes the small rest.
#[test]
fn the_total_is_made_of_its_parts() {
    let (outdoor, indoor) = Standard::CsaWinter.usual_air().unwrap();
    let test = Test { outdoor, indoor, ..dry_test(60.0) };
    let unit = RatedUnit { vapour_kg_per_s: 0.06, cross_leakage: 0.03, ..unit() };
    let figures = label_figures(&run_test(&unit, &test, &line_core(CoreKind::EnthalpyPlate)));
    let get = |figure| figures.get(figure).unwrap();
    let heat = (1006.0 + 1860.0 * outdoor.humidity_ratio) * 22.0;
    let moisture = (indoor.humidity_ratio - outdoor.humidity_ratio) * (2_501_000.0 + 1860.0 * 22.0);
    for (total, of_heat, of_moisture) in [
        (Figure::ApparentTotal, Figure::ApparentSensible, Figure::ApparentMoisture),
        (Figure::TotalRecovery, Figure::SensibleRecovery, Figure::MoistureRecovery),
    ] {
        let expected = (get(of_heat) * heat + get(of_moisture) * moisture) / (heat + moisture);
        assert_abs_diff_eq!(get(total), expected, epsilon = 1e-3);
    }
}

/// Recalled: 0 °C and 22 °C, 40 %; humidity of 22 °C and 40 % is 6.6 g/kg (handbook chart, two digits).
#[test]
fn a_point_knows_its_standards_air_and_dry_flow() {
    let point = Point::usual(Standard::CsaWinter, 0.05).unwrap();
    assert_eq!((point.outdoor.dry_bulb_c, point.indoor.dry_bulb_c), (0.0, 22.0));
    assert_abs_diff_eq!(point.indoor.humidity_ratio, 0.0066, epsilon = 5e-5);
    let moist_kg_per_s = point.test().extract_kg_per_s * (1.0 + point.indoor.humidity_ratio);
    assert_abs_diff_eq!(moist_kg_per_s, 0.05 * 1.204, epsilon = 1e-12);
    assert!(!point.may_frost() && Point::usual(Standard::CsaLowTemperature, 0.05).unwrap().may_frost());
}
