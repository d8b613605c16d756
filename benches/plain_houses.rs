//! Houses of the plainest kind through a year: their house-years a second, their totals and all that went in, as a file that the same
//! equations in another language read (`python/numba_loop.py`).
//!
//! `cargo bench -p benches --bench plain_houses -- FILE`. A dry and wet counterflow plate without hood, leaks, ducts, frost control; the
//! heat balance; two zones and furnishings; steps of an hour. Ledger, carbon dioxide and totals run as always. No time is asserted.
#![allow(clippy::unwrap_used, missing_docs)]

use std::fmt::Write as _;
use std::hint::black_box;

use benches::fastest_s;
use exchanger::CoreKind;
use lanes::{WIDTHS, Width};
use simulation::{
    Drivers, FrostPlan, Indoors, PeopleProfile, RunOptions, SiteNumbers, Steps, Totals, Unit, Variant,
    totals_of_pairs,
};

const HOUSES: usize = 32;
const ROUNDS: usize = 8;

fn main() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../weather-samples/frosthollow.csv");
    let (year, _) = weather::read(&std::fs::read(path).unwrap(), &weather::Overrides::default()).unwrap();
    let study = study::parse_study(study::starter_study(), "starter").unwrap();
    let built = study::build::build(&study, &year).unwrap();
    let drivers =
        Drivers::new(&year, built.drivers.facings(), PeopleProfile::AlwaysHome, Steps::One).unwrap();
    let variants: Vec<Variant> = (0..HOUSES).map(|k| plain(&built.units[0].1, k)).collect();
    let run = |width: Width| totals_of_pairs(width, &variants, &drivers, RunOptions::default()).unwrap();
    let seconds =
        fastest_s(ROUNDS, [&mut || drop(black_box(run(WIDTHS[0]))), &mut || drop(black_box(run(WIDTHS[1])))]);
    let [one, eight] = seconds.map(|seconds| 2.0 * HOUSES as f64 / seconds);
    println!("house-years/s: one by one {one:.1}, rows of eight {eight:.1}");
    if let Some(file) = std::env::args().skip(1).find(|argument| !argument.starts_with("--")) {
        let totals = run(Width::One);
        std::fs::write(file, exported(&drivers, &variants, &totals, [one, eight])).unwrap();
    }
}

/// The starter study's house and first plate without everything that is not in the equations beside it.
fn plain(of: &Variant, k: usize) -> Variant {
    let mut house = of.house;
    house.site = SiteNumbers::none();
    house.indoors = Indoors::NONE;
    house.numbers.leakage_kg_per_s = 0.012;
    let flow = of.unit.supply_kg_per_s;
    let unit = Unit {
        supply_kg_per_s: flow,
        extract_kg_per_s: flow,
        ua_w_per_k: of.unit.ua_w_per_k * (0.7 + 0.6 * k as f64 / HOUSES as f64),
        ..Unit::none()
    };
    let unit = unit.in_house_of_leakage(house.numbers.leakage_kg_per_s);
    Variant { house, unit, core: CoreKind::SensiblePlate, frost: FrostPlan::unlimited() }
}

/// Lines of `name value…`: rates, constants, then the year's columns, then each house's conductance and totals.
fn exported(
    drivers: &Drivers,
    variants: &[Variant],
    totals: &[[Totals<f64>; 2]],
    [one, eight]: [f64; 2],
) -> String {
    let (h, unit) = (&variants[0].house.numbers, &variants[0].unit);
    let mut text = String::new();
    let mut line = |name: &str, values: &[f64]| {
        text.push_str(name);
        for value in values {
            write!(text, " {value:?}").unwrap();
        }
        text.push('\n');
    };
    line("rates", &[one, eight]);
    for (name, value) in [
        ("outdoor_to_mass", h.outdoor_to_mass_w_per_k),
        ("mass_to_surface", h.mass_to_surface_w_per_k),
        ("surface_to_air", h.surface_to_air_w_per_k),
        ("windows", h.windows_w_per_k),
        ("share_mass", h.gain_share_mass),
        ("share_lost", h.gain_share_lost),
        ("mass_j_per_k", h.mass_j_per_k),
        ("heat_to", h.heating_set_point_c),
        ("heat_most", h.heating_capacity_w),
        ("heat_efficiency", h.heating_efficiency),
        ("cool_to", h.cooling_set_point_c),
        ("cool_most", h.cooling_capacity_w),
        ("cool_cop", h.cooling_cop),
        ("coil_c", h.apparatus_dew_point_c),
        ("gains_w", h.people * h.person_heat_w + h.other_gains_w),
        ("rest_kg", h.rest_air_kg),
        ("wet_kg", h.wet_air_kg),
        ("wet_share", h.wet_share),
        ("door", h.door_kg_per_s),
        ("surface", h.surface_kg_per_s_pa),
        ("surface_kg", h.surface_capacity_kg),
        ("flow", unit.supply_kg_per_s),
        ("leak", unit.infiltration_kg_per_s),
    ] {
        line(name, &[value]);
    }
    let people_kg = h.people * h.person_water_kg_per_s * 3600.0;
    for hour in drivers.hours() {
        let share = drivers.shares_of(hour)[0];
        let sun = variants[0].house.apertures_m2.iter().zip(&hour.irradiance_w_per_m2);
        let wet_kg = h.showers_kg_per_day * share.showers
            + h.cooking_kg_per_day * share.cooking
            + h.laundry_kg_per_day * share.laundry;
        let dried_kg = h.laundry_kg_per_day * share.laundry + h.plants_kg_per_day * share.plants;
        line(
            "hour",
            &[
                hour.outdoor_c,
                hour.outdoor_humidity_ratio,
                hour.pressure_pa,
                sun.map(|(area, w)| area * w).sum(),
                people_kg + h.plants_kg_per_day * share.plants,
                wet_kg,
                dried_kg,
            ],
        );
    }
    for (variant, pair) in variants.iter().zip(totals) {
        for (ua, t) in [variant.unit.ua_w_per_k, 0.0].into_iter().zip(pair) {
            line(
                "house",
                &[
                    ua,
                    t.heating_site_wh,
                    t.cooling_site_wh,
                    t.recovered_sensible_wh,
                    t.ice_formed_kg,
                    t.drain_kg,
                    t.relative_humidity_h,
                ],
            );
        }
    }
    text
}
