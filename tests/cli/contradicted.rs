//! Names, numbers and options that say something else than what would be judged: refused at every door.

use super::here::thickset;
use super::{status, stderr, stdout};
use std::fs;

const LOAD: &str = "--bullet 168gr --velocity 2650fps --bc 0.223 --drag G7 --construction jacketed-lead";

#[test]
fn a_load_whose_name_or_source_speaks_of_no_lead_core_is_judged_as_none_by_no_door() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("l.toml");
    for name in [
        "SS109 penetrator",
        "AP surplus",
        "tracer",
        "steel core",
        "bi-metal jacket",
        "solid copper",
        "7N6",
        "FMJ steel",
        "lead-free",
    ] {
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

#[test]
fn a_load_is_not_called_by_another_mass_or_cartridge_than_its_numbers_have() {
    let own = "--velocity 2700fps --bc 0.27 --drag G1 --construction jacketed-lead --firearm rifle";
    for (load, said) in [
        ("--bullet 55gr --diameter .224in --name \"300 Win Mag 215 gr\"", "says 215 gr"),
        ("--bullet 55gr --diameter .224in --name \"300 Win Mag\"", "does not fire a bullet of 0.224 in"),
        ("--bullet 180gr --name \"223 Rem\"", "is none of .223 Rem"),
    ] {
        for line in [format!("vet {load} {own} --at 100yd --plate 3/8in"), format!("advise {load} {own} --at 100yd")] {
            let output = thickset(&line);
            assert!(status(&output) == 2 && stderr(&output).contains(said), "{line}: {}", stderr(&output));
        }
    }
}

#[test]
fn sums_and_lines_that_speak_of_other_shots_are_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("c.csv");
    let rows = "shot,velocity (fps)\n1,2648\n2,2655\n3,2641\n4,2650\n5,2662\n";
    let told = |text: String| {
        fs::write(&path, text).expect("a file");
        let output = thickset(&format!("chrono {} --load 308-168-match --plate 3/8in", path.display()));
        (status(&output), stderr(&output))
    };
    for line in ["Average,2951", "SD,80", "Spread,210", "Shots,10"] {
        let (code, text) = told(format!("{rows}{line}\n"));
        assert!(code == 2 && text.contains("this row tells of"), "{line}: {text}");
    }
    assert_eq!(told(format!("{rows}Average,2651.2\nSD,7.9\nSpread,21\nShots,5\n")).0, 0);
    let (code, text) = told("2648 fps\n2655 fps\n2641 fps\nAverage 2951 fps\n".into());
    assert!(code == 2 && text.contains("faster mean"), "{text}");
    // A mean of other shots is no shot.
    let three = "shot,velocity (fps)\n1,2648\n2,2655\n3,2641\n";
    assert_eq!(told(format!("{three}3-shot average,2648\n")).0, 0);
    assert_eq!(told(format!("{three}String 1 mean,2660\n")).0, 2);
    assert_eq!(told(format!("Shooter,Bob Steel\nNote,43.5 gr and 168 hollow point\n{rows}")).0, 0);
    // The same above the readings.
    for line in ["Average,2951", "SD,80", "Spread,210", "Shots,10", "Max,3162"] {
        assert_eq!(told(format!("{line}\n{rows}")).0, 2, "{line}");
    }
    let noted = |note: &str| rows.replace("(fps)", "(fps),Notes").replace("2650\n", &format!("2650,{note}\n"));
    let noted = |note: &str| {
        ["2648", "2655", "2641", "2662"]
            .iter()
            .fold(noted(note), |text, shot| text.replace(&format!("{shot}\n"), &format!("{shot},\n")))
    };
    assert_eq!((told(noted("steel core")).0, told(noted("windy")).0), (2, 0));
    for line in [
        "Load,308-168-copper",
        "Measured at,100 yd",
        "Grains,175",
        "Load,308-175-match",
        "Bullet,solid",
        "Distance to chronograph,100 yd",
    ] {
        assert_eq!(told(format!("{line}\n{rows}")).0, 2, "{line}");
    }
    let far = rows.replace("velocity (fps)", "velocity (fps),distance (yd)").replace("2648", "2648,100");
    let far =
        ["2655", "2641", "2650", "2662"].iter().fold(far, |text, shot| text.replace(shot, &format!("{shot},100")));
    let (code, text) = told(far);
    assert!(code == 2 && text.contains("not at the muzzle"), "{text}");
}

#[test]
fn a_face_leans_too_far_over_in_some_of_the_air_where_it_does_so_on_a_day_of_it() {
    for (line, day) in [
        ("--load 12ga-bird-4@300yd --plate 1/2in --tilt 20deg", "--altitude 0ft --temperature 10F"),
        ("--load 762-147@600yd --plate 1/2in --tilt 29.55deg", "--altitude 0ft --temperature -10F"),
    ] {
        let line = format!("vet --condition sound {line}");
        let on_the_day = status(&thickset(&format!("{line} {day}")));
        let in_all = status(&thickset(&format!("{line} --altitude 0ft..6000ft --temperature -10F..100F")));
        assert!(on_the_day != 0 && in_all != 0, "{line}");
    }
}

