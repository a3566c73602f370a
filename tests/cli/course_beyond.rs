//! What the first lines of a match say beyond its targets: what nobody read, names that say otherwise, how far a search
//! went, other air.

use super::course_signs::{given, joined, sheet, usual};
use super::here::{json, thickset};
use super::{status, stderr, stdout};

const RIFLE: &str = "bib,load\nX,308-168-match\n";

fn page(top: &str, loads: &str, stages: &str) -> (i32, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let output = thickset(&given(folder.path(), top, loads, stages));
    (status(&output), joined(&stdout(&output)) + &joined(&stderr(&output)))
}

#[test]
fn columns_that_nobody_read_are_named_in_the_first_lines_and_change_no_status() {
    let stages = |head: &str, cell: &str| {
        format!("stage,target,at (yd),plate,face,class,{head}\nA,g,300,1/2 in,12in,rifle,{cell}\n")
    };
    for (head, cell) in [
        ("painted", "yes"),
        ("torque", "14"),
        ("greased", "x"),
        ("solid", "1"),
        ("A37", "true"),
        ("notes", "hit often"),
        ("notes", "solidly made"),
        ("fixed", "✓"),
        ("notes", "will shoot his 338 too"),
    ] {
        let (code, text) = page(&usual(), RIFLE, &stages(head, cell));
        assert!(code == 0 && text.starts_with("READY as far as read: 1 target judged"), "{head} {cell}: {text}");
        let line = format!("Not read: column \"{head}\"; read them yourself.");
        assert!(text.contains(&line), "{head} {cell}: {text}");
    }
    // Numbers of squads, and what was left out on purpose.
    let (_, text) = page(&usual(), RIFLE, &stages("squad", "12"));
    assert!(text.starts_with("READY: "), "{text}");
    let top = |head: &str| format!("{}[columns]\n\"{head}\" = \"ignore\"\n", usual());
    for (head, cell) in [("painted", "yes"), ("notes", "hit often")] {
        let (_, text) = page(&top(head), RIFLE, &stages(head, cell));
        assert!(text.starts_with("READY: ") && !text.contains("Ignored"), "{text}");
    }
    // What speaks of what is judged is told all the same: a column by its head, another by its cells.
    for (head, cell, told) in [
        ("condition", "cratered", "column \"condition\""),
        ("Dist2 (yd)", "20", "column \"Dist2 (yd)\""),
        ("notes", "magnet sticks", "g: \"magnet sticks\" (row 2, notes)"),
    ] {
        let (code, text) = page(&top(head), RIFLE, &stages(head, cell));
        let line = format!("Ignored as the match says, though it speaks of what is judged: {told}.");
        assert!(code == 0 && text.starts_with("READY as far as read: ") && text.contains(&line), "{head}: {text}");
    }
}

#[test]
fn a_column_that_may_speak_of_what_is_judged_is_refused_by_its_head_or_told() {
    for head in [
        "AR", "pos A", "finish", "m", "mm", "deg", "pitch", "BHN", "material", "status", "sigma", "width", "dia",
        "w x h", "hanger", "support", "hill", "line 2", "juniors",
    ] {
        let stages = format!("stage,target,at (yd),plate,face,class,{head}\nA,g,300,1/2 in,12in,rifle,20\n");
        let (code, text) = page(&usual(), RIFLE, &stages);
        assert!(code == 2 && text.contains(&format!("column `{head}` speaks of what is judged")), "{head}: {text}");
    }
    // One that nobody fills, or that says who it was, says nothing of it.
    for (head, cell) in
        [("width", ""), ("hung by", "Bob"), ("range officer", "Ann"), ("plate color", "red"), ("round count", "10")]
    {
        let stages = format!("stage,target,at (yd),plate,face,class,{head}\nA,g,300,1/2 in,12in,rifle,{cell}\n");
        let (code, text) = page(&usual(), RIFLE, &stages);
        assert!(code == 0 && text.starts_with("READY"), "{head}: {text}");
    }
    // Several are told at once, each with what it may be meant for.
    let stages = "stage,target,at (yd),plate,face,class,width,hill\nA,g,300,1/2 in,12in,rifle,3,steep\n";
    let (code, text) = page(&usual(), RIFLE, stages);
    assert!(code == 2 && text.contains("columns `width` and `hill` speak of what is judged"), "{text}");
    assert!(
        text.contains("`width`: head it `face`")
            && text.contains("`\"width\" = \"ignore\"` and `\"hill\" = \"ignore\"`"),
        "{text}"
    );
    for head in ["advance by", "judge distance", "hanger by"] {
        let stages = format!("stage,target,at (yd),plate,face,class,{head}\nA,g,300,1/2 in,12in,rifle,20\n");
        assert_eq!(page(&usual(), RIFLE, &stages).0, 2, "{head}");
    }
    for head in ["kids", "alt", "lot"] {
        let stages = format!("stage,target,at (yd),plate,face,class,{head}\nA,g,300,1/2 in,12in,rifle,20\n");
        let (code, text) = page(&usual(), RIFLE, &stages);
        assert!(code == 0 && text.contains(&format!("Not read: column \"{head}\"")), "{head}: {text}");
    }
}

