//! The guided form: a new site, and the same questions of a site that is there.

use super::browser;
use super::keeper::keeper;
use super::route::{Screen, route};
use super::ui::{Back, Hint, titled};
use super::words::{guided as words, here, hints::Word};
use app::guided::{
    Asked, Form, Measure, MeterAnswer, MeterSlot, PipeAnswer, Question, Side, edited, form_of,
    new_site_text,
};
use app::library::{Revision, SiteRecord};
use document::problems::said;
use hydraulics::pipe::PipeSpec;
use leptos::prelude::*;
use records::{Source, UnitSystem, read_site};

/// The form of a new site.
#[component]
pub(super) fn NewSite() -> impl IntoView {
    titled(|| words::TITLE.to_string());
    let (keeper, route) = (keeper(), route());
    let units = keeper.settings.with_untracked(|settings| settings.units);
    let units = units.map_or(UnitSystem::default(), UnitSystem::from);
    let start = |units| form_of(&new_site_text(units), units);
    let Some(empty) = start(units) else {
        return ().into_any();
    };
    let form = RwSignal::new(empty);
    let problems = RwSignal::new(Vec::<String>::new());
    // The numbers of the other system are other numbers: the form starts anew, the name stays.
    let choose = Callback::new(move |units| {
        if let Some(mut other) = start(units) {
            other.name = form.with_untracked(|form| form.name.clone());
            form.set(other);
        }
    });
    let make = move || {
        let form = form.get_untracked();
        match made(&form) {
            Ok(text) => {
                let now = browser::now();
                let site = SiteRecord {
                    id: browser::new_id(),
                    name: form.name.trim().to_owned(),
                    text,
                    created: now,
                    changed: now,
                    revision: Revision::default(),
                    deleted: None,
                    care: app::library::Care::default(),
                };
                let to = Screen::Site(site.id.clone());
                keeper.put_site(site);
                route.replace(to);
            }
            Err(found) => {
                problems.set(found);
                super::ui::focus("form-problems");
            }
        }
    };
    view! {
        <Back to=Screen::Sites word=super::words::sites::TITLE/>
        <h1>{words::TITLE}</h1>
        <p>{words::LEAD}</p>
        <form on:submit=move |event| { event.prevent_default(); make(); }>
            <div class="field">
                <label for="site-name">{words::NAME}</label>
                <input
                    id="site-name" type="text" autocomplete="off" maxlength="80"
                    prop:value=move || form.with(|form| form.name.clone())
                    on:input=move |event| form.update(|form| form.name = event_target_value(&event))
                />
            </div>
            <Questions form choose/>
            <div id="form-problems" tabindex="-1" role="alert">
                {move || problems.get().into_iter().map(|text| view! { <p class="problem">{text}</p> }).collect_view()}
            </div>
            <div class="actions stretch">
                <button type="submit" class="primary">{words::MAKE}</button>
            </div>
        </form>
    }
    .into_any()
}

/// Writes a new site, or says what keeps it from being one.
fn made(form: &Form) -> Result<String, Vec<String>> {
    if form.name.trim().is_empty() {
        return Err(vec![words::NAME_MISSING.to_string()]);
    }
    let mut form = form.clone();
    form.name = form.name.trim().to_owned();
    let text = edited(&new_site_text(form.units), &form)
        .map_err(|_| vec![words::NOT_IN_ORDER.to_string()])?;
    let source = Source {
        name: "site.toml".to_owned(),
        text,
    };
    match read_site(&source) {
        Ok(_) => Ok(source.text),
        Err(problems) => Err(problems
            .iter()
            .map(|problem| said(&problem.message, here()))
            .collect()),
    }
}

