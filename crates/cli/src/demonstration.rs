//! The built-in demonstration: the starter study over its invented climate, both inside the program.

/// Name under which the demonstration's study is shown and filed.
pub(crate) const STUDY_NAME: &str = "demonstration.toml";
/// Name that the starter study gives its weather.
pub(crate) const WEATHER_NAME: &str = "frosthollow.csv";
/// An invented, severely cold climate.
pub(crate) const WEATHER: &[u8] = include_bytes!("../../../weather-samples/frosthollow.csv");
