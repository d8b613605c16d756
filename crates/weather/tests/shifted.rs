//! Shifted years: the change that was asked for, worked by hand where it can be, never past what air and sun allow.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod common;

use common::{joined, plain_table, read_bytes, read_published};
use proptest::prelude::*;
use psychrometrics::formulas::{humidity_ratio, saturation_pa};
use weather::invented::{millbrook, saltmere};
use weather::make::make;
use weather::shift::{HumidityChange, MonthChange, Shift, findings, shift};
use weather::{Calendar, FindingKind, Findings, WeatherYear, checked_plain_csv, normals, sun};

fn all_months(change: MonthChange) -> Shift {
    Shift { label: String::new(), months: [change; 12] }
}

fn bits(column: &[f64]) -> Vec<u64> {
    column.iter().map(|x| x.to_bits()).collect()
}

/// Half a day at 0 °C, half at 10 °C, a dew point of −1 °C, wind of 3 m/s, dark.
fn square() -> WeatherYear {
    let lines = plain_table(Calendar::Common, |h| {
        let dry_bulb = if h % 24 < 12 { 0 } else { 10 };
        format!("{dry_bulb},-1,,98000,3,200,0,0,0")
    });
    read_bytes(&joined(&lines)).unwrap().0
}

#[test]
fn a_shift_of_nothing_is_the_same_to_the_bit() {
    for name in [common::GREENSBORO, common::SAND_POINT, common::COLORADO] {
        let year = read_published(name).0;
        let (same, months) = shift(&year, &all_months(MonthChange::default())).unwrap();
        assert_eq!(bits(&same.dry_bulb_c), bits(&year.dry_bulb_c));
        assert_eq!(bits(&same.humidity_ratio), bits(&year.humidity_ratio));
        assert_eq!(bits(&same.global_horizontal_w_per_m2), bits(&year.global_horizontal_w_per_m2));
        assert_eq!(bits(&same.wind_speed_m_per_s), bits(&year.wind_speed_m_per_s));
        assert!(months.iter().all(|month| month.before == month.after && month.humidity_limited_h == 0));
        assert!(findings(&all_months(MonthChange::default()), &months).is_empty());
        assert!(same.shifted.is_some());
    }
}

/// Mean 5 °C, range 10 K. With +2 K and a range 4 K wider α is 0.4: 0 becomes 0 + 2 − 0.4 · 5 = 0 °C, 10 becomes
/// 10 + 2 + 0.4 · 5 = 14 °C; mean 7 °C, range 14 K.
#[test]
fn shift_and_stretch_of_a_square_day() {
    let change = MonthChange { dry_bulb_k: 2.0, daily_range_k: 4.0, ..MonthChange::default() };
    let (year, months) = shift(&square(), &all_months(change)).unwrap();
    for h in [0, 11, 5000] {
        let expected = if h % 24 < 12 { 0.0 } else { 14.0 };
        assert!((year.dry_bulb_c[h] - expected).abs() < 1e-12, "{h}: {}", year.dry_bulb_c[h]);
    }
    for month in months {
        assert!(
            (month.after.dry_bulb_c - 7.0).abs() < 1e-9 && (month.after.daily_range_k - 14.0).abs() < 1e-9
        );
    }
}

/// Over water: 10 °C saturates at 1228.0 Pa, 15 °C at 1705.8, dew point −1 °C at 567.9 (handbook's table, over water by
/// Magnus below 0 °C: 611.2 exp(−17.62/242.12) = 568.3). Kept: 568 · 1705.8/1228.0 = 789 Pa at 98 kPa, 0.00505 kg/kg.
#[test]
fn relative_humidity_is_kept_by_hand() {
    let change = MonthChange { dry_bulb_k: 5.0, ..MonthChange::default() };
    let (year, months) = shift(&square(), &all_months(change)).unwrap();
    let expected = 0.62198 * 789.2 / (98_000.0 - 789.2);
    assert!((year.humidity_ratio[12] / expected - 1.0).abs() < 2e-3, "{}", year.humidity_ratio[12]);
    assert!(months.iter().all(|m| (m.after.relative_humidity - m.before.relative_humidity).abs() < 1e-12));
}

/// The dew point follows by itself where its change is given.
#[test]
fn a_dew_point_is_moved() {
    let humidity = HumidityChange::DewPointK(-3.0);
    let change = MonthChange { humidity, ..MonthChange::default() };
    let (_, months) = shift(&square(), &all_months(change)).unwrap();
    assert!(months.iter().all(|month| (month.after.dew_point_c + 4.0).abs() < 1e-6));
    assert!(months.iter().all(|month| month.humidity_limited_h == 0));
}

