//! Names that carry the hash of what they name, so that a browser keeps a file for good.
//!
//! A file is named after its content, and its content holds the names of others: so those that refer to none are
//! named first. A reference is `./name.ext`, or `'name.ext'` as the glue writes it. What a browser asks for by a
//! fixed name keeps it.

use sha2::{Digest, Sha256};

use crate::error::Error;
use crate::files::Files;

/// What a browser asks for by name.
const FIXED: [&str; 3] = ["index.html", "manifest.webmanifest", "service-worker.js"];
/// How many digits of the hash a name carries; `server` knows a hashed file by them.
const DIGITS: usize = 16;
/// The kinds of file that can refer to others.
const TEXT: [&str; 4] = [".html", ".js", ".css", ".webmanifest"];

/// Gives every file its hashed name, and every reference to it.
pub(crate) fn hashed(mut files: Files) -> Result<Files, Error> {
    let mut done = Files::new();
    while !files.is_empty() {
        let ready: Vec<String> = files
            .keys()
            .filter(|name| {
                let mut waiting = files.keys().filter(|other| other != name);
                !waiting.any(|other| refers(name, &files[*name], other))
            })
            .cloned()
            .collect();
        if ready.is_empty() {
            return Err(Error::Circle(files.into_keys().collect()));
        }
        for name in ready {
            let Some(bytes) = files.remove(&name) else {
                continue;
            };
            let new = if FIXED.contains(&name.as_str()) {
                name.clone()
            } else {
                with_hash(&name, &bytes)
            };
            for (other, bytes) in &mut files {
                rename(other, bytes, &name, &new);
            }
            done.insert(new, bytes);
        }
    }
    Ok(done)
}

/// Puts the hash before the extension.
fn with_hash(name: &str, bytes: &[u8]) -> String {
    let hash = hexadecimal(bytes);
    match name.rsplit_once('.') {
        Some((stem, extension)) => format!("{stem}.{hash}.{extension}"),
        None => format!("{name}.{hash}"),
    }
}

/// Writes the first digits of the hash of some bytes.
pub(crate) fn hexadecimal(bytes: &[u8]) -> String {
    let digest = Sha256::digest(bytes);
    let digit = |half: u8| char::from_digit(u32::from(half), 16).unwrap_or_default();
    let digits = digest
        .iter()
        .flat_map(|byte| [digit(byte >> 4), digit(byte & 15)]);
    digits.take(DIGITS).collect()
}

fn text<'a>(name: &str, bytes: &'a [u8]) -> Option<&'a str> {
    let is_text = TEXT.iter().any(|extension| name.ends_with(extension));
    is_text.then(|| std::str::from_utf8(bytes).ok()).flatten()
}

/// The ways in which a file is referred to.
fn references(name: &str) -> [String; 2] {
    [format!("\"./{name}\""), format!("'{name}'")]
}

fn refers(name: &str, bytes: &[u8], other: &str) -> bool {
    let written = |text: &str| {
        references(other)
            .iter()
            .any(|reference| text.contains(reference))
    };
    text(name, bytes).is_some_and(written)
}

fn rename(name: &str, bytes: &mut Vec<u8>, old: &str, new: &str) {
    let Some(text) = text(name, bytes) else {
        return;
    };
    let mut text = text.to_owned();
    for (old, new) in references(old).iter().zip(references(new)) {
        text = text.replace(old, &new);
    }
    *bytes = text.into_bytes();
}

/// Refuses a reference to a file that is not there: in the field it would be a missing picture or a dead page.
pub(crate) fn known(written: &Files, files: &Files) -> Result<(), Error> {
    for (name, bytes) in written {
        let text = text(name, bytes).unwrap_or_default();
        for rest in text.split("\"./").skip(1) {
            let wanted = rest.split('"').next().unwrap_or_default();
            if !wanted.is_empty() && !files.contains_key(wanted) {
                return Err(Error::NoSuchFile {
                    name: name.clone(),
                    wanted: wanted.to_owned(),
                });
            }
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn files(list: &[(&str, &str)]) -> Files {
        list.iter()
            .map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_owned()))
            .collect()
    }

    #[test]
    fn a_changed_leaf_changes_every_name_above_it() {
        let names = |leaf: &str| {
            let made = hashed(files(&[
                ("index.html", "<script src=\"./boot.js\">"),
                ("boot.js", "import \"./app.js\""),
                ("app.js", "new URL('app_bg.wasm')"),
                ("app_bg.wasm", leaf),
            ]));
            made.unwrap()
        };
        let (one, other) = (names("1"), names("2"));
        assert_eq!(one.len(), 4);
        assert_eq!(
            one.keys()
                .filter(|name| other.contains_key(*name))
                .collect::<Vec<_>>(),
            ["index.html"]
        );
        let boot = one.keys().find(|name| name.starts_with("boot.")).unwrap();
        let index = String::from_utf8(one["index.html"].clone()).unwrap();
        assert_eq!(index, format!("<script src=\"./{boot}\">"));
    }

    #[test]
    fn a_reference_to_nothing_is_named() {
        let written = files(&[("index.html", "\"./gone.css\"")]);
        let error = known(&written, &written).unwrap_err();
        assert_eq!(
            error.to_string(),
            "index.html refers to gone.css, which is not in the folder"
        );
    }

    #[test]
    fn a_circle_is_named() {
        let error = hashed(files(&[("a.js", "\"./b.js\""), ("b.js", "\"./a.js\"")])).unwrap_err();
        assert_eq!(error.to_string(), "these refer to each other: a.js, b.js");
    }
}
