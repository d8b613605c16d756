//! Keys about frost, fans, filters and free cooling reach the plan that is run, in its units.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]
#![allow(clippy::float_cmp, reason = "the same arithmetic gives the same bits")]

use approx::assert_relative_eq;
use simulation::{
    Fans, FilterLoad, FreeCooling, FrostPlan, FrostStrategy, OutdoorAir, PreheatTo, Start, ThawLimits,
    Timetable, TimetableRow, Unit,
};
use study::build::{assumptions, build, size_unit};
use study::{Study, parse_study, starter_study};
use weather::{Overrides, WeatherYear};

fn year() -> WeatherYear {
    let bytes = include_bytes!("../../../weather-samples/frosthollow.csv");
    weather::read(bytes, &Overrides::default()).expect("an invented year").0
}

fn study_of(core: &str, rest: &str) -> Study {
    let head = &starter_study()[..starter_study().find("# Two units").expect("the comment")];
    let text = format!(
        "{head}[[unit]]\nname = \"A\"\ncore = \"{core}\"\neffectiveness = {{ sensible = 0.8, at = \"45 L/s\" }}\n{rest}"
    );
    parse_study(&text, "s").unwrap_or_else(|problems| panic!("{}", problems.render(&text, "s")))
}

fn built(core: &str, rest: &str) -> (Unit, FrostPlan) {
    let built = build(&study_of(core, rest), &year()).unwrap_or_else(|error| panic!("{rest}: {error}"));
    (built.units[0].1.unit, built.units[0].1.frost)
}

fn plan(rest: &str) -> FrostPlan {
    built("sensible-plate", rest).1
}

#[test]
fn every_strategy_is_the_one_that_is_run() {
    let timetable = "[unit.frost]\nstrategy = \"recirculate\"\n[[unit.frost.timetable]]\nat_or_below = \"-5 °C\"\n\
                     defrost = \"6 min\"\nrun = \"0.9 h\"";
    let row = TimetableRow { at_or_below_c: -5.0, defrost_min: 6.0, run_min: 54.0 };
    let expected = FrostStrategy::Recirculate(Start::Timetable(Timetable::new(&[row]).unwrap()));
    assert_eq!(plan(timetable).strategy, expected);
    let limits = ThawLimits { start_below_c: Some(-2.0), end_above_c: Some(3.0) };
    for (lines, expected) in [
        ("strategy = \"none\"", FrostStrategy::None),
        ("strategy = \"recirculate\"", FrostStrategy::Recirculate(Start::OnDemand)),
        ("strategy = \"preheat\"", FrostStrategy::Preheat(PreheatTo::FirstFrost)),
        ("strategy = \"preheat\"\npreheat_to = \"-4 °C\"", FrostStrategy::Preheat(PreheatTo::Fixed(-4.0))),
        ("strategy = \"supply-off\"", FrostStrategy::SupplyOff(ThawLimits::ON_DEMAND)),
        (
            "strategy = \"supply-off\"\nstart_below = \"-2 °C\"\nend_above = \"3 °C\"",
            FrostStrategy::SupplyOff(limits),
        ),
        ("strategy = \"bypass\"", FrostStrategy::Bypass),
    ] {
        assert_eq!(plan(&format!("[unit.frost]\n{lines}\n")).strategy, expected, "{lines}");
    }
    assert_eq!(built("sensible-wheel", "").1.strategy, FrostStrategy::SlowWheel);
    assert_eq!(plan("").strategy, FrostStrategy::None);
}

#[test]
fn numbers_of_frost_arrive_in_their_units() {
    let rest = "core_heat_capacity = \"6 kJ/K\"\n[unit.frost]\nstrategy = \"recirculate\"\ncapacity = \"2 kg\"\n\
                to_cold_end = 0.1\nreturned = 0.4\nhold_outdoor_air = true\n";
    let (unit, plan) = built("sensible-plate", rest);
    assert_eq!(unit.to_cold_end, 0.1);
    assert_eq!((plan.capacity_kg, plan.returned), (2.0, 0.4));
    assert_eq!(plan.core_heat_capacity_j_per_k, 6000.0);
    assert_eq!(plan.outdoor_air, OutdoorAir::Held);
    let preheat = "[unit.frost]\nstrategy = \"preheat\"\npreheat_power = \"0.8 kW\"\n";
    assert_eq!(self::plan(preheat).preheat_most_w, 800.0);
    assert_eq!(self::plan("").preheat_most_w, f64::INFINITY);
}

/// By hand: 0.03 kg for each of the house's 45 L/s; counterflow of 0.8 needs NTU 0.8/0.2 = 4, so
/// UA = 4 × 0.045 m³/s × 1.204 kg/m³ (20 °C, sea level; the site is 250 m higher) × 1006 = about 212 W/K, and 25 W/(m² K).
#[test]
fn what_is_not_stated_follows_from_the_core() {
    let plan = plan("");
    assert_relative_eq!(plan.capacity_kg, 1.35, max_relative = 1e-12);
    assert_relative_eq!(plan.plate_area_m2, 212.0 / 25.0, max_relative = 0.05);
    assert_relative_eq!(plan.core_heat_capacity_j_per_k, plan.plate_area_m2 * 650.0, max_relative = 1e-12);
    assert_eq!(plan.gap_m, 0.002);
}

