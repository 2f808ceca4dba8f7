//! The plain page that tells a phone how to trust this machine. Its own HTML, without script.

use axum::http::HeaderValue;
use axum::http::header::{CACHE_CONTROL, CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{Html, IntoResponse, Response};

/// What stands on the page.
#[derive(Debug, Clone)]
pub struct PhonePage {
    /// The authority's certificate (DER).
    pub certificate: Vec<u8>,
    /// Its fingerprint.
    pub fingerprint: String,
    /// Where the app is, for phones.
    pub app: Vec<String>,
}

impl PhonePage {
    /// The page.
    pub fn html(&self) -> String {
        let links = self.app.iter().fold(String::new(), |links, address| {
            let address = escaped(address);
            links + "<p><a class=\"go\" href=\"" + &address + "\">" + &address + "</a></p>"
        });
        let which = if self.app.len() > 1 {
            "Take the first; the others are for when it does not open."
        } else {
            "This is its address:"
        };
        include_str!("phone.html")
            .replace("{{which}}", which)
            .replace("{{fingerprint}}", &self.fingerprint.replace(':', ":<wbr>"))
            .replace("{{links}}", &links)
    }

    pub(crate) fn page(&self) -> Response {
        let mut response = Html(self.html()).into_response();
        response
            .headers_mut()
            .insert(CACHE_CONTROL, HeaderValue::from_static("no-store"));
        response
    }

    /// The certificate, as phones take it.
    pub(crate) fn download(&self) -> Response {
        let told = [
            (CONTENT_TYPE, "application/x-x509-ca-cert"),
            (
                CONTENT_DISPOSITION,
                "attachment; filename=\"combwright-authority.crt\"",
            ),
            (CACHE_CONTROL, "no-store"),
        ];
        (told, self.certificate.clone()).into_response()
    }

    /// The page's looks, a file of its own because the policy allows no style in the page.
    pub(crate) fn style() -> Response {
        (
            [(CONTENT_TYPE, "text/css; charset=utf-8")],
            include_str!("phone.css"),
        )
            .into_response()
    }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_placeholder_is_left_on_the_page() {
        let page = PhonePage {
            certificate: vec![],
            fingerprint: "AA:BB".into(),
            app: vec!["https://hut.local:8428/".into()],
        };
        let html = page.html();
        assert!(!html.contains("{{") && html.contains("https://hut.local:8428/"));
    }
}
