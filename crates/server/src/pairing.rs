//! Pairing: a device that knows the code on this machine's screen gets a token.
//!
//! A code is good for one device and for five wrong tries, then another takes its place. A
//! token is 32 random bytes; only its SHA-256 is kept (it is as unguessable as the token, so no
//! slow hash is needed). A device's token is revoked by taking it off the list.

use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{SystemTime, UNIX_EPOCH};

use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};
use uuid::Uuid;

use crate::error::ServerError;

/// Wrong tries that one code bears: with 10^8 codes a guesser's chance stays below one in ten million.
const TRIES: u32 = 5;

/// Most devices on the list.
const MOST_DEVICES: usize = 100;

/// Longest name of a device, in characters.
const LONGEST_NAME: usize = 60;

/// The code on the screen and the devices that are in.
#[derive(Debug)]
pub struct Pairing {
    file: PathBuf,
    held: Mutex<Held>,
}

#[derive(Debug)]
struct Held {
    code: String,
    wrong: u32,
    devices: Vec<Device>,
}

/// A paired device.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Device {
    /// Its name in the list, made at pairing; not the journal's device id.
    pub id: Uuid,
    /// What it calls itself.
    pub name: String,
    /// When it was paired, in seconds since 1970.
    pub paired_at_s: u64,
    /// SHA-256 of its token, in hexadecimal.
    token_sha256: String,
}

/// What became of a try to pair.
#[derive(Debug)]
pub enum Tried {
    /// In; the token is told this once. Another code is on the screen now.
    In {
        /// The device as listed.
        device: Device,
        /// Its token.
        token: String,
    },
    /// Not the code.
    Wrong {
        /// Whether it was one wrong try too many and another code is on the screen now.
        renewed: bool,
    },
    /// The list is full.
    Full {
        /// Its bound.
        most: usize,
    },
}

impl Pairing {
    /// Reads the list of devices, empty when there is none yet, and draws a code.
    pub fn open(data: &Path) -> Result<Self, ServerError> {
        let file = data.join("paired-devices.json");
        let devices = match std::fs::read_to_string(&file) {
            Ok(text) => serde_json::from_str(&text).map_err(|why| ServerError::Damaged {
                path: file.clone(),
                why: why.to_string(),
            })?,
            Err(why) if why.kind() == std::io::ErrorKind::NotFound => Vec::new(),
            Err(source) => {
                return Err(ServerError::File {
                    act: "read",
                    path: file,
                    source,
                });
            }
        };
        let held = Mutex::new(Held {
            code: new_code()?,
            wrong: 0,
            devices,
        });
        Ok(Self { file, held })
    }

    /// The code on the screen: eight digits.
    pub fn code(&self) -> String {
        self.held().code.clone()
    }

    /// Lets a device in if it knows the code; spaces in it do not matter.
    pub fn try_code(&self, code: &str, name: &str) -> Result<Tried, ServerError> {
        let mut held = self.held();
        let digits: String = code
            .chars()
            .filter(|c| !c.is_whitespace() && *c != '-')
            .collect();
        if digits != held.code {
            held.wrong += 1;
            let renewed = held.wrong >= TRIES;
            if renewed {
                (held.code, held.wrong) = (new_code()?, 0);
            }
            return Ok(Tried::Wrong { renewed });
        }
        if held.devices.len() >= MOST_DEVICES {
            return Ok(Tried::Full { most: MOST_DEVICES });
        }
        let token = hex(&random::<32>()?);
        let device = Device {
            id: uuid::Builder::from_random_bytes(random()?).into_uuid(),
            name: clean_name(name),
            paired_at_s: SystemTime::now()
                .duration_since(UNIX_EPOCH)
                .map_or(0, |d| d.as_secs()),
            token_sha256: hash(&token),
        };
        let next_code = new_code()?;
        let mut devices = held.devices.clone();
        devices.push(device.clone());
        self.write(&devices)?;
        *held = Held {
            code: next_code,
            wrong: 0,
            devices,
        };
        Ok(Tried::In { device, token })
    }

    /// Whether a token is a paired device's.
    pub fn knows(&self, token: &str) -> bool {
        let hash = hash(token);
        self.held()
            .devices
            .iter()
            .any(|device| device.token_sha256 == hash)
    }

    /// The devices that are in, first paired first.
    pub fn devices(&self) -> Vec<Device> {
        self.held().devices.clone()
    }

