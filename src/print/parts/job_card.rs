//! The job card: every number needed at the table, on one or two pages.

use super::table::{Flow, Row, number, words};
use crate::layout::{BindFigures, Figures, Layout, MeasureFigures, SectionFigures};
use crate::measure::LengthStyle;
use crate::print::Drawing;

/// A change in size smaller than this is not worth a line, mm.
const SHRINKAGE_SHOWN_MM: f64 = 0.05;

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
    let list = |length_mm: fn(&MeasureFigures) -> f64| {
        let word =
            |m: &MeasureFigures| format!("{} {}", m.name.trim_end_matches("_mm").replace('_', " "), lengths.format(length_mm(m)));
        garment.measures.iter().map(word).collect::<Vec<_>>().join("; ")
    };
    flow.paragraph(&format!("Now: {}", list(|m| m.now_mm)));
    if garment.measures.iter().any(|m| (m.washed_mm - m.now_mm).abs() > SHRINKAGE_SHOWN_MM) {
        flow.paragraph(&format!("After a wash: {}", list(|m| m.washed_mm)));
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

/// One table for both: a bind's row names the section inside it too.
fn binds(flow: &mut Flow, layout: &Layout, figures: &Figures, lengths: LengthStyle) {
    flow.heading(&format!("Binds and sections: {}", layout.thread().kind.name()), 3.2);
    let order = figures.tying_order.iter().map(u32::to_string).collect::<Vec<_>>().join(", ");
    flow.paragraph(&format!("Tie in this order: {order}. Thread to cut in all: {}.", lengths.format(figures.thread_mm)));
    let columns = [
        number("Bind", 14.0),
        number("Tied", 12.0),
        number("From centre", 24.0),
        number("Gap inside", 22.0),
        number("Pleat", 19.0),
        number("Girth", 19.0),
        number("Wraps", 14.0),
        number("Thread", 21.0),
        number("Cloth inside", 22.0),
        words("Colour", 17.0),
    ];
    let mut rows: Vec<Row> =
        figures.binds.iter().zip(&figures.sections).map(|(bind, section)| row(bind, section, lengths)).collect();
    rows.extend(figures.sections.last().map(|section| edge_row(section, lengths)));
    flow.table(&columns, &rows);
    flow.paragraph("Bold: the guide arc, tied first. *: set by hand. The section inside a bind has its number.");
    for colour in &figures.colours {
        flow.paragraph(&format!("{}: {:.1} g of cloth in {} sections", colour.name, colour.mass_g, colour.sections.len()));
    }
}

fn row(bind: &BindFigures, section: &SectionFigures, lengths: LengthStyle) -> Row {
    let by_hand = if bind.by_hand { "*" } else { "" };
    let cells = vec![
        format!("{by_hand}{}", bind.number),
        bind.tied.to_string(),
        lengths.format(bind.radius_mm),
        lengths.format(bind.gap_inside_mm),
        lengths.format(bind.pleat_depth_mm),
        lengths.format(bind.rod.bound_girth_mm),
        bind.wraps.to_string(),
        lengths.format(bind.thread_mm),
        format!("{:.1} g", section.mass_g),
        section.colour.clone().unwrap_or_default(),
    ];
    Row { cells, bold: bind.on_guide_arc }
}

/// The section beyond the last bind.
fn edge_row(section: &SectionFigures, lengths: LengthStyle) -> Row {
    let mut cells = vec![String::new(); 10];
    cells[0] = "edge".to_owned();
    cells[2] = lengths.format(section.outer_mm);
    cells[3] = lengths.format(section.length_mm);
    cells[8] = format!("{:.1} g", section.mass_g);
    cells[9] = section.colour.clone().unwrap_or_default();
    Row { cells, bold: false }
}
