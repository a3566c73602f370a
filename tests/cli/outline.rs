//! Outlines in files: what their cut leaves is called out, and what can't be cut is refused by name.

use super::here::{json, thickset};
use super::{status, stderr, stdout};
use std::fs;

const VET: &str = "vet --load 308-168-match --at 200yd --plate 3/8in";

#[test]
fn sharp_windows_and_thin_steel_beside_cut_outs_are_called_out() {
    let text =
        stdout(&thickset(&format!("{VET} --full --outline examples/outlines/lantern.toml"))).replace("\n    ", " ");
    for words in [
        "in) is 0.4 in wide: it is judged as a face of that width.",
        "Sharp inside corners crack: cut these to a radius of 0.375 in at least: (5.0 in, 8.0 in) sharp,",
        "The cut-out at (7.0 in, 17.5 in) is 0.4 in from the edge",
        "Between the holes at (7.0 in, 10.0 in) and (7.0 in, 4.0 in) stands 3.4 in of steel",
    ] {
        assert!(text.contains(words), "`{words}` is not in\n{text}");
    }
    assert!(!text.contains("(7.0 in, 1.5 in)"), "the bolt hole is clear of everything\n{text}");
}

#[test]
fn a_plate_with_a_neck_is_judged_as_narrow_as_the_neck() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("bell.toml");
    let head = "schema = \"thickset/outline/1\"\nname = \"bell\"\nunit = \"in\"\n";
    let bell =
        "[0, 0], [12, 0], [12, 8], [8, 8], [8, 14], [12, 14], [12, 22], [0, 22], [0, 14], [4, 14], [4, 8], [0, 8]";
    fs::write(&path, format!("{head}points = [{bell}]\n")).expect("a file");
    let of = |face: &str| json(&format!("vet --load 308-168-match --at 200yd --plate 3/8in {face}"));
    let margin = |face: &str| of(face)["margin"].as_f64().expect("a margin");
    let (necked, as_wide) = (margin(&format!("--outline {}", path.display())), margin("--face 4x22in"));
    assert!((necked - as_wide).abs() < 1e-3, "{necked} {as_wide}");
    assert!(
        of(&format!("--outline {}", path.display()))["remarks"].to_string().contains("is 4.0 in wide: it is judged")
    );
}

#[test]
fn a_plate_of_many_thin_webs_says_how_many_more_there_are() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("sieve.toml");
    let holes: String =
        (1..20).fold(String::new(), |text, i| text + &format!("[[hole]]\nat = [{i}, 1]\ndiameter = 0.9\n"));
    let head = "schema = \"thickset/outline/1\"\nname = \"sieve\"\nunit = \"in\"\n";
    fs::write(&path, format!("{head}points = [[0, 0], [20, 0], [20, 2], [0, 2]]\n{holes}")).expect("a file");
    let text = stdout(&thickset(&format!("{VET} --full --outline {}", path.display())));
    assert!(text.contains("And 27 more like these."), "{text}");
}

#[test]
fn holes_that_can_t_be_cut_are_refused_by_name_at_their_place() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("tab.toml");
    let head =
        "schema = \"thickset/outline/1\"\nname = \"tab\"\nunit = \"in\"\npoints = [[0, 0], [9, 0], [9, 9], [0, 9]]\n";
    for (holes, line, words) in [
        (
            "[[hole]]\nat = [3, 3]\ndiameter = 1\n[[hole]]\nslot = [[3, 3], [5, 3]]\nwidth = 0.4\n",
            8,
            "hole 2 meets hole 1 near (",
        ),
        ("[[hole]]\npoints = [[2, 2], [4, 4], [4, 2], [2, 4]]\n", 6, "hole 1 crosses itself near (3.000, 3.000) in"),
        ("[[hole]]\npoints = [\n[8, 8],\n[8],\n[7, 7]]\n", 8, "two numbers"),
        ("[[hole]]\nat = [3, 3]\n", 5, "hole 1 has no shape"),
        ("[[hole]]\nat = [3, 3]\ndiameter = 1\nwidth = 1\n", 5, "hole 1 has no shape, or more than one"),
        ("[[hole]]\nat = [3, 3]\ndiameter = 0\n", 5, "hole 1 has no size"),
        ("[[hole]]\npoints = [[8, 8], [10, 8], [8, 10]]\n", 5, "hole 1 meets the outline near ("),
    ] {
        fs::write(&path, format!("{head}{holes}")).expect("a file");
        let output = thickset(&format!("{VET} --outline {}", path.display()));
        let text = stderr(&output);
        assert_eq!(status(&output), 2, "{holes}\n{text}");
        assert!(text.contains(words) && text.contains(&format!("tab.toml:{line}:")), "{holes}\n{text}");
    }
}

