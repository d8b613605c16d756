//! Sheets that are refused, and in which words.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use exchanger::CoreKind;
use exchanger::rating::{FanPosition, Figure, Figures, Point, Sheet, Standard, TestAir, fit};

/// Dry air, 0 and 20 °C, 0.05 kg/s on both sides: 50.3 W/K, 1006 W between indoors and outdoors.
fn dry(stated: &[(Figure, f64)]) -> Point {
    Point {
        outdoor: TestAir::dry(0.0),
        indoor: TestAir::dry(20.0),
        power_w: Some(50.3),
        stated: figures(stated),
        ..Point::usual(Standard::CsaWinter, 0.05 / 1.204).unwrap()
    }
}

fn winter(stated: &[(Figure, f64)]) -> Point {
    Point { power_w: Some(0.0), stated: figures(stated), ..Point::usual(Standard::CsaWinter, 0.05).unwrap() }
}

fn figures(stated: &[(Figure, f64)]) -> Figures {
    stated.iter().fold(Figures::none(), |all, &(figure, value)| all.with(figure, value))
}

fn plate(points: Vec<Point>) -> Sheet {
    Sheet::new(CoreKind::SensiblePlate, points)
}

fn membrane(points: Vec<Point>) -> Sheet {
    Sheet::new(CoreKind::EnthalpyPlate, points)
}

#[track_caller]
fn refused(sheet: &Sheet, text: &str) {
    assert_eq!(fit(sheet).unwrap_err().to_string(), text);
}

#[test]
fn sensible_recovery_above_apparent() {
    refused(
        &plate(vec![dry(&[(Figure::ApparentSensible, 0.75), (Figure::SensibleRecovery, 0.80)])]),
        "point 1 (CSA C439 winter, 0 °C): sensible recovery 0.800 is above apparent sensible effectiveness 0.750; fan \
         heat alone cannot do that: fans, leaks and the case only raise the apparent figure",
    );
}

/// By hand: 1.02 · 20 = 20.4 °C delivered, 0.2 K (10.06 W) of it the fan's: 20.2 °C from the core, 1.01.
#[test]
fn a_core_better_than_an_endless_one() {
    let point = Point { power_w: Some(20.12), ..dry(&[(Figure::ApparentSensible, 1.02)]) };
    refused(
        &plate(vec![point]),
        "point 1 (CSA C439 winter, 0 °C): apparent sensible effectiveness 1.020 leaves the core an effectiveness of \
         1.010 once fan heat, leaked air and the case are taken out; it must be below 1",
    );
}

/// By hand, fans before the core, 1 K each: sensible recovery 0.96 means (0.96 · 21 · 50.3 + 50.3)/50.3 = 21.16 °C from
/// a core that air of 1 °C and of 21 °C enters: 20.16/20.
#[test]
fn a_core_better_than_an_endless_one_with_fans_before_it() {
    let point = Point { power_w: Some(100.6), ..dry(&[(Figure::SensibleRecovery, 0.96)]) };
    refused(
        &Sheet { fan_position: FanPosition::BeforeCore, ..plate(vec![point]) },
        "point 1 (CSA C439 winter, 0 °C): sensible recovery 0.960 leaves the core an effectiveness of 1.008 once fan \
         heat, leaked air and the case are taken out; it must be below 1",
    );
}

/// By hand, 22 °C and 40 % (6.58 g/kg) over 0 °C and 80 % (3.02 g/kg): 22.2 kJ/kg of heat to 9.1 of moisture, 0.71 to
/// 0.29: 0.71 · 0.75 + 0.29 · 0.50 = 0.678.
#[test]
fn a_total_outside_its_parts() {
    let stated =
        [(Figure::SensibleRecovery, 0.75), (Figure::MoistureRecovery, 0.50), (Figure::TotalRecovery, 0.78)];
    refused(
        &membrane(vec![winter(&stated)]),
        "point 1 (CSA C439 winter, 0 °C): total recovery 0.780 cannot be: sensible 0.750 and moisture 0.500 give 0.678 in \
         this air",
    );
}

/// As above with more digits, worked in a separate program: 22 255 of 31 267 J/kg are heat, 0.7118:
/// (0.40 − 0.7118 · 0.75)/0.2882 = −0.464.
#[test]
fn a_total_that_no_moisture_figure_explains() {
    let stated = [(Figure::SensibleRecovery, 0.75), (Figure::TotalRecovery, 0.40)];
    refused(
        &membrane(vec![winter(&stated)]),
        "point 1 (CSA C439 winter, 0 °C): total recovery 0.400 beside sensible 0.750 would need a moisture figure of \
         -0.464; it must lie in 0…1",
    );
}

#[test]
fn moisture_from_a_plate_that_passes_none() {
    refused(
        &plate(vec![winter(&[(Figure::SensibleRecovery, 0.75), (Figure::MoistureRecovery, 0.40)])]),
        "point 1 (CSA C439 winter, 0 °C): moisture recovery 0.400, but this kind of core passes no moisture",
    );
}

/// 0.30 of 1006 W is gained; half of 700 W is the supply fan's.
#[test]
fn a_fan_that_gives_more_than_the_air_gains() {
    let point = Point { power_w: Some(700.0), ..dry(&[(Figure::ApparentSensible, 0.30)]) };
    refused(
        &plate(vec![point]),
        "point 1 (CSA C439 winter, 0 °C): the supply fan's 350.0 W are more than the 301.8 W that the supply air gains",
    );
}

