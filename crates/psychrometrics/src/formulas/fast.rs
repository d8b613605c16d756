//! Saturation pressure and dew point by fast kernels: a polynomial and one exp, no division, no branch.
//!
//! `ln p` of the published formulas, fitted for each branch by a polynomial of degree 9 in the temperature
//! over −75…75 °C: the pressure is within 1.6e-7 of [`saturation_pa`](super::saturation_pa). Beyond that range
//! the kernels stay positive and finite and drift away slowly (3e-6 at ±80 °C, 3e-4 at ±100 °C).
//! `crates/psychrometrics/fit/fit_saturation.py` makes the coefficients.
//! Not here: the published formulas (`saturation`).

use lanes::Real;

use super::TRIPLE_POINT_C;

/// The fast kernels are fitted from minus to plus this temperature (°C).
pub const FAST_HALF_RANGE_C: f64 = 75.0;

const DEGREE: usize = 9;
const GUESS_DEGREE: usize = 5;

/// ln p (Pa) in powers of t (°C), constant term first.
const LN_OVER_WATER: [f64; DEGREE + 1] = [
    6.415445161583011,
    0.07264530337947443,
    -0.0002985481495088977,
    1.134536758033521e-06,
    -4.1100763287518696e-09,
    1.483496856550147e-11,
    -5.297466852810766e-14,
    1.9179740636895222e-16,
    -8.631221677603602e-19,
    3.2090068539406797e-21,
];
const LN_OVER_ICE: [f64; DEGREE + 1] = [
    6.415348146360095,
    0.08234671159504303,
    -0.000304439417294361,
    1.0884826755328961e-06,
    -3.921323396156088e-09,
    1.421871976543896e-11,
    -5.093539516993272e-14,
    1.8485276968780468e-16,
    -8.338635496451722e-19,
    3.1044475831465608e-21,
];
/// Dew point (°C) in powers of ln p (Pa), within 0.012 K.
const GUESS_OVER_WATER: [f64; GUESS_DEGREE + 1] = [
    -65.18153070360579,
    7.540050845361029,
    0.29126444100880194,
    0.017721756763936617,
    -0.0006826400321705305,
    0.00011931389876347894,
];
/// Frost point (°C) in powers of ln p (Pa), within 0.007 K.
const GUESS_OVER_ICE: [f64; GUESS_DEGREE + 1] = [
    -60.57923973427251,
    7.347044594340453,
    0.25325674017730415,
    0.010060881796251144,
    -5.456712440554516e-05,
    4.219061571052064e-05,
];
/// Where the dew point passes from ice to water (Pa): the pressure at the triple point.
const TRIPLE_POINT_PA: f64 = 611.657;

/// Saturation pressure over liquid water, also below 0 °C (Pa), within 1.6e-7 of the published formula over
/// −75…75 °C.
#[inline(always)]
pub fn fast_saturation_over_water_pa<R: Real>(temperature_c: R) -> R {
    polynomial(LN_OVER_WATER, temperature_c).exp()
}

/// Saturation pressure over ice (Pa), within 1.6e-7 of the published formula over −75…75 °C (above 0.01 °C a
/// smooth continuation, of use to an iteration that strays there).
#[inline(always)]
pub fn fast_saturation_over_ice_pa<R: Real>(temperature_c: R) -> R {
    polynomial(LN_OVER_ICE, temperature_c).exp()
}

/// Saturation pressure (Pa): over ice up to 0.01 °C, over liquid water above it, within 1.6e-7 over −75…75 °C.
#[inline(always)]
pub fn fast_saturation_pa<R: Real>(temperature_c: R) -> R {
    let (ice, water) = (polynomial(LN_OVER_ICE, temperature_c), polynomial(LN_OVER_WATER, temperature_c));
    R::select(frozen(temperature_c), ice, water).exp()
}

/// [`fast_saturation_pa`] to the bit, and its exact slope (Pa/K).
///
/// At 0.01 °C the slope is that over ice; it jumps by a tenth there, the pressure does not.
#[inline(always)]
pub fn fast_saturation_with_slope<R: Real>(temperature_c: R) -> (R, R) {
    with_slope(branch_with_slope(frozen(temperature_c), temperature_c))
}

/// [`fast_saturation_over_water_pa`] to the bit, and its exact slope (Pa/K).
#[inline(always)]
pub fn fast_saturation_over_water_with_slope<R: Real>(temperature_c: R) -> (R, R) {
    with_slope(polynomial_with_slope(LN_OVER_WATER, temperature_c))
}

