//! Books that close prove something only if they notice a falsehood: every line of the ledger in turn is posted a
//! millionth too large, and a run of a small set of houses must stop at the line's own book.
//!
//! Not here: how well true books close (`residuals.rs`).
// The lints' exception for tests covers functions marked as tests, not the helpers that they call.
#![allow(clippy::panic)]

mod common;

use common::{FILES, HOURS, drivers_at, file, line, lived_in_house, membrane, plate, unit, year_of};
use psychrometrics::formulas::saturation_humidity_ratio;
use simulation::results::HouseYear;
use simulation::{
    Book, Drivers, FrostPlan, FrostStrategy, IndoorsNumbers, LINES, Line, PaneNumbers, PreheatTo, RunError,
    RunOptions, Start, Steps, Tamper, Unit, Variant, run_compared, run_no_ventilation, run_one_by_one,
    run_pair, run_with_baselines,
};

/// A falsehood in a row of houses that hang together is told as where they go one by one.
#[test]
fn a_false_posting_is_told_alike_side_by_side_and_one_by_one() {
    let freezing = year_of(|h| if h / 168 % 2 == 0 { (-20.0, 0.0005) } else { (8.0, 0.003) });
    let drivers = drivers_at(&freezing, Steps::Four);
    let frost = defrosting(FrostStrategy::Recirculate(Start::OnDemand));
    let variant = Variant { frost, ..plate(&lived_in_house(), unit(0.05, 0.85, 0.0)) };
    let mut told = 0;
    for &line in LINES {
        let options = RunOptions { lead_in_hours: 0, tamper: Some(Tamper { line, factor: 1.0 + 1e-6 }) };
        let expected = run_one_by_one("unit", &variant, &drivers, options).map(|_| ());
        let three = run_with_baselines("unit", &variant, &drivers, options).map(|_| ());
        assert_eq!(three, expected, "{line:?}");
        if expected.is_err() {
            assert_eq!(run_compared("unit", &variant, &drivers, options).map(|_| ()), expected, "{line:?}");
            told += 1;
        }
    }
    assert!(told > LINES.len() / 3, "{told} lines are in this scene");
}

/// Something to run: a unit with its baseline, or the house alone.
enum Scene {
    Pair(Variant, Drivers),
    HouseAlone(Variant, Drivers),
}

impl Scene {
    fn run(&self, tamper: Option<Tamper>) -> Result<Vec<HouseYear>, RunError> {
        let options = RunOptions { lead_in_hours: 0, tamper };
        match self {
            Self::Pair(variant, drivers) => run_pair("unit", variant, drivers, options).map(Vec::from),
            Self::HouseAlone(variant, drivers) => {
                run_no_ventilation(&variant.house, drivers, options).map(|year| vec![year])
            }
        }
    }
}

/// Between them every line is met: sun, cooling, supply-side water, frost and its melting, room condensation, fans,
/// leaks in the unit and own exhaust air, a blocked core that thaws, recirculation, preheat, ground and ducts.
fn scenes() -> Vec<Scene> {
    let mut with_fans = unit(0.05, 0.85, 0.0);
    with_fans.fan_w = 600.0;
    (with_fans.fan_heat_before_w, with_fans.fan_heat_after_w) = (15.0, 25.0);
    let leaky = Unit { cross_leak_kg_per_s: 0.004, recirculated_share: 0.1, ..with_fans };
    let house = lived_in_house();
    let wet_air_w = saturation_humidity_ratio(34.0, common::PRESSURE_PA) * 0.9;
    let sultry = year_of(|_| (34.0, wet_air_w));
    // A cold week, a mild week, in turn.
    let freezing = year_of(|h| if h / 168 % 2 == 0 { (-20.0, 0.0005) } else { (8.0, 0.003) });
    let at = |year: &weather::WeatherYear| drivers_at(year, Steps::Four);
    vec![
        Scene::Pair(plate(&house, with_fans), at(&sultry)),
        Scene::Pair(plate(&house, with_fans), at(&freezing)),
        Scene::Pair(plate(&house, leaky), at(&file(FILES[2]))),
        Scene::Pair(membrane(&house, unit(0.05, 0.75, 0.6)), at(&file(FILES[3]))),
        Scene::Pair(
            Variant { frost: defrosting(FrostStrategy::None), ..plate(&house, with_fans) },
            at(&freezing),
        ),
        Scene::Pair(
            Variant {
                frost: defrosting(FrostStrategy::Recirculate(Start::OnDemand)),
                ..plate(&house, with_fans)
            },
            at(&freezing),
        ),
        Scene::Pair(
            Variant {
                frost: defrosting(FrostStrategy::Preheat(PreheatTo::Fixed(-4.0))),
                ..plate(&house, with_fans)
            },
            at(&freezing),
        ),
        Scene::Pair(plate(&house_on_the_ground(house), in_a_garage(with_fans)), at(&freezing)),
        Scene::HouseAlone(plate(&airtight(house), with_fans), at(&file(FILES[0]))),
        Scene::Pair(plate(&damp_behind_glass(house), with_fans), at(&freezing)),
        Scene::Pair(plate(&dry_beside_a_humidifier(house), with_fans), at(&file(FILES[0]))),
        Scene::Pair(plate(&damp_beside_a_dehumidifier(house), with_fans), at(&freezing)),
    ]
}

