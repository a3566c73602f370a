//! Writing what was answered: whole or not at all where a file is replaced, straight through to a device or a pipe.

use crate::source::{Diagnostic, PIPE_PATIENCE, waiting};
use std::ffi::OsStr;
use std::fs::{self, File, Metadata, OpenOptions, TryLockError};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

/// Links that are followed to the file that is meant.
const MAX_LINKS: usize = 40;

/// Writes a file that an option names.
///
/// A regular file is written beside and renamed, so that a reader never sees half of it: it keeps its mode, links are
/// followed to what they name, and a file that is read-only stays as it is. What was begun and never ended bears one
/// name, which the next run to the same file removes. A device or a pipe is written through.
///
/// # Errors
/// A [`Diagnostic`] that names the option.
pub(super) fn write(path: &Path, bytes: &[u8], option: &str) -> Result<(), Diagnostic> {
    let shown = path.display();
    let fault = |message: String, help: &str| Err(Diagnostic::plain(message).field(option).help(help));
    let end = match end_of_links(path) {
        Ok(end) => end,
        Err(e) => return fault(format!("cannot write `{shown}`: {e}"), "name another file"),
    };
    let written = match fs::metadata(&end) {
        Err(e) if e.kind() == ErrorKind::NotFound => written_beside(&end, bytes, None),
        Err(e) => Err(e),
        Ok(old) if old.is_dir() => return fault(format!("`{shown}` is a folder"), "name a file in it"),
        Ok(old) if !old.is_file() => {
            match waiting(&old, PIPE_PATIENCE, move || OpenOptions::new().write(true).open(end)) {
                None => return fault(format!("`{shown}` is a pipe that nobody reads"), "start what reads it first"),
                // What reads a pipe may leave when it has enough.
                Some(opened) => match opened.and_then(|mut file| file.write_all(bytes)) {
                    Err(e) if e.kind() == ErrorKind::BrokenPipe => Ok(()),
                    done => done,
                },
            }
        }
        Ok(old) if old.permissions().readonly() => {
            return fault(format!("`{shown}` is read-only"), "name another file, or make this one writable");
        }
        Ok(old) => replaced(&end, bytes, &old),
    };
    match written {
        Ok(()) => Ok(()),
        Err(e) if e.kind() == ErrorKind::NotFound => {
            fault(format!("cannot write `{shown}`: its folder is not there"), "name a file in a folder that is there")
        }
        Err(e) => fault(format!("cannot write `{shown}`: {e}"), "name a file in a folder that can be written"),
    }
}

/// Refuses an output that the same command reads or writes under another option: any other word of its command line
/// that names the same file, and `inputs` that files name.
///
/// # Errors
/// A [`Diagnostic`] that names the file.
pub(super) fn refuse_own_inputs<'a>(
    output: &Path,
    args: impl IntoIterator<Item = &'a OsStr>,
    inputs: impl IntoIterator<Item = &'a Path>,
) -> Result<(), Diagnostic> {
    let words = args.into_iter().skip(1).filter_map(paths_in);
    // The output's own option is one of them.
    let again = words.filter(|word| is_same_file(word, output)).count() > 1;
    if again || inputs.into_iter().any(|input| is_same_file(input, output)) {
        let message = format!("`{}` is used by this command already", output.display());
        return Err(Diagnostic::plain(message).field("--output").help("write to another file"));
    }
    Ok(())
}

/// The paths that a word of the command line can be: itself, or the value of an option.
fn paths_in(word: &OsStr) -> Option<PathBuf> {
    let Some(text) = word.to_str() else { return Some(word.into()) };
    let value = match text.strip_prefix("--") {
        Some(option) => option.split_once('=').map(|(_, value)| value),
        None if text.starts_with('-') => text.strip_prefix("-o").map(|value| value.trim_start_matches('=')),
        None => Some(text),
    };
    value.filter(|value| !value.is_empty()).map(PathBuf::from)
}

/// Whether two paths lead to one file, be it there or not yet.
fn is_same_file(a: &Path, b: &Path) -> bool {
    let place = |path: &Path| {
        let end = end_of_links(path).ok()?;
        let folder = end.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
        Some(fs::canonicalize(folder).ok()?.join(end.file_name()?))
    };
    let named_alike = place(a).is_some_and(|a| place(b).is_some_and(|b| a == b));
    named_alike || fs::metadata(a).is_ok_and(|a| fs::metadata(b).is_ok_and(|b| is_one(&a, &b)))
}

