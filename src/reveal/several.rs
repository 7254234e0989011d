//! Several ties opened on one garment: each pixel has the doses of the tie that its cloth belongs to, or of the loose cloth.

use super::DoseMap;
use super::loose::LooseDoses;
use super::mask::{PixelFrame, coverage};
use super::unfold::{HandMap, ShareTable};
use crate::geometry::{ClothPoint, Panel, PanelOutline, TiedFold};
use crate::layout::Layout;
use std::ops::{Range, RangeInclusive};

/// The doses on some rows of a panel, from each tie's own, in their order. Sections are numbered in one row: the first tie's, then the
/// second's, and so on; the loose cloth comes last.
pub(super) fn rows(
    layout: &Layout,
    ties: impl Iterator<Item = Option<DoseMap>>,
    loose: &LooseDoses,
    panel: Panel,
    frame: PixelFrame,
    rows: &Range<usize>,
) -> Option<DoseMap> {
    let outline = layout.panels().panel(panel).map(PanelOutline::whole)?;
    let (pixels, dyes) = (frame.width * rows.len(), layout.dye_fields().len());
    let mut map = DoseMap {
        frame,
        rows: rows.clone(),
        panel,
        dyes,
        coverage: coverage(outline, &frame, rows, panel == Panel::Back),
        doses: vec![0.0; pixels * dyes],
        discharged: vec![0.0; pixels],
        section: vec![0; pixels],
        relief: vec![0.0; pixels],
    };
    let mut sections = 0;
    for (number, (tie, own)) in layout.ties().iter().zip(ties).enumerate() {
        let (places, _) = layout.fields_of_tie(tie);
        take(&mut map, &own?, &places, sections);
        if tie.tied_fold().is_some_and(TiedFold::meets_earlier) {
            let of_tie = sections + 1..=sections.saturating_add(u16::try_from(tie.sections()).unwrap_or(u16::MAX));
            lay_thread(&mut map, layout, loose, number, &of_tie);
        }
        sections = sections.saturating_add(u16::try_from(tie.sections()).unwrap_or(u16::MAX));
    }
    lay_loose(&mut map, layout, loose, sections.saturating_add(1));
    Some(map)
}

/// Takes what belongs to one tie.
fn take(map: &mut DoseMap, own: &DoseMap, places: &[usize], first: u16) {
    for at in (0..map.section.len()).filter(|&at| own.section[at] > 0) {
        map.section[at] = first.saturating_add(own.section[at]);
        (map.discharged[at], map.relief[at]) = (own.discharged[at], own.relief[at]);
        for (&dose, place) in own.doses[at * own.dyes..][..own.dyes].iter().zip(places) {
            map.doses[at * map.dyes + place] = dose;
        }
    }
}

/// Lays the half of earlier ties' last thread that reaches over a tie's own cloth, where both meet, onto its sections.
fn lay_thread(map: &mut DoseMap, layout: &Layout, loose: &LooseDoses, tie: usize, sections: &RangeInclusive<u16>) {
    let side = if map.panel == Panel::Back { -1.0 } else { 1.0 };
    let hand = HandMap::new(&layout.process().hand, map.panel, &map.frame);
    for number in map.rows.clone() {
        let (strays, pixels) = (hand.row(number), map.row(number));
        for (column, at) in pixels.enumerate().filter(|(_, at)| sections.contains(&map.section[*at])).collect::<Vec<_>>() {
            let (drawn, (dx_mm, dy_mm)) = (map.frame.middle(column, number), hand.at(&strays, column));
            let taken = ClothPoint { panel: map.panel, x_mm: side * drawn.x + dx_mm, y_mm: drawn.y + dy_mm };
            #[expect(clippy::cast_possible_truncation, reason = "doses are kept in f32")]
            let free = loose.free_of_earlier(taken, tie) as f32;
            if free < 1.0 {
                // Of what is discharged too: under thread that covers well nothing is either way.
                map.discharged[at] *= free;
                map.doses[at * map.dyes..][..map.dyes].iter_mut().for_each(|dose| *dose *= free);
            }
        }
    }
}

/// Gives the rest of the cloth the doses of loose cloth.
fn lay_loose(map: &mut DoseMap, layout: &Layout, loose: &LooseDoses, section: u16) {
    let process = layout.process();
    let side = if map.panel == Panel::Back { -1.0 } else { 1.0 };
    let (hand, bleach) = (HandMap::new(&process.hand, map.panel, &map.frame), ShareTable::new(process));
    for number in map.rows.clone() {
        let (strays, pixels) = (hand.row(number), map.row(number));
        for (column, at) in
            pixels.enumerate().filter(|&(_, at)| map.coverage[at] > 0.0 && map.section[at] == 0).collect::<Vec<_>>()
        {
            let (drawn, (dx_mm, dy_mm)) = (map.frame.middle(column, number), hand.at(&strays, column));
            let taken = ClothPoint { panel: map.panel, x_mm: side * drawn.x + dx_mm, y_mm: drawn.y + dy_mm };
            #[expect(clippy::cast_possible_truncation, reason = "doses are kept in f32")]
            let dosed = |dose: f64| (loose.free(taken) * dose) as f32;
            map.section[at] = section;
            map.discharged[at] = bleach.share(dosed(loose.bath));
            for &(field, dose) in &loose.fields {
                map.doses[at * map.dyes + field] = dosed(dose);
            }
        }
    }
}
