//! One line of a book's history, as exact bytes, chained to the line before.

use std::fmt;

use sha2::{Digest as _, Sha256};

/// A SHA-256 hash.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct Hash([u8; 32]);

/// An entry as it is stored. Nothing of it is ever re-serialized: the hash is over these very bytes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// The book that it belongs to.
    pub book: String,
    /// Its place in the book, from 1 without a gap.
    pub sequence: u64,
    /// When it was written, UTC, RFC 3339 with milliseconds.
    pub time: String,
    /// Who wrote it.
    pub author: String,
    /// What it records, such as `bottle.received`.
    pub kind: String,
    /// The version of the payload's layout.
    pub version: u16,
    /// The record itself: JSON in UTF-8.
    pub payload: Vec<u8>,
    /// Hash of the entry before; zeros for the first.
    pub previous: Hash,
    /// Hash of all the fields above.
    pub hash: Hash,
}

/// Names the layout of the hashed bytes, so that another layout can never give the same hash by chance.
const LAYOUT: &[u8] = b"meltbook entry 1";

impl Hash {
    /// What stands before the first entry.
    pub const ZERO: Self = Self([0; 32]);

    /// Of some bytes.
    pub fn of(bytes: &[u8]) -> Self {
        Self(Sha256::digest(bytes).into())
    }

    /// From a hasher that was fed elsewhere.
    pub fn from_bytes(bytes: [u8; 32]) -> Self {
        Self(bytes)
    }

    /// Its bytes.
    pub const fn as_bytes(&self) -> &[u8; 32] {
        &self.0
    }

    /// From 64 hexadecimal digits.
    pub fn from_hex(text: &str) -> Option<Self> {
        if text.len() != 64 || !text.is_ascii() {
            return None;
        }
        let mut bytes = [0; 32];
        for (byte, pair) in bytes.iter_mut().zip(text.as_bytes().chunks(2)) {
            let pair = std::str::from_utf8(pair).ok()?;
            *byte = u8::from_str_radix(pair, 16).ok()?;
        }
        Some(Self(bytes))
    }

    /// The first eight digits, enough to compare two prints by eye.
    pub fn short(&self) -> String {
        self.to_string()[..8].to_owned()
    }
}

/// As 64 hexadecimal digits.
impl fmt::Display for Hash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

impl fmt::Debug for Hash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Hash({self})")
    }
}

/// Written as its hexadecimal digits.
impl serde::Serialize for Hash {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> serde::Deserialize<'de> for Hash {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = <std::borrow::Cow<'de, str> as serde::Deserialize>::deserialize(deserializer)?;
        Self::from_hex(&text).ok_or_else(|| serde::de::Error::custom("64 hexadecimal digits are wanted"))
    }
}

impl Entry {
    /// Seals an entry: computes its hash.
    #[allow(
        clippy::too_many_arguments,
        reason = "the fields of an entry, once, in the order in which they are hashed"
    )]
    pub fn seal(
        book: impl Into<String>,
        sequence: u64,
        time: impl Into<String>,
        author: impl Into<String>,
        kind: impl Into<String>,
        version: u16,
        payload: Vec<u8>,
        previous: Hash,
    ) -> Self {
        let mut entry = Self {
            book: book.into(),
            sequence,
            time: time.into(),
            author: author.into(),
            kind: kind.into(),
            version,
            payload,
            previous,
            hash: Hash::ZERO,
        };
        entry.hash = entry.computed_hash();
        entry
    }

    /// The hash that the fields give: SHA-256 over the layout's name and each field, every one preceded by
    /// its length as eight bytes, so that no two different entries feed the same bytes.
    pub fn computed_hash(&self) -> Hash {
        let sequence = self.sequence.to_be_bytes();
        let version = self.version.to_be_bytes();
        let fields: [&[u8]; 9] = [
            LAYOUT,
            self.book.as_bytes(),
            &sequence,
            self.time.as_bytes(),
            self.author.as_bytes(),
            self.kind.as_bytes(),
            &version,
            &self.payload,
            self.previous.as_bytes(),
        ];
        let mut hasher = Sha256::new();
        for field in fields {
            hasher.update((field.len() as u64).to_be_bytes());
            hasher.update(field);
        }
        Hash(hasher.finalize().into())
    }

    /// True if the hash is that of the fields.
    pub fn is_whole(&self) -> bool {
        self.hash == self.computed_hash()
    }
}
