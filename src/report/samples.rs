//! Answers made by hand, as an advisor gives them, for the tests of what is laid out.

use crate::advisor::answer::*;
use crate::load::{Class, Construction, Firearm};
use crate::plate::{Condition as State, Duty, Mount, Steel};
use crate::quantity::{Length, Mass, Measure, Number, Ratio, Si, Velocity, unit};
use crate::rules::{Basis, Verdict};
use crate::words::Units;

pub(super) fn yd(value: f64) -> Si<Length> {
    unit::YARD.of(value).into()
}

fn inch(value: f64) -> Si<Length> {
    unit::INCH.of(value).into()
}

fn fps(value: f64) -> Si<Velocity> {
    unit::FOOT_PER_SECOND.of(value).into()
}

fn deg(value: f64) -> crate::quantity::Degrees {
    unit::DEGREE.of(value).into()
}

fn number(value: f64) -> Number {
    Number(value)
}

const NOTICE: &str = "Rules of thumb for AR500, no guarantee: range rules, local codes and law, licensed \
                      professionals and the range officer stand above them.";
const SAFETY: &str = "nobody nearer than 100 yd while hot; nobody within 20° of the plate's plane. Wrap-around rated \
                      glasses and ears for all, spectators included. Never steel core, armour piercing, incendiary \
                      or tracer: check with a magnet. Look at both faces first; a crater, crack, hole or bow retires \
                      it. If anything comes back, stop. Cold line before anyone walks up. A backstop for every \
                      miss, or 6700 yd empty behind. Dry grass: a hot jacket can light it.";

fn condition(what: &str, value: &str, given: bool) -> Condition {
    Condition { what: what.into(), value: value.into(), given, of: None }
}

fn preamble<I>(schema: &str, units: Units, inputs: I) -> Preamble<I> {
    Preamble {
        schema: schema.into(),
        program: "thickset 0.1.0".into(),
        units,
        inputs,
        headline: String::new(),
        nearest: "Nobody nearer than 100 yd.".into(),
        nearest_distance: Some(yd(100.0)),
        stands_on: "Only if sound on both faces, marked AR500, leaning 10 to 20° toward you, lead core.".into(),
        assumed: vec!["a 12 in round face".into(), "open hooks".into()],
        holds_for: vec![
            condition("temperature", "20 to 90 °F", true),
            condition("lean", "15°", true),
            condition("face", "12 in round", false),
            condition("mount", "open hooks", false),
            condition("hanger line", "top edge", false),
            condition("duty", "private", false),
            condition("steel", "AR500", false),
            condition("condition", "sound", false),
            condition("muzzle velocity spread", "30 ft/s (SD)", false),
            condition("BC spread", "3 % (SD)", false),
            condition("coverage", "99 %", false),
        ],
        remarks: vec!["A hit at the lower edge can throw the 3/8 in plate over its hangers".into()],
        not_judged: Vec::new(),
        left_out: Vec::new(),
        rules: vec![AppliedRule { id: "energy-cap".into(), overlay: None }],
        safety: format!("{SAFETY} {NOTICE}"),
        doubts: Vec::new(),
        range_says: Vec::new(),
        case_says: "Clear dry grass; have water.".into(),
        cautions: vec!["Lead dust: wash before you eat".into()],
        notice: NOTICE.into(),
    }
}

pub(super) fn load() -> LoadFacts {
    LoadFacts {
        id: "308-168-match".into(),
        name: "308 Win 168 gr match".into(),
        cartridge: Some(".308 Win".into()),
        firearm: Firearm::Rifle,
        class: Class::Rifle,
        construction: Construction::JacketedLead,
        bullet: unit::GRAIN.of(168.0).into(),
        diameter: None,
        projectiles: 1,
        muzzle_velocity: fps(2650.0),
        velocity_sd: fps(30.0),
        tolerance_factor: None,
        slow_margin: fps(0.0),
        bc_sd: unit::PERCENT.of(3.0).into(),
        velocity_temperature_slope: crate::quantity::VelocityPerTemperature::from_si(0.5).into(),
        measured_at: unit::FAHRENHEIT.of(59.0).into(),
        drag: "G7".into(),
        bc: None,
        source: "invented for a test".into(),
    }
}

fn setup() -> SetupFacts {
    SetupFacts {
        face: "12 in round".into(),
        mount: Mount::OpenHook,
        chain: None,
        duty: Duty::Private,
        condition: State::Sound,
        steel: Steel::Ar500,
        tilt: Some(deg(15.0)),
        oblique: deg(0.0),
    }
}

