//! Rings like those of a photograph, looked for off the window's thread.

use crate::app::job::Job;
use crate::geometry::Panel;
use crate::layout::Layout;
use crate::photo::{RegistrationOptions, check_names, find_points, profile, register};
use crate::reveal::Cancel;
use crate::store::{marks_path, read_marks, read_photograph};
use crate::telling::{AnyRefusal, Told};
use crate::wish::Wish;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Looking at a photograph.
pub(super) type Liking = Job<Arc<Layout>, Result<Wish, AnyRefusal>>;

pub(super) fn begin(path: PathBuf, layout: &Arc<Layout>, egui: &egui::Context) -> Option<Liking> {
    let own = layout.clone();
    Job::begin("wish like", layout.clone(), egui, move |cancel| like(&path, &own, cancel))
}

/// The wish, by the marks beside the photograph or by points that are found in it.
fn like(path: &Path, layout: &Layout, cancel: &Cancel) -> Result<Wish, AnyRefusal> {
    Wish::check_layout(layout)?;
    let photograph = read_photograph(path)?;
    let beside = marks_path(path);
    let marks = if beside.is_file() {
        let marks = read_marks(&beside)?;
        check_names(layout, &marks)?;
        marks
    } else {
        let found = find_points(&photograph, layout, Panel::Front, cancel)?;
        if !found.is_enough() {
            let cure = "hold the photograph against the plan, mark its points and save the marks, then try again";
            return Err(Told::new("too few of the garment's points can be made out in the photograph", cure).into());
        }
        found.marks(Panel::Front)
    };
    let map = register(&photograph, layout, &marks, &RegistrationOptions::default(), cancel)?;
    let seen = profile(&photograph, layout, &marks, &map, cancel)?;
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    Ok(Wish::like(&seen, name, "-".to_owned(), layout)?)
}