#[test]
fn what_people_keep_of_people_and_of_handloads_stops_no_match() {
    for (head, cell) in [
        ("phone", "555-1234"),
        ("DOB", "1980-02-01"),
        ("Member #", "1021"),
        ("State", "Ohio"),
        ("Status", "paid"),
        ("charge (gr)", "43.5"),
        ("OAL (in)", "2.8"),
        ("Zero (yd)", "100"),
        ("last name", "Walker"),
        ("Remarks", "leaves at 2 pm; uses a walker"),
    ] {
        let loads = format!("bib,load,{head}\nX,308-168-match,{cell}\n");
        let stages = "stage,target,at (yd),plate,face,class\nA,g,300,1/2 in,12in,rifle\n";
        let (code, text) = page(&usual(), &loads, stages);
        assert!(code == 0 && text.starts_with("READY"), "{head} {cell}: {text}");
    }
}

#[test]
fn a_table_of_loads_reads_what_a_match_file_does() {
    let head = "bib,name,firearm,construction,bullet (gr),velocity (ft/s),bc,drag,diameter (in)";
    let cells = "1,x,rifle,jacketed lead,55,3240,0.27,G1,0.224";
    let own = "[[load]]\nid = \"own\"\nname = \"x\"\nfirearm = \"rifle\"\nconstruction = \"jacketed-lead\"\n\
               bullet = \"55 gr\"\nmuzzle-velocity = \"3240 ft/s\"\nbc = \"0.27\"\ndrag = \"G1\"\n\
               diameter = \"0.224 in\"\n";
    let stages = "stage,target,at (yd),plate,face,class\nA,g,135,1/2 in,12in,rifle\n";
    let fixes = |text: &str| text.split("Fix: ").nth(1).and_then(|rest| rest.split(" Haul:").next()).map(str::to_owned);
    for (column, cell, key) in [
        ("measured-at (°F)", "20", "measured-at = \"20 °F\""),
        ("measured at", "20 F", "measured-at = \"20 °F\""),
        ("bc-sd", "9 %", "bc-sd = \"9 %\""),
        ("velocity-sd (ft/s)", "60", "velocity-sd = \"60 ft/s\""),
    ] {
        let (_, of_table) = page(&usual(), &format!("{head},{column}\n{cells},{cell}\n"), stages);
        let folder = tempfile::tempdir().expect("a folder");
        let line = given(folder.path(), &format!("{}{own}{key}\n", usual()), "bib,load\n1,own\n", stages);
        let of_file = joined(&stdout(&thickset(&line)));
        assert!(of_table.starts_with("NOT READY: 1 of 1 target to fix"), "{column}: {of_table}");
        assert!(fixes(&of_table).is_some(), "{of_table}");
        assert_eq!(fixes(&of_table), fixes(&of_file), "{column}: {of_file}");
    }
}

