//! The chain: each entry's hash covers the hash before it and the entry's exact text.

use std::fmt;
use std::str::FromStr;

use sha2::{Digest, Sha256};

/// SHA-256 (FIPS 180-4) of the hash before and the entry's text.
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

/// The text is not 64 hexadecimal digits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("is not 64 hexadecimal digits")]
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

fn digit(character: u8) -> Result<u8, NotAHash> {
    match character {
        b'0'..=b'9' => Ok(character - b'0'),
        b'a'..=b'f' => Ok(character - b'a' + 10),
        _ => Err(NotAHash),
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

        let mut joined = Hash(direct).0.to_vec();
        joined.extend_from_slice(b"entry");
        let expected: [u8; 32] = Sha256::digest(&joined).into();
        assert_eq!(Hash(direct).followed_by(b"entry"), Hash(expected));
    }

    #[test]
    fn a_hash_reads_back_as_it_was_written() {
        let hash = Hash::ORIGIN.followed_by(b"x");
        assert_eq!(hash.to_string().parse(), Ok(hash));
        assert_eq!("f".repeat(63).parse::<Hash>(), Err(NotAHash));
        // one writing only, so that an export has one form
        assert_eq!("F".repeat(64).parse::<Hash>(), Err(NotAHash));
        assert_eq!("é".repeat(32).parse::<Hash>(), Err(NotAHash));
    }
}
