//! The report that is handed over: the first page for the owner, what follows for the next technician.
//!
//! One run of neutral blocks, from which HTML, PDF and text are made alike. Every number in it is one of the analysis or of
//! the plan, written by the one rounding rule. What is not known gets no empty section: what is missing, and what it would
//! tell, stands in a section of its own.

mod answer;
mod baseline;
mod care;
mod dates;
mod glossary;
mod hand_over;
mod meters;
mod method;
mod missing;
mod order;
mod owner;
mod pad;
mod readings;
mod savings;
mod technician;
mod tested;

use crate::language::say;
pub use dates::date_words;
pub use order::{File, Order, Ordered, TestFile};

use crate::content::Block;
use crate::units::Printing;
use fieldtest::{Analysis, Bound, Calibration, Limit, Step, TestResult};
use operation::{Advice, AdvisedDay, DayPlan, Gathered, NoPlan, Worked};
use records::{CalendarDay, Language, Logo, Profile, Site, Test, UnitSystem};

/// What a report is made from.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// The site.
    pub site: &'a Site,
    /// Its tests, in the order of time.
    pub tests: &'a [Test],
    /// What they say.
    pub analysis: &'a Analysis,
    /// The cheapest day, or why there is none.
    pub plan: Result<&'a DayPlan, &'a NoPlan>,
    /// Where the head is lost, where the plumbing is stated and could be calibrated.
    pub calibration: Option<&'a Calibration>,
    /// What other answers put into the report.
    pub more: &'a More,
    /// The units of print.
    pub printing: Printing,
}

/// What other answers put into a report, each in its section; without blocks there is no section.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct More {
    /// What a change of the pad would save.
    pub alternatives: Section,
    /// What has changed since an earlier visit.
    pub follow_up: Section,
}

/// What another answer puts into a report.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Section {
    /// The same in one sentence, for the owner.
    pub in_short: Option<String>,
    /// The blocks, for the next technician.
    pub blocks: Vec<Block>,
}

/// Whose report it is, and of which day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Letterhead {
    /// What the business says of itself.
    pub profile: Profile,
    /// Its logo.
    pub logo: Option<Logo>,
    /// The day of the report.
    pub date: CalendarDay,
}

/// The sheet that a report is printed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 8.5 by 11 in.
    Letter,
    /// 210 by 297 mm.
    A4,
}

impl Paper {
    /// Returns the sheet that goes with how a report is printed: that of the units, and where Spanish has its own numbers
    /// that of most of its readers.
    pub fn usual(printing: Printing) -> Self {
        match (printing.system, printing.language) {
            (UnitSystem::Us, Language::English | Language::SpanishOfTheUs) => Self::Letter,
            (UnitSystem::Us, Language::Spanish) | (UnitSystem::Si, _) => Self::A4,
        }
    }

    /// Finds the sheet of a name.
    pub fn of_name(name: &str) -> Option<Self> {
        [Self::Letter, Self::A4]
            .into_iter()
            .find(|paper| paper.name() == name)
    }

    /// Returns its name in style sheets.
    pub fn name(self) -> &'static str {
        match self {
            Self::Letter => "letter",
            Self::A4 => "a4",
        }
    }
}

/// A report, ready to be rendered.
#[derive(Clone, Debug, PartialEq)]
pub struct Report {
    /// What it is called.
    pub title: String,
    /// When it was written.
    pub dated: String,
    /// Whose it is.
    pub letterhead: Letterhead,
    /// How it is printed: the language is that of the words.
    pub printing: Printing,
    /// What it says; the title is not among it.
    pub blocks: Vec<Block>,
}

impl Report {
    /// Returns everything as blocks, for a renderer without a head of its own.
    pub fn as_blocks(&self) -> Vec<Block> {
        let profile = &self.letterhead.profile;
        let mut blocks = vec![
            Block::Title(self.title.clone()),
            Block::Note(self.dated.clone()),
        ];
        blocks.extend(
            letterhead_lines(profile, self.printing)
                .into_iter()
                .map(Block::Note),
        );
        blocks.extend(self.blocks.iter().cloned());
        blocks
    }
}

