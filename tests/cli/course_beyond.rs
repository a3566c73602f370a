//! What the first lines of a match say beyond its targets: what nobody read, names that say otherwise, how far a search
//! went, other air.

use super::course_signs::{given, joined, sheet, usual};
use super::{json, status, stderr, stdout, thickset};

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
        ("warped", "yes"),
        ("repaired", "x"),
        ("solid", "1"),
        ("A37", "true"),
        ("notes", "pock marked"),
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
    let top = format!("{}[columns]\nwarped = \"ignore\"\n", usual());
    let (_, text) = page(&top, RIFLE, &stages("warped", "yes"));
    assert!(text.starts_with("READY: "), "{text}");
}

#[test]
fn names_that_say_something_else_than_what_was_judged_are_told() {
    let stages = "stage,target,at (yd),plate,face,class\nA,cracked plate,300,1/2 in,12in,rifle\n\
                  Bolted bay,leaning back,300,1/2 in,12in,rifle\n";
    let (code, text) = page(&usual(), "bib,load\nX tracer,308-168-match\n", stages);
    assert!(code == 0 && text.starts_with("READY as far as read: "), "{text}");
    for words in [
        "A, cracked plate (judged as sound)",
        "Bolted bay, leaning back (judged as not leaning back)",
        "X tracer (judged as 308 Win 168 gr match)",
    ] {
        assert!(text.contains(words), "`{words}` not in {text}");
    }
    // A name that says what was judged is no news.
    let stages = "stage,target,at (yd),plate,face,class,condition\nA,cracked plate,300,1/2 in,12in,rifle,cracked\n";
    assert!(!page(&usual(), RIFLE, stages).1.contains("Judged otherwise"));
}

#[test]
fn a_rifle_as_slow_as_metres_a_second_read_as_feet_is_told() {
    let loads = "bib,name,firearm,construction,bullet (gr),velocity (ft/s),bc,drag,diameter (in)\n\
                 X,300 mag,rifle,jacketed lead,180,905,0.49,G1,0.308\n";
    let stages = "stage,target,at (yd),plate,face,class\nA,g,60,3/8 in,12in,rifle\n";
    let (_, text) = page(&usual(), loads, stages);
    assert!(text.contains("Judged as written: 300 mag (X) at 905 ft/s, not 2969 ft/s."), "{text}");
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
    let line = "at 6000 ft and 100 °F nobody nearer than: A, g 572 yd; or give the air.";
    assert!(page.contains(line), "{page}");
    let here = "rifles 450 yd (at 6000 ft and 100 °F 572 yd)";
    assert!(page.contains(&format!("A {here}")), "{page}");
    for name in ["officer.html", "sign-01-a.html"] {
        let text = sheet(&sheets, name);
        assert!(text.contains(here), "{text}");
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
        &format!("[air]\naltitude = \"0 ft\"\ntemperature = \"{} F\"\n{stand}", hottest + 2.0),
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
