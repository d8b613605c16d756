//! Small weather files in every format, made from one clear-sky climate at any place: for reading back, spoiling and
//! mutating. The sun here is Spencer's series, not the crate's own, so that the two can be held against each other.
#![allow(dead_code, reason = "each test file uses a part of it")]

use std::f64::consts::TAU;
use std::fmt::Write as _;
use weather::{Calendar, Overrides, PlaceOverride, Stamp};

/// A place and its year.
#[derive(Debug, Clone, Copy)]
pub struct Site {
    pub latitude_deg: f64,
    pub longitude_deg: f64,
    pub zone_h: f64,
    pub calendar: Calendar,
}

/// A format, as it is written here.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Tmy3,
    Tmy2,
    Nsrdb,
    NsrdbBare,
    NsrdbHalves,
    Pvgis,
    Epw,
    Plain,
}

impl Kind {
    pub const ALL: [Self; 8] = [
        Self::Tmy3,
        Self::Tmy2,
        Self::Nsrdb,
        Self::NsrdbBare,
        Self::NsrdbHalves,
        Self::Pvgis,
        Self::Epw,
        Self::Plain,
    ];

    pub fn name(self) -> &'static str {
        match self {
            Self::Tmy3 => "tmy3",
            Self::Tmy2 => "tmy2",
            Self::Nsrdb => "nsrdb",
            Self::NsrdbBare => "nsrdb-bare",
            Self::NsrdbHalves => "nsrdb-halves",
            Self::Pvgis => "pvgis",
            Self::Epw => "epw",
            Self::Plain => "plain",
        }
    }
}

/// Offset of the irradiance in the PVGIS tables made here \[h\].
pub const PVGIS_OFFSET_H: f64 = 0.1761;
const ELEVATION_M: f64 = 120.0;

/// The air at a moment: dry bulb and dew point [°C], pressure \[Pa\], wind [m/s], its direction [°].
#[derive(Debug, Clone, Copy)]
pub struct Air {
    pub dry_bulb_c: f64,
    pub dew_point_c: f64,
    pub pressure_pa: f64,
    pub wind_m_per_s: f64,
    pub wind_deg: f64,
}

/// Global, beam, diffuse [W/m²].
pub type Sky = [f64; 3];

impl Site {
    pub fn temperate() -> Self {
        Self { latitude_deg: 45.0, longitude_deg: 8.0, zone_h: 1.0, calendar: Calendar::Common }
    }

    /// The air at a moment of local standard time \[h\] after 1 January 00:00.
    pub fn air(&self, hour: f64) -> Air {
        let year = hour / hours_of(self.calendar);
        let dry_bulb_c = 8.0 - 12.0 * (TAU * year).cos() - 4.0 * (TAU * (hour - 3.0) / 24.0).cos();
        let dew_point_c = dry_bulb_c - 4.0 - 2.0 * (TAU * hour / 31.0).sin();
        let pressure_pa = 99_800.0 + 900.0 * (TAU * hour / 97.0).sin();
        let wind_m_per_s = 4.0 + 3.0 * (TAU * hour / 53.0).sin();
        Air { dry_bulb_c, dew_point_c, pressure_pa, wind_m_per_s, wind_deg: (hour * 7.0) % 360.0 }
    }

    /// A clear sky at a moment: diffuse a step of 60 W/m² while the sun is up, a beam that grows with its height.
    pub fn sky(&self, hour: f64) -> Sky {
        let height = self.height(hour);
        if height <= 0.0 {
            return [0.0; 3];
        }
        let beam = 900.0 * height / (height + 0.15);
        [beam * height + 60.0, beam, 60.0]
    }

    /// Cosine of the zenith angle, by Spencer's series.
    pub fn height(&self, hour: f64) -> f64 {
        let (declination, noon_h) = self.day(hour);
        let angle = TAU * ((hour % 24.0) - noon_h) / 24.0;
        let latitude = self.latitude_deg.to_radians();
        latitude.sin() * declination.sin() + latitude.cos() * declination.cos() * angle.cos()
    }

    /// Local standard time of solar noon on the day of a moment \[h\].
    pub fn noon_h(&self, hour: f64) -> f64 {
        self.day(hour).1
    }

    /// Spencer's declination \[rad\] and the clock time of noon \[h\].
    fn day(&self, hour: f64) -> (f64, f64) {
        let b = TAU * (hour / 24.0 - 0.5) / 365.0;
        let declination = 0.006918 - 0.399912 * b.cos() + 0.070257 * b.sin() - 0.006758 * (2.0 * b).cos()
            + 0.000907 * (2.0 * b).sin()
            - 0.002697 * (3.0 * b).cos()
            + 0.00148 * (3.0 * b).sin();
        let equation_min = 229.18
            * (0.000075 + 0.001868 * b.cos()
                - 0.032077 * b.sin()
                - 0.014615 * (2.0 * b).cos()
                - 0.04089 * (2.0 * b).sin());
        (declination, 12.0 + self.zone_h - self.longitude_deg / 15.0 - equation_min / 60.0)
    }

