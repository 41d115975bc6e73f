"""Goes over an answer of `coursebook offcuts` from the rules alone: the plan by sawing it, the proof by a dynamic
program over (width, height, sides that are the tile's own). Nothing of the planner is used.

Lengths are whole units of 1/76800 mm, of which a millimetre and a 16th of an inch are whole numbers.
"""

from collections import Counter, namedtuple

import numpy as np

LEFT, RIGHT, BOTTOM, TOP = 1, 2, 4, 8
BITS = {"left": LEFT, "right": RIGHT, "bottom": BOTTOM, "top": TOP}
ALL = 15
UNITS = {"mm": 76800, "in": 1950720}
NEVER = -(1 << 60)
# Beyond so many sizes along a side, sizes are rounded down to a grid: what fits can only become more.
MOST_STOPS = 700

Way = namedtuple("Way", "width height needs turn")
Item = namedtuple("Item", "width height needs price sets")


def bits(names):
    return sum(BITS[name] for name in names)


def turned(needs, quarters):
    """Sides turned clockwise by so many quarters."""
    clockwise = {TOP: RIGHT, RIGHT: BOTTOM, BOTTOM: LEFT, LEFT: TOP}
    for _ in range(quarters):
        needs = sum(clockwise[bit] for bit in clockwise if needs & bit)
    return needs


class Job:
    """The file in whole units."""

    def __init__(self, file):
        self.scale = UNITS[file.get("unit", "mm")]
        self.width, self.height = self.units(file["tile"]["width"]), self.units(file["tile"]["height"])
        self.kerf = self.units(file["kerf"])
        self.quarters = [0] + [2] * file.get("half_turn", True) + [1, 3] * file.get("quarter_turn", False)
        self.pieces = {piece["id"]: piece for piece in file["pieces"]}
        self.wanted = Counter({piece["id"]: piece.get("count", 1) for piece in file["pieces"]})
        self.rack = {racked["id"]: racked for racked in file.get("rack", [])}
        self.ways = {name: self.ways_of(piece) for name, piece in self.pieces.items()}

    def units(self, number):
        return round(number * self.scale)

    def alone(self, name):
        return self.pieces[name].get("alone", False)

    def ways_of(self, piece):
        """How it may lie on a tile; each once, whichever turn gives it."""
        ways = {}
        for quarters in self.quarters:
            way = self.way(piece, quarters)
            if fits(way, self.width, self.height, ALL):
                ways.setdefault(way[:3], way)
        return list(ways.values())

    def way(self, piece, quarters):
        size = [self.units(piece["width"]), self.units(piece["height"])]
        if quarters % 2:
            size.reverse()
        # Turned back from the wall to the table, that is clockwise.
        return Way(*size, turned(bits(piece.get("factory", [])), quarters), quarters * 90)

    def blank(self, stock):
        """Width, height and own sides of what is cut up."""
        if "rack" not in stock:
            return self.width, self.height, ALL
        return self.racked(self.rack[stock["rack"]])

    def racked(self, racked):
        return self.units(racked["width"]), self.units(racked["height"]), bits(racked.get("factory", []))


def fits(way, width, height, own):
    """Whether it can be cut from the whole. A cut takes one of two opposite sides away, so who needs both is as long."""
    both = lambda pair: way.needs & pair == pair
    return (
        way.needs & ~own == 0
        and way.width <= width
        and way.height <= height
        and (not both(LEFT | RIGHT) or way.width == width)
        and (not both(BOTTOM | TOP) or way.height == height)
    )


def plan_faults(job, answer):
    """Saws every tile by its list of cuts and looks at what lies there."""
    faults = []
    seen = Counter(place["id"] for stock in answer["stock"] for place in stock["pieces"])
    if seen != job.wanted:
        faults.append("the pieces cut are not the pieces wanted")
    racked = Counter(stock["rack"] for stock in answer["stock"] if "rack" in stock)
    if any(times > 1 for times in racked.values()):
        faults.append("a racked offcut is used twice")
    if answer["tiles"] != sum("rack" not in stock for stock in answer["stock"]):
        faults.append("the number of tiles is not the number of tiles cut up")
    if answer["optimal"] != (answer["tiles"] == answer["bound"]) or answer["tiles"] < answer["bound"]:
        faults.append("tiles, bound and optimal contradict one another")
    for stock in answer["stock"]:
        faults += stock_faults(job, stock)
    return faults


