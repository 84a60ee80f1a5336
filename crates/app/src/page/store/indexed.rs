//! The library in the browser's database.
//!
//! A writing opens its transaction and makes its requests before its future exists, so that they are the browser's when
//! the task of the keystroke ends. It reads the kept revision in the same transaction, and takes the writing back where
//! another tab was there first.

use super::errors::{of_exception, of_value, store_error};
use super::opening::{ASIDE, ENTRIES, open};
use app::library::{Id, Revision};
use app::store::{Durability, Entries, Kept, Kind, Store, StoreError};
use idb::{Database, ObjectStore, Transaction, TransactionMode, TransactionResult};
use js_sys::{Array, Function, JSON, Object, Reflect};
use std::cell::RefCell;
use std::collections::BTreeSet;
use std::future::IntoFuture;
use std::rc::Rc;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{IdbDatabase, IdbTransaction};

/// The database of this browser.
pub(crate) struct IndexedStore {
    database: IdbDatabase,
    /// Holds what is called when a newer page wants the database.
    _watched: Database,
    /// Why the database was given up.
    given_up: Rc<RefCell<Option<StoreError>>>,
}

impl IndexedStore {
    /// Opens the database.
    ///
    /// # Errors
    /// That it is refused, blocked by an older page in another tab, or of a newer version.
    pub(crate) async fn open() -> Result<Self, StoreError> {
        let database = IdbDatabase::from(open().await?);
        let mut watched = Database::from(database.clone());
        let given_up = Rc::new(RefCell::new(None));
        let (to_close, to_tell) = (database.clone(), Rc::clone(&given_up));
        // A newer page in another tab must not wait for this one.
        watched.on_version_change(move |event| {
            let number = |name: &str| Reflect::get(&event, &name.into()).ok()?.as_f64();
            to_close.close();
            *to_tell.borrow_mut() = Some(StoreError::Newer {
                found: number("newVersion").map_or(u32::MAX, whole),
                known: number("oldVersion").map_or(0, whole),
            });
        });
        Ok(Self {
            database,
            _watched: watched,
            given_up,
        })
    }

    fn begin(
        &self,
        places: &[&str],
        mode: TransactionMode,
        durability: Durability,
    ) -> Result<IdbTransaction, StoreError> {
        if let Some(why) = self.given_up.borrow().clone() {
            return Err(why);
        }
        let options = Object::new();
        let word = match durability {
            Durability::Relaxed => "relaxed",
            Durability::Strict => "strict",
        };
        let mode = match mode {
            TransactionMode::ReadOnly => "readonly",
            _ => "readwrite",
        };
        Reflect::set(&options, &"durability".into(), &word.into()).map_err(|e| of_value(&e))?;
        let begin = Reflect::get(&self.database, &"transaction".into())
            .and_then(JsCast::dyn_into::<Function>)
            .map_err(|error| of_value(&error))?;
        let places: Array = places
            .iter()
            .map(|place| JsValue::from_str(place))
            .collect();
        // A browser that does not know the options leaves them out of account.
        begin
            .call3(&self.database, &places, &mode.into(), &options)
            .and_then(JsCast::dyn_into)
            .map_err(|error| of_value(&error))
    }

    fn read(&self, place: &str) -> Result<ObjectStore, StoreError> {
        let transaction = self.begin(&[place], TransactionMode::ReadOnly, Durability::Relaxed)?;
        object_store(&transaction, place)
    }

    /// Begins a transaction of one writing that is sure.
    fn begin_writing(&self, place: &str) -> Result<(IdbTransaction, ObjectStore), StoreError> {
        let transaction = self.begin(&[place], TransactionMode::ReadWrite, Durability::Strict)?;
        let store = object_store(&transaction, place)?;
        Ok((transaction, store))
    }

    fn begin_delete(
        &self,
        kind: Kind,
        id: &Id,
    ) -> Result<impl Future<Output = Result<(), StoreError>> + use<>, StoreError> {
        let (transaction, store) = self.begin_writing(kind.place())?;
        let key = JsValue::from_str(&id.0);
        // An entry without its record counts for nothing.
        store.delete(key).map_err(|error| store_error(&error))?;
        Ok(committed(transaction))
    }

    fn begin_aside(
        &self,
        record: &Kept,
    ) -> Result<impl Future<Output = Result<(), StoreError>> + use<>, StoreError> {
        let (transaction, store) = self.begin_writing(ASIDE)?;
        let key = JsValue::from(format!("{} {}", record.kind.place(), record.id.0));
        let value = value_of(record).map_err(|error| of_value(&error))?;
        store
            .put(&value, Some(&key))
            .map_err(|error| store_error(&error))?;
        Ok(committed(transaction))
    }

