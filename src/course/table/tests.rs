//! What rows of loads and of targets are read as, and what of them stays unread and where.

use super::super::*;
use crate::catalog::Catalog;
use crate::plate::{Condition, Duty};
use crate::source::{Diagnostic, SourceText};
use crate::words::Units;
use std::path::Path;

const STAGES: &str = "stage,target,plate,at\nA,g,1/2 in,400 yd\n";

/// A match with tables of loads and of targets, and what stands in its file besides.
fn read(more: &str, loads: &str, stages: &str) -> Course {
    let tables = format!("targets = [\"stages.csv\"]\ndeclared = [\"loads.csv\"]\n{more}");
    let source = SourceText::new("match.toml", format!("schema = \"{SCHEMA}\"\nname = \"test\"\n{tables}"));
    let open = |path: &Path| -> Result<SourceText, Diagnostic> {
        match path.to_str() {
            Some("loads.csv") => Ok(SourceText::new("loads.csv", loads)),
            Some("stages.csv") => Ok(SourceText::new("stages.csv", stages)),
            _ => Err(Diagnostic::plain(format!("there is no `{}`", path.display()))),
        }
    };
    let (catalog, ladder) = (Catalog::builtin().unwrap(), Ladder::builtin().unwrap());
    let reading = Reading { catalog, ladder: &ladder, open: Some(&open), folder: None, units: Units::Us };
    Course::read(&source, reading).unwrap_or_else(|e| panic!("{e:?}"))
}

/// The faults of a match in words.
fn faults(course: &Course) -> Vec<String> {
    course.unread.shown().iter().map(|fault| fault.message.clone()).collect()
}

#[test]
fn a_row_that_names_a_listed_load_describes_that_one_or_is_not_read() {
    let row = |head: &str, cell: &str| read("", &format!("load,{head}\n308-168-match,{cell}\n"), STAGES);
    for (head, own, others, told) in [
        ("bullet (gr)", "167.3", &["167", "169"][..], "bullet is 168.0 gr"),
        ("velocity (ft/s)", "2640", &["2600", "2700"], "velocity is 2650 ft/s"),
        ("diameter (in)", "0.308", &["0.300", "0.311"], "diameter is 0.308 in"),
        ("bc", "0.23", &["0.22", "0.24"], "bc is its own"),
        ("bc g7", "0.23", &["0.22", "0.24"], "bc-g7 is its own"),
        ("drag", "g7", &["G1"], "drag is G7"),
        ("firearm", "Rifle", &["handgun"], "firearm is rifle"),
        ("construction", "jacketed lead", &["monolithic"], "construction is jacketed-lead"),
        ("projectiles", "1", &["9"], "projectiles is 1"),
        ("cartridge", "308 win", &[".223 Rem"], "cartridge is .308 Win"),
        ("name", "308 win 168 gr match", &["another"], "name is `308 Win 168 gr match`"),
        ("name", "308-168-match", &["308-175-match"], "name is `308 Win 168 gr match`"),
    ] {
        let course = row(head, own);
        assert!(course.loads.len() == 1 && course.unread.is_empty(), "{head} {own}: {:?}", faults(&course));
        for other in others {
            let course = row(head, other);
            let message = format!("the row names `308-168-match`, whose {told}, and describes another");
            assert_eq!(faults(&course), [message], "{head} {other}");
            assert!(course.loads.is_empty() && course.unread_on.everywhere == 1, "{head} {other}");
        }
    }
    // Of another model the same number is another bullet; of its spread the list says nothing.
    for (head, cell) in [("bc g1", "0.23"), ("velocity-sd (ft/s)", "12")] {
        assert_eq!(row(head, cell).unread_on.everywhere, 1, "{head}");
    }
}

#[test]
fn a_row_with_a_bullet_or_a_velocity_describes_a_load_of_its_own() {
    let told = |head: &str, cell: &str| faults(&read("", &format!("name,firearm,{head}\nMine,rifle,{cell}\n"), STAGES));
    for (head, cell) in [("velocity (ft/s)", "2650"), ("bullet (gr)", "168")] {
        let told = told(head, cell);
        assert!(told.len() == 1 && !told[0].contains("Mine"), "{told:?}");
    }
    // A name by itself is one of the list's.
    let told = told("shooter", "1");
    assert!(told.len() == 1 && told[0].contains("Mine"), "{told:?}");
}

