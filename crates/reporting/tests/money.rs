//! Money of constant years, where every figure can be reckoned by hand, and recommendations that turn at break-evens.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop at once")]

mod made_up;

use approx::assert_relative_eq;
use economics::bills::Bills;
use economics::crossing::Answer;
use economics::tariff::{Carrier, Price, Tariff};
use economics::timetable::{Band, Days, TimeOfUse};
use economics::verdict::{Overall, Rules};
use economics::worth::Terms;
use made_up::constant;
use made_up::svg::{assert_well_formed, keep};
use reporting::money::{
    MONEY_KEYS, MoneyBasis, MoneyError, MoneyReport, UnitOffer, Varied, WhatIf, money_columns, money_csv,
    money_json, money_notes, money_table,
};
use reporting::{Language, ReportError, RunSummary, ShowIn, SummaryBasis};
use simulation::results::{Case, Hour, HouseYear};

const HOURS: f64 = 8760.0;

/// A comfortable hour with so much heating and fan power [W].
fn hour(heating_site_w: f64, fan_w: f64) -> Hour {
    Hour {
        heating_site_w,
        fan_w,
        relative_humidity: 0.45,
        air_c: 21.0,
        delivered_air_kg: 195.0,
        outdoor_air_kg: 195.0,
        ..Hour::default()
    }
}

/// Two units of 700 W and 900 W of heating beside 1500 W without recovery, fans of 60 W everywhere.
fn years() -> Vec<HouseYear> {
    let mut years = vec![constant("", Case::NoVentilation, &hour(1000.0, 0.0))];
    for (unit, heating) in [("Good", 700.0), ("Fair", 900.0)] {
        years.push(constant(unit, Case::Unit, &hour(heating, 60.0)));
        years.push(constant(unit, Case::NoRecovery, &hour(1500.0, 60.0)));
        years.push(constant(unit, Case::ExtractOnly, &hour(1500.0, 30.0)));
    }
    years
}

fn offer(unit: &str, price: Option<f64>) -> UnitOffer {
    UnitOffer { unit: unit.to_owned(), price, upkeep_per_year: 20.0, life_years: 20.0 }
}

fn basis(good: Option<f64>, fair: Option<f64>) -> MoneyBasis {
    MoneyBasis {
        currency: "EUR".to_owned(),
        tariffs: vec![
            Tariff::new(Carrier::Electricity, Price::Flat(0.30)),
            Tariff { standing_per_year: 100.0, ..Tariff::new(Carrier::Gas, Price::Flat(0.10)) },
        ],
        terms: Terms { discount_per_year: 0.05, horizon_years: 20.0 },
        heated_by: Carrier::Gas,
        cooled_by: Carrier::Electricity,
        offers: vec![offer("Good", good), offer("Fair", fair)],
        bills: None,
        rules: Rules::default(),
    }
}

fn report_of(years: &[HouseYear], basis: MoneyBasis) -> MoneyReport {
    let summary = RunSummary::new(years, &SummaryBasis::default()).unwrap();
    MoneyReport::new(years, &summary, basis).unwrap()
}

fn overall(report: &MoneyReport) -> Overall {
    report.judgement.clone().unwrap().unwrap().overall
}

/// A figure of the first row of this unit and case.
fn figure(report: &MoneyReport, (unit, case): (&str, &str), column: &str) -> f64 {
    let text = money_csv(report).unwrap();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let place = reader.headers().unwrap().iter().position(|name| name == column).unwrap();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let row = rows.iter().find(|row| &row[0] == unit && &row[1] == case).unwrap();
    row[place].parse().unwrap_or_else(|_| panic!("{unit}, {case}, {column}: {:?}", &row[place]))
}

