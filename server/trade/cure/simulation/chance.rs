//! Chance that can be played again.

/// A small seeded generator (splitmix64), so that a failure can be played again.
pub(super) struct Chance(pub(super) u64);

impl Chance {
    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    pub(super) fn below(&mut self, most: i64) -> i64 {
        i64::try_from(self.next() % u64::try_from(most).unwrap()).unwrap()
    }

    pub(super) fn index(&mut self, length: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(length).unwrap()).unwrap()
    }

    pub(super) fn one_in(&mut self, many: u64) -> bool {
        self.next().is_multiple_of(many)
    }
}
