//! What to read next: the readings that were not taken and would narrow an answer most, in words, the best first.

use document::units::Printing;
use document::words::learning::{answer, not_learnt, now, says};
use fieldtest::{Analysis, Answer, Learning, NotLearnt, next_readings};
use records::{Site, Test};
use serde::{Deserialize, Serialize};

/// How many readings are told of one answer.
const MOST: usize = 3;

/// What would narrow one answer.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Advice {
    /// The answer, such as "the fixed draw".
    pub of: String,
    /// What is known of it now.
    pub now: String,
    /// The readings that would narrow it, the best first.
    pub readings: Vec<String>,
}

/// What there is to say of readings to come.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Next {
    /// What would narrow which answer.
    pub advice: Vec<Advice>,
    /// What keeps anything from being said, and what to do first.
    pub first: Option<(String, String)>,
}

/// The answers that a reading may narrow: those of the laws, then those of the circuit, which has to be calibrated for them.
const WANTED: [Answer; 4] = [
    Answer::FixedDraw,
    Answer::CheapestSpeed,
    Answer::TotalHead,
    Answer::Suction,
];

/// Says what to read next. This takes the engine a while.
pub fn next(site: &Site, tests: &[Test], analysis: &Analysis, printing: Printing) -> Next {
    let speeds = analysis.tests.last().into_iter();
    let speeds = speeds.flat_map(|test| test.steps.iter().map(|step| step.speed_rpm));
    let top_rpm = speeds.fold(0.0, f64::max);
    let mut told = Next::default();
    for wanted in &WANTED {
        match next_readings(site, tests, analysis, (top_rpm, wanted)) {
            Ok(learning) => told.advice.extend(advised(site, &learning, printing)),
            // That the cheapest speed lies below what was read is worth a word; that a site has no lines is not.
            Err(problem @ (NotLearnt::NoLaw | NotLearnt::NotBracketed)) => {
                let words = not_learnt(&problem, printing);
                told.first.get_or_insert((words.says, words.action));
            }
            Err(NotLearnt::NotCalibrated(_) | NotLearnt::NoSuchLine) => {}
        }
    }
    told
}

/// Puts what was learnt into words; `None` where no reading would tell more.
fn advised(site: &Site, learning: &Learning, printing: Printing) -> Option<Advice> {
    let readings = learning.readings.iter().take(MOST);
    let readings: Vec<String> = readings
        .map(|next| capital(&says(site, learning, next, printing)))
        .collect();
    (!readings.is_empty()).then(|| Advice {
        of: answer(site, &learning.answer, printing),
        now: now(learning, printing),
        readings,
    })
}

/// A sentence of its own.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(char::to_uppercase);
    let start: String = first.into_iter().flatten().collect();
    format!("{start}{}.", letters.as_str())
}
