//! The step tests of an invented pad: readings on its laws, scattered, and here and there mistyped.

use parity::TestTexts;

use crate::stream::Stream;

use super::{Pad, TypedUnit};

/// A column of readings.
struct Column {
    /// The word of the heading, such as `flow A`.
    word: &'static str,
    unit: TypedUnit,
    decimals: usize,
    /// The true value at a speed, in the unit that pads are thought in.
    law: fn(&Pad, f64) -> f64,
}

/// What a person mistypes.
#[derive(Clone, Copy)]
enum Fault {
    /// The decimal point one place to the right.
    PointSlipped,
    /// The value of the row before, as a stuck display shows it.
    Stuck,
    /// Litres per minute for gallons per minute, or the reverse.
    OtherUnit,
    /// Below what the meter shows.
    Below,
    /// Not read.
    Missing,
    /// A word where a number is expected, which no reader can take.
    Unreadable,
}

/// Of sixteen tests six are typed as read, and one cannot be read.
const FAULTS: [Option<Fault>; 16] = [
    None,
    None,
    None,
    None,
    None,
    None,
    Some(Fault::PointSlipped),
    Some(Fault::PointSlipped),
    Some(Fault::Stuck),
    Some(Fault::Stuck),
    Some(Fault::OtherUnit),
    Some(Fault::OtherUnit),
    Some(Fault::Below),
    Some(Fault::Missing),
    Some(Fault::Missing),
    Some(Fault::Unreadable),
];

/// Writes a test: its file, and its readings as a table or inline.
pub(super) fn test(pad: &Pad, index: u32, stream: &mut Stream) -> TestTexts {
    let columns = columns(pad, stream);
    let speeds = speeds(pad, stream);
    let mut cells: Vec<Vec<String>> = Vec::new();
    for &speed_rpm in &speeds {
        cells.push(
            columns
                .iter()
                .map(|column| reading(pad, column, speed_rpm, stream))
                .collect(),
        );
    }
    if let Some(fault) = *stream.one_of(&FAULTS) {
        mistype(&mut cells, fault, stream);
    }
    let name = format!("2026-0{index}-16");
    let head = head(pad, index);
    if stream.happens(0.2) {
        let test = head + &inline(&columns, &speeds, &cells);
        return TestTexts {
            name,
            test,
            readings: None,
        };
    }
    let test = head + &format!("readings = \"{name}.csv\"\n");
    let readings = Some(table(&columns, &speeds, &cells));
    TestTexts {
        name,
        test,
        readings,
    }
}

fn head(pad: &Pad, index: u32) -> String {
    let temperature = if pad.is_us { "78 degF" } else { "24.5 degC" };
    format!("format = 1\ndate = 2026-0{index}-16T09:30:00\nwater_temperature = \"{temperature}\"\n")
}

/// Three to fourteen speeds on a ladder, up or down; at times standby before, and one speed met again.
fn speeds(pad: &Pad, stream: &mut Stream) -> Vec<f64> {
    let count = stream.between(3.0, 15.0).floor();
    let lowest = stream.between(600.0, 1200.0);
    let step = (pad.top_speed_rpm - lowest) / (count - 1.0);
    let mut speeds: Vec<f64> = (0..14)
        .map(f64::from)
        .take_while(|index| *index < count)
        .map(|index| ((lowest + step * index) / 10.0).round() * 10.0)
        .collect();
    if stream.happens(0.4) {
        speeds.reverse();
    }
    if stream.happens(0.3) {
        let again = *stream.one_of(&speeds);
        speeds.push(again);
    }
    if stream.happens(0.3) {
        speeds.insert(0, 0.0);
    }
    speeds
}

