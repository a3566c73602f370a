//! A match as its director keeps it: what was not read or not judged closes signs, nothing that counts is left out, and
//! the page says what is done to a line once.

use super::here::{json, thickset};
use super::{status, stderr, stdout};
use std::fmt::Write;
use std::fs;
use std::path::Path;

/// A match in a folder: its file and its tables; the command line that answers it.
pub(super) fn given(folder: &Path, top: &str, loads: &str, stages: &str) -> String {
    let write = |name: &str, text: &str| fs::write(folder.join(name), text).expect("a file");
    write("loads.csv", loads);
    write("stages.csv", stages);
    write(
        "m.toml",
        &format!(
            "schema = \"thickset/course/1\"\nname = \"m\"\ntargets = [\"stages.csv\"]\ndeclared = [\"loads.csv\"]\n{top}"
        ),
    );
    format!("course {}", folder.join("m.toml").display())
}

const AIR: &str = "[air]\naltitude = \"0 ft\"\ntemperature = \"59 F\"\n";
const STAND: &str = "[stand]\ncondition = \"sound\"\ntilt = \"15 deg\"\n";

pub(super) fn usual() -> String {
    format!("{AIR}{STAND}")
}

/// The text of a page with its lines joined.
pub(super) fn joined(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What a sheet of a folder says, without its marks.
pub(super) fn sheet(folder: &Path, name: &str) -> String {
    let text = fs::read_to_string(folder.join(name)).unwrap_or_else(|e| panic!("{name}: {e}"));
    let text = text.split_once("<body>").expect("a body").1.to_owned();
    let mut plain = String::new();
    let mut is_mark = false;
    for c in text.chars() {
        match c {
            '<' => is_mark = true,
            '>' => {
                is_mark = false;
                plain.push(' ');
            }
            _ if !is_mark => plain.push(c),
            _ => {}
        }
    }
    joined(&plain)
}

fn names_in(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(folder).expect("a folder").filter_map(|e| e.ok()?.file_name().into_string().ok()).collect();
    names.sort();
    names
}

const GONG: &str = "stage,target,at (yd),plate,face,class\nA,gong,300,1/2 in,12 in,rifle\n";

#[test]
fn a_row_or_a_load_that_was_not_read_closes_the_signs_that_it_may_belong_to() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let stages = "stage,target,position,at (yd),plate,face,class\nA,gong,back,300,1/2 in,12 in,rifle\n\
                  A,small,front,60,1/2in,12 inn,rifle\nB,g,,300,1/2 in,12 in,rifle\nC,x,,ten,1/2 in,12 in,rifle\n";
    let run = |loads: &str, stages: &str| {
        let line = given(folder.path(), &usual(), loads, stages);
        thickset(&format!("{line} --sheets {}", sheets.display()))
    };
    let output = run("bib,load\n1,308-168-match\n", stages);
    assert_eq!(status(&output), 2, "{}", stdout(&output));
    let page = joined(&stdout(&output));
    assert!(page.contains("Good: every target on B; 1 of 1 target on the other stages"), "{page}");
    for (name, is_open) in [("sign-01-a.html", false), ("sign-02-b.html", true), ("sign-03-c.html", false)] {
        let sign = sheet(&sheets, name);
        assert_eq!(!sign.contains("Closed until the officer signs"), is_open, "{name}: {sign}");
    }
    // A load that was not read may be shot on any stage; so may a row that could not be cut into cells hang there.
    for (loads, stages) in [
        ("bib,load\n1,308-168-match\n2,300wm-1x8\n", GONG),
        (
            "bib,load\n1,308-168-match\n",
            "stage,target,at (yd),plate,face,class\nA,gong,300,1/2 in,12 in,rifle\nB,g,300\n",
        ),
    ] {
        let output = run(loads, stages);
        assert_eq!(status(&output), 2, "{}", stdout(&output));
        assert!(!joined(&stdout(&output)).contains("every target on"), "{}", stdout(&output));
        let sign = sheet(&sheets, "sign-01-a.html");
        assert!(sign.contains("Closed until the officer signs"), "{sign}");
    }
}

