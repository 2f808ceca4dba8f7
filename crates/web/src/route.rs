//! What stands in the address line.

use std::cell::RefCell;

use hive::HiveId;
use house::page;

/// A screen, and what it is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Route {
    /// All hives with what each needs next.
    #[default]
    Apiary,
    /// The visit at a hive; without one, the choice of a hive.
    Visit(Option<HiveId>),
    /// Closing up a hive.
    ClosingUp(Option<HiveId>),
    /// One hive through time.
    Hive(Option<HiveId>),
    /// What must stay, and how the year may go; without a hive, of the first one.
    Season(Option<HiveId>),
    /// Pails, lots, jars.
    HoneyHouse,
    /// What a lot, or the jars of a lot mark, is made of and where it went.
    Lot(LotName),
    /// The form that begins a hive.
    NewHive,
    /// The journal.
    Records,
    /// Units, places, voice, looks, devices.
    Settings,
    /// Nothing that this app knows.
    Unknown,
}

impl Route {
    /// What the navigation offers, in its order.
    pub const MAIN: [Self; 6] = [
        Self::Apiary,
        Self::Visit(None),
        Self::ClosingUp(None),
        Self::Hive(None),
        Self::Records,
        Self::Settings,
    ];

    /// What the navigation offers beside it where there is room; on a phone other screens lead there.
    pub const AT_THE_DESK: [Self; 2] = [Self::Season(None), Self::HoneyHouse];

    /// Reads a path. Never fails: what is not known is [`Route::Unknown`].
    pub fn parse(path: &str) -> Self {
        let mut parts = path.split('/').filter(|part| !part.is_empty());
        let first = parts.next();
        if first == Some("lot") {
            return match (parts.next().and_then(page::name), parts.next()) {
                (Some(name), None) => Self::Lot(LotName::of(&name)),
                _ => Self::Unknown,
            };
        }
        let hive = match parts.next().map(str::parse) {
            None => None,
            Some(Ok(hive)) => Some(hive),
            Some(Err(_)) => return Self::Unknown,
        };
        match (first, hive, parts.next()) {
            (_, _, Some(_)) => Self::Unknown,
            (None | Some("apiary"), None, _) => Self::Apiary,
            (Some("visit"), hive, _) => Self::Visit(hive),
            (Some("closing-up"), hive, _) => Self::ClosingUp(hive),
            (Some("hive"), hive, _) => Self::Hive(hive),
            (Some("season"), hive, _) => Self::Season(hive),
            (Some("honey-house"), None, _) => Self::HoneyHouse,
            (Some("new-hive"), None, _) => Self::NewHive,
            (Some("records"), None, _) => Self::Records,
            (Some("settings"), None, _) => Self::Settings,
            _ => Self::Unknown,
        }
    }

    /// The path, as it stands in the address line.
    pub fn path(self) -> String {
        let of = |name: &str, hive: Option<HiveId>| match hive {
            Some(hive) => format!("/{name}/{hive}"),
            None => format!("/{name}"),
        };
        match self {
            Self::Apiary | Self::Unknown => "/".to_owned(),
            Self::Visit(hive) => of("visit", hive),
            Self::ClosingUp(hive) => of("closing-up", hive),
            Self::Hive(hive) => of("hive", hive),
            Self::Season(hive) => of("season", hive),
            Self::HoneyHouse => "/honey-house".to_owned(),
            Self::Lot(name) => page::address("/lot/", name.as_str()),
            Self::NewHive => "/new-hive".to_owned(),
            Self::Records => "/records".to_owned(),
            Self::Settings => "/settings".to_owned(),
        }
    }

    /// Whether it is one of work at an open hive.
    pub const fn is_at_hive(self) -> bool {
        matches!(self, Self::Visit(Some(_)) | Self::ClosingUp(Some(_)))
    }

    /// Whether both are the same screen, whatever hive they are about.
    pub fn same_screen(self, other: Self) -> bool {
        std::mem::discriminant(&self) == std::mem::discriminant(&other)
    }
}

/// The name of a lot, or a lot mark. It is kept once for as long as the page lives, so that a route
/// can be copied.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LotName(&'static str);

impl LotName {
    /// By its letters.
    pub fn of(name: &str) -> Self {
        thread_local! {
            static NAMES: RefCell<Vec<&'static str>> = const { RefCell::new(Vec::new()) };
        }
        NAMES.with_borrow_mut(|names| {
            let known = names.iter().find(|known| **known == name).copied();
            Self(known.unwrap_or_else(|| {
                let kept: &'static str = Box::leak(name.into());
                names.push(kept);
                kept
            }))
        })
    }

    /// Its letters.
    pub const fn as_str(self) -> &'static str {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_reads_back_as_the_route_it_was_made_from() {
        let hive: Option<HiveId> = "01890a5d-ac96-774b-bcce-b302099a8057".parse().ok();
        assert!(hive.is_some());
        let about = [
            Route::Visit(hive),
            Route::ClosingUp(hive),
            Route::Hive(hive),
            Route::Season(hive),
            Route::Lot(LotName::of("WB-2")),
            Route::Lot(LotName::of("26/1 \u{fc}")),
        ];
        for route in Route::MAIN
            .into_iter()
            .chain(Route::AT_THE_DESK)
            .chain([Route::NewHive])
            .chain(about)
        {
            assert_eq!(Route::parse(&route.path()), route);
        }
    }

    #[test]
    fn a_wrong_path_is_unknown_and_not_the_first_screen() {
        for path in [
            "/nothing",
            "/visit/seven",
            "/records/x",
            "/hive/x/y",
            "/apiary/1",
            "/lot",
            "/lot/a/b",
            "/lot/%zz",
            "/honey-house/1",
        ] {
            assert_eq!(Route::parse(path), Route::Unknown, "{path}");
        }
    }
}
