//! What leaks and imbalance do to a unit at one steady point, as a table for the terminal.
//!
//! Not here: how the rows are calculated.

use crate::ShowIn;
use crate::text_table::{Aligned, change, lines, number, wrapped};

/// Room for a change behind a figure.
const CHANGE: usize = 6;

/// The unit at one point, with or without one of its faults.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeakRow {
    /// Which fault is taken away.
    pub case: LeakCase,
    /// Outdoor air that reaches the rooms [L/s].
    pub fresh_air_l_per_s: f64,
    /// Supply temperature \[°C\].
    pub supply_c: f64,
    /// Supply humidity ratio [kg/kg].
    pub supply_humidity_ratio: f64,
    /// Heat recovered \[W\].
    pub heat_recovered_w: f64,
}

/// Which fault is taken away.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LeakCase {
    /// None.
    AsItIs,
    /// No extract air in the supply air.
    WithoutCrossLeakage,
    /// No exhaust air drawn in again at the outdoor hood.
    WithoutHoodRecirculation,
    /// As much supply as extract air.
    Balanced,
    /// All three.
    Ideal,
}

impl LeakCase {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::AsItIs => "as it is",
            Self::WithoutCrossLeakage => "without cross-leakage",
            Self::WithoutHoodRecirculation => "without hood recirculation",
            Self::Balanced => "balanced",
            Self::Ideal => "ideal",
        }
    }
}

/// A row for each case; behind each figure, how much it is above the same figure of the unit as it is. At most 80
/// columns.
pub fn leak_table(rows: &[LeakRow], show_in: ShowIn) -> String {
    let (t, w) = (show_in.temperature_unit(), show_in.humidity_ratio_unit());
    let (flow, heat) = (show_in.airflow_unit(), show_in.heat_flow_unit());
    let heads = [["", "fresh air", "supply", "supply", "recovered"], ["", flow, t, w, heat]]
        .map(|row| row.map(str::to_owned));
    let reference = rows.iter().find(|row| row.case == LeakCase::AsItIs);
    let base = reference.map(|base| shown(base, show_in));
    let mut table: Vec<Vec<String>> = heads.iter().map(|row| row.to_vec()).collect();
    table.extend(rows.iter().map(|row| {
        let base = base.filter(|_| row.case != LeakCase::AsItIs);
        let cells = shown(row, show_in).into_iter().enumerate().map(|(place, (value, decimals))| {
            let effect = base.map_or(String::new(), |base| change(value, base[place].0, decimals));
            format!("{} {effect:>CHANGE$}", number(value, decimals))
        });
        [row.case.words().to_owned()].into_iter().chain(cells).collect()
    }));
    let mut text = lines(&table, &[Aligned::Left], heads.len());
    if reference.is_some() {
        text.push_str(&wrapped("Behind each figure: how much more it is than in the unit as it is."));
    }
    text
}

/// Values in units of the table, with their decimals.
fn shown(row: &LeakRow, show_in: ShowIn) -> [(f64, usize); 4] {
    [
        (show_in.airflow(row.fresh_air_l_per_s), 1),
        (show_in.temperature(row.supply_c), 1),
        (show_in.humidity_ratio(row.supply_humidity_ratio), 2),
        (show_in.heat_flow(row.heat_recovered_w), 0),
    ]
}
