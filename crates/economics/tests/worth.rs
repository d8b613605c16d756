//! Present values against printed figures, closed forms, and a year-by-year table.
#![allow(clippy::unwrap_used, clippy::panic)]

#[path = "../../../tests/proof/mod.rs"]
mod proof;

use approx::assert_relative_eq;
use economics::worth::{
    Offer, Payback, Purchase, Stream, Terms, against, capital_recovery_factor, discounted_payback,
    hardware_factor, levelised_cost_per_kwh, life_cycle, net_present_value, present_worth_factor,
    simple_payback,
};

const TERMS: Terms = Terms { discount_per_year: 0.05, horizon_years: 20.0 };

fn flat(money_per_year: f64) -> Stream {
    Stream { money_per_year, escalation_per_year: 0.0 }
}

fn rising(money_per_year: f64, escalation_per_year: f64) -> Stream {
    Stream { money_per_year, escalation_per_year }
}

/// Price 1500, saving 180 a year, 5 % a year, 20 years: figures of a calculator, to the digit printed.
#[test]
fn the_printed_figures() {
    let factor = present_worth_factor(0.05, 0.0, 20.0).unwrap();
    assert_eq!(format!("{factor:.7}"), "12.4622103");
    let value = net_present_value(1500.0, flat(180.0), &TERMS).unwrap();
    assert_eq!(format!("{value:.6}"), "743.197862");
    let Payback::After(years) = simple_payback(1500.0, 180.0).unwrap() else { panic!() };
    assert_eq!(format!("{years:.5}"), "8.33333");
    let Payback::After(years) = discounted_payback(1500.0, flat(180.0), 0.05).unwrap() else { panic!() };
    assert_eq!(format!("{years:.6}"), "11.047237");
    let recovery = capital_recovery_factor(0.05, 20.0).unwrap();
    assert_eq!(format!("{recovery:.10}"), "0.0802425872");
    let escalated = present_worth_factor(0.05, 0.02, 20.0).unwrap();
    assert_eq!(format!("{escalated:.7}"), "14.9587098");
    let levelised = levelised_cost_per_kwh(1500.0, 20.0, 2500.0, &TERMS).unwrap();
    assert_eq!(format!("{levelised:.8}"), "0.05614555");
}

/// Half of the last digit printed.
#[test]
fn the_printed_figures_are_on_the_page() {
    let row = |quantity, expected, got, half_digit| {
        let claim = proof::Claim {
            area: "money",
            quantity,
            source: "closed form, worked by a separate program: price 1500, 180 a year, 5 %, 20 years",
            basis: "own calculation",
            unit: "–",
            why: "half of the last printed digit",
        };
        let pair = proof::Pair { place: String::new(), expected, got };
        proof::worst(&claim, proof::Within::Absolute(half_digit), &[pair]);
    };
    row("Present-worth factor", 12.462_210_3, present_worth_factor(0.05, 0.0, 20.0).unwrap(), 5e-8);
    let value = net_present_value(1500.0, flat(180.0), &TERMS).unwrap();
    row("Net present value", 743.197_862, value, 5e-7);
    row("Capital recovery factor", 0.080_242_587_2, capital_recovery_factor(0.05, 20.0).unwrap(), 5e-11);
}

/// The sum that the closed form stands for.
fn by_years(discount: f64, escalation: f64, years: i32) -> f64 {
    (1..=years).map(|k| ((1.0 + escalation) / (1.0 + discount)).powi(k)).sum()
}

#[test]
fn the_factor_is_the_sum_of_its_years() {
    for discount in [-0.05, 0.0, 1e-4, 0.03, 0.12] {
        for escalation in [-0.1, 0.0, 0.02, 0.03, 0.2] {
            for years in [1, 2, 15, 40] {
                let factor = present_worth_factor(discount, escalation, f64::from(years)).unwrap();
                assert_relative_eq!(factor, by_years(discount, escalation, years), max_relative = 1e-12);
            }
        }
    }
    assert_relative_eq!(present_worth_factor(0.05, 0.02, 0.0).unwrap(), 0.0);
}

