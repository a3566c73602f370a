//! Outlines from drawings: DXF as a cutting shop has it, lines, arcs, circles and polylines with bulges, in
//! any order, in inches or millimetres. The outermost closed contour is the outline, those in it are its holes.

#[cfg(not(feature = "dxf"))]
pub(super) fn read(path: &std::path::Path) -> Result<super::Outline, crate::source::Diagnostic> {
    Err(crate::source::Diagnostic::plain(format!(
        "`{}` is a drawing, and this program was built without them",
        path.display()
    ))
    .help("build with the feature `dxf`, or write the outline in TOML"))
}

#[cfg(feature = "dxf")]
pub(super) use drawing::read;

#[cfg(feature = "dxf")]
mod drawing {
    use crate::plate::contour::{Contour, MAX_POINTS, Point, Vertex};
    use crate::plate::edge::{Spot, apart};
    use crate::plate::hole::Hole;
    use crate::plate::outline::{Outline, OutlineError, Ring};
    use crate::quantity::{Length, Measure};
    use crate::source::{Diagnostic, read_bytes};
    use dxf::Drawing;
    use dxf::entities::{Entity, EntityType};
    use dxf::enums::Units;
    use std::path::Path;

    /// Ends nearer than this are one point, m.
    const JOINED_M: f64 = 2e-5;
    /// How near to a circle, by its length and area, an inner contour comes to be a round hole.
    const ROUND: f64 = 1e-4;

    /// An edge as drawn: from, to, and the bulge between.
    #[derive(Clone, Copy)]
    struct Drawn {
        from: Spot,
        to: Spot,
        bulge: f64,
    }

    /// What a drawing holds, in metres.
    #[derive(Default)]
    struct Parts {
        edges: Vec<Drawn>,
        circles: Vec<Hole>,
    }

    /// Reads a drawing: the outermost closed contour is the outline, those within are holes.
    pub fn read(path: &Path) -> Result<Outline, Diagnostic> {
        let name = path.display().to_string();
        let fault = |message: String, help: &str| Diagnostic::plain(format!("`{name}`: {message}")).help(help);
        let bytes = read_bytes(path)?;
        let title = path.file_stem().and_then(|s| s.to_str()).unwrap_or("outline").to_owned();
        from_bytes(&bytes, &title).map_err(|(message, help)| fault(message, &help))
    }

    type Fault = (String, String);

    fn outline_fault(error: &OutlineError) -> Fault {
        (error.to_string(), error.help())
    }

    /// Reads a drawing held in memory.
    pub fn from_bytes(bytes: &[u8], title: &str) -> Result<Outline, Fault> {
        let unread = || ("the drawing can't be read".to_owned(), "save it as ASCII DXF".to_owned());
        // The reader indexes by what the file says, and some files make it panic: such a file is unreadable.
        let loaded = std::panic::catch_unwind(|| Drawing::load(&mut std::io::Cursor::new(bytes)));
        let drawing =
            loaded.map_err(|_| unread())?.map_err(|e| (format!("the drawing can't be read: {e}"), unread().1))?;
        let metres = match drawing.header.default_drawing_units {
            Units::Inches => 0.0254,
            Units::Millimeters => 1e-3,
            Units::Centimeters => 1e-2,
            Units::Meters => 1.0,
            Units::Feet => 0.3048,
            other => {
                let help = "set the drawing's unit ($INSUNITS) to inches or millimetres";
                return Err((format!("the drawing's unit is {other:?}"), help.into()));
            }
        };
        let mut parts = Parts::default();
        for entity in drawing.entities() {
            take(entity, metres, &mut parts)?;
            if parts.edges.len() + parts.circles.len() > MAX_POINTS {
                return Err((format!("the drawing has more than {MAX_POINTS} edges"), "thin the outline out".into()));
            }
        }
        assembled(parts, title)
    }

