//! How far the line solution lies from the cell solution, over a named set of states.
//!
//! *Plausible*: outdoor air −30…45 °C at 40…100 % relative humidity, indoor air 18…28 °C at 10…60 % (up to 45 % when it
//! is colder than −20 °C outdoors), NTU 1.5…6, vapour passed at 0.2…0.8 of what the air films let pass, flows 0.7…1.3 of
//! each other, 101.3, 84 and 70 kPa. *Beyond*: −45…50 °C, 10…32 °C at up to 85 %, NTU 0.5…9, flows 0.5…2.
//!
//! States are spread evenly by an additive recurrence, so the same number of states is always the same set.
//! Not here: the two solutions (`line`, `cell`).

use psychrometrics::formulas::{humidity_ratio, saturation_pa};

use crate::cell::regenerator::{Matrix, WheelCase, solve_wheel};
use crate::cell::{CellError, PlateCase, solve_plate};
use crate::{Arrangement, Core, CoreKind, Inlets, SizingError, outlets, solve};

/// Which states.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum States {
    /// What a house and its climate can bring.
    Plausible,
    /// Beyond that.
    Beyond,
}

/// Which core.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Subject {
    /// Plates that pass heat alone.
    Plate(Arrangement),
    /// Membranes.
    Membrane(Arrangement),
    /// A wheel without sorbent.
    SensibleWheel,
    /// A wheel with sorbent.
    EnthalpyWheel,
}

/// All subjects that a study can ask for, with their names.
pub const SUBJECTS: [(&str, Subject); 8] = [
    ("sensible plate, counterflow", Subject::Plate(Arrangement::Counter)),
    ("sensible plate, quasi-counter", Subject::Plate(Arrangement::QuasiCounter { counter_share: 0.6 })),
    ("sensible plate, crossflow", Subject::Plate(Arrangement::Cross)),
    ("enthalpy plate, counterflow", Subject::Membrane(Arrangement::Counter)),
    ("enthalpy plate, quasi-counter", Subject::Membrane(Arrangement::QuasiCounter { counter_share: 0.6 })),
    ("enthalpy plate, crossflow", Subject::Membrane(Arrangement::Cross)),
    ("sensible wheel", Subject::SensibleWheel),
    ("enthalpy wheel", Subject::EnthalpyWheel),
];

/// Largest and root-mean-square distance.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Spread {
    /// Largest.
    pub largest: f64,
    /// Root of the mean square.
    pub rms: f64,
}

/// Distances over a set of states.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Distance {
    /// States measured.
    pub states: usize,
    /// Of these, with water or ice.
    pub wet: usize,
    /// Supply air \[K\].
    pub supply_k: Spread,
    /// Supply air [kg/kg].
    pub humidity_ratio: Spread,
    /// Water and ice formed, as a share of the largest rate in the set, for each kg of extract air.
    pub water_share: Spread,
    /// Ice, likewise as a share of the largest rate of ice.
    pub ice_share: Spread,
    /// Coldest spot of the plate \[K\].
    pub plate_k: Spread,
    /// Mean difference of the water over all wet states, as a share of its mean.
    pub water_bias: f64,
}

/// Why the distance cannot be told.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum AccuracyError {
    /// The reference has no answer.
    #[error("state {state}: {reason}")]
    Reference {
        /// Which state.
        state: usize,
        /// Why.
        reason: CellError,
    },
    /// The core cannot be sized.
    #[error(transparent)]
    Sizing(#[from] SizingError),
}

/// What either solution says of a state.
#[derive(Debug, Clone, Copy)]
struct Answer {
    supply_c: f64,
    supply_w: f64,
    water: f64,
    ice: f64,
    plate_c: f64,
}

/// Measures the distance over this many states (1 or more).
///
/// # Errors
/// [`AccuracyError`] where the reference has no answer.
pub fn distance(subject: Subject, set: States, states: usize) -> Result<Distance, AccuracyError> {
    let mut pairs = Vec::with_capacity(states);
    for state in 0..states {
        let case = case(subject, set, state);
        let reference =
            reference(subject, &case).map_err(|reason| AccuracyError::Reference { state, reason })?;
        pairs.push((fast(subject, &case)?, reference));
    }
    Ok(summed(&pairs))
}

