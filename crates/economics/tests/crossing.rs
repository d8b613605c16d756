//! Break-evens: searched against roots known in closed form, and against the closed forms of price and tariff.
#![allow(clippy::unwrap_used, clippy::panic, clippy::float_cmp)]

use std::cell::Cell;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use economics::crossing::{Answer, Search, find, price_at_break_even, tariff_at_break_even};
use economics::tariff::{Carrier, Price, Tariff};
use economics::worth::{Offer, Purchase, Stream, Terms, against, hardware_factor};

const TERMS: Terms = Terms { discount_per_year: 0.04, horizon_years: 25.0 };

fn search(from: f64, to: f64) -> Search {
    Search { from, to, within: 1e-9, parts: 1 }
}

fn crossing(search: &Search, f: impl FnMut(f64) -> f64) -> f64 {
    match find(search, f).unwrap() {
        Answer::Crossing { at, .. } => at,
        never @ Answer::NeverWithin { .. } => panic!("{never:?}"),
    }
}

/// Among them functions on which a chord alone crawls, and one whose values span three hundred powers of ten.
#[test]
fn roots_known_in_closed_form() {
    type Known = (fn(f64) -> f64, f64, f64, f64);
    let known: [Known; 8] = [
        (|x| x - 1.0 / 3.0, -4.0, 7.0, 1.0 / 3.0),
        (|x| x * x * x - 2.0, 0.0, 10.0, 2.0_f64.cbrt()),
        (|x| 2.0 - x * x * x, 0.0, 10.0, 2.0_f64.cbrt()),
        (|x| x.powi(19) - 0.5, 0.0, 10.0, 0.5_f64.powf(1.0 / 19.0)),
        (|x| x.exp() - 1e-6, -200.0, 200.0, -6.0 * std::f64::consts::LN_10),
        (|x| (x - 0.75).signum() * 1e300, 0.0, 1.0, 0.75),
        (|x| (x - 0.2).powi(3) * 1e-200, -1.0, 30.0, 0.2),
        (|x| x.ln() - 3.0, 1.0, 1e6, 3.0_f64.exp()),
    ];
    for (f, from, to, root) in known {
        let found = crossing(&search(from, to), f);
        assert_abs_diff_eq!(found, root, epsilon = 1.1e-9);
    }
}

#[test]
fn it_never_takes_more_than_one_step_beyond_halving() {
    let functions: [fn(f64) -> f64; 4] =
        [|x| x.powi(19) - 0.5, |x| x - 0.3, |x| (x - 0.3).signum(), |x| (40.0 * x).exp() - 1e9];
    for f in functions {
        for within in [1e-3, 1e-6, 1e-12] {
            let looked = Cell::new(0_u32);
            let counted = |x: f64| {
                looked.set(looked.get() + 1);
                f(x)
            };
            let at = crossing(&Search { from: 0.0, to: 2.0, within, parts: 1 }, counted);
            assert!(f(at - 1.01 * within) * f(at + 1.01 * within) < 0.0, "no sign change about {at}");
            let halvings = (2.0 / (2.0 * within)).log2().ceil();
            // Two looks at the ends come first.
            assert!(f64::from(looked.get()) <= 2.0 + halvings + 1.0, "{} of {halvings}", looked.get());
        }
    }
}

#[test]
fn a_distance_below_the_last_digit_still_ends() {
    let at = crossing(&Search { within: 1e-300, ..search(0.0, 2.0) }, |x| x - 0.3);
    assert_relative_eq!(at, 0.3, max_relative = 1e-15);
}

#[test]
fn which_way_it_crosses_and_how_often_more() {
    // Zeros at 1, 2 and 4; ten parts of 0.5 each, from 0.25 on.
    let f = |x: f64| (x - 1.0) * (x - 2.0) * (x - 4.0);
    let found = find(&Search { from: 0.25, to: 5.25, within: 1e-9, parts: 10 }, f).unwrap();
    let Answer::Crossing { at, rising, more } = found else { panic!("{found:?}") };
    assert_abs_diff_eq!(at, 1.0, epsilon = 1.1e-9);
    assert_eq!((rising, more), (true, 2));
    let found = find(&search(1.5, 3.0), f).unwrap();
    assert!(matches!(found, Answer::Crossing { rising: false, more: 0, .. }), "{found:?}");
}

#[test]
fn one_sign_everywhere_is_told_with_both_ends() {
    let found = find(&search(0.0, 3.0), |x| x + 2.0).unwrap();
    assert_eq!(found, Answer::NeverWithin { from: 0.0, to: 3.0, at_from: 2.0, at_to: 5.0 });
    // Two crossings within one part are overlooked; more parts find them.
    let dip = |x: f64| (x - 1.0) * (x - 2.0);
    assert!(matches!(find(&search(0.0, 3.0), dip).unwrap(), Answer::NeverWithin { .. }));
    let parts = Search { parts: 8, ..search(0.0, 3.0) };
    assert!(matches!(find(&parts, dip).unwrap(), Answer::Crossing { rising: false, more: 1, .. }));
}

#[test]
fn a_root_at_an_end_is_found_where_the_sign_changes_there() {
    assert_abs_diff_eq!(crossing(&search(1.0, 2.0), |x| 1.0 - x), 1.0, epsilon = 1e-9);
    assert_abs_diff_eq!(crossing(&search(0.0, 1.0), |x| x - 1.0), 1.0, epsilon = 1e-9);
}

