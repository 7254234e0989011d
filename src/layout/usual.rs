//! Faults that a file of any kind can have.

use crate::telling::Told;

/// Longest name of a layout, a colour or a component, characters: what fits on a sheet.
pub(crate) const LONGEST_NAME: usize = 80;

/// A format that is newer than this program, or none that ever was.
pub(crate) fn unknown_format(found: u32, known: u32) -> Told {
    let cure = if found == 0 {
        format!("the first is 1; write format: {known} if it has the fields of this program's files")
    } else {
        format!("this program reads up to {known}; a newer file needs a newer version")
    };
    Told::new(format!("unknown file format {found}"), cure)
}

/// A name that no sheet can show.
pub(crate) fn name(length: usize, most: usize) -> Told {
    Told::new(
        format!("not a usable name ({length} {})", if length == 1 { "character" } else { "characters" }),
        format!("give 1 to {most} characters on one line, none of them a control character"),
    )
}

/// A text longer than one can be meant.
pub(crate) fn long_text(length: usize, most: usize) -> Told {
    Told::new(format!("{length} characters are too many"), format!("keep at most {most} here, and the rest in a file of its own"))
}

/// More entries than can be meant.
pub(crate) fn too_many(count: usize, most: usize) -> Told {
    Told::new(format!("{count} entries are too many"), format!("give at most {most}"))
}

/// A name that two things have.
pub(crate) fn twice(name: &str) -> Told {
    Told::new(format!("\"{name}\" appears twice"), "keep one or rename it")
}
