//! What is kept on the device as the screens see it: every change is shown at once and is on its way to the store in
//! the task that made it, in its order, and what cannot be kept is said and held.

mod records;
mod tests;

use super::browser;
use super::stores::AnyStore;
use app::backup::LastExport;
use app::library::{ChangeRecord, Id, Library, Moment, Revision, Settings, SiteRecord, TestRecord};
use app::store::codec::{SettingsRecord, decode, encode};
use app::store::{Durability, Kept, Queue, Store, StoreError, Write, journal};
use leptos::prelude::*;
use records::{Keepable, Queues};
use std::rc::Rc;

/// Where the store of the page has got to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Opened {
    /// It is being opened.
    Opening,
    /// It is open.
    Open,
    /// The browser keeps nothing: everything lives as long as this window, and the reason.
    Memory(StoreError),
    /// It must not be touched, and why.
    Shut(StoreError),
}

/// The keeper, known to everything as a context.
#[derive(Clone, Copy)]
pub(super) struct Keeper {
    /// How the opening went.
    pub(super) opened: RwSignal<Opened>,
    /// What is kept, as far as it is loaded.
    pub(super) library: RwSignal<Library>,
    /// How the person likes the page.
    pub(super) settings: RwSignal<Settings>,
    /// Counts the loadings of tests that a screen has asked for.
    pub(super) loads: RwSignal<u32>,
    /// How many writings are not done yet.
    pub(super) under_way: RwSignal<usize>,
    /// What keeps something from being kept.
    pub(super) trouble: RwSignal<Option<StoreError>>,
    inner: StoredValue<Inner, LocalStorage>,
}

struct Inner {
    store: Rc<AnyStore>,
    queues: Queues,
}

/// Makes the keeper and starts to load what is kept.
pub(super) fn provide() -> Keeper {
    let keeper = Keeper {
        opened: RwSignal::new(Opened::Opening),
        library: RwSignal::new(Library::default()),
        settings: RwSignal::new(Settings::default()),
        loads: RwSignal::new(0),
        under_way: RwSignal::new(0),
        trouble: RwSignal::new(None),
        inner: StoredValue::new_local(Inner {
            store: Rc::new(AnyStore::memory()),
            queues: Queues::default(),
        }),
    };
    provide_context(keeper);
    wasm_bindgen_futures::spawn_local(async move { keeper.open().await });
    keeper
}

/// The keeper that is known here.
pub(super) fn keeper() -> Keeper {
    expect_context()
}

impl Keeper {
    async fn open(self) {
        match AnyStore::open().await {
            Ok(store) => {
                let store = Rc::new(store);
                self.inner
                    .update_value(|inner| inner.store = Rc::clone(&store));
                self.load(&store).await;
                self.opened.set(Opened::Open);
            }
            Err(error @ (StoreError::Newer { .. } | StoreError::Blocked)) => {
                self.opened.set(Opened::Shut(error));
            }
            Err(error) => {
                // Where there is no store there may be notes.
                let store = self.inner.with_value(|inner| Rc::clone(&inner.store));
                self.load(&store).await;
                self.opened.set(Opened::Memory(error));
            }
        }
    }

    async fn load(self, store: &AnyStore) {
        let sites: Vec<SiteRecord> = self.all(store).await;
        let (tests, unread) = self.first_tests(store).await;
        let changes: Vec<ChangeRecord> = self.all(store).await;
        let settings: Vec<SettingsRecord> = self.all(store).await;
        if let Some(settings) = settings.into_iter().next() {
            self.settings.set(settings.settings);
        }
        self.library.set(Library {
            sites,
            tests,
            unread,
            changes,
        });
    }

    /// Loads the records of a kind.
    async fn all<R: Keepable>(self, store: &AnyStore) -> Vec<R> {
        let kept = self.told(store.load_all(R::KIND).await);
        let mut records: Vec<R> = self.read(store, kept).await;
        for record in &records {
            self.start_queue::<R>(&record.id(), record.revision());
        }
        take_notes(&mut records);
        records
    }

    /// What was loaded, or nothing where the store says why not.
    fn told<T: Default>(self, loaded: Result<T, StoreError>) -> T {
        loaded.unwrap_or_else(|error| {
            self.trouble.set(Some(error));
            T::default()
        })
    }

    /// Reads records; one that cannot be read is kept aside and no reason to lose the others.
    async fn read<R: Keepable>(self, store: &AnyStore, kept: Vec<Kept>) -> Vec<R> {
        let mut records = Vec::with_capacity(kept.len());
        for kept in kept {
            match decode::<R>(&kept) {
                Ok(record) => records.push(record),
                Err(app::store::codec::CodecError::Newer { .. }) => {}
                Err(app::store::codec::CodecError::Corrupt { .. }) => {
                    // It stays where it is too; aside it is out of the way of a mend.
                    let _ = store.set_aside(&kept).await;
                }
            }
        }
        records
    }

    fn start_queue<R: Keepable>(self, id: &Id, stored: Revision) {
        self.inner.update_value(|inner| {
            R::queues(&mut inner.queues).insert(id.clone(), Queue::new(Some(stored)));
        });
    }

    /// Keeps a site.
    pub(super) fn put_site(self, site: SiteRecord) {
        self.library.update(|library| {
            match library.sites.iter_mut().find(|other| other.id == site.id) {
                Some(other) => other.clone_from(&site),
                None => library.sites.push(site.clone()),
            }
        });
        self.put(site, Durability::Strict);
    }