    /// The outermost contour with the others as its holes.
    fn assembled(parts: Parts, title: &str) -> Result<Outline, Fault> {
        let mut rings: Vec<(Contour, Hole)> = Vec::new();
        for vertices in chained(parts.edges)? {
            let at = vertices[0].at;
            let contour = Contour::new(vertices).map_err(|e| (format!("the contour at {at} {e}"), e.help()))?;
            rings.push((contour.clone(), round(&contour).unwrap_or(Hole::Cut(contour))));
        }
        for hole in parts.circles {
            let contour = hole.contour().map_err(|e| (format!("the circle at {} {e}", hole.centre()), e.help()))?;
            rings.push((contour, hole));
        }
        rings.sort_by(|a, b| b.0.area().total_cmp(&a.0.area()));
        let mut rings = rings.into_iter();
        let (contour, _) = rings.next().ok_or_else(|| {
            ("the drawing has no closed contour".to_owned(), "draw lines, arcs, circles or polylines".to_owned())
        })?;
        let holes: Vec<Hole> = rings.map(|(_, hole)| hole).collect();
        Outline::new(title, contour, holes.clone(), Vec::new()).map_err(|e| told(&e, &holes))
    }

    /// A fault of the whole, holes told by their places: a drawing does not number them.
    fn told(error: &OutlineError, holes: &[Hole]) -> Fault {
        let named = |ring: Ring| match ring {
            Ring::Outline => ring.to_string(),
            Ring::Hole(index) => format!("the contour at {}", holes[index].centre()),
        };
        let one = "draw one plate: its outline, and the cut-outs within";
        match error {
            OutlineError::Outside { at, .. } => (format!("the drawing has a second outline at {at}"), one.into()),
            OutlineError::Nested { at, .. } => (format!("a contour lies in a cut-out at {at}"), error.help()),
            OutlineError::Meets { hole, other, at } => {
                (format!("{} meets {} near {at}", named(Ring::Hole(*hole)), named(*other)), error.help())
            }
            _ => outline_fault(error),
        }
    }

    /// An inner contour as a round hole, where it is one, however it was drawn.
    fn round(contour: &Contour) -> Option<Hole> {
        let (length, area) = (contour.length(), contour.area());
        let roundness = length * length / (4.0 * std::f64::consts::PI * area);
        let [left, right, bottom, top] = contour.bounds();
        let centre = Point::of((0.5 * (left + right), 0.5 * (bottom + top)));
        let diameter = Length::from_si(2.0 * (area / std::f64::consts::PI).sqrt());
        ((roundness - 1.0).abs() <= ROUND).then_some(Hole::Round { centre, diameter })
    }

    fn take(entity: &Entity, metres: f64, parts: &mut Parts) -> Result<(), Fault> {
        let edges = &mut parts.edges;
        let facing = facing(&entity.specific)?;
        let scaled = |x: f64, y: f64| (facing * x * metres, y * metres);
        match &entity.specific {
            EntityType::Line(line) => {
                polyline(&[(scaled(line.p1.x, line.p1.y), 0.0), (scaled(line.p2.x, line.p2.y), 0.0)], false, edges);
            }
            EntityType::Arc(arc) => {
                let at = |degrees: f64| {
                    let (sin, cos) = degrees.to_radians().sin_cos();
                    scaled(arc.center.x + arc.radius * cos, arc.center.y + arc.radius * sin)
                };
                let sweep = (arc.end_angle - arc.start_angle).rem_euclid(360.0);
                let sweep = if sweep > 0.0 { sweep } else { 360.0 };
                // Two halves keep every bulge finite.
                let middle = arc.start_angle + 0.5 * sweep;
                let bulge = facing * (sweep.to_radians() / 8.0).tan();
                edges.push(Drawn { from: at(arc.start_angle), to: at(middle), bulge });
                edges.push(Drawn { from: at(middle), to: at(arc.start_angle + sweep), bulge });
            }
            EntityType::Circle(circle) => {
                let centre = Point::of(scaled(circle.center.x, circle.center.y));
                parts.circles.push(Hole::Round { centre, diameter: Length::from_si(2.0 * circle.radius * metres) });
            }
            EntityType::LwPolyline(line) => {
                let points: Vec<(Spot, f64)> =
                    line.vertices.iter().map(|v| (scaled(v.x, v.y), facing * v.bulge)).collect();
                polyline(&points, line.is_closed(), edges);
            }
            EntityType::Polyline(line) => {
                let points: Vec<(Spot, f64)> =
                    line.vertices().map(|v| (scaled(v.location.x, v.location.y), facing * v.bulge)).collect();
                polyline(&points, line.is_closed(), edges);
            }
            // Writing and dimensions are not cut.
            EntityType::Text(_) | EntityType::MText(_) | EntityType::ModelPoint(_) => {}
            other => {
                let kind = format!("{other:?}");
                let kind = kind.split('(').next().unwrap_or_default().to_owned();
                return Err((
                    format!("the drawing has a {kind}, which is not read"),
                    "turn it into lines, arcs or polylines".into(),
                ));
            }
        }
        Ok(())
    }

