//! From a layout to the doses on its opened cloth.

use super::binds::RodBind;
use super::clamp::Clamp;
use super::dose::{DoseField, RodDoses, discharge_system};
use super::grid::{GridSpec, RodGrid};
use super::loose::{LooseCloth, LooseDoses};
use super::mask::PixelFrame;
use super::parted::{check_count, solve_all_dyes};
use super::solver::SolveOptions;
use super::summary::{SectionReveal, summarise};
use super::table::DoseTable;
use super::unfold::{DoseMap, Unfold};
use super::wound::Wound;
use super::{Cancel, RevealError, RevealLength, several};
use crate::geometry::{Bind, Bundle, Panel, RodSize};
use crate::layout::{DyeFields, Layout};
use kurbo::Rect;
use std::ops::Range;
use std::sync::Arc;

/// Into which cells the rod is cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cells {
    /// As fine as its pleats ask for: [`GridSpec::fine`].
    Fine,
    /// As coarse as they may be while a hand drags: [`GridSpec::preview`].
    Preview,
    /// These.
    Of(GridSpec),
}

/// How finely a reveal is computed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RevealOptions {
    /// Edge of a pixel, mm: 1 unless said otherwise.
    pub pixel_mm: f64,
    /// The rod's cells; [`Cells::Fine`] unless said otherwise.
    pub cells: Cells,
    /// The solver: unless said otherwise to a residual of 3e-4, which leaves doses of the example tee within 0.002 of exact ones, half
    /// of what 8 bits of colour can show (measured).
    pub solve: SolveOptions,
    /// Room left around the cloth, mm: 4 unless said otherwise.
    pub margin_mm: f64,
    /// Most pixels, front and back together: [`MOST_PIXELS`] unless said otherwise, fewer where several pictures are made at once.
    pub most_pixels: usize,
}

impl Default for RevealOptions {
    fn default() -> Self {
        Self {
            pixel_mm: 1.0,
            cells: Cells::Fine,
            solve: SolveOptions { residual: 3e-4, ..SolveOptions::default() },
            margin_mm: 4.0,
            most_pixels: MOST_PIXELS,
        }
    }
}

impl RevealOptions {
    /// Coarse enough to follow a hand that drags; doses of the example tee are within 0.005 of exact ones on the same grid (measured).
    #[must_use]
    pub fn preview() -> Self {
        let solve = SolveOptions { residual: 3e-3, ..SolveOptions::default() };
        Self { pixel_mm: 3.0, cells: Cells::Preview, solve, ..Self::default() }
    }
}

/// Most pixels of a picture, front and back together: two panels of A0 at 150 dots per inch. Doses are unfolded and painted in bands of
/// about a million pixels, so that it takes 280 MB whatever the number of dyes, and less than 100 MB for each panel's band.
pub const MOST_PIXELS: usize = 70_000_000;
/// Pixels of a panel that are unfolded at once, about; all of an ordinary picture's.
pub(super) const BAND_PIXELS: usize = 1 << 20;
/// Least edge of a pixel, mm.
const LEAST_PIXEL_MM: f64 = 0.05;
/// Greatest edge of a pixel, mm.
const MOST_PIXEL_MM: f64 = 50.0;

/// What comes out when the rod is opened: an estimate.
#[derive(Debug, Clone)]
pub struct Reveal {
    /// The panels that there are, and where their pixels lie.
    frames: Vec<(Panel, PixelFrame)>,
    /// What it tells of each section, from the centre outward.
    pub summary: Vec<SectionReveal>,
    /// The rod and the doses in it, to probe and to start the next reveal from.
    pub rod: Arc<RodDoses>,
    pub(super) table: Arc<DoseTable>,
    layout: Arc<Layout>,
    several: Option<Arc<Several>>,
}

/// The parts of a reveal of several ties.
#[derive(Debug)]
struct Several {
    ties: Vec<Reveal>,
    loose: LooseDoses,
}

impl Reveal {
    /// What it was computed from.
    #[must_use]
    pub fn layout(&self) -> &Layout {
        &self.layout
    }

