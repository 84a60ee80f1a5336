//! How the page looks and speaks.

use super::{Phrase, phrase};

pub(in crate::page) const TITLE: Phrase = phrase!("Settings");
/// In every language that there is, for who cannot read the one that is set.
pub(in crate::page) const LANGUAGE: &str = "Language · Idioma";
pub(in crate::page) const UNITS: Phrase = phrase!("Units");
pub(in crate::page) const UNITS_MORE: Phrase =
    phrase!("For what the page prints. What was typed keeps its own units.");
pub(in crate::page) const UNITS_SITE: Phrase = phrase!("As each site says");
pub(in crate::page) const UNITS_US: Phrase = phrase!("gpm, ft, psi");
pub(in crate::page) const UNITS_SI: Phrase = phrase!("m³/h, m, kPa");
pub(in crate::page) const THEME: Phrase = phrase!("Colours");
pub(in crate::page) const THEME_SYSTEM: Phrase = phrase!("As the device");
pub(in crate::page) const THEME_LIGHT: Phrase = phrase!("Light");
pub(in crate::page) const THEME_DARK: Phrase = phrase!("Dark");
pub(in crate::page) const THEME_SUN: Phrase = phrase!("Full sun");
pub(in crate::page) const BAND: Phrase =
    phrase!("Show the expected range before a reading is typed");
pub(in crate::page) const BAND_MORE: Phrase =
    phrase!("Off is better for the test: who knows what should come out tends to read it.");
pub(in crate::page) const KEPT: Phrase = phrase!("Kept on this device at once.");
