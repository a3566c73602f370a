//! Names, numbers and options that say something else than what would be judged: refused at every door.

use super::{status, stderr, stdout, thickset};
use std::fs;

const LOAD: &str = "--bullet 168gr --velocity 2650fps --bc 0.223 --drag G7 --construction jacketed-lead";

#[test]
fn a_load_whose_name_or_source_speaks_of_no_lead_core_is_judged_as_none_by_no_door() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("l.toml");
    for name in ["SS109 penetrator", "AP surplus", "tracer", "steel core", "bi-metal jacket", "solid copper", "7N6"] {
        for line in [
            format!("vet {LOAD} --name \"{name}\" --at 200yd --plate 3/8in"),
            format!("advise {LOAD} --name \"{name}\" --at 200yd"),
            format!("standoff {LOAD} --name \"{name}\" --plate 3/8in --tag"),
        ] {
            let output = thickset(&line);
            assert!(status(&output) == 2 && stderr(&output).contains("is called what jacketed-lead is not"), "{line}");
        }
        let load = |key: &str| {
            format!(
                "schema = \"thickset/loads/1\"\n[[load]]\nid = \"x\"\nbullet = \"168 gr\"\nmuzzle-velocity = \"2650 fps\"\n\
                 bc = \"0.223\"\ndrag = \"G7\"\nfirearm = \"rifle\"\nconstruction = \"jacketed-lead\"\n{key} = \"{name}\"\n"
            )
        };
        for key in ["name", "source"] {
            fs::write(&path, load(key)).expect("a file");
            let output = thickset(&format!("vet --load x --load-file {} --at 200yd --plate 3/8in", path.display()));
            assert_eq!(status(&output), 2, "{key} {name}: {}", stdout(&output));
        }
    }
    let steel = LOAD.replace("jacketed-lead", "steel-core");
    let output = thickset(&format!("vet {steel} --name \"SS109 penetrator\" --at 200yd --plate 3/8in"));
    assert_eq!(status(&output), 1, "{}", stderr(&output));
}

#[test]
fn a_target_of_an_inquiry_whose_name_says_otherwise_is_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("i.toml");
    let asked = |name: &str, more: &str| {
        let text = format!(
            "schema = \"thickset/inquiry/1\"\n[[target]]\nname = \"{name}\"\n{more}[[shot]]\nload = \"308-168-match\"\nat = [\"150 yd\"]\n"
        );
        fs::write(&path, text).expect("a file");
        thickset(&format!("advise {}", path.display()))
    };
    for name in ["cracked plate", "mild steel gong", "bolted torso"] {
        let output = asked(name, "");
        assert!(
            status(&output) == 2 && stderr(&output).contains("its name says otherwise"),
            "{name}: {}",
            stderr(&output)
        );
    }
    let output = asked("ridge gong", "");
    assert!(status(&output) != 2, "{}", stderr(&output));
}

#[test]
fn a_numbered_shot_that_can_not_be_read_is_never_left_out() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("s.csv");
    let asked = |cell: &str, beside: &str| {
        let text = format!(
            "Shot,Velocity (m/s),Energy (J)\n1,807.1,3545\n2,809.0,3560\n3,{cell},{beside}\n4,811.3,3580\n5,806.6,3541\n"
        );
        fs::write(&path, text).expect("a file");
        thickset(&format!("chrono {} --load 308-168-match --plate 3/8in --format csv", path.display()))
    };
    for cell in ["2990 fps", "9452", "8O5.2", "80.5", "845.2"] {
        let output = asked(cell, "");
        assert_eq!(status(&output), 2, "{cell}: {}", stdout(&output));
        assert!(stderr(&output).contains("s.csv:4"), "{cell}: {}", stderr(&output));
    }
    let whole = asked("808.2", "3555");
    assert!(status(&whole) != 2, "{}", stderr(&whole));
}

#[test]
fn a_label_of_another_steel_or_of_a_spent_plate_is_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("p.toml");
    for label in ["400 BHN", "Brinell 321", "boiler plate 1/2", "4140 HT", "cracked", "reject 1/2 in"] {
        fs::write(
            &path,
            format!("schema = \"thickset/plates/1\"\n[[plate]]\nlabel = \"{label}\"\nthickness = \"1/2 in\"\n"),
        )
        .expect("a file");
        let output = thickset(&format!("advise --load 308-168-match --at 200yd --plate-file {}", path.display()));
        assert_eq!(status(&output), 2, "{label}: {}", stdout(&output));
        assert!(stderr(&output).contains(label), "{label}: {}", stderr(&output));
    }
}

#[test]
fn a_distance_beside_a_tag_or_a_chart_is_refused() {
    for sheet in ["--tag", "--chart"] {
        let output = thickset(&format!("standoff --load 308-168-match --plate 3/8in --at 310yd {sheet}"));
        assert!(status(&output) == 2 && stderr(&output).contains("`--at` has no use here"), "{}", stderr(&output));
    }
}

#[test]
fn a_spreadsheet_tells_in_which_air_a_verdict_holds() {
    let line = "vet --load 308-180@100yd --plate 3/8in";
    let text = stdout(&thickset(line));
    let csv = stdout(&thickset(&format!("{line} --format csv")));
    assert!(text.contains("else borderline") && csv.contains("else borderline"), "{text}{csv}");
}
