//! Why no line can be taken from a drawing.

use super::limits::{MOST_LINES, MOST_SEGMENTS};
use super::line::LineBrief;
use super::unit::FileUnit;
use crate::telling::{Refused, Told, Voice, displayed_as_in_files, listed};

/// Why no line can be taken from a drawing. The file is named by whoever reads it.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ImportError {
    /// The file's name ends in neither of the formats that are read.
    Ending {
        /// Its ending; empty where it has none.
        ending: String,
    },
    /// The file holds nothing.
    Empty,
    /// It holds more bytes than are read.
    TooLarge {
        /// Its bytes.
        bytes: u64,
        /// The limit.
        most: u64,
    },
    /// It draws more than is read.
    TooManySegments,
    /// It has more lines than are offered.
    TooManyLines,
    /// An SVG file that is not UTF-8.
    NotText,
    /// An SVG file that is compressed.
    Compressed,
    /// A DXF file in its binary form.
    Binary,
    /// An SVG file that is not well-formed.
    NotXml {
        /// The line of the file, from 1.
        line: u32,
    },
    /// A well-formed file of something else than a drawing.
    NotSvg {
        /// Its outermost element.
        root: String,
    },
    /// An SVG file whose width, height or view box is nothing.
    NoArea,
    /// A DXF file that breaks off or has a wrong number.
    NotDxf {
        /// The line of the file, from 1.
        line: usize,
        /// What stands there.
        found: String,
    },
    /// Nothing in it is a line.
    NoLine {
        /// Whether there is text in it.
        has_text: bool,
    },
    /// A coordinate is not a number or infinite.
    Infinite {
        /// What is drawn so: the name of a line or its layer, else what kind of thing it is.
        what: String,
    },
    /// The file doesn't say what its numbers measure.
    UnknownUnit {
        /// Width and height of all its lines, in its numbers.
        size: [f64; 2],
    },
    /// There are several lines, and none was chosen.
    Several {
        /// All of them.
        lines: Vec<LineBrief>,
    },
    /// What was chosen is not there, or is several.
    NoSuchLine {
        /// What was asked for.
        which: String,
        /// All of them.
        lines: Vec<LineBrief>,
    },
}

displayed_as_in_files!(ImportError);

/// How many lines are named in a sentence at most.
const MOST_NAMED: usize = 8;

impl Refused for ImportError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Ending { ending } if ending.is_empty() => {
                Told::new("its name has no ending", "choose a file that ends in \".svg\" or \".dxf\"")
            }
            Self::Ending { ending } => Told::new(format!("\"{ending}\" is not a drawing's ending"), "choose a .svg or .dxf file"),
            Self::Empty => Told::new("the file is empty", "choose a drawing"),
            Self::TooLarge { bytes, most } => {
                Told::new(format!("{bytes} bytes are too many"), format!("choose a drawing of at most {most}"))
            }
            Self::TooManySegments => Told::new(
                format!("it has more than {MOST_SEGMENTS} lines and curves"),
                "keep the line that you want, delete the rest",
            ),
            Self::TooManyLines => {
                Told::new(format!("it has more than {MOST_LINES} lines"), "keep the line that you want, delete the rest")
            }
            Self::NotText => Told::new("it is not text in UTF-8", "save it anew as a plain SVG file"),
            Self::Compressed => Told::new("the SVG file is compressed", "save it uncompressed, as .svg"),
            Self::Binary => Told::new("it is a binary DXF file", "save it as an ASCII DXF file"),
            Self::NotXml { line } => Told::new(format!("line {line} is not well-formed XML"), "save it anew as a plain SVG file"),
            Self::NotSvg { root } => Told::new(format!("it holds \"{root}\", not \"svg\""), "choose an SVG drawing"),
            Self::NoArea => Told::new("its width, height or view box is 0", "give the drawing a size above 0"),
            Self::NotDxf { line, found } => Told::new(
                format!("line {line}, \"{found}\", is not what a DXF file has there"),
                "save it anew as an ASCII DXF file",
            ),
            Self::NoLine { has_text: true } => Told::new("it holds text, and not a single line", "convert the text to paths"),
            Self::NoLine { has_text: false } => Told::new(
                "there is not a single line in it",
                "draw one as a path, visible, with a stroke or a fill; pictures must be traced first",
            ),
            Self::Infinite { what } => {
                Told::new(format!("\"{what}\" has a point at no finite place"), "draw it with finite coordinates")
            }
            Self::UnknownUnit { size: [width, height] } => Told::new(
                format!("it doesn't say what its {} by {} measure", voice.number(*width), voice.number(*height)),
                format!("say the unit: {}", listed(FileUnit::ALL.map(FileUnit::name), "or")),
            ),
            Self::Several { lines } => Told::new(
                format!("it has {} lines: {}", lines.len(), named(lines, voice)),
                "choose one by its number, name or layer",
            ),
            Self::NoSuchLine { which, lines } => {
                let fitting: Vec<LineBrief> = lines.iter().filter(|line| line.is_called(which)).cloned().collect();
                if fitting.is_empty() {
                    Told::new(
                        format!("\"{which}\" is not among its lines"),
                        format!("choose one of these: {}", named(lines, voice)),
                    )
                } else {
                    Told::new(
                        format!("\"{which}\" is {} lines: {}", fitting.len(), named(&fitting, voice)),
                        "choose one by its number",
                    )
                }
            }
        }
    }
}

fn named(lines: &[LineBrief], voice: Voice) -> String {
    let told = lines.iter().take(MOST_NAMED).map(|line| line.words(voice));
    let more = lines.len().saturating_sub(MOST_NAMED);
    let rest = (more > 0).then(|| format!("{more} more"));
    listed(told.chain(rest), "and")
}
