//! The tables of a study and their keys, and the nearest word to a slip of the pen.
//!
//! Here: names only. Not here: what a key takes (`specs`). Read next: `table.rs`.

/// A table of the study file.
#[derive(Debug)]
pub(crate) struct TableKeys {
    /// Path such as `house.people`; empty for the file itself.
    pub path: &'static str,
    /// How its header is written.
    pub header: &'static str,
    /// The keys that must be there.
    pub required: &'static [&'static str],
    /// The other keys.
    pub optional: &'static [&'static str],
}

impl TableKeys {
    pub fn all(&self) -> impl Iterator<Item = &'static str> {
        self.required.iter().chain(self.optional).copied()
    }
}

const fn table(
    path: &'static str,
    header: &'static str,
    required: &'static [&'static str],
    optional: &'static [&'static str],
) -> TableKeys {
    TableKeys { path, header, required, optional }
}

pub(crate) static ROOT: TableKeys = table(
    "",
    "the study",
    &["study", "site", "house", "ventilation", "unit"],
    &["tariff", "economics", "bills", "report"],
);
pub(crate) static STUDY: TableKeys =
    table("study", "[study]", &["title"], &["conditions", "show_in", "time_step", "lead_in"]);
pub(crate) static REPORT: TableKeys = table("report", "[report]", &[], &["language"]);
pub(crate) static SITE: TableKeys = table(
    "site",
    "[site]",
    &["weather"],
    &[
        "latitude",
        "longitude",
        "elevation",
        "time_zone",
        "humidity_basis",
        "surroundings",
        "wind_shelter",
        "wind_height",
    ],
);
pub(crate) static HOUSE: TableKeys = table(
    "house",
    "[house]",
    &["floor_area", "bedrooms", "air_leakage", "heating", "people"],
    &[
        "leakage_exponent",
        "flue",
        "height",
        "heat_loss",
        "envelope",
        "foundation",
        "ground_loss",
        "ceiling_height",
        "storeys",
        "rooms",
        "thermal_mass",
        "wet_share",
        "door_exchange",
        "gains",
        "window",
        "cooling",
        "moisture",
        "airing",
        "range_hood",
        "dryer",
        "bedroom",
        "humidifier",
        "dehumidifier",
        "cold_corner",
    ],
);
pub(crate) static WINDOW: TableKeys =
    table("house.window", "[[house.window]]", &["facing", "area", "u_value", "solar_gain"], &["edge_factor"]);
pub(crate) static ENVELOPE: TableKeys = table(
    "house.envelope",
    "[[house.envelope]]",
    &["name"],
    &["area", "u_value", "conductance", "to", "temperature_factor"],
);
pub(crate) static HEATING: TableKeys = table(
    "house.heating",
    "[house.heating]",
    &["set_point", "source", "efficiency"],
    &["capacity", "set_back"],
);
pub(crate) static SET_BACK: TableKeys =
    table("house.heating.set_back", "[house.heating.set_back]", &["temperature", "from", "to"], &[]);
pub(crate) static COOLING: TableKeys = table(
    "house.cooling",
    "[house.cooling]",
    &["set_point", "source", "cop"],
    &["apparatus_dew_point", "bypass", "capacity", "set_up", "re_evaporation"],
);
pub(crate) static SET_UP: TableKeys =
    table("house.cooling.set_up", "[house.cooling.set_up]", &["temperature", "from", "to"], &[]);
pub(crate) static BEDROOM: TableKeys =
    table("house.bedroom", "[house.bedroom]", &[], &["people", "volume", "supply_share", "from", "to"]);
pub(crate) static AIRING: TableKeys =
    table("house.airing", "[house.airing]", &["air_changes"], &["indoor_above", "colder_by"]);
pub(crate) static PEOPLE: TableKeys =
    table("house.people", "[house.people]", &["count", "profile"], &["heat", "moisture"]);