/// By hand: 10 passages of a stream, each with two faces of 0.3 × 0.2 m.
#[test]
fn measured_plates_give_their_own_area_and_gap() {
    let head = &starter_study()[..starter_study().find("# Two units").unwrap()];
    let text = format!(
        "{head}[[unit]]\nname = \"A\"\ncore = \"sensible-plate\"\n[unit.geometry]\ngap = \"3 mm\"\nlength = \"0.3 m\"\n\
         width = \"0.2 m\"\nchannels = 60\n"
    );
    let study = parse_study(&text, "s").unwrap_or_else(|problems| panic!("{}", problems.render(&text, "s")));
    let plan = build(&study, &year()).unwrap().units[0].1.frost;
    assert_relative_eq!(plan.plate_area_m2, 60.0 * 2.0 * 0.3 * 0.2, max_relative = 1e-12);
    assert_relative_eq!(plan.gap_m, 0.003, max_relative = 1e-12);
}

/// By hand: p₀ (1 − (45/90)²) = 300 × 0.75 = 225 Pa at the rated flow, of which the ducts take 100.
#[test]
fn a_fan_curve_leaves_the_core_what_the_ducts_do_not_take() {
    let rest = "[unit.fan]\npower = \"60 W\"\nkind = \"fixed-speed\"\nsupply_share = 0.55\n[unit.fan.curve]\n\
                shut_off = \"300 Pa\"\nfree_flow = \"90 L/s\"\nsystem = \"100 Pa\"\n";
    let (unit, plan) = built("sensible-plate", rest);
    let Fans::FixedSpeed { shut_off_pa, free_flow_ratio, core_pa } = plan.fans else { panic!("fixed speed") };
    assert_relative_eq!(shut_off_pa, 300.0, max_relative = 1e-12);
    assert_relative_eq!(free_flow_ratio, 2.0, max_relative = 1e-12);
    assert_relative_eq!(core_pa, 125.0, max_relative = 1e-12);
    assert_eq!((unit.fan_w, unit.supply_fan_share), (60.0, 0.55));
    assert_relative_eq!(unit.fan_heat_after_w, 33.0, max_relative = 1e-12);
}

#[test]
fn fans_before_the_core_warm_what_enters_it_each_with_its_own_power() {
    let rest = "[unit.fan]\npower = \"60 W\"\nposition = \"before-core\"\nsupply_share = 0.6\n";
    let unit = built("sensible-plate", rest).0;
    assert_relative_eq!(unit.fan_heat_before_w, 36.0, max_relative = 1e-12);
    assert_relative_eq!(unit.extract_fan_before_w, 24.0, max_relative = 1e-12);
    assert_eq!(unit.fan_heat_after_w, 0.0);
}

#[test]
fn filters_and_free_cooling_arrive_too() {
    let rest = "[unit.filter]\ninterval = \"90 d\"\nload = 0.5\n[unit.bypass]\nindoor_above = \"23 °C\"\n\
                colder_by = \"2 K\"\nsupply_at_least = \"15 °C\"\n";
    let plan = plan(rest);
    assert_eq!(plan.filters, Some(FilterLoad { extra: 0.5, interval_d: 90.0 }));
    let free = FreeCooling { indoor_above_c: 23.0, colder_by_k: 2.0, supply_at_least_c: 15.0 };
    assert_eq!(plan.free_cooling, Some(free));
    assert_eq!(self::plan("").free_cooling, None);
}

/// The rated efficiency holds half of each fan's heat unless the sheet says otherwise.
#[test]
fn the_fit_of_a_rating_sheet_takes_the_fans_share_into_account() {
    let sheet = |share: &str| {
        let head = &starter_study()[..starter_study().find("# Two units").unwrap()];
        let text = format!(
            "{head}[[unit]]\nname = \"A\"\ncore = \"sensible-plate\"\n[[unit.rating]]\noutdoor = \"0 °C\"\nairflow = \"30 L/s\"\n\
             sensible_recovery = 0.72\npower = \"44 W\"\n[unit.fan]\nposition = \"before-core\"\n{share}"
        );
        let study =
            parse_study(&text, "s").unwrap_or_else(|problems| panic!("{}", problems.render(&text, "s")));
        size_unit(&study, &study.units[0], 0.0).unwrap().core.ua_w_per_k
    };
    assert_eq!(sheet(""), sheet("supply_share = 0.5\n"));
    assert!((sheet("supply_share = 0.7\n") - sheet("")).abs() > 0.1);
}

#[test]
fn what_no_key_changes_is_listed() {
    let listed = |study: &Study| assumptions(study).into_iter().map(|used| used.path).collect::<Vec<_>>();
    let paths = listed(&study_of("sensible-plate", ""));
    assert_eq!(
        paths,
        [
            "unit.frost.plates",
            "unit.flow_exponent",
            "house.moisture.profiles",
            "house.ground_temperature",
            "house.people.carbon_dioxide",
            "unit.fan.core_share",
            "house.window.sweat"
        ]
    );
}
