//! The table of all sizes of a garment: what to mark on each, by the rule that a layout is graded by.

use super::cells::fold_cells;
use crate::geometry::{Measure, SizeName};
use crate::layout::{Figures, FoldWords, Layout, RotationStart, Warning};
use crate::measure::{LengthStyle, MetricUnit, RuleMarks};
use crate::plan::{GradeError, GradeRule, grade};
use crate::print::parts::flow::Flow;
use crate::print::parts::table::{Column, Row, number, words};
use crate::telling::{Refused as _, Voice, Warned as _, capitalised, listed};
use rayon::prelude::*;
use std::collections::BTreeSet;

/// What stands before the place of the bind that is tied first.
const FIRST: &str = "•";
/// Between the table's columns, mm: there are many.
const GAP_MM: f64 = 1.3;
/// Measurements that a size is known by, and that the grading goes by.
const KNOWN_BY: [Measure; 6] =
    [Measure::HalfChest, Measure::Length, Measure::BagWidth, Measure::BagHeight, Measure::ClothWidth, Measure::ClothHeight];

/// A layout on one size.
struct Sized {
    title: &'static str,
    layout: Layout,
    figures: Figures,
}

impl Sized {
    /// One of its ties on this size.
    fn tie(&self, number: usize) -> Option<Self> {
        let (layout, figures) = (self.layout.ties().get(number)?.clone(), (*self.figures.ties().get(number)?).clone());
        Some(Self { title: self.title, layout, figures })
    }

    /// Whether its fold's middle lies beside the centre line.
    fn is_aside(&self) -> bool {
        self.layout.middle().is_some_and(|middle| middle.x != 0.0)
    }
}

/// A layout on every size of its garment.
pub(super) struct SizeTable {
    columns: Vec<Sized>,
    /// The size that the others are worked out from; none of a garment without sizes.
    from: Option<SizeName>,
    rule: GradeRule,
    /// Sizes that it can't be graded to.
    refused: Vec<(SizeName, GradeError)>,
    /// Whether it begins with the measurements that a size is known by: of several ties the first's does.
    is_first: bool,
}

/// What is told of a size: nothing of a fold that has no such number.
type Told<'a> = Box<dyn Fn(&Sized) -> Option<String> + 'a>;

impl SizeTable {
    /// Grades a layout to all sizes, on all cores; a table for each of its ties.
    pub(super) fn of_ties(layout: &Layout, figures: &Figures, rule: GradeRule) -> Vec<Self> {
        let from = layout.garment().size();
        let own = || Sized { title: from.map_or("Yours", title), layout: layout.clone(), figures: figures.clone() };
        let (mut columns, mut refused) = (Vec::new(), Vec::new());
        match from {
            None => columns.push(own()),
            Some(size) => {
                let graded = |to: SizeName| {
                    if to == size {
                        return (to, Ok(own()));
                    }
                    let sized = grade(layout, to, rule).map(|layout| {
                        let figures = Figures::of(&layout);
                        Sized { title: title(to), layout, figures }
                    });
                    (to, sized)
                };
                let sizes = layout.garment().kind().sizes();
                let graded: Vec<_> = sizes.par_iter().map(|to| graded(to.name)).collect();
                for (name, sized) in graded {
                    match sized {
                        Ok(sized) => columns.push(sized),
                        Err(error) => refused.push((name, error)),
                    }
                }
            }
        }
        let of_tie = |number: usize| {
            let columns = columns.iter().filter_map(|sized: &Sized| sized.tie(number)).collect();
            let refused = if number == 0 { refused.clone() } else { Vec::new() };
            Self { columns, from, rule, refused, is_first: number == 0 }
        };
        (0..layout.ties().len()).map(of_tie).collect()
    }

    /// Writes it, in so many tables below each other.
    pub(super) fn show(&self, flow: &mut Flow, layout: &Layout, lengths: LengthStyle, tables: usize) {
        let lengths = whole(lengths, layout.marks());
        let (fold, gap_mm) = (layout.words(), std::mem::replace(&mut flow.gap_mm, GAP_MM));
        let all = if self.from.is_some() { "All sizes" } else { "What to mark" };
        flow.heading(&format!("{all}, lengths in {}", lengths.unit_name()), 3.2);
        let rows = self.rows(layout, lengths);
        for part in self.columns.chunks(self.columns.len().div_ceil(tables.max(1)).max(1)) {
            let with_colours = !self.section_colours().is_empty();
            let colour = with_colours.then(|| words("Colour"));
            let sizes = part.iter().map(|sized| number(sized.title));
            let columns: Vec<Column> =
                [words(if self.from.is_some() { "Size" } else { "" })].into_iter().chain(colour).chain(sizes).collect();
            let told: Vec<Row> = rows.iter().filter_map(|row| row.of(part, with_colours)).collect();
            flow.table(&columns, &told);
        }
        flow.gap_mm = gap_mm;
        self.below(flow, layout, lengths, fold);
    }

