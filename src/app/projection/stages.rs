//! What the panel shows of each stage.

use super::{Aligned, Measured, Projection, Stage};
use crate::app::context::Context;
use crate::app::field;
use crate::app::theme::Palette;
use crate::measure::parse_length;
use crate::print::STANDARD_PAPERS;
use crate::projection::{MarkSet, Placement, ProjectedLayer, ProjectorProblem, Rectangle, check_side};
use crate::telling::Refused as _;
use egui::{RichText, Ui};
use kurbo::Point;

/// The sheets to choose among, lying.
const SHEETS: [&str; 4] = ["A3", "A4", "Tabloid", "Letter"];
/// A side this near to a sheet's is the sheet's, mm.
const SAME_MM: f64 = 0.05;
/// Above this the slip is told as a warning, mm: with care a mark is a third of a pixel off, and the lines then by a chalk line's breadth
/// (practice).
const WIDE_SLIP_MM: f64 = 10.0;

/// The sides of a sheet, the longer first, mm.
fn sheet(name: &str) -> Option<Rectangle> {
    let paper = STANDARD_PAPERS.into_iter().find(|paper| paper.name == name)?;
    Some(Rectangle { width_mm: paper.height_mm, height_mm: paper.width_mm })
}

fn said(ui: &mut Ui, words: &str) {
    ui.add(egui::Label::new(words).wrap());
}

fn weak(ui: &mut Ui, words: &str) {
    ui.add(egui::Label::new(RichText::new(words).weak()).wrap());
}

fn refused(ui: &mut Ui, words: &str) {
    let words = RichText::new(words).color(Palette::of(ui.ctx()).refused);
    ui.add(egui::Label::new(words).wrap());
}

fn warned(ui: &mut Ui, words: &str) {
    let words = RichText::new(words).color(Palette::of(ui.ctx()).warn);
    ui.add(egui::Label::new(words).wrap());
}

impl Projection {
    /// The rectangle that is laid on the table.
    pub(super) fn rectangle(&mut self, ctx: &Context<'_>, ui: &mut Ui) {
        said(ui, "Lay a sheet or a cutting mat flat on the table, in the middle of the picture. The larger, the better.");
        let Some(projector) = &mut self.projector else { return };
        let now = projector.rectangle;
        let is_sheet = |name: &&str| {
            sheet(name).is_some_and(|sheet| {
                (sheet.width_mm - now.width_mm).abs() < SAME_MM && (sheet.height_mm - now.height_mm).abs() < SAME_MM
            })
        };
        let chosen = SHEETS.into_iter().find(is_sheet);
        let all: Vec<Option<&str>> = SHEETS.into_iter().map(Some).chain(chosen.is_none().then_some(None)).collect();
        let words = |name: Option<&str>| name.map_or_else(|| "Other".to_owned(), |name| format!("{name}, lying"));
        if let Some(rectangle) = field::choice(ui, "Rectangle", chosen, &all, words).flatten().and_then(sheet) {
            projector.rectangle = rectangle;
        }
        let read = |text: &str| {
            let side_mm = parse_length(text, ctx.unit()).map_err(|error| error.say(ctx.voice()))?;
            check_side(side_mm).map_err(|problem| problem.say(ctx.voice()))?;
            Ok(side_mm)
        };
        let exact = ctx.lengths.finest();
        if let Some(width_mm) = field::read(ui, "Upper side", &exact.format(now.width_mm), read) {
            projector.rectangle.width_mm = width_mm;
        }
        if let Some(height_mm) = field::read(ui, "Right side", &exact.format(now.height_mm), read) {
            projector.rectangle.height_mm = height_mm;
        }
        if projector.rectangle != now {
            let picture = projector.picture;
            projector.begin_anew(picture);
            self.placement = None;
        }
        ui.add_space(6.0);
        if ui.button("Next: corners").clicked() {
            self.go(Stage::Marks);
        }
    }

