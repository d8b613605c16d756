//! Files that could be read and would mislead: rows out of order, much filled in, sun filled into the night, single wild
//! hours, whole columns in another unit, an invented year without its mark, a clock of another continent.
//!
//! Expected values: the clear-sky climate of `common/formats.rs` (Spencer's sun), unit factors by definition.
#![allow(clippy::unwrap_used, reason = "a helper that fails is a test that fails")]

mod common;
#[path = "common/formats.rs"]
mod formats;

use common::{joined, line_of_hour, mild_row, plain_table, read_bytes, set_cell};
use formats::{Kind, Site};
use weather::make::make;
use weather::{
    Calendar, FindingKind, Findings, Overrides, Severity, WeatherError, invented, read, write_plain_csv,
};

fn hourly(h: usize) -> f64 {
    f64::from(u32::try_from(h).unwrap())
}

fn lines_of(text: &str) -> Vec<String> {
    text.lines().map(str::to_owned).collect()
}

#[test]
fn rows_out_of_order_are_put_in_order_and_said() {
    let mut lines = plain_table(Calendar::Common, mild_row);
    let (sorted, findings) = read_bytes(&joined(&lines)).unwrap();
    assert_eq!(findings.count_of(FindingKind::RowsOutOfOrder), 0);
    lines.swap(line_of_hour(500) - 1, line_of_hour(900) - 1);
    let (year, findings) = read_bytes(&joined(&lines)).unwrap();
    assert_eq!(year, sorted);
    let finding = findings.of_kind(FindingKind::RowsOutOfOrder).next().unwrap();
    // After the late row the next one stands earlier; so does the early row that was put among late ones.
    assert_eq!((finding.severity, finding.count), (Severity::Warning, 2));
    assert_eq!(finding.places[0].line, Some(line_of_hour(501)));
    assert_eq!(finding.places[1].line, Some(line_of_hour(900)));
}

/// Every third hour missing is no gap of more than six hours, yet no year.
#[test]
fn a_year_of_which_much_is_missing_is_refused() {
    let with_gaps = |every: usize| {
        let mut lines = plain_table(Calendar::Common, mild_row);
        (0..8760).step_by(every).for_each(|h| set_cell(&mut lines, line_of_hour(h), 3, "-9900"));
        read_bytes(&joined(&lines))
    };
    let error = with_gaps(3).unwrap_err();
    assert_eq!(
        error.to_string(),
        "dry bulb is missing in 2920 of 8760 hours (33.3 %); up to 10 % of a year is filled"
    );
    assert!(error.hint().contains("fetch the file again"));
    let (_, findings) = with_gaps(12).unwrap();
    let share = findings.of_kind(FindingKind::FilledShare).next().unwrap();
    assert!(
        share
            .sentence
            .starts_with("At most 8.33 % of the year was filled in: dry bulb, in 730 of 8760 hours.")
    );
}

#[test]
fn missing_rows_count_as_filled_hours_too() {
    let lines = plain_table(Calendar::Common, mild_row);
    let kept: Vec<String> = lines
        .iter()
        .enumerate()
        .filter(|(i, _)| *i < 6 || i % 4 != 0)
        .map(|(_, line)| line.clone())
        .collect();
    assert!(matches!(read_bytes(&joined(&kept)), Err(WeatherError::MuchMissing { hours: 2190, .. })));
}

/// Irradiance of a clear-sky year with three hours taken out about sunset: none of it after sunset, and before it nearer
/// to what was there than a straight line.
#[test]
fn sun_is_filled_by_what_arrives_from_space() {
    let site = Site::temperate();
    let whole = read(site.file(Kind::Plain).as_bytes(), &Overrides::default()).unwrap().0;
    let mut lines = lines_of(&site.file(Kind::Plain));
    let heading = lines.iter().position(|line| line.starts_with("month")).unwrap();
    let mut taken = Vec::new();
    for day in (10..360).step_by(7) {
        for h in (day * 24 + 14)..(day * 24 + 19) {
            for cell in 8..11 {
                set_cell(&mut lines, heading + 2 + h, cell, "-9900");
            }
            taken.push(h);
        }
    }
    let (year, _) = read(&joined(&lines), &Overrides::default()).unwrap();
    let (mut new, mut straight) = (0.0, 0.0);
    for &h in &taken {
        let moment = hourly(h) + 0.5;
        let filled = year.global_horizontal_w_per_m2[h];
        if site.height(moment) < -0.01 {
            assert!(filled.abs() < 1e-9, "{filled} W/m² at night in hour {h}");
            assert!(year.direct_normal_w_per_m2[h].abs() < 1e-9);
        }
        let start = h - (h % 24 - 14);
        let (before, after) =
            (whole.global_horizontal_w_per_m2[start - 1], whole.global_horizontal_w_per_m2[start + 5]);
        let line = before + (after - before) * hourly(h - start + 1) / 6.0;
        new += (filled - whole.global_horizontal_w_per_m2[h]).powi(2);
        straight += (line - whole.global_horizontal_w_per_m2[h]).powi(2);
    }
    println!("squares: {new} filled, {straight} by a straight line");
    assert!(new < 0.5 * straight);
}

