//! The invented match: every planted mistake is found, and what was not judged never passes in any format.

use super::course_signs::joined;
use super::{json, status, stderr, stdout, thickset};
use std::fs;
use std::path::Path;

#[test]
fn the_planted_mistakes_are_found_and_the_good_targets_pass() {
    let document = json("course examples/match.toml");
    let fix = |name: &str| {
        let targets = document["targets"].as_array().expect("targets");
        let target = targets.iter().find(|t| t["target"] == name).unwrap_or_else(|| panic!("no target {name}"));
        (target["verdict"].as_str().expect("a verdict").to_owned(), target["fix"].as_str().expect("a fix").to_owned())
    };
    for (target, verdict, words) in [
        ("long gong", "suits", "nothing"),
        ("short gong", "borderline", "back line"),
        ("the old thin plate", "unsuitable", "hang"),
        ("bank plate", "unsuitable", "toward the shooter"),
        ("walk-up rack", "unsuitable", "move the line to 10 yd"),
        ("frame plate", "unsuitable", "retire"),
        ("plate rack", "suits", "nothing"),
    ] {
        let (found, fix) = fix(target);
        assert_eq!(found, verdict, "{target}");
        assert!(fix.contains(words), "{target}: {fix}");
    }
    let who = |key: &str| -> Vec<String> {
        document[key].as_array().expect("loads").iter().filter_map(|r| r["who"].as_str().map(str::to_owned)).collect()
    };
    assert_eq!(who("refused"), ["bib 14", "bib 15"]);
    assert_eq!(who("barred"), ["bib 16"]);
    assert_eq!(document["ready"], false);
}

#[test]
fn a_course_is_told_on_one_page_no_wider_than_80_columns_and_its_status_is_the_worst_target_s() {
    let output = thickset("course examples/match.toml");
    assert_eq!(status(&output), 1);
    let text = stdout(&output);
    assert!(text.starts_with("NOT READY: 5 of 7 targets to fix, 3 loads to leave. Two Days"), "{text}");
    assert!(text.lines().all(|l| l.chars().count() <= 80), "{text}");
    for words in ["Fix", "Good", "Leave", "Haul", "Holds for", "Safety", "Without bib 13: 1 more target passes."] {
        assert!(joined(&text).contains(words), "{words} not in\n{text}");
    }
}

/// A match of one stage in a folder, beside a table of loads.
fn course(folder: &Path, loads: Option<&str>, top: &str, targets: &str) -> String {
    let write = |name: &str, text: &str| fs::write(folder.join(name), text).expect("a file");
    let declared = loads.map_or("", |loads| {
        write("loads.csv", loads);
        "declared = [\"loads.csv\"]\n"
    });
    write(
        "m.toml",
        &format!(
            "schema = \"thickset/course/1\"\nname = \"m\"\n{declared}{top}\n[air]\naltitude = \"500 ft\"\ntemperature = \"70 F\"\n[stand]\ncondition = \"sound\"\ntilt = \"15 deg\"\n[[stage]]\nname = \"Bay\"\n{targets}"
        ),
    );
    format!("course {}", folder.join("m.toml").display())
}

const GOOD: &str = "[[stage.target]]\nname = \"good\"\nplate = \"3/8 in\"\nat = \"12 yd\"\nclass = [\"handgun\"]\n";

#[test]
fn one_bad_target_and_bad_rows_leave_the_rest_told_and_end_in_status_2_in_every_format() {
    let folder = tempfile::tempdir().expect("a folder");
    let loads = "shooter,load,firearm,bullet (gr),velocity (ft/s),bc,drag\na,9mm-124,,,,,\nb,,handgun,115,fast,0.145,G1\nc,no-such,,,,,\n#d,,handgun,115,1100,0.145,G1\n";
    let bad = "[[stage.target]]\nname = \"bad\"\nplate = \"3/8 in\"\nat = \"far\"\n";
    let line = course(folder.path(), Some(loads), "", &format!("{GOOD}{bad}"));
    for format in ["table", "html", "csv", "json"] {
        let output = thickset(&format!("{line} --format {format}"));
        assert_eq!(status(&output), 2, "{format}");
        let text = stdout(&output);
        let told = ["not judged", "Not judged", "not_judged"].iter().any(|words| text.contains(words));
        assert!(told && !text.lines().any(|line| line.starts_with("READY")), "{text}");
        let plain = text.split_whitespace().collect::<Vec<_>>().join(" ");
        for words in ["row 3, column", "row 4, column", "target `bad`", "no-such", "fast"] {
            assert!(plain.contains(words), "{format}: {words} not in\n{text}");
        }
    }
    let faults = stderr(&thickset(&line));
    for words in ["m.toml:", "stage `Bay`, target `bad`", "loads.csv:3", "`fast`", "loads.csv:4", "no-such"] {
        assert!(faults.contains(words), "{words} not in\n{faults}");
    }
}