#[test]
fn a_load_that_does_not_reach_is_told_and_one_that_reaches_nothing_is_not_judged() {
    let loads = "bib,load\n1,308-168-match\n2,20ga-bird-75\n";
    let far = "stage,target,at (yd),plate,face,class\nA,far,400,1/2 in,12in,\n";
    let (code, text) = page(&usual(), loads, far);
    assert!(code == 1 && text.starts_with("NOT READY: 1 load not judged"), "{code} {text}");
    assert!(text.contains("it reaches no target that it is shot at"), "{text}");
    // Where it is judged at another target, what it does not reach is told.
    let (code, text) =
        page(&usual(), loads, &format!("{far}B,near,300,1/2 in,12in,rifle\nC,near,30,1/2 in,12in,shot\n"));
    assert!(code == 0 && text.starts_with("READY as far as judged: 3 targets"), "{code} {text}");
    let line = "Not judged, since it does not reach: 20 ga birdshot No. 7 1/2, 7/8 oz (2) at A, far; name the `class`";
    assert!(text.contains(line), "{text}");
}

#[test]
fn names_that_say_something_else_than_what_was_judged_are_told() {
    let stages = "stage,target,at (yd),plate,face,class\nA,cracked plate,300,1/2 in,12in,rifle\n\
                  Bolted bay,leaning back,300,1/2 in,12in,rifle\n";
    let (code, text) = page(&usual(), "bib,load\nX tracer,308-168-match\n", stages);
    assert!(code == 3 && text.starts_with("NOT READY: 2 names to look into"), "{text}");
    for words in [
        "A, cracked plate (judged as sound): look",
        "Bolted bay, leaning back (judged as not leaning back): look",
        "X tracer (judged as 308 Win 168 gr match)",
    ] {
        assert!(text.contains(words), "`{words}` not in {text}");
    }
    for (name, judged) in [
        ("1/4 in gong", "judged as 1/2 in"),
        ("20 yd gong", "judged from 300 yd"),
        ("hostage 25m", "judged from 300 yd"),
        ("Hardox", "judged as AR500"),
        ("retired", "judged as sound"),
        ("dents", "judged as sound"),
    ] {
        let stages = format!("stage,target,at (yd),plate,face,class\nA,{name},300,1/2 in,12in,rifle\n");
        let (code, text) = page(&usual(), RIFLE, &stages);
        assert!(code == 3 && text.contains(&format!("A, {name} ({judged}): look")), "{name}: {text}");
    }
    let stages =
        "stage,target,at (yd),plate,face,class\nA,12 in gong,300,1/2 in,12in,rifle\nA,300 yd,300,1/2 in,12in,rifle\n";
    assert_eq!(page(&usual(), RIFLE, stages).0, 0);
    // A name of a stage or a person may be no more than a name; what stands behind a person's is more.
    let stages = "stage,target,at (yd),plate,face,class\nCracked hill,gong,300,1/2 in,12in,rifle\n";
    let (code, text) = page(&usual(), "bib,load\nAnn Pierce,308-168-match\n", stages);
    assert!(code == 0 && text.starts_with("READY as far as read: "), "{text}");
    let (code, text) = page(&usual(), "bib,load\nJoe (steel core),308-168-match\n", stages);
    assert!(code == 3 && text.starts_with("NOT READY: 1 name to look into"), "{text}");
    let decide = "Joe (steel core) (judged as 308 Win 168 gr match): look, then give it what its name says";
    assert!(text.contains(decide), "{text}");
    // A name that says what was judged is no news.
    let stages = "stage,target,at (yd),plate,face,class,condition\nA,cracked plate,300,1/2 in,12in,rifle,cracked\n";
    assert!(!page(&usual(), RIFLE, stages).1.contains("Judged otherwise"));
}

