//! Writing a file whole or not at all.

use std::fs;
use std::io::{self, Write};
use std::path::Path;

/// Writes beside the file, then renames: a reader never sees half a report.
///
/// # Errors
/// What the file system says.
pub fn write_beside(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let name = path.file_name().ok_or_else(|| io::Error::new(io::ErrorKind::InvalidInput, "no file name"))?;
    let mut beside = name.to_owned();
    beside.push(format!(".{}.part", std::process::id()));
    let beside = path.with_file_name(beside);
    let written = fs::File::create(&beside).and_then(|mut file| file.write_all(bytes).and_then(|()| file.sync_all()));
    let done = written.and_then(|()| fs::rename(&beside, path));
    if done.is_err() {
        // The part is of no use to anybody; that it can't be removed changes nothing.
        let _ = fs::remove_file(&beside);
    }
    done
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_replaced_whole_and_no_part_stays() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("chart.html");
        write_beside(&path, b"one").unwrap();
        write_beside(&path, b"two").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"two");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
        assert!(write_beside(&folder.path().join("no/such/folder"), b"x").is_err());
    }
}
