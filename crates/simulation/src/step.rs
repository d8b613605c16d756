//! One hour of one house, or of a row of houses. **Read this first.**
//!
//! In order:
//! 0. the unit's hour is decided: defrost, narrowed passages, fans, preheat, bypass (`running`);
//! 1. the core is solved at the last hour's indoor air and this hour's outdoor air: how the supply temperature
//!    follows the room's; what the hood draws of the unit's own exhaust air is at the state of the solution before;
//! 2. the heat balance finds room temperature, heating and cooling with that supply air;
//! 3. moisture goes through the hour in sub-steps; after each, the core is solved at the extract air that was met, and
//!    that solution's heat and water are what is posted;
//! 4. frost in the core grows, and melts when the plate is above 0 °C;
//! 5. the difference between the supply heat that step 2 expected and the heat that step 3 found, and all latent
//!    heat that step 2 could not know, is carried into the next hour's air node;
//! 6. the ledger is posted and closed.
//!
//! Heat and weather are hourly; moisture and the core's water go in sub-steps. Nothing is solved again after it
//! is posted. Not here: what a unit does about frost (`running`).

use exchanger::{Core, CoreKind, Fluxes, Inlets, outlets, solve};
use lanes::Real;
use psychrometrics::formulas::moist_heat_capacity;

use crate::avoidance::Avoidance;
use crate::bedroom::bedroom;
use crate::blower::{Blowing, blowing};
use crate::carried::carried;
use crate::drivers::{HourDriver, SourceShares};
use crate::ducts::duct_w;
use crate::frost::{Melt, frozen_at_cold_end, melt};
use crate::frost_plan::{FrostNumbers, FrostOf, FrostPlan};
use crate::inputs::{HouseOf, UnitOf};
use crate::ledger::Ledger;
use crate::mixing::{Air, mixed};
use crate::moisture::Water;
use crate::observers::Wanted;
use crate::posting::{figures, post, results};
use crate::results::HourOf;
use crate::running::{Running, run_unit};
use crate::stale_air::stale_air;
use crate::state::State;
use crate::substeps::{Sums, run_substeps};
use crate::thermal::{ThermalDrive, ThermalHour, solve_hour};
use crate::treatment::drying_kg_per_s;

pub(crate) const HOUR_S: f64 = 3600.0;
/// Water in furnishings and on glass is booked as liquid at 20 °C [J/kg].
pub(crate) const SORBED_J_PER_KG: f64 = 4186.0 * 20.0;

/// Whose hour it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Role {
    /// A unit that is controlled, defrosts, and joins the house's leakage.
    Own,
    /// A baseline that runs as it is given, envelope and all.
    AsGiven,
    /// A baseline whose flows are given; what its own leakage makes of them follows.
    ThroughLeaks,
}

/// All that an hour is run with.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Setting<'a, R> {
    pub(crate) core: CoreKind,
    pub(crate) house: &'a HouseOf<R>,
    /// The unit at the flows of the hour.
    pub(crate) unit: &'a UnitOf<R>,
    pub(crate) avoidance: &'a Avoidance<R>,
    /// Extract air that passes the core alone, and air that recirculation mixes between the zones [kg dry air/s].
    pub(crate) alone_kg_per_s: R,
    pub(crate) mixing_kg_per_s: R,
    /// Share of the cooling coil's water that drains.
    pub(crate) coil_drains: R,
    /// Water that a new building gives [kg/s].
    pub(crate) building_kg_per_s: R,
    pub(crate) driver: &'a HourDriver,
    pub(crate) shares: &'a [SourceShares],
    pub(crate) outdoor_c: R,
    pub(crate) outdoor_w: R,
    pub(crate) pressure_pa: R,
}

/// What the hour has found so far.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Found<'a, R> {
    pub(crate) running: &'a Running<R>,
    pub(crate) expected: &'a Expected<R>,
    pub(crate) thermal: &'a ThermalHour<R>,
    pub(crate) sums: &'a Sums<R>,
    pub(crate) melt: &'a Melt<R>,
    pub(crate) blowing: &'a Blowing<R>,
    /// Set-points of heating and cooling [°C].
    pub(crate) sets: (R, R),
}