    /// Each of its ties by itself, in the order in which they are tied: of a layout of one tie, that. What it has of a rod and of sections
    /// is the first one's.
    #[must_use]
    pub fn ties(&self) -> &[Self] {
        self.several.as_ref().map_or_else(|| std::slice::from_ref(self), |several| &several.ties)
    }

    /// What the loose cloth about several ties has where no thread lies on it; none where all of the garment is one tie.
    #[must_use]
    pub fn loose(&self) -> Option<LooseCloth> {
        let loose = &self.several.as_ref()?.loose;
        let gone = self.layout.process().discharged_share(loose.bath);
        Some(LooseCloth { dye: loose.dye, dose: loose.dose, ground_left: 1.0 - gone })
    }

    /// The panels that there are, the front first, and where their pixels lie: for the back left and right are as seen from behind.
    #[must_use]
    pub fn panels(&self) -> &[(Panel, PixelFrame)] {
        &self.frames
    }

    /// The same doses on pixels of another size, mm.
    ///
    /// # Errors
    /// [`RevealError`] when there can be no such pixels, or too many.
    pub fn at_pixels(&self, pixel_mm: f64) -> Result<Self, RevealError> {
        let frames = frames(&self.layout, &RevealOptions { pixel_mm, ..RevealOptions::default() })?;
        let on_these = |reveal: &Self| Self { frames: frames.clone(), ..reveal.clone() };
        let several = self
            .several
            .as_ref()
            .map(|several| Arc::new(Several { ties: several.ties.iter().map(on_these).collect(), loose: several.loose.clone() }));
        Ok(Self { several, ..on_these(self) })
    }

    /// Whether the garment has a back.
    #[must_use]
    pub fn has_back(&self) -> bool {
        self.frames.iter().any(|(panel, _)| *panel == Panel::Back)
    }

    /// The doses on a panel, if there is one, as large as its whole picture: `14 + 4 x fields` bytes a pixel ([`DyeFields`]).
    #[must_use]
    pub fn map(&self, panel: Panel) -> Option<DoseMap> {
        let (_, frame) = self.frames.iter().find(|(other, _)| *other == panel)?;
        self.rows(panel, *frame, 0..frame.height)
    }

    /// The doses on some rows of a panel.
    pub(super) fn rows(&self, panel: Panel, frame: PixelFrame, rows: Range<usize>) -> Option<DoseMap> {
        if let Some(several) = &self.several {
            let ties = several.ties.iter().map(|tie| tie.rows(panel, frame, rows.clone()));
            return several::rows(&self.layout, ties, &several.loose, panel, frame, &rows);
        }
        let outline = self.layout.panels().panel(panel)?.whole();
        Some(Unfold::of(&self.layout, &self.rod, &self.table).rows(panel, outline, frame, rows))
    }
}

/// The binds of a layout as the rod feels them.
#[must_use]
pub fn rod_binds(layout: &Layout) -> Vec<RodBind> {
    let (thread, process) = (layout.thread(), layout.process());
    let (effect, is_ring) = (process.calibration.bind(thread.kind), layout.fold().ring().is_some());
    let bind = |(placed, (size, wraps)): (&Bind, (RodSize, u32))| {
        let (along_mm, breadth_mm) = (placed.radius_mm, f64::from(wraps) * thread.diameter_mm);
        if is_ring {
            return RodBind::band(along_mm, breadth_mm, effect);
        }
        RodBind { along_mm, breadth_mm, diameter_mm: size.bound_diameter_mm, effect }
    };
    layout.binds().binds.iter().zip(layout.bound_rods()).map(bind).collect()
}

/// The thread that is wound round a layout's bundle, as the bundle feels it: a single one, that does what a bind's does.
#[must_use]
pub fn wound(layout: &Layout) -> Option<Wound> {
    let (wrap, thread) = (layout.wrap()?.clone(), layout.thread());
    Some(Wound { wrap, breadth_mm: thread.diameter_mm, effect: layout.process().calibration.bind(thread.kind) })
}

