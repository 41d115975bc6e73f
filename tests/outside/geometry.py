"""Checks printed plans with shapely, a general-purpose geometry library, and with a saw simulated from the cut list.

Usage: geometry.py JOB.json PLAN.json [--spoil]. With --spoil one piece is moved by 1.5 mm and one saw cut by 2 mm
first, and the check fails unless it finds both. The region to tile is worked out here from the job's readings, and nothing of
the planner is used. Lengths are millimetres; a reader of plans allows 0.001 mm.
"""

import json
import math
import re
import sys
from fractions import Fraction

import shapely
from shapely import prepare
from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union
from shapely.strtree import STRtree

ALLOWED = 0.001
# Arcs are chords at most 0.05 mm off, so the coverage near a round opening may lack that much.
ROUNDNESS = 0.06
# What is narrower than this many millimetres is nothing.
NOTHING = 1e-6
# A straight cut leaves a bent base or top open by as much as it bends under one tile.
BENT = 4.0


def length(value, unit):
    """Millimetres from a number in the job's unit, or from inches and fractions as text."""
    if isinstance(value, (int, float)):
        return float(value) * (25.4 if unit == "in" else 1.0)
    text = value.strip()
    scale = 25.4 if unit == "in" else 1.0
    for suffix, factor in ((" mm", 1.0), (" in", 25.4), ("mm", 1.0), ("in", 25.4)):
        if text.endswith(suffix):
            text, scale = text[: -len(suffix)].strip(), factor
            break
    sign = -1 if text.startswith("-") else 1
    parts = [Fraction(part) for part in re.split(r"[ ]+", text.lstrip("-"))]
    return float(sign * sum(parts)) * scale


def profile(readings, key, unit, width):
    """(x, y) of a base or a top over the whole wall: straight between readings, level outside them."""
    if isinstance(readings, dict):
        readings = [readings]
    sign = -1 if key == "drop" else 1
    points = [(length(r.get("x", 0), unit), sign * length(r[key], unit)) for r in readings]
    return [(0.0, points[0][1])] + points + [(width, points[-1][1])]


def region(job, surface):
    """The room for tile: the surface less its gaps less its openings with their clearance."""
    gap = lambda role: 0.0 if role in ("bare", "hidden") else length(gap_of(job, role), job["unit"])
    openings = unary_union([opening(job, o) for o in surface.get("openings", [])])
    if "outline" in surface:
        return outlined(job, surface, gap).difference(openings)
    base, top, width = edges_of(job, surface)
    edges = surface["edges"]
    base = [(x, y + gap(edges["base"])) for x, y in base]
    top = [(x, y - gap(edges["top"])) for x, y in top]
    wall = Polygon(base + top[::-1]).buffer(0)
    tall = box(gap(edges["left"]), -1e6, width - gap(edges["right"]), 1e6)
    return wall.intersection(tall).difference(openings)


def gap_of(job, role):
    gaps = job["gaps"]
    return gaps.get("corner", gaps.get("perimeter", 0)) if role in ("corner", "perimeter") else gaps[role]


def edges_of(job, surface):
    """Base and top of a wall as lines, and its width."""
    unit = job["unit"]
    width = length(surface["width"], unit)
    return profile(surface["base"], "drop", unit, width), profile(surface["top"], "rise", unit, width), width


def sides_of(job, surface):
    """Each side of an outline with its role, the surface on its left."""
    points = [(length(x, job["unit"]), length(y, job["unit"])) for x, y in surface["outline"]]
    sides = list(zip(points, points[1:] + points[:1], surface["edge_roles"]))
    if not Polygon(points).exterior.is_ccw:
        sides = [(b, a, role) for a, b, role in reversed(sides)]
    return sides


def outlined(job, surface, gap):
    """An outline less the gap square to each side, mitred where a corner juts in."""
    sides = sides_of(job, surface)
    free = []
    for (a, b, role), (_, c, after) in zip(sides, sides[1:] + sides[:1]):
        along = ((b[0] > a[0]) - (b[0] < a[0]), (b[1] > a[1]) - (b[1] < a[1]))
        then = ((c[0] > b[0]) - (c[0] < b[0]), (c[1] > b[1]) - (c[1] < b[1]))
        g, h = gap(role), gap(after)
        inward = (-along[1] * g, along[0] * g)
        free.append(rectangle(a, (b[0] + inward[0], b[1] + inward[1])))
        if along[0] * then[1] - along[1] * then[0] < 0:
            free.append(rectangle(b, (b[0] + inward[0] + along[0] * h, b[1] + inward[1] + along[1] * h)))
    return Polygon([a for a, _, _ in sides]).difference(unary_union(free))


