//! The store of the page: the browser's where it has one, else the memory of this window.

use super::store::IndexedStore;
use app::library::{Id, Revision};
use app::store::{Durability, Entries, Kept, Kind, MemoryStore, Store, StoreError};

/// One of the stores.
pub(super) enum AnyStore {
    /// The browser's database.
    Indexed(IndexedStore),
    /// The memory of this window.
    Memory(MemoryStore),
}

impl AnyStore {
    /// A store that lives as long as the window.
    pub(super) fn memory() -> Self {
        Self::Memory(MemoryStore::default())
    }

    /// Whether it outlives the window.
    pub(super) fn is_lasting(&self) -> bool {
        matches!(self, Self::Indexed(_))
    }

    /// Opens the browser's store.
    pub(super) async fn open() -> Result<Self, StoreError> {
        IndexedStore::open().await.map(Self::Indexed)
    }
}

impl Store for AnyStore {
    async fn load_all(&self, kind: Kind) -> Result<Vec<Kept>, StoreError> {
        match self {
            Self::Indexed(store) => store.load_all(kind).await,
            Self::Memory(store) => store.load_all(kind).await,
        }
    }

    async fn load(&self, kind: Kind, id: &Id) -> Result<Option<Kept>, StoreError> {
        match self {
            Self::Indexed(store) => store.load(kind, id).await,
            Self::Memory(store) => store.load(kind, id).await,
        }
    }

    async fn load_tests(&self, ids: &[Id]) -> Result<Vec<Kept>, StoreError> {
        match self {
            Self::Indexed(store) => store.load_tests(ids).await,
            Self::Memory(store) => store.load_tests(ids).await,
        }
    }

    async fn load_entries(&self) -> Result<Entries, StoreError> {
        match self {
            Self::Indexed(store) => store.load_entries().await,
            Self::Memory(store) => store.load_entries().await,
        }
    }

    async fn index_anew(
        &self,
        ids: &[Id],
        entry_of: fn(&Kept) -> Option<String>,
    ) -> Result<Vec<Kept>, StoreError> {
        match self {
            Self::Indexed(store) => store.index_anew(ids, entry_of).await,
            Self::Memory(store) => store.index_anew(ids, entry_of).await,
        }
    }

    async fn put(
        &self,
        record: &Kept,
        expected: Option<Revision>,
        durability: Durability,
    ) -> Result<(), StoreError> {
        match self {
            Self::Indexed(store) => store.put(record, expected, durability).await,
            Self::Memory(store) => store.put(record, expected, durability).await,
        }
    }

    async fn clear_away(&self, kind: Kind, id: &Id) -> Result<(), StoreError> {
        match self {
            Self::Indexed(store) => store.clear_away(kind, id).await,
            Self::Memory(store) => store.clear_away(kind, id).await,
        }
    }

    async fn set_aside(&self, record: &Kept) -> Result<(), StoreError> {
        match self {
            Self::Indexed(store) => store.set_aside(record).await,
            Self::Memory(store) => store.set_aside(record).await,
        }
    }
}
