//! How much room the browser leaves, and whether it keeps what is stored when room gets short.

use js_sys::Reflect;
use leptos::prelude::window;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::StorageManager;

/// Room as the browser estimates it, in bytes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Room {
    /// What is used.
    pub(crate) used: f64,
    /// What may be used.
    pub(crate) quota: f64,
}

/// Asks the browser to keep what is stored here whatever room it lacks; says whether it does. Some ask the person, so that
/// it is asked after the first reading and not before.
pub(crate) async fn ask_to_persist() -> bool {
    let Some(Ok(asked)) = storage().map(|storage| storage.persist()) else {
        return false;
    };
    let answer = JsFuture::from(asked).await;
    answer.is_ok_and(|answer| answer.is_truthy())
}

/// Estimates the room; `None` where the browser does not say.
pub(crate) async fn room() -> Option<Room> {
    let asked = storage()?.estimate().ok()?;
    let estimate = JsFuture::from(asked).await.ok()?;
    let number = |name: &str| {
        Reflect::get(&estimate, &JsValue::from_str(name))
            .ok()?
            .as_f64()
    };
    Some(Room {
        used: number("usage")?,
        quota: number("quota")?,
    })
}

/// The storage of the browser; without a secure context there is none.
fn storage() -> Option<StorageManager> {
    let storage = Reflect::get(&window().navigator(), &"storage".into()).ok()?;
    storage.dyn_into().ok()
}
