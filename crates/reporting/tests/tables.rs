//! Annual, monthly, hourly and ledger tables: sums by hand, exact totals, headers, the guide.

#![allow(clippy::unwrap_used, clippy::expect_used, reason = "helpers of tests fail like tests")]

mod made_up;

use std::sync::Arc;

use made_up::{HOURS, constant, each_hour, lively_run};
use reporting::guide::{
    ANNUAL_FILE, BINS_FILE, CLIMATES_FILE, HOURLY_FILE, LEDGER_FILE, MONEY_FILE, MONTHLY_FILE,
};
use reporting::{
    COLUMNS, Calendar, Cell, Figure, Hemisphere, ReportError, RunSummary, SummaryBasis, climates_csv,
    column_guide, guide_json, guide_text, hourly_csv, ledger_csv,
};
use simulation::results::{Case, Hour, HouseYear, LedgerLine};

/// Printed with the columns' own digits.
fn year(summary: &RunSummary, place: usize, figure: Figure) -> String {
    summary.rows[place].year(figure).to_string()
}

fn unit_hour() -> Hour {
    Hour {
        heating_site_w: 1000.0,
        cooling_site_w: 100.0,
        fan_w: 50.0,
        preheat_w: 20.0,
        defrost_heat_w: 10.0,
        defrost_share: 0.25,
        missed_outdoor_air_kg: 0.0602,
        bypass_share: 0.5,
        heating_load_w: 950.0,
        recovered_sensible_w: 500.0,
        recovered_latent_w: -20.0,
        drain_kg: 0.01,
        ice_formed_kg: 0.001,
        relative_humidity: 0.45,
        air_c: 21.0,
        delivered_air_kg: 1.204,
        outdoor_air_kg: 0.903,
        cross_leaked_air_kg: 0.301,
        infiltration_air_kg: 0.602,
        exfiltration_air_kg: 0.301,
        intake_air_kg: 1.505,
        exhaust_air_kg: 2.408,
        energy_residual_j: -2e-6,
        energy_inflow_j: 4e6,
        core_residual_j: 1e-6,
        core_inflow_j: 1e6,
        core_water_residual_kg: 3e-12,
        core_water_inflow_kg: 1.0,
        exhaust_gap_k: 0.25,
        ..Hour::default()
    }
}

fn constant_run() -> RunSummary {
    let baseline =
        Hour { heating_site_w: 1520.0, heating_load_w: 1425.0, drain_kg: 0.0, preheat_w: 0.0, ..unit_hour() };
    let years = [constant("A", Case::NoRecovery, &baseline), constant("A", Case::Unit, &unit_hour())];
    RunSummary::new(&years, &SummaryBasis::default()).unwrap()
}

