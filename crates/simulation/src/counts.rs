//! Counts, extremes and peaks of a year, kept in lanes beside its sums: what `annual.csv` has that is no plain sum.
//!
//! The limits are those of the tables, which take them from here. Not here: sums (`observers`).

use lanes::Real;

use crate::results::HourOf;

/// Ice formed in an hour from which the hour counts as one with frost \[kg\].
pub const FROST_HOUR_KG: f64 = 0.001;
/// Outdoor air of an hour that counts as missed \[kg\]; less is rounding.
pub const MISSED_KG: f64 = 0.001;
/// Relative humidity must pass a limit by this much to be counted, else a humidifier that holds the limit
/// exactly would be counted or not by the last bit \[fraction\].
pub const LIMIT_MARGIN: f64 = 1e-6;
/// Below it rooms are dry \[fraction\].
pub const LOW_HUMIDITY: f64 = 0.30;
/// Above it rooms are damp \[fraction\].
pub const HIGH_HUMIDITY: f64 = 0.60;

const HOURS_PER_DAY: u32 = 24;

/// Counts, extremes and peaks of the hours seen.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Counts<R> {
    /// Hours with relative humidity below 30 %.
    pub rh_below_30_h: R,
    /// Hours with relative humidity above 60 %.
    pub rh_above_60_h: R,
    /// Least hourly relative humidity \[fraction\].
    pub rh_least: R,
    /// Greatest hourly relative humidity \[fraction\].
    pub rh_greatest: R,
    /// Sum of the hourly relative humidity of each month, January first [fraction × h].
    pub rh_by_month_h: [R; 12],
    /// Hours of each month.
    pub hours_by_month: [u32; 12],
    /// Hours in which at least 1 g of ice formed in the core.
    pub frost_h: R,
    /// Hours with any defrost.
    pub defrost_any_h: R,
    /// Hours in which ice blocked the extract side.
    pub blocked_any_h: R,
    /// Hours that missed more than a gram of outdoor air.
    pub missed_h: R,
    /// Most water to the drain in a calendar day \[kg\].
    pub drain_peak_kg_per_day: R,
    /// Greatest hourly mean power of the fans \[W\].
    pub fan_peak_w: R,
    /// Greatest hourly mean power of the preheater \[W\].
    pub preheat_peak_w: R,
    /// Greatest hourly mean heating load \[W\].
    pub heating_peak_w: R,
    /// Greatest hourly mean sensible cooling load \[W\].
    pub cooling_sensible_peak_w: R,
    /// Greatest hourly mean latent cooling load \[W\].
    pub cooling_latent_peak_w: R,
    /// Least hourly indoor air temperature \[°C\].
    pub air_least_c: R,
    /// Greatest hourly indoor air temperature \[°C\].
    pub air_greatest_c: R,
    /// Water to the drain of the day so far \[kg\].
    drain_of_day_kg: R,
    hours: u32,
}

impl<R: Real> Counts<R> {
    /// Nothing seen yet: extremes stand at infinity.
    pub fn zero() -> Self {
        let (none, least, greatest) = (R::zero(), R::splat(f64::INFINITY), R::splat(f64::NEG_INFINITY));
        Self {
            rh_below_30_h: none,
            rh_above_60_h: none,
            rh_least: least,
            rh_greatest: greatest,
            rh_by_month_h: [none; 12],
            hours_by_month: [0; 12],
            frost_h: none,
            defrost_any_h: none,
            blocked_any_h: none,
            missed_h: none,
            drain_peak_kg_per_day: none,
            fan_peak_w: none,
            preheat_peak_w: none,
            heating_peak_w: none,
            cooling_sensible_peak_w: none,
            cooling_latent_peak_w: none,
            air_least_c: least,
            air_greatest_c: greatest,
            drain_of_day_kg: none,
            hours: 0,
        }
    }

    /// One more hour, of a month from 0 to 11.
    #[inline(always)]
    pub(crate) fn hour(&mut self, month: usize, of: &HourOf<R>) {
        let one_where = |mask: R::Mask| R::select(mask, R::one(), R::zero());
        let above = |value: R, limit: f64| one_where(value.gt(R::splat(limit)));
        let rh = of.relative_humidity;
        self.rh_below_30_h += one_where(rh.lt(R::splat(LOW_HUMIDITY - LIMIT_MARGIN)));
        self.rh_above_60_h += above(rh, HIGH_HUMIDITY + LIMIT_MARGIN);
        self.rh_least = self.rh_least.min(rh);
        self.rh_greatest = self.rh_greatest.max(rh);
        self.rh_by_month_h[month] += rh;
        self.hours_by_month[month] += 1;
        self.frost_h += one_where(of.ice_formed_kg.ge(R::splat(FROST_HOUR_KG)));
        self.defrost_any_h += above(of.defrost_share, 0.0);
        self.blocked_any_h += above(of.blocked_share, 0.0);
        self.missed_h += above(of.missed_outdoor_air_kg, MISSED_KG);
        self.fan_peak_w = self.fan_peak_w.max(of.fan_w);
        self.preheat_peak_w = self.preheat_peak_w.max(of.preheat_w);
        self.heating_peak_w = self.heating_peak_w.max(of.heating_load_w);
        self.cooling_sensible_peak_w = self.cooling_sensible_peak_w.max(of.cooling_sensible_w);
        self.cooling_latent_peak_w = self.cooling_latent_peak_w.max(of.cooling_latent_w);
        self.air_least_c = self.air_least_c.min(of.air_c);
        self.air_greatest_c = self.air_greatest_c.max(of.air_c);
        self.drain_of_day_kg += of.drain_kg;
        self.hours += 1;
        if self.hours.is_multiple_of(HOURS_PER_DAY) {
            self.drain_peak_kg_per_day = self.drain_peak_kg_per_day.max(self.drain_of_day_kg);
            self.drain_of_day_kg = R::zero();
        }
    }

    /// Those of one lane.
    pub fn lane(&self, lane: usize) -> Counts<f64> {
        let of = |value: R| value.lane(lane);
        Counts {
            rh_below_30_h: of(self.rh_below_30_h),
            rh_above_60_h: of(self.rh_above_60_h),
            rh_least: of(self.rh_least),
            rh_greatest: of(self.rh_greatest),
            rh_by_month_h: self.rh_by_month_h.map(of),
            hours_by_month: self.hours_by_month,
            frost_h: of(self.frost_h),
            defrost_any_h: of(self.defrost_any_h),
            blocked_any_h: of(self.blocked_any_h),
            missed_h: of(self.missed_h),
            drain_peak_kg_per_day: of(self.drain_peak_kg_per_day),
            fan_peak_w: of(self.fan_peak_w),
            preheat_peak_w: of(self.preheat_peak_w),
            heating_peak_w: of(self.heating_peak_w),
            cooling_sensible_peak_w: of(self.cooling_sensible_peak_w),
            cooling_latent_peak_w: of(self.cooling_latent_peak_w),
            air_least_c: of(self.air_least_c),
            air_greatest_c: of(self.air_greatest_c),
            drain_of_day_kg: of(self.drain_of_day_kg),
            hours: self.hours,
        }
    }
}

impl Counts<f64> {
    /// Mean relative humidity over some months, counted from 0 \[fraction\]; `None` where they have no hour.
    pub fn rh_mean_of(&self, months: [usize; 3]) -> Option<f64> {
        let (sum, hours) = months.iter().fold((0.0, 0), |(sum, hours), &month| {
            (sum + self.rh_by_month_h[month % 12], hours + self.hours_by_month[month % 12])
        });
        (hours > 0).then(|| sum / f64::from(hours))
    }
}