/// Lists what a business says of itself, a line each.
pub fn letterhead_lines(profile: &Profile, printing: Printing) -> Vec<String> {
    let licence = profile.licence.as_ref();
    profile
        .business
        .iter()
        .cloned()
        .chain(licence.map(|licence| say!(printing, "Licence {licence}", licence)))
        .chain(profile.contact.iter().cloned())
        .collect()
}

/// Composes a report of what was worked out.
pub fn composed(
    gathered: &Gathered<'_>,
    worked: &Worked,
    printing: Printing,
    letterhead: Letterhead,
) -> Report {
    let site = gathered.site;
    let alternatives = worked.comparison.as_ref();
    let follow_up = worked.follow_up.as_ref();
    let more = More {
        alternatives: alternatives
            .map(|found| crate::alternatives::handed(site, found, printing))
            .unwrap_or_default(),
        follow_up: follow_up
            .map(|found| crate::track::handed(site, found, printing))
            .unwrap_or_default(),
    };
    let subject = Subject {
        site,
        tests: gathered.tests,
        analysis: &worked.analysis,
        plan: worked.plan.as_ref(),
        calibration: worked.calibration.as_ref(),
        more: &more,
        printing,
    };
    report(&subject, letterhead)
}

/// Composes a report.
pub fn report(subject: &Subject<'_>, letterhead: Letterhead) -> Report {
    let mut blocks = owner::page(subject);
    blocks.extend(technician::pages(subject, &letterhead));
    let glossary = glossary::glossary(&blocks, subject.printing);
    blocks.extend(glossary);
    Report {
        title: say!(
            subject.printing,
            "{site}: pool pump report",
            site = subject.site.name
        ),
        dated: say!(
            subject.printing,
            "Report of {date}",
            date = date_words(letterhead.date, subject.printing)
        ),
        letterhead,
        printing: subject.printing,
        blocks,
    }
}

impl<'a> Subject<'a> {
    /// Returns the last test and what it says: the one that the report is about.
    fn last(&self) -> Option<(&'a Test, &'a TestResult)> {
        self.tests.last().zip(self.analysis.tests.last())
    }

    /// Returns the day that is advised, with the words of the schedule.
    fn day(&self) -> Option<(crate::schedule::Subject<'a>, &'a AdvisedDay)> {
        let schedule = self.schedule()?;
        match &schedule.plan.advice {
            Advice::Day(day) => Some((schedule, day)),
            Advice::Impossible(_) | Advice::Unsettled => None,
        }
    }

    /// Returns what the words of the schedule are made from.
    fn schedule(&self) -> Option<crate::schedule::Subject<'a>> {
        Some(crate::schedule::Subject {
            site: self.site,
            analysis: self.analysis,
            plan: self.plan.ok()?,
            printing: self.printing,
        })
    }

    /// Returns the limit that is met first as the pump goes faster.
    fn first_limit(&self) -> Option<&'a Limit> {
        let limits = self.analysis.limits.iter();
        let reached = limits.filter(|limit| limit.bound == Bound::Max && limit.speed_rpm.is_some());
        let speed = |limit: &Limit| limit.speed_rpm.unwrap_or(f64::MAX);
        reached.min_by(|a, b| speed(a).total_cmp(&speed(b)))
    }

    /// Returns the fastest step that keeps the limits and has what `has` asks for; where none does, the fastest that has it.
    fn top_step(&self, has: impl Fn(&Step) -> bool) -> Option<&'a Step> {
        let (_, result) = self.last()?;
        let most = self.first_limit().and_then(|limit| limit.speed_rpm);
        let keeps = |step: &&Step| most.is_none_or(|most| step.speed_rpm <= most);
        let steps = || result.steps.iter().rev().filter(|step| has(step));
        steps().find(keeps).or_else(|| steps().next())
    }
}

fn heading(text: &str) -> Block {
    Block::Heading(text.to_owned())
}

fn items(texts: Vec<String>) -> impl Iterator<Item = Block> {
    texts.into_iter().map(Block::Item)
}
