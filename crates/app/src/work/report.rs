//! The report that is handed over, as `report -o report.html` writes it.

use super::{Answer, Refused};
use crate::library::stem;
use document::html;
use document::report::Order;
use document::units::Printing;
use records::Language;
use serde::{Deserialize, Serialize};

/// A report, ready to be handed over.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct HandedOver {
    /// What it is called.
    pub title: String,
    /// The name of its file, without the ending.
    pub name: String,
    /// The whole page.
    pub html: String,
}

/// Makes the report; what is refused is said in the language of the page, not of the report.
pub(super) fn handed_over(order: &Order, language: Language) -> Answer {
    let ordered = match order.read() {
        Ok(ordered) => ordered,
        Err(problems) => {
            return Answer::Refused(Refused::by_problems(&problems, language));
        }
    };
    let worked = match operation::worked(&ordered.gathered()) {
        Ok(worked) => worked,
        Err(no_year) => {
            let printing = Printing {
                language,
                ..ordered.printing()
            };
            let refusal = document::alternatives::no_year(&no_year, printing);
            return Answer::Refused(refusal.into());
        }
    };
    let report = ordered.report(&worked);
    let site = stem(&ordered.gathered().site.name.to_lowercase());
    let site = if site.is_empty() { "report" } else { &site };
    Answer::HandedOver(Box::new(HandedOver {
        name: format!("{site}-{}", order.date),
        html: html::page(&report, ordered.paper),
        title: report.title,
    }))
}
