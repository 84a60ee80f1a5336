//! The short form of what a day must do and what it costs; what is filled in goes into the text of the site file.

use super::super::bench::Bench;
use super::super::words::guided::IN_THE_TEXT;
use super::super::words::{Phrase, result as words};
use app::day_form::{DayForm, edited, form_of};
use leptos::prelude::*;
use records::{Problem, Source, read_site};

/// The fields.
#[component]
pub(super) fn DayFields(bench: Bench) -> impl IntoView {
    let text = move || bench.site.with_value(|(site, _)| site.text.clone());
    let form = RwSignal::new(form_of(&text()).unwrap_or_default());
    let problem = RwSignal::new(None::<String>);
    let (said, say) = signal("");
    let keep = move |_| {
        say.set("");
        let written = form.with_untracked(|form| edited(&text(), form));
        match written.map(|text| checked(text).map_err(|found| words::problem(&found))) {
            Some(Ok(text)) => {
                problem.set(None);
                bench.set_site(text);
                say.set(words::KEPT.said());
            }
            Some(Err(found)) => problem.set(Some(found)),
            None => problem.set(Some(words::NOT_TOML.to_string())),
        }
    };
    let field = move |id: &'static str, of: Of| {
        let (label, example) = of.words();
        view! {
            <div class="field">
                <label for=id>{label}</label>
                <input
                    id=id type="text" autocomplete="off" autocapitalize="off" placeholder=example
                    inputmode=of.mode() prop:value=move || form.with(|form| of.get(form))
                    on:input=move |event| form.update(|form| of.set(form, event_target_value(&event)))
                />
            </div>
        }
    };
    let is_long = move |key: &'static str| form.with(|form| form.in_the_text.contains(&key));
    view! {
        <p class="fine">{words::DAY_FORM_LEAD}</p>
        <div class="side-by-side">
            {field("day-volume", Of::Volume)}
            {field("day-turnovers", Of::Turnovers)}
            {move || if is_long("tariff") {
                view! { <p class="note">{words::TARIFF} ": " {IN_THE_TEXT}</p> }.into_any()
            } else {
                view! { {field("day-price", Of::Price)} {field("day-currency", Of::Currency)} }.into_any()
            }}
        </div>
        {move || if is_long("quiet") {
            view! { <p class="note">{words::QUIET} ": " {IN_THE_TEXT}</p> }.into_any()
        } else {
            view! {
                <fieldset>
                    <legend>{words::QUIET}</legend>
                    <p class="fine">{words::QUIET_LEAD}</p>
                    <div class="side-by-side three">
                        {field("day-from", Of::Quiet(0))}
                        {field("day-to", Of::Quiet(1))}
                        {field("day-speed", Of::Quiet(2))}
                    </div>
                </fieldset>
            }.into_any()
        }}
        {move || problem.get().map(|problem| view! { <p class="problem" role="alert">{problem}</p> })}
        <div class="actions">
            <button type="button" class="primary" on:click=keep>{words::KEEP_DAY}</button>
        </div>
        <p class="kept" role="status">{said}</p>
    }
}

/// A text that the records can read.
fn checked(text: String) -> Result<String, Problem> {
    let source = Source {
        name: records::SITE_FILE.to_owned(),
        text: text.clone(),
    };
    match read_site(&source) {
        Ok(_) => Ok(text),
        Err(problems) => problems.into_iter().next().map_or(Ok(text), Err),
    }
}

/// A field.
#[derive(Clone, Copy)]
enum Of {
    Volume,
    Turnovers,
    Price,
    Currency,
    Quiet(usize),
}

impl Of {
    fn words(self) -> (Phrase, &'static str) {
        match self {
            Self::Volume => (words::VOLUME, "18500 gal"),
            Self::Turnovers => (words::TURNOVERS, "1"),
            Self::Price => (words::PRICE, "0.24"),
            Self::Currency => (words::CURRENCY, "USD"),
            Self::Quiet(0) => (words::FROM, "22:00"),
            Self::Quiet(1) => (words::TO, "07:00"),
            Self::Quiet(_) => (words::AT_MOST_RPM, "1800"),
        }
    }

    fn mode(self) -> &'static str {
        match self {
            Self::Turnovers | Self::Price => "decimal",
            Self::Quiet(2) => "numeric",
            _ => "text",
        }
    }

    fn get(self, form: &DayForm) -> String {
        match self {
            Self::Volume => form.volume.clone(),
            Self::Turnovers => form.turnovers.clone(),
            Self::Price => form.price.clone(),
            Self::Currency => form.currency.clone(),
            Self::Quiet(of) => form.quiet.get(of).cloned().unwrap_or_default(),
        }
    }

    fn set(self, form: &mut DayForm, text: String) {
        match self {
            Self::Volume => form.volume = text,
            Self::Turnovers => form.turnovers = text,
            Self::Price => form.price = text,
            Self::Currency => form.currency = text,
            Self::Quiet(of) => {
                if let Some(field) = form.quiet.get_mut(of) {
                    *field = text;
                }
            }
        }
    }
}
