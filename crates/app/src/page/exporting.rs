//! What leaves the device: a site as one bundle, by the downloads or by the share sheet.

use super::browser;
use super::keeper::{Keeper, remember_export};
use app::library::{
    ChangeRecord, Id, SiteRecord, TestRecord, by_last_change, export_name, exported,
};
use leptos::prelude::*;
use web_sys::ShareData;

const ZIP: &str = "application/zip";
const TEXT: &str = "text/plain";

/// What leaves of a site, as it is now.
struct Leaving {
    site: SiteRecord,
    tests: Vec<TestRecord>,
    changes: Vec<ChangeRecord>,
}

impl Leaving {
    fn of(keeper: Keeper, id: &Id) -> Option<Self> {
        keeper.library.with_untracked(|library| {
            Some(Self {
                site: library.site(id)?.clone(),
                tests: library.tests_of(id).into_iter().cloned().collect(),
                changes: library.changes_of(id).into_iter().cloned().collect(),
            })
        })
    }

    /// The bytes of its bundle; `None` where the texts make none yet.
    fn bundle(&self) -> Option<Vec<u8>> {
        let tests: Vec<&TestRecord> = self.tests.iter().collect();
        let changes: Vec<&ChangeRecord> = self.changes.iter().collect();
        exported(&self.site, &tests, &changes).ok()
    }
}

/// Puts a site with the downloads. Texts that make no bundle yet leave as they are, each as a file.
pub(super) fn export_site(keeper: Keeper, id: &Id) {
    let Some(leaving) = Leaving::of(keeper, id) else {
        return;
    };
    if let Some(bytes) = leaving.bundle() {
        browser::download(&export_name(&leaving.site), &bytes, ZIP);
    } else {
        let sources = leaving.tests.iter().map(TestRecord::files);
        let sources = sources.flat_map(|files| std::iter::once(files.test).chain(files.readings));
        let changes = leaving.changes.iter().map(ChangeRecord::source);
        let all = std::iter::once(leaving.site.source());
        for source in all.chain(sources).chain(changes) {
            browser::download(&source.name, source.text.as_bytes(), TEXT);
        }
    }
    remember_export(id, leaving.tests.len());
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
    let leaving = Leaving::of(keeper, id)?;
    browser::shareable(&export_name(&leaving.site), &leaving.bundle()?, ZIP)
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
