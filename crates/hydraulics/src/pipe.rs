//! The catalogue of pipe: what a nominal size means in metres.
//!
//! A table per standard stands in a file of its own, with its source. A standard mostly states a
//! *minimum* wall; a bore that is measured is rather the average one. For rigid PVC both are here as
//! specifications of their own, because they differ by 3 to 6 % in loss and a reader must be able to choose.

mod astm_b88;
mod astm_d1785;
mod astm_d2846;
mod astm_f441;
mod flexible;
mod iso_1452;
mod size;

use core::fmt;

pub use size::PipeSize;
use size::Row;

/// Roughness of a PVC wall in m, 0.0015 mm (0.000005 ft).
///
/// # Source
/// Common design value for drawn and plastic tubing, from memory.
pub const PVC_ROUGHNESS_M: f64 = 1.5e-6;

/// Roughness of drawn copper tube in m, 0.0015 mm (0.000005 ft).
///
/// # Source
/// L. F. Moody, Trans. ASME 66 (1944) 671-684, drawn tubing; from memory.
pub const COPPER_ROUGHNESS_M: f64 = 1.5e-6;

/// A standard of pipe together with the wall that is meant.
#[derive(Clone, Copy, Debug, Eq, Hash, PartialEq)]
pub enum PipeSpec {
    /// PVC Schedule 40 with the minimum wall of its standard.
    PvcSchedule40,
    /// PVC Schedule 80 with the minimum wall of its standard.
    PvcSchedule80,
    /// PVC Schedule 40 with the wall in the middle of its tolerance.
    PvcSchedule40Average,
    /// PVC Schedule 80 with the wall in the middle of its tolerance.
    PvcSchedule80Average,
    /// Flexible PVC of iron pipe size.
    PvcFlexible,
    /// CPVC Schedule 40 with the minimum wall of its standard.
    CpvcSchedule40,
    /// CPVC Schedule 80 with the minimum wall of its standard.
    CpvcSchedule80,
    /// CPVC tubing of copper tube size with the minimum wall of its standard.
    CpvcSdr11,
    /// Copper water tube of type L with the nominal wall of its standard.
    CopperL,
    /// Metric PVC-U for 10 bar with the nominal wall of its standard.
    PvcUPn10,
    /// Metric PVC-U for 16 bar with the nominal wall of its standard.
    PvcUPn16,
}

/// How far a nominal size may lie from its catalogue value, in m: it may have come through another unit.
const NOMINAL_SLACK_M: f64 = 1e-10;

impl PipeSpec {
    /// Every specification, in the order in which a message lists them.
    pub const ALL: [Self; 11] = [
        Self::PvcSchedule40,
        Self::PvcSchedule80,
        Self::PvcSchedule40Average,
        Self::PvcSchedule80Average,
        Self::PvcFlexible,
        Self::CpvcSchedule40,
        Self::CpvcSchedule80,
        Self::CpvcSdr11,
        Self::CopperL,
        Self::PvcUPn10,
        Self::PvcUPn16,
    ];

