//! Why a photograph was not read.

use crate::store::journal::PhotoProblem;
use crate::store::system::file_said;
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use std::path::PathBuf;

/// A photograph that was not read.
#[derive(Debug, thiserror::Error)]
pub struct PhotographError {
    /// Its file.
    pub path: PathBuf,
    /// What is wrong.
    pub problem: PhotographProblem,
}

/// What is wrong with a photograph.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum PhotographProblem {
    /// The file, or its size.
    Photo(#[from] PhotoProblem),
    /// HEIC, whose decoders are neither free nor written in Rust.
    Heic,
    /// Another kind of picture, or none.
    Kind,
    /// Its colour profile can't be read.
    Profile {
        /// Its size.
        bytes: usize,
    },
}

displayed_as_in_files!(PhotographError, PhotographProblem);

impl Refused for PhotographError {
    fn told(&self, voice: Voice) -> Told {
        self.problem.told(voice).at(file_said(&self.path, voice))
    }
}

impl Refused for PhotographProblem {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Photo(PhotoProblem::Outside) => {
                Told::new("a JPEG of a kind that cameras do not write", "export it again as an ordinary JPEG")
            }
            Self::Photo(problem) => problem.told(voice),
            Self::Heic => Told::new(
                "HEIC pictures can't be measured",
                "export it as JPEG, or set the camera to its most compatible format and photograph again",
            ),
            Self::Kind => Told::new("not a photograph that can be measured", "choose a JPEG, PNG, WebP or TIFF file"),
            Self::Profile { bytes } => {
                Told::new(format!("its colour profile of {bytes} bytes can't be read"), "export it again in the colours of sRGB")
            }
        }
    }
}
