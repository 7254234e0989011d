//! Why a photograph is not measured.

use crate::geometry::Panel;
use crate::layout::usual;
use crate::reveal::RevealError;
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files, listed};

/// Why a photograph can't be held against its plan.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PhotoError {
    /// A mark can't be used with this garment.
    Marks(MarksError),
    /// The marked points settle no map.
    Unsettled {
        /// How many there are.
        points: usize,
    },
    /// Left and right are swapped.
    Mirrored {
        /// How many points there are.
        points: usize,
    },
    /// The garment is too small in the picture.
    Small {
        /// A pixel of the picture on the cloth, mm.
        pixel_mm: f64,
        /// The most that serves, mm.
        most_mm: f64,
    },
    /// The edge of the cloth was not found where the plan has it.
    Outline {
        /// How much of it was found, percent.
        found_percent: f64,
        /// How much has to be, percent.
        least_percent: f64,
    },
    /// A mark lies far from where all others put it, and the outline is not where it has it.
    MarkOff {
        /// Its name.
        name: String,
        /// How far, mm.
        off_mm: f64,
    },
    /// The neck is another side's.
    OtherSide {
        /// The side that was marked.
        marked: Panel,
        /// The side that it looks like.
        seen: Panel,
    },
    /// The rings are another side's.
    OtherSideRings {
        /// The side that was marked.
        marked: Panel,
        /// The side whose rings they are.
        seen: Panel,
    },
    /// The rings of the plan are not on the cloth.
    NoRings {
        /// How many stretches of rings were found, percent of those looked for.
        found_percent: f64,
        /// How many have to be, percent.
        least_percent: f64,
    },
    /// The sheet is burnt out.
    BurntOut {
        /// How much of it, percent.
        percent: f64,
        /// How much may be, percent.
        most_percent: f64,
    },
    /// The sheet does not lie flat.
    SheetBent {
        /// Its four sides on the plan, round from the first corner, mm.
        sides_mm: [f64; 4],
    },
    /// The sheet is far from as large as its paper.
    SheetSize {
        /// Its shorter and longer side on the plan, mm.
        found_mm: [f64; 2],
        /// The paper's.
        paper_mm: [f64; 2],
    },
    /// Too little of the table shows beside the garment.
    Table {
        /// How many places show it.
        places: usize,
        /// How many have to.
        least: usize,
    },
    /// A puck, whose cuts lie on no lines of the cloth.
    Puck {
        /// How many wedges it has binds between.
        binds: usize,
    },
    /// The plan's picture can't be computed.
    Reveal(RevealError),
}

/// A value among the marks of a photograph that can't be used, with its field.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub struct MarksError {
    /// Where it is, such as `points.3.name`; points are counted from 1.
    pub field: Field,
    /// What is wrong with it.
    pub problem: MarksProblem,
}

/// What is wrong with a mark.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum MarksProblem {
    /// The garment has no such point.
    Name {
        /// The name.
        name: String,
        /// The points there are.
        known: Vec<String>,
    },
    /// Two marks of one point.
    NameTwice {
        /// The name.
        name: String,
    },
    /// Fewer points than settle a map.
    TooFew {
        /// How many there are.
        count: usize,
        /// Fewest.
        least: usize,
        /// The points that serve best.
        best: Vec<String>,
    },
    /// More points than can be meant.
    TooMany {
        /// How many there are.
        count: usize,
        /// Most.
        most: usize,
    },
    /// A place outside the picture, or not a number.
    Outside {
        /// The place, px.
        at: [f64; 2],
        /// Width and height of the picture, px.
        picture: [u32; 2],
    },
    /// A sheet of another number of corners.
    Corners {
        /// How many there are.
        count: usize,
    },
    /// A sheet's corners that do not go round it.
    Crossed {
        /// The corner where it turns back, from 1.
        corner: usize,
    },
    /// A paper that is not known.
    Paper {
        /// Its name.
        name: String,
        /// The names there are.
        known: Vec<&'static str>,
    },
    /// A side that the garment lacks.
    Side {
        /// The side.
        side: Panel,
    },
}

displayed_as_in_files!(PhotoError, MarksError);

impl From<MarksError> for PhotoError {
    fn from(error: MarksError) -> Self {
        Self::Marks(error)
    }
}

impl From<RevealError> for PhotoError {
    fn from(error: RevealError) -> Self {
        Self::Reveal(error)
    }
}

impl Refused for MarksError {
    fn told(&self, voice: Voice) -> Told {
        self.problem.told(voice).at(self.field.said(voice))
    }
}

