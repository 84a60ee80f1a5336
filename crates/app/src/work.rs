//! The work that takes longer than a keystroke: what is asked of the worker and what it answers, as plain data.
//!
//! [`Desk`] does the work and knows no browser; it runs natively in the tests. `page::worker` carries questions and answers
//! as JSON between the page and the worker, and [`queue`] keeps them in order. To give the worker more to do, add a
//! [`Question`], an [`Answer`] and a file below this one.

mod day;
mod lost;
pub mod queue;
mod report;
mod since;
mod texts;
mod what_if;

pub use lost::Share;
pub use report::HandedOver;
pub use texts::Texts;
use what_if::TodayKnown;

use crate::answer::Answered;
use crate::library::{Units, filter_due};
use crate::next::{self, Next};
use crate::parts::Part;
use crate::planned::{self, Checklist, NoChecklist, checklist};
use crate::what_if::Choice;
use document::problems::{hint, said};
use document::report::Order;
use document::say;
use document::units::Printing;
use fieldtest::Analysis;
use records::{Language, Problem, Site, Test, UnitSystem, read_pad};
use serde::{Deserialize, Serialize};

/// What is asked, and of which pad.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Asked {
    /// The texts of the pad.
    pub pad: Texts,
    /// The units to print in, where not the site's own.
    pub units: Option<Units>,
    /// The tag of the language to answer in.
    pub language: String,
    /// For which room figures are drawn.
    pub room: Room,
    /// What is asked.
    pub question: Question,
}

/// The room that a figure has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Room {
    /// A phone.
    Narrow,
    /// A tablet or a desk.
    Wide,
}

impl From<Room> for charts::Size {
    fn from(room: Room) -> Self {
        match room {
            Room::Narrow => Self::Narrow,
            Room::Wide => Self::Wide,
        }
    }
}

/// What the worker can be asked.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Question {
    /// The numbers of `analyze --json`.
    Numbers,
    /// Where the head is lost, at a speed in rpm; without one, at the fastest step that was tested.
    Lost {
        /// The speed.
        speed_rpm: Option<f64>,
    },
    /// The cheapest day.
    Day,
    /// What a change of the pad would save, in short.
    WhatIf(Choice),
    /// The whole comparison of such a change with the pad as it is.
    Compared(Choice),
    /// What changed since the first of the tests.
    Since,
    /// A plan of a test to come, by the tests there are.
    Plan(planned::Asked),
    /// What to read next.
    Next,
    /// When the filter is due, the first test held against the others.
    FilterDue,
    /// The report that is handed over; the order has the texts of the pad with it.
    HandOver(Box<Order>),
}

/// What the worker answers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Answer {
    /// Numbers alone, as JSON.
    Numbers(String),
    /// Where the head is lost.
    Lost(Box<Lost>),
    /// Words, figures and numbers.
    Told(Told),
    /// What a change would do.
    WhatIf(Box<Weighed>),
    /// A plan, or why there is none.
    Planned(Result<Checklist, NoChecklist>),
    /// What to read next.
    Next(Next),
    /// The day on which the filter is due, where the tests say.
    FilterDue(Option<String>),
    /// The report.
    HandedOver(Box<HandedOver>),
    /// There is no answer, and why.
    Refused(Refused),
}

/// An answer in words, figures and numbers, as the command gives it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Told {
    /// The words.
    pub parts: Vec<Part>,
    /// The figures.
    pub figures: Vec<Drawn>,
    /// What the command prints with `--json`.
    pub json: String,
}

/// A figure as SVG text, styled by attributes and classes alone.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Drawn {
    /// What it shows.
    pub name: String,
    /// The text.
    pub svg: String,
}

/// Where the head is lost.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Lost {
    /// The words; the drawing of the pad is the figure.
    pub told: Told,
    /// What each line takes, the greatest first.
    pub shares: Vec<Share>,
    /// The speed that was asked for, rpm.
    pub speed_rpm: f64,
    /// The speeds between which it can be asked, rpm.
    pub range_rpm: (f64, f64),
}

/// What a change of the pad would do.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Weighed {
    /// What it saves or costs in one sentence, what a year comes to, the highest speed, the limits that are newly kept or
    /// passed.
    pub short: Vec<Part>,
    /// The file of the change; `None` where nothing of the pad changes.
    pub change: Option<String>,
}

/// Why there is no answer.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Refused {
    /// What is missing or wrong.
    pub says: String,
    /// What to do.
    pub hint: Option<String>,
    /// Whether the site file lacks it.
    pub lies_in_site: bool,
}