/// Every question but the name.
#[component]
pub(super) fn Questions(
    form: RwSignal<Form>,
    /// What another choice of units does.
    choose: Callback<UnitSystem>,
) -> impl IntoView {
    let units = [(words::US, UnitSystem::Us), (words::SI, UnitSystem::Si)];
    view! {
        <fieldset>
            <legend>{words::UNITS}</legend>
            <div class="choices">
                {units.map(|(word, units)| view! {
                    <label class="choice">
                        <input
                            type="radio" name="site-units"
                            prop:checked=move || form.with(|form| form.units == units)
                            on:change=move |_| choose.run(units)
                        />
                        {word}
                    </label>
                }).collect_view()}
            </div>
        </fieldset>
        <fieldset>
            <legend>{words::PUMP}</legend>
            <div class="side-by-side">
                <QuantityField form question=Question::TopSpeed/>
                <QuantityField form question=Question::LowestSpeed/>
                <QuantityField form question=Question::Supply/>
            </div>
        </fieldset>
        <fieldset>
            <legend>{words::PIPES}</legend>
            {Side::ALL.map(|side| view! { <PipeFields form side/> }).collect_view()}
        </fieldset>
        <fieldset>
            <legend>{words::METERS}</legend>
            <p class="fine">{words::METERS_HELP}</p>
            <Hint word=Word::Accuracy/>
            {MeterSlot::ALL.map(|slot| view! { <MeterFields form meter=slot/> }).collect_view()}
        </fieldset>
        <fieldset>
            <legend>{words::EQUIPMENT}</legend>
            <div class="side-by-side">
                <QuantityField form question=Question::Volume/>
                <QuantityField form question=Question::Elevation/>
                <FilterField form/>
                <QuantityField form question=Question::FilterPressure/>
                <QuantityField form question=Question::HeaterFlow/>
            </div>
        </fieldset>
    }
}

#[component]
fn QuantityField(form: RwSignal<Form>, question: Question) -> impl IntoView {
    let (label, help) = words::question(question);
    let (id, help_id) = (
        format!("q-{}", question as usize),
        format!("q-{}-help", question as usize),
    );
    let is_here = Memo::new(move |_| form.with(|form| form.quantity(question).here().is_some()));
    let part = move |of: fn(&Measure) -> &String| {
        move || {
            form.with(|form| {
                form.quantity(question)
                    .here()
                    .map(of)
                    .cloned()
                    .unwrap_or_default()
            })
        }
    };
    let (number, unit) = (
        part(|measure| &measure.number),
        part(|measure| &measure.unit),
    );
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <p class="fine" id=help_id.clone()>{help}</p>
            {move || if is_here.get() {
                view! {
                    <div class="with-unit">
                        <input
                            id=id.clone() type="text" inputmode="decimal" autocomplete="off"
                            aria-describedby=help_id.clone() placeholder=words::NOT_KNOWN
                            prop:value=number
                            on:input=move |event| form.update(|form| form.set_number(question, &event_target_value(&event)))
                        />
                        <span class="unit">{move || super::ui::unit_word(&unit())}</span>
                    </div>
                }.into_any()
            } else {
                view! { <p class="note">{words::IN_THE_TEXT}</p> }.into_any()
            }}
        </div>
    }
}

/// The choice of a list: a value of the file, and its word.
#[component]
fn Choose(
    #[prop(into)] id: String,
    /// The values with their words, the first for none.
    options: Vec<(String, String)>,
    chosen: Signal<String>,
    choose: Callback<String>,
) -> impl IntoView {
    let option = move |(value, word): (String, String)| {
        let is_chosen = {
            let value = value.clone();
            move || chosen.get() == value
        };
        view! { <option value=value prop:selected=is_chosen>{word}</option> }
    };
    view! {
        <select id=id on:change=move |event| choose.run(event_target_value(&event))>
            {options.into_iter().map(option).collect_view()}
        </select>
    }
}

