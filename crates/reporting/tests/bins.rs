//! The bin method beside the hourly run: steady weather leaves nothing between them, parts add up to the printed digit, folding and
//! variances by hand.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod made_up;

use std::sync::Arc;

use approx::{assert_abs_diff_eq, assert_relative_eq};
use exchanger::CoreKind;
use made_up::{HOURS, each_hour};
use psychrometrics::checked::humidity_ratio_from_relative_humidity;
use reporting::bin_study::{Apart, Figures, Method, Printed};
use reporting::{BinStudy, Cell, ReportError, ShowIn, bin_table, bin_words, bins_csv, bins_json};
use simulation::results::{Case, Hour, HouseYear};
use simulation::{
    AirAround, Drivers, FrostPlan, House, HouseNumbers, Indoors, MAX_FACINGS, PeopleProfile, RunOptions,
    SiteNumbers, Steps, Unit, Variant, plain_hour, run_alone,
};
use weather::bins::Edges;
use weather::{Overrides, WeatherYear};

const PRESSURE_PA: f64 = 101_325.0;

/// A house that answers to nothing but its plants; a unit of 0.036 kg/s and a heat effectiveness of 0.8.
fn steady(core: CoreKind, vapour_kg_per_s: f64) -> Variant {
    let numbers = HouseNumbers {
        floor_area_m2: 100.0,
        outdoor_to_mass_w_per_k: 40.7,
        mass_to_surface_w_per_k: 2275.0,
        surface_to_air_w_per_k: 1552.5,
        windows_w_per_k: 30.0,
        gain_share_mass: 0.5,
        gain_share_lost: 0.0,
        mass_j_per_k: 16.5e6,
        heating_set_point_c: 21.0,
        heating_capacity_w: 1e9,
        heating_efficiency: 1.0,
        cooling_set_point_c: 1e3,
        cooling_capacity_w: 0.0,
        cooling_cop: 1.0,
        apparatus_dew_point_c: 11.0,
        people: 0.0,
        person_heat_w: 0.0,
        person_water_kg_per_s: 0.0,
        other_gains_w: 0.0,
        showers_kg_per_day: 0.0,
        cooking_kg_per_day: 0.0,
        laundry_kg_per_day: 0.0,
        plants_kg_per_day: 14.0,
        rest_air_kg: 250.0,
        wet_air_kg: 45.0,
        wet_share: 0.15,
        door_kg_per_s: 0.03,
        leakage_kg_per_s: 0.0,
        surface_kg_per_s_pa: 0.0,
        surface_capacity_kg: 1.0,
    };
    let unit = Unit {
        supply_kg_per_s: 0.036,
        extract_kg_per_s: 0.036,
        ua_w_per_k: 4.0 * 0.036 * 1006.0,
        vapour_kg_per_s,
        ..Unit::none()
    };
    let house = House {
        numbers,
        site: SiteNumbers::none(),
        apertures_m2: [0.0; MAX_FACINGS],
        indoors: Indoors::NONE,
    };
    Variant { house, unit, core, frost: FrostPlan::unlimited() }
}

/// A year of this outdoor air, without sun.
fn weather_of(air: impl Fn(usize) -> (f64, f64)) -> WeatherYear {
    let path = format!("{}/../../weather-samples/millbrook.csv", env!("CARGO_MANIFEST_DIR"));
    let (year, _) = weather::read(&std::fs::read(path).unwrap(), &Overrides::default()).unwrap();
    WeatherYear {
        dry_bulb_c: (0..HOURS).map(|h| air(h).0).collect(),
        humidity_ratio: (0..HOURS).map(|h| air(h).1).collect(),
        pressure_pa: vec![PRESSURE_PA; HOURS],
        global_horizontal_w_per_m2: vec![0.0; HOURS],
        direct_normal_w_per_m2: vec![0.0; HOURS],
        diffuse_horizontal_w_per_m2: vec![0.0; HOURS],
        ..year
    }
}

