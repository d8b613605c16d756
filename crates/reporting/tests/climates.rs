//! Charts of climates: everything in the frame, and every hour counted and drawn where a plain loop puts it.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

mod made_up;

use exchanger::{Core, CoreKind, Inlets, solve};
use made_up::svg::{assert_sound, texts};
use psychrometrics::checked;
use reporting::charts::{Chart, ClimateInput, climate_charts};
use reporting::{ReportError, ShowIn};
use weather::WeatherYear;
use weather::invented::samples;
use weather::make::make;

const FINE: f64 = 4.0;

/// The four invented climates by name.
fn years() -> Vec<(String, WeatherYear)> {
    samples()
        .iter()
        .map(|sample| {
            let year = make(&sample.climate).unwrap();
            (format!("{}.csv", year.place.name.to_lowercase().split(' ').next().unwrap()), year)
        })
        .collect()
}

fn charts(years: &[(String, WeatherYear)], show_in: ShowIn) -> Vec<Chart> {
    let climates: Vec<_> = years.iter().map(|(name, year)| ClimateInput { name, year }).collect();
    climate_charts(&climates, show_in).unwrap()
}

fn svg_of(charts: &[Chart], file: &str) -> String {
    charts.iter().find(|chart| chart.file == file).unwrap().svg.clone()
}

/// Every rectangle of a colour: its corner and its size, in units of the picture.
fn rects(svg: &str, colour: &str) -> Vec<[f64; 4]> {
    let number = |tag: &str, name: &str| {
        let start = tag.find(&format!(" {name}=\"")).unwrap() + name.len() + 3;
        tag[start..].split('"').next().unwrap().parse::<f64>().unwrap() / FINE
    };
    svg.split("<rect")
        .skip(1)
        .map(|piece| piece.split('>').next().unwrap())
        .filter(|tag| tag.contains(&format!("fill=\"{colour}\"")))
        .map(|tag| ["x", "y", "width", "height"].map(|name| number(tag, name)))
        .collect()
}

/// What an hour is, by the definitions that stand above the chart, in plain numbers.
fn plainly(t_c: f64, w: f64, p_pa: f64) -> [bool; 4] {
    let room_pa = checked::saturation_pressure_over_water_pa(21.0).unwrap();
    let core = Core::counterflow(3018.0, 0.0);
    let inlets = Inlets {
        outdoor_c: t_c,
        outdoor_humidity_ratio: w,
        extract_c: 21.0,
        extract_humidity_ratio: checked::humidity_ratio_from_vapour_pressure(0.4 * room_pa, p_pa).unwrap(),
        supply_kg_per_s: 1.0,
        extract_kg_per_s: 1.0,
        pressure_pa: p_pa,
    };
    let passed = solve(CoreKind::SensiblePlate, &core, &inlets);
    let frosts = passed.ice_kg_per_s >= 5e-6;
    let drains = !frosts && passed.liquid_kg_per_s + passed.supply_liquid_kg_per_s >= 5e-6;
    // 461.52 J/kgK: 287.042 over 0.621945.
    let gas = 287.042 / 0.621945;
    let vapour_pa = checked::vapour_pressure_pa(w, p_pa).unwrap();
    let supply_g = match t_c {
        t if t <= 5.0 => 4.0,
        t if t >= 15.0 => 1.5,
        t => 4.0 - 0.25 * (t - 5.0),
    };
    let grams = 1e3 * vapour_pa / (gas * (t_c + 273.15)) + supply_g;
    let rh = grams / 1e3 * gas * 294.15 / room_pa;
    let dew_point_is_above = vapour_pa > checked::saturation_pressure_over_water_pa(16.0).unwrap();
    let dries = rh < 0.3;
    [frosts, drains, dries, !dries && (rh > 0.6 || dew_point_is_above)]
}

fn counted(year: &WeatherYear) -> [usize; 4] {
    let mut counts = [0; 4];
    for h in 0..year.hours() {
        let hour = plainly(year.dry_bulb_c[h], year.humidity_ratio[h], year.pressure_pa[h]);
        for (count, holds) in counts.iter_mut().zip(hour) {
            *count += usize::from(holds);
        }
    }
    counts
}

#[test]
fn every_chart_keeps_to_its_frame_and_names_its_axes_with_units() {
    let all = years();
    let words: [(&str, &[&str]); 3] = [
        (
            "climate-year.svg",
            &["hour of the day [h]", "day of the year, by month", "Jan", "Dec", "the core", "the house"],
        ),
        (
            "climate-bins.svg",
            &["dry bulb [°C]", "humidity ratio [g/kg]", "300 and more", "saturated air at 101.3 kPa"],
        ),
        (
            "climate-duration.svg",
            &["dry bulb [°C]", "dew point [°C]", "hours of the year in which it is higher [h]"],
        ),
    ];
    for some in [&all[..], &all[..1]] {
        for (chart, (file, words)) in charts(some, ShowIn::Si).iter().zip(words) {
            assert_eq!(chart.file, file);
            assert_sound(&format!("{}-{file}", some.len()), &chart.svg);
            for word in words.iter().filter(|word| some.len() > 1 || !word.contains("101.3")) {
                assert!(texts(&chart.svg).iter().any(|text| text.words == *word), "{file}: {word}");
            }
        }
    }
}

