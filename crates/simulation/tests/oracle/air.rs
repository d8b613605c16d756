//! Moist air for the second calculation: saturation from a fine table, and the three enthalpies. Read next: `cells.rs`.

use psychrometrics::formulas::saturation_pa;

/// Heat capacity of dry air [J/(kg K)].
pub const CP_AIR: f64 = 1006.0;
/// Heat capacity of water vapour [J/(kg K)].
pub const CP_VAPOUR: f64 = 1860.0;
/// Heat that freezing water at 0 °C gives up [J/kg].
pub const FUSION: f64 = 333.4e3;

/// Enthalpy of vapour at a temperature [J/kg]; liquid water at 0 °C is zero.
pub fn vapour_j_per_kg(t_c: f64) -> f64 {
    2501e3 + CP_VAPOUR * t_c
}

/// Enthalpy of liquid water [J/kg].
pub fn liquid_j_per_kg(t_c: f64) -> f64 {
    4186.0 * t_c
}

/// Enthalpy of ice [J/kg].
pub fn ice_j_per_kg(t_c: f64) -> f64 {
    -FUSION + 2100.0 * t_c
}

/// Enthalpy of moist air [J/kg dry air].
pub fn enthalpy_j_per_kg(t_c: f64, w: f64) -> f64 {
    CP_AIR * t_c + w * vapour_j_per_kg(t_c)
}

/// Heat capacity of moist air [J/(K kg dry air)].
pub fn moist_cp(w: f64) -> f64 {
    CP_AIR + CP_VAPOUR * w
}

/// Saturation pressure every hundredth of a kelvin from −60 to 80 °C, straight lines between: within 1e-7 of the formula.
pub struct Saturation {
    table_pa: Vec<f64>,
    pressure_pa: f64,
}

const LOWEST_C: f64 = -60.0;
const PER_KELVIN: f64 = 100.0;
const ENTRIES: u32 = 14_000;

impl Saturation {
    pub fn new(pressure_pa: f64) -> Self {
        let table_pa = (0..=ENTRIES).map(|i| saturation_pa(LOWEST_C + f64::from(i) / PER_KELVIN)).collect();
        Self { table_pa, pressure_pa }
    }

    pub fn set_pressure(&mut self, pressure_pa: f64) {
        self.pressure_pa = pressure_pa;
    }

    pub fn pressure_pa(&self) -> f64 {
        self.pressure_pa
    }

    /// Saturation pressure and its slope [Pa], [Pa/K].
    pub fn pressure(&self, t_c: f64) -> (f64, f64) {
        let place = (t_c - LOWEST_C) * PER_KELVIN;
        assert!((0.0..f64::from(ENTRIES)).contains(&place), "{t_c} °C is outside the table");
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let index = place as usize;
        let (low, high) = (self.table_pa[index], self.table_pa[index + 1]);
        (low + (high - low) * (place - index as f64), (high - low) * PER_KELVIN)
    }

    /// Humidity ratio of saturated air and its slope [kg/kg], [kg/(kg K)].
    pub fn ratio(&self, t_c: f64) -> (f64, f64) {
        let (p, slope) = self.pressure(t_c);
        let rest = 1.0 / (self.pressure_pa - p);
        (0.621945 * p * rest, 0.621945 * self.pressure_pa * rest * rest * slope)
    }

    /// Vapour pressure of air [Pa].
    pub fn vapour_pressure(&self, w: f64) -> f64 {
        self.pressure_pa * w / (0.621945 + w)
    }

    /// Relative humidity [0…1].
    pub fn relative_humidity(&self, t_c: f64, w: f64) -> f64 {
        self.vapour_pressure(w) / self.pressure(t_c).0
    }
}