#[test]
fn one_wild_hour_is_named_and_kept() {
    let site = Site::temperate();
    let clean = site.file(Kind::Plain);
    let findings = read(clean.as_bytes(), &Overrides::default()).unwrap().1;
    assert_eq!(findings.count_of(FindingKind::Outlier), 0);
    for wild in ["55", "20", "-40"] {
        let mut lines = lines_of(&clean);
        let heading = lines.iter().position(|line| line.starts_with("month")).unwrap();
        set_cell(&mut lines, heading + 2 + 400, 3, wild);
        set_cell(&mut lines, heading + 2 + 400, 4, "-41");
        let (year, findings) = read(&joined(&lines), &Overrides::default()).unwrap();
        assert!((year.dry_bulb_c[400] - wild.parse::<f64>().unwrap()).abs() < 1e-12);
        let finding = findings.of_kind(FindingKind::Outlier).next().unwrap();
        assert_eq!((finding.severity, finding.count), (Severity::Warning, 1));
        assert_eq!(finding.places[0].hour, Some(year.calendar().stamp(400)), "17 January, hour 17");
    }
}

/// A winter that comes within four days at a month's end, and goes so: no hour of it is an error, though the last days lie 20 K
/// below what their calendar month had so far.
#[test]
fn a_season_that_turns_at_the_end_of_a_month_is_not_wild() {
    let calendar = Calendar::Common;
    let ramp = |h: f64, start_h: f64| ((h - start_h) / 96.0).clamp(0.0, 1.0);
    let first_h = |month| hourly(calendar.first_hour_of_month(month));
    let (april_h, october_h) = (first_h(4), first_h(10));
    let mut lines = lines_of(&Site::temperate().file(Kind::Plain));
    let heading = lines.iter().position(|line| line.starts_with("month")).unwrap();
    for h in 0..calendar.hours() {
        let at_h = hourly(h);
        let cold = ramp(at_h, april_h - 96.0) - ramp(at_h, october_h - 96.0);
        let dry_bulb_c = -10.0 - 20.0 * cold + 2.0 * (at_h * std::f64::consts::TAU / 24.0).sin();
        set_cell(&mut lines, heading + 2 + h, 3, &format!("{dry_bulb_c:.2}"));
        set_cell(&mut lines, heading + 2 + h, 4, "-41");
    }
    let (year, findings) = read(&joined(&lines), &Overrides::default()).unwrap();
    let march_ends = calendar.first_hour_of_month(4) - 1;
    assert!(year.dry_bulb_c[march_ends] < -29.0 && year.dry_bulb_c[march_ends - 96] > -12.0);
    assert_eq!(findings.count_of(FindingKind::Outlier), 0, "{findings:?}");
}

/// No published year at hand has such an hour.
#[test]
fn published_years_have_no_wild_hours_and_are_in_order() {
    for name in common::ALL {
        let (_, findings) = common::read_published(name);
        for kind in [FindingKind::Outlier, FindingKind::RowsOutOfOrder, FindingKind::UnitDoubted] {
            let sentence = findings.of_kind(kind).next().map(|finding| finding.sentence.clone());
            assert_eq!(sentence, None, "{name}");
        }
    }
}

fn in_unit(cell: usize, change: impl Fn(f64) -> f64) -> String {
    let mut lines = lines_of(&Site::temperate().file(Kind::Plain));
    let heading = lines.iter().position(|line| line.starts_with("month")).unwrap();
    for line in lines.iter_mut().skip(heading + 1) {
        let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
        cells[cell] = change(cells[cell].parse().unwrap()).to_string();
        *line = cells.join(",");
    }
    let error = read(&joined(&lines), &Overrides::default()).unwrap_err();
    assert!(error.hint().contains("convert the column"), "{error}");
    error.to_string()
}

