//! The compiled rules, asked of strikes made up for them.

use super::*;
use crate::air::Weather;
use crate::catalog::Catalog;
use crate::load::Construction;
use crate::plate::{Duty, Face, Ladder};
use crate::quantity::{Energy, Length, Measure, Range, Velocity, unit};
use crate::spread::{FlightConditions, Flights};
use crate::strike::Strike;
use crate::words::Units;

static HOUSE: std::sync::LazyLock<RuleSet> = std::sync::LazyLock::new(|| RuleSet::house().unwrap());

#[test]
fn the_house_rules_read_one_by_one_are_those_of_the_file_read_whole() {
    let whole = record::read(&SourceText::new("data/house-rules.toml", HOUSE_RULES), false).unwrap().rules;
    assert_eq!(record::shipped(HOUSE_RULES).unwrap(), whole);
    assert_eq!(HOUSE.rules(), whole);
    assert_eq!(record::shipped(&HOUSE_RULES.replace("at-most", "at-last")), None);
}

fn shipped(id: &str) -> Load {
    Load::clone(&Catalog::builtin().unwrap().load(id).unwrap().load)
}

fn plate(inches: f64) -> Plate {
    let ladder = Ladder::builtin().unwrap();
    let is = |plate: &&Plate| (unit::INCH.value(plate.thickness) - inches).abs() < 1e-6;
    ladder.plates().iter().find(is).unwrap().clone()
}

fn leaning(face: Face) -> Setup {
    Setup { tilt: Some(unit::DEGREE.of(15.0)), ..Setup::hung(face) }
}

fn round(inches: f64) -> Face {
    Face::round(unit::INCH.of(inches)).unwrap()
}

/// A day that adds nothing to a load's powder and takes nothing.
fn listed(load: &Load) -> Range<Velocity> {
    Range::single(load.facts().muzzle_velocity)
}

/// What arrives at a distance.
fn strike(load: &Load, yards: f64) -> Strike {
    let conditions = FlightConditions::new(&Weather::default(), unit::DEGREE.of(0.0), unit::PERCENT.of(99.0)).unwrap();
    Flights::new(load, &conditions).unwrap().strike(unit::YARD.of(yards)).unwrap()
}

/// The same with so much energy of the fast shot.
fn with_energy(load: &Load, strike: Strike, ft_lbf: f64) -> Strike {
    let energy: Energy = unit::FOOT_POUND.of(ft_lbf);
    Strike { fast: Velocity::from_si((2.0 * energy.si() / load.facts().bullet.si()).sqrt()), ..strike }
}

fn yards(yards: f64) -> Length {
    unit::YARD.of(yards)
}

#[test]
fn a_narrow_face_divides_energy_by_one_and_an_eighth_for_each_inch_that_it_lacks_of_six() {
    let load = shipped("9mm-124");
    for (width, factor) in [(3.0, 1.375), (4.0, 1.25), (5.9, 1.0125), (6.0, 1.0), (12.0, 1.0)] {
        let face = Face::rectangle(unit::INCH.of(width), unit::INCH.of(20.0)).unwrap();
        let (plate, setup) = (plate(0.375), leaning(face));
        let allowance = HOUSE.allow(&load, &plate, &setup, listed(&load));
        assert!((allowance.factors().all() - factor).abs() < 1e-9, "{width}");
        let just = |share: f64| {
            let found = allowance.findings(&with_energy(&load, strike(&load, 15.0), share * 2800.0 / factor));
            found.into_iter().find(|f| f.rule().id == "energy-cap").unwrap().verdict
        };
        assert_eq!((just(0.999), just(1.001)), (Verdict::Suits, Verdict::Borderline), "{width}");
    }
}

#[test]
fn a_magnet_is_asked_of_a_cartridge_that_often_comes_with_steel_and_of_no_other() {
    let warned = |common: bool| {
        let load = shipped("308-168-match").with(|f| f.steel_common = common).unwrap();
        let (plate, setup) = (plate(0.375), leaning(round(12.0)));
        let allowance = HOUSE.allow(&load, &plate, &setup, listed(&load));
        let arriving = strike(&load, 150.0);
        allowance.cautions(&arriving).any(|rule| rule.id == "steel-common")
    };
    assert!(warned(true) && !warned(false));
}

