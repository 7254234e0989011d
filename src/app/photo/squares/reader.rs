//! Reading a photograph of dyed squares off the window's thread, and looking for them.

use super::super::tiles::{Tile, cut};
use crate::photo::{FoundSquares, Photograph, find_squares};
use crate::store::read_photograph;
use crate::telling::{AnyRefusal, Told};
use egui::Context;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

/// The picture, what it is painted with, and what was found in it.
pub(super) struct Read {
    pub(super) photograph: Arc<Photograph>,
    pub(super) tiles: Vec<Tile>,
    pub(super) found: FoundSquares,
}

/// A thread that reads.
pub(super) struct Reader(Receiver<Result<Read, AnyRefusal>>);

impl std::fmt::Debug for Reader {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Reader")
    }
}

impl Reader {
    pub(super) fn begin(path: PathBuf, ctx: &Context) -> Self {
        let (sender, receiver) = channel();
        let ctx = ctx.clone();
        // Without a thread the receiver tells that nothing comes.
        let _spawned = std::thread::Builder::new().name("squares".to_owned()).spawn(move || {
            let read = read_photograph(&path).map(|photograph| {
                let (tiles, found) = (cut(&photograph), find_squares(&photograph));
                Read { photograph: Arc::new(photograph), tiles, found }
            });
            let _gone = sender.send(read.map_err(AnyRefusal::from));
            ctx.request_repaint();
        });
        Self(receiver)
    }

    /// What it read, once it has.
    pub(super) fn take(&self) -> Option<Result<Read, AnyRefusal>> {
        match self.0.try_recv() {
            Ok(read) => Some(read),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => {
                Some(Err(Told::new("the photograph couldn't be read", "close other programs, then try again").into()))
            }
        }
    }
}
