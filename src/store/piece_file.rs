//! A piece to learn from, as files: photographs, and the marks beside them.

use super::{marks_path, photograph_mark, read_marks, read_photograph};
use crate::layout::Layout;
use crate::learn::{Learned, Piece, PiecePhoto};
use crate::telling::AnyRefusal;
use std::path::{Path, PathBuf};

/// Reads a piece: each photograph, by what it is called, with the marks beside it.
///
/// # Errors
/// What is wrong with a photograph or its marks, or that it has none.
pub fn read_piece(name: String, layout: Layout, photographs: &[(String, PathBuf)]) -> Result<Piece, AnyRefusal> {
    let mut read = Vec::with_capacity(photographs.len());
    for (name, path) in photographs {
        let (photograph, mark, marks) = (read_photograph(path)?, photograph_mark(path)?, read_marks(&marks_path(path))?);
        read.push(PiecePhoto { name: name.clone(), mark, photograph, marks });
    }
    Ok(Piece { name, layout, photographs: read })
}

/// Whether a photograph can teach.
#[derive(Debug, Clone)]
pub enum Teaches {
    /// It can.
    Yes,
    /// No marks lie beside it.
    Unmarked,
    /// Its marks leave out the white sheet, without which its light is not known.
    NoSheet,
    /// From it was learned already.
    Taught {
        /// The piece that it was a photograph of.
        piece: String,
    },
    /// It, or the marks beside it, can't be read.
    Unreadable(AnyRefusal),
}

impl Teaches {
    /// Looks at a photograph's file and the marks beside it, beside what was learned; the picture itself is not decoded.
    #[must_use]
    pub fn of(photograph: &Path, learned: &Learned) -> Self {
        Self::read(photograph, learned).unwrap_or_else(Self::Unreadable)
    }

    fn read(photograph: &Path, learned: &Learned) -> Result<Self, AnyRefusal> {
        let mark = photograph_mark(photograph)?;
        if let Some(taught) = learned.pieces().iter().find(|piece| piece.photographs.contains(&mark)) {
            return Ok(Self::Taught { piece: taught.name.clone() });
        }
        let marks = marks_path(photograph);
        if !marks.is_file() {
            return Ok(Self::Unmarked);
        }
        Ok(if read_marks(&marks)?.sheet.is_some() { Self::Yes } else { Self::NoSheet })
    }

    /// Why it can't, in a few words; none where it can.
    #[must_use]
    pub fn hindrance(&self) -> Option<String> {
        match self {
            Self::Yes => None,
            Self::Unmarked => Some("no marks yet".to_owned()),
            Self::NoSheet => Some("no white sheet marked".to_owned()),
            Self::Taught { piece } => Some(format!("taught already, as \"{piece}\"")),
            Self::Unreadable(refusal) => Some(refusal.say(crate::telling::Voice::window(Default::default()))),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Panel;
    use crate::learn::TaughtBy;
    use crate::photo::{Marks, Sheet, SheetPaper};
    use crate::store::save_marks;
    use kurbo::Point;

    #[test]
    fn a_photograph_teaches_once_and_with_marks_on_its_sheet() {
        let folder = tempfile::tempdir().unwrap();
        let photo = folder.path().join("front.jpg");
        let untaught = Learned::default();
        let hindrance = |learned: &Learned| Teaches::of(&photo, learned).hindrance();
        assert!(hindrance(&untaught).is_some_and(|words| words.contains("front.jpg")), "it is not there");
        std::fs::write(&photo, b"as good as any picture").unwrap();
        assert_eq!(hindrance(&untaught).as_deref(), Some("no marks yet"));
        let mut marks = Marks { side: Panel::Front, points: Vec::new(), sheet: None };
        save_marks(&marks_path(&photo), &marks).unwrap();
        assert_eq!(hindrance(&untaught).as_deref(), Some("no white sheet marked"));
        let corners = [(0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (0.0, 20.0)].map(Point::from);
        marks.sheet = Some(Sheet { paper: SheetPaper::A4, corners });
        save_marks(&marks_path(&photo), &marks).unwrap();
        assert_eq!(hindrance(&untaught), None);
        let taught = TaughtBy { name: "tee".to_owned(), photographs: vec![photograph_mark(&photo).unwrap()], values: Vec::new() };
        let learned = Learned::from_parts(&[], &[], vec![taught], Vec::new()).unwrap();
        assert_eq!(hindrance(&learned).as_deref(), Some("taught already, as \"tee\""));
        std::fs::write(marks_path(&photo), "(").unwrap();
        assert!(hindrance(&untaught).is_some_and(|words| words.contains("marks.ron")));
    }
}