fn air() -> AirFacts {
    AirFacts {
        density: crate::quantity::MassDensity::from_si(1.2).into(),
        sound_speed: fps(1120.0),
        temperature: unit::FAHRENHEIT.of(59.0).into(),
        pressure: unit::HECTOPASCAL.of(1000.0).into(),
    }
}

fn conditions() -> ConditionsFacts {
    ConditionsFacts {
        thin_air: "500 ft, 90 °F".into(),
        dense_air: "500 ft, 20 °F".into(),
        thin: air(),
        dense: air(),
        slope: deg(0.0),
        coverage: unit::PERCENT.of(99.0).into(),
    }
}

pub(super) fn plate(label: &str, inches: f64) -> PlateName {
    PlateName { label: label.into(), thickness: inch(inches) }
}

fn strike_row(yards: f64, speed: f64, fast: f64, slow: f64) -> StrikeRow {
    let (speed, fast) = (unit::FOOT_PER_SECOND.of(speed), unit::FOOT_PER_SECOND.of(fast));
    let mass = unit::GRAIN.of(168.0).si();
    let energy = |v: Velocity| crate::quantity::Energy::from_si(0.5 * mass * v.si() * v.si());
    StrikeRow {
        distance: yd(yards),
        speed: speed.into(),
        mach: number(2.19),
        energy: energy(speed).into(),
        momentum: crate::quantity::Momentum::from_si(mass * speed.si()).into(),
        time: crate::quantity::Time::from_si(0.12).into(),
        descent: deg(0.1),
        fast_speed: fast.into(),
        fast_energy: energy(fast).into(),
        slow_speed: fps(slow),
        fast_gains: Some(Gains { weather: fps(24.0), muzzle: fps(66.0), bc: fps(8.0) }),
        projectiles: 1,
    }
}

pub(super) fn finding(rule: &str, verdict: Verdict, margin: f64, found: &str, limit: &str) -> Finding {
    Finding {
        rule: rule.into(),
        case: "308 Win 168 gr match on 3/8 in at 100 yd".into(),
        verdict,
        limit: Some(number(1.0)),
        actual: Some(number(1.0)),
        unit: Some("J".into()),
        margin: Some(number(margin)),
        basis: Basis::HouseAssumption,
        source: "house assumption".into(),
        overlay: None,
        of_plate: true,
        found_words: found.into(),
        limit_words: limit.into(),
        limit_brief: limit.into(),
        divided_by: Vec::new(),
        why: "a harder hit dishes and dents it".into(),
        next: "hang thicker".into(),
        text: format!("{found}, at most {limit}"),
    }
}

fn choice(label: &str, inches: f64, verdict: Verdict, margin: f64, limit: &str) -> PlateChoice {
    let mass: Mass = unit::POUND.of(32.0 * inches);
    PlateChoice {
        label: label.into(),
        thickness: inch(inches),
        verdict,
        verdict_for_the_rest: None,
        nearest: (verdict == Verdict::Suits).then(|| yd(99.2)),
        mass: Some(mass.into()),
        margin: Some(number(margin)),
        margin_for_the_rest: None,
        governed_by: Some("energy-cap".into()),
        plate_margin: Some(number(margin)),
        nearest_limit: limit.into(),
        nearest_limit_brief: limit.into(),
        pieces: Vec::new(),
        together: None,
        findings: vec![finding("energy-cap", verdict, margin, "energy 2442 ft·lbf", "250 ft·lbf")],
        reaction: None,
        material: (verdict == Verdict::Suits).then(|| Material {
            mass_kg: mass.into(),
            trade_mass_kg: mass.into(),
            cut_m: inch(38.0),
            not_priced: None,
            sheet: "4 × 8 ft".into(),
            per_sheet: PerSheet { full: 28, half: 12, quarter: 6 },
            utilisation: number(0.69),
            cost: Some("33.25".into()),
            currency: Some("$".into()),
            price: Some(Price {
                each: "$33.25".into(),
                total: "$133.00".into(),
                made_of: vec!["steel $21".into()],
                shipping: None,
            }),
            parcel: Some("private parcel".into()),
            ships_as: "private parcel".into(),
            carried: 4,
        }),
    }
}

