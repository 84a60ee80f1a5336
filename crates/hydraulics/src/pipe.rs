//! The catalogue of pipe: what a nominal size means in metres.
//!
//! Sizes are kept in thousandths of an inch, as the standard prints them, so that each diameter in
//! metres is the double nearest to the exact product with 25.4 µm. The standard states a *minimum*
//! wall; a bore that is measured is rather the average one. Both are here as specifications of
//! their own, because they differ by 3 to 6 % in loss and a reader must be able to choose.

use core::fmt;

/// Roughness of a PVC wall in m, 0.0015 mm (0.000005 ft).
///
/// # Source
/// Common design value for drawn and plastic tubing, from memory.
pub const PVC_ROUGHNESS_M: f64 = 1.5e-6;

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
}

/// One size of one specification.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PipeSize {
    /// The nominal size as it is spoken, for instance "1-1/2 in".
    pub nominal: &'static str,
    /// Outside diameter in m.
    pub outside_diameter_m: f64,
    /// Wall in m: the minimum or the average one, as the specification says.
    pub wall_m: f64,
    /// Inside diameter in m: the outside diameter less two walls.
    pub bore_m: f64,
}

/// A row of the dimension tables of ASTM D1785, in thousandths of an inch.
struct Row {
    nominal: &'static str,
    nominal_in: f64,
    outside_mil: u16,
    wall_40_mil: u16,
    wall_80_mil: u16,
}

const fn row(
    (nominal, nominal_in): (&'static str, f64),
    outside_mil: u16,
    wall_40_mil: u16,
    wall_80_mil: u16,
) -> Row {
    Row {
        nominal,
        nominal_in,
        outside_mil,
        wall_40_mil,
        wall_80_mil,
    }
}

/// ASTM D1785, outside diameters and minimum walls of Schedules 40 and 80, as printed in
/// the Python package fluids 1.3.1 (`fluids.piping`, in mm; the inch values are recovered exactly).
const ASTM_D1785: [Row; 11] = [
    row(("1/2 in", 0.5), 840, 109, 147),
    row(("3/4 in", 0.75), 1050, 113, 154),
    row(("1 in", 1.0), 1315, 133, 179),
    row(("1-1/4 in", 1.25), 1660, 140, 191),
    row(("1-1/2 in", 1.5), 1900, 145, 200),
    row(("2 in", 2.0), 2375, 154, 218),
    row(("2-1/2 in", 2.5), 2875, 203, 276),
    row(("3 in", 3.0), 3500, 216, 300),
    row(("4 in", 4.0), 4500, 237, 337),
    row(("6 in", 6.0), 6625, 280, 432),
    row(("8 in", 8.0), 8625, 322, 500),
];

/// How far a nominal size may lie from its catalogue value, in inches: it may have come through metres.
const NOMINAL_SLACK_IN: f64 = 1e-9;

impl PipeSpec {
    /// Every specification, in the order in which a message lists them.
    pub const ALL: [Self; 4] = [
        Self::PvcSchedule40,
        Self::PvcSchedule80,
        Self::PvcSchedule40Average,
        Self::PvcSchedule80Average,
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
        }
    }

    /// Lists the sizes from the smallest to the largest.
    ///
    /// # Example
    /// ```
    /// let names: Vec<_> = hydraulics::pipe::PipeSpec::PvcSchedule40.sizes().map(|size| size.nominal).collect();
    /// assert_eq!(names[4..6], ["1-1/2 in", "2 in"]);
    /// ```
    pub fn sizes(self) -> impl Iterator<Item = PipeSize> {
        ASTM_D1785.iter().map(move |row| self.size_of(row))
    }

    /// Looks a nominal size up.
    ///
    /// # Inputs
    /// `nominal_in`: nominal size in inches, for instance 1.5; it names a size and measures nothing.
    ///
    /// # Returns
    /// The size, or `None` where the catalogue has none of that name.
    ///
    /// # Accuracy
    /// Each length is the double nearest to the printed inches.
    ///
    /// # Source
    /// ASTM D1785, see [`PipeSpec::source`].
    ///
    /// # Checked against
    /// `validation/pipes/astm-d1785`
    ///
    /// # Example
    /// ```
    /// let size = hydraulics::pipe::PipeSpec::PvcSchedule40.size(2.0).unwrap();
    /// assert!((size.bore_m - 0.0525018).abs() < 1e-12); // m
    /// ```
    pub fn size(self, nominal_in: f64) -> Option<PipeSize> {
        ASTM_D1785
            .iter()
            .find(|row| (row.nominal_in - nominal_in).abs() <= NOMINAL_SLACK_IN)
            .map(|row| self.size_of(row))
    }

    fn size_of(self, row: &Row) -> PipeSize {
        let minimum = self.minimum_wall_mil(row);
        let two_walls_mil = 2 * minimum + self.tolerance_in_bore_mil(minimum);
        PipeSize {
            nominal: row.nominal,
            outside_diameter_m: metres(row.outside_mil),
            wall_m: 0.5 * metres(two_walls_mil),
            bore_m: metres(row.outside_mil.saturating_sub(two_walls_mil)),
        }
    }

    const fn minimum_wall_mil(self, row: &Row) -> u16 {
        match self {
            Self::PvcSchedule40 | Self::PvcSchedule40Average => row.wall_40_mil,
            Self::PvcSchedule80 | Self::PvcSchedule80Average => row.wall_80_mil,
        }
    }

    /// Half of the wall tolerance on either side of the bore makes one whole: the larger of
    /// 0.020 in and 12 % of the minimum wall, to the nearest 0.001 in (from memory of ASTM D1785).
    const fn tolerance_in_bore_mil(self, minimum_wall_mil: u16) -> u16 {
        match self {
            Self::PvcSchedule40 | Self::PvcSchedule80 => 0,
            Self::PvcSchedule40Average | Self::PvcSchedule80Average => {
                let twelve_percent = (12 * minimum_wall_mil + 50) / 100;
                if twelve_percent > 20 {
                    twelve_percent
                } else {
                    20
                }
            }
        }
    }
}

