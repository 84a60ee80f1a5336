//! A person who mistypes.

use super::draw::Uniform;

/// A kind of typing fault.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fault {
    /// The reading times a factor: a decimal point, or another unit.
    Factor(f64),
    /// The entry of the row above again.
    Repeated,
    /// Two neighbouring digits swapped, where that moves the reading.
    Swapped,
    /// The row's speed typed as another.
    Speed(f64),
}

/// A fault where it was made.
#[derive(Clone, Debug, PartialEq)]
pub struct InjectedFault {
    /// Index of the row among the steps.
    pub row: usize,
    /// Index of the meter; `None` for a wrong speed.
    pub meter: Option<usize>,
    /// What was there before.
    pub was: String,
    /// What stands there now.
    pub is: String,
}

impl Fault {
    /// Makes the fault in rows of speed and readings; `None` where it changes nothing there.
    pub fn make(
        self,
        rows: &mut [(f64, Vec<String>)],
        row: usize,
        meter: usize,
        uniform: &mut Uniform<'_>,
    ) -> Option<InjectedFault> {
        if let Self::Speed(speed_rpm) = self {
            let (speed, _) = rows.get_mut(row)?;
            let was = std::mem::replace(speed, speed_rpm);
            return Some(InjectedFault {
                row,
                meter: None,
                was: format!("{was:.0}"),
                is: format!("{speed_rpm:.0}"),
            });
        }
        let was = rows.get(row)?.1.get(meter)?.clone();
        let is = match self {
            Self::Factor(factor) => scaled(&was, factor)?,
            Self::Repeated => rows.get(row.checked_sub(1)?)?.1.get(meter)?.clone(),
            Self::Swapped | Self::Speed(_) => swapped(&was, uniform)?,
        };
        if is == was {
            return None;
        }
        rows.get_mut(row)?.1.get_mut(meter)?.clone_from(&is);
        Some(InjectedFault {
            row,
            meter: Some(meter),
            was,
            is,
        })
    }
}

/// Multiplies a typed number, with as many digits as it had.
fn scaled(text: &str, factor: f64) -> Option<String> {
    let value: f64 = text.parse().ok()?;
    let digits = text.chars().filter(char::is_ascii_digit).count().max(2);
    let exponent = format!("{:e}", value * factor);
    let exponent: i32 = exponent.rsplit('e').next()?.parse().ok()?;
    let decimals = i32::try_from(digits).ok()? - 1 - exponent;
    let decimals = usize::try_from(decimals.max(0)).ok()?;
    Some(format!("{:.decimals$}", value * factor))
}

/// Swaps two neighbouring digits that differ.
fn swapped(text: &str, uniform: &mut Uniform<'_>) -> Option<String> {
    let letters: Vec<char> = text.chars().collect();
    let places: Vec<usize> = (1..letters.len())
        .filter(|i| {
            let (a, b) = (letters[i - 1], letters[*i]);
            a != b && a.is_ascii_digit() && b.is_ascii_digit()
        })
        .collect();
    let place = *places.get(uniform.below(places.len()))?;
    let mut letters = letters;
    letters.swap(place - 1, place);
    Some(letters.into_iter().collect())
}
