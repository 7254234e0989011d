//! What a photograph tells for the next time, in words: never more than can be measured.

use super::measure::{PhotoMeasure, TieMeasure};
use super::rings::Rings;
use super::sections::{Colours, mean_delta_e};
use crate::geometry::{LineKind, Panel};
use crate::layout::Layout;
use crate::measure::LengthStyle;
use crate::reveal::colour::{Lab, TOLD_APART, ciede2000};
use crate::telling::Voice;

/// A ring's shift below this is not told, mm: what is not known of the lay, twice (measured on drawn photographs).
const LEAST_SHIFT_MM: f64 = 2.0;
/// A shift has to be as many times its error bar.
const LEAST_SDS: f64 = 2.0;
/// A colour or unevenness below this is not told, CIEDE2000 (measured on drawn photographs).
const LEAST_DELTA_E: f64 = 3.0;
/// A lightness that differs less is not called paler or darker, L*.
const LEAST_LIGHTNESS: f64 = 2.0;
/// Share of a difference that lightness has to make for it to be called by that (our own judgement).
const MOSTLY: f64 = 0.6;

/// Something that came out otherwise than planned, or can't be seen.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Finding {
    /// A ring lies elsewhere.
    RingMoved {
        /// Its bind.
        bind: usize,
        /// How much farther along the bundle, mm.
        shift_mm: f64,
        /// How far off that may be, mm.
        sd_mm: f64,
        /// What it runs round.
        about: About,
    },
    /// The whole pattern lies elsewhere.
    CentreMoved {
        /// To the right as it is seen, mm.
        dx_mm: f64,
        /// Down, mm.
        dy_mm: f64,
        /// How far off each may be, mm.
        sd_mm: f64,
    },
    /// A section has another colour.
    Colour {
        /// The section.
        section: usize,
        /// How much lighter it is, L*.
        lighter: f64,
        /// What of the difference is of lightness, 0 to 1.
        of_lightness: f64,
        /// CIEDE2000.
        delta_e: f64,
    },
    /// The loose cloth about several ties has another colour.
    Loose {
        /// How much lighter it is, L*.
        lighter: f64,
        /// What of the difference is of lightness, 0 to 1.
        of_lightness: f64,
        /// CIEDE2000.
        delta_e: f64,
    },
    /// Two neighbours can't be told apart.
    Alike {
        /// The inner one.
        section: usize,
        /// Whether the plan says so too.
        is_foreseen: bool,
        /// CIEDE2000.
        delta_e: f64,
    },
    /// Sections are uneven.
    Uneven {
        /// CIEDE2000.
        delta_e: f64,
    },
    /// The colours are nearer to the other side's plan.
    OtherSide {
        /// The side that was marked.
        marked: Panel,
        /// CIEDE2000 from its plan, mean over sections.
        delta_e: f64,
        /// And from the other side's.
        other_delta_e: f64,
    },
    /// No sheet, no colours.
    NoSheet,
}

/// What the lines of a fold run round, by which their way is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum About {
    /// A centre: they are rings.
    Centre,
    /// A drawn line that encloses cloth: they run inside and outside.
    Shape,
    /// Strokes: they run all round them.
    Strokes,
    /// Nothing: they follow each other along the bundle.
    Nothing,
}

impl About {
    fn of(layout: &Layout) -> Self {
        match layout.line().map(|line| line.kind()) {
            _ if layout.burst().is_some() => Self::Centre,
            Some(LineKind::Ring) => Self::Shape,
            Some(LineKind::Stroke | LineKind::Point) => Self::Strokes,
            Some(LineKind::Across) | None => Self::Nothing,
        }
    }

    /// How what came so much farther along is said to have moved.
    fn way(self, shift_mm: f64) -> &'static str {
        let [beyond, before] = match self {
            Self::Centre | Self::Shape => ["farther out", "farther in"],
            Self::Strokes => ["farther from the line", "nearer to the line"],
            Self::Nothing => ["farther along", "farther back"],
        };
        if shift_mm > 0.0 { beyond } else { before }
    }
}

/// What a photograph tells, tie by tie.
#[derive(Debug, Clone, PartialEq)]
pub struct Findings {
    /// What is of the whole picture, where there are several ties.
    pub whole: Vec<Finding>,
    /// What is of each tie, in their order: of a layout of one tie, everything.
    pub ties: Vec<Vec<Finding>>,
}

