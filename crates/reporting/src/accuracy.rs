//! How far the fast solution of a core is from the reference: the figures, and their table for the terminal.
//!
//! Not here: the measuring, the picture (`charts`).

use crate::ReportError;
use crate::core_point::Bounds;
use crate::text_table::{Aligned, lines, number, wrapped};

/// Distances within which the fast solution is promised to stay inside the plausible states: 0.3 K of supply
/// temperature, 0.15 g/kg of supply humidity ratio, 5 % of the largest rate of water.
pub const BOUNDS: Distances<f64> = Distances { supply_k: 0.3, humidity_ratio: 0.000_15, water_share: 0.05 };

/// One kind of core in one arrangement, measured over a named set of states.
#[derive(Debug, Clone, PartialEq)]
pub struct AccuracySet {
    /// Kind and arrangement of the core, such as `plate, counterflow`.
    pub core: String,
    /// Inside the plausible states.
    pub inside: Accuracy,
    /// Outside them, where that was measured.
    pub outside: Option<Accuracy>,
}

/// Distances over a number of states.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Accuracy {
    /// States that were compared.
    pub states: usize,
    /// Largest and rms distance of each quantity.
    pub of: Distances<Spread>,
}

/// The three quantities that are compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Distances<T> {
    /// Supply temperature \[K\].
    pub supply_k: T,
    /// Supply humidity ratio [kg/kg].
    pub humidity_ratio: T,
    /// Water from the core, as a share of the largest rate of the set.
    pub water_share: T,
}

/// Largest and rms size of a distance, both 0 or more.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Spread {
    /// The largest.
    pub largest: f64,
    /// Root of the mean square.
    pub rms: f64,
}

/// Name, unit, factor from the inner unit to the shown one, and decimals of its figures and its bound, of a quantity.
pub(crate) struct Shown {
    pub name: &'static str,
    pub unit: &'static str,
    pub factor: f64,
    pub decimals: usize,
    pub bound_decimals: usize,
}

/// How the three quantities are shown, in their order.
pub(crate) const SHOWN: [Shown; 3] = [
    Shown { name: "supply temperature", unit: "K", factor: 1.0, decimals: 3, bound_decimals: 1 },
    Shown { name: "supply humidity ratio", unit: "g/kg", factor: 1000.0, decimals: 3, bound_decimals: 2 },
    Shown { name: "water", unit: "% of the largest rate", factor: 100.0, decimals: 2, bound_decimals: 0 },
];

impl<T: Copy> Distances<T> {
    /// The three in order.
    pub(crate) fn each(&self) -> [T; 3] {
        [self.supply_k, self.humidity_ratio, self.water_share]
    }
}

impl AccuracySet {
    /// The parts that were measured, with their names.
    pub(crate) fn parts(&self) -> impl Iterator<Item = (&'static str, Accuracy)> {
        [Some(("inside", self.inside)), self.outside.map(|outside| ("outside", outside))]
            .into_iter()
            .flatten()
    }

    /// That every distance is finite and not negative.
    pub(crate) fn check(&self) -> Result<(), ReportError> {
        for (part, accuracy) in self.parts() {
            let place = format!("{}, {part} the plausible states", self.core);
            for (shown, spread) in SHOWN.iter().zip(accuracy.of.each()) {
                let bounds = Bounds { quantity: shown.name, unit: shown.unit, low: 0.0, high: 1e6 };
                bounds.check(spread.largest * shown.factor, &place)?;
                bounds.check(spread.rms * shown.factor, &place)?;
            }
        }
        Ok(())
    }
}

/// Largest and rms distance of each quantity for each core, inside and outside the plausible states; at most 80
/// columns. A distance beyond its bound inside the plausible states is marked with `!`.
pub fn accuracy_table(sets: &[AccuracySet]) -> String {
    let heads = [
        ["", "", "supply", "K", "supply", "g/kg", "water", "%"],
        ["core; plausible", "states", "largest", "rms", "largest", "rms", "largest", "rms"],
    ];
    let mut rows: Vec<Vec<String>> = heads.iter().map(|row| row.map(str::to_owned).to_vec()).collect();
    for set in sets {
        rows.push(vec![set.core.clone()]);
        rows.extend(set.parts().map(|(part, accuracy)| {
            let names = vec![format!("  {part}"), accuracy.states.to_string()];
            [names, figures(part, &accuracy)].concat()
        }));
    }
    let mut text = lines(&rows, &[Aligned::Left], heads.len());
    let bounds = bounds_words();
    text.push_str(&wrapped(&format!("Bound inside the plausible states: {bounds}; ! is beyond it.")));
    text
}

/// The bounds with their units.
pub(crate) fn bounds_words() -> String {
    let each = SHOWN.iter().zip(BOUNDS.each()).map(|(shown, bound)| {
        format!("{} {}", number(bound * shown.factor, shown.bound_decimals), shown.unit)
    });
    each.collect::<Vec<_>>().join(", ")
}

fn figures(part: &str, accuracy: &Accuracy) -> Vec<String> {
    let each = SHOWN.iter().zip(accuracy.of.each()).zip(BOUNDS.each());
    each.flat_map(|((shown, spread), bound)| {
        let mark = if part == "inside" && spread.largest > bound { "!" } else { "" };
        let number = |value: f64| number(value * shown.factor, shown.decimals);
        [format!("{mark}{}", number(spread.largest)), number(spread.rms)]
    })
    .collect()
}