#[test]
fn a_constant_year_gives_the_sums_done_by_hand() {
    // 8760 h × the hourly figure; a day has 24 of them; the saving is 8760 × (1.52 − 1.0 − 0.02) kWh.
    let summary = constant_run();
    let expected = [
        (Figure::HeatingKwh, "8760.00"),
        (Figure::CoolingKwh, "876.00"),
        (Figure::FanKwh, "438.00"),
        (Figure::FanPeakW, "50"),
        (Figure::PreheatKwh, "175.20"),
        (Figure::PreheatPeakW, "20"),
        (Figure::DefrostKwh, "87.60"),
        (Figure::DefrostH, "2190.00"),
        (Figure::DefrostAnyH, "8760"),
        (Figure::BypassH, "8760"),
        (Figure::BlockedH, "0"),
        // Months of 31, 30 and 28 days at 1.2 m³ a day, each rounded: 7 × 37 + 4 × 36 + 34.
        (Figure::MissedAirM3, "437"),
        (Figure::MissedAirH, "8760"),
        (Figure::HeatingLoadKwh, "8322.00"),
        (Figure::RecoveredSensibleKwh, "4380.00"),
        (Figure::RecoveredSensiblePositiveKwh, "4380.00"),
        (Figure::RecoveredSensibleNegativeKwh, "0.00"),
        (Figure::RecoveredLatentKwh, "-175.20"),
        (Figure::RecoveredLatentNegativeKwh, "-175.20"),
        (Figure::UsefulSavingKwh, "4380.00"),
        (Figure::UsefulSavingLoadKwh, "4161.00"),
        (Figure::CondensateL, "87.600"),
        (Figure::PeakCondensateLPerDay, "0.240"),
        (Figure::IceFormedKg, "8.760"),
        (Figure::FrostH, "8760"),
        (Figure::FrostOverCapacityH, ""),
        (Figure::RhMeanPct, "45.00"),
        (Figure::RhWinterMeanPct, "45.00"),
        (Figure::RhBelow30H, "0"),
        (Figure::RhAbove60H, "0"),
        (Figure::DeliveredAirM3, "8760"),
        (Figure::OutdoorAirM3, "6570"),
        (Figure::CrossLeakedAirM3, "2190"),
        (Figure::InfiltrationM3, "4380"),
        (Figure::ExfiltrationM3, "2190"),
        (Figure::IntakeAirM3, "10950"),
        (Figure::ExhaustAirM3, "17520"),
        (Figure::EnergyResidual, "5.00e-13"),
        (Figure::WaterResidual, ""),
        (Figure::CoreResidual, "3.00e-12"),
        (Figure::ExhaustGapMeanK, "0.2500"),
    ];
    for (figure, text) in expected {
        assert_eq!(year(&summary, 0, figure), text, "{figure:?}");
    }
}

#[test]
fn figures_of_the_core_are_empty_in_the_rows_without_one() {
    let summary = constant_run();
    assert_eq!(summary.rows[1].case, Case::NoRecovery);
    for figure in [Figure::CondensateL, Figure::FrostH, Figure::UsefulSavingKwh, Figure::CoreResidual] {
        assert_eq!(year(&summary, 1, figure), "", "{figure:?}");
    }
    assert_eq!(year(&summary, 1, Figure::HeatingKwh), "13315.20");
}

#[test]
fn the_header_of_the_annual_table_is_this_line() {
    let header = "unit,case,heating_kwh,cooling_kwh,fan_kwh,fan_peak_w,preheat_kwh,preheat_peak_w,defrost_kwh,blower_kwh,humidifying_kwh,dehumidifying_kwh,heating_load_kwh,cooling_sensible_kwh,cooling_latent_kwh,\
        heating_peak_w,cooling_sensible_peak_w,cooling_latent_peak_w,heating_short_h,cooling_short_h,ground_kwh,duct_loss_kwh,\
        recovered_sensible_kwh,recovered_sensible_positive_kwh,recovered_sensible_negative_kwh,recovered_latent_kwh,\
        recovered_latent_positive_kwh,recovered_latent_negative_kwh,useful_saving_kwh,useful_saving_load_kwh,\
        condensate_l,condensate_supply_side_l,peak_condensate_l_per_day,peak_condensate_date,carried_over_l,ice_formed_kg,\
        ice_melted_kg,frost_kg_peak,frost_h,frost_over_capacity_h,blocked_h,defrost_h,defrost_any_h,bypass_h,rh_mean_pct,rh_winter_mean_pct,rh_summer_mean_pct,\
        rh_below_30_h,rh_above_60_h,rh_min_pct,rh_max_pct,window_wet_h,window_edge_wet_h,window_run_off_l,mould_index_max,damp_corner_h,air_min_c,air_max_c,delivered_air_m3,outdoor_air_m3,\
        missed_air_m3,missed_air_h,air_short_m3,air_short_h,co2_mean_ppm,co2_above_1000_h,bedroom_co2_max_ppm,bedroom_co2_above_1000_h,cross_leaked_air_m3,infiltration_m3,exfiltration_m3,intake_air_m3,exhaust_air_m3,coil_l,\
        humidified_l,dehumidified_l,room_condensation_l,moisture_sources_l,water_residual,energy_residual,core_residual,exhaust_gap_mean_k";
    let summary = constant_run();
    assert_eq!(summary.annual_csv().unwrap().lines().next(), Some(header));
    let monthly = header.replacen("unit,case", "unit,case,month", 1);
    assert_eq!(summary.monthly_csv().unwrap().lines().next(), Some(monthly.as_str()));
}

