//! Reading and hashing in one pass.

use std::io::{self, Read};

use sha2::{Digest as _, Sha256};

use super::entry::Hash;

/// A reader that hashes what passes through it.
pub struct HashingRead<R> {
    inner: R,
    hasher: Sha256,
    bytes: u64,
}

impl<R: Read> HashingRead<R> {
    /// Around another reader, at its beginning.
    pub fn new(inner: R) -> Self {
        Self { inner, hasher: Sha256::new(), bytes: 0 }
    }

    /// Reads on to the end, and gives the hash of all bytes and their number.
    ///
    /// # Errors
    /// If reading fails.
    pub fn finish(mut self) -> io::Result<(Hash, u64)> {
        let mut rest = vec![0; 1 << 16];
        while self.read(&mut rest)? != 0 {}
        Ok((Hash::from_bytes(self.hasher.finalize().into()), self.bytes))
    }
}

impl<R: Read> Read for HashingRead<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let read = self.inner.read(buffer)?;
        self.hasher.update(&buffer[..read]);
        self.bytes += read as u64;
        Ok(read)
    }
}
