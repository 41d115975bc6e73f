"""Writes offcut files as jobs give them, by the rules of laying tile, from a seed: the same seed, the same files.

A wall or floor is cut up course by course: whole tiles in the middle are left out, what remains are row ends at both
ends, rips at the bottom and the top, corner pieces, and pieces beside and round a niche. Lengths in the files are
numbers of millimetres or of inches in 16ths. Classes of one-dimensional bin packing, which offcuts contain as strips
of full height, are made by their published rules (from memory):
  uniform   E. Falkenauer 1996: sizes 20..100, capacity 150, n = 120
  triplets  E. Falkenauer 1996: three sizes that fill the capacity of 1000 exactly, n = 60, optimum n / 3
  set 1     A. Scholl, R. Klein, C. Juergens 1997: capacity 100, 120 or 150, sizes 1, 20 or 30 to 100, n = 50 or 100
  set 3     the same: sizes from 1/5 to 7/20 of the capacity, here 1000 instead of 100000 and n = 60 instead of 200
"""

import random

MM_TILES = [(600, 300), (300, 600), (598, 298), (400, 250), (200, 100), (305, 305), (450, 450), (1200, 200)]
# In 16ths of an inch.
INCH_TILES = [(384, 192), (192, 384), (192, 192), (160, 128), (96, 48), (288, 288)]
NOTHING = ()


def sides(*names):
    return list(names)


