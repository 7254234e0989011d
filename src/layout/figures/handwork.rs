//! What hands do to fold and tie one garment, part by part with every number: what the job card says, and what a run lets tick off.

use super::{BindFigures, BundlePlace, Figures, FoldFigures, PuckPlace, StitchFigures};
use crate::geometry::{Centring, Gather, LineKind, Top};
use crate::layout::{FoldWords, Layout};
use crate::measure::{LengthStyle, counted};

/// A part of the folding and tying of one garment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum HandPart {
    /// It is laid.
    Lay,
    /// Centre and arcs are marked on it.
    Mark,
    /// It is fan folded.
    Fold,
    /// The bind of this number is tied.
    Tie(u32),
    /// A thread is wound round it.
    Wrap,
    /// The blocks are clamped on.
    Clamp,
    /// A part of a further one of several ties, counted from 2.
    OfTie(u32, TiePart),
}

/// A part of one of several ties after the first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TiePart {
    /// The garment is laid for it.
    Lay,
    /// Its centre or line, and arcs or parallels are marked.
    Mark,
    /// It is fan folded.
    Fold,
    /// The bind of this number is tied.
    Tie(u32),
}

impl TiePart {
    /// The same as a part of a tie that stands alone.
    const fn alone(self) -> HandPart {
        match self {
            Self::Lay => HandPart::Lay,
            Self::Mark => HandPart::Mark,
            Self::Fold => HandPart::Fold,
            Self::Tie(number) => HandPart::Tie(number),
        }
    }
}

/// Where a burst has its centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CentrePlace {
    /// What the height is counted from.
    pub top: Top,
    /// Below it, mm.
    pub below_mm: f64,
    /// From the centre line, mm; positive to the wearer's left.
    pub aside_mm: f64,
    /// Above the middle of the garment's length, mm.
    pub above_middle_mm: f64,
    /// Angle of one pleat, degrees.
    pub pleat_angle_deg: f64,
}

/// The line that a garment is folded along.
#[derive(Debug, Clone, PartialEq)]
pub struct LinePlace {
    /// What it is to the cloth.
    pub kind: LineKind,
    /// The shape that it was drawn from; none of a line of the maker's own.
    pub shape: Option<String>,
    /// What the height is counted from.
    pub top: Top,
    /// The middle of the shape below that and from the centre line, mm.
    pub middle_mm: Option<[f64; 2]>,
    /// Breadth and height, mm.
    pub size_mm: [f64; 2],
    /// Where along the bundle the line lies, mm.
    pub line_mm: f64,
    /// Where along it the cloth is pleated, mm.
    pub pleated_mm: f64,
    /// How many pleats have cloth there; not known of work that was written down before this was told.
    pub pleats_on_guide: Option<u32>,
    /// The running stitch that draws the pleats up; none of pleats folded by hand.
    pub stitches: Option<StitchFigures>,
}

/// A bind as it is tied.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TiedBind {
    /// Its number, 1 at the centre.
    pub number: u32,
    /// Whether it sits on the guide arc.
    pub on_guide_arc: bool,
    /// Distance from the centre along the rod, mm.
    pub along_mm: f64,
    /// The nearest bind that is tied before it, by its number; none for the first.
    pub beside: Option<u32>,
    /// Distance to that one, mm; 0 for the first.
    pub from_beside_mm: f64,
    /// Girth of the bound rod, mm.
    pub girth_mm: f64,
    /// Wraps of thread.
    pub wraps: u32,
    /// Thread to cut, mm.
    pub thread_mm: f64,
}

