//! Invented pads with plausible step tests, some of them badly typed; each is fixed by its number.

mod readings;
mod site;

use parity::{Request, TestTexts};

use crate::Case;
use crate::stream::Stream;

/// A unit as it is typed, and how many of it make one of the unit that pads are thought in.
#[derive(Clone, Copy)]
struct TypedUnit {
    name: &'static str,
    per_own: f64,
}

/// The units of flow; pads are thought in gallons per minute. Four digits do for invented numbers.
const US_FLOW: [TypedUnit; 1] = [unit("gpm", 1.0)];
const SI_FLOW: [TypedUnit; 3] = [
    unit("m3/h", 0.2271),
    unit("L/min", 3.785),
    unit("L/s", 0.06309),
];
/// The units of pressure; pads are thought in pounds per square inch.
const US_PRESSURE: [TypedUnit; 1] = [unit("psi", 1.0)];
const SI_PRESSURE: [TypedUnit; 3] = [
    unit("kPa", 6.895),
    unit("bar", 0.06895),
    unit("mbar", 68.95),
];
/// The units of vacuum; pads are thought in inches of mercury.
const US_VACUUM: [TypedUnit; 1] = [unit("inHg", 1.0)];
const SI_VACUUM: [TypedUnit; 2] = [unit("kPa", 3.386), unit("mbar", 33.86)];

const fn unit(name: &'static str, per_own: f64) -> TypedUnit {
    TypedUnit { name, per_own }
}

/// What a pad does at its highest speed, and how it is read.
struct Pad {
    is_us: bool,
    flow_unit: TypedUnit,
    pressure_unit: TypedUnit,
    vacuum_unit: TypedUnit,
    top_speed_rpm: f64,
    /// The speed at which water begins to move.
    start_speed_rpm: f64,
    top_flow_gpm: f64,
    fixed_w: f64,
    dynamic_w: f64,
    supply_v: f64,
    top_pressure_psi: f64,
    top_vacuum_inhg: f64,
    /// The half-width of the scatter of readings, relative.
    scatter: f64,
    has_two_flow_meters: bool,
}

impl Pad {
    fn draw(stream: &mut Stream) -> Self {
        let is_us = stream.happens(0.5);
        Self {
            is_us,
            flow_unit: *stream.one_of(if is_us { &US_FLOW[..] } else { &SI_FLOW }),
            pressure_unit: *stream.one_of(if is_us {
                &US_PRESSURE[..]
            } else {
                &SI_PRESSURE
            }),
            vacuum_unit: *stream.one_of(if is_us { &US_VACUUM[..] } else { &SI_VACUUM }),
            top_speed_rpm: *stream.one_of(&[3450.0, 3400.0, 3000.0, 2900.0]),
            start_speed_rpm: stream.between(0.0, 500.0),
            top_flow_gpm: stream.between(30.0, 140.0),
            fixed_w: stream.between(8.0, 90.0),
            dynamic_w: stream.between(500.0, 2600.0),
            supply_v: *stream.one_of(&[115.0, 208.0, 230.0]),
            top_pressure_psi: stream.between(6.0, 32.0),
            top_vacuum_inhg: stream.between(1.0, 14.0),
            scatter: stream.between(0.0, 0.03),
            has_two_flow_meters: stream.happens(0.4),
        }
    }

    /// The flow at a speed: a straight line from where water begins to move.
    fn flow_gpm(&self, speed_rpm: f64) -> f64 {
        let share =
            (speed_rpm - self.start_speed_rpm) / (self.top_speed_rpm - self.start_speed_rpm);
        self.top_flow_gpm * share.max(0.0)
    }

    /// The power at a speed: a fixed draw, and the cube of the speed.
    fn power_w(&self, speed_rpm: f64) -> f64 {
        let share = speed_rpm / self.top_speed_rpm;
        self.fixed_w + self.dynamic_w * share * share * share
    }

    /// What of the highest gauge reading is left at a speed: the square of the flow.
    fn gauge_share(&self, speed_rpm: f64) -> f64 {
        let share = self.flow_gpm(speed_rpm) / self.top_flow_gpm;
        share * share
    }

    /// The same pad some weeks later, with more or less in its filter.
    fn later(&mut self, stream: &mut Stream) {
        self.top_flow_gpm *= stream.between(0.8, 1.1);
        self.top_pressure_psi *= stream.between(0.8, 1.3);
        self.dynamic_w *= stream.between(0.95, 1.05);
    }
}

/// Gives the pad of a number, with one to three tests.
pub(crate) fn case(number: u64) -> Case {
    let mut stream = Stream::new(number);
    let mut pad = Pad::draw(&mut stream);
    let site = site::text(&pad, &mut stream);
    let count = *stream.one_of(&[1, 1, 1, 2, 3]);
    let mut tests: Vec<TestTexts> = Vec::new();
    for index in 1..=count {
        tests.push(readings::test(&pad, index, &mut stream));
        pad.later(&mut stream);
    }
    Case {
        name: format!("generated pad {number}"),
        request: Request { site, tests },
    }
}