def rectangle(a, b):
    return box(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))


def opening(job, o):
    unit = job["unit"]
    clearance = length(o.get("clearance", job["gaps"].get("opening", 0)), unit)
    if o["kind"] == "circle":
        radius = length(o["diameter"], unit) / 2 + clearance
        return Point(length(o["x"], unit), length(o["y"], unit)).buffer(radius, quad_segs=256)
    x, y = length(o["x"], unit), length(o["y"], unit)
    return box(x, y, x + length(o["width"], unit), y + length(o["height"], unit)).buffer(clearance, join_style="mitre")


def shape(piece):
    holes = []
    for hole in piece["holes"]:
        if "diameter" in hole:
            holes.append(Point(hole["x"], hole["y"]).buffer(hole["diameter"] / 2, quad_segs=256))
        else:
            holes.append(Polygon(hole["outline"]))
    return Polygon(piece["outline"]).difference(unary_union(holes))


def check_surface(job, surface, option, planned, faults):
    joint = option["layout"]["joint"]
    room = region(job, surface)
    prepare(room)
    pieces = planned["pieces"]
    shapes = [shape(piece) for piece in pieces]
    for piece, here in zip(pieces, shapes):
        outside = here.difference(room.buffer(ALLOWED, join_style="mitre"))
        if not here.is_valid or outside.area > ALLOWED * here.length + ROUNDNESS * round_edge(job, surface):
            faults.append(f"{piece['id']} lies {outside.area:.4f} mm2 outside the region")
    cells = Cells(job, surface, option)
    of_cell, lies_in = {}, [cells.around(piece) for piece in pieces]
    for piece, here, cell in zip(pieces, shapes, lies_in):
        if cell is None:
            faults.append(f"{piece['id']} lies in no tile of the pattern")
            continue
        of_cell.setdefault(cell, []).append(here)
    # Along a bent base or top, and beside its steps, nothing may be left but the piece.
    surely_room = room.difference(open_edges(job, surface))
    tree = STRtree(shapes)
    for at, here in enumerate(shapes):
        for other in tree.query(here.buffer(joint + 1)):
            if other <= at:
                continue
            same = lies_in[at] == lies_in[other]
            if same and here.intersection(shapes[other]).area > ALLOWED * here.length:
                faults.append(f"{pieces[at]['id']} and {pieces[other]['id']} overlap")
            if not same and here.distance(shapes[other]) < joint - ALLOWED:
                faults.append(f"{pieces[at]['id']} and {pieces[other]['id']} are nearer than the joint")
    check_cover(job, surface, room, cells, of_cell, joint, faults)
    for at, piece in enumerate(pieces):
        near = [shapes[other] for other in tree.query(shapes[at].buffer(joint + 1)) if other != at]
        check_factory(job, surface, piece, shapes[at], near, joint, faults)
        parts = [shapes[n] for n in range(len(pieces)) if n != at and lies_in[n] == lies_in[at]]
        check_marks(piece, shapes[at], parts, (room, surely_room), cells, joint, faults)


def round_edge(job, surface):
    """How much edge of openings is round, so that chords may lie off it."""
    return sum(4 * length(o["diameter"], job["unit"]) for o in surface.get("openings", []) if o["kind"] == "circle")


