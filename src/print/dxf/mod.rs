//! The DXF writer: one file in mm, `y` up, for cutters and drawing programs. No tiling.
//!
//! ASCII DXF of release AC1015, written after the public DXF reference: tables, blocks, entities, objects, each with its handle. Fixed
//! order, no dates, no identifiers by chance. Circles and arcs stay what they are, curves become cubic splines with the same control
//! points, words become TEXT with their capital height. Solid shapes are written as their edge.

mod entities;
mod tags;

use kurbo::Point;

use super::drawing::Drawing;
use super::error::PrintError;
use super::style::{Layer, LayerNames};
use entities::entity;
use tags::{
    BLOCK_TABLE, BOLD, GROUP_DICTIONARY, LAYER_TABLE, LINE_TYPE_TABLE, MODEL_SPACE, PAPER_SPACE, REGULAR, ROOT_DICTIONARY,
    STYLE_TABLE, Tags,
};

/// Drawing units of the file: 4 is mm (DXF reference, `$INSUNITS`).
const UNITS_MM: i32 = 4;

/// Writes a drawing as DXF. The point (x, y) of the drawing becomes (x, -y).
///
/// # Errors
/// [`PrintError::EmptyDrawing`] or [`PrintError::NotFinite`].
pub fn write_dxf(drawing: &Drawing) -> Result<String, PrintError> {
    drawing.check()?;
    let mut tags = Tags::of(drawing.names);
    // The header names the next free handle, so it is written last and put first.
    tables(&mut tags);
    blocks(&mut tags);
    tags.section("ENTITIES");
    for item in drawing.painted() {
        entity(&mut tags, &item);
    }
    tags.end_section();
    objects(&mut tags);
    let mut head = Tags::of(drawing.names);
    header(&mut head, drawing, tags.next_handle);
    Ok(head.text + &tags.text + "  0\nEOF\n")
}

fn header(tags: &mut Tags, drawing: &Drawing, next_handle: u32) {
    let b = drawing.bounds;
    tags.section("HEADER");
    let variable = |tags: &mut Tags, name: &str| tags.put(9, name);
    variable(tags, "$ACADVER");
    tags.put(1, "AC1015");
    variable(tags, "$DWGCODEPAGE");
    tags.put(3, "ANSI_1252");
    variable(tags, "$INSUNITS");
    tags.put(70, UNITS_MM);
    variable(tags, "$MEASUREMENT");
    tags.put(70, 1);
    variable(tags, "$EXTMIN");
    tags.point(10, Point::new(b.x0, b.y1));
    variable(tags, "$EXTMAX");
    tags.point(10, Point::new(b.x1, b.y0));
    variable(tags, "$HANDSEED");
    tags.handle(next_handle);
    tags.end_section();
}

fn tables(tags: &mut Tags) {
    tags.section("TABLES");
    empty_table(tags, "VPORT", 0x9);
    line_types(tags);
    layers(tags);
    text_styles(tags);
    empty_table(tags, "VIEW", 0xA);
    empty_table(tags, "UCS", 0xB);
    tags.table("APPID", 0xC, 1);
    tags.record("APPID", 0xC, "AcDbRegAppTableRecord");
    tags.put(2, "ACAD");
    tags.put(70, 0);
    tags.put(0, "ENDTAB");
    tags.table("DIMSTYLE", 0xD, 0);
    tags.put(100, "AcDbDimStyleTable");
    tags.put(71, 0);
    tags.put(0, "ENDTAB");
    tags.table("BLOCK_RECORD", BLOCK_TABLE, 2);
    for (name, handle) in [("*Model_Space", MODEL_SPACE), ("*Paper_Space", PAPER_SPACE)] {
        tags.put(0, "BLOCK_RECORD");
        tags.handle(handle);
        tags.record_body(BLOCK_TABLE, "AcDbBlockTableRecord");
        tags.put(2, name);
    }
    tags.put(0, "ENDTAB");
    tags.end_section();
}

fn empty_table(tags: &mut Tags, name: &str, handle: u32) {
    tags.table(name, handle, 0);
    tags.put(0, "ENDTAB");
}

fn line_type_name(names: LayerNames, layer: Layer) -> &'static str {
    if layer.style().dash_mm.is_empty() { "Continuous" } else { names.of(layer) }
}