#[test]
fn a_sign_says_who_may_shoot_what_and_names_every_load_that_may_not() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let rules = "[[ammunition]]\nclass = [\"rifle\"]\nmuzzle-velocity-at-most = \"3000 ft/s\"\ncalibre-at-most = \"0.338 in\"\n\
                 refused = [\"monolithic\"]\n[[ammunition]]\nclass = [\"handgun\"]\nmuzzle-velocity-at-most = \"1500 ft/s\"\n";
    let loads = "bib,load,name,firearm,construction,bullet (gr),velocity (ft/s),bc,drag\n1,308-168-match,,,,,,,\n\
                 2,308-168-copper,,,,,,,\n3,,hot,rifle,jacketed lead,75,3310,0.242,G7\n4,9mm-124,,,,,,,\n";
    let stages =
        "stage,target,at (yd),plate,face,class\nC,row,300,1/2 in,12 in,rifle\nC,close,12,3/8 in,8 in,handgun\n";
    fs::copy("examples/gravel-pit.toml", folder.path().join("pit.toml")).expect("a file");
    let line = given(folder.path(), &format!("range-rules = [\"pit.toml\"]\n{}{rules}", usual()), loads, stages);
    let output = thickset(&format!("{line} --sheets {}", sheets.display()));
    assert!(status(&output) == 1, "{}{}", stdout(&output), stderr(&output));
    let sign = sheet(&sheets, "sign-01-c.html");
    for words in [
        "row: rifles 300 yd",
        "close: handguns 12 yd",
        "rifles: muzzle velocity to 3000 ft/s, calibre to 0.338 in, no monolithic",
        "handguns: muzzle velocity to 1500 ft/s",
        "Gravel Pit Rifle Club: no solid copper",
        "Nobody brings another load",
        "308 Win 168 gr solid copper (2)",
        "hot (3)",
    ] {
        assert!(sign.contains(words), "`{words}` not in\n{sign}");
    }
    assert!(!sign.contains("Anything the match did not admit"), "{sign}");
}

/// A load that is better left at home is named where its leaving lets a plate pass.
#[test]
fn a_sign_names_the_load_whose_leaving_opens_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let loads = "bib,load\n1,308-168-match\n2,223-77\n3,300wm-190-match\n";
    let mut stages = "stage,target,position,at (yd),plate,face,class\n".to_owned();
    for i in 0..6 {
        let _ = writeln!(stages, "S{i},gong,only,{},1/2 in,12 in,rifle", 160 + i);
    }
    let line = given(folder.path(), &usual(), loads, &stages);
    let output = thickset(&format!("{line} --sheets {}", sheets.display()));
    let page = joined(&stdout(&output));
    assert!(page.contains("Without no. 3: 6 more targets pass. That is less work than mending them."), "{page}");
    for i in 0..6 {
        let sign = sheet(&sheets, &format!("sign-{:02}-s{i}.html", i + 1));
        assert!(sign.contains("300 Win Mag") && sign.contains("(3)"), "{sign}");
    }
}

#[test]
fn signs_of_an_earlier_run_never_stay_beside_those_of_this_one() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let loads = "bib,load\n1,308-168-match\n";
    let stages = |b: &str| format!("stage,target,at (yd),plate,face,class\n{b}");
    let run = |text: &str| {
        let line = given(folder.path(), &usual(), loads, text);
        thickset(&format!("{line} --sheets {}", sheets.display()))
    };
    run(&stages("A,a,300,1/2 in,12 in,rifle\nB,b,150,1/2 in,12 in,rifle\n"));
    assert_eq!(names_in(&sheets), ["haul.html", "officer.html", "sign-01-a.html", "sign-02-b.html"]);
    run(&stages("B,b,470,1/2 in,12 in,rifle\n"));
    assert_eq!(names_in(&sheets), ["haul.html", "officer.html", "sign-01-b.html"]);
    // A match that can't be read removes nothing, and says whose sheets those are.
    let output = run("nonsense\n1\n");
    assert_eq!((status(&output), stdout(&output)), (2, String::new()));
    assert!(stderr(&output).contains("are of an earlier run"), "{}", stderr(&output));
    assert_eq!(names_in(&sheets).len(), 3);
    // Another's file is neither removed nor written over.
    fs::write(sheets.join("sign-09-mine.html"), "mine").expect("a file");
    let output = run(&stages("B,b,470,1/2 in,12 in,rifle\n"));
    assert_eq!(status(&output), 2);
    assert!(stderr(&output).contains("sign-09-mine.html"), "{}", stderr(&output));
    assert_eq!(fs::read_to_string(sheets.join("sign-09-mine.html")).expect("a file"), "mine");
}

