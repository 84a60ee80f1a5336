//! What keeps the library in this browser: its database, its locks between tabs, its room, its clock and its ids.

#![allow(
    dead_code,
    unused_imports,
    reason = "the screens take what they need of it"
)]

mod errors;
mod fresh;
mod indexed;
mod lock;
mod opening;
mod room;

pub(crate) use fresh::{new_id, now};
pub(crate) use indexed::IndexedStore;
pub(crate) use lock::{Hold, How, hold};
pub(crate) use room::{Room, ask_to_persist, room};
