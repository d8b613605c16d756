//! The validated study: plain values in SI, every check done.
//!
//! Here: what a study says once it has been read. Not here: how it is read and checked (`read`), the JSON Schema
//! (`schema`), or anything the engine computes. Temperatures are in °C, angles in degrees and the lead-in in
//! hours; all else is SI. Daily amounts of water are kept as their mean rate in kg/s.
//! Read next: `model/unit.rs` for the recovery units, `read.rs` for what makes all this.

mod airflow;
mod clock;
mod control;
mod fabric;
mod fan;
mod frost;
mod indoors;
mod leakage;
mod money;
mod unit;
mod ventilation;

use serde::Serialize;

pub use airflow::*;
pub use clock::*;
pub use control::*;
pub use fabric::*;
pub use fan::*;
pub use frost::*;
pub use indoors::*;
pub use leakage::*;
pub use money::*;
pub use unit::*;
pub use ventilation::*;

/// A study that has passed every check.
#[derive(Debug, Clone, PartialEq)]
pub struct Study {
    /// Title, as printed on results.
    pub title: String,
    /// Unit system of terminal, charts and report. Data files are always SI.
    pub show_in: ShowIn,
    /// Language of the report.
    pub language: Language,
    /// Time step of moisture; heat and weather are hourly.
    pub time_step: TimeStep,
    /// Hours run before hour 0, so that the year starts from its own past: 0…1440, whole hours.
    pub lead_in_h: u32,
    /// Where the house stands, and its weather.
    pub site: Site,
    /// The house.
    pub house: House,
    /// Airflow, and where it is taken from and brought to.
    pub ventilation: Ventilation,
    /// The recovery units to compare: at least one, names unique, in the order of the file.
    pub units: Vec<Unit>,
    /// What energy costs and how the future is weighed; `None`: the study says nothing of money.
    pub money: Option<Money>,
    /// Every value that the file left open, with what was taken instead.
    pub defaults_used: Vec<DefaultUsed>,
}

/// A value that the file left open.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DefaultUsed {
    /// Path of the key, such as `house.wet_share` or `unit.Plate A.fan.power`.
    pub path: String,
    /// The value taken, written as the file would write it.
    pub value: String,
    /// Where the value comes from: a source, "assumed: …" or "common practice: …".
    pub why: &'static str,
}

/// Unit system for what people read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ShowIn {
    /// °C, L/s, kWh.
    Si,
    /// °F, cfm, Btu.
    Ip,
}

/// Language of the report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Language {
    /// English.
    English,
    /// French.
    French,
}

/// Time step of moisture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TimeStep {
    /// Twelve steps an hour.
    FiveMinutes,
    /// Six steps an hour.
    TenMinutes,
    /// Four steps an hour.
    QuarterHour,
    /// Two steps an hour.
    HalfHour,
    /// One step an hour.
    Hour,
}

impl TimeStep {
    /// Steps in an hour: 12, 6, 4, 2 or 1.
    pub const fn steps_per_hour(self) -> u32 {
        match self {
            Self::FiveMinutes => 12,
            Self::TenMinutes => 6,
            Self::QuarterHour => 4,
            Self::HalfHour => 2,
            Self::Hour => 1,
        }
    }

    /// Length of a step \[s\]: 300, 600, 900, 1800 or 3600.
    pub fn seconds(self) -> f64 {
        3600.0 / f64::from(self.steps_per_hour())
    }
}

/// Where the house stands. `None` means: as the weather file says.
#[derive(Debug, Clone, PartialEq)]
pub struct Site {
    /// Path of the weather file as written, relative to the study file.
    pub weather: String,
    /// Latitude [degrees, north positive], −90…90.
    pub latitude_deg: Option<f64>,
    /// Longitude [degrees, east positive], −180…180.
    pub longitude_deg: Option<f64>,
    /// Height above the sea \[m\], −500…5000.
    pub elevation_m: Option<f64>,
    /// Local standard time minus universal time \[h\], −12…14.
    pub time_zone_h: Option<f64>,
    /// What the file's humidity refers to below 0 °C; `None`: inferred from the file.
    pub humidity_basis: Option<HumidityBasis>,
    /// Wind at the house; of no effect where its leakage is constant.
    pub wind: Wind,
}

/// Saturation curve that relative humidity and dew point refer to below 0 °C.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum HumidityBasis {
    /// Over supercooled water.
    Water,
    /// Over ice.
    Ice,
}

