//! How well a fitted core repeats its rating sheet, as a table for the terminal.
//!
//! Not here: the fit itself.

use crate::ShowIn;
use crate::text_table::{Aligned, WIDTH, change, cut, lines, number, wrapped};

/// A fit of a core to its rating sheet, as it is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct FitReport {
    /// Name of the unit.
    pub unit: String,
    /// The rating's test points.
    pub points: Vec<FitPoint>,
    /// Heat conductance at the rated flow [W/K].
    pub ua_w_per_k: f64,
    /// Vapour conductance at the rated flow [kg/s]; `None` for a core that passes no vapour.
    pub vapour_kg_per_s: Option<f64>,
    /// The rated flow [L/s].
    pub rated_l_per_s: f64,
    /// How transfer units fall with the flow.
    pub flow_exponent: FlowExponent,
    /// Share of the supply air that comes from the extract air.
    pub cross_leakage: CrossLeakage,
    /// What the label would have given if taken for an effectiveness, where it states one.
    pub as_effectiveness: Option<AsEffectiveness>,
    /// Units of measure of the table.
    pub show_in: ShowIn,
}

/// A test point of a rating sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct FitPoint {
    /// Test standard by its number.
    pub standard: String,
    /// Outdoor temperature \[°C\].
    pub outdoor_c: f64,
    /// Airflow [L/s].
    pub airflow_l_per_s: f64,
    /// Figures that the sheet states.
    pub figures: Vec<FitFigure>,
    /// Whether the fit used the point.
    pub used: PointUse,
}

/// A figure of a rating sheet beside what the fitted core gives.
#[derive(Debug, Clone, PartialEq)]
pub struct FitFigure {
    /// The study's key, such as `sensible_recovery`.
    pub key: &'static str,
    /// Name, such as `sensible recovery`.
    pub name: String,
    /// What the sheet states, 0…1.
    pub stated: f64,
    /// What the fitted core gives, 0…1.
    pub fitted: f64,
}

/// Whether the fit used a point.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PointUse {
    /// It did.
    Used,
    /// It did not; why, in a word, such as `frost`.
    NotUsed(String),
}

/// Exponent n in NTU ∝ flow^−n.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FlowExponent {
    /// From points at two flows.
    Fitted(f64),
    /// Assumed, with the range that it may have.
    Assumed {
        /// The exponent.
        value: f64,
        /// Least likely value.
        least: f64,
        /// Greatest likely value.
        greatest: f64,
    },
}

/// Share of the supply air that comes from the extract air, 0…1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CrossLeakage {
    /// On the sheet or in the study.
    Given(f64),
    /// Found by the fit.
    Fitted(f64),
    /// Neither given nor found.
    Assumed(f64),
}

/// A label's figure taken for an effectiveness of the core, beside the fit at the same point.
#[derive(Debug, Clone, PartialEq)]
pub struct AsEffectiveness {
    /// Name of the figure, such as `apparent sensible effectiveness`.
    pub name: String,
    /// What the label states, 0…1.
    pub stated: f64,
    /// Outdoor temperature of its point \[°C\].
    pub outdoor_c: f64,
    /// Conductance that it would mean [W/K].
    pub ua_w_per_k: f64,
    /// Supply temperature after the core that it would mean \[°C\].
    pub supply_c: f64,
    /// Supply temperature after the fitted core \[°C\].
    pub fitted_supply_c: f64,
}

/// Each test point with its figures (stated, the fitted core's, error in points), and what was fitted below; at most 80
/// columns.
pub fn fit_table(fit: &FitReport) -> String {
    let heads = [
        ["figure", "stated", "fitted core", "error", ""].map(str::to_owned),
        ["", "%", "%", "points", ""].map(str::to_owned),
    ];
    let mut rows: Vec<Vec<String>> = heads.iter().map(|row| row.to_vec()).collect();
    for point in &fit.points {
        rows.extend(point_rows(fit.show_in, point));
    }
    let aligned = [Aligned::Left, Aligned::Right, Aligned::Right, Aligned::Right, Aligned::Left];
    let mut text = format!("{}\n\n", cut(&format!("{}: fit of the rating sheet", fit.unit), WIDTH));
    text.push_str(&lines(&rows, &aligned, heads.len()));
    text.push('\n');
    for sentence in found(fit) {
        text.push_str(&wrapped(&sentence));
    }
    text
}

