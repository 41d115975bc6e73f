//! Counted work and repeatable chance, so that the same problem gives the same plan on any machine.

/// What may still be spent. A step is about one comparison of a piece with a part.
pub(super) struct Steps(usize);

/// Numbers as good as drawn by lot, the same at every run (splitmix64, S. Vigna, from memory).
pub(super) struct Chance(u64);

impl Steps {
    pub(super) const fn of(most: usize) -> Self {
        Self(most)
    }

    /// Whether nothing is left.
    pub(super) const fn spent(&self) -> bool {
        self.0 == 0
    }

    /// Takes `count` off; false once more was asked for than was left.
    pub(super) const fn spend(&mut self, count: usize) -> bool {
        match self.0.checked_sub(count) {
            Some(left) => {
                self.0 = left;
                true
            }
            None => {
                self.0 = 0;
                false
            }
        }
    }
}

impl Chance {
    pub(super) const fn new() -> Self {
        Self(0)
    }

    /// One of `0..n`, for n from 1 to 65536.
    pub(super) fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^= mixed >> 31;
        let [.., high, low] = mixed.to_be_bytes();
        usize::from(u16::from_be_bytes([high, low])) % n
    }
}
