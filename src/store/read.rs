//! Reading files that somebody else made: regular files only, and no more of one than can be meant. A pipe would wait for ever, a
//! device may never end.

use super::system::OwnFault;
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use std::fs::{self, File, Metadata};
use std::io::{self, Read as _};
use std::path::Path;

/// Why a file was not read.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum NotRead {
    /// The system refused, or it is no regular file.
    System(#[from] io::Error),
    /// It holds more than can be meant.
    TooLarge {
        /// Its size, or as much of it as was seen.
        bytes: u64,
        /// The limit.
        most: u64,
    },
}

displayed_as_in_files!(NotRead);

impl Refused for NotRead {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::System(error) => error.told(voice),
            Self::TooLarge { bytes, most } => {
                Told::new(format!("{bytes} bytes are too many"), format!("choose a file of at most {most}"))
            }
        }
    }
}

/// The whole content of a regular file of at most `most` bytes. A folder, pipe, socket or device is refused before it is opened,
/// and never more than `most + 1` bytes are held, whatever size the system tells.
///
/// # Errors
/// [`NotRead`].
pub fn read_regular(path: &Path, most: u64) -> Result<Vec<u8>, NotRead> {
    let file = open_regular(path)?;
    let told = file.metadata()?.len();
    if told > most {
        return Err(NotRead::TooLarge { bytes: told, most });
    }
    let mut bytes = Vec::new();
    file.take(most.saturating_add(1)).read_to_end(&mut bytes)?;
    let seen = bytes.len() as u64;
    if seen > most { Err(NotRead::TooLarge { bytes: seen, most }) } else { Ok(bytes) }
}

/// The same as text.
///
/// # Errors
/// [`NotRead`]; [`io::ErrorKind::InvalidData`] where it is not UTF-8.
pub fn read_regular_text(path: &Path, most: u64) -> Result<String, NotRead> {
    let not_text = |_error| NotRead::System(OwnFault::NotText.into());
    String::from_utf8(read_regular(path, most)?).map_err(not_text)
}

/// Opens a regular file for reading.
pub(super) fn open_regular(path: &Path) -> io::Result<File> {
    // Looked at before it is opened: opening a pipe waits for whoever writes into it.
    refuse_irregular(&fs::metadata(path)?)?;
    let file = File::open(path)?;
    refuse_irregular(&file.metadata()?)?;
    Ok(file)
}

/// Refuses what is no regular file, and says what it is.
pub(super) fn refuse_irregular(metadata: &Metadata) -> io::Result<()> {
    if metadata.is_file() {
        Ok(())
    } else if metadata.is_dir() {
        Err(OwnFault::Folder.into())
    } else {
        Err(special(metadata).into())
    }
}

#[cfg(unix)]
fn special(metadata: &Metadata) -> OwnFault {
    use std::os::unix::fs::FileTypeExt as _;
    let kind = metadata.file_type();
    if kind.is_fifo() {
        OwnFault::Pipe
    } else if kind.is_socket() {
        OwnFault::Socket
    } else {
        OwnFault::Device
    }
}

#[cfg(not(unix))]
fn special(_metadata: &Metadata) -> OwnFault {
    OwnFault::Device
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_read_up_to_the_limit() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("tee.ron");
        fs::write(&path, "12345").unwrap();
        assert_eq!(read_regular(&path, 5).unwrap(), b"12345");
        assert!(matches!(read_regular(&path, 4), Err(NotRead::TooLarge { bytes: 5, most: 4 })));
        fs::write(&path, [0xff]).unwrap();
        assert!(read_regular_text(&path, 5).unwrap_err().to_string().starts_with("it is not text"));
        assert_eq!(read_regular(folder.path(), 5).unwrap_err().to_string(), "it is a folder; name a file");
        assert_eq!(
            read_regular(&folder.path().join("none"), 5).unwrap_err().to_string(),
            "there is no such file; check its name and folder"
        );
    }

    /// Reading a pipe used to wait for ever, reading an endless device took all memory.
    #[cfg(unix)]
    #[test]
    fn pipes_sockets_and_endless_files_are_refused_at_once() {
        let folder = tempfile::tempdir().unwrap();
        let socket = folder.path().join("socket");
        let _listens = std::os::unix::net::UnixListener::bind(&socket).unwrap();
        assert_eq!(read_regular(&socket, 5).unwrap_err().to_string(), "it is a socket, not a file; name a file");
        assert_eq!(read_regular(Path::new("/dev/zero"), 5).unwrap_err().to_string(), "it is a device, not a file; name a file");
        let pipe = folder.path().join("pipe");
        assert!(std::process::Command::new("mkfifo").arg(&pipe).status().unwrap().success());
        assert_eq!(read_regular(&pipe, 5).unwrap_err().to_string(), "it is a pipe, not a file; name a file");
    }

    /// Such a file tells a size of 0 and holds more.
    #[cfg(target_os = "linux")]
    #[test]
    fn a_size_that_is_told_too_small_does_not_help() {
        let path = Path::new("/proc/self/maps");
        assert_eq!(fs::metadata(path).unwrap().len(), 0);
        assert!(matches!(read_regular(path, 100), Err(NotRead::TooLarge { bytes: 101, most: 100 })));
    }
}
