//! The circuit on the screen: a drawing whose lines are shut and opened by a tap, solved again at once, and the parts of
//! each line below it.

mod form;
mod parts;

use super::browser;
use super::keeper::keeper;
use super::ui::{Held, Said};
use super::words::circuit as words;
use app::circuit::{Asked, Shown, shown};
use charts::Size;
use leptos::ev;
use leptos::prelude::*;
use parts::LineList;
use records::{Site, Source, UnitSystem, read_site};
use wasm_bindgen::JsCast;

/// By how much a press changes the speed, rpm.
const STEP_RPM: f64 = 50.0;
/// From this width on, in pixels, there is room for the wide drawing.
const WIDE_FROM: f64 = 820.0;

/// How the pad stands when it comes on the screen.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Start {
    /// The lines that are shut.
    pub(super) closed: Vec<String>,
    /// The speed, rpm; `None` for the pump's highest.
    pub(super) speed_rpm: Option<f64>,
}

/// How the pad stands now.
#[derive(Clone, Copy)]
struct Pad {
    /// What the site file says; `None` while it cannot be read.
    site: Memo<Option<Site>>,
    closed: RwSignal<Vec<String>>,
    speed_rpm: RwSignal<f64>,
}

impl Pad {
    /// Shuts a line, or opens it.
    fn toggle(self, name: &str) {
        self.closed.update(|closed| {
            if closed.iter().any(|line| line == name) {
                closed.retain(|line| line != name);
            } else {
                closed.push(name.to_owned());
            }
        });
    }

    fn range_rpm(self) -> (f64, f64) {
        self.site.with(|site| {
            let speed = site.as_ref().map(|site| &site.pump.speed);
            let max = speed.map_or(0.0, |speed| speed.max.si);
            let min = speed.and_then(|speed| speed.min.as_ref());
            (min.map_or(0.0, |min| min.si), max)
        })
    }

    fn set_speed(self, speed_rpm: f64) {
        let (min, max) = self.range_rpm();
        // A range without room takes its upper end.
        self.speed_rpm.set(speed_rpm.min(max).max(min.min(max)));
    }
}

/// The section.
#[component]
pub(super) fn CircuitPanel(
    /// The text of the site file.
    #[prop(into)]
    text: Signal<String>,
    start: Start,
    /// Takes another text of the site file.
    change: Callback<String>,
) -> impl IntoView {
    let site = Memo::new(move |_| {
        let text = text.get();
        let name = "site.toml".to_owned();
        read_site(&Source { name, text }).ok()
    });
    let pad = Pad {
        site,
        closed: RwSignal::new(start.closed),
        speed_rpm: RwSignal::new(0.0),
    };
    let top = untrack(|| pad.range_rpm().1);
    pad.speed_rpm.set(start.speed_rpm.unwrap_or(top));
    let settings = keeper().settings;
    let size = if browser::width() < WIDE_FROM {
        Size::Narrow
    } else {
        Size::Wide
    };
    let drawn = Memo::new(move |_| {
        let units = settings
            .with(|settings| settings.units)
            .map(UnitSystem::from);
        let asked = Asked {
            speed_rpm: pad.speed_rpm.get(),
            closed: pad.closed.get(),
            size,
        };
        pad.site.with(|site| {
            let site = site.as_ref()?;
            let system = units.or(site.units).unwrap_or_default();
            shown(site, &asked, super::words::printing(system))
        })
    });
    let has_lines = Memo::new(move |_| drawn.with(Option::is_some));
    view! {
        <section class="circuit" aria-labelledby="circuit-title" hidden=move || !has_lines.get()>
            <h2 id="circuit-title">{words::TITLE}</h2>
            <p class="fine" id="circuit-help">{words::LEAD}</p>
            <div class="beside-drawing">
                <div>
                    <SpeedChoice pad/>
                    <Drawing pad drawn/>
                </div>
                <div>
                    <Answers drawn/>
                    <LineList pad drawn text change/>
                </div>
            </div>
        </section>
    }
}

