//! Bills by hand, and the calendar against printed calendars: 2018 and 2024 began on a Monday.
#![allow(clippy::unwrap_used, clippy::float_cmp)]

use approx::assert_relative_eq;
use economics::tariff::{Carrier, Price, Tariff, total};
use economics::timetable::{Band, Days, TimeOfUse};

/// Hour of the year at which a day begins, from the days before it.
fn hour_of_day(day_of_year: usize) -> usize {
    (day_of_year - 1) * 24
}

fn weekend_at_one() -> TimeOfUse {
    TimeOfUse::new(vec![
        Band::new("week", 0.0, Days::Weekdays, 0, 24),
        Band::new("end", 1.0, Days::Weekends, 0, 24),
    ])
    .unwrap()
}

fn only_in(month: u8) -> Tariff {
    let others: Vec<u8> = (1..=12).filter(|other| *other != month).collect();
    let times = TimeOfUse::new(vec![
        Band::new("others", 0.0, Days::Every, 0, 24).in_months(&others),
        Band::new("week", 0.0, Days::Weekdays, 0, 24).in_months(&[month]),
        Band::new("end", 1.0, Days::Weekends, 0, 24).in_months(&[month]),
    ]);
    Tariff::new(Carrier::Electricity, Price::ByHour(times.unwrap()))
}

#[test]
fn a_flat_year_is_energy_times_price_and_the_connection() {
    let mut gas = Tariff::new(Carrier::Gas, Price::Flat(0.045));
    gas.standing_per_year = 180.0;
    let bill = gas.cost((0..8760).map(|_| 2.0)).unwrap();
    assert_relative_eq!(bill.site_kwh, 17_520.0);
    assert_relative_eq!(bill.energy, 788.4, max_relative = 1e-12);
    assert_relative_eq!(bill.money(), 968.4, max_relative = 1e-12);
    assert_relative_eq!(bill.mean_price_per_kwh().unwrap(), 0.045, max_relative = 1e-12);
    assert_relative_eq!(bill.source_kwh, 18_396.0, max_relative = 1e-12);
    assert_relative_eq!(bill.carbon_kg, 3_171.12, max_relative = 1e-12);
    assert_eq!(gas.cost_of_year(17_520.0).unwrap(), bill);
}

/// 20 weekdays and 8 weekend days in February 2018; 21 and 8 in February 2024.
#[test]
fn february_by_time_of_use_is_that_of_a_hand_calculation() {
    let others = [1, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];
    let times = TimeOfUse::new(vec![
        Band::new("peak", 0.30, Days::Weekdays, 7, 19).in_months(&[2]),
        Band::new("off-peak", 0.10, Days::Weekdays, 19, 7).in_months(&[2]),
        Band::new("week-end", 0.12, Days::Weekends, 0, 24).in_months(&[2]),
        Band::new("rest", 0.0, Days::Every, 0, 24).in_months(&others),
    ]);
    let tariff = Tariff::new(Carrier::Electricity, Price::ByHour(times.unwrap()));
    for (hours, weekdays) in [(8760, 20.0), (8784, 21.0)] {
        let bill = tariff.cost((0..hours).map(|_| 1.5)).unwrap();
        let kwh: Vec<f64> = bill.by_band.iter().map(|band| band.site_kwh).collect();
        assert_eq!(kwh[..3], [weekdays * 18.0, weekdays * 18.0, 8.0 * 36.0]);
        assert_relative_eq!(
            bill.energy,
            weekdays * 18.0 * 0.30 + weekdays * 18.0 * 0.10 + 288.0 * 0.12,
            max_relative = 1e-12
        );
        assert_eq!(bill.by_band[1].name, "off-peak");
    }
}

/// Saturdays and Sundays of each month, counted in printed calendars.
#[test]
fn weekends_of_each_month_are_those_of_the_calendars_of_2018_and_2024() {
    let of_2018 = [8, 8, 9, 9, 8, 9, 9, 8, 10, 8, 8, 10];
    let of_2024 = [8, 8, 10, 8, 8, 10, 8, 9, 9, 8, 9, 9];
    for (hours, counts) in [(8760, of_2018), (8784, of_2024)] {
        for (month, days) in (1..).zip(counts) {
            let bill = only_in(month).cost((0..hours).map(|_| 1.0)).unwrap();
            assert_relative_eq!(bill.energy, 24.0 * f64::from(days));
        }
    }
}

