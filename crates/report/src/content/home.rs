//! The one page for a home-owner.
//!
//! Not here: the full report (`content`).

use reporting::Figure;
use simulation::results::Case;

use super::answer::{beware, of_water, question, saved, which};
use super::teller::{Teller, whole};
use super::year::with_and_without;
use crate::model::{Block, Line, Section};

pub(super) fn sections(teller: &Teller<'_>) -> Vec<Section> {
    let mut with = vec![with_and_without(teller)];
    if teller.value("", Case::NoVentilation, Figure::WindowEdgeWetH).is_some_and(|hours| hours >= 24.0) {
        let hours = teller.figure("", Case::NoVentilation, whole(Figure::WindowEdgeWetH));
        with.push(teller.line("home.shut", &[("hours", hours)]));
    }
    let upkeep: Vec<Line> = ["home.upkeep_filters", "home.upkeep_drain", "home.upkeep_hood", "home.co"]
        .iter()
        .map(|key| teller.line(key, &[]))
        .collect();
    let blocks = vec![
        question(teller, "ask.which", which(teller)),
        question(teller, "home.heading_with", with),
        question(teller, "ask.saved", saved(teller)),
        question(teller, "home.heading_water", of_water(teller)),
        question(teller, "ask.beware", beware(teller)),
        question(teller, "home.heading_upkeep", upkeep),
        Block::Sign { labels: ["sign.name", "sign.date"].iter().map(|key| teller.text(key)).collect() },
    ];
    vec![teller.section("answer", "ask.heading", blocks)]
}
