//! The browser's database: two stores, and transactions that are durable when they say so.

use exchange::Hash;
use hive::{DeviceId, EntryId};
use idb::{
    CursorDirection, DatabaseEvent as _, Factory, IndexParams, KeyPath, KeyRange, ObjectStore,
    ObjectStoreParams, Query,
};
use js_sys::{Array, Promise};
use serde::Serialize;
use serde::de::DeserializeOwned;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{IdbDatabase, IdbTransaction};

use super::error::JournalError;
use super::row::Row;
use crate::browser::leaving::leaving;
use crate::browser::reflect;

const NAME: &str = "combwright";
const VERSION: u32 = 1;
const RECORDS: &str = "records";
const FACTS: &str = "facts";

/// Rows read at once where all are read.
pub(super) const PAGE: u32 = 2000;

/// An open database.
pub(super) struct Db(IdbDatabase);

/// What a transaction is for.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum For {
    /// Reading.
    Reading,
    /// Writing, on the disk when it is done (`durability: "strict"`).
    Writing,
}

/// A transaction over both stores. Dropped unfinished, it commits by itself what was asked of it:
/// call [`Tx::give_up`] where that is not meant.
pub(super) struct Tx {
    raw: IdbTransaction,
    records: ObjectStore,
    facts: ObjectStore,
    done: Promise,
}

impl Db {
    /// Opens the database, making or renewing it where needed.
    pub(super) async fn open() -> Result<Self, JournalError> {
        let factory = Factory::new().map_err(|why| JournalError::Unavailable(why.to_string()))?;
        let mut request = factory.open(NAME, Some(VERSION))?;
        request.on_upgrade_needed(|event| {
            // a store that could not be made shows at the first transaction, with its reason
            if let Ok(database) = event.database() {
                let _ = make_stores(&database);
            }
        });
        let mut database = request.await?;
        // a newer version of the app in another tab must not wait for this one
        database.on_version_change(|event| {
            if let Ok(database) = event.database() {
                database.close();
            }
        });
        let raw: IdbDatabase = JsValue::from(database).unchecked_into();
        Ok(Self(raw))
    }

    /// Begins a transaction; none to write in while the page is being left.
    pub(super) fn begin(&self, purpose: For) -> Result<Tx, JournalError> {
        if purpose == For::Writing && leaving() {
            return Err(JournalError::Closed);
        }
        let stores = Array::of2(&RECORDS.into(), &FACTS.into());
        let (mode, durability) = match purpose {
            For::Reading => ("readonly", "default"),
            For::Writing => ("readwrite", "strict"),
        };
        // the bindings know no durability, so the method is called by its name
        let method = reflect::method(&self.0, "transaction").ok_or(JournalError::Closed)?;
        let options = reflect::object(&[("durability", durability.into())]);
        let raw: IdbTransaction = method
            .call3(&self.0, &stores, &mode.into(), &options)
            .map_err(|thrown| JournalError::of(&thrown))?
            .unchecked_into();
        let done = Promise::new(&mut |resolve, reject| {
            raw.set_oncomplete(Some(&resolve));
            raw.set_onabort(Some(&reject));
        });
        let tx = idb::Transaction::from(raw.clone());
        let (records, facts) = (tx.object_store(RECORDS)?, tx.object_store(FACTS)?);
        Ok(Tx {
            raw,
            records,
            facts,
            done,
        })
    }
}

fn make_stores(database: &idb::Database) -> Result<(), idb::Error> {
    let mut by_place = ObjectStoreParams::new();
    by_place
        .key_path(Some(KeyPath::new_single("place")))
        .auto_increment(true);
    let records = database.create_object_store(RECORDS, by_place)?;
    let unique = || {
        let mut params = IndexParams::new();
        params.unique(true);
        Some(params)
    };
    records.create_index("hash", KeyPath::new_single("hash"), unique())?;
    records.create_index("id", KeyPath::new_single("id"), unique())?;
    records.create_index("chain", KeyPath::new_array(["device", "seq"]), None)?;
    // only rows that wait have the first property, so only they are in it
    records.create_index("waits", KeyPath::new_array(["waits", "place"]), None)?;
    database.create_object_store(FACTS, ObjectStoreParams::new())?;
    Ok(())
}

