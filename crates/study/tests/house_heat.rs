//! What a study says of envelope, ground, plant and ducts, read to SI, key by key; and what is filled in.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]
#![allow(clippy::float_cmp, reason = "the same arithmetic gives the same bits")]

mod said;

use approx::assert_relative_eq;
use said::{assert_filled_in, starter_with};
use study::{Beyond, ClockHours, Ducts, Foundation, OtherSetPoint, Study, UnitLocation};

const FIGURE: &str =
    "heat_loss = \"145 W/K\"              # conduction of the whole envelope, windows included\n";

/// The starter's house, of 20 m² of windows of 1.6 W/m²K, with these parts in place of its one figure.
fn of_parts(parts: &str) -> Study {
    starter_with(&[(FIGURE, ""), ("[house.heating]", &format!("{parts}\n[house.heating]"))])
}

fn part(lines: &str) -> String {
    format!("[[house.envelope]]\n{lines}\n")
}

#[test]
fn parts_of_the_envelope_add_up_with_the_windows() {
    let parts = part("name = \"walls\"\narea = \"120 m2\"\nu_value = \"0.25 W/m2K\"")
        + &part("name = \"roof\"\nconductance = \"21 W/K\"\nto = \"outdoors\"")
        + &part("name = \"floor\"\narea = \"140 m2\"\nu_value = \"0.2 W/m2K\"\nto = \"ground\"")
        + &part(
            "name = \"garage wall\"\narea = \"20 m2\"\nu_value = \"0.5 W/m2K\"\nto = \"unheated\"\ntemperature_factor = 0.7",
        );
    let house = of_parts(&parts).house;
    let sides: Vec<Beyond> = house.envelope.iter().map(|part| part.beyond).collect();
    assert_eq!(
        sides,
        [Beyond::Outdoors, Beyond::Outdoors, Beyond::Ground, Beyond::Unheated { temperature_factor: 0.7 }]
    );
    assert_eq!(house.envelope[3].name, "garage wall");
    // By hand: 120 × 0.25 = 30; 21; 140 × 0.2 = 28 to the ground; 20 × 0.5 × 0.7 = 7; windows 20 × 1.6 = 32.
    assert_relative_eq!(house.ground_loss_w_per_k, 28.0, max_relative = 1e-12);
    assert_relative_eq!(house.heat_loss_w_per_k, 30.0 + 21.0 + 28.0 + 7.0 + 32.0, max_relative = 1e-12);
    assert_relative_eq!(house.opaque_w_per_k(), 86.0, max_relative = 1e-12);
    assert_relative_eq!(house.opaque_to_outdoors_w_per_k(), 58.0, max_relative = 1e-12);
    assert_relative_eq!(house.envelope[3].conductance_w_per_k, 10.0, max_relative = 1e-12);
}

#[test]
fn what_parts_leave_open_is_listed_by_their_names() {
    let parts = part("name = \"walls\"\nconductance = \"50 W/K\"")
        + &part("name = \"Loft floor\"\nconductance = \"20 W/K\"\nto = \"unheated\"");
    let study = of_parts(&parts);
    assert_eq!(study.house.envelope[1].beyond, Beyond::Unheated { temperature_factor: 0.5 });
    let expected = [
        ("house.envelope.walls.to = outdoors", "common practice: walls and roofs border on outdoor air"),
        (
            "house.envelope.Loft floor.temperature_factor = 0.5",
            "assumed: the unheated space is midway between indoors and outdoors",
        ),
    ];
    assert_filled_in(&study, "house.envelope", &expected);
    let ground = (
        "house.ground_loss = 0 W/K",
        "assumed: nothing borders on the ground, since no part has to = \"ground\"",
    );
    assert_filled_in(&study, "house.ground_loss", &[ground]);
    assert_eq!(study.house.ground_loss_w_per_k, 0.0);
}

#[test]
fn a_heat_loss_to_the_ground_is_read_or_the_share_of_the_foundation() {
    // By hand: 145 − 32 W/K of windows leaves 113 W/K.
    for (line, foundation, expected) in [
        ("", Foundation::Slab, 0.2 * 113.0),
        ("foundation = \"slab\"\n", Foundation::Slab, 0.2 * 113.0),
        ("foundation = \"basement\"\n", Foundation::Basement, 0.3 * 113.0),
        ("foundation = \"crawlspace\"\n", Foundation::Crawlspace, 0.1 * 113.0),
        ("foundation = \"basement\"\nground_loss = \"40 W/K\"\n", Foundation::Basement, 40.0),
    ] {
        let house = starter_with(&[("bedrooms", &format!("{line}bedrooms"))]).house;
        assert_eq!(house.foundation, foundation);
        assert_relative_eq!(house.ground_loss_w_per_k, expected, max_relative = 1e-12);
        assert_relative_eq!(house.opaque_to_outdoors_w_per_k(), 113.0 - expected, max_relative = 1e-12);
        assert!(house.envelope.is_empty());
    }
}