#[test]
fn a_constant_year_costs_what_a_hand_calculation_says() {
    let report = report_of(&years(), basis(Some(3000.0), Some(2000.0)));
    let of = |column| figure(&report, ("Good", "unit"), column);
    // 700 W × 8760 h = 6132 kWh of gas, 60 W × 8760 h = 525.6 kWh of electricity.
    assert_relative_eq!(of("gas_kwh"), 6132.0, epsilon = 1e-9);
    assert_relative_eq!(of("electricity_kwh"), 525.6, epsilon = 1e-9);
    assert_relative_eq!(of("bought_kwh"), 6657.6, epsilon = 1e-9);
    // 6132 × 0.10 + 525.6 × 0.30 + 100 + 20 = 613.2 + 157.68 + 120.
    assert_relative_eq!(of("running_money"), 890.88, epsilon = 1e-9);
    // Saved: 800 W × 8760 h = 7008 kWh of gas, 700.80 of money, less 20 of upkeep; 181 g/kWh; factor 1.05.
    assert_relative_eq!(of("saving_money"), 680.80, epsilon = 1e-9);
    assert_relative_eq!(of("saving_kwh"), 7008.0, epsilon = 1e-9);
    assert_relative_eq!(of("saving_carbon_kg"), 1268.45, epsilon = 0.011);
    assert_relative_eq!(of("saving_source_kwh"), 7358.4, epsilon = 0.011);
    // Twenty years at 5 %: 12.4622103 (equations of any annuity table); 680.8 × 12.4622103 − 3000.
    assert_relative_eq!(of("net_present_value_money"), 680.8 * 12.462_210_3 - 3000.0, epsilon = 0.02);
    assert_relative_eq!(of("simple_payback_years"), 3000.0 / 680.8, epsilon = 0.006);
    // −ln(1 − C r/S)/ln(1+r).
    let discounted = -(1.0_f64 - 3000.0 * 0.05 / 680.8).ln() / 1.05_f64.ln();
    assert_relative_eq!(of("discounted_payback_years"), discounted, epsilon = 0.006);
    // (3000 × 0.0802425872 + 20)/7008.
    assert_relative_eq!(of("levelised_money_per_kwh"), 0.037_204, epsilon = 6e-6);
    assert_relative_eq!(of("break_even_price_money"), 680.8 * 12.462_210_3, epsilon = 0.01);
    // (3000/12.4622103 + 20)/7008.
    assert_relative_eq!(of("break_even_gas_money_per_kwh"), 0.037_204, epsilon = 6e-6);
    let fan = figure(&report, ("Good", "extract-only"), "saving_money");
    assert_relative_eq!(fan, 30.0 * HOURS / 1000.0 * 0.30, epsilon = 1e-9);
    assert_eq!(overall(&report), Overall::Recommended { name: "Good".to_owned() });
}

#[test]
fn the_chart_of_costs_shows_the_parts_of_a_hand_calculation() {
    let report = report_of(&years(), basis(Some(3000.0), None));
    let svg = reporting::charts::cost_breakdown_chart(&report, "A & B", Language::English).unwrap();
    keep("cost-breakdown.svg", &svg);
    assert_well_formed(&svg);
    assert!(!svg.contains("NaN") && !svg.contains("inf"));
    // Twenty years at 5 %: 12.4622103. Gas (613.20 + 100), electricity 157.68, upkeep 20, times that; and the price.
    let words = [">3000<", ">8888<", ">1965<", ">narrow: upkeep 249<", ">= 14102<"];
    // No recovery: gas 13140 kWh × 0.10 + 100 = 1414, electricity as above. Extract only: half of the electricity.
    let house = [">17622<", ">= 19587<", ">983<", ">= 18604<"];
    let names = [
        "life-cycle cost, money of today [EUR]",
        "Cost over 20 years in today&apos;s money, 5 % a year",
        "gas: heating",
        "electricity: cooling, fans and the rest",
        "Fair (no price given: energy and upkeep alone)",
        "no recovery, fans of Good",
        "extract only",
    ];
    for words in words.iter().chain(&house).chain(&names) {
        let text: String =
            svg.split_whitespace().collect::<Vec<_>>().join(" ").replace("> ", ">").replace(" <", "<");
        assert!(text.contains(words), "{words}");
    }
}