fn columns(pad: &Pad, stream: &mut Stream) -> Vec<Column> {
    let own = |name| TypedUnit { name, per_own: 1.0 };
    let column = |word, unit, decimals, law| Column {
        word,
        unit,
        decimals,
        law,
    };
    let flow = if pad.has_two_flow_meters {
        "flow A"
    } else {
        "flow"
    };
    // The larger the unit, the more decimals a display has.
    let flow_decimals = if pad.flow_unit.per_own < 0.1 { 2 } else { 1 };
    let mut columns = Vec::new();
    if stream.happens(0.9) {
        columns.push(column(flow, pad.flow_unit, flow_decimals, |pad, speed| {
            pad.flow_gpm(speed)
        }));
        if pad.has_two_flow_meters {
            columns.push(column(
                "flow B",
                pad.flow_unit,
                flow_decimals,
                |pad, speed| 1.02 * pad.flow_gpm(speed),
            ));
        }
    }
    let others = [
        (0.9, column("power", own("W"), 0, Pad::power_w)),
        (
            0.4,
            column("current", own("A"), 2, |pad, speed| {
                pad.power_w(speed) / (0.8 * pad.supply_v)
            }),
        ),
        (0.4, column("voltage", own("V"), 1, |pad, _| pad.supply_v)),
        (
            0.7,
            column("filter pressure", pad.pressure_unit, 2, |pad, speed| {
                pad.top_pressure_psi * pad.gauge_share(speed)
            }),
        ),
        (
            0.5,
            column("inlet vacuum", pad.vacuum_unit, 2, |pad, speed| {
                pad.top_vacuum_inhg * pad.gauge_share(speed)
            }),
        ),
    ];
    columns.extend(
        others
            .into_iter()
            .filter_map(|(often, column)| stream.happens(often).then_some(column)),
    );
    columns
}

fn reading(pad: &Pad, column: &Column, speed_rpm: f64, stream: &mut Stream) -> String {
    let scatter = 1.0 + pad.scatter * stream.between(-1.0, 1.0);
    let value = (column.law)(pad, speed_rpm) * column.unit.per_own * scatter;
    format!("{value:.0$}", column.decimals)
}

/// Puts a fault into one cell.
fn mistype(cells: &mut [Vec<String>], fault: Fault, stream: &mut Stream) {
    let rows: Vec<usize> = (1..cells.len()).collect();
    let row = *stream.one_of(&rows);
    let columns: Vec<usize> = (0..cells[row].len()).collect();
    if columns.is_empty() {
        return;
    }
    let column = *stream.one_of(&columns);
    let number = |text: &str| text.parse::<f64>().unwrap_or(0.0);
    let typed = &cells[row][column];
    cells[row][column] = match fault {
        Fault::PointSlipped => format!("{:.1}", number(typed) * 10.0),
        Fault::Stuck => cells[row - 1][column].clone(),
        Fault::OtherUnit => format!("{:.1}", number(typed) * stream.one_of(&[3.785, 0.2642])),
        Fault::Below => format!("<{typed}"),
        Fault::Missing => String::new(),
        Fault::Unreadable => "dim".to_owned(),
    };
}

fn table(columns: &[Column], speeds: &[f64], cells: &[Vec<String>]) -> String {
    let headings = columns
        .iter()
        .map(|column| format!("{} [{}]", column.word, column.unit.name));
    let heading = row("speed [rpm]".to_owned(), headings, "note");
    let rows = speeds
        .iter()
        .zip(cells)
        .map(|(speed_rpm, cells)| row(format!("{speed_rpm:.0}"), cells.iter().cloned(), ""));
    lines([heading].into_iter().chain(rows))
}

fn row(speed: String, cells: impl Iterator<Item = String>, note: &str) -> String {
    let cells: Vec<String> = [speed]
        .into_iter()
        .chain(cells)
        .chain([note.to_owned()])
        .collect();
    cells.join(",")
}

fn inline(columns: &[Column], speeds: &[f64], cells: &[Vec<String>]) -> String {
    lines(speeds.iter().zip(cells).flat_map(|(speed_rpm, cells)| {
        let step = format!("[[step]]\nspeed = \"{speed_rpm:.0} rpm\"");
        let typed = columns
            .iter()
            .zip(cells)
            .filter(|(_, cell)| !cell.is_empty());
        [step].into_iter().chain(typed.map(|(column, cell)| {
            // `flow A` is typed inline as the entry A of the table `flow`.
            let key = match column.word.strip_prefix("flow ") {
                Some(meter) => format!("flow.{meter}"),
                None => column.word.replace(' ', "_"),
            };
            format!("{key} = \"{cell} {}\"", column.unit.name)
        }))
    }))
}

fn lines(lines: impl Iterator<Item = String>) -> String {
    lines.map(|line| line + "\n").collect()
}
