//! What was done last and can be taken back with one tap, wherever the person is by then: a deletion, a change of the pad.

use super::browser;
use super::editing::keep_text;
use super::importing::bring_back;
use super::keeper::{Keeper, keeper};
use super::words::{shell, undo as words};
use app::library::{ChangeRecord, Id, Moment, TestRecord};
use app::store::Durability;
use leptos::prelude::*;

/// What takes something back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Back {
    /// Brings a deleted site back.
    Site(Id),
    /// Takes a site out of the archive.
    Unarchived(Id),
    /// Brings a deleted test back.
    Test(Id),
    /// Brings a deleted change back.
    Change(Id),
    /// Gives a site the text that it had.
    Text {
        /// Which site.
        site: Id,
        /// That text.
        text: String,
    },
}

/// What was done, and what takes it back.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Offer {
    says: String,
    back: Back,
}

/// What can be taken back now, known to everything as a context.
#[derive(Clone, Copy)]
pub(super) struct Undo(RwSignal<Option<Offer>>);

/// Makes the offer known.
pub(super) fn provide() {
    provide_context(Undo(RwSignal::new(None)));
}

/// What is known here.
pub(super) fn undo() -> Undo {
    expect_context()
}

impl Undo {
    /// Offers to take something back, in place of what was offered before.
    pub(super) fn offer(self, says: String, back: Back) {
        self.0.set(Some(Offer { says, back }));
    }
}

fn take_back(keeper: Keeper, back: &Back) {
    match back {
        Back::Site(id) => bring_back(keeper, id),
        Back::Unarchived(id) => set_archived(keeper, id, None),
        Back::Test(id) => bring_test_back(keeper, id),
        Back::Change(id) => mark_change(keeper, id, None),
        Back::Text { site, text } => keep_text(keeper, site, text.clone()),
    }
}

/// Brings a deleted test back.
pub(super) fn bring_test_back(keeper: Keeper, id: &Id) {
    let test = keeper
        .library
        .with_untracked(|library| library.tests.iter().find(|test| test.id == *id).cloned());
    if let Some(test) = test {
        let deleted = None;
        keeper.put_test(TestRecord { deleted, ..test }, Durability::Strict);
    }
}

/// Marks a test as deleted, and offers to take that back.
pub(super) fn delete_test(keeper: Keeper, undo: Undo, id: &Id) {
    let test = keeper
        .library
        .with_untracked(|library| library.tests.iter().find(|test| test.id == *id).cloned());
    if let Some(test) = test {
        undo.offer(words::deleted(&test.name), Back::Test(test.id.clone()));
        let deleted = Some(browser::now());
        keeper.put_test(TestRecord { deleted, ..test }, Durability::Strict);
    }
}

/// Marks a change as deleted, and offers to take that back.
pub(super) fn delete_change(keeper: Keeper, undo: Undo, change: &ChangeRecord) {
    let back = Back::Change(change.id.clone());
    undo.offer(words::deleted(&change.title()), back);
    mark_change(keeper, &change.id, Some(browser::now()));
}

/// Marks a change as deleted since a moment, or as not deleted.
fn mark_change(keeper: Keeper, id: &Id, deleted: Option<Moment>) {
    let kept = keeper.library.with_untracked(|library| {
        let mut changes = library.changes.iter();
        changes.find(|change| change.id == *id).cloned()
    });
    if let Some(change) = kept {
        keeper.put_change(ChangeRecord { deleted, ..change });
    }
}

/// Puts a site away since a moment, or takes it out again.
pub(super) fn set_archived(keeper: Keeper, id: &Id, since: Option<Moment>) {
    let site = keeper
        .library
        .with_untracked(|library| library.site(id).cloned());
    if let Some(mut site) = site {
        site.care.archived = since;
        keeper.put_site(site);
    }
}

/// The offer, at the foot of the window until it is taken or closed.
#[component]
pub(super) fn UndoBar() -> impl IntoView {
    let (keeper, Undo(offer)) = (keeper(), undo());
    move || {
        offer.get().map(|Offer { says, back }| {
            let take = move |_| {
                offer.set(None);
                take_back(keeper, &back);
            };
            view! {
                <div class="undo" role="status">
                    <p>{says}</p>
                    <button type="button" class="primary" on:click=take>{words::UNDO}</button>
                    <button type="button" on:click=move |_| offer.set(None)>{shell::CLOSE}</button>
                </div>
            }
        })
    }
}