/// Each of these once passed, or could: nothing was judged where something was given.
#[test]
fn what_was_not_judged_never_passes_in_any_format() {
    let head = "shooter,load,name,firearm,construction,bullet (gr),velocity (ft/s),bc,drag\n";
    let rifle = "[[stage.target]]\nname = \"plate\"\nplate = \"3/16 in\"\nat = \"5 yd\"\nclass = [\"rifle\"]\nstand = { condition = \"cratered\" }\n";
    let cases: [(&str, Option<String>, &str, &str, i32); 8] = [
        ("only a pistol load, and rifles shoot at it", None, "loads = [\"9mm-124\"]", rifle, 1),
        ("every row is unreadable", Some(format!("{head}a,nothing,,,,,,,\nb,,,handgun,lead,x,y,z,G1\n")), "", GOOD, 2),
        (
            "every target is unreadable",
            None,
            "loads = [\"9mm-124\"]",
            "[[stage.target]]\nname = \"t\"\nplate = \"9\"\nat = \"12 yd\"\n",
            2,
        ),
        (
            "a row that begins with a hash",
            Some(format!("{head}a,9mm-124,,,,,,,\n#14,308-168-match,,,,,,,\n")),
            "",
            GOOD,
            1,
        ),
        (
            "a row that names a load and describes another",
            Some(format!(
                "{head}bib 1,308-168-match,My hot AP handload,rifle,armour-piercing,190,3900,0.3,G7\nb,9mm-124,,,,,,,\n"
            )),
            "",
            GOOD,
            2,
        ),
        (
            "a quote that is never closed",
            Some(format!("{head}a,9mm-124,,,,,,,\nb,\"308-168-match,,,,,,,\nc,300wm-180,,,,,,,\n")),
            "",
            GOOD,
            2,
        ),
        (
            "two columns of velocity",
            Some("load,velocity (ft/s),muzzle velocity (m/s)\n9mm-124,,\n".into()),
            "",
            GOOD,
            2,
        ),
        ("a load that no target is for", None, "loads = [\"9mm-124\", \"308-168-match\"]", GOOD, 1),
    ];
    for (what, loads, top, targets, expected) in cases {
        let folder = tempfile::tempdir().expect("a folder");
        let line = course(folder.path(), loads.as_deref(), top, targets);
        for format in ["table", "html", "csv", "json"] {
            let output = thickset(&format!("{line} --format {format}"));
            assert_eq!(status(&output), expected, "{what}, {format}: {}{}", stdout(&output), stderr(&output));
            let told = stdout(&output) + &stderr(&output);
            assert!(
                !told.lines().any(|l| l.starts_with("READY")) && !told.contains("\"ready\": true"),
                "{what}: {told}"
            );
        }
    }
    // The same match passes once all of it can be judged.
    let folder = tempfile::tempdir().expect("a folder");
    let output = thickset(&course(folder.path(), Some(&format!("{head}a,9mm-124,,,,,,,\n")), "", GOOD));
    assert_eq!(status(&output), 0, "{}", stdout(&output));
    assert!(stdout(&output).starts_with("READY: 1 target judged with 1 load, all pass. m"), "{}", stdout(&output));
}

#[test]
fn a_director_s_spreadsheets_are_read_as_they_are() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(
        folder.path().join("stages.csv"),
        "Stage;Target;Qty;Plate;Distance (yd);Class;Face;Tilt (deg);Condition;who sets it\nBay;rack;6;3/8 in;12,5;handgun;8in;15;sound;the juniors\nRidge;gong;1;1/2 in;400;rifle;18in;20;sound;\n",
    )
    .expect("a file");
    let loads = "Bib,V0,Bullet Weight (gr),gun,construction,bc,drag model,notes\n7,2650 fps,168,rifle,jacketed lead,0.223,G7,\"left-handed, box 2\"\n8,1150 fps,124,Handgun,jacketed-lead,0.145,g1,\n";
    fs::write(folder.path().join("loads.csv"), loads).expect("a file");
    fs::write(
        folder.path().join("m.toml"),
        "schema = \"thickset/course/1\"\nname = \"m\"\ndeclared = [\"loads.csv\"]\ntargets = [\"stages.csv\"]\n[columns]\nV0 = \"velocity\"\n[air]\naltitude = \"500 ft\"\ntemperature = \"70 F\"\n",
    )
    .expect("a file");
    let line = format!("course {}", folder.path().join("m.toml").display());
    let output = thickset(&line);
    assert_eq!(status(&output), 0, "{}{}", stdout(&output), stderr(&output));
    let document = json(&line);
    assert_eq!(document["targets"][0]["count"], 6);
    let left: Vec<&str> =
        document["left_out"].as_array().expect("left out").iter().filter_map(|v| v.as_str()).collect();
    assert!(left.iter().any(|l| l.contains("notes")) && left.iter().any(|l| l.contains("who sets it")), "{left:?}");
    assert_eq!(document["haul"][0]["count"], 6);
}

