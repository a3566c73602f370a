//! Records: the pairs from one group 0 to the next, and those that belong to it.

use super::super::Fault;
use super::pairs::Pair;

/// How nearly a plane must be the drawing's.
const LEVEL: f64 = 1e-6;

/// A record with its name in capitals; a polyline has its vertices.
pub(super) struct Record<'a> {
    pub name: String,
    pairs: Vec<Pair<'a>>,
    pub vertices: Vec<Record<'a>>,
    /// What is written in an entity that it embeds.
    pub embedded: String,
}

impl Record<'_> {
    /// All pairs of a code, in order.
    pub fn all(&self, code: i32) -> impl Iterator<Item = &Pair<'_>> {
        self.pairs.iter().filter(move |p| p.code == code)
    }

    pub fn pairs(&self) -> &[Pair<'_>] {
        &self.pairs
    }

    pub fn text(&self, code: i32) -> Option<&str> {
        self.pairs.iter().find(|p| p.code == code).map(Pair::text)
    }

    pub fn real(&self, code: i32) -> Result<Option<f64>, Fault> {
        self.pairs.iter().find(|p| p.code == code).map(Pair::real).transpose()
    }

    pub fn whole(&self, code: i32) -> Result<Option<i64>, Fault> {
        self.pairs.iter().find(|p| p.code == code).map(Pair::whole).transpose()
    }

    /// A place by the code of its x, which those of y and z follow by tens.
    pub fn place(&self, code: i32) -> Result<Option<(f64, f64, f64)>, Fault> {
        let Some(x) = self.real(code)? else { return Ok(None) };
        Ok(Some((x, self.real(code + 10)?.unwrap_or(0.0), self.real(code + 20)?.unwrap_or(0.0))))
    }

    /// Which way its plane looks: up, or down for what is drawn mirrored; `None` where it is tilted.
    pub fn looks(&self) -> Result<Option<f64>, Fault> {
        let Some((x, y, z)) = self.place(210)? else { return Ok(Some(1.0)) };
        let length = (x * x + y * y + z * z).sqrt();
        let level = length > 0.0 && x.hypot(y) <= LEVEL * length;
        Ok(level.then_some(if z < 0.0 { -1.0 } else { 1.0 }))
    }

    /// From its own plane to the drawing's: of one that looks down x runs to the left, by the format's rule for
    /// arbitrary axes.
    pub fn plane(&self) -> Result<Option<kurbo::Affine>, Fault> {
        Ok(self.looks()?.map(|up| kurbo::Affine::scale_non_uniform(up, 1.0)))
    }
}

/// The records of a section.
pub(super) fn records<'a>(section: &[Pair<'a>]) -> Vec<Record<'a>> {
    let mut records: Vec<Record> = Vec::new();
    // A polyline's vertices and an insert's texts follow it, up to their end.
    let mut polyline = false;
    // What an entity embeds of another is not its own.
    let mut embedded = false;
    for pair in section {
        if pair.code == 0 {
            embedded = false;
            let name = pair.text().to_ascii_uppercase();
            let record = Record { name, pairs: Vec::new(), vertices: Vec::new(), embedded: String::new() };
            match record.name.as_str() {
                "VERTEX" if polyline => {
                    if let Some(owner) = records.last_mut() {
                        owner.vertices.push(record);
                    }
                }
                other => {
                    polyline = other == "POLYLINE";
                    records.push(record);
                }
            }
        } else if pair.code == 101 {
            embedded = true;
        } else if let Some(record) = records.last_mut() {
            if embedded {
                if matches!(pair.code, 1 | 3) {
                    record.embedded += pair.whole_text();
                }
                continue;
            }
            match record.vertices.last_mut() {
                Some(vertex) => vertex.pairs.push(pair.clone()),
                None => record.pairs.push(pair.clone()),
            }
        }
    }
    records
}