/// The point on a line of its own, its figures indented below.
fn point_rows(show_in: ShowIn, point: &FitPoint) -> Vec<Vec<String>> {
    let outdoor =
        format!("{} {}", number(show_in.temperature(point.outdoor_c), 0), show_in.temperature_unit());
    let flow = format!("{} {}", number(show_in.airflow(point.airflow_l_per_s), 0), show_in.airflow_unit());
    let used = match &point.used {
        PointUse::Used => "used".to_owned(),
        PointUse::NotUsed(why) => format!("not used ({})", cut(why, 20)),
    };
    let mut rows = vec![vec![format!("{}, {outdoor}, {flow}", cut(&point.standard, 24))]];
    rows.extend(point.figures.iter().map(|figure| {
        vec![
            format!("  {}", figure.name),
            number(figure.stated * 100.0, 1),
            number(figure.fitted * 100.0, 1),
            change(figure.fitted * 100.0, figure.stated * 100.0, 1),
            used.clone(),
        ]
    }));
    rows
}

/// What was fitted, a sentence each.
fn found(fit: &FitReport) -> Vec<String> {
    let show_in = fit.show_in;
    let flow = format!("{} {}", number(show_in.airflow(fit.rated_l_per_s), 1), show_in.airflow_unit());
    let mut found = vec![
        format!("heat conductance: {} at {flow}", conductance(show_in, fit.ua_w_per_k)),
        match fit.vapour_kg_per_s {
            Some(vapour) => format!(
                "vapour conductance: {} {} at {flow}",
                number(show_in.vapour_conductance(vapour), 2),
                show_in.vapour_conductance_unit()
            ),
            None => "vapour conductance: none, the core passes no vapour".to_owned(),
        },
        format!("flow exponent: {}", exponent(fit.flow_exponent)),
        format!("cross-leakage: {}", leakage(fit.cross_leakage)),
    ];
    found.extend(fit.as_effectiveness.as_ref().map(|label| as_effectiveness(fit, label)));
    found
}

fn conductance(show_in: ShowIn, watts_per_kelvin: f64) -> String {
    format!("{} {}", number(show_in.conductance(watts_per_kelvin), 1), show_in.conductance_unit())
}

fn exponent(exponent: FlowExponent) -> String {
    match exponent {
        FlowExponent::Fitted(value) => format!("{} (fitted)", number(value, 2)),
        FlowExponent::Assumed { value, least, greatest } => format!(
            "{} (assumed: one flow was rated; likely {} to {})",
            number(value, 2),
            number(least, 2),
            number(greatest, 2)
        ),
    }
}

fn leakage(leakage: CrossLeakage) -> String {
    let (share, how) = match leakage {
        CrossLeakage::Given(share) => (share, "given"),
        CrossLeakage::Fitted(share) => (share, "fitted"),
        CrossLeakage::Assumed(share) => (share, "assumed"),
    };
    format!("{} % of the supply air ({how})", number(share * 100.0, 1))
}

fn as_effectiveness(fit: &FitReport, label: &AsEffectiveness) -> String {
    let show_in = fit.show_in;
    let t =
        |celsius: f64| format!("{} {}", number(show_in.temperature(celsius), 1), show_in.temperature_unit());
    format!(
        "If the label's {} of {} % were taken for an effectiveness of the core: {} instead of {}, and at {} outdoors \
         the core's supply air at {} instead of {}.",
        cut(&label.name, 50),
        number(label.stated * 100.0, 0),
        conductance(show_in, label.ua_w_per_k),
        conductance(show_in, fit.ua_w_per_k),
        t(label.outdoor_c),
        t(label.supply_c),
        t(label.fitted_supply_c)
    )
}
