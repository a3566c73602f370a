//! Stages on a hill and stages on another range: each target is judged from each position on its own slope, by the
//! rules of the range that it stands on, and in the air that was not given, as `vet` judges it.

use super::course_signs::{given, joined, sheet};
use super::here::{json, thickset};
use super::{status, stderr, stdout};
use serde_json::Value;
use std::fs;
use std::path::Path;

const AIR: &str = "[air]\naltitude = \"1500 ft\"\ntemperature = \"40 F..90 F\"\n";
const STAND: &str = "[stand]\ncondition = \"sound\"\ntilt = \"15 deg\"\nmount = \"captive-hook\"\nsteel = \"AR500\"\n";
/// The same target, asked of one load.
const VET: &str = "--condition sound --tilt 15deg --mount captive-hook --steel AR500 --face 12in --duty match";
const VET_AIR: &str = "--altitude 1500ft --temperature 40F..90F";

const FAR: &str = r#"schema = "thickset/rules/1"
name = "Far Side Range"

[[rule]]
id = "soft-steel"
subject = "impact-speed"
sense = "at-most"
suits = "2300 ft/s"
why = "the steel there is soft"
next = "shoot it from farther off"

[[rule]]
id = "heath"
subject = "case"
sense = "caution"
class = ["rifle"]
why = "the heath burns in May"
"#;

fn target<'d>(document: &'d Value, name: &str) -> &'d Value {
    let targets = document["targets"].as_array().expect("targets");
    targets.iter().find(|t| t["target"] == name).unwrap_or_else(|| panic!("no {name}"))
}

/// The worst verdict that `vet` gives any of the loads.
fn vetted(loads: &[&str], rest: &str) -> String {
    let rank = |verdict: &str| ["suits", "borderline", "unsuitable"].iter().position(|v| *v == verdict);
    let each = loads.iter().map(|load| {
        let document = json(&format!("vet --load {load} {VET} {rest}"));
        document["verdict"].as_str().unwrap_or_else(|| panic!("{rest}: {document}")).to_owned()
    });
    each.max_by_key(|verdict| rank(verdict)).expect("loads")
}

const LOADS: [&str; 2] = ["308-168-match", "300wm-190-match"];
const BROUGHT: &str = "bib,load\n1,308-168-match\n2,300wm-190-match\n";

#[test]
fn a_target_is_judged_from_each_position_on_its_own_slope_as_vet_judges_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let places = [("tower", 150, Some(-35)), ("road", 260, Some(-5)), ("meadow", 420, None)];
    let positions = places.map(|(name, at, slope)| {
        let slope = slope.map(|slope| format!(", slope = \"{slope} deg\"")).unwrap_or_default();
        format!("{{ name = \"{name}\", at = \"{at} yd\"{slope} }}")
    });
    // What a position does not say the targets' own slope says.
    let top = format!(
        "{AIR}{STAND}slope = \"2 deg\"\n[[stage]]\nname = \"Hill\"\npositions = [{}]\n[[stage.target]]\nname = \"gong\"\n\
         plate = \"1/2 in\"\n[[stage.target]]\nname = \"thin\"\nplate = \"3/8 in\"\n",
        positions.join(", ")
    );
    let by_file = given(folder.path(), &top, BROUGHT, "stage,target,at (yd),plate\nFlat,g,300,1/2 in\n");
    let file = json(&by_file);
    // A spreadsheet says the same.
    let mut rows = "stage,target,position,at (yd),plate,slope (deg)\nFlat,g,,300,1/2 in,\n".to_owned();
    for (target, plate) in [("gong", "1/2 in"), ("thin", "3/8 in")] {
        for (name, at, slope) in places {
            let slope = slope.map(|s| s.to_string()).unwrap_or_default();
            rows += &format!("Hill,{target},{name},{at},{plate},{slope}\n");
        }
    }
    let other = tempfile::tempdir().expect("a folder");
    let by_sheet = given(other.path(), &format!("{AIR}{STAND}slope = \"2 deg\"\n"), BROUGHT, &rows);
    let spreadsheet = json(&by_sheet);
    let mut verdicts = Vec::new();
    for (name, plate) in [("gong", "1/2in"), ("thin", "3/8in")] {
        for document in [&file, &spreadsheet] {
            let positions = target(document, name)["positions"].as_array().expect("positions");
            assert_eq!(positions.len(), 3, "{document}");
            for (position, (called, at, slope)) in positions.iter().zip(places) {
                let slope = slope.unwrap_or(2);
                let vet = vetted(&LOADS, &format!("--plate {plate} --at {at}yd --slope={slope}deg {VET_AIR}"));
                assert_eq!(position["verdict"], vet.as_str(), "{name} from {called}: {position}");
                verdicts.push(vet);
            }
        }
    }
    assert!(verdicts.iter().any(|v| v == "suits") && verdicts.iter().any(|v| v == "unsuitable"), "{verdicts:?}");
    // Told where it matters: the position, the page's conditions, the sign.
    let output = thickset(&format!("{by_file} --sheets {}", sheets.display()));
    let page = joined(&stdout(&output));
    assert!(page.contains("slope -35°, -5° and 2°"), "{page}");
    assert!(page.contains("Hill: rifles from road and farther only: gong and thin"), "{page}");
    let officer = sheet(&sheets, "officer.html");
    assert!(officer.contains("tower, 150 yd, slope -35° does not pass"), "{officer}");
    assert!(officer.contains("road, 260 yd, slope -5° passes"), "{officer}");
    assert_eq!(target(&file, "gong")["positions"][0]["slope_deg"], -35.0);
    // The fix fed back passes.
    let mended = by_sheet_without_tower(folder.path(), &rows);
    let document = json(&mended);
    assert_eq!(document["ready"], true, "{document}");
}

