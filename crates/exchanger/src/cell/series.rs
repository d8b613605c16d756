//! Parts in counterflow series, closed by Newton steps.
//!
//! Each part answers for the air that enters it; the unknowns are the airs between the parts. A step solves the
//! linearised series by elimination from the house side, two unknowns at a time. Wet and dry cells change sides
//! between steps; steps that do not come nearer are halved.
//!
//! Not here: a part's inside (`part`), what is counted (`tally`).

use super::CellError;
use super::part::{Part, Place, Through};
use super::patch::{Air, Patch, Plate};

type Vector = [f64; 2];
type Matrix = [[f64; 2]; 2];

/// The airs between the parts, entry `k` on the house side of part `k`.
#[derive(Debug, Clone)]
struct Between {
    supply: Vec<Air>,
    extract: Vec<Air>,
}

/// Airs between the parts, and what the parts make of them.
struct Passed {
    between: Between,
    through: Vec<Through>,
    /// Largest difference between what leaves one part and what enters the next \[K\].
    gap_k: f64,
}

/// A closed series.
#[derive(Debug, Clone)]
pub(super) struct Closed {
    /// Supply and exhaust air.
    pub(super) out: [Air; 2],
    /// What enters each part: supply and extract air.
    pub(super) entering: Vec<[Air; 2]>,
    pub(super) iterations: usize,
}

/// A humidity ratio's gap is counted at this many kelvin for each kg/kg: about the latent heat over the heat
/// capacity.
const KELVIN_PER_RATIO: f64 = 2500.0;
/// Below this a gap is rounding.
const ROUNDING_K: f64 = 1e-13;
/// A gap that no longer falls is accepted below this.
const ACCEPTED_K: f64 = 1e-11;
const MOST_STEPS: usize = 300;

/// Closes the series for this entering outdoor and extract air, and shows each cell of the last pass.
pub(super) fn close(
    plate: &Plate,
    parts: &mut [Part],
    inlet: [Air; 2],
    show: &mut impl FnMut(&Patch, Place),
) -> Result<Closed, CellError> {
    let start = Between::start(parts.len(), inlet);
    // What enters a part that is alone is known.
    let (between, iterations) = if parts.len() > 1 { start.closed(plate, parts)? } else { (start, 0) };
    let entering: Vec<_> = (0..parts.len()).map(|k| between.entering(k)).collect();
    let mut out = inlet;
    for (k, part) in parts.iter_mut().enumerate() {
        let through = part.pass(plate, entering[k], show);
        if k == 0 {
            out[0] = through.out[0];
        }
        out[1] = through.out[1];
    }
    Ok(Closed { out, entering, iterations })
}

impl Between {
    fn start(parts: usize, inlet: [Air; 2]) -> Self {
        Self { supply: vec![inlet[0]; parts + 1], extract: vec![inlet[1]; parts + 1] }
    }

    /// Newton steps until nothing but rounding is between the parts.
    fn closed(self, plate: &Plate, parts: &mut [Part]) -> Result<(Self, usize), CellError> {
        let through = self.pass(plate, parts);
        let mut now = Passed { gap_k: self.gap_k(&through), between: self, through };
        let mut iterations = 0;
        while now.gap_k > ROUNDING_K && iterations < MOST_STEPS {
            iterations += 1;
            let next = now.step(plate, parts);
            if next.gap_k >= now.gap_k && now.gap_k < ACCEPTED_K {
                break;
            }
            now = next;
        }
        if now.gap_k < ACCEPTED_K {
            return Ok((now.between, iterations));
        }
        Err(CellError::NotConverged { gap_k: now.gap_k, iterations })
    }

    fn entering(&self, part: usize) -> [Air; 2] {
        [self.supply[part + 1], self.extract[part]]
    }

    fn pass(&self, plate: &Plate, parts: &mut [Part]) -> Vec<Through> {
        let pass = |(k, part): (usize, &mut Part)| part.pass(plate, self.entering(k), &mut |_, _| ());
        parts.iter_mut().enumerate().map(pass).collect()
    }

    fn gap_k(&self, through: &[Through]) -> f64 {
        let apart = |a: Air, b: Air| (a.c - b.c).abs().max(KELVIN_PER_RATIO * (a.w - b.w).abs());
        // What leaves at the two ends enters no other part.
        let to_house = through.iter().enumerate().skip(1).map(|(k, t)| apart(t.out[0], self.supply[k]));
        let last = through.len() - 1;
        let to_weather =
            through.iter().take(last).enumerate().map(|(k, t)| apart(t.out[1], self.extract[k + 1]));
        // Written so that a gap that is not a number is kept.
        to_house.chain(to_weather).fold(0.0, |worst, here| if here <= worst { worst } else { here })
    }

