//! Warnings in words, and runs of like ones as one.

use super::{Warning, warning::BindRef};
use crate::telling::{Told, Voice, Warned};

impl Warned for Warning {
    fn name(&self) -> &'static str {
        match self {
            Self::GapTooSmall { .. } => "gap-too-small",
            Self::PleatTooShallow { .. } => "pleat-too-shallow",
            Self::PleatTooDeep { .. } => "pleat-too-deep",
            Self::RodTooThick { .. } => "rod-too-thick",
            Self::RingMeetsNoCloth { .. } => "ring-meets-no-cloth",
            Self::FurtherArcMeetsNoCloth { .. } => "further-arc-meets-no-cloth",
            Self::FurtherArcOnGuideArc { .. } => "further-arc-on-guide-arc",
            Self::PleatsMadeEven { .. } => "pleats-made-even",
            Self::PleatTooDeepOutside { .. } => "pleat-too-deep-outside",
            Self::ClothPaler { .. } => "cloth-paler",
            Self::ClothHardlyDyed { .. } => "cloth-hardly-dyed",
            Self::ClothHarmed { .. } => "cloth-harmed",
            Self::CentreOnOnePanel { .. } => "centre-on-one-panel",
            Self::GuideArcOffCloth { .. } => "guide-arc-off-cloth",
            Self::CantLieFlat { .. } => "cant-lie-flat",
            Self::UnevenPleats { .. } => "uneven-pleats",
            Self::Creep { .. } => "creep",
            Self::NothingHolds => "nothing-holds",
            Self::NothingDipped => "nothing-dipped",
            Self::BlocksOverEdge { .. } => "blocks-over-edge",
            Self::WrapTooClose { .. } => "wrap-too-close",
            Self::WrapOverEnd { .. } => "wrap-over-end",
            Self::WrapMeetsBind { .. } => "wrap-meets-bind",
            Self::WrapMeetsBlocks => "wrap-meets-blocks",
            Self::MirroredPair { .. } => "mirrored-pair",
            Self::LineTwice { .. } => "line-twice",
            Self::TooManyTurns { .. } => "too-many-turns",
            Self::PuckTooLoose { .. } => "puck-too-loose",
            Self::PuckTooTight { .. } => "puck-too-tight",
            Self::LooserTowardCentre { .. } => "looser-toward-centre",
            Self::InTie { warning, .. } => warning.name(),
            Self::TieCrowded { .. } => "tie-crowded",
            Self::TiesShareCloth { .. } => "ties-share-cloth",
            Self::RoundedFar { .. } => "rounded-far",
            Self::Adjusted { .. } => "adjusted",
        }
    }

    #[expect(clippy::too_many_lines, reason = "what each warning says, in one place")]
    fn told(&self, voice: Voice) -> Told {
        let mm = |length: &f64| voice.about(*length);
        let said = |bind: &BindRef| bind.said(voice);
        match self {
            Self::GapTooSmall { inner_bind, outer_bind, gap_mm, limit_mm } => {
                let [gap, limit] = voice.apart(*gap_mm, *limit_mm);
                gaps_too_small(&format!("{} and {}", said(inner_bind), said(outer_bind)), &gap, &limit)
            }
            Self::PleatTooShallow { words, depth_mm, limit_mm } => {
                let [depth, limit] = voice.apart(*depth_mm, *limit_mm);
                Told::new(
                    format!("pleats {depth} deep at the {} spring open", words.pleated),
                    format!("use fewer, at least {limit} deep"),
                )
            }
            Self::PleatTooDeep { words, depth_mm, limit_mm } => {
                let [depth, limit] = voice.apart(*depth_mm, *limit_mm);
                Told::new(
                    format!("dye hardly enters pleats {depth} deep at the {}", words.pleated),
                    format!("use more, {limit} deep or less"),
                )
            }
            Self::RodTooThick { bind, diameter_mm, limit_mm } => {
                let [diameter, limit] = voice.apart(*diameter_mm, *limit_mm);
                Told::new(
                    format!("at bind {} the bound rod is {diameter} thick; over {limit} it is hard to pull tight", said(bind)),
                    "use your strongest thread, or move the bind inward",
                )
            }
            Self::RingMeetsNoCloth { words, bind, radius_mm, is_taken: true, .. } => Told::new(
                format!(
                    "bind {}, {} {}, meets no cloth of this tie: another tie has it",
                    said(bind),
                    voice.about(*radius_mm),
                    words.sides[1]
                ),
                "remove it, or give the gaps less room",
            ),
            Self::RingMeetsNoCloth { words, bind, radius_mm, farthest_mm, is_taken: false } => {
                let [radius, farthest] = voice.apart(*radius_mm, *farthest_mm);
                Told::new(
                    format!("bind {}, {radius} {}, is off the cloth, which ends at {farthest}", said(bind), words.sides[1]),
                    "remove it, or give the gaps less room",
                )
            }
            Self::FurtherArcMeetsNoCloth { words, arc, radius_mm, farthest_mm } => {
                let [radius, farthest] = voice.apart(*radius_mm, *farthest_mm);
                Told::new(
                    format!("{} {arc}, {radius} {}, is off the cloth, which ends at {farthest}", words.further, words.sides[1]),
                    "remove it, or make it smaller",
                )
            }
            Self::FurtherArcOnGuideArc { words, arc, radius_mm } => Told::new(
                format!("{} {arc}, {}, repeats the {}", words.further, words.place(*radius_mm, voice.lengths), words.guide),
                "remove it",
            ),
            Self::PleatsMadeEven { asked, got } => Told::new(
                format!("using {got} pleats, not {asked}: a full circle needs an even number"),
                "give an even number to keep it",
            ),
            Self::PleatTooDeepOutside { bind, depth_mm, limit_mm } => {
                let [depth, limit] = voice.apart(*depth_mm, *limit_mm);
                Told::new(
                    format!(
                        "at the outermost bind, {}, the pleats are {depth} deep; over {limit} dye hardly enters them",
                        said(bind)
                    ),
                    "use more pleats",
                )
            }
            Self::ClothPaler { fibre, percent } => Told::new(
                format!(
                    "{percent:.0} % of the cloth, most of it {fibre}, takes no dye or only a tint, so colours come out paler"
                ),
                "test a scrap",
            ),
            Self::ClothHardlyDyed { fibre, percent } => Told::new(
                format!("{percent:.0} % of the cloth, most of it {fibre}, takes no reactive dye"),
                "use cotton, linen, hemp or viscose, or a dye made for that fibre",
            ),
            Self::ClothHarmed { fibre, percent } => Told::new(
                format!(
                    "{percent:.0} % of the cloth is animal fibre, most of it {fibre}; hot soda ash and the discharge harm it"
                ),
                "use a process made for wool or silk",
            ),
            Self::CentreOnOnePanel { bare, top, centre_mm, cloth_begins_mm } => Told::new(
                format!(
                    "the burst centre, {}, misses the {}: cloth there starts {} down the centre line",
                    top.height(*centre_mm, voice.lengths),
                    bare.name(),
                    mm(cloth_begins_mm)
                ),
                "move it for a burst on both, or leave it for one",
            ),
            Self::CantLieFlat { bunched_mm2, lone_ends, laid_open, strokes } => {
                let creases = if *lone_ends == 1 { "1 crease ends".to_owned() } else { format!("{lone_ends} creases end") };
                let area = voice.lengths.format_area(*bunched_mm2);
                let cure = match (laid_open, strokes) {
                    (_, true) => "draw the strokes straighter, or make the pleats deeper",
                    (true, _) => {
                        "change the pleats' depth or the line's size a little, or fold the garment on the line's axis of symmetry"
                    }
                    (false, _) => "change the pleats' depth or the line's size a little, or give it corners where it bends most",
                };
                Told::new(format!("{creases} alone, so about {area} of cloth can't lie flat and will bunch"), cure)
            }
            Self::InTie { tie, warning } => {
                let Told { place, what, cure } = warning.told(voice);
                Told { place, what: format!("{tie}: {what}"), cure }
            }
            Self::TieCrowded { tie, by, times, most } => Told::new(
                format!(
                    "once \"{by}\" is drawn up, {} times as much cloth lies where \"{tie}\" is folded, and over {} is hard to pleat",
                    voice.number((10.0 * times).round() / 10.0),
                    voice.number(*most)
                ),
                format!("tie \"{tie}\" first, or move it away"),
            ),
            Self::TiesShareCloth { tie, area_mm2 } => Told::new(
                format!(
                    "earlier ties have taken {} of the cloth within the last bind of \"{tie}\"",
                    voice.lengths.format_area(*area_mm2)
                ),
                "move one of them, or let it take less cloth",
            ),
            Self::UnevenPleats { least_mm, most_mm } => {
                let [least, most] = voice.apart(*least_mm, *most_mm);
                Told::new(
                    format!("pleats along the line are {least} to {most} deep, so that each corner gets a crease"),
                    "change the depth, the size or the corners for more even ones",
                )
            }
            Self::Creep { creep_mm, width_mm } => Told::new(
                format!(
                    "round the thickest crease the outermost layer falls {} short, of pieces {} wide: the pattern drifts",
                    mm(creep_mm),
                    mm(width_mm)
                ),
                "fold wider pieces, or let each crease lie a little beside its line as the bundle grows",
            ),
            Self::NothingDipped => {
                Told::new("dye is to come by dipping, and nothing is dipped", "add a dip, or put the dye on another way")
            }
            Self::BlocksOverEdge { over_mm } => Told::new(
                format!("the blocks reach {} beyond the bundle's edge, where they press on nothing and tilt", mm(over_mm)),
                "move or turn them, or cut smaller ones",
            ),
            Self::NothingHolds => Told::new("nothing holds the bundle", "add a bind, wind thread round it, or put blocks on"),
            Self::WrapTooClose { gap_mm, limit_mm } => {
                let [gap, limit] = voice.apart(*gap_mm, *limit_mm);
                Told::new(
                    format!("turns {gap} apart leave nothing bare between them"),
                    format!("wind them at least {limit} apart"),
                )
            }
            Self::WrapOverEnd { over_mm, length_mm } => Told::new(
                format!("the wound thread goes on {} beyond the bundle, which ends at {}", mm(over_mm), mm(length_mm)),
                "end it on the bundle",
            ),
            Self::WrapMeetsBind { bind, others: 0 } => {
                Told::new(format!("the wound thread crosses bind {}", said(bind)), "end it before the bind, or remove the bind")
            }
            Self::WrapMeetsBind { bind, others } => Told::new(
                format!("the wound thread crosses bind {} and {others} more", said(bind)),
                "end it before them, or remove them",
            ),
            Self::WrapMeetsBlocks => Told::new("the blocks lie on the wound thread and tilt", "wind it clear of them"),
            Self::TooManyTurns { turns, most } => Told::new(
                format!("{} turns stretch the cloth; a puck of this size takes {}", voice.number(*turns), voice.number(*most)),
                "turn the pinch less, or draw a smaller puck together",
            ),
            Self::PuckTooLoose { packing, least, height_mm, most_height_mm } => {
                let [height, most] = voice.apart(*height_mm, *most_height_mm);
                Told::new(
                    format!(
                        "only {:.0} % of a puck {height} high is cloth; under {:.0} % it falls open",
                        100.0 * packing,
                        100.0 * least
                    ),
                    format!("draw it smaller, or press it flat to {most} or less"),
                )
            }
            Self::PuckTooTight { packing, most, height_mm, least_height_mm } => {
                let [height, least] = voice.apart(*height_mm, *least_height_mm);
                Told::new(
                    format!(
                        "{:.0} % of a puck {height} high is cloth; over {:.0} % it can hardly be drawn together",
                        100.0 * packing,
                        100.0 * most
                    ),
                    format!("make it wider, or at least {least} high"),
                )
            }
            Self::GuideArcOffCloth { panel, share, limit } => Told::new(
                format!(
                    "only {:.0} % of the guide arc lies on the {}; under {:.0} % there is little to fold along",
                    100.0 * share,
                    panel.name(),
                    100.0 * limit
                ),
                "make the guide arc smaller, or move the centre",
            ),
            Self::MirroredPair { from_centre_line_mm } => Told::new(
                format!("the centre is {} off the fold, so you get two mirrored bursts", mm(from_centre_line_mm)),
                "move it onto the fold for one",
            ),
            Self::LineTwice { from_centre_line_mm } => Told::new(
                format!("the line's middle is {} off the fold, so you get it twice, mirrored", mm(from_centre_line_mm)),
                "move it onto the fold for one",
            ),
            Self::LooserTowardCentre { words, bind, gap_mm, outer_gap_mm } => {
                let [gap, outer] = voice.apart(*gap_mm, *outer_gap_mm);
                Told::new(
                    format!(
                        "the gap outside bind {} is {gap}, wider than the next one outward, {outer}: rings open toward {}",
                        said(bind),
                        words.zero
                    ),
                    "for rings that tighten, make it smaller",
                )
            }
            Self::RoundedFar { bind, by_mm, marks, others } => {
                let way = if *by_mm < 0.0 { "inward" } else { "outward" };
                let so_do = match others {
                    0 => String::new(),
                    1 => ", and so does one more".to_owned(),
                    others => format!(", and so do {others} more"),
                };
                let by = voice.lengths.format_small(by_mm.abs());
                let (bind, marks) = (said(bind), marks.name());
                Told::new(
                    format!(
                        "to keep the gaps in order on marks {marks}, bind {bind} moves {way} by {by}, more than half a \
                        mark{so_do}"
                    ),
                    "use finer marks to move binds less",
                )
            }
            Self::Adjusted { side, quantity, asked, got } => {
                let [asked, got] =
                    if quantity.is_length() { voice.apart(*asked, *got) } else { [asked, got].map(|value| voice.number(*value)) };
                Told::new(
                    format!("the {side} {} is {got}, not {asked}, to fit whole gaps", voice.key(quantity.key())),
                    voice.either("change the span to keep it as asked", "change the margin or total length to keep it as asked"),
                )
            }
        }
    }
}

