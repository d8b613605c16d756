//! How much outdoor air a dwelling needs, by three standards, with the reasoning line by line.
//!
//! Not here: what a unit delivers over the year (`results`), leakage itself (`infiltration`).
//!
//! # Sources
//! \[62.2\] ASHRAE 62.2: total rate and its infiltration credit, read in part, the rest recalled. \[F326\] CSA F326: room counts, recalled,
//! partly read in a building code that uses them. \[EN 16798-1\] Annex B defaults for dwellings, recalled: check them against the
//! standard before they decide anything.

/// A step of the reasoning: what, how much, why.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What it is.
    pub what: String,
    /// How much, with its unit.
    pub value: String,
    /// Where it is from.
    pub source: &'static str,
}

/// Outdoor air that is required, and how it was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Requirement {
    /// Airflow [m³/s].
    pub airflow_m3_per_s: f64,
    /// The standard.
    pub standard: &'static str,
    /// The reasoning in order; the last step is the result.
    pub steps: Vec<Step>,
}

/// Why a requirement cannot be worked out.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RequirementError {
    /// A number outside its range.
    #[error("the {quantity} is {value}; it must be from {low} to {high}")]
    OutOfRange {
        /// What it is.
        quantity: &'static str,
        /// Its value.
        value: f64,
        /// Least allowed.
        low: f64,
        /// Greatest allowed.
        high: f64,
    },
    /// No room counts.
    #[error("the rooms add up to no airflow: count at least one room")]
    NoRooms,
}

const LITRE: f64 = 1e-3;
/// One cubic foot a minute [m³/s].
const CFM: f64 = 0.000_471_947_443_2;
/// One square foot \[m²\].
const FT2: f64 = 0.092_903_04;

fn within(quantity: &'static str, value: f64, (low, high): (f64, f64)) -> Result<(), RequirementError> {
    if value >= low && value <= high {
        return Ok(());
    }
    Err(RequirementError::OutOfRange { quantity, value, low, high })
}

/// Which of the standard's two arithmetics is used: they are rounded separately, and differ by 1.5 %.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// `0.15 A + 3.5 (N + 1)` L/s.
    Si,
    /// `0.03 A + 7.5 (N + 1)` cfm.
    Ip,
}

/// Whether a ventilation system moves as much air out as in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FansOf {
    /// As much.
    Balanced,
    /// Supply or exhaust alone, or unequal.
    Unbalanced,
}

/// ASHRAE 62.2: the total rate. What infiltration is credited with: `credit`.
///
/// # Errors
/// [`RequirementError`] unless the floor is 5…5000 m² and bedrooms 1…20.
///
/// # Source
/// \[62.2\], read.
pub fn by_floor_and_bedrooms(
    floor_m2: f64,
    bedrooms: u32,
    form: Form,
) -> Result<Requirement, RequirementError> {
    by_floor_and_people(floor_m2, bedrooms, 0, form)
}

/// The same where the people are known: those above bedrooms and one each add what one person adds; fewer take nothing off.
///
/// # Errors
/// As [`by_floor_and_bedrooms`].
///
/// # Source
/// \[62.2\], recalled.
pub fn by_floor_and_people(
    floor_m2: f64,
    bedrooms: u32,
    known_people: u32,
    form: Form,
) -> Result<Requirement, RequirementError> {
    const SOURCE: &str = "ASHRAE 62.2";
    within("floor area [m²]", floor_m2, (5.0, 5000.0))?;
    within("number of bedrooms", f64::from(bedrooms), (1.0, 20.0))?;
    let more = known_people.saturating_sub(bedrooms + 1);
    let (floor_part, of_person, show): (f64, f64, fn(f64) -> String) = match form {
        Form::Si => (0.15 * floor_m2 * LITRE, 3.5 * LITRE, litres),
        Form::Ip => (0.03 * (floor_m2 / FT2) * CFM, 7.5 * CFM, cubic_feet),
    };
    let people_part = of_person * (f64::from(bedrooms) + 1.0);
    let total = floor_part + people_part + of_person * f64::from(more);
    let mut steps = vec![
        step(format!("for {} of floor", area(floor_m2, form)), show(floor_part), SOURCE),
        step(format!("for {bedrooms} bedrooms and one more person"), show(people_part), SOURCE),
    ];
    if more > 0 {
        let what = format!("for {more} more, since {known_people} live there");
        steps.push(step(what, show(of_person * f64::from(more)), SOURCE));
    }
    steps.push(step("total rate".to_owned(), show(total), SOURCE));
    Ok(Requirement { airflow_m3_per_s: total, standard: SOURCE, steps })
}

/// Rooms of a dwelling, as the room count asks for them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Rooms {
    /// Bedrooms, the largest included.
    pub bedrooms: u32,
    /// Living, dining and family rooms, each counted, also where they are one space.
    pub living: u32,
    /// Kitchens.
    pub kitchens: u32,
    /// Bathrooms and water closets.
    pub bathrooms: u32,
    /// Laundry and utility rooms.
    pub utility: u32,
    /// Other rooms that people use.
    pub other: u32,
    /// The basement.
    pub basement: Basement,
}

