//! An hour of the day.
//!
//! Here: one value, such as `"22:00"`. Not here: from when to when (`read/plant.rs`). Read next: `specs.rs`.

use toml::de::DeValue;

use super::{Fault, Kind, kind_of};

/// A full hour, 0…23; `"24:00"` is 0.
#[derive(Clone, Copy)]
pub(crate) struct ClockHour {
    pub key: &'static str,
    pub example: &'static str,
}

impl Kind for ClockHour {
    type Out = u32;

    fn key(&self) -> &'static str {
        self.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<u32, Fault> {
        let hint = format!("write \"{}\"", self.example);
        let DeValue::String(text) = value else {
            let fault = Fault::new("a time of day between quotation marks is needed", kind_of(value));
            return Err(fault.hint(hint));
        };
        let Some((hour, minute)) = clock(text.trim()) else {
            return Err(Fault::new("a time of day is needed", "no time of day").hint(hint));
        };
        if minute != 0 {
            return Err(Fault::new("must be a full hour", "a part of an hour").hint(hint));
        }
        Ok(hour % 24)
    }
}

/// Hours 0…24 and minutes of `22:30`; one figure of the hour will do.
fn clock(text: &str) -> Option<(u32, u32)> {
    let (hour, minute) = text.split_once(':')?;
    let figures = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    if !matches!(hour.len(), 1 | 2) || minute.len() != 2 || !figures(hour) || !figures(minute) {
        return None;
    }
    let (hour, minute) = (hour.parse().ok()?, minute.parse().ok()?);
    let is_a_time = (hour < 24 && minute < 60) || (hour == 24 && minute == 0);
    is_a_time.then_some((hour, minute))
}
