//! Speed and energy against distance: two panels, one above the other.

use super::Figure;
use super::svg::{Axis, breadth, line, px, run, words};
use crate::advisor::answer::{Curve, Limit};
use crate::order::Order;
use crate::quantity::{Length, Measure, Si};
use crate::report::numbers::Numbers;
use crate::report::table::Scale;
use crate::words::Units;
use maud::{Markup, html};

const WIDTH: f64 = 480.0;
const LEFT: f64 = 52.0;
const RIGHT: f64 = WIDTH - 12.0;
const PANEL: f64 = 185.0;
/// Between the panels, for the second one's name.
const GAP: f64 = 34.0;
/// Height of a line of words.
const LINE: f64 = 17.0;
/// A limit farther than this from the curves would press them flat: it is told under the drawing.
const FAR: f64 = 1.6;

/// Where along a curve its name may stand, the best first.
const TENTHS: [usize; 6] = [7, 5, 3, 8, 2, 6];

/// Where words stand on paper.
#[derive(Clone, Copy)]
struct Spot {
    left: f64,
    right: f64,
    foot: f64,
}

impl Spot {
    fn meets(&self, other: &Self) -> bool {
        self.left < other.right && other.left < self.right && (self.foot - other.foot).abs() < LINE - 3.0
    }
}

/// A panel: what it shows of the curve, on its scale.
struct Panel<'a> {
    name: String,
    mean: Vec<f64>,
    fast: Vec<f64>,
    limits: Vec<(f64, &'a str)>,
    beyond: Vec<&'a str>,
    axis: Axis,
    top: f64,
}

impl<'a> Panel<'a> {
    fn new<Q: Measure>(
        name: &str,
        scale: Scale<Q>,
        (mean, fast): (&[Si<Q>], &[Si<Q>]),
        limits: &'a [Limit],
        of: impl Fn(&Limit) -> Option<Si<Q>>,
        top: f64,
    ) -> Self {
        let numbers = |list: &[Si<Q>]| list.iter().map(|q| scale.of(q.0)).collect::<Vec<f64>>();
        let (mean, fast) = (numbers(mean), numbers(fast));
        let curves = || mean.iter().chain(&fast).copied();
        let (least, most) = (curves().fold(f64::INFINITY, f64::min), curves().fold(0.0, f64::max));
        let (near, beyond): (Vec<_>, Vec<_>) = limits
            .iter()
            .filter_map(|limit| of(limit).map(|q| (scale.of(q.0), limit.words.as_str())))
            .partition(|(value, _)| *value <= most * FAR && *value >= least / FAR);
        let low = near.iter().map(|(value, _)| *value).fold(least, f64::min);
        let high = near.iter().map(|(value, _)| *value).fold(most, f64::max);
        Self {
            name: format!("{name}, {}", scale.symbol()),
            mean,
            fast,
            limits: near,
            beyond: beyond.into_iter().map(|(_, words)| words).collect(),
            // Room above for the words of the highest limit.
            axis: Axis::new(low, high + 0.06 * (high - low), 4.0, top + PANEL, top),
            top,
        }
    }

    fn bottom(&self) -> f64 {
        self.top + PANEL
    }

    fn markup(&self, x: &[f64], which: &str) -> Markup {
        let upper = || x.iter().zip(&self.fast).map(|(x, y)| (*x, self.axis.at(*y)));
        let lower = || x.iter().zip(&self.mean).map(|(x, y)| (*x, self.axis.at(*y)));
        let band = run(upper().chain(lower().collect::<Vec<_>>().into_iter().rev())) + "Z";
        html! {
            g class=(which) {
                (words((LEFT, self.top - 7.0), "start", "name", &self.name))
                @for (value, text) in self.axis.ticks() {
                    @let y = self.axis.at(value);
                    (line((LEFT, y), (RIGHT, y), "grid", "0.4", None))
                    text.tick x=(px(LEFT - 6.0)) y=(px(y)) dy="0.34em" text-anchor="end" { (text) }
                }
                path.band d=(band) fill-opacity="0.16" {}
                path.mean d=(run(lower())) fill="none" stroke="currentColor" stroke-width="1.2" {}
                path.fast d=(run(upper())) fill="none" stroke="currentColor" stroke-width="2.4" {}
                (self.limit_lines())
                (self.curve_names(x))
            }
        }
    }

