//! A load saved from a chronograph string is called by what was measured, wherever it is told.

use super::here::thickset;
use super::{status, stderr, stdout};
use std::fs;

const CALLED: &str = "300 Win Mag 180 gr at 2302 ft/s";

#[test]
fn a_load_saved_from_a_string_is_never_told_by_the_listed_one_s_name_alone() {
    let folder = tempfile::tempdir().expect("a folder");
    let (saved, course) = (folder.path().join("w.toml"), folder.path().join("m.toml"));
    let save = |load: &str, more: &str, id: &str| {
        let string = "2300fps 2310fps 2295fps 2305fps 2301fps";
        let output = thickset(&format!("chrono {string} --load {load} {more} --save {} --id {id}", saved.display()));
        assert_ne!(status(&output), 2, "{}", stderr(&output));
    };
    save("300wm-180", "", "my-300");
    let own = format!("--load-file {}", saved.display());
    let air = "--condition sound --tilt 15deg --altitude 500ft --temperature 60F";
    let line =
        |words: &str| stdout(&thickset(&format!("{words} {own}"))).split_whitespace().collect::<Vec<_>>().join(" ");
    for asked in [
        format!("vet --load my-300 --at 100yd --plate 3/8in {air}"),
        format!("advise --load my-300 --at 100yd {air}"),
        format!("standoff --load my-300 --plate 3/8in {air}"),
        format!("standoff --load my-300 --plate 3/8in {air} --tag"),
        format!("standoff --load my-300 --plate 3/8in {air} --chart"),
    ] {
        let text = line(&asked);
        let named = text.matches("300 Win Mag 180 gr").count();
        assert!(named > 0 && named == text.matches(CALLED).count(), "{asked}: {text}");
    }
    let text = "schema = \"thickset/course/1\"\nname = \"M\"\nloads = [\"my-300\", \"300wm-180\"]\n[[stage]]\nname = \"S\"\n\
                [[stage.target]]\nname = \"t\"\nplate = \"1/4 in\"\nat = \"100 yd\"\n\
                stand = { condition = \"sound\", tilt = \"15 deg\" }\n";
    fs::write(&course, text).expect("a file");
    let both = line(&format!("course {} --full", course.display()));
    let listed = both.matches("300 Win Mag 180 gr").count();
    assert!(both.contains(CALLED) && listed > both.matches(CALLED).count(), "{both}");
}

#[test]
fn a_saved_number_has_nine_digits_at_most() {
    let folder = tempfile::tempdir().expect("a folder");
    let saved = folder.path().join("own.toml");
    for (string, velocity) in [
        ("2302.1fps 2302.3fps 2302.2fps 2302.4fps 2302fps", "2302.2 ft/s"),
        ("788.1mps 788.2mps 788.4mps 788.1mps 788.3mps", "788.22 m/s"),
    ] {
        let line =
            format!("chrono {string} --load 308-168-match --measured-at 30C --save {} --id own", saved.display());
        let output = thickset(&line);
        assert_ne!(status(&output), 2, "{}", stderr(&output));
        let text = fs::read_to_string(&saved).expect("the saved load");
        assert!(text.contains(&format!("muzzle-velocity = \"{velocity}\"")), "{text}");
        assert!(text.contains("measured-at = \"86 F\""), "{text}");
        for number in text.split(['"', ' ', '\n']).filter(|word| word.parse::<f64>().is_ok()) {
            let digits: String = number.chars().filter(char::is_ascii_digit).collect();
            assert!(digits.trim_start_matches('0').len() <= 9, "{number} in {text}");
        }
        fs::remove_file(&saved).expect("the saved load");
    }
}

#[test]
fn a_measured_string_s_spread_is_not_overridden_by_a_smaller_one() {
    let folder = tempfile::tempdir().expect("a folder");
    let saved = folder.path().join("w.toml");
    let output = thickset(&format!(
        "chrono 2700fps 2660fps 2640fps --load 308-168-match --save {} --id my-308",
        saved.display()
    ));
    assert_ne!(status(&output), 2, "{}", stderr(&output));
    let asked = format!("vet --load my-308@150yd --plate 3/8in --load-file {}", saved.display());
    assert_ne!(status(&thickset(&asked)), 2);
    let refused = thickset(&format!("{asked} --velocity-sd 5fps"));
    assert_eq!(status(&refused), 2);
    assert!(stderr(&refused).contains("the string of my-308 tells the spread"), "{}", stderr(&refused));
}

