//! Streams made small (ISO 32000-1, 7.4.4), with one state for many streams.

use flate2::{Compress, Compression, FlushCompress, Status};

/// A compressor at the level where more effort hardly makes pages smaller. Setting one up costs as much as compressing
/// half a page, so it is kept.
pub(super) struct Deflater(Compress);

impl Deflater {
    pub(super) fn new() -> Self {
        Deflater(Compress::new(Compression::new(6), true))
    }

    /// The stream of `content`.
    pub(super) fn deflate(&mut self, content: &[u8]) -> Vec<u8> {
        self.0.reset();
        let mut out = Vec::with_capacity(content.len() / 3 + 64);
        loop {
            let rest = &content[self.0.total_in() as usize..];
            let status = self.0.compress_vec(rest, &mut out, FlushCompress::Finish);
            match status.expect("compressing bytes in memory can't fail") {
                Status::StreamEnd => return out,
                Status::Ok | Status::BufError => out.reserve(out.capacity()),
            }
        }
    }
}
