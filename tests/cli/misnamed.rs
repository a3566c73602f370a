//! What is spelled as nothing lists it, or said in another place than the usual one, is no looser for it.

use super::course_signs::joined;
use super::here::{json, thickset};
use super::{status, stderr, stdout};
use std::fs;

const STANDING: &str = "--condition sound --tilt 10deg --altitude 500ft --temperature 60F";

fn rules(folder: &std::path::Path, rules: &str) -> String {
    let path = folder.join("range.toml");
    let text = format!("schema = \"thickset/rules/1\"\nname = \"Pit\"\n{rules}");
    fs::write(&path, text).expect("a file");
    path.to_string_lossy().into_owned()
}

#[test]
fn a_range_s_rule_on_kinds_with_steel_binds_a_load_whose_cartridge_nobody_said() {
    let folder = tempfile::tempdir().expect("a folder");
    let rule = "[[rule]]\nid = \"a\"\nwhy = \"x\"\nsense = \"outcome\"\nsubject = \"case\"\noutcome = \"unsuitable\"\nsteel-common = true\n";
    let own = "--bullet 168gr --velocity 2650fps --bc 0.223 --drag G7 --construction jacketed-lead";
    let line = format!("vet {own} --at 200yd --plate 1/2in {STANDING}");
    assert_eq!(status(&thickset(&line)), 0, "{}", stdout(&thickset(&line)));
    let line = format!("{line} --range-rules {}", rules(folder.path(), rule));
    assert_eq!(status(&thickset(&line)), 1, "{}", stdout(&thickset(&line)));
}

#[test]
fn it_binds_one_whose_cartridge_nothing_lists_as_well() {
    let folder = tempfile::tempdir().expect("a folder");
    let rule = "[[rule]]\nid = \"a\"\nwhy = \"x\"\nsense = \"outcome\"\nsubject = \"case\"\noutcome = \"unsuitable\"\nsteel-common = true\n";
    let range = rules(folder.path(), rule);
    let path = folder.path().join("own.toml");
    for (cartridge, refused) in [("6.5 Creedmoor", 0), ("7.62 x 39 mm", 1), ("7.62 x 93 mm", 1), ("6.5 Creedmor", 1)] {
        let own = format!(
            "schema = \"thickset/loads/1\"\n[[load]]\nid = \"own\"\ncartridge = \"{cartridge}\"\nfirearm = \"rifle\"\n\
             construction = \"jacketed-lead\"\nbullet = \"123 gr\"\nmuzzle-velocity = \"2300 ft/s\"\ndrag = \"G1\"\nbc = \"0.3\"\n"
        );
        fs::write(&path, own).expect("a file");
        let line = format!(
            "vet --load own --load-file {} --at 200yd --plate 1/2in {STANDING} --range-rules {range}",
            path.display()
        );
        assert_eq!(status(&thickset(&line)), refused, "{cartridge}: {}", stdout(&thickset(&line)));
    }
}

#[test]
fn an_unknown_bullet_that_is_called_by_a_core_is_told_so() {
    let own = "--bullet 62gr --velocity 3000fps --bc 0.3 --drag G1 --firearm rifle --construction unknown";
    let told =
        |more: &str| joined(&stdout(&thickset(&format!("vet {own} {more} --at 200yd --plate 1/2in {STANDING}"))));
    assert!(
        told("--name \"M855 surplus\"").contains("it is called `M855 surplus`"),
        "{}",
        told("--name \"M855 surplus\"")
    );
    assert!(!told("--name \"M855 surplus\"").contains("nothing lists"));
    assert!(told("--name \"surplus\"").contains("nothing lists its kind as having a steel core"));
}

