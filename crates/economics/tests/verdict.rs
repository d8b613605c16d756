//! Who is recommended and why: the rules one by one, on made-up figures.
#![allow(clippy::unwrap_used, clippy::panic)]

use approx::assert_relative_eq;
use economics::verdict::{
    Figures, Indoors, Judgement, Limit, Overall, Reason, Reference, Rules, Verdict, VerdictError, judge,
};

const GOOD: Indoors = Indoors {
    rh_below_30_h: 300.0,
    rh_above_60_h: 400.0,
    rh_winter_mean_pct: Some(38.0),
    window_wet_h: Some(60.0),
    mould_index_max: Some(0.4),
};

fn unit(name: &str, price: f64, net_present_value: f64) -> Figures {
    Figures {
        name: name.to_owned(),
        price,
        net_present_value,
        outdoor_air_m3: 700_000.0,
        indoors: GOOD,
        blocked_h: 0.0,
        missed_air_share: 0.01,
        air_short_h: 10.0,
        preheat_kwh: 0.0,
    }
}

fn house() -> Reference {
    Reference { name: "no recovery".to_owned(), outdoor_air_m3: 700_000.0, indoors: GOOD }
}

fn judged(units: &[Figures]) -> Judgement {
    judge(units, &house(), &Rules::default()).unwrap()
}

fn reasons(judgement: &Judgement, at: usize) -> &[Reason] {
    match &judgement.units[at].verdict {
        Verdict::Unfit { reasons } => reasons,
        fit @ Verdict::Fit { .. } => panic!("{fit:?}"),
    }
}

fn rank(judgement: &Judgement, at: usize) -> usize {
    match judgement.units[at].verdict {
        Verdict::Fit { rank } => rank,
        Verdict::Unfit { .. } => panic!("{:?}", judgement.units[at]),
    }
}

fn recommends(judgement: &Judgement, name: &str) -> bool {
    judgement.overall == Overall::Recommended { name: name.to_owned() }
}

#[test]
fn among_fit_units_the_greatest_present_value_is_recommended() {
    let found = judged(&[
        unit("Plate A", 1500.0, 400.0),
        unit("Wheel", 2500.0, 1300.0),
        unit("Plate B", 1800.0, 900.0),
    ]);
    assert!(recommends(&found, "Wheel"), "{found:?}");
    assert_eq!([rank(&found, 0), rank(&found, 1), rank(&found, 2)], [3, 1, 2]);
    assert_eq!(
        found.sentence,
        "Wheel keeps every limit and is worth 400 more than Plate B, the next. Over the years looked at it costs 1300 \
         less than no recovery."
    );
}

#[test]
fn limits_come_before_money() {
    let mut dry = unit("Plate", 1500.0, 2000.0);
    dry.indoors.rh_below_30_h = 2310.0;
    dry.indoors.rh_winter_mean_pct = Some(24.2);
    let found = judged(&[dry, unit("Membrane", 2200.0, 700.0)]);
    assert!(recommends(&found, "Membrane"), "{found:?}");
    let why: Vec<&str> = reasons(&found, 0).iter().map(|reason| reason.sentence.as_str()).collect();
    assert_eq!(
        why,
        [
            "Too dry: 2310 h a year below 30 % relative humidity, more than the 1460 h allowed.",
            "Too dry in winter: 24.2 % relative humidity on average, less than the 25 % allowed."
        ]
    );
    assert_relative_eq!(reasons(&found, 0)[0].found, 2310.0);
    assert_relative_eq!(reasons(&found, 0)[0].allowed, 1460.0);
}