#[test]
fn a_distance_that_a_load_does_not_reach_is_no_yes_in_a_spreadsheet() {
    let line = "standoff --load 12ga-buck-00 --at 900yd --plate 3/8in --condition sound";
    let sheet = stdout(&thickset(&format!("{line} --format csv")));
    assert!(sheet.contains(",900,unsuitable,") && !sheet.contains("suits,"), "{sheet}");
    let page = stdout(&thickset(line));
    assert!(page.starts_with("Out of reach: "), "{page}");
    let chart = stdout(&thickset(&format!("{line} --load 308-150")));
    assert!(chart.contains("out of reach"), "{chart}");
}

#[test]
fn plates_of_ones_own_bound_what_a_product_is_made_in() {
    let of = |name: &str| format!("--shop examples/shop.toml --product \"{name}\" --plate-file examples/plates.toml");
    for line in ["advise --load 9mm-115 --at 15yd", "standoff --load 9mm-115"] {
        let output = thickset(&format!("{line} {}", of("Gong 12")));
        let told = stderr(&output);
        assert!(status(&output) == 2 && told.contains("made in none of the plates that were given"), "{line}: {told}");
    }
}

#[test]
fn ones_own_spread_is_none_of_any_ammunition() {
    let line = "vet --any \".270 Win\" --at 222yd --plate 1/2in --condition sound --tilt 15deg";
    for own in
        ["--velocity-sd 1fps", "--bc-sd 1%", "--measured-at 95F", "--velocity-temperature-slope \"0 ft/s per F\""]
    {
        let output = thickset(&format!("{line} {own}"));
        assert!(status(&output) == 2 && stderr(&output).contains("any ammunition is asked for"), "{own}");
    }
}

#[test]
fn what_stands_beside_a_string_counts_alike_wherever_it_stands() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("s.csv");
    let asked = |text: &str, more: &str| {
        fs::write(&path, text).expect("a file");
        thickset(&format!("chrono {} --load 308-168-match --plate 3/8in --condition sound {more}", path.display()))
    };
    let (head, shots) = ("Shot,Speed (fps)\n", "1,2648\n2,2655\n3,2641\n4,2650\n5,2662\n");
    let list = "2648 fps\n2655 fps\n2641 fps\n2650 fps\n2662 fps\n";
    let table = |above: &str, below: &str| format!("{above}{head}{shots}{below}");
    for line in [
        "Bullet: 200 gr",
        "Distance: 100 yd",
        "Velocities at 25 m",
        "Chrono at 15 m",
        "Instrument: downrange, 100 yd",
        "Core: steel",
        "Mean: 2900",
        "Peak: 2900",
        "Average (m/s): 853",
        "SD: 55",
        "ES 200",
        "Max 2900 fps",
        "Shots: 20",
        "Units: m/s",
        "Cartridge: 300 Win Mag",
        "Caliber: 6.5 mm",
        "Bullet diameter: 0.338 in",
    ] {
        for text in [
            table(&format!("{line}\n"), ""),
            table(&format!("# {line}\n"), ""),
            table("", &format!("Average,2651.2\n{line}\n")),
            format!("# {line}\n{list}"),
            format!("{list}# {line}\n"),
        ] {
            let output = asked(&text, "");
            assert_eq!(status(&output), 2, "{text}: {}", stdout(&output));
            assert!(stderr(&output).contains("help"), "{text}: {}", stderr(&output));
        }
    }
    for line in [
        "shot in May",
        "Range 4, cold hands",
        "Bullet: 168 gr",
        "Mean: 2651 fps",
        "Chrono at 10 ft",
        "Caliber: 7.62 mm",
        "Wind 3 m/s",
    ] {
        for text in [table(&format!("# {line}\n"), ""), format!("# {line}\n{list}"), format!("{list}# {line}\n")] {
            let output = asked(&text, "");
            assert_ne!(status(&output), 2, "{text}: {}", stderr(&output));
        }
    }
    // A comment in a table is told beside the other lines that are left out; a cold one counts.
    let output = stdout(&asked(&table("Session: 2 May\n# lane 4\n", ""), ""));
    assert!(output.contains("# lane 4") && output.contains("Session"), "{output}");
    let cold =
        [table("# temp 10F\n", ""), format!("# temp 10F\n{list}"), table("Temp 10 degrees F, humidity 40%\n", "")];
    for text in cold {
        let output = stdout(&asked(&text, ""));
        assert!(output.contains("powder 10 °F"), "{text}: {output}");
    }
    for name in ["Sensor temp 95F", "Battery temp 40C", "Target temp: 100F", "Temp: 95F in the chronograph"] {
        let output = stdout(&asked(&table(&format!("{name}\n"), ""), ""));
        assert!(output.contains("powder 59 °F"), "{name}: {output}");
    }
}