impl Tx {
    /// Waits until everything is committed (and, for writing, on the disk).
    pub(super) async fn finish(self) -> Result<(), JournalError> {
        match JsFuture::from(self.done).await {
            Ok(_) => Ok(()),
            Err(event) => Err(match self.raw.error() {
                Some(error) => JournalError::of(&error),
                None => JournalError::Browser(crate::browser::words(&event)),
            }),
        }
    }

    /// Takes everything back. Gives the reason: a transaction that the browser itself has broken off
    /// knows it better than the request that failed with it.
    pub(super) fn give_up(self, why: JournalError) -> JournalError {
        let told = self.raw.error().map(|error| JournalError::of(&error));
        // it may have failed by itself already
        let _ = self.raw.abort();
        match told {
            Some(JournalError::Full) => JournalError::Full,
            _ => why,
        }
    }

    /// Adds a row; its place.
    pub(super) async fn add(&self, row: &Row) -> Result<u64, JournalError> {
        let key = self.records.add(&row.to_js(), None)?.await?;
        Ok(key.as_f64().unwrap_or_default() as u64)
    }

    /// Writes a row over the one in its place.
    pub(super) async fn replace(&self, row: &Row) -> Result<(), JournalError> {
        self.records.put(&row.to_js(), None)?.await?;
        Ok(())
    }

    /// Rows after a place, at most a page, with how many could not be read and the last place.
    pub(super) async fn page(&self, after: u64) -> Result<Page, JournalError> {
        let range = KeyRange::lower_bound(&number(after), Some(true))?;
        let values = self
            .records
            .get_all(Some(range.into()), Some(PAGE))?
            .await?;
        Ok(Page::of(&values, after))
    }

    /// The texts of the rows after a place, at most so many: all that a fold needs of them.
    pub(super) async fn texts(&self, after: u64, most: u32) -> Result<Texts, JournalError> {
        let range = KeyRange::lower_bound(&number(after), Some(true))?;
        let values = self
            .records
            .get_all(Some(range.into()), Some(most))?
            .await?;
        let text = |row: &JsValue| reflect::get(row, "text")?.as_string();
        Ok(Texts {
            texts: values.iter().map(text).collect(),
            last: last_place(&values).unwrap_or(after),
        })
    }

    /// Rows that wait, after a place.
    pub(super) async fn waiting(&self, after: u64, most: u32) -> Result<Page, JournalError> {
        let from = Array::of2(&number(1), &number(after));
        let upto = Array::of2(&number(2), &number(0));
        let range = KeyRange::bound(&from, &upto, Some(true), Some(true))?;
        let index = self.records.index("waits")?;
        let values = index.get_all(Some(range.into()), Some(most))?.await?;
        Ok(Page::of(&values, after))
    }

    /// How many rows wait.
    pub(super) async fn count_waiting(&self) -> Result<usize, JournalError> {
        Ok(self.records.index("waits")?.count(None)?.await? as usize)
    }

    /// The end of a device's chain: the number and hash of its last record.
    pub(super) async fn end_of(&self, device: DeviceId) -> Result<Option<Row>, JournalError> {
        let name = JsValue::from_str(&device.to_string());
        let range = KeyRange::bound(
            &Array::of2(&name, &number(0)),
            &Array::of2(&name, &JsValue::from_f64(f64::INFINITY)),
            None,
            None,
        )?;
        let index = self.records.index("chain")?;
        let cursor = index
            .open_cursor(Some(range.into()), Some(CursorDirection::Prev))?
            .await?;
        match cursor {
            Some(cursor) => Ok(Row::of_js(&cursor.value()?)),
            None => Ok(None),
        }
    }

