//! Ids: random, made once, short enough for an address; and short names for what a page was drawn from.

use sha2::{Digest, Sha256};

/// 16 characters of 5 bits: 80 bits, so two crews' data can be merged without a clash.
const CHARACTERS: usize = 16;

/// Digits and letters without those that are read as another (no i, l, o, u).
const ALPHABET: &[u8; 32] = b"0123456789abcdefghjkmnpqrstvwxyz";

/// A random name of 80 bits.
pub fn random_name() -> String {
    random_bytes::<CHARACTERS>().iter().map(|byte| char::from(ALPHABET[usize::from(byte % 32)])).collect()
}

/// A short name for a value, equal for equal ones.
pub fn fingerprint(of: &impl std::fmt::Debug) -> String {
    let hash = Sha256::digest(format!("{of:?}"));
    hash.iter().take(8).map(|byte| format!("{byte:02x}")).collect()
}

/// A random number of 128 bits.
pub fn random_number() -> u128 {
    u128::from_be_bytes(random_bytes())
}

/// Without the kernel's randomness nothing safe can be made, so there is no way on.
#[expect(clippy::expect_used, reason = "the kernel always gives randomness on the systems we run on")]
pub(super) fn random_bytes<const N: usize>() -> [u8; N] {
    let mut bytes = [0_u8; N];
    getrandom::fill(&mut bytes).expect("the kernel gives random bytes");
    bytes
}

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident;)*) => {$(
        $(#[$doc])*
        #[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, sqlx::Type, serde::Serialize, serde::Deserialize)]
        #[sqlx(transparent)]
        #[serde(transparent)]
        pub struct $name(String);

        impl $name {
            /// A new one.
            pub fn random() -> Self {
                Self(random_name())
            }

            /// As it stands in an address.
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl From<String> for $name {
            fn from(name: String) -> Self {
                Self(name)
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                out.write_str(&self.0)
            }
        }
    )*};
}

ids! {
    /// One job.
    JobId;
    /// One person of the crew.
    PersonId;
    /// One phone or laptop.
    DeviceId;
    /// One entry of the log.
    EventId;
}
