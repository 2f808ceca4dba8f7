//! The devices that the server lets in, as its own desk sees them. A phone is not told.

use jiff::Timestamp;
use serde::Deserialize;

use super::Journal;
use super::far;
use super::link::Why;

/// What the desk knows of devices.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LetIn {
    /// The code that the next one pairs with.
    pub code: String,
    /// Where phones find the app; empty while the local network is not let in.
    pub addresses: Vec<String>,
    /// Where a new phone begins.
    pub first: Vec<String>,
    /// In the order paired.
    pub devices: Vec<Paired>,
}

/// A paired device.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct Paired {
    /// Its name in the list.
    pub id: String,
    /// What it calls itself.
    pub name: String,
    #[serde(rename = "paired_at_s")]
    since_s: i64,
}

impl Paired {
    /// When it was paired.
    pub fn at(&self) -> Timestamp {
        Timestamp::from_second(self.since_s).unwrap_or_default()
    }
}

#[derive(Deserialize)]
struct Pairing {
    code: String,
    addresses: Vec<String>,
    first: Vec<String>,
}

#[derive(Deserialize)]
struct Devices {
    devices: Vec<Paired>,
}

impl Journal {
    /// Asks the server; `None` where this is not its desk, or it is not reached.
    pub async fn let_in(self) -> Option<LetIn> {
        let pairing: Pairing = far::ask("GET", far::PAIRING, None, None).await.ok()?;
        let Devices { devices } = far::ask("GET", far::DEVICES, None, None).await.ok()?;
        Some(LetIn {
            code: pairing.code,
            addresses: pairing.addresses,
            first: pairing.first,
            devices,
        })
    }

    /// Lets a device in no longer.
    ///
    /// # Errors
    /// [`Why`], in words [`crate::texts::why`].
    pub async fn let_out(self, device: &str) -> Result<(), Why> {
        let path = format!("{}/{device}", far::DEVICES);
        far::ask("DELETE", &path, None, None)
            .await
            .map_err(Why::of_far)
    }
}
