fn main() {
    let path = std::env::args().nth(1).unwrap();
    let text = std::fs::read(&path).unwrap();
    let (year, findings) = weather::read(&text, &weather::Overrides::default()).unwrap();
    for f in findings.iter() {
        println!("{f}");
    }
    let study = study::parse_study(study::starter_study(), "x").unwrap();
    let built = study::build::build(&study, &year).unwrap();
    let mut years =
        vec![simulation::run_no_ventilation(&built.house, &built.drivers, built.options).unwrap()];
    for (name, v) in &built.units {
        let t = std::time::Instant::now();
        let pair = simulation::run_pair(name, v, &built.drivers, built.options).unwrap();
        println!("{name} {:?}", t.elapsed());
        years.extend(pair);
    }
    for y in &years {
        let h = &y.hourly;
        let k = |v: &Vec<f64>| v.iter().sum::<f64>() / 1e3;
        let s = |v: &Vec<f64>| v.iter().sum::<f64>();
        let c = year.calendar();
        let seas = |ms: &[u8]| {
            let v: Vec<f64> = (0..h.air_c.len())
                .filter(|&i| ms.contains(&c.month_of_hour(i)))
                .map(|i| 100.0 * h.relative_humidity[i])
                .collect();
            v.iter().sum::<f64>() / v.len() as f64
        };
        println!(
            "{} {:?}: heat {:.1} ({:.1}) cool s {:.1} l {:.1} site {:.1} rec s {:.1} +{:.1} -{:.1} l {:.1} drain {:.2} liq {:.2} ice {:.3} sup {:.3} coil {:.2} rhDJF {:.3} rhJJA {:.3} <30 {} >60 {} frost_h {} room {:.3} gap {:.3} rep {} est {:.0} peakfrost {:.1}",
            y.unit,
            y.case,
            k(&h.heating_load_w),
            k(&h.heating_site_w),
            k(&h.cooling_sensible_w),
            k(&h.cooling_latent_w),
            k(&h.cooling_site_w),
            k(&h.recovered_sensible_w),
            h.recovered_sensible_w.iter().map(|x| x.max(0.0)).sum::<f64>() / 1e3,
            h.recovered_sensible_w.iter().map(|x| x.min(0.0)).sum::<f64>() / 1e3,
            k(&h.recovered_latent_w),
            s(&h.drain_kg),
            s(&h.liquid_kg),
            s(&h.ice_formed_kg),
            s(&h.supply_side_liquid_kg),
            s(&h.coil_kg),
            seas(&[12, 1, 2]),
            seas(&[6, 7, 8]),
            h.relative_humidity.iter().filter(|x| **x < 0.3).count(),
            h.relative_humidity.iter().filter(|x| **x > 0.6).count(),
            h.ice_formed_kg.iter().filter(|x| **x >= 0.001).count(),
            s(&h.room_condensation_kg),
            s(&h.exhaust_gap_k) / 8760.0,
            s(&h.repeated_steps),
            s(&h.estimated_share),
            h.frost_kg.iter().cloned().fold(0.0, f64::max)
        );
        let m: Vec<String> = (1..=12)
            .map(|mm| {
                format!(
                    "{:.1}",
                    (0..h.air_c.len())
                        .filter(|&i| c.month_of_hour(i) == mm)
                        .map(|i| h.heating_load_w[i])
                        .sum::<f64>()
                        / 1e3
                )
            })
            .collect();
        println!("   monthly {}", m.join(" "));
        for (r, i) in [
            (&h.energy_residual_j, &h.energy_inflow_j),
            (&h.water_residual_kg, &h.water_inflow_kg),
            (&h.core_residual_j, &h.core_inflow_j),
            (&h.core_water_residual_kg, &h.core_water_inflow_kg),
        ] {
            print!(
                " {:.2e}",
                r.iter().map(|x| x.abs()).sum::<f64>() / i.iter().map(|x| x.abs()).sum::<f64>().max(1e-9)
            );
        }
        println!();
    }
}
