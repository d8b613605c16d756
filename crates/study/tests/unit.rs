//! What a study says of a unit, read to SI, key by key; and what is filled in.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]
#![allow(clippy::float_cmp, reason = "the same arithmetic gives the same bits")]

use approx::assert_relative_eq;
use study::{
    Arrangement, CoreKind, Performance, RatedAir, RatedHumidity, RatingPoint, RatingStandard, Study, Unit,
    parse_study, starter_study,
};

/// The starter's house, whose airflow is 45 L/s, with a unit called A of this core.
fn study_with(core: &str, rest: &str) -> Study {
    let head = &starter_study()[..starter_study().find("# Two units").expect("the comment")];
    let text = format!("{head}[[unit]]\nname = \"A\"\ncore = \"{core}\"\n{rest}");
    parse_study(&text, "s").unwrap_or_else(|problems| panic!("{}", problems.render(&text, "s")))
}

fn unit_with(core: &str, rest: &str) -> Unit {
    study_with(core, rest).units.swap_remove(0)
}

/// The points of a unit with one `[[unit.rating]]` of each of these lines.
fn points_of(core: &str, points: &[&str]) -> Vec<RatingPoint> {
    let rest: Vec<String> = points.iter().map(|lines| format!("[[unit.rating]]\n{lines}\n")).collect();
    match unit_with(core, &rest.concat()).performance {
        Performance::Ratings(points) => points,
        other => panic!("rating points, not {other:?}"),
    }
}

/// What was filled in, as `key = value`, with the reason.
fn filled_in(study: &Study) -> Vec<(String, &'static str)> {
    let of_unit = study.defaults_used.iter().filter(|used| used.path.starts_with("unit.A."));
    of_unit.map(|used| (format!("{} = {}", &used.path["unit.A.".len()..], used.value), used.why)).collect()
}

const PAIR: &str = "[unit.effectiveness]\nsensible = 0.8\nlatent = 0.6\nat = \"30 L/s\"\n";
const HEAT_ALONE: &str = "[unit.effectiveness]\nsensible = 0.8\nat = \"30 L/s\"\n";
const PLATES: &str =
    "[unit.geometry]\ngap = \"2 mm\"\nlength = \"0.3 m\"\nwidth = \"10 in\"\nchannels = 80\n";

#[test]
fn each_core_is_read_and_passes_what_its_name_says() {
    for (word, core, vapour, wheel) in [
        ("sensible-plate", CoreKind::SensiblePlate, false, false),
        ("enthalpy-plate", CoreKind::EnthalpyPlate, true, false),
        ("sensible-wheel", CoreKind::SensibleWheel, false, true),
        ("enthalpy-wheel", CoreKind::EnthalpyWheel, true, true),
    ] {
        let unit = unit_with(word, if vapour { PAIR } else { HEAT_ALONE });
        assert_eq!((unit.core, core.passes_vapour(), core.is_wheel()), (core, vapour, wheel));
        let latent = if vapour { 0.6 } else { 0.0 };
        let expected = Performance::Effectiveness { sensible: 0.8, latent, at_m3_per_s: 0.03 };
        assert_eq!(unit.performance, expected);
        // 5 is what is assumed of a wheel.
        assert_eq!(unit.wheel_capacity_ratio, wheel.then_some(5.0));
        assert_eq!(unit.arrangement, Arrangement::Counter);
    }
}

#[test]
fn each_arrangement_is_read_whatever_the_performance_is_given_as() {
    let conductance = "[unit.conductance]\nua = \"200 W/K\"\nat = \"30 L/s\"\n";
    let rating = "[[unit.rating]]\noutdoor = \"0 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.72\n";
    for form in [conductance, HEAT_ALONE, rating, PLATES] {
        for (lines, arrangement) in [
            ("flow = \"counter\"", Arrangement::Counter),
            ("flow = \"cross\"", Arrangement::Cross),
            ("flow = \"quasi-counter\"", Arrangement::QuasiCounter { counter_share: 0.6 }),
            (
                "flow = \"quasi-counter\"\ncounter_share = 0.45",
                Arrangement::QuasiCounter { counter_share: 0.45 },
            ),
        ] {
            assert_eq!(
                unit_with("sensible-plate", &format!("{lines}\n{form}")).arrangement,
                arrangement,
                "{lines}"
            );
        }
    }
}

