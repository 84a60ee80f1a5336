//! The columns of a new test: what the site's meters read, else what every pad can.

use super::DraftColumn;
use records::unit::Unit;
use records::{Measured, Meter, MeterOf, Site, Tap, UnitSystem};

/// What is read at every pad, in the order in which a person walks it.
const USUAL: [Measured; 5] = [
    Measured::Flow,
    Measured::Power,
    Measured::Current,
    Measured::FilterPressure,
    Measured::InletVacuum,
];

/// Makes the columns of a new test: one for each meter of the site, and one for each usual quantity without a meter.
///
/// # Inputs
/// The site, and the units to read in where the site names none.
pub fn default_columns(site: &Site, units: UnitSystem) -> Vec<DraftColumn> {
    let system = site.units.unwrap_or(units);
    let mut columns = Vec::new();
    for measured in Measured::ALL {
        let meters: Vec<&Meter> = site
            .meters
            .iter()
            .filter(|meter| measured_by(meter) == measured)
            .collect();
        let of = |meter: &&Meter| {
            let named = measured == Measured::Flow || !is_alone(meter, site);
            column(measured, named.then(|| meter.id.clone()), system)
        };
        columns.extend(meters.iter().filter_map(of));
        if meters.is_empty() && USUAL.contains(&measured) {
            columns.extend(column(measured, None, system));
        }
    }
    columns
}

/// Writes the heading of a column.
pub fn heading(measured: Measured, meter: Option<&str>, unit: &Unit) -> String {
    let word = measured.word();
    match meter {
        Some(meter) => format!("{word} {meter} [{}]", unit.name),
        None => format!("{word} [{}]", unit.name),
    }
}

/// Whether a heading without a name can only mean this meter.
fn is_alone(meter: &Meter, site: &Site) -> bool {
    let alike = |other: &&Meter| other.measures == meter.measures;
    site.meters.iter().filter(alike).count() == 1
}

/// Which column a meter is read in.
fn measured_by(meter: &Meter) -> Measured {
    let at_inlet = matches!(meter.tap, Some(Tap::PumpPot | Tap::SuctionPipe));
    match meter.measures {
        MeterOf::Flow => Measured::Flow,
        MeterOf::Power => Measured::Power,
        MeterOf::Current => Measured::Current,
        MeterOf::Voltage => Measured::Voltage,
        MeterOf::Vacuum => Measured::InletVacuum,
        MeterOf::Pressure if at_inlet => Measured::InletPressure,
        MeterOf::Pressure => Measured::FilterPressure,
    }
}

fn column(measured: Measured, meter: Option<String>, system: UnitSystem) -> Option<DraftColumn> {
    let unit = Unit::find(measured.dimension(), unit_name(measured, system))?;
    Some(DraftColumn {
        heading: heading(measured, meter.as_deref(), unit),
        measured,
        meter,
        unit,
    })
}

/// The unit that the dials of such a pad are marked in.
fn unit_name(measured: Measured, system: UnitSystem) -> &'static str {
    match (measured, system) {
        (Measured::Speed, _) => "rpm",
        (Measured::Flow, UnitSystem::Us) => "gpm",
        (Measured::Flow, UnitSystem::Si) => "m3/h",
        (Measured::Power, _) => "W",
        (Measured::Current, _) => "A",
        (Measured::Voltage, _) => "V",
        (Measured::InletVacuum, UnitSystem::Us) => "inHg",
        (Measured::FilterPressure | Measured::InletPressure, UnitSystem::Us) => "psi",
        (Measured::FilterPressure | Measured::InletPressure | Measured::InletVacuum, _) => "kPa",
        (Measured::Head, UnitSystem::Us) => "ft",
        (Measured::Head, UnitSystem::Si) => "m",
        (Measured::Time, _) => "s",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use records::{Source, read_site};

    fn site(text: &str) -> Site {
        read_site(&Source {
            name: "site.toml".to_owned(),
            text: text.to_owned(),
        })
        .unwrap()
    }

    fn headings(site: &Site) -> Vec<String> {
        let columns = default_columns(site, UnitSystem::Si);
        columns.into_iter().map(|column| column.heading).collect()
    }

    #[test]
    fn the_demo_gets_the_columns_of_its_own_readings() {
        let pad = crate::demo::pad();
        let first = pad.tests[0].readings.as_ref().unwrap();
        let typed = first.text.lines().next().unwrap();
        let site = site(&pad.site.text);
        assert_eq!(
            format!("speed [rpm],{},note", headings(&site).join(",")),
            typed
        );
    }

    #[test]
    fn a_bare_site_gets_the_usual_ones() {
        let bare = "format = 1\nname = \"A\"\n[pump]\nspeed = { max = \"3450 rpm\" }\n";
        let expected = [
            "flow [m3/h]",
            "power [W]",
            "current [A]",
            "filter pressure [kPa]",
            "inlet vacuum [kPa]",
        ];
        assert_eq!(headings(&site(bare)), expected);
    }

    #[test]
    fn two_meters_of_one_kind_are_told_apart() {
        let two = "format = 1\nname = \"A\"\n[pump]\nspeed = { max = \"3450 rpm\" }\n\
            [[meter]]\nid = \"x\"\nmeasures = \"power\"\n[[meter]]\nid = \"y\"\nmeasures = \"power\"\n";
        let headings = headings(&site(two));
        assert_eq!(headings[1..3], ["power x [W]", "power y [W]"]);
    }
}
