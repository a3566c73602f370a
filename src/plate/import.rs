//! Outlines from drawings: DXF as a cutting shop has it, lines, arcs, circles and polylines with bulges, in
//! any order, in inches or millimetres.

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
    use crate::plate::outline::{Hole, MOST_POINTS, Outline, OutlineError, Vertex};
    use crate::plate::section::Section;
    use crate::source::{Diagnostic, MAX_FILE_BYTES};
    use dxf::Drawing;
    use dxf::entities::{Entity, EntityType};
    use dxf::enums::Units;
    use std::path::Path;

    /// Ends nearer than this are one point, m.
    const JOINED_M: f64 = 2e-5;
    /// How near to a circle an inner contour comes to be a round hole.
    const ROUND: f64 = 1e-4;

    /// An edge as drawn: from, to, and the bulge between.
    #[derive(Clone, Copy)]
    struct Drawn {
        from: (f64, f64),
        to: (f64, f64),
        bulge: f64,
    }

    /// Reads a drawing: the largest closed contour is the outline, circles within are holes.
    pub fn read(path: &Path) -> Result<Outline, Diagnostic> {
        let name = path.display().to_string();
        let fault = |message: String, help: &str| Diagnostic::plain(format!("`{name}`: {message}")).help(help);
        let size = std::fs::metadata(path).map_err(|e| fault(e.to_string(), "check the file name"))?.len();
        if size > MAX_FILE_BYTES {
            return Err(fault("the drawing is larger than 16 MiB".into(), "keep the outline alone in it"));
        }
        let bytes = std::fs::read(path).map_err(|e| fault(e.to_string(), "check the file"))?;
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
        let mut edges = Vec::new();
        let mut holes = Vec::new();
        for entity in drawing.entities() {
            take(entity, metres, &mut edges, &mut holes)?;
            if edges.len() + holes.len() > MOST_POINTS {
                return Err((format!("the drawing has more than {MOST_POINTS} edges"), "thin the outline out".into()));
            }
        }
        let mut outer = chained(edges)?
            .into_iter()
            .map(|contour| Outline::new(title, contour, Vec::new(), Vec::new()).map_err(|e| outline_fault(&e)))
            .collect::<Result<Vec<_>, _>>()?;
        outer.extend(circles(&mut holes, title, outer.is_empty())?);
        outer.sort_by(|a, b| Section::of_outline(b).area.total_cmp(&Section::of_outline(a).area));
        let mut contours = outer.into_iter();
        let outline = contours.next().ok_or_else(|| {
            ("the drawing has no closed contour".to_owned(), "draw lines, arcs, circles or polylines".to_owned())
        })?;
        for inner in contours {
            holes.push(round(&inner)?);
        }
        Outline::new(title, outline.contour().to_vec(), holes, Vec::new()).map_err(|e| outline_fault(&e))
    }

    /// A drawing of circles only: the largest is the plate.
    fn circles(holes: &mut Vec<Hole>, title: &str, alone: bool) -> Result<Vec<Outline>, Fault> {
        if !alone || holes.is_empty() {
            return Ok(Vec::new());
        }
        holes.sort_by(|a, b| b.diameter.total_cmp(&a.diameter));
        let plate = holes.remove(0);
        let contour = crate::plate::section::circle(plate.x, plate.y, plate.diameter);
        Ok(vec![Outline::new(title, contour, Vec::new(), Vec::new()).map_err(|e| outline_fault(&e))?])
    }

    /// An inner contour as the round hole it must be.
    fn round(inner: &Outline) -> Result<Hole, Fault> {
        let section = Section::of_outline(inner);
        let round = section.perimeter * section.perimeter / (4.0 * std::f64::consts::PI * section.area);
        if (round - 1.0).abs() > ROUND {
            let (x, y) = (section.centre.0 / 0.0254, section.centre.1 / 0.0254);
            let help = "only round holes are read: leave other cut-outs off the drawing";
            return Err((format!("the cut-out at ({x:.3}, {y:.3}) in is not round"), help.into()));
        }
        Ok(Hole {
            x: section.centre.0,
            y: section.centre.1,
            diameter: 2.0 * (section.area / std::f64::consts::PI).sqrt(),
        })
    }

    fn take(entity: &Entity, metres: f64, edges: &mut Vec<Drawn>, holes: &mut Vec<Hole>) -> Result<(), Fault> {
        let scaled = |x: f64, y: f64| (x * metres, y * metres);
        match &entity.specific {
            EntityType::Line(line) => {
                edges.push(Drawn { from: scaled(line.p1.x, line.p1.y), to: scaled(line.p2.x, line.p2.y), bulge: 0.0 });
            }
            EntityType::Arc(arc) => {
                let at = |degrees: f64| {
                    let (sin, cos) = degrees.to_radians().sin_cos();
                    scaled(arc.center.x + arc.radius * cos, arc.center.y + arc.radius * sin)
                };
                let sweep = (arc.end_angle - arc.start_angle).rem_euclid(360.0);
                // Two halves keep every bulge finite.
                let middle = arc.start_angle + 0.5 * sweep;
                let bulge = (sweep.to_radians() / 8.0).tan();
                edges.push(Drawn { from: at(arc.start_angle), to: at(middle), bulge });
                edges.push(Drawn { from: at(middle), to: at(arc.start_angle + sweep), bulge });
            }
            EntityType::Circle(circle) => {
                let (x, y) = scaled(circle.center.x, circle.center.y);
                holes.push(Hole { x, y, diameter: 2.0 * circle.radius * metres });
            }
            EntityType::LwPolyline(line) => {
                let points: Vec<Vertex> =
                    line.vertices.iter().map(|v| Vertex { x: v.x, y: v.y, bulge: v.bulge }).collect();
                polyline(&points, line.is_closed(), metres, edges);
            }
            EntityType::Polyline(line) => {
                let points: Vec<Vertex> =
                    line.vertices().map(|v| Vertex { x: v.location.x, y: v.location.y, bulge: v.bulge }).collect();
                polyline(&points, line.is_closed(), metres, edges);
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

    fn polyline(points: &[Vertex], closed: bool, metres: f64, edges: &mut Vec<Drawn>) {
        let n = points.len();
        for i in 0..if closed { n } else { n.saturating_sub(1) } {
            let (a, b) = (points[i], points[(i + 1) % n]);
            let edge = Drawn { from: (a.x * metres, a.y * metres), to: (b.x * metres, b.y * metres), bulge: a.bulge };
            // A closed polyline that repeats its first point has an edge of no length.
            if (edge.from.0 - edge.to.0).hypot(edge.from.1 - edge.to.1) > JOINED_M {
                edges.push(edge);
            }
        }
    }

    /// Edges in any order and direction, chained to closed contours.
    fn chained(mut edges: Vec<Drawn>) -> Result<Vec<Vec<Vertex>>, Fault> {
        let near = |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).hypot(a.1 - b.1) <= JOINED_M;
        let mut contours = Vec::new();
        while let Some(first) = edges.pop() {
            let mut contour = vec![Vertex { x: first.from.0, y: first.from.1, bulge: first.bulge }];
            let mut end = first.to;
            while !near(end, first.from) {
                let Some(index) = edges.iter().position(|e| near(e.from, end) || near(e.to, end)) else {
                    return Err(outline_fault(&OutlineError::Open { x: end.0 / 0.0254, y: end.1 / 0.0254 }));
                };
                let edge = edges.swap_remove(index);
                let forward = near(edge.from, end);
                let bulge = if forward { edge.bulge } else { 0.0 - edge.bulge };
                contour.push(Vertex { x: end.0, y: end.1, bulge });
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
            let area = Section::of_outline(&outline).area / (0.0254 * 0.0254);
            assert!((area - (24.0 - std::f64::consts::PI * 0.0625)).abs() < 1e-9, "{area}");
            let metric = from_bytes(drawing(4, &text).as_bytes(), "x").unwrap();
            let ratio = Section::of_outline(&outline).area / Section::of_outline(&metric).area;
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
            let area = Section::of_outline(&outline).area;
            assert!((area / (std::f64::consts::PI * (0.15_f64.powi(2) - 0.007_f64.powi(2))) - 1.0).abs() < 1e-9);
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
