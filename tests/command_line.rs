//! The program as a user meets it: the real binary, in a folder of its own, its words and its files.
//!
//! Here: what each command prints, writes and refuses, and what stays behind when it is stopped. Not here: whether the
//! physics is right, which each crate's own tests say. Read next: `command_line/room.rs`, which every test begins with.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a helper that fails is a test that fails"
)]

#[path = "command_line/origins.rs"]
mod origins;
#[path = "command_line/pages.rs"]
mod pages;
#[path = "command_line/room.rs"]
mod room;
#[path = "command_line/rooms_and_upkeep.rs"]
mod rooms_and_upkeep;
#[path = "command_line/tables.rs"]
mod tables;

#[path = "command_line/air.rs"]
mod air;
#[path = "command_line/air_tables.rs"]
mod air_tables;
#[path = "command_line/bad_studies.rs"]
mod bad_studies;
#[path = "command_line/bad_weather.rs"]
mod bad_weather;
#[path = "command_line/bins.rs"]
mod bins;
#[path = "command_line/bins_study.rs"]
mod bins_study;
#[path = "command_line/books.rs"]
mod books;
#[path = "command_line/climate_charts.rs"]
mod climate_charts;
#[path = "command_line/climate_files.rs"]
mod climate_files;
#[path = "command_line/climate_matrix.rs"]
mod climate_matrix;
#[path = "command_line/climates.rs"]
mod climates;
#[path = "command_line/core_report.rs"]
mod core_report;
#[path = "command_line/demonstration.rs"]
mod demonstration;
#[path = "command_line/faults.rs"]
mod faults;
#[path = "command_line/guides.rs"]
mod guides;
#[path = "command_line/help.rs"]
mod help;
#[path = "command_line/hourly_parquet.rs"]
mod hourly_parquet;
#[path = "command_line/interrupted.rs"]
mod interrupted;
#[path = "command_line/money.rs"]
mod money;
#[path = "command_line/new_study.rs"]
mod new_study;
#[path = "command_line/output_folder.rs"]
mod output_folder;
#[path = "command_line/report.rs"]
mod report;
#[path = "command_line/report_spread.rs"]
mod report_spread;
#[path = "command_line/report_text.rs"]
mod report_text;
#[path = "command_line/sweep_files.rs"]
mod sweep_files;
#[path = "command_line/sweeps.rs"]
mod sweeps;
#[path = "command_line/unit_names.rs"]
mod unit_names;
#[path = "command_line/untidy_weather.rs"]
mod untidy_weather;
#[path = "command_line/weather_report.rs"]
mod weather_report;
#[path = "command_line/what_if.rs"]
mod what_if;
