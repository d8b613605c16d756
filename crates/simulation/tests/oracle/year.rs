//! The minutes of a year, and the answers. Read next: `case.rs`, `answers.rs`.
//!
//! Choices:
//! - In a minute: the extract air's humidity at its middle; then core and house by turns until the air's temperature
//!   agrees with both; then the water of that minute; then ice.
//! - Latent heat found with the water (furnishings, panes, saturated room air) reaches the room air in the next minute.
//! - Mild is a minute in which no ice forms and the whole plate is above 0 °C: then ice melts by itself.
//! - Heat that comes back after a defrost enters the supply evenly over what is left of that hour.
//! - The run-in begins at the heating set-point, 40 % and a mass as warm as the air.

use weather::WeatherYear;
use weather::tilted::{Surface, tilted_year};

use super::air::{Saturation, liquid_j_per_kg, moist_cp, vapour_j_per_kg};
use super::answers::{Answers, Gather, Minute};
use super::case::Case;
use super::cells::{Core, Fluxes, Inlets};
use super::frost::{Ice, Plan, Recirculation};
use super::house::{Drive, Network};
use super::moisture::{Flows, Water, Zones};

/// What stays through an hour.
#[derive(Clone, Copy, Debug)]
struct Hour {
    outdoor_c: f64,
    outdoor_w: f64,
    solar_w: f64,
    internal_w: f64,
    to_wet: f64,
    to_rest: f64,
    evaporated: f64,
    plan: Plan,
}

struct State {
    mass_c: f64,
    room_c: f64,
    /// Its change from the minute before \[K\].
    room_change_k: f64,
    /// How far the house's temperature follows the one with which the core was solved.
    answer_slope: f64,
    water: Water,
    ice: Ice,
    /// Latent heat of the minute before \[W\].
    carried_w: f64,
    /// Heat in the core that is still to come back \[J\].
    to_return_j: f64,
    coil: f64,
    vapour_to_supply: f64,
}

struct Model<'a> {
    case: &'a Case,
    network: Network,
    zones: Zones,
    core: Core,
    air: Saturation,
    state: State,
}

/// The house through the year, after its lead-in.
pub fn run(case: &Case, weather: &WeatherYear) -> Answers {
    let hours = weather.hours();
    let solar = solar_w(case, weather);
    let mut model = Model::new(case, weather);
    for (h, &sun) in solar.iter().enumerate().skip(hours - case.lead_in_hours.min(hours)) {
        model.hour(weather, h, sun, &mut |_| {});
    }
    let mut gather = Gather::new(model.held());
    for (h, &sun) in solar.iter().enumerate() {
        let plan = model.hour(weather, h, sun, &mut |minute| gather.minute(minute));
        gather.end_hour(weather.month_of_hour(h), plan.share);
    }
    gather.finish(model.held())
}

fn solar_w(case: &Case, weather: &WeatherYear) -> Vec<f64> {
    let mut sum = vec![0.0; weather.hours()];
    for window in &case.windows {
        let through = window.area_m2 * window.solar_gain * case.incidence_factor;
        let on_pane = tilted_year(weather, Surface::upright(window.azimuth_deg));
        for (total, pane) in sum.iter_mut().zip(on_pane) {
            *total += through * pane.total_w_per_m2();
        }
    }
    sum
}

impl<'a> Model<'a> {
    fn new(case: &'a Case, weather: &WeatherYear) -> Self {
        assert!(case.cooling_set_c > case.coil_dew_point_c && case.heating_set_c < case.cooling_set_c);
        let pressure = psychrometrics::standard_pressure_pa(weather.place.elevation_m).unwrap();
        let density = pressure / (287.042 * 293.15);
        let zones = Zones::new(case, density);
        let air = Saturation::new(pressure);
        let room_c = if case.heating_set_c.is_finite() { case.heating_set_c } else { 20.0 };
        let vapour_pa = 0.4 * air.pressure(room_c).0;
        let water = zones.at_start(0.621945 * vapour_pa / (pressure - vapour_pa), 0.4);
        let windows_w_per_k = case.windows.iter().map(|w| w.area_m2 * w.u_w_per_m2k).sum();
        let mass = (case.mass_j_per_k, case.mass_area_m2);
        Self {
            case,
            network: Network::new(case.floor_area_m2, case.opaque_w_per_k, windows_w_per_k, mass),
            zones,
            core: Core::new(case.ua_w_per_k, case.vapour_kg_per_s, case.cells),
            air,
            state: State {
                mass_c: room_c,
                room_c,
                room_change_k: 0.0,
                answer_slope: 0.0,
                water,
                ice: Ice::default(),
                carried_w: 0.0,
                to_return_j: 0.0,
                coil: 0.0,
                vapour_to_supply: 0.0,
            },
        }
    }

    /// Water in house and core \[kg\].
    fn held(&self) -> f64 {
        self.zones.held_kg(&self.state.water) + self.state.ice.kg
    }

