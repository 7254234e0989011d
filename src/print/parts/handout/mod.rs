//! A handout: a layout on a few pages, for others to follow on a garment of theirs: the way there, all sizes, dyeing. It tells nothing
//! that is the maker's own: no note, no prices, nothing of journal or order.

mod cells;
mod dyeing;
mod paper;
mod sizes;
mod way;

use super::flow::{Flow, Way, set_within};
use crate::layout::{Figures, Layout};
use crate::measure::LengthStyle;
use crate::plan::{GradeRule, Order, Plan, PlanError, When};
use crate::print::{Drawing, Paper, PdfDocument, PrintError, write_pdf};
use crate::reveal::colour::DyeSet;
use crate::reveal::{Cancel, Picture, RevealError, RevealOptions, picture, reveal_doses};
use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use jiff::civil::{DateTime, date};
use sizes::SizeTable;

/// How many times as large as ordinary words of a card those of a handout are, the largest first: ten points, nine, eight, seven and a half.
const SIZES: [f64; 4] = [1.0, 0.9, 0.8, 0.75];
/// Tables that the sizes are parted in, the fewest first.
const TABLES: [usize; 3] = [1, 2, 3];
/// Breadth of a handout's picture, pixels: what a phone shows of two pages can be read when it is held across, or enlarged twice (own choice).
pub const HANDOUT_PX: u16 = 1600;
/// Edge of a pixel of the picture on the cloth, mm: as fine as it is shown.
const PIXEL_MM: f64 = 1.5;

/// When the work is taken to begin: a handout tells how long things take and no time of the clock.
fn begins() -> DateTime {
    date(2001, 1, 1).at(8, 0, 0, 0)
}

/// What a handout is made with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HandoutOptions {
    /// How lengths are written; `None` writes them as the layout's marks do.
    pub lengths: Option<LengthStyle>,
    /// How rings are carried over to other sizes.
    pub rule: GradeRule,
    /// How the picture is computed.
    pub reveal: RevealOptions,
}

impl Default for HandoutOptions {
    fn default() -> Self {
        let reveal = RevealOptions { pixel_mm: PIXEL_MM, ..RevealOptions::default() };
        Self { lengths: None, rule: GradeRule::default(), reveal }
    }
}

/// Why a handout can't be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum HandoutError {
    /// There is no plan of it.
    Plan(#[from] PlanError),
    /// There is no picture of it.
    Reveal(#[from] RevealError),
    /// It can't be put on paper.
    Print(#[from] PrintError),
}

displayed_as_in_files!(HandoutError);

impl Refused for HandoutError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Plan(error) => error.told(voice),
            Self::Reveal(error) => error.told(voice),
            Self::Print(error) => error.told(voice),
        }
    }
}

/// How much a handout says of each step of the dyeing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Detail {
    /// What to do in it.
    Full,
    /// How long it takes.
    Short,
}

/// What a handout tells.
struct Content<'a> {
    layout: &'a Layout,
    figures: &'a Figures,
    lengths: LengthStyle,
    plan: &'a Plan,
    /// Each tie's.
    sizes: Vec<SizeTable>,
    reveal: &'a Picture,
}

/// What a handout tells of the way to a tie.
struct OfTie<'a> {
    layout: &'a Layout,
    figures: &'a Figures,
    lengths: LengthStyle,
    /// The whole garment opened, beside the first tie.
    reveal: Option<&'a Picture>,
}

/// A handout, its pages set.
#[derive(Debug, Clone, PartialEq)]
pub struct Handout {
    title: String,
    pages: Vec<Drawing>,
}

impl Handout {
    /// The handout of an order's first layout. Takes as long as a reveal and a plan take, seconds; what the order says of prices, stock and
    /// deadlines does not enter.
    ///
    /// # Errors
    /// [`HandoutError`]; soon after `cancel` was asked to stop too.
    pub fn of(order: &Order, options: &HandoutOptions, cancel: &Cancel) -> Result<Self, HandoutError> {
        let none = || PrintError::NoPages { title: order.raw().name.clone() };
        let line = order.lines().first().ok_or_else(none)?;
        let (layout, figures) = (&line.layout, &line.figures);
        let lengths = options.lengths.unwrap_or_else(|| layout.marks().lengths());
        let clock = crate::plan::WallClock::unchanged();
        let plan = Plan::watched(&order.clone().written_in(lengths), When::Start(begins()), &clock, cancel)?;
        let doses = reveal_doses(layout, &options.reveal, cancel)?;
        let reveal = picture(&doses, &DyeSet::of_layout(layout, None));
        let sizes = SizeTable::of_ties(layout, figures, options.rule);
        let content = Content { layout, figures, lengths, plan: &plan, sizes, reveal: &reveal };
        Ok(Self { title: format!("{}: handout", layout.name()), pages: content.pages() })
    }

    /// Its pages: drawings of one size, to be put on any paper.
    #[must_use]
    pub fn pages(&self) -> &[Drawing] {
        &self.pages
    }

