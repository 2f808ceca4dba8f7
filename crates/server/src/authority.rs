//! A certificate authority for this machine alone, so that phones of the yard may trust it.
//!
//! A browser gives the microphone and offline work only to a page that came over a connection it
//! trusts. The authority is made once and kept in the data folder; the phone is told to trust it
//! once. It can vouch only for addresses of local networks and for local names (RFC 5280, section
//! 4.2.1.10, name constraints), so that even a stolen key opens no other site. The server's own
//! certificate is made anew at each start, for the addresses of that moment, and never kept.

use std::net::IpAddr;
use std::path::{Path, PathBuf};

use rcgen::{
    BasicConstraints, CertificateParams, CidrSubnet, DnType, ExtendedKeyUsagePurpose,
    GeneralSubtree, IsCa, Issuer, KeyPair, KeyUsagePurpose, NameConstraints, SanType,
};
use rustls::pki_types::{CertificateDer, PrivateKeyDer, PrivatePkcs8KeyDer, pem::PemObject as _};
use sha2::{Digest as _, Sha256};
use time::{Duration, OffsetDateTime};

use crate::error::ServerError;
use crate::pairing::{hex, write_private};

/// Days for which the authority is good.
const AUTHORITY_DAYS: i64 = 3650;

/// Days for which a server certificate is good: below the 398 days that browsers allow at most
/// (CA/Browser Forum, Baseline Requirements 6.3.2), which some apply to local authorities too.
const SERVER_DAYS: i64 = 397;

/// Clocks of phones run apart from ours by a day at worst.
const BACKDATED: Duration = Duration::days(1);

/// Addresses that the authority may vouch for: those that no site on the internet can have. Loopback,
/// link-local, private (RFC 1918), shared (RFC 6598), and those for documentation (RFC 5737) and
/// measuring (RFC 2544), which some virtual networks use.
const LOCAL_V4: [([u8; 4], u8); 10] = [
    ([127, 0, 0, 0], 8),
    ([10, 0, 0, 0], 8),
    ([172, 16, 0, 0], 12),
    ([192, 168, 0, 0], 16),
    ([169, 254, 0, 0], 16),
    ([100, 64, 0, 0], 10),
    ([192, 0, 2, 0], 24),
    ([198, 51, 100, 0], 24),
    ([203, 0, 113, 0], 24),
    ([198, 18, 0, 0], 15),
];

/// Name endings that the authority may vouch for: RFC 6761, RFC 6762, RFC 8375 and ICANN's
/// reserved `internal`, and what home routers hand out.
const LOCAL_NAMES: [&str; 6] = ["localhost", "local", "home.arpa", "internal", "lan", "home"];

/// The authority.
pub struct Authority {
    key: KeyPair,
    certificate: CertificateDer<'static>,
}

/// A certificate for the server, with its key, ready for rustls.
pub struct ServerCertificate {
    /// The server's certificate.
    pub chain: Vec<CertificateDer<'static>>,
    /// Its key.
    pub key: PrivateKeyDer<'static>,
}

impl Authority {
    /// Reads the authority from the data folder, or makes it there.
    pub fn open(data: &Path, now: OffsetDateTime) -> Result<Self, ServerError> {
        let key_file = data.join("authority-key.pem");
        let certificate_file = data.join("authority.pem");
        match (read(&key_file)?, read(&certificate_file)?) {
            (Some(key), Some(certificate)) => {
                Self::of_pem(&key, &certificate, &key_file, &certificate_file)
            }
            (None, None) => {
                let authority = Self::new(now)?;
                write_private(&key_file, authority.key.serialize_pem().as_bytes())?;
                write_private(&certificate_file, authority.pem().as_bytes())?;
                Ok(authority)
            }
            (None, Some(_)) => Err(ServerError::Damaged {
                path: certificate_file,
                why: "its key, authority-key.pem, is missing".to_owned(),
            }),
            // a start broken off between the two files: nothing trusts this key yet
            (Some(_), None) => {
                std::fs::remove_file(&key_file).map_err(|source| ServerError::File {
                    act: "write",
                    path: key_file.clone(),
                    source,
                })?;
                Self::open(data, now)
            }
        }
    }

