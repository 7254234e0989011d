//! Reading a photograph off the window's thread: the picture first, then the marks that are kept beside it, or points that are found in it.

use super::tiles::{Tile, cut};
use crate::geometry::Panel;
use crate::layout::Layout;
use crate::photo::{FoundPoints, Marks, Photograph, check_names, find_points};
use crate::reveal::Cancel;
use crate::store::{read_marks, read_photograph};
use crate::telling::{AnyRefusal, Told};
use egui::Context;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};

/// Something that came.
pub(super) enum Came {
    /// The picture.
    Picture(Arc<Photograph>, Vec<Tile>),
    /// What was found in it, and the marks of the file beside it, where there is one.
    Found(Box<FoundPoints>, Option<Result<Marks, AnyRefusal>>),
}

/// A thread that reads.
pub(super) struct Reader {
    receiver: Receiver<Result<Came, AnyRefusal>>,
    cancel: Cancel,
    /// Whether the picture is read already.
    pub(super) has_picture: bool,
}

impl std::fmt::Debug for Reader {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Reader").field("has_picture", &self.has_picture).finish_non_exhaustive()
    }
}

impl Reader {
    /// Reads a file, and the marks beside it.
    pub(super) fn begin(path: PathBuf, marks: PathBuf, layout: Arc<Layout>, side: Panel, ctx: &Context) -> Self {
        Self::spawn(false, ctx, move |told, cancel| {
            let photograph = Arc::new(read_photograph(&path)?);
            told.tell(Came::Picture(photograph.clone(), cut(&photograph)));
            found(&photograph, &layout, side, marks.is_file().then_some(&*marks), cancel)
        })
    }

    /// Looks for points once more; with the marks of a file, if one is named.
    pub(super) fn again(
        photograph: Arc<Photograph>,
        layout: Arc<Layout>,
        side: Panel,
        marks: Option<PathBuf>,
        ctx: &Context,
    ) -> Self {
        Self::spawn(true, ctx, move |_, cancel| found(&photograph, &layout, side, marks.as_deref(), cancel))
    }

    fn spawn(
        has_picture: bool,
        ctx: &Context,
        work: impl FnOnce(&Teller, &Cancel) -> Result<Came, AnyRefusal> + Send + 'static,
    ) -> Self {
        let (sender, receiver) = channel();
        let (cancel, egui) = (Cancel::new(), ctx.clone());
        let stops = cancel.clone();
        // Without a thread the receiver tells that nothing comes.
        let _spawned = std::thread::Builder::new().name("photograph".to_owned()).spawn(move || {
            let teller = Teller { sender, egui };
            let last = work(&teller, &stops);
            teller.send(last);
        });
        Self { receiver, cancel, has_picture }
    }

    /// What came since; an error is the last that comes.
    pub(super) fn take(&mut self) -> Option<Result<Came, AnyRefusal>> {
        match self.receiver.try_recv() {
            Ok(came) => {
                self.has_picture = true;
                Some(came)
            }
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => {
                Some(Err(Told::new("the photograph couldn't be read", "close other programs, then try again").into()))
            }
        }
    }
}

impl Drop for Reader {
    fn drop(&mut self) {
        self.cancel.cancel();
    }
}

struct Teller {
    sender: Sender<Result<Came, AnyRefusal>>,
    egui: Context,
}

impl Teller {
    fn tell(&self, came: Came) {
        self.send(Ok(came));
    }

    fn send(&self, came: Result<Came, AnyRefusal>) {
        let _gone = self.sender.send(came);
        self.egui.request_repaint();
    }
}

/// Points of this side, or of the side that a file of marks is of.
fn found(
    photograph: &Photograph,
    layout: &Layout,
    side: Panel,
    marks: Option<&Path>,
    cancel: &Cancel,
) -> Result<Came, AnyRefusal> {
    let kept = marks.map(|path| marks_for(layout, path));
    let side = kept.as_ref().and_then(|kept| kept.as_ref().ok()).map_or(side, |marks| marks.side);
    Ok(Came::Found(Box::new(find_points(photograph, layout, side, cancel)?), kept))
}

/// The marks in a file, where they are of this garment.
fn marks_for(layout: &Layout, path: &Path) -> Result<Marks, AnyRefusal> {
    let marks = read_marks(path)?;
    check_names(layout, &marks)?;
    Ok(marks)
}
