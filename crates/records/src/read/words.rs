//! The words of the contract's enums. A test holds them against what is written.

use crate::values::Words;
use crate::{
    CoverPlace, DayKind, Language, MeterKind, MeterOf, Tap, TaskKind, TeePath, TeeShape,
    UnitSystem, Verdict,
};

impl Words for UnitSystem {
    const WORDS: &'static [(&'static str, Self)] = &[("us", Self::Us), ("si", Self::Si)];
}

impl Words for Language {
    const WORDS: &'static [(&'static str, Self)] = &[
        (Self::English.tag(), Self::English),
        (Self::Spanish.tag(), Self::Spanish),
        (Self::SpanishOfTheUs.tag(), Self::SpanishOfTheUs),
    ];
}

impl Words for MeterOf {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("flow", Self::Flow),
        ("power", Self::Power),
        ("current", Self::Current),
        ("voltage", Self::Voltage),
        ("pressure", Self::Pressure),
        ("vacuum", Self::Vacuum),
    ];
}

impl Words for MeterKind {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("float", Self::Float),
        ("paddle", Self::Paddle),
        ("clamp-on", Self::ClampOn),
        ("magnetic", Self::Magnetic),
        ("pump display", Self::PumpDisplay),
        ("gauge", Self::Gauge),
        ("true rms", Self::TrueRms),
        ("average rms", Self::AverageRms),
    ];
}

impl Words for Tap {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("pump pot", Self::PumpPot),
        ("suction pipe", Self::SuctionPipe),
        ("pump outlet", Self::PumpOutlet),
        ("filter inlet", Self::FilterInlet),
        ("filter outlet", Self::FilterOutlet),
        ("pad outlet", Self::PadOutlet),
    ];
}

impl Words for DayKind {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("weekdays", Self::Weekdays),
        ("weekends", Self::Weekends),
        ("holidays", Self::Holidays),
    ];
}

impl Words for TaskKind {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("skimming", Self::Skimming),
        ("filtration", Self::Filtration),
        ("heating", Self::Heating),
        ("solar", Self::Solar),
        ("chlorination", Self::Chlorination),
        ("cleaning", Self::Cleaning),
        ("water fall", Self::WaterFall),
        ("spa", Self::Spa),
        ("freeze guard", Self::FreezeGuard),
    ];
}

impl Words for TeePath {
    const WORDS: &'static [(&'static str, Self)] = &[("run", Self::Run), ("branch", Self::Branch)];
}

impl Words for TeeShape {
    const WORDS: &'static [(&'static str, Self)] = &[("tee", Self::Tee), ("wye", Self::Wye)];
}

impl Words for CoverPlace {
    const WORDS: &'static [(&'static str, Self)] = &[("floor", Self::Floor), ("wall", Self::Wall)];
}

impl Words for Verdict {
    const WORDS: &'static [(&'static str, Self)] =
        &[("confirmed", Self::Confirmed), ("drop", Self::Drop)];
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde::Serialize;

    fn assert_written_as_read<W: Words + Serialize>() {
        for (word, value) in W::WORDS {
            assert_eq!(
                toml::Value::try_from(value),
                Ok(toml::Value::String((*word).to_owned()))
            );
        }
    }

    #[test]
    fn words_are_written_as_they_are_read() {
        assert_written_as_read::<UnitSystem>();
        assert_written_as_read::<MeterOf>();
        assert_written_as_read::<MeterKind>();
        assert_written_as_read::<Tap>();
        assert_written_as_read::<DayKind>();
        assert_written_as_read::<TaskKind>();
        assert_written_as_read::<TeePath>();
        assert_written_as_read::<CoverPlace>();
        assert_written_as_read::<Verdict>();
    }
}
