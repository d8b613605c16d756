//! What a study says about frost in a unit: how much it holds, and what is done about it.
//!
//! Here: plain values in SI, every check done; temperatures in °C. Not here: what follows from them (`build`).
//! Read next: `read/frost.rs`, which makes these.

/// Frost in a unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Frost {
    /// What is done about it.
    pub strategy: FrostStrategy,
    /// Frost that blocks the passages \[kg\], 0.01…500.
    pub capacity_kg: f64,
    /// Share of the water on the plate that flows on to its cold end, and may freeze there [-], 0…1; 0 for a wheel.
    pub to_cold_end: f64,
    /// What becomes of the outdoor air that defrosting takes; of no effect where nothing interrupts the supply.
    pub missed_air: MissedAir,
}

impl Frost {
    /// Frost that a core is taken to hold for each L/s of `ventilation.airflow` where nothing is stated \[kg\].
    ///
    /// # Source
    /// Assumed: of the order of what closes passages of 2 mm.
    pub const CAPACITY_KG_PER_L_PER_S: f64 = 0.03;
}

/// What becomes of the outdoor air that defrosting takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MissedAir {
    /// It is missed: `1 − D` of the flow arrives, `D` being the share of the time in defrost.
    Missed,
    /// The flow between two defrosts is raised by `1/(1 − D)`, so that as much arrives.
    MadeUp,
}

/// What is done about frost.
#[derive(Debug, Clone, PartialEq)]
pub enum FrostStrategy {
    /// Nothing: the core may block.
    None,
    /// The outdoor damper shuts, and house air melts the frost.
    Recirculate {
        /// When, and how long.
        control: RecirculationControl,
        /// Share of the heat that warmed the core which comes back into the supply air afterwards [-], 0…1.
        returned: f64,
    },
    /// An electric heater warms the outdoor air before the core.
    Preheat {
        /// To this temperature [°C], −30…15; `None`: to where this core first frosts at the hour's indoor humidity.
        to_c: Option<f64>,
        /// With this power at most \[W\], 1…100 000; `None`: without limit.
        most_w: Option<f64>,
    },
    /// The supply fan stops, and extract air melts the frost.
    SupplyOff {
        /// When the air that leaves the extract side is colder than this [°C], −20…20; `None`: on demand.
        start_below_c: Option<f64>,
        /// Until it is warmer than this [°C], −20…30, above `start_below_c`; `None`: until the frost has melted.
        end_above_c: Option<f64>,
    },
    /// Cold air passes round the core, as much of it as keeps the coldest plate at 0 °C.
    Bypass,
    /// A wheel turns more slowly: it recovers less, and stays warmer where it is coldest.
    SlowDown,
}

/// When, and how long, house air is sent through the core.
#[derive(Debug, Clone, PartialEq)]
pub enum RecirculationControl {
    /// From where frost exceeds 5 % of the capacity, as long as melting it takes.
    OnDemand,
    /// By the outdoor temperature, whatever the state of the core.
    Timetable(Timetable),
}

/// Defrosting by outdoor temperature: one row or more, by falling temperature, no temperature twice, and no row with a
/// smaller share in defrost than the row before it.
#[derive(Debug, Clone, PartialEq)]
pub struct Timetable {
    /// The rows.
    pub rows: Vec<TimetableRow>,
}

impl Timetable {
    /// The row that holds at this mean outdoor temperature of an hour [°C]: the coldest that is not colder; `None` where the
    /// air is warmer than all rows.
    pub fn row_at(&self, outdoor_c: f64) -> Option<&TimetableRow> {
        self.rows.iter().rfind(|row| outdoor_c <= row.at_or_below_c)
    }
}

/// A row of a timetable.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TimetableRow {
    /// The warmest outdoor air at which it holds [°C], −60…15.
    pub at_or_below_c: f64,
    /// Time in defrost \[s\], 0.5…120 min.
    pub defrost_s: f64,
    /// Time from one defrost to the next \[s\], 1…1440 min.
    pub run_s: f64,
}

impl TimetableRow {
    /// Share of the time in defrost [-]: `d/(d + r)`.
    pub fn defrost_share(&self) -> f64 {
        self.defrost_s / (self.defrost_s + self.run_s)
    }
}
