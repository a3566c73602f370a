//! A match of 48 targets and 40 loads is told on a page of 34 lines, however much of it fails and in whatever ways; each
//! target that fails is named there.

use super::course_signs::{given, joined};
use super::{json, stdout, thickset};
use std::fmt::Write;

const PAGE: usize = 34;
const AIR: &str = "[air]\naltitude = \"1500 ft\"\ntemperature = \"40 F..90 F\"\n";
const STAND: &str = "[stand]\ncondition = \"sound\"\nsteel = \"AR500\"\nmount = \"captive-hook\"\n";
const HEAD: &str =
    "stage,target,position,at (yd),plate,face,class,tilt (deg),mount,condition,oblique (deg),slope (deg)\n";

/// Forty shooters with these loads in turn.
fn bibs(loads: &[&str]) -> String {
    (1..=40).fold("bib,load\n".to_owned(), |rows, i| rows + &format!("bib {i},{}\n", loads[i % loads.len()]))
}

const KNOWN: [&str; 10] = [
    "308-168-match",
    "308-175-match",
    "300wm-190-match",
    "223-77",
    "9mm-124",
    "45acp-230",
    "22lr-pistol-40",
    "44mag-240",
    "338lm-250",
    "300wm-180",
];

struct Match {
    name: &'static str,
    top: String,
    loads: String,
    stages: String,
}

fn pick<'a>(of: &[&'a str], i: usize) -> &'a str {
    of[i % of.len()]
}

/// Bolted and welded, pitted and cratered, turned, leaning back, too near, too thin, two positions.
fn everything() -> Match {
    let mut stages = HEAD.to_owned();
    for i in 0..48 {
        let (stage, place) = (i / 4 + 1, i % 4);
        let plate = pick(&["3/8 in", "1/2 in", "3/8 in", "1/4 in"], place + stage);
        let (mount, turn) = (pick(&["", "bolted", "", "welded"], i / 3), pick(&["", "", "", "20"], i / 7));
        let condition = pick(&["", "", "pitted", "", "", "cratered"], i / 5);
        if stage % 3 == 0 {
            let (at, class) = ([8, 12, 15, 9][place], "handgun; rimfire-pistol");
            let _ = writeln!(stages, "Bay {stage},plate {i},,{at},3/8 in,8 in,{class},15,{mount},{condition},{turn},");
            continue;
        }
        let at = [110, 180, 300, 520][place];
        let row = |position: &str, at: i32, lean: i32| {
            format!("Ridge {stage},gong {i},{position},{at},{plate},12 in,rifle,{lean},{mount},{condition},{turn},\n")
        };
        stages += &if i % 6 == 0 {
            row("near", at, 15) + &row("far", at + 150, 15)
        } else {
            row("", at, [15, 0, 12, -5][place])
        };
    }
    Match { name: "everything", top: format!("{AIR}{STAND}"), loads: bibs(&KNOWN), stages }
}

/// Plates that are damaged or thin, of long names.
fn damaged() -> Match {
    let mut stages = HEAD.to_owned();
    let walls =
        ["Upper quarry wall", "Lower meadow", "North treeline", "Gravel road bend", "Old mill race", "Powder house"];
    for i in 0..48 {
        let name = pick(&["the old thin plate", "left shoulder gong", "creek bank silhouette", "flapper"], i);
        let (plate, face) = (pick(&["1/4 in", "3/8 in", "1/2 in"], i), pick(&["12 in", "10x18in", "8 in"], i));
        let state = pick(&["cratered", "pitted", "cracked", "bowed", "holed", "sound"], i);
        let _ = writeln!(stages, "{},{name} {i},,{},{plate},{face},rifle,15,,{state},,", walls[i / 8], 90 + 13 * i);
    }
    let loads = ["308-168-match", "300wm-190-match", "338lm-250", "223-77", "308-175-match", "300wm-180"];
    Match { name: "damaged", top: format!("{AIR}{STAND}"), loads: bibs(&loads), stages }
}

