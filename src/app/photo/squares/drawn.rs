//! What a maker draws on a photograph of dyed squares: the squares, with what they are called, and the white that their colours are told by.

use crate::photo::{FoundSquares, Photograph, SheetPaper, White, guessed_sheet};
use crate::store::USUAL_DEPTH_PERCENT;
use kurbo::{Point, Rect, Vec2};

/// How large a square is that a hand adds, as a share of the picture's shorter side, and the least that one is drawn, px (own choice).
const ADDED: f64 = 0.08;
const LEAST_PX: f64 = 4.0;

/// A square, with its swatch's name and shade.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Square {
    pub(super) name: String,
    /// % on weight of fibre.
    pub(super) shade_percent: f64,
    /// px of the whole picture.
    pub(super) place: Rect,
}

/// All that is drawn.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Drawn {
    pub(super) white: White,
    pub(super) squares: Vec<Square>,
}

/// Something that can be moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Grip {
    /// A square, by its place among all.
    Square(usize),
    /// A corner of one: on its right, and at its foot.
    Corner(usize, bool, bool),
    /// A corner of the sheet, from 0.
    Sheet(usize),
}

impl Grip {
    /// The square that it belongs to.
    pub(super) fn square(self) -> Option<usize> {
        match self {
            Self::Square(at) | Self::Corner(at, ..) => Some(at),
            Self::Sheet(_) => None,
        }
    }
}

impl Drawn {
    /// As the program found it; a sheet where none was found lies where it may be.
    pub(super) fn of(found: &FoundSquares, photograph: &Photograph) -> Self {
        let white = found.white.clone().unwrap_or_else(|| White::Sheet(guessed_sheet(photograph, SheetPaper::A4)));
        let mut drawn = Self { white, squares: Vec::new() };
        found.squares.iter().for_each(|square| drawn.add(*square));
        drawn
    }

    fn add(&mut self, place: Rect) {
        let is_taken = |name: &String| self.squares.iter().any(|square| square.name == *name);
        let name = (1..).map(|number| format!("swatch {number}")).find(|name| !is_taken(name)).unwrap_or_default();
        let shade_percent = self.squares.last().map_or(USUAL_DEPTH_PERCENT, |last| last.shade_percent);
        self.squares.push(Square { name, shade_percent, place });
    }

    /// Adds a square about a place of a picture of this size.
    pub(super) fn add_at(&mut self, at: Point, picture: [u32; 2]) {
        let [width, height] = picture.map(f64::from);
        let side = ADDED * width.min(height);
        let last = self.squares.last().map_or(Vec2::new(side, side), |last| Vec2::new(last.place.width(), last.place.height()));
        self.add(within(Rect::from_center_size(at, (last.x, last.y)), picture));
    }

    /// Where it is.
    pub(super) fn place(&self, grip: Grip) -> Option<Point> {
        match (grip, &self.white) {
            (Grip::Square(at), _) => self.squares.get(at).map(|square| square.place.center()),
            (Grip::Corner(at, right, foot), _) => self.squares.get(at).map(|square| corner(square.place, right, foot)),
            (Grip::Sheet(at), White::Sheet(sheet)) => sheet.corners.get(at).copied(),
            (Grip::Sheet(_), White::Ground) => None,
        }
    }

    /// What it is called.
    pub(super) fn name(&self, grip: Grip) -> String {
        match grip {
            Grip::Square(at) => self.squares.get(at).map_or_else(String::new, |square| square.name.clone()),
            Grip::Corner(at, right, foot) => {
                let (x, y) = (if right { "right" } else { "left" }, if foot { "lower" } else { "upper" });
                format!("{y} {x} corner of {}", self.name(Grip::Square(at)))
            }
            Grip::Sheet(at) => format!("sheet corner {}", at + 1),
        }
    }

    /// Moves it within a picture of this size.
    pub(super) fn shift(&mut self, grip: Grip, by: Vec2, picture: [u32; 2]) {
        let [width, height] = picture.map(f64::from);
        let inside = |at: Point| Point::new(at.x.clamp(0.0, width), at.y.clamp(0.0, height));
        match (grip, &mut self.white) {
            (Grip::Square(at), _) => {
                if let Some(square) = self.squares.get_mut(at) {
                    square.place = within(square.place + by, picture);
                }
            }
            (Grip::Corner(at, right, foot), _) => {
                if let Some(Square { place, .. }) = self.squares.get_mut(at) {
                    let to = inside(corner(*place, right, foot) + by);
                    *place = match right {
                        true => Rect { x1: to.x.max(place.x0 + LEAST_PX), ..*place },
                        false => Rect { x0: to.x.min(place.x1 - LEAST_PX), ..*place },
                    };
                    *place = match foot {
                        true => Rect { y1: to.y.max(place.y0 + LEAST_PX), ..*place },
                        false => Rect { y0: to.y.min(place.y1 - LEAST_PX), ..*place },
                    };
                }
            }
            (Grip::Sheet(at), White::Sheet(sheet)) => {
                if let Some(corner) = sheet.corners.get_mut(at) {
                    *corner = inside(*corner + by);
                }
            }
            (Grip::Sheet(_), White::Ground) => {}
        }
    }

    /// Everything that can be moved, in the order in which keys come to it; corners of a square only while it is chosen.
    pub(super) fn grips(&self, chosen: Option<usize>) -> Vec<Grip> {
        let sheet = (0..4).map(Grip::Sheet).filter(|_| matches!(self.white, White::Sheet(_)));
        let of_square = |at: usize| {
            let corners = [(false, false), (true, false), (true, true), (false, true)];
            let corners = corners.map(|(right, foot)| Grip::Corner(at, right, foot)).into_iter();
            std::iter::once(Grip::Square(at)).chain(corners.filter(move |_| chosen == Some(at)))
        };
        (0..self.squares.len()).flat_map(of_square).chain(sheet).collect()
    }
}

fn corner(place: Rect, right: bool, foot: bool) -> Point {
    Point::new(if right { place.x1 } else { place.x0 }, if foot { place.y1 } else { place.y0 })
}

/// A square moved into a picture, as large as it was where there is room.
fn within(place: Rect, picture: [u32; 2]) -> Rect {
    let [width, height] = picture.map(f64::from);
    let size = (place.width().min(width), place.height().min(height));
    let origin = Point::new(place.x0.clamp(0.0, width - size.0), place.y0.clamp(0.0, height - size.1));
    Rect::from_origin_size(origin, size)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn squares_stay_within_the_picture_and_keep_a_name_of_their_own() {
        let mut drawn = Drawn { white: White::Ground, squares: Vec::new() };
        for at in [(10.0, 10.0), (90.0, 50.0)] {
            drawn.add_at(at.into(), [200, 100]);
        }
        let names: Vec<&str> = drawn.squares.iter().map(|square| &*square.name).collect();
        assert_eq!(names, ["swatch 1", "swatch 2"]);
        drawn.shift(Grip::Square(0), Vec2::new(-50.0, 500.0), [200, 100]);
        assert_eq!(drawn.squares[0].place, Rect::new(0.0, 92.0, 8.0, 100.0));
        drawn.shift(Grip::Corner(1, false, true), Vec2::new(300.0, 20.0), [200, 100]);
        let Rect { x0, x1, y1, .. } = drawn.squares[1].place;
        assert_eq!((x1 - x0, y1), (LEAST_PX, 74.0));
        drawn.squares.remove(0);
        drawn.add_at(Point::new(50.0, 50.0), [200, 100]);
        assert_eq!(drawn.squares[1].name, "swatch 1");
    }
}
