//! Painting a reveal: the picture, its legend, what the pointer reads.

use super::maker::{Maker, Shown};
use crate::app::canvas::Canvas;
use crate::app::context::Context;
use crate::app::screen::screen;
use crate::app::theme::Palette;
use crate::geometry::{ClothPoint, Panel};
use crate::layout::Layout;
use crate::reveal::{ClothStrip, DyeDose, LooseCloth, PictureMap, PixelFrame, Probe};
use crate::telling::{Refused as _, capitalised};
use egui::{
    Align2, Color32, FontId, Painter, Pos2, Rect, Response, RichText, Role, Sense, Stroke, TextureHandle, Ui, WidgetInfo,
};
use egui::{pos2, vec2};
use kurbo::Point;
use std::sync::Arc;

/// Room above the picture for its name, and around it, points.
const HEAD: f32 = 30.0;
const MARGIN: f32 = 10.0;

/// A strip of the cloth that is looked at, the rest of it dimmed, and a point that is pointed at in the rod.
pub(super) struct Lifted<'a> {
    pub(super) strip: &'a ClothStrip,
    pub(super) marked: Option<ClothPoint>,
}

/// A reveal to be painted, and what it is beside another one.
pub(super) struct Pictured<'a> {
    pub(super) maker: &'a Maker,
    pub(super) layout: &'a Arc<Layout>,
    /// `held`, `now`; none where it stands alone.
    pub(super) role: Option<&'static str>,
    /// What lies over it, as large as its picture.
    pub(super) overlay: Option<&'a TextureHandle>,
}

/// The reveal of a layout within `room`.
pub(super) fn reveal(
    ctx: &Context<'_>,
    pictured: &Pictured<'_>,
    lifted: Option<&Lifted<'_>>,
    room: Rect,
    canvas: &mut Canvas,
    ui: &mut Ui,
) {
    let palette = Palette::of(ui.ctx());
    let Pictured { maker, layout, role, overlay } = *pictured;
    let response = ui.interact(room, ui.scope_id().with(("reveal", screen(f64::from(room.top())).to_bits())), Sense::hover());
    let name = role.map_or_else(|| layout.name().to_owned(), |role| format!("{}, {role}", layout.name()));
    let label = format!("Reveal of {name}");
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &label));
    let painter = ui.painter_at(room);
    let state = match (maker.refining(), maker.shown()) {
        _ if maker.refusal(layout).is_some() => String::new(),
        (Some(done), _) => format!("refining, {:.0} %", 100.0 * done),
        (None, Some((shown, _))) if shown.fine && Arc::ptr_eq(&shown.layout, layout) => "an estimate".to_owned(),
        _ => "a coarse estimate".to_owned(),
    };
    let head = room.left_top() + vec2(12.0, 6.0);
    let words = painter.text(head, Align2::LEFT_TOP, name, FontId::proportional(15.5), palette.ink);
    painter.text(words.right_top() + vec2(12.0, 1.0), Align2::LEFT_TOP, state, FontId::proportional(13.5), palette.faint);
    if let Some(refusal) = maker.refusal(layout) {
        let galley = painter.layout(refusal.say(ctx.voice()), FontId::proportional(15.0), palette.refused, room.width() - 40.0);
        painter.galley(room.left_top() + vec2(20.0, 60.0), galley, palette.refused);
        return;
    }
    let Some((shown, texture)) = maker.shown() else { return };
    let area = room.with_min_y(room.top() + HEAD).shrink(MARGIN);
    let textures: Vec<&TextureHandle> = std::iter::once(texture).chain(overlay).collect();
    let Some(hovered) = panels(shown, &textures, lifted, area, &response, &painter, palette) else { return };
    canvas.pointed = Some(layout.lay().plane_as_laid(hovered.place));
    if let Some(probe) = shown.reveal.probe(hovered.panel, hovered.place) {
        painter.circle_stroke(hovered.at, 4.0, Stroke::new(1.5, palette.accent));
        response.on_hover_ui_at_pointer(|ui| reading(ctx, shown, &probe, ui));
    } else if let Some(loose) = shown.reveal.loose()
        && has_cloth(layout, &hovered)
    {
        response.on_hover_ui_at_pointer(|ui| reading_of_loose(layout, loose, ui));
    }
}

/// The place of the cloth under the pointer; for the back in the garment's frame, not as seen from behind.
pub(super) struct Hovered {
    at: Pos2,
    panel: Panel,
    place: Point,
}

