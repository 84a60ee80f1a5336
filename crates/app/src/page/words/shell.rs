//! What stands around every screen.

use app::store::StoreError;

pub(in crate::page) const NAME: &str = "Headwright";
pub(in crate::page) const SKIP: &str = "Skip to the content";
pub(in crate::page) const MENU: &str = "Menu";
pub(in crate::page) const SITES: &str = "Sites";
pub(in crate::page) const HELP: &str = "Help";
pub(in crate::page) const SETTINGS: &str = "Settings";
pub(in crate::page) const OFFLINE: &str = "No signal";
pub(in crate::page) const OFFLINE_MORE: &str = "Everything here works without a network.";
pub(in crate::page) const OPENING: &str = "Opening what is kept on this device…";
pub(in crate::page) const EXPORT_NOW: &str = "Export now";
pub(in crate::page) const TRY_AGAIN: &str = "Try again";
pub(in crate::page) const LOAD_AGAIN: &str = "Load again";
pub(in crate::page) const CLOSE: &str = "Close";
pub(in crate::page) const CANCEL: &str = "Cancel";
pub(in crate::page) const GONE: &str = "Not on this device";
pub(in crate::page) const GONE_MORE: &str =
    "This site or test is not kept on this device, or was deleted here.";
pub(in crate::page) const UPDATE: &str =
    "A new version of the page is ready. It comes in when no test is open.";

/// What is said where the browser keeps nothing at all.
pub(in crate::page) const MEMORY: &str = "This browser keeps nothing: in a private window, or with storage turned off. What you type lives until this window \
     closes. Export before you leave.";

/// What is said where the store must not be touched.
pub(in crate::page) fn shut(error: &StoreError) -> String {
    match error {
        StoreError::Newer { .. } => {
            "A newer version of this page has been used here. Load the page again to get it; nothing is touched until then."
                .to_owned()
        }
        StoreError::Blocked => {
            "Another window has an older version of this page open. Close it, then load this one again.".to_owned()
        }
        error => format!("What is kept cannot be opened: {}.", why(error)),
    }
}

/// What is said where something could not be kept.
pub(in crate::page) fn trouble(error: &StoreError) -> String {
    match error {
        StoreError::Full => {
            "Not kept: storage is full. Export now, then make room on the device.".to_owned()
        }
        StoreError::Conflict { .. } => {
            "Not kept: another window has changed this test. Open it again to see what is kept."
                .to_owned()
        }
        error => format!("Not kept: {}. Export now.", why(error)),
    }
}

/// What is wrong with the store, as a part of a sentence.
fn why(error: &StoreError) -> String {
    match error {
        StoreError::Refused => "this browser lets the page keep nothing".to_owned(),
        StoreError::Full => "there is no room left on this device".to_owned(),
        StoreError::Blocked => "another window has an older page open".to_owned(),
        StoreError::Newer { .. } => "a newer page has written here".to_owned(),
        StoreError::Conflict { .. } => "another window has changed this meanwhile".to_owned(),
        StoreError::Failed { why } => format!("the storage of the browser failed ({why})"),
    }
}
