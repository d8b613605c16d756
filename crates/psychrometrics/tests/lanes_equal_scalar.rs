//! The generic formulas give the same bits in rows of every width as one at a time.

use lanes::{Real, WIDTHS, available, run_rows};
use proptest::prelude::*;
use psychrometrics::formulas as f;

const COUNT: usize = 31;

/// Every generic function at once; also the work that is compiled for each instruction set.
#[inline(always)]
fn all<R: Real>(t: R, w: R, p: R) -> [R; COUNT] {
    let (a, b, c) = (
        f::fast_saturation_with_slope(t),
        f::fast_saturation_over_water_with_slope(t),
        f::fast_saturation_over_ice_with_slope(t),
    );
    let (d, e, g) = (
        f::fast_saturation_humidity_ratio_with_slope(t, p),
        f::fast_saturation_humidity_ratio_over_water_with_slope(t, p),
        f::fast_saturation_humidity_ratio_over_ice_with_slope(t, p),
    );
    let vapour = f::vapour_pressure_pa(w, p);
    let enthalpy = f::enthalpy_j_per_kg(t, w);
    [
        f::saturation_pa(t),
        f::saturation_over_water_pa(t),
        f::saturation_over_ice_pa(t),
        a.0,
        a.1,
        b.0,
        b.1,
        c.0,
        c.1,
        d.0,
        d.1,
        e.0,
        e.1,
        g.0,
        g.1,
        vapour,
        enthalpy,
        f::humidity_ratio(vapour, p),
        f::temperature_from_enthalpy_c(enthalpy, w),
        f::saturation_humidity_ratio(t, p),
        f::saturation_humidity_ratio_over_water(t, p),
        f::saturation_humidity_ratio_over_ice(t, p),
        f::relative_humidity(t, w, p),
        f::relative_humidity_over_water(t, w, p),
        f::fast_relative_humidity(t, w, p),
        f::specific_volume_m3_per_kg(t, w, p),
        f::moist_heat_capacity(w),
        f::liquid_enthalpy_j_per_kg(t) + f::ice_enthalpy_j_per_kg(t),
        f::fast_dew_point_c(vapour),
        f::fast_dew_point_over_water_c(vapour),
        f::fast_frost_point_c(vapour),
    ]
}

/// Sixteen states, run in rows of whatever width is asked for.
struct Work<'a>(&'a [f64], &'a [f64], &'a [f64]);

impl lanes::Kernel for Work<'_> {
    type Output = Vec<[f64; COUNT]>;
    #[inline(always)]
    fn run<R: Real>(self) -> Self::Output {
        let mut found = Vec::new();
        for first in (0..self.0.len()).step_by(R::LANES) {
            let row = |values: &[f64]| R::from_lanes(|lane| values[first + lane]);
            let answers = all(row(self.0), row(self.1), row(self.2));
            found.extend((0..R::LANES).map(|lane| answers.map(|answer| answer.lane(lane))));
        }
        found
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_width_equals_one_bit_for_bit_on_every_instruction_set(
        t in prop::array::uniform16(prop_oneof![-75.0..=75.0, -0.1..=0.1, Just(0.01)]),
        w in prop::array::uniform16(1e-7..=0.1),
        p in prop::array::uniform16(50e3..=110e3),
    ) {
        let one_by_one: Vec<_> = (0..16).map(|k| all(t[k], w[k], p[k]).map(f64::to_bits)).collect();
        for set in available() {
            for width in WIDTHS {
                let rows = run_rows(set, width, Work(&t, &w, &p)).unwrap();
                let rows: Vec<_> = rows.iter().map(|row| row.map(f64::to_bits)).collect();
                prop_assert_eq!(&rows, &one_by_one, "{:?} on {:?}", width, set);
            }
        }
    }
}
