//! The bins of a published year counted a second way: grouped by a data-frame library, polars.
//!
//! A file of its own, since the library takes long to compile. Only its group-by is used, not its lazy engine, which would
//! take as long again.
#![allow(clippy::unwrap_used, clippy::panic)]

use approx::assert_relative_eq;
use polars::prelude::{Column, DataFrame, NamedFrom, PolarsResult, Series};
use psychrometrics::{Given, MoistAir};
use weather::bins::{Bin, Edges, Shift, bins};
use weather::{Overrides, WeatherYear};

/// Humid, mixed: from −12 to 36 °C.
const FILE: &str = "tmy3_greensboro_nc_723170TYA.csv";

fn published() -> WeatherYear {
    let path = format!("{}/../../tests/data/weather/{FILE}", env!("CARGO_MANIFEST_DIR"));
    weather::read(&std::fs::read(path).unwrap(), &Overrides::default()).unwrap().0
}

/// The hours with their bin, counted from 0 °C in steps of the width, month, and eight hours of the day.
fn hours(year: &WeatherYear, width_k: f64) -> DataFrame {
    #[allow(clippy::cast_possible_truncation, reason = "a few dozen bins")]
    let place = |t: &f64| (t / width_k).floor() as i32;
    let count = year.hours();
    let wet_bulb: Vec<f64> = (0..count)
        .map(|h| {
            let given = (Given::DryBulbC(year.dry_bulb_c[h]), Given::HumidityRatio(year.humidity_ratio[h]));
            MoistAir::from_pair(given.0, given.1, year.pressure_pa[h]).unwrap().wet_bulb_c()
        })
        .collect();
    let each = |of: &dyn Fn(usize) -> u8| (0..count).map(|h| i32::from(of(h))).collect::<Vec<i32>>();
    let columns = vec![
        column("bin", &year.dry_bulb_c.iter().map(place).collect::<Vec<i32>>()),
        column("month", &each(&|h| year.month_of_hour(h))),
        column("eight_hours", &each(&|h| year.hour_of_day(h) / 8)),
        Column::from(Series::new("dry_bulb".into(), &year.dry_bulb_c)),
        Column::from(Series::new("wet_bulb".into(), &wet_bulb)),
        Column::from(Series::new("humidity_ratio".into(), &year.humidity_ratio)),
    ];
    DataFrame::new(count, columns).unwrap()
}

fn column(name: &str, values: &[i32]) -> Column {
    Column::from(Series::new(name.into(), values))
}

#[allow(deprecated, reason = "the library would rather have its lazy engine compiled as well")]
fn means(frame: &DataFrame) -> PolarsResult<DataFrame> {
    frame.group_by_stable(["bin"])?.select(["dry_bulb", "wet_bulb", "humidity_ratio"]).mean()
}

fn found(year: &WeatherYear, width_k: f64) -> Vec<Bin> {
    bins(year, &Edges::new(width_k, 0.0).unwrap()).unwrap()
}

#[allow(clippy::cast_possible_truncation, reason = "a few dozen bins")]
fn in_place(all: &[Bin], place: i32, width_k: f64) -> &Bin {
    all.iter().find(|bin| (bin.low_c / width_k).round() as i32 == place).unwrap()
}

const WIDTHS_K: [f64; 3] = [1.0, 2.0, 5.0];

#[test]
fn a_group_by_counts_the_same_hours() {
    let year = published();
    for width_k in WIDTHS_K {
        let all = found(&year, width_k);
        let frame = hours(&year, width_k);
        let grouped = frame.group_by(["bin", "month", "eight_hours"]).unwrap();
        let counted = grouped.select(["dry_bulb"]).count().unwrap();
        let numbers = |name: &str| counted.column(name).unwrap().i32().unwrap().clone();
        let (places, months, eights) = (numbers("bin"), numbers("month"), numbers("eight_hours"));
        let count = counted.column("dry_bulb_count").unwrap().u32().unwrap().clone();
        let mut sum = 0;
        for row in 0..counted.height() {
            let (place, month, eight) =
                (places.get(row).unwrap(), months.get(row).unwrap(), eights.get(row).unwrap());
            let [month, eight] = [month - 1, eight].map(|value| usize::try_from(value).unwrap());
            let bin = in_place(&all, place, width_k);
            assert_eq!(bin.hours[month][eight], count.get(row).unwrap(), "bin {place}, month {month}");
            sum += count.get(row).unwrap();
        }
        assert_eq!(sum, 8760);
        // Nothing is in our bins that is not in those.
        let ours = all.iter().flat_map(|bin| bin.hours.iter().flatten()).filter(|hours| **hours > 0).count();
        assert_eq!(ours, counted.height());
        assert_eq!(Shift::ALL.map(|shift| all.iter().map(|bin| bin.of_shift(shift)).sum::<u32>()), [2920; 3]);
    }
}

#[test]
fn a_group_by_has_the_same_means() {
    let year = published();
    for width_k in WIDTHS_K {
        let all = found(&year, width_k);
        let means = means(&hours(&year, width_k)).unwrap();
        assert_eq!(means.height(), all.len());
        let places = means.column("bin").unwrap().i32().unwrap().clone();
        let numbers = |name: &str| means.column(name).unwrap().f64().unwrap().clone();
        let [dry, wet, w] = ["dry_bulb_mean", "wet_bulb_mean", "humidity_ratio_mean"].map(numbers);
        for row in 0..means.height() {
            let bin = in_place(&all, places.get(row).unwrap(), width_k);
            let same = |ours: f64, theirs: f64| {
                assert_relative_eq!(ours, theirs, max_relative = 1e-12, epsilon = 1e-12);
            };
            same(bin.dry_bulb_c, dry.get(row).unwrap());
            same(bin.wet_bulb_c, wet.get(row).unwrap());
            // Of some thousandths: told in parts of itself.
            assert_relative_eq!(bin.humidity_ratio, w.get(row).unwrap(), max_relative = 1e-12);
        }
    }
}