fn by_sheet_without_tower(folder: &Path, rows: &str) -> String {
    let kept: Vec<&str> = rows.lines().filter(|row| !row.contains("tower")).collect();
    let rows = kept.join("\n").replace("3/8 in", "1/2 in") + "\n";
    given(folder, &format!("{AIR}{STAND}slope = \"2 deg\"\n"), BROUGHT, &rows)
}

#[test]
fn a_slope_of_a_position_that_is_beyond_what_is_flown_is_refused_at_its_place() {
    let folder = tempfile::tempdir().expect("a folder");
    let top = format!(
        "{AIR}{STAND}[[stage]]\nname = \"Hill\"\npositions = [{{ at = \"150 yd\", slope = \"80 deg\" }}]\n\
         [[stage.target]]\nname = \"gong\"\nplate = \"1/2 in\"\n"
    );
    let line = given(folder.path(), &top, BROUGHT, "stage,target,at (yd),plate\nFlat,g,300,1/2 in\n");
    let output = thickset(&line);
    let page = joined(&stdout(&output));
    assert_eq!(status(&output), 2, "{page}");
    assert!(page.contains("the slope of a position is beyond") && page.contains("target `gong`"), "{page}");
}

#[test]
fn a_stage_on_another_range_is_judged_by_its_rules_too_as_vet_judges_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    fs::write(folder.path().join("far.toml"), FAR).expect("a file");
    let rules = "range-rules = [\"far.toml\"]\n";
    let stage = |name: &str, rules: &str| {
        format!(
            "[[stage]]\nname = \"{name}\"\n{rules}[[stage.target]]\nname = \"{name} gong\"\nplate = \"1/2 in\"\nat = \"400 yd\"\n"
        )
    };
    let top = format!("{AIR}{STAND}{}{}", stage("Home", ""), stage("Away", rules));
    let line = given(folder.path(), &top, BROUGHT, "stage,target,at (yd),plate\nFlat,g,500,1/2 in\n");
    // In a spreadsheet by a column; the row of one target speaks for its stage.
    let other = tempfile::tempdir().expect("a folder");
    fs::write(other.path().join("far.toml"), FAR).expect("a file");
    let by_sheet = given(
        other.path(),
        &format!("{AIR}{STAND}"),
        BROUGHT,
        "stage,target,at (yd),plate,range rules\nFlat,g,500,1/2 in,\nHome,Home gong,400,1/2 in,\nAway,Away gong,400,1/2 in,far.toml\n",
    );
    let far = folder.path().join("far.toml");
    let far = format!("--range-rules \"{}\"", far.display());
    for line in [&line, &by_sheet] {
        let document = json(line);
        let home = vetted(&LOADS, &format!("--plate 1/2in --at 400yd {VET_AIR}"));
        let away = vetted(&LOADS, &format!("--plate 1/2in --at 400yd {VET_AIR} {far}"));
        assert_ne!(home, away);
        assert_eq!(target(&document, "Home gong")["verdict"], home.as_str(), "{document}");
        assert_eq!(target(&document, "Away gong")["verdict"], away.as_str(), "{document}");
        // The limit that is another names its range, in the reason and in the data.
        let gong = target(&document, "Away gong");
        assert!(gong["why"].as_str().is_some_and(|why| why.contains("Far Side Range")), "{gong}");
        assert_eq!(gong["findings"][0]["overlay"], "Far Side Range", "{gong}");
        let cautions = document["cautions"].as_array().expect("cautions");
        let heath: Vec<&str> =
            cautions.iter().filter_map(Value::as_str).filter(|c| c.contains("heath burns")).collect();
        assert_eq!(heath, ["Far Side Range: The heath burns in May (Away, Away gong)."]);
        let page = joined(&stdout(&thickset(line)));
        assert!(page.contains("soft steel, Far Side Range") && page.contains("Away: Far Side Range"), "{page}");
        assert!(!page.contains("Home: line"), "{page}");
    }
    // The fix fed back passes.
    let document = json(&line);
    let yards = document["targets"].as_array().expect("targets").iter().find(|t| t["target"] == "Away gong");
    let metres = yards.and_then(|t| t["parts"]["distance_m"].as_f64()).expect("a distance");
    let at = (metres / 0.9144).ceil();
    let (before, after) = top.split_at(top.rfind("at = \"400 yd\"").expect("the last"));
    let again = format!("{before}{}", after.replace("400 yd", &format!("{at} yd")));
    let line = given(folder.path(), &again, BROUGHT, "stage,target,at (yd),plate\nFlat,g,500,1/2 in\n");
    assert_eq!(json(&line)["ready"], true, "{again}");
    let output = thickset(&format!("{line} --sheets {}", sheets.display()));
    assert_eq!(status(&output), 0, "{}{}", stdout(&output), stderr(&output));
}