/// Two cubic metres an hour are asked for, one is delivered: months of 744, 672 and 720 h, and 8 760 of both in the year.
#[test]
fn air_short_of_what_is_required_is_counted_in_hours_and_cubic_metres() {
    let hour = Hour { outdoor_air_kg: 1.204, ..Hour::default() };
    let years = [constant("A", Case::Unit, &hour), constant("A", Case::NoRecovery, &hour)];
    let of = |required_kg_per_h| {
        let basis = SummaryBasis { required_kg_per_h, ..SummaryBasis::default() };
        let summary = RunSummary::new(&years, &basis).unwrap();
        [Figure::AirShortM3, Figure::AirShortH].map(|figure| year(&summary, 0, figure))
    };
    assert_eq!(of(Some(2.408)), ["8760", "8760"]);
    assert_eq!(of(Some(1.204)), ["0", "0"]);
    assert_eq!(of(None), ["", ""]);
}

/// A printed decimal as a whole number of units of its last digit.
fn ticks(text: &str) -> i64 {
    text.replace('.', "").parse().unwrap()
}

#[test]
fn yearly_totals_are_the_sums_of_the_printed_months_to_the_last_digit() {
    let summary = RunSummary::new(&lively_run(), &SummaryBasis::default()).unwrap();
    let (annual, monthly) = (summary.annual_csv().unwrap(), summary.monthly_csv().unwrap());
    let annual: Vec<_> =
        csv::Reader::from_reader(annual.as_bytes()).into_records().map(Result::unwrap).collect();
    let monthly: Vec<_> =
        csv::Reader::from_reader(monthly.as_bytes()).into_records().map(Result::unwrap).collect();
    assert_eq!((annual.len(), monthly.len()), (5, 60));
    for (row, months) in annual.iter().zip(monthly.chunks(12)) {
        for (place, column) in COLUMNS.iter().enumerate() {
            let total = row.get(place + 2).unwrap();
            if !["sum", "count of hours"].contains(&column.aggregates()) || total.is_empty() {
                continue;
            }
            let sum: i64 = months.iter().map(|month| ticks(month.get(place + 3).unwrap())).sum();
            assert_eq!(ticks(total), sum, "{}", column.name);
        }
    }
}

#[test]
fn recovered_heat_and_saving_are_the_sums_of_their_printed_parts() {
    let summary = RunSummary::new(&lively_run(), &SummaryBasis::default()).unwrap();
    let t = |place, figure| ticks(&year(&summary, place, figure));
    for place in [0, 2] {
        assert_eq!(
            t(place, Figure::RecoveredSensibleKwh),
            t(place, Figure::RecoveredSensiblePositiveKwh) + t(place, Figure::RecoveredSensibleNegativeKwh)
        );
        let site = |row| t(row, Figure::HeatingKwh) + t(row, Figure::CoolingKwh) + t(row, Figure::FanKwh);
        assert_eq!(t(place, Figure::UsefulSavingKwh), site(place + 1) - site(place));
    }
}

#[test]
fn rows_stand_by_unit_and_the_house_without_ventilation_comes_last() {
    let mut years = lively_run();
    years.reverse();
    let summary = RunSummary::new(&years, &SummaryBasis::default()).unwrap();
    let rows: Vec<(&str, Case)> = summary.rows.iter().map(|row| (row.unit.as_str(), row.case)).collect();
    let expected = [
        ("Membrane B", Case::Unit),
        ("Membrane B", Case::NoRecovery),
        ("Plate A", Case::Unit),
        ("Plate A", Case::NoRecovery),
        ("", Case::NoVentilation),
    ];
    assert_eq!(rows, expected);
}