#[test]
fn leaks_and_balance_are_read() {
    let leaks =
        "cross_leakage = 0.03\noutdoor_air_correction = 0.97\nbalance = 1.1\nhood_recirculation = 0.02\n";
    let unit = unit_with("enthalpy-wheel", &format!("{leaks}{PAIR}[unit.wheel]\ncapacity_ratio = 3.5\n"));
    assert_eq!((unit.cross_leakage, unit.outdoor_air_correction), (Some(0.03), 0.97));
    assert_eq!((unit.balance, unit.hood_recirculation), (1.1, 0.02));
    assert_eq!(unit.wheel_capacity_ratio, Some(3.5));
}

#[test]
fn what_a_unit_leaves_open_is_listed_with_its_reason() {
    let study = study_with("sensible-wheel", HEAT_ALONE);
    let expected = [
        ("location = heated-room".to_owned(), "assumed: inside the heated house"),
        ("cross_leakage = 0".to_owned(), "assumed: no cross-leakage, since none is given"),
        ("outdoor_air_correction = 1".to_owned(), "assumed: as much air enters as leaves"),
        ("balance = 1".to_owned(), "assumed: balanced flows"),
        (
            "hood_recirculation = 0".to_owned(),
            "assumed: intake and exhaust hoods apart by the usual distance",
        ),
        ("wheel.capacity_ratio = 5".to_owned(), "assumed: a wheel that turns at full speed"),
        (
            // By hand: 1.2 W per L/s × 45 L/s.
            "fan.power = 54 W".to_owned(),
            "assumed: 1.2 W per L/s of `ventilation.airflow`, both fans together",
        ),
        ("fan.position = after-core".to_owned(), "common practice: most cabinets are built so"),
        (
            "fan.kind = constant-flow".to_owned(),
            "common practice: fans of such units are controlled to their flow",
        ),
        ("fan.supply_share = 0.5".to_owned(), "assumed: two fans alike"),
        (
            "frost.strategy = slow-down".to_owned(),
            "common practice: a wheel that turns more slowly stays warmer where it is coldest",
        ),
        (
            // By hand: 0.03 kg per L/s × 45 L/s.
            "frost.capacity = 1.35 kg".to_owned(),
            "assumed: 0.03 kg for each L/s of `ventilation.airflow`",
        ),
        ("filter = clean".to_owned(), "assumed: filters stay clean, since the file says nothing of them"),
        (
            "upkeep = none".to_owned(),
            "assumed: the core stays clean and is never taken out, since the file says nothing of it",
        ),
        (
            "bypass = none".to_owned(),
            "assumed: nothing opens by itself, so that no air passes round the core to cool the house",
        ),
    ];
    assert_eq!(filled_in(&study), expected);
    let study = study_with("sensible-plate", &format!("flow = \"quasi-counter\"\n{HEAT_ALONE}"));
    assert_eq!(
        filled_in(&study)[1],
        ("counter_share = 0.6".to_owned(), "assumed: hexagonal plates of common proportions")
    );
}

#[test]
fn cross_leakage_left_open_is_fitted_to_rating_points_and_none_otherwise() {
    assert_eq!(unit_with("sensible-plate", HEAT_ALONE).cross_leakage, None);
    // Rating points leave room for leakage, so that less outdoor air than supply air is no contradiction.
    let study = study_with(
        "sensible-plate",
        "outdoor_air_correction = 0.95\n[[unit.rating]]\noutdoor = \"0 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.72\n",
    );
    assert_eq!(study.units[0].cross_leakage, None);
    let fitted = "fitted to the rating points, between 0 and 0.1, and shown with the fit";
    assert!(filled_in(&study).contains(&("cross_leakage = fitted".to_owned(), fitted)));
}