    /// What the table means, and how the other sizes were found.
    fn below(&self, flow: &mut Flow, layout: &Layout, lengths: LengthStyle, fold: FoldWords) {
        let mut said: Vec<String> = Vec::new();
        if self.has_places() {
            let sides = if fold.has_sides() { format!("; below 0 is {}", fold.sides[0]) } else { String::new() };
            let guide = fold.guide;
            said.push(format!(
                "Binds: distance from {}{sides}. {FIRST}: {guide}, tie it first, then inward, then outward.",
                fold.zero
            ));
        }
        if !self.section_colours().is_empty() {
            let beyond = if layout.tie_name().is_some() { "" } else { "; beyond a size's last bind that of the next row" };
            said.push(format!("Colour: of the section inside the bind{beyond}."));
        }
        if self.columns.iter().any(|sized| sized.is_aside()) {
            said.push("Aside: from the centre line.".to_owned());
        }
        if layout.flat().is_some_and(|flat| flat.first_crease_mm().is_some()) {
            said.push("First crease: from the edge that it is folded toward, where that is farthest.".to_owned());
        }
        if let Some(varying) = self.varying_colours(layout) {
            said.push(varying);
        }
        if let Some(from) = self.from.filter(|_| self.columns.len() > 1 && self.is_first) {
            let rings = match self.rule {
                GradeRule::Scaled => "widths and binds grow with the garment's width, heights with its length",
                GradeRule::Kept => "places grow with the garment, widths and binds stay",
            };
            said.push(format!(
                "Worked out from {from}: {rings}. Measure your garment before you tie it; choose the size by its measures."
            ));
        }
        said.extend(self.warned());
        for (size, error) in &self.refused {
            said.push(format!("Not on {}: {}", size.in_list(), error.told(Voice::window(lengths)).say(Voice::window(lengths))));
        }
        if !said.is_empty() {
            flow.paragraph(&said.join(" "));
        }
    }

    /// On which sizes the layout has warnings that it has not on the one that it is drawn for: of neighbours the first and the last.
    fn warned(&self) -> Option<String> {
        let kinds = |sized: &Sized| sized.figures.warnings.iter().map(Warning::name).collect::<BTreeSet<_>>();
        let own = self.columns.iter().find(|sized| Some(sized.title) == self.from.map(title)).map(kinds)?;
        let has_more = |sized: &Sized| !kinds(sized).is_subset(&own);
        let name = |sized: &Sized| sized.title.replace('\n', " ");
        let runs =
            self.columns.chunk_by(|one, next| has_more(one) == has_more(next)).filter(|run| run.first().is_some_and(has_more));
        let told = runs.filter_map(|run| match run {
            [] => None,
            [only] => Some(name(only)),
            [first, .., last] => Some(format!("{} to {}", name(first), name(last))),
        });
        let told: Vec<String> = told.collect();
        (!told.is_empty()).then(|| format!("More warnings on {}: check its own layout.", listed(told, "and")))
    }

    /// Whether binds lie at places that are marked: those over a puck don't.
    fn has_places(&self) -> bool {
        self.columns.iter().any(|sized| sized.layout.spiral().is_none() && !sized.figures.binds.is_empty())
    }

    /// The colour of each section where there are binds to count it by and every size has the same.
    fn section_colours(&self) -> Vec<String> {
        let colours = self.longest_colours();
        if self.varies_from(&colours) { Vec::new() } else { colours }
    }

    /// The colour of each section as on the size that it is drawn for, and beyond its last as on the one with most.
    fn longest_colours(&self) -> Vec<String> {
        if !self.has_places() {
            return Vec::new();
        }
        let own = self.columns.iter().filter(|sized| Some(sized.title) == self.from.map(title) || self.from.is_none());
        let longest = self.columns.iter().max_by_key(|sized| sized.figures.sections.len());
        let mut colours: Vec<String> = Vec::new();
        for sized in own.chain(longest) {
            let more = sized.figures.sections.iter().skip(colours.len());
            colours.extend(more.map(|section| section.colour_words().to_owned()));
        }
        if colours.iter().all(String::is_empty) { Vec::new() } else { colours }
    }

    /// Whether a size has a section of another colour than these.
    fn varies_from(&self, colours: &[String]) -> bool {
        let is_other = |sized: &Sized| {
            let mut sections = sized.figures.sections.iter().zip(colours);
            sections.any(|(section, colour)| section.colour_words() != colour)
        };
        !colours.is_empty() && self.columns.iter().any(is_other)
    }