/// Three points that differ in nothing but their figure: the closest core has their mean.
#[test]
fn figures_that_contradict_each_other() {
    let points = [0.70, 0.80, 0.80].map(|stated| dry(&[(Figure::SensibleRecovery, stated)]));
    refused(
        &plate(points.to_vec()),
        "the stated figures contradict each other: point 1 (CSA C439 winter, 0 °C): sensible recovery is stated as 0.700, \
         the closest core gives 0.767; point 2 (CSA C439 winter, 0 °C): sensible recovery is stated as 0.800, the \
         closest core gives 0.767",
    );
}

/// 100 W in each fan, a tenth of the difference, and an apparent figure no more than recovery: the leak would have to be below none.
#[test]
fn apparent_figures_without_room_for_the_fan_are_refused() {
    let point = Point {
        power_w: Some(200.0),
        ..dry(&[(Figure::ApparentSensible, 0.75), (Figure::SensibleRecovery, 0.75)])
    };
    let text = fit(&plate(vec![point])).unwrap_err().to_string();
    assert!(text.starts_with("the stated figures contradict each other"), "{text}");
}

#[test]
fn nothing_to_fit() {
    let text = "no frost-free point states a sensible or total figure: there is nothing to fit";
    refused(&plate(vec![]), text);
    refused(&plate(vec![dry(&[])]), text);
    let cold = Point {
        stated: figures(&[(Figure::SensibleRecovery, 0.6)]),
        ..Point::usual(Standard::CsaLowTemperature, 0.05).unwrap()
    };
    refused(&plate(vec![cold]), text);
    refused(
        &membrane(vec![winter(&[(Figure::SensibleRecovery, 0.75)])]),
        "this kind of core passes moisture, but the frost-free points do not tell sensible from moisture: state a \
         moisture figure, or a sensible and a total one",
    );
}

/// Apparent 0.85 less recovery 0.70 less 0.025 of fan heat: 0.125.
#[test]
fn too_much_leaked_air() {
    let stated = [(Figure::ApparentSensible, 0.85), (Figure::SensibleRecovery, 0.70)];
    let why = "is above 0.1; with that much extract air in the supply, figures tell little of the core";
    refused(&plate(vec![dry(&stated)]), &format!("the sheet: cross-leakage 0.125 {why}"));
    let sheet = Sheet { cross_leakage: Some(0.12), ..plate(vec![dry(&stated)]) };
    refused(&sheet, &format!("the sheet: cross-leakage 0.120 {why}"));
    let net = Point { net_supply_m3_per_s: Some(0.85 * 0.05 / 1.204), ..dry(&stated) };
    refused(&plate(vec![net]), &format!("point 1 (CSA C439 winter, 0 °C): cross-leakage 0.150 {why}"));
}

#[test]
fn leaks_that_contradict_each_other() {
    let net =
        Point { net_supply_m3_per_s: Some(0.95 * 0.05 / 1.204), ..dry(&[(Figure::SensibleRecovery, 0.7)]) };
    refused(
        &Sheet { cross_leakage: Some(0.02), ..plate(vec![net]) },
        "point 1 (CSA C439 winter, 0 °C): net airflow means a cross-leakage of 0.050, elsewhere the sheet says 0.020",
    );
}

/// ε 0.80 at full flow (NTU 4) and 0.60 at half (NTU 1.5): n = ln(1.5/4)/ln 2.
#[test]
fn flows_that_contradict_each_other() {
    let half = Point {
        supply_m3_per_s: 0.025 / 1.204,
        extract_m3_per_s: 0.025 / 1.204,
        ..dry(&[(Figure::SensibleRecovery, 0.70)])
    };
    // NTU 4 and 7/3: −0.778.
    refused(
        &plate(vec![dry(&[(Figure::SensibleRecovery, 0.80)]), half]),
        "the flow exponent that fits is -0.778, outside 0…1.5: the figures at different airflows contradict each other",
    );
}

#[test]
fn a_figure_that_says_nothing() {
    refused(
        &plate(vec![dry(&[(Figure::SensibleRecovery, 0.7), (Figure::HumidityRatio, 0.05)])]),
        "point 1 (CSA C439 winter, 0 °C): humidity ratio says nothing here, indoor and outdoor air are too much alike",
    );
}

#[test]
fn numbers_out_of_range() {
    let good = dry(&[(Figure::SensibleRecovery, 0.7)]);
    let place = "point 1 (CSA C439 winter, 0 °C)";
    let air = Point { indoor: TestAir::dry(60.0), ..good };
    refused(&plate(vec![air]), &format!("{place}: indoor air 60 °C is outside 10…40 °C"));
    let flow = Point { supply_m3_per_s: 0.0, ..good };
    refused(&plate(vec![flow]), &format!("{place}: supply airflow 0 m³/s is outside 0.005…5 m³/s"));
    let uneven = Point { supply_m3_per_s: 0.05, extract_m3_per_s: 0.2, ..good };
    refused(&plate(vec![uneven]), &format!("{place}: extract airflow 0.2 m³/s is outside 0.025…0.1 m³/s"));
    let percent = Point { stated: figures(&[(Figure::SensibleRecovery, 75.0)]), ..good };
    refused(&plate(vec![percent]), &format!("{place}: sensible recovery 75 is outside 0…1.5"));
    let power = Point { power_w: Some(-1.0), ..good };
    refused(&plate(vec![power]), &format!("{place}: power -1 W is outside 0…5000 W"));
    let nan = Point { outdoor: TestAir::dry(f64::NAN), ..good };
    refused(&plate(vec![nan]), "point 1 (CSA C439 winter, NaN °C): outdoor air NaN °C is outside -40…50 °C");
    let case = Sheet { case_w_per_k: -1.0, ..plate(vec![good]) };
    refused(&case, "the sheet: conductance of the case -1 W/K is outside 0…20 W/K");
}
