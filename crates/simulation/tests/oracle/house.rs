//! Heat of the house: three nodes (air, surfaces, mass) as the simple hourly method of ISO 13790 has them, but written as
//! the nodes' own balances and solved as they stand, for any length of step. Not here: humidity (`moisture.rs`).
//!
//! Choice: within a step the mass stands at the mean of its two ends, and air and surfaces belong to that mean.

/// Conductances between the nodes and where gains go.
#[derive(Clone, Copy, Debug)]
pub struct Network {
    air_to_surface: f64,
    surface_to_mass: f64,
    mass_to_outside: f64,
    windows: f64,
    mass_j_per_k: f64,
    mass_share: f64,
    lost_share: f64,
}

/// What acts on the house during a step.
#[derive(Clone, Copy, Debug, Default)]
pub struct Drive {
    pub step_s: f64,
    pub outdoor_c: f64,
    /// Air that enters: its capacity rate [W/K], and that times its temperature \[W\].
    pub air_w_per_k: f64,
    pub air_w: f64,
    /// Gains inside, and of the sun \[W\].
    pub internal_w: f64,
    pub solar_w: f64,
    /// Heat straight to the room air \[W\].
    pub to_air_w: f64,
}

/// The house after a step. Air and surfaces are means of the step.
#[derive(Clone, Copy, Debug)]
pub struct Solved {
    pub air_c: f64,
    pub surface_c: f64,
    pub mass_c: f64,
    /// Heating, or cooling where negative \[W\].
    pub plant_w: f64,
    /// What the three nodes' balances miss together \[W\].
    pub miss_w: f64,
}

impl Network {
    pub fn new(floor_area_m2: f64, opaque_w_per_k: f64, windows_w_per_k: f64, mass: (f64, f64)) -> Self {
        let (mass_j_per_k, mass_area_m2) = mass;
        let total_area = 4.5 * floor_area_m2;
        let surface_to_mass = 9.1 * mass_area_m2;
        let mass_to_outside =
            if opaque_w_per_k > 0.0 { 1.0 / (1.0 / opaque_w_per_k - 1.0 / surface_to_mass) } else { 0.0 };
        Self {
            air_to_surface: 3.45 * total_area,
            surface_to_mass,
            mass_to_outside,
            windows: windows_w_per_k,
            mass_j_per_k,
            mass_share: mass_area_m2 / total_area,
            lost_share: windows_w_per_k / (9.1 * total_area),
        }
    }

    /// Holds the air between two temperatures, with as much plant as that needs.
    pub fn step(&self, mass_c: f64, drive: &Drive, heating_c: f64, cooling_c: f64) -> Solved {
        let free = self.with_plant(mass_c, drive, 0.0);
        if free.air_c < heating_c {
            self.with_air(mass_c, drive, heating_c)
        } else if free.air_c > cooling_c {
            self.with_air(mass_c, drive, cooling_c)
        } else {
            free
        }
    }

    /// Given the plant's heat \[W\].
    pub fn with_plant(&self, mass_c: f64, drive: &Drive, plant_w: f64) -> Solved {
        let mut rows = self.balances(mass_c, drive);
        rows[0][3] += plant_w;
        let [air_c, surface_c, after] = solve(rows);
        self.solved(mass_c, drive, [air_c, surface_c, after, plant_w])
    }

    /// Given the air's temperature [°C]: the plant's heat is unknown instead.
    pub fn with_air(&self, mass_c: f64, drive: &Drive, air_c: f64) -> Solved {
        let mut rows = self.balances(mass_c, drive);
        for row in &mut rows {
            row[3] -= row[0] * air_c;
            row[0] = 0.0;
        }
        rows[0][0] = -1.0;
        let [plant_w, surface_c, after] = solve(rows);
        self.solved(mass_c, drive, [air_c, surface_c, after, plant_w])
    }

    /// Shares of the gains: air, surfaces, mass. What is missing from the whole is lost to the outside by the method.
    pub fn shares(&self, drive: &Drive) -> [f64; 3] {
        let radiant = 0.5 * drive.internal_w + drive.solar_w;
        let on_mass = self.mass_share * radiant;
        [0.5 * drive.internal_w, (1.0 - self.mass_share - self.lost_share) * radiant, on_mass]
    }

    /// Coefficients of air, surfaces and mass after the step, and the right-hand side, for each node.
    fn balances(&self, mass_c: f64, drive: &Drive) -> [[f64; 4]; 3] {
        let [to_air, to_surface, to_mass] = self.shares(drive);
        let inertia = self.mass_j_per_k / drive.step_s;
        let half = 0.5 * (self.surface_to_mass + self.mass_to_outside);
        [
            [
                drive.air_w_per_k + self.air_to_surface,
                -self.air_to_surface,
                0.0,
                drive.air_w + drive.to_air_w + to_air,
            ],
            [
                -self.air_to_surface,
                self.air_to_surface + self.surface_to_mass + self.windows,
                -0.5 * self.surface_to_mass,
                to_surface + self.windows * drive.outdoor_c + 0.5 * self.surface_to_mass * mass_c,
            ],
            [
                0.0,
                -self.surface_to_mass,
                inertia + half,
                (inertia - half) * mass_c + self.mass_to_outside * drive.outdoor_c + to_mass,
            ],
        ]
    }

    fn solved(&self, before_c: f64, drive: &Drive, [air_c, surface_c, mass_c, plant_w]: [f64; 4]) -> Solved {
        // Over the whole house: what enters, less what leaves and what stays.
        let mean_c = 0.5 * (before_c + mass_c);
        let lost = self.lost_share * (0.5 * drive.internal_w + drive.solar_w);
        let entering = plant_w + drive.internal_w + drive.solar_w + drive.to_air_w - lost;
        let with_air = drive.air_w - drive.air_w_per_k * air_c;
        let conduction =
            self.windows * (drive.outdoor_c - surface_c) + self.mass_to_outside * (drive.outdoor_c - mean_c);
        let stored = self.mass_j_per_k / drive.step_s * (mass_c - before_c);
        Solved { air_c, surface_c, mass_c, plant_w, miss_w: entering + with_air + conduction - stored }
    }
}

/// Three equations with three unknowns, by elimination with the largest pivot.
fn solve(mut rows: [[f64; 4]; 3]) -> [f64; 3] {
    for k in 0..3 {
        let best = (k..3).max_by(|&a, &b| rows[a][k].abs().total_cmp(&rows[b][k].abs())).unwrap();
        rows.swap(k, best);
        let row = rows[k];
        for (r, other) in rows.iter_mut().enumerate() {
            if r != k {
                let factor = other[k] / row[k];
                for c in k..4 {
                    other[c] -= factor * row[c];
                }
            }
        }
    }
    [rows[0][3] / rows[0][0], rows[1][3] / rows[1][1], rows[2][3] / rows[2][2]]
}