#[test]
fn what_can_t_be_read_of_a_table_is_counted_where_it_may_hang_or_be_shot() {
    let loads = "load\n308-168-match\n";
    let course = read("", loads, &format!("{STAGES}A,h,1/2 in,400 yd,9,9\n"));
    assert_eq!((course.unread_on.everywhere, course.unread.count(), course.targets.len()), (1, 1, 1));
    let course = read("", &format!("{loads}308-168-match,9,9\n"), STAGES);
    assert_eq!((course.unread_on.everywhere, course.unread.count(), course.loads.len()), (1, 1, 1));
    let course = read("", loads, &format!("{STAGES}A,h,1/2 in,nowhere\nA,i,no plate,400 yd\nB,k,1/2 in,\n"));
    assert_eq!((course.unread_on.on("A"), course.unread_on.on("B"), course.unread_on.everywhere), (2, 1, 0));
    // A count that is none, and words of a state that nobody knows.
    for (head, cell) in [("count", "0"), ("count", "-1"), ("condition", "lovely")] {
        let course = read("", loads, &format!("stage,target,plate,at,{head}\nA,g,1/2 in,400 yd,{cell}\n"));
        assert_eq!((course.unread_on.on("A"), course.targets.len()), (1, 0), "{head}");
        assert!(faults(&course)[0].contains(&format!("`{cell}`")), "{:?}", faults(&course));
    }
}

#[test]
fn the_words_of_a_row_are_read_in_the_many_ways_people_write_them() {
    let of = |head: &str, cell: &str| {
        let course =
            read("", "load\n308-168-match\n", &format!("stage,target,plate,at,{head}\nA,g,1/2 in,400 yd,{cell}\n"));
        course.targets.first().cloned().unwrap_or_else(|| panic!("{head} {cell}: {:?}", faults(&course)))
    };
    for (cell, state) in [("New", Condition::Sound), ("pits", Condition::Pitted), ("bent", Condition::Bowed)] {
        assert_eq!(of("condition", cell).setup.condition, state, "{cell}");
    }
    assert_eq!(of("hung", "hooks").setup.mount, Mount::OpenHook);
    assert_eq!(of("duty", "Public").setup.duty, Duty::Public);
    assert_eq!(of("kind", "Falling").kind, Kind::Falling);
    assert_eq!(of("qty", "6").count, 6);
}

#[test]
fn a_target_with_a_row_for_a_class_and_one_for_everybody_is_for_everybody() {
    let loads = "load\n308-168-match\n9mm-124\n";
    let rows = |first: &str, second: &str| {
        let rows = format!(
            "stage,target,plate,position,at,class\nA,g,1/2 in,near,300 yd,{first}\nA,g,1/2 in,far,400 yd,{second}\n"
        );
        let course = read("", loads, &rows);
        assert!(course.unread.is_empty(), "{:?}", faults(&course));
        course.classes_at(&course.targets[0], &course.classes_brought())
    };
    assert_eq!(rows("rifle", ""), [Class::Handgun, Class::Rifle]);
    assert_eq!(rows("", "rifle"), [Class::Handgun, Class::Rifle]);
    assert_eq!(rows("rifle", "handgun"), [Class::Handgun, Class::Rifle]);
    assert_eq!(rows("rifle", "rifle"), [Class::Rifle]);
}

#[test]
fn a_name_that_begins_like_a_number_s_word_is_its_own() {
    let loads = "shooter,load\nElla,308-168-match\nNoella,300wm-180\n12,223-77\nNo,556-55\n";
    let without = |who: &str| {
        let rows = format!("stage,target,plate,at,without\nA,g,1/2 in,400 yd,{who}\n");
        let course = read("", loads, &rows);
        assert!(course.unread.is_empty(), "{:?}", faults(&course));
        course.targets[0].without.clone()
    };
    assert_eq!(without("Noella"), [1]);
    assert_eq!(without("Ella"), [0]);
    assert_eq!(without("no. 12"), [2]);
    assert_eq!(without("bib 12; No"), [2, 3]);
}