impl<R: Real> Found<'_, R> {
    /// Ice melted, whoever paid \[kg\].
    #[inline(always)]
    pub(crate) fn melted_kg(&self) -> R {
        self.running.melted_kg + self.melt.melted_kg
    }
}

/// Air that enters the core's supply side, and what the preheater and the rooms gave it \[W\].
#[derive(Debug, Clone, Copy)]
pub(crate) struct Intake<R> {
    pub(crate) air: Air<R>,
    pub(crate) preheat_w: R,
    /// Heat that the rooms give to it through the duct \[W\].
    pub(crate) duct_w: R,
}

/// How the supply air follows the room's temperature: `t₂ = t₁ + ε (t_room − t₁) + offset`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Expected<R> {
    pub(crate) fluxes: Fluxes<R>,
    /// Air that enters the supply side, `t₁` [°C].
    pub(crate) inlet_c: R,
    /// Heat capacity flow of the supply air [W/K].
    pub(crate) capacity_w_per_k: R,
    pub(crate) effectiveness: R,
    pub(crate) offset_k: R,
    /// Room heat that cold ducts take, and heat that warm ducts lose of the supply air \[W\].
    pub(crate) cold_duct_w: R,
    pub(crate) warm_duct_w: R,
}

impl<R: Real> Expected<R> {
    /// Supply heat against the room's temperature \[W\].
    #[inline(always)]
    pub(crate) fn heat_w(&self, room_c: R) -> R {
        self.capacity_w_per_k * ((R::one() - self.effectiveness) * (self.inlet_c - room_c) + self.offset_k)
    }
}

/// Runs an hour of a unit whose core neither narrows nor is defrosted; posts it; answers the hour's results.
#[inline(always)]
pub fn step<R: Real>(
    core: CoreKind,
    variant: (&HouseOf<R>, &UnitOf<R>),
    hour: (&HourDriver, &[SourceShares]),
    state: &mut State<R>,
    ledger: &mut Ledger<R>,
) -> HourOf<R> {
    let mut outcome = HourOf::nothing();
    if let Some(frost) = FrostOf::alike(&FrostPlan::unlimited()) {
        let variant = (variant.0, variant.1, &frost);
        step_with((core, Role::Own, Wanted::Columns), variant, hour, state, (ledger, &mut outcome));
    }
    outcome
}

/// Runs an hour; posts it; fills in those of its results that are wanted; answers what the unit did in it.
#[inline(always)]
pub(crate) fn step_with<R: Real>(
    (core, role, wanted): (CoreKind, Role, Wanted),
    (house, unit, frost): (&HouseOf<R>, &UnitOf<R>, &FrostOf<R>),
    hour: (&HourDriver, &[SourceShares]),
    state: &mut State<R>,
    (ledger, outcome): (&mut Ledger<R>, &mut HourOf<R>),
) -> Running<R> {
    let as_it_comes = Avoidance::none();
    let rated = setting(core, (house, unit), hour, &as_it_comes);
    let before = Before::of(state, house);
    let running = match role {
        Role::Own => R::outlined(
            #[inline(always)]
            || run_unit(frost, &rated, state),
        ),
        Role::AsGiven => Running::as_given(unit),
        Role::ThroughLeaks => Running::through_leaks(&rated, state),
    };
    step_decided(&rated, (&running, &frost.numbers, wanted), &before, state, (ledger, outcome));
    running
}

/// What an hour's books start from.
pub(crate) struct Before<R> {
    stored: [R; 4],
    water: Water<R>,
}

impl<R: Real> Before<R> {
    #[inline(always)]
    pub(crate) fn of(state: &State<R>, house: &HouseOf<R>) -> Self {
        Self { stored: state.stored(house), water: state.water }
    }
}

