//! Peeling the rod: from how it lies bound, layer by layer, to the opened cloth; each layer in its place in the rod, and on the cloth.

use super::maker::{Maker, Shown};
use super::paint::{self, Lifted, Pictured};
use crate::app::canvas::Canvas;
use crate::app::context::Context;
use crate::app::screen::screen;
use crate::app::theme::Palette;
use crate::geometry::{BundleFace, BundlePoint, ClothPoint, Panel};
use crate::layout::Layout;
use crate::reveal::{ClothStrip, LayerFrame, PictureMap};
use egui::{Align2, Color32, ColorImage, FontId, Mesh, Painter, Pos2, Rect, Response, RichText, Role, Sense, Shape, Stroke};
use egui::{TextureHandle, TextureOptions, Ui, UiBuilder, WidgetInfo, pos2, vec2};
use std::sync::Arc;

/// How far the rod is peeled, and what is drawn of the layer on top.
#[derive(Default)]
pub(super) struct Peel {
    at: Peeled,
    drawn: Option<Drawn>,
    /// Of a reveal of several ties, the one whose rod is peeled.
    of_tie: Option<(Arc<Shown>, usize, Arc<Shown>)>,
}

/// How far the rod is peeled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Peeled {
    /// The rod as it lies bound.
    Bound,
    /// Unbound, this many layers taken off.
    Off(u32),
    /// Opened.
    #[default]
    Opened,
}

impl Peeled {
    /// From the slider's stops: bound, each layer, opened.
    fn of_stop(stop: u32, places: u32) -> Self {
        match stop {
            0 => Self::Bound,
            stop if stop <= places => Self::Off(stop - 1),
            _ => Self::Opened,
        }
    }

    fn stop(self, places: u32) -> u32 {
        match self {
            Self::Bound => 0,
            Self::Off(off) => (off + 1).min(places),
            Self::Opened => places + 1,
        }
    }

    /// The place of the stack that is seen from above.
    fn place(self, places: u32) -> Option<u32> {
        match self {
            Self::Bound => places.checked_sub(1),
            Self::Off(off) => places.checked_sub(1 + off.min(places - 1)),
            Self::Opened => None,
        }
    }
}

/// A layer ready to be shown.
struct Drawn {
    of: Arc<Shown>,
    at: Peeled,
    place: u32,
    frame: LayerFrame,
    texture: TextureHandle,
    strip: ClothStrip,
}

/// Room for the slider and its words, points.
const FOOT: f32 = 66.0;
/// Share of the room's height that the rod takes at the most.
const ROD_SHARE: f32 = 0.4;
/// Room about the rod, points: for names of the binds above, for the stack's depth at the left.
const ABOVE: f32 = 42.0;
const BESIDE: f32 = 34.0;
/// Height of the slider alone, and of the room, points, below which what is seen is said only under the pointer.
const SLIDER: f32 = 30.0;
const LOW: f32 = 260.0;
/// Pixels along the rod at the most: as fine as the largest windows show.
const MOST_PIXELS: f64 = 1200.0;
/// Least edge of a pixel, mm.
const LEAST_PIXEL_MM: f64 = 0.5;

