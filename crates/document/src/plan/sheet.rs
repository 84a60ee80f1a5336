//! The plan as a sheet of paper: one HTML file with nothing beside it, light, with room to write, for Letter and for A4.

use super::Subject;
use super::tables::{band_text, heading};
use super::words;
use crate::cautions::CAUTIONS;
use crate::language::{later, said, say};
use crate::number;
use crate::units::Printing;
use fieldtest::{PlannedStep, Why};
use std::fmt::Write;

/// The style: black on white, type of 10 pt and more, boxes that a thick pencil fills. A width that both papers hold.
const STYLE: &str = include_str!("sheet.css");
/// What is ticked at the end, so that nothing stays as it was for the test.
const PUT_BACK: [&str; 7] = [
    later!("valves as noted before the test"),
    later!("pump program and priming speed"),
    later!("automation, timers, freeze guard out of service mode"),
    later!("heater and chlorine cell"),
    later!("chemical feeders"),
    later!("suction covers whole and tight, baskets in, lids tight"),
    later!("air relief shut, no leak, gauges read as before"),
];

/// Writes the sheet.
pub fn sheet(subject: &Subject<'_>) -> String {
    let title = escaped(&words::title(subject));
    let mut text = format!(
        "<!doctype html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{title}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n<main>\n<h1>{}</h1>\n",
        subject.printing.language.tag(),
        escaped(&subject.site.name)
    );
    push(&mut text, &head(subject));
    push(&mut text, &cautions(subject.printing));
    push(&mut text, &order(subject));
    push(&mut text, &climb(subject));
    push(&mut text, &steps(subject));
    push(&mut text, &last(subject));
    text.push_str("</main>\n</body>\n</html>\n");
    text
}

fn push(text: &mut String, more: &str) {
    text.push_str(more);
    text.push('\n');
}

fn head(subject: &Subject<'_>) -> String {
    let boxes = [
        say!(subject.printing, "Date"),
        say!(subject.printing, "Started"),
        say!(subject.printing, "By"),
        say!(subject.printing, "Water temperature"),
        say!(subject.printing, "Filter: clean / as found"),
        say!(subject.printing, "Valves as found"),
    ];
    let boxes = boxes
        .iter()
        .map(|name| format!("<div><span>{name}</span></div>"));
    let boxes: String = boxes.collect();
    let answers = words::answers(subject)
        .into_iter()
        .filter_map(|block| match block {
            crate::content::Block::Answer { word, text, .. } => Some(format!(
                "<dt>{}</dt><dd>{}</dd>",
                escaped(&word),
                escaped(&text)
            )),
            _ => None,
        });
    let answers: String = answers.collect();
    let notes = words::notes(subject)
        .into_iter()
        .map(|note| format!("<li>{}</li>", escaped(&note)));
    let notes: String = notes.collect();
    let notes = if notes.is_empty() {
        notes
    } else {
        let unknown = say!(subject.printing, "What this plan does not know");
        format!("<h2>{unknown}</h2><ul>{notes}</ul>")
    };
    let what = say!(
        subject.printing,
        "Plan of a step test, {plan} of {time}",
        plan = words::minutes(subject.plan.time_s(), subject.printing),
        time = words::minutes(subject.question.time_s, subject.printing)
    );
    format!(
        "<p class=\"sub\">{what}</p>\n<div class=\"boxes\">{boxes}</div>\n<dl>{answers}</dl>\n{notes}"
    )
}

fn cautions(printing: Printing) -> String {
    let items = CAUTIONS
        .into_iter()
        .map(|text| format!("<li>{}</li>", escaped(said(printing, text))));
    let items: String = items.collect();
    let heading = say!(printing, "Cautions");
    format!("<section class=\"cautions\"><h2>{heading}</h2><ul>{items}</ul></section>")
}

fn order(subject: &Subject<'_>) -> String {
    let items = words::order(subject).into_iter().map(|(stage, text)| {
        format!(
            "<li><i class=\"tick\"></i><b>{}</b>, {}</li>",
            escaped(&stage),
            escaped(&text)
        )
    });
    let items: String = items.collect();
    let heading = say!(subject.printing, "In this order");
    format!("<h2>{heading}</h2><ol class=\"order\">{items}</ol>")
}

