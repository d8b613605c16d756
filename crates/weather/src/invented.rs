//! The four invented climates that come with the project: normals and seeds. What is not here: how a year is made of
//! them ([`mod@crate::make`]). None of these places exists; the coordinates are plausible, no more. Read next:
//! `weather-samples/README.md`.

use crate::make::{Climate, MonthNormals};
use crate::year::Place;

/// An invented climate and the file that holds a year of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    /// File name in `weather-samples/`.
    pub file_name: &'static str,
    /// What the climate is like.
    pub summary: &'static str,
    /// What it is made of.
    pub climate: Climate,
}

/// All four, from cold to hot.
pub fn samples() -> [Sample; 4] {
    [frosthollow(), saltmere(), millbrook(), palmreach()]
}

/// Severe cold and dry, far from any sea.
pub fn frosthollow() -> Sample {
    Sample {
        file_name: "frosthollow.csv",
        summary: "severe cold and dry, far from any sea",
        climate: Climate {
            place: invented("Frosthollow", 52.4, -103.2, 480.0, -7.0),
            months: months(&FROSTHOLLOW),
            prevailing_wind_deg: 310.0,
            seed: 4101,
        },
    }
}

/// Cold and damp, by the sea.
pub fn saltmere() -> Sample {
    Sample {
        file_name: "saltmere.csv",
        summary: "cold and damp, by the sea",
        climate: Climate {
            place: invented("Saltmere", 57.6, -31.4, 6.0, -2.0),
            months: months(&SALTMERE),
            prevailing_wind_deg: 240.0,
            seed: 4102,
        },
    }
}

/// Mixed: cold winters, humid summers.
pub fn millbrook() -> Sample {
    Sample {
        file_name: "millbrook.csv",
        summary: "mixed: cold winters, humid summers",
        climate: Climate {
            place: invented("Millbrook", 41.3, -77.1, 230.0, -5.0),
            months: months(&MILLBROOK),
            prevailing_wind_deg: 260.0,
            seed: 4103,
        },
    }
}

/// Hot and humid.
pub fn palmreach() -> Sample {
    Sample {
        file_name: "palmreach.csv",
        summary: "hot and humid",
        climate: Climate {
            place: invented("Palmreach", 25.8, -88.7, 4.0, -6.0),
            months: months(&PALMREACH),
            prevailing_wind_deg: 120.0,
            seed: 4104,
        },
    }
}

fn invented(name: &str, latitude_deg: f64, longitude_deg: f64, elevation_m: f64, time_zone_h: f64) -> Place {
    Place { name: format!("{name} (invented)"), latitude_deg, longitude_deg, elevation_m, time_zone_h }
}

fn months(table: &[[f64; 6]; 12]) -> [MonthNormals; 12] {
    table.map(|[dry_bulb_c, dew_point_c, daily_swing_k, day_to_day_k, clearness, wind_m_per_s]| {
        MonthNormals { dry_bulb_c, dew_point_c, daily_swing_k, day_to_day_k, clearness, wind_m_per_s }
    })
}

// Columns: dry bulb °C, dew point °C, daily swing K, day-to-day spread K, clearness, wind m/s.

const FROSTHOLLOW: [[f64; 6]; 12] = [
    [-22.5, -27.0, 8.5, 6.5, 0.50, 4.2],
    [-18.5, -23.0, 9.5, 6.2, 0.54, 4.2],
    [-9.0, -13.0, 10.0, 5.5, 0.58, 4.4],
    [3.0, -4.5, 11.0, 4.5, 0.54, 4.7],
    [11.0, 1.5, 12.5, 4.0, 0.53, 4.7],
    [16.0, 8.5, 12.0, 3.2, 0.52, 4.3],
    [18.6, 11.5, 12.5, 2.8, 0.56, 3.9],
    [17.4, 9.8, 12.8, 3.0, 0.54, 3.9],
    [11.2, 4.5, 12.0, 4.0, 0.51, 4.3],
    [3.8, -2.0, 10.5, 4.6, 0.47, 4.5],
    [-8.0, -11.5, 8.0, 5.5, 0.43, 4.2],
    [-18.5, -22.5, 8.0, 6.2, 0.44, 4.1],
];

const SALTMERE: [[f64; 6]; 12] = [
    [-1.0, -2.8, 3.2, 3.0, 0.32, 7.6],
    [-1.2, -3.1, 3.6, 3.0, 0.36, 7.4],
    [0.6, -1.6, 4.2, 2.6, 0.39, 7.1],
    [3.2, 0.8, 4.8, 2.2, 0.41, 6.3],
    [6.6, 4.2, 5.0, 1.9, 0.42, 5.6],
    [9.7, 7.7, 4.8, 1.6, 0.40, 5.2],
    [11.9, 10.1, 4.5, 1.5, 0.38, 5.0],
    [12.2, 10.5, 4.4, 1.5, 0.38, 5.3],
    [9.9, 8.0, 4.4, 1.8, 0.37, 6.3],
    [6.2, 4.4, 3.9, 2.2, 0.35, 7.0],
    [2.4, 0.7, 3.3, 2.6, 0.32, 7.4],
    [0.0, -1.7, 3.1, 2.9, 0.29, 7.6],
];

const MILLBROOK: [[f64; 6]; 12] = [
    [-3.2, -7.4, 8.0, 5.4, 0.42, 4.3],
    [-1.8, -6.8, 8.8, 5.0, 0.46, 4.4],
    [3.8, -2.9, 10.2, 4.8, 0.48, 4.6],
    [10.0, 2.4, 11.6, 4.4, 0.49, 4.4],
    [15.9, 9.2, 11.8, 3.7, 0.50, 3.6],
    [20.9, 14.9, 11.4, 3.0, 0.52, 3.2],
    [23.5, 17.6, 11.2, 2.5, 0.53, 2.9],
    [22.6, 17.2, 11.0, 2.5, 0.52, 2.8],
    [18.4, 13.4, 11.0, 3.3, 0.50, 3.0],
    [12.0, 6.7, 10.8, 4.0, 0.48, 3.4],
    [5.8, 0.8, 8.8, 4.6, 0.42, 4.0],
    [-0.4, -4.6, 7.6, 5.0, 0.39, 4.2],
];

const PALMREACH: [[f64; 6]; 12] = [
    [19.4, 14.3, 7.4, 3.2, 0.50, 4.3],
    [20.2, 14.9, 7.5, 3.0, 0.52, 4.4],
    [22.1, 16.4, 7.4, 2.5, 0.54, 4.6],
    [24.4, 18.3, 7.0, 1.8, 0.56, 4.5],
    [26.7, 21.4, 6.4, 1.3, 0.55, 4.1],
    [28.1, 23.7, 6.0, 1.0, 0.51, 3.6],
    [28.8, 24.3, 6.2, 0.8, 0.51, 3.4],
    [28.8, 24.4, 6.1, 0.8, 0.50, 3.4],
    [28.0, 23.9, 5.9, 1.0, 0.48, 3.8],
    [25.9, 21.4, 6.2, 1.7, 0.49, 4.3],
    [22.9, 18.1, 6.8, 2.5, 0.49, 4.3],
    [20.3, 15.4, 7.1, 3.0, 0.48, 4.2],
];
