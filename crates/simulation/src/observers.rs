//! What is kept of a year: hourly columns, totals, or only a hash. What nobody asks for costs nothing.
//!
//! Not here: tables and charts (crate `reporting`).

use std::sync::Arc;

use lanes::Real;

use crate::counts::Counts;
use crate::ledger::{LINE_COUNT, LINES, Ledger};
use crate::results::{COLUMN_COUNT, Case, HourOf, Hourly, HouseYear, LedgerLine};

/// Hours that wait to be written into columns together: whole cache lines of each. A hundred columns touched every hour wear out the
/// addresses that a processor keeps at hand.
const TOGETHER: usize = 16;
/// Lanes of the widest row.
const MOST_LANES: usize = 8;

/// Sees every hour of a row of houses.
pub trait Observer<R: Real> {
    /// Called once an hour, in order, after the ledger has closed. `month` is 0…11.
    fn hour(&mut self, month: usize, outcome: &HourOf<R>, ledger: &Ledger<R>);
}

/// Keeps every column of every lane, and the ledger by month.
pub(crate) struct Recorder<R> {
    lanes: Vec<Recorded>,
    waiting: [[R; COLUMN_COUNT]; TOGETHER],
    waits: usize,
    written: usize,
}

struct Recorded {
    hourly: Hourly,
    sums: [[f64; 12]; LINE_COUNT],
}

impl<R: Real> Recorder<R> {
    pub(crate) fn new(lanes: usize, hours: usize) -> Self {
        let lane = || Recorded { hourly: Hourly::zeros(hours), sums: [[0.0; 12]; LINE_COUNT] };
        let waiting = [[R::zero(); COLUMN_COUNT]; TOGETHER];
        Self { lanes: (0..lanes).map(|_| lane()).collect(), waiting, waits: 0, written: 0 }
    }

    /// Writes the hours that wait. What is zero is there already: fresh memory of a column of nothing else is not touched.
    #[inline(always)]
    fn write(&mut self) {
        const { assert!(R::LANES <= MOST_LANES) };
        let hours = self.written..self.written + self.waits;
        let mut columns = [const { None }; MOST_LANES];
        for (columns, lane) in columns.iter_mut().zip(&mut self.lanes) {
            *columns = Some(lane.hourly.columns_mut());
        }
        for place in 0..COLUMN_COUNT {
            let mut values = [[0.0; TOGETHER]; MOST_LANES];
            for (hour, waiting) in self.waiting.iter().enumerate() {
                for (lane, values) in values.iter_mut().take(R::LANES).enumerate() {
                    values[hour] = waiting[place].lane(lane);
                }
            }
            for (columns, values) in columns.iter_mut().flatten().zip(&values) {
                let values = &values[..self.waits];
                let is_something = values.iter().fold(0, |bits, value| bits | value.to_bits()) != 0;
                if columns[place].len() < hours.end {
                    columns[place].resize(hours.end, 0.0);
                }
                if is_something {
                    columns[place][hours.clone()].copy_from_slice(values);
                }
            }
        }
        self.written += self.waits;
        self.waits = 0;
    }

    /// The columns and the ledger of each lane.
    #[inline(always)]
    pub(crate) fn into_lanes(mut self) -> impl Iterator<Item = (Hourly, Vec<LedgerLine>)> {
        self.write();
        let written = self.written;
        self.lanes.into_iter().map(move |Recorded { mut hourly, sums }| {
            hourly.truncate(written);
            let lines = LINES.iter().zip(sums);
            let named = lines.map(|(line, by_month)| LedgerLine {
                book: line.book().name(),
                label: line.label(),
                by_month,
            });
            (hourly, named.collect())
        })
    }
}

impl<R: Real> Observer<R> for Recorder<R> {
    #[inline(always)]
    fn hour(&mut self, month: usize, outcome: &HourOf<R>, ledger: &Ledger<R>) {
        self.waiting[self.waits] = outcome.values();
        self.waits += 1;
        if self.waits == TOGETHER {
            R::outlined(
                #[inline(always)]
                || self.write(),
            );
        }
        for (index, Recorded { sums, .. }) in self.lanes.iter_mut().enumerate() {
            for (&line, by_month) in LINES.iter().zip(sums) {
                by_month[month] += ledger.line(line).lane(index);
            }
        }
    }
}

/// Hashes every bit of the hourly ledger of each lane (FNV-1a).
pub(crate) struct LedgerHash {
    pub(crate) lanes: Vec<u64>,
}

impl LedgerHash {
    pub(crate) fn new(lanes: usize) -> Self {
        Self { lanes: vec![0xcbf2_9ce4_8422_2325; lanes] }
    }
}