    fn new(now: OffsetDateTime) -> Result<Self, ServerError> {
        let key = KeyPair::generate().map_err(|why| certificate_error(&why))?;
        let mut params = subject(&key);
        params.not_before = now - BACKDATED;
        params.not_after = now + Duration::days(AUTHORITY_DAYS);
        let certificate = params
            .self_signed(&key)
            .map_err(|why| certificate_error(&why))?;
        Ok(Self {
            key,
            certificate: certificate.der().clone(),
        })
    }

    fn of_pem(
        key: &str,
        certificate: &str,
        key_file: &Path,
        certificate_file: &Path,
    ) -> Result<Self, ServerError> {
        let damaged = |path: &Path, why: &dyn ToString| ServerError::Damaged {
            path: path.to_path_buf(),
            why: why.to_string(),
        };
        let key = KeyPair::from_pem(key).map_err(|why| damaged(key_file, &why))?;
        let certificate = CertificateDer::from_pem_slice(certificate.as_bytes())
            .map_err(|why| damaged(certificate_file, &why))?;
        Ok(Self { key, certificate })
    }

    /// The authority's certificate, as phones install it (DER).
    pub fn der(&self) -> &[u8] {
        &self.certificate
    }

    /// The same as text (PEM).
    pub fn pem(&self) -> String {
        let base64 = base64(&self.certificate);
        let lines: Vec<&str> = (0..base64.len())
            .step_by(64)
            .map(|at| &base64[at..base64.len().min(at + 64)])
            .collect();
        format!(
            "-----BEGIN CERTIFICATE-----\n{}\n-----END CERTIFICATE-----\n",
            lines.join("\n")
        )
    }

    /// SHA-256 of the certificate, as phones show it: pairs of digits with colons.
    pub fn fingerprint(&self) -> String {
        let digits = hex(&Sha256::digest(&self.certificate)).to_uppercase();
        let pairs: Vec<&str> = (0..digits.len())
            .step_by(2)
            .map(|at| &digits[at..at + 2])
            .collect();
        pairs.join(":")
    }

    /// A certificate for the server under these names and addresses; those that are not local are
    /// left out, since no browser would accept them from this authority.
    pub fn server_certificate(
        &self,
        names: &[String],
        now: OffsetDateTime,
    ) -> Result<ServerCertificate, ServerError> {
        let mut params = CertificateParams::default();
        params.subject_alt_names = names.iter().filter_map(|name| alt_name(name)).collect();
        params
            .distinguished_name
            .push(DnType::CommonName, "Combwright on the local network");
        params.not_before = now - BACKDATED;
        params.not_after = now + Duration::days(SERVER_DAYS);
        params.use_authority_key_identifier_extension = true;
        params.key_usages = vec![KeyUsagePurpose::DigitalSignature];
        params.extended_key_usages = vec![ExtendedKeyUsagePurpose::ServerAuth];
        let key = KeyPair::generate().map_err(|why| certificate_error(&why))?;
        let issuer = Issuer::new(subject(&self.key), &self.key);
        let leaf = params
            .signed_by(&key, &issuer)
            .map_err(|why| certificate_error(&why))?;
        Ok(ServerCertificate {
            chain: vec![leaf.der().clone()],
            key: PrivatePkcs8KeyDer::from(key.serialize_der()).into(),
        })
    }
}