#[test]
fn two_ranges_with_one_id_are_kept_apart_and_rules_that_can_t_be_read_lose_the_stage_by_name() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("far.toml"), FAR).expect("a file");
    fs::write(folder.path().join("near.toml"), FAR.replace("Far Side", "Near Side").replace("2300", "2330"))
        .expect("a file");
    let stage = |name: &str, file: &str| {
        format!(
            "[[stage]]\nname = \"{name}\"\nrange-rules = [\"{file}\"]\n[[stage.target]]\nname = \"{name}\"\nplate = \"1/2 in\"\nat = \"330 yd\"\n"
        )
    };
    let stages = "stage,target,at (yd),plate\nFlat,g,500,1/2 in\n";
    let top = format!("{AIR}{STAND}{}{}", stage("near", "near.toml"), stage("far", "far.toml"));
    let document = json(&given(folder.path(), &top, BROUGHT, stages));
    for (name, range) in [("near", "Near Side Range"), ("far", "Far Side Range")] {
        assert_eq!(target(&document, name)["findings"][0]["overlay"], range, "{document}");
    }
    // Both ranges over one stage: the stricter rule holds.
    let both = top.replace("[\"near.toml\"]", "[\"near.toml\", \"far.toml\"]");
    let document = json(&given(folder.path(), &both, BROUGHT, stages));
    assert_eq!(target(&document, "near")["findings"][0]["overlay"], "Far Side Range", "{document}");
    let lost = top.replace("near.toml", "nowhere.toml");
    let output = thickset(&given(folder.path(), &lost, BROUGHT, stages));
    let page = joined(&stdout(&output));
    assert_eq!(status(&output), 2, "{page}");
    assert!(page.contains("stage `near`, target `near`: the rules of its range can't be read"), "{page}");
}

