//! `dewledger columns` and `dewledger schema`.

use crate::arguments::{Columns, Schema};
use crate::failure::Failure;
use crate::show;

pub(crate) fn columns(options: &Columns) -> Result<(), Failure> {
    let text =
        if options.json { reporting::guide_json().map_err(Failure::work)? } else { reporting::guide_text() };
    show::result_line(text.trim_end())
}

pub(crate) fn schema(options: &Schema) -> Result<(), Failure> {
    if options.sweep {
        return show::result_line(sweep::schema().trim_end());
    }
    show::result_line(study::schema().trim_end())
}
