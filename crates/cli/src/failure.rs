//! What goes wrong, as it is told: what, where, what to do, and an exit code.

use std::fmt;

use hive::HiveError;
use honey::lots::Caution;
use house::HouseError;
use store::StoreError;

/// A failure that ends the command; nothing was half-written.
#[derive(Debug)]
pub(crate) struct Failure {
    what: String,
    help: Option<String>,
    code: Code,
}

/// Exit codes, told in the help.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Code {
    /// What was given cannot be taken.
    Input = 1,
    /// The journal cannot be read or written.
    Journal = 3,
    /// A check found damage or a disagreement.
    Found = 4,
}

impl Failure {
    /// What was given cannot be taken.
    pub(crate) fn input(what: impl Into<String>) -> Self {
        Self {
            what: what.into(),
            help: None,
            code: Code::Input,
        }
    }

    /// The journal, or what lies beside it, cannot be read or written.
    pub(crate) fn journal(what: impl Into<String>) -> Self {
        Self {
            what: what.into(),
            help: None,
            code: Code::Journal,
        }
    }

    /// A check found something.
    pub(crate) fn found(what: impl Into<String>) -> Self {
        Self {
            what: what.into(),
            help: None,
            code: Code::Found,
        }
    }

    /// What to do about it.
    #[must_use]
    pub(crate) fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// The exit code.
    pub(crate) fn exit_code(&self) -> u8 {
        self.code as u8
    }

    /// As an object, for `--json`.
    pub(crate) fn to_json(&self) -> serde_json::Value {
        serde_json::json!({ "error": self.what, "help": self.help })
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.what)
    }
}

impl std::error::Error for Failure {}

impl miette::Diagnostic for Failure {
    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.help
            .as_ref()
            .map(|help| Box::new(help) as Box<dyn fmt::Display>)
    }
}

impl From<HiveError> for Failure {
    fn from(why: HiveError) -> Self {
        Self::input(why.to_string())
    }
}

impl From<StoreError> for Failure {
    fn from(why: StoreError) -> Self {
        let help = why.help();
        match why {
            // the journal passes on what the command itself refused
            StoreError::Refused(inner) => match inner.downcast::<Failure>() {
                Ok(failure) => *failure,
                Err(inner) => Self::input(inner.to_string()),
            },
            why => {
                let mut what = why.to_string();
                let mut cause = std::error::Error::source(&why);
                while let Some(inner) = cause {
                    let words = inner.to_string();
                    if !what.contains(&words) {
                        what = format!("{what}: {words}");
                    }
                    cause = inner.source();
                }
                // a file to take in is given, not the journal itself
                let given = matches!(why, StoreError::Line { .. } | StoreError::Unreadable { .. });
                Self {
                    what,
                    help,
                    code: if given { Code::Input } else { Code::Journal },
                }
            }
        }
    }
}

impl From<honey::HoneyError> for Failure {
    fn from(why: honey::HoneyError) -> Self {
        Self::input(why.to_string())
    }
}

impl From<HouseError> for Failure {
    fn from(why: HouseError) -> Self {
        let failure = Self::input(why.to_string());
        let help = match why {
            HouseError::InTheFuture { .. } => "Record things when they have happened.".to_owned(),
            HouseError::DoesNotFitLater { .. } => {
                "Take the later entry back first: combwright honey undo".to_owned()
            }
            HouseError::NoCombWaits { waiting, .. } if waiting.is_empty() => {
                "Record a visit on which combs were taken: combwright hear FILE --into HIVE"
                    .to_owned()
            }
            HouseError::NoCombWaits { waiting, .. } => format!("Waiting: {waiting}."),
            HouseError::MassBeyondCombs { .. } => {
                "Weigh it without the pail, and say the unit: --kg 900g.".to_owned()
            }
            HouseError::NoCountry => {
                "Say --country, or once and for all: combwright honey seller --country Wales"
                    .to_owned()
            }
            HouseError::NoRegion => {
                "Say --region codex, eu, uk, us, au or nz, or once and for all: \
                 combwright honey seller --region uk"
                    .to_owned()
            }
            HouseError::MayNotBeSold { why, .. } => {
                let withheld = |caution: &Caution| matches!(caution, Caution::Withheld { .. });
                if why.iter().any(withheld) {
                    "Neither blending nor drying cures this: keep the lot apart, and ask whoever \
                     prescribed the product, or the authority for the disease."
                        .to_owned()
                } else {
                    "Blend or dry it first; --anyway fills all the same and records why not."
                        .to_owned()
                }
            }
            HouseError::NoBestBefore => "Say --best-before.".to_owned(),
            HouseError::NeverRead { lot } => {
                format!("Read it first: combwright honey reading {lot} --index 1.4900 --celsius 20")
            }
            HouseError::NothingToBlend => "combwright honey blend 26-1 26-2 --target 18".to_owned(),
            HouseError::NoMoney { .. } => "Write --money 54.00 --currency AUD.".to_owned(),
            HouseError::NotInAPail { .. } => {
                "`combwright honey` lists combs that were taken and are in no pail yet.".to_owned()
            }
            _ => return failure,
        };
        failure.help(help)
    }
}

impl From<advice::AdviceError> for Failure {
    fn from(why: advice::AdviceError) -> Self {
        Self::input(why.to_string())
    }
}

impl From<season::SeasonError> for Failure {
    fn from(why: season::SeasonError) -> Self {
        Self::input(why.to_string())
    }
}

impl From<comb::CombError> for Failure {
    fn from(why: comb::CombError) -> Self {
        Self::input(why.to_string())
    }
}

impl From<serde_json::Error> for Failure {
    fn from(why: serde_json::Error) -> Self {
        Self::input(why.to_string())
    }
}