/// Each target's answer about air that was not given is `vet`'s.
#[test]
fn air_that_was_not_given_changes_a_target_where_it_changes_what_vet_says() {
    let folder = tempfile::tempdir().expect("a folder");
    let least = "schema = \"thickset/rules/1\"\nname = \"Slow Range\"\n[[rule]]\nid = \"no-slower\"\nsubject = \"slow-speed\"\n\
                 sense = \"at-least\"\nsuits = \"1400 ft/s\"\nwhy = \"slow bullets bounce\"\nnext = \"step closer\"\n";
    fs::write(folder.path().join("slow.toml"), least).expect("a file");
    let slow = format!("--range-rules \"{}\"", folder.path().join("slow.toml").display());
    let mut rows = "stage,target,at (yd),plate\n".to_owned();
    let distances = [220, 270, 285, 300, 400, 520, 600, 640, 660, 680, 700, 740, 800];
    for at in distances {
        rows += &format!("S,t{at},{at},1/2 in\n");
    }
    let mut changed = 0;
    for (air, vet_air) in [
        ("", ""),
        ("[air]\naltitude = \"3000 ft\"\n", "--altitude 3000ft"),
        ("[air]\ntemperature = \"70 F\"\n", "--temperature 70F"),
    ] {
        let top = format!("range-rules = [\"slow.toml\"]\n{air}{STAND}");
        let document = json(&given(folder.path(), &top, "bib,load\n1,308-168-match\n", &rows));
        let remarks: Vec<String> =
            document["remarks"].as_array().expect("remarks").iter().map(Value::to_string).collect();
        let worse = remarks.into_iter().find(|remark| remark.contains("a worse verdict")).unwrap_or_default();
        for at in distances {
            let vet = json(&format!("vet --load 308-168-match --plate 1/2in --at {at}yd {VET} {vet_air} {slow}"));
            let own = target(&document, &format!("t{at}"));
            assert_eq!(own["verdict"], vet["verdict"], "{at} yd in `{air}`");
            let turns = vet["remarks"].to_string().contains("Not all of the air was given");
            let told = worse.contains(&format!("S, t{at}"));
            // What fails in the air that was taken is told as that.
            let fails = vet["verdict"] == "unsuitable";
            assert_eq!(told, turns && !fails, "{at} yd in `{air}`: {} {worse}", vet["remarks"]);
            changed += usize::from(told);
        }
    }
    assert!(changed > 5, "{changed}");
}

/// Whatever a match is told in: nothing that was read in vain passes.
#[test]
fn a_match_of_which_no_load_or_no_target_could_be_read_passes_in_no_format() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let good_stages = "stage,target,at (yd),plate,face,class\nA,gong,300,1/2 in,12 in,rifle\n";
    let bad_stages = "stage,target,at (yd),plate,face,class\nA,gong,three hundred,1/2 in,12 in,rifle\n";
    let cases = [
        (BROUGHT, bad_stages),
        ("bib,load\n1,308-168-macth\n2,nothing\n", good_stages),
        ("bib,load\n1,308-168-macth\n", bad_stages),
        ("bib,load\n", good_stages),
        (BROUGHT, "stage,target,at (yd),plate,face,class\n"),
        ("", ""),
    ];
    for (loads, stages) in cases {
        let line = given(folder.path(), &format!("{AIR}{STAND}"), loads, stages);
        for form in ["table", "json", "csv", "html"] {
            let output = thickset(&format!("{line} --format {form}"));
            let text = stdout(&output);
            assert_eq!(status(&output), 2, "{form}: {loads}{stages}{text}{}", stderr(&output));
            for yes in ["READY: 1", "READY: 0", ",suits,", "\"ready\": true", "all pass"] {
                assert!(!text.replace("NOT READY", "").contains(yes), "{form}: {text}");
            }
        }
        let output = thickset(&format!("{line} --sheets {}", sheets.display()));
        assert_eq!(status(&output), 2, "{}", stdout(&output));
        if sheets.join("officer.html").exists() {
            assert!(sheet(&sheets, "officer.html").contains("NOT READY"), "{loads}{stages}");
            if sheets.join("sign-01-a.html").exists() {
                assert!(sheet(&sheets, "sign-01-a.html").to_uppercase().contains("CLOSED"), "{loads}{stages}");
            }
            fs::remove_dir_all(&sheets).expect("the sheets");
        }
    }
}

