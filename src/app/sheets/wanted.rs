//! What is asked of the printer: paper, parts, what is on them.

use crate::app::action::Action;
use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::measure::LengthStyle;
use crate::print::parts::{PartKind, PrintOptions, TemplateOptions};
use crate::print::{Paper, PrintError, PrinterCorrection, STANDARD_PAPERS, TilingOptions};
use crate::telling::{Refused as _, Voice};
use egui::{RichText, Ui};

/// What is asked of the printer.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Wanted {
    pub(crate) paper: Paper,
    pub(crate) parts: Vec<PartKind>,
    pub(crate) printed_mm_per_100: f64,
    pub(crate) margin_mm: f64,
    pub(crate) overlap_mm: f64,
    pub(crate) pounce: bool,
    pub(crate) creases: bool,
    /// Whether the day's part is on the job card.
    pub(crate) day: bool,
    /// Whether the reveal's picture is.
    pub(crate) picture: bool,
}

impl Default for Wanted {
    fn default() -> Self {
        let usual = TilingOptions::default();
        Self {
            paper: Paper::standard(STANDARD_PAPERS[0]),
            parts: PartKind::ALL.to_vec(),
            printed_mm_per_100: 100.0,
            margin_mm: usual.margin_mm,
            overlap_mm: usual.overlap_mm,
            pounce: false,
            creases: true,
            day: false,
            picture: false,
        }
    }
}

/// Distance of dots to prick, mm.
const POUNCE_MM: f64 = 5.0;

impl Wanted {
    /// Whether the reveal's picture is on a sheet.
    pub(super) fn shows_picture(&self) -> bool {
        self.picture && self.parts.contains(&PartKind::JobCard)
    }

    pub(crate) fn options(&self, lengths: Option<LengthStyle>) -> Result<PrintOptions, PrintError> {
        Ok(PrintOptions {
            paper: self.paper.clone(),
            tiling: TilingOptions {
                margin_mm: self.margin_mm,
                overlap_mm: self.overlap_mm,
                correction: PrinterCorrection::from_printed_mm_per_100(self.printed_mm_per_100)?,
            },
            template: TemplateOptions { lengths, pounce_mm: self.pounce.then_some(POUNCE_MM), creases: self.creases },
        })
    }

    /// The choices, beside the table.
    pub(crate) fn choices(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        paper(&mut self.paper, ctx.voice(), ui);
        for kind in PartKind::ALL {
            let mut on = self.parts.contains(&kind);
            if ui.checkbox(&mut on, kind.name().replace('-', " ")).changed() {
                self.parts = PartKind::ALL
                    .into_iter()
                    .filter(|&other| if other == kind { on } else { self.parts.contains(&other) })
                    .collect();
            }
        }
        ui.add_enabled_ui(self.parts.contains(&PartKind::JobCard), |ui| {
            ui.checkbox(&mut self.picture, "reveal on the job card");
            ui.checkbox(&mut self.day, "day on the job card")
                .on_hover_text("What to weigh, when to do what, and cautions, as planned in the Day view");
        });
        ui.checkbox(&mut self.creases, "creases on the template");
        ui.checkbox(&mut self.pounce, "dots to prick instead of lines");
        if let Some(printed) = field::number(ui, "100 mm bar measures", self.printed_mm_per_100) {
            self.printed_mm_per_100 = printed;
        }
        if let Some(margin) = field::length(ctx, ui, "Printer's margin", self.margin_mm) {
            self.margin_mm = margin;
        }
        if let Some(overlap) = field::length(ctx, ui, "Overlap", self.overlap_mm) {
            self.overlap_mm = overlap;
        }
        ui.add_space(8.0);
        if ui.button(Action::Print.label()).on_hover_text(Action::Print.tooltip()).clicked() {
            asks.push(Ask::Act(Action::Print));
        }
        ui.label(RichText::new("Print at 100 %, not fit to page; measure the 100 mm bar before cutting.").weak());
    }
}

/// The paper, by its name or by its size.
fn paper(now: &mut Paper, voice: Voice, ui: &mut Ui) {
    let mut name = now.name().to_owned();
    field::pick(ui, "Paper", now.name(), |ui| {
        for one in STANDARD_PAPERS.map(|paper| paper.name).into_iter().chain(["roll:610", "roll:914"]) {
            ui.selectable_value(&mut name, one.to_owned(), one);
        }
    });
    if name != now.name()
        && let Ok(chosen) = name.parse()
    {
        *now = chosen;
    }
    let hint = "A sheet, such as 300x400 or 24in x 36in, or a roll, such as roll 24in; mm unless you give a unit";
    let read = |text: &str| text.parse::<Paper>().map_err(|error| error.say(voice));
    let typed = ui.scope(|ui| field::read(ui, "Or size", now.name(), read));
    typed.response.on_hover_text(hint);
    if let Some(typed) = typed.inner {
        *now = typed;
    }
}
