//! Wattle Bend: five invented hives over one season of spoken visits, for trying things on.

use crate::failure::Failure;
use crate::journal::Open;

/// Brings the yard into a journal.
pub(crate) async fn bring(open: &Open) -> Result<(), Failure> {
    let _ = open;
    Ok(())
}
