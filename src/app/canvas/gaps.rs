//! The plot of the gaps: each against the radius of the bind outside it. A bar is dragged to widen or narrow its gap.

use super::nudge::Nudge;
use crate::app::context::{Ask, Context};
use crate::app::screen::screen;
use crate::app::theme::Palette;
use crate::edit::{EditCommand, Target};
use crate::geometry::{Bind, Neighbours};
use egui::{Align2, CursorIcon, FontId, Key, Modifiers, Rect, Response, Role, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};

/// Height of the plot, points.
const HEIGHT: f32 = 130.0;
/// Headroom over the widest gap, so that it can be dragged wider still.
const HEADROOM: f64 = 1.25;

/// What is being dragged in the plot.
#[derive(Debug, Default)]
pub(crate) struct Gaps {
    /// The gap that is dragged, by its place from the centre, and the height of the plot when it was taken hold of, mm.
    dragged: Option<(usize, f64)>,
    nudge: Nudge,
}

/// Where things lie in the plot.
struct Scales {
    rect: Rect,
    farthest_mm: f64,
    tallest_mm: f64,
}

impl Scales {
    fn x(&self, radius_mm: f64) -> f32 {
        self.rect.left() + self.rect.width() * screen(radius_mm / self.farthest_mm)
    }

    fn y(&self, gap_mm: f64) -> f32 {
        self.rect.bottom() - self.rect.height() * screen((gap_mm / self.tallest_mm).min(1.0))
    }

    fn radius_mm(&self, x: f32) -> f64 {
        f64::from((x - self.rect.left()) / self.rect.width().max(1.0)) * self.farthest_mm
    }

    fn gap_mm(&self, y: f32) -> f64 {
        f64::from((self.rect.bottom() - y) / self.rect.height().max(1.0)) * self.tallest_mm
    }
}

/// The bind that a gap is changed by: of the two beside it the one farther from the guide arc, and where it goes for a gap of so
/// many mm.
fn moved(binds: &[Bind], gap: usize, gap_mm: f64) -> Option<(Bind, f64)> {
    let (inner, outer) = (binds.get(gap)?, binds.get(gap + 1)?);
    let guide = binds.iter().position(Bind::is_guide)?;
    Some(if gap < guide { (*inner, outer.radius_mm - gap_mm) } else { (*outer, inner.radius_mm + gap_mm) })
}

impl Gaps {
    pub(crate) fn show(
        &mut self,
        ctx: &Context<'_>,
        selected: &mut Option<Target>,
        neighbours: Neighbours,
        asks: &mut Vec<Ask>,
        ui: &mut Ui,
    ) {
        let (response, painter) = ui.allocate_painter(vec2(ui.available_width(), HEIGHT), Sense::click_and_drag());
        response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "Gaps between binds, from the centre to the edge"));
        let binds = &ctx.layout.binds().binds;
        let widest_mm = binds.windows(2).map(|pair| pair[1].radius_mm - pair[0].radius_mm).fold(1.0, f64::max);
        let scales = Scales {
            rect: response.rect.shrink2(vec2(8.0, 16.0)),
            farthest_mm: ctx.figures.fold.length_mm.max(1.0),
            // The scale stands still under a hand that drags.
            tallest_mm: self.dragged.map_or(HEADROOM * widest_mm, |(_, tallest_mm)| tallest_mm),
        };
        let pointed = response.hover_pos().and_then(|at| gap_at(binds, scales.radius_mm(at.x)));
        self.handle(ctx, &scales, pointed, &response, (selected, neighbours, asks), ui);
        let marked = self.dragged.map(|(gap, _)| gap).or(pointed);
        paint(ctx, &scales, marked, *selected, &painter, &response);
        if let Some(gap) = pointed.filter(|_| self.dragged.is_none()) {
            ui.ctx().set_cursor_icon(CursorIcon::ResizeVertical);
            let width = ctx.lengths.format(binds[gap + 1].radius_mm - binds[gap].radius_mm);
            let words = format!("Between bind {} and {}: {width}. Drag to change it.", gap + 1, gap + 2);
            response.on_hover_text_at_pointer(words);
        }
    }

    fn handle(
        &mut self,
        ctx: &Context<'_>,
        scales: &Scales,
        pointed: Option<usize>,
        response: &Response,
        (selected, neighbours, asks): (&mut Option<Target>, Neighbours, &mut Vec<Ask>),
        ui: &Ui,
    ) {
        let binds = &ctx.layout.binds().binds;
        let press = ui.input(|input| input.pointer.press_origin());
        if response.drag_started()
            && let Some(gap) = press.and_then(|at| gap_at(binds, scales.radius_mm(at.x)))
            && let Some((bind, _)) = moved(binds, gap, 1.0)
        {
            let target = Target::Bind(bind.id);
            self.dragged = Some((gap, scales.tallest_mm));
            *selected = Some(target);
            asks.push(Ask::BeginGesture(format!("move {}", target.name(ctx.layout))));
        }
        if let (Some((gap, _)), Some(at)) = (self.dragged, response.interact_pointer_pos())
            && response.dragged()
        {
            let step_mm = ctx.step_mm();
            let gap_mm = ((scales.gap_mm(at.y) / step_mm).round() * step_mm).max(step_mm);
            asks.extend(put(binds, gap, gap_mm, neighbours));
        }
        if response.drag_stopped() && self.dragged.take().is_some() {
            asks.push(Ask::EndGesture);
        }
        if response.clicked() {
            response.request_focus();
            *selected = pointed.and_then(|gap| moved(binds, gap, 1.0)).map(|(bind, _)| Target::Bind(bind.id));
        }
        self.nudge.look(asks, ui);
        if response.has_focus() {
            self.keys(ctx, response, *selected, neighbours, asks, ui);
        }
    }

    /// Arrows up and down widen and narrow the selected bind's gap toward the guide arc.
    fn keys(
        &mut self,
        ctx: &Context<'_>,
        response: &Response,
        selected: Option<Target>,
        neighbours: Neighbours,
        asks: &mut Vec<Ask>,
        ui: &Ui,
    ) {
        let arrows = egui::EventFilter { vertical_arrows: true, ..egui::EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, arrows));
        let binds = &ctx.layout.binds().binds;
        let (Some(index), Some(guide)) =
            (selected.and_then(|target| target.bind_number(ctx.layout)), binds.iter().position(Bind::is_guide))
        else {
            return;
        };
        let index = index - 1;
        let gap = if index < guide { index } else { index.saturating_sub(1) };
        for (key, by_mm) in [(Key::ArrowUp, ctx.step_mm()), (Key::ArrowDown, -ctx.step_mm())] {
            if index != guide && ui.input_mut(|input| input.consume_key(Modifiers::NONE, key)) {
                let gap_mm = binds[gap + 1].radius_mm - binds[gap].radius_mm + by_mm;
                let label = || selected.map_or_else(String::new, |target| format!("move {}", target.name(ctx.layout)));
                if let Some(change) = put(binds, gap, gap_mm, neighbours) {
                    self.nudge.step(label, change, asks, ui);
                }
            }
        }
    }
}

