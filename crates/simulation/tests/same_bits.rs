//! One house alone, or in a row of any width, with any instruction set: every bit of every hour's ledger is the same.
//!
//! Two hundred houses with counterflow plates and membranes, forty of each other kind, with every number of house and unit drawn anew from a deterministic
//! sequence; every tenth without flow, every seventh without storage, every eleventh without glass, every third without
//! leaks in the unit and own exhaust air. A book that does not close in a step stops the run, so this is also a test of the
//! books.
// The lints' exception for tests covers functions marked as tests, not the helpers that they call.
#![allow(clippy::unwrap_used)]

mod common;

use std::collections::BTreeSet;

use common::{FILES, drivers_at, file};
use exchanger::CoreKind;
use lanes::{InstructionSet, WIDTHS, Width, available, width_on};
use simulation::{
    Drivers, Fans, FilterLoad, Flows, FreeCooling, FrostPlan, FrostStrategy, House, HouseNumbers, Indoors,
    IndoorsNumbers, MAX_FACINGS, MAX_PANES, OutdoorAir, PaneNumbers, PreheatTo, RunError, RunOptions,
    SiteNumbers, Start, Steps, ThawLimits, Timetable, TimetableRow, Unit, Variant, Washing, hash_pairs,
    misses_air, results::HouseYear, run_compared, run_held_pair, run_one_by_one, run_with_baselines,
    totals_of_pairs,
};

const VARIANTS: usize = 200;

/// Marsaglia's xorshift64, as fractions.
struct Draw(u64);

impl Draw {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        low + (high - low) * ((self.0 >> 11) as f64 / (1_u64 << 53) as f64)
    }
}

fn house(draw: &mut Draw, k: usize) -> House {
    let mut some = |low, high| draw.between(low, high);
    let stores = !k.is_multiple_of(7);
    let numbers = HouseNumbers {
        floor_area_m2: some(40.0, 400.0),
        outdoor_to_mass_w_per_k: some(10.0, 300.0),
        mass_to_surface_w_per_k: some(1000.0, 6000.0),
        surface_to_air_w_per_k: some(600.0, 6000.0),
        windows_w_per_k: some(0.0, 90.0),
        gain_share_mass: some(0.4, 0.8),
        gain_share_lost: some(0.0, 0.02),
        mass_j_per_k: some(8e6, 80e6),
        heating_set_point_c: some(17.0, 22.0),
        heating_capacity_w: some(500.0, 20e3),
        heating_efficiency: some(0.6, 3.5),
        cooling_set_point_c: some(23.0, 28.0),
        cooling_capacity_w: some(0.0, 8e3),
        cooling_cop: some(2.0, 5.0),
        apparatus_dew_point_c: some(7.0, 14.0),
        people: some(0.0, 6.0),
        person_heat_w: some(60.0, 100.0),
        person_water_kg_per_s: some(0.03, 0.08) / 3600.0,
        other_gains_w: some(0.0, 600.0),
        showers_kg_per_day: some(0.0, 4.0),
        cooking_kg_per_day: some(0.0, 4.0),
        laundry_kg_per_day: some(0.0, 3.0),
        plants_kg_per_day: some(0.0, 2.0),
        rest_air_kg: some(80.0, 900.0),
        wet_air_kg: some(10.0, 150.0),
        wet_share: some(0.05, 0.3),
        door_kg_per_s: some(0.0, 0.2),
        leakage_kg_per_s: some(0.0, 0.05),
        surface_kg_per_s_pa: if stores { some(1e-7, 5e-6) } else { 0.0 },
        surface_capacity_kg: if stores { some(5.0, 80.0) } else { 1.0 },
    };
    let mut apertures_m2 = [0.0; MAX_FACINGS];
    if !k.is_multiple_of(11) {
        apertures_m2[..3].fill_with(|| some(0.0, 6.0));
    }
    let site = SiteNumbers {
        stack_kg_per_s: some(0.0, 0.005),
        wind_kg_per_s: some(0.0, 0.01),
        leakage_exponent: some(0.5, 0.8),
        ground_to_mass_w_per_k: some(0.0, 30.0),
        ground_in_step: some(0.0, 0.5),
        ground_behind: some(0.0, 0.5),
        set_back_k: some(0.0, 4.0),
        set_up_k: some(0.0, 3.0),
        airing_kg_per_s: some(0.0, 0.1),
        airing_above_c: some(22.0, 26.0),
        airing_colder_by_k: some(0.0, 3.0),
        hood_kg_per_s: some(0.0, 0.08),
        dryer_kg_per_s: some(0.0, 0.05),
        person_co2_ppm_kg_per_s: some(3.0, 7.0),
        low_share: if k.is_multiple_of(3) { 1.0 } else { some(0.3, 1.0) },
        humid_above: some(0.3, 0.6),
        humid_falls_per_k: some(0.0, 0.01),
        humid_falls_below_c: some(-5.0, 5.0),
        stale_above_ppm: some(600.0, 1200.0),
    };
    House { numbers, site, apertures_m2, indoors: indoors(draw, k) }
}