/// 20 % in June, July and August, 50 % else.
fn dry_june_to_august() -> HouseYear {
    let calendar = Calendar::for_hours(HOURS).unwrap();
    each_hour("A", Case::Unit, |hour| {
        let dry = (6..=8).contains(&calendar.stamp(hour).month);
        Hour { relative_humidity: if dry { 0.2 } else { 0.5 }, ..Hour::default() }
    })
}

#[test]
fn winter_is_december_to_february_in_the_north_and_june_to_august_in_the_south() {
    for (hemisphere, winter, summer) in
        [(Hemisphere::North, "50.00", "20.00"), (Hemisphere::South, "20.00", "50.00")]
    {
        let basis = SummaryBasis { hemisphere, ..SummaryBasis::default() };
        let summary = RunSummary::new(&[dry_june_to_august()], &basis).unwrap();
        assert_eq!(year(&summary, 0, Figure::RhWinterMeanPct), winter);
        assert_eq!(year(&summary, 0, Figure::RhSummerMeanPct), summer);
        // June to August have 30 + 31 + 31 days.
        assert_eq!(year(&summary, 0, Figure::RhBelow30H), "2208");
        assert_eq!(summary.rows[0].month(3, Figure::RhWinterMeanPct), Cell::Empty);
    }
}

#[test]
fn a_humidity_held_at_its_limit_is_not_counted_by_the_last_bit() {
    for (humidity, below, above) in [
        (0.3 - 1e-12, "0", "0"),
        (0.3 - 2e-6, "8760", "0"),
        (0.6 + 1e-12, "0", "0"),
        (0.6 + 2e-6, "0", "8760"),
    ] {
        let hour = Hour { relative_humidity: humidity, ..Hour::default() };
        let summary = RunSummary::new(&[constant("A", Case::Unit, &hour)], &SummaryBasis::default()).unwrap();
        assert_eq!(year(&summary, 0, Figure::RhBelow30H), below);
        assert_eq!(year(&summary, 0, Figure::RhAbove60H), above);
    }
}

#[test]
fn an_hour_counts_as_frost_from_one_gram_of_ice() {
    // 1 g in the first ten hours, a little less in the next ten.
    let year_of = |hour: usize| Hour {
        ice_formed_kg: if hour < 10 {
            0.001
        } else if hour < 20 {
            0.000_999
        } else {
            0.0
        },
        frost_kg: if hour < 5 { 0.9 } else { 0.3 },
        ..Hour::default()
    };
    let basis = SummaryBasis { frost_capacity_kg: vec![("A".to_owned(), 0.5)], ..SummaryBasis::default() };
    let summary = RunSummary::new(&[each_hour("A", Case::Unit, year_of)], &basis).unwrap();
    assert_eq!(year(&summary, 0, Figure::FrostH), "10");
    assert_eq!(year(&summary, 0, Figure::FrostOverCapacityH), "5");
    assert_eq!(year(&summary, 0, Figure::FrostKgPeak), "0.900");
}

#[test]
fn the_peak_day_is_a_calendar_day() {
    // 1 kg in the last hour of 31 January and 1 kg in the first of 1 February are two days; 1.5 kg on 5 March is more.
    let at = |hour: usize| match hour {
        743 | 744 => 1.0,
        1512 | 1535 => 0.75,
        _ => 0.0,
    };
    let years = [each_hour("A", Case::Unit, |hour| Hour { drain_kg: at(hour), ..Hour::default() })];
    let summary = RunSummary::new(&years, &SummaryBasis::default()).unwrap();
    assert_eq!(year(&summary, 0, Figure::PeakCondensateLPerDay), "1.500");
    assert_eq!(year(&summary, 0, Figure::PeakCondensateDate), "03-05");
    assert_eq!(summary.rows[0].month(0, Figure::PeakCondensateDate).to_string(), "01-31");
    assert_eq!(summary.rows[0].month(6, Figure::PeakCondensateDate), Cell::Empty);
}

