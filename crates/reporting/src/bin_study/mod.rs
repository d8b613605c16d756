//! The bin method for a unit, beside the hourly run folded into the same bins, and what makes the difference.
//!
//! Four ways to the same figures, each with the same core. `hourly`: the run itself. `no history`: the plain core in every hour, at
//! the run's own indoor air. `told`: the plain core once for each bin of a month, at the bin's mean outdoor air and the month's mean
//! extract air of the run. `blind`: once for each bin of the year, at the heating set-point and 40 %. So
//! `hourly − blind = (hourly − no history) + (no history − told) + (told − blind)`: history and control, means in place of hours,
//! not knowing the house. Not here: the plain core (`simulation::plain_hour`), tables (`table`), sentences (`words`), CSV and JSON
//! (`files`).
//!
//! # Sources
//! Bins with mean coincident humidity and one equipment calculation a bin: the modified bin method, Knebel 1983 (recalled).

mod files;
mod printed;
mod table;
mod words;

use std::collections::BTreeMap;

use psychrometrics::checked::humidity_ratio_from_relative_humidity;
use simulation::results::{Hourly, HouseYear};
use simulation::{AirAround, PlainHour, Variant, plain_hour};
use weather::bins::Edges;

use crate::columns::FROST_HOUR_KG;
use crate::summary::check;
use crate::{Calendar, ReportError};

pub use files::{BIN_KEYS, BinColumn, bin_columns, bins_csv, bins_json};
pub use printed::{Figures, Printed};
pub use table::bin_table;
pub use words::{METHOD, bin_words};

/// Relative humidity indoors that blind bins assume.
pub const BLIND_RELATIVE_HUMIDITY: f64 = 0.4;
/// The ways in which figures are found; [`Method::ALL`] is their order everywhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// The hourly run, folded into the bins.
    Hourly,
    /// The plain core hour by hour, at the run's own indoor air.
    NoHistory,
    /// Bins of each month, told the month's mean extract air.
    Told,
    /// Bins of the year, at the heating set-point and 40 %.
    Blind,
}

impl Method {
    /// All four.
    pub const ALL: [Self; 4] = [Self::Hourly, Self::NoHistory, Self::Told, Self::Blind];

    /// Its name in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::Hourly => "hourly",
            Self::NoHistory => "no_history",
            Self::Told => "told",
            Self::Blind => "blind",
        }
    }
}

/// What is counted, over some hours.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Amounts {
    /// Sensible heat passed to the supply air \[kWh\].
    pub recovered_sensible_kwh: f64,
    /// Latent heat passed to it \[kWh\].
    pub recovered_latent_kwh: f64,
    /// Water to the drain \[L\].
    pub condensate_l: f64,
    /// Ice laid down in the core \[kg\].
    pub ice_formed_kg: f64,
    /// Hours in which that was a gram or more \[h\].
    pub frost_h: f64,
}

/// A bin of dry bulb over the year.
#[derive(Debug, Clone, PartialEq)]
pub struct BinRow {
    /// Lower edge [°C].
    pub low_c: f64,
    /// Hours in it.
    pub hours: u32,
    /// Mean dry bulb of those hours [°C].
    pub dry_bulb_c: f64,
    /// Mean coincident humidity ratio [kg/kg dry air].
    pub humidity_ratio: f64,
    /// What is counted, in the order of [`Method::ALL`].
    pub amounts: [Amounts; 4],
}

/// Air of the rooms that a unit takes.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct IndoorAir {
    /// Temperature [°C].
    pub temperature_c: f64,
    /// Humidity ratio [kg/kg dry air].
    pub humidity_ratio: f64,
}

/// Variance about the months' means: the part within bins of a month, and that of the bins' means. The two add up to the whole.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Variance {
    /// Within bins.
    pub within: f64,
    /// Of the bins' means about the month's.
    pub between: f64,
}

impl Variance {
    /// About the months' means.
    pub fn whole(&self) -> f64 {
        self.within + self.between
    }
}

/// What sets an hour of the run apart from the plain core; the first that holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Apart {
    /// Preheat, air led round the core, a slower wheel, free cooling.
    Kept,
    /// Ice in the core before or after, a defrost, or what a defrost left.
    Ice,
    /// Another airflow than the rated one.
    Airflow,
    /// None of these: indoor air that moves within the hour.
    Rest,
}

impl Apart {
    /// All of them, in the order in which they are asked.
    pub const ALL: [Self; 4] = [Self::Kept, Self::Ice, Self::Airflow, Self::Rest];
}

