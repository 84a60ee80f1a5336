//! A test on the screen: the draft with its history, what the engine says of it, and its way to the store. Every change
//! goes one way: an edit, the draft, the verdicts and figures, the store.

mod together;
mod view;

pub(super) use view::{ColumnView, Standing, View};

use super::browser;
use super::keeper::{Keeper, keeper};
use super::tabs;
use super::undo::{Undo, undo};
use app::answer::Answered;
use app::draft::{Edit, Editing, OpenError, Place, TestDraft};
use app::library::{Id, KeptReadings, SiteRecord, TestRecord};
use app::store::Durability;
use app::verdict::judged;
use document::units::Printing;
use leptos::prelude::*;
use records::{Problem, Site, UnitSystem, read_site};
use std::sync::Arc;
use std::time::Duration;

/// A test on the screen.
#[derive(Clone, Copy)]
pub(super) struct Bench {
    keeper: Keeper,
    undo: Undo,
    /// Which test.
    pub(super) id: StoredValue<Id>,
    /// The site that it is done at, and what its text says.
    pub(super) site: StoredValue<(SiteRecord, Site)>,
    editing: StoredValue<Editing, LocalStorage>,
    /// What is shown.
    pub(super) view: RwSignal<Arc<View>>,
    /// The answer to the readings as they are.
    pub(super) answered: RwSignal<Option<Arc<Answered>>>,
    /// What cannot be read in the test file, where something cannot.
    pub(super) problems: RwSignal<Vec<Problem>>,
    /// Whether the browser was asked not to clear what is kept: with the first reading there is something to lose.
    is_persistent: StoredValue<bool>,
    /// Whether this window may change the test: no other has it open.
    pub(super) is_ours: RwSignal<bool>,
    /// The other tests of the site that the answer is of too.
    pub(super) beside: RwSignal<Vec<Id>>,
    /// Counts the questions to the engine, so that no answer overtakes a newer one.
    ticket: StoredValue<u32>,
}

/// Why a test cannot be put on the screen.
pub(super) enum CannotOpen {
    /// It is not there, or its site is not.
    Gone,
    /// The site file must be mended first.
    Site(Id),
    /// Its texts are no table.
    Texts(OpenError),
}

impl Bench {
    /// Puts a test on the screen.
    pub(super) fn open(id: &Id) -> Result<Self, CannotOpen> {
        let keeper = keeper();
        let (test, site) = keeper
            .library
            .with_untracked(|library| {
                let test = library
                    .tests
                    .iter()
                    .find(|test| test.id == *id && test.deleted.is_none())?;
                Some((test.clone(), library.site(&test.site_id)?.clone()))
            })
            .ok_or(CannotOpen::Gone)?;
        let parsed = read_site(&site.source()).map_err(|_| CannotOpen::Site(site.id.clone()))?;
        let draft = TestDraft::from_files(&test.files()).map_err(CannotOpen::Texts)?;
        let bench = Self {
            keeper,
            undo: undo(),
            id: StoredValue::new(id.clone()),
            site: StoredValue::new((site, parsed)),
            editing: StoredValue::new_local(Editing::new(draft)),
            view: RwSignal::new(Arc::new(View::default())),
            answered: RwSignal::new(None),
            problems: RwSignal::new(Vec::new()),
            is_persistent: StoredValue::new(false),
            is_ours: RwSignal::new(true),
            beside: RwSignal::new(Vec::new()),
            ticket: StoredValue::new(0),
        };
        bench.follow_units();
        bench.follow_site();
        Ok(bench)
    }

    /// Words everything anew whenever the person chooses other units.
    fn follow_units(self) {
        let units = Memo::new(move |_| self.keeper.settings.with(|settings| settings.units));
        Effect::new(move |before: Option<()>| {
            units.track();
            if before.is_some() {
                self.refresh();
            }
        });
        self.judge(When::Now);
    }

    /// The units that the person reads.
    pub(super) fn printing(self) -> Printing {
        let units = self.units();
        let system = self
            .site
            .with_value(|(_, site)| units.or(site.units).unwrap_or_default());
        super::words::printing(system)
    }

    /// The tests of the site as they are kept, by their names.
    pub(super) fn tests_of_site(self) -> Vec<TestRecord> {
        let site = self.site.with_value(|(site, _)| site.id.clone());
        self.keeper.library.with_untracked(|library| {
            let tests = library.tests_of(&site).into_iter();
            tests.cloned().collect()
        })
    }

    fn units(self) -> Option<UnitSystem> {
        let units = self
            .keeper
            .settings
            .with_untracked(|settings| settings.units);
        units.map(UnitSystem::from)
    }

