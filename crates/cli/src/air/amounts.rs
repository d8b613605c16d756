//! Amounts that no study holds: fractions, humidity ratio, enthalpy, pressure, wind speed, irradiation.
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

/// Wind speed to m/s. A mile is 1 609.344 m and a nautical mile 1 852 m, by definition.
pub(crate) const WIND_SPEED: Amount = Amount {
    what: "a wind speed",
    units: &[
        ("m/s", 0.0, 1.0),
        ("km/h", 0.0, 1.0 / 3.6),
        ("mph", 0.0, 0.447_04),
        ("kn", 0.0, 1852.0 / 3600.0),
        ("kt", 0.0, 1852.0 / 3600.0),
    ],
};

/// Btu (International Table) on a square foot, in kWh/m².
const KWH_PER_M2_IN_BTU_PER_FT2: f64 = 1_055.055_852_62 / 3.6e6 / 0.092_903_04;

/// Irradiation of a day to kWh/m².
pub(crate) const IRRADIATION_OF_A_DAY: Amount = Amount {
    what: "an irradiation",
    units: &[
        ("kWh/m2 day", 0.0, 1.0),
        ("Wh/m2 day", 0.0, 1e-3),
        ("MJ/m2 day", 0.0, 1.0 / 3.6),
        ("Btu/ft2 day", 0.0, KWH_PER_M2_IN_BTU_PER_FT2),
    ],
};

/// Irradiation of a month to kWh/m².
pub(crate) const IRRADIATION_OF_A_MONTH: Amount = Amount {
    what: "an irradiation",
    units: &[
        ("kWh/m2 month", 0.0, 1.0),
        ("MJ/m2 month", 0.0, 1.0 / 3.6),
        ("kBtu/ft2 month", 0.0, 1e3 * KWH_PER_M2_IN_BTU_PER_FT2),
    ],
};

/// Enthalpy in Btu/lb, counted from dry air at 0 °F.
pub(crate) fn enthalpy_ip(j_per_kg: f64) -> f64 {
    j_per_kg / J_PER_KG_IN_BTU_PER_LB + IP_ZERO_BTU_PER_LB
}

/// Why a text is no such amount, and what would be right.
pub(crate) struct Misread {
    pub(crate) message: String,
    pub(crate) hint: String,
}

impl Amount {
    /// The amount in SI, where an option gives it.
    pub(crate) fn read(&self, option: &str, text: &str) -> Result<f64, Failure> {
        self.parse(text).map_err(|Misread { message, hint }| {
            Failure::input(format!("{option} \"{text}\": {message}")).hint(hint)
        })
    }

    /// The units that fit, with commas between them.
    pub(crate) fn names(&self) -> String {
        self.units.iter().map(|unit| unit.0).collect::<Vec<_>>().join(", ")
    }

    /// The amount in SI.
    pub(crate) fn parse(&self, text: &str) -> Result<f64, Misread> {
        let trimmed = text.trim().replace('\u{2212}', "-");
        let at = trimmed.find(|c: char| !matches!(c, '0'..='9' | '.' | '-' | '+')).unwrap_or(trimmed.len());
        // An exponent belongs to the number.
        let at = exponent_end(&trimmed, at);
        let (number, unit) = trimmed.split_at(at);
        let fits = format!("units that fit: {}", self.names());
        if !number.is_empty() && unit.starts_with(',') {
            let message = "a number with a comma is not read".to_owned();
            return Err(Misread { message, hint: decimal_point(&trimmed) });
        }
        let Some(number) = number.parse::<f64>().ok().filter(|number| number.is_finite()) else {
            let message = format!("{} is needed, a number with its unit", self.what);
            return Err(Misread { message, hint: fits });
        };
        let unit = unit.trim();
        let found = self.units.iter().find(|known| known.0 == unit || squeezed(known.0) == squeezed(unit));
        let Some(&(_, shift, factor)) = found else {
            let message = if unit.is_empty() {
                "a unit is missing".to_owned()
            } else {
                format!("`{unit}` does not fit")
            };
            return Err(Misread { message, hint: fits });
        };
        Ok((number + shift) * factor)
    }
}

/// Leaves out what does not change a unit: `kWh/m² day` is `kWh/m2/day`.
fn squeezed(unit: &str) -> String {
    let plain: String = unit.chars().filter(|c| !matches!(c, ' ' | '·' | '(' | ')')).collect();
    plain.replace('²', "2").replace("/day", "day").replace("/month", "month")
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
