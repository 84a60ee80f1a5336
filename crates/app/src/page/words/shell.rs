//! What stands around every screen.

use super::{Phrase, here, phrase};
use app::store::StoreError;
use document::say;

pub(in crate::page) const NAME: &str = "Headwright";
pub(in crate::page) const SKIP: Phrase = phrase!("Skip to the content");
pub(in crate::page) const MENU: Phrase = phrase!("Menu");
pub(in crate::page) const SITES: Phrase = phrase!("Sites");
pub(in crate::page) const HELP: Phrase = phrase!("Help");
pub(in crate::page) const SETTINGS: Phrase = phrase!("Settings");
pub(in crate::page) const OFFLINE: Phrase = phrase!("No signal");
pub(in crate::page) const OFFLINE_MORE: Phrase =
    phrase!("Everything here works without a network.");
pub(in crate::page) const OPENING: Phrase = phrase!("Opening what is kept on this device…");
pub(in crate::page) const EXPORT_NOW: Phrase = phrase!("Export now");
pub(in crate::page) const TRY_AGAIN: Phrase = phrase!("Try again");
pub(in crate::page) const LOAD_AGAIN: Phrase = phrase!("Load again");
pub(in crate::page) const CLOSE: Phrase = phrase!("Close");
pub(in crate::page) const CANCEL: Phrase = phrase!("Cancel");
pub(in crate::page) const GONE: Phrase = phrase!("Not on this device");
pub(in crate::page) const GONE_MORE: Phrase =
    phrase!("This site or test is not kept on this device, or was deleted here.");
pub(in crate::page) const UPDATE: Phrase =
    phrase!("A new version of the page is ready. It comes in when no test is open.");

/// What is said where the browser keeps nothing at all.
pub(in crate::page) const MEMORY: Phrase = phrase!(
    "This browser keeps nothing: in a private window, or with storage turned off. What you type lives until this window \
     closes. Export before you leave."
);

/// What is said where the store must not be touched.
pub(in crate::page) fn shut(error: &StoreError) -> String {
    match error {
        StoreError::Newer { .. } => {
            say!(here(), "A newer version of this page has been used here. Load the page again to get it; nothing is touched until then.").to_owned()
        }
        StoreError::Blocked => {
            say!(here(), "Another window has an older version of this page open. Close it, then load this one again.").to_owned()
        }
        error => say!(here(), "What is kept cannot be opened: {why}.", why = why(error)),
    }
}

/// What is said where something could not be kept.
pub(in crate::page) fn trouble(error: &StoreError) -> String {
    match error {
        StoreError::Full => say!(
            here(),
            "Not kept: storage is full. Export now, then make room on the device."
        )
        .to_owned(),
        StoreError::Conflict { .. } => say!(
            here(),
            "Not kept: another window has changed this test. Open it again to see what is kept."
        )
        .to_owned(),
        error => say!(here(), "Not kept: {why}. Export now.", why = why(error)),
    }
}

/// What is wrong with the store, as a part of a sentence.
fn why(error: &StoreError) -> String {
    match error {
        StoreError::Refused => say!(here(), "this browser lets the page keep nothing").to_owned(),
        StoreError::Full => say!(here(), "there is no room left on this device").to_owned(),
        StoreError::Blocked => say!(here(), "another window has an older page open").to_owned(),
        StoreError::Newer { .. } => say!(here(), "a newer page has written here").to_owned(),
        StoreError::Conflict { .. } => {
            say!(here(), "another window has changed this meanwhile").to_owned()
        }
        StoreError::Failed { why } => {
            say!(here(), "the storage of the browser failed ({why})", why)
        }
    }
}
