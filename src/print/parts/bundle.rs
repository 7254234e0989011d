//! The parts that a maker asks for, cut into sheets for one paper.

use super::template::Unworded;
use super::{
    CardOptions, TemplateOptions, block_sheet, folding_card, job_card_with, puck_sheet, rod_strip, swing_strip, template,
};
use crate::layout::{Figures, Layout};
use crate::print::{
    Drawing, Paper, Part, PdfDocument, PrintError, Sheets, TilingOptions, card_part, named_part, shared_strips_part, strip_part,
    to_print_true, together_part, with_bars,
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
    /// A block to cut from board.
    Block,
    /// A puck at full size, with its bands and wedges.
    Puck,
    /// Every fold of a bundle or a puck as a picture.
    FoldingCard,
    /// The numbers.
    JobCard,
}

impl PartKind {
    /// Every part, in the order in which they are printed.
    pub const ALL: [Self; 7] =
        [Self::Template, Self::SwingStrip, Self::RodStrip, Self::Block, Self::Puck, Self::FoldingCard, Self::JobCard];

    /// Its name, as in file names and on the command line.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Template => "template",
            Self::SwingStrip => "swing-strip",
            Self::RodStrip => "rod-strip",
            Self::Block => "block",
            Self::Puck => "puck",
            Self::FoldingCard => "folding-card",
            Self::JobCard => "job-card",
        }
    }
}

impl PartKind {
    /// Whether it serves a layout: a swing strip turns about a centre, or about the points of a line, a rod strip
    /// has binds to show, a block holds a flat bundle, only a spiral makes a puck, and a folding card shows the folds of either.
    #[must_use]
    pub fn serves(self, layout: &Layout) -> bool {
        layout.ties().iter().any(|tie| self.serves_tie(tie))
    }

    /// Whether it serves one tie.
    fn serves_tie(self, layout: &Layout) -> bool {
        let (fold, is_puck) = (layout.fold(), layout.spiral().is_some());
        match self {
            Self::SwingStrip => !is_puck && (!fold.pins().is_empty() || !fold.source().is_empty()),
            Self::RodStrip => !is_puck && !layout.binds().binds.is_empty(),
            Self::Puck => is_puck,
            Self::FoldingCard => is_puck || layout.flat().is_some(),
            Self::Block => layout.blocks().is_some(),
            Self::Template | Self::JobCard => true,
        }
    }

    /// What a layout lacks that it does not serve, and what to do.
    #[must_use]
    pub const fn lacking(self) -> (&'static str, &'static str) {
        const OTHER: &str = "choose another part";
        match self {
            Self::Block => ("this layout has no blocks", "put blocks on, or choose another part"),
            Self::RodStrip => ("this layout has no binds to lay it beside", "add a bind, or choose another part"),
            Self::SwingStrip => ("chalk swings about no point of this fold", OTHER),
            Self::Puck => ("only a spiral makes a puck", OTHER),
            Self::FoldingCard => ("only a flat bundle or a spiral has one", OTHER),
            Self::Template | Self::JobCard => ("there is nothing on it", OTHER),
        }
    }

    /// Whether it is cut into sheets like a map, however large it is.
    const fn is_tiled(self) -> bool {
        matches!(self, Self::Template | Self::Block | Self::Puck)
    }

    const fn is_strip(self) -> bool {
        matches!(self, Self::SwingStrip | Self::RodStrip)
    }