/// What the run did that no bin knows, summed over the year.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Ran {
    /// Ice melted \[kg\].
    pub ice_melted_kg: f64,
    /// Time in defrost \[h\].
    pub defrost_h: f64,
    /// Hours blocked by ice \[h\].
    pub blocked_h: f64,
    /// Air delivered, for each unit of the rated flow.
    pub airflow_share: f64,
}

/// The bin method for one unit, beside its hourly run.
#[derive(Debug, Clone, PartialEq)]
pub struct BinStudy {
    /// The unit's name.
    pub unit: String,
    /// Whether its core is a wheel, which has no drain.
    pub is_wheel: bool,
    /// Width of the bins and where one begins.
    pub edges: Edges,
    /// Coldest first; bins without hours are left out.
    pub rows: Vec<BinRow>,
    /// Mean extract air of each month, which told bins are told; January first.
    pub told_air: [IndoorAir; 12],
    /// Bins of the months that hold hours.
    pub told_bins: usize,
    /// Indoor air of the blind bins, at the year's mean pressure.
    pub blind_air: IndoorAir,
    /// Humidity ratio of the extract air \[(kg/kg)²\].
    pub indoor_humidity: Variance,
    /// Temperature of the extract air \[K²\].
    pub indoor_temperature: Variance,
    /// Hours and `hourly − no history` by what sets them apart, in the order of [`Apart::ALL`].
    pub apart: [(u32, Amounts); 4],
    /// What the run did.
    pub ran: Ran,
}

impl BinStudy {
    /// The bin method for this unit in bins with these edges, beside its hourly run.
    ///
    /// # Errors
    /// [`ReportError`] when the year has the wrong number of hours or holds a value that is not finite, or when air at the heating
    /// set-point and 40 % is outside the range of moist air.
    pub fn new(year: &HouseYear, variant: &Variant, edges: &Edges) -> Result<Self, ReportError> {
        let hours = Hours { calendar: check(year)?, hourly: &year.hourly, variant, edges };
        let told_air = hours.month_means();
        let groups = hours.groups();
        let blind_air = hours.blind_air(mean(&year.hourly.pressure_pa))?;
        let (indoor_humidity, indoor_temperature) = hours.spread(&groups, &told_air);
        let per_hour: Vec<[Amounts; 2]> = (0..hours.count()).map(|hour| hours.of_hour(hour)).collect();
        Ok(Self {
            unit: year.unit.clone(),
            is_wheel: variant.core.is_wheel(),
            edges: *edges,
            rows: hours.rows(&groups, &per_hour, &told_air)?,
            told_air,
            told_bins: groups.len(),
            blind_air,
            indoor_humidity,
            indoor_temperature,
            apart: hours.apart(&per_hour),
            ran: hours.ran(),
        })
    }
}

/// The hours of a bin in one month.
#[derive(Debug, Clone, Default)]
struct Group {
    hours: Vec<usize>,
    outdoor_c: f64,
    outdoor_w: f64,
    pressure_pa: f64,
    indoor: IndoorAir,
}

type Groups = BTreeMap<(i64, usize), Group>;

/// All that is read.
struct Hours<'a> {
    calendar: Calendar,
    hourly: &'a Hourly,
    variant: &'a Variant,
    edges: &'a Edges,
}

