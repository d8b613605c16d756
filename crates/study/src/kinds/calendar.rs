//! Days of the year, and numbers by the hour of the day.
//!
//! Here: one value, a list. Not here: what the days and numbers are for (`read/control.rs`). Read next: `read/control.rs`.

use toml::de::DeValue;

use super::{Fault, Kind, kind_of, plain_number};
use crate::model::{DayRange, MonthDay};
use crate::problem::shortened;

/// A list of ranges of days, each like `"07-12..07-26"`.
#[derive(Clone, Copy)]
pub(crate) struct DayRanges {
    pub key: &'static str,
}

const DAYS: &str = "write month and day of the first and the last day: [\"07-12..07-26\", \"12-24..01-01\"]";

impl Kind for DayRanges {
    type Out = Vec<DayRange>;

    fn key(&self) -> &'static str {
        self.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<Vec<DayRange>, Fault> {
        let DeValue::Array(list) = value else {
            return Err(Fault::new("a list of days is needed", kind_of(value)).hint(DAYS));
        };
        if list.is_empty() {
            return Err(Fault::new("a list of days is needed", "nothing in it").hint(DAYS));
        }
        let of_item = |item: &DeValue<'_>| {
            let text = item.as_str().ok_or_else(|| format!("{} and no text", kind_of(item)));
            text.and_then(|text| {
                range(text).ok_or_else(|| format!("`{}` is no range of days", shortened(text)))
            })
        };
        let read: Result<Vec<DayRange>, String> = list.iter().map(|item| of_item(item.get_ref())).collect();
        read.map_err(|message| Fault::new(message, "in this list").hint(DAYS))
    }
}

fn range(text: &str) -> Option<DayRange> {
    let (first, last) = text.split_once("..")?;
    Some(DayRange { first: day(first.trim())?, last: day(last.trim())? })
}

fn day(text: &str) -> Option<MonthDay> {
    let (month, day) = text.split_once('-')?;
    let figures = |part: &str| part.len() == 2 && part.bytes().all(|byte| byte.is_ascii_digit());
    if !figures(month) || !figures(day) {
        return None;
    }
    let (month, day) = (month.parse().ok()?, day.parse().ok()?);
    let most = match month {
        2 => 29,
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => return None,
    };
    (1..=most).contains(&day).then_some(MonthDay { month, day })
}

/// A day of the year, like `"06-01"`.
#[derive(Clone, Copy)]
pub(crate) struct DayOfYear {
    pub key: &'static str,
}

impl Kind for DayOfYear {
    type Out = MonthDay;

    fn key(&self) -> &'static str {
        self.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<MonthDay, Fault> {
        let hint = "write month and day: \"06-01\" for the first of June";
        let Some(text) = value.as_str() else {
            return Err(Fault::new("a day of the year is needed", kind_of(value)).hint(hint));
        };
        day(text.trim()).ok_or_else(|| {
            Fault::new(format!("`{}` is no day of the year", shortened(text)), "no such day").hint(hint)
        })
    }
}

/// A share for each hour of the day, one of them more than 0.
#[derive(Clone, Copy)]
pub(crate) struct HourlyShares {
    pub key: &'static str,
}

impl Kind for HourlyShares {
    type Out = [f64; 24];

    fn key(&self) -> &'static str {
        self.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<[f64; 24], Fault> {
        let hint = "write a share of the flow for each hour from 0:00 on, between 0 and 1";
        let DeValue::Array(list) = value else {
            return Err(Fault::new("a list of 24 numbers is needed", kind_of(value)).hint(hint));
        };
        let mut shares = [0.0; 24];
        if list.len() != shares.len() {
            let label = format!("this has {}", list.len());
            return Err(Fault::new("a list of 24 numbers is needed", label).hint(hint));
        }
        for (hour, (share, item)) in shares.iter_mut().zip(list.iter()).enumerate() {
            let number = plain_number(item.get_ref()).filter(|number| (0.0..=1.0).contains(number));
            let fault = || {
                Fault::new(format!("the share from {hour}:00 on must lie between 0 and 1"), "in this list")
            };
            *share = number.ok_or_else(|| fault().hint(hint))?;
        }
        if shares.iter().all(|share| *share <= 0.0) {
            return Err(Fault::new("one of the shares must be more than 0", "nothing runs").hint(hint));
        }
        Ok(shares)
    }
}
