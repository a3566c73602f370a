//! Velocities that are metres a second, written as feet: such a load would arrive at a third of its speed.

use super::cartridge::Cartridge;
use super::described::{BuildError, Built, Described, DescriptionError};
use super::reach::Envelope;
use super::resolve::Resolver;
use crate::load::{Firearm, Load};
use crate::quantity::{Mass, Measure, Velocity, unit};

/// Velocities in m/s that rifles have, read as ft/s; faster ones are told as ways out.
const RIFLE_METRES_AS_FEET: std::ops::RangeInclusive<f64> = 500.0..=1050.0;
/// As slow as this a rifle's load may have been written in metres a second, ft/s.
const SLOW_RIFLE: std::ops::Range<f64> = 500.0..1200.0;
/// From where on a velocity is one that subsonic loads have, ft/s, and of how heavy a bullet, gr: lighter ones have as many
/// metres a second from common rifles (house assumption).
const SUBSONIC_FT_S: f64 = 950.0;
const SUBSONIC_GR: f64 = 110.0;
/// What is said between a slow velocity that was taken and what it would be in metres.
pub const AS_WRITTEN: &str = " as written, not ";
/// Speeds of other firearms that may be metres a second, as feet.
const METRES_AS_FEET: std::ops::RangeInclusive<f64> = 200.0..=1050.0;
/// Below this share of the slowest that is usual for its cartridge a load is slower than those that are sold as slow, and
/// below the other of the slowest usual for such a bullet, where no cartridge is named (house assumptions).
const SHARE_OF_CARTRIDGE: f64 = 0.5;
const SHARE_OF_KIND: f64 = 0.45;
/// How far beyond what is usual a speed, an energy or a bullet still is (house assumptions).
const SPEED: (f64, f64) = (0.8, 1.05);
const ENERGY: f64 = 1.1;
const BULLET: (f64, f64) = (0.9, 1.1);
/// Words of a load that is slow on purpose.
const SLOW: [&str; 4] = ["subsonic", "cowboy", "quiet", "gallery"];

impl Described {
    /// The load that is described. A drag table is opened by the resolver, and
    /// refused without one.
    ///
    /// # Errors
    /// [`BuildError`] names what is missing or wrong, and the fix.
    pub fn build(&self, id: &str, resolver: Option<&dyn Resolver>) -> Result<Built, BuildError> {
        let mut built = self.build_as_written(id, resolver)?;
        built.assumed.extend(self.check_speed(&built.load)?);
        self.check_usual(&built.load)?;
        Ok(built)
    }

    /// A rifle's sleek bullet that leaves no faster than sound is one of the few loads called subsonic, or metres a second
    /// written as feet: it would arrive at a third of its speed. What a chronograph saved is what it read. A speed that a
    /// subsonic load of such a bullet has is taken, and told; so is that of a blunt one.
    fn check_speed(&self, load: &Load) -> Result<Option<String>, BuildError> {
        let (facts, fps) = (load.facts(), unit::FOOT_PER_SECOND.value(load.facts().muzzle_velocity));
        let word = matches!(facts.firearm, Firearm::Unknown | Firearm::Rifle);
        let meant = self.is_called(load, &["subsonic"]) || self.is_as_read(facts.muzzle_velocity);
        if !word || meant || !SLOW_RIFLE.contains(&fps) {
            return Ok(None);
        }
        let usual = fps >= SUBSONIC_FT_S && facts.bullet >= unit::GRAIN.of(SUBSONIC_GR);
        if !RIFLE_METRES_AS_FEET.contains(&fps) || !load.has_rifle_coefficient() || usual {
            return Ok(Some(format!("{fps:.0} ft/s{AS_WRITTEN}{fps:.0} m/s")));
        }
        let message = format!("{fps:.0} ft/s is slow for a rifle's bullet of this coefficient: is it {fps:.0} m/s?");
        let help = "write the unit it was read in, `905 m/s`; where it is a subsonic load, call it so: `subsonic` in its \
                    name (`--name`, `name` in a file)";
        Err(BuildError::Description(DescriptionError { key: "muzzle-velocity", message, help: help.into() }))
    }

    /// Whether its velocity is none that was written in the wrong unit: it is a chronograph's, or in metres a second.
    fn is_as_read(&self, velocity: Velocity) -> bool {
        self.tolerance_factor.is_some() || self.is_in_metres() || is_of_metres(velocity)
    }

