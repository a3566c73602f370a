//! Where plates lie on a sheet.

/// A plan inside the room of a sheet, m and radians: centres of bounds, and turns.
pub type Spots = Vec<([f64; 2], f64)>;

/// The room of a part, and what lies between two plates, m.
#[derive(Debug, Clone, Copy)]
pub struct Room {
    /// Along the sheet's length, and across.
    pub size: [f64; 2],
    /// Between two plates.
    pub gap: f64,
}

impl Room {
    /// The same, seen from the other side of the diagonal.
    #[must_use]
    pub fn turned(self) -> Self {
        Self { size: [self.size[1], self.size[0]], ..self }
    }

    /// How many sizes with gaps between them fit along; a hair of slack keeps a whole number whole.
    #[must_use]
    pub fn along(&self, axis: usize, size: f64) -> usize {
        if size > self.size[axis] * (1.0 + 1e-9) {
            return 0;
        }
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // A sheet holds few plates.
        let count = ((self.size[axis] + self.gap) / (size + self.gap) + 1e-9).floor() as usize;
        count
    }
}