/// Bays too close for handguns, slugs and rifles.
fn close() -> Match {
    let mut stages = HEAD.to_owned();
    for i in 0..48 {
        let at = [6, 7, 9, 11, 13, 16, 22, 31, 38, 45][i % 10];
        let class =
            ["handgun", "handgun; pistol-carbine", "slug; handgun", "rimfire-pistol; handgun", "rifle; handgun"];
        let (plate, face) = (pick(&["3/8 in", "1/4 in", "3/8 in", "1/2 in"], i), pick(&["8 in", "10 in", "6 in"], i));
        let (lean, mount) = (pick(&["15", "", "-5", "25", "0"], i), pick(&["", "", "bolted"], i));
        let state = pick(&["", "", "", "pitted"], i);
        let stage = i / 4 + 1;
        let _ =
            writeln!(stages, "Bay {stage},plate {i},,{at},{plate},{face},{},{lean},{mount},{state},,", pick(&class, i));
    }
    let loads =
        ["9mm-124", "45acp-230", "44mag-240", "357mag-158", "22lr-pistol-40", "12ga-slug-1oz", "9mm-115", "223-77"];
    Match { name: "close", top: format!("{AIR}{STAND}"), loads: bibs(&loads), stages }
}

/// Loads that are refused, of steel cores and solid copper, at stages whose targets are called alike.
fn steel() -> Match {
    let mut loads = "bib,load,name,firearm,construction,bullet (gr),velocity (ft/s),bc,drag,diameter (in)\n".to_owned();
    let of = ["jacketed lead", "steel core", "monolithic", "jacketed lead", "armour-piercing", "tracer", "unknown"];
    for i in 1..=40 {
        let (grains, speed) = (140 + i, 2400 + 19 * i);
        let _ = writeln!(
            loads,
            "bib {i},,30 cal {grains} gr no {i},rifle,{},{grains},{speed},0.2{},G7,0.308",
            pick(&of, i),
            i % 10
        );
    }
    let mut stages = HEAD.to_owned();
    for i in 0..48 {
        let (stage, name) = (pick(&["A", "B", "C", "D", "E", "F", "G", "H", "I", "J", "K", "L"], i / 4), i % 4);
        let name = ["gong", "torso", "star", "bar"][name];
        let plate = pick(&["1/4 in", "3/8 in", "1/2 in", "3/8 in"], i / 4);
        let (lean, mount, state) = (pick(&["15", "", "5"], i), pick(&["", "chain", ""], i), pick(&["", "unknown"], i));
        let at = 80 + (i * 37) % 500;
        let _ = writeln!(stages, "Stage {stage},{name},,{at},{plate},12 in,rifle,{lean},{mount},{state},,");
    }
    let rule = "[[ammunition]]\nclass = [\"rifle\"]\nmuzzle-velocity-at-most = \"3000 ft/s\"\n\
                refused = [\"steel-core\", \"armour-piercing\", \"tracer\", \"incendiary\"]\n";
    Match { name: "steel", top: format!("{rule}{AIR}{STAND}"), loads, stages }
}

/// Mounts and faces: 24 stages on a hill.
fn mounts() -> Match {
    let mut stages = HEAD.to_owned();
    for i in 0..48 {
        let (at, plate) = ([120, 150, 210, 260, 330, 400, 480][i % 7], pick(&["3/8 in", "1/2 in"], i));
        let mount = pick(&["bolted", "welded", "open-hook", "chain", "captive-hook"], i / 2);
        let (lean, state) = (pick(&["-10", "0", "", "15", "20"], i), pick(&["", "", "bowed", "pitted"], i));
        let (turn, slope) = (pick(&["", "25", "40", ""], i / 3), pick(&["", "10", "-15"], i));
        let stage = i / 2 + 1;
        let _ = writeln!(stages, "S{stage:02},t{i},,{at},{plate},12 in,rifle,{lean},{mount},{state},{turn},{slope}");
    }
    let loads = ["308-168-match", "300wm-190-match", "338lm-250", "223-77", "556-55", "65cm-140", "300wm-180"];
    Match { name: "mounts", top: format!("{AIR}{STAND}"), loads: bibs(&loads), stages }
}