#[test]
fn the_faults_of_a_rules_file_are_told_in_one_run_and_words_of_the_trade_lead_to_ours() {
    let folder = tempfile::tempdir().expect("a folder");
    let rule = |id: &str, more: &str| {
        format!("[[rule]]\nid = \"{id}\"\nwhy = \"x\"\nsubject = \"distance\"\nsense = \"at-least\"\n{more}")
    };
    let text = [
        rule("a", "suits = \"50 yd\"\nclass = [\"pistol\"]\n"),
        rule("b", "suits = \"50\"\n"),
        rule("c", "suits = \"50 yd\"\nconstruction = [\"green tip\"]\n"),
        rule("d", "suits = \"50 yd\"\n"),
        rule("e", "suits = \"50 yd\"\nclas = [\"rifle\"]\n"),
        rule("d", "suits = \"60 yd\"\nclass = [\"rimfire\"]\n"),
    ];
    let line =
        format!("vet --load 308-150 --at 200yd --plate 1/2in --range-rules {}", rules(folder.path(), &text.concat()));
    let output = thickset(&line);
    let told = joined(&stderr(&output));
    assert_eq!((status(&output), told.matches("error: ").count()), (2, 5), "{told}");
    for said in [
        "did you mean `rimfire-pistol` or `handgun`?",
        "write `50 yd`",
        "did you mean `steel-core`?",
        "unknown field `clas`",
        "did you mean `rimfire-pistol` or `rimfire-rifle`?",
        "range.toml:9:10",
        "range.toml:42:10",
        "did you mean `class`?",
    ] {
        assert!(told.contains(said), "{said}: {told}");
    }
    let places: Vec<usize> =
        ["toml:9:", "toml:15:", "toml:22:", "toml:35:", "toml:42:"].map(|at| told.find(at).expect(at)).into();
    assert!(places.is_sorted(), "{told}");
    // No more than are told of a table.
    let many = (0..30).map(|i| rule(&format!("r{i}"), "class = [\"pistol\"]\n")).collect::<String>();
    rules(folder.path(), &many);
    let output = thickset(&line);
    assert_eq!(stderr(&output).matches("error: ").count(), 20);
    let path = folder.path().join("own.toml");
    let load = "schema = \"thickset/loads/1\"\n[[load]]\nid = \"o\"\nfirearm = \"rifle\"\nconstruction = \"jacketed lead\"\n\
                bullet = \"55 gr\"\nmuzzle-velocity = \"2000 ft/s\"\ndrag = \"G1\"\nbc = \"0.2\"\n";
    fs::write(&path, load).expect("a file");
    let told =
        joined(&stderr(&thickset(&format!("vet --load o --load-file {} --at 100yd --plate 1/2in", path.display()))));
    assert!(told.contains("did you mean `jacketed-lead`?"), "{told}");
}

#[test]
fn a_range_s_limit_on_the_muzzle_says_that_it_is_of_the_mean() {
    let folder = tempfile::tempdir().expect("a folder");
    let rule =
        "[[rule]]\nid = \"a\"\nwhy = \"x\"\nsubject = \"muzzle-speed\"\nsense = \"at-most\"\nsuits = \"3000 ft/s\"\n";
    let line = format!(
        "vet --load 556-55 --at 200yd --plate 1/2in {STANDING} --explain --range-rules {}",
        rules(folder.path(), rule)
    );
    let told = joined(&stdout(&thickset(&line)));
    assert!(told.contains("Mean muzzle velocity 3261 ft/s, at most 3000 ft/s"), "{told}");
    let keys = joined(&stdout(&thickset("catalog keys rules")));
    assert!(keys.contains("counts down to 6 % under it") && keys.contains("divided by 0.94"), "{keys}");
}

fn a_match(folder: &std::path::Path, refused: &str, cartridge: &str) -> std::process::Output {
    let path = folder.join("match.toml");
    let text = format!(
        "schema = \"thickset/course/1\"\nname = \"m\"\nloads = []\n\
         [air]\naltitude = \"500 ft\"\ntemperature = \"60 F\"\n[stand]\ncondition = \"sound\"\ntilt = \"10 deg\"\n[[ammunition]]\ncartridges-refused = [\"{refused}\"]\n\
         [[load]]\nid = \"own\"\nname = \"own\"\n{cartridge}firearm = \"rifle\"\nconstruction = \"jacketed-lead\"\n\
         bullet = \"168 gr\"\nmuzzle-velocity = \"2650 ft/s\"\ndrag = \"G7\"\nbc = \"0.223\"\n\
         [[stage]]\nname = \"s\"\n[[stage.target]]\nname = \"t\"\nplate = \"1/2 in\"\nat = \"300 yd\"\n"
    );
    fs::write(&path, text).expect("a file");
    thickset(&format!("course {}", path.display()))
}

#[test]
fn a_cartridge_that_a_match_refuses_is_refused_however_it_is_misspelt() {
    let folder = tempfile::tempdir().expect("a folder");
    assert_eq!(status(&a_match(folder.path(), ".338 Lapua", "cartridge = \"308\"\n")), 0);
    for cartridge in ["cartridge = \"308\"\n", "cartridge = \"308 Wim\"\n", ""] {
        let output = a_match(folder.path(), ".308 Win", cartridge);
        assert_ne!(status(&output), 0, "{cartridge}: {}", stdout(&output));
    }
    let several = "which an ammunition rule names, may be several cartridges";
    for (refused, cartridge, said) in [
        ("308 Wim", "308", "no cartridge `308 Wim`"),
        (".30 cal", "308", several),
        // Whichever was meant, and though a load goes by the same.
        ("270", "270 WSM", several),
        ("270", "270", several),
        ("7mm mag", "7 mm STW", several),
    ] {
        let output = a_match(folder.path(), refused, &format!("cartridge = \"{cartridge}\"\n"));
        let told = joined(&(stdout(&output) + &stderr(&output)));
        assert!(status(&output) == 2 && told.contains(said), "{refused}: {told}");
    }
    // What a load that is brought goes by may be named, though nothing lists it.
    let output = a_match(folder.path(), "7 mm own", "cartridge = \"7 mm Own\"\n");
    assert!(stdout(&output).contains("7 mm Own is refused"), "{}", stdout(&output));
}

