//! What depends on weather, clock, facing or profile alone: made once, shared by every variant.
//!
//! Not here: anything that belongs to one house.

use weather::WeatherYear;
use weather::tilted::{Surface, USUAL_ALBEDO, tilted_years};
use weather::wave::{Wave, waves};

use crate::profiles::{DayProfile, PeopleProfile};

/// Windows may face at most this many different ways.
pub const MAX_FACINGS: usize = 8;

/// Moisture sub-steps in an hour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Steps {
    /// One of an hour.
    One,
    /// Two of 30 minutes.
    Two,
    /// Four of 15 minutes.
    Four,
    /// Six of 10 minutes.
    Six,
    /// Twelve of 5 minutes.
    Twelve,
}

impl Steps {
    /// How many there are in an hour.
    pub const fn an_hour(self) -> usize {
        match self {
            Self::One => 1,
            Self::Two => 2,
            Self::Four => 4,
            Self::Six => 6,
            Self::Twelve => 12,
        }
    }
}

/// A way that windows face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Facing {
    /// Degrees clockwise from north.
    pub azimuth_deg: f64,
    /// Degrees from lying flat: 90 upright, 0 facing up.
    pub tilt_deg: f64,
}

/// Water of a sub-step as shares of the day's water.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SourceShares {
    /// Showers.
    pub showers: f64,
    /// Cooking.
    pub cooking: f64,
    /// Laundry that dries indoors.
    pub laundry: f64,
    /// Plants.
    pub plants: f64,
}

/// One hour of the drivers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HourDriver {
    /// Outdoor dry bulb [°C].
    pub outdoor_c: f64,
    /// Outdoor humidity ratio [kg/kg dry air].
    pub outdoor_humidity_ratio: f64,
    /// Barometric pressure \[Pa\].
    pub pressure_pa: f64,
    /// Wind at the weather station [m/s].
    pub wind_m_per_s: f64,
    /// The year's wave of outdoor temperature: its mean [°C], the wave itself in this hour \[K\], and where it stood a quarter
    /// of a year before \[K\].
    pub wave: Wave,
    /// What the clock says.
    pub clock: Clock,
    /// Irradiance on each facing [W/m²]; 0 past the last facing.
    pub irradiance_w_per_m2: [f64; MAX_FACINGS],
    /// Share of the people at home.
    pub presence: f64,
    /// Hour of the day, 0…23.
    pub hour_of_day: usize,
    /// Month, 0…11.
    pub month: usize,
    /// Hour of the year, from 0.
    pub hour_of_year: usize,
}

/// What the clock and the household's habits say of an hour, the same for every house of a batch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clock {
    /// Share of the hour in which the ventilation runs, 0…1.
    pub run_share: f64,
    /// Flow while it runs, for each unit of the rated flow, 0.01…4.
    pub flow: f64,
    /// Share of the hour with the heating set back, 0…1.
    pub set_back: f64,
    /// Share of the hour with the cooling set up, 0…1.
    pub set_up: f64,
    /// Share of the hour in which the range hood runs, 0…1.
    pub hood: f64,
    /// Share of the hour in which the clothes dryer runs, 0…1; the two together at most 1.
    pub dryer: f64,
    /// 1 while the household is at home by its profile, 0 while it is away: then nobody is in, and nothing but plants gives water.
    pub at_home: f64,
}

impl Clock {
    /// Ventilation at its rated flow all day, nothing set back, no exhaust of appliances.
    pub const STEADY: Self =
        Self { run_share: 1.0, flow: 1.0, set_back: 0.0, set_up: 0.0, hood: 0.0, dryer: 0.0, at_home: 1.0 };

    fn is_possible(&self) -> bool {
        let shares = [self.run_share, self.set_back, self.set_up, self.hood, self.dryer, self.at_home];
        shares.iter().all(|share| (0.0..=1.0).contains(share))
            && self.hood + self.dryer <= 1.0
            && (0.01..=4.0).contains(&self.flow)
    }
}

/// The drivers of a year.
#[derive(Debug, Clone, PartialEq)]
pub struct Drivers {
    hours: Vec<HourDriver>,
    shares: Vec<SourceShares>,
    /// The same while the household is away: plants alone.
    shares_away: Vec<SourceShares>,
    facings: Vec<Facing>,
    steps: Steps,
}