    /// Which way an entity faces: 1 toward the reader; -1 away, drawn on the back of the sheet, its own x to the left
    /// (DXF reference: a normal of (0, 0, -1) turns the object's x axis around; from memory).
    fn facing(entity: &EntityType) -> Result<f64, Fault> {
        let normal = match entity {
            EntityType::Arc(arc) => &arc.normal,
            EntityType::Circle(circle) => &circle.normal,
            EntityType::LwPolyline(line) => &line.extrusion_direction,
            EntityType::Polyline(line) => &line.normal,
            _ => return Ok(1.0),
        };
        let length = (normal.x * normal.x + normal.y * normal.y + normal.z * normal.z).sqrt();
        if normal.z.abs() >= length * (1.0 - 1e-9) && length > 0.0 {
            Ok(normal.z.signum())
        } else {
            let message = "the drawing has a shape that does not lie flat in the sheet";
            Err((message.into(), "draw the outline flat, seen from above".into()))
        }
    }

    fn polyline(points: &[(Spot, f64)], closed: bool, edges: &mut Vec<Drawn>) {
        let n = points.len();
        for i in 0..if closed { n } else { n.saturating_sub(1) } {
            let ((from, bulge), (to, _)) = (points[i], points[(i + 1) % n]);
            // A closed polyline that repeats its first point has an edge of no length.
            if apart(from, to) > JOINED_M {
                edges.push(Drawn { from, to, bulge });
            }
        }
    }

    /// Edges in any order and direction, chained to closed contours.
    fn chained(mut edges: Vec<Drawn>) -> Result<Vec<Vec<Vertex>>, Fault> {
        let near = |a: Spot, b: Spot| apart(a, b) <= JOINED_M;
        let mut contours = Vec::new();
        while let Some(first) = edges.pop() {
            let mut contour = vec![Vertex::of(first.from, first.bulge)];
            let mut end = first.to;
            while !near(end, first.from) {
                let Some(index) = edges.iter().position(|e| near(e.from, end) || near(e.to, end)) else {
                    return Err(outline_fault(&OutlineError::Open { at: Point::of(end) }));
                };
                let edge = edges.swap_remove(index);
                let forward = near(edge.from, end);
                let bulge = if forward { edge.bulge } else { 0.0 - edge.bulge };
                contour.push(Vertex::of(end, bulge));
                end = if forward { edge.to } else { edge.from };
            }
            contours.push(contour);
        }
        Ok(contours)
    }

    #[cfg(test)]
    mod tests {
        use super::*;

        /// A drawing in another program's manner: a header with its unit, then entities.
        fn drawing(unit: u8, entities: &str) -> String {
            format!(
                "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1015\n9\n$INSUNITS\n70\n{unit}\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"
            )
        }

        fn line(a: (f64, f64), b: (f64, f64)) -> String {
            format!("0\nLINE\n8\nCUT\n10\n{}\n20\n{}\n11\n{}\n21\n{}\n", a.0, a.1, b.0, b.1)
        }

        fn circle(x: f64, y: f64, r: f64) -> String {
            format!("0\nCIRCLE\n8\nCUT\n10\n{x}\n20\n{y}\n40\n{r}\n")
        }

        #[test]
        fn lines_out_of_order_and_reversed_are_chained_and_circles_are_holes() {
            let text = line((0.0, 0.0), (4.0, 0.0))
                + &line((0.0, 6.0), (4.0, 6.0))
                + &line((4.0, 6.0), (4.0, 0.0))
                + &circle(2.0, 5.0, 0.25)
                + &line((0.0, 0.0), (0.0, 6.0));
            let outline = from_bytes(drawing(1, &text).as_bytes(), "x").unwrap();
            let area = outline.section().area.si() / (0.0254 * 0.0254);
            assert!((area - (24.0 - std::f64::consts::PI * 0.0625)).abs() < 1e-9, "{area}");
            let metric = from_bytes(drawing(4, &text).as_bytes(), "x").unwrap();
            let ratio = outline.section().area.si() / metric.section().area.si();
            assert!((ratio / 25.4_f64.powi(2) - 1.0).abs() < 1e-9);
        }