/// Who the authority is: told by its key, so that it is the same at every start.
fn subject(key: &KeyPair) -> CertificateParams {
    let short = &hex(&Sha256::digest(key.public_key_raw()))[..8];
    let mut params = CertificateParams::default();
    params.distinguished_name.push(
        DnType::CommonName,
        format!("Combwright local authority {short}"),
    );
    params.is_ca = IsCa::Ca(BasicConstraints::Constrained(0));
    params.key_usages = vec![KeyUsagePurpose::KeyCertSign, KeyUsagePurpose::CrlSign];
    let v4 = LOCAL_V4.map(|(address, prefix)| {
        GeneralSubtree::IpAddress(CidrSubnet::from_v4_prefix(address, prefix))
    });
    let v6 = [("::1", 128), ("fe80::", 10), ("fc00::", 7)].map(|(address, prefix)| {
        let address = address
            .parse::<std::net::Ipv6Addr>()
            .expect("written here")
            .octets();
        GeneralSubtree::IpAddress(CidrSubnet::from_v6_prefix(address, prefix))
    });
    let names = LOCAL_NAMES.map(|name| GeneralSubtree::DnsName(name.to_owned()));
    params.name_constraints = Some(NameConstraints {
        permitted_subtrees: v4.into_iter().chain(v6).chain(names).collect(),
        excluded_subtrees: Vec::new(),
    });
    params
}

/// Whether the authority can vouch for a name or address: no browser would accept others from it.
pub fn vouches_for(name: &str) -> bool {
    alt_name(name).is_some()
}

fn alt_name(name: &str) -> Option<SanType> {
    if let Ok(address) = name.parse::<IpAddr>() {
        return is_local(address).then_some(SanType::IpAddress(address));
    }
    let local = LOCAL_NAMES.iter().any(|ending| {
        name.strip_suffix(ending)
            .is_some_and(|rest| rest.is_empty() || rest.ends_with('.'))
    });
    if local {
        name.try_into().ok().map(SanType::DnsName)
    } else {
        None
    }
}

fn is_local(address: IpAddr) -> bool {
    match address {
        IpAddr::V4(v4) => LOCAL_V4.iter().any(|(net, prefix)| {
            let mask = u32::MAX << (32 - u32::from(*prefix));
            u32::from(v4) & mask == u32::from_be_bytes(*net)
        }),
        IpAddr::V6(v6) => v6.is_loopback() || v6.is_unique_local() || v6.is_unicast_link_local(),
    }
}

fn read(path: &Path) -> Result<Option<String>, ServerError> {
    match std::fs::read_to_string(path) {
        Ok(text) => Ok(Some(text)),
        Err(why) if why.kind() == std::io::ErrorKind::NotFound => Ok(None),
        Err(source) => Err(ServerError::File {
            act: "read",
            path: PathBuf::from(path),
            source,
        }),
    }
}

fn certificate_error(why: &rcgen::Error) -> ServerError {
    ServerError::Certificate(why.to_string())
}

/// RFC 4648, section 4.
fn base64(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    bytes
        .chunks(3)
        .flat_map(|chunk| {
            let held = chunk
                .iter()
                .fold(0u32, |held, byte| (held << 8) | u32::from(*byte))
                << (8 * (3 - chunk.len()));
            (0..4).map(move |place| {
                if place <= chunk.len() {
                    char::from(DIGITS[(held >> (18 - 6 * place)) as usize & 63])
                } else {
                    '='
                }
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn base64_is_that_of_rfc_4648() {
        // RFC 4648, section 10, test vectors
        let vectors = [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ];
        for (plain, coded) in vectors {
            assert_eq!(base64(plain.as_bytes()), coded);
        }
    }

    #[test]
    fn only_local_names_and_addresses_are_vouched_for() {
        let yes = [
            "192.168.1.20",
            "172.31.255.255",
            "100.127.255.255",
            "fd00::1",
            "hut.local",
            "localhost",
        ];
        let no = [
            "172.32.0.0",
            "100.128.0.0",
            "2001:4860::1",
            "example.org",
            "notlocal",
            "",
        ];
        assert!(yes.iter().all(|name| vouches_for(name)));
        assert!(!no.iter().any(|name| vouches_for(name)));
    }
}
