use super::*;
use crate::report::samples;

fn attribute(element: &str, name: &str) -> String {
    element
        .split(&format!("{name}=\""))
        .nth(1)
        .and_then(|rest| rest.split('"').next())
        .unwrap_or_else(|| panic!("no {name} in {element}"))
        .to_owned()
}

/// The pieces of markup that begin with an element of a class.
fn elements<'a>(text: &'a str, class: &str) -> Vec<&'a str> {
    text.split('<').filter(|part| part.contains(&format!("class=\"{class}\""))).collect()
}

/// Points of a path's data.
fn points(data: &str) -> Vec<(f64, f64)> {
    let points = data.split(['M', 'L', 'Z']).filter(|part| !part.is_empty());
    let number = |text: &str| text.parse::<f64>().expect("a number");
    points.filter_map(|part| part.split_once(' ')).map(|(x, y)| (number(x), number(y))).collect()
}

/// A scale read back from the marks of an axis: their words, and where they stand.
struct ReadScale {
    first: (f64, f64),
    last: (f64, f64),
}

impl ReadScale {
    fn of(group: &str, place: &str) -> Self {
        let marks: Vec<(f64, f64)> = elements(group, "tick")
            .iter()
            .map(|mark| {
                let number = mark.split('>').nth(1).expect("words").parse().expect("a number");
                (attribute(mark, &format!(" {place}")).parse().expect("a place"), number)
            })
            .collect();
        assert!(marks.len() >= 3, "{group}");
        Self { first: marks[0], last: *marks.last().expect("marks") }
    }

    fn value(&self, at: f64) -> f64 {
        self.first.1 + (at - self.first.0) / (self.last.0 - self.first.0) * (self.last.1 - self.first.1)
    }
}

fn group<'a>(text: &'a str, class: &str) -> &'a str {
    let rest = text.split(&format!("<g class=\"{class}\">")).nth(1).unwrap_or_else(|| panic!("no group {class}"));
    rest.split("</g>").next().unwrap_or(rest)
}

#[test]
fn what_is_drawn_is_what_the_answer_holds() {
    for units in [Units::Us, Units::Si] {
        let curve = samples::curve();
        let numbers = Numbers(units);
        let text = flight(&curve, units).expect("a figure").markup().into_string();
        let x = ReadScale::of(group(&text, "distance"), "x");
        let speeds = [("mean", &curve.speed), ("fast", &curve.fast_speed)];
        let speed = group(&text, "speed");
        let y = ReadScale::of(speed, "y");
        for (class, held) in speeds {
            let path = points(&attribute(elements(speed, class)[0], " d"));
            assert_eq!(path.len(), held.len());
            for (point, index) in [(path[0], 0), (path[held.len() - 1], held.len() - 1)] {
                let distance = numbers.distance().of(curve.distance[index].0);
                assert!((x.value(point.0) - distance).abs() < 1.0, "{units:?} {class} {point:?}");
                assert!(
                    (y.value(point.1) - numbers.speed().of(held[index].0)).abs() < 1.5,
                    "{units:?} {class} {point:?}"
                );
            }
        }
        let energy = group(&text, "energy");
        let y = ReadScale::of(energy, "y");
        let path = points(&attribute(elements(energy, "fast")[0], " d"));
        let (first, last) = (numbers.energy().of(curve.fast_energy[0].0), numbers.energy().of(curve.fast_energy[20].0));
        assert!((y.value(path[0].1) - first).abs() < 5.0 && (y.value(path[20].1) - last).abs() < 5.0, "{units:?}");
    }
}

#[test]
fn limits_stand_at_their_numbers_with_their_words_and_far_ones_are_told_below() {
    let curve = samples::curve();
    let text = flight(&curve, Units::Us).expect("a figure").markup().into_string();
    for (panel, limit, words) in
        [("speed", 2850.0, "ceiling 2850 ft/s"), ("energy", 2800.0, "3/8 in takes 2800 ft·lbf")]
    {
        let panel = group(&text, panel);
        let y = ReadScale::of(panel, "y");
        let lines = elements(panel, "limit");
        assert_eq!(lines.len(), 1, "{panel}");
        let ends = points(&attribute(lines[0], " d"));
        assert!(ends.iter().all(|(_, at)| (y.value(*at) - limit).abs() < 4.0), "{ends:?}");
        assert!(panel.contains(words), "{panel}");
    }
    assert!(text.contains("Off the scale: 3/4 in takes 12000 ft·lbf."), "{text}");
    let x = ReadScale::of(group(&text, "distance"), "x");
    let marks = elements(&text, "mark");
    let places: Vec<f64> = marks.iter().map(|mark| x.value(points(&attribute(mark, " d"))[0].0)).collect();
    assert!((places[0] - 100.0).abs() < 1.0 && (places[1] - 120.0).abs() < 1.0, "{places:?}");
}

#[test]
fn words_of_marks_do_not_run_into_each_other() {
    let text = flight(&samples::curve(), Units::Us).expect("a figure").markup().into_string();
    let places: Vec<(f64, f64, f64)> = elements(&text, "mark-words")
        .iter()
        .map(|words| {
            let at = |name: &str| attribute(words, name).parse::<f64>().expect("a place");
            (at(" x"), at(" y"), breadth(words.split('>').nth(1).expect("words")))
        })
        .collect();
    for (index, one) in places.iter().enumerate() {
        for other in &places[index + 1..] {
            assert!(
                (one.1 - other.1).abs() > 10.0 || (one.0 - other.0).abs() >= f64::midpoint(one.2, other.2),
                "{places:?}"
            );
        }
    }
}

#[test]
fn strangers_words_are_escaped_in_a_drawing() {
    let mut curve = samples::curve();
    curve.load = "<script>alert(1)</script>".into();
    curve.marks[0].1 = "\"><script>\u{1b}[2J".into();
    let text = flight(&curve, Units::Us).expect("a figure").markup().into_string();
    assert!(!text.contains("<script") && !text.contains('\u{1b}'), "{text}");
}

#[test]
fn a_flight_without_points_has_no_figure() {
    let mut curve = samples::curve();
    curve.distance.clear();
    assert!(flight(&curve, Units::Us).is_none());
}
