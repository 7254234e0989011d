//! The SVG writer: one file, true to size, plain SVG 1.1. No tiling.

use std::fmt::Write as _;

use kurbo::{BezPath, PathEl, Point};

use super::drawing::{Drawing, Item};
use super::error::PrintError;
use super::font::{Face, em_mm, family};
use super::image::{Image, base64};
use super::shape::{Anchor, Arc, Shape, Text};
use super::style::Style;

/// Writes a drawing as SVG: width and height in mm, one user unit per mm, one group per layer, arcs as arcs, words as text.
///
/// # Errors
/// [`PrintError::EmptyDrawing`] or [`PrintError::NotFinite`].
pub fn write_svg(drawing: &Drawing) -> Result<String, PrintError> {
    drawing.check()?;
    let b = drawing.bounds;
    let mut out = String::new();
    let (x, y, w, h) = (Mm(b.x0), Mm(b.y0), Mm(b.width()), Mm(b.height()));
    out.push_str("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    line(
        &mut out,
        format_args!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"{x} {y} {w} {h}\">"
        ),
    );
    line(&mut out, format_args!("  <title>{}</title>", escaped(&drawing.title)));
    let items = drawing.painted();
    for group in items.chunk_by(|a, b| a.layer == b.layer) {
        if let Some(first) = group.first() {
            write_layer(&mut out, drawing.names.of(first.layer), first.layer.style(), group);
        }
    }
    out.push_str("</svg>\n");
    Ok(out)
}

/// Writes one line. Writing to a string can't fail.
fn line(out: &mut String, arguments: std::fmt::Arguments<'_>) {
    out.write_fmt(arguments).expect("a string takes all that is written");
    out.push('\n');
}

fn write_layer(out: &mut String, name: &str, style: Style, items: &[Item]) {
    let dash: Vec<String> = style.dash_mm.iter().map(|mm| Mm(*mm).to_string()).collect();
    let dash = if dash.is_empty() { String::new() } else { format!(" stroke-dasharray=\"{}\"", dash.join(" ")) };
    let grey = format!("#{0:02x}{0:02x}{0:02x}", style.grey);
    let width = Mm(style.width_mm);
    line(
        out,
        format_args!(
            "  <g id=\"{name}\" fill=\"none\" stroke=\"{grey}\" stroke-width=\"{width}\" stroke-linejoin=\"round\"{dash}>"
        ),
    );
    for item in items {
        write_shape(out, &item.shape, &grey);
    }
    out.push_str("  </g>\n");
}

fn write_shape(out: &mut String, shape: &Shape, grey: &str) {
    match shape {
        Shape::Line(l) => {
            let (x1, y1, x2, y2) = (Mm(l.p0.x), Mm(l.p0.y), Mm(l.p1.x), Mm(l.p1.y));
            line(out, format_args!("    <line x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\"/>"));
        }
        Shape::Path(path) => line(out, format_args!("    <path d=\"{}\"/>", path_data(path))),
        Shape::Circle(c) => {
            line(out, format_args!("    <circle cx=\"{}\" cy=\"{}\" r=\"{}\"/>", Mm(c.center.x), Mm(c.center.y), Mm(c.radius)));
        }
        Shape::Arc(arc) => line(out, format_args!("    <path d=\"{}\"/>", arc_data(arc))),
        Shape::Dots(dots) => {
            for c in &dots.centers {
                let (x, y, r) = (Mm(c.x), Mm(c.y), Mm(dots.radius_mm));
                line(out, format_args!("    <circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\" fill=\"{grey}\" stroke=\"none\"/>"));
            }
        }
        Shape::Solid(path) => {
            let data = path_data(path);
            line(out, format_args!("    <path d=\"{data}\" fill=\"{grey}\" fill-rule=\"evenodd\" stroke=\"none\"/>"));
        }
        Shape::Text(text) => write_text(out, text, grey),
        Shape::Image(image) => write_image(out, image),
        Shape::Area { .. } => {}
    }
}

