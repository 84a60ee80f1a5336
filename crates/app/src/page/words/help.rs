//! Help, in the words of the trade.

pub(in crate::page) const TITLE: &str = "Help";
pub(in crate::page) const SECTIONS: [(&str, &[&str]); 7] = [
    (
        "A test in short",
        &[
            "Read the cautions, say which lines are shut, then start at the highest speed and step down.",
            "At each speed wait until the displays hold still. Flow and gauges mostly take half a minute to a minute; after a large step, longer.",
            "Type what the meter shows. If it shows nothing below a limit, type < and the limit, such as <5. Leave empty what was not read.",
            "At last stop the pump and read what it draws at rest, and where the gauges come to rest: speed 0.",
        ],
    ),
    (
        "What the page says below a reading",
        &[
            "“Fits” means: the other steps lead to expect this, within what the meter is worth.",
            "A doubt is a question, not an order. Look at the meter again. If it shows what you typed, say so, and the reading is not doubted again.",
            "Where a slip of the unit or of the decimal point would explain a reading, one tap takes the mend. What you typed can be had back by Undo.",
        ],
    ),
    (
        "Words",
        &[
            "rpm: speed of the pump. gpm, m³/h: flow. psi, bar, kPa: pressure. inHg, mbar: vacuum before the pump.",
            "Law: one curve through all steps, which tells what happens between and beyond them.",
            "Draw at rest: what the electronics take with the pump stopped. Fixed draw: the part of the running draw that does not depend on speed.",
            "NPSH: the pressure that the water has left before it boils in the pump; a pump needs some.",
            "95 % interval: the true value lies in it nineteen times out of twenty, if the meters are worth what is stated.",
        ],
    ),
    (
        "Visits",
        &[
            "Every test of a site is a visit. The first one is the baseline that later ones are held against, until you name another.",
            "Set the day on which to return, or leave it to the filter: two visits or more say how fast it loads.",
            "What is deleted or put away can be had back: at once by Undo at the foot of the screen, later from the lists.",
        ],
    ),
    (
        "No signal needed",
        &[
            "After the first visit the page works with the network off. It computes everything itself and sends nothing anywhere.",
            "What you type is kept on this device at once. Export keeps a copy elsewhere: one file for each site, which this page and the command can read.",
        ],
    ),
    (
        "How a phone gets the page",
        &[
            "Open the page once with a network, from an https address. Then choose “Add to home screen” or “Install” in the menu of the browser.",
            "In a private window nothing is kept when the window closes.",
        ],
    ),
    (
        "Keys",
        &[
            "Enter goes to the next reading, and from the last one to the next step. Tab and Shift+Tab move as everywhere; Escape closes a window over the page.",
            "A column copied from a spreadsheet can be pasted into a reading: it fills that reading in this step and the next ones.",
        ],
    ),
];
pub(in crate::page) const CAUTIONS: &str = "Cautions";
pub(in crate::page) const VERSION: &str = concat!("Version ", env!("CARGO_PKG_VERSION"));
