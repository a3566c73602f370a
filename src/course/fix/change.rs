//! What is changed at a target, and what that costs against other fixes.

use crate::plate::{Condition, Mount, Plate, Steel};
use crate::quantity::{Angle, Measure, unit};
use crate::rules::{Rule, Sense, Setup, Side, Subject};

/// The lean toward the shooter that a face is set to, degrees beyond the slope.
const LEAN_DEG: f64 = 10.0;
/// How far under a range's greatest lean a face is set at most, degrees: the bullet's fall counts toward it.
const UNDER_DEG: u8 = 4;

/// What a fix costs against another (house assumptions): a face set right or a position left out costs next to
/// nothing, a line moved by half its distance little, a plate its steel, a load a shooter, a line moved far a stage.
pub(super) mod cost {
    pub const FACE: f64 = 1.0;
    pub const LOOK: f64 = 1.0;
    pub const POSITION: f64 = 1.0;
    pub const MOUNT: f64 = 2.0;
    const SHIFT: f64 = 4.0;
    pub const PLATE: f64 = 6.0;
    pub const PLATE_STEP: f64 = 0.5;
    pub const REFUSE: f64 = 7.0;
    pub const REFUSE_MORE: f64 = 3.0;
    /// For each class of which nobody is left.
    pub const EMPTY: f64 = 6.0;
    const SHIFT_FAR: f64 = 12.0;
    const SHIFT_TOO_FAR: f64 = 20.0;
    /// For each yard beyond what is too far.
    const SHIFT_YARD: f64 = 0.1;
    pub const NONE: f64 = 1000.0;

    /// From where on a move back is far, and too far, yards: a bay is no longer (house assumptions).
    const FAR_YD: f64 = 100.0;
    const TOO_FAR_YD: f64 = 200.0;

    /// What a move back costs: by its share of the distance, and by its yards.
    pub fn back(share: f64, yards: f64) -> f64 {
        let base = if share <= 0.5 && yards <= FAR_YD {
            SHIFT
        } else if share <= 2.0 && yards <= TOO_FAR_YD {
            SHIFT_FAR
        } else {
            SHIFT_TOO_FAR
        };
        base + share.min(10.0) * 0.1 + (yards - TOO_FAR_YD).max(0.0) * SHIFT_YARD
    }
}

/// What is changed at a target.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Change {
    /// The lean of the face toward the shooter.
    pub tilt: Option<Angle>,
    /// The face is turned square to the line.
    pub square: bool,
    /// How it is held.
    pub mount: Option<Mount>,
    /// The plate is looked over and found sound, or its mark found.
    pub look: bool,
    /// A new, sound AR500 plate.
    pub fresh: bool,
    /// A plate of another thickness.
    pub plate: Option<Plate>,
}

impl Change {
    /// Whether it changes nothing.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        *self == Self::default()
    }

    /// The setup as changed.
    #[must_use]
    pub fn apply(&self, setup: &Setup) -> Setup {
        let mut setup = setup.clone();
        setup.tilt = self.tilt.or(setup.tilt);
        if self.square {
            setup.oblique = Angle::from_si(0.0);
        }
        if let Some(mount) = self.mount {
            (setup.mount, setup.chain) = (mount, None);
        }
        if self.look || self.fresh {
            (setup.condition, setup.steel) = (Condition::Sound, Steel::Ar500);
        }
        setup
    }

    /// This and what another sets right.
    fn and(&self, other: &Self) -> Self {
        Self {
            tilt: other.tilt.or(self.tilt),
            square: other.square || self.square,
            mount: other.mount.or(self.mount),
            look: other.look || self.look,
            fresh: other.fresh || self.fresh,
            plate: None,
        }
    }

    pub(super) fn cost(&self, steps: usize) -> f64 {
        let plate = if self.plate.is_some() { cost::PLATE + cost::PLATE_STEP * steps as f64 } else { 0.0 };
        let fresh = if self.fresh && self.plate.is_none() { cost::PLATE } else { 0.0 };
        let part = |is: bool, cost: f64| if is { cost } else { 0.0 };
        part(self.tilt.is_some(), cost::FACE)
            + part(self.square, cost::FACE)
            + part(self.mount.is_some(), cost::MOUNT)
            + part(self.look, cost::LOOK)
            + plate
            + fresh
    }
}

/// What blocking rules call for at a target on ground that rises by so many degrees: each thing, and the ways to do it.
pub(super) fn ways(setup: &Setup, blocking: &[&Rule], slope: f64) -> Vec<Vec<Change>> {
    let is = |speaks: &dyn Fn(&Rule) -> bool| blocking.iter().any(|rule| speaks(rule));
    let state = is(&|r| !r.filter.condition.is_empty() || !r.filter.steel.is_empty());
    let unknown = matches!(setup.condition, Condition::Unknown | Condition::Sound)
        && matches!(setup.steel, Steel::Unknown | Steel::Ar500);
    let none = Change::default;
    let leans = is(&|r| r.subject == Subject::Lean || r.filter.tilt_given.is_some());
    let mut ways = Vec::new();
    if leans {
        let tilts = tilts(blocking, slope).into_iter();
        ways.push(tilts.map(|degrees| Change { tilt: Some(unit::DEGREE.of(degrees)), ..none() }).collect());
    }
    if is(&|r| r.subject == Subject::Oblique) {
        ways.push(vec![Change { square: true, ..none() }]);
    }
    ways.push(mounts(setup, blocking).into_iter().map(|mount| Change { mount: Some(mount), ..none() }).collect());
    if state {
        ways.push(vec![Change { look: unknown, fresh: !unknown, ..none() }]);
    }
    ways
}

/// The leans that are tried, degrees: the usual one, the least that a range asks for, and those at and under the greatest.
fn tilts(blocking: &[&Rule], slope: f64) -> Vec<f64> {
    let mut tilts = vec![(slope - 1e-9).ceil() + LEAN_DEG];
    for rule in blocking.iter().filter(|rule| rule.subject == Subject::Lean && rule.overlay.is_some()) {
        let Sense::Limit { side, suits, .. } = &rule.sense else { continue };
        let limit = slope + unit::DEGREE.value(Angle::from_si(suits.si()));
        match side {
            Side::AtLeast => tilts.push((limit - 1e-9).ceil()),
            Side::AtMost => tilts.extend((0..=UNDER_DEG).map(|under| (limit + 1e-9).floor() - f64::from(under))),
        }
    }
    tilts
}

/// The mounts that are tried: closed hooks for what does not hang free, and another free one where a range does not want
/// this one.
fn mounts(setup: &Setup, blocking: &[&Rule]) -> Vec<Mount> {
    let unwanted = |mount: Mount| blocking.iter().any(|r| r.overlay.is_some() && r.filter.mount.contains(&mount));
    let all = [Mount::CaptiveHook, Mount::OpenHook, Mount::Chain];
    let is_unwanted = unwanted(setup.mount);
    let mut others = all.into_iter().filter(|mount| *mount != setup.mount && !unwanted(*mount));
    match (is_unwanted, setup.mount.is_free()) {
        (true, _) => others.collect(),
        (false, true) => Vec::new(),
        (false, false) => others.next().into_iter().collect(),
    }
}

/// All that may be changed together: each thing in one way or left as it is.
pub(super) fn in_all_ways(ways: &[Vec<Change>]) -> Vec<Change> {
    let mut changes = vec![Change::default()];
    for ways in ways {
        let with: Vec<Change> =
            ways.iter().flat_map(|way| changes.iter().map(|change| change.and(way)).collect::<Vec<_>>()).collect();
        changes.extend(with);
    }
    changes
}
