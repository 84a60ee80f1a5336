//! The laws once more, as kernels: without a branch and with their slopes, so that many draws go side by side.

#![expect(
    clippy::inline_always,
    reason = "a kernel takes on the instructions of the loop that it is called from"
)]

use super::chunk::{CHUNK, Column};
use crate::laws::Shape;
use numerics::elementary;
use numerics::vector::{Instructions, Task, exp, ln};

/// The logarithm of a law with `P` parameters.
pub(super) trait Form<const P: usize>: Copy {
    /// Computes what the law takes of the ratio of speeds.
    fn place(self, ratio: f64) -> f64;

    /// Computes the value, which is no number outside the domain, and its slope in each parameter.
    fn evaluate(self, place: f64, parameters: [f64; P]) -> (f64, [f64; P]);
}

/// [`Shape::Flow`].
#[derive(Clone, Copy, Debug)]
pub(super) struct Flow;

/// [`Shape::Power`] and [`Shape::Current`].
#[derive(Clone, Copy, Debug)]
pub(super) struct Power;

impl Form<2> for Flow {
    fn place(self, ratio: f64) -> f64 {
        ratio * ratio
    }

    #[inline(always)]
    fn evaluate(self, square: f64, [ln_slope, intercept]: [f64; 2]) -> (f64, [f64; 2]) {
        let flowing = square - intercept;
        (ln_slope + 0.5 * ln(flowing), [1.0, -0.5 / flowing])
    }
}

impl Form<3> for Power {
    fn place(self, ratio: f64) -> f64 {
        elementary::ln(ratio)
    }

    #[inline(always)]
    fn evaluate(self, ln_ratio: f64, [fixed, dynamic, exponent]: [f64; 3]) -> (f64, [f64; 3]) {
        let power = exp(exponent * ln_ratio);
        let moving = dynamic * power;
        let value = fixed + moving;
        let share = 1.0 / value;
        (ln(value), [share, power * share, moving * ln_ratio * share])
    }
}

/// Computes the logarithm of a law at one ratio of speeds for the parameters of each draw.
pub(super) fn values(shape: Shape, ratio: f64, parameters: &[Column]) -> Column {
    match (shape, parameters) {
        (Shape::Flow, [a, b, ..]) => at(Flow, ratio, [a, b]),
        (Shape::Power | Shape::Current, [a, b, c]) => at(Power, ratio, [a, b, c]),
        _ => [f64::NAN; CHUNK],
    }
}

fn at<F: Form<P>, const P: usize>(form: F, ratio: f64, parameters: [&Column; P]) -> Column {
    Instructions::Detected.run(Values {
        form,
        place: form.place(ratio),
        parameters,
    })
}

/// The loop of [`values`].
struct Values<'a, F, const P: usize> {
    form: F,
    place: f64,
    parameters: [&'a Column; P],
}

impl<F: Form<P>, const P: usize> Task for Values<'_, F, P> {
    type Output = Column;

    #[inline(always)]
    fn run(self) -> Column {
        let mut values = [0.0; CHUNK];
        for (i, value) in values.iter_mut().enumerate() {
            let parameters = self.parameters.map(|column| column[i]);
            *value = self.form.evaluate(self.place, parameters).0;
        }
        values
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use metrology::Curve;

    /// Asserts that a form and its shape agree.
    #[track_caller]
    fn agree<const P: usize>(form: impl Form<P>, shape: Shape, parameters: [f64; P]) {
        for ratio in [0.2, 0.5, 0.77, 1.0, 1.3] {
            let mut slopes = [0.0; P];
            let expected = shape.evaluate(ratio, &parameters, &mut slopes);
            let (value, found) = form.evaluate(form.place(ratio), parameters);
            for (a, b) in found
                .iter()
                .chain([&value])
                .zip(slopes.iter().chain([&expected]))
            {
                // Functions to a unit in the last place each, and some ten operations.
                assert!(
                    (a - b).abs() <= 2e-15 * b.abs().max(1.0),
                    "{ratio}: {a} {b}"
                );
            }
            let columns = parameters.map(|parameter| [parameter; CHUNK]);
            let many = values(shape, ratio, &columns);
            assert!(many.iter().all(|many| many.to_bits() == value.to_bits()));
        }
    }

    #[test]
    fn forms_are_those_of_the_shapes() {
        agree(Flow, Shape::Flow, [-5.2, 0.013]);
        agree(Flow, Shape::Flow, [-5.2, -0.02]);
        agree(Power, Shape::Power, [52.0, 2080.0, 2.76]);
        agree(Power, Shape::Current, [0.4, 9.0, 2.2]);
    }

    #[test]
    fn outside_its_domain_a_form_is_no_number() {
        assert!(Flow.evaluate(0.04, [0.0, 0.05]).0.is_nan());
        assert!(Power.evaluate(0.0, [-2.0, 1.0, 3.0]).0.is_nan());
    }
}