/// 4 and 1.5 g/m³ at 15.4324 grains a gram and 0.0283168 m³ a cubic foot: 1.748 and 0.655 gr/ft³; 21 °C are 69.8 °F.
#[test]
fn inch_pound_charts_are_in_fahrenheit_and_grains() {
    let all = charts(&years(), ShowIn::Ip);
    let words: Vec<String> = texts(&all[0].svg).into_iter().map(|text| text.words).collect();
    let words = words.join(" ");
    for expected in ["1.75 gr/ft³", "0.66 gr/ft³", "69.8 °F", "0.035 gr/lb"] {
        assert!(words.contains(expected), "{expected}");
    }
    for chart in all {
        assert_sound(&format!("ip-{}", chart.file), &chart.svg);
        assert!(!chart.svg.contains("°C") && !chart.svg.contains("g/kg"), "{}", chart.file);
    }
}

/// The same file's name in every place, long names, more files than there are looks.
#[test]
fn many_files_with_long_names_still_draw() {
    let mut many = Vec::new();
    for number in 0..2 {
        for (name, mut year) in years() {
            year.place.name =
                "A place with a rather long name, at the edge of a larger one <north>".to_owned();
            many.push((format!("folder-of-somebody/{number}/a-rather-long-name-of-a-file-{name}"), year));
        }
    }
    for chart in charts(&many, ShowIn::Si) {
        made_up::svg::keep(&format!("many-{}", chart.file), &chart.svg);
        made_up::svg::assert_well_formed(&chart.svg);
        let (width, height) = made_up::svg::size(&chart.svg);
        for text in texts(&chart.svg) {
            assert!(text.left >= 0.0 && text.right <= width, "{}: {text:?}", chart.file);
            assert!(text.top >= 0.0 && text.bottom <= height, "{}: {text:?}", chart.file);
        }
        // Short names are alike, so each line is numbered, in both of its panels.
        for number in 1..=many.len() {
            let start = format!("{number}: ");
            let found = texts(&chart.svg).iter().filter(|text| text.words.starts_with(&start)).count();
            assert_eq!(found, if chart.file == "climate-duration.svg" { 2 } else { 0 }, "{start}");
        }
    }
}

#[test]
fn the_hours_in_the_legend_are_those_of_a_plain_loop() {
    for (name, year) in years() {
        let svg = svg_of(&charts(&[(name.clone(), year.clone())], ShowIn::Si), "climate-year.svg");
        let [frosts, drains, dries, dampens] = counted(&year);
        for words in [
            format!("frosts {frosts} h"),
            format!("drains {drains} h"),
            format!("stays dry {} h", 8760 - frosts - drains),
            format!("dries out {dries} h"),
            format!("dampens {dampens} h"),
            format!("30 to 60 % {} h", 8760 - dries - dampens),
        ] {
            assert!(texts(&svg).iter().any(|text| text.words == words), "{name}: {words}");
        }
    }
}

/// The area of a colour is that of its hours: a carpet of 836 by 72 for 8 760 of them. Corners are rounded to a quarter, which is a
/// tenth of a day's width, one way or the other.
#[test]
fn as_many_hours_are_drawn_as_are_counted() {
    let all = years();
    let svg = svg_of(&charts(&all, ShowIn::Si), "climate-year.svg");
    let colours = ["#0072B2", "#56B4E9", "#E69F00", "#009E73"];
    for (place, colour) in colours.into_iter().enumerate() {
        let expected: usize = all.iter().map(|(_, year)| counted(year)[place]).sum();
        let is_sample = |rect: &[f64; 4]| rect[2] == 24.0 && rect[3] == 11.0;
        let area: f64 =
            rects(&svg, colour).iter().filter(|rect| !is_sample(rect)).map(|rect| rect[2] * rect[3]).sum();
        let hours = area / (836.0 * 72.0) * 8760.0;
        assert!((hours / expected as f64 - 1.0).abs() < 0.02, "{colour}: {hours} of {expected}");
    }
}