/// Solves the doses in a layout's rod, from an earlier solution on an equal grid where there is one.
///
/// # Errors
/// [`RevealError`].
pub fn rod_doses(
    layout: &Layout,
    options: &RevealOptions,
    earlier: Option<&RodDoses>,
    cancel: &Cancel,
) -> Result<RodDoses, RevealError> {
    rod_doses_bound(layout, &rod_binds(layout), options, earlier.map(|rod| (rod, Standing::default())), cancel)
}

/// What of an earlier solution stands: computed from the very same values, it is taken over.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Standing {
    /// The doses of dyes and dips.
    pub dyes: bool,
    /// Where those stand: the one field of theirs that does not, by its number.
    pub but: Option<usize>,
    /// The dose of the bath.
    pub bath: bool,
    /// Where the cloth lies in the bundle: the same fold, laid by the same hand.
    pub cloth: bool,
}

impl Standing {
    /// Only the cloth's place.
    pub const CLOTH: Self = Self { dyes: false, but: None, bath: false, cloth: true };
}

/// As [`rod_doses`], with binds that need not be where the layout has them, and taking over what of an earlier solution stands.
///
/// # Errors
/// [`RevealError`].
pub fn rod_doses_bound(
    layout: &Layout,
    binds: &[RodBind],
    options: &RevealOptions,
    earlier: Option<(&RodDoses, Standing)>,
    cancel: &Cancel,
) -> Result<RodDoses, RevealError> {
    rod_doses_kept_as(&DyeFields::of(&layout.raw().colours.rotation), layout, binds, options, earlier, cancel)
}

/// As [`rod_doses_bound`], the doses of dyes kept as these fields of the layout's rotation.
///
/// # Errors
/// [`RevealError`].
pub fn rod_doses_kept_as(
    fields: &DyeFields,
    layout: &Layout,
    binds: &[RodBind],
    options: &RevealOptions,
    earlier: Option<(&RodDoses, Standing)>,
    cancel: &Cancel,
) -> Result<RodDoses, RevealError> {
    let process = layout.process();
    check_count(fields)?;
    let flat_after = process.calibration.flat_after_diameters;
    let spec = match options.cells {
        Cells::Fine => fine_grid(layout),
        Cells::Preview => preview_grid(layout),
        Cells::Of(spec) => spec,
    };
    let standing = earlier.map_or_else(Standing::default, |(_, standing)| standing);
    let earlier = earlier.map(|(rod, _)| rod);
    let lies_as = earlier.filter(|_| standing.cloth).map(|rod| &rod.grid);
    let fold: &dyn Bundle = layout.fold();
    let grid = RodGrid::laid_as(lies_as, (fold, &process.hand), layout.cloth(), binds, flat_after, &spec)?;
    let grid = match layout.blocks() {
        Some(block) => grid.clamped(&Clamp::of(block.clone(), process.calibration.blocks)),
        None => grid,
    };
    let grid = match wound(layout) {
        Some(wound) => grid.wound(&wound),
        None => grid,
    };
    cancel.reach(200)?;
    let solve = |system, earlier| DoseField::solve(system, earlier, &options.solve, cancel);
    let bath = match (process.discharge, earlier.filter(|_| standing.bath)) {
        (None, _) => None,
        (Some(_), Some(rod)) => rod.bath.clone(),
        (Some(_), None) => Some(solve(discharge_system(&grid, process)?, earlier.and_then(|rod| rod.bath.as_ref()))?),
    };
    cancel.reach(400)?;
    let (dyes, dips) = match earlier.filter(|_| standing.dyes) {
        Some(rod) if standing.but.is_none() => (rod.dyes.clone(), rod.dips.clone()),
        _ => {
            let from = earlier.map(|rod| (rod, standing.but.filter(|_| standing.dyes)));
            solve_all_dyes(&grid, layout, fields, from, &options.solve, cancel)?
        }
    };
    cancel.reach(700)?;
    Ok(RodDoses { grid, dyes, dips, bath })
}

/// A grid to follow a hand with; half as long along as usual where thread is wound aslant, so that its lines hang together.
fn preview_grid(layout: &Layout) -> GridSpec {
    let spec = GridSpec::preview(layout.fold());
    if layout.wrap().is_some() { GridSpec { cell_mm: 0.5 * spec.cell_mm, ..spec } } else { spec }
}

