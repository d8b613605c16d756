//! `dewledger run --what-if`: break-even airflow and leakage, each beside whole runs of the study with that airflow and leakage.

use super::money::{FLAT, of, run, study};
use super::room::Room;

const AIRFLOW_L_PER_S: f64 = 45.0;
const FANS_W: f64 = 40.0;
const LEAKAGE_L_PER_S: f64 = 12.0;

/// The same house at multiples of its airflow, with as much more fan power, and of its leakage. What a core holds of frost is stated,
/// since it is the same core.
fn at(price: &str, airflow: f64, leakage: f64) -> String {
    let text = study("frosthollow", price, FLAT);
    let changes = [
        ("\nairflow = \"45 L/s\"", format!("\nairflow = \"{} L/s\"", airflow * AIRFLOW_L_PER_S)),
        (
            "fan.power = \"40 W\"",
            format!("fan.power = \"{} W\"\nfrost.capacity = \"1.35 kg\"", airflow * FANS_W),
        ),
        ("air_leakage = \"12 L/s\"", format!("air_leakage = \"{} L/s\"", leakage * LEAKAGE_L_PER_S)),
    ];
    changes.iter().fold(text, |text, (from, to)| {
        assert_eq!(text.matches(from).count(), 1, "{from}");
        text.replacen(from, to, 1)
    })
}

#[test]
fn break_even_airflow_and_leakage_are_those_of_whole_runs() {
    let room = Room::new();
    let (_, open) = run(&room, &at("", 1.0, 1.0));
    let price = format!("price = \"{:.0} USD\"", 0.8 * of(&open, 0, "break_even_price_money"));
    let worth = |airflow: f64, leakage: f64| {
        of(&run(&room, &at(&price, airflow, leakage)).1, 0, "net_present_value_money")
    };
    room.write("asked.toml", at(&price, 1.0, 1.0));
    let asked = ["run", "asked.toml", "--what-if", "--hourly", "none", "--out", "asked"];
    let said = room.done(&asked);
    assert!(said.out.lines().all(|line| line.chars().count() <= 100), "{}", said.out);
    let json: serde_json::Value = serde_json::from_str(&room.read("asked/money.json")).unwrap();
    let of = |place: usize, key: &str| json["what_if"][place][key].clone();

    assert_eq!((of(0, "varied"), of(0, "pays")), ("airflow".into(), "above".into()), "{}", said.out);
    let even = of(0, "at_l_per_s").as_f64().unwrap();
    assert!(
        said.out.contains(&format!("Membrane pays above airflow {even:.1} L/s (45.0 L/s given")),
        "{}",
        said.out
    );
    // It was found to within 2 %, so it lies between these.
    let share = even / AIRFLOW_L_PER_S;
    let (below, here, above) = (worth(0.975 * share, 1.0), worth(share, 1.0), worth(1.025 * share, 1.0));
    assert!(below < 0.0 && above > 0.0, "{below} {here} {above}");
    assert!(here.abs() < above - below, "{below} {here} {above}");

    assert_eq!((of(1, "varied"), of(1, "pays")), ("leakage".into(), "everywhere".into()), "{}", said.out);
    assert!(said.out.contains("pays at every leakage between 3.0 L/s and 48.0 L/s"), "{}", said.out);
    for leakage in [0.25, 4.0] {
        assert!(worth(1.0, leakage) > 0.0, "{leakage}");
    }
    let plain: serde_json::Value = serde_json::from_str(&room.read("out/money.json")).unwrap();
    assert_eq!(plain["what_if"], serde_json::json!([]), "nobody asked");
}
