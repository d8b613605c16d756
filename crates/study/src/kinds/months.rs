//! Months of the year.
//!
//! Here: one value, a list such as `[6, 7, 8]`. Not here: what holds in them (`read/money.rs`).

use toml::de::DeValue;

use super::{Fault, Kind, kind_of, plain_number};

/// A list of months by number, each once.
#[derive(Clone, Copy)]
pub(crate) struct Months {
    pub key: &'static str,
}

impl Kind for Months {
    type Out = Vec<u8>;

    fn key(&self) -> &'static str {
        self.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<Vec<u8>, Fault> {
        let hint = "write their numbers, 1 to 12: [6, 7, 8] for June to August";
        let DeValue::Array(list) = value else {
            return Err(Fault::new("a list of months is needed", kind_of(value)).hint(hint));
        };
        if list.is_empty() {
            return Err(Fault::new("a list of months is needed", "nothing in it").hint(hint));
        }
        let mut months = Vec::new();
        for item in list {
            let number = plain_number(item.get_ref());
            let month = (1..=12_u8).find(|month| number == Some(f64::from(*month)));
            let Some(month) = month.filter(|month| !months.contains(month)) else {
                let message = "each must be a whole number from 1 to 12, and stand there once";
                return Err(Fault::new(message, "in this list").hint(hint));
            };
            months.push(month);
        }
        Ok(months)
    }
}