/// The folding and tying of one garment.
#[derive(Debug, Clone, PartialEq)]
pub struct Handwork {
    /// What the tie is called, where it is one of several.
    pub tie: Option<String>,
    /// How the garment is laid, in plain words.
    pub lay: String,
    /// What will match what, in plain words.
    pub matching: String,
    /// Where the burst centre is, where the garment is folded along one.
    pub centre: Option<CentrePlace>,
    /// The line, where the garment is folded along one.
    pub line: Option<LinePlace>,
    /// The flat bundle, where it is folded into one.
    pub bundle: Option<BundlePlace>,
    /// The puck, where it is twisted into one.
    pub puck: Option<PuckPlace>,
    /// Where along the bundle the guide runs, mm.
    pub guide_mm: f64,
    /// How far the marks of the rule moved the guide, mm; positive is outward.
    pub guide_rounded_by_mm: f64,
    /// Where further arcs are marked, mm.
    pub arcs_mm: Vec<f64>,
    /// Number of pleats.
    pub pleats: u32,
    /// Layers in each pleat.
    pub layers: u32,
    /// Depth of a pleat at the guide, mm.
    pub pleat_depth_mm: f64,
    /// What it is tied with.
    pub thread: String,
    /// The binds in the order in which they are tied.
    pub binds: Vec<TiedBind>,
    /// The ties after this one, in their order.
    pub further: Vec<Self>,
}

impl Handwork {
    /// The folding and tying of a layout, with its own figures.
    #[must_use]
    pub fn of(layout: &Layout, figures: &Figures) -> Self {
        if !layout.is_of_several() {
            return Self::of_one(layout, figures);
        }
        let mut ties = layout.ties().iter().zip(figures.ties()).map(|(tie, figures)| Self::of_one(tie, figures));
        let first = ties.next().unwrap_or_else(|| Self::of_one(layout, figures));
        Self { further: ties.collect(), ..first }
    }

    /// The folding and tying of one tie.
    fn of_one(layout: &Layout, figures: &Figures) -> Self {
        let fold = &figures.fold;
        let centre = figures.burst.as_ref().map(|burst| CentrePlace {
            top: fold.top,
            below_mm: burst.centre_below_shoulder_mm,
            aside_mm: burst.centre_from_centre_line_mm,
            above_middle_mm: burst.centre_above_middle_mm,
            pleat_angle_deg: burst.pleat_angle_deg,
        });
        let line = figures.line.as_ref().zip(layout.line()).map(|(line, of)| LinePlace {
            kind: of.kind(),
            shape: line.shape.map(str::to_owned),
            top: fold.top,
            middle_mm: line.middle_below_shoulder_mm.zip(line.middle_from_centre_line_mm).map(|(below, aside)| [below, aside]),
            size_mm: [line.width_mm, line.height_mm],
            line_mm: fold.zero_mm,
            pleated_mm: fold.pleated_mm,
            pleats_on_guide: Some(line.pleats_on_guide),
            stitches: line.stitches,
        });
        Self {
            tie: layout.tie_name().map(str::to_owned),
            lay: fold.centring.to_owned(),
            matching: fold.matching.to_owned(),
            centre,
            line,
            bundle: figures.flat.as_ref().and_then(|flat| BundlePlace::of(layout, flat, fold)),
            puck: figures.spiral.as_ref().map(|spiral| PuckPlace::of(spiral, figures)),
            guide_mm: fold.guide_mm,
            guide_rounded_by_mm: fold.guide_rounded_by_mm,
            arcs_mm: fold.references_mm.clone(),
            pleats: fold.pleats,
            layers: figures.spiral.as_ref().map_or(fold.layers, |puck| puck.layers),
            pleat_depth_mm: fold.pleat_depth_mm,
            thread: layout.thread().kind.name().to_owned(),
            binds: tied_binds(figures),
            further: Vec::new(),
        }
    }

    /// Its parts, in the order of the work: one tie after the other.
    pub fn parts(&self) -> impl Iterator<Item = HandPart> {
        let ties = self.binds.iter().map(|bind| HandPart::Tie(bind.number));
        let clamp = self.bundle.as_ref().and_then(|bundle| bundle.blocks.as_ref()).map(|_| HandPart::Clamp);
        let wrap = self.bundle.as_ref().and_then(|bundle| bundle.wrap).map(|_| HandPart::Wrap);
        let own = [HandPart::Lay, HandPart::Mark, HandPart::Fold].into_iter().chain(ties).chain(wrap).chain(clamp);
        let of_tie = |(tie, work): (u32, &Self)| {
            let ties = work.binds.iter().map(|bind| TiePart::Tie(bind.number));
            let parts = [TiePart::Lay, TiePart::Mark, TiePart::Fold].into_iter().chain(ties);
            parts.map(move |part| HandPart::OfTie(tie, part)).collect::<Vec<_>>()
        };
        own.chain((2..).zip(&self.further).flat_map(of_tie))
    }

