//! How a face is cut from a sheet: the plan, and how many it gives.
//!
//! Rounds lie in square, staggered or stretched rows, rectangles in rows of both ways round, outlines on a lattice
//! (`nest.rs`). What is told is a plan that can be drawn; nobody's nesting program is beaten by it.

use super::least::least_box;
use super::nest;
use crate::flat::{Room, Spots};
use crate::plate::{Face, Outline, Section, two_sizes};
use crate::quantity::{Angle, Area, Length, Measure, unit};

/// Room that a cut takes and leaves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cutting {
    /// Width of the cut.
    pub kerf: Length,
    /// Steel left between two cuts.
    pub web: Length,
    /// Steel left along the sheet's edge.
    pub margin: Length,
    /// The sheet that it is cut from.
    pub sheet: Sheet,
}

impl Default for Cutting {
    /// 0.06 in kerf, 0.19 in web, 0.25 in margin (house assumption), and the trade's sheet.
    fn default() -> Self {
        let inch = |size| unit::INCH.of(size);
        Self { kerf: inch(0.06), web: inch(0.19), margin: inch(0.25), sheet: Sheet::default() }
    }
}

impl Cutting {
    /// Between two plates, each cut on its outside, lie a kerf, the web, and a kerf; m.
    pub(super) fn gap(&self) -> f64 {
        (2.0 * self.kerf + self.web).si()
    }

    /// Between the sheet's edge and a plate, m.
    pub(super) fn inset(&self) -> f64 {
        (self.margin + self.kerf).si()
    }
}

/// A whole sheet of plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sheet {
    /// Its longer side.
    pub length: Length,
    /// Its shorter side.
    pub breadth: Length,
}

impl Default for Sheet {
    /// The trade's 4 × 8 ft.
    fn default() -> Self {
        Self { length: unit::FOOT.of(8.0), breadth: unit::FOOT.of(4.0) }
    }
}

impl Sheet {
    /// The shortest side that is taken, m.
    const MIN_M: f64 = 0.3;
    /// The longest sheet that is taken, m: 20 ft and a little.
    const MAX_LENGTH_M: f64 = 6.2;
    /// The broadest, m: 10 ft and a little.
    const MAX_BREADTH_M: f64 = 3.1;

    /// Reads `4 x 8 ft`, `1500 x 3000 mm`, whichever side stands first; none of what is no sheet, or too small or large.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let (a, b) = two_sizes(text)?.ok()?;
        let sheet = Self { length: if a > b { a } else { b }, breadth: if a > b { b } else { a } };
        let is_taken = sheet.breadth.si() >= Self::MIN_M
            && sheet.breadth.si() <= Self::MAX_BREADTH_M
            && sheet.length.si() <= Self::MAX_LENGTH_M;
        is_taken.then_some(sheet)
    }
}

/// A part of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// All of it.
    Full,
    /// Half its length.
    Half,
    /// Half its length and half its breadth.
    Quarter,
}

impl Part {
    /// Every part, large to small.
    pub const ALL: [Self; 3] = [Self::Full, Self::Half, Self::Quarter];

    /// Of a sheet, the longer side first.
    #[must_use]
    pub fn of(self, sheet: Sheet) -> Sheet {
        let (a, b) = match self {
            Self::Full => (sheet.length, sheet.breadth),
            Self::Half => (0.5 * sheet.length, sheet.breadth),
            Self::Quarter => (0.5 * sheet.length, 0.5 * sheet.breadth),
        };
        Sheet { length: if a > b { a } else { b }, breadth: if a > b { b } else { a } }
    }
}

impl Sheet {
    /// Its area.
    #[must_use]
    pub fn area(self) -> Area {
        self.length * self.breadth
    }
}

/// A plate on a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placement {
    /// Centre of the plate's bounds as it is turned, along the sheet's length and breadth from its lower left.
    pub at: (Length, Length),
    /// The place that its contours turn about: where the centre of its bounds, as it is drawn upright, lies then.
    pub pivot: (Length, Length),
    /// How far it is turned, counterclockwise.
    pub turned: Angle,
}

/// How a face lies on a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct CutPlan {
    /// The part of a sheet.
    pub part: Part,
    /// That part's own sides.
    pub sheet: Sheet,
    /// The plates, in rows.
    pub pieces: Vec<Placement>,
}

impl CutPlan {
    /// How many plates it gives.
    #[must_use]
    pub fn count(&self) -> u32 {
        u32::try_from(self.pieces.len()).unwrap_or(u32::MAX)
    }

