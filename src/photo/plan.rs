//! What the photograph is held against: the reveal of the layout, folded and tied with an exact hand.

use super::PhotoError;
use super::outline::mirror;
use crate::geometry::{ClothPoint, Panel, Taken, owner};
use crate::layout::{Layout, Srgb};
use crate::reveal::colour::{DyeSet, LinearRgb};
use crate::reveal::{Cancel, Picture, PictureMap, PixelFrame, RevealOptions, Texture, picture_until, reveal_doses};
use kurbo::Point;
use std::sync::Arc;

/// The picture of a side as planned.
#[derive(Debug, Clone)]
pub struct Plan {
    layout: Layout,
    side: Panel,
    frame: PixelFrame,
    /// Linear light times coverage, and coverage.
    light: Arc<[[f32; 4]]>,
    /// Where it is of several ties: the cloth of each. Where it is of one of them: all, and which it is.
    ties: Arc<[Taken]>,
    own: Option<usize>,
    /// The same of the other side.
    other: Option<Box<Self>>,
}

impl Plan {
    /// Computes it, and the other side's: pixels of 1 mm, flat colours, no wander of the hand.
    ///
    /// # Errors
    /// [`PhotoError::Reveal`]; [`PhotoError::Puck`] for a puck.
    pub fn of(layout: &Layout, side: Panel, cancel: &Cancel) -> Result<Self, PhotoError> {
        Self::check(layout)?;
        let mut spec = layout.raw().clone();
        spec.process.hand.wander_mm = 0.0;
        // A layout stays usable whatever its hand; if not, the maker's own is next best.
        let exact = Layout::try_from(spec).unwrap_or_else(|_refused| layout.clone());
        let reveal = reveal_doses(&exact, &RevealOptions::default(), cancel)?;
        let picture = picture_until(&reveal, &DyeSet::of_layout(&exact, None), PictureMap::Cloth, Texture::Off, cancel)?;
        let other = reveal.panels().iter().map(|(panel, _)| *panel).find(|panel| *panel != side);
        let other = other.map(|other| Box::new(Self::from_picture(exact.clone(), other, reveal.panels(), &picture)));
        Ok(Self { other, ..Self::from_picture(exact, side, reveal.panels(), &picture) })
    }

    /// Whether there can be a plan of a layout, which is told before any work.
    ///
    /// # Errors
    /// [`PhotoError::Puck`] for a puck.
    pub fn check(layout: &Layout) -> Result<(), PhotoError> {
        match layout.fold().ring() {
            Some(_) => Err(PhotoError::Puck { binds: layout.binds().binds.len() }),
            None => Ok(()),
        }
    }

    /// The plan of a reveal's picture: its panels beside each other, in flat colours.
    #[must_use]
    pub fn from_picture(layout: Layout, side: Panel, panels: &[(Panel, PixelFrame)], picture: &Picture) -> Self {
        let at = panels.iter().position(|(panel, _)| *panel == side).unwrap_or_default();
        let left: usize = panels[..at].iter().map(|(_, frame)| frame.width).sum();
        let frame = panels[at].1;
        let pixels = picture.rgba.as_chunks::<4>().0;
        let rows = (0..frame.height).flat_map(|row| &pixels[row * picture.width + left..][..frame.width]);
        let light = rows.map(|&[red, green, blue, alpha]| {
            #[expect(clippy::cast_possible_truncation, reason = "light is kept in single precision")]
            let light = LinearRgb::from(Srgb { red, green, blue }).0.map(|channel| channel as f32);
            let share = f32::from(alpha) / 255.0;
            [light[0] * share, light[1] * share, light[2] * share, share]
        });
        Self::of_light(layout, side, frame, light.collect())
    }

    /// The plan of a picture that was computed elsewhere: light of each pixel times coverage, and coverage, row by row; none where that does
    /// not fill the frame.
    #[must_use]
    pub fn from_light(layout: Layout, side: Panel, frame: PixelFrame, light: Vec<[f32; 4]>) -> Option<Self> {
        (light.len() == frame.pixels()).then(|| Self::of_light(layout, side, frame, light.into()))
    }

    fn of_light(layout: Layout, side: Panel, frame: PixelFrame, light: Arc<[[f32; 4]]>) -> Self {
        let ties = layout.ties().iter().filter_map(|tie| Some(tie.tied_fold()?.taken().clone())).collect();
        Self { layout, side, frame, light, ties, own: None, other: None }
    }