class Cells:
    """The whole tiles of the pattern, from the layout and the courses that the plan prints."""

    def __init__(self, job, surface, option):
        layout, self.joint = option["layout"], option["layout"]["joint"]
        self.rows = []
        line = surface.get("line", surface["id"] if "outline" in surface else "")
        rows = [(c, False) for c in option["courses"]] + [(c, True) for c in option.get("strips", [])]
        bands = surface.get("bands", [])
        of_kind = {kind: [n for n, b in enumerate(bands) if ("bottom_between" in b) == kind] for kind in (False, True)}
        strips = 0
        for course, strip in rows:
            if course.get("line", line) != line:
                continue
            tile = tile_of(surface, strip, job)
            width, _ = laid_size(job, tile)
            # Strips come from the bottom up, as their bands do.
            kinds = of_kind[strip] or [0]
            band = kinds[min(strips, len(kinds) - 1) if strip else 0]
            strips += strip
            own = layout.get("band_starts", {}).get(surface["id"], {}).get(str(band))
            start = layout["starts"][surface["id"]] if own is None else own
            pitch = width + self.joint
            # A strip is counted from its own first course.
            shift = shift_of(surface, layout, 1 if strip else course["n"]) * pitch
            self.rows.append((course["bottom"], course["top"], start + self.joint / 2 + shift, width, pitch))
        self.rows.sort()

    def around(self, piece):
        """The cell that holds a piece, by its lower left corner to 0.01 mm and its size."""
        x0, y0, x1, y1 = bounds(piece)
        for bottom, top, first, width, pitch in self.rows:
            if bottom - ALLOWED <= y0 and y1 <= top + ALLOWED:
                left = first + math.floor((x0 + ALLOWED - first) / pitch) * pitch
                if x1 <= left + width + ALLOWED:
                    return (round(left, 2), round(bottom, 2), round(left + width, 2), round(top, 2))
        return None

    def over(self, room):
        x0, _, x1, _ = room.bounds
        for bottom, top, first, width, pitch in self.rows:
            number = math.floor((x0 - first) / pitch)
            while first + number * pitch < x1:
                left = first + number * pitch
                yield (round(left, 2), round(bottom, 2), round(left + width, 2), round(top, 2)), (left, bottom, left + width, top)
                number += 1


def tile_of(surface, strip, job):
    bands = surface.get("bands") or [{}]
    band = next(b for b in bands if ("bottom_between" in b) == strip)
    return {"tile": band.get("tile", next(iter(job["tiles"]))), "upright": band.get("upright", False)}


def laid_size(job, tile):
    size = [length(job["tiles"][tile["tile"]][side], job["unit"]) for side in ("width", "height")]
    return size[::-1] if tile["upright"] else size


def shift_of(surface, layout, number):
    """Which part of a pitch a course lies right of the first."""
    pattern = surface.get("pattern", {"name": "straight"})
    if "cycle" in pattern:
        return float(Fraction(pattern["cycle"][(number - 1) % len(pattern["cycle"])]))
    if pattern["name"] == "straight":
        return 0.0
    mirror = layout.get("mirror", {}).get(surface["id"], pattern.get("mirror", False))
    return float(Fraction(pattern["step"]) * (number - 1) * (-1 if mirror else 1))


def check_cover(job, surface, room, cells, of_cell, joint, faults):
    """In every tile of the pattern the pieces are what the region leaves of it, but for parts so thin that they count
    as joint, for what one straight cut leaves open along base and top, and for what is between a circle and the
    polygon round it."""
    circles = [opening(job, o) for o in surface.get("openings", []) if o["kind"] == "circle"]
    open_at = unary_union([open_edges(job, surface), *(circle.buffer(ROUNDNESS) for circle in circles)])
    for cell, exact in cells.over(room):
        # Without the strips of no width that floats leave, which would join two thin parts to one wide one.
        wanted = shapely.set_precision(box(*exact).intersection(room), NOTHING)
        if wanted.is_empty:
            continue
        here = unary_union(of_cell.get(cell, [])).buffer(ROUNDNESS, join_style="mitre").union(open_at)
        for part in getattr(wanted, "geoms", [wanted]):
            missing = part.difference(here)
            if missing.area > 0.01 and not is_thin(part, joint) and not is_thin(part.difference(open_at), joint):
                faults.append(f"tile is missing on {surface['id']} at {missing.bounds}")
    extra = set(of_cell) - {cell for cell, _ in cells.over(room)}
    faults.extend(f"tile stands at {cell}, where there is none" for cell in sorted(extra))


def is_thin(part, joint):
    """Whether a part of a tile is no piece: at most a joint, or under 1 mm, wide or high."""
    if part.is_empty:
        return True
    x0, y0, x1, y1 = part.bounds
    return min(x1 - x0, y1 - y0) <= max(joint, 1.0) + ROUNDNESS


