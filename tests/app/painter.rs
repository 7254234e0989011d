//! Paints the window's triangles into a picture, without a graphics card: the same on every machine.
//!
//! Colours are premultiplied sRGB and blend as the window's own shaders do it; a pixel is covered when its middle is. Textures are
//! read bilinearly, and end at their edges or go on from the other side.

#![allow(clippy::cast_possible_truncation, reason = "pixels are counted in whole numbers")]

use egui::epaint::{ImageDelta, Mesh, Primitive, Vertex};
use egui::{Color32, ColorImage, ImageData, Pos2, Rect, TextureId, TextureWrapMode, TexturesDelta, Vec2};
use egui_kittest::{Harness, TestRenderer};
use image::{Rgb, RgbImage};
use std::cell::RefCell;
use std::collections::HashMap;
use std::ops::Range;
use std::rc::Rc;

/// Keeps the textures that the window gives to the screen.
#[derive(Default, Clone)]
pub(crate) struct Painter(Rc<RefCell<Given>>);

#[derive(Default)]
struct Given {
    textures: HashMap<TextureId, Texture>,
    /// How many textures and parts of them were given.
    given: u64,
}

struct Texture {
    image: ColorImage,
    /// Whether it goes on from the other side beyond its edges.
    repeats: bool,
}

impl TestRenderer for Painter {
    fn handle_delta(&mut self, delta: &mut TexturesDelta) {
        let given = &mut *self.0.borrow_mut();
        delta.set.iter().for_each(|(id, deltas)| deltas.iter().for_each(|delta| given.take(*id, delta)));
        // What is freed may still be painted in this frame; its number is never given again.
        delta.clear();
    }
}

impl Given {
    fn take(&mut self, id: TextureId, delta: &ImageDelta) {
        self.given += 1;
        let ImageData::Color(image) = &delta.image;
        match (delta.pos, self.textures.get_mut(&id)) {
            (Some([left, top]), Some(whole)) => patch(&mut whole.image, image, left, top),
            _ => {
                let repeats = delta.options.wrap_mode == TextureWrapMode::Repeat;
                self.textures.insert(id, Texture { image: (**image).clone(), repeats });
            }
        }
    }
}

fn patch(whole: &mut ColorImage, part: &ColorImage, left: usize, top: usize) {
    for (row, pixels) in part.pixels.chunks(part.size[0]).enumerate() {
        let start = (top + row) * whole.size[0] + left;
        whole.pixels[start..start + pixels.len()].copy_from_slice(pixels);
    }
}

impl Painter {
    /// What is to be painted now, and how often a texture was given up to now: while neither changes, the picture stays.
    pub(crate) fn scene<State>(&self, window: &Harness<'_, State>) -> (Vec<(Rect, Mesh)>, u64) {
        let output = window.output();
        let clipped = window.ctx.tessellate(output.shapes.clone(), output.pixels_per_point);
        let meshes = clipped.into_iter().map(|clipped| match clipped.primitive {
            Primitive::Mesh(mesh) => (clipped.clip_rect, mesh),
            Primitive::Callback(_) => panic!("nothing is painted by a callback"),
        });
        (meshes.collect(), self.0.borrow().given)
    }

    /// A scene as it would stand on a screen of so many pixels, one for each point.
    pub(crate) fn picture(&self, meshes: &[(Rect, Mesh)], size: Vec2) -> RgbImage {
        let mut canvas = Canvas::new(size.x as usize, size.y as usize);
        let textures = &self.0.borrow().textures;
        for (clip, mesh) in meshes {
            let texture = textures.get(&mesh.texture_id).expect("a texture is given before it is painted");
            canvas.mesh(mesh, texture, *clip);
        }
        canvas.picture()
    }
}

/// Pixels being painted, premultiplied, 0 to 1.
struct Canvas {
    width: usize,
    height: usize,
    pixels: Vec<[f32; 3]>,
}

impl Canvas {
    fn new(width: usize, height: usize) -> Self {
        Self { width, height, pixels: vec![[0.0; 3]; width * height] }
    }

