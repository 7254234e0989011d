//! The rod, side on and to scale, and the cloth's way to it in a few drawn steps.

use super::canvas::screen;
use super::context::Context;
use super::theme::Palette;
use egui::{Align2, Color32, CornerRadius, FontId, Pos2, Rect, RichText, Sense, Shape, Stroke, Ui, pos2, vec2};

/// Room round the rod, points.
const MARGIN: f32 = 36.0;

/// Draws the bound rod, its strip beneath, and the fold guide.
pub(crate) fn show(ctx: &Context<'_>, ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    let (response, painter) = ui.allocate_painter(ui.available_size(), Sense::hover());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, "The bound rod, side on, and the fold guide"));
    painter.rect_filled(response.rect, 0.0, palette.table);
    let area = response.rect.shrink(MARGIN);
    let (upper, lower) = area.split_top_bottom_at_fraction(0.52);
    Rod { ctx, painter: &painter, palette, rect: upper }.draw();
    Guide { ctx, painter: &painter, palette, rect: lower.with_min_y(lower.top() + 12.0) }.draw();
    ui.label(RichText::new(""));
}

struct Rod<'a> {
    ctx: &'a Context<'a>,
    painter: &'a egui::Painter,
    palette: &'a Palette,
    rect: Rect,
}

impl Rod<'_> {
    fn scale(&self) -> f64 {
        let length_mm = self.ctx.figures.sections.last().map_or(1.0, |section| section.outer_mm).max(1.0);
        let thickest = self.ctx.figures.binds.iter().map(|bind| free_height_mm(self.ctx, bind.radius_mm)).fold(1.0, f64::max);
        (f64::from(self.rect.width()) / length_mm).min(f64::from(self.rect.height()) * 0.55 / thickest)
    }

    fn at(&self, along_mm: f64, above_mm: f64) -> Pos2 {
        let middle = self.rect.top() + self.rect.height() * 0.40;
        pos2(self.rect.left() + screen(along_mm * self.scale()), middle - screen(above_mm * self.scale()))
    }

    fn draw(&self) {
        self.painter.text(
            self.rect.left_top() - vec2(0.0, 22.0),
            Align2::LEFT_TOP,
            "The bound rod",
            FontId::proportional(17.0),
            self.palette.ink,
        );
        for (section, colour) in self.ctx.figures.sections.iter().zip(self.ctx.layout.section_colours()) {
            let swatch = colour.and_then(|index| self.ctx.layout.raw().colours.rotation.get(index));
            let tone = swatch.map_or(self.palette.plain_cloth, |swatch| super::theme::tone(swatch.srgb));
            self.section(section.inner_mm, section.outer_mm, tone);
        }
        for bind in &self.ctx.figures.binds {
            self.bind(bind);
        }
        self.strip();
    }

    /// A section bulges from bind to bind: bound round at its ends, free in its middle.
    fn section(&self, from_mm: f64, to_mm: f64, tone: Color32) {
        let steps = 14_u32;
        let outline =
            |up: f64| (0..=steps).map(move |step| (from_mm + (to_mm - from_mm) * f64::from(step) / f64::from(steps), up));
        let half = |along_mm: f64, t: f64| 0.5 * self.height_mm(along_mm, t);
        let t = |along_mm: f64| (along_mm - from_mm) / (to_mm - from_mm).max(1e-9);
        let upper: Vec<Pos2> = outline(1.0).map(|(x, up)| self.at(x, up * half(x, t(x)))).collect();
        let lower: Vec<Pos2> = outline(-1.0).map(|(x, up)| self.at(x, up * half(x, t(x)))).collect();
        let mut mesh = egui::Mesh::default();
        for (index, (a, b)) in (0_u32..).zip(upper.iter().zip(&lower)) {
            mesh.colored_vertex(*a, tone.lerp_to_gamma(Color32::WHITE, 0.12));
            mesh.colored_vertex(*b, tone.lerp_to_gamma(Color32::BLACK, 0.35));
            if index > 0 {
                let at = 2 * index;
                mesh.add_triangle(at - 2, at - 1, at);
                mesh.add_triangle(at - 1, at, at + 1);
            }
        }
        self.painter.add(mesh);
        self.pleat_lines(&upper, &lower);
    }

    fn pleat_lines(&self, upper: &[Pos2], lower: &[Pos2]) {
        for share in [0.2_f32, 0.4, 0.6, 0.8] {
            let line: Vec<Pos2> = upper.iter().zip(lower).map(|(a, b)| a.lerp(*b, share)).collect();
            self.painter.line(line, Stroke::new(0.8, Color32::BLACK.gamma_multiply(0.25)));
        }
    }

    fn height_mm(&self, along_mm: f64, t: f64) -> f64 {
        let free_mm = free_height_mm(self.ctx, along_mm);
        let bound_mm = bound_mm(self.ctx, along_mm);
        let swell = (std::f64::consts::PI * t.clamp(0.0, 1.0)).sin().powf(0.6);
        bound_mm + (free_mm.min(1.6 * bound_mm) - bound_mm) * swell
    }

    fn bind(&self, bind: &crate::layout::BindFigures) {
        let half = 0.5 * bind.rod.bound_diameter_mm + 0.8;
        let thread_mm = self.ctx.layout.thread().diameter_mm;
        let [dark, light] = self.palette.thread;
        for wrap in 0..bind.wraps {
            let x = bind.radius_mm + (f64::from(wrap) - 0.5 * f64::from(bind.wraps - 1)) * thread_mm;
            let ends = [self.at(x, half), self.at(x, -half)];
            self.painter.line_segment(ends, Stroke::new(screen(thread_mm * self.scale()).max(1.6), dark));
            self.painter.extend(Shape::dashed_line(&ends, Stroke::new(1.0, light), 3.0, 3.0));
        }
        let words = if bind.on_guide_arc { FontId::proportional(14.0) } else { FontId::proportional(12.0) };
        let above = self.at(bind.radius_mm, half) - vec2(0.0, 6.0);
        self.painter.text(above, Align2::CENTER_BOTTOM, bind.number.to_string(), words, self.palette.ink);
    }

    /// The strip that lies beside the rod: where each bind sits, its wraps, each section's number.
    fn strip(&self) {
        let top = self.rect.bottom() - 44.0;
        let end_mm = self.ctx.figures.sections.last().map_or(0.0, |section| section.outer_mm);
        let paper = Rect::from_min_max(pos2(self.at(0.0, 0.0).x - 8.0, top), pos2(self.at(end_mm, 0.0).x + 8.0, top + 42.0));
        self.painter.rect_filled(paper, CornerRadius::same(2), self.palette.tag[0]);
        let small = FontId::proportional(11.0);
        let mut last = f32::NEG_INFINITY;
        for bind in &self.ctx.figures.binds {
            let x = self.at(bind.radius_mm, 0.0).x;
            self.painter.vline(
                x,
                top..=(top + 12.0),
                Stroke::new(if bind.on_guide_arc { 2.2 } else { 1.2 }, self.palette.tag[1]),
            );
            if x - last > 24.0 {
                let words = format!("{}×", bind.wraps);
                self.painter.text(pos2(x, top + 13.0), Align2::CENTER_TOP, words, small.clone(), self.palette.tag[1]);
                last = x;
            }
        }
        for section in &self.ctx.figures.sections {
            let x = self.at(0.5 * (section.inner_mm + section.outer_mm), 0.0).x;
            if screen(section.length_mm * self.scale()) > 20.0 {
                self.painter.text(
                    pos2(x, top + 40.0),
                    Align2::CENTER_BOTTOM,
                    section.number.to_string(),
                    small.clone(),
                    self.palette.tag[1],
                );
            }
        }
    }
}