#[cfg(unix)]
fn is_one(a: &Metadata, b: &Metadata) -> bool {
    use std::os::unix::fs::MetadataExt;
    a.is_file() && (a.dev(), a.ino()) == (b.dev(), b.ino())
}

#[cfg(not(unix))]
fn is_one(_: &Metadata, _: &Metadata) -> bool {
    false
}

/// The file that a chain of links ends at, be it there or not.
fn end_of_links(path: &Path) -> io::Result<PathBuf> {
    let mut end = path.to_owned();
    for _ in 0..MAX_LINKS {
        match fs::read_link(&end) {
            Ok(next) => end = end.parent().map_or_else(|| next.clone(), |folder| folder.join(&next)),
            Err(_) => return Ok(end),
        }
    }
    Err(io::Error::new(ErrorKind::InvalidInput, "its links lead in a circle"))
}

/// Replaces a regular file that may be written. One that others own or name as well is written in place, since a new
/// file would part from them; so is one in a folder that takes no new file.
fn replaced(path: &Path, bytes: &[u8], old: &Metadata) -> io::Result<()> {
    // What may not be opened may not be replaced either.
    let mut file = OpenOptions::new().write(true).open(path)?;
    if !is_shared(&file, old) {
        match written_beside(path, bytes, Some(old)) {
            Err(e) if e.kind() == ErrorKind::PermissionDenied => {}
            done => return done,
        }
    }
    file.set_len(0)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// Whether a file has several names, or another owner than what this process makes.
#[cfg(unix)]
fn is_shared(file: &File, old: &Metadata) -> bool {
    use std::os::unix::fs::MetadataExt;
    let _ = file;
    let mine = fs::metadata("/proc/self").map_or_else(|_| old.uid(), |me| me.uid());
    old.nlink() > 1 || old.uid() != mine
}

#[cfg(not(unix))]
fn is_shared(_: &File, _: &Metadata) -> bool {
    false
}

/// The name of what is being written.
fn part_of(path: &Path) -> io::Result<PathBuf> {
    let name = path.file_name().ok_or_else(|| io::Error::new(ErrorKind::InvalidInput, "it names no file"))?;
    let mut part = std::ffi::OsString::from(".");
    part.push(name);
    part.push(".part");
    Ok(path.with_file_name(part))
}

/// Writes beside the file, then renames. The part is locked while it is written: one without a lock is what a killed
/// run left.
fn written_beside(path: &Path, bytes: &[u8], old: Option<&Metadata>) -> io::Result<()> {
    let part = part_of(path)?;
    let mut file = new_part(&part, old.is_some())?;
    let mut whole = || {
        file.write_all(bytes)?;
        if let Some(old) = old {
            file.set_permissions(old.permissions())?;
        }
        file.sync_all()?;
        fs::rename(&part, path)
    };
    let done = whole();
    if done.is_err() {
        // The part is of no use to anybody; that it can't be removed changes nothing.
        let _ = fs::remove_file(&part);
    }
    done
}

/// A new part, locked; private until it takes the mode of what it replaces.
fn new_part(part: &Path, private: bool) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    if private {
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    }
    let file = match options.open(part) {
        Err(e) if e.kind() == ErrorKind::AlreadyExists => {
            remove_stale(part)?;
            options.open(part)?
        }
        opened => opened?,
    };
    // A file system without locks is written to all the same.
    let _ = file.try_lock();
    Ok(file)
}

fn remove_stale(part: &Path) -> io::Result<()> {
    if fs::symlink_metadata(part)?.is_file()
        && let Err(TryLockError::WouldBlock) = OpenOptions::new().write(true).open(part)?.try_lock()
    {
        return Err(io::Error::new(ErrorKind::ResourceBusy, "another run is writing it"));
    }
    fs::remove_file(part)
}

#[cfg(all(test, unix))]
mod tests {
    use super::*;
    use std::os::unix::fs::{PermissionsExt, symlink};

