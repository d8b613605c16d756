//! What a study says of how much air is brought in: a flow, or the rule of a standard that makes one.
//!
//! Here: plain values in SI, every check done, and the flow of each rule. Not here: what air through leaks is credited with
//! (`build`). Read next: `read/ventilation.rs`, which makes these.

/// One L/s \[m³/s\].
const L_PER_S: f64 = 1e-3;
/// One cubic foot a minute \[m³/s\], exact.
const CFM: f64 = 0.028316846592 / 60.0;
/// One square foot \[m²\], exact.
const SQUARE_FOOT_M2: f64 = 0.09290304;

/// Where the airflow comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum AirflowRule {
    /// The study states it.
    Stated,
    /// By floor area and bedrooms, as ASHRAE 62.2 has it.
    ByStandard {
        /// Arithmetic of the standard.
        form: StandardForm,
        /// Whether air through leaks counts: the flow of the study is then the total, before what they are credited with.
        credit: InfiltrationCredit,
    },
    /// By rooms, as CSA F326 has it.
    ByRooms,
    /// By floor area and category, as EN 16798-1 has it.
    ByCategory(AirCategory),
}

/// The two forms of ASHRAE 62.2, which are rounded apart and differ by 1.5 % and more.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum StandardForm {
    /// L/s and m².
    Si,
    /// cfm and ft².
    Ip,
}

impl StandardForm {
    /// Total ventilation of a dwelling [m³/s]: `0.15 A + 3.5 (N + 1)` L/s with `A` in m², or `0.03 A + 7.5 (N + 1)` cfm with
    /// `A` in ft²; `N` is the number of bedrooms, 1 at least.
    ///
    /// # Source
    /// [ASHRAE 62.2-2016] 4.1.1, equations 4.1a and 4.1b (forms recalled; 102 cfm for 2400 ft² and three bedrooms was read on a
    /// public page).
    pub fn rate_m3_per_s(self, floor_area_m2: f64, bedrooms: u32) -> f64 {
        let persons = f64::from(bedrooms.max(1)) + 1.0;
        match self {
            Self::Si => (0.15 * floor_area_m2 + 3.5 * persons) * L_PER_S,
            Self::Ip => (0.03 * floor_area_m2 / SQUARE_FOOT_M2 + 7.5 * persons) * CFM,
        }
    }
}

/// Whether air through leaks counts as ventilation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum InfiltrationCredit {
    /// It does not.
    None,
    /// As the standard has it.
    Taken,
}

/// The rooms of a house beside its bedrooms.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Rooms {
    /// Living, dining and family rooms, 0…50; a room that is two of them counts twice.
    pub living: u32,
    /// Kitchens, 0…50.
    pub kitchen: u32,
    /// Bathrooms and lavatories, 0…50.
    pub bathrooms: u32,
    /// Laundry, utility and other rooms that people use, 0…50.
    pub other: u32,
    /// The basement.
    pub basement: BasementUse,
}

/// What a basement is used for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BasementUse {
    /// There is none.
    None,
    /// Mostly divided into rooms, which are counted among the others.
    Divided,
    /// More than two thirds of it are one space.
    Undivided,
}

impl Rooms {
    /// Ventilation capacity of a house with these rooms and bedrooms [m³/s]: 10 L/s for the main bedroom and for an undivided
    /// basement, 5 L/s for each other room and for the rest of a divided basement.
    ///
    /// # Source
    /// [CSA F326-M91] table 1 (recalled; in part read in a building code that has the same table).
    pub fn rate_m3_per_s(&self, bedrooms: u32) -> f64 {
        let main_bedroom = f64::from(bedrooms.min(1));
        let rooms = [bedrooms.saturating_sub(1), self.living, self.kitchen, self.bathrooms, self.other];
        let rooms: f64 = rooms.into_iter().map(f64::from).sum();
        let basement = match self.basement {
            BasementUse::None => 0.0,
            BasementUse::Divided => 5.0,
            BasementUse::Undivided => 10.0,
        };
        (10.0 * main_bedroom + 5.0 * rooms + basement) * L_PER_S
    }
}

/// Category of indoor air of EN 16798-1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum AirCategory {
    /// High expectation.
    I,
    /// Normal.
    II,
    /// Moderate.
    III,
    /// Low.
    IV,
}

impl AirCategory {
    /// Total ventilation of a dwelling [m³/s]: 0.49, 0.42, 0.35 or 0.23 L/s for each m² of floor.
    ///
    /// # Source
    /// [EN 16798-1:2019] annex B, method 1 of dwellings (recalled, not confirmed).
    pub fn rate_m3_per_s(self, floor_area_m2: f64) -> f64 {
        let l_per_s_m2 = match self {
            Self::I => 0.49,
            Self::II => 0.42,
            Self::III => 0.35,
            Self::IV => 0.23,
        };
        l_per_s_m2 * floor_area_m2 * L_PER_S
    }
}