fn gaps_too_small(binds: &str, gap: &str, limit: &str) -> Told {
    Told::new(
        format!("binds {binds} are {gap} apart; this thread needs at least {limit}"),
        "move them apart, or use a thinner thread",
    )
}

/// Warnings that stand one after the other and say the same of neighbours: told as one.
///
/// ```
/// use pleatwright::layout::{FoldWords, Warning, warning_runs};
/// use pleatwright::telling::{Voice, Warned as _};
/// let arc = |arc| Warning::FurtherArcMeetsNoCloth { words: FoldWords::BURST, arc, radius_mm: 500.0 + f64::from(arc), farthest_mm: 494.0 };
/// let warnings = [arc(1), arc(2), arc(3)];
/// let runs = warning_runs(&warnings);
/// assert_eq!(runs[0].told(Voice::FILE).what, "extra arcs 1 to 3 are off the cloth, which ends at 494 mm");
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WarningRun<'a>(&'a [Warning]);

/// The runs among these warnings, in their order.
#[must_use]
pub fn warning_runs(warnings: &[Warning]) -> Vec<WarningRun<'_>> {
    warnings.chunk_by(is_continued_by).map(WarningRun).collect()
}

/// Whether a warning says the same as the one before it, of the next bind or arc.
fn is_continued_by(one: &Warning, next: &Warning) -> bool {
    match (one, next) {
        (
            Warning::RingMeetsNoCloth { bind, farthest_mm, is_taken, .. },
            Warning::RingMeetsNoCloth { bind: next, farthest_mm: next_farthest_mm, is_taken: next_is_taken, .. },
        ) => bind.number + 1 == next.number && farthest_mm == next_farthest_mm && is_taken == next_is_taken,
        (
            Warning::FurtherArcMeetsNoCloth { arc, farthest_mm, .. },
            Warning::FurtherArcMeetsNoCloth { arc: next, farthest_mm: next_farthest_mm, .. },
        ) => arc + 1 == *next && farthest_mm == next_farthest_mm,
        (Warning::GapTooSmall { outer_bind, .. }, Warning::GapTooSmall { inner_bind, .. }) => outer_bind == inner_bind,
        _ => false,
    }
}

