//! What a drawing is asked about before a line is taken from it: what for, what its numbers measure, and which of its lines is meant.

use crate::app::context::Ask;
use crate::app::flat::flat;
use crate::app::purpose::DrawnAs;
use crate::app::screen::screen;
use crate::geometry::FreeLine;
use crate::import::{FileUnit, FoundLine};
use crate::telling::Voice;
use egui::{Button, ScrollArea, Sense, Stroke, Ui, pos2, vec2};
use kurbo::Shape as _;
use std::path::{Path, PathBuf};

/// A question about a drawing.
#[derive(Debug)]
pub(crate) struct LineDialog {
    path: PathBuf,
    question: Question,
}

/// What is made of a drawing that was dropped, in words.
const USES: [(DrawnAs, &str); 2] =
    [(DrawnAs::Line, "Fold along a line of it"), (DrawnAs::Outline, "Use it as the garment's outline")];

#[derive(Debug)]
enum Question {
    /// What is to be made of it.
    Use,
    /// What its numbers measure, with its width and height in them.
    Unit(DrawnAs, [f64; 2]),
    /// Which of its lines.
    Which(DrawnAs, Vec<FoundLine>),
}

/// Side of a line's picture and the border in it, points.
const PICTURE: f32 = 40.0;
const BORDER: f32 = 4.0;
/// How far a picture's line may stray, as a share of its size.
const FLAT_SHARE: f64 = 0.01;

impl LineDialog {
    pub(crate) fn used_as(path: PathBuf) -> Self {
        Self { path, question: Question::Use }
    }

    pub(crate) fn unit(drawn: DrawnAs, path: PathBuf, size: [f64; 2]) -> Self {
        Self { path, question: Question::Unit(drawn, size) }
    }

    pub(crate) fn which(drawn: DrawnAs, path: PathBuf, lines: Vec<FoundLine>) -> Self {
        Self { path, question: Question::Which(drawn, lines) }
    }

    pub(super) fn show(&self, voice: Voice, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let file = self.path.file_name().unwrap_or_default().to_string_lossy();
        let answer = match &self.question {
            Question::Use => {
                ui.heading("What is it for?");
                ui.label(format!("\"{file}\" is a drawing."));
                let used = USES.into_iter().filter(|(_, words)| ui.button(*words).clicked()).last();
                used.map(|(drawn, _)| Ask::ReadDrawing(drawn, self.path.clone(), None))
            }
            Question::Unit(drawn, size) => {
                ui.heading("Which unit?");
                ui.label(format!("\"{file}\" doesn't say what its numbers measure. All of it would be as large as this:"));
                units(*size, voice, ui).map(|unit| Ask::ReadDrawing(*drawn, self.path.clone(), Some(unit)))
            }
            Question::Which(drawn, lines) => {
                ui.heading("Which line?");
                let what = match drawn {
                    DrawnAs::Line => "lines. Fold along one of them:",
                    DrawnAs::Outline => "lines that may be the garment's outline. Choose one:",
                    DrawnAs::Back => "lines that may be the back's outline. Choose one:",
                };
                ui.label(format!("\"{file}\" has {} {what}", lines.len()));
                which(lines, voice, ui).map(|line| Ask::TakeDrawn(*drawn, self.path.clone(), line.clone()))
            }
        };
        ui.add_space(8.0);
        if let Some(answer) = answer {
            asks.extend([Ask::CloseDialog, answer]);
        } else if ui.button("Cancel").clicked() {
            asks.push(Ask::CloseDialog);
        }
    }
}

/// A line of a drawing as one that lies nowhere yet, called by its own name or the file's.
pub(crate) fn free(path: &Path, line: &FoundLine) -> FreeLine {
    let name = line.name.clone().unwrap_or_else(|| path.file_stem().unwrap_or_default().to_string_lossy().into_owned());
    FreeLine { name, path: line.path.clone(), width_mm: None, kind: None }
}

fn units(size: [f64; 2], voice: Voice, ui: &mut Ui) -> Option<FileUnit> {
    let mut chosen = None;
    for unit in FileUnit::ALL {
        let [width, height] = size.map(|number| voice.about(number * unit.in_mm()));
        if ui.button(format!("{}: {width} x {height}", unit.name())).clicked() {
            chosen = Some(unit);
        }
    }
    chosen
}

fn which<'a>(lines: &'a [FoundLine], voice: Voice, ui: &mut Ui) -> Option<&'a FoundLine> {
    let mut chosen = None;
    let most = (ui.ctx().content_rect().height() - 240.0).max(3.0 * PICTURE);
    ScrollArea::vertical().max_height(most).auto_shrink([false, true]).show_rows(ui, PICTURE, lines.len(), |ui, rows| {
        for line in &lines[rows] {
            ui.horizontal(|ui| {
                picture(line, ui);
                if ui.add(Button::new(line.brief().words(voice)).min_size(vec2(0.0, PICTURE)).wrap()).clicked() {
                    chosen = Some(line);
                }
            });
        }
    });
    chosen
}

fn picture(line: &FoundLine, ui: &mut Ui) {
    let (rect, _) = ui.allocate_exact_size(vec2(PICTURE, PICTURE), Sense::hover());
    let bounds = line.path.bounding_box();
    let longest_mm = bounds.size().max_side();
    let per_mm = f64::from(PICTURE - 2.0 * BORDER) / longest_mm;
    let stroke = Stroke::new(1.5, ui.visuals().text_color());
    for points in flat(&line.path, FLAT_SHARE * longest_mm) {
        let shown = points.iter().map(|p| {
            rect.center().to_vec2() + {
                let off = per_mm * (*p - bounds.center());
                vec2(screen(off.x), screen(off.y))
            }
        });
        ui.painter().line(shown.map(|p| pos2(p.x, p.y)).collect(), stroke);
    }
}
