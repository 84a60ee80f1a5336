//! Whose reports are handed over: the profile file as the command reads it, kept on the device as a text, with its logo beside
//! it. Every edit is checked by the reader of the file; what is wrong is told and not kept.

use crate::library::stem;
use document::report::File;
use records::{Logo, Problem, Profile, Source, Told, base64, read_profile, told};
use serde::{Deserialize, Serialize};
use toml_edit::{Array, DocumentMut, Value};

/// The name of the file.
pub const PROFILE_FILE: &str = "profile.toml";
/// A profile that says nothing.
const EMPTY: &str = "format = 1\n";

/// A profile as it is kept.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptProfile {
    /// The text of the file.
    pub text: String,
    /// The logo that it names, in base 64.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub logo: Option<String>,
}

impl Default for KeptProfile {
    fn default() -> Self {
        Self {
            text: EMPTY.to_owned(),
            logo: None,
        }
    }
}

/// What a form asks of a profile.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Field {
    /// The name of the business.
    Business,
    /// Its licence.
    Licence,
    /// Who does the work.
    Technician,
    /// How it is reached, a line each.
    Contact,
    /// The tag of the language of its reports.
    Language,
}

impl Field {
    /// All of them, in the order of the form.
    pub const ALL: [Self; 5] = [
        Self::Business,
        Self::Licence,
        Self::Technician,
        Self::Contact,
        Self::Language,
    ];

    /// The key in the file.
    pub fn key(self) -> &'static str {
        match self {
            Self::Business => "business",
            Self::Licence => "licence",
            Self::Technician => "technician",
            Self::Contact => "contact",
            Self::Language => "language",
        }
    }

    /// What a profile says of it, as the form shows it.
    fn of(self, profile: &Profile) -> String {
        let said = match self {
            Self::Business => &profile.business,
            Self::Licence => &profile.licence,
            Self::Technician => &profile.technician,
            Self::Contact => return profile.contact.join("\n"),
            Self::Language => {
                let tag = profile.language.map(records::Language::tag);
                return tag.unwrap_or_default().to_owned();
            }
        };
        said.clone().unwrap_or_default()
    }
}

impl KeptProfile {
    /// What the text says; nothing where it cannot be read.
    pub fn profile(&self) -> Profile {
        read_profile(&self.source()).unwrap_or_default()
    }

    /// What the text says of a field, as the form shows it.
    pub fn shown(&self, field: Field) -> String {
        field.of(&self.profile())
    }

    fn source(&self) -> Source {
        Source {
            name: PROFILE_FILE.to_owned(),
            text: self.text.clone(),
        }
    }

    /// The file as an order of a report takes it.
    pub fn file(&self) -> File {
        File::from(&self.source())
    }

    /// Returns the profile with another text in a field; an empty one takes the key out.
    ///
    /// # Errors
    /// What the reader of the file has against it.
    pub fn with(&self, field: Field, said: &str) -> Result<Self, Vec<Problem>> {
        let lines = said.lines().map(str::trim).filter(|line| !line.is_empty());
        let value = match field {
            Field::Contact => Value::from(lines.collect::<Array>()),
            _ => Value::from(said.trim()),
        };
        let value = (!said.trim().is_empty()).then_some(value);
        self.with_key(field.key(), value)
    }

    fn with_key(&self, key: &str, value: Option<Value>) -> Result<Self, Vec<Problem>> {
        let mut file: DocumentMut = self.text.parse().unwrap_or_default();
        match value {
            Some(value) => {
                if !file.contains_key("format") {
                    file.insert("format", toml_edit::value(1));
                }
                file.insert(key, toml_edit::value(value));
            }
            None => {
                file.remove(key);
            }
        }
        let new = Self {
            text: file.to_string(),
            logo: self.logo.clone(),
        };
        read_profile(&new.source()).map(|_| new)
    }

    /// Returns the profile with a picture as its logo.
    ///
    /// # Errors
    /// Why the picture is no logo.
    pub fn with_logo(&self, name: &str, bytes: Vec<u8>) -> Result<Self, Vec<Problem>> {
        let logo = Logo::from_bytes(name, bytes).map_err(|problem| vec![problem])?;
        let bare = name.rsplit_once('.').map_or(name, |(bare, _)| bare);
        let bare = stem(bare);
        let bare = if bare.is_empty() { "logo" } else { &bare };
        let name = format!("{bare}.{}", logo.kind.ending());
        let named = self.with_key("logo", Some(Value::from(name)))?;
        Ok(Self {
            logo: Some(base64::written(&logo.bytes)),
            ..named
        })
    }

    /// Returns the profile without its logo.
    ///
    /// # Errors
    /// What else is wrong in the text.
    pub fn without_logo(&self) -> Result<Self, Vec<Problem>> {
        let without = self.with_key("logo", None)?;
        Ok(Self {
            logo: None,
            ..without
        })
    }

    /// The logo with its file's name, where there is one.
    pub fn logo(&self) -> Option<(String, Logo)> {
        let name = self.profile().logo?;
        let bytes = base64::read(self.logo.as_deref()?)?;
        let logo = Logo::from_bytes(&name, bytes).ok()?;
        Some((name, logo))
    }
}

/// Takes a profile file in, with the logo that it names among the other files.
///
/// # Errors
/// That no profile is among the files, or what is wrong in it or in its logo.
pub fn imported(files: &[(String, Vec<u8>)]) -> Result<KeptProfile, Vec<Problem>> {
    let problem = |file: &str, message: Told| {
        vec![Problem {
            file: file.to_owned(),
            line: 0,
            column: 0,
            message,
            hint: Some(told!("choose the profile file and its logo together")),
        }]
    };
    let is_toml = |name: &str| name.to_lowercase().ends_with(".toml");
    let Some((name, bytes)) = files.iter().find(|(name, _)| is_toml(name)) else {
        return Err(problem(PROFILE_FILE, told!("is not among the files")));
    };
    let source = Source::from_bytes(name, bytes).map_err(|problem| vec![problem])?;
    let profile = read_profile(&source)?;
    let mut kept = KeptProfile {
        text: source.text,
        logo: None,
    };
    if let Some(wanted) = profile.logo {
        let found = files.iter().find(|(name, _)| *name == wanted);
        let Some((_, bytes)) = found else {
            let message = told!(
                "names the logo {wanted}, which is not among the files",
                wanted
            );
            return Err(problem(name, message));
        };
        let logo = Logo::from_bytes(&wanted, bytes.clone()).map_err(|problem| vec![problem])?;
        kept.logo = Some(base64::written(&logo.bytes));
    }
    Ok(kept)
}
