//! Under which addresses and names phones reach this machine.

use std::net::{IpAddr, UdpSocket};

use crate::authority::vouches_for;

/// Addresses of this machine on the local network, the likeliest first.
///
/// A datagram socket that is told where it would send knows its own address; nothing is sent. The
/// far addresses are those of RFC 5737 and RFC 3849, which belong to nobody.
pub(crate) fn local() -> Vec<IpAddr> {
    let toward = |from: &str, to: &str| {
        let socket = UdpSocket::bind((from.parse::<IpAddr>().ok()?, 0)).ok()?;
        socket.connect((to.parse::<IpAddr>().ok()?, 9)).ok()?;
        let own = socket.local_addr().ok()?.ip();
        (!own.is_loopback() && !own.is_unspecified()).then_some(own)
    };
    [toward("0.0.0.0", "192.0.2.1"), toward("::", "2001:db8::1")]
        .into_iter()
        .flatten()
        .collect()
}

/// The machine's name with `.local`, under which multicast DNS (RFC 6762) finds it where it runs.
pub(crate) fn local_name() -> Option<String> {
    let name = std::fs::read_to_string("/etc/hostname")
        .ok()
        .or_else(|| std::env::var("HOSTNAME").ok())
        .or_else(|| std::env::var("COMPUTERNAME").ok())?;
    let name = name.trim().split('.').next()?.to_lowercase();
    let sound = !name.is_empty()
        && name != "localhost"
        && name.chars().all(|c| c.is_ascii_alphanumeric() || c == '-');
    sound.then(|| format!("{name}.local"))
}

/// Names and addresses under which phones reach this machine and for which its authority may vouch,
/// the likeliest first, further ones last.
pub(crate) fn names(also: &[String]) -> Vec<String> {
    local()
        .into_iter()
        .map(|address| address.to_string())
        .chain(local_name())
        .chain(also.iter().cloned())
        .filter(|name| vouches_for(name))
        .collect()
}

/// An IPv6 address as it stands in an address line.
pub(crate) fn bracketed(name: &str) -> String {
    if name
        .parse::<IpAddr>()
        .is_ok_and(|address| address.is_ipv6())
    {
        format!("[{name}]")
    } else {
        name.to_owned()
    }
}
