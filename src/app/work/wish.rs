//! Rings that are wished for: shown, taken from a photograph or a file, saved.

use super::App;
use crate::app::step::Step;
use crate::app::wish::WishAsk;
use crate::edit::Document;
use crate::store::{FileKind, file_said, path_from, read_wish_alone, refuse_other_kind, save, wish_layout_path, wish_text};
use crate::telling::{AnyRefusal, Told};
use crate::wish::Wish;
use egui::Context;
use std::path::Path;

impl App {
    /// Shows the wish, or puts it away where it shows.
    pub(super) fn wish(&mut self) {
        if self.step == Step::Reveal || !self.reveal.shows_wish() {
            self.reveal.turn_wish();
        }
        self.step = Step::Reveal;
    }

    pub(super) fn do_wish(&mut self, ask: WishAsk, ctx: &Context) {
        let Some(layout) = self.document.as_ref().map(Document::layout) else { return };
        match ask {
            WishAsk::Like(path) => {
                self.reveal.wish().begin_like(path, layout, ctx);
                self.step = Step::Reveal;
            }
            WishAsk::Open(path) => {
                let taken = self.open_wish(&path);
                self.tell(taken);
            }
            WishAsk::Save(path) => {
                let saved = self.save_wish(&path);
                self.tell(saved);
            }
        }
    }

    fn open_wish(&mut self, path: &Path) -> Result<String, AnyRefusal> {
        let Some(document) = &self.document else { return Ok(String::new()) };
        let wish = read_wish_alone(path)?;
        wish.check_on(document.layout())?;
        let named = std::path::absolute(wish_layout_path(path, &wish)).ok();
        let open = document.path().and_then(|path| std::path::absolute(path).ok());
        let beside =
            if named == open { String::new() } else { format!("; it names {}, but the open layout is used", wish.layout) };
        let words = format!("Took up \"{}\"{beside}", wish.name);
        self.reveal.wish().take_up(wish);
        self.step = Step::Reveal;
        Ok(words)
    }

    fn save_wish(&mut self, path: &Path) -> Result<String, AnyRefusal> {
        let Some(document) = &self.document else { return Ok(String::new()) };
        let unnamed =
            || Told::new("the layout is in no file yet, and a wish names the file of its layout", "save the layout first");
        let file = document.path().ok_or_else(unnamed)?.to_owned();
        let wish = self.reveal.wish().wish(document.layout());
        wish.check_on(document.layout())?;
        let [wish_file, layout_file] = [path, &file].map(|path| std::path::absolute(path).unwrap_or_else(|_| path.to_owned()));
        let folder = wish_file.parent().unwrap_or_else(|| Path::new(""));
        let wish = Wish { layout: path_from(folder, &layout_file), ..wish };
        refuse_other_kind(path, FileKind::Wish, None)?;
        save(path, wish_text(&wish).as_bytes())?;
        Ok(format!("Saved the wish to {}", file_said(path, self.voice())))
    }
}