    /// Share of the sheet that becomes plates.
    #[must_use]
    pub fn utilisation(&self, face: &Face) -> f64 {
        f64::from(self.count()) * (face.area() / self.sheet.area()).si()
    }
}

/// How a face is cut from a full, a half and a quarter sheet: the most plates that are found.
#[must_use]
pub fn plans(face: &Face, cutting: &Cutting) -> [CutPlan; 3] {
    let rooms = Part::ALL.map(|part| room(part, cutting));
    let spots = match face {
        Face::Round(diameter) => rooms.map(|room| rounds(diameter.si(), room)),
        Face::Rectangle(width, height) => rooms.map(|room| rectangles([width.si(), height.si()], room)),
        Face::Outline(outline) => outlines(outline, face, rooms),
    };
    let inset = cutting.inset();
    // A plan knows few turns.
    let mut known: Vec<(f64, [f64; 2])> = Vec::new();
    let mut off = |turned: f64| {
        let Face::Outline(outline) = face else { return [0.0, 0.0] };
        if let Some((_, off)) = known.iter().find(|(angle, _)| angle.to_bits() == turned.to_bits()) {
            return *off;
        }
        let off = nest::off_centre(outline.contour(), turned);
        known.push((turned, off));
        off
    };
    let mut piece = |([x, y], turned): ([f64; 2], f64)| {
        let (at, [dx, dy]) = ([x + inset, y + inset], off(turned));
        Placement {
            at: (Length::from_si(at[0]), Length::from_si(at[1])),
            pivot: (Length::from_si(at[0] - dx), Length::from_si(at[1] - dy)),
            turned: Angle::from_si(turned),
        }
    };
    let mut parts = Part::ALL.into_iter();
    spots.map(|spots| {
        let part = parts.next().unwrap_or(Part::Full);
        CutPlan { part, sheet: part.of(cutting.sheet), pieces: spots.into_iter().map(&mut piece).collect() }
    })
}

/// The room of a part of the sheet.
pub(super) fn room(part: Part, cutting: &Cutting) -> Room {
    let sheet = part.of(cutting.sheet);
    let inset = 2.0 * cutting.inset();
    Room { size: [sheet.length.si() - inset, sheet.breadth.si() - inset], gap: cutting.gap() }
}

/// The plan along the sheet or across it that gives more.
fn best_of_both_ways(room: Room, turn: f64, lay: impl Fn(Room) -> Spots) -> Spots {
    let (along, across) = (lay(room), lay(room.turned()));
    if across.len() > along.len() {
        // Seen from the other side of the diagonal: a plate's rows become columns, and its turn goes with them.
        across.into_iter().map(|([x, y], turned)| ([y, x], turn - turned)).collect()
    } else {
        along
    }
}

/// An outline that is a circle lies as one, every other on a lattice of itself or in its box, whatever gives more.
fn outlines(outline: &Outline, face: &Face, rooms: [Room; 3]) -> [Spots; 3] {
    let bounds = Section::of(face).bounds;
    let size = [bounds.width().si(), bounds.height().si()];
    if nest::is_circle(outline.contour()) {
        return rooms.map(|room| rounds(size[0], room));
    }
    let (turn, least) = least_box(outline.contour());
    let mut nested = nest::lay(outline.contour(), turn, &rooms).into_iter();
    rooms.map(|room| {
        let mut boxed = rectangles(least, room);
        boxed.iter_mut().for_each(|(_, angle)| *angle += turn);
        let nested = nested.next().unwrap_or_default();
        if nested.len() > boxed.len() { nested } else { boxed }
    })
}

/// Rows of plates the one way round, then rows of the other.
fn rectangles(size: [f64; 2], room: Room) -> Spots {
    best_of_both_ways(room, std::f64::consts::FRAC_PI_2, |room| mixed_rows(size, room))
}

fn mixed_rows([width, height]: [f64; 2], room: Room) -> Spots {
    let upright = [width, height, 0.0];
    let lying = [height, width, std::f64::consts::FRAC_PI_2];
    let mut best = Spots::new();
    for upright_rows in 0..=room.along(1, height) {
        let taken = upright_rows as f64 * (height + room.gap);
        let rest = Room { size: [room.size[0], room.size[1] - taken], ..room };
        let mut spots = rows(upright, upright_rows, 0.0, room);
        spots.extend(rows(lying, rest.along(1, width), taken, room));
        if spots.len() > best.len() {
            best = spots;
        }
    }
    best
}