def open_edges(job, surface):
    """Where a straight cut along a bent base or top, or a propped first course, may leave more than the gap."""
    if "outline" in surface:
        return Polygon()
    unit = job["unit"]
    base, top, _ = edges_of(job, surface)
    gap = lambda role: 0.0 if role in ("bare", "hidden") else length(gap_of(job, role), unit)
    most = max(length(job.get("base_gap_max", 0), unit), gap(surface["edges"]["base"]))
    level = lambda line: max(y for _, y in line) - min(y for _, y in line) < ALLOWED
    below = LineString(base).buffer(most + BENT, join_style="mitre")
    above = Polygon() if level(top) else LineString(top).buffer(gap(surface["edges"]["top"]) + BENT, join_style="mitre")
    return below.union(above)


def bounds(piece):
    xs, ys = zip(*piece["outline"])
    return min(xs), min(ys), max(xs), max(ys)


def bare_lines(job, surface):
    """The edges where nothing hides a cut."""
    if "outline" in surface:
        lines = [LineString([a, b]) for a, b, role in sides_of(job, surface) if role == "bare"]
    else:
        base, top, width = edges_of(job, surface)
        of = {"left": [(0, -1e6), (0, 1e6)], "right": [(width, -1e6), (width, 1e6)], "base": base, "top": top}
        lines = [LineString(of[edge]) for edge, role in surface["edges"].items() if role == "bare"]
    for o in surface.get("openings", []):
        if o.get("edge") == "bare":
            lines.append(opening(job, o).exterior)
    return unary_union(lines)


SIDES = ("left", "right", "bottom", "top")


def check_factory(job, surface, piece, here, near, joint, faults):
    """A side that a joint or a bare edge shows is the tile's own, or the piece says that it shows."""
    if piece["full"]:
        if set(piece["factory"]) != set(SIDES) or piece["holes"] or len(piece["outline"]) != 4:
            faults.append(f"{piece['id']} is called full")
        return
    x0, y0, x1, y1 = bounds(piece)
    others = unary_union([other for other in near])
    bare = bare_lines(job, surface)
    reach = joint + 0.01
    strips = {
        "left": (box(x0 - reach, y0, x0, y1), box(x0, y0, x0, y1), x0),
        "right": (box(x1, y0, x1 + reach, y1), box(x1, y0, x1, y1), x1),
        "bottom": (box(x0, y0 - reach, x1, y0), box(x0, y0, x1, y0), y0),
        "top": (box(x0, y1, x1, y1 + reach), box(x0, y1, x1, y1), y1),
    }
    for side, (beyond, _, at) in strips.items():
        for a, b in zip(piece["outline"], piece["outline"][1:] + piece["outline"][:1]):
            axis = 0 if side in ("left", "right") else 1
            if abs(a[axis] - at) > ALLOWED or abs(b[axis] - at) > ALLOWED:
                continue
            low, high = sorted((a[1 - axis], b[1 - axis]))
            window = box(-1e6, low, 1e6, high) if axis == 0 else box(low, -1e6, high, 1e6)
            along = beyond.intersection(window).intersection(others).area / reach
            if along > 0.05 and side not in piece["factory"]:
                faults.append(f"{piece['id']}: the joint shows its {side} side, which is no factory edge")
            if high - low > 0.5 and LineString([a, b]).intersection(bare.buffer(ALLOWED)).length > 0.5:
                if side not in piece["factory"] and side not in piece.get("shows", []):
                    faults.append(f"{piece['id']}: a bare edge shows its {side} side")


def check_marks(piece, here, parts, rooms, cells, joint, faults):
    """Cutting a whole tile by the marks gives the piece, and beside it at most another part of the same tile or, in the
    region, what is too thin to be one."""
    if piece["full"]:
        return
    cell = cells.around(piece)
    if cell is None:
        return
    width, height = cell[2] - cell[0], cell[3] - cell[1]
    x0, y0, x1, y1 = bounds(piece)
    room, surely_room = rooms
    thin = max(joint, 1.0) / 2 + ROUNDNESS
    best = None
    for left in {x0, x1 - width, cell[0]}:
        for bottom in {y0, y1 - height, cell[1]}:
            cut = cut_by(piece, (left, bottom, left + width, bottom + height))
            lost = here.difference(cut.buffer(ROUNDNESS, join_style="mitre")).area
            more = cut.difference(unary_union([here, *parts]).buffer(ROUNDNESS, join_style="mitre"))
            outside = more.difference(room).area
            open_edge = more.intersection(room).difference(surely_room)
            # A crumb that a round hole cuts off falls, wherever it is: it is too thin to be a part.
            more = more.intersection(surely_room).union(open_edge).buffer(-thin, join_style="mitre").area
            beside = 0 if is_thin(open_edge, joint) else open_edge.area
            wrong = lost + more + outside + beside
            best = wrong if best is None else min(best, wrong)
    if best > 0.05:
        faults.append(f"the marks of {piece['id']} give {best:.2f} mm2 more or less than the piece")