#[test]
fn without_a_unit_there_is_no_chart_of_costs() {
    let mut report = report_of(&years(), basis(Some(3000.0), None));
    let house = report.accounts[report.reference].clone();
    report.accounts = vec![house];
    report.reference = 0;
    let nothing = ReportError::NothingToDraw { chart: "cost breakdown" };
    assert_eq!(reporting::charts::cost_breakdown_chart(&report, "", Language::English), Err(nothing));
}

/// Where heating grows with airflow, worth is linear in it, and the airflow at break-even is a division.
#[test]
fn the_airflow_at_break_even_is_that_of_a_hand_calculation() {
    let report = report_of(&years(), basis(Some(3000.0), None));
    let at = |factor: f64| -> Result<f64, MoneyError> {
        let years = [
            constant("Good", Case::Unit, &hour(700.0 * factor, 60.0)),
            constant("Good", Case::NoRecovery, &hour(1500.0 * factor, 60.0)),
        ];
        report.worth_in("Good", &years)
    };
    // As the study has it, the same as in the table.
    assert_relative_eq!(at(1.0).unwrap(), 680.8 * 12.462_210_3 - 3000.0, epsilon = 0.02);
    let find = |price: f64| {
        WhatIf::find(("Good", Varied::Airflow, 0.045), |factor| {
            at(factor).map(|worth| worth + 3000.0 - price)
        })
    };
    // (700.80 x − 20) × 12.4622103 = price.
    let even = (6000.0 / 12.462_210_3 + 20.0) / 700.8;
    let found = find(6000.0);
    let Ok(Answer::Crossing { at, rising: true, more: 0 }) = found.answer else { panic!("{found:?}") };
    assert!((at / even - 1.0).abs() < 0.02, "{at} for {even}");
    let said = found.sentence(350.0, ShowIn::Si);
    assert!(said.starts_with("Good pays above airflow 3") && said.contains("(45.0 L/s given;"), "{said}");
    let at_every = "Good pays at every airflow between 22.5 L/s and 90.0 L/s (45.0 L/s given).";
    assert_eq!(find(3000.0).sentence(350.0, ShowIn::Si), at_every);
    // Twice the airflow: (1401.6 − 20) × 12.4622103 = 17218 is not enough.
    let nowhere = find(17_300.0).sentence(350.0, ShowIn::Ip);
    // 22.5, 90 and 45 L/s over 0.4719474432 L/s.
    assert_eq!(nowhere, "Good does not pay at any airflow between 47.7 cfm and 190.7 cfm (95.3 cfm given).");
    let tested = Varied::TestedLeakage { pressure_pa: 50.0 };
    // It pays in a tight house alone: 0.25 m³/s × 3600/360 m³ = 2.5 1/h; 2 − x² is 0 at √2.
    let falling = WhatIf::find(("Good", tested, 0.25), |factor| Ok::<_, String>(2.0 - factor * factor));
    let Ok(Answer::Crossing { at, rising: false, .. }) = falling.answer else { panic!("{falling:?}") };
    assert!((at / 2.0_f64.sqrt() - 1.0).abs() < 0.02, "{at}");
    assert!(
        falling.sentence(360.0, ShowIn::Ip).contains("(2.50 1/h at 50 Pa given; looked at from 0.62 1/h")
    );
    let broken = WhatIf::find(("Good", tested, 0.25), |_| Err("the fans are too weak"));
    let said = broken.sentence(360.0, ShowIn::Si);
    assert_eq!(said, "Good, leakage: not looked for, at 0.25 times what is given: the fans are too weak");
}