impl Peel {
    /// The reveal of a layout within `room`, peeled as far as the slider at its foot says.
    pub(super) fn show(
        &mut self,
        ctx: &Context<'_>,
        maker: &Maker,
        layout: &Arc<Layout>,
        room: Rect,
        canvas: &mut Canvas,
        ui: &mut Ui,
    ) {
        let alone = Pictured { maker, layout, role: None, overlay: None };
        let Some((shown, _)) = maker.shown() else {
            return paint::reveal(ctx, &alone, None, room, canvas, ui);
        };
        // A puck has no layers to be taken off one by one.
        if layout.spiral().is_some() {
            return paint::reveal(ctx, &alone, None, room, canvas, ui);
        }
        let shown = self.of_tie(shown, ctx.tie);
        let with_words = room.height() >= LOW;
        let (upper, foot) = room.split_top_bottom_at_y(room.bottom() - if with_words { FOOT } else { SLIDER });
        self.keep_up(&shown, ui);
        let at = self.at;
        self.slider(&shown, with_words, foot.shrink2(vec2(14.0, 4.0)), ui);
        let Some(drawn) = &self.drawn else {
            return paint::reveal(ctx, &alone, None, upper, canvas, ui);
        };
        let scale = ((upper.width() - BESIDE - 14.0) / screen(drawn.frame.width as f64))
            .min((ROD_SHARE * upper.height() - ABOVE) / screen(drawn.frame.height as f64))
            .max(1e-3);
        let size = vec2(screen(drawn.frame.width as f64), screen(drawn.frame.height as f64)) * scale;
        let left = upper.left() + BESIDE + 0.5 * (upper.width() - BESIDE - 14.0 - size.x).max(0.0);
        let rod = Rod {
            shown: &shown,
            drawn,
            bound: at == Peeled::Bound,
            rect: Rect::from_min_size(pos2(left, upper.top() + ABOVE), size),
            painter: ui.painter_at(upper),
            palette: Palette::of(ui.ctx()),
        };
        rod.draw();
        let marked = rod.point(ctx, ui);
        let lifted = Lifted { strip: &drawn.strip, marked };
        paint::reveal(ctx, &alone, Some(&lifted), upper.with_min_y(rod.rect.bottom() + 6.0), canvas, ui);
    }

    /// Of a reveal of several ties the one of a tie; of one the reveal itself.
    fn of_tie(&mut self, shown: &Arc<Shown>, tie: usize) -> Arc<Shown> {
        let Some(reveal) = shown.reveal.ties().get(tie).filter(|_| shown.layout.is_of_several()) else { return shown.clone() };
        if let Some((of, number, own)) = &self.of_tie
            && Arc::ptr_eq(of, shown)
            && *number == tie
        {
            return own.clone();
        }
        let layout = Arc::new(reveal.layout().clone());
        let (numbers, owners) = shown.layout.fields_of_tie(&layout);
        let own = Arc::new(Shown {
            dyes: shown.dyes.only(&numbers, owners),
            layout,
            reveal: Arc::new(reveal.clone()),
            look: shown.look,
            fine: shown.fine,
        });
        self.of_tie = Some((shown.clone(), tie, own.clone()));
        own
    }

    fn slider(&mut self, shown: &Shown, with_words: bool, foot: Rect, ui: &mut Ui) {
        let places = shown.reveal.places();
        let mut stop = self.at.stop(places);
        ui.scope_builder(UiBuilder::new().max_rect(foot), |ui| {
            let words = words(self.at, shown, self.drawn.as_ref());
            if with_words {
                ui.label(RichText::new(&words).size(14.0));
            }
            ui.horizontal(|ui| {
                let name = ui.label(RichText::new("Peel").strong()).on_hover_text(words);
                ui.label(RichText::new("bound").weak());
                ui.spacing_mut().slider_width = (ui.available_width() - 76.0).max(60.0);
                let slider = egui::Slider::new(&mut stop, 0..=places + 1).show_value(false);
                let slider = ui.add(slider).labelled_by(name.id);
                if slider.is_pointer_button_down_on() {
                    // So that arrow keys go on from where the hand let go.
                    slider.request_focus();
                }
                slider.on_hover_text("Open the rod layer by layer; arrow keys move one layer");
                ui.label(RichText::new("opened").weak());
            });
        });
        if stop != self.at.stop(places) {
            self.at = Peeled::of_stop(stop, places);
            ui.ctx().request_repaint();
        }
    }

