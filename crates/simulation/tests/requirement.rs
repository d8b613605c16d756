//! Outdoor air by three standards: worked rows. The total rate's formula and its 102 cfm were read; the rest is recalled, numbers
//! computed apart from this program.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use approx::assert_abs_diff_eq;
use simulation::requirement::{
    Basement, Category, Form, Rooms, by_category, by_floor_and_bedrooms, by_floor_and_people, by_rooms,
};

const FT2: f64 = 0.092_903_04;
const CFM: f64 = 0.000_471_947_443_2;

#[test]
fn the_total_rate_in_both_arithmetics() {
    for (feet, bedrooms, cubic_feet, litres) in
        [(2000.0, 3, 90.0, 41.871), (2400.0, 3, 102.0, 47.445), (1500.0, 2, 67.5, 31.403)]
    {
        let of = |form| by_floor_and_bedrooms(feet * FT2, bedrooms, form).unwrap().airflow_m3_per_s;
        assert_abs_diff_eq!(of(Form::Ip) / CFM, cubic_feet, epsilon = 1e-6);
        assert_abs_diff_eq!(of(Form::Si) * 1e3, litres, epsilon = 6e-4);
    }
}

/// Recalled of ASHRAE 62.2: where more people are known to live than bedrooms and one, each of them adds 3.5 L/s (7.5 cfm). By hand:
/// 0.15 × 140 + 3.5 × (3 + 1) = 35 L/s for up to four; six make 42.
#[test]
fn more_people_than_bedrooms_and_one_add_to_the_rate_and_fewer_take_nothing_off() {
    let of = |people, form| by_floor_and_people(140.0, 3, people, form).unwrap();
    for (people, litres) in [(0, 35.0), (1, 35.0), (4, 35.0), (5, 38.5), (6, 42.0)] {
        assert_abs_diff_eq!(of(people, Form::Si).airflow_m3_per_s * 1e3, litres, epsilon = 1e-9);
    }
    let more = of(6, Form::Ip).airflow_m3_per_s - of(4, Form::Ip).airflow_m3_per_s;
    assert_abs_diff_eq!(more / CFM, 15.0, epsilon = 1e-9);
    let said: Vec<String> =
        of(6, Form::Si).steps.into_iter().map(|step| step.what + " " + &step.value).collect();
    assert_eq!(said[2], "for 2 more, since 6 live there 7.0 L/s");
    assert_eq!(said[3], "total rate 42.0 L/s");
    assert_eq!(of(4, Form::Si).steps.len(), 3);
}

#[test]
fn the_room_count_of_a_three_bedroom_house_is_fifty_litres() {
    let rooms = Rooms {
        bedrooms: 3,
        living: 2,
        kitchens: 1,
        bathrooms: 1,
        basement: Basement::Whole,
        ..Rooms::default()
    };
    let found = by_rooms(&rooms).unwrap();
    assert_abs_diff_eq!(found.airflow_m3_per_s * 1e3, 50.0, epsilon = 1e-9);
    let said: Vec<String> =
        found.steps.iter().map(|step| format!("{} = {}", step.what, step.value)).collect();
    assert_eq!(
        said,
        [
            "largest bedroom: 1 × 10 L/s = 10.0 L/s",
            "other bedrooms: 2 × 5 L/s = 10.0 L/s",
            "living, dining, family rooms: 2 × 5 L/s = 10.0 L/s",
            "kitchens: 1 × 5 L/s = 5.0 L/s",
            "bathrooms: 1 × 5 L/s = 5.0 L/s",
            "basement: 1 × 10 L/s = 10.0 L/s",
            "all rooms together = 50.0 L/s",
        ]
    );
    let part = by_rooms(&Rooms { basement: Basement::Part, ..rooms }).unwrap();
    assert_abs_diff_eq!(part.airflow_m3_per_s * 1e3, 45.0, epsilon = 1e-9);
    assert_eq!(
        by_rooms(&Rooms::default()).unwrap_err().to_string(),
        "the rooms add up to no airflow: count at least one room"
    );
}

/// Category II, 100 m², 4 people: 42, 28 and 25 L/s; the greatest holds. IV knows the floor alone.
#[test]
fn a_category_takes_the_greatest_of_its_ways() {
    let of = |category, floor, people| by_category(category, floor, people).unwrap().airflow_m3_per_s * 1e3;
    assert_abs_diff_eq!(of(Category::II, 100.0, 4), 42.0, epsilon = 1e-9);
    assert_abs_diff_eq!(of(Category::II, 50.0, 5), 35.0, epsilon = 1e-9);
    assert_abs_diff_eq!(of(Category::I, 60.0, 4), 40.0, epsilon = 1e-9);
    assert_abs_diff_eq!(of(Category::III, 40.0, 1), 14.0, epsilon = 1e-9);
    assert_abs_diff_eq!(of(Category::IV, 100.0, 10), 23.0, epsilon = 1e-9);
    let steps = |category| by_category(category, 100.0, 4).unwrap().steps.into_iter().map(|step| step.value);
    assert!(steps(Category::II).eq(["42.0 L/s", "28.0 L/s", "25.0 L/s", "42.0 L/s"]));
    // I: 0.49 · 100, 10 · 4, 3.5 · 4 + 0.25 · 100; III: 0.35 · 100, 4 · 4, 1.5 · 4 + 0.10 · 100.
    assert!(steps(Category::I).eq(["49.0 L/s", "40.0 L/s", "39.0 L/s", "49.0 L/s"]));
    assert!(steps(Category::III).eq(["35.0 L/s", "16.0 L/s", "16.0 L/s", "35.0 L/s"]));
}

#[test]
fn what_cannot_be_is_refused() {
    assert_eq!(
        by_floor_and_bedrooms(100.0, 0, Form::Si).unwrap_err().to_string(),
        "the number of bedrooms is 0; it must be from 1 to 20"
    );
    assert!(by_floor_and_bedrooms(f64::NAN, 2, Form::Si).is_err());
    assert!(by_category(Category::I, 100.0, 0).is_err());
}
