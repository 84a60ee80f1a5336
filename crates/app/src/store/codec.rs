//! Records as JSON texts with the version of their schema, and what is done with those of other versions.

use super::{Entries, Kept, Kind};
use crate::library::{ChangeRecord, Id, Revision, Settings, SiteRecord, TestEntry, TestRecord};
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::collections::BTreeSet;

/// The version of the schema that is written. Version 1 is the first.
pub const VERSION: u32 = 1;
/// The version of the entries of lists. Those of another one are made anew, from the records.
const ENTRY_VERSION: u32 = 1;
/// The id of the one record of settings.
pub const SETTINGS_ID: &str = "settings";

/// Why a text is no record.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CodecError {
    /// A newer page wrote it. It is left as it is.
    #[error("a newer page wrote this: version {found}, and this one knows {VERSION}")]
    Newer {
        /// Its version.
        found: u32,
    },
    /// It is no record of this kind. It is kept aside, and not deleted.
    #[error("what is kept cannot be read: {why}")]
    Corrupt {
        /// What is wrong with it.
        why: String,
    },
}

/// A record with what is written around it.
#[derive(Serialize, Deserialize)]
struct Envelope<R> {
    version: u32,
    record: R,
}

/// A record that a store keeps.
pub trait Record: Serialize + DeserializeOwned {
    /// What kind it is.
    const KIND: Kind;
    /// Which one it is.
    fn id(&self) -> Id;
    /// How often it was written.
    fn revision(&self) -> Revision;
    /// What lists show of it, on one line; `None` of kinds that are listed by themselves.
    fn entry(&self) -> Option<String> {
        None
    }
}

impl Record for SiteRecord {
    const KIND: Kind = Kind::Site;
    fn id(&self) -> Id {
        self.id.clone()
    }
    fn revision(&self) -> Revision {
        self.revision
    }
}

impl Record for TestRecord {
    const KIND: Kind = Kind::Test;
    fn id(&self) -> Id {
        self.id.clone()
    }
    fn revision(&self) -> Revision {
        self.revision
    }
    fn entry(&self) -> Option<String> {
        let envelope = Envelope {
            version: ENTRY_VERSION,
            record: TestEntry::of(self),
        };
        serde_json::to_string(&envelope).ok()
    }
}

impl Record for ChangeRecord {
    const KIND: Kind = Kind::Change;
    fn id(&self) -> Id {
        self.id.clone()
    }
    fn revision(&self) -> Revision {
        self.revision
    }
}

/// The settings with their revision.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct SettingsRecord {
    /// How often they were written.
    pub revision: Revision,
    /// The settings.
    pub settings: Settings,
}

impl Record for SettingsRecord {
    const KIND: Kind = Kind::Settings;
    fn id(&self) -> Id {
        Id(SETTINGS_ID.to_owned())
    }
    fn revision(&self) -> Revision {
        self.revision
    }
}

/// Writes a record as it is kept.
pub fn encode<R: Record>(record: &R) -> Kept {
    let envelope = Envelope {
        version: VERSION,
        record,
    };
    Kept {
        kind: R::KIND,
        id: record.id(),
        revision: record.revision(),
        // A record holds nothing that JSON does not, so that none fails.
        json: serde_json::to_string(&envelope).unwrap_or_default(),
        entry: record.entry(),
    }
}

/// Reads the entries that a store has: those of tests that are kept, each once, and the tests that lack one in order.
pub fn entries(kept: &Entries) -> (Vec<TestEntry>, Vec<Id>) {
    let mut lacking: BTreeSet<&str> = kept.ids.iter().map(|id| id.0.as_str()).collect();
    let mut found = Vec::with_capacity(kept.ids.len());
    for line in kept.lines.lines() {
        let Ok(read) = serde_json::from_str::<Envelope<TestEntry>>(line) else {
            continue;
        };
        if read.version == ENTRY_VERSION && lacking.remove(read.record.id.0.as_str()) {
            found.push(read.record);
        }
    }
    let lacking = lacking.into_iter().map(|id| Id(id.to_owned()));
    (found, lacking.collect())
}

/// The entry of a test as it is kept; `None` of one that cannot be read.
pub fn entry_of(kept: &Kept) -> Option<String> {
    decode::<TestRecord>(kept).ok()?.entry()
}

/// Reads a record as it is kept. Records of older versions are brought up to this one in memory.
///
/// # Errors
/// That it was written by a newer page, or is none.
pub fn decode<R: Record>(kept: &Kept) -> Result<R, CodecError> {
    let corrupt = |why: String| CodecError::Corrupt { why };
    // Thousands of records may be opened at once: each is read straight into what it is, where it is of this version.
    if let Ok(envelope) = serde_json::from_str::<Envelope<R>>(&kept.json)
        && envelope.version == VERSION
    {
        return Ok(envelope.record);
    }
    let versioned: Versioned =
        serde_json::from_str(&kept.json).map_err(|error| corrupt(error.to_string()))?;
    let found = versioned.version.as_ref().and_then(Value::as_u64);
    let found = found.ok_or_else(|| corrupt("it has no version".to_owned()))?;
    let found = u32::try_from(found).unwrap_or(u32::MAX);
    if found > VERSION {
        return Err(CodecError::Newer { found });
    }
    let envelope: serde_json::Result<Envelope<R>> = if found == VERSION {
        // It says once more what keeps it from being read.
        serde_json::from_str(&kept.json)
    } else {
        serde_json::from_value(migrated(&kept.json, found)?)
    };
    let envelope = envelope.map_err(|error| corrupt(error.to_string()))?;
    Ok(envelope.record)
}

/// Any record's version, whatever else it holds.
#[derive(Deserialize)]
struct Versioned {
    version: Option<Value>,
}

/// Brings a record up from an older version, one version at a time.
fn migrated(_json: &str, from: u32) -> Result<Value, CodecError> {
    // Below the first there is none. The next version adds its step from 1 here.
    Err(CodecError::Corrupt {
        why: format!("there is no version {from}"),
    })
}
