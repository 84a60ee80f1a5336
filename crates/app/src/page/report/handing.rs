//! The ways in which a report leaves the device: print, save, share, and as a PDF where the command serves the page.

use super::super::browser;
use super::super::words::report as words;
use super::super::worker::Working;
use super::{FRAME, pdf};
use app::work::HandedOver;
use document::report::Order;
use leptos::prelude::*;

const HTML: &str = "text/html";

/// The buttons. None of them acts on a report that is not that of the choices any more.
#[component]
pub(super) fn Handing(
    ordered: Memo<Option<Order>>,
    working: ReadSignal<Working>,
    handed: Memo<Option<HandedOver>>,
) -> impl IntoView {
    let is_stale = Memo::new(move |_| {
        working.with(|working| working.is_waiting) || handed.with(Option::is_none)
    });
    let save = move |_| {
        if let Some(report) = handed.get_untracked() {
            browser::download(&file_name(&report), report.html.as_bytes(), HTML);
        }
    };
    let sheet = move || handed.with(|handed| handed.as_ref().and_then(shareable));
    let can_share = Memo::new(move |_| sheet().is_some());
    let share = move |_| {
        if let Some(data) = sheet() {
            browser::share(&data);
        }
    };
    view! {
        <div class="actions">
            <button type="button" class="primary" disabled=move || is_stale.get() on:click=save>{words::SAVE}</button>
            {move || can_share.get().then(|| view! {
                <button type="button" disabled=move || is_stale.get() on:click=share>{words::SHARE}</button>
            })}
            <button type="button" disabled=move || is_stale.get() on:click=move |_| browser::print_frame(FRAME)>{words::PRINT}</button>
            <AsPdf ordered is_stale handed/>
        </div>
    }
}

fn file_name(report: &HandedOver) -> String {
    format!("{}.html", report.name)
}

fn shareable(report: &HandedOver) -> Option<web_sys::ShareData> {
    browser::shareable(&file_name(report), report.html.as_bytes(), HTML)
}

/// The button for a PDF, where the server says that it makes one; and what became of it.
#[component]
fn AsPdf(
    ordered: Memo<Option<Order>>,
    is_stale: Memo<bool>,
    handed: Memo<Option<HandedOver>>,
) -> impl IntoView {
    let (is_made, set_made) = signal(false);
    let (is_under_way, set_under_way) = signal(false);
    let (problem, set_problem) = signal(None::<String>);
    wasm_bindgen_futures::spawn_local(async move {
        let is_made = pdf::is_made_here().await;
        // The screen may be gone by then.
        let _ = set_made.try_set(is_made);
    });
    let make = move |_| {
        let (Some(order), Some(report)) = (ordered.get_untracked(), handed.get_untracked()) else {
            return;
        };
        set_under_way.set(true);
        set_problem.set(None);
        wasm_bindgen_futures::spawn_local(async move {
            let made = pdf::made(&order).await;
            let _ = set_under_way.try_set(false);
            match made {
                Ok(bytes) => browser::download(&format!("{}.pdf", report.name), &bytes, pdf::KIND),
                Err(why) => {
                    let _ = set_problem.try_set(Some(why));
                }
            }
        });
    };
    view! {
        {move || is_made.get().then(|| view! {
            <button type="button" disabled=move || is_stale.get() || is_under_way.get() on:click=make>{words::PDF}</button>
        })}
        <p class="fine" role="status">{move || is_under_way.get().then(|| words::PDF_UNDER_WAY.said())}</p>
        {move || problem.get().map(|why| view! { <p class="problem" role="alert">{why}</p> })}
    }
}
