//! Words that can stand at several places, and where they are set so that no sheet's edge cuts them.

use crate::print::{Shape, Text};
use kurbo::Rect;

/// Words with the places where they could stand, the best first.
pub(super) struct Label {
    places: Vec<Text>,
    /// Whether it is left out where none of its places is free.
    is_spare: bool,
}

impl Label {
    /// Words that must stand somewhere.
    pub(super) fn new(places: Vec<Text>) -> Self {
        Self { places, is_spare: false }
    }

    /// Words that only repeat what stands elsewhere.
    pub(super) fn spare(places: Vec<Text>) -> Self {
        Self { places, is_spare: true }
    }
}

/// The box of words as they stand.
pub(super) fn box_of(text: &Text) -> Rect {
    Shape::Text(text.clone()).bounding_box()
}

/// Sets every label at the best of its places that stays whole. Those that need not leave their best place are set first; the others
/// keep off all that are set. Where none of its places is free a label stands at the first that stays whole, else at its best.
pub(super) fn settled(labels: &[Label], keeps_whole: &dyn Fn(Rect) -> bool) -> Vec<Text> {
    let (mut set, mut moving): (Vec<(&Text, Rect)>, Vec<&Label>) = (Vec::new(), Vec::new());
    let boxed = |text| (text, box_of(text));
    for label in labels {
        match label.places.first().map(boxed) {
            Some((text, area)) if keeps_whole(area) && !label.is_spare => set.push((text, area)),
            _ => moving.push(label),
        }
    }
    for Label { places, is_spare } in moving {
        let whole = || places.iter().map(boxed).filter(|(_, area)| keeps_whole(*area));
        let free = whole().find(|(_, area)| set.iter().all(|(_, other)| !other.overlaps(*area)));
        let first = || whole().next().or_else(|| places.first().map(boxed));
        set.extend(free.or_else(|| if *is_spare { None } else { first() }));
    }
    set.into_iter().map(|(text, _)| text.clone()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(places: &[f64]) -> Vec<Text> {
        places.iter().map(|&y| Text::new("no. 1", (0.0, y), 2.0)).collect()
    }

    #[test]
    fn words_leave_a_place_that_is_cut_and_keep_off_others() {
        let labels = vec![Label::new(at(&[50.0, 20.0, 30.0])), Label::new(at(&[20.0])), Label::spare(at(&[50.0, 20.0]))];
        let texts = settled(&labels, &|area| area.y0 > 60.0 || area.y1 < 40.0);
        let levels: Vec<f64> = texts.iter().map(|text| text.position.y).collect();
        assert_eq!(levels, [20.0, 30.0]);
    }

    #[test]
    fn words_without_a_free_place_still_stand_somewhere() {
        let texts = settled(&[Label::new(at(&[50.0, 20.0])), Label::new(at(&[50.0]))], &|area| area.y1 < 40.0);
        let levels: Vec<f64> = texts.iter().map(|text| text.position.y).collect();
        assert_eq!(levels, [20.0, 50.0]);
    }
}
