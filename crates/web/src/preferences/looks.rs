//! Light or dark, large print: applied before the first screen is drawn.

use crate::browser::storage;

/// Light or dark paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Light {
    /// As the device has it.
    #[default]
    Device,
    /// Light paper.
    Light,
    /// Dark paper.
    Dark,
}

impl Light {
    /// All choices, in the order shown.
    pub const ALL: [Self; 3] = [Self::Device, Self::Light, Self::Dark];

    /// As kept, and as the style sheet knows it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Device => "device",
            Self::Light => "light",
            Self::Dark => "dark",
        }
    }

    fn of(word: &str) -> Self {
        Self::ALL
            .into_iter()
            .find(|light| light.word() == word)
            .unwrap_or_default()
    }
}

/// How the app looks on this device.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Looks {
    /// Light or dark.
    pub light: Light,
    /// Larger letters and targets.
    pub large_print: bool,
}

const LIGHT: &str = "light";
const PRINT: &str = "print";
const LARGE: &str = "large";

impl Looks {
    /// As kept; the defaults where nothing is or storage is refused.
    pub fn kept() -> Self {
        Self {
            light: storage::get(LIGHT)
                .map(|word| Light::of(&word))
                .unwrap_or_default(),
            large_print: storage::get(PRINT).is_some_and(|word| word == LARGE),
        }
    }

    /// Keeps them and applies them to the page.
    pub fn keep(self) {
        storage::set(LIGHT, self.light.word());
        storage::set(PRINT, if self.large_print { LARGE } else { "" });
        self.apply();
    }

    /// Applies them to the page.
    pub fn apply(self) {
        let print = if self.large_print { LARGE } else { "" };
        for (name, word) in [("data-light", self.light.word()), ("data-print", print)] {
            if let Some(root) = crate::browser::document().and_then(|d| d.document_element()) {
                // the page is drawn without it if it is refused
                let _ = root.set_attribute(name, word);
            }
        }
    }
}
