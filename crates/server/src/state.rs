//! What all requests share.

use std::net::{IpAddr, SocketAddr};
use std::sync::Arc;

use crate::calendar::{Calendar, FeedKey};
use crate::embedded::Embedded;
use crate::exchange::Exchange;
use crate::guard::rate::Rates;
use crate::pairing::Pairing;
use crate::serve::News;

/// What all requests share.
pub(crate) struct State {
    pub(crate) journal: Arc<dyn Exchange>,
    /// Due things; `None` when nobody offers them.
    pub(crate) calendar: Option<Arc<dyn Calendar>>,
    pub(crate) feed_key: FeedKey,
    pub(crate) pairing: Pairing,
    pub(crate) rates: Rates,
    /// Requests at work at once.
    pub(crate) at_work: tokio::sync::Semaphore,
    pub(crate) name: String,
    /// What is handed out to look at.
    pub(crate) app: &'static [Embedded],
    /// Addresses for phones, the likeliest first; none when the local network is not let in.
    pub(crate) secure: Vec<String>,
    /// Addresses of the page that tells a phone how it comes in, in the same order.
    pub(crate) explains: Vec<String>,
    pub(crate) news: Arc<dyn Fn(News) + Send + Sync>,
}

/// The peer's address, with an IPv4 address told as one even on an IPv6 listener.
pub(crate) fn peer(address: SocketAddr) -> IpAddr {
    address.ip().to_canonical()
}
