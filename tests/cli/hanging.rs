//! The plate on a chain, as the program tells of it.

use super::here::{json, thickset};
use super::stdout;
use std::fs;

const ADVISE: &str = "advise --load 308-168-match --at 300yd --mount chain";

fn reaction(options: &str) -> serde_json::Value {
    let document = json(&format!("{ADVISE} {options}"));
    let plates = document["plates"].as_array().expect("plates").clone();
    let plate = plates.iter().find(|p| p["label"] == "3/8 in").expect("the staple");
    plate["reaction"].clone()
}

#[test]
fn a_longer_chain_swings_less_and_slower_and_lifts_as_high() {
    let number = |value: &serde_json::Value, key: &str| value[key].as_f64().unwrap_or_else(|| panic!("{key}: {value}"));
    let (unsaid, short, long) = (reaction(""), reaction("--chain 6in"), reaction("--chain 4ft"));
    for (key, grows) in [("swing_deg", false), ("period_s", true)] {
        let [a, b, c] = [&unsaid, &short, &long].map(|r| number(r, key));
        assert!(if grows { a < b && b < c } else { a > b && b > c }, "{key}: {a} {b} {c}");
    }
    for key in ["centre_rise_m", "turn_deg", "plate_speed_m_s"] {
        let [b, c] = [&short, &long].map(|r| number(r, key));
        assert!((b / c - 1.0).abs() < 1e-9, "{key}: {b} {c}");
    }
    assert!(number(&short, "turn_deg") > number(&short, "swing_deg"));
}

#[test]
fn what_a_swing_on_a_chain_means_is_told_and_a_length_not_said_is_an_assumption() {
    let text = |options: &str| {
        let text = stdout(&thickset(&format!("{ADVISE} {options} --full")));
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let said = text("--chain 6in");
    assert!(said.contains("swings about the chain's top; its centre rises"), "{said}");
    assert!(!said.contains("a chain too short to matter"), "{said}");
    let unsaid = text("");
    assert!(unsaid.to_lowercase().contains("assumed:") && unsaid.contains("a chain too short to matter"), "{unsaid}");
}

#[test]
fn only_a_thickness_that_a_product_is_made_in_is_proposed() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shop.toml");
    let told = |made: &str, at: &str| {
        let text = format!(
            "schema = \"thickset/shop/1\"\nname = \"Shop\"\ncurrency = \"$\"\n[[product]]\nname = \"Gong\"\nface = \"12in\"\nmade = [{made}]\n"
        );
        fs::write(&path, text).expect("a file");
        let air = "--condition sound --tilt 15deg --altitude 500ft --temperature 60F";
        let line =
            format!("vet --load 300wm-180 --at {at} --plate 10mm --shop {} --product Gong {air}", path.display());
        stdout(&thickset(&line))
    };
    let (one, two) = ("{ thickness = \"10 mm\", price = 40 }", ", { thickness = \"15 mm\", price = 60 }");
    let both = format!("{one}{two}");
    for at in ["200yd", "280yd"] {
        let (alone, of_two) = (told(one, at), told(&both, at));
        assert!(!alone.contains("1/2 in") && !alone.contains("15 mm") && alone.contains("10mm"), "{alone}");
        assert!(!of_two.contains("1/2 in") && of_two.contains("15 mm"), "{of_two}");
    }
    assert!(told(&both, "280yd").contains("to spare; 15 mm has"), "{}", told(&both, "280yd"));
}

/// What is said of the swing asked, on one line.
fn swing_asked(line: &str) -> String {
    json(line)["swing_asked"].as_str().unwrap_or_else(|| panic!("{line}")).to_owned()
}

/// What it is told to swing of a centre hit when it hangs so.
fn swings(line: &str) -> f64 {
    let told = json(line);
    told["plates"][0]["reaction"]["swing_deg"].as_f64().unwrap_or_else(|| panic!("{line}: {told}"))
}