#[test]
fn the_ground_and_the_plant_left_open_are_listed_with_their_reasons() {
    let study = starter_with(&[]);
    let slab = ("house.foundation = slab", "assumed: no basement and no crawlspace, since none is given");
    assert_filled_in(&study, "house.foundation", &[slab]);
    let share = (
        "house.ground_loss = 22.6 W/K",
        "assumed: of what is conducted beside the windows, 0.2 by a slab, 0.3 by a basement, 0.1 by a floor over a crawlspace",
    );
    assert_filled_in(&study, "house.ground_loss", &[share]);
    let capacity = "assumed: large enough for any hour, since no capacity is given";
    let night = "assumed: one set-point day and night, since no other is given";
    assert_filled_in(
        &study,
        "house.heating",
        &[("house.heating.capacity = unlimited", capacity), ("house.heating.set_back = none", night)],
    );
    assert_filled_in(&study, "house.cooling.capacity", &[("house.cooling.capacity = unlimited", capacity)]);
    assert_filled_in(&study, "house.cooling.set_up", &[("house.cooling.set_up = none", night)]);
    let ducts = "assumed: short and insulated, since none is given";
    assert_filled_in(
        &study,
        "ventilation.ducts",
        &[
            ("ventilation.ducts.cold_indoors = 0 W/K", ducts),
            ("ventilation.ducts.warm_outdoors = 0 W/K", ducts),
        ],
    );
    assert_filled_in(
        &study,
        "unit.Plate A.location",
        &[("unit.Plate A.location = heated-room", "assumed: inside the heated house")],
    );
}

#[test]
fn capacities_and_set_points_of_the_night_are_read() {
    let study = starter_with(&[
        (
            "efficiency = 0.95\n",
            "efficiency = 0.95\ncapacity = \"30000 Btu/h\"\nset_back = { temperature = \"62.6 °F\", from = \"22:00\", to = \"6:00\" }\n",
        ),
        (
            "cop = 3.2\n",
            "cop = 3.2\ncapacity = \"5 kW\"\nset_up = { temperature = \"28 °C\", from = \"08:00\", to = \"24:00\" }\n",
        ),
    ]);
    let heating = study.house.heating;
    // 1 Btu/h = 0.2930711 W (NIST SP 811, recalled from memory).
    assert_relative_eq!(heating.capacity_w.expect("given"), 8792.133, max_relative = 1e-6);
    let night = heating.set_back.expect("given");
    assert_relative_eq!(night.temperature_c, 17.0, max_relative = 1e-12);
    assert_eq!(night.hours, ClockHours { from_h: 22, to_h: 6 });
    let cooling = study.house.cooling.expect("cooled");
    assert_eq!(cooling.capacity_w, Some(5000.0));
    let hours = ClockHours { from_h: 8, to_h: 0 };
    assert_eq!(cooling.set_up, Some(OtherSetPoint { temperature_c: 28.0, hours }));
}

#[test]
fn hours_of_the_day_may_pass_midnight() {
    let night = ClockHours { from_h: 22, to_h: 6 };
    let inside: Vec<u32> = (0..24).filter(|hour| night.contains(*hour)).collect();
    assert_eq!(inside, [0, 1, 2, 3, 4, 5, 22, 23]);
    let day = ClockHours { from_h: 8, to_h: 0 };
    let inside: Vec<u32> = (0..24).filter(|hour| day.contains(*hour)).collect();
    assert_eq!(inside, (8..24).collect::<Vec<_>>());
    for (hours, count) in [(night, 8), (day, 16), (ClockHours { from_h: 9, to_h: 10 }, 1)] {
        assert_eq!(hours.count(), count);
    }
}

#[test]
fn one_kelvin_between_heating_and_cooling_is_enough() {
    let cooling = starter_with(&[("\"25 °C\"", "\"21.5 °C\"")]).house.cooling.expect("cooled");
    assert_eq!(cooling.set_point_c, 21.5);
    // 68.9 °F is 20.5 °C and 70.7 °F 21.5 °C.
    starter_with(&[("\"20.5 °C\"", "\"68.9 °F\""), ("\"25 °C\"", "\"70.7 °F\"")]);
}

#[test]
fn ducts_and_the_place_of_a_unit_are_read() {
    let study = starter_with(&[
        (
            "[ventilation]\n",
            "[ventilation]\nducts = { cold_indoors = \"3 W/K\", warm_outdoors = \"2 Btu/h°F\" }\n",
        ),
        ("core = \"sensible-plate\"\n", "core = \"sensible-plate\"\nlocation = \"attic\"\n"),
        ("core = \"enthalpy-plate\"\n", "core = \"enthalpy-plate\"\nlocation = \"heated-room\"\n"),
    ]);
    let Ducts { cold_indoors_w_per_k, warm_outdoors_w_per_k } = study.ventilation.ducts;
    assert_eq!(cold_indoors_w_per_k, 3.0);
    // 1 Btu/h°F = 0.5275279 W/K (NIST SP 811, recalled from memory).
    assert_relative_eq!(warm_outdoors_w_per_k, 1.0550558, max_relative = 1e-6);
    let places: Vec<UnitLocation> = study.units.iter().map(|unit| unit.location).collect();
    assert_eq!(places, [UnitLocation::Attic, UnitLocation::HeatedRoom, UnitLocation::HeatedRoom]);
}