    /// Takes a device off the list; its token is worth nothing from now on. Whether it was there.
    pub fn revoke(&self, id: Uuid) -> Result<bool, ServerError> {
        let mut held = self.held();
        let left: Vec<_> = held
            .devices
            .iter()
            .filter(|device| device.id != id)
            .cloned()
            .collect();
        let was_there = left.len() < held.devices.len();
        if was_there {
            self.write(&left)?;
            held.devices = left;
        }
        Ok(was_there)
    }

    fn held(&self) -> MutexGuard<'_, Held> {
        // each change is written before it is made here, so a panic leaves nothing half done
        self.held.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn write(&self, devices: &[Device]) -> Result<(), ServerError> {
        let text = serde_json::to_string_pretty(devices)
            .map_err(|why| cannot_write(&self.file, why.into()))?;
        write_private(&self.file, text.as_bytes())
    }
}

/// Writes a file that only its owner may read, whole or not at all.
pub(crate) fn write_private(path: &Path, bytes: &[u8]) -> Result<(), ServerError> {
    use std::io::Write as _;
    let near = path.with_extension("new");
    let mut options = std::fs::OpenOptions::new();
    options.write(true).create(true).truncate(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let written = options
        .open(&near)
        .and_then(|mut file| file.write_all(bytes).and_then(|()| file.sync_all()))
        .and_then(|()| std::fs::rename(&near, path));
    written.map_err(|why| cannot_write(path, why))
}

fn cannot_write(path: &Path, source: std::io::Error) -> ServerError {
    ServerError::File {
        act: "write",
        path: path.to_path_buf(),
        source,
    }
}

pub(crate) fn random<const N: usize>() -> Result<[u8; N], ServerError> {
    let mut bytes = [0; N];
    getrandom::fill(&mut bytes).map_err(|why| ServerError::Random(why.to_string()))?;
    Ok(bytes)
}

/// Eight digits. The bias of the remainder is below 10^-11.
fn new_code() -> Result<String, ServerError> {
    let number = u64::from_be_bytes(random()?) % 100_000_000;
    Ok(format!("{number:08}"))
}

pub(crate) fn hash(token: &str) -> String {
    hex(&Sha256::digest(token.as_bytes()))
}

pub(crate) fn hex(bytes: &[u8]) -> String {
    use std::fmt::Write as _;
    bytes.iter().fold(String::new(), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

/// A name without control characters, not too long, never empty.
fn clean_name(name: &str) -> String {
    let name: String = name
        .chars()
        .filter(|c| !c.is_control())
        .take(LONGEST_NAME)
        .collect();
    let name = name.trim();
    if name.is_empty() {
        "a device".to_owned()
    } else {
        name.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scratch(name: &str) -> PathBuf {
        let folder = std::env::temp_dir().join(format!("pairing-{name}-{}", std::process::id()));
        std::fs::create_dir_all(&folder).expect("a folder for the test");
        folder
    }

    #[test]
    fn a_code_is_good_once_and_the_token_outlives_a_restart() {
        let data = scratch("once");
        let pairing = Pairing::open(&data).expect("opens");
        let code = pairing.code();
        let spaced = format!("{} {}", &code[..4], &code[4..]);
        let Tried::In { device, token } = pairing.try_code(&spaced, "phone").expect("works") else {
            panic!("the code is right");
        };
        assert!(matches!(
            pairing.try_code(&code, "second").expect("works"),
            Tried::Wrong { renewed: false }
        ));
        drop(pairing);
        let again = Pairing::open(&data).expect("opens");
        assert!(again.knows(&token) && !again.knows("") && !again.knows(&device.token_sha256));
        assert!(again.revoke(device.id).expect("works"));
        assert!(!again.knows(&token));
        assert!(!Pairing::open(&data).expect("opens").knows(&token));
    }

    #[test]
    fn the_token_itself_is_nowhere_on_disk() {
        let data = scratch("disk");
        let pairing = Pairing::open(&data).expect("opens");
        let Tried::In { token, .. } = pairing.try_code(&pairing.code(), "p").expect("works") else {
            panic!("the code is right");
        };
        for file in std::fs::read_dir(&data).expect("lists") {
            let text = std::fs::read_to_string(file.expect("an entry").path()).expect("reads");
            assert!(!text.contains(&token));
        }
    }

    #[test]
    fn five_wrong_tries_and_another_code_is_on_the_screen() {
        let pairing = Pairing::open(&scratch("wrong")).expect("opens");
        let code = pairing.code();
        let outcomes: Vec<bool> = (0..TRIES)
            .map(|_| {
                matches!(
                    pairing.try_code("not it", "x").expect("works"),
                    Tried::Wrong { renewed: true }
                )
            })
            .collect();
        assert_eq!(outcomes, [false, false, false, false, true]);
        assert_ne!(pairing.code(), code);
    }
}
