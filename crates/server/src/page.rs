//! The files of the page: those that were built in, or those of a folder.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::path::Path;
use std::{fs, io};

/// What was there when this crate was built.
mod built_in {
    include!(concat!(env!("OUT_DIR"), "/page.rs"));
}

/// The file that is sent for the folder itself.
pub const INDEX: &str = "index.html";

/// The files of a page, by name.
#[derive(Clone, Debug, Default)]
pub struct Page {
    files: BTreeMap<String, Cow<'static, [u8]>>,
}

impl Page {
    /// Returns the page that was built in, where there was one.
    pub fn built_in() -> Option<Self> {
        let files = built_in::FILES.iter();
        let files = files.map(|&(name, bytes)| (name.to_owned(), Cow::Borrowed(bytes)));
        Self::whole(files.collect())
    }

    /// Reads the page of a folder; `None` where the folder has none.
    pub fn of_folder(folder: &Path) -> io::Result<Option<Self>> {
        let mut files = BTreeMap::new();
        for entry in fs::read_dir(folder)? {
            let path = entry?.path();
            if path.is_file() {
                let name = path.file_name().unwrap_or_default().to_string_lossy();
                files.insert(name.into_owned(), Cow::Owned(fs::read(&path)?));
            }
        }
        Ok(Self::whole(files))
    }

    /// Takes files as a page, if one opens it.
    fn whole(files: BTreeMap<String, Cow<'static, [u8]>>) -> Option<Self> {
        files.contains_key(INDEX).then_some(Self { files })
    }

    /// Returns the bytes of a file.
    pub fn file(&self, name: &str) -> Option<Cow<'static, [u8]>> {
        self.files.get(name).cloned()
    }

    /// Leaves a file out.
    #[must_use]
    pub fn without(mut self, name: &str) -> Self {
        self.files.remove(name);
        self
    }

    /// Puts a file in, in the place of one of that name.
    #[must_use]
    pub fn with(mut self, name: &str, bytes: Vec<u8>) -> Self {
        self.files.insert(name.to_owned(), Cow::Owned(bytes));
        self
    }

    /// Returns the names of the files, in order.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.files.keys().map(String::as_str)
    }
}
