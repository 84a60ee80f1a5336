//! The plan of a test, ticked off as it is done: made on demand, kept with the test on this device.

use super::super::bench::Bench;
use super::super::browser;
use super::super::ui::Hint;
use super::super::words::{here, hints::Word, language, plan as words, result};
use super::super::worker::{Working, worked};
use app::draft::{Place, Spot};
use app::library::{TestRecord, pad_of};
use app::planned::{Asked, Checklist, Climb, NoChecklist, Purpose, Step};
use app::work::{self, Answer, Question, Room, Texts};
use document::cautions::CAUTIONS;
use document::language::said;
use document::number;
use leptos::prelude::*;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Where the ticks of a test are kept.
const KEY: &str = "headwright-plan/";
/// The times at the pad to choose from, minutes.
const TIMES: [u32; 4] = [30, 45, 60, 90];

/// The plan of the test on the screen, known to its stages.
#[derive(Clone, Copy)]
pub(super) struct Planned {
    bench: Bench,
    /// What the worker is asked, once a plan is wanted.
    wanted: RwSignal<Option<work::Asked>>,
    working: ReadSignal<Working>,
    again: Callback<()>,
    /// The plan, once it is made.
    plan: Memo<Option<Result<Arc<Checklist>, NoChecklist>>>,
    minutes: RwSignal<u32>,
    ticks: RwSignal<BTreeSet<String>>,
}

/// Makes the plan known, and has it made again where there was one.
pub(super) fn provide(bench: Bench) {
    let kept = browser::remembered(&key(bench)).unwrap_or_default();
    let mut kept = kept.lines();
    let minutes = kept.next().and_then(|line| line.parse().ok());
    let wanted = RwSignal::new(None);
    let (working, again) = worked(move || wanted.get());
    let plan = Memo::new(move |_| working.with(|working| plan_of(working.answer.as_deref()?)));
    let planned = Planned {
        bench,
        wanted,
        working,
        again,
        plan,
        minutes: RwSignal::new(minutes.unwrap_or(TIMES[2])),
        ticks: RwSignal::new(kept.map(str::to_owned).collect()),
    };
    provide_context(planned);
    Effect::new(move |_| {
        if plan.with(Option::is_some) {
            planned.start_with_its_first();
        }
    });
    if minutes.is_some() {
        planned.make();
    }
}

/// The plan in an answer of the worker.
fn plan_of(answer: &Answer) -> Option<Result<Arc<Checklist>, NoChecklist>> {
    match answer {
        Answer::Planned(plan) => Some(plan.clone().map(Arc::new)),
        Answer::Refused(why) => Some(Err(NoChecklist {
            says: why.says.clone(),
            action: why.hint.clone().unwrap_or_default(),
        })),
        _ => None,
    }
}

fn key(bench: Bench) -> String {
    format!("{KEY}{}", bench.id.get_value().0)
}

impl Planned {
    /// Has a plan made for the line-up as it is stated now.
    fn make(self) {
        let lineup = self.bench.view.with_untracked(|view| view.lineup.clone());
        let asked = Asked {
            minutes: self.minutes.get_untracked(),
            closed: lineup.closed,
            throttled: lineup.throttled,
        };
        let (site, _) = self.bench.site.get_value();
        let own = self.bench.id.get_value();
        let tests = self.bench.tests_of_site();
        // A test that cannot be read tells nothing of one to come.
        let is_done = |test: &&TestRecord| test.id != own && !test.open && test.draft().is_ok();
        let earlier: Vec<&TestRecord> = tests.iter().filter(is_done).collect();
        self.wanted.set(Some(work::Asked {
            pad: Texts::from(pad_of(&site, &earlier)),
            units: Some(self.bench.printing().system.into()),
            language: language().tag().to_owned(),
            room: Room::Narrow,
            question: Question::Plan(asked),
        }));
        self.keep();
    }

    /// Where nothing is read yet, the test starts with the first speed of the plan.
    fn start_with_its_first(self) {
        let is_blank = self.bench.with_draft(|draft| match draft.rows.as_slice() {
            [row] => row.cells.iter().all(|cell| cell.trim().is_empty()),
            _ => false,
        });
        if let (true, Some(speed)) = (is_blank, self.speeds_rpm().first()) {
            let (row, spot) = (0, Spot::Speed);
            self.bench.set(
                Place { row, spot },
                number::rpm(self.bench.printing(), *speed),
            );
        }
    }