/// The speed at which the pad is solved.
#[component]
fn SpeedChoice(pad: Pad) -> impl IntoView {
    let range = Memo::new(move |_| pad.range_rpm());
    let rpm = move || format!("{:.0}", pad.speed_rpm.get());
    let by = move |change: f64| {
        Callback::new(move |()| pad.set_speed(pad.speed_rpm.get_untracked() + change))
    };
    let moved = move |event: ev::Event| {
        if let Ok(speed) = event_target_value(&event).parse() {
            pad.set_speed(speed);
        }
    };
    view! {
        <div class="field">
            <label for="circuit-speed">{words::SPEED} " " <output for="circuit-speed" class="of-range">{rpm} "\u{a0}rpm"</output></label>
            <div class="slider">
                <Held label=Signal::derive(|| words::slower(STEP_RPM)) sign="−" act=by(-STEP_RPM)/>
                <input
                    id="circuit-speed" type="range" step="10"
                    min=move || range.get().0 max=move || range.get().1 prop:value=rpm
                    aria-valuetext=move || format!("{} rpm", rpm()) on:input=moved
                />
                <Held label=Signal::derive(|| words::faster(STEP_RPM)) sign="+" act=by(STEP_RPM)/>
            </div>
        </div>
    }
}

/// The drawing; a tap on a line, or Enter and Space, shuts or opens it.
#[component]
fn Drawing(pad: Pad, drawn: Memo<Option<Shown>>) -> impl IntoView {
    let svg = Memo::new(move |_| drawn.with(|drawn| drawn.as_ref().map(|drawn| drawn.svg.clone())));
    let toggle = move |target: Option<web_sys::EventTarget>| {
        let Some(number) = line_of(target) else {
            return false;
        };
        let name = drawn.with_untracked(|drawn| {
            let line = drawn.as_ref()?.lines.get(number)?;
            Some(line.name.clone())
        });
        if let Some(name) = name {
            pad.toggle(&name);
            // The drawing is another one then.
            browser::focus_first_later(&format!(".drawing [data-line=\"{number}\"]"));
        }
        true
    };
    let key = move |event: ev::KeyboardEvent| {
        let presses = matches!(event.key().as_str(), "Enter" | " ");
        if presses && toggle(event.target()) {
            event.prevent_default();
        }
    };
    view! {
        <div
            class="figure drawing" role="group" aria-labelledby="circuit-title" aria-describedby="circuit-help"
            on:click=move |event| { toggle(event.target()); } on:keydown=key inner_html=move || svg.get().unwrap_or_default()
        ></div>
    }
}

/// The number of the line that something in the drawing belongs to.
fn line_of(target: Option<web_sys::EventTarget>) -> Option<usize> {
    let element = target?.dyn_into::<web_sys::Element>().ok()?;
    let line = element.closest("[data-line]").ok()??;
    line.get_attribute("data-line")?.parse().ok()
}

/// What flows, and which limit comes first; or why that is not known.
#[component]
fn Answers(drawn: Memo<Option<Shown>>) -> impl IntoView {
    let title = Memo::new(move |_| {
        drawn.with(|drawn| {
            drawn
                .as_ref()
                .map(|drawn| drawn.title.clone())
                .unwrap_or_default()
        })
    });
    let answers = Memo::new(move |_| {
        drawn.with(|drawn| {
            drawn
                .as_ref()
                .map(|drawn| drawn.answers.clone())
                .unwrap_or_default()
        })
    });
    let problem = Memo::new(move |_| drawn.with(|drawn| drawn.as_ref()?.problem.clone()));
    let answer =
        |(word, text): (String, String)| view! { <div><dt>{word}</dt><dd>{text}</dd></div> };
    view! {
        <Said text=Signal::derive(move || title.get())/>
        {move || {
            let answers = answers.get();
            (!answers.is_empty()).then(|| view! {
                <dl class="answers">{answers.into_iter().map(answer).collect_view()}</dl>
                <p class="fine">{words::COMPUTED}</p>
            })
        }}
        {move || problem.get().map(|(says, hint)| view! {
            <div class="finding" data-severity="warning">
                <p>{words::not_solved(&says)}</p>
                {hint.map(|hint| view! { <p class="do">{words::sentence(&hint)}</p> })}
            </div>
        })}
    }
}