#[test]
fn classes_on_one_plate_are_mended_each_in_its_own_way() {
    let folder = tempfile::tempdir().expect("a folder");
    let target = "[[stage.target]]\nname = \"rack\"\nplate = \"3/8 in\"\nat = \"12 yd\"\n";
    let line = course(folder.path(), None, "loads = [\"9mm-124\", \"22lr-hv-40\", \"12ga-slug-1oz\"]", target);
    let output = thickset(&line);
    assert!(status(&output) != 2, "{}", stderr(&output));
    let text = stdout(&output).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("handguns may stay") || text.contains("leave out"), "{text}");
}

/// The invented match with its fixes made in its own spreadsheets, and the loads left out that it names.
#[test]
fn every_fix_fed_back_passes() {
    let document = json("course examples/match.toml");
    let folder = tempfile::tempdir().expect("a folder");
    let read = |name: &str| fs::read_to_string(Path::new("examples").join(name)).expect(name);
    let who = |key: &str| document[key].as_array().expect("loads").iter().filter_map(|r| r["who"].as_str());
    let out: Vec<&str> = who("refused").chain(who("barred")).collect();
    let loads = read("match-loads.csv");
    let loads: Vec<&str> = loads.lines().filter(|l| !out.iter().any(|bib| l.starts_with(&format!("{bib},")))).collect();
    let mut rows: Vec<Vec<String>> =
        read("match-stages.csv").lines().map(|l| l.split(',').map(str::to_owned).collect()).collect();
    let mut mended = 0;
    for target in document["targets"].as_array().expect("targets") {
        let (name, parts) = (target["target"].as_str().expect("a name"), &target["parts"]);
        if target["fix"] == "nothing" {
            continue;
        }
        mended += 1;
        if let Some(from) = parts["from"].as_str() {
            rows.retain(|row| row.get(1).is_none_or(|n| n != name) || row[3] == from);
        }
        for row in rows.iter_mut().filter(|row| row.get(1).is_some_and(|n| n == name)) {
            if parts["back_m"].is_number() {
                let yards = parts["distance_m"].as_f64().expect("a distance") / 0.9144;
                (row[4], row[5]) = (format!("{:.3}", (yards * 1000.0).ceil() / 1000.0), String::new());
            }
            if let Some(plate) = parts["plate"].as_str() {
                row[6] = plate.to_owned();
            }
            if parts["new_plate"] == true {
                row[10] = "sound".into();
            }
            if let Some(tilt) = parts["tilt_deg"].as_f64() {
                row[11] = tilt.to_string();
            }
        }
    }
    assert_eq!(mended, 5);
    let rows: Vec<String> = rows.iter().map(|row| row.join(",")).collect();
    for (name, text) in [
        ("match-loads.csv", loads.join("\n") + "\n"),
        ("match-stages.csv", rows.join("\n") + "\n"),
        ("match.toml", read("match.toml")),
        ("gravel-pit.toml", read("gravel-pit.toml")),
    ] {
        fs::write(folder.path().join(name), text).expect(name);
    }
    let output = thickset(&format!("course {}", folder.path().join("match.toml").display()));
    assert_eq!(status(&output), 0, "{}{}", stdout(&output), stderr(&output));
    assert!(stdout(&output).starts_with("READY as far as read: 7 targets judged"), "{}", stdout(&output));
}

#[test]
fn sheets_are_written_one_for_each_stage_and_two_for_the_officers() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("sheets");
    let output = thickset(&format!("course examples/match.toml --sheets {}", out.display()));
    assert_eq!(status(&output), 1);
    let mut names: Vec<String> =
        fs::read_dir(&out).expect("a folder").filter_map(|e| e.ok()?.file_name().into_string().ok()).collect();
    names.sort();
    assert_eq!(
        names,
        ["haul.html", "officer.html", "sign-01-ridge.html", "sign-02-creek.html", "sign-03-pistol-bay.html"]
    );
    let sign = fs::read_to_string(out.join("sign-03-pistol-bay.html")).expect("a sign");
    for words in ["10 yd", "STOP", "20°", "glasses", "range officer"] {
        assert!(sign.contains(words), "{words} not in\n{sign}");
    }
}

#[test]
fn the_page_is_the_same_whatever_the_number_of_threads() {
    let page = |threads: u32| stdout(&thickset(&format!("course examples/match.toml --full --threads {threads}")));
    assert_eq!(page(1), page(4));
}

#[test]
fn a_spreadsheet_of_loads_has_each_that_is_left_or_asked_about_with_its_reason() {
    let line = "course examples/match.toml";
    let table = stdout(&thickset(&format!("{line} --format csv --table loads")));
    assert!(table.starts_with("load,name,who,verdict,why\n"), "{table}");
    let document = json(line);
    for list in ["refused", "barred"] {
        for one in document[list].as_array().expect("a list") {
            let name = one["name"].as_str().expect("a name");
            let row = table.lines().find(|row| row.contains(name)).unwrap_or_else(|| panic!("{name}\n{table}"));
            let verdict = if list == "refused" { "refused" } else { one["verdict"].as_str().expect("a verdict") };
            assert!(row.contains(verdict), "{row}");
        }
    }
    assert!(table.lines().count() > 3, "{table}");
}