#[test]
fn a_reading_in_the_cell_beside_its_own_is_not_lost_where_it_is_the_fastest() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("s.csv");
    let asked = |row: &str| {
        fs::write(&path, format!("Shot,Speed (fps),Note\n1,2648,\n2,2655,\n{row}\n4,2641,\n")).expect("a file");
        thickset(&format!("chrono {}", path.display()))
    };
    let output = asked("3,,2901");
    assert!(status(&output) == 2 && stderr(&output).contains("not read"), "{}", stderr(&output));
    let is_missed = |row: &str| {
        let text = stdout(&asked(row)).split_whitespace().collect::<Vec<_>>().join(" ");
        text.to_lowercase().contains("shot 3, which is not in the table")
    };
    assert!(is_missed("5,2650,") && !is_missed("3,ERR,") && !is_missed("3,2650,"));
    let output = asked("3,2650,chrono at 100 yd");
    assert!(status(&output) == 2 && stderr(&output).contains("not at the muzzle"), "{}", stderr(&output));
    for row in ["3,,", "3,,no reading", "3,ERR,12"] {
        assert_ne!(status(&asked(row)), 2, "{row}: {}", stderr(&asked(row)));
    }
}

#[test]
fn a_reading_behind_a_comment_sign_is_refused_however_it_is_written() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("s.txt");
    let asked = |comment: &str| {
        fs::write(&path, format!("2648 fps\n2655 fps\n{comment}\n2641 fps\n")).expect("a file");
        thickset(&format!("chrono {}", path.display()))
    };
    for comment in ["#2901fps", "#3 2901 fps", "# flyer: 2901 fps", "# 3: 2901", "2650 fps # was 2901 fps"] {
        let output = asked(comment);
        assert_eq!(status(&output), 2, "{comment}: {}", stdout(&output));
        assert!(stderr(&output).contains("behind a `#`"), "{comment}: {}", stderr(&output));
    }
    for comment in
        ["# warm", "2650 fps # hot", "2650 fps # 168 gr", "# lot 12, 308", "# 3 min pause", "# ES so far 14 fps"]
    {
        assert_ne!(status(&asked(comment)), 2, "{comment}: {}", stderr(&asked(comment)));
    }
}

#[test]
fn a_column_of_a_string_that_speaks_of_the_bullet_the_barrel_or_another_speed_is_not_left_out() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("s.csv");
    let asked = |titles: &str, cells: &str, more: &str| {
        let row = |(i, speed): (usize, &u32)| format!("{},{speed},{cells}\n", i + 1);
        let rows = [2648, 2655, 2641, 2650].iter().enumerate().map(row).collect::<Vec<_>>().concat();
        fs::write(&path, format!("Shot,Speed (fps),{titles}\n{rows}")).expect("a file");
        thickset(&format!("chrono {} --load 308-168-match --plate 3/8in {more}", path.display()))
    };
    for (titles, cells, more) in [
        ("Type", "steel core", ""),
        ("Type", "armor piercing", ""),
        ("Construction", "monolithic copper", ""),
        ("Core", "steel", ""),
        ("Speed at muzzle (fps)", "2748", ""),
        ("Muzzle velocity", "2748", ""),
        ("Corrected velocity (fps)", "2748", ""),
        ("Muzzle (fps)", "2748", ""),
        ("High (fps)", "2748", ""),
        ("Est. muzzle", "2748", ""),
        ("KE (ft-lb)", "3450", ""),
        ("Energy (J)", "4680", ""),
        ("Power factor", "583", ""),
        ("Barrel length", "16 in", "--barrel 24in"),
    ] {
        let output = asked(titles, cells, more);
        assert_eq!(status(&output), 2, "{titles} {cells}: {}", stdout(&output));
        assert!(stderr(&output).contains("help"), "{}", stderr(&output));
    }
    for (titles, cells, more) in [
        ("Type", "match", ""),
        ("KE (ft-lb)", "2620", ""),
        ("Energy (J)", "3552", ""),
        ("Energy", "3552", ""),
        ("Power factor", "445.3", ""),
        ("Muzzle energy (ft-lb)", "2620", ""),
        ("Speed (m/s)", "807", "--column \"Speed (fps)\""),
        ("Average speed (fps)", "2648", ""),
        ("Hi speed (fps)", "2655", ""),
        ("Impact velocity (fps)", "1990", ""),
        ("Barrel length", "24 in", "--barrel 24in"),
        ("Barrel", "16 in", ""),
    ] {
        let output = asked(titles, cells, more);
        assert_ne!(status(&output), 2, "{titles} {cells}: {}", stderr(&output));
    }
}
