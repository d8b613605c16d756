//! What a unit does about frost, as numbers: strategy, timetable, what the core holds, fans, filters, free cooling.
//!
//! A batch is uniform in kind ([`FrostKind`]); only numbers differ across its lanes. Not here: what any of it does in an
//! hour (`running`), how frost narrows the core (`passages`).

use lanes::Real;

use crate::frost_error::{FrostPlanError, range};
use crate::inputs::numbers;
use crate::upkeep::{FilterLoad, Washing, check_upkeep};

/// Rows that a timetable may have.
pub const MAX_TIMETABLE_ROWS: usize = 8;

/// What a unit does about frost.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FrostStrategy {
    /// Nothing: ice stays until the plate is above 0 °C.
    None,
    /// The outdoor damper shuts and both fans drive house air through the core.
    Recirculate(Start),
    /// An electric heater warms the air before the core.
    Preheat(PreheatTo),
    /// The supply fan stops and extract air alone thaws the core; the house draws air through its leaks.
    SupplyOff(ThawLimits),
    /// As much outdoor air is led round the core as keeps ice from forming.
    Bypass,
    /// A wheel turns as slowly as keeps ice from forming.
    SlowWheel,
}

/// When recirculation starts and how long it lasts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Start {
    /// By the hour's mean outdoor temperature, whatever the state of the core.
    Timetable(Timetable),
    /// When frost exceeds 5 % of capacity as an hour begins; it lasts as long as warming the core and melting all of
    /// the ice take, at most the hour, once an hour.
    OnDemand,
}

/// What a preheater holds the air before the core at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PreheatTo {
    /// The least temperature at which no ice forms in this core at the last hour's indoor air.
    FirstFrost,
    /// This temperature [°C], −30…20.
    Fixed(f64),
}

/// When extract air alone starts to thaw a core, and until when, by the temperature of the air that leaves it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThawLimits {
    /// As an hour begins with air leaving colder than this [°C], −20…20; `None`: as [`Start::OnDemand`].
    pub start_below_c: Option<f64>,
    /// Until it leaves warmer than this [°C], −20…30, at most the hour; `None`: until the core is at the room's
    /// temperature and its ice has melted.
    pub end_above_c: Option<f64>,
}

impl ThawLimits {
    /// On demand, until the ice has melted.
    pub const ON_DEMAND: Self = Self { start_below_c: None, end_above_c: None };
}

/// When the core is passed by so that outdoor air cools the house: while all three hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FreeCooling {
    /// The last hour's indoor air was warmer than this [°C], −60…60.
    pub indoor_above_c: f64,
    /// Outdoor air is colder than that indoor air by more than this \[K\], 0…20.
    pub colder_by_k: f64,
    /// The supply air would not be colder than this [°C], −60…60.
    pub supply_at_least_c: f64,
}

/// A row of a timetable.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TimetableRow {
    /// It holds at this outdoor temperature and below [°C], −60…20.
    pub at_or_below_c: f64,
    /// Minutes of defrost, above 0…120.
    pub defrost_min: f64,
    /// Minutes of running between two defrosts, 1…1440.
    pub run_min: f64,
}

/// A timetable of at most [`MAX_TIMETABLE_ROWS`] rows; the coldest row that holds is the one that counts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Timetable {
    /// Warmest first; rows past the last repeat it.
    rows: [TimetableRow; MAX_TIMETABLE_ROWS],
}