#[test]
fn a_plate_that_hangs_by_a_thread_suits_nobody_however_thick() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("thread.toml");
    let drawn = |half: f64| {
        let (left, right) = (5.0 - half, 5.0 + half);
        format!(
            "schema = \"thickset/outline/1\"\nname = \"thread\"\nunit = \"in\"\npoints = [[0, 0], [10, 0], [10, 10], \
             [{right}, 10], [{right}, 12], [10, 12], [10, 22], [0, 22], [0, 12], [{left}, 12], [{left}, 10], [0, 10]]\n"
        )
    };
    for (half, load, at) in
        [(0.0005, "308-168-match", "300yd"), (0.2, "308-168-match", "800yd"), (0.1, "22lr-std-40", "50yd")]
    {
        fs::write(&path, drawn(half)).expect("a file");
        let asked = format!("vet --load {load} --at {at} --plate 3/4in --outline {}", path.display());
        let answered = thickset(&asked);
        let text = stdout(&answered);
        assert!(text.starts_with("Unsuitable"), "{text}");
        assert!(text.contains("narrow"), "{text}");
        assert_eq!(status(&answered), 1);
    }
    fs::write(&path, drawn(0.5)).expect("a file");
    let wide = format!("vet --load 22lr-std-40 --at 50yd --plate 3/8in --outline {}", path.display());
    assert!(stdout(&thickset(&wide)).starts_with("Suits"), "{}", stdout(&thickset(&wide)));
}

#[test]
fn hangers_below_the_balance_point_and_in_a_window_are_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("low.toml");
    let head = "schema = \"thickset/outline/1\"\nname = \"low\"\nunit = \"in\"\npoints = [[0, 0], [12, 0], [12, 20], [0, 20]]\n";
    let window = "[[hole]]\nat = [6, 15]\ndiameter = 4\n";
    for (more, words) in [
        ("hangers = [[2, 3], [10, 3]]\n".to_owned(), "below its balance point"),
        (format!("hangers = [[6, 15]]\n{window}"), "is not on the steel"),
    ] {
        fs::write(&path, format!("{head}{more}")).expect("a file");
        let refused = thickset(&format!("{VET} --outline {}", path.display()));
        assert_eq!(status(&refused), 2);
        assert!(stderr(&refused).contains(words), "{}", stderr(&refused));
    }
    fs::write(&path, format!("{head}hangers = [[6, 17]]\n{window}")).expect("a file");
    assert_ne!(status(&thickset(&format!("{VET} --outline {}", path.display()))), 2, "on the window's upper edge");
}

#[test]
fn what_is_told_of_a_drawing_is_in_the_units_asked() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("holes.toml");
    let hole = |i: u32| format!("[[hole]]\nat = [{}, {}]\ndiameter = 1.25\n", 3 + 3 * (i % 5), 4 + 8 * (i / 5));
    let holes = (0..10).map(hole).collect::<Vec<_>>().concat();
    let text = format!(
        "schema = \"thickset/outline/1\"\nname = \"holed\"\nunit = \"in\"\n\
         points = [[0, 0], [18, 0], [18, 16], [0, 16]]\n{holes}"
    );
    std::fs::write(&path, text).expect("a file");
    let told = |units: &str| {
        let line = "vet --load 308-168-match --at 200yd --plate 10mm --full --units";
        let text = stdout(&thickset(&format!("{line} {units} --outline {}", path.display())));
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    assert!(told("us").contains("10 holes up to 1.5 in count as cut-outs"), "{}", told("us"));
    assert!(told("si").contains("10 holes up to 38 mm count as cut-outs"), "{}", told("si"));
}

