//! What each key takes: dimension, range, choices. The ranges are wide: they catch slips, not unusual houses.
//!
//! Here: one constant for a key. Not here: the keys of a unit (`specs/unit.rs`, `specs/air.rs`), which table holds a key (`keys`), or
//! defaults (`read`). Read next: `specs/unit.rs`.

mod air;
mod control;
mod house;
mod indoors;
mod leakage;
mod money;
mod unit;
mod ventilation;

use crate::conditions::Conditions;
use crate::kinds::{Choice, Count, Facing, Line, Look, Mass, Measure, Number, Step, WholeHours};
use crate::model::{Carrier, HumidityBasis, Language, MassClass, PeopleProfile, ShowIn, Storage};
use crate::units::Dimension as D;

pub(crate) use air::*;
pub(crate) use control::*;
pub(crate) use house::*;
pub(crate) use indoors::*;
pub(crate) use leakage::*;
pub(crate) use money::*;
pub(crate) use unit::*;
pub(crate) use ventilation::*;

const fn measure(
    key: &'static str,
    dimension: D,
    (least, most): (&'static str, &'static str),
    example: &'static str,
) -> Measure {
    Measure { key, dimension, least, most, example }
}

const fn share(key: &'static str, (least, most): (f64, f64)) -> Number {
    Number { key, least, most }
}

pub(crate) const TITLE: Line =
    Line { key: "title", most_characters: 200, example: "Bungalow at Frosthollow" };
/// Filled in before anything else is read.
pub(crate) const CONDITIONS: Choice<&'static Conditions> =
    Choice { key: "conditions", options: &crate::conditions::ALL };
pub(crate) const SHOW_IN: Choice<ShowIn> =
    Choice { key: "show_in", options: &[("si", ShowIn::Si), ("ip", ShowIn::Ip)] };
pub(crate) const LANGUAGE: Choice<Language> =
    Choice { key: "language", options: &[("en", Language::English), ("fr", Language::French)] };
pub(crate) const TIME_STEP: Step = Step(measure("time_step", D::Duration, ("5 min", "1 h"), "15 min"));
pub(crate) const LEAD_IN: WholeHours = WholeHours(measure("lead_in", D::Duration, ("0 d", "60 d"), "21 d"));

pub(crate) const WEATHER: Line = Line { key: "weather", most_characters: 1000, example: "frosthollow.csv" };
pub(crate) const LATITUDE: Measure = measure("latitude", D::Angle, ("-90 deg", "90 deg"), "45.2 deg");
pub(crate) const LONGITUDE: Measure = measure("longitude", D::Angle, ("-180 deg", "180 deg"), "-75.7 deg");
pub(crate) const ELEVATION: Measure = measure("elevation", D::Length, ("-500 m", "5000 m"), "300 m");
pub(crate) const TIME_ZONE: Measure = measure("time_zone", D::Duration, ("-12 h", "14 h"), "-5 h");
pub(crate) const HUMIDITY_BASIS: Choice<HumidityBasis> = Choice {
    key: "humidity_basis",
    options: &[("water", HumidityBasis::Water), ("ice", HumidityBasis::Ice)],
};

pub(crate) const FLOOR_AREA: Measure = measure("floor_area", D::Area, ("5 m2", "5000 m2"), "140 m2");
pub(crate) const CEILING_HEIGHT: Measure = measure("ceiling_height", D::Length, ("1.8 m", "6 m"), "2.5 m");
pub(crate) const BEDROOMS: Count = Count { key: "bedrooms", least: 0, most: 50 };
pub(crate) const STOREYS: Count = Count { key: "storeys", least: 1, most: 10 };
pub(crate) const HEAT_LOSS: Measure = measure("heat_loss", D::Conductance, ("5 W/K", "10000 W/K"), "145 W/K");
pub(crate) const THERMAL_MASS: Mass = Mass {
    classes: Choice {
        key: "thermal_mass",
        options: &[
            ("very-light", MassClass::VeryLight),
            ("light", MassClass::Light),
            ("medium", MassClass::Medium),
            ("heavy", MassClass::Heavy),
            ("very-heavy", MassClass::VeryHeavy),
        ],
    },
    measure: measure("thermal_mass", D::HeatCapacityPerArea, ("20 kJ/m2K", "1000 kJ/m2K"), "165 kJ/m2K"),
};
pub(crate) const WET_SHARE: Number = share("wet_share", (0.02, 0.6));
pub(crate) const DOOR_EXCHANGE: Measure =
    measure("door_exchange", D::AirMassFlow, ("0 kg/s", "1 kg/s"), "0.03 kg/s");
