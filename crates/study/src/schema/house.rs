//! The mirror of `[house]` and its tables.
//!
//! Here: what the schema says of the house. Not here: its ventilation (`schema/ventilation.rs`). Read next: `schema/ventilation.rs`.

use schemars::JsonSchema;

use super::indoors::{ColdCorner, Dehumidifier, Humidifier};
use super::quantities::{
    AirChangeRate, AirFlow, AirLeakage, AirMassFlow, Area, Conductance, Duration, Facing, HeatFlowPerArea,
    Length, Power, Temperature, TemperatureDifference, ThermalMass, Transmittance, Volume, WaterRate,
};

/// The house.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(extend("oneOf" = [{"required": ["heat_loss"]}, {"required": ["envelope"]}]))]
pub(super) struct House {
    /// Heated floor area; 5 m2 … 5000 m2.
    #[schemars(example = "140 m2")]
    floor_area: Area,
    /// Ceiling height; 1.8 m … 6 m. Left out: 2.5 m.
    #[schemars(example = "2.5 m")]
    ceiling_height: Option<Length>,
    /// Number of bedrooms.
    #[schemars(range(min = 0, max = 50))]
    bedrooms: u32,
    /// Storeys above ground. Left out: 1.
    #[schemars(range(min = 1, max = 10))]
    storeys: Option<u32>,
    rooms: Option<Rooms>,
    /// Conduction of the whole envelope, windows and floor included; 5 W/K … 10000 W/K. Or `envelope`.
    #[schemars(example = "145 W/K")]
    heat_loss: Option<Conductance>,
    /// The parts of the envelope beside the windows. Or `heat_loss`.
    envelope: Option<Vec<EnvelopePart>>,
    /// What the house stands on. Left out: slab.
    foundation: Option<Foundation>,
    /// The part of `heat_loss` that goes to the ground; 0 W/K … 5000 W/K. Left out: by `foundation`, 0.2 of what is no window on
    /// a slab, 0.3 with a basement, 0.1 over a crawlspace.
    #[schemars(example = "25 W/K")]
    ground_loss: Option<Conductance>,
    /// What a pressure test found, with its pressure, 1 Pa … 100 Pa: air changes, 0.01 1/h … 100 1/h; a flow, 0.1 L/s … 20000 L/s;
    /// or an area at 4 Pa or 10 Pa, 1 cm2 … 20000 cm2. Or a constant flow; 0 L/s … 1000 L/s.
    #[schemars(example = &"2.5 1/h @50Pa")]
    air_leakage: AirLeakage,
    /// Exponent of the flow over the pressure, of a pressure test only. Left out: 0.65.
    #[schemars(range(min = 0.5, max = 1.0))]
    leakage_exponent: Option<f64>,
    /// A chimney that leaks. Left out: none.
    flue: Option<Flue>,
    /// Height of the eaves above ground; 1.8 m … 60 m. Left out: `storeys` times `ceiling_height`.
    #[schemars(example = "2.5 m")]
    height: Option<Length>,
    /// A class of ISO 13790, or a heat capacity per floor area, 20 kJ/m2K … 1000 kJ/m2K. Left out: medium.
    #[schemars(example = &"medium")]
    thermal_mass: Option<ThermalMass>,
    /// Share of the volume that is wet rooms. Left out: 0.15.
    #[schemars(range(min = 0.02, max = 0.6))]
    wet_share: Option<f64>,
    /// Air exchanged through doors between wet rooms and the rest; 0 kg/s … 1 kg/s. Left out: 0.03 kg/s.
    #[schemars(example = "0.03 kg/s")]
    door_exchange: Option<AirMassFlow>,
    /// Heat of lights and appliances per floor area; 0 W/m2 … 50 W/m2. Left out: 2.4 W/m2.
    #[schemars(example = "2.4 W/m2")]
    gains: Option<HeatFlowPerArea>,
    /// The windows. Left out: none.
    window: Option<Vec<Window>>,
    heating: Heating,
    /// Left out: the house is not cooled.
    cooling: Option<Cooling>,
    /// Left out: no window is opened; nothing opens by itself.
    airing: Option<Airing>,
    /// Air that the range hood blows out while it runs, during cooking; 0 L/s … 500 L/s. Left out: none.
    #[schemars(example = "80 L/s")]
    range_hood: Option<AirFlow>,
    /// Air that a clothes dryer blows out while it runs, three quarters of an hour in the evening; 0 L/s … 200 L/s. Left out: none.
    #[schemars(example = "45 L/s")]
    dryer: Option<AirFlow>,
    people: People,
    /// Left out: none.
    humidifier: Option<Humidifier>,
    /// Left out: none.
    dehumidifier: Option<Dehumidifier>,
    cold_corner: Option<ColdCorner>,
    /// Left out: no bedroom is looked at by itself.
    bedroom: Option<Bedroom>,
    /// Left out: no sources but people; furnished.
    moisture: Option<Moisture>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Flue {
    /// None, or a closed one.
    None,
    /// An open one.
    OpenFlue,
}

/// A part of the envelope that is no window: its area and thermal transmittance, or its conductance.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[schemars(extend("oneOf" = [
    {"required": ["area", "u_value"], "properties": {"conductance": false}},
    {"required": ["conductance"], "properties": {"area": false, "u_value": false}}
]))]
struct EnvelopePart {
    /// Name, unique within the house.
    #[schemars(length(min = 1, max = 60), example = &"roof")]
    name: String,
    /// Area; 0.05 m2 … 5000 m2.
    #[schemars(example = "140 m2")]
    area: Option<Area>,
    /// Thermal transmittance; 0.05 W/m2K … 7 W/m2K.
    #[schemars(example = "0.2 W/m2K")]
    u_value: Option<Transmittance>,
    /// What it conducts; 0.01 W/K … 10000 W/K.
    #[schemars(example = "28 W/K")]
    conductance: Option<Conductance>,
    /// What is on its other side. Left out: outdoors.
    to: Option<Side>,
    /// unheated: temperature difference to that space over the one to outdoors. Left out: 0.5.
    #[schemars(range(min = 0.0, max = 1.0))]
    temperature_factor: Option<f64>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Side {
    /// Outdoor air.
    Outdoors,
    /// The ground.
    Ground,
    /// A space that is not heated.
    Unheated,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Foundation {
    /// A slab on the ground.
    Slab,
    /// A basement that is part of the heated house.
    Basement,
    /// A floor over a crawlspace that is open to outdoor air.
    Crawlspace,
}

/// The rooms beside the bedrooms, for airflow = "by-rooms".
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Rooms {
    /// Living, dining and family rooms; a room that is two of them counts twice.
    #[schemars(range(min = 0, max = 50))]
    living: u32,
    /// Kitchens.
    #[schemars(range(min = 0, max = 50))]
    kitchen: u32,
    /// Bathrooms and lavatories.
    #[schemars(range(min = 0, max = 50))]
    bathrooms: u32,
    /// Laundry, utility and other rooms that people use. Left out: 0.
    #[schemars(range(min = 0, max = 50))]
    other: Option<u32>,
    /// What a basement is used for. Left out: undivided with foundation = "basement", else none.
    basement: Option<BasementUse>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum BasementUse {
    /// There is none.
    None,
    /// Mostly divided into rooms.
    Divided,
    /// More than two thirds of it are one space.
    Undivided,
}

/// A window, or several of one kind.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Window {
    /// Where its outside looks to: a name, or degrees clockwise from north, 0 deg … 360 deg.
    #[schemars(example = &"south")]
    facing: Facing,
    /// Area of the opening, frame included; 0.05 m2 … 500 m2.
    #[schemars(example = "9 m2")]
    area: Area,
    /// Thermal transmittance of the whole opening; 0.2 W/m2K … 7 W/m2K.
    #[schemars(example = "1.6 W/m2K")]
    u_value: Transmittance,
    /// Solar heat gain of the whole opening, frame included.
    #[schemars(range(min = 0.0, max = 1.0))]
    solar_gain: f64,
    /// Temperature of the inside at the edge of the glass: 0 at outdoors, 1 at the room's. Left out: 0.6.
    #[schemars(range(min = 0.2, max = 0.95))]
    edge_factor: Option<f64>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Carrier {
    Gas,
    Electricity,
    Oil,
    Propane,
    Wood,
}

/// Heating.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Heating {
    /// Air temperature kept at least, below that of cooling by 1 K or more; 5 °C … 35 °C.
    #[schemars(example = "20.5 °C")]
    set_point: Temperature,
    /// What is bought.
    source: Carrier,
    /// Heat delivered over energy bought; 1.1 at most but for a heat pump on electricity.
    #[schemars(range(min = 0.3, max = 6.0))]
    efficiency: f64,
    /// Heat delivered at most; 100 W … 1000000 W. Left out: unlimited.
    #[schemars(example = "9 kW")]
    capacity: Option<Power>,
    /// A lower set-point in some hours. Left out: none.
    set_back: Option<OtherSetPoint>,
}

/// Another set-point in some hours: lower for heating, higher for cooling.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct OtherSetPoint {
    /// Air temperature kept in those hours; 5 °C … 35 °C.
    #[schemars(example = "17 °C")]
    temperature: Temperature,
    /// The full hour in which they begin, in local standard time.
    #[schemars(regex(pattern = r"^\s*([01]?\d|2[0-4]):00\s*$"), example = "22:00")]
    from: String,
    /// The full hour in which they end; past midnight where it is earlier than `from`.
    #[schemars(regex(pattern = r"^\s*([01]?\d|2[0-4]):00\s*$"), example = "06:00")]
    to: String,
}

/// Cooling.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Cooling {
    /// Air temperature kept at most, above that of heating by 1 K or more; 5 °C … 35 °C.
    #[schemars(example = "25 °C")]
    set_point: Temperature,
    /// What is bought.
    source: Carrier,
    /// Heat removed over energy bought.
    #[schemars(range(min = 0.3, max = 10.0))]
    cop: f64,
    /// Temperature of the coil, below the set point; 1 °C … 20 °C. Left out: 11 °C.
    #[schemars(example = "11 °C")]
    apparatus_dew_point: Option<Temperature>,
    /// Share of the coil's air that passes it unchanged; it cancels against the coil's own temperature in this model. Left out: 0.1.
    #[schemars(range(min = 0.0, max = 0.5))]
    bypass: Option<f64>,
    /// Whether water on the coil evaporates again while a blower runs on. Left out: where `ventilation.blower` runs so.
    re_evaporation: Option<bool>,
    /// Heat removed at most, sensible and latent; 100 W … 1000000 W. Left out: unlimited.
    #[schemars(example = "9 kW")]
    capacity: Option<Power>,
    /// A higher set-point in some hours. Left out: none.
    set_up: Option<OtherSetPoint>,
}