impl<'a> WarningRun<'a> {
    /// The first of them.
    #[must_use]
    pub fn first(self) -> &'a Warning {
        &self.0[0]
    }
}

impl Warned for WarningRun<'_> {
    fn name(&self) -> &'static str {
        self.first().name()
    }

    fn told(&self, voice: Voice) -> Told {
        match self.0 {
            [Warning::RingMeetsNoCloth { bind, is_taken: true, .. }, .., Warning::RingMeetsNoCloth { bind: last, .. }] => {
                Told::new(
                    format!("binds {} to {} meet no cloth of this tie: another tie has it", bind.said(voice), last.said(voice)),
                    "remove them, or give the gaps less room",
                )
            }
            [Warning::RingMeetsNoCloth { bind, farthest_mm, .. }, .., Warning::RingMeetsNoCloth { bind: last, .. }] => Told::new(
                format!(
                    "binds {} to {} are off the cloth, which ends at {}",
                    bind.said(voice),
                    last.said(voice),
                    voice.about(*farthest_mm)
                ),
                "remove them, or give the gaps less room",
            ),
            [
                Warning::FurtherArcMeetsNoCloth { words, arc, farthest_mm, .. },
                ..,
                Warning::FurtherArcMeetsNoCloth { arc: last, .. },
            ] => {
                let many = words.further;
                Told::new(
                    format!("{many}s {arc} to {last} are off the cloth, which ends at {}", voice.about(*farthest_mm)),
                    "remove them, or make them smaller",
                )
            }
            [Warning::GapTooSmall { inner_bind, .. }, .., Warning::GapTooSmall { outer_bind, .. }] => {
                let (gaps_mm, limits_mm) = self.gaps();
                let most_mm = limits_mm.fold(0.0, f64::max);
                let [least, most] = gaps_mm.fold([f64::INFINITY, 0.0], |[least, most], gap| [least.min(gap), most.max(gap)]);
                let [gap, limit] = voice.apart(least, most_mm);
                let gaps = match [least, most].map(|mm| voice.about(mm)) {
                    [one, other] if one == other => gap,
                    [one, other] => format!("{one} to {other}"),
                };
                gaps_too_small(&format!("{} to {}", inner_bind.said(voice), outer_bind.said(voice)), &gaps, &limit)
            }
            _ => self.first().told(voice),
        }
    }
}

impl WarningRun<'_> {
    /// The gaps of a run of them, and what each needs, mm.
    fn gaps(self) -> (impl Iterator<Item = f64>, impl Iterator<Item = f64>) {
        let both = self.0.iter().filter_map(|warning| match warning {
            Warning::GapTooSmall { gap_mm, limit_mm, .. } => Some((*gap_mm, *limit_mm)),
            _ => None,
        });
        (both.clone().map(|(gap, _)| gap), both.map(|(_, limit)| limit))
    }
}