class Room:
    """Pieces of one kind of tile, sizes in whole millimetres or 16ths of an inch."""

    def __init__(self, chance, inches):
        self.chance, self.inches = chance, inches
        self.tile = chance.choice(INCH_TILES if inches else MM_TILES)
        self.joint = chance.choice([1, 2, 3] if inches else [2, 3])
        self.pieces = []

    def add(self, width, height, factory):
        if width >= 1 and height >= 1:
            self.pieces.append((width, height, factory))

    def surface(self, width, courses, rows_in_cycle, niche, plumb=True):
        """One wall or floor: `courses` whole courses between a bottom and a top rip."""
        tile_width, tile_height = self.tile
        pitch = tile_width + self.joint
        start = self.chance.randrange(pitch)
        bottom, top = (self.chance.randrange(tile_height // 6, tile_height) for _ in range(2))
        low, high = sorted(self.chance.sample(range(courses), 2)) if niche and courses > 2 else (-1, -1)
        for course in range(courses + 2):
            height, up = tile_height, ["bottom", "top"]
            if course == 0:
                height, up = bottom, ["top"]
            elif course == courses + 1:
                height, up = top, ["bottom"]
            lean = 0 if plumb else self.chance.randrange(3)
            offset = (start + course * pitch // rows_in_cycle) % pitch
            self.row(width + lean, offset, height, up)
            if low <= course - 1 < high:
                self.beside_a_niche(height, up)

    def row(self, width, offset, height, up):
        tile_width, _ = self.tile
        left = offset - self.joint
        self.add(min(left, width), height, sides("right", *up))
        at = offset
        while at + tile_width <= width:
            if len(up) == 1:
                self.add(tile_width, height, sides("left", "right", *up))
            at += tile_width + self.joint
        self.add(width - at, height, sides("left", *up))

    def beside_a_niche(self, height, up):
        """What its edges leave of two tiles, one with a hole's corner cut out, one between niche and corner."""
        tile_width, tile_height = self.tile
        self.add(self.chance.randrange(tile_width // 8, tile_width), height, sides("left", *up))
        self.add(self.chance.randrange(tile_width // 8, tile_width), height, sides("right", *up))
        self.add(self.chance.randrange(tile_width // 8, tile_width), self.chance.randrange(20, tile_height), NOTHING)
        if self.chance.random() < 0.5:
            self.add(tile_width, tile_height, sides("left", "right", "bottom", "top"))
        else:
            self.add(self.chance.randrange(tile_width // 2, tile_width), tile_height, sides("left", "bottom", "top"))


def shower(room):
    chance, (tile_width, tile_height) = room.chance, room.tile
    cycle = chance.choice([1, 2, 3])
    for width in (3.0, 4.5, 3.0):
        wide = int(tile_width * width * chance.uniform(0.6, 1.2)) + 7
        room.surface(wide, chance.randrange(4, 9), cycle, chance.random() < 0.4, chance.random() < 0.6)


def bath(room):
    chance, (tile_width, _) = room.chance, room.tile
    cycle = chance.choice([1, 2, 3])
    for width in (1.4, 2.8, 1.4):
        wide = int(tile_width * width * chance.uniform(0.7, 1.4)) + 5
        room.surface(wide, chance.randrange(3, 7), cycle, chance.random() < 0.3, chance.random() < 0.6)


def floor(room):
    chance, (tile_width, _) = room.chance, room.tile
    room.surface(int(tile_width * chance.uniform(3, 12)), chance.randrange(6, 30), chance.choice([1, 2, 3]), False)


def many_walls(room):
    chance, (tile_width, _) = room.chance, room.tile
    for _ in range(chance.randrange(6, 14)):
        cycle = chance.choice([1, 2, 3])
        room.surface(int(tile_width * chance.uniform(1, 6)), chance.randrange(2, 9), cycle, chance.random() < 0.3)


ROOMS = {"shower": shower, "bath": bath, "floor": floor, "walls": many_walls}


def job(seed, least, most, kind=None):
    """An offcut file of between `least` and `most` cut pieces, and the kind of room."""
    chance = random.Random(seed)
    kind = kind or chance.choice(sorted(ROOMS))
    wanted = round(least * (most / least) ** chance.random())
    room = Room(chance, inches=chance.random() < 0.35)
    while len(room.pieces) < wanted:
        ROOMS[kind](room)
    return as_file(room.pieces[:wanted] if least <= wanted else room.pieces, room, chance), kind


def as_file(pieces, room, chance):
    scale = 1 / 16 if room.inches else 1
    kerf = chance.choice([0, 1 / 16, 3 / 32, 1 / 8]) if room.inches else chance.choice([0, 1.5, 2, 2.2, 3])
    directional = chance.random() < 0.2
    quarter = not directional and chance.random() < 0.1
    listed = []
    together = chance.random() < 0.5
    known = {}
    for width, height, factory in pieces:
        key = (width, height, tuple(factory))
        if together and key in known:
            known[key]["count"] += 1
            continue
        piece = {"id": f"p{len(listed) + 1}", "width": width * scale, "height": height * scale, "factory": list(factory)}
        known[key] = piece | {"count": 1}
        listed.append(known[key])
    if chance.random() < 0.1:
        chance.choice(listed)["alone"] = True
    file = {
        "unit": "in" if room.inches else "mm",
        "tile": {"width": room.tile[0] * scale, "height": room.tile[1] * scale},
        "kerf": kerf,
        "half_turn": not directional,
        "quarter_turn": quarter,
        "pieces": listed,
    }
    if chance.random() < 0.15:
        file["rack"] = rack(room, scale, chance)
    return file


def rack(room, scale, chance):
    tile_width, tile_height = room.tile
    keeps = [["right", "bottom", "top"], ["left", "bottom", "top"], ["left", "bottom"], []]
    return [
        {
            "id": f"r{nth}",
            "width": chance.randrange(tile_width // 3, tile_width) * scale,
            "height": (tile_height if {"bottom", "top"} <= set(factory) else chance.randrange(20, tile_height)) * scale,
            "factory": factory,
        }
        for nth, factory in enumerate(chance.choices(keeps, k=chance.randrange(1, 4)))
    ]


def pairs_job(seed):
    """Row ends alone: no three share a tile."""
    chance = random.Random(seed)
    half_turn = chance.random() < 0.6
    pieces = [
        {
            "id": f"e{nth}",
            "width": chance.randrange(20, 600),
            "height": 300,
            "factory": [chance.choice(["left", "right"]), "bottom", "top"],
        }
        for nth in range(chance.randrange(2, 31))
    ]
    tile = {"width": 600, "height": 300}
    return {"unit": "mm", "tile": tile, "kerf": chance.choice([0, 2, 3]), "half_turn": half_turn, "pieces": pieces}


def small_job(seed):
    """A few pieces of any kind on a small tile, so that exact fits are common."""
    chance = random.Random(seed)
    width, height = chance.randrange(8, 40), chance.randrange(8, 30)
    file = {"tile": {"width": width, "height": height}, "kerf": chance.randrange(4), "half_turn": chance.random() < 0.5,
            "quarter_turn": chance.random() < 0.4, "pieces": []}
    for nth in range(chance.randrange(1, 8)):
        part = chance.choice([1, 3])
        factory = [side for side in ("left", "right", "bottom", "top") if chance.random() < 0.35]
        wide = width if {"left", "right"} <= set(factory) else max(1, chance.randrange(1, width + 1) // part)
        high = height if {"bottom", "top"} <= set(factory) else max(1, chance.randrange(1, height + 1) // part)
        piece = {"id": f"p{nth}", "width": wide, "height": high, "factory": factory, "alone": chance.random() < 0.04}
        file["pieces"].append(piece)
    if chance.random() < 0.4:
        room = lambda most: chance.randrange(1, most + 1)
        file["rack"] = [{"id": f"r{n}", "width": room(width - 1), "height": room(height - 1),
                         "factory": [chance.choice(["left", "right"]), chance.choice(["bottom", "top"])][: room(2)]}
                        for n in range(room(2))]
    return file


def strips(sizes, capacity):
    """One-dimensional bin packing as an offcut file."""
    pieces = [{"id": f"s{nth}", "width": size, "height": 10} for nth, size in enumerate(sizes)]
    return {"tile": {"width": capacity, "height": 10}, "kerf": 0, "half_turn": True, "pieces": pieces}


def uniform(seed):
    chance = random.Random(seed)
    return strips([chance.randint(20, 100) for _ in range(120)], 150)


def triplets(seed, n=60):
    chance = random.Random(seed)
    sizes = []
    for _ in range(n // 3):
        first = chance.randint(380, 490)
        second = chance.randint(250, (1000 - first) // 2)
        sizes += [first, second, 1000 - first - second]
    chance.shuffle(sizes)
    return strips(sizes, 1000)


def set_1(seed):
    chance = random.Random(seed)
    capacity, least, n = chance.choice([100, 120, 150]), chance.choice([1, 20, 30]), chance.choice([50, 100])
    return strips([chance.randint(least, 100) for _ in range(n)], capacity)


def set_3(seed):
    chance = random.Random(seed)
    return strips([chance.randint(200, 350) for _ in range(60)], 1000)