#[test]
fn words_that_speak_against_lead_are_read_wherever_they_stand_and_of_shot_too() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("own.toml");
    let asked = |said: &str, construction: &str| {
        let text = format!(
            "schema = \"thickset/loads/1\"\n[[load]]\nid = \"own\"\n{said}firearm = \"rifle\"\nconstruction = \"{construction}\"\n\
             bullet = \"55 gr\"\nmuzzle-velocity = \"2000 ft/s\"\ndrag = \"G1\"\nbc = \"0.2\"\n"
        );
        fs::write(&path, text).expect("a file");
        let line = format!("vet --load own --load-file {} --at 200yd --plate 1/2in {STANDING}", path.display());
        let output = thickset(&line);
        (status(&output), stderr(&output))
    };
    assert_ne!(asked("cartridge = \".223 Rem\"\n", "jacketed-lead").0, 2);
    for said in [
        "cartridge = \"5.56 mm M855\"\n",
        "cartridge = \"308 tracer\"\n",
        "basis = \"steel core\"\n",
        "name = \"55 gr, magnet sticks\"\n",
        "name = \"hardened core\"\n",
        "name = \"M995\"\n",
    ] {
        let (status, told) = asked(said, "jacketed-lead");
        assert!(status == 2 && told.contains("is called what"), "{said}: {status} {told}");
    }
    let (status, told) = asked("name = \"steel shot No. 2\"\n", "lead-shot");
    assert!(status == 2 && told.contains("is called what lead-shot is not"), "{told}");
}

#[test]
fn any_ammunition_of_a_shotgun_may_be_steel_shot() {
    for gauge in ["10 gauge", "12 gauge", "16 gauge", "20 gauge", "28 gauge", ".410"] {
        let output = thickset(&format!("vet --any \"{gauge}\" --at 100yd --plate 1/2in {STANDING}"));
        let told = joined(&stdout(&output));
        assert!(status(&output) != 0 && told.contains("steel shot never"), "{gauge}: {told}");
    }
}

#[test]
fn a_string_saved_for_a_smaller_coverage_is_judged_later_with_the_usual_one() {
    let folder = tempfile::tempdir().expect("a folder");
    let string = "2648fps 2755fps 2641fps 2650fps 2562fps 2644fps 2651fps 2639fps 2657fps 2648fps --load 308-168-match";
    let nearest = |saved: &str, asked: &str| {
        let path = folder.path().join("own.toml");
        fs::remove_file(&path).ok();
        let output = thickset(&format!("chrono {string} {saved} --save {} --id own", path.display()));
        assert_ne!(status(&output), 2, "{}", stderr(&output));
        let line = format!("vet --load own --load-file {} {asked} --at 100yd --plate 3/8in {STANDING}", path.display());
        json(&line)["nearest_m"].as_f64().expect("a distance")
    };
    let usual = nearest("", "");
    assert!((nearest("--coverage 90% --confidence 90%", "") - usual).abs() < 1e-6);
    let wide = nearest("", "--coverage 99.9%");
    assert!(wide > usual);
    // Kept for more than the usual, it is no weaker where the usual is asked of it.
    let kept_wide = nearest("--coverage 99.9%", "");
    assert!(kept_wide > usual && nearest("--coverage 99.9%", "--coverage 99.9%") >= kept_wide, "{usual} {kept_wide}");
}

#[test]
fn what_a_range_says_stands_in_a_match_on_its_signs_and_where_no_distance_is_good() {
    let folder = tempfile::tempdir().expect("a folder");
    let rule = "[[rule]]\nid = \"w\"\nwhy = \"Ring the warden first\"\nsubject = \"case\"\nsense = \"caution\"\n";
    let lean =
        "[[rule]]\nid = \"l\"\nwhy = \"Plates lean\"\nsubject = \"lean\"\nsense = \"at-least\"\nsuits = \"10 deg\"\n";
    let file = rules(folder.path(), &format!("{rule}{lean}"));
    let never = format!("standoff --load 308-168-match --plate 1/2in --range-rules {file}");
    assert!(joined(&stdout(&thickset(&never))).contains("Pit: Ring the warden first."));
    let path = folder.path().join("match.toml");
    let text = "schema = \"thickset/course/1\"\nname = \"m\"\nloads = [\"308-168-match\"]\nrange-rules = [\"range.toml\"]\n\
                [stand]\ncondition = \"sound\"\ntilt = \"10 deg\"\n[[stage]]\nname = \"s\"\n[[stage.target]]\nname = \"t\"\n\
                plate = \"1/2 in\"\nat = \"300 yd\"\n";
    fs::write(&path, text).expect("a file");
    let sheets = folder.path().join("sheets");
    let output = thickset(&format!("course {} --sheets {}", path.display(), sheets.display()));
    assert!(joined(&stdout(&output)).contains("Pit: Ring the warden first."), "{}{}", stdout(&output), stderr(&output));
    let mut signs = 0;
    for sheet in fs::read_dir(&sheets).expect("sheets").map(|sheet| sheet.expect("a sheet").path()) {
        let text = fs::read_to_string(&sheet).expect("text");
        if text.contains("No nearer than") {
            assert!(text.contains("Ring the warden first"), "{}", sheet.display());
            signs += 1;
        }
    }
    assert!(signs > 0);
}

