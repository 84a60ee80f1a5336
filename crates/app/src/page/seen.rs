//! Whether a part of a screen is in sight.

use leptos::html::ElementType;
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Element, IntersectionObserver, IntersectionObserverEntry};

/// What sees an element, as long as it lives.
struct Watch {
    observer: IntersectionObserver,
    _told: Closure<dyn FnMut(js_sys::Array)>,
}

impl Drop for Watch {
    fn drop(&mut self) {
        self.observer.disconnect();
    }
}

/// Follows whether an element is in sight. What a browser does not tell is taken to be seen.
pub(super) fn in_sight<E>(place: NodeRef<E>) -> ReadSignal<bool>
where
    E: ElementType,
    E::Output: JsCast + Clone + AsRef<Element> + 'static,
{
    let (sight, set) = signal(true);
    let watch = StoredValue::new_local(None::<Watch>);
    Effect::new(move |_| {
        if let Some(element) = place.get() {
            watch.set_value(watched(element.as_ref(), set));
        }
    });
    on_cleanup(move || drop(watch.try_update_value(Option::take)));
    sight
}

fn watched(element: &Element, set: WriteSignal<bool>) -> Option<Watch> {
    let told = Closure::<dyn FnMut(js_sys::Array)>::new(move |entries: js_sys::Array| {
        // The last one says how it is now.
        let last: Option<IntersectionObserverEntry> = entries.pop().dyn_into().ok();
        if let Some(last) = last {
            let _ = set.try_set(last.is_intersecting());
        }
    });
    let observer = IntersectionObserver::new(told.as_ref().unchecked_ref()).ok()?;
    observer.observe(element);
    Some(Watch {
        observer,
        _told: told,
    })
}
