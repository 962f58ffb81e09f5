//! Lines of the log as text, and digests of the exercise's own state.

use std::fmt::{Debug, Write};

/// FNV-1a, 64 bits (Fowler, Noll, Vo).
struct Fnv(u64);

impl Write for Fnv {
    fn write_str(&mut self, text: &str) -> std::fmt::Result {
        for byte in text.bytes() {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
        Ok(())
    }
}

/// FNV-1a over the debug text of a value: equal for equal values, numbers written so that their bits differ.
pub(crate) fn digest_debug<T: Debug>(value: &T) -> u64 {
    let mut hash = Fnv(0xcbf2_9ce4_8422_2325);
    // Hashing cannot fail; a `Debug` that reports an error still leaves what it wrote.
    let _ = write!(hash, "{value:?}");
    hash.0
}