/// A grid that is fine enough for a layout's dyes and, where there is one, for its bath.
#[must_use]
pub fn fine_grid(layout: &Layout) -> GridSpec {
    let (process, fields) = (layout.process(), DyeFields::of(&layout.raw().colours.rotation));
    let dye_mm = (!fields.is_empty()).then(|| fields.least_reach_factor() * process.dye_reach().along_mm);
    let bath_mm = process.discharge.map(|_| process.calibration.discharge_reach.along_mm);
    let reach_mm = dye_mm.into_iter().chain(bath_mm).fold(f64::INFINITY, f64::min);
    let spec = GridSpec::fine(layout.fold(), reach_mm, fields.len());
    let slope = layout.wrap().map(|wrap| wrap.angle_deg().to_radians().tan());
    slope.map_or(spec, |slope| spec.for_slanting(layout.fold(), slope, fields.len()))
}

/// Computes the doses on the opened cloth of a layout.
///
/// # Errors
/// [`RevealError`].
///
/// ```
/// use pleatwright::geometry::{GarmentKind, RawMeasures};
/// use pleatwright::layout::{Layout, starter};
/// use pleatwright::reveal::{Cancel, RevealOptions, reveal_doses};
///
/// let layout = Layout::try_from(starter(GarmentKind::CrewTee, Some("M"), &RawMeasures::default())?)?;
/// let reveal = reveal_doses(&layout, &RevealOptions::preview(), &Cancel::new())?;
/// assert!(reveal.has_back());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn reveal_doses(layout: &Layout, options: &RevealOptions, cancel: &Cancel) -> Result<Reveal, RevealError> {
    reveal_doses_after(layout, options, None, cancel)
}

/// As [`reveal_doses`], starting from the last reveal where its grid is the same: for a hand that drags.
///
/// # Errors
/// [`RevealError`].
pub fn reveal_doses_after(
    layout: &Layout,
    options: &RevealOptions,
    earlier: Option<&Reveal>,
    cancel: &Cancel,
) -> Result<Reveal, RevealError> {
    reveal_doses_standing(layout, options, earlier.map(|reveal| (reveal, Standing::default())), cancel)
}

/// As [`reveal_doses_after`], taking over what of an earlier solution stands.
///
/// # Errors
/// [`RevealError`].
pub fn reveal_doses_standing(
    layout: &Layout,
    options: &RevealOptions,
    earlier: Option<(&Reveal, Standing)>,
    cancel: &Cancel,
) -> Result<Reveal, RevealError> {
    let frames = frames(layout, options)?;
    let last_binds = layout.ties().iter().filter_map(|tie| Some((tie.tied_fold()?.taken().clone(), rod_binds(tie).pop()?)));
    let Some(loose) = LooseDoses::of(layout, last_binds) else { return one_tie(layout, frames, options, earlier, cancel) };
    let (mut ties, mut stands) = (Vec::with_capacity(layout.ties().len()), true);
    for (number, tie) in layout.ties().iter().enumerate() {
        let earlier = earlier.and_then(|(reveal, standing)| Some((reveal.several.as_ref()?.ties.get(number)?, standing)));
        // What a tie takes hangs on those before it alone.
        stands &= earlier.is_some_and(|(earlier, _)| earlier.frames == frames && earlier.layout.raw() == tie.raw());
        ties.push(match earlier.filter(|_| stands) {
            Some((earlier, _)) => earlier.clone(),
            None => one_tie(tie, frames.clone(), options, earlier, &cancel.beneath())?,
        });
        let done = 1000 * (number + 1) / layout.ties().len();
        cancel.reach(u32::try_from(done).unwrap_or(1000))?;
    }
    let first = ties[0].clone();
    Ok(Reveal { layout: Arc::new(layout.clone()), several: Some(Arc::new(Several { ties, loose })), ..first })
}

/// Whether the cloth of two layouts lies in their bundles alike. What one of several ties takes hangs on the others as well.
fn lies_alike(one: &Layout, other: &Layout) -> bool {
    let (a, b) = (one.raw(), other.raw());
    let is_alone = one.tied_fold().is_none() && other.tied_fold().is_none();
    is_alone && a.garment == b.garment && a.fold == b.fold && a.process.hand == b.process.hand
}

