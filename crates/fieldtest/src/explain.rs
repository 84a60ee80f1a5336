//! What a refuted reading looks like: a slip of unit or decimal point, an entry typed twice, digits swapped, or simply wrong.

use crate::cells::value;
use crate::finding::{Finding, Matter, Place, Reading, Severity, Slip};
use crate::laws::{FittedLaw, LnPrediction};
use crate::trust::Refuted;
use metrology::Estimate;
use numerics::elementary::{exp, ln, pow};
use records::unit::Unit;
use records::{Cell as Typed, Readings};

/// A slip explains a reading when what it leaves is within this many standard uncertainties of what was expected.
const EXPLAINED_Z: f64 = 3.0;
/// An entry counts as repeated only where the law moves by more than this many standard uncertainties, and resolutions, between the two rows.
const REPEATED_MARGIN: f64 = 3.0;

/// The column that a refuted reading stands in.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Context<'a> {
    /// The test's name.
    pub test: &'a str,
    /// The readings.
    pub readings: &'a Readings,
    /// Index of the column.
    pub column: usize,
    /// The smallest difference that the column shows, SI.
    pub resolution_si: f64,
    /// The law of the readings that belong together.
    pub law: &'a FittedLaw,
}

/// Turns a refuted cell into a finding.
pub(crate) fn explain(context: Context<'_>, refuted: &Refuted<'_>) -> Option<Finding> {
    let row = *refuted.cell.rows.first()?;
    let read = reading(context.readings, row, context.column)?;
    let expected = Estimate::log_normal(refuted.expected.ln_value, refuted.expected.u_ln)?;
    let matter = mistyped(&read, refuted.expected, expected)
        .or_else(|| repeated(context, refuted, &read, expected))
        .unwrap_or(Matter::OffCurve {
            accept_si: None,
            read,
            expected,
        });
    Some(Finding {
        severity: Severity::Error,
        place: place(context, refuted),
        matter,
    })
}

fn place(context: Context<'_>, refuted: &Refuted<'_>) -> Place {
    let mut rows = refuted.cell.rows.clone();
    rows.sort_unstable();
    Place {
        test: Some(context.test.to_owned()),
        steps_rpm: vec![refuted.cell.speed_rpm],
        rows: rows
            .iter()
            .map(|row| context.readings.rows[*row].line)
            .collect(),
        column: Some(context.readings.columns[context.column].name()),
    }
}

/// Returns a reading as it was typed.
pub(crate) fn reading(readings: &Readings, row: usize, column: usize) -> Option<Reading> {
    let (Typed::Value { text, si } | Typed::Below { text, si }) =
        readings.rows.get(row)?.cells.get(column)?
    else {
        return None;
    };
    let heading = readings.columns.get(column)?;
    // A step typed inline carries its unit in the cell.
    let (number, own) = split_unit(text);
    let unit = heading
        .unit
        .or_else(|| Unit::find(heading.measured.dimension(), own));
    Some(Reading {
        measured: heading.measured,
        unit,
        text: if unit.is_some() {
            number.to_owned()
        } else {
            text.clone()
        },
        si: *si,
    })
}

/// Splits a typed cell where its unit begins.
fn split_unit(text: &str) -> (&str, &str) {
    let begins = |c: char| c.is_alphabetic() || c == '°' || c == '%';
    let (number, unit) = text.split_at(text.find(begins).unwrap_or(text.len()));
    (number.trim(), unit.trim())
}

