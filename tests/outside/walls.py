"""Draws walls and outlines by chance, has the real command plan each, and checks every plan with geometry.py.

Usage: walls.py BINARY COUNT [SEED] [--spoil] [--keep FOLDER]. The same seed draws the same walls. With --spoil each plan
is spoilt in one way first, and the run fails unless every spoilt plan is found out. What the command refuses is named
and counted; the run fails when that is more than one in fifty.
"""

import copy
import json
import os
import random
import subprocess
import sys
import tempfile

from shapely.geometry import box

import geometry

TILES = [(598, 298), (297, 197), (600, 600), (397.5, 247), (300, 100), (450, 150), (198, 198)]
JOINTS = [0, 1.5, 2, 3, 5]


class Maker:
    """One job by chance, in millimetres or in sixteenths of an inch."""

    def __init__(self, chance):
        self.chance = chance
        self.inches = chance.random() < 0.25
        self.field = {"tile": "field", "courses": "fill", "upright": chance.random() < 0.2}

    def size(self, mm):
        """A length near that many millimetres, as it stands in the file."""
        return round(mm / 25.4 * 16) / 16 if self.inches else round(mm * 2) / 2

    def between(self, low, high):
        return self.size(self.chance.uniform(low, high))

    def job(self):
        chance = self.chance
        width, height = chance.choice(TILES)
        tiles = {"field": {"width": self.size(width), "height": self.size(height)}}
        joint = self.size(chance.choice(JOINTS))
        base = self.between(2, 6)
        job = {
            "coursebook": 1,
            "name": "A wall by chance",
            "unit": "in" if self.inches else "mm",
            "tiles": tiles,
            "joint": joint,
            "kerf": self.size(2),
            "gaps": {role: self.between(0, 7) for role in ("corner", "ceiling", "trim", "mitre", "opening")} | {"base": base},
            "base_gap_max": base + self.between(0, 6),
            "smallest_cut": self.between(20, 100),
        }
        surface = self.outline() if chance.random() < 0.3 else self.wall(tiles)
        surface["pattern"] = self.pattern()
        job["surfaces"] = [surface]
        if chance.random() < 0.4:
            job["layout"] = {"course_line": self.between(-600, 200), "starts": {"A": self.between(-300, 900)}}
        return job

    def pattern(self):
        kind = self.chance.choice(["straight", "running", "running", "cycle"])
        if kind == "straight":
            return {"name": "straight"}
        if kind == "cycle":
            return {"name": "running", "cycle": self.chance.sample(["0", "1/3", "2/3", "1/4", "1/2"], self.chance.randint(2, 4))}
        return {"name": "running", "step": self.chance.choice(["1/2", "1/3", "1/4", "2/5"]), "mirror": self.chance.random() < 0.3}

    def wall(self, tiles):
        chance = self.chance
        width = self.between(350, 2600)
        ends = ["corner", "corner", "trim", "bare", "hidden", "mitre"]
        surface = {
            "id": "A",
            "kind": "wall",
            "width": width,
            "base": self.base(width),
            "top": self.top(width),
            "edges": {
                "left": chance.choice(ends),
                "right": chance.choice(ends),
                "base": chance.choice(["base", "base", "hidden"]),
                "top": chance.choice(["ceiling", "ceiling", "trim", "bare", "hidden"]),
            },
        }
        if chance.random() < 0.3:
            surface["covered"] = {"left": self.between(0, 15), "right": self.between(0, 15)}
        if chance.random() < 0.25:
            tiles["strip"] = {"width": self.size(298), "height": self.between(20, 70)}
            low = self.between(-400, 100)
            strip = {"tile": "strip", "bottom_between": [low, low + self.size(350)]}
            surface["bands"] = [self.field, strip, self.field]
        else:
            surface["bands"] = [self.field]
        surface["openings"] = self.openings(box(0, -700, self.mm(width), 250))
        return surface

    def base(self, width):
        drop = self.between(820, 1250)
        kind = self.chance.choice(["level", "falls", "falls", "bent", "curb", "tub"])
        if kind == "level":
            return [{"x": 0, "drop": drop}]
        more = lambda: drop + self.between(-8, 8)
        if kind == "falls":
            return [{"x": 0, "drop": drop}, {"x": width, "drop": more()}]
        if kind == "bent":
            bend = lambda: drop + self.between(-3, 3)
            return [{"x": 0, "drop": drop}, {"x": width / 2, "drop": bend()}, {"x": width, "drop": bend()}]
        at = self.between(0.3 * self.mm(width), 0.7 * self.mm(width))
        up = drop - (self.between(60, 160) if kind == "curb" else self.between(250, 500))
        return [
            {"x": 0, "drop": drop},
            {"x": at, "drop": drop},
            {"x": at, "drop": up, "carries": False},
            {"x": width, "drop": up, "carries": False},
        ]

    def mm(self, number):
        return number * 25.4 if self.inches else number

    def top(self, width):
        rise = self.between(320, 1100)
        kind = self.chance.choice(["level", "level", "falls", "soffit"])
        if kind == "level":
            return {"rise": rise}
        if kind == "falls":
            return [{"x": 0, "rise": rise}, {"x": width, "rise": rise + self.between(-12, 12)}]
        at = self.between(0.3 * self.mm(width), 0.7 * self.mm(width))
        low = rise - self.between(60, 200)
        return [{"x": 0, "rise": rise}, {"x": at, "rise": rise}, {"x": at, "rise": low}, {"x": width, "rise": low}]

    def outline(self):
        """Columns or rows side by side, so that corners jut in."""
        chance, points_low, points_high, x = self.chance, [], [], self.between(-500, 500)
        span = None
        for _ in range(chance.randint(1, 4)):
            width, bottom = self.between(200, 1100), self.between(-700, 0)
            top = bottom + self.between(400, 1500)
            if span:
                bottom, top = min(bottom, span[1] - self.size(120)), max(top, span[0] + self.size(120))
            span = (bottom, top)
            points_low += [[x, bottom], [x + width, bottom]]
            points_high += [[x, top], [x + width, top]]
            x += width
        points = points_low + points_high[::-1]
        points = [p for p, before in zip(points, points[-1:] + points[:-1]) if p != before]
        if chance.random() < 0.5:
            points = [[y, x] for x, y in points]
        if chance.random() < 0.5:
            points = points[::-1]
        roles = ["perimeter", "corner", "corner", "trim", "bare", "hidden", "mitre"]
        inside = geometry.Polygon([[self.mm(x), self.mm(y)] for x, y in points])
        return {
            "id": "A",
            "kind": chance.choice(["floor", "wall"]),
            "outline": points,
            "edge_roles": [chance.choice(roles) for _ in points],
            "bands": [self.field],
            "openings": self.openings(inside),
        }

    def openings(self, room):
        """Openings partly in the room. One that runs into another, or lies within 15 mm of it, has the same kind of
        edge: a sheet with both is refused or has pieces that nobody cuts."""
        chance, found, taken = self.chance, [], []
        x0, y0, x1, y1 = room.bounds
        for _ in range(chance.choice([0, 1, 1, 2, 3, 4])):
            x, y = chance.uniform(x0, x1), chance.uniform(y0, y1)
            wide, high = chance.uniform(40, 500), chance.uniform(40, 450)
            if chance.random() < 0.5:
                o = {"kind": "circle", "x": self.size(x), "y": self.size(y), "diameter": self.between(20, 160)}
                edges = ["plate", "plate", "plate", "bare"]
            else:
                o = {"kind": "rectangle", "x": self.size(x), "y": self.size(y), "width": self.size(wide), "height": self.size(high)}
                edges = ["trim", "lapped", "mitre", "bare"]
            if chance.random() < 0.5:
                o["clearance"] = self.between(0, 6) if chance.random() < 0.8 else -self.between(1, 5)
            o["edge"], o["name"] = chance.choice(edges), f"opening {len(found) + 1}"
            here = geometry.opening({"unit": "in" if self.inches else "mm", "gaps": {"opening": self.size(8)}}, o)
            bare = o["edge"] == "bare"
            clashes = any(bare != other and here.buffer(15).intersects(there) for other, there in taken)
            if not clashes and here.intersection(room).area > 100:
                found.append(o)
                taken.append((bare, here))
        return found


