//! The numbers that a calibration seeks: factors on what the parts take, and what meters and pump are off by; with what is
//! known of each before any gauge is read.

use super::operating::Taken;
use crate::follow_up::Change;
use crate::network::Network;
use crate::plumbing::place;
use hydraulics::circuit::{Circuit, LinkKind, Part as NetworkPart};
use hydraulics::constants::US_GALLON_PER_MINUTE_M3S;
use hydraulics::element::Element;
use hydraulics::equipment::RatedDrops;
use metrology::Prior;
use numerics::elementary::ln;
use records::{Part, PartKind, Site, Test};

/// Standard deviations of the logarithm of what parts take over what the catalogue and the makers say. Common practice, no
/// source: bores and lengths are stated well, fitting tables differ by 16 %, rated drops are those of another water and mount.
const PIPES_SD_LN: f64 = 0.05;
const FITTINGS_SD_LN: f64 = 0.15;
const APPLIANCE_SD_LN: f64 = 0.20;
/// The same of what a tee takes, whose printed laws differ more than those of elbows. Common practice, no source.
const TEES_SD_LN: f64 = 0.25;
/// The same where the drop is not stated and a usual one stands in for it: a factor of 2.
const UNSTATED_SD_LN: f64 = core::f64::consts::LN_2;
/// Of the maker's curve of a pump that is not worn out, in head at a flow. Common practice, no source.
const WEAR_SD_LN: f64 = 0.05;
/// Media of a clean filter against its rating, as a factor. Common practice, no source; the media's share is itself a guess.
const CLEAN_FACTOR: f64 = 1.2;
/// Media of a filter as it was found: usual loading, and the factor about it. Common practice, no source.
const AS_FOUND: (f64, f64) = (1.5, 1.6);
/// A part-open valve: velocity heads, and the factor about them, wide enough for any opening that still lets water through.
const THROTTLED: (f64, f64) = (10.0, 5.0);
/// How many standard deviations a factor that a person states reaches: 95 %.
const STATED_REACH: f64 = 1.959_963_984_540_054;
/// One pound-force per square inch, Pa (NIST SP 811, appendix B.8).
const PSI_PA: f64 = 6894.757293168361;

/// What a sought number is of.
#[derive(Clone, Debug, PartialEq)]
pub enum ParameterOf {
    /// Friction in the pipes of a line, as a factor.
    Pipes {
        /// The line.
        line: String,
    },
    /// The fittings of a line, as a factor.
    Fittings {
        /// The line.
        line: String,
    },
    /// One part of a line, as a factor.
    Part {
        /// The line.
        line: String,
        /// The part, counted from 0.
        part: usize,
        /// The part as it is stated.
        stated: Box<Part>,
    },
    /// What a tee takes, as a factor.
    Tee {
        /// The end at which it stands.
        at: String,
    },
    /// The media of the filter over clean ones.
    Media {
        /// The test.
        test: String,
    },
    /// A part-open valve in a line, velocity heads of its bore.
    Throttled {
        /// The line.
        line: String,
        /// The test.
        test: String,
    },
    /// Head of the pump over the maker's curve, at one flow.
    PumpHead,
    /// What something takes or gives over what it did at an earlier visit, as a factor.
    Change {
        /// What changed.
        of: Change,
    },
    /// What a meter is off by everywhere, in standard uncertainties of that.
    Meter {
        /// The column of readings, or columns.
        column: String,
    },
    /// What the height of a gauge is off by, in standard uncertainties of that.
    GaugeHeight {
        /// The column of readings.
        column: String,
    },
}

impl ParameterOf {
    /// Whether it is a factor, whose logarithm is sought.
    pub fn is_factor(&self) -> bool {
        !matches!(self, Self::Meter { .. } | Self::GaugeHeight { .. })
    }

    /// Whether it is the loading of a filter.
    pub fn is_media(&self) -> bool {
        matches!(self, Self::Media { .. })
    }

    /// Whether the resistance of the circuit hangs on it in every test.
    pub(crate) fn is_resistance(&self) -> bool {
        self.line().is_some() || matches!(self, Self::Media { .. } | Self::Tee { .. })
    }

    /// Whether it may be part of what the circuit takes in a test; where nothing there hangs on it, its slope is zero.
    pub(crate) fn turns(&self, in_test: &str) -> bool {
        match self {
            Self::Throttled { test, .. } => test == in_test,
            // A later visit has the media of an earlier one, and a change of its own.
            Self::Pipes { .. }
            | Self::Fittings { .. }
            | Self::Part { .. }
            | Self::Tee { .. }
            | Self::Media { .. }
            | Self::Change { .. } => true,
            Self::PumpHead | Self::Meter { .. } | Self::GaugeHeight { .. } => false,
        }
    }