#[test]
fn a_column_or_a_cell_that_speaks_of_what_is_judged_is_never_left_out() {
    let folder = tempfile::tempdir().expect("a folder");
    let answer = |top: &str, loads: &str, stages: &str| {
        thickset(&given(folder.path(), &format!("{top}{}", usual()), loads, stages))
    };
    let plain = "bib,load\n1,308-168-match\n";
    for head in ["chrono (ft/s)", "core", "magnet test", "jacket", "gr 2", "rifle velocity"] {
        let output = answer("", &format!("bib,load,{head}\n1,308-168-match,x\n"), GONG);
        assert_eq!(status(&output), 2, "{head}: {}", stdout(&output));
        assert!(stderr(&output).contains(head) && stderr(&output).contains("[columns]"), "{}", stderr(&output));
    }
    for head in ["closest (yd)", "walk to (yd)", "damage", "crater", "hardness"] {
        let stages = format!("stage,target,at (yd),plate,face,class,{head}\nA,gong,300,1/2 in,12 in,rifle,50\n");
        let output = answer("", plain, &stages);
        assert_eq!(status(&output), 2, "{head}: {}", stdout(&output));
    }
    let stages = GONG.replace("at (yd)", "from (yd)");
    assert_eq!(status(&answer("", plain, &stages)), 0, "what our own table heads so is read");
    for note in ["magnet sticks", "clocked 3150 fps", "cracked at the top"] {
        for (loads, stages) in [
            (format!("bib,load,notes\n1,308-168-match,{note}\n"), GONG.to_owned()),
            (
                plain.to_owned(),
                format!("stage,target,at (yd),plate,face,class,notes\nA,gong,300,1/2 in,12 in,rifle,{note}\n"),
            ),
        ] {
            let output = answer("", &loads, &stages);
            assert_eq!(status(&output), 2, "{note}: {}", stdout(&output));
            assert!(stdout(&output).starts_with("NOT READY: 1 row or entry not read"), "{}", stdout(&output));
        }
    }
    // What says nothing that counts is left out and told; and so is what the match leaves out on purpose.
    let output = answer("", "bib,load,notes\n1,308-168-match,left-handed\n", GONG);
    assert_eq!(status(&output), 0, "{}{}", stdout(&output), stderr(&output));
    let top = "[columns]\nnotes = \"ignore\"\n\"chrono (ft/s)\" = \"ignore\"\n";
    let loads = "bib,load,notes,chrono (ft/s)\n1,308-168-match,magnet sticks to the box,3150\n";
    let output = answer(top, loads, GONG);
    assert_eq!(status(&output), 0, "{}{}", stdout(&output), stderr(&output));
    assert!(
        joined(&stdout(&output)).contains("Left out: Columns notes, chrono (ft/s) of loads.csv"),
        "{}",
        stdout(&output)
    );
}

#[test]
fn leaving_the_only_shooters_at_home_lifts_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let line = given(
        folder.path(),
        &usual(),
        "bib,load\n1,300wm-190-match\n2,9mm-124\n",
        "stage,target,at (yd),plate,face,class\nA,gong,120,3/8 in,12 in,rifle\nB,p,12,3/8 in,8 in,handgun\n",
    );
    let document = json(&line);
    assert_eq!(document["leaving"]["best"].as_array().expect("sets").len(), 0, "{}", document["leaving"]);
    let page = joined(&stdout(&thickset("course examples/match.toml")));
    assert!(!page.contains("Without bib 11, bib 12 and bib 13"), "{page}");
}