fn summed(pairs: &[(Answer, Answer)]) -> Distance {
    let largest = |of: fn(&Answer) -> f64| pairs.iter().map(|(_, r)| of(r)).fold(0.0, f64::max);
    let (most_water, most_ice) = (largest(|a| a.water).max(1e-12), largest(|a| a.ice).max(1e-12));
    let spread = |of: fn(&Answer) -> f64, unit: f64| {
        let distances = pairs.iter().map(|(fast, reference)| (of(fast) - of(reference)).abs() / unit);
        let squares: f64 = distances.clone().map(|d| d * d).sum();
        Spread { largest: distances.fold(0.0, f64::max), rms: (squares / pairs.len().max(1) as f64).sqrt() }
    };
    let total = |of: fn(&(Answer, Answer)) -> f64| pairs.iter().map(of).sum::<f64>();
    let (fast, reference) = (total(|p| p.0.water), total(|p| p.1.water));
    Distance {
        states: pairs.len(),
        wet: pairs.iter().filter(|(_, r)| r.water > 0.0).count(),
        supply_k: spread(|a| a.supply_c, 1.0),
        humidity_ratio: spread(|a| a.supply_w, 1.0),
        water_share: spread(|a| a.water, most_water),
        ice_share: spread(|a| a.ice, most_ice),
        plate_k: spread(|a| a.plate_c, 1.0),
        water_bias: if reference > 0.0 { fast / reference - 1.0 } else { 0.0 },
    }
}

/// One state, with its core.
#[derive(Debug, Clone, Copy)]
struct Case {
    inlets: Inlets<f64>,
    ua_w_per_k: f64,
    vapour_kg_per_s: f64,
}

/// Steps of the recurrence: powers of the inverses of the golden ratio's higher kin, one for each dimension.
const STEPS: [f64; 8] = [
    0.618_033_988_749_895,
    0.754_877_666_246_693,
    0.819_172_513_396_165,
    0.856_674_883_854_503,
    0.880_970_184_254_133,
    0.897_653_980_206_303,
    0.910_146_640_231_085,
    0.919_767_600_131_443,
];

fn case(subject: Subject, set: States, state: usize) -> Case {
    let between = |dimension: usize, low: f64, high: f64| {
        low + (high - low) * (0.5 + (state as f64 + 1.0) * STEPS[dimension]).fract()
    };
    let (outdoor, indoor, humid, ntu, ratio) = match set {
        States::Plausible => ((-30.0, 45.0), (18.0, 28.0), (0.45, 0.60), (1.5, 6.0), (0.7, 1.3)),
        States::Beyond => ((-45.0, 50.0), (10.0, 32.0), (0.60, 0.85), (0.5, 9.0), (0.5, 2.0)),
    };
    let outdoor_c = between(0, outdoor.0, outdoor.1);
    let extract_c = between(1, indoor.0, indoor.1);
    let rh = between(2, 0.1, if outdoor_c < -20.0 { humid.0 } else { humid.1 });
    let pressure_pa = [101_325.0, 84_000.0, 70_000.0][state % 3];
    let supply_kg_per_s = between(4, ratio.0, ratio.1);
    let w = |t: f64, rh: f64| humidity_ratio(rh * saturation_pa(t), pressure_pa);
    let inlets = Inlets {
        outdoor_c,
        outdoor_humidity_ratio: w(outdoor_c, between(5, 0.4, 1.0)),
        extract_c,
        extract_humidity_ratio: w(extract_c, rh),
        supply_kg_per_s,
        extract_kg_per_s: 1.0,
        pressure_pa,
    };
    let films = between(3, ntu.0, ntu.1) * supply_kg_per_s.min(1.0);
    let vapour_kg_per_s = match subject {
        Subject::Plate(_) | Subject::SensibleWheel => 0.0,
        // The films of the reference are those of moist air, which pass up to 2 % less.
        Subject::Membrane(_) | Subject::EnthalpyWheel => between(6, 0.2, 0.8) * films,
    };
    Case { inlets, ua_w_per_k: films * 1006.0, vapour_kg_per_s }
}

/// Matrix heat capacity flow over the smaller air flow's, of the wheels compared.
const CAPACITY_RATIO: f64 = 5.0;