#[test]
fn a_swing_that_another_plate_that_suits_can_be_given_is_found_there() {
    let air = "--altitude 500ft --temperature 60F";
    for (asked, degrees) in [("--load 308-168-match --at 250yd", 20.0), ("--load 9mm-115 --at 250yd", 5.0)] {
        let line = format!("advise {asked} {air}");
        let told = swing_asked(&format!("{line} --want-swing {degrees}deg"));
        assert!(told.contains("take ") && told.contains(" of chain"), "{told}");
        let between = |from: &str, to: &str| told.split(from).nth(1).unwrap().split(to).next().unwrap().to_owned();
        let (plate, chain) = (between("take ", ", and"), between("hang it on ", " of chain"));
        // Asked for as it was told, it swings as it was wanted.
        let hung = swings(&format!("{line} --plate \"{plate}\" --mount chain --chain \"{chain}\""));
        assert!((hung - degrees).abs() < 0.1, "{told}: {hung}");
    }
}

#[test]
fn that_nothing_gives_a_swing_says_what_was_tried_and_of_which_plates() {
    let line = "advise --load 308-168-match --at 250yd --altitude 500ft --temperature 60F";
    let one = swing_asked(&format!("{line} --plate 3/8in --want-swing 20deg"));
    let tried = "no hanger line in its upper third, chain of 2.0 in to 36.0 in or bracket up to 12.0 in above its edge";
    assert!(one.contains(&format!("{tried} gives it to 3/8 in.")), "{one}");
    let all = swing_asked(&format!("{line} --want-swing 1deg"));
    assert!(all.contains(&format!("{tried} gives it to any plate that suits.")), "{all}");
}

#[test]
fn a_swing_asked_of_several_targets_is_told_of_each_by_name() {
    let told = swing_asked("advise examples/inquiry.toml --want-swing 20deg");
    assert!(told.starts_with("20° of the gong below the barn: "), "{told}");
    assert!(told.contains(" 20° of the plate across the draw: "), "{told}");
}

#[test]
fn no_chain_is_proposed_where_a_ranges_rules_keep_a_plate_off_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("range.toml");
    let rule = "schema = \"thickset/rules/1\"\nname = \"R\"\n[[rule]]\nid = \"no-chains\"\nsubject = \"case\"\n\
                sense = \"outcome\"\noutcome = \"unsuitable\"\nmount = [\"chain\"]\nwhy = \"chains are cut here\"\n\
                next = \"hang it from hooks\"\n";
    fs::write(&file, rule).expect("a file");
    let line = "advise --load 308-168-match --at 200yd --want-swing 45deg";
    assert!(swing_asked(line).contains("of chain"), "{}", swing_asked(line));
    let told = swing_asked(&format!("{line} --range-rules \"{}\"", file.display()));
    assert!(!told.contains("chain"), "{told}");
}

/// A plate of 11 by 12 in with holes at (3, 8) and (8, 8), as an outline's file writes them.
fn with_holes(path: &std::path::Path, hole: impl Fn(f64, f64) -> String) -> String {
    let holes = [3.0, 8.0].map(|x| format!("[[hole]]\n{}\n", hole(x, 8.0))).concat();
    let head =
        "schema = \"thickset/outline/1\"\nname = \"p\"\nunit = \"in\"\npoints = [[0, 0], [11, 0], [11, 12], [0, 12]]\n";
    fs::write(path, format!("{head}{holes}")).expect("a file");
    let air = "--at 200yd --altitude 500ft --temperature 60F --tilt 15deg";
    format!("advise --load 308-168-match {air} --outline {}", path.display())
}

/// How a hole at a place is written.
type Form = Box<dyn Fn(f64, f64) -> String>;

