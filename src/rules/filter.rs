//! When a rule applies.

use super::setup::Setup;
use super::value::{at_least, at_most};
use crate::load::{Class, Construction, Firearm, Load};
use crate::plate::{Condition, Duty, Mount, Plate, Steel};
use crate::quantity::{Energy, Length, Mass, Measure, Range, Velocity};

/// How much of its nominal thickness a plate has at least: 4.75, 6, 9.5 and 12 mm are mill sizes of 3/16, 1/4, 3/8
/// and 1/2 in (house assumption).
pub const NOMINAL_SHARE: f64 = 0.94;

/// When a rule applies; what is empty applies always.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Filter {
    /// Classes of load, by name or as judged.
    pub class: Vec<Class>,
    /// Constructions, as judged.
    pub construction: Vec<Construction>,
    /// Mounts.
    pub mount: Vec<Mount>,
    /// Duties.
    pub duty: Vec<Duty>,
    /// Plate conditions.
    pub condition: Vec<Condition>,
    /// Steels.
    pub steel: Vec<Steel>,
    /// Plates from this nominal thickness.
    pub thickness_from: Option<Length>,
    /// Plates of a thinner nominal thickness than this.
    pub thickness_below: Option<Length>,
    /// Mean muzzle velocity above this, the powder at its hottest.
    pub muzzle_speed_above: Option<Velocity>,
    /// Mean muzzle velocity up to this, the powder at its coldest.
    pub muzzle_speed_at_most: Option<Velocity>,
    /// Mean muzzle energy above this, likewise: of one projectile, in a range's own rules of the whole shot.
    pub muzzle_energy_above: Option<Energy>,
    /// Mean muzzle energy of one projectile up to this, likewise.
    pub muzzle_energy_at_most: Option<Energy>,
    /// Mass of one projectile from this.
    pub bullet_from: Option<Mass>,
    /// Mass of one projectile below this.
    pub bullet_below: Option<Mass>,
    /// Only nearer than this.
    pub within: Option<Length>,
    /// Only where the tilt was given, or was not.
    pub tilt_given: Option<bool>,
    /// Only where the cartridge often comes with steel jackets or cores, or does not.
    pub steel_common: Option<bool>,
}

/// A plate and how it stands, as filters see it. Numbers are SI.
#[derive(Debug, Clone, Copy)]
pub(super) struct Standing {
    pub mount: Mount,
    pub duty: Duty,
    pub condition: Condition,
    pub steel: Steel,
    pub thickness: f64,
    pub tilt_given: bool,
}

impl Standing {
    pub fn of(plate: &Plate, setup: &Setup) -> Self {
        Self {
            mount: setup.mount,
            duty: setup.duty,
            condition: setup.condition,
            steel: setup.steel,
            thickness: plate.thickness.si(),
            tilt_given: setup.tilt.is_some(),
        }
    }
}

/// A load on a day, as filters see it. Numbers are SI.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shot {
    /// The class it is called by and the one it is judged as besides.
    pub classes: [Class; 2],
    /// Nobody said what fires it.
    pub is_of_any: bool,
    pub construction: Construction,
    /// Of the day, from the coldest powder to the hottest.
    pub muzzle_speed: Range<f64>,
    /// Of one projectile.
    pub muzzle_energy: Range<f64>,
    /// Projectiles in a shot.
    pub projectiles: f64,
    pub bullet: f64,
    pub steel_common: bool,
    /// Nobody said what cartridge it is, or nothing lists it.
    pub is_of_any_cartridge: bool,
}

impl Shot {
    pub fn of(load: &Load, muzzle: Range<Velocity>) -> Self {
        let energy = |speed: Velocity| load.energy(speed).si();
        Self {
            classes: [load.class(), load.judged_class_at(muzzle.high)],
            is_of_any: load.facts().firearm == Firearm::Unknown,
            construction: load.judged_construction(),
            muzzle_speed: Range { low: muzzle.low.si(), high: muzzle.high.si() },
            muzzle_energy: Range { low: energy(muzzle.low), high: energy(muzzle.high) },
            projectiles: f64::from(load.facts().projectiles),
            bullet: load.facts().bullet.si(),
            steel_common: load.facts().steel_common,
            is_of_any_cartridge: load.facts().cartridge.is_none() || load.facts().cartridge_unlisted,
        }
    }

    /// The most energy as a rule sees it: the house's own energies are of one projectile; a range that states one means
    /// the shot's, at the stricter of the two.
    fn most_energy(&self, a_range: bool) -> f64 {
        self.muzzle_energy.high * if a_range { self.projectiles } else { 1.0 }
    }
}

fn lists<T: PartialEq>(list: &[T], value: &T) -> bool {
    list.is_empty() || list.contains(value)
}

impl Filter {
    /// Whether it is the day's hot powder that brings a load it speaks of past its speed or energy: as listed, the load
    /// is at or under it.
    #[must_use]
    pub fn counts_powder(&self, load: &Load) -> bool {
        let facts = load.facts();
        let speed = self.muzzle_speed_above.is_some_and(|v| at_most(facts.muzzle_velocity.si(), v.si()));
        let energy =
            self.muzzle_energy_above.is_some_and(|e| at_most(load.charge_energy(facts.muzzle_velocity).si(), e.si()));
        speed || energy
    }

    /// Whether it speaks of every plate, however it stands.
    pub(super) fn admits_any_plate(&self) -> bool {
        self.mount.is_empty()
            && self.duty.is_empty()
            && self.condition.is_empty()
            && self.steel.is_empty()
            && self.tilt_given.is_none()
            && self.thickness_from.is_none()
            && self.thickness_below.is_none()
    }

    /// Whether it speaks of a plate that stands so.
    pub(super) fn admits_plate(&self, plate: &Standing) -> bool {
        let reaches = |nominal: Length| at_least(plate.thickness, NOMINAL_SHARE * nominal.si());
        lists(&self.mount, &plate.mount)
            && lists(&self.duty, &plate.duty)
            && lists(&self.condition, &plate.condition)
            && lists(&self.steel, &plate.steel)
            && self.tilt_given.is_none_or(|given| given == plate.tilt_given)
            && self.thickness_from.is_none_or(reaches)
            && self.thickness_below.is_none_or(|t| !reaches(t))
    }

    /// Whether it speaks of such a shot, at any distance; of a range's own rules or the house's.
    pub(super) fn admits_shot(&self, shot: &Shot, a_range: bool) -> bool {
        // A range that asks more of a class asks it of what may be of that class.
        (shot.classes.iter().any(|class| lists(&self.class, class)) || (a_range && shot.is_of_any))
            && lists(&self.construction, &shot.construction)
            && self
                .steel_common
                .is_none_or(|common| common == shot.steel_common || (a_range && shot.is_of_any_cartridge))
            && self.muzzle_speed_above.is_none_or(|v| !at_most(shot.muzzle_speed.high, v.si()))
            && self.muzzle_speed_at_most.is_none_or(|v| at_most(shot.muzzle_speed.low, v.si()))
            && self.muzzle_energy_above.is_none_or(|e| !at_most(shot.most_energy(a_range), e.si()))
            && self.muzzle_energy_at_most.is_none_or(|e| at_most(shot.muzzle_energy.low, e.si()))
            && self.bullet_from.is_none_or(|m| at_least(shot.bullet, m.si()))
            && self.bullet_below.is_none_or(|m| !at_least(shot.bullet, m.si()))
    }
}