/// Sixteen stages with three positions for each of three targets.
fn positions() -> Match {
    let mut stages = HEAD.to_owned();
    for i in 0..16 {
        for (place, at) in
            [("barricade", [60, 100, 140, 90]), ("wall", [90, 130, 170, 120]), ("roof", [200, 230, 260, 300])]
        {
            for (j, name) in ["left", "middle", "right"].iter().enumerate() {
                let at = at[i % 4] + 7 * j + 3 * i;
                let (plate, face) = (pick(&["3/8 in", "1/2 in", "1/4 in"], i + j), pick(&["12 in", "8 in"], j));
                let class = pick(&["rifle", "rifle; handgun", "rifle; pistol-carbine"], i + j);
                let (mount, state) = (pick(&["", "bolted"], i / 5), pick(&["", "", "cratered", ""], i + j));
                let stage = i + 1;
                let _ =
                    writeln!(stages, "Stage {stage},{name},{place},{at},{plate},{face},{class},15,{mount},{state},,");
            }
        }
    }
    Match { name: "positions", top: format!("{AIR}{STAND}"), loads: bibs(&KNOWN), stages }
}

/// Forty-eight stages of one target each, what is known of it left out here and there.
fn posts() -> Match {
    let mut stages = HEAD.to_owned();
    for i in 0..48 {
        let (plate, face) = (pick(&["1/4 in", "3/8 in", "3/8 in", "1/2 in"], i), pick(&["12 in", "10 in"], i));
        let (lean, mount) = (pick(&["", "0", "-4", "12"], i), pick(&["", "bolted", "chain"], i));
        let (post, at, state) = (i + 1, 100 + 11 * i, pick(&["", "unknown", "pitted"], i / 2));
        let _ =
            writeln!(stages, "Post {post} above the creek,plate,,{at},{plate},{face},rifle,{lean},{mount},{state},,");
    }
    let loads = ["308-168-match", "300wm-190-match", "338lm-250", "556-55"];
    Match { name: "posts", top: AIR.to_owned(), loads: bibs(&loads), stages }
}

/// As the bench's: one stage, forty loads of no one's own, and air that nobody gave.
fn plain() -> Match {
    let mut stages = HEAD.to_owned();
    for i in 0..48 {
        let plate = pick(&["1/4 in", "3/8 in", "1/2 in", "3/4 in"], i);
        let _ = writeln!(stages, "s,t{i},,{},{plate},12 in,,20,,sound,,{}", 100 + 9 * i, i % 8);
    }
    let mut top = String::new();
    for i in 0..40 {
        let (grains, speed) = (50 + i, 2000 + (i * 7) % 900);
        let _ = write!(
            top,
            "[[load]]\nid = \"l{i}\"\nfirearm = \"rifle\"\nconstruction = \"jacketed-lead\"\nbullet = \"{grains} gr\"\n\
             muzzle-velocity = \"{speed} ft/s\"\ndrag = \"G7\"\nbc = \"0.2{}\"\n",
            i % 10
        );
    }
    Match { name: "plain", top, loads: "bib,load\n".into(), stages }
}

/// What stands before the last number of a name, the number, and what stands behind it.
fn parted(name: &str) -> Option<(&str, u64, &str)> {
    let end = name.rfind(|c: char| c.is_ascii_digit())? + 1;
    let start = name[..end].rfind(|c: char| !c.is_ascii_digit()).map_or(0, |at| at + 1);
    Some((&name[..start], name[start..end].parse().ok()?, &name[end..]))
}

/// Whether a text names something: in full, or by its number in a list of those that differ in it alone.
fn names(text: &str, name: &str) -> bool {
    // Letters are numbered as numbers are, and follow each other in no run.
    if let Some((word, letter)) = name.rsplit_once(' ')
        && letter.len() == 1
        && letter.starts_with(char::is_alphabetic)
    {
        let lists = text.match_indices(word).map(|(at, _)| &text[at + word.len()..]);
        return lists.into_iter().any(|list| {
            let parts = list.split([' ', ',']).filter(|part| !part.is_empty() && *part != "and");
            let letters = parts.map(|part| part.trim_end_matches(['.', ':', ';', ')']));
            letters.take_while(|part| part.len() == 1).any(|part| part == letter)
        });
    }
    let ends = |rest: &str| !rest.starts_with(|c: char| c.is_alphanumeric());
    if text.match_indices(name).any(|(at, _)| ends(&text[at + name.len()..])) {
        return true;
    }
    let Some((before, number, _)) = parted(name) else { return false };
    text.match_indices(before).any(|(at, _)| {
        let list = &text[at + before.len()..];
        let mut last: Option<u64> = None;
        let mut is_run = false;
        for word in list.split([' ', ',', ')', '(']).filter(|word| !word.is_empty()) {
            // `t3 to t5` has the word before each number.
            let bare = word.strip_prefix(before).unwrap_or(word);
            match bare.trim_end_matches([';', '.', ':']).parse::<u64>() {
                Ok(own) => {
                    let from = if is_run { last.unwrap_or(own) } else { own };
                    if (from..=own).contains(&number) {
                        return true;
                    }
                    (last, is_run) = (Some(own), false);
                }
                Err(_) if word == "to" => is_run = true,
                Err(_) if word == "and" => {}
                Err(_) => return false,
            }
            if word.ends_with([';', '.', ':']) {
                return false;
            }
        }
        false
    })
}