/// A page on one line.
fn told(line: &str) -> String {
    stdout(&thickset(line)).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_plate_hung_from_holes_of_any_form_is_told_to_have_its_hooks_closed_on_page_and_sheet() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("p.toml");
    let knots = |x: f64, y: f64, n: u32, radius: f64, turn: f64| {
        let angle = |i: u32| turn + std::f64::consts::TAU * f64::from(i) / f64::from(n);
        let knot = |i: u32| format!("[{:.4}, {:.4}]", x + radius * angle(i).cos(), y + radius * angle(i).sin());
        format!("points = [{}]", (0..n).map(knot).collect::<Vec<_>>().join(", "))
    };
    let round = |x: f64, y: f64| format!("at = [{x}, {y}]\ndiameter = 0.5");
    let short = |x: f64, y: f64| format!("slot = [[{}, {y}], [{}, {y}]]\nwidth = 0.5", x - 0.1, x + 0.1);
    let long = |x: f64, y: f64| format!("slot = [[{x}, {}], [{x}, {}]]\nwidth = 0.5", y - 1.0, y + 1.0);
    let forms: [(&str, Form); 7] = [
        ("round", Box::new(round)),
        ("short slot", Box::new(short)),
        ("long slot", Box::new(long)),
        ("square", Box::new(move |x, y| knots(x, y, 4, 0.35, 0.785))),
        ("8 chords", Box::new(move |x, y| knots(x, y, 8, 0.25, 0.3))),
        ("9 chords", Box::new(move |x, y| knots(x, y, 9, 0.25, 0.3))),
        ("22 chords", Box::new(move |x, y| knots(x, y, 22, 0.25, 0.3))),
    ];
    for (form, hole) in forms {
        let line = with_holes(&path, hole);
        let page = told(&format!("{line} --full"));
        assert!(page.contains("Closed hooks: a hard hit lifts it off open ones."), "{form}: {page}");
        assert!(page.contains("in plate over its hangers."), "{form}: {page}");
        assert!(page.contains("angs from its two highest holes (proposed)"), "{form}: {page}");
        assert!(!form.contains("chords") || !page.contains("under R"), "{form}: {page}");
        let sheet = told(&format!("{line} --for X"));
        assert!(sheet.contains("lose the hooks"), "{form}: {sheet}");
        assert!(!sheet.contains("angs by its top edge"), "{form}: {sheet}");
    }
}

#[test]
fn a_plate_whose_holes_take_no_hook_is_told_why_it_is_taken_to_hang_by_its_top_edge() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("p.toml");
    let full = |line: &str| told(&format!("{line} --full"));
    let wide = with_holes(&path, |x, y| format!("at = [{x}, {y}]\ndiameter = 2"));
    let why = "no hole above its balance point is narrow enough for a hook";
    assert!(told(&wide).contains(&format!("angs by its top edge (taken: {why})")), "{}", told(&wide));
    let one = with_holes(&path, |x, y| format!("at = [{x}, {}]\ndiameter = 0.5", if x < 5.0 { y } else { 1.0 }));
    let why = "one hole alone above its balance point takes a hook";
    assert!(told(&one).contains(&format!("angs by its top edge (taken: {why})")), "{}", told(&one));
    let none = with_holes(&path, |x, _| format!("at = [{x}, 1]\ndiameter = 0.5"));
    let why = "no two holes are above its balance point";
    assert!(full(&none).contains(&format!("angs by its top edge (taken: {why})")), "{}", full(&none));
}

#[test]
fn a_plate_of_two_like_bodies_on_a_neck_is_refused_however_it_is_drawn() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("p.toml");
    let half = [(0.0, 0.0), (7.29, 0.0), (7.29, 4.44), (3.8, 5.0)];
    let other = half.map(|(x, y)| (7.29 - x, 11.0 - y));
    let knots: Vec<(f64, f64)> = half.into_iter().chain(other).collect();
    for (unit, scale) in [("in", 1.0), ("mm", 25.4)] {
        for mirrored in [false, true] {
            let place = |(x, y): (f64, f64)| {
                let x = if mirrored { 7.29 - x } else { x };
                format!("[{:.6}, {:.6}]", scale * x, scale * y)
            };
            let mut points: Vec<String> = knots.iter().map(|knot| place(*knot)).collect();
            if mirrored {
                points.reverse();
            }
            let hole = |x: f64| format!("[[hole]]\nat = {}\ndiameter = {}\n", place((x, 9.5)), 0.6 * scale);
            let head = format!("schema = \"thickset/outline/1\"\nname = \"p\"\nunit = \"{unit}\"\n");
            let text = format!("{head}points = [{}]\n{}{}", points.join(", "), hole(1.6), hole(5.7));
            fs::write(&path, text).expect("a file");
            let line =
                "vet --load 308-168-match --at 200yd --plate 3/8in --altitude 500ft --temperature 60F --tilt 15deg";
            let page = told(&format!("{line} --full --outline {}", path.display()));
            assert!(page.contains("What hangs by so little steel is shot off."), "{unit} {mirrored}: {page}");
        }
    }
}
