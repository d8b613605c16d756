//! `dewledger columns` and `dewledger schema`.

use crate::arguments::Columns;
use crate::failure::Failure;

pub(crate) fn columns(options: &Columns) -> Result<(), Failure> {
    let text =
        if options.json { reporting::guide_json().map_err(Failure::work)? } else { reporting::guide_text() };
    println!("{}", text.trim_end());
    Ok(())
}

pub(crate) fn schema() -> Result<(), Failure> {
    println!("{}", study::schema().trim_end());
    Ok(())
}