/// The nights at 0 °C take a dew point of 0 °C at most, asked for are 2 °C: 12 hours a day are limited, to 2 K less than asked
/// (over water a hair more); the mean rises by 2 K instead of 3.
#[test]
fn what_saturation_takes_away_is_counted_and_told() {
    let change = MonthChange { humidity: HumidityChange::DewPointK(3.0), ..MonthChange::default() };
    let by = all_months(change);
    let (year, months) = shift(&square(), &by).unwrap();
    assert_eq!(months.map(|month| month.humidity_limited_h)[..3], [372, 336, 372]);
    assert!((year.humidity_ratio[0] - humidity_ratio(saturation_pa(0.0), 98_000.0)).abs() < 1e-15);
    let told: Vec<String> = findings(&by, &months).iter().map(ToString::to_string).collect();
    assert_eq!(told[0], "warning: In 4380 hours humidity was limited to saturation, or to none.");
    assert_eq!(told[1], "warning: January: the mean dew point changes by +2.00 K instead of +3.00 K.");
    assert_eq!(told.len(), 13);
}

#[test]
fn drier_than_dry_is_limited_too() {
    let change = MonthChange { humidity: HumidityChange::RelativeHumidity(-0.5), ..MonthChange::default() };
    let (year, months) = shift(&square(), &all_months(change)).unwrap();
    // 568/1228 is 46 %: by day nothing is left; by night 568/611 less 50 points stays.
    assert_eq!(months[0].humidity_limited_h, 372);
    assert!(year.humidity_ratio[12] == 0.0 && year.humidity_ratio[0] > 0.001);
}

#[test]
fn beam_diffuse_and_global_go_together_and_never_past_the_sun() {
    let (year, _) = read_published(common::GREENSBORO);
    let by = all_months(MonthChange { irradiation_factor: 1.4, ..MonthChange::default() });
    let (brighter, months) = shift(&year, &by).unwrap();
    let mut limited = 0;
    for (h, position) in sun::positions(&year).iter().enumerate() {
        let columns = |year: &WeatherYear| {
            [
                year.global_horizontal_w_per_m2[h],
                year.direct_normal_w_per_m2[h],
                year.diffuse_horizontal_w_per_m2[h],
            ]
        };
        let (before, after) = (columns(&year), columns(&brighter));
        let factors: Vec<f64> =
            before.iter().zip(after).filter(|(b, _)| **b > 0.0).map(|(b, a)| a / b).collect();
        assert!(factors.iter().all(|f| (f - factors[0]).abs() < 1e-12 && (1.0..=1.4 + 1e-12).contains(f)));
        let outside = sun::extraterrestrial_w_per_m2(year.day_of_year(h));
        assert!(after[1] <= before[1].max(0.85 * outside) + 1e-9, "hour {h}: {after:?}");
        if position.zenith_deg < 85.0 {
            assert!(after[0] <= before[0].max(outside * position.height()) + 1e-9, "hour {h}: {after:?}");
        }
        limited += usize::from(factors.first().is_some_and(|f| *f < 1.4 - 1e-9));
    }
    assert!(limited > 100, "{limited}");
    assert_eq!(months.iter().map(|month| month.sun_limited_h).sum::<usize>(), limited);
    let told: Vec<String> = findings(&by, &months).iter().map(ToString::to_string).collect();
    assert_eq!(
        told[0],
        format!("warning: In {limited} hours irradiance was limited to what the sun allows.")
    );
    assert!(told[7].starts_with("warning: July: the irradiation changes by +"), "{}", told[7]);
}

/// A factor below one is never limited: each month has that share of its irradiation.
#[test]
fn less_sun_and_more_wind() {
    let (year, _) = read_published(common::MIAMI);
    let change = MonthChange { irradiation_factor: 0.9, wind_factor: 1.2, ..MonthChange::default() };
    let (_, months) = shift(&year, &all_months(change)).unwrap();
    for month in months {
        assert!((month.after.global_kwh_per_m2 / month.before.global_kwh_per_m2 - 0.9).abs() < 1e-12);
        assert!((month.after.wind_m_per_s / month.before.wind_m_per_s - 1.2).abs() < 1e-12);
        assert_eq!(month.sun_limited_h, 0);
    }
}

fn refused(year: &WeatherYear, change: MonthChange) -> String {
    let mut by = all_months(MonthChange::default());
    by.months[6] = change;
    shift(year, &by).unwrap_err().to_string()
}

#[test]
fn a_change_that_cannot_be_is_named() {
    let year = square();
    let change = MonthChange::default();
    assert_eq!(
        refused(&year, MonthChange { dry_bulb_k: 25.0, ..change }),
        "July: a change of dry bulb of 25 K is outside -20…20 K"
    );
    assert_eq!(
        refused(&year, MonthChange { irradiation_factor: f64::NAN, ..change }),
        "July: a factor of irradiation of NaN (a factor) is outside 0.2…3 (a factor)"
    );
    assert_eq!(
        refused(&year, MonthChange { daily_range_k: -9.5, ..change }),
        "July: the mean daily range of 10.0 K cannot change by -9.5 K: there must be one, and a tenth of it must stay"
    );
    let lines = plain_table(Calendar::Common, |_| "55,20,,98000,3,200,0,0,0".to_owned());
    let hot = read_bytes(&joined(&lines)).unwrap().0;
    assert_eq!(
        refused(&hot, MonthChange { dry_bulb_k: 8.0, ..change }),
        "July: the shifted dry bulb would reach 63.0 °C, outside -75…62 °C"
    );
    // Every hour alike: there is no range to change.
    assert_eq!(
        refused(&hot, MonthChange { daily_range_k: 1.0, ..change }),
        "July: the mean daily range of 0.0 K cannot change by 1 K: there must be one, and a tenth of it must stay"
    );
}

