//! What the second calculation answers: sums of the year, means of its hours, and what its own books miss. Read next:
//! `year.rs`.

/// A minute as it was: means of the minute, masses moved in it.
#[derive(Clone, Copy, Debug)]
pub struct Minute {
    pub run_share: f64,
    pub room_c: f64,
    pub rest_w: f64,
    pub wet_w: f64,
    pub relative_humidity: f64,
    pub core_supply_c: f64,
    pub core_supply_w: f64,
    pub delivered_c: f64,
    pub exhaust_c: f64,
    pub plate_coldest_c: f64,
    pub heating_w: f64,
    pub cooling_sensible_w: f64,
    pub cooling_latent_w: f64,
    pub coil_kg: f64,
    pub recovered_sensible_w: f64,
    pub recovered_latent_w: f64,
    pub direct_kg: f64,
    pub supply_side_kg: f64,
    pub melted_kg: f64,
    pub frost_kg: f64,
    pub ice_kg: f64,
    pub warming_w: f64,
    pub melting_w: f64,
    pub returned_w: f64,
    pub solar_w: f64,
    pub internal_w: f64,
    pub room_condensed_kg: f64,
    pub ran_off_kg: f64,
    pub layer_kg: f64,
    pub heat_in_w: f64,
    pub heat_miss_w: f64,
    pub water_in_kg: f64,
    pub water_out_kg: f64,
    pub water_miss_kg: f64,
    pub core_in_w: f64,
    pub core_miss_w: f64,
    pub unsettled: bool,
}

/// Means of each hour, or sums where the name says kg.
#[derive(Clone, Debug, Default)]
pub struct Hourly {
    pub indoor_c: Vec<f64>,
    /// Of the rest zone [%].
    pub rh_pct: Vec<f64>,
    pub rest_w: Vec<f64>,
    pub wet_w: Vec<f64>,
    /// Leaving the core, before fan and heat that comes back; mean of the running minutes [°C], [kg/kg].
    pub supply_c: Vec<f64>,
    pub supply_w: Vec<f64>,
    /// Entering the rooms [°C].
    pub delivered_c: Vec<f64>,
    pub exhaust_c: Vec<f64>,
    pub plate_coldest_c: Vec<f64>,
    pub heating_w: Vec<f64>,
    /// Sensible and latent \[W\].
    pub cooling_w: Vec<f64>,
    pub recovered_sensible_w: Vec<f64>,
    pub recovered_latent_w: Vec<f64>,
    /// Liquid that reaches the drain.
    pub condensate_kg: Vec<f64>,
    /// Ice that forms, and ice at the hour's end.
    pub frost_kg: Vec<f64>,
    pub ice_kg: Vec<f64>,
    /// Heat taken from the room for warming the core and melting \[W\].
    pub defrost_w: Vec<f64>,
    pub solar_w: Vec<f64>,
    pub defrost_share: Vec<f64>,
}

/// Relative residuals of its own books over the year.
#[derive(Clone, Copy, Debug, Default)]
pub struct Books {
    /// Sum of the sizes of every minute's residual over the year's inflow.
    pub heat: f64,
    pub water: f64,
    pub core: f64,
    /// What the whole year's water misses at once, over its inflow.
    pub water_of_year: f64,
    /// Minutes in which the core's solver did not settle.
    pub unsettled_minutes: u32,
}

/// The year.
#[derive(Clone, Debug, Default)]
pub struct Answers {
    /// Loads.
    pub heating_kwh: f64,
    /// Sensible and latent.
    pub cooling_kwh: f64,
    pub cooling_sensible_kwh: f64,
    pub recovered_sensible_kwh: f64,
    pub recovered_latent_kwh: f64,
    /// Liquid that reaches the drain: direct, melted, from the supply side.
    pub condensate_l: f64,
    pub melted_kg: f64,
    pub supply_side_kg: f64,
    /// Hours in which at least 1 g of ice forms.
    pub frost_h: u32,
    pub frost_formed_kg: f64,
    pub defrost_h: f64,
    /// Heat taken from the room by defrosts, and what comes back.
    pub defrost_heat_kwh: f64,
    pub returned_kwh: f64,
    pub coil_kg: f64,
    pub room_condensed_kg: f64,
    pub panes_ran_off_kg: f64,
    pub rh_mean_pct: f64,
    pub rh_monthly_pct: [f64; 12],
    pub indoor_mean_c: f64,
    pub hourly: Hourly,
    pub books: Books,
}

/// Gathers minutes to hours and hours to the year.
pub struct Gather {
    answers: Answers,
    minutes: Vec<Minute>,
    month_hours: [u32; 12],
    held_before_kg: f64,
    heat: [f64; 2],
    water: [f64; 2],
    core: [f64; 2],
    water_in_less_out_kg: f64,
}

const KWH: f64 = 60.0 / 3.6e6;

