//! The tests that are loaded with the page, and those that are loaded once a screen asks for them. A list needs no more of a
//! test than its entry; where an entry and a record differ, the record is right.

use super::{Keeper, take_notes};
use crate::page::browser;
use crate::page::stores::AnyStore;
use app::library::{Id, TestEntry, TestRecord};
use app::store::codec::{entries, entry_of};
use app::store::{Kind, Store, journal};
use leptos::prelude::*;
use std::collections::BTreeSet;
use std::rc::Rc;

/// How many of the tests that are still being done are loaded with the page: the way to a first result looks into them.
const MOST_OPEN: usize = 20;

impl Keeper {
    /// Loads what the page needs before any screen asks: the entries of all tests, and the texts of those that are open or that
    /// there are notes of. Entries that are missing, or were written in another form, are made anew from the records.
    pub(super) async fn first_tests(self, store: &AnyStore) -> (Vec<TestRecord>, Vec<TestEntry>) {
        let (mut unread, lacking) = entries(&self.told(store.load_entries().await));
        let mut kept = Vec::new();
        if !lacking.is_empty() {
            let anew = store.index_anew(&lacking, entry_of).await;
            // Where there is no room for entries the list is made of the records.
            kept = match anew {
                Ok(kept) => kept,
                Err(_) => self.told(store.load_tests(&lacking).await),
            };
        }
        let wanted = first_wanted(&unread);
        kept.extend(self.told(store.load_tests(&wanted).await));
        let mut tests: Vec<TestRecord> = self.read(store, kept).await;
        for test in &tests {
            self.start_queue::<TestRecord>(&test.id, test.revision);
        }
        unread.retain(|entry| !wanted.contains(&entry.id));
        take_notes(&mut tests);
        (tests, unread)
    }

    /// Whether the tests of a site are loaded; of every site where none is named.
    pub(in crate::page) fn has_tests(self, site: Option<&Id>) -> bool {
        self.library
            .with_untracked(|library| library.unread_of(site).is_empty())
    }

    /// Does something once the tests of a site are loaded, of every site where none is named: at once where they are.
    pub(in crate::page) fn with_tests(self, site: Option<Id>, act: Box<dyn FnOnce()>) {
        if self.has_tests(site.as_ref()) {
            act();
            return;
        }
        wasm_bindgen_futures::spawn_local(async move {
            if self.load_tests(site.as_ref()).await {
                act();
            }
        });
    }

    /// Loads the tests of a site; whether that could be done.
    async fn load_tests(self, site: Option<&Id>) -> bool {
        let store = self.inner.with_value(|inner| Rc::clone(&inner.store));
        let asked = self
            .library
            .with_untracked(|library| library.unread_of(site));
        let kept = match store.load_tests(&asked).await {
            Ok(kept) => kept,
            Err(error) => {
                self.trouble.set(Some(error));
                return false;
            }
        };
        let loaded: Vec<TestRecord> = self.read(&store, kept).await;
        let mut taken = Vec::new();
        self.library
            .update(|library| taken = library.take_loaded(&asked, loaded));
        for test in &taken {
            self.start_queue::<TestRecord>(&test.id, test.revision);
        }
        self.loads.update(|loads| *loads = loads.wrapping_add(1));
        let stale = taken.into_iter().filter(|test| test.was_stale);
        let stale: Vec<Id> = stale.map(|test| test.id).collect();
        if !stale.is_empty() {
            // What cannot be written now is written with the next change of the test.
            let _ = store.index_anew(&stale, entry_of).await;
        }
        true
    }
}

/// The tests that are loaded with the page: those with notes, and the open ones that were changed last.
fn first_wanted(entries: &[TestEntry]) -> Vec<Id> {
    let keys = browser::remembered_keys();
    let noted = keys
        .iter()
        .filter_map(|key| journal::id_of(key, Kind::Test));
    let noted: BTreeSet<Id> = noted.collect();
    let mut open: Vec<&TestEntry> = entries.iter().filter(|entry| entry.open).collect();
    numerics::order::sort_by_key(&mut open, |entry| std::cmp::Reverse(entry.changed));
    open.truncate(MOST_OPEN);
    let noted = entries.iter().filter(|entry| noted.contains(&entry.id));
    let wanted = noted.chain(open).map(|entry| entry.id.clone());
    wanted.collect::<BTreeSet<Id>>().into_iter().collect()
}