#[test]
fn the_mark_goes_along_and_a_second_shift_is_added() {
    let year = make(&millbrook().climate).unwrap();
    let warmer = MonthChange { dry_bulb_k: 1.5, ..MonthChange::default() };
    let by = Shift { label: "2050, high".to_owned(), months: [warmer; 12] };
    let (once, _) = shift(&year, &by).unwrap();
    let words = "2050, high: in the mean of the months dry bulb +1.50 K, relative humidity kept";
    assert_eq!(once.shifted.as_deref(), Some(words));
    let windy = MonthChange { daily_range_k: -0.5, wind_factor: 1.1, ..MonthChange::default() };
    let (twice, _) = shift(&once, &all_months(windy)).unwrap();
    let both = format!(
        "{words}; then in the mean of the months dry bulb +0.00 K, daily range -0.50 K, relative humidity kept, wind × 1.100"
    );
    assert_eq!(twice.shifted.as_deref(), Some(both.as_str()));
    let text = checked_plain_csv(&twice, &Findings::default()).unwrap();
    assert!(text.contains(&format!("# shifted: {both}\n")) && text.contains("# synthetic: yes\n"));
    let (_, found) = read_bytes(text.as_bytes()).unwrap();
    let told: Vec<String> = found.of_kind(FindingKind::Shifted).map(ToString::to_string).collect();
    assert_eq!(told, [format!("note: This climate is shifted ({both}): a scenario, not a record.")]);
    assert_eq!(found.count_of(FindingKind::Synthetic), 1);
}

fn changes() -> impl Strategy<Value = MonthChange> {
    let humidity = prop_oneof![
        Just(HumidityChange::RelativeHumidity(0.0)),
        (-0.1..0.1_f64).prop_map(HumidityChange::RelativeHumidity),
        (-5.0..5.0_f64).prop_map(HumidityChange::DewPointK),
    ];
    (-6.0..6.0_f64, -1.5..3.0_f64, humidity, 0.8..1.2_f64, 0.5..1.5_f64).prop_map(
        |(dry_bulb_k, daily_range_k, humidity, irradiation_factor, wind_factor)| MonthChange {
            dry_bulb_k,
            daily_range_k,
            humidity,
            irradiation_factor,
            wind_factor,
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 16, max_shrink_iters: 0, failure_persistence: None, ..ProptestConfig::default() })]

    /// Months that differ: means and ranges as asked, air never above saturation, what is not reached is told.
    #[test]
    fn any_shift(months in prop::array::uniform12(changes()), published in any::<bool>()) {
        let year = if published { read_published(common::PIEDMONT).0 } else { make(&saltmere().climate).unwrap() };
        let by = Shift { label: "any".to_owned(), months };
        let (shifted, got) = shift(&year, &by).unwrap();
        let (before, after) = (normals(&year), normals(&shifted));
        let told: Vec<String> = findings(&by, &got).iter().map(ToString::to_string).collect();
        for (m, change) in months.iter().enumerate() {
            prop_assert!((after[m].dry_bulb_c - before[m].dry_bulb_c - change.dry_bulb_k).abs() < 1e-9);
            prop_assert!((after[m].daily_range_k - before[m].daily_range_k - change.daily_range_k).abs() < 1e-9);
            let (asked, reached, room) = match change.humidity {
                HumidityChange::RelativeHumidity(share) => {
                    (share, after[m].relative_humidity - before[m].relative_humidity, 0.005)
                }
                HumidityChange::DewPointK(k) => (k, after[m].dew_point_c - before[m].dew_point_c, 0.05),
            };
            let month = weather::calendar::MONTH_NAMES[m];
            let is_told = told.iter().any(|text| {
                text.starts_with(&format!("warning: {month}: the mean relative humidity"))
                    || text.starts_with(&format!("warning: {month}: the mean dew point"))
            });
            prop_assert_eq!((asked - reached).abs() > room, is_told, "{}: {} {}", month, asked, reached);
            prop_assert!(got[m].humidity_limited_h > 0 || (asked - reached).abs() < 1e-6);
            let irradiation = after[m].global_kwh_per_m2 - change.irradiation_factor * before[m].global_kwh_per_m2;
            prop_assert!(irradiation < 1e-9 && (got[m].sun_limited_h > 0 || irradiation > -1e-9));
        }
        for h in 0..year.hours() {
            let most = humidity_ratio(saturation_pa(shifted.dry_bulb_c[h]), shifted.pressure_pa[h]);
            prop_assert!((0.0..=most).contains(&shifted.humidity_ratio[h]));
        }
        prop_assert!(checked_plain_csv(&shifted, &Findings::default()).is_ok());
    }
}
