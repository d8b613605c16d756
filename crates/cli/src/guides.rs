//! `dewledger columns` and `dewledger schema`.

use reporting::ColumnDoc;

use crate::arguments::{Columns, Schema};
use crate::failure::Failure;
use crate::show;

pub(crate) fn columns(options: &Columns) -> Result<(), Failure> {
    let text = if options.json { guide_json()? } else { reporting::guide_text(&guide()) };
    show::result_line(text.trim_end())
}

/// Every column of every file, as JSON.
pub(crate) fn guide_json() -> Result<String, Failure> {
    reporting::guide_json(&guide()).map_err(Failure::work)
}

fn guide() -> Vec<ColumnDoc> {
    let of_sweeps = sweep::guide().into_iter().map(|doc| ColumnDoc {
        file: doc.file,
        name: doc.name.to_owned(),
        unit: doc.unit.to_owned(),
        aggregates: String::new(),
        meaning: doc.meaning.to_owned(),
    });
    reporting::column_guide().into_iter().chain(of_sweeps).collect()
}

pub(crate) fn schema(options: &Schema) -> Result<(), Failure> {
    if options.sweep {
        return show::result_line(sweep::schema().trim_end());
    }
    show::result_line(study::schema().trim_end())
}
