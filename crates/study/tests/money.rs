//! What a study says of money: tariffs, economics, bills, a unit's cost.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]
#![allow(clippy::float_cmp, reason = "the same arithmetic gives the same bits")]

mod said;

use approx::assert_relative_eq;
use economics::tariff::{Carrier, Price};
use said::{after, assert_filled_in, assert_says, starter_with};
use study::{BilledHouse, Study};

const SITE: &str = "[site]\n";
const PLATE: &str = "name = \"Plate A\"\n";
const FLAT: &str = "[tariff]\nelectricity = \"0.14 USD/kWh\"\ngas = \"0.045 USD/kWh\"\n";

/// The starter with these tables before `[site]`.
fn with(tables: &str) -> Study {
    starter_with(&[(SITE, &format!("{tables}{SITE}"))])
}

fn said_of(tables: &str) -> String {
    after(&[(SITE, &format!("{tables}{SITE}"))])
}

#[test]
fn without_a_tariff_there_is_no_money() {
    assert_eq!(starter_with(&[]).money, None);
    let priced = starter_with(&[(PLATE, &format!("{PLATE}price = \"2400 USD\"\n"))]);
    assert_eq!(priced.money, None);
    assert_eq!(priced.units[0].cost.price, Some(2400.0));
    assert_filled_in(&priced, "unit.Plate A.price", &[]);
    assert_filled_in(&priced, "unit.Plate A.life", &[]);
}

#[test]
fn flat_prices_are_read_in_any_unit_of_energy() {
    // By hand: 1 therm is 100 000 × 1055.05585262 J = 29.3071070 kWh; 1 GJ is 277.777… kWh.
    for (text, per_kwh) in [
        ("0.09 EUR/kWh", 0.09),
        ("90 EUR/MWh", 0.09),
        ("1.20 EUR / therm", 1.20 / 29.307_107),
        ("12 EUR/MMBtu", 12.0 / 293.071_07),
        ("25EUR/GJ", 25.0 / 277.777_777_8),
    ] {
        let money =
            with(&format!("[tariff]\nelectricity = \"0.3 EUR/kWh\"\ngas = \"{text}\"\n")).money.unwrap();
        assert_eq!(money.currency, "EUR");
        let carriers: Vec<Carrier> = money.tariffs.iter().map(|tariff| tariff.carrier).collect();
        assert_eq!(carriers, [Carrier::Electricity, Carrier::Gas]);
        let Price::Flat(price) = money.tariffs[1].price else { panic!("{text}") };
        assert_relative_eq!(price, per_kwh, max_relative = 1e-7);
    }
}

#[test]
fn what_is_left_open_is_listed_with_its_reason() {
    let study = with(FLAT);
    let usual = "assumed: the usual life of a ventilation unit";
    let rate = "assumed: near the real rate of public life-cycle studies";
    let rise = "assumed: energy grows dearer as all else does";
    let expected = [
        ("economics.discount_rate = 0.03", rate),
        ("economics.escalation = 0", rise),
        ("economics.horizon = 20 years", usual),
    ];
    assert_filled_in(&study, "economics", &expected);
    let grid = "United States, mean of the grid about 2022, recalled";
    let table = "US 40 CFR 98, table C-1, of the higher heating value";
    let carbon = [("tariff.carbon.electricity = 370 g/kWh", grid), ("tariff.carbon.gas = 181 g/kWh", table)];
    assert_filled_in(&study, "tariff.carbon", &carbon);
    let mean = "US EPA, technical reference on source energy, 2023: national mean";
    let source = [("tariff.source.electricity = 2.8", mean), ("tariff.source.gas = 1.05", mean)];
    assert_filled_in(&study, "tariff.source", &source);
    let open = "left open: without a price the unit is not ranked, and its break-even price is shown";
    assert_filled_in(&study, "unit.Plate A.price", &[("unit.Plate A.price = unknown", open)]);
    let priced = [(SITE, &*format!("{FLAT}{SITE}")), (PLATE, &*format!("{PLATE}price = \"2400 USD\"\n"))];
    let study = starter_with(&priced);
    assert_filled_in(&study, "unit.Plate A.life", &[("unit.Plate A.life = 20 years", usual)]);
    let none = "assumed: nothing, since none is given";
    assert_filled_in(&study, "unit.Plate A.upkeep_cost", &[("unit.Plate A.upkeep_cost = 0", none)]);
}

