//! The hours of one house-year as a Parquet file: the columns of `hourly_csv`, every bit of every number.
//!
//! Not here: what the columns mean (`simulation::results::Hourly`), the same as text (`hourly`).

use std::sync::Arc;

use arrow_array::{ArrayRef, Float64Array, RecordBatch, UInt8Array};
use arrow_schema::{DataType, Field, Schema};
use parquet::arrow::ArrowWriter;
use parquet::basic::Compression;
use parquet::file::properties::{EnabledStatistics, WriterProperties};
use simulation::results::HouseYear;

use crate::hourly::{HOURLY_KEYS, columns_of};
use crate::summary::check;
use crate::{Calendar, ReportError};

/// `hourly/<unit>.parquet`: month, day and hour ending (1 … 24, local standard time) as whole numbers, then every hourly
/// column as 64-bit floating point; compressed by Snappy, one row group.
///
/// # Errors
/// As [`crate::hourly_csv`]; [`ReportError::Writing`] when the file cannot be made.
pub fn hourly_parquet(year: &HouseYear, calendar: &Calendar) -> Result<Vec<u8>, ReportError> {
    let columns = columns_of(year, calendar)?;
    check(year)?;
    let stamps = || (0..calendar.hours()).map(|hour| calendar.stamp(hour));
    let keys: [UInt8Array; 3] = [
        stamps().map(|stamp| small(stamp.month)).collect(),
        stamps().map(|stamp| small(stamp.day)).collect(),
        stamps().map(|stamp| small(stamp.hour_ending)).collect(),
    ];
    let mut fields: Vec<Field> =
        HOURLY_KEYS.iter().map(|name| Field::new(*name, DataType::UInt8, false)).collect();
    let mut arrays: Vec<ArrayRef> = keys.into_iter().map(|key| Arc::new(key) as ArrayRef).collect();
    for (name, values, _) in columns {
        fields.push(Field::new(name, DataType::Float64, false));
        arrays.push(Arc::new(Float64Array::from(values.to_vec())));
    }
    let schema = Arc::new(Schema::new(fields));
    let batch = RecordBatch::try_new(Arc::clone(&schema), arrays).map_err(ReportError::writing)?;
    // Hardly any two hours are alike, so a dictionary of values would only cost time.
    let properties = WriterProperties::builder()
        .set_compression(Compression::SNAPPY)
        .set_dictionary_enabled(false)
        .set_statistics_enabled(EnabledStatistics::None)
        .build();
    let mut writer =
        ArrowWriter::try_new(Vec::new(), schema, Some(properties)).map_err(ReportError::writing)?;
    writer.write(&batch).map_err(ReportError::writing)?;
    writer.into_inner().map_err(ReportError::writing)
}

/// Months, days and hours fit a byte.
fn small(count: usize) -> Option<u8> {
    u8::try_from(count).ok()
}