#[test]
fn an_outdoor_air_correction_may_be_as_small_as_what_leaks_allows() {
    for leakage in ["0.05", "0.1", "0.03"] {
        let least = 1.0 - leakage.parse::<f64>().unwrap();
        let lines = format!("cross_leakage = {leakage}\noutdoor_air_correction = {least:.2}\n{HEAT_ALONE}");
        assert_relative_eq!(unit_with("sensible-plate", &lines).outdoor_air_correction, least);
    }
}

#[test]
fn a_table_of_effectivenesses_is_sorted_by_flow() {
    let unit = unit_with(
        "enthalpy-plate",
        "[[unit.effectiveness]]\nsensible = 0.7\nlatent = 0.45\nat = \"60 L/s\"\n\
         [[unit.effectiveness]]\nsensible = 0.8\nlatent = 0.6\nat = \"108 m3/h\"\n",
    );
    let Performance::EffectivenessTable(points) = unit.performance else { panic!("a table") };
    let read: Vec<(f64, f64)> = points.iter().map(|point| (point.sensible, point.latent)).collect();
    assert_eq!(read, [(0.8, 0.6), (0.7, 0.45)]);
    assert_relative_eq!(points[0].at_m3_per_s, 0.03, max_relative = 1e-12);
}

#[test]
fn a_geometry_is_read_in_metres() {
    let Performance::Geometry(plates) = unit_with("sensible-plate", PLATES).performance else {
        panic!("a geometry")
    };
    assert_relative_eq!(plates.gap_m, 0.002, max_relative = 1e-12);
    assert_relative_eq!(plates.length_m, 0.3, max_relative = 1e-12);
    // 1 in = 0.0254 m.
    assert_relative_eq!(plates.width_m, 0.254, max_relative = 1e-12);
    assert_eq!((plates.channels, plates.membrane_resistance_s_per_m), (80, None));
    let membrane = format!("{PLATES}membrane_resistance = \"0.6 s/cm\"\n");
    let Performance::Geometry(plates) = unit_with("enthalpy-plate", &membrane).performance else {
        panic!("a geometry")
    };
    assert_relative_eq!(plates.membrane_resistance_s_per_m.unwrap(), 60.0, max_relative = 1e-12);
}

#[test]
fn every_key_of_a_rating_point_is_read() {
    let c439 = "standard = \"csa-c439\"\noutdoor = \"32 °F\"\noutdoor_humidity = \"75 %\"\nindoor = \"21 °C\"\n\
                indoor_wet_bulb = \"13 °C\"\ngross_airflow = \"64 cfm\"\nnet_airflow = \"62 cfm\"\n\
                extract_airflow = \"31 L/s\"\npower = \"44 W\"\napparent_sensible = 0.8\nsensible_recovery = 0.72\n\
                adjusted_sensible_recovery = 0.76\nlatent_recovery = 0.5\ntotal_recovery = 0.65\n\
                adjusted_total_recovery = 0.68";
    let cold = "outdoor = \"-25 °C\"\nairflow = \"30 L/s\"\nnet_airflow = \"20 L/s\"\nsensible_recovery = 0.6\n\
                ventilation_reduction = 0.12";
    let en = "standard = \"en-13141-7\"\noutdoor = \"2 °C\"\noutdoor_wet_bulb = \"1 °C\"\nindoor = \"25 °C\"\n\
              indoor_humidity = \"45 %\"\nairflow = \"30 L/s\"\ntemperature_ratio = 1.02\nmoisture_ratio = 0.6\n\
              exhaust_temperature_ratio = 0.7";
    let [c439, cold, en] = points_of("enthalpy-plate", &[c439, cold, en]).try_into().expect("three points");
    assert_relative_eq!(c439.outdoor.dry_bulb_c, 0.0, epsilon = 1e-12);
    assert_eq!(c439.outdoor.humidity, RatedHumidity::Relative(0.75));
    assert_eq!(c439.indoor, RatedAir { dry_bulb_c: 21.0, humidity: RatedHumidity::WetBulbC(13.0) });
    // 1 cfm = 0.0004719474432 m³/s.
    assert_relative_eq!(c439.supply_m3_per_s, 64.0 * 0.0004719474432, max_relative = 1e-12);
    assert_relative_eq!(c439.net_supply_m3_per_s.unwrap(), 62.0 * 0.0004719474432, max_relative = 1e-12);
    assert_eq!((c439.extract_m3_per_s, c439.power_w), (0.031, 44.0));
    let f = c439.figures;
    assert_eq!(
        [f.apparent_sensible, f.sensible_recovery, f.adjusted_sensible_recovery],
        [Some(0.8), Some(0.72), Some(0.76)]
    );
    assert_eq!(
        [f.latent_recovery, f.total_recovery, f.adjusted_total_recovery],
        [Some(0.5), Some(0.65), Some(0.68)]
    );
    assert_eq!([f.temperature_ratio, f.moisture_ratio, f.exhaust_temperature_ratio], [None; 3]);
    assert_eq!((cold.is_frost_free(), cold.ventilation_reduction), (false, Some(0.12)));
    assert_eq!((en.standard, en.is_frost_free()), (RatingStandard::En13141Part7, true));
    assert_eq!(en.outdoor, RatedAir { dry_bulb_c: 2.0, humidity: RatedHumidity::WetBulbC(1.0) });
    assert_eq!(en.indoor, RatedAir { dry_bulb_c: 25.0, humidity: RatedHumidity::Relative(0.45) });
    let f = en.figures;
    assert_eq!(
        [f.temperature_ratio, f.moisture_ratio, f.exhaust_temperature_ratio],
        [Some(1.02), Some(0.6), Some(0.7)]
    );
    assert_eq!([f.apparent_sensible, f.latent_recovery, f.total_recovery], [None; 3]);
}

