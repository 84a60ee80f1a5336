//! Which limits a solved pad keeps, and the speed at which its plumbing and the maker's curve reach each.

use super::{SolvedLimit, Solving};
use crate::limits::{of_lines, of_rule, pad_rules};
use crate::result::{Bound, Limit, LimitOf, Passage};
use hydraulics::circuit::{Solution, Start};
use numerics::roots::bracketed;
use std::cell::RefCell;

/// Speeds are found to this closeness, rpm.
const TOLERANCE_RPM: f64 = 0.01;

/// What a limit is about, read off a solution at a speed. A quantity that must stay above its limit is negated, so that all
/// of them rise with speed.
type Quantity<'q> = Box<dyn Fn(&Solving<'_>, &Solution, f64) -> Option<f64> + 'q>;

impl Solving<'_> {
    /// Lists the limits.
    pub(super) fn limits(&mut self, solution: &Solution, speed_rpm: f64) -> Vec<SolvedLimit> {
        let mut found = Vec::new();
        for limit in of_lines(self.site, None).limits {
            let line = limit.line.as_ref();
            let line =
                line.and_then(|name| self.site.lines.iter().position(|line| line.name == *name));
            let link = line.unwrap_or(self.network.pump());
            let quantity: Quantity<'_> =
                Box::new(move |_, solution, _| Some(solution.flows_m3s[link].abs()));
            let at = limit.flow_m3s;
            found.extend(at.and_then(|at| self.limit(limit, at, &quantity, (solution, speed_rpm))));
        }
        for (limit, at, quantity) in self.of_pad() {
            found.extend(self.limit(limit, at, &quantity, (solution, speed_rpm)));
        }
        found
    }

    /// Lists the limits of the pad as a whole: pressure, vacuum, suction head.
    fn of_pad(&self) -> Vec<(Limit, f64, Quantity<'static>)> {
        let rules = pad_rules(self.site, &self.around);
        let mut found: Vec<(Limit, f64, Quantity<'static>)> = Vec::new();
        if let Some(rule) = rules.vessel_pressure {
            let of = LimitOf::Pressure {
                pressure_pa: rule.si,
            };
            found.push((
                of_rule("pressure-above-rating", "filter vessel", of, &rule),
                rule.si,
                Box::new(|pad, solution, _| pad.filter_pressure_pa(solution)),
            ));
        }
        let vacuum = rules.inlet_vacuum;
        let of = LimitOf::Vacuum {
            vacuum_pa: vacuum.si,
        };
        found.push((
            of_rule("inlet-vacuum-high", "pump inlet", of, &vacuum),
            vacuum.si,
            Box::new(|pad, solution, _| pad.inlet_vacuum_pa(solution)),
        ));
        let margin = rules.npsh_margin;
        let of = LimitOf::NpshMargin {
            margin_m: margin.si,
        };
        found.push((
            of_rule("npsh-short", "pump inlet", of, &margin),
            -margin.si,
            Box::new(|pad, solution, speed_rpm| {
                let required_m = pad.npsh_required_m(solution, speed_rpm)?;
                Some(required_m - pad.npsh_available_m(solution)?)
            }),
        ));
        found
    }

    /// Judges a limit, and finds the speed at which it is reached; `None` where its quantity is not known.
    fn limit(
        &mut self,
        limit: Limit,
        at: f64,
        quantity: &Quantity<'_>,
        (solution, speed_rpm): (&Solution, f64),
    ) -> Option<SolvedLimit> {
        let now = quantity(self, solution, speed_rpm)?;
        let kept = match limit.bound {
            Bound::Max => now <= at,
            Bound::Min => now >= at,
        };
        let reached_rpm = self.speed_rpm(at, quantity);
        Some(SolvedLimit {
            limit: Limit {
                speed_rpm: reached_rpm,
                passage: Passage::Divided,
                ..limit
            },
            kept,
        })
    }

    fn speed_rpm(&mut self, at: f64, quantity: &Quantity<'_>) -> Option<f64> {
        let pump = &self.site.pump.speed;
        let low_rpm = pump.min.as_ref().map_or(1.0, |min| min.si);
        let top_rpm = pump.max.si;
        let solving = RefCell::new(self);
        let beyond = |speed_rpm: f64| {
            let mut solving = solving.borrow_mut();
            let solution = solving.at(speed_rpm, Start::Last).cloned();
            let value = solution
                .ok()
                .and_then(|solution| quantity(&solving, &solution, speed_rpm));
            value.map_or(f64::NAN, |value| value - at)
        };
        bracketed(beyond, low_rpm, top_rpm, TOLERANCE_RPM).ok()
    }
}
