//! Drawings by general-purpose exporters: what each holds, computed from the same file with a general-purpose geometry
//! library (curves flattened at 1e-5 in). `tests/drawings/expected.csv` says what is expected of which.

#![allow(dead_code, unused_imports)] // Also compiled into the verification example, which uses the checks alone.

use super::check::{Check, Status, assert_all};
use std::path::{Path, PathBuf};
use thickset::outline::{Hole, Outline, ReadOptions};
use thickset::quantity::{Length, unit};
use thickset::source::{Diagnostic, SourceText};

#[derive(Debug, serde::Deserialize)]
struct Row {
    file: String,
    expected: String,
    outline_unit: Option<String>,
    area_in2: f64,
    cut_length_in: f64,
    centroid_x_from_left_in: f64,
    centroid_y_from_bottom_in: f64,
    width_in: f64,
    height_in: f64,
    holes: usize,
    what: String,
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/drawings")
}

fn rows() -> Vec<Row> {
    let mut reader = csv::Reader::from_path(folder().join("expected.csv")).expect("the expected values");
    reader.deserialize().collect::<Result<_, _>>().expect("rows")
}

fn read(row: &Row, options: ReadOptions) -> Result<Outline, Diagnostic> {
    let unit = row.outline_unit.as_deref().map(|u| u.parse().expect("a unit"));
    Outline::read_with(&folder().join(&row.file), &ReadOptions { unit, ..options })
}

fn inches(length: Length) -> f64 {
    unit::INCH.value(length)
}

const SOURCE: &str = "a general-purpose geometry library, from the same file, curves flattened at 1e-5 in";

/// Area and cut length to 0.1 %, places to 0.005 in, holes exact.
fn compared(row: &Row, outline: &Outline) -> Vec<Check> {
    let check = |name: &str, expected: f64, got: f64, allowed: f64| {
        Check::new(format!("{} ({}): {name}", row.file, row.what), SOURCE, Status::Computed, expected, got, allowed)
    };
    let share = |name: &str, got: f64, expected: f64| check(name, expected, got, 1e-3 * expected);
    let near = |name: &str, got: Length, expected: f64| check(name, expected, inches(got), 0.005);
    vec![
        share("area, in²", unit::SQUARE_INCH.value(outline.area()), row.area_in2),
        share("cut length, in", inches(outline.cut_length()), row.cut_length_in),
        near("centroid from the left, in", outline.centroid().x, row.centroid_x_from_left_in),
        near("centroid from below, in", outline.centroid().y, row.centroid_y_from_bottom_in),
        near("width, in", outline.size().0, row.width_in),
        near("height, in", outline.size().1, row.height_in),
        check("holes", row.holes as f64, outline.holes().len() as f64, 0.0),
    ]
}

fn agrees(row: &Row, outline: &Outline) {
    assert_all(&compared(row, outline));
    assert!(outline.thinnest().is_some(), "{}: no narrowest width", row.file);
}

/// Every drawing that is to be read; one that is refused gives nothing, and fails.
pub fn checks() -> Vec<Check> {
    let rows = rows();
    let read_well = rows.iter().filter(|row| row.expected == "read");
    let of = |row: &Row| match read(row, ReadOptions::default()) {
        Ok(outline) => compared(row, &outline),
        Err(_) => vec![Check::new(row.file.clone(), SOURCE, Status::Computed, 1.0, 0.0, 0.0)],
    };
    read_well.flat_map(of).collect()
}

#[test]
fn every_drawing_ends_as_its_row_says() {
    let rows = rows();
    assert!(rows.len() > 40);
    for row in &rows {
        match (row.expected.as_str(), read(row, ReadOptions::default())) {
            ("read", Ok(outline)) => agrees(row, &outline),
            ("refuse", Err(_)) => {}
            (_, Ok(outline)) => panic!("{} was read: {outline:?}", row.file),
            (_, Err(fault)) => panic!("{} was refused: {fault}", row.file),
        }
    }
}

fn refused(file: &str, options: ReadOptions) -> String {
    Outline::read_with(&folder().join(file), &options).expect_err(file).to_string().replace('\n', " ")
}

fn holds(text: &str, words: &[&str]) {
    for word in words {
        assert!(text.contains(word), "`{word}` is not in\n{text}");
    }
}

