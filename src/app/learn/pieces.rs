//! The pieces that could teach: looked at off the window's thread, listed with what each is to do.

use super::LearnAsk;
use crate::app::context::Ask;
use crate::app::job::Job;
use crate::app::purpose::Purpose;
use crate::app::theme::Palette;
use crate::layout::Layout;
use crate::learn::{Learned, check_teaches, shown_words};
use crate::store::journal::JournalEntry;
use crate::store::{Teaches, read_layout, read_learned};
use crate::telling::{AnyRefusal, Refused as _, Voice};
use egui::{Label, RichText, Role, Ui, WidgetInfo};
use std::path::PathBuf;
use std::sync::Arc;

/// Where a piece comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Origin {
    /// The journal's entry of that name.
    Entry(String),
    /// A layout's file, with photographs chosen for it.
    File(PathBuf),
}

/// What a piece is to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Part {
    Teaches,
    KeptBack,
    LeftOut,
}

impl Part {
    const ALL: [Self; 3] = [Self::Teaches, Self::KeptBack, Self::LeftOut];

    const fn words(self) -> &'static str {
        match self {
            Self::Teaches => "teaches",
            Self::KeptBack => "kept back",
            Self::LeftOut => "left out",
        }
    }
}

/// A photograph of a piece.
#[derive(Debug, Clone)]
pub(super) struct Photo {
    pub(super) name: String,
    pub(super) path: PathBuf,
    pub(super) teaches: Teaches,
}

/// A piece.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) origin: Origin,
    pub(super) name: String,
    pub(super) layout: Result<Arc<Layout>, AnyRefusal>,
    pub(super) photos: Vec<Photo>,
    pub(super) part: Part,
}

impl Row {
    /// Why it can't teach; none where it can.
    fn hindrance(&self) -> Option<String> {
        let layout = match &self.layout {
            Err(refusal) => return Some(refusal.say(Voice::window(Default::default()))),
            Ok(layout) => layout,
        };
        if let Err(refused) = check_teaches(&self.name, layout) {
            return Some(refused.told(Voice::window(Default::default())).what);
        }
        if shown_words(layout).is_empty() {
            return Some("its layout neither dyes nor discharges".to_owned());
        }
        if self.photos.is_empty() {
            return Some("no photograph yet".to_owned());
        }
        let is_ready = self.photos.iter().any(|photo| matches!(photo.teaches, Teaches::Yes));
        (!is_ready).then(|| "none of its photographs can teach".to_owned())
    }

    /// Whether it can teach.
    pub(super) fn is_ready(&self) -> bool {
        self.hindrance().is_none()
    }

    /// The photographs that teach.
    pub(super) fn ready_photos(&self) -> Vec<(String, PathBuf)> {
        let ready = self.photos.iter().filter(|photo| matches!(photo.teaches, Teaches::Yes));
        ready.map(|photo| (photo.name.clone(), photo.path.clone())).collect()
    }
}

/// A layout's file that was added, with its photographs.
pub(super) type Added = (PathBuf, Vec<PathBuf>);
/// An entry, and its photographs by what they are called.
pub(super) type Taken = (Arc<JournalEntry>, String, Vec<(String, PathBuf)>);

/// What was seen.
pub(super) struct Seen {
    pub(super) rows: Vec<Row>,
    /// What was learned before.
    pub(super) earlier: Result<Learned, AnyRefusal>,
}

/// Looking at pieces.
pub(super) type Looking = Job<(), Seen>;

/// Begins to look at every piece, and at what was learned before.
pub(super) fn look(own: Option<PathBuf>, entries: Vec<Taken>, added: Vec<Added>, egui: &egui::Context) -> Option<Looking> {
    Job::begin("pieces", (), egui, move |_| {
        let earlier = own.map_or_else(|| Ok(Learned::default()), |own| read_learned(&own).map_err(AnyRefusal::from));
        let untaught = Learned::default();
        let learned = earlier.as_ref().unwrap_or(&untaught);
        let photos = |photos: Vec<(String, PathBuf)>| -> Vec<Photo> {
            let seen = |(name, path): (String, PathBuf)| Photo { teaches: Teaches::of(&path, learned), name, path };
            photos.into_iter().map(seen).collect()
        };
        let of_entry = |(entry, name, named): Taken| Row {
            origin: Origin::Entry(entry.raw().id.clone()),
            name,
            layout: entry.again().map(Arc::new).map_err(AnyRefusal::from),
            photos: photos(named),
            part: Part::LeftOut,
        };
        let of_file = |(path, named): Added| {
            let layout = read_layout(&path).map(Arc::new).map_err(AnyRefusal::from);
            let file = file_name(&path);
            let name = layout.as_ref().map_or(file, |layout| layout.name().to_owned());
            let named = named.into_iter().map(|path| (file_name(&path), path)).collect();
            Row { origin: Origin::File(path), name, layout, photos: photos(named), part: Part::LeftOut }
        };
        let rows = entries.into_iter().map(of_entry).chain(added.into_iter().map(of_file)).collect();
        Seen { rows, earlier }
    })
}

