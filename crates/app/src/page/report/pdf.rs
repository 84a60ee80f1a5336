//! A report as PDF, set by the command where it serves this page. No typesetter is part of the page.

use super::super::browser;
use super::super::words::report as words;
use super::super::words::result::sentence;
use document::report::Order;

/// What a PDF is to a browser.
pub(super) const KIND: &str = "application/pdf";
/// Where it is asked for.
const PATH: &str = "./api/report";
/// The command is reached by this name alone, so that no other host is asked for what it does not have.
const HOST: &str = "127.0.0.1";
/// The most bytes that are taken there.
const MOST_BYTES: usize = 2_000_000;
const FINE: u16 = 200;

/// Whether whoever serves this page makes PDF.
pub(super) async fn is_made_here() -> bool {
    if browser::host() != HOST {
        return false;
    }
    let said = browser::ask(PATH, None).await;
    said.is_some_and(|(status, said)| {
        let said: Option<serde_json::Value> = serde_json::from_slice(&said).ok();
        status == FINE && said.is_some_and(|said| said["pdf"] == true)
    })
}

/// Has the report of an order set, or says why it is not.
pub(super) async fn made(order: &Order) -> Result<Vec<u8>, String> {
    let json = serde_json::to_string(order).unwrap_or_default();
    if json.len() > MOST_BYTES {
        return Err(words::PDF_TOO_LARGE.into());
    }
    match browser::ask(PATH, Some(&json)).await {
        None => Err(words::PDF_NO_ANSWER.into()),
        Some((FINE, pdf)) => Ok(pdf),
        Some((_, why)) => Err(sentence(&String::from_utf8_lossy(&why))),
    }
}