    /// The row with this hash.
    pub(super) async fn by_hash(&self, hash: Hash) -> Result<Option<Row>, JournalError> {
        self.by("hash", &hash.to_string()).await
    }

    /// Whether there is a row with this hash; it is looked up in the index, not read.
    pub(super) async fn has(&self, hash: Hash) -> Result<bool, JournalError> {
        let key = Query::Key(JsValue::from_str(&hash.to_string()));
        Ok(self.records.index("hash")?.count(Some(key))?.await? > 0)
    }

    /// The row with this id.
    pub(super) async fn by_id(&self, id: EntryId) -> Result<Option<Row>, JournalError> {
        self.by("id", &id.to_string()).await
    }

    async fn by(&self, index: &str, key: &str) -> Result<Option<Row>, JournalError> {
        let key = Query::Key(JsValue::from_str(key));
        let value = self.records.index(index)?.get(key)?.await?;
        Ok(value.as_ref().and_then(Row::of_js))
    }

    /// A fact kept beside the records.
    pub(super) async fn fact<T: DeserializeOwned>(
        &self,
        name: &str,
    ) -> Result<Option<T>, JournalError> {
        let value = self.facts.get(Query::Key(JsValue::from_str(name)))?.await?;
        Ok(value
            .and_then(|value| value.as_string())
            .and_then(|text| serde_json::from_str(&text).ok()))
    }

    /// Keeps a fact.
    pub(super) async fn set_fact<T: Serialize>(
        &self,
        name: &str,
        fact: &T,
    ) -> Result<(), JournalError> {
        let text =
            serde_json::to_string(fact).map_err(|why| JournalError::Browser(why.to_string()))?;
        self.set_text(name, &text).await
    }

    /// The texts kept under names that begin so, in the order of the names.
    pub(super) async fn texts_named(&self, beginning: &str) -> Result<Vec<String>, JournalError> {
        let names = names_from(beginning)?;
        let values = self.facts.get_all(Some(names.into()), None)?.await?;
        Ok(values.iter().filter_map(JsValue::as_string).collect())
    }

    /// Keeps a fact that is a text already.
    pub(super) async fn set_text(&self, name: &str, text: &str) -> Result<(), JournalError> {
        self.facts
            .put(&JsValue::from_str(text), Some(&JsValue::from_str(name)))?
            .await?;
        Ok(())
    }
}

/// Some rows.
#[derive(Default)]
pub(super) struct Page {
    /// Those that can be read.
    pub(super) rows: Vec<Row>,
    /// How many cannot.
    pub(super) damaged: usize,
    /// The place of the last, readable or not; as asked for when there is none.
    pub(super) last: u64,
}

impl Page {
    fn of(values: &[JsValue], after: u64) -> Self {
        let mut page = Self {
            last: after,
            ..Self::default()
        };
        for value in values {
            match Row::of_js(value) {
                Some(row) => page.rows.push(row),
                None => page.damaged += 1,
            }
        }
        page.last = last_place(values).unwrap_or(after);
        page
    }
}

/// The texts of some rows.
pub(super) struct Texts {
    /// One a row; `None` where it has none.
    pub(super) texts: Vec<Option<String>>,
    /// The place of the last; as asked for when there is none.
    pub(super) last: u64,
}

fn last_place(rows: &[JsValue]) -> Option<u64> {
    let place = reflect::get(rows.last()?, "place")?.as_f64()?;
    Some(place as u64)
}

/// Names that begin so, and go on in ASCII.
fn names_from(beginning: &str) -> Result<KeyRange, JournalError> {
    let end = JsValue::from_str(&format!("{beginning}\u{7f}"));
    Ok(KeyRange::bound(
        &JsValue::from_str(beginning),
        &end,
        None,
        None,
    )?)
}

fn number(value: u64) -> JsValue {
    JsValue::from_f64(value as f64)
}
