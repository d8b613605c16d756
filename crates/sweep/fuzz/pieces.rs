//! Values and headings of studies and sweep files, put where others stood. Read next: `main.rs`.

use study::Dimension;

use crate::mutate::Chance;

/// What each quantity may be asked for as.
pub const DIMENSIONS: [Dimension; 8] = [
    Dimension::Temperature,
    Dimension::Area,
    Dimension::Duration,
    Dimension::Power,
    Dimension::AirMassFlow,
    Dimension::Conductance,
    Dimension::Angle,
    Dimension::WaterRate,
];

/// Right somewhere, wrong elsewhere.
pub const VALUES: [&str; 44] = [
    "\"140 m2\"",
    "\"1500 ft2\"",
    "\"45 L/s\"",
    "\"95 cfm\"",
    "\"20.5 °C\"",
    "\"-40 °F\"",
    "\"2.5 1/h @50Pa\"",
    "\"450 cm2 @4Pa\"",
    "\"0.14 USD/kWh\"",
    "\"0.14 EUR/kWh\"",
    "\"22:00\"",
    "\"25:00\"",
    "\"06-31\"",
    "\"1.6 kg/day\"",
    "\"50 g/h\"",
    "\"1e308 W/K\"",
    "\"-0 W\"",
    "\"1e-320 m2\"",
    "\"NaN °C\"",
    "\"inf L/s\"",
    "\"٣ m2\"",
    "\"−5 °C\"",
    "\"5 °C 5 °C\"",
    "\"\"",
    "\" \"",
    "0",
    "-1",
    "1.5",
    "nan",
    "-inf",
    "9223372036854775807",
    "0x7f",
    "true",
    "[]",
    "[1, 2, 3]",
    "[\"4 L/s\", \"12 L/s\", \"40 L/s\"]",
    "[[], [[]]]",
    "{}",
    "{ a = 1 }",
    "{ temperature = \"17 °C\", from = \"22:00\", to = \"06:00\" }",
    "1979-05-27T07:32:00Z",
    "\"\\u0000\\uFFFF\"",
    "'''\nlines\n'''",
    "\"family/1\"",
];

const HEADINGS: [&str; 12] = [
    "[study]\n",
    "[house]\n",
    "[[house.window]]\n",
    "[house.window]\n",
    "[[unit]]\n",
    "[unit]\n",
    "[unit.frost]\n",
    "[[unit.rating]]\n",
    "[tariff]\n",
    "[sweep]\n",
    "[vary.\"house.air_leakage\"]\n",
    "[[correlation]]\n",
];

/// Changes a value, a key or a heading.
pub fn spoil(bytes: &mut Vec<u8>, chance: &mut Chance) {
    let lines: Vec<usize> = (0..bytes.len()).filter(|at| *at == 0 || bytes[at - 1] == b'\n').collect();
    let Some(&first) = lines.get(chance.below(lines.len())) else { return };
    let end = bytes[first..].iter().position(|byte| *byte == b'\n').map_or(bytes.len(), |end| first + end);
    let equals = bytes[first..end].iter().position(|byte| *byte == b'=').map(|equals| first + equals);
    match (chance.below(4), equals) {
        (0 | 1, Some(equals)) => {
            let value = VALUES[chance.below(VALUES.len())];
            bytes.splice(equals + 1..end, value.bytes());
        }
        (2, Some(equals)) => {
            bytes.drain(first..equals);
        }
        _ => {
            let heading = HEADINGS[chance.below(HEADINGS.len())];
            bytes.splice(first..first, heading.bytes());
        }
    }
}
