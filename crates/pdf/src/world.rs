//! All that the typesetter may see: one template, the content of one report, two fonts. No clock, no file, no network.

use std::collections::BTreeMap;
use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, PathError, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

/// The template, which holds no content.
const TEMPLATE: &str = include_str!("report.typ");
/// The name that the template goes by.
const MAIN: &str = "report.typ";
/// The face of the figures, in the weights that they use.
const FONTS: [&[u8]; 2] = [
    include_bytes!("../fonts/AtkinsonHyperlegibleNext-Regular.ttf"),
    include_bytes!("../fonts/AtkinsonHyperlegibleNext-Bold.ttf"),
];

/// A file by its name.
pub(crate) type NamedFile = (String, Vec<u8>);

/// The world of one report.
pub(crate) struct ReportWorld {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
    files: BTreeMap<String, Bytes>,
    main: Source,
}

impl ReportWorld {
    /// Makes a world of the files of one report.
    ///
    /// # Errors
    /// Where the typesetter does not take the name of the template for a path.
    pub(crate) fn new(files: Vec<NamedFile>) -> Result<Self, PathError> {
        let fonts: Vec<Font> = FONTS
            .into_iter()
            .flat_map(|bytes| Font::iter(Bytes::new(bytes)))
            .collect();
        let files = files.into_iter();
        Ok(Self {
            library: LazyHash::new(Library::default()),
            book: LazyHash::new(FontBook::from_fonts(&fonts)),
            fonts,
            files: files
                .map(|(name, bytes)| (name, Bytes::new(bytes)))
                .collect(),
            main: Source::new(main_id()?, TEMPLATE.to_owned()),
        })
    }
}

/// Returns the id of the template. Its name is one of the few that are ever interned, and those are never given back.
fn main_id() -> Result<FileId, PathError> {
    let path = VirtualPath::new(MAIN)?;
    Ok(RootedPath::new(VirtualRoot::Project, path).intern())
}

impl World for ReportWorld {
    fn library(&self) -> &LazyHash<Library> {
        &self.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &self.book
    }

    fn main(&self) -> FileId {
        self.main.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.main.id() {
            Ok(self.main.clone())
        } else {
            Err(FileError::NotSource)
        }
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let name = id.get().vpath().get_without_slash();
        let file = self.files.get(name).cloned();
        file.ok_or_else(|| FileError::NotFound(name.into()))
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.fonts.get(index).cloned()
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}
