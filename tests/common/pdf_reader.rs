//! Reads a PDF back with lopdf: boxes, labels, bookmarks, fonts, and the lengths of what is drawn.

use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object, ObjectId};

const MM_PER_PT: f64 = 25.4 / 72.0;

/// What a reader finds in a file.
pub(crate) struct PdfFile {
    pub(crate) pages: Vec<PdfPage>,
    pub(crate) print_scaling: Option<String>,
    pub(crate) title: Option<String>,
    pub(crate) creator: Option<String>,
    pub(crate) labels: Vec<String>,
    pub(crate) bookmarks: Vec<String>,
    pub(crate) embedded_fonts: usize,
}

/// One page: its box in PDF units and the paths drawn on it, in mm.
pub(crate) struct PdfPage {
    pub(crate) media_box: Vec<f64>,
    subpaths: Vec<Subpath>,
}

/// Points of a path; curves keep only their end points.
struct Subpath {
    points: Vec<(f64, f64)>,
    curves: usize,
}

impl PdfPage {
    /// Lengths of the metric bar and the customary bar: the two longest lines that lie 0.8 mm apart and start level.
    pub(crate) fn bars_mm(&self) -> (f64, f64) {
        let lines: Vec<[(f64, f64); 2]> = self.subpaths.iter().filter_map(Subpath::as_line).collect();
        for a in &lines {
            for b in &lines {
                let (start, apart) =
                    (distance(a[0], b[0]), (a[1].0 - a[0].0) * (b[0].1 - a[0].1) - (a[1].1 - a[0].1) * (b[0].0 - a[0].0));
                let (la, lb) = (distance(a[0], a[1]), distance(b[0], b[1]));
                let is_pair = (0.7..0.9).contains(&start) && apart.abs() > 0.6 * la;
                if is_pair && (95.0..105.0).contains(&la) && (lb / la - 1.016).abs() < 0.005 {
                    return (la, lb);
                }
            }
        }
        panic!("no measuring bars on the page");
    }
}

impl Subpath {
    fn is_closed(&self) -> bool {
        matches!((self.points.first(), self.points.last()), (Some(a), Some(b)) if distance(*a, *b) < 0.01)
    }

    /// Distances of its points from their mean: the radius, when they lie evenly on a circle.
    fn radii_mm(&self) -> Vec<f64> {
        let points = &self.points[1..];
        let count = points.len() as f64;
        let mean = points.iter().fold((0.0, 0.0), |m, p| (m.0 + p.0 / count, m.1 + p.1 / count));
        points.iter().map(|p| distance(*p, mean)).collect()
    }

    fn as_line(&self) -> Option<[(f64, f64); 2]> {
        match self.points[..] {
            [a, b] if self.curves == 0 => Some([a, b]),
            _ => None,
        }
    }
}

fn distance(a: (f64, f64), b: (f64, f64)) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

impl PdfFile {
    pub(crate) fn read(bytes: &[u8]) -> Self {
        let file = Document::load_mem(bytes).expect("lopdf reads the file");
        let catalog = file.catalog().expect("a catalog");
        let preferences = catalog.get(b"ViewerPreferences").and_then(Object::as_dict);
        let print_scaling = preferences.and_then(|p| p.get(b"PrintScaling")).and_then(Object::as_name).ok().map(text_of);
        let info = file.trailer.get(b"Info").and_then(Object::as_reference).and_then(|id| file.get_dictionary(id)).ok();
        let entry = |key: &[u8]| info.and_then(|i| i.get(key).ok()).and_then(string);
        Self {
            pages: file.page_iter().map(|id| page(&file, id)).collect(),
            print_scaling,
            title: entry(b"Title"),
            creator: entry(b"Creator"),
            labels: labels(&file, catalog),
            bookmarks: bookmarks(&file, catalog),
            embedded_fonts: file
                .objects
                .values()
                .filter_map(|o| o.as_dict().ok())
                .filter(|d| d.has(b"FontFile2") || d.has(b"FontFile3"))
                .count(),
        }
    }

