//! Hours as Parquet are the hours as CSV, bit for bit; read by the Arrow project's own reader.

use std::collections::BTreeMap;

use arrow_array::cast::AsArray;
use arrow_array::types::{Float64Type, UInt8Type};
use parquet::arrow::arrow_reader::ParquetRecordBatchReaderBuilder;

use crate::room::Room;
use crate::tables::Table;

/// Every column of a Parquet file as numbers.
fn columns(room: &Room, name: &str) -> Vec<(String, Vec<f64>)> {
    let file = std::fs::File::open(room.path.join(name)).unwrap();
    let reader = ParquetRecordBatchReaderBuilder::try_new(file).unwrap().build().unwrap();
    let mut order = Vec::new();
    let mut found: BTreeMap<String, Vec<f64>> = BTreeMap::new();
    for batch in reader {
        let batch = batch.unwrap();
        order = batch.schema().fields().iter().map(|field| field.name().clone()).collect();
        for (name, array) in order.iter().zip(batch.columns()) {
            assert_eq!(array.null_count(), 0, "{name}");
            let values: Vec<f64> = match array.as_primitive_opt::<UInt8Type>() {
                Some(small) => small.values().iter().copied().map(f64::from).collect(),
                None => array.as_primitive::<Float64Type>().values().to_vec(),
            };
            found.entry(name.clone()).or_default().extend(values);
        }
    }
    order
        .into_iter()
        .map(|name| {
            let values = found.remove(&name).unwrap();
            (name, values)
        })
        .collect()
}

#[test]
fn parquet_holds_the_numbers_of_csv_to_the_last_bit() {
    let room = Room::new();
    room.done(&["run", "--out", "text"]);
    room.done(&["run", "--out", "columns", "--hourly", "parquet"]);
    let files = room.files("columns/hourly");
    assert_eq!(files.len(), room.files("text/hourly").len());
    for name in ["plate-a", "membrane-b.no-recovery", "no-ventilation"] {
        let text = room.read(&format!("text/hourly/{name}.csv"));
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let names: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
        let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        let read = columns(&room, &format!("columns/hourly/{name}.parquet"));
        assert_eq!(read.iter().map(|column| column.0.clone()).collect::<Vec<_>>(), names);
        for (at, (column, values)) in read.iter().enumerate() {
            assert_eq!(values.len(), 8760, "{column}");
            for (hour, (row, value)) in rows.iter().zip(values).enumerate() {
                let told: f64 = row[at].parse().unwrap();
                // A zero has two signs; text keeps one.
                assert_eq!(
                    (told + 0.0).to_bits(),
                    (value + 0.0).to_bits(),
                    "{name}, {column}, hour {hour}: {told} and {value}"
                );
            }
        }
    }
}

/// The bins that a run writes are those of the bin method asked for alone, and their hours are the year's.
#[test]
fn the_bins_of_a_run_are_those_of_its_hours() {
    let room = Room::new();
    room.done(&["new", "house"]);
    room.done(&["run", "house/bungalow.toml", "--hourly", "none", "--out", "ran"]);
    room.done(&["bins", "house/bungalow.toml", "--out", "binned"]);
    let bins = room.read("ran/bins.csv");
    assert_eq!(bins, room.read("binned/bins.csv"));
    let annual = Table::read(&room.read("ran/annual.csv"));
    let binned = Table::read(&bins);
    for unit in ["Plate A", "Membrane B"] {
        let rows: Vec<&Vec<String>> =
            binned.rows.iter().filter(|row| row[0] == unit && row[1].parse::<f64>().is_ok()).collect();
        let year = annual.rows.iter().find(|row| row[0] == unit && row[1] == "unit").unwrap();
        let pairs = [
            ("hourly_condensate_l", "condensate_l", 0.005),
            ("hourly_recovered_sensible_kwh", "recovered_sensible_kwh", 0.005),
        ];
        for (part, whole, half_a_digit) in pairs {
            let (part, whole) = (binned.place(part), annual.place(whole));
            let sum: f64 = rows.iter().map(|row| row[part].parse::<f64>().unwrap()).sum();
            let told: f64 = year[whole].parse().unwrap();
            // Each bin and each month is rounded by itself.
            let rounding = half_a_digit * (rows.len() as f64 + 12.0);
            assert!((sum - told).abs() <= rounding, "{unit}: bins {sum}, year {told}");
        }
    }
}