fn line_types(tags: &mut Tags) {
    let dashed: Vec<Layer> = Layer::ALL.into_iter().filter(|l| !l.style().dash_mm.is_empty()).collect();
    tags.table("LTYPE", LINE_TYPE_TABLE, dashed.len() + 3);
    let full = [("ByBlock", ""), ("ByLayer", ""), ("Continuous", "Solid line")].map(|(name, text)| (name, text, &[][..]));
    let names = tags.names;
    let dashed = dashed.into_iter().map(|l| (names.of(l), names.of(l), l.style().dash_mm));
    for (name, description, dash_mm) in full.into_iter().chain(dashed) {
        tags.record("LTYPE", LINE_TYPE_TABLE, "AcDbLinetypeTableRecord");
        tags.put(2, name);
        tags.put(70, 0);
        tags.put(3, description);
        tags.put(72, 65);
        tags.put(73, dash_mm.len());
        tags.real(40, dash_mm.iter().sum());
        for (index, mm) in dash_mm.iter().enumerate() {
            // Gaps are negative.
            tags.real(49, if index % 2 == 0 { *mm } else { -mm });
            tags.put(74, 0);
        }
    }
    tags.put(0, "ENDTAB");
}

fn layers(tags: &mut Tags) {
    tags.table("LAYER", LAYER_TABLE, Layer::ALL.len() + 1);
    let zero = ("0", 7, "Continuous", 25);
    let names = tags.names;
    let ours = Layer::ALL.map(|l| (names.of(l), l.style().dxf_colour, line_type_name(names, l), line_weight(l)));
    for (name, colour, line_type, weight) in [zero].into_iter().chain(ours) {
        tags.record("LAYER", LAYER_TABLE, "AcDbLayerTableRecord");
        tags.put(2, name);
        tags.put(70, 0);
        tags.put(62, colour);
        tags.put(6, line_type);
        tags.put(370, weight);
    }
    tags.put(0, "ENDTAB");
}

/// Stroke width in hundredths of a mm.
#[expect(clippy::cast_possible_truncation, reason = "widths in the style table are below a mm")]
fn line_weight(layer: Layer) -> i32 {
    (layer.style().width_mm * 100.0).round() as i32
}

fn text_styles(tags: &mut Tags) {
    tags.table("STYLE", STYLE_TABLE, 2);
    for (name, file) in [(REGULAR, "arial.ttf"), (BOLD, "arialbd.ttf")] {
        tags.record("STYLE", STYLE_TABLE, "AcDbTextStyleTableRecord");
        tags.put(2, name);
        tags.put(70, 0);
        tags.real(40, 0.0);
        tags.real(41, 1.0);
        tags.real(50, 0.0);
        tags.put(71, 0);
        tags.real(42, 2.5);
        tags.put(3, file);
        tags.put(4, "");
    }
    tags.put(0, "ENDTAB");
}

fn blocks(tags: &mut Tags) {
    tags.section("BLOCKS");
    for (name, record) in [("*Model_Space", MODEL_SPACE), ("*Paper_Space", PAPER_SPACE)] {
        for (kind, class) in [("BLOCK", "AcDbBlockBegin"), ("ENDBLK", "AcDbBlockEnd")] {
            tags.put(0, kind);
            tags.new_handle();
            tags.owner(record);
            tags.put(100, "AcDbEntity");
            tags.put(8, "0");
            tags.put(100, class);
            if kind == "BLOCK" {
                tags.put(2, name);
                tags.put(70, 0);
                tags.point(10, Point::ZERO);
                tags.put(3, name);
                tags.put(1, "");
            }
        }
    }
    tags.end_section();
}

fn objects(tags: &mut Tags) {
    tags.section("OBJECTS");
    for (handle, owner, entry) in
        [(ROOT_DICTIONARY, 0, Some(("ACAD_GROUP", GROUP_DICTIONARY))), (GROUP_DICTIONARY, ROOT_DICTIONARY, None)]
    {
        tags.put(0, "DICTIONARY");
        tags.handle(handle);
        tags.owner(owner);
        tags.put(100, "AcDbDictionary");
        tags.put(281, 1);
        if let Some((name, handle)) = entry {
            tags.put(3, name);
            tags.put(350, format_args!("{handle:X}"));
        }
    }
    tags.end_section();
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stroke_widths_are_ones_that_the_format_knows() {
        // Published: DXF reference, group code 370.
        let known = [0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211];
        for layer in Layer::ALL {
            assert!(known.contains(&line_weight(layer)), "{layer:?}");
        }
    }
}