#[test]
fn how_near_anyone_may_come_goes_by_stage_and_by_who_shoots() {
    let page = joined(&stdout(&thickset("course examples/match.toml")));
    assert!(!page.contains("Nobody nearer than 10 yd"), "{page}");
    let words = "Nobody nearer to a plate than the line on its stage's sign while it is hot.";
    assert!(page.contains(words), "{page}");
    let full = joined(&stdout(&thickset("course examples/match.toml --full")));
    for words in ["Ridge: ", "rifles 340 yd", "handguns 10 yd"] {
        assert!(full.split("No nearer than").nth(1).is_some_and(|lines| lines.contains(words)), "{words}: {full}");
    }
}

#[test]
fn a_class_that_no_ammunition_rule_names_is_decided_on_and_a_refused_load_is_not_ready() {
    let folder = tempfile::tempdir().expect("a folder");
    let rule = "[[ammunition]]\nclass = [\"rimfire-rifle\"]\nmuzzle-velocity-at-most = \"1350 ft/s\"\n";
    let stages = "stage,target,at (yd),plate,face\nA,gong,60,3/8 in,12 in\n";
    let line = given(
        folder.path(),
        &format!("{}{rule}", usual()),
        "bib,load\n1,22lr-std-40\n2,44mag-240\n3,9mm-124\n",
        stages,
    );
    let output = thickset(&line);
    let page = joined(&stdout(&output));
    assert_eq!(status(&output), 3, "{page}");
    assert!(page.starts_with("NOT READY: 2 loads to decide on."), "{page}");
    assert!(page.contains("Decide: handguns (2 and 3): the match's ammunition rules do not name them"), "{page}");
    let line = given(
        folder.path(),
        &format!("{}{}", usual(), rule.replace("1350", "1000")),
        "bib,load\n1,22lr-std-40\n2,22lr-subsonic-40\n",
        stages,
    );
    let output = thickset(&line);
    let text = stdout(&output) + &stderr(&output);
    assert!(status(&output) != 0 && !text.starts_with("READY"), "{text}");
}

#[test]
fn a_match_file_is_of_match_duty_unless_it_says_otherwise() {
    let folder = tempfile::tempdir().expect("a folder");
    let loads = "bib,load\n1,308-168-match\n";
    let verdict = |duty: &str| {
        let stages = GONG.replace("300", "110").replace("1/2", "3/8");
        let document = json(&given(folder.path(), &format!("{}{duty}", usual()), loads, &stages));
        let holds = document["holds_for"].as_array().expect("conditions").clone();
        let duty = holds.into_iter().find(|c| c["what"] == "duty").expect("a duty");
        (document["targets"][0]["findings"].clone(), duty)
    };
    let (bare, taken) = verdict("");
    let (given, said) = verdict("duty = \"match\"\n");
    assert_eq!(bare, given);
    assert_eq!((&taken["value"], &taken["given"]), (&"match".into(), &false.into()));
    assert_eq!((&said["value"], &said["given"]), (&"match".into(), &true.into()));
    assert_ne!(verdict("duty = \"private\"\n").0, given);
}

#[test]
fn a_match_says_what_it_rests_on_as_a_verdict_does_and_names_the_targets_that_other_air_changes() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let loads = "bib,load\n1,308-168-match\n";
    let line = given(
        folder.path(),
        "[stand]\ncondition = \"sound\"\n",
        loads,
        &GONG.replace("300", "330").replace("1/2", "3/8"),
    );
    let output = thickset(&format!("{line} --sheets {}", sheets.display()));
    let page = joined(&stdout(&output));
    assert!(page.contains("plumb, not leaning away, lead core; and nobody brings another load"), "{page}");
    let sign = sheet(&sheets, "sign-01-a.html");
    for words in ["plumb, not leaning away", "its lean was not given", "lead core", "nobody brings another load"] {
        assert!(sign.contains(words), "{words}: {sign}");
    }
    // Somewhere on the way out thin air changes the verdict, and the target is named on page and sign.
    let changed = (100..420).step_by(3).find_map(|yards| {
        let stages = GONG.replace("300", &yards.to_string()).replace("1/2", "3/8");
        let line = given(folder.path(), "[stand]\ncondition = \"sound\"\n", loads, &stages);
        let page = joined(&stdout(&thickset(&format!("{line} --sheets {}", sheets.display()))));
        page.contains("The air was not given in full").then_some(page)
    });
    let page = changed.expect("a distance at which thin air counts");
    assert!(page.contains("for all of 0 to 6000 ft at -10 to 100 °F nobody nearer than: A, gong 303 yd"), "{page}");
    assert!(sheet(&sheets, "sign-01-a.html").contains("gong passes at sea level up to "));
}