/// Every second house has glass that sweats, and one in three each a humidifier, a dehumidifier, a blower or a bedroom.
fn indoors(draw: &mut Draw, k: usize) -> Indoors {
    let mut some = |low, high| draw.between(low, high);
    let if_so = |is: bool, value: f64| if is { value } else { 0.0 };
    let numbers = IndoorsNumbers {
        humidify_to: some(0.2, 0.4),
        humidifier_kg_per_s: if_so(k % 3 == 1, some(1e-5, 4e-4)),
        humidifier_steam: if_so(k % 2 == 1, 1.0),
        dry_to: some(0.4, 0.6),
        dehumidifier_kg_per_s: if_so(k.is_multiple_of(3), some(1e-5, 4e-4)),
        dehumidifier_j_per_kg: some(1e6, 3e6),
        drying_kg_per_s: if_so(k % 5 == 2, some(1e-5, 1e-4)),
        drying_per_h: some(1e-4, 1e-3),
        blower_w: if_so(k % 3 == 2, some(100.0, 500.0)),
        blower_always: if_so(k % 4 == 1, 1.0),
        blower_with_unit: if_so(k % 4 == 2, 1.0),
        heating_w: some(3e3, 15e3),
        cooling_w: some(2e3, 8e3),
        re_evaporates: if_so(k % 2 == 1, 1.0),
        through_return_duct: if_so(k % 4 == 3, some(0.1, 1.0)),
        sleepers: if_so(k % 3 == 1, 2.0),
        bedroom_air_kg: some(20.0, 60.0),
        bedroom_supply_share: some(0.0, 0.5),
        bedroom_from_h: 22.0,
        bedroom_to_h: 7.0,
    };
    let mut panes = [PaneNumbers::NONE; MAX_PANES];
    if k.is_multiple_of(2) {
        panes[0] = PaneNumbers::new(some(2.0, 20.0), some(0.8, 3.0), 0.6);
        panes[1] = PaneNumbers::new(some(0.0, 4.0), some(2.0, 5.8), 0.5);
    }
    Indoors { numbers, panes }
}

