//! A test beside others of its site: the answer of all that were chosen, and what the site file says meanwhile.

use super::super::editing::keep_text;
use super::super::site::has_fewer_parts;
use super::super::undo::Back;
use super::super::words::undo as undo_words;
use super::{Bench, When};
use app::answer::{Answered, answer};
use app::draft::TestDraft;
use app::engine::Pad;
use app::library::{Id, SiteRecord, TestRecord};
use leptos::prelude::*;
use records::{Problem, read_site};
use std::sync::Arc;

impl Bench {
    /// Shows the answer of this test, or of this and others where some were chosen.
    pub(super) fn show(self, alone: Answered) {
        let beside = self.beside.get_untracked();
        let together = (!beside.is_empty()).then(|| self.together(&beside));
        match together {
            None => self.answered.set(Some(Arc::new(alone))),
            Some(Ok(answered)) => self.answered.set(Some(Arc::new(answered))),
            Some(Err(problems)) => self.problems.set(problems),
        }
    }

    /// Asks the engine of this test and others of its site, in the order of their names.
    fn together(self, beside: &[Id]) -> Result<Answered, Vec<Problem>> {
        let (site, _) = self.site.get_value();
        let own = self.id.get_value();
        let tests = self.keeper.library.with_untracked(|library| {
            let tests = library.tests_of(&site.id).into_iter();
            let chosen = tests.filter(|test| test.id == own || beside.contains(&test.id));
            let files = |test: &TestRecord| {
                if test.id == own {
                    self.with_draft(|draft| draft.readable().files)
                } else {
                    test.files()
                }
            };
            chosen.map(files).collect()
        });
        let pad = Pad {
            site: site.source(),
            tests,
        };
        answer(&pad, self.units(), super::super::words::language())
    }

    /// Chooses the other tests of the site that the answer is of too.
    pub(in crate::page) fn choose_beside(self, beside: Vec<Id>) {
        self.beside.set(beside);
        self.judge(When::Now);
    }

    /// A test of the site by its name, as it is typed here or as it is kept.
    pub(in crate::page) fn draft_of(self, name: &str) -> Option<TestDraft> {
        let own = self.with_draft(|draft| (draft.name == name).then(|| draft.clone()));
        own.or_else(|| {
            let site = self.site.with_value(|(site, _)| site.id.clone());
            let files = self.keeper.library.with_untracked(|library| {
                let tests = library.tests_of(&site);
                let test = tests.into_iter().find(|test| test.name == name);
                test.map(TestRecord::files)
            })?;
            TestDraft::from_files(&files).ok()
        })
    }

    /// Keeps another text of the site file; the test is judged by it once it is kept, where it is in order.
    pub(in crate::page) fn set_site(self, text: String) {
        let (id, before) = self
            .site
            .with_value(|(site, _)| (site.id.clone(), site.text.clone()));
        if has_fewer_parts(&before, &text) {
            let site = id.clone();
            let back = Back::Text { site, text: before };
            self.undo.offer(undo_words::PAD_CHANGED.to_string(), back);
        }
        keep_text(self.keeper, &id, text);
    }

    /// Judges by the text of the site file as it is kept, whenever that changes and is in order.
    pub(super) fn follow_site(self) {
        let id = self.site.with_value(|(site, _)| site.id.clone());
        let kept = Memo::new(move |_| {
            self.keeper
                .library
                .with(|library| library.site(&id).map(|site| site.text.clone()))
        });
        Effect::new(move |_| {
            let Some(text) = kept.get() else { return };
            let site = self.site.with_value(|(site, _)| SiteRecord {
                text,
                ..site.clone()
            });
            if self.site.with_value(|(before, _)| before.text == site.text) {
                return;
            }
            if let Ok(parsed) = read_site(&site.source()) {
                self.site.set_value((site, parsed));
                self.judge(When::Soon);
            }
        });
    }
}