/// The hour of a unit that has been decided, from there on.
#[inline(always)]
pub(crate) fn step_decided<R: Real>(
    rated: &Setting<'_, R>,
    (running, frost, wanted): (&Running<R>, &FrostNumbers<R>, Wanted),
    before: &Before<R>,
    state: &mut State<R>,
    (ledger, outcome): (&mut Ledger<R>, &mut HourOf<R>),
) {
    let setting = Setting {
        unit: &running.unit,
        avoidance: &running.avoidance,
        alone_kg_per_s: running.alone_kg_per_s,
        mixing_kg_per_s: running.mixing_kg_per_s,
        ..*rated
    };
    let expected = expect_supply(&setting, state);
    let drive = thermal_drive(&setting, &expected, running, state);
    let thermal = R::outlined(
        #[inline(always)]
        || solve_hour(setting.house, state.mass_c, &drive),
    );
    let h = &setting.house.numbers;
    let sets = (h.heating_set_point_c - drive.set_back_k, h.cooling_set_point_c + drive.set_up_k);
    let unit_on = R::select(
        setting.unit.supply_kg_per_s.gt(R::zero()),
        R::splat(setting.driver.clock.run_share),
        R::zero(),
    );
    let blowing = blowing(&setting.house.indoors.numbers, &thermal, unit_on);
    let setting = Setting {
        mixing_kg_per_s: setting.mixing_kg_per_s + h.door_kg_per_s * (blowing.stirs - 1.0),
        coil_drains: blowing.drains,
        ..setting
    };
    let mut sums = R::outlined(
        #[inline(always)]
        || run_substeps(&setting, &thermal, &expected.fluxes, state),
    );
    sums.exhaust_air_j += running.to_exhaust_j - running.drawn_j;
    let melt = melt(&setting, frost, &thermal, &sums, state);
    let found = Found {
        running,
        expected: &expected,
        thermal: &thermal,
        sums: &sums,
        melt: &melt,
        blowing: &blowing,
        sets,
    };
    state.mass_c = thermal.mass_end_c;
    state.last_air_c = thermal.air_c;
    state.last_extract_w = sums.extract_w;
    state.carried_j = carried(&setting, &found, &before.water, &state.water);
    state.plant_share = blowing.plant_share;
    let stale = stale_air(&setting, state);
    let bedroom = bedroom(&setting, state, stale.mean_ppm);
    state.co2_ppm = stale.end_ppm;
    state.bedroom_ppm = bedroom.end_ppm;
    R::outlined(
        #[inline(always)]
        || post(&setting, &found, ledger),
    );
    ledger.close(before.stored, state.stored(setting.house));
    R::outlined(
        #[inline(always)]
        || match wanted {
            Wanted::Columns => results(&setting, &found, (state, &stale, bedroom.mean_ppm), ledger, outcome),
            Wanted::Totals => figures(&setting, &found, ledger, outcome),
        },
    );
}

#[inline(always)]
pub(crate) fn setting<'a, R: Real>(
    core: CoreKind,
    (house, unit): (&'a HouseOf<R>, &'a UnitOf<R>),
    (driver, shares): (&'a HourDriver, &'a [SourceShares]),
    avoidance: &'a Avoidance<R>,
) -> Setting<'a, R> {
    Setting {
        core,
        house,
        unit,
        avoidance,
        alone_kg_per_s: R::zero(),
        mixing_kg_per_s: R::zero(),
        coil_drains: R::one(),
        building_kg_per_s: drying_kg_per_s(&house.indoors.numbers, driver),
        driver,
        shares,
        outdoor_c: R::splat(driver.outdoor_c),
        outdoor_w: R::splat(driver.outdoor_humidity_ratio),
        pressure_pa: R::splat(driver.pressure_pa),
    }
}

