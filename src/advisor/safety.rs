//! What keeps people from being hurt in a case: one paragraph for everyone, and each caution whole.
//!
//! Common practice unless a source stands beside. A caution whose absence could hurt someone in a case is in the
//! paragraph; the list holds all of them, each once, the most pressing first.

use super::lean::Lean;
use super::nearest::Nearest;
use crate::load::{Class, Construction, Load};
use crate::plate::{Condition, Mount};
use crate::quantity::{Length, Temperature, unit};
use crate::rules::Setup;
use crate::spread::Carry;
use crate::words::Units;

/// What these limits are, and what stands above them.
pub(crate) const NOTICE: &str = "Rules of thumb: range rules, local codes and law, licensed professionals \
and the range officer stand above.";

/// What the cautions depend on.
#[derive(Debug, Clone)]
pub(crate) struct Occasion<'a> {
    pub loads: Vec<&'a Load>,
    pub setups: Vec<&'a Setup>,
    /// How near anyone may come while it is shot at.
    pub nearest: Nearest,
    /// Whether any of it may be shot: not where all of it is unsuitable.
    pub is_shot: bool,
    /// The leans that suit, where they are known.
    pub lean: Option<Lean>,
    /// The nearest distance that is shot from, where one was asked.
    pub shot_from: Option<Length>,
    /// The coldest of the weather.
    pub coldest: Temperature,
    /// How far a miss carries.
    pub carry: Option<Carry>,
    pub units: Units,
}

/// A caution of the trade.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Caution {
    Near,
    Plane,
    Eyes,
    Never,
    Inspect,
    ComesBack,
    ColdLine,
    Backstop,
    Lean,
    Grass,
    Hardware,
    Settle,
    Chain,
    Bolts,
    Frozen,
    Ground,
    Racks,
    Close,
    Turned,
    Positions,
    Repair,
    Lead,
    Notice,
}

/// In the order they are told.
const ALL: &[Caution] = &[
    Caution::Near,
    Caution::Plane,
    Caution::Eyes,
    Caution::Never,
    Caution::Inspect,
    Caution::Turned,
    Caution::Lean,
    Caution::Close,
    Caution::Frozen,
    Caution::Ground,
    Caution::Racks,
    Caution::Grass,
    Caution::Hardware,
    Caution::Chain,
    Caution::Bolts,
    Caution::Settle,
    Caution::ComesBack,
    Caution::ColdLine,
    Caution::Backstop,
    Caution::Positions,
    Caution::Repair,
    Caution::Lead,
    Caution::Notice,
];

/// Lean calls for a word within this, yd: there splash comes back to the shooter (as the house rule on lean).
const LEAN_WITHIN_YD: f64 = 50.0;
/// The least lean that sends splash into the ground, degrees (as the house rule on lean).
const LEAN_DEG: f64 = 10.0;
/// Within this everyone forward of the muzzle is in the splash, yd (house assumption).
const CLOSE_YD: f64 = 15.0;
/// Ground is frozen, or ice lies on it, below this in the night or the day before, °F (house assumption).
const FROST_F: f64 = 40.0;
/// Hits harder than this loosen hooks and bolts, ft·lbf at the muzzle (house assumption).
const HEAVY_FT_LBF: f64 = 2000.0;

/// The cautions of an occasion, the most pressing first.
pub(crate) fn cautions(occasion: &Occasion) -> Vec<Caution> {
    ALL.iter().copied().filter(|caution| caution.applies(occasion)).collect()
}

/// Every caution of an occasion, whole.
pub(crate) fn list(occasion: &Occasion) -> Vec<String> {
    // The notice stands for itself beside the list.
    cautions(occasion).into_iter().filter(|c| *c != Caution::Notice).map(|c| c.whole(occasion)).collect()
}

/// The paragraph for everyone: where nobody is to be comes first, in one breath.
pub(crate) fn paragraph(occasion: &Occasion) -> String {
    let all = cautions(occasion);
    let zones = all.contains(&Caution::Near).then(|| occasion.nearest.zones(occasion.units));
    let rest = all.into_iter().filter(|c| zones.is_none() || !matches!(c, Caution::Near | Caution::Plane));
    let rest: Vec<String> = rest.filter_map(|c| c.short(occasion)).collect();
    zones.into_iter().chain(rest).collect::<Vec<_>>().join(" ")
}