fn unit(draw: &mut Draw, house: &House, k: usize) -> Unit {
    let leakage_kg_per_s = house.numbers.leakage_kg_per_s;
    if k.is_multiple_of(10) {
        return Unit::none().in_house_of_leakage(leakage_kg_per_s);
    }
    let mut some = |low, high| draw.between(low, high);
    let flow = some(0.01, 0.09);
    let ntu = some(0.5, 7.0);
    let leaks = if k.is_multiple_of(3) { 0.0 } else { 1.0 };
    let cross_leakage = leaks * some(0.0, 0.2);
    let flows = Flows {
        delivered_kg_per_s: flow,
        balance: some(0.5, 2.0),
        cross_leakage,
        outdoor_air_correction: some(1.0, 1.2) - cross_leakage,
        hood_recirculation: leaks * some(0.0, 0.3),
        leakage_kg_per_s,
    };
    let vapour = flow * ntu * some(0.1, 0.8);
    Unit {
        ua_w_per_k: ntu * flow * 1006.0,
        vapour_kg_per_s: vapour,
        crossed_ua_w_per_k: ntu * flow * 1006.0 * some(0.95, 1.2),
        crossed_vapour_kg_per_s: vapour * some(0.95, 1.2),
        fan_w: some(10.0, 120.0),
        fan_heat_before_w: some(0.0, 30.0),
        fan_heat_after_w: some(0.0, 30.0),
        extract_fan_before_w: some(0.0, 30.0),
        extract_wet_share: some(0.0, 1.0),
        supply_wet_share: some(0.0, 1.0),
        supply_fan_share: some(0.3, 0.7),
        to_cold_end: some(0.0, 0.3),
        cold_duct_w_per_k: some(0.0, 5.0),
        warm_duct_w_per_k: some(0.0, 5.0),
        place_share: some(0.0, 1.0),
        ..Unit::of_flows(&flows).unwrap()
    }
}

fn variants(core: CoreKind) -> Vec<Variant> {
    let mut draw = Draw(0x9E37_79B9_7F4A_7C15);
    let one = |k| {
        let house = house(&mut draw, k);
        Variant { house, unit: unit(&mut draw, &house, k), core, frost: FrostPlan::unlimited() }
    };
    (0..VARIANTS).map(one).collect()
}

/// Every strategy, and fans of both kinds.
fn strategies() -> Vec<(CoreKind, FrostStrategy)> {
    let plate = CoreKind::SensiblePlate;
    let rows = [
        TimetableRow { at_or_below_c: 4.0, defrost_min: 6.0, run_min: 54.0 },
        TimetableRow { at_or_below_c: -2.0, defrost_min: 10.0, run_min: 20.0 },
    ];
    vec![
        (plate, FrostStrategy::None),
        (plate, FrostStrategy::Recirculate(Start::Timetable(Timetable::new(&rows).unwrap()))),
        (CoreKind::EnthalpyPlate, FrostStrategy::Recirculate(Start::OnDemand)),
        (plate, FrostStrategy::Preheat(PreheatTo::FirstFrost)),
        (CoreKind::EnthalpyPlate, FrostStrategy::Preheat(PreheatTo::Fixed(-2.0))),
        (plate, FrostStrategy::SupplyOff(ThawLimits::ON_DEMAND)),
        (plate, FrostStrategy::SupplyOff(ThawLimits { start_below_c: Some(2.0), end_above_c: Some(6.0) })),
        (plate, FrostStrategy::Bypass),
        (CoreKind::SensibleWheel, FrostStrategy::SlowWheel),
    ]
}

/// Houses whose cores hold little frost, with this strategy and everything else that a plan may have.
fn frosty(core: CoreKind, strategy: FrostStrategy) -> Vec<Variant> {
    let mut draw = Draw(0x1234_5678_9ABC_DEF1);
    let mut some = |low, high| draw.between(low, high);
    let on_demand = strategy == FrostStrategy::Recirculate(Start::OnDemand);
    let mut all = variants(core);
    all.truncate(FROSTY);
    for variant in &mut all {
        let fans = if on_demand {
            Fans::FixedSpeed {
                shut_off_pa: 100.0,
                free_flow_ratio: some(1.5, 3.0),
                core_pa: some(10.0, 40.0),
            }
        } else {
            Fans::ConstantFlow { core_share: some(0.1, 0.6) }
        };
        variant.frost = FrostPlan {
            strategy,
            capacity_kg: some(0.05, 0.6),
            plate_area_m2: some(1.0, 8.0),
            gap_m: some(0.0015, 0.003),
            core_heat_capacity_j_per_k: some(500.0, 9000.0),
            returned: some(0.0, 1.0),
            fans,
            film_exponent: some(0.0, 0.3),
            filters: Some(FilterLoad { extra: some(0.0, 1.0), interval_d: some(30.0, 365.0) }),
            preheat_most_w: some(100.0, 2000.0),
            free_cooling: Some(FreeCooling {
                indoor_above_c: some(21.0, 24.0),
                colder_by_k: some(0.0, 3.0),
                supply_at_least_c: some(10.0, 18.0),
            }),
            outdoor_air: if core == CoreKind::SensiblePlate { OutdoorAir::Held } else { OutdoorAir::Missed },
            washing: Some(Washing {
                at_h: some(0.0, 8700.0),
                out_h: some(10.0, 60.0),
                fouling: some(0.0, 0.2),
                left: some(0.0, 0.1),
            }),
        };
    }
    all
}

