//! Compresses each file once, at build time, as small as it will go.

use std::io::Write as _;

use flate2::Compression;
use flate2::write::GzEncoder;

use crate::bundle::File;

/// A file and its compressed forms, where they are smaller.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Packed {
    /// The file.
    pub file: File,
    /// As gzip (RFC 1952).
    pub gzip: Option<Vec<u8>>,
    /// As brotli (RFC 7932).
    pub brotli: Option<Vec<u8>>,
}

/// Compresses all.
pub fn pack(files: Vec<File>) -> Vec<Packed> {
    files.into_iter().map(packed).collect()
}

fn packed(file: File) -> Packed {
    // a form that saves less than a tenth is not worth its unpacking
    let worth = |small: Vec<u8>| (small.len() * 10 < file.bytes.len() * 9).then_some(small);
    let gzip = gzip(&file.bytes).and_then(worth);
    let brotli = brotli(&file.bytes).and_then(worth);
    Packed { file, gzip, brotli }
}

fn gzip(bytes: &[u8]) -> Option<Vec<u8>> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(bytes).ok()?;
    encoder.finish().ok()
}

fn brotli(bytes: &[u8]) -> Option<Vec<u8>> {
    let parameters = brotli::enc::BrotliEncoderParams {
        quality: 11,
        lgwin: 24,
        size_hint: bytes.len(),
        ..Default::default()
    };
    let mut small = Vec::new();
    brotli::BrotliCompress(&mut &*bytes, &mut small, &parameters).ok()?;
    Some(small)
}

#[cfg(test)]
mod tests {
    use std::io::Read as _;

    use super::*;

    #[test]
    fn both_forms_unpack_to_the_file() {
        let bytes = "follower board, bar, bar, bar, shim\n"
            .repeat(200)
            .into_bytes();
        let file = File {
            path: "/a".into(),
            bytes: bytes.clone(),
            immutable: false,
        };
        let packed = packed(file);
        let mut gzip = Vec::new();
        flate2::read::GzDecoder::new(&*packed.gzip.expect("smaller"))
            .read_to_end(&mut gzip)
            .expect("gzip");
        let mut brotli = Vec::new();
        brotli::BrotliDecompress(&mut &*packed.brotli.expect("smaller"), &mut brotli)
            .expect("brotli");
        assert!(gzip == bytes && brotli == bytes);
    }

    #[test]
    fn a_file_that_does_not_shrink_has_no_compressed_form() {
        let bytes = vec![7];
        let packed = packed(File {
            path: "/a".into(),
            bytes,
            immutable: false,
        });
        assert_eq!((packed.gzip, packed.brotli), (None, None));
    }
}