#[test]
fn a_list_is_read_as_it_is_written() {
    let text =
        "hang 1/2 in: gong 3, 4 and 9 to 12 (demand). Post 1 to 3 above the creek; t3 to t5; Stage A, C and D gong";
    for name in ["Stage C", "gong 3", "gong 10", "gong 12", "Post 2 above the creek", "t4", "gong"] {
        assert!(names(text, name), "{name}");
    }
    for name in ["Stage B", "gong 5", "gong 13", "gong 1", "Post 4 above the creek", "t6", "bar"] {
        assert!(!names(text, name), "{name}");
    }
}

#[test]
fn a_match_takes_34_lines_in_whatever_ways_it_fails_and_names_each_target_that_does() {
    let mut long = Vec::new();
    let matches = [everything(), damaged(), close(), steel(), mounts(), positions(), posts(), plain()];
    for (at, Match { name, top, loads, stages }) in matches.into_iter().enumerate() {
        let folder = tempfile::tempdir().expect("a folder");
        let line = given(folder.path(), &top, &loads, &stages);
        let text = stdout(&thickset(&line));
        assert!(text.lines().all(|line| line.chars().count() <= 80), "{name}\n{text}");
        if text.lines().count() > PAGE {
            long.push(format!("{name}: {} lines\n{text}", text.lines().count()));
        }
        let page = joined(&text);
        let fixes: Vec<&str> =
            page.split(" Fix: ").skip(1).map(|fix| fix.split(" Good: ").next().unwrap_or(fix)).collect();
        assert!(!fixes.is_empty(), "{name}\n{text}");
        // The long form of every other one: it takes as long again.
        let full = (at % 2 == 0).then(|| joined(&stdout(&thickset(&format!("{line} --full")))));
        let full = full.map(|full| full.split("No nearer than, the fixes made").next().unwrap_or_default().to_owned());
        let document = json(&line);
        let targets = document["targets"].as_array().expect("targets");
        let mut failing = 0;
        let is_to_fix = |fix: &str| fix != "nothing" && !fix.starts_with("decide on ");
        for target in targets.iter().filter(|target| is_to_fix(target["fix"].as_str().unwrap_or_default())) {
            let of = |key: &str| target[key].as_str().unwrap_or_default().to_owned();
            let (stage, target) = (of("stage"), of("target"));
            let alone = targets.iter().filter(|other| other["stage"] == stage.as_str()).count() == 1;
            let unique = targets.iter().filter(|other| other["target"] == target.as_str()).count() == 1;
            // By its stage where it has no other; by its own name where no other bears it; else by both together.
            let is_told = |part: &str| match (alone, unique) {
                (true, _) => names(part, &stage),
                (_, true) => names(part, &target),
                _ => names(part, &stage) && names(part, &target),
            };
            let told = fixes.iter().flat_map(|fix| fix.split("; ")).any(is_told);
            assert!(told, "{name}: {stage}, {target} is not named\n{text}");
            let in_full = full.as_ref().is_none_or(|full| full.contains(&target));
            assert!(in_full, "{name}: {target} not in the long form\n{full:?}");
            failing += 1;
        }
        assert!(failing > 8, "{name}: {failing}");
    }
    assert!(long.is_empty(), "{}", long.join("\n"));
}
