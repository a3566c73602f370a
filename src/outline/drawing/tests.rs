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
fn a_circle_on_a_layer_not_asked_for_is_told_as_a_closed_shape() {
    let circle = "0\nCIRCLE\n8\nHOLES\n10\n6\n20\n9\n40\n1\n";
    let options = ReadOptions { layers: vec!["cut".into()], ..ReadOptions::default() };
    let told = left_out(&from_dxf(dxf(circle).as_bytes(), "x", &options).expect("an outline"));
    assert!(told.contains("1 closed shape on layer `HOLES`"), "{told}");
}
