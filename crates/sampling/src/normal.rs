//! The standard normal distribution: the share below a number, and the number below which a share lies.
//!
//! Not here: mean, standard deviation and bounds ([`crate::distributions`]).
//!
//! # Sources
//! - \[AS241\] Wichura, *Algorithm AS 241: The Percentage Points of the Normal Distribution*, Applied Statistics 37 (1988),
//!   routine PPND16, stated to about 1 part in 10^16. Recalled; checked against scipy.
//! - \[MAR\] Marsaglia, *Evaluating the Normal Distribution*, Journal of Statistical Software 11 (2004): the series.
//!   Recalled.
//! - Laplace's continued fraction for the tail. Recalled.

use std::f64::consts::PI;

/// Beyond it the continued fraction converges quickly; within it the series loses no more than three digits.
const TAIL: f64 = 3.0;
const TAIL_TERMS: u32 = 60;
/// Within \[−3, 3\] the terms fall below the last digit long before.
const MOST_TERMS: u32 = 200;

/// Ratio of two polynomials of \[AS241\], coefficients from the constant on.
struct Ratio {
    above: [f64; 8],
    below: [f64; 8],
}

const MIDDLE: Ratio = Ratio {
    above: [
        3.3871328727963666080e0,
        1.3314166789178437745e2,
        1.9715909503065514427e3,
        1.3731693765509461125e4,
        4.5921953931549871457e4,
        6.7265770927008700853e4,
        3.3430575583588128105e4,
        2.5090809287301226727e3,
    ],
    below: [
        1.0,
        4.2313330701600911252e1,
        6.8718700749205790830e2,
        5.3941960214247511077e3,
        2.1213794301586595867e4,
        3.9307895800092710610e4,
        2.8729085735721942674e4,
        5.2264952788528545610e3,
    ],
};
const NEAR: Ratio = Ratio {
    above: [
        1.42343711074968357734e0,
        4.63033784615654529590e0,
        5.76949722146069140550e0,
        3.64784832476320460504e0,
        1.27045825245236838258e0,
        2.41780725177450611770e-1,
        2.27238449892691845833e-2,
        7.74545014278341407640e-4,
    ],
    below: [
        1.0,
        2.05319162663775882187e0,
        1.67638483018380384940e0,
        6.89767334985100004550e-1,
        1.48103976427480074590e-1,
        1.51986665636164571966e-2,
        5.47593808499534494600e-4,
        1.05075007164441684324e-9,
    ],
};
const FAR: Ratio = Ratio {
    above: [
        6.65790464350110377720e0,
        5.46378491116411436990e0,
        1.78482653991729133580e0,
        2.96560571828504891230e-1,
        2.65321895265761230930e-2,
        1.24266094738807843860e-3,
        2.71155556874348757815e-5,
        2.01033439929228813265e-7,
    ],
    below: [
        1.0,
        5.99832206555887937690e-1,
        1.36929880922735805310e-1,
        1.48753612908506148525e-2,
        7.86869131145613259100e-4,
        1.84631831751005468180e-5,
        1.42151175831644588870e-7,
        2.04426310338993978564e-15,
    ],
};

impl Ratio {
    fn at(&self, x: f64) -> f64 {
        let sum = |coefficients: &[f64; 8]| coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c);
        sum(&self.above) / sum(&self.below)
    }
}

/// The share below `z`: within 1e-13 of itself for `z` above −37, where it is 1e-299; 0 far below.
pub(crate) fn share_below(z: f64) -> f64 {
    let density = (-0.5 * z * z).exp() / (2.0 * PI).sqrt();
    if z.abs() <= TAIL {
        let (mut term, mut sum) = (z, z);
        for n in 1..MOST_TERMS {
            term *= z * z / f64::from(2 * n + 1);
            sum += term;
            if term.abs() <= 1e-18 * sum.abs() {
                break;
            }
        }
        return 0.5 + density * sum;
    }
    if density == 0.0 {
        return if z < 0.0 { 0.0 } else { 1.0 };
    }
    let beyond = z.abs();
    let fraction = (1..=TAIL_TERMS).rev().fold(beyond, |below, n| beyond + f64::from(n) / below);
    let tail = density / fraction;
    if z < 0.0 { tail } else { 1.0 - tail }
}

/// The number below which `share` lies; −∞ for 0 and ∞ for 1.
pub(crate) fn below_which(share: f64) -> f64 {
    let from_middle = share - 0.5;
    if from_middle.abs() <= 0.425 {
        return from_middle * MIDDLE.at(0.180625 - from_middle * from_middle);
    }
    let tail = if from_middle < 0.0 { share } else { 1.0 - share };
    let distance = if tail > 0.0 {
        let root = (-tail.ln()).sqrt();
        if root <= 5.0 { NEAR.at(root - 1.6) } else { FAR.at(root - 5.0) }
    } else {
        f64::INFINITY
    };
    distance.copysign(from_middle)
}

#[cfg(test)]
#[allow(clippy::float_cmp)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// `scipy.special.ndtri`, scipy 1.17.1; one in each branch, and on both sides of where branches meet.
    #[test]
    fn numbers_below_which_a_share_lies() {
        let known = [
            (1e-300, -37.0470962993612),
            (1e-20, -9.262340089798409),
            (1e-9, -5.9978070150076865),
            (0.001, -3.090232306167813),
            (0.02, -2.053748910631823),
            (0.0749, -1.4402382675279635),
            (0.0751, -1.4388253927525403),
            (0.2, -0.8416212335729142),
            (0.4, -0.2533471031357997),
            (0.5, 0.0),
            (0.7, 0.5244005127080407),
            (0.975, 1.959963984540054),
            (1.0 - 1e-12, 7.0344869100478356),
        ];
        for (share, z) in known {
            assert_relative_eq!(below_which(share), z, max_relative = 2e-15);
        }
        assert_eq!((below_which(0.0), below_which(1.0)), (f64::NEG_INFINITY, f64::INFINITY));
    }

    /// `scipy.special.ndtr`, scipy 1.17.1, with both sides of where the two ways meet.
    #[test]
    fn shares_below_a_number() {
        let known = [
            (-37.5, 4.605353009581954e-308),
            (-20.0, 2.7536241186061556e-89),
            (-8.0, 6.22096057427174e-16),
            (-5.0, 2.866515718791933e-07),
            (-3.01, 0.0013062384487694675),
            (-2.99, 0.0013948872354922468),
            (-1.0, 0.15865525393145707),
            (-0.1, 0.460172162722971),
            (0.0, 0.5),
            (0.5, 0.6914624612740131),
            (2.0, 0.9772498680518208),
            (2.99, 0.9986051127645078),
            (3.01, 0.9986937615512306),
            (6.0, 0.9999999990134123),
        ];
        for (z, share) in known {
            assert_relative_eq!(share_below(z), share, max_relative = 1e-13);
        }
        assert_eq!((share_below(-1e9), share_below(1e9)), (0.0, 1.0));
        assert_eq!((share_below(f64::NEG_INFINITY), share_below(f64::INFINITY)), (0.0, 1.0));
    }

    /// The two are found by different formulas, so one undoing the other checks both between the points above.
    #[test]
    fn one_undoes_the_other() {
        for step in -3_700..=800 {
            let z = f64::from(step) / 100.0;
            // Near 1 a share has lost digits of its distance to 1.
            let lost = if z > 0.0 { 1e-16 / share_below(-z) } else { 0.0 };
            assert_relative_eq!(below_which(share_below(z)), z, max_relative = 1e-13 + lost, epsilon = 1e-14);
        }
    }
}
