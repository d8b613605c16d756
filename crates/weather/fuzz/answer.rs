//! What is asked of an answer, whatever was read. Read next: `main.rs`.

use psychrometrics::formulas::{humidity_ratio, saturation_pa};
use weather::{Overrides, WeatherYear, read, summary, write_plain_csv};

/// Whether the bytes were accepted as a year; panics where the answer breaks a promise.
pub fn is_a_year(bytes: &[u8], overrides: &Overrides) -> bool {
    match read(bytes, overrides) {
        Ok((year, findings)) => {
            assert_sound(&year);
            // Errors may quote a cell; findings hold only numbers of their own.
            let told: Vec<String> = findings.iter().map(ToString::to_string).collect();
            assert!(told.iter().all(|text| is_printable(text) && !text.contains("NaN")), "{told:?}");
            assert_read_back(&year);
            true
        }
        Err(error) => {
            assert!(is_printable(&error.to_string()), "{error:?}");
            assert!(is_printable(error.hint()));
            false
        }
    }
}

fn is_printable(text: &str) -> bool {
    !text.is_empty() && !text.chars().any(char::is_control)
}

fn columns(year: &WeatherYear) -> [&[f64]; 8] {
    [
        &year.dry_bulb_c,
        &year.humidity_ratio,
        &year.pressure_pa,
        &year.wind_speed_m_per_s,
        &year.wind_direction_deg,
        &year.global_horizontal_w_per_m2,
        &year.direct_normal_w_per_m2,
        &year.diffuse_horizontal_w_per_m2,
    ]
}

fn assert_sound(year: &WeatherYear) {
    assert!(year.hours() == 8760 || year.hours() == 8784, "{} hours", year.hours());
    for column in columns(year) {
        assert_eq!(column.len(), year.hours());
        assert!(column.iter().all(|value| value.is_finite()));
    }
    for (h, w) in year.humidity_ratio.iter().enumerate() {
        let saturated = humidity_ratio(saturation_pa(year.dry_bulb_c[h]), year.pressure_pa[h]);
        assert!((0.0..=saturated).contains(w), "hour {h}: {w} of {saturated}");
    }
    assert!(year.global_horizontal_w_per_m2.iter().all(|value| *value >= 0.0));
    assert!(year.sun_offset_h.is_finite() && year.wind_height_m > 0.0);
    assert!(weather::sun::positions(year).iter().all(|sun| sun.zenith_deg.is_finite()));
    let design = weather::design(year);
    let warm = design
        .cooling
        .iter()
        .map(|c| c.dry_bulb_c)
        .chain(design.dehumidification.iter().map(|d| d.coincident_dry_bulb_c));
    assert!(warm.chain([design.heating_99_6_c, design.heating_99_c]).all(f64::is_finite));
    assert!(weather::months(year).iter().all(|month| month.mean_dew_point_c.is_finite()));
    assert!(weather::wind(year).sector_means_m_per_s.iter().all(|speed| speed.is_finite()));
    let sums = summary(year);
    assert!(
        [sums.mean_dew_point_c, sums.heating_degree_days_18, sums.global_kwh_per_m2]
            .iter()
            .all(|x| x.is_finite())
    );
}

/// A year that was accepted is accepted again, bit for bit, from our own table.
fn assert_read_back(year: &WeatherYear) {
    let (again, _) = read(write_plain_csv(year).as_bytes(), &Overrides::default()).unwrap();
    assert_eq!(columns(&again), columns(year));
}
