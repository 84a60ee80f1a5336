//! Changes of a pad that the person keeps, each as the text of the file that `compare` and `report` take.

use super::names::{same, site_name, stem};
use super::{Id, Library, Moment, Revision, SiteRecord, free_name};
use records::{Problem, SITE_FILE, Source, read_changes, read_site};
use serde::{Deserialize, Serialize};

/// A change as it is kept.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ChangeRecord {
    /// Which one.
    pub id: Id,
    /// The site that would be changed.
    pub site_id: Id,
    /// The stem of its file's name.
    pub name: String,
    /// The text of the file.
    pub text: String,
    /// When it was changed last.
    pub changed: Moment,
    /// How often it was written.
    pub revision: Revision,
    /// When it was deleted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub deleted: Option<Moment>,
}

impl ChangeRecord {
    /// Makes the record of a change under a file name of its own among those of the site.
    pub fn new(library: &Library, site: &Id, (id, text): (Id, String), now: Moment) -> Self {
        let wanted = stem(&site_name(&text).unwrap_or_default().to_lowercase());
        let wanted = if wanted.is_empty() { "change" } else { &wanted };
        Self {
            id,
            site_id: site.clone(),
            name: free_file_name(library, site, wanted),
            text,
            changed: now,
            revision: Revision::default(),
            deleted: None,
        }
    }

    /// What the person calls it.
    pub fn title(&self) -> String {
        site_name(&self.text).unwrap_or_else(|| self.name.clone())
    }

    /// The file.
    pub fn source(&self) -> Source {
        Source {
            name: format!("{}.toml", self.name),
            text: self.text.clone(),
        }
    }
}

/// A stem that no other file of the site has: they stand side by side in a bundle.
fn free_file_name(library: &Library, site: &Id, wanted: &str) -> String {
    free_name(wanted, |name| {
        let changes = library.changes_of(site).into_iter();
        let tests = library.tests_of(site).into_iter();
        same(name, SITE_FILE.trim_end_matches(".toml"))
            || changes.into_iter().any(|other| same(&other.name, name))
            || tests.into_iter().any(|other| same(&other.name, name))
    })
}

/// Takes the text of a change under a name of the person's, as a record; nothing is kept yet.
///
/// # Errors
/// What is wrong in it: a name that is none or that another change of the site has, or that the site does not fit.
pub fn change_to_keep(
    library: &Library,
    site: &SiteRecord,
    (text, name): (&str, &str),
    (id, now): (Id, Moment),
) -> Result<ChangeRecord, Vec<Problem>> {
    let parsed = read_site(&site.source())?;
    let text = super::changes::with_name(text, name.trim());
    let new = ChangeRecord::new(library, &site.id, (id, text), now);
    let kept = library.changes_of(&site.id).into_iter();
    // Those that do not fit the site any more keep no new one away.
    let fitting = kept
        .map(ChangeRecord::source)
        .filter(|source| records::read_change(source, &parsed).is_ok());
    let all: Vec<Source> = fitting.chain([new.source()]).collect();
    read_changes(&all, &parsed)?;
    Ok(new)
}
