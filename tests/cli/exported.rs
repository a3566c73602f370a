//! What a chronograph's own file says beside its readings, held against the load that is named.

use super::here::thickset;
use super::{status, stderr, stdout};
use std::fs;

/// Runs `chrono` on a file, with more options.
fn chrono(text: &str, more: &str) -> std::process::Output {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("export.csv");
    fs::write(&path, text).expect("a file");
    thickset(&format!("chrono {} {more}", path.display()))
}

const ROWS: &str = "Nr;V0 (m/s)\n1;807,1\n2;809,2\n3;805,0\n4;806,3\n";
const LOAD: &str = "--load 308-168-match --plate 1/2in --units si";

#[test]
fn a_line_that_speaks_of_another_load_is_refused_at_its_place() {
    for (line, said) in [
        ("Bullet weight;12,3 g", "10.89 g"),
        ("Geschoss: 150 gr", "10.89 g"),
        ("Cartridge;.300 Win Mag", ".308 Win"),
        ("Load;300wm-180", ".308 Win"),
        ("Name;.300 Win Mag", ".308 Win"),
        ("Range;.300 Win Mag", ".308 Win"),
        ("Name: 308, magnet sticks", "lead-core"),
        ("Shooter: Joe (tracer)", "lead-core"),
        ("Bullet;M855 green tip", "lead-core"),
        ("Profile Name: 308 Win 150gr", "10.89 g"),
        ("Notes: .300 Win Mag 190 gr", "10.89 g"),
        ("Series 1 - 223 55gr", "10.89 g"),
        ("Profile: 223 Rem 55", ".308 Win"),
        ("Bullet: 150", "10.89 g"),
        ("Projectile: copper solid 168 gr", "lead-core"),
    ] {
        let output = chrono(&format!("Session;2 May\n{line}\n{ROWS}"), LOAD);
        let told = stderr(&output);
        assert_eq!(status(&output), 2, "{line}: {told}");
        assert!(told.contains(&format!("`{line}` is of another load")) && told.contains(said), "{told}");
        // Without a load there is nothing that it speaks against.
        assert_eq!(status(&chrono(&format!("Session;2 May\n{line}\n{ROWS}"), "")), 0, "{line}");
    }
    for line in [
        "Bullet weight;10,9 g",
        "Bullet weight (gr);168",
        "Cartridge;308 Winchester",
        "Caliber;.308",
        "Load;308-168-match",
        "Load;my own",
        "Profile Name: 308 Win 168gr",
        "Charge: 42.5 gr",
    ] {
        let output = chrono(&format!("Session;2 May\n{line}\n{ROWS}"), LOAD);
        assert_eq!(status(&output), 0, "{line}: {}", stderr(&output));
        // What can't be held against the load is named.
        let told = stdout(&output).split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(told.contains("could be held against"), line == "Load;my own", "{told}");
    }
}

#[test]
fn a_line_that_states_the_unit_is_no_head_though_a_number_stands_below() {
    let text = "\"Einheit\";\"m/s\"\nGeschoss;10,9 g\nNr;V0\n1;807,1\n2;809,2\n3;805,0\n";
    let output = chrono(text, &format!("{LOAD} --format json"));
    assert_eq!(status(&output), 0, "{}", stderr(&output));
    let document: serde_json::Value = serde_json::from_str(&stdout(&output)).expect("JSON");
    assert_eq!(document["n"], 3);
    // It is used, and not told to be left out; what is not read is quoted, each line of it.
    let text = "Units,m/s\nDevice,drawn\nSession,2 May\nVelocity\n807.1\n809.2\n805.0\n";
    let output = chrono(text, &format!("{LOAD} --format json"));
    let document: serde_json::Value = serde_json::from_str(&stdout(&output)).expect("JSON");
    let lines = ["the line above the table, `Device,drawn`", "the line above the table, `Session,2 May`"];
    assert_eq!(document["left_out"], serde_json::json!(lines));
}

