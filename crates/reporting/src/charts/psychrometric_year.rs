//! The year's hours on the chart of moist air: a cloud for each of a unit's four ports, a panel for each unit.
//!
//! Hours are gathered in small squares of the page, each drawn where its hours lie on average. Hours without air through a
//! port are left out. Not here: curves (`moist_air`).

use std::collections::BTreeMap;

use plotters::style::RGBColor;
use simulation::results::HouseYear;

use super::canvas::{Canvas, Entry, Hang, MARGIN, Point, Rect, Sample, Shape, Stroke, Type, page_in};
use super::labels::{Labels, size_of, write};
use super::moist_air::{HUMIDITY, MoistAir, SATURATION, number};
use super::panel::{Scale, count};
use super::plot::{Plot, Side};
use super::style::{INK, PICTURE_WIDTH, QUIET, SHADE, TEXT_SIZE, palette};
use super::{ChartInput, Drawn};
use crate::ReportError;
use crate::words::Words;

const RIGHT: f64 = 60.0;
const NAME_LINE: f64 = 24.0;
const FRAME: f64 = 330.0;
const NUMBERS: f64 = 50.0;
/// Room beside the outermost states \[K\], and above the most humid as a share of it.
const ROOM_K: f64 = 2.0;
const ROOM_ABOVE: f64 = 0.06;
/// The axis shows at least this much [kg/kg].
const LEAST_RATIO: f64 = 0.001;
/// Side of the squares that hours are gathered in, and half of the largest and the smallest mark.
const CELL: f64 = 8.0;
const LARGEST: f64 = 3.7;
const SMALLEST: f64 = 0.8;
/// Hours from which on a mark is largest.
const FULL_HOURS: f64 = 24.0;
/// A name further from its cloud than this is tied to it.
const LEADER: f64 = 16.0;

/// One of the four ports, its name as in the keys of its words: squares for the air on its way in, diamonds for the way out, the dark ones on the house's side.
struct Port {
    name: &'static str,
    colour: RGBColor,
    shape: Shape,
    /// State (°C, kg/kg) and air \[kg\] in an hour; the share is that of the extract air from wet rooms.
    state: fn(&HouseYear, usize, f64) -> (f64, f64, f64),
}

/// In the order in which they are drawn.
const PORTS: [Port; 4] = [
    Port {
        name: "outdoor",
        colour: palette::SKY_BLUE,
        shape: Shape::Square,
        state: |year, hour, _| {
            let h = &year.hourly;
            (h.outdoor_c[hour], h.outdoor_humidity_ratio[hour], h.intake_air_kg[hour])
        },
    },
    Port {
        name: "exhaust",
        colour: palette::ORANGE,
        shape: Shape::Diamond,
        state: |year, hour, _| {
            let h = &year.hourly;
            (h.exhaust_c[hour], h.exhaust_humidity_ratio[hour], h.exhaust_air_kg[hour])
        },
    },
    Port {
        name: "supply",
        colour: palette::BLUE,
        shape: Shape::Square,
        state: |year, hour, _| {
            let h = &year.hourly;
            (h.supply_c[hour], h.supply_humidity_ratio[hour], h.delivered_air_kg[hour])
        },
    },
    Port {
        name: "extract",
        colour: palette::VERMILLION,
        shape: Shape::Diamond,
        state: |year, hour, wet_share| {
            let h = &year.hourly;
            let ratio = wet_share * h.wet_humidity_ratio[hour] + (1.0 - wet_share) * h.humidity_ratio[hour];
            (h.air_c[hour], ratio, h.exhaust_air_kg[hour])
        },
    },
];

