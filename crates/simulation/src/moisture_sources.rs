//! Where the water of a house's air comes from: published rates, a design total, a building that dries out, and doors.
//!
//! Data and functions only. Rates by people, washing and cooking differ by half between sources; later measurements (Energy and Buildings
//! 127 (2016) 884) lie below those printed here. Not here: when things happen (`profiles`), the rooms' balance (`moisture`).
//!
//! # Sources
//! \[DAMAGE-1988\] "Moisture Sources Associated with Potential Damage in Cold Climate Housing", 1988, as reproduced online, printed in United
//! States pints: 0.473 kg. \[SOLAR-HANDBOOK\] a table of a handbook of solar housing, read online. \[ASHRAE 160\] ANSI/ASHRAE 160-2009, residential
//! design moisture generation, from memory; the edition of 2016 has lower values. \[FINNISH-HOUSES\] moisture supply in 101 timber-framed
//! houses, read in an abstract. \[BROWN-1962\] Brown and Solvason, International Journal of Heat and Mass Transfer 5 (1962) 859: natural convection
//! through openings; form recalled.

use lanes::Real;

use crate::inputs::numbers;
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

/// Vapour that a design takes indoor air to hold above outdoor air [kg/m³]: 4 g/m³ up to 5 °C outdoors, 1.5 g/m³ from 15 °C on, a straight line
/// between.
///
/// # Source
/// \[FINNISH-HOUSES\]
pub fn design_excess_kg_per_m3(outdoor_c: f64) -> f64 {
    let mild = ((outdoor_c - 5.0) / 10.0).clamp(0.0, 1.0);
    4.0e-3 - 2.5e-3 * mild
}

numbers! {
    /// A new building that dries out: what it gives off falls exponentially from a stated start.
    DryingOut {
        /// Water given off in the beginning [kg/day], 0 for a building that is dry.
        start_kg_per_day,
        /// Time in which that falls to 37 % \[days\], above 0.
        time_constant_days,
        /// Age of the building when the year begins \[days\].
        age_days,
    }
}

impl DryingOut<f64> {
    /// From the rate in the beginning [kg/day], its time constant and the age when the year begins \[days\]. The published start is
    /// [`NEW_CONSTRUCTION`]; no time constant is published with it: one to two heating seasons are common belief.
    ///
    /// # Errors
    /// [`OutOfRange`] unless the rate is 0…100 kg/day, the time constant 10…3650 days, the age 0…36 500 days.
    pub fn new(start_kg_per_day: f64, time_constant_days: f64, age_days: f64) -> Result<Self, OutOfRange> {
        within("water that a new building gives off at first", start_kg_per_day, (0.0, 100.0), " kg/day")?;
        within("time constant of drying out", time_constant_days, (10.0, 3650.0), " days")?;
        within("age of the building when the year begins", age_days, (0.0, 36_500.0), " days")?;
        Ok(Self { start_kg_per_day, time_constant_days, age_days })
    }

    /// A building that is dry.
    pub fn none() -> Self {
        Self { start_kg_per_day: 0.0, time_constant_days: 365.0, age_days: 0.0 }
    }
}

impl<R: Real> DryingOut<R> {
    /// Water given off between two times of the year \[days since it began\] \[kg\], exactly: the hours add up to the year.
    #[inline(always)]
    pub fn given_off_kg(&self, from_days: f64, to_days: f64) -> R {
        let left = |days: f64| (-((self.age_days + days) / self.time_constant_days)).exp();
        self.start_kg_per_day * self.time_constant_days * (left(from_days) - left(to_days))
    }
}

/// Air that passes each way between wet rooms and the rest through doors, over the day [kg/s]: assumed; doors that are mostly ajar or closed.
pub const DOORS_KG_PER_S: f64 = 0.03;