/// The change that gives a gap a width.
fn put(binds: &[Bind], gap: usize, gap_mm: f64, neighbours: Neighbours) -> Option<Ask> {
    let (bind, at_mm) = moved(binds, gap, gap_mm)?;
    Some(Ask::Edit(EditCommand::PutBind(bind.id, at_mm, neighbours)))
}

/// The gap at a radius, by its place from the centre: between bind `gap` and bind `gap + 1`, counted from 0.
fn gap_at(binds: &[Bind], radius_mm: f64) -> Option<usize> {
    let outer = binds.partition_point(|bind| bind.radius_mm < radius_mm);
    outer.checked_sub(1).filter(|gap| gap + 1 < binds.len())
}

fn paint(
    ctx: &Context<'_>,
    scales: &Scales,
    marked: Option<usize>,
    selected: Option<Target>,
    painter: &egui::Painter,
    response: &Response,
) {
    let palette = Palette::of(painter.ctx());
    painter.hline(scales.rect.x_range(), scales.rect.bottom(), Stroke::new(1.0, palette.faint));
    let selected_mm = selected.and_then(|target| target.radius_mm(ctx.layout));
    for (gap, pair) in ctx.figures.binds.windows(2).enumerate() {
        let toward_centre = pair[1].radius_mm <= ctx.layout.guide_mm();
        let changed_by = if toward_centre { pair[0].radius_mm } else { pair[1].radius_mm };
        let is_marked = marked == Some(gap) || selected_mm == Some(changed_by);
        let colour = if is_marked { palette.accent } else { palette.faint.gamma_multiply(0.75) };
        let (from, to) = (scales.x(pair[0].radius_mm) + 1.0, scales.x(pair[1].radius_mm) - 1.0);
        let top = scales.y(pair[1].gap_inside_mm);
        let bar = Rect::from_min_max(pos2(from, top), pos2(to.max(from + 1.0), scales.rect.bottom()));
        painter.rect_filled(bar, 1.0, colour);
        if pair[1].on_guide_arc {
            painter.vline(to + 1.0, scales.rect.y_range(), Stroke::new(2.0, palette.guide));
        }
    }
    let small = FontId::proportional(12.0);
    let write = |at, anchor, words: String| painter.text(at, anchor, words, small.clone(), palette.faint);
    let widest_mm = ctx.figures.binds.iter().skip(1).map(|bind| bind.gap_inside_mm).fold(0.0, f64::max);
    let shown = marked.and_then(|gap| ctx.figures.binds.get(gap + 1)).map(|bind| bind.gap_inside_mm);
    let words = match shown {
        Some(gap_mm) => format!("gap {}", ctx.lengths.format(gap_mm)),
        None => format!("widest {}", ctx.lengths.format(widest_mm)),
    };
    write(response.rect.left_top() + vec2(8.0, 0.0), Align2::LEFT_TOP, words);
    let tip = ctx.layout.words().tip.trim_start_matches("the ");
    write(response.rect.left_bottom() + vec2(8.0, 0.0), Align2::LEFT_BOTTOM, tip.to_owned());
    let guide = pos2(scales.x(ctx.layout.guide_mm()), response.rect.bottom());
    write(guide, Align2::CENTER_BOTTOM, ctx.layout.words().guide.to_owned());
    write(response.rect.right_bottom() - vec2(8.0, 0.0), Align2::RIGHT_BOTTOM, "edge".to_owned());
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// A wider gap moves the bind that lies farther from the guide arc, on either side of it.
    #[test]
    fn a_gap_is_changed_by_the_bind_away_from_the_guide() {
        let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
        let binds = &layout.binds().binds;
        let guide = binds.iter().position(Bind::is_guide).unwrap();
        assert_eq!(moved(binds, guide - 1, 40.0), Some((binds[guide - 1], binds[guide].radius_mm - 40.0)));
        assert_eq!(moved(binds, guide, 40.0), Some((binds[guide + 1], binds[guide].radius_mm + 40.0)));
        assert!(moved(binds, binds.len() - 1, 40.0).is_none());
        assert_eq!(gap_at(binds, binds[guide].radius_mm - 1.0), Some(guide - 1));
        assert_eq!((gap_at(binds, 0.0), gap_at(binds, 1e6)), (None, None));
    }
}
