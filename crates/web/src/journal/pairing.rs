//! This device is let in by the server's code.

use exchange::FarError;
use leptos::prelude::GetUntracked as _;

use super::{Journal, Why, far};

/// Why it was not.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NotPaired {
    /// No code was typed.
    NoCode,
    /// That is not the code.
    WrongCode,
    /// Too many tries; none is taken for so many seconds.
    Wait(u32),
    /// Another reason.
    Other(Why),
}

impl NotPaired {
    fn of(error: FarError) -> Self {
        match error {
            FarError::Wait { seconds } => Self::Wait(seconds),
            FarError::Refused(problem) if problem.code == "wrong_code" => Self::WrongCode,
            other => Self::Other(Why::of_far(other)),
        }
    }
}

impl Journal {
    /// Pairs this device with the server by the code on the server's screen.
    ///
    /// # Errors
    /// [`NotPaired`], in words [`crate::texts::pairing::not_paired`].
    pub async fn pair(self, code: &str) -> Result<(), NotPaired> {
        if code.trim().is_empty() {
            return Err(NotPaired::NoCode);
        }
        let storage = |why: &_| NotPaired::Other(Why::of_storage(why));
        let kept = self.kept().map_err(|why| storage(&why))?;
        let name = self
            .device
            .get_untracked()
            .map(|device| device.by)
            .unwrap_or_default();
        let token = far::pair(code, &name).await.map_err(NotPaired::of)?;
        kept.set_token(token).await.map_err(|why| storage(&why))?;
        self.exchange_soon();
        Ok(())
    }
}
