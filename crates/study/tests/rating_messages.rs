//! The whole text that a user reads when something is wrong with a rating point. These texts are part of the interface.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]

mod said;

use said::{assert_says, said};

/// The same of a sensible plate with one rating point of these lines, the first of them line 75.
pub fn said_of_point(lines: &str) -> String {
    said("sensible-plate", &format!("[[unit.rating]]\n{lines}"))
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
