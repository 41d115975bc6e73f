//! Tokens that let a device in. The store keeps their hashes alone, and nothing prints them by chance.

use sha2::{Digest, Sha256};

use super::id::random_bytes;

macro_rules! secrets {
    ($($(#[$doc:meta])* $name:ident($bytes:literal);)*) => {$(
        $(#[$doc])*
        #[derive(Clone, PartialEq, Eq)]
        pub struct $name([u8; $bytes]);

        impl $name {
            /// A new one.
            pub fn random() -> Self {
                Self(random_bytes())
            }

            /// From how it stands in a cookie, form or address; anything else is `None`.
            pub fn read(hex: &str) -> Option<Self> {
                if hex.len() != 2 * $bytes || !hex.bytes().all(|byte| byte.is_ascii_hexdigit()) {
                    return None;
                }
                let mut bytes = [0_u8; $bytes];
                for (place, byte) in bytes.iter_mut().enumerate() {
                    *byte = u8::from_str_radix(hex.get(2 * place..2 * place + 2)?, 16).ok()?;
                }
                Some(Self(bytes))
            }

            /// As it stands in a cookie, form or address.
            pub fn reveal(&self) -> String {
                self.0.iter().map(|byte| format!("{byte:02x}")).collect()
            }

            /// What the store keeps of it.
            pub(super) fn hash(&self) -> Vec<u8> {
                Sha256::digest(self.0).to_vec()
            }
        }

        impl std::fmt::Debug for $name {
            fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                out.write_str(concat!(stringify!($name), "(…)"))
            }
        }
    )*};
}

secrets! {
    /// What a browser's cookie holds: 256 bits.
    SessionToken(32);
    /// What a join link's address holds: 128 bits, used once.
    LinkToken(16);
    /// What the address of a calendar holds: 128 bits.
    FeedToken(16);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_token_is_read_as_it_was_written_and_printed_as_nothing() {
        let token = LinkToken::random();
        assert_eq!(LinkToken::read(&token.reveal()), Some(token.clone()));
        assert!(!format!("{token:?}").contains(&token.reveal()));
        for garbled in [
            "",
            "00",
            "zz",
            &"g".repeat(32),
            &"0".repeat(31),
            "+1+1+1+1+1+1+1+1+1+1+1+1+1+1+1+1",
            "éééééééééééééééé",
        ] {
            assert_eq!(LinkToken::read(garbled), None, "{garbled}");
        }
    }
}