#[test]
fn what_is_over_through_duty_alone_says_so_and_nothing_else_does() {
    let load = shipped("308-168-match");
    let told = |duty: Duty, ft_lbf: f64| {
        let (plate, setup) = (plate(0.375), Setup { duty, ..leaning(round(12.0)) });
        let allowance = HOUSE.allow(&load, &plate, &setup, listed(&load));
        let found = allowance.findings(&with_energy(&load, strike(&load, 200.0), ft_lbf));
        let energy = found.into_iter().find(|f| f.rule().id == "energy-cap").unwrap();
        (energy.verdict, words::finding(&energy, Units::Us, "").text.contains("over through duty alone"))
    };
    // A 3/8 in plate takes 2,800 ft·lbf, 2,000 of them at a public range.
    assert_eq!(told(Duty::Public, 1990.0), (Verdict::Suits, false));
    assert_eq!(told(Duty::Public, 2010.0), (Verdict::Borderline, true));
    assert_eq!(told(Duty::Public, 2790.0), (Verdict::Borderline, true));
    assert_eq!(told(Duty::Public, 2810.0), (Verdict::Borderline, false));
    assert_eq!(told(Duty::Public, 3090.0), (Verdict::Unsuitable, false));
    assert_eq!(told(Duty::Private, 2810.0), (Verdict::Borderline, false));
}

#[test]
fn a_caution_for_near_shots_is_not_given_from_its_distance_on() {
    let load = shipped("308-168-match");
    let (plate, setup) = (plate(0.375), Setup::hung(round(12.0)));
    let allowance = HOUSE.allow(&load, &plate, &setup, listed(&load));
    let warns = |at: f64| allowance.cautions(&strike(&load, at)).any(|rule| rule.id == "plates-facing");
    assert!(warns(49.9) && !warns(50.0) && !warns(300.0));
}

#[test]
fn the_slow_shot_is_flown_up_to_the_farthest_rule_or_caution_that_speaks_of_it() {
    let load = shipped("45acp-230");
    let (plate, setup) = (plate(0.375), leaning(round(12.0)));
    let house = HOUSE.allow(&load, &plate, &setup, listed(&load));
    assert!(house.asks_slow(yards(49.9)) && !house.asks_slow(yards(50.0)));
    let range = "schema = \"thickset/rules/1\"\nname = \"Hollow Creek\"\n[[rule]]\nid = \"slow\"\n\
                 subject = \"slow-speed\"\nsense = \"caution\"\nbelow = \"1200 ft/s\"\nwithin = \"80 yd\"\nwhy = \"w\"\n";
    let rules = HOUSE.clone().with_overlay(&SourceText::new("range.toml", range)).unwrap();
    let range = rules.allow(&load, &plate, &setup, listed(&load));
    assert!(range.asks_slow(yards(79.9)) && !range.asks_slow(yards(80.0)));
    // A slow shot that is missing is never a yes.
    let none = Strike { slow: Velocity::from_si(0.0), ..strike(&load, 30.0) };
    assert_eq!(house.judge(&none).verdict, Verdict::Unsuitable);
}

#[test]
fn what_is_never_shot_at_steel_is_judged_so_at_every_distance() {
    let load = shipped("556-62-steel");
    let (plate, setup) = (plate(0.5), leaning(round(12.0)));
    for at in [120.0, 300.0, 600.0] {
        let judged = HOUSE.allow(&load, &plate, &setup, listed(&load)).judge(&strike(&load, at));
        assert_eq!((judged.verdict, judged.rule.map(|r| r.id.as_str())), (Verdict::Unsuitable, Some("never-on-steel")));
    }
}

