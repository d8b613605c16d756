//! What each key of the envelope, the plant and the ducts takes.
//!
//! Here: one constant for a key. Not here: size, windows and people (`specs.rs`), defaults (`read`). Read next: `read/fabric.rs`.

use super::{measure, share};
use crate::kinds::{Choice, ClockHour, Line, Measure, Number};
use crate::model::{Foundation, UnitLocation};
use crate::units::Dimension as D;

pub(crate) const PART_NAME: Line = Line { key: "name", most_characters: 60, example: "roof" };
pub(crate) const PART_AREA: Measure = measure("area", D::Area, ("0.05 m2", "5000 m2"), "140 m2");
pub(crate) const PART_U_VALUE: Measure =
    measure("u_value", D::Transmittance, ("0.05 W/m2K", "7 W/m2K"), "0.2 W/m2K");
pub(crate) const PART_CONDUCTANCE: Measure =
    measure("conductance", D::Conductance, ("0.01 W/K", "10000 W/K"), "28 W/K");

/// What is on the other side of a part, before its temperature factor is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    Outdoors,
    Ground,
    Unheated,
}
pub(crate) const TO_SIDE: Choice<Side> = Choice {
    key: "to",
    options: &[("outdoors", Side::Outdoors), ("ground", Side::Ground), ("unheated", Side::Unheated)],
};
pub(crate) const TEMPERATURE_FACTOR: Number = share("temperature_factor", (0.0, 1.0));
pub(crate) const FOUNDATION: Choice<Foundation> = Choice {
    key: "foundation",
    options: &[
        ("slab", Foundation::Slab),
        ("basement", Foundation::Basement),
        ("crawlspace", Foundation::Crawlspace),
    ],
};
pub(crate) const GROUND_LOSS: Measure =
    measure("ground_loss", D::Conductance, ("0 W/K", "5000 W/K"), "25 W/K");

pub(crate) const CAPACITY: Measure = measure("capacity", D::Power, ("100 W", "1000000 W"), "9 kW");
pub(crate) const OTHER_TEMPERATURE: Measure =
    measure("temperature", D::Temperature, ("5 °C", "35 °C"), "17 °C");
pub(crate) const FROM_HOUR: ClockHour = ClockHour { key: "from", example: "22:00" };
pub(crate) const TO_HOUR: ClockHour = ClockHour { key: "to", example: "06:00" };

pub(crate) const COLD_INDOORS: Measure = duct("cold_indoors");
pub(crate) const WARM_OUTDOORS: Measure = duct("warm_outdoors");

const fn duct(key: &'static str) -> Measure {
    measure(key, D::Conductance, ("0 W/K", "100 W/K"), "3 W/K")
}

pub(crate) const LOCATION: Choice<UnitLocation> = Choice {
    key: "location",
    options: &[
        ("heated-room", UnitLocation::HeatedRoom),
        ("cellar", UnitLocation::Cellar),
        ("attic", UnitLocation::Attic),
        ("garage", UnitLocation::Garage),
    ],
};
