//! A key that is true or false.
//!
//! Here: one value, read to what each of the two means. Not here: the other kinds (`kinds.rs`). Read next: `specs.rs`.

use toml::de::DeValue;

use super::{Fault, Kind, kind_of};

/// True or false.
#[derive(Clone, Copy)]
pub(crate) struct Switch<T: 'static> {
    pub key: &'static str,
    pub on: T,
    pub off: T,
}

impl<T: Copy> Kind for Switch<T> {
    type Out = T;

    fn key(&self) -> &'static str {
        self.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<T, Fault> {
        match value {
            DeValue::Boolean(true) => Ok(self.on),
            DeValue::Boolean(false) => Ok(self.off),
            other => {
                let fault = Fault::new("true or false is needed", kind_of(other));
                Err(fault.hint("write true or false, without quotation marks"))
            }
        }
    }
}