#[component]
fn FilterField(form: RwSignal<Form>) -> impl IntoView {
    let is_here = Memo::new(move |_| form.with(|form| form.filter.here().is_some()));
    let chosen =
        Signal::derive(move || form.with(|form| form.filter.here().cloned().unwrap_or_default()));
    move || {
        let field = if is_here.get() {
            let mut options = vec![(String::new(), words::NOT_KNOWN.to_string())];
            options
                .extend(words::FILTERS.map(|(value, word)| (value.to_owned(), word.to_string())));
            let now = chosen.get_untracked();
            if !options.iter().any(|(value, _)| *value == now) {
                options.push((now.clone(), now));
            }
            let choose =
                Callback::new(move |kind| form.update(|form| form.filter = Asked::Here(kind)));
            view! { <Choose id="filter-kind" options chosen choose/> }.into_any()
        } else {
            view! { <p class="note">{words::IN_THE_TEXT}</p> }.into_any()
        };
        view! { <div class="field"><label for="filter-kind">{words::FILTER}</label>{field}</div> }
    }
}

#[component]
fn MeterFields(form: RwSignal<Form>, meter: MeterSlot) -> impl IntoView {
    let slot = meter;
    let index = slot as usize;
    let (id, accuracy_id) = (format!("meter-{index}"), format!("meter-{index}-accuracy"));
    let answer = move || form.with(|form| form.meters[index].here().cloned());
    let is_here = Memo::new(move |_| answer().is_some());
    let kind = Signal::derive(move || answer().unwrap_or_default().kind);
    let accuracy = move || answer().unwrap_or_default().accuracy;
    let set = move |how: &dyn Fn(&mut MeterAnswer)| {
        form.update(|form| {
            if let Asked::Here(answer) = &mut form.meters[index] {
                how(answer);
            }
        });
    };
    let has_meter = Memo::new(move |_| !kind.get().is_empty());
    view! {
        <div class="field">
            <label for=id.clone()>{words::meter(slot)}</label>
            {move || if is_here.get() {
                let mut options = vec![(String::new(), words::NO_METER.to_string())];
                let units = form.with(|form| form.units);
                options.extend(slot.kinds().iter().map(|kind| ((*kind).to_owned(), words::kind(slot, kind, units))));
                let choose = Callback::new(move |kind: String| set(&|answer| answer.kind.clone_from(&kind)));
                view! { <Choose id=id.clone() options chosen=kind choose/> }.into_any()
            } else {
                view! { <p class="note">{words::IN_THE_TEXT}</p> }.into_any()
            }}
            {move || has_meter.get().then(|| view! {
                <label class="fine" for=accuracy_id.clone()>{words::ACCURACY}</label>
                <input
                    id=accuracy_id.clone() type="text" autocomplete="off" placeholder=words::accuracy_example(slot)
                    prop:value=accuracy
                    on:input=move |event| { let text = event_target_value(&event); set(&|answer| answer.accuracy.clone_from(&text)); }
                />
            })}
        </div>
    }
}

const BORE: &str = "bore";

#[component]
fn PipeFields(form: RwSignal<Form>, side: Side) -> impl IntoView {
    let index = side as usize;
    let (id, side_id) = (format!("pipe-{index}"), format!("pipe-{index}-side"));
    let answer = move || form.with(|form| form.pipes[index].here().cloned());
    let is_here = Memo::new(move |_| answer().is_some());
    let spec = Memo::new(move |_| match answer() {
        Some(PipeAnswer::Catalogue { spec, .. }) => spec,
        Some(PipeAnswer::Bore(_)) => BORE.to_owned(),
        _ => String::new(),
    });
    let choose = Callback::new(move |chosen: String| {
        form.update(|form| form.pipes[index] = Asked::Here(pipe_of(&chosen, form.units)));
    });
    view! {
        <div class="field" role="group" aria-labelledby=side_id.clone()>
            <p class="label" id=side_id.clone()>{words::PIPE_SIDES[index]}</p>
            {move || if is_here.get() {
                let mut options = vec![(String::new(), words::NOT_KNOWN.to_string())];
                options.extend(PipeSpec::ALL.map(|spec| (spec.name().to_owned(), spec.name().to_owned())));
                options.push((BORE.to_owned(), words::BORE.to_string()));
                view! {
                    <div class="side-by-side">
                        <div>
                            <label class="fine" for=format!("{id}-spec")>{words::SPEC}</label>
                            <Choose id=format!("{id}-spec") options chosen=Signal::derive(move || spec.get()) choose/>
                        </div>
                        <div><PipeSize form index spec/></div>
                    </div>
                }.into_any()
            } else {
                view! { <p class="note">{words::IN_THE_TEXT}</p> }.into_any()
            }}
        </div>
    }
}

