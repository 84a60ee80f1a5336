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
    let matter = slip(&read, refuted.expected, expected)
        .or_else(|| repeated(context, refuted, &read, expected))
        .unwrap_or_else(|| Matter::OffCurve {
            accept_si: swapped_digits(&read, refuted.expected),
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
    let rows = &refuted.cell.rows;
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
    Some(Reading {
        measured: heading.measured,
        unit: heading.unit,
        text: text.clone(),
        si: *si,
    })
}

/// Looks for a power of ten or another unit that brings the reading to what was expected.
fn slip(read: &Reading, prediction: LnPrediction, expected: Estimate) -> Option<Matter> {
    let distance = ln(read.si) - prediction.ln_value;
    let left = |factor: f64| (distance - ln(factor)).abs();
    let (slip, factor) = candidates(read)
        .filter(|(_, factor)| left(*factor) <= EXPLAINED_Z * prediction.u_ln)
        .min_by(|a, b| left(a.1).total_cmp(&left(b.1)))?;
    Some(Matter::UnitSlip {
        read: read.clone(),
        expected,
        factor,
        slip,
        accept_si: read.si / factor,
    })
}

/// Lists the slips that a reading can hold, each with read over true.
fn candidates(read: &Reading) -> impl Iterator<Item = (Slip, f64)> {
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

/// Swaps two neighbouring digits, wherever that brings the reading to what was expected.
fn swapped_digits(read: &Reading, prediction: LnPrediction) -> Option<f64> {
    let unit = read.unit?;
    let digits: Vec<char> = read.text.trim().replace(',', ".").chars().collect();
    let candidates = (1..digits.len()).filter_map(|i| {
        let mut swapped = digits.clone();
        swapped.swap(i - 1, i);
        let text: String = swapped.into_iter().collect();
        let si = unit.to_si(text.parse::<f64>().ok()?);
        let left = (ln(si) - prediction.ln_value).abs();
        (digits[i - 1] != digits[i] && left <= EXPLAINED_Z * prediction.u_ln).then_some((si, left))
    });
    candidates
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(si, _)| si)
}
