//! What the system, or this program in its place, says of a file.

use crate::telling::{Refused, Told, Voice};
use std::fmt;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

/// Why this program itself won't have a file, as the inside of an [`io::Error`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum OwnFault {
    /// It is a folder.
    Folder,
    /// It is a pipe.
    Pipe,
    /// It is a socket.
    Socket,
    /// It is a device.
    Device,
    /// Its bytes are no UTF-8.
    NotText,
    /// There is no folder for it.
    NoFolder,
    /// What should be its folder is a file.
    FolderIsFile,
    /// Another program saves in its folder.
    FolderBusy,
    /// It is a link that leads to itself.
    LinkCircle,
    /// Whoever made it wanted it left alone.
    Protected,
}

impl OwnFault {
    /// Every one.
    #[cfg(test)]
    pub(crate) const ALL: [Self; 10] = [
        Self::Folder,
        Self::Pipe,
        Self::Socket,
        Self::Device,
        Self::NotText,
        Self::NoFolder,
        Self::FolderIsFile,
        Self::FolderBusy,
        Self::LinkCircle,
        Self::Protected,
    ];

    const fn words(self) -> [&'static str; 2] {
        match self {
            Self::Folder => ["it is a folder", "name a file"],
            Self::Pipe => ["it is a pipe, not a file", "name a file"],
            Self::Socket => ["it is a socket, not a file", "name a file"],
            Self::Device => ["it is a device, not a file", "name a file"],
            Self::NotText => ["it is not text", "choose a file of this program"],
            Self::NoFolder => ["there is no such folder", "make it, or choose another"],
            Self::FolderIsFile => ["what should be its folder is a file", "choose another folder"],
            Self::FolderBusy => ["another program is saving in that folder", "try again in a moment"],
            Self::LinkCircle => ["its links lead in a circle", "name the file that they should lead to"],
            Self::Protected => ["it is write-protected", "allow writing to it, or give another name"],
        }
    }

    const fn kind(self) -> ErrorKind {
        match self {
            Self::Folder => ErrorKind::IsADirectory,
            Self::Pipe | Self::Socket | Self::Device | Self::LinkCircle => ErrorKind::InvalidInput,
            Self::NotText => ErrorKind::InvalidData,
            Self::NoFolder => ErrorKind::NotFound,
            Self::FolderIsFile => ErrorKind::NotADirectory,
            Self::FolderBusy => ErrorKind::ResourceBusy,
            Self::Protected => ErrorKind::PermissionDenied,
        }
    }
}

impl fmt::Display for OwnFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.words()[0])
    }
}

impl std::error::Error for OwnFault {}

impl From<OwnFault> for io::Error {
    fn from(fault: OwnFault) -> Self {
        Self::new(fault.kind(), fault)
    }
}

/// The system's refusal, without its numbers.
impl Refused for io::Error {
    fn told(&self, _voice: Voice) -> Told {
        if let Some(fault) = self.get_ref().and_then(|inner| inner.downcast_ref::<OwnFault>()) {
            let [what, cure] = fault.words();
            return Told::new(what, cure);
        }
        let (what, cure) = match self.kind() {
            ErrorKind::NotFound => ("there is no such file", "check its name and folder"),
            ErrorKind::PermissionDenied => ("the system does not allow it", "ask for permission, or choose another place"),
            ErrorKind::IsADirectory => OwnFault::Folder.words().into(),
            ErrorKind::NotADirectory => OwnFault::FolderIsFile.words().into(),
            ErrorKind::ReadOnlyFilesystem => ("the place can only be read", "choose another place"),
            ErrorKind::StorageFull => ("the disk is full", "free some space on it, or save in another place"),
            ErrorKind::QuotaExceeded => ("your share of the disk is full", "free some of it, or save in another place"),
            ErrorKind::InvalidFilename => ("no file can have that name", "choose another"),
            ErrorKind::InvalidData => OwnFault::NotText.words().into(),
            _ => {
                let words = self.to_string();
                return Told::new(words.split(" (os error").next().unwrap_or(&words), "try again, or choose another place");
            }
        };
        Told::new(what, cure)
    }
}

/// A file as a sentence names it: its path for whoever wrote the path, its name for whoever chose it in the window.
pub(crate) fn file_said(path: &Path, voice: Voice) -> String {
    match path.file_name() {
        Some(name) if !voice.has_keys() => format!("\"{}\"", name.to_string_lossy()),
        _ => path.display().to_string(),
    }
}

/// What was to be done with a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FileWork {
    /// To make it, or its folder.
    Make,
    /// To remove it.
    Remove,
    /// To give it another name.
    PutAway,
    /// To open it in another program.
    OpenOutside,
    /// To list what is in it.
    List,
}

/// Why something was not done with a file beside reading and writing it.
#[derive(Debug)]
pub struct FileFault {
    /// The file or folder.
    pub path: PathBuf,
    /// What was to be done.
    pub work: FileWork,
    /// What the system said.
    pub source: io::Error,
}

impl FileFault {
    /// For [`Result::map_err`].
    pub fn of(path: &Path, work: FileWork) -> impl FnOnce(io::Error) -> Self {
        let path = path.to_owned();
        move |source| Self { path, work, source }
    }
}

impl Refused for FileFault {
    fn told(&self, voice: Voice) -> Told {
        let done = match self.work {
            FileWork::Make => "made",
            FileWork::Remove => "removed",
            FileWork::PutAway => "moved aside",
            FileWork::OpenOutside => "opened in another program",
            FileWork::List => "listed",
        };
        not_done(&self.path, done, &self.source, voice)
    }
}

/// What the system said of a file that was to be `done`: read, written.
pub(crate) fn not_done(path: &Path, done: &str, source: &io::Error, voice: Voice) -> Told {
    let mut told = source.told(voice);
    let own = source.get_ref().and_then(|inner| inner.downcast_ref::<OwnFault>());
    // Where the file is named by its name alone, its folder would be nowhere.
    if let (Some(OwnFault::NoFolder), false, Some(folder)) = (own, voice.has_keys(), path.parent()) {
        told.what = format!("there is no folder \"{}\"", folder.display());
    }
    Told::new(format!("could not be {done}: {}", told.what), told.cure).at(file_said(path, voice))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::LengthStyle;

    #[test]
    fn a_file_is_named_by_its_path_or_by_its_name() {
        let full = io::Error::from(ErrorKind::StorageFull);
        let said = |voice| {
            let told = not_done(Path::new("work/tee.ron"), "written", &full, voice);
            format!("{}: {}; {}", told.place, told.what, told.cure)
        };
        let why = "could not be written: the disk is full; free some space on it, or save in another place";
        assert_eq!(said(Voice::FILE), format!("work/tee.ron: {why}"));
        assert_eq!(said(Voice::window(LengthStyle::default())), format!("\"tee.ron\": {why}"));
        let none = not_done(
            Path::new("/work/none/tee.ron"),
            "written",
            &OwnFault::NoFolder.into(),
            Voice::window(LengthStyle::default()),
        );
        assert_eq!(none.what, "could not be written: there is no folder \"/work/none\"");
    }
}