fn run(variant: &Variant, year: &WeatherYear) -> HouseYear {
    let drivers = Drivers::new(year, &[], PeopleProfile::AlwaysHome, Steps::One).unwrap();
    // Two months before hour 0: the rooms and the building have forgotten how they began.
    run_alone("Steady", variant, &drivers, RunOptions { lead_in_hours: 1460, tamper: None }).unwrap()
}

fn two_kelvin() -> Edges {
    Edges::new(2.0, 0.0).unwrap()
}

fn sum(study: &BinStudy, method: Method, of: fn(&reporting::bin_study::Amounts) -> f64) -> f64 {
    study.rows.iter().map(|row| of(&row.amounts[method as usize])).sum()
}

/// Nothing moves, nothing is stored, one bin: told bins, hours one by one and the run are one and the same.
#[test]
fn steady_weather_and_a_steady_house_leave_nothing_between_told_bins_and_the_run() {
    let vapour = 0.036;
    let units = [
        (CoreKind::SensiblePlate, 0.0, 4.0, 0.0045),
        (CoreKind::SensiblePlate, 0.0, 12.0, 0.006),
        (CoreKind::EnthalpyPlate, vapour, 4.0, 0.0045),
        (CoreKind::EnthalpyWheel, vapour, -3.0, 0.0025),
    ];
    for (core, vapour_kg_per_s, outdoor_c, outdoor_w) in units {
        let variant = steady(core, vapour_kg_per_s);
        let study =
            BinStudy::new(&run(&variant, &weather_of(|_| (outdoor_c, outdoor_w))), &variant, &two_kelvin());
        let study = study.unwrap();
        assert_eq!((study.rows.len(), study.told_bins, study.rows[0].hours), (1, 12, 8760));
        assert_relative_eq!(study.rows[0].dry_bulb_c, outdoor_c, max_relative = 1e-12);
        let [hourly, no_history, told, _] = study.rows[0].amounts;
        for other in [no_history, told] {
            let pairs = [
                (hourly.recovered_sensible_kwh, other.recovered_sensible_kwh),
                (hourly.recovered_latent_kwh, other.recovered_latent_kwh),
                (hourly.condensate_l, other.condensate_l),
                (hourly.ice_formed_kg, other.ice_formed_kg),
                (hourly.frost_h, other.frost_h),
            ];
            for (run, bins) in pairs {
                // Latent heat of a plate without condensate on its supply side is rounding in both.
                assert_relative_eq!(run, bins, max_relative = 1e-6, epsilon = 1e-6);
            }
        }
        assert!(hourly.recovered_sensible_kwh > 500.0);
        assert_abs_diff_eq!(study.indoor_humidity.whole(), 0.0, epsilon = 1e-16);
        assert_eq!(study.apart.map(|(hours, _)| hours), [0, 0, 0, 8760]);
    }
    // The wet plate is wet.
    let variant = steady(CoreKind::SensiblePlate, 0.0);
    let wet = BinStudy::new(&run(&variant, &weather_of(|_| (4.0, 0.0045))), &variant, &two_kelvin()).unwrap();
    assert!(sum(&wet, Method::Told, |amounts| amounts.condensate_l) > 500.0);
}

/// A dry counterflow core of NTU 4 passes 4/5 of `m c_p Δt`. It is linear, so bins lose nothing: in dry air every way but blind gives
/// the degree-hours to the indoor temperature.
#[test]
fn a_dry_core_recovers_the_degree_hours_in_every_way() {
    let mut variant = steady(CoreKind::SensiblePlate, 0.0);
    variant.house.numbers.plants_kg_per_day = 0.0;
    let outdoor = |h: usize| 6.0 + f64::from(u32::try_from(h * 7 % 24).unwrap()) * 0.25;
    let study = BinStudy::new(&run(&variant, &weather_of(|h| (outdoor(h), 0.0))), &variant, &two_kelvin());
    let study = study.unwrap();
    let kelvin_hours: f64 = (0..HOURS).map(|h| 21.0 - outdoor(h)).sum();
    let expected_kwh = 0.8 * 0.036 * 1006.0 * kelvin_hours / 1000.0;
    for method in [Method::Hourly, Method::NoHistory, Method::Told] {
        let found = sum(&study, method, |amounts| amounts.recovered_sensible_kwh);
        assert_relative_eq!(found, expected_kwh, max_relative = 1e-9);
    }
    // 6.0 to 11.75 °C in bins of 2 K: three, in every month.
    assert_eq!((study.rows.len(), study.told_bins), (3, 36));
}

