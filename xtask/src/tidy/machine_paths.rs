//! No kept file names a folder of the machine that it was written on.

/// The first folders of such paths; written apart, so that this file passes its own check.
const FOLDERS: &[&str] = &["farm", "home", "root", "tmp", "work"];

/// Names every line with a path of a machine.
pub(super) fn offences(file: &str, text: &str) -> Vec<String> {
    text.lines()
        .enumerate()
        .filter_map(|(index, line)| {
            let path = FOLDERS
                .iter()
                .map(|folder| format!("/{folder}/"))
                .find(|path| starts(line, path))?;
            Some(format!(
                "{file}:{}: names a folder of one machine, {path}",
                index + 1
            ))
        })
        .collect()
}

/// Whether an absolute path begins this way somewhere in the line; `target/tmp/` is none.
fn starts(line: &str, path: &str) -> bool {
    line.match_indices(path).any(|(at, _)| {
        let before = line[..at].chars().next_back();
        !before.is_some_and(|before| before.is_alphanumeric() || "._-~*)}>$".contains(before))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_absolute_path_is_named_with_its_line() {
        for folder in FOLDERS {
            let text = format!("first\nsee /{folder}/x.txt");
            let found = offences("a.md", &text);
            assert_eq!(found.len(), 1);
            assert!(found[0].starts_with("a.md:2:"));
        }
    }

    #[test]
    fn a_quoted_path_at_the_start_of_a_line_is_named() {
        assert_eq!(offences("a.rs", &format!("/{}/x", "root")).len(), 1);
        assert_eq!(offences("a.rs", &format!("\"/{}/x\"", "root")).len(), 1);
    }

    #[test]
    fn a_folder_of_the_tree_passes() {
        for text in [
            "target/tmp/x",
            "https://example.org/work/x",
            "{root}/tmp/x",
            "../work/x",
            "work/home/x",
        ] {
            assert!(offences("a.md", text).is_empty(), "{text}");
        }
    }
}
