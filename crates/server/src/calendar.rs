//! The calendar feed: due things for calendar programs, which can send no token.
//!
//! Whoever reads it from outside this machine names a key in the address. It is 32 random bytes;
//! only its SHA-256 is kept, as with devices' tokens, so it is told once, when it is made. There is
//! one key; another one, or taking it back, ends the one before. It opens the calendar and nothing
//! else.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::addresses::{bracketed, names};
use crate::error::ServerError;
use crate::exchange::Answer;
use crate::pairing::{hash, hex, random, write_private};

/// The path of the feed.
pub const PATH: &str = "/calendar.ics";

/// Where due things come from.
pub trait Calendar: Send + Sync + 'static {
    /// Everything due, as a calendar stream (RFC 5545).
    fn due(&self) -> Answer<'_, String>;
}

/// The key's file in a data folder. It is read at each question, so that a key made or taken back
/// by another program counts at once.
#[derive(Debug, Clone)]
pub struct FeedKey {
    file: PathBuf,
}

#[derive(Debug, Serialize, Deserialize)]
struct Kept {
    /// SHA-256 of the key, in hexadecimal.
    key_sha256: String,
}

impl FeedKey {
    /// Of the server whose data is kept in this folder.
    pub fn in_folder(data: &Path) -> Self {
        Self {
            file: data.join("calendar-key.json"),
        }
    }

    /// Whether there is a key.
    ///
    /// # Errors
    /// [`ServerError::File`], [`ServerError::Damaged`].
    pub fn is_set(&self) -> Result<bool, ServerError> {
        Ok(self.kept()?.is_some())
    }

    /// Whether this is the key.
    ///
    /// # Errors
    /// [`ServerError::File`], [`ServerError::Damaged`].
    pub fn knows(&self, key: &str) -> Result<bool, ServerError> {
        let kept = self.kept()?;
        Ok(kept.is_some_and(|kept| kept.key_sha256 == hash(key)))
    }

    /// Makes a key, in place of any before, and gives it this once.
    ///
    /// # Errors
    /// [`ServerError::File`], [`ServerError::Random`].
    pub fn renew(&self) -> Result<String, ServerError> {
        let key = hex(&random::<32>()?);
        let kept = Kept {
            key_sha256: hash(&key),
        };
        let text = serde_json::to_string_pretty(&kept).map_err(|why| ServerError::File {
            act: "write",
            path: self.file.clone(),
            source: why.into(),
        })?;
        if let Some(folder) = self.file.parent() {
            std::fs::create_dir_all(folder).map_err(|source| self.cannot("write", source))?;
        }
        write_private(&self.file, text.as_bytes())?;
        Ok(key)
    }

    /// Takes the key back; whether there was one.
    ///
    /// # Errors
    /// [`ServerError::File`].
    pub fn revoke(&self) -> Result<bool, ServerError> {
        match std::fs::remove_file(&self.file) {
            Ok(()) => Ok(true),
            Err(why) if why.kind() == std::io::ErrorKind::NotFound => Ok(false),
            Err(source) => Err(self.cannot("write", source)),
        }
    }

    fn kept(&self) -> Result<Option<Kept>, ServerError> {
        match std::fs::read_to_string(&self.file) {
            Ok(text) => serde_json::from_str(&text)
                .map(Some)
                .map_err(|why| ServerError::Damaged {
                    path: self.file.clone(),
                    why: why.to_string(),
                }),
            Err(why) if why.kind() == std::io::ErrorKind::NotFound => Ok(None),
            Err(source) => Err(self.cannot("read", source)),
        }
    }

    fn cannot(&self, act: &'static str, source: std::io::Error) -> ServerError {
        ServerError::File {
            act,
            path: self.file.clone(),
            source,
        }
    }
}

/// Addresses of the feed for other devices of the local network, as a server on this machine with
/// this plain port and the local network let in has them.
pub fn addresses(plain_port: u16, key: &str) -> Vec<String> {
    let port = plain_port.saturating_add(1);
    names(&[])
        .iter()
        .map(|name| address(&format!("https://{}:{port}/", bracketed(name)), key))
        .collect()
}

/// The address of the feed for this machine's own programs, under the app's address here.
pub fn here(app: &str) -> String {
    format!("{}{PATH}", app.trim_end_matches('/'))
}

/// The address of the feed under an address of the app, which ends in a stroke.
pub fn address(app: &str, key: &str) -> String {
    format!("{}?key={key}", here(app))
}
