//! Where the library is kept: the border to the browser's storage, and what can go wrong there.
//!
//! What is kept is JSON, one text for each record, with the version of its schema in it ([`codec`]). A store moves texts
//! and counts revisions; it understands none of them. [`MemoryStore`] keeps them for tests and where a browser refuses
//! all storage; the page has another that keeps them in the browser.

pub mod codec;
pub mod journal;
mod memory;
mod queue;

pub use memory::MemoryStore;
pub use queue::{Queue, Write};

use crate::library::{Id, Revision};

/// What kind of record.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// A site.
    Site,
    /// A test.
    Test,
    /// A change of the pad.
    Change,
    /// The settings, of which there is one record.
    Settings,
}

impl Kind {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Site, Self::Test, Self::Change, Self::Settings];

    /// What the place is called where records of this kind are kept.
    pub fn place(self) -> &'static str {
        match self {
            Self::Site => "sites",
            Self::Test => "tests",
            Self::Change => "changes",
            Self::Settings => "settings",
        }
    }
}

/// A record as it is kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kept {
    /// What kind.
    pub kind: Kind,
    /// Which one.
    pub id: Id,
    /// How often it was written.
    pub revision: Revision,
    /// The record as [`codec`] writes it.
    pub json: String,
    /// What lists show of it, on one line, where its kind has that: written together with the record, or not at all.
    pub entry: Option<String>,
}

/// What a store has of the entries of all tests.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Entries {
    /// The tests that are kept.
    pub ids: Vec<Id>,
    /// The entries, a line each, in any order: some may be missing, or be of tests that are gone.
    pub lines: String,
}

/// How sure a writing must be before it counts as done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Durability {
    /// The system has it: enough for a keystroke, and quick.
    Relaxed,
    /// It is on the disk: when a field is left, and when the page is hidden.
    Strict,
}

/// What goes wrong with a store.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum StoreError {
    /// The browser lets this page keep nothing.
    #[error("this browser lets the page keep nothing")]
    Refused,
    /// There is no room left.
    #[error("there is no room left on this device")]
    Full,
    /// Another tab has an older page open and holds the store.
    #[error("another tab with an older page is open")]
    Blocked,
    /// A newer page has written here; nothing is touched.
    #[error("a newer page has written here: version {found}, and this one knows {known}")]
    Newer {
        /// The version that was found.
        found: u32,
        /// The version that this page knows.
        known: u32,
    },
    /// Another tab has written the record meanwhile; nothing was written.
    #[error("another tab has changed this meanwhile")]
    Conflict {
        /// The revision that is kept now; `None` where the record is gone.
        kept: Option<Revision>,
    },
    /// The store was closed under the page, or failed in a way without a name of ours.
    #[error("the storage of the browser failed: {why}")]
    Failed {
        /// What the browser says.
        why: String,
    },
}

/// A store of records.
///
/// A method that writes does so before its future is first awaited: what a keystroke has changed is on its way when the
/// keystroke's task ends. The futures are those of one thread, as everything in a page is.
#[expect(
    async_fn_in_trait,
    reason = "a page has one thread, and no future of it is sent to another"
)]
pub trait Store {
    /// Loads every record of a kind.
    async fn load_all(&self, kind: Kind) -> Result<Vec<Kept>, StoreError>;

    /// Loads one record.
    async fn load(&self, kind: Kind, id: &Id) -> Result<Option<Kept>, StoreError>;

    /// Loads some tests; those that are gone are left out.
    async fn load_tests(&self, ids: &[Id]) -> Result<Vec<Kept>, StoreError>;

    /// Loads the entries of all tests, and which tests there are.
    async fn load_entries(&self) -> Result<Entries, StoreError>;

    /// Loads some tests and writes their entries anew as their records say, in one: nothing is written to them in between.
    async fn index_anew(
        &self,
        ids: &[Id],
        entry_of: fn(&Kept) -> Option<String>,
    ) -> Result<Vec<Kept>, StoreError>;

    /// Writes a record whose last revision was `expected`; `None` where there must be none yet. The revision that is kept
    /// is the record's own.
    fn put(
        &self,
        record: &Kept,
        expected: Option<Revision>,
        durability: Durability,
    ) -> impl Future<Output = Result<(), StoreError>>;

    /// Takes a record away for good.
    fn clear_away(&self, kind: Kind, id: &Id) -> impl Future<Output = Result<(), StoreError>>;

    /// Keeps a record that cannot be read aside, where a later page may find it.
    fn set_aside(&self, record: &Kept) -> impl Future<Output = Result<(), StoreError>>;
}
