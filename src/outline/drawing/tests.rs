//! What a drawing shows beside its outline: cuts are refused by name and place, the rest is left out and told.

use super::*;
use crate::quantity::Measure;

/// A drawing of 12 by 18 in with more in it, in the drawing format's pairs.
fn dxf(more: &str) -> String {
    let outline = polyline(&[(0.0, 0.0), (12.0, 0.0), (12.0, 18.0), (0.0, 18.0)], true);
    bare_dxf(&(outline + more))
}

fn bare_dxf(entities: &str) -> String {
    let layer = "0\nSECTION\n2\nTABLES\n0\nTABLE\n2\nLAYER\n0\nLAYER\n2\naxes\n70\n0\n62\n7\n6\nCENTER2\n0\nENDTAB\n0\nENDSEC\n";
    format!(
        "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n1\n0\nENDSEC\n{layer}0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"
    )
}

fn polyline(points: &[(f64, f64)], closed: bool) -> String {
    let head = format!("0\nLWPOLYLINE\n8\ncut\n90\n{}\n70\n{}\n", points.len(), i32::from(closed));
    points.iter().fold(head, |text, (x, y)| text + &format!("10\n{x}\n20\n{y}\n"))
}

fn line_on(layer: &str, from: (f64, f64), to: (f64, f64)) -> String {
    format!("0\nLINE\n8\n{layer}\n10\n{}\n20\n{}\n11\n{}\n21\n{}\n", from.0, from.1, to.0, to.1)
}

fn line(from: (f64, f64), to: (f64, f64)) -> String {
    line_on("cut", from, to)
}

fn lines(points: &[(f64, f64)]) -> String {
    points.windows(2).map(|ends| line(ends[0], ends[1])).collect()
}

fn read(text: &str) -> Result<Outline, Fault> {
    from_dxf(text.as_bytes(), "x", &ReadOptions::default())
}

fn svg(more: &str) -> Result<Outline, Fault> {
    let head = r#"<svg xmlns="http://www.w3.org/2000/svg" width="12in" height="18in" viewBox="0 0 12 18">"#;
    from_svg(&format!("{head}<path d=\"M0 0H12V18H0Z\"/>{more}</svg>"), "x", &ReadOptions::default())
}

fn left_out(outline: &Outline) -> String {
    outline.reading().left_out.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ")
}

#[test]
fn what_is_open_and_meets_the_outline_or_lies_in_it_is_refused_with_its_place() {
    for (more, words) in [
        // It cuts the plate in two.
        (
            line((0.0, 9.0), (12.0, 9.0)),
            "an open line from (0, 9) to (12, 9), on layer `cut`, meets the outline near (",
        ),
        // Beyond the edge, and short of it by less than a gap that is closed.
        (line((-3.0, 9.0), (15.0, 9.0)), "meets the outline near ("),
        (line((0.004, 9.0), (6.0, 9.0)), "meets the outline near (0"),
        (
            line((3.0, 9.0), (9.0, 9.0)),
            "an open line from (3, 9) to (9, 9), on layer `cut`, lies in the plate near (3, 9)",
        ),
        // A notch whose ends lie on the edge, as one line, as lines, and as a box with one side on the edge.
        (polyline(&[(0.0, 8.0), (11.0, 8.0), (11.0, 10.0), (0.0, 10.0)], false), "from (0, 8) to (0, 10)"),
        (lines(&[(0.0, 8.0), (11.0, 8.0), (11.0, 10.0), (0.0, 10.0)]), "from (0, 8) to (0, 10)"),
        (lines(&[(0.0, 8.0), (11.0, 8.0), (11.0, 10.0), (0.0, 10.0), (0.0, 8.0)]), "from (0, 8) to (0, 10)"),
        // A bite by an arc.
        ("0\nARC\n8\ncut\n10\n0\n20\n9\n40\n6\n50\n270\n51\n90\n".into(), "meets the outline near (0, "),
        (line((3.0, 9.0), (9.0, 9.0)) + &line((3.0, 8.0), (9.0, 8.0)), "; 1 more does so"),
        // From a window's edge into the steel.
        (
            polyline(&[(4.0, 4.0), (8.0, 4.0), (8.0, 8.0), (4.0, 8.0)], true) + &line((8.0, 6.0), (11.0, 6.0)),
            "meets a cut-out near (8, 6)",
        ),
    ] {
        let (message, help) = read(&dxf(&more)).expect_err(words);
        assert!(message.contains(words), "`{words}` is not in `{message}`");
        assert!(help.contains("--layer"), "{help}");
    }
    // An outline of lines, with a line from its corner.
    let frame = lines(&[(0.0, 0.0), (12.0, 0.0), (12.0, 18.0), (0.0, 18.0), (0.0, 0.0)]);
    let (message, _) = read(&bare_dxf(&(frame + &line((0.0, 0.0), (6.0, 9.0))))).expect_err("a cut");
    assert!(message.contains("meets the outline near (0, 0)"), "{message}");
}