pub(crate) static MOISTURE: TableKeys = table(
    "house.moisture",
    "[house.moisture]",
    &[],
    &["showers", "cooking", "laundry", "plants", "new_building", "new_building_halves_in", "storage"],
);
pub(crate) static HUMIDIFIER: TableKeys =
    table("house.humidifier", "[house.humidifier]", &["target"], &["capacity", "kind"]);
pub(crate) static DEHUMIDIFIER: TableKeys =
    table("house.dehumidifier", "[house.dehumidifier]", &["target"], &["capacity", "energy_factor"]);
pub(crate) static COLD_CORNER: TableKeys =
    table("house.cold_corner", "[house.cold_corner]", &[], &["temperature_factor", "material"]);
pub(crate) static VENTILATION: TableKeys = table(
    "ventilation",
    "[ventilation]",
    &["airflow"],
    &[
        "category",
        "standard_form",
        "infiltration_credit",
        "extract_from",
        "supply_to",
        "blower",
        "ducts",
        "control",
    ],
);
pub(crate) static ROOMS: TableKeys =
    table("house.rooms", "[house.rooms]", &["living", "kitchen", "bathrooms"], &["other", "basement"]);

pub(crate) static CONTROL: TableKeys = table(
    "ventilation.control",
    "[ventilation.control]",
    &[],
    &[
        "mode",
        "on_share",
        "on",
        "off",
        "humidity_at_or_above",
        "falls_per_k",
        "falls_below",
        "co2_limit",
        "low_share",
        "weekdays",
        "weekends",
        "boost",
        "away",
    ],
);
pub(crate) static BOOST: TableKeys =
    table("ventilation.control.boost", "[ventilation.control.boost]", &[], &["showers", "factor", "lasts"]);
pub(crate) static AWAY: TableKeys =
    table("ventilation.control.away", "[ventilation.control.away]", &["share", "days"], &[]);
pub(crate) static EXTRACT_FROM: TableKeys =
    table("ventilation.extract_from", "[ventilation.extract_from]", &["wet_rooms", "return_duct"], &[]);
pub(crate) static SUPPLY_TO: TableKeys =
    table("ventilation.supply_to", "[ventilation.supply_to]", &["rooms", "return_duct"], &[]);
pub(crate) static BLOWER: TableKeys =
    table("ventilation.blower", "[ventilation.blower]", &["power"], &["runs"]);
pub(crate) static DUCTS: TableKeys =
    table("ventilation.ducts", "[ventilation.ducts]", &[], &["cold_indoors", "warm_outdoors"]);
pub(crate) static UNIT: TableKeys = table(
    "unit",
    "[[unit]]",
    &["name", "core"],
    &[
        "location",
        "flow",
        "counter_share",
        "conductance",
        "effectiveness",
        "rating",
        "geometry",
        "cross_leakage",
        "outdoor_air_correction",
        "balance",
        "hood_recirculation",
        "wheel",
        "fan",
        "core_heat_capacity",
        "frost",
        "filter",
        "upkeep",
        "bypass",
        "price",
        "upkeep_cost",
        "life",
    ],
);
pub(crate) static CONDUCTANCE: TableKeys =
    table("unit.conductance", "[unit.conductance]", &["ua", "at"], &["vapour"]);
pub(crate) static EFFECTIVENESS: TableKeys =
    table("unit.effectiveness", "[unit.effectiveness]", &["sensible", "at"], &["latent"]);
/// The same table where there are several of it.
pub(crate) static EFFECTIVENESS_LIST: TableKeys =
    TableKeys { header: "[[unit.effectiveness]]", ..EFFECTIVENESS };