#[test]
fn a_column_or_a_row_below_that_speaks_of_another_load_is_refused_at_its_place() {
    let rows = |head: &str, cell: &str| format!("V0 (m/s);{head}\n807,1;{cell}\n809,2;{cell}\n805,0;{cell}\n");
    for (head, cell) in [("Bullet (gr)", "150"), ("Cartridge", ".300 Win Mag"), ("Load", "190 gr"), ("Bullet", "M855")]
    {
        let output = chrono(&rows(head, cell), LOAD);
        let told = stderr(&output);
        assert!(status(&output) == 2 && told.contains(&format!("`{head}: {cell}` is of another load")), "{told}");
        assert!(told.contains("export.csv:2:7"), "{told}");
        assert_eq!(status(&chrono(&rows(head, cell), "")), 0);
    }
    for (head, cell) in [("Bullet (gr)", "168"), ("Cartridge", ".308 Win"), ("Charge (gr)", "42,5")] {
        let output = chrono(&rows(head, cell), LOAD);
        assert_eq!(status(&output), 0, "{head}: {}", stderr(&output));
    }
    let below = |line: &str| format!("{ROWS}AVERAGE;806,9\n{line}\n");
    let output = chrono(&below("PROJECTILE WEIGHT(GRAINS);150"), LOAD);
    let told = stderr(&output);
    assert!(status(&output) == 2 && told.contains("of another load") && told.contains("export.csv:7:1"), "{told}");
    assert_eq!(status(&chrono(&below("PROJECTILE WEIGHT(GRAINS);168"), LOAD)), 0);
}

#[test]
fn the_coldest_temperature_that_is_told_is_the_powder_s_and_is_kept() {
    let rows = |head: &str, cells: [&str; 3]| {
        let [a, b, c] = cells;
        format!("V0 (m/s);{head}\n807,1;{a}\n809,2;{b}\n805,0;{c}\n")
    };
    for text in [
        rows("Temp (°C)", ["-20", "-20", "-19"]),
        rows("Temp", ["-20C", "-19C", "-20C"]),
        rows("Temperature", ["-4 F"; 3]),
        rows("Barrel temp (°C)", ["-20"; 3]),
        format!("Temp;-20 C\n{ROWS}"),
        format!("Powder temp: -20 C\n{}", rows("Temp (°C)", ["10"; 3])),
        format!("{ROWS}AVERAGE;806,9\nTemperature;-20 °C\n"),
    ] {
        let folder = tempfile::tempdir().expect("a folder");
        let saved = folder.path().join("own.toml");
        let output = chrono(&text, &format!("{LOAD} --format json --save {} --id own", saved.display()));
        assert_ne!(status(&output), 2, "{text}: {}", stderr(&output));
        let document: serde_json::Value = serde_json::from_str(&stdout(&output)).expect("JSON");
        let at = document["inputs"]["load"]["measured_at_k"].as_f64().expect("a temperature");
        assert!((at - 253.15).abs() < 1e-6, "{text}: {at}");
        assert!(document["remarks"].to_string().contains("the coldest that is told"), "{}", document["remarks"]);
        let record = fs::read_to_string(&saved).expect("the saved load");
        assert!(record.contains("measured-at = \"-4 F\""), "{record}");
    }
    let output = chrono(&format!("Temp: cold\n{ROWS}"), LOAD);
    let told = stdout(&output).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("`Temp: cold`, the powder taken to have 15 °C: give `measured-at`"), "{told}");
}

#[test]
fn metres_under_a_head_of_feet_are_refused_by_every_door() {
    let rows = "shot,velocity (fps)\n1,781\n2,779\n3,780\n";
    let own = "--bullet 17gr --bc 0.12 --drag G1 --firearm rimfire-rifle --construction jacketed-lead --plate 3/8in";
    let output = chrono(rows, own);
    assert!(status(&output) == 2 && stderr(&output).contains("is it 780 m/s?"), "{}", stderr(&output));
    let output = chrono(&rows.replace("fps", "m/s"), own);
    assert_ne!(status(&output), 2, "{}", stderr(&output));
    let folder = tempfile::tempdir().expect("a folder");
    let write = |name: &str, text: &str| fs::write(folder.path().join(name), text).expect("a file");
    write(
        "m.toml",
        "schema = \"thickset/course/1\"\nname = \"U\"\ndeclared = [\"d.csv\"]\n[[stage]]\nname = \"A\"\n\
         [[stage.target]]\nname = \"gong\"\nplate = \"3/8 in\"\nat = \"60 yd\"\n",
    );
    let head = "shooter,load,cartridge,name,firearm,construction,bullet (gr),velocity (fps),bc,drag\n";
    for (row, is_slip) in [
        ("a,,.44 Magnum,44 lever,pistol-carbine,jacketed lead,240,543,0.19,G1", true),
        ("a,,.454 Casull,own,handgun,jacketed lead,300,500,0.19,G1", true),
        ("a,,.17 HMR,own,rimfire rifle,jacketed lead,17,780,0.12,G1", true),
        ("a,,.44 Magnum,44 cowboy,pistol-carbine,lead,240,743,0.19,G1", false),
    ] {
        write("d.csv", &format!("{head}{row}\n"));
        let output = thickset(&format!("course {}", folder.path().join("m.toml").display()));
        assert_eq!(stderr(&output).contains("m/s?"), is_slip, "{row}: {}", stderr(&output));
    }
}

