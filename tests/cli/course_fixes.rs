//! What a match's page says first holds: each line is a target's own, a load left at home is a fix, and no target that
//! fails goes unnamed.

use super::course_signs::{given, joined, sheet, usual};
use super::here::{json, thickset};
use super::{status, stderr, stdout};
use std::fmt::Write;

#[test]
fn a_stage_s_targets_at_different_distances_each_have_their_own_line() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let line = given(
        folder.path(),
        &usual(),
        "bib,load\n1,300wm-190-match\n",
        "stage,target,at (yd),plate,face,class\nHill,near,250,1/2 in,12 in,rifle\nHill,far,500,3/8 in,12 in,rifle\n",
    );
    let output = thickset(&format!("{line} --sheets {}", sheets.display()));
    assert_eq!(status(&output), 0, "{}", stdout(&output));
    let words = "Nobody nearer to a plate than its own line while it is hot: Hill rifles 250 yd (near), 500 yd (far).";
    for text in [joined(&stdout(&output)), sheet(&sheets, "officer.html")] {
        assert!(text.contains(words), "{text}");
    }
    let sign = sheet(&sheets, "sign-01-hill.html");
    assert!(sign.contains("near: rifles 250 yd") && sign.contains("far: rifles 500 yd"), "{sign}");
}

#[test]
fn a_load_left_at_home_is_the_first_fix_and_every_line_says_that_it_holds_only_then() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let stages = "stage,target,at (yd),plate,face,class\nA,one,15,3/8 in,8in,handgun\nA,two,10,3/8 in,8in,handgun\n\
                  B,three,20,3/8 in,8in,handgun\nB,thin,8,3/8 in,8in,handgun\n";
    let line = given(folder.path(), &usual(), "bib,load\nP1,9mm-124\nP2,44mag-240\n", stages);
    let page = joined(&stdout(&thickset(&format!("{line} --sheets {}", sheets.display()))));
    let first = page.split("Fix: ").nth(1).expect("a fix");
    for words in ["leave 44 Magnum 240 gr (P2) at home: A one and two; B three", "every line below hold only then"] {
        assert!(first.contains(words), "`{words}` not in {first}");
    }
    // What is left to mend is mended with the load gone.
    assert!(page.contains("B: line back by 2 yd for handguns: thin") || page.contains("thin: line to 10 yd"), "{page}");
    let home = "With 44 Magnum 240 gr (P2) left at home, nobody nearer to a plate than its own line";
    assert!(page.contains(home), "{page}");
    let officer = sheet(&sheets, "officer.html");
    assert!(officer.contains(home) && officer.contains("two: leave 44 Magnum 240 gr (P2) at home (or"), "{officer}");
    let document = json(&line);
    let targets = document["targets"].as_array().expect("targets");
    let fix = |name: &str| targets.iter().find(|t| t["target"] == name).and_then(|t| t["fix"].as_str()).expect("a fix");
    assert!(fix("two").starts_with("leave 44 Magnum 240 gr (P2) at home (or "), "{}", fix("two"));
    // Wherever a fix stands by itself it says what else it takes.
    let thin = fix("thin");
    assert!(!thin.contains("25 yd") && thin.ends_with("; leave 44 Magnum 240 gr (P2) at home as well"), "{thin}");
    let parts = &targets.iter().find(|t| t["target"] == "thin").expect("thin")["parts"];
    assert!(parts["refuse"].to_string().contains("44mag-240"), "{parts}");
    assert_eq!(document["better_left"][0]["load"], "44mag-240");
    let table = stdout(&thickset(&format!("{line} --format csv --table loads")));
    assert!(table.contains("44mag-240,44 Magnum 240 gr,P2,leave,then 3 targets without a fix"), "{table}");
}