pub(super) fn curve() -> Curve {
    let points: Vec<f64> = (0..=20).map(|n| 30.0 * f64::from(n)).collect();
    let speed = |gain: f64| points.iter().map(|d| fps(2650.0 + gain - 1.7 * d)).collect::<Vec<_>>();
    let mass = unit::GRAIN.of(168.0).si();
    let energy = |speeds: &[Si<Velocity>]| {
        speeds.iter().map(|v| crate::quantity::Energy::from_si(0.5 * mass * v.0.si() * v.0.si()).into()).collect()
    };
    let (mean, fast) = (speed(0.0), speed(98.0));
    Curve {
        load: "308 Win 168 gr match".into(),
        distance: points.iter().map(|d| yd(*d)).collect(),
        energy: energy(&mean),
        fast_energy: energy(&fast),
        speed: mean,
        fast_speed: fast,
        slow_speed: speed(-98.0),
        projectiles: 1,
        limits: vec![
            Limit { words: "ceiling 2850 ft/s".into(), speed: Some(fps(2850.0)), energy: None, distance: None },
            Limit {
                words: "3/8 in takes 2800 ft·lbf".into(),
                speed: None,
                energy: Some(unit::FOOT_POUND.of(2800.0).into()),
                distance: None,
            },
            Limit {
                words: "3/4 in takes 12000 ft·lbf".into(),
                speed: None,
                energy: Some(unit::FOOT_POUND.of(12_000.0).into()),
                distance: None,
            },
        ],
        marks: vec![(yd(100.0), "asked 100 yd".into()), (yd(120.0), "closest 120 yd".into())],
    }
}

pub(super) fn outline() -> OutlineFacts {
    let at = |x: f64, y: f64| [inch(x), inch(y)];
    let body = Shape {
        start: at(0.0, 0.0),
        segments: vec![
            Segment::Line(at(12.0, 0.0)),
            Segment::Line(at(12.0, 14.0)),
            Segment::Line(at(9.0, 14.0)),
            Segment::Line(at(9.0, 20.0)),
            Segment::Line(at(3.0, 20.0)),
            Segment::Line(at(3.0, 14.0)),
            Segment::Line(at(0.0, 14.0)),
        ],
    };
    let hole = |x: f64| Shape {
        start: at(x - 0.25, 19.0),
        segments: vec![
            Segment::Arc(at(x + 0.25, 19.0), inch(0.25), false, true),
            Segment::Arc(at(x - 0.25, 19.0), inch(0.25), false, true),
        ],
    };
    OutlineFacts {
        area: unit::SQUARE_INCH.of(203.6).into(),
        cut: inch(71.0),
        width: inch(12.0),
        height: inch(20.0),
        centroid: at(6.0, 8.7),
        holes: vec![Hole { at: at(4.0, 19.0), diameter: inch(0.5) }, Hole { at: at(8.0, 19.0), diameter: inch(0.5) }],
        corners: Vec::new(),
        thinnest: Thinnest { width: Some(inch(6.0)), at: Some(at(6.0, 17.0)) },
        hung_by: Some(Thinnest { width: Some(inch(1.5)), at: Some(at(4.0, 19.0)) }),
        layers: vec!["CUT".into()],
        left_out: vec!["3 dimensions".into()],
        hangs: "hangs from its two highest holes (proposed)".into(),
        hangers: vec![at(4.0, 19.0), at(8.0, 19.0)],
        lean: None,
        words: "12.0 by 20.0 in, 203.6 in², 71.0 in of cut, 2 holes".into(),
        shapes: vec![body, hole(4.0), hole(8.0)],
    }
}

pub(super) fn cut_plan() -> CutPlan {
    let round = Shape {
        start: [inch(-6.0), inch(0.0)],
        segments: vec![
            Segment::Arc([inch(6.0), inch(0.0)], inch(6.0), false, true),
            Segment::Arc([inch(-6.0), inch(0.0)], inch(6.0), false, true),
        ],
    };
    let places = (0..4).flat_map(|row| (0..7).map(move |column| (column, row)));
    CutPlan {
        sheet: [inch(96.0), inch(48.0)],
        kerf: inch(0.1),
        pieces: places
            .map(|(x, y)| Placement {
                at: [inch(6.2 + 12.1 * f64::from(x)), inch(6.2 + 11.8 * f64::from(y))],
                pivot: [inch(6.2 + 12.1 * f64::from(x)), inch(6.2 + 11.8 * f64::from(y))],
                turned: deg(if x % 2 == 0 { 0.0 } else { 180.0 }),
            })
            .collect(),
        shapes: vec![round],
    }
}

