//! Where the water of a house's air comes from: published rates and a design total.
//!
//! Data and functions only. Rates by people, washing and cooking differ by half between sources; later measurements (Energy and Buildings
//! 127 (2016) 884) lie below those printed here. Not here: when things happen (`profiles`), the rooms' balance (`moisture`).
//!
//! # Sources
//! \[DAMAGE-1988\] "Moisture Sources Associated with Potential Damage in Cold Climate Housing", 1988, as reproduced online, printed in United
//! States pints: 0.473 kg. \[SOLAR-HANDBOOK\] a table of a handbook of solar housing, read online. \[ASHRAE 160\] ANSI/ASHRAE 160-2009, residential
//! design moisture generation, from memory; the edition of 2016 has lower values.

use crate::out_of_range::{OutOfRange, within};

const DAY_S: f64 = 86_400.0;

/// What a rate is counted by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Per {
    /// Each time that it happens.
    Event,
    /// An hour of its going on.
    Hour,
    /// An hour for each person present.
    PersonHour,
    /// A day.
    Day,
}

/// Water of one kind of source.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SourceRate {
    /// What it is.
    pub what: &'static str,
    /// Least and most water as published \[kg\]; equal where one value is printed.
    pub kg: (f64, f64),
    /// For what.
    pub per: Per,
    /// Where it is from.
    pub source: &'static str,
}

impl SourceRate {
    /// Middle of the published range \[kg\].
    pub fn middle_kg(&self) -> f64 {
        0.5 * (self.kg.0 + self.kg.1)
    }
}

const DAMAGE: &str = "DAMAGE-1988";
const HANDBOOK: &str = "SOLAR-HANDBOOK";

const fn rate(what: &'static str, kg: (f64, f64), per: Per, source: &'static str) -> SourceRate {
    SourceRate { what, kg, per, source }
}

/// A shower of five minutes: 0.5 pint.
pub const SHOWER: SourceRate = rate("shower of 5 min", (0.24, 0.24), Per::Event, DAMAGE);
/// A bath in a tub: 0.1 pint.
pub const TUB_BATH: SourceRate = rate("bath in a tub", (0.05, 0.05), Per::Event, DAMAGE);
/// Cooking dinner for a family of four: 1.2 pints.
pub const DINNER: SourceRate = rate("dinner for four", (0.57, 0.57), Per::Event, DAMAGE);
/// What a gas flame adds to it: 1.6 pints.
pub const DINNER_GAS: SourceRate = rate("gas flame of that dinner", (0.76, 0.76), Per::Event, DAMAGE);
/// Washing that dinner's dishes by hand: 0.68 pint.
pub const DISHES: SourceRate = rate("dishes of that dinner by hand", (0.32, 0.32), Per::Event, DAMAGE);
/// A load of clothes dried indoors: 4.7 to 6.2 pints.
pub const CLOTHES: SourceRate = rate("clothes dried indoors, a load", (2.2, 2.9), Per::Event, DAMAGE);
/// Breath and skin of a family of four: 0.44 pint an hour.
pub const FAMILY_OF_FOUR: SourceRate = rate("family of four at home", (0.21, 0.21), Per::Hour, DAMAGE);
/// Five to seven plants: 0.86 to 0.96 pint a day.
pub const PLANTS: SourceRate = rate("five to seven plants", (0.41, 0.45), Per::Day, DAMAGE);
/// What furnishings and building give off from summer to winter: 6.3 to 16.9 pints a day.
pub const SEASONAL_DESORPTION: SourceRate =
    rate("seasonal desorption of the building", (3.0, 8.0), Per::Day, DAMAGE);
/// A new building drying out at first: 10 pints a day.
pub const NEW_CONSTRUCTION: SourceRate = rate("new construction", (4.73, 4.73), Per::Day, DAMAGE);
/// A person who sits or sleeps.
pub const PERSON_AT_REST: SourceRate = rate("person at rest", (0.040, 0.060), Per::PersonHour, HANDBOOK);
/// A person at ordinary work in the house.
pub const PERSON_ACTIVE: SourceRate =
    rate("person, average activity", (0.060, 0.120), Per::PersonHour, HANDBOOK);
/// A person at heavy work.
pub const PERSON_HEAVY: SourceRate = rate("person, heavy work", (0.120, 0.200), Per::PersonHour, HANDBOOK);
/// A bath, by the hour.
pub const BATHING: SourceRate = rate("bath", (0.7, 0.7), Per::Hour, HANDBOOK);
/// A shower, by the hour that it runs.
pub const SHOWERING: SourceRate = rate("shower", (2.5, 2.5), Per::Hour, HANDBOOK);
/// Cooking, by the hour.
pub const COOKING: SourceRate = rate("cooking", (0.6, 1.5), Per::Hour, HANDBOOK);
/// Spun clothes of a drum of 4.5 kg on a rack, by the hour.
pub const SPUN_CLOTHES: SourceRate =
    rate("spun clothes, drum of 4.5 kg", (0.050, 0.200), Per::Hour, HANDBOOK);

