//! Who may know whom: the table of the house in DEVELOPERS.md.

use crate::arrows::Arrows;
use std::collections::BTreeSet;

/// The heading of the table's last column.
const MAY_KNOW: &str = "may know";

/// A row of the table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Room {
    /// Folders, ending in a slash, and files.
    paths: Vec<String>,
    /// Rooms that its files may know, without `src/`.
    pub(crate) may_know: Vec<String>,
}

impl Room {
    /// Its first path.
    fn name(&self) -> &str {
        &self.paths[0]
    }

    /// Whether a name in the last column means it.
    fn is_called(&self, name: &str) -> bool {
        let path = format!("src/{name}");
        self.paths.iter().any(|own| own.trim_end_matches('/').trim_end_matches(".rs") == path)
    }
}

/// The rooms, from the top down.
#[derive(Debug)]
pub(crate) struct Rooms(Vec<Room>);

impl Rooms {
    /// Reads the one table whose last column says who may be known.
    pub(crate) fn read(text: &str) -> Self {
        let mut lines = text.lines().map(cells).skip_while(|row| row.last().is_none_or(|last| last != MAY_KNOW));
        let rows = lines.by_ref().skip(2).take_while(|row| !row.is_empty());
        let room = |row: Vec<String>| Room { paths: quoted(&row[0]), may_know: quoted(row.last().map_or("", String::as_str)) };
        Self(rows.map(room).collect())
    }

    /// The row of the room that a file is in: the one with the longest path to it.
    fn of(&self, file: &str) -> Option<usize> {
        let depth = |room: &Room| room.paths.iter().filter(|path| file.starts_with(*path)).map(String::len).max();
        let rooms = self.0.iter().enumerate().filter_map(|(row, room)| Some((depth(room)?, row)));
        rooms.max().map(|(_, row)| row)
    }

    /// What is wrong with the table: rooms that lie higher or are none.
    pub(crate) fn faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        for (row, room) in self.0.iter().enumerate() {
            for name in &room.may_know {
                match self.0.iter().position(|other| other.is_called(name)) {
                    Some(known) if known > row => {}
                    Some(_) => faults.push(format!("{} may know {name}, which does not lie below it", room.name())),
                    None => faults.push(format!("{} may know {name}, which is no room", room.name())),
                }
            }
        }
        faults
    }

    /// Arrows that the table does not have, and files in no room.
    pub(crate) fn breaches(&self, arrows: &Arrows) -> Vec<String> {
        let told = arrows.names.keys().filter_map(|arrow| {
            let rooms = [&arrow.0, &arrow.1].map(|file| self.of(file));
            let [Some(from), Some(to)] = rooms else {
                return Some(format!("{}\n  one of them is in no room", arrows.tell(arrow)));
            };
            let (from, to) = (&self.0[from], &self.0[to]);
            let may = from == to || from.may_know.iter().any(|name| to.is_called(name));
            (!may).then(|| format!("{}\n  {} may not know {}", arrows.tell(arrow), from.name(), to.name()))
        });
        told.collect()
    }

    /// What the table allows and no file does.
    pub(crate) fn unused(&self, arrows: &Arrows) -> Vec<String> {
        let used: BTreeSet<(usize, usize)> =
            arrows.names.keys().filter_map(|arrow| Some((self.of(&arrow.0)?, self.of(&arrow.1)?))).collect();
        let allowed = self.0.iter().enumerate().flat_map(|(row, room)| room.may_know.iter().map(move |name| (row, room, name)));
        let is_used = |row: usize, name: &str| used.iter().any(|&(from, to)| from == row && self.0[to].is_called(name));
        allowed
            .filter(|(row, _, name)| !is_used(*row, name))
            .map(|(_, room, name)| format!("{} -> {name}", room.name()))
            .collect()
    }
}

/// The cells of a line of a table; none for another line.
fn cells(line: &str) -> Vec<String> {
    let inner = line.trim().strip_prefix('|').and_then(|line| line.strip_suffix('|'));
    inner.map_or_else(Vec::new, |inner| inner.split('|').map(|cell| cell.trim().to_owned()).collect())
}

/// What stands between backquotes.
fn quoted(cell: &str) -> Vec<String> {
    cell.split('`').skip(1).step_by(2).map(str::to_owned).collect()
}
