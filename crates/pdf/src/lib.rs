//! The report that is handed over, typeset as a PDF.
//!
//! The content is that of [`document::report`]; here it is only set. It goes to the typesetter as data, never as markup, so
//! that no name of a site can be more than text. Nothing is fetched, no font of the machine is used, and the same report
//! gives the same bytes.

mod content;
mod world;

use document::report::{Paper, Report};
use typst::diag::SourceDiagnostic;
use typst::foundations::Smart;
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};
use world::ReportWorld;

/// Why there is no PDF.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PdfError {
    /// The logo is no picture that can be set.
    #[error("the logo cannot be set: {0}")]
    Logo(String),
    /// The report cannot be set; what the typesetter says.
    #[error("the report cannot be set: {0}")]
    Unset(String),
}

/// Sets a report on a paper.
///
/// # Returns
/// A tagged PDF with its fonts in it. It conforms to PDF/UA-1 (ISO 14289-1) where the face has every sign of the report:
/// those of the languages of western and central Europe.
pub fn pdf(report: &Report, paper: Paper) -> Result<Vec<u8>, PdfError> {
    let world = ReportWorld::new(content::files(report, paper))
        .map_err(|error| PdfError::Unset(format!("{error:?}")))?;
    let document = typst::compile::<PagedDocument>(&world)
        .output
        .map_err(|errors| unset(&errors))?;
    let bytes = exported(report, &document, &[PdfStandard::Ua_1])
        // A name in signs that the face lacks conforms to no standard of accessibility; its text is kept all the same.
        .or_else(|_| exported(report, &document, &[]));
    // What the typesetter remembers of a document serves the next, which shares its cautions and words with it; and then it goes.
    typst::comemo::evict(1);
    bytes
}

fn exported(
    report: &Report,
    document: &PagedDocument,
    standards: &[PdfStandard],
) -> Result<Vec<u8>, PdfError> {
    let standards = PdfStandards::new(standards)
        .map_err(|error| PdfError::Unset(error.message().to_string()))?;
    let options = PdfOptions {
        ident: Smart::Custom(format!("{} {}", report.title, report.dated)),
        creator: Smart::Custom(Some("headwright".to_owned())),
        standards,
        ..PdfOptions::default()
    };
    typst_pdf::pdf(document, &options).map_err(|errors| unset(&errors))
}

/// Takes the first complaint of the typesetter, which is one of the logo where a picture of a person is wrong.
fn unset(errors: &[SourceDiagnostic]) -> PdfError {
    let said = errors.iter().map(|error| error.message.to_string());
    let said = said.collect::<Vec<_>>().join("; ");
    // Figures are our own; the one picture that can fail is the person's.
    if said.contains("failed to decode") {
        PdfError::Logo(said)
    } else {
        PdfError::Unset(said)
    }
}