#[test]
fn a_stage_whose_targets_could_not_be_read_is_counted_as_that() {
    let folder = tempfile::tempdir().expect("a folder");
    let stages = "stage,target,at (yd),plate,class\nA,gong,300,1/2 in,rifle\nB,star,ten,1/2 in,rifle\n";
    let page = joined(&stdout(&thickset(&given(folder.path(), &format!("{AIR}{STAND}"), BROUGHT, stages))));
    assert!(page.starts_with("NOT READY: 1 stage without a target, 1 row or entry not read."), "{page}");
}

/// What one rule calls for is no remedy where others block as well, and a bare number is no count.
#[test]
fn where_no_fix_was_found_none_is_named() {
    let folder = tempfile::tempdir().expect("a folder");
    let row = |position: &str, at: i32, slope: i32| format!("Hill,gong,{position},{at},1/2 in,rifle,{slope}\n");
    let mut stages = "stage,target,position,at (yd),plate,class,slope (deg)\n".to_owned();
    stages += &(row("low", 60, 20) + &row("high", 420, -25) + "Hill,near,,150,1/2 in,rifle,\n");
    let page = joined(&stdout(&thickset(&given(folder.path(), &format!("{AIR}{STAND}"), BROUGHT, &stages))));
    assert!(page.contains("no fix found that serves every position: shoot it from fewer of them"), "{page}");
    assert!(page.contains("; no. 2)"), "{page}");
    let any = "anything = [\"rifle\"]\n[[ammunition]]\nclass = [\"rifle\"]\ncalibre-at-least = \"0.30 in\"\n\
               refused = [\"steel-core\", \"armour-piercing\", \"steel-jacket\", \"tracer\", \"incendiary\", \"unknown\", \"monolithic\"]\n";
    let stages = "stage,target,at (yd),plate,class\nA,near,150,3/8 in,rifle\n";
    let page = joined(&stdout(&thickset(&given(folder.path(), &format!("{any}{AIR}{STAND}"), BROUGHT, stages))));
    assert!(page.contains("no fix found for all that is admitted: narrow the ammunition rules"), "{page}");
}

#[test]
fn a_sign_never_says_that_nothing_is_limited_where_the_range_limits_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let rule = |id: &str, rest: &str| format!("[[rule]]\nid = \"{id}\"\n{rest}\nwhy = \"the berm is low\"\n");
    let distance = |of: &str, from: &str| {
        format!("subject = \"distance\"\nsense = \"at-least\"\nsuits = \"{from}\"\nclass = [\"{of}\"]")
    };
    let head = "schema = \"thickset/rules/1\"\nname = \"Hollow Creek\"\n";
    let speed = "subject = \"muzzle-speed\"\nsense = \"at-most\"\nsuits = \"3000 ft/s\"\nclass = [\"rifle\"]";
    let rules = [
        rule("far", &distance("rifle", "100 yd")),
        rule("slug", &distance("slug", "75 yd")),
        rule("near", &distance("handgun", "12 yd")),
        rule("fast", speed),
    ];
    fs::write(folder.path().join("range.toml"), format!("{head}{}", rules.concat())).expect("a file");
    let loads = "bib,load\n1,308-168-match\n2,12ga-slug-1oz\n";
    let stages = "stage,target,at (yd),plate,face,class\nA,gong,300,1/2 in,12 in,\n";
    let line = given(folder.path(), &format!("range-rules = [\"range.toml\"]\n{AIR}{STAND}"), loads, stages);
    let output = thickset(&format!("{line} --sheets {}", sheets.display()));
    let sign = sheet(&sheets, "sign-01-a.html");
    for words in [
        "rifles: as the range limits them",
        "slugs: only the loads that were declared",
        "Hollow Creek: mean muzzle velocity at most 3000 ft/s (rifle); the berm is low",
        "Hollow Creek: distance at least 100 yd (rifle), and no nearer than above",
        "Hollow Creek: distance at least 75 yd (slug), and no nearer than above",
    ] {
        assert!(sign.contains(words), "`{words}` not in\n{sign}\n{}", stderr(&output));
    }
    // Nobody brings a handgun.
    assert!(!sign.contains("12 yd") && !sign.contains("no limit stated"), "{sign}");
}

