//! An import takes all of it or nothing, whatever the bytes.
#![no_main]

use hive::DeviceId;
use libfuzzer_sys::fuzz_target;
use store::{Hash, Journal, OpenOptions};
use uuid::Uuid;

fuzz_target!(|data: &[u8]| {
    let Some((&way, rest)) = data.split_first() else {
        return;
    };
    let text = if way % 2 == 0 { rest.to_vec() } else { rightly_hashed(rest) };
    tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .expect("a runtime can be made")
        .block_on(import(&text));
});

async fn import(text: &[u8]) {
    let device = || DeviceId(Uuid::from_u128(1));
    let journal = Journal::in_memory(OpenOptions::write(device)).await.expect("memory can be had");
    let outcome = journal.import(text, |_| ()).await;
    let held = journal.len().await.expect("reads");
    match outcome {
        Ok(joined) => {
            assert_eq!(held, joined.new);
            journal.entries().await.expect("what was taken in can be read");
            let mut out = Vec::new();
            journal.export(&mut out, |_| ()).await.expect("and passed on");
            let again = Journal::in_memory(OpenOptions::write(device)).await.expect("memory");
            assert_eq!(again.import(&out[..], |_| ()).await.expect("and taken in again").new, held);
        }
        Err(why) => {
            assert!(!why.to_string().is_empty());
            assert_eq!(held, 0, "nothing is half recorded");
        }
    }
    journal.close().await;
}

/// Each line as an entry's text, with hashes that are right.
fn rightly_hashed(data: &[u8]) -> Vec<u8> {
    let texts: Vec<&[u8]> = data.split(|&byte| byte == b'\n').collect();
    let header = format!("{{\"journal\":\"combwright\",\"version\":1,\"entries\":{}}}\n", texts.len());
    let mut out = header.into_bytes();
    let mut prev = Hash::ORIGIN;
    for text in texts {
        let hash = prev.followed_by(text);
        out.extend_from_slice(format!("{{\"prev\":\"{prev}\",\"hash\":\"{hash}\",\"entry\":").as_bytes());
        out.extend_from_slice(text);
        out.extend_from_slice(b"}\n");
        prev = hash;
    }
    out
}