    /// Where its marks lie in the picture.
    pub(super) fn marks(&mut self, ctx: &Context<'_>, ui: &mut Ui) {
        said(
            ui,
            "In the picture, drag each numbered cross onto its corner of the rectangle, as you stand before it: 1 upper left, 2 upper right, 3 lower right, 4 lower left.",
        );
        weak(ui, "Or press its number, then arrow keys: a pixel each, with Shift a tenth.");
        let Some(projector) = &mut self.projector else { return };
        let set = projector.mark_set();
        let mut with_middles = set == MarkSet::WithMiddles;
        let words = "Middles too: fold the sheet in half both ways to find them. What doesn't fit is then told in mm";
        if ui.checkbox(&mut with_middles, "Mark the middles too").on_hover_text(words).changed() {
            projector.mark(if with_middles { MarkSet::WithMiddles } else { MarkSet::Corners });
        }
        ui.add_space(6.0);
        let fits = self.told(ctx, ui);
        ui.horizontal_wrapped(|ui| {
            if ui.add_enabled(fits, egui::Button::new("Next: check")).clicked() {
                self.go(Stage::Check);
            }
            if ui.button("Start over").on_hover_text("Put the corners back in the middle of the picture").clicked()
                && let Some(projector) = &mut self.projector
            {
                projector.begin_anew(self.picture.unwrap_or(projector.picture));
            }
        });
    }

    /// How well the marks fit, or what is wrong with them; whether they can be used.
    fn told(&self, ctx: &Context<'_>, ui: &mut Ui) -> bool {
        let Aligned { projector, alignment } = match self.aligned() {
            Ok(aligned) => aligned,
            Err(problem) => {
                refused(ui, &problem.say(ctx.voice()));
                return false;
            }
        };
        let about = |mm: f64| ctx.lengths.format_thickness((10.0 * mm).round() / 10.0);
        match projector.mark_set() {
            MarkSet::Corners => weak(ui, &format!("Residual: {}. Four corners always fit.", about(alignment.residual_mm()))),
            MarkSet::WithMiddles => {
                let (mark, off_mm) = alignment.worst();
                let residual = about(alignment.residual_mm());
                said(ui, &format!("Residual: {residual}; mark {mark} is off most, by {}.", about(off_mm)));
            }
        }
        let slip_mm = alignment.slip_mm();
        let slip = format!("If each mark is a pixel off, lines at the picture's edge are off by {}.", about(slip_mm));
        if slip_mm > WIDE_SLIP_MM {
            warned(ui, &format!("{slip} Use a larger rectangle, or bring the projector nearer."));
        } else {
            weak(ui, &slip);
        }
        if alignment.is_mirrored() {
            warned(ui, "The numbers run the wrong way round: right only where the picture comes from below, through the table.");
        }
        true
    }

    /// What rules on the table say of cross and bar.
    pub(super) fn check(&mut self, ctx: &Context<'_>, ui: &mut Ui) {
        if !self.told(ctx, ui) {
            if ui.button("Back to the corners").clicked() {
                self.go(Stage::Marks);
            }
            return;
        }
        let Some(figure) = self.figure(ctx) else {
            refused(ui, "The picture has no room for a bar to measure; bring the projector farther from the table.");
            return;
        };
        let exact = ctx.lengths.finest();
        let (bar_mm, cross_mm) = (figure.bar_mm(), figure.cross_mm);
        said(ui, &format!("Measure from tick to tick. The bar should have {}.", exact.format(bar_mm)));
        let read = |text: &str| parse_length(text, ctx.unit()).map_err(|error| error.say(ctx.voice()));
        let mut projector = self.projector.clone();
        let correct = |text: &str| {
            let measured_mm = read(text)?;
            let mut tried = projector.clone().ok_or_else(String::new)?;
            tried.correct(bar_mm, measured_mm).map_err(|problem| problem.say(ctx.voice()))?;
            Ok(tried)
        };
        if let Some(corrected) = field::read(ui, "Bar measures", &exact.format(bar_mm), correct) {
            projector = Some(corrected);
            self.measured = Measured::default();
        }
        self.projector = projector;
        said(ui, &format!("The cross should have {} across and down.", exact.format(cross_mm)));
        let mut measured = self.measured;
        for (label, value) in [("Cross, across", &mut measured.across_mm), ("Cross, down", &mut measured.down_mm)] {
            if let Some(mm) = field::optional_length(ctx, ui, label, *value) {
                *value = mm;
            }
        }
        self.measured = measured;
        let off: Vec<f64> = [measured.across_mm, measured.down_mm].into_iter().flatten().map(|mm| mm - cross_mm).collect();
        if let Some(most) = off.iter().copied().max_by(|one, other| one.abs().total_cmp(&other.abs())) {
            let words = format!("The cross is off by {} at most.", ctx.lengths.format_thickness(most.abs()));
            if most.abs() > TRUE_MM {
                warned(ui, &format!("{words} Check the rectangle's sides and corners."));
            } else {
                said(ui, &words);
            }
        }
        let scale = self.projector.as_ref().map_or(1.0, |projector| projector.scale);
        if (scale - 1.0).abs() > f64::EPSILON {
            ui.horizontal_wrapped(|ui| {
                weak(ui, &format!("Corrected by {:+.2} %.", 100.0 * (scale - 1.0)));
                if ui.button("Undo the correction").clicked()
                    && let Some(projector) = &mut self.projector
                {
                    projector.scale = 1.0;
                }
            });
        }
        ui.add_space(6.0);
        if ui.button("Show the layout").clicked() {
            self.go(Stage::Show);
        }
    }