#[test]
fn faulty_years_are_refused_with_the_place() {
    let basis = SummaryBasis::default();
    let good = constant("A", Case::Unit, &Hour::default());
    let mut bad = good.clone();
    Arc::make_mut(&mut bad.hourly).fan_w[7] = f64::NAN;
    let text = RunSummary::new(&[bad], &basis).unwrap_err().to_string();
    assert_eq!(text, "house-year \"A\", column fan_w, hour 7 of the year: NaN is not a finite number");
    let mut short = good.clone();
    Arc::make_mut(&mut short.hourly).fan_w.pop();
    let text = RunSummary::new(&[short], &basis).unwrap_err().to_string();
    assert_eq!(text, "house-year \"A\", column fan_w: 8759 hours where the year has 8760");
    let twice = RunSummary::new(&[good.clone(), good], &basis);
    assert_eq!(twice, Err(ReportError::Duplicate { house: "A".to_owned() }));
    assert_eq!(Calendar::for_hours(8761), Err(ReportError::HourCount { hours: 8761 }));
}

#[test]
fn a_leap_year_keeps_the_29th_of_february() {
    let calendar = Calendar::for_hours(8784).unwrap();
    let stamp = calendar.stamp(59 * 24);
    assert_eq!((stamp.month, stamp.day, stamp.hour_ending), (2, 29, 1));
    let last = calendar.stamp(8783);
    assert_eq!((last.month, last.day, last.hour_ending), (12, 31, 24));
}

#[test]
fn a_leap_year_adds_a_day_to_february_and_to_the_totals() {
    let mut year = constant("A", Case::Unit, &unit_hour());
    for _ in 0..24 {
        Arc::make_mut(&mut year.hourly).extend(&[unit_hour()]);
    }
    let summary = RunSummary::new(&[year], &SummaryBasis::default()).unwrap();
    // 29 days × 24 h × 1 kWh, and 366 of them.
    assert_eq!(summary.rows[0].month(1, Figure::HeatingKwh).to_string(), "696.00");
    assert_eq!(summary.rows[0].year(Figure::HeatingKwh).to_string(), "8784.00");
}

#[test]
fn hourly_text_reads_back_as_the_same_numbers() {
    let house = &lively_run()[0];
    let text = hourly_csv(house, &Calendar::for_hours(HOURS).unwrap()).unwrap();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let columns = house.hourly.columns();
    let names: Vec<&str> =
        ["month", "day", "hour_ending"].into_iter().chain(columns.iter().map(|c| c.0)).collect();
    assert_eq!(reader.headers().unwrap().iter().collect::<Vec<_>>(), names);
    let mut rows = 0;
    for (hour, record) in reader.records().enumerate() {
        let record = record.unwrap();
        for (place, (name, values, _)) in columns.iter().enumerate() {
            let read: f64 = record.get(place + 3).unwrap().parse().unwrap();
            assert_eq!(read.to_bits(), (values[hour] + 0.0).to_bits(), "{name}, hour {hour}");
        }
        rows += 1;
    }
    assert_eq!(rows, HOURS);
    assert!(text.lines().nth(1).unwrap().starts_with("1,1,1,"));
    assert!(text.lines().last().unwrap().starts_with("12,31,24,"));
}

