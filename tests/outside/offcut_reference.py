"""The fewest tiles found in other ways: an integer program over all cutting patterns solved by HiGHS, a maximum
matching by networkx, one-dimensional bin packing by column generation, and what simple habits need.

Cutting patterns are enumerated here level by level. For a multiset of pieces its rooms are the smallest (width,
height, sides) in which it can be cut; those of more pieces come of a first cut between two smaller multisets.
"""

import highspy
import networkx

from offcut_check import ALL, BOTTOM, LEFT, RIGHT, TOP, fits


class TooMany(Exception):
    """More patterns than are worth enumerating here."""


def kinds_of(job):
    """Equal pieces together: their ways to lie, whether they go alone, and how many there are."""
    kinds = {}
    for name, count in job.wanted.items():
        ways = tuple(sorted({way[:3] for quarters in job.quarters for way in [job.way(job.pieces[name], quarters)]}))
        key = (ways, job.alone(name))
        kinds[key] = kinds.get(key, 0) + count
    return [(ways, alone, count) for (ways, alone), count in sorted(kinds.items())]


def dominated(room, rooms):
    return any(w <= room[0] and h <= room[1] and needs & ~room[2] == 0 for w, h, needs in rooms)


def front(rooms):
    kept = []
    for room in sorted(set(rooms)):
        if not dominated(room, kept):
            kept = [other for other in kept if not dominated(other, [room])] + [room]
    return tuple(kept)


def joined(first, second, kerf, width, height):
    """Rooms of the two beside or above each other."""
    for a, b in ((first, second), (second, first)):
        for wa, ha, na in a:
            for wb, hb, nb in b:
                if not na & RIGHT and not nb & LEFT and wa + kerf + wb <= width:
                    yield wa + kerf + wb, max(ha, hb), na | nb
                if not na & TOP and not nb & BOTTOM and ha + kerf + hb <= height:
                    yield max(wa, wb), ha + kerf + hb, na | nb


def patterns(job, whole, most):
    """Every largest multiset of kinds, no more of one than wanted, that can be cut from the whole."""
    width, height, own = whole
    kinds = kinds_of(job)
    fitting = lambda ways: [way for way in ways if fits(Way(*way), width, height, own)]
    rooms, lonely = {}, []
    for at, (ways, alone, _) in enumerate(kinds):
        ways = front(fitting(ways))
        if ways and alone:
            lonely.append((at,))
        elif ways:
            rooms[(at,)] = ways
    level, single, largest = list(rooms), [kind for (kind,) in rooms], []
    while level:
        above, grown = [], set()
        for pattern in level:
            for kind in single:
                if kind < pattern[-1] or pattern.count(kind) >= kinds[kind][2]:
                    continue
                larger = pattern + (kind,)
                # Who can be cut together can be cut with one left out.
                smaller = {larger[:at] + larger[at + 1 :] for at in range(len(larger))}
                if not all(one in rooms for one in smaller):
                    continue
                found = front(
                    room for a, b in splits(larger) for room in joined(rooms[a], rooms[b], job.kerf, width, height)
                )
                if found:
                    rooms[larger] = found
                    above.append(larger)
                    grown |= smaller
                if len(rooms) > most:
                    raise TooMany
        largest += [pattern for pattern in level if pattern not in grown]
        level = above
    return kinds, largest + lonely


class Way:
    def __init__(self, width, height, needs):
        self.width, self.height, self.needs = width, height, needs


def splits(pattern):
    """Every way to part a multiset in two, each once."""
    seen = set()
    for chosen in range(1, 1 << (len(pattern) - 1)):
        a = tuple(p for at, p in enumerate(pattern) if chosen >> at & 1)
        b = tuple(p for at, p in enumerate(pattern) if not chosen >> at & 1)
        if (a, b) not in seen:
            seen.add((a, b))
            yield a, b


def fewest_tiles(job, most=30_000, seconds=60):
    """The optimum by an integer program over all patterns. `TooMany` where they are, None where time is up."""
    kinds, of_tile = patterns(job, (job.width, job.height, ALL), most)
    columns = [(1, None, pattern) for pattern in of_tile]
    for name, racked in job.rack.items():
        columns += [(0, name, pattern) for pattern in patterns(job, job.racked(racked), most)[1]]
    rows = list(range(len(kinds)))
    names = {name: len(kinds) + at for at, name in enumerate(job.rack)}
    limits = [(count, highspy.kHighsInf) for _, _, count in kinds] + [(0, 1) for _ in names]
    lp = highspy.Highs()
    lp.setOptionValue("output_flag", False)
    lp.setOptionValue("time_limit", float(seconds))
    for least, limit in limits:
        lp.addRow(least, limit, 0, [], [])
    for cost, rack, pattern in columns:
        entries = {row: pattern.count(row) for row in set(pattern)}
        if rack is not None:
            entries[names[rack]] = 1
        lp.addCol(cost, 0, highspy.kHighsInf, len(entries), list(entries), list(map(float, entries.values())))
    whole = list(range(len(columns)))
    lp.changeColsIntegrality(len(whole), whole, [highspy.HighsVarType.kInteger] * len(whole))
    lp.run()
    if lp.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    return round(lp.getObjectiveValue())


