//! Pictures of a sweep whose parts are all there: each input's part in a figure, the figure over each input, its spread.
//!
//! Not here: how they look (`reporting::charts`), what the parts say (crate `sweep`).

use reporting::charts::{
    BarPanel, BarRow, ScatterInput, ScatterUnit, SpreadFigure, SpreadUnit, SweepBar, SweepBars, SweepScatter,
    SweepSpread, sweep_bars_chart, sweep_scatter_chart, sweep_spread_chart,
};
use sweep::{Column, Folder, OfInput, Shown, Summary, Sweep, Told, Values};

use crate::failure::Failure;

/// Runs of which dots are drawn, at most.
const MOST_DOTS: u64 = 400;
/// More different words than these are not laid out side by side.
const MOST_WORDS: usize = 12;
const PERCENT: f64 = 100.0;

/// A picture by the name of its file.
pub(super) type Picture = (String, String);

/// Every picture of the sweep, of these columns or, where none is named, of the saving and the life-cycle cost.
pub(super) fn draw(
    (sweep, study): (&Sweep, &str),
    folder: &Folder,
    (summary, wanted): (&Summary, &[&'static Column]),
) -> Result<Vec<Picture>, Failure> {
    let columns = if wanted.is_empty() { usual(sweep, summary) } else { wanted.to_vec() };
    let mut pictures = Vec::new();
    let mut figures = Vec::new();
    for column in columns {
        let figure = Figure::read(sweep, folder, column)?;
        if let Some(bars) = bars((sweep, study), summary, &figure) {
            let kind = sweep.file.plan.name();
            let svg = sweep_bars_chart(&bars).map_err(Failure::work)?;
            pictures.push((format!("charts/{kind}.{}.svg", column.name), svg));
        }
        if sweep.file.plan.spreads() {
            if let Some(scatter) = scatter((sweep, study), &figure) {
                let svg = sweep_scatter_chart(&scatter).map_err(Failure::work)?;
                pictures.push((format!("charts/scatter.{}.svg", column.name), svg));
            }
            figures.push(spread(summary, &figure));
        }
    }
    if figures.iter().any(|figure| !figure.units.is_empty()) {
        let title = "How results spread over the runs".to_owned();
        let chart = SweepSpread { title, study: study.to_owned(), figures };
        pictures.push(("charts/spread.svg".to_owned(), sweep_spread_chart(&chart).map_err(Failure::work)?));
    }
    Ok(pictures)
}

/// The saving, at equal air where every run has it, and the life-cycle cost where there is one.
fn usual(sweep: &Sweep, summary: &Summary) -> Vec<&'static Column> {
    let runs_with = |name: &str| {
        let of = summary.spreads.iter().filter(|of| of.column == name);
        of.map(|of| of.spread.count as u64).min().unwrap_or(0)
    };
    let held = runs_with("useful_saving_held_air_kwh") == sweep.runs();
    let saving = if held { "useful_saving_held_air_kwh" } else { "useful_saving_kwh" };
    let names = [Some(saving), (runs_with("life_cycle_money") > 0).then_some("life_cycle_money")];
    let column = |name| sweep::COLUMNS.iter().find(|column| column.name == name);
    names.into_iter().flatten().filter_map(column).collect()
}

/// A column of results, unit by unit.
struct Figure {
    column: &'static Column,
    words: String,
    /// Name of its axis.
    axis: String,
    /// By unit, then by run.
    units: Vec<(String, Vec<Option<f64>>)>,
}

impl Figure {
    fn read(sweep: &Sweep, folder: &Folder, column: &'static Column) -> Result<Self, Failure> {
        let all = sweep::read_column(sweep, folder, column.name).map_err(Failure::work)?;
        let names = sweep.base.units.iter().map(|unit| unit.name.clone());
        let count = sweep.base.units.len().max(1);
        let of_unit = |(place, name)| (name, all.iter().skip(place).step_by(count).copied().collect());
        let units = names.enumerate().map(of_unit).collect();
        let words = words(column).to_owned();
        let currency = sweep.base.money.as_ref().map_or("money", |money| money.currency.as_str());
        let unit = if column.unit == "money" { currency } else { column.unit };
        Ok(Self { column, axis: format!("{words} [{unit}]"), words, units })
    }
}

/// What a column is called in a picture.
pub(crate) fn words(column: &Column) -> &'static str {
    match column.name {
        "useful_saving_kwh" => "useful saving of a year, as run",
        "useful_saving_held_air_kwh" => "useful saving of a year at equal air",
        "condensate_l" => "water to the drain in a year",
        "peak_condensate_l_per_day" => "most water to the drain in a day",
        "frost_h" => "hours in which ice forms in the core",
        "rh_winter_mean_pct" => "mean relative humidity in winter",
        "rh_summer_mean_pct" => "mean relative humidity in summer",
        "heating_kwh" => "energy metered for heating in a year",
        "saving_money" => "running money saved in a year",
        "life_cycle_money" => "life-cycle cost in today's money",
        "net_present_value_money" => "net present value",
        name => name,
    }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn bars((sweep, study): (&Sweep, &str), summary: &Summary, figure: &Figure) -> Option<SweepBars> {
    let of_figure: Vec<&OfInput> =
        summary.inputs.iter().filter(|of| of.column == figure.column.name).collect();
    let panels: Vec<BarPanel> = figure
        .units
        .iter()
        .filter_map(|(unit, _)| {
            let of: Vec<&OfInput> = of_figure.iter().copied().filter(|of| of.unit == *unit).collect();
            panel(sweep, unit, &of)
        })
        .collect();
    let words = capital(&figure.words);
    let (title, legend, axis, note) = match of_figure.first()?.told {
        Told::Swing { .. } => (
            format!("{words}: each input moved alone"),
            ["with the input at its P10", "with the input at its P90"],
            figure.axis.clone(),
            "all other inputs in the middle of their distributions; largest change first; P10 is exceeded in nine cases of ten",
        ),
        Told::Shares { .. } => (
            format!("{words}: what its spread comes from"),
            ["first Sobol index: the input alone", "total Sobol index: alone and with others"],
            format!("share of the variance of the {} [%]", figure.words),
            "with 95 % intervals (bootstrap); the largest total first; below 0 means none",
        ),
        Told::Effects(_) => (
            format!("{words}: which inputs matter"),
            ["mean size of the elementary effects", "their standard deviation"],
            format!("effect over the input's whole span: {}", figure.axis),
            "a large deviation: the effect is curved or depends on other inputs; the largest mean size first",
        ),
    };
    let study = study.to_owned();
    let legend = legend.map(ToOwned::to_owned);
    (!panels.is_empty()).then(|| SweepBars { title, study, legend, note: note.to_owned(), axis, panels })
}

fn panel(sweep: &Sweep, unit: &str, of: &[&OfInput]) -> Option<BarPanel> {
    let names = sweep.input_names();
    let size = |of: &OfInput| match of.told {
        Told::Swing { at_low, at_high, .. } => (at_high - at_low).abs(),
        Told::Shares { total, .. } => total.value,
        Told::Effects(effect) => effect.mean_size,
    };
    let mut of = of.to_vec();
    of.sort_by(|one, other| size(other).total_cmp(&size(one)));
    let first = of.first()?;
    let (base, heading) = match first.told {
        Told::Swing { in_the_middle, .. } => {
            (in_the_middle, format!("{unit}: {} with every input in the middle", shown(in_the_middle)))
        }
        _ => (0.0, unit.to_owned()),
    };
    let rows = of.iter().map(|of| BarRow {
        name: names.get(of.input).cloned().unwrap_or_default(),
        bars: match of.told {
            Told::Swing { at_low, at_high, .. } => {
                let [low, high] = [1, 2].map(|side| swung(sweep, of.input, side));
                [bar(at_low, None, &low), bar(at_high, None, &high)]
            }
            Told::Shares { first, total } => [first, total].map(|share| {
                let interval = [share.low * PERCENT, share.high * PERCENT];
                bar(share.value * PERCENT, Some(interval), &format!("{:.1}", share.value * PERCENT))
            }),
            Told::Effects(effect) => {
                [effect.mean_size, effect.deviation].map(|value| bar(value, None, &shown(value)))
            }
        },
    });
    Some(BarPanel { heading, base, rows: rows.collect() })
}

fn bar(to: f64, interval: Option<[f64; 2]>, words: &str) -> SweepBar {
    SweepBar { to, interval, words: words.replace('-', "−") }
}

/// The value of an input in its low (1) or its high (2) run of the plan one-at-a-time.
fn swung(sweep: &Sweep, input: usize, side: u64) -> String {
    let taken = sweep.changes(2 * input as u64 + side);
    match taken.ok().and_then(|taken| taken.into_iter().nth(input)).map(|taken| taken.shown) {
        Some(Shown::Number(number)) => shown(number),
        Some(Shown::Word(word)) => word,
        None => String::new(),
    }
}

/// Four digits that count, without noughts at the end.
fn shown(value: f64) -> String {
    const DIGITS: i32 = 4;
    if value == 0.0 || !value.is_finite() {
        return "0".to_owned();
    }
    #[allow(clippy::cast_possible_truncation, reason = "a power of ten")]
    let power = value.abs().log10().floor() as i32;
    let decimals = usize::try_from((DIGITS - 1 - power).clamp(0, 9)).unwrap_or(0);
    let text = format!("{value:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

fn scatter((sweep, study): (&Sweep, &str), figure: &Figure) -> Option<SweepScatter> {
    let runs = dots(sweep.runs());
    let taken: Vec<(u64, Vec<Shown>)> = runs
        .into_iter()
        .filter_map(|run| {
            let shown = sweep.changes(run).ok()?.into_iter().map(|taken| taken.shown).collect();
            Some((run, shown))
        })
        .collect();
    let names = sweep.input_names();
    let input = |(place, name): (usize, &String)| {
        let values: Option<Vec<&Shown>> = taken.iter().map(|(_, shown)| shown.get(place)).collect();
        scatter_input(name.clone(), &values?, labels(sweep, place))
    };
    let inputs: Vec<ScatterInput> = names.iter().enumerate().filter_map(input).collect();
    let units: Vec<ScatterUnit> = figure
        .units
        .iter()
        .map(|(name, values)| {
            let of =
                |(run, _): &(u64, Vec<Shown>)| usize::try_from(*run).ok().and_then(|run| *values.get(run)?);
            ScatterUnit { name: name.clone(), values: taken.iter().map(of).collect() }
        })
        .collect();
    let nothing = units.iter().all(|unit| unit.values.iter().all(Option::is_none));
    if inputs.is_empty() || nothing {
        return None;
    }
    let note = if taken.len() as u64 == sweep.runs() {
        format!("each dot is a run; all {} runs", sweep.runs())
    } else {
        format!("each dot is a run; {} of {} runs, drawn by lot", taken.len(), sweep.runs())
    };
    let title = format!("{} over each input", capital(&figure.words));
    let (study, figure) = (study.to_owned(), figure.axis.clone());
    Some(SweepScatter { title, study, figure, note, inputs, units })
}

/// The words of an input that takes one of several.
fn labels(sweep: &Sweep, place: usize) -> Vec<String> {
    match sweep.file.inputs.get(place).map(|input| &input.values) {
        Some(Values::OneOf { labels, .. }) => labels.clone(),
        _ => Vec::new(),
    }
}

/// An input's values as numbers or as places of words; `None` where it does not vary or has too many words.
fn scatter_input(name: String, values: &[&Shown], labels: Vec<String>) -> Option<ScatterInput> {
    let number = |shown: &&Shown| match shown {
        Shown::Number(number) => Some(*number),
        Shown::Word(word) => word.parse::<f64>().ok().filter(|number| number.is_finite()),
    };
    let numbers: Option<Vec<f64>> = values.iter().map(number).collect();
    if let Some(numbers) = numbers {
        let first = *numbers.first()?;
        let varies = numbers.iter().any(|number| number.total_cmp(&first).is_ne());
        return varies.then_some(ScatterInput { name, values: numbers, words: Vec::new() });
    }
    let mut words = labels;
    let mut places = Vec::new();
    for shown in values {
        let Shown::Word(word) = shown else { return None };
        let place = words.iter().position(|known| known == word).unwrap_or_else(|| {
            words.push(word.clone());
            words.len() - 1
        });
        places.push(place as f64);
    }
    (2..=MOST_WORDS).contains(&words.len()).then_some(ScatterInput { name, values: places, words })
}

/// All runs where there are few, else as many as can be told apart, drawn by lot: the same of the same number of runs.
fn dots(runs: u64) -> Vec<u64> {
    if runs <= MOST_DOTS {
        return (0..runs).collect();
    }
    let drawn = sampling::plan::Plan::latin_hypercube(1, MOST_DOTS, 0);
    let place = |dot: u64| {
        let share = drawn.as_ref().ok()?.point(dot).ok()?.first().copied()?;
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of the runs")]
        let run = (share * runs as f64) as u64;
        Some(run.min(runs - 1))
    };
    let mut drawn: Vec<u64> = (0..MOST_DOTS).filter_map(place).collect();
    drawn.sort_unstable();
    drawn.dedup();
    drawn
}

fn spread(summary: &Summary, figure: &Figure) -> SpreadFigure {
    let unit = |(place, (name, values)): (usize, &(String, Vec<Option<f64>>))| {
        let found = summary.spreads.iter().find(|of| of.unit == *name && of.column == figure.column.name)?;
        let spread = &found.spread;
        Some(SpreadUnit {
            name: name.clone(),
            place,
            values: values.iter().flatten().copied().collect(),
            percentiles: [spread.p10, spread.p50, spread.p90],
        })
    };
    let units = figure.units.iter().enumerate().filter_map(unit).collect();
    SpreadFigure { name: figure.axis.clone(), units }
}
