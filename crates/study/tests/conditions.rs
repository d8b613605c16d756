//! Named sets of conditions: what each version fills in, for ever, and what it leaves alone.
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a test may stop at once")]
#![allow(clippy::float_cmp, reason = "the same text gives the same bits")]

use study::vary::{Change, Template};
use study::{Study, parse_study, starter_study};

/// The starter without people, set-points and water, with what is put after its title.
fn bare(head: &str) -> String {
    let text = starter_study();
    let people = text.find("[house.people]").unwrap()..text.find("[ventilation]").unwrap();
    let text = [&text[..people.start], &text[people.end..]].concat();
    let lines = text.lines().filter(|line| !line.starts_with("set_point"));
    let mut out = String::new();
    for line in lines {
        out.push_str(line);
        out.push('\n');
        if line.starts_with("title") {
            out += head;
        }
    }
    out
}

fn read(text: &str) -> Study {
    parse_study(text, "s").unwrap_or_else(|problems| panic!("{}", problems.render(text, "s")))
}

/// Apart from the list of what was left out.
fn plain(study: Study) -> Study {
    Study { defaults_used: Vec::new(), ..study }
}

type Published = (&'static str, u32, &'static str, [f64; 2], [f64; 4]);

/// Count, profile, heating and cooling [°C], showers, cooking, laundry and plants [kg/day], written out by hand for the starter: three
/// bedrooms, 140 m². Four people: 4 × 0.4, 0.3 and 0.1 kg/day. 140 / 42.5 = 3.29, three people. A version that was published stays.
const PUBLISHED: [Published; 3] = [
    ("family/1", 4, "working-week", [20.5, 25.0], [1.6, 1.2, 0.4, 0.4]),
    ("retired-pair/1", 2, "always-home", [22.0, 26.0], [0.8, 0.6, 0.2, 0.4]),
    ("en-16798-1-2019/1", 3, "working-week", [20.0, 26.0], [1.2, 0.9, 0.3, 0.4]),
];

#[test]
fn a_set_is_the_same_as_its_values_written_out() {
    for (name, count, profile, [heating, cooling], [showers, cooking, laundry, plants]) in PUBLISHED {
        let named = read(&bare(&format!("conditions = \"{name}\"\n")));
        let written = bare("")
            .replace("source = \"gas\"", &format!("source = \"gas\"\nset_point = \"{heating} °C\""))
            .replace("cop = 3.2", &format!("cop = 3.2\nset_point = \"{cooling} °C\""))
            .replace("[house.heating]", &format!(
                "[house.people]\ncount = {count}\nprofile = \"{profile}\"\n[house.moisture]\nshowers = \"{showers} kg/day\"\n\
                 cooking = \"{cooking} kg/day\"\nlaundry = \"{laundry} kg/day\"\nplants = \"{plants} kg/day\"\n[house.heating]"
            ))
            .replace("[house]\n", "[house]\ngains = \"2.4 W/m2\"\n");
        let by_set = named.defaults_used.iter().filter(|used| used.value.ends_with(&format!(", by {name}")));
        assert_eq!(by_set.count(), 9, "{name}");
        assert_eq!(plain(named), plain(read(&written)), "{name}");
    }
}

#[test]
fn what_the_file_says_stays_and_is_not_listed() {
    let text = starter_study().replacen("show_in", "conditions = \"retired-pair/1\"\nshow_in", 1);
    let (named, starter) = (read(&text), read(starter_study()));
    let by_set: Vec<&str> = named
        .defaults_used
        .iter()
        .filter(|used| used.value.contains(", by "))
        .map(|used| used.path.as_str())
        .collect();
    assert_eq!(by_set, ["house.gains"]);
    assert_eq!(plain(named), plain(starter));
}

/// Water follows the people that the file has: six by 0.4 kg/day of showers.
#[test]
fn water_follows_the_people_of_the_file() {
    let text = bare("conditions = \"family/1\"\n") + "\n[house.people]\ncount = 6\n";
    let study = read(&text);
    assert_eq!(study.house.people.count, 6);
    approx::assert_relative_eq!(study.house.moisture.showers_kg_per_s * 86_400.0, 2.4, max_relative = 1e-12);
}

#[test]
fn a_studio_has_two_people_and_no_cooling_is_made() {
    let text = bare("conditions = \"family/1\"\n").replace("bedrooms = 3", "bedrooms = 0");
    let cooling = text.find("[house.cooling]").unwrap()..text.find("[ventilation]").unwrap();
    let study = read(&[&text[..cooling.start], &text[cooling.end..]].concat());
    assert_eq!((study.house.people.count, study.house.cooling), (2, None));
}

#[test]
fn economics_are_filled_where_there_is_a_tariff() {
    let tariff = "\n[tariff]\nelectricity = \"0.14 USD/kWh\"\ngas = \"0.05 USD/kWh\"\n[economics]\nhorizon = \"15 years\"\n";
    let study = read(&(bare("conditions = \"family/1\"\n") + tariff));
    let terms = study.money.expect("a tariff").terms;
    assert_eq!((terms.discount_per_year, terms.horizon_years), (0.03, 15.0));
    let by_set =
        |path: &str| study.defaults_used.iter().any(|used| used.path == path && used.value.contains(", by "));
    assert!(
        by_set("economics.discount_rate") && by_set("economics.escalation") && !by_set("economics.horizon")
    );
}

fn said(text: &str) -> String {
    parse_study(text, "s").expect_err("a fault").render(text, "s")
}

#[test]
fn a_set_that_there_is_not_is_said_with_those_that_there_are() {
    let said = said(&bare("conditions = \"family/2\"\n"));
    assert!(said.contains("`study.conditions`: `family/2` is no choice here"), "{said}");
    assert!(said.contains("`family/1`"), "{said}");
}

/// The house keeps 26 °C in winter, the set cools to 25 °C: told at the line that names the set.
#[test]
fn a_conflict_with_the_file_stands_at_the_name_of_the_set() {
    let text = bare("conditions = \"family/1\"\n")
        .replace("source = \"gas\"", "set_point = \"26 °C\"\nsource = \"gas\"");
    let said = said(&text);
    assert!(said.contains("cooling keeps 25 °C"), "{said}");
    assert!(said.contains("conditions = \"family/1\""), "{said}");
}

#[test]
fn a_table_of_the_wrong_kind_is_told_as_ever() {
    let text = bare("conditions = \"family/1\"\n").replacen("[house]\n", "[house]\npeople = 4\n", 1);
    assert!(said(&text).contains("`house.people` must be a table"), "{}", said(&text));
}

#[test]
fn a_sweep_may_go_through_the_sets() {
    let text = bare("conditions = \"family/1\"\n");
    let template = Template::new(&text, "s").unwrap();
    for (name, count, ..) in PUBLISHED {
        let study = template.with(&[Change::new("study.conditions", name)]).unwrap();
        assert_eq!(study.house.people.count, count);
        let study =
            template.with(&[Change::new("study.conditions", name), Change::new("house.people.count", 7)]);
        assert_eq!(study.unwrap().house.people.count, 7);
    }
}
