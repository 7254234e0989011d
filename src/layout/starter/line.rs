//! A fold along a line to begin with.

use super::gaps::{FIRST_OVER_TIGHTEST, OUTWARD_RATIO, inward_ratio, side, tightest_mm};
use super::{EDGE_MM, FoldStart, Room, SPARE_OF_REACH};
use crate::geometry::{
    Bundle as _, Centring, DrawnLine, Gather, LaidLine, LineError, LineFold, LineFoldSpec, LineKind, LineShape, Pleats,
    Progression, SpacingSpec, Span, Thread,
};
use crate::layout::{FoldSpec, Limits};
use crate::measure::RuleMarks;
use kurbo::Size;

/// Size of a shape, as a share of the distance from its middle to the nearest edge; height of a line from edge to edge, as a share of its
/// breadth, over its number of waves.
const SHAPE_SHARE: f64 = 1.2;
const WAVE_SHARE: f64 = 0.16;
/// Distance of the first parallel round strokes, mm: what a brush stroke's half breadth would be (our own judgement).
const ROUND_STROKES_MM: f64 = 20.0;
/// Depths of pleats that are tried for a line, mm, the first that its corners and bends allow is taken.
const LINE_PLEATS_MM: [f64; 7] = [35.0, 30.0, 25.0, 40.0, 20.0, 15.0, 10.0];
/// Distances from a line that are tried for the parallel that is pleated along, mm: farther out the corners' pleats are less deep at the edge.
const LINE_GUIDES_MM: [f64; 5] = [0.0, 25.0, 50.0, 75.0, 100.0];
/// Places between a line and the edge at which the pleats' depth is looked at.
const WIDTHS: u32 = 12;
/// Most pleats that a line is begun with before deeper ones are tried.
const MOST_LINE_PLEATS: u32 = 60;
/// The first gap on either side of a line, as a share of the distance to the cloth deepest within it.
const LINE_GAP_SHARE: f64 = 0.3;

/// A line to begin with, and how the garment is laid for it.
pub(super) struct BegunLine {
    centring: Centring,
    line: DrawnLine,
}

pub(super) fn begun_line(start: &FoldStart, room: &Room) -> Result<BegunLine, LineError> {
    let laid = |LaidLine { centring, kind, path }| BegunLine { centring, line: DrawnLine::Path { kind, path } };
    match start {
        FoldStart::Drawn(line) => line.on(&room.panels, room.centre()).map(laid),
        FoldStart::Beside(edge, inset_mm) => edge.parallel(*inset_mm, &room.panels).map(laid),
        FoldStart::Line(shape) => Ok(shaped(*shape, room)),
        FoldStart::Burst | FoldStart::Flat(_) | FoldStart::Spiral(_) => Err(LineError::NoLine),
    }
}

fn shaped(shape: LineShape, room: &Room) -> BegunLine {
    let size = match shape.kind() {
        LineKind::Across => {
            let half_mm = room.panels.iter().map(|(_, panel)| panel.half().bounds().x1).fold(0.0, f64::max);
            Size::new(2.0 * half_mm, room.round(WAVE_SHARE * 2.0 * half_mm / shape.waves()).max(5.0))
        }
        _ => {
            let natural = shape.natural_size(1.0);
            let longest_mm = room.round(SHAPE_SHARE * room.edge_mm).max(10.0);
            let by = longest_mm / natural.width.max(natural.height);
            Size::new(room.round(by * natural.width).max(5.0), room.round(by * natural.height).max(5.0))
        }
    };
    BegunLine {
        // What has no halves that mirror each other would come out twice.
        centring: if shape.is_mirrored() { Centring::Nested } else { Centring::Open },
        line: DrawnLine::Shape { shape, middle: room.centre(), size },
    }
}