fn fast(subject: Subject, case: &Case) -> Result<Answer, SizingError> {
    let conductances = (case.ua_w_per_k, case.vapour_kg_per_s);
    let flows = (case.inlets.supply_kg_per_s, case.inlets.extract_kg_per_s);
    let (kind, core) = match subject {
        Subject::Plate(a) => (kind_of(a, false), Core::new(a, conductances, flows)?),
        Subject::Membrane(a) => (kind_of(a, true), Core::new(a, conductances, flows)?),
        Subject::SensibleWheel => {
            (CoreKind::SensibleWheel, Core::wheel(conductances, flows, CAPACITY_RATIO)?)
        }
        Subject::EnthalpyWheel => {
            (CoreKind::EnthalpyWheel, Core::wheel(conductances, flows, CAPACITY_RATIO)?)
        }
    };
    let fluxes = solve(kind, &core, &case.inlets);
    let out = outlets(&case.inlets, &fluxes);
    Ok(Answer {
        supply_c: out.supply_c,
        supply_w: out.supply_humidity_ratio,
        water: fluxes.liquid_kg_per_s + fluxes.ice_kg_per_s + fluxes.supply_liquid_kg_per_s,
        ice: fluxes.ice_kg_per_s,
        plate_c: fluxes.plate_cold_c,
    })
}

fn kind_of(arrangement: Arrangement, passes_vapour: bool) -> CoreKind {
    match (arrangement, passes_vapour) {
        (Arrangement::Cross, false) => CoreKind::SensibleCrossPlate,
        (Arrangement::Cross, true) => CoreKind::EnthalpyCrossPlate,
        (_, false) => CoreKind::SensiblePlate,
        (_, true) => CoreKind::EnthalpyPlate,
    }
}

/// Cells along a stream of the reference.
const PLATE_CELLS: usize = 60;
const CROSS_CELLS: usize = 40;
const WHEEL_CELLS: usize = 30;

fn reference(subject: Subject, case: &Case) -> Result<Answer, CellError> {
    match subject {
        Subject::Plate(arrangement) | Subject::Membrane(arrangement) => plate_reference(arrangement, case),
        Subject::SensibleWheel => wheel_reference(Matrix::Plain, case),
        Subject::EnthalpyWheel => {
            let store_kg_per_s = CAPACITY_RATIO * case.inlets.supply_kg_per_s.min(1.0);
            wheel_reference(
                Matrix::Sorbing { store_kg_per_s, vapour_kg_per_s: 2.0 * case.vapour_kg_per_s },
                case,
            )
        }
    }
}

fn plate_reference(arrangement: Arrangement, case: &Case) -> Result<Answer, CellError> {
    let cells = if arrangement == Arrangement::Cross { CROSS_CELLS } else { PLATE_CELLS };
    let s = solve_plate(&PlateCase {
        inlets: case.inlets,
        ua_w_per_k: case.ua_w_per_k,
        vapour_kg_per_s: case.vapour_kg_per_s,
        arrangement,
        cells,
    })?;
    let (extract, supply) = (s.extract_deposit, s.supply_deposit);
    Ok(Answer {
        supply_c: s.outlets.supply_c,
        supply_w: s.outlets.supply_humidity_ratio,
        water: extract.liquid_kg_per_s + extract.ice_kg_per_s + supply.liquid_kg_per_s + supply.ice_kg_per_s,
        ice: extract.ice_kg_per_s,
        plate_c: s.coldest_plate_c,
    })
}

fn wheel_reference(matrix: Matrix, case: &Case) -> Result<Answer, CellError> {
    let film = 2.0 * case.ua_w_per_k;
    let s = solve_wheel(&WheelCase {
        inlets: case.inlets,
        supply_film_w_per_k: film,
        extract_film_w_per_k: film,
        matrix_w_per_k: CAPACITY_RATIO * 1006.0 * case.inlets.supply_kg_per_s.min(1.0),
        matrix,
        cells: WHEEL_CELLS,
    })?;
    Ok(Answer {
        supply_c: s.outlets.supply_c,
        supply_w: s.outlets.supply_humidity_ratio,
        water: s.excess.liquid_kg_per_s + s.excess.ice_kg_per_s,
        ice: s.excess.ice_kg_per_s,
        plate_c: s.coldest_matrix_c,
    })
}
