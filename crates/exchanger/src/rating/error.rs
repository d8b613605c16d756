//! Why a rating sheet is refused.
//!
//! Not here: the checks themselves (`checks`, `fit`).

use std::fmt;

use psychrometrics::OutOfRange;

use super::air::Standard;
use super::figures::Figure;
use super::fitted::PointCheck;

/// Where something stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Place {
    /// What holds for the whole sheet.
    Sheet,
    /// A test point.
    Point {
        /// Which, from 1.
        number: usize,
        /// Its standard.
        standard: Standard,
        /// Its outdoor air [°C].
        outdoor_c: f64,
    },
    /// A row of a table of effectivenesses.
    Row {
        /// Which, from 1.
        number: usize,
    },
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Sheet => f.write_str("the sheet"),
            Self::Point { number, standard, outdoor_c } => {
                write!(f, "point {number} ({standard}, {outdoor_c} °C)")
            }
            Self::Row { number } => write!(f, "row {number}"),
        }
    }
}

/// Why a rating sheet, or a table of effectivenesses, gives no conductances. Figures are fractions.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RatingError {
    /// Test air that is none.
    #[error(transparent)]
    Air(#[from] OutOfRange),
    /// A number outside its range; also a number that is none (NaN).
    #[error("{place}: {quantity} {value}{unit} is outside {low}…{high}{unit}")]
    OutOfRange {
        /// Where.
        place: Place,
        /// What.
        quantity: &'static str,
        /// How much.
        value: f64,
        /// Its unit with a space before it; empty for a ratio.
        unit: &'static str,
        /// The lowest allowed.
        low: f64,
        /// The highest allowed.
        high: f64,
    },
    /// A figure that compares what hardly differs.
    #[error("{place}: {figure} says nothing here, indoor and outdoor air are too much alike")]
    Meaningless {
        /// Where.
        place: Place,
        /// What.
        figure: Figure,
    },
    /// Sensible recovery above apparent sensible effectiveness, in winter.
    #[error(
        "{place}: sensible recovery {recovery:.3} is above apparent sensible effectiveness {apparent:.3}; \
         fan heat alone cannot do that: fans, leaks and the case only raise the apparent figure"
    )]
    RecoveryAboveApparent {
        /// Where.
        place: Place,
        /// Sensible recovery.
        recovery: f64,
        /// Apparent sensible effectiveness.
        apparent: f64,
    },
    /// More than an endless core could do.
    #[error(
        "{place}: {figure} {stated:.3} leaves the core an effectiveness of {effectiveness:.3} once fan heat, leaked \
         air and the case are taken out; it must be below 1"
    )]
    Effectiveness {
        /// Where.
        place: Place,
        /// Which figure.
        figure: Figure,
        /// What it states.
        stated: f64,
        /// What is left for the core.
        effectiveness: f64,
    },
    /// A total that is not made of its parts.
    #[error(
        "{place}: {figure} {total:.3} cannot be: sensible {sensible:.3} and moisture {moisture:.3} give {expected:.3} \
         in this air"
    )]
    Total {
        /// Where.
        place: Place,
        /// Which total.
        figure: Figure,
        /// What it states.
        total: f64,
        /// The sensible figure beside it.
        sensible: f64,
        /// The moisture figure beside it, 0 for a core that passes none.
        moisture: f64,
        /// What both give.
        expected: f64,
    },
    /// A total that no moisture figure could explain.
    #[error(
        "{place}: {figure} {total:.3} beside sensible {sensible:.3} would need a moisture figure of {moisture:.3}; \
         it must lie in 0…1"
    )]
    ImpliedMoisture {
        /// Where.
        place: Place,
        /// Which total.
        figure: Figure,
        /// What it states.
        total: f64,
        /// The sensible figure beside it.
        sensible: f64,
        /// The moisture figure that would be needed.
        moisture: f64,
    },
    /// Moisture from a core that passes none.
    #[error("{place}: {figure} {stated:.3}, but this kind of core passes no moisture")]
    Moisture {
        /// Where.
        place: Place,
        /// Which figure.
        figure: Figure,
        /// What it states.
        stated: f64,
    },
    /// A fan that would warm the air more than the whole unit does.
    #[error(
        "{place}: the supply fan's {fan_w:.1} W are more than the {rise_w:.1} W that the supply air gains"
    )]
    FanHeat {
        /// Where.
        place: Place,
        /// Supply fan \[W\].
        fan_w: f64,
        /// Gain of the supply air \[W\].
        rise_w: f64,
    },
    /// Figures that no core can have together.
    #[error("the stated figures contradict each other: {first}; {second}")]
    Contradiction {
        /// The figure farthest from the fitted core.
        first: PointCheck,
        /// The figure that pulls the other way most, or the next farthest.
        second: PointCheck,
    },
    /// The only figure of a sheet, and no core gives it.
    #[error("no core gives this: {check}")]
    OutOfReach {
        /// The figure, and the closest that a core comes.
        check: PointCheck,
    },
    /// A row of a table that the others contradict.
    #[error("{place}: effectiveness {stated:.3}, but all rows together give {given:.3}")]
    RowAside {
        /// Which row.
        place: Place,
        /// As stated.
        stated: f64,
        /// As the fitted conductances give it.
        given: f64,
    },
    /// Stated and net airflow, or two net airflows, that mean different leaks.
    #[error(
        "{place}: net airflow means a cross-leakage of {here:.3}, elsewhere the sheet says {elsewhere:.3}"
    )]
    LeakageContradiction {
        /// Where.
        place: Place,
        /// Cross-leakage by this point's airflows.
        here: f64,
        /// Cross-leakage as stated or by another point.
        elsewhere: f64,
    },
    /// More leaked air than a unit for houses may have.
    #[error(
        "{place}: cross-leakage {value:.3} is above 0.1; with that much extract air in the supply, figures tell little of the core"
    )]
    CrossLeakage {
        /// Where it is stated, or the sheet where it was fitted.
        place: Place,
        /// Share of the supply air.
        value: f64,
    },
    /// Two flows that do not fit together.
    #[error(
        "the flow exponent that fits is {value:.3}, outside 0…1.5: the figures at different airflows contradict each other"
    )]
    FlowExponent {
        /// `n` in `NTU ∝ m⁻ⁿ`.
        value: f64,
    },
    /// No frost-free figure tells of the core's heat.
    #[error("no frost-free point states a sensible or total figure: there is nothing to fit")]
    NothingToFit,
    /// A core that passes moisture, and nothing said of it.
    #[error(
        "this kind of core passes moisture, but the frost-free points do not tell sensible from moisture: state a moisture figure, or a sensible and a total one"
    )]
    MoistureUnknown,
}