    /// Keeps a test.
    pub(super) fn put_test(self, test: TestRecord, durability: Durability) {
        self.library.update(|library| {
            match library.tests.iter_mut().find(|other| other.id == test.id) {
                Some(other) => other.clone_from(&test),
                None => library.tests.push(test.clone()),
            }
        });
        self.put(test, durability);
    }

    /// Keeps a change of a pad.
    pub(super) fn put_change(self, change: ChangeRecord) {
        self.library.update(|library| {
            let changes = &mut library.changes;
            match changes.iter_mut().find(|other| other.id == change.id) {
                Some(other) => other.clone_from(&change),
                None => changes.push(change.clone()),
            }
        });
        self.put(change, Durability::Strict);
    }

    /// Keeps how the person likes the page.
    pub(super) fn put_settings(self, settings: Settings) {
        self.settings.set(settings.clone());
        let record = SettingsRecord {
            settings,
            ..SettingsRecord::default()
        };
        self.put(record, Durability::Strict);
    }

    /// Loads a test again: another window may have written it.
    pub(super) async fn reload_test(self, id: &Id) -> Option<TestRecord> {
        let store = self.inner.with_value(|inner| Rc::clone(&inner.store));
        let kept = store.load(app::store::Kind::Test, id).await.ok()??;
        let test: TestRecord = decode(&kept).ok()?;
        self.start_queue::<TestRecord>(&test.id, test.revision);
        self.library.update(|library| {
            if let Some(other) = library.tests.iter_mut().find(|other| other.id == *id) {
                other.clone_from(&test);
            }
        });
        Some(test)
    }

    /// Tries again what could not be kept.
    pub(super) fn try_again(self) {
        self.trouble.set(None);
        self.again::<SiteRecord>();
        self.again::<TestRecord>();
        self.again::<ChangeRecord>();
        self.again::<SettingsRecord>();
    }

    fn again<R: Keepable>(self) {
        let writes: Vec<Write<R>> = self
            .inner
            .try_update_value(|inner| {
                let queues = R::queues(&mut inner.queues).values_mut();
                queues.filter_map(Queue::again).collect()
            })
            .unwrap_or_default();
        for write in writes {
            self.issue(write);
        }
    }

    fn put<R: Keepable>(self, record: R, durability: Durability) {
        let write = self.inner.try_update_value(|inner| {
            let queue = R::queues(&mut inner.queues)
                .entry(record.id())
                .or_insert_with(|| Queue::new(None));
            let write = queue.push(record, durability);
            if let (None, Some((value, revision))) = (&write, queue.latest()) {
                note(&encode(&value.clone().with_revision(revision)));
            }
            write
        });
        if let Some(Some(write)) = write {
            self.issue(write);
        }
    }

    fn issue<R: Keepable>(self, write: Write<R>) {
        let store = self.inner.with_value(|inner| Rc::clone(&inner.store));
        let record = write.value.with_revision(write.revision);
        let kept = encode(&record);
        note(&kept);
        self.under_way.update(|count| *count += 1);
        wasm_bindgen_futures::spawn_local(async move {
            let outcome = store.put(&kept, write.expected, write.durability).await;
            self.under_way
                .update(|count| *count = count.saturating_sub(1));
            if let Err(error) = &outcome {
                self.trouble.set(Some(error.clone()));
            }
            let next = self.inner.try_update_value(|inner| {
                let queue = R::queues(&mut inner.queues).get_mut(&kept.id)?;
                let next = queue.done(write.revision, outcome);
                let is_sure = store.is_lasting() && write.durability == Durability::Strict;
                if is_sure && queue.is_settled() {
                    browser::forget(&journal::key(kept.kind, &kept.id));
                }
                next
            });
            if let Some(Some(next)) = next {
                self.issue(next);
            }
        });
    }
}

/// Notes a record in this task: its writing ends a little later, and a page that goes takes it along.
fn note(kept: &Kept) {
    browser::remember(&journal::key(kept.kind, &kept.id), &kept.json);
}

/// Takes from the notes what the store has not got. It is written with the next change: another window may be about to
/// write the same.
fn take_notes<R: Keepable>(records: &mut Vec<R>) {
    for key in browser::remembered_keys() {
        let Some(id) = journal::id_of(&key, R::KIND) else {
            continue;
        };
        let at = records.iter().position(|record| record.id() == id);
        let stored = at.map(|at| records[at].revision());
        let noted = browser::remembered(&key).and_then(|note| journal::newer(&note, id, stored));
        match (noted, at) {
            (Some(noted), Some(at)) => records[at] = noted,
            (Some(noted), None) => records.push(noted),
            (None, _) => {}
        }
    }
}

/// Where it is kept when each site was last exported, and how many tests it had.
const EXPORTED: &str = "headwright-exported";

/// When a site last left the device; `None` where it never did.
pub(super) fn last_export(site: &Id) -> Option<LastExport> {
    let text = browser::remembered(&format!("{EXPORTED}/{}", site.0))?;
    let (moment, tests) = text.split_once(' ')?;
    Some(LastExport {
        moment: Moment(moment.parse().ok()?),
        tests: tests.parse().ok()?,
    })
}

/// Remembers that a site left the device now.
pub(super) fn remember_export(site: &Id, tests: usize) {
    let now = browser::now().0;
    browser::remember(&format!("{EXPORTED}/{}", site.0), &format!("{now} {tests}"));
}