#[test]
fn a_stage_has_its_own_air_or_the_match_s_and_loses_its_targets_where_its_own_can_t_be_read() {
    let stages = "stage,target,plate,at\nHigh,g,1/2 in,400 yd\nLow,h,1/2 in,400 yd\n";
    let more = |air: &str| {
        format!("[air]\naltitude = \"500 ft\"\ntemperature = \"59 F\"\n[[stage]]\nname = \"High\"\nair = {{ {air} }}\n")
    };
    let course = read(&more("altitude = \"7000 ft\", temperature = \"59 F\""), "load\n308-168-match\n", stages);
    let density = |target: usize| course.airs[course.targets[target].air].thin().density().si();
    assert!(density(0) < 0.9 * density(1), "{} {}", density(0), density(1));
    assert_eq!(density(1), course.airs[0].thin().density().si());
    let course = read(&more("altitude = \"70000 ft\""), "load\n308-168-match\n", stages);
    assert_eq!(course.targets.iter().map(|t| t.name.as_str()).collect::<Vec<_>>(), ["h"]);
    let told = faults(&course);
    assert!(told.iter().any(|told| told.starts_with("stage `High`: altitude of `70000 ft`")), "{told:?}");
    assert_eq!((course.unread_on.on("High"), course.unread.count()), (2, 2));
}

#[test]
fn a_stage_whose_range_rules_can_t_be_read_loses_its_targets_and_says_why() {
    let stages = "stage,target,plate,at\nHigh,g,1/2 in,400 yd\nLow,h,1/2 in,400 yd\n";
    let more = "[[stage]]\nname = \"High\"\nrange-rules = [\"range.toml\"]\n";
    let course = read(more, "load\n308-168-match\n", stages);
    assert_eq!(course.targets.iter().map(|t| t.name.as_str()).collect::<Vec<_>>(), ["h"]);
    let told = faults(&course);
    assert_eq!((told.len(), course.unread_on.on("High")), (2, 2));
    assert!(told.contains(&"stage `High`: there is no `range.toml`".to_owned()), "{told:?}");
}

#[test]
fn a_target_hangs_as_its_kind_does_where_nothing_else_is_given() {
    let of = |kind: &str, stand: &str, all: &str| {
        let more = format!(
            "{all}[[stage]]\nname = \"B\"\n[[stage.target]]\nname = \"k\"\nplate = \"1/2 in\"\nat = \"20 yd\"\nkind = \"{kind}\"\nstand = {{ {stand} }}\n"
        );
        let course = read(&more, "load\n9mm-124\n", STAGES);
        assert!(course.unread.is_empty(), "{:?}", faults(&course));
        course.targets.iter().find(|t| t.name == "k").unwrap().setup.mount
    };
    let (chain, welded) = ("mount = \"chain\"", "[stand]\nmount = \"welded\"\n");
    assert_eq!(of("popper", "", ""), Mount::Bolted);
    assert_eq!(of("spinner", "", ""), Mount::CaptiveHook);
    assert_eq!(of("plate", "", ""), Mount::OpenHook);
    assert_eq!(of("spinner", chain, ""), Mount::Chain);
    assert_eq!([of("popper", "", welded), of("spinner", "", welded)], [Mount::Welded, Mount::Welded]);
    // What the gongs hang from is not the popper's.
    let hooks = "[stand]\nmount = \"open-hook\"\n";
    assert_eq!(of("plate", "", hooks), Mount::OpenHook);
    assert_eq!([of("popper", "", hooks), of("falling", "", hooks)], [Mount::Bolted, Mount::CaptiveHook]);
}

#[test]
fn a_hook_given_to_what_stands_is_refused_by_its_name_row_and_column() {
    let stages = "stage,target,plate,at,kind,mount\nA,gong,1/2 in,20 yd,,open-hook\nA,pop,1/2 in,20 yd,popper,open-hook\n\
                  A,rack,1/2 in,20 yd,falling,chain\nA,stiff,1/2 in,20 yd,popper,bolted\n";
    let course = read("", "load\n9mm-124\n", stages);
    assert_eq!(course.targets.iter().map(|t| t.name.as_str()).collect::<Vec<_>>(), ["gong", "stiff"]);
    let told = faults(&course).join("\n");
    assert!(told.contains("`pop`") && told.contains("a popper is on its hinge, and `open-hook` is given"), "{told}");
    assert!(told.contains("`rack`") && told.contains("a falling plate is standing on its base"), "{told}");
    let cells: Vec<_> = course.unread.shown().iter().filter_map(|fault| fault.cell.as_ref()?.column.clone()).collect();
    assert_eq!(cells, ["mount", "mount"]);
}