/// Of the paragraph, what not every case calls for.
pub(crate) fn of_case(occasion: &Occasion) -> String {
    let own = |caution: &Caution| {
        use Caution::{Bolts, Chain, Close, Frozen, Grass, Lean, Racks};
        matches!(caution, Lean | Close | Frozen | Racks | Grass | Chain | Bolts)
    };
    let own = cautions(occasion).into_iter().filter(own).filter_map(|caution| caution.short(occasion));
    own.collect::<Vec<_>>().join(" ")
}

/// The same where another sentence says how near anyone may come: each target of a match has its own line.
pub(crate) fn paragraph_after(near: &str, occasion: &Occasion) -> String {
    let rest = cautions(occasion).into_iter().filter(|c| *c != Caution::Near).filter_map(|c| c.short(occasion));
    std::iter::once(near.to_owned()).chain(rest).collect::<Vec<_>>().join(" ")
}

/// A paragraph behind what the range's own rules say of the case.
pub(crate) fn after_range(range_says: &[String], paragraph: String) -> String {
    range_says.iter().cloned().chain([paragraph]).collect::<Vec<_>>().join(" ")
}

/// Every caution but how near anyone may come, whole.
pub(crate) fn list_after(near: &str, occasion: &Occasion) -> Vec<String> {
    let rest = cautions(occasion).into_iter().filter(|c| !matches!(c, Caution::Near | Caution::Notice));
    std::iter::once(near.to_owned()).chain(rest.map(|c| c.whole(occasion))).collect()
}

/// Whether a house rule's caution says what a caution here says already.
pub(crate) fn covers(rule: &str) -> bool {
    ["lean-little", "lean-not-said", "lean-not-given", "mount-chain", "mount-rigid", "condition-unknown"]
        .contains(&rule)
}

impl Occasion<'_> {
    fn within(&self, yards: f64) -> bool {
        let near = self.shot_from.or(self.nearest.least());
        near.is_none_or(|distance| unit::YARD.value(distance) < yards * (1.0 - 1e-9))
    }

    /// The lean against splash, `10–20°`, as far as it suits; none where none does.
    fn lean_asked(&self) -> Option<String> {
        self.lean.map_or_else(|| Some("10–20°".into()), Lean::against_splash)
    }

    fn any_load(&self, is: impl Fn(&Load) -> bool) -> bool {
        self.loads.iter().any(|load| is(load))
    }

    fn any_setup(&self, is: impl Fn(&Setup) -> bool) -> bool {
        self.setups.iter().any(|setup| is(setup))
    }

    fn frost(&self) -> bool {
        unit::FAHRENHEIT.value(self.coldest) < FROST_F
    }
}

/// Whether its fragments are hot enough for dry grass: any jacket, any solid, anything of steel, what is not known
/// (Finney et al., Fire Technology 52(3):931-954, for steel and solid copper; jackets: common practice).
fn sets_fires(load: &Load) -> bool {
    !matches!(
        load.judged_construction(),
        Construction::Lead | Construction::Plated | Construction::Frangible | Construction::LeadShot
    )
}

fn is_heavy(load: &Load) -> bool {
    unit::FOOT_POUND.value(load.charge_energy(load.facts().muzzle_velocity)) > HEAVY_FT_LBF
}

/// Loads that are shot near, and whose lead comes back.
fn is_soft_and_slow(load: &Load) -> bool {
    !matches!(load.class(), Class::Rifle)
}

impl Caution {
    /// Whether an occasion calls for it.
    pub fn applies(self, occasion: &Occasion) -> bool {
        // Without a plate there is only the shooting itself.
        if occasion.setups.is_empty() {
            return matches!(self, Self::Eyes | Self::ColdLine | Self::Notice)
                || (self == Self::Backstop && !occasion.loads.is_empty());
        }
        match self {
            Self::Lean => {
                let upright = |s: &Setup| s.tilt.is_none_or(|tilt| unit::DEGREE.value(tilt) < LEAN_DEG - 1e-9);
                let near = occasion.within(LEAN_WITHIN_YD) || occasion.any_load(is_soft_and_slow);
                near && occasion.any_setup(upright) && occasion.lean_asked().is_some()
            }
            Self::Close => occasion.within(CLOSE_YD),
            Self::Frozen => occasion.frost(),
            Self::Ground => !occasion.frost(),
            Self::Racks => occasion.setups.len() > 1,
            Self::Grass => occasion.is_shot && occasion.any_load(sets_fires),
            // What nobody shoots at is not hit.
            Self::Hardware => occasion.is_shot && occasion.any_load(is_heavy),
            Self::Chain => occasion.any_setup(|s| s.mount == Mount::Chain),
            Self::Bolts => occasion.any_setup(|s| matches!(s.mount, Mount::Bolted | Mount::Welded)),
            Self::Settle => occasion.any_setup(|s| s.mount.is_free()),
            Self::Turned => occasion.any_setup(|s| s.condition != Condition::Sound),
            Self::Lead => occasion.any_load(|l| l.judged_construction() != Construction::Frangible),
            Self::Near
            | Self::Plane
            | Self::Eyes
            | Self::Never
            | Self::Inspect
            | Self::ComesBack
            | Self::ColdLine
            | Self::Backstop
            | Self::Positions
            | Self::Repair
            | Self::Notice => true,
        }
    }

