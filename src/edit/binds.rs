//! Corrections of single binds: keeping the list of edits short and free of contradictions.

use crate::geometry::{BindEdit, BindId, Neighbours};

/// Which numbered bind an edit is about.
fn about(edit: &BindEdit) -> Option<i32> {
    match edit {
        BindEdit::Move { bind, .. } | BindEdit::Lock { bind, .. } | BindEdit::Remove { bind } => Some(*bind),
        BindEdit::Add { .. } => None,
    }
}

/// Where the `k`-th added bind (from 1) stands among the edits.
fn added(edits: &[BindEdit], k: u32) -> Option<usize> {
    let adds = edits.iter().enumerate().filter(|(_, edit)| matches!(edit, BindEdit::Add { .. }));
    adds.map(|(index, _)| index).nth(k.checked_sub(1)? as usize)
}

/// Puts a bind at a radius: an added one is moved, a numbered one held there.
pub(super) fn put(edits: &mut Vec<BindEdit>, bind: BindId, at_mm: f64, neighbours: Neighbours) {
    match bind {
        BindId::Numbered(number) => {
            edits.retain(|edit| about(edit) != Some(number));
            edits.push(BindEdit::Lock { bind: number, at_mm, neighbours });
        }
        BindId::Added(k) => {
            if let Some(index) = added(edits, k) {
                edits[index] = BindEdit::Add { at_mm };
            }
        }
    }
}

/// Takes a bind away.
pub(super) fn remove(edits: &mut Vec<BindEdit>, bind: BindId) {
    match bind {
        BindId::Numbered(number) => {
            edits.retain(|edit| about(edit) != Some(number));
            edits.push(BindEdit::Remove { bind: number });
        }
        BindId::Added(k) => {
            if let Some(index) = added(edits, k) {
                edits.remove(index);
            }
        }
    }
}

/// Gives a bind back to its progression.
pub(super) fn release(edits: &mut Vec<BindEdit>, bind: BindId) {
    match bind {
        BindId::Numbered(number) => edits.retain(|edit| about(edit) != Some(number)),
        BindId::Added(_) => remove(edits, bind),
    }
}