    /// A share of the way to another state.
    fn moved(&self, target: &Self, share: f64) -> Self {
        let between = |from: &[Air], to: &[Air]| {
            let toward = |a: f64, b: f64| if share < 1.0 { a + share * (b - a) } else { b };
            from.iter().zip(to).map(|(a, b)| Air { c: toward(a.c, b.c), w: toward(a.w, b.w) }).collect()
        };
        Self {
            supply: between(&self.supply, &target.supply),
            extract: between(&self.extract, &target.extract),
        }
    }

    /// The airs that fit all linearised parts together.
    ///
    /// With `e` entering a part on the house side and `s` on the weather side, a part leaves `A e + B s + a` and
    /// `C e + D s + b`; what lies on the house side of it obeys `e = R s' + r`.
    fn solved(&self, through: &[Through]) -> Self {
        let count = through.len();
        let mut house = (ZERO, pair(self.extract[0]));
        let mut passed = Vec::with_capacity(count);
        for (k, t) in through.iter().enumerate() {
            let [supply_in, extract_in] = self.entering(k).map(pair);
            let [d, c] = [block(t, 0, 0), block(t, 0, 2)];
            let [b, a] = [block(t, 2, 0), block(t, 2, 2)];
            let b0 = sub(pair(t.out[0]), add(apply(&d, supply_in), apply(&c, extract_in)));
            let a0 = sub(pair(t.out[1]), add(apply(&b, supply_in), apply(&a, extract_in)));
            let (r, r0) = house;
            let inverse = inverse(&less(&IDENTITY, &times(&c, &r)));
            let p = times(&inverse, &d);
            let p0 = apply(&inverse, add(apply(&c, r0), b0));
            passed.push((r, r0, p, p0));
            let extract_by = times(&r, &p);
            let extract_at = add(apply(&r, p0), r0);
            house = (plus(&times(&a, &extract_by), &b), add(apply(&a, extract_at), a0));
        }
        let mut found = self.clone();
        let mut supply = pair(self.supply[count]);
        found.extract[count] = air(add(apply(&house.0, supply), house.1));
        for (k, (r, r0, p, p0)) in passed.iter().enumerate().rev() {
            supply = add(apply(p, supply), *p0);
            found.supply[k] = air(supply);
            found.extract[k] = air(add(apply(r, supply), *r0));
        }
        found.extract[0] = self.extract[0];
        found
    }
}

impl Passed {
    /// A Newton step, halved while it does not come nearer; the last and smallest is taken all the same, since
    /// a cell that turns wet or dry may first widen the gap.
    fn step(&self, plate: &Plate, parts: &mut [Part]) -> Self {
        let target = self.between.solved(&self.through);
        let mut share = 1.0;
        loop {
            let between = self.between.moved(&target, share);
            let through = between.pass(plate, parts);
            let gap_k = between.gap_k(&through);
            if gap_k < self.gap_k || share < 0.1 {
                return Self { between, through, gap_k };
            }
            share *= 0.5;
        }
    }
}

const ZERO: Matrix = [[0.0; 2]; 2];
const IDENTITY: Matrix = [[1.0, 0.0], [0.0, 1.0]];

fn pair(air: Air) -> Vector {
    [air.c, air.w]
}

fn air([c, w]: Vector) -> Air {
    Air { c, w }
}

fn block(t: &Through, row: usize, column: usize) -> Matrix {
    let [first, second] = [t.slope[row], t.slope[row + 1]];
    [[first[column], first[column + 1]], [second[column], second[column + 1]]]
}

fn apply(m: &Matrix, v: Vector) -> Vector {
    m.map(|row| row[0] * v[0] + row[1] * v[1])
}

fn add(a: Vector, b: Vector) -> Vector {
    [a[0] + b[0], a[1] + b[1]]
}

fn sub(a: Vector, b: Vector) -> Vector {
    [a[0] - b[0], a[1] - b[1]]
}

fn plus(a: &Matrix, b: &Matrix) -> Matrix {
    [add(a[0], b[0]), add(a[1], b[1])]
}

fn less(a: &Matrix, b: &Matrix) -> Matrix {
    [sub(a[0], b[0]), sub(a[1], b[1])]
}

fn times(a: &Matrix, b: &Matrix) -> Matrix {
    a.map(|row| [row[0] * b[0][0] + row[1] * b[1][0], row[0] * b[0][1] + row[1] * b[1][1]])
}

fn inverse(m: &Matrix) -> Matrix {
    let by = 1.0 / (m[0][0] * m[1][1] - m[0][1] * m[1][0]);
    [[m[1][1] * by, -m[0][1] * by], [-m[1][0] * by, m[0][0] * by]]
}
