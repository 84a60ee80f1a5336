//! The report: what goes into it, how it looks before it is handed over, and the ways in which it leaves the device.

mod choices;
mod handing;
mod pdf;

pub(super) use choices::OneOf;

use super::browser;
use super::keeper::{Keeper, keeper};
use super::result::Progress;
use super::route::Screen;
use super::ui::{Back, Gone, titled};
use super::words::report as words;
use super::worker::{Working, worked};
use app::library::{Id, SiteRecord, TestRecord, visits};
use app::work::{Answer, Asked, HandedOver, Question, Room, Texts};
use choices::Choices;
use document::report::{File, Order, TestFile};
use handing::Handing;
use leptos::prelude::*;

/// What is wanted of a report.
#[derive(Clone, Copy)]
struct Wanted {
    site: StoredValue<Id>,
    tests: RwSignal<Vec<Id>>,
    changes: RwSignal<Vec<Id>>,
    language: RwSignal<String>,
    /// Empty for the usual one.
    paper: RwSignal<String>,
}

/// The screen.
#[component]
pub(super) fn ReportScreen(id: Id) -> impl IntoView {
    let found = keeper().library.with_untracked(|library| {
        let is_it = |test: &&TestRecord| test.id == id && test.deleted.is_none();
        let test = library.tests.iter().find(is_it)?;
        Some((library.site(&test.site_id)?.clone(), test.clone()))
    });
    match found {
        Some((site, test)) => view! { <Shown site test/> }.into_any(),
        None => view! { <Gone/> }.into_any(),
    }
}

#[component]
fn Shown(site: SiteRecord, test: TestRecord) -> impl IntoView {
    let keeper = keeper();
    titled(|| words::TITLE.into());
    let profile = keeper
        .settings
        .with_untracked(|settings| settings.profile.clone().unwrap_or_default().profile());
    // A report speaks as the profile says, or as the page does.
    let spoken = super::words::language();
    let language = profile.language.unwrap_or(spoken);
    let wanted = Wanted {
        site: StoredValue::new(site.id),
        tests: RwSignal::new(vec![test.id.clone()]),
        changes: RwSignal::new(Vec::new()),
        language: RwSignal::new(language.tag().to_owned()),
        paper: RwSignal::new(String::new()),
    };
    let ordered = Memo::new(move |_| order(keeper, wanted));
    let (working, again) = worked(move || {
        Some(Asked {
            pad: Texts::default(),
            units: None,
            language: spoken.tag().to_owned(),
            room: Room::Narrow,
            question: Question::HandOver(Box::new(ordered.get()?)),
        })
    });
    let handed = Memo::new(move |_| working.with(handed_over));
    view! {
        <Back to=Screen::Result(test.id.clone()) word=test.name.clone()/>
        <h1>{words::TITLE}</h1>
        <p class="fine">{words::LEAD}</p>
        <div class="panes">
            <div>
                <Handing ordered working handed/>
                <Choices wanted own=test.id/>
            </div>
            <div>
                <Progress working again/>
                <Preview handed/>
            </div>
        </div>
    }
}

/// Puts the order together; it changes whenever a text or a choice does.
fn order(keeper: Keeper, wanted: Wanted) -> Option<Order> {
    let settings = keeper.settings.get();
    let profile = settings.profile.as_ref();
    let units = settings.units.map(|units| match units {
        app::library::Units::Us => "us".to_owned(),
        app::library::Units::Si => "si".to_owned(),
    });
    let (tests, changes) = (wanted.tests.get(), wanted.changes.get());
    let paper = wanted.paper.get();
    let (date, _) = browser::date_and_time();
    keeper.library.with(|library| {
        let site = library.site(&wanted.site.get_value())?;
        let in_order_of_time = visits(library, site).into_iter();
        let tests = in_order_of_time.filter(|visit| tests.contains(&visit.id));
        let files = tests.filter_map(|visit| {
            let test = library.tests.iter().find(|test| test.id == visit.id)?;
            Some(TestFile::from(&test.files()))
        });
        let kept = library.changes_of(&site.id).into_iter();
        let chosen = kept.filter(|change| changes.contains(&change.id));
        Some(Order {
            format: 1,
            site: File::from(&site.source()),
            tests: files.collect(),
            changes: chosen.map(|change| File::from(&change.source())).collect(),
            profile: profile.map(app::letterhead::KeptProfile::file),
            logo: profile.and_then(|profile| profile.logo.clone()),
            date,
            units,
            language: Some(wanted.language.get()),
            paper: (!paper.is_empty()).then_some(paper),
        })
    })
}

fn handed_over(working: &Working) -> Option<HandedOver> {
    match working.answer.as_deref()? {
        Answer::HandedOver(handed) => Some((**handed).clone()),
        _ => None,
    }
}

/// The element that shows the report.
const FRAME: &str = "report-frame";

/// The report in its own frame, in which no script runs. It is no file that is fetched, so that the page's policy needs no
/// frames from anywhere; what the policy does name for it is the one style of each paper, by its digest, and pictures that
/// stand in the text.
#[component]
fn Preview(handed: Memo<Option<HandedOver>>) -> impl IntoView {
    move || {
        handed.get().map(|handed| {
            view! {
                <iframe
                    id=FRAME class="report" title=words::PREVIEW sandbox="allow-same-origin allow-modals"
                    srcdoc=handed.html
                ></iframe>
            }
        })
    }
}