impl Timetable {
    /// Rows in any order.
    ///
    /// # Errors
    /// [`FrostPlanError`] for no row, too many, two at one temperature, and numbers outside their range.
    pub fn new(rows: &[TimetableRow]) -> Result<Self, FrostPlanError> {
        if rows.is_empty() || rows.len() > MAX_TIMETABLE_ROWS {
            return Err(FrostPlanError::Rows(rows.len()));
        }
        for row in rows {
            range("timetable's temperature", row.at_or_below_c, (-60.0, 20.0), " °C")?;
            range("timetable's defrost", row.defrost_min, (1e-3, 120.0), " min")?;
            range("timetable's run", row.run_min, (1.0, 1440.0), " min")?;
        }
        let mut sorted = rows.to_vec();
        sorted.sort_by(|a, b| b.at_or_below_c.total_cmp(&a.at_or_below_c));
        if let Some(pair) = sorted.windows(2).find(|pair| pair[0].at_or_below_c <= pair[1].at_or_below_c) {
            return Err(FrostPlanError::Twice(pair[0].at_or_below_c));
        }
        let last = sorted.len() - 1;
        Ok(Self { rows: core::array::from_fn(|k| sorted[k.min(last)]) })
    }
}

/// How the fans answer to a passage that narrows and to filters that load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fans {
    /// Flow is held: power grows with the pressure, to twice at most; past that the flow falls at twice the power.
    ConstantFlow {
        /// Share of a clean stream's pressure that is the core's, 0…1.
        core_share: f64,
    },
    /// Flow is where the fan's curve `p = p₀ (1 − (q/q₀)²)` meets ducts (∝ q²) and core (∝ q); power stays.
    FixedSpeed {
        /// Pressure without flow, `p₀` \[Pa\], above 0.
        shut_off_pa: f64,
        /// Flow without pressure for each unit of the rated flow, `q₀/q`, above 1…10.
        free_flow_ratio: f64,
        /// Pressure drop of the clean core at the rated flow \[Pa\], 0…the fan's pressure there.
        core_pa: f64,
    },
}

/// What becomes of the air that a defrost does not deliver.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum OutdoorAir {
    /// It is missed, and counted.
    Missed,
    /// The flow between defrosts is raised by `1/(1 − D)`, to twice the rated flow at most.
    Held,
}

/// What a unit does about frost, filters and free cooling.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrostPlan {
    /// What clears or avoids the frost.
    pub strategy: FrostStrategy,
    /// Ice at which the extract side is blocked \[kg\], above 0; infinite for a core that never blocks.
    pub capacity_kg: f64,
    /// Plate area on the extract side \[m²\], above 0; infinite for passages that never narrow.
    pub plate_area_m2: f64,
    /// Gap of the extract passages \[m\], 0.0005…0.02.
    pub gap_m: f64,
    /// Heat capacity of the core [J/K], 0…1e6.
    pub core_heat_capacity_j_per_k: f64,
    /// Share of the heat that warmed the core that comes back into the supply air, 0…1; the rest leaves with the exhaust.
    pub returned: f64,
    /// Fans.
    pub fans: Fans,
    /// A film's conductance grows with its flow to this power, 0…1; only where frost, filters or defrost change the flow.
    pub film_exponent: f64,
    /// Filters that load.
    pub filters: Option<FilterLoad>,
    /// A core that is washed; `None`: it stays clean without.
    pub washing: Option<Washing>,
    /// Greatest power of the preheater \[W\], above 0; infinite for one without limit.
    pub preheat_most_w: f64,
    /// When outdoor air is led past the core to cool the house; `None`: never.
    pub free_cooling: Option<FreeCooling>,
    /// What becomes of air that a defrost does not deliver.
    pub outdoor_air: OutdoorAir,
}

/// What is the same in every lane of a batch.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FrostKind {
    pub(crate) strategy: Strategy,
    pub(crate) fans: FanKind,
}

/// [`FrostStrategy`] without its numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Strategy {
    None,
    RecirculateByTimetable,
    RecirculateOnDemand,
    PreheatToFirstFrost,
    PreheatToFixed,
    SupplyOff,
    Bypass,
    SlowWheel,
}

/// [`Fans`] without its numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum FanKind {
    ConstantFlow,
    FixedSpeed,
}

