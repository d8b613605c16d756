//! The limits that a recommendation keeps, all in one place, and the sentence that each one gives when it is broken.
//!
//! Not here: who is then recommended ([`crate::verdict`]).

use crate::verdict::{Figures, Indoors};

/// Every threshold of a recommendation. A caller may change any of them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rules {
    /// Hours a year below 30 % relative humidity, at most \[h\]. 1 460, a sixth of the year: assumed. The 30 % is the
    /// lower end of what public health advice calls comfortable.
    pub dry_h_most: f64,
    /// Mean relative humidity of the winter, at least \[%\]. 25: EN 16798-1, lower design value of category II, recalled.
    pub winter_mean_pct_least: f64,
    /// Hours a year above 60 % relative humidity, at most \[h\]. 1 460, a sixth of the year: assumed. The 60 % is EN
    /// 16798-1's upper design value of category II, recalled.
    pub damp_h_most: f64,
    /// Mean relative humidity of the winter, at most \[%\]. 50: upper end of the usual advice for heated houses,
    /// recalled.
    pub winter_mean_pct_most: f64,
    /// Hours a year in which windows sweat, at most \[h\]. 500, three weeks in all: assumed.
    pub window_wet_h_most: f64,
    /// Mould index on the coldest surface that is looked at, at most \[-\]. 3, growth that the eye can see: ASHRAE 160,
    /// addendum e, recalled.
    pub mould_index_most: f64,
    /// Hours a year in which ice blocks the core, at most \[h\]. 24: assumed; a frost protection that works lets none.
    pub blocked_h_most: f64,
    /// Share of the outdoor air that defrost, frost and filters keep back, at most \[-\]. 0.05: assumed.
    pub missed_air_share_most: f64,
    /// Hours a year short of the air that the ventilation standard asks for, at most \[h\]. 438, a twentieth of the
    /// year: assumed.
    pub air_short_h_most: f64,
    /// Preheating above this is pointed out, but not held against the unit, since its cost is in the present value
    /// \[kWh\]. 500: assumed.
    pub preheat_kwh_told: f64,
    /// How far the outdoor air of two cases may differ and still be called equal, of the greater \[-\]. 0.02: assumed.
    pub equal_air_share: f64,
    /// Two units whose present values differ by less than this share of the dearer one's price are not told apart \[-\].
    /// 0.10: assumed, as prices are seldom known better.
    pub margin_share_of_price: f64,
    /// The least margin, in money. 0.
    pub margin_money: f64,
}

impl Default for Rules {
    fn default() -> Self {
        Self {
            dry_h_most: 1460.0,
            winter_mean_pct_least: 25.0,
            damp_h_most: 1460.0,
            winter_mean_pct_most: 50.0,
            window_wet_h_most: 500.0,
            mould_index_most: 3.0,
            blocked_h_most: 24.0,
            missed_air_share_most: 0.05,
            air_short_h_most: 438.0,
            preheat_kwh_told: 500.0,
            equal_air_share: 0.02,
            margin_share_of_price: 0.10,
            margin_money: 0.0,
        }
    }
}

/// What a limit is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Limit {
    /// [`Rules::dry_h_most`].
    Dry,
    /// [`Rules::winter_mean_pct_least`].
    DryWinter,
    /// [`Rules::damp_h_most`].
    Damp,
    /// [`Rules::winter_mean_pct_most`].
    DampWinter,
    /// [`Rules::window_wet_h_most`].
    WetWindows,
    /// [`Rules::mould_index_most`].
    Mould,
    /// [`Rules::blocked_h_most`].
    Blocked,
    /// [`Rules::missed_air_share_most`].
    MissedAir,
    /// [`Rules::air_short_h_most`].
    ShortOfAir,
    /// [`Rules::preheat_kwh_told`].
    Preheat,
}

/// A limit that is not kept.
#[derive(Debug, Clone, PartialEq)]
pub struct Reason {
    /// Which.
    pub limit: Limit,
    /// The unit's figure.
    pub found: f64,
    /// What is allowed, at most or (for [`Limit::DryWinter`]) at least.
    pub allowed: f64,
    /// Unit of both, for a reader: "h", "%", "kWh", or empty.
    pub unit: &'static str,
    /// All of it in a sentence.
    pub sentence: String,
}

impl Limit {
    /// The beginning of its sentence, up to the figure; decimals of the figure; the rest, up to what is allowed.
    fn words(self) -> (&'static str, usize, &'static str) {
        match self {
            Self::Dry => ("Too dry: ", 0, " a year below 30 % relative humidity"),
            Self::DryWinter => ("Too dry in winter: ", 1, " relative humidity on average"),
            Self::Damp => ("Too damp: ", 0, " a year above 60 % relative humidity"),
            Self::DampWinter => ("Too damp in winter: ", 1, " relative humidity on average"),
            Self::WetWindows => ("Windows sweat for ", 0, " a year"),
            Self::Mould => ("Mould could grow: its index reaches ", 2, ""),
            Self::Blocked => ("Ice blocks the core for ", 0, " a year"),
            Self::MissedAir => ("Too little air: defrost, frost and filters keep back ", 1, " of it"),
            Self::ShortOfAir => {
                ("Too little air: for ", 0, " a year less than the ventilation standard asks for")
            }
            Self::Preheat => ("Preheating takes ", 0, " a year"),
        }
    }