    fn keep(self) {
        let lines: Vec<String> = std::iter::once(self.minutes.get_untracked().to_string())
            .chain(self.ticks.get_untracked())
            .collect();
        browser::remember(&key(self.bench), &lines.join("\n"));
    }

    fn tick(self, key: &str, is_done: bool) {
        self.ticks.update(|ticks| {
            if is_done {
                ticks.insert(key.to_owned());
            } else {
                ticks.remove(key);
            }
        });
        self.keep();
    }

    /// The running speeds in their order; none without a plan.
    pub(super) fn speeds_rpm(self) -> Vec<f64> {
        self.plan.with_untracked(|plan| match plan {
            Some(Ok(plan)) => plan.speeds_rpm(),
            _ => Vec::new(),
        })
    }
}

/// A line of the list: what it is ticked by, and whether the readings tick it by themselves.
#[derive(Clone, PartialEq)]
struct Line {
    key: String,
    is_read: bool,
}

/// The panel, folded away until it is wanted.
#[component]
pub(super) fn PlanPanel(
    /// Takes a step that is tapped.
    #[prop(optional)]
    go: Option<Callback<Step>>,
) -> impl IntoView {
    let planned: Planned = expect_context();
    let Planned {
        bench,
        working,
        again,
        plan,
        minutes,
        ticks,
        ..
    } = planned;
    let is_busy = Memo::new(move |_| working.with(|working| working.is_waiting));
    let has_died = Memo::new(move |_| working.with(|working| working.died.is_some()));
    let read = Memo::new(move |_| {
        bench.view.track();
        plan.with(|plan| match plan {
            Some(Ok(plan)) => bench.with_draft(|draft| plan.read(draft)),
            _ => Vec::new(),
        })
    });
    let summary = move || {
        let counted = plan.with(|plan| match plan {
            Some(Ok(plan)) => {
                let lines = lines(
                    plan,
                    &read.get(),
                    &bench.view.with(|view| view.lineup.closed.clone()),
                );
                let done =
                    |line: &&Line| line.is_read || ticks.with(|ticks| ticks.contains(&line.key));
                Some((lines.iter().filter(done).count(), lines.len()))
            }
            _ => None,
        });
        counted.map_or_else(
            || words::TITLE.to_string(),
            |(done, all)| words::progress(done, all),
        )
    };
    let option = move |time: u32| view! { <option value=time.to_string() selected=minutes.get_untracked() == time>{words::minutes(time)}</option> };
    let chosen = move |text: String| {
        if let Ok(time) = text.parse() {
            minutes.set(time);
        }
    };
    view! {
        <details class="plan">
            <summary>{summary}</summary>
            <p class="fine">{words::LEAD}</p>
            <div class="with-unit">
                <label for="plan-time">{words::TIME}</label>
                <select id="plan-time" on:change=move |event| chosen(event_target_value(&event))>
                    {TIMES.map(option).collect_view()}
                </select>
                <button type="button" disabled=move || is_busy.get() on:click=move |_| planned.make()>
                    {move || if plan.with(Option::is_some) { words::AGAIN.said() } else { words::MAKE.said() }}
                </button>
            </div>
            <p role="status" class="note">{move || is_busy.get().then(|| words::BUSY.said())}</p>
            {move || has_died.get().then(|| view! {
                <div class="finding" data-severity="error" role="alert">
                    <p>{result::DIED}</p>
                    <div class="actions"><button type="button" on:click=move |_| again.run(())>{result::AGAIN}</button></div>
                </div>
            })}
            {move || plan.get().map(|plan| match plan {
                Ok(plan) => view! { <Listed planned plan read go/> }.into_any(),
                Err(no) => view! {
                    <div class="finding" data-severity="warning"><p>{no.says}</p><p class="do">{no.action}</p></div>
                }.into_any(),
            })}
        </details>
    }
}

/// Every line of a plan.
fn lines(plan: &Checklist, read: &[bool], closed: &[String]) -> Vec<Line> {
    let by_hand = |key: String| Line {
        key,
        is_read: false,
    };
    let cautions = (0..CAUTIONS.len()).map(|at| by_hand(format!("caution {at}")));
    let valves = closed.iter().map(|line| by_hand(format!("shut {line}")));
    let climb = plan
        .climb
        .iter()
        .map(|step| by_hand(format!("climb {}", step.speed)));
    let steps = plan.steps.iter().enumerate().map(|(at, step)| Line {
        key: format!("step {at} {}", step.speed),
        is_read: read.get(at).copied().unwrap_or(false),
    });
    let lines = cautions.chain(valves);
    lines
        .chain(std::iter::once(by_hand("open".to_owned())))
        .chain(climb)
        .chain(steps)
        .collect()
}