#[test]
fn a_decimal_comma_in_quotes_is_read_among_commas_where_it_is_no_thousands() {
    let output = chrono("shot,velocity (m/s)\n1,\"790,4\"\n2,\"791,25\"\n3,792\n", "--format json");
    assert_eq!(status(&output), 0, "{}", stderr(&output));
    let document: serde_json::Value = serde_json::from_str(&stdout(&output)).expect("JSON");
    assert!((document["mean_m_s"].as_f64().expect("a mean") - 791.216_667).abs() < 1e-5, "{}", document["mean_m_s"]);
    let output = chrono("shot,velocity (ft/s)\n1,\"2,655\"\n2,\"2,650\"\n3,\"2,660\"\n", "");
    assert!(status(&output) == 2 && stderr(&output).contains("without commas"), "{}", stderr(&output));
}

#[test]
fn help_for_two_strings_leads_to_one_that_works() {
    let (first, second) =
        ("shot,velocity (ft/s)\n1,2648\n2,2655\n3,2641\n", "shot,velocity (ft/s)\n1,2950\n2,2955\n3,2941\n");
    for text in [format!("{first}{second}"), "bib,velocity (ft/s)\n11,2648\n12,3020\n11,2655\n12,3030\n".into()] {
        let told = stderr(&chrono(&text, ""));
        assert!(told.contains("ask for each alone") && !told.contains("column `bib`"), "{told}");
    }
    assert_eq!((status(&chrono(first, "")), status(&chrono(second, ""))), (0, 0));
}

#[test]
fn a_plain_column_of_temperatures_is_the_powder_s_and_any_other_is_told_not_to_be() {
    let rows = |head: &str, cells: [&str; 3]| {
        let [a, b, c] = cells;
        format!("Nr;V0 (m/s);{head}\n1;807,1;{a}\n2;809,2;{b}\n3;805,0;{c}\n")
    };
    let joined = |text: &str, more: &str| stdout(&chrono(text, more)).split_whitespace().collect::<Vec<_>>().join(" ");
    let warm = rows("Temp (°C)", ["31", "31", "31"]);
    let text = joined(&warm, LOAD);
    assert!(text.contains("powder 31 °C") && !text.contains("olumn `Temp"), "{text}");
    let full = joined(&warm, &format!("{LOAD} --full"));
    assert!(full.contains("temperature, 31 °C, is that of the column `Temp (°C)`"), "{full}");
    let measured = |text: &str, more: &str| {
        let document: serde_json::Value =
            serde_json::from_str(&stdout(&chrono(text, &format!("{more} --format json")))).expect("JSON");
        document["inputs"]["load"]["measured_at_k"].as_f64().expect("a temperature")
    };
    assert!((measured(&warm, LOAD) - 304.15).abs() < 1e-6);
    assert!((measured(&warm, &format!("{LOAD} --measured-at 10C")) - 283.15).abs() < 1e-6);
    // Without a unit it is read as the colder.
    assert!((measured(&rows("Temp", ["31"; 3]), LOAD) - 272.594_444).abs() < 1e-3);
    for other in [rows("Temp (°C)", ["31 warm", "31", "31"]), rows("Barrel temp (°C)", ["31"; 3])] {
        let text = joined(&other, LOAD);
        assert!(
            text.contains("emp") && text.contains("`, the powder taken to have 15 °C: give `measured-at`"),
            "{text}"
        );
        assert!(measured(&other, LOAD) < 288.2);
    }
    // Of the same string, shot warm, nothing is added for a hot day: it may be shot no farther than one taken as cold.
    let nearest = |text: &str| {
        let output = chrono(text, &format!("{LOAD} --format json"));
        serde_json::from_str::<serde_json::Value>(&stdout(&output)).expect("JSON")["nearest_m"]
            .as_f64()
            .expect("a distance")
    };
    assert!(nearest(&warm) <= nearest(ROWS.split_once(";806").map_or(ROWS, |(rows, _)| rows.trim_end_matches("\n4"))));
}

