//! The few things that are asked of the browser itself, each in one plain function that fails quietly: the page works
//! without any of them.

use app::library::Id;
use leptos::prelude::{document, window};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{
    Blob, BlobPropertyBag, File, FilePropertyBag, HtmlAnchorElement, HtmlElement, ShareData, Url,
};

const MAIN: &str = "main";

pub(super) use super::store::now;

/// The date and the time of day here, as a test file writes them.
pub(super) fn date_and_time() -> (String, String) {
    let date = day_of(super::store::now());
    let now = js_sys::Date::new_0();
    let time = format!("{:02}:{:02}:00", now.get_hours(), now.get_minutes());
    (date, time)
}

/// The day of a moment, here.
pub(super) fn day_of(moment: app::library::Moment) -> String {
    #[expect(clippy::cast_precision_loss, reason = "moments lie far below 2^53")]
    let day = js_sys::Date::new(&JsValue::from_f64(moment.0 as f64));
    format!(
        "{:04}-{:02}-{:02}",
        day.get_full_year(),
        day.get_month() + 1,
        day.get_date()
    )
}

/// A new random id.
pub(super) fn new_id() -> Id {
    // A browser without randomness still has its clock; a store tells where two ids are alike.
    super::store::new_id().unwrap_or_else(|| Id(format!("{:x}", js_sys::Date::now().to_bits())))
}

/// The fragment of the address, with its `#`.
pub(super) fn fragment() -> String {
    window().location().hash().unwrap_or_default()
}

/// Puts another fragment into the address; "back" comes back to the one before.
pub(super) fn push_fragment(fragment: &str) {
    if let Ok(history) = window().history() {
        let _ = history.push_state_with_url(&JsValue::NULL, "", Some(fragment));
    }
}

/// Puts another fragment in place of this one.
pub(super) fn replace_fragment(fragment: &str) {
    if let Ok(history) = window().history() {
        let _ = history.replace_state_with_url(&JsValue::NULL, "", Some(fragment));
    }
}

/// Goes to the top of a screen that has just come, with the focus too.
pub(super) fn start_of_screen() {
    window().scroll_to_with_x_and_y(0.0, 0.0);
    focus_later(MAIN);
}

/// Gives an element the focus once what is under way has been drawn.
pub(super) fn focus_later(id: &str) {
    let id = id.to_owned();
    leptos::prelude::request_animation_frame(move || focus(&id));
}

/// Gives the first element that a selector finds the focus once what is under way has been drawn.
pub(super) fn focus_first_later(selector: &str) {
    let selector = selector.to_owned();
    leptos::prelude::request_animation_frame(move || {
        let found = document().query_selector(&selector).ok().flatten();
        if let Some(focus) = found.and_then(|element| {
            let focus = js_sys::Reflect::get(&element, &JsValue::from_str("focus")).ok()?;
            Some((focus.dyn_into::<js_sys::Function>().ok()?, element))
        }) {
            let _ = focus.0.call0(&focus.1);
        }
    });
}

/// The width of the window in pixels.
pub(super) fn width() -> f64 {
    let width = window().inner_width().ok();
    width.and_then(|width| width.as_f64()).unwrap_or_default()
}

fn focus(id: &str) {
    let element = document().get_element_by_id(id);
    if let Some(element) = element.and_then(|element| element.dyn_into::<HtmlElement>().ok()) {
        let _ = element.focus();
    }
}

/// The id of what has the focus, where it has one.
pub(super) fn focused() -> Option<String> {
    let id = document().active_element()?.id();
    (!id.is_empty()).then_some(id)
}

/// The tag of the language that the person reads, as the browser states it.
pub(super) fn reads() -> String {
    window().navigator().language().unwrap_or_default()
}

/// Whether the page runs from right to left.
pub(super) fn reads_from_the_right() -> bool {
    let root = document().document_element();
    root.and_then(|root| root.get_attribute("dir")).as_deref() == Some("rtl")
}

/// Sets or takes away an attribute of the whole document.
pub(super) fn root_attribute(name: &str, value: Option<&str>) {
    let Some(root) = document().document_element() else {
        return;
    };
    let _ = match value {
        Some(value) => root.set_attribute(name, value),
        None => root.remove_attribute(name),
    };
}

/// Asks the browser not to clear what the page keeps.
pub(super) fn ask_to_persist() {
    // Whatever the browser decides, the page goes on.
    wasm_bindgen_futures::spawn_local(async {
        super::store::ask_to_persist().await;
    });
}

/// A small text kept beside the store, in this browser only.
pub(super) fn remembered(key: &str) -> Option<String> {
    window().local_storage().ok()??.get_item(key).ok()?
}

/// Keeps such a text.
pub(super) fn remember(key: &str, text: &str) {
    if let Ok(Some(storage)) = window().local_storage() {
        let _ = storage.set_item(key, text);
    }
}

/// Takes such a text away.
pub(super) fn forget(key: &str) {
    if let Ok(Some(storage)) = window().local_storage() {
        let _ = storage.remove_item(key);
    }
}

/// Lists the keys of such texts.
pub(super) fn remembered_keys() -> Vec<String> {
    let Ok(Some(storage)) = window().local_storage() else {
        return Vec::new();
    };
    let count = storage.length().unwrap_or_default();
    (0..count)
        .filter_map(|index| storage.key(index).ok()?)
        .collect()
}

/// Bytes as the browser holds them.
fn blob(bytes: &[u8], kind: &str) -> Option<Blob> {
    let array = js_sys::Uint8Array::from(bytes);
    let parts = js_sys::Array::of1(&array);
    let bag = BlobPropertyBag::new();
    bag.set_type(kind);
    Blob::new_with_u8_array_sequence_and_options(&parts, &bag).ok()
}