def stock_faults(job, stock):
    faults = []
    name = f"tile {stock['n']}"
    width, height, own = job.blank(stock)
    places = [tuple(job.units(place[key]) for key in ("x", "y", "width", "height")) for place in stock["pieces"]]
    if not places or (len(places) > 1 and any(job.alone(place["id"]) for place in stock["pieces"])):
        faults.append(f"{name}: empty, or shared by a piece that shares with none")
    for place, (x, y, w, h) in zip(stock["pieces"], places):
        way = job.way(job.pieces[place["id"]], place["turn"] // 90)
        if place["turn"] // 90 not in job.quarters or (way.width, way.height) != (w, h):
            faults.append(f"{name}: {place['id']} is turned as it may not be, or of a wrong size")
        at = LEFT * (x == 0) | BOTTOM * (y == 0) | RIGHT * (x + w == width) | TOP * (y + h == height)
        if way.needs & ~(at & own) or x < 0 or y < 0 or x + w > width or y + h > height:
            faults.append(f"{name}: {place['id']} lies off the tile or shows a cut side")
    table = [(0, 0, width, height)]
    for cut in stock["cuts"]:
        part = tuple(map(job.units, cut["part"]))
        if part not in table:
            faults.append(f"{name}: no part {cut['part']} lies on the table")
            continue
        table.remove(part)
        left = halves(part, cut["across"], job.units(cut["at"]), job.kerf, places)
        if left == [part]:
            faults.append(f"{name}: a cut misses its part")
        table += left
    for place, at in zip(stock["pieces"], places):
        # Equal places are one part each, so pieces on top of each other are found too.
        if at in table:
            table.remove(at)
        else:
            faults.append(f"{name}: the cuts do not free {place['id']}")
    return faults


def halves(part, across, at, kerf, places):
    """What a cut leaves. `at` is the edge of the kept part: where a place ends there or before, of the lower one."""
    x, y, w, h = part
    axis = 0 if across == "x" else 1
    inside = [p for p in places if p[0] >= x and p[1] >= y and p[0] + p[2] <= x + w and p[1] + p[3] <= y + h]
    first = at if any(p[axis] + p[axis + 2] <= at for p in inside) else at - kerf
    low, high = part[axis], part[axis] + part[axis + 2]
    if first + kerf <= low or first >= high:
        return [part]
    ends = [(a, b) for a, b in ((low, first), (first + kerf, high)) if a < b]
    return [(a, y, b - a, h) if across == "x" else (x, a, w, b - a) for a, b in ends]


def proof_faults(job, answer):
    """(faults, parts that could be neither confirmed nor refuted, parts closed by a search)."""
    proof = answer["proof"]
    if proof["kind"] != "parts":
        parts = [{"pieces": dict(job.wanted), "tiles": answer["bound"], "proof": proof}]
    else:
        parts = proof["parts"]
    faults, unsure, searched = [], 0, 0
    total = Counter()
    for part in parts:
        total.update(part["pieces"])
    if total != job.wanted:
        faults.append("the proof's parts are not a partition of the pieces")
    if sum(part["tiles"] for part in parts) != answer["bound"]:
        faults.append("the bound is not the sum of the proof's parts")
    faults += mixing_faults(job, parts)
    for part in parts:
        found, undecided = part_faults(job, part)
        faults += found
        unsure += undecided
        searched += part["proof"]["kind"] == "search"
    return faults, unsure, searched


def mixing_faults(job, parts):
    """Two pieces of different parts that one cut of a tile would both leave room for."""
    rows = [
        (way.width, way.height, way.needs, at)
        for at, part in enumerate(parts)
        for name in part["pieces"]
        if not job.alone(name)
        for way in job.ways[name]
    ]
    rows = np.array(sorted(set(rows)), dtype=np.int64).reshape(-1, 4)
    w, h, needs, at = rows.T
    for one in rows:
        apart = at != one[3]
        beside = (w + one[0] + job.kerf <= job.width) & ~bool(one[2] & RIGHT) & (needs & LEFT == 0)
        above = (h + one[1] + job.kerf <= job.height) & ~bool(one[2] & TOP) & (needs & BOTTOM == 0)
        if (apart & (beside | above)).any():
            return ["pieces of different parts of the proof can share a tile"]
    return []


def part_faults(job, part):
    """(faults, whether it could not be decided)."""
    proof, pieces = part["proof"], part["pieces"]
    sets = proof.get("sets", [])
    prices = {name: price if isinstance(price, list) else [price] for name, price in proof["prices"].items()}
    if set(prices) != set(pieces) or any(price < 0 for each in prices.values() for price in each):
        return ["prices are not one for each piece, or below nothing"], 0
    if any(odd["price"] <= 0 or Counter(odd["pieces"]) - Counter(pieces) for odd in sets):
        return ["an odd set is no set of the part's pieces"], 0
    worth = sum(sum(each) if len(each) > 1 else each[0] * pieces[name] for name, each in prices.items())
    worth += sum(odd["price"] * ((sum(odd["pieces"].values()) + 1) // 2) for odd in sets)
    rack = proof.get("best_of_rack", {})
    left, best = max(0, worth - sum(rack.values())), proof["best_pattern"]
    proved = -(-left // best) if best > 0 else 0
    if proved != part["tiles"] and not (proof["kind"] == "search" and proved <= part["tiles"]):
        return [f"prices prove {proved} tiles, said to be {part['tiles']}"], 0
    if set(rack) != set(job.rack):
        return ["not one limit for each racked offcut"], 0
    wholes = [((job.width, job.height, ALL), best)] + [(job.racked(job.rack[name]), rack[name]) for name in rack]
    unsure = 0
    for whole, said in wholes:
        found, exact = most_worth(job, whole, pieces, prices, sets)
        if found > said and exact:
            return [f"pieces worth {found} fit together, said to be {said} at most"], 0
        unsure |= found > said
    return [], unsure


def most_worth(job, whole, pieces, prices, sets):
    """(the most that pieces cut from the whole are worth, whether that is exact or an upper limit)."""
    set_prices = [odd["price"] for odd in sets]
    alone, items = 0, {}
    for name in pieces:
        # A name with only some of its pieces in a set counts as both, in the set and out of it.
        members = [sorted({odd["pieces"].get(name, 0) > 0, odd["pieces"].get(name, 0) == pieces[name]}) for odd in sets]
        for choice in choices(members):
            mask = sum(1 << bit for bit, member in enumerate(choice) if member)
            price = max(prices[name])
            if job.alone(name):
                ways = [job.way(job.pieces[name], quarters) for quarters in job.quarters]
                if any(fits(way, *whole) for way in ways):
                    alone = max(alone, price + twice(set_prices, mask))
                continue
            for quarters in job.quarters:
                way = job.way(job.pieces[name], quarters)
                if fits(way, *whole) and (price or mask):
                    key = (way.width + job.kerf, way.height + job.kerf, way.needs, mask)
                    items[key] = max(price, items.get(key, 0))
    items = undominated([Item(w, h, needs, price, mask) for (w, h, needs, mask), price in items.items()])
    size = (whole[0] + job.kerf, whole[1] + job.kerf)
    shared, exact = table_worth(items, size, whole[2], set_prices) if items else (0, True)
    return max(alone, shared), exact or shared <= alone


def choices(members):
    found = [[]]
    for options in members:
        found = [chosen + [member] for chosen in found for member in options]
    return found


def twice(set_prices, mask):
    return sum(price for bit, price in enumerate(set_prices) if mask >> bit & 1)


def undominated(items):
    better = lambda a, b: (
        a is not b and a.width <= b.width and a.height <= b.height and a.needs & ~b.needs == 0
        and a.sets == b.sets and a.price >= b.price
    )
    return [item for item in items if not any(better(other, item) for other in items)]


def stops(spans, whole, own):
    """For no side, the low one, the high one and both: the sizes that pieces beside each other can add up to."""
    free, sums = {size for size, reach in spans if reach == 0}, [0]
    reached = {0}
    while sums:
        at = sums.pop()
        for size in free:
            if at + size <= whole and at + size not in reached:
                reached.add(at + size)
                sums.append(at + size)
        if len(reached) > 40 * MOST_STOPS:
            return None
    ends = lambda reach: {end + at for end, has in spans if has == reach for at in reached if end + at <= whole}
    found = [sorted(reached), sorted(reached | ends(1)), sorted(reached | ends(2)), [whole]]
    if max(map(len, found)) > MOST_STOPS:
        return None
    return [np.array(sizes if reach & ~own == 0 else [], dtype=np.int64) for reach, sizes in enumerate(found)]


def on_grid(spans, whole, own):
    """Stops for exact sizes, or where those are too many, for sizes rounded down."""
    grid = 1
    while True:
        rounded = [(size // grid, reach) for size, reach in spans]
        found = stops(rounded, whole // grid, own)
        if found is not None:
            return grid, found
        grid = whole // MOST_STOPS + 1 if grid == 1 else grid + grid // 4 + 1


def table_worth(items, size, own, set_prices):
    across = [(item.width, item.needs & 3) for item in items]
    up = [(item.height, item.needs >> 2) for item in items]
    x_grid, columns = on_grid(across, size[0], own & 3)
    y_grid, rows = on_grid(up, size[1], own >> 2)
    if any(width < x_grid for width, _ in across) or any(height < y_grid for height, _ in up):
        return -NEVER, False
    masks = 1 << len(set_prices)
    paid = [twice(set_prices, mask) for mask in range(masks)]
    table = {}
    for cx in range(4):
        for cy in range(4):
            table[cx, cy] = np.full((masks, len(columns[cx]), len(rows[cy])), NEVER, dtype=np.int64)
            table[cx, cy][0] = 0
            for item, (width, reach_x), (height, reach_y) in zip(items, across, up):
                ix = np.searchsorted(columns[cx], width // x_grid)
                iy = np.searchsorted(rows[cy], height // y_grid)
                if reach_x & ~cx == 0 and reach_y & ~cy == 0 and ix < len(columns[cx]) and iy < len(rows[cy]):
                    cell = table[cx, cy][item.sets]
                    cell[ix, iy] = max(cell[ix, iy], item.price + paid[item.sets])
            fill(table, cx, cy, columns, rows, masks, paid)
    last = table[own & 3, own >> 2][:, -1, -1]
    return int(last.max()), x_grid == y_grid == 1


def cuts(sizes, reach):
    """For every part that reaches so, the indices of what a cut leaves on either side."""
    low, high = sizes[reach & 1], sizes[reach & 2]
    found = []
    for whole in sizes[reach]:
        first = np.nonzero((low > 0) & (low <= (whole // 2 if reach == 0 else whole)))[0]
        found.append((first, np.searchsorted(high, whole - low[first], side="right") - 1))
    return found


def fill(table, cx, cy, columns, rows, masks, paid):
    here = table[cx, cy]
    up = cuts(rows, cy)
    joined = [(a, b, a ^ b, paid[a & b]) for a in range(masks) for b in range(masks)]
    for ix, (first, second) in enumerate(cuts(columns, cx)):
        if ix:
            np.maximum(here[:, ix], here[:, ix - 1], out=here[:, ix])
        if len(first):
            left, right = table[cx & 1, cy], table[cx & 2, cy]
            for a, b, odd, less in joined:
                best = (left[a][first] + right[b][second]).max(axis=0) - less
                np.maximum(here[odd, ix], best, out=here[odd, ix])
        below, above = table[cx, cy & 1][:, ix], table[cx, cy & 2][:, ix]
        for iy, (first, second) in enumerate(up):
            if iy:
                np.maximum(here[:, ix, iy], here[:, ix, iy - 1], out=here[:, ix, iy])
            if len(first):
                for a, b, odd, less in joined:
                    best = int((below[a][first] + above[b][second]).max()) - less
                    if best > here[odd, ix, iy]:
                        here[odd, ix, iy] = best