/// The answer that a choice of a specification starts with: its 2-inch or 63-mm size, where it has one.
fn pipe_of(chosen: &str, units: UnitSystem) -> PipeAnswer {
    const USUAL: [&str; 2] = ["2 in", "63 mm"];
    if chosen == BORE {
        let unit = match units {
            UnitSystem::Us => "in",
            UnitSystem::Si => "mm",
        };
        return PipeAnswer::Bore(Measure::unknown(unit));
    }
    let Some(spec) = PipeSpec::parse(chosen) else {
        return PipeAnswer::NotKnown;
    };
    let sizes: Vec<&str> = spec.sizes().map(|size| size.nominal).collect();
    let usual = sizes
        .iter()
        .find(|size| USUAL.contains(size))
        .or(sizes.first());
    PipeAnswer::Catalogue {
        spec: spec.name().to_owned(),
        size: usual.copied().unwrap_or_default().to_owned(),
    }
}

#[component]
fn PipeSize(form: RwSignal<Form>, index: usize, spec: Memo<String>) -> impl IntoView {
    let id = format!("pipe-{index}-size");
    let answer = move || form.with(|form| form.pipes[index].here().cloned().unwrap_or_default());
    let size = Signal::derive(move || match answer() {
        PipeAnswer::Catalogue { size, .. } => size,
        _ => String::new(),
    });
    let bore = move |of: fn(&Measure) -> &String| {
        move || match answer() {
            PipeAnswer::Bore(measure) => of(&measure).clone(),
            _ => String::new(),
        }
    };
    let (number, unit) = (
        bore(|measure| &measure.number),
        bore(|measure| &measure.unit),
    );
    move || {
        let spec_name = spec.get();
        if spec_name.is_empty() {
            return ().into_any();
        }
        if spec_name == BORE {
            return view! {
                <label class="fine" for=id.clone()>{words::BORE}</label>
                <Hint word=Word::Bore/>
                <div class="with-unit">
                    <input
                        id=id.clone() type="text" inputmode="decimal" autocomplete="off" prop:value=number
                        on:input=move |event| form.update(|form| {
                            if let Asked::Here(PipeAnswer::Bore(bore)) = &mut form.pipes[index] {
                                bore.number = event_target_value(&event);
                            }
                        })
                    />
                    <span class="unit">{unit}</span>
                </div>
            }
            .into_any();
        }
        let sizes = PipeSpec::parse(&spec_name).map(|spec| {
            spec.sizes()
                .map(|size| size.nominal.to_owned())
                .collect::<Vec<_>>()
        });
        let mut options: Vec<(String, String)> = sizes
            .unwrap_or_default()
            .into_iter()
            .map(|size| (size.clone(), size))
            .collect();
        let now = size.get_untracked();
        if !options.iter().any(|(value, _)| *value == now) {
            // A size written another way, or one that the catalogue lacks, stays as it is written.
            options.push((now.clone(), now));
        }
        let choose = Callback::new(move |size: String| {
            form.update(|form| {
                form.pipes[index] = Asked::Here(PipeAnswer::Catalogue {
                    spec: spec.get_untracked(),
                    size,
                });
            });
        });
        view! {
            <label class="fine" for=id.clone()>{words::SIZE}</label>
            <Choose id=id.clone() options chosen=size choose/>
        }
        .into_any()
    }
}
