//! Money: alone (`"2400 USD"`), a year (`"40 USD/year"`) or for energy (`"0.14 USD/kWh"`).
//!
//! Here: one value. Not here: that a study counts in one currency (`read/money.rs`). Read next: `read/money.rs`.

use toml::de::DeValue;

use super::{Fault, Kind, comma_hint, kind_of, plain_number};
use crate::problem::shortened;
use crate::quantity::split;

/// What is paid for.
#[derive(Clone, Copy)]
pub(crate) struct Per {
    pub name: &'static str,
    pub also: &'static [&'static str],
    /// How much of the first of its kind it is.
    pub size: f64,
}

/// Money, between 0 and a bound.
#[derive(Clone, Copy)]
pub(crate) struct Price {
    pub key: &'static str,
    /// What it is, with its article.
    pub what: &'static str,
    /// What it is paid for; the first is what it is read to. Empty: paid once.
    pub per: &'static [Per],
    /// At most, as it is read.
    pub most: f64,
    pub example: &'static str,
}

/// What was written.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Money {
    /// For one of the first of [`Price::per`].
    pub amount: f64,
    /// Three capital letters.
    pub currency: String,
}

impl Kind for Price {
    type Out = Money;

    fn key(&self) -> &'static str {
        self.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<Money, Fault> {
        let like = format!("write it like \"{}\"", self.example);
        let DeValue::String(text) = value else {
            return Err(match plain_number(value) {
                Some(_) => Fault::new(format!("{} needs {}", self.what, self.needed()), "no currency"),
                None => Fault::new(format!("{} is needed", self.what), kind_of(value)),
            }
            .hint(like));
        };
        let plain = text.replace('\u{2212}', "-");
        let (number, rest) = split(plain.trim());
        if number.is_empty() {
            let message = format!("{} is needed, but there is no number at its start", self.what);
            return Err(Fault::new(message, "no number").hint(like));
        }
        if rest.starts_with(',') {
            return Err(Fault::new("a number with a comma is not read", "a comma").hint(comma_hint(text)));
        }
        if rest.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '.' | '_' | '\'' | '’')) {
            let message = "a number is written without gaps or marks between its digits";
            return Err(Fault::new(message, "digits that do not join").hint(like));
        }
        let (currency, per) =
            rest.split_once('/').map_or((rest, None), |(currency, per)| (currency, Some(per)));
        let currency = currency.trim();
        if currency.is_empty() {
            let message = format!("{} needs {}", self.what, self.needed());
            return Err(Fault::new(message, "no currency").hint(like));
        }
        if currency.len() != 3 || !currency.bytes().all(|byte| byte.is_ascii_uppercase()) {
            let message = format!("`{}` is no currency of three capital letters", shortened(currency));
            let hint = format!("{like}, with the letters of your currency, such as USD, CAD or EUR");
            return Err(Fault::new(message, "unknown currency").hint(hint));
        }
        let size = self.size(per)?;
        let amount =
            number.parse::<f64>().ok().filter(|number| number.is_finite()).map(|number| number / size);
        let amount = amount.ok_or_else(|| Fault::new("the number is too large", "too large"))?;
        if !(0.0..=self.most).contains(&amount) {
            let message = format!("must lie between 0 and {}{}", self.most, self.of_first());
            return Err(Fault::new(message, "out of range"));
        }
        Ok(Money { amount, currency: currency.to_owned() })
    }
}

impl Price {
    fn needed(&self) -> &'static str {
        if self.per.is_empty() { "a currency" } else { "a currency and what it is paid for" }
    }

    fn of_first(&self) -> String {
        self.per.first().map_or_else(String::new, |per| format!(" a {}", per.name))
    }

    fn size(&self, per: Option<&str>) -> Result<f64, Fault> {
        let names: Vec<String> = self.per.iter().map(|per| format!("/{}", per.name)).collect();
        let like = format!("write it like \"{}\"", self.example);
        let hint = || match names.as_slice() {
            [] => like.clone(),
            names => format!("{like}; what fits: {}", names.join(", ")),
        };
        match per.map(str::trim) {
            None if self.per.is_empty() => Ok(1.0),
            None => {
                let message = format!("{} is needed, but not what it is paid for", self.what);
                Err(Fault::new(message, "for what?").hint(hint()))
            }
            Some(per) if self.per.is_empty() => {
                let message = format!("{} is needed, paid once and not for `{}`", self.what, shortened(per));
                Err(Fault::new(message, "paid once").hint(hint()))
            }
            Some(per) => {
                let known = self.per.iter().find(|one| one.name == per || one.also.contains(&per));
                known.map(|one| one.size).ok_or_else(|| {
                    let message = format!("{} is needed, but `/{}` does not fit", self.what, shortened(per));
                    Fault::new(message, "does not fit").hint(hint())
                })
            }
        }
    }
}
