//! The root of a rising function between two ends.
//!
//! Not here: what is searched (`curve`, `wet_bulb`, `pairs`, `fog`).

/// Narrow enough that nothing built on the answer notices (K).
const WIDTH: f64 = 1e-13;

/// Where `f`, rising from `low` to `high`, is zero.
///
/// Secant steps that always keep the root between two ends, with a bisection whenever three steps have not
/// halved the distance between them: so it converges however `f` bends. When `f` has no zero between the ends,
/// the end nearer to it is the answer; callers rule that out or mean it.
pub(crate) fn root_of_rising(low: f64, high: f64, f: impl Fn(f64) -> f64) -> f64 {
    let mut bracket = Bracket { low, high, f_low: f(low), f_high: f(high), moved: End::Neither };
    if bracket.f_low >= 0.0 {
        return low;
    }
    if bracket.f_high <= 0.0 {
        return high;
    }
    for _ in 0..100 {
        let width = bracket.width();
        for _ in 0..3 {
            bracket.narrow(bracket.secant(), &f);
        }
        if bracket.width() > 0.5 * width {
            bracket.narrow(0.5 * (bracket.low + bracket.high), &f);
        }
        if bracket.width() <= WIDTH {
            break;
        }
    }
    0.5 * (bracket.low + bracket.high)
}

struct Bracket {
    low: f64,
    high: f64,
    f_low: f64,
    f_high: f64,
    moved: End,
}

/// Which end the last step moved.
#[derive(PartialEq)]
enum End {
    Neither,
    Low,
    High,
}

impl Bracket {
    fn width(&self) -> f64 {
        self.high - self.low
    }

    fn secant(&self) -> f64 {
        let share = self.f_low / (self.f_low - self.f_high);
        (self.low + share * self.width()).clamp(self.low, self.high)
    }

    /// Takes `x` as a new end. When the same end moves twice running, the value at the one that stays is halved:
    /// that draws the next secant step across the root, so that both ends close in.
    fn narrow(&mut self, x: f64, f: &impl Fn(f64) -> f64) {
        let value = f(x);
        if value > 0.0 {
            (self.high, self.f_high) = (x, value);
            if self.moved == End::High {
                self.f_low *= 0.5;
            }
            self.moved = End::High;
        } else if value < 0.0 {
            (self.low, self.f_low) = (x, value);
            if self.moved == End::Low {
                self.f_high *= 0.5;
            }
            self.moved = End::Low;
        } else {
            (self.low, self.high) = (x, x);
            (self.f_low, self.f_high) = (-1.0, 1.0);
        }
    }
}
