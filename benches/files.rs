//! Reading and writing a weather year beside a plain loop over the `csv` crate, of the same file, in one run.
//!
//! `taskset -c 0 cargo bench -p benches --bench files`. The plain loop turns every field into a number and no more; ours also checks
//! ranges, order, humidity and sun, fills gaps and says what it found. Not here: hourly results (`demonstration.rs`).
//! No time is asserted.
#![allow(clippy::unwrap_used, missing_docs)]

use std::hint::black_box;

use benches::fastest_s;
use weather::{Overrides, WeatherYear, read, write_plain_csv};

const ROUNDS: usize = 20;

fn main() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../weather-samples/frosthollow.csv");
    let bytes = std::fs::read(path).unwrap();
    let (year, _) = read(&bytes, &Overrides::default()).unwrap();
    let rows = numbers_by_csv(&bytes);
    assert_eq!(rows.len(), year.hours());
    let [reads, plain_reads, writes, plain_writes] = fastest_s(
        ROUNDS,
        [
            &mut || drop(black_box(read(&bytes, &Overrides::default()).unwrap())),
            &mut || drop(black_box(numbers_by_csv(&bytes))),
            &mut || drop(black_box(write_plain_csv(&year))),
            &mut || drop(black_box(written_by_csv(&year))),
        ],
    );
    let rate = |seconds: f64| bytes.len() as f64 * 1e-6 / seconds;
    println!("{:<22} {:>9} {:>9} {:>20}", "a year of weather", "ms", "MB/s", "times the csv crate's");
    for (name, ours, plain) in [("read", reads, plain_reads), ("write", writes, plain_writes)] {
        println!("{name:<22} {:>9.1} {:>9.1} {:>20.2}", ours * 1e3, rate(ours), ours / plain);
        println!("{:<22} {:>9.1} {:>9.1}", format!("  {name}, csv alone"), plain * 1e3, rate(plain));
    }
}

/// Every row of the table as numbers; lines before its header are passed over, and fields that are no number are 0.
fn numbers_by_csv(bytes: &[u8]) -> Vec<Vec<f64>> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(bytes);
    let mut rows = Vec::new();
    let mut record = csv::StringRecord::new();
    while reader.read_record(&mut record).unwrap() {
        if record.get(0).is_some_and(|first| first.parse::<f64>().is_ok()) {
            rows.push(record.iter().map(|field| field.parse().unwrap_or(0.0)).collect());
        }
    }
    rows
}

fn written_by_csv(year: &WeatherYear) -> Vec<u8> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let columns = [
        &year.dry_bulb_c,
        &year.humidity_ratio,
        &year.pressure_pa,
        &year.wind_speed_m_per_s,
        &year.wind_direction_deg,
        &year.global_horizontal_w_per_m2,
        &year.direct_normal_w_per_m2,
        &year.diffuse_horizontal_w_per_m2,
    ];
    for hour in 0..year.hours() {
        writer.write_field((hour / 24 + 1).to_string()).unwrap();
        writer.write_field((hour % 24 + 1).to_string()).unwrap();
        for column in columns {
            writer.write_field(column[hour].to_string()).unwrap();
        }
        writer.write_record(None::<&[u8]>).unwrap();
    }
    writer.into_inner().unwrap()
}