/// A year that nobody ran: outdoor air of four kinds in turn, indoor air that moves, some ice, a defrost, another airflow.
fn invented(variant: &Variant) -> HouseYear {
    let rated_kg = variant.unit.supply_kg_per_s * 3600.0;
    each_hour("Invented", Case::Unit, |h| {
        let turn = h % 4;
        Hour {
            outdoor_c: [-11.0, -9.5, 3.0, 14.5][turn],
            outdoor_humidity_ratio: [0.0012, 0.0014, 0.004, 0.008][turn],
            pressure_pa: PRESSURE_PA,
            air_c: if h % 24 < 8 { 20.0 } else { 21.5 },
            humidity_ratio: if h % 12 < 6 { 0.006 } else { 0.0075 },
            wet_humidity_ratio: if h % 12 < 6 { 0.007 } else { 0.0095 },
            recovered_sensible_w: [900.0, 850.123, 480.0, 150.0][turn],
            recovered_latent_w: if turn == 3 { -3.3 } else { 0.0 },
            drain_kg: [0.0004, 0.05, 0.031, 0.0][turn],
            ice_formed_kg: [0.012, 0.0009, 0.0, 0.0][turn],
            ice_melted_kg: if turn == 1 { 0.0129 } else { 0.0 },
            frost_kg: if turn == 0 { 0.012 } else { 0.0 },
            defrost_share: if turn == 1 { 0.1 } else { 0.0 },
            bypass_share: if h % 24 == 3 { 0.4 } else { 0.0 },
            delivered_air_kg: if h % 24 == 6 { 0.5 * rated_kg } else { rated_kg },
            ..Hour::default()
        }
    })
}

#[test]
fn the_run_is_folded_into_bins_hour_by_hour() {
    let variant = steady(CoreKind::SensiblePlate, 0.0);
    let study = BinStudy::new(&invented(&variant), &variant, &two_kelvin()).unwrap();
    // −11.0 lies in −12…−10, −9.5 in −10…−8, 3.0 in 2…4, 14.5 in 14…16; each kind is a quarter of the hours.
    let lows: Vec<f64> = study.rows.iter().map(|row| row.low_c).collect();
    assert_eq!(lows, [-12.0, -10.0, 2.0, 14.0]);
    for (row, (watts, litres, frost_h)) in study.rows.iter().zip([
        (900.0, 0.0004, 2190.0),
        (850.123, 0.05, 0.0),
        (480.0, 0.031, 0.0),
        (150.0, 0.0, 0.0),
    ]) {
        assert_eq!(row.hours, 2190);
        let hourly = row.amounts[Method::Hourly as usize];
        assert_relative_eq!(hourly.recovered_sensible_kwh, watts * 2.190, max_relative = 1e-12);
        assert_abs_diff_eq!(hourly.condensate_l, litres * 2190.0, epsilon = 1e-9);
        assert_eq!(hourly.frost_h, frost_h);
    }
    assert_relative_eq!(study.rows[0].humidity_ratio, 0.0012, max_relative = 1e-12);
    // Bypass at 3:00, half the flow at 6:00, each 365 times. Ice lies in the core at the end of every fourth hour from 0:00 on, and
    // melts in the next: those are other hours.
    assert_eq!(study.apart.map(|(hours, _)| hours), [365, 4380, 365, 3650]);
    assert_relative_eq!(study.ran.ice_melted_kg, 0.0129 * 2190.0, max_relative = 1e-12);
    assert_relative_eq!(study.ran.defrost_h, 219.0, max_relative = 1e-12);
    assert_relative_eq!(study.ran.airflow_share, 1.0 - 0.5 / 24.0, max_relative = 1e-12);
}

