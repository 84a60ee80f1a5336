//! What the browser's database says went wrong, as ours.

use app::store::StoreError;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::DomException;

/// Turns an error of the database's wrapper into ours.
pub(super) fn store_error(error: &idb::Error) -> StoreError {
    let exception = match error {
        idb::Error::DomException(exception) => Some(exception),
        idb::Error::TransactionOpenFailed(value)
        | idb::Error::UpdateFailed(value)
        | idb::Error::DeleteFailed(value)
        | idb::Error::GetFailed(value)
        | idb::Error::GetAllFailed(value)
        | idb::Error::IndexedDbOpenFailed(value)
        | idb::Error::ObjectStoreNotFound(value) => value.dyn_ref(),
        idb::Error::IndexedDbNotFound(_) => return StoreError::Refused,
        _ => None,
    };
    exception.map_or_else(
        || StoreError::Failed {
            why: error.to_string(),
        },
        of_exception,
    )
}

/// Turns an exception of the browser into ours.
pub(super) fn of_exception(exception: &DomException) -> StoreError {
    match exception.name().as_str() {
        "QuotaExceededError" => StoreError::Full,
        "SecurityError" | "NotAllowedError" => StoreError::Refused,
        name => StoreError::Failed {
            why: format!("{name}: {}", exception.message()),
        },
    }
}

/// Turns whatever a call threw into ours.
pub(super) fn of_value(value: &JsValue) -> StoreError {
    value.dyn_ref().map_or_else(
        || StoreError::Failed {
            why: format!("{value:?}"),
        },
        of_exception,
    )
}

/// Whether a database could not be opened because it is of a newer version.
pub(super) fn is_newer(error: &idb::Error) -> bool {
    let exception = match error {
        idb::Error::DomException(exception) => Some(exception),
        idb::Error::IndexedDbOpenFailed(value) => value.dyn_ref(),
        _ => None,
    };
    exception.is_some_and(|exception| exception.name() == "VersionError")
}
