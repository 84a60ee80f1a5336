//! The steps: one at a time for a wet thumb, with what the readings say so far beside it where there is room.

use super::super::bench::{Bench, Standing, View};
use super::super::figures::Figures;
use super::super::first_steps::NextOnTheWay;
use super::super::ui::{Hint, Said};
use super::super::words::{hints::Word, test as words};
use super::next::NextReading;
use super::plan::{PlanPanel, Planned};
use super::reading::{Reading, spoken};
use super::speed::Speed;
use super::strip::Strip;
use super::timer::{self, Timer};
use super::{KeptLine, Stage, go};
use app::draft::{DraftRow, Edit, Place, Spot};
use app::first_steps::DEMO;
use app::planned::{Purpose, Step};
use charts::Size;
use leptos::prelude::*;
use std::time::Duration;

/// Where in the test the person is, known to every part of the screen.
#[derive(Clone, Copy)]
pub(super) struct Cursor {
    /// The row that is shown.
    pub(super) row: RwSignal<usize>,
    /// When the speed was changed last, in milliseconds.
    pub(super) changed: RwSignal<f64>,
    /// The plan of the test.
    planned: StoredValue<Planned>,
    /// What a screen reader is told once typing rests.
    said: RwSignal<String>,
    /// What waits to be told.
    waiting: StoredValue<Option<TimeoutHandle>>,
}

/// How long typing rests before its verdict is told.
const REST: Duration = Duration::from_millis(900);

impl Cursor {
    /// Tells the verdict on a place to a screen reader once typing rests, instead of at each keystroke.
    pub(super) fn say_later(self, bench: Bench, place: Place) {
        if let Some(before) = self.waiting.get_value() {
            before.clear();
        }
        let say = move || {
            if let Some(view) = bench.view.try_get_untracked() {
                self.said.set(spoken(&view, place));
            }
        };
        self.waiting
            .set_value(set_timeout_with_handle(say, REST).ok());
    }
}

/// The screen.
#[component]
pub(super) fn Entry(bench: Bench, stage: RwSignal<Stage>) -> impl IntoView {
    let rows = Memo::new(move |_| bench.view.with(|view| view.rows.len()));
    let cursor = Cursor {
        row: RwSignal::new(first_row(bench)),
        changed: RwSignal::new(timer::now()),
        planned: StoredValue::new(expect_context()),
        said: RwSignal::new(String::new()),
        waiting: StoredValue::new(None),
    };
    provide_context(cursor);
    let columns = Memo::new(move |_| bench.view.with(|view| view.columns.len()));
    let is_blank = Memo::new(move |_| {
        bench
            .view
            .with(|view| (0..view.rows.len()).all(|row| view.standing(row) == Standing::Empty))
    });
    let read = Memo::new(move |_| {
        bench.view.with(|view| {
            let rows = 0..view.rows.len();
            rows.filter(|row| view.standing(*row) != Standing::Empty)
                .count()
        })
    });
    let is_play = bench.site.with_value(|(site, _)| site.id.0 == DEMO);
    let take = Callback::new(move |step: Step| take_step(bench, cursor, &step));
    view! {
        {(!is_play).then(|| view! { <NextOnTheWay read/> })}
        <section aria-label=words::STEPS><Strip bench cursor/></section>
        <div class="bench">
            <div>
                <div class="step-head">
                    <h2 id="step-title" tabindex="-1">{move || words::step(cursor.row.get(), rows.get())}</h2>
                    <Timer cursor/>
                </div>
                <fieldset class="bare" disabled=move || !bench.is_ours.get()>
                    <Speed bench cursor/>
                    {move || (0..columns.get()).map(|column| view! { <Reading bench cursor column last=column + 1 == columns.get_untracked() next=Callback::new(move |()| next(bench, cursor, stage, Focus::FirstReading))/> }).collect_view()}
                    <Note bench cursor/>
                </fieldset>
                <Tools bench cursor stage/>
                <PlanPanel go=take/>
                <KeptLine/>
                <Said text=cursor.said/>
                <ThumbBar bench cursor stage/>
            </div>
            <section aria-labelledby="figures-title">
                <div class="with-hint"><h2 id="figures-title">{words::FIGURES}</h2><Hint word=Word::Fits/></div>
                <Doubts bench/>
                <Figures answered=bench.answered size=Size::Narrow only=&["flow", "power", "energy"]/>
                <p class="note">{move || is_blank.get().then(|| words::NO_FIGURES.said())}</p>
                <NextReading bench/>
            </section>
        </div>
    }
}