/// A range's rule on plates, on how they hang or lean, is met at the target: it sends no load home.
#[test]
fn what_a_range_asks_of_plates_and_of_how_they_stand_leaves_no_load_at_home_and_is_met_at_the_target() {
    let folder = tempfile::tempdir().expect("a folder");
    let page = |rule: &str| {
        let text = format!("schema = \"thickset/rules/1\"\nname = \"Pit\"\n[[rule]]\nid = \"a\"\nwhy = \"so\"\n{rule}");
        std::fs::write(folder.path().join("pit.toml"), text).expect("a file");
        let air = "range-rules = [\"pit.toml\"]\n[air]\naltitude = \"500 ft\"\ntemperature = \"60 F\"\n";
        let stand = "[stand]\ntilt = \"15 deg\"\nduty = \"private\"\ncondition = \"sound\"\n";
        let line = given(
            folder.path(),
            &format!("{air}{stand}"),
            "bib,load\n1,308-168-match\n2,22lr-std-40\n",
            "stage,target,at (yd),plate\nS,t,200,1/2 in\n",
        );
        joined(&stdout(&thickset(&line)))
    };
    let case = "subject = \"case\"\nsense = \"outcome\"\noutcome = \"unsuitable\"\n";
    // None of these is of the target at hand.
    for rule in ["thickness-from = \"3/4 in\"\n", "mount = [\"captive-hook\"]\n", "condition = [\"pitted\"]\n"] {
        let text = page(&format!("{case}{rule}"));
        assert!(text.starts_with("READY: ") && !text.contains("Leave: "), "{rule}: {text}");
    }
    for (rule, fix) in [
        (format!("{case}mount = [\"open-hook\"]\n"), "Fix: have it hung from captive hooks: S t"),
        (format!("{case}mount = [\"open-hook\", \"captive-hook\"]\n"), "Fix: have it hung from chain: S t"),
        (
            "subject = \"lean\"\nsense = \"at-least\"\nsuits = \"20 deg\"\n".into(),
            "Fix: lean it 20° toward the shooter",
        ),
        ("subject = \"lean\"\nsense = \"at-most\"\nsuits = \"5 deg\"\n".into(), "Fix: lean it 4° toward the shooter"),
        ("subject = \"thickness\"\nsense = \"at-least\"\nsuits = \"3/4 in\"\n".into(), "Fix: hang 3/4 in: S t"),
        (
            "subject = \"thickness\"\nsense = \"at-least\"\nsuits = \"1 in\"\n".into(),
            "Fix: no fix found (a, Pit): take it down: S t",
        ),
    ] {
        let text = page(&rule);
        assert!(text.starts_with("NOT READY: 1 of 1 target to fix. ") && text.contains(fix), "{rule}: {text}");
        assert!(!text.contains("Leave: "), "{rule}: {text}");
    }
    // What it says of loads alone sends them home.
    let text = page(&format!("{case}construction = [\"lead\"]\n"));
    assert!(text.contains("Leave: 22 LR 40 gr standard velocity (2): a, Pit."), "{text}");
}

#[test]
fn where_a_range_refuses_what_the_house_doubts_the_range_s_rule_is_named_by_every_command() {
    let folder = tempfile::tempdir().expect("a folder");
    let rules = folder.path().join("pit.toml");
    let text = "schema = \"thickset/rules/1\"\nname = \"Pit\"\n[[rule]]\nid = \"no-copper\"\nwhy = \"no copper here\"\n\
                subject = \"case\"\nsense = \"outcome\"\noutcome = \"unsuitable\"\nconstruction = [\"monolithic\"]\n";
    fs::write(&rules, text).expect("a file");
    let asked = format!("--load 308-168-copper --plate 3/8in --range-rules {}", rules.display());
    assert_eq!(json(&format!("standoff {asked}"))["rows"][0]["plates"][0]["nearest_by"], "no-copper");
    assert!(stdout(&thickset(&format!("vet --at 200yd {asked}"))).contains("no copper here"));
    let top = "range-rules = [\"pit.toml\"]\n";
    let stages = "stage,target,at (yd),plate\nS,t,200,1/2 in\n";
    let line = given(folder.path(), &format!("{top}{AIR}{STAND}"), "bib,load\n1,308-168-copper\n", stages);
    let page = joined(&stdout(&thickset(&line)));
    assert!(page.contains("Leave: 308 Win 168 gr solid copper (1): no copper, Pit."), "{page}");
}
