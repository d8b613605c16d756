//! Chart and table of a core's steady point: everything in its frame, no label over another, whatever the point.

#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod made_up;

use made_up::svg::{assert_sound, corners, texts};
use reporting::{Along, CoreNotes, CorePoint, Port, ReportError, ShowIn, core_chart, core_table};

fn port(t_c: f64, humidity_ratio: f64) -> Port {
    Port { t_c, humidity_ratio, dry_air_kg_per_s: 0.036 }
}

/// A place along a plate at −20 °C outdoors: straight lines are near enough for a picture.
fn place(share: f64) -> Along {
    let (supply_c, extract_c) = (15.0 - 35.0 * share, 21.0 - 25.0 * share);
    let plate_c = f64::midpoint(supply_c, extract_c);
    let wet = share > 0.42;
    let out = if wet { 0.0063 - 0.0064 * (share - 0.42) } else { 0.0063 };
    Along {
        share,
        supply_c,
        extract_c,
        plate_c,
        supply_humidity_ratio: Some(0.0005),
        extract_humidity_ratio: Some(out),
        wet,
        freezing: share > 0.7,
    }
}

fn cold() -> CorePoint {
    CorePoint {
        title: "Bungalow at Frosthollow".to_owned(),
        unit: "Plate A".to_owned(),
        pressure_pa: 101_325.0,
        outdoor: port(-20.0, 0.0005),
        supply: port(15.0, 0.0005),
        extract: port(21.0, 0.0063),
        exhaust: port(-4.0, 0.00259),
        profile: (0..=24).map(|step| place(f64::from(step) / 24.0)).collect(),
        notes: CoreNotes {
            sensible_w: 1268.0,
            latent_w: 0.0,
            water_l_per_h: 0.25,
            ice_kg_per_h: 0.16,
            coldest_plate_c: Some(-12.0),
        },
        show_in: ShowIn::Si,
    }
}

fn warm() -> CorePoint {
    let profile = (0..=10).map(|step| f64::from(step) / 10.0).map(|share| Along {
        share,
        supply_c: 27.0 + 8.0 * share,
        extract_c: 24.0 + 8.5 * share,
        plate_c: 25.5 + 8.2 * share,
        ..Along::default()
    });
    CorePoint {
        unit: "Membrane B".to_owned(),
        outdoor: port(35.0, 0.019),
        supply: port(27.0, 0.0135),
        extract: port(24.0, 0.0093),
        exhaust: port(32.5, 0.0148),
        profile: profile.collect(),
        notes: CoreNotes { sensible_w: -291.0, latent_w: -494.0, ..CoreNotes::default() },
        ..cold()
    }
}

fn all_equal(t_c: f64, humidity_ratio: f64) -> CorePoint {
    let same = port(t_c, humidity_ratio);
    let along = |share| Along { share, supply_c: t_c, extract_c: t_c, plate_c: t_c, ..Along::default() };
    CorePoint {
        outdoor: same,
        supply: same,
        extract: same,
        exhaust: same,
        profile: vec![along(0.0), along(1.0)],
        notes: CoreNotes::default(),
        ..cold()
    }
}

#[test]
fn the_page_of_a_cold_point_shows_ports_levels_and_parts_of_the_plate() {
    let svg = core_chart(&cold()).unwrap();
    assert_sound("core-cold.svg", &svg);
    for words in [
        "Air through the core of Plate A — Bungalow at Frosthollow",
        "outdoor",
        "supply",
        "extract",
        "exhaust",
        "dry bulb [°C]",
        "humidity ratio [g/kg]",
        "at 101.3 kPa",
        "20 %",
        "80 %",
        "freezing point 0 °C",
        "wet",
        "freezing",
        "share of the core from the house side [%]",
        "temperature along the core [°C]",
    ] {
        assert!(texts(&svg).iter().any(|text| text.words == words), "{words}");
    }
    assert!(svg.contains("ice 0.16 kg/h  ·  coldest plate −12.0 °C"));
    // Dew point of 6.3 g/kg at 101325 Pa by the Magnus form over water (611.2 Pa, 17.62, 243.12 °C): 7.16 °C.
    assert!(svg.contains("dew point of the extract air 7.2 °C"));
}

#[test]
fn the_page_of_a_hot_point_says_a_level_that_is_far_away_in_words_or_not_at_all() {
    let svg = core_chart(&warm()).unwrap();
    assert_sound("core-warm.svg", &svg);
    assert!(!svg.contains("freezing point"));
    assert!(svg.contains("to the supply air: −291 W sensible, −494 W latent"));
}

#[test]
fn inch_pound_pages_show_fahrenheit_and_grains() {
    let svg = core_chart(&CorePoint { show_in: ShowIn::Ip, ..cold() }).unwrap();
    assert_sound("core-ip.svg", &svg);
    for words in
        ["dry bulb [°F]", "humidity ratio [gr/lb]", "at 29.92 inHg", "freezing point 32 °F", "[Btu/lb]"]
    {
        assert!(svg.contains(words), "{words}");
    }
    // −20 °C is −4 °F, 21 °C is 69.8 °F.
    assert!(svg.contains("−4.0 °F, ") && svg.contains("69.8 °F, "));
}

