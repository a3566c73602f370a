//! What a drawing says is heard wherever it stands in its file, and what it is named after.

use super::here::thickset;
use super::{status, stderr, stdout};
use std::fs;
use std::path::Path;

const VET: &str = "vet --load 9mm-124 --at 50yd --plate 3/8in";

/// Pairs of the drawing format, by `code:value` and a bar between two.
fn pairs(text: &str) -> String {
    let pair = |pair: &str| pair.split_once(':').map(|(code, value)| format!("{code}\n{value}\n"));
    text.split('|').filter_map(pair).collect()
}

const SQUARE: &str = "0:LWPOLYLINE|8:CUT|90:4|70:1|10:0|20:0|10:300|20:0|10:300|20:300|10:0|20:300";

/// A square of 300 mm with blocks and entities beside it.
fn dxf(blocks: &str, entities: &str) -> String {
    let section = |name: &str, body: &str| format!("0:SECTION|2:{name}|{body}|0:ENDSEC|");
    pairs(&format!(
        "{}{}{}0:EOF",
        section("HEADER", "9:$INSUNITS|70:4"),
        section("BLOCKS", blocks),
        section("ENTITIES", entities)
    ))
}

fn svg(head: &str, body: &str) -> String {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:inkscape=\"urn:inkscape\" \
         width=\"300mm\" height=\"300mm\" viewBox=\"0 0 300 300\" {head}>{body}</svg>"
    )
}

const RECT: &str = "<rect width=\"300\" height=\"300\"/>";

fn asked(path: &Path, text: &str, more: &str) -> (i32, String) {
    fs::write(path, text).expect("a file");
    let output = thickset(&format!("{VET} --outline \"{}\" {more}", path.display()));
    let told = format!("{}{}", stdout(&output), stderr(&output));
    (status(&output), told.split_whitespace().collect::<Vec<_>>().join(" "))
}

#[test]
fn every_text_of_a_drawing_is_heard_wherever_it_stands() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("gong.dxf");
    let block = |name: &str, body: &str| format!("0:BLOCK|2:{name}|10:0|20:0|{body}|0:ENDBLK");
    let plain = |entity: &str| dxf("", &format!("{SQUARE}|{entity}"));
    let long = "x ".repeat(120);
    let of_another_steel = [
        plain(
            "0:MULTILEADER|8:CUT|300:CONTEXT_DATA{|40:1|304:MATERIAL: A36 6 mm|302:LEADER{|304:LEADER_LINE{|305:}|303:}|301:}",
        ),
        plain("0:MLEADER|8:CUT|302:MILD STEEL"),
        plain("0:TEXT|8:CUT|10:0|20:0|1:%%uMILD STEEL%%u"),
        plain(r"0:MTEXT|8:CUT|10:0|20:0|1:{\fArial;\LMILD\P STEEL}"),
        plain(&format!("0:MTEXT|8:CUT|10:0|20:0|3:{long}MILD ST|3:EEL |1:PLATE")),
        plain(&format!("0:MTEXT|8:CUT|10:0|20:0|3:{long}A36 |1:PLATE")),
        plain("0:ACAD_TABLE|8:CUT|2:*T1|3:MATERIAL |1:A36"),
        plain("0:ACAD_TABLE|8:CUT|2:*T1|302:A36|304:ACVALUE_END"),
        plain("0:DIMENSION|8:CUT|1:t = 6 mm A36|3:ISO"),
        plain("0:ATTRIB|8:CUT|2:MAT|1:one|101:Embedded Object|1:A36 PLATE"),
        plain("0:TEXT|8:CUT|67:1|10:0|20:0|1:MATERIAL: A36"),
        plain("0:TEXT|8:CUT|60:1|10:0|20:0|1:MATERIAL: A36"),
        dxf(&block("A36_PLATE", SQUARE), "0:INSERT|8:CUT|2:A36_PLATE|10:0|20:0"),
        dxf(&block("P", &format!("4:A36 plate|{SQUARE}")), "0:INSERT|8:CUT|2:P|10:0|20:0"),
        dxf(&block("*Paper_Space0", "0:TEXT|8:CUT|10:0|20:0|1:A36"), SQUARE),
        dxf(&block("*D1", "0:MTEXT|8:CUT|10:0|20:0|1:A36"), &format!("{SQUARE}|0:DIMENSION|8:CUT|2:*D1")),
    ];
    for text in of_another_steel {
        let (code, told) = asked(&path, &text, "");
        assert!(code == 2 && told.contains("stands in it"), "{text}: {told}");
    }
    let thinner = [
        dxf(&block("6MM", SQUARE), "0:INSERT|8:CUT|2:6MM|10:0|20:0"),
        plain("0:ATTRIB|8:CUT|2:THICKNESS|1:6"),
        plain("0:TEXT|8:CUT|10:0|20:0|1:t=6"),
        plain("0:TEXT|8:CUT|10:0|20:0|1:THK .188"),
        plain("0:TEXT|8:CUT|10:0|20:0|1:10 GA"),
        plain("0:TEXT|8:CUT|10:0|20:0|1:PLATE THICKNESS:|0:TEXT|8:CUT|10:9|20:0|1:6.0 mm"),
        plain(r"0:MTEXT|8:CUT|10:0|20:0|1:\A1;\S3#16; in PLATE"),
    ];
    for text in thinner {
        let (code, told) = asked(&path, &text, "");
        assert!(code == 2 && told.contains("which is thinner"), "{text}: {told}");
    }
    for text in [
        plain("0:MULTILEADER|8:CUT|300:CONTEXT_DATA{|304:AR500, 3/8 in PLATE|302:LEADER{|303:}|301:}"),
        plain("0:DIMENSION|8:CUT|1:6 mm|3:A-36"),
        plain("0:HATCH|8:CUT|2:STEEL"),
        plain("0:TEXT|8:CUT|10:0|20:0|1:THICKNESS|0:TEXT|8:CUT|10:9|20:0|1:2|0:TEXT|8:CUT|10:9|20:0|1:6.0 mm"),
        dxf(&block("GONG", SQUARE), "0:INSERT|8:CUT|2:GONG|10:0|20:0"),
        // Nothing shows it.
        dxf(&block("A36", "0:TEXT|8:CUT|10:0|20:0|1:A36"), SQUARE),
    ] {
        let (code, told) = asked(&path, &text, "");
        assert_ne!(code, 2, "{text}: {told}");
    }
}