/// What is said where nothing was found to differ: never that of rings which were not found.
#[must_use]
pub fn nothing_differs(found: &[Finding], rings: &Rings) -> Option<&'static str> {
    let all = "Nothing differs from the plan by more than a photograph can tell.";
    let rest = "Nothing else differs from the plan by more than a photograph can tell.";
    found.is_empty().then_some(if rings.unfound.is_empty() { all } else { rest })
}

/// What a photograph tells, of each tie: rings from the tip outward, then the centre, then colours.
#[must_use]
pub fn findings(measured: &PhotoMeasure, layout: &Layout) -> Findings {
    let of_colours = of_all_colours(measured);
    let mut ties: Vec<Vec<Finding>> =
        measured.ties().iter().zip(layout.ties()).map(|(tie, layout)| of_rings(tie, layout)).collect();
    let mut whole = Vec::new();
    match &mut ties[..] {
        [only] => only.extend(of_colours),
        _ => whole.extend(of_colours),
    }
    for (findings, tie) in ties.iter_mut().zip(measured.ties()) {
        findings.extend(tie.colours.iter().flat_map(of_sections));
    }
    Findings { whole, ties }
}

/// What the colours of all ties tell together.
fn of_all_colours(measured: &PhotoMeasure) -> Vec<Finding> {
    let colours: Option<Vec<&Colours>> = measured.ties().iter().map(|tie| tie.colours.as_ref()).collect();
    let Some(colours) = colours else { return vec![Finding::NoSheet] };
    let others: Option<Vec<&Colours>> = measured.ties().iter().map(|tie| tie.other_side.as_ref()).collect();
    let mut findings: Vec<Finding> =
        others.and_then(|others| nearer_other(measured.side, &colours, &others)).into_iter().collect();
    let loose = measured.loose.filter(|loose| loose.delta_e >= LEAST_DELTA_E.max(LEAST_SDS * loose.delta_e_sd));
    findings.extend(loose.map(|loose| Finding::Loose {
        lighter: loose.lab.l - loose.planned.l,
        of_lightness: of_lightness(loose.planned, loose.lab),
        delta_e: loose.delta_e,
    }));
    findings
}

/// What the rings of a tie tell.
fn of_rings(tie: &TieMeasure, layout: &Layout) -> Vec<Finding> {
    let about = About::of(layout);
    let rings = tie.rings.rings.iter().filter(|ring| ring.shift_mm.abs() >= LEAST_SHIFT_MM.max(LEAST_SDS * ring.sd_mm));
    let mut findings: Vec<Finding> =
        rings.map(|ring| Finding::RingMoved { bind: ring.bind, shift_mm: ring.shift_mm, sd_mm: ring.sd_mm, about }).collect();
    let (moved, sd_mm) = (tie.rings.displacement, tie.rings.displacement_sd_mm);
    if about == About::Centre && moved.hypot() >= LEAST_SHIFT_MM.max(LEAST_SDS * sd_mm) {
        findings.push(Finding::CentreMoved { dx_mm: moved.x, dy_mm: moved.y, sd_mm });
    }
    findings
}

/// What the colours of a tie's sections tell.
fn of_sections(colours: &Colours) -> Vec<Finding> {
    let off = colours.sections.iter().filter(|section| section.delta_e >= LEAST_DELTA_E.max(LEAST_SDS * section.delta_e_sd));
    let off = off.map(|section| Finding::Colour {
        section: section.section,
        lighter: section.lab.l - section.planned.l,
        of_lightness: of_lightness(section.planned, section.lab),
        delta_e: section.delta_e,
    });
    let mut findings: Vec<Finding> = off.collect();
    let neighbours = colours.sections.windows(2).filter(|pair| pair[0].section + 1 == pair[1].section);
    findings.extend(neighbours.filter_map(|pair| {
        let [delta_e, planned] = [ciede2000(pair[0].lab, pair[1].lab), ciede2000(pair[0].planned, pair[1].planned)];
        let is_foreseen = planned < TOLD_APART;
        (delta_e < TOLD_APART).then_some(Finding::Alike { section: pair[0].section, is_foreseen, delta_e })
    }));
    findings.extend(colours.evenness.filter(|delta_e| *delta_e >= LEAST_DELTA_E).map(|delta_e| Finding::Uneven { delta_e }));
    findings
}

/// That colours are nearer to the other side's plan: by more than can be chance, and by half at least.
fn nearer_other(marked: Panel, own: &[&Colours], other: &[&Colours]) -> Option<Finding> {
    let (delta_e, other_delta_e) = (mean_delta_e(own)?, mean_delta_e(other)?);
    (delta_e >= other_delta_e + LEAST_DELTA_E && delta_e >= 2.0 * other_delta_e).then_some(Finding::OtherSide {
        marked,
        delta_e,
        other_delta_e,
    })
}