    fn mesh(&mut self, mesh: &Mesh, texture: &Texture, clip: Rect) {
        for corners in mesh.indices.chunks_exact(3) {
            self.triangle([0, 1, 2].map(|corner| mesh.vertices[corners[corner] as usize]), texture, clip);
        }
    }

    fn triangle(&mut self, [a, mut b, mut c]: [Vertex; 3], texture: &Texture, clip: Rect) {
        let mut area = cross(a.pos, b.pos, c.pos);
        if area == 0.0 {
            return;
        }
        if area < 0.0 {
            (b, c, area) = (c, b, -area);
        }
        let around = Rect::from_points(&[a.pos, b.pos, c.pos]).intersect(clip);
        // Much of a window is of one colour: that is worked out once.
        let flat =
            (a.color == b.color && b.color == c.color && a.uv == b.uv && b.uv == c.uv).then(|| colour(&[(a, 1.0)], texture));
        for y in middles(around.top(), around.bottom(), self.height) {
            for x in middles(around.left(), around.right(), self.width) {
                let middle = Pos2::new(x as f32 + 0.5, y as f32 + 0.5);
                let edges = [(b.pos, c.pos), (c.pos, a.pos), (a.pos, b.pos)];
                if let [Some(of_a), Some(of_b), Some(of_c)] = edges.map(|(from, to)| covered(from, to, middle)) {
                    let parts = [(a, of_a / area), (b, of_b / area), (c, of_c / area)];
                    self.blend(y * self.width + x, flat.unwrap_or_else(|| colour(&parts, texture)));
                }
            }
        }
    }

    fn blend(&mut self, pixel: usize, [red, green, blue, alpha]: [f32; 4]) {
        for (under, over) in self.pixels[pixel].iter_mut().zip([red, green, blue]) {
            *under = over + *under * (1.0 - alpha);
        }
    }

    fn picture(&self) -> RgbImage {
        let byte = |share: f32| (share.clamp(0.0, 1.0) * 255.0).round() as u8;
        RgbImage::from_fn(self.width as u32, self.height as u32, |x, y| {
            Rgb(self.pixels[y as usize * self.width + x as usize].map(byte))
        })
    }
}

/// The pixels, of so many, whose middles lie between two places, those on either end among them.
fn middles(from: f32, to: f32, most: usize) -> Range<usize> {
    let (first, last) = ((from - 0.5).ceil().max(0.0), (to - 0.5).floor());
    if last < first { 0..0 } else { (first as usize)..(last as usize + 1).min(most) }
}

fn cross(a: Pos2, b: Pos2, c: Pos2) -> f32 {
    (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)
}

/// Twice the area between an edge and a point, where the point lies inside; a point on an edge that two triangles share belongs to
/// one of them.
fn covered(from: Pos2, to: Pos2, point: Pos2) -> Option<f32> {
    let weight = cross(from, to, point);
    let owns_its_edge = to.y < from.y || (to.y == from.y && to.x > from.x);
    (weight > 0.0 || (weight == 0.0 && owns_its_edge)).then_some(weight)
}

fn colour(parts: &[(Vertex, f32)], texture: &Texture) -> [f32; 4] {
    let at = parts.iter().fold(Pos2::ZERO, |at, (vertex, share)| at + vertex.uv.to_vec2() * *share);
    let texel = texel(texture, at);
    std::array::from_fn(|channel| {
        let own: f32 = parts.iter().map(|(vertex, share)| f32::from(vertex.color[channel]) * share).sum();
        own / 255.0 * texel[channel]
    })
}

