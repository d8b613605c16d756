//! The program as a library, for two callers: the binary (`main.rs`), and the Python package (`crates/python`), which so says
//! and reckons what the command line does, to the same words and digits.
//!
//! Here: which command was asked for, and how a failure is shown. Results go to stdout, notes to stderr; exit code 0
//! is done, 1 the work failed, 2 bad input. Not here: anything about air, houses or tables.
//! Read next: `arguments`, then `run`; `calls` for what other programs may call.

mod air;
mod arguments;
mod bins_report;
mod bins_study;
pub mod calls;
mod climate_files;
mod climates;
mod core_report;
mod demonstration;
mod failure;
mod file_names;
mod guides;
mod hidden;
mod house_notes;
mod house_years;
mod manual;
mod money;
mod ours;
mod output;
mod output_file;
mod pixels;
mod report;
mod run;
mod run_files;
mod show;
mod spread;
mod starter;
mod sweeping;
mod understood;
mod upkeep_notes;
mod weather_report;
mod what_if;

use std::process::ExitCode;

use clap::Parser;

use arguments::{Arguments, Command};
use failure::Failure;

/// Does what the arguments of this process ask for.
pub fn command_line() -> ExitCode {
    match dispatch(Arguments::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            show::note(&failure);
            failure.exit_code()
        }
    }
}

fn dispatch(arguments: Arguments) -> Result<(), Failure> {
    match arguments.command {
        Command::Run(options) => run::run(&options),
        Command::New(options) => starter::write(&options),
        Command::Core(options) => core_report::report(&options),
        Command::Weather(options) => weather_report::report(&options),
        Command::Climates(options) => climates::run(&options),
        Command::Sweep(options) => sweeping::run(&options),
        Command::Bins(options) => bins_report::report(&options),
        Command::Air(options) => air::air(&options),
        Command::Columns(options) => guides::columns(&options),
        Command::Schema(options) => guides::schema(&options),
        Command::Completions(options) => manual::completions(&options),
        Command::Man(options) => manual::pages(&options),
    }
}