#[test]
fn a_drawing_that_is_refused_says_what_and_where() {
    let none = ReadOptions::default;
    holds(&refused("B_unit_0_measurement0.dxf", none()), &["names no unit", "--outline-unit in"]);
    holds(&refused("F_gap_0.01.dxf", none()), &["is open", "0.01 in apart", "(10, 0)", "(10.01, 0)"]);
    holds(&refused("F_two_parts.dxf", none()), &["shows 2 parts", "part 1: ", "part 2: ", "--part 1"]);
    holds(&refused("C_titleblock_insert.dxf", none()), &["shows 2 parts", "layer `", "--layer NAME"]);
}

#[test]
fn a_part_is_picked_by_its_number_or_its_layer() {
    let rows = rows();
    for file in ["F_two_parts.dxf", "C_titleblock_insert.dxf"] {
        let row = rows.iter().find(|r| r.file == file).expect("a row");
        let parts: Vec<Outline> = (1..=2)
            .map(|n| read(row, ReadOptions { part: Some(n), ..ReadOptions::default() }).expect("a part"))
            .collect();
        let whole = parts.iter().find(|p| p.holes().len() == row.holes).expect("the plate");
        agrees(row, whole);
        assert!(read(row, ReadOptions { part: Some(3), ..ReadOptions::default() }).is_err());
    }
}

#[test]
fn what_is_left_out_is_counted_with_its_reason() {
    let left = |file: &str| {
        let outline = Outline::read(&folder().join(file)).expect(file);
        outline.reading().left_out.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ")
    };
    for (file, words) in [
        ("D_text.dxf", "text"),
        ("D_dim_linear.dxf", "1 dimension"),
        ("D_leader.dxf", "1 leader"),
        ("D_hatch.dxf", "1 hatch"),
        ("D_xline.dxf", "1 construction line"),
        ("D_centreline.dxf", "1 centre line"),
        ("D_layer_off.dxf", "which is off"),
        ("D_layer_frozen.dxf", "1 CIRCLE on layer"),
        ("D_layer_frozen.dxf", "which is frozen"),
        ("D_invisible.dxf", "1 CIRCLE not visible"),
        ("D_paperspace_border.dxf", "in paper space"),
        ("F_duplicated.dxf", "drawn twice"),
        ("F_overlap_line.dxf", "1 edge drawn twice"),
        ("F_gap_0.001.dxf", "1 gap narrower than any cut, closed"),
    ] {
        assert!(left(file).contains(words), "{file}: `{}`", left(file));
    }
}

#[test]
fn a_flattened_curve_has_no_sharp_corner_and_a_square_shoulder_has() {
    let corners = |file: &str| {
        let outline = Outline::read(&folder().join(file)).expect(file);
        outline.sharp_corners(unit::INCH.of(0.375))
    };
    assert_eq!(corners("pin_flattened.dxf"), []);
    assert_eq!(corners("torso_arc.dxf").len(), 2);
}

#[test]
fn a_drawing_is_the_same_from_text_and_from_bytes() {
    let path = folder().join("torso_arc.dxf");
    let text = SourceText::read(&path).expect("text");
    let from_text = Outline::from_text(&text, &ReadOptions::default()).expect("an outline");
    assert_eq!(from_text, Outline::read(&path).expect("an outline"));
    let unnamed = SourceText::new("", text.text.to_string());
    assert_eq!(Outline::from_text(&unnamed, &ReadOptions::default()).expect("an outline").holes().len(), 2);
    let binary = std::fs::read(folder().join("A_R2000_bin.dxf")).expect("bytes");
    let outline = Outline::from_bytes("upload", &binary, &ReadOptions::default()).expect("an outline");
    assert!(matches!(outline.holes()[0], Hole::Round { .. } | Hole::Cut(_)));
}

/// Opening by a disc, computed with a general-purpose geometry library.
#[test]
fn narrowest_widths_of_the_drawings() {
    for (file, expected) in [("torso_arc.dxf", 6.0), ("diamond_arc.dxf", 11.3)] {
        let outline = Outline::read(&folder().join(file)).expect(file);
        let width = inches(outline.thinnest().expect("a width").width);
        assert!((width / expected - 1.0).abs() < 0.02, "{file}: {width}, not {expected}");
    }
}
