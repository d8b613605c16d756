//! Result tables as text, and sums of their printed figures without floating point.

use std::collections::BTreeMap;

/// A CSV file: its header and its rows, every cell as it is printed.
pub struct Table {
    pub header: Vec<String>,
    pub rows: Vec<Vec<String>>,
}

impl Table {
    pub fn read(text: &str) -> Self {
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let owned = |record: &csv::StringRecord| record.iter().map(str::to_owned).collect::<Vec<_>>();
        let header = owned(reader.headers().unwrap());
        let rows = reader.records().map(|record| owned(&record.unwrap())).collect();
        Self { header, rows }
    }

    pub fn place(&self, column: &str) -> usize {
        self.header.iter().position(|name| name == column).unwrap_or_else(|| panic!("no column {column}"))
    }

    /// All cells of a column.
    pub fn column(&self, column: &str) -> Vec<&str> {
        let place = self.place(column);
        self.rows.iter().map(|row| row[place].as_str()).collect()
    }

    /// All cells of a column as numbers.
    pub fn numbers(&self, column: &str) -> Vec<f64> {
        self.column(column).iter().map(|cell| number(cell)).collect()
    }

    /// The rows by unit and case, in their order.
    pub fn by_house(&self) -> BTreeMap<(String, String), Vec<&Vec<String>>> {
        let (unit, case) = (self.place("unit"), self.place("case"));
        let mut houses: BTreeMap<_, Vec<_>> = BTreeMap::new();
        for row in &self.rows {
            houses.entry((row[unit].clone(), row[case].clone())).or_default().push(row);
        }
        houses
    }

    /// The only row of a unit and case.
    pub fn row(&self, unit: &str, case: &str) -> &[String] {
        let houses = self.by_house();
        match houses.get(&(unit.to_owned(), case.to_owned())).map(Vec::as_slice) {
            Some([row]) => row,
            other => panic!("{unit} {case}: {} rows", other.map_or(0, <[_]>::len)),
        }
    }
}

pub fn number(cell: &str) -> f64 {
    cell.parse().unwrap_or_else(|_| panic!("`{cell}` is not a number"))
}

/// A decimal as printed, in units of its last digit, with the number of digits after its point.
fn scaled(cell: &str) -> (i128, usize) {
    let digits = cell.split_once('.').map_or(0, |(_, fraction)| fraction.len());
    (cell.replace('.', "").parse().unwrap_or_else(|_| panic!("`{cell}` is not a decimal")), digits)
}

/// The sum of decimals as printed, with as many digits after the point as they have: `0.10` and `-0.05` give `0.05`.
pub fn sum(cells: &[&str]) -> String {
    let (numbers, digits): (Vec<i128>, Vec<usize>) = cells.iter().map(|cell| scaled(cell)).unzip();
    let after = digits[0];
    assert!(digits.iter().all(|digits| *digits == after), "digits differ: {cells:?}");
    let total: i128 = numbers.iter().sum();
    let sign = if total < 0 { "-" } else { "" };
    let text = format!("{:0>width$}", total.unsigned_abs(), width = after + 1);
    let (whole, fraction) = text.split_at(text.len() - after);
    if after == 0 { format!("{sign}{whole}") } else { format!("{sign}{whole}.{fraction}") }
}

/// The same decimal with the other sign.
pub fn negated(cell: &str) -> String {
    cell.strip_prefix('-').map_or_else(|| format!("-{cell}"), str::to_owned)
}

#[test]
fn decimals_are_added_as_they_are_printed() {
    assert_eq!(sum(&["0.10", "-0.05"]), "0.05");
    assert_eq!(sum(&["0.001", "-0.002"]), "-0.001");
    assert_eq!(sum(&["7", "5"]), "12");
    assert_eq!(sum(&["0.1"; 10]), "1.0");
    assert_eq!(negated("-2.50"), "2.50");
}
