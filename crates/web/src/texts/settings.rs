//! The settings screen.

/// Heading of looks.
pub const LOOKS: &str = "Looks";
/// Light or dark.
pub const LIGHT: &str = "Light";
/// The choices, in the order of `preferences::Light::ALL`.
pub const LIGHT_CHOICES: [&str; 3] = ["As the device", "Light paper", "Dark paper"];
/// Large print switch.
pub const LARGE_PRINT: &str = "Large print";
/// Heading of this device.
pub const DEVICE: &str = "This device";
/// Field for who writes.
pub const BY: &str = "Who writes here";
/// Button of that field.
pub const KEEP: &str = "Keep";
/// Whether the browser promised to keep the storage.
pub const PERSISTED: &str = "The browser has promised to keep the journal here.";
/// If it has not.
pub const NOT_PERSISTED: &str = "The browser may clear the journal when room gets short. \
    Put the app on the home screen, or exchange with the server often.";
/// Heading of the server.
pub const SERVER: &str = "Server";
/// Field for the code.
pub const CODE: &str = "Code from the server's screen";
/// Its button.
pub const PAIR: &str = "Pair this device";
/// Exchange at once.
pub const EXCHANGE: &str = "Exchange now";
/// Version line.
pub fn version(version: &str) -> String {
    format!("Combwright {version}")
}
