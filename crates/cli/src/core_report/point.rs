//! A unit at one steady point: ports, water, what leaks do; tables, a chart each, JSON.
//!
//! Not here: the solution (`study::steady`, `exchanger`), how tables and charts look (`reporting`).

use exchanger::cell::{PlateCase, PlateSolution, solve_plate};
use psychrometrics::checked::humidity_ratio_from_relative_humidity;
use psychrometrics::standard_pressure_pa;
use reporting::manifest::Manifest;
use reporting::{Along, CoreNotes, CorePoint, LeakCase, LeakRow, Port};
use serde_json::{Value, json};
use simulation::Flows;
use study::sized::SizedUnit;
use study::steady::{Air, Around, SteadyPoint, steady};
use study::{Dimension, Unit};

use super::{RATED_AIR_KG_PER_M3, Sized};
use crate::air::quantity;
use crate::arguments::Core;
use crate::failure::Failure;
use crate::output::{Destination, MANIFEST, file_safe};
use crate::run::{Prepared, show_in};

/// Relative humidity from which rounding no longer explains it.
const FOG: f64 = 1.005;
/// Cells of the reference; 40 are within 0.01 K of many.
const CELLS: usize = 60;
const CROSS_CELLS: usize = 40;

/// The tables of every unit; the charts go into a folder, named at the end.
pub(super) fn write(options: &Core, prepared: &Prepared, units: &[Sized<'_>]) -> Result<String, Failure> {
    let around = around(options, prepared)?;
    let destination =
        Destination::choose(options.out.as_deref(), &format!("{}-core", prepared.stem), options.force)?;
    let filling = destination.begin()?;
    let mut text = String::new();
    let mut taken: Vec<String> = Vec::new();
    for (unit, sized) in units {
        let solved = Solved::new(unit, sized, &around)?;
        let page = solved.page(prepared, unit);
        let name = crate::run_files::unused(&file_safe(&unit.name), &taken);
        filling.write(&format!("{name}.svg"), &reporting::core_chart(&page).map_err(Failure::input)?)?;
        taken.push(name);
        text.push('\n');
        text.push_str(&reporting::core_table(&page));
        text.push_str(&solved.beside(&page));
        text.push('\n');
        text.push_str(&leaks(unit, sized, &around, prepared)?);
    }
    let mut files = filling.files();
    files.push(MANIFEST.to_owned());
    let manifest = Manifest {
        title: prepared.study.title.clone(),
        engine_version: env!("CARGO_PKG_VERSION").to_owned(),
        created: chrono::Utc::now().to_rfc3339_opts(chrono::SecondsFormat::Secs, true),
        inputs: prepared.sources.iter().map(crate::run::Source::hashed).collect(),
        files,
        ..Manifest::default()
    };
    filling.write(MANIFEST, &reporting::manifest_json(&manifest).map_err(Failure::work)?)?;
    let folder = filling.finish()?;
    let line = format!("\nResults: {}\n", folder.display());
    text.push_str(&line);
    Ok(text)
}

/// The same as numbers.
pub(super) fn json(
    options: &Core,
    prepared: &Prepared,
    unit: &Unit,
    sized: &SizedUnit,
) -> Result<Value, Failure> {
    let around = around(options, prepared)?;
    let Solved { point, cells, .. } = Solved::new(unit, sized, &around)?;
    let port = |air: Air| json!({ "dry_bulb_c": air.dry_bulb_c, "humidity_ratio": air.humidity_ratio });
    let fluxes = &point.fluxes;
    Ok(json!({
        "pressure_pa": around.pressure_pa,
        "outdoor": port(around.outdoor),
        "supply": port(point.supply),
        "extract": port(around.indoor),
        "exhaust": port(point.exhaust),
        "fresh_air_kg_per_s": point.fresh_kg_per_s,
        "sensible_w": point.sensible_w,
        "latent_w": point.latent_w,
        "liquid_kg_per_s": fluxes.liquid_kg_per_s + fluxes.supply_liquid_kg_per_s,
        "ice_kg_per_s": fluxes.ice_kg_per_s,
        "plate_cold_c": fluxes.plate_cold_c,
        "cells": cells.map(|cells| json!({
            "supply_c": cells.outlets.supply_c,
            "supply_humidity_ratio": cells.outlets.supply_humidity_ratio,
            "coldest_plate_c": cells.coldest_plate_c,
        })),
    }))
}

/// The air that was asked for.
fn around(options: &Core, prepared: &Prepared) -> Result<Around, Failure> {
    let elevation_m = prepared.year.place.elevation_m;
    let pressure_pa = standard_pressure_pa(elevation_m).map_err(Failure::input)?;
    let outdoor = options.outdoor.as_deref().unwrap_or_default();
    let outdoor_c = quantity("--outdoor", outdoor, Dimension::Temperature)?;
    let indoor_c = match &options.indoor {
        Some(text) => quantity("--indoor", text, Dimension::Temperature)?,
        None => prepared.study.house.heating.set_point_c,
    };
    let air = |option: &str, text: &str, dry_bulb_c: f64| {
        let rh = quantity(option, text, Dimension::RelativeHumidity)?;
        let humidity_ratio = humidity_ratio_from_relative_humidity(dry_bulb_c, rh, pressure_pa)
            .map_err(|cause| Failure::input(format!("{option} \"{text}\": {cause}")))?;
        Ok(Air { dry_bulb_c, humidity_ratio })
    };
    within("--outdoor", outdoor_c)?;
    within("--indoor", indoor_c)?;
    Ok(Around {
        outdoor: air("--outdoor-humidity", &options.outdoor_humidity, outdoor_c)?,
        indoor: air("--indoor-humidity", &options.indoor_humidity, indoor_c)?,
        pressure_pa,
    })
}

/// Where the core's solutions hold.
fn within(option: &str, temperature_c: f64) -> Result<(), Failure> {
    if (-60.0..=60.0).contains(&temperature_c) {
        return Ok(());
    }
    Err(Failure::input(format!("{option}: {temperature_c:.1} °C is outside -60 to 60 °C")))
}

/// A unit at the point, as the hourly run solves it and cell by cell.
struct Solved {
    point: SteadyPoint,
    /// None for a wheel, which has no plate.
    cells: Option<PlateSolution>,
    around: Around,
}

impl Solved {
    fn new(unit: &Unit, sized: &SizedUnit, around: &Around) -> Result<Self, Failure> {
        let point = steady(unit, sized, around).map_err(Failure::input)?;
        if sized.kind.is_wheel() {
            return Ok(Self { point, cells: None, around: *around });
        }
        let crosses = sized.arrangement == exchanger::Arrangement::Cross;
        let case = PlateCase {
            inlets: point.inlets,
            ua_w_per_k: sized.ua_w_per_k,
            vapour_kg_per_s: sized.vapour_kg_per_s,
            arrangement: sized.arrangement,
            cells: if crosses { CROSS_CELLS } else { CELLS },
        };
        let cells = solve_plate(&case).map_err(|cause| Failure::work(format!("{}: {cause}", unit.name)))?;
        Ok(Self { point, cells: Some(cells), around: *around })
    }

    fn page(&self, prepared: &Prepared, unit: &Unit) -> CorePoint {
        let point = &self.point;
        let fluxes = &point.fluxes;
        let port = |t_c: f64, humidity_ratio: f64, dry_air_kg_per_s: f64| Port {
            t_c,
            humidity_ratio,
            dry_air_kg_per_s,
        };
        let inlets = &point.inlets;
        let liquid = fluxes.liquid_kg_per_s + fluxes.supply_liquid_kg_per_s;
        CorePoint {
            title: prepared.study.title.clone(),
            unit: unit.name.clone(),
            pressure_pa: inlets.pressure_pa,
            outdoor: port(
                self.around.outdoor.dry_bulb_c,
                self.around.outdoor.humidity_ratio,
                inlets.supply_kg_per_s,
            ),
            supply: port(point.supply.dry_bulb_c, point.supply.humidity_ratio, point.delivered_kg_per_s),
            extract: port(
                self.around.indoor.dry_bulb_c,
                self.around.indoor.humidity_ratio,
                point.taken_kg_per_s,
            ),
            exhaust: port(point.exhaust.dry_bulb_c, point.exhaust.humidity_ratio, inlets.extract_kg_per_s),
            profile: self.cells.as_ref().map_or_else(Vec::new, along),
            notes: CoreNotes {
                sensible_w: point.sensible_w,
                latent_w: point.latent_w,
                water_l_per_h: liquid * 3600.0,
                ice_kg_per_h: fluxes.ice_kg_per_s * 3600.0,
                coldest_plate_c: Some(fluxes.plate_cold_c),
            },
            show_in: show_in(&prepared.study),
        }
    }

    /// The cell solution beside the hourly one, and what the ports do not show.
    fn beside(&self, page: &CorePoint) -> String {
        let shown = page.show_in;
        let t = |c: f64| format!("{:.2} {}", shown.temperature(c), shown.temperature_unit());
        let mut text = String::new();
        if let Some(cells) = &self.cells {
            let out = exchanger::outlets(&self.point.inlets, &self.point.fluxes);
            let line = format!(
                "Supply air behind the core: {} by the hourly solution, {} cell by cell.\n",
                t(out.supply_c),
                t(cells.outlets.supply_c)
            );
            text.push_str(&line);
        }
        let inlets = &self.point.inlets;
        if (inlets.outdoor_c - self.around.outdoor.dry_bulb_c).abs() > 0.05 {
            let line = format!(
                "The core gets its supply side's air at {}: exhaust air drawn back, or a fan before it.\n",
                t(inlets.outdoor_c)
            );
            text.push_str(&line);
        }
        if page.relative_humidity(page.exhaust).is_some_and(|rh| rh > FOG) {
            text.push_str("The exhaust air is fog: what it holds above 100 % is left in it as vapour.\n");
        }
        if self.point.fan_rise_k > 0.0 {
            let line = format!(
                "The supply fan behind the core adds {:.1} {}; it is not in the table.\n",
                shown.difference(self.point.fan_rise_k),
                if shown == reporting::ShowIn::Si { "K" } else { "°F" }
            );
            text.push_str(&line);
        }
        text
    }
}

/// The plate from the house side to the weather side.
fn along(cells: &PlateSolution) -> Vec<Along> {
    let wet = |share: f64| share > 0.5;
    cells
        .profile
        .iter()
        .map(|place| Along {
            share: place.share,
            supply_c: place.supply_c,
            extract_c: place.extract_c,
            plate_c: place.plate_c,
            supply_humidity_ratio: None,
            extract_humidity_ratio: None,
            wet: wet(place.extract_wet_share),
            freezing: place.extract_ice_kg_per_s > 0.5 * place.extract_deposit_kg_per_s,
        })
        .collect()
}

/// What each leak does, one taken away at a time.
fn leaks(unit: &Unit, sized: &SizedUnit, around: &Around, prepared: &Prepared) -> Result<String, Failure> {
    let own = sized.flows;
    let tight =
        Flows { cross_leakage: 0.0, outdoor_air_correction: own.outdoor_air_correction.max(1.0), ..own };
    let apart = Flows { hood_recirculation: 0.0, ..own };
    let balanced = Flows { balance: 1.0, ..own };
    let ideal = Flows {
        cross_leakage: 0.0,
        hood_recirculation: 0.0,
        balance: 1.0,
        outdoor_air_correction: 1.0,
        ..own
    };
    let cases = [
        (LeakCase::AsItIs, own),
        (LeakCase::WithoutCrossLeakage, tight),
        (LeakCase::WithoutHoodRecirculation, apart),
        (LeakCase::Balanced, balanced),
        (LeakCase::Ideal, ideal),
    ];
    let differs = |(case, flows): &(LeakCase, Flows)| *case == LeakCase::AsItIs || *flows != own;
    let kept: Vec<_> = cases.into_iter().filter(differs).collect();
    if kept.len() == 1 {
        return Ok("No cross-leakage, no exhaust air drawn back, equal flows.\n".to_owned());
    }
    let rows = kept
        .into_iter()
        .map(|(case, flows)| {
            let sized = sized.with_flows(flows).map_err(Failure::input)?;
            let point = steady(unit, &sized, around).map_err(Failure::input)?;
            Ok(LeakRow {
                case,
                fresh_air_l_per_s: point.fresh_kg_per_s / RATED_AIR_KG_PER_M3 * 1e3,
                supply_c: point.supply.dry_bulb_c,
                supply_humidity_ratio: point.supply.humidity_ratio,
                heat_recovered_w: point.sensible_w,
            })
        })
        .collect::<Result<Vec<_>, Failure>>()?;
    Ok(reporting::leak_table(&rows, show_in(&prepared.study)))
}
