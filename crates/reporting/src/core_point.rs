//! One steady point of a core: the air at its four ports, temperatures along it, and what it gave.
//!
//! Plain numbers that somebody else calculated. Not here: how they come about (crate `exchanger`), the picture
//! (`charts`), the table (`core_table`).

use psychrometrics::checked;

use crate::{ReportError, ShowIn};

/// A steady point of a core, as it is shown.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CorePoint {
    /// Title of the study.
    pub title: String,
    /// Name of the unit.
    pub unit: String,
    /// Pressure of the air \[Pa\], 50e3 to 110e3.
    pub pressure_pa: f64,
    /// Air from outside as it enters the core.
    pub outdoor: Port,
    /// Air to the house.
    pub supply: Port,
    /// Air from the house as it enters the core.
    pub extract: Port,
    /// Air to the outside.
    pub exhaust: Port,
    /// The core from its house side to its weather side; empty where its streams cross, so that it has no one length.
    pub profile: Vec<Along>,
    /// What the core gives at this point.
    pub notes: CoreNotes,
    /// Units of measure of chart and table.
    pub show_in: ShowIn,
}

/// Air at a port.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Port {
    /// Dry bulb \[°C\], −60 to 60.
    pub t_c: f64,
    /// Water per dry air [kg/kg], 0 to 0.5.
    pub humidity_ratio: f64,
    /// Flow of dry air [kg/s].
    pub dry_air_kg_per_s: f64,
}

/// A place along the core.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Along {
    /// Share of the core between its house side (0) and this place; 1 is the weather side.
    pub share: f64,
    /// Air on its way to the house \[°C\].
    pub supply_c: f64,
    /// Air on its way out \[°C\].
    pub extract_c: f64,
    /// Plate or membrane \[°C\].
    pub plate_c: f64,
    /// Humidity ratio of the air on its way to the house [kg/kg], where it is known.
    pub supply_humidity_ratio: Option<f64>,
    /// Humidity ratio of the air on its way out [kg/kg], where it is known.
    pub extract_humidity_ratio: Option<f64>,
    /// Whether water leaves the air onto the plate here, as liquid or as ice.
    pub wet: bool,
    /// Whether it freezes here.
    pub freezing: bool,
}

/// What a core gives at a point.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct CoreNotes {
    /// Heat to the supply air that warms it \[W\]; negative when the air is cooled.
    pub sensible_w: f64,
    /// Heat to the supply air in its vapour \[W\]; negative when the air is dried.
    pub latent_w: f64,
    /// Liquid water from the core [L/h].
    pub water_l_per_h: f64,
    /// Ice formed in the core [kg/h].
    pub ice_kg_per_h: f64,
    /// Coldest place of the plate \[°C\], where it is known.
    pub coldest_plate_c: Option<f64>,
}

impl CorePoint {
    /// The ports with their names, in the order in which they are shown.
    pub fn ports(&self) -> [(&'static str, Port); 4] {
        [
            ("outdoor", self.outdoor),
            ("supply", self.supply),
            ("extract", self.extract),
            ("exhaust", self.exhaust),
        ]
    }

    /// Dew point, below 0.01 °C the frost point \[°C\], of air at a port; `None` for dry air and beyond the formula.
    pub fn dew_point_c(&self, port: Port) -> Option<f64> {
        let vapour_pa = checked::vapour_pressure_pa(port.humidity_ratio, self.pressure_pa).ok()?;
        checked::dew_point_c(vapour_pa).ok()
    }

    /// Relative humidity 0…1 of air at a port, over ice below 0.01 °C; a little more than 1 where air is over-saturated.
    pub fn relative_humidity(&self, port: Port) -> Option<f64> {
        checked::relative_humidity(port.t_c, port.humidity_ratio, self.pressure_pa).ok()
    }

    /// That everything can be drawn.
    ///
    /// # Errors
    /// [`ReportError::OutOfRange`] for a number that is not finite or outside the ranges that the fields name.
    pub fn check(&self) -> Result<(), ReportError> {
        let pressure = Bounds { quantity: "pressure", unit: "Pa", low: 50e3, high: 110e3 };
        pressure.check(self.pressure_pa, "this point")?;
        for (name, port) in self.ports() {
            let place = format!("{name} air");
            DRY_BULB.check(port.t_c, &place)?;
            HUMIDITY_RATIO.check(port.humidity_ratio, &place)?;
        }
        for (place, along) in self.profile.iter().enumerate() {
            along.check(&format!("place {} along the core", place + 1))?;
        }
        self.notes.check()
    }
}

impl CoreNotes {
    fn check(&self) -> Result<(), ReportError> {
        const LARGEST: f64 = 1e9;
        let amounts = [
            ("sensible heat", "W", Some(self.sensible_w)),
            ("latent heat", "W", Some(self.latent_w)),
            ("water", "L/h", Some(self.water_l_per_h)),
            ("ice", "kg/h", Some(self.ice_kg_per_h)),
            ("coldest plate", "°C", self.coldest_plate_c),
        ];
        for (quantity, unit, value) in amounts {
            if let Some(value) = value {
                Bounds { quantity, unit, low: -LARGEST, high: LARGEST }.check(value, "this point")?;
            }
        }
        Ok(())
    }
}

impl Along {
    fn check(&self, place: &str) -> Result<(), ReportError> {
        SHARE.check(self.share, place)?;
        for t in [self.supply_c, self.extract_c, self.plate_c] {
            DRY_BULB.check(t, place)?;
        }
        for ratio in [self.supply_humidity_ratio, self.extract_humidity_ratio].into_iter().flatten() {
            HUMIDITY_RATIO.check(ratio, place)?;
        }
        Ok(())
    }
}

const DRY_BULB: Bounds = Bounds { quantity: "temperature", unit: "°C", low: -60.0, high: 60.0 };
const HUMIDITY_RATIO: Bounds = Bounds { quantity: "humidity ratio", unit: "kg/kg", low: 0.0, high: 0.5 };
const SHARE: Bounds = Bounds { quantity: "share", unit: "of the core", low: 0.0, high: 1.0 };

/// Range of a quantity.
pub(crate) struct Bounds {
    pub quantity: &'static str,
    pub unit: &'static str,
    pub low: f64,
    pub high: f64,
}

impl Bounds {
    pub fn check(&self, value: f64, place: &str) -> Result<(), ReportError> {
        let Self { quantity, unit, low, high } = *self;
        if (low..=high).contains(&value) {
            return Ok(());
        }
        Err(ReportError::OutOfRange { place: place.to_owned(), quantity, value, unit, low, high })
    }
}
