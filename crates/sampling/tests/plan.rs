//! Plans: evenness against its definition, the same bits from the same seed in any order, and what is refused.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::cast_possible_truncation, clippy::cast_sign_loss)]

use approx::assert_abs_diff_eq;
use proptest::prelude::*;
use sampling::distributions::Distribution;
use sampling::plan::{Level, MOST_POINTS, MOST_SOBOL_DIMENSIONS, Plan, PlanError};

fn all(plan: &Plan) -> Vec<Vec<f64>> {
    (0..plan.points()).map(|index| plan.point(index).unwrap()).collect()
}

/// Every input has one point in each of as many equal strata as there are points.
fn is_latin(plan: &Plan) -> bool {
    let points = all(plan);
    let count = points.len();
    (0..plan.dimensions()).all(|dimension| {
        let mut strata: Vec<usize> =
            points.iter().map(|point| (point[dimension] * count as f64) as usize).collect();
        strata.sort_unstable();
        strata.into_iter().eq(0..count)
    })
}

#[test]
fn a_grid_takes_every_combination_the_last_input_fastest() {
    let grid = Plan::grid(&[2, 3], Level::Ends).unwrap();
    let expected = [[0.0, 0.0], [0.0, 0.5], [0.0, 1.0], [1.0, 0.0], [1.0, 0.5], [1.0, 1.0]];
    assert_eq!(all(&grid), expected);
    let grid = Plan::grid(&[4, 1], Level::Middles).unwrap();
    assert_eq!(all(&grid), [[0.125, 0.5], [0.375, 0.5], [0.625, 0.5], [0.875, 0.5]]);
    assert_eq!(all(&Plan::grid(&[1], Level::Ends).unwrap()), [[0.5]]);
}

/// However many values, a grid at middles or ends and a list plan take each once, in order.
#[test]
fn lists_are_taken_value_by_value() {
    for count in 1..200_u32 {
        let values: Vec<f64> = (0..count).map(f64::from).collect();
        let list = Distribution::list(&values).unwrap();
        let plans = [
            Plan::list(2, u64::from(count)).unwrap(),
            Plan::grid(&[count], Level::Middles).unwrap(),
            Plan::grid(&[count], Level::Ends).unwrap(),
        ];
        for plan in plans {
            let taken: Vec<f64> = all(&plan).iter().map(|point| list.quantile(point[0]).unwrap()).collect();
            assert_eq!(taken, values);
        }
    }
    assert_eq!(all(&Plan::list(3, 2).unwrap()), [[0.25; 3], [0.75; 3]]);
}

#[test]
fn one_at_a_time_moves_one_input_from_the_middle() {
    let plan = Plan::one_at_a_time(2, 0.1, 0.9).unwrap();
    assert_eq!(all(&plan), [[0.5, 0.5], [0.1, 0.5], [0.9, 0.5], [0.5, 0.1], [0.5, 0.9]]);
}

/// A Sobol plan fills every square of the first two dimensions, and halves, quarters … of all 128, as often.
#[test]
fn a_sobol_plan_of_a_power_of_two_is_a_latin_hypercube_too() {
    for exponent in [0, 1, 4, 8] {
        assert!(is_latin(&Plan::sobol(MOST_SOBOL_DIMENSIONS, 1 << exponent, 3).unwrap()));
    }
    assert!(!is_latin(&Plan::sobol(2, 257, 3).unwrap()));
}

/// Mean of the product of 1 + (x − 1/2) / 2 over six inputs: 1 exactly. Random points miss by about √(6/48 / n) = 0.0055,
/// and a Latin hypercube, which has the single inputs right, by the
/// rest, √(0.0067 / n) = 0.00128 (n = 4 096). The
/// scrambled sequence's error falls almost as n^−3/2.
#[test]
fn a_sobol_plan_integrates_better_than_a_latin_hypercube() {
    let error = |plan: &Plan| {
        let product = |point: Vec<f64>| point.iter().map(|x| 1.0 + (x - 0.5) / 2.0).product::<f64>();
        all(plan).into_iter().map(product).sum::<f64>() / plan.points() as f64 - 1.0
    };
    let root_mean_square = |plans: Vec<Plan>| {
        let count = plans.len() as f64;
        (plans.iter().map(error).map(|e| e * e).sum::<f64>() / count).sqrt()
    };
    let latin = root_mean_square((0..20).map(|s| Plan::latin_hypercube(6, 4_096, s).unwrap()).collect());
    let sobol = root_mean_square((0..20).map(|s| Plan::sobol(6, 4_096, s).unwrap()).collect());
    // Twenty squares: the root mean square has a standard deviation of 1 / √40 of itself, three of which are 0.47.
    assert!((0.53 * 0.00128..1.47 * 0.00128).contains(&latin), "{latin}");
    assert!(sobol < latin / 20.0, "{sobol} against {latin}");
}

