//! Demands like those of real rooms, drawn by lot from a seed: row ends of walls in bond, rips under the ceiling,
//! corner pieces, pieces round niches and outlets, small free ones.

use super::{Demand, Wanted};
use crate::geometry::{Side, Sides};
use crate::measure::Length;

use Side::{Bottom, Left, Right, Top};

/// A demand of about so many pieces.
pub fn room(seed: u64, pieces: usize) -> Demand {
    let mut lot = Lot(seed);
    let inches = lot.one_in(4);
    let unit = if inches { Length::sixty_fourths(4) } else { Length::mm(1) };
    let (width, height) = if inches {
        *lot.of(&[(384, 192), (192, 384), (96, 48), (192, 192)])
    } else {
        *lot.of(&[(600, 300), (300, 600), (600, 600), (200, 100), (400, 250), (900, 300)])
    };
    let mut room = Room {
        demand: Demand {
            tile_width: unit * width,
            tile_height: unit * height,
            kerf: unit * *lot.of(&[0, 2, 2, 3]),
            half_turn: !lot.one_in(6),
            quarter_turn: lot.one_in(6),
            pieces: Vec::new(),
            rack: Vec::new(),
        },
        unit,
        width,
        height,
        lot,
    };
    while room.demand.pieces.len() < pieces {
        room.wall();
    }
    room.demand.pieces.truncate(pieces);
    room.demand
}

/// Cutting stock: full-height pieces that need no side, so that only their widths count.
pub fn stock(whole: i64, widths: &[i64]) -> Demand {
    let pieces = widths.iter().map(|width| Wanted {
        id: "p".to_owned(),
        width: Length::mm(*width),
        height: Length::mm(100),
        factory: Sides::NONE,
        alone: false,
    });
    Demand {
        tile_width: Length::mm(whole),
        tile_height: Length::mm(100),
        kerf: Length::ZERO,
        half_turn: true,
        quarter_turn: false,
        pieces: pieces.collect(),
        rack: Vec::new(),
    }
}

/// Triplets after E. Falkenauer, 1996: sizes that go into the whole in threes without any rest.
pub fn triplets(seed: u64, triples: usize) -> Demand {
    let mut lot = Lot(seed);
    let mut widths = Vec::new();
    for _ in 0..triples {
        let first = lot.from(380, 490);
        let second = lot.from(250, (1000 - first) / 2);
        widths.extend([first, second, 1000 - first - second]);
    }
    stock(1000, &widths)
}

/// Sizes drawn evenly, as in E. Falkenauer's uniform and A. Scholl's instances.
pub fn uniform(seed: u64, count: usize, whole: i64, least: i64, most: i64) -> Demand {
    let mut lot = Lot(seed);
    let widths: Vec<i64> = (0..count).map(|_| lot.from(least, most)).collect();
    stock(whole, &widths)
}

struct Room {
    demand: Demand,
    unit: Length,
    width: i64,
    height: i64,
    lot: Lot,
}

impl Room {
    /// Courses of row ends, the top one ripped, then what goes round a niche.
    fn wall(&mut self) {
        let (width, height) = (self.width, self.height);
        let rows = self.lot.from(4, 4 + 2400 / height.max(100));
        let long = self.lot.from(2 * width, 8 * width);
        let bond = *self.lot.of(&[1, 2, 2, 3]);
        let start = self.lot.from(width / 5, width);
        let (lean_left, lean_right) = (self.lean(), self.lean());
        for row in 0..rows {
            let left = (start + row % bond * width / bond + row * lean_left / 2) % width;
            let right = (long - left + row * lean_right / 2).rem_euclid(width);
            self.add(left, height, &[Right, Bottom, Top]);
            self.add(right, height, &[Left, Bottom, Top]);
        }
        let top = self.lot.from(20, height - 1);
        let scribed = self.lean();
        for nth in 0..long / width - 1 {
            self.add(width, top + nth * scribed, &[Left, Right, Bottom]);
        }
        let left = self.lot.from(20, width - 1);
        self.add(left, top, &[Right, Bottom]);
        self.add((long - left).rem_euclid(width), top + long / width * scribed, &[Left, Bottom]);
        if self.lot.one_in(2) {
            self.niche();
        }
    }

    /// Pieces beside, below and above it, and notched ones as large as what is left of the tile.
    fn niche(&mut self) {
        let sides: &[&[Side]] = &[
            &[],
            &[],
            &[Left],
            &[Right],
            &[Top],
            &[Bottom],
            &[Left, Bottom],
            &[Right, Top],
            &[Left, Right, Top],
        ];
        for _ in 0..self.lot.from(2, 8) {
            let needs = *self.lot.of(sides);
            let small = if self.lot.one_in(2) { 3 } else { 1 };
            let width = self.lot.from(15, self.width - 1) / small;
            let height = self.lot.from(15, self.height - 1) / small;
            let width = if needs.contains(&Left) && needs.contains(&Right) { self.width } else { width };
            for _ in 0..self.lot.from(1, 2) {
                self.add(width, height, needs);
            }
        }
    }

    /// How much each course or each tile differs from the one before: often nothing.
    fn lean(&mut self) -> i64 {
        if self.lot.one_in(2) { 0 } else { self.lot.from(0, 3) }
    }

    /// Unless it is a whole tile or nothing to speak of.
    fn add(&mut self, width: i64, height: i64, needs: &[Side]) {
        let fits =
            width <= self.width && height <= self.height && (width, height) != (self.width, self.height);
        if width >= 5 && height >= 5 && fits {
            let factory: Sides = needs.iter().copied().collect();
            let id = format!("p{}", self.demand.pieces.len());
            let (width, height) = (self.unit * width, self.unit * height);
            let alone = self.lot.one_in(200);
            self.demand.pieces.push(Wanted { id, width, height, factory, alone });
        }
    }
}

/// Numbers as if drawn by lot (splitmix64).
pub struct Lot(pub u64);

impl Lot {
    /// One of `least..=most`.
    pub fn from(&mut self, least: i64, most: i64) -> i64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^= mixed >> 31;
        least + i64::try_from(mixed >> 2).unwrap().rem_euclid((most - least + 1).max(1))
    }

    fn one_in(&mut self, n: i64) -> bool {
        self.from(1, n) == 1
    }

    fn of<'t, T>(&mut self, choices: &'t [T]) -> &'t T {
        &choices[usize::try_from(self.from(1, i64::try_from(choices.len()).unwrap())).unwrap() - 1]
    }
}
