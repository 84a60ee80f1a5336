//! How the page looks and speaks.

pub(in crate::page) const TITLE: &str = "Settings";
pub(in crate::page) const UNITS: &str = "Units";
pub(in crate::page) const UNITS_MORE: &str =
    "For what the page prints. What was typed keeps its own units.";
pub(in crate::page) const UNITS_SITE: &str = "As each site says";
pub(in crate::page) const UNITS_US: &str = "gpm, ft, psi";
pub(in crate::page) const UNITS_SI: &str = "m³/h, m, kPa";
pub(in crate::page) const THEME: &str = "Colours";
pub(in crate::page) const THEME_SYSTEM: &str = "As the device";
pub(in crate::page) const THEME_LIGHT: &str = "Light";
pub(in crate::page) const THEME_DARK: &str = "Dark";
pub(in crate::page) const THEME_SUN: &str = "Full sun";
pub(in crate::page) const BAND: &str = "Show the expected range before a reading is typed";
pub(in crate::page) const BAND_MORE: &str =
    "Off is better for the test: who knows what should come out tends to read it.";
pub(in crate::page) const KEPT: &str = "Kept on this device at once.";