pub(super) fn advise(units: Units) -> AdviseAnswer {
    let inputs = AdviseInputs {
        lines: vec![Line { load: load(), distance: yd(100.0), target: String::new() }],
        targets: vec![TargetFacts { name: String::new(), target: setup(), conditions: conditions() }],
        quantity: 4,
        product: Some("Round 12".into()),
        shop: Some("Example Steel".into()),
    };
    let mut preamble = preamble("thickset/advise/1", units, inputs);
    preamble.headline = "Hang 3/8 in: 308 Win 168 gr match at 100 yd. Just 1 % to spare; 1/2 in has 10 %.".into();
    preamble.nearest =
        "12 in round, 12.0 lb, $33.25, parcel. Nobody nearer than 100 yd. Closed hooks: a hard hit lifts it off."
            .into();
    AdviseAnswer {
        preamble,
        verdict: Verdict::Suits,
        recommended: Some(plate("3/8 in", 0.375)),
        borderline: None,
        for_the_rest: None,
        whatever_plate: Vec::new(),
        excluded: Vec::new(),
        plates: vec![
            choice("3/16 in", 0.1875, Verdict::Unsuitable, -8.77, "energy 2442 of 250 ft·lbf"),
            choice("1/4 in", 0.25, Verdict::Unsuitable, -2.49, "energy 2442 of 700 ft·lbf"),
            choice("3/8 in", 0.375, Verdict::Suits, 0.012, "demand 98 of 100 %"),
            choice("1/2 in", 0.5, Verdict::Suits, 0.1, "speed 2559 of 2850 ft/s"),
            choice("3/4 in", 0.75, Verdict::Suits, 0.1, "speed 2559 of 2850 ft/s"),
        ],
        remedies: Vec::new(),
        strikes: vec![strike_row(100.0, 2461.0, 2559.0, 2363.0)],
        closest: Some(yd(100.0)),
        nearest_by_load: Vec::new(),
        outline: None,
        round: None,
        cut_plan: Some(cut_plan()),
        swing_asked: None,
        curves: vec![curve()],
    }
}

pub(super) fn vet(units: Units) -> VetAnswer {
    let inputs = VetInputs {
        load: load(),
        loads: 1,
        distance: yd(100.0),
        plate: plate("3/8 in", 0.375),
        target: setup(),
        conditions: conditions(),
    };
    let mut preamble = preamble("thickset/vet/1", units, inputs);
    preamble.headline =
        "Unsuitable: 300 Win Mag 180 gr on 3/8 in at 100 yd: nearer than 150 yd, and 408 ft·lbf over.".into();
    // Nothing to stand on where nothing suits.
    preamble.stands_on = String::new();
    VetAnswer {
        preamble,
        verdict: Verdict::Unsuitable,
        governed_by: Some("floor-magnum".into()),
        margin: Some(number(-0.5)),
        findings: vec![
            finding("floor-magnum", Verdict::Unsuitable, -0.5, "distance 100 yd", "200 yd"),
            finding("energy-cap", Verdict::Unsuitable, -0.146, "energy 3208 ft·lbf", "2000 ft·lbf (÷ 1.40)"),
            finding("demand", Verdict::Unsuitable, -0.152, "demand 115 %", "100 %"),
            finding("ceiling", Verdict::Suits, 0.01, "speed 2833 ft/s", "2850 ft/s"),
        ],
        strike: strike_row(100.0, 2764.0, 2833.0, 2696.0),
        would_suit: WouldSuit {
            distance: Some(yd(257.0)),
            muzzle_velocity: Some(fps(2659.0)),
            words: vec!["From 257 yd or farther".into(), "Loaded to no more than 2659 ft/s at the muzzle".into()],
            ..WouldSuit::default()
        },
        topple: None,
        outline: None,
        round: None,
        curve: Some(curve()),
    }
}

fn cell(label: &str, distance: Option<f64>, borderline: Option<f64>, short: &str) -> Cell {
    Cell {
        label: label.into(),
        closest: Closest {
            distance: distance.map(yd),
            borderline: borderline.map(yd),
            borderline_to: None,
            why: if distance.is_some() { ClosestWhy::At } else { ClosestWhy::Never },
            by: Some("floor-rifle".into()),
            next: Some("ceiling".into()),
            words: distance.map_or("never".into(), |d| format!("{d:.0} yd")),
            short: short.into(),
        },
        nearest: distance.map(yd),
        farthest: None,
        farthest_of_range: false,
        nearest_by: Some("floor-rifle".into()),
        at: None,
        verdict: match (distance, borderline) {
            (Some(_), _) => Verdict::Suits,
            (None, Some(_)) => Verdict::Borderline,
            (None, None) => Verdict::Unsuitable,
        },
        ceiling_speed: distance.map(|_| fps(3050.7)),
        ceiling_energy: distance.map(|_| unit::FOOT_POUND.of(2800.9).into()),
        findings: Vec::new(),
    }
}