/// 3 March 2018 and 2 March 2024 were Saturdays; 30 December 2018 was the last Sunday, 29 December 2024 too.
#[test]
fn single_hours_fall_on_the_days_that_printed_calendars_show() {
    let times = weekend_at_one();
    for (leap, saturday, last_sunday) in [(false, 62, 364), (true, 62, 364)] {
        assert_eq!(times.price_at(hour_of_day(saturday) - 1, leap), 0.0);
        assert_eq!(times.price_at(hour_of_day(saturday), leap), 1.0);
        assert_eq!(times.price_at(hour_of_day(saturday) + 47, leap), 1.0);
        assert_eq!(times.price_at(hour_of_day(saturday) + 48, leap), 0.0);
        assert_eq!(times.price_at(hour_of_day(last_sunday) + 23, leap), 1.0);
        assert_eq!(times.price_at(hour_of_day(last_sunday) + 24, leap), 0.0);
    }
    assert_eq!(times.price_at(0, false), 0.0);
}

#[test]
fn the_first_hour_of_march_is_one_day_later_in_a_leap_year() {
    let months: Vec<u8> = (3..=12).collect();
    let times = TimeOfUse::new(vec![
        Band::new("winter", 0.0, Days::Every, 0, 24).in_months(&[2, 1]),
        Band::new("from March", 1.0, Days::Every, 0, 24).in_months(&months),
    ])
    .unwrap();
    assert_eq!((times.price_at(59 * 24 - 1, false), times.price_at(59 * 24, false)), (0.0, 1.0));
    assert_eq!((times.price_at(60 * 24 - 1, true), times.price_at(60 * 24, true)), (0.0, 1.0));
    assert_eq!(times.price_at(365 * 24 - 1, false), 1.0);
    assert_eq!(times.price_at(366 * 24 - 1, true), 1.0);
}

#[test]
fn a_band_over_midnight_holds_at_both_ends_of_its_days() {
    let times = TimeOfUse::new(vec![
        Band::new("night", 1.0, Days::Every, 22, 6),
        Band::new("day", 2.0, Days::Every, 6, 22),
    ])
    .unwrap();
    let day: Vec<f64> = (0..24).map(|h| times.price_at(h, false)).collect();
    assert!((0..24).all(|h| day[h] == if (6..22).contains(&h) { 2.0 } else { 1.0 }), "{day:?}");
}

fn refusal(bands: Vec<Band>) -> String {
    TimeOfUse::new(bands).unwrap_err().to_string()
}

#[test]
fn hours_that_no_band_prices_are_named() {
    let bands = vec![
        Band::new("day", 0.2, Days::Every, 7, 21),
        Band::new("night", 0.1, Days::Weekdays, 21, 7),
        Band::new("night at week-ends", 0.1, Days::Weekends, 22, 7),
    ];
    assert_eq!(
        refusal(bands),
        "no band prices 21:00 to 22:00 on weekends in January, and 11 more hours like it"
    );
    let all_but = |hour: u8| {
        vec![
            Band::new("a", 0.2, Days::Every, hour + 1, hour),
            Band::new("b", 0.2, Days::Weekends, hour, hour + 1),
            Band::new("c", 0.2, Days::Weekdays, hour, hour + 1)
                .in_months(&[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]),
        ]
    };
    assert_eq!(refusal(all_but(13)), "no band prices 13:00 to 14:00 on weekdays in December");
    assert_eq!(
        refusal(Vec::new()),
        "no band prices 00:00 to 01:00 on weekdays in January, and 575 more hours like it"
    );
}

#[test]
fn hours_that_two_bands_price_are_named_with_both() {
    let bands = vec![
        Band::new("all", 0.2, Days::Every, 0, 24),
        Band::new("peak", 0.4, Days::Weekdays, 16, 18).in_months(&[7]),
    ];
    assert_eq!(
        refusal(bands),
        "`all` and `peak` both price 16:00 to 17:00 on weekdays in July, and 1 more hour like it"
    );
}

#[test]
fn bands_that_are_none_are_refused() {
    let band = |from, to| vec![Band::new("x", 0.2, Days::Every, from, to)];
    assert_eq!(
        refusal(band(7, 7)),
        "band `x`: from 7 to 7; it would begin at 0 to 23 and end at another hour of 1 to 24"
    );
    assert!(refusal(band(24, 6)).contains("from 24 to 6"));
    assert!(refusal(band(6, 0)).contains("from 6 to 0"));
    assert!(refusal(band(6, 25)).contains("from 6 to 25"));
    assert_eq!(
        refusal(vec![Band::new("x", 0.2, Days::Every, 0, 24).in_months(&[1, 13])]),
        "band `x`: there is no month 13; months are 1 to 12"
    );
    assert_eq!(
        refusal(vec![Band::new("x", -0.2, Days::Every, 0, 24)]),
        "band `x`: price a kWh -0.2 is outside 0 to 1000000"
    );
    assert!(refusal(vec![Band::new("x", f64::NAN, Days::Every, 0, 24)]).contains("price a kWh NaN"));
}