impl FrostPlan {
    /// No strategy, a core that neither narrows nor blocks, filters that stay clean, no free cooling.
    pub fn unlimited() -> Self {
        Self {
            strategy: FrostStrategy::None,
            capacity_kg: f64::INFINITY,
            plate_area_m2: f64::INFINITY,
            gap_m: 0.002,
            core_heat_capacity_j_per_k: 0.0,
            returned: 0.5,
            fans: Fans::ConstantFlow { core_share: 0.3 },
            film_exponent: 0.2,
            filters: None,
            washing: None,
            preheat_most_w: f64::INFINITY,
            free_cooling: None,
            outdoor_air: OutdoorAir::Missed,
        }
    }

    /// What must be the same in every lane of a batch.
    pub fn kind(&self) -> FrostKind {
        let strategy = match self.strategy {
            FrostStrategy::None => Strategy::None,
            FrostStrategy::Recirculate(Start::Timetable(_)) => Strategy::RecirculateByTimetable,
            FrostStrategy::Recirculate(Start::OnDemand) => Strategy::RecirculateOnDemand,
            FrostStrategy::Preheat(PreheatTo::FirstFrost) => Strategy::PreheatToFirstFrost,
            FrostStrategy::Preheat(PreheatTo::Fixed(_)) => Strategy::PreheatToFixed,
            FrostStrategy::SupplyOff(_) => Strategy::SupplyOff,
            FrostStrategy::Bypass => Strategy::Bypass,
            FrostStrategy::SlowWheel => Strategy::SlowWheel,
        };
        let fans = match self.fans {
            Fans::ConstantFlow { .. } => FanKind::ConstantFlow,
            Fans::FixedSpeed { .. } => FanKind::FixedSpeed,
        };
        FrostKind { strategy, fans }
    }

    /// Whether the numbers can be run.
    ///
    /// # Errors
    /// [`FrostPlanError`] for a number outside its range and for a fan too weak for its core.
    pub fn check(&self) -> Result<(), FrostPlanError> {
        range("frost capacity", self.capacity_kg, (1e-6, f64::INFINITY), " kg")?;
        range("plate area", self.plate_area_m2, (1e-3, f64::INFINITY), " m²")?;
        range("passage's gap", self.gap_m, (0.0005, 0.02), " m")?;
        range("core's heat capacity", self.core_heat_capacity_j_per_k, (0.0, 1e6), " J/K")?;
        range("share of heat returned", self.returned, (0.0, 1.0), "")?;
        range("film exponent", self.film_exponent, (0.0, 1.0), "")?;
        if let FrostStrategy::Preheat(PreheatTo::Fixed(to_c)) = self.strategy {
            range("preheater's temperature", to_c, (-30.0, 20.0), " °C")?;
        }
        check_upkeep(self)?;
        range("preheater's greatest power", self.preheat_most_w, (1e-3, f64::INFINITY), " W")?;
        if let FrostStrategy::SupplyOff(limits) = self.strategy {
            range(
                "temperature at which thawing starts",
                limits.start_below_c.unwrap_or(0.0),
                (-20.0, 20.0),
                " °C",
            )?;
            range(
                "temperature at which thawing ends",
                limits.end_above_c.unwrap_or(0.0),
                (-20.0, 30.0),
                " °C",
            )?;
        }
        if let Some(free) = self.free_cooling {
            range("free cooling's indoor temperature", free.indoor_above_c, (-60.0, 60.0), " °C")?;
            range("free cooling's difference to outdoor air", free.colder_by_k, (0.0, 20.0), " K")?;
            range("free cooling's least supply temperature", free.supply_at_least_c, (-60.0, 60.0), " °C")?;
        }
        self.fans.check()
    }
}

impl Fans {
    fn check(&self) -> Result<(), FrostPlanError> {
        match *self {
            Self::ConstantFlow { core_share } => {
                range("core's share of the pressure", core_share, (0.0, 1.0), "")
            }
            Self::FixedSpeed { shut_off_pa, free_flow_ratio, core_pa } => {
                range("fan's shut-off pressure", shut_off_pa, (1.0, 1e4), " Pa")?;
                range("fan's free flow for each unit of the rated flow", free_flow_ratio, (1.01, 10.0), "")?;
                range("core's pressure drop", core_pa, (0.0, 1e4), " Pa")?;
                let fan_pa = shut_off_pa * (1.0 - 1.0 / (free_flow_ratio * free_flow_ratio));
                if core_pa > fan_pa { Err(FrostPlanError::WeakFan { fan_pa, core_pa }) } else { Ok(()) }
            }
        }
    }

