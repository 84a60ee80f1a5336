//! The drawing of a pad at a chosen speed and line-up, with what is said of it: solved again for every change.

use charts::{Size, Standing, Theme};
use document::content::Block;
use document::say;
use document::units::Printing;
use document::{circuit, solved};
use fieldtest::{PadQuestion, solve_pad};
use records::Site;

/// What is asked of a pad.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// The speed of the pump, rpm.
    pub speed_rpm: f64,
    /// The lines that are shut, by their names.
    pub closed: Vec<String>,
    /// In which size it is drawn.
    pub size: Size,
}

/// A pad as it is shown.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shown {
    /// The drawing, whose lines are buttons.
    pub svg: String,
    /// What flows and what is passed, in one sentence.
    pub title: String,
    /// Each line, in the order of the site.
    pub lines: Vec<ShownLine>,
    /// Words with the sentence that answers to each: flow, suction, limit.
    pub answers: Vec<(String, String)>,
    /// Why it is not solved, and what to do.
    pub problem: Option<(String, Option<String>)>,
}

/// A line as it is shown.
#[derive(Clone, Debug, PartialEq)]
pub struct ShownLine {
    /// Its name.
    pub name: String,
    /// What flows in it, in few words; may be empty.
    pub values: String,
    /// Whether it is shut.
    pub is_shut: bool,
    /// Whether a limit of it is passed.
    pub is_passed: bool,
    /// Its parts in words, in their order.
    pub parts: Vec<String>,
}

/// Solves and draws a pad; `None` where the site states no line.
pub fn shown(site: &Site, asked: &Asked, printing: Printing) -> Option<Shown> {
    let question = PadQuestion {
        speed_rpm: asked.speed_rpm,
        closed: &asked.closed,
        temperature_k: None,
    };
    let pad = solve_pad(site, &question);
    let drawing = circuit::circuit(site, pad.as_ref(), printing)?;
    let lines = drawing.lines.iter().zip(&site.lines).map(|(line, stated)| {
        // Of a pad that is not solved the drawing does not know what is shut.
        let is_shut = asked.closed.contains(&line.name);
        ShownLine {
            name: line.name.clone(),
            values: line.values.clone(),
            is_shut,
            is_passed: line.standing == Standing::Passed,
            parts: stated
                .parts
                .iter()
                .map(|part| circuit::part_words(part, printing))
                .collect(),
        }
    });
    let blocks = pad.as_ref().map(|pad| solved::content(site, pad, printing));
    let answers = blocks.unwrap_or_default().into_iter();
    let answers = answers.filter_map(|block| match block {
        Block::Answer { word, text, .. } => Some((word, text)),
        _ => None,
    });
    Some(Shown {
        title: drawing.title.clone(),
        lines: lines.collect(),
        answers: answers.collect(),
        problem: pad.as_ref().err().map(|why| solved::problem(why, printing)),
        // An unsolved one is drawn too, to be opened again.
        svg: marked_shut(drawing, &asked.closed, printing)
            .svg_to_press(Theme::Light, asked.size)
            .unwrap_or_default(),
    })
}

/// The drawing with every line shut that was asked to be, solved or not.
fn marked_shut(
    mut drawing: charts::Circuit,
    closed: &[String],
    printing: Printing,
) -> charts::Circuit {
    for line in &mut drawing.lines {
        if closed.contains(&line.name) && line.standing != Standing::Shut {
            line.standing = Standing::Shut;
            line.way = charts::Way::Still;
            say!(printing, "shut").clone_into(&mut line.values);
            line.told.push_str(", ");
            line.told.push_str(&line.values);
        }
    }
    drawing
}