    /// Makes the requests of a put.
    fn begin_put(
        &self,
        record: &Kept,
        expected: Option<Revision>,
        durability: Durability,
    ) -> Result<impl Future<Output = Result<(), StoreError>> + use<>, StoreError> {
        let place = record.kind.place();
        let places = match record.entry {
            Some(_) => &[place, ENTRIES][..],
            None => &[place][..],
        };
        let transaction = self.begin(places, TransactionMode::ReadWrite, durability)?;
        let store = object_store(&transaction, place)?;
        let key = JsValue::from_str(&record.id.0);
        let value = value_of(record).map_err(|error| of_value(&error))?;
        let found = store
            .get(key.clone())
            .map_err(|error| store_error(&error))?;
        store
            .put(&value, Some(&key))
            .map_err(|error| store_error(&error))?;
        if let Some(entry) = &record.entry {
            // Both are kept, or neither is.
            put_entry(&object_store(&transaction, ENTRIES)?, &key, entry)?;
        }
        let found = found.into_future();
        let done = Transaction::from(transaction.clone()).into_future();
        Ok(async move {
            let kept = match found.await {
                Ok(found) => found.map(|value| revision_of(&value)),
                Err(error) => {
                    // What the transaction calls back must live until it has ended, here and below.
                    let _ = done.await;
                    return Err(store_error(&error));
                }
            };
            if kept == expected {
                return ended(&transaction, done.await);
            }
            // The put comes after the get, and has not been committed yet.
            transaction.abort().map_err(|error| of_value(&error))?;
            let _ = done.await;
            Err(StoreError::Conflict { kept })
        })
    }
}

impl Store for IndexedStore {
    async fn load_all(&self, kind: Kind) -> Result<Vec<Kept>, StoreError> {
        let store = self.read(kind.place())?;
        let values = store.get_all(None, None).map_err(|e| store_error(&e))?;
        let values = values.await.map_err(|error| store_error(&error))?;
        Ok(values.iter().map(|value| kept_of(kind, value)).collect())
    }

    async fn load(&self, kind: Kind, id: &Id) -> Result<Option<Kept>, StoreError> {
        let store = self.read(kind.place())?;
        let key = JsValue::from_str(&id.0);
        let value = store.get(key).map_err(|error| store_error(&error))?;
        let value = value.await.map_err(|error| store_error(&error))?;
        Ok(value.map(|value| kept_of(kind, &value)))
    }

    async fn load_tests(&self, ids: &[Id]) -> Result<Vec<Kept>, StoreError> {
        tests_in(&self.read(Kind::Test.place())?, ids).await
    }

    async fn load_entries(&self) -> Result<Entries, StoreError> {
        let (tests, mode) = (Kind::Test.place(), TransactionMode::ReadOnly);
        let transaction = self.begin(&[tests, ENTRIES], mode, Durability::Relaxed)?;
        let ids = object_store(&transaction, tests)?;
        let ids = ids.get_all_keys(None, None).map_err(|e| store_error(&e))?;
        let lines = object_store(&transaction, ENTRIES)?;
        let lines = lines.get_all(None, None).map_err(|e| store_error(&e))?;
        let (ids, lines) = (ids.into_future(), lines.into_future());
        let ids = ids.await.map_err(|error| store_error(&error))?;
        let lines = lines.await.map_err(|error| store_error(&error))?;
        Ok(Entries {
            ids: joined(ids).lines().map(|id| Id(id.to_owned())).collect(),
            lines: joined(lines),
        })
    }

    async fn index_anew(
        &self,
        ids: &[Id],
        entry_of: fn(&Kept) -> Option<String>,
    ) -> Result<Vec<Kept>, StoreError> {
        let (tests, mode) = (Kind::Test.place(), TransactionMode::ReadWrite);
        let transaction = self.begin(&[tests, ENTRIES], mode, Durability::Relaxed)?;
        let done = committed(transaction.clone());
        let found = indexed(&transaction, ids, entry_of).await;
        // As in `begin_put`: what the transaction calls back must live until it has ended.
        let ended = done.await;
        found.and_then(|found| ended.map(|()| found))
    }

    fn put(
        &self,
        record: &Kept,
        expected: Option<Revision>,
        durability: Durability,
    ) -> impl Future<Output = Result<(), StoreError>> {
        let begun = self.begin_put(record, expected, durability);
        async move { begun?.await }
    }

    fn clear_away(&self, kind: Kind, id: &Id) -> impl Future<Output = Result<(), StoreError>> {
        let begun = self.begin_delete(kind, id);
        async move { begun?.await }
    }

    fn set_aside(&self, record: &Kept) -> impl Future<Output = Result<(), StoreError>> {
        let begun = self.begin_aside(record);
        async move { begun?.await }
    }
}