#[test]
fn the_ladder_says_where_it_is_of_the_rest_alone() {
    let line = format!("advise --load 300wm-180@100yd --load 9mm-124@25yd {STANDING}").replace("--condition sound", "");
    let page = stdout(&thickset(&line));
    assert!(page.contains("plate    for the rest"), "{page}");
    let table = stdout(&thickset(&format!("{line} --format csv")));
    let rows: Vec<&str> = table.lines().filter(|row| row.starts_with("1/2 in,")).collect();
    assert!(rows[0].starts_with("1/2 in,unsuitable,") && rows[0].contains(",suits,"), "{table}");
    // A program that reads the document is told the same by the same name.
    let document = super::json(&line);
    let row =
        document["plates"].as_array().expect("plates").iter().find(|row| row["label"] == "1/2 in").expect("a row");
    assert_eq!((row["verdict"].as_str(), row["verdict_for_the_rest"].as_str()), (Some("unsuitable"), Some("suits")));
    assert!(row["margin"].as_f64() < Some(0.0) && row["margin_for_the_rest"].as_f64() > Some(0.0), "{row}");
}

#[test]
fn a_least_thickness_is_told_as_it_is_judged() {
    let folder = tempfile::tempdir().expect("a folder");
    let rule = "[[rule]]\nid = \"t\"\nwhy = \"x\"\nsubject = \"thickness\"\nsense = \"at-least\"\nsuits = \"3/8 in\"\n";
    let line =
        format!("vet --load 9mm-115 --at 10yd --plate 9mm {STANDING} --range-rules {}", rules(folder.path(), rule));
    let page = stdout(&thickset(&line));
    assert!(page.contains("0.354 in") && page.contains("at least 0.353 in (0.375 − 6 %)"), "{page}");
}

#[test]
fn a_drawing_a_product_and_a_target_of_an_inquiry_are_what_they_are_called() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("own.toml");
    let points = "points = [[0, 0], [12, 0], [12, 12], [0, 12]]\n";
    let vetted = |name: &str| {
        let text = format!("schema = \"thickset/outline/1\"\nname = \"{name}\"\nunit = \"in\"\n{points}");
        fs::write(&path, text).expect("a file");
        thickset(&format!("vet --load 308-168-match --at 300yd --plate 3/8in {STANDING} --outline {}", path.display()))
    };
    for (name, code) in [("gong", 0), ("four-hole gong", 0), ("AR400 gong", 2), ("gong, cracked", 2), ("3 in gong", 2)]
    {
        let output = vetted(name);
        assert_eq!(status(&output), code, "{name}: {}{}", stdout(&output), stderr(&output));
    }
    let shop = folder.path().join("shop.toml");
    let example = fs::read_to_string("examples/shop.toml").expect("the shop");
    for (name, code) in
        [("Gong 12", 0), ("Gong 12, 2 holes", 0), ("Gong cracked", 2), ("Gong welded", 2), ("Gong 3 in", 2)]
    {
        fs::write(&shop, example.replace("\"Gong 12\"", &format!("\"{name}\""))).expect("a file");
        let line = format!("advise --load 308-168-match --at 300yd --product \"{name}\" --shop {}", shop.display());
        let output = thickset(&line);
        assert_eq!(status(&output), code, "{name}: {}{}", stdout(&output), stderr(&output));
    }
    let asked = |name: &str| {
        let text = format!(
            "schema = \"thickset/inquiry/1\"\n[[target]]\nname = \"{name}\"\n[[shot]]\n\
             load = \"308-168-match\"\nat = [\"200 yd\"]\n"
        );
        fs::write(&path, text).expect("a file");
        thickset(&format!("advise {}", path.display()))
    };
    for (name, code) in [("gong", 0), ("50 yd gong", 2), ("3 in gong", 2), ("200 yd gong", 0)] {
        let output = asked(name);
        assert_eq!(status(&output), code, "{name}: {}{}", stdout(&output), stderr(&output));
    }
}
