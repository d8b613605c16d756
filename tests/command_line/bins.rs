//! `dewledger bins`: hours add up to the year, and what is printed is what the file holds.

use super::room::{Room, sample};

#[test]
fn the_hours_of_the_table_add_up_to_the_year() {
    let room = Room::new();
    let out = room.done(&["bins", sample("millbrook.csv").to_str().unwrap()]).out;
    let rows: Vec<Vec<&str>> = out
        .lines()
        .filter(|line| line.contains('…') && !line.contains("below"))
        .map(|l| l.split_whitespace().collect())
        .collect();
    let sum = |cell: usize| rows.iter().map(|row| row[cell].parse::<u32>().unwrap()).sum::<u32>();
    assert_eq!([sum(3), sum(4), sum(5), sum(6)], [8760, 2920, 2920, 2920]);
    assert!(
        out.lines().any(|line| line.split_whitespace().eq(["all", "hours", "8760", "2920", "2920", "2920"]))
    );
    assert!(out.lines().all(|line| line.chars().count() <= 120));
    // The bins are 2 °C wide, with an edge at 0 °C.
    assert!(rows.iter().any(|row| row[0] == "0.0" && row[2] == "2.0"));
}

/// Counted again from the file's own lines.
#[test]
fn a_bin_holds_the_hours_that_the_file_has_in_it() {
    let path = sample("palmreach.csv");
    let text = std::fs::read_to_string(&path).unwrap();
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let header: Vec<&str> = lines.next().unwrap().split(',').collect();
    let column = header.iter().position(|name| *name == "dry_bulb_c").unwrap();
    let values: Vec<f64> = lines.map(|line| line.split(',').nth(column).unwrap().parse().unwrap()).collect();
    let room = Room::new();
    let json = room.done(&["bins", path.to_str().unwrap(), "--width", "5 K", "--edge", "1 °C", "--json"]).out;
    let rows: serde_json::Value = serde_json::from_str(&json).unwrap();
    let mut all = 0;
    for row in rows.as_array().unwrap() {
        let (low, high) = (row["low_c"].as_f64().unwrap(), row["high_c"].as_f64().unwrap());
        let by_hand: Vec<f64> = values.iter().copied().filter(|t| (low..high).contains(t)).collect();
        assert_eq!(row["hours"], by_hand.len());
        let mean = by_hand.iter().sum::<f64>() / by_hand.len() as f64;
        assert!((row["mean_dry_bulb_c"].as_f64().unwrap() - mean).abs() < 1e-9);
        all += by_hand.len();
    }
    assert_eq!(all, 8760);
}

#[test]
fn in_inch_pound_units_bins_are_five_fahrenheit() {
    let room = Room::new();
    let out = room.done(&["bins", sample("millbrook.csv").to_str().unwrap(), "--show-in", "ip"]).out;
    assert!(out.contains("50.0 … 55.0") && out.contains("gr/lb"), "{out}");
}

#[test]
fn a_width_that_cannot_be_is_told() {
    let room = Room::new();
    let file = sample("millbrook.csv");
    let file = file.to_str().unwrap();
    room.refuses(&["bins", file, "--width", "0 K"], "error: --width: a bin of 0 K is outside 0.1 to 50 K\n");
    room.refuses(
        &["bins", file, "--width", "2"],
        "error: --width \"2\": a temperature difference needs a unit\n\nhint: units that fit: K, °F\n",
    );
}
