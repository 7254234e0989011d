//! The checked layout: every value usable, the garment drafted, the burst folded, the binds placed.

use super::dye_fields::{DyeField, DyeFields};
use super::{Calibration, Dip, DyeBy, FoldSpec, LayoutSpec, Loose, Process, Swatch, fingerprint};
use crate::geometry::{
    Bind, Block, Burst, Cloth, DrawnLine, FlatFold, FlatPattern, Fold, Folded, Garment, Gather, Lay, LineFold, ON_THE_FOLD_MM,
    PanelSet, Placed, RodSize, Spiral, SpiralFold, Taken, Thread, TiedFold, Wash, Wrap, centre_at, loose_mm2, rod_size,
    stitch_holes, wraps,
};
use crate::measure::RuleMarks;
use kurbo::{BezPath, Point, Shape as _};
use std::sync::Arc;

/// A layout that can be worked from. Made from its raw form, which it keeps unchanged.
#[derive(Debug, Clone)]
pub struct Layout {
    pub(super) raw: LayoutSpec,
    pub(super) garment: Garment,
    pub(super) wash: Wash,
    pub(super) folded: Arc<Folded>,
    pub(super) binds: Placed,
    pub(super) blocks: Option<Block>,
    pub(super) wrap: Option<Wrap>,
    pub(super) dips: Vec<Dip>,
    /// Which of several ties it is; none of a layout that is one tie alone.
    pub(super) tied: Option<Tied>,
    /// Where it is of several ties: each of them.
    pub(super) ties: Vec<Self>,
}

/// One of several ties.
#[derive(Debug, Clone)]
pub(super) struct Tied {
    pub(super) name: String,
    pub(super) fold: TiedFold,
    /// The mark of the layout of all ties.
    pub(super) of: String,
}

impl Layout {
    /// The layout as the maker gave it.
    #[must_use]
    pub fn raw(&self) -> &LayoutSpec {
        &self.raw
    }