/// Room below a panel for its name, points, and what breadth the longest takes with some air.
const NAME: f32 = 20.0;
const LONG_NAME: f32 = 150.0;

/// What is left of the cloth's light beside a strip that is looked at.
const DIMMED: Color32 = Color32::from_rgba_premultiplied(64, 64, 64, 64);

/// A panel's picture on the table.
struct Sheet {
    panel: Panel,
    frame: PixelFrame,
    rect: Rect,
    uv: Rect,
    /// Points to a pixel.
    scale: f32,
}

impl Sheet {
    fn at(&self, point: Point) -> Pos2 {
        let (frame, side) = (&self.frame, if self.panel == Panel::Back { -1.0 } else { 1.0 });
        let pixels = |mm: f64| screen(mm / frame.pixel_mm) * self.scale;
        self.rect.min + vec2(pixels(side * point.x - frame.left_mm), pixels(point.y - frame.top_mm))
    }

    /// Paints a strip in its full colours: the picture once more, cut to it.
    fn lift(&self, lifted: &Lifted<'_>, texture: &TextureHandle, painter: &Painter, palette: &Palette) {
        if lifted.strip.panel != self.panel {
            return;
        }
        let mut mesh = egui::Mesh::with_texture(texture.id());
        let mut before: Option<u32> = None;
        for row in &lifted.strip.rows {
            let first = u32::try_from(mesh.vertices.len()).unwrap_or(u32::MAX);
            for point in row {
                let pos = self.at(*point);
                let share = (pos - self.rect.min) / self.rect.size();
                let uv = self.uv.min + self.uv.size() * share;
                mesh.vertices.push(egui::epaint::Vertex { pos, uv, color: Color32::WHITE });
            }
            for (step, before) in (1..).zip(before.into_iter().flat_map(|before| std::iter::repeat_n(before, row.len() - 1))) {
                mesh.add_triangle(before + step - 1, before + step, first + step - 1);
                mesh.add_triangle(before + step, first + step - 1, first + step);
            }
            before = Some(first);
        }
        painter.add(mesh);
        for (from, to) in &lifted.strip.creases {
            painter.line_segment([self.at(*from), self.at(*to)], Stroke::new(1.2, palette.accent));
        }
        if let Some(marked) = lifted.marked.filter(|marked| marked.panel == self.panel) {
            painter.circle_stroke(self.at(marked.position()), 5.0, Stroke::new(2.0, palette.accent));
        }
    }
}

/// Paints the panels beside or above each other, whichever shows them larger, and over their picture what else there is; what the pointer is on.
pub(super) fn panels(
    shown: &Shown,
    textures: &[&TextureHandle],
    lifted: Option<&Lifted<'_>>,
    area: Rect,
    response: &Response,
    painter: &Painter,
    palette: &Palette,
) -> Option<Hovered> {
    let texture = textures.first()?;
    let count = shown.reveal.panels().len().max(1);
    let [width, height] = texture.size().map(|pixels| screen(pixels as f64));
    let size = vec2(width / screen(count as f64), height);
    let cells = |columns: usize, rows: usize| {
        let cell = area.size() / vec2(screen(columns as f64), screen(rows as f64)) - vec2(0.0, NAME);
        (columns, (cell.x / size.x).min(cell.y / size.y).max(1e-3))
    };
    let (columns, scale) = if cells(count, 1).1 >= cells(1, count).1 { cells(count, 1) } else { cells(1, count) };
    let cell = area.size() / vec2(screen(columns as f64), screen((count / columns) as f64));
    let mut hovered = None;
    for (index, &(panel, frame)) in shown.reveal.panels().iter().enumerate() {
        let corner = area.min + cell * vec2(screen((index % columns) as f64), screen((index / columns) as f64));
        let room = Rect::from_min_size(corner, cell - vec2(0.0, NAME));
        let rect = Rect::from_center_size(room.center(), size * scale);
        let share = |index: usize| screen(index as f64 / count as f64);
        let uv = Rect::from_min_max(pos2(share(index), 0.0), pos2(share(index + 1), 1.0));
        let sheet = Sheet { panel, frame, rect, uv, scale };
        painter.image(texture.id(), rect, uv, if lifted.is_some() { DIMMED } else { Color32::WHITE });
        textures.iter().skip(1).for_each(|over| {
            painter.image(over.id(), rect, uv, Color32::WHITE);
        });
        if let Some(lifted) = lifted {
            sheet.lift(lifted, texture, &painter.with_clip_rect(rect.intersect(painter.clip_rect())), palette);
        }
        // Beside each other in little room, long names would run into each other.
        let name = match panel {
            Panel::Front => "front",
            Panel::Back if cell.x < LONG_NAME => "back",
            Panel::Back => "back, from behind",
        };
        painter.text(rect.center_bottom(), Align2::CENTER_TOP, name, FontId::proportional(13.0), palette.faint);
        if let Some(at) = response.hover_pos().filter(|at| rect.contains(*at)) {
            let mm = |points: f32| f64::from(points / scale) * frame.pixel_mm;
            let x = frame.left_mm + mm(at.x - rect.left());
            let x = if panel == Panel::Back { -x } else { x };
            hovered = Some(Hovered { at, panel, place: Point::new(x, frame.top_mm + mm(at.y - rect.top())) });
        }
    }
    hovered
}