fn climb(subject: &Subject<'_>) -> String {
    let unit = words::pressure_unit(subject);
    let pressure = |pa: Option<f64>| {
        pa.map_or_else(|| "–".to_owned(), |pa| words::pressure_number(subject, pa))
    };
    let rows = subject.plan.climb.iter().map(|step| {
        format!(
            "<tr><th>{}</th><td>{}</td><td>{}</td><td class=\"write\"></td></tr>",
            number::rpm(subject.printing, step.speed_rpm),
            pressure(step.vessel_upper_pa),
            pressure(step.stop_above_pa)
        )
    });
    let rows: String = rows.collect();
    let printing = subject.printing;
    let heads = [
        (say!(printing, "speed"), "rpm"),
        (say!(printing, "foreseen at most"), unit),
        (say!(printing, "go on up to"), unit),
        (say!(printing, "gauge reads"), unit),
    ];
    let heads = heads
        .into_iter()
        .map(|(word, unit)| format!("<th>{word}<br><small>{unit}</small></th>"));
    let (heads, heading) = (heads.collect::<String>(), say!(printing, "The climb"));
    format!(
        "<section class=\"whole\"><h2>{heading}</h2><table class=\"climb\"><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table><p class=\"note\">{}</p></section>",
        escaped(&words::climb_note(subject))
    )
}

fn steps(subject: &Subject<'_>) -> String {
    let columns = subject.plan.columns.len();
    let printing = subject.printing;
    let mut heads = format!("<th>{}<br><small>rpm</small></th>", say!(printing, "speed"));
    for column in 0..columns {
        let (name, unit) = heading(subject, column);
        let _ = write!(
            heads,
            "<th>{}<br><small>{}</small></th>",
            escaped(&name),
            escaped(unit)
        );
    }
    let _ = write!(heads, "<th>{}</th>", say!(printing, "time, note"));
    let empty = "<td class=\"write\"></td>".repeat(columns + 1);
    let off = say!(printing, "pump off");
    let mut rows = format!("<tr><th>0<br><small>{off}</small></th>{empty}</tr>");
    let mut shut = subject.question.closed.to_vec();
    for step in &subject.plan.steps {
        if step.closed != shut {
            shut.clone_from(&step.closed);
            let _ = write!(
                rows,
                "<tr class=\"lineup\"><td colspan=\"{}\"><i class=\"tick\"></i>{}</td></tr>",
                columns + 2,
                say!(
                    printing,
                    "Stop the pump. Shut: {lines}; all else as before. Start slow. A test file of its own.",
                    lines = escaped(&shut.join(", "))
                )
            );
        }
        rows.push_str(&row(subject, step));
    }
    let bands = words::bands(subject)
        .into_iter()
        .map(|text| format!("<p class=\"note\">{}</p>", escaped(&text)));
    let bands: String = bands.collect();
    let stop = words::stop(subject).map_or_else(String::new, |stop| {
        format!("<p class=\"stop\">{}</p>", escaped(&stop))
    });
    let heading = say!(printing, "The steps");
    format!(
        "<h2>{heading}</h2>{stop}<div class=\"scroll\"><table class=\"steps\"><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table></div>{bands}"
    )
}

/// A step: what is expected stands small at the top of each box.
fn row(subject: &Subject<'_>, step: &PlannedStep) -> String {
    let again = if step.why == Why::DriftCheck {
        format!("<br><small>{}</small>", say!(subject.printing, "again"))
    } else {
        String::new()
    };
    let mut text = format!(
        "<tr><th>{}{again}</th>",
        number::rpm(subject.printing, step.speed_rpm)
    );
    for column in 0..subject.plan.columns.len() {
        let _ = write!(
            text,
            "<td class=\"write\"><small>{}</small></td>",
            escaped(&band_text(subject, step, column))
        );
    }
    text.push_str("<td class=\"write\"></td></tr>");
    text
}

fn last(subject: &Subject<'_>) -> String {
    let meters = words::meters(subject)
        .into_iter()
        .map(|text| format!("<li>{}</li>", escaped(&text)));
    let meters: String = meters.collect();
    let ticks = PUT_BACK.iter().map(|text| {
        let text = said(subject.printing, text);
        format!("<li><i class=\"tick\"></i>{text}</li>")
    });
    let ticks: String = ticks.collect();
    let printing = subject.printing;
    let [back, read, notes, decide] = [
        say!(printing, "Put back, and tick"),
        say!(printing, "Meters"),
        say!(printing, "Notes"),
        say!(
            printing,
            "Local codes and licensed practice decide, not this sheet."
        ),
    ];
    format!(
        "<section class=\"whole\"><h2>{back}</h2><ul class=\"ticks\">{ticks}</ul></section>\n<section class=\"whole\"><h2>{read}</h2><ul>{meters}</ul></section>\n<section class=\"whole\"><h2>{notes}</h2><div class=\"notes\"></div></section>\n<p class=\"note\">{decide}</p>"
    )
}

/// Writes a text so that a browser shows it as it is.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            letter => out.push(letter),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_cannot_become_markup() {
        assert_eq!(escaped("<b> & \"x\""), "&lt;b&gt; &amp; &quot;x&quot;");
    }
}
