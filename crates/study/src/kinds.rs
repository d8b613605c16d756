//! The kinds of value a key may take: quantity, number, count, choice, switch, text, and four special ones.
//!
//! Here: one value, read and checked against its range. Not here: the keys themselves (`specs`).
//! Read next: `specs.rs`.

mod calendar;
mod clock;
mod leakage;
mod money;
mod months;
mod switch;
mod word_or;

use toml::de::DeValue;

use crate::model::{MassClass, TimeStep};
use crate::problem::{listed, shortened};
use crate::quantity::{Quantity, QuantityError, parse_quantity};
use crate::units::Dimension;

pub(crate) use calendar::{DayOfYear, DayRanges, HourlyShares};
pub(crate) use clock::ClockHour;
pub(crate) use leakage::{GivenLeakage, Leakage};
pub(crate) use money::{Per, Price};
pub(crate) use months::Months;
pub(crate) use switch::Switch;
pub(crate) use word_or::{Given, WordOr};

/// Why a value is refused; the reader adds the key and the place.
#[derive(Debug)]
pub(crate) struct Fault {
    pub message: String,
    pub label: String,
    pub hint: Option<String>,
}

impl Fault {
    pub fn new(message: impl Into<String>, label: impl Into<String>) -> Self {
        Self { message: message.into(), label: label.into(), hint: None }
    }

    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }
}

/// What a key takes.
pub(crate) trait Kind {
    type Out;
    fn key(&self) -> &'static str;
    fn read(&self, value: &DeValue<'_>) -> Result<Self::Out, Fault>;
}

/// A quantity between two bounds, read to SI.
#[derive(Clone, Copy)]
pub(crate) struct Measure {
    pub key: &'static str,
    pub dimension: Dimension,
    pub least: &'static str,
    pub most: &'static str,
    pub example: &'static str,
}

impl Kind for Measure {
    type Out = f64;

    fn key(&self) -> &'static str {
        self.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<f64, Fault> {
        let text = match value {
            DeValue::String(text) => text.as_ref(),
            other => return Err(self.not_text(other)),
        };
        let quantity = self.parse(text)?;
        self.in_range(quantity)
    }
}

impl Measure {
    fn not_text(&self, value: &DeValue<'_>) -> Fault {
        let needed = self.dimension.with_article();
        match plain_number(value) {
            Some(number) => {
                let number = self.likely(number);
                let unit = self.dimension.units().next().map_or("", |unit| unit.name);
                Fault::new(format!("{needed} needs a unit"), "no unit").hint(format!(
                    "write it between quotation marks with its unit, such as \"{number} {unit}\"; {}",
                    units_that_fit(self.dimension)
                ))
            }
            None => Fault::new(format!("{needed} is needed"), kind_of(value))
                .hint(format!("write \"{}\"", self.example)),
        }
    }

    /// The number that was meant: a humidity without a unit is a fraction more often than one percent at most.
    fn likely(&self, number: f64) -> String {
        let fraction = self.dimension == Dimension::RelativeHumidity && number <= 1.0;
        if fraction { brief(number * 100.0) } else { number.to_string() }
    }

    fn parse(&self, text: &str) -> Result<Quantity, Fault> {
        parse_quantity(text, self.dimension).map_err(|error| {
            let hint = match &error {
                QuantityError::Comma { .. } => comma_hint(text),
                QuantityError::NoNumber { .. }
                | QuantityError::TooLarge { .. }
                | QuantityError::Gap { .. } => {
                    format!("write it like \"{}\"", self.example)
                }
                _ => units_that_fit(self.dimension),
            };
            Fault::new(error.to_string(), label_of(&error)).hint(hint)
        })
    }

    fn in_range(&self, quantity: Quantity) -> Result<f64, Fault> {
        let bounds = (parse_quantity(self.least, self.dimension), parse_quantity(self.most, self.dimension));
        let (Ok(least), Ok(most)) = bounds else {
            return Err(Fault::new("the range of this key cannot be read: a fault of this program", "here"));
        };
        let si = quantity.si();
        if si >= least.si() && si <= most.si() {
            return Ok(si);
        }
        let label = if quantity.unit == least.unit {
            "out of range".to_owned()
        } else {
            format!("this is {} {}", brief(least.unit.from_si(si)), least.unit.name)
        };
        Err(Fault::new(format!("must lie between {} and {}", self.least, self.most), label))
    }
}

fn units_that_fit(dimension: Dimension) -> String {
    let names: Vec<&str> = dimension.units().map(|unit| unit.name).collect();
    format!("units that fit: {}", names.join(", "))
}

fn label_of(error: &QuantityError) -> String {
    match error {
        QuantityError::NoNumber { .. } => "no number".to_owned(),
        QuantityError::Comma { .. } => "a comma".to_owned(),
        QuantityError::Gap { .. } => "digits that do not join".to_owned(),
        QuantityError::TooLarge { .. } => "too large".to_owned(),
        QuantityError::NoUnit { .. } => "no unit".to_owned(),
        QuantityError::WrongUnit { needed, .. } => format!("not {}", needed.with_article()),
        QuantityError::UnknownUnit { .. } => "unknown unit".to_owned(),
    }
}

fn comma_hint(text: &str) -> String {
    let point = shortened(&text.replacen(',', ".", 1));
    let after =
        text.split_once(',').map_or(0, |(_, rest)| rest.bytes().take_while(u8::is_ascii_digit).count());
    if after == 3 {
        let joined = shortened(&text.replacen(',', "", 1));
        return format!("write \"{joined}\", or \"{point}\" if the comma is a decimal one");
    }
    format!("write a decimal point: \"{point}\"")
}

/// A plain number between two bounds.
#[derive(Clone, Copy)]
pub(crate) struct Number {
    pub key: &'static str,
    pub least: f64,
    pub most: f64,
}

impl Kind for Number {
    type Out = f64;