    /// The plan of each tie, in the order in which they are tied: of its own layout, with the picture of all. Of one tie alone, itself.
    #[must_use]
    pub fn ties(&self) -> Vec<Self> {
        if !self.layout.is_of_several() {
            return vec![self.clone()];
        }
        let of_tie = |plan: &Self, number: usize| {
            let layout = plan.layout.ties().get(number).unwrap_or(&plan.layout).clone();
            Self { layout, own: Some(number), other: None, ..plan.clone() }
        };
        let tie = |number: usize| {
            let other = self.other_side().map(|other| Box::new(of_tie(other, number)));
            Self { other, ..of_tie(self, number) }
        };
        (0..self.layout.ties().len()).map(tie).collect()
    }

    /// The layout, with an exact hand.
    #[must_use]
    pub const fn layout(&self) -> &Layout {
        &self.layout
    }

    /// The plan of the other side, where it was computed and the garment has one.
    #[must_use]
    pub fn other_side(&self) -> Option<&Self> {
        self.other.as_deref()
    }

    /// The side that it shows.
    #[must_use]
    pub const fn side(&self) -> Panel {
        self.side
    }

    /// Where its pixels lie.
    #[must_use]
    pub const fn frame(&self) -> PixelFrame {
        self.frame
    }

    /// The colour of the cloth at a point as it is seen, and how much of the place is cloth.
    #[must_use]
    #[inline]
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held within the picture")]
    pub fn at(&self, seen: Point) -> ([f32; 3], f32) {
        let PixelFrame { width, height, pixel_mm, left_mm, top_mm } = self.frame;
        let (x, y) = ((seen.x - left_mm) / pixel_mm - 0.5, (seen.y - top_mm) / pixel_mm - 0.5);
        if !(x >= 0.0 && y >= 0.0 && x < width as f64 - 1.0 && y < height as f64 - 1.0) {
            return ([0.0; 3], 0.0);
        }
        let (column, row) = (x as usize, y as usize);
        let (right, down) = ((x - column as f64) as f32, (y - row as f64) as f32);
        let above = &self.light[row * width + column..][..2];
        let below = &self.light[(row + 1) * width + column..][..2];
        let mixed = [0, 1, 2, 3].map(|channel| {
            let upper = above[0][channel] + right * (above[1][channel] - above[0][channel]);
            let lower = below[0][channel] + right * (below[1][channel] - below[0][channel]);
            upper + down * (lower - upper)
        });
        let share = mixed[3].max(f32::MIN_POSITIVE);
        ([mixed[0] / share, mixed[1] / share, mixed[2] / share], mixed[3])
    }

    /// Where along the bundle a point lies, mm: of a burst, how far from its centre.
    #[must_use]
    pub fn along_mm(&self, seen: Point) -> f64 {
        let fold = self.layout.fold();
        fold.along_as_laid_mm(fold.lay().plane_as_laid(self.turned(seen)))
    }

    /// Whether the cloth at a point is this plan's: of one of several ties, what that took and nobody before it.
    #[must_use]
    pub fn is_own(&self, seen: Point) -> bool {
        self.own.is_none() || owner(&self.ties, self.cloth_point(seen)) == self.own
    }

    /// Whether the cloth at a point is another tie's than this plan's.
    #[must_use]
    pub fn is_others(&self, seen: Point) -> bool {
        let is_other = |own: usize| owner(&self.ties, self.cloth_point(seen)).is_some_and(|owner| owner != own);
        self.own.is_some_and(is_other)
    }

    /// How far a point is at least from the cloth of ties before this plan's, of a plan of several ties from that of any, mm: below 0 within
    /// it; without end where there is none.
    #[must_use]
    pub fn from_earlier_mm(&self, seen: Point) -> f64 {
        let at = self.cloth_point(seen);
        let earlier = &self.ties[..self.own.unwrap_or(self.ties.len())];
        earlier.iter().map(|tie| tie.beyond_mm(at)).fold(f64::INFINITY, f64::min)
    }

    fn cloth_point(&self, seen: Point) -> ClothPoint {
        let Point { x: x_mm, y: y_mm } = self.turned(seen);
        ClothPoint { panel: self.side, x_mm, y_mm }
    }

    /// The same point in the garment's frame, or back: seen from behind, left and right change places.
    #[must_use]
    pub fn turned(&self, point: Point) -> Point {
        Point::new(mirror(self.side) * point.x, point.y)
    }

    /// The burst's centre as it is seen; none of other folds.
    #[must_use]
    pub fn centre(&self) -> Option<Point> {
        Some(self.turned(self.layout.burst()?.centre()))
    }
}
