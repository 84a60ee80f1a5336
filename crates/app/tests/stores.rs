//! Stores: writings keep their order, conflicts are seen, records of other versions and wrong ones are left alone.

#![expect(clippy::panic, reason = "what tests share fails by panicking")]

use app::library::{Id, Moment, Revision, Settings, SiteRecord, TestEntry, TestRecord, Units};
use app::store::codec::{CodecError, SettingsRecord, VERSION, decode, encode, entries, entry_of};
use app::store::{Durability, Entries, Kept, Kind, MemoryStore, Queue, Store, StoreError, Write};
use proptest::prelude::*;
use std::pin::pin;
use std::task::{Context, Poll, Waker};

/// Waits for a future that is never kept waiting.
fn ready<T>(future: impl Future<Output = T>) -> T {
    match pin!(future).poll(&mut Context::from_waker(Waker::noop())) {
        Poll::Ready(value) => value,
        Poll::Pending => panic!("a store in memory waits for nothing"),
    }
}

fn site(text: &str, revision: u64) -> SiteRecord {
    SiteRecord {
        id: Id("a".to_owned()),
        name: "A".to_owned(),
        text: text.to_owned(),
        created: Moment(1),
        changed: Moment(2),
        revision: Revision(revision),
        deleted: None,
        care: app::library::Care::default(),
    }
}

#[test]
fn records_come_back_as_they_were() {
    let record = site("format = 1\n# \"µ\"\n", 3);
    assert_eq!(decode(&encode(&record)), Ok(record));
    let settings = SettingsRecord {
        revision: Revision(1),
        settings: Settings {
            units: Some(Units::Si),
            ..Settings::default()
        },
    };
    assert_eq!(decode(&encode(&settings)), Ok(settings));
}

#[test]
fn newer_and_wrong_records_are_told_apart() {
    let with = |json: &str| Kept {
        json: json.to_owned(),
        ..encode(&site("", 1))
    };
    let newer = format!("{{\"version\":{},\"record\":7}}", VERSION + 1);
    let read = |json: &str| decode::<SiteRecord>(&with(json)).unwrap_err();
    assert_eq!(read(&newer), CodecError::Newer { found: VERSION + 1 });
    for json in [
        "",
        "{",
        "7",
        "{\"record\":1}",
        "{\"version\":0}",
        "{\"version\":1,\"record\":{}}",
    ] {
        assert!(matches!(read(json), CodecError::Corrupt { .. }), "{json}");
    }
    // What an older page of this version did not write yet has its default.
    let old = Kept {
        json: "{\"version\":1,\"record\":{\"revision\":1,\"settings\":{}}}".to_owned(),
        ..with("")
    };
    assert_eq!(
        decode::<SettingsRecord>(&old).unwrap().settings,
        Settings::default()
    );
}

fn test(id: &str, revision: u64) -> TestRecord {
    TestRecord {
        id: Id(id.to_owned()),
        site_id: Id("a".to_owned()),
        name: format!("name\n{id}"),
        head_text: "format = 1\n".to_owned(),
        readings: None,
        changed: Moment(2),
        revision: Revision(revision),
        open: true,
        deleted: None,
    }
}

#[test]
fn what_lists_show_is_kept_with_the_record_and_made_anew_where_it_is_not_in_order() {
    let store = MemoryStore::default();
    for id in ["a", "b", "c"] {
        let record = encode(&test(id, 1));
        ready(store.put(&record, None, Durability::Strict)).unwrap();
    }
    let again = encode(&test("b", 2));
    ready(store.put(&again, Some(Revision(1)), Durability::Relaxed)).unwrap();
    let kept = ready(store.load_entries()).unwrap();
    let (found, lacking) = entries(&kept);
    let expected = [test("a", 1), test("b", 2), test("c", 1)];
    assert_eq!(found, expected.each_ref().map(TestEntry::of));
    assert_eq!(lacking, []);
    // Missing, of another form, twice, of a test that is gone, or no entry at all.
    let lines: Vec<&str> = kept.lines.lines().collect();
    let old = lines[1].replace("\"version\":1", "\"version\":0");
    let gone = lines[2].replace("\"id\":\"c\"", "\"id\":\"d\"");
    let spoilt = Entries {
        lines: [lines[0], lines[0], &old, &gone, "7", ""].join("\n"),
        ..kept
    };
    let (found, lacking) = entries(&spoilt);
    assert_eq!(found, [TestEntry::of(&expected[0])]);
    assert_eq!(lacking, ["b", "c"].map(|id| Id(id.to_owned())));
    let anew = ready(store.index_anew(&lacking, entry_of)).unwrap();
    assert_eq!(anew.len(), 2);
    assert_eq!(ready(store.load_tests(&lacking)).unwrap(), anew);
    assert_eq!(entries(&ready(store.load_entries()).unwrap()).1, []);
}

