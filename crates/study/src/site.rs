//! From what a study says of site, ground, clock and the place of a unit to the numbers that the simulation runs.
//!
//! Not here: the rest of the house and the units (`build`), how much air is required (`required`).

use simulation::infiltration::{
    Base, Building, Flue, Leakage, LeakageError, Natural, Surroundings, wind_factor,
};
use simulation::{Clock, SiteNumbers};
use weather::WeatherYear;

use crate::build::MASS_TO_SURFACE_W_PER_M2K;
use crate::model;

/// Carbon dioxide of a person at home [m³/s]: 0.0040 L/s, between rest and light work; \[PERSILY-2017\], recalled.
pub(crate) const PERSON_CO2_M3_PER_S: f64 = 0.0040e-3;
const PPM: f64 = 1e6;

/// How the ground below a floor follows the year: share of the outdoor wave, and days behind it: assumed.
pub(crate) const fn ground_wave(foundation: model::Foundation) -> (f64, f64) {
    match foundation {
        model::Foundation::Slab => (0.5, 30.0),
        model::Foundation::Basement => (0.4, 45.0),
        model::Foundation::Crawlspace => (0.8, 15.0),
    }
}

/// How far the place around a unit and its warm ducts is as cold as outdoors: assumed but for the heated room, whose warm ducts, if
/// it has any outside, pass outdoor air.
pub(crate) const fn place_share(location: model::UnitLocation) -> f64 {
    match location {
        model::UnitLocation::HeatedRoom => 1.0,
        model::UnitLocation::Cellar => 0.4,
        model::UnitLocation::Attic => 0.9,
        model::UnitLocation::Garage => 0.8,
    }
}

/// Conductance from the mass node through walls, roof and floor [W/K], and the share of it that goes to the ground.
pub(crate) fn opaque_branch(house: &model::House) -> (f64, f64) {
    let mass_to_surface = MASS_TO_SURFACE_W_PER_M2K * house.mass_area_ratio * house.floor_area_m2;
    let opaque = house.opaque_w_per_k();
    let branch = opaque * mass_to_surface / (mass_to_surface - opaque);
    (branch, if opaque > 0.0 { house.ground_loss_w_per_k / opaque } else { 0.0 })
}

/// What wind, ground and clock do to a study's house.
///
/// # Errors
/// [`LeakageError`] for a leakage, a height of the eaves or of the wind's mast outside its range.
pub(crate) fn site_numbers(
    study: &model::Study,
    year: &WeatherYear,
    density: f64,
) -> Result<SiteNumbers<f64>, LeakageError> {
    let house = &study.house;
    let natural = natural(study, year)?;
    let (follows, days) = ground_wave(house.foundation);
    let (in_step, behind) = weather::wave::late_parts(follows, days);
    let (branch, ground_share) = opaque_branch(house);
    let set_back = house.heating.set_back.map_or(0.0, |at| house.heating.set_point_c - at.temperature_c);
    let set_up = house
        .cooling
        .as_ref()
        .and_then(|cooling| cooling.set_up.map(|at| at.temperature_c - cooling.set_point_c));
    Ok(SiteNumbers {
        stack_kg_per_s: natural.map_or(0.0, |n| n.stack_m3_per_s * density),
        wind_kg_per_s: natural.map_or(0.0, |n| n.wind_m3_per_s * density),
        leakage_exponent: natural.map_or(0.65, |n| n.exponent),
        ground_to_mass_w_per_k: branch * ground_share,
        ground_in_step: in_step,
        ground_behind: behind,
        set_back_k: set_back,
        set_up_k: set_up.unwrap_or(0.0),
        person_co2_ppm_kg_per_s: PERSON_CO2_M3_PER_S * PPM * density,
        airing_kg_per_s: house
            .airing
            .map_or(0.0, |open| open.air_changes_per_s * house.volume_m3() * density),
        airing_above_c: house.airing.map_or(f64::INFINITY, |open| open.indoor_above_c),
        airing_colder_by_k: house.airing.map_or(0.0, |open| open.colder_by_k),
        hood_kg_per_s: house.range_hood_m3_per_s * density,
        dryer_kg_per_s: house.dryer_m3_per_s * density,
        ..demand(&study.ventilation.control.mode)
    })
}

/// What asks for the full flow, and how much runs without.
fn demand(mode: &model::ControlMode) -> SiteNumbers<f64> {
    match mode {
        model::ControlMode::Humidity(control) => SiteNumbers {
            low_share: control.low_share,
            humid_above: control.at_or_above,
            humid_falls_per_k: control.falls_per_k,
            humid_falls_below_c: control.falls_below_c,
            ..SiteNumbers::none()
        },
        model::ControlMode::Co2 { limit_ppm, low_share } => {
            SiteNumbers { low_share: *low_share, stale_above_ppm: *limit_ppm, ..SiteNumbers::none() }
        }
        _ => SiteNumbers::none(),
    }
}

/// The power law of the leaks, where a pressure test tells it.
///
/// # Errors
/// [`LeakageError`] for numbers outside their range.
pub(crate) fn leakage(study: &model::Study) -> Result<Option<Leakage>, LeakageError> {
    match study.house.air_leakage {
        model::AirLeakage::Constant { .. } => Ok(None),
        model::AirLeakage::Tested(test) => {
            Leakage::of_flow(test.flow_m3_per_s, test.pressure_pa, test.exponent).map(Some)
        }
    }
}

