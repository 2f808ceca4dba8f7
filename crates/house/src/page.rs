//! The address of a lot's page, as a label's code leads to it.

use std::fmt::Write as _;

/// The address of a page with a name behind it, kept to letters that need no escaping (RFC 3986,
/// unreserved). A page that ends in a word gets the stroke that was forgotten.
pub fn address(page: &str, name: &str) -> String {
    let mut address = page.to_owned();
    if page.ends_with(char::is_alphanumeric) {
        address.push('/');
    }
    for byte in name.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~".contains(&byte) {
            address.push(char::from(byte));
        } else {
            let _ = write!(address, "%{byte:02X}");
        }
    }
    address
}

/// The name behind such an address; `None` when it is escaped wrongly.
pub fn name(escaped: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(escaped.len());
    let mut rest = escaped.bytes();
    while let Some(byte) = rest.next() {
        if byte == b'%' {
            let mut digit = || char::from(rest.next()?).to_digit(16);
            let (high, low) = (digit()?, digit()?);
            bytes.push((high * 16 + low) as u8);
        } else {
            bytes.push(byte);
        }
    }
    String::from_utf8(bytes).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_reads_back_from_its_address() {
        // RFC 3986, 2.1 and 2.3: "/" is %2F, a space %20, "ä" in UTF-8 %C3%A4
        assert_eq!(address("", "26-1/2 \u{e4}"), "26-1%2F2%20%C3%A4");
        assert_eq!(
            address("http://shed.local/lot/", "a.b~c_"),
            "http://shed.local/lot/a.b~c_"
        );
        for lot in ["26-1", "L 5/7", "d\u{fc}nn & fest%", ""] {
            assert_eq!(name(&address("", lot)).as_deref(), Some(lot));
        }
    }

    #[test]
    fn a_forgotten_stroke_is_set() {
        for (page, whole) in [
            ("https://shed.local/lot", "https://shed.local/lot/7"),
            ("https://shed.local/lot/", "https://shed.local/lot/7"),
            ("https://shed.local/?lot=", "https://shed.local/?lot=7"),
        ] {
            assert_eq!(address(page, "7"), whole);
        }
    }

    #[test]
    fn what_is_escaped_wrongly_is_no_name() {
        for wrong in ["%", "%2", "%zz", "%FF"] {
            assert_eq!(name(wrong), None, "{wrong}");
        }
    }
}
