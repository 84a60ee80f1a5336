//! Which tab may write a test: a lock of the browser, held as long as the test is open.
//!
//! A browser without such locks lets every tab hold; revisions then still keep one from overwriting another.

use app::library::Id;
use js_sys::{Function, Object, Promise, Reflect};
use leptos::prelude::window;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};

/// The right of this tab to write a test. It ends when it is dropped.
pub(crate) struct Hold {
    /// Ends the lock; `None` where the browser has none.
    release: Option<Function>,
}

impl Drop for Hold {
    fn drop(&mut self) {
        if let Some(release) = &self.release {
            // A lock that another tab took over is gone already.
            let _ = release.call0(&JsValue::NULL);
        }
    }
}

/// How a test is to be held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum How {
    /// Only where no other tab does.
    IfFree,
    /// Also where another tab does, which loses it: the person has said so.
    TakeOver,
}

/// Holds a test. `None` where another tab does; the test is then only read here.
///
/// # Inputs
/// The test, whether to take it over, and what is called when another tab takes it over from here.
pub(crate) async fn hold(test: &Id, how: How, taken: impl FnOnce() + 'static) -> Option<Hold> {
    let without = Some(Hold { release: None });
    let Some((locks, request)) = locks() else {
        return without;
    };
    let (answered, answer) = promise();
    let granted = Closure::once_into_js(move |lock: JsValue| -> JsValue {
        if lock.is_null() || lock.is_undefined() {
            let _ = answer.call1(&JsValue::NULL, &JsValue::NULL);
            return JsValue::UNDEFINED;
        }
        // The lock lasts as long as this promise, which `Hold` resolves.
        let (held, release) = promise();
        let _ = answer.call1(&JsValue::NULL, &release);
        held.into()
    });
    let options = Object::new();
    let option = match how {
        How::IfFree => "ifAvailable",
        How::TakeOver => "steal",
    };
    Reflect::set(&options, &option.into(), &JsValue::TRUE).ok()?;
    let name = format!("headwright test {}", test.0);
    let Ok(lasting) = request.call3(&locks, &name.into(), &options, &granted) else {
        return without;
    };
    if let Ok(lasting) = lasting.dyn_into::<Promise>() {
        spawn_local(async move {
            // It fails when another tab takes the lock over, and only then.
            if JsFuture::from(lasting).await.is_err() {
                taken();
            }
        });
    }
    let release = JsFuture::from(answered).await.ok()?;
    let release = release.dyn_into::<Function>().ok()?;
    Some(Hold {
        release: Some(release),
    })
}

/// The locks of the browser, with their way to ask for one.
fn locks() -> Option<(JsValue, Function)> {
    let locks = Reflect::get(&window().navigator(), &"locks".into()).ok()?;
    let request = Reflect::get(&locks, &"request".into()).ok()?;
    Some((locks, request.dyn_into().ok()?))
}

/// A promise, and the function that resolves it.
fn promise() -> (Promise, Function) {
    let mut resolve = None;
    let promise = Promise::new(&mut |resolved, _| resolve = Some(resolved));
    // A promise calls back before it is made, so that the function is always there.
    (promise, resolve.unwrap_or_default())
}
