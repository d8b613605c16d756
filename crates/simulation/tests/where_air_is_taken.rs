//! Extract air from the wet rooms or from the return duct: humidity's peak, litres and kilowatt-hours against a calculation by hand.
//!
//! By hand: means of the day from the two rooms' steady water balances; the core from two rows of a march along the plate (Runge–Kutta by
//! shooting, 200 steps, made for this project apart from this program; no published source), on the straight line between them; the peak from the two rooms in
//! steps of a second (explicit Euler). Not here: what a study calls these ways.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod common;

use approx::assert_relative_eq;
use common::{PRESSURE_PA, constant_year, drivers_at, plain_house, plate, run, sum, unit};
use psychrometrics::formulas::saturation_pa;
use simulation::{DayProfile, House, Steps, Unit};

const OUTDOOR_W: f64 = 0.00128;
const FLOW: f64 = 0.04;
const LEAK: f64 = 0.02;
const DOOR: f64 = 0.03;
const SHOWERS_KG: f64 = 1.6;
const COOKING_KG: f64 = 2.4;
const PLANTS_KG: f64 = 21.4;
const DAY_S: f64 = 86_400.0;

#[derive(Debug, Clone, Copy, PartialEq)]
enum Taken {
    WetRooms,
    ReturnDuct,
}

#[derive(Debug)]
struct Day {
    /// Greatest hourly mean relative humidity of the wet rooms.
    peak: f64,
    /// Water that leaves the extract air on the plate, liquid or ice.
    litres: f64,
    recovered_kwh: f64,
}

fn house() -> House {
    let mut house = plain_house();
    house.numbers.leakage_kg_per_s = LEAK;
    house.numbers.showers_kg_per_day = SHOWERS_KG;
    house.numbers.cooking_kg_per_day = COOKING_KG;
    house.numbers.plants_kg_per_day = PLANTS_KG;
    house
}

fn engine(taken: Taken) -> Day {
    let share = if taken == Taken::WetRooms { 1.0 } else { 0.0 };
    let unit = Unit { extract_wet_share: share, ..unit(FLOW, 0.75, 0.0) };
    let drivers = drivers_at(&constant_year(-10.0, OUTDOOR_W), Steps::Twelve);
    let [year, _] = run(&plate(&house(), unit), &drivers);
    let (h, day) = (&year.hourly, 24 * 200..24 * 201);
    Day {
        peak: h.wet_relative_humidity[day.clone()].iter().copied().fold(0.0, f64::max),
        litres: sum(&h.liquid_kg[day.clone()]) + sum(&h.ice_formed_kg[day.clone()]),
        recovered_kwh: sum(&h.recovered_sensible_w[day]) / 1000.0,
    }
}

/// Rows at 21 °C, −10 °C, NTU 3, balanced: extract humidity ratio at 40 and 60 %, water per kg, supply temperature.
const ROWS: [(f64, f64, f64); 2] = [(0.00618, 0.00192, 14.547), (0.00933, 0.00386, 16.128)];

fn by_hand(taken: Taken) -> Day {
    let wet = (SHOWERS_KG + COOKING_KG) / DAY_S;
    let all = wet + PLANTS_KG / DAY_S;
    // Steady: L (w_r − w_o) + m (w_x − w_o) = S, and the wet rooms by their own balance.
    let extract_w = match taken {
        // (m + d)(w_w − w_r) = S_w.
        Taken::WetRooms => {
            let above_rest = wet / (FLOW + DOOR);
            let rest = (all - FLOW * above_rest) / (FLOW + LEAK);
            OUTDOOR_W + rest + above_rest
        }
        Taken::ReturnDuct => OUTDOOR_W + all / (FLOW + LEAK),
    };
    let along = (extract_w - ROWS[0].0) / (ROWS[1].0 - ROWS[0].0);
    let between = |low: f64, high: f64| low + along * (high - low);
    let supply_c = between(ROWS[0].2, ROWS[1].2);
    let cp = 1006.0 + 1860.0 * OUTDOOR_W;
    Day {
        peak: peak(taken),
        litres: between(ROWS[0].1, ROWS[1].1) * FLOW * DAY_S,
        recovered_kwh: FLOW * cp * (supply_c + 10.0) * 24.0 / 1000.0,
    }
}

/// The wet rooms' greatest hourly mean on the fourth of four alike days, second by second.
fn peak(taken: Taken) -> f64 {
    let (showers, cooking) = (DayProfile::showers(), DayProfile::cooking());
    let (mut rest, mut wet) = (OUTDOOR_W, OUTDOOR_W);
    let saturation = saturation_pa(21.0);
    let mut peak: f64 = 0.0;
    for _ in 0..4 {
        peak = 0.0;
        for hour in 0..24 {
            let mut humidity = 0.0;
            for minute in 0..60 {
                let at = f64::from(60 * hour + minute);
                let source =
                    SHOWERS_KG * showers.share(at, at + 1.0) + COOKING_KG * cooking.share(at, at + 1.0);
                for _ in 0..60 {
                    let (to_rest, to_wet) = (wet - rest, rest - wet);
                    let (into_rest, into_wet) = match taken {
                        // Transfer air of the unit goes from the rest to the wet rooms.
                        Taken::WetRooms => (FLOW * (OUTDOOR_W - rest), FLOW * to_wet),
                        Taken::ReturnDuct => (FLOW * (OUTDOOR_W - rest), 0.0),
                    };
                    let leak = LEAK * (OUTDOOR_W - rest);
                    rest += (into_rest + leak + DOOR * to_rest + PLANTS_KG / DAY_S) / 250.0;
                    wet += (into_wet + DOOR * to_wet + source / 60.0) / 45.0;
                    wet = wet.min(saturated(saturation));
                    humidity += PRESSURE_PA * wet / (0.621945 + wet) / saturation / 3600.0;
                }
            }
            peak = peak.max(humidity);
        }
    }
    peak
}

fn saturated(saturation_pa: f64) -> f64 {
    0.621945 * saturation_pa / (PRESSURE_PA - saturation_pa)
}

#[test]
fn the_way_of_the_extract_air_shows_in_peak_litres_and_kilowatt_hours_as_by_hand() {
    let days = [Taken::WetRooms, Taken::ReturnDuct].map(|taken| {
        let (found, hand) = (engine(taken), by_hand(taken));
        println!("{taken:?}: found {found:.3?}\n    by hand {hand:.3?}");
        assert_relative_eq!(found.peak, hand.peak, max_relative = 0.1);
        assert_relative_eq!(found.litres, hand.litres, max_relative = 0.1);
        assert_relative_eq!(found.recovered_kwh, hand.recovered_kwh, max_relative = 0.1);
        found
    });
    // From the wet rooms: lower peaks, and more water and heat at the core.
    assert!(days[0].peak < days[1].peak);
    assert!(days[0].litres > days[1].litres);
    assert!(days[0].recovered_kwh > days[1].recovered_kwh);
}
