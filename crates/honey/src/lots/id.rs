//! Names of combs, pails, lots and fillings: stable strings, chosen by the keeper or the journal.

use serde::{Deserialize, Serialize};

macro_rules! name {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(String);

        impl $name {
            /// As text.
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }
        impl From<&str> for $name {
            fn from(name: &str) -> Self {
                Self(name.to_owned())
            }
        }
        impl From<String> for $name {
            fn from(name: String) -> Self {
                Self(name)
            }
        }
        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(&self.0)
            }
        }
        impl std::borrow::Borrow<str> for $name {
            fn borrow(&self) -> &str {
                &self.0
            }
        }
    };
}

name! {
    /// One taking of one comb (the bar grows another one later). Usually the journal entry's id.
    /// A comb cut in two for two pails is two takings.
    CombId
}
name! {
    /// One fill of a pail, not the pail as an object.
    PailId
}
name! {
    /// A lot of honey of one making.
    LotId
}
name! {
    /// Jars of one size filled from one lot at one time.
    FillId
}