#[test]
fn totals_are_the_sums_of_their_printed_parts() {
    let odd = |heating, fan| hour(heating, fan);
    let years = [
        constant("Good", Case::Unit, &odd(701.234_567, 61.234_567)),
        constant("Good", Case::NoRecovery, &odd(1_503.456_789, 60.987_654)),
    ];
    let mut basis = basis(Some(3000.5), None);
    basis.offers.truncate(1);
    let report = report_of(&years, basis);
    for case in ["unit", "no-recovery"] {
        let of = |column: &str| figure(&report, ("Good", case), column);
        let cents = |value: f64| (value * 100.0).round();
        for unit in ["kwh", "carbon_kg", "source_kwh"] {
            let total = if unit == "kwh" { "bought_kwh" } else { unit };
            let parts = cents(of(&format!("gas_{unit}"))) + cents(of(&format!("electricity_{unit}")));
            assert_relative_eq!(cents(of(total)), parts, epsilon = 1e-6);
        }
        let energy = cents(of("gas_money")) + cents(of("electricity_money")) + cents(of("standing_money"));
        assert_relative_eq!(cents(of("energy_money")), energy, epsilon = 1e-6);
        assert_relative_eq!(
            cents(of("running_money")),
            cents(of("energy_money")) + cents(of("upkeep_money")),
            epsilon = 1e-6
        );
        let life: f64 = ["price", "replacements", "residual", "lifetime_upkeep", "lifetime_energy"]
            .iter()
            .map(|part| cents(of(&format!("{part}_money"))))
            .sum();
        assert_relative_eq!(cents(of("life_cycle_money")), life, epsilon = 1e-6);
    }
    let difference =
        |column| figure(&report, ("Good", "no-recovery"), column) - figure(&report, ("Good", "unit"), column);
    let saving = figure(&report, ("Good", "unit"), "saving_money");
    assert_relative_eq!(saving, difference("running_money"), epsilon = 1e-6);
    let worth = figure(&report, ("Good", "unit"), "net_present_value_money");
    assert_relative_eq!(worth, difference("life_cycle_money"), epsilon = 1e-6);
}

#[test]
fn at_each_break_even_a_new_reckoning_finds_nothing_gained_or_lost() {
    let given = basis(Some(3000.0), Some(2000.0));
    let report = report_of(&years(), given.clone());
    let of = |column| figure(&report, ("Good", "unit"), column);
    let worth = |basis| figure(&report_of(&years(), basis), ("Good", "unit"), "net_present_value_money");
    let at_price = basis(Some(of("break_even_price_money")), Some(2000.0));
    assert_relative_eq!(worth(at_price), 0.0, epsilon = 0.03);
    let with_gas = |price| {
        let mut basis = given.clone();
        basis.tariffs[1].price = Price::Flat(price);
        basis
    };
    // The printed price has five decimals: half of the last, times 7008 kWh and 12.46 years, is 0.44 of money.
    assert_relative_eq!(worth(with_gas(of("break_even_gas_money_per_kwh"))), 0.0, epsilon = 0.5);
    assert_relative_eq!(worth(with_gas(0.10 * of("break_even_gas_times"))), 0.0, epsilon = 0.5);
    assert!(worth(with_gas(0.10)) > 1000.0 && worth(with_gas(0.02)) < -1000.0);
}

#[test]
fn a_unit_that_uses_more_electricity_pays_up_to_a_price_of_it() {
    let mut years = years();
    years[1] = constant("Good", Case::Unit, &hour(700.0, 260.0));
    let given = basis(Some(1000.0), Some(2000.0));
    let of = |basis, column| figure(&report_of(&years, basis), ("Good", "unit"), column);
    let price = of(given.clone(), "break_even_electricity_money_per_kwh");
    // By hand: gas saves 700.80, upkeep takes 20, hardware 1000/12.4622103 = 80.2426 a year; 200 W more are 1752 kWh.
    assert_relative_eq!(price, (700.80 - 20.0 - 80.242_59) / 1752.0, epsilon = 6e-6);
    let with = |price| {
        let mut basis = given.clone();
        basis.tariffs[0].price = Price::Flat(price);
        of(basis, "net_present_value_money")
    };
    assert!(with(price * 0.99) > 0.0 && with(price * 1.01) < 0.0, "{price}");
}

