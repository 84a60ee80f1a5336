//! Names that no two records share.

/// The most characters of a name of a file without its ending: what a bundle takes, and room for a number.
const MOST_CHARACTERS: usize = 60;

/// Returns a name that is not taken: itself, else with the first free number behind it. Capitals tell no two names apart.
pub fn free_name(wanted: &str, is_taken: impl Fn(&str) -> bool) -> String {
    let wanted: String = wanted.chars().take(MOST_CHARACTERS).collect();
    let wanted = if wanted.trim().is_empty() {
        "untitled".to_owned()
    } else {
        wanted.trim().to_owned()
    };
    if !is_taken(&wanted) {
        return wanted;
    }
    let mut number = 2_u64;
    loop {
        let name = format!("{wanted}-{number}");
        if !is_taken(&name) || number == u64::MAX {
            return name;
        }
        number += 1;
    }
}

/// Whether two names are the same to a person and to every file system.
pub(super) fn same(one: &str, other: &str) -> bool {
    one.to_lowercase() == other.to_lowercase()
}

/// Makes a stem of a file's name of any text: what a bundle takes.
pub(crate) fn stem(text: &str) -> String {
    let kept = |c: char| {
        if c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.') {
            c
        } else {
            '-'
        }
    };
    let mapped: String = text.chars().take(MOST_CHARACTERS).map(kept).collect();
    let mut stem = String::new();
    for part in mapped.split('-').filter(|part| !part.is_empty()) {
        if !stem.is_empty() {
            stem.push('-');
        }
        stem.push_str(part);
    }
    stem.trim_matches(|c: char| !c.is_ascii_alphanumeric())
        .to_owned()
}

/// The name that the text of a site states; `None` where it cannot be read.
pub(crate) fn site_name(text: &str) -> Option<String> {
    let head: toml_edit::DocumentMut = text.parse().ok()?;
    let name = head.get("name")?.as_str()?.trim().to_owned();
    (!name.is_empty()).then_some(name)
}