#[test]
fn a_range_s_muzzle_energy_is_that_of_the_whole_charge_of_shot() {
    let load = shipped("12ga-buck-00");
    let (plate, setup) = (plate(0.5), leaning(round(12.0)));
    let one = unit::FOOT_POUND.value(load.muzzle_energy());
    let judged = |rule: &str| {
        let text = format!(
            "schema = \"thickset/rules/1\"\nname = \"r\"\n[[rule]]\nid = \"own\"\nwhy = \"x\"\nclass = [\"shot\"]\n{rule}"
        );
        let rules = HOUSE.clone().with_overlay(&SourceText::new("range.toml", text)).unwrap();
        rules.allow(&load, &plate, &setup, listed(&load)).judge(&strike(&load, 40.0)).verdict
    };
    let limit =
        |share: f64| format!("subject = \"muzzle-energy\"\nsense = \"at-most\"\nsuits = \"{} ft-lbf\"\n", share * one);
    let floor = |share: f64| {
        format!(
            "subject = \"distance\"\nsense = \"at-least\"\nsuits = \"90 yd\"\nmuzzle-energy-above = \"{} ft-lbf\"\n",
            share * one
        )
    };
    let pellets = f64::from(load.facts().projectiles);
    for rule in [&limit as &dyn Fn(f64) -> String, &floor] {
        assert_eq!(
            (judged(&rule(1.5)), judged(&rule(1.01 * pellets))),
            (Verdict::Unsuitable, Verdict::Suits),
            "{}",
            rule(1.5)
        );
    }
}

/// The house's rules with one of a range.
fn with_rule(rule: &str) -> RuleSet {
    let head = "schema = \"thickset/rules/1\"\nname = \"r\"\n[[rule]]\nid = \"own\"\nwhy = \"x\"\n";
    let text = format!("{head}{}\n", rule.replace("; ", "\n"));
    HOUSE.clone().with_overlay(&SourceText::new("range.toml", text)).unwrap()
}

#[test]
fn two_kinds_borderline_at_once_are_unsuitable_and_named_and_two_of_a_kind_are_not() {
    let load = shipped("308-168-match");
    let told = |setup: Setup, rules: &RuleSet| {
        let plate = plate(0.5);
        let allowance = rules.allow(&load, &plate, &setup, listed(&load));
        let arriving = strike(&load, 300.0);
        let (judged, findings) = (allowance.judge(&arriving), allowance.findings(&arriving));
        let worst = findings.iter().map(|finding| finding.verdict).max().unwrap();
        assert_eq!(worst, judged.verdict);
        let named: Vec<Concern> = findings.iter().flat_map(Finding::together).collect();
        (judged.verdict, judged.rule.map(|rule| rule.id.clone()), named)
    };
    let unknown = Setup { steel: crate::plate::Steel::Unknown, ..leaning(round(12.0)) };
    let borderline = told(unknown.clone(), &HOUSE);
    assert_eq!((borderline.0, borderline.2), (Verdict::Borderline, vec![]));
    let both = Setup { mount: crate::plate::Mount::Welded, ..unknown.clone() };
    let told_of_both = told(both, &HOUSE);
    assert_eq!(told_of_both.0, Verdict::Unsuitable);
    assert_eq!(told_of_both.1.as_deref(), Some("two-borderlines"));
    assert_eq!(told_of_both.2, [Concern::Steel, Concern::Weld]);
    // A second thing about the steel is no second kind.
    let again = with_rule("subject = 'case'; sense = 'outcome'; outcome = 'borderline'; steel = ['unknown']");
    let twice = told(unknown, &again);
    assert_eq!((twice.0, twice.2), (Verdict::Borderline, vec![]));
}