    /// A further tie, counted from 2.
    fn further(&self, tie: u32) -> Option<&Self> {
        self.further.get((tie as usize).checked_sub(2)?)
    }

    /// What the parts of the fold are called.
    #[must_use]
    pub fn fold_words(&self) -> FoldWords {
        match self {
            Self { line: Some(line), .. } => FoldWords::of_line(line.kind),
            Self { bundle: Some(bundle), .. } => FoldWords::of_flat(bundle.kind),
            Self { puck: Some(_), .. } => FoldWords::PUCK,
            _ => FoldWords::BURST,
        }
    }

    /// The running stitch, where the pleats are drawn up.
    fn stitches(&self) -> Option<StitchFigures> {
        self.line.as_ref().and_then(|line| line.stitches)
    }

    fn gather(&self) -> Gather {
        if self.stitches().is_some() { Gather::Stitch } else { Gather::FanFold }
    }

    /// Where along the bundle its maker's rule has its zero, mm.
    fn zero_mm(&self) -> f64 {
        self.line.as_ref().map_or(0.0, |line| line.line_mm)
    }

    /// A place along the bundle in words.
    fn place_words(&self, along_mm: f64, lengths: LengthStyle) -> String {
        self.fold_words().place(along_mm - self.zero_mm(), lengths)
    }

    /// What a part is called: `fan fold`, `bind 9, guide arc`; of several ties `Heart: fan fold`.
    #[must_use]
    pub fn title(&self, part: HandPart) -> String {
        if let HandPart::OfTie(tie, part) = part {
            return self.further(tie).map_or_else(String::new, |work| work.title(part.alone()));
        }
        let own = self.own_title(part);
        self.tie.as_ref().map_or_else(|| own.clone(), |tie| format!("{tie}: {own}"))
    }

    fn own_title(&self, part: HandPart) -> String {
        match part {
            HandPart::OfTie(..) => String::new(),
            HandPart::Lay => "lay".to_owned(),
            HandPart::Mark => "mark".to_owned(),
            HandPart::Fold if self.bundle.is_some() => "fold".to_owned(),
            HandPart::Fold if self.puck.is_some() => "twist".to_owned(),
            HandPart::Tie(number) if self.puck.is_some() => format!("band {number}"),
            HandPart::Fold => self.gather().name().to_owned(),
            HandPart::Wrap => "wind".to_owned(),
            HandPart::Clamp => "clamp".to_owned(),
            HandPart::Tie(number) if self.bind(number).is_some_and(|bind| bind.on_guide_arc) => {
                format!("bind {number}, {}", self.fold_words().guide)
            }
            HandPart::Tie(number) => format!("bind {number}"),
        }
    }

    /// What is done in a part, in sentences.
    #[must_use]
    pub fn words(&self, part: HandPart, lengths: LengthStyle) -> String {
        if let HandPart::OfTie(tie, part) = part {
            return self.further(tie).map_or_else(String::new, |work| work.words(part.alone(), lengths));
        }
        if let Some(words) = self.bundle.as_ref().and_then(|bundle| self.bundle_words(bundle, part, lengths)) {
            return words;
        }
        if let Some(words) = self.puck.as_ref().and_then(|puck| self.puck_words(puck, part, lengths)) {
            return words;
        }
        match part {
            HandPart::Lay => self.lay_words(),
            HandPart::Mark => {
                let all = [self.centre_words(lengths), Some(self.guide_words(lengths)), self.arcs_words(lengths)];
                let all: Vec<String> = all.into_iter().flatten().collect();
                let binds = if self.line.is_some() { "Draw every bind's line too." } else { "Swing every bind's arc too." };
                format!("{} {binds}", all.join(" "))
            }
            HandPart::Fold => format!("{} {}", self.guide_words(lengths), self.pleat_words(lengths)),
            HandPart::Wrap | HandPart::Clamp | HandPart::OfTie(..) => String::new(),
            HandPart::Tie(number) => {
                self.bind(number).map_or_else(String::new, |bind| bind.words(&self.place_words(bind.along_mm, lengths), lengths))
            }
        }
    }

