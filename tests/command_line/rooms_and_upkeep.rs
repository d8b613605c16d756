//! A study with everything that dries, dampens, stirs and is kept up: its books, its columns, its sentences.

use super::books;
use super::room::{Room, changed};
use super::tables::Table;

#[test]
fn everything_in_the_rooms_adds_up_and_is_told() {
    let room = Room::new();
    room.done(&["new", "."]);
    let study = changed(&[
        (
            "[house.moisture]\n",
            "[house.humidifier]\ntarget = \"35 %\"\nkind = \"steam\"\n[house.dehumidifier]\ntarget = \"50 %\"\n\
             [house.bedroom]\npeople = 2\n[house.moisture]\nnew_building = \"5 kg/day\"\n",
        ),
        ("[ventilation]\n", "[ventilation]\nblower.power = \"300 W\"\n"),
        (
            "core = \"sensible-plate\"\n",
            "core = \"sensible-plate\"\nupkeep = { wash_on = \"05-01\" }\nfilter = { interval = \"182 d\" }\n",
        ),
    ]);
    room.write("study.toml", study);
    let said = room.done(&["run", "study.toml", "--out", "x"]);
    let annual = Table::read(&room.read("x/annual.csv"));
    let monthly = Table::read(&room.read("x/monthly.csv"));
    books::add_up(&annual, &monthly);
    for column in [
        "blower_kwh",
        "humidifying_kwh",
        "dehumidifying_kwh",
        "humidified_l",
        "dehumidified_l",
        "window_edge_wet_h",
        "bedroom_co2_max_ppm",
    ] {
        assert!(annual.numbers(column)[0] > 0.0, "{column}");
    }
    // Steam of 2676 kJ/kg: 0.7433 kWh a litre. A dehumidifier of 1.8 L/kWh, the default.
    let ratio = |of: &str, to: &str| annual.numbers(of)[0] / annual.numbers(to)[0];
    assert!((ratio("humidifying_kwh", "humidified_l") - 0.7433).abs() < 1e-4);
    assert!((ratio("dehumidified_l", "dehumidifying_kwh") - 1.8).abs() < 1e-3);
    let text = said.out.replace("\n  ", " ");
    for words in [
        "Plate A, upkeep: new filters on 1 Jan, 2 Jul, 31 Dec; core out for washing on 1 May, for 42 h.",
        "Skipped for a year it saves",
        "Closed bedroom, hours above 1000 ppm of carbon dioxide: Plate A",
        "Cold corner: ",
    ] {
        assert!(text.contains(words), "{words}\n{text}");
    }
    assert!(said.out.lines().all(|line| line.chars().count() <= 100), "{}", said.out);
}
