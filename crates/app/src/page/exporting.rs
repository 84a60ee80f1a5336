//! What leaves the device: a site as one bundle, by the downloads or by the share sheet.

use super::browser;
use super::keeper::{Keeper, remember_export};
use app::library::{Id, SiteRecord, TestRecord, by_last_change, export_name, exported};
use leptos::prelude::*;
use web_sys::ShareData;

const ZIP: &str = "application/zip";
const TEXT: &str = "text/plain";

/// The texts of a site and its tests, as they are now.
fn records(keeper: Keeper, id: &Id) -> Option<(SiteRecord, Vec<TestRecord>)> {
    keeper.library.with_untracked(|library| {
        let site = library.site(id)?.clone();
        let tests = library.tests_of(id).into_iter().cloned().collect();
        Some((site, tests))
    })
}

/// Puts a site with the downloads. Texts that make no bundle yet leave as they are, each as a file.
pub(super) fn export_site(keeper: Keeper, id: &Id) {
    let Some((site, tests)) = records(keeper, id) else {
        return;
    };
    let all: Vec<&TestRecord> = tests.iter().collect();
    if let Ok(bytes) = exported(&site, &all) {
        browser::download(&export_name(&site), &bytes, ZIP);
    } else {
        let sources = tests.iter().map(TestRecord::files);
        let sources = sources.flat_map(|files| std::iter::once(files.test).chain(files.readings));
        for source in std::iter::once(site.source()).chain(sources) {
            browser::download(&source.name, source.text.as_bytes(), TEXT);
        }
    }
    remember_export(id, tests.len());
}

/// Puts every site with the downloads.
pub(super) fn export_everything(keeper: Keeper) {
    keeper.with_tests(None, Box::new(move || export_loaded(keeper)));
}

fn export_loaded(keeper: Keeper) {
    let sites: Vec<Id> = keeper.library.with_untracked(|library| {
        let sites = by_last_change(library);
        sites.into_iter().map(|site| site.id.clone()).collect()
    });
    for site in &sites {
        export_site(keeper, site);
    }
}

/// What the share sheet would get; `None` where the device has none that takes files.
pub(super) fn to_share(keeper: Keeper, id: &Id) -> Option<ShareData> {
    let (site, tests) = records(keeper, id)?;
    let all: Vec<&TestRecord> = tests.iter().collect();
    let bytes = exported(&site, &all).ok()?;
    browser::shareable(&export_name(&site), &bytes, ZIP)
}

/// Opens the share sheet with a site.
pub(super) fn share_site(keeper: Keeper, id: &Id) {
    if let Some(data) = to_share(keeper, id) {
        browser::share(&data);
        let tests = keeper
            .library
            .with_untracked(|library| library.tests_of(id).len());
        remember_export(id, tests);
    }
}

/// The two ways in which a site leaves the device.
#[component]
pub(super) fn ExportActions(id: Id) -> impl IntoView {
    let keeper = super::keeper::keeper();
    let can_share = to_share(keeper, &id).is_some();
    let shared = id.clone();
    view! {
        <button type="button" on:click=move |_| export_site(keeper, &id)>{super::words::sites::EXPORT}</button>
        {can_share.then(|| view! {
            <button type="button" on:click=move |_| share_site(keeper, &shared)>{super::words::sites::SHARE}</button>
        })}
    }
}
