//! `new`: a commented site file and an empty test that can be filled in at once.

use crate::arguments::{NewArguments, Units};
use crate::failure::Failure;
use crate::files::write_new;
use crate::output;
use records::UnitSystem;
use std::path::PathBuf;
use std::process::ExitCode;

/// Runs the command.
pub(crate) fn run(arguments: &NewArguments) -> Result<ExitCode, Failure> {
    let name = arguments.name.trim();
    let folder = arguments
        .folder
        .clone()
        .unwrap_or_else(|| PathBuf::from(folder_name(name)));
    let today = jiff::ZonedDateTime::now().date();
    let (units, readings) = match arguments.units {
        Units::Us => (UnitSystem::Us, include_str!("new/readings-us.csv")),
        Units::Si => (UnitSystem::Si, include_str!("new/readings-si.csv")),
    };
    let site = records::site_template(units);
    let quoted = toml_string(name);
    let test = include_str!("new/test.toml");
    let files = [
        (
            "site.toml".to_owned(),
            site.replace(records::TEMPLATE_NAME, &quoted),
        ),
        (
            format!("{today}.toml"),
            test.replace("DATE", &today.to_string()),
        ),
        (format!("{today}.csv"), readings.to_owned()),
    ];
    let site_source = records::Source {
        name: "site.toml".to_owned(),
        text: files[0].1.clone(),
    };
    // The name is the only part that a person typed.
    records::read_site(&site_source).map_err(Failure::Input)?;
    let borrowed = files
        .each_ref()
        .map(|(name, text)| (name.as_str(), text.as_str()));
    write_new(&folder, &borrowed)?;
    let folder = folder.display();
    output::print(&format!(
        "Made {folder}: fill in site.toml and {today}.csv, then\n  headwright analyze {folder}/site.toml {folder}/{today}.toml\n"
    ))
}

/// Makes a folder's name of a site's: small letters, digits and dashes.
fn folder_name(name: &str) -> String {
    let dashed: String = name
        .chars()
        .map(|c| {
            if c.is_alphanumeric() {
                c.to_ascii_lowercase()
            } else {
                '-'
            }
        })
        .collect();
    let parts: Vec<&str> = dashed.split('-').filter(|part| !part.is_empty()).collect();
    if parts.is_empty() {
        "site".to_owned()
    } else {
        parts.join("-")
    }
}

/// Writes a string as TOML does.
fn toml_string(text: &str) -> String {
    let escaped = text.chars().map(|c| match c {
        '"' | '\\' => format!("\\{c}"),
        c if c.is_control() => format!("\\u{:04X}", u32::from(c)),
        c => c.to_string(),
    });
    format!("\"{}\"", escaped.collect::<String>())
}