/// The quotient of the textbook loses all its digits at differences of 1e-15; this must not.
#[test]
fn nothing_jumps_where_discount_and_escalation_meet() {
    for rate in [0.0, 0.02, 0.05] {
        assert_relative_eq!(present_worth_factor(rate, rate, 20.0).unwrap(), 20.0, max_relative = 1e-15);
        for apart in [1e-15, 1e-12, 1e-9, 1e-7] {
            // Σ (1+x)^k over k = 1…20 is 20 + C(21,2) x + C(21,3) x² + …; the next term is below 6e-18.
            let series = |x: f64| 20.0 + 210.0 * x + 1330.0 * x * x;
            let above = present_worth_factor(rate + apart, rate, 20.0).unwrap();
            assert_relative_eq!(above, series(-apart / (1.0 + rate + apart)), max_relative = 1e-14);
            let below = present_worth_factor(rate, rate + apart, 20.0).unwrap();
            assert_relative_eq!(below, series(apart / (1.0 + rate)), max_relative = 1e-14);
        }
    }
}

#[test]
fn recovery_is_even_where_money_costs_nothing() {
    assert_relative_eq!(capital_recovery_factor(0.0, 25.0).unwrap(), 0.04);
}

#[test]
fn the_years_of_payback_put_back_into_the_factor_give_the_price_over_the_saving() {
    for (discount, escalation) in
        [(0.05, 0.0), (0.0, 0.0), (0.03, 0.03), (0.02, 0.05), (0.0, -0.02), (0.03, 1e-9)]
    {
        let paid = discounted_payback(1500.0, rising(180.0, escalation), discount).unwrap();
        let Payback::After(years) = paid else { panic!("{paid:?}") };
        let factor = present_worth_factor(discount, escalation, years).unwrap();
        assert_relative_eq!(factor, 1500.0 / 180.0, max_relative = 1e-12);
    }
}

/// 80 a year forever at 6 % are worth 80/0.06 = 1333.
#[test]
fn what_endless_savings_cannot_pay_is_never_paid() {
    assert_eq!(discounted_payback(1334.0, flat(80.0), 0.06).unwrap(), Payback::Never);
    assert!(
        matches!(discounted_payback(1333.0, flat(80.0), 0.06).unwrap(), Payback::After(years) if years > 100.0)
    );
    assert_eq!(simple_payback(1500.0, 0.0).unwrap(), Payback::Never);
    assert_eq!(simple_payback(1500.0, -20.0).unwrap(), Payback::Never);
    assert_eq!(simple_payback(0.0, -20.0).unwrap(), Payback::Never);
}

#[test]
fn the_cheaper_one_is_ahead_until_its_lead_is_gone() {
    assert_eq!(simple_payback(-100.0, 10.0).unwrap(), Payback::AtOnce);
    assert_eq!(simple_payback(0.0, 0.0).unwrap(), Payback::AtOnce);
    assert_eq!(simple_payback(-100.0, -20.0).unwrap(), Payback::LeadGoneAfter(5.0));
    let lost = discounted_payback(-1500.0, flat(-180.0), 0.05).unwrap();
    assert!(matches!(lost, Payback::LeadGoneAfter(years) if (years - 11.047237).abs() < 5e-7), "{lost:?}");
    assert_eq!(discounted_payback(-1500.0, flat(-60.0), 0.05).unwrap(), Payback::AtOnce);
}

/// A table with a row a year, as somebody would make it in a spreadsheet.
fn table(purchase: &Purchase, energy: &[Stream], terms: &Terms, years: i32) -> f64 {
    let life = purchase.life_years;
    let mut total = purchase.price;
    let mut bought_in = 0;
    for year in 1..=years {
        let today = (1.0 + terms.discount_per_year).powi(-year);
        let dearer = (1.0 + purchase.escalation_per_year).powi(year);
        let mut paid = purchase.upkeep_per_year * dearer;
        for stream in energy {
            paid += stream.money_per_year * (1.0 + stream.escalation_per_year).powi(year);
        }
        if (f64::from(year - bought_in) - life).abs() < 1e-9 && year < years {
            paid += purchase.price * dearer;
            bought_in = year;
        }
        if year == years {
            let paid_for_it = purchase.price * (1.0 + purchase.escalation_per_year).powi(bought_in);
            paid -= paid_for_it * (life - f64::from(year - bought_in)) / life;
        }
        total += paid * today;
    }
    total
}