    /// As a PDF, on sheets of a paper or of a roll's breadth.
    ///
    /// # Errors
    /// [`PrintError`] for paper out of range.
    pub fn pdf(&self, paper: &Paper) -> Result<Vec<u8>, PrintError> {
        let part = paper::part(&self.title, &self.pages, paper);
        write_pdf(&PdfDocument { title: self.title.clone(), parts: vec![part] })
    }

    /// Edge of a pixel of a picture so many pixels broad, mm, where it is printed as large as a sheet.
    #[must_use]
    pub fn pixel_mm(width_px: u16) -> f64 {
        paper::PICTURE_MM / f64::from(width_px)
    }

    /// As one picture on white, its pages below each other, so many pixels broad.
    ///
    /// # Errors
    /// [`PrintError`] for a picture of more pixels than can be painted.
    pub fn picture(&self, width_px: u16) -> Result<Picture, PrintError> {
        paper::picture(&self.pages, width_px)
    }
}

impl Content<'_> {
    /// The ways to the ties on a page each and dyeing on another, each as large as it fits; where it doesn't, one after the other; where that
    /// takes more pages, with less said of each step.
    fn pages(&self) -> Vec<Drawing> {
        let title = format!("{}: handout", self.layout.name());
        let ties = self.ties();
        let drawn: Vec<way::Drawn> = ties.iter().map(way::pictures).collect();
        let way = |flow: &mut Flow, tables: usize| {
            self.head(flow);
            for (number, ((tie, drawn), sizes)) in (1..).zip(ties.iter().zip(&drawn).zip(&self.sizes)) {
                let of_tie = |flow: &mut Flow| {
                    if let Some(name) = tie.layout.tie_name() {
                        flow.heading(&format!("Tie {number}: {name}"), 3.6);
                    }
                    way::show(flow, tie, drawn);
                    sizes.show(flow, tie.layout, self.lengths, tables);
                };
                // Each of several on one page, where that holds it.
                let height_mm = (number > 1).then(|| flow.height_mm(flow.room_mm(), of_tie)).flatten();
                height_mm.into_iter().for_each(|height_mm| flow.keep_together(height_mm));
                of_tie(flow);
            }
            self.loose(flow);
        };
        let pages_of_way = ties.len();
        let ways: Vec<Way> = SIZES.iter().flat_map(|&size| TABLES.map(|tables| Way { tables, size })).collect();
        let first = set_within(&title, pages_of_way, &ways, |flow, of| way(flow, of.tables));
        let dyeing = |detail| set_within(&title, 1, &ways, |flow, _| dyeing::show(flow, self, detail));
        let apart = |detail| Some(first.iter().flatten().cloned().chain(dyeing(detail)?).collect::<Vec<_>>());
        let together = |most, ways: &[Way], detail| {
            set_within(&title, most, ways, |flow, of| {
                way(flow, of.tables);
                dyeing::show(flow, self, detail);
            })
        };
        let apart = |detail| first.as_ref().and_then(|_| apart(detail));
        let found = [Detail::Full, Detail::Short]
            .into_iter()
            .find_map(|detail| apart(detail).or_else(|| together(pages_of_way + 1, &ways, detail)));
        // So many sizes with so many binds, in a unit that takes so much room: then it takes more.
        let smallest = [Way { tables: 4, size: SIZES[SIZES.len() - 1] }];
        found.or_else(|| together(usize::MAX, &smallest, Detail::Short)).unwrap_or_else(|| first.unwrap_or_default())
    }

    /// Each of its ties.
    fn ties(&self) -> Vec<OfTie<'_>> {
        let ties = self.layout.ties().iter().zip(self.figures.ties()).enumerate();
        let of = |(number, (layout, figures))| {
            let reveal = (number == 0).then_some(self.reveal);
            OfTie { layout, figures, lengths: self.lengths, reveal }
        };
        ties.map(of).collect()
    }

    /// What becomes of the cloth about several ties.
    fn loose(&self, flow: &mut Flow) {
        let Some(several) = &self.figures.several else { return };
        flow.heading("Loose cloth", 3.2);
        flow.paragraph(&match &several.loose.colour {
            Some(colour) => format!("The cloth about the ties gets {colour}."),
            None => "The cloth about the ties gets no dye.".to_owned(),
        });
    }

    /// The colour that the garment has to begin with, and what discharge makes of it: `, forest, which discharge takes to sand`.
    fn colour_words(&self) -> String {
        let garment = &self.layout.raw().garment;
        let Some(colour) = &garment.colour else { return String::new() };
        let discharged = self.layout.process().discharge.map(|_| match &garment.discharged {
            Some(to) => format!(", which discharge takes to {}", to.name),
            None => ", of a dye that discharge takes out: test a scrap".to_owned(),
        });
        format!(", {}{}", colour.name, discharged.unwrap_or_default())
    }

    fn head(&self, flow: &mut Flow) {
        flow.heading(self.layout.name(), 5.0);
        let garment = &self.figures.garment;
        let size = garment.size.as_ref().map_or_else(String::new, |size| format!(", drawn and weighed out for size {size}"));
        flow.paragraph(&format!("For {}{}{size}. Read the cautions before you dye.", garment.kind, self.colour_words()));
    }
}