    /// How colours are counted, where that differs from size to size.
    fn varying_colours(&self, layout: &Layout) -> Option<String> {
        let rotation = layout.raw().colours.rotation.iter().map(|swatch| swatch.name.as_str()).collect::<Vec<_>>().join(", ");
        let varies = self.varies_from(&self.longest_colours());
        let from = match layout.raw().colours.start {
            RotationStart::Centre => format!("{} outward", layout.words().tip),
            RotationStart::Edge => "the edge inward".to_owned(),
        };
        varies.then(|| format!("Colours, on every size from {from}: {rotation}, and again."))
    }

    fn rows<'a>(&'a self, layout: &'a Layout, lengths: LengthStyle) -> Vec<Line<'a>> {
        let mut lines: Vec<Line<'a>> = Vec::new();
        for measure in KNOWN_BY.into_iter().filter(|_| self.is_first) {
            let of = move |sized: &Sized| sized.layout.garment().value_mm(measure).map(|mm| lengths.of_measured().number(mm));
            lines.push(Line::new(capitalised(measure.name()), of));
        }
        let names = self.columns.first().map(|sized| fold_cells(&sized.layout, &sized.figures, lengths)).unwrap_or_default();
        for (index, (name, _)) in names.into_iter().enumerate() {
            lines.push(Line::new(name, move |sized| {
                let told = fold_cells(&sized.layout, &sized.figures, lengths).into_iter().nth(index);
                told.and_then(|(_, told)| told)
            }));
        }
        let references = self.columns.iter().map(|sized| sized.figures.fold.references_mm.len()).max().unwrap_or(0);
        for index in 0..references {
            let of = move |sized: &Sized| {
                let fold = &sized.figures.fold;
                Some(lengths.number(fold.references_mm.get(index)? - fold.zero_mm))
            };
            let name = capitalised(layout.words().further);
            lines.push(Line::new(if references == 1 { name } else { format!("{name} {}", index + 1) }, of));
        }
        let colours = self.section_colours();
        let binds =
            if self.has_places() { self.columns.iter().map(|sized| sized.figures.binds.len()).max().unwrap_or(0) } else { 0 };
        for index in 0..binds {
            let of = move |sized: &Sized| {
                let bind = sized.figures.binds.get(index)?;
                let first = if bind.on_guide_arc { FIRST } else { "" };
                Some(format!("{first}{}", lengths.number(bind.radius_mm - sized.figures.fold.zero_mm)))
            };
            let colour = colours.get(index).cloned().unwrap_or_default();
            lines.push(Line { colour, ..Line::new(format!("Bind {}", index + 1), of) });
        }
        // One of several ties ends at its last bind.
        if binds > 0 && layout.tie_name().is_none() {
            let edge = move |sized: &Sized| {
                let last = sized.figures.sections.last()?;
                Some(lengths.number(last.outer_mm - sized.figures.fold.zero_mm))
            };
            lines.push(Line { colour: colours.get(binds).cloned().unwrap_or_default(), ..Line::new("Edge".to_owned(), edge) });
        }
        lines
    }
}

/// Lengths to the marks of a rule in millimetres: what lies between them can't be marked. Other rules have their marks already.
fn whole(lengths: LengthStyle, marks: RuleMarks) -> LengthStyle {
    match (lengths, marks) {
        (LengthStyle::Metric { unit, .. }, RuleMarks::Millimetres1 | RuleMarks::Millimetres5) => {
            LengthStyle::Metric { unit, decimals: if unit == MetricUnit::Centimetre { 1 } else { 0 } }
        }
        _ => lengths,
    }
}

/// A row of the table before it is parted.
struct Line<'a> {
    name: String,
    colour: String,
    of: Told<'a>,
}

impl<'a> Line<'a> {
    fn new(name: String, of: impl Fn(&Sized) -> Option<String> + 'a) -> Self {
        Self { name, colour: String::new(), of: Box::new(of) }
    }

    /// The row of some sizes; none where nothing is told of any.
    fn of(&self, sizes: &[Sized], with_colours: bool) -> Option<Row> {
        let told: Vec<Option<String>> = sizes.iter().map(|sized| (self.of)(sized)).collect();
        told.iter().any(Option::is_some).then(|| {
            let colour = with_colours.then(|| self.colour.clone());
            let cells = [self.name.clone()].into_iter().chain(colour).chain(told.into_iter().map(Option::unwrap_or_default));
            Row { cells: cells.collect(), ..Row::default() }
        })
    }
}

/// A size's name as a narrow column has it.
const fn title(size: SizeName) -> &'static str {
    match size {
        SizeName::Months0To3 => "0-3\nmo.",
        SizeName::Months3To6 => "3-6\nmo.",
        SizeName::Months6To12 => "6-12\nmo.",
        SizeName::Months12To18 => "12-18\nmo.",
        SizeName::Months18To24 => "18-24\nmo.",
        _ => size.as_str(),
    }
}