    fn hour(&mut self, weather: &WeatherYear, h: usize, sun: f64, each: &mut dyn FnMut(&Minute)) -> Plan {
        let case = self.case;
        let clock = usize::from(weather.hour_of_day(h));
        let present = case.people * case.presence[clock];
        let outdoor_c = weather.dry_bulb_c[h];
        let hour = Hour {
            outdoor_c,
            outdoor_w: weather.humidity_ratio[h],
            solar_w: sun,
            internal_w: present * case.person_w + case.gains_w,
            to_wet: case.moisture_wet_kg_per_s[clock],
            to_rest: case.moisture_rest_kg_per_s[clock] + present * case.person_kg_per_s,
            evaporated: case.evaporated_rest_kg_per_s[clock],
            plan: Plan::of(&case.timetable, outdoor_c),
        };
        self.air.set_pressure(weather.pressure_pa[h]);
        for minute in 0..60 {
            let to_wet =
                case.quarters_wet_kg_per_s.map_or(hour.to_wet, |quarters| quarters[4 * clock + minute / 15]);
            let hour = Hour { to_wet, ..hour };
            let share = hour.plan.of_minute(minute);
            let done = self.minute(&hour, share, hour.plan.run_left_s(minute));
            each(&done);
        }
        hour.plan
    }

    fn minute(&mut self, hour: &Hour, defrost: f64, run_left_s: f64) -> Minute {
        let case = self.case;
        let m = case.ventilation_kg_per_s;
        let run = m * (1.0 - defrost);
        let held_before = self.held();
        let mut flows = Flows {
            ventilation: run,
            leakage: case.leakage_kg_per_s,
            recirculated: m * defrost,
            supply_w: hour.outdoor_w + if m > 0.0 { self.state.vapour_to_supply / m } else { 0.0 },
            outdoor_w: hour.outdoor_w,
            to_wet: hour.to_wet,
            to_rest: hour.to_rest + hour.evaporated,
            coil: self.state.coil,
            coil_w: self.air.ratio(case.coil_dew_point_c).0,
            room_c: self.state.room_c,
            outdoor_c: hour.outdoor_c,
        };
        let middle = self.zones.halfway(&self.state.water, &flows, &self.air);
        let heat = self.heat(hour, defrost, run_left_s, middle.wet);
        let State { mass_c, room_c, room_change_k, coil, vapour_to_supply, .. } = &mut self.state;
        *room_change_k = heat.room_c - *room_c;
        (*mass_c, *room_c) = (heat.mass_c, heat.room_c);
        *vapour_to_supply = heat.fluxes.to_supply_kg_per_s;
        let sensible_w = (-heat.plant_w).max(0.0);
        *coil = if sensible_w > 0.0 {
            sensible_w / (moist_cp(flows.coil_w) * (heat.room_c - case.coil_dew_point_c))
        } else {
            0.0
        };
        flows.coil = *coil;
        flows.room_c = heat.room_c;
        let out = heat.fluxes.outlets(&heat.inlets);
        flows.supply_w = out.supply_w;
        let moved = self.zones.minute(&mut self.state.water, &middle, &flows, &self.air);
        self.state.carried_w = moved.heat_j / 60.0;

        let run_s = 60.0 * (1.0 - defrost);
        let ice = &mut self.state.ice;
        ice.remove(heat.recirculation.melted);
        let mut melted_kg = heat.recirculation.melted.0;
        ice.add(heat.fluxes.ice_kg_per_s * run_s, heat.fluxes.ice_w * run_s);
        if heat.fluxes.ice_kg_per_s == 0.0 && heat.fluxes.plate_coldest_c > 0.0 {
            let left_j = run * 60.0 * moist_cp(out.exhaust_w) * out.exhaust_c.max(0.0);
            let melts = ice.melting(left_j);
            ice.remove(melts);
            melted_kg += melts.0;
        }
        self.state.to_return_j += 60.0 * (case.returned * heat.recirculation.warming_w - heat.returned_w);

        let direct_kg = heat.fluxes.liquid_kg_per_s * run_s;
        let supply_side_kg = heat.fluxes.supply_liquid_kg_per_s * run_s;
        let water_in = run * hour.outdoor_w * 60.0 + moved.in_by_leaks + moved.sources;
        let water_out = run * out.exhaust_w * 60.0
            + moved.out_by_leaks
            + moved.to_coil
            + moved.ran_off
            + moved.condensed
            + direct_kg
            + supply_side_kg
            + melted_kg;
        let coil_latent_j =
            moved.to_coil * (vapour_j_per_kg(heat.room_c) - liquid_j_per_kg(case.coil_dew_point_c));
        let link_w = run * moist_cp(heat.inlets.extract_w) * (heat.inlets.extract_c - heat.room_c);
        Minute {
            run_share: 1.0 - defrost,
            room_c: heat.room_c,
            rest_w: middle.rest,
            wet_w: middle.wet,
            relative_humidity: self.air.relative_humidity(heat.room_c, middle.rest),
            core_supply_c: out.supply_c,
            core_supply_w: out.supply_w,
            delivered_c: heat.delivered_c,
            exhaust_c: out.exhaust_c,
            plate_coldest_c: heat.fluxes.plate_coldest_c,
            heating_w: heat.plant_w.max(0.0),
            cooling_sensible_w: sensible_w,
            cooling_latent_w: coil_latent_j / 60.0,
            coil_kg: moved.to_coil,
            recovered_sensible_w: run * moist_cp(hour.outdoor_w) * (out.supply_c - hour.outdoor_c),
            recovered_latent_w: run * (out.supply_w - hour.outdoor_w) * vapour_j_per_kg(out.supply_c),
            direct_kg,
            supply_side_kg,
            melted_kg,
            frost_kg: heat.fluxes.ice_kg_per_s * run_s,
            ice_kg: self.state.ice.kg,
            warming_w: heat.recirculation.warming_w,
            melting_w: heat.recirculation.melting_w,
            returned_w: heat.returned_w,
            solar_w: hour.solar_w,
            internal_w: hour.internal_w,
            room_condensed_kg: moved.condensed,
            ran_off_kg: moved.ran_off,
            layer_kg: moved.to_layer,
            heat_in_w: heat.plant_w.abs() + hour.internal_w + hour.solar_w + heat.other_in_w,
            heat_miss_w: heat.miss_w.abs() + link_w.abs(),
            water_in_kg: water_in,
            water_out_kg: water_out,
            water_miss_kg: water_in - water_out - (self.held() - held_before),
            core_in_w: heat.fluxes.from_extract_w.abs() * (1.0 - defrost),
            core_miss_w: heat.fluxes.residual_w().abs() * (1.0 - defrost),
            unsettled: !heat.fluxes.settled,
        }
    }