    /// What is done in a part where a flat bundle is folded otherwise than pleats are.
    fn bundle_words(&self, bundle: &BundlePlace, part: HandPart, lengths: LengthStyle) -> Option<String> {
        match part {
            HandPart::Mark => {
                Some(format!("{} Chalk the creases from the template, with their numbers.", bundle.pattern_words(lengths)))
            }
            HandPart::Fold => Some(self.pleat_words(lengths)),
            HandPart::Wrap => bundle.wrap.map(|wrap| {
                let from = self.place_words(wrap.stretch_mm[0], lengths);
                wrap.words(&self.thread, &from, lengths)
            }),
            HandPart::Clamp => bundle.blocks.as_ref().map(|blocks| blocks.words(lengths)),
            HandPart::Lay | HandPart::Tie(_) | HandPart::OfTie(..) => None,
        }
    }

    /// What is done in a part where the garment is twisted into a puck.
    fn puck_words(&self, puck: &PuckPlace, part: HandPart, lengths: LengthStyle) -> Option<String> {
        match part {
            HandPart::Mark => Some(puck.mark_words(lengths)),
            HandPart::Fold => Some(puck.twist_words(self.layers, lengths)),
            HandPart::Tie(number) => self.bind(number).map(|band| band.words(&puck.band_words(number), lengths)),
            HandPart::Lay | HandPart::Wrap | HandPart::Clamp | HandPart::OfTie(..) => None,
        }
    }

    /// How it is laid: `Half fold: nested. ...`.
    #[must_use]
    pub fn lay_words(&self) -> String {
        format!("Half fold: {}. {}", self.lay, self.matching)
    }

    /// Where the centre is, or the line.
    #[must_use]
    pub fn centre_words(&self, lengths: LengthStyle) -> Option<String> {
        if let Some(line) = &self.line {
            return Some(line.words(lengths));
        }
        if let Some(bundle) = &self.bundle {
            return Some(bundle.pattern_words(lengths));
        }
        if let Some(puck) = &self.puck {
            return Some(puck.pinch_words(lengths));
        }
        let CentrePlace { top, below_mm, aside_mm, above_middle_mm, .. } = self.centre?;
        let (below, aside) = (top.height(below_mm, lengths), lengths.format(aside_mm.abs()));
        // Folded in half, both sides lie there.
        let side = match aside_mm {
            mm if mm < 0.0 => ", to the wearer's right",
            mm if mm > 0.0 && self.lay == Centring::Open.name() => ", to the wearer's left",
            _ => "",
        };
        let (above, way) = (lengths.format(above_middle_mm.abs()), if above_middle_mm < 0.0 { "below" } else { "above" });
        Some(format!("Burst centre: {below}, {aside} from the centre line{side} ({above} {way} the middle)."))
    }

    /// Where the guide arc runs.
    #[must_use]
    pub fn guide_words(&self, lengths: LengthStyle) -> String {
        if let Some(line) = &self.line {
            return format!("Fold guide: {}.", self.place_words(line.pleated_mm, lengths));
        }
        if self.bundle.is_some() {
            return format!("First bind: {}.", self.place_words(self.guide_mm, lengths));
        }
        let rounding = FoldFigures::rounding_words(self.guide_rounded_by_mm, lengths);
        format!(
            "Guide arc: {}{}.",
            lengths.format(self.guide_mm),
            rounding.map_or_else(String::new, |words| format!(", {words}"))
        )
    }

    /// How it is fan folded, after what says where the guide arc runs.
    #[must_use]
    pub fn pleat_words(&self, lengths: LengthStyle) -> String {
        let Self { pleats, layers, .. } = self;
        if let Some(stitches) = self.stitches() {
            return stitches.words(*layers, lengths);
        }
        if let Some(bundle) = &self.bundle {
            return bundle.fold_words(lengths, *pleats, *layers);
        }
        if let Some(puck) = &self.puck {
            return puck.twist_words(*layers, lengths);
        }
        let angle = self.centre.map_or_else(String::new, |centre| format!("{:.1} degrees each, ", centre.pleat_angle_deg));
        let depth = lengths.format(self.pleat_depth_mm);
        // Between two corners pleats are as deep as it takes to make them whole.
        let about = if self.line.is_some() { "about " } else { "" };
        let on_guide = self.line.as_ref().and_then(|line| line.pleats_on_guide).filter(|on_guide| on_guide < pleats);
        let along = on_guide.map_or_else(
            || "along it".to_owned(),
            |on_guide| format!("in all; {on_guide} of them lie along it, the others end before it"),
        );
        let layers = counted(*layers, "layer");
        format!("Fan fold {pleats} pleats of {about}{depth} {along} ({angle}{layers}).")
    }