#[test]
fn hours_that_are_no_year_and_hours_that_are_no_energy_are_refused() {
    let tariff = Tariff::new(Carrier::District, Price::Flat(0.1));
    assert_eq!(
        tariff.cost((0..8761).map(|_| 1.0)).unwrap_err().to_string(),
        "district heat: 8761 hours were given; a year has 8760, a leap year 8784"
    );
    let with =
        |odd: f64| tariff.cost((0..8760).map(|h| if h == 31 { odd } else { 1.0 })).unwrap_err().to_string();
    assert_eq!(with(-0.5), "district heat: -0.5 kWh in hour 31 of the year; it would have to be 0 or more");
    assert!(with(f64::NAN).starts_with("district heat: NaN kWh in hour 31"));
    let times = Tariff::new(Carrier::Electricity, Price::ByHour(weekend_at_one()));
    assert_eq!(
        times.cost_of_year(100.0).unwrap_err().to_string(),
        "electricity: a price by time of use needs the energy of each hour, not that of the year"
    );
}

#[test]
fn numbers_of_a_tariff_are_refused_with_its_carrier() {
    let with = |change: fn(&mut Tariff)| {
        let mut tariff = Tariff::new(Carrier::Oil, Price::Flat(0.1));
        change(&mut tariff);
        tariff.cost_of_year(1.0).unwrap_err().to_string()
    };
    assert_eq!(
        with(|t| t.price = Price::Flat(-1.0)),
        "tariff of oil: price a kWh -1 is outside 0 to 1000000"
    );
    assert!(with(|t| t.standing_per_year = -1.0).contains("standing charge a year -1"));
    assert!(with(|t| t.escalation_per_year = 2.0).contains("escalation 2 a year"));
    assert!(with(|t| t.carbon_g_per_kwh = 4000.0).contains("carbon 4000 g/kWh"));
    assert!(with(|t| t.source_factor = f64::INFINITY).contains("source energy factor inf"));
    let oil = Tariff::new(Carrier::Oil, Price::Flat(0.1));
    assert!(oil.cost_of_year(-5.0).unwrap_err().to_string().contains("energy a year -5 kWh"));
}

/// kg of carbon dioxide for a million Btu of higher heating value (40 CFR 98, table C-1), 293.071 kWh.
#[test]
fn carbon_of_fuels_is_that_of_the_published_table() {
    for (carrier, kg_per_mmbtu) in [(Carrier::Gas, 53.06), (Carrier::Oil, 73.96), (Carrier::Propane, 62.87)] {
        let g_per_kwh = kg_per_mmbtu * 1000.0 / 293.071;
        assert_relative_eq!(carrier.carbon_g_per_kwh().value, g_per_kwh, epsilon = 0.06);
    }
}

/// 5 000 kWh of gas and 1 000 of electricity: 5 000 · 1.05 + 1 000 · 2.80 kWh, 905 + 370 kg.
#[test]
fn all_carriers_together() {
    let gas = Tariff::new(Carrier::Gas, Price::Flat(0.05)).cost_of_year(5000.0).unwrap();
    let mut electricity = Tariff::new(Carrier::Electricity, Price::Flat(0.2));
    electricity.standing_per_year = 100.0;
    electricity.escalation_per_year = 0.02;
    let bill = electricity.cost_of_year(1000.0).unwrap();
    let all = total([&gas, &bill]);
    assert_relative_eq!(all.money, 550.0);
    assert_relative_eq!(all.site_kwh, 6000.0);
    assert_relative_eq!(all.source_kwh, 8050.0);
    assert_relative_eq!(all.carbon_kg, 1275.0);
    let stream = electricity.stream(&bill);
    assert_eq!((stream.money_per_year, stream.escalation_per_year), (300.0, 0.02));
}

#[test]
fn every_carrier_has_usable_defaults_with_a_source() {
    for carrier in Carrier::ALL {
        assert!(Tariff::new(carrier, Price::Flat(0.1)).cost_of_year(1.0).is_ok());
        assert!(!carrier.source_factor().source.is_empty());
        assert!(!carrier.carbon_g_per_kwh().source.is_empty());
    }
}
