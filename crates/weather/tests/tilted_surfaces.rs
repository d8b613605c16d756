//! Beam, sky and ground on tilted surfaces.

mod common;

use weather::sun::SunPosition;
use weather::tilted::{Irradiance, Surface, USUAL_ALBEDO, air_mass, cos_incidence, tilted, tilted_year};

struct Case {
    sun: (f64, f64),
    direct: f64,
    diffuse: f64,
    outside: f64,
    surface: (f64, f64),
    incidence_deg: f64,
    beam: f64,
    sky: f64,
    ground: f64,
    total: f64,
}

#[rustfmt::skip]
const CASES: [Case; 6] = [
    Case { sun: (66.155, 180.0), direct: 700.0, diffuse: 80.0, outside: 1412.98, surface: (90.0, 180.0), incidence_deg: 23.845, beam: 640.25, sky: 127.26, ground: 36.30, total: 803.81 },
    Case { sun: (66.155, 180.0), direct: 700.0, diffuse: 80.0, outside: 1412.98, surface: (90.0, 270.0), incidence_deg: 90.0, beam: 0.0, sky: 39.68, ground: 36.30, total: 75.98 },
    Case { sun: (45.0, 135.0), direct: 600.0, diffuse: 150.0, outside: 1376.89, surface: (90.0, 180.0), incidence_deg: 60.0, beam: 300.0, sky: 125.00, ground: 57.43, total: 482.43 },
    Case { sun: (45.0, 135.0), direct: 600.0, diffuse: 150.0, outside: 1376.89, surface: (90.0, 0.0), incidence_deg: 120.0, beam: 0.0, sky: 59.45, ground: 57.43, total: 116.87 },
    Case { sun: (21.6, 180.0), direct: 850.0, diffuse: 110.0, outside: 1321.62, surface: (45.0, 180.0), incidence_deg: 23.4, beam: 780.09, sky: 111.95, ground: 26.37, total: 918.41 },
    Case { sun: (70.0, 240.0), direct: 300.0, diffuse: 90.0, outside: 1412.71, surface: (90.0, 270.0), incidence_deg: 35.531, beam: 244.14, sky: 118.35, ground: 19.26, total: 381.75 },
];

/// Source: pvlib 0.16.1, to the digits printed.
#[test]
fn beam_sky_and_ground_are_those_of_the_reference_library() {
    for (number, case) in CASES.iter().enumerate() {
        let sun = SunPosition { zenith_deg: case.sun.0, azimuth_deg: case.sun.1 };
        let surface = Surface { tilt_deg: case.surface.0, azimuth_deg: case.surface.1, albedo: USUAL_ALBEDO };
        let sky = Irradiance {
            global_horizontal_w_per_m2: case.diffuse + case.direct * sun.height(),
            direct_normal_w_per_m2: case.direct,
            diffuse_horizontal_w_per_m2: case.diffuse,
            extraterrestrial_w_per_m2: case.outside,
        };
        let found = tilted(sun, sky, surface);
        let pairs = [
            (found.beam_w_per_m2, case.beam),
            (found.sky_w_per_m2, case.sky),
            (found.ground_w_per_m2, case.ground),
            (found.total_w_per_m2(), case.total),
            (cos_incidence(sun, surface).acos().to_degrees(), case.incidence_deg),
        ];
        for (found, expected) in pairs {
            assert!((found - expected).abs() < 0.01, "case {number}: {found}, expected {expected}");
        }
    }
}

/// Source: pvlib 0.16.1.
#[test]
fn the_air_mass_is_that_of_the_reference_library() {
    for (zenith, expected) in [(66.155, 2.4618), (45.0, 1.4126), (21.6, 1.0750), (70.0, 2.9031)] {
        assert!((air_mass(zenith) - expected).abs() < 1e-4, "{zenith}");
    }
}

#[test]
fn a_flat_surface_receives_the_horizontal_irradiance_while_the_sun_is_high() {
    let sun = SunPosition { zenith_deg: 40.0, azimuth_deg: 200.0 };
    let sky = Irradiance {
        global_horizontal_w_per_m2: 120.0 + 500.0 * sun.height(),
        direct_normal_w_per_m2: 500.0,
        diffuse_horizontal_w_per_m2: 120.0,
        extraterrestrial_w_per_m2: 1367.0,
    };
    let flat = Surface { tilt_deg: 0.0, azimuth_deg: 180.0, albedo: USUAL_ALBEDO };
    let total = tilted(sun, sky, flat).total_w_per_m2();
    assert!((total - sky.global_horizontal_w_per_m2).abs() < 1e-9);
}

#[test]
fn over_a_real_year_every_facing_is_finite_and_south_beats_north() {
    let (year, _) = common::read_published(common::GREENSBORO);
    let of = |azimuth| {
        let hours = tilted_year(&year, Surface::upright(azimuth));
        assert!(hours.iter().all(|h| h.total_w_per_m2().is_finite() && h.total_w_per_m2() >= 0.0));
        hours.iter().map(|h| h.total_w_per_m2()).sum::<f64>() / 1000.0
    };
    let (north, east, south, west) = (of(0.0), of(90.0), of(180.0), of(270.0));
    assert!(north < east && east < south && north < west && west < south, "{north} {east} {south} {west}");
}