/// Told bins from the plain core itself, with the months' means reckoned here.
#[test]
fn bins_are_told_the_months_means_and_blind_ones_the_set_point_and_forty_percent() {
    let mut variant = steady(CoreKind::SensiblePlate, 0.0);
    variant.unit.extract_wet_share = 0.75;
    let study = BinStudy::new(&invented(&variant), &variant, &two_kelvin()).unwrap();
    // 8 h of 20.0 and 16 h of 21.5; half the hours each of 0.75 × 0.007 + 0.25 × 0.006 and 0.75 × 0.0095 + 0.25 × 0.0075.
    let (indoor_c, indoor_w) = (21.0, 0.5 * (0.00675 + 0.009));
    for air in study.told_air {
        assert_relative_eq!(air.temperature_c, indoor_c, max_relative = 1e-12);
        assert_relative_eq!(air.humidity_ratio, indoor_w, max_relative = 1e-12);
    }
    let at = |indoor_humidity_ratio| {
        let outdoor = AirAround {
            outdoor_c: -11.0,
            outdoor_humidity_ratio: 0.0012,
            indoor_c,
            indoor_humidity_ratio,
            pressure_pa: PRESSURE_PA,
        };
        plain_hour(&variant, &outdoor)
    };
    let blind_w = humidity_ratio_from_relative_humidity(21.0, 0.4, PRESSURE_PA).unwrap();
    assert_relative_eq!(study.blind_air.humidity_ratio, blind_w, max_relative = 1e-12);
    for (method, hour) in [(Method::Told, at(indoor_w)), (Method::Blind, at(blind_w))] {
        let found = study.rows[0].amounts[method as usize];
        assert_relative_eq!(
            found.recovered_sensible_kwh,
            hour.recovered_sensible_w * 2.19,
            max_relative = 1e-9
        );
        assert_relative_eq!(found.condensate_l, hour.drain_kg * 2190.0, max_relative = 1e-9);
        assert_relative_eq!(found.ice_formed_kg, hour.ice_kg * 2190.0, max_relative = 1e-9);
        assert_eq!(found.frost_h, 2190.0);
    }
    // Temperature and humidity do not follow the weather, but the four kinds of weather meet other hours of the day.
    assert_relative_eq!(study.indoor_temperature.whole(), 1.0 / 3.0 + 2.0 / 3.0 * 0.25, max_relative = 1e-9);
    assert_relative_eq!(study.indoor_humidity.whole(), 0.001125 * 0.001125, max_relative = 1e-9);
}

/// Decimals as printed, in units of the last digit.
fn ticks(figures: &Figures) -> [i64; 5] {
    figures.map(|cell| match cell {
        Cell::Fixed { ticks, .. } => ticks,
        other => panic!("{other:?} is no decimal"),
    })
}

fn add<const N: usize>(figures: [&Figures; N]) -> [i64; 5] {
    let mut sum = [0; 5];
    for figures in figures {
        for (sum, ticks) in sum.iter_mut().zip(ticks(figures)) {
            *sum += ticks;
        }
    }
    sum
}

#[test]
fn totals_and_parts_add_up_to_the_printed_digit_in_both_unit_systems() {
    for core in [CoreKind::SensiblePlate, CoreKind::SensibleWheel] {
        let variant = steady(core, 0.0);
        for width in [0.7, 2.0, 5.0 / 1.8] {
            let edges = Edges::new(width, -0.31).unwrap();
            let study = BinStudy::new(&invented(&variant), &variant, &edges).unwrap();
            assert_eq!(study.rows.iter().map(|row| row.hours).sum::<u32>(), 8760);
            for show_in in [ShowIn::Si, ShowIn::Ip] {
                let printed = Printed::new(&study, show_in).unwrap();
                for method in Method::ALL {
                    let mut sum = [0; 5];
                    for row in &printed.rows {
                        for (sum, ticks) in sum.iter_mut().zip(ticks(&row[method as usize])) {
                            *sum += ticks;
                        }
                    }
                    assert_eq!(ticks(printed.total(method)), sum);
                }
                let (history, means, house) = (printed.history(), printed.means(), printed.house());
                let whole = printed.between(Method::Hourly, Method::Blind);
                assert_eq!(add([&history, &means, &house]), ticks(&whole));
                assert_eq!(add([&whole, printed.total(Method::Blind)]), ticks(printed.total(Method::Hourly)));
                let [kept, ice, airflow, rest] = &printed.apart;
                assert_eq!(add([kept, ice, airflow, rest]), ticks(&history));
                // Parts that are there to be told apart: none of them is nothing.
                assert!([&history, &means, &house].iter().all(|part| ticks(part)[0] != 0));
            }
        }
    }
}

