//! Help, in the words of the trade.

use super::{Phrase, here, phrase};
use document::say;

pub(in crate::page) const TITLE: Phrase = phrase!("Help");
pub(in crate::page) const SECTIONS: [(Phrase, &[Phrase]); 7] = [
    (
        phrase!("A test in short"),
        &[
            phrase!(
                "Read the cautions, say which lines are shut, then start at the highest speed and step down."
            ),
            phrase!(
                "At each speed wait until the displays hold still. Flow and gauges mostly take half a minute to a minute; after a large step, longer."
            ),
            phrase!(
                "Type what the meter shows. If it shows nothing below a limit, type < and the limit, such as <5. Leave empty what was not read."
            ),
            phrase!(
                "At last stop the pump and read what it draws at rest, and where the gauges come to rest: speed 0."
            ),
        ],
    ),
    (
        phrase!("What the page says below a reading"),
        &[
            phrase!(
                "“Fits” means: the other steps lead to expect this, within what the meter is worth."
            ),
            phrase!(
                "A doubt is a question, not an order. Look at the meter again. If it shows what you typed, say so, and the reading is not doubted again."
            ),
            phrase!(
                "Where a slip of the unit or of the decimal point would explain a reading, one tap takes the mend. What you typed can be had back by Undo."
            ),
        ],
    ),
    (
        phrase!("Words"),
        &[
            phrase!(
                "rpm: speed of the pump. gpm, m³/h: flow. psi, bar, kPa: pressure. inHg, mbar: vacuum before the pump."
            ),
            phrase!(
                "Law: one curve through all steps, which tells what happens between and beyond them."
            ),
            phrase!(
                "Draw at rest: what the electronics take with the pump stopped. Fixed draw: the part of the running draw that does not depend on speed."
            ),
            phrase!(
                "NPSH: the pressure that the water has left before it boils in the pump; a pump needs some."
            ),
            phrase!(
                "95 % interval: the true value lies in it nineteen times out of twenty, if the meters are worth what is stated."
            ),
        ],
    ),
    (
        phrase!("Visits"),
        &[
            phrase!(
                "Every test of a site is a visit. The first one is the baseline that later ones are held against, until you name another."
            ),
            phrase!(
                "Set the day on which to return, or leave it to the filter: two visits or more say how fast it loads."
            ),
            phrase!(
                "What is deleted or put away can be had back: at once by Undo at the foot of the screen, later from the lists."
            ),
        ],
    ),
    (
        phrase!("No signal needed"),
        &[
            phrase!(
                "After the first visit the page works with the network off. It computes everything itself and sends nothing anywhere."
            ),
            phrase!(
                "What you type is kept on this device at once. Export keeps a copy elsewhere: one file for each site, which this page and the command can read."
            ),
        ],
    ),
    (
        phrase!("How a phone gets the page"),
        &[
            phrase!(
                "Open the page once with a network, from an https address. Then choose “Add to home screen” or “Install” in the menu of the browser."
            ),
            phrase!("In a private window nothing is kept when the window closes."),
        ],
    ),
    (
        phrase!("Keys"),
        &[
            phrase!(
                "Enter goes to the next reading, and from the last one to the next step. Tab and Shift+Tab move as everywhere; Escape closes a window over the page."
            ),
            phrase!(
                "A column copied from a spreadsheet can be pasted into a reading: it fills that reading in this step and the next ones."
            ),
        ],
    ),
];
pub(in crate::page) const CAUTIONS: Phrase = phrase!("Cautions");

/// Says which version this is.
pub(in crate::page) fn version() -> String {
    say!(
        here(),
        "Version {number}",
        number = env!("CARGO_PKG_VERSION")
    )
}