/// Hands a file to the browser to put with its downloads.
pub(super) fn download(name: &str, bytes: &[u8], kind: &str) {
    let Some(blob) = blob(bytes, kind) else {
        return;
    };
    let Ok(url) = Url::create_object_url_with_blob(&blob) else {
        return;
    };
    let link = document().create_element("a").ok();
    if let Some(link) = link.and_then(|link| link.dyn_into::<HtmlAnchorElement>().ok()) {
        link.set_href(&url);
        link.set_download(name);
        link.click();
    }
    // The download has its own hold of the bytes once the click's task is over.
    leptos::prelude::set_timeout(
        move || drop(Url::revoke_object_url(&url)),
        std::time::Duration::from_secs(30),
    );
}

/// A file for the share sheet, where the device has one that takes files.
pub(super) fn shareable(name: &str, bytes: &[u8], kind: &str) -> Option<ShareData> {
    let navigator = window().navigator();
    if !js_sys::Reflect::has(&navigator, &JsValue::from_str("canShare")).unwrap_or(false) {
        return None;
    }
    let bag = FilePropertyBag::new();
    bag.set_type(kind);
    let parts = js_sys::Array::of1(&js_sys::Uint8Array::from(bytes));
    let file = File::new_with_u8_array_sequence_and_options(&parts, name, &bag).ok()?;
    let data = ShareData::new();
    data.set_files(&js_sys::Array::of1(&file));
    data.set_title(name);
    navigator.can_share_with_data(&data).then_some(data)
}

/// Opens the share sheet.
pub(super) fn share(data: &ShareData) {
    let shared = window().navigator().share_with_data(data);
    wasm_bindgen_futures::spawn_local(async move {
        // Closing the sheet is an error to the browser, and none to the person.
        let _ = wasm_bindgen_futures::JsFuture::from(shared).await;
    });
}

/// Loads the page again.
pub(super) fn load_again() {
    let _ = window().location().reload();
}

/// Goes to the heading of a step that has just come.
pub(super) fn start_of_step(heading: &str) {
    window().scroll_to_with_x_and_y(0.0, 0.0);
    focus_later(heading);
}

/// Moves the strip of steps sideways until a step stands in its middle; the screen itself stays.
pub(super) fn bring_into_strip(row: usize) {
    let Some(strip) = document().get_element_by_id("strip") else {
        return;
    };
    let chip = u32::try_from(row)
        .ok()
        .and_then(|row| strip.children().item(row));
    let Some(chip) = chip.and_then(|chip| chip.dyn_into::<HtmlElement>().ok()) else {
        return;
    };
    strip.set_scroll_left(chip.offset_left() - (strip.client_width() - chip.offset_width()) / 2);
}

/// Waits.
pub(super) async fn rest(milliseconds: i32) {
    let waited = js_sys::Promise::new(&mut |done, _| {
        // Where there is no clock, nothing is waited for.
        let set =
            window().set_timeout_with_callback_and_timeout_and_arguments_0(&done, milliseconds);
        if set.is_err() {
            let _ = done.call0(&JsValue::NULL);
        }
    });
    let _ = wasm_bindgen_futures::JsFuture::from(waited).await;
}

/// The host that the page came from.
pub(super) fn host() -> String {
    window().location().hostname().unwrap_or_default()
}

/// Prints what a frame shows.
pub(super) fn print_frame(id: &str) {
    let print = document().get_element_by_id(id).and_then(|frame| {
        let inside = js_sys::Reflect::get(&frame, &JsValue::from_str("contentWindow")).ok()?;
        let print = js_sys::Reflect::get(&inside, &JsValue::from_str("print")).ok()?;
        Some((print.dyn_into::<js_sys::Function>().ok()?, inside))
    });
    if let Some((print, inside)) = print {
        let _ = print.call0(&inside);
    }
}

/// Looks at an address of whoever serves the page, or gives it JSON: the status and the bytes of its answer. `None` where
/// there is none.
pub(super) async fn ask(path: &str, json: Option<&str>) -> Option<(u16, Vec<u8>)> {
    use js_sys::{Function, Object, Promise, Reflect};
    use wasm_bindgen_futures::JsFuture;
    let call = |of: &JsValue, name: &str, with: &js_sys::Array| {
        let act: Function = Reflect::get(of, &name.into()).ok()?.dyn_into().ok()?;
        act.apply(of, with).ok()?.dyn_into::<Promise>().ok()
    };
    let how = Object::new();
    if let Some(json) = json {
        let head = Object::new();
        Reflect::set(&head, &"content-type".into(), &"application/json".into()).ok()?;
        Reflect::set(&how, &"headers".into(), &head).ok()?;
        Reflect::set(&how, &"method".into(), &"POST".into()).ok()?;
        Reflect::set(&how, &"body".into(), &json.into()).ok()?;
    }
    let with = js_sys::Array::of2(&path.into(), &how);
    let response = JsFuture::from(call(&window(), "fetch", &with)?)
        .await
        .ok()?;
    let status = Reflect::get(&response, &"status".into()).ok()?.as_f64()?;
    let bytes = call(&response, "arrayBuffer", &js_sys::Array::new())?;
    let bytes = js_sys::Uint8Array::new(&JsFuture::from(bytes).await.ok()?).to_vec();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a status is a whole number of three digits"
    )]
    let status = status as u16;
    Some((status, bytes))
}