    /// What the reader has to be told beside the file.
    pub fn overrides(&self, kind: Kind) -> Overrides {
        let place = match kind {
            Kind::NsrdbBare => PlaceOverride {
                latitude_deg: Some(self.latitude_deg),
                longitude_deg: Some(self.longitude_deg),
                elevation_m: Some(ELEVATION_M),
                time_zone_h: Some(self.zone_h),
                ..PlaceOverride::default()
            },
            Kind::Pvgis => PlaceOverride { time_zone_h: Some(self.zone_h), ..PlaceOverride::default() },
            _ => PlaceOverride::default(),
        };
        Overrides { place, ..Overrides::default() }
    }

    /// The whole year as a file.
    pub fn file(&self, kind: Kind) -> String {
        self.first_hours(kind, self.calendar.hours())
    }

    /// The heading and the first hours of the year as a file.
    pub fn first_hours(&self, kind: Kind, hours: usize) -> String {
        let mut out = self.heading(kind);
        for h in 0..hours {
            self.row(kind, h, &mut out);
        }
        if kind == Kind::Pvgis {
            out.push_str(
                "\nT2m: 2-m air temperature (degree Celsius)\n\nPVGIS (c) European Union, 2001-2025\n",
            );
        }
        out
    }

    fn heading(&self, kind: Kind) -> String {
        let Self { latitude_deg, longitude_deg, zone_h, .. } = self;
        let columns =
            "Year,Month,Day,Hour,Minute,Temperature,Dew Point,DHI,DNI,GHI,Pressure,Wind Direction,Wind Speed";
        match kind {
            Kind::Tmy3 => format!(
                "723170,\"TESTFIELD, OLD\",XX,{zone_h},{latitude_deg},{longitude_deg},{ELEVATION_M}\nDate (MM/DD/YYYY),\
                 Time (HH:MM),GHI (W/m^2),DNI (W/m^2),DHI (W/m^2),Dry-bulb (C),Dew-point (C),RHum (%),\
                 Pressure (mbar),Wdir (degrees),Wspd (m/s)\n"
            ),
            Kind::Tmy2 => {
                let angle = |x: f64| (x.abs().trunc(), ((x.abs() - x.abs().trunc()) * 60.0).round());
                let ((lat, lat_min), (lon, lon_min)) = (angle(*latitude_deg), angle(*longitude_deg));
                format!(
                    " 12345 {:<22} XX {zone_h:>3} {} {lat:>2} {lat_min:>2} {} {lon:>3} {lon_min:>2}  {ELEVATION_M:>4}\n",
                    "TESTFIELD",
                    if *latitude_deg < 0.0 { "S" } else { "N" },
                    if *longitude_deg < 0.0 { "W" } else { "E" },
                )
            }
            Kind::Nsrdb | Kind::NsrdbHalves => format!(
                "Source,Location ID,City,State,Country,Latitude,Longitude,Time Zone,Elevation,Local Time Zone,\
                 Temperature Units,Pressure Units\nNSRDB,7,Testfield,-,-,{latitude_deg},{longitude_deg},{zone_h},\
                 {ELEVATION_M},{zone_h},c,mbar\n{columns}\n"
            ),
            Kind::NsrdbBare => format!(",{columns}\n"),
            Kind::Pvgis => format!(
                "Latitude (decimal degrees): {latitude_deg}\nLongitude (decimal degrees): {longitude_deg}\n\
                 Elevation (m): {ELEVATION_M}\nIrradiance Time Offset (h): {PVGIS_OFFSET_H}\nmonth,year\n1,2018\n2,2007\n\
                 time(UTC),T2m,RH,G(h),Gb(n),Gd(h),IR(h),WS10m,WD10m,SP\n"
            ),
            Kind::Epw => format!(
                "LOCATION,Testfield,-,-,-,1,{latitude_deg},{longitude_deg},{zone_h},{ELEVATION_M}\nDESIGN CONDITIONS,0\n\
                 TYPICAL/EXTREME PERIODS,0\nGROUND TEMPERATURES,0\nHOLIDAYS/DAYLIGHT SAVING,No,0,0,0\nCOMMENTS 1,\n\
                 COMMENTS 2,\nDATA PERIODS,1,1,Data,Monday,1/1,12/31\n"
            ),
            Kind::Plain => format!(
                "# name: Testfield\n# latitude_deg: {latitude_deg}\n# longitude_deg: {longitude_deg}\n\
                 # elevation_m: {ELEVATION_M}\n# time_zone_h: {zone_h}\nmonth,day,hour_ending,dry_bulb_c,dew_point_c,\
                 pressure_pa,wind_speed_m_per_s,wind_direction_deg,global_horizontal_w_per_m2,\
                 direct_normal_w_per_m2,diffuse_horizontal_w_per_m2\n"
            ),
        }
    }