/// One load, or many of several classes.
pub(super) fn standoff(units: Units, loads: usize) -> StandoffAnswer {
    let ladder = [("3/16 in", 0.1875), ("1/4 in", 0.25), ("3/8 in", 0.375), ("1/2 in", 0.5), ("3/4 in", 0.75)];
    let inputs = StandoffInputs {
        loads: vec![load()],
        plates: ladder.iter().map(|(label, inches)| plate(label, *inches)).collect(),
        target: setup(),
        conditions: conditions(),
    };
    let classes = [Class::RimfireRifle, Class::Handgun, Class::Slug, Class::Rifle];
    let row = |index: usize| StandoffRow {
        load: format!("load-{index}"),
        name: format!("Cartridge {index} 168 gr match"),
        class: if loads == 1 { Class::Rifle } else { classes[index * classes.len() / loads] },
        loads: 1,
        projectiles: 1,
        plates: vec![
            cell("3/16 in", None, None, "energy"),
            cell("1/4 in", None, Some(480.0), "energy"),
            cell("3/8 in", Some(100.0), Some(75.0), "distance"),
            cell("1/2 in", Some(100.0), Some(75.0), "distance"),
            cell("3/4 in", Some(100.0), Some(75.0), "distance"),
        ],
    };
    let mut preamble = preamble("thickset/standoff/1", units, inputs);
    preamble.headline = "308 Win 168 gr match: from 100 yd on 3/8 in.".into();
    StandoffAnswer {
        preamble,
        verdict: Verdict::Suits,
        at: None,
        rows: (0..loads).map(row).collect(),
        nearest_up_to: Some("0 to 6000 ft at -10 to 100 °F".into()),
        match_risk: None,
        none: None,
        outline: None,
        curve: (loads == 1).then(curve),
    }
}

/// One load on one plate.
pub(super) fn standoff_of_one(units: Units) -> StandoffAnswer {
    let mut answer = standoff(units, 1);
    answer.rows[0].plates.retain(|cell| cell.label == "3/8 in");
    answer
}

pub(super) fn strike(units: Units) -> StrikeAnswer {
    let mut preamble = preamble("thickset/strike/1", units, StrikeInputs { load: load(), conditions: conditions() });
    preamble.headline = "308 Win 168 gr match: 2258 ft·lbf at 100 yd, 868 ft·lbf at 600 yd.".into();
    preamble.nearest = "What arrives, not what a plate takes: ask `vet` or `advise` for that.".into();
    preamble.stands_on = String::new();
    preamble.holds_for.retain(|c| {
        ["air", "altitude", "temperature", "muzzle velocity spread", "BC spread", "coverage"].contains(&c.what.as_str())
    });
    preamble.safety = format!("A miss carries about 5100 yd; keep 6700 yd behind the plate clear. {NOTICE}");
    let row =
        |n: u32| strike_row(f64::from(n) * 100.0, 2630.0 - 169.0 * f64::from(n), 2728.0 - 169.0 * f64::from(n), 1200.0);
    StrikeAnswer { preamble, rows: (1..=6).map(row).collect(), curve: Some(curve()) }
}

pub(super) fn chrono(units: Units) -> ChronoAnswer {
    let readings = [2810.0, 2822.0, 2815.0, 2809.0, 2861.0].map(fps).to_vec();
    let mut preamble = preamble("thickset/chrono/1", units, ChronoInputs { readings, load: Some(load()) });
    preamble.headline = "Plan for 2904 ft/s, if reading 5 (2861 ft/s) is no slip.".into();
    let share = |percent: f64| -> Si<Ratio> { unit::PERCENT.of(percent).into() };
    ChronoAnswer {
        preamble,
        verdict: Verdict::Suits,
        n: 5,
        mean: fps(2823.4),
        sd: fps(21.6),
        sd_interval: [fps(13.0), fps(62.1)],
        spread: fps(52.0),
        coverage: share(99.0),
        confidence: share(95.0),
        k: number(5.741),
        bound: fps(2904.02),
        slow_bound: fps(2742.9),
        suspicions: vec!["reading 5 (2861 ft/s) stands 2.4 SD from the mean".into()],
        apart: vec![Apart { reading: 5, speed: fps(2861.0), why: "2.4 SD from the mean".into() }],
        standoff: vec![
            PlateDistance {
                label: "1/4 in".into(),
                distance: None,
                by: Some("energy-cap".into()),
                nearest: None,
                farthest: None,
                nearest_by: Some("energy-cap".into()),
                words: "never".into(),
            },
            PlateDistance {
                label: "3/8 in".into(),
                distance: Some(yd(131.2)),
                by: Some("energy-cap".into()),
                nearest: Some(yd(131.2)),
                farthest: None,
                nearest_by: Some("energy-cap".into()),
                words: "132 yd".into(),
            },
        ],
        load_file: None,
    }
}