    /// Whether its velocity is written in metres a second.
    fn is_in_metres(&self) -> bool {
        let text = self.muzzle_velocity.as_ref().map(|given| given.text().trim_end().to_lowercase());
        text.is_some_and(|text| text.ends_with("m/s") || text.ends_with("mps"))
    }

    /// Whether its name, its source or its cartridge has one of some words.
    fn is_called(&self, load: &Load, words: &[&str]) -> bool {
        let facts = load.facts();
        let texts = [Some(&facts.name), self.source.as_ref(), facts.cartridge.as_ref()];
        let mut texts = texts.into_iter().flatten().map(|text| text.to_lowercase());
        texts.any(|text| words.iter().any(|word| text.contains(word)))
    }

    /// A pistol's, a rimfire's, a shotgun's or a muzzle-loader's load that is far slower than any that is usual, and as
    /// fast as they are in metres a second.
    fn check_usual(&self, load: &Load) -> Result<(), BuildError> {
        let (facts, fps) = (load.facts(), unit::FOOT_PER_SECOND.value(load.facts().muzzle_velocity));
        let is_slow = self.is_called(load, &SLOW);
        let is_other = matches!(facts.firearm, Firearm::Unknown | Firearm::Rifle | Firearm::AirGun);
        if is_other || is_slow || !METRES_AS_FEET.contains(&fps) || self.is_as_read(facts.muzzle_velocity) {
            return Ok(());
        }
        let of =
            Cartridge::of(load).filter(|cartridge| cartridge.envelopes().iter().any(|e| e.firearm == facts.firearm));
        let all = match of {
            Some(cartridge) => std::slice::from_ref(cartridge),
            None => Cartridge::builtin().unwrap_or_default(),
        };
        let envelopes = all.iter().flat_map(|cartridge| cartridge.envelopes());
        let envelopes: Vec<&Envelope> =
            envelopes.filter(|e| e.firearm == facts.firearm && is_usual(e, facts.bullet)).collect();
        let share = if of.is_some() { SHARE_OF_CARTRIDGE } else { SHARE_OF_KIND };
        if !is_metres(&envelopes, facts.muzzle_velocity, facts.bullet, share) {
            return Ok(());
        }
        let whose = of.map_or_else(|| "such a bullet".to_owned(), |cartridge| cartridge.name().to_owned());
        let message = format!("{fps:.0} ft/s is under half of what is usual for {whose}: is it {fps:.0} m/s?");
        let help = format!(
            "write the unit it was read in, `{fps:.0} m/s`; where it is a slow load, call it so: `subsonic`, `cowboy` or \
             `quiet` in its name (`--name`, `name` in a file)"
        );
        Err(BuildError::Description(DescriptionError { key: "muzzle-velocity", message, help }))
    }
}

/// Whether a speed was written in metres a second: it has at most a tenth of them, and no such share of feet.
fn is_of_metres(speed: Velocity) -> bool {
    let is_whole = |value: f64, digits: i32| {
        let shifted = value * 10_f64.powi(digits);
        (shifted - shifted.round()).abs() < 1e-6
    };
    is_whole(unit::METRE_PER_SECOND.value(speed), 1) && !is_whole(unit::FOOT_PER_SECOND.value(speed), 3)
}

/// Whether a bullet is none too light or too heavy for an envelope.
fn is_usual(envelope: &Envelope, bullet: Mass) -> bool {
    let masses = envelope.loads().map(|load| load.facts().bullet.si());
    let (low, high) = masses.iter().fold((f64::INFINITY, 0.0_f64), |(low, high), m| (low.min(*m), high.max(*m)));
    (BULLET.0 * low..=BULLET.1 * high).contains(&bullet.si())
}

