//! The chain: each record's hash covers the hash before it and the entry's exact text.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Deserializer, Serialize, Serializer};
use sha2::{Digest as _, Sha256};

/// SHA-256 (FIPS 180-4) of the hash before and the entry's text. Written as 64 lower-case
/// hexadecimal digits.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Hash(pub [u8; 32]);

impl Hash {
    /// What stands before a device's first entry.
    pub const ORIGIN: Self = Self([0; 32]);

    /// The hash of the entry with this text that follows `self`: `SHA-256(self || text)`.
    #[must_use]
    pub fn followed_by(&self, text: &[u8]) -> Self {
        let mut hasher = Sha256::new();
        hasher.update(self.0);
        hasher.update(text);
        Self(hasher.finalize().into())
    }
}

impl fmt::Display for Hash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

impl fmt::Debug for Hash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Hash({self})")
    }
}

/// The text is not 64 lower-case hexadecimal digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("is not 64 lower-case hexadecimal digits")]
pub struct NotAHash;

impl FromStr for Hash {
    type Err = NotAHash;

    fn from_str(text: &str) -> Result<Self, NotAHash> {
        let digits = text.as_bytes();
        if digits.len() != 64 {
            return Err(NotAHash);
        }
        let mut bytes = [0; 32];
        for (byte, pair) in bytes.iter_mut().zip(digits.chunks_exact(2)) {
            *byte = digit(pair[0])? << 4 | digit(pair[1])?;
        }
        Ok(Self(bytes))
    }
}

/// One writing only, so that an export has one form.
fn digit(character: u8) -> Result<u8, NotAHash> {
    match character {
        b'0'..=b'9' => Ok(character - b'0'),
        b'a'..=b'f' => Ok(character - b'a' + 10),
        _ => Err(NotAHash),
    }
}

impl Serialize for Hash {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Hash {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        String::deserialize(deserializer)?
            .parse()
            .map_err(serde::de::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: NIST, SHA-256 example vector for the message "abc" (FIPS 180-4 examples). The chain
    /// puts 32 bytes before the text, so the vector's hash is that of its parts joined.
    #[test]
    fn the_chain_is_sha_256_over_the_bytes_joined() {
        let vector = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        let direct: [u8; 32] = Sha256::digest(b"abc").into();
        assert_eq!(Hash(direct).to_string(), vector);
        let joined = [&direct[..], b"entry"].concat();
        assert_eq!(
            Hash(direct).followed_by(b"entry"),
            Hash(Sha256::digest(&joined).into())
        );
    }

    #[test]
    fn a_hash_reads_back_as_it_was_written_and_in_no_other_form() {
        let hash = Hash::ORIGIN.followed_by(b"x");
        assert_eq!(hash.to_string().parse(), Ok(hash));
        assert_eq!(
            hash.to_string().to_uppercase().parse::<Hash>(),
            Err(NotAHash)
        );
        assert_eq!("f".repeat(63).parse::<Hash>(), Err(NotAHash));
    }
}