/// A row and a half of eight, which does not fill one of sixteen.
const FROSTY: usize = 12;

#[test]
fn every_strategy_has_the_same_bits_in_every_row() {
    // A year whose winter reaches far below 0 °C.
    let drivers = drivers_at(&file(FILES[0]), Steps::Two);
    let ways = ways();
    for (core, strategy) in strategies() {
        let variants = frosty(core, strategy);
        let options = RunOptions::default();
        let expected = hash_pairs(ways[0], &variants, &drivers, options).unwrap();
        for &way in &ways[1..] {
            let hashes = hash_pairs(way, &variants, &drivers, options).unwrap();
            let differs = hashes.iter().zip(&expected).position(|(one, other)| one != other);
            assert_eq!(differs, None, "{strategy:?} {way:?}: this variant");
        }
        assert_eq!(expected.into_iter().collect::<BTreeSet<_>>().len(), FROSTY);
    }
}

#[test]
fn a_batch_of_two_strategies_is_refused() {
    let mut variants = frosty(CoreKind::SensiblePlate, FrostStrategy::None);
    variants[1].frost.strategy = FrostStrategy::Bypass;
    let found = totals_of_pairs(Width::One, &variants, &weather(), RunOptions::default());
    assert_eq!(found, Err(RunError::MixedStrategies));
}

/// Every bit of every column and ledger line.
fn bits(year: &HouseYear) -> Vec<(String, Vec<u64>)> {
    let columns = year.hourly.columns();
    let columns = columns.into_iter().map(|(name, values, _)| (name.to_owned(), values));
    let lines = year.ledger_by_month.iter();
    let lines = lines.map(|line| (format!("{} {}", line.book, line.label), &line.by_month[..]));
    let all = columns.chain(lines);
    all.map(|(name, values)| (name, values.iter().map(|value| value.to_bits()).collect())).collect()
}

/// Asserts that the houses of a comparison, side by side, are those that run one by one; answers how many there are.
fn assert_same_side_by_side(variant: &Variant, drivers: &Drivers, what: &str) -> usize {
    let options = RunOptions { lead_in_hours: 100, tamper: None };
    let found = run_compared("unit", variant, drivers, options).unwrap();
    let mut expected = Vec::from(run_one_by_one("unit", variant, drivers, options).unwrap());
    if misses_air(&expected[0]) {
        expected.extend(run_held_pair("unit", variant, drivers, options).unwrap());
    }
    assert_eq!(found.len(), expected.len(), "{what}");
    let three = run_with_baselines("unit", variant, drivers, options).unwrap();
    assert!(found.iter().zip(&three).all(|(one, other)| bits(one) == bits(other)), "{what}");
    for (one, other) in found.iter().zip(&expected) {
        assert_eq!((&one.unit, one.case), (&other.unit, other.case), "{what}");
        for (one_column, other_column) in bits(one).iter().zip(&bits(other)) {
            assert_eq!(one_column.0, other_column.0);
            let differs = one_column.1.iter().zip(&other_column.1).position(|(one, other)| one != other);
            assert_eq!(differs, None, "{what}, {:?}, {}: this place", one.case, one_column.0);
        }
    }
    found.len()
}