#[test]
fn ears_too_narrow_to_hang_by_are_refused_however_short_and_told_and_ordinary_ones_are_not() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("ears.toml");
    let told = |half: f64, long: f64, load: &str| {
        let ear = |x: f64| {
            let (left, right, top) = (x - half, x + half, 12.0 + long);
            format!("[{right}, 12], [{right}, {top}], [{left}, {top}], [{left}, 12]")
        };
        let y = 12.0 + 0.5 * long;
        let text = format!(
            "schema = \"thickset/outline/1\"\nname = \"ears\"\nunit = \"in\"\npoints = [[0, 0], [12, 0], [12, 12], \
             {}, {}, [0, 12]]\nhangers = [[2, {y}], [10, {y}]]\n",
            ear(10.0),
            ear(2.0)
        );
        fs::write(&path, text).expect("a file");
        let output = thickset(&format!("vet --load {load} --plate 3/8in --full --outline {}", path.display()));
        (status(&output), stdout(&output).split_whitespace().collect::<Vec<_>>().join(" "))
    };
    for (half, long, load, expected) in [
        (0.1, 0.5, "308-168-match --at 200yd", 1),
        (0.1, 1.5, "308-168-match --at 200yd", 1),
        (0.1, 2.2, "308-168-match --at 200yd", 1),
        (0.24, 1.0, "308-168-match --at 200yd", 1),
        (0.24, 1.0, "22lr-std-40 --at 50yd", 0),
        (0.12, 1.0, "22lr-std-40 --at 50yd", 1),
        (1.0, 1.4, "308-168-match --at 200yd", 0),
    ] {
        let (status, text) = told(half, long, load);
        assert_eq!(status, expected, "{half} {long} {load}\n{text}");
    }
    let (_, text) = told(0.1, 1.5, "308-168-match --at 200yd");
    assert!(text.starts_with("Unsuitable") && text.contains("hangs by less than 0.500 in"), "{text}");
    assert!(text.contains("narrowest 0.2 in where it hangs, else 12.0 in"), "{text}");
    assert!(text.contains("It hangs by 0.2 in of steel at ("), "{text}");
}

#[test]
fn a_plate_smaller_or_larger_than_a_face_may_be_is_refused_whatever_it_is_written_in() {
    let folder = tempfile::tempdir().expect("a folder");
    let toml = folder.path().join("small.toml");
    let svg = folder.path().join("small.svg");
    for (side, good) in [(12.0, false), (26.0, true), (3000.0, true), (3060.0, false)] {
        let (near, far) = (-0.5 * side, 0.5 * side);
        let text = format!(
            "schema = \"thickset/outline/1\"\nname = \"s\"\nunit = \"mm\"\npoints = [[{near}, {near}], [{far}, {near}], [{far}, {far}], [{near}, {far}]]\n"
        );
        fs::write(&toml, text).expect("a file");
        let rect = format!("<rect width=\"{side}\" height=\"{side}\"/>");
        let head = format!("xmlns=\"http://www.w3.org/2000/svg\" width=\"{side}mm\" height=\"{side}mm\"");
        fs::write(&svg, format!("<svg {head} viewBox=\"0 0 {side} {side}\">{rect}</svg>")).expect("a file");
        let faces = [
            format!("--outline {}", toml.display()),
            format!("--outline {}", svg.display()),
            format!("--face {side}x{side}mm"),
        ];
        for face in faces {
            let output = thickset(&format!("{VET} {face}"));
            assert_eq!(status(&output) != 2, good, "{side} {face}: {}", stderr(&output));
            assert!(good || stderr(&output).contains("between 1 in and 120 in"), "{}", stderr(&output));
        }
    }
}