/// How many records are asked for one by one rather than all at once.
const FEW: usize = 100;

/// Some tests in the order of their ids, by as few requests as there may be.
async fn tests_in(store: &ObjectStore, ids: &[Id]) -> Result<Vec<Kept>, StoreError> {
    if ids.len() > FEW {
        let all = store.get_all(None, None).map_err(|e| store_error(&e))?;
        let all = all.await.map_err(|error| store_error(&error))?;
        let wanted: BTreeSet<&Id> = ids.iter().collect();
        let all = all.iter().map(|value| kept_of(Kind::Test, value));
        return Ok(all.filter(|kept| wanted.contains(&kept.id)).collect());
    }
    let mut asked = Vec::with_capacity(ids.len());
    for id in ids {
        let one = store.get(JsValue::from_str(&id.0));
        asked.push(one.map_err(|error| store_error(&error))?.into_future());
    }
    let mut found = Vec::with_capacity(ids.len());
    for one in asked {
        let value = one.await.map_err(|error| store_error(&error))?;
        found.extend(value.map(|value| kept_of(Kind::Test, &value)));
    }
    Ok(found)
}

/// Reads some tests and puts their entries anew, within one transaction.
async fn indexed(
    transaction: &IdbTransaction,
    ids: &[Id],
    entry_of: fn(&Kept) -> Option<String>,
) -> Result<Vec<Kept>, StoreError> {
    let found = tests_in(&object_store(transaction, Kind::Test.place())?, ids).await?;
    let entries = object_store(transaction, ENTRIES)?;
    for test in &found {
        if let Some(entry) = entry_of(test) {
            put_entry(&entries, &JsValue::from_str(&test.id.0), &entry)?;
        }
    }
    Ok(found)
}

fn put_entry(entries: &ObjectStore, key: &JsValue, entry: &str) -> Result<(), StoreError> {
    let put = entries.put(&JsValue::from_str(entry), Some(key));
    put.map(drop).map_err(|error| store_error(&error))
}

/// Many short texts as one, a line each: crossing the border once is what takes no time.
fn joined(texts: Vec<JsValue>) -> String {
    texts.into_iter().collect::<Array>().join("\n").into()
}

fn object_store(transaction: &IdbTransaction, place: &str) -> Result<ObjectStore, StoreError> {
    Transaction::from(transaction.clone())
        .object_store(place)
        .map_err(|error| store_error(&error))
}

/// Waits for a transaction; its callbacks are set before the future is awaited.
fn committed(transaction: IdbTransaction) -> impl Future<Output = Result<(), StoreError>> {
    let done = Transaction::from(transaction.clone()).into_future();
    async move { ended(&transaction, done.await) }
}

/// What came of a transaction. One without room is often aborted only when it is committed.
fn ended(
    transaction: &IdbTransaction,
    result: Result<TransactionResult, idb::Error>,
) -> Result<(), StoreError> {
    match result {
        Ok(TransactionResult::Committed) => Ok(()),
        Ok(TransactionResult::Aborted) => {
            let why = transaction.error().as_ref().map(of_exception);
            Err(why.unwrap_or_else(|| StoreError::Failed {
                why: "the browser took the writing back".to_owned(),
            }))
        }
        Err(error) => Err(store_error(&error)),
    }
}

fn value_of(record: &Kept) -> Result<JsValue, JsValue> {
    let value = Object::new();
    // Whole numbers below 2^53 are exact.
    let revision = JsValue::from_f64(record.revision.0 as f64);
    Reflect::set(&value, &"id".into(), &record.id.0.as_str().into())?;
    Reflect::set(&value, &"revision".into(), &revision)?;
    Reflect::set(&value, &"json".into(), &record.json.as_str().into())?;
    Ok(value.into())
}

/// A record as it is kept. One that is none has what is there as its text, which the codec then says of.
fn kept_of(kind: Kind, value: &JsValue) -> Kept {
    let text = |name: &str| Reflect::get(value, &name.into()).ok()?.as_string();
    let whole_value = || JSON::stringify(value).ok().map(String::from);
    Kept {
        kind,
        id: Id(text("id").unwrap_or_default()),
        revision: revision_of(value),
        json: text("json").or_else(whole_value).unwrap_or_default(),
        entry: None,
    }
}

fn revision_of(value: &JsValue) -> Revision {
    let number = Reflect::get(value, &"revision".into()).ok();
    let number = number.and_then(|number| number.as_f64());
    Revision(number.map_or(0, |number| u64::from(whole(number))))
}

/// A count that came as a number of the browser.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the cast saturates, and a count is neither negative nor broken"
)]
fn whole(number: f64) -> u32 {
    number as u32
}