        #[test]
        fn a_gap_a_missing_unit_and_what_is_not_read_are_told() {
            let open = line((0.0, 0.0), (4.0, 0.0)) + &line((4.0, 0.0), (4.0, 6.0));
            assert!(from_bytes(drawing(1, &open).as_bytes(), "x").unwrap_err().0.contains("it ends at (4.000, 6.000)"));
            assert!(from_bytes(drawing(0, &open).as_bytes(), "x").unwrap_err().1.contains("INSUNITS"));
            let ellipse = "0\nELLIPSE\n8\nCUT\n10\n0\n20\n0\n11\n2\n21\n0\n40\n0.5\n41\n0\n42\n6.28\n";
            assert!(from_bytes(drawing(1, ellipse).as_bytes(), "x").unwrap_err().0.contains("Ellipse"));
            assert!(from_bytes(b"", "x").is_err() && from_bytes(b"garbage\n1\n", "x").is_err());
        }

        #[test]
        fn a_drawing_of_circles_is_a_round_plate_with_holes() {
            let outline =
                from_bytes(drawing(4, &(circle(0.0, 0.0, 150.0) + &circle(0.0, 130.0, 7.0))).as_bytes(), "x").unwrap();
            assert_eq!(outline.holes().len(), 1);
            let area = outline.section().area.si();
            assert!((area / (std::f64::consts::PI * (0.15_f64.powi(2) - 0.007_f64.powi(2))) - 1.0).abs() < 1e-9);
        }

        fn arc(x: f64, y: f64, r: f64, from: f64, to: f64) -> String {
            format!("0\nARC\n8\nCUT\n10\n{x}\n20\n{y}\n40\n{r}\n50\n{from}\n51\n{to}\n")
        }

        fn polyline_of(points: &[(f64, f64, f64)]) -> String {
            let head = format!("0\nLWPOLYLINE\n8\nCUT\n90\n{}\n70\n1\n", points.len());
            points.iter().fold(head, |text, (x, y, bulge)| text + &format!("10\n{x}\n20\n{y}\n42\n{bulge}\n"))
        }

        fn frame() -> String {
            line((0.0, 0.0), (8.0, 0.0))
                + &line((0.0, 6.0), (8.0, 6.0))
                + &line((8.0, 6.0), (8.0, 0.0))
                + &line((0.0, 0.0), (0.0, 6.0))
        }

        /// The same outline by hand, in the frame's inches.
        fn twin(holes: &str) -> Outline {
            let text = format!(
                "schema = \"thickset/outline/1\"\nname = \"x\"\nunit = \"in\"\npoints = [[0, 0], [8, 0], [8, 6], [0, 6]]\n{holes}"
            );
            Outline::from_toml(&crate::source::SourceText::new("twin.toml", text)).unwrap()
        }

        fn same(a: &Outline, b: &Outline) {
            let (a, b) = (a.section(), b.section());
            for (a, b) in [
                (a.area.si(), b.area.si()),
                (a.level.si(), b.level.si()),
                (a.upright.si(), b.upright.si()),
                (a.perimeter.si(), b.perimeter.si()),
                (a.centre.x.si(), b.centre.x.si()),
            ] {
                assert!((a / b - 1.0).abs() < 1e-9, "{a} {b}");
            }
        }

        #[test]
        fn a_slot_of_lines_and_arcs_out_of_order_is_its_twin_by_hand() {
            let text = arc(5.0, 3.0, 0.2, 270.0, 90.0)
                + &line((3.0, 3.2), (5.0, 3.2))
                + &frame()
                + &arc(3.0, 3.0, 0.2, 90.0, 270.0)
                + &line((5.0, 2.8), (3.0, 2.8));
            let drawn = from_bytes(drawing(1, &text).as_bytes(), "x").unwrap();
            let written = twin("[[hole]]\nslot = [[3, 3], [5, 3]]\nwidth = 0.4\n");
            same(&drawn, &written);
            assert_eq!(drawn.inside_corners().len(), written.inside_corners().len());
            assert_eq!(drawn.thin_webs().len(), written.thin_webs().len());
        }

