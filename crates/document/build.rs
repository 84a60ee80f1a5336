//! Makes the catalogue of each language into a sorted table, and refuses one that could not be filled.

use std::collections::BTreeSet;
use std::error::Error;
use std::path::Path;
use std::{env, fs};

fn main() -> Result<(), Box<dyn Error>> {
    println!("cargo:rerun-if-changed=build.rs");
    println!("cargo:rerun-if-changed=languages");
    let out = env::var("OUT_DIR")?;
    let table = table(Path::new("languages/es.po"))?;
    fs::write(Path::new(&out).join("spanish.txt"), table)?;
    Ok(())
}

/// Writes the texts of a catalogue, sorted by source and context: these two and the translation of each, all parted by NUL.
fn table(path: &Path) -> Result<String, Box<dyn Error>> {
    let catalogue = polib::po_file::parse(path)?;
    let mut entries = Vec::new();
    for message in catalogue.messages() {
        let (source, said) = (message.msgid(), message.msgstr()?);
        let wrong = if said.is_empty() {
            Some("is not translated")
        } else if message.is_fuzzy() {
            Some("is marked fuzzy: look at it and take the mark away")
        } else if places(source) != places(said) {
            Some("has other places than its translation")
        } else if edges(source) != edges(said) {
            Some("begins or ends with other spaces than its translation")
        } else {
            None
        };
        if let Some(wrong) = wrong {
            return Err(format!("{}: \"{source}\" {wrong}", path.display()).into());
        }
        entries.push((source, message.msgctxt().unwrap_or_default(), said));
    }
    entries.sort_unstable();
    let texts = entries
        .iter()
        .flat_map(|(source, context, said)| [*source, context, said]);
    let texts: Vec<&str> = texts.collect();
    match texts.iter().find(|text| text.contains('\0')) {
        Some(text) => Err(format!("{}: {text:?} holds a NUL", path.display()).into()),
        None => Ok(texts.join("\0")),
    }
}

/// Lists the places of a text.
fn places(text: &str) -> BTreeSet<&str> {
    let starts = text.split('{').skip(1);
    starts
        .filter_map(|rest| Some(rest.split_once('}')?.0))
        .collect()
}

/// Returns the spaces at both ends of a text, by which it is put together with others.
fn edges(text: &str) -> (&str, &str) {
    let start = text.len() - text.trim_start().len();
    let end = text.trim_end().len();
    (&text[..start], text.get(end..).unwrap_or_default())
}
