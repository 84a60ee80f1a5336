//! Numbers as people type them: decimals, fractions of an inch, a minus that a phone has turned into a dash.

/// What stands before the unit of a typed quantity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Scanned<'t> {
    /// The value; finite.
    pub(crate) value: f64,
    /// The number as typed.
    pub(crate) typed: &'t str,
    /// What follows, without the spaces between.
    pub(crate) rest: &'t str,
}

/// Why a text does not start with a number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum NumberError {
    /// Nothing that looks like a number.
    None,
    /// Not a finite number: `inf`, `NaN`, `1e400`, `1/0`.
    NotFinite,
    /// A comma between groups of three digits; the whole text without it.
    ThousandsComma(String),
    /// A comma for a decimal point; the whole text with a point.
    DecimalComma(String),
}

/// Which marks part the whole digits from the rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum DecimalMark {
    /// A point only; a comma is refused with the mend.
    Point,
    /// A point or a comma, as in files that part their cells by semicolons.
    PointOrComma,
}

/// Reads the number at the start of a text, whose ends carry no spaces.
pub(crate) fn scan(text: &str, mark: DecimalMark) -> Result<Scanned<'_>, NumberError> {
    let unsigned = text.trim_start_matches(['+', '-', '\u{2212}']);
    let sign = match &text[..text.len() - unsigned.len()] {
        "" | "+" => 1.0,
        "-" | "\u{2212}" => -1.0,
        _ => return Err(NumberError::None),
    };
    if names_no_finite_number(unsigned) {
        return Err(NumberError::NotFinite);
    }
    let (magnitude, rest) = match mixed_number(unsigned) {
        Some(found) => found,
        None => decimal(unsigned, mark).map_err(|error| error.within(text, unsigned))?,
    };
    if !magnitude.is_finite() {
        return Err(NumberError::NotFinite);
    }
    let typed = text[..text.len() - rest.len()].trim_end();
    Ok(Scanned {
        value: sign * magnitude,
        typed,
        rest: rest.trim_start(),
    })
}

impl NumberError {
    /// Puts back what stood before the digits, so that the mend can be typed as it is shown.
    fn within(self, text: &str, unsigned: &str) -> Self {
        let before = &text[..text.len() - unsigned.len()];
        match self {
            Self::ThousandsComma(mend) => Self::ThousandsComma(format!("{before}{mend}")),
            Self::DecimalComma(mend) => Self::DecimalComma(format!("{before}{mend}")),
            other => other,
        }
    }
}

fn names_no_finite_number(text: &str) -> bool {
    let word: String = text.chars().take_while(char::is_ascii_alphabetic).collect();
    ["nan", "inf", "infinity"]
        .iter()
        .any(|name| word.eq_ignore_ascii_case(name))
}

/// Splits after the leading characters that fit.
fn split_while(text: &str, fits: impl Fn(char) -> bool) -> (&str, &str) {
    text.split_at(
        text.find(|character| !fits(character))
            .unwrap_or(text.len()),
    )
}

fn decimal(text: &str, mark: DecimalMark) -> Result<(f64, &str), NumberError> {
    let (digits, rest) = split_while(text, |c| c.is_ascii_digit() || c == '.' || c == ',');
    let (digits, rest) = match digits.strip_suffix(',') {
        Some(bare) => (bare, &text[bare.len()..]),
        None => (digits, rest),
    };
    let point = match (digits.contains(','), mark) {
        (true, DecimalMark::Point) => return Err(comma(digits, rest)),
        (true, DecimalMark::PointOrComma) => digits.replace(',', "."),
        (false, _) => digits.to_owned(),
    };
    let (exponent, rest) = exponent(rest);
    let value = format!("{point}{exponent}")
        .parse()
        .map_err(|_| NumberError::None)?;
    Ok((value, rest))
}

/// Tells a comma between thousands from one before decimals, and says the mend of either.
fn comma(digits: &str, rest: &str) -> NumberError {
    let whole = digits.split_once('.').map_or(digits, |(whole, _)| whole);
    let mut groups = whole.split(',');
    let leads = groups
        .next()
        .is_some_and(|first| (1..=3).contains(&first.len()));
    if leads && groups.all(|group| group.len() == 3) {
        return NumberError::ThousandsComma(format!("{}{rest}", digits.replace(',', "")));
    }
    match digits.matches([',', '.']).count() {
        1 => NumberError::DecimalComma(format!("{}{rest}", digits.replace(',', "."))),
        _ => NumberError::None,
    }
}

fn exponent(text: &str) -> (&str, &str) {
    let Some(after) = text.strip_prefix(['e', 'E']) else {
        return ("", text);
    };
    let unsigned = after.strip_prefix(['+', '-']).unwrap_or(after);
    let (digits, rest) = split_while(unsigned, |c| c.is_ascii_digit());
    if digits.is_empty() {
        ("", text)
    } else {
        (&text[..text.len() - rest.len()], rest)
    }
}

/// Reads `3/4`, `1-1/2`, `1 1/2`, `1½` and `½`; `None` where there is no fraction.
fn mixed_number(text: &str) -> Option<(f64, &str)> {
    let (whole, rest) = split_while(text, |c| c.is_ascii_digit());
    if let Some((fraction, rest)) = fraction(text) {
        return Some((fraction, rest));
    }
    let rest = rest.trim_start();
    let rest = rest.strip_prefix('-').unwrap_or(rest).trim_start();
    let (fraction, rest) = fraction(rest)?;
    Some((whole.parse::<f64>().ok()? + fraction, rest))
}

fn fraction(text: &str) -> Option<(f64, &str)> {
    if let Some(found) = one_sign_fraction(text) {
        return Some(found);
    }
    let (numerator, rest) = split_while(text, |c| c.is_ascii_digit());
    let (denominator, rest) = split_while(rest.strip_prefix(['/', '⁄'])?, |c| c.is_ascii_digit());
    Some((
        numerator.parse::<f64>().ok()? / denominator.parse::<f64>().ok()?,
        rest,
    ))
}

fn one_sign_fraction(text: &str) -> Option<(f64, &str)> {
    let sign = text.chars().next()?;
    let value = match sign {
        '½' => 0.5,
        '¼' => 0.25,
        '¾' => 0.75,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        _ => return None,
    };
    Some((value, &text[sign.len_utf8()..]))
}