#[test]
fn the_recommendation_turns_where_the_break_even_price_is_crossed() {
    let even =
        figure(&report_of(&years(), basis(Some(1.0), Some(1.0))), ("Good", "unit"), "break_even_price_money");
    let alone = |price: f64| {
        let mut basis = basis(Some(price), None);
        basis.offers.truncate(1);
        report_of(&years(), basis)
    };
    // The margin is a tenth of the price.
    assert_eq!(overall(&alone(0.85 * even)), Overall::Recommended { name: "Good".to_owned() });
    let Overall::NoClearWinner { names, .. } = overall(&alone(1.001 * even)) else { panic!("too close") };
    assert_eq!(names, ["no recovery", "Good"]);
    let Overall::NoneWorthIt { best, net_present_value } = overall(&alone(1.25 * even)) else { panic!("no") };
    assert_eq!(best, "Good");
    assert_relative_eq!(net_present_value, -0.25 * even, epsilon = 0.02);
    let note = &money_notes(&alone(1.25 * even))[0];
    assert!(note.contains("No unit is worth its cost"), "{note}");
}

#[test]
fn the_lead_is_gone_at_the_price_that_the_notes_name() {
    let notes = money_notes(&report_of(&years(), basis(Some(3000.0), Some(3000.0))));
    let note = notes.iter().find(|note| note.starts_with("Good:")).unwrap();
    // Fair saves 200 W × 8760 h × 0.10 = 175.20 a year less: 175.20 × 12.4622103 = 2183 dearer, Good is worth no more.
    assert!(note.contains("From a price of 5183 EUR on, Fair leads."), "{note}");
    let leader = |price| overall(&report_of(&years(), basis(Some(price), Some(3000.0))));
    assert_eq!(leader(4500.0), Overall::Recommended { name: "Good".to_owned() });
    assert!(matches!(leader(5183.0), Overall::NoClearWinner { .. }));
    assert_eq!(leader(6000.0), Overall::Recommended { name: "Fair".to_owned() });
}

#[test]
fn prices_by_hour_bill_the_hours_they_hold_in() {
    let times = TimeOfUse::new(vec![
        Band::new("night", 0.10, Days::Every, 22, 6),
        Band::new("day", 0.40, Days::Every, 6, 22),
    ]);
    let mut basis = basis(Some(3000.0), Some(2000.0));
    basis.tariffs[0].price = Price::ByHour(times.unwrap());
    let report = report_of(&years(), basis);
    // A third of the day at 0.10 and two thirds at 0.40 are 0.30 on average: 525.6 × 0.30.
    assert_relative_eq!(figure(&report, ("Good", "unit"), "electricity_money"), 157.68, epsilon = 1e-9);
    let json: serde_json::Value = serde_json::from_str(&money_json(&report).unwrap()).unwrap();
    assert_eq!(json["tariffs"][0]["per_kwh"][1]["per_kwh"], 0.40);
}

#[test]
fn without_a_price_a_unit_is_not_ranked_but_its_break_even_is_shown() {
    let report = report_of(&years(), basis(None, None));
    assert_eq!(report.judgement, None);
    let notes = money_notes(&report);
    assert!(
        notes[0].ends_with(
            "none, since the study gives no unit a price; what each may cost at most stands below."
        )
    );
    assert!(notes[1].contains("keeps every limit; it has no price."), "{}", notes[1]);
    assert!(notes[1].contains("it pays up to a price of 8484 EUR"), "{}", notes[1]);
    let report = report_of(&years(), basis(None, Some(2000.0)));
    assert_eq!(overall(&report), Overall::Recommended { name: "Fair".to_owned() });
}

#[test]
fn limits_come_before_money() {
    let mut years = years();
    // So dry that 30 % is never reached; the houses without recovery are not.
    years[1] = constant("Good", Case::Unit, &Hour { relative_humidity: 0.25, ..hour(700.0, 60.0) });
    let report = report_of(&years, basis(Some(10.0), Some(2000.0)));
    assert_eq!(overall(&report), Overall::Recommended { name: "Fair".to_owned() });
    let notes = money_notes(&report);
    assert!(notes[1].starts_with("Good: not fit. Too dry: 8760 h a year"), "{}", notes[1]);
}