#[test]
fn a_rifle_as_slow_as_metres_a_second_read_as_feet_is_not_judged_by_any_door() {
    let folder = tempfile::tempdir().expect("a folder");
    let stages = "stage,target,at (yd),plate,face,class\nA,g,60,3/8 in,12in,rifle\n";
    let head = "bib,name,firearm,construction,bullet (gr),velocity (ft/s),bc,drag,diameter (in)\n";
    let asks = "905 ft/s is slow for a rifle's bullet of this coefficient: is it 905 m/s?";
    let sheets = folder.path().join("sh");
    let loads = format!("{head}X,300 mag,rifle,jacketed lead,180,905,0.49,G1,0.308\n");
    let line = given(folder.path(), &usual(), &loads, stages);
    let output = thickset(&format!("{line} --sheets {}", sheets.display()));
    let text = joined(&stdout(&output));
    assert!(status(&output) == 2 && text.starts_with("NOT READY") && text.contains(&format!("X: {asks}")), "{text}");
    assert!(sheet(&sheets, "sign-01-a.html").contains("Closed until the officer signs"));
    let own = "[[load]]\nid = \"own\"\nfirearm = \"rifle\"\nconstruction = \"jacketed-lead\"\nbullet = \"180 gr\"\n\
               muzzle-velocity = \"905 ft/s\"\nbc = \"0.49\"\ndrag = \"G1\"\ndiameter = \"0.308 in\"\n";
    let line = given(folder.path(), &(usual() + own), "bib,load\nX,308-168-match\n", stages);
    assert!(status(&thickset(&line)) == 2 && joined(&stderr(&thickset(&line))).contains(asks));
    let vet = |velocity: &str| {
        format!(
            "vet --bullet 180gr --velocity {velocity} --bc 0.49 --drag G1 --firearm rifle --diameter 0.308in \
             --construction jacketed-lead --at 100yd --plate 3/8in --condition sound --tilt 15deg"
        )
    };
    assert!(status(&thickset(&vet("905fps"))) == 2 && joined(&stderr(&thickset(&vet("905fps")))).contains(asks));
    // A speed that a subsonic load has is taken, and told; written in metres, it is not asked about.
    let of = |velocity: &str| {
        let loads = format!("{head}X,300 mag,rifle,jacketed lead,180,{velocity},0.49,G1,0.308\n");
        joined(&stdout(&thickset(&given(folder.path(), &usual(), &loads, stages))))
    };
    let text = of("1034");
    assert!(text.starts_with("READY as far as read: "), "{text}");
    assert!(text.contains("Judged as written: 300 mag (X) at 1034 ft/s, not 3392 ft/s."), "{text}");
    let text = of("315 m/s");
    assert!(text.starts_with("READY: ") && !text.contains("as written"), "{text}");
    assert!(joined(&stdout(&thickset(&vet("1034fps")))).contains("1034 ft/s as written, not 1034 m/s"));
    assert!(!joined(&stdout(&thickset(&vet("315m/s")))).contains("as written"));
}

#[test]
fn how_far_anything_was_searched_stands_in_the_first_lines() {
    let top = |class: &str, most: &str| {
        format!(
            "anything = [\"{class}\"]\n{}[[ammunition]]\nclass = [\"{class}\"]\nmuzzle-velocity-at-most = \"{most}\"\n\
             refused = [\"steel-core\", \"armour-piercing\", \"steel-jacket\", \"unknown\", \"monolithic\", \"tracer\", \"incendiary\"]\n",
            usual()
        )
    };
    let stages = "stage,target,at (yd),plate,face,class\nA,g,60,1/2 in,12in,slug\n";
    let (_, text) = page(&top("slug", "1700 ft/s"), "bib,load\nX,12ga-slug-1oz\n", stages);
    let line = "Anything admitted is judged as far as usual extremes: slugs ";
    let reach = text.split(line).nth(1).expect("how far");
    assert!(
        reach.contains(" cartridges, to ") && reach.split("ft/s").next().expect("a span").contains(" to 1700"),
        "{text}"
    );

    // As slow as a plated rimfire may be loaded, it may come back.
    let stages = "stage,target,at (yd),plate,face,class\nA,g,10,3/8 in,8in,rimfire-pistol\n";
    let (code, text) = page(&top("rimfire-pistol", "1300 ft/s"), "bib,load\nX,22lr-pistol-40\n", stages);
    assert!(code != 0 && text.contains("Fix: admit rimfire pistols from "), "{text}");
}