    /// As it stands in the paragraph; none where it belongs in the list alone.
    pub fn short(self, occasion: &Occasion) -> Option<String> {
        let text = match self {
            Self::Near => return Some(near(occasion, "Nobody")),
            Self::Plane => "Nobody behind it or within 20° of its plane.",
            Self::Eyes => "Wrap-around glasses, ears; spectators too.",
            Self::Never => "No steel jackets, cores, shot, armour-piercing or tracer: try a magnet.",
            Self::Inspect => "Check both faces first: crater, crack, hole or bow retires it.",
            Self::Turned => "Never turn it round.",
            Self::Lean => return occasion.lean_asked().map(|lean| format!("Lean it {lean} toward you.")),
            Self::Close => "Nobody ahead of the muzzle.",
            // The floor of a rack is said with the frost on it.
            Self::Frozen if Self::Racks.applies(occasion) => return None,
            Self::Frozen => "No frozen ground or ice under it.",
            Self::Racks if occasion.frost() => "Soft, unfrozen floor, side screens, none facing another.",
            Self::Racks => "Soft floor, side screens, none facing another.",
            Self::Grass => "Clear dry grass; have water.",
            Self::Hardware => "Check hooks, bolts each string.",
            Self::Chain => "Shield the chain.",
            Self::Bolts => "Hide bolt heads.",
            Self::Ground | Self::Settle | Self::Positions | Self::Repair | Self::Lead => return None,
            Self::ComesBack => "Anything comes back: stop.",
            Self::ColdLine => "Cold line, then walk up.",
            Self::Backstop => return Some(backstop(occasion)),
            Self::Notice => NOTICE,
        };
        Some(text.to_owned())
    }

    /// The caution in full.
    pub fn whole(self, occasion: &Occasion) -> String {
        let text = match self {
            Self::Near => return near(occasion, "Nobody, spectators and helpers included,"),
            Self::Plane => {
                "Nobody, no car and no chronograph within 20° of the plate's plane, where splash goes, and nobody \
                 behind the plate."
            }
            Self::Eyes => {
                "Eye protection rated for impact that wraps around, and ear protection, for shooters and spectators \
                 alike."
            }
            Self::Never => {
                "Never steel-jacketed, steel-core, armour-piercing, incendiary or tracer bullets, nor steel shot: a \
                 bullet that a magnet clings to stays off steel."
            }
            Self::Inspect => {
                "Look over both faces before shooting: a crater, a crack, a hole or a bow retires the plate, for it \
                 throws bullets back and may let one through."
            }
            Self::Turned => "Never turn a damaged face to the back: the plate is spent on both sides.",
            Self::Lean => {
                let lean = occasion.lean_asked().unwrap_or_default();
                return format!("Lean the face {lean} toward the shooter, so that splash goes into the ground.");
            }
            Self::Close => "This close, everyone forward of the muzzle line is in the splash.",
            Self::Frozen => "Frozen ground, ice, rock or concrete under the plate turns splash up.",
            Self::Ground => "Rock or concrete under the plate turns splash up: let the ground be soft.",
            Self::Racks => {
                "Several plates: a soft floor and screens at the sides, and no plate that faces another or a person."
            }
            Self::Grass => "Jackets and solids leave hot fragments: clear dry grass, and have water ready.",
            Self::Hardware => "Hits this hard loosen hooks and bolts: check them before each string.",
            Self::Chain => "A chain that is hit breaks and throws links: shield it, or hang the plate from hooks.",
            Self::Bolts => "Bolt heads and brackets throw lead anywhere: hide them from the shooter.",
            Self::Settle => "A swinging plate turns its face: let it settle before the next shot.",
            Self::ComesBack => "If anything comes back to the line, stop, and find out why before the next shot.",
            Self::ColdLine => "Call the line cold before anyone walks up to the plate.",
            Self::Backstop => return backstop(occasion),
            Self::Positions => {
                "Judge the nearest point a shooter can reach, moving or leaning in; kneeling, prone and raised \
                 positions change where splash goes. Edges, hooks and stands throw lead anywhere: shoot the front \
                 face only."
            }
            Self::Repair => "No weld repair and no torch on the plate: heat softens it.",
            Self::Lead => "Lead dust: wash before you eat.",
            Self::Notice => NOTICE,
        };
        text.to_owned()
    }
}

