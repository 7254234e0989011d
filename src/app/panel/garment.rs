//! Garment, measurements, cloth and wash.

use super::outline::outline;
use crate::app::action::Action;
use crate::app::context::{Ask, Context};
use crate::app::field::{self, choice};
use crate::app::heading::heading;
use crate::app::theme::Palette;
use crate::edit::EditCommand;
use crate::geometry::{Cloth, GarmentKind, Measure, Origin, Panel};
use crate::layout::WashSpec;
use crate::layout::{fibre_words, parse_fibres};
use crate::telling::Refused as _;
use crate::telling::capitalised;
use egui::{Pos2, Rect, RichText, Sense, Shape, Stroke, Ui, vec2};
use kurbo::Point;

pub(crate) fn garment(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let raw = ctx.layout.raw();
    if let Some(name) = field::wide_words(ui, "Name", &raw.name) {
        asks.push(Ask::Edit(EditCommand::Rename(name)));
    }
    if let Some(note) = field::lines(ui, "Note", &raw.note) {
        asks.push(Ask::Edit(EditCommand::SetNote(note)));
    }
    let kinds: Vec<_> = GarmentKind::every().collect();
    match choice(ui, "Kind", raw.garment.kind, &kinds, |kind| kind.name().to_owned()) {
        Some(GarmentKind::Own) => asks.push(Ask::Act(Action::ImportOutline)),
        Some(kind) => asks.push(Ask::Edit(EditCommand::SetKind(kind))),
        None => {}
    }
    outline(ctx, asks, ui);
    let is_own = raw.garment.kind == GarmentKind::Own;
    if !is_own {
        size(ctx, asks, ui);
    }
    heading(ui, "Measurements");
    let cleared = if is_own { "Clear a field for the size as drawn." } else { "Clear a field to use the size chart." };
    ui.label(RichText::new(cleared).weak());
    // Above the fields, where it is seen whichever the pointer is on; it shows what was pointed at in the frame before.
    let pointed = ui.scope_id().with("measurement pointed at");
    figure(ctx, ui, ui.data(|data| data.get_temp::<Option<Measure>>(pointed)).flatten());
    let mut shown = None;
    for measurement in ctx.layout.garment().measurements() {
        let measure = measurement.measure;
        let label = capitalised(measure.name());
        let row = ui.scope(|ui| field::optional_length(ctx, ui, &label, Some(measurement.value_mm)));
        if let Some(value) = row.inner {
            asks.push(Ask::Edit(EditCommand::SetMeasure(measure, value)));
        }
        let status = measurement.status.map_or_else(|| "measured by you".to_owned(), |status| status.words().to_owned());
        let origin = match measurement.origin {
            Origin::Overridden => String::new(),
            origin => format!("{}: ", origin.words()),
        };
        row.response.on_hover_text(format!("{}\n{origin}{status}", measure.how_to_measure()));
        if ui.rect_contains_pointer(ui.min_rect().intersect(last_row(ui))) {
            shown = Some(measure);
        }
    }
    if ui.data_mut(|data| std::mem::replace(data.get_temp_mut_or(pointed, None), shown)) != shown {
        ui.ctx().request_repaint();
    }
    cloth(ctx, asks, ui);
}

/// The rectangle of the row that was added last.
fn last_row(ui: &Ui) -> Rect {
    let below = ui.cursor().top();
    let height = ui.spacing().interact_size.y + ui.spacing().item_spacing.y;
    Rect::from_min_max(Pos2::new(ui.min_rect().left(), below - height), Pos2::new(ui.min_rect().right(), below))
}

fn size(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let now = ctx.layout.garment().size();
    let sizes: Vec<_> = ctx.layout.garment().kind().sizes().into_iter().map(|size| Some(size.name)).chain([None]).collect();
    let name = |size: Option<crate::geometry::SizeName>| {
        size.map_or_else(|| "from measurements".to_owned(), crate::geometry::SizeName::in_list)
    };
    if let Some(size) = choice(ui, "Size", now, &sizes, name) {
        asks.push(Ask::Edit(EditCommand::SetSize(size.map(|size| size.to_string()))));
    }
}

/// Height of the figure, points: fields stand below it in a window of the usual height.
const FIGURE: f32 = 150.0;