    fn names(folder: &Path) -> Vec<String> {
        let names = fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap());
        let mut names: Vec<_> = names.collect();
        names.sort();
        names
    }

    fn mode(path: &Path) -> u32 {
        fs::metadata(path).unwrap().permissions().mode() & 0o777
    }

    #[test]
    fn a_file_is_replaced_whole_keeps_its_mode_and_no_part_stays() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("chart.html");
        write(&path, b"one", "--output").unwrap();
        fs::set_permissions(&path, fs::Permissions::from_mode(0o600)).unwrap();
        write(&path, b"two", "--output").unwrap();
        assert_eq!((fs::read(&path).unwrap(), mode(&path)), (b"two".to_vec(), 0o600));
        assert_eq!(names(folder.path()), ["chart.html"]);
        let fault = write(&folder.path().join("no/such/folder"), b"x", "--save").unwrap_err();
        assert_eq!(fault.field.as_deref(), Some("--save"));
        assert!(fault.message.contains("folder is not there"), "{fault}");
        assert!(write(folder.path(), b"x", "--output").unwrap_err().message.contains("is a folder"));
    }

    #[test]
    fn a_link_stays_a_link_and_what_it_names_is_written() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        fs::create_dir(at("real")).unwrap();
        for (link, to) in [("a", "real/a.html"), ("b", "a"), ("round", "round")] {
            symlink(to, at(link)).unwrap();
        }
        write(&at("b"), b"first", "--output").unwrap();
        write(&at("b"), b"second", "--output").unwrap();
        assert_eq!(fs::read(at("real/a.html")).unwrap(), b"second");
        assert!(at("a").is_symlink() && at("b").is_symlink());
        assert!(write(&at("round"), b"x", "--output").is_err());
        fs::hard_link(at("real/a.html"), at("twin")).unwrap();
        write(&at("twin"), b"third", "--output").unwrap();
        assert_eq!(fs::read(at("real/a.html")).unwrap(), b"third", "two names of one file stay so");
    }

    #[test]
    fn a_read_only_file_is_refused_and_stays() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("kept");
        fs::write(&path, "old").unwrap();
        fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).unwrap();
        assert!(write(&path, b"new", "--output").unwrap_err().message.contains("read-only"));
        assert_eq!((fs::read(&path).unwrap(), mode(&path)), (b"old".to_vec(), 0o444));
    }

    #[test]
    fn devices_and_pipes_are_written_through() {
        let folder = tempfile::tempdir().unwrap();
        write(Path::new("/dev/null"), b"x", "--output").unwrap();
        assert!(!fs::metadata("/dev/null").unwrap().is_file());
        let pipe = folder.path().join("pipe");
        assert!(std::process::Command::new("mkfifo").arg(&pipe).status().unwrap().success());
        let reader = {
            let pipe = pipe.clone();
            std::thread::spawn(move || fs::read(pipe).unwrap())
        };
        write(&pipe, b"through", "--output").unwrap();
        assert_eq!(reader.join().unwrap(), b"through");
        assert_eq!(names(folder.path()), ["pipe"]);
    }

    #[test]
    fn what_a_killed_run_left_is_removed_by_the_next_and_a_run_at_work_is_not_disturbed() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("chart.html");
        let part = part_of(&path).unwrap();
        fs::write(&part, "half").unwrap();
        write(&path, b"whole", "--output").unwrap();
        assert_eq!(names(folder.path()), ["chart.html"]);
        let at_work = new_part(&part, false).unwrap();
        assert!(write(&path, b"other", "--output").unwrap_err().message.contains("another run"));
        drop(at_work);
        write(&path, b"other", "--output").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"other");
    }

    #[test]
    fn an_output_that_is_an_input_is_refused_by_every_name() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        fs::write(at("match.toml"), "x").unwrap();
        symlink("match.toml", at("link")).unwrap();
        fs::hard_link(at("match.toml"), at("twin")).unwrap();
        let refused = |line: &[String], output: &str, inputs: &[&Path]| {
            let words: Vec<&OsStr> = line.iter().map(OsStr::new).collect();
            refuse_own_inputs(&at(output), words, inputs.iter().copied()).is_err()
        };
        let shown = |name: &str| at(name).display().to_string();
        let line = |input: &str, output: &str| {
            ["thickset".into(), "course".into(), shown(input), "-o".into(), shown(output)].to_vec()
        };
        assert!(refused(&line("match.toml", "match.toml"), "match.toml", &[]));
        assert!(refused(&line("match.toml", "link"), "link", &[]));
        assert!(refused(&line("match.toml", "twin"), "twin", &[]));
        assert!(!refused(&line("match.toml", "new.html"), "new.html", &[]));
        assert!(refused(&line("match.toml", "link"), "link", &[&at("match.toml")]));
        let glued = ["thickset".into(), format!("--save={}", shown("new")), format!("-o{}", shown("new"))].to_vec();
        assert!(refused(&glued, "new", &[]), "the other output, not there yet");
    }
}