    /// The line whose resistance it is part of.
    pub fn line(&self) -> Option<&str> {
        match self {
            Self::Pipes { line }
            | Self::Fittings { line }
            | Self::Part { line, .. }
            | Self::Throttled { line, .. } => Some(line),
            _ => None,
        }
    }
}

/// All sought numbers of a calibration.
#[derive(Clone, Debug, Default)]
pub(crate) struct Knobs {
    /// What each is of.
    pub(crate) of: Vec<ParameterOf>,
    /// What is known of each before; of the logarithm where it is a factor.
    pub(crate) priors: Vec<Prior>,
    /// Meters by their ids, each with its number: two headings may call one meter.
    meters: Vec<(String, usize)>,
}

impl Knobs {
    /// Finds a number, or adds it with what is known of it.
    pub(crate) fn add(&mut self, of: ParameterOf, mean: f64, sd: f64) -> usize {
        self.of
            .iter()
            .position(|known| *known == of)
            .unwrap_or_else(|| {
                self.of.push(of);
                self.priors.push(Prior { mean, sd });
                self.of.len() - 1
            })
    }

    /// Adds what a meter is off by everywhere; one that is known by its id is the same in every test.
    pub(crate) fn meter(&mut self, column: String, id: Option<&str>) -> usize {
        let same = id.and_then(|id| self.meters.iter().find(|(known, _)| known == id));
        if let Some((_, knob)) = same {
            return *knob;
        }
        let knob = self.add(ParameterOf::Meter { column }, 0.0, 1.0);
        self.meters.extend(id.map(|id| (id.to_owned(), knob)));
        knob
    }

    /// Adds a tee.
    pub(crate) fn tee(&mut self, at: &str) -> usize {
        self.add(ParameterOf::Tee { at: at.to_owned() }, 0.0, TEES_SD_LN)
    }

    /// Adds the pump.
    pub(crate) fn pump(&mut self) -> usize {
        self.add(ParameterOf::PumpHead, 0.0, WEAR_SD_LN)
    }

    /// Adds the loading of the filter as a test found it; `None` with the media taken out.
    fn media(&mut self, test: &Test) -> Option<usize> {
        let found = test.head.condition.filter.as_deref().map(str::trim);
        let (mean, sd) = match found {
            Some("media out") => return None,
            Some("clean") => (0.0, ln(CLEAN_FACTOR)),
            _ => (ln(AS_FOUND.0), ln(AS_FOUND.1)),
        };
        let test = test.name.clone();
        Some(self.add(ParameterOf::Media { test }, mean, sd))
    }
}

/// How a part of the network hangs on the sought numbers in one test.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Hold {
    /// The factor on what it takes; for a filter, on its passages.
    pub(crate) factor: Option<usize>,
    /// The loading of a filter's media, or `None` with none in.
    pub(crate) media: Option<usize>,
    /// What all of it takes over what it took at an earlier visit.
    pub(crate) changed: Option<usize>,
    /// What a filter's media take over that.
    pub(crate) loaded: Option<usize>,
}

impl Hold {
    /// By how much the part takes more where each number rises, the flow being kept, m.
    pub(super) fn rises_m(&self, taken: &Taken) -> [(Option<usize>, f64); 4] {
        [
            (self.media, taken.media_m),
            (self.factor, taken.head_m - taken.media_m),
            (self.changed, taken.head_m),
            (self.loaded, taken.media_m),
        ]
    }
}

/// What is put in where a site does not say, and what is left out.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Unstated {
    /// Line and part whose drop is a usual one.
    pub(crate) assumed: Vec<(String, usize)>,
    /// Line and part whose drop is not known.
    pub(crate) left_out: Vec<(String, usize)>,
}

/// Puts usual drops where the site states none, with a wide factor about each.
pub(crate) fn complete(site: &Site, network: &mut Network) -> Unstated {
    let mut unstated = Unstated::default();
    for (index, line) in site.lines.iter().enumerate() {
        for (part_index, part) in line.parts.iter().enumerate() {
            if network.parts[index][part_index].is_some()
                || matches!(part.kind, PartKind::Spillover(_))
            {
                continue;
            }
            let name = (line.name.clone(), part_index);
            match (usual(part), parts_of(&mut network.circuit, index)) {
                (Some(usual), Some(parts)) => {
                    network.parts[index][part_index] = Some(parts.len());
                    parts.push(usual);
                    unstated.assumed.push(name);
                }
                _ => unstated.left_out.push(name),
            }
        }
    }
    unstated
}

fn parts_of(circuit: &mut Circuit, link: usize) -> Option<&mut Vec<NetworkPart>> {
    match &mut circuit.links.get_mut(link)?.kind {
        LinkKind::Line(line) => Some(&mut line.parts),
        LinkKind::Pump(_) => None,
    }
}