pub(super) fn reading(ctx: &Context<'_>, shown: &Shown, probe: &Probe, ui: &mut Ui) {
    ui.set_min_width(220.0);
    let Some(tie) = shown.layout.ties().get(probe.tie) else { return };
    let of = tie.tie_name().map_or_else(String::new, |tie| format!("{tie}, "));
    ui.strong(capitalised(&format!("{of}section {}", probe.section)));
    ui.label(format!(
        "{} along the rod, {} below its surface",
        ctx.lengths.format(probe.along_mm),
        ctx.lengths.format(probe.depth_mm)
    ));
    ui.label(format!("layer {} of {} here, from the bottom", probe.place, probe.places_here));
    for (swatch, DyeDose { dose, components }) in tie.raw().colours.rotation.iter().zip(&probe.dyes) {
        ui.label(format!("{}: {:.0} % of a full dose", swatch.name, 100.0 * dose));
        let parted = swatch.components.iter().zip(components).map(|(one, dose)| format!("{} {:.0} %", one.name, 100.0 * dose));
        let parted = parted.collect::<Vec<_>>().join(", ");
        if !parted.is_empty() {
            ui.label(RichText::new(parted).weak());
        }
    }
    ui.label(format!("garment colour: {:.0} % left", 100.0 * probe.ground_left));
}

fn has_cloth(layout: &Layout, hovered: &Hovered) -> bool {
    layout.panels().panel(hovered.panel).is_some_and(|panel| panel.contains(hovered.place))
}

/// What loose cloth has.
fn reading_of_loose(layout: &Layout, loose: LooseCloth, ui: &mut Ui) {
    ui.strong("Loose cloth");
    if let Some(swatch) = loose.dye.and_then(|dye| layout.swatches().get(dye).copied()) {
        ui.label(format!("{}: {:.0} % of a full dose", swatch.name, 100.0 * loose.dose));
    }
    ui.label(format!("garment colour: {:.0} % left", 100.0 * loose.ground_left));
}

/// The scale of a map, with what it means; nothing for the cloth itself.
pub(super) fn legend(map: PictureMap, ui: &mut Ui) {
    let (stops, Some(words)) = (map.legend(), map.words()) else { return };
    let palette = Palette::of(ui.ctx());
    let (response, painter) = ui.allocate_painter(vec2(ui.available_width().min(300.0), 34.0), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, words));
    let bar = response.rect.shrink2(vec2(8.0, 0.0)).with_max_y(response.rect.top() + 16.0);
    let x = |value: f64| bar.left() + bar.width() * screen(value);
    let mut mesh = egui::Mesh::default();
    for (index, (value, [red, green, blue])) in (0_u32..).zip(&stops) {
        for y in [bar.top(), bar.bottom()] {
            mesh.colored_vertex(pos2(x(*value), y), Color32::from_rgb(*red, *green, *blue));
        }
        if index > 0 {
            mesh.add_triangle(2 * index - 2, 2 * index - 1, 2 * index);
            mesh.add_triangle(2 * index - 1, 2 * index, 2 * index + 1);
        }
    }
    painter.add(mesh);
    for value in [0.0, 0.25, 0.5, 0.75, 1.0] {
        let at = pos2(x(value), bar.bottom() + 2.0);
        painter.text(at, Align2::CENTER_TOP, crate::measure::neat(value), FontId::proportional(12.0), palette.faint);
    }
    ui.label(RichText::new(words).weak());
    if map == PictureMap::DoseReached {
        ui.label(RichText::new(PictureMap::HATCH_MEANS).weak());
    }
}
