//! `dewledger`: runs a house and its ventilation recovery core through every hour of a typical year.
//!
//! Here: the way in, and nothing else. Read next: `lib.rs`.

use std::process::ExitCode;

fn main() -> ExitCode {
    dewledger_lib::command_line()
}
