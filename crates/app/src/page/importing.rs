//! What comes in from outside: files that are chosen, dropped or pasted, and the pad that the page carries.

use super::browser;
use super::keeper::{Keeper, keeper};
use super::route::{Route, Screen, route};
use super::words::sites as words;
use app::gathered::{Loose, gathered};
use app::library::{Id, Imported, KeptReadings, Revision, SiteRecord, TestRecord, import};
use app::store::Durability;
use leptos::ev;
use leptos::html;
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{File, FileList, HtmlInputElement};

/// What became of the last import, for the eye and for a screen reader.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Outcome {
    /// What was taken in.
    pub(super) taken: Vec<String>,
    /// What was not, and why.
    pub(super) refused: Vec<String>,
}

#[derive(Clone, Copy)]
struct Importer {
    keeper: Keeper,
    route: Route,
    outcome: RwSignal<Outcome>,
    /// The site that single files belong to.
    open: StoredValue<Option<Id>>,
}

impl Importer {
    /// Reads files and takes them in.
    fn files(self, files: &FileList) {
        let files = listed(files);
        if files.is_empty() {
            return;
        }
        wasm_bindgen_futures::spawn_local(async move {
            self.take(gathered(
                read_all(files, Some(records::MAX_BUNDLE_BYTES)).await,
            ));
        });
    }

    /// Takes a pasted text in as the file that it looks like.
    fn text(self, text: &str) {
        if text.trim().is_empty() {
            return;
        }
        let is_toml = text
            .lines()
            .any(|line| line.trim_start().starts_with("format"));
        let (date, _) = browser::date_and_time();
        let ending = if is_toml { "toml" } else { "csv" };
        self.take(vec![(format!("{date}.{ending}"), text.as_bytes().to_vec())]);
    }

    /// Takes files in, once all is loaded that they may be held against.
    fn take(self, files: Vec<Loose>) {
        let take = Box::new(move || self.take_loaded(files));
        self.keeper.with_tests(None, take);
    }

    fn take_loaded(self, files: Vec<Loose>) {
        let mut outcome = Outcome::default();
        let mut last = None;
        for (name, bytes) in files {
            let library = self.keeper.library.get_untracked();
            let open = self.open.get_value();
            let taken = import(
                &library,
                (&name, &bytes),
                open.as_ref(),
                &mut browser::new_id,
                browser::now(),
            );
            match taken {
                Ok(imported) => {
                    outcome.taken.push(words::taken(&imported, &library));
                    last = Some(imported.site_id.clone());
                    keep(self.keeper, imported);
                }
                Err(error) => outcome.refused.push(words::refused(&name, &error)),
            }
        }
        let is_clear = outcome.refused.is_empty();
        self.outcome.set(outcome);
        if let (true, Some(site)) = (is_clear, last) {
            self.route.go(Screen::Site(site));
        }
    }
}

fn listed(files: &FileList) -> Vec<File> {
    let all = (0..files.length()).filter_map(|index| files.item(index));
    all.collect()
}

/// Reads files; of each no more than the most bytes and one, by which a larger one is known.
async fn read_all(files: Vec<File>, most: Option<usize>) -> Vec<Loose> {
    let mut loose = Vec::with_capacity(files.len());
    for file in files {
        #[expect(
            clippy::cast_precision_loss,
            reason = "sizes of files lie far below 2^53"
        )]
        let part = most.map(|most| file.slice_with_f64_and_f64(0.0, most as f64 + 1.0));
        let bytes = match part {
            Some(Ok(part)) => part.array_buffer(),
            _ => file.array_buffer(),
        };
        if let Ok(buffer) = wasm_bindgen_futures::JsFuture::from(bytes).await {
            loose.push((file.name(), js_sys::Uint8Array::new(&buffer).to_vec()));
        }
    }
    loose
}

/// Reads the files that were chosen in a field, and hands them on.
pub(super) fn chosen_files(
    event: &ev::Event,
    most: Option<usize>,
    then: impl FnOnce(Vec<Loose>) + 'static,
) {
    let input = event
        .target()
        .and_then(|target| target.dyn_into::<HtmlInputElement>().ok());
    let Some(input) = input else { return };
    let files = input.files().map(|files| listed(&files));
    // The same file chosen again is chosen anew.
    input.set_value("");
    let files = files.unwrap_or_default();
    if !files.is_empty() {
        wasm_bindgen_futures::spawn_local(async move { then(read_all(files, most).await) });
    }
}

/// Keeps what was taken in.
fn keep(keeper: Keeper, imported: Imported) {
    if let Some(site) = imported.site {
        keeper.put_site(site);
    }
    for test in imported.tests {
        keeper.put_test(test, Durability::Strict);
    }
    for change in imported.changes {
        keeper.put_change(change);
    }
}