#[test]
fn a_contour_that_crosses_the_outline_is_no_part_of_its_own_and_is_refused_though_a_part_is_chosen() {
    let notch = |right: f64| polyline(&[(-1.0, 8.0), (right, 8.0), (right, 10.0), (-1.0, 10.0)], true);
    let bite = "0\nCIRCLE\n8\ncut\n10\n12\n20\n9\n40\n5\n";
    for more in [notch(11.0), notch(0.0), bite.into()] {
        for part in [None, Some(1), Some(2)] {
            let options = ReadOptions { part, ..ReadOptions::default() };
            let (message, help) = from_dxf(dxf(&more).as_bytes(), "x", &options).expect_err("a cut");
            assert!(message.contains("on layer `cut`, meet near (") && !help.contains("--part"), "{message}; {help}");
        }
    }
    let beside = dxf(&polyline(&[(13.0, 8.0), (15.0, 8.0), (15.0, 10.0), (13.0, 10.0)], true));
    assert!(from_dxf(beside.as_bytes(), "x", &ReadOptions { part: Some(1), ..ReadOptions::default() }).is_ok());
}

#[test]
fn strays_beside_the_plate_or_in_a_window_and_centre_lines_are_left_out_and_told() {
    let window = polyline(&[(4.0, 4.0), (8.0, 4.0), (8.0, 8.0), (4.0, 8.0)], true);
    for (more, words) in [
        (line((13.0, 0.0), (13.0, 18.0)), "1 open line not closed"),
        (window + &line((5.0, 6.0), (7.0, 6.0)), "1 open line not closed"),
        (line_on("axes", (6.0, -1.0), (6.0, 19.0)), "1 centre line"),
        // A speck shorter than a gap that is closed.
        (line((6.0, 9.0), (6.002, 9.0)), "1 open line not closed"),
    ] {
        let outline = read(&dxf(&more)).unwrap_or_else(|(message, _)| panic!("{words}: {message}"));
        assert_eq!(left_out(&outline), words);
    }
}

