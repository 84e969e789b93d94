"""Measures outlines with GEOS (through shapely) and Clipper (through pyclipper).

Reads one JSON object from standard input and writes one to standard output.
Lengths are mm. Every outline is a closed polygon whose first point is not
repeated.
"""

import json
import sys

import pyclipper
from shapely.geometry import LineString, Polygon
from shapely.ops import polygonize, unary_union
from shapely.validation import explain_validity

# Clipper works on integers: these many to the mm. With a thousandth of it the
# short chords at the ends of curves point up to a thousandth of a radian aside.
GRID = 1e9
# As far as the pattern's own corners run out, in widths.
MITRE_LIMIT = 4.0


def grid(points):
    return [(round(x * GRID), round(y * GRID)) for x, y in points]


def clipper_offset(points, width):
    """The outermost loop of the mitred offset."""
    offset = pyclipper.PyclipperOffset(MITRE_LIMIT)
    offset.AddPath(grid(points), pyclipper.JT_MITER, pyclipper.ET_CLOSEDPOLYGON)
    loops = offset.Execute(width * GRID)
    best = max(loops, key=lambda loop: abs(pyclipper.Area(loop)))
    return Polygon([(x / GRID, y / GRID) for x, y in best])


def geos_offset(points, width):
    """The union, by GEOS, of the outline and a strip beside each of its sides.

    Between two strips at a convex corner lies the mitre. Unlike buffer() this
    simplifies nothing.
    """
    parts = [Polygon(points).buffer(0)]
    n = len(points)
    sides = []
    for i in range(n):
        (ax, ay), (bx, by) = points[i], points[(i + 1) % n]
        dx, dy = bx - ax, by - ay
        length = (dx * dx + dy * dy) ** 0.5
        sides.append((ax, ay, bx, by, dy / length * width, -dx / length * width))
    for i, (ax, ay, bx, by, ox, oy) in enumerate(sides):
        parts.append(Polygon([(ax, ay), (ax + ox, ay + oy), (bx + ox, by + oy), (bx, by)]))
        _, _, _, _, px, py = sides[(i + 1) % n]
        if ox * py - oy * px > 0:  # a convex corner: the two offset lines meet
            along = width * width / (width * width + ox * px + oy * py)
            tip = (bx + (ox + px) * along, by + (oy + py) * along)
            parts.append(Polygon([(bx, by), (bx + ox, by + oy), tip, (bx + px, by + py)]))
    whole = unary_union([p if p.is_valid else p.buffer(0) for p in parts])
    if whole.geom_type != "Polygon":
        whole = max(whole.geoms, key=lambda g: g.area)
    return Polygon(whole.exterior)


def hits(points, line):
    """Where the outline meets a straight line."""
    met = LineString(points + points[:1]).intersection(LineString(line))
    if met.is_empty:
        return []
    return [(g.x, g.y) for g in getattr(met, "geoms", [met]) if g.geom_type == "Point"]


def loop(points):
    """The mean width, along its border, of the widest loop but the largest."""
    faces = sorted(polygonize(unary_union(LineString(points + points[:1]))), key=lambda f: f.area)
    return max((f.area / f.length for f in faces[:-1]), default=0.0)


def measure(o):
    polygon = Polygon(o["seam"])
    out = {"area": polygon.area, "valid": polygon.is_valid, "why": explain_validity(polygon)}
    if not polygon.is_valid:
        out["loop"] = loop(o["seam"])
    if o.get("line"):
        out["hits"] = hits(o["seam"], o["line"])
    if o.get("cut"):
        cut = Polygon(o["cut"])
        out["cutValid"], out["cutArea"] = cut.is_valid, cut.area
        for name, offset in (("clipper", clipper_offset), ("geos", geos_offset)):
            want = offset(o["seam"], o["width"])
            out[name] = {
                # of lines, since GEOS 3.11 takes no other point of a ring than its first
                "apart": LineString(want.exterior).hausdorff_distance(LineString(cut.exterior)),
                "area": want.area,
            }
    return out


json.dump([measure(o) for o in json.load(sys.stdin)], sys.stdout)