#[test]
fn everything_that_may_be_said_is_read() {
    let tables = r#"
[tariff]
gas = { price = "0.05 USD/kWh", standing = "10 USD/month" }
carbon.electricity = "0.2 lb/MWh"
source.gas = 1.1
[tariff.electricity]
standing = "120 USD/year"
[[tariff.electricity.band]]
name = "peak"
price = "0.30 USD/kWh"
from = "16:00"
to = "21:00"
days = "weekdays"
[[tariff.electricity.band]]
name = "before and after"
price = "0.12 USD/kWh"
from = "21:00"
to = "16:00"
days = "weekdays"
[[tariff.electricity.band]]
name = "weekend, summer"
price = "0.11 USD/kWh"
days = "weekends"
months = [6, 7, 8]
[[tariff.electricity.band]]
name = "weekend"
price = "0.10 USD/kWh"
days = "weekends"
months = [1, 2, 3, 4, 5, 9, 10, 11, 12]
[economics]
discount_rate = 0.05
escalation = 0.02
horizon = "15 years"
[bills]
heating = "500 therms"
other_uses = "3 MWh"
electricity = "4500 kWh"
house = "extract-only"
"#;
    let unit = "price = \"2400 USD\"\nupkeep_cost = \"5 USD/month\"\nlife = \"12 years\"\n";
    let study = starter_with(&[(SITE, &*format!("{tables}{SITE}")), (PLATE, &*format!("{PLATE}{unit}"))]);
    let cost = study.units[0].cost;
    assert_eq!((cost.price, cost.life_years), (Some(2400.0), 12.0));
    assert_relative_eq!(cost.upkeep_per_year, 60.0, max_relative = 1e-12);
    let money = study.money.unwrap();
    assert_eq!((money.terms.discount_per_year, money.terms.horizon_years), (0.05, 15.0));
    let [electricity, gas] = &money.tariffs[..] else { panic!("two tariffs") };
    assert_eq!(electricity.standing_per_year, 120.0);
    assert_relative_eq!(gas.standing_per_year, 120.0, max_relative = 1e-12);
    assert_eq!((electricity.escalation_per_year, gas.escalation_per_year), (0.02, 0.02));
    // 0.2 lb is 90.718474 g; to the MWh, 0.090718474 g/kWh.
    assert_relative_eq!(electricity.carbon_g_per_kwh, 0.090_718_474, max_relative = 1e-12);
    assert_eq!((gas.source_factor, electricity.source_factor), (1.1, 2.8));
    let Price::ByHour(times) = &electricity.price else { panic!("by hour") };
    // 1 January is a Monday; 06:00 of 1 June a Friday (day 151 = 21 weeks and 4 days), of 2 June a Saturday.
    assert_eq!(times.price_at(16, false), 0.30);
    assert_eq!(times.price_at(21, false), 0.12);
    assert_eq!(times.price_at(5 * 24 + 17, false), 0.10);
    assert_eq!(times.price_at(152 * 24 + 6, false), 0.11);
    let bills = money.bills.unwrap();
    assert_relative_eq!(bills.heating_kwh, 500.0 * 29.307_107, max_relative = 1e-7);
    assert_relative_eq!(bills.other_uses_kwh.unwrap(), 3000.0, max_relative = 1e-12);
    assert_relative_eq!(bills.electricity_kwh.unwrap(), 4500.0, max_relative = 1e-12);
    assert_eq!(bills.house, BilledHouse::ExtractOnly);
}