#[test]
fn a_finding_says_by_hand_what_was_found_allowed_and_to_spare() {
    let load = shipped("308-168-match");
    let (plate, setup) = (plate(0.375), Setup { duty: Duty::Public, ..leaning(round(12.0)) });
    let allowance = HOUSE.allow(&load, &plate, &setup, listed(&load));
    let found = allowance.findings(&with_energy(&load, strike(&load, 300.0), 1500.0));
    let of = |id: &str| found.iter().find(|finding| finding.rule().id == id).unwrap();
    let near = |value: Option<Value>, expected: f64| (value.unwrap().si() / expected - 1.0).abs() < 1e-6;
    let joules = |ft_lbf: f64| -> f64 { unit::FOOT_POUND.of(ft_lbf).si() };

    // 2,800 ft·lbf on 3/8 in, divided by 1.4.
    let cap = of("energy-cap");
    assert!(near(cap.actual, joules(1500.0)) && near(cap.limit, joules(2000.0)) && near(cap.undivided, joules(2800.0)));
    assert!((cap.margin.unwrap() - 0.25).abs() < 1e-6, "{:?}", cap.margin);
    let divisors: Vec<(f64, &str)> = cap.divisors().map(|divisor| (divisor.factor, divisor.what)).collect();
    assert!((divisors[0].0 - 1.4).abs() < 1e-9 && divisors[0].1 == "public" && divisors.len() == 1, "{divisors:?}");

    // 1500^(2/3)/(1020·d) inches of 0.375, d of a lead sphere of 168 gr, 0.4816 in; nothing divides a speed.
    let demand = of("demand");
    let diameter = unit::INCH.value(demand::lead_sphere(load.facts().bullet));
    let share = 1500_f64.powf(2.0 / 3.0) / (1020.0 * diameter) / 0.375;
    assert!((diameter - 0.4816).abs() < 1e-3 && near(demand.actual, share), "{diameter} {:?}", demand.actual);
    let limit = demand.limit.unwrap().si();
    assert!((demand.margin.unwrap() - (1.0 - share / limit)).abs() < 1e-6, "{:?}", demand.margin);

    let speed = of("speed-ceiling");
    let fast = (2.0 * joules(1500.0) / load.facts().bullet.si()).sqrt();
    assert!(near(speed.actual, fast) && near(speed.limit, 2850.0 * 0.3048) && near(speed.undivided, 2850.0 * 0.3048));
    assert!((speed.margin.unwrap() - (1.0 - fast / (2850.0 * 0.3048))).abs() < 1e-6 && speed.divisors().count() == 0);

    let floor = found.iter().find(|f| f.rule().subject == Subject::Distance).unwrap();
    let share = 300.0 * 0.9144 / floor.limit.unwrap().si();
    assert!((floor.margin.unwrap() - (share - 1.0)).abs() < 1e-9 && !floor.through_duty, "{:?}", floor.margin);
    assert_eq!(floor.verdict, Verdict::Suits);
    assert!(near(of("duty-public").actual, 1.4));
}

#[test]
fn the_muzzle_energy_of_a_shot_is_found_by_hand_and_its_limit_divided_by_nothing() {
    let load = shipped("12ga-buck-00");
    let (plate, setup) = (plate(0.5), Setup { duty: Duty::Public, ..leaning(round(12.0)) });
    let (facts, joules) = (load.facts(), unit::FOOT_POUND.of(4000.0).si());
    let charge = facts.bullet.si() * f64::from(facts.projectiles);
    let energy = 0.5 * charge * facts.muzzle_velocity.si().powi(2);
    let rules = with_rule("subject = 'muzzle-energy'; sense = 'at-most'; suits = '4000 ft-lbf'");
    let allowance = rules.allow(&load, &plate, &setup, listed(&load));
    let found = allowance.findings(&strike(&load, 60.0));
    let own = found.iter().find(|finding| finding.rule().id == "own").unwrap();
    assert!((own.actual.unwrap().si() / energy - 1.0).abs() < 1e-9);
    assert!((own.limit.unwrap().si() / joules - 1.0).abs() < 1e-9 && own.divisors().count() == 0);
    assert!((own.margin.unwrap() - (1.0 - energy / joules)).abs() < 1e-9);
}

