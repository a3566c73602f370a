//! Where answers are written, and what ends a run early: statuses that hold.

use super::{status, stderr, stdout, thickset};
use std::fs;
use std::io::Read;
use std::process::{Command, Stdio};

const VET: &str = "vet --load 300wm-180 --at 100yd --plate 3/8in";

fn binary() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_thickset"));
    command.current_dir(env!("CARGO_MANIFEST_DIR"));
    command
}

#[test]
fn an_answer_in_a_file_is_the_answer_on_standard_output() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("vet.txt");
    let told = thickset(VET);
    let written = thickset(&format!("{VET} -o {}", path.display()));
    assert_eq!((status(&written), stdout(&written)), (status(&told), String::new()), "{}", stderr(&written));
    assert_eq!(fs::read_to_string(&path).expect("the answer"), stdout(&told));
    assert_eq!(stdout(&thickset(&format!("{VET} -o -"))), stdout(&told));
}

#[test]
fn the_ending_of_a_file_says_the_form_where_no_option_does() {
    let folder = tempfile::tempdir().expect("a folder");
    for (ending, format) in [("html", "html"), ("HTM", "html"), ("csv", "csv"), ("json", "json"), ("txt", "table")] {
        let path = folder.path().join(format!("vet.{ending}"));
        assert_eq!(status(&thickset(&format!("{VET} -o {}", path.display()))), 1);
        let told = stdout(&thickset(&format!("{VET} --format {format}")));
        assert_eq!(fs::read_to_string(&path).expect("the answer"), told, "{ending}");
    }
    for path in ["said.txt", "said"].map(|name| folder.path().join(name)) {
        thickset(&format!("{VET} --format json -o {}", path.display()));
        assert!(fs::read_to_string(&path).expect("the answer").starts_with('{'), "{}", path.display());
    }
}

#[test]
fn an_ending_of_a_form_that_is_not_written_is_refused_with_one_that_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    for (name, format, said, help) in [
        ("x.pdf", "", "no answer is written as `.pdf`", ".txt"),
        ("x.XLSX", "", "no answer is written as `.xlsx`", ".csv"),
        ("x.md", "", "no answer is written as `.md`", ".txt"),
        ("x.xlsx", "--format csv", "no answer is written as `.xlsx`", ".csv"),
        ("x.csv", "--format json", "ending says `csv`", ".json"),
        ("x.html", "--format table", "ending says `html`", ".txt"),
        ("x.json", "--format html", "ending says `json`", ".html"),
        ("x.htm", "--format csv", "ending says `html`", ".csv"),
    ] {
        let output = thickset(&format!("{VET} {format} -o {}", at(name).display()));
        let told = format!("{}{}", stdout(&output), stderr(&output));
        assert_eq!(status(&output), 2, "{name}: {told}");
        assert!(told.contains("--output") && told.contains(said), "{name}: {told}");
        assert!(!at(name).exists(), "{name}");
        // What the help says does.
        assert!(told.contains(&format!("`{help}`")), "{name}: {told}");
        let mended = at(&format!("mended{help}"));
        assert_eq!(status(&thickset(&format!("{VET} {format} -o {}", mended.display()))), 1, "{name}");
    }
    let sheet = thickset(&format!("standoff --load 308-168-match --plate 3/8in --tag -o {}", at("tag.pdf").display()));
    assert!(stderr(&sheet).contains("end its name in `.html`"), "{}", stderr(&sheet));
    // What is no ending of a form says nothing.
    for name in ["gong.2", "at 100.5 yd", "note.final"] {
        assert_eq!(status(&thickset(&format!("{VET} -o \"{}\"", at(name).display()))), 1, "{name}");
    }
}

#[test]
fn a_spreadsheet_of_what_arrives_names_its_load() {
    let csv = stdout(&thickset("strike --load 308-168-match --to 200yd --format csv"));
    assert!(
        csv.lines().count() > 2 && csv.lines().skip(1).all(|row| row.starts_with("308 Win 168 gr match,")),
        "{csv}"
    );
    let page = stdout(&thickset("strike --load 308-168-match --to 200yd"));
    assert_eq!(page.matches("308 Win 168 gr match").count(), 1, "{page}");
}

#[test]
fn an_output_that_is_an_input_is_refused_and_the_input_stays() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("inquiry.txt");
    fs::copy("examples/inquiry.toml", &path).expect("a copy");
    let output = thickset(&format!("advise {0} -o {0}", path.display()));
    assert_eq!(status(&output), 2);
    assert!(stderr(&output).contains("used by this command already"), "{}", stderr(&output));
    assert_eq!(fs::read(&path).expect("the input"), fs::read("examples/inquiry.toml").expect("the example"));
    let both = folder.path().join("new.txt");
    let line = "chrono 2648fps 2655fps 2641fps --load 308-168-match --id mine --save";
    assert_eq!(status(&thickset(&format!("{line} {0} -o {0}", both.display()))), 2);
    assert!(!both.exists(), "a load that the answer would overwrite");
}