pub(crate) static RATING: TableKeys = table(
    "unit.rating",
    "[[unit.rating]]",
    &[],
    &[
        "standard",
        "outdoor",
        "outdoor_humidity",
        "outdoor_wet_bulb",
        "indoor",
        "indoor_humidity",
        "indoor_wet_bulb",
        "airflow",
        "gross_airflow",
        "net_airflow",
        "extract_airflow",
        "power",
        "apparent_sensible",
        "sensible_recovery",
        "adjusted_sensible_recovery",
        "latent_recovery",
        "total_recovery",
        "adjusted_total_recovery",
        "temperature_ratio",
        "moisture_ratio",
        "exhaust_temperature_ratio",
        "ventilation_reduction",
    ],
);
pub(crate) static GEOMETRY: TableKeys = table(
    "unit.geometry",
    "[unit.geometry]",
    &["gap", "length", "width", "channels"],
    &["membrane_resistance"],
);
pub(crate) static WHEEL: TableKeys = table("unit.wheel", "[unit.wheel]", &[], &["capacity_ratio"]);
pub(crate) static FAN: TableKeys =
    table("unit.fan", "[unit.fan]", &[], &["power", "position", "kind", "supply_share", "curve"]);
pub(crate) static FAN_CURVE: TableKeys =
    table("unit.fan.curve", "[unit.fan.curve]", &["shut_off", "free_flow", "system"], &[]);
pub(crate) static FROST: TableKeys = table(
    "unit.frost",
    "[unit.frost]",
    &[],
    &[
        "strategy",
        "capacity",
        "to_cold_end",
        "hold_outdoor_air",
        "timetable",
        "returned",
        "preheat_to",
        "preheat_power",
        "start_below",
        "end_above",
    ],
);
pub(crate) static TIMETABLE: TableKeys =
    table("unit.frost.timetable", "[[unit.frost.timetable]]", &["at_or_below", "defrost", "run"], &[]);
pub(crate) static UPKEEP: TableKeys =
    table("unit.upkeep", "[unit.upkeep]", &[], &["wash_on", "drying", "fouling"]);
pub(crate) static FILTER: TableKeys = table("unit.filter", "[unit.filter]", &["interval"], &["load"]);
pub(crate) static FREE_COOLING: TableKeys =
    table("unit.bypass", "[unit.bypass]", &[], &["indoor_above", "colder_by", "supply_at_least"]);

const CARRIERS: &[&str] = &["electricity", "gas", "oil", "propane", "wood"];
pub(crate) static TARIFF: TableKeys =
    table("tariff", "[tariff]", &[], &["electricity", "gas", "oil", "propane", "wood", "carbon", "source"]);
pub(crate) static CARBON: TableKeys = table("tariff.carbon", "[tariff.carbon]", &[], CARRIERS);
pub(crate) static SOURCE_FACTORS: TableKeys = table("tariff.source", "[tariff.source]", &[], CARRIERS);
pub(crate) static ELECTRICITY: TableKeys = carrier("tariff.electricity", "[tariff.electricity]");
pub(crate) static GAS: TableKeys = carrier("tariff.gas", "[tariff.gas]");
pub(crate) static OIL: TableKeys = carrier("tariff.oil", "[tariff.oil]");
pub(crate) static PROPANE: TableKeys = carrier("tariff.propane", "[tariff.propane]");
pub(crate) static WOOD: TableKeys = carrier("tariff.wood", "[tariff.wood]");
pub(crate) static ELECTRICITY_BAND: TableKeys =
    band("tariff.electricity.band", "[[tariff.electricity.band]]");
pub(crate) static GAS_BAND: TableKeys = band("tariff.gas.band", "[[tariff.gas.band]]");
pub(crate) static OIL_BAND: TableKeys = band("tariff.oil.band", "[[tariff.oil.band]]");
pub(crate) static PROPANE_BAND: TableKeys = band("tariff.propane.band", "[[tariff.propane.band]]");
pub(crate) static WOOD_BAND: TableKeys = band("tariff.wood.band", "[[tariff.wood.band]]");
pub(crate) static ECONOMICS: TableKeys =
    table("economics", "[economics]", &[], &["discount_rate", "escalation", "horizon"]);
pub(crate) static BILLS: TableKeys =
    table("bills", "[bills]", &["heating"], &["other_uses", "electricity", "house"]);

const fn carrier(path: &'static str, header: &'static str) -> TableKeys {
    table(path, header, &[], &["price", "standing", "band"])
}

