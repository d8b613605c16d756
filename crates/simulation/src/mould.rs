//! Mould index of a surface, hour by hour: 0 no growth, 1 first growth under the microscope, 3 visible, 6 all covered.
//!
//! Growth and decline after Hukka and Viitanen 1999, with the sensitivity classes of 2010. The index says how a surface of that class
//! would fare; published comparisons find it of limited reliability outside the materials that it was fitted to.
//! Not here: the surface's temperature and humidity (`surfaces`), the thirty-day criterion (`thirty_days`).
//!
//! # Sources
//! \[HUKKA-1999\] Hukka and Viitanen, Wood Science and Technology 33 (1999) 475: growth, decline, critical humidity. \[OJANEN-2010\] Ojanen,
//! Viitanen, Peuhkuri, Lähdesmäki, Vinha and Salminen, Thermal Performance of the Exterior Envelopes of Whole Buildings XI, 2010: classes.
//! Coefficients as one public implementation of the model has them, which agree with memory; decline factors recalled.

use lanes::{Mask, Real};

use crate::inputs::numbers;

/// How readily mould grows on a surface.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Sensitivity {
    /// Untreated wood with many nutrients, pine sapwood.
    VerySensitive,
    /// Planed wood, paper-faced products, wood-based boards.
    Sensitive,
    /// Cement and plastic based materials, mineral fibres.
    MediumResistant,
    /// Glass, metal, materials with a protective treatment.
    Resistant,
}

/// How fast the index falls in dry or cold times, against pine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Decline {
    /// As on pine: × 1.
    Strong,
    /// × 0.5.
    Significant,
    /// × 0.25.
    Low,
    /// × 0.1.
    AlmostNone,
}

impl Decline {
    /// Factor on pine's decline.
    pub fn factor(self) -> f64 {
        match self {
            Self::Strong => 1.0,
            Self::Significant => 0.5,
            Self::Low => 0.25,
            Self::AlmostNone => 0.1,
        }
    }
}

numbers! {
    /// A surface's class as numbers.
    MouldNumbers {
        /// Rate of growth against pine's, below an index of 1.
        early_growth,
        /// The same from 1 on.
        late_growth,
        /// Greatest index: constant term.
        most_constant,
        /// Greatest index: linear term.
        most_linear,
        /// Greatest index: what the square takes away.
        most_square,
        /// Least relative humidity of growth at any temperature \[%\].
        least_humidity_pct,
        /// Decline against pine's, 0…1.
        decline,
    }
}

impl MouldNumbers<f64> {
    /// The numbers of a class. \[OJANEN-2010\]
    pub fn of(sensitivity: Sensitivity, decline: Decline) -> Self {
        let (early_growth, late_growth, (most_constant, most_linear, most_square), least_humidity_pct) =
            match sensitivity {
                Sensitivity::VerySensitive => (1.0, 2.0, (1.0, 7.0, 2.0), 80.0),
                Sensitivity::Sensitive => (0.578, 0.386, (0.3, 6.0, 1.0), 80.0),
                Sensitivity::MediumResistant => (0.072, 0.097, (0.0, 5.0, 1.5), 85.0),
                Sensitivity::Resistant => (0.033, 0.014, (0.0, 3.0, 1.0), 85.0),
            };
        Self {
            early_growth,
            late_growth,
            most_constant,
            most_linear,
            most_square,
            least_humidity_pct,
            decline: decline.factor(),
        }
    }
}

/// Growth is possible between these temperatures [°C], both excluded.
const GROWTH_C: (f64, f64) = (0.0, 50.0);
/// Fall of pine's index in the first hours of unfavourable conditions, and after the pause that follows [1/h].
const EARLY_DECLINE_PER_H: f64 = 0.032 / 24.0;
const LATE_DECLINE_PER_H: f64 = 0.016 / 24.0;
/// Until when the first holds, and from when on the second \[h\].
const EARLY_UNTIL_H: f64 = 6.0;
const LATE_AFTER_H: f64 = 24.0;
const HOURS_A_WEEK: f64 = 168.0;

