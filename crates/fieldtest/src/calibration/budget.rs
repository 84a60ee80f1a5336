//! Where the head is lost at a speed: line by line and part by part, with what each is uncertain by.

use super::NotCalibrated;
use super::line_up::LineUp;
use super::operating::{Moved, Operating};
use super::problem::Problem;
use crate::circuit::{PUMP_INLET, is_water};
use crate::next_reading::Answer;
use crate::result::Analysis;
use metrology::{COVERAGE, Estimate, Fit};
use numerics::distributions::coverage_factor;
use numerics::elementary::{exp, ln};
use numerics::linear::quadratic_form;
use records::Site;

/// The least share that lift is told at: less is rounding.
const LEAST_LIFT: f64 = 1e-9;

/// Where the head is lost.
#[derive(Clone, Debug, PartialEq)]
pub struct Budget {
    /// The speed, rpm.
    pub speed_rpm: f64,
    /// The lines that are shut.
    pub closed: Vec<String>,
    /// Flow of the pump, m³/s.
    pub flow_m3s: Estimate,
    /// Head of the pump, m.
    pub head_m: Estimate,
    /// The lines, in the order of the site.
    pub lines: Vec<LineBudget>,
    /// Lines that share both ends, in the order of the site, with their share together.
    pub sections: Vec<(Vec<String>, Estimate)>,
    /// The share that lifts water, where there is any; with the shares of the lines it sums to 1.
    pub lift_share: Option<Estimate>,
}

/// What a line takes.
#[derive(Clone, Debug, PartialEq)]
pub struct LineBudget {
    /// Its name.
    pub line: String,
    /// Head along it, m.
    pub head_m: Estimate,
    /// Its part of the power that the pump gives.
    pub share: Estimate,
    /// Its parts.
    pub parts: Vec<PartBudget>,
    /// The tees at its ends, as far as the site states them; with the parts they sum to the line.
    pub tees: Vec<TeeBudget>,
}

/// What a tee takes along a line that meets others there.
#[derive(Clone, Debug, PartialEq)]
pub struct TeeBudget {
    /// The end at which it stands.
    pub at: String,
    /// Head between the line and the whole stream, m; below zero where the whole stream drags this one along.
    pub head_m: Estimate,
    /// Its part of the power that the pump gives; below zero with the head.
    pub share: Estimate,
}

/// What a part takes.
#[derive(Clone, Debug, PartialEq)]
pub struct PartBudget {
    /// The part, counted from 0; `None` for the part-open valve of a throttled line.
    pub part: Option<usize>,
    /// Head along it, m.
    pub head_m: Estimate,
    /// Its part of the power that the pump gives.
    pub share: Estimate,
}

/// A number of the budget that a reading to come may narrow.
#[derive(Clone, Debug)]
pub(crate) struct Narrowable {
    /// What it is.
    pub(crate) of: Answer,
    /// What is known of it now.
    pub(crate) estimate: Estimate,
    /// Its slope in every sought number.
    pub(crate) slopes: Vec<f64>,
    /// Its slope in the logarithm of the flow.
    pub(crate) by_flow: f64,
    /// Standard uncertainty of it by what the flow is off by on its own.
    pub(crate) own_u: f64,
}

/// A number with its slope in every source of uncertainty.
#[derive(Clone, Debug)]
struct Sloped {
    value: f64,
    slopes: Vec<f64>,
}

impl Sloped {
    fn add(&mut self, other: &Self) {
        self.value += other.value;
        for (slope, more) in self.slopes.iter_mut().zip(&other.slopes) {
            *slope += more;
        }
    }

    fn plus(mut self, other: &Self) -> Self {
        self.add(other);
        self
    }
}

