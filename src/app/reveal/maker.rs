//! Making reveals off the window's thread: coarse while a hand moves, fine when it rests.

use crate::app::context as app;
use crate::layout::Layout;
use crate::reveal::colour::DyeSet;
use crate::reveal::{Cancel, PictureMap, Reveal, RevealError, RevealOptions, Texture, picture_until, reveal_doses_after};
use egui::{ColorImage, Context, TextureHandle, TextureOptions};
use rayon::{ThreadPool, ThreadPoolBuilder};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::sync::{Arc, LazyLock};
use std::time::Duration;

/// What a picture shows, and how.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Look {
    pub(crate) map: PictureMap,
    pub(crate) texture: Texture,
}

/// A reveal as it is shown.
pub(super) struct Shown {
    pub(super) layout: Arc<Layout>,
    pub(super) reveal: Arc<Reveal>,
    pub(super) dyes: DyeSet,
    pub(super) look: Look,
    /// Whether it is as fine as a picture that is saved, or coarse enough to follow a hand.
    pub(super) fine: bool,
}

/// A reveal that another thread is at.
struct Job {
    layout: Arc<Layout>,
    look: Look,
    fine: bool,
    cancel: Cancel,
    receiver: Receiver<Result<(Shown, ColorImage), RevealError>>,
}

/// Keeps up with a layout.
#[derive(Default)]
pub(super) struct Maker {
    shown: Option<(Arc<Shown>, TextureHandle)>,
    job: Option<Job>,
    refused: Option<(Arc<Layout>, RevealError)>,
    /// The layout seen last, and when it came.
    seen: Option<(Arc<Layout>, f64)>,
}

/// How long a hand has to rest before the fine reveal is begun, seconds.
const REST_S: f64 = 0.25;
/// How often running work is looked at.
const LOOK_EVERY: Duration = Duration::from_millis(16);

/// Where coarse reveals are made. A core stays free of them: a hand is moving, and frames that wait for a core stutter.
static BESIDE_A_HAND: LazyLock<Option<ThreadPool>> =
    LazyLock::new(|| ThreadPoolBuilder::new().num_threads(cores().saturating_sub(1).max(1)).build().ok());

/// Fewest cores on which a coarse reveal is made while a hand's changes are worked out: one for frames, one for either.
const CORES_FOR_BOTH: usize = 3;

/// Cores of this machine, as far as it tells.
fn cores() -> usize {
    std::thread::available_parallelism().map_or(1, usize::from)
}

impl Maker {
    /// What is shown, if anything is yet.
    pub(super) fn shown(&self) -> Option<&(Arc<Shown>, TextureHandle)> {
        self.shown.as_ref()
    }

    /// Why there is nothing to show for this layout.
    pub(super) fn refusal(&self, layout: &Arc<Layout>) -> Option<&RevealError> {
        self.refused.as_ref().filter(|(refused, _)| Arc::ptr_eq(refused, layout)).map(|(_, error)| error)
    }

    /// How much of a fine reveal is done, 0 to 1, while one is under way.
    pub(super) fn refining(&self) -> Option<f64> {
        self.job.as_ref().filter(|job| job.fine).map(|job| job.cancel.done())
    }

    /// Keeps up with the layout of a view; while a hand is ahead of its changes, a reveal is begun only where there is a core to spare.
    pub(super) fn keep_up_with(&mut self, view: &app::Context<'_>, look: Look, ctx: &Context) {
        if self.is_free_for(view.layout, look, ctx) && !(view.is_followed && cores() < CORES_FOR_BOTH) {
            self.begin_missing(view.layout, look, ctx);
        }
    }

    /// Takes over what is done, and begins what is missing.
    pub(super) fn keep_up(&mut self, layout: &Arc<Layout>, look: Look, ctx: &Context) {
        if self.is_free_for(layout, look, ctx) {
            self.begin_missing(layout, look, ctx);
        }
    }

    /// Takes over what is done, and sees what is to be shown. Whether nothing is under way and nothing was refused.
    fn is_free_for(&mut self, layout: &Arc<Layout>, look: Look, ctx: &Context) -> bool {
        self.take_over(ctx);
        if !self.seen.as_ref().is_some_and(|(seen, _)| Arc::ptr_eq(seen, layout)) {
            self.seen = Some((layout.clone(), ctx.input(|input| input.time)));
        }
        if let Some(job) = &self.job {
            // A coarse one is soon done, and a hand that drags wants to see something; a fine one would be in the way.
            if job.fine && !(Arc::ptr_eq(&job.layout, layout) && job.look == look) {
                job.cancel.cancel();
            }
            ctx.request_repaint_after(LOOK_EVERY);
        }
        self.job.is_none() && self.refusal(layout).is_none()
    }