/// The house.
#[derive(Debug, Clone, PartialEq)]
pub struct House {
    /// Heated floor area \[m²\], 5…5000.
    pub floor_area_m2: f64,
    /// Ceiling height \[m\], 1.8…6.
    pub ceiling_height_m: f64,
    /// Number of bedrooms, 0…50.
    pub bedrooms: u32,
    /// The other rooms, where the study counts them.
    pub rooms: Option<Rooms>,
    /// Number of storeys above ground, 1…10.
    pub storeys: u32,
    /// Conduction of the whole envelope, windows and the part to the ground included [W/K], 5…10 000. An unheated space between
    /// counts with its temperature factor.
    pub heat_loss_w_per_k: f64,
    /// The parts of the envelope beside the windows, in the order of the file; empty where the heat loss is given as one figure.
    pub envelope: Vec<EnvelopePart>,
    /// What the house stands on.
    pub foundation: Foundation,
    /// The part of `heat_loss_w_per_k` that goes to the ground instead of outdoors [W/K]; no more than
    /// [`opaque_w_per_k`](Self::opaque_w_per_k).
    pub ground_loss_w_per_k: f64,
    /// Air leakage.
    pub air_leakage: AirLeakage,
    /// A chimney that leaks; of no effect where the leakage is constant.
    pub flue: Flue,
    /// Height of the eaves above ground \[m\], 1.8…60; of no effect where the leakage is constant.
    pub eaves_height_m: f64,
    /// Heat capacity of the building per floor area [J/m²K], 20 000…1 000 000.
    pub heat_capacity_j_per_m2k: f64,
    /// Effective mass area over floor area (`A_m / A_f` of the hourly method) [-], 2.5…3.5.
    pub mass_area_ratio: f64,
    /// The class, where the file names one; `None` where it gives a number.
    pub thermal_mass_class: Option<MassClass>,
    /// Share of the volume that is wet rooms [-], 0.02…0.6.
    pub wet_share: f64,
    /// Dry air exchanged through open doors between wet rooms and the rest [kg/s], 0…1.
    pub door_exchange_kg_per_s: f64,
    /// Gains from lights and appliances per floor area [W/m²], 0…50.
    pub gains_w_per_m2: f64,
    /// The windows, in the order of the file; may be empty.
    pub windows: Vec<Window>,
    /// Heating.
    pub heating: Heating,
    /// Cooling, where there is any.
    pub cooling: Option<Cooling>,
    /// When windows are opened; `None`: never.
    pub airing: Option<Airing>,
    /// Air that the range hood blows out while it runs [m³/s], 0…0.5.
    pub range_hood_m3_per_s: f64,
    /// Air that a clothes dryer blows out while it runs [m³/s], 0…0.2.
    pub dryer_m3_per_s: f64,
    /// Who lives there.
    pub people: People,
    /// A humidifier; `None`: there is none.
    pub humidifier: Option<Humidifier>,
    /// A dehumidifier; `None`: there is none.
    pub dehumidifier: Option<Dehumidifier>,
    /// The coldest inside surface.
    pub cold_corner: ColdCorner,
    /// A closed bedroom that is looked at by itself; `None`: none is.
    pub bedroom: Option<Bedroom>,
    /// Water released indoors, and what buffers it.
    pub moisture: Moisture,
}

impl House {
    /// Heated volume \[m³\]: floor area × ceiling height.
    pub fn volume_m3(&self) -> f64 {
        self.floor_area_m2 * self.ceiling_height_m
    }

    /// Conduction through the windows [W/K]: the sum of U × area.
    pub fn window_w_per_k(&self) -> f64 {
        self.windows.iter().map(Window::conductance_w_per_k).sum()
    }

    /// Conduction through all that is not a window [W/K]; never negative in a validated study.
    pub fn opaque_w_per_k(&self) -> f64 {
        self.heat_loss_w_per_k - self.window_w_per_k()
    }

    /// Conduction to outdoors through all that is not a window [W/K]: the rest goes to the ground.
    pub fn opaque_to_outdoors_w_per_k(&self) -> f64 {
        self.opaque_w_per_k() - self.ground_loss_w_per_k
    }
}

/// Thermal mass class of the simple hourly method.
///
/// # Source
/// [ISO 13790:2008] table 12: `A_m` and `C_m` per floor area.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MassClass {
    /// 80 kJ/m²K, mass area 2.5.
    VeryLight,
    /// 110 kJ/m²K, mass area 2.5.
    Light,
    /// 165 kJ/m²K, mass area 2.5.
    Medium,
    /// 260 kJ/m²K, mass area 3.0.
    Heavy,
    /// 370 kJ/m²K, mass area 3.5.
    VeryHeavy,
}

/// A window, or several of one kind.
#[derive(Debug, Clone, PartialEq)]
pub struct Window {
    /// The facing as written: `south`, `135 deg`, `up`.
    pub facing: String,
    /// Direction the outside face looks to [degrees clockwise from north], 0 ≤ … < 360; 0 for `up`.
    pub azimuth_deg: f64,
    /// Slope against the horizontal \[degrees\]: 90 for a wall, 0 for `up`.
    pub tilt_deg: f64,
    /// Area of the opening, frame included \[m²\], 0.05…500.
    pub area_m2: f64,
    /// Thermal transmittance of the whole opening [W/m²K], 0.2…7.
    pub u_w_per_m2k: f64,
    /// Solar heat gain of the whole opening, frame included [-], 0…1.
    pub solar_gain: f64,
    /// Temperature of the inside at the edge of the glass, 0 at outdoors, 1 at the room's [-], 0.2…0.95.
    pub edge_factor: f64,
}

