//! The changes of the pad that are kept: each can be handed on as the file that `compare` and `report` take, or deleted.

use super::super::browser;
use super::super::keeper::keeper;
use super::super::undo::{delete_change, undo};
use super::super::words::{site as words, sites};
use app::library::{ChangeRecord, SiteRecord};
use leptos::prelude::*;

/// The list.
#[component]
pub(super) fn Changes(site: Memo<Option<SiteRecord>>) -> impl IntoView {
    let (keeper, undo) = (keeper(), undo());
    let kept = Memo::new(move |_| {
        let id = site.with(|site| site.as_ref().map(|site| site.id.clone()));
        keeper.library.with(|library| {
            let kept = id.iter().flat_map(|id| library.changes_of(id));
            kept.cloned().collect::<Vec<ChangeRecord>>()
        })
    });
    let row = move |change: ChangeRecord| {
        let (title, source) = (change.title(), change.source());
        let (deletes, exports) = (words::delete_named(&title), words::export_named(&title));
        let export = move |_| {
            browser::download(&source.name, source.text.as_bytes(), "text/plain");
        };
        let delete = move |_| delete_change(keeper, undo, &change);
        view! {
            <li class="card">
                <span class="title">{title}</span>
                <div class="actions">
                    <button type="button" aria-label=exports on:click=export>{sites::EXPORT}</button>
                    <button type="button" class="danger" aria-label=deletes on:click=delete>{words::DELETE_SURE}</button>
                </div>
            </li>
        }
    };
    move || {
        let kept = kept.get();
        (!kept.is_empty()).then(|| {
            view! {
                <h2>{words::CHANGES}</h2>
                <p class="fine">{words::CHANGES_MORE}</p>
                <ul class="cards changes">{kept.into_iter().map(row).collect_view()}</ul>
            }
        })
    }
}