/// Rows of boxes with a turn, from a height up.
fn rows([width, height, turned]: [f64; 3], count: usize, from: f64, room: Room) -> Spots {
    let mut spots = Spots::new();
    for row in 0..count {
        for column in 0..room.along(0, width) {
            let x = column as f64 * (width + room.gap) + 0.5 * width;
            let y = from + row as f64 * (height + room.gap) + 0.5 * height;
            spots.push(([x, y], turned));
        }
    }
    spots
}

fn rounds(diameter: f64, room: Room) -> Spots {
    if room.size.iter().any(|&side| diameter > side * (1.0 + 1e-9)) {
        return Spots::new();
    }
    best_of_both_ways(room, 0.0, |room| round_rows(diameter, room))
}

/// Rows along the room: square ones, and staggered ones as wide as the room, which lie the nearer to each other the
/// wider they are.
fn round_rows(diameter: f64, room: Room) -> Spots {
    let pitch = diameter + room.gap;
    let free = (room.size[0] - diameter).max(0.0);
    let square = room.along(0, diameter) * room.along(1, diameter);
    let staggers = (1..=room.along(0, diameter)).flat_map(|in_row| {
        let between = in_row as f64 - 1.0;
        // Every second row as long as the first, or one shorter.
        let alike = Stagger { step: free / (between + 0.5), in_row: [in_row, in_row], diameter, pitch };
        [alike, Stagger { step: free / between.max(1.0), in_row: [in_row, in_row - 1], ..alike }]
    });
    match staggers.max_by_key(|stagger| stagger.count(room)).filter(|stagger| stagger.count(room) > square) {
        Some(stagger) => stagger.lay(room),
        None => rows([diameter, diameter, 0.0], room.along(1, diameter), 0.0, room),
    }
}

/// Rows whose plates stand a step apart, every second one moved by half of it.
#[derive(Debug, Clone, Copy)]
struct Stagger {
    step: f64,
    in_row: [usize; 2],
    diameter: f64,
    /// Between the centres of two plates that lie as near as they may.
    pitch: f64,
}

impl Stagger {
    /// From row to row: as near as the neighbour half a step aside allows, and every second row above the first.
    fn apart(&self) -> f64 {
        let aside = 0.5 * self.step;
        (self.pitch * self.pitch - aside * aside).max(0.0).sqrt().max(0.5 * self.pitch)
    }

    /// How many rows there are; none where two in a row would lie too near.
    fn rows(&self, room: Room) -> usize {
        if self.in_row[0] > 1 && self.step < self.pitch * (1.0 - 1e-12) {
            return 0;
        }
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // A sheet holds few rows.
        let more = ((room.size[1] - self.diameter).max(0.0) / self.apart() + 1e-9).floor() as usize;
        1 + more
    }

    fn count(&self, room: Room) -> usize {
        let rows = self.rows(room);
        rows.div_ceil(2) * self.in_row[0] + rows / 2 * self.in_row[1]
    }

