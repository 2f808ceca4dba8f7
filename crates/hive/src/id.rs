//! Names that two devices never give twice: UUIDs, made outside (version 7), carried here.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};
use uuid::Uuid;

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(
            Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
        )]
        #[serde(transparent)]
        pub struct $name(pub Uuid);

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }
        impl FromStr for $name {
            type Err = uuid::Error;
            fn from_str(text: &str) -> Result<Self, uuid::Error> {
                Uuid::parse_str(text).map(Self)
            }
        }
        impl From<Uuid> for $name {
            fn from(uuid: Uuid) -> Self {
                Self(uuid)
            }
        }
    };
}

id! {
    /// One journal entry (UUID version 7, made by the device that wrote it).
    EntryId
}
id! {
    /// One device that writes entries: a phone, a desk.
    DeviceId
}
id! {
    /// One hive, whatever it is called.
    HiveId
}
id! {
    /// One bar, whatever number is painted on it and wherever it hangs.
    BarId
}
id! {
    /// One apiary.
    ApiaryId
}
