//! Tests of which nothing was read yet: for asking what a meter is worth, or what a line-up would do.

use records::{Column, Condition, Measured, Readings, Test, TestHead};

/// Makes a test with these columns and no row.
pub(crate) fn blank_test(name: &str, closed: &[String], columns: Vec<Column>) -> Test {
    Test {
        name: name.to_owned(),
        head: TestHead {
            format: 1,
            date: None,
            water_temperature: None,
            closed: closed.to_vec(),
            throttled: Vec::new(),
            also_running: Vec::new(),
            power_includes: Vec::new(),
            readings: None,
            condition: Condition::default(),
            rulings: Vec::new(),
        },
        readings: Readings {
            columns,
            rows: Vec::new(),
        },
    }
}

/// Makes a column without a unit of its own.
pub(crate) fn column(measured: Measured, meter: Option<String>) -> Column {
    let heading = match &meter {
        Some(meter) => format!("{} {meter}", measured.word()),
        None => measured.word().to_owned(),
    };
    Column {
        heading,
        measured,
        meter,
        unit: None,
    }
}
