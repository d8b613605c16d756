//! A core's steady point as a table for the terminal, at most 80 columns.
//!
//! Not here: the picture (`charts`), what is shown (`core_point`).

use psychrometrics::formulas as air;

use crate::core_point::{CorePoint, Port};
use crate::text_table::{Aligned, WIDTH, cut, lines, number, perhaps, wrapped};

/// Four ports with dry bulb, relative humidity, humidity ratio, dew point, enthalpy and flow, and what the core gives.
///
/// Flows are dry air as the volume that it has at 20 °C and this pressure. A figure that cannot be given, such as the
/// dew point of dry air, is a dash.
pub fn core_table(point: &CorePoint) -> String {
    let show_in = point.show_in;
    let t = show_in.temperature_unit();
    let heads = [
        ["", "dry bulb", "RH", "humidity", "dew point", "enthalpy", "flow"].map(str::to_owned),
        ["", t, "%", show_in.humidity_ratio_unit(), t, show_in.enthalpy_unit(), show_in.airflow_unit()]
            .map(str::to_owned),
    ];
    let mut rows: Vec<Vec<String>> = heads.iter().map(|row| row.to_vec()).collect();
    rows.extend(point.ports().map(|(name, port)| row(point, name, port)));
    let title = format!("{}: core at {}", point.unit, show_in.pressure_words(point.pressure_pa));
    let mut text = format!("{}\n\n", cut(&title, WIDTH));
    text.push_str(&lines(&rows, &[Aligned::Left], heads.len()));
    text.push('\n');
    text.push_str(&lines(&given(point), &[Aligned::Left, Aligned::Right, Aligned::Left], 0));
    text.push('\n');
    let (warm, unit) = (show_in.temperature(20.0), show_in.temperature_unit());
    text.push_str(&wrapped(&format!(
        "RH and dew point are over ice below freezing. Flow: the dry air as the volume it has at {warm:.0} {unit} and \
         this pressure."
    )));
    text
}

fn row(point: &CorePoint, name: &str, port: Port) -> Vec<String> {
    let show_in = point.show_in;
    let enthalpy = air::enthalpy_j_per_kg(port.t_c, port.humidity_ratio);
    // Volume of dry air at 20 °C, the reference of every volume flow of a study.
    let litres =
        port.dry_air_kg_per_s * 1000.0 * air::GAS_CONSTANT_DRY_AIR_J_PER_KGK * (20.0 + air::ZERO_CELSIUS_K)
            / point.pressure_pa;
    vec![
        name.to_owned(),
        number(show_in.temperature(port.t_c), 1),
        perhaps(point.relative_humidity(port).map(|share| share * 100.0), 0),
        number(show_in.humidity_ratio(port.humidity_ratio), 2),
        perhaps(point.dew_point_c(port).map(|t| show_in.temperature(t)), 1),
        number(show_in.enthalpy(enthalpy), 1),
        number(show_in.airflow(litres), 1),
    ]
}

/// What the core gives, a line each: name, amount, unit.
fn given(point: &CorePoint) -> Vec<Vec<String>> {
    let (notes, show_in) = (point.notes, point.show_in);
    let heat = show_in.heat_flow_unit();
    let line = |name: &str, value: String, unit: String| vec![name.to_owned(), value, unit];
    let flow = |watts: f64| number(show_in.heat_flow(watts), 0);
    vec![
        line("sensible heat to the supply air", flow(notes.sensible_w), heat.to_owned()),
        line("latent heat to the supply air", flow(notes.latent_w), heat.to_owned()),
        line(
            "water from the core",
            number(show_in.volume(notes.water_l_per_h), 3),
            format!("{}/h", show_in.volume_unit()),
        ),
        line(
            "ice formed in the core",
            number(show_in.mass(notes.ice_kg_per_h), 3),
            format!("{}/h", show_in.mass_unit()),
        ),
        line(
            "coldest place of the plate",
            perhaps(notes.coldest_plate_c.map(|t| show_in.temperature(t)), 1),
            show_in.temperature_unit().to_owned(),
        ),
    ]
}
