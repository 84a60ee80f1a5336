//! The limits and needs that a figure marks.

use super::Subject;
use crate::content::{limit_words, limited_value};
use crate::language::say;
use crate::names::limited;
use crate::number;
use charts::{At, Rule, Weight};
use fieldtest::{Bound, Limit, LimitOf, Passage};
use records::unit::Dimension;

impl Subject<'_> {
    /// Finds the limit that is met first as the pump is sped up, with its speed, where a step of the test reaches it.
    pub(super) fn first_limit(&self) -> Option<(&Limit, f64)> {
        let top_rpm = self.test.steps.last()?.speed_rpm;
        let highest = self.limits.iter().filter(|limit| limit.bound == Bound::Max);
        highest
            .filter_map(|limit| Some((limit, limit.speed_rpm?)))
            .filter(|(_, speed)| *speed <= top_rpm)
            .min_by(|(_, a), (_, b)| a.total_cmp(b))
    }

    /// Lists the limits of the whole flow as levels of flow.
    pub(super) fn flow_rules(&self) -> Vec<Rule> {
        let first = self.first_limit().map(|(limit, _)| limit);
        let whole = self
            .limits
            .iter()
            .filter(|limit| limit.passage == Passage::Whole);
        let rule = |limit: &Limit| {
            let flow_m3s = limit.flow_m3s?;
            Some(Rule {
                at: At::Y(self.printing.number(flow_m3s, Dimension::Flow)),
                label: self.limit_at_flow(limit, flow_m3s),
                weight: if Some(limit) == first {
                    Weight::Act
                } else {
                    Weight::Context
                },
            })
        };
        whole.filter_map(rule).collect()
    }

    /// Names a limit in few words: of a part, without the line that it stands in.
    pub(super) fn limit_name(&self, limit: &Limit) -> String {
        match (limit.of, limited_value(limit.of, self.printing)) {
            (LimitOf::Velocity { .. }, _) => limit_words(limit, self.printing),
            (_, Some(value)) => say!(
                self.printing,
                "{value} at the {part}",
                value,
                part = limited(limit, self.printing)
            ),
            (_, None) => say!(
                self.printing,
                "rating of the {part}",
                part = limited(limit, self.printing)
            ),
        }
    }

    /// Says a limit with its flow.
    fn limit_at_flow(&self, limit: &Limit, flow_m3s: f64) -> String {
        let flow = self.printing.plain(flow_m3s, Dimension::Flow);
        match (limit.of, limit.bound) {
            (LimitOf::Flow, Bound::Max) => say!(
                self.printing,
                "{part}: at most {flow}",
                part = limited(limit, self.printing),
                flow
            ),
            (LimitOf::Flow, Bound::Min) => say!(
                self.printing,
                "{part}: at least {flow}",
                part = limited(limit, self.printing),
                flow
            ),
            _ => format!("{}: {flow}", self.limit_name(limit)),
        }
    }

    /// Lists the speeds that tasks and equipment need, and the speed of the first limit.
    pub(super) fn speed_rules(&self) -> Vec<Rule> {
        let rule = |name: String, speed_rpm: f64| Rule {
            at: At::X(speed_rpm),
            label: say!(
                self.printing,
                "{name}: {speed} rpm",
                name,
                speed = number::rpm_about(speed_rpm)
            ),
            weight: Weight::Context,
        };
        let needs = self.limits.iter().filter(|limit| limit.bound == Bound::Min);
        let needs =
            needs.filter_map(|limit| Some(rule(limited(limit, self.printing), limit.speed_rpm?)));
        let first = self.first_limit();
        let first = first.map(|(limit, speed)| rule(self.limit_name(limit), speed));
        self.tasks()
            .map(|(name, speed)| rule(name.to_owned(), speed))
            .chain(needs)
            .chain(first)
            .collect()
    }

    /// Lists the tasks with the speed that gives each its flow.
    fn tasks(&self) -> impl Iterator<Item = (&str, f64)> {
        let law = self.test.laws.flow.as_ref();
        let top_rpm = self.site.pump.speed.max.si;
        let tasks = self.site.operation.tasks.iter();
        tasks.filter_map(move |task| {
            let speed = law?.speed_at_rpm(task.min_flow.si);
            (speed <= top_rpm).then_some((task.name.as_str(), speed))
        })
    }
}