/// Why drivers cannot be made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum DriversError {
    /// More facings than there is room for.
    #[error("windows face {0} different ways; at most {MAX_FACINGS} are possible")]
    TooManyFacings(usize),
    /// A clock with a share outside 0…1, or a flow outside 0.01…4.
    #[error("hour {0} of the clock has a share outside 0 to 1, or a flow outside 0.01 to 4")]
    Clock(usize),
    /// A clock of another length than the weather year.
    #[error("the clock has {clock} hours; the weather year has {weather}")]
    ClockLength {
        /// Hours of the clock.
        clock: usize,
        /// Hours of the year.
        weather: usize,
    },
}

impl Drivers {
    /// Drivers of a weather year for windows facing these ways and people living to this profile.
    ///
    /// Albedo 0.2; sky by Perez.
    ///
    /// # Errors
    /// [`DriversError`] for more than [`MAX_FACINGS`] facings.
    pub fn new(
        year: &WeatherYear,
        facings: &[Facing],
        people: PeopleProfile,
        steps: Steps,
    ) -> Result<Self, DriversError> {
        if facings.len() > MAX_FACINGS {
            return Err(DriversError::TooManyFacings(facings.len()));
        }
        let surface =
            |f: &Facing| Surface { tilt_deg: f.tilt_deg, azimuth_deg: f.azimuth_deg, albedo: USUAL_ALBEDO };
        let sun = tilted_years(year, facings.iter().map(surface));
        let waves = waves(&year.dry_bulb_c);
        let hours = (0..year.hours())
            .map(|h| {
                let hour_of_day = usize::from(year.hour_of_day(h));
                let day = usize::from(year.day_of_year(h)) - 1;
                let mut irradiance_w_per_m2 = [0.0; MAX_FACINGS];
                for (slot, facing) in irradiance_w_per_m2.iter_mut().zip(&sun) {
                    *slot = facing[h].total_w_per_m2();
                }
                HourDriver {
                    outdoor_c: year.dry_bulb_c[h],
                    outdoor_humidity_ratio: year.humidity_ratio[h],
                    pressure_pa: year.pressure_pa[h],
                    wind_m_per_s: year.wind_speed_m_per_s[h],
                    wave: waves[h],
                    clock: Clock::STEADY,
                    irradiance_w_per_m2,
                    presence: people.present(day, hour_of_day),
                    hour_of_day,
                    month: usize::from(year.month_of_hour(h)) - 1,
                    hour_of_year: h,
                }
            })
            .collect();
        let shares = source_shares(steps);
        let shares_away = shares
            .iter()
            .map(|share| SourceShares { plants: share.plants, ..SourceShares::default() })
            .collect();
        Ok(Self { hours, shares, shares_away, facings: facings.to_vec(), steps })
    }

    /// The same with a clock of its own for every hour.
    ///
    /// # Errors
    /// [`DriversError`] for a clock of another length, or with a number outside its range.
    pub fn with_clock(mut self, clock: &[Clock]) -> Result<Self, DriversError> {
        if clock.len() != self.hours.len() {
            return Err(DriversError::ClockLength { clock: clock.len(), weather: self.hours.len() });
        }
        if let Some(hour) = clock.iter().position(|clock| !clock.is_possible()) {
            return Err(DriversError::Clock(hour));
        }
        for (hour, clock) in self.hours.iter_mut().zip(clock) {
            hour.clock = *clock;
            hour.presence *= clock.at_home;
        }
        Ok(self)
    }

    /// The hours of the year.
    pub fn hours(&self) -> &[HourDriver] {
        &self.hours
    }

    /// The facings, in the order of the apertures of a house.
    pub fn facings(&self) -> &[Facing] {
        &self.facings
    }

    /// Moisture sub-steps in an hour.
    pub fn steps(&self) -> Steps {
        self.steps
    }

    /// Water of each sub-step of an hour, as shares of the day's water.
    pub fn shares_of(&self, hour: &HourDriver) -> &[SourceShares] {
        let n = self.steps.an_hour();
        let table = if hour.clock.at_home > 0.0 { &self.shares } else { &self.shares_away };
        &table[hour.hour_of_day * n..(hour.hour_of_day + 1) * n]
    }
}

fn source_shares(steps: Steps) -> Vec<SourceShares> {
    let minutes = 60.0 / steps.an_hour() as f64;
    let (showers, cooking, laundry, plants) =
        (DayProfile::showers(), DayProfile::cooking(), DayProfile::laundry(), DayProfile::even());
    (0..24 * steps.an_hour())
        .map(|k| {
            let (from, to) = (k as f64 * minutes, (k + 1) as f64 * minutes);
            SourceShares {
                showers: showers.share(from, to),
                cooking: cooking.share(from, to),
                laundry: laundry.share(from, to),
                plants: plants.share(from, to),
            }
        })
        .collect()
}