    /// Radii in mm of full circles near `about_mm`, on all pages.
    pub(crate) fn circle_radii_mm(&self, about_mm: f64) -> Vec<f64> {
        let closed_curves = self.pages.iter().flat_map(|p| &p.subpaths).filter(|s| s.curves >= 4 && s.is_closed());
        closed_curves.flat_map(Subpath::radii_mm).filter(|radius| (radius - about_mm).abs() < 0.5).collect()
    }
}

fn text_of(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

fn string(object: &Object) -> Option<String> {
    let bytes = object.as_str().ok()?;
    if let Some(wide) = bytes.strip_prefix(&[0xFE, 0xFF]) {
        let units: Vec<u16> = wide.chunks_exact(2).map(|c| u16::from_be_bytes([c[0], c[1]])).collect();
        return String::from_utf16(&units).ok();
    }
    Some(text_of(bytes))
}

fn resolved<'a>(file: &'a Document, object: &'a Object) -> &'a Object {
    file.dereference(object).map_or(object, |(_, o)| o)
}

fn labels(file: &Document, catalog: &Dictionary) -> Vec<String> {
    let tree = resolved(file, catalog.get(b"PageLabels").expect("page labels")).as_dict().expect("a dictionary");
    let numbers = resolved(file, tree.get(b"Nums").expect("a flat tree")).as_array().expect("an array");
    let label = |o: &Object| resolved(file, o).as_dict().ok().and_then(|d| d.get(b"P").ok()).and_then(string);
    numbers.chunks_exact(2).filter_map(|pair| label(&pair[1])).collect()
}

fn bookmarks(file: &Document, catalog: &Dictionary) -> Vec<String> {
    let mut titles = Vec::new();
    let mut waiting: Vec<ObjectId> = catalog.get(b"Outlines").and_then(Object::as_reference).into_iter().collect();
    while let Some(id) = waiting.pop() {
        let node = file.get_dictionary(id).expect("a node");
        titles.extend(node.get(b"Title").ok().and_then(string));
        for key in [&b"Next"[..], b"First"] {
            waiting.extend(node.get(key).and_then(Object::as_reference));
        }
    }
    titles
}

fn number(object: &Object) -> f64 {
    f64::from(object.as_float().expect("a number"))
}

fn page(file: &Document, id: ObjectId) -> PdfPage {
    let dictionary = file.get_dictionary(id).expect("a page");
    let media_box = dictionary.get(b"MediaBox").and_then(Object::as_array).expect("a media box").iter().map(number).collect();
    let content = Content::decode(&file.get_page_content(id)).expect("operators");
    PdfPage { media_box, subpaths: subpaths(&content) }
}

/// Follows the path operators under the current transformation.
fn subpaths(content: &Content) -> Vec<Subpath> {
    let mut ctm = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];
    let mut saved = Vec::new();
    let mut subpaths: Vec<Subpath> = Vec::new();
    for operation in &content.operations {
        let n: Vec<f64> = operation.operands.iter().filter_map(|o| o.as_float().ok()).map(f64::from).collect();
        let at = |ctm: &[f64; 6], x: f64, y: f64| {
            ((ctm[0] * x + ctm[2] * y + ctm[4]) * MM_PER_PT, (ctm[1] * x + ctm[3] * y + ctm[5]) * MM_PER_PT)
        };
        match (operation.operator.as_str(), subpaths.last_mut()) {
            ("q", _) => saved.push(ctm),
            ("Q", _) => ctm = saved.pop().expect("q before Q"),
            ("cm", _) => ctm = concatenated(&[n[0], n[1], n[2], n[3], n[4], n[5]], &ctm),
            ("m", _) => subpaths.push(Subpath { points: vec![at(&ctm, n[0], n[1])], curves: 0 }),
            ("l", Some(subpath)) => subpath.points.push(at(&ctm, n[0], n[1])),
            ("c", Some(subpath)) => {
                subpath.points.push(at(&ctm, n[4], n[5]));
                subpath.curves += 1;
            }
            _ => {}
        }
    }
    subpaths
}

fn concatenated(a: &[f64; 6], b: &[f64; 6]) -> [f64; 6] {
    [
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    ]
}