    /// Does one thing to the test; whether it could be done.
    pub(super) fn edit(self, edit: &Edit) -> bool {
        if !self.is_ours.get_untracked() {
            return false;
        }
        let done = self
            .editing
            .try_update_value(|editing| editing.apply(edit).is_ok());
        self.changed(Durability::Relaxed);
        done.unwrap_or(false)
    }

    /// Types a text at a place.
    pub(super) fn set(self, place: Place, text: String) {
        let is_first = !self.is_persistent.get_value() && !text.trim().is_empty();
        self.edit(&Edit::Set { place, text });
        if is_first {
            self.is_persistent.set_value(true);
            browser::ask_to_persist();
        }
    }

    /// Ends what is typed at one place, and has it kept for sure.
    pub(super) fn seal(self) {
        self.editing.update_value(Editing::seal);
        if self.is_ours.get_untracked() {
            self.keep(Durability::Strict);
            tabs::tell_changed(&self.id.get_value());
        }
    }

    /// Undoes the last edit.
    pub(super) fn undo(self) {
        self.editing.update_value(|editing| {
            editing.undo();
        });
        self.changed(Durability::Strict);
    }

    /// Does the edit again that was undone last.
    pub(super) fn redo(self) {
        self.editing.update_value(|editing| {
            editing.redo();
        });
        self.changed(Durability::Strict);
    }

    /// Says whether the test is still being done.
    pub(super) fn set_open(self, open: bool) {
        let id = self.id.get_value();
        let test = self
            .keeper
            .library
            .with_untracked(|library| library.tests.iter().find(|test| test.id == id).cloned());
        if let Some(test) = test {
            self.keeper
                .put_test(TestRecord { open, ..test }, Durability::Strict);
        }
    }

    /// Takes the test as the store has it now.
    pub(super) async fn reload(self) {
        let id = self.id.get_value();
        let test = self.keeper.reload_test(&id).await;
        if let Some(Ok(draft)) = test.map(|test| TestDraft::from_files(&test.files())) {
            self.editing.set_value(Editing::new(draft));
            self.refresh();
        }
    }

    /// Proposes the speed of the next step: by a plan where there is one.
    pub(super) fn next_speed(self, planned_rpm: &[f64]) -> Option<String> {
        self.site.with_value(|(_, site)| {
            self.editing
                .with_value(|editing| app::draft::next_speed(site, editing.draft(), planned_rpm))
        })
    }

    /// The draft as it stands, for what a screen asks of it once.
    pub(super) fn with_draft<T>(self, ask: impl FnOnce(&TestDraft) -> T) -> T {
        self.editing.with_value(|editing| ask(editing.draft()))
    }

    fn changed(self, durability: Durability) {
        if self.is_ours.get_untracked() {
            self.keep(durability);
        }
        self.refresh();
    }

    /// Hands the texts to the store.
    fn keep(self, durability: Durability) {
        let id = self.id.get_value();
        let test = self
            .keeper
            .library
            .with_untracked(|library| library.tests.iter().find(|test| test.id == id).cloned());
        let Some(test) = test else { return };
        let (head_text, readings) = self.with_draft(|draft| {
            let readings = KeptReadings {
                file: draft.readings_name(),
                text: draft.readings_text(),
            };
            (draft.head_text.clone(), Some(readings))
        });
        if (&head_text, &readings) == (&test.head_text, &test.readings)
            && durability == Durability::Relaxed
        {
            return;
        }
        let changed = browser::now();
        self.keeper.put_test(
            TestRecord {
                head_text,
                readings,
                changed,
                ..test
            },
            durability,
        );
    }

    /// Asks the engine again, tells its verdicts at once and its answer soon.
    fn refresh(self) {
        self.judge(When::Soon);
    }

    /// Asks the engine once for the verdicts and the answer. What is at the fields comes first: the figures are drawn in
    /// a task of their own, and not at all where another edit came meanwhile.
    fn judge(self, when: When) {
        let printing = self.printing();
        let (view, answered) = self.site.with_value(|(_, site)| {
            self.editing.with_value(|editing| {
                let mut judged = judged(site, editing.draft(), printing);
                let answered = judged.answered.take();
                (View::of(editing, judged), answered)
            })
        });
        let ticket = self.ticket.get_value().wrapping_add(1);
        self.ticket.set_value(ticket);
        self.problems.set(view.verdicts.problems.clone());
        self.view.set(Arc::new(view));
        let Some(answered) = answered else {
            return;
        };
        let show = move || {
            if self.ticket.try_get_value() == Some(ticket) {
                self.show(answered);
            }
        };
        match when {
            When::Now => show(),
            When::Soon => set_timeout(show, Duration::ZERO),
        }
    }
}

/// When an answer is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum When {
    /// In this task.
    Now,
    /// In the next one.
    Soon,
}