    /// Each limit with its words above its line, to the right unless another stands close by.
    fn limit_lines(&self) -> Markup {
        html! {
            @for (y, text, right) in self.placed_limits() {
                @let (at, anchor) = if right { (RIGHT - 4.0, "end") } else { (LEFT + 6.0, "start") };
                (line((LEFT, y), (RIGHT, y), "limit", "1.6", Some("9 4")))
                (words((at, y - 4.0), anchor, "limit-words", text))
            }
        }
    }

    /// Where each limit stands on paper, its words, and whether they stand to the right.
    fn placed_limits(&self) -> Vec<(f64, &'a str, bool)> {
        let mut sorted: Vec<_> = self.limits.iter().map(|(value, text)| (self.axis.at(*value), *text)).collect();
        sorted.order_by(|a, b| a.0.total_cmp(&b.0));
        let mut placed: Vec<(f64, &str, bool)> = Vec::new();
        for (y, text) in sorted {
            let right = placed.last().is_none_or(|(before, _, right)| y - before >= LINE || !right);
            placed.push((y, text, right));
        }
        placed
    }

    /// The curves by name, above and below the band: at the first place where no other words stand.
    fn curve_names(&self, x: &[f64]) -> Markup {
        let limits = self.placed_limits().into_iter().map(|(y, text, right)| {
            let left = if right { RIGHT - 4.0 - breadth(text) } else { LEFT + 6.0 };
            Spot { left, right: left + breadth(text), foot: y - 4.0 }
        });
        let mut taken: Vec<Spot> = limits.collect();
        let mut place = |list: &[f64], text: &str, above: bool| {
            let spots = TENTHS.iter().filter_map(|tenths| {
                let index = x.len() * tenths / 10;
                let (x, y) = (*x.get(index)?, self.axis.at(*list.get(index)?));
                let left = if above { x + 4.0 } else { x - 4.0 - breadth(text) };
                Some(Spot { left, right: left + breadth(text), foot: if above { y - 6.0 } else { y + 15.0 } })
            });
            let spots: Vec<Spot> = spots.collect();
            let is_free = |spot: &&Spot| {
                let inside = spot.left >= LEFT && spot.right <= RIGHT;
                inside
                    && spot.foot > self.top + 8.0
                    && spot.foot < self.bottom()
                    && !taken.iter().any(|t| t.meets(spot))
            };
            let spot = *spots.iter().find(is_free).or(spots.first())?;
            taken.push(spot);
            Some(spot)
        };
        let (fast, mean) = (place(&self.fast, "fast shot", true), place(&self.mean, "mean shot", false));
        html! {
            @if let Some(spot) = fast { (words((spot.left, spot.foot), "start", "curve-name", "fast shot")) }
            @if let Some(spot) = mean { (words((spot.right, spot.foot), "end", "curve-name", "mean shot")) }
        }
    }
}

/// Words for a distance, each on the first line where it has room.
struct Mark<'a> {
    x: f64,
    words: &'a str,
    row: usize,
    limit: bool,
}

fn marks(curve: &Curve, x: Axis, yards: Scale<Length>, reach: f64) -> Vec<Mark<'_>> {
    let asked = curve.marks.iter().map(|(distance, words)| (distance.0, words.as_str(), false));
    let limits = curve.limits.iter().filter_map(|l| l.distance.map(|d| (d.0, l.words.as_str(), true)));
    let mut all: Vec<_> = asked.chain(limits).map(|(d, words, limit)| (yards.of(d), words, limit)).collect();
    all.retain(|(distance, ..)| *distance >= 0.0 && *distance <= reach * (1.0 + 1e-9));
    all.order_by(|a, b| a.0.total_cmp(&b.0));
    let mut ends: Vec<f64> = Vec::new();
    let mut placed = Vec::new();
    for (distance, words, limit) in all {
        let at = x.at(distance);
        let half = breadth(words) / 2.0;
        let left = middle(at, half) - half;
        let row = ends.iter().position(|end| left > *end + 8.0).unwrap_or(ends.len());
        if row == ends.len() {
            ends.push(0.0);
        }
        ends[row] = left + 2.0 * half;
        placed.push(Mark { x: at, words, row, limit });
    }
    placed
}