#[test]
fn a_construction_that_is_not_known_is_refused_where_what_it_may_be_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let rule =
        "[[ammunition]]\nclass = [\"rifle\"]\nmuzzle-velocity-at-most = \"2500 ft/s\"\nrefused = [\"steel-core\"]\n";
    let line = given(
        folder.path(),
        &format!("anything = [\"rifle\"]\n{}{rule}", usual()),
        "bib,load,firearm,bullet (gr),velocity (ft/s),bc,drag\n1,762x39-123,,,,,\n2,,rifle,150,2400,0.2,G7\n",
        "stage,target,at (yd),plate,face,class\nA,gong,900,3/4 in,24 in,rifle\n",
    );
    let document = json(&line);
    let refused: Vec<&str> =
        document["refused"].as_array().expect("loads").iter().filter_map(|r| r["who"].as_str()).collect();
    assert_eq!(refused, ["1", "2"]);
    let page = joined(&stdout(&thickset(&format!("{line} --full"))));
    assert!(!page.contains("load of unknown") && !page.contains("--construction"), "{page}");
}

#[test]
fn poppers_and_falling_plates_stand_as_their_kind_does() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let stages = "stage,target,at (yd),plate,face,class,kind\nA,rack,12,3/8 in,8 in,handgun,falling\n\
                  A,pop,12,3/8 in,12 in,handgun,popper\nA,gong,12,3/8 in,12 in,handgun,\n";
    let line = given(folder.path(), &usual(), "bib,load\n1,9mm-124\n", stages);
    thickset(&format!("{line} --sheets {}", sheets.display()));
    let officer = sheet(&sheets, "officer.html");
    for words in
        ["standing on its base", "on its hinge", "gong: leaning 15° toward the shooter, square, hung from open hooks"]
    {
        assert!(officer.contains(words), "{words}: {officer}");
    }
    assert!(!officer.contains("bolted rigid") && !officer.contains("captive"), "{officer}");
    assert!(officer.contains("3/8 in, 8 in round"), "{officer}");
}

#[test]
fn one_plate_is_shot_by_two_classes_from_different_lines_and_hauled_once() {
    let folder = tempfile::tempdir().expect("a folder");
    let loads = "bib,load\n1,22lr-pistol-40\n2,22lr-std-40\n";
    let stages = "stage,target,at (yd),plate,face,class\nA,gong,12,3/8 in,12 in,rimfire-pistol\nA,gong,60,3/8 in,12 in,rimfire-rifle\n";
    let line = given(folder.path(), &usual(), loads, stages);
    let document = json(&line);
    assert_eq!(document["targets"].as_array().expect("targets").len(), 1);
    assert_eq!((&document["verdict"], &document["haul"][0]["count"]), (&"suits".into(), &1.into()), "{document}");
    assert!(document["inputs"]["tables"][0]["words"].as_str().expect("words").contains("2 rows, 2 read: 1 target"));
    // A rifle at the pistols' line fails all the same.
    let output = thickset(&given(
        folder.path(),
        &usual(),
        loads,
        &stages.replace("rimfire-rifle", "rimfire-rifle; handgun").replace("A,gong,60", "A,gong,6"),
    ));
    assert!(status(&output) != 0, "{}", stdout(&output));
}

#[test]
fn a_load_is_left_out_at_a_stage_by_its_shooter_or_its_name() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let loads = "bib,load\nbib 1,308-168-match\nbib 2,300wm-190-match\nbib 3,223-77\n";
    let row = |without: &str| {
        format!("stage,target,at (yd),plate,face,class,without\nA,gong,160,1/2 in,12 in,rifle,{without}\n")
    };
    let run = |without: &str| {
        thickset(&format!("{} --sheets {}", given(folder.path(), &usual(), loads, &row(without)), sheets.display()))
    };
    assert_ne!(status(&run("")), 0, "the magnum does not pass there");
    for without in ["bib 2", "BIB 2", "300wm-190-match", "300 Win Mag 190 gr match"] {
        let output = run(without);
        assert_eq!(status(&output), 0, "{without}: {}{}", stdout(&output), stderr(&output));
        assert!(sheet(&sheets, "sign-01-a.html").contains("300 Win Mag 190 gr match (bib 2)"), "{without}");
    }
    let output = run("bib 9");
    assert_eq!(status(&output), 2, "{}", stdout(&output));
    assert!(stderr(&output).contains("`bib 9` brings no load"), "{}", stderr(&output));
    // A stage of the file says the same.
    let line =
        given(folder.path(), &format!("{}[[stage]]\nname = \"A\"\nwithout = [\"bib 2\"]\n", usual()), loads, &row(""));
    assert_eq!(status(&thickset(&line)), 0);
}