/// Whether every target that does not pass is named, or counted on a page that says where it is named.
fn names_every_target_that_fails(line: &str, sheets: &std::path::Path) {
    let document = json(line);
    let failing: Vec<(String, String)> = document["targets"]
        .as_array()
        .expect("targets")
        .iter()
        .filter(|t| t["fix"] != "nothing")
        .map(|t| (t["stage"].as_str().expect("a stage").into(), t["target"].as_str().expect("a name").into()))
        .collect();
    assert!(failing.len() > 1, "{document}");
    let page = joined(&stdout(&thickset(&format!("{line} --sheets {}", sheets.display()))));
    let full = joined(&stdout(&thickset(&format!("{line} --full"))));
    let fixes = full.split("Every target's worst load").next().expect("fixes").to_owned();
    let csv = stdout(&thickset(&format!("{line} --format csv")));
    let officer = sheet(sheets, "officer.html");
    for (stage, target) in &failing {
        // Names of these targets are words that nothing else on the page holds.
        assert!(page.contains(target.as_str()), "{stage}, {target} not in\n{page}");
        assert!(fixes.contains(target.as_str()), "{stage}, {target} not in\n{fixes}");
        assert!(csv.contains(&format!("{stage},{target},")), "{stage}, {target} not in\n{csv}");
        assert!(officer.contains(target.as_str()), "{stage}, {target} not in\n{officer}");
    }
}

#[test]
fn no_target_that_fails_goes_unnamed() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let head = "stage,target,at (yd),plate,face,class,condition\n";
    let few =
        format!("{head}A,ax,12,3/8 in,8in,handgun,\nA,bx,8,3/8 in,8in,handgun,\nB,cx,9,3/8 in,8in,handgun,cracked\n");
    let mut many = head.to_owned();
    let conditions = ["", "bowed", "", "cracked", ""];
    for (stage, kind) in (0..7).flat_map(|stage| (0..5).map(move |kind| (stage, kind))) {
        let at = [6, 12, 16, 20, 9][kind] + stage;
        let plate = ["1/4 in", "3/8 in", "3/8 in"][(stage + kind) % 3];
        let _ = writeln!(many, "S{stage},t{stage}x{kind},{at},{plate},8in,handgun,{}", conditions[kind]);
    }
    let loads = "bib,load\nP1,9mm-124\nP2,44mag-240\nP3,45acp-230\nP4,357mag-158\n";
    for stages in [few, many] {
        let line = given(folder.path(), &usual(), loads, &stages);
        names_every_target_that_fails(&line, &sheets);
    }
}

#[test]
fn a_damaged_plate_is_retired_by_name_on_page_sign_and_officer_s_sheet() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let mut stages = "stage,target,at (yd),plate,face,class,condition\n".to_owned();
    for (index, state) in ["pitted", "cratered", "cracked", "bowed", "holed", "sound"].iter().enumerate() {
        let _ = writeln!(stages, "S{index},p{index},80,3/8 in,12 in,rifle,{state}");
    }
    let line = given(folder.path(), &usual(), "bib,load\n1,308-168-match\n2,300wm-190-match\n", &stages);
    let page = joined(&stdout(&thickset(&format!("{line} --sheets {}", sheets.display()))));
    let officer = sheet(&sheets, "officer.html");
    for (index, state) in ["pitted", "cratered", "cracked", "bowed", "holed"].iter().enumerate() {
        let sign = sheet(&sheets, &format!("sign-{:02}-s{index}.html", index + 1));
        assert!(sign.contains(&format!("new: the {state} one is retired")), "{sign}");
        assert!(officer.contains(&format!("p{index}: ")) && officer.contains(&format!("retire the {state} plate")));
        let retire = page.split("Fix: ").find(|fix| fix.contains(&format!("retire the {state} plate"))).expect(state);
        assert!(retire.contains(&format!("S{index} p{index}")), "{retire}");
        let why = retire.split_once('(').expect("a reason").1;
        assert!(why.starts_with("condition "), "{retire}");
    }
}