#[test]
fn a_saved_string_is_judged_no_weaker_than_it_was_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let load = "--bullet 150gr --bc 0.2 --drag G1 --construction jacketed-lead --firearm rifle";
    let target = "--condition sound --plate 3/8in --tilt 20deg";
    let speeds = [1985, 1950, 1934, 1942, 1947, 1963, 1955, 1949, 1952, 1971, 1938, 1958];
    for count in [2, 3, 5, 12] {
        let string: Vec<String> = speeds[..count].iter().map(|speed| format!("{speed}fps")).collect();
        let string = string.join(" ");
        for coverage in ["90%", "99%", "99.9%", "99.99%"] {
            let saved = folder.path().join(format!("{count}-{coverage}.toml"));
            let line =
                format!("chrono {string} {load} {target} --coverage {coverage} --save {} --id own", saved.display());
            let plan = super::json(&line);
            assert_eq!(plan.to_string().contains("kept for 99 %"), coverage == "90%", "{coverage}: {plan}");
            let told = plan["standoff"][0]["nearest_m"].as_f64();
            let back = super::json(&format!("standoff --load own --load-file {} {target}", saved.display()));
            let back = back["rows"][0]["plates"][0]["nearest_m"].as_f64();
            // No distance is the strictest there is.
            let is_no_weaker = back.is_none() || told.is_some_and(|told| back >= Some(told - 1e-6));
            assert!(is_no_weaker, "{count} shots, {coverage}: told {told:?} m, read back {back:?} m");
            assert!(count < 5 || told.is_some(), "{count} shots, {coverage}: {plan}");
        }
    }
}

#[test]
fn the_powder_of_an_older_string_is_not_that_of_a_new_one_and_no_option_warms_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let (old, new) = (folder.path().join("old.toml"), folder.path().join("new.toml"));
    let string = "2700fps 2690fps 2695fps 2705fps 2698fps";
    let save = |load: &str, more: &str, path: &std::path::Path| {
        let _ = fs::remove_file(path);
        let output = thickset(&format!("chrono {string} --load {load} {more} --save {} --id own", path.display()));
        assert_ne!(status(&output), 2, "{}", stderr(&output));
        fs::read_to_string(path).expect("the saved load")
    };
    let again = |more: &str| save("own", &format!("--load-file {} {more}", old.display()), &new);
    save("308-168-match", "--measured-at 105F", &old);
    assert!(!again("").contains("measured-at"), "a warm one is of the velocity that is replaced");
    assert!(again("--measured-at 80F").contains("measured-at = \"80 F\""));
    save("308-168-match", "--measured-at 10F", &old);
    assert!(again("").contains("measured-at = \"10 F\""), "a cold one is the stricter");
    let vet = |at: &str| thickset(&format!("vet --load own@150yd --plate 3/8in --load-file {} {at}", old.display()));
    let refused = vet("--measured-at 90F");
    assert!(status(&refused) == 2 && stderr(&refused).contains("--measured-at"), "{}", stderr(&refused));
    for at in ["", "--measured-at 10F", "--measured-at 0F"] {
        assert_ne!(status(&vet(at)), 2, "{}", stderr(&vet(at)));
    }
}

