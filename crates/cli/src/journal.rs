//! The journal as the commands use it: opened, folded, written to after every check.

use std::path::{Path, PathBuf};

use hive::{DeviceId, Entry, Hive, HiveId, Known, Yard};
use jiff::{Timestamp, ZonedDateTime};
use store::{Journal, OpenOptions, Pending, StoreError};

use crate::failure::Failure;
use crate::surroundings::{fresh_device, fresh_id, zone_name};

/// The journal in the data folder.
pub(crate) struct Open {
    journal: Journal,
}

/// One thing to record: what, and where it belongs.
#[derive(Debug, Clone)]
pub(crate) struct Saying {
    /// The hive, unless it is a matter of the yard.
    pub(crate) hive: Option<HiveId>,
    /// The visit, if in one.
    pub(crate) visit: Option<hive::EntryId>,
    /// When it happened.
    pub(crate) at: Timestamp,
    /// The entry's id, when the caller needs to know it beforehand.
    pub(crate) id: Option<hive::EntryId>,
    /// The words it came from.
    pub(crate) said: Option<String>,
    /// What happened.
    pub(crate) what: Known,
}

impl Saying {
    /// Said of a hive, outside a visit.
    pub(crate) fn of_hive(hive: HiveId, at: Timestamp, what: Known) -> Self {
        Self {
            hive: Some(hive),
            visit: None,
            at,
            id: None,
            said: None,
            what,
        }
    }

    /// Said of the yard.
    pub(crate) fn of_yard(at: Timestamp, what: Known) -> Self {
        Self {
            hive: None,
            visit: None,
            at,
            id: None,
            said: None,
            what,
        }
    }
}

/// Who writes, and when.
#[derive(Debug, Clone)]
pub(crate) struct Writer {
    /// Who says so.
    pub(crate) by: String,
    /// Now.
    pub(crate) now: ZonedDateTime,
}

impl Open {
    /// To read and write; made on first use.
    pub(crate) async fn to_write(folder: &Path) -> Result<Self, Failure> {
        let path = file_in(folder);
        let journal = Journal::open(&path, OpenOptions::write(fresh_device)).await?;
        Ok(Self { journal })
    }

    /// Only to read; a journal that is not there yet reads as one without entries.
    pub(crate) async fn to_read(folder: &Path) -> Result<Self, Failure> {
        match Journal::open(file_in(folder), OpenOptions::read()).await {
            Ok(journal) => Ok(Self { journal }),
            Err(StoreError::NoJournal { .. }) => {
                let options = OpenOptions::write(fresh_device);
                Ok(Self {
                    journal: Journal::in_memory(options).await?,
                })
            }
            Err(why) => Err(why.into()),
        }
    }

    /// A journal that is kept nowhere.
    pub(crate) async fn nowhere() -> Result<Self, Failure> {
        let options = OpenOptions::write(fresh_device);
        Ok(Self {
            journal: Journal::in_memory(options).await?,
        })
    }

    /// Takes in all entries of another journal.
    pub(crate) async fn take_all(&self, other: &Self) -> Result<(), Failure> {
        self.journal.merge_from(&other.journal, &mut |_| ()).await?;
        Ok(())
    }

    /// The store's journal.
    pub(crate) const fn store(&self) -> &Journal {
        &self.journal
    }

    /// Closes the file; what was recorded is kept with or without it.
    pub(crate) async fn close(self) {
        self.journal.close().await;
    }

    /// The yard as all entries give it.
    pub(crate) async fn yard(&self) -> Result<Yard, Failure> {
        Ok(Yard::fold(self.journal.entries().await?))
    }

    /// Records all of these or none, each checked against the yard as the ones before leave it.
    /// Gives the yard as it then stands.
    pub(crate) async fn record(
        &self,
        sayings: Vec<Saying>,
        writer: &Writer,
    ) -> Result<Yard, Failure> {
        let (yard, ()) = self
            .write(|desk| sayings.into_iter().try_for_each(|s| desk.say(s, writer)))
            .await?;
        Ok(yard)
    }

    /// Records what `work` says at the desk, all of it or none. The journal is folded once, and
    /// nobody else writes until it is done. Gives the yard as it then stands and what `work` gives.
    pub(crate) async fn write<T: Send>(
        &self,
        work: impl FnOnce(&mut Desk) -> Result<T, Failure> + Send,
    ) -> Result<(Yard, T), Failure> {
        let mut done = None;
        let slot = &mut done;
        self.journal
            .append_with(move |standing| -> Result<Vec<Pending>, Failure> {
                let yard = Yard::fold(standing.entries.to_vec());
                let mut desk = Desk::over(yard, standing.device, standing.next_seq);
                let given = work(&mut desk)?;
                *slot = Some((desk.yard, given));
                Ok(desk.batch)
            })
            .await?;
        done.ok_or_else(|| Failure::input("the journal was not written"))
    }
}

/// The yard as it stands, with what is about to be recorded laid over it. Nothing is written here.
pub(crate) struct Desk {
    yard: Yard,
    device: DeviceId,
    next_seq: u64,
    batch: Vec<Pending>,
}

impl Desk {
    /// Over a yard, as the device that will write its next entry under this number.
    pub(crate) const fn over(yard: Yard, device: DeviceId, next_seq: u64) -> Self {
        Self {
            yard,
            device,
            next_seq,
            batch: Vec::new(),
        }
    }

    /// The yard as everything said so far leaves it.
    pub(crate) const fn yard(&self) -> &Yard {
        &self.yard
    }

    /// Says one thing, checked against the yard as it stands.
    pub(crate) fn say(&mut self, saying: Saying, writer: &Writer) -> Result<(), Failure> {
        let now = writer.now.timestamp();
        let entry = Entry {
            v: hive::entry::FORMAT,
            id: saying.id.unwrap_or_else(fresh_id),
            device: self.device,
            seq: self.next_seq,
            at: saying.at,
            recorded: now,
            zone: zone_name(&writer.now),
            by: writer.by.clone(),
            hive: saying.hive,
            visit: saying.visit,
            said: saying.said,
            what: saying.what.into(),
            extra: serde_json::Map::new(),
        };
        hive::check(&self.yard, &entry, now).map_err(|why| {
            let words = entry.said.as_ref().map(|s| format!(" (you said: \"{s}\")"));
            Failure::input(format!("{why}{}", words.unwrap_or_default()))
        })?;
        self.next_seq += 1;
        self.yard.add(entry.clone());
        self.batch.push(Pending::from(entry));
        Ok(())
    }
}

/// The journal's file in a data folder.
pub(crate) fn file_in(folder: &Path) -> PathBuf {
    folder.join(store::FILE_NAME)
}

/// A living hive by name; the error names near ones.
pub(crate) fn hive_named<'a>(yard: &'a Yard, name: &str) -> Result<&'a Hive, Failure> {
    yard.hive_named(name).map_err(|why| {
        let names: Vec<&str> = yard
            .living_hives()
            .iter()
            .map(|h| h.name.as_str())
            .collect();
        let help = if names.is_empty() {
            "There is no hive yet: `combwright yard new NAME` begins one, `combwright yard demo` \
             brings the invented yard Wattle Bend."
                .to_owned()
        } else {
            format!("Hives here: {}.", names.join(", "))
        };
        // where no name comes near, the error itself lists them
        let listed = !names.is_empty()
            && matches!(&why, hive::HiveError::NoSuchHive { near, .. } if near.is_empty());
        let failure = Failure::from(why);
        if listed { failure } else { failure.help(help) }
    })
}
