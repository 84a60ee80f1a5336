//! The commented site file that a person fills in, in either system of units: one text for the command and the page.

use crate::UnitSystem;

/// What stands in [`site_template`] for the name of the site, its quotes included.
pub const TEMPLATE_NAME: &str = "\"NAME\"";

/// Returns the text. It is a sound site file, whose examples stand behind `#`.
pub fn site_template(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Us => include_str!("template/site-us.toml"),
        UnitSystem::Si => include_str!("template/site-si.toml"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Source, read_site};

    #[test]
    fn the_text_reads_as_a_site_in_its_own_units() {
        for units in [UnitSystem::Us, UnitSystem::Si] {
            let text = site_template(units).to_owned();
            assert!(text.contains(TEMPLATE_NAME));
            let name = "site.toml".to_owned();
            assert_eq!(
                read_site(&Source { name, text }).unwrap().units,
                Some(units)
            );
        }
    }
}