    fn unit(self) -> &'static str {
        match self {
            Self::Dry | Self::Damp | Self::WetWindows | Self::Blocked | Self::ShortOfAir => "h",
            Self::DryWinter | Self::DampWinter | Self::MissedAir => "%",
            Self::Mould => "",
            Self::Preheat => "kWh",
        }
    }

    fn is_kept(self, found: f64, allowed: f64) -> bool {
        if self == Self::DryWinter { found >= allowed } else { found <= allowed }
    }

    fn reason(self, found: f64, allowed: f64) -> Reason {
        let (begin, decimals, rest) = self.words();
        let unit = self.unit();
        let space = if unit.is_empty() { "" } else { " " };
        let than = if self == Self::DryWinter { "less" } else { "more" };
        let end = if self == Self::Preheat {
            "; what that costs is counted".to_owned()
        } else {
            format!(", {than} than the {}{space}{unit} allowed", plain(allowed))
        };
        let found_shown = shown_apart(found, allowed, decimals);
        Reason {
            limit: self,
            found,
            allowed,
            unit,
            sentence: format!("{begin}{found_shown}{space}{unit}{rest}{end}."),
        }
    }
}

impl Reason {
    /// What was found, with its unit.
    pub(crate) fn figure(&self) -> String {
        let found_shown = shown_apart(self.found, self.allowed, self.limit.words().1);
        format!("{found_shown} {}", self.unit).trim_end().to_owned()
    }
}

/// Without the digits that a percentage picks up on its way through binary.
fn plain(value: f64) -> String {
    ((value * 1e6).round() / 1e6).to_string()
}

/// As few decimals as show that the two are not the same.
fn shown_apart(found: f64, allowed: f64, decimals: usize) -> String {
    (decimals..decimals + 6)
        .map(|decimals| (decimals, format!("{found:.decimals$}")))
        .find(|(decimals, shown)| *shown != format!("{allowed:.decimals$}", decimals = *decimals))
        .map_or_else(|| found.to_string(), |(_, shown)| shown)
}

impl Rules {
    /// Limits of a house that are not kept in it.
    pub(crate) fn broken_indoors(&self, indoors: &Indoors) -> Vec<Reason> {
        let some = [
            (Limit::Dry, Some(indoors.rh_below_30_h), self.dry_h_most),
            (Limit::DryWinter, indoors.rh_winter_mean_pct, self.winter_mean_pct_least),
            (Limit::Damp, Some(indoors.rh_above_60_h), self.damp_h_most),
            (Limit::DampWinter, indoors.rh_winter_mean_pct, self.winter_mean_pct_most),
            (Limit::WetWindows, indoors.window_wet_h, self.window_wet_h_most),
            (Limit::Mould, indoors.mould_index_max, self.mould_index_most),
        ];
        let known = some.into_iter().filter_map(|(limit, found, most)| Some((limit, found?, most)));
        broken(known)
    }

    /// Limits of a unit that it does not keep.
    pub(crate) fn broken_by(&self, unit: &Figures) -> Vec<Reason> {
        let percent = 100.0;
        broken(
            [
                (Limit::Blocked, unit.blocked_h, self.blocked_h_most),
                (Limit::MissedAir, percent * unit.missed_air_share, percent * self.missed_air_share_most),
                (Limit::ShortOfAir, unit.air_short_h, self.air_short_h_most),
            ]
            .into_iter(),
        )
    }

    /// What is pointed out and not held against the unit.
    pub(crate) fn told_of(&self, unit: &Figures) -> Vec<Reason> {
        broken([(Limit::Preheat, unit.preheat_kwh, self.preheat_kwh_told)].into_iter())
    }

    /// Every threshold with its unit and where it comes from.
    pub fn thresholds(&self) -> [Threshold; 13] {
        const ASSUMED: &str = "assumed";
        const DESIGN: &str = "EN 16798-1, category II, recalled";
        let one = |name, value, unit, source| Threshold { name, value, unit, source };
        [
            one("hours below 30 % allowed", self.dry_h_most, "h", "assumed: a sixth of the year"),
            one("winter mean humidity at least", self.winter_mean_pct_least, "%", DESIGN),
            one("hours above 60 % allowed", self.damp_h_most, "h", "assumed: a sixth of the year"),
            one(
                "winter mean humidity at most",
                self.winter_mean_pct_most,
                "%",
                "upper end of the usual advice for heated houses, recalled",
            ),
            one("hours of wet windows allowed", self.window_wet_h_most, "h", "assumed: three weeks"),
            one("mould index allowed", self.mould_index_most, "1", "ASHRAE 160, addendum e, recalled"),
            one("hours blocked by ice allowed", self.blocked_h_most, "h", ASSUMED),
            one("share of missed air allowed", self.missed_air_share_most, "1", ASSUMED),
            one("hours short of air allowed", self.air_short_h_most, "h", "assumed: a twentieth of the year"),
            one("preheating pointed out", self.preheat_kwh_told, "kWh", ASSUMED),
            one("difference of equal air", self.equal_air_share, "1", ASSUMED),
            one(
                "margin as a share of the price",
                self.margin_share_of_price,
                "1",
                "assumed: prices are seldom known better",
            ),
            one("margin in money", self.margin_money, "money", ASSUMED),
        ]
    }
}

/// A number of [`Rules`], for a reader.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Threshold {
    /// What it limits.
    pub name: &'static str,
    /// The number.
    pub value: f64,
    /// Its unit, "1" for a plain ratio.
    pub unit: &'static str,
    /// A source, "recalled" where it was not at hand, or "assumed".
    pub source: &'static str,
}

/// What stands above every recommendation.
pub const CAUTION: &str = "This is a reckoning, not a design: local codes, the makers' instructions and the judgement of \
     whoever is licensed to design, install or inspect rule.";

fn broken(limits: impl Iterator<Item = (Limit, f64, f64)>) -> Vec<Reason> {
    limits
        .filter(|(limit, found, allowed)| !limit.is_kept(*found, *allowed))
        .map(|(limit, found, allowed)| limit.reason(found, allowed))
        .collect()
}