#[test]
fn two_points_at_one_flow_are_fine() {
    let points = points_of(
        "sensible-plate",
        &[
            "outdoor = \"0 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.72",
            "outdoor = \"-25 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.62",
        ],
    );
    assert_eq!(points.iter().map(|point| point.outdoor.dry_bulb_c).collect::<Vec<_>>(), [0.0, -25.0]);
}

#[test]
fn ten_degrees_of_frost_is_still_frost_free() {
    let points =
        points_of("sensible-plate", &["outdoor = \"-10 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.7"]);
    assert!(points[0].is_frost_free());
}

/// The test conditions of both standards, recalled from memory: CSA C439 heating 22 °C and 40 %, cooling 35/26.3 °C
/// outdoors and 24 °C, 50 % indoors; EN 13141-7 7/6 °C and 20/12 °C.
#[test]
fn what_a_standard_prescribes_is_filled_in() {
    let relative =
        |dry_bulb_c, percent: f64| RatedAir { dry_bulb_c, humidity: RatedHumidity::Relative(percent * 0.01) };
    let wet = |dry_bulb_c, wet_bulb_c| RatedAir { dry_bulb_c, humidity: RatedHumidity::WetBulbC(wet_bulb_c) };
    for (lines, outdoor, indoor) in [
        ("outdoor = \"0 °C\"\nsensible_recovery = 0.7", relative(0.0, 80.0), relative(22.0, 40.0)),
        ("outdoor = \"95 °F\"\nsensible_recovery = 0.7", wet(35.0, 26.3), relative(24.0, 50.0)),
        (
            "outdoor = \"0 °C\"\nindoor = \"20 °C\"\nsensible_recovery = 0.7",
            relative(0.0, 80.0),
            relative(20.0, 40.0),
        ),
        ("standard = \"en-13141-7\"\ntemperature_ratio = 0.8", wet(7.0, 6.0), wet(20.0, 12.0)),
        (
            "standard = \"en-13141-7\"\noutdoor = \"-7 °C\"\ntemperature_ratio = 0.8",
            relative(-7.0, 80.0),
            wet(20.0, 12.0),
        ),
    ] {
        let point = points_of("sensible-plate", &[&format!("airflow = \"30 L/s\"\n{lines}")]).remove(0);
        assert_relative_eq!(point.outdoor.dry_bulb_c, outdoor.dry_bulb_c, epsilon = 1e-12);
        assert_eq!((point.outdoor.humidity, point.indoor), (outdoor.humidity, indoor), "{lines}");
        // The point's own flow, and by hand 1.2 W per L/s × 30 L/s.
        assert_eq!(point.extract_m3_per_s, point.supply_m3_per_s);
        assert_relative_eq!(point.power_w, 36.0, max_relative = 1e-12);
    }
}

