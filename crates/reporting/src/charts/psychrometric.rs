//! The chart of moist air: humidity ratio over dry bulb, with the four ports of a core and the way between them.
//!
//! Saturation is over ice below 0.01 °C. Not here: the page around it (`core_page`), its ground (`moist_air`), the ports' numbers as a table
//! (`crate::core_table`). Read next: `ports`.

use psychrometrics::formulas as air;

use super::canvas::{Canvas, Point, Rect, Stroke, Type};
use super::labels::Labels;
use super::moist_air::{MoistAir, SATURATION, celsius, number, ratio_at};
use super::panel::{Scale, count};
use super::plot::{Plot, Side};
use super::ports::{Ports, Stream, path};
use super::style::{INK, REST, SHADE};
use crate::ReportError;
use crate::core_point::{CorePoint, Port};

/// Room beside the outermost states \[K\].
const ROOM_K: f64 = 4.0;
/// Room above the most humid state, as a share of it.
const ROOM_ABOVE: f64 = 0.35;
/// The axis shows at least this much [kg/kg].
const LEAST_RATIO: f64 = 0.001;

pub const ENTHALPY: Stroke = Stroke { colour: REST, width: 0.75, dash: Some((2, 4)) };

/// Draws it into a frame on the page.
pub fn draw(canvas: &Canvas<'_>, point: &CorePoint, frame: Rect) -> Result<(), ReportError> {
    let chart = Chart::new(point, frame);
    let (show_in, plot) = (point.show_in, &chart.plot);
    canvas.band(&chart.air.fog(), &[], (SHADE, 1.0))?;
    let across = format!("dry bulb [{}]", show_in.temperature_unit());
    let up = format!("humidity ratio [{}]", show_in.humidity_ratio_unit());
    plot.axes(canvas, &across, (&up, Side::Right))?;
    let heading = format!("at {}", show_in.pressure_words(point.pressure_pa));
    let bold = Type::bold(super::style::TEXT_SIZE, INK);
    canvas.text(&heading, (frame.from.0, frame.from.1 - 11.0), super::canvas::Hang::Left, bold)?;
    let mut labels = Labels::new(frame);
    let saturation = chart.air.curve(1.0);
    labels.avoid(&saturation);
    let ports = Ports::place(canvas, &chart, &mut labels)?;
    chart.enthalpies(canvas, &mut labels)?;
    chart.air.humidities(canvas, &mut labels)?;
    plot.line(canvas, &saturation, SATURATION)?;
    plot.outline(canvas)?;
    ports.draw(canvas)
}

/// The plot and the point on it.
pub struct Chart<'a> {
    pub point: &'a CorePoint,
    pub plot: Plot,
    air: MoistAir,
}

impl<'a> Chart<'a> {
    fn new(point: &'a CorePoint, frame: Rect) -> Self {
        let show_in = point.show_in;
        let (mut t, mut w) = (Vec::new(), vec![LEAST_RATIO]);
        for (_, port) in point.ports() {
            t.push(port.t_c);
            w.push(port.humidity_ratio);
        }
        for (t_c, ratio) in Stream::BOTH.into_iter().flat_map(|stream| path(point, stream)) {
            t.push(t_c);
            w.push(ratio);
        }
        let least = t.iter().copied().fold(f64::INFINITY, f64::min) - ROOM_K;
        let greatest = t.iter().copied().fold(f64::NEG_INFINITY, f64::max) + ROOM_K;
        let most = w.iter().copied().fold(0.0, f64::max) * (1.0 + ROOM_ABOVE);
        let across = Scale::around(show_in.temperature(least), show_in.temperature(greatest), 10.0);
        let up = Scale::around(0.0, show_in.humidity_ratio(most), 7.0);
        let plot = Plot { frame, across, up };
        Self { point, plot, air: MoistAir { plot, show_in, pressure_pa: point.pressure_pa } }
    }

    /// Place of a state on the page.
    pub fn at(&self, (t_c, ratio): (f64, f64)) -> Point {
        self.air.at((t_c, ratio))
    }

    pub fn at_port(&self, port: Port) -> Point {
        self.at((port.t_c, port.humidity_ratio))
    }

    fn enthalpies(&self, canvas: &Canvas<'_>, labels: &mut Labels) -> Result<(), ReportError> {
        let show_in = self.point.show_in;
        let (frame, at) = (self.plot, |x: f64, y: f64| (celsius(show_in, x), y));
        let (cold, warm) = (at(frame.across.least, 0.0), at(frame.across.greatest, self.plot.up.greatest));
        let least = show_in.enthalpy(air::enthalpy_j_per_kg(cold.0, cold.1));
        let most = warm.1 / show_in.humidity_ratio(1.0);
        let greatest = show_in.enthalpy(air::enthalpy_j_per_kg(warm.0, most));
        for shown in Scale::around(least, greatest, 9.0).ticks() {
            let line = self.enthalpy(show_in.enthalpy_from(shown));
            let parts = self.plot.inside(&line);
            for part in &parts {
                canvas.line(part, ENTHALPY)?;
            }
            let points: Vec<Point> = parts.into_iter().flatten().collect();
            number(canvas, labels, &Scale::around(least, greatest, 9.0).label(shown), &points)?;
        }
        Ok(())
    }

    /// The line of one enthalpy from saturation down to dry air.
    fn enthalpy(&self, enthalpy_j_per_kg: f64) -> Vec<Point> {
        const STEPS: usize = 60;
        let dry_c = air::temperature_from_enthalpy_c(enthalpy_j_per_kg, 0.0);
        let wet_c = saturated_c(enthalpy_j_per_kg, dry_c, self.point.pressure_pa);
        (0..=STEPS)
            .map(|step| {
                let t = wet_c + (dry_c - wet_c) * count(step) / count(STEPS);
                let vapour = air::vapour_enthalpy_j_per_kg(t);
                self.at((t, (enthalpy_j_per_kg - air::CP_DRY_AIR_J_PER_KGK * t) / vapour))
            })
            .collect()
    }
}

/// Temperature at which saturated air has an enthalpy \[°C\]: bisection, since enthalpy rises with temperature.
fn saturated_c(enthalpy_j_per_kg: f64, dry_c: f64, pressure_pa: f64) -> f64 {
    let (mut low, mut high) = (-100.0, dry_c.clamp(-100.0, 70.0));
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        let found = air::enthalpy_j_per_kg(middle, ratio_at(middle, 1.0, pressure_pa));
        if found < enthalpy_j_per_kg { low = middle } else { high = middle }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_saturation_curve_passes_through_published_points() {
        // psychrolib 2.5.0 at 101325 Pa, computed beforehand.
        let expected = [(20.0, 0.01469505), (0.0, 0.00377410), (-20.0, 0.00063447)];
        for (t_c, ratio) in expected {
            let found = ratio_at(t_c, 1.0, 101_325.0);
            assert!((found - ratio).abs() < 1e-8, "{t_c}: {found}");
        }
    }

    #[test]
    fn a_line_of_enthalpy_begins_on_the_saturation_curve() {
        // Air of 25 °C and 50 % has 50 312 J/kg and a wet bulb of 17.8894 °C (psychrolib 2.5.0). Saturated there it holds
        // 223 J/kg more, the liquid enthalpy of the 2.98 g/kg added; at 3.07 kJ/kgK along saturation: 0.073 K cooler.
        let found = saturated_c(50_312.0, 50.0, 101_325.0);
        assert!((found - 17.816).abs() < 0.005, "{found}");
    }
}