/// The middle of words that would leave the drawing, moved in.
fn middle(at: f64, half: f64) -> f64 {
    at.clamp((LEFT / 2.0 + half).min(WIDTH / 2.0), (WIDTH - 2.0 - half).max(WIDTH / 2.0))
}

/// The flight of a load, where there is one to draw.
pub(in crate::report) fn flight(curve: &Curve, units: Units) -> Option<Figure> {
    let numbers = Numbers(units);
    let yards = numbers.distance();
    let each = if curve.projectiles > 1 { " of one pellet" } else { "" };
    let distances: Vec<f64> = curve.distance.iter().map(|d| yards.of(d.0)).collect();
    let reach = *distances.last()?;
    if distances.len() < 2 || curve.speed.len() < 2 || reach <= 0.0 {
        return None;
    }
    let x = Axis::new(0.0, reach, 5.0, LEFT, RIGHT).ending(reach);
    let marks = marks(curve, x, yards, reach);
    let rows = marks.iter().map(|mark| mark.row + 1).max().unwrap_or(0);
    let top = 26.0 + rows as f64 * LINE;
    let speeds: (&[_], &[_]) = (&curve.speed, &curve.fast_speed);
    let energies: (&[_], &[_]) = (&curve.energy, &curve.fast_energy);
    let speed = Panel::new("speed", numbers.speed(), speeds, &curve.limits, |l| l.speed, top);
    let energy = Panel::new(
        &format!("energy{each}"),
        numbers.energy(),
        energies,
        &curve.limits,
        |l| l.energy,
        speed.bottom() + GAP,
    );
    let bottom = energy.bottom();
    let on_paper: Vec<f64> = distances.iter().map(|d| x.at(*d)).collect();
    let height = |mark: &Mark| 13.0 + mark.row as f64 * LINE;
    let drawing = html! {
        // Lines first: no words are crossed out.
        @for mark in &marks {
            @let (class, dashes) = if mark.limit { ("limit", "9 4") } else { ("mark", "2 3") };
            (line((mark.x, height(mark) + 4.0), (mark.x, bottom), class, "1.2", Some(dashes)))
        }
        (speed.markup(&on_paper, "speed"))
        (energy.markup(&on_paper, "energy"))
        @for mark in &marks {
            (words((middle(mark.x, breadth(mark.words) / 2.0), height(mark)), "middle", "mark-words", mark.words))
        }
        g.distance {
            (line((LEFT, bottom), (RIGHT, bottom), "axis", "1.2", None))
            @for (value, text) in x.ticks() {
                text.tick x=(px(x.at(value))) y=(px(bottom + LINE)) text-anchor="middle" { (text) }
            }
            (words((RIGHT, bottom + 2.0 * LINE), "end", "name", &format!("distance, {}", yards.symbol())))
        }
    };
    let title = format!("{}: speed and energy{each} against distance.", curve.load);
    let beyond: Vec<&str> = speed.beyond.iter().chain(&energy.beyond).copied().collect();
    let note = if beyond.is_empty() { String::new() } else { format!("Off the scale: {}.", beyond.join("; ")) };
    Some(Figure::new(&title, &description(curve, numbers), &note, (WIDTH, bottom + 2.0 * LINE + 8.0), drawing))
}

fn description(curve: &Curve, numbers: Numbers) -> String {
    let at = |index: Option<usize>| {
        let index = index?;
        Some(format!(
            "{}: mean shot {}, {}; fast shot {}, {}.",
            numbers.distance().words(curve.distance.get(index)?.0),
            numbers.speed().words(curve.speed.get(index)?.0),
            numbers.energy().words(curve.energy.get(index)?.0),
            numbers.speed().words(curve.fast_speed.get(index)?.0),
            numbers.energy().words(curve.fast_energy.get(index)?.0),
        ))
    };
    let ends = [at(Some(0)), at(curve.distance.len().checked_sub(1))].into_iter().flatten();
    let limits = curve.limits.iter().map(|limit| format!("Limit: {}.", limit.words));
    let marks = curve.marks.iter().map(|(_, words)| format!("Marked: {words}."));
    ends.chain(limits).chain(marks).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests;
