//! A house and its recovery core through every hour of a year.
//!
//! Weather becomes [`Drivers`], once for all variants; [`step`] takes a house and its unit through one hour and
//! posts what passed to a [`Ledger`]; [`run_pair`] walks the year. Everything between is generic over
//! `lanes::Real`: one house and a row of houses are the same source.
//! Not here: the study file (crate `study`), tables and charts (crate `reporting`).
//!
//! | file | holds |
//! | --- | --- |
//! | `step` | **read this first**: one hour of one house, in order |
//! | `state` | what goes from one hour to the next |
//! | `inputs` | a house and a unit as numbers |
//! | `flows`, `mixing` | leaks in the unit, own exhaust air, imbalance; states of mixtures |
//! | `frost_plan` | what a unit does about frost, filters and free cooling, as numbers |
//! | `running` | what the unit does in an hour: defrost, narrowed passages, fans |
//! | `beside` | what the houses run at that it is compared with |
//! | `avoidance` | preheat, bypass, slower wheels, free cooling |
//! | `envelope` | air through the envelope by wind, temperature, imbalance, appliances; how much ventilation is asked for |
//! | `leakage` | a leakage result as written, to a coefficient and every other way of writing it |
//! | `credit` | what infiltration is credited with against the total rate, by edition |
//! | `climate` | what outdoor air does to one core and one house that stand for all |
//! | `depressurisation` | pressure by unequal fans, beside what appliances stand |
//! | `ducts`, `stale_air`, `bedroom` | heat through ducts' walls; carbon dioxide of the house and of a closed bedroom |
//! | `indoors` | humidifier, dehumidifier, glass, blower, bedroom as numbers |
//! | `treatment`, `panes`, `blower`, `upkeep` | what they do; filters that load, a core that is washed |
//! | `carried` | heat found after the heat balance |
//! | `passages`, `frost` | what frost and filters do to flow and power; how ice grows and melts |
//! | `drivers`, `profiles` | what depends on weather and clock alone |
//! | `thermal` | the hourly heat balance |
//! | `moisture` | two room zones and a storing surface |
//! | `damage`, `mould`, `thirty_days`, `surfaces` | what a year does to a cold corner |
//! | `moisture_sources` | published rates of water |
//! | `ledger` | lines, books, closing |
//! | `year` | the hour loop, lead-in, entry points |
//! | `compared` | a unit and the houses that it is compared with, side by side |
//! | `observers`, `counts` | what is kept: hourly columns, totals with counts and peaks, a hash |
//! | `results` | the columns |
//! | `plain` | a unit's core in one hour of steady air, for bin methods |

mod avoidance;
mod bedroom;
mod beside;
mod blower;
mod carried;
pub mod climate;
mod compared;
pub mod counts;
pub mod credit;
pub mod damage;
pub mod depressurisation;
mod drivers;
mod ducts;
mod envelope;
mod flows;
mod frost;
mod frost_error;
mod frost_plan;
mod indoors;
pub mod infiltration;
mod inputs;
pub mod leakage;
mod ledger;
mod mixing;
mod moisture;
pub mod moisture_sources;
pub mod mould;
mod observers;
mod out_of_range;
mod panes;
mod passages;
mod plain;
mod posting;
mod profiles;
pub mod requirement;
pub mod results;
mod running;
mod stale_air;
mod state;
mod step;
mod substeps;
pub mod surfaces;
mod thermal;
pub mod thirty_days;
mod treatment;
mod upkeep;
mod year;

pub use compared::{misses_air, run_compared, run_with_baselines};
pub use drivers::{Clock, Drivers, DriversError, Facing, HourDriver, MAX_FACINGS, SourceShares, Steps};
pub use flows::{EnvelopeFlows, Flows, FlowsError, envelope_flows};
pub use frost_error::FrostPlanError;
pub use frost_plan::{
    Fans, FreeCooling, FrostKind, FrostPlan, FrostStrategy, MAX_TIMETABLE_ROWS, OutdoorAir, PreheatTo, Start,
    ThawLimits, Timetable, TimetableRow,
};
pub use indoors::{Indoors, IndoorsNumbers, IndoorsOf, MAX_PANES, PaneNumbers};
pub use inputs::{
    House, HouseNumbers, HouseOf, MassClass, SiteNumbers, SurfaceStorage, Unit, UnitOf, Variant, mass_class,
};
pub use ledger::{BOOKS, Book, LINES, Ledger, Line, Tamper};
pub use observers::Totals;
pub use out_of_range::OutOfRange;
pub use plain::{AirAround, PlainHour, plain_hour};
pub use profiles::{DayProfile, PeopleProfile};
pub use state::State;
pub use step::step;
pub use upkeep::{FilterLoad, Washing};
pub use year::{
    RunError, RunOptions, hash_pairs, run_alone, run_held_pair, run_no_ventilation, run_one_by_one, run_pair,
    totals_of_pairs,
};
