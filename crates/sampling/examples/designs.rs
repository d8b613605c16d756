//! Writes designs and what this crate finds in known functions on them, as lines of text: `tests/python/sampling.py` reads
//! them and sets a reference library beside them.
//!
//! `sobol,NAME,inputs,base_rows` then a line `run,x…,y` for each run and `found,first,total` for each input; Morris likewise
//! with `morris,NAME,inputs,levels` and `found,mean_size,mean,deviation`.

use std::error::Error;
use std::f64::consts::PI;
use std::io::{self, Write};

use sampling::morris::Morris;
use sampling::plan::NoSuchPoint;
use sampling::sobol_indices::Saltelli;

type Function = fn(&[f64]) -> f64;

fn ishigami(x: &[f64]) -> f64 {
    let [a, b, c] = [0, 1, 2].map(|input| PI * (2.0 * x[input] - 1.0));
    a.sin() + 7.0 * b.sin().powi(2) + 0.1 * c.powi(4) * a.sin()
}

fn g_function(x: &[f64]) -> f64 {
    let a = [0.0, 1.0, 4.5, 9.0, 99.0, 99.0, 99.0, 99.0];
    x.iter().zip(a).map(|(x, a): (&f64, f64)| ((4.0 * x - 2.0).abs() + a) / (1.0 + a)).product()
}

/// The function of twenty inputs that Morris tried his method on: seven act together, three alone, ten hardly. Its small random
/// coefficients are −1 and 1 in turn, as later papers have it (recalled).
fn morris_function(x: &[f64]) -> f64 {
    let w: Vec<f64> = (0..20)
        .map(|i| {
            let x = if [2, 4, 6].contains(&i) { 1.1 * x[i] / (x[i] + 0.1) } else { x[i] };
            2.0 * (x - 0.5)
        })
        .collect();
    let turn = |place: usize| if place.is_multiple_of(2) { 1.0 } else { -1.0 };
    let mut sum = 0.0;
    for i in 0..20 {
        sum += if i < 10 { 20.0 } else { turn(i + 1) } * w[i];
        for j in i + 1..20 {
            let pair = w[i] * w[j];
            sum += if j < 6 { -15.0 } else { turn(i + j + 2) } * pair;
            for l in j + 1..5 {
                sum -= 10.0 * pair * w[l];
                for s in l + 1..4 {
                    sum += 5.0 * pair * w[l] * w[s];
                }
            }
        }
    }
    sum
}

const FUNCTIONS: [(&str, usize, Function); 3] =
    [("ishigami", 3, ishigami), ("g", 8, g_function), ("morris", 20, morris_function)];

fn line(out: &mut impl Write, word: &str, numbers: &[f64]) -> io::Result<()> {
    write!(out, "{word}")?;
    for number in numbers {
        write!(out, ",{number}")?;
    }
    writeln!(out)
}

/// Writes every run of a design and answers the function's results.
fn run_all(
    out: &mut impl Write,
    rows: u64,
    point: impl Fn(u64) -> Result<Vec<f64>, NoSuchPoint>,
    of: Function,
) -> Result<Vec<f64>, Box<dyn Error>> {
    let mut results = Vec::new();
    for index in 0..rows {
        let mut point = point(index)?;
        results.push(of(&point));
        point.extend(results.last());
        line(out, "run", &point)?;
    }
    Ok(results)
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut out = io::BufWriter::new(io::stdout().lock());
    for (name, inputs, of) in FUNCTIONS {
        let design = Saltelli::new(inputs, 1024, 1)?;
        writeln!(out, "sobol,{name},{inputs},1024")?;
        let results = run_all(&mut out, design.rows(), |index| design.row(index), of)?;
        for input in design.indices(&results, 100)?.inputs {
            line(&mut out, "found", &[input.first.value, input.total.value])?;
        }
        let design = Morris::new(inputs, 40, 4, 1)?;
        writeln!(out, "morris,{name},{inputs},4")?;
        let results = run_all(&mut out, design.rows(), |index| design.row(index), of)?;
        for effect in design.effects(&results)? {
            line(&mut out, "found", &[effect.mean_size, effect.mean, effect.deviation])?;
        }
    }
    Ok(())
}
