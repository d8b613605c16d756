//! One cell of the core: what passes through the plate there, dry or wet, how that changes with the air on both sides,
//! and the elimination of one cell from the whole. Read next: `cells.rs`.
//!
//! A face is wet where the air at it would be above saturation at the plate's temperature; then it sits at saturation.
//! What condenses is liquid above 0 °C and ice below. Ice gives up more heat than liquid, so there are states where
//! all liquid leaves the plate below 0 °C and all ice above: there it stays at 0 °C with the share of ice that balances it.

use super::air::{CP_VAPOUR, FUSION, Saturation, vapour_j_per_kg};

/// Conductances of one cell.
#[derive(Clone, Copy)]
pub struct Cell {
    /// Film, each side [W/K].
    pub film: f64,
    /// Vapour from air to air while both faces are dry [kg/s].
    pub through: f64,
    /// Vapour through the extract film [kg/s].
    pub film_e: f64,
    /// Vapour through the supply film [kg/s].
    pub film_s: f64,
    /// Vapour from a wet extract face to the supply air [kg/s].
    pub wet_e_to_s: f64,
    /// Vapour from a wet supply face to the extract air [kg/s].
    pub wet_s_to_e: f64,
}

/// What passes in one cell: heat and vapour off the extract air, heat and vapour to the supply air; and how they change
/// with the means of extract temperature and humidity, supply temperature and humidity.
#[derive(Clone, Copy)]
pub struct Passed {
    pub flux: [f64; 4],
    pub slope: [[f64; 4]; 4],
    pub plate_c: f64,
    /// [kg/s]
    pub liquid: f64,
    /// [kg/s]
    pub ice: f64,
    pub on_supply_side: bool,
}

/// A plate with water on the face towards air `a`, and other air `b` behind it.
struct Wet {
    plate_c: f64,
    /// Vapour that leaves `a`, that joins `b` [kg/s].
    leaves: f64,
    joins: f64,
    liquid: f64,
    ice: f64,
    /// Slope of the plate's temperature with temperature and humidity of `a` and of `b`.
    plate_slope: [f64; 4],
    /// Slope of saturation [kg/(kg K)].
    saturation_slope: f64,
}

impl Cell {
    /// `mean`: extract temperature and humidity, supply temperature and humidity. `guess_c`: the plate as it last was.
    pub fn pass(&self, mean: [f64; 4], guess_c: f64, air: &Saturation) -> Passed {
        let [te, we, ts, ws] = mean;
        let vapour = self.through * (we - ws);
        let lent = vapour * CP_VAPOUR / (2.0 * self.film);
        let dry_c = 0.5 * (te + ts) + lent * (te - ts);
        let saturated = air.ratio(dry_c).0;
        if we - vapour / self.film_e > saturated {
            let wet =
                Wet::balance(self.film, [self.film_e, self.wet_e_to_s], mean, dry_c, guess_c.max(dry_c), air);
            return self.wet(&wet, mean, false);
        }
        if ws + vapour / self.film_s > saturated {
            let turned = [ts, ws, te, we];
            let wet = Wet::balance(
                self.film,
                [self.film_s, self.wet_s_to_e],
                turned,
                dry_c,
                guess_c.max(dry_c),
                air,
            );
            return self.wet(&wet, mean, true);
        }
        let by_w = self.through * CP_VAPOUR * (te - ts) / (2.0 * self.film);
        let plate = [0.5 + lent, by_w, 0.5 - lent, -by_w];
        let v = [0.0, self.through, 0.0, -self.through];
        Passed {
            flux: [self.film * (te - dry_c), vapour, self.film * (dry_c - ts), vapour],
            slope: [self.heat_e_slope(&plate), v, self.heat_s_slope(&plate), v],
            plate_c: dry_c,
            liquid: 0.0,
            ice: 0.0,
            on_supply_side: false,
        }
    }

    fn heat_e_slope(&self, plate: &[f64; 4]) -> [f64; 4] {
        let f = self.film;
        [f * (1.0 - plate[0]), -f * plate[1], -f * plate[2], -f * plate[3]]
    }

    fn heat_s_slope(&self, plate: &[f64; 4]) -> [f64; 4] {
        let f = self.film;
        [f * plate[0], f * plate[1], f * (plate[2] - 1.0), f * plate[3]]
    }

    fn wet(&self, wet: &Wet, mean: [f64; 4], on_supply_side: bool) -> Passed {
        let [te, _, ts, _] = mean;
        let (film_a, through) =
            if on_supply_side { (self.film_s, self.wet_s_to_e) } else { (self.film_e, self.wet_e_to_s) };
        let s = wet.saturation_slope;
        let mut leaves_slope = wet.plate_slope.map(|p| -film_a * s * p);
        leaves_slope[1] += film_a;
        let mut joins_slope = wet.plate_slope.map(|p| through * s * p);
        joins_slope[3] -= through;
        let turn = |x: [f64; 4]| if on_supply_side { [x[2], x[3], x[0], x[1]] } else { x };
        let (plate, leaves_slope, joins_slope) =
            (turn(wet.plate_slope), turn(leaves_slope), turn(joins_slope));
        let heat = [self.film * (te - wet.plate_c), self.film * (wet.plate_c - ts)];
        let (flux, slope_e, slope_s) = if on_supply_side {
            let flux = [heat[0], -wet.joins, heat[1], -wet.leaves];
            (flux, joins_slope.map(|x| -x), leaves_slope.map(|x| -x))
        } else {
            ([heat[0], wet.leaves, heat[1], wet.joins], leaves_slope, joins_slope)
        };
        Passed {
            flux,
            slope: [self.heat_e_slope(&plate), slope_e, self.heat_s_slope(&plate), slope_s],
            plate_c: wet.plate_c,
            liquid: wet.liquid,
            ice: wet.ice,
            on_supply_side,
        }
    }
}

