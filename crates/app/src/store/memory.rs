//! A store that keeps everything in memory: for tests, and where a browser refuses all storage.

use super::{Durability, Entries, Kept, Kind, Store, StoreError};
use crate::library::{Id, Revision};
use std::cell::RefCell;
use std::collections::BTreeMap;

/// A store in memory.
#[derive(Debug, Default)]
pub struct MemoryStore {
    kept: RefCell<BTreeMap<(Kind, Id), Kept>>,
    aside: RefCell<Vec<Kept>>,
}

impl MemoryStore {
    /// Lists what was set aside.
    pub fn aside(&self) -> Vec<Kept> {
        self.aside.borrow().clone()
    }
}

impl Store for MemoryStore {
    async fn load_all(&self, kind: Kind) -> Result<Vec<Kept>, StoreError> {
        let kept = self.kept.borrow();
        let of_kind = kept.values().filter(|record| record.kind == kind);
        Ok(of_kind.cloned().collect())
    }

    async fn load(&self, kind: Kind, id: &Id) -> Result<Option<Kept>, StoreError> {
        Ok(self.kept.borrow().get(&(kind, id.clone())).cloned())
    }

    async fn load_tests(&self, ids: &[Id]) -> Result<Vec<Kept>, StoreError> {
        let kept = self.kept.borrow();
        let of_id = |id: &Id| kept.get(&(Kind::Test, id.clone())).cloned();
        Ok(ids.iter().filter_map(of_id).collect())
    }

    async fn load_entries(&self) -> Result<Entries, StoreError> {
        let mut entries = Entries::default();
        for test in self.load_all(Kind::Test).await? {
            entries.ids.push(test.id);
            if let Some(entry) = test.entry {
                entries.lines.push_str(&entry);
                entries.lines.push('\n');
            }
        }
        Ok(entries)
    }

    async fn index_anew(
        &self,
        ids: &[Id],
        entry_of: fn(&Kept) -> Option<String>,
    ) -> Result<Vec<Kept>, StoreError> {
        let mut kept = self.kept.borrow_mut();
        let mut found = Vec::new();
        for id in ids {
            if let Some(test) = kept.get_mut(&(Kind::Test, id.clone())) {
                test.entry = entry_of(test);
                found.push(test.clone());
            }
        }
        Ok(found)
    }

    fn put(
        &self,
        record: &Kept,
        expected: Option<Revision>,
        _durability: Durability,
    ) -> impl Future<Output = Result<(), StoreError>> {
        let key = (record.kind, record.id.clone());
        let mut kept = self.kept.borrow_mut();
        let found = kept.get(&key).map(|record| record.revision);
        let done = if found == expected {
            kept.insert(key, record.clone());
            Ok(())
        } else {
            Err(StoreError::Conflict { kept: found })
        };
        std::future::ready(done)
    }

    fn clear_away(&self, kind: Kind, id: &Id) -> impl Future<Output = Result<(), StoreError>> {
        self.kept.borrow_mut().remove(&(kind, id.clone()));
        std::future::ready(Ok(()))
    }

    fn set_aside(&self, record: &Kept) -> impl Future<Output = Result<(), StoreError>> {
        self.aside.borrow_mut().push(record.clone());
        std::future::ready(Ok(()))
    }
}