/// The usual drop of an appliance at 60 gpm. Common practice, no source.
fn usual(part: &Part) -> Option<NetworkPart> {
    let (psi, count) = match &part.kind {
        PartKind::Skimmer(_) | PartKind::Basket(_) => (0.3, part.count),
        PartKind::Cover(_) => (0.5, 1),
        PartKind::Filter(_) => (4.0, part.count),
        PartKind::Heater(_) | PartKind::Solar(_) => (3.0, part.count),
        PartKind::Cell(_) | PartKind::FlowMeter(_) => (0.7, part.count),
        _ => return None,
    };
    let drops = RatedDrops::new(&[(60.0 * US_GALLON_PER_MINUTE_M3S, psi * PSI_PA)]).ok()?;
    Some(NetworkPart {
        element: Element::Rated(drops),
        in_series: count,
        side_by_side: if count == part.count { 1 } else { part.count },
    })
}

/// Says on which number each part of each line hangs in a test, and adds a part-open valve to each throttled line. The media of
/// the filter are those of the second test: the same one, or the visit that this one is held against.
pub(crate) fn holds(
    site: &Site,
    (test, media_of): (&Test, &Test),
    unstated: &Unstated,
    network: &mut Network,
    knobs: &mut Knobs,
) -> Vec<Vec<Hold>> {
    let mut all = Vec::with_capacity(site.lines.len());
    for (index, line) in site.lines.iter().enumerate() {
        let places = network.parts[index].clone();
        let Some(parts) = parts_of(&mut network.circuit, index) else {
            continue;
        };
        let mut of_line = vec![Hold::default(); parts.len()];
        for (part_index, place) in places.iter().enumerate() {
            let Some(place) = *place else { continue };
            let name = (line.name.clone(), part_index);
            let assumed = unstated.assumed.contains(&name);
            let (of, sd) = parameter(
                name,
                &line.parts[part_index],
                &parts[place].element,
                assumed,
            );
            of_line[place].factor = Some(knobs.add(of, 0.0, sd));
            if matches!(parts[place].element, Element::Filter { .. }) {
                of_line[place].media = knobs.media(media_of);
            }
        }
        if test.head.throttled.contains(&line.name)
            && let Some(bore_m) = first_bore_m(&line.parts)
        {
            let of = ParameterOf::Throttled {
                line: line.name.clone(),
                test: test.name.clone(),
            };
            let factor = Some(knobs.add(of, ln(THROTTLED.0), ln(THROTTLED.1)));
            parts.push(NetworkPart::one(Element::MinorLoss { k: 1.0, bore_m }));
            of_line.push(Hold {
                factor,
                ..Hold::default()
            });
        }
        all.push(of_line);
    }
    all
}

/// Finds the number that a part hangs on, with the standard deviation of its logarithm.
fn parameter(
    (line, part_index): (String, usize),
    part: &Part,
    element: &Element,
    assumed: bool,
) -> (ParameterOf, f64) {
    let of_part = || ParameterOf::Part {
        line: line.clone(),
        part: part_index,
        stated: Box::new(part.clone()),
    };
    let (shared, sd) = match element {
        Element::Pipe(_) => (ParameterOf::Pipes { line: line.clone() }, PIPES_SD_LN),
        Element::MinorLoss { .. } => {
            let of = ParameterOf::Fittings { line: line.clone() };
            (of, FITTINGS_SD_LN)
        }
        Element::Filter { .. } | Element::Rated(_) | Element::CheckValve(_) => {
            (of_part(), APPLIANCE_SD_LN)
        }
    };
    match guess_sd_ln(part) {
        Some(guess) => (of_part(), (guess * guess + sd * sd).sqrt()),
        None if assumed => (shared, UNSTATED_SD_LN),
        None => (shared, sd),
    }
}

/// The standard deviation of the logarithm of what a person guessed of a part.
fn guess_sd_ln(part: &Part) -> Option<f64> {
    let guess = match &part.kind {
        PartKind::Pipe(pipe) => pipe.length.as_ref()?.guess,
        PartKind::MinorLoss(loss) => loss.k.guess,
        PartKind::Filter(filter) => filter.clean.as_ref()?.drop.guess,
        PartKind::Skimmer(skimmer) => skimmer.at.first()?.drop.guess,
        PartKind::Heater(heater) => heater.at.first()?.drop.guess,
        PartKind::Cell(cell) => cell.at.first()?.drop.guess,
        _ => None,
    };
    guess.map(|guess| ln(guess.factor) / STATED_REACH)
}

/// The bore of the first part of a line that has one, m.
fn first_bore_m(parts: &[Part]) -> Option<f64> {
    let placed = place(parts).into_iter().flatten();
    let mut bores = placed.filter_map(|placed| match placed.element? {
        Element::Pipe(run) => Some(run.bore_m),
        Element::MinorLoss { bore_m, .. } => Some(bore_m),
        _ => None,
    });
    bores.next()
}
