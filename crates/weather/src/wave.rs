//! The year's wave: the first harmonic of outdoor temperature, and what follows it late and damped, as the ground does.
//!
//! Not here: what the ground is given to do (`simulation`).

/// The first harmonic of a year's outdoor temperature, in one hour.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Wave {
    /// Mean of the year [°C].
    pub mean_c: f64,
    /// The wave in this hour \[K\].
    pub now_k: f64,
    /// The wave a quarter of a year before \[K\].
    pub behind_k: f64,
}

/// The first harmonic of a year's hourly temperatures [°C] by its Fourier sums, hour by hour.
pub fn waves(dry_bulb_c: &[f64]) -> Vec<Wave> {
    let count = dry_bulb_c.len() as f64;
    let angle = |h: usize| core::f64::consts::TAU * (h as f64 + 0.5) / count;
    let mean_c = dry_bulb_c.iter().sum::<f64>() / count;
    let of = |wave: fn(f64) -> f64| {
        dry_bulb_c.iter().enumerate().map(|(h, t)| t * wave(angle(h))).sum::<f64>() * 2.0 / count
    };
    let (cosine, sine) = (of(f64::cos), of(f64::sin));
    let at = |angle: f64| cosine * angle.cos() + sine * angle.sin();
    (0..dry_bulb_c.len())
        .map(|h| Wave { mean_c, now_k: at(angle(h)), behind_k: at(angle(h) - core::f64::consts::FRAC_PI_2) })
        .collect()
}

/// What follows this share of the wave so many days late: its parts in step with the wave and a quarter of a year behind it,
/// `s cos φ` and `s sin φ`.
pub fn late_parts(share: f64, days: f64) -> (f64, f64) {
    let angle = core::f64::consts::TAU * days / 365.0;
    (share * angle.cos(), share * angle.sin())
}

#[cfg(test)]
mod tests {
    use super::{late_parts, waves};

    /// A pure cosine followed 30 days late at half its size, by its own closed form.
    #[test]
    fn what_follows_late_is_the_wave_of_those_days_before() {
        let wave = |h: f64| 12.0 * (core::f64::consts::TAU * (h + 0.5) / 8760.0).cos();
        let year: Vec<f64> = (0..8760).map(|h| 8.0 + wave(f64::from(h))).collect();
        let (in_step, behind) = late_parts(0.5, 30.0);
        for (h, of_hour) in waves(&year).iter().enumerate().step_by(499) {
            let follows = in_step * of_hour.now_k + behind * of_hour.behind_k;
            assert!((follows - 0.5 * wave(h as f64 - 720.0)).abs() < 1e-9);
            assert!((of_hour.mean_c - 8.0).abs() < 1e-9);
        }
    }
}
