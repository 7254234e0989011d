//! A change of a document, worked out apart from it: where that takes longer than a frame, on another thread.

use super::{EditCommand, TieChange};
use crate::layout::{Figures, Layout, LayoutError};
use std::sync::Arc;

/// A tie by its number from 0, as a layout of it alone, and its figures; of one tie the layout itself.
pub(super) type Tie = (usize, Arc<Layout>, Arc<Figures>);

/// A change that is to be worked out.
#[derive(Debug, Clone)]
pub struct Change {
    pub(super) command: EditCommand,
    pub(super) from: Arc<Layout>,
    /// What a number of binds is worked out from.
    pub(super) began: Option<Arc<Layout>>,
    /// The tie that is worked on.
    pub(super) tie: usize,
}

/// What a change leads to.
#[derive(Debug, Clone)]
pub struct Changed {
    pub(super) from: Arc<Layout>,
    pub(super) began: Option<Arc<Layout>>,
    pub(super) label: String,
    pub(super) layout: Arc<Layout>,
    pub(super) figures: Arc<Figures>,
    pub(super) tie: Tie,
}

impl Change {
    /// Makes the layout that the change leads to, and its figures.
    ///
    /// # Errors
    /// [`LayoutError`] where it would be wrong.
    pub fn work_out(self) -> Result<Changed, LayoutError> {
        let Self { command, from, began, tie } = self;
        let raw = command.apply(began.as_ref().unwrap_or(&from))?;
        let layout = Layout::try_from(raw)?;
        let figures = Arc::new(Figures::of(&layout));
        let number = tie_after(&command, tie, layout.ties().len());
        let layout = Arc::new(layout);
        let tie = tie_of(&layout, &figures, number);
        Ok(Changed { label: command.label(&from), from, began, layout, figures, tie })
    }
}

impl Changed {
    /// The tie that is worked on then, as [`Document::tie`](super::Document::tie) gives it.
    #[must_use]
    pub fn tie(&self) -> &Arc<Layout> {
        &self.tie.1
    }
}

/// One of a layout's ties with its figures; the last where there are fewer.
pub(super) fn tie_of(layout: &Arc<Layout>, figures: &Arc<Figures>, number: usize) -> Tie {
    let number = number.min(layout.ties().len() - 1);
    match figures.several.as_ref().and_then(|several| several.ties.get(number)) {
        Some(tie) => (number, Arc::new(layout.ties()[number].clone()), Arc::new(tie.figures.clone())),
        None => (0, layout.clone(), figures.clone()),
    }
}

/// The tie that is worked on after a change: one that was put on, and else the same as before.
fn tie_after(command: &EditCommand, now: usize, count: usize) -> usize {
    match command {
        EditCommand::Ties(TieChange::Add(_)) => count - 1,
        EditCommand::Ties(TieChange::Remove(number)) if *number < now || now >= count => now.saturating_sub(1),
        EditCommand::Ties(TieChange::Reorder(from, to)) if *from == now => *to,
        EditCommand::Ties(TieChange::Reorder(from, to)) if (*to..*from).contains(&now) => now + 1,
        EditCommand::Ties(TieChange::Reorder(from, to)) if (*from + 1..=*to).contains(&now) => now - 1,
        EditCommand::InTie(number, _) => *number,
        _ => now,
    }
}

#[cfg(test)]
mod tests {
    use super::super::Document;
    use super::*;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};
    use kurbo::Point;

    fn document() -> Document {
        let heart = EXAMPLE_LAYOUTS.iter().find(|example| example.short_name().ends_with("heart-tee-m")).unwrap();
        Document::new(parse_layout(heart.text).unwrap())
    }

    /// A drag's places worked out on another thread, every other passed over, lead where each of them done at once leads, in one step.
    #[test]
    fn changes_worked_out_apart_lead_where_those_at_once_lead() {
        let places = (0_u8..4).map(|k| EditCommand::MoveCentre(Point::new(0.0, 330.0 + f64::from(k)))).collect::<Vec<_>>();
        let [mut at_once, mut apart] = [document(), document()];
        for document in [&mut at_once, &mut apart] {
            document.begin_gesture("move the line");
        }
        for place in &places {
            at_once.perform(place).unwrap();
        }
        for place in [&places[1], &places[3]] {
            let change = apart.change(place);
            let changed = std::thread::spawn(move || change.work_out()).join().unwrap().unwrap();
            assert!(apart.take(changed));
        }
        for document in [&mut at_once, &mut apart] {
            document.end_gesture();
        }
        assert_eq!(apart.text(), at_once.text());
        assert_eq!(apart.tie().raw(), at_once.tie().raw());
        apart.undo();
        assert_eq!(apart.text(), document().text());
    }

    /// What was worked out of a layout that is no longer there is not taken.
    #[test]
    fn what_comes_too_late_is_not_taken() {
        let mut document = document();
        let late = document.change(&EditCommand::MoveCentre(Point::new(0.0, 340.0))).work_out().unwrap();
        document.perform(&EditCommand::Rename("heart for the row".to_owned())).unwrap();
        let before = document.text();
        assert!(!document.take(late));
        assert_eq!(document.text(), before);
    }
}
