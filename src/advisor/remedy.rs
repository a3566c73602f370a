//! What would make a case suit: each change, alone or with others, judged again before it is told.

use super::answer::{Changes, PlateName, WouldSuit};
use super::facts;
use super::judge::Judge;
use crate::load::Construction;
use crate::numeric::bisect;
use crate::order::Order;
use crate::plate::{Condition, Mount, Plate, Steel};
use crate::quantity::{Angle, Degrees, Length, Measure, Si, parse, unit};
use crate::rules::{Setup, Verdict};
use crate::vet::{Remedies, leans};
use crate::words::{self, Units};

/// How finely the distance is found up to which a plate suits, m.
const FOUND_M: f64 = 0.1;

/// A case that does not suit, and what could be hung in its place.
pub(crate) struct Sought<'a> {
    pub judge: &'a Judge<'a>,
    /// The same loads of a lead core, where that is a change.
    pub lead: Option<&'a Judge<'a>>,
    /// The plates there are, thin to thick.
    pub plates: &'a [Plate],
    pub plate: &'a Plate,
    pub setup: &'a Setup,
    /// Whether it is a plate that can be hung.
    pub is_hung: bool,
    pub distance: Length,
    pub units: Units,
}

/// A change of how the plate stands, of what it is, or of what is shot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Change {
    Sound,
    Steel,
    Hung,
    Square,
    Lean,
    LeadCore,
}

const ALL: [Change; 6] = [Change::Sound, Change::Steel, Change::Hung, Change::Square, Change::Lean, Change::LeadCore];

/// Changes as they are tried: the stand, whether of a lead core, and where.
struct Tried {
    setup: Setup,
    of_lead: bool,
    made: Vec<Change>,
}

/// From where to where a plate suits that does not suit at a distance, as it is told; none where it suits from nowhere
/// nearer.
/// Beyond the distance from which on it suits it is the fall of the bullets alone that fails, the steeper the farther.
pub(crate) fn nearer(
    judge: &Judge,
    plate: &Plate,
    setup: &Setup,
    fails: Length,
    units: Units,
) -> Option<(Length, Length)> {
    let from = rounded_up(judge.nearest(plate, setup)?, units);
    let suits = |distance: Length| judge.suits(plate, setup, distance);
    if from >= fails || !suits(from) || suits(fails) {
        return None;
    }
    let (far, _) = bisect(from.si(), fails.si(), FOUND_M, |metres| suits(Length::from_si(metres)));
    let to: Length = parse(&units.distance_down(Length::from_si(far))).ok()?;
    (to > from && suits(to)).then_some((from, to))
}

/// `from 269 yd on`; `from 11 yd to 240 yd`, where it suits no farther.
pub(crate) fn from_where(found: &WouldSuit, units: Units) -> Option<String> {
    let between = found.between.zip(found.and);
    let between = between.map(|(from, to)| format!("from {}", units.from_to(*from, Some(*to))));
    between.or_else(|| found.nearest.map(|from| format!("from {} on", units.distance_up(*from))))
}

/// No way out.
pub(crate) fn nothing_would() -> WouldSuit {
    let words = "No change that was tried would do: of distance, plate, velocity, lean, turn, mount, steel or bullet.";
    WouldSuit { words: vec![words.into()], ..WouldSuit::default() }
}

