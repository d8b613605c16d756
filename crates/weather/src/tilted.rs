//! Irradiance on a tilted surface: beam, sky (Perez) and ground. What is not here: glass, shading, horizons. Read next:
//! [`crate::sun`].

use crate::sun::{self, SunPosition};
use crate::year::WeatherYear;
use rayon::prelude::*;

/// Share of the global irradiance that the ground throws back, unless something else is known.
pub const USUAL_ALBEDO: f64 = 0.2;

/// How a surface stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surface {
    /// Angle from lying flat [°]: 0 a flat roof, 90 a wall.
    pub tilt_deg: f64,
    /// Direction it faces [° clockwise from north]: 180 south.
    pub azimuth_deg: f64,
    /// Share of the global irradiance that the ground before it throws back, 0…1.
    pub albedo: f64,
}

impl Surface {
    /// An upright surface facing a direction, with [`USUAL_ALBEDO`].
    pub fn upright(azimuth_deg: f64) -> Self {
        Self { tilt_deg: 90.0, azimuth_deg, albedo: USUAL_ALBEDO }
    }
}

/// What comes from the sky in an hour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Irradiance {
    /// On the horizontal, all of it [W/m²].
    pub global_horizontal_w_per_m2: f64,
    /// Beam on a plane facing the sun [W/m²].
    pub direct_normal_w_per_m2: f64,
    /// Diffuse on the horizontal [W/m²].
    pub diffuse_horizontal_w_per_m2: f64,
    /// Outside the atmosphere on a plane facing the sun [W/m²].
    pub extraterrestrial_w_per_m2: f64,
}

/// Irradiance on a surface by where it comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TiltedIrradiance {
    /// Straight from the sun [W/m²].
    pub beam_w_per_m2: f64,
    /// From the sky [W/m²].
    pub sky_w_per_m2: f64,
    /// Thrown back by the ground [W/m²].
    pub ground_w_per_m2: f64,
}

impl TiltedIrradiance {
    /// All of it [W/m²].
    pub fn total_w_per_m2(self) -> f64 {
        self.beam_w_per_m2 + self.sky_w_per_m2 + self.ground_w_per_m2
    }
}

/// Irradiance on a surface for each hour of the year, with the sun at the year's own offset.
pub fn tilted_year(year: &WeatherYear, surface: Surface) -> Vec<TiltedIrradiance> {
    tilted_year_under(year, &sun::positions(year), surface)
}

/// The same for several surfaces, each a year of hours: the sun is placed once.
pub fn tilted_years(
    year: &WeatherYear,
    surfaces: impl IntoIterator<Item = Surface>,
) -> Vec<Vec<TiltedIrradiance>> {
    let positions = sun::positions(year);
    let surfaces: Vec<Surface> = surfaces.into_iter().collect();
    surfaces.into_par_iter().map(|surface| tilted_year_under(year, &positions, surface)).collect()
}

fn tilted_year_under(
    year: &WeatherYear,
    positions: &[SunPosition],
    surface: Surface,
) -> Vec<TiltedIrradiance> {
    let calendar = year.calendar();
    let horizontal = year.global_horizontal_w_per_m2.iter().zip(&year.diffuse_horizontal_w_per_m2);
    // Through a day it is the same outside the atmosphere.
    let outside: Vec<f64> = (1..=366).map(sun::extraterrestrial_w_per_m2).collect();
    (positions.iter().enumerate())
        .zip(horizontal.zip(&year.direct_normal_w_per_m2))
        .map(|((h, position), ((&global, &diffuse), &direct))| {
            let sky = Irradiance {
                global_horizontal_w_per_m2: global,
                direct_normal_w_per_m2: direct,
                diffuse_horizontal_w_per_m2: diffuse,
                extraterrestrial_w_per_m2: outside[usize::from(calendar.day_of_year(h)) - 1],
            };
            tilted(*position, sky, surface)
        })
        .collect()
}