#[test]
fn level_ground_is_told_as_taken_unless_every_position_has_its_slope() {
    let told = |first: &str, second: &str| {
        let more = format!(
            "[[stage]]\nname = \"B\"\n[[stage.target]]\nname = \"k\"\nplate = \"1/2 in\"\n\
             positions = [{{ name = \"a\", at = \"300 yd\"{first} }}, {{ name = \"b\", at = \"400 yd\"{second} }}]\n"
        );
        let text = "stage,target,plate,at,slope\nA,g,1/2 in,400 yd,3 deg\n";
        let course = read(&more, "load\n308-168-match\n", text);
        course.assumed.iter().any(|text| text == "level ground")
    };
    let slope = ", slope = \"5 deg\"";
    assert_eq!([told(slope, slope), told(slope, ""), told("", slope), told("", "")], [false, true, true, true]);
}

#[test]
fn a_target_s_own_slope_beside_another_of_its_position_is_refused_by_name() {
    let own = |slope: &str| {
        let more = format!(
            "[[stage]]\nname = \"B\"\n[[stage.target]]\nname = \"k\"\nplate = \"1/2 in\"\nstand = {{ slope = \"15 deg\" }}\n\
             positions = [{{ name = \"p\", at = \"300 yd\"{slope} }}]\n"
        );
        faults(&read(&more, "load\n308-168-match\n", STAGES)).concat()
    };
    let told = own(", slope = \"0 deg\"");
    assert!(told.contains("`B`, target `k`: the target has a slope of 15°, and its position `p` one of 0°"), "{told}");
    assert_eq!([own(", slope = \"15 deg\""), own("")], ["", ""]);
    // A stage's positions, and the targets of a table.
    let stage = "[[stage]]\nname = \"A\"\n[[stage.positions]]\nname = \"p\"\nback = \"0 yd\"\nslope = \"3 deg\"\n";
    let stages = "stage,target,plate,at,slope\nA,g,1/2 in,400 yd,15 deg\nA,h,1/2 in,400 yd,\n";
    let course = read(stage, "load\n308-168-match\n", stages);
    assert_eq!(course.targets.iter().map(|t| t.name.as_str()).collect::<Vec<_>>(), ["h"], "{:?}", faults(&course));
    let cell = course.unread.shown()[0].cell.clone().unwrap();
    assert_eq!((cell.row, cell.column.as_deref()), (2, Some("slope")));
}

#[test]
fn a_load_whose_name_says_what_its_construction_does_not_is_not_judged() {
    let named = |name: &str| {
        let row = format!("{name},rifle,168 gr,2650 ft/s,0.223,G7,jacketed-lead");
        let course = read("", &format!("name,firearm,bullet,velocity,bc,drag,construction\n{row}\n"), STAGES);
        (course.loads.len(), course.unread_on.everywhere)
    };
    assert_eq!(named("168 mono"), (0, 1));
    assert_eq!(named("168 club load"), (1, 0));
    // Nor one of which nothing says what fires it.
    let own = |firearm: &str| {
        let more = format!(
            "[[load]]\nid = \"club\"\nname = \"club\"\nfirearm = \"{firearm}\"\nconstruction = \"jacketed-lead\"\n\
             bullet = \"168 gr\"\nmuzzle-velocity = \"2650 ft/s\"\ndrag = \"G7\"\nbc = \"0.223\"\n"
        );
        let course = read(&more, "load\n9mm-124\n", STAGES);
        (course.loads.len(), faults(&course).concat())
    };
    assert_eq!(own("rifle"), (2, String::new()));
    assert_eq!(own("unknown"), (1, "club: what fires it is not known".to_owned()));
}
