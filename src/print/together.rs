//! Several small drawings on one large sheet, so that a strip and a card don't take a sheet each.

use kurbo::{Affine, Rect, Size, Vec2};

use super::band::{BandText, band_items};
use super::drawing::Drawing;
use super::error::PrintError;
use super::frame::{Frame, frames};
use super::page::{Page, Painted, Part, Placed};
use super::paper::Paper;
use super::tiling::TilingOptions;

/// Space between the drawings, in mm: room for scissors. Own choice.
const GAP_MM: f64 = 6.0;

/// Puts drawings on one sheet, uncut and full size: in rows from the top, each row filled from the left, in the order given.
///
/// `None` where no orientation of the paper holds them all.
///
/// # Errors
/// [`PrintError`] for an empty drawing, settings out of range, or paper too small for the band of bars.
pub fn together_part(
    drawings: &[Drawing],
    title: &str,
    name: &str,
    paper: &Paper,
    options: &TilingOptions,
) -> Result<Option<Part>, PrintError> {
    options.check()?;
    let mut reaches = Vec::with_capacity(drawings.len());
    for drawing in drawings {
        drawing.check()?;
        let empty = || PrintError::EmptyDrawing { title: drawing.title.clone() };
        reaches.push(drawing.ink_bounds().ok_or_else(empty)?);
    }
    let widest_mm = reaches.iter().map(Rect::width).fold(0.0, f64::max);
    // A roll is cut to what is on it: to all beside each other, or to the widest with the rest in rows.
    let mut best: Option<(Frame, Vec<Vec2>)> = None;
    for room_mm in [f64::INFINITY, widest_mm] {
        let need = rows(&reaches, room_mm).1;
        for frame in frames(paper, options.margin_mm, options.correction, 0.0, need)? {
            let (places, taken) = rows(&reaches, frame.window.width());
            let fits = taken.width <= frame.window.width() + 1e-9 && taken.height <= frame.window.height() + 1e-9;
            let smaller = best.as_ref().is_none_or(|(best, _)| frame.page.area() < best.page.area());
            if fits && smaller {
                best = Some((frame, places));
            }
        }
    }
    let words = BandText { title, name, page: 1, pages: 1 };
    let page = best.map(|(frame, places)| page(drawings, &reaches, &places, &frame, &words));
    Ok(page.map(|page| Part { title: title.to_owned(), pages: vec![page] }))
}

/// Top left corners of boxes set in rows of at most `room_mm`, and what they take.
fn rows(reaches: &[Rect], room_mm: f64) -> (Vec<Vec2>, Size) {
    let (mut places, mut taken) = (Vec::with_capacity(reaches.len()), Size::ZERO);
    let (mut x_mm, mut top_mm) = (0.0, 0.0);
    for reach in reaches {
        if x_mm > 0.0 && x_mm + reach.width() > room_mm {
            (x_mm, top_mm) = (0.0, taken.height + GAP_MM);
        }
        places.push(Vec2::new(x_mm, top_mm));
        taken = Size::new(taken.width.max(x_mm + reach.width()), taken.height.max(top_mm + reach.height()));
        x_mm += reach.width() + GAP_MM;
    }
    (places, taken)
}

fn page(drawings: &[Drawing], reaches: &[Rect], places: &[Vec2], frame: &Frame, words: &BandText<'_>) -> Page {
    let page_from_sheet = Affine::scale(frame.page_per_sheet);
    let mut placed = Vec::with_capacity(drawings.len() + 1);
    for ((drawing, reach), place) in drawings.iter().zip(reaches).zip(places) {
        let to_sheet = frame.window.origin().to_vec2() + *place - reach.origin().to_vec2();
        let page_from_drawing = page_from_sheet * Affine::translate(to_sheet);
        placed.push(Placed { drawing: Painted::of(drawing), page_from_drawing, clip: None });
    }
    let mut band = Drawing::new("");
    band.items.extend(band_items(frame, words));
    placed.push(Placed { drawing: Painted::of(&band), page_from_drawing: page_from_sheet, clip: None });
    Page { name: words.name.to_owned(), size_mm: frame.page, placed, links: Vec::new() }
}

#[cfg(test)]
mod tests {
    use super::super::style::Layer;
    use super::*;

    fn block(width_mm: f64, height_mm: f64) -> Drawing {
        let mut drawing = Drawing::new("block");
        drawing.path(Layer::Cut, kurbo::Shape::to_path(&Rect::new(0.0, 0.0, width_mm, height_mm), 0.1));
        drawing
    }

    fn pages(paper: &str) -> Option<Vec<Page>> {
        let drawings = [block(700.0, 60.0), block(720.0, 80.0), block(184.0, 244.0)];
        let paper = paper.parse().expect("a paper");
        together_part(&drawings, "small", "Strips", &paper, &TilingOptions::default()).expect("in range").map(|part| part.pages)
    }

    #[test]
    fn strips_and_card_share_a_large_sheet_and_not_a_small_one() {
        for paper in ["A0", "A1", "roll:914", "roll:610", "Arch-E"] {
            let pages = pages(paper).unwrap_or_else(|| panic!("{paper} has room"));
            assert_eq!(pages.len(), 1);
            let reach = |placed: &Placed| {
                placed
                    .drawing
                    .items
                    .iter()
                    .map(|item| placed.page_from_drawing.transform_rect_bbox(item.1))
                    .reduce(|a, b| a.union(b))
            };
            let reaches: Vec<Rect> = pages[0].placed.iter().filter_map(reach).collect();
            for (index, a) in reaches.iter().enumerate() {
                assert!(a.x0 >= 5.9 && a.y0 >= 5.9 && a.x1 <= pages[0].size_mm.width - 5.9, "{paper}: {a:?}");
                assert!(a.y1 <= pages[0].size_mm.height - 5.9, "{paper}: {a:?}");
                assert!(reaches[..index].iter().all(|b| a.intersect(*b).area() <= 0.0), "{paper}: {a:?} covers another");
            }
        }
        assert_eq!(pages("A4"), None);
        assert_eq!(pages("A3"), None);
    }
}