    /// Reads a name as [`PipeSpec::name`] writes it, whatever the case and the spaces.
    ///
    /// # Example
    /// ```
    /// use hydraulics::pipe::PipeSpec;
    /// assert_eq!(PipeSpec::parse(" pvc  sch 40 "), Some(PipeSpec::PvcSchedule40));
    /// assert_eq!(PipeSpec::parse("copper"), None);
    /// ```
    pub fn parse(text: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|spec| {
            let given = text.split_whitespace().map(str::to_lowercase);
            given.eq(spec.name().split(' ').map(str::to_lowercase))
        })
    }

    /// Names the specification as a site file does.
    pub const fn name(self) -> &'static str {
        match self {
            Self::PvcSchedule40 => "PVC Sch 40",
            Self::PvcSchedule80 => "PVC Sch 80",
            Self::PvcSchedule40Average => "PVC Sch 40 average bore",
            Self::PvcSchedule80Average => "PVC Sch 80 average bore",
            Self::PvcFlexible => "PVC flexible",
            Self::CpvcSchedule40 => "CPVC Sch 40",
            Self::CpvcSchedule80 => "CPVC Sch 80",
            Self::CpvcSdr11 => "CPVC SDR 11",
            Self::CopperL => "Copper L",
            Self::PvcUPn10 => "PVC-U PN10",
            Self::PvcUPn16 => "PVC-U PN16",
        }
    }

    /// Says where the dimensions come from.
    pub const fn source(self) -> &'static str {
        match self {
            Self::PvcSchedule40 | Self::PvcSchedule80 => {
                "ASTM D1785, outside diameter less two minimum walls"
            }
            Self::PvcSchedule40Average | Self::PvcSchedule80Average => {
                "ASTM D1785, outside diameter less two minimum walls and one wall tolerance, \
                 the larger of 0.020 in and 12 % (tolerance from memory)"
            }
            Self::PvcFlexible => "common practice, no source: as ASTM D1785 Schedule 40",
            Self::CpvcSchedule40 | Self::CpvcSchedule80 => {
                "ASTM F441, outside diameter less two minimum walls"
            }
            Self::CpvcSdr11 => "ASTM D2846, outside diameter less two minimum walls (from memory)",
            Self::CopperL => "ASTM B88, outside diameter less two nominal walls (from memory)",
            Self::PvcUPn10 | Self::PvcUPn16 => {
                "EN ISO 1452-2, outside diameter less two nominal walls (from memory)"
            }
        }
    }

    /// The usual roughness of a new wall, in m.
    pub const fn roughness_m(self) -> f64 {
        match self {
            Self::CopperL => COPPER_ROUGHNESS_M,
            _ => PVC_ROUGHNESS_M,
        }
    }

    /// Lists the sizes from the smallest to the largest.
    ///
    /// # Example
    /// ```
    /// use hydraulics::pipe::PipeSpec;
    /// let names = |spec: PipeSpec| spec.sizes().map(|size| size.nominal).collect::<Vec<_>>();
    /// assert_eq!(names(PipeSpec::PvcSchedule40)[4..6], ["1-1/2 in", "2 in"]);
    /// assert_eq!(names(PipeSpec::PvcUPn10)[2..4], ["50 mm", "63 mm"]);
    /// ```
    pub fn sizes(self) -> impl Iterator<Item = PipeSize> {
        self.rows().iter().map(Row::size)
    }

    /// Looks a nominal size up.
    ///
    /// # Inputs
    /// `nominal_m`: nominal size in m, for instance 1.5 in or 50 mm converted; it names a size and, but for metric
    /// pipe, measures nothing.
    ///
    /// # Returns
    /// The size, or `None` where the catalogue has none of that name.
    ///
    /// # Accuracy
    /// Each length is the double nearest to the printed one.
    ///
    /// # Source
    /// See [`PipeSpec::source`].
    ///
    /// # Checked against
    /// `validation/pipes/astm-d1785`, `validation/pipes/fluids`, `validation/pipes/pandapipes`, `validation/pipes/copper`
    ///
    /// # Example
    /// ```
    /// use hydraulics::pipe::PipeSpec;
    /// let size = PipeSpec::PvcSchedule40.size(2.0 * 0.0254).unwrap();
    /// assert!((size.bore_m - 0.0525018).abs() < 1e-12); // m
    /// let size = PipeSpec::PvcUPn10.size(0.050).unwrap();
    /// assert!((size.bore_m - 0.0452).abs() < 1e-12); // m
    /// ```
    pub fn size(self, nominal_m: f64) -> Option<PipeSize> {
        self.rows()
            .iter()
            .find(|row| (row.nominal_size.metres() - nominal_m).abs() <= NOMINAL_SLACK_M)
            .map(Row::size)
    }

    const fn rows(self) -> &'static [Row] {
        match self {
            Self::PvcSchedule40 => &astm_d1785::SCHEDULE_40,
            Self::PvcSchedule80 => &astm_d1785::SCHEDULE_80,
            Self::PvcSchedule40Average => &astm_d1785::SCHEDULE_40_AVERAGE,
            Self::PvcSchedule80Average => &astm_d1785::SCHEDULE_80_AVERAGE,
            Self::PvcFlexible => flexible::IRON_PIPE_SIZE,
            Self::CpvcSchedule40 => &astm_f441::SCHEDULE_40,
            Self::CpvcSchedule80 => &astm_f441::SCHEDULE_80,
            Self::CpvcSdr11 => &astm_d2846::SDR_11,
            Self::CopperL => &astm_b88::TYPE_L,
            Self::PvcUPn10 => &iso_1452::PN_10,
            Self::PvcUPn16 => &iso_1452::PN_16,
        }
    }
}