fn near(occasion: &Occasion, who: &str) -> String {
    occasion.nearest.sentence(who, " while it is hot", occasion.units)
}

fn backstop(occasion: &Occasion) -> String {
    let clear = occasion.carry.as_ref().map_or_else(
        || "empty ground as far as any miss carries".into(),
        |carry| format!("{} clear behind", occasion.units.distance_up(carry.keep_clear)),
    );
    format!("Backstop every miss, or {clear}.")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;
    use crate::plate::Face;
    use crate::quantity::{Angle, Measure};
    use std::sync::Arc;

    /// A case: a load, how far, how cold, and how the plate stands.
    struct Shot {
        load: &'static str,
        yards: f64,
        fahrenheit: f64,
        change: fn(&mut Setup),
    }

    fn told<T>(shot: &Shot, setups: usize, of: impl Fn(&Occasion) -> T) -> T {
        let load = Arc::clone(&Catalog::builtin().unwrap().load(shot.load).unwrap().load);
        let mut setup = Setup::hung(Face::round(unit::INCH.of(12.0)).unwrap());
        (shot.change)(&mut setup);
        let distance = Some(unit::YARD.of(shot.yards));
        of(&Occasion {
            loads: vec![&load],
            setups: vec![&setup; setups],
            nearest: Nearest::one(distance, &[]),
            is_shot: true,
            lean: None,
            shot_from: distance,
            coldest: unit::FAHRENHEIT.of(shot.fahrenheit),
            carry: None,
            units: Units::Us,
        })
    }

    const NOTHING: fn(&mut Setup) = |_| {};

    /// What every case calls for, in the paragraph.
    const ALWAYS: &[Caution] = &[
        Caution::Near,
        Caution::Plane,
        Caution::Eyes,
        Caution::Never,
        Caution::Inspect,
        Caution::ComesBack,
        Caution::ColdLine,
        Caution::Backstop,
        Caution::Notice,
    ];

    #[test]
    fn each_case_has_the_cautions_whose_absence_could_hurt_someone_in_it() {
        let leaning: fn(&mut Setup) = |s| s.tilt = Some(unit::DEGREE.of(15.0));
        let chain: fn(&mut Setup) = |s| s.mount = Mount::Chain;
        let bolted: fn(&mut Setup) = |s| s.mount = Mount::Bolted;
        let pitted: fn(&mut Setup) = |s| s.condition = Condition::Pitted;
        let (rifle, pistol, rimfire) = ("308-168-match", "9mm-115", "22lr-std-40");
        let cases: &[(Shot, &[Caution], &[Caution])] = &[
            (
                Shot { load: rifle, yards: 100.0, fahrenheit: 60.0, change: NOTHING },
                &[Caution::Grass, Caution::Hardware],
                &[Caution::Lean, Caution::Frozen, Caution::Close, Caution::Chain, Caution::Racks, Caution::Turned],
            ),
            (
                Shot { load: pistol, yards: 10.0, fahrenheit: 60.0, change: NOTHING },
                &[Caution::Lean, Caution::Close, Caution::Grass],
                &[Caution::Frozen, Caution::Hardware],
            ),
            (
                Shot { load: rimfire, yards: 25.0, fahrenheit: 60.0, change: NOTHING },
                &[Caution::Lean],
                &[Caution::Grass, Caution::Close],
            ),
            (Shot { load: rimfire, yards: 25.0, fahrenheit: 60.0, change: leaning }, &[], &[Caution::Lean]),
            (Shot { load: rifle, yards: 100.0, fahrenheit: 20.0, change: NOTHING }, &[Caution::Frozen], &[]),
            (Shot { load: rifle, yards: 100.0, fahrenheit: 60.0, change: chain }, &[Caution::Chain], &[Caution::Bolts]),
            (Shot { load: rifle, yards: 100.0, fahrenheit: 60.0, change: bolted }, &[Caution::Bolts], &[]),
            (Shot { load: rifle, yards: 200.0, fahrenheit: 60.0, change: pitted }, &[Caution::Turned], &[]),
        ];
        for (shot, calls_for, does_not) in cases {
            let (found, paragraph) = told(shot, 1, |occasion| (cautions(occasion), paragraph(occasion)));
            for caution in ALWAYS.iter().chain(*calls_for) {
                assert!(found.contains(caution), "{} at {}: {caution:?}", shot.load, shot.yards);
                // Where nobody is to be is said in one breath.
                let short = told(shot, 1, |occasion| match caution {
                    Caution::Near | Caution::Plane => occasion.nearest.zones(Units::Us),
                    other => other.short(occasion).unwrap(),
                });
                assert!(paragraph.contains(&short), "{caution:?}: {paragraph}");
            }
            for caution in *does_not {
                assert!(!found.contains(caution), "{} at {}: {caution:?}", shot.load, shot.yards);
            }
        }
    }

    #[test]
    fn an_upright_face_is_leaned_within_50_yards_or_where_soft_lead_comes_back() {
        let calls = |load: &'static str, yards: f64, change: fn(&mut Setup)| {
            told(&Shot { load, yards, fahrenheit: 60.0, change }, 1, |occasion| {
                let found = cautions(occasion);
                (found.contains(&Caution::Lean), found.contains(&Caution::Close))
            })
        };
        let little: fn(&mut Setup) = |s| s.tilt = Some(unit::DEGREE.of(9.9));
        let enough: fn(&mut Setup) = |s| s.tilt = Some(unit::DEGREE.of(10.0));
        let rifle = "308-168-match";
        assert_eq!(calls(rifle, 49.9, NOTHING), (true, false));
        assert_eq!(calls(rifle, 50.0, NOTHING), (false, false));
        assert_eq!(calls("9mm-115", 55.0, NOTHING), (true, false));
        assert_eq!((calls(rifle, 30.0, little), calls(rifle, 30.0, enough)), ((true, false), (false, false)));
        assert_eq!((calls(rifle, 14.9, enough), calls(rifle, 15.0, enough)), ((false, true), (false, false)));
    }

    #[test]
    fn a_rack_calls_for_a_soft_floor_and_screens() {
        let shot = Shot { load: "9mm-115", yards: 10.0, fahrenheit: 60.0, change: NOTHING };
        for (setups, calls) in [(1, false), (2, true), (6, true)] {
            assert_eq!(told(&shot, setups, |occasion| cautions(occasion).contains(&Caution::Racks)), calls, "{setups}");
        }
    }

    #[test]
    fn the_paragraph_is_read_to_the_end_and_says_no_sentence_twice() {
        for (load, yards, fahrenheit) in
            [("308-168-match", 100.0, 60.0), ("9mm-115", 10.0, 10.0), ("22lr-std-40", 25.0, 90.0)]
        {
            let shot = Shot { load, yards, fahrenheit, change: |s| s.tilt = Some(Angle::from_si(0.0)) };
            let (paragraph, list) = told(&shot, 1, |occasion| (paragraph(occasion), list(occasion)));
            let count = paragraph.split_whitespace().count();
            assert!((70..=125).contains(&count), "{count}: {paragraph}");
            let mut sentences: Vec<&str> = paragraph.split(". ").collect();
            let whole = sentences.len();
            sentences.sort_unstable();
            sentences.dedup();
            assert_eq!(sentences.len(), whole);
            assert!(list.len() >= 12 && paragraph.contains("local codes and law, licensed professionals"));
        }
    }

    #[test]
    fn a_load_that_no_distance_is_good_for_is_kept_off() {
        let shot = Shot { load: "308-168-match", yards: 100.0, fahrenheit: 60.0, change: NOTHING };
        let text =
            told(&shot, 1, |occasion| paragraph(&Occasion { nearest: Nearest::one(None, &[]), ..occasion.clone() }));
        assert!(text.starts_with("Nobody shoots it, stands behind it or within 20°"), "{text}");
    }
}
