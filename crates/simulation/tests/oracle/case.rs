//! What the second calculation is given: plain numbers in SI. Read next: `year.rs`.

/// A window and where it faces.
#[derive(Clone, Copy, Debug)]
pub struct Window {
    /// Direction it faces [° clockwise from north]; it stands upright.
    pub azimuth_deg: f64,
    /// Whole opening, frame included [m²].
    pub area_m2: f64,
    /// [W/(m² K)]
    pub u_w_per_m2k: f64,
    /// Share of the sun on the whole opening that enters at normal incidence.
    pub solar_gain: f64,
}

/// Furnishings' surface that takes up vapour; an area of 0 for none.
#[derive(Clone, Copy, Debug)]
pub struct Storage {
    /// [m²]
    pub area_m2: f64,
    /// Vapour permeability [kg/(m s Pa)].
    pub permeability: f64,
    /// Water content per unit of relative humidity [kg/m³].
    pub capacity_kg_per_m3: f64,
    /// Film between air and surface [kg/(m² s Pa)].
    pub film: f64,
}

/// A line of the defrost timetable.
#[derive(Clone, Copy, Debug)]
pub struct TimetableRow {
    /// It holds when the hour's outdoor temperature is at or below this [°C]; of several, the coldest.
    pub at_or_below_c: f64,
    /// Minutes of recirculation, then of running.
    pub defrost_min: f64,
    pub run_min: f64,
}

/// A house, its ventilation and its core.
#[derive(Clone, Debug)]
pub struct Case {
    /// [m²]
    pub floor_area_m2: f64,
    /// [m³]
    pub volume_m3: f64,
    /// Conduction without windows [W/K].
    pub opaque_w_per_k: f64,
    pub windows: Vec<Window>,
    /// Correction for sun that does not fall square on the glass.
    pub incidence_factor: f64,
    /// Heat capacity of the building [J/K] and area of its mass [m²].
    pub mass_j_per_k: f64,
    pub mass_area_m2: f64,
    /// Air temperatures that are held [°C]; −∞ and +∞ for none.
    pub heating_set_c: f64,
    pub cooling_set_c: f64,
    /// Apparatus dew point of the cooling coil [°C]. The bypass factor does not matter: the air that leaves the coil lies
    /// on the line from the room's state to this point, and heat and water follow from the line alone.
    pub coil_dew_point_c: f64,
    /// Leakage, in and out [kg/s dry air].
    pub leakage_kg_per_s: f64,
    /// People, and the share of them present by clock hour.
    pub people: f64,
    pub presence: [f64; 24],
    /// Each person: heat \[W\], water [kg/s] (it brings its latent heat).
    pub person_w: f64,
    pub person_kg_per_s: f64,
    /// Other gains \[W\].
    pub gains_w: f64,
    /// Water that brings its latent heat, by clock hour, to the wet zone and to the rest [kg/s].
    pub moisture_wet_kg_per_s: [f64; 24],
    pub moisture_rest_kg_per_s: [f64; 24],
    /// The same to the wet zone by quarter-hour, in place of the hours; `None`: by the hours.
    pub quarters_wet_kg_per_s: Option<[f64; 96]>,
    /// Water that takes its latent heat from the room air (plants, drying), to the rest [kg/s].
    pub evaporated_rest_kg_per_s: [f64; 24],
    /// Wet zone's share of the volume; 0 makes the house one zone.
    pub wet_share: f64,
    /// Air through doors each way [kg/s dry air].
    pub door_kg_per_s: f64,
    pub storage: Storage,
    /// Whether panes take and give water: a film of at most 50 g/m², the rest runs off.
    pub panes_sweat: bool,
    /// Supply and extract flow while running [kg/s dry air].
    pub ventilation_kg_per_s: f64,
    /// Core: heat conductance from air to air [W/K]; vapour conductance [kg/s], 0 for a plate that lets none pass.
    pub ua_w_per_k: f64,
    pub vapour_kg_per_s: f64,
    pub cells: usize,
    /// Heat capacity of the core [J/K].
    pub core_j_per_k: f64,
    /// Share of the heat that warms the core in a defrost which comes back into the supply.
    pub returned: f64,
    /// Fan power after the core: all of the supply fan's goes into the supply, the extract fan's outside. In a defrost both
    /// heat the room \[W\].
    pub supply_fan_w: f64,
    pub extract_fan_w: f64,
    /// Recirculation by outdoor temperature; empty for none.
    pub timetable: Vec<TimetableRow>,
    /// Hours before hour 0, from the end of the file.
    pub lead_in_hours: usize,
}

/// Values by clock hour that lie in some hours only: `(hour, kg)` per day, evenly over that hour.
pub fn events(of_day: &[(usize, f64)]) -> [f64; 24] {
    let mut profile = [0.0; 24];
    for &(hour, kg) in of_day {
        profile[hour] += kg / 3600.0;
    }
    profile
}

impl Case {
    /// A bungalow of 140 m² with four people, and 30 L/s through a plate core of effectiveness near 0.75 without defrost.
    pub fn bungalow() -> Self {
        let window = |azimuth_deg: f64, area_m2: f64| Window {
            azimuth_deg,
            area_m2,
            u_w_per_m2k: 1.6,
            solar_gain: 0.45,
        };
        let mut presence = [1.0; 24];
        presence[8..17].fill(0.25);
        Self {
            floor_area_m2: 140.0,
            volume_m3: 350.0,
            opaque_w_per_k: 116.2,
            windows: vec![window(180.0, 9.0), window(0.0, 3.0), window(90.0, 3.0), window(270.0, 3.0)],
            incidence_factor: 0.9,
            mass_j_per_k: 165e3 * 140.0,
            mass_area_m2: 2.5 * 140.0,
            heating_set_c: 20.5,
            cooling_set_c: 25.0,
            coil_dew_point_c: 11.0,
            leakage_kg_per_s: 0.012,
            people: 4.0,
            presence,
            person_w: 70.0,
            person_kg_per_s: 0.05 / 3600.0,
            gains_w: 2.4 * 140.0,
            moisture_wet_kg_per_s: events(&[(6, 0.8), (21, 0.8), (7, 0.5), (12, 0.4), (18, 1.3)]),
            moisture_rest_kg_per_s: [0.0; 24],
            quarters_wet_kg_per_s: None,
            evaporated_rest_kg_per_s: [0.9 / 86_400.0; 24],
            wet_share: 0.15,
            door_kg_per_s: 0.03,
            storage: Storage { area_m2: 280.0, permeability: 3e-11, capacity_kg_per_m3: 15.0, film: 2e-8 },
            panes_sweat: true,
            ventilation_kg_per_s: 0.036,
            ua_w_per_k: 108.0,
            vapour_kg_per_s: 0.0,
            cells: 40,
            core_j_per_k: 4000.0,
            returned: 0.5,
            supply_fan_w: 22.0,
            extract_fan_w: 22.0,
            timetable: Vec::new(),
            lead_in_hours: 504,
        }
    }
}