/// Irradiance on a surface.
///
/// Beam `DNI max(cos aoi, 0)` while the sun is up; ground `albedo GHI (1 - cos tilt)/2`; sky by the anisotropic model
/// of Perez. While the sun is below the horizon the sky is taken as uniform.
///
/// # Source
/// [PEREZ-1990] Solar Energy 44 (1990) 271, eq. 9 and table 6 (all-sites composite); air mass [KASTEN-YOUNG].
pub fn tilted(sun: SunPosition, sky: Irradiance, surface: Surface) -> TiltedIrradiance {
    let cos_tilt = surface.tilt_deg.to_radians().cos();
    let cos_incidence = cos_incidence(sun, surface).max(0.0);
    let is_up = sun.zenith_deg < 90.0;
    TiltedIrradiance {
        beam_w_per_m2: if is_up { sky.direct_normal_w_per_m2 * cos_incidence } else { 0.0 },
        sky_w_per_m2: sky.diffuse_horizontal_w_per_m2 * sky_share(sun, sky, surface),
        ground_w_per_m2: surface.albedo * sky.global_horizontal_w_per_m2 * (1.0 - cos_tilt) / 2.0,
    }
}

/// Cosine of the angle between the sun and the surface's normal; negative behind the surface.
pub fn cos_incidence(sun: SunPosition, surface: Surface) -> f64 {
    let (sin_z, cos_z) = sun.zenith_deg.to_radians().sin_cos();
    let (sin_b, cos_b) = surface.tilt_deg.to_radians().sin_cos();
    cos_z * cos_b + sin_z * sin_b * (sun.azimuth_deg - surface.azimuth_deg).to_radians().cos()
}

/// Relative air mass; `zenith_deg` 0…90.
///
/// `1/(cos z + 0.50572 (96.07995 - z)^-1.6364)`
pub fn air_mass(zenith_deg: f64) -> f64 {
    let zenith_deg = zenith_deg.clamp(0.0, 90.0);
    1.0 / (zenith_deg.to_radians().cos() + 0.50572 * (96.07995 - zenith_deg).powf(-1.6364))
}

/// What the surface receives of the sky, over what the horizontal receives.
fn sky_share(sun: SunPosition, sky: Irradiance, surface: Surface) -> f64 {
    let (sin_b, cos_b) = surface.tilt_deg.to_radians().sin_cos();
    let uniform = 0.5 + 0.5 * cos_b;
    if sun.zenith_deg >= 90.0 || sky.diffuse_horizontal_w_per_m2 <= 0.0 {
        return uniform;
    }
    let (circumsolar, horizon) = brightening(sun, sky);
    let a = cos_incidence(sun, surface).max(0.0);
    let b = sun.zenith_deg.to_radians().cos().max(85.0_f64.to_radians().cos());
    ((1.0 - circumsolar) * uniform + circumsolar * a / b + horizon * sin_b).max(0.0)
}

/// Circumsolar and horizon brightening of the sky.
fn brightening(sun: SunPosition, sky: Irradiance) -> (f64, f64) {
    let z = sun.zenith_deg.to_radians();
    let (diffuse, direct) = (sky.diffuse_horizontal_w_per_m2, sky.direct_normal_w_per_m2);
    let cubic = 1.041 * z.powi(3);
    let clearness = ((diffuse + direct) / diffuse + cubic) / (1.0 + cubic);
    let brightness = diffuse * air_mass(sun.zenith_deg) / sky.extraterrestrial_w_per_m2;
    let bin = CLEARNESS_EDGES.iter().filter(|&&edge| clearness >= edge).count();
    let [f11, f12, f13, f21, f22, f23] = COEFFICIENTS.get(bin).copied().unwrap_or_default();
    ((f11 + f12 * brightness + f13 * z).max(0.0), f21 + f22 * brightness + f23 * z)
}

const CLEARNESS_EDGES: [f64; 7] = [1.065, 1.23, 1.5, 1.95, 2.8, 4.5, 6.2];

const COEFFICIENTS: [[f64; 6]; 8] = [
    [-0.008, 0.588, -0.062, -0.060, 0.072, -0.022],
    [0.130, 0.683, -0.151, -0.019, 0.066, -0.029],
    [0.330, 0.487, -0.221, 0.055, -0.064, -0.026],
    [0.568, 0.187, -0.295, 0.109, -0.152, -0.014],
    [0.873, -0.392, -0.362, 0.226, -0.462, 0.001],
    [1.132, -1.237, -0.412, 0.288, -0.823, 0.056],
    [1.060, -1.600, -0.359, 0.264, -1.127, 0.131],
    [0.678, -0.327, -0.250, 0.156, -1.377, 0.251],
];