        #[test]
        fn what_is_drawn_on_the_back_of_the_sheet_is_mirrored_and_what_stands_askew_is_refused() {
            let facing = |z: f64, x: f64| format!("210\n{x}\n220\n0\n230\n{z}\n");
            let behind = arc(-5.0, 3.0, 0.2, 90.0, 270.0)
                + &facing(-1.0, 0.0)
                + &line((3.0, 3.2), (5.0, 3.2))
                + &polyline_of(&[(-3.0, 2.8, 1.0), (-3.0, 3.2, 0.0)]).replace("70\n1", "70\n0")
                + &facing(-1.0, 0.0)
                + &line((5.0, 2.8), (3.0, 2.8))
                + &frame();
            let drawn = from_bytes(drawing(1, &behind).as_bytes(), "x").unwrap();
            same(&drawn, &twin("[[hole]]\nslot = [[3, 3], [5, 3]]\nwidth = 0.4\n"));
            let askew = frame() + &circle(4.0, 3.0, 0.5) + &facing(0.7, 0.7);
            assert!(from_bytes(drawing(1, &askew).as_bytes(), "x").unwrap_err().0.contains("flat"));
        }

        #[test]
        fn a_polyline_with_bulges_is_its_twin_by_hand() {
            let points = [(3.0, 2.0, 0.0), (5.0, 2.0, 0.4), (5.0, 4.0, -0.2), (3.0, 4.0, 0.0)];
            let drawn = from_bytes(drawing(1, &(polyline_of(&points) + &frame())).as_bytes(), "x").unwrap();
            same(&drawn, &twin("[[hole]]\npoints = [[3, 2], [5, 2, 0.4], [5, 4, -0.2], [3, 4]]\n"));
        }

        #[test]
        fn a_round_cut_out_is_a_round_hole_however_it_is_drawn() {
            let halves = polyline_of(&[(3.0, 3.0, 1.0), (4.0, 3.0, 1.0)]);
            let whole = arc(3.5, 3.0, 0.5, 0.0, 360.0);
            for text in [halves, whole, circle(3.5, 3.0, 0.5)] {
                let outline = from_bytes(drawing(1, &(text + &frame())).as_bytes(), "x").unwrap();
                assert!(matches!(outline.holes(), [Hole::Round { .. }]), "{:?}", outline.holes());
                assert!(outline.inside_corners().is_empty());
            }
        }

        #[test]
        fn a_second_outline_a_hole_in_a_hole_and_crossing_cut_outs_are_told_with_their_place() {
            for (more, words) in [
                (circle(12.0, 3.0, 1.0), "second outline at (11.000, 3.000)"),
                (circle(4.0, 3.0, 1.0) + &circle(4.0, 3.0, 0.5), "in a cut-out at (3.500, 3.000)"),
                (
                    circle(4.0, 3.0, 1.0) + &circle(5.0, 3.0, 0.5),
                    "the contour at (5.000, 3.000) in meets the contour at (4.000, 3.000)",
                ),
                (circle(8.0, 3.0, 1.0), "the contour at (8.000, 3.000) in meets the outline near (8.000, "),
                (circle(4.0, 3.0, 0.0), "the circle at (4.000, 3.000) in has no size"),
            ] {
                let (message, help) = from_bytes(drawing(1, &(frame() + &more)).as_bytes(), "x").unwrap_err();
                assert!(message.contains(words) && !help.is_empty(), "{message}");
            }
        }

        #[test]
        fn no_bytes_make_the_reader_panic_or_hang() {
            arbtest::arbtest(|u| {
                let mut bytes = drawing(1, &line((0.0, 0.0), (4.0, 0.0))).into_bytes();
                for _ in 0..u.int_in_range(0..=6)? {
                    let at = u.choose_index(bytes.len())?;
                    bytes[at] = u.arbitrary()?;
                }
                let _ = from_bytes(&bytes, "x");
                Ok(())
            })
            .budget_ms(1500);
        }
    }
}