impl Refused {
    fn by_problems(problems: &[Problem], language: Language) -> Self {
        let printing = Printing {
            system: UnitSystem::default(),
            language,
        };
        let first = problems.first();
        Self {
            says: first.map_or_else(String::new, |problem| {
                say!(
                    printing,
                    "{file}, line {line}: {message}",
                    file = problem.file,
                    line = problem.line,
                    message = said(&problem.message, printing)
                )
            }),
            hint: first.and_then(|problem| hint(problem, printing)),
            lies_in_site: true,
        }
    }
}

/// Who does the work, and keeps what was read last: most questions are of the same pad as the one before.
#[derive(Debug, Default)]
pub struct Desk {
    kept: Option<Kept>,
    /// What was worked out for the same texts: a slider comes by the same places again and again.
    done: Vec<(Asked, Answer)>,
}

/// How many answers are kept.
const MOST_DONE: usize = 64;

/// The pad that was read last.
#[derive(Debug)]
struct Kept {
    texts: Texts,
    known: Known,
    /// What is told of changes again and again.
    today: TodayKnown,
}

/// A pad that was read and analysed.
#[derive(Clone, Debug)]
struct Known {
    site: Site,
    tests: Vec<Test>,
    analysis: Analysis,
}

/// What a question is answered from.
#[derive(Clone, Copy, Debug)]
struct Given<'a> {
    known: &'a Known,
    site_text: &'a str,
    printing: Printing,
    room: Room,
}

impl Desk {
    /// Answers a question.
    pub fn answer(&mut self, asked: &Asked) -> Answer {
        if let Some((_, answer)) = self.done.iter().find(|(done, _)| done == asked) {
            return answer.clone();
        }
        let answer = self.work_out(asked);
        if matches!(answer, Answer::WhatIf(_)) {
            self.done.retain(|(done, _)| done.pad == asked.pad);
            if self.done.len() >= MOST_DONE {
                self.done.remove(0);
            }
            self.done.push((asked.clone(), answer.clone()));
        }
        answer
    }

    fn work_out(&mut self, asked: &Asked) -> Answer {
        // An order has its texts with it, and is of no pad that was read before.
        if let Question::HandOver(order) = &asked.question {
            return report::handed_over(order, Language::nearest(&asked.language));
        }
        let Kept { known, today, .. } = match self.kept(&asked.pad) {
            Ok(kept) => kept,
            Err(problems) => {
                let language = Language::nearest(&asked.language);
                return Answer::Refused(Refused::by_problems(&problems, language));
            }
        };
        let known = &*known;
        let units = asked.units.map(UnitSystem::from);
        let given = Given {
            known,
            site_text: asked.pad.site_text(),
            printing: Printing {
                system: units.or(known.site.units).unwrap_or_default(),
                language: Language::nearest(&asked.language),
            },
            room: asked.room,
        };
        match &asked.question {
            Question::Numbers => Answer::Numbers(numbers(given)),
            Question::Lost { speed_rpm } => lost::lost(given, *speed_rpm),
            Question::Day => day::day(given),
            Question::WhatIf(choice) => what_if::weighed(given, today, choice),
            Question::Compared(choice) => what_if::compared(given, today, choice),
            Question::Since => since::since(given),
            Question::Plan(asked) => {
                Answer::Planned(checklist(&known.site, &known.tests, asked, given.printing))
            }
            Question::Next => Answer::Next(next::next(
                &known.site,
                &known.tests,
                &known.analysis,
                given.printing,
            )),
            Question::FilterDue => {
                Answer::FilterDue(filter_due(&known.site, &known.tests, &known.analysis))
            }
            Question::HandOver(order) => report::handed_over(order, given.printing.language),
        }
    }

    fn kept(&mut self, texts: &Texts) -> Result<&mut Kept, Vec<Problem>> {
        let kept = self.kept.take().filter(|kept| kept.texts == *texts);
        let kept = match kept {
            Some(kept) => kept,
            None => Kept::of(texts)?,
        };
        Ok(self.kept.insert(kept))
    }
}

impl Kept {
    fn of(texts: &Texts) -> Result<Self, Vec<Problem>> {
        let pad = texts.pad();
        let (site, tests) = read_pad(&pad.site, &pad.tests)?;
        let analysis = fieldtest::analyze(&site, &tests);
        Ok(Self {
            texts: texts.clone(),
            known: Known {
                site,
                tests,
                analysis,
            },
            today: TodayKnown::default(),
        })
    }
}

fn numbers(given: Given<'_>) -> String {
    let Known {
        site,
        tests,
        analysis,
    } = given.known.clone();
    Answered::of(site, tests, analysis, given.printing).json()
}