#[component]
fn Listed(
    planned: Planned,
    plan: Arc<Checklist>,
    read: Memo<Vec<bool>>,
    go: Option<Callback<Step>>,
) -> impl IntoView {
    let closed = Memo::new(move |_| planned.bench.view.with(|view| view.lineup.closed.clone()));
    let cautions = CAUTIONS.iter().enumerate();
    let cautions = cautions
        .map(|(at, caution)| view! { <Tick planned key=format!("caution {at}")>{said(here(), caution)}</Tick> });
    let valves = move || {
        let shut = closed.get().into_iter();
        let shut = shut.map(
            |line| view! { <Tick planned key=format!("shut {line}")>{words::shut(&line)}</Tick> },
        );
        shut.collect_view()
    };
    let climb = plan.climb.iter().map(|Climb { speed, stop_above }| {
        let text = words::climb(speed, stop_above.as_deref());
        view! { <Tick planned key=format!("climb {speed}")>{text}</Tick> }
    });
    let steps = plan.steps.iter().cloned().enumerate();
    let steps = steps.map(|(at, step)| view! { <StepLine planned at step read go/> });
    view! {
        <p class="note">{words::takes(plan.minutes)}</p>
        <h3>{words::READY}</h3>
        <ul class="ticks">{cautions.collect_view()}</ul>
        <h3>{words::VALVES}</h3>
        <ul class="ticks">{valves}<Tick planned key="open".to_owned()>{words::OPEN}</Tick></ul>
        <h3>{words::CLIMB}</h3>
        <p class="fine">{words::CLIMB_LEAD}</p>
        <ul class="ticks">{climb.collect_view()}</ul>
        <h3>{words::STEPS}</h3>
        <p class="fine">{words::STEPS_LEAD}</p>
        <ol class="ticks">{steps.collect_view()}</ol>
    }
}

/// A line that a person ticks.
#[component]
fn Tick(planned: Planned, key: String, children: Children) -> impl IntoView {
    let asked = key.clone();
    let is_done = move || planned.ticks.with(|ticks| ticks.contains(&asked));
    view! {
        <li>
            <label class="choice">
                <input type="checkbox" prop:checked=is_done on:change=move |event| planned.tick(&key, event_target_checked(&event))/>
                <span>{children()}</span>
            </label>
        </li>
    }
}

/// A step: readings tick it by themselves.
#[component]
fn StepLine(
    planned: Planned,
    at: usize,
    step: Step,
    read: Memo<Vec<bool>>,
    go: Option<Callback<Step>>,
) -> impl IntoView {
    let key = format!("step {at} {}", step.speed);
    let asked = key.clone();
    let is_read = Memo::new(move |_| read.with(|read| read.get(at).copied().unwrap_or(false)));
    let is_done = move || is_read.get() || planned.ticks.with(|ticks| ticks.contains(&asked));
    let bands = step.bands.iter().map(|(column, band)| {
        view! { <li>{words::band(column, band)}</li> }
    });
    let purpose = words::purpose(step.purpose);
    let taken = step.clone();
    let button = go.map(|go| {
        view! { <button type="button" on:click=move |_| go.run(taken.clone())>{words::GO}</button> }
    });
    let hint = (step.purpose == Purpose::Drift).then(|| view! { <Hint word=Word::Drift/> });
    view! {
        <li data-read=move || is_read.get().to_string()>
            <label class="choice">
                <input
                    type="checkbox" prop:checked=is_done disabled=move || is_read.get()
                    on:change=move |event| planned.tick(&key, event_target_checked(&event))
                />
                <span><strong>{words::step(&step)}</strong> {purpose.map(|purpose| view! { " " <span class="fine">{purpose}</span> })}</span>
            </label>
            <ul class="bands">{bands.collect_view()}</ul>
            {step.stop_above.as_deref().map(|above| view! { <p class="fine">{words::stop_above(above)}</p> })}
            {hint}
            <div class="actions">{button}</div>
        </li>
    }
}