#[test]
fn titles_descriptions_and_names_of_a_picture_are_heard() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("gong.svg");
    for (head, body) in [
        ("", format!("<title>A36 mild steel</title>{RECT}")),
        ("", format!("<title>6 mm</title>{RECT}")),
        ("", format!("<desc>cut of 6 mm plate</desc>{RECT}")),
        ("", "<rect width=\"300\" height=\"300\"><title>A36</title></rect>".into()),
        ("", format!("<metadata><x><title>mild steel</title></x></metadata>{RECT}")),
        ("", format!("{RECT}<foreignObject width=\"9\" height=\"9\"><p>MILD <b>STEEL</b></p></foreignObject>")),
        ("aria-label=\"A36 plate\"", RECT.into()),
        ("", RECT.replace("<rect", "<rect aria-label=\"A36\"")),
        ("", RECT.replace("<rect", "<rect inkscape:label=\"MILD_STEEL\"")),
        ("", RECT.replace("<rect", "<rect id=\"A36_gong\"")),
        ("", RECT.replace("<rect", "<rect id=\"_6mm\"")),
        ("", format!("<g id=\"MILD_STEEL\"><g id=\"cut\">{RECT}</g></g>")),
        ("", format!("<g id=\"x\" data-name=\"6 mm\">{RECT}</g>")),
        ("", format!("<defs><g id=\"g\">{RECT}</g></defs><use id=\"A36\" href=\"#g\"/>")),
    ] {
        let (code, told) = asked(&path, &svg(head, &body), "");
        assert!(code == 2 && told.contains("stands in it"), "{body}: {told}");
    }
    let usual = "<title>gong</title><desc>Created with a drawing program, 1/4 in holes</desc><metadata>by-sa 4.0 \
                 permits reproduction, share alike; layer A; image/svg+xml; xmp.did:1b9d6bcd-bbfd-4130-9b5d-ab8dfbbd4bed</metadata>";
    for (head, body) in [
        ("id=\"svg8\"", format!("{usual}<g inkscape:label=\"Layer 1\" id=\"layer1\">{RECT}</g>")),
        ("", RECT.replace("<rect", "<rect id=\"rect1020\"")),
        ("", RECT.replace("<rect", "<rect id=\"_1-4\"")),
        ("", format!("<g id=\"g4140\">{RECT}</g>")),
        // The names of what is not cut here.
        ("", format!("<g id=\"cut\">{RECT}</g><g id=\"A36\"><rect x=\"400\" width=\"100\" height=\"100\"/></g>")),
    ] {
        let (code, told) = asked(&path, &svg(head, &body), if body.contains("A36") { "--layer cut" } else { "" });
        assert_ne!(code, 2, "{body}: {told}");
    }
}

