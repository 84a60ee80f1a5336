//! What a meter's stated accuracy says about one of its readings.

/// One limit of an instrument's accuracy: half-widths that add up.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct AccuracyLimit {
    /// Share of the reading.
    pub of_reading: f64,
    /// Amount in the unit of the reading; a share of full scale has been turned into one.
    pub absolute: f64,
}

/// An instrument as far as its readings are worth something.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Instrument {
    /// Limits that are independent of one another.
    pub limits: Vec<AccuracyLimit>,
    /// How many standard uncertainties a limit is; `None` makes it the half-width of a rectangular distribution.
    pub coverage: Option<f64>,
    /// The smallest difference that is shown.
    pub resolution: f64,
    /// The lowest and the highest reading that the accuracy holds for.
    pub range: Option<(f64, f64)>,
    /// The part of the variance of the accuracy that is the same for all readings of this instrument.
    pub share_common: f64,
}

impl Instrument {
    /// Computes the standard uncertainty that the accuracy gives a reading.
    ///
    /// # Equation
    /// u² = Σ (aᵢ/k)² with aᵢ the half-width of limit i at the reading, and k = √3 for a rectangular
    /// distribution or the stated coverage.
    ///
    /// # Source
    /// JCGM 100:2008 (GUM), 4.3.7 (rectangular) and 4.3.3 (stated multiple).
    pub fn accuracy_u(&self, reading: f64) -> f64 {
        let divisor = self.coverage.unwrap_or(3.0_f64.sqrt());
        let sum: f64 = self
            .limits
            .iter()
            .map(|limit| {
                let u = (limit.of_reading * reading.abs() + limit.absolute) / divisor;
                u * u
            })
            .sum();
        sum.sqrt()
    }

    /// Says whether the accuracy is one rectangular limit, rather than several in quadrature or a stated multiple.
    pub fn is_one_rectangle(&self) -> bool {
        self.coverage.is_none() && self.limits.len() == 1
    }

    /// Computes the part of the uncertainty that all readings of this instrument share.
    pub fn common_u(&self, reading: f64) -> f64 {
        self.share_common.sqrt() * self.accuracy_u(reading)
    }

    /// Computes the part that differs from reading to reading, the rounding to the resolution included.
    ///
    /// # Source
    /// JCGM 100:2008 (GUM), F.2.2.1: a resolution d leaves d/√12.
    pub fn independent_u(&self, reading: f64) -> f64 {
        let accuracy = self.accuracy_u(reading);
        let own = (1.0 - self.share_common) * accuracy * accuracy;
        (own + self.resolution * self.resolution / 12.0).sqrt()
    }

    /// Says whether the accuracy is stated for a reading.
    pub fn covers(&self, reading: f64) -> bool {
        self.range
            .is_none_or(|(low, high)| low <= reading && reading <= high)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn paddle() -> Instrument {
        Instrument {
            limits: vec![AccuracyLimit {
                of_reading: 0.02,
                absolute: 0.5,
            }],
            resolution: 0.1,
            range: Some((5.0, 130.0)),
            share_common: 0.7,
            ..Instrument::default()
        }
    }

    #[test]
    fn a_rectangular_limit_is_divided_by_the_root_of_three() {
        // 2 % of 60 and 0.5 add to 1.7; GUM 4.3.7.
        assert!((paddle().accuracy_u(60.0) - 1.7 / 3.0_f64.sqrt()).abs() < 1e-15);
    }

    #[test]
    fn independent_limits_add_in_quadrature() {
        let limit = |absolute| AccuracyLimit {
            of_reading: 0.0,
            absolute,
        };
        let meter = Instrument {
            limits: vec![limit(3.0), limit(4.0)],
            coverage: Some(2.0),
            ..Instrument::default()
        };
        assert!((meter.accuracy_u(1.0) - 2.5).abs() < 1e-15); // √(3² + 4²)/2
    }

    #[test]
    fn common_and_own_part_make_up_the_whole() {
        let meter = paddle();
        let whole = meter.accuracy_u(40.0);
        let (common, own) = (meter.common_u(40.0), meter.independent_u(40.0));
        let sum = common * common + own * own - 0.01 / 12.0;
        assert!((sum.sqrt() - whole).abs() < 1e-14);
        assert!(meter.covers(5.0) && !meter.covers(4.99));
    }
}