#[cfg(unix)]
#[test]
fn a_device_stays_a_device() {
    use std::os::unix::fs::FileTypeExt;
    let output = thickset(&format!("{VET} -o /dev/null"));
    assert_eq!(status(&output), 1, "{}", stderr(&output));
    assert!(fs::metadata("/dev/null").expect("the device").file_type().is_char_device());
}

#[test]
fn a_reader_that_goes_away_leaves_the_verdict_s_status() {
    // The chart is longer than a pipe holds, so that the writer meets the closed end.
    for (line, expected) in
        [("vet --load 300wm-180 --at 100yd --plate 3/8in --format json", 1), ("standoff --format json", 0)]
    {
        let mut child =
            binary().args(line.split(' ')).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("it runs");
        let mut first = [0; 16];
        let mut pipe = child.stdout.take().expect("its output");
        let _ = pipe.read(&mut first).expect("a beginning");
        drop(pipe);
        let output = child.wait_with_output().expect("it ends");
        assert_eq!(output.status.code(), Some(expected), "{line}: {}", stderr(&output));
        assert!(output.stderr.is_empty(), "{line}: {}", stderr(&output));
    }
}

#[test]
fn threads_are_bounded_and_refused_with_status_2() {
    for (variable, option, expected) in [
        ("70000", "", 2),
        ("x", "", 2),
        ("2", "", 0),
        ("", "--threads 70000", 2),
        ("", "--threads 0", 2),
        ("70000", "--threads 2", 0),
    ] {
        let line = format!("course examples/match.toml {option}");
        let output =
            binary().args(line.split_whitespace()).env("RAYON_NUM_THREADS", variable).output().expect("it runs");
        let code = output.status.code().expect("no abort");
        // The example's own verdict stands where it is judged.
        assert_eq!(code == 2, expected == 2, "{variable} {option}: {}", stderr(&output));
        assert!(code != 2 || stderr(&output).contains("1024"), "{}", stderr(&output));
    }
}

#[test]
fn readings_may_have_their_one_unit_behind_them() {
    let each = stdout(&thickset("chrono 2648fps 2655fps 2641fps"));
    assert_eq!(stdout(&thickset("chrono 2648 2655 2641 fps")), each);
    assert!(each.starts_with("Plan for"), "{each}");
}

#[cfg(unix)]
#[test]
fn a_named_pipe_whose_reader_goes_away_leaves_the_verdict_s_status() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("pipe");
    let made = Command::new("mkfifo").arg(&path).status().expect("mkfifo runs");
    assert!(made.success());
    // The chart is longer than a pipe holds.
    let reader = {
        let path = path.clone();
        std::thread::spawn(move || {
            let mut first = [0; 16];
            fs::File::open(path).expect("the pipe").read(&mut first).expect("a beginning")
        })
    };
    let output = thickset(&format!("standoff --format json -o {}", path.display()));
    assert_eq!(status(&output), 0, "{}", stderr(&output));
    assert!(reader.join().expect("the reader ends") > 0);
}

#[test]
fn what_a_page_tells_first_of_a_drawing_is_told_beside_a_spreadsheet() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("gong.dxf");
    let drawn = |layer: &str, note: &str| {
        let square = "0 LWPOLYLINE 8 LAYER 90 4 70 1 10 0 20 0 10 300 20 0 10 300 20 300 10 0 20 300";
        let square = square.replace("LAYER", layer);
        let text =
            format!("0 SECTION 2 HEADER 9 $INSUNITS 70 4 0 ENDSEC 0 SECTION 2 ENTITIES {square} {note} 0 ENDSEC 0 EOF");
        fs::write(&path, text.split_whitespace().collect::<Vec<_>>().join("\n") + "\n").expect("a file");
    };
    let words = "--condition sound --tilt 10deg --altitude 500ft --temperature 60F";
    let asked = |command: &str| {
        thickset(&format!("{command} --load 9mm-124 --at 50yd {words} --outline {} --format csv", path.display()))
    };
    for (layer, note, told) in [
        ("BORDER", "", "`BORDER` is taken as cut: if not so, name what is (`--layer NAME`)."),
        ("CUT", "0 TEXT 8 CUT 10 0 20 0 1 CRACKED", "`CRACKED` stands in the drawing: if the plate is so"),
    ] {
        drawn(layer, note);
        for command in ["advise", "vet --plate 3/8in"] {
            let output = asked(command);
            assert!(stderr(&output).contains(told), "{command}: {}", stderr(&output));
            assert!(!stdout(&output).contains(told), "{command}: {}", stdout(&output));
        }
    }
    drawn("CUT", "");
    assert_eq!(stderr(&asked("advise")), "");
}