/// A figure just beyond each limit makes unfit for that reason alone; the limit itself is still kept.
#[test]
fn every_limit_is_kept_at_its_number_and_broken_beyond_it() {
    type Set = fn(&mut Figures, f64);
    let limits: [(Limit, f64, f64, Set, &str); 9] = [
        (
            Limit::Dry,
            1460.0,
            1461.0,
            |f, x| f.indoors.rh_below_30_h = x,
            "Too dry: 1461 h a year below 30 % relative humidity, more than the 1460 h allowed.",
        ),
        (
            Limit::DryWinter,
            25.0,
            24.9,
            |f, x| f.indoors.rh_winter_mean_pct = Some(x),
            "Too dry in winter: 24.9 % relative humidity on average, less than the 25 % allowed.",
        ),
        (
            Limit::Damp,
            1460.0,
            1461.0,
            |f, x| f.indoors.rh_above_60_h = x,
            "Too damp: 1461 h a year above 60 % relative humidity, more than the 1460 h allowed.",
        ),
        (
            Limit::DampWinter,
            50.0,
            50.04,
            |f, x| f.indoors.rh_winter_mean_pct = Some(x),
            "Too damp in winter: 50.04 % relative humidity on average, more than the 50 % allowed.",
        ),
        (
            Limit::WetWindows,
            500.0,
            640.0,
            |f, x| f.indoors.window_wet_h = Some(x),
            "Windows sweat for 640 h a year, more than the 500 h allowed.",
        ),
        (
            Limit::Mould,
            3.0,
            3.42,
            |f, x| f.indoors.mould_index_max = Some(x),
            "Mould could grow: its index reaches 3.42, more than the 3 allowed.",
        ),
        (
            Limit::Blocked,
            24.0,
            96.0,
            |f, x| f.blocked_h = x,
            "Ice blocks the core for 96 h a year, more than the 24 h allowed.",
        ),
        (
            Limit::MissedAir,
            0.05,
            0.081,
            |f, x| f.missed_air_share = x,
            "Too little air: defrost, frost and filters keep back 8.1 % of it, more than the 5 % allowed.",
        ),
        (
            Limit::ShortOfAir,
            438.0,
            700.0,
            |f, x| f.air_short_h = x,
            "Too little air: for 700 h a year less than the ventilation standard asks for, more than the 438 h allowed.",
        ),
    ];
    for (limit, at, beyond, set, sentence) in limits {
        let mut kept = unit("Plate", 1500.0, 2000.0);
        set(&mut kept, at);
        assert_eq!(rank(&judged(&[kept.clone()]), 0), 1, "{limit:?}");
        set(&mut kept, beyond);
        let found = judged(&[kept]);
        let [reason] = reasons(&found, 0) else { panic!("{found:?}") };
        assert_eq!((reason.limit, reason.sentence.as_str()), (limit, sentence));
        assert_eq!(found.overall, Overall::NoneFits);
    }
}

#[test]
fn what_every_unit_and_the_house_without_one_break_is_a_caution() {
    let mut house = house();
    house.indoors.rh_above_60_h = 3000.0;
    let mut units = [unit("Plate", 1500.0, 900.0), unit("Membrane", 2200.0, 300.0)];
    for unit in &mut units {
        unit.indoors.rh_above_60_h = 2950.0;
    }
    let found = judge(&units, &house, &Rules::default()).unwrap();
    assert!(recommends(&found, "Plate"), "{found:?}");
    assert_eq!(
        found.units[1].cautions[0].sentence,
        "Too damp: 2950 h a year above 60 % relative humidity, more than the 1460 h allowed. So it is with every unit and \
         with `no recovery`: the unit is not why."
    );
    // One that keeps the limit tells them apart.
    units[1].indoors.rh_above_60_h = 1400.0;
    let found = judge(&units, &house, &Rules::default()).unwrap();
    assert!(recommends(&found, "Membrane"), "{found:?}");
    assert_eq!(reasons(&found, 0)[0].limit, Limit::Damp);
    assert_eq!(
        reasons(&found, 0)[0].sentence,
        "Too damp: 2950 h a year above 60 % relative humidity, more than the 1460 h allowed. With `no recovery` it is 3000 h."
    );
    // Where the house without one keeps it, all units are to blame.
    units[1].indoors.rh_above_60_h = 2950.0;
    let found = judged(&units);
    assert_eq!(found.overall, Overall::NoneFits);
    assert_eq!(
        found.sentence,
        "No unit is recommended: none keeps every limit, the reasons stand beside each."
    );
}

#[test]
fn a_dear_unit_wins_where_the_house_without_one_breaks_a_limit_that_it_keeps() {
    let mut house = house();
    house.indoors.rh_below_30_h = 2900.0;
    let units = [unit("Membrane", 2200.0, -400.0)];
    let found = judge(&units, &house, &Rules::default()).unwrap();
    assert!(recommends(&found, "Membrane"), "{found:?}");
    assert_eq!(
        found.sentence,
        "Membrane is recommended for the rooms, not for money: over the years looked at it costs 400 more than no recovery, \
         but it keeps every limit and is the only one to do so. With no recovery: Too dry: 2900 h a year below 30 % relative \
         humidity, more than the 1460 h allowed. Whether something else would mend that for less, such as a humidifier, a \
         dehumidifier or less air, is not judged here."
    );
}

#[test]
fn none_is_worth_it_when_the_house_without_one_leads_by_the_margin() {
    let units = [unit("Plate", 1500.0, -151.0), unit("Wheel", 2500.0, -900.0)];
    let found = judged(&units);
    let none = Overall::NoneWorthIt { best: "Plate".to_owned(), net_present_value: -151.0 };
    assert_eq!(found.overall, none);
    assert_eq!(
        found.sentence,
        "No unit is worth its cost: the best that keeps every limit, Plate, costs 151 more than no recovery over the years \
         looked at."
    );
    let found = judged(&[unit("Plate", 1500.0, -149.0), unit("Wheel", 2500.0, -900.0)]);
    let Overall::NoClearWinner { names, within } = found.overall else { panic!("{found:?}") };
    assert_eq!(names, ["no recovery", "Plate"]);
    assert_relative_eq!(within, 150.0);
}

