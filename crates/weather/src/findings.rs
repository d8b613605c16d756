//! What was met in a file and what was done about it: typed, counted, with the first places. What is not here: what
//! cannot be read at all ([`crate::error`]). Read next: `doubts.rs`, where most of them are raised.

use crate::calendar::Stamp;
use std::fmt;

/// How much a finding matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Good to know; nothing is wrong.
    Note,
    /// It may move the answers: look at it.
    Warning,
}

/// What kind of thing was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FindingKind {
    /// Hours without a row, filled by interpolation.
    FilledGap,
    /// Rows that stand earlier in the year than a row before them.
    RowsOutOfOrder,
    /// How much of the year holds a value that was filled in.
    FilledShare,
    /// A dry bulb that leaves the weeks around it or its neighbours too far behind.
    Outlier,
    /// A column whose size fits another unit better.
    UnitDoubted,
    /// Cells with a filler such as -9900 or 9999, filled by interpolation or from another column.
    Filler,
    /// Hours whose dew point stood above the dry bulb, limited to it.
    DewPointAboveDryBulb,
    /// Hours limited to saturation over ice.
    LimitedToIceSaturation,
    /// Hours limited to saturation because relative humidity or humidity ratio asked for more.
    LimitedToSaturation,
    /// The curve of humidity below 0 °C.
    HumidityBasis,
    /// Rows in which relative humidity and dew point disagree by more than 3 points.
    HumidityDisagrees,
    /// Pressure is one value all year.
    PressureConstant,
    /// Pressure does not fit the elevation.
    PressureAgainstElevation,
    /// The same dry bulb for a day or longer.
    FrozenSensor,
    /// Irradiance a little below zero, set to zero.
    NegativeIrradiance,
    /// Irradiance while the sun is well below the horizon.
    NightSun,
    /// Where the sun stands in each hour, and how well beam, diffuse and global agree there.
    SunPlacement,
    /// Another placement of the sun fits the file's own irradiance clearly better.
    SunOutOfStep,
    /// Columns without a heading or content at the end of rows.
    TrailingEmptyColumns,
    /// A byte-order mark at the start.
    ByteOrderMark,
    /// Text that is not UTF-8, read as Latin-1.
    NotUtf8,
    /// The file says it is elsewhere than the user does.
    PlaceConflict,
    /// The time zone was not given and was taken from the longitude.
    TimeZoneAssumed,
    /// Rows on another clock were turned to local standard time.
    TurnedToLocalTime,
    /// Half-hourly rows were joined to hours.
    HalfHoursJoined,
    /// The unit of pressure was told by its size.
    PressureUnit,
    /// The beam was derived from global and diffuse.
    BeamDerived,
    /// Irradiance that no sun gives: above what arrives from space, or more diffuse than global.
    ImpossibleSun,
    /// The same humidity for two days or longer.
    FrozenHumidity,
    /// The same wind for two days or longer.
    FrozenWind,
    /// The year is invented.
    Synthetic,
    /// The year was shifted from another one.
    Shifted,
    /// A month of a shifted year did not come as far as was asked.
    ShiftNotReached,
}

/// A place in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Location {
    /// Line number, from 1; `None` where the hour has no row.
    pub line: Option<usize>,
    /// The hour, where there is one.
    pub hour: Option<Stamp>,
}

/// "1 hour", "6 hours".
pub(crate) fn counted(count: usize, one: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {one}s") }
}

/// One finding.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// What kind.
    pub kind: FindingKind,
    /// How much it matters.
    pub severity: Severity,
    /// How often it was met.
    pub count: usize,
    /// The first places, at most [`Finding::MAX_PLACES`].
    pub places: Vec<Location>,
    /// What it is and what was done, in a sentence.
    pub sentence: String,
}

/// All findings of a file, in the order in which they were met.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Findings {
    list: Vec<Finding>,
}

impl Finding {
    /// Places kept with one finding.
    pub const MAX_PLACES: usize = 6;

    /// A finding of the whole file.
    pub fn whole_file(kind: FindingKind, severity: Severity, sentence: String) -> Self {
        Self { kind, severity, count: 1, places: Vec::new(), sentence }
    }

    /// A finding with its places, of which the first few are kept and all are counted.
    pub fn at(kind: FindingKind, severity: Severity, places: &[Location], sentence: String) -> Self {
        let kept = places.iter().copied().take(Self::MAX_PLACES).collect();
        Self { kind, severity, count: places.len(), places: kept, sentence }
    }
}

impl Findings {
    /// Adds one.
    pub fn push(&mut self, finding: Finding) {
        self.list.push(finding);
    }

    /// All of them.
    pub fn iter(&self) -> impl Iterator<Item = &Finding> {
        self.list.iter()
    }

    /// Those of one kind.
    pub fn of_kind(&self, kind: FindingKind) -> impl Iterator<Item = &Finding> {
        self.list.iter().filter(move |f| f.kind == kind)
    }

    /// How often a kind was met.
    pub fn count_of(&self, kind: FindingKind) -> usize {
        self.of_kind(kind).map(|f| f.count).sum()
    }

    /// Those that may move the answers.
    pub fn warnings(&self) -> impl Iterator<Item = &Finding> {
        self.list.iter().filter(|f| f.severity == Severity::Warning)
    }

    /// Number of findings.
    pub fn len(&self) -> usize {
        self.list.len()
    }

    /// `true` where nothing was found.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }
}

impl fmt::Display for Severity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Note => "note",
            Self::Warning => "warning",
        })
    }
}

impl fmt::Display for Location {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.line, self.hour) {
            (Some(line), Some(hour)) => write!(f, "line {line} ({hour})"),
            (Some(line), None) => write!(f, "line {line}"),
            (None, Some(hour)) => write!(f, "{hour}"),
            (None, None) => f.write_str("the file"),
        }
    }
}

impl fmt::Display for Finding {
    /// "warning: the sentence (at line 5 (1 January, hour 3), …)".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.severity, self.sentence)?;
        let places: Vec<String> = self.places.iter().map(ToString::to_string).collect();
        match (places.is_empty(), self.count > places.len()) {
            (true, _) => Ok(()),
            (false, false) => write!(f, " At {}.", places.join("; ")),
            (false, true) => write!(f, " First at {}.", places.join("; ")),
        }
    }
}