#[test]
fn points_without_extent_at_the_ends_of_the_climate_draw_without_a_number_that_is_none() {
    let dry = port(-40.0, 0.0);
    let cases = [
        ("equal", all_equal(20.0, 0.007)),
        ("equal-cold", all_equal(-40.0, 0.00005)),
        ("equal-hot", all_equal(45.0, 0.03)),
        ("equal-saturated", all_equal(0.0, 0.0037741)),
        (
            "very-cold",
            CorePoint { outdoor: dry, supply: port(10.0, 0.0), exhaust: port(-9.0, 0.0017), ..cold() },
        ),
        ("hot", CorePoint { outdoor: port(45.0, 0.012), ..warm() }),
        ("high", CorePoint { pressure_pa: 70_108.4, ..cold() }),
        ("no-length", CorePoint { profile: Vec::new(), ..cold() }),
        ("one-place", CorePoint { profile: vec![place(0.5)], ..cold() }),
    ];
    for (name, point) in cases {
        for show_in in [ShowIn::Si, ShowIn::Ip] {
            let point = CorePoint { show_in, ..point.clone() };
            assert_sound(&format!("core-{name}-{show_in:?}.svg"), &core_chart(&point).unwrap());
            let table = core_table(&point);
            assert!(!table.contains("NaN") && !table.contains("inf"), "{table}");
        }
    }
}

#[test]
fn labels_of_ports_keep_apart_at_many_points() {
    // Four ports at every place of a coarse grid, close to each other and to the edges.
    for (step, gap) in [(0.0, 0.1), (1.0, 1.0), (2.0, 3.0), (3.0, 6.0)] {
        for t_c in [-40.0, -15.0, 0.0, 12.0, 30.0, 45.0] {
            let ratio = 0.00005 + 0.002 * step;
            let point = CorePoint {
                outdoor: port(t_c, ratio),
                supply: port(t_c + gap, ratio),
                extract: port(t_c + 2.0 * gap, ratio + 0.0002 * gap),
                exhaust: port(t_c + gap, ratio + 0.0001 * gap),
                ..cold()
            };
            assert_sound("core-close.svg", &core_chart(&point).unwrap());
        }
    }
}

#[test]
fn marks_stand_in_the_frame_of_their_chart() {
    // The frame of the chart of air is 792 wide from 64; its marks and curves may not leave it by more than a line.
    let svg = core_chart(&cold()).unwrap();
    let tall = corners(&svg).into_iter().filter(|(_, y)| *y > 170.0);
    for (x, y) in tall {
        assert!((62.0..=858.0).contains(&x) || x == 0.0 || x == 920.0, "{x}, {y}");
    }
}

#[test]
fn names_from_a_study_are_escaped() {
    let unit = "<script>alert(1)</script> & \"Co\"".to_owned();
    let svg = core_chart(&CorePoint { unit, title: "</svg><script>".to_owned(), ..cold() }).unwrap();
    assert_sound("core-script.svg", &svg);
    assert!(!svg.contains("<script") && svg.contains("&lt;script&gt;"));
}

#[test]
fn what_cannot_be_drawn_is_refused_with_its_place() {
    let text = |point: &CorePoint| core_chart(point).unwrap_err().to_string();
    let hot = CorePoint { supply: port(61.0, 0.005), ..cold() };
    assert_eq!(text(&hot), "supply air: temperature 61 °C is outside -60 to 60 °C");
    let none = CorePoint { exhaust: port(f64::NAN, 0.005), ..cold() };
    assert!(matches!(core_chart(&none), Err(ReportError::OutOfRange { .. })));
    let mut along = cold();
    along.profile[2].share = 1.5;
    assert_eq!(text(&along), "place 3 along the core: share 1.5 of the core is outside 0 to 1 of the core");
}

#[test]
fn the_table_of_a_point_is_narrow_and_agrees_with_published_air() {
    let point = CorePoint { extract: port(20.0, 0.00726174), outdoor: port(-20.0, 0.00050747), ..cold() };
    for show_in in [ShowIn::Si, ShowIn::Ip] {
        let unit = "A unit whose name goes on and on ".repeat(4);
        let table = core_table(&CorePoint { show_in, unit, ..point.clone() });
        println!("{table}");
        assert!(table.lines().all(|line| line.chars().count() <= 80), "{table}");
    }
    let row = |show_in, name: &str| {
        let table = core_table(&CorePoint { show_in, ..point.clone() });
        let line = table.lines().find(|line| line.starts_with(name)).unwrap().to_owned();
        line.split_whitespace().skip(1).map(str::to_owned).collect::<Vec<_>>()
    };
    // psychrolib 2.5.0, computed beforehand: 20 °C, 50 %: dew point 9.2724 °C; −20 °C, 80 %: −22.3039 °C. Enthalpy
    // 1.006 t + w (2501 + 1.86 t): 38.55 and −18.87 kJ/kg. 0.036 kg/s × 287.042 × 293.15 / 101325 = 29.897 L/s.
    assert_eq!(row(ShowIn::Si, "extract"), ["20.0", "50", "7.26", "9.3", "38.6", "29.9"]);
    assert_eq!(row(ShowIn::Si, "outdoor"), ["-20.0", "80", "0.51", "-22.3", "-18.9", "29.9"]);
    // 68 °F, 50.83 gr/lb, 48.69 °F, 38.55 / 2.326 + 7.69 = 24.26 Btu/lb, 29.897 / 0.471947 = 63.348 cfm.
    assert_eq!(row(ShowIn::Ip, "extract"), ["68.0", "50", "50.83", "48.7", "24.3", "63.3"]);
}