/// Finds where the head is lost at a speed, with the valves of the last test; and the numbers of it that a reading to come
/// may narrow.
pub(super) fn budget(
    site: &Site,
    analysis: &Analysis,
    problem: &Problem,
    fitted: &Fit,
    speed_rpm: f64,
) -> Result<(Budget, Vec<Narrowable>), NotCalibrated> {
    let none = || NotCalibrated::NoFlowAtSpeed { speed_rpm };
    let flow = flow_at(analysis, problem, speed_rpm).ok_or_else(none)?;
    let parameters = &fitted.parameters;
    let flow_m3s = exp(flow.ln_m3s - parameters[flow.meter] * flow.common_u_ln);
    let mut line_ups = problem.line_ups().borrow_mut();
    let line_up = line_ups.last_mut().ok_or_else(none)?;
    line_up.turn(parameters).ok_or_else(none)?;
    let operating = line_up.at(flow_m3s).ok_or_else(none)?;
    let sources = Sources::new(problem, &operating, &flow);
    let taking = Taking {
        operating: &operating,
        sources: &sources,
        fitted,
        flow_m3s,
        total_m: operating.total_head_m().ok_or_else(none)?,
    };
    taking.budget(site, analysis, speed_rpm).ok_or_else(none)
}

/// The flow at a speed: as read, with what it is off by.
struct FlowAt {
    ln_m3s: f64,
    common_u_ln: f64,
    own_u_ln: f64,
    meter: usize,
}

/// Reads the flow at a speed off the law of the last test, between half its slowest step and a tenth above its fastest.
fn flow_at(analysis: &Analysis, problem: &Problem, speed_rpm: f64) -> Option<FlowAt> {
    let test = analysis.tests.last()?;
    let (first, last) = (test.steps.first()?, test.steps.last()?);
    if !(0.5 * first.speed_rpm..=1.1 * last.speed_rpm).contains(&speed_rpm) {
        return None;
    }
    let predicted = test.laws.flow.as_ref()?.law.predict_ln(speed_rpm);
    let index = analysis.tests.len() - 1;
    let steps = problem.data.steps.iter().filter(|step| step.test == index);
    let away = |of: f64| (of - speed_rpm).abs();
    let near = steps.min_by(|a, b| away(a.speed_rpm).total_cmp(&away(b.speed_rpm)))?;
    let own = predicted.u_ln * predicted.u_ln - near.common_u_ln * near.common_u_ln;
    Some(FlowAt {
        ln_m3s: predicted.ln_value,
        common_u_ln: near.common_u_ln,
        own_u_ln: own.max(0.0).sqrt(),
        meter: near.meter,
    })
    .filter(|flow| flow.ln_m3s.is_finite() && flow.own_u_ln.is_finite())
}

/// How the pad moves with every sought number, and, last, with what the flow is off by on its own.
struct Sources {
    moved: Vec<Option<(Moved, f64, f64)>>,
    own_u_ln: f64,
}

impl Sources {
    fn new(problem: &Problem, operating: &Operating<'_>, flow: &FlowAt) -> Self {
        let of_knob = |knob: usize| {
            if knob == flow.meter {
                let by = -flow.common_u_ln;
                return Some((operating.moved(None), by, by));
            }
            problem.knobs.of[knob]
                .turns(operating.test())
                .then(|| (operating.moved(Some(knob)), 1.0, 0.0))
        };
        let knobs = 0..problem.knobs.of.len();
        let mut moved: Vec<_> = knobs.map(of_knob).collect();
        moved.push(Some((operating.moved(None), 1.0, 1.0)));
        Self {
            moved,
            own_u_ln: flow.own_u_ln,
        }
    }

    /// Lists the slopes of a quantity, from how it moves and how the logarithm of the flow does.
    fn slopes(&self, of: impl Fn(&Moved, f64) -> f64) -> Vec<f64> {
        let slope = |it: &Option<(Moved, f64, f64)>| {
            it.as_ref().map_or(0.0, |(moved, by, ln_flow)| {
                // What moves by the flow moves by so much of it.
                if ln_flow.abs() > 0.0 {
                    by * of(moved, 1.0)
                } else {
                    of(moved, 0.0)
                }
            })
        };
        self.moved.iter().map(slope).collect()
    }
}

/// What takes the head at one flow.
struct Taking<'a> {
    operating: &'a Operating<'a>,
    sources: &'a Sources,
    fitted: &'a Fit,
    flow_m3s: f64,
    total_m: f64,
}

