//! The recordings' own database: losing it loses no record.

use idb::{DatabaseEvent as _, Factory, KeyPath, ObjectStoreParams, Query, TransactionMode};
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::Blob;

use crate::browser::leaving::leaving;
use crate::browser::reflect;

const NAME: &str = "combwright-sound";
const PIECES: &str = "pieces";

/// A piece that is kept, without its sound.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Its key.
    pub key: u32,
    /// The visit's id.
    pub visit: String,
    /// When it begins, milliseconds since the epoch.
    pub from_ms: i64,
    /// When it ends.
    pub to_ms: i64,
    /// How large, bytes.
    pub bytes: u64,
}

/// A piece to be kept.
pub(super) struct New {
    pub(super) visit: String,
    pub(super) from_ms: f64,
    pub(super) to_ms: f64,
    pub(super) sound: Blob,
}

/// The open database.
pub(super) struct Kept(idb::Database);

fn thrown(why: &idb::Error) -> JsValue {
    JsValue::from_str(&why.to_string())
}

impl Kept {
    pub(super) async fn open() -> Result<Self, JsValue> {
        let open = async {
            let mut request = Factory::new()?.open(NAME, Some(1))?;
            request.on_upgrade_needed(|event| {
                if let Ok(database) = event.database() {
                    let mut params = ObjectStoreParams::new();
                    params
                        .key_path(Some(KeyPath::new_single("key")))
                        .auto_increment(true);
                    // shows at the first use, with its reason
                    let _ = database.create_object_store(PIECES, params);
                }
            });
            request.await
        };
        open.await.map(Self).map_err(|why: idb::Error| thrown(&why))
    }

    fn store(&self, mode: TransactionMode) -> Result<idb::ObjectStore, idb::Error> {
        self.0.transaction(&[PIECES], mode)?.object_store(PIECES)
    }

    pub(super) async fn add(&self, piece: &New) -> Result<(), JsValue> {
        if leaving() {
            return Err(JsValue::from_str("the page is being left"));
        }
        let row = reflect::object(&[
            ("visit", JsValue::from_str(&piece.visit)),
            ("from", JsValue::from_f64(piece.from_ms)),
            ("to", JsValue::from_f64(piece.to_ms)),
            ("bytes", JsValue::from_f64(piece.sound.size())),
            ("sound", piece.sound.clone().into()),
        ]);
        let add = async {
            self.store(TransactionMode::ReadWrite)?
                .add(&row, None)?
                .await
        };
        add.await
            .map(|_| ())
            .map_err(|why: idb::Error| thrown(&why))
    }

    pub(super) async fn list(&self) -> Result<Vec<Piece>, JsValue> {
        let read = async {
            self.store(TransactionMode::ReadOnly)?
                .get_all(None, None)?
                .await
        };
        let rows: Vec<JsValue> = read.await.map_err(|why: idb::Error| thrown(&why))?;
        Ok(rows.iter().filter_map(piece).collect())
    }

    pub(super) async fn sound(&self, key: u32) -> Result<Blob, JsValue> {
        let query = Query::Key(JsValue::from(key));
        let read = async { self.store(TransactionMode::ReadOnly)?.get(query)?.await };
        let row = read.await.map_err(|why: idb::Error| thrown(&why))?;
        let sound = row.and_then(|row| reflect::get(&row, "sound"));
        sound
            .and_then(|sound| sound.dyn_into().ok())
            .ok_or(JsValue::from_str("it is gone"))
    }

    pub(super) async fn delete(&self, key: u32) -> Result<(), JsValue> {
        let query = Query::Key(JsValue::from(key));
        let delete = async { self.store(TransactionMode::ReadWrite)?.delete(query)?.await };
        delete.await.map_err(|why: idb::Error| thrown(&why))
    }
}

fn piece(row: &JsValue) -> Option<Piece> {
    let number = |name: &str| reflect::get(row, name)?.as_f64();
    Some(Piece {
        key: number("key")? as u32,
        visit: reflect::get(row, "visit")?.as_string()?,
        from_ms: number("from")? as i64,
        to_ms: number("to")? as i64,
        bytes: number("bytes")? as u64,
    })
}