/// Windows are opened while all of this holds.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Airing {
    /// The indoor air is warmer than this; 10 °C … 35 °C. Left out: midway between the set-points, or 3 K above that of heating.
    #[schemars(example = "25 °C")]
    indoor_above: Option<Temperature>,
    /// The outdoor air is colder than the indoor air by more than this; 0 K … 20 K. Left out: 1 K.
    #[schemars(example = "1 K")]
    colder_by: Option<TemperatureDifference>,
    /// Outdoor air that then comes in for each volume of the house; 0.1 1/h … 30 1/h.
    #[schemars(example = "3 1/h")]
    air_changes: AirChangeRate,
}

/// Who lives there.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct People {
    /// Number of people.
    #[schemars(range(min = 0, max = 100))]
    count: u32,
    /// When they are in.
    profile: Profile,
    /// Sensible heat of one person who is in; 0 W … 300 W. Left out: 70 W.
    #[schemars(example = "70 W")]
    heat: Option<Power>,
    /// Water vapour of one person who is in; 0 g/h … 300 g/h. Left out: 50 g/h.
    #[schemars(example = "50 g/h")]
    moisture: Option<WaterRate>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Profile {
    /// Out on weekdays for work and school.
    WorkingWeek,
    /// Always in.
    AlwaysHome,
}