/// Natural leakage by wind and temperature; `None` where the study states a constant flow.
///
/// # Errors
/// [`LeakageError`] for numbers outside their range.
pub(crate) fn natural(study: &model::Study, year: &WeatherYear) -> Result<Option<Natural>, LeakageError> {
    let Some(leakage) = leakage(study)? else { return Ok(None) };
    let (house, wind) = (&study.house, &study.site.wind);
    let surroundings = match wind.surroundings {
        model::Surroundings::Open => Surroundings::Water,
        model::Surroundings::Rural => Surroundings::Open,
        model::Surroundings::Suburban => Surroundings::Suburban,
        model::Surroundings::Urban => Surroundings::Urban,
    };
    let mast_m = wind.height_m.unwrap_or(year.wind_height_m);
    let factor = wind_factor(surroundings, house.eaves_height_m, mast_m)?;
    let building = Building {
        storeys: house.storeys,
        base: match house.foundation {
            model::Foundation::Slab | model::Foundation::Basement => Base::SlabOrBasement,
            model::Foundation::Crawlspace => Base::Crawlspace,
        },
        flue: match house.flue {
            model::Flue::None => Flue::None,
            model::Flue::Open => Flue::Open,
        },
        shelter_class: wind.shelter_class,
    };
    Ok(Some(Natural::enhanced(&leakage, &building, factor)))
}

/// What the clock says of every hour of the year.
pub(crate) fn clock(study: &model::Study, year: &WeatherYear) -> Vec<Clock> {
    let set_back = study.house.heating.set_back.map(|at| at.hours);
    let set_up = study.house.cooling.as_ref().and_then(|cooling| cooling.set_up).map(|at| at.hours);
    let within = |hours: Option<model::ClockHours>, hour: u8| {
        let is_in = hours.is_some_and(|hours| hours.contains(u32::from(hour)));
        if is_in { 1.0 } else { 0.0 }
    };
    (0..year.hours())
        .map(|h| {
            let hour = year.hour_of_day(h);
            let clock = ventilation_clock(&study.ventilation.control, year, h);
            let at_home = clock.at_home;
            Clock {
                set_back: within(set_back, hour),
                set_up: within(set_up, hour),
                hood: HOOD_RUNS.iter().find(|run| run.0 == hour).map_or(0.0, |run| run.1) * at_home,
                dryer: if hour == DRYER_AT { DRYER_RUNS * at_home } else { 0.0 },
                ..clock
            }
        })
        .collect()
}

/// Hours of the day with cooking, and the share of each in which a range hood runs: the profile of cooking's water.
pub(crate) const HOOD_RUNS: [(u8, f64); 3] = [(7, 0.25), (12, 0.5), (18, 0.75)];
/// When a clothes dryer runs, and for which share of that hour: assumed.
const DRYER_AT: u8 = 19;
const DRYER_RUNS: f64 = 0.75;

/// Least flow for each unit of the rated one; less counts as off.
const LEAST_FLOW: f64 = 0.01;
/// Days of a week; 1 January is a Monday.
const WEEK: usize = 7;

/// When and how fast the ventilation runs in an hour of the year, and whether the household is at home.
///
/// A boost counts by its share of the hour, as a mean flow.
fn ventilation_clock(control: &model::Control, year: &WeatherYear, h: usize) -> Clock {
    let hour = usize::from(year.hour_of_day(h));
    let day = usize::from(year.day_of_year(h)) - 1;
    let mut run_share = 1.0;
    let mut flow = 1.0;
    match &control.mode {
        model::ControlMode::Intermittent { on_share } => run_share = *on_share,
        model::ControlMode::Schedule(schedule) => {
            let is_weekend = day % WEEK >= 5;
            flow = if is_weekend { schedule.weekends[hour] } else { schedule.weekdays[hour] };
        }
        _ => {}
    }
    let date = model::MonthDay { month: u32::from(year.month_of_hour(h)), day: day_of_month(year, h) };
    let away = control.away.as_ref().filter(|away| away.contains(date));
    if let Some(away) = away {
        flow *= away.share;
    } else if let Some(boost) = control.boost {
        flow *= 1.0 + (boost.factor - 1.0) * boosted_share(boost.lasts_s / 60.0, hour);
    }
    if flow < LEAST_FLOW {
        (run_share, flow) = (0.0, 1.0);
    }
    let at_home = if away.is_some() { 0.0 } else { 1.0 };
    Clock { run_share, flow, at_home, ..Clock::STEADY }
}

/// Day of the month of an hour, 1…31.
fn day_of_month(year: &WeatherYear, h: usize) -> u32 {
    let month = year.month_of_hour(h);
    let mut first = h;
    while first >= 24 && year.month_of_hour(first - 24) == month {
        first -= 24;
    }
    let days = (h - first) / 24;
    u32::try_from(days).unwrap_or(0) + 1
}

/// Share of an hour of the day in the minutes after a shower's start.
fn boosted_share(minutes: f64, hour: usize) -> f64 {
    let (from, to) = (hour as f64 * 60.0, hour as f64 * 60.0 + 60.0);
    let starts = SHOWERS_AT_MIN.iter();
    // Later minutes win over earlier ones, so that overlapping boosts count once.
    let mut share = 0.0;
    let mut reached = from;
    for start in starts {
        let (begin, end) = (start.max(reached), (start + minutes).min(to));
        if end > begin {
            share += (end - begin) / 60.0;
            reached = end;
        }
    }
    share
}

/// When showers start, in minutes of the day, as in the profile of their water.
const SHOWERS_AT_MIN: [f64; 4] = [405.0, 435.0, 465.0, 1305.0];
