//! What the pure part of the library is told from outside: the moment, and new ids.

use app::library::{Id, Moment};
use js_sys::Date;
use leptos::prelude::window;
use std::fmt::Write;

/// Bytes of an id: as many as in a UUID, so that no two are ever alike.
const BYTES: usize = 16;

/// The moment.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the cast saturates, and no clock stands before 1970"
)]
pub(crate) fn now() -> Moment {
    Moment(Date::now() as u64)
}

/// A new id; `None` where the browser has no randomness to give.
pub(crate) fn new_id() -> Option<Id> {
    let mut bytes = [0_u8; BYTES];
    let crypto = window().crypto().ok()?;
    crypto.get_random_values_with_u8_array(&mut bytes).ok()?;
    let mut id = String::with_capacity(2 * BYTES);
    for byte in bytes {
        // Writing to a string does not fail.
        let _ = write!(id, "{byte:02x}");
    }
    Some(Id(id))
}
