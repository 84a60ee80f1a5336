//! A report as one HTML file: for a phone and a desk, light and dark, and to be printed.
//!
//! Nothing is fetched and nothing is sent: the policy in its head allows no more than the one style sheet and the one script
//! that stand in the file, by their digests. Without the script everything is there; with it, a figure tells the number
//! that is pointed at.

mod blocks;
mod escape;
mod policy;
mod table;

use crate::language::say;
use crate::report::{Paper, Report, letterhead_lines};
use blocks::Body;
use escape::escaped;
use records::{Logo, base64};

const STYLE: &str = include_str!("html/style.css");
const SCRIPT: &str = include_str!("html/script.js");

/// Writes a report as a page to be printed on a paper.
pub fn page(report: &Report, paper: Paper) -> String {
    let style = style(paper);
    let policy = policy::policy(&style, SCRIPT);
    let title = escaped(&report.title);
    let mut body = Body::new(report.printing);
    body.write(&report.blocks);
    let parts = [
        &format!(
            "<!DOCTYPE html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n",
            report.printing.language.tag()
        ),
        &format!("<meta http-equiv=\"Content-Security-Policy\" content=\"{policy}\">\n"),
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n",
        "<meta name=\"color-scheme\" content=\"light dark\">\n",
        &format!("<title>{title}</title>\n<style>{style}</style>\n</head>\n<body>\n"),
        &head(report),
        "<main>\n",
        &body.into_text(),
        &format!("</main>\n<script>{SCRIPT}</script>\n</body>\n</html>\n"),
    ];
    parts.concat()
}

/// Returns the digest by which a policy lets the style of a report on a paper be: a page that shows a report within itself
/// needs it, for what is shown so is bound by that page's policy too.
pub fn style_digest(paper: Paper) -> String {
    policy::digest(&style(paper))
}

/// The sheet: that of the page, of the figures, and of the paper.
fn style(paper: Paper) -> String {
    let size = paper.name();
    format!(
        "\n{}{STYLE}@page {{ size: {size} portrait; margin: 12mm 14mm; }}\n",
        charts::stylesheet()
    )
}

/// Writes whose report it is, what it is called and when it was written.
fn head(report: &Report) -> String {
    let letterhead = &report.letterhead;
    let name = letterhead
        .profile
        .business
        .as_deref()
        .unwrap_or(say!(report.printing, "Logo"));
    let logo = letterhead.logo.as_ref().map(|logo| picture(logo, name));
    let lines = letterhead_lines(&letterhead.profile, report.printing);
    let lines: Vec<String> = lines.iter().map(|line| escaped(line)).collect();
    let business = if lines.is_empty() && logo.is_none() {
        String::new()
    } else {
        let logo = logo.unwrap_or_default();
        format!(
            "<div class=\"business\">{logo}<p>{}</p></div>\n",
            lines.join("<br>")
        )
    };
    format!(
        "<header>\n<div><h1>{}</h1>\n<p class=\"dated\">{}</p></div>\n{business}</header>\n",
        escaped(&report.title),
        escaped(&report.dated),
    )
}

/// Writes a logo as a picture, in which no script runs and from which nothing is fetched.
fn picture(logo: &Logo, name: &str) -> String {
    let kind = logo.kind.media_type();
    format!(
        "<img alt=\"{}\" src=\"data:{kind};base64,{}\">",
        escaped(name),
        base64::written(&logo.bytes)
    )
}