/// A colour whose hue by itself differs by so much is another one, however pale, CIEDE2000 (our own judgement): a weaker dye keeps its hue.
const OTHER_HUE: f64 = 8.0;

/// What of a difference is of lightness, 0 to 1; 0 where the hue is another. Lightness is told apart less well in dark and in light colours, so that L* by itself would
/// say too much: what counts is the difference from the same hue and chroma at the planned lightness.
fn of_lightness(planned: Lab, lab: Lab) -> f64 {
    let delta_e = ciede2000(planned, lab);
    let [chroma, planned_chroma] = [lab, planned].map(|lab| lab.a.hypot(lab.b));
    if planned_chroma > 0.0 {
        let [a, b] = [planned.a, planned.b].map(|part| part * chroma / planned_chroma);
        if ciede2000(Lab { a, b, ..lab }, lab) >= OTHER_HUE {
            return 0.0;
        }
    }
    if delta_e > 0.0 { (ciede2000(Lab { l: planned.l, ..lab }, lab) / delta_e).min(1.0) } else { 1.0 }
}

/// How another colour is called. Where most of the difference is no lightness it is another colour, however dark.
fn how_coloured(lighter: f64, of_lightness: f64) -> &'static str {
    match lighter {
        _ if of_lightness < MOSTLY => "in another colour",
        lighter if lighter >= LEAST_LIGHTNESS => "paler",
        lighter if lighter <= -LEAST_LIGHTNESS => "darker",
        _ => "in another colour",
    }
}

impl Finding {
    /// A sentence or two.
    #[must_use]
    pub fn say(&self, voice: Voice) -> String {
        match *self {
            Self::RingMoved { bind, shift_mm, sd_mm, about } => format!(
                "{} {bind} came {} {} than planned, give or take {}. Folding, tying or laying may have moved it.",
                if about == About::Centre { "Ring" } else { "Line" },
                length(shift_mm.abs(), voice),
                about.way(shift_mm),
                length(sd_mm, voice),
            ),
            Self::CentreMoved { dx_mm, dy_mm, sd_mm } => format!(
                "The centre came {} its place, give or take {}. Check where you pin it.",
                aside([dx_mm, dy_mm], sd_mm, voice),
                length(sd_mm, voice),
            ),
            Self::Colour { section, lighter, of_lightness, delta_e } => {
                let how = how_coloured(lighter, of_lightness);
                format!("Section {section} came out {how} than planned (difference {delta_e:.1}).")
            }
            Self::Loose { lighter, of_lightness, delta_e } => {
                let how = how_coloured(lighter, of_lightness);
                format!("The loose cloth came out {how} than planned (difference {delta_e:.1}).")
            }
            Self::Alike { section, is_foreseen, delta_e } => format!(
                "Sections {section} and {} can't be told apart (difference {delta_e:.1}){}.",
                section + 1,
                if is_foreseen { ", as foreseen" } else { "; give them colours farther apart" },
            ),
            Self::Uneven { delta_e } => {
                format!("The sections are uneven round the middle (difference {delta_e:.1}). Spread powder and ice more evenly.")
            }
            Self::OtherSide { marked, delta_e, other_delta_e } => format!(
                "The colours are nearer to the plan of the other side (difference {other_delta_e:.1}) than to that of the {marked} ({delta_e:.1}). Check the side.",
            ),
            Self::NoSheet => "Without a white sheet beside the garment colours can't be measured.".to_owned(),
        }
    }
}

/// A measured length in words, to a decimal of a metric unit: the marks of an inch rule are too coarse for it.
#[must_use]
pub fn measured_length(mm: f64, lengths: LengthStyle) -> String {
    lengths.format_to(mm, if lengths.is_metric() { 1 } else { 2 })
}

/// Tenths of a millimetre are not measured; the marks of an inch rule are too coarse for what is.
fn length(mm: f64, voice: Voice) -> String {
    voice.lengths.format_to(mm.round().max(1.0), 2)
}

/// Where the centre came to lie: `5 mm below`, of a direction only what is more than chance.
pub(super) fn aside(moved: [f64; 2], sd_mm: f64, voice: Voice) -> String {
    let told = moved.into_iter().zip([["right of", "left of"], ["below", "above"]]);
    let told = told.filter(|(mm, _)| mm.abs() >= LEAST_SHIFT_MM.max(LEAST_SDS * sd_mm));
    let told: Vec<String> = told
        .map(|(mm, [beyond, before])| format!("{} {}", length(mm.abs(), voice), if mm > 0.0 { beyond } else { before }))
        .collect();
    if told.is_empty() { format!("{} from", length(moved[0].hypot(moved[1]), voice)) } else { told.join(" and ") }
}