/// Two inputs of a Latin hypercube have no correlation beyond chance, 1/√n; nor have a point's place and its number.
#[test]
fn a_latin_hypercube_is_in_random_order() {
    let plan = Plan::latin_hypercube(5, 10_000, 12).unwrap();
    let mut columns: Vec<Vec<f64>> =
        (0..5).map(|d| all(&plan).iter().map(|point| point[d]).collect()).collect();
    columns.push((0..10_000).map(|index| (f64::from(index) + 0.5) / 10_000.0).collect());
    for a in 0..columns.len() {
        for b in 0..a {
            let product = |(x, y): (&f64, &f64)| 12.0 * (x - 0.5) * (y - 0.5);
            let correlation = columns[a].iter().zip(&columns[b]).map(product).sum::<f64>() / 10_000.0;
            assert_abs_diff_eq!(correlation, 0.0, epsilon = 0.04);
        }
    }
}

/// A plan of another release must not give other runs for the same seed. Reckoned by a second program, in Python, from
/// scipy's plain points and the definitions of the hash, the scrambling and the shuffle.
#[test]
fn the_points_of_a_seed_stay_what_they_are() {
    let bits = |plan: Plan, index| plan.point(index).unwrap().iter().map(|x| x.to_bits()).collect::<Vec<_>>();
    assert_eq!(
        bits(Plan::sobol(3, 65_536, 7).unwrap(), 12_345),
        [4604547878379455297, 4605909581369539725, 4585540517203041072]
    );
    assert_eq!(
        bits(Plan::latin_hypercube(3, 1_000, 7).unwrap(), 345),
        [4599644172654852702, 4602098953344501416, 4601206096576433357]
    );
}

#[test]
fn threads_that_share_a_plan_make_what_one_makes() {
    for plan in [Plan::sobol(9, 400, 1).unwrap(), Plan::latin_hypercube(9, 400, 1).unwrap()] {
        let whole = all(&plan);
        let parts: Vec<Vec<Vec<f64>>> = std::thread::scope(|scope| {
            let part = |from| {
                let plan = &plan;
                scope
                    .spawn(move || (from..from + 100).rev().map(|index| plan.point(index).unwrap()).collect())
            };
            let threads: Vec<_> = [300, 0, 200, 100].map(part).into_iter().collect();
            threads.into_iter().map(|thread| thread.join().unwrap()).collect()
        });
        for (part, from) in parts.iter().zip([300, 0, 200, 100]) {
            assert!(part.iter().rev().eq(&whole[from..from + 100]));
        }
    }
}

#[test]
fn the_longest_plans_have_a_last_point_within_the_cube() {
    for plan in [Plan::sobol(2, MOST_POINTS, 4).unwrap(), Plan::latin_hypercube(2, MOST_POINTS, 4).unwrap()] {
        for index in [0, MOST_POINTS / 2, MOST_POINTS - 1] {
            assert!(plan.point(index).unwrap().iter().all(|x| *x > 0.0 && *x < 1.0));
        }
        let said = plan.point(MOST_POINTS).unwrap_err().to_string();
        assert_eq!(said, "there is no point 4294967296 in a plan of 4294967296; numbers begin with 0");
    }
}

#[test]
fn numbers_that_make_no_plan_are_refused_with_the_reason() {
    let refused = |plan: Result<Plan, PlanError>| plan.unwrap_err().to_string();
    assert!(refused(Plan::sobol(0, 8, 1)).contains("varies nothing"));
    assert!(refused(Plan::grid(&[], Level::Ends)).contains("varies nothing"));
    assert!(refused(Plan::grid(&[2, 0], Level::Ends)).contains("input 2 of a grid has no level"));
    assert!(refused(Plan::grid(&[u32::MAX; 3], Level::Ends)).contains("1 to 4294967296 would be right"));
    assert!(refused(Plan::latin_hypercube(2, 0, 1)).contains("a plan has 0 points"));
    assert!(refused(Plan::sobol(2, MOST_POINTS + 1, 1)).contains("a plan has 4294967297 points"));
    assert!(refused(Plan::sobol(129, 8, 1)).contains("129 inputs; at most 128"));
    for (low, high) in [(-0.1, 0.9), (0.5, 0.9), (0.1, 0.5), (0.1, 1.1), (f64::NAN, 0.9), (0.1, f64::NAN)] {
        assert!(refused(Plan::one_at_a_time(2, low, high)).contains("inputs go from share"));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_latin_hypercube_has_one_point_in_every_stratum(
        dimensions in 1..6_usize, points in 1..700_u64, seed: u64,
    ) {
        prop_assert!(is_latin(&Plan::latin_hypercube(dimensions, points, seed).unwrap()));
    }

    #[test]
    fn a_seed_repeats_bit_for_bit_and_another_differs_in_every_point(
        seed: u64, other: u64, points in 2..10_000_u64, part in 0.0..1.0_f64,
    ) {
        prop_assume!(seed != other);
        let index = (part * points as f64) as u64;
        for make in [Plan::sobol, Plan::latin_hypercube] {
            let point = make(4, points, seed).unwrap().point(index).unwrap();
            prop_assert_eq!(&point, &make(4, points, seed).unwrap().point(index).unwrap());
            prop_assert_ne!(&point, &make(4, points, other).unwrap().point(index).unwrap());
            prop_assert!(point.iter().all(|x| *x > 0.0 && *x < 1.0));
        }
    }

    /// More runs keep those that are there.
    #[test]
    fn a_longer_sobol_plan_begins_with_the_shorter(seed: u64, index in 0..64_u64) {
        let point = |points| Plan::sobol(5, points, seed).unwrap().point(index).unwrap();
        prop_assert_eq!(point(64), point(1 << 20));
    }
}
