//! How often one address may ask: a bucket that fills steadily and is emptied by asking.

use std::collections::BTreeMap;
use std::net::IpAddr;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use axum::extract::{ConnectInfo, Request, State};
use axum::middleware::Next;
use axum::response::Response;

use crate::{problem, state};

/// How much one kind of asking is allowed.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Allowance {
    /// At once.
    burst: f64,
    /// Each second.
    per_second: f64,
}

/// Everything: the app's own first load is a dozen requests, a long exchange some twenty a second.
const REQUESTS: Allowance = Allowance {
    burst: 200.0,
    per_second: 50.0,
};

/// Tries of a pairing code, beside the limit on wrong ones.
pub(crate) const PAIRING: Allowance = Allowance {
    burst: 5.0,
    per_second: 0.1,
};

/// The calendar feed: a calendar program asks a few times a day.
pub(crate) const CALENDAR: Allowance = Allowance {
    burst: 10.0,
    per_second: 0.1,
};

/// Addresses remembered at most; the longest unseen is forgotten first.
const REMEMBERED: usize = 4096;

/// One bucket an address and kind.
#[derive(Debug, Default)]
pub(crate) struct Rates {
    buckets: Mutex<BTreeMap<(IpAddr, &'static str), Bucket>>,
}

#[derive(Debug, Clone, Copy)]
struct Bucket {
    left: f64,
    seen: Instant,
}

impl Rates {
    /// Takes one from the bucket, or says how many seconds to wait.
    pub(crate) fn take(
        &self,
        who: IpAddr,
        kind: &'static str,
        allowance: Allowance,
        now: Instant,
    ) -> Result<(), u32> {
        let mut buckets = self.buckets.lock().unwrap_or_else(PoisonError::into_inner);
        let key = (network(who), kind);
        if buckets.len() >= REMEMBERED && !buckets.contains_key(&key) {
            let oldest = buckets
                .iter()
                .min_by_key(|(_, b)| b.seen)
                .map(|(key, _)| *key);
            oldest.and_then(|key| buckets.remove(&key));
        }
        let bucket = buckets.entry(key).or_insert(Bucket {
            left: allowance.burst,
            seen: now,
        });
        let since = now.saturating_duration_since(bucket.seen).as_secs_f64();
        bucket.left = (bucket.left + since * allowance.per_second).min(allowance.burst);
        bucket.seen = now;
        if bucket.left >= 1.0 {
            bucket.left -= 1.0;
            Ok(())
        } else {
            let wait = Duration::from_secs_f64((1.0 - bucket.left) / allowance.per_second);
            Err(wait.as_secs_f64().ceil() as u32)
        }
    }
}

/// An IPv6 device has a whole /64 to ask from.
fn network(address: IpAddr) -> IpAddr {
    match address {
        IpAddr::V4(_) => address,
        IpAddr::V6(v6) => {
            let [a, b, c, d, ..] = v6.segments();
            IpAddr::from([a, b, c, d, 0, 0, 0, 0])
        }
    }
}

/// Bounds how often one address may ask for anything.
pub(crate) async fn limited(
    State(state): State<Arc<state::State>>,
    ConnectInfo(address): ConnectInfo<std::net::SocketAddr>,
    request: Request,
    next: Next,
) -> Response {
    match state
        .rates
        .take(state::peer(address), "any", REQUESTS, Instant::now())
    {
        Ok(()) => next.run(request).await,
        Err(seconds) => problem::wait(seconds),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FEW: Allowance = Allowance {
        burst: 2.0,
        per_second: 0.5,
    };

    #[test]
    fn an_empty_bucket_says_how_long_to_wait_and_fills_again() {
        let (rates, now) = (Rates::default(), Instant::now());
        let who = IpAddr::from([192, 0, 2, 7]);
        let ask = |after: u64| rates.take(who, "any", FEW, now + Duration::from_secs(after));
        assert_eq!((ask(0), ask(0), ask(0)), (Ok(()), Ok(()), Err(2)));
        assert_eq!((ask(2), ask(2)), (Ok(()), Err(2)));
        let other = IpAddr::from([192, 0, 2, 8]);
        assert_eq!(rates.take(other, "any", FEW, now), Ok(()));
    }

    #[test]
    fn the_table_stays_bounded() {
        let (rates, now) = (Rates::default(), Instant::now());
        for n in 0..6000u32 {
            let _ = rates.take(IpAddr::from(n.to_be_bytes()), "any", FEW, now);
        }
        assert_eq!(
            rates.buckets.lock().expect("not poisoned").len(),
            REMEMBERED
        );
    }

    #[test]
    fn one_ipv6_network_is_one_asker() {
        let (rates, now) = (Rates::default(), Instant::now());
        let from = |last: u16| IpAddr::from([0x2001, 0xdb8, 0, 1, 0, 0, 0, last]);
        let asked: Vec<_> = (1..4)
            .map(|n| rates.take(from(n), "any", FEW, now))
            .collect();
        assert_eq!(asked, [Ok(()), Ok(()), Err(2)]);
    }
}
