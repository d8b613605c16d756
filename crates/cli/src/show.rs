//! What is printed: results to stdout, notes to stderr.
//!
//! Whoever reads may stop reading (`dewledger columns | head`): that is no failure of ours, and no panic.

use std::fmt::Display;
use std::io::{self, ErrorKind, IsTerminal, Write};

use crate::failure::Failure;

/// A result, as it stands.
pub(crate) fn result(text: &str) -> Result<(), Failure> {
    let mut stdout = io::stdout().lock();
    match stdout.write_all(text.as_bytes()).and_then(|()| stdout.flush()) {
        Err(cause) if cause.kind() != ErrorKind::BrokenPipe => {
            Err(Failure::unwritable("stdout".as_ref(), &cause))
        }
        _ => Ok(()),
    }
}

/// A result that ends in a line break.
pub(crate) fn result_line(text: impl Display) -> Result<(), Failure> {
    result(&format!("{text}\n"))
}

/// How far long work has come, on one line that is written over; only where stderr is a terminal.
pub(crate) fn progress(done: usize, all: usize, what: &str) {
    let mut stderr = io::stderr().lock();
    if stderr.is_terminal() {
        let end = if done == all { "\n" } else { "" };
        let _ = write!(stderr, "\r{done} of {all} {what}{end}").and_then(|()| stderr.flush());
    }
}

/// A note to the user. When even stderr is gone, nobody is left to be told.
pub(crate) fn note(text: impl Display) {
    let _ = writeln!(io::stderr().lock(), "{text}");
}
