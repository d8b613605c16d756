//! The whole text that a user reads when something is wrong with a unit. These texts are part of the interface.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]

use study::{parse_study, starter_study};

const FILE: &str = "bungalow.toml";

/// What is said of the starter's house, 70 lines, with a unit of this core; `rest` begins in line 74.
fn said(core: &str, rest: &str) -> String {
    let head = &starter_study()[..starter_study().find("# Two units").expect("the comment")];
    let text = format!("{head}[[unit]]\nname = \"A\"\ncore = \"{core}\"\n{rest}");
    match parse_study(&text, FILE) {
        Ok(_) => panic!("no problem was found in {rest}"),
        Err(problems) => problems.render(&text, FILE),
    }
}

/// The same of a sensible plate with one rating point of these lines, the first of them line 75.
fn said_of_point(lines: &str) -> String {
    said("sensible-plate", &format!("[[unit.rating]]\n{lines}"))
}

#[track_caller]
fn assert_says(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(text.contains(part), "{part:?} is not in\n{text}");
    }
    assert!(
        text.ends_with(&format!(
            "\n{} problem{} in {FILE}\n",
            parts.len() / 2,
            if parts.len() > 2 { "s" } else { "" }
        )),
        "{text}"
    );
}

#[test]
fn a_figure_in_percent() {
    let expected = "\
error: `unit.A.rating[1].sensible_recovery`: must lie between 0 and 1.2
  --> bungalow.toml:77:21
   |
77 | sensible_recovery = 72
   |                     ^^ out of range

hint: write a fraction, not percent: 0.72

1 problem in bungalow.toml
";
    assert_eq!(said_of_point("outdoor = \"0 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 72\n"), expected);
}

#[test]
fn a_flow_without_its_cfm() {
    let expected = "\
error: `unit.A.rating[1].airflow`: a flow of air needs a unit
  --> bungalow.toml:76:11
   |
76 | airflow = 64
   |           ^^ no unit

hint: write it between quotation marks with its unit, such as \"64 L/s\"; units that fit: L/s, m3/h, m3/s, cfm

1 problem in bungalow.toml
";
    assert_eq!(said_of_point("outdoor = \"0 °C\"\nairflow = 64\nsensible_recovery = 0.72\n"), expected);
}