    /// Which further arcs are marked; none without any.
    #[must_use]
    pub fn arcs_words(&self, lengths: LengthStyle) -> Option<String> {
        let (is_line, title) = (self.line.is_some(), if self.line.is_some() { "Extra lines" } else { "Extra arcs" });
        let arc = |&mm: &f64| if is_line { self.place_words(mm, lengths) } else { lengths.format(mm) };
        let arcs: Vec<String> = self.arcs_mm.iter().map(arc).collect();
        (!arcs.is_empty()).then(|| format!("{title}: {}.", arcs.join(", ")))
    }

    fn bind(&self, number: u32) -> Option<&TiedBind> {
        self.binds.iter().find(|bind| bind.number == number)
    }
}

impl TiedBind {
    /// Where it is tied, which `place` says, and with what: `230 mm from the centre, 34 mm from bind 8; girth 81 mm, 3 wraps, 490 mm of
    /// thread.`
    #[must_use]
    pub fn words(&self, place: &str, lengths: LengthStyle) -> String {
        let format = |mm| lengths.format(mm);
        let beside =
            self.beside.map_or_else(String::new, |beside| format!(", {} from bind {beside}", format(self.from_beside_mm)));
        let wraps = counted(self.wraps, "wrap");
        let (girth, thread) = (format(self.girth_mm), format(self.thread_mm));
        format!("{place}{beside}; girth {girth}, {wraps}, {thread} of thread.")
    }
}

impl LinePlace {
    /// What it is and where: `Line: heart, 280 mm wide and 270 mm high; its middle 310 mm below the shoulder, on the centre line.`
    fn words(&self, lengths: LengthStyle) -> String {
        let [width, height] = self.size_mm.map(|mm| lengths.format(mm));
        let what = self.shape.as_deref().unwrap_or("of your own drawing");
        let place = |middle_mm| format!("; its middle {}", self.top.place(middle_mm, lengths));
        let middle = self.middle_mm.map(place).unwrap_or_default();
        format!("Line: {what}, {width} wide and {height} high{middle}.")
    }
}

impl StitchFigures {
    /// How it is sewn and drawn up.
    fn words(self, layers: u32, lengths: LengthStyle) -> String {
        let [stitch, thread] = [self.stitch_mm, self.thread_mm].map(|mm| lengths.format(mm));
        let through = if layers == 1 { "the cloth" } else { &format!("all {layers} layers") };
        format!(
            "Sew along it through {through}, in and out by turns at {} dots about {stitch} apart: {thread} of thread, tails included, taken \
             double. Knot one end, draw up tight until the pleats lie on each other, and knot the other.",
            self.holes
        )
    }
}

/// The binds in the order of tying, each beside the nearest one that is tied before it.
fn tied_binds(figures: &Figures) -> Vec<TiedBind> {
    if let Some(spiral) = &figures.spiral {
        return tied_bands(spiral.bands, figures);
    }
    let mut before: Vec<&BindFigures> = Vec::new();
    let mut tied = Vec::new();
    for number in &figures.tying_order {
        let Some(bind) = figures.binds.iter().find(|bind| bind.number == *number) else { continue };
        let from_mm = |other: &&BindFigures| (other.radius_mm - bind.radius_mm).abs();
        let beside = before.iter().copied().min_by(|a, b| from_mm(a).total_cmp(&from_mm(b)));
        tied.push(TiedBind {
            number: bind.number,
            on_guide_arc: bind.on_guide_arc,
            along_mm: bind.radius_mm,
            beside: beside.map(|beside| beside.number),
            from_beside_mm: beside.as_ref().map_or(0.0, from_mm),
            girth_mm: bind.rod.bound_girth_mm,
            wraps: bind.wraps,
            thread_mm: bind.thread_mm,
        });
        before.push(bind);
    }
    tied
}