/// The hottest hours of the climate are 24 °C: 75 °F, past the range of °C; its pressure 100 kPa, its sun 960 W/m².
#[test]
fn a_column_in_another_unit_is_named_as_that() {
    let fahrenheit = in_unit(3, |c| c * 1.8 + 32.0);
    assert!(fahrenheit.starts_with("the dry bulb column looks like °F: "), "{fahrenheit}");
    assert!(fahrenheit.contains(" of 8760 values are outside -75…62 °C, first on line "), "{fahrenheit}");
    let kelvin = in_unit(3, |c| c + 273.15);
    assert!(kelvin.starts_with("the dry bulb column looks like K: 8760 of 8760 values"), "{kelvin}");
    let kilopascal = in_unit(5, |pa| pa / 1000.0);
    assert!(kilopascal.starts_with("the pressure column looks like kPa: 8760 of"), "{kilopascal}");
    let hectopascal = in_unit(5, |pa| pa / 100.0);
    assert!(hectopascal.starts_with("the pressure column looks like hPa (mbar): "), "{hectopascal}");
    let kilojoule = in_unit(8, |w| w * 3.6);
    assert!(kilojoule.starts_with("the global irradiance column looks like kJ/m²"), "{kilojoule}");
}

#[test]
fn one_bad_cell_is_still_one_bad_cell() {
    let mut lines = plain_table(Calendar::Common, mild_row);
    set_cell(&mut lines, line_of_hour(77), 3, "75.2");
    let message = read_bytes(&joined(&lines)).unwrap_err().to_string();
    assert_eq!(message, format!("line {}, dry bulb: 75.2 °C is outside -75…62 °C", line_of_hour(77)));
}

#[test]
fn relative_humidity_as_a_fraction_is_refused() {
    let lines =
        plain_table(Calendar::Common, |h| format!("{},,0.{},98000,3,200,0,0,0", 10 + h % 7, 40 + h % 30));
    let error = read_bytes(&joined(&lines)).unwrap_err();
    assert!(
        error.to_string().contains("looks like a fraction: none of 8760 values is above 0.69 %"),
        "{error}"
    );
}

/// 4 to 8 m/s are 9 to 18 mph.
#[test]
fn wind_in_miles_an_hour_is_doubted() {
    let at = |factor: f64| {
        let lines = plain_table(Calendar::Common, |h| {
            format!("{},5,,98000,{},200,0,0,0", 10 + h % 7, factor * hourly(4 + h % 5))
        });
        read_bytes(&joined(&lines)).unwrap().1
    };
    assert_eq!(at(1.0).count_of(FindingKind::UnitDoubted), 0);
    let findings = at(2.236_94);
    let finding = findings.of_kind(FindingKind::UnitDoubted).next().unwrap();
    assert!(finding.sentence.contains("looks like mph (6.0 m/s)"), "{}", finding.sentence);
}

#[test]
fn an_invented_year_stays_invented_without_its_marks_line() {
    let text = write_plain_csv(&make(&invented::millbrook().climate).unwrap());
    for gone in [&["# synthetic"][..], &["# synthetic", "# source"], &["# synthetic", "# name"]] {
        let kept: Vec<String> = lines_of(&text)
            .into_iter()
            .filter(|line| !gone.iter().any(|start| line.starts_with(start)))
            .collect();
        let (year, findings): (_, Findings) = read(&joined(&kept), &Overrides::default()).unwrap();
        assert!(year.is_synthetic, "without {gone:?}");
        assert_eq!(findings.count_of(FindingKind::Synthetic), 1);
    }
}

/// Longitude −77.1° is the sun's time −5.1 h.
#[test]
fn a_made_year_wants_a_clock_that_belongs_to_its_longitude() {
    let mut climate = invented::millbrook().climate;
    climate.place.time_zone_h = 7.0;
    let error = make(&climate).unwrap_err();
    assert_eq!(
        error.to_string(),
        "time zone 7 h does not belong to longitude -77.1°, where the sun's own time is -5.1 h; no country's clock is \
         more than 4 h from it"
    );
    // Kiribati's Line Islands: −157.4°, 14 h ahead, half an hour from the sun across the date line.
    (climate.place.longitude_deg, climate.place.time_zone_h) = (-157.4, 14.0);
    assert!(make(&climate).is_ok());
}

#[test]
fn a_bad_latitude_is_blamed_on_who_gave_it() {
    let mut lines = plain_table(Calendar::Common, mild_row);
    lines[1] = "# latitude_deg: 145".to_owned();
    let error = read_bytes(&joined(&lines)).unwrap_err();
    assert_eq!(error.to_string(), "the weather file says latitude [°] 145, which is outside -90…90");
    assert!(error.hint().starts_with("mend the heading of the weather file"));
    let mut overrides = Overrides::default();
    overrides.place.latitude_deg = Some(145.0);
    let error = read(&joined(&plain_table(Calendar::Common, mild_row)), &overrides).unwrap_err();
    assert!(error.hint().contains("under [site] of the study"), "{}", error.hint());
}