impl Wet {
    /// `vapour`: conductances from `a` to the wet face, and from the face to `b`.
    fn balance(
        film: f64,
        vapour: [f64; 2],
        [ta, wa, tb, wb]: [f64; 4],
        dry_c: f64,
        guess_c: f64,
        air: &Saturation,
    ) -> Self {
        let [film_a, through] = vapour;
        let (ha, hb) = (vapour_j_per_kg(ta), vapour_j_per_kg(tb));
        let flows = |saturated: f64| (film_a * (wa - saturated), through * (saturated - wb));
        // What the plate gains at a temperature, if what condenses has the enthalpy `condensate`.
        let gain = |t: f64, (leaves, joins): (f64, f64), condensate: f64| {
            film * (ta + tb - 2.0 * t) + leaves * ha - joins * hb - (leaves - joins) * condensate
        };
        let (at_zero, slope_at_zero) = air.ratio(0.0);
        let zero = flows(at_zero);
        let condensing = zero.0 - zero.1;
        let short = -gain(0.0, zero, 0.0);
        if dry_c < 0.0 && short > 0.0 && condensing > 0.0 && condensing * FUSION > short {
            let ice = short / FUSION;
            return Self {
                plate_c: 0.0,
                leaves: zero.0,
                joins: zero.1,
                liquid: condensing - ice,
                ice,
                plate_slope: [0.0; 4],
                saturation_slope: slope_at_zero,
            };
        }
        let freezes = dry_c < 0.0 && short > 0.0;
        let (melted, heat_capacity) = if freezes { (FUSION, 2100.0) } else { (0.0, 4186.0) };
        let mut t = if freezes { guess_c.min(0.0) } else { guess_c.max(0.0) };
        let mut round = 0;
        loop {
            let (saturated, s) = air.ratio(t);
            let (leaves, joins) = flows(saturated);
            let condensate = heat_capacity * t - melted;
            let stiffness = 2.0 * film
                + film_a * s * (ha - condensate)
                + through * s * (hb - condensate)
                + (leaves - joins) * heat_capacity;
            let step = gain(t, (leaves, joins), condensate) / stiffness;
            round += 1;
            if step.abs() < 1e-9 || round > 60 {
                let amount = leaves - joins;
                return Self {
                    plate_c: t,
                    leaves,
                    joins,
                    liquid: if freezes { 0.0 } else { amount },
                    ice: if freezes { amount } else { 0.0 },
                    plate_slope: [
                        (film + leaves * CP_VAPOUR) / stiffness,
                        film_a * (ha - condensate) / stiffness,
                        (film - joins * CP_VAPOUR) / stiffness,
                        through * (hb - condensate) / stiffness,
                    ],
                    saturation_slope: s,
                };
            }
            t += step;
        }
    }
}

/// Elimination: what a correction of the extract air entering a cell (temperature, humidity, and 1) does to the extract air
/// that leaves it and to the supply air that leaves it.
#[derive(Clone, Copy, Default)]
pub struct Onward {
    pub extract: [[f64; 3]; 2],
    pub supply: [[f64; 3]; 2],
}

/// Solves one cell's four balances for what leaves it, given how the supply air that enters depends on the extract air that
/// leaves (`entering`). `by_humidity`: what more vapour in the mean of the extract air, of the supply air, carries along
/// their changes of temperature [W per kg/kg].
pub fn eliminate(
    slope: &[[f64; 4]; 4],
    capacity: &[f64; 4],
    miss: &[f64; 4],
    by_humidity: &[f64; 2],
    entering: &[[f64; 3]; 2],
) -> Onward {
    // Columns: extract leaving (2), supply leaving (2), then what stands on the right: extract entering (2), constant.
    let mut rows = [[0.0_f64; 7]; 4];
    for r in 0..4 {
        let sign = if r < 2 { 0.5 } else { -0.5 };
        let half = slope[r].map(|x| sign * x);
        let (mut cold, mut warm) = (half, half);
        if r < 2 {
            cold[r] += capacity[r];
            warm[r] -= capacity[r];
        } else {
            warm[r] += capacity[r];
            cold[r] -= capacity[r];
        }
        if r == 0 || r == 2 {
            cold[r + 1] += 0.5 * by_humidity[r / 2];
            warm[r + 1] += 0.5 * by_humidity[r / 2];
        }
        rows[r] = [
            cold[0] + cold[2] * entering[0][0] + cold[3] * entering[1][0],
            cold[1] + cold[2] * entering[0][1] + cold[3] * entering[1][1],
            warm[2],
            warm[3],
            -warm[0],
            -warm[1],
            -miss[r] - cold[2] * entering[0][2] - cold[3] * entering[1][2],
        ];
    }
    // The diagonal is the largest by far in each balance (its own stream's capacity), so rows stay in place.
    for k in 0..4 {
        let pivot = 1.0 / rows[k][k];
        for value in &mut rows[k][k..] {
            *value *= pivot;
        }
        let row = rows[k];
        for (r, other) in rows.iter_mut().enumerate() {
            if r != k {
                let factor = other[k];
                for c in k..7 {
                    other[c] -= factor * row[c];
                }
            }
        }
    }
    let right = |r: usize| [rows[r][4], rows[r][5], rows[r][6]];
    Onward { extract: [right(0), right(1)], supply: [right(2), right(3)] }
}
