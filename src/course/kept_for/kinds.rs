//! Kinds of firearms, and of what they fire, that a name may speak of.

use crate::catalog::Cartridge;
use crate::load::{Class, Construction, Load};
use crate::quantity::unit;
use crate::source::words_of;

/// The speed of sound on a warm day, ft/s: above it nothing is subsonic.
const SOUND_FT_S: f64 = 1150.0;

/// What a word of a name stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Rimfire,
    AirGun,
    Pistol,
    /// A handgun's cartridges, whatever fires them.
    PistolCalibre,
    Carbine,
    Rifle,
    Centrefire,
    LongGun,
    Shotgun,
    Slug,
    Shot,
    MuzzleLoader,
    /// Nothing that is judged here.
    Arrow,
    Slow,
    Lead,
    Frangible,
    Jacketed,
    /// Solid copper and the like.
    Solid,
    Magnum,
}

/// Words of kinds. `alone` are those that are of nothing else: `22` may be a size, and `bow` a tie.
#[rustfmt::skip]
pub(super) const KINDS: [(&str, Kind, bool); 92] = [
    ("pccs", Kind::PistolCalibre, true), ("smallbore", Kind::Rimfire, true), ("small bore", Kind::Rimfire, true),
    ("rimfire", Kind::Rimfire, true), ("rimfires", Kind::Rimfire, true), ("rim fire", Kind::Rimfire, true),
    ("22", Kind::Rimfire, false), ("22s", Kind::Rimfire, false), ("22 lr", Kind::Rimfire, true),
    ("22lr", Kind::Rimfire, true), ("22 long rifle", Kind::Rimfire, true), ("22 cal", Kind::Rimfire, true),
    ("22 caliber", Kind::Rimfire, true), ("22 calibre", Kind::Rimfire, true), ("22cal", Kind::Rimfire, true),
    ("22 rifle", Kind::Rimfire, true), ("22 rifles", Kind::Rimfire, true), ("22 pistol", Kind::Rimfire, true),
    ("22 wmr", Kind::Rimfire, true), ("22wmr", Kind::Rimfire, true), ("17 hmr", Kind::Rimfire, true),
    ("17hmr", Kind::Rimfire, true),
    ("airgun", Kind::AirGun, true), ("airguns", Kind::AirGun, true), ("air gun", Kind::AirGun, true),
    ("air guns", Kind::AirGun, true), ("air rifle", Kind::AirGun, true), ("air rifles", Kind::AirGun, true),
    ("air pistol", Kind::AirGun, true), ("air pistols", Kind::AirGun, true), ("pellet", Kind::AirGun, false),
    ("pellets", Kind::AirGun, false), ("pellet gun", Kind::AirGun, true), ("pellet guns", Kind::AirGun, true),
    ("pellet rifle", Kind::AirGun, true), ("bb", Kind::AirGun, false), ("bbs", Kind::AirGun, false),
    ("bb gun", Kind::AirGun, true), ("bb guns", Kind::AirGun, true), ("airsoft", Kind::Arrow, true),
    ("paintball", Kind::Arrow, true), ("bow", Kind::Arrow, false), ("bows", Kind::Arrow, false),
    ("archery", Kind::Arrow, true), ("crossbow", Kind::Arrow, true), ("slingshot", Kind::Arrow, true),
    ("handgun", Kind::Pistol, true), ("handguns", Kind::Pistol, true), ("pistol", Kind::Pistol, true),
    ("pistols", Kind::Pistol, true), ("revolver", Kind::Pistol, true), ("revolvers", Kind::Pistol, true),
    ("pistol caliber", Kind::PistolCalibre, true), ("pistol calibre", Kind::PistolCalibre, true),
    ("handgun caliber", Kind::PistolCalibre, true), ("carbine", Kind::Carbine, false),
    ("carbines", Kind::Carbine, false), ("pcc", Kind::PistolCalibre, true), ("rifle", Kind::Rifle, true),
    ("rifles", Kind::Rifle, true), ("high power", Kind::Rifle, true), ("centrefire", Kind::Centrefire, true),
    ("centerfire", Kind::Centrefire, true), ("center fire", Kind::Centrefire, true), ("long gun", Kind::LongGun, true),
    ("long guns", Kind::LongGun, true), ("shotgun", Kind::Shotgun, true), ("shotguns", Kind::Shotgun, true),
    ("slug", Kind::Slug, true), ("slugs", Kind::Slug, true), ("birdshot", Kind::Shot, true),
    ("buckshot", Kind::Shot, true), ("muzzleloader", Kind::MuzzleLoader, true),
    ("muzzle loader", Kind::MuzzleLoader, true), ("subsonic", Kind::Slow, true), ("lead", Kind::Lead, false),
    ("frangible", Kind::Frangible, true), ("magnums", Kind::Magnum, false),
    ("jacketed", Kind::Jacketed, false), ("fmj", Kind::Jacketed, false), ("full metal jacket", Kind::Jacketed, false),
    ("full metal jackets", Kind::Jacketed, false), ("copper", Kind::Solid, false), ("solids", Kind::Solid, false),
    ("solid copper", Kind::Solid, false), ("monolithic", Kind::Solid, false), ("monolithics", Kind::Solid, false),
    ("lead free", Kind::Solid, false), ("copper solids", Kind::Solid, false),
    ("subs", Kind::Slow, false), ("low velocity", Kind::Slow, false), ("cowboy", Kind::Lead, false),
];

