//! The list of sites as it is shown, made once for each change of the library: hundreds of sites with thousands of tests
//! are listed and searched without looking at all of them for each.

use super::order::folded;
use super::{Due, Id, Library, Moment, SiteRecord, TestRecord, due};
use std::collections::BTreeMap;

/// Which sites.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Which {
    /// Those that are worked at.
    #[default]
    Active,
    /// Those that were put away.
    Archived,
}

/// A site as its card shows it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Card {
    /// Which site.
    pub id: Id,
    /// What it is called.
    pub name: String,
    /// How many tests it has.
    pub tests: usize,
    /// What the last of them is called.
    pub last: Option<String>,
    /// Whether one of them is still being done.
    pub is_open: bool,
    /// When to come back.
    pub due: Option<Due>,
    changed: Moment,
    is_archived: bool,
    /// Its name and those of its tests, as a search reads them.
    words: String,
}

/// Every site that is not deleted, the one first that was worked at last.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Shelf {
    cards: Vec<Card>,
}

impl Shelf {
    /// Makes the shelf of a library.
    ///
    /// # Inputs
    /// `today`, as `2026-11-28`.
    pub fn of(library: &Library, today: &str) -> Self {
        let mut tests: BTreeMap<&Id, Vec<&TestRecord>> = BTreeMap::new();
        for test in &library.tests {
            tests.entry(&test.site_id).or_default().push(test);
        }
        let sites = library.sites.iter().filter(|site| site.deleted.is_none());
        let mut cards: Vec<Card> = sites
            .map(|site| {
                let tests = tests.get(&site.id).map_or(&[][..], Vec::as_slice);
                Card::of(site, tests, today)
            })
            .collect();
        cards.sort_by(|a, b| {
            (b.changed.cmp(&a.changed))
                .then_with(|| a.name.cmp(&b.name))
                .then_with(|| a.id.cmp(&b.id))
        });
        Self { cards }
    }

    /// Whether there is no site, put away or not.
    pub fn is_empty(&self) -> bool {
        self.cards.is_empty()
    }

    /// Counts the sites that were put away.
    pub fn archived(&self) -> usize {
        self.cards.iter().filter(|card| card.is_archived).count()
    }

    /// Lists the sites whose name, or the names of whose tests, have every word of a search. Capitals and the marks on
    /// letters do not count.
    pub fn found(&self, search: &str, which: Which) -> Vec<&Card> {
        let words: Vec<String> = search.split_whitespace().map(folded).collect();
        let is_wanted = |card: &&Card| {
            card.is_archived == (which == Which::Archived)
                && words.iter().all(|word| card.words.contains(word))
        };
        self.cards.iter().filter(is_wanted).collect()
    }
}

impl Card {
    fn of(site: &SiteRecord, tests: &[&TestRecord], today: &str) -> Self {
        // Of a test that was deleted the moment counts still: it was work at the site.
        let changes = tests.iter().map(|test| test.changed);
        let changed = changes.fold(site.changed, Moment::max);
        let mut names: Vec<&str> = Vec::with_capacity(tests.len());
        let kept = tests.iter().filter(|test| test.deleted.is_none());
        let mut is_open = false;
        for test in kept {
            names.push(&test.name);
            is_open |= test.open;
        }
        let last = names.iter().max().map(|name| (*name).to_owned());
        // Words do not reach from one name into the next.
        let all = std::iter::once(site.name.as_str()).chain(names.iter().copied());
        let words: Vec<String> = all.map(folded).collect();
        Self {
            id: site.id.clone(),
            name: site.name.clone(),
            tests: names.len(),
            last,
            is_open,
            due: due(&site.care, today),
            changed,
            is_archived: site.care.archived.is_some(),
            words: words.join("\n"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::library::{Care, Revision};

    fn site(number: u64) -> SiteRecord {
        SiteRecord {
            id: Id(format!("s{number}")),
            name: format!("Café Road {number}"),
            text: String::new(),
            created: Moment(0),
            changed: Moment(number),
            revision: Revision::default(),
            deleted: None,
            care: Care::default(),
        }
    }

    fn test(site: u64, name: &str, changed: u64) -> TestRecord {
        TestRecord {
            id: Id(format!("{site}-{name}")),
            site_id: Id(format!("s{site}")),
            name: name.to_owned(),
            head_text: String::new(),
            readings: None,
            changed: Moment(changed),
            revision: Revision::default(),
            open: false,
            deleted: None,
        }
    }

    fn names(cards: &[&Card]) -> Vec<String> {
        cards.iter().map(|card| card.id.0.clone()).collect()
    }

    #[test]
    fn the_site_worked_at_last_stands_first_with_its_last_test() {
        let library = Library {
            sites: vec![site(1), site(2), site(3)],
            tests: vec![test(1, "2026-05-16", 9), test(1, "2026-06-02", 4)],
            ..Library::default()
        };
        let shelf = Shelf::of(&library, "2026-11-28");
        let found = shelf.found("", Which::Active);
        assert_eq!(names(&found), ["s1", "s3", "s2"]);
        assert_eq!(
            (found[0].tests, found[0].last.as_deref()),
            (2, Some("2026-06-02"))
        );
    }

    #[test]
    fn a_search_agrees_with_that_of_the_library() {
        let library = Library {
            sites: (0..20).map(site).collect(),
            tests: (0..20)
                .map(|at| test(at, &format!("2026-{:02}-01", at % 12 + 1), at))
                .collect(),
            ..Library::default()
        };
        let shelf = Shelf::of(&library, "2026-11-28");
        for search in ["", "cafe", "CAFÉ 3", "2026-05", "road 2026-03", "nothing"] {
            let slow: Vec<String> = crate::library::found(&library, search)
                .iter()
                .map(|site| site.id.0.clone())
                .collect();
            assert_eq!(names(&shelf.found(search, Which::Active)), slow, "{search}");
        }
    }

    #[test]
    fn what_was_put_away_or_deleted_is_out_of_the_list() {
        let mut library = Library {
            sites: vec![site(1), site(2), site(3)],
            tests: Vec::new(),
            ..Library::default()
        };
        library.sites[0].care.archived = Some(Moment(5));
        library.sites[1].deleted = Some(Moment(5));
        let shelf = Shelf::of(&library, "2026-11-28");
        assert_eq!(names(&shelf.found("", Which::Active)), ["s3"]);
        assert_eq!(names(&shelf.found("", Which::Archived)), ["s1"]);
        assert_eq!(shelf.archived(), 1);
    }
}