#[test]
fn what_the_page_stands_on_is_the_lean_that_the_fixes_set() {
    let folder = tempfile::tempdir().expect("a folder");
    let top = "[air]\naltitude = \"0 ft\"\ntemperature = \"59 F\"\n[stand]\ncondition = \"sound\"\n";
    let stages = "stage,target,at (yd),plate,face,class,tilt (deg)\nA,back,12,3/8 in,8 in,handgun,-8\n\
                  A,fore,12,3/8 in,8 in,handgun,20\n";
    let line = given(folder.path(), top, "bib,load\n1,9mm-124\n", stages);
    let page = joined(&stdout(&thickset(&line)));
    assert!(
        page.contains(
            "with the fixes made: sound on both faces, marked AR500, each at its own lean, 10° to 20° toward you"
        ),
        "{page}"
    );
    assert!(!page.contains("away from you"), "{page}");
}

#[test]
fn a_target_with_several_positions_is_lifted_with_the_others() {
    let folder = tempfile::tempdir().expect("a folder");
    let stages = "stage,target,position,at (yd),plate,face,class\nA,one,a,120,3/8 in,12 in,rifle\nA,one,b,130,3/8 in,12 in,rifle\n\
                  A,one,c,140,3/8 in,12 in,rifle\nB,two,a,120,3/8 in,12 in,rifle\nC,three,a,125,3/8 in,12 in,rifle\n";
    let loads = "bib,load\n1,223-77\n2,300wm-190-match\n3,338lm-250\n";
    let line = given(folder.path(), &usual(), loads, stages);
    let document = json(&line);
    let best = document["leaving"]["best"].as_array().expect("sets").last().expect("a set").clone();
    assert_eq!((best["lifts"].as_u64(), best["loads"].as_array().map(Vec::len)), (Some(3), Some(2)), "{best}");
}

#[test]
fn a_stage_s_own_air_and_every_part_of_the_air_that_was_given_are_listed() {
    let folder = tempfile::tempdir().expect("a folder");
    let top = "[air]\naltitude = \"9000 ft\"\ntemperature = \"95 F\"\nhumidity = \"40 %\"\n[stand]\ncondition = \"sound\"\n\
               tilt = \"15 deg\"\n[[stage]]\nname = \"Two\"\n[stage.air]\npressure = \"29.5 inHg\"\ntemperature = \"40 F\"\n";
    let stages = "stage,target,at (yd),plate,face,class\nOne,a,600,1/2 in,12 in,rifle\nTwo,b,600,1/2 in,12 in,rifle\n";
    let line = given(folder.path(), top, "bib,load\n1,308-168-match\n", stages);
    let output = thickset(&line);
    let page = joined(&stdout(&output));
    for words in ["altitude 9000 ft; 95 °F; humidity 40 %", "Two: station pressure 29.50 inHg, 40 °F"] {
        assert!(page.contains(words), "`{words}` not in {page}{}", stderr(&output));
    }
}

/// Who shoots a line is moved at each of its targets: where one would fail from farther off, the line stays.
#[test]
fn a_line_does_not_move_where_another_of_its_targets_would_fail_from_farther_off() {
    let folder = tempfile::tempdir().expect("a folder");
    let run = |speed: u32| {
        let loads = format!(
            "bib,load,name,firearm,construction,bullet (gr),velocity (ft/s),bc,drag,diameter (in)\n1,44mag-240,,,,,,,,\n\
             2,,slow,handgun,jacketed-lead,230,{speed},0.10,G1,0.451\n"
        );
        let stages = "stage,target,at (yd),plate,face,class,without\nA,near,12,3/8 in,8 in,handgun,2\n\
                      A,far,20,3/8 in,8 in,handgun,1\n";
        joined(&stdout(&thickset(&given(folder.path(), &usual(), &loads, stages))))
    };
    let page = run(760);
    assert!(page.contains("A: line back by 13 yd for handguns: near"), "{page}");
    let page = run(740);
    assert!(page.contains("A, near: set it back to 25 yd for handguns, the line stays"), "{page}");
    assert!(page.contains("A handguns 25 yd (near without no. 2), 20 yd (far without no. 1)"), "{page}");
}