/// Looks for what brings the reading to what was expected: another unit, a power of ten, digits swapped or typed twice.
/// Of several, the one that comes closest counts.
fn mistyped(read: &Reading, prediction: LnPrediction, expected: Estimate) -> Option<Matter> {
    let distance = |si: f64| (ln(si) - prediction.ln_value).abs();
    let near = |si: f64| distance(si) <= EXPLAINED_Z * prediction.u_ln;
    let slip = candidates(read)
        .filter(|(_, factor)| near(read.si / factor))
        .min_by(|a, b| distance(read.si / a.1).total_cmp(&distance(read.si / b.1)));
    let digits = other_digits(read)
        .into_iter()
        .filter(|si| near(*si))
        .min_by(|a, b| distance(*a).total_cmp(&distance(*b)));
    match (slip, digits) {
        (Some((_, factor)), Some(si)) if distance(si) < distance(read.si / factor) => {
            Some(off_curve(read, expected, si))
        }
        (Some((slip, factor)), _) => Some(Matter::UnitSlip {
            read: read.clone(),
            expected,
            factor,
            slip,
            accept_si: read.si / factor,
        }),
        (None, Some(si)) => Some(off_curve(read, expected, si)),
        (None, None) => None,
    }
}

fn off_curve(read: &Reading, expected: Estimate, accept_si: f64) -> Matter {
    Matter::OffCurve {
        read: read.clone(),
        expected,
        accept_si: Some(accept_si),
    }
}

/// Lists the slips that a reading can hold, each with read over true.
pub(crate) fn candidates(read: &Reading) -> impl Iterator<Item = (Slip, f64)> {
    let decimals = [-3_i8, -2, -1, 1, 2, 3]
        .into_iter()
        .map(|places| (Slip::DecimalPlaces(places), pow(10.0, f64::from(places))));
    let own = read.unit;
    let others = own
        .into_iter()
        .flat_map(|own| Unit::all().map(move |other| (own, other)))
        .filter(|(own, other)| {
            own.dimension == other.dimension && own.factor.to_bits() != other.factor.to_bits()
        })
        .map(|(own, other)| (Slip::Unit(other), own.factor / other.factor));
    // A unit comes first: where it is a whole power of ten, it is the likelier story.
    others.chain(decimals)
}

/// Looks for the same entry in the row before or after, where the law says that it should differ.
fn repeated(
    context: Context<'_>,
    refuted: &Refuted<'_>,
    read: &Reading,
    expected: Estimate,
) -> Option<Matter> {
    let row = *refuted.cell.rows.first()?;
    let rows = &context.readings.rows;
    let beside = [row.checked_sub(1), row.checked_add(1)];
    let same = beside.into_iter().flatten().find(|other| {
        let equal = value(context.readings, *other, context.column)
            .is_some_and(|si| si.to_bits() == read.si.to_bits());
        equal && rows[*other].speed_rpm > 0.0 && {
            let there = context.law.predict_ln(rows[*other].speed_rpm).ln_value;
            let moved = (refuted.expected.ln_value - there).abs();
            let moved_si = (expected.value - exp(there)).abs();
            moved > REPEATED_MARGIN * refuted.expected.u_ln
                && moved_si > REPEATED_MARGIN * context.resolution_si
        }
    })?;
    Some(Matter::RepeatedEntry {
        read: read.clone(),
        expected,
        same_as_row: rows[same].line,
    })
}

/// Lists the values, SI, that are typed as the reading when two neighbouring digits are swapped, or one is typed twice.
fn other_digits(read: &Reading) -> Vec<f64> {
    let Some(unit) = read.unit else {
        return Vec::new();
    };
    let digits: Vec<char> = read.text.trim().replace(',', ".").chars().collect();
    let mut texts: Vec<Vec<char>> = Vec::new();
    for i in 1..digits.len() {
        if digits[i - 1] == digits[i] {
            let mut once = digits.clone();
            once.remove(i);
            texts.push(once);
        } else if digits[i - 1].is_ascii_digit() && digits[i].is_ascii_digit() {
            // A digit that changes place with the point is a slip of the decimal.
            let mut swapped = digits.clone();
            swapped.swap(i - 1, i);
            texts.push(swapped);
        }
    }
    let value = |text: Vec<char>| text.into_iter().collect::<String>().parse::<f64>().ok();
    let values = texts
        .into_iter()
        .filter_map(value)
        .filter(|value| *value > 0.0);
    values.map(|value| unit.to_si(value)).collect()
}