def cut_by(piece, cell):
    x0, y0, x1, y1 = cell
    p0, q0, p1, q1 = bounds(piece)
    whole = box(*cell)
    from_x = lambda side, at: x0 + at if side == "left" else x1 - at
    from_y = lambda side, at: y0 + at if side == "bottom" else y1 - at
    for mark in piece["marks"]:
        if mark["kind"] in ("crosscut", "rip"):
            side, ends = mark["from"], (mark["at"], mark["at_other_end"])
            if mark["kind"] == "crosscut":
                a, b = (from_x(side, ends[0]), q0), (from_x(side, ends[1]), q1)
            else:
                a, b = (p0, from_y(side, ends[0])), (p1, from_y(side, ends[1]))
            whole = whole.intersection(half(a, b, side))
        elif mark["kind"] == "notch":
            sx, sy = mark["from"]
            xs = sorted((from_x(sx, mark["x"]), from_x(sx, mark["x"] + mark["width"])))
            ys = sorted((from_y(sy, mark["y"]), from_y(sy, mark["y"] + mark["height"])))
            whole = whole.difference(box(xs[0], ys[0], xs[1], ys[1]))
        else:
            centre = Point(from_x(mark["from"][0], mark["x"]), from_y(mark["from"][1], mark["y"]))
            whole = whole.difference(centre.buffer(mark["diameter"] / 2, quad_segs=64))
    return whole


def half(a, b, side):
    """All on that side of the line through two points."""
    far = 1e5
    dx, dy = b[0] - a[0], b[1] - a[1]
    size = math.hypot(dx, dy) or 1.0
    a, b = (a[0] - dx / size * far, a[1] - dy / size * far), (b[0] + dx / size * far, b[1] + dy / size * far)
    to = {"left": (-far, 0), "right": (far, 0), "bottom": (0, -far), "top": (0, far)}[side]
    return Polygon([a, b, (b[0] + to[0], b[1] + to[1]), (a[0] + to[0], a[1] + to[1])]).buffer(0)


def check_saw(job, option, faults):
    """Every tile cut into, sawn by its list: each piece must come out as a rectangle of the right size, with the
    tile's own edges where it needs them."""
    unit = job["unit"]
    kerf = length(job["kerf"], unit) + length(job.get("spare", 0), unit)
    pieces = {p["id"]: p for s in option["surfaces"] for p in s["pieces"]}
    cut = {name for name, piece in pieces.items() if not piece["full"]}
    seen = []
    near = lambda a, b: all(abs(x - y) <= ALLOWED for x, y in zip(a, b))
    for stock in option["stock"]:
        unknown = [name for name in stock["pieces"] if name not in pieces]
        if unknown:
            faults.append(f"tile {stock['n']} is cut into {unknown}, which no wall has")
            continue
        # A tile that is laid upright lies upright on the table.
        bands = [band for surface in job["surfaces"] for band in surface.get("bands", [])]
        upright = any(band.get("upright") for band in bands if band.get("tile", stock["tile"]) == stock["tile"])
        whole = (0.0, 0.0, *laid_size(job, {"tile": stock["tile"], "upright": upright}))
        table = [whole]
        for saw in stock["cuts"]:
            x, y, w, h = saw["part"]
            part = next((p for p in table if near(p, (x, y, w, h))), None)
            if part is None:
                faults.append(f"tile {stock['n']}: the part {saw['part']} is not on the table")
                continue
            table.remove(part)
            table.extend(halves(part, saw, kerf, stock, pieces))
        for name in stock["pieces"]:
            seen.append(name)
            source = pieces[name]["from"]
            rect = (source["x"], source["y"], source["width"], source["height"])
            if not any(near(p, rect) for p in table):
                faults.append(f"{name} does not come off tile {stock['n']}")
            check_edges(name, pieces[name], source, whole, faults)
    if sorted(seen) != sorted(cut):
        faults.append(f"pieces cut: {len(seen)}, pieces to cut: {len(cut)}")