#[test]
fn a_saved_string_says_at_any_coverage_what_the_string_said() {
    let folder = tempfile::tempdir().expect("a folder");
    let target = "--plate 1/4in --condition sound --altitude 500ft --temperature 60F --tilt 15deg --mount bolted";
    // Spread as shots are, with one far out.
    let speeds = [985, 1001, 992, 978, 1010, 996, 989, 1003, 982, 1040];
    for count in [3, 7, 10, 30] {
        let string: Vec<String> = (0..count).map(|i| format!("{}fps", speeds[i % 10] + i / 10)).collect();
        let string = format!("chrono {} --load 45acp-185 {target}", string.join(" "));
        let nearest =
            |document: &serde_json::Value, rows: &str| document.pointer(rows).and_then(serde_json::Value::as_f64);
        let saved = |coverage: &str| {
            let path = folder.path().join(format!("{count}-{coverage}.toml"));
            let plan = super::json(&format!("{string} --coverage {coverage} --save {} --id my", path.display()));
            (nearest(&plan, "/standoff/0/nearest_m"), path)
        };
        let back = |path: &std::path::Path, coverage: &str| {
            let line = format!("standoff --load my --load-file {} {target} --coverage {coverage}", path.display());
            nearest(&super::json(&line), "/rows/0/plates/0/nearest_m")
        };
        let (_, usual) = saved("99.0%");
        for coverage in ["90%", "95%", "99%", "99.9%", "99.99%"] {
            let (told, own) = saved(coverage);
            for path in [&own, &usual] {
                let back = back(path, coverage);
                let is_same = match (told, back) {
                    (Some(told), Some(back)) => (told - back).abs() < 1e-3,
                    (told, back) => told == back,
                };
                assert!(
                    is_same,
                    "{count} shots, {coverage}: told {told:?} m, read back {back:?} m from {}",
                    path.display()
                );
            }
        }
    }
}

#[test]
fn a_string_whose_numbers_do_not_agree_is_refused_and_an_older_file_is_not() {
    let folder = tempfile::tempdir().expect("a folder");
    let saved = folder.path().join("w.toml");
    let line = format!("chrono 2700fps 2660fps 2640fps --load 308-168-match --save {} --id my", saved.display());
    assert_ne!(status(&thickset(&line)), 2);
    let text = fs::read_to_string(&saved).expect("the saved load");
    let ask = |text: &str| {
        fs::write(&saved, text).expect("a file");
        thickset(&format!("vet --load my@150yd --plate 3/8in --load-file {}", saved.display()))
    };
    assert_ne!(status(&ask(&text)), 2);
    let more = text.replace("readings = 3\n", "readings = 30\n");
    let refused = ask(&more);
    assert!(status(&refused) == 2 && stderr(&refused).contains("`tolerance-factor` is not that of so many readings"));
    let less = text.replace("readings = 3\n", "");
    assert_eq!(status(&ask(&less)), 2);
    let is_older =
        |line: &&str| !["readings", "farthest-reading", "confidence"].iter().any(|key| line.starts_with(key));
    let older: Vec<&str> = text.lines().filter(is_older).collect();
    assert_ne!(status(&ask(&older.join("\n"))), 2);
}

#[test]
fn a_string_that_was_planned_for_more_than_is_asked_says_what_it_is_judged_at() {
    let folder = tempfile::tempdir().expect("a folder");
    let saved = folder.path().join("own.toml");
    let string = "chrono 2700fps 2690fps 2695fps 2705fps 2698fps --load 308-168-match --coverage 99.9%";
    super::json(&format!("{string} --save {} --id own", saved.display()));
    let page = |coverage: &str| {
        let line = format!("standoff --load own --load-file {} --plate 3/8in {coverage}", saved.display());
        super::stdout(&super::thickset(&line)).split_whitespace().collect::<Vec<_>>().join(" ")
    };
    for less in ["--coverage 90%", ""] {
        let page = page(less);
        assert!(page.contains("judged at its own coverage of 99.9 %"), "{less}: {page}");
    }
    for more in ["--coverage 99.9%", "--coverage 99.99%"] {
        assert!(!page(more).contains("its own coverage"), "{more}");
    }
}

#[test]
fn two_readings_at_any_confidence_are_saved_as_they_are_read_again() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("two.toml");
    let string = "chrono 2648.0fps 2648.2fps --load 308-168-match --plate 3/8in --confidence 99.9%";
    let told = thickset(&format!("{string} --save {} --id two", path.display()));
    let again = thickset(&format!("standoff --load two --load-file {} --plate 3/8in", path.display()));
    assert_eq!((status(&told), status(&again)), (0, 0), "{}{}", stderr(&told), stderr(&again));
}
