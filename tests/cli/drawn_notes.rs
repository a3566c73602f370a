//! What stands in a drawing that would make a yes a wrong one, as people of other trades and tongues write it.

use super::here::thickset;
use super::{status, stderr, stdout};
use std::fs;

const ASKED: &str =
    "--load 308-168-match --at 200yd --altitude 500ft --temperature 60F --tilt 15deg --plate 3/8in --outline";

fn pairs(pairs: &str) -> String {
    pairs
        .split('|')
        .filter_map(|pair| pair.split_once('='))
        .map(|(code, value)| format!("{code}\n{value}\n"))
        .collect::<Vec<_>>()
        .concat()
}

fn shape(layer: &str, [left, bottom, right, top]: [i32; 4]) -> String {
    let points = [(left, bottom), (right, bottom), (right, top), (left, top)];
    let points = points.iter().map(|(x, y)| format!("10\n{x}\n20\n{y}\n")).collect::<Vec<_>>().concat();
    format!("0\nLWPOLYLINE\n8\n{layer}\n90\n4\n70\n1\n{points}")
}

fn drawing(shapes: &str, notes: &[&str]) -> String {
    let texts: String = notes
        .iter()
        .map(|note| format!("0\nTEXT\n8\n0\n10\n1\n20\n30\n40\n0.2\n1\n{note}\n"))
        .collect::<Vec<_>>()
        .concat();
    let head = pairs("0=SECTION|2=HEADER|9=$INSUNITS|70=1|0=ENDSEC|0=SECTION|2=ENTITIES");
    format!("{head}{shapes}{texts}{}", pairs("0=ENDSEC|0=EOF"))
}

const PLATE: [i32; 4] = [0, 0, 12, 18];