impl fmt::Display for PipeSpec {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// Converts thousandths of an inch: 25.4 µm each, exact by the definition of the inch.
/// The numerator is a whole number, so that the quotient is rounded once.
fn metres(mil: u16) -> f64 {
    f64::from(mil) * 254.0 / 1e7
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
    fn a_size_is_found_by_its_inches_also_after_a_trip_through_metres() {
        for spec in PipeSpec::ALL {
            for (row, size) in ASTM_D1785.iter().zip(spec.sizes()) {
                let nominal_m = row.nominal_in * 0.0254;
                assert_eq!(spec.size(nominal_m / 0.0254), Some(size));
            }
            assert_eq!(spec.size(1.9), None);
            assert_eq!(spec.size(f64::NAN), None);
        }
    }

    #[test]
    fn bores_grow_with_the_nominal_size_and_shrink_with_the_wall() {
        for spec in PipeSpec::ALL {
            let bores: Vec<f64> = spec.sizes().map(|size| size.bore_m).collect();
            assert!(bores.windows(2).all(|pair| pair[0] < pair[1]));
        }
        for row in &ASTM_D1785 {
            let bore_m = |spec: PipeSpec| spec.size(row.nominal_in).unwrap().bore_m;
            assert!(bore_m(PipeSpec::PvcSchedule40) > bore_m(PipeSpec::PvcSchedule40Average));
            assert!(bore_m(PipeSpec::PvcSchedule40) > bore_m(PipeSpec::PvcSchedule80));
            assert!(bore_m(PipeSpec::PvcSchedule80) > bore_m(PipeSpec::PvcSchedule80Average));
        }
    }
}