/// Every published rate.
pub const RATES: [SourceRate; 17] = [
    SHOWER,
    TUB_BATH,
    DINNER,
    DINNER_GAS,
    DISHES,
    CLOTHES,
    FAMILY_OF_FOUR,
    PLANTS,
    SEASONAL_DESORPTION,
    NEW_CONSTRUCTION,
    PERSON_AT_REST,
    PERSON_ACTIVE,
    PERSON_HEAVY,
    BATHING,
    SHOWERING,
    COOKING,
    SPUN_CLOTHES,
];

/// Design moisture generation of a dwelling.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DesignGeneration {
    /// People that the dwelling is designed for.
    pub occupants: u32,
    /// Water from all sources [kg/day].
    pub kg_per_day: f64,
}

impl DesignGeneration {
    /// Water from all sources, as a steady flow [kg/s].
    pub fn kg_per_s(&self) -> f64 {
        self.kg_per_day / DAY_S
    }
}

/// Design generation by bedrooms: 8, 12, 14 and 15 kg/day for one to four, 1 kg/day and one person for each more.
///
/// # Errors
/// [`OutOfRange`] unless there are 1…20 bedrooms.
///
/// # Source
/// \[ASHRAE 160\] of 2009, from memory; lower in 2016.
pub fn design_generation(bedrooms: u32) -> Result<DesignGeneration, OutOfRange> {
    within("number of bedrooms", f64::from(bedrooms), (1.0, 20.0), "")?;
    let kg_per_day = match bedrooms {
        1 => 8.0,
        2 => 12.0,
        3 => 14.0,
        more => 15.0 + f64::from(more - 4),
    };
    Ok(DesignGeneration { occupants: bedrooms + 1, kg_per_day })
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::*;

    #[test]
    fn rates_are_the_printed_pints() {
        // United States pints as printed in [DAMAGE-1988]; a rate here is rounded to two digits.
        let printed = [
            (SHOWER, (0.5, 0.5)),
            (TUB_BATH, (0.1, 0.1)),
            (DINNER, (1.2, 1.2)),
            (DINNER_GAS, (1.6, 1.6)),
            (DISHES, (0.68, 0.68)),
            (CLOTHES, (4.7, 6.2)),
            (FAMILY_OF_FOUR, (0.44, 0.44)),
            (PLANTS, (0.86, 0.96)),
            (SEASONAL_DESORPTION, (6.3, 16.9)),
            (NEW_CONSTRUCTION, (10.0, 10.0)),
        ];
        for (rate, pints) in printed {
            for (kg, pints) in [(rate.kg.0, pints.0), (rate.kg.1, pints.1)] {
                let digit = if kg >= 1.0 { 0.05 } else { 0.005 };
                assert_abs_diff_eq!(kg, pints * 0.473, epsilon = digit);
            }
        }
    }

    #[test]
    fn rates_of_two_sources_agree_where_both_speak() {
        // 5 min of 2.5 kg/h are 0.21 kg, against 0.24.
        assert_abs_diff_eq!(SHOWERING.middle_kg() / 12.0, SHOWER.middle_kg(), epsilon = 0.05);
        // Four people at rest, 0.20 kg/h, against 0.21.
        assert_abs_diff_eq!(4.0 * PERSON_AT_REST.middle_kg(), FAMILY_OF_FOUR.middle_kg(), epsilon = 0.02);
        for rate in RATES {
            assert!(rate.kg.0 > 0.0 && rate.kg.0 <= rate.kg.1 && !rate.source.is_empty(), "{}", rate.what);
        }
    }

    #[test]
    fn the_design_generation_is_the_table() {
        // Bedrooms, people, litres a day, and the flow as the standard prints it, to 1e-5 kg/s.
        for (bedrooms, occupants, litres, kg_per_s) in [
            (1, 2, 8.0, 0.9e-4),
            (2, 3, 12.0, 1.4e-4),
            (3, 4, 14.0, 1.6e-4),
            (4, 5, 15.0, 1.7e-4),
            (6, 7, 17.0, 1.9e-4),
        ] {
            let found = design_generation(bedrooms).unwrap();
            assert_eq!(found.occupants, occupants);
            assert_abs_diff_eq!(found.kg_per_day, litres);
            // The last row is the fourth with two steps of 0.1e-4, each rounded down from 0.116e-4.
            assert_abs_diff_eq!(found.kg_per_s(), kg_per_s, epsilon = 0.07e-4);
        }
        assert_eq!(
            design_generation(0).unwrap_err().to_string(),
            "the number of bedrooms is 0; it must be from 1 to 20"
        );
    }
}