pub(crate) const GAINS: Measure = measure("gains", D::HeatFlowPerArea, ("0 W/m2", "50 W/m2"), "2.4 W/m2");

const fn wall(azimuth_deg: f64) -> Look {
    Look { azimuth_deg, tilt_deg: 90.0 }
}
pub(crate) const FACING: Facing = Facing {
    names: Choice {
        key: "facing",
        options: &[
            ("north", wall(0.0)),
            ("north-east", wall(45.0)),
            ("east", wall(90.0)),
            ("south-east", wall(135.0)),
            ("south", wall(180.0)),
            ("south-west", wall(225.0)),
            ("west", wall(270.0)),
            ("north-west", wall(315.0)),
            ("up", Look { azimuth_deg: 0.0, tilt_deg: 0.0 }),
        ],
    },
    measure: measure("facing", D::Angle, ("0 deg", "360 deg"), "135 deg"),
};
pub(crate) const WINDOW_AREA: Measure = measure("area", D::Area, ("0.05 m2", "500 m2"), "9 m2");
pub(crate) const U_VALUE: Measure =
    measure("u_value", D::Transmittance, ("0.2 W/m2K", "7 W/m2K"), "1.6 W/m2K");
pub(crate) const SOLAR_GAIN: Number = share("solar_gain", (0.0, 1.0));

pub(crate) const SET_POINT: Measure = measure("set_point", D::Temperature, ("5 °C", "35 °C"), "20.5 °C");
pub(crate) const SOURCE: Choice<Carrier> = Choice {
    key: "source",
    options: &[
        ("gas", Carrier::Gas),
        ("electricity", Carrier::Electricity),
        ("oil", Carrier::Oil),
        ("propane", Carrier::Propane),
        ("wood", Carrier::Wood),
    ],
};
/// Up to 6 for a heat pump; what burns is held to [`MOST_EFFICIENCY_OF_FUEL`].
pub(crate) const EFFICIENCY: Number = share("efficiency", (0.3, 6.0));
/// Condensing boilers rated on the lower heating value reach 1.1.
pub(crate) const MOST_EFFICIENCY_OF_FUEL: f64 = 1.1;
pub(crate) const COP: Number = share("cop", (0.3, 10.0));
pub(crate) const APPARATUS_DEW_POINT: Measure =
    measure("apparatus_dew_point", D::Temperature, ("1 °C", "20 °C"), "11 °C");
pub(crate) const BYPASS: Number = share("bypass", (0.0, 0.5));

pub(crate) const PEOPLE_COUNT: Count = Count { key: "count", least: 0, most: 100 };
pub(crate) const PROFILE: Choice<PeopleProfile> = Choice {
    key: "profile",
    options: &[("working-week", PeopleProfile::WorkingWeek), ("always-home", PeopleProfile::AlwaysHome)],
};
pub(crate) const PERSON_HEAT: Measure = measure("heat", D::Power, ("0 W", "300 W"), "70 W");
pub(crate) const PERSON_MOISTURE: Measure = measure("moisture", D::WaterRate, ("0 g/h", "300 g/h"), "50 g/h");

const fn water(key: &'static str, example: &'static str) -> Measure {
    measure(key, D::WaterRate, ("0 kg/day", "50 kg/day"), example)
}
pub(crate) const SHOWERS: Measure = water("showers", "1.6 kg/day");
pub(crate) const COOKING: Measure = water("cooking", "2.2 kg/day");
pub(crate) const LAUNDRY: Measure = water("laundry", "0.5 kg/day");
pub(crate) const PLANTS: Measure = water("plants", "0.4 kg/day");
pub(crate) const STORAGE: Choice<Storage> = Choice {
    key: "storage",
    options: &[
        ("furnished", Storage::Furnished),
        ("timber-lined", Storage::TimberLined),
        ("none", Storage::None),
    ],
};
