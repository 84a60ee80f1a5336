//! Why the command ends without an answer: the kind of failure decides the exit code.

use records::{Language, Problem};
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

    /// Says why there is no answer; what is wrong in a file, in a language.
    pub(crate) fn says(&self, language: Language) -> String {
        match self {
            Self::Input(problems) => document::problems::text(problems, language),
            Self::Call { message, hint } => match hint {
                Some(hint) => format!("{message}\n  hint: {hint}"),
                None => message.clone(),
            },
            Self::NoAnswer(why) => why.clone(),
            Self::Output(place, error) => format!("{place} cannot be written: {error}"),
        }
    }
}