impl Taking<'_> {
    fn budget(
        &self,
        site: &Site,
        analysis: &Analysis,
        speed_rpm: f64,
    ) -> Option<(Budget, Vec<Narrowable>)> {
        let mut lines = Vec::new();
        let mut shares: Vec<(&records::Line, Sloped)> = Vec::new();
        let mut narrowable = Vec::new();
        for (index, line) in site.lines.iter().enumerate() {
            let (found, share) = self.line(site, index, &mut narrowable)?;
            lines.push(found);
            shares.push((line, share));
        }
        let mut sections: Vec<(&records::Line, Vec<String>, Sloped)> = Vec::new();
        for (line, share) in &shares {
            let same = |it: &&mut (&records::Line, Vec<String>, Sloped)| {
                (&it.0.from, &it.0.to) == (&line.from, &line.to)
            };
            match sections.iter_mut().find(same) {
                Some((_, names, sum)) => {
                    names.push(line.name.clone());
                    *sum = sum.clone().plus(share);
                }
                None => sections.push((line, vec![line.name.clone()], share.clone())),
            }
        }
        narrowable.extend(self.sums(site, &shares, &sections));
        let section = |(_, names, share): (&records::Line, Vec<String>, Sloped)| {
            Some((names, self.share(&share)?))
        };
        let whole = shares
            .iter()
            .fold(self.nothing(), |sum, (_, share)| sum.plus(share));
        let lift = Sloped {
            value: 1.0 - whole.value,
            slopes: whole.slopes.iter().map(|slope| -slope).collect(),
        };
        let head = Sloped {
            value: self.total_m,
            slopes: self
                .sources
                .slopes(|moved, _| self.operating.total_moved_m(moved)),
        };
        narrowable.extend(self.narrowable(Answer::TotalHead, &head, self.positive(&head)));
        let flow = Sloped {
            value: self.flow_m3s,
            slopes: self.sources.slopes(|_, by| by * self.flow_m3s),
        };
        let budget = Budget {
            speed_rpm,
            closed: analysis.tests.last()?.closed.clone(),
            flow_m3s: self.positive(&flow)?,
            head_m: self.positive(&head)?,
            lines,
            sections: sections.into_iter().map(section).collect::<Option<_>>()?,
            lift_share: if lift.value > LEAST_LIFT {
                Some(self.share(&lift)?)
            } else {
                None
            },
        };
        Some((budget, narrowable))
    }

    /// Sums the shares of all suctions, of all returns, and of lines that share both ends.
    fn sums(
        &self,
        site: &Site,
        shares: &[(&records::Line, Sloped)],
        sections: &[(&records::Line, Vec<String>, Sloped)],
    ) -> Vec<Narrowable> {
        let of = |answer: Answer, counts: &dyn Fn(&records::Line) -> bool| {
            let mut of_lines = shares.iter().filter(|(line, _)| counts(line));
            let (_, first) = of_lines.next()?;
            let sum = of_lines.fold(first.clone(), |sum, (_, share)| sum.plus(share));
            self.narrowable(answer, &sum, self.share(&sum))
        };
        let returns =
            |line: &records::Line| is_water(site, &line.to) && !is_water(site, &line.from);
        let mut found: Vec<Narrowable> = Vec::new();
        found.extend(of(Answer::Suction, &|line| line.to == PUMP_INLET));
        found.extend(of(Answer::Returns, &returns));
        let section = |(_, lines, share): &(&records::Line, Vec<String>, Sloped)| {
            let answer = Answer::Lines(lines.clone());
            self.narrowable(answer, share, self.share(share))
        };
        found.extend(sections.iter().filter_map(section));
        found
    }

    fn narrowable(
        &self,
        of: Answer,
        number: &Sloped,
        estimate: Option<Estimate>,
    ) -> Option<Narrowable> {
        let (by_flow, slopes) = number.slopes.split_last()?;
        Some(Narrowable {
            of,
            estimate: estimate?,
            slopes: slopes.to_vec(),
            by_flow: *by_flow,
            own_u: (by_flow * self.sources.own_u_ln).abs(),
        })
    }

    fn line(
        &self,
        site: &Site,
        index: usize,
        narrowable: &mut Vec<Narrowable>,
    ) -> Option<(LineBudget, Sloped)> {
        let name = &site.lines[index].name;
        let mut whole = [self.nothing(), self.nothing()];
        let mut add = |taken: &[Sloped; 2]| {
            for (sum, taken) in whole.iter_mut().zip(taken) {
                sum.add(taken);
            }
        };
        let mut parts = Vec::new();
        for (place, part) in self.line_up().parts_of(index) {
            let taken = self.part(index, place);
            add(&taken);
            let [head, share] = taken;
            let answer = Answer::Part {
                line: name.clone(),
                part,
            };
            narrowable.extend(self.narrowable(answer, &share, self.share(&share)));
            parts.push(PartBudget {
                part,
                head_m: self.positive(&head)?,
                share: self.share(&share)?,
            });
        }
        let mut tees = Vec::new();
        for (leg, tee) in self.operating.legs_of(index) {
            let taken = self.leg(index, leg);
            add(&taken);
            let [head, share] = taken.map(|of| Estimate::normal(of.value, self.u(&of)));
            tees.push(TeeBudget {
                at: site.tees.get(tee)?.at.clone(),
                head_m: head?,
                share: share?,
            });
        }
        let [head, share] = whole;
        let answer = Answer::Lines(vec![name.clone()]);
        narrowable.extend(self.narrowable(answer, &share, self.share(&share)));
        let found = LineBudget {
            line: name.clone(),
            head_m: self.positive(&head)?,
            share: self.share(&share)?,
            parts,
            tees,
        };
        Some((found, share))
    }

    fn nothing(&self) -> Sloped {
        Sloped {
            value: 0.0,
            slopes: vec![0.0; self.sources.moved.len()],
        }
    }

    /// Head of a part and its share of the power.
    fn part(&self, line: usize, place: usize) -> [Sloped; 2] {
        let operating = self.operating;
        self.taken(line, operating.part_head_m(line, place), |moved| {
            operating.part_moved_m(line, place, moved)
        })
    }

    /// Head of a tee along a line and its share of the power.
    fn leg(&self, line: usize, leg: usize) -> [Sloped; 2] {
        let head_m = self.operating.leg_head_m(leg);
        self.taken(line, head_m, |moved| moved.at_leg_m(leg))
    }

    /// A head along a line and its share of the power, from how the head moves.
    fn taken(&self, line: usize, head_m: f64, moved_m: impl Fn(&Moved) -> f64) -> [Sloped; 2] {
        let flow = self.operating.line_flow_m3s(line);
        let whole = self.flow_m3s * self.total_m;
        let share = flow * head_m / whole;
        let of_whole = self.sources.slopes(|moved, by| {
            let power = flow * moved_m(moved) + head_m * moved.flows[line];
            let total = self.operating.total_moved_m(moved) / self.total_m;
            power / whole - share * (by + total)
        });
        [
            Sloped {
                value: head_m,
                slopes: self.sources.slopes(|moved, _| moved_m(moved)),
            },
            Sloped {
                value: share,
                slopes: of_whole,
            },
        ]
    }

    fn line_up(&self) -> &LineUp {
        self.operating.line_up()
    }

    /// The standard uncertainty of a number.
    fn u(&self, of: &Sloped) -> f64 {
        let known = of.slopes.len() - 1;
        let by_numbers = quadratic_form(&of.slopes[..known], &self.fitted.covariance);
        let by_flow = of.slopes[known] * self.sources.own_u_ln;
        (by_numbers.max(0.0) + by_flow * by_flow).sqrt()
    }

    /// An estimate of something above zero, or of nothing.
    fn positive(&self, of: &Sloped) -> Option<Estimate> {
        let u = self.u(of);
        if of.value <= 0.0 {
            return Estimate::normal(of.value, u);
        }
        Estimate::log_normal(ln(of.value), u / of.value)
    }

    /// An estimate of something between nothing and the whole.
    ///
    /// # Equation
    /// Normal in ln s/(1 − s).
    fn share(&self, of: &Sloped) -> Option<Estimate> {
        let (value, u) = (of.value, self.u(of));
        if value <= 0.0 || value >= 1.0 {
            return Estimate::normal(value, u);
        }
        let odds = ln(value / (1.0 - value));
        let reach = coverage_factor(COVERAGE, f64::INFINITY) * u / (value * (1.0 - value));
        let share = |odds: f64| 1.0 / (1.0 + exp(-odds));
        Some(Estimate {
            value,
            u,
            low: share(odds - reach),
            high: share(odds + reach),
        })
    }
}