/// The row where the person left off: the first with something empty, else the last.
fn first_row(bench: Bench) -> usize {
    bench.with_draft(|draft| {
        let is_blank = |row: usize| {
            draft.rows[row]
                .cells
                .iter()
                .all(|cell| cell.trim().is_empty())
        };
        let last = draft.rows.len().saturating_sub(1);
        (0..draft.rows.len())
            .find(|row| is_blank(*row))
            .unwrap_or(last)
    })
}

/// Where the focus goes with the next step.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Focus {
    /// To the heading, which opens no keyboard over the screen.
    Heading,
    /// To the first field, for who types on.
    FirstReading,
}

/// Goes to the next step, adding one behind the last; where there is none left to propose, the test ends.
fn next(bench: Bench, cursor: Cursor, stage: RwSignal<Stage>, focus: Focus) {
    bench.seal();
    let (row, rows) = (
        cursor.row.get_untracked(),
        bench.with_draft(|draft| draft.rows.len()),
    );
    if row + 1 >= rows {
        let Some(speed) = bench.next_speed(&cursor.planned.get_value().speeds_rpm()) else {
            go(stage, Stage::Ending);
            return;
        };
        if !bench.edit(&Edit::AddRow { speed }) {
            return;
        }
    }
    show(cursor, row + 1);
    match focus {
        Focus::Heading => super::super::browser::start_of_step("step-title"),
        Focus::FirstReading => super::super::ui::focus("reading-0"),
    }
}

/// Goes to a step of the plan: to its row where there is one, else to a new one behind the last. A repeat is a new one.
fn take_step(bench: Bench, cursor: Cursor, step: &Step) {
    bench.seal();
    let (row, last, is_blank) = bench.with_draft(|draft| {
        let last = draft.rows.len().saturating_sub(1);
        let is_blank = |row: &DraftRow| row.cells.iter().all(|cell| cell.trim().is_empty());
        let same = draft
            .rows
            .iter()
            .position(|row| row.speed.trim() == step.speed);
        (same, last, draft.rows.last().is_some_and(is_blank))
    });
    let speed = step.speed.clone();
    match row.filter(|_| step.purpose != Purpose::Drift) {
        Some(row) => show(cursor, row),
        None if is_blank => {
            let spot = Spot::Speed;
            bench.set(Place { row: last, spot }, speed);
            show(cursor, last);
        }
        None if bench.edit(&Edit::AddRow { speed }) => show(cursor, last + 1),
        None => return,
    }
    super::super::browser::start_of_step("step-title");
}

/// Shows another row; a new speed starts to settle.
pub(super) fn show(cursor: Cursor, row: usize) {
    if cursor.row.get_untracked() != row {
        cursor.row.set(row);
        cursor.changed.set(timer::now());
    }
}

/// The note of the row, opened by a tap.
#[component]
fn Note(bench: Bench, cursor: Cursor) -> impl IntoView {
    let place = move || Place {
        row: cursor.row.get(),
        spot: Spot::Note,
    };
    let text = Memo::new(move |_| bench.view.with(|view| view.text(place())));
    let problem = Memo::new(move |_| {
        bench.view.with(|view| match view.verdict(place()).state {
            app::verdict::State::NotANumber { says, .. } => Some(says),
            _ => None,
        })
    });
    view! {
        <details prop:open=move || !text.with(String::is_empty)>
            <summary>{words::ADD_NOTE}</summary>
            <label class="unseen" for="note">{words::NOTE}</label>
            <input
                id="note" type="text" autocomplete="off" maxlength="400" prop:value=text
                on:input=move |event| bench.set(Place { row: cursor.row.get_untracked(), spot: Spot::Note }, event_target_value(&event))
                on:change=move |_| bench.seal()
            />
            {move || problem.get().map(|says| view! { <p class="problem">{says}</p> })}
        </details>
    }
}

