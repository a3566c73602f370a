//! A flight, and the aimed path it takes to a distance.

use super::arrival::{Arrival, FlightError};
use super::rates::Rates;
use super::state::{Flight, MIN_SPEED_MPS, Node, State};
use super::{collocation, steps, time_form};
use crate::air::Air;
use crate::drag::{BOTTOM_MACH, Drag, DragModel, TOP_MACH};
use crate::numeric::bisect;
use crate::quantity::{Angle, Length, Measure, Time, Velocity, unit};

/// The steepest slope that is flown, degrees.
pub const MAX_SLOPE_DEG: f64 = 60.0;
/// An aimed path with dense output.
#[derive(Debug, Clone)]
pub struct Path<'f> {
    flight: &'f Flight,
    nodes: Vec<Node>,
    evaluations: u32,
}

/// How far beyond its last Mach number a table is followed, as a factor (house assumption).
const BEYOND_TABLE: f64 = 1.05;

impl Flight {
    /// A flight of a bullet from the muzzle.
    ///
    /// # Errors
    /// [`FlightError`] for a slope beyond ±60°, a speed that can't be flown, or a drag table that ends below it.
    pub fn new(drag: &Drag, muzzle: Velocity, air: &Air, slope: Angle) -> Result<Self, FlightError> {
        if !(unit::DEGREE.value(slope).abs() <= MAX_SLOPE_DEG + 1e-9) {
            return Err(FlightError::Slope { slope });
        }
        let mach = muzzle.si() / air.sound_speed().si();
        if !(muzzle.si() >= MIN_SPEED_MPS && mach > BOTTOM_MACH && mach < TOP_MACH) {
            return Err(FlightError::Speed { speed: muzzle });
        }
        // Beyond its end a table tells nothing, and its last value is taken: no farther than a hair, as for a fast shot.
        let last = drag.curve().points().last().map_or(0.0, |point| point.0);
        if drag.model() == DragModel::Own && mach > last * BEYOND_TABLE {
            return Err(FlightError::Table { mach, last });
        }
        let (sin, cos) = slope.si().sin_cos();
        let start_q = drag.curve().integral().q(mach);
        let gravity = unit::STANDARD_GRAVITY;
        Ok(Self { drag: drag.clone(), muzzle_mps: muzzle.si(), start_q, air: *air, sin, cos, gravity })
    }

    /// What arrives at a distance, aimed at it.
    ///
    /// # Errors
    /// [`FlightError::OutOfReach`] where the bullet does not get there.
    pub fn arrive(&self, distance: Length) -> Result<Arrival, FlightError> {
        let metres = checked(distance)?;
        if let Some(found) = collocation::find(&mut Rates::new(self), metres, None) {
            return Ok(self.arrival(metres, &found.end));
        }
        self.stepped(metres).map(|path| path.arrival()).ok_or(FlightError::OutOfReach { distance })
    }

