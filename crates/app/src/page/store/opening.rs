//! Opening the database, and bringing an older one up to this version.

use super::errors::{is_newer, store_error};
use app::store::{Kind, StoreError};
use idb::{Database, DatabaseEvent, Factory, ObjectStoreParams, event::VersionChangeEvent};
use std::cell::RefCell;
use std::future::{IntoFuture, poll_fn};
use std::pin::pin;
use std::rc::Rc;
use std::task::{Poll, Waker};

const NAME: &str = "headwright";
/// The version of the places in the database; that of the records in them is the codec's.
const VERSION: u32 = 2;
/// The place for records that cannot be read.
pub(super) const ASIDE: &str = "aside";

/// Opens the database.
pub(super) async fn open() -> Result<Database, StoreError> {
    let factory = Factory::new().map_err(|_| StoreError::Refused)?;
    let mut request = factory
        .open(NAME, Some(VERSION))
        .map_err(|error| store_error(&error))?;
    let blocked = Rc::new(RefCell::new(Blocked::default()));
    let told = Rc::clone(&blocked);
    request.on_blocked(move |_| told.borrow_mut().tell());
    // An upgrade that fails aborts, and the opening with it.
    request.on_upgrade_needed(|event| drop(upgrade(&event)));
    let mut opening = pin!(request.into_future());
    let opened = poll_fn(|context| {
        if let Poll::Ready(opened) = opening.as_mut().poll(context) {
            return Poll::Ready(Some(opened));
        }
        let mut blocked = blocked.borrow_mut();
        if blocked.is_told {
            return Poll::Ready(None);
        }
        blocked.waker = Some(context.waker().clone());
        Poll::Pending
    })
    .await;
    match opened {
        None => Err(StoreError::Blocked),
        Some(Ok(database)) => Ok(database),
        Some(Err(error)) if is_newer(&error) => Err(StoreError::Newer {
            found: version_found(&factory).await.unwrap_or(VERSION + 1),
            known: VERSION,
        }),
        Some(Err(error)) => Err(store_error(&error)),
    }
}

/// Whether another tab holds an older database open.
#[derive(Default)]
struct Blocked {
    is_told: bool,
    waker: Option<Waker>,
}

impl Blocked {
    fn tell(&mut self) {
        self.is_told = true;
        if let Some(waker) = self.waker.take() {
            waker.wake();
        }
    }
}

/// Makes the places that a database of an older version does not have. A version that changes one adds its step here, by
/// the version that the event says was found.
fn upgrade(event: &VersionChangeEvent) -> Result<(), idb::Error> {
    let database = event.database()?;
    let there = database.store_names();
    let places = Kind::ALL.map(Kind::place).into_iter().chain([ASIDE]);
    for place in places.filter(|place| !there.iter().any(|name| name == place)) {
        database.create_object_store(place, ObjectStoreParams::new())?;
    }
    Ok(())
}

/// The version of a database that is newer than ours.
async fn version_found(factory: &Factory) -> Option<u32> {
    let database = factory.open(NAME, None).ok()?.await.ok()?;
    let version = database.version().ok();
    database.close();
    version
}
