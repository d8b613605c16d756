//! `dewledger run` of a study with tariffs: money.csv, the recommendation, and what would change it.

use super::room::{Room, Said, sample};
use super::tables::{Table, negated, number, sum};

/// A unit of the starter's house, with this price; the rooms' humidity is kept, so that limits tell nobody apart.
pub fn study(weather: &str, price: &str, tariff: &str) -> String {
    let sample = sample(&format!("{weather}.csv")).display().to_string();
    let starter = study::starter_study();
    let house = &starter[..starter.find("# Two units").unwrap()];
    // Glass that stays dry, and enough vapour for any cold.
    let house = house.replace("1.6 W/m2K", "1.0 W/m2K").replacen("\"frosthollow.csv\"", &format!("\"{sample}\""), 1).replacen(
        "[house.people]",
        "[house.humidifier]\ntarget = \"31 %\"\ncapacity = \"60 kg/day\"\n\n[house.dehumidifier]\ntarget = \"55 %\"\n\n[house.people]",
        1,
    );
    format!(
        "{house}
[[unit]]
name = \"Membrane\"
core = \"enthalpy-plate\"
{price}
upkeep_cost = \"20 USD/year\"
conductance = {{ ua = \"191 W/K\", vapour = \"0.0867 kg/s\", at = \"45 L/s\" }}
fan.power = \"40 W\"
frost.strategy = \"recirculate\"

[tariff]
{tariff}
"
    )
}

pub const FLAT: &str = "electricity = \"0.30 USD/kWh\"\ngas = \"0.12 USD/kWh\"";

/// Runs it quietly and returns what it printed with its money.csv.
pub fn run(room: &Room, text: &str) -> (Said, Table) {
    room.write("study.toml", text);
    let said = room.done(&["run", "study.toml", "--hourly", "none", "--out", "out", "--force"]);
    (said, Table::read(&room.read("out/money.csv")))
}

fn verdict(table: &Table) -> String {
    table.rows[0][table.place("verdict")].clone()
}

pub fn of(table: &Table, row: usize, column: &str) -> f64 {
    number(&table.rows[row][table.place(column)])
}

/// In each climate: the figures of the table speak for the recommendation, and it turns where the price passes the
/// break-even.
#[test]
fn in_every_climate_it_turns_where_the_break_even_price_is_crossed() {
    for weather in ["frosthollow", "saltmere", "millbrook", "palmreach"] {
        let room = Room::new();
        let (said, open) = run(&room, &study(weather, "", FLAT));
        assert_eq!(verdict(&open), "no-price", "{weather}");
        let told = said.out.replace("\n  ", " ");
        // Where no house keeps one of the limits, it says that too.
        let kept = [
            "keeps every limit; it has no price.",
            "keeps every limit that any house keeps; it has no price.",
        ];
        assert!(kept.iter().any(|words| told.contains(words)), "{weather}: {}", said.out);
        let even = of(&open, 0, "break_even_price_money");
        assert!(even > 100.0, "{weather}: {even}");
        let at = |price: f64| run(&room, &study(weather, &format!("price = \"{price} USD\""), FLAT));
        let (said, cheap) = at(0.8 * even);
        assert_eq!(verdict(&cheap), "recommended", "{weather}: {}", said.out);
        assert!(said.out.contains("Membrane keeps every limit"), "{weather}: {}", said.out);
        let worth = of(&cheap, 0, "net_present_value_money");
        // All of the price is paid once within a life of twenty years: what is left is the rest of it.
        assert!((worth - 0.2 * even).abs() < 0.02, "{weather}: {worth} of {even}");
        assert!(of(&cheap, 0, "saving_money") > 0.0 && of(&cheap, 0, "simple_payback_years") < 20.0);
        let (said, dear) = at(1.2 * even);
        assert_eq!(verdict(&dear), "fit", "{weather}: {}", said.out);
        assert!(said.out.contains("No unit is worth its cost"), "{weather}: {}", said.out);
        assert!((of(&dear, 0, "net_present_value_money") + 0.2 * even).abs() < 0.02, "{weather}");
    }
}

#[test]
fn near_the_break_even_there_is_no_clear_winner_and_gas_decides() {
    let room = Room::new();
    let price = "price = \"2500 USD\"";
    let (_, first) = run(&room, &study("frosthollow", price, FLAT));
    let gas = of(&first, 0, "break_even_gas_money_per_kwh");
    let at = |gas: f64| {
        let tariff = format!("electricity = \"0.30 USD/kWh\"\ngas = \"{gas} USD/kWh\"");
        run(&room, &study("frosthollow", price, &tariff))
    };
    let (said, close) = at(gas);
    assert_eq!(verdict(&close), "close", "{}", said.out);
    assert!(said.out.contains("No clear winner: "), "{}", said.out);
    // Five decimals of a price of gas, times the energy saved over twenty years.
    assert!(of(&close, 0, "net_present_value_money").abs() < 2.0);
    assert_eq!(verdict(&at(0.7 * gas).1), "fit");
    assert_eq!(verdict(&at(1.3 * gas).1), "recommended");
}

/// The price of energy at which a unit just pays is found from one run: put in by hand, it turns the answer.
#[test]
fn in_the_other_climates_a_price_of_energy_decides_too() {
    for (weather, carrier) in [("saltmere", "gas"), ("millbrook", "gas"), ("palmreach", "electricity")] {
        let room = Room::new();
        let price = "price = \"1500 USD\"";
        let (_, first) = run(&room, &study(weather, price, FLAT));
        let even = of(&first, 0, &format!("break_even_{carrier}_money_per_kwh"));
        assert!(even > 0.0, "{weather}: {even}");
        let at = |times: f64| {
            let given = if carrier == "gas" { "0.12" } else { "0.30" };
            let (from, to) = (format!("{carrier} = \"{given}"), format!("{carrier} = \"{}", times * even));
            assert_eq!(FLAT.matches(&from).count(), 1);
            run(&room, &study(weather, price, &FLAT.replace(&from, &to)))
        };
        let (said, below) = at(0.7);
        assert_eq!(verdict(&below), "fit", "{weather}: {}", said.out);
        assert!(said.out.contains("No unit is worth its cost"), "{weather}: {}", said.out);
        let (said, above) = at(1.3);
        assert_eq!(verdict(&above), "recommended", "{weather}: {}", said.out);
    }
}

/// Every total of money.csv is the sum of the printed parts that the guide names for it, in tenths and hundredths as they stand.
#[test]
fn totals_of_the_money_table_are_sums_of_their_printed_parts() {
    let room = Room::new();
    let price = "price = \"2500 USD\"\nlife = \"8 years\"";
    let (_, money) = run(&room, &study("frosthollow", price, FLAT));
    let cell = |row: usize, column: &str| money.rows[row][money.place(column)].clone();
    let carriers = ["electricity", "gas", "oil", "propane", "wood"];
    let reference = (0..money.rows.len()).find(|row| cell(*row, "verdict") == "reference").unwrap();
    let mut checked = 0;
    for row in 0..money.rows.len() {
        let mut adds = |total: &str, parts: Vec<String>| {
            let parts: Vec<&str> = parts.iter().map(String::as_str).filter(|part| !part.is_empty()).collect();
            assert_eq!(cell(row, total), sum(&parts), "{total} of row {row}");
            checked += 1;
        };
        let of_all = |ending: &str| carriers.map(|name| cell(row, &format!("{name}_{ending}"))).to_vec();
        adds("bought_kwh", of_all("kwh"));
        adds("carbon_kg", of_all("carbon_kg"));
        adds("source_kwh", of_all("source_kwh"));
        adds("energy_money", [of_all("money"), vec![cell(row, "standing_money")]].concat());
        adds("running_money", ["energy_money", "upkeep_money"].map(|part| cell(row, part)).to_vec());
        let pairs = [
            ("saving_money", "running_money"),
            ("saving_kwh", "bought_kwh"),
            ("saving_carbon_kg", "carbon_kg"),
            ("saving_source_kwh", "source_kwh"),
            ("net_present_value_money", "life_cycle_money"),
        ];
        for (less, of) in pairs {
            adds(less, vec![cell(reference, of), negated(&cell(row, of))]);
        }
        let life = ["price", "replacements", "residual", "lifetime_upkeep", "lifetime_energy"];
        adds("life_cycle_money", life.map(|part| cell(row, &format!("{part}_money"))).to_vec());
    }
    assert_eq!(checked, 33);
}

#[test]
fn energy_of_the_money_table_is_that_of_the_annual_table() {
    let room = Room::new();
    let (_, money) = run(&room, &study("millbrook", "price = \"2500 USD\"", FLAT));
    let annual = Table::read(&room.read("out/annual.csv"));
    for row in 0..3 {
        let case = &money.rows[row][money.place("case")];
        let same = annual.rows.iter().find(|row| &row[annual.place("case")] == case).unwrap();
        let kwh = |column: &str| {
            let cell = &same[annual.place(column)];
            if cell.is_empty() { 0.0 } else { number(cell) }
        };
        let electric = ["cooling", "fan", "preheat", "blower", "humidifying", "dehumidifying"];
        let electricity: f64 = electric.iter().map(|part| kwh(&format!("{part}_kwh"))).sum();
        assert!((of(&money, row, "electricity_kwh") - electricity).abs() < 1e-6, "{case}");
        assert!((of(&money, row, "gas_kwh") - kwh("heating_kwh")).abs() < 1e-6, "{case}");
        assert!((of(&money, row, "gas_money") - 0.12 * kwh("heating_kwh")).abs() < 0.02, "{case}");
    }
}

#[test]
fn without_a_tariff_nothing_is_said_of_money() {
    let room = Room::new();
    let text = study("frosthollow", "price = \"2500 USD\"", "");
    room.write("study.toml", text.replace("[tariff]\n", ""));
    let said = room.done(&["run", "study.toml", "--hourly", "none", "--out", "out"]);
    assert!(said.err.contains("units have prices, but the study has no [tariff]"), "{}", said.err);
    assert!(!said.out.contains("Recommendation"), "{}", said.out);
    assert!(room.files("out").keys().all(|name| !name.starts_with("money")));
}

#[test]
fn the_manifest_lists_the_files_of_money_and_every_assumption() {
    let room = Room::new();
    let (said, _) = run(&room, &study("frosthollow", "price = \"2500 USD\"", FLAT));
    let manifest: serde_json::Value = serde_json::from_str(&room.read("out/manifest.json")).unwrap();
    let text = manifest.to_string();
    for part in [
        "money.csv",
        "money.json",
        "charts/cost-breakdown.svg",
        "economics.discount_rate",
        "tariff.carbon.gas",
        "unit.Membrane.life",
    ] {
        assert!(text.contains(part), "{part}");
    }
    let json: serde_json::Value = serde_json::from_str(&room.read("out/money.json")).unwrap();
    assert_eq!(json["tariffs"][1]["per_kwh"], 0.12);
    assert_eq!(json["currency"], "USD");
    assert!(said.out.contains("local codes"), "{}", said.out);
    assert!(said.out.lines().all(|line| line.chars().count() <= 100), "{}", said.out);
}

#[test]
fn bills_that_the_house_cannot_have_are_refused() {
    let room = Room::new();
    let text = study("frosthollow", "", FLAT) + "\n[bills]\nheating = \"900 kWh\"\n";
    let line = 1 + text.lines().position(|line| line == "[bills]").unwrap();
    room.write("study.toml", text);
    let said = room.run(&["run", "study.toml", "--hourly", "none", "--out", "out"]);
    assert_eq!(said.code, 2, "{}", said.err);
    let place = format!("study.toml:{line}: bills: the bill has 900 kWh for heating");
    assert!(said.err.contains(&place), "{}", said.err);
    assert!(room.files("").keys().all(|name| !name.starts_with("out")));
}

#[test]
fn the_example_at_the_end_of_the_starter_is_one() {
    let starter = study::starter_study();
    let (head, example) = starter.split_at(starter.find("# What energy costs").unwrap());
    let lines: Vec<&str> = example.lines().filter_map(|line| line.strip_prefix("#   ")).collect();
    let text = format!("{head}\n{}\n", lines.join("\n"));
    let money = study::parse_study(&text, "s").unwrap_or_else(|p| panic!("{}", p.render(&text, "s"))).money;
    let carriers: Vec<&str> = money.unwrap().tariffs.iter().map(|tariff| tariff.carrier.name()).collect();
    assert_eq!(carriers, ["electricity", "gas"]);
}