/// Air that passes each way through an open door between rooms of unequal temperature [m³/s]: `C_d/3 A √(g H Δt/T)` with `C_d` 0.61.
///
/// # Errors
/// [`OutOfRange`] unless the door is 0.1…5 m wide and 0.5…5 m high, the difference 0…30 K, the mean temperature −20…50 °C.
///
/// # Source
/// \[BROWN-1962\]: Bernoulli's law integrated over both halves of the opening.
pub fn open_door_m3_per_s(
    width_m: f64,
    height_m: f64,
    difference_k: f64,
    mean_c: f64,
) -> Result<f64, OutOfRange> {
    const DISCHARGE: f64 = 0.61;
    const GRAVITY_M_PER_S2: f64 = 9.81;
    within("width of the door", width_m, (0.1, 5.0), " m")?;
    within("height of the door", height_m, (0.5, 5.0), " m")?;
    within("temperature difference between the rooms", difference_k, (0.0, 30.0), " K")?;
    within("mean temperature of the rooms", mean_c, (-20.0, 50.0), " °C")?;
    let speed = (GRAVITY_M_PER_S2 * height_m * difference_k / (mean_c + 273.15)).sqrt();
    Ok(DISCHARGE / 3.0 * width_m * height_m * speed)
}

#[cfg(test)]
mod tests {
    use approx::{assert_abs_diff_eq, assert_relative_eq};

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

    #[test]
    fn the_design_excess_falls_with_mild_weather() {
        for (outdoor_c, g) in [(-20.0, 4.0), (5.0, 4.0), (10.0, 2.75), (15.0, 1.5), (30.0, 1.5)] {
            assert_abs_diff_eq!(design_excess_kg_per_m3(outdoor_c) * 1e3, g, epsilon = 1e-12);
        }
    }

    #[test]
    fn a_new_building_gives_off_what_its_exponential_says() {
        let building = DryingOut::new(4.73, 365.0, 0.0).unwrap();
        // The first day: 4.73 less half a day's fall, 4.73/730; over all time 4.73 × 365.
        assert_abs_diff_eq!(building.given_off_kg(0.0, 1.0), 4.73 * (1.0 - 1.0 / 730.0), epsilon = 1e-5);
        assert_abs_diff_eq!(
            building.given_off_kg(0.0, 365.0),
            4.73 * 365.0 * (1.0 - 0.36787944),
            epsilon = 1e-4
        );
        // Hours add up to the year.
        let hours: f64 =
            (0..8760).map(|h| building.given_off_kg(f64::from(h) / 24.0, f64::from(h + 1) / 24.0)).sum();
        assert_relative_eq!(hours, building.given_off_kg(0.0, 365.0), max_relative = 1e-11);
        // A year later it gives off 37 % of that.
        let older = DryingOut { age_days: 365.0, ..building };
        assert_relative_eq!(
            older.given_off_kg(0.0, 365.0) / building.given_off_kg(0.0, 365.0),
            0.36787944,
            max_relative = 1e-7
        );
        assert_abs_diff_eq!(DryingOut::none().given_off_kg(0.0, 365.0), 0.0);
        assert_eq!(
            DryingOut::new(4.73, 0.0, 0.0).unwrap_err().to_string(),
            "the time constant of drying out is 0 days; it must be from 10 to 3650 days"
        );
    }

    #[test]
    fn an_open_door_passes_what_the_speeds_over_its_height_add_up_to() {
        // Velocity √(2 g z Δt/T) at z above the middle, 0.61 of it, over the upper half of 0.8 m × 2 m, by rectangles.
        let (width, height, difference, mean_k) = (0.8_f64, 2.0_f64, 0.5_f64, 293.15_f64);
        let slices = 100_000;
        let thickness = 0.5 * height / f64::from(slices);
        let by_slices: f64 = (0..slices)
            .map(|k| {
                let z = (f64::from(k) + 0.5) * thickness;
                0.61 * width * thickness * (2.0 * 9.81 * z * difference / mean_k).sqrt()
            })
            .sum();
        let found = open_door_m3_per_s(width, height, difference, 20.0).unwrap();
        assert_relative_eq!(found, by_slices, max_relative = 1e-6);
        // About 60 L/s for half a kelvin.
        assert_abs_diff_eq!(found, 0.0595, epsilon = 0.0001);
        assert_abs_diff_eq!(open_door_m3_per_s(width, height, 0.0, 20.0).unwrap(), 0.0);
    }
}