    fn lay(&self, room: Room) -> Spots {
        let mut spots = Spots::new();
        for row in 0..self.rows(room) {
            let aside = if row % 2 == 1 { 0.5 * self.step } else { 0.0 };
            for column in 0..self.in_row[row % 2] {
                let x = 0.5 * self.diameter + column as f64 * self.step + aside;
                spots.push(([x, 0.5 * self.diameter + row as f64 * self.apart()], 0.0));
            }
        }
        spots
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plan(face: &Face, part: Part, cutting: &Cutting) -> CutPlan {
        plans(face, cutting).into_iter().find(|plan| plan.part == part).unwrap()
    }

    fn count(face: &Face, part: Part, cutting: &Cutting) -> u32 {
        plan(face, part, cutting).count()
    }

    fn cutting(inches: f64) -> Cutting {
        let none = unit::INCH.of(0.0);
        Cutting { kerf: unit::INCH.of(inches), web: none, margin: none, ..Cutting::default() }
    }

    fn round(inches: f64) -> Face {
        Face::round(unit::INCH.of(inches)).unwrap()
    }

    fn rectangle(w: f64, h: f64) -> Face {
        Face::rectangle(unit::INCH.of(w), unit::INCH.of(h)).unwrap()
    }

    /// Plates as boxes, or as circles, keep their gaps and stay within the margin.
    fn check(face: &Face, part: Part, cutting: &Cutting) -> u32 {
        let plan = plan(face, part, cutting);
        let Sheet { length, breadth } = plan.sheet;
        let bounds = Section::of(face).bounds;
        let size = [bounds.width().si(), bounds.height().si()];
        let half = |piece: &Placement| {
            let turned = piece.turned.si().sin().abs() > 0.5;
            if turned { [0.5 * size[1], 0.5 * size[0]] } else { [0.5 * size[0], 0.5 * size[1]] }
        };
        for (i, a) in plan.pieces.iter().enumerate() {
            let (h, at) = (half(a), [a.at.0.si(), a.at.1.si()]);
            for axis in 0..2 {
                let side = [length.si(), breadth.si()][axis];
                let inside = cutting.inset() - 1e-8..=side - cutting.inset() + 1e-8;
                assert!(
                    inside.contains(&(at[axis] - h[axis])) && inside.contains(&(at[axis] + h[axis])),
                    "{face} {a:?}"
                );
            }
            for b in &plan.pieces[..i] {
                let (k, there) = (half(b), [b.at.0.si(), b.at.1.si()]);
                let apart = [at[0] - there[0], at[1] - there[1]].map(f64::abs);
                let gap = if matches!(face, Face::Round(_)) {
                    apart[0].hypot(apart[1]) - size[0]
                } else {
                    (apart[0] - h[0] - k[0]).max(apart[1] - h[1] - k[1])
                };
                assert!(gap >= cutting.gap() - 1e-8, "{face}: {a:?} {b:?} {gap}");
            }
        }
        plan.count()
    }

    #[test]
    fn sheets_give_what_is_printed() {
        // Computed by coordinates, with 0.06 in kerf, 0.19 in web and 0.25 in margin.
        for (face, expected) in
            [(rectangle(18.0, 24.0), 8), (rectangle(10.0, 16.0), 24), (rectangle(8.0, 12.0), 40), (round(18.0), 12)]
        {
            assert_eq!(check(&face, Part::Full, &Cutting::default()), expected, "{face}");
        }
    }

    #[test]
    fn a_sheet_is_read_by_either_side_and_its_parts_are_halves() {
        let metric = Sheet::parse("1500 x 3000 mm").unwrap();
        assert_eq!(Sheet::parse("3m×1.5m"), Some(metric));
        assert_eq!(Sheet::parse("4x8ft"), Some(Sheet::default()));
        for text in ["3000 mm", "1500 x 3000", "0 x 8 ft", "-4 x 8 ft", "1500 x 30000 mm", "4 x 8 lb", "x"] {
            assert_eq!(Sheet::parse(text), None, "{text}");
        }
        let sides = |part: Part| [part.of(metric).length.si(), part.of(metric).breadth.si()];
        assert_eq!(Part::ALL.map(sides), [[3.0, 1.5], [1.5, 1.5], [1.5, 0.75]]);
        // A narrow one: half of its length is the shorter side.
        let narrow = Sheet::parse("1000 x 1500 mm").unwrap();
        assert_eq!([Part::Half.of(narrow).length.si(), Part::Half.of(narrow).breadth.si()], [1.0, 0.75]);
    }

    #[test]
    fn a_larger_sheet_gives_more() {
        let metric = Cutting { sheet: Sheet::parse("1500 x 3000 mm").unwrap(), ..Cutting::default() };
        let face = Face::round(unit::MILLIMETRE.of(300.0)).unwrap();
        let counted: Vec<u32> = Part::ALL.iter().map(|part| check(&face, *part, &metric)).collect();
        // Nine by four in rows, and one row more of eight by staggering.
        assert_eq!(counted[0], 45, "{counted:?}");
        assert!(check(&face, Part::Full, &Cutting::default()) < counted[0]);
        let plan = plan(&face, Part::Full, &metric);
        let share = f64::from(plan.count()) * face.area().si() / 4.5;
        assert!((plan.utilisation(&face) - share).abs() < 1e-12);
    }

    #[test]
    fn no_plan_overlaps_or_leaves_its_sheet() {
        for part in Part::ALL {
            for size in 2..=24 {
                let size = f64::from(size);
                for cutting in [Cutting::default(), cutting(0.0), cutting(0.3)] {
                    check(&round(size), part, &cutting);
                    check(&rectangle(size, 1.37 * size + 0.5), part, &cutting);
                    check(&rectangle(2.9 * size, size), part, &cutting);
                }
            }
        }
    }

    #[test]
    fn a_rectangle_counts_alike_whichever_side_is_named_first() {
        for (w, h) in [(18.0, 24.0), (10.0, 16.0), (5.0, 31.0), (12.0, 20.0)] {
            for part in Part::ALL {
                let counted = |a, b| check(&rectangle(a, b), part, &Cutting::default());
                assert_eq!(counted(w, h), counted(h, w), "{w} {h}");
            }
        }
    }

    #[test]
    fn without_a_kerf_boxes_fill_the_sheet() {
        assert_eq!(count(&rectangle(12.0, 12.0), Part::Full, &cutting(0.0)), 32);
        assert_eq!(count(&rectangle(48.0, 32.0), Part::Full, &cutting(0.0)), 3);
        assert_eq!(count(&rectangle(32.0, 48.0), Part::Full, &cutting(0.0)), 3);
        assert_eq!(count(&rectangle(49.0, 97.0), Part::Full, &cutting(0.0)), 0);
        let half = plan(&rectangle(12.0, 12.0), Part::Half, &cutting(0.0));
        assert!((half.utilisation(&rectangle(12.0, 12.0)) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn every_piece_is_drawn_on_the_sheet() {
        use crate::plate::{Contour, Point, Vertex};
        use std::sync::Arc;
        // A silhouette: alike on the left and right, not above and below.
        let corners =
            [(0.0, 0.0), (12.0, 0.0), (12.0, 12.0), (8.0, 12.0), (8.0, 18.0), (4.0, 18.0), (4.0, 12.0), (0.0, 12.0)];
        let at = |(x, y): (f64, f64)| Point { x: unit::INCH.of(x), y: unit::INCH.of(y) };
        let contour = Contour::new(corners.iter().map(|&c| Vertex { at: at(c), bulge: 0.0 }).collect()).unwrap();
        let face = Face::Outline(Arc::new(Outline::new("x", contour, Vec::new(), Vec::new()).unwrap()));
        let mut turned = 0;
        for plan in plans(&face, &Cutting::default()) {
            let Sheet { length, breadth } = plan.sheet;
            for piece in &plan.pieces {
                let (sin, cos) = piece.turned.si().sin_cos();
                turned += usize::from((2.0 * piece.turned.si()).sin().abs() > 1e-3);
                for (x, y) in corners.map(|(x, y)| (0.0254 * (x - 6.0), 0.0254 * (y - 9.0))) {
                    let (x, y) = (piece.pivot.0.si() + cos * x - sin * y, piece.pivot.1.si() + sin * x + cos * y);
                    let on = |value: f64, side: Length| value > 0.005 && value < side.si() - 0.005;
                    assert!(on(x, length) && on(y, breadth), "{:?}: {x} {y}", plan.part);
                }
            }
        }
        assert!(turned > 0, "no plan lies on its corner: the case is another one now");
    }

    #[test]
    fn twenty_eight_twelve_inch_rounds_come_from_a_sheet_by_staggering() {
        // With a kerf a grid holds 3 rows of 7; staggered, 4 rows of 7 are 12 + 3·(12.31·√3/2) = 44.0 in.
        assert_eq!(count(&round(12.0), Part::Full, &Cutting::default()), 28);
        assert_eq!(count(&round(12.0), Part::Full, &cutting(0.0)), 32);
    }

    #[test]
    fn more_kerf_never_gives_more_plates_and_half_a_sheet_never_more_than_half_again() {
        for size in [4.0, 6.0, 8.0, 10.0, 12.0, 16.0] {
            let counts: Vec<u32> =
                [0.0, 0.05, 0.2, 0.5].iter().map(|k| count(&round(size), Part::Full, &cutting(*k))).collect();
            assert!(counts.windows(2).all(|w| w[0] >= w[1]), "{size}: {counts:?}");
            let parts: Vec<u32> = Part::ALL.iter().map(|p| count(&round(size), *p, &Cutting::default())).collect();
            assert!(parts[0] >= 2 * parts[1] && parts[1] >= 2 * parts[2], "{size}: {parts:?}");
        }
    }

    #[test]
    fn every_plate_has_a_kerf_all_round_and_the_margin_is_kept_besides() {
        // Four of 22 in with two kerfs of an inch each are 96 in; a hair more, and one falls off the end.
        assert_eq!(count(&rectangle(22.0, 40.0), Part::Full, &cutting(1.0)), 4);
        assert_eq!(count(&rectangle(22.01, 40.0), Part::Full, &cutting(1.0)), 3);
        let kept = |margin: f64| Cutting { margin: unit::INCH.of(margin), ..cutting(1.0) };
        assert_eq!(count(&rectangle(21.5, 40.0), Part::Full, &kept(1.0)), 4);
        assert_eq!(count(&rectangle(21.51, 40.0), Part::Full, &kept(1.0)), 3);
    }
}
