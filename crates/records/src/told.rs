//! What is said of a file, as data: English with what is filled in, so that it can be said in another language.

use std::fmt;

/// A sentence, or a part of one, with what fills its places.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Told {
    /// The text with its places in braces, as the catalogues of languages know it.
    text: &'static str,
    places: Vec<(&'static str, Filling)>,
}

/// What fills a place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Filling {
    /// What is the same in every language: what was typed, a name, a number.
    Plain(String),
    /// Another part of what is said.
    Told(Told),
}

impl Told {
    /// Says a text without places.
    pub const fn plain(text: &'static str) -> Self {
        Self {
            text,
            places: Vec::new(),
        }
    }

    /// Says a text, its places filled by name.
    pub fn new<const N: usize>(text: &'static str, places: [(&'static str, Filling); N]) -> Self {
        Self {
            text,
            places: places.into(),
        }
    }

    /// Takes what is the same in every language, or was said already.
    pub fn written(text: impl Fill) -> Self {
        Self::new("{text}", [("text", text.fill())])
    }

    /// Says it in the language into which texts are looked up.
    pub fn said(&self, look_up: &dyn Fn(&'static str) -> &'static str) -> String {
        filled(look_up(self.text), &mut |name, out| {
            let found = self.places.iter().find(|(known, _)| *known == name);
            match found {
                Some((_, Filling::Plain(text))) => out.push_str(text),
                Some((_, Filling::Told(told))) => out.push_str(&told.said(look_up)),
                None => {}
            }
        })
    }
}

impl fmt::Display for Told {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said(&|text| text))
    }
}

/// Fills the places of a text, which stand in braces; each is written by its name.
pub fn filled(text: &str, write: &mut dyn FnMut(&str, &mut String)) -> String {
    let mut out = String::with_capacity(2 * text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('{') {
        out.push_str(before);
        let (name, after) = after.split_once('}').unwrap_or((after, ""));
        write(name, &mut out);
        rest = after;
    }
    out.push_str(rest);
    out
}

/// What can fill a place.
pub trait Fill {
    /// Makes it the filling.
    fn fill(&self) -> Filling;
}

impl<T: Fill + ?Sized> Fill for &T {
    fn fill(&self) -> Filling {
        (**self).fill()
    }
}

impl Fill for str {
    fn fill(&self) -> Filling {
        Filling::Plain(self.to_owned())
    }
}

impl Fill for String {
    fn fill(&self) -> Filling {
        Filling::Plain(self.clone())
    }
}

impl Fill for Told {
    fn fill(&self) -> Filling {
        Filling::Told(self.clone())
    }
}

impl Fill for Filling {
    fn fill(&self) -> Filling {
        self.clone()
    }
}

macro_rules! fill_as_written {
    ($($written:ty),+) => {
        $(impl Fill for $written {
            fn fill(&self) -> Filling {
                Filling::Plain(self.to_string())
            }
        })+
    };
}
fill_as_written!(
    usize,
    u16,
    u32,
    char,
    std::char::EscapeUnicode,
    crate::ClockTime,
    crate::CalendarDay
);

/// Says a text with its places filled: `told!("{name} is empty", name = field.name)`. A place is a plain name, and every one
/// is listed behind.
#[macro_export]
macro_rules! told {
    ($text:literal $(,)?) => {
        $crate::Told::plain($text)
    };
    ($text:literal, $($name:ident $(= $value:expr)?),+ $(,)?) => {
        $crate::Told::new(
            $text,
            [$((stringify!($name), $crate::Fill::fill(&$crate::told!(@value $name $(= $value)?)))),+],
        )
    };
    (@value $name:ident) => { $name };
    (@value $name:ident = $value:expr) => { $value };
}

/// An error shows what it tells.
macro_rules! shows_what_it_tells {
    ($($error:ty),+) => {
        $(impl std::fmt::Display for $error {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                self.told().fmt(f)
            }
        }

        impl std::error::Error for $error {})+
    };
}
pub(crate) use shows_what_it_tells;

/// Marks a text that is said later, by [`Told::plain`].
macro_rules! later {
    ($text:literal) => {
        $text
    };
}
pub(crate) use later;

#[cfg(test)]
mod tests {
    #[test]
    fn what_is_told_is_said_in_parts() {
        let told = told!(
            "{name} is {found}",
            name = "length",
            found = told!("a list")
        );
        assert_eq!(told.to_string(), "length is a list");
        let said = told.said(&|text| match text {
            "a list" => "una lista",
            "{name} is {found}" => "{found}: {name}",
            text => text,
        });
        assert_eq!(said, "una lista: length");
    }

    #[test]
    fn braces_that_were_typed_are_no_places() {
        let told = told!("{typed} is wrong", typed = "{typed}");
        assert_eq!(told.to_string(), "{typed} is wrong");
    }
}