#[test]
fn another_unit_damage_and_layers_that_nobody_cuts_are_told_first() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("gong.dxf");
    let text = |note: &str| dxf("", &format!("{SQUARE}|0:TEXT|8:CUT|10:0|20:0|1:{note}"));
    let told = asked(&path, &text("ALL DIMENSIONS IN INCHES"), "").1;
    let words = "`ALL DIMENSIONS IN INCHES` stands in the drawing, which is read in millimetres: check its size.";
    assert!(told.contains(words), "{told}");
    for note in ["DIMENSIONS IN MM", "DIMENSIONS IN INCHES [MM]"] {
        let told = asked(&path, &text(note), "").1;
        assert!(!told.contains("check its size"), "{told}");
    }
    for note in ["CRACKED", "CRATERS ON THE FACE"] {
        let told = asked(&path, &text(note), "").1;
        let words = format!("`{note}` stands in the drawing: if the plate is so, say its `--condition`.");
        assert!(told.contains(&words), "{told}");
        // What it says works.
        let told = asked(&path, &text(note), "--condition cracked").1;
        assert!(!told.contains("stands in the drawing"), "{told}");
    }
    let circle = |layer: &str| dxf("", &format!("{SQUARE}|0:CIRCLE|8:{layer}|10:150|20:150|40:20"));
    for layer in ["ENGRAVE", "etch lines", "Bend", "CENTER", "NOTES"] {
        let (_, told) = asked(&path, &circle(layer), "");
        let words = format!("`{layer}` is taken as cut: if not so, name what is (`--layer NAME`).");
        assert!(told.contains(&words), "{layer}: {told}");
        // What it says works.
        let (code, told) = asked(&path, &circle(layer), "--layer CUT");
        assert!(code != 2 && !told.contains("taken as cut"), "{layer}: {told}");
    }
    for layer in ["CUT", "0", "center hole", "Layer 1", "benders"] {
        let told = asked(&path, &circle(layer), "").1;
        assert!(!told.contains("taken as cut"), "{layer}: {told}");
    }
    // A sheet's border around the part would be the plate, and the part its hole.
    let border = SQUARE.replace("8:CUT", "8:BORDER");
    let told = asked(&path, &dxf("", &format!("{border}|0:CIRCLE|8:CUT|10:150|20:150|40:120")), "").1;
    assert!(told.contains("`BORDER` is taken as cut: if not so, name what is (`--layer NAME`)."), "{told}");
}

#[test]
fn what_a_picture_does_not_show_is_no_cut() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("gong.svg");
    for shape in
        ["<circle cx=\"150\" cy=\"150\" r=\"-20\"/>", "<rect x=\"150\" y=\"150\" width=\"-20\" height=\"20\"/>"]
    {
        let (code, told) = asked(&path, &svg("", &format!("{RECT}{shape}")), "");
        assert!(code != 2 && told.contains("of a negative size"), "{shape}: {told}");
    }
    let nested =
        |frame: &str| svg("", &format!("<svg {frame}><rect x=\"50\" y=\"50\" width=\"200\" height=\"200\"/></svg>"));
    for frame in ["width=\"100\" height=\"100\"", "width=\"100\"", "x=\"20\" y=\"60\" width=\"240\" height=\"150\""] {
        let (code, told) = asked(&path, &nested(frame), "");
        assert!(code == 2 && told.contains("beyond the frame"), "{frame}: {told}");
    }
    for frame in
        ["", "width=\"100%\" height=\"100%\"", "width=\"250\" height=\"250\"", "width=\"9\" overflow=\"visible\""]
    {
        let (code, told) = asked(&path, &nested(frame), "");
        assert_ne!(code, 2, "{frame}: {told}");
    }
}

#[test]
fn a_name_of_what_stands_is_told_first_where_no_mount_was_given_and_two_sizes_are_those_of_the_face() {
    let folder = tempfile::tempdir().expect("a folder");
    for name in ["Popper 42", "falling plate"] {
        let path = folder.path().join(format!("{name}.svg"));
        let (_, told) = asked(&path, &svg("", RECT), "");
        let word = name.split(' ').next().unwrap_or_default().to_lowercase();
        let words = format!("Judged hung free, from open hooks, though `{name}` says `{word}`: give its mount.");
        assert!(told.contains(&words) || told.contains(&format!("though `{name}` says `{word}`")), "{told}");
        let told = asked(&path, &svg("", RECT), "--mount bolted").1;
        assert!(!told.contains("though"), "{told}");
    }
    for (name, refused) in [
        ("250 x 400 mm", true),
        ("6x8 in plate", true),
        ("12x20 torso", true),
        ("300 x 300 mm", false),
        ("12x12 in plate", false),
        ("9x19 gong", false),
    ] {
        let path = folder.path().join(format!("{name}.svg"));
        let (code, told) = asked(&path, &svg("", RECT), "");
        assert_eq!(code == 2, refused, "{name}: {told}");
    }
}

#[test]
fn materials_are_heard_as_shops_write_them_and_the_hardness_of_ar500_is_its_own() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("gong.dxf");
    let text = |words: &str| dxf("", &format!("{SQUARE}|0:TEXT|8:CUT|10:0|20:0|1:{words}"));
    for words in
        ["HRS", "MATERIAL: CRS", "HOT ROLLED", "MATL: T1", "A-36 PLATE", "ST37", "MTL Q345", "HRC 30", "400 BHN"]
    {
        let (code, told) = asked(&path, &text(words), "");
        assert!(code == 2 && told.contains("help:"), "{words}: {told}");
    }
    for words in ["HRC 50", "HARDNESS 477-534 BHN", "AR500 ARMOR PLATE", "T1", "Q2 2025", "REV A"] {
        let (code, told) = asked(&path, &text(words), "");
        assert_eq!(code, 0, "{words}: {told}");
    }
}