#[cfg(test)]
mod tests {
    use super::super::sections::SectionColour;
    use super::*;
    use crate::layout::Srgb;

    fn colours(off: &[f64]) -> Colours {
        let (lab, srgb) = (Lab { l: 50.0, a: 0.0, b: 0.0 }, Srgb { red: 119, green: 119, blue: 119 });
        let section = |(section, delta_e): (usize, &f64)| SectionColour {
            section,
            lab,
            planned: lab,
            srgb,
            delta_e: *delta_e,
            delta_e_sd: 1.0,
        };
        Colours { sections: (1..).zip(off).map(section).collect(), evenness: None }
    }

    /// A direction is told only where the centre's way in it is more than chance, and inches with decimals: an eighth is too coarse.
    #[test]
    fn the_centre_is_told_by_what_is_measured() {
        let told = |dx_mm, dy_mm, lengths| Finding::CentreMoved { dx_mm, dy_mm, sd_mm: 2.0 }.say(Voice::window(lengths));
        let metric = LengthStyle::default();
        assert!(
            told(1.7, 5.4, metric).starts_with("The centre came 5 mm below its place, give or take 2 mm."),
            "{}",
            told(1.7, 5.4, metric)
        );
        assert!(told(-6.0, -5.0, metric).starts_with("The centre came 6 mm left of and 5 mm above its place,"));
        assert!(told(3.0, 3.2, metric).starts_with("The centre came 4 mm from its place,"));
        let inches = LengthStyle::Inches { nearest: crate::measure::InchFraction::Eighth };
        assert!(
            told(0.0, 5.0, inches).starts_with("The centre came 0.2 in below its place, give or take 0.08 in."),
            "{}",
            told(0.0, 5.0, inches)
        );
    }

    /// Another hue is no darkness, even where it is darker too; plum in place of navy is not paler navy.
    #[test]
    fn another_hue_is_called_another_colour() {
        let told = |planned: [f64; 3], came: [f64; 3]| {
            let [planned, lab] = [planned, came].map(|[l, a, b]| Lab { l, a, b });
            let (delta_e, of_lightness) = (ciede2000(planned, lab), of_lightness(planned, lab));
            let colour = Finding::Colour { section: 3, lighter: lab.l - planned.l, of_lightness, delta_e };
            colour.say(Voice::window(LengthStyle::default()))
        };
        assert!(told([60.0, 40.0, 30.0], [42.0, -20.0, -25.0]).contains("came out in another colour than planned"));
        assert!(told([22.0, 4.0, -28.0], [38.0, 30.0, -20.0]).contains("came out in another colour than planned"));
        // Pink in place of navy, and a navy that came out pale.
        assert!(told([18.0, 8.0, -30.0], [73.0, 27.0, -4.0]).contains("came out in another colour than planned"));
        assert!(told([18.0, 8.0, -30.0], [52.0, 3.0, -18.0]).contains("came out paler"));
        assert!(told([50.0, 20.0, -20.0], [41.0, 21.0, -19.0]).contains("came out darker"));
        assert!(told([22.0, 4.0, -28.0], [29.0, 4.0, -27.0]).contains("came out paler"));
    }

    /// The other side is named where its colours fit clearly better, and nothing is said where both do or neither does.
    #[test]
    fn the_other_side_is_told_only_where_colours_show_it() {
        let nearer = |own: &[f64], other: &[f64]| nearer_other(Panel::Front, &[&colours(own)], &[&colours(other)]);
        let found = nearer(&[8.0, 10.0, 6.0], &[2.0, 1.0, 3.0]).unwrap();
        assert_eq!(found, Finding::OtherSide { marked: Panel::Front, delta_e: 8.0, other_delta_e: 2.0 });
        assert_eq!(
            found.say(Voice::window(LengthStyle::default())),
            "The colours are nearer to the plan of the other side (difference 2.0) than to that of the front (8.0). Check the side."
        );
        for (own, other) in [(&[2.0, 3.0][..], &[0.5, 0.5][..]), (&[12.0], &[8.0]), (&[1.0], &[6.0]), (&[], &[1.0])] {
            assert_eq!(nearer(own, other), None);
        }
    }
}
