//! Reads a profile file.

use super::test::bare_file_name;
use crate::told;
use crate::told::later;
use crate::walker::{Field, Table};
use crate::{Problem, Profile, Source, document};

/// The most lines of how a business is reached.
const MOST_CONTACTS: usize = 6;

/// Reads a profile file, or everything that is wrong in it.
pub fn read_profile(source: &Source) -> Result<Profile, Vec<Problem>> {
    document::read_any(source, |root| Some(profile(root)))
}

fn profile(root: &Table<'_>) -> Profile {
    let contact = root.get("contact");
    let lines = contact.map(|field| {
        let lines: Vec<String> = field.one_or_more().iter().filter_map(Field::name).collect();
        if lines.len() > MOST_CONTACTS {
            let sentence = told!(
                "it has {count} lines; expected at most {most}",
                count = lines.len(),
                most = MOST_CONTACTS
            );
            field.report(sentence, None);
        }
        lines
    });
    let profile = Profile {
        business: root.name("business"),
        licence: root.name("licence"),
        technician: root.name("technician"),
        contact: lines.unwrap_or_default(),
        language: root.word("language"),
        logo: root
            .get("logo")
            .and_then(|field| bare_file_name(&field, later!("the profile file"))),
    };
    root.finish();
    profile
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<Profile, Vec<Problem>> {
        read_profile(&Source {
            name: "profile.toml".to_owned(),
            text: text.to_owned(),
        })
    }

    #[test]
    fn a_profile_is_read_as_it_stands() {
        let profile = read(
            "format = 1\nbusiness = \"Clearwater & Sons\"\nlicence = \"C-53 000000\"\ntechnician = \"R. Doe\"\n\
             contact = [\"1 Example Road\", \"555-0100\"]\nlogo = \"logo.png\"\n",
        )
        .unwrap();
        assert_eq!(profile.business.as_deref(), Some("Clearwater & Sons"));
        assert_eq!(profile.contact.len(), 2);
        assert_eq!(profile.logo.as_deref(), Some("logo.png"));
    }

    #[test]
    fn an_empty_profile_is_one() {
        assert_eq!(read("format = 1\n"), Ok(Profile::default()));
    }

    #[test]
    fn what_is_wrong_is_placed() {
        let problems =
            read("format = 1\nbuisness = \"A\"\nlogo = \"../logo.png\"\ncontact = [1]\n")
                .unwrap_err();
        let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
        let told = told.join("\n");
        for part in [
            "profile.toml:2:1: the file has no key buisness",
            "hint: write business",
            "profile.toml:3:8: logo is ../logo.png",
            "beside the profile file",
            "profile.toml:4:12: contact is 1",
        ] {
            assert!(told.contains(part), "{part}: {told}");
        }
    }
}