/// The bands over a puck, from the first: each is two of the binds.
fn tied_bands(bands: u32, figures: &Figures) -> Vec<TiedBind> {
    let crossing = |band: u32| figures.binds.iter().find(|bind| bind.edit_number == i32::try_from(band - 1).ok());
    let band = |(number, bind): (u32, &BindFigures)| TiedBind {
        number,
        on_guide_arc: bind.on_guide_arc,
        along_mm: bind.radius_mm,
        beside: None,
        from_beside_mm: 0.0,
        girth_mm: bind.rod.bound_girth_mm,
        wraps: bind.wraps,
        thread_mm: 2.0 * bind.thread_mm,
    };
    (1..=bands).filter_map(|number| Some((number, crossing(number)?))).map(band).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{GarmentKind, RawMeasures};
    use crate::layout::starter;
    use crate::measure::InchFraction;

    fn tee() -> (Figures, Handwork) {
        let layout = Layout::try_from(starter(GarmentKind::CrewTee, Some("M"), &RawMeasures::default()).unwrap()).unwrap();
        let figures = Figures::of(&layout);
        let work = Handwork::of(&layout, &figures);
        (figures, work)
    }

    /// Guide arc, inward, outward: beside each bind lies one that is tied already, its neighbour in the figures.
    #[test]
    fn every_bind_is_measured_from_its_tied_neighbour() {
        let (figures, work) = tee();
        assert_eq!(work.binds.len(), figures.binds.len());
        let guide = figures.binds.iter().find(|bind| bind.on_guide_arc).unwrap().number;
        for (turn, bind) in work.binds.iter().enumerate() {
            let own = &figures.binds[bind.number as usize - 1];
            assert_eq!(own.tied as usize, turn + 1);
            let (beside, gap_mm) = match bind.number {
                number if number == guide => (None, 0.0),
                number if number < guide => (Some(number + 1), figures.binds[number as usize].gap_inside_mm),
                number => (Some(number - 1), own.gap_inside_mm),
            };
            assert_eq!(bind.beside, beside);
            assert!((bind.from_beside_mm - gap_mm).abs() < 1e-9, "{bind:?}: {gap_mm} mm");
            assert_eq!((bind.along_mm, bind.wraps, bind.thread_mm), (own.radius_mm, own.wraps, own.thread_mm));
        }
    }

    #[test]
    fn a_bind_is_told_in_the_makers_unit() {
        let bind = TiedBind {
            number: 7,
            on_guide_arc: false,
            along_mm: 203.2,
            beside: Some(8),
            from_beside_mm: 25.4,
            girth_mm: 82.0,
            wraps: 3,
            thread_mm: 495.3,
        };
        assert_eq!(
            bind.words("203.2 mm from the centre", LengthStyle::default()),
            "203.2 mm from the centre, 25.4 mm from bind 8; girth 82 mm, 3 wraps, 495.3 mm of thread."
        );
        assert_eq!(
            bind.words("8 in from the centre", LengthStyle::Inches { nearest: InchFraction::Eighth }),
            "8 in from the centre, 1 in from bind 8; girth 3 1/4 in, 3 wraps, 19 1/2 in of thread."
        );
    }

    #[test]
    fn parts_come_in_the_order_of_the_work() {
        let (figures, work) = tee();
        let parts: Vec<HandPart> = work.parts().collect();
        assert_eq!(parts[..3], [HandPart::Lay, HandPart::Mark, HandPart::Fold]);
        let ties: Vec<HandPart> = figures.tying_order.iter().map(|&number| HandPart::Tie(number)).collect();
        assert_eq!(parts[3..], ties);
        assert!(work.title(parts[3]).ends_with(", guide arc"));
        let told = parts.iter().map(|&part| work.words(part, LengthStyle::default()));
        assert!(told.clone().all(|words| words.ends_with('.')), "{:?}", told.collect::<Vec<_>>());
    }
}