def halves(part, saw, kerf, stock, pieces):
    """The two rectangles a cut leaves. `at` is the edge of the kept part, on whichever side that lies."""
    x, y, w, h = part
    low, high = (x, x + w) if saw["across"] == "x" else (y, y + h)
    # The kept side is the one that some later place on this part needs to end exactly at `at`.
    def on_part(p):
        across = x - ALLOWED <= p["x"] and p["x"] + p["width"] <= x + w + ALLOWED
        return across and y - ALLOWED <= p["y"] and p["y"] + p["height"] <= y + h + ALLOWED

    places = [pieces[n]["from"] for n in stock["pieces"] if on_part(pieces[n]["from"])]
    begins = any(abs(p["x" if saw["across"] == "x" else "y"] - saw["at"]) <= ALLOWED for p in places)
    size = "width" if saw["across"] == "x" else "height"
    axis = "x" if saw["across"] == "x" else "y"
    ends = any(abs(p[axis] + p[size] - saw["at"]) <= ALLOWED for p in places)
    cuts = []
    if ends or not begins:
        cuts.append((saw["at"], saw["at"] + kerf))
    if begins:
        cuts.append((saw["at"] - kerf, saw["at"]))
    found = []
    for first_ends, second_begins in cuts[:1]:
        for a, b in ((low, first_ends), (second_begins, high)):
            if b - a > ALLOWED:
                found.append((a, y, b - a, h) if saw["across"] == "x" else (x, a, w, b - a))
    return found


def check_edges(name, piece, source, whole, faults):
    x, y, w, h = source["x"], source["y"], source["width"], source["height"]
    lies = {
        "left": abs(x) <= ALLOWED,
        "bottom": abs(y) <= ALLOWED,
        "right": abs(x + w - whole[2]) <= ALLOWED,
        "top": abs(y + h - whole[3]) <= ALLOWED,
    }
    # Counter-clockwise from the table to the wall.
    order = ["right", "top", "left", "bottom"]
    quarter = source["turn"] // 90
    on_wall = {order[(at + quarter) % 4]: lies[side] for at, side in enumerate(order)}
    for side in piece["factory"]:
        if not on_wall[side]:
            faults.append(f"{name} needs the tile's own edge at its {side} and gets a cut one")


def spoil(plan):
    """Two faults that a good check must find."""
    option = plan["options"][0]
    for point in option["surfaces"][0]["pieces"][-1]["outline"]:
        point[0] += 1.5
    next(stock for stock in option["stock"] if stock["cuts"])["cuts"][0]["at"] += 2


def check(job, plan):
    """What the placing and what the sawing of a plan do wrong, and how many pieces it has."""
    moved, sawn, pieces = [], [], 0
    for option in plan["options"]:
        planned = {s["id"]: s for s in option["surfaces"]}
        for surface in job["surfaces"]:
            check_surface(job, surface, option, planned[surface["id"]], moved)
            pieces += len(planned[surface["id"]]["pieces"])
        check_saw(job, option, sawn)
    return moved, sawn, pieces


def faults_of(job, plan):
    moved, sawn, _ = check(job, plan)
    return moved + sawn


def main():
    job = json.load(open(sys.argv[1]))
    plan = json.load(open(sys.argv[2]))
    spoilt = "--spoil" in sys.argv
    if spoilt:
        spoil(plan)
    moved, sawn, pieces = check(job, plan)
    if spoilt:
        found = bool(moved) and bool(sawn)
        print(f"{sys.argv[1]}: the spoilt plan is {'found out' if found else 'NOT found out'}")
        sys.exit(0 if found else 1)
    for fault in moved + sawn:
        print(fault, file=sys.stderr)
    print(f"{sys.argv[1]}: {pieces} pieces in {len(plan['options'])} options, {len(moved + sawn)} faults")
    sys.exit(1 if moved or sawn or not pieces else 0)


if __name__ == "__main__":
    main()