/// Whatever the rules admit is judged down to their least limit: what is said less of is judged no better.
#[test]
fn anything_admitted_is_judged_as_slow_as_the_rules_let_it_be() {
    let folder = tempfile::tempdir().expect("a folder");
    let stages = "stage,target,at (yd),plate,face,class\nB,rack,35,3/8 in,8 in,handgun\n";
    let refused = "refused = [\"steel-core\", \"armour-piercing\", \"steel-jacket\", \"unknown\", \"monolithic\", \"tracer\", \
                   \"incendiary\"]\n";
    let run = |rule: &str| {
        let top = format!(
            "anything = [\"handgun\"]\n{}[[ammunition]]\nclass = [\"handgun\"]\nmuzzle-velocity-at-most = \"1100 ft/s\"\n{refused}{rule}",
            usual()
        );
        let line = given(folder.path(), &top, "bib,load\n1,9mm-147\n", stages);
        (json(&line), joined(&stdout(&thickset(&line))))
    };
    for rule in [
        "power-factor-at-least = 125\n",
        "power-factor-at-least = \"125\"\n",
        "",
        "muzzle-velocity-at-least = \"600 ft/s\"\n",
    ] {
        let (document, page) = run(rule);
        assert_ne!(document["targets"][0]["verdict"], "suits", "{rule}: {page}");
        assert!(page.contains("Fix: admit handguns from "), "{rule}: {page}");
        assert!(page.contains("admitted only, nobody nearer to a plate than its own line"), "{rule}: {page}");
    }
    // As fast as the page says, it passes.
    let (_, page) = run("");
    let speed = page.split("admit handguns from ").nth(1).and_then(|rest| rest.split(" ft/s").next()).expect("a speed");
    let (document, page) = run(&format!("muzzle-velocity-at-least = \"{speed} ft/s\"\n"));
    assert_eq!(document["ready"], true, "{page}");
}

#[test]
fn a_rack_that_a_load_leaves_up_is_told_and_a_base_is_read() {
    let folder = tempfile::tempdir().expect("a folder");
    let run = |plate: &str, base: &str| {
        let stages = format!(
            "stage,target,kind,count,at (yd),plate,face,class,{base}\nB,rack,falling,6,30,{plate},12in,rimfire-pistol,2 in\n"
        );
        let line = given(folder.path(), &usual(), "bib,load\nP,22lr-pistol-40\n", &stages);
        let output = thickset(&line);
        (joined(&stdout(&output)), stderr(&output))
    };
    for base in ["base", "base-depth", "base (in)"] {
        let (page, faults) = run("3/4 in", base);
        assert!(
            page.starts_with("READY: 1 target judged with 1 load, all pass; 1 does not fall to every load."),
            "{page}{faults}"
        );
        assert!(page.contains("Decide: B, rack does not fall to 22 LR") && page.contains("power factor of"), "{page}");
    }
}

#[test]
fn a_fault_of_a_row_names_its_column_and_who_brings_the_load() {
    let folder = tempfile::tempdir().expect("a folder");
    let loads = "bib,load,name,firearm,construction,bullet (gr),velocity (ft/s),bc,drag,diameter (in)\n\
                 P1,,five,handgun,jacketed-lead,40,1700,0.10,G1,5.7\nP2,,nobc,handgun,jacketed-lead,230,740,,G1,0.451\n\
                 P3,,v,handgun,jacketed-lead,230,7OO,0.1,G1,0.451\nP4,9mm-125,,,,,,,,\n";
    let stages = "stage,target,position,at (yd),plate,face,class,slope (deg)\nA,near,a,12,3/8 in,8 in,handgun,3\n\
                  A,near,b,15,1/2 in,8 in,handgun,5\nA,none,,,3/8 in,8 in,handgun,\n";
    let output = thickset(&given(folder.path(), &usual(), loads, stages));
    let (page, faults) = (joined(&stdout(&output)), joined(&stderr(&output)));
    assert_eq!(status(&output), 2, "{page}");
    for words in [
        "stands above with another `plate`",
        "row 4, column `at`",
        "P1: diameter of `5.7 in` is not between",
        "row 3, column `bc`",
        "row 4, column `velocity (ft/s)`",
        "P4: there is no load `9mm-125`",
    ] {
        assert!(page.contains(words), "`{words}` not in\n{page}");
    }
    assert!(faults.contains("did you mean `5.7 mm` = `0.2244 in`?"), "{faults}");
}