pub(super) fn line(begun: &BegunLine, room: &Room, thread: &Thread) -> Result<(FoldSpec, SpacingSpec), LineError> {
    let kind = begun.line.kind();
    let guides: &[f64] = if kind.has_no_inside() { &[ROUND_STROKES_MM] } else { &LINE_GUIDES_MM };
    let tries = || guides.iter().flat_map(|&guide_mm| LINE_PLEATS_MM.map(|depth_mm| (guide_mm, depth_mm)));
    let folded = |(guide_mm, depth_mm): (f64, f64)| {
        let spec = LineFoldSpec {
            centring: begun.centring,
            line: begun.line.clone(),
            guide_mm,
            further_mm: Vec::new(),
            pleats: Pleats::Depth { depth_mm },
            gather: Gather::FanFold,
        };
        let fold = spec.on(&room.panels).and_then(|line| LineFold::new(&line, room.panels.clone()));
        fold.map(|fold| (spec, fold))
    };
    let deepest_mm = SPARE_OF_REACH * Limits::default().deepest_outside_mm();
    let limits = Limits::default();
    let springs_open = |fold: &LineFold| fold.width_mm(fold.guide_mm()) < limits.shallowest_pleat_mm;
    let is_handy = |fold: &LineFold| {
        let (from_mm, to_mm) = (fold.line_mm(), fold.length_mm() - EDGE_MM);
        let at_mm = |at: u32| from_mm + f64::from(at) / f64::from(WIDTHS) * (to_mm - from_mm);
        fold.pleats() <= MOST_LINE_PLEATS && (0..=WIDTHS).all(|at| fold.width_mm(at_mm(at)) <= deepest_mm)
    };
    // Of what is not handy the first whose pleats are at least shallow, then the first that can be folded at all, else what is wrong with
    // the first.
    let rank = |tried: &Result<(LineFoldSpec, LineFold), LineError>| match tried {
        Err(_) => 0,
        Ok((_, fold)) if !is_handy(fold) => 1,
        Ok((_, fold)) if springs_open(fold) => 2,
        Ok(_) => 3,
    };
    let mut best: Option<(u8, Result<_, _>)> = None;
    for tried in tries().map(folded) {
        let rank = rank(&tried);
        if best.as_ref().is_none_or(|(before, _)| rank > *before) {
            best = Some((rank, tried));
        }
        if rank == 3 {
            break;
        }
    }
    let (spec, fold) = best.map_or(Err(LineError::NoLine), |(_, tried)| tried)?;
    let room_mm = [fold.first_bind_mm(), fold.length_mm() - fold.first_bind_mm()];
    Ok((FoldSpec::Line(spec), beside_line(kind, room_mm, thread, room.marks)))
}

/// Gaps on either side of a line, tightening inward; of a line from edge to edge alike on both.
fn beside_line(kind: LineKind, [inside_mm, outside_mm]: [f64; 2], thread: &Thread, marks: RuleMarks) -> SpacingSpec {
    let tightest_mm = tightest_mm(thread, marks);
    // A line from edge to edge may run close to one of them.
    let deep_mm = if kind == LineKind::Across { inside_mm.max(outside_mm) } else { inside_mm };
    let first_mm = (LINE_GAP_SHARE * deep_mm).clamp(FIRST_OVER_TIGHTEST * tightest_mm, 3.0 * tightest_mm).round();
    let on_side = |room_mm: f64, ratio: f64| {
        let leave_mm = EDGE_MM.min(0.5 * room_mm);
        if room_mm - leave_mm < tightest_mm {
            Progression::List { gaps_mm: Vec::new() }
        } else if kind == LineKind::Across {
            Progression::Even {
                count: None,
                gap_mm: Some(first_mm.min(room_mm - leave_mm)),
                span: Some(Span::ToEnd { leave_mm }),
            }
        } else {
            side(first_mm.min(room_mm - leave_mm), ratio, leave_mm)
        }
    };
    SpacingSpec {
        inward: if kind.has_no_inside() {
            Progression::List { gaps_mm: Vec::new() }
        } else {
            on_side(inside_mm, inward_ratio(first_mm, tightest_mm, (inside_mm - EDGE_MM).max(first_mm)))
        },
        outward: on_side(outside_mm, OUTWARD_RATIO),
        marks,
        smallest_gap_mm: None,
        edits: Vec::new(),
    }
}
