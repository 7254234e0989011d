//! The parts that a maker asks for, cut into sheets for one paper.

use super::{TemplateOptions, job_card, rod_strip, swing_strip, template};
use crate::layout::{Figures, Layout};
use crate::print::{
    Drawing, Paper, Part, PdfDocument, PrintError, TilingOptions, card_part, strip_part, template_part, to_print_true,
    together_part, with_bars,
};

/// Something to print.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PartKind {
    /// The full-size template.
    Template,
    /// The ruler to swing chalk with.
    SwingStrip,
    /// The strip to lay beside the rod.
    RodStrip,
    /// The numbers.
    JobCard,
}

impl PartKind {
    /// Every part, in the order in which they are printed.
    pub const ALL: [Self; 4] = [Self::Template, Self::SwingStrip, Self::RodStrip, Self::JobCard];

    /// Its name, as in file names and on the command line.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Template => "template",
            Self::SwingStrip => "swing-strip",
            Self::RodStrip => "rod-strip",
            Self::JobCard => "job-card",
        }
    }
}

/// What is printed, and how.
#[derive(Debug, Clone, PartialEq)]
pub struct PrintOptions {
    /// The paper.
    pub paper: Paper,
    /// How it is cut into sheets.
    pub tiling: TilingOptions,
    /// What the template shows, and how lengths are written everywhere.
    pub template: TemplateOptions,
}

/// One part as drawings, whole and uncut: one, but for a job card of several pages.
#[must_use]
pub fn drawings(layout: &Layout, figures: &Figures, kind: PartKind, options: &TemplateOptions) -> Vec<Drawing> {
    match kind {
        PartKind::Template => vec![template(layout, figures, options)],
        PartKind::SwingStrip => vec![swing_strip(layout, figures, options.lengths)],
        PartKind::RodStrip => vec![rod_strip(layout, figures, options.lengths)],
        PartKind::JobCard => job_card(layout, figures, options.lengths),
    }
}

/// One part as it goes into a file that is not cut into sheets (SVG, DXF): as [`drawings`], with measuring bars below, and scaled by the
/// printer correction in `options.tiling`. Paper, margin and overlap don't enter.
#[must_use]
pub fn whole_drawings(layout: &Layout, figures: &Figures, kind: PartKind, options: &PrintOptions) -> Vec<Drawing> {
    let finished = |drawing: &Drawing| to_print_true(&with_bars(drawing), options.tiling.correction);
    drawings(layout, figures, kind, &options.template).iter().map(finished).collect()
}

/// The parts asked for, on sheets.
///
/// Where strips and card fit one sheet of the paper together, uncut and full size (large sheets and rolls), they share one; else each
/// has sheets of its own.
///
/// # Errors
/// [`PrintError`] when the paper is too small or a setting is out of range.
pub fn print_parts(
    layout: &Layout,
    figures: &Figures,
    kinds: &[PartKind],
    options: &PrintOptions,
) -> Result<PdfDocument, PrintError> {
    let (small, large): (Vec<PartKind>, Vec<PartKind>) = kinds.iter().partition(|&&kind| kind != PartKind::Template);
    let mut parts = large.iter().map(|&kind| part(layout, figures, kind, options)).collect::<Result<Vec<_>, _>>()?;
    match small_parts_together(layout, figures, &small, options)? {
        Some(together) => parts.push(together),
        None => parts.extend(small.iter().map(|&kind| part(layout, figures, kind, options)).collect::<Result<Vec<_>, _>>()?),
    }
    Ok(PdfDocument { title: layout.name().to_owned(), parts })
}

/// Strips and card on one sheet, if it holds them.
fn small_parts_together(
    layout: &Layout,
    figures: &Figures,
    kinds: &[PartKind],
    options: &PrintOptions,
) -> Result<Option<Part>, PrintError> {
    if kinds.len() < 2 {
        return Ok(None);
    }
    let drawings: Vec<Drawing> = kinds.iter().flat_map(|&kind| drawings(layout, figures, kind, &options.template)).collect();
    let names: Vec<String> = kinds.iter().map(|kind| kind.name().replace('-', " ")).collect();
    let title = format!("{}: {}", layout.name(), names.join(", "));
    together_part(&drawings, &title, "Strips", &options.paper, &options.tiling)
}

fn part(layout: &Layout, figures: &Figures, kind: PartKind, options: &PrintOptions) -> Result<Part, PrintError> {
    let (paper, tiling, lengths) = (&options.paper, &options.tiling, options.template.lengths);
    let title = format!("{}: {}", layout.name(), kind.name().replace('-', " "));
    let part = match kind {
        PartKind::Template => template_part(&template(layout, figures, &options.template), paper, tiling)?,
        PartKind::SwingStrip => strip_part(&swing_strip(layout, figures, lengths), "S", paper, tiling)?,
        PartKind::RodStrip => strip_part(&rod_strip(layout, figures, lengths), "R", paper, tiling)?,
        PartKind::JobCard => card_part(&job_card(layout, figures, lengths), paper, tiling)?,
    };
    Ok(Part { title, ..part })
}