#[test]
fn values_of_some_targets_are_told_from_those_that_were_taken_for_the_others() {
    let folder = tempfile::tempdir().expect("a folder");
    let stages = "stage,target,at (yd),plate,face,class,slope (deg)\nA,a,300,1/2 in,12 in,rifle,6\nA,b,310,1/2 in,12 in,rifle,\n";
    let page = joined(&stdout(&thickset(&given(folder.path(), &usual(), "bib,load\n1,308-168-match\n", stages))));
    let (given, taken) = page.split_once("Assumed: ").expect("what was assumed");
    assert!(given.contains("slope 6°") && taken.contains("slope 0° where none was given"), "{page}");
}

#[test]
fn a_shotgun_is_two_classes_and_notes_that_speak_of_what_is_judged_stop_the_match() {
    let folder = tempfile::tempdir().expect("a folder");
    let top = format!("{}[[ammunition]]\nclass = [\"shotgun\"]\nrefused = [\"steel-shot\"]\n", usual());
    let stages =
        |note: &str| format!("stage,target,at (yd),plate,face,class,notes\nA,a,60,3/8 in,12 in,shotgun,{note}\n");
    let run = |note: &str| thickset(&given(folder.path(), &top, "bib,load\n1,12ga-slug-1oz\n", &stages(note)));
    let page = joined(&stdout(&run("")));
    assert!(
        !page.contains("unknown variant") && page.contains("such columns say is not judged"),
        "{page}{}",
        stderr(&run(""))
    );
    for note in ["tracers", "steelcore", "bi-metal", "bolted to the post", "juniors stand at 100", "chrono says 3400"] {
        let output = run(note);
        assert_eq!(status(&output), 2, "{note}: {}", stdout(&output));
        let page = joined(&stdout(&output));
        assert!(page.contains("column `notes`") && page.contains(&format!("`{note}`")), "{note}: {page}");
    }
}

#[test]
fn a_fix_that_hangs_a_plate_names_the_steel_where_the_one_that_hangs_is_of_another() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    for steel in ["other", "unknown", "AR400", "AR550"] {
        let stand = format!("{}steel = \"{steel}\"\n", usual());
        let stages = "stage,target,at (yd),plate\nA,t,200,1/4 in\n";
        let line = given(folder.path(), &stand, "bib,load\n1,6cm-108\n", stages);
        let page = joined(&stdout(&thickset(&format!("{line} --sheets {}", sheets.display()))));
        assert!(page.contains("Fix: hang 1/2 in AR500: A t ("), "{steel}: {page}");
        let document = json(&line);
        let target = &document["targets"][0];
        assert_eq!((&target["fix"], &target["parts"]["steel"]), (&"hang 1/2 in AR500".into(), &"AR500".into()));
        assert!(sheet(&sheets, "sign-01-a.html").contains("1/2 in AR500, 12 in round, new"), "{steel}");
        // Done as told it passes; the plate alone does not.
        let mended = stages.replace("1/4", "1/2");
        let done = given(folder.path(), &stand.replace(steel, "AR500"), "bib,load\n1,6cm-108\n", &mended);
        assert_eq!(status(&thickset(&done)), 0, "{steel}");
        let half = given(folder.path(), &stand, "bib,load\n1,6cm-108\n", &mended);
        assert_ne!(status(&thickset(&half)), 0, "{steel}");
    }
    let line = given(folder.path(), &usual(), "bib,load\n1,6cm-108\n", "stage,target,at (yd),plate\nA,t,200,1/4 in\n");
    let target = &json(&line)["targets"][0];
    assert_eq!((&target["fix"], &target["parts"]["steel"]), (&"hang 1/2 in".into(), &serde_json::Value::Null));
}

