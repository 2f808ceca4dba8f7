//! Pairing with the server.

use crate::journal::{NotPaired, Why};

/// What to do first.
pub const FIRST: &str = "Pair this device with the server";
/// Why and how.
pub const FIRST_MORE: &str = "Then the yard that is there comes over, and what is recorded here goes there. The server's screen shows the code. Without it, everything is kept on this device.";
/// Who writes here.
pub const NAME: &str = "Your name, as it stands in the record";
/// Field for the code.
pub const CODE: &str = "Code from the server's screen";
/// Its button.
pub const PAIR: &str = "Pair this device";
/// Pairing worked.
pub const PAIRED: &str = "Paired.";
/// Heading of the list at the server's desk.
pub const LET_IN: &str = "Devices let in";
/// The local network is not let in.
pub const NOT_ON_NETWORK: &str = "Phones are not let in now. Start the program with --lan, and its screen shows how a phone comes in.";
/// How the next one comes in.
pub fn next_one(explains: &str, app: &str, code: &str) -> String {
    let (first, second) = code.split_at_checked(4).unwrap_or((code, ""));
    format!(
        "The next one first opens {explains}, which tells how it comes in (once), then {app}, and pairs with \
         the code {first} {second}."
    )
}
/// Why a device was not paired.
pub fn not_paired(why: &NotPaired) -> String {
    match why {
        NotPaired::NoCode => NO_CODE.to_owned(),
        NotPaired::WrongCode => WRONG_CODE.to_owned(),
        NotPaired::Wait(seconds) => wait(*seconds),
        NotPaired::Other(Why::NotReached) => NOT_REACHED.to_owned(),
        NotPaired::Other(why) => super::why(why),
    }
}
/// No code was typed.
const NO_CODE: &str = "Type the eight digits that the server's screen shows.";
/// Another code was typed.
const WRONG_CODE: &str = "That is not the code. Compare it with the server's screen: after five wrong tries it shows another one.";
/// The server takes no try for so long.
fn wait(seconds: u32) -> String {
    format!(
        "Too many tries: the server takes none for {seconds} s. Then type the code that its screen shows by \
         then, it may be another one."
    )
}
/// Pairing did not get through.
const NOT_REACHED: &str = "The server is not reached, so nothing was paired. Is this device in the same network, and the program running with --lan?";
/// None yet.
pub const NONE: &str = "No device is paired yet.";
/// One of them.
pub fn since(name: &str, when: &str) -> String {
    format!("{name}, since {when}")
}
/// Begins to take one off the list.
pub const LET_OUT_ASK: &str = "Let in no longer";
/// For those who hear the page.
pub fn let_out(name: &str) -> String {
    format!("Let in no longer: {name}")
}
/// Does it.
pub const LET_OUT_NOW: &str = "Yes, it must pair again";
/// Does not.
pub const LET_OUT_NOT: &str = "No, it stays";
/// It was done.
pub const LET_OUT: &str = "It is let in no longer. What it recorded and sent stays in the journal.";
