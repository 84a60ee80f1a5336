//! The questions that wait for the worker. It does one at a time; a newer question takes the place of one that the same
//! view still waits with, and the answer to a question that was overtaken is dropped.

use super::{Answer, Asked};
use serde::{Deserialize, Serialize};

/// Who asks: a part of a screen, which has one question at a time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct View(pub u32);

/// A question with its number.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Numbered {
    /// The number, which the answer carries too.
    pub number: u32,
    /// What is asked.
    pub asked: Asked,
}

/// What the worker says.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Said {
    /// It has started.
    Ready,
    /// It has done a question.
    Done {
        /// The number of the question.
        number: u32,
        /// Its answer.
        answer: Answer,
    },
    /// It has met a bug of its own, and is no more.
    Stopped {
        /// What happened.
        why: String,
    },
}

/// The questions.
#[derive(Clone, Debug, Default)]
pub struct Queue {
    last: u32,
    in_hand: Option<(u32, View)>,
    waiting: Vec<(View, Asked)>,
}

impl Queue {
    /// Takes a question; one that the same view waits with is dropped.
    pub fn ask(&mut self, view: View, asked: Asked) {
        self.leave(view);
        self.waiting.push((view, asked));
    }

    /// Drops what a view asked: it is gone.
    pub fn leave(&mut self, view: View) {
        self.waiting.retain(|(other, _)| *other != view);
    }

    /// Gives the next question to a worker that is free.
    pub fn next_question(&mut self) -> Option<Numbered> {
        if self.in_hand.is_some() || self.waiting.is_empty() {
            return None;
        }
        let (view, asked) = self.waiting.remove(0);
        self.last = self.last.wrapping_add(1);
        self.in_hand = Some((self.last, view));
        Some(Numbered {
            number: self.last,
            asked,
        })
    }

    /// Takes an answer by its number and says whose it is; `None` where nobody waits for it any more.
    pub fn done(&mut self, number: u32) -> Option<View> {
        let (_, view) = self.in_hand.take_if(|(of, _)| *of == number)?;
        let is_overtaken = self.waiting.iter().any(|(other, _)| *other == view);
        (!is_overtaken).then_some(view)
    }

    /// Whether no question waits.
    pub fn is_empty(&self) -> bool {
        self.waiting.is_empty()
    }

    /// Takes out the question that the worker died of, and says whose it was. What waits is for the next worker.
    pub fn died(&mut self) -> Option<View> {
        let (_, view) = self.in_hand.take()?;
        Some(view)
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Question, Room, Texts};
    use super::*;

    const SLIDER: View = View(1);
    const DAY: View = View(2);

    fn asked(speed_rpm: f64) -> Asked {
        Asked {
            pad: Texts::default(),
            units: None,
            language: String::new(),
            room: Room::Narrow,
            question: Question::Lost {
                speed_rpm: Some(speed_rpm),
            },
        }
    }

    #[test]
    fn one_is_done_at_a_time_in_the_order_of_asking() {
        let mut queue = Queue::default();
        queue.ask(SLIDER, asked(1.0));
        queue.ask(DAY, asked(2.0));
        let first = queue.next_question().unwrap();
        assert_eq!(first.asked, asked(1.0));
        assert_eq!(queue.next_question(), None);
        assert_eq!(queue.done(first.number), Some(SLIDER));
        let second = queue.next_question().unwrap();
        assert_ne!(second.number, first.number);
        assert_eq!(queue.done(second.number), Some(DAY));
    }

    #[test]
    fn what_was_overtaken_is_dropped_whether_it_waits_or_is_in_hand() {
        let mut queue = Queue::default();
        queue.ask(SLIDER, asked(1.0));
        let first = queue.next_question().unwrap();
        queue.ask(SLIDER, asked(2.0));
        queue.ask(SLIDER, asked(3.0));
        assert_eq!(queue.done(first.number), None);
        let last = queue.next_question().unwrap();
        assert_eq!(last.asked, asked(3.0));
        assert_eq!(queue.done(first.number), None, "an answer comes once");
        assert_eq!(queue.done(last.number), Some(SLIDER));
        assert_eq!(queue.next_question(), None);
    }

    #[test]
    fn a_death_takes_the_question_in_hand_and_no_other() {
        let mut queue = Queue::default();
        queue.ask(SLIDER, asked(1.0));
        queue.ask(DAY, asked(2.0));
        let deadly = queue.next_question().unwrap();
        assert_eq!(queue.died(), Some(SLIDER));
        assert_eq!(queue.done(deadly.number), None);
        assert_eq!(queue.next_question().unwrap().asked, asked(2.0));
    }

    #[test]
    fn who_is_gone_is_asked_for_no_more() {
        let mut queue = Queue::default();
        queue.ask(DAY, asked(2.0));
        queue.leave(DAY);
        assert_eq!(queue.next_question(), None);
        assert_eq!(queue.died(), None);
    }
}
