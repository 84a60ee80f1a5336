//! Why the command ends without an answer: the kind of failure decides the exit code.

use records::Problem;
use std::fmt;
use std::process::ExitCode;

/// A failure of the command.
#[derive(Debug)]
pub(crate) enum Failure {
    /// The input is wrong.
    Input(Vec<Problem>),
    /// The call is wrong: what, and the hint.
    Call {
        /// What is wrong.
        message: String,
        /// What to do.
        hint: Option<String>,
    },
    /// The input is sound, and there is no answer.
    NoAnswer(String),
    /// Output cannot be written: where, and why.
    Output(String, std::io::Error),
}

impl Failure {
    /// A call that is wrong, with the mend.
    pub(crate) fn call(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self::Call {
            message: message.into(),
            hint: Some(hint.into()),
        }
    }

    /// Returns the exit code of the contract.
    pub(crate) fn exit_code(&self) -> ExitCode {
        match self {
            Self::Input(_) | Self::Call { .. } => ExitCode::from(2),
            Self::NoAnswer(_) | Self::Output(..) => ExitCode::from(3),
        }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Input(problems) => f.write_str(&document::problems::text(problems)),
            Self::Call { message, hint } => {
                f.write_str(message)?;
                match hint {
                    Some(hint) => write!(f, "\n  hint: {hint}"),
                    None => Ok(()),
                }
            }
            Self::NoAnswer(why) => f.write_str(why),
            Self::Output(place, error) => write!(f, "{place} cannot be written: {error}"),
        }
    }
}
