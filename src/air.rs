//! The atmosphere: standard, station weather, and ranges of weather.