    /// Which layer shows, and where the layout lies.
    pub(super) fn layout(&mut self, ctx: &Context<'_>, ui: &mut Ui) {
        if let Err(problem) = self.aligned() {
            refused(ui, &problem.say(ctx.voice()));
            let words = match problem {
                ProjectorProblem::OtherPicture { .. } => "Align again",
                _ => "Back to the corners",
            };
            if ui.button(words).clicked() {
                self.go(Stage::Marks);
            }
            return;
        }
        for layer in ProjectedLayer::ALL {
            ui.radio_value(&mut self.layer, layer, layer.name());
        }
        ui.horizontal(|ui| {
            let (back, next) = (self.layer.back(), self.layer.next());
            if ui.add_enabled(back != self.layer, egui::Button::new("Layer before")).clicked() {
                self.layer = back;
            }
            if ui.add_enabled(next != self.layer, egui::Button::new("Next layer")).clicked() {
                self.layer = next;
            }
        });
        let (mut edge, mut numbers) = (!self.edge_hidden, !self.numbers_hidden);
        ui.checkbox(&mut edge, "Garment's edge with every layer");
        ui.checkbox(&mut numbers, "Numbers of the binds");
        (self.edge_hidden, self.numbers_hidden) = (!edge, !numbers);
        ui.add_space(4.0);
        self.position(ctx, ui);
        weak(
            ui,
            "In the picture: drag it, or arrow keys (Shift: fine); [ and ] turn; Page Down and Page Up change the layer; Escape ends.",
        );
    }

    /// Where the garment's middle lies from the middle of the rectangle, and how it is turned.
    fn position(&mut self, ctx: &Context<'_>, ui: &mut Ui) {
        let scene = self.scene(ctx);
        let Some(placed) = self.placed(&scene) else { return };
        let middle = scene.bounds().center();
        let at = placed.table_from_garment() * middle;
        let mut moved = at;
        if let Some(right_mm) = field::length(ctx, ui, "Moved right", at.x) {
            moved.x = right_mm;
        }
        if let Some(down_mm) = field::length(ctx, ui, "Moved down", at.y) {
            moved.y = down_mm;
        }
        let degrees = placed.turn_rad.to_degrees();
        let turned = field::number(ui, "Turned, °", (10.0 * degrees).round() / 10.0).map(f64::to_radians);
        if moved != at || turned.is_some() {
            self.placement = Some(Placement::of(middle, kept_near(moved), turned.unwrap_or(placed.turn_rad)));
        }
        if ui.button("Middle of the picture").on_hover_text("Put the layout back, not turned").clicked() {
            self.placement = None;
        }
    }
}

/// A cross off by more is told as a warning, mm: the breadth of a chalk line (practice).
const TRUE_MM: f64 = 2.0;
/// Farther from the rectangle than this nothing is placed, mm.
const FARTHEST_MM: f64 = 20_000.0;

fn kept_near(at: Point) -> Point {
    Point::new(at.x.clamp(-FARTHEST_MM, FARTHEST_MM), at.y.clamp(-FARTHEST_MM, FARTHEST_MM))
}