#[test]
fn a_price_that_is_none_says_what_would_be_right() {
    let like = "hint: write it like \"0.045 USD/kWh\"";
    for (value, message, label, hint) in [
        (
            "0.05",
            "`tariff.gas`: a price of energy needs a currency and what it is paid for",
            "no currency",
            like,
        ),
        (
            "\"0.05 /kWh\"",
            "`tariff.gas`: a price of energy needs a currency and what it is paid for",
            "no currency",
            like,
        ),
        (
            "\"$0.05/kWh\"",
            "`tariff.gas`: a price of energy is needed, but there is no number at its start",
            "no number",
            like,
        ),
        (
            "\"0.05 $/kWh\"",
            "`tariff.gas`: `$` is no currency of three capital letters",
            "unknown currency",
            ", with the letters of your currency, such as USD, CAD or EUR",
        ),
        (
            "\"0.05 USD\"",
            "`tariff.gas`: a price of energy is needed, but not what it is paid for",
            "for what?",
            "; what fits: /kWh, /MWh, /GJ, /therm, /MMBtu",
        ),
        (
            "\"1.1 USD/m3\"",
            "`tariff.gas`: a price of energy is needed, but `/m3` does not fit",
            "does not fit",
            "; what fits: /kWh, /MWh, /GJ, /therm, /MMBtu",
        ),
        (
            "\"0,05 USD/kWh\"",
            "`tariff.gas`: a number with a comma is not read",
            "a comma",
            "hint: write a decimal point: \"0.05 USD/kWh\"",
        ),
        ("\"-0.05 USD/kWh\"", "`tariff.gas`: must lie between 0 and 1000000 a kWh", "out of range", ""),
    ] {
        let text = said_of(&format!("[tariff]\nelectricity = \"0.14 USD/kWh\"\ngas = {value}\n"));
        assert_says(&text, &[message, label, hint]);
    }
    let text = after(&[(PLATE, &format!("{PLATE}price = \"2400 USD/year\"\n"))]);
    assert_says(
        &text,
        &["`unit.Plate A.price`: a price is needed, paid once and not for `year`", "paid once"],
    );
    let text = after(&[(PLATE, &format!("{PLATE}life = \"20 d\"\n"))]);
    assert_says(
        &text,
        &["a number of years is needed, but `d` measures a duration", "units that fit: years"],
    );
}

#[test]
fn what_does_not_go_together_is_said() {
    let text = said_of("[tariff]\nelectricity = \"0.14 USD/kWh\"\n");
    let hint = "hint: write gas = \"0.045 USD/kWh\" with what you pay";
    assert_says(&text, &["`[tariff]` has no price of gas, which heats the house", hint]);
    let text = said_of("[tariff]\ngas = \"0.14 USD/kWh\"\n");
    assert_says(&text, &["`[tariff]` has no price of electricity, which runs the fans"]);
    let text = said_of("[tariff]\nelectricity = \"0.14 USD/kWh\"\ngas = \"0.05 EUR/kWh\"\n");
    assert_says(
        &text,
        &["`tariff.gas`: this study counts money in USD, and this is EUR", "write all money in one currency"],
    );
    let text = said_of("[economics]\nhorizon = \"15 years\"\n");
    assert_says(&text, &["`[economics]` is of no use without `[tariff]`"]);
    let text = said_of("[bills]\nheating = \"9000 kWh\"\n");
    assert_says(&text, &["`[bills]` is of no use without `[tariff]`"]);
    let gas = "gas = \"0.05 USD/kWh\"\n";
    let text = said_of(&format!("[tariff]\n{gas}electricity = {{ standing = \"9 USD/month\" }}\n"));
    assert_says(&text, &["`tariff.electricity` has no price", "[[tariff.electricity.band]]"]);
    let band = "band = [{ name = \"night\", price = \"0.1 USD/kWh\", from = \"22:00\", to = \"6:00\" }]";
    let text = said_of(&format!("[tariff]\n{gas}electricity = {{ {band} }}\n"));
    assert_says(
        &text,
        &[
            "`tariff.electricity.band`: no band prices 06:00 to 07:00 on weekdays in January",
            "needs one price",
        ],
    );
    let band = "band = [{ name = \"all\", price = \"0.1 USD/kWh\" }]";
    let text = said_of(&format!("[tariff]\n{gas}electricity = {{ {band}, price = \"0.1 USD/kWh\" }}\n"));
    assert_says(&text, &["`tariff.electricity.price`: there are bands with prices of their own beside it"]);
    let band = "band = [{ name = \"all\", price = \"0.1 USD/kWh\", months = [6, 13] }]";
    let text = said_of(&format!("[tariff]\n{gas}electricity = {{ {band} }}\n"));
    assert_says(&text, &["each must be a whole number from 1 to 12", "[6, 7, 8] for June to August"]);
    let electric = ("source = \"gas\"\nefficiency = 0.95", "source = \"electricity\"\nefficiency = 3.0");
    let tables = "[tariff]\nelectricity = \"0.14 USD/kWh\"\n[bills]\nheating = \"9000 kWh\"\n";
    let text = after(&[(SITE, &format!("{tables}{SITE}")), electric]);
    assert_says(
        &text,
        &["electricity heats this house, and also runs its lights", "`other_uses` is missing"],
    );
}