#[test]
fn a_caution_is_given_beyond_its_value_and_not_at_it() {
    let slug = shipped("12ga-slug-1oz").with(|facts| facts.diameter = Some(unit::INCH.of(0.75))).unwrap();
    let turned = |degrees: f64| Setup { oblique: unit::DEGREE.of(degrees), ..leaning(round(12.0)) };
    let warned = |rule: &str, setup: &Setup| {
        let (rules, plate) = (with_rule(&format!("sense = 'caution'; {rule}")), plate(0.5));
        let allowance = rules.allow(&slug, &plate, setup, listed(&slug));
        allowance.cautions(&strike(&slug, 60.0)).any(|rule| rule.id == "own")
    };
    let gong = turned(10.0);
    let mps = |by: f64| format!("{} m/s", slug.facts().muzzle_velocity.si() + by);
    for (subject, less, same, more) in [
        ("thickness", "0.49 in", "0.5 in", "0.51 in"),
        ("calibre", "0.74 in", "0.75 in", "0.76 in"),
        ("oblique", "9 deg", "10 deg", "11 deg"),
        ("width", "11.9 in", "12 in", "12.1 in"),
        ("distance", "59 yd", "60 yd", "61 yd"),
        ("muzzle-speed", &mps(-1.0), &mps(0.0), &mps(1.0)),
    ] {
        let over = |value: &str| warned(&format!("subject = '{subject}'; above = '{value}'"), &gong);
        let under = |value: &str| warned(&format!("subject = '{subject}'; below = '{value}'"), &gong);
        assert!(over(less) && !over(same) && !over(more), "{subject}");
        assert!(!under(less) && !under(same) && under(more), "{subject}");
    }
    // Turned either way.
    assert!(warned("subject = 'oblique'; above = '9 deg'", &turned(-10.0)));
}

#[test]
fn a_calibre_that_is_not_known_is_borderline_and_warned_of() {
    let known = shipped("308-168-match").with(|facts| facts.diameter = Some(unit::INCH.of(0.308))).unwrap();
    let unknown = known.with(|facts| facts.diameter = None).unwrap();
    let (plate, setup) = (plate(0.5), leaning(round(12.0)));
    let judged = |load: &Load, suits: &str| {
        let rules = with_rule(&format!("subject = 'calibre'; sense = 'at-most'; suits = '{suits}'"));
        rules.allow(load, &plate, &setup, listed(load)).judge(&strike(load, 300.0)).verdict
    };
    assert_eq!(judged(&known, "0.308 in"), Verdict::Suits);
    assert_eq!(judged(&known, "0.307 in"), Verdict::Unsuitable);
    assert_eq!(judged(&unknown, "0.308 in"), Verdict::Borderline);
    let rules = with_rule("subject = 'calibre'; sense = 'caution'; above = '1 in'");
    let warned = |load: &Load| {
        let allowance = rules.allow(load, &plate, &setup, listed(load));
        allowance.cautions(&strike(load, 300.0)).any(|rule| rule.id == "own")
    };
    assert!(warned(&unknown) && !warned(&known));
}

#[test]
fn a_filter_takes_what_lies_at_its_bound_or_leaves_it_as_its_word_says() {
    let load = shipped("308-168-match");
    let energy = unit::FOOT_POUND.value(load.muzzle_energy());
    let fps = unit::FOOT_PER_SECOND.value(load.facts().muzzle_velocity);
    let applies = |key: &str, value: String| {
        let rules =
            with_rule(&format!("subject = 'case'; sense = 'outcome'; outcome = 'unsuitable'; {key} = '{value}'"));
        let (plate, setup) = (plate(0.5), leaning(round(12.0)));
        let allowance = rules.allow(&load, &plate, &setup, listed(&load));
        allowance.findings(&strike(&load, 300.0)).iter().any(|finding| finding.rule().id == "own")
    };
    for (key, unit, own, below, at, above) in [
        ("bullet-from", "gr", 168.0, true, true, false),
        ("bullet-below", "gr", 168.0, false, false, true),
        ("thickness-from", "in", 0.5, true, true, false),
        ("thickness-below", "in", 0.5, false, false, true),
        ("muzzle-speed-above", "ft/s", fps, true, false, false),
        ("muzzle-speed-at-most", "ft/s", fps, false, true, true),
        ("muzzle-energy-above", "ft-lbf", energy, true, false, false),
        ("muzzle-energy-at-most", "ft-lbf", energy, false, true, true),
    ] {
        let share = |by: f64| applies(key, format!("{:.12} {unit}", own * by));
        assert_eq!((share(0.9), share(1.0), share(1.1)), (below, at, above), "{key}");
    }
}