/// What can be done with a step beside typing.
#[component]
fn Tools(bench: Bench, cursor: Cursor, stage: RwSignal<Stage>) -> impl IntoView {
    let can = move |of: fn(&View) -> bool| {
        move || !(bench.is_ours.get() && bench.view.with(|view| of(view)))
    };
    let repeat = move |_| {
        let row = cursor.row.get_untracked();
        bench.seal();
        if bench.edit(&Edit::RepeatRow { row }) {
            cursor.row.set(row + 1);
            super::super::browser::start_of_step("step-title");
        }
    };
    let remove = move |_| {
        let row = cursor.row.get_untracked();
        if bench.edit(&Edit::RemoveRow { row }) {
            bench.seal();
            let rows = bench.with_draft(|draft| draft.rows.len());
            cursor.row.set(row.min(rows.saturating_sub(1)));
        }
    };
    let within = move || {
        let rows = bench.with_draft(|draft| draft.rows.len());
        cursor
            .row
            .update(|row| *row = (*row).min(rows.saturating_sub(1)));
    };
    view! {
        <div class="actions">
            <button type="button" disabled=can(|view| !view.rows.is_empty()) on:click=repeat>{words::REPEAT}</button>
            <button type="button" disabled=can(|view| view.can_undo) on:click=move |_| { bench.undo(); within(); }>{words::UNDO}</button>
            <button type="button" disabled=can(|view| view.can_redo) on:click=move |_| { bench.redo(); within(); }>{words::REDO}</button>
            <button type="button" disabled=can(|view| view.rows.len() > 1) on:click=remove>{words::REMOVE}</button>
            <button type="button" on:click=move |_| go(stage, Stage::Lineup)>{words::EARLIER_STAGE}</button>
            <button type="button" on:click=move |_| { bench.seal(); go(stage, Stage::Ending); }>{words::END}</button>
        </div>
    }
}

/// The two buttons that are pressed most, where the thumb is.
#[component]
fn ThumbBar(bench: Bench, cursor: Cursor, stage: RwSignal<Stage>) -> impl IntoView {
    let is_first = move || cursor.row.get() == 0;
    let is_read = Memo::new(move |_| {
        bench
            .view
            .with(|view| view.standing(cursor.row.get()) != Standing::Empty)
    });
    let back = move |_| {
        bench.seal();
        show(cursor, cursor.row.get_untracked().saturating_sub(1));
        super::super::browser::start_of_step("step-title");
    };
    view! {
        <div class="thumb-bar">
            <button type="button" class="before" disabled=is_first on:click=back>{words::BEFORE}</button>
            <button type="button" class="primary" on:click=move |_| next(bench, cursor, stage, Focus::Heading)>
                {move || if is_read.get() { words::NEXT.said() } else { words::SKIP.said() }}
            </button>
        </div>
    }
}

/// What is doubted of whole columns, and what keeps the engine from the test.
#[component]
fn Doubts(bench: Bench) -> impl IntoView {
    let doubts = Memo::new(move |_| {
        bench.view.with(|view| {
            view.verdicts
                .columns
                .iter()
                .flatten()
                .cloned()
                .collect::<Vec<_>>()
        })
    });
    let problems = Memo::new(move |_| bench.view.with(|view| view.verdicts.problems.clone()));
    view! {
        {move || doubts.get().into_iter().map(|doubt| view! {
            <article class="finding" data-severity="warning"><p>{doubt.says}</p><p class="do">{doubt.action}</p></article>
        }).collect_view()}
        {move || problems.get().iter().map(|problem| view! { <p class="problem">{words::problem(problem)}</p> }).collect_view()}
    }
}
