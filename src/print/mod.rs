//! What goes on paper: drawings true to size, sheets, tiling, strips; PDF, SVG and DXF.
