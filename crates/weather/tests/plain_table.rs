//! The plain table: what is written comes back to the bit.

mod common;

use common::{ALL, read_bytes, read_published};
use weather::{Format, HumidityOrigin, WeatherYear, write_plain_csv};

fn as_plain(year: WeatherYear) -> WeatherYear {
    WeatherYear { format: Format::PlainCsv, humidity_origin: HumidityOrigin::NotNeeded, ..year }
}

fn bits(column: &[f64]) -> Vec<u64> {
    column.iter().map(|x| x.to_bits()).collect()
}

#[test]
fn every_published_year_comes_back_to_the_bit() {
    for name in ALL {
        let year = read_published(name).0;
        let back = read_bytes(write_plain_csv(&year).as_bytes()).unwrap().0;
        assert_eq!(bits(&back.humidity_ratio), bits(&year.humidity_ratio), "{name}");
        assert_eq!(bits(&back.dry_bulb_c), bits(&year.dry_bulb_c), "{name}");
        assert_eq!(bits(&back.pressure_pa), bits(&year.pressure_pa), "{name}");
        assert_eq!(back, as_plain(year), "{name}");
    }
}

#[test]
fn columns_may_stand_in_any_order_and_capitals() {
    let year = read_published(common::GREENSBORO).0;
    let text = write_plain_csv(&year);
    let turned: String = text
        .lines()
        .map(|line| {
            if line.starts_with('#') {
                return format!("{line}\n");
            }
            let mut cells: Vec<&str> = line.split(',').collect();
            cells.reverse();
            let line = cells.join(",");
            if line.ends_with("month") { line.to_uppercase() + "\n" } else { line + "\n" }
        })
        .collect();
    assert_eq!(read_bytes(turned.as_bytes()).unwrap().0, as_plain(year));
}

#[test]
fn a_name_with_a_line_break_cannot_break_the_table() {
    let mut year = read_published(common::GREENSBORO).0;
    year.place.name = "Two\nLines".to_owned();
    let back = read_bytes(write_plain_csv(&year).as_bytes()).unwrap().0;
    assert_eq!(back.place.name, "Two Lines");
}