pub fn draw(input: &ChartInput<'_>, drawn: &Drawn<'_>) -> Result<String, ReportError> {
    let clouds: Vec<Vec<Vec<(f64, f64)>>> =
        drawn.units.iter().map(|year| PORTS.iter().map(|port| cloud(input, year, port)).collect()).collect();
    let (across, up) = scales(input, &clouds);
    let of_each = NAME_LINE + FRAME + NUMBERS;
    let title = drawn.words.text("chart.psychrometric_year");
    let below = count(drawn.units.len()) * of_each;
    page_in(drawn.words, (&title, input.study), (&legend(drawn.words), below), |canvas, top| {
        for (place, (year, clouds)) in drawn.units.iter().zip(&clouds).enumerate() {
            let top = top + count(place) * of_each + NAME_LINE;
            let right = f64::from(PICTURE_WIDTH) - RIGHT;
            let frame = Rect { from: (MARGIN, top), to: (right, top + FRAME) };
            let (plot, pressure) = (Plot { frame, across, up }, &year.hourly.pressure_pa);
            let pressure_pa = pressure.iter().sum::<f64>() / count(pressure.len().max(1));
            let air = MoistAir { plot, show_in: input.show_in, pressure_pa };
            panel(canvas, &air, (&year.unit, clouds))?;
        }
        Ok(())
    })
}

/// The states of a port in the hours with air through it.
fn cloud(input: &ChartInput<'_>, year: &HouseYear, port: &Port) -> Vec<(f64, f64)> {
    let states =
        (0..year.hourly.outdoor_c.len()).map(|hour| (port.state)(year, hour, input.extract_wet_share));
    states.filter(|(_, _, air_kg)| *air_kg > 0.0).map(|(t_c, ratio, _)| (t_c, ratio)).collect()
}

/// The same axes for all units.
fn scales(input: &ChartInput<'_>, clouds: &[Vec<Vec<(f64, f64)>>]) -> (Scale, Scale) {
    let all = || clouds.iter().flatten().flatten();
    let least = all().map(|state| state.0).fold(f64::INFINITY, f64::min);
    let greatest = all().map(|state| state.0).fold(f64::NEG_INFINITY, f64::max);
    let (least, greatest) = if least <= greatest { (least, greatest) } else { (0.0, 20.0) };
    let most = all().map(|state| state.1).fold(LEAST_RATIO, f64::max) * (1.0 + ROOM_ABOVE);
    let show_in = input.show_in;
    let across =
        Scale::around(show_in.temperature(least - ROOM_K), show_in.temperature(greatest + ROOM_K), 12.0);
    (across, Scale::around(0.0, show_in.humidity_ratio(most), 7.0))
}

fn legend(words: &Words) -> Vec<Entry> {
    const ORDER: [usize; 4] = [0, 2, 3, 1];
    let entry = |sample, key: &str| Entry { sample, words: words.text(key) };
    let mut legend: Vec<Entry> = ORDER
        .map(|port| &PORTS[port])
        .map(|port| entry(Sample::Mark(port.colour, port.shape), &format!("chart.{}_air", port.name)))
        .into();
    legend.push(entry(Sample::Line(SATURATION), "chart.saturated"));
    legend.push(entry(Sample::Line(HUMIDITY), "chart.same_humidity"));
    let words = words.fill("chart.mark_area", &[("hours", &format!("{FULL_HOURS:.0}"))]);
    legend.push(Entry { sample: Sample::None, words });
    legend
}

