//! A climate in bins: hours by dry bulb, with the humidity that goes with each, by month and by three shifts of the day.
//!
//! Bins hold the hours `low ≤ t < low + width`, edges at multiples of the width from an edge of one's choice. Means are those of the
//! hours in a bin, so all bins together give the year's mean. Bins cannot carry what a house remembers: mass, stored moisture, ice in
//! a core.
//! Not here: a house or a core in bins.
//!
//! # Sources
//! Hours by dry bulb with mean coincident wet bulb, by month and by eight-hour shifts, as public engineering weather manuals print them
//! (such as UFC 3-400-02, Engineering Weather Data, recalled).

use psychrometrics::{AirError, Given, MoistAir};

use crate::year::WeatherYear;

/// Three shifts of the day, local standard time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Shift {
    /// Hours that begin from 0:00 to 7:00.
    Night,
    /// Hours that begin from 8:00 to 15:00.
    Day,
    /// Hours that begin from 16:00 to 23:00.
    Evening,
}

impl Shift {
    /// The three of them, in order.
    pub const ALL: [Self; 3] = [Self::Night, Self::Day, Self::Evening];

    /// The shift of an hour that begins at this clock hour, 0…23.
    pub fn of_hour(hour_of_day: u8) -> Self {
        match hour_of_day {
            0..8 => Self::Night,
            8..16 => Self::Day,
            _ => Self::Evening,
        }
    }

    /// First and last clock hour that begin in it.
    pub fn hours(self) -> (u8, u8) {
        match self {
            Self::Night => (0, 7),
            Self::Day => (8, 15),
            Self::Evening => (16, 23),
        }
    }
}

/// Width of bins and where one of their edges lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edges {
    /// Width, more than 0.
    pub width: f64,
    /// Some edge.
    pub at: f64,
}

/// Why bins cannot be made.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum BinError {
    /// A width that is not positive, or so small that there would be more bins than hours.
    #[error("bins of {0} cannot be counted: the width must be from 0.00001 to 100")]
    Width(f64),
    /// An edge that is no number.
    #[error("an edge at {0} is no number")]
    Edge(f64),
}

impl Edges {
    /// Bins of this width with an edge there.
    ///
    /// # Errors
    /// [`BinError`] unless the width is 0.00001…100 and the edge finite.
    pub fn new(width: f64, at: f64) -> Result<Self, BinError> {
        if !(1e-5..=100.0).contains(&width) {
            return Err(BinError::Width(width));
        }
        if at.is_finite() { Ok(Self { width, at }) } else { Err(BinError::Edge(at)) }
    }

    /// Place of the bin that holds a value, counted from the one that begins at the edge.
    #[allow(clippy::cast_possible_truncation, reason = "a year's values over a width of 0.00001 at least")]
    pub fn place(&self, value: f64) -> i64 {
        ((value - self.at) / self.width).floor() as i64
    }

    /// Lower edge of a bin.
    pub fn low(&self, place: i64) -> f64 {
        self.at + place as f64 * self.width
    }
}

/// A bin of dry bulb.
#[derive(Debug, Clone, PartialEq)]
pub struct Bin {
    /// Lower edge [°C]; the upper one is a width above it.
    pub low_c: f64,
    /// Hours in it, by month (January first) and shift.
    pub hours: [[u32; 3]; 12],
    /// Mean dry bulb of those hours [°C].
    pub dry_bulb_c: f64,
    /// Mean coincident wet bulb [°C].
    pub wet_bulb_c: f64,
    /// Mean coincident humidity ratio [kg/kg dry air].
    pub humidity_ratio: f64,
}

impl Bin {
    /// All hours of it.
    pub fn total(&self) -> u32 {
        self.hours.iter().flatten().sum()
    }

    /// Hours of a shift in all months.
    pub fn of_shift(&self, shift: Shift) -> u32 {
        let place = Shift::ALL.iter().position(|one| *one == shift).unwrap_or(0);
        self.hours.iter().map(|month| month[place]).sum()
    }

    /// Hours of a month (0…11) in all shifts.
    pub fn of_month(&self, month: usize) -> u32 {
        self.hours.get(month).map_or(0, |shifts| shifts.iter().sum())
    }
}

/// A joint bin of dry bulb and humidity ratio.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JointBin {
    /// Lower edge of dry bulb [°C].
    pub low_c: f64,
    /// Lower edge of humidity ratio [kg/kg dry air].
    pub low_humidity_ratio: f64,
    /// Hours in it.
    pub hours: u32,
    /// Mean dry bulb of them [°C].
    pub dry_bulb_c: f64,
    /// Mean humidity ratio of them [kg/kg dry air].
    pub humidity_ratio: f64,
}

/// The year's dry bulb in bins, coldest first; bins without hours are left out.
///
/// # Errors
/// [`AirError`] for an hour outside the range of moist air, which no reader lets through.
pub fn bins(year: &WeatherYear, edges: &Edges) -> Result<Vec<Bin>, AirError> {
    let mut sums: std::collections::BTreeMap<i64, Bin> = std::collections::BTreeMap::new();
    for h in 0..year.hours() {
        let (dry_bulb_c, humidity_ratio) = (year.dry_bulb_c[h], year.humidity_ratio[h]);
        let air = MoistAir::from_pair(
            Given::DryBulbC(dry_bulb_c),
            Given::HumidityRatio(humidity_ratio),
            year.pressure_pa[h],
        )?;
        let place = edges.place(dry_bulb_c);
        let bin = sums.entry(place).or_insert_with(|| Bin {
            low_c: edges.low(place),
            hours: [[0; 3]; 12],
            dry_bulb_c: 0.0,
            wet_bulb_c: 0.0,
            humidity_ratio: 0.0,
        });
        let shift = Shift::of_hour(year.hour_of_day(h)) as usize;
        bin.hours[usize::from(year.month_of_hour(h)) - 1][shift] += 1;
        bin.dry_bulb_c += dry_bulb_c;
        bin.wet_bulb_c += air.wet_bulb_c();
        bin.humidity_ratio += humidity_ratio;
    }
    Ok(sums
        .into_values()
        .map(|bin| {
            let count = f64::from(bin.total());
            Bin {
                dry_bulb_c: bin.dry_bulb_c / count,
                wet_bulb_c: bin.wet_bulb_c / count,
                humidity_ratio: bin.humidity_ratio / count,
                ..bin
            }
        })
        .collect())
}

/// The year in joint bins of dry bulb [°C] and humidity ratio [kg/kg], coldest and driest first; bins without hours are left out.
pub fn joint_bins(year: &WeatherYear, dry_bulb: &Edges, humidity_ratio: &Edges) -> Vec<JointBin> {
    let mut sums: std::collections::BTreeMap<(i64, i64), JointBin> = std::collections::BTreeMap::new();
    for (&t, &w) in year.dry_bulb_c.iter().zip(&year.humidity_ratio) {
        let place = (dry_bulb.place(t), humidity_ratio.place(w));
        let bin = sums.entry(place).or_insert_with(|| JointBin {
            low_c: dry_bulb.low(place.0),
            low_humidity_ratio: humidity_ratio.low(place.1),
            hours: 0,
            dry_bulb_c: 0.0,
            humidity_ratio: 0.0,
        });
        bin.hours += 1;
        bin.dry_bulb_c += t;
        bin.humidity_ratio += w;
    }
    sums.into_values()
        .map(|bin| {
            let count = f64::from(bin.hours);
            JointBin { dry_bulb_c: bin.dry_bulb_c / count, humidity_ratio: bin.humidity_ratio / count, ..bin }
        })
        .collect()
}
