//! Outside evidence says where it comes from: every `validation/<topic>/<source>/` holds a `SOURCE.md`.

use std::collections::BTreeSet;

/// Names every source folder of the files listed that has no `SOURCE.md`, and evidence outside of such a folder.
pub(super) fn offences(files: &[String]) -> Vec<String> {
    let evidence: Vec<&str> = files
        .iter()
        .map(String::as_str)
        .filter(|file| file.starts_with("validation/"))
        .collect();
    let mut folders = BTreeSet::new();
    let mut offences = Vec::new();
    for file in &evidence {
        match *file.split('/').collect::<Vec<_>>() {
            [_, topic, source, _, ..] => {
                folders.insert(format!("validation/{topic}/{source}"));
            }
            _ => offences.push(format!(
                "{file}: evidence stands in validation/<topic>/<source>/"
            )),
        }
    }
    for folder in folders {
        if !evidence.contains(&format!("{folder}/SOURCE.md").as_str()) {
            offences.push(format!("{folder}: no SOURCE.md says where this comes from"));
        }
    }
    offences
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(files: &[&str]) -> Vec<String> {
        offences(
            &files
                .iter()
                .map(|&file| file.to_owned())
                .collect::<Vec<_>>(),
        )
    }

    #[test]
    fn a_folder_with_its_source_passes() {
        assert!(
            of(&[
                "validation/water/tables/SOURCE.md",
                "validation/water/tables/a.csv",
                "src/a.rs"
            ])
            .is_empty()
        );
    }

    #[test]
    fn a_folder_without_its_source_is_named() {
        let found = of(&[
            "validation/water/tables/a.csv",
            "validation/water/tables/deep/SOURCE.md",
        ]);
        assert_eq!(found.len(), 1);
        assert!(found[0].starts_with("validation/water/tables:"));
    }

    #[test]
    fn evidence_outside_of_a_source_folder_is_named() {
        assert_eq!(of(&["validation/water/a.csv"]).len(), 1);
    }
}