#[test]
fn a_limit_that_no_house_keeps_is_said_once() {
    let dry = |unit, case, w| constant(unit, case, &Hour { relative_humidity: 0.25, ..hour(w, 60.0) });
    let years = [
        dry("Good", Case::Unit, 700.0),
        dry("Good", Case::NoRecovery, 1500.0),
        dry("Fair", Case::Unit, 900.0),
        dry("Fair", Case::NoRecovery, 1500.0),
    ];
    let report = report_of(&years, basis(Some(10.0), Some(2000.0)));
    assert_eq!(overall(&report), Overall::Recommended { name: "Good".to_owned() });
    let notes = money_notes(&report);
    assert!(
        notes[1].contains("hours below 30 % relative humidity (8760, 8760; at most 1460 h allowed)"),
        "{}",
        notes[1]
    );
    assert_eq!(notes.iter().filter(|note| note.contains("1460")).count(), 1);
}

#[test]
fn units_that_bring_in_unequal_air_are_not_compared() {
    let mut years = years();
    for at in [1, 2] {
        let less = Hour { outdoor_air_kg: 150.0, ..hour(if at == 1 { 700.0 } else { 1500.0 }, 60.0) };
        years[at] = constant("Good", if at == 1 { Case::Unit } else { Case::NoRecovery }, &less);
    }
    let notes = money_notes(&report_of(&years, basis(Some(10.0), Some(2000.0))));
    assert!(notes[0].contains(": none. `"), "{}", notes[0]);
    assert!(notes[0].contains("compare them at equal air"), "{}", notes[0]);
}

#[test]
fn a_unit_that_was_run_with_its_air_held_is_reckoned_so() {
    let mut years = years();
    years.push(constant("Good", Case::UnitHeld, &hour(800.0, 70.0)));
    years.push(constant("Good", Case::NoRecoveryHeld, &hour(1600.0, 60.0)));
    let report = report_of(&years, basis(Some(3000.0), Some(2000.0)));
    assert_relative_eq!(figure(&report, ("Good", "unit-held-air"), "gas_kwh"), 7008.0, epsilon = 1e-9);
    // All stand beside the cheapest house without recovery: Fair's, of 1500 W.
    assert_eq!(report.accounts[report.reference].unit, "Fair");
}

#[test]
fn bills_scale_the_heating_of_every_house() {
    let mut basis = basis(Some(3000.0), Some(2000.0));
    // 1000 W × 8760 h = 8760 kWh are modelled without ventilation; the bill has 4380 kWh beside 620 kWh of hot water.
    let bills = Bills {
        heated_by: Carrier::Gas,
        bought_kwh: 5000.0,
        other_uses_kwh: Some(620.0),
        electricity_kwh: None,
        degree_days: None,
    };
    basis.bills = Some((bills, Case::NoVentilation));
    let report = report_of(&years(), basis);
    assert_relative_eq!(figure(&report, ("Good", "unit"), "gas_kwh"), 3066.0, epsilon = 1e-9);
    assert_relative_eq!(figure(&report, ("Good", "unit"), "gas_money"), 306.60, epsilon = 1e-9);
    assert!(
        money_notes(&report)
            .iter()
            .any(|note| note.starts_with("Bills: Modelled heating is multiplied by 0.50"))
    );
}

#[test]
fn every_column_is_explained_and_the_table_fits() {
    let report = report_of(&years(), basis(Some(3000.0), Some(2000.0)));
    let text = money_csv(&report).unwrap();
    let header: Vec<&str> = text.lines().next().unwrap().split(',').collect();
    let guide = reporting::column_guide();
    let documented: Vec<&str> =
        guide.iter().filter(|doc| doc.file == "money.csv").map(|doc| doc.name.as_str()).collect();
    assert_eq!(header, documented);
    assert_eq!(header.len(), MONEY_KEYS.len() + money_columns().len());
    for column in money_columns() {
        assert!(!column.meaning.is_empty() && !column.unit.is_empty(), "{}", column.name);
        assert_eq!(column.unit == "money", column.name.ends_with("_money"), "{}", column.name);
    }
    assert!(money_table(&report).lines().all(|line| line.chars().count() <= 100));
    let json: serde_json::Value = serde_json::from_str(&money_json(&report).unwrap()).unwrap();
    assert_eq!(json["rules"].as_array().unwrap().len(), 13);
    assert!(
        json["rules"].as_array().unwrap().iter().all(|rule| !rule["source"].as_str().unwrap().is_empty())
    );
}
