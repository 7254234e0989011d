//! Figures of each bind, the strings to draw them with, and the order of tying.

use crate::geometry::{Bind, PanelPair, RodSize, thread_length_mm, tying_order};
use crate::layout::{BindRef, Layout};
use crate::measure::{LengthStyle, RuleMarks};
use serde::Serialize;

/// One bind, and the rod where it sits.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BindFigures {
    /// Its number, 1 at the centre.
    pub number: u32,
    /// The number by which edits name it, counted from the guide arc: 0 on it, 1, 2 .. outward, -1, -2 .. inward; none for a bind
    /// added by hand.
    pub edit_number: Option<i32>,
    /// Its turn in tying, from 1.
    pub tied: u32,
    /// Whether it sits on the guide arc.
    pub on_guide_arc: bool,
    /// Whether it was moved, locked or added by hand.
    pub by_hand: bool,
    /// Distance from the burst centre, mm: along the rod, and the radius of its ring.
    pub radius_mm: f64,
    /// Its signed distance from the line that is folded along, mm; none of a burst.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from_line_mm: Option<f64>,
    /// How far the marks of the rule moved it, mm; positive is away from the centre.
    pub rounded_by_mm: f64,
    /// Distance to the bind inside it, or to the centre for the first, mm.
    pub gap_inside_mm: f64,
    /// Ring after a wash, half its width, mm.
    pub washed_across_mm: f64,
    /// Ring after a wash, half its height, mm.
    pub washed_down_mm: f64,
    /// Depth of a pleat there, mm.
    pub pleat_depth_mm: f64,
    /// Length of its ring on the cloth of each panel, mm.
    pub ring_mm: PanelPair<f64>,
    /// The rod.
    pub rod: RodSize,
    /// Wraps of thread.
    pub wraps: u32,
    /// Thread to cut for it, mm: wraps and tails, up to what the layout's rule cuts to ([`RuleMarks::to_cut_mm`]). Of a band over a puck,
    /// which is two binds, each has half.
    ///
    /// [`RuleMarks::to_cut_mm`]: crate::measure::RuleMarks::to_cut_mm
    pub thread_mm: f64,
}

/// Differences below this are errors of computing, mm.
const EXACT_MM: f64 = 1e-9;

impl BindFigures {
    /// How far the marks of a rule moved it, in words, if by more than half a mark: no nearer mark keeps the gaps in order.
    #[must_use]
    pub fn rounding(&self, marks: RuleMarks, lengths: LengthStyle) -> Option<String> {
        let by_mm = self.rounded_by_mm;
        let way = if by_mm < 0.0 { "inward" } else { "outward" };
        let is_far = by_mm.abs() > 0.5 * marks.step_mm()? + EXACT_MM;
        is_far.then(|| format!("moved {way} by {}", lengths.format_small(by_mm.abs())))
    }

    /// The bind as warnings name it.
    #[must_use]
    pub fn reference(&self) -> BindRef {
        BindRef { number: self.number, edit_number: self.edit_number }
    }
}

/// A length of string from the pin at the burst centre to the chalk.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StringFigures {
    /// What it draws.
    pub draws: String,
    /// Pin to chalk, mm.
    pub length_mm: f64,
}

pub(super) fn bind_figures(layout: &Layout) -> Vec<BindFigures> {
    let placed = &layout.binds().binds;
    let turns = tying_turns(layout);
    let mut inside_mm = 0.0;
    (1_u32..)
        .zip(placed.iter().zip(layout.bound_rods()).zip(turns))
        .map(|(number, ((bind, bound), tied))| {
            let figures = one_bind(layout, bind, inside_mm, bound);
            inside_mm = bind.radius_mm;
            BindFigures { number, tied, ..figures }
        })
        .collect()
}

fn one_bind(layout: &Layout, bind: &Bind, inside_mm: f64, (rod, wraps): (RodSize, u32)) -> BindFigures {
    let (fold, thread, radius_mm) = (layout.fold(), layout.thread(), bind.radius_mm);
    let washed = layout.wash().washed_from_unwashed().as_coeffs();
    let share = if layout.spiral().is_some() { 0.5 } else { 1.0 };
    BindFigures {
        number: 0,
        edit_number: bind.id.edit_number(),
        tied: 0,
        on_guide_arc: bind.is_guide(),
        by_hand: bind.is_by_hand(),
        radius_mm,
        from_line_mm: layout.line().map(|_| layout.from_zero_mm(radius_mm)),
        rounded_by_mm: bind.rounded_by_mm(),
        gap_inside_mm: radius_mm - inside_mm,
        washed_across_mm: washed[0] * radius_mm,
        washed_down_mm: washed[3] * radius_mm,
        pleat_depth_mm: fold.width_mm(radius_mm),
        ring_mm: fold.cut(radius_mm).map(|cut| cut.cloth_mm),
        rod,
        wraps,
        thread_mm: share * layout.marks().to_cut_mm(thread_length_mm(thread, rod.bound_girth_mm, wraps)),
    }
}

fn order(layout: &Layout) -> Vec<usize> {
    let binds = &layout.binds().binds;
    if let Some(spiral) = layout.spiral() {
        let mut order: Vec<usize> = (0..binds.len()).collect();
        // Both crossings of a band, then those of the next.
        order.sort_by_key(|&index| (spiral.band_of(binds[index].id), binds[index].id.edit_number()));
        return order;
    }
    let guide = binds.iter().position(Bind::is_guide).unwrap_or(0);
    tying_order(binds.len(), guide)
}

/// Numbers of the binds in the order of tying.
pub(super) fn tying_numbers(layout: &Layout) -> Vec<u32> {
    order(layout).into_iter().filter_map(|index| u32::try_from(index + 1).ok()).collect()
}

/// For each bind from the centre outward, its turn in tying, from 1; both crossings of a band have the same.
fn tying_turns(layout: &Layout) -> Vec<u32> {
    if let Some(spiral) = layout.spiral() {
        return layout.binds().binds.iter().filter_map(|bind| spiral.band_of(bind.id)).collect();
    }
    let order = order(layout);
    let mut turns = vec![0; order.len()];
    for (turn, index) in (1..).zip(order) {
        turns[index] = turn;
    }
    turns
}

pub(super) fn strings(layout: &Layout, binds: &[BindFigures]) -> Vec<StringFigures> {
    // Strings about the pins of a line stand with those: there each parallel has several.
    if layout.burst().is_none() {
        return Vec::new();
    }
    let further = (1..).zip(layout.references_mm()).map(|(n, length_mm)| (format!("extra arc {n}"), length_mm));
    let rings = binds.iter().map(|bind| {
        let guide = if bind.on_guide_arc { ", guide arc" } else { "" };
        (format!("bind {}{guide}", bind.number), bind.radius_mm)
    });
    let mut strings: Vec<_> = rings.chain(further).map(|(draws, length_mm)| StringFigures { draws, length_mm }).collect();
    strings.sort_by(|a, b| a.length_mm.total_cmp(&b.length_mm));
    strings
}