/// A texture's colour at a place from (0, 0) to (1, 1), between its pixels in proportion.
fn texel(Texture { image, repeats }: &Texture, at: Pos2) -> [f32; 4] {
    let [width, height] = image.size;
    let place = |share: f32, size: usize| {
        let at = share * size as f32 - 0.5;
        if *repeats {
            let at = at.rem_euclid(size as f32);
            return (at as usize % size, (at as usize + 1) % size, at.fract());
        }
        let at = at.clamp(0.0, (size - 1) as f32);
        (at as usize, (at as usize + 1).min(size - 1), at.fract())
    };
    let ((left, right, across), (top, bottom, down)) = (place(at.x, width), place(at.y, height));
    let pixel = |x: usize, y: usize, channel: usize| f32::from(image.pixels[y * width + x].to_array()[channel]) / 255.0;
    std::array::from_fn(|channel| {
        let row = |y| pixel(left, y, channel) * (1.0 - across) + pixel(right, y, channel) * across;
        row(top) * (1.0 - down) + row(bottom) * down
    })
}

fn white() -> Texture {
    Texture { image: ColorImage::filled([1, 1], Color32::WHITE), repeats: false }
}

/// Two triangles that share an edge cover each pixel once, half a grey over black is half of it, and what is clipped stays away.
#[test]
fn triangles_meet_without_a_seam() {
    let mut mesh = Mesh::default();
    mesh.add_colored_rect(
        Rect::from_min_max(Pos2::new(1.0, 1.0), Pos2::new(9.0, 5.0)),
        Color32::from_rgba_premultiplied(100, 60, 20, 128),
    );
    let white = white();
    let mut canvas = Canvas::new(10, 8);
    canvas.mesh(&mesh, &white, Rect::from_min_max(Pos2::ZERO, Pos2::new(8.0, 8.0)));
    for (x, y, pixel) in canvas.picture().enumerate_pixels() {
        let inside = (1..8).contains(&x) && (1..5).contains(&y);
        assert_eq!(pixel.0, if inside { [100, 60, 20] } else { [0; 3] }, "{x}, {y}");
    }
    canvas.mesh(&mesh, &white, Rect::EVERYTHING);
    // 100 + 100 (1 - 128/255) = 149.8
    assert_eq!(canvas.picture().get_pixel(3, 3).0, [150, 90, 30]);
}

/// A line as thin as a pixel has its middle on the edge that two triangles share: it used to be painted by neither.
#[test]
fn what_lies_on_an_edge_is_painted_once() {
    let vertex = |x: f32, y: f32, level: u8| Vertex {
        pos: Pos2::new(x, y),
        uv: Pos2::ZERO,
        color: Color32::from_rgba_premultiplied(level, level, level, level),
    };
    let mut mesh = Mesh::default();
    for (x, level) in [(1.5, 0), (2.5, 200), (3.5, 0)] {
        mesh.vertices.extend([vertex(x, 0.0, level), vertex(x, 4.0, level)]);
    }
    mesh.indices = vec![0, 1, 2, 1, 2, 3, 2, 3, 4, 3, 4, 5];
    let mut canvas = Canvas::new(5, 4);
    canvas.mesh(&mesh, &white(), Rect::EVERYTHING);
    for (x, _, pixel) in canvas.picture().enumerate_pixels() {
        assert_eq!(pixel.0, if x == 2 { [200; 3] } else { [0; 3] }, "{x}");
    }
}

/// Between black and white, a texture's middle is grey; beyond its edges nothing changes, or it goes on from the other side.
#[test]
fn a_texture_is_read_between_its_pixels() {
    let image = ColorImage::new([2, 1], vec![Color32::BLACK, Color32::WHITE]);
    let [ends, repeats] = [false, true].map(|repeats| Texture { image: image.clone(), repeats });
    for (at, grey) in [(0.0, 0.0), (0.25, 0.0), (0.5, 0.5), (0.625, 0.75), (1.0, 1.0), (1.25, 1.0)] {
        assert_eq!(texel(&ends, Pos2::new(at, 0.5)), [grey, grey, grey, 1.0], "{at}");
    }
    for (at, grey) in [(-0.25, 1.0), (0.25, 0.0), (0.625, 0.75), (0.75, 1.0), (1.0, 0.5), (7.25, 0.0)] {
        assert_eq!(texel(&repeats, Pos2::new(at, 0.5)), [grey, grey, grey, 1.0], "{at}");
    }
}