    /// The core's share of a clean stream's pressure, and the shut-off pressure for each unit of that pressure.
    fn shares(&self) -> (f64, f64) {
        match *self {
            Self::ConstantFlow { core_share } => (core_share, 1.0),
            Self::FixedSpeed { shut_off_pa, free_flow_ratio, core_pa } => {
                let at_rated = 1.0 - 1.0 / (free_flow_ratio * free_flow_ratio);
                (core_pa / (shut_off_pa * at_rated), 1.0 / at_rated)
            }
        }
    }
}

numbers! {
    /// A plan's numbers, each for one lane or a row of them.
    FrostNumbers {
        /// Ice at which the extract side is blocked \[kg\].
        capacity_kg,
        /// Plate area on the extract side \[m²\].
        plate_area_m2,
        /// Gap of the extract passages \[m\].
        gap_m,
        /// Heat capacity of the core [J/K].
        core_j_per_k,
        /// Share of the core's heat that comes back.
        returned,
        /// Fixed preheating temperature [°C].
        preheat_to_c,
        /// Greatest power of the preheater \[W\].
        preheat_most_w,
        /// Air leaving colder than this starts a thaw [°C]; minus infinity: frost does.
        thaw_below_c,
        /// Air leaving warmer than this ends it [°C]; infinite: melting all ice does.
        thaw_until_c,
        /// The core's share of a clean stream's pressure.
        core_share,
        /// Shut-off pressure for each unit of a clean stream's.
        shut_off_ratio,
        /// Power of the flow that a film's conductance grows with.
        film_exponent,
        /// Extra resistance of loaded filters.
        filter_extra,
        /// Hours from filter change to filter change.
        filter_interval_h,
        /// Hour of the year at which the core is taken out \[h\], and how long it is out.
        wash_at_h,
        /// Hours that it is out, 0 for never.
        wash_h,
        /// Share of the conductances lost from wash to wash.
        fouling,
        /// Share lost already after a wash.
        fouled,
        /// Free cooling only with indoor air above this [°C]; infinite for none.
        free_indoor_above_c,
        /// Only with outdoor air colder than that by this \[K\].
        free_colder_by_k,
        /// Only with supply air of this or more [°C].
        free_supply_at_least_c,
        /// 1 where the flow between defrosts makes up for the outdoor air that they miss, 0 elsewhere.
        holds_air,
    }
}

numbers! {
    /// A timetable's row: from when on, which part of the hour, how many defrosts an hour.
    RowOf {
        /// At this outdoor temperature and below [°C].
        at_or_below_c,
        /// `D = d/(d + r)`.
        defrost_share,
        /// `60 min/(d + r)`.
        an_hour,
    }
}

/// A plan for a row of houses.
#[derive(Debug, Clone, Copy)]
pub(crate) struct FrostOf<R> {
    pub(crate) kind: FrostKind,
    pub(crate) numbers: FrostNumbers<R>,
    pub(crate) rows: [RowOf<R>; MAX_TIMETABLE_ROWS],
}

impl<R: Real> FrostOf<R> {
    /// A row from one plan a lane, all of one kind; the last plan fills the lanes that are left. `None` for no plan.
    pub(crate) fn gather(plans: &[FrostPlan]) -> Option<Self> {
        let (kind, numbers) = (plans.first()?.kind(), FrostNumbers::of(plans)?);
        let rows: Vec<[RowOf<f64>; MAX_TIMETABLE_ROWS]> = plans.iter().map(rows_of).collect();
        let mut gathered = [RowOf::gather(&[NO_ROW])?; MAX_TIMETABLE_ROWS];
        for (k, row) in gathered.iter_mut().enumerate() {
            let lanes: Vec<RowOf<f64>> = rows.iter().map(|of_lane| of_lane[k]).collect();
            *row = RowOf::gather(&lanes)?;
        }
        Some(Self { kind, numbers, rows: gathered })
    }