#[test]
fn a_match_that_other_air_changes_says_up_to_where_it_holds_and_from_where_else() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheets = folder.path().join("sh");
    let stand = "[stand]\ncondition = \"sound\"\ntilt = \"15 deg\"\nmount = \"captive-hook\"\n";
    let stages = "stage,target,at (yd),plate,face,class\nA,g,450,3/8 in,12in,rifle\n";
    let run = |air: &str| {
        let line = given(folder.path(), &format!("{air}{stand}"), "bib,load\nX,300wm-180\n", stages);
        let output = thickset(&format!("{line} --sheets {}", sheets.display()));
        assert_eq!(status(&output), 0, "{}", stdout(&output));
        (joined(&stdout(&output)), json(&line))
    };
    let (page, document) = run("");
    assert!(page.starts_with("READY at sea level up to "), "{page}");
    let line = "for all of 0 to 6000 ft at -10 to 100 °F nobody nearer than: A, g 586 yd; or give the air.";
    assert!(page.contains(line), "{page}");
    let holds = page.strip_prefix("READY ").and_then(|rest| rest.split(':').next()).expect("the air it holds in");
    // The line that holds in all of the air leads.
    let here = &format!("rifles 586 yd (450 yd {holds})");
    assert!(page.contains(&format!("A {here}")), "{page}");
    for name in ["officer.html", "sign-01-a.html"] {
        let text = sheet(&sheets, name);
        assert!(text.contains(here.as_str()), "{text}");
    }
    assert!(sheet(&sheets, "officer.html").contains(line));
    assert_eq!(document["stages"][0]["lines"][0], format!("g: {here}"));
    // It is ready in the air up to which it says so, and not beyond.
    let hottest = page.split("up to ").nth(1).and_then(|rest| rest.split(" °F").next()).expect("a temperature");
    let hottest: f64 = hottest.parse().expect("a number");
    let (page, _) = run(&format!("[air]\naltitude = \"0 ft\"\ntemperature = \"{hottest} F\"\n"));
    assert!(page.starts_with("READY: "), "{page}");
    let line = given(
        folder.path(),
        &format!("[air]\naltitude = \"0 ft\"\ntemperature = \"{} F\"\nhumidity = \"100 %\"\n{stand}", hottest + 2.0),
        "bib,load\nX,300wm-180\n",
        stages,
    );
    assert_ne!(status(&thickset(&line)), 0);
}

#[test]
fn a_face_that_is_turned_is_said_in_a_column() {
    for head in ["oblique (deg)", "turn (deg)"] {
        let stages = format!("stage,target,at (yd),plate,face,class,{head}\nA,g,300,1/2 in,12in,rifle,20\n");
        let (code, text) = page(&usual(), RIFLE, &stages);
        assert!(code == 3 && text.contains("turn the face square to the line: A g"), "{head}: {text}");
    }
    let stages = "stage,target,at (yd),plate,face,class,angle (deg)\nA,g,300,1/2 in,12in,rifle,20\n";
    let (code, text) = page(&usual(), RIFLE, stages);
    assert!(code == 2 && text.contains("`oblique (deg)` for a turn"), "{text}");
}

#[test]
fn a_load_whose_drag_table_leaves_open_which_air_is_fast_is_not_judged_in_more_than_one() {
    let folder = tempfile::tempdir().expect("a folder");
    let table = "mach,cd\n0,0.2\n0.9,0.2\n1.0,0.6\n1.2,0.6\n1.5,0.45\n2,0.28\n3,0.14\n5,0.05\n";
    std::fs::write(folder.path().join("d.csv"), table).expect("a file");
    let file = folder.path().join("own.toml");
    let own = "schema = \"thickset/loads/1\"\n[[load]]\nid = \"own\"\nname = \"own drag\"\nfirearm = \"rifle\"\n\
               construction = \"jacketed-lead\"\nbullet = \"168 gr\"\ndiameter = \"0.308 in\"\nmuzzle-velocity = \"2650 ft/s\"\ndrag-table = \"d.csv\"\n";
    std::fs::write(&file, own).expect("a file");
    let loads = "bib,load\n1,308-168-match\n2,own\n";
    let stages = "stage,target,at (yd),plate,face,class\nA,g,300,1/2 in,12in,rifle\n";
    for (air, code) in [
        ("altitude = \"0 ft\"\ntemperature = \"50 °F\"\nhumidity = \"30 %\"\n", 0),
        ("altitude = \"0 ft\"\ntemperature = \"50 °F\"\n", 1),
        ("altitude = \"0 ft\"\ntemperature = \"-10 °F..100 °F\"\n", 1),
        ("altitude = \"0 ft\"\n", 1),
    ] {
        let stand = usual().split_once("[stand]").map(|(_, stand)| format!("[stand]{stand}")).expect("a stand");
        let line = given(folder.path(), &format!("[air]\n{air}{stand}"), loads, stages);
        let text = thickset(&format!("{line} --load-file {}", file.display()));
        let page = joined(&stdout(&text));
        assert_eq!(status(&text), code, "{air}: {page}{}", stderr(&text));
        let is_told = page.contains("Not judged: own drag (2): with this drag table hotter air does not make");
        assert_eq!(is_told, code == 1, "{air}: {page}");
    }
}