/// The rest is what its own hours come to, but for rounding.
#[test]
fn what_sets_hours_apart_is_the_sum_of_their_differences() {
    let variant = steady(CoreKind::SensiblePlate, 0.0);
    let study = BinStudy::new(&invented(&variant), &variant, &two_kelvin()).unwrap();
    let printed = Printed::new(&study, ShowIn::Si).unwrap();
    let rest = study.apart[Apart::Rest as usize].1.recovered_sensible_kwh;
    let shown = printed.apart[Apart::Rest as usize][0].value().unwrap();
    // Eight rows, three parts, each off by half a hundredth at most.
    assert_abs_diff_eq!(shown, rest, epsilon = 11.0 * 0.005);
}

#[test]
fn files_and_tables_hold_every_bin_and_fit_a_hundred_columns() {
    let variant = steady(CoreKind::SensiblePlate, 0.0);
    let studies = [BinStudy::new(&invented(&variant), &variant, &two_kelvin()).unwrap()];
    let csv = bins_csv(&studies).unwrap();
    let rows: Vec<Vec<&str>> = csv.lines().map(|line| line.split(',').collect()).collect();
    assert_eq!((rows.len(), rows[0].len()), (5, 26));
    assert_eq!(
        rows[0][..7].join(","),
        "unit,low_c,high_c,time_h,mean_dry_bulb_c,mean_humidity_ratio,hourly_recovered_sensible_kwh"
    );
    assert_eq!(rows[1][..8].join(","), "Invented,-12.000,-10.000,2190,-11.000,0.0012000,1971.00,0.00");
    let json: serde_json::Value = serde_json::from_str(&bins_json(&studies).unwrap()).unwrap();
    assert_eq!(json[0]["bins"].as_array().unwrap().len(), 4);
    assert_eq!(json[0]["bins"][0]["hourly"]["recovered_sensible_kwh"], 1971.0);
    for show_in in [ShowIn::Si, ShowIn::Ip] {
        let table = bin_table(&studies[0], show_in).unwrap();
        assert!(table.lines().all(|line| line.chars().count() <= 100), "{table}");
        assert!(table.contains("all hours"));
        let words = bin_words(&studies[0], show_in).unwrap().join("\n");
        assert!(words.contains("219 h of defrost") && words.contains("365 h with preheat"), "{words}");
    }
    // 0.0129 kg in each of 2190 hours.
    assert!(bin_words(&studies[0], ShowIn::Si).unwrap()[2].contains("28.251 kg of ice melted"));
}

#[test]
fn a_year_that_is_not_whole_and_air_that_cannot_be_are_refused() {
    let variant = steady(CoreKind::SensiblePlate, 0.0);
    let mut short = invented(&variant);
    Arc::make_mut(&mut short.hourly).outdoor_c.pop();
    let refused = BinStudy::new(&short, &variant, &two_kelvin());
    assert_eq!(refused, Err(ReportError::HourCount { hours: 8759 }));
    let mut hot = variant;
    hot.house.numbers.heating_set_point_c = 80.0;
    let refused = BinStudy::new(&invented(&hot), &hot, &two_kelvin()).unwrap_err().to_string();
    assert_eq!(
        refused,
        "air at the heating set-point and 40 %, for the blind bins: dry bulb 80 °C is outside -60 to 60 °C"
    );
}