    fn begin_missing(&mut self, layout: &Arc<Layout>, look: Look, ctx: &Context) {
        let now = ctx.input(|input| input.time);
        let since = self.seen.as_ref().map_or(0.0, |(_, since)| now - since);
        let rests = since >= REST_S && !ctx.input(|input| input.pointer.any_down());
        let current = self.shown.as_ref().map(|(shown, _)| shown).filter(|shown| Arc::ptr_eq(&shown.layout, layout));
        match current {
            None => self.begin(layout, look, false, ctx),
            Some(shown) if shown.fine && shown.look == look => {}
            Some(shown) if shown.look != look => self.begin(layout, look, shown.fine, ctx),
            Some(_) if rests => self.begin(layout, look, true, ctx),
            Some(_) => ctx.request_repaint_after(Duration::from_secs_f64((REST_S - since).max(0.02))),
        }
    }

    fn begin(&mut self, layout: &Arc<Layout>, look: Look, fine: bool, ctx: &Context) {
        let earlier = self.shown.as_ref().map(|(shown, _)| shown.clone());
        let (sender, receiver) = channel();
        let cancel = Cancel::new();
        let job = Job { layout: layout.clone(), look, fine, cancel: cancel.clone(), receiver };
        let (layout, egui) = (layout.clone(), ctx.clone());
        let spawned = std::thread::Builder::new().name("reveal".to_owned()).spawn(move || {
            let make = || make(layout, look, fine, earlier.as_deref(), &cancel);
            let made = match BESIDE_A_HAND.as_ref().filter(|_| !fine) {
                Some(pool) => pool.install(make),
                None => make(),
            };
            let _gone = sender.send(made);
            egui.request_repaint();
        });
        self.job = spawned.is_ok().then_some(job);
        ctx.request_repaint_after(LOOK_EVERY);
    }

    fn take_over(&mut self, ctx: &Context) {
        let Some(job) = &self.job else { return };
        let result = match job.receiver.try_recv() {
            Err(TryRecvError::Empty) => return,
            Ok(result) => result,
            Err(TryRecvError::Disconnected) => Err(RevealError::Cancelled),
        };
        let layout = job.layout.clone();
        self.job = None;
        match result {
            Ok((shown, image)) => {
                let options = TextureOptions::LINEAR.with_mipmap_mode(Some(egui::TextureFilter::Linear));
                let texture = match self.shown.take() {
                    Some((_, mut texture)) => {
                        texture.set(image, options);
                        texture
                    }
                    None => ctx.load_texture("reveal", image, options),
                };
                self.shown = Some((Arc::new(shown), texture));
            }
            Err(RevealError::Cancelled) => {}
            Err(error) => self.refused = Some((layout, error)),
        }
    }
}

impl Drop for Maker {
    fn drop(&mut self) {
        if let Some(job) = &self.job {
            job.cancel.cancel();
        }
    }
}

fn make(
    layout: Arc<Layout>,
    look: Look,
    fine: bool,
    earlier: Option<&Shown>,
    cancel: &Cancel,
) -> Result<(Shown, ColorImage), RevealError> {
    let same = earlier.filter(|earlier| Arc::ptr_eq(&earlier.layout, &layout) && earlier.fine == fine);
    let reveal = match same {
        Some(earlier) => earlier.reveal.clone(),
        None => {
            let options = if fine { RevealOptions::default() } else { RevealOptions::preview() };
            let before = earlier.filter(|earlier| earlier.fine == fine).map(|earlier| &*earlier.reveal);
            Arc::new(reveal_doses_after(&layout, &options, before, cancel)?)
        }
    };
    let dyes = DyeSet::of_layout(&layout, None);
    let picture = picture_until(&reveal, &dyes, look.map, look.texture, cancel)?;
    let image = ColorImage::from_rgba_unmultiplied([picture.width, picture.height], &picture.rgba);
    Ok((Shown { layout, reveal, dyes, look, fine }, image))
}
