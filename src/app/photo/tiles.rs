//! A photograph on the screen: cut into textures that any graphics card takes, given to it a few in each frame.

use crate::app::canvas::View;
use crate::app::screen::screen;
use crate::photo::Photograph;
use crate::reveal::colour::SrgbBytes;
use egui::{Color32, ColorImage, Context, Painter, Rect, TextureFilter, TextureHandle, TextureOptions, pos2};
use kurbo::Point;
use std::collections::VecDeque;

/// Most pixels along a side of a texture: less than any card's most.
const SIDE: usize = 1024;
/// Most textures that are given to the card in a frame: 4 MB each.
const A_FRAME: usize = 2;

/// A part of the picture.
#[derive(Debug)]
pub(super) struct Tile {
    /// Column and row of its first pixel among the kept.
    first: [usize; 2],
    image: ColorImage,
}

/// Cuts the kept pixels of a photograph into tiles.
pub(super) fn cut(photograph: &Photograph) -> Vec<Tile> {
    let [width, height] = photograph.kept();
    let bytes = SrgbBytes::new();
    let firsts = (0..height).step_by(SIDE).flat_map(|row| (0..width).step_by(SIDE).map(move |column| [column, row]));
    let tile = |[column, row]: [usize; 2]| {
        let size = [SIDE.min(width - column), SIDE.min(height - row)];
        let rows = photograph.light().chunks_exact(width).skip(row).take(size[1]);
        let pixels = rows.flat_map(|line| &line[column..column + size[0]]);
        let pixels = pixels.map(|light| {
            let [red, green, blue] = light.map(|channel| bytes.byte(channel));
            Color32::from_rgb(red, green, blue)
        });
        Tile { first: [column, row], image: ColorImage::new(size, pixels.collect()) }
    };
    firsts.map(tile).collect()
}

/// The tiles that are shown.
#[derive(Default)]
pub(super) struct Tiles {
    coming: VecDeque<Tile>,
    shown: Vec<(kurbo::Rect, TextureHandle)>,
}

impl std::fmt::Debug for Tiles {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Tiles").field("shown", &self.shown.len()).finish_non_exhaustive()
    }
}

impl Tiles {
    pub(super) fn new(tiles: Vec<Tile>) -> Self {
        Self { coming: tiles.into(), shown: Vec::new() }
    }

    /// Gives the next ones to the card.
    pub(super) fn keep_up(&mut self, ctx: &Context) {
        for Tile { first: [column, row], image } in self.coming.drain(..A_FRAME.min(self.coming.len())) {
            let [width, height] = image.size;
            let [x0, y0, x1, y1] = [column, row, column + width, row + height].map(|at| at as f64);
            let options = TextureOptions::LINEAR.with_mipmap_mode(Some(TextureFilter::Linear));
            self.shown.push((kurbo::Rect::new(x0, y0, x1, y1), ctx.load_texture("photograph", image, options)));
        }
        if !self.coming.is_empty() {
            ctx.request_repaint();
        }
    }

    /// Paints them, where a view takes kept pixels to the screen.
    pub(super) fn paint(&self, view: &View, area: Rect, painter: &Painter) {
        let whole = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
        for (place, texture) in &self.shown {
            let corner = |x: f64, y: f64| view.screen_from_mm(area, Point::new(x, y));
            let rect = Rect::from_min_max(corner(place.x0, place.y0), corner(place.x1, place.y1));
            if rect.intersects(area) {
                painter.image(texture.id(), rect, whole, Color32::WHITE);
            }
        }
    }
}

/// A small part of the photograph about a place of the whole picture, each of its pixels `step` kept pixels wide.
pub(super) fn enlarged(photograph: &Photograph, about: Point, pixels: u16, step: f64, bytes: &SrgbBytes) -> ColorImage {
    let middle = photograph.kept_from_whole(about);
    let half = 0.5 * f64::from(pixels);
    let at = |column: u16, row: u16| {
        let from_middle = kurbo::Vec2::new(f64::from(column) + 0.5 - half, f64::from(row) + 0.5 - half);
        photograph.at(photograph.whole_from_kept(middle + step * from_middle))
    };
    let colour = |light: Option<[f32; 3]>| match light {
        Some(light) => {
            let [red, green, blue] = light.map(|channel| bytes.byte(channel));
            Color32::from_rgb(red, green, blue)
        }
        None => Color32::BLACK,
    };
    let rows = (0..pixels).flat_map(|row| (0..pixels).map(move |column| (column, row)));
    ColorImage::new([usize::from(pixels); 2], rows.map(|(column, row)| colour(at(column, row))).collect())
}

/// The view that shows all of a picture of so many kept pixels.
pub(super) fn fitting(kept: [usize; 2], area: Rect) -> View {
    let [width, height] = kept.map(|side| side as f64);
    View::fitting(kurbo::Rect::new(0.0, 0.0, width, height), area, false)
}

/// The longer side of the room that the enlarged part takes, points.
pub(super) fn inset_side(area: Rect) -> f32 {
    screen(f64::from(area.width().min(area.height())) * 0.36).clamp(90.0, 190.0)
}