const fn band(path: &'static str, header: &'static str) -> TableKeys {
    table(path, header, &["name", "price"], &["from", "to", "days", "months"])
}

/// All tables.
pub(crate) static TABLES: [&TableKeys; 55] = [
    &ROOT,
    &STUDY,
    &REPORT,
    &SITE,
    &HOUSE,
    &ROOMS,
    &WINDOW,
    &ENVELOPE,
    &HEATING,
    &SET_BACK,
    &COOLING,
    &SET_UP,
    &BEDROOM,
    &AIRING,
    &PEOPLE,
    &MOISTURE,
    &HUMIDIFIER,
    &DEHUMIDIFIER,
    &COLD_CORNER,
    &VENTILATION,
    &EXTRACT_FROM,
    &SUPPLY_TO,
    &BLOWER,
    &DUCTS,
    &CONTROL,
    &BOOST,
    &AWAY,
    &UNIT,
    &CONDUCTANCE,
    &EFFECTIVENESS,
    &RATING,
    &GEOMETRY,
    &WHEEL,
    &FAN,
    &FAN_CURVE,
    &FROST,
    &TIMETABLE,
    &FILTER,
    &UPKEEP,
    &FREE_COOLING,
    &TARIFF,
    &CARBON,
    &SOURCE_FACTORS,
    &ELECTRICITY,
    &GAS,
    &OIL,
    &PROPANE,
    &WOOD,
    &ELECTRICITY_BAND,
    &GAS_BAND,
    &OIL_BAND,
    &PROPANE_BAND,
    &WOOD_BAND,
    &ECONOMICS,
    &BILLS,
];

/// Every key that a study may use, as a path: `house.people.count`, `unit.fan.power`; sorted.
pub fn known_keys() -> Vec<String> {
    let mut keys: Vec<String> =
        TABLES.iter().flat_map(|table| table.all().map(|key| join(table.path, key))).collect();
    keys.sort();
    keys
}

/// `path.key`, or `key` alone in the file itself.
pub(crate) fn join(path: &str, key: &str) -> String {
    if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") }
}

/// The headers of the tables, other than `not`, that know `key`.
pub(crate) fn headers_with(key: &str, not: &TableKeys) -> Vec<&'static str> {
    let knows = |table: &&&TableKeys| table.path != not.path && table.all().any(|known| known == key);
    TABLES.iter().filter(knows).map(|table| table.header).collect()
}

/// The one of `words` with the fewest slips from `word`: at most two, and at most a third of its letters.
pub fn nearest<'w>(word: &str, words: &[&'w str]) -> Option<&'w str> {
    // Longer than any key by far: no use in measuring it.
    const LONGEST: usize = 60;
    let plain: Vec<char> = word.chars().take(LONGEST + 1).map(plain_letter).collect();
    if plain.len() > LONGEST {
        return None;
    }
    let slips_of = |other: &&'w str| {
        let other: Vec<char> = other.chars().map(plain_letter).collect();
        (slips(&plain, &other), other.len())
    };
    let best = words.iter().map(|other| (slips_of(other), *other)).min_by_key(|((slips, _), _)| *slips);
    best.filter(|((slips, length), _)| *slips <= 2 && slips * 3 <= *length.max(&3)).map(|(_, other)| other)
}

fn plain_letter(c: char) -> char {
    if matches!(c, '-' | ' ') { '_' } else { c.to_ascii_lowercase() }
}

/// Letters to change, add, leave out or swap with the next, to turn one word into the other (the restricted
/// edit distance with transpositions).
fn slips(from: &[char], to: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut above: Vec<usize> = (0..=to.len()).collect();
    for (i, a) in from.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, b) in to.iter().enumerate() {
            let changed = above[j] + usize::from(a != b);
            let mut best = changed.min(above[j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && *a == to[j - 1] && from[i - 1] == *b {
                best = best.min(before[j - 1] + 1);
            }
            row.push(best);
        }
        before = std::mem::replace(&mut above, row);
    }
    above[to.len()]
}