    fn key(&self) -> &'static str {
        self.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<f64, Fault> {
        let (least, most) = (self.least, self.most);
        let Some(number) = plain_number(value) else {
            let fault = Fault::new("a plain number is needed", kind_of(value));
            return Err(fault.hint(format!("it has no unit and lies between {least} and {most}")));
        };
        if number >= least && number <= most {
            return Ok(number);
        }
        let fault = Fault::new(format!("must lie between {least} and {most}"), "out of range");
        let share = number / 100.0;
        let looks_like_percent = number > most && share >= least && share <= most.min(1.0);
        let hint = || format!("write a fraction, not percent: {}", brief(share));
        Err(if looks_like_percent { fault.hint(hint()) } else { fault })
    }
}

/// A share that is lost, which some sheets state as the share that is left.
#[derive(Clone, Copy)]
pub(crate) struct LostShare(pub Number);

impl Kind for LostShare {
    type Out = f64;

    fn key(&self) -> &'static str {
        self.0.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<f64, Fault> {
        self.0.read(value).map_err(|fault| match plain_number(value) {
            Some(left) if left > self.0.most && left <= 1.0 => fault.hint(format!(
                "it is the share lost, not the share left: a factor of {left} is a reduction of {}",
                brief(1.0 - left)
            )),
            _ => fault,
        })
    }
}

/// A whole number between two bounds.
#[derive(Clone, Copy)]
pub(crate) struct Count {
    pub key: &'static str,
    pub least: u32,
    pub most: u32,
}

impl Kind for Count {
    type Out = u32;

    fn key(&self) -> &'static str {
        self.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<u32, Fault> {
        let (least, most) = (self.least, self.most);
        let DeValue::Integer(integer) = value else {
            let fault = Fault::new("a whole number is needed", kind_of(value));
            return Err(fault.hint(format!("it has no unit and lies between {least} and {most}")));
        };
        let number = u32::from_str_radix(integer.as_str(), integer.radix()).ok();
        number
            .filter(|number| (least..=most).contains(number))
            .ok_or_else(|| Fault::new(format!("must lie between {least} and {most}"), "out of range"))
    }
}

/// One of a few words.
#[derive(Clone, Copy)]
pub(crate) struct Choice<T: 'static> {
    pub key: &'static str,
    pub options: &'static [(&'static str, T)],
}

impl<T: Copy> Kind for Choice<T> {
    type Out = T;

    fn key(&self) -> &'static str {
        self.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<T, Fault> {
        let words: Vec<&str> = self.options.iter().map(|(word, _)| *word).collect();
        let choice = match words.as_slice() {
            [only] => format!("write \"{only}\", the one choice of this version"),
            _ => format!("choose {}", listed(&words, "or")),
        };
        let DeValue::String(text) = value else {
            return Err(Fault::new("a word between quotation marks is needed", kind_of(value)).hint(choice));
        };
        let found = self.options.iter().find(|(word, _)| *word == text.trim());
        found.map(|(_, option)| *option).ok_or_else(|| {
            let near = crate::keys::nearest(text, &words).map(|word| format!("did you mean `{word}`? "));
            let message = format!("`{}` is no choice here", shortened(text));
            Fault::new(message, "unknown word").hint(near.unwrap_or_default() + &choice)
        })
    }
}

/// One line of text.
#[derive(Clone, Copy)]
pub(crate) struct Line {
    pub key: &'static str,
    pub most_characters: usize,
    pub example: &'static str,
}

impl Kind for Line {
    type Out = String;

    fn key(&self) -> &'static str {
        self.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<String, Fault> {
        let hint = format!("write \"{}\"", self.example);
        let DeValue::String(text) = value else {
            return Err(Fault::new("text between quotation marks is needed", kind_of(value)).hint(hint));
        };
        let text = text.trim();
        if text.is_empty() {
            return Err(Fault::new("must not be empty", "empty").hint(hint));
        }
        if text.chars().any(char::is_control) {
            return Err(Fault::new("must be one line without control characters", "here").hint(hint));
        }
        if text.chars().count() > self.most_characters {
            let message = format!("must have {} characters at most", self.most_characters);
            return Err(Fault::new(message, "too long"));
        }
        Ok(text.to_owned())
    }
}