/// A file's name without its folder.
pub(super) fn file_name(path: &std::path::Path) -> String {
    path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

/// The rows anew, each with the part that it had; what is ready and new teaches.
pub(super) fn merged(before: &[Row], mut rows: Vec<Row>) -> Vec<Row> {
    for row in &mut rows {
        let known = before.iter().find(|other| other.origin == row.origin);
        row.part = match known {
            _ if !row.is_ready() => Part::LeftOut,
            Some(known) if known.is_ready() => known.part,
            _ => Part::Teaches,
        };
    }
    rows.sort_by_key(|row| !row.is_ready());
    rows
}

/// What a list asks for besides.
pub(super) enum Change {
    Part(usize, Part),
    Remove(PathBuf),
}

/// The list of pieces.
pub(super) fn list(rows: &[Row], added: &[Added], asks: &mut Vec<Ask>, ui: &mut Ui) -> Option<Change> {
    let mut change = None;
    for (number, row) in rows.iter().enumerate() {
        let is_first_unready = !row.is_ready() && (number == 0 || rows[number - 1].is_ready());
        if is_first_unready {
            ui.add_space(6.0);
            ui.label(RichText::new("Can't teach yet").strong());
        }
        ui.push_id(("piece", number), |ui| {
            ui.add_space(4.0);
            change = piece(number, row, added, asks, ui).or(change.take());
            ui.separator();
        });
    }
    change
}

fn piece(number: usize, row: &Row, added: &[Added], asks: &mut Vec<Ask>, ui: &mut Ui) -> Option<Change> {
    let mut change = None;
    let hindrance = row.hindrance();
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(&row.name).strong());
        if let Ok(layout) = &row.layout {
            ui.label(RichText::new(shown_words(layout).join(", ")).weak());
        }
    });
    if hindrance.is_none() {
        ui.horizontal_wrapped(|ui| {
            for part in Part::ALL {
                let radio = ui.radio(row.part == part, part.words());
                let name = format!("{}: {}", row.name, part.words());
                radio.widget_info(|| WidgetInfo::selected(Role::RadioButton, true, row.part == part, &name));
                if radio.clicked() {
                    change = Some(Change::Part(number, part));
                }
            }
        });
    }
    for (index, photo) in row.photos.iter().enumerate() {
        ui.horizontal_wrapped(|ui| photograph((number, index), row, photo, asks, ui));
    }
    // What stands beside each photograph is not told again.
    let told = hindrance.filter(|_| row.layout.is_err() || row.photos.iter().all(|photo| matches!(photo.teaches, Teaches::Yes)));
    if let Some(words) = told {
        ui.add(Label::new(RichText::new(words).color(Palette::of(ui.ctx()).warn)).wrap());
    }
    if let Origin::File(path) = &row.origin
        && let Some(file) = added.iter().position(|(added, _)| added == path)
    {
        ui.horizontal_wrapped(|ui| {
            if ui.button(format!("Add a photograph of {}…", row.name)).clicked() {
                asks.push(Ask::NameFile(Purpose::PiecePhotograph(file)));
            }
            if ui.button(format!("Remove {}", row.name)).on_hover_text("Take it off this list; its files stay").clicked() {
                change = Some(Change::Remove(path.clone()));
            }
        });
    }
    change
}

fn photograph(at: (usize, usize), row: &Row, photo: &Photo, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let hindrance = photo.teaches.hindrance();
    ui.label(&photo.name);
    let colour = if hindrance.is_some() { Palette::of(ui.ctx()).warn } else { Palette::of(ui.ctx()).faint };
    ui.add(Label::new(RichText::new(hindrance.as_deref().unwrap_or("marked")).color(colour)).wrap());
    let can_mark = row.layout.is_ok() && matches!(photo.teaches, Teaches::Yes | Teaches::Unmarked | Teaches::NoSheet);
    if can_mark {
        let words = if matches!(photo.teaches, Teaches::Yes) { "See its marks" } else { "Mark it" };
        let button = ui.button(words);
        button.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("{words}: {} of {}", photo.name, row.name)));
        if button.on_hover_text("Open the photograph with its points and sheet").clicked() {
            asks.push(Ask::Learn(LearnAsk::Mark(at.0, at.1)));
        }
    }
}