impl Hours<'_> {
    fn count(&self) -> usize {
        self.calendar.hours()
    }

    /// The air that the unit takes from the rooms, as it is there.
    fn indoor(&self, hour: usize) -> IndoorAir {
        let wet_share = self.variant.unit.extract_wet_share;
        let (wet, rest) = (self.hourly.wet_humidity_ratio[hour], self.hourly.humidity_ratio[hour]);
        IndoorAir {
            temperature_c: self.hourly.air_c[hour],
            humidity_ratio: wet * wet_share + rest * (1.0 - wet_share),
        }
    }

    fn mean_indoor(&self, hours: &[usize]) -> IndoorAir {
        let count = hours.len().max(1) as f64;
        let sum = |of: fn(IndoorAir) -> f64| hours.iter().map(|&hour| of(self.indoor(hour))).sum::<f64>();
        IndoorAir {
            temperature_c: sum(|air| air.temperature_c) / count,
            humidity_ratio: sum(|air| air.humidity_ratio) / count,
        }
    }

    fn month_means(&self) -> [IndoorAir; 12] {
        core::array::from_fn(|month| self.mean_indoor(&self.calendar.hours_of(month).collect::<Vec<_>>()))
    }

    /// The hours by bin and month, with their means.
    fn groups(&self) -> Groups {
        let mut groups = Groups::new();
        for month in 0..12 {
            for hour in self.calendar.hours_of(month) {
                let place = self.edges.place(self.hourly.outdoor_c[hour]);
                groups.entry((place, month)).or_default().hours.push(hour);
            }
        }
        for group in groups.values_mut() {
            let of = |column: &[f64]| {
                group.hours.iter().map(|&hour| column[hour]).sum::<f64>() / group.hours.len() as f64
            };
            group.outdoor_c = of(&self.hourly.outdoor_c);
            group.outdoor_w = of(&self.hourly.outdoor_humidity_ratio);
            group.pressure_pa = of(&self.hourly.pressure_pa);
            group.indoor = self.mean_indoor(&group.hours);
        }
        groups
    }

    fn blind_air(&self, pressure_pa: f64) -> Result<IndoorAir, ReportError> {
        let temperature_c = self.variant.house.numbers.heating_set_point_c;
        let humidity_ratio =
            humidity_ratio_from_relative_humidity(temperature_c, BLIND_RELATIVE_HUMIDITY, pressure_pa)
                .map_err(|cause| ReportError::BlindAir { reason: cause.to_string() })?;
        Ok(IndoorAir { temperature_c, humidity_ratio })
    }

    /// Of humidity ratio and of temperature.
    fn spread(&self, groups: &Groups, told_air: &[IndoorAir; 12]) -> (Variance, Variance) {
        let (mut humidity, mut temperature) = (Variance::default(), Variance::default());
        let square = |difference: f64| difference * difference;
        for (&(_, month), group) in groups {
            let (middle, told) = (group.indoor, told_air[month]);
            for &hour in &group.hours {
                let air = self.indoor(hour);
                humidity.within += square(air.humidity_ratio - middle.humidity_ratio);
                humidity.between += square(middle.humidity_ratio - told.humidity_ratio);
                temperature.within += square(air.temperature_c - middle.temperature_c);
                temperature.between += square(middle.temperature_c - told.temperature_c);
            }
        }
        let count = self.count() as f64;
        let each = |sum: Variance| Variance { within: sum.within / count, between: sum.between / count };
        (each(humidity), each(temperature))
    }

    /// The run's hour, and the plain core's at the run's own air.
    fn of_hour(&self, hour: usize) -> [Amounts; 2] {
        let h = self.hourly;
        let run = PlainHour {
            recovered_sensible_w: h.recovered_sensible_w[hour],
            recovered_latent_w: h.recovered_latent_w[hour],
            drain_kg: h.drain_kg[hour],
            ice_kg: h.ice_formed_kg[hour],
        };
        let outdoor = (h.outdoor_c[hour], h.outdoor_humidity_ratio[hour], h.pressure_pa[hour]);
        [Amounts::of(&run, 1), self.plain(outdoor, self.indoor(hour), 1)]
    }

    fn plain(&self, outdoor: (f64, f64, f64), indoor: IndoorAir, hours: usize) -> Amounts {
        let around = AirAround {
            outdoor_c: outdoor.0,
            outdoor_humidity_ratio: outdoor.1,
            indoor_c: indoor.temperature_c,
            indoor_humidity_ratio: indoor.humidity_ratio,
            pressure_pa: outdoor.2,
        };
        Amounts::of(&plain_hour(self.variant, &around), hours)
    }

    fn rows(
        &self,
        groups: &Groups,
        per_hour: &[[Amounts; 2]],
        told_air: &[IndoorAir; 12],
    ) -> Result<Vec<BinRow>, ReportError> {
        let mut bins: BTreeMap<i64, Vec<(usize, &Group)>> = BTreeMap::new();
        for (&(place, month), group) in groups {
            bins.entry(place).or_default().push((month, group));
        }
        bins.into_iter().map(|(place, months)| self.row(place, &months, per_hour, told_air)).collect()
    }

    #[allow(clippy::cast_possible_truncation, reason = "hours of a year")]
    fn row(
        &self,
        place: i64,
        months: &[(usize, &Group)],
        per_hour: &[[Amounts; 2]],
        told_air: &[IndoorAir; 12],
    ) -> Result<BinRow, ReportError> {
        let hours: usize = months.iter().map(|(_, group)| group.hours.len()).sum();
        let of = |value: fn(&Group) -> f64| {
            months.iter().map(|(_, group)| value(group) * group.hours.len() as f64).sum::<f64>()
                / hours as f64
        };
        let means = (of(|g| g.outdoor_c), of(|g| g.outdoor_w), of(|g| g.pressure_pa));
        let mut amounts = [Amounts::default(); 4];
        for (month, group) in months {
            for &hour in &group.hours {
                let [run, plain] = per_hour[hour];
                amounts[Method::Hourly as usize].add(&run);
                amounts[Method::NoHistory as usize].add(&plain);
            }
            let outdoor = (group.outdoor_c, group.outdoor_w, group.pressure_pa);
            let told = self.plain(outdoor, told_air[*month], group.hours.len());
            amounts[Method::Told as usize].add(&told);
        }
        amounts[Method::Blind as usize] = self.plain(means, self.blind_air(means.2)?, hours);
        Ok(BinRow {
            low_c: self.edges.low(place),
            hours: hours as u32,
            dry_bulb_c: means.0,
            humidity_ratio: means.1,
            amounts,
        })
    }

    fn apart(&self, per_hour: &[[Amounts; 2]]) -> [(u32, Amounts); 4] {
        let mut found = [(0, Amounts::default()); 4];
        for (hour, [run, plain]) in per_hour.iter().enumerate() {
            let (hours, sum) = &mut found[self.what_sets_apart(hour) as usize];
            *hours += 1;
            sum.add(&run.less(plain));
        }
        found
    }

    fn what_sets_apart(&self, hour: usize) -> Apart {
        let h = self.hourly;
        // What lay in the core when the year began is what lies in it when it ends, near enough.
        let before = hour.checked_sub(1).unwrap_or(self.count() - 1);
        let any = |columns: &[&[f64]]| columns.iter().any(|column| column[hour] > 0.0);
        let ice = [&h.frost_kg, &h.ice_formed_kg, &h.ice_melted_kg].map(Vec::as_slice);
        let defrost = [&h.defrost_share, &h.blocked_share, &h.defrost_returned_w].map(Vec::as_slice);
        if any(&[&h.preheat_w, &h.bypass_share]) {
            Apart::Kept
        } else if any(&ice) || any(&defrost) || h.frost_kg[before] > 0.0 {
            Apart::Ice
        } else if (h.delivered_air_kg[hour] - self.rated_kg()).abs() > SAME_FLOW * self.rated_kg() {
            Apart::Airflow
        } else {
            Apart::Rest
        }
    }

    /// Air delivered in an hour of the rated flow \[kg\].
    fn rated_kg(&self) -> f64 {
        (self.variant.unit.supply_kg_per_s + self.variant.unit.cross_leak_kg_per_s) * HOUR_S
    }

    fn ran(&self) -> Ran {
        let h = self.hourly;
        let sum = |column: &[f64]| column.iter().sum::<f64>();
        let rated = self.rated_kg() * self.count() as f64;
        Ran {
            ice_melted_kg: sum(&h.ice_melted_kg),
            defrost_h: sum(&h.defrost_share),
            blocked_h: h.blocked_share.iter().filter(|share| **share > 0.0).count() as f64,
            airflow_share: if rated > 0.0 { sum(&h.delivered_air_kg) / rated } else { 1.0 },
        }
    }
}