#[test]
fn loads_are_found_by_the_names_that_pages_print_in_any_case() {
    let folder = tempfile::tempdir().expect("a folder");
    for name in ["308-168-MATCH", "308 Win 168 gr match", "308 win 168 gr MATCH"] {
        let output = thickset(&given(folder.path(), &usual(), &format!("bib,load\n1,{name}\n"), GONG));
        assert_eq!(status(&output), 0, "{name}: {}", stderr(&output));
    }
}

#[test]
fn metric_sheets_are_read_and_answered_in_metric() {
    let folder = tempfile::tempdir().expect("a folder");
    let loads = "bib,load,name,firearm,construction,bullet (g),velocity (m/s),bc,drag\n1,308-168-match,,,,,,,\n2,,quick,rifle,bonded,4.5,980,0.22,G7\n";
    let stages =
        "stage,target,at (m),plate (mm),face (mm),class\nA,gong,300,15,450,rifle\nA,board,300,15,300x500,rifle\n";
    let rule = "[[ammunition]]\nclass = [\"rifle\"]\nmuzzle-velocity-at-most = \"975 m/s\"\n";
    let line = given(folder.path(), &format!("{}{rule}", usual()), loads, stages);
    let output = thickset(&format!("{line} --units si --full"));
    let text = joined(&stdout(&output));
    assert_eq!(status(&output), 1, "{text}{}", stderr(&output));
    assert!(
        text.contains("980 m/s above 975 m/s") && text.contains("450 mm round") && text.contains("300 × 500 mm"),
        "{text}"
    );
    for words in ["ft/s", " in round", "°F", " yd"] {
        assert!(!text.contains(words), "`{words}` in\n{text}");
    }
}

#[test]
fn everybody_is_named_who_must_be_written_to() {
    let folder = tempfile::tempdir().expect("a folder");
    let loads: String = (1..=20)
        .map(|i| format!("bib {i},,own {i},rifle,jacketed lead,190,{},0.27,G7\n", 2900 + i))
        .collect::<Vec<_>>()
        .concat();
    let line = given(
        folder.path(),
        &usual(),
        &format!(
            "bib,load,name,firearm,construction,bullet (gr),velocity (ft/s),bc,drag\n{loads}bib 21,308-168-match,,,,,,,\n"
        ),
        "stage,target,at (yd),plate,face,class\nA,gong,110,3/8 in,12 in,rifle\n",
    );
    let (full, csv) =
        (joined(&stdout(&thickset(&format!("{line} --full")))), stdout(&thickset(&format!("{line} --format csv"))));
    for i in 1..=20 {
        for (text, ends) in [(&full, [",", " ", ")", "."].as_slice()), (&csv, [";", ",", "\""].as_slice())] {
            assert!(ends.iter().any(|end| text.contains(&format!("bib {i}{end}"))), "bib {i} not in\n{text}");
        }
    }
    assert!(stdout(&thickset(&line)).contains("more"));
}

