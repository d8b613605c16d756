//! The whole text that a user reads when something is wrong with a unit. These texts are part of the interface.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]

mod said;

use said::{assert_says, said};

#[test]
fn rating_points_and_conductances_of_one_unit() {
    let expected = "\
error: `unit.A` takes only one of `[unit.conductance]`, `[unit.effectiveness]`, `[[unit.rating]]` and `[unit.geometry]`
  --> bungalow.toml:78:1
   |
78 | [unit.conductance]
   | ^^^^^^^^^^^^^^^^^^ the second one

hint: a rating is what a test sheet states, conductances hold at any temperature, effectivenesses are simpler, \
and a geometry is the size of the plates

1 problem in bungalow.toml
";
    let rest = "[[unit.rating]]\noutdoor = \"0 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.72\n\
                [unit.conductance]\nua = \"200 W/K\"\nat = \"30 L/s\"\n";
    assert_eq!(said("sensible-plate", rest), expected);
}

#[test]
fn a_unit_without_any_performance() {
    assert_says(
        &said("sensible-plate", "[unit.fan]\npower = \"40 W\"\n"),
        &[
            "error: `unit.A` needs one of `[unit.conductance]`, `[unit.effectiveness]`, `[[unit.rating]]` and `[unit.geometry]`\n",
            "71 | [[unit]]\n   | ^^^^^^^^ this unit\n",
        ],
    );
}

#[test]
fn a_share_of_counterflow_in_crossflow() {
    let expected = "\
error: `unit.A.counter_share`: only flow = \"quasi-counter\" has a share in counterflow
  --> bungalow.toml:75:17
   |
75 | counter_share = 0.6
   |                 ^^^ not for this flow

hint: leave `counter_share` out, or write flow = \"quasi-counter\"

1 problem in bungalow.toml
";
    let pair = "[unit.effectiveness]\nsensible = 0.8\nat = \"30 L/s\"\n";
    assert_eq!(said("sensible-plate", &format!("flow = \"cross\"\ncounter_share = 0.6\n{pair}")), expected);
    let without_flow = said("sensible-plate", &format!("counter_share = 0.6\n{pair}"));
    assert!(without_flow.contains("only flow = \"quasi-counter\" has a share"), "{without_flow}");
}

#[test]
fn geometry_and_flow_of_a_wheel() {
    let expected = "\
error: `unit.A.flow`: the streams of a wheel pass in counterflow
  --> bungalow.toml:74:8
   |
74 | flow = \"counter\"
   |        ^^^^^^^^^ not for a wheel

hint: leave `flow` out

error: `unit.A.geometry`: a wheel has no plates to measure
  --> bungalow.toml:75:1
   |
75 | [unit.geometry]
   | ^^^^^^^^^^^^^^^ not for a wheel

hint: write `[[unit.rating]]`, `[unit.conductance]` or `[unit.effectiveness]` for a wheel

2 problems in bungalow.toml
";
    let rest = "flow = \"counter\"\n[unit.geometry]\ngap = \"2 mm\"\nlength = \"0.3 m\"\nwidth = \"0.25 m\"\nchannels = 80\n";
    assert_eq!(said("enthalpy-wheel", rest), expected);
}

#[test]
fn a_wheel_table_of_plates() {
    assert_says(
        &said(
            "sensible-plate",
            "[unit.effectiveness]\nsensible = 0.8\nat = \"30 L/s\"\n[unit.wheel]\ncapacity_ratio = 4\n",
        ),
        &[
            "error: `unit.A.wheel`: a core of plates does not turn\n",
            "hint: leave `[unit.wheel]` out, or write core = \"sensible-wheel\" or \"enthalpy-wheel\"\n",
        ],
    );
}

#[test]
fn the_flow_of_a_core_inside_its_conductances() {
    let expected = "\
error: `unit.A.conductance` has no key `flow`
  --> bungalow.toml:77:1
   |
77 | flow = \"counter\"
   | ^^^^ unknown key

hint: `flow` belongs to `[[unit]]`

1 problem in bungalow.toml
";
    let rest = "[unit.conductance]\nua = \"200 W/K\"\nat = \"30 L/s\"\nflow = \"counter\"\n";
    assert_eq!(said("sensible-plate", rest), expected);
}

#[test]
fn a_table_of_effectivenesses_with_one_flow() {
    let one = "[[unit.effectiveness]]\nsensible = 0.8\nat = \"30 L/s\"\n";
    assert_says(
        &said("sensible-plate", one),
        &[
            "error: `unit.A.effectiveness` is a table over airflow, which needs two flows or more, not one\n",
            "hint: add another flow, or write the header of a single one as [unit.effectiveness]\n",
        ],
    );
    let same = "[[unit.effectiveness]]\nsensible = 0.7\nat = \"108 m3/h\"\n";
    assert_says(
        &said("sensible-plate", &format!("{one}{same}")),
        &[
            "error: `unit.A.effectiveness[2].at`: this flow stands in the table already\n",
            "hint: a table over airflow holds each flow once\n",
        ],
    );
}