#[test]
fn a_load_that_is_borderline_on_any_plate_hides_nothing_that_the_plate_does_not_hold() {
    let (code, text) = page(&usual(), "bib,load\n1,308-168-copper\n", &stages_at(105));
    assert!(code == 3 && text.contains("NOT READY: 1 of 1 target to fix, 1 load to decide on"), "{code} {text}");
    assert!(text.contains("Fix: ") && !text.contains("Good: "), "{text}");
    // Where the plate holds it, the load alone is left to decide on.
    let (_, text) = page(&usual(), "bib,load\n1,308-168-copper\n", &stages_at(500));
    assert!(text.starts_with("NOT READY: 1 load to decide on") && text.contains("Good: every target"), "{text}");
}

fn stages_at(yards: u32) -> String {
    format!("stage,target,at (yd),plate,face,class\nA,g,{yards},3/8 in,12in,rifle\n")
}

#[test]
fn another_load_in_a_column_that_nobody_reads_is_told_from_the_row_s_own() {
    for (head, cell) in [("load 2", "300wm-180"), ("Remarks", "will switch to 300wm-180"), ("rifle 2", "300 WM")] {
        let (code, text) = page(&usual(), &format!("bib,load,{head}\n1,308-168-match,{cell}\n"), &stages_at(500));
        assert!(code == 2 && text.contains("names another load than the row's"), "{head}: {code} {text}");
    }
    for (head, cell) in [("chambered", "308 Win"), ("Remarks", "308-168-match in box 3")] {
        let (code, text) = page(&usual(), &format!("bib,load,{head}\n1,308-168-match,{cell}\n"), &stages_at(500));
        assert!(code == 0, "{head}: {code} {text}");
    }
}

#[test]
fn jacketed_alone_does_not_say_what_the_jacket_is_of() {
    let row = |word: &str| {
        let head = "bib,name,firearm,construction,bullet (gr),velocity (ft/s),bc,drag,diameter (in)";
        page(&usual(), &format!("{head}\n1,x,rifle,{word},123,2380,0.30,G1,0.311\n"), &stages_at(500))
    };
    assert_eq!(row("jacketed lead").0, 0);
    for word in ["jacketed", "Jacketed", "FMJ", "lead core"] {
        let (code, text) = row(word);
        assert!(code == 2 && text.contains("hold a magnet to it"), "{word}: {code} {text}");
    }
}

#[test]
fn a_target_called_by_a_smaller_size_or_a_nearer_line_is_looked_into() {
    let named = |name: &str| {
        page(&usual(), RIFLE, &format!("stage,target,at (yd),plate,face,class\nA,{name},300,1/2 in,12in,rifle\n"))
    };
    for name in ["6 mm gong", "quarter inch gong", ".25 in gong", "1/4-in gong", "3 in gong", "60 ft gong", "50 paces"]
    {
        let (code, text) = named(name);
        assert!(code == 3 && text.contains("1 name to look into"), "{name}: {code} {text}");
    }
    for name in ["12 in gong", "1/2 in gong", "gong 7", "6 ft post side", "300 yd gong"] {
        let (code, text) = named(name);
        assert!(code == 0, "{name}: {code} {text}");
    }
    assert!(named("left popper").1.contains("Judged hung from open hooks, no mount was given: A, left popper."));
    let stage = "stage,target,at (yd),plate,face,class\n50 yd bay,g,300,1/2 in,12in,rifle\n";
    assert!(page(&usual(), RIFLE, stage).1.contains("Judged otherwise than the name says: "));
}