impl Sought<'_> {
    /// Each change that would do alone, else the fewest that would together; none where no change does, and none is told
    /// that was not judged.
    pub fn would_suit(&self, remedies: &Remedies) -> Option<WouldSuit> {
        let nearest = remedies.distance.and_then(|_| self.judge.nearest(self.plate, self.setup));
        let nearest = nearest.filter(|from| self.suits_from(*from));
        // Asked from too near it suits from its nearest on, or up to where that ends.
        let between = match nearest {
            Some(from) => self.up_to(from),
            None => nearer(self.judge, self.plate, self.setup, self.distance, self.units),
        };
        let mut found = WouldSuit {
            distance: remedies.distance.map(Si),
            nearest: nearest.map(Si),
            between: between.map(|(from, _)| Si(from)),
            and: between.map(|(_, to)| Si(to)),
            plate: remedies.plate.as_ref().map(facts::plate),
            muzzle_velocity: remedies.muzzle_velocity.map(Si),
            tilt: remedies.tilt.map(Degrees),
            oblique: remedies.oblique.map(Degrees),
            mount: remedies.mount,
            condition: self.alone(Change::Sound).then_some(Condition::Sound),
            steel: self.alone(Change::Steel).then_some(Steel::Ar500),
            construction: self.alone(Change::LeadCore).then_some(Construction::JacketedLead),
            ..WouldSuit::default()
        };
        found.words = self.words(&found);
        if found.words.is_empty() {
            let together = self.together()?;
            found.words.push(format!("Only together: {}.", together.words));
            found.together = Some(together);
        }
        Some(found)
    }

    /// From where to where it suits, as it is told; none where that does not end.
    fn up_to(&self, from: Length) -> Option<(Length, Length)> {
        let to = self.judge.farthest(self.plate, self.setup, from, from * 2.0, None)?;
        Some((rounded_up(from, self.units), parse(&self.units.distance_down(to)).ok()?))
    }

    fn words(&self, found: &WouldSuit) -> Vec<String> {
        let units = self.units;
        let mut words = Vec::new();
        words.extend(from_where(found, units).map(|from| format!("Shoot {from}.")));
        words.extend(found.plate.as_ref().map(|plate| format!("Hang {} at this distance.", plate.label)));
        words.extend(found.tilt.map(|tilt| match leaning(*tilt) {
            Some(lean) => format!("Lean the face {lean}."),
            None => "Set the face plumb.".into(),
        }));
        words.extend(found.oblique.map(|turn| format!("Turn the face to {} at most.", words::degrees(turn.abs()))));
        words.extend(found.mount.map(|mount| format!("Have it {}.", mount.words())));
        words.extend(found.condition.map(|_| "Hang a sound plate.".to_owned()));
        words.extend(found.steel.map(|_| "Take a plate marked AR500.".to_owned()));
        words.extend(found.construction.map(|_| words::sentence(self.lead_core_words()) + "."));
        let speed = found.muzzle_velocity.map(|speed| units.speed_down(*speed));
        words.extend(speed.map(|speed| format!("Load to at most {speed} at the muzzle.")));
        words
    }

    /// An unknown bullet may well have a lead core: that is found out, not changed.
    fn lead_core_words(&self) -> &'static str {
        if self.judge.any_unknown() {
            "hold a magnet to the bullet: if it clings, keep it off steel; if not, make sure of its lead core and say so"
        } else {
            "shoot lead-core bullets"
        }
    }

    fn alone(&self, change: Change) -> bool {
        self.tried(&[change]).is_some_and(|tried| self.suits(&tried, self.plate, self.distance))
    }

    /// Whether a distance, as it is told, suits.
    pub fn suits_from(&self, distance: Length) -> bool {
        let told = rounded_up(distance, self.units);
        self.judge.suits(self.plate, self.setup, told)
    }

    /// The fewest changes that do together, where none alone does.
    pub fn together(&self) -> Option<Changes> {
        let mut sets: Vec<Vec<Change>> = (1..1_u32 << ALL.len())
            .map(|mask| (0..ALL.len()).filter(|i| mask & (1 << i) != 0).map(|i| ALL[i]).collect())
            .collect();
        sets.order_by_key(Vec::len);
        for count in 2..=ALL.len() + 1 {
            for set in sets.iter().filter(|set| set.len() == count || set.len() + 1 == count) {
                let Some(tried) = self.tried(set) else { continue };
                let found = if set.len() == count { self.here(&tried) } else { self.elsewhere(&tried) };
                if found.is_some() {
                    return found;
                }
            }
        }
        None
    }

    fn here(&self, tried: &Tried) -> Option<Changes> {
        self.suits(tried, self.plate, self.distance).then(|| self.changes(tried, None, None))
    }

    /// On a thicker plate, or from farther off.
    fn elsewhere(&self, tried: &Tried) -> Option<Changes> {
        let mut thicker = self.plates.iter().filter(|plate| plate.thickness > self.plate.thickness);
        if let Some(plate) = thicker.find(|plate| self.suits(tried, plate, self.distance)) {
            return Some(self.changes(tried, None, Some(plate)));
        }
        let from = self.judge_of(tried)?.nearest(self.plate, &tried.setup).filter(|from| *from > self.distance)?;
        let suits = self.suits(tried, self.plate, rounded_up(from, self.units));
        suits.then(|| self.changes(tried, Some(from), None))
    }

    fn judge_of(&self, tried: &Tried) -> Option<&Judge<'_>> {
        if tried.of_lead { self.lead } else { Some(self.judge) }
    }

    fn suits(&self, tried: &Tried, plate: &Plate, distance: Length) -> bool {
        self.judge_of(tried).is_some_and(|judge| judge.suits(plate, &tried.setup, distance))
    }

    /// The changes made; none where one of them changes nothing.
    fn tried(&self, set: &[Change]) -> Option<Tried> {
        let mut tried = Tried { setup: self.setup.clone(), of_lead: false, made: set.to_vec() };
        for change in set {
            let setup = &mut tried.setup;
            match change {
                Change::Sound if setup.condition == Condition::Pitted => setup.condition = Condition::Sound,
                Change::Steel if setup.steel != Steel::Ar500 => setup.steel = Steel::Ar500,
                Change::Hung if self.is_hung && !setup.mount.is_free() => setup.mount = Mount::OpenHook,
                Change::Square if setup.oblique.si().abs() > 1e-9 => setup.oblique = unit::DEGREE.of(0.0),
                Change::LeadCore if self.lead.is_some() => tried.of_lead = true,
                Change::Lean => {}
                _ => return None,
            }
        }
        if set.contains(&Change::Lean) {
            tried.setup.tilt = Some(self.lean(&tried)?);
        }
        Some(tried)
    }

    /// The lean nearest to the own that betters the verdict, in whole degrees: on this plate, or on the thickest where
    /// this one fails whatever it leans.
    fn lean(&self, tried: &Tried) -> Option<Angle> {
        self.lean_on(self.plate, tried).or_else(|| self.lean_on(self.plates.last()?, tried))
    }

    fn lean_on(&self, plate: &Plate, tried: &Tried) -> Option<Angle> {
        let judge = self.judge_of(tried)?;
        let leans = leans(self.setup.tilt, judge.air_taken().slope());
        let verdict = |tilt: Option<Angle>| judge.verdict(plate, &Setup { tilt, ..tried.setup.clone() }, self.distance);
        let here = verdict(self.setup.tilt);
        let better = |want: Verdict| leans.iter().copied().find(|lean| verdict(Some(*lean)) <= want);
        match here {
            Verdict::Suits => None,
            Verdict::Borderline => better(Verdict::Suits),
            Verdict::Unsuitable => better(Verdict::Suits).or_else(|| better(Verdict::Borderline)),
        }
    }

    /// Each change beside distance, plate and speed that does alone, in words.
    pub fn others(&self) -> Vec<String> {
        let alone = |change: &Change| {
            let tried = self.tried(&[*change])?;
            self.suits(&tried, self.plate, self.distance).then(|| self.changes(&tried, None, None).words)
        };
        ALL.iter().filter_map(alone).collect()
    }

    fn changes(&self, tried: &Tried, from: Option<Length>, plate: Option<&Plate>) -> Changes {
        let made = |change: Change| tried.made.contains(&change);
        let setup = &tried.setup;
        let plate: Option<PlateName> = plate.map(facts::plate);
        let mut told = Vec::new();
        if made(Change::LeadCore) {
            told.push(self.lead_core_words().to_owned());
        }
        let what = plate.as_ref().map(|plate| plate.label.clone());
        let what: Vec<String> = what.into_iter().chain(made(Change::Steel).then(|| "AR500".to_owned())).collect();
        match (made(Change::Sound), what.is_empty()) {
            (true, true) => told.push("hang a sound plate".into()),
            (true, false) => told.push(format!("hang a sound plate of {}", what.join(" "))),
            (false, false) => told.push(format!("hang {}", what.join(" "))),
            (false, true) => {}
        }
        if made(Change::Hung) {
            told.push("hang it from open hooks".into());
        }
        if made(Change::Square) {
            told.push("turn it square to the shooter".into());
        }
        if let Some(tilt) = setup.tilt.filter(|_| made(Change::Lean)) {
            told.push(leaning(tilt).map_or_else(|| "set it plumb".into(), |lean| format!("lean it {lean}")));
        }
        if let Some(from) = from {
            told.push(format!("shoot from {} on", self.units.distance_up(from)));
        }
        Changes {
            distance: from.map(Si),
            plate,
            condition: made(Change::Sound).then_some(setup.condition),
            steel: made(Change::Steel).then_some(setup.steel),
            mount: made(Change::Hung).then_some(setup.mount),
            tilt: setup.tilt.filter(|_| made(Change::Lean)).map(Degrees),
            oblique: made(Change::Square).then_some(Degrees(setup.oblique)),
            construction: made(Change::LeadCore).then_some(Construction::JacketedLead),
            words: words::listed(&told),
        }
    }
}

/// `12° toward you`, `35° away from you`; none where the face is plumb.
fn leaning(tilt: Angle) -> Option<String> {
    match words::degrees(Angle::from_si(tilt.si().abs())) {
        none if none == "0°" => None,
        lean if tilt.si() < 0.0 => Some(format!("{lean} away from you")),
        lean => Some(format!("{lean} toward you")),
    }
}

/// A distance as it is told, which is a little farther.
pub(crate) fn rounded_up(distance: Length, units: Units) -> Length {
    parse(&units.distance_up(distance)).unwrap_or(distance)
}