#[test]
fn what_a_point_leaves_open_is_listed_with_its_reason() {
    let lines = "[[unit.rating]]\nstandard = \"en-13141-7\"\nairflow = \"30 L/s\"\ntemperature_ratio = 0.8\n";
    let listed: Vec<(String, &str)> = filled_in(&study_with("sensible-plate", lines))
        .into_iter()
        .filter(|(used, _)| used.starts_with("rating"))
        .collect();
    let expected = [
        ("rating[1].outdoor = 7 °C".to_owned(), "EN 13141-7: the standard test"),
        ("rating[1].outdoor_wet_bulb = 6 °C".to_owned(), "EN 13141-7: the standard test"),
        ("rating[1].indoor = 20 °C".to_owned(), "EN 13141-7: the standard test"),
        ("rating[1].indoor_wet_bulb = 12 °C".to_owned(), "EN 13141-7: the standard test"),
        ("rating[1].extract_airflow = 30 L/s".to_owned(), "assumed: equal to the supply flow"),
        (
            "rating[1].power = 36 W".to_owned(),
            "assumed: 1.2 W per L/s of the point's supply flow, both fans together",
        ),
    ];
    assert_eq!(listed, expected);
    let lines = "[[unit.rating]]\noutdoor = \"0 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.72\n";
    let listed = filled_in(&study_with("sensible-plate", lines));
    for (used, why) in [
        ("rating[1].standard = csa-c439", "assumed: the test standard of North America"),
        (
            "rating[1].outdoor_humidity = 80 %",
            "assumed: cold air holds so little water that it matters little",
        ),
        ("rating[1].indoor = 22 °C", "CSA C439: the heating test"),
        ("rating[1].indoor_humidity = 40 %", "CSA C439: the heating test"),
    ] {
        assert!(listed.contains(&(used.to_owned(), why)), "{used} is not in {listed:?}");
    }
}

#[test]
fn fan_power_left_open_is_that_of_the_nearest_frost_free_point() {
    let study = study_with(
        "sensible-plate",
        "[[unit.rating]]\noutdoor = \"0 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.72\npower = \"30 W\"\n\
         [[unit.rating]]\noutdoor = \"0 °C\"\nairflow = \"50 L/s\"\nsensible_recovery = 0.66\npower = \"80 W\"\n\
         [[unit.rating]]\noutdoor = \"-25 °C\"\nairflow = \"45 L/s\"\nsensible_recovery = 0.6\npower = \"90 W\"\n",
    );
    // By hand: 80 W / 50 L/s × 45 L/s.
    assert_relative_eq!(study.units[0].fan.power_w, 72.0, max_relative = 1e-12);
    let why = "assumed: the power for each L/s of the frost-free rating point that is nearest in flow";
    assert!(filled_in(&study).contains(&("fan.power = 72 W".to_owned(), why)));
}

#[test]
fn a_total_figure_stands_for_the_sensible_or_the_latent_one() {
    for figures in [
        "sensible_recovery = 0.7\ntotal_recovery = 0.6",
        "latent_recovery = 0.5\ntotal_recovery = 0.6",
        "apparent_sensible = 0.8\nlatent_recovery = 0.5",
    ] {
        let point = format!("outdoor = \"0 °C\"\nairflow = \"30 L/s\"\n{figures}");
        assert_eq!(points_of("enthalpy-wheel", &[&point]).len(), 1);
    }
    // The two may stand at different points.
    let heat = "outdoor = \"0 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.7";
    let both = "outdoor = \"35 °C\"\nairflow = \"30 L/s\"\ntotal_recovery = 0.6";
    assert_eq!(points_of("enthalpy-plate", &[heat, both]).len(), 2);
}