const HOUR_S: f64 = 3600.0;
/// Flows that differ by less than this share are the same but for rounding.
const SAME_FLOW: f64 = 1e-9;

fn mean(column: &[f64]) -> f64 {
    column.iter().sum::<f64>() / column.len().max(1) as f64
}

impl Amounts {
    /// So many hours like this one.
    fn of(hour: &PlainHour, hours: usize) -> Self {
        let count = hours as f64;
        Self {
            recovered_sensible_kwh: hour.recovered_sensible_w * count / 1000.0,
            recovered_latent_kwh: hour.recovered_latent_w * count / 1000.0,
            condensate_l: hour.drain_kg * count,
            ice_formed_kg: hour.ice_kg * count,
            frost_h: if hour.ice_kg >= FROST_HOUR_KG { count } else { 0.0 },
        }
    }

    fn add(&mut self, other: &Self) {
        self.recovered_sensible_kwh += other.recovered_sensible_kwh;
        self.recovered_latent_kwh += other.recovered_latent_kwh;
        self.condensate_l += other.condensate_l;
        self.ice_formed_kg += other.ice_formed_kg;
        self.frost_h += other.frost_h;
    }

    fn less(&self, other: &Self) -> Self {
        Self {
            recovered_sensible_kwh: self.recovered_sensible_kwh - other.recovered_sensible_kwh,
            recovered_latent_kwh: self.recovered_latent_kwh - other.recovered_latent_kwh,
            condensate_l: self.condensate_l - other.condensate_l,
            ice_formed_kg: self.ice_formed_kg - other.ice_formed_kg,
            frost_h: self.frost_h - other.frost_h,
        }
    }
}
