//! Whatever the bytes: an answer, never a panic, and no year that breaks its promises.

mod common;

use common::{ALL, colorado_place, published};
use proptest::prelude::*;
use psychrometrics::formulas::{humidity_ratio, saturation_pa};
use weather::{WeatherYear, read, summary};

/// Heading lines of each file.
const HEADING_LINES: [usize; 7] = [2, 2, 8, 17, 1, 1, 3];

/// What every year promises.
fn keeps_its_promises(year: &WeatherYear) -> bool {
    let hours = year.hours();
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
    let saturated = |h: usize| humidity_ratio(saturation_pa(year.dry_bulb_c[h]), year.pressure_pa[h]);
    (hours == 8760 || hours == 8784)
        && columns.iter().all(|column| column.len() == hours && column.iter().all(|x| x.is_finite()))
        && (0..hours).all(|h| (0.0..=saturated(h)).contains(&year.humidity_ratio[h]))
        && year.global_horizontal_w_per_m2.iter().all(|x| *x >= 0.0)
        && year.sun_offset_h.is_finite()
}

fn answer_is_sound(bytes: &[u8]) -> bool {
    match read(bytes, &colorado_place()) {
        Ok((year, findings)) => {
            let shown = findings.iter().all(|finding| !finding.to_string().is_empty());
            shown && keeps_its_promises(&year) && summary(&year).mean_dew_point_c.is_finite()
        }
        Err(error) => !error.to_string().is_empty() && !error.hint().is_empty(),
    }
}

/// A change to a file.
#[derive(Debug, Clone)]
enum Change {
    Replace { at: usize, bytes: Vec<u8> },
    Remove { at: usize, count: usize },
    Insert { at: usize, bytes: Vec<u8> },
    Cut { at: usize },
}

fn change() -> impl Strategy<Value = Change> {
    let digits =
        proptest::collection::vec(prop::sample::select(b"0123456789.,-+eE:/\r\n\" ".to_vec()), 1..12);
    let noise = proptest::collection::vec(any::<u8>(), 1..12);
    let bytes = prop_oneof![3 => digits, 1 => noise];
    let at = prop_oneof![0_usize..3000, 0_usize..1_860_000];
    prop_oneof![
        4 => (at.clone(), bytes.clone()).prop_map(|(at, bytes)| Change::Replace { at, bytes }),
        2 => (at.clone(), 1_usize..4000).prop_map(|(at, count)| Change::Remove { at, count }),
        2 => (at.clone(), bytes).prop_map(|(at, bytes)| Change::Insert { at, bytes }),
        1 => at.prop_map(|at| Change::Cut { at }),
    ]
}

fn apply(bytes: &mut Vec<u8>, change: &Change) {
    let place = |at: usize, length: usize| if length == 0 { 0 } else { at % length };
    match change {
        Change::Replace { at, bytes: new } => {
            let at = place(*at, bytes.len());
            for (slot, byte) in bytes.iter_mut().skip(at).zip(new) {
                *slot = *byte;
            }
        }
        Change::Remove { at, count } => {
            let at = place(*at, bytes.len());
            let end = (at + count).min(bytes.len());
            bytes.drain(at..end);
        }
        Change::Insert { at, bytes: new } => {
            let at = place(*at, bytes.len());
            bytes.splice(at..at, new.iter().copied());
        }
        Change::Cut { at } => bytes.truncate(place(*at, bytes.len())),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes_give_an_answer(bytes in proptest::collection::vec(any::<u8>(), 0..600)) {
        prop_assert!(answer_is_sound(&bytes));
    }

    #[test]
    fn any_text_after_a_true_heading_gives_an_answer(which in 0..ALL.len(), text in "[0-9a-z,.:/#\\-\n \"]{0,400}") {
        let whole = published(ALL[which]);
        let heading: Vec<u8> = whole.split_inclusive(|b| *b == b'\n').take(HEADING_LINES[which]).flatten().copied().collect();
        prop_assert!(answer_is_sound(&[heading, text.into_bytes()].concat()));
    }

    #[test]
    fn any_plain_heading_gives_an_answer(text in "[#0-9a-z_,.:\\-\n ]{0,400}") {
        let table = format!("# {text}\nmonth,day,hour_ending\n");
        prop_assert!(answer_is_sound(table.as_bytes()));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 120, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn spoiled_files_give_an_answer(which in 0..ALL.len(), changes in proptest::collection::vec(change(), 1..6)) {
        let mut bytes = published(ALL[which]);
        for change in &changes {
            apply(&mut bytes, change);
        }
        prop_assert!(answer_is_sound(&bytes));
    }
}