#[test]
fn a_lean_away_from_the_shooter_reads_as_one() {
    let folder = tempfile::tempdir().expect("a folder");
    let stand = usual().replace("15 deg", "45 deg") + "slope = \"-20 deg\"\n";
    let line =
        given(folder.path(), &stand, "bib,load\n1,308-168-match\n", "stage,target,at (yd),plate\nA,t,200,1/2 in\n");
    let page = joined(&stdout(&thickset(&line)));
    assert!(page.contains("lean it 10° away from the shooter"), "{page}");
}

#[test]
fn anything_of_a_class_that_the_rules_admit_nothing_of_is_told_as_that() {
    let folder = tempfile::tempdir().expect("a folder");
    let rule = "[[ammunition]]\nclass = [\"slug\"]\nmuzzle-velocity-at-most = \"100 ft/s\"\n";
    let stages = "stage,target,at (yd),plate\nA,t,200,1/2 in\n";
    for loads in ["bib,load\n", "bib,load\n1,308-168-match\n"] {
        let line = given(folder.path(), &format!("anything = [\"slug\"]\n{}{rule}", usual()), loads, stages);
        let output = thickset(&line);
        let text = joined(&stdout(&output)) + &stderr(&output);
        assert_eq!(status(&output), 2, "{text}");
        assert!(text.contains("anything of `slug`: the ammunition rules admit none that is known"), "{text}");
    }
}

#[test]
fn any_air_gun_that_is_admitted_may_be_a_weak_one() {
    let folder = tempfile::tempdir().expect("a folder");
    let stages = "stage,target,at (yd),plate,face,class\nB,gong,30,1/4 in,8 in,air-gun\n";
    let run = |rule: &str| {
        let top = format!(
            "anything = [\"air-gun\"]\n{}[[ammunition]]\nclass = [\"air-gun\"]\n\
             muzzle-velocity-at-most = \"1000 ft/s\"\nrefused = [\"monolithic\", \"steel-shot\", \"unknown\", \
             \"steel-jacket\", \"steel-core\", \"armour-piercing\", \"incendiary\", \"tracer\"]\n{rule}",
            usual()
        );
        let line = given(folder.path(), &top, "bib,load\n", stages);
        (json(&line), joined(&stdout(&thickset(&line))))
    };
    let (document, page) = run("");
    assert_ne!(document["ready"], true, "{page}");
    let speed = page.split("admit air-guns from ").nth(1).and_then(|rest| rest.split(" ft/s").next()).expect("a speed");
    assert!((430..700).contains(&speed.parse::<u32>().expect("a number")), "{page}");
    let (document, page) = run(&format!("muzzle-velocity-at-least = \"{speed} ft/s\"\n"));
    assert_eq!(document["ready"], true, "{page}");
}

#[test]
fn what_passes_near_and_fails_from_farther_off_is_no_good_target_and_is_shot_from_near_alone_on_page_and_sign() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("match.toml");
    let text = "schema = \"thickset/course/1\"\nname = \"Trial\"\nloads = [\"12ga-bird-8\"]\n\
                [air]\naltitude = \"500 ft\"\ntemperature = \"60 F\"\n\
                [stand]\ncondition = \"sound\"\ntilt = \"15 deg\"\nmount = \"captive-hook\"\nsteel = \"AR500\"\n\
                [[stage]]\nname = \"s\"\n[[stage.target]]\nname = \"gong\"\nplate = \"1/2 in\"\n\
                positions = [{ name = \"near\", at = \"150 yd\" }, { name = \"far\", at = \"250 yd\" }]\n";
    std::fs::write(&file, text).expect("a match");
    let sheets = folder.path().join("sheets");
    let line = format!("course {} --sheets {}", file.display(), sheets.display());
    let page = joined(&stdout(&thickset(&line)));
    assert!(page.starts_with("NOT READY: 1 of 1 target to fix."), "{page}");
    assert!(page.contains("Fix: s, gong: shot from near (150 yd) only (lean over"), "{page}");
    assert!(!page.contains("Good: 1 of 1"), "{page}");
    for name in ["sign-01-s.html", "officer.html"] {
        let sheet = joined(&sheet(&sheets, name));
        assert!(sheet.contains("150 yd, no farther than 150 yd"), "{sheet}");
    }
}