    /// What the names of its sheets and pieces begin with.
    const fn prefix(self) -> &'static str {
        match self {
            Self::Template => "",
            Self::SwingStrip => "S",
            Self::RodStrip => "R",
            Self::Block => "Block ",
            Self::Puck => "Puck ",
            Self::FoldingCard => "Folding ",
            Self::JobCard => "Card ",
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

/// One part as drawings, whole and uncut: one, or one a tie, but for a job card of several pages, and none of a part that does not serve
/// the layout.
#[must_use]
pub fn drawings(layout: &Layout, figures: &Figures, kind: PartKind, options: &TemplateOptions) -> Vec<Drawing> {
    drawings_with(layout, figures, kind, options, &CardOptions::default())
}

/// As [`drawings`], the job card with more on it.
#[must_use]
pub fn drawings_with(
    layout: &Layout,
    figures: &Figures,
    kind: PartKind,
    options: &TemplateOptions,
    card: &CardOptions<'_>,
) -> Vec<Drawing> {
    if layout.is_of_several() && kind != PartKind::JobCard {
        let ties = layout.ties().iter().zip(figures.ties());
        return ties.flat_map(|(tie, figures)| drawings_with(tie, figures, kind, options, card)).collect();
    }
    match kind {
        PartKind::Template => vec![template(layout, figures, options)],
        _ if !kind.serves(layout) => Vec::new(),
        PartKind::Block => block_sheet(layout, figures, options.lengths_of(layout)).into_iter().collect(),
        PartKind::Puck => puck_sheet(layout, figures, options.lengths_of(layout)).into_iter().collect(),
        PartKind::SwingStrip => vec![swing_strip(layout, figures, options.lengths_of(layout))],
        PartKind::RodStrip => vec![rod_strip(layout, figures, options.lengths_of(layout))],
        PartKind::FoldingCard => folding_card(layout, figures, options.lengths_of(layout)),
        PartKind::JobCard => job_card_with(layout, figures, options.lengths_of(layout), card),
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
/// Where strips and card fit one sheet of the paper together, uncut and full size (large sheets and rolls), they share one; else the
/// strips, cut into pieces, share sheets where that saves any.
///
/// # Errors
/// [`PrintError`] when the paper is too small or a setting is out of range.
pub fn print_parts(
    layout: &Layout,
    figures: &Figures,
    kinds: &[PartKind],
    options: &PrintOptions,
) -> Result<PdfDocument, PrintError> {
    print_parts_with(layout, figures, kinds, options, &CardOptions::default())
}

/// As [`print_parts`], the job card with more on it.
///
/// # Errors
/// As for [`print_parts`].
pub fn print_parts_with(
    layout: &Layout,
    figures: &Figures,
    kinds: &[PartKind],
    options: &PrintOptions,
    card: &CardOptions<'_>,
) -> Result<PdfDocument, PrintError> {
    let maker = Maker { layout, figures, options, card };
    let kinds = kinds.iter().copied().filter(|kind| kind.serves(layout));
    let (small, large): (Vec<PartKind>, Vec<PartKind>) = kinds.partition(|kind| !kind.is_tiled());
    let mut parts = large.iter().map(|&kind| maker.parts(kind)).collect::<Result<Vec<_>, _>>()?.concat();
    match maker.small_parts_together(&small)? {
        Some(together) => parts.push(together),
        None => {
            let shared = maker.strips_together(&small)?;
            let is_left = |kind: &&PartKind| shared.is_none() || !kind.is_strip();
            let rest = small.iter().filter(is_left).map(|&kind| maker.parts(kind)).collect::<Result<Vec<_>, _>>()?;
            parts.extend(shared.into_iter().chain(rest.concat()));
        }
    }
    Ok(PdfDocument { title: layout.name().to_owned(), parts })
}

/// What all parts of one print are made from.
#[derive(Clone, Copy)]
struct Maker<'a> {
    layout: &'a Layout,
    figures: &'a Figures,
    options: &'a PrintOptions,
    card: &'a CardOptions<'a>,
}

impl Maker<'_> {
    fn drawings(&self, kind: PartKind) -> Vec<Drawing> {
        drawings_with(self.layout, self.figures, kind, &self.options.template, self.card)
    }

    /// Strips and card on one sheet, if it holds them.
    fn small_parts_together(&self, kinds: &[PartKind]) -> Result<Option<Part>, PrintError> {
        if kinds.len() < 2 {
            return Ok(None);
        }
        let drawings: Vec<Drawing> = kinds.iter().flat_map(|&kind| self.drawings(kind)).collect();
        let names: Vec<String> = kinds.iter().map(|kind| kind.name().replace('-', " ")).collect();
        let title = format!("{}: {}", self.layout.name(), names.join(", "));
        together_part(&drawings, &title, "Strips", &self.options.paper, &self.options.tiling)
    }

    /// The strips on shared sheets, if that saves any.
    fn strips_together(&self, kinds: &[PartKind]) -> Result<Option<Part>, PrintError> {
        let strips: Vec<(PartKind, Drawing)> = kinds
            .iter()
            .filter(|kind| kind.is_strip())
            .flat_map(|&kind| self.drawings(kind).into_iter().map(move |drawing| (kind, drawing)))
            .collect();
        let prefixed: Vec<(&Drawing, &str)> = strips.iter().map(|(kind, drawing)| (drawing, kind.prefix())).collect();
        let mut names: Vec<String> = strips.iter().map(|(kind, _)| kind.name().replace('-', " ")).collect();
        names.dedup();
        let title = format!("{}: {}", self.layout.name(), names.join(", "));
        shared_strips_part(&prefixed, &title, "Strips ", &self.options.paper, &self.options.tiling)
    }

    /// The template: first its lines are cut into the fewest sheets, then its words are set where no sheet cuts them.
    fn template(&self, title: String) -> Result<Part, PrintError> {
        let template = Unworded::of(self.layout, self.figures, &self.options.template);
        let (lines, words) = template.lines();
        let sheets = Sheets::of(&lines, &words, &self.options.paper, &self.options.tiling)?;
        let drawing = template.worded(&|words| sheets.keeps_whole(words));
        Ok(Part { title, ..sheets.part(&drawing)? })
    }

    /// A part of the layout: of several ties one a tie, whose sheets are named after it, but for the job card.
    fn parts(&self, kind: PartKind) -> Result<Vec<Part>, PrintError> {
        if !self.layout.is_of_several() || kind == PartKind::JobCard {
            return Ok(vec![self.part(kind)?]);
        }
        let ties = self.layout.ties().iter().zip(self.figures.ties()).filter(|(tie, _)| kind.serves_tie(tie));
        let of_tie = |(layout, figures): (&Layout, &Figures)| {
            let mut part = Maker { layout, figures, ..*self }.part(kind)?;
            let tie = layout.tie_name().unwrap_or_default();
            part.pages.iter_mut().for_each(|page| page.name = format!("{tie} {}", page.name));
            Ok(part)
        };
        ties.map(of_tie).collect()
    }

    fn part(&self, kind: PartKind) -> Result<Part, PrintError> {
        let (paper, tiling) = (&self.options.paper, &self.options.tiling);
        let title = format!("{}: {}", self.layout.title(), kind.name().replace('-', " "));
        if kind == PartKind::Template {
            return self.template(title);
        }
        let drawings = self.drawings(kind);
        let part = match (kind, &drawings[..]) {
            (PartKind::Block | PartKind::Puck, [whole]) => {
                let mut part = Sheets::of(whole, &[], paper, tiling)?.part(whole)?;
                part.pages.iter_mut().for_each(|page| page.name.insert_str(0, kind.prefix()));
                part
            }
            (PartKind::SwingStrip | PartKind::RodStrip, [strip]) => strip_part(strip, kind.prefix(), paper, tiling)?,
            (PartKind::FoldingCard, _) => named_part(&drawings, kind.prefix().trim_end(), paper, tiling)?,
            _ => card_part(&drawings, paper, tiling)?,
        };
        Ok(Part { title, ..part })
    }
}
