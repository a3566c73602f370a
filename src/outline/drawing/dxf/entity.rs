//! Entities that are cut, traced as strokes.

use super::super::curve::{Spline, through, traced};
use super::super::{Fault, Sketch};
use super::record::Record;
use crate::flat::{Spot, apart};
use crate::outline::arcs;
use crate::outline::contour::Edge;
use kurbo::Affine;
use std::f64::consts::{PI, TAU};

/// How near to a traced curve its arcs lie, in.
const FIT_IN: f64 = 5e-4;
/// By how much an edge may rise out of the plane, in drawing units for each unit of length.
const FLAT: f64 = 1e-6;
/// The most control points or knots of a spline.
const MAX_CONTROLS: usize = 50_000;

/// Traces entities into a sketch.
pub(super) struct Tracer<'s> {
    pub transform: Affine,
    pub layer: usize,
    pub sketch: &'s mut Sketch,
}

fn moved(transform: &Affine, (x, y): Spot) -> Spot {
    let p = *transform * kurbo::Point::new(x, y);
    (p.x, p.y)
}

/// Whether circles stay circles: 1, or -1 where they turn the other way; `None` where not.
fn sense(transform: &Affine) -> Option<f64> {
    let [a, b, c, d, ..] = transform.as_coeffs();
    let size = a * a + b * b + c * c + d * d;
    let like = (a * c + b * d).abs() <= 1e-9 * size && (a * a + b * b - c * c - d * d).abs() <= 1e-9 * size;
    like.then_some(if a * d - b * c < 0.0 { -1.0 } else { 1.0 })
}

/// What has no length.
const NO_SIZE: &str = "without size";