impl Refused for MarksProblem {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Name { name, known } => {
                Told::new(format!("\"{name}\" is not a point of this garment"), format!("its points are {}", quoted(known)))
            }
            Self::NameTwice { name } => usual::twice(name),
            Self::TooFew { count, least, best } => Told::new(
                format!("{count} {} too few", if *count == 1 { "point is" } else { "points are" }),
                format!("mark at least {least}, best {}", quoted(best)),
            ),
            Self::TooMany { count, most } => usual::too_many(*count, *most),
            Self::Outside { at: [x, y], picture: [width, height] } => Told::new(
                format!("{} and {} px lie outside the picture", voice.number(*x), voice.number(*y)),
                format!("give 0 to {width} and 0 to {height} px"),
            ),
            Self::Corners { count } => {
                Told::new(format!("{count} corners are not a sheet's"), "give its 4 corners, one after the other round it")
            }
            Self::Crossed { corner } => {
                Told::new(format!("the sheet turns back at corner {corner}"), "give its 4 corners in order round it")
            }
            Self::Paper { name, known } => {
                Told::new(format!("\"{name}\" is not a paper known here"), format!("lay down {}", listed(known, "or")))
            }
            Self::Side { side } => Told::new(
                format!("the garment has only one side, not a {side}"),
                format!("write {}", voice.either("Front", "front")),
            ),
        }
    }
}

fn quoted(names: &[String]) -> String {
    listed(names.iter().map(|name| format!("\"{name}\"")), "and")
}

impl Refused for PhotoError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Marks(error) => error.told(voice),
            Self::Unsettled { points } => Told::new(
                format!("{points} points do not settle how the garment lies"),
                "mark the neck and the hem on both sides",
            ),
            Self::Mirrored { points } => Told::new(
                format!("the {points} points show the garment mirrored"),
                "give left and right as you see them in the picture, the neck up",
            ),
            Self::Small { pixel_mm, most_mm } => Told::new(
                format!("a pixel of the picture covers {}", voice.length(*pixel_mm)),
                format!("go closer, or give the whole file, so that it covers at most {}", voice.length(*most_mm)),
            ),
            Self::Outline { found_percent, least_percent } => Told::new(
                format!(
                    "only {found_percent:.0} % of the outline was found where the plan has it, of {least_percent:.0} % needed"
                ),
                "check that this is the garment of this layout, that each point is marked at its place, and that the table is plain and of another colour",
            ),
            Self::MarkOff { name, off_mm } => Told::new(
                format!("the point \"{name}\" lies {} from where the others put it", voice.length(off_mm.round())),
                "mark it anew, or leave it out",
            ),
            Self::OtherSide { marked, seen } => other_side(*marked, *seen, "its neck is that"),
            Self::OtherSideRings { marked, seen } => other_side(*marked, *seen, "its lines are those"),
            Self::NoRings { found_percent, least_percent } => Told::new(
                format!("the lines of the plan were found on {found_percent:.0} % of the cloth, of {least_percent:.0} % needed"),
                "check that this garment was made from this layout",
            ),
            Self::BurntOut { percent, most_percent } => Told::new(
                format!("{percent:.0} % of the white sheet is burnt out; at most {most_percent:.0} % may be"),
                "photograph it again, exposed less",
            ),
            Self::SheetBent { sides_mm } => Told::new(
                format!("the sheet does not lie flat: its sides measure {}", lengths(sides_mm, voice)),
                "flatten it on the table and check its corners",
            ),
            Self::SheetSize { found_mm, paper_mm } => Told::new(
                format!(
                    "the sheet measures {} beside the plan, its paper {}",
                    lengths(found_mm, voice),
                    lengths(paper_mm, voice)
                ),
                "check the name of the paper, the garment's size in the layout, and the marks",
            ),
            Self::Table { places, least } => Told::new(
                format!("the table shows in {places} places, of {least} needed"),
                "leave a hand of table round the garment",
            ),
            Self::Puck { binds } => Told::new(
                format!("a puck's {binds} bands lie on no lines of the opened cloth that could be measured"),
                "choose a layout with binds across a rod or a flat bundle",
            ),
            Self::Reveal(error) => error.told(voice),
        }
    }
}

fn other_side(marked: Panel, seen: Panel, what: &str) -> Told {
    Told::new(
        format!("it is marked as the \"{marked}\", and {what} of the \"{seen}\""),
        format!("choose the side \"{seen}\", or the other picture"),
    )
}

fn lengths(lengths_mm: &[f64], voice: Voice) -> String {
    listed(lengths_mm.iter().map(|mm| voice.length(mm.round())), "and")
}
