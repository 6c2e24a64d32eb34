//! Files: logs and pictures as they came, named by the hash of their bytes.

use std::fs::File;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use super::error::BookError;
use super::open::Book;
use crate::record::{Hash, HashingRead};

/// The folder of the files in a book.
pub(super) const FILES: &str = "files";
/// How a file is called while it is being copied.
pub(super) const INCOMING: &str = "incoming-";
/// Bytes that are copied at a time.
const CHUNK: usize = 1 << 16;

impl Book {
    /// Takes in a file, unchanged, and gives the hash that is its name. The same bytes twice are one file.
    /// It is synced and in place before any entry can name it.
    ///
    /// # Errors
    /// If it can't be read or written.
    pub fn keep_file(&self, from: &Path) -> Result<Hash, BookError> {
        let folder = self.folder().join(FILES);
        let (passing, hash) = copy_hashing(from, &folder)?;
        let place = folder.join(hash.to_string());
        std::fs::rename(&passing, &place).map_err(BookError::io(&place))?;
        sync_folder(&folder)?;
        Ok(hash)
    }

    /// Where a kept file is.
    pub fn file_path(&self, hash: &Hash) -> PathBuf {
        self.folder().join(FILES).join(hash.to_string())
    }
}

/// The hash of a file's bytes.
pub(super) fn hash_of(path: &Path) -> Result<Hash, BookError> {
    let mut file = File::open(path).map_err(BookError::io(path))?;
    pass(&mut file, path, |_| Ok(()))
}

/// Writes a file that is not there yet, synced.
pub(super) fn write_new(path: &Path, bytes: &[u8]) -> Result<(), BookError> {
    let mut file = File::create_new(path).map_err(BookError::io(path))?;
    file.write_all(bytes).and_then(|()| file.sync_all()).map_err(BookError::io(path))?;
    match path.parent() {
        Some(folder) => sync_folder(folder),
        None => Ok(()),
    }
}

/// Copies a file to a name of its own in `folder`, and gives that and the hash of the bytes.
fn copy_hashing(from: &Path, folder: &Path) -> Result<(PathBuf, Hash), BookError> {
    let mut source = File::open(from).map_err(BookError::io(from))?;
    let (to, mut copy) = unused(folder)?;
    let hash = pass(&mut source, from, |bytes| copy.write_all(bytes).map_err(BookError::io(&to)))?;
    copy.sync_all().map_err(BookError::io(&to))?;
    Ok((to, hash))
}

/// A new file under a name that nobody uses, however many take files in at once.
fn unused(folder: &Path) -> Result<(PathBuf, File), BookError> {
    let mut number = 1;
    loop {
        let path = folder.join(format!("{INCOMING}{number}"));
        match File::create_new(&path) {
            Ok(file) => return Ok((path, file)),
            Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => number += 1,
            Err(error) => return Err(BookError::Io { path, error }),
        }
    }
}

fn pass(
    source: &mut File,
    path: &Path,
    mut each: impl FnMut(&[u8]) -> Result<(), BookError>,
) -> Result<Hash, BookError> {
    let mut source = HashingRead::new(source);
    let mut buffer = vec![0; CHUNK];
    loop {
        match source.read(&mut buffer).map_err(BookError::io(path))? {
            0 => return source.finish().map(|(hash, _)| hash).map_err(BookError::io(path)),
            read => each(&buffer[..read])?,
        }
    }
}

/// A rename lasts only once the folder is synced.
fn sync_folder(folder: &Path) -> Result<(), BookError> {
    let opened = File::open(folder).map_err(BookError::io(folder))?;
    opened.sync_all().map_err(BookError::io(folder))
}