/// The way in for files: choose, drop or paste.
#[component]
pub(super) fn ImportBox(
    /// The site that single tests and readings belong to.
    open: Option<Id>,
) -> impl IntoView {
    let outcome = RwSignal::new(Outcome::default());
    let importer = Importer {
        keeper: keeper(),
        route: route(),
        outcome,
        open: StoredValue::new(open),
    };
    let over = RwSignal::new(false);
    let pasted = RwSignal::new(String::new());
    let chosen = move |event: ev::Event| {
        chosen_files(&event, None, move |files| importer.take(gathered(files)));
    };
    let section: NodeRef<html::Section> = NodeRef::new();
    // A file is dropped anywhere on the screen: beside the box it would take the page away.
    let dropped = window_event_listener(ev::drop, move |event| {
        event.prevent_default();
        over.set(false);
        if let Some(files) = event.data_transfer().and_then(|data| data.files()) {
            uncover(section);
            importer.files(&files);
        }
    });
    let dragged = window_event_listener(ev::dragover, move |event| {
        event.prevent_default();
        over.set(true);
    });
    let left = window_event_listener(ev::dragleave, move |event| {
        if event.related_target().is_none() {
            over.set(false);
        }
    });
    on_cleanup(move || {
        dropped.remove();
        dragged.remove();
        left.remove();
    });
    view! {
        <section
            class="drop" aria-labelledby="import-title"
            node_ref=section data-over=move || over.get().to_string()
        >
            <h2 id="import-title">{words::IMPORT}</h2>
            <p class="fine" id="import-help">{words::IMPORT_HELP}</p>
            <label for="import-file">{words::IMPORT_FILES}</label>
            <input id="import-file" type="file" multiple accept=".zip,.toml,.csv" aria-describedby="import-help" on:change=chosen/>
            <details>
                <summary>{words::IMPORT_PASTE}</summary>
                <label for="import-text">{words::IMPORT_TEXT}</label>
                <textarea id="import-text" rows="6" spellcheck="false" prop:value=move || pasted.get() on:input=move |event| pasted.set(event_target_value(&event))></textarea>
                <div class="actions">
                    <button type="button" on:click=move |_| pasted.with_untracked(|text| importer.text(text))>{words::IMPORT_TAKE}</button>
                </div>
            </details>
            <div role="status">
                {move || outcome.with(|outcome| {
                    let taken = outcome.taken.iter().map(|text| view! { <p>{text.clone()}</p> }).collect_view();
                    let refused = outcome.refused.iter().map(|text| view! { <p class="problem">{text.clone()}</p> }).collect_view();
                    view! { {taken} {refused} }
                })}
            </div>
        </section>
    }
}

/// Opens what the box is folded away in, so that what is said of a file is seen.
fn uncover(section: NodeRef<html::Section>) {
    let folded = section
        .get_untracked()
        .and_then(|section| section.closest("details").ok().flatten());
    if let Some(folded) = folded {
        let _ = folded.set_attribute("open", "");
    }
}

/// The id of the pad that the page carries.
const DEMO: &str = "demo";

/// Opens the invented pad; puts it into the library where it is not there.
pub(super) fn open_demo(keeper: Keeper, route: Route) {
    let id = Id(DEMO.to_owned());
    let kept = keeper
        .library
        .with_untracked(|library| library.site(&id).cloned());
    match kept {
        Some(site) if site.deleted.is_none() => {}
        Some(_) => bring_back(keeper, &id),
        None => put_demo(keeper, &id),
    }
    route.go(Screen::Site(id));
}

fn put_demo(keeper: Keeper, id: &Id) {
    let (pad, now) = (app::demo::pad(), browser::now());
    keeper.put_site(SiteRecord {
        id: id.clone(),
        name: words::DEMO_NAME.to_string(),
        text: pad.site.text,
        created: now,
        changed: now,
        revision: Revision::default(),
        deleted: None,
        care: app::library::Care::default(),
    });
    for files in pad.tests {
        let name = files.test.name.trim_end_matches(".toml").to_owned();
        keeper.put_test(
            TestRecord {
                id: Id(format!("{DEMO}-{name}")),
                site_id: id.clone(),
                name,
                head_text: files.test.text,
                readings: files.readings.map(|source| KeptReadings {
                    file: source.name,
                    text: source.text,
                }),
                changed: now,
                revision: Revision::default(),
                open: false,
                deleted: None,
            },
            Durability::Strict,
        );
    }
}

/// Brings a deleted site back, with its tests.
pub(super) fn bring_back(keeper: Keeper, id: &Id) {
    let of = id.clone();
    let bring = move || {
        let back = keeper
            .library
            .with_untracked(|library| app::library::restored(library, &of));
        keep_marked(keeper, back);
    };
    keeper.with_tests(Some(id.clone()), Box::new(bring));
}

/// Keeps what a deletion or its undoing has marked.
pub(super) fn keep_marked(keeper: Keeper, marked: app::library::Deleted) {
    if let Some(site) = marked.site {
        keeper.put_site(site);
    }
    for test in marked.tests {
        keeper.put_test(test, Durability::Strict);
    }
}
