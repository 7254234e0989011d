//! The icon's sizes, drawn from its one SVG.

use super::{place, remakes};
use std::fs;
use std::io::Cursor;
use usvg::tiny_skia_path::PathSegment;
use usvg::{Node, Paint, Tree};
use vello_cpu::kurbo::{Affine, BezPath, Point};
use vello_cpu::peniko::Color;
use vello_cpu::{Pixmap, RenderContext, Resources};

const SIZES: [u16; 7] = [16, 24, 32, 48, 64, 128, 256];

/// Greatest difference of a channel, of 255: renderers for other processors round otherwise.
const SAME: u8 = 2;

/// Straight RGBA of the icon, this broad and high.
fn drawn(size: u16) -> Vec<u8> {
    let svg = fs::read(place("packaging/icons/pleatwright.svg")).unwrap();
    let tree = Tree::from_data(&svg, &usvg::Options::default()).unwrap();
    let mut context = RenderContext::new(size, size);
    context.set_transform(Affine::scale(f64::from(size) / f64::from(tree.size().width())));
    for node in tree.root().children() {
        let Node::Path(path) = node else { panic!("the icon is made of filled paths alone") };
        let Some(Paint::Color(colour)) = path.fill().map(usvg::Fill::paint) else { panic!("one colour a path") };
        context.set_paint(Color::from_rgb8(colour.red, colour.green, colour.blue));
        context.fill_path(&outline(path.data().segments()));
    }
    let mut pixels = Pixmap::new(size, size);
    context.flush();
    context.render(&mut pixels, &mut Resources::new());
    pixels.take_unpremultiplied().iter().flat_map(|pixel| [pixel.r, pixel.g, pixel.b, pixel.a]).collect()
}

fn outline(segments: impl Iterator<Item = PathSegment>) -> BezPath {
    let point = |at: usvg::tiny_skia_path::Point| Point::new(f64::from(at.x), f64::from(at.y));
    let mut path = BezPath::new();
    for segment in segments {
        match segment {
            PathSegment::MoveTo(at) => path.move_to(point(at)),
            PathSegment::LineTo(at) => path.line_to(point(at)),
            PathSegment::QuadTo(a, at) => path.quad_to(point(a), point(at)),
            PathSegment::CubicTo(a, b, at) => path.curve_to(point(a), point(b), point(at)),
            PathSegment::Close => path.close_path(),
        }
    }
    path
}

fn written(size: u16, rgba: &[u8]) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, size.into(), size.into());
    encoder.set_color(png::ColorType::Rgba);
    encoder.set_compression(png::Compression::High);
    let mut writer = encoder.write_header().unwrap();
    writer.write_image_data(rgba).unwrap();
    writer.finish().unwrap();
    bytes
}

fn kept(size: u16) -> Vec<u8> {
    let bytes = fs::read(place(&format!("packaging/icons/{size}.png"))).unwrap();
    let mut reader = png::Decoder::new(Cursor::new(bytes)).read_info().unwrap();
    let mut rgba = vec![0; reader.output_buffer_size().unwrap()];
    let frame = reader.next_frame(&mut rgba).unwrap();
    assert_eq!((frame.width, frame.height, frame.color_type), (size.into(), size.into(), png::ColorType::Rgba));
    rgba
}

#[test]
fn reference_icons_are_drawn_from_the_one_picture() {
    for size in SIZES {
        let drawn = drawn(size);
        if remakes() {
            fs::write(place(&format!("packaging/icons/{size}.png")), written(size, &drawn)).unwrap();
        }
        // Where nothing shows, a colour says nothing.
        let seen = |rgba: &[u8]| -> Vec<u8> {
            rgba.chunks_exact(4).flat_map(|p| if p[3] < 8 { [0; 4] } else { [p[0], p[1], p[2], p[3]] }).collect()
        };
        let differs = seen(&drawn).iter().zip(&seen(&kept(size))).map(|(a, b)| a.abs_diff(*b)).max().unwrap();
        assert!(differs <= SAME, "{size}.png differs by {differs}; make it anew by PLEATWRIGHT_REMAKE=1 cargo test reference_");
    }
}

/// At the smallest size the fan is still seen: its three dyes and the dark bind between them stand apart from each other and from white and
/// black grounds.
#[test]
fn the_smallest_icon_still_shows_fan_dyes_and_bind() {
    let rgba = kept(16);
    let at = |x: usize, y: usize| -> [i32; 4] { std::array::from_fn(|channel| i32::from(rgba[(y * 16 + x) * 4 + channel])) };
    let covered = rgba.chunks_exact(4).filter(|pixel| pixel[3] > 128).count();
    assert!((70..180).contains(&covered), "{covered} of 256 pixels");
    let colours = [at(6, 4), at(7, 8), at(7, 11)];
    for (index, one) in colours.iter().enumerate() {
        assert!(one[3] > 150, "{one:?}");
        for other in &colours[index + 1..] {
            let apart: i32 = (0..3).map(|channel| (one[channel] - other[channel]).abs()).sum();
            assert!(apart > 90, "{one:?} and {other:?}");
        }
    }
}
