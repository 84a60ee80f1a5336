//! The page for the owner: one sheet, plain words, the answer first.

use super::{Subject, answer, care, savings, tested};
use crate::content::Block;

/// Composes the page.
pub(super) fn page(subject: &Subject<'_>) -> Vec<Block> {
    let mut blocks = tested::tested(subject);
    blocks.extend(answer::answer(subject));
    blocks.extend(in_short(subject));
    let figure = answer::shown(subject).map(|drawing| Block::Drawing(Box::new(drawing)));
    let figure: Vec<Block> = figure.into_iter().collect();
    let set = [answer::setting(subject), savings::savings(subject)].concat();
    blocks.extend(if set.is_empty() {
        figure
    } else {
        vec![Block::Beside([figure, set])]
    });
    let mend = [care::mend_first(subject), care::by_hand(subject)].concat();
    blocks.push(Block::Beside([mend, care::look_again(subject)]));
    blocks.extend(care::cautions(subject.printing));
    blocks
}

/// Tells in a sentence each what changed since an earlier visit, and what a change of the pad would save.
fn in_short(subject: &Subject<'_>) -> Option<Block> {
    let more = subject.more;
    let sentences = [&more.follow_up.in_short, &more.alternatives.in_short];
    let sentences: Vec<&str> = sentences
        .into_iter()
        .filter_map(|sentence| sentence.as_deref())
        .collect();
    (!sentences.is_empty()).then(|| Block::Paragraph(sentences.join(" ")))
}
