"""Writes drawings.dxf, one layer a line, with ezdxf, and drawings.csv with the length of each line in mm, by a reader that shares no
code with ours: ezdxf's entities, flattened within 0.00001 mm. Run in this folder: python3 drawings.py (needs ezdxf)."""

import math

import ezdxf

document = ezdxf.new("R2010")
document.units = ezdxf.units.MM
model = document.modelspace()


def on(layer):
    document.layers.add(layer)
    return {"layer": layer}


model.add_line((0, 0), (300, 400), on("line"))
model.add_arc((10, 10), 120, 30, 200, dxfattribs=on("arc"))
model.add_arc((10, 10), 120, 300, 20, dxfattribs=on("arc over 0"))
model.add_circle((0, 0), 150, on("circle"))
model.add_ellipse((5, 5), (200, 50), 0.4, 0.3, 4.0, dxfattribs=on("ellipse arc"))
model.add_ellipse((5, 5), (0, 90), 0.5, dxfattribs=on("ellipse"))
model.add_ellipse((5, 5), (200, 50), 0.4, 0.3, 4.0, dxfattribs=on("ellipse from below") | {"extrusion": (0, 0, -1)})
model.add_lwpolyline([(0, 0, 0.4), (50, 0, -0.3), (50, 80, 0)], format="xyb", close=True, dxfattribs=on("bulges"))
model.add_lwpolyline([(0, 0, 1), (100, 0, 0), (100, 50, -2.5), (0, 50, 0)], format="xyb", dxfattribs=on("round bulges"))
model.add_polyline2d([(0, 0, 0.5), (100, 0, 0), (100, 100, 0)], format="xyb", close=True, dxfattribs=on("old polyline"))
model.add_open_spline([(0, 0), (30, 90), (90, 30), (150, 120), (180, 0)], dxfattribs=on("spline"))
model.add_open_spline([(0, 0), (30, 90), (90, 30), (150, 120), (180, 0), (190, 9)], degree=5, dxfattribs=on("spline of degree 5"))
model.add_rational_spline([(0, 0), (30, 90), (90, 30), (150, 120), (180, 0)], [1, 2, 1, 3, 1], dxfattribs=on("weighted spline"))
block = document.blocks.new("PART", base_point=(10, 0))
block.add_lwpolyline([(0, 0), (40, 0, 0, 0, 0.7), (40, 30)], dxfattribs={"layer": "0"})
model.add_blockref("PART", (30, 30), on("block") | {"xscale": 2, "yscale": 2, "rotation": 30})
nested = document.blocks.new("NEST")
nested.add_blockref("PART", (5, 5), {"layer": "0", "xscale": 3, "yscale": -3})
model.add_blockref("NEST", (0, 0), on("block in a block") | {"rotation": 90})
model.add_text("words", dxfattribs=on("words"))

with open("drawings.csv", "w", newline="") as table:
    table.write("layer,length_mm,width_mm,height_mm\n")

    def simple(entity):
        """Its lines, arcs, ellipses and splines, out of blocks and polylines."""
        if entity.dxftype() in ("INSERT", "LWPOLYLINE", "POLYLINE"):
            return [part for inner in entity.virtual_entities() for part in simple(inner)]
        return [entity]

    def points(entity):
        if entity.dxftype() == "LINE":
            return [entity.dxf.start, entity.dxf.end]
        return list(entity.flattening(0.00001))

    for entity in model:
        if entity.dxftype() == "TEXT":
            continue
        parts = [[(p.x, p.y) for p in points(part)] for part in simple(entity)]
        length = sum(math.dist(a, b) for part in parts for a, b in zip(part, part[1:]))
        xs, ys = [x for part in parts for x, _ in part], [y for part in parts for _, y in part]
        table.write(f"{entity.dxf.layer},{length:.4f},{max(xs) - min(xs):.4f},{max(ys) - min(ys):.4f}\n")

document.saveas("drawings.dxf")