#[test]
fn readings_taken_far_out_are_refused_however_a_file_says_so() {
    for text in [
        format!("at 100 yd\n{ROWS}"),
        format!("@100yd\n{ROWS}"),
        format!("Screens at 50 ft\n{ROWS}"),
        format!("downrange\n{ROWS}"),
        format!("Distance: 100,0 m\n{ROWS}"),
        format!("Distance: 10 ft to 100 yd\n{ROWS}"),
        ROWS.replace("V0 (m/s)", "Velocity@100 (m/s)"),
        "Nr;V0 (m/s);Distanz (m)\n1;807,1;91,4\n2;809,2;91,4\n3;805,0;91,4\n".into(),
        "Nr;V0 (m/s);Range (m)\n1;807,1;91\n2;809,2;91\n3;805,0;91\n".into(),
        "# at 100 yd\n2648 fps\n2655 fps\n2641 fps\n".into(),
        "Nr;V0 (m/s);Notes\n1;807,1;at 50 yd\n2;809,2;\n3;805,0;\n".into(),
    ] {
        let output = chrono(&text, LOAD);
        assert_eq!(status(&output), 2, "{text}: {}", stdout(&output));
        assert!(stderr(&output).contains("muzzle"), "{text}: {}", stderr(&output));
    }
    for near in ["Chrono at 3 m", "Distance: 10 ft", "at the range", "Distance: bench 4", "Range: Hollow Creek"] {
        let output = chrono(&format!("{near}\n{ROWS}"), LOAD);
        assert_eq!(status(&output), 0, "{near}: {}", stderr(&output));
    }
}

#[test]
fn shots_that_do_not_count_stand_twice_or_know_of_a_faster_mean_are_refused_at_their_row() {
    let marked = |head: &str, cell: &str| format!("Nr,Speed (fps),{head}\n1,2848,\n2,2862,\n3,2841,\n4,2850,{cell}\n");
    for (head, cell) in [("Status", "deleted"), ("Deleted", "x"), ("Included", "no"), ("Notes", "Deleted")] {
        let told = stderr(&chrono(&marked(head, cell), ""));
        let words = format!("`{cell}` says that the shot does not count");
        assert!(told.contains(&words) && told.contains("row 5"), "{head}: {told}");
    }
    for (head, cell) in [("Status", "ok"), ("Deleted", "no"), ("Included", "yes"), ("Notes", "a good one")] {
        assert_eq!(status(&chrono(&marked(head, cell), "")), 0, "{head} {cell}");
    }
    let timed = |last: &str| format!("Time,Speed (fps)\n10:01:00,2648\n10:02:00,2655\n10:03:00,2641\n{last}\n");
    assert!(stderr(&chrono(&timed("10:03:00,2641"), "")).contains("the same row stands there twice"));
    assert_eq!(status(&chrono(&timed("10:03:00,2650"), "")), 0);
    let mean = |number: &str| stderr(&chrono(&format!("{ROWS}Mittelwert;{number}\n"), ""));
    assert!(mean("850,1").contains("faster mean"), "{}", mean("850,1"));
    assert_eq!(mean("806,9"), "");
}

#[test]
fn a_temperature_that_can_not_be_read_is_refused_and_one_colder_than_was_given_is_told() {
    let day = |cell: &str| format!("Nr,Speed (fps),Temp (F)\n1,2648,{cell}\n2,2655,20\n3,2641,20\n4,2650,\n");
    for cell in ["2O", "-200"] {
        let told = stderr(&chrono(&day(cell), ""));
        assert!(told.contains(&format!("`{cell}` is no temperature of a day")), "{told}");
    }
    let load = "--load 308-168-match --plate 3/8in";
    for head in ["Ambient (F)", "Ambient", "T (°F)"] {
        let page = stdout(&chrono(&day("20").replace("Temp (F)", head), &format!("{load} --format json")));
        assert!(page.contains("\"measured_at_k\": 266.483333"), "{head}: {page}");
    }
    let told = stdout(&chrono(&day("20"), &format!("{load} --measured-at 70F")));
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    let words = "The powder is taken to have 70 °F, as given, though the column `Temp (F)` says 20 °F.";
    assert!(told.contains(words), "{told}");
    assert!(!stdout(&chrono(&day("20"), &format!("{load} --measured-at 20F"))).contains("as given"));
}
