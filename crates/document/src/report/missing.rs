//! What was not stated or not read, and what it would tell.

use super::{Subject, heading, items};
use crate::content::Block;
use crate::language::say;
use crate::schedule::refusal;
use crate::units::Printing;
use records::{Measured, Site};

/// Composes what is missing; nothing where nothing is.
pub(super) fn missing(subject: &Subject<'_>) -> Vec<Block> {
    let mut texts = of_site(subject.site, subject.printing);
    texts.extend(of_readings(subject));
    if let Err(no_plan) = subject.plan {
        texts.push(say!(
            subject.printing,
            "There is no program for the day: {message}.",
            message = refusal(no_plan, subject.printing).message
        ));
    }
    if texts.is_empty() {
        return Vec::new();
    }
    std::iter::once(heading(say!(
        subject.printing,
        "What is not known, and what it would tell"
    )))
    .chain(items(texts))
    .collect()
}

fn of_site(site: &Site, printing: Printing) -> Vec<String> {
    let operation = &site.operation;
    let pump = &site.pump;
    let told = [
        (
            site.lines.is_empty(),
            say!(
                printing,
                "The plumbing is not stated: it would tell how fast the water runs in each line, which limits bind, and where the head is lost."
            ),
        ),
        (
            site.meters.is_empty(),
            say!(
                printing,
                "No meter is described: their accuracy would tell how far each number can be trusted; usual ones are taken."
            ),
        ),
        (
            operation.tariff.is_empty(),
            say!(
                printing,
                "The price of energy is not stated: it would tell what a month and a year cost."
            ),
        ),
        (
            operation.as_found.is_empty(),
            say!(
                printing,
                "The program that was found is not stated: it would tell what the new one saves."
            ),
        ),
        (
            site.water.volume.is_none(),
            say!(
                printing,
                "The volume of the pool is not stated: it would tell how long a turnover takes."
            ),
        ),
        (
            pump.curve.is_empty(),
            say!(
                printing,
                "The pump maker's curve is not stated: it would tell whether the pump is worn, and whether its suction is enough."
            ),
        ),
        (
            site.place.elevation.is_none(),
            say!(
                printing,
                "The height above sea level is not stated: it would tell how much suction the air of the place allows."
            ),
        ),
    ];
    let missing = told.into_iter().filter(|(is_missing, _)| *is_missing);
    missing.map(|(_, text)| text.to_owned()).collect()
}

fn of_readings(subject: &Subject<'_>) -> Vec<String> {
    let reads = |measured: &[Measured]| {
        subject.tests.last().is_some_and(|test| {
            let mut columns = test.readings.columns.iter();
            columns.any(|column| measured.contains(&column.measured))
        })
    };
    let told = [
        (
            &[Measured::FilterPressure][..],
            say!(
                subject.printing,
                "The filter gauge was not read: it would tell when the filter is loaded."
            ),
        ),
        (
            &[Measured::InletVacuum, Measured::InletPressure],
            say!(
                subject.printing,
                "No gauge at the pump's inlet was read: it would tell the head of the pump, and whether its suction is blocked."
            ),
        ),
        (
            &[Measured::Power],
            say!(
                subject.printing,
                "The electrical power was not read: it would tell what water costs to move."
            ),
        ),
        (
            &[Measured::Flow],
            say!(
                subject.printing,
                "The flow was not read: it would tell how much water moves."
            ),
        ),
    ];
    let missing = told.into_iter().filter(|(measured, _)| !reads(measured));
    missing.map(|(_, text)| text.to_owned()).collect()
}