/// 48 targets and 40 loads are told on a page that is read to its end.
#[test]
fn a_large_match_is_told_in_some_thirty_lines_and_each_line_moves_once() {
    let folder = tempfile::tempdir().expect("a folder");
    let known =
        ["308-168-match", "308-175-match", "300wm-190-match", "223-77", "9mm-124", "45acp-230", "22lr-pistol-40"];
    let mut loads = "bib,load\n".to_owned();
    for i in 1..=40 {
        let _ = writeln!(loads, "bib {i},{}", known[i % known.len()]);
    }
    let mut stages = "stage,target,at (yd),plate,face,class,tilt (deg)\n".to_owned();
    for i in 0..48 {
        let (stage, place) = (i / 4 + 1, i % 4);
        let plate = ["3/8 in", "1/2 in", "3/8 in", "1/4 in"][(place + stage) % 4];
        if stage % 3 == 0 {
            let _ = writeln!(
                stages,
                "Bay {stage},plate {i},{},3/8 in,8 in,handgun; rimfire-pistol,15",
                [8, 12, 15, 9][place]
            );
        } else {
            let _ = writeln!(
                stages,
                "Ridge {stage},gong {i},{},{plate},12 in,rifle,{}",
                [110, 180, 300, 520][place],
                [15, 0, 12, 15][place]
            );
        }
    }
    let output = thickset(&given(
        folder.path(),
        &format!("{AIR}[stand]\ncondition = \"sound\"\nsteel = \"AR500\"\nmount = \"captive-hook\"\n"),
        &loads,
        &stages,
    ));
    let text = stdout(&output);
    assert!(text.lines().count() <= 40 && text.lines().all(|line| line.chars().count() <= 80), "{text}");
    for words in ["Fix: ", "Good: ", "Haul: ", "Holds for: ", "Safety: "] {
        assert!(text.contains(words), "{words} not in\n{text}");
    }
    // A line of a stage is moved once.
    for stage in 1..=12 {
        let (alone, grouped) = (format!("Ridge {stage}: line back"), format!("Ridge {stage} "));
        let lines = joined(&text);
        let lines =
            lines.split_once("lines back for rifles: ").and_then(|(_, rest)| rest.split_once('(')).map_or("", |l| l.0);
        assert!(text.matches(&alone).count() + lines.matches(&grouped).count() <= 1, "{text}");
    }
}

/// What the fixes hold for is each stage's own air.
#[test]
fn a_sign_says_that_its_fixes_hold_for_the_air_that_its_own_stage_leaves_open() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let stages = "[[stage]]\nname = \"Open\"\n[[stage]]\nname = \"Cold\"\nair = { altitude = \"0 ft\", temperature = \"-10 F\" }\n\
                  [[stage]]\nname = \"High\"\nair = { altitude = \"0 ft\" }\n";
    let rows =
        "stage,target,at (yd),plate,class\nOpen,a,80,3/8 in,rifle\nCold,b,80,3/8 in,rifle\nHigh,c,80,3/8 in,rifle\n";
    let line = given(folder.path(), &format!("{STAND}{stages}"), "bib,load\n1,223-55\n", rows);
    let page = joined(&stdout(&thickset(&format!("{line} --sheets {}", sheets.display()))));
    let whole = "The fixes hold for 0 to 6000 ft at -10 to 100 °F where it was not given, else for the air that was.";
    assert!(page.contains(whole), "{page}");
    let hold = |name: &str| sheet(&sheets, name).split_once("The fixes hold for ").map(|(_, rest)| rest.to_owned());
    assert!(hold("sign-01-open.html").is_some_and(|air| air.starts_with("0 to 6000 ft at -10 to 100 °F.")));
    assert!(hold("sign-03-high.html").is_some_and(|air| air.starts_with("-10 to 100 °F.")));
    assert_eq!(hold("sign-02-cold.html"), None);
}

#[test]
fn a_sign_names_the_cartridges_of_which_any_ammunition_was_judged() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let rows = "stage,target,at (yd),plate,class\nA,a,300,1/2 in,rifle\nA,b,15,3/8 in,handgun\n";
    let said = |top: &str| {
        let line = given(folder.path(), &(top.to_owned() + &usual()), "bib,load\n1,9mm-115\n", rows);
        let output = thickset(&format!("{line} --sheets {}", sheets.display()));
        assert!(status(&output) != 2, "{}", stderr(&output));
        sheet(&sheets, "sign-01-a.html")
    };
    let sign = said("any = [\".308 Win\"]\n");
    assert!(sign.contains("rifles: only the loads that were declared and any .308 Win"), "{sign}");
    assert!(
        sign.contains("handguns: only the loads that were declared ") && !sign.contains("declared and any 9"),
        "{sign}"
    );
}