impl<R: Real> Setting<'_, R> {
    /// What enters the core's supply side: outdoor air with the hood's share of exhaust air, after a fan that stands
    /// before the core and a preheater.
    #[inline(always)]
    pub(crate) fn intake(&self, exhaust: &Air<R>, room_c: R) -> Intake<R> {
        let outdoor = Air { temperature_c: self.outdoor_c, humidity_ratio: self.outdoor_w };
        let mixture = mixed(&outdoor, exhaust, self.unit.recirculated_share);
        let capacity = self.unit.supply_kg_per_s * moist_heat_capacity(mixture.humidity_ratio);
        let flows = capacity.gt(R::zero());
        let fan_w = self.unit.fan_heat_before_w;
        let k_per_w = R::one() / R::select(flows, capacity, R::one());
        let duct_w = duct_w(self.unit.cold_duct_w_per_k, capacity, room_c - mixture.temperature_c);
        let unheated_c = mixture.temperature_c + R::select(flows, (fan_w + duct_w) * k_per_w, R::zero());
        let wanted_w = capacity * (self.avoidance.preheat_to_c - unheated_c);
        let heated_c = unheated_c.max(self.avoidance.preheat_to_c);
        // A heater that is strong enough reaches its temperature exactly, not as rounding has it.
        let too_weak = flows & wanted_w.gt(self.avoidance.preheat_most_w);
        let most_c = unheated_c + self.avoidance.preheat_most_w * k_per_w;
        let heated_c = R::select(too_weak, most_c, heated_c);
        Intake {
            air: Air { temperature_c: heated_c, ..mixture },
            preheat_w: capacity * (heated_c - unheated_c),
            duct_w,
        }
    }

    /// Air that leaves the house through the unit's exhaust side [kg dry air/s].
    #[inline(always)]
    pub(crate) fn exhausted_kg_per_s(&self) -> R {
        self.unit.extract_kg_per_s + self.alone_kg_per_s
    }

    /// The air that enters the core with this intake when the extract is at this state in the rooms; an extract fan
    /// that stands before the core warms it.
    #[inline(always)]
    pub(crate) fn inlets(&self, intake: &Air<R>, room_c: R, extract_w: R) -> Inlets<R> {
        let capacity = self.unit.extract_kg_per_s * moist_heat_capacity(extract_w);
        let flows = capacity.gt(R::zero());
        let fan_w = self.unit.extract_fan_before_w;
        let lost_w = self.extract_duct_w(extract_w, room_c);
        let safe = R::select(flows, capacity, R::one());
        let extract_c = room_c + R::select(flows, (fan_w - lost_w) / safe, R::zero());
        Inlets {
            outdoor_c: intake.temperature_c,
            outdoor_humidity_ratio: intake.humidity_ratio,
            extract_c,
            extract_humidity_ratio: extract_w,
            supply_kg_per_s: self.unit.supply_kg_per_s,
            extract_kg_per_s: self.unit.extract_kg_per_s,
            pressure_pa: self.pressure_pa,
        }
    }

    /// Ground below the house [°C].
    #[inline(always)]
    pub(crate) fn ground_c(&self) -> R {
        let (site, wave) = (&self.house.site, &self.driver.wave);
        site.ground_in_step * wave.now_k + site.ground_behind * wave.behind_k + wave.mean_c
    }

    /// The core solved for these inlets, part of whose supply air may be led round it: what passes is then given to the
    /// mixture.
    #[inline(always)]
    pub(crate) fn solve_core(&self, inlets: &Inlets<R>) -> Fluxes<R> {
        let core = Core {
            ua_w_per_k: self.unit.ua_w_per_k,
            vapour_kg_per_s: self.unit.vapour_kg_per_s,
            crossed_ua_w_per_k: self.unit.crossed_ua_w_per_k,
            crossed_vapour_kg_per_s: self.unit.crossed_vapour_kg_per_s,
        };
        let through = R::one() - self.avoidance.round_share;
        let fluxes =
            solve(self.core, &core, &Inlets { supply_kg_per_s: inlets.supply_kg_per_s * through, ..*inlets });
        let fluxes = Fluxes {
            dry_supply_effectiveness: fluxes.dry_supply_effectiveness * through,
            vapour_supply_effectiveness: fluxes.vapour_supply_effectiveness * through,
            ..fluxes
        };
        frozen_at_cold_end(self.unit.to_cold_end, inlets, &fluxes)
    }
}

