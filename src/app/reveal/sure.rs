//! How sure a reveal is: hatched where it may be off, and its two extremes. Computed on another thread when one of them is looked at.

use super::maker::{Look, Maker};
use super::paint::{self, Pictured};
use crate::app::canvas::Canvas;
use crate::app::context::Context;
use crate::app::field::choice;
use crate::app::job::Job;
use crate::app::theme::Palette;
use crate::layout::Layout;
use crate::learn::{Beliefs, Unsure};
use crate::measure::LengthStyle;
use crate::reveal::{Cancel, RevealError, RevealOptions, panel_frames};
use crate::store::read_learned;
use crate::telling::{Refused as _, Voice};
use egui::{ColorImage, Rect, RichText, TextureHandle, TextureOptions, Ui};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Pixels on which it is worked out, mm: finer than that nothing is told apart by its hatching.
const PIXEL_MM: f64 = 2.0;

/// What of it is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Sure {
    #[default]
    Expected,
    Hatched,
    Least,
    Most,
}

impl Sure {
    const ALL: [Self; 4] = [Self::Expected, Self::Hatched, Self::Least, Self::Most];

    const fn name(self) -> &'static str {
        match self {
            Self::Expected => "as expected",
            Self::Hatched => "hatched",
            Self::Least => "least dye",
            Self::Most => "most dye",
        }
    }

    /// The same beside a layout's name.
    const fn role(self) -> &'static str {
        match self {
            Self::Hatched => "hatched where unsure",
            other => other.name(),
        }
    }
}

/// How sure the reveal is.
#[derive(Default)]
pub(super) struct SureView {
    look: Sure,
    job: Option<Job<Of, WorkedOut>>,
    found: Option<Found>,
    refused: Option<(Of, RevealError)>,
    extreme: Maker,
}

/// How sure it is, and its hatching.
type WorkedOut = Result<(Unsure, ColorImage), RevealError>;

/// What it is worked out of: a layout, and what was learned.
#[derive(Clone)]
struct Of {
    layout: Arc<Layout>,
    learned: Option<PathBuf>,
}

impl Of {
    fn is(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.layout, &other.layout) && self.learned == other.learned
    }
}

/// What was found.
struct Found {
    of: Of,
    words: String,
    /// Least dye, and most.
    extremes: [Arc<Layout>; 2],
    hatching: TextureHandle,
}

impl SureView {
    /// The button by which it is looked at.
    pub(super) fn button(&mut self, ui: &mut Ui) {
        let words = "Hatch where the picture may be off, and show its extremes";
        if self.look == Sure::Expected && ui.button("How sure?").on_hover_text(words).clicked() {
            self.look = Sure::Hatched;
        }
    }

    /// The choice of what is looked at, and how sure it is; nothing of a picture as it is expected.
    pub(super) fn choices(&mut self, ctx: &Context<'_>, ui: &mut Ui) {
        if self.look == Sure::Expected {
            return;
        }
        if let Some(look) = choice(ui, "How sure", self.look, &Sure::ALL, |sure| sure.name().to_owned()) {
            self.look = look;
        }
        if self.look == Sure::Expected {
            // Nobody waits for it any more.
            self.job = None;
            return;
        }
        let of = of(ctx);
        match (&self.found, &self.refused) {
            (Some(found), _) if found.of.is(&of) => drop(ui.label(&found.words)),
            (_, Some((refused, error))) if refused.is(&of) => {
                ui.label(RichText::new(error.say(ctx.voice())).color(Palette::of(ui.ctx()).refused));
            }
            _ => {
                let done = self.job.as_ref().map_or(0.0, |job| job.cancel.done());
                ui.label(format!("Working out how sure it is… {:.0} %", 100.0 * done));
            }
        }
    }

    /// Shows what is looked at in place of the reveal; whether it does.
    pub(super) fn show(
        &mut self,
        ctx: &Context<'_>,
        now: &Maker,
        look: Look,
        room: Rect,
        canvas: &mut Canvas,
        ui: &mut Ui,
    ) -> bool {
        self.keep_up(ctx, ui);
        let of = of(ctx);
        let Some(found) = self.found.as_ref().filter(|found| found.of.is(&of)) else { return false };
        let (maker, layout, overlay) = match self.look {
            Sure::Expected => return false,
            // It lies on the fine picture.
            Sure::Hatched => {
                let is_fine = now.shown().is_some_and(|(shown, _)| shown.fine && Arc::ptr_eq(&shown.layout, ctx.layout));
                (now, ctx.layout, Some(&found.hatching).filter(|_| is_fine))
            }
            Sure::Least | Sure::Most => {
                let extreme = &found.extremes[usize::from(self.look == Sure::Most)];
                self.extreme.keep_up(extreme, look, ui.ctx());
                (&self.extreme, extreme, None)
            }
        };
        let pictured = Pictured { maker, layout, role: Some(self.look.role()), overlay };
        paint::reveal(ctx, &pictured, None, room, canvas, ui);
        true
    }

    /// Takes over what is done, and begins what is missing.
    fn keep_up(&mut self, ctx: &Context<'_>, ui: &Ui) {
        if let Some(job) = &self.job
            && let Ok(done) = job.take(ui.ctx())
        {
            let of = job.of.clone();
            self.job = None;
            match done {
                Some(Ok((unsure, image))) => self.found = Some(Found::of(of, &unsure, image, ui)),
                Some(Err(RevealError::Cancelled)) | None => {}
                Some(Err(error)) => self.refused = Some((of, error)),
            }
        }
        let of = of(ctx);
        let is_there = self.found.as_ref().is_some_and(|found| found.of.is(&of))
            || self.refused.as_ref().is_some_and(|(refused, _)| refused.is(&of))
            || self.job.as_ref().is_some_and(|job| job.of.is(&of));
        let is_held = ui.input(|input| input.pointer.any_down());
        if self.look == Sure::Expected || is_there || is_held {
            return;
        }
        let (layout, learned) = (of.layout.clone(), of.learned.clone());
        self.job = Job::begin("how sure", of, ui.ctx(), move |cancel| work_out(&layout, learned.as_deref(), cancel));
    }
}

impl Found {
    fn of(of: Of, unsure: &Unsure, image: ColorImage, ui: &Ui) -> Self {
        let extremes = unsure.extremes().each_ref().map(|tuning| Arc::new(of.layout.tuned(tuning)));
        let options = TextureOptions::LINEAR.with_mipmap_mode(Some(egui::TextureFilter::Linear));
        let hatching = ui.ctx().load_texture("hatching", image, options);
        // Nothing of it has a length.
        let words = unsure.sentence(Voice::window(LengthStyle::default()));
        Self { of, words, extremes, hatching }
    }
}

fn of(ctx: &Context<'_>) -> Of {
    // What was learned counts where the layout has its values; a file that is gone or wrong tells nothing.
    let learned = ctx.settings.learned.clone().filter(|_| ctx.layout.process().calibration.learned.is_some());
    Of { layout: ctx.layout.clone(), learned }
}

fn work_out(layout: &Layout, learned: Option<&Path>, cancel: &Cancel) -> WorkedOut {
    let learned = learned.and_then(|path| read_learned(path).ok());
    let options = RevealOptions { pixel_mm: PIXEL_MM, ..RevealOptions::default() };
    let unsure = Unsure::of(layout, &Beliefs::of(layout, learned.as_ref()), &options, cancel)?;
    let picture = unsure.hatching(&panel_frames(layout, &RevealOptions::default())?);
    Ok((unsure, ColorImage::from_rgba_unmultiplied([picture.width, picture.height], &picture.rgba)))
}
