//! The ground of a chart of moist air: saturation, relative humidities, and where a state lies.
//!
//! Saturation is over ice below 0.01 °C. Not here: what is drawn on it (`psychrometric`, `psychrometric_year`).

use psychrometrics::formulas as air;

use super::canvas::{Canvas, Point, Stroke, Type};
use super::labels::{Labels, size_of, write};
use super::panel::count;
use super::plot::Plot;
use super::style::{INK, QUIET, REST, SMALL_SIZE};
use crate::{ReportError, ShowIn};

/// Points of a curve across the frame.
const PIECES: usize = 240;
const RELATIVE_HUMIDITIES: [f64; 4] = [0.2, 0.4, 0.6, 0.8];

pub const SATURATION: Stroke = Stroke { colour: INK, width: 1.5, dash: None };
pub const HUMIDITY: Stroke = Stroke { colour: REST, width: 1.0, dash: None };

/// Axes and pressure.
#[derive(Debug, Clone, Copy)]
pub struct MoistAir {
    pub plot: Plot,
    pub show_in: ShowIn,
    pub pressure_pa: f64,
}

impl MoistAir {
    /// Place of a state (°C, kg/kg) on the page.
    pub fn at(&self, (t_c, ratio): (f64, f64)) -> Point {
        self.plot.at(self.show_in.temperature(t_c), self.show_in.humidity_ratio(ratio))
    }

    /// Temperatures from the left edge to the right one \[°C\].
    fn temperatures(&self) -> impl Iterator<Item = f64> {
        let shown = self.plot.across;
        let (from, to) = (celsius(self.show_in, shown.least), celsius(self.show_in, shown.greatest));
        (0..=PIECES).map(move |piece| from + (to - from) * count(piece) / count(PIECES))
    }

    /// The curve of one relative humidity, as points on the page.
    pub fn curve(&self, relative_humidity: f64) -> Vec<Point> {
        self.temperatures().map(|t| self.at((t, ratio_at(t, relative_humidity, self.pressure_pa)))).collect()
    }

    /// The area above saturation: where air cannot stay without fog.
    pub fn fog(&self) -> Vec<Point> {
        let parts = self.plot.inside(&self.curve(1.0));
        let mut area: Vec<Point> = parts.into_iter().flatten().collect();
        let ((left, top), (right, _)) = (self.plot.frame.from, self.plot.frame.to);
        if area.last().is_some_and(|last| last.1 > top + 0.5) {
            area.push((right, top));
        }
        area.push((left, top));
        area
    }

    pub fn humidities(&self, canvas: &Canvas<'_>, labels: &mut Labels) -> Result<(), ReportError> {
        for share in RELATIVE_HUMIDITIES {
            let parts = self.plot.inside(&self.curve(share));
            for part in &parts {
                canvas.line(part, HUMIDITY)?;
            }
            let points: Vec<Point> = parts.into_iter().flatten().rev().collect();
            number(canvas, labels, &format!("{:.0} %", share * 100.0), &points)?;
        }
        Ok(())
    }
}

/// A small number on a line: at the first of its points where there is room.
pub fn number(
    canvas: &Canvas<'_>,
    labels: &mut Labels,
    words: &str,
    points: &[Point],
) -> Result<(), ReportError> {
    let look = Type::plain(SMALL_SIZE, QUIET);
    let size = size_of(canvas, words, look)?;
    let Some(rect) = points.iter().find_map(|point| labels.try_at(*point, size)) else { return Ok(()) };
    canvas.rect(rect, (plotters::style::WHITE, 0.85))?;
    write(canvas, words, rect, look)
}

/// Humidity ratio at a temperature and relative humidity [kg/kg].
pub fn ratio_at(t_c: f64, relative_humidity: f64, pressure_pa: f64) -> f64 {
    air::humidity_ratio(relative_humidity * air::saturation_pa(t_c), pressure_pa)
}

/// A temperature that is shown as this [°C].
pub fn celsius(show_in: ShowIn, shown: f64) -> f64 {
    match show_in {
        ShowIn::Si => shown,
        ShowIn::Ip => (shown - 32.0) / 1.8,
    }
}