#[test]
fn less_outdoor_air_than_arrives() {
    let pair = "[unit.effectiveness]\nsensible = 0.8\nat = \"30 L/s\"\n";
    let expected = "\
error: `unit.A.outdoor_air_correction`: 0.96 is less than 1 − `cross_leakage`, which is 0.98
  --> bungalow.toml:75:26
   |
75 | outdoor_air_correction = 0.96
   |                          ^^^^ too little

hint: no less outdoor air enters than arrives in the supply air: raise it, or `cross_leakage`

1 problem in bungalow.toml
";
    let leaks = "cross_leakage = 0.02\noutdoor_air_correction = 0.96\n";
    assert_eq!(said("sensible-plate", &format!("{leaks}{pair}")), expected);
    let alone = said("sensible-plate", &format!("outdoor_air_correction = 0.96\n{pair}"));
    assert!(alone.contains("0.96 is less than 1 − `cross_leakage`, which is 1\n"), "{alone}");
}

#[test]
fn a_membrane_that_is_missing_or_too_many() {
    let plates = "[unit.geometry]\ngap = \"2 mm\"\nlength = \"0.3 m\"\nwidth = \"0.25 m\"\nchannels = 80\n";
    assert_says(
        &said("enthalpy-plate", plates),
        &["error: `unit.A.geometry` lacks the key `membrane_resistance`\n", "74 | [unit.geometry]\n"],
    );
    assert_says(
        &said("sensible-plate", &format!("{plates}membrane_resistance = \"60 s/m\"\n")),
        &[
            "error: `unit.A.geometry.membrane_resistance`: a sensible plate passes no vapour\n",
            "hint: leave `membrane_resistance` out, or write core = \"enthalpy-plate\"\n",
        ],
    );
    assert_says(
        &said("enthalpy-plate", &format!("{plates}membrane_resistance = \"60 m2\"\n")),
        &[
            "error: `unit.A.geometry.membrane_resistance`: a vapour resistance is needed, but `m2` measures an area\n",
            "hint: units that fit: s/m, s/cm\n",
        ],
    );
}

#[test]
fn vapour_of_a_sensible_wheel() {
    let rest = "[unit.effectiveness]\nsensible = 0.8\nlatent = 0.6\nat = \"30 L/s\"\n";
    assert_says(
        &said("sensible-wheel", rest),
        &[
            "error: `unit.A.effectiveness.latent`: a sensible wheel passes no vapour\n",
            "hint: leave `latent` out, or write core = \"enthalpy-wheel\"\n",
        ],
    );
}

#[test]
fn slips_of_the_pen_in_the_new_tables() {
    let point = "outdoor = \"0 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.72\n";
    let plates = "[unit.geometry]\ngap = \"2 mm\"\nlength = \"0.3 m\"\nwidth = \"0.25 m\"\nchannels = 80\n";
    let list = "[[unit.effectiveness]]\nsensible = 0.8\nat = \"30 L/s\"\n[[unit.effectiveness]]\nsensible = 0.7\nat = \"60 L/s\"\n";
    let turning = "[unit.effectiveness]\nsensible = 0.8\nat = \"30 L/s\"\n[unit.wheel]\n";
    for (core, rest, slip, near) in [
        (
            "sensible-plate",
            format!("[[unit.rating]]\n{point}"),
            "apparent_sensibel = 0.8",
            "apparent_sensible",
        ),
        ("sensible-plate", format!("[[unit.rating]]\n{point}"), "net-airflow = \"29 L/s\"", "net_airflow"),
        ("sensible-plate", plates.to_owned(), "chanels = 80", "channels"),
        ("sensible-plate", list.to_owned(), "latnet = 0.5", "latent"),
        ("sensible-wheel", turning.to_owned(), "capacity_ratoi = 4", "capacity_ratio"),
    ] {
        let text = said(core, &format!("{rest}{slip}\n"));
        assert_says(&text, &[" has no key `", &format!("hint: did you mean `{near}`?\n")]);
    }
    let text = said("sensible-plate", &format!("cross_leakag = 0.05\n[[unit.rating]]\n{point}"));
    assert_says(&text, &["`unit.A` has no key `cross_leakag`", "hint: did you mean `cross_leakage`?\n"]);
}

#[test]
fn everything_wrong_with_a_unit_in_one_go() {
    let text = said(
        "sensible-plate",
        "balance = 3\nhood_recirculation = 5\ncross_leakage = 0.2\noutdoor_air_correction = 0.8\nflow = \"crossways\"\n\
         [[unit.rating]]\nstandard = \"iso\"\noutdoor = \"0\"\nairflow = 64\nsensible_recovery = 72\n\
         [unit.geometry]\ngap = 2\nchannels = 1.5\n",
    );
    assert!(text.ends_with("\n13 problems in bungalow.toml\n"), "{text}");
}
