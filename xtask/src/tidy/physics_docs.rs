//! The doc comment of a physics function is its contract: inputs, result, source, evidence and an example.

/// The sections in the order in which they stand, and whether one must be there.
const SECTIONS: &[(&str, Need)] = &[
    ("Equation", Need::WhereItApplies),
    ("Inputs", Need::Always),
    ("Returns", Need::Always),
    ("Validity", Need::WhereItApplies),
    ("Accuracy", Need::WhereItApplies),
    ("Errors", Need::WhereItApplies),
    ("Source", Need::Always),
    ("Checked against", Need::Always),
    ("Example", Need::Always),
];

/// When a section is asked for.
#[derive(PartialEq, Eq)]
enum Need {
    Always,
    WhereItApplies,
}

/// A free public function with its doc comment.
pub(super) struct Function<'a> {
    name: &'a str,
    line: usize,
    docs: Vec<&'a str>,
}

/// Whether a file holds physics functions.
pub(super) fn concerns(file: &str) -> bool {
    file.starts_with("crates/hydraulics/src/") && super::is_rust(file)
}

/// Finds the free public functions of a formatted source file.
pub(super) fn functions(text: &str) -> Vec<Function<'_>> {
    let mut docs = Vec::new();
    let mut found = Vec::new();
    for (index, line) in text.lines().enumerate() {
        if let Some(doc) = line.strip_prefix("///") {
            docs.push(doc.trim());
        } else if let Some(name) = function_name(line) {
            let docs = std::mem::take(&mut docs);
            found.push(Function {
                name,
                line: index + 1,
                docs,
            });
        } else if !line.starts_with("#[") {
            docs.clear();
        }
    }
    found
}

fn function_name(line: &str) -> Option<&str> {
    let rest = line
        .strip_prefix("pub fn ")
        .or_else(|| line.strip_prefix("pub const fn "))?;
    rest.split(['(', '<']).next()
}

/// Names the functions whose docs lack a section, have them out of order, or point at evidence that is not there.
pub(super) fn offences(
    file: &str,
    functions: &[Function<'_>],
    exists: impl Fn(&str) -> bool,
) -> Vec<String> {
    functions
        .iter()
        .flat_map(|function| {
            let place = format!("{file}:{}: {}", function.line, function.name);
            let mut found = faults_of_sections(&function.docs);
            let dangling = evidence(&function.docs).filter(|path| !exists(path));
            found.extend(
                dangling.map(|path| format!("is checked against {path}, which is not there")),
            );
            found
                .into_iter()
                .map(move |fault| format!("{place} {fault}"))
        })
        .collect()
}

fn faults_of_sections(docs: &[&str]) -> Vec<String> {
    let headings = || docs.iter().filter_map(|line| line.strip_prefix("# "));
    let rank = |heading: &str| SECTIONS.iter().position(|(section, _)| *section == heading);
    let mut faults: Vec<String> = SECTIONS
        .iter()
        .filter(|(section, need)| {
            *need == Need::Always && !headings().any(|heading| heading == *section)
        })
        .map(|(section, _)| format!("has no section `# {section}` in its doc comment"))
        .collect();
    let known: Vec<(usize, &str)> = headings()
        .filter_map(|heading| Some((rank(heading)?, heading)))
        .collect();
    for pair in known.windows(2) {
        if let [(earlier, first), (later, second)] = pair
            && earlier >= later
        {
            faults.push(format!("has its section `# {second}` after `# {first}`"));
        }
    }
    faults
}

/// Gives the paths in backticks under the heading that names the evidence.
fn evidence<'a>(docs: &'a [&'a str]) -> impl Iterator<Item = &'a str> {
    docs.iter()
        .skip_while(|line| **line != "# Checked against")
        .skip(1)
        .take_while(|line| !line.starts_with("# "))
        .flat_map(|line| line.split('`').skip(1).step_by(2))
        .filter(|quoted| quoted.starts_with("validation/"))
}

#[cfg(test)]
mod tests {
    use super::*;

    const WHOLE: &str = "\
/// Computes.
///
/// # Inputs
/// # Returns
/// # Source
/// # Checked against
/// `validation/a/b`, and a limit.
/// # Example
#[inline]
pub fn head_m(flow_m3s: f64) -> f64 {
";

    fn of(text: &str) -> Vec<String> {
        offences("a.rs", &functions(text), |path| path == "validation/a/b")
    }

    #[test]
    fn a_whole_contract_passes() {
        assert_eq!(functions(WHOLE).len(), 1);
        assert!(of(WHOLE).is_empty());
    }

    #[test]
    fn a_missing_section_is_named() {
        let found = of(&WHOLE.replace("/// # Source\n", ""));
        assert_eq!(
            found,
            ["a.rs:9: head_m has no section `# Source` in its doc comment"]
        );
    }

    #[test]
    fn a_function_without_docs_lacks_every_section_asked_for() {
        assert_eq!(of("/// Other.\n\npub const fn head_m<T>() {}\n").len(), 5);
    }

    #[test]
    fn sections_out_of_order_are_named() {
        let found = of(&WHOLE
            .replace("# Inputs", "# Swap")
            .replace("# Returns", "# Inputs")
            .replace("# Swap", "# Returns"));
        assert_eq!(found.len(), 1);
        assert!(found[0].ends_with("has its section `# Inputs` after `# Returns`"));
    }

    #[test]
    fn evidence_that_is_not_there_is_named() {
        let found = of(&WHOLE.replace("a/b", "a/gone"));
        assert_eq!(found.len(), 1);
        assert!(found[0].contains("validation/a/gone"));
    }

    #[test]
    fn methods_and_private_functions_are_not_asked() {
        assert!(
            functions("    pub fn method(&self) {}\nfn own() {}\npub(crate) fn near() {}\n")
                .is_empty()
        );
    }
}
