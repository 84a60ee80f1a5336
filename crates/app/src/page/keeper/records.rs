//! The kinds of records, alike to whoever keeps them.

use app::library::{ChangeRecord, Id, Revision, SiteRecord, TestRecord};
use app::store::Queue;
use app::store::codec::{Record, SettingsRecord};
use std::collections::BTreeMap;

/// The writings of every record.
#[derive(Default)]
pub(super) struct Queues {
    sites: BTreeMap<Id, Queue<SiteRecord>>,
    tests: BTreeMap<Id, Queue<TestRecord>>,
    changes: BTreeMap<Id, Queue<ChangeRecord>>,
    settings: BTreeMap<Id, Queue<SettingsRecord>>,
}

/// A record that the keeper keeps.
pub(super) trait Keepable: Record + Clone + 'static {
    /// The same at a revision.
    fn with_revision(self, revision: Revision) -> Self;
    /// The queues of its kind.
    fn queues(all: &mut Queues) -> &mut BTreeMap<Id, Queue<Self>>;
}

impl Keepable for SiteRecord {
    fn with_revision(self, revision: Revision) -> Self {
        Self { revision, ..self }
    }
    fn queues(all: &mut Queues) -> &mut BTreeMap<Id, Queue<Self>> {
        &mut all.sites
    }
}

impl Keepable for TestRecord {
    fn with_revision(self, revision: Revision) -> Self {
        Self { revision, ..self }
    }
    fn queues(all: &mut Queues) -> &mut BTreeMap<Id, Queue<Self>> {
        &mut all.tests
    }
}

impl Keepable for ChangeRecord {
    fn with_revision(self, revision: Revision) -> Self {
        Self { revision, ..self }
    }
    fn queues(all: &mut Queues) -> &mut BTreeMap<Id, Queue<Self>> {
        &mut all.changes
    }
}

impl Keepable for SettingsRecord {
    fn with_revision(self, revision: Revision) -> Self {
        Self { revision, ..self }
    }
    fn queues(all: &mut Queues) -> &mut BTreeMap<Id, Queue<Self>> {
        &mut all.settings
    }
}