    /// Draws what is on top, where it is not drawn yet.
    fn keep_up(&mut self, shown: &Arc<Shown>, ui: &Ui) {
        let reveal = &shown.reveal;
        let Some(place) = self.at.place(reveal.places()) else {
            self.drawn = None;
            return;
        };
        if self.drawn.as_ref().is_some_and(|drawn| Arc::ptr_eq(&drawn.of, shown) && drawn.at == self.at) {
            return;
        }
        let frame = reveal.layer_frame((reveal.layout().fold().length_mm() / MOST_PIXELS).max(LEAST_PIXEL_MM));
        let picture = match self.at {
            Peeled::Bound => reveal.rod_from_above(&frame, &shown.dyes, shown.look.map),
            _ => reveal.layer(place, &frame, &shown.dyes, shown.look.map),
        };
        let image = ColorImage::from_rgba_unmultiplied([picture.width, picture.height], &picture.rgba);
        let texture = match self.drawn.take() {
            Some(Drawn { mut texture, .. }) => {
                texture.set(image, TextureOptions::LINEAR);
                texture
            }
            None => ui.ctx().load_texture("layer", image, TextureOptions::LINEAR),
        };
        self.drawn = Some(Drawn { of: shown.clone(), at: self.at, place, frame, texture, strip: reveal.strip(place) });
    }
}

/// What is seen, in a sentence.
fn words(at: Peeled, shown: &Shown, drawn: Option<&Drawn>) -> String {
    let places = shown.reveal.places();
    let Some(drawn) = drawn.filter(|_| at != Peeled::Opened) else {
        return format!("Opened. The rod had {places} layers; drag left to see where each one lay.");
    };
    let cloth = cloth_words(&drawn.strip, shown.reveal.has_back());
    match at {
        Peeled::Bound => format!("The bound rod from above. On top: {cloth}."),
        _ => format!(
            "Layer {} of {places} from the top: {cloth}, {:.1} % of the cloth.",
            places - drawn.place,
            100.0 * drawn.strip.share
        ),
    }
}

/// Which cloth a strip is.
fn cloth_words(strip: &ClothStrip, has_back: bool) -> &'static str {
    let x = || strip.rows.iter().flatten().map(|point| point.x);
    let side = (x().all(|x| x >= -SIDE_MM), x().all(|x| x <= SIDE_MM));
    match (has_back, strip.panel, side) {
        (true, Panel::Front, (true, _)) => "front, the wearer's left",
        (true, Panel::Front, (_, true)) => "front, the wearer's right",
        (true, Panel::Back, (true, _)) => "back, the wearer's left",
        (true, Panel::Back, (_, true)) => "back, the wearer's right",
        (true, Panel::Front, _) => "front",
        (true, Panel::Back, _) => "back",
        (false, _, (true, _)) => "cloth of the right half",
        (false, _, (_, true)) => "cloth of the left half",
        (false, ..) => "one strip of cloth",
    }
}

/// How far a strip of one side may reach over the centre line, mm: as far as a hand strays.
const SIDE_MM: f64 = 12.0;

/// The rod on the table, the layer on top in its colours.
struct Rod<'a> {
    shown: &'a Shown,
    drawn: &'a Drawn,
    bound: bool,
    rect: Rect,
    painter: Painter,
    palette: &'a Palette,
}

