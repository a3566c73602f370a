//! Places and edges in plain numbers. Hot loops: SI, or whatever unit the caller keeps to.

/// To the right, and up.
pub type Spot = (f64, f64);

/// The distance of two places.
#[must_use]
pub fn apart(a: Spot, b: Spot) -> f64 {
    (b.0 - a.0).hypot(b.1 - a.1)
}

/// An edge of a shape, straight or an arc.
#[derive(Debug, Clone, Copy)]
pub struct Edge {
    /// Where it begins.
    pub from: Spot,
    /// Where it ends.
    pub to: Spot,
    /// Tangent of a quarter of the arc's included angle, positive counterclockwise; 0 for a straight edge.
    pub bulge: f64,
}

/// The circle that an edge is a part of.
#[derive(Debug, Clone, Copy)]
pub struct Bow {
    /// Its centre.
    pub centre: Spot,
    /// Its radius.
    pub radius: f64,
    /// Where the edge begins, as an angle about the centre, rad.
    pub start: f64,
    /// The angle swept, rad, positive counterclockwise.
    pub sweep: f64,
}

impl Edge {
    /// The circle that it is a part of; none of a straight edge.
    #[must_use]
    pub fn bow(&self) -> Option<Bow> {
        let (dx, dy) = (self.to.0 - self.from.0, self.to.1 - self.from.1);
        let chord = dx.hypot(dy);
        if self.bulge == 0.0 || chord == 0.0 {
            return None;
        }
        // The centre lies on the chord's bisector, by the cotangent of half the included angle.
        let off = (1.0 - self.bulge * self.bulge) / (4.0 * self.bulge);
        let centre = (0.5 * (self.from.0 + self.to.0) - dy * off, 0.5 * (self.from.1 + self.to.1) + dx * off);
        let radius = 0.25 * chord * (self.bulge.abs() + 1.0 / self.bulge.abs());
        let start = (self.from.1 - centre.1).atan2(self.from.0 - centre.0);
        Some(Bow { centre, radius, start, sweep: 4.0 * self.bulge.atan() })
    }

    /// The place at a share of it.
    #[must_use]
    pub fn at(&self, t: f64) -> Spot {
        match self.bow() {
            _ if t <= 0.0 => self.from,
            _ if t >= 1.0 => self.to,
            Some(bow) => bow.at(t),
            None => (self.from.0 + t * (self.to.0 - self.from.0), self.from.1 + t * (self.to.1 - self.from.1)),
        }
    }

    /// The place at a share of it, and how fast it moves with the share.
    #[must_use]
    pub fn place_and_rate(&self, t: f64) -> (Spot, Spot) {
        let Some(bow) = self.bow() else {
            return (self.at(t), (self.to.0 - self.from.0, self.to.1 - self.from.1));
        };
        let (sin, cos) = (bow.start + t * bow.sweep).sin_cos();
        let (x, y) = (bow.radius * cos, bow.radius * sin);
        ((bow.centre.0 + x, bow.centre.1 + y), (-y * bow.sweep, x * bow.sweep))
    }

    /// Its length.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.bow().map_or_else(|| apart(self.from, self.to), |bow| bow.radius * bow.sweep.abs())
    }

    /// Direction where it begins and where it ends, rad.
    #[must_use]
    pub fn headings(&self) -> (f64, f64) {
        let chord = (self.to.1 - self.from.1).atan2(self.to.0 - self.from.0);
        let half = 2.0 * self.bulge.atan();
        (chord - half, chord + half)
    }

    /// Left, right, bottom and top.
    #[must_use]
    pub fn bounds(&self) -> [f64; 4] {
        let (a, b) = (self.from, self.to);
        let mut bounds = [a.0.min(b.0), a.0.max(b.0), a.1.min(b.1), a.1.max(b.1)];
        if let Some(bow) = self.bow() {
            for quarter in 0..4 {
                let angle = f64::from(quarter) * std::f64::consts::FRAC_PI_2;
                if bow.passes(angle) {
                    let (sin, cos) = angle.sin_cos();
                    let (x, y) = (bow.centre.0 + bow.radius * cos, bow.centre.1 + bow.radius * sin);
                    bounds = [bounds[0].min(x), bounds[1].max(x), bounds[2].min(y), bounds[3].max(y)];
                }
            }
        }
        bounds
    }
}

impl Bow {
    /// The place at a share of the sweep.
    #[must_use]
    pub fn at(&self, t: f64) -> Spot {
        let (sin, cos) = (self.start + t * self.sweep).sin_cos();
        (self.centre.0 + self.radius * cos, self.centre.1 + self.radius * sin)
    }

    fn passes(&self, angle: f64) -> bool {
        self.share_of(angle).is_some()
    }

    /// The share of it at which it passes a direction from its centre.
    #[must_use]
    pub fn share_of(&self, angle: f64) -> Option<f64> {
        let ahead = if self.sweep > 0.0 { angle - self.start } else { self.start - angle };
        let ahead = ahead.rem_euclid(std::f64::consts::TAU);
        (ahead <= self.sweep.abs()).then(|| ahead / self.sweep.abs())
    }
}