/// A basement, as the room count asks for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Basement {
    /// None, or none of it undivided.
    #[default]
    None,
    /// Up to two thirds of its area undivided.
    Part,
    /// More than two thirds of its area undivided.
    Whole,
}

/// CSA F326: 10 L/s for the largest bedroom and for a whole basement, 5 L/s for every other room.
///
/// # Errors
/// [`RequirementError::NoRooms`] without rooms; [`RequirementError::OutOfRange`] for more than 50 of one kind.
///
/// # Source
/// \[F326\], recalled, in part read.
pub fn by_rooms(rooms: &Rooms) -> Result<Requirement, RequirementError> {
    const SOURCE: &str = "CSA F326";
    let (largest, others) = (rooms.bedrooms.min(1), rooms.bedrooms.saturating_sub(1));
    let basement = match rooms.basement {
        Basement::None => (0, 5.0),
        Basement::Part => (1, 5.0),
        Basement::Whole => (1, 10.0),
    };
    let counted = [
        ("largest bedroom", largest, 10.0),
        ("other bedrooms", others, 5.0),
        ("living, dining, family rooms", rooms.living, 5.0),
        ("kitchens", rooms.kitchens, 5.0),
        ("bathrooms", rooms.bathrooms, 5.0),
        ("laundry and utility rooms", rooms.utility, 5.0),
        ("other rooms", rooms.other, 5.0),
        ("basement", basement.0, basement.1),
    ];
    let mut steps = Vec::new();
    let mut airflow_m3_per_s = 0.0;
    for (what, count, each) in counted {
        within("number of rooms of one kind", f64::from(count), (0.0, 50.0))?;
        let part = f64::from(count) * each * LITRE;
        airflow_m3_per_s += part;
        if count > 0 {
            steps.push(step(format!("{what}: {count} × {each} L/s"), litres(part), SOURCE));
        }
    }
    if airflow_m3_per_s <= 0.0 {
        return Err(RequirementError::NoRooms);
    }
    steps.push(step("all rooms together".to_owned(), litres(airflow_m3_per_s), SOURCE));
    Ok(Requirement { airflow_m3_per_s, standard: SOURCE, steps })
}

/// Category of indoor air.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Category {
    /// High.
    I,
    /// Medium, the usual one.
    II,
    /// Moderate.
    III,
    /// Low.
    IV,
}

/// EN 16798-1, Annex B: the greatest of its three ways, where the category has them: by floor, by people, by people adapted to the air
/// and floor.
///
/// # Errors
/// [`RequirementError`] unless the floor is 5…5000 m² and people 1…50.
///
/// # Source
/// \[EN 16798-1\], recalled.
pub fn by_category(category: Category, floor_m2: f64, people: u32) -> Result<Requirement, RequirementError> {
    const SOURCE: &str = "EN 16798-1, Annex B, recalled";
    within("floor area [m²]", floor_m2, (5.0, 5000.0))?;
    within("number of people", f64::from(people), (1.0, 50.0))?;
    let count = f64::from(people);
    let (each_m2, each_person, adapted) = match category {
        Category::I => (0.49, Some(10.0), Some((3.5, 0.25))),
        Category::II => (0.42, Some(7.0), Some((2.5, 0.15))),
        Category::III => (0.35, Some(4.0), Some((1.5, 0.10))),
        Category::IV => (0.23, None, None),
    };
    let mut ways = vec![(format!("by floor: {each_m2} L/s m² × {floor_m2:.1} m²"), each_m2 * floor_m2)];
    if let Some(each) = each_person {
        ways.push((format!("by people: {each} L/s × {people}"), each * count));
    }
    if let Some((each, floor)) = adapted {
        let words =
            format!("adapted people and floor: {each} L/s × {people} + {floor} L/s m² × {floor_m2:.1} m²");
        ways.push((words, each * count + floor * floor_m2));
    }
    let most = ways.iter().map(|way| way.1).fold(0.0, f64::max) * LITRE;
    let mut steps: Vec<Step> =
        ways.into_iter().map(|(what, value)| step(what, litres(value * LITRE), SOURCE)).collect();
    steps.push(step("the greatest of them".to_owned(), litres(most), SOURCE));
    Ok(Requirement { airflow_m3_per_s: most, standard: "EN 16798-1", steps })
}

fn step(what: String, value: String, source: &'static str) -> Step {
    Step { what, value, source }
}

fn litres(m3_per_s: f64) -> String {
    format!("{:.1} L/s", m3_per_s / LITRE)
}

fn cubic_feet(m3_per_s: f64) -> String {
    format!("{:.1} cfm", m3_per_s / CFM)
}

fn area(m2: f64, form: Form) -> String {
    match form {
        Form::Si => format!("{m2:.1} m²"),
        Form::Ip => format!("{:.0} ft²", m2 / FT2),
    }
}
