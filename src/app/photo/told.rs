//! What a measured photograph tells: findings in words, rings and sections with their error bars, the legend of differences.

use super::holder::Held;
use crate::app::heading::heading;
use crate::app::screen::screen;
use crate::app::theme::{Palette, tone};
use crate::layout::Srgb;
use crate::measure::{LengthStyle, neat};
use crate::photo::{DIFFERENCE_STOPS, TieMeasure, measured_length, nothing_differs};
use crate::telling::Voice;
use egui::{Align2, FontId, Grid, Label, RichText, Role, Sense, Ui, WidgetInfo, pos2, vec2};

/// What was measured; `is_stale` where the marks are others by now.
pub(super) fn show(held: &Held, is_stale: bool, lengths: LengthStyle, ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    if is_stale {
        let words = "Marks or layout have changed since: measure again.";
        ui.add(Label::new(RichText::new(words).color(palette.warn)).wrap());
    }
    for (tie, of_tie) in held.measured.ties().iter().zip(&held.findings.ties) {
        if let Some(name) = &tie.name {
            ui.add(Label::new(RichText::new(name).strong()).wrap());
        }
        let said = of_tie.iter().map(|finding| finding.say(Voice::window(lengths)));
        let rest = nothing_differs(of_tie, &tie.rings).map(str::to_owned);
        for words in said.chain(tie.rings.unfound_words()).chain(rest) {
            ui.add(Label::new(words).wrap());
        }
    }
    if !held.findings.whole.is_empty() {
        ui.add(Label::new(RichText::new("All of it").strong()).wrap());
    }
    for finding in &held.findings.whole {
        ui.add(Label::new(finding.say(Voice::window(lengths))).wrap());
    }
    let outline = 100.0 * held.measured.registration.outline_found();
    let of_rings = held.measured.found_words();
    let words = format!("{:.2} mm a pixel; {outline:.0} % of the outline found{of_rings}.", held.measured.pixel_mm);
    ui.add(Label::new(RichText::new(words).weak()).wrap());
    if let Some(scale) = held.measured.scale {
        let [share, sd] = [scale.share, scale.sd].map(|share| 100.0 * share);
        let words =
            format!("By the sheet, the garment has {share:.1} % of its planned size, give or take {sd:.1} %; a tape tells more.");
        ui.add(Label::new(RichText::new(words).weak()).wrap());
    }
    for (number, tie) in held.measured.ties().iter().enumerate() {
        ui.push_id(number, |ui| {
            rings(tie, lengths, ui);
            sections(tie, ui);
        });
    }
    if let Some(loose) = &held.measured.loose {
        heading(ui, "Loose cloth");
        ui.horizontal(|ui| {
            swatch(&format!("Colour of the loose cloth: {}", loose.srgb), loose.srgb, ui);
            ui.label(format!("difference {:.1}", loose.delta_e));
        });
    }
    legend(ui);
    let words = "Dashed: rings as planned. Solid: as tied. Bars: how far off a ring may be, twice.";
    ui.add(Label::new(RichText::new(words).weak()).wrap());
}

/// A heading, after the name of a tie where there are several.
fn headed(tie: &TieMeasure, what: &str, ui: &mut Ui) {
    match &tie.name {
        Some(name) => heading(ui, &format!("{name}: {}", what.to_lowercase())),
        None => heading(ui, what),
    }
}

/// What a row is of, as it is read out: `Heart, ring`, or only `Ring`.
fn of_tie(tie: &TieMeasure, what: &str) -> String {
    tie.name.as_ref().map_or_else(|| what.to_owned(), |name| format!("{name}, {}", what.to_lowercase()))
}

/// A patch of a colour.
fn swatch(words: &str, colour: Srgb, ui: &mut Ui) {
    let (response, painter) = ui.allocate_painter(vec2(34.0, 16.0), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, words));
    painter.rect_filled(response.rect, 3.0, tone(colour));
}

