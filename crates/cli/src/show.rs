//! What is printed: results to stdout, notes to stderr.
//!
//! Whoever reads may stop reading (`dewledger columns | head`): that is no failure of ours, and no panic.

use std::fmt::Display;
use std::io::{self, ErrorKind, Write};

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

/// A note to the user. When even stderr is gone, nobody is left to be told.
pub(crate) fn note(text: impl Display) {
    let _ = writeln!(io::stderr().lock(), "{text}");
}