impl Window {
    /// Conduction [W/K]: U × area.
    pub fn conductance_w_per_k(&self) -> f64 {
        self.u_w_per_m2k * self.area_m2
    }
}

/// What energy is bought as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Carrier {
    /// Natural gas.
    Gas,
    /// Electricity.
    Electricity,
    /// Heating oil.
    Oil,
    /// Propane.
    Propane,
    /// Wood.
    Wood,
}

/// Heating.
#[derive(Debug, Clone, PartialEq)]
pub struct Heating {
    /// Air temperature kept at least [°C], 5…35; below that of cooling by 1 K or more.
    pub set_point_c: f64,
    /// A lower one in some hours; `None`: the same day and night.
    pub set_back: Option<OtherSetPoint>,
    /// Heat delivered at most \[W\], 100…1 000 000; `None`: without limit.
    pub capacity_w: Option<f64>,
    /// What is bought.
    pub source: Carrier,
    /// Heat delivered over energy bought [-]: 0.3…1.1, with electricity 0.3…6 (a heat pump).
    pub efficiency: f64,
}

/// Cooling.
#[derive(Debug, Clone, PartialEq)]
pub struct Cooling {
    /// Air temperature kept at most [°C], 5…35; above that of heating by 1 K or more.
    pub set_point_c: f64,
    /// A higher one in some hours; `None`: the same day and night.
    pub set_up: Option<OtherSetPoint>,
    /// Heat removed at most, sensible and latent \[W\], 100…1 000 000; `None`: without limit.
    pub capacity_w: Option<f64>,
    /// What is bought.
    pub source: Carrier,
    /// Heat removed over energy bought [-], 0.3…10.
    pub cop: f64,
    /// Apparatus dew point of the coil [°C], 1…20; below the set point.
    pub apparatus_dew_point_c: f64,
    /// Share of the coil's air that passes it unchanged [-], 0…0.5.
    pub bypass: f64,
    /// Whether water on the coil evaporates again while a blower runs on; `None`: where the blower does so without heating or cooling.
    pub re_evaporation: Option<bool>,
}

/// Who lives there.
#[derive(Debug, Clone, PartialEq)]
pub struct People {
    /// Number of people, 0…100.
    pub count: u32,
    /// When they are in.
    pub profile: PeopleProfile,
    /// Sensible heat of one person who is in \[W\], 0…300.
    pub heat_w: f64,
    /// Water vapour of one person who is in [kg/s], 0…300 g/h.
    pub moisture_kg_per_s: f64,
}

/// A bedroom whose door is closed at night, for its carbon dioxide.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bedroom {
    /// People who sleep in it, 1…20; no more than live in the house.
    pub people: u32,
    /// Its volume \[m³\], 5…500; less than that of the house.
    pub volume_m3: f64,
    /// Share of the supply air that it gets [-], 0…1.
    pub supply_share: f64,
    /// When they are in it, with the door closed.
    pub hours: ClockHours,
}

/// When people are in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PeopleProfile {
    /// Out on weekdays for work and school.
    WorkingWeek,
    /// Somebody, and all, always in.
    AlwaysHome,
}

/// Water released indoors, each a mean over the day, and what buffers it.
#[derive(Debug, Clone, PartialEq)]
pub struct Moisture {
    /// Showers and baths [kg/s, mean of the day], 0…50 kg/day. An event source.
    pub showers_kg_per_s: f64,
    /// Cooking and washing up [kg/s, mean of the day], 0…50 kg/day. An event source.
    pub cooking_kg_per_s: f64,
    /// Laundry dried indoors [kg/s, mean of the day], 0…50 kg/day. An event source.
    pub laundry_kg_per_s: f64,
    /// Plants [kg/s], 0…50 kg/day; steady.
    pub plants_kg_per_s: f64,
    /// Water of a new building that dries out, on the first of January [kg/s], 0…50 kg/day; it takes its heat from the room.
    pub new_building_kg_per_s: f64,
    /// Time in which that halves \[s\], 10…2000 d.
    pub new_building_halves_s: f64,
    /// What takes up and gives back water.
    pub storage: Storage,
}

impl Moisture {
    /// Mean water released [kg/s], people and a new building left out.
    pub fn total_kg_per_s(&self) -> f64 {
        self.showers_kg_per_s + self.cooking_kg_per_s + self.laundry_kg_per_s + self.plants_kg_per_s
    }
}

/// What takes up and gives back water vapour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Storage {
    /// Furniture, textiles, paper and plaster of a lived-in house.
    Furnished,
    /// Walls and ceilings of bare wood, beside little else.
    TimberLined,
    /// Nothing but the air.
    None,
}