    /// Core and house by turns: each is given the room's temperature that the other left.
    fn heat(&mut self, hour: &Hour, defrost: f64, run_left_s: f64, extract_w: f64) -> Heat {
        let case = self.case;
        let m = case.ventilation_kg_per_s;
        let run = m * (1.0 - defrost);
        let running = 1.0 - defrost;
        // Where the last two minutes point to.
        let mut room_c = self.state.room_c + self.state.room_change_k;
        let mut before: Option<(f64, f64)> = None;
        let returned_w = if run_left_s > 0.0 { self.state.to_return_j * running / run_left_s } else { 0.0 };
        for turn in 0.. {
            let inlets = Inlets {
                extract_c: room_c,
                extract_w,
                outdoor_c: hour.outdoor_c,
                outdoor_w: hour.outdoor_w,
                extract_kg_per_s: m,
                supply_kg_per_s: m,
            };
            let fluxes = self.core.solve(&inlets, &self.air);
            let out = fluxes.outlets(&inlets);
            let room = (room_c, m * moist_cp(extract_w));
            let recirculation =
                Recirculation::of(case, &hour.plan, defrost, room, fluxes.plate_mean_c, &self.state.ice);
            let fans_w = case.supply_fan_w + defrost * case.extract_fan_w;
            let evaporation_w = hour.evaporated * (vapour_j_per_kg(room_c) - liquid_j_per_kg(room_c));
            let supply = run * moist_cp(out.supply_w);
            let leaks = case.leakage_kg_per_s * moist_cp(hour.outdoor_w);
            let other_in_w = fans_w + returned_w + self.state.carried_w.abs();
            let drive = Drive {
                step_s: 60.0,
                outdoor_c: hour.outdoor_c,
                air_w_per_k: supply + leaks,
                air_w: supply * out.supply_c + leaks * hour.outdoor_c,
                internal_w: hour.internal_w,
                solar_w: hour.solar_w,
                to_air_w: fans_w + returned_w + self.state.carried_w
                    - evaporation_w
                    - recirculation.warming_w
                    - recirculation.melting_w,
            };
            let solved = self.network.step(self.state.mass_c, &drive, case.heating_set_c, case.cooling_set_c);
            let moved_k = (solved.air_c - room_c).abs();
            if moved_k < 1e-6 || turn > 30 {
                let after_core_w = running * case.supply_fan_w + returned_w;
                let delivered_c = out.supply_c + if supply > 0.0 { after_core_w / supply } else { 0.0 };
                return Heat {
                    inlets,
                    fluxes,
                    recirculation,
                    returned_w,
                    delivered_c,
                    room_c: solved.air_c,
                    mass_c: solved.mass_c,
                    plant_w: solved.plant_w,
                    miss_w: solved.miss_w,
                    other_in_w,
                };
            }
            // What the house answers hangs on what it was asked by a few hundredths, in a straight line.
            let answer = solved.air_c;
            if let Some((asked, answered)) = before.replace((room_c, answer)) {
                let slope = (answer - answered) / (room_c - asked);
                if slope.abs() < 0.5 {
                    self.state.answer_slope = slope;
                }
            }
            room_c += (answer - room_c) / (1.0 - self.state.answer_slope);
        }
        unreachable!("the loop returns")
    }
}

struct Heat {
    inlets: Inlets,
    fluxes: Fluxes,
    recirculation: Recirculation,
    returned_w: f64,
    delivered_c: f64,
    room_c: f64,
    mass_c: f64,
    plant_w: f64,
    miss_w: f64,
    other_in_w: f64,
}
