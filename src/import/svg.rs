//! What an SVG file draws: `usvg` follows groups, transforms, styles, `use` and view boxes, and makes paths of every shape.

use super::error::ImportError;
use super::limits::MOST_SEGMENTS;
use super::raw::{RawDrawing, RawLine};
use super::unit::FileUnit;
use kurbo::{Affine, BezPath, PathEl, Point};
use std::collections::HashMap;
use usvg::roxmltree::{self, Document, ParsingOptions};
use usvg::tiny_skia_path::{PathSegment, Point as SkiaPoint};
use usvg::{Group, ImageHrefResolver, Node, Options, Transform, Tree};

/// Most elements, attributes and texts of a file: as many elements as `usvg` takes.
const MOST_NODES: u32 = 1_000_000;
/// Units that say on their own what a width measures (SVG 1.1, section 7.10).
const PHYSICAL: [&str; 6] = ["mm", "cm", "in", "pt", "pc", "px"];
/// What starts a gzip file (RFC 1952).
const GZIP: [u8; 2] = [0x1f, 0x8b];

/// Its lines in pixels, 96 to the inch, where its width or height has a physical unit; else in the numbers of these.
pub(super) fn read(bytes: &[u8]) -> Result<RawDrawing, ImportError> {
    if bytes.starts_with(&GZIP) {
        return Err(ImportError::Compressed);
    }
    let text = str::from_utf8(bytes).map_err(|_error| ImportError::NotText)?;
    let options = ParsingOptions { allow_dtd: true, nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text.trim_start_matches('\u{feff}'), options).map_err(|error| not_xml(&error))?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        return Err(ImportError::NotSvg { root: root.tag_name().name().to_owned() });
    }
    let tree = Tree::from_xmltree(&document, &alone()).map_err(refused)?;
    let labels = labels(&document);
    let mut found = Found { labels: &labels, lines: Vec::new(), segments: 0 };
    found.group(tree.root(), None)?;
    let is_known = ["width", "height"].into_iter().filter_map(|name| root.attribute(name)).any(is_physical);
    Ok(RawDrawing {
        lines: found.lines,
        unit_mm: is_known.then(|| FileUnit::Pixel.in_mm()),
        has_text: root.descendants().any(|node| node.tag_name().name() == "text"),
    })
}

/// Nothing else than the file is looked at.
fn alone() -> Options<'static> {
    let none = ImageHrefResolver { resolve_data: Box::new(|_, _, _| None), resolve_string: Box::new(|_, _| None) };
    Options { image_href_resolver: none, ..Options::default() }
}

fn is_physical(length: &str) -> bool {
    let length = length.trim();
    PHYSICAL.into_iter().any(|unit| length.ends_with(unit))
}

fn not_xml(error: &roxmltree::Error) -> ImportError {
    match error {
        roxmltree::Error::NodesLimitReached => ImportError::TooManySegments,
        error => ImportError::NotXml { line: error.pos().row },
    }
}

fn refused(error: usvg::Error) -> ImportError {
    match error {
        usvg::Error::NotAnUtf8Str => ImportError::NotText,
        usvg::Error::SvgzFeatureNotEnabled | usvg::Error::MalformedGZip => ImportError::Compressed,
        usvg::Error::ElementsLimitReached => ImportError::TooManySegments,
        usvg::Error::InvalidSize => ImportError::NoArea,
        usvg::Error::ParsingFailed(error) => not_xml(&error),
    }
}

/// What the elements that have an id are called for people, by their ids: drawing programs keep a label of their own beside it.
fn labels(document: &Document<'_>) -> HashMap<String, String> {
    let label = |node: roxmltree::Node<'_, '_>| {
        let id = node.attribute("id")?.to_owned();
        let label = node.attributes().find(|attribute| attribute.name() == "label" && attribute.namespace().is_some())?;
        Some((id, label.value().to_owned()))
    };
    document.descendants().filter_map(label).collect()
}

struct Found<'a> {
    labels: &'a HashMap<String, String>,
    lines: Vec<RawLine>,
    segments: usize,
}

impl Found<'_> {
    /// Takes what a group holds; `layer` is the name of the nearest group that has one.
    fn group(&mut self, group: &Group, layer: Option<&str>) -> Result<(), ImportError> {
        let own = self.name(group.id());
        let layer = own.as_deref().or(layer);
        for node in group.children() {
            match node {
                Node::Group(group) => self.group(group, layer)?,
                Node::Path(path) if path.is_visible() => self.path(path, layer)?,
                Node::Path(_) | Node::Image(_) | Node::Text(_) => {}
            }
        }
        Ok(())
    }

    fn path(&mut self, path: &usvg::Path, layer: Option<&str>) -> Result<(), ImportError> {
        self.segments += path.data().len();
        if self.segments > MOST_SEGMENTS {
            return Err(ImportError::TooManySegments);
        }
        let drawn = affine(path.abs_transform()) * bez_path(path.data());
        let line = |part: &[PathEl]| RawLine {
            name: self.name(path.id()),
            layer: layer.map(str::to_owned),
            path: BezPath::from_vec(part.to_vec()),
        };
        let lines: Vec<RawLine> = drawn.subpaths().filter(|part| part.len() > 1).map(line).collect();
        self.lines.extend(lines);
        Ok(())
    }

    fn name(&self, id: &str) -> Option<String> {
        (!id.is_empty()).then(|| self.labels.get(id).cloned().unwrap_or_else(|| id.to_owned()))
    }
}

fn affine(t: Transform) -> Affine {
    Affine::new([t.sx, t.ky, t.kx, t.sy, t.tx, t.ty].map(f64::from))
}

fn bez_path(data: &usvg::tiny_skia_path::Path) -> BezPath {
    let point = |p: SkiaPoint| Point::new(f64::from(p.x), f64::from(p.y));
    let element = |segment| match segment {
        PathSegment::MoveTo(p) => PathEl::MoveTo(point(p)),
        PathSegment::LineTo(p) => PathEl::LineTo(point(p)),
        PathSegment::QuadTo(a, p) => PathEl::QuadTo(point(a), point(p)),
        PathSegment::CubicTo(a, b, p) => PathEl::CurveTo(point(a), point(b), point(p)),
        PathSegment::Close => PathEl::ClosePath,
    };
    data.segments().map(element).collect()
}