impl<R: Real> Observer<R> for LedgerHash {
    #[inline(always)]
    fn hour(&mut self, _month: usize, _outcome: &HourOf<R>, ledger: &Ledger<R>) {
        for (index, hash) in self.lanes.iter_mut().enumerate() {
            for &line in LINES {
                for byte in ledger.line(line).lane(index).to_bits().to_le_bytes() {
                    *hash = (*hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
                }
            }
        }
    }
}

macro_rules! totals {
    ($($(#[doc = $doc:literal])+ $name:ident: $of:ident),+ $(,)?) => {
        /// A year's sums and counts, kept in lanes: what a sweep needs.
        #[derive(Debug, Clone, Copy, PartialEq, Default)]
        pub struct Totals<R> {
            $($(#[doc = $doc])+ pub $name: R,)+
            /// What is no plain sum.
            pub counts: Counts<R>,
        }

        impl<R: Real> Totals<R> {
            /// Nothing yet.
            pub fn zero() -> Self {
                Self { $($name: R::zero(),)+ counts: Counts::zero() }
            }

            /// The sums of one lane.
            pub fn lane(&self, lane: usize) -> Totals<f64> {
                Totals { $($name: self.$name.lane(lane),)+ counts: self.counts.lane(lane) }
            }
        }

        impl<R: Real> Observer<R> for Totals<R> {
            #[inline(always)]
            fn hour(&mut self, month: usize, outcome: &HourOf<R>, _ledger: &Ledger<R>) {
                $(self.$name += outcome.$of;)+
                self.counts.hour(month, outcome);
            }
        }
    };
}

totals! {
    /// Metered heating \[Wh\].
    heating_site_wh: heating_site_w,
    /// Metered cooling \[Wh\].
    cooling_site_wh: cooling_site_w,
    /// Fans \[Wh\].
    fan_wh: fan_w,
    /// Preheater \[Wh\].
    preheat_wh: preheat_w,
    /// Furnace blower \[Wh\].
    blower_wh: blower_w,
    /// Humidifier \[Wh\].
    humidifier_wh: humidifier_w,
    /// Dehumidifier \[Wh\].
    dehumidifier_wh: dehumidifier_w,
    /// Time in defrost \[h\].
    defrost_h: defrost_share,
    /// Time with a blocked extract side \[h\].
    blocked_h: blocked_share,
    /// Outdoor air delivered \[kg dry air\].
    outdoor_air_kg: outdoor_air_kg,
    /// Outdoor air not delivered \[kg dry air\].
    missed_outdoor_air_kg: missed_outdoor_air_kg,
    /// Sensible heat passed to the supply air, signed \[Wh\].
    recovered_sensible_wh: recovered_sensible_w,
    /// Latent heat passed to the supply air, signed \[Wh\].
    recovered_latent_wh: recovered_latent_w,
    /// Water to the core's drain \[kg\].
    drain_kg: drain_kg,
    /// Ice formed in the core \[kg\].
    ice_formed_kg: ice_formed_kg,
    /// Sum of the hourly relative humidity [fraction × h].
    relative_humidity_h: relative_humidity,
    /// Time with water or ice on the centre of some window \[h\].
    window_wet_h: window_wet_share,
    /// Time with water or ice at the edge of the glass of some window \[h\].
    window_edge_wet_h: window_edge_wet_share,
    /// Liquid formed on the core's supply side \[kg\].
    supply_side_liquid_kg: supply_side_liquid_kg,
    /// Water that left a wheel with the air \[kg\].
    carried_over_kg: carried_over_kg,
    /// Room heat lent to defrosting \[Wh\].
    defrost_heat_wh: defrost_heat_w,
    /// Heat given to the room air by the heating \[Wh\].
    heating_load_wh: heating_load_w,
    /// Sensible heat taken by the cooling coil \[Wh\].
    cooling_sensible_wh: cooling_sensible_w,
    /// Latent heat taken by the cooling coil \[Wh\].
    cooling_latent_wh: cooling_latent_w,
}

/// What is to be kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Keep {
    Columns,
    Hash,
    Totals,
}

/// Which of the hour's columns are wanted: what nobody asks for costs nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Wanted {
    /// Every column.
    Columns,
    /// Those that a year's totals are summed from; the others are left as they are.
    Totals,
}

/// One of the observers, so that the year is compiled once for each row width and not once for each of them.
pub(crate) enum Keeper<R> {
    Record(Box<Recorder<R>>),
    Hash(LedgerHash),
    Total(Totals<R>),
}

/// What was kept of one lane.
pub(crate) enum Kept {
    Columns(Arc<Hourly>, Vec<LedgerLine>),
    Hash(u64),
    Totals(Box<Totals<f64>>),
}

impl<R: Real> Keeper<R> {
    pub(crate) fn new(keep: Keep, lanes: usize, hours: usize) -> Self {
        match keep {
            Keep::Columns => Self::Record(Box::new(Recorder::new(lanes, hours))),
            Keep::Hash => Self::Hash(LedgerHash::new(lanes)),
            Keep::Totals => Self::Total(Totals::zero()),
        }
    }

    pub(crate) fn into_lanes(self, lanes: usize) -> Vec<Kept> {
        match self {
            Self::Record(recorder) => recorder
                .into_lanes()
                .map(|(hourly, ledger)| Kept::Columns(Arc::new(hourly), ledger))
                .collect(),
            Self::Hash(hash) => hash.lanes.into_iter().map(Kept::Hash).collect(),
            Self::Total(totals) => (0..lanes).map(|lane| Kept::Totals(Box::new(totals.lane(lane)))).collect(),
        }
    }
}

impl Kept {
    pub(crate) fn into_year(self, unit: &str, case: Case) -> Option<HouseYear> {
        match self {
            Self::Columns(hourly, ledger_by_month) => {
                Some(HouseYear { unit: unit.to_owned(), case, hourly, ledger_by_month })
            }
            Self::Hash(_) | Self::Totals(_) => None,
        }
    }

    pub(crate) fn hash(&self) -> Option<u64> {
        if let Self::Hash(hash) = self { Some(*hash) } else { None }
    }

    pub(crate) fn totals(&self) -> Option<Totals<f64>> {
        if let Self::Totals(totals) = self { Some(**totals) } else { None }
    }
}

impl<R: Real> Observer<R> for Keeper<R> {
    #[inline(always)]
    fn hour(&mut self, month: usize, outcome: &HourOf<R>, ledger: &Ledger<R>) {
        match self {
            Self::Record(recorder) => recorder.hour(month, outcome, ledger),
            Self::Hash(hash) => hash.hour(month, outcome, ledger),
            Self::Total(totals) => totals.hour(month, outcome, ledger),
        }
    }
}