#[test]
fn a_filter_of_more_than_speed_counts_hot_powder_where_the_listed_load_stands_under_it() {
    let load = shipped("308-168-match");
    let energy = load.muzzle_energy();
    let counts = |speed: Option<f64>, share: Option<f64>| {
        let filter = Filter {
            muzzle_speed_above: speed.map(|by| load.facts().muzzle_velocity * by),
            muzzle_energy_above: share.map(|by| energy * by),
            ..Filter::default()
        };
        filter.counts_powder(&load)
    };
    assert!(!counts(None, None) && !counts(Some(0.9), None) && !counts(None, Some(0.9)));
    assert!(counts(Some(1.0), None) && counts(Some(1.1), Some(0.9)));
    assert!(counts(None, Some(1.0)) && counts(Some(0.9), Some(1.1)) && !counts(Some(0.9), Some(0.9)));
}

#[test]
fn what_is_said_of_a_bullet_wherever_it_is_shot_is_the_worst_that_speaks_of_construction_alone() {
    let load =
        |construction: Construction| shipped("308-168-match").with(|facts| facts.construction = construction).unwrap();
    assert_eq!(HOUSE.of_construction(&load(Construction::JacketedLead)), Verdict::Suits);
    assert_eq!(HOUSE.of_construction(&load(Construction::ArmourPiercing)), Verdict::Unsuitable);
    let said = |filter: &str, outcome: &str, construction: Construction| {
        let rule = format!("subject = 'case'; sense = 'outcome'; outcome = '{outcome}'; {filter}");
        with_rule(&rule).of_construction(&load(construction))
    };
    let jacketed = Construction::JacketedLead;
    assert_eq!(said("construction = ['jacketed-lead']", "borderline", jacketed), Verdict::Borderline);
    assert_eq!(said("construction = ['lead']", "borderline", jacketed), Verdict::Suits);
    assert_eq!(
        said("construction = ['armour-piercing']", "borderline", Construction::ArmourPiercing),
        Verdict::Unsuitable
    );
    assert_eq!(
        said("construction = ['jacketed-lead']; class = ['rifle']", "borderline", jacketed),
        Verdict::Borderline
    );
    assert_eq!(said("construction = ['jacketed-lead']; class = ['handgun']", "borderline", jacketed), Verdict::Suits);
    assert_eq!(said("construction = ['jacketed-lead']; within = '50 yd'", "borderline", jacketed), Verdict::Suits);
    assert_eq!(said("class = ['rifle']", "unsuitable", jacketed), Verdict::Suits);
}

#[test]
fn the_lowest_ceiling_on_impact_speed_is_the_one_that_counts() {
    let ceiling = |fps: u32| {
        let rules = with_rule(&format!("subject = 'impact-speed'; sense = 'at-most'; suits = '{fps} ft/s'"));
        let (speed, rule) = rules.speed_ceiling().unwrap();
        (unit::FOOT_PER_SECOND.value(speed).round(), rule.id.clone())
    };
    assert_eq!(ceiling(2849), (2849.0, "own".to_owned()));
    // The house's own stands where a range's is the same or higher.
    assert_eq!(ceiling(2850), (2850.0, "speed-ceiling".to_owned()));
    assert_eq!(ceiling(2900), (2850.0, "speed-ceiling".to_owned()));
}

#[test]
fn what_a_thicker_plate_and_what_a_farther_shot_change_is_told_by_subject() {
    let all = [
        Subject::Distance,
        Subject::ImpactSpeed,
        Subject::SlowSpeed,
        Subject::MuzzleSpeed,
        Subject::MuzzleEnergy,
        Subject::Calibre,
        Subject::Thickness,
        Subject::Width,
        Subject::HangsBy,
        Subject::Energy,
        Subject::Demand,
        Subject::Lean,
        Subject::Oblique,
        Subject::Case,
        Subject::DutyFactor,
        Subject::MountFactor,
        Subject::FaceFactor,
    ];
    let those = |is: &dyn Fn(Subject) -> bool| all.into_iter().filter(|subject| is(*subject)).collect::<Vec<_>>();
    assert_eq!(those(&Subject::is_plates_own), [Subject::Thickness, Subject::Energy, Subject::Demand]);
    let farther =
        [Subject::Distance, Subject::ImpactSpeed, Subject::SlowSpeed, Subject::Energy, Subject::Demand, Subject::Lean];
    assert_eq!(those(&Subject::moves), farther);
    // A rule of another subject is the plate's own where it speaks of some thicknesses only.
    let own = |keys: &str| {
        let rules = with_rule(&format!("subject = 'distance'; sense = 'at-least'; suits = '9 yd'; {keys}"));
        rules.rules().last().unwrap().is_plates_own()
    };
    assert!(!own("") && own("thickness-from = '1/4 in'") && own("thickness-below = '1/2 in'"));
}