#[test]
fn houses_side_by_side_have_the_same_bits_as_one_by_one() {
    let (cold, mixed) = (drivers_at(&file(FILES[0]), Steps::Two), weather());
    let mut counts = BTreeSet::new();
    for (core, strategy) in strategies() {
        for (place, variant) in frosty(core, strategy).iter_mut().enumerate().take(4) {
            variant.frost.outdoor_air = OutdoorAir::Missed;
            counts.insert(assert_same_side_by_side(variant, &cold, &format!("{strategy:?} {place}")));
            // Without upkeep some never miss any air.
            (variant.frost.filters, variant.frost.washing) = (None, None);
            counts.insert(assert_same_side_by_side(variant, &cold, &format!("{strategy:?} {place}, clean")));
        }
    }
    for core in CoreKind::ALL {
        for (place, variant) in variants(core)[..6].iter().enumerate() {
            counts.insert(assert_same_side_by_side(variant, &mixed, &format!("{core:?} {place}")));
        }
    }
    assert_eq!(counts.into_iter().collect::<Vec<_>>(), [3, 5]);
}

/// What is really compiled apart: one lane needs no instruction set, and machines without vectors go one by one.
fn ways() -> Vec<(InstructionSet, Width)> {
    let mut seen = BTreeSet::new();
    let all = available().into_iter().flat_map(|set| WIDTHS.map(|width| (set, width)));
    all.filter(|&(set, width)| {
        let real = width_on(set, width);
        let shared = real == Width::One;
        seen.insert((if shared { String::new() } else { format!("{set:?}") }, real))
    })
    .collect()
}

fn weather() -> Drivers {
    // Frost in winter, water on both sides of the core over the year.
    drivers_at(&file(FILES[2]), Steps::Four)
}

fn assert_same_ledgers(core: CoreKind, count: usize) {
    let (drivers, mut variants) = (weather(), variants(core));
    variants.truncate(count);
    let ways = ways();
    let expected = hash_pairs(ways[0], &variants, &drivers, RunOptions::default()).unwrap();
    for &way in &ways[1..] {
        let hashes = hash_pairs(way, &variants, &drivers, RunOptions::default()).unwrap();
        assert_eq!(hashes.len(), count);
        let differs = hashes.iter().zip(&expected).position(|(one, other)| one != other);
        assert_eq!(differs, None, "{core:?} {way:?}: this variant");
    }
    let different: BTreeSet<_> = expected.into_iter().collect();
    assert_eq!(different.len(), count, "houses that differ have ledgers that differ");
}

#[test]
fn the_ledger_of_every_house_with_a_plate_has_the_same_bits_in_every_row() {
    assert_same_ledgers(CoreKind::SensiblePlate, VARIANTS);
}

#[test]
fn the_ledger_of_every_house_with_a_membrane_has_the_same_bits_in_every_row() {
    assert_same_ledgers(CoreKind::EnthalpyPlate, VARIANTS);
}

#[test]
fn crossflow_and_wheels_have_the_same_bits_in_every_row() {
    for core in [
        CoreKind::SensibleCrossPlate,
        CoreKind::EnthalpyCrossPlate,
        CoreKind::SensibleWheel,
        CoreKind::EnthalpyWheel,
    ] {
        assert_same_ledgers(core, 40);
    }
}

#[test]
fn a_years_totals_have_the_same_bits_in_rows_of_every_width() {
    let drivers = weather();
    for core in [CoreKind::SensiblePlate, CoreKind::EnthalpyPlate] {
        // Two rows of eight and a half.
        let variants = &variants(core)[..20];
        // Text that reads back as the same bits, and tells −0 from 0.
        let totals = WIDTHS.map(|width| {
            format!("{:?}", totals_of_pairs(width, variants, &drivers, RunOptions::default()).unwrap())
        });
        for (width, found) in WIDTHS.iter().zip(&totals) {
            assert_eq!(found, &totals[0], "{core:?} {width:?}");
        }
    }
}

#[test]
fn a_batch_of_two_kinds_is_refused() {
    let mut variants = variants(CoreKind::SensiblePlate)[..2].to_vec();
    variants[1].core = CoreKind::EnthalpyPlate;
    let found = totals_of_pairs(Width::One, &variants, &weather(), RunOptions::default());
    assert_eq!(found, Err(RunError::MixedCores));
}