fn free_height_mm(ctx: &Context<'_>, along_mm: f64) -> f64 {
    crate::geometry::rod_size(ctx.layout.fold(), ctx.layout.cloth(), along_mm).height_mm
}

fn bound_mm(ctx: &Context<'_>, along_mm: f64) -> f64 {
    crate::geometry::rod_size(ctx.layout.fold(), ctx.layout.cloth(), along_mm).bound_diameter_mm
}

/// The cloth's way to the rod, with this layout's own numbers.
struct Guide<'a> {
    ctx: &'a Context<'a>,
    painter: &'a egui::Painter,
    palette: &'a Palette,
    rect: Rect,
}

/// Least breadth of a step of the fold guide, points.
const LEAST_STEP: f32 = 150.0;

impl Guide<'_> {
    fn draw(&self) {
        self.painter.text(self.rect.left_top(), Align2::LEFT_TOP, "The way there", FontId::proportional(17.0), self.palette.ink);
        let room = self.rect.with_min_y(self.rect.top() + 30.0);
        // Beside each other where there is room for the words, else two and two.
        let columns = if room.width() > 4.0 * LEAST_STEP { 4 } else { 2 };
        let size = vec2(room.width() / f32::from(columns), room.height() / f32::from(4 / columns));
        for (index, (title, words)) in (0_u8..).zip(self.steps()) {
            let corner = room.min + size * vec2(f32::from(index % columns), f32::from(index / columns));
            let rect = Rect::from_min_size(corner, size - vec2(16.0, 6.0));
            self.painter.text(
                rect.left_top(),
                Align2::LEFT_TOP,
                format!("{}  {title}", index + 1),
                FontId::proportional(15.5),
                self.palette.ink,
            );
            let galley = self.painter.layout(words, FontId::proportional(13.5), self.palette.faint, rect.width());
            let drawing = rect.with_min_y(rect.top() + 30.0 + galley.size().y);
            self.painter.galley(rect.left_top() + vec2(0.0, 24.0), galley, self.palette.faint);
            if drawing.height() > 30.0 {
                self.picture(index, drawing);
            }
        }
    }

    fn steps(&self) -> [(&'static str, String); 4] {
        let burst = &self.ctx.figures.burst;
        let format = |mm| self.ctx.lengths.format(mm);
        let order = self.ctx.figures.tying_order.iter().take(4).map(u32::to_string).collect::<Vec<_>>().join(", ");
        [
            ("Lay it", format!("{}: {} layers. {}", burst.centring, burst.layers, burst.matching)),
            (
                "Mark it",
                format!(
                    "Centre {} below the shoulder point; guide arc {} by string.",
                    format(burst.centre_below_shoulder_mm),
                    format(burst.guide_radius_mm)
                ),
            ),
            (
                "Fan fold",
                format!(
                    "{} pleats of {} along the guide arc, until the arc is a straight line.",
                    burst.pleats,
                    format(burst.pleat_depth_mm)
                ),
            ),
            ("Bind", format!("Guide first, then inward, then outward: {order}, … {} binds.", self.ctx.figures.binds.len())),
        ]
    }

    fn picture(&self, step: u8, rect: Rect) {
        let stroke = Stroke::new(1.6, self.palette.chalk);
        let middle = rect.center();
        let reach = 0.42 * rect.height().min(rect.width());
        match step {
            0 => {
                for layer in 0..self.ctx.figures.burst.layers.min(4) {
                    let shift = vec2(5.0, -5.0) * f32::from(u8::try_from(layer).unwrap_or(0));
                    let sheet = Rect::from_center_size(middle + shift, vec2(reach, 1.5 * reach));
                    self.painter.rect(
                        sheet,
                        CornerRadius::same(2),
                        self.palette.plain_cloth.gamma_multiply(0.5),
                        stroke,
                        egui::StrokeKind::Inside,
                    );
                }
            }
            1 => {
                let centre = pos2(rect.left() + 12.0, middle.y);
                for share in [0.35_f32, 0.6, 1.0] {
                    let arc = |step: u8| centre + 1.3 * reach * share * egui::Vec2::angled(-1.3 + 2.6 * f32::from(step) / 24.0);
                    self.painter.line(
                        (0..=24).map(arc).collect(),
                        if share < 1.0 { stroke } else { Stroke::new(3.0, self.palette.guide) },
                    );
                }
                self.painter.line_segment(
                    [centre, centre + 1.3 * reach * egui::Vec2::angled(0.5)],
                    Stroke::new(1.4, self.palette.accent),
                );
                self.painter.circle_filled(centre, 4.0, self.palette.accent);
            }
            2 => {
                let pleats = self.ctx.figures.burst.pleats.clamp(2, 20);
                let zigzag = |index: u32| {
                    let share = f32::from(u16::try_from(index).unwrap_or(0)) / f32::from(u16::try_from(pleats).unwrap_or(1));
                    pos2(
                        rect.left() + share * rect.width(),
                        middle.y + if index.is_multiple_of(2) { -0.4 * reach } else { 0.4 * reach },
                    )
                };
                self.painter.line((0..=pleats).map(zigzag).collect(), Stroke::new(2.2, self.palette.chalk));
            }
            _ => {
                let rod = Rect::from_center_size(middle, vec2(rect.width(), 0.7 * reach));
                self.painter.rect_filled(rod, CornerRadius::same(6), self.palette.plain_cloth.gamma_multiply(0.6));
                let end_mm = self.ctx.figures.burst.farthest_mm.max(1.0);
                for bind in &self.ctx.figures.binds {
                    let x = rod.left() + rod.width() * screen(bind.radius_mm / end_mm);
                    self.painter.vline(
                        x,
                        rod.y_range(),
                        Stroke::new(if bind.on_guide_arc { 3.5 } else { 2.0 }, self.palette.thread[0]),
                    );
                }
            }
        }
    }
}
