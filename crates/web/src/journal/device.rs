//! This device, as it signs its entries.

use hive::DeviceId;
use serde::{Deserialize, Serialize};

/// This device.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Device {
    /// Its id in the journal.
    pub id: DeviceId,
    /// Who writes on it.
    pub by: String,
}

impl Device {
    /// Who writes, until the keeper says otherwise.
    pub(super) const BY: &'static str = "keeper";

    /// Whether the keeper said who writes.
    pub fn is_named(&self) -> bool {
        self.by != Self::BY
    }
}