    /// The same plan in every lane, made without allocation.
    pub(crate) fn alike(plan: &FrostPlan) -> Option<Self> {
        let mut rows = [RowOf::gather(&[NO_ROW])?; MAX_TIMETABLE_ROWS];
        for (row, of_plan) in rows.iter_mut().zip(rows_of(plan)) {
            *row = RowOf::gather(&[of_plan])?;
        }
        Some(Self { kind: plan.kind(), numbers: FrostNumbers::gather(&[of_plan(plan)])?, rows })
    }
}

impl<R: Real> FrostNumbers<R> {
    /// A row from one plan a lane, of any kinds; the last plan fills the lanes that are left. `None` for no plan.
    pub(crate) fn of(plans: &[FrostPlan]) -> Option<Self> {
        Self::gather(&plans.iter().map(of_plan).collect::<Vec<_>>())
    }
}

fn of_plan(plan: &FrostPlan) -> FrostNumbers<f64> {
    let (core_share, shut_off_ratio) = plan.fans.shares();
    let preheat_to_c = match plan.strategy {
        FrostStrategy::Preheat(PreheatTo::Fixed(to_c)) => to_c,
        _ => 0.0,
    };
    let thaw = match plan.strategy {
        FrostStrategy::SupplyOff(limits) => limits,
        _ => ThawLimits::ON_DEMAND,
    };
    let never = FreeCooling { indoor_above_c: f64::INFINITY, colder_by_k: 0.0, supply_at_least_c: 0.0 };
    let free = plan.free_cooling.unwrap_or(never);
    FrostNumbers {
        capacity_kg: plan.capacity_kg,
        plate_area_m2: plan.plate_area_m2,
        gap_m: plan.gap_m,
        core_j_per_k: plan.core_heat_capacity_j_per_k,
        returned: plan.returned,
        preheat_to_c,
        preheat_most_w: plan.preheat_most_w,
        thaw_below_c: thaw.start_below_c.unwrap_or(f64::NEG_INFINITY),
        thaw_until_c: thaw.end_above_c.unwrap_or(f64::INFINITY),
        core_share,
        shut_off_ratio,
        film_exponent: plan.film_exponent,
        filter_extra: plan.filters.map_or(0.0, |filters| filters.extra),
        filter_interval_h: plan.filters.map_or(1.0, |filters| filters.interval_d * 24.0),
        wash_at_h: plan.washing.map_or(0.0, |washing| washing.at_h),
        wash_h: plan.washing.map_or(0.0, |washing| washing.out_h),
        fouling: plan.washing.map_or(0.0, |washing| washing.fouling),
        fouled: plan.washing.map_or(0.0, |washing| washing.left),
        free_indoor_above_c: free.indoor_above_c,
        free_colder_by_k: free.colder_by_k,
        free_supply_at_least_c: free.supply_at_least_c,
        holds_air: f64::from(u8::from(plan.outdoor_air == OutdoorAir::Held)),
    }
}

/// A row that never holds.
const NO_ROW: RowOf<f64> = RowOf { at_or_below_c: f64::NEG_INFINITY, defrost_share: 0.0, an_hour: 0.0 };

fn rows_of(plan: &FrostPlan) -> [RowOf<f64>; MAX_TIMETABLE_ROWS] {
    let FrostStrategy::Recirculate(Start::Timetable(timetable)) = plan.strategy else {
        return [NO_ROW; MAX_TIMETABLE_ROWS];
    };
    timetable.rows.map(|row| {
        let cycle_min = row.defrost_min + row.run_min;
        RowOf {
            at_or_below_c: row.at_or_below_c,
            defrost_share: row.defrost_min / cycle_min,
            an_hour: 60.0 / cycle_min,
        }
    })
}

#[cfg(test)]
#[path = "frost_plan_tests.rs"]
mod frost_plan_tests;
