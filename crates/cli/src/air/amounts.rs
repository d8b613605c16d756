//! Amounts that only `air` takes: fractions, humidity ratio, enthalpy, pressure.
//!
//! Not here: temperatures and lengths, which the study's own table reads.

use crate::failure::Failure;

/// What an option takes: names of units with factor and shift to SI, `si = (number + shift) × factor`.
pub(crate) struct Amount {
    what: &'static str,
    units: &'static [(&'static str, f64, f64)],
}

/// Fractions from per cent.
pub(crate) const FRACTION: Amount = Amount { what: "a relative humidity", units: &[("%", 0.0, 0.01)] };

/// Humidity ratio to kg/kg.
pub(crate) const HUMIDITY_RATIO: Amount = Amount {
    what: "a humidity ratio",
    units: &[("g/kg", 0.0, 1e-3), ("kg/kg", 0.0, 1.0), ("gr/lb", 0.0, 1.0 / 7000.0), ("lb/lb", 0.0, 1.0)],
};

/// Btu/lb to J/kg, exact by definition of the International Table Btu and the pound.
const J_PER_KG_IN_BTU_PER_LB: f64 = 2326.0;
/// Enthalpy of dry air at 0 °C above dry air at 0 °F [Btu/lb]: 32 °F × 1.006 kJ/kgK.
const IP_ZERO_BTU_PER_LB: f64 = 32.0 / 1.8 * 1006.0 / J_PER_KG_IN_BTU_PER_LB;

/// Enthalpy to J/kg. In IP units it counts from dry air at 0 °F, as is usual there, so it is shifted.
pub(crate) const ENTHALPY: Amount = Amount {
    what: "an enthalpy",
    units: &[
        ("kJ/kg", 0.0, 1e3),
        ("J/kg", 0.0, 1.0),
        ("Btu/lb", -IP_ZERO_BTU_PER_LB, J_PER_KG_IN_BTU_PER_LB),
    ],
};

/// Pressure to Pa. The inch of mercury is the conventional one (3 386.389 Pa).
pub(crate) const PRESSURE: Amount = Amount {
    what: "a pressure",
    units: &[
        ("Pa", 0.0, 1.0),
        ("hPa", 0.0, 100.0),
        ("kPa", 0.0, 1e3),
        ("mbar", 0.0, 100.0),
        ("bar", 0.0, 1e5),
        ("inHg", 0.0, 3386.389),
        ("psi", 0.0, 6_894.757_293_168),
    ],
};

/// Enthalpy in Btu/lb, counted from dry air at 0 °F.
pub(crate) fn enthalpy_ip(j_per_kg: f64) -> f64 {
    j_per_kg / J_PER_KG_IN_BTU_PER_LB + IP_ZERO_BTU_PER_LB
}

impl Amount {
    /// The amount in SI.
    pub(crate) fn read(&self, option: &str, text: &str) -> Result<f64, Failure> {
        let trimmed = text.trim().replace('\u{2212}', "-");
        let at = trimmed.find(|c: char| !matches!(c, '0'..='9' | '.' | '-' | '+')).unwrap_or(trimmed.len());
        // An exponent belongs to the number.
        let at = exponent_end(&trimmed, at);
        let (number, unit) = trimmed.split_at(at);
        let names: Vec<&str> = self.units.iter().map(|unit| unit.0).collect();
        let fits = format!("units that fit: {}", names.join(", "));
        if !number.is_empty() && unit.starts_with(',') {
            let message = format!("{option} \"{text}\": a number with a comma is not read");
            return Err(Failure::input(message).hint(decimal_point(&trimmed)));
        }
        let Some(number) = number.parse::<f64>().ok().filter(|number| number.is_finite()) else {
            let message = format!("{option} \"{text}\": {} is needed, a number with its unit", self.what);
            return Err(Failure::input(message).hint(fits));
        };
        let unit = unit.trim();
        let found = self.units.iter().find(|known| known.0 == unit);
        let Some(&(_, shift, factor)) = found else {
            let why = if unit.is_empty() {
                "a unit is missing".to_owned()
            } else {
                format!("`{unit}` does not fit")
            };
            return Err(Failure::input(format!("{option} \"{text}\": {why}")).hint(fits));
        };
        Ok((number + shift) * factor)
    }
}

/// What to write instead of a decimal comma.
pub(crate) fn decimal_point(text: &str) -> String {
    format!("write a decimal point: \"{}\"", text.replace(',', "."))
}

fn exponent_end(text: &str, at: usize) -> usize {
    let rest = &text[at..];
    if at == 0 || !rest.starts_with(['e', 'E']) {
        return at;
    }
    let digits = rest[1..].find(|c: char| !matches!(c, '0'..='9' | '-' | '+')).unwrap_or(rest.len() - 1);
    if digits > 0 { at + 1 + digits } else { at }
}
