//! `combwright paper feed`: the address under which calendar programs read what is due.

use serde_json::json;
use server::FeedKey;
use server::calendar::{PATH, addresses};

use super::Context;
use crate::commands::start::port;
use crate::failure::Failure;
use crate::out;

/// Tells of the feed, makes its key anew, or takes it back.
pub(super) fn feed(context: &Context, new: bool, off: bool) -> Result<(), Failure> {
    let key = FeedKey::in_folder(&context.folder);
    let port = port(&context.folder);
    let here = format!("http://localhost:{port}{PATH}");
    if new {
        let at = addresses(port, &key.renew()?);
        if context.json {
            return out::json(&json!({ "here": here, "elsewhere": at }));
        }
        made(&here, &at);
        return Ok(());
    }
    if off {
        let was = key.revoke()?;
        if context.json {
            return out::json(&json!({ "taken_back": was }));
        }
        out::line(if was {
            "The address of the calendar feed opens nothing any more."
        } else {
            "There was no address to take back."
        });
        return Ok(());
    }
    let set = key.is_set()?;
    if context.json {
        return out::json(&json!({ "here": here, "key_is_set": set }));
    }
    out::folded(
        "On this machine: ",
        &format!("{here} while `combwright` runs; no key is needed."),
    );
    out::folded(
        "Elsewhere: ",
        if set {
            "an address with a key was made. It is kept nowhere and was told once; --new makes \
             another and ends it, --off takes it back."
        } else {
            "no address was made. `combwright paper feed --new` makes one, for phones and other \
             machines of the local network while `combwright --lan` runs."
        },
    );
    Ok(())
}

fn made(here: &str, elsewhere: &[String]) {
    out::folded("On this machine: ", &format!("{here} (no key is needed)"));
    if elsewhere.is_empty() {
        out::folded(
            "Elsewhere: ",
            "this machine has no address of a local network now; try again when it has.",
        );
    }
    for address in elsewhere {
        // an address is copied, so it stays in one piece though it is long
        out::line(format!("Elsewhere: {address}"));
    }
    out::folded(
        "",
        "Subscribe to it in the calendar program; it is read while `combwright --lan` runs. The \
         program must trust this machine's certificate, as the page for phones explains.",
    );
    out::folded(
        "Mind: ",
        "whoever has this address sees what is due at your hives and where. It is told this once; \
         --new makes another and ends it, --off takes it back.",
    );
}