fn panel(
    canvas: &Canvas<'_>,
    air: &MoistAir,
    (unit, clouds): (&str, &[Vec<(f64, f64)>]),
) -> Result<(), ReportError> {
    let (plot, show_in) = (&air.plot, air.show_in);
    canvas.band(&air.fog(), &[], (SHADE, 1.0))?;
    let across = canvas.words.fill("chart.dry_bulb_axis", &[("unit", show_in.temperature_unit())]);
    let up = canvas.words.fill("chart.humidity_ratio_axis", &[("unit", show_in.humidity_ratio_unit())]);
    plot.axes(canvas, &across, (&up, Side::Right))?;
    heading(canvas, air, (unit, &up))?;
    let mut labels = Labels::new(plot.frame);
    let marks: Vec<Vec<(Point, f64)>> = clouds.iter().map(|states| gathered(air, states)).collect();
    for ((x, y), _) in marks.iter().flatten() {
        labels.avoid(&[(x - CELL / 2.0, *y), (x + CELL / 2.0, *y)]);
    }
    let saturation = air.curve(1.0);
    let lines: Vec<Point> = plot.inside(&saturation).into_iter().flatten().rev().collect();
    plot.line(canvas, &saturation, SATURATION)?;
    number(canvas, &mut labels, "100 %", &lines)?;
    labels.avoid(&saturation);
    air.humidities(canvas, &mut labels)?;
    for (port, marks) in PORTS.iter().zip(&marks) {
        for (at, hours) in marks {
            let half = (LARGEST * (hours / FULL_HOURS).min(1.0).sqrt()).max(SMALLEST);
            canvas.mark(*at, half, (port.colour, port.shape))?;
        }
    }
    plot.outline(canvas)?;
    for (port, marks) in PORTS.iter().zip(&marks) {
        let words = canvas.words.text(&format!("chart.{}", port.name));
        name(canvas, &mut labels, &words, marks)?;
    }
    Ok(())
}

/// The unit and the pressure at the left, as far as the axis name leaves room.
fn heading(canvas: &Canvas<'_>, air: &MoistAir, (unit, up): (&str, &str)) -> Result<(), ReportError> {
    let frame = air.plot.frame;
    let pressure = canvas.words.marked(&air.show_in.pressure_words(air.pressure_pa));
    let words = canvas.words.fill("chart.at_pressure", &[("name", unit), ("pressure", &pressure)]);
    let bold = Type::bold(TEXT_SIZE, INK);
    let room = frame.to.0 - frame.from.0 - canvas.text_width(up, bold)? - NAME_LINE;
    let shrink = (room / canvas.text_width(&words, bold)?.max(1.0)).min(1.0);
    let at = (frame.from.0, frame.from.1 - 11.0);
    canvas.text(&words, at, Hang::Left, Type { size: TEXT_SIZE * shrink, ..bold })
}

/// Hours by square of the page: where they lie on average, and how many they are.
fn gathered(air: &MoistAir, states: &[(f64, f64)]) -> Vec<(Point, f64)> {
    let mut squares: BTreeMap<(i64, i64), (Point, f64)> = BTreeMap::new();
    for state in states {
        let at = air.at(*state);
        #[allow(
            clippy::cast_possible_truncation,
            reason = "a page has a few hundred squares; the cast saturates"
        )]
        let square = ((at.0 / CELL).floor() as i64, (at.1 / CELL).floor() as i64);
        let (sum, hours) = squares.entry(square).or_insert(((0.0, 0.0), 0.0));
        *sum = (sum.0 + at.0, sum.1 + at.1);
        *hours += 1.0;
    }
    let mean = |(sum, hours): (Point, f64)| ((sum.0 / hours, sum.1 / hours), hours);
    squares.into_values().map(mean).collect()
}

/// The port's name beside its cloud, tied to the cloud's mark of most hours.
fn name(
    canvas: &Canvas<'_>,
    labels: &mut Labels,
    words: &str,
    marks: &[(Point, f64)],
) -> Result<(), ReportError> {
    let Some((at, _)) = marks.iter().max_by(|a, b| a.1.total_cmp(&b.1)) else { return Ok(()) };
    let look = Type::bold(TEXT_SIZE, INK);
    let size = size_of(canvas, words, look)?;
    let Some(rect) = labels.near(*at, size) else { return Ok(()) };
    let end = (at.0.clamp(rect.from.0, rect.to.0), at.1.clamp(rect.from.1, rect.to.1));
    if (end.0 - at.0).abs() + (end.1 - at.1).abs() > LEADER {
        canvas.line(&[*at, end], Stroke { colour: QUIET, width: 0.75, dash: None })?;
    }
    canvas.rect(rect, (plotters::style::WHITE, 0.8))?;
    write(canvas, words, rect, look)
}
