//! Notes of what was typed last, made in the task of the keystroke beside the store, whose writing ends a little later.
//!
//! A page that is closed or loaded again takes writings with it that the store has not ended. The note stays, and the
//! next page takes what is in it where the store has an older revision. A note is struck once the store has the record
//! for sure.

use super::codec::{Record, decode};
use super::{Kept, Kind};
use crate::library::{Id, Revision};

/// What the keys of all notes begin with.
const PREFIX: &str = "headwright-note";

/// The key of the note on a record.
pub fn key(kind: Kind, id: &Id) -> String {
    format!("{PREFIX}/{}/{}", kind.place(), id.0)
}

/// The record whose note has a key; `None` for a key of something else.
pub fn id_of(key: &str, kind: Kind) -> Option<Id> {
    let rest = key.strip_prefix(PREFIX)?.strip_prefix('/')?;
    let id = rest.strip_prefix(kind.place())?.strip_prefix('/')?;
    Some(Id(id.to_owned()))
}

/// Reads a note, and returns the record in it where it is newer than what the store has.
pub fn newer<R: Record>(note: &str, id: Id, stored: Option<Revision>) -> Option<R> {
    let kept = Kept {
        kind: R::KIND,
        id,
        revision: Revision::default(),
        json: note.to_owned(),
        entry: None,
    };
    let record: R = decode(&kept).ok()?;
    let is_newer = stored.is_none_or(|stored| record.revision() > stored);
    (is_newer && record.id() == kept.id).then_some(record)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::library::TestRecord;
    use crate::store::codec::encode;

    fn note(revision: u64) -> String {
        let test = TestRecord {
            id: Id("a".to_owned()),
            site_id: Id("s".to_owned()),
            name: "2026-05-16".to_owned(),
            head_text: String::new(),
            readings: None,
            changed: crate::library::Moment(0),
            revision: Revision(revision),
            open: true,
            deleted: None,
        };
        encode(&test).json
    }

    fn found(revision: u64, stored: Option<u64>) -> Option<TestRecord> {
        newer(&note(revision), Id("a".to_owned()), stored.map(Revision))
    }

    #[test]
    fn only_what_the_store_has_not_yet_is_taken_from_a_note() {
        assert!(found(4, Some(3)).is_some());
        assert!(found(4, None).is_some());
        assert!(found(4, Some(4)).is_none());
        assert!(found(4, Some(9)).is_none());
    }

    #[test]
    fn a_note_that_is_none_is_no_reason_to_stop() {
        let id = || Id("a".to_owned());
        assert!(newer::<TestRecord>("", id(), None).is_none());
        assert!(newer::<TestRecord>("{\"version\":1}", id(), None).is_none());
        assert!(newer::<TestRecord>(&note(1), Id("b".to_owned()), None).is_none());
    }

    #[test]
    fn a_key_gives_its_record_back() {
        let id = Id("ab/c".to_owned());
        assert_eq!(id_of(&key(Kind::Test, &id), Kind::Test), Some(id.clone()));
        assert_eq!(id_of(&key(Kind::Test, &id), Kind::Site), None);
        assert_eq!(id_of("headwright-theme", Kind::Test), None);
    }
}