/// The time step: a duration, but one of five.
#[derive(Clone, Copy)]
pub(crate) struct Step(pub Measure);

impl Kind for Step {
    type Out = TimeStep;

    fn key(&self) -> &'static str {
        self.0.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<TimeStep, Fault> {
        const STEPS: [TimeStep; 5] = [
            TimeStep::FiveMinutes,
            TimeStep::TenMinutes,
            TimeStep::QuarterHour,
            TimeStep::HalfHour,
            TimeStep::Hour,
        ];
        let seconds = self.0.read(value)?;
        STEPS.into_iter().find(|step| (step.seconds() - seconds).abs() < 1e-6).ok_or_else(|| {
            Fault::new("must be \"5 min\", \"10 min\", \"15 min\", \"30 min\" or \"1 h\"", "no such step")
        })
    }
}

/// A duration of whole hours.
#[derive(Clone, Copy)]
pub(crate) struct WholeHours(pub Measure);

impl Kind for WholeHours {
    type Out = u32;

    fn key(&self) -> &'static str {
        self.0.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<u32, Fault> {
        let hours = self.0.read(value)? / 3600.0;
        let whole = hours.round();
        if (hours - whole).abs() > 1e-6 {
            return Err(Fault::new("must be whole hours", "a part of an hour").hint("write \"21 d\""));
        }
        // The range of the measure keeps this far inside u32.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0…1440, checked above")]
        Ok(whole as u32)
    }
}

/// Thermal mass: a class, or a heat capacity per area.
#[derive(Clone, Copy)]
pub(crate) struct Mass {
    pub classes: Choice<MassClass>,
    pub measure: Measure,
}

/// What a thermal mass was given as.
#[derive(Clone, Copy)]
pub(crate) enum GivenMass {
    Class(MassClass),
    JoulesPerSquareMetreKelvin(f64),
}

impl Kind for Mass {
    type Out = GivenMass;

    fn key(&self) -> &'static str {
        self.measure.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<GivenMass, Fault> {
        if is_a_word(value) {
            let also = format!(", or a heat capacity such as \"{}\"", self.measure.example);
            return self.classes.read(value).map(GivenMass::Class).map_err(|mut fault| {
                fault.hint = fault.hint.map(|hint| hint + &also);
                fault
            });
        }
        self.measure.read(value).map(GivenMass::JoulesPerSquareMetreKelvin)
    }
}

/// Where a window looks to: a name, or degrees clockwise from north.
#[derive(Clone, Copy)]
pub(crate) struct Facing {
    pub names: Choice<Look>,
    pub measure: Measure,
}

/// Direction of the outside face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Look {
    pub azimuth_deg: f64,
    pub tilt_deg: f64,
}

impl Kind for Facing {
    type Out = (String, Look);

    fn key(&self) -> &'static str {
        self.measure.key
    }

    fn read(&self, value: &DeValue<'_>) -> Result<Self::Out, Fault> {
        let look = if is_a_word(value) {
            self.names.read(value).map_err(|mut fault| {
                let also = format!(", or degrees clockwise from north such as \"{}\"", self.measure.example);
                fault.hint = fault.hint.map(|hint| hint + &also);
                fault
            })?
        } else {
            // "360 deg" is north as well.
            Look { azimuth_deg: self.measure.read(value)? % 360.0, tilt_deg: 90.0 }
        };
        Ok((value.as_str().unwrap_or_default().trim().to_owned(), look))
    }
}

/// Whether the value is text without a digit, sign or point at its start.
fn is_a_word(value: &DeValue<'_>) -> bool {
    let first = value.as_str().and_then(|text| text.trim_start().chars().next());
    first.is_some_and(char::is_alphabetic)
}

fn plain_number(value: &DeValue<'_>) -> Option<f64> {
    let number = match value {
        DeValue::Integer(integer) => {
            let whole = i32::from_str_radix(integer.as_str(), integer.radix()).ok();
            whole.map(f64::from).or_else(|| integer.as_str().parse().ok())
        }
        DeValue::Float(float) => float.as_str().replace('_', "").parse().ok(),
        _ => None,
    };
    number.filter(|number: &f64| number.is_finite())
}

/// What a value is, for a label.
pub(crate) fn kind_of(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "this is text",
        DeValue::Integer(_) | DeValue::Float(_) => "this is a plain number",
        DeValue::Boolean(_) => "this is true or false",
        DeValue::Datetime(_) => "this is a date or a time",
        DeValue::Array(_) => "this is a list",
        DeValue::Table(_) => "this is a table",
    }
}

/// A number with four figures, without needless zeros.
pub(crate) fn brief(number: f64) -> String {
    let magnitude = number.abs();
    if magnitude != 0.0 && !(1e-3..1e6).contains(&magnitude) {
        return format!("{number:.3e}");
    }
    let decimals = match magnitude {
        m if m >= 1000.0 => 0,
        m if m >= 100.0 => 1,
        m if m >= 10.0 => 2,
        m if m >= 1.0 => 3,
        _ => 5,
    };
    let text = format!("{number:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}
