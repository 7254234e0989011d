//! DXF files.

use crate::common::rows;
use crate::{assert_close, bounds, dxf};
use pleatwright::import::{DrawingFormat, FileUnit, FoundLine, ImportError, read_lines};
use std::f64::consts::PI;

/// Entities written by the library `ezdxf`, with the lengths and sizes that it flattens them to: `tests/reference/drawings.py`.
#[test]
fn every_entity_is_as_another_library_has_it() {
    let text = include_bytes!("../reference/drawings.dxf");
    let lines = read_lines(text, DrawingFormat::Dxf, None).unwrap();
    let table = rows("drawings.csv");
    assert_eq!(lines.len(), table.len(), "{:?}", lines.iter().map(FoundLine::brief).collect::<Vec<_>>());
    for row in &table {
        let line = lines.iter().find(|line| line.layer.as_deref() == Some(row[0].as_str())).unwrap();
        let [length, width, height] = [1, 2, 3].map(|column| row[column].parse::<f64>().unwrap());
        assert_close!(line.length_mm, length, 0.05, "{}", row[0]);
        assert_close!(bounds(line).width(), width, 0.05, "{}", row[0]);
        assert_close!(bounds(line).height(), height, 0.05, "{}", row[0]);
    }
    let closed: Vec<&str> = lines.iter().filter(|line| line.is_closed).filter_map(|line| line.layer.as_deref()).collect();
    assert_eq!(closed, ["circle", "ellipse", "bulges", "old polyline"]);
}

fn file(unit: &str, entities: &str) -> String {
    format!(
        "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n{unit}\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entities}\n0\nENDSEC\n0\nEOF\n"
    )
}

/// Source: DXF reference, `bulge`: the tangent of a quarter of the arc's angle, from start to end counterclockwise where it is above 0; 1 is
/// a half circle. `y` is up in the file and down here.
#[test]
fn a_bulge_is_the_tangent_of_a_quarter_of_the_angle() {
    for angle in [0.1, 0.5, 1.0, PI / 2.0, PI, 1.5 * PI, -1.0, -PI] {
        let bulge = (angle / 4.0_f64).tan();
        let entity = format!("0\nLWPOLYLINE\n8\ncut\n90\n2\n70\n0\n10\n0\n20\n0\n42\n{bulge}\n10\n100\n20\n0");
        let lines = dxf(&file("4", &entity)).unwrap();
        let radius = 50.0 / (angle.abs() / 2.0).sin();
        assert_close!(lines[0].length_mm, radius * angle.abs(), 0.02, "{angle}");
        // Counterclockwise from left to right it hangs below the chord.
        let sagitta = radius * (1.0 - (angle / 2.0).cos());
        let box_of = bounds(&lines[0]);
        let below = if angle > 0.0 { box_of.y1 } else { -box_of.y0 };
        assert_close!(below, sagitta, 0.02, "{angle}");
    }
}

/// Source: DXF reference, `$INSUNITS`.
#[test]
fn drawing_units_are_the_published_ones() {
    let line = "0\nLINE\n10\n0\n20\n0\n11\n2\n21\n0";
    for (code, mm) in [("1", 25.4), ("2", 304.8), ("4", 1.0), ("5", 10.0), ("6", 1000.0), ("10", 914.4), ("14", 100.0)] {
        let lines = read_lines(file(code, line).as_bytes(), DrawingFormat::Dxf, None).unwrap();
        assert_close!(lines[0].length_mm, 2.0 * mm, 1e-6, "{code}");
    }
    for unknown in ["0", "18", "99"] {
        let text = file(unknown, line);
        assert_eq!(
            read_lines(text.as_bytes(), DrawingFormat::Dxf, None).unwrap_err(),
            ImportError::UnknownUnit { size: [2.0, 0.0] },
        );
        let lines = read_lines(text.as_bytes(), DrawingFormat::Dxf, Some(FileUnit::Inch)).unwrap();
        assert_close!(lines[0].length_mm, 50.8, 1e-9);
    }
    // A list of entities alone is a DXF file too.
    let bare = format!("0\nSECTION\n2\nENTITIES\n{line}\n0\nENDSEC\n0\nEOF\n");
    assert!(matches!(read_lines(bare.as_bytes(), DrawingFormat::Dxf, None), Err(ImportError::UnknownUnit { .. })));
}

/// Blocks that hold themselves end; blocks that hold each other many times over are refused before they take all memory.
#[test]
fn blocks_in_blocks_end() {
    let block = |name: &str, inside: &str| format!("0\nBLOCK\n2\n{name}\n10\n0\n20\n0\n{inside}\n0\nENDBLK\n");
    let insert = |name: &str| format!("0\nINSERT\n2\n{name}\n10\n1\n20\n1\n");
    let drawing = |blocks: &str| {
        format!("0\nSECTION\n2\nBLOCKS\n{blocks}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{}0\nENDSEC\n0\nEOF\n", insert("A"))
    };
    let line = "0\nLINE\n10\n0\n20\n0\n11\n9\n21\n0\n";
    let itself = drawing(&block("A", format!("{line}{}", insert("A")).trim_end()));
    assert!(dxf(&itself).unwrap().len() > 1);
    let many: String = ('A'..='P')
        .map(|name| block(&name.to_string(), insert(&char::from(name as u8 + 1).to_string()).repeat(9).trim_end()))
        .collect();
    assert_eq!(dxf(&drawing(&(many + &block("Q", line.trim_end())))).unwrap_err(), ImportError::TooManySegments);
}
