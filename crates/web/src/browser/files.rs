//! Files that the keeper saves and gives.

use std::time::Duration;

use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};

use super::document;
use super::nap::Nap;

/// Offers a text to be saved as a file.
///
/// # Errors
/// The browser's words.
pub fn save(name: &str, media_type: &str, text: &str) -> Result<(), JsValue> {
    let options = web_sys::BlobPropertyBag::new();
    options.set_type(media_type);
    let parts = js_sys::Array::of1(&JsValue::from_str(text));
    let blob = web_sys::Blob::new_with_str_sequence_and_options(&parts, &options)?;
    let url = web_sys::Url::create_object_url_with_blob(&blob)?;
    let document = document().ok_or(JsValue::NULL)?;
    let anchor: web_sys::HtmlAnchorElement = document.create_element("a")?.dyn_into()?;
    anchor.set_href(&url);
    anchor.set_download(name);
    anchor.click();
    // some browsers begin to read only after a moment
    spawn_local(async move {
        Nap::default().sleep(Duration::from_mins(1)).await;
        let _ = web_sys::Url::revoke_object_url(&url);
    });
    Ok(())
}

/// The text of the first file that was chosen in a field.
///
/// # Errors
/// The browser's words.
pub async fn chosen(field: &web_sys::HtmlInputElement) -> Result<Option<String>, JsValue> {
    let Some(file) = field.files().and_then(|files| files.get(0)) else {
        return Ok(None);
    };
    let text = JsFuture::from(file.text()).await?;
    Ok(text.as_string())
}