#[test]
fn another_mass_in_a_column_that_nobody_reads_is_told_from_the_row_s_own_and_from_its_powder_s() {
    let note = |note: &str| page(&usual(), &format!("bib,load,notes\n1,308-168-match,{note}\n"), &stages_at(500));
    for other in ["150gr now", "175 gr", "190 gr on Sunday"] {
        let (code, text) = note(other);
        assert!(code == 2 && text.contains("names another load than the row's"), "{other}: {code} {text}");
    }
    for own in ["168 gr", "41.5 gr powder", "168gr over 41.5 gr"] {
        let (code, text) = note(own);
        assert!(code == 0, "{own}: {code} {text}");
    }
    // Left out on purpose it is told all the same.
    let top = format!("{}[columns]\n\"notes\" = \"ignore\"\n", usual());
    let (code, text) = page(&top, "bib,load,notes\n1,308-168-match,150gr now\n", &stages_at(500));
    assert!(code == 0 && text.contains("Ignored as the match says") && text.contains("150gr now"), "{text}");
}

#[test]
fn a_match_that_is_ready_names_the_range_whose_rules_it_was_held_to() {
    let folder = tempfile::tempdir().expect("a folder");
    let rules = "schema = \"thickset/rules/1\"\nname = \"Gravel Pit\"\n[[rule]]\nid = \"far\"\nwhy = \"so\"\n\
                 subject = \"distance\"\nsense = \"at-least\"\nsuits = \"110 yd\"\n";
    std::fs::write(folder.path().join("pit.toml"), rules).expect("a file");
    let top = format!("range-rules = [\"pit.toml\"]\n{}", usual());
    let line = given(folder.path(), &top, "bib,load\n1,308-168-match\n", &stages_at(500));
    for more in ["", " --full"] {
        let text = joined(&stdout(&thickset(&format!("{line}{more}"))));
        assert!(text.starts_with("READY: ") && text.contains("range Gravel Pit"), "{more}: {text}");
    }
}

#[test]
fn a_name_that_says_of_nearer_of_a_slope_or_of_its_targets_state_is_looked_into_and_an_ordinary_one_is_not() {
    let match_of = |stage: &str, target: &str, position: &str| {
        let stages = format!(
            "stage,target,position,at (yd),plate,face,class\n{stage},{target},{position},400,1/2 in,12in,rifle\n"
        );
        page(&usual(), RIFLE, &stages)
    };
    for (stage, target, position) in [
        ("A", "g", "step to 50"),
        ("A", "g", "run to 100"),
        ("A", "g", "from 50"),
        ("A", "g", "rooftop 20 deg down"),
        ("A", "moved nearer", ""),
        ("A", "Not AR500", ""),
        ("A", "9mm only", ""),
        ("A", "turned 30 deg", ""),
        ("Creek (cracked plates)", "g", ""),
    ] {
        let (code, text) = match_of(stage, target, position);
        assert!(code == 3 && text.contains("name to look into"), "{stage} {target} {position}: {text}");
    }
    for (stage, target, position) in [
        ("A", "near gong", "from 400"),
        ("Creek", "g", "port 1 to 3"),
        ("A", "g", "rooftop"),
        ("Bay 50", "no rimfire", ""),
    ] {
        let (code, text) = match_of(stage, target, position);
        assert!(code == 0 && text.starts_with("READY: "), "{stage} {target} {position}: {text}");
    }
    for (stage, target) in [("Cracked Rock", "g"), ("A", "pistol rack")] {
        let (code, text) = match_of(stage, target, "");
        assert!(code == 0 && text.starts_with("READY as far as read: "), "{stage} {target}: {text}");
    }
}

#[test]
fn a_note_that_says_of_a_target_s_state_or_of_who_else_shoots_at_it_is_refused() {
    let stages =
        |note: &str| format!("stage,target,at (yd),plate,face,class,notes\nA,g,300,1/2 in,12in,rifle,{note}\n");
    for note in [
        "shot-up",
        "cupped",
        "a bit of a bow",
        "no stamp",
        "unstamped",
        "homemade",
        "plow disc",
        "crooked",
        "not square",
        "hung by one hook",
        "moved up",
        "from the front line too",
        "run and gun",
        "from the tower",
        "turn it round",
        "back side",
        "pistols too",
        "all calibers",
    ] {
        let (code, text) = page(&usual(), RIFLE, &stages(note));
        assert_eq!(code, 2, "{note}: {text}");
    }
    for note in
        ["repaint", "hang high", "on the back side of the berm", "one hit each", "bring paint too", "no pistols"]
    {
        let (code, text) = page(&usual(), RIFLE, &stages(note));
        assert_eq!(code, 0, "{note}: {text}");
    }
}
