//! Prints what the reader makes of weather files: the summary and the findings.
//!
//! `cargo run -p weather --example look -- FILE…`

use std::error::Error;
use weather::{Overrides, read, summary};

fn main() -> Result<(), Box<dyn Error>> {
    for path in std::env::args().skip(1) {
        match read(&std::fs::read(&path)?, &Overrides::default()) {
            Ok((year, findings)) => {
                println!("{path}: {}\n{:#?}", year.place.name, summary(&year));
                findings.iter().for_each(|finding| println!("{finding}"));
            }
            Err(error) => println!("{path}: {error}\nhint: {}", error.hint()),
        }
    }
    Ok(())
}