/// A picture with its pixels in the file.
fn write_image(out: &mut String, image: &Image) {
    // A picture that can't be written is left out; its edge is no loss either.
    let Ok(png) = image.pixels.png() else { return };
    let [a, b, c, d, x, y] = image.drawing_from_unit.as_coeffs();
    let data = base64(&png);
    line(
        out,
        format_args!(
            "    <image width=\"1\" height=\"1\" preserveAspectRatio=\"none\" transform=\"matrix({a} {b} {c} {d} {x} {y})\" \
             href=\"data:image/png;base64,{data}\"/>"
        ),
    );
}

fn write_text(out: &mut String, text: &Text, grey: &str) {
    let (x, y) = (Mm(text.position.x), Mm(text.position.y));
    let size = Mm(em_mm(text.face, text.cap_height_mm));
    let anchor = match text.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let weight = if text.face == Face::Bold { "bold" } else { "normal" };
    let slant = if text.face == Face::Italic { " font-style=\"italic\"" } else { "" };
    let family = family(text.face);
    let turn = match text.rotation_rad {
        0.0 => String::new(),
        rad => format!(" transform=\"rotate({} {x} {y})\"", Mm(rad.to_degrees())),
    };
    let words = escaped(&text.text);
    line(
        out,
        format_args!(
            "    <text x=\"{x}\" y=\"{y}\" font-family=\"{family}, Arial, Helvetica, sans-serif\" font-size=\"{size}\" \
             font-weight=\"{weight}\"{slant} text-anchor=\"{anchor}\" fill=\"{grey}\" stroke=\"none\"{turn}>{words}</text>"
        ),
    );
}

/// A number with at most four decimals and no trailing zeros: a ten-thousandth of a mm.
#[derive(Clone, Copy)]
struct Mm(f64);

impl std::fmt::Display for Mm {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let text = format!("{:.4}", self.0);
        let text = text.trim_end_matches('0').trim_end_matches('.');
        f.write_str(if text == "-0" { "0" } else { text })
    }
}

fn pair(p: Point) -> String {
    format!("{} {}", Mm(p.x), Mm(p.y))
}

fn path_data(path: &BezPath) -> String {
    let element = |el: PathEl| match el {
        PathEl::MoveTo(p) => format!("M{}", pair(p)),
        PathEl::LineTo(p) => format!("L{}", pair(p)),
        PathEl::QuadTo(c, p) => format!("Q{} {}", pair(c), pair(p)),
        PathEl::CurveTo(c, d, p) => format!("C{} {} {}", pair(c), pair(d), pair(p)),
        PathEl::ClosePath => "Z".to_owned(),
    };
    path.iter().map(element).collect()
}

/// Largest sweep of one SVG arc: beyond half a turn its ends no longer say which way it bulges, near a full turn not even where.
const LARGEST_SWEEP_RAD: f64 = std::f64::consts::PI * 0.95;

fn arc_data(arc: &Arc) -> String {
    let pieces = (arc.sweep_rad.abs() / LARGEST_SWEEP_RAD).ceil().max(1.0);
    let clockwise = u8::from(arc.sweep_rad > 0.0);
    let mut data = format!("M{}", pair(arc.point_at(0.0)));
    let mut k = 1.0;
    while k <= pieces {
        data += &format!("A{r} {r} 0 0 {clockwise} {}", pair(arc.point_at(k / pieces)), r = Mm(arc.radius_mm));
        k += 1.0;
    }
    data
}

/// Text with the characters that XML keeps for itself replaced, and those it forbids left out.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => {}
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short() {
        assert_eq!([0.0, -0.00001, 12.5, 100.0, 0.12345].map(|n| Mm(n).to_string()), ["0", "0", "12.5", "100", "0.1235"]);
    }

    #[test]
    fn words_can_hold_anything() {
        assert_eq!(escaped("a<b & \"c\"\u{0}"), "a&lt;b &amp; &quot;c&quot;");
    }
}