/// A tenth of the dearer price, 250: 249 apart is no lead, 250 is.
#[test]
fn a_lead_below_the_margin_is_no_win() {
    let close =
        judged(&[unit("Plate", 1500.0, 1051.0), unit("Wheel", 2500.0, 1300.0), unit("Tube", 900.0, 400.0)]);
    let Overall::NoClearWinner { names, within } = &close.overall else { panic!("{close:?}") };
    assert_eq!(names, &["Wheel", "Plate"]);
    assert_relative_eq!(*within, 250.0);
    assert_eq!(
        close.sentence,
        "No clear winner: Wheel and Plate keep every limit and lie within 249 of present value, less than the 250 by which \
         the best would have to lead."
    );
    assert_eq!([rank(&close, 0), rank(&close, 1), rank(&close, 2)], [2, 1, 3]);
    assert!(recommends(&judged(&[unit("Plate", 1500.0, 1050.0), unit("Wheel", 2500.0, 1300.0)]), "Wheel"));
    // The least margin in money.
    let rules = Rules { margin_money: 260.0, ..Rules::default() };
    let found =
        judge(&[unit("Plate", 1500.0, 1045.0), unit("Wheel", 2500.0, 1300.0)], &house(), &rules).unwrap();
    assert!(matches!(found.overall, Overall::NoClearWinner { within, .. } if (within - 260.0).abs() < 1e-9));
}

#[test]
fn equal_worth_has_no_winner_even_without_a_margin() {
    let rules = Rules { margin_share_of_price: 0.0, ..Rules::default() };
    let found = judge(&[unit("A", 1500.0, 700.0), unit("B", 1500.0, 700.0)], &house(), &rules).unwrap();
    let none = Overall::NoClearWinner { names: vec!["A".to_owned(), "B".to_owned()], within: 0.0 };
    assert_eq!(found.overall, none);
}

#[test]
fn an_unfit_unit_neither_wins_nor_blurs_the_win() {
    let mut iced = unit("Iced", 1500.0, 1290.0);
    iced.blocked_h = 200.0;
    let found = judged(&[iced, unit("Wheel", 2500.0, 1300.0)]);
    assert!(recommends(&found, "Wheel"), "{found:?}");
    assert_eq!(
        found.sentence,
        "Wheel keeps every limit. Over the years looked at it costs 1300 less than no recovery."
    );
}

#[test]
fn preheating_is_pointed_out_and_not_held_against_the_unit() {
    let mut heats = unit("Plate", 1500.0, 800.0);
    heats.preheat_kwh = 620.0;
    let found = judged(&[heats]);
    assert_eq!(rank(&found, 0), 1);
    assert_eq!(
        found.units[0].cautions[0].sentence,
        "Preheating takes 620 kWh a year; what that costs is counted."
    );
}

#[test]
fn figures_that_are_not_known_break_nothing() {
    let mut plain = unit("Plate", 1500.0, 800.0);
    plain.indoors.rh_winter_mean_pct = None;
    plain.indoors.window_wet_h = None;
    plain.indoors.mould_index_max = None;
    assert!(recommends(&judged(&[plain]), "Plate"));
}

#[test]
fn unequal_air_is_not_compared() {
    let mut less = unit("Defrosts", 1500.0, 2000.0);
    less.outdoor_air_m3 = 680_000.0;
    let refused =
        judge(&[less.clone(), unit("Plate", 1500.0, 800.0)], &house(), &Rules::default()).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "`Defrosts` brings in 680000 m³ of outdoor air a year and `no recovery` 700000 m³: compare them at equal air, or \
         the one that brings less looks better than it is"
    );
    less.outdoor_air_m3 = 686_000.0;
    assert!(judge(&[less], &house(), &Rules::default()).is_ok());
}

#[test]
fn what_cannot_be_judged_is_refused() {
    let refused = |units: &[Figures]| judge(units, &house(), &Rules::default()).unwrap_err();
    assert_eq!(refused(&[]), VerdictError::NoUnits);
    assert_eq!(
        refused(&[unit("A", 1.0, 1.0), unit("A", 2.0, 2.0)]).to_string(),
        "two cases are called `A`: give each a name of its own"
    );
    assert!(matches!(refused(&[unit("no recovery", 1.0, 1.0)]), VerdictError::SameName { .. }));
    let mut dry = unit("A", 1500.0, 100.0);
    dry.indoors.rh_below_30_h = f64::NAN;
    assert_eq!(
        refused(&[dry]).to_string(),
        "`A`: hours below 30 % is NaN; a number of 0 or more is needed, below 0 only as present value"
    );
    assert!(refused(&[unit("A", -5.0, 100.0)]).to_string().starts_with("`A`: price is -5;"));
    assert!(
        refused(&[unit("A", 5.0, f64::INFINITY)]).to_string().starts_with("`A`: net present value is inf;")
    );
    let rules = Rules { margin_money: f64::NAN, ..Rules::default() };
    let told = judge(&[unit("A", 5.0, 1.0)], &house(), &rules).unwrap_err().to_string();
    assert!(told.starts_with("`rules`: margin in money is NaN"), "{told}");
}
