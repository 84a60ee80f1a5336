//! The cautions that stand with every test: short, in plain words, and no substitute for local codes and licensed practice.

use crate::language::later;
/// The cautions, most general first.
///
/// # Source
/// STANDARDS of the trade: suction covers after Montana ARM 37.115.1005(2); ground-fault protection, disconnect and
/// bonding after NEC 2020 article 680; the rest common practice, no source.
pub const CAUTIONS: [&str; 8] = [
    later!("Nobody in the water during a test, or while a valve is moved."),
    later!(
        "Mains electricity at a wet pad: ground-fault protection, bonding, a disconnect in sight; only a qualified person opens a terminal box."
    ),
    later!(
        "Automation, timers and freeze guard in service mode, so that nothing starts by itself."
    ),
    later!(
        "Heater off and cooled, chlorine cell and feeders off while flow is low or a line is shut."
    ),
    later!(
        "The filter is a pressure vessel: pump off, air relief open, gauge at zero before opening; stand clear at restart; never above its rated pressure."
    ),
    later!(
        "Always an open way back to the pool; never throttle the suction, run dry or against a shut line; never turn a multiport valve with the pump running."
    ),
    later!(
        "The pump does not run with a suction cover missing, broken or loose; never cover an outlet by hand."
    ),
    later!(
        "At the end put valves, feeders, automation and program back as found. Local codes and licensed practice decide."
    ),
];
