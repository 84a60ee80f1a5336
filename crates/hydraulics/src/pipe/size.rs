//! What a table of a standard holds: whole tenths of a micrometre, exact in inches and in millimetres alike.

/// A length as a standard prints it, in whole tenths of a micrometre.
///
/// A thousandth of an inch is 254 of them and a tenth of a millimetre 1000, so that both kinds of table are exact and
/// a length in metres is rounded once.
#[derive(Clone, Copy, Debug, Eq, Ord, PartialEq, PartialOrd)]
pub(super) struct Printed(u32);

impl Printed {
    /// A length in thousandths of an inch: 25.4 µm each, exact by the definition of the inch.
    pub(super) const fn mil(count: u32) -> Self {
        Self(count * 254)
    }

    /// A length in tenths of a millimetre.
    pub(super) const fn tenth_mm(count: u32) -> Self {
        Self(count * 1000)
    }

    /// The double that is nearest to the length in m.
    pub(super) fn metres(self) -> f64 {
        f64::from(self.0) / 1e7
    }
}

/// A row of a table: one size.
#[derive(Clone, Copy, Debug)]
pub(super) struct Row {
    /// The size as it is spoken.
    pub(super) nominal: &'static str,
    /// The length that the spoken size names.
    pub(super) nominal_size: Printed,
    outside: Printed,
    two_walls: Printed,
}

impl Row {
    /// A row in inches: the spoken size, and in thousandths of an inch what it names, outside diameter and wall.
    pub(super) const fn inches(
        nominal: (&'static str, u32),
        outside_mil: u32,
        wall_mil: u32,
    ) -> Self {
        Self {
            nominal: nominal.0,
            nominal_size: Printed::mil(nominal.1),
            outside: Printed::mil(outside_mil),
            two_walls: Printed::mil(2 * wall_mil),
        }
    }

    /// A row in millimetres, whose size is named by its outside diameter; the wall in tenths of a millimetre.
    pub(super) const fn millimetres(
        nominal: &'static str,
        outside_mm: u32,
        wall_tenth_mm: u32,
    ) -> Self {
        Self {
            nominal,
            nominal_size: Printed::tenth_mm(10 * outside_mm),
            outside: Printed::tenth_mm(10 * outside_mm),
            two_walls: Printed::tenth_mm(2 * wall_tenth_mm),
        }
    }

    /// The same size with a bore that is narrower by a number of thousandths of an inch.
    pub(super) const fn narrowed(self, mil: u32) -> Self {
        Self {
            two_walls: Printed(self.two_walls.0 + Printed::mil(mil).0),
            ..self
        }
    }

    /// Two walls in whole thousandths of an inch; only for a row in inches.
    pub(super) const fn two_walls_mil(self) -> u32 {
        self.two_walls.0 / Printed::mil(1).0
    }

    /// The size in metres.
    pub(super) fn size(&self) -> PipeSize {
        PipeSize {
            nominal: self.nominal,
            nominal_m: self.nominal_size.metres(),
            outside_diameter_m: self.outside.metres(),
            wall_m: 0.5 * self.two_walls.metres(),
            bore_m: Printed(self.outside.0 - self.two_walls.0).metres(),
        }
    }
}

/// One size of one specification.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PipeSize {
    /// The nominal size as it is spoken, for instance "1-1/2 in" or "50 mm".
    pub nominal: &'static str,
    /// The length that the nominal size names, in m. It measures nothing but metric plastic pipe, which is named by
    /// its outside diameter.
    pub nominal_m: f64,
    /// Outside diameter in m.
    pub outside_diameter_m: f64,
    /// Wall in m: the minimum or the average one, as the specification says.
    pub wall_m: f64,
    /// Inside diameter in m: the outside diameter less two walls.
    pub bore_m: f64,
}
