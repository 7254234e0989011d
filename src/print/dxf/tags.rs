//! Pairs of group code and value, and the handles by which the parts of a DXF name each other.

use std::fmt::Write as _;

use kurbo::Point;

use crate::print::style::LayerNames;

/// Name of the style of regular words.
pub(super) const REGULAR: &str = "Standard";
/// Name of the style of bold words.
pub(super) const BOLD: &str = "Bold";

/// Handles that others point to. Below [`FIRST_FREE`].
pub(super) const MODEL_SPACE: u32 = 0x1;
pub(super) const PAPER_SPACE: u32 = 0x2;
pub(super) const ROOT_DICTIONARY: u32 = 0x3;
pub(super) const GROUP_DICTIONARY: u32 = 0x4;
pub(super) const BLOCK_TABLE: u32 = 0x5;
pub(super) const LAYER_TABLE: u32 = 0x6;
pub(super) const LINE_TYPE_TABLE: u32 = 0x7;
pub(super) const STYLE_TABLE: u32 = 0x8;
pub(super) const FIRST_FREE: u32 = 0x20;

/// Pairs of group code and value.
pub(super) struct Tags {
    pub(super) text: String,
    pub(super) next_handle: u32,
    pub(super) names: LayerNames,
}

impl Tags {
    /// No pairs yet; layers are called by these names.
    pub(super) fn of(names: LayerNames) -> Self {
        Self { text: String::new(), next_handle: FIRST_FREE, names }
    }

    pub(super) fn put(&mut self, code: u16, value: impl std::fmt::Display) {
        writeln!(self.text, "{code:>3}\n{value}").expect("a string takes all that is written");
    }

    pub(super) fn real(&mut self, code: u16, value: f64) {
        let text = format!("{value:.6}");
        let text = text.trim_end_matches('0');
        let text = if text.ends_with('.') { format!("{text}0") } else { text.to_owned() };
        self.put(code, if text == "-0.0" { "0.0" } else { &text });
    }

    /// A point at the codes `x`, `x + 10`, `x + 20`, turned upright.
    pub(super) fn point(&mut self, x_code: u16, p: Point) {
        self.real(x_code, p.x);
        self.real(x_code + 10, -p.y);
        self.real(x_code + 20, 0.0);
    }

    pub(super) fn handle(&mut self, handle: u32) {
        self.put(5, format_args!("{handle:X}"));
    }

    pub(super) fn new_handle(&mut self) {
        let handle = self.next_handle;
        self.next_handle += 1;
        self.handle(handle);
    }

    pub(super) fn owner(&mut self, handle: u32) {
        self.put(330, format_args!("{handle:X}"));
    }

    pub(super) fn section(&mut self, name: &str) {
        self.put(0, "SECTION");
        self.put(2, name);
    }

    pub(super) fn end_section(&mut self) {
        self.put(0, "ENDSEC");
    }

    pub(super) fn table(&mut self, name: &str, handle: u32, entries: usize) {
        self.put(0, "TABLE");
        self.put(2, name);
        self.handle(handle);
        self.owner(0);
        self.put(100, "AcDbSymbolTable");
        self.put(70, entries);
    }

    pub(super) fn record(&mut self, kind: &str, owner: u32, class: &str) {
        self.put(0, kind);
        self.new_handle();
        self.record_body(owner, class);
    }

    pub(super) fn record_body(&mut self, owner: u32, class: &str) {
        self.owner(owner);
        self.put(100, "AcDbSymbolTableRecord");
        self.put(100, class);
    }
}