fn defrosting(strategy: FrostStrategy) -> FrostPlan {
    FrostPlan {
        strategy,
        capacity_kg: 1.5,
        plate_area_m2: 5.0,
        core_heat_capacity_j_per_k: 40e3,
        ..FrostPlan::unlimited()
    }
}

fn house_on_the_ground(mut house: simulation::House) -> simulation::House {
    house.site.ground_to_mass_w_per_k = 25.0;
    house
}

fn in_a_garage(unit: Unit) -> Unit {
    Unit { cold_duct_w_per_k: 3.0, warm_duct_w_per_k: 2.0, place_share: 0.8, ..unit }
}

/// A new building whose windows sweat, with a blower that runs on.
fn damp_behind_glass(mut house: simulation::House) -> simulation::House {
    house.indoors.numbers = IndoorsNumbers {
        drying_kg_per_s: 6e-4,
        drying_per_h: 1e-3,
        blower_w: 300.0,
        blower_always: 1.0,
        ..IndoorsNumbers::NONE
    };
    house.indoors.panes[0] = PaneNumbers::new(40.0, 5.0, 0.6);
    house
}

fn damp_beside_a_dehumidifier(mut house: simulation::House) -> simulation::House {
    house.indoors.numbers = IndoorsNumbers {
        dry_to: 0.3,
        dehumidifier_kg_per_s: 6e-4,
        dehumidifier_j_per_kg: 2e6,
        drying_kg_per_s: 8e-4,
        drying_per_h: 1e-3,
        ..IndoorsNumbers::NONE
    };
    house
}

fn dry_beside_a_humidifier(mut house: simulation::House) -> simulation::House {
    house.indoors.numbers =
        IndoorsNumbers { humidify_to: 0.4, humidifier_kg_per_s: 3e-4, ..IndoorsNumbers::NONE };
    house
}

/// With no way out for the family's water but the walls.
fn airtight(mut house: simulation::House) -> simulation::House {
    house.numbers.leakage_kg_per_s = 0.0;
    house
}

#[test]
fn true_postings_run_and_a_factor_of_one_is_true() {
    for scene in scenes() {
        assert!(scene.run(None).is_ok());
        let tamper = Tamper { line: Line::Heating, factor: 1.0 };
        assert_eq!(scene.run(Some(tamper)).unwrap(), scene.run(None).unwrap());
    }
}

#[test]
fn every_line_is_met() {
    let years: Vec<HouseYear> = scenes().iter().flat_map(|scene| scene.run(None).unwrap()).collect();
    for &met in LINES {
        let most = years.iter().map(|year| line(year, met).abs()).fold(0.0, f64::max);
        assert!(most > 0.0, "{met:?} is never posted");
    }
}

#[test]
fn a_millionth_too_much_on_any_line_stops_a_run_at_that_lines_book() {
    let scenes = scenes();
    let years: Vec<_> = scenes.iter().map(|scene| scene.run(None).unwrap()).collect();
    for &tampered in LINES {
        // Where nothing is posted there is nothing to falsify.
        let posts = |k: &usize| years[*k].iter().any(|year| line(year, tampered).abs() > 0.0);
        for factor in [1.0 + 1e-6, 1.0 - 1e-6] {
            let tamper = Tamper { line: tampered, factor };
            let found: Vec<(usize, Book)> = (0..scenes.len())
                .filter(posts)
                .filter_map(|k| open_book(&scenes[k], tamper).map(|book| (k, book)))
                .collect();
            println!("{tampered:?}: {found:?}");
            assert!(!found.is_empty(), "{tampered:?} × {factor} is not noticed");
            for (_, book) in found {
                assert_eq!(book, tampered.book(), "{tampered:?} × {factor}");
            }
        }
    }
}

fn open_book(scene: &Scene, tamper: Tamper) -> Option<Book> {
    match scene.run(Some(tamper)) {
        Ok(_) => None,
        Err(RunError::BooksOpen { book, hour, residual, turnover, .. }) => {
            assert!((1..=HOURS).contains(&hour));
            // What stopped the run is what was falsified: more than a billionth of the turnover.
            assert!(residual.abs() > 1e-9 * turnover, "{residual} {turnover}");
            Some(book)
        }
        Err(other) => panic!("{other}"),
    }
}

#[test]
fn the_error_names_book_hour_and_amounts() {
    let scene = &scenes()[0];
    let tamper = Tamper { line: Line::CoreOutdoor, factor: 2.0 };
    let error = scene.run(Some(tamper)).unwrap_err().to_string();
    assert!(
        error.starts_with("the core heat book does not close in hour 1 of the year: residual "),
        "{error}"
    );
    assert!(error.contains(" J at a turnover of "), "{error}");
}
