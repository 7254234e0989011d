//! What is asked of the printer: paper, parts, what is on them.

use crate::app::action::Action;
use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::app::settings::Printer;
use crate::measure::{LengthStyle, LengthUnit, Region, parse_length};
use crate::print::parts::{PartKind, PrintOptions, TemplateOptions};
use crate::print::{MeasuringBar, Paper, PrintError, PrinterCorrection, STANDARD_PAPERS, TilingOptions};
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

/// Rolls to choose among, mm and in (practice: the widths that plotters take).
const ROLLS_MM: [f64; 2] = [610.0, 914.0];
const ROLLS_IN: [f64; 2] = [24.0, 36.0];
/// Distance of dots to prick, mm.
const POUNCE_MM: f64 = 5.0;

impl Wanted {
    /// What it says of the printer.
    pub(crate) fn printer(&self) -> Printer {
        let (paper, printed_mm_per_100, margin_mm) = (self.paper.name().to_owned(), self.printed_mm_per_100, self.margin_mm);
        Printer { paper, printed_mm_per_100, margin_mm }
    }

    /// Takes up what is known of the printer, as far as it can be; else the usual paper of a region.
    pub(crate) fn take_up(&mut self, printer: Option<&Printer>, region: Option<Region>) {
        let known = printer.and_then(|printer| printer.paper.parse().ok());
        self.paper = known.unwrap_or_else(|| Paper::usual_in(region));
        let Some(&Printer { printed_mm_per_100, margin_mm, .. }) = printer else { return };
        if PrinterCorrection::from_printed_mm_per_100(printed_mm_per_100).is_ok() {
            self.printed_mm_per_100 = printed_mm_per_100;
        }
        if margin_mm >= 0.0 {
            self.margin_mm = margin_mm;
        }
    }

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
        paper(&mut self.paper, ctx.lengths, ui);
        for kind in PartKind::ALL.into_iter().filter(|kind| kind.serves(ctx.layout)) {
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
        let bar = MeasuringBar::of(ctx.lengths);
        self.measured_bar(ctx, bar, ui);
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
        let words = format!("Print at 100 %, not fit to page; measure the {} bar before cutting.", bar.name);
        ui.label(RichText::new(words).weak());
    }

    /// What the bar for the maker's rule measures on a print.
    fn measured_bar(&mut self, ctx: &Context<'_>, bar: MeasuringBar, ui: &mut Ui) {
        let now = PrinterCorrection::from_printed_mm_per_100(self.printed_mm_per_100).unwrap_or_default();
        let read = |text: &str| {
            let measured_mm = parse_length(text, ctx.unit()).map_err(|error| error.say(ctx.voice()))?;
            PrinterCorrection::from_measured(bar, measured_mm).map_err(|error| error.say(ctx.voice()))
        };
        let (label, written) = (format!("{} bar prints", bar.name), ctx.lengths.format_thickness(now.measured_mm(bar)));
        if let Some(measured) = field::read(ui, &label, &written, read) {
            self.printed_mm_per_100 = measured.measured_mm(MeasuringBar::METRIC);
        }
    }
}

/// The paper, by its name or by its size.
fn paper(now: &mut Paper, lengths: LengthStyle, ui: &mut Ui) {
    let rolls_mm = if lengths.is_metric() { ROLLS_MM } else { ROLLS_IN.map(|width| width * LengthUnit::Inch.in_mm()) };
    let rolls = rolls_mm.into_iter().filter_map(|width_mm| Paper::roll(width_mm).ok());
    let mut chosen = now.clone();
    field::pick(ui, "Paper", now.said(lengths), |ui| {
        for one in STANDARD_PAPERS.map(Paper::standard).into_iter().chain(rolls) {
            let name = one.said(lengths);
            ui.selectable_value(&mut chosen, one, name);
        }
    });
    *now = chosen;
    let such_as = lengths.either("300x400, or a roll, such as roll 610", "24x36, or a roll, such as roll 24");
    let hint = format!("A sheet, such as {such_as}; {} unless you give a unit", lengths.unit_name());
    let read = |text: &str| Paper::read(text, lengths.unit()).map_err(|error| error.say(Voice::window(lengths)));
    let typed = ui.scope(|ui| field::read(ui, "Or size", &now.said(lengths), read));
    typed.response.on_hover_text(hint);
    if let Some(typed) = typed.inner {
        *now = typed;
    }
}
