//! The views of a result, one of which is shown: the answer first. What was opened once stays as it was.

use super::super::browser;
use super::super::words::{Phrase, result as words};
use super::Subject;
use super::analysis::AnalysisView;
use super::asking::visits;
use super::day::DayView;
use super::lost::LostView;
use super::since::SinceView;
use super::what_if::WhatIfView;
use leptos::ev;
use leptos::prelude::*;

/// A view.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Section {
    Answer,
    Lost,
    Day,
    WhatIf,
    Since,
}

impl Section {
    const ALL: [Self; 5] = [
        Self::Answer,
        Self::Lost,
        Self::Day,
        Self::WhatIf,
        Self::Since,
    ];

    fn word(self) -> Phrase {
        match self {
            Self::Answer => words::ANSWER,
            Self::Lost => words::LOST,
            Self::Day => words::DAY,
            Self::WhatIf => words::WHAT_IF,
            Self::Since => words::SINCE,
        }
    }

    fn name(self) -> &'static str {
        match self {
            Self::Answer => "answer",
            Self::Lost => "lost",
            Self::Day => "day",
            Self::WhatIf => "what-if",
            Self::Since => "since",
        }
    }

    fn tab(self) -> String {
        format!("tab-{}", self.name())
    }

    fn panel(self) -> String {
        format!("view-{}", self.name())
    }
}

/// The row of tabs, and the view that is shown.
#[component]
pub(super) fn Views(subject: Subject) -> impl IntoView {
    let current = RwSignal::new(Section::Answer);
    let opened = RwSignal::new(vec![Section::Answer]);
    let has_visits = visits(subject.bench) > 1;
    let sections: Vec<Section> = Section::ALL
        .into_iter()
        .filter(|section| has_visits || *section != Section::Since)
        .collect();
    let show = move |section: Section| {
        opened.update(|opened| {
            if !opened.contains(&section) {
                opened.push(section);
            }
        });
        current.set(section);
    };
    let all = sections.clone();
    let key = move |event: ev::KeyboardEvent| {
        if let Some(next) = neighbour(&all, current.get_untracked(), &event.key()) {
            event.prevent_default();
            show(next);
            browser::focus_later(&next.tab());
        }
    };
    let tab = move |section: Section| {
        let is_current = move || current.get() == section;
        view! {
            <button
                type="button" role="tab" id=section.tab() aria-controls=section.panel()
                aria-selected=move || if is_current() { "true" } else { "false" }
                tabindex=move || if is_current() { "0" } else { "-1" } on:click=move |_| show(section)
            >{section.word()}</button>
        }
    };
    let panel = move |section: Section| {
        let is_opened = Memo::new(move |_| opened.with(|opened| opened.contains(&section)));
        view! {
            <div
                role="tabpanel" id=section.panel() aria-labelledby=section.tab() tabindex="-1"
                hidden=move || current.get() != section
            >
                {move || is_opened.get().then(|| content(section, subject))}
            </div>
        }
    };
    view! {
        <div class="views" role="tablist" aria-label=words::VIEWS on:keydown=key>{sections.iter().map(|section| tab(*section)).collect_view()}</div>
        {sections.into_iter().map(panel).collect_view()}
    }
}

fn content(section: Section, subject: Subject) -> AnyView {
    match section {
        Section::Answer => view! { <AnalysisView subject/> }.into_any(),
        Section::Lost => view! { <LostView subject/> }.into_any(),
        Section::Day => view! { <DayView subject/> }.into_any(),
        Section::WhatIf => view! { <WhatIfView subject/> }.into_any(),
        Section::Since => view! { <SinceView subject/> }.into_any(),
    }
}

/// The tab that an arrow, Home or End leads to; the row is a ring.
fn neighbour(all: &[Section], from: Section, key: &str) -> Option<Section> {
    let at = all.iter().position(|section| *section == from)?;
    // The next one stands where reading goes.
    let [on, back] = if browser::reads_from_the_right() {
        ["ArrowLeft", "ArrowRight"]
    } else {
        ["ArrowRight", "ArrowLeft"]
    };
    let to = match key {
        key if key == on => (at + 1) % all.len(),
        key if key == back => (at + all.len() - 1) % all.len(),
        "Home" => 0,
        "End" => all.len() - 1,
        _ => return None,
    };
    all.get(to).copied()
}