#[test]
fn of_two_findings_the_worse_verdict_comes_first_then_the_smaller_margin_and_what_has_no_number_last() {
    let load = shipped("308-168-match");
    let (plate, setup) = (plate(0.375), Setup { mount: crate::plate::Mount::Welded, ..leaning(round(12.0)) });
    let allowance = HOUSE.allow(&load, &plate, &setup, listed(&load));
    let found = allowance.findings(&with_energy(&load, strike(&load, 300.0), 2000.0));
    let of = |id: &str| *found.iter().find(|finding| finding.rule().id == id).unwrap();
    let (energy, speed) = (of("energy-cap"), of("speed-ceiling"));
    assert!(energy.verdict == speed.verdict && energy.margin < speed.margin, "{energy:?} {speed:?}");
    assert!(energy.is_worse_than(&speed) && !speed.is_worse_than(&energy) && !energy.is_worse_than(&energy));
    let welded = found.iter().find(|f| f.rule().concern == Some(Concern::Weld)).unwrap();
    assert!(welded.margin.is_none() && welded.is_worse_than(&energy) && !energy.is_worse_than(welded));
}

#[test]
fn a_range_s_name_given_twice_is_pointed_at_in_its_file() {
    let text = "schema = \"thickset/rules/1\"\nname = \"Hollow Creek\"\n[[rule]]\nid = \"a\"\nwhy = \"of Hollow Creek\"\n\
                subject = \"case\"\nsense = \"caution\"\n";
    let rules = HOUSE.clone().with_overlay(&SourceText::new("range.toml", text)).unwrap();
    let place = rules.with_overlay(&SourceText::new("range.toml", text)).unwrap_err().place.unwrap();
    assert_eq!((place.source.position(place.span.start), &text[place.span]), ((2, 9), "Hollow Creek"));
}

#[test]
fn what_a_load_is_hides_nothing_that_speaks_of_the_plate_as_well() {
    let rule = |id: &str, more: &str| format!("[[rule]]\nid = \"{id}\"\nwhy = \"x\"\n{more}\n");
    let case = "subject = \"case\"\nsense = \"outcome\"\noutcome = \"borderline\"";
    let limit = |subject: &str, suits: &str, borderline: &str| {
        format!("subject = \"{subject}\"\nsense = \"at-least\"\nsuits = \"{suits}\"\nborderline = \"{borderline}\"")
    };
    let text = [
        rule("of-class", &format!("{case}\nclass = [\"rifle\"]")),
        rule("of-duty", &format!("{case}\nduty = [\"private\"]")),
        rule("near", &format!("{case}\nwithin = \"500 yd\"")),
        rule("wide", &limit("width", "20 in", "5 in")),
        rule("thick", &limit("thickness", "3/4 in", "1/8 in")),
    ];
    let text = format!("schema = \"thickset/rules/1\"\nname = \"range\"\n{}", text.concat());
    let rules = HOUSE.clone().with_overlay(&crate::source::SourceText::new("range.toml", text)).unwrap();
    let load = shipped("308-168-copper");
    let allowance = rules.allow(&load, &plate(0.5), &leaning(round(12.0)), listed(&load));
    let short = |allowance: &Allowance| -> Vec<String> {
        let found = allowance.findings(&strike(&load, 400.0));
        found.iter().filter(|f| f.verdict != Verdict::Suits).map(|f| f.rule().id.clone()).collect()
    };
    let (whole, beside) = (short(&allowance), short(&allowance.beside_load()));
    for (id, stays) in
        [("monolithic", false), ("of-class", false), ("of-duty", true), ("near", true), ("wide", true), ("thick", true)]
    {
        assert!(
            whole.iter().any(|of| of == id) && beside.iter().any(|of| of == id) == stays,
            "{id}: {whole:?} {beside:?}"
        );
    }
}