/// [`fast_saturation_over_ice_pa`] to the bit, and its exact slope (Pa/K).
#[inline(always)]
pub fn fast_saturation_over_ice_with_slope<R: Real>(temperature_c: R) -> (R, R) {
    with_slope(polynomial_with_slope(LN_OVER_ICE, temperature_c))
}

/// Temperature at which [`fast_saturation_pa`] is the given pressure (°C): the frost point below 0.01 °C, the
/// dew point above. Within 1e-6 K for 0.15 Pa…38 kPa (−75…75 °C). Meaningless at zero vapour pressure.
#[inline(always)]
pub fn fast_dew_point_c<R: Real>(vapour_pressure_pa: R) -> R {
    let frozen = vapour_pressure_pa.le(R::splat(TRIPLE_POINT_PA));
    let wanted = vapour_pressure_pa.ln();
    let guess = R::select(frozen, polynomial(GUESS_OVER_ICE, wanted), polynomial(GUESS_OVER_WATER, wanted));
    newton_step(wanted, guess, branch_with_slope(frozen, guess))
}

/// As [`fast_dew_point_c`], over liquid water also below 0 °C, as weather services report it.
#[inline(always)]
pub fn fast_dew_point_over_water_c<R: Real>(vapour_pressure_pa: R) -> R {
    let wanted = vapour_pressure_pa.ln();
    let guess = polynomial(GUESS_OVER_WATER, wanted);
    newton_step(wanted, guess, polynomial_with_slope(LN_OVER_WATER, guess))
}

/// As [`fast_dew_point_c`], over ice.
#[inline(always)]
pub fn fast_frost_point_c<R: Real>(vapour_pressure_pa: R) -> R {
    let wanted = vapour_pressure_pa.ln();
    let guess = polynomial(GUESS_OVER_ICE, wanted);
    newton_step(wanted, guess, polynomial_with_slope(LN_OVER_ICE, guess))
}

#[inline(always)]
fn frozen<R: Real>(temperature_c: R) -> R::Mask {
    temperature_c.le(R::splat(TRIPLE_POINT_C))
}

/// ln p and its slope. Both branches are calculated and one taken: cheaper than selecting every coefficient.
#[inline(always)]
fn branch_with_slope<R: Real>(frozen: R::Mask, temperature_c: R) -> (R, R) {
    let (ice, ice_slope) = polynomial_with_slope(LN_OVER_ICE, temperature_c);
    let (water, water_slope) = polynomial_with_slope(LN_OVER_WATER, temperature_c);
    (R::select(frozen, ice, water), R::select(frozen, ice_slope, water_slope))
}

/// The polynomial in four sums of every fourth term, which do not wait for one another: a chain of multiplications and
/// additions one after the other would leave most of the machine idle.
#[inline(always)]
fn polynomial<R: Real, const N: usize>(coefficients: [f64; N], x: R) -> R {
    let square = x * x;
    let fourth = square * square;
    let low = every_fourth(coefficients, 0, fourth) + every_fourth(coefficients, 1, fourth) * x;
    let high = every_fourth(coefficients, 2, fourth) + every_fourth(coefficients, 3, fourth) * x;
    low + high * square
}

/// Terms `first`, `first + 4`, … in powers of x⁴; there are more than `first` coefficients.
#[inline(always)]
fn every_fourth<R: Real, const N: usize>(coefficients: [f64; N], first: usize, fourth: R) -> R {
    let mut k = N - 1 - (N - 1 - first) % 4;
    let mut sum = R::splat(coefficients[k]);
    while k > first {
        k -= 4;
        sum = sum * fourth + coefficients[k];
    }
    sum
}

/// [`polynomial`] to the bit, and its derivative.
#[inline(always)]
fn polynomial_with_slope<R: Real>(coefficients: [f64; DEGREE + 1], x: R) -> (R, R) {
    let mut of_slope = [0.0; DEGREE];
    let mut k = 0;
    while k < DEGREE {
        of_slope[k] = (k + 1) as f64 * coefficients[k + 1];
        k += 1;
    }
    (polynomial(coefficients, x), polynomial(of_slope, x))
}

#[inline(always)]
fn with_slope<R: Real>((logarithm, slope): (R, R)) -> (R, R) {
    let pressure = logarithm.exp();
    (pressure, pressure * slope)
}

/// One Newton step from the guess: its error of 0.012 K becomes 3e-7 K.
#[inline(always)]
fn newton_step<R: Real>(wanted: R, guess: R, (reached, slope): (R, R)) -> R {
    guess - (reached - wanted) / slope
}
