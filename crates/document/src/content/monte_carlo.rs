//! The answers of a test by Monte Carlo, beside those of the analysis.

use super::{Block, Table};
use crate::language::say;
use crate::number;
use crate::units::{Printing, with_unit};
use fieldtest::{Drawn, Simulated, SimulatedAnswer};
use metrology::Estimate;
use records::unit::Dimension;

/// Draws come in blocks of ten thousand: as many digits write any number of them whole.
const DRAWS_DIGITS: u32 = 9;

/// Composes the comparison for the test of that name.
pub fn monte_carlo(test: &str, simulated: &Simulated, printing: Printing) -> Vec<Block> {
    let row = |answer: &SimulatedAnswer| {
        let write = |estimate| written(answer.of, estimate, printing);
        vec![
            name(answer.of, printing),
            write(answer.first_order),
            write(answer.estimate()),
        ]
    };
    let count = |draws: usize| number::significant(printing, draws as f64, DRAWS_DIGITS);
    let draws = count(simulated.draws);
    let mut blocks = vec![
        Block::Title(say!(printing, "Monte Carlo, test {test}: what the uncertainty is when errors are drawn", test)),
        Block::Table(Table {
            headings: vec![
                say!(printing, "answer").to_owned(),
                say!(printing, "first order").to_owned(),
                say!(printing, "Monte Carlo ({draws} draws)", draws),
            ],
            rows: simulated.answers.iter().map(row).collect(),
            word_columns: 1,
            ..Table::default()
        }),
        Block::Note(
            say!(printing, "95 % intervals; by Monte Carlo about the mean of the draws. Each answer is drawn until two digits of its \
             uncertainty are settled.")
                .to_owned(),
        ),
    ];
    if simulated.unsettled > 0 {
        blocks.push(Block::Note(say!(printing, "For {unsettled} of the draws no exact fit of a law was found; these follow its first order.", unsettled = count(simulated.unsettled))));
    }
    blocks
}

fn name(of: Drawn, printing: Printing) -> String {
    let at = |word: &str, speed: f64| {
        say!(
            printing,
            "{word} at {speed} rpm",
            word,
            speed = number::rpm(printing, speed.round())
        )
    };
    match of {
        Drawn::FlowSlope => say!(printing, "flow per speed").to_owned(),
        Drawn::InterceptSpeed => say!(printing, "speed at which flow begins").to_owned(),
        Drawn::FixedDraw => say!(printing, "draw that does not depend on speed").to_owned(),
        Drawn::DynamicDraw => say!(printing, "draw that does, at top speed").to_owned(),
        Drawn::Exponent => say!(printing, "exponent of the draw that does").to_owned(),
        Drawn::CheapestSpeed => say!(printing, "cheapest speed").to_owned(),
        Drawn::Flow(speed) => at(say!(printing, "flow"), speed),
        Drawn::Power(speed) => at(say!(printing, "power"), speed),
        Drawn::Energy(speed) => at(say!(printing, "energy above standby"), speed),
    }
}

fn written(of: Drawn, estimate: Estimate, printing: Printing) -> String {
    match of {
        Drawn::FlowSlope => {
            let per_thousand = printing.estimate(estimate, Dimension::Flow).scaled(1000.0);
            let unit = say!(
                printing,
                "{unit} per 1000 rpm",
                unit = printing.name(Dimension::Flow)
            );
            with_unit(&number::with_interval(printing, per_thousand), &unit)
        }
        Drawn::InterceptSpeed | Drawn::CheapestSpeed => {
            printing.with_interval(estimate, Dimension::Speed)
        }
        Drawn::FixedDraw | Drawn::DynamicDraw | Drawn::Power(_) => {
            printing.with_interval(estimate, Dimension::Power)
        }
        Drawn::Exponent => number::with_interval(printing, estimate),
        Drawn::Flow(_) => printing.with_interval(estimate, Dimension::Flow),
        Drawn::Energy(_) => {
            let (factor, unit) = printing.energy_per_volume();
            let value = number::with_interval(printing, estimate.scaled(factor));
            format!("{} {unit}", with_unit(&value, "Wh"))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use fieldtest::Refit;
    use records::UnitSystem;

    #[test]
    fn draws_without_an_exact_fit_are_told_where_there_are_some() {
        let notes = |unsettled| {
            let simulated = Simulated {
                refit: Refit::Exact,
                draws: 20_000,
                unsettled,
                answers: Vec::new(),
            };
            let system = UnitSystem::Si;
            let blocks = monte_carlo("one", &simulated, Printing::english(system));
            let told =
                |block: &&Block| matches!(block, Block::Note(says) if says.contains("For 20 of"));
            blocks.iter().filter(told).count()
        };
        assert_eq!((notes(0), notes(20)), (0, 1));
    }
}