/// Midnight is on top: in the severe cold frost begins at night.
#[test]
fn hours_of_the_day_go_down() {
    let all = years();
    let (_, year) = &all[0];
    let svg = svg_of(&charts(&all[..1], ShowIn::Si), "climate-year.svg");
    let frost = |h: &usize| plainly(year.dry_bulb_c[*h], year.humidity_ratio[*h], year.pressure_pa[*h])[0];
    // A day whose frost is one run that neither begins nor ends at midnight.
    let day = (0..365)
        .find(|day| {
            let hours: Vec<bool> = (day * 24..day * 24 + 24).map(|h| frost(&h)).collect();
            let begins = hours.windows(2).filter(|pair| !pair[0] && pair[1]).count();
            begins == 1 && !hours[0] && !hours[23]
        })
        .unwrap();
    let from = (day * 24..day * 24 + 24).position(|h| frost(&h)).unwrap() as f64;
    let carpet_top = rects(&svg, "#F1F3F5").into_iter().find(|rect| rect[3] == 72.0).unwrap()[1];
    let x = 64.0 + (day as f64 + 0.5) / 365.0 * 836.0;
    let at_day: Vec<_> = rects(&svg, "#0072B2")
        .into_iter()
        .filter(|rect| rect[3] != 11.0 && rect[0] <= x && x <= rect[0] + rect[2])
        .collect();
    assert_eq!(at_day.len(), 1, "{at_day:?}");
    assert!((at_day[0][1] - (carpet_top + from * 3.0)).abs() <= 0.25, "{at_day:?}, hour {from}");
}

/// Tiles of 2 °C by 1 g/kg, counted by a plain loop; the bar has one of each colour.
#[test]
#[allow(clippy::cast_possible_truncation, reason = "a few dozen tiles")]
fn tiles_have_the_shade_of_their_hours() {
    let shades = ["#D1E6F1", "#ADD2E6", "#7AB6D7", "#3D94C4", "#006AA6", "#003352"];
    for (name, year) in years() {
        let mut tiles = std::collections::BTreeMap::new();
        for (t, w) in year.dry_bulb_c.iter().zip(&year.humidity_ratio) {
            let place = ((t / 2.0).floor() as i64, (w / 0.001).floor() as i64);
            *tiles.entry(place).or_insert(0) += 1;
        }
        let svg = svg_of(&charts(&[(name.clone(), year)], ShowIn::Si), "climate-bins.svg");
        for (place, colour) in shades.into_iter().enumerate() {
            let least = [1, 3, 10, 30, 100, 300, 8761];
            let expected =
                tiles.values().filter(|hours| (least[place]..least[place + 1]).contains(*hours)).count();
            assert_eq!(rects(&svg, colour).len(), expected + 1, "{name}: {colour}");
        }
    }
}

/// The curve of the dry bulb meets 0 °C at the hours that are warmer, and begins and ends at the extremes.
#[test]
fn a_duration_curve_is_at_a_temperature_after_the_hours_above_it() {
    let all = years();
    let (_, year) = &all[0];
    let above = year.dry_bulb_c.iter().filter(|t| **t > 0.0).count() as f64;
    let svg = svg_of(&charts(&all[..1], ShowIn::Si), "climate-duration.svg");
    let longest = svg
        .split("<polyline")
        .skip(1)
        .map(|piece| {
            let start = piece.find("points=\"").unwrap() + 8;
            let numbers = piece[start..].split('"').next().unwrap().split([' ', ',']);
            let all: Vec<f64> = numbers
                .filter(|part| !part.is_empty())
                .map(|part| part.parse::<f64>().unwrap() / FINE)
                .collect();
            all.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect::<Vec<_>>()
        })
        .find(|points| points.len() > 1000)
        .unwrap();
    let tick = |words: &str| texts(&svg).into_iter().find(|text| text.words == words).unwrap();
    let middle = |text: &made_up::svg::Text| f64::midpoint(text.top, text.bottom);
    let (ten, twenty) = (middle(&tick("10")), middle(&tick("20")));
    let celsius = |y: f64| 10.0 + (ten - y) / (ten - twenty) * 10.0;
    let crossing = longest.iter().find(|point| celsius(point.1) <= 0.0).unwrap();
    let hours = (crossing.0 - 56.0) / (896.0 - 56.0) * 8760.0;
    assert!((hours - above).abs() < 25.0, "{hours} of {above}");
    let (least, most) =
        year.dry_bulb_c.iter().fold((99.0_f64, -99.0_f64), |(a, b), t| (a.min(*t), b.max(*t)));
    assert!((celsius(longest[0].1) - most).abs() < 0.1);
    assert!((celsius(longest[longest.len() - 1].1) - least).abs() < 0.1);
}

#[test]
fn a_year_that_cannot_be_drawn_is_refused_with_its_name() {
    assert_eq!(climate_charts(&[], ShowIn::Si), Err(ReportError::NoClimate));
    let (_, year) = years().remove(0);
    let refused = |change: fn(&mut WeatherYear)| {
        let mut year = year.clone();
        change(&mut year);
        climate_charts(&[ClimateInput { name: "x.csv", year: &year }], ShowIn::Si).unwrap_err().to_string()
    };
    assert_eq!(
        refused(|year| year.pressure_pa[7] = f64::NAN),
        "weather \"x.csv\", pressure: NaN Pa in hour 7 of the year is outside 40000 to 120000 Pa"
    );
    assert_eq!(
        refused(|year| year.humidity_ratio.truncate(8000)),
        "weather \"x.csv\", humidity ratio: 8000 hours where the year has 8760"
    );
    assert!(refused(|year| year.dry_bulb_c.truncate(8000)).starts_with("a year of 8000 hours"));
}