#[test]
fn an_open_path_of_an_svg_is_a_cut_too() {
    for more in [
        r#"<path fill="none" stroke="red" d="M0 9H12"/>"#,
        r#"<polyline fill="none" stroke="red" points="0,8 11,8 11,10 0,10"/>"#,
        r#"<g id="marks"><line stroke="red" x1="3" y1="9" x2="9" y2="9"/></g>"#,
        r#"<rect x="-1" y="8" width="12" height="2"/>"#,
    ] {
        let (message, _) = svg(more).expect_err(more);
        assert!(message.contains("may be a cut") || message.contains("meet near"), "{more}: {message}");
    }
    // Places are the drawing's own: its y runs down, from where its view begins.
    let (message, _) = svg(r#"<line stroke="red" x1="3" y1="9" x2="9" y2="9"/>"#).expect_err("a cut");
    assert!(message.contains("from (3, 9) to (9, 9)"), "{message}");
    let shifted = r#"<svg xmlns="http://www.w3.org/2000/svg" width="12in" height="18in" viewBox="100 200 120 180"><path d="M100 200h120v180h-120Z"/><line stroke="red" x1="130" y1="290" x2="190" y2="290"/></svg>"#;
    let (message, _) = from_svg(shifted, "x", &ReadOptions::default()).expect_err("a cut");
    assert!(message.contains("from (130, 290) to (190, 290)"), "{message}");
}

#[test]
fn shapes_that_a_file_defines_are_counted_where_they_are_not_drawn_and_else_read_or_refused() {
    let rect = r#"<rect id="r" x="1" y="8" width="10" height="2"/>"#;
    for within in ["defs", "symbol", "marker", "pattern", "clipPath", "mask"] {
        let outline = svg(&format!("<{within} id=\"a\">{rect}</{within}>")).expect(within);
        assert_eq!(left_out(&outline), format!("1 rect in `{within}`, not drawn"));
        assert!(outline.holes().is_empty());
    }
    // Used, it is drawn, and counted no more.
    for used in [
        format!("<defs>{rect}</defs><use href=\"#r\"/>"),
        format!("<use href=\"#a\"/><symbol id=\"a\">{rect}</symbol>"),
    ] {
        let outline = svg(&used).expect("a plate");
        assert_eq!((outline.holes().len(), left_out(&outline).as_str()), (1, ""), "{used}");
    }
    for (more, words) in [
        (format!("<foo>{rect}</foo>"), "a `foo` is not read, and the `rect` in it may be an edge to cut"),
        (format!("<foreignObject>{rect}</foreignObject>"), "a `foreignObject` is not read"),
        (
            format!("<marker id=\"a\">{rect}</marker><path stroke=\"red\" marker-end=\"url(#a)\" d=\"M13 0V9\"/>"),
            "a `path` is drawn with a `marker`",
        ),
        (
            format!("<marker id=\"a\">{rect}</marker><g style=\"marker:url('#a')\"><path d=\"M13 0V9\"/></g>"),
            "a `g` is drawn with a `marker`",
        ),
        (
            format!("<pattern id=\"a\">{rect}</pattern><circle cx=\"6\" cy=\"9\" r=\"2\" fill=\"url(#a)\"/>"),
            "a `circle` is drawn with a `pattern`",
        ),
    ] {
        let (message, _) = svg(&more).expect_err(words);
        assert!(message.contains(words), "`{words}` is not in `{message}`");
    }
    let foreign = svg(&format!("<x:note xmlns:x=\"urn:x\">{rect}</x:note>")).expect("a plate");
    assert_eq!(left_out(&foreign), "1 rect in an element of another standard, not drawn");
}

#[test]
fn a_layer_not_asked_for_is_told_by_name_and_a_closed_shape_on_it_as_such() {
    let slot = polyline(&[(4.0, 8.0), (8.0, 8.0), (8.0, 10.0), (4.0, 10.0)], true).replace("cut", "HOLES");
    let drawing = dxf(&(slot + &line_on("notes", (20.0, 0.0), (24.0, 0.0))));
    let options = ReadOptions { layers: vec!["cut".into()], ..ReadOptions::default() };
    let outline = from_dxf(drawing.as_bytes(), "x", &options).expect("an outline");
    let told = left_out(&outline);
    assert!(told.contains("1 closed shape on layer `HOLES`, not asked for"), "{told}");
    assert!(told.contains("1 line on layer `notes`, not asked for"), "{told}");
}

/// A drawing of what is said, ten inches wide and high.
fn ten(body: &str) -> Result<Outline, Fault> {
    let head = r#"<svg xmlns="http://www.w3.org/2000/svg" width="10in" height="10in" viewBox="0 0 10 10">"#;
    from_svg(&format!("{head}{body}</svg>"), "x", &ReadOptions::default())
}

fn size(outline: &Outline) -> (f64, f64) {
    let bounds = outline.section().bounds;
    (bounds.width().si() / 0.0254, bounds.height().si() / 0.0254)
}

#[test]
fn a_symbol_and_a_nested_drawing_are_as_large_as_their_use_says() {
    let symbol = r#"<symbol id="p" viewBox="0 0 12 12"><circle cx="6" cy="6" r="6"/></symbol>"#;
    for (body, wide, high) in [
        (format!(r##"{symbol}<use href="#p" width="2" height="2"/>"##), 2.0, 2.0),
        (format!(r##"{symbol}<use href="#p" width="8" height="4"/>"##), 4.0, 4.0),
        (
            r#"<svg id="s" x="1" width="3" height="3" viewBox="0 0 6 6"><rect width="6" height="6"/></svg>"#.to_owned(),
            3.0,
            3.0,
        ),
        (r#"<svg width="4" height="8" viewBox="0 0 2 4"><path d="M0 0H2V4H0Z"/></svg>"#.into(), 4.0, 8.0),
    ] {
        let (w, h) = size(&ten(&body).unwrap_or_else(|(message, _)| panic!("{body}: {message}")));
        assert!((w - wide).abs() < 2e-3 && (h - high).abs() < 2e-3, "{body}: {w} × {h}");
    }
    // In the middle of a frame that is wider: the hole stays where it is drawn.
    let held = ten(
        r#"<path d="M0 0H10V10H0Z"/><svg x="1" y="1" width="8" height="4" viewBox="0 0 2 2"><circle cx="1" cy="1" r="1"/></svg>"#,
    );
    let centre = held.expect("an outline").holes()[0].centre().spot();
    assert!((centre.0 / 0.0254 - 5.0).abs() < 2e-3 && (centre.1 / 0.0254 - 7.0).abs() < 2e-3, "{centre:?}");
}

#[test]
fn a_frame_without_a_size_and_moves_that_are_not_read_are_refused_by_name() {
    let square = r#"<path d="M0 0H10V10H0Z"/>"#;
    for (body, words) in [
        (
            r##"<symbol id="p" viewBox="0 0 12 12"><circle cx="6" cy="6" r="6"/></symbol><use href="#p"/>"##.to_owned(),
            "no `width`",
        ),
        (r#"<svg width="20%" height="20%" viewBox="0 0 10 20"><rect width="10" height="20"/></svg>"#.into(), "`20%`"),
        (r#"<rect width="10" height="10" style="scale:.2"/>"#.into(), "`scale`"),
        (r#"<g style="translate: 2px 3px"><rect width="8" height="8"/></g>"#.into(), "`translate`"),
        (format!(r#"{square}<circle style="r:4px" cx="5" cy="5"/>"#), "`r`"),
        (format!(r#"<style>.a{{width:4px;height:4px}}</style>{square}<rect class="a" x="2" y="2"/>"#), "`width`"),
        (
            format!(r#"{square}<circle cx="5" cy="5" r="1" transform="rotate(90)" transform-origin="5 5"/>"#),
            "`transform-origin`",
        ),
        (r#"<polygon points="0,0 10,0 10,9 x 0,9"/>"#.into(), "polygon"),
        (r#"<polygon points="0,0 10,0 10,9 0,9 5"/>"#.into(), "within a pair"),
    ] {
        let (message, _) = ten(&body).err().unwrap_or_else(|| panic!("{body} was read"));
        assert!(message.contains(words), "{message}");
    }
    let told = left_out(&ten(&format!(r#"{square}<circle cx="5" cy="5"/>"#)).expect("an outline"));
    assert!(told.contains("1 circle of no size"), "{told}");
}

#[test]
fn closed_shapes_in_the_lines_of_centres_and_hidden_edges_are_no_cuts_and_told() {
    for line_type in ["CENTER", "HIDDEN2", "PHANTOM"] {
        let styled = |r: f64| format!("0\nCIRCLE\n8\ncut\n6\n{line_type}\n10\n6\n20\n9\n40\n{r}\n");
        let outline = read(&dxf(&(styled(20.0) + &styled(2.0)))).expect("an outline");
        assert!((size(&outline).0 - 12.0).abs() < 1e-6 && outline.holes().is_empty(), "{line_type}");
        let told = left_out(&outline);
        assert!(told.contains("2 closed shapes drawn as a centre line or a hidden edge"), "{told}");
    }
}

#[test]
fn a_second_section_of_entities_is_refused_by_name() {
    let drawing = dxf("");
    let twice = drawing.replace("0\nEOF\n", "0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n");
    let (message, _) = read(&twice).expect_err("two sections");
    assert!(message.contains("two sections `ENTITIES`"), "{message}");
}

#[test]
fn what_a_use_shows_keeps_its_own_move_and_stays_hidden_where_it_is() {
    let square = r#"<path d="M0 0H10V10H0Z"/>"#;
    let shown = |style: &str| {
        let hole = r##"<circle cx="1" cy="1" r="1"/></svg></defs><use href="#h" x="3" y="3"/>"##;
        ten(&format!(r#"{square}<defs><svg id="h" width="4" height="4" viewBox="0 0 2 2" {style}>{hole}"#))
            .expect("an outline")
    };
    assert_eq!(shown("").holes().len(), 1);
    let hidden = shown(r#"display="none""#);
    assert!(hidden.holes().is_empty() && left_out(&hidden).contains("not displayed"), "{}", left_out(&hidden));
}

#[test]
fn a_line_drawn_with_a_width_is_cut_along_its_middle_and_told() {
    let wide = |code: u16, width: f64| {
        let head = format!("90\n4\n{code}\n{width}\n");
        polyline(&[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)], true).replacen("90\n4\n", &head, 1)
    };
    for (code, width, told) in [(43, 0.5, "1 line width"), (40, 0.5, "1 line width"), (43, 0.0, "")] {
        let outline = read(&bare_dxf(&wide(code, width))).unwrap();
        assert_eq!((left_out(&outline).as_str(), size(&outline)), (told, (10.0, 10.0)), "{code} {width}");
    }
}

#[test]
fn a_circle_on_a_layer_not_asked_for_is_told_as_a_closed_shape() {
    let circle = "0\nCIRCLE\n8\nHOLES\n10\n6\n20\n9\n40\n1\n";
    let options = ReadOptions { layers: vec!["cut".into()], ..ReadOptions::default() };
    let told = left_out(&from_dxf(dxf(circle).as_bytes(), "x", &options).expect("an outline"));
    assert!(told.contains("1 closed shape on layer `HOLES`"), "{told}");
}

fn rectangle(from: (f64, f64), to: (f64, f64)) -> String {
    polyline(&[from, (to.0, from.1), to, (from.0, to.1)], true)
}

fn square_inches(outline: &Outline) -> f64 {
    outline.area().si() / (0.0254 * 0.0254)
}

/// A heavy polyline of these flags, its vertices of others, each with a bulge that only a plane one has.
fn heavy(flags: u32, extra: &str, vertices: &[(f64, f64, f64)], vertex_flags: u32) -> String {
    let vertex =
        |(x, y, z): &(f64, f64, f64)| format!("0\nVERTEX\n8\ncut\n10\n{x}\n20\n{y}\n30\n{z}\n70\n{vertex_flags}\n");
    let vertices: String = vertices.iter().map(vertex).collect();
    format!("0\nPOLYLINE\n8\ncut\n66\n1\n70\n{flags}\n{extra}{vertices}0\nSEQEND\n8\ncut\n")
}

#[test]
fn lines_of_a_drawing_end_as_any_system_ends_them() {
    let plain = dxf(&rectangle((4.0, 4.0), (8.0, 8.0)));
    for end in ["\n", "\r\n", "\r"] {
        let outline = read(&plain.replace('\n', end)).unwrap_or_else(|(message, _)| panic!("{end:?}: {message}"));
        assert!((square_inches(&outline) - 200.0).abs() < 1e-6, "{end:?}");
    }
}

#[test]
fn a_polyline_in_space_is_read_where_it_is_level_and_refused_where_it_rises() {
    let level = [(0.0, 0.0, 2.5), (12.0, 0.0, 2.5), (12.0, 18.0, 2.5), (0.0, 18.0, 2.5)];
    let outline = read(&bare_dxf(&heavy(1 | 8, "", &level, 32))).expect("an outline");
    assert!((square_inches(&outline) - 216.0).abs() < 1e-9, "{}", square_inches(&outline));
    for rise in [2.6, 2.4, -2.5] {
        let mut rising = level;
        rising[1].2 = rise;
        let (message, _) = read(&bare_dxf(&heavy(1 | 8, "", &rising, 32))).expect_err("a rise");
        assert!(message.contains("out of the drawing's plane"), "{message}");
    }
}

#[test]
fn a_frame_steers_a_curve_of_its_own_kind() {
    // Of two pieces of each corner's way a quadratic curve cuts off a third of the corner's triangle: 2/3 in² of 2.
    let frame = [(4.0, 4.0, 0.0), (8.0, 4.0, 0.0), (8.0, 8.0, 0.0), (4.0, 8.0, 0.0)];
    let hole = |kind: u32| {
        let outline = read(&dxf(&heavy(1 | 4, &format!("75\n{kind}\n"), &frame, 16)));
        216.0 - square_inches(&outline.unwrap_or_else(|(message, _)| panic!("{kind}: {message}")))
    };
    assert!((hole(5) - (16.0 - 4.0 * 2.0 / 3.0)).abs() < 2e-3, "{}", hole(5));
    assert!(hole(6) < hole(5) - 1.0, "{}", hole(6));
}

/// A spline through points.
fn through(points: &[(f64, f64, f64)], flags: u32) -> String {
    let head = format!("0\nSPLINE\n8\ncut\n70\n{flags}\n71\n3\n74\n{}\n", points.len());
    points.iter().fold(head, |text, (x, y, z)| text + &format!("11\n{x}\n21\n{y}\n31\n{z}\n"))
}

#[test]
fn a_spline_through_points_closes_only_where_it_says_so_and_lies_level_at_any_height() {
    let rest = lines(&[(12.0, 18.0), (0.0, 18.0), (0.0, 0.0), (12.0, 0.0)]);
    let side =
        |z: [f64; 4]| through(&[(12.0, 0.0, z[0]), (13.0, 6.0, z[1]), (13.0, 12.0, z[2]), (12.0, 18.0, z[3])], 8);
    for height in [0.0, 2.5] {
        let drawn = bare_dxf(&(rest.clone() + &side([height; 4])));
        let outline = read(&drawn).unwrap_or_else(|(message, _)| panic!("{height}: {message}"));
        let (wide, high) = size(&outline);
        assert!(wide > 13.05 && wide < 13.3 && (high - 18.0).abs() < 1e-6, "{wide} × {high}");
    }
    let (message, _) = read(&bare_dxf(&(rest + &side([0.0, 0.0, 0.5, 0.0])))).expect_err("a rise");
    assert!(message.contains("out of the drawing's plane"), "{message}");
    // Closed, it is a cut-out by itself.
    let around = [(5.0, 4.0, 0.0), (8.0, 6.0, 0.0), (8.0, 12.0, 0.0), (5.0, 14.0, 0.0)];
    assert_eq!(read(&dxf(&through(&around, 8 | 1))).expect("a hole").holes().len(), 1);
}

#[test]
fn what_an_entity_embeds_ends_with_it() {
    let text = "0\nMTEXT\n8\nnotes\n1\nword\n101\nEmbedded Object\n70\n1\n10\n1.0\n20\n0.0\n";
    let outline = read(&bare_dxf(&(text.to_owned() + &rectangle((0.0, 0.0), (12.0, 18.0))))).expect("an outline");
    assert_eq!((square_inches(&outline).round(), left_out(&outline).as_str()), (216.0, "1 text"));
}

#[test]
fn what_annotates_is_left_out_by_its_plain_name_and_what_is_not_known_is_refused() {
    for (record, name) in [
        ("TEXT", "text"),
        ("DIMENSION", "dimension"),
        ("MULTILEADER", "leader"),
        ("HATCH", "hatch"),
        ("POINT", "point"),
        ("RAY", "construction line"),
        ("WIPEOUT", "picture"),
        ("IMAGE", "picture"),
        ("VIEWPORT", "view"),
        ("ACAD_TABLE", "table"),
    ] {
        let outline = read(&dxf(&format!("0\n{record}\n8\ncut\n10\n5\n20\n5\n")));
        let outline = outline.unwrap_or_else(|(message, _)| panic!("{record}: {message}"));
        assert_eq!(left_out(&outline), format!("1 {name}"));
    }
    let (message, _) = read(&dxf("0\nREGION\n8\ncut\n10\n5\n20\n5\n")).expect_err("a region");
    assert!(message.contains("may be an edge to cut"), "{message}");
}

#[test]
fn a_closed_line_of_two_points_is_an_open_one() {
    let outline = read(&dxf(&polyline(&[(14.0, 2.0), (16.0, 2.0)], true))).expect("an outline");
    assert_eq!((outline.holes().len(), left_out(&outline).as_str()), (0, "1 open line not closed"));
}

#[test]
fn a_hole_drawn_as_a_circle_and_again_by_chords_beside_it_is_one() {
    let around = |i: u32| (f64::from(i) * std::f64::consts::TAU / 88.0).sin_cos();
    let chords: Vec<(f64, f64)> = (0..88).map(around).map(|(sin, cos)| (6.0 + 2.0 * cos, 9.0 + 2.0 * sin)).collect();
    let circle = "0\nCIRCLE\n8\ncut\n10\n6\n20\n9\n40\n2\n".to_owned();
    let outline = read(&dxf(&(circle + &polyline(&chords, true)))).expect("an outline");
    assert_eq!((outline.holes().len(), left_out(&outline).as_str()), (1, "1 contour drawn twice"));
}

#[test]
fn a_plate_is_an_inch_to_ten_feet_across() {
    let wide = |inches: f64| read(&bare_dxf(&rectangle((0.0, 0.0), (inches, 10.0)))).map(|outline| size(&outline).0);
    assert!(wide(1.0).is_ok_and(|w| (w - 1.0).abs() < 1e-9) && wide(120.0).is_ok());
    // However far each of its places lies from where it begins.
    let from_its_middle = [(65.0, 0.0), (130.0, 0.0), (130.0, 10.0), (0.0, 10.0), (0.0, 0.0)];
    let (message, _) = read(&bare_dxf(&polyline(&from_its_middle, true))).expect_err("a size");
    assert!(message.contains("between 1 in and 120 in"), "{message}");
    for inches in [0.99, 121.0, 130.0] {
        let (message, _) = wide(inches).expect_err("a size");
        assert!(message.contains("between 1 in and 120 in"), "{message}");
    }
}

#[test]
fn a_drawing_that_states_lengths_on_paper_takes_no_other_unit() {
    let asked = |width: &str| {
        let text = format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" width="{width}" viewBox="0 0 12 18"><path d="M0 0H12V18H0Z"/></svg>"#
        );
        from_svg(&text, "x", &ReadOptions { unit: Some("in".parse().expect("a unit")), ..ReadOptions::default() })
    };
    for paper in ["12in", "300mm", "30cm", "864pt", "72pc"] {
        let (message, _) = asked(paper).expect_err(paper);
        assert!(message.contains("names its unit"), "{message}");
    }
    for screen in ["12", "12px"] {
        assert_eq!(asked(screen).map(|outline| size(&outline).1.round()), Ok(18.0), "{screen}");
    }
    let flat = r#"<svg xmlns="http://www.w3.org/2000/svg" width="0" height="0" viewBox="0 0 12 18"><path d="M0 0H12V18H0Z"/></svg>"#;
    let (message, _) = from_svg(flat, "x", &ReadOptions::default()).expect_err("no size");
    assert!(message.contains("has no size"), "{message}");
}

#[test]
fn a_view_lies_in_its_frame_as_it_says() {
    // A view of 2 by 2 in a frame: fitted whole, filling it, or stretched; where it lies along what is left free.
    for (frame, ratio, wide, middle) in [
        (r#"width="8" height="4""#, "xMinYMid", 4.0, (4.0, 14.0)),
        (r#"width="8" height="4""#, "xMidYMax", 4.0, (6.0, 14.0)),
        (r#"width="8" height="4""#, "xMaxYMin", 4.0, (8.0, 14.0)),
        (r#"width="4" height="8""#, "xMaxYMin", 4.0, (4.0, 14.0)),
        (r#"width="4" height="8""#, "xMinYMid", 4.0, (4.0, 12.0)),
        (r#"width="4" height="8""#, "xMidYMid", 4.0, (4.0, 12.0)),
        (r#"width="4" height="8""#, "xMaxYMid", 4.0, (4.0, 12.0)),
        (r#"width="4" height="8""#, "xMinYMax", 4.0, (4.0, 10.0)),
        (r#"width="4" height="8""#, "xMidYMax", 4.0, (4.0, 10.0)),
        (r#"width="4" height="8""#, "xMaxYMax", 4.0, (4.0, 10.0)),
        (r#"width="8" height="4""#, "none", 8.0, (6.0, 14.0)),
        (r#"width="8" height="4""#, "xMidYMin slice", 8.0, (6.0, 12.0)),
    ] {
        let nested = format!(
            r#"<svg x="2" y="2" {frame} viewBox="0 0 2 2" preserveAspectRatio="{ratio}" overflow="visible"><rect width="2" height="2"/></svg>"#
        );
        let outline = svg(&nested).unwrap_or_else(|(message, _)| panic!("{ratio}: {message}"));
        let (x, y) = outline.holes()[0].centre().spot();
        let [left, right, ..] = outline.cuts()[0].bounds();
        let found = [(right - left) / 0.0254, x / 0.0254, y / 0.0254];
        let near = found.iter().zip([wide, middle.0, middle.1]).all(|(a, b)| (a - b).abs() < 2e-3);
        assert!(near, "{frame} {ratio}: {found:?}");
    }
}

#[test]
fn what_is_not_seen_is_told_and_what_is_hardly_seen_is_read() {
    let square = |how: &str| svg(&format!(r#"<rect x="4" y="4" width="4" height="4" {how}/>"#)).expect("an outline");
    for (how, why) in [
        (r#"opacity="0""#, "transparent"),
        (r#"visibility="hidden""#, "not visible"),
        (r#"display="none""#, "not displayed"),
    ] {
        let outline = square(how);
        assert_eq!(outline.holes().len(), 0, "{how}");
        assert!(left_out(&outline).contains(why), "{how}: {}", left_out(&outline));
    }
    assert_eq!(square(r#"opacity="0.01""#).holes().len(), 1);
}

#[test]
fn lines_of_which_more_than_two_meet_at_a_point_are_no_one_contour_and_refused_there() {
    let square = [(0.0, 0.0), (12.0, 0.0), (12.0, 18.0), (0.0, 18.0), (0.0, 0.0)];
    assert!(read(&bare_dxf(&lines(&square))).is_ok());
    let across = bare_dxf(&(lines(&square) + &line((0.0, 0.0), (12.0, 18.0))));
    let refused = read(&across).expect_err("a diagonal").0;
    assert!(refused.starts_with("3 lines meet at (") && refused.ends_with("on layer `cut`"), "{refused}");
    // Two triangles that touch in a point.
    let bow = [(0.0, 0.0), (12.0, 0.0), (6.0, 9.0), (12.0, 18.0), (0.0, 18.0), (6.0, 9.0), (0.0, 0.0)];
    let refused = read(&bare_dxf(&lines(&bow))).expect_err("a bow").0;
    assert!(refused.starts_with("4 lines meet at (6, 9)"), "{refused}");
}
