//! The job card: every number needed at the table, on one or two pages.

use super::table::{Flow, number, words};
use crate::layout::{Figures, Layout};
use crate::measure::LengthStyle;
use crate::print::Drawing;

/// Draws the card's pages.
#[must_use]
pub fn job_card(layout: &Layout, figures: &Figures, lengths: LengthStyle) -> Vec<Drawing> {
    let mut flow = Flow::new(format!("{}: job card", layout.name()));
    flow.heading(layout.name(), 5.0);
    if !layout.raw().note.is_empty() {
        flow.paragraph(&layout.raw().note);
    }
    garment(&mut flow, figures, lengths);
    burst(&mut flow, figures, lengths);
    binds(&mut flow, layout, figures, lengths);
    sections(&mut flow, figures, lengths);
    if !figures.warnings.is_empty() {
        flow.heading("Look out for", 3.2);
        for warning in &figures.warnings {
            flow.paragraph(&format!("- {}", warning.sentence(lengths)));
        }
    }
    flow.into_pages()
}

fn garment(flow: &mut Flow, figures: &Figures, lengths: LengthStyle) {
    let garment = &figures.garment;
    let size = garment.size.as_ref().map_or_else(String::new, |size| format!(", size {size}"));
    flow.heading(&format!("Garment: {}{size}", garment.kind), 3.2);
    let measure = |m: &crate::layout::MeasureFigures| {
        let name = m.name.trim_end_matches("_mm").replace('_', " ");
        format!("{name} {}", lengths.format(m.now_mm))
    };
    flow.paragraph(&garment.measures.iter().map(measure).collect::<Vec<_>>().join("; "));
    let changed = garment.measures.iter().filter(|m| (m.washed_mm - m.now_mm).abs() > 1e-9);
    let washed: Vec<_> = changed
        .map(|m| format!("{} {}", m.name.trim_end_matches("_mm").replace('_', " "), lengths.format(m.washed_mm)))
        .collect();
    if !washed.is_empty() {
        flow.paragraph(&format!("After a wash: {}", washed.join("; ")));
    }
    flow.paragraph(&format!("Dry cloth: {:.0} g (outline times mass per area, without seams and ribs)", garment.cloth.mass_g));
}

fn burst(flow: &mut Flow, figures: &Figures, lengths: LengthStyle) {
    let burst = &figures.burst;
    flow.heading("Fold", 3.2);
    flow.paragraph(&format!("Centring: {}. {}", burst.centring, burst.matching));
    flow.paragraph(&format!(
        "Burst centre: {} below the shoulder point, {} from the centre line ({} above the middle).",
        lengths.format(burst.centre_below_shoulder_mm),
        lengths.format(burst.centre_from_centre_line_mm),
        lengths.format(burst.centre_above_middle_mm)
    ));
    flow.paragraph(&format!(
        "Guide arc: {}. Fan fold {} pleats of {} along it ({:.1} degrees each, {} layers).",
        lengths.format(burst.guide_radius_mm),
        burst.pleats,
        lengths.format(burst.pleat_depth_mm),
        burst.pleat_angle_deg,
        burst.layers
    ));
}

fn binds(flow: &mut Flow, layout: &Layout, figures: &Figures, lengths: LengthStyle) {
    flow.heading(&format!("Binds: {}", layout.thread().kind.name()), 3.2);
    let order = figures.tying_order.iter().map(u32::to_string).collect::<Vec<_>>().join(", ");
    flow.paragraph(&format!("Tie in this order: {order}. Thread to cut in all: {}.", lengths.format(figures.thread_mm)));
    let columns = [
        number("Bind", 14.0),
        number("Tied", 14.0),
        number("From centre", 29.0),
        number("Gap inside", 26.0),
        number("Pleat", 22.0),
        number("Girth", 22.0),
        number("Wraps", 16.0),
        number("Thread", 24.0),
        words("", 17.0),
    ];
    let row = |bind: &crate::layout::BindFigures| {
        vec![
            bind.number.to_string(),
            bind.tied.to_string(),
            lengths.format(bind.radius_mm),
            lengths.format(bind.gap_inside_mm),
            lengths.format(bind.pleat_depth_mm),
            lengths.format(bind.rod.bound_girth_mm),
            bind.wraps.to_string(),
            lengths.format(bind.thread_mm),
            note(bind).to_owned(),
        ]
    };
    flow.table(&columns, &figures.binds.iter().map(row).collect::<Vec<_>>());
}

fn note(bind: &crate::layout::BindFigures) -> &'static str {
    match (bind.on_guide_arc, bind.by_hand) {
        (true, _) => "guide arc",
        (false, true) => "by hand",
        (false, false) => "",
    }
}

fn sections(flow: &mut Flow, figures: &Figures, lengths: LengthStyle) {
    flow.heading("Sections", 3.2);
    let columns = [
        number("Section", 20.0),
        number("From", 24.0),
        number("To", 24.0),
        number("Length", 24.0),
        number("Cloth", 24.0),
        words("Colour", 60.0),
    ];
    let row = |section: &crate::layout::SectionFigures| {
        vec![
            section.number.to_string(),
            lengths.format(section.inner_mm),
            lengths.format(section.outer_mm),
            lengths.format(section.length_mm),
            format!("{:.1} g", section.mass_g),
            section.colour.clone().unwrap_or_default(),
        ]
    };
    flow.table(&columns, &figures.sections.iter().map(row).collect::<Vec<_>>());
    for colour in &figures.colours {
        flow.paragraph(&format!("{}: {:.1} g of cloth in {} sections", colour.name, colour.mass_g, colour.sections.len()));
    }
}