#[test]
fn what_is_no_search_and_what_is_no_number_is_refused() {
    let told = |search: &Search, f: fn(f64) -> f64| find(search, f).unwrap_err().to_string();
    assert_eq!(
        told(&search(2.0, 1.0), |x| x),
        "a break-even is looked for from 2 to 1: the first must be the lower, and both numbers"
    );
    assert!(told(&search(f64::NAN, 1.0), |x| x).contains("from NaN to 1"));
    assert!(told(&search(f64::MIN, f64::MAX), |x| x).contains("both numbers"));
    assert!(told(&Search { within: 0.0, ..search(0.0, 1.0) }, |x| x).contains("to within 0:"));
    assert!(told(&Search { parts: 0, ..search(0.0, 1.0) }, |x| x).contains("in 0 parts: 1 to 10000"));
    assert_eq!(
        told(&search(-1.0, 1.0), f64::sqrt),
        "at -1 there is no difference to compare: it came to NaN"
    );
    // At the ends all is well; the first step inside meets the hole.
    assert!(
        told(&search(-1.0, 1.0), |x| if x.abs() < 1.0 { 1.0 / 0.0 } else { x }).contains("it came to inf")
    );
}

/// A unit against no unit: gas saved, electricity spent, upkeep, two escalations, one replacement, a residual value.
struct Case {
    unit: Offer,
    house: Offer,
}

const GAS_SAVED_KWH: f64 = 3200.0;

fn case(price: f64, gas_per_kwh: f64) -> Case {
    let mut gas = Tariff::new(Carrier::Gas, Price::Flat(gas_per_kwh));
    gas.escalation_per_year = 0.025;
    let mut electricity = Tariff::new(Carrier::Electricity, Price::Flat(0.16));
    electricity.escalation_per_year = 0.01;
    let energy = |gas_kwh: f64, electricity_kwh: f64| {
        vec![
            gas.stream(&gas.cost_of_year(gas_kwh).unwrap()),
            electricity.stream(&electricity.cost_of_year(electricity_kwh).unwrap()),
        ]
    };
    let purchase = Purchase { price, upkeep_per_year: 35.0, life_years: 17.0, escalation_per_year: 0.005 };
    Case {
        unit: Offer { purchase, energy: energy(12_000.0, 3_400.0) },
        house: Offer { purchase: Purchase::NONE, energy: energy(12_000.0 + GAS_SAVED_KWH, 3_050.0) },
    }
}

fn worth_of(case: &Case) -> f64 {
    against(&case.unit, &case.house, &TERMS).unwrap().net_present_value
}

fn rising(money_per_year: f64, escalation_per_year: f64) -> Stream {
    Stream { money_per_year, escalation_per_year }
}

#[test]
fn the_searched_price_is_that_of_the_closed_form() {
    let gas_per_kwh = 0.07;
    let savings =
        [rising(GAS_SAVED_KWH * gas_per_kwh, 0.025), rising(-350.0 * 0.16, 0.01), rising(-35.0, 0.005)];
    let closed = price_at_break_even(&case(0.0, gas_per_kwh).unit.purchase, &savings, &TERMS).unwrap();
    let searched = crossing(&Search { within: 1e-6, ..search(0.0, 10_000.0) }, |price| {
        worth_of(&case(price, gas_per_kwh))
    });
    assert_abs_diff_eq!(searched, closed, epsilon = 1.1e-6);
    assert_abs_diff_eq!(worth_of(&case(closed, gas_per_kwh)), 0.0, epsilon = 1e-8);
    assert!(closed > 500.0, "the case asks nothing: {closed}");
}

#[test]
fn the_searched_tariff_is_that_of_the_closed_form() {
    let purchase = case(2500.0, 0.0).unit.purchase;
    let hardware = 2500.0 * hardware_factor(&purchase, &TERMS).unwrap();
    let others = [rising(-350.0 * 0.16, 0.01), rising(-35.0, 0.005)];
    let closed = tariff_at_break_even(hardware, GAS_SAVED_KWH, 0.025, &others, &TERMS).unwrap();
    let searched = crossing(&search(0.0, 1.0), |gas_per_kwh| worth_of(&case(2500.0, gas_per_kwh)));
    assert_abs_diff_eq!(searched, closed, epsilon = 1.1e-9);
    assert!((0.05..0.3).contains(&closed), "the case asks nothing: {closed}");
}

/// 180 a year at 5 % over 20 years are worth 2243.197862: that price breaks even. At 1 500 and 2 500 kWh a year:
/// a levelised cost of 0.05614555 with
/// 20 of upkeep is 0.05614555 − 20/2500 = 0.04814555 without.
#[test]
fn break_evens_by_hand() {
    let terms = Terms { discount_per_year: 0.05, horizon_years: 20.0 };
    let purchase = Purchase { life_years: 20.0, ..Purchase::NONE };
    let price = price_at_break_even(&purchase, &[rising(180.0, 0.0)], &terms).unwrap();
    assert_eq!(format!("{price:.6}"), "2243.197862");
    let tariff = tariff_at_break_even(1500.0, 2500.0, 0.0, &[], &terms).unwrap();
    assert_eq!(format!("{tariff:.8}"), "0.04814555");
}

#[test]
fn closed_forms_refuse_what_is_out_of_range() {
    let none = price_at_break_even(&Purchase::NONE, &[rising(f64::NAN, 0.0)], &TERMS);
    assert_eq!(none.unwrap_err().to_string(), "yearly money NaN is outside -1000000000000 to 1000000000000");
    let nothing_saved = tariff_at_break_even(1500.0, 0.0, 0.0, &[], &TERMS).unwrap_err();
    assert!(nothing_saved.to_string().starts_with("energy saved a year 0 kWh"));
    let no_time = Terms { horizon_years: 0.0, ..TERMS };
    let refused = tariff_at_break_even(1500.0, 100.0, 0.0, &[], &no_time).unwrap_err();
    assert!(refused.to_string().starts_with("horizon 0 years is outside 0.5"));
}
