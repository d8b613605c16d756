//! Writes the invented climates into the folder named as the argument (`weather-samples` unless given).

use std::error::Error;
use std::path::PathBuf;
use weather::{invented, make, write_plain_csv};

fn main() -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(std::env::args().nth(1).unwrap_or_else(|| "weather-samples".to_owned()));
    for sample in invented::samples() {
        let year = make::make(&sample.climate)?;
        std::fs::write(folder.join(sample.file_name), write_plain_csv(&year))?;
    }
    Ok(())
}