/// Least relative humidity at which mould grows \[%\], for temperatures at which it grows at all.
///
/// `−0.00267 t³ + 0.160 t² − 3.13 t + 100` up to 20 °C, and the class's least humidity as floor. \[HUKKA-1999\]
#[inline(always)]
pub fn critical_humidity_pct<R: Real>(class: &MouldNumbers<R>, temperature_c: R) -> R {
    let t = temperature_c;
    let curve = ((t * -0.00267 + 0.160) * t - 3.13) * t + 100.0;
    let floor = class.least_humidity_pct;
    R::select(t.le(R::splat(20.0)), curve.max(floor), floor)
}

/// Weeks until an index of 1 on pine \[weeks\]: `exp(−0.68 ln t − 13.9 ln φ + 66.02)`, `φ` in percent. \[HUKKA-1999\]
#[inline(always)]
fn weeks_to_first_growth<R: Real>(temperature_c: R, relative_humidity_pct: R) -> R {
    (temperature_c.ln() * -0.68 - relative_humidity_pct.ln() * 13.9 + 66.02).exp()
}

/// The index of a surface and how long it has been too dry or too cold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MouldState<R> {
    /// The index, 0…6.
    pub index: R,
    /// Hours since conditions became unfavourable \[h\], 0 in growth.
    pub unfavourable_h: R,
    /// The highest index so far.
    pub max: R,
}

impl<R: Real> MouldState<R> {
    /// A clean surface.
    pub fn clean() -> Self {
        Self { index: R::zero(), unfavourable_h: R::zero(), max: R::zero() }
    }

    /// Takes the surface through an hour at this temperature and relative humidity.
    ///
    /// Humidity above 100 % counts as 100 %. An hour at or above the critical humidity, between 0 and 50 °C, is favourable: the index
    /// grows towards the greatest that these conditions allow, or stays when it is above it already. In other hours it falls for
    /// six hours, stays until a day has passed, and falls at half the speed from then on. One favourable hour starts that count anew.
    #[inline(always)]
    pub fn hour(&mut self, class: &MouldNumbers<R>, temperature_c: R, relative_humidity_pct: R) {
        let (zero, one) = (R::zero(), R::one());
        let humidity = relative_humidity_pct.min(R::splat(100.0));
        let critical = critical_humidity_pct(class, temperature_c);
        let warm = temperature_c.gt(R::splat(GROWTH_C.0)) & temperature_c.lt(R::splat(GROWTH_C.1));
        // Just above 0 °C the curve meets 100 %, where there is no span left to divide by.
        let span = R::splat(100.0) - critical;
        let grows = warm & humidity.ge(critical) & span.gt(R::splat(1e-9));
        let growth = if grows.any() {
            let t = R::select(grows, temperature_c, one);
            let phi = R::select(grows, humidity, R::splat(100.0));
            let x = (phi - critical) / R::select(grows, span, one);
            let most = class.most_constant + class.most_linear * x - class.most_square * (x * x);
            let rate = R::select(self.index.lt(one), class.early_growth, class.late_growth);
            let slowing = (one - ((self.index - most) * 2.3).exp()).max(zero);
            R::select(grows, rate * slowing / (weeks_to_first_growth(t, phi) * HOURS_A_WEEK), zero)
        } else {
            zero
        };
        self.unfavourable_h = R::select(grows, zero, self.unfavourable_h + 1.0);
        let early = self.unfavourable_h.le(R::splat(EARLY_UNTIL_H));
        let late = self.unfavourable_h.gt(R::splat(LATE_AFTER_H));
        let fall = R::select(
            late,
            R::splat(LATE_DECLINE_PER_H),
            R::select(early, R::splat(EARLY_DECLINE_PER_H), zero),
        );
        let fall = R::select(grows, zero, fall * class.decline);
        self.index = (self.index + growth - fall).max(zero);
        self.max = self.max.max(self.index);
    }
}

#[cfg(test)]
#[path = "mould_tests.rs"]
mod mould_tests;