#[test]
fn life_cycle_cost_is_that_of_a_table_with_a_row_a_year() {
    let energy = [rising(900.0, 0.03), rising(240.0, 0.01), flat(-30.0)];
    for life in [1.0, 6.0, 8.0, 15.0, 20.0, 24.0, 25.0, 30.0] {
        for horizon in [1, 5, 20, 24, 30] {
            let terms = Terms { discount_per_year: 0.04, horizon_years: f64::from(horizon) };
            let purchase = Purchase {
                price: 2400.0,
                upkeep_per_year: 60.0,
                life_years: life,
                escalation_per_year: 0.015,
            };
            let cost = life_cycle(&Offer { purchase, energy: energy.to_vec() }, &terms).unwrap();
            let expected = table(&purchase, &energy, &terms, horizon);
            assert_relative_eq!(cost.total(), expected, max_relative = 1e-12);
            assert_relative_eq!(
                cost.hardware(),
                2400.0 * hardware_factor(&purchase, &terms).unwrap(),
                max_relative = 1e-12
            );
        }
    }
}

/// By hand: life 12, horizon 30, no discount. Bought in 0, 12, 24; half of the third is left.
#[test]
fn a_unit_is_bought_again_and_keeps_the_worth_of_the_life_left() {
    let purchase = Purchase { price: 1000.0, life_years: 12.0, ..Purchase::NONE };
    let terms = Terms { discount_per_year: 0.0, horizon_years: 30.0 };
    let cost = life_cycle(&Offer { purchase, energy: Vec::new() }, &terms).unwrap();
    assert_eq!(cost.times_replaced, 2);
    assert_relative_eq!(cost.replacements, 2000.0);
    assert_relative_eq!(cost.residual, 500.0);
    assert_relative_eq!(cost.total(), 2500.0);
}

#[test]
fn a_life_as_long_as_the_horizon_is_used_up_and_not_bought_again() {
    for (life, horizon) in [(20.0, 20.0), (10.0, 20.0), (3.0 - 1e-9, 9.0), (20.0004, 20.0)] {
        let purchase = Purchase { price: 1000.0, life_years: life, ..Purchase::NONE };
        let terms = Terms { discount_per_year: 0.0, horizon_years: horizon };
        let cost = life_cycle(&Offer { purchase, energy: Vec::new() }, &terms).unwrap();
        let bought: f64 = (horizon / life).round();
        assert_relative_eq!(f64::from(cost.times_replaced), bought - 1.0);
        assert_relative_eq!(cost.residual, 0.0, epsilon = 0.03);
    }
}

fn offer(price: f64, upkeep: f64, energy: &[Stream]) -> Offer {
    let purchase = Purchase { price, upkeep_per_year: upkeep, life_years: 20.0, escalation_per_year: 0.0 };
    Offer { purchase, energy: energy.to_vec() }
}

/// Gas 1000 to 700 a year, electricity 200 to 260, upkeep 60: a saving of 180.
#[test]
fn one_offer_beside_another_is_the_single_saving_of_the_printed_figures() {
    let without = Offer { purchase: Purchase::NONE, energy: vec![flat(1000.0), flat(200.0)] };
    let with = offer(1500.0, 60.0, &[flat(700.0), flat(260.0)]);
    let found = against(&with, &without, &TERMS).unwrap();
    assert_relative_eq!(found.extra_price, 1500.0);
    assert_relative_eq!(found.saving_per_year, 180.0);
    assert_eq!(format!("{:.6}", found.net_present_value), "743.197862");
    assert_eq!(found.simple_payback, Payback::After(1500.0 / 180.0));
    let Payback::After(years) = found.discounted_payback else { panic!() };
    assert_eq!(format!("{years:.6}"), "11.047237");
}

/// With one escalation for all streams the search has a closed form to agree with.
#[test]
fn the_searched_payback_is_that_of_the_closed_form() {
    for escalation in [-0.02, 0.0, 0.03, 0.05, 0.08] {
        let without = Offer {
            purchase: Purchase::NONE,
            energy: vec![rising(1000.0, escalation), rising(200.0, escalation)],
        };
        let with = offer(1500.0, 0.0, &[rising(700.0, escalation), rising(260.0, escalation)]);
        let Payback::After(searched) = against(&with, &without, &TERMS).unwrap().discounted_payback else {
            panic!()
        };
        let Payback::After(closed) = discounted_payback(1500.0, rising(240.0, escalation), 0.05).unwrap()
        else {
            panic!()
        };
        assert_relative_eq!(searched, closed, max_relative = 1e-12);
    }
}

