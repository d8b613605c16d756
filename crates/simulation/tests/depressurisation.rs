//! Pressure by unequal fans, and what appliances are held to stand. "Own calculation": computed apart from this program.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use approx::assert_abs_diff_eq;
use simulation::depressurisation::{CAUTION, Standing, house_pressure_pa, judged};
use simulation::infiltration::{Appliance, Leakage};

const LEAKAGE: Leakage = Leakage { coefficient_m3_per_s: 0.03277, exponent: 0.65 };

/// c 0.03277, n 0.65 (own calculation).
#[test]
fn fans_that_draw_more_out_lower_the_pressure_and_the_other_way_round() {
    for (litres, pascals) in [(50.0, 1.916), (70.0, 3.214), (100.0, 5.564), (150.0, 10.383)] {
        let more = 0.03 + litres * 1e-3;
        assert_abs_diff_eq!(house_pressure_pa(&LEAKAGE, 0.03, more).unwrap(), -pascals, epsilon = 1e-3);
        assert_abs_diff_eq!(house_pressure_pa(&LEAKAGE, more, 0.03).unwrap(), pascals, epsilon = 1e-3);
    }
    assert_eq!(house_pressure_pa(&LEAKAGE, 0.06, 0.06).unwrap(), 0.0);
}

/// Limits 2, 5, 10, 20 Pa (recalled); 100 L/s of net exhaust is 5.564 Pa (own calculation).
#[test]
fn a_pressure_beyond_a_limit_is_told_by_appliance() {
    let of = |pa: f64| judged(pa).map(|found| (found.limit_pa, found.standing));
    let (within, beyond) = (Standing::Within, Standing::Beyond);
    let after_100_l_per_s = house_pressure_pa(&LEAKAGE, 0.0, 0.1).unwrap();
    assert_eq!(of(after_100_l_per_s), [(2.0, beyond), (5.0, beyond), (10.0, within), (20.0, within)]);
    assert_eq!(of(-5.0), [(2.0, beyond), (5.0, within), (10.0, within), (20.0, within)]);
    assert!(judged(30.0).iter().all(|found| found.standing == within), "a raised pressure draws nothing in");
    assert!(judged(f64::NAN).iter().all(|found| found.standing == beyond));
    assert_eq!(judged(0.0).map(|found| found.appliance), Appliance::ALL);
    assert!(
        judged(0.0).iter().all(|found| found.source.contains("recalled"))
            && CAUTION.contains("carbon monoxide")
    );
}

#[test]
fn a_pressure_that_cannot_be_told_is_an_error() {
    let tight = Leakage { coefficient_m3_per_s: 0.0, exponent: 0.65 };
    assert_eq!(house_pressure_pa(&tight, 0.05, 0.05).unwrap(), 0.0);
    assert_eq!(
        house_pressure_pa(&tight, 0.0, 0.05).unwrap_err().to_string(),
        "0.05 m³/s that the fans move one way cannot pass the envelope's leakage below 1000 Pa: the fans would move less"
    );
    assert_eq!(
        house_pressure_pa(&LEAKAGE, -0.05, 0.05).unwrap_err().to_string(),
        "the supply flow is -0.05 m³/s; it must be from 0 to 50 m³/s"
    );
    assert!(house_pressure_pa(&LEAKAGE, 0.05, f64::NAN).is_err());
    let odd = Leakage { coefficient_m3_per_s: f64::NAN, exponent: 0.65 };
    assert!(house_pressure_pa(&odd, 0.0, 0.05).is_err());
}
