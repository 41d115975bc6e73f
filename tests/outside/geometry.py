"""Checks printed plans with shapely, a general-purpose geometry library, and with a saw simulated from the cut list.

Usage: geometry.py JOB.json PLAN.json [--spoil]. With --spoil one piece is moved by 1.5 mm and one saw cut by 2 mm
first, and the check fails unless it finds both. The region to tile is worked out here from the job's readings, and nothing of
the planner is used. Lengths are millimetres; a reader of plans allows 0.001 mm.
"""

import json
import re
import sys
from fractions import Fraction

from shapely.geometry import Point, Polygon, box
from shapely.ops import unary_union
from shapely.strtree import STRtree

ALLOWED = 0.001
# Arcs are chords at most 0.05 mm off, so the coverage near a round opening may lack that much.
ROUNDNESS = 0.06


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
    unit, gaps = job["unit"], job["gaps"]
    gap = lambda role: 0.0 if role in ("bare", "hidden") else length(gaps[role], unit)
    width = length(surface["width"], unit)
    edges = surface["edges"]
    base = [(x, y + gap(edges["base"])) for x, y in profile(surface["base"], "drop", unit, width)]
    top = [(x, y - gap(edges["top"])) for x, y in profile(surface["top"], "rise", unit, width)]
    wall = Polygon(base + top[::-1]).buffer(0)
    tall = box(gap(edges["left"]), -1e6, width - gap(edges["right"]), 1e6)
    openings = [opening(job, o) for o in surface.get("openings", [])]
    return wall.intersection(tall).difference(unary_union(openings))


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
    shapes = [shape(piece) for piece in planned["pieces"]]
    names = [piece["id"] for piece in planned["pieces"]]
    for name, piece in zip(names, shapes):
        outside = piece.difference(room.buffer(ALLOWED, join_style="mitre"))
        if outside.area > ALLOWED * piece.length:
            faults.append(f"{name} lies {outside.area:.4f} mm2 outside the region")
    tree = STRtree(shapes)
    for at, piece in enumerate(shapes):
        for other in tree.query(piece.buffer(joint)):
            if other > at and piece.distance(shapes[other]) < joint - ALLOWED:
                faults.append(f"{names[at]} and {names[other]} are nearer than the joint")
    # What no piece covers is joint, or a gap no wider than a joint at an edge, or under a propped first course.
    reach = joint * 1.01 + ROUNDNESS
    bare = room.difference(unary_union([piece.buffer(reach, join_style="mitre") for piece in shapes]))
    if planned["first_course"] == "propped":
        lowest = min(y for piece in planned["pieces"] for _, y in piece["outline"])
        bare = bare.intersection(box(-1e6, lowest, 1e6, 1e6))
    if bare.area > 1.0:
        faults.append(f"{bare.area:.2f} mm2 of {surface['id']} are neither tile nor joint, at {bare.bounds}")


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
        tile = job["tiles"][stock["tile"]]
        whole = (0.0, 0.0, length(tile["width"], unit), length(tile["height"], unit))
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
    # The kept side is the one that some later place needs to end exactly at `at`.
    places = [pieces[n]["from"] for n in stock["pieces"]]
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


def main():
    job = json.load(open(sys.argv[1]))
    plan = json.load(open(sys.argv[2]))
    spoilt = "--spoil" in sys.argv
    if spoilt:
        spoil(plan)
    moved, sawn, pieces = [], [], 0
    for option in plan["options"]:
        planned = {s["id"]: s for s in option["surfaces"]}
        for surface in job["surfaces"]:
            check_surface(job, surface, option, planned[surface["id"]], moved)
            pieces += len(planned[surface["id"]]["pieces"])
        check_saw(job, option, sawn)
    if spoilt:
        found = bool(moved) and bool(sawn)
        print(f"{sys.argv[1]}: the spoilt plan is {'found out' if found else 'NOT found out'}")
        sys.exit(0 if found else 1)
    for fault in moved + sawn:
        print(fault, file=sys.stderr)
    print(f"{sys.argv[1]}: {pieces} pieces in {len(plan['options'])} options, {len(moved + sawn)} faults")
    sys.exit(1 if moved or sawn or not pieces else 0)


main()