/// A bedroom whose door is closed at night, for its carbon dioxide.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Bedroom {
    /// People who sleep in it, no more than live in the house. Left out: 2.
    #[schemars(range(min = 1, max = 20))]
    people: Option<u32>,
    /// Its volume, less than that of the house; 5 m3 … 500 m3. Left out: 30 m3.
    #[schemars(example = "30 m3")]
    volume: Option<Volume>,
    /// Share of the supply air that it gets. Left out: 1 / (`bedrooms` + 1).
    #[schemars(range(min = 0.0, max = 1.0))]
    supply_share: Option<f64>,
    /// The full hour from which they are in it, in local standard time. Left out: 22:00.
    #[schemars(regex(pattern = r"^\s*([01]?\d|2[0-4]):00\s*$"))]
    from: Option<String>,
    /// The full hour in which they leave it. Left out: 07:00.
    #[schemars(regex(pattern = r"^\s*([01]?\d|2[0-4]):00\s*$"))]
    to: Option<String>,
}

/// Water released indoors, and what buffers it. A source that is left out is none.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
struct Moisture {
    /// Showers and baths; 0 kg/day … 50 kg/day.
    #[schemars(example = "1.6 kg/day")]
    showers: Option<WaterRate>,
    /// Cooking and washing up; 0 kg/day … 50 kg/day.
    #[schemars(example = "2.2 L/day")]
    cooking: Option<WaterRate>,
    /// Laundry dried indoors; 0 kg/day … 50 kg/day.
    #[schemars(example = "0.5 kg/day")]
    laundry: Option<WaterRate>,
    /// Plants; 0 kg/day … 50 kg/day.
    #[schemars(example = "0.4 kg/day")]
    plants: Option<WaterRate>,
    /// Water of a new building that dries out, on the first of January; 0 kg/day … 50 kg/day. Left out: 0 kg/day.
    #[schemars(example = "5 kg/day")]
    new_building: Option<WaterRate>,
    /// Time in which that halves; 10 d … 2000 d. Left out: 180 d.
    #[schemars(example = "180 d")]
    new_building_halves_in: Option<Duration>,
    /// What takes up and gives back water. Left out: furnished.
    storage: Option<Storage>,
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
enum Storage {
    /// Furniture, textiles, paper and plaster of a lived-in house.
    Furnished,
    /// Walls and ceilings of bare wood, beside little else.
    TimberLined,
    /// Nothing but the air.
    None,
}
