//! The report of a run whose figures were given a spread: P10 to P90 on its first page and in its table.
//!
//! Not here: how a spread is run (`sweep`); the one here is invented.

use ::report::content::Origin;
use ::report::model::Block;
use ::report::{Climate, Ingredients, Language, SpreadOf, Words, full, one_page, page, pdf};
use reporting::{Manifest, RunSummary, SummaryBasis};

const WEATHER: &str =
    include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/../../weather-samples/frosthollow.csv"));

fn spread(name: &str, unit: &str, percentiles: [f64; 3]) -> SpreadOf {
    SpreadOf { name: name.to_owned(), unit: unit.to_owned(), percentiles }
}

#[test]
fn a_spread_is_told_where_the_saving_is_and_in_the_year_in_numbers() {
    let study = study::parse_study(study::starter_study(), "study.toml").unwrap();
    let (year, _) = weather::read(WEATHER.as_bytes(), &study::build::overrides(&study)).unwrap();
    let built = study::build::build(&study, &year).unwrap();
    let (name, variant) = &built.units[1];
    let mut years =
        vec![simulation::run_no_ventilation(&built.house, &built.drivers, built.options).unwrap()];
    years.extend(simulation::run_with_baselines(name, variant, &built.drivers, built.options).unwrap());
    let summary = RunSummary::new(&years, &SummaryBasis::default()).unwrap();
    let spreads = [
        spread("Membrane B, saving", "kWh", [6104.4, 6982.0, 12_345.6]),
        spread("Membrane B, simple payback", "years", [8.04, 9.5, 11.26]),
        spread("Membrane B, mould index", "1", [0.012, 0.05, 0.31]),
    ];
    let climate = Climate { place: "Frosthollow".to_owned(), origin: Origin::Invented, ..Climate::default() };
    let manifest = Manifest { title: study.title.clone(), ..Manifest::default() };
    let told = |language, spread: &[SpreadOf]| {
        let ingredients = Ingredients {
            language,
            study: &study,
            study_text: study::starter_study(),
            climate: &climate,
            summary: &summary,
            money: None,
            years: &years,
            charts: &[],
            manifest: &manifest,
            fits: &[],
            bins: &[],
            spread,
        };
        let words = Words::of(language).unwrap();
        let whole = full(&ingredients).unwrap();
        let html = page(&whole, words).unwrap();
        assert!(pdf(&whole, words).unwrap().starts_with(b"%PDF-"));
        let home = page(&one_page(&ingredients).unwrap(), words).unwrap();
        let table = whole.sections.iter().find(|section| section.id == "year").unwrap();
        let has_table = table.blocks.iter().any(|block| match block {
            Block::Table { table } => table.caption.plain() == words.text("year.caption_spread"),
            _ => false,
        });
        (super::pages::as_text(&html), super::pages::as_text(&home), has_table)
    };
    // Whole numbers where they are wide apart, more decimals where they are close.
    let (text, home, has_table) = told(Language::English, &spreads);
    for line in [
        "Membrane B, saving: 6104 to 12\u{202f}346 kWh in eight of ten cases (P10 to P90), 6982 in the middle.",
        "Membrane B, simple payback: 8.0 to 11.3 years in eight of ten cases (P10 to P90), 9.5 in the middle.",
        "Membrane B, mould index: 0.01 to 0.31 1 in eight",
    ] {
        assert!(text.contains(line), "{line}\n{text}");
        assert!(home.contains(line), "{line}");
    }
    assert!(has_table && text.contains("Membrane B, saving [kWh] | 6104 | 6982 | 12\u{202f}346"), "{text}");
    assert!(!text.contains("without a spread"), "it is said how sure it is");
    let (text, _, _) = told(Language::French, &spreads);
    assert!(text.contains("8,0") && text.contains("11,3") && text.contains("6104"), "{text}");
    let (text, _, has_table) = told(Language::English, &[]);
    assert!(text.contains("without a spread") && !has_table && !text.contains("P90"));
}
