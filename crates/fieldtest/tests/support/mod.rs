//! Pads and tests as text, for the tests of the analysis.

#![allow(dead_code, reason = "each test binary uses its share")]
#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a helper of tests fails by panicking"
)]

use fieldtest::{Analysis, Finding, Matter, analyze};
use numerics::elementary::pow;
use records::{Source, read_site, read_test};

/// A pad with undeclared meters: 2 in suction, one 1.5 in return.
pub(crate) const PAD: &str = r#"
format = 1
name = "common pad"
[pump]
speed = { min = "450 rpm", max = "3450 rpm" }
supply = "230 V"
[[line]]
name = "suction"
from = "pool"
to = "pump inlet"
parts = [ { pipe = "2 in", spec = "PVC Sch 40", length = "40 ft" } ]
[[line]]
name = "return"
from = "pump outlet"
to = "pool"
parts = [ { pipe = "1.5 in", spec = "PVC Sch 40", length = "60 ft" } ]
"#;

/// Names a text.
pub(crate) fn source(name: &str, text: &str) -> Source {
    Source {
        name: name.to_owned(),
        text: text.to_owned(),
    }
}

/// Analyses one test of a pad.
pub(crate) fn analysis(site: &str, readings: &str) -> Analysis {
    analysis_with(site, "", readings)
}

/// Analyses one test of a pad, with more lines in its test file.
pub(crate) fn analysis_with(site: &str, more: &str, readings: &str) -> Analysis {
    let site = read_site(&source("site.toml", site)).unwrap();
    let head = format!("format = 1\nreadings = \"steps.csv\"\n{more}");
    let readings = source("steps.csv", readings);
    let test = read_test(&source("test.toml", &head), Some(&readings)).unwrap();
    analyze(&site, &[test])
}

/// Lists the highest velocities that are said to be too high in a line, with their limit, m/s.
pub(crate) fn too_fast(analysis: &Analysis, line: &str) -> Vec<(f64, f64)> {
    let beyond = analysis.findings.iter();
    beyond
        .filter_map(|finding| match &finding.matter {
            Matter::FlowBeyond { limit, flow_m3s } if limit.applies_to == line => Some((
                limit.velocity_at_m_s(*flow_m3s)?,
                limit.velocity_at_m_s(limit.flow_m3s?)?,
            )),
            _ => None,
        })
        .collect()
}

/// Lists the codes of all findings.
pub(crate) fn codes(analysis: &Analysis) -> Vec<&'static str> {
    let findings = analysis.findings.iter();
    findings.map(|finding| finding.matter.code()).collect()
}

/// Lists the codes of the findings that doubt a reading.
pub(crate) fn doubts(analysis: &Analysis) -> Vec<&'static str> {
    let doubting = analysis
        .findings
        .iter()
        .filter(|f| f.matter.doubts_a_reading());
    doubting.map(|finding| finding.matter.code()).collect()
}

/// Finds the only finding of a code.
pub(crate) fn only<'a>(analysis: &'a Analysis, code: &str) -> &'a Finding {
    let mut found = analysis.findings.iter().filter(|f| f.matter.code() == code);
    let first = found
        .next()
        .unwrap_or_else(|| panic!("no {code}: {:#?}", analysis.findings));
    assert!(found.next().is_none(), "more than one {code}");
    first
}

/// A smooth pad of eleven steps: flow, power and current as the laws have them, rounded as meters show them.
pub(crate) fn smooth() -> Vec<[String; 4]> {
    let speeds = [
        600, 850, 1100, 1400, 1700, 2000, 2300, 2600, 2900, 3200, 3450,
    ];
    speeds.iter().map(|speed| row(f64::from(*speed))).collect()
}

fn row(speed_rpm: f64) -> [String; 4] {
    let ratio = speed_rpm / 3450.0;
    let flow = 0.0275 * (speed_rpm * speed_rpm - 300.0 * 300.0).sqrt();
    let power = 58.0 + 2100.0 * pow(ratio, 2.8);
    let current = 0.72 + 9.6 * pow(ratio, 3.0);
    [
        format!("{speed_rpm:.0}"),
        format!("{flow:.1}"),
        format!("{power:.0}"),
        format!("{current:.2}"),
    ]
}

/// Writes rows as a file of readings.
pub(crate) fn csv(rows: &[[String; 4]]) -> String {
    let mut text = String::from("speed [rpm],flow [gpm],power [W],current [A]\n");
    for row in rows {
        text.push_str(&row.join(","));
        text.push('\n');
    }
    text
}