impl Gather {
    pub fn new(held_before_kg: f64) -> Self {
        Self {
            answers: Answers::default(),
            minutes: Vec::with_capacity(60),
            month_hours: [0; 12],
            held_before_kg,
            heat: [0.0; 2],
            water: [0.0; 2],
            core: [0.0; 2],
            water_in_less_out_kg: 0.0,
        }
    }

    pub fn minute(&mut self, m: &Minute) {
        let a = &mut self.answers;
        a.heating_kwh += m.heating_w * KWH;
        a.cooling_sensible_kwh += m.cooling_sensible_w * KWH;
        a.cooling_kwh += (m.cooling_sensible_w + m.cooling_latent_w) * KWH;
        a.recovered_sensible_kwh += m.recovered_sensible_w * KWH;
        a.recovered_latent_kwh += m.recovered_latent_w * KWH;
        a.condensate_l += m.direct_kg + m.supply_side_kg + m.melted_kg;
        a.melted_kg += m.melted_kg;
        a.supply_side_kg += m.supply_side_kg;
        a.frost_formed_kg += m.frost_kg;
        a.defrost_heat_kwh += (m.warming_w + m.melting_w) * KWH;
        a.returned_kwh += m.returned_w * KWH;
        a.coil_kg += m.coil_kg;
        a.room_condensed_kg += m.room_condensed_kg;
        a.panes_ran_off_kg += m.ran_off_kg;
        a.books.unsettled_minutes += u32::from(m.unsettled);
        self.heat[0] += m.heat_miss_w;
        self.heat[1] += m.heat_in_w;
        self.water[0] += m.water_miss_kg.abs();
        self.water[1] += m.water_in_kg;
        self.core[0] += m.core_miss_w;
        self.core[1] += m.core_in_w;
        self.water_in_less_out_kg += m.water_in_kg - m.water_out_kg;
        self.minutes.push(*m);
    }

    pub fn end_hour(&mut self, month: u8, defrost_share: f64) {
        let mean = |of: fn(&Minute) -> f64| self.minutes.iter().map(of).sum::<f64>() / 60.0;
        let sum = |of: fn(&Minute) -> f64| self.minutes.iter().map(of).sum::<f64>();
        let run = sum(|m| m.run_share).max(1e-9);
        let while_running =
            |of: fn(&Minute) -> f64| self.minutes.iter().map(|m| of(m) * m.run_share).sum::<f64>() / run;
        let h = &mut self.answers.hourly;
        let rh_pct = 100.0 * mean(|m| m.relative_humidity);
        h.indoor_c.push(mean(|m| m.room_c));
        h.rh_pct.push(rh_pct);
        h.rest_w.push(mean(|m| m.rest_w));
        h.wet_w.push(mean(|m| m.wet_w));
        h.supply_c.push(while_running(|m| m.core_supply_c));
        h.supply_w.push(while_running(|m| m.core_supply_w));
        h.delivered_c.push(while_running(|m| m.delivered_c));
        h.exhaust_c.push(while_running(|m| m.exhaust_c));
        h.plate_coldest_c.push(while_running(|m| m.plate_coldest_c));
        h.heating_w.push(mean(|m| m.heating_w));
        h.cooling_w.push(mean(|m| m.cooling_sensible_w + m.cooling_latent_w));
        h.recovered_sensible_w.push(mean(|m| m.recovered_sensible_w));
        h.recovered_latent_w.push(mean(|m| m.recovered_latent_w));
        h.condensate_kg.push(sum(|m| m.direct_kg + m.supply_side_kg + m.melted_kg));
        let frost_kg = sum(|m| m.frost_kg);
        h.frost_kg.push(frost_kg);
        h.ice_kg.push(self.minutes.last().map_or(0.0, |m| m.ice_kg));
        h.defrost_w.push(mean(|m| m.warming_w + m.melting_w));
        h.solar_w.push(mean(|m| m.solar_w));
        h.defrost_share.push(defrost_share);
        let a = &mut self.answers;
        a.frost_h += u32::from(frost_kg >= 1e-3);
        a.defrost_h += defrost_share;
        let month = usize::from(month) - 1;
        a.rh_monthly_pct[month] += rh_pct;
        self.month_hours[month] += 1;
        self.minutes.clear();
    }

    pub fn finish(mut self, held_kg: f64) -> Answers {
        let a = &mut self.answers;
        let hours = a.hourly.rh_pct.len().max(1) as f64;
        a.rh_mean_pct = a.hourly.rh_pct.iter().sum::<f64>() / hours;
        a.indoor_mean_c = a.hourly.indoor_c.iter().sum::<f64>() / hours;
        for (rh, &n) in a.rh_monthly_pct.iter_mut().zip(&self.month_hours) {
            *rh /= f64::from(n.max(1));
        }
        let relative = |[miss, inflow]: [f64; 2]| miss / inflow.max(f64::MIN_POSITIVE);
        a.books.heat = relative(self.heat);
        a.books.water = relative(self.water);
        a.books.core = relative(self.core);
        let stored = held_kg - self.held_before_kg;
        a.books.water_of_year = (self.water_in_less_out_kg - stored).abs() / self.water[1].max(1e-9);
        self.answers
    }
}