fn vetted(text: &str) -> (i32, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("gong.dxf");
    fs::write(&path, text).expect("a file");
    let output = thickset(&format!("vet {ASKED} \"{}\"", path.display()));
    let told = format!("{}{}", stdout(&output), stderr(&output));
    (status(&output), told.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// Notes with a bar between two texts beside each other.
fn noted(notes: &str) -> (i32, String) {
    vetted(&drawing(&shape("0", PLATE), &notes.split('|').collect::<Vec<_>>()))
}

#[test]
fn a_thinner_plate_is_heard_in_the_trades_and_tongues_that_drawings_come_in() {
    for note in [
        "PL1/4\"",
        "PL6",
        "PL 8",
        "PL8x300x400",
        "Blechdicke 8 mm",
        "Dicke 8",
        "Dicke|8 mm",
        "e=6",
        "s=6",
        "s = 6 mm",
        "6 mm plt",
        "tôle 6 mm",
        "épaisseur 6",
        "thk_6",
        "THK6",
    ] {
        let (code, told) = noted(note);
        assert!(code == 2 && told.contains("which is thinner"), "{note}: {told}");
    }
    for note in [
        "PL",
        "PL. 3",
        "PL-12",
        "PL 10",
        "PL3/8\"",
        "PL 2 of 8",
        "s=6 places",
        "M8 S=6 hex",
        "e=12",
        "Dicke 10",
        "6",
        "QTY 6",
        "1/4\" RADIUS",
        "6 mm hole",
    ] {
        let (code, told) = noted(note);
        assert!(code == 0 && !told.contains("stands in the drawing"), "{note}: {told}");
    }
}

#[test]
fn a_size_alone_is_told_first_and_not_where_a_hole_or_other_sizes_are() {
    for note in ["QUARTER INCH", "3/16\"", "8 mm"] {
        let (code, told) = noted(note);
        let words = format!("`{note}` stands in the drawing: if the plate is so thick, ask for it (`--plate`).");
        assert!(code == 0 && told.contains(&words), "{note}: {told}");
    }
    for notes in ["1/4\"|12\"|18\"", "3/8\"", "12 in"] {
        let (code, told) = noted(notes);
        assert!(code == 0 && !told.contains("stands in the drawing"), "{notes}: {told}");
    }
    let hole = "0\nCIRCLE\n8\n0\n10\n6\n20\n16\n40\n0.125\n";
    let told = vetted(&drawing(&format!("{}{hole}", shape("0", PLATE)), &["1/4\""])).1;
    assert!(!told.contains("stands in the drawing"), "{told}");
}

#[test]
fn another_steel_is_heard_by_its_numbers_its_makers_and_what_is_short_for_it() {
    for note in [
        "S355J2+N",
        "1.0038",
        "XAR 400",
        "NM400",
        "Quard 400",
        "SS304",
        "304 SS",
        "Inox",
        "MS",
        "Mat: MS",
        "MATERIAL|MS",
        "1/4 PLATE MS",
        "6061-T6",
        "AL 6061",
        "GR50",
        "acier doux",
    ] {
        let (code, told) = noted(note);
        assert!(code == 2 && told.contains("stands in"), "{note}: {told}");
    }
    for note in [
        "MS 2024",
        "DRAWN MS",
        "DRAWN BY|MS",
        "DRAWN: MS",
        "AR500 PLATE MADE FOR MS",
        "SS range",
        "PART 304",
        "304 Main St",
        "DWG 6061",
        "2024 T",
        "1.0625",
        "Grade 10",
        "XAR 500",
        "400 NM",
        "STAHL AR500",
    ] {
        let (code, told) = noted(note);
        assert_eq!(code, 0, "{note}: {told}");
    }
}

#[test]
fn a_drawing_for_other_firearms_is_none_for_a_rifle() {
    for note in [".22 LR ONLY", "no rifle", "NOT FOR RIFLE", "PISTOL ONLY", "handgun use only", "for pistols"] {
        let (code, told) = noted(note);
        assert!(code == 2 && told.contains("which is not for it"), "{note}: {told}");
    }
    for note in ["RIMFIRE TARGET", "pistol plate"] {
        let (code, told) = noted(note);
        assert!(code == 0 && told.contains("is it made for that?"), "{note}: {told}");
    }
    for note in ["no rimfire", "pistol and rifle", "rifle gong", "HOLE FOR 22 MM BOLT", "DRILL FOR 22", "members only"]
    {
        let (code, told) = noted(note);
        assert!(code == 0 && !told.contains("made for that"), "{note}: {told}");
    }
}

#[test]
fn damage_another_scale_and_another_unit_are_told_first() {
    for note in ["weld repair", "has pits", "USED PLATE"] {
        let told = noted(note).1;
        assert!(told.contains("if the plate is so, say its `--condition`"), "{note}: {told}");
    }
    for note in [
        "SCALE 1:2",
        "SCALE|1:2",
        "Maßstab 1:5",
        "NOT TO SCALE",
        "NTS",
        "HALF SCALE",
        "DIMENSIONS IN CM",
        "UNITS: CM",
        "UNITS|CM",
        "UNITS|MM",
    ] {
        let told = noted(note).1;
        assert!(told.contains("check its size"), "{note}: {told}");
    }
    for note in ["SCALE 1:1", "SCALE|1:1", "FULL SCALE", "UNITS: IN", "UNITS|IN", "SCALE", "1:2 mix", "10 cm"] {
        let told = noted(note).1;
        assert!(!told.contains("check its size"), "{note}: {told}");
    }
}

#[test]
fn layers_of_a_plate_that_is_thin_damaged_or_not_cut_are_heard() {
    let on = |layer: &str| vetted(&drawing(&shape(layer, PLATE), &[]));
    for layer in ["THK_6", "Dicke 8", "PISTOL ONLY"] {
        let (code, told) = on(layer);
        assert!(code == 2 && told.contains("stands in it"), "{layer}: {told}");
    }
    for (layer, words) in [
        ("SCRAP", "--condition"),
        ("DAMAGED", "--condition"),
        ("DO NOT CUT", "taken as cut"),
        ("NO_CUT", "taken as cut"),
    ] {
        let (code, told) = on(layer);
        assert!(code == 0 && told.contains(words), "{layer}: {told}");
    }
    for layer in ["CUT", "THK_10", "HAIRLINE", "OUTLINE", "SPLIT LINE"] {
        let (code, told) = on(layer);
        assert!(code == 0 && !told.contains("taken as cut") && !told.contains("--condition`"), "{layer}: {told}");
    }
}

#[test]
fn a_border_around_the_plate_is_told_first_and_a_window_is_not() {
    let two = |inner: [i32; 4]| drawing(&format!("{}{}", shape("0", [-3, -3, 25, 25]), shape("0", inner)), &[]);
    let told = vetted(&two(PLATE)).1;
    let words =
        "A 12.0 in × 18.0 in opening in a 28.0 in × 28.0 in plate: if the outer line is the sheet's or a border";
    assert!(told.contains(words), "{told}");
    for window in [[8, 4, 14, 10], [0, 20, 20, 22]] {
        let told = vetted(&two(window)).1;
        assert!(!told.contains("opening in a"), "{told}");
    }
}