    fn row(&self, kind: Kind, h: usize, out: &mut String) {
        let begin = f64::from(u32::try_from(h).unwrap_or(0));
        let stamp = self.calendar.stamp(h);
        // Months of a typical year come from different years.
        let year = 1990 + (u32::from(stamp.month) * 7) % 13;
        match kind {
            Kind::Nsrdb => self.nsrdb_row(year, stamp, begin + 0.5, out),
            Kind::NsrdbHalves => {
                self.nsrdb_row(year, stamp, begin, out);
                self.nsrdb_row(year, stamp, begin + 0.5, out);
            }
            Kind::NsrdbBare => {
                let _ = write!(out, "{h},");
                self.nsrdb_row(year, stamp, begin + 0.5, out);
            }
            Kind::Pvgis => self.pvgis_row(year, stamp, begin, out),
            Kind::Tmy2 => self.tmy2_row(year, stamp, begin + 0.5, out),
            _ => self.hour_ending_row(kind, (year, stamp), begin + 0.5, out),
        }
    }

    fn nsrdb_row(&self, year: u32, stamp: Stamp, moment: f64, out: &mut String) {
        let (air, [global, beam, diffuse]) = (self.air(moment), self.sky(moment));
        // Writing to a String cannot fail.
        let _ = writeln!(
            out,
            "{year},{},{},{},{:.0},{:.2},{:.2},{diffuse:.0},{beam:.0},{global:.0},{:.0},{:.1},{:.1}",
            stamp.month,
            stamp.day,
            stamp.hour_ending - 1,
            moment.fract() * 60.0,
            air.dry_bulb_c,
            air.dew_point_c,
            air.pressure_pa / 100.0,
            air.wind_deg,
            air.wind_m_per_s
        );
    }

    fn pvgis_row(&self, year: u32, stamp: Stamp, begin: f64, out: &mut String) {
        let local = (begin + self.zone_h).rem_euclid(hours_of(self.calendar));
        let (air, [global, beam, diffuse]) = (self.air(local), self.sky(local + PVGIS_OFFSET_H));
        let _ = writeln!(
            out,
            "{year}{:02}{:02}:{:02}00,{:.2},{:.2},{global:.1},{beam:.2},{diffuse:.1},283.58,{:.2},{:.1},{:.1}",
            stamp.month,
            stamp.day,
            stamp.hour_ending - 1,
            air.dry_bulb_c,
            relative_humidity_pct(air.dry_bulb_c, air.dew_point_c),
            air.wind_m_per_s,
            air.wind_deg,
            air.pressure_pa
        );
    }

    fn tmy2_row(&self, year: u32, stamp: Stamp, moment: f64, out: &mut String) {
        let (air, [global, beam, diffuse]) = (self.air(moment), self.sky(moment));
        let _ = writeln!(
            out,
            " {:02}{:02}{:02}{:02}00000000{global:04.0}I4{beam:04.0}I4{diffuse:04.0}I4{}10A710A7{:04.0}A7{:04.0}A7\
             {:03.0}A7{:04.0}A7{:03.0}A7{:03.0}A70161A777777A70999999999013F8062F8000A788E7",
            year % 100,
            stamp.month,
            stamp.day,
            stamp.hour_ending,
            "0000I5".repeat(4),
            air.dry_bulb_c * 10.0,
            air.dew_point_c * 10.0,
            relative_humidity_pct(air.dry_bulb_c, air.dew_point_c),
            air.pressure_pa / 100.0,
            air.wind_deg,
            air.wind_m_per_s * 10.0,
        );
    }

    fn hour_ending_row(&self, kind: Kind, (year, stamp): (u32, Stamp), moment: f64, out: &mut String) {
        let (air, [global, beam, diffuse]) = (self.air(moment), self.sky(moment));
        let [t, dew, wind, from, pa] =
            [air.dry_bulb_c, air.dew_point_c, air.wind_m_per_s, air.wind_deg, air.pressure_pa];
        let (month, day, ending) = (stamp.month, stamp.day, stamp.hour_ending);
        let humidity_pct = relative_humidity_pct(t, dew);
        let _ = match kind {
            Kind::Tmy3 => writeln!(
                out,
                "{month:02}/{day:02}/{year},{ending:02}:00,{global:.0},{beam:.0},{diffuse:.0},{t:.1},{dew:.1},\
                 {humidity_pct:.0},{:.0},{from:.0},{wind:.1}",
                pa / 100.0
            ),
            Kind::Epw => writeln!(
                out,
                "{year},{month},{day},{ending},0,?9?9,{t:.2},{dew:.2},{humidity_pct:.2},{pa:.0},9999,9999,283,\
                 {global:.1},{beam:.1},{diffuse:.1},999999,999999,999999,9999,{from:.0},{wind:.1},99,99,9999,99999,9,\
                 999999999,999,0.999,999,99,999,999,99"
            ),
            _ => {
                writeln!(out, "{month},{day},{ending},{t},{dew},{pa},{wind},{from},{global},{beam},{diffuse}")
            }
        };
    }
}

/// Hours of a calendar.
pub fn hours_of(calendar: Calendar) -> f64 {
    f64::from(u32::try_from(calendar.hours()).unwrap_or(0))
}

/// Relative humidity over water by Magnus' formula [%].
fn relative_humidity_pct(dry_bulb_c: f64, dew_point_c: f64) -> f64 {
    let magnus = |t: f64| (17.62 * t / (243.12 + t)).exp();
    100.0 * magnus(dew_point_c) / magnus(dry_bulb_c)
}
