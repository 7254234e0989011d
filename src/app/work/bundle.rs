//! Bundles: one to hand on, and one that was handed on.

use super::App;
use super::busy::Finished;
use crate::app::brought::Brought;
use crate::app::dialog::Dialog;
use crate::app::step::Step;
use crate::edit::Document;
use crate::reveal::colour::DyeSet;
use crate::reveal::{PictureMap, RevealOptions, Texture, picture_until, reveal_doses};
use crate::store::{Bundle, FileKind, picture_png, read_bundle, refuse_other_kind, save};
use crate::telling::AnyRefusal;
use std::path::{Path, PathBuf};

impl App {
    /// Opens a bundle: its layout as a new one, and what else it brought is offered.
    pub(super) fn open_bundle(&mut self, path: &Path) {
        match read_bundle(path) {
            Ok(Bundle { layout, presets, swatches, .. }) => {
                self.take(Document::unsaved(layout), Step::Fold);
                let brought = Brought {
                    presets: self.presets.unknown(presets),
                    swatches: swatches.and_then(|book| self.swatches.unknown(&book)),
                };
                if brought.is_empty() {
                    self.tell(Ok(format!("Opened {} as a new layout", path.display())));
                } else {
                    self.dialog = Some(Dialog::Brought(brought));
                }
            }
            Err(error) => self.refuse(error),
        }
    }

    /// Keeps what a bundle brought.
    pub(super) fn keep_brought(&mut self, brought: &Brought) {
        let kept = self.presets.keep(&brought.presets).and_then(|presets| {
            let swatches = brought.swatches.as_ref().map(|book| self.swatches.take_in(book)).transpose()?;
            Ok([Some(presets).filter(|words| !words.is_empty()), swatches].into_iter().flatten().collect::<Vec<_>>().join("; "))
        });
        self.tell(kept);
    }

    /// Computes the reveal finely and writes the bundle, on another thread.
    pub(super) fn save_bundle(&mut self, path: PathBuf, ctx: &egui::Context) {
        let Some(document) = &self.document else { return };
        let bundle = refuse_other_kind(&path, FileKind::Bundle, None)
            .map_err(AnyRefusal::from)
            .and_then(|()| Ok(Bundle::of((**document.layout()).clone(), &self.presets.own(), &self.swatches.book()?)?));
        let mut bundle = match bundle {
            Ok(bundle) => bundle,
            Err(refused) => return self.refuse(refused),
        };
        self.begin_busy(&format!("Saving the bundle to {}", path.display()), ctx, move |handle| {
            let options = RevealOptions::default();
            let reveal = reveal_doses(&bundle.layout, &options, &handle.cancel)?;
            let dyes = DyeSet::of_layout(&bundle.layout, None);
            let picture = picture_until(&reveal, &dyes, PictureMap::Cloth, Texture::Faint, &handle.cancel)?;
            bundle.picture = Some(picture_png(&picture, options.pixel_mm)?);
            let bytes = bundle.bytes().map_err(|problem| problem.of(&path))?;
            save(&path, &bytes)?;
            Ok(Finished {
                words: format!("Saved {}: layout, presets, swatches and picture to hand on", path.display()),
                to: path,
            })
        });
    }
}