fn rings(tie: &TieMeasure, lengths: LengthStyle, ui: &mut Ui) {
    let rings = &tie.rings.rings;
    if rings.is_empty() {
        return;
    }
    headed(tie, "Rings", ui);
    table("rings", ["Bind", "Planned", "Found", "Give or take"], ui, |ui| {
        for ring in rings {
            let cells = [
                lengths.format(ring.planned_mm),
                measured_length(ring.radius_mm(), lengths),
                measured_length(ring.sd_mm, lengths),
            ];
            let [planned, found, sd] = &cells;
            let words = format!("{} {}: planned {planned}, found {found}, give or take {sd}", of_tie(tie, "Ring"), ring.bind);
            row_begins(&ring.bind.to_string(), &words, ui);
            cells.into_iter().for_each(|cell| drop(ui.label(cell)));
            ui.end_row();
        }
    });
}

fn sections(tie: &TieMeasure, ui: &mut Ui) {
    let Some(colours) = &tie.colours else { return };
    headed(tie, "Sections", ui);
    table("sections", ["Section", "Colour", "Difference", ""], ui, |ui| {
        for section in &colours.sections {
            let name = of_tie(tie, "Section");
            let words = format!("{name} {}: {}, difference {:.1}", section.section, section.srgb, section.delta_e);
            row_begins(&section.section.to_string(), &words, ui);
            swatch(&format!("Colour of {} {}: {}", name.to_lowercase(), section.section, section.srgb), section.srgb, ui);
            ui.label(format!("{:.1}", section.delta_e));
            ui.end_row();
        }
    });
    if let Some(evenness) = colours.evenness {
        ui.label(RichText::new(format!("Unevenness round the middle: {evenness:.1}")).weak());
    }
}

/// A row's first cell, which keys come to, so that every row can be brought into sight and is read as a whole.
fn row_begins(cell: &str, words: &str, ui: &mut Ui) {
    let response = ui.add(Label::new(cell).sense(Sense::focusable_noninteractive()));
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, words));
    if response.gained_focus() {
        response.scroll_to_me(None);
    }
}

/// A table as long as it is: one that scrolled within the panel would take the wheel from it.
fn table(name: &str, heads: [&str; 4], ui: &mut Ui, rows: impl FnOnce(&mut Ui)) {
    Grid::new(name).num_columns(4).striped(true).min_col_width(52.0).show(ui, |ui| {
        for head in heads {
            ui.label(RichText::new(head).weak().small());
        }
        ui.end_row();
        rows(ui);
    });
}

/// The colours of differences.
fn legend(ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    heading(ui, "Difference");
    let (response, painter) = ui.allocate_painter(vec2(ui.available_width().min(300.0), 34.0), Sense::hover());
    let words = "Difference in colour (CIEDE2000): grey can't be told apart from the plan, yellow and red lie far from it.";
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, words));
    let bar = response.rect.shrink2(vec2(10.0, 0.0)).with_max_y(response.rect.top() + 16.0);
    let last = DIFFERENCE_STOPS[DIFFERENCE_STOPS.len() - 1].0;
    let x = |value: f64| bar.left() + bar.width() * screen(value / last);
    let mut mesh = egui::Mesh::default();
    let stops: Vec<_> = std::iter::once((0.0, DIFFERENCE_STOPS[0].1)).chain(DIFFERENCE_STOPS).collect();
    for (index, (value, colour)) in (0_u32..).zip(&stops) {
        for y in [bar.top(), bar.bottom()] {
            mesh.colored_vertex(pos2(x(*value), y), tone(*colour));
        }
        if index > 0 {
            mesh.add_triangle(2 * index - 2, 2 * index - 1, 2 * index);
            mesh.add_triangle(2 * index - 1, 2 * index, 2 * index + 1);
        }
    }
    painter.add(mesh);
    for (value, _) in stops {
        let at = pos2(x(value), bar.bottom() + 2.0);
        painter.text(at, Align2::CENTER_TOP, neat(value), FontId::proportional(12.0), palette.faint);
    }
    ui.add(Label::new(RichText::new(words).weak()).wrap());
}
