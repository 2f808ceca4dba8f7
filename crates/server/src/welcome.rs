//! What a person needs to know to open the app, as data and as text for the terminal.

use fast_qr::QRBuilder;

/// Where the app is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Welcome {
    /// For the browser of this machine.
    pub here: String,
    /// For phones; `None` when the local network is not let in.
    pub phones: Option<Phones>,
}

/// How a phone gets in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Phones {
    /// The plain page that explains how to trust the certificate.
    pub explains: Vec<String>,
    /// The app itself.
    pub app: Vec<String>,
    /// The code to pair with.
    pub code: String,
    /// The authority's fingerprint (SHA-256), to compare with what the phone shows.
    pub fingerprint: String,
}

impl Welcome {
    /// The same as text; with the first phone address as a QR code where there is one.
    pub fn text(&self) -> String {
        let here = format!("Combwright is at {}\n", self.here);
        match &self.phones {
            None => here,
            Some(phones) => here + "\n" + &phones.text(),
        }
    }
}

impl Phones {
    fn text(&self) -> String {
        let list = |addresses: &[String]| addresses.join("  or  ");
        let Some(first) = self.explains.first() else {
            return "This machine has no address of a local network, so no phone can reach it.\n"
                .to_owned();
        };
        format!(
            "On a phone in the same network, first open {}\n\
             (once: how the phone learns to trust this machine)\n\
             {}\n\
             then {}\n\
             Code to pair with: {}\n\
             Fingerprint (SHA-256): {}\n",
            list(&self.explains),
            qr(first).unwrap_or_default(),
            list(&self.app),
            spaced(&self.code),
            self.fingerprint,
        )
    }
}

/// A code in two groups of four.
pub fn spaced(code: &str) -> String {
    let half = code.len() / 2;
    match (code.get(..half), code.get(half..)) {
        (Some(first), Some(rest)) => format!("{first} {rest}"),
        _ => code.to_owned(),
    }
}

/// A QR code (ISO/IEC 18004) in half blocks.
pub fn qr(text: &str) -> Option<String> {
    QRBuilder::new(text).build().ok().map(|code| code.to_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_loopback_server_says_one_line() {
        let welcome = Welcome {
            here: "http://localhost:8427/".into(),
            phones: None,
        };
        assert_eq!(welcome.text(), "Combwright is at http://localhost:8427/\n");
    }

    #[test]
    fn a_server_on_the_network_tells_the_way_in_order() {
        let phones = Phones {
            explains: vec!["http://192.0.2.20:8427/phone".into()],
            app: vec!["https://192.0.2.20:8428/".into()],
            code: "12345678".into(),
            fingerprint: "AA:BB".into(),
        };
        let here = "http://localhost:8427/".into();
        let text = Welcome {
            here,
            phones: Some(phones),
        }
        .text();
        let places: Vec<_> = ["/phone", "8428/", "1234 5678", "AA:BB"]
            .map(|w| text.find(w))
            .into();
        assert!(
            places.iter().all(Option::is_some) && places.is_sorted(),
            "{text}"
        );
    }
}