/// Computes the doses of a layout of one tie, or of one of several.
fn one_tie(
    layout: &Layout,
    frames: Vec<(Panel, PixelFrame)>,
    options: &RevealOptions,
    earlier: Option<(&Reveal, Standing)>,
    cancel: &Cancel,
) -> Result<Reveal, RevealError> {
    let earlier = earlier.map(|(reveal, standing)| {
        (&*reveal.rod, Standing { cloth: standing.cloth || lies_alike(layout, &reveal.layout), ..standing })
    });
    let rod = rod_doses_bound(layout, &rod_binds(layout), options, earlier, cancel)?;
    let (fields, reach_mm) = (DyeFields::of(&layout.raw().colours.rotation), layout.process().dye_reach().along_mm);
    let table = DoseTable::new(layout.fold(), &rod, &fields, reach_mm);
    cancel.reach(850)?;
    let summary = summarise(layout.fold(), &rod, layout.process(), &layout.section_colours(), &fields);
    cancel.reach(1000)?;
    Ok(Reveal { frames, summary, rod: Arc::new(rod), table: Arc::new(table), layout: Arc::new(layout.clone()), several: None })
}

/// The panels that there are, with their frames: alike, so that front and back can be laid side by side.
///
/// # Errors
/// [`RevealError`] when there can be no such pixels, or too many.
pub fn frames(layout: &Layout, options: &RevealOptions) -> Result<Vec<(Panel, PixelFrame)>, RevealError> {
    let pixel_mm = options.pixel_mm;
    if !(LEAST_PIXEL_MM..=MOST_PIXEL_MM).contains(&pixel_mm) {
        return Err(RevealError::Length {
            what: RevealLength::Pixel,
            value_mm: pixel_mm,
            least_mm: LEAST_PIXEL_MM,
            most_mm: MOST_PIXEL_MM,
        });
    }
    let panels = layout.panels();
    let bounds = panels.iter().map(|(_, panel)| panel.whole().bounds()).reduce(|a, b| a.union(b)).unwrap_or_default();
    let bounds = bounds.inset(options.margin_mm);
    let count = panels.iter().count();
    let frame = frame(&bounds, pixel_mm);
    if frame.pixels().saturating_mul(count) > options.most_pixels {
        let (width, height) = (count.saturating_mul(frame.width), frame.height);
        let finest_mm = finest_mm(&bounds, pixel_mm, options.most_pixels / count.max(1));
        return Err(RevealError::TooManyPixels { width, height, most: options.most_pixels, finest_mm });
    }
    Ok(panels.iter().map(|(panel, _)| (panel, frame)).collect())
}

fn frame(bounds: &Rect, pixel_mm: f64) -> PixelFrame {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a positive number of pixels; casts saturate")]
    let pixels = |length_mm: f64| (length_mm / pixel_mm).ceil() as usize;
    // An even number across, so that the centre line lies between two pixels and both halves are sampled alike.
    let half_mm = bounds.x1.max(-bounds.x0);
    let (width, height) = (pixels(half_mm).saturating_mul(2), pixels(bounds.height()));
    PixelFrame { width, height, pixel_mm, left_mm: -0.5 * width as f64 * pixel_mm, top_mm: bounds.y0 }
}

/// The finest pixel, in hundredths of a mm, with which a panel has no more than so many.
fn finest_mm(bounds: &Rect, too_fine_mm: f64, most: usize) -> f64 {
    let wanted = too_fine_mm * (frame(bounds, too_fine_mm).pixels() as f64 / most.max(1) as f64).sqrt();
    // The square root is short of it by the pixels that a row and a column are rounded up by.
    let fits = |hundredths: &f64| frame(bounds, hundredths / 100.0).pixels() <= most;
    let first = (100.0 * wanted).floor();
    (0..1000).map(|step| first + f64::from(step)).find(fits).unwrap_or(100.0 * MOST_PIXEL_MM) / 100.0
}