impl Tracer<'_> {
    pub fn trace(&mut self, record: &Record) -> Result<(), Fault> {
        let drawn = match record.name.as_str() {
            "LINE" => self.line(record),
            "ARC" | "CIRCLE" => self.arc(record),
            "ELLIPSE" => self.ellipse(record),
            "SPLINE" => self.spline(record),
            "LWPOLYLINE" => self.light_polyline(record),
            _ => self.polyline(record),
        }?;
        match drawn {
            None => Ok(()),
            // A point's worth of a line cuts nothing.
            Some(why) if why == NO_SIZE => {
                self.sketch.left_out.add(super::plain_name(&record.name), why);
                Ok(())
            }
            Some(why) => Err(super::unread(&format!("a `{}`", record.name), &format!("is {why}"))),
        }
    }

    /// A run of lines and arcs in a plane.
    fn run(&mut self, plane: Affine, points: &[(Spot, f64)], closed: bool) -> Result<(), Fault> {
        let transform = self.transform * plane;
        let points = if let Some(sense) = sense(&transform) {
            let halves = |&(at, bulge): &(Spot, f64)| (moved(&transform, at), sense * bulge);
            points.iter().map(halves).collect()
        } else {
            bent(&transform, points, closed)
        };
        self.sketch.stroke(points, closed, self.layer)
    }

    /// A curve by its trace; closed where it ends as it begins.
    fn curve(&mut self, at: &impl Fn(f64) -> Spot, breaks: &[f64]) -> Result<(), Fault> {
        let transform = self.transform;
        let points = traced(&|t| moved(&transform, at(t)), breaks, 4);
        let fits = arcs::fitted(&points, FIT_IN);
        self.sketch.stroke(fits, false, self.layer)
    }

    fn line(&mut self, record: &Record) -> Result<Option<&'static str>, Fault> {
        let (Some(from), Some(to)) = (record.place(10)?, record.place(11)?) else { return Ok(Some("without ends")) };
        let length = apart((from.0, from.1), (to.0, to.1));
        if (from.2 - to.2).abs() > FLAT * length.max(1e-3) {
            return Ok(Some("out of the drawing's plane"));
        }
        self.run(Affine::IDENTITY, &[((from.0, from.1), 0.0), ((to.0, to.1), 0.0)], false)?;
        Ok(None)
    }

    fn arc(&mut self, record: &Record) -> Result<Option<&'static str>, Fault> {
        let (Some((x, y, _)), Some(radius)) = (record.place(10)?, record.real(40)?) else {
            return Ok(Some("without a centre or radius"));
        };
        let Some(plane) = record.plane()? else { return Ok(Some("out of the drawing's plane")) };
        if !(radius > 0.0) {
            return Ok(Some(NO_SIZE));
        }
        let (start, sweep) = match (record.real(50)?, record.real(51)?) {
            (Some(from), Some(to)) if record.name == "ARC" => {
                let sweep = (to - from).rem_euclid(360.0);
                (from.to_radians(), if (1e-9..=360.0 - 1e-9).contains(&sweep) { sweep.to_radians() } else { TAU })
            }
            _ => (0.0, TAU),
        };
        let closed = sweep >= TAU;
        let pieces = if sweep > PI { 2.0 } else { 1.0 };
        let bulge = (0.25 * sweep / pieces).tan();
        let at = |share: f64| {
            let (sin, cos) = (start + share * sweep).sin_cos();
            (x + radius * cos, y + radius * sin)
        };
        let mut points = vec![(at(0.0), bulge)];
        if pieces > 1.0 {
            points.push((at(0.5), bulge));
        }
        if !closed {
            points.push((at(1.0), 0.0));
        }
        self.run(plane, &points, closed)?;
        Ok(None)
    }

    fn ellipse(&mut self, record: &Record) -> Result<Option<&'static str>, Fault> {
        let (Some(centre), Some(major), Some(ratio)) = (record.place(10)?, record.place(11)?, record.real(40)?) else {
            return Ok(Some("without a centre or axis"));
        };
        let Some(up) = record.looks()? else { return Ok(Some("out of the drawing's plane")) };
        let size = major.0.hypot(major.1);
        if !(size > 0.0 && ratio.abs() > 0.0) || major.2.abs() > FLAT * size {
            return Ok(Some(NO_SIZE));
        }
        let start = record.real(41)?.unwrap_or(0.0);
        let mut sweep = (record.real(42)?.unwrap_or(TAU) - start).rem_euclid(TAU);
        if !(1e-9..=TAU - 1e-6).contains(&sweep) {
            sweep = TAU;
        }
        let minor = (-up * major.1 * ratio, up * major.0 * ratio);
        let at = move |t: f64| {
            let (sin, cos) = (start + t * sweep).sin_cos();
            (centre.0 + cos * major.0 + sin * minor.0, centre.1 + cos * major.1 + sin * minor.1)
        };
        self.curve(&at, &[0.0, 0.25, 0.5, 0.75, 1.0])?;
        Ok(None)
    }

    fn spline(&mut self, record: &Record) -> Result<Option<&'static str>, Fault> {
        let controls = places(record, 10)?;
        let fits = places(record, 11)?;
        let numbers = |code: i32| record.all(code).map(super::pairs::Pair::real).collect::<Result<Vec<f64>, Fault>>();
        let (knots, weights) = (numbers(40)?, numbers(41)?);
        if controls.len().max(knots.len()).max(fits.len()) > MAX_CONTROLS {
            return Err((format!("a spline has more than {MAX_CONTROLS} points"), "thin it out".into()));
        }
        let heights =
            record.all(30).chain(record.all(31)).map(super::pairs::Pair::real).collect::<Result<Vec<_>, _>>()?;
        let span = |v: &mut dyn Iterator<Item = f64>| {
            let (low, high) = v.fold((f64::INFINITY, f64::NEG_INFINITY), |a, b| (a.0.min(b), a.1.max(b)));
            (high - low).max(0.0)
        };
        let width = span(&mut controls.iter().chain(&fits).map(|p| p.0))
            .max(span(&mut controls.iter().chain(&fits).map(|p| p.1)));
        if span(&mut heights.into_iter()) > FLAT * width {
            return Ok(Some("out of the drawing's plane"));
        }
        let degree = usize::try_from(record.whole(71)?.unwrap_or(3)).unwrap_or(0);
        // Weights that no curve has are as if not given.
        let weights = if weights.len() == controls.len() { weights } else { Vec::new() };
        let spline = Spline { degree, knots, controls, weights };
        if spline.is_whole() {
            self.curve(&|t| spline.at(t), &spline.breaks())?;
            return Ok(None);
        }
        let direction = |code: i32| record.place(code).map(|d| d.map(|(x, y, _)| (x, y)));
        let mut points = fits;
        let closed = record.whole(70)?.unwrap_or(0) & 1 != 0;
        if closed && points.len() > 2 && apart(points[0], points[points.len() - 1]) > 1e-9 {
            points.push(points[0]);
        }
        let Some(at) = through(&points, [direction(12)?, direction(13)?], closed) else {
            return Ok(Some("without points"));
        };
        let pieces = points.len().max(2) - 1;
        let breaks: Vec<f64> = (0..=pieces).map(|i| i as f64 / pieces as f64).collect();
        self.curve(&at, &breaks)?;
        Ok(None)
    }

    fn light_polyline(&mut self, record: &Record) -> Result<Option<&'static str>, Fault> {
        let Some(plane) = record.plane()? else { return Ok(Some("out of the drawing's plane")) };
        let mut points: Vec<(Spot, f64)> = Vec::new();
        for pair in record.pairs() {
            match (pair.code, points.last_mut()) {
                (10, _) => points.push(((pair.real()?, 0.0), 0.0)),
                (20, Some(last)) => last.0.1 = pair.real()?,
                (42, Some(last)) => last.1 = pair.real()?,
                _ => {}
            }
        }
        self.width(record)?;
        let closed = record.whole(70)?.unwrap_or(0) & 1 != 0;
        self.run(plane, &points, closed)?;
        Ok(None)
    }

    /// The width that a line is drawn with: it is cut along its middle.
    fn width(&mut self, record: &Record) -> Result<(), Fault> {
        for pair in record.pairs().iter().filter(|pair| matches!(pair.code, 40 | 41 | 43)) {
            if pair.real()? > 0.0 {
                self.sketch.left_out.add("line width", "");
                break;
            }
        }
        Ok(())
    }

    fn polyline(&mut self, record: &Record) -> Result<Option<&'static str>, Fault> {
        let flags = record.whole(70)?.unwrap_or(0);
        if flags & (16 | 64) != 0 {
            return Ok(Some("a mesh"));
        }
        self.width(record)?;
        let spatial = flags & 8 != 0;
        let Some(plane) = (if spatial { Some(Affine::IDENTITY) } else { record.plane()? }) else {
            return Ok(Some("out of the drawing's plane"));
        };
        let (mut points, mut frame, mut heights) = (Vec::new(), Vec::new(), Vec::new());
        for vertex in &record.vertices {
            let Some((x, y, z)) = vertex.place(10)? else { continue };
            heights.push(z);
            let bulge = if spatial { 0.0 } else { vertex.real(42)?.unwrap_or(0.0) };
            // A frame vertex steers a curve that the others follow.
            if vertex.whole(70)?.unwrap_or(0) & 16 != 0 {
                frame.push((x, y));
            } else {
                points.push(((x, y), bulge));
            }
        }
        let rise = heights.iter().fold(f64::NEG_INFINITY, |a, b| a.max(*b))
            - heights.iter().fold(f64::INFINITY, |a, b| a.min(*b));
        if spatial && rise > 1e-6 {
            return Ok(Some("out of the drawing's plane"));
        }
        let closed = flags & 1 != 0;
        if points.is_empty() && flags & 4 != 0 {
            return self.framed(plane, &frame, closed, record.whole(75)?.unwrap_or(6));
        }
        points.extend(frame.into_iter().filter(|_| flags & 4 == 0).map(|p| (p, 0.0)));
        self.run(plane, &points, closed)?;
        if let (true, Some(last)) = (flags & 4 != 0, self.sketch.strokes.last_mut()) {
            last.chords = true;
        }
        Ok(None)
    }

    /// The curve that a frame steers, where its own points are not there: a B-spline of even knots.
    fn framed(
        &mut self,
        plane: Affine,
        frame: &[Spot],
        closed: bool,
        kind: i64,
    ) -> Result<Option<&'static str>, Fault> {
        let degree = if kind == 5 { 2 } else { 3 };
        let (n, mut controls) = (frame.len(), frame.to_vec());
        let knots: Vec<f64> = if closed {
            controls.extend(frame.iter().cycle().take(if n == 0 { 0 } else { degree }));
            (0..=(controls.len() + degree)).map(|i| i as f64).collect()
        } else {
            let inner = n.saturating_sub(degree);
            let knot = |i: usize| i.saturating_sub(degree).min(inner) as f64;
            (0..=(n + degree)).map(knot).collect()
        };
        let spline = Spline { degree, knots, controls, weights: Vec::new() };
        if !spline.is_whole() {
            return Ok(Some("without points"));
        }
        let outer = std::mem::replace(&mut self.transform, Affine::IDENTITY);
        self.transform = outer * plane;
        let drawn = self.curve(&|t| spline.at(t), &spline.breaks());
        self.transform = outer;
        drawn.map(|()| None)
    }
}

/// All places of a code.
fn places(record: &Record, code: i32) -> Result<Vec<Spot>, Fault> {
    let mut places: Vec<Spot> = Vec::new();
    for pair in record.pairs() {
        if pair.code == code {
            places.push((pair.real()?, 0.0));
        } else if pair.code == code + 10
            && let Some(last) = places.last_mut()
        {
            last.1 = pair.real()?;
        }
    }
    Ok(places)
}

/// A run whose arcs become parts of ellipses.
fn bent(transform: &Affine, points: &[(Spot, f64)], closed: bool) -> Vec<(Spot, f64)> {
    let n = points.len();
    let mut bent = Vec::new();
    for (i, &(from, bulge)) in points.iter().enumerate() {
        let last = i + 1 == n && !closed;
        if bulge == 0.0 || last {
            bent.push((moved(transform, from), 0.0));
            continue;
        }
        let edge = Edge { from, to: points[(i + 1) % n].0, bulge };
        let mut fits = arcs::fitted(&traced(&|t| moved(transform, edge.at(t)), &[0.0, 1.0], 8), FIT_IN);
        fits.pop();
        bent.append(&mut fits);
    }
    bent
}