/// A small figure of the garment that shows where a measurement is taken.
fn figure(ctx: &Context<'_>, ui: &mut Ui, shown: Option<Measure>) {
    let palette = Palette::of(ui.ctx());
    let (response, painter) = ui.allocate_painter(vec2(ui.available_width().min(290.0), FIGURE), Sense::hover());
    let panels = ctx.layout.panels();
    let back = shown.is_some_and(|measure| {
        matches!(measure, Measure::BackNeckDrop | Measure::AcrossBack | Measure::HoodHeight | Measure::HoodDepth)
    });
    let Some(outline) = panels.panel(if back { Panel::Back } else { Panel::Front }).or(Some(&panels.front)) else { return };
    let view = crate::app::canvas::View::fitting(outline.whole().bounds(), response.rect, false);
    let mut line: Vec<Pos2> = Vec::new();
    kurbo::flatten(outline.whole().path(), 0.5, |el| {
        if let kurbo::PathEl::MoveTo(_) = el {
            painter.line(std::mem::take(&mut line), Stroke::new(1.5, palette.faint));
        }
        line.extend(el.end_point().map(|p| view.screen_from_mm(response.rect, p)));
    });
    painter.line(line, Stroke::new(1.5, palette.faint));
    let words = match shown.and_then(|measure| Some((measure, ctx.layout.garment().figure_line(measure)?))) {
        Some((measure, ends)) => {
            let ends = ends.map(|p: Point| view.screen_from_mm(response.rect, p));
            painter.extend(Shape::dashed_line(&ends, Stroke::new(2.5, palette.accent), 7.0, 3.0));
            for end in ends {
                painter.circle_filled(end, 4.0, palette.accent);
            }
            capitalised(measure.name())
        }
        None => "Point at a field to see where it is taken.".to_owned(),
    };
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, format!("Figure: {words}")));
    // One line in any case: the fields below would slip away from under the pointer.
    ui.add(egui::Label::new(RichText::new(words).weak()).truncate());
}

/// Whether the cloth still counts as the jersey that every garment begins with, though the kind is mostly made of heavier cloth.
fn is_usual_jersey(ctx: &Context<'_>) -> bool {
    let is_heavier = matches!(ctx.layout.raw().garment.kind, GarmentKind::HoodedTop | GarmentKind::ToteBag);
    is_heavier && ctx.layout.raw().garment.cloth.grams_per_m2.total_cmp(&Cloth::default().grams_per_m2).is_eq()
}

fn cloth(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    heading(ui, "Cloth and wash");
    let now = ctx.layout.raw().garment.cloth;
    let mut ask = |cloth: Cloth| asks.push(Ask::Edit(EditCommand::SetCloth(cloth)));
    if let Some(grams_per_m2) = field::number(ui, "Grams per m²", now.grams_per_m2) {
        ask(Cloth { grams_per_m2, ..now });
    }
    if is_usual_jersey(ctx) {
        let words =
            "That is T-shirt jersey. A hooded top or a bag is mostly heavier: weigh yours, or read its label; dye goes by it.";
        ui.add(egui::Label::new(RichText::new(words).weak()).wrap());
    }
    if let Some(free_thickness_mm) = field::thickness(ctx, ui, "Thickness, free", now.free_thickness_mm) {
        ask(Cloth { free_thickness_mm, ..now });
    }
    if let Some(pressed_thickness_mm) = field::thickness(ctx, ui, "Thickness, pressed", now.pressed_thickness_mm) {
        ask(Cloth { pressed_thickness_mm, ..now });
    }
    if let Some(packing) = field::number(ui, "Packing when tied", now.packing) {
        ask(Cloth { packing, ..now });
    }
    let written = fibre_words(&ctx.layout.raw().garment.fibres);
    let read = |text: &str| parse_fibres(text).map_err(|error| error.say(ctx.voice()));
    if let Some(fibres) = field::read_wide(ui, "Content label", &written, read) {
        asks.push(Ask::Edit(EditCommand::SetFibres(fibres)));
    }
    let wash = ctx.layout.raw().garment.wash;
    if let Some(length_percent) = field::number(ui, "Wash, length %", wash.length_percent) {
        asks.push(Ask::Edit(EditCommand::SetWash(WashSpec { length_percent, ..wash })));
    }
    if let Some(width_percent) = field::number(ui, "Wash, width %", wash.width_percent) {
        asks.push(Ask::Edit(EditCommand::SetWash(WashSpec { width_percent, ..wash })));
    }
}