#[test]
fn a_writing_on_top_of_another_tabs_is_refused() {
    let store = MemoryStore::default();
    let put = |revision, expected| {
        let record = encode(&site(&format!("text {revision}"), revision));
        ready(store.put(&record, expected, Durability::Strict))
    };
    assert_eq!(put(1, None), Ok(()));
    assert_eq!(put(2, Some(Revision(1))), Ok(()));
    let conflict = StoreError::Conflict {
        kept: Some(Revision(2)),
    };
    assert_eq!(put(2, Some(Revision(1))), Err(conflict));
    let id = Id("a".to_owned());
    let kept = ready(store.load(Kind::Site, &id)).unwrap().unwrap();
    assert_eq!(decode::<SiteRecord>(&kept).unwrap().text, "text 2");
    assert_eq!(ready(store.load_all(Kind::Test)), Ok(vec![]));
    ready(store.set_aside(&kept)).unwrap();
    ready(store.clear_away(Kind::Site, &id)).unwrap();
    assert_eq!(ready(store.load(Kind::Site, &id)), Ok(None));
    assert_eq!(store.aside(), [kept]);
    assert_eq!(
        put(3, Some(Revision(2))),
        Err(StoreError::Conflict { kept: None })
    );
}

#[test]
fn after_a_conflict_nothing_is_lost_and_the_person_decides() {
    let mut queue = Queue::new(Some(Revision(1)));
    let first = queue.push("a", Durability::Relaxed).unwrap();
    let second = queue.push("ab", Durability::Strict).unwrap();
    assert_eq!(
        (first.expected, second.expected),
        (Some(Revision(1)), Some(Revision(2)))
    );
    let kept = Some(Revision(7));
    assert_eq!(
        queue.done(first.revision, Err(StoreError::Conflict { kept })),
        None
    );
    assert_eq!(queue.again(), None);
    assert_eq!(
        queue.done(second.revision, Err(StoreError::Conflict { kept })),
        None
    );
    assert_eq!(queue.push("abc", Durability::Relaxed), None);
    assert!(queue.trouble().is_some() && !queue.is_settled());
    let again = queue.again().unwrap();
    assert_eq!(
        (again.value, again.expected, again.revision),
        ("abc", kept, Revision(8))
    );
    assert_eq!(again.durability, Durability::Strict);
    assert_eq!(queue.done(again.revision, Ok(())), None);
    assert!(queue.is_settled());
}

/// What happens to a queue: something is typed, or the oldest writing under way ends well or badly.
#[derive(Clone, Copy, Debug)]
enum Happens {
    Typed,
    Written,
    Full,
}

proptest! {
    #[test]
    fn the_last_thing_typed_is_kept_in_the_end(
        happens in prop::collection::vec(
            prop_oneof![3 => Just(Happens::Typed), 3 => Just(Happens::Written), 1 => Just(Happens::Full)], 1..60)
    ) {
        let store = MemoryStore::default();
        let mut queue: Queue<u64> = Queue::new(None);
        let mut under_way: Vec<Write<u64>> = Vec::new();
        let mut typed = 0;
        // A store does what it is asked in the order in which it is asked.
        let write = |write: &Write<u64>| {
            let record = encode(&site(&write.value.to_string(), write.revision.0));
            ready(store.put(&record, write.expected, write.durability))
        };
        for happens in happens {
            let next = match happens {
                Happens::Typed => {
                    typed += 1;
                    queue.push(typed, Durability::Relaxed)
                }
                Happens::Written | Happens::Full if under_way.is_empty() => queue.again(),
                Happens::Written => {
                    let oldest = under_way.remove(0);
                    let outcome = write(&oldest);
                    queue.done(oldest.revision, outcome)
                }
                Happens::Full => {
                    let oldest = under_way.remove(0);
                    queue.done(oldest.revision, Err(StoreError::Full))
                }
            };
            under_way.extend(next);
        }
        // In the end there is room again.
        for _ in 0..200 {
            let next = if under_way.is_empty() {
                queue.again()
            } else {
                let oldest = under_way.remove(0);
                let outcome = write(&oldest);
                queue.done(oldest.revision, outcome)
            };
            under_way.extend(next);
        }
        prop_assert!(queue.is_settled());
        if typed > 0 {
            let kept = ready(store.load(Kind::Site, &Id("a".to_owned()))).unwrap().unwrap();
            prop_assert_eq!(decode::<SiteRecord>(&kept).unwrap().text, typed.to_string());
        }
    }
}