def spoil(plan, chance):
    """Spoils a plan in one way that matters, and says which; None where it has nothing to spoil that way."""
    pieces = plan["options"][0]["surfaces"][0]["pieces"]
    cut = [piece for piece in pieces if not piece["full"]]
    way = chance.choice(["moved", "left out", "unmarked", "mismarked", "factory", "hole"])
    if way == "moved":
        for point in chance.choice(pieces)["outline"]:
            point[0] += 1.5
    elif way == "left out":
        pieces.remove(max(pieces, key=lambda piece: geometry.shape(piece).area))
    elif way == "unmarked" and cut:
        chance.choice(cut)["marks"].pop()
    elif way == "mismarked" and cut:
        mark = chance.choice(chance.choice(cut)["marks"])
        mark["at" if "at" in mark else "x"] += 4
        if "at_other_end" in mark:
            mark["at_other_end"] += 4
    elif way == "factory" and [piece for piece in pieces if piece["full"]]:
        chance.choice([piece for piece in pieces if piece["full"]])["factory"].pop()
    elif way == "hole" and [piece for piece in cut if piece["holes"]]:
        chance.choice([piece for piece in cut if piece["holes"]])["holes"].clear()
    else:
        return None
    return way


def main():
    binary, count = sys.argv[1], int(sys.argv[2])
    numbers = [int(arg) for arg in sys.argv[3:] if arg.isdigit()]
    seed = numbers[0] if numbers else 1
    spoilt = "--spoil" in sys.argv
    keep = sys.argv[sys.argv.index("--keep") + 1] if "--keep" in sys.argv else None
    refused, wrong, missed, ways = [], [], [], {}
    pieces = plans = outlines = 0
    with tempfile.TemporaryDirectory() as scratch:
        for number in range(count):
            chance = random.Random(f"{seed}/{number}")
            job = Maker(chance).job()
            plan = planned(binary, job, os.path.join(keep or scratch, f"wall-{number:03}"))
            if isinstance(plan, str):
                refused.append(f"wall {number} is refused: {plan}")
                continue
            plans += 1
            outlines += "outline" in job["surfaces"][0]
            pieces += len(plan["options"][0]["surfaces"][0]["pieces"])
            if not spoilt:
                wrong += [f"wall {number}: {fault}" for fault in geometry.faults_of(job, plan)]
                continue
            way, plan = spoilt_somehow(plan, chance)
            ways[way] = ways.get(way, 0) + 1
            if not geometry.faults_of(job, plan):
                missed.append(f"wall {number}, {way}: NOT found out")
    for line in refused + wrong + missed:
        print(line, file=sys.stderr)
    told = f"{plans} walls by chance from seed {seed}, {outlines} of them by outline, {pieces} pieces, {len(refused)} refused"
    if spoilt:
        kinds = ", ".join(f"{way} {n}" for way, n in sorted(ways.items()))
        print(f"{told}: spoilt ({kinds}), {len(missed)} not found out")
    else:
        print(f"{told}: {len(wrong)} faults")
    sys.exit(1 if wrong or missed or plans == 0 or len(refused) * 50 > count else 0)


def planned(binary, job, path):
    """The plan of a job, or what the command says against it. Both are written beside each other."""
    with open(f"{path}.json", "w") as out:
        json.dump(job, out, indent=1)
    done = subprocess.run([binary, "plan", "--format", "json", f"{path}.json"], capture_output=True, text=True)
    if done.returncode != 0:
        return done.stderr.strip() or f"exit code {done.returncode}"
    with open(f"{path}.plan.json", "w") as out:
        out.write(done.stdout)
    return json.loads(done.stdout)


def spoilt_somehow(plan, chance):
    """How a copy of the plan was spoilt, and the copy."""
    while True:
        trial = copy.deepcopy(plan)
        way = spoil(trial, chance)
        if way is not None:
            return way, trial


if __name__ == "__main__":
    main()