#[test]
fn what_has_not_come_back_in_the_life_of_the_unit_is_said_so() {
    let without = Offer { purchase: Purchase::NONE, energy: vec![flat(1000.0)] };
    let mut with = offer(1500.0, 0.0, &[flat(820.0)]);
    with.purchase.life_years = 11.0;
    assert_eq!(against(&with, &without, &TERMS).unwrap().discounted_payback, Payback::NotWithin(11.0));
    with.purchase.life_years = 11.1;
    let found = against(&with, &without, &TERMS).unwrap().discounted_payback;
    assert!(matches!(found, Payback::After(years) if (years - 11.047237).abs() < 5e-7), "{found:?}");
}

#[test]
fn the_same_offer_twice_is_worth_nothing_and_is_paid_at_once() {
    let same = offer(1500.0, 60.0, &[rising(700.0, 0.02)]);
    let found = against(&same, &same, &TERMS).unwrap();
    assert_relative_eq!(found.net_present_value, 0.0);
    assert_eq!((found.simple_payback, found.discounted_payback), (Payback::AtOnce, Payback::AtOnce));
}

#[test]
fn as_dear_to_buy_and_dearer_to_run_is_never_ahead() {
    let found = against(&offer(1500.0, 60.0, &[]), &offer(1500.0, 50.0, &[]), &TERMS).unwrap();
    assert_eq!(found.simple_payback, Payback::Never);
    assert_eq!(found.discounted_payback, Payback::NotWithin(20.0));
}

#[test]
fn the_reverse_of_a_comparison_has_the_opposite_worth() {
    let cheap = offer(1000.0, 40.0, &[rising(800.0, 0.03), flat(100.0)]);
    let dear = offer(2200.0, 70.0, &[rising(640.0, 0.03), flat(120.0)]);
    let forth = against(&dear, &cheap, &TERMS).unwrap();
    let back = against(&cheap, &dear, &TERMS).unwrap();
    assert_relative_eq!(forth.net_present_value, -back.net_present_value, max_relative = 1e-12);
    let (Payback::After(paid), Payback::LeadGoneAfter(gone)) =
        (forth.discounted_payback, back.discounted_payback)
    else {
        panic!("{forth:?} {back:?}")
    };
    assert_relative_eq!(paid, gone, max_relative = 1e-9);
}

#[test]
fn numbers_out_of_range_are_refused_with_their_range() {
    let told = |error: economics::OutOfRange| error.to_string();
    assert_eq!(
        told(present_worth_factor(5.0, 0.0, 20.0).unwrap_err()),
        "discount rate 5 a year is outside -0.2 to 0.5 a year"
    );
    assert_eq!(
        told(present_worth_factor(0.05, 0.0, f64::NAN).unwrap_err()),
        "horizon NaN years is outside 0 to 100 years"
    );
    assert_eq!(
        told(capital_recovery_factor(0.05, 0.0).unwrap_err()),
        "years of recovery 0 years is outside 0.5 to 100 years"
    );
    assert!(told(simple_payback(f64::INFINITY, 1.0).unwrap_err()).starts_with("extra price inf is outside"));
    assert!(
        told(levelised_cost_per_kwh(1.0, 1.0, 0.0, &TERMS).unwrap_err()).starts_with("energy a year 0 kWh")
    );
    let eternal = offer(1000.0, 0.0, &[rising(100.0, 0.9)]);
    assert!(told(life_cycle(&eternal, &TERMS).unwrap_err()).starts_with("escalation 0.9 a year"));
    let mut short = offer(1000.0, 0.0, &[]);
    short.purchase.life_years = 0.0;
    assert!(told(life_cycle(&short, &TERMS).unwrap_err()).starts_with("life of the unit 0 years"));
}

/// The whole of the allowed ranges, at their ends: every answer is a number.
#[test]
fn no_corner_of_the_ranges_gives_anything_but_numbers() {
    for discount in [-0.2, 0.0, 0.5] {
        for escalation in [-0.2, 0.0, 0.5] {
            for years in [0.0, 1.0, 100.0] {
                assert!(present_worth_factor(discount, escalation, years).unwrap().is_finite());
                let terms = Terms { discount_per_year: discount, horizon_years: years };
                let mut unit = offer(1e12, 1e12, &[rising(-1e12, escalation)]);
                unit.purchase.escalation_per_year = escalation;
                unit.purchase.life_years = 1.0;
                assert!(life_cycle(&unit, &terms).unwrap().total().is_finite());
            }
        }
    }
}
