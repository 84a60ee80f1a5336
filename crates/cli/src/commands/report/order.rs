//! What the page that is served may ask the command for: a report as PDF, by the same way as `report -o report.pdf`.

#[cfg(feature = "pdf")]
use document::report::Order;
#[cfg(feature = "pdf")]
use records::{Language, Problem};
use server::report::Setter;

/// What sets reports; none where this build makes no PDF.
pub(in crate::commands) fn setter() -> Option<Setter> {
    #[cfg(feature = "pdf")]
    let setter: Option<Setter> = Some(std::sync::Arc::new(set));
    #[cfg(not(feature = "pdf"))]
    let setter: Option<Setter> = None;
    setter
}

/// Sets the report of an order, or says why there is none.
#[cfg(feature = "pdf")]
fn set(order: &[u8]) -> Result<Vec<u8>, String> {
    let order: Order = serde_json::from_slice(order)
        .map_err(|error| format!("what came is no order of a report: {error}"))?;
    // In the language of the report, as far as that can be known before it is read.
    let language = Language::nearest(order.language.as_deref().unwrap_or_default());
    let told = |problems: Vec<Problem>| document::problems::text(&problems, language);
    let ordered = order.read().map_err(told)?;
    let worked = operation::worked(&ordered.gathered()).map_err(|no_year| {
        let refusal = document::alternatives::no_year(&no_year, ordered.printing());
        match refusal.hint {
            Some(hint) => format!("{}; {hint}", refusal.message),
            None => refusal.message,
        }
    })?;
    let report = ordered.report(&worked);
    pdf::pdf(&report, ordered.paper).map_err(|error| error.to_string())
}