#[test]
fn a_latent_figure_of_a_sensible_plate() {
    let expected = "\
error: `unit.A.rating[1].latent_recovery`: a sensible plate passes no vapour
  --> bungalow.toml:78:19
   |
78 | latent_recovery = 0.4
   |                   ^^^ not for this core

hint: leave `latent_recovery` out, or write core = \"enthalpy-plate\"

1 problem in bungalow.toml
";
    let point = "outdoor = \"0 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.72\nlatent_recovery = 0.4\n";
    assert_eq!(said_of_point(point), expected);
}

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
    let rest = "outdoor = \"0 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.72\n\
                [unit.conductance]\nua = \"200 W/K\"\nat = \"30 L/s\"\n";
    assert_eq!(said_of_point(rest), expected);
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
fn cold_points_only() {
    let expected = "\
error: `unit.A.rating` holds only points colder than −10 °C
  --> bungalow.toml:74:1
   |
74 | [[unit.rating]]
   | ^^^^^^^^^^^^^^^ no frost-free point

hint: add a point at −10 °C or warmer: defrosting hides what the core itself does in colder ones

1 problem in bungalow.toml
";
    assert_eq!(
        said_of_point("outdoor = \"-25 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.62\n"),
        expected
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
fn figures_of_one_standard_at_a_point_of_the_other() {
    assert_says(
        &said_of_point("standard = \"en-13141-7\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.72\n"),
        &[
            "error: `unit.A.rating[1].sensible_recovery` is a figure of CSA C439, but the point is of EN 13141-7\n",
            "hint: write standard = \"csa-c439\" if the sheet is of CSA C439; EN 13141-7 has `temperature_ratio` and \
             `exhaust_temperature_ratio`\n",
        ],
    );
    assert_says(
        &said_of_point("outdoor = \"7 °C\"\nairflow = \"30 L/s\"\ntemperature_ratio = 0.85\n"),
        &[
            "error: `unit.A.rating[1].temperature_ratio` is a figure of EN 13141-7, but the point is of CSA C439\n",
            "hint: write standard = \"en-13141-7\" if the sheet is of EN 13141-7; CSA C439 has `apparent_sensible`, \
             `sensible_recovery`, `adjusted_sensible_recovery`, `total_recovery` and `adjusted_total_recovery`\n",
        ],
    );
}

#[test]
fn points_that_lack_something() {
    assert_says(
        &said_of_point("airflow = \"30 L/s\"\nsensible_recovery = 0.72\n"),
        &["error: `unit.A.rating[1]` lacks the key `outdoor`\n", "74 | [[unit.rating]]\n"],
    );
    assert_says(
        &said_of_point("sensible_recovery = 0.72\n"),
        &["error: `unit.A.rating[1]` lacks the keys `outdoor` and `airflow`\n", "^^^^^^ this table\n"],
    );
    assert_says(
        &said_of_point("outdoor = \"0 °C\"\nairflow = \"30 L/s\"\npower = \"40 W\"\n"),
        &[
            "error: `unit.A.rating[1]` states no figure\n",
            "hint: write one or more of `apparent_sensible`, `sensible_recovery`, `adjusted_sensible_recovery`, \
             `total_recovery` and `adjusted_total_recovery`\n",
        ],
    );
    assert_says(
        &said("sensible-plate", "rating = []\n"),
        &[
            "error: `unit.A.rating` holds no point\n",
            "hint: write each point under a header [[unit.rating]]\n",
        ],
    );
    assert_says(
        &said("sensible-plate", "[unit.rating]\noutdoor = \"0 °C\"\n"),
        &["error: `unit.A.rating` must be a list of tables\n", "hint: write its header as [[unit.rating]]\n"],
    );
}

#[test]
fn an_enthalpy_core_rated_by_its_heat_alone() {
    let point = "[[unit.rating]]\noutdoor = \"0 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.72\n";
    let cold = "[[unit.rating]]\noutdoor = \"-25 °C\"\nairflow = \"30 L/s\"\nlatent_recovery = 0.5\n";
    assert_says(
        &said("enthalpy-plate", &format!("{point}{cold}")),
        &[
            "error: `unit.A.rating`: the frost-free points do not tell heat from water vapour, as an enthalpy core needs\n",
            "hint: state a sensible figure and a latent one (`latent_recovery`, or `moisture_ratio` of EN 13141-7); a \
             total one will do for either\n",
        ],
    );
}

#[test]
fn flows_that_cannot_be() {
    let with = |flows: &str| said_of_point(&format!("outdoor = \"0 °C\"\nsensible_recovery = 0.7\n{flows}"));
    assert_says(
        &with("airflow = \"30 L/s\"\nnet_airflow = \"31 L/s\"\n"),
        &[
            "error: `unit.A.rating[1].net_airflow`: 31 L/s is more than the whole supply flow of 30 L/s\n",
            "hint: the net flow is the supply flow less the extract air that leaks into it\n",
        ],
    );
    assert_says(
        &with("airflow = \"30 L/s\"\nnet_airflow = \"24 L/s\"\n"),
        &[
            "error: `unit.A.rating[1].net_airflow`: 24 L/s of 30 L/s means a cross-leakage of 0.2, more than 0.1\n",
            "hint: check both flows: a unit that leaks more is none that this program can describe\n",
        ],
    );
    assert_says(
        &with("airflow = \"30 L/s\"\ngross_airflow = \"30 L/s\"\n"),
        &[
            "error: `unit.A.rating[1]` takes only one of `airflow` and `gross_airflow`\n",
            "hint: both are the supply flow where it leaves the unit, leaked air included\n",
        ],
    );
}

#[test]
fn air_that_cannot_be() {
    let with = |air: &str| said_of_point(&format!("airflow = \"30 L/s\"\nsensible_recovery = 0.7\n{air}"));
    assert_says(
        &with("outdoor = \"0 °C\"\noutdoor_wet_bulb = \"1 °C\"\n"),
        &[
            "error: `unit.A.rating[1].outdoor_wet_bulb`: 1 °C is above the dry bulb of 0 °C\n",
            "hint: check both temperatures of this air\n",
        ],
    );
    assert_says(
        &with("outdoor = \"0 °C\"\nindoor_wet_bulb = \"1 °C\"\n"),
        &[
            "error: `unit.A.rating[1].indoor_wet_bulb`: 1 °C is below the wet bulb of perfectly dry air of 22 °C\n",
            "hint: check both temperatures of this air\n",
        ],
    );
    assert_says(
        &with("outdoor = \"0 °C\"\nindoor_humidity = \"40 %\"\nindoor_wet_bulb = \"14 °C\"\n"),
        &[
            "error: `unit.A.rating[1]` takes only one of `indoor_humidity` and `indoor_wet_bulb`\n",
            "hint: leave one of them out: they say the same\n",
        ],
    );
    assert_says(
        &with("outdoor = \"20 °C\"\noutdoor_humidity = \"50 %\"\nindoor = \"22 °C\"\n"),
        &[
            "error: `unit.A.rating[1]`: outdoor air of 20 °C and indoor air of 22 °C tell nothing of a core\n",
            "hint: the two of a test are 3 K or more apart\n",
        ],
    );
    assert_says(
        &with("outdoor = \"30 °C\"\n"),
        &[
            "error: `unit.A.rating[1]` needs one of `outdoor_humidity` and `outdoor_wet_bulb`\n",
            "hint: no standard test has outdoor air of this temperature: state how moist it was\n",
        ],
    );
}

#[test]
fn a_humidity_without_a_unit() {
    let point = "outdoor = \"0 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.7\nindoor_humidity = ";
    for number in ["0.4", "40"] {
        assert_says(
            &said_of_point(&format!("{point}{number}\n")),
            &["a relative humidity needs a unit\n", "with its unit, such as \"40 %\"; units that fit: %\n"],
        );
    }
    assert_says(
        &said_of_point(&format!("{point}\"0.4 %\"\n")),
        &["`unit.A.rating[1].indoor_humidity`: must lie between 1 % and 100 %\n", "^^^^^^^ out of range\n"],
    );
}

#[test]
fn a_ventilation_reduction_out_of_its_place() {
    let frost_free = "outdoor = \"0 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.72\n";
    assert_says(
        &said_of_point(&format!("{frost_free}ventilation_reduction = 0.1\n")),
        &[
            "error: `unit.A.rating[1].ventilation_reduction`: only a point colder than −10 °C loses air by defrosting\n",
            "hint: leave `ventilation_reduction` out here, or check `outdoor`\n",
        ],
    );
    let cold = "[[unit.rating]]\noutdoor = \"-25 °C\"\nairflow = \"30 L/s\"\nsensible_recovery = 0.6\n";
    assert_says(
        &said_of_point(&format!("{frost_free}{cold}ventilation_reduction = 0.95\n")),
        &[
            "error: `unit.A.rating[2].ventilation_reduction`: must lie between 0 and 0.5\n",
            "hint: it is the share lost, not the share left: a factor of 0.95 is a reduction of 0.05\n",
        ],
    );
    let percent = said_of_point(&format!("{frost_free}{cold}ventilation_reduction = 12\n"));
    assert_says(&percent, &["must lie between 0 and 0.5\n", "hint: write a fraction, not percent: 0.12\n"]);
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
fn fan_power_worked_out_from_a_point_with_a_slip() {
    let point = "outdoor = \"0 °C\"\nairflow = \"3 L/s\"\nsensible_recovery = 0.72\npower = \"400 W\"\n";
    assert_says(
        &said_of_point(point),
        &[
            // By hand: 400 W / 3 L/s × 45 L/s.
            "error: `unit.A.fan.power` is left out, and the rating points make it 6000 W, more than 5000 W\n",
            "hint: check `power` and `airflow` of the rating points, or write `power` in `[unit.fan]`\n",
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
