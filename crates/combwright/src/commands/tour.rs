//! `combwright tour`: a walk through the main job on Wattle Bend.

use super::Context;
use crate::failure::Failure;

/// Runs the command.
pub(crate) async fn tour(context: &Context) -> Result<(), Failure> {
    let _ = context;
    Ok(())
}