impl Rod<'_> {
    fn points(&self, mm: f64) -> f32 {
        screen(mm / self.drawn.frame.pixel_mm) * self.rect.width() / screen(self.drawn.frame.width as f64)
    }

    fn x(&self, along_mm: f64) -> f32 {
        self.rect.left() + self.points(along_mm)
    }

    /// The rod's upper and lower edge.
    fn edges(&self, along_mm: f64) -> [Pos2; 2] {
        let (x, half) = (self.x(along_mm), 0.5 * self.points(self.shown.reveal.rod_width_mm(along_mm)));
        [pos2(x, self.rect.center().y - half), pos2(x, self.rect.center().y + half)]
    }

    fn draw(&self) {
        let length_mm = self.shown.layout.fold().length_mm();
        let steps = (self.rect.width() / 2.0).max(2.0);
        let edges: Vec<[Pos2; 2]> = (0..=400_u16)
            .map(f32::from)
            .take_while(|step| *step <= steps.min(400.0))
            .map(|step| self.edges(length_mm * f64::from(step / steps.min(400.0).floor())))
            .collect();
        self.painter.add(band(&edges, |_| self.palette.panel));
        self.painter.image(self.drawn.texture.id(), self.rect, Rect::from_min_max(Pos2::ZERO, pos2(1.0, 1.0)), Color32::WHITE);
        // The colours of a scale stay as they are.
        if self.bound && self.shown.look.map == PictureMap::Cloth {
            let dark = Color32::from_black_alpha(110);
            let middle = |[upper, lower]: [Pos2; 2]| upper.lerp(lower, 0.5);
            let halves: [Vec<[Pos2; 2]>; 2] = [0, 1].map(|end| edges.iter().map(|pair| [pair[end], middle(*pair)]).collect());
            halves.iter().for_each(|half| {
                self.painter.add(band(half, |end| if end == 0 { dark } else { Color32::TRANSPARENT }));
            });
        }
        let outline = Stroke::new(1.0, self.palette.faint.gamma_multiply(0.7));
        for end in [0, 1] {
            self.painter.line(edges.iter().map(|pair| pair[end]).collect(), outline);
        }
        self.binds();
        self.wound();
        self.stack();
        let title = if self.bound { "The bound rod" } else { "Inside the rod, from above" };
        let words = self.painter.text(
            pos2(self.rect.left(), self.rect.top() - ABOVE + 6.0),
            Align2::LEFT_TOP,
            title,
            FontId::proportional(15.5),
            self.palette.ink,
        );
        if !self.bound && self.drawn.strip.share > 0.0 {
            let gaps = "blank where this layer has no cloth";
            let at = words.right_top() + vec2(12.0, 1.0);
            self.painter.text(at, Align2::LEFT_TOP, gaps, FontId::proportional(13.5), self.palette.faint);
        }
    }

    /// Threads round the bound rod; where they sat, once they are off. Their numbers above.
    fn binds(&self) {
        let [dark, light] = self.palette.thread;
        let thread_mm = self.shown.layout.thread().diameter_mm;
        let mut last = f32::NEG_INFINITY;
        for (number, bind) in (1..).zip(crate::reveal::rod_binds(&self.shown.layout)) {
            let [upper, lower] = self.edges(bind.along_mm);
            if self.bound {
                let wraps = (bind.breadth_mm / thread_mm).round().max(1.0);
                let mut along_mm = bind.along_mm - 0.5 * (wraps - 1.0) * thread_mm;
                while along_mm < bind.along_mm + 0.5 * wraps * thread_mm {
                    let x = self.x(along_mm);
                    let ends = [pos2(x, upper.y - 1.0), pos2(x, lower.y + 1.0)];
                    self.painter.line_segment(ends, Stroke::new(self.points(thread_mm).max(1.2), dark));
                    self.painter.extend(Shape::dashed_line(&ends, Stroke::new(1.0, light), 3.0, 3.0));
                    along_mm += thread_mm;
                }
            } else {
                let mark = Stroke::new(1.0, self.palette.chalk.gamma_multiply(0.55));
                self.painter.extend(Shape::dashed_line(&[upper, lower], mark, 3.0, 4.0));
            }
            if upper.x - last > 18.0 {
                let at = pos2(upper.x, self.rect.top() - 3.0);
                self.painter.text(at, Align2::CENTER_BOTTOM, number.to_string(), FontId::proportional(11.5), self.palette.faint);
                last = upper.x;
            }
        }
    }

    /// Thread wound round a bound bundle, dashed under it; where it lay on both faces, once it is off.
    fn wound(&self) {
        let (Some(wrap), Some(fold)) = (self.shown.layout.wrap(), self.shown.layout.flat()) else { return };
        let ([dark, light], middle_mm) = (self.palette.thread, 0.5 * fold.size().height);
        let at = |point: kurbo::Point| pos2(self.x(point.x), self.rect.center().y + self.points(point.y - middle_mm));
        for face in [BundleFace::Lower, BundleFace::Upper] {
            for line in wrap.lines(face) {
                let ends = [at(line.p0), at(line.p1)];
                if self.bound && face == BundleFace::Upper {
                    let thread_mm = self.shown.layout.thread().diameter_mm;
                    self.painter.line_segment(ends, Stroke::new(self.points(thread_mm).max(1.2), light));
                    self.painter.extend(Shape::dashed_line(&ends, Stroke::new(1.0, dark), 3.0, 3.0));
                } else {
                    let mark = Stroke::new(1.0, self.palette.chalk.gamma_multiply(0.4));
                    self.painter.extend(Shape::dashed_line(&ends, mark, 3.0, 5.0));
                }
            }
        }
    }

    /// How deep in the stack the layer lies: a bar from the top layer to the bottom one.
    fn stack(&self) {
        let places = screen(f64::from(self.shown.reveal.places().max(1)));
        let bar = Rect::from_min_size(self.rect.left_top() - vec2(22.0, 0.0), vec2(9.0, self.rect.height()));
        let deep = screen(f64::from(self.shown.reveal.places() - self.drawn.place) - 0.5);
        let y = bar.top() + bar.height() * deep / places;
        self.painter.rect_stroke(bar, 2.0, Stroke::new(1.0, self.palette.faint), egui::StrokeKind::Inside);
        let thick = (bar.height() / places).max(2.5);
        let own = Rect::from_center_size(pos2(bar.center().x, y), vec2(bar.width() + 6.0, thick));
        self.painter.rect_filled(own, 1.0, self.palette.accent);
    }

    /// What the pointer is on in the rod: told, and the cloth that it is.
    fn point(&self, ctx: &Context<'_>, ui: &Ui) -> Option<ClothPoint> {
        let response = ui.interact(self.rect, ui.scope_id().with("layer in the rod"), Sense::hover());
        let name = if self.bound {
            "The bound rod, from above".to_owned()
        } else {
            format!("Place {} in the rod", self.drawn.place + 1)
        };
        response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &name));
        let at = response.hover_pos()?;
        let (rod, within) = self.rod_point(at)?;
        let cloth = self.shown.reveal.cloth_at(rod)?;
        let probe = self.shown.reveal.probe(cloth.panel, cloth.position()).filter(|_| within > 0.0)?;
        self.painter.circle_stroke(at, 4.0, Stroke::new(1.5, self.palette.accent));
        tell(ctx, self.shown, &probe, response);
        Some(cloth)
    }

    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a pixel of the picture; casts saturate")]
    fn rod_point(&self, at: Pos2) -> Option<(BundlePoint, f64)> {
        let frame = &self.drawn.frame;
        let share = (at - self.rect.min) / self.rect.size();
        if !(share.x >= 0.0 && share.y >= 0.0) {
            return None;
        }
        let pixel = |share: f32, pixels: usize| ((f64::from(share) * pixels as f64) as usize).min(pixels.saturating_sub(1));
        Some(self.shown.reveal.in_layer(frame, self.drawn.place, pixel(share.x, frame.width), pixel(share.y, frame.height)))
    }
}

fn tell(ctx: &Context<'_>, shown: &Shown, probe: &crate::reveal::Probe, response: Response) {
    response.on_hover_ui_at_pointer(|ui| paint::reading(ctx, shown, probe, ui));
}

/// A band between pairs of points, each end in its colour.
fn band(pairs: &[[Pos2; 2]], colour: impl Fn(usize) -> Color32) -> Mesh {
    let mut mesh = Mesh::default();
    for (index, [upper, lower]) in (0_u32..).zip(pairs) {
        mesh.colored_vertex(*upper, colour(0));
        mesh.colored_vertex(*lower, colour(1));
        if index > 0 {
            mesh.add_triangle(2 * index - 2, 2 * index - 1, 2 * index);
            mesh.add_triangle(2 * index - 1, 2 * index, 2 * index + 1);
        }
    }
    mesh
}
