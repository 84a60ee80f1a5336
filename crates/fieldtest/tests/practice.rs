//! The analysis against what the trade knows of a common pad.
//!
//! Common practice, no source: a 1.5 hp variable-speed pump on a 2 in suction and one 1.5 in return.

use fieldtest::{Analysis, Matter, analyze};
use records::{Source, read_site, read_test};

/// The pad; meters as undeclared as they come.
const SITE: &str = r#"
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

const TEST: &str = "format = 1\nreadings = \"steps.csv\"\n";

/// Common practice, no source.
const READINGS: &str = "\
speed [rpm],flow [gpm],power [W],current [A]
500,12.25,63,0.8
1000,24.5,132,
2000,50.5,498,2.36
2500,64,902,4.1
3450,89.2,2195,10
";

fn source(name: &str, text: &str) -> Source {
    Source {
        name: name.to_owned(),
        text: text.to_owned(),
    }
}

fn analysis(site: &str, readings: &str) -> Analysis {
    let site = read_site(&source("site.toml", site)).unwrap();
    let readings = source("steps.csv", readings);
    let test = read_test(&source("test.toml", TEST), Some(&readings)).unwrap();
    analyze(&site, &[test])
}

#[test]
fn show() {
    for acc in ["0.02", "0.05"] {
        let _ = acc;
    }
    let a = analysis(SITE, READINGS);
    let t = &a.tests[0];
    for f in &a.findings {
        println!("{:?}", f);
    }
    for s in &t.steps {
        println!("{s:?}");
    }
    println!(
        "{:?} {:?}",
        t.laws
            .flow
            .as_ref()
            .map(|l| (l.slope_m3s_per_rpm, l.intercept_speed_rpm)),
        t.laws
            .power
            .as_ref()
            .map(|l| (l.fixed_w, l.dynamic_w, l.exponent))
    );
    println!("{:?}", t.least_energy);
    for l in &a.limits {
        println!("{l:?}");
    }
}