/// The core at the last hour's indoor air: a straight line through its answer with the dry plate's slope.
#[inline(always)]
fn expect_supply<R: Real>(setting: &Setting<'_, R>, state: &mut State<R>) -> Expected<R> {
    let taken = setting.intake(&state.exhaust, state.last_air_c);
    let intake = taken.air;
    let inlets = setting.inlets(&intake, state.last_air_c, state.last_extract_w);
    let fluxes = setting.solve_core(&inlets);
    let out = outlets(&inlets, &fluxes);
    let effectiveness = fluxes.dry_supply_effectiveness;
    let exhaust_duct_w = setting.exhaust_duct_w(out.exhaust_c, state.last_air_c);
    let on_line = intake.temperature_c + effectiveness * (state.last_air_c - intake.temperature_c);
    state.exhaust = Air { temperature_c: out.exhaust_c, humidity_ratio: out.exhaust_humidity_ratio };
    Expected {
        fluxes,
        inlet_c: intake.temperature_c,
        capacity_w_per_k: setting.unit.supply_kg_per_s * moist_heat_capacity(intake.humidity_ratio),
        effectiveness,
        offset_k: out.supply_c - on_line,
        cold_duct_w: taken.duct_w + exhaust_duct_w,
        warm_duct_w: setting.supply_duct_w(out.supply_c, state.last_air_c),
    }
}

#[inline(always)]
fn thermal_drive<R: Real>(
    setting: &Setting<'_, R>,
    expected: &Expected<R>,
    running: &Running<R>,
    state: &State<R>,
) -> ThermalDrive<R> {
    // Air that leaves, by unit or envelope, leaves at the room's temperature, and so does what leaks past the core: only
    // what enters from outdoors is in the balance.
    let infiltration = setting.unit.infiltration_kg_per_s * moist_heat_capacity(setting.outdoor_w);
    let supply = expected.capacity_w_per_k * (R::one() - expected.effectiveness);
    let internal = setting.internal_gains_w();
    let clock = &setting.driver.clock;
    let air_w = infiltration * setting.outdoor_c
        + supply * expected.inlet_c
        + expected.capacity_w_per_k * expected.offset_k
        + setting.unit.fan_heat_after_w
        + internal * 0.5
        + running.room_fan_w
        - expected.cold_duct_w
        - expected.warm_duct_w
        + (state.carried_j + (running.returned_j - running.lent_j - running.supply_thaw_j)) * (1.0 / HOUR_S);
    ThermalDrive {
        outdoor_c: setting.outdoor_c,
        air_w_per_k: infiltration + supply,
        air_w,
        radiant_w: internal * 0.5 + setting.solar_w(),
        ground_c: setting.ground_c(),
        ground_w_per_k: setting.house.site.ground_to_mass_w_per_k,
        set_back_k: setting.house.site.set_back_k * clock.set_back,
        set_up_k: setting.house.site.set_up_k * clock.set_up,
    }
}

impl<R: Real> Setting<'_, R> {
    /// Sensible heat of people and appliances \[W\].
    #[inline(always)]
    pub(crate) fn internal_gains_w(&self) -> R {
        let h = &self.house.numbers;
        h.people * h.person_heat_w * self.driver.presence + h.other_gains_w
    }

    /// Sun through the windows \[W\].
    #[inline(always)]
    pub(crate) fn solar_w(&self) -> R {
        let mut sum = R::zero();
        for (aperture, &irradiance) in self.house.apertures_m2.iter().zip(&self.driver.irradiance_w_per_m2) {
            sum += *aperture * irradiance;
        }
        sum
    }
}