/// Whether a velocity is too slow for every envelope, and usual where its feet are metres.
fn is_metres(envelopes: &[&Envelope], velocity: Velocity, bullet: Mass, share: f64) -> bool {
    let loads = envelopes.iter().flat_map(|envelope| envelope.loads());
    let of = |load: &Load| (load.facts().muzzle_velocity.si(), load.facts().bullet.si());
    let energy = |(speed, mass): (f64, f64)| 0.5 * mass * speed * speed;
    let (slowest, fastest, strongest) =
        loads.map(|load| of(load)).fold((f64::INFINITY, 0.0_f64, 0.0_f64), |all, load| {
            (all.0.min(load.0), all.1.max(load.0), all.2.max(energy(load)))
        });
    let in_metres = unit::FOOT_PER_SECOND.value(velocity);
    velocity.si() < share * slowest
        && (SPEED.0 * slowest..=SPEED.1 * fastest).contains(&in_metres)
        && energy((in_metres, bullet.si())) <= ENERGY * strongest
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::{Coefficients, Model};
    use crate::drag::DragModel;
    use crate::load::Construction;
    use crate::quantity::{Given, Text};

    fn build(
        cartridge: Option<&str>,
        firearm: Firearm,
        grains: f64,
        velocity: &str,
        name: Option<&str>,
    ) -> Result<Built, BuildError> {
        let described = Described {
            name: name.map(str::to_owned),
            cartridge: cartridge.map(str::to_owned),
            firearm: Some(firearm),
            construction: Some(Construction::Lead),
            bullet: Some(Text(unit::GRAIN.of(grains))),
            muzzle_velocity: Some(Given::read(velocity).unwrap()),
            drag: Some(Model(DragModel::G1)),
            bc: Some(Coefficients::Single(unit::POUND_PER_SQUARE_INCH.of(if firearm == Firearm::AirGun {
                0.03
            } else {
                0.13
            }))),
            ..Described::default()
        };
        described.build("a", None)
    }

    #[test]
    fn metres_written_as_feet_are_refused_for_every_firearm_with_powder() {
        for (cartridge, firearm, grains, velocity) in [
            (Some(".454 Casull"), Firearm::Handgun, 300.0, "500 ft/s"),
            (Some(".17 HMR"), Firearm::RimfireRifle, 17.0, "780fps"),
            (Some("500 S&W Magnum"), Firearm::Handgun, 350.0, "552 ft/s"),
            (Some(".44 Magnum"), Firearm::PistolCarbine, 240.0, "543 ft/s"),
            (None, Firearm::MuzzleLoader, 250.0, "620 ft/s"),
            (None, Firearm::RimfireRifle, 17.0, "780 ft/s"),
        ] {
            let Err(BuildError::Description(fault)) = build(cartridge, firearm, grains, velocity, None) else {
                panic!("{cartridge:?} {velocity}")
            };
            assert!(fault.message.contains("m/s?") && fault.key == "muzzle-velocity", "{}", fault.message);
            // In metres, or called slow, it is meant.
            let metres = velocity.replace("ft/s", "m/s").replace("fps", "m/s");
            assert!(build(cartridge, firearm, grains, &metres, None).is_ok(), "{metres}");
            assert!(build(cartridge, firearm, grains, velocity, Some("Quiet load")).is_ok());
        }
    }

    #[test]
    fn slow_loads_that_are_sold_or_loaded_are_taken() {
        for (cartridge, firearm, grains, velocity) in [
            (Some(".357 Magnum"), Firearm::PistolCarbine, 158.0, "650 ft/s"),
            (Some(".44 Magnum"), Firearm::Handgun, 240.0, "700 ft/s"),
            (Some(".45 Colt"), Firearm::Handgun, 250.0, "650 ft/s"),
            (Some(".38 Special"), Firearm::Handgun, 158.0, "600 ft/s"),
            (Some(".22 LR"), Firearm::RimfireRifle, 40.0, "710 ft/s"),
            (Some(".22 LR"), Firearm::RimfireRifle, 20.0, "375 ft/s"),
            (Some(".22 Short"), Firearm::RimfireRifle, 29.0, "730 ft/s"),
            (Some(".177 air gun"), Firearm::AirGun, 8.0, "300 ft/s"),
            (Some("12 gauge"), Firearm::Shotgun, 437.5, "1000 ft/s"),
            (None, Firearm::MuzzleLoader, 140.0, "700 ft/s"),
            (None, Firearm::Handgun, 240.0, "650 ft/s"),
            (None, Firearm::RimfirePistol, 40.0, "600 ft/s"),
        ] {
            assert!(build(cartridge, firearm, grains, velocity, None).is_ok(), "{cartridge:?} {firearm:?} {velocity}");
        }
    }
}
