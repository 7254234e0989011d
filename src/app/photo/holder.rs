//! Measuring a photograph off the window's thread: with its stage, how far it is, and a way to stop it.

use crate::layout::Layout;
use crate::photo::{
    Findings, Marks, PhotoError, PhotoMeasure, Photograph, Plan, RegistrationOptions, RingLine, difference, findings, measure,
    planned, register, ring_lines, straightened,
};
use crate::reveal::{Cancel, Picture, PixelFrame, RevealError};
use crate::telling::{AnyRefusal, Told};
use egui::{ColorImage, Context, TextureHandle, TextureOptions};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};

/// What is done, one after the other.
const STAGES: [&str; 3] = ["Finding the outline…", "Computing the plan…", "Measuring…"];

/// A photograph that was measured, with its pictures.
pub(super) struct Held {
    /// Of these marks.
    pub(super) marks: Marks,
    pub(super) layout: Arc<Layout>,
    pub(super) measured: PhotoMeasure,
    pub(super) findings: Findings,
    pub(super) lines: Vec<RingLine>,
    /// Where the pixels of its pictures lie on the plan.
    pub(super) frame: PixelFrame,
    /// The photograph straightened, the plan, and their difference.
    pub(super) pictures: [TextureHandle; 3],
}

impl std::fmt::Debug for Held {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Held").field("findings", &self.findings).finish_non_exhaustive()
    }
}

/// What the thread made.
struct Made {
    plan: Arc<Plan>,
    measured: PhotoMeasure,
    findings: Findings,
    lines: Vec<RingLine>,
    pictures: [ColorImage; 3],
}

/// The plan of a layout, to be used again for other marks.
pub(super) type KnownPlan = Option<(Arc<Layout>, Arc<Plan>)>;

/// A measurement under way.
pub(super) struct Holder {
    marks: Marks,
    layout: Arc<Layout>,
    cancel: Cancel,
    stage: Arc<AtomicUsize>,
    receiver: Receiver<Result<Made, PhotoError>>,
}

impl std::fmt::Debug for Holder {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Holder").field("stage", &self.stage()).finish_non_exhaustive()
    }
}

impl Holder {
    /// Begins to measure.
    pub(super) fn begin(
        photograph: Arc<Photograph>,
        layout: Arc<Layout>,
        marks: Marks,
        known: &KnownPlan,
        ctx: &Context,
    ) -> Self {
        let (sender, receiver) = channel();
        let (cancel, stage) = (Cancel::new(), Arc::new(AtomicUsize::new(0)));
        let known = known.as_ref().filter(|(of, _)| Arc::ptr_eq(of, &layout)).map(|(_, plan)| plan.clone());
        let holder =
            Self { marks: marks.clone(), layout: layout.clone(), cancel: cancel.clone(), stage: stage.clone(), receiver };
        let egui = ctx.clone();
        // Without a thread the receiver tells that nothing comes.
        let _spawned = std::thread::Builder::new().name("photograph against plan".to_owned()).spawn(move || {
            let _gone = sender.send(make(&photograph, &layout, &marks, known, &cancel, &stage));
            egui.request_repaint();
        });
        holder
    }

    /// What is being done.
    pub(super) fn stage(&self) -> &'static str {
        STAGES[self.stage.load(Ordering::Relaxed).min(STAGES.len() - 1)]
    }

    /// How much is done, 0 to 1.
    pub(super) fn done(&self) -> f64 {
        // Outline and measurement take about as long as half of a plan each.
        match self.stage.load(Ordering::Relaxed) {
            0 => 0.05,
            1 => 0.25 + 0.5 * self.cancel.done(),
            _ => 0.8,
        }
    }

    /// The marks that are measured.
    pub(super) fn marks(&self) -> &Marks {
        &self.marks
    }

    pub(super) fn stop(&self) {
        self.cancel.cancel();
    }

    /// What came of it, once it has; why it can't be measured, which is none where it was stopped.
    pub(super) fn take(&self, known: &mut KnownPlan, ctx: &Context) -> Option<Result<Box<Held>, Option<AnyRefusal>>> {
        let made = match self.receiver.try_recv() {
            Err(TryRecvError::Empty) => return None,
            Err(TryRecvError::Disconnected) => {
                Err(Some(Told::new("the photograph couldn't be measured", "close other programs, then try again").into()))
            }
            Ok(Err(PhotoError::Reveal(RevealError::Cancelled))) => Err(None),
            Ok(made) => made.map_err(|error| Some(error.into())),
        };
        let held = made.map(|Made { plan, measured, findings, lines, pictures }| {
            *known = Some((self.layout.clone(), plan.clone()));
            let (marks, layout, frame) = (self.marks.clone(), self.layout.clone(), plan.frame());
            let pictures = pictures.map(|image| ctx.load_texture("photograph against plan", image, TextureOptions::LINEAR));
            Box::new(Held { marks, layout, measured, findings, lines, frame, pictures })
        });
        Some(held)
    }
}

impl Drop for Holder {
    fn drop(&mut self) {
        self.cancel.cancel();
    }
}

fn make(
    photograph: &Photograph,
    layout: &Layout,
    marks: &Marks,
    known: Option<Arc<Plan>>,
    cancel: &Cancel,
    stage: &AtomicUsize,
) -> Result<Made, PhotoError> {
    // What is wrong with marks or picture is told before the plan is computed.
    let registration = register(photograph, layout, marks, &RegistrationOptions::default(), cancel)?;
    stage.store(1, Ordering::Relaxed);
    let plan = match known.filter(|plan| plan.side() == marks.side) {
        Some(plan) => plan,
        None => Arc::new(Plan::of(layout, marks.side, cancel)?),
    };
    stage.store(2, Ordering::Relaxed);
    let measured = measure(photograph, &plan, marks, registration, cancel)?;
    let straight = straightened(photograph, &plan, &measured.registration, measured.light.as_ref());
    cancel.check()?;
    let off = difference(&straight, &plan);
    let image = |picture: Picture| ColorImage::from_rgba_unmultiplied([picture.width, picture.height], &picture.rgba);
    let pictures = [straight, planned(&plan), off].map(image);
    let findings = findings(&measured, plan.layout());
    let lines = ring_lines(&plan, &measured);
    Ok(Made { plan, measured, findings, lines, pictures })
}