impl Kind {
    /// Whether a target that is kept for it is for a load: one for rifles is for all, as it is judged the harder.
    pub fn takes(self, load: &Load) -> bool {
        use Class::{AirGun, Handgun, MuzzleLoader, PistolCarbine, RimfirePistol, RimfireRifle, Shot, Slug};
        let is = |classes: &[Class]| classes.contains(&load.judged_class());
        let construction = load.facts().construction;
        match self {
            Self::Rimfire => is(&[RimfireRifle, RimfirePistol, AirGun]),
            Self::AirGun => is(&[AirGun]),
            Self::Arrow => false,
            Self::Pistol => is(&[Handgun, RimfirePistol, AirGun]),
            Self::PistolCalibre | Self::Carbine => is(&[Handgun, PistolCarbine, RimfirePistol, RimfireRifle, AirGun]),
            Self::Shotgun => is(&[Shot, Slug]),
            Self::Slug => is(&[Slug]),
            Self::Shot => is(&[Shot]),
            Self::MuzzleLoader => is(&[MuzzleLoader]),
            Self::Slow => load.facts().muzzle_velocity <= unit::FOOT_PER_SECOND.of(SOUND_FT_S),
            Self::Lead => matches!(construction, Construction::Lead | Construction::LeadShot),
            Self::Frangible => construction == Construction::Frangible,
            Self::Jacketed => is_jacketed(construction),
            Self::Solid => construction == Construction::Monolithic,
            Self::Rifle | Self::Centrefire | Self::LongGun | Self::Magnum => true,
        }
    }

    /// Whether a load is of it, and a target that bars it is not for that load.
    pub fn is_of(self, load: &Load) -> bool {
        use Class::{Handgun, MuzzleLoader, PistolCarbine, Rifle, RimfirePistol, RimfireRifle, Shot, Slug};
        let is = |classes: &[Class]| classes.contains(&load.judged_class());
        match self {
            Self::Rimfire => is(&[RimfireRifle, RimfirePistol]),
            Self::AirGun => is(&[Class::AirGun]),
            Self::Pistol => is(&[Handgun]),
            Self::PistolCalibre => is(&[Handgun, PistolCarbine]),
            Self::Carbine => is(&[PistolCarbine]),
            Self::Rifle => is(&[Rifle]),
            Self::Centrefire => is(&[Rifle, PistolCarbine, Slug, Shot, MuzzleLoader, Handgun]),
            Self::LongGun => is(&[Rifle, PistolCarbine, Slug, Shot, MuzzleLoader, RimfireRifle]),
            Self::Shotgun => is(&[Shot, Slug]),
            Self::Slug => is(&[Slug]),
            Self::Shot => is(&[Shot]),
            Self::MuzzleLoader => is(&[MuzzleLoader]),
            Self::Magnum => is_magnum(load),
            Self::Frangible => load.facts().construction == Construction::Frangible,
            Self::Jacketed => is_jacketed(load.facts().construction),
            Self::Solid => load.facts().construction == Construction::Monolithic,
            Self::Arrow | Self::Slow | Self::Lead => false,
        }
    }
}

/// Whether a bullet has a jacket, or may have one.
fn is_jacketed(construction: Construction) -> bool {
    use Construction::{Frangible, Lead, LeadShot, Monolithic, Plated, SteelShot};
    !matches!(construction, Frangible | Lead | LeadShot | Monolithic | Plated | SteelShot)
}

/// Whether a load is called a magnum by its cartridge or its name.
fn is_magnum(load: &Load) -> bool {
    let facts = load.facts();
    let texts = std::iter::once(&facts.name).chain(&facts.cartridge).map(|text| text.to_lowercase());
    let mut listed =
        Cartridge::of(load).into_iter().flat_map(|own| own.aliases().iter().map(|name| name.to_lowercase()));
    let is = |text: String| words_of(&text).iter().any(|word| matches!(*word, "mag" | "magnum" | "magnums"));
    texts.into_iter().any(is) || listed.any(is)
}
