//! A core alone and in a row of eight unlike neighbours: every flux has the same bits.
//!
//! Not here: the whole hour (`simulation/tests/same_bits.rs`), the numbers themselves (`lanes/tests/same_bits.rs`).
#![allow(clippy::unwrap_used, clippy::panic)]

use exchanger::{Core, CoreKind, Inlets, solve};
use lanes::{Kernel, Real, WIDTHS, available, run_fours, run_rows};

const CASES: usize = 4096;
const NUMBERS: usize = 9;

/// A deterministic sequence of fractions: Marsaglia's xorshift64.
fn cases() -> Vec<[f64; NUMBERS]> {
    let mut state = 0x9E37_79B9_7F4A_7C15_u64;
    let mut next = |low: f64, high: f64| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        low + (high - low) * ((state >> 11) as f64 / (1_u64 << 53) as f64)
    };
    (0..CASES)
        .map(|k| {
            let ua = if k % 11 == 0 { 0.0 } else { next(5.0, 400.0) };
            let supply = if k % 13 == 0 { 0.0 } else { next(0.01, 0.1) };
            [
                next(-35.0, 38.0),
                next(0.0002, 0.004),
                next(17.0, 27.0),
                next(0.001, 0.013),
                supply,
                next(0.01, 0.1),
                next(60e3, 105e3),
                ua,
                if k % 22 == 0 { 0.0 } else { next(0.0, 0.05) },
            ]
        })
        .collect()
}

struct Cases<'a>(CoreKind, &'a [[f64; NUMBERS]]);

impl Kernel for Cases<'_> {
    type Output = Vec<[u64; 12]>;
    #[inline(always)]
    fn run<R: Real>(self) -> Self::Output {
        let mut found = Vec::new();
        for row in self.1.chunks_exact(R::LANES) {
            let number = |place: usize| R::from_lanes(|lane| row[lane][place]);
            let inlets = Inlets {
                outdoor_c: number(0),
                outdoor_humidity_ratio: number(1),
                extract_c: number(2),
                extract_humidity_ratio: number(3),
                supply_kg_per_s: number(4),
                extract_kg_per_s: number(5),
                pressure_pa: number(6),
            };
            let fluxes = solve(self.0, &Core::counterflow(number(7), number(8)), &inlets);
            let all = [
                fluxes.heat_w,
                fluxes.vapour_kg_per_s,
                fluxes.liquid_kg_per_s,
                fluxes.ice_kg_per_s,
                fluxes.supply_liquid_kg_per_s,
                fluxes.liquid_c,
                fluxes.ice_c,
                fluxes.plate_cold_c,
                fluxes.own_exhaust_c,
                fluxes.dry_supply_effectiveness,
                fluxes.vapour_supply_effectiveness,
                fluxes.vapour_offset_kg_per_s,
            ];
            for lane in 0..R::LANES {
                found.push(all.map(|flux| flux.lane(lane).to_bits()));
            }
        }
        found
    }
}

/// Every other state of a hot and humid climate, and one that is no state at all: neighbours may not feel it.
fn cases_of_all_climates() -> Vec<[f64; NUMBERS]> {
    let mut cases = cases();
    for (k, case) in cases.iter_mut().enumerate() {
        if k % 2 == 1 {
            (case[0], case[1]) = (24.0 + 0.3 * case[0].abs(), 0.010 + 3.0 * case[1]);
        }
    }
    cases[1000] = [f64::NAN; NUMBERS];
    cases
}

#[test]
fn every_flux_has_the_same_bits_alone_and_beside_unlike_neighbours() {
    let cases = cases_of_all_climates();
    for kind in CoreKind::ALL {
        let alone = Cases(kind, &cases).run::<f64>();
        // Of unlike cases some are wet and some freeze, or this would compare nothing.
        assert!(alone.iter().any(|fluxes| fluxes[2] != 0) && alone.iter().any(|fluxes| fluxes[3] != 0));
        let of_widths = available().into_iter().flat_map(|set| {
            WIDTHS.map(|width| {
                (format!("{width:?} on {set:?}"), run_rows(set, width, Cases(kind, &cases)).unwrap())
            })
        });
        let of_fours = run_fours(Cases(kind, &cases)).map(|rows| ("rows of four".to_owned(), rows));
        for (which, rows) in of_widths.chain(of_fours) {
            for (k, (row, one)) in rows.iter().zip(&alone).enumerate() {
                // Bits of what is no number mean nothing.
                if k != 1000 {
                    assert_eq!(row, one, "{kind:?}, {which}: case {k}, {:?}", cases[k]);
                }
            }
        }
    }
}