    /// The path aimed at a distance.
    ///
    /// # Errors
    /// [`FlightError::OutOfReach`] where the bullet does not get there.
    pub fn path(&self, distance: Length) -> Result<Path<'_>, FlightError> {
        self.aimed(checked(distance)?).ok_or(FlightError::OutOfReach { distance })
    }

    fn aimed(&self, metres: f64) -> Option<Path<'_>> {
        let mut nodes = Vec::new();
        match collocation::find(&mut Rates::new(self), metres, Some(&mut nodes)) {
            Some(found) => Some(Path { flight: self, nodes, evaluations: found.evaluations }),
            None => self.stepped(metres),
        }
    }

    fn stepped(&self, metres: f64) -> Option<Path<'_>> {
        let mut nodes = Vec::with_capacity(12);
        let evaluations = steps::aim(self, metres, &mut nodes)?;
        Some(Path { flight: self, nodes, evaluations })
    }

    fn arrival(&self, s: f64, y: &State) -> Arrival {
        let (mach, speed_mps) = self.mach_and_speed(s, y);
        Arrival {
            distance: Length::from_si(s),
            speed: Velocity::from_si(speed_mps),
            mach,
            descent: Angle::from_si(-y[1].atan()),
            time: Time::from_si(y[3]),
        }
    }

    /// Speed after a straight way through air of one height, so many times as dense; `None` for coefficients in bands,
    /// and beyond what is followed. Hot loop: SI.
    #[must_use]
    pub fn straight(&self, metres: f64, height_m: f64, denser: f64) -> Option<f64> {
        if self.drag.bands().len() > 1 {
            return None;
        }
        let slowing = self.k(0) * denser * self.air.at(height_m).density;
        let (mach, _) = self.drag.curve().integral().at(self.start_q + slowing * metres)?;
        Some(mach * self.air.sound_speed().si())
    }

    /// How far this bullet can carry over level ground, whatever the slope it is aimed on, and the launch angle
    /// that does it, to a degree.
    ///
    /// # Errors
    /// As [`time_form::carry`].
    pub fn carry(&self) -> Result<(Length, Angle), FlightError> {
        time_form::farthest(&self.drag, Velocity::from_si(self.muzzle_mps), &self.air)
    }

    /// How far this bullet carries over level ground from a launch angle; nothing where its flight does not end.
    #[must_use]
    pub fn carried(&self, launch: Angle) -> Length {
        time_form::carried(&self.drag, Velocity::from_si(self.muzzle_mps), &self.air, launch)
    }

    /// The farthest distance up to `limit` that can be aimed at: the bullet arrives at 10 m/s or more
    /// along the line, from a launch within 20° of it.
    #[must_use]
    pub fn reach(&self, limit: Length) -> Length {
        if self.aimed(limit.si()).is_some() {
            return limit;
        }
        Length::from_si(bisect(0.0, limit.si(), 0.5, |metres| self.aimed(metres).is_some()).0)
    }
}

fn checked(distance: Length) -> Result<f64, FlightError> {
    let metres = distance.si();
    if metres >= 0.0 && metres.is_finite() { Ok(metres) } else { Err(FlightError::Distance { distance }) }
}

impl Path<'_> {
    /// The end of the path.
    #[must_use]
    pub fn arrival(&self) -> Arrival {
        let node = &self.nodes[self.nodes.len() - 1];
        self.flight.arrival(node.s, &node.y)
    }

    /// What passes a distance within the path, by cubic Hermite between the nodes. Beyond the ends the ends hold.
    #[must_use]
    pub fn at(&self, distance: Length) -> Arrival {
        let s = distance.si();
        let (s, y) = self.state(s);
        self.flight.arrival(s, &y)
    }

    /// Speed at a distance, m/s. Hot loop: SI.
    #[must_use]
    pub fn speed_mps(&self, s: f64) -> f64 {
        let (s, y) = self.state(s);
        self.flight.speed(s, &y)
    }

    fn state(&self, s: f64) -> (f64, State) {
        let nodes = &self.nodes;
        let (first, last) = (&nodes[0], &nodes[nodes.len() - 1]);
        if !(s > first.s) {
            return (first.s, first.y);
        }
        if s >= last.s {
            return (last.s, last.y);
        }
        let right = nodes.partition_point(|n| n.s <= s).min(nodes.len() - 1);
        let (a, b) = (&nodes[right - 1], &nodes[right]);
        let h = b.s - a.s;
        let x = (s - a.s) / h;
        let mut y = [0.0; 4];
        for i in 0..4 {
            let (start, end) = (h * a.rate[i], h * b.rate[i]);
            let rise = b.y[i] - a.y[i];
            y[i] = a.y[i] + x * (start + x * ((3.0 * rise - 2.0 * start - end) + x * (start + end - 2.0 * rise)));
        }
        (s, y)
    }

    /// Height above the firing point at a distance within the path.
    #[must_use]
    pub fn height(&self, distance: Length) -> Length {
        let (s, y) = self.state(distance.si());
        Length::from_si(s * self.flight.sin + y[2] * self.flight.cos)
    }

    /// How far beside the target the path ends, across the line of slope.
    #[must_use]
    pub fn offset(&self) -> Length {
        Length::from_si(self.nodes[self.nodes.len() - 1].y[2])
    }

    /// Tangent of the launch above the line of slope.
    #[must_use]
    pub fn launch(&self) -> f64 {
        self.nodes[0].y[1]
    }

    /// Evaluations of the rates it took to aim and fly: the work, for tests.
    #[must_use]
    pub fn evaluations(&self) -> u32 {
        self.evaluations
    }
}