impl fmt::Display for PipeSpec {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_reads_back_as_its_specification() {
        for spec in PipeSpec::ALL {
            assert_eq!(PipeSpec::parse(spec.name()), Some(spec));
            assert_eq!(PipeSpec::parse(&spec.name().to_uppercase()), Some(spec));
            assert_eq!(
                PipeSpec::parse(&spec.name().replace(' ', "\t ")),
                Some(spec)
            );
        }
        for unknown in ["", "PVC", "PVC Sch 40 average", "PVC Sch 400", "PVCSch40"] {
            assert_eq!(PipeSpec::parse(unknown), None);
        }
    }

    #[test]
    fn a_bore_and_two_walls_make_the_outside() {
        for size in PipeSpec::ALL.into_iter().flat_map(PipeSpec::sizes) {
            let outside_m = size.bore_m + 2.0 * size.wall_m;
            // Three roundings of a length below 0.25 m.
            assert!((outside_m - size.outside_diameter_m).abs() < 1e-16);
        }
    }

    #[test]
    fn a_size_is_found_by_its_name_also_after_a_trip_through_inches() {
        for spec in PipeSpec::ALL {
            for size in spec.sizes() {
                assert_eq!(spec.size(size.nominal_m), Some(size));
                assert_eq!(spec.size(size.nominal_m / 0.0254 * 0.0254), Some(size));
            }
            assert_eq!(spec.size(0.0483), None);
            assert_eq!(spec.size(f64::NAN), None);
        }
    }

    /// Reads "1" or "1/2".
    fn inches(text: &str) -> f64 {
        let (above, below) = text.split_once('/').unwrap_or((text, "1"));
        above.parse::<f64>().unwrap() / below.parse::<f64>().unwrap()
    }

    #[test]
    fn what_a_size_is_called_is_what_it_measures() {
        for size in PipeSpec::ALL.into_iter().flat_map(PipeSpec::sizes) {
            let called_m = match size.nominal.split_once(' ').unwrap() {
                (text, "in") => 0.0254 * text.split('-').map(inches).sum::<f64>(),
                (text, "mm") => 1e-3 * text.parse::<f64>().unwrap(),
                (_, unit) => panic!("unit {unit}"),
            };
            // One or two roundings of a length below 0.25 m.
            assert!(
                (called_m - size.nominal_m).abs() < 1e-16,
                "{}",
                size.nominal
            );
        }
    }

    #[test]
    fn metric_pipe_is_called_by_its_outside_diameter() {
        for size in [PipeSpec::PvcUPn10, PipeSpec::PvcUPn16]
            .into_iter()
            .flat_map(PipeSpec::sizes)
        {
            assert_eq!(size.nominal_m.to_bits(), size.outside_diameter_m.to_bits());
        }
    }

    #[test]
    fn bores_grow_with_the_nominal_size() {
        for spec in PipeSpec::ALL {
            let sizes: Vec<PipeSize> = spec.sizes().collect();
            assert!(sizes.windows(2).all(|pair| pair[0].bore_m < pair[1].bore_m));
            assert!(
                sizes
                    .windows(2)
                    .all(|pair| pair[0].nominal_m < pair[1].nominal_m)
            );
        }
    }

    #[test]
    fn a_thicker_wall_leaves_a_smaller_bore() {
        use PipeSpec::{
            CpvcSchedule40, CpvcSchedule80, PvcSchedule40, PvcSchedule40Average, PvcSchedule80,
            PvcSchedule80Average, PvcUPn10, PvcUPn16,
        };
        for (wide, narrow) in [
            (PvcSchedule40, PvcSchedule40Average),
            (PvcSchedule40, PvcSchedule80),
            (PvcSchedule80, PvcSchedule80Average),
            (CpvcSchedule40, CpvcSchedule80),
            (PvcUPn10, PvcUPn16),
        ] {
            for size in wide.sizes() {
                let other = narrow.size(size.nominal_m).unwrap();
                assert_eq!(
                    other.outside_diameter_m.to_bits(),
                    size.outside_diameter_m.to_bits()
                );
                assert!(other.bore_m < size.bore_m);
            }
        }
    }
}