def fewest_by_pairs(job):
    """Pieces less a maximum matching of those that can share; right where no three share a tile."""
    names = list(job.wanted.elements())
    graph = networkx.Graph()
    graph.add_nodes_from(range(len(names)))
    shares = lambda a, b: any(
        True for _ in joined([w[:3] for w in job.ways[a]], [w[:3] for w in job.ways[b]], job.kerf, job.width, job.height)
    )
    graph.add_edges_from(
        (a, b) for a in range(len(names)) for b in range(a) if shares(names[a], names[b])
    )
    return len(names) - len(networkx.max_weight_matching(graph, maxcardinality=True))


def strips_bound(sizes, capacity):
    """The linear bound of one-dimensional bin packing, rounded up: column generation, a knapsack for the prices."""
    wanted = {}
    for size in sizes:
        wanted[size] = wanted.get(size, 0) + 1
    kinds = sorted(wanted)
    lp = highspy.Highs()
    lp.setOptionValue("output_flag", False)
    for kind in kinds:
        lp.addRow(wanted[kind], highspy.kHighsInf, 0, [], [])
    for row, kind in enumerate(kinds):
        lp.addCol(1, 0, highspy.kHighsInf, 1, [row], [float(min(capacity // kind, wanted[kind]))])
    while True:
        lp.run()
        prices = list(lp.getSolution().row_dual)
        worth, pattern = knapsack(kinds, prices, [wanted[kind] for kind in kinds], capacity)
        if worth <= 1 + 1e-7:
            return int(-(-(lp.getObjectiveValue() / max(1, worth) - 1e-6) // 1))
        entries = {row: pattern.count(row) for row in set(pattern)}
        lp.addCol(1, 0, highspy.kHighsInf, len(entries), list(entries), list(map(float, entries.values())))


def knapsack(sizes, prices, wanted, capacity):
    """The most worth of one bin, no more of a size than wanted, and what is in it."""
    best = [(0.0, ())] * (capacity + 1)
    for row, (size, price, count) in enumerate(zip(sizes, prices, wanted)):
        if price <= 1e-12:
            continue
        for _ in range(min(count, capacity // size)):
            for room in range(capacity, size - 1, -1):
                worth, held = best[room - size]
                if worth + price > best[room][0] + 1e-15:
                    best[room] = (worth + price, held + (row,))
    return best[capacity]


def by_habit(job, order):
    """Tiles of a simple habit: each piece from the first offcut at hand that serves, else from a new tile."""
    names = sorted(job.wanted.elements(), key=order) if order else list(job.wanted.elements())
    parts = [job.racked(racked) for racked in job.rack.values()]
    tiles = 0
    for name in names:
        if job.alone(name):
            tiles += 1
            continue
        served = next(((at, way) for at, part in enumerate(parts) for way in job.ways[name] if fits(way, *part)), None)
        if served is None:
            tiles += 1
            parts.append((job.width, job.height, ALL))
            served = (len(parts) - 1, job.ways[name][0])
        at, way = served
        parts[at : at + 1] = rest(parts[at], way, job.kerf)
    return tiles


def rest(part, way, kerf):
    """What is left of the part: cut across x first where that leaves the larger offcut whole."""
    width, height, own = part
    beside, above = width - kerf - way.width, height - kerf - way.height
    lies = lambda low, high: low if way.needs & low or not way.needs & high else high
    x_side, y_side = lies(LEFT, RIGHT), lies(BOTTOM, TOP)
    first_x = beside * height >= above * width
    right = (beside, height if first_x else way.height, own & ~x_side & ~(0 if first_x else (BOTTOM | TOP) ^ y_side))
    upper = (way.width if first_x else width, above, own & ~y_side & ~(((LEFT | RIGHT) ^ x_side) if first_x else 0))
    return [(w, h, sides) for w, h, sides in (right, upper) if w > 0 and h > 0]


HABITS = {
    "setting order": lambda job: None,
    "largest first": lambda job: lambda name: -job.ways[name][0].width * job.ways[name][0].height,
    "widest first": lambda job: lambda name: -job.ways[name][0].width,
    "tallest first": lambda job: lambda name: (-job.ways[name][0].height, -job.ways[name][0].width),
}


def fewest_by_habit(job):
    return min(by_habit(job, order(job)) for order in HABITS.values())