    /// Its name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.raw.name
    }

    /// Its name; of one of several ties also what that is called: `Harbour Row tee, M, Left sleeve`.
    #[must_use]
    pub fn title(&self) -> String {
        let tie = self.tied.as_ref().filter(|_| !self.is_of_several());
        tie.map_or_else(|| self.raw.name.clone(), |tie| format!("{}, {}", self.raw.name, tie.name))
    }

    /// The garment, measured and drafted.
    #[must_use]
    pub fn garment(&self) -> &Garment {
        &self.garment
    }

    /// What a wash does to it.
    #[must_use]
    pub fn wash(&self) -> &Wash {
        &self.wash
    }

    /// The cloth.
    #[must_use]
    pub fn cloth(&self) -> &Cloth {
        &self.raw.garment.cloth
    }

    /// The thread.
    #[must_use]
    pub fn thread(&self) -> &Thread {
        &self.raw.thread
    }

    /// The marks of the rule that it is laid out with.
    #[must_use]
    pub fn marks(&self) -> RuleMarks {
        self.raw.binds.marks
    }

    /// How the rod is dyed.
    #[must_use]
    pub fn process(&self) -> &Process {
        &self.raw.process
    }

    /// The same layout dyed with other calibration values; those that can't be computed with are for the caller to keep out
    /// ([`Process::numbers`]).
    #[must_use]
    pub fn with_calibration(&self, calibration: Calibration) -> Self {
        let mut other = self.clone();
        other.raw.process.calibration = calibration;
        other.ties.iter_mut().for_each(|tie| tie.raw.process.calibration = calibration);
        other
    }

    /// The garment folded up, whichever way. Of one of several ties, the cloth that it takes; of a layout of several, what the first takes.
    #[must_use]
    pub fn fold(&self) -> &dyn Fold {
        match &self.tied {
            Some(tied) => &tied.fold,
            None => self.folded.as_fold(),
        }
    }

    /// Its ties, in the order in which they are tied, each as a layout of it alone: of a layout of one tie, that.
    #[must_use]
    pub fn ties(&self) -> &[Self] {
        if self.ties.is_empty() { std::slice::from_ref(self) } else { &self.ties }
    }

    /// Whether it is of several ties.
    #[must_use]
    pub fn is_of_several(&self) -> bool {
        !self.ties.is_empty()
    }

    /// The colours that any of its ties or the loose cloth is dyed with, each once, in the order of the ties and their rotations.
    #[must_use]
    pub fn swatches(&self) -> Vec<&Swatch> {
        self.raw.swatches()
    }

    /// The fields that the doses of its dyes are kept as, of all ties.
    #[must_use]
    pub fn dye_fields(&self) -> DyeFields {
        let swatches: Vec<Swatch> = self.swatches().into_iter().cloned().collect();
        DyeFields::of(&swatches)
    }

    /// For each field of one tie's dyes its number among those of all ([`Layout::dye_fields`]), and for each the tie's own dye.
    #[must_use]
    pub fn fields_of_tie(&self, tie: &Self) -> (Vec<usize>, Vec<usize>) {
        let (all, rotation) = (self.dye_fields(), &tie.raw.colours.rotation);
        let number = |field: &DyeField| {
            let place = self.place_of(&rotation[field.dye])?;
            let same = all.of_dye(place).find(|(_, other)| other.reach_factor.total_cmp(&field.reach_factor).is_eq());
            Some((same?.0, field.dye))
        };
        DyeFields::of(rotation).all().iter().filter_map(number).unzip()
    }

    /// The place of a colour among those of all ties, by its name.
    #[must_use]
    pub fn place_of(&self, swatch: &Swatch) -> Option<usize> {
        self.swatches().iter().position(|known| known.name == swatch.name)
    }

    /// What it is called among several ties; nothing of a layout that is one tie alone.
    #[must_use]
    pub fn tie_name(&self) -> Option<&str> {
        self.tied.as_ref().map(|tied| tied.name.as_str())
    }

    /// The cloth that it takes as one of several ties; none of a layout that is one tie alone.
    #[must_use]
    pub fn tied_fold(&self) -> Option<&TiedFold> {
        self.tied.as_ref().map(|tied| &tied.fold)
    }

    /// The cloth within a distance along the bundle, mm, as if it were tied there.
    #[must_use]
    pub fn taken_within(&self, along_mm: f64) -> Taken {
        Taken::new(self.folded.clone(), along_mm)
    }

    /// The cloth that none of its several ties takes; none where all of the garment is one tie.
    #[must_use]
    pub fn loose(&self) -> Option<Loose> {
        self.raw.ties.as_ref()?;
        let area_mm2 = loose_mm2(self.panels(), self.ties.iter().filter_map(Self::tied_fold));
        let swatch = self.raw.loose_swatch().cloned();
        Some(Loose { area_mm2, swatch, layers: u32::try_from(self.panels().iter().count()).unwrap_or(u32::MAX) })
    }

    /// The burst that it is folded along; none where it is folded otherwise.
    #[must_use]
    pub fn burst(&self) -> Option<&Burst> {
        self.folded.burst()
    }

    /// A short mark of the layout's content, to tell which layout a sheet was made from; of one of several ties, that of all of them.
    #[must_use]
    pub fn fingerprint(&self) -> String {
        match &self.tied {
            Some(tied) => tied.of.clone(),
            None => fingerprint(&self.raw),
        }
    }

    /// The burst centre, the middle of the line that is folded along, the centre of wedges or the pinch of a spiral, in the garment's frame, mm.
    #[must_use]
    pub fn middle(&self) -> Option<Point> {
        let middle = |of| centre_at(of, self.panels());
        match &self.raw.fold {
            FoldSpec::Burst(_) => self.burst().map(Burst::centre),
            FoldSpec::Line(line) => match line.line {
                DrawnLine::Shape { middle: of, .. } => Some(middle(of)),
                DrawnLine::Path { ref path, .. } => Some(self.middle_of(path)),
            },
            FoldSpec::Flat(flat) => match flat.pattern {
                FlatPattern::Wedges { centre, .. } => Some(middle(centre)),
                _ => None,
            },
            FoldSpec::Spiral(spiral) => Some(middle(spiral.centre)),
        }
    }

    /// The middle of a path's box; of one that the fold line mirrors it lies there.
    fn middle_of(&self, path: &BezPath) -> Point {
        let bounds = path.bounding_box();
        let is_mirrored = self.lay().is_folded() && bounds.x0 < ON_THE_FOLD_MM;
        Point::new(if is_mirrored { 0.0 } else { bounds.center().x }, bounds.center().y)
    }

    /// The same on the garment as it is laid: a folded garment lies at `x >= 0` only. mm.
    #[must_use]
    pub fn middle_as_laid(&self) -> Option<Point> {
        self.middle().map(|at| Point::new(self.lay().centring().x_as_laid_mm(at.x), at.y))
    }

    /// The garment as it lies before it is folded up.
    #[must_use]
    pub fn lay(&self) -> &Lay {
        self.fold().lay()
    }

    /// The garment's panels.
    #[must_use]
    pub fn panels(&self) -> &PanelSet {
        self.lay().panels()
    }

    /// The fold along a line; none where it is folded otherwise.
    #[must_use]
    pub fn line(&self) -> Option<&LineFold> {
        self.folded.line()
    }

    /// The flat bundle; none where it is folded otherwise.
    #[must_use]
    pub fn flat(&self) -> Option<&FlatFold> {
        self.folded.flat()
    }

    /// The spiral; none where it is folded otherwise.
    #[must_use]
    pub fn spiral(&self) -> Option<&Spiral> {
        self.folded.spiral().map(SpiralFold::spiral)
    }

    /// The blocks that hold it, where they lie on the bundle.
    #[must_use]
    pub fn blocks(&self) -> Option<&Block> {
        self.blocks.as_ref()
    }

    /// The thread that is wound round it, where it lies on the bundle.
    #[must_use]
    pub fn wrap(&self) -> Option<&Wrap> {
        self.wrap.as_ref()
    }

    /// What of it is dipped into dye, in the order of the layout.
    #[must_use]
    pub fn dips(&self) -> &[Dip] {
        &self.dips
    }

    /// How its pleats are laid: by hand, but for a line that is stitched.
    #[must_use]
    pub fn gather(&self) -> Gather {
        self.raw.fold.line().map_or_else(Gather::default, |line| line.gather)
    }

    /// Where a needle goes through the laid cloth, mm; nowhere where pleats are folded by hand.
    #[must_use]
    pub fn stitch_holes(&self) -> Vec<Point> {
        match self.gather() {
            Gather::FanFold => Vec::new(),
            Gather::Stitch => stitch_holes(self.fold(), self.folded.pleated_mm()),
        }
    }

    /// Where along the bundle the bind is that is tied first, from which the others go inward and outward, mm: on a burst's guide arc, on
    /// a line, or at the guide of a line that nothing lies within.
    #[must_use]
    pub fn guide_mm(&self) -> f64 {
        self.folded.first_bind_mm()
    }

    /// Where along the bundle the pleats are measured, mm: on the guide.
    #[must_use]
    pub fn pleated_mm(&self) -> f64 {
        self.folded.pleated_mm()
    }

    /// Where along the bundle the zero lies that its maker counts from, mm: a burst's centre, or the line.
    #[must_use]
    pub fn zero_mm(&self) -> f64 {
        self.folded.zero_mm()
    }

    /// Where along the bundle further lines are marked, for orientation, mm.
    #[must_use]
    pub fn references_mm(&self) -> Vec<f64> {
        self.folded.references_mm()
    }

    /// The binds, from the centre outward.
    #[must_use]
    pub fn binds(&self) -> &Placed {
        &self.binds
    }

    /// For each bind, from the centre outward, the rod there and its wraps of thread.
    #[must_use]
    pub fn bound_rods(&self) -> Vec<(RodSize, u32)> {
        let rod = |radius_mm: f64| rod_size(self.fold(), self.cloth(), radius_mm);
        let guide_girth_mm = rod(self.guide_mm()).bound_girth_mm;
        let bound = |bind: &Bind| {
            let size = rod(bind.radius_mm);
            (size, wraps(self.thread(), size.bound_girth_mm, guide_girth_mm))
        };
        self.binds.binds.iter().map(bound).collect()
    }

    /// For each section, from the centre outward, the index of its colour in the rotation; none where dye comes by dipping alone.
    #[must_use]
    pub fn section_colours(&self) -> Vec<Option<usize>> {
        match self.process().dye {
            DyeBy::Dipped => vec![None; self.sections()],
            DyeBy::PowderUnderIce | DyeBy::ByHand => self.raw.colours.by_section(self.sections()),
        }
    }

    /// How many sections there are: one more than binds; round a puck, and of one of several ties, as many.
    #[must_use]
    pub fn sections(&self) -> usize {
        self.binds.binds.len() + usize::from(self.spiral().is_none() && self.tied.is_none())
    }
}