#[test]
fn ledger_lines_are_in_kilowatt_hours_and_kilograms_with_exact_totals() {
    let mut house = constant("A", Case::Unit, &Hour::default());
    house.ledger_by_month = vec![
        // 1.2 MJ are a third of a kilowatt-hour: twelve printed 0.333 make 3.996, not 4.000.
        LedgerLine { book: "heat", label: "solar", by_month: [1.2e6; 12] },
        LedgerLine { book: "core water", label: "drain", by_month: [-0.5; 12] },
    ];
    let thirds = ["0.333"; 12].join(",");
    let halves = ["-0.500"; 12].join(",");
    let expected = format!(
        "book,label,unit,jan,feb,mar,apr,may,jun,jul,aug,sep,oct,nov,dec,year\n\
         heat,solar,kWh,{thirds},3.996\ncore water,drain,kg,{halves},-6.000\n"
    );
    assert_eq!(ledger_csv(&house).unwrap(), expected);
}

#[test]
fn every_column_that_is_written_is_in_the_guide_and_the_other_way_round() {
    let house = &lively_run()[0];
    let summary = RunSummary::new(std::slice::from_ref(house), &SummaryBasis::default()).unwrap();
    let files = [
        (ANNUAL_FILE, summary.annual_csv().unwrap()),
        (MONTHLY_FILE, summary.monthly_csv().unwrap()),
        (HOURLY_FILE, hourly_csv(house, &Calendar::for_hours(HOURS).unwrap()).unwrap()),
        (LEDGER_FILE, ledger_csv(house).unwrap()),
        (CLIMATES_FILE, climates_csv(&[]).unwrap()),
    ];
    let guide = column_guide();
    for (file, text) in &files {
        let written: Vec<&str> = text.lines().next().unwrap().split(',').collect();
        let told: Vec<&str> =
            guide.iter().filter(|doc| doc.file == *file).map(|doc| doc.name.as_str()).collect();
        assert_eq!(told, written, "{file}");
    }
    for doc in &guide {
        assert!(!doc.meaning.is_empty() && doc.meaning.ends_with('.'), "{doc:?}");
        // The columns of two files are compared with what is written where those are tested.
        let elsewhere = [BINS_FILE, MONEY_FILE].contains(&doc.file);
        assert!(elsewhere || files.iter().any(|(file, _)| *file == doc.file), "{doc:?}");
    }
}

#[test]
fn the_guide_takes_units_of_hourly_columns_from_their_descriptions() {
    let guide = column_guide();
    let unit = |name: &str| {
        let doc = guide.iter().find(|doc| doc.file == HOURLY_FILE && doc.name == name).unwrap();
        (doc.unit.clone(), doc.aggregates.clone())
    };
    let pair = |unit: &str, how: &str| (unit.to_owned(), how.to_owned());
    assert_eq!(unit("outdoor_c"), pair("°C", "mean"));
    assert_eq!(unit("humidity_ratio"), pair("kg/kg dry air", "mean"));
    assert_eq!(unit("relative_humidity"), pair("1", "mean"));
    assert_eq!(unit("delivered_air_kg"), pair("kg dry air", "sum"));
    assert_eq!(unit("drain_kg"), pair("kg", "sum"));
    assert_eq!(unit("frost_kg"), pair("kg", "at the end of the hour"));
    assert_eq!(unit("repeated_steps"), pair("1", "sum"));
}

#[test]
fn the_guide_as_text_keeps_within_a_hundred_characters_and_as_json_is_an_array() {
    let text = guide_text(&column_guide());
    assert!(text.lines().all(|line| line.chars().count() <= 100), "{text}");
    let json: serde_json::Value = serde_json::from_str(&guide_json(&column_guide()).unwrap()).unwrap();
    assert_eq!(json.as_array().unwrap().len(), column_guide().len());
    if std::env::var("REPORTING_PICTURES").is_ok() {
        println!("{text}");
    }
}

#[test]
fn the_order_of_figures_is_the_order_of_columns() {
    assert_eq!(COLUMNS[Figure::HeatingKwh as usize].name, "heating_kwh");
    assert_eq!(COLUMNS[Figure::PeakCondensateDate as usize].name, "peak_condensate_date");
    assert_eq!(COLUMNS[Figure::ExhaustGapMeanK as usize].name, "exhaust_gap_mean_k");
}
