//! What once was a yes about something that nobody judged, or hid a no behind one word or one line too many.

use super::course_signs::joined;
use super::here::{json, thickset};
use super::{status, stderr, stdout};
use std::fs;

fn headline(line: &str) -> String {
    stdout(&thickset(line)).lines().take(3).collect::<Vec<_>>().join(" ")
}

#[test]
fn the_headline_names_every_load_that_no_plate_takes() {
    let line = "advise --load 556-62-steel@100yd --load 300wm-180@50yd --load 22lr-std-40@25yd";
    let text = headline(line);
    assert_eq!(status(&thickset(line)), 1, "{text}");
    for name in ["62 gr", "300 Win Mag"] {
        assert!(text.contains(name), "{name}: {text}");
    }
}

#[test]
fn the_rest_is_judged_by_what_vet_says_of_it() {
    let line = "advise --any 5.56@100yd --any 9mm@15yd";
    let document = json(line);
    assert_ne!(status(&thickset(line)), 0);
    if let Some(plate) = document["for_the_rest"]["label"].as_str() {
        let excluded: Vec<String> =
            document["excluded"].as_array().expect("a list").iter().map(|e| e["line"].to_string()).collect();
        for (index, asked) in document["inputs"]["lines"].as_array().expect("lines").iter().enumerate() {
            if excluded.contains(&index.to_string()) {
                continue;
            }
            let (id, metres) = (asked["load"]["id"].as_str().expect("an id"), asked["distance_m"].as_f64().expect("m"));
            let vetted = thickset(&format!("vet --load {id} --at {metres}m --plate \"{plate}\" --condition sound"));
            // Loads of an envelope have no name in the list.
            if status(&vetted) != 2 {
                assert_eq!(status(&vetted), 0, "{id} on {plate}: {}", stdout(&vetted));
            }
        }
    }
}

#[test]
fn a_part_of_the_air_that_was_not_given_is_listed_and_judged_at_its_bad_end() {
    let high = "advise --load 308-168-match@100yd --altitude 6000ft";
    let both = json(&format!("{high} --temperature 100F"));
    assert_eq!(both["recommended"]["label"], "1/2 in");
    let text = headline(high);
    let holds = json(high)["holds_for"].to_string();
    assert!(holds.contains("temperature"), "{holds}");
    assert!(text.contains("1/2 in") && text.contains("°F"), "{text}");
}

#[test]
fn a_numbered_failure_stands_before_one_without_a_number() {
    let text = headline("vet --load 300wm-180 --at 400yd --plate 1/4in --tilt -5deg");
    assert!(text.to_lowercase().contains("energy") || text.contains("demand"), "{text}");
}

#[test]
fn any_ammunition_of_a_cartridge_is_more_than_the_loads_listed() {
    let document = json("standoff --any .243 --plate 1/2in");
    let loads = document["rows"][0]["loads"].as_u64().expect("a count");
    assert!(loads >= 4, "the envelope of three and what is listed: {loads}");
    for line in ["vet --any .308@300yd --plate 1/2in", "vet --any 9mm@15yd --plate 3/8in"] {
        assert_ne!(status(&thickset(line)), 2, "{line}: {}", stderr(&thickset(line)));
    }
}

#[test]
fn any_ammunition_names_what_never_suits_steel_and_is_borderline_until_a_construction_is_named() {
    for (cartridge, apart) in
        [(".308 Win@300yd", "solid copper"), ("9mm@25yd", "steel-jacketed"), (".30-06@300yd", "armour-piercing")]
    {
        let line = format!("advise --any \"{cartridge}\" --altitude 500ft --temperature 20F..90F --tilt 15deg");
        assert_eq!(status(&thickset(&line)), 3, "{line}");
        assert!(headline(&line).contains(apart), "{line}: {}", headline(&line));
        let lead = format!("{line} --of jacketed-lead");
        assert_eq!(status(&thickset(&lead)), 0, "{lead}: {}", headline(&lead));
        assert!(headline(&lead).contains("any lead-core"), "{}", headline(&lead));
    }
    for line in
        ["vet --any .308@300yd --plate 1/2in --of tracer", "vet --load 308-168-match@300yd --plate 1/2in --of lead"]
    {
        assert_eq!(status(&thickset(line)), 2, "{line}");
        assert!(stderr(&thickset(line)).contains("--of"), "{line}: {}", stderr(&thickset(line)));
    }
}

#[test]
fn what_would_suit_holds_for_every_load_that_a_cartridge_stands_for() {
    for of in ["5.56", "12 ga", ".308 Win", ".223", ".30-06", "7.62x39", ".50 BMG"] {
        for plate in ["3/8 in", "3/4 in"] {
            let document = json(&format!("vet --any \"{of}\" --at 60yd --plate \"{plate}\""));
            let ways = &document["would_suit"];
            if let Some(metres) = ways["distance_m"].as_f64() {
                let there = format!("vet --any \"{of}\" --at {}m --plate \"{plate}\"", metres + 0.01);
                assert_eq!(status(&thickset(&there)), 0, "{there}");
            }
            if let Some(thicker) = ways["plate"]["label"].as_str() {
                let there = format!("vet --any \"{of}\" --at 60yd --plate \"{thicker}\"");
                assert_eq!(status(&thickset(&there)), 0, "{there}");
            }
            assert!(ways["muzzle_velocity_m_s"].is_null(), "{of} on {plate}: one bullet's speed is not another's");
        }
    }
}

#[test]
fn a_cartridge_of_the_user_s_own_without_an_envelope_is_borderline_at_best_and_says_how_many() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("own.toml");
    let load = |id: &str| {
        format!(
            "[[load]]\nid = \"{id}\"\nname = \"own {id}\"\ncartridge = \"6.5 Example\"\nfirearm = \"rifle\"\n\
             construction = \"jacketed-lead\"\nbullet = \"140 gr\"\nmuzzle-velocity = \"2700 ft/s\"\ndrag = \"G7\"\n\
             bc = \"0.30\"\nsource = \"invented\"\n"
        )
    };
    fs::write(&path, format!("schema = \"thickset/loads/1\"\n{}{}", load("a"), load("b"))).expect("a file");
    let line = format!("advise --any \"6.5 Example@300yd\" --load-file {}", path.display());
    assert_eq!(status(&thickset(&line)), 3, "{}", stderr(&thickset(&line)));
    assert!(headline(&line).contains("2 loads listed"), "{}", headline(&line));
}

#[test]
fn unknown_surplus_gets_one_answer_by_name_or_by_numbers_and_says_why() {
    let numbers = "--bullet 123gr --velocity 2350fps --bc 0.30 --drag G1 --diameter 0.311in";
    for line in
        [format!("vet {numbers} --at 200yd --plate 3/8in"), "vet --load 762x39-123 --at 200yd --plate 3/8in".to_owned()]
    {
        let output = thickset(&line);
        assert_ne!(status(&output), 0, "{line}");
        if status(&output) != 2 {
            let text = stdout(&output);
            assert!(text.contains("construction") || text.contains("magnet"), "{line}: {text}");
        }
    }
}

#[test]
fn advise_names_how_near_it_may_be_shot_and_how_little_is_to_spare() {
    let text = headline("advise --load 308-168-match --at 100yd --altitude 500ft --temperature 20F..90F --tilt 15deg");
    assert!(text.contains("100 yd") && text.contains("to spare"), "{text}");
    assert!(text.to_lowercase().contains("nearer than"), "{text}");
}

#[test]
fn an_inquiry_s_target_or_load_that_no_shot_names_is_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("inquiry.toml");
    let target = |name: &str| format!("[[target]]\nname = \"{name}\"\nstand = {{ face = \"12in\" }}\n");
    let text = format!(
        "schema = \"thickset/inquiry/1\"\n{}{}[[shot]]\nload = \"308-168-match\"\nat = [\"100 yd\"]\ntarget = [\"a\"]\n",
        target("a"),
        target("b")
    );
    fs::write(&path, text).expect("a file");
    let output = thickset(&format!("advise {}", path.display()));
    assert_eq!(status(&output), 2, "{}", stdout(&output));
    assert!(stderr(&output).contains('b'), "{}", stderr(&output));
}

#[test]
fn loads_of_an_inquiry_and_of_a_file_beside_it_both_hold_and_no_name_is_given_twice() {
    let folder = tempfile::tempdir().expect("a folder");
    let load = |id: &str, speed: u32| {
        format!(
            "[[load]]\nid = \"{id}\"\nfirearm = \"rifle\"\nbullet = \"168 gr\"\nmuzzle-velocity = \"{speed} ft/s\"\n\
             bc = \"0.25\"\ndrag = \"G7\"\nconstruction = \"jacketed-lead\"\n"
        )
    };
    let file = |name: &str, schema: &str, text: &str| {
        let path = folder.path().join(name);
        fs::write(&path, format!("schema = \"thickset/{schema}/1\"\n{text}")).expect("a file");
        path.display().to_string()
    };
    let asks = |id: &str, speed: u32| {
        let text = format!("{}[[shot]]\nload = \"{id}\"\nat = [\"200 yd\"]\n", load(id, speed));
        file("inquiry.toml", "inquiry", &text)
    };
    let other = file("other.toml", "loads", &load("other", 2200));
    let same = file("same.toml", "loads", &load("hot", 3200));
    let slower = file("slower.toml", "loads", &load("hot", 2200));
    for id in ["hot", "308-168-match"] {
        let inquiry = asks(id, 3200);
        let alone = thickset(&format!("advise {inquiry}"));
        for beside in [&other, &same] {
            let output = thickset(&format!("advise {inquiry} --load-file {beside}"));
            assert_eq!(status(&output), status(&alone), "{id} {beside}: {}", stderr(&output));
            assert_eq!(stdout(&output).lines().next(), stdout(&alone).lines().next(), "{id} {beside}");
        }
    }
    let refused = |line: &str| {
        let output = thickset(line);
        assert_eq!(status(&output), 2, "{line}: {}", stdout(&output));
        assert!(stderr(&output).contains("`hot`") && stderr(&output).contains("help"), "{}", stderr(&output));
    };
    refused(&format!("advise {} --load-file {slower}", asks("hot", 3200)));
    refused(&format!("vet --load hot --at 200yd --plate 3/8in --load-file {same} --load-file {slower}"));
}

#[test]
fn a_summary_row_of_a_chronograph_is_no_shot() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("string.csv");
    fs::write(&path, "Shot,Velocity (ft/s)\n1,2648\n2,2655\n3,2641\nAverage,2648\nSD,7\n").expect("a file");
    let document = json(&format!("chrono {}", path.display()));
    assert_eq!(document["n"], 3, "{document}");
    assert!(document["left_out"].to_string().contains("Average"), "{}", document["left_out"]);
}

#[test]
fn a_saved_string_keeps_no_barrel_that_was_not_given() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("own.toml");
    let line = format!("chrono 2648fps 2655fps 2641fps --load 308-168-match --id mine --save {}", path.display());
    assert_eq!(status(&thickset(&line)), 0, "{}", stderr(&thickset(&line)));
    let saved = fs::read_to_string(&path).expect("the file");
    assert!(!saved.contains("barrel"), "{saved}");
    let output = thickset(&format!("strike --load mine --load-file {} --barrel 16in", path.display()));
    assert_eq!(status(&output), 2, "{}", stdout(&output));
}

#[test]
fn an_id_that_can_t_be_read_back_saves_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    for id in ["a b", "a@b", ""] {
        let path = folder.path().join("own.toml");
        let output = super::thickset(&format!(
            "chrono 2648fps 2655fps 2641fps --load 308-168-match --id \"{id}\" --save {}",
            path.display()
        ));
        assert_eq!(status(&output), 2, "{id}");
        assert!(!path.exists(), "{id}");
    }
}

#[test]
fn nothing_infinite_is_ever_printed() {
    for line in [
        "vet --load 308-168-match@100yd --plate 3/8in --kind falling --base 1e308yd",
        "vet --load 308-168-match@100yd --plate 3/8in --velocity-sd 1e308fps",
        "strike --load 308-168-match --at 1e308yd",
    ] {
        let output = thickset(line);
        assert_eq!(status(&output), 2, "{line}: {}", stdout(&output));
        let text = stdout(&output) + &stderr(&output);
        assert!(!text.contains("inf ") && !text.contains("NaN"), "{line}: {text}");
    }
}

#[test]
fn a_drag_table_that_ends_below_the_muzzle_s_mach_is_refused_and_a_byte_order_mark_is_read() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("drag.csv");
    let described = |path: &std::path::Path| {
        format!(
            "strike --bullet 168gr --velocity 2650fps --diameter 0.308in --construction jacketed-lead --drag-table {}",
            path.display()
        )
    };
    fs::write(&path, "mach,cd\n0,0.23\n0.5,0.2\n1.0,0.35\n").expect("a file");
    let output = thickset(&described(&path));
    assert_eq!(status(&output), 2, "{}", stdout(&output));
    fs::write(&path, "\u{feff}mach,cd\n0,0.23\n0.5,0.2\n1.0,0.35\n2.0,0.3\n3.0,0.25\n").expect("a file");
    let output = thickset(&described(&path));
    assert_eq!(status(&output), 0, "{}", stderr(&output));
}

fn with_file(name: &str, text: &str, line: impl Fn(&str) -> String) -> std::process::Output {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join(name);
    fs::write(&path, text).expect("a file");
    thickset(&line(&path.display().to_string()))
}

fn judged_on_drawing(name: &str, text: &str) -> std::process::Output {
    with_file(name, text, |path| format!("vet --load 9mm-124 --at 15yd --plate 1/2in --outline {path}"))
}

/// A square plate of 12 in with more entities.
fn dxf(more: &str, blocks: &str) -> String {
    format!(
        "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n1\n0\nENDSEC\n0\nSECTION\n2\nBLOCKS\n{blocks}0\nENDSEC\n0\nSECTION\n2\n\
         ENTITIES\n0\nLWPOLYLINE\n8\nCUT\n90\n4\n70\n1\n10\n0\n20\n0\n10\n12\n20\n0\n10\n12\n20\n12\n10\n0\n20\n12\n\
         {more}0\nENDSEC\n0\nEOF\n"
    )
}

#[test]
fn a_drawing_that_breaks_off_is_refused_wherever_it_does() {
    let whole = dxf("0\nCIRCLE\n8\nCUT\n10\n6\n20\n6\n40\n4\n", "");
    assert_ne!(status(&judged_on_drawing("whole.dxf", &whole)), 2);
    for share in 1..40 {
        let cut = &whole[..whole.len() * share / 40];
        assert_eq!(status(&judged_on_drawing("cut.dxf", cut)), 2, "{share}/40: {cut}");
    }
}

#[test]
fn what_may_be_an_edge_to_cut_and_can_t_be_read_is_refused_by_name() {
    let block =
        "0\nBLOCK\n8\n0\n2\nWINDOW\n70\n0\n10\n0\n20\n0\n0\nCIRCLE\n8\nCUT\n10\n6\n20\n6\n40\n4\n0\nENDBLK\n8\n0\n";
    let insert = |more: &str| format!("0\nINSERT\n8\nCUT\n2\nWINDOW\n10\n0\n20\n0\n{more}");
    for (more, blocks, named) in [
        ("0\nREGION\n8\nCUT\n".to_owned(), "", "REGION"),
        ("0\nMLINE\n8\nCUT\n".to_owned(), "", "MLINE"),
        ("0\n3DSOLID\n8\nCUT\n".to_owned(), "", "3DSOLID"),
        ("0\nCIRCLE\n8\nCUT\n10\n6\n20\n6\n40\n4\n210\n1\n220\n0\n230\n0\n".to_owned(), "", "CIRCLE"),
        (insert(""), "", "WINDOW"),
        (insert("41\n0\n42\n0\n"), block, "WINDOW"),
        (insert(""), &block.replace("70\n0", "70\n4"), "WINDOW"),
    ] {
        let output = judged_on_drawing("part.dxf", &dxf(&more, blocks));
        assert_eq!(status(&output), 2, "{more}");
        assert!(stderr(&output).contains(named), "{named}: {}", stderr(&output));
    }
    let svg = |inside: &str| format!("<svg width=\"12in\" height=\"12in\" viewBox=\"0 0 12 12\">{inside}</svg>");
    let square = "<path d=\"M0 0H12V12H0Z\"/>";
    assert_ne!(status(&judged_on_drawing("whole.svg", &svg(square))), 2);
    for (inside, named) in [
        (format!("{square}<use href=\"#gone\"/>"), "gone"),
        ("<path d=\"M0 0H12V12H0Z\" clip-path=\"url(#c)\"/>".to_owned(), "clip-path"),
        ("<g style=\"mask: url(#m)\"><path d=\"M0 0H12V12H0Z\"/></g>".to_owned(), "mask"),
    ] {
        let output = judged_on_drawing("part.svg", &svg(&inside));
        assert_eq!(status(&output), 2, "{inside}");
        assert!(stderr(&output).contains(named), "{named}: {}", stderr(&output));
    }
}

#[test]
fn a_product_s_own_mount_and_thicknesses_are_not_overridden() {
    let shop = "--shop examples/shop.toml";
    for line in [
        format!("vet --load 9mm-124 --at 15yd --plate 3/8in {shop} --product \"Falling plate 8\" --mount open-hook"),
        format!("standoff --load 9mm-124 --plate 3/4in {shop} --product \"Falling plate 8\""),
    ] {
        assert_eq!(status(&thickset(&line)), 2, "{line}: {}", stdout(&thickset(&line)));
    }
}

#[test]
fn a_load_that_takes_a_listed_one_s_name_says_so_in_the_headline() {
    let own = "schema = \"thickset/loads/1\"\n[[load]]\nid = \"308-168-match\"\nname = \"own\"\nfirearm = \"handgun\"\n\
               construction = \"frangible\"\nbullet = \"20 gr\"\nmuzzle-velocity = \"800 ft/s\"\ndrag = \"G1\"\nbc = \"0.05\"\n";
    let output = with_file("own.toml", own, |path| {
        format!("vet --load 308-168-match --at 12yd --plate 3/8in --load-file {path}")
    });
    let first = stdout(&output).lines().take(2).collect::<Vec<_>>().join(" ");
    assert!(first.contains("not the listed 308-168-match"), "{first} {}", stderr(&output));
}

#[test]
fn surplus_of_a_cartridge_that_often_has_steel_cores_is_judged_so_whatever_road_it_takes() {
    let own = "schema = \"thickset/loads/1\"\n[[load]]\nid = \"own\"\ncartridge = \"7.62x39\"\nfirearm = \"rifle\"\n\
               construction = \"unknown\"\nbullet = \"123 gr\"\nmuzzle-velocity = \"2350 ft/s\"\ndrag = \"G1\"\nbc = \"0.30\"\n";
    let by_file =
        with_file("own.toml", own, |path| format!("vet --load own --at 200yd --plate 1/2in --load-file {path}"));
    assert_eq!(status(&by_file), status(&thickset("vet --load 762x39-123 --at 200yd --plate 1/2in")));
    assert_eq!(status(&by_file), 1, "{}", stdout(&by_file));
}

#[test]
fn a_firearm_left_unsaid_is_no_looser_for_a_light_slug() {
    let slug = "--bullet 87.5gr --velocity 1840fps --bc 0.07 --drag G1 --diameter 0.41in --construction lead";
    let at = |firearm: &str| status(&thickset(&format!("vet {slug} --firearm {firearm} --at 150yd --plate 1/4in")));
    assert_eq!((at("shotgun"), at("unknown")), (1, 1));
}

#[test]
fn a_string_far_from_the_listed_velocity_is_refused_with_both_numbers() {
    for readings in ["807fps 808fps 806fps 808fps", "4100fps 4110fps 4105fps"] {
        let output = thickset(&format!("chrono {readings} --load 308-168-match --plate 3/8in"));
        assert_eq!(status(&output), 2, "{readings}");
        assert!(stderr(&output).contains("listed at"), "{}", stderr(&output));
    }
}

#[test]
fn the_pressure_of_the_station_is_enough_without_a_temperature() {
    let line = "vet --load 308-168-match --at 300yd --plate 1/2in --pressure 29.0inHg";
    assert_eq!(status(&thickset(line)), 0, "{}", stderr(&thickset(line)));
}

#[test]
fn two_things_borderline_at_once_are_both_named() {
    let text = headline("vet --load 308-168-match --at 85yd --plate 3/8in --steel unknown --condition sound");
    assert!(text.contains("the distance and the steel are borderline at once"), "{text}");
}

#[test]
fn the_service_notice_is_laid_over_the_house_rules_by_its_name() {
    let line = "vet --load 300wm-180 --at 400yd --plate 1/2in --altitude 500ft --temperature 59F";
    assert_eq!(status(&thickset(line)), 0, "{}", stdout(&thickset(line)));
    let noticed = thickset(&format!("{line} --range-rules service-notice"));
    assert_eq!(status(&noticed), 1, "{}", stdout(&noticed));
    assert!(stdout(&noticed).contains("410 yd"), "{}", stdout(&noticed));
}

#[test]
fn a_spreadsheet_of_distances_says_of_each_row_how_it_stands() {
    let rows = |line: &str| -> Vec<(String, String)> {
        let text = stdout(&thickset(&format!("{line} --format csv")));
        let mut lines = text.lines();
        let head: Vec<&str> = lines.next().unwrap_or_default().split(',').collect();
        let verdict = head.iter().position(|name| *name == "verdict").expect("a verdict");
        let words = head.iter().position(|name| *name == "words").expect("words");
        let from_end = |index: usize| head.len() - index;
        let cells = |row: &str| -> (String, String) {
            let cells: Vec<&str> = row.split(',').collect();
            (cells[cells.len() - from_end(verdict)].to_owned(), cells[cells.len() - from_end(words)].to_owned())
        };
        lines.map(cells).collect()
    };
    let two = rows("standoff --any 5.56 --any 308 --plate 3/8in");
    assert!(
        two.len() == 2 && two.iter().all(|(verdict, words)| verdict == "borderline" && words.starts_with('(')),
        "{two:?}"
    );
    let named = rows("standoff --load 308-168-match --load 556-62-steel --plate 3/8in");
    let verdicts: Vec<&str> = named.iter().map(|(verdict, _)| verdict.as_str()).collect();
    assert_eq!(verdicts, ["suits", "unsuitable"]);
}

#[test]
fn a_vetting_without_a_plate_says_what_there_is_to_name() {
    let fault = stderr(&thickset("vet --load 9mm-115 --at 25yd --shop examples/shop.toml --product \"Gong 12\""));
    assert!(fault.replace("\n         ", " ").contains("is made in 3/8 in, 1/2 in and 3/4 in"), "{fault}");
    let fault = stderr(&thickset("vet --load 9mm-115 --at 25yd")).replace("\n         ", " ");
    assert!(fault.contains("measure it at an edge") && fault.contains("`advise`"), "{fault}");
    let only = thickset("vet --load 9mm-115 --at 25yd --shop examples/shop.toml --product \"Falling plate 8\"");
    assert_eq!(status(&only), 0, "{}", stderr(&only));
    assert!(stdout(&only).contains("on 3/8 in"), "{}", stdout(&only));
}

#[test]
fn each_thickness_of_a_product_has_its_price_whichever_is_named() {
    // On no plate at 60 yd.
    for at in ["60yd", "310yd"] {
        let line = format!("advise --load 300wm-180 --at {at} --shop examples/shop.toml --product \"Gong 12\"");
        let text = stdout(&thickset(&line));
        for price in ["$59.00", "$76.00", "$118.00"] {
            assert!(text.contains(price), "{price}: {text}");
        }
    }
}

#[test]
fn a_chart_of_verdicts_names_the_cells_that_are_worse_in_other_air() {
    let asked = "standoff --at 100yd --load 308-168-match --load 300wm-180 --altitude 5000ft";
    let page = joined(&stdout(&thickset(asked)));
    assert!(page.contains("For all of -10 to 100 °F 308 Win 168 gr match on 3/8 in is borderline."), "{page}");
    assert!(!page.contains("never, for that reason"), "{page}");
    // On the hot day itself that is so.
    let there =
        stdout(&thickset("vet --load 308-168-match --at 100yd --plate 3/8in --altitude 5000ft --temperature 100F"));
    assert!(there.starts_with("Borderline"), "{there}");
}

#[test]
fn a_spreadsheet_of_plates_says_in_which_air_its_yes_holds() {
    let asked = "advise --load 308-168-match --at 100yd";
    let headline = stdout(&thickset(asked)).lines().next().expect("a headline").to_owned();
    let table = stdout(&thickset(&format!("{asked} --format csv")));
    assert!(
        headline.contains("up to") && table.lines().skip(1).all(|row| row.contains("up to")),
        "{headline}\n{table}"
    );
}

#[test]
fn what_is_no_single_string_taken_at_the_muzzle_and_whole_is_refused_at_its_place() {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, text, more, words) in [
        ("far.csv", "Shot,Velocity at target (fps)\n1,2660\n2,2655\n3,2668\n", "", "no speed at the muzzle"),
        ("v100.csv", "Shot,V100 (m/s)\n1,700\n2,702\n3,704\n", "", "no speed at the muzzle"),
        ("unit.csv", "Shot,Velocity,Unit\n1,761,m/s\n2,765,m/s\n3,760,m/s\n", "--unit fps", "the row says m/s"),
        ("day.csv", "Einheit,m/s\nShot,Velocity\n1,761\n2,765\n3,760\n", "--unit fps", "m/s"),
        ("fast.csv", "Shot,Velocity (km/h)\n1,2761\n2,2765\n3,2760\n", "--unit fps", "km/h"),
        (
            "twice.csv",
            "Shot,Velocity (fps)\n1,2660\n2,2655\n3,2668\n1,2660\n2,2655\n3,2668\n",
            "",
            "stands there twice",
        ),
        ("loads.csv", "Load,Velocity (fps)\na,2600\na,2605\na,2602\nb,2950\n", "", "two strings"),
        ("most.csv", "Shot,Velocity (fps)\n1,2660\n2,2655\n3,2648\nMax,2900\n", "", "not in the table"),
        ("light.txt", "2660 fps\n2655 fps\n2648 fps\n# 2900 bad light\n", "", "behind a `#`"),
    ] {
        let path = folder.path().join(name);
        fs::write(&path, text).expect("a file");
        let output = thickset(&format!("chrono {} {more}", path.display()));
        assert_eq!(status(&output), 2, "{name}: {}", stdout(&output));
        assert!(stderr(&output).contains(words) && stderr(&output).contains("help"), "{name}: {}", stderr(&output));
    }
    // A column of units says what the head does not, and one load in a column is one string.
    let path = folder.path().join("good.csv");
    fs::write(&path, "Shot,Load,Velocity,Unit\n1,a,761,m/s\n2,A,765,m/s\n3,a,760,m/s\nMax,,765,\n").expect("a file");
    assert_eq!(json(&format!("chrono {}", path.display()))["mean_m_s"], 762.0);
}

/// A range of one rule, and a question of a load that its firearm was not said of.
fn of_a_range(folder: &std::path::Path, rule: &str, question: &str) -> std::process::Output {
    let path = folder.join("range.toml");
    let head = "schema = \"thickset/rules/1\"\nname = \"Heath Club\"\n[[rule]]\nid = \"own\"\nnext = \"n\"\n";
    fs::write(&path, format!("{head}{rule}")).expect("the rules");
    thickset(&format!("{question} --range-rules {}", path.display()))
}

#[test]
fn what_a_range_asks_of_a_class_it_asks_of_a_load_that_may_be_of_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let air = "--altitude 0ft --temperature 59F";
    let bullet = "--bullet 158gr --velocity 900fps --bc 0.15 --drag G1 --diameter 0.357in --construction lead";
    for class in ["handgun", "pistol-carbine", "slug", "rimfire-rifle", "muzzle-loader"] {
        let rule = format!(
            "why = \"w\"\nsubject = \"distance\"\nsense = \"at-least\"\nsuits = \"300 yd\"\nclass = [\"{class}\"]\n"
        );
        for firearm in ["", "--firearm unknown"] {
            let asked = format!("vet {bullet} --at 60yd --plate 1/2in {air} {firearm}");
            let output = of_a_range(folder.path(), &rule, &asked);
            assert_eq!(status(&output), 1, "{class} {firearm}: {}", stdout(&output));
        }
    }
}

#[test]
fn a_range_s_caution_stands_on_the_short_page_and_on_the_tag() {
    let folder = tempfile::tempdir().expect("a folder");
    let rule = "why = \"Ring the warden before any rifle is fired\"\nsubject = \"case\"\nsense = \"caution\"\n";
    for asked in [
        "advise --load 308-168-match --at 200yd",
        "vet --load 308-168-match --at 200yd --plate 1/2in",
        "standoff --load 308-168-match",
        "standoff --load 308-168-match --plate 1/2in --tag",
        "vet --load 308-168-match --at 200yd --plate 1/2in --format html",
    ] {
        let page = joined(&stdout(&of_a_range(folder.path(), rule, asked)));
        assert!(page.contains("Ring the warden"), "{asked}\n{page}");
    }
}

#[test]
fn another_steel_is_never_proposed_for_a_number_that_none_has() {
    let output = thickset("vet --load 9mm-124 --at 15yd --plate 3/8in --steel AR450");
    let told = stderr(&output);
    assert!(told.matches("did you mean").count() == 1 && told.contains("did you mean `other`?"), "{told}");
}

#[test]
fn a_string_is_never_planned_for_less_than_was_read() {
    // Four of forty-nine, of another lot: the spread of all would leave them out.
    let usual = (0..45).map(|i| 2597 + 3 * (i % 3)).map(|v| v.to_string());
    let fast = ["2679", "2680", "2681", "2681"].map(str::to_owned);
    let readings: Vec<String> = usual.chain(fast).collect();
    let page = stdout(&thickset(&format!("chrono {} --unit fps", readings.join(" "))));
    assert!(page.starts_with("Plan for 2681 ft/s:"), "{page}");
    assert!(page.contains("4 readings lie beyond what the spread of all 49 allows"), "{page}");
}

#[test]
fn any_ammunition_of_a_cartridge_that_often_has_steel_in_it_is_borderline_whether_or_not_such_a_load_is_listed() {
    for cartridge in [".303", "8 mm Mauser", "9 mm Luger", ".308 Win"] {
        let asked = format!(
            "vet --any \"{cartridge}\" --at 500yd --plate 3/4in --condition sound --altitude 0ft --temperature 59F"
        );
        let output = thickset(&asked);
        assert_eq!(status(&output), 3, "{cartridge}\n{}", stdout(&output));
        assert!(stdout(&output).starts_with("Borderline: any"), "{}", stdout(&output));
    }
    let narrowed = thickset(
        "vet --any .303 --of jacketed-lead --at 500yd --plate 3/4in --condition sound --altitude 0ft --temperature 59F",
    );
    assert_eq!(status(&narrowed), 0, "{}", stdout(&narrowed));
    let folder = tempfile::tempdir().expect("a folder");
    let text = "schema = \"thickset/course/1\"\nname = \"Trial\"\nany = [\".303\"]\n[air]\naltitude = \"500 ft\"\n\
                temperature = \"60 F\"\n[stand]\ncondition = \"sound\"\ntilt = \"15 deg\"\nmount = \"captive-hook\"\n\
                steel = \"AR500\"\n[[stage]]\nname = \"s\"\n[[stage.target]]\nname = \"gong\"\nplate = \"1/2 in\"\nat = \"300 yd\"\n";
    let file = folder.path().join("match.toml");
    std::fs::write(&file, text).expect("a match");
    let page = joined(&stdout(&thickset(&format!("course {}", file.display()))));
    assert!(page.starts_with("NOT READY: 1 cartridge known in part."), "{page}");
    assert!(page.contains("any ammunition of .303 British: it often has jackets or cores of steel"), "{page}");
}

#[test]
fn a_pistol_s_load_with_a_long_gun_s_barrel_in_its_file_is_judged_as_a_long_gun_s() {
    let folder = tempfile::tempdir().expect("a folder");
    let nearest = |barrel: &str| {
        let text = format!(
            "schema = \"thickset/loads/1\"\n[[load]]\nid = \"own\"\nname = \"own\"\ncartridge = \"357 Magnum\"\n\
             firearm = \"handgun\"\nbarrel = \"{barrel}\"\nbullet = \"158 gr\"\nmuzzle-velocity = \"1250 ft/s\"\n\
             drag = \"G1\"\nbc = \"0.21\"\nconstruction = \"jacketed-lead\"\n"
        );
        let file = folder.path().join("loads.toml");
        std::fs::write(&file, text).expect("loads");
        let asked = "--load own --plate 3/8in --altitude 0ft --temperature 59F --format csv";
        stdout(&thickset(&format!("standoff --load-file {} {asked}", file.display())))
    };
    assert!(
        nearest("6 in").contains(",handgun,") && nearest("20 in").contains(",pistol-carbine,"),
        "{}",
        nearest("20 in")
    );
}

#[test]
fn what_a_range_asks_of_how_a_plate_hangs_is_borderline_where_no_drawing_shows_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let rule = "why = \"it must hang by all of it\"\nsubject = \"hangs-by\"\nsense = \"at-least\"\nsuits = \"2 in\"\n";
    let asked = "vet --load 308-168-match --at 200yd --plate 1/2in --condition sound";
    let page = joined(&stdout(&of_a_range(folder.path(), rule, asked)));
    assert!(page.starts_with("Borderline: 308 Win 168 gr match on 1/2 in at 200 yd: "), "{page}");
    assert!(page.contains("not known: it must hang by all of it"), "{page}");
}

#[test]
fn what_a_spreadsheet_has_no_row_for_is_told_beside_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let text = "schema = \"thickset/course/1\"\nname = \"Trial\"\nloads = [\"308-168-match\"]\ntargets = [\"stages.csv\"]\n[air]\n\
                altitude = \"500 ft\"\ntemperature = \"60 F\"\n[stand]\ncondition = \"sound\"\ntilt = \"15 deg\"\n\
                mount = \"captive-hook\"\nsteel = \"AR500\"\n";
    let file = folder.path().join("match.toml");
    fs::write(&file, text).expect("a match");
    let stages = |column: &str| {
        let rows = format!(
            "stage,target,at (yd),plate{column}\nA,gong,300,1/2 in{}\n",
            if column.is_empty() { "" } else { ",red" }
        );
        fs::write(folder.path().join("stages.csv"), rows).expect("stages");
        thickset(&format!("course {} --format csv", file.display()))
    };
    let (plain, foreign) = (stages(""), stages(",colour"));
    assert_eq!((status(&plain), stderr(&plain).lines().count()), (0, 1));
    assert!(stderr(&plain).starts_with("READY: 1 target judged with 1 load, all pass."), "{}", stderr(&plain));
    assert_eq!(stdout(&plain), stdout(&foreign));
    assert!(stderr(&foreign).contains("colour"), "{}", stderr(&foreign));
}

#[test]
fn what_is_not_followed_as_far_as_rows_usually_go_is_told_as_far_as_it_is() {
    let page = stdout(&thickset("strike --load 12ga-bird-8"));
    assert!(page.contains("200") && page.contains("ows beyond 256 yd, where the bullet is not followed"), "{page}");
    let asked = thickset("strike --load 12ga-bird-8 --to 300yd");
    assert!(status(&asked) == 2 && stderr(&asked).contains("256 yd"), "{}", stderr(&asked));
}

#[test]
fn a_sheet_is_not_written_into_a_spreadsheet_s_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("sheet.csv");
    let output = thickset(&format!("advise --load 308-168-match --at 200yd --for Club -o {}", file.display()));
    assert!(status(&output) == 2 && !file.exists(), "{}", stderr(&output));
}

/// A match of two tables, with what stands at its head.
fn of_two_tables(folder: &std::path::Path, head: &str, loads: &str, stages: &str) -> std::process::Output {
    let air = "[air]\naltitude = \"500 ft\"\ntemperature = \"60 F\"\n[stand]\ncondition = \"sound\"\ntilt = \"15 deg\"\n\
               mount = \"captive-hook\"\nsteel = \"AR500\"\n";
    let named = "declared = [\"loads.csv\"]\ntargets = [\"stages.csv\"]\n";
    let text = format!("schema = \"thickset/course/1\"\nname = \"Trial\"\n{named}{air}{head}");
    fs::write(folder.join("match.toml"), text).expect("a match");
    fs::write(folder.join("loads.csv"), loads).expect("loads");
    fs::write(folder.join("stages.csv"), stages).expect("stages");
    thickset(&format!("course {}", folder.join("match.toml").display()))
}

#[test]
fn a_column_that_one_table_leaves_out_is_never_left_out_of_another_that_reads_it() {
    let folder = tempfile::tempdir().expect("a folder");
    for (column, other, cell) in
        [("steel", "no", "AR400"), ("condition", "cracked stock", "cratered"), ("class", "A", "handgun")]
    {
        let loads = format!("shooter,load,{column}\nAnn,308-168-match,{other}\n");
        let stages = format!("stage,target,at (yd),plate,{column}\nOne,g,300,1/2 in,{cell}\n");
        let head = format!("[columns]\n\"{column}\" = \"ignore\"\n");
        let output = of_two_tables(folder.path(), &head, &loads, &stages);
        assert!(status(&output) != 0 && !stdout(&output).starts_with("READY"), "{column}\n{}", stdout(&output));
        assert!(stderr(&output).contains("would be left out of a table that reads it"), "{}", stderr(&output));
    }
    let stages = "stage,target,at (yd),plate,class\nOne,g,300,1/2 in,handgun\n";
    let output = of_two_tables(
        folder.path(),
        "[columns]\n\"class\" = \"ignore\"\n",
        "shooter,load\nAnn,308-168-match\n",
        stages,
    );
    assert!(stdout(&output).starts_with("READY as far as read"), "{}", stdout(&output));
}

#[test]
fn a_target_called_for_others_than_who_shoots_it_and_a_head_of_signs_make_a_match_wait() {
    let folder = tempfile::tempdir().expect("a folder");
    let loads = "shooter,load\nAnn,308-168-match\n";
    for name in ["Handgun only", "no_rifles", "rimfire plate", "22LR only", "100-200 yd"] {
        let stages = format!("stage,target,at (yd),plate\nOne,{name},300,1/2 in\n");
        let output = of_two_tables(folder.path(), "", loads, &stages);
        assert!(stdout(&output).starts_with("NOT READY: 1 name to look into."), "{name}\n{}", stdout(&output));
    }
    let stages = "stage,target,at (yd),plate,class\nOne,Handgun only,300,1/2 in,handgun\nOne,g,300,1/2 in,\n";
    let loads = "shooter,load\nAnn,308-168-match\nBob,9mm-115\n";
    let output = of_two_tables(folder.path(), "", loads, stages);
    assert!(!stdout(&output).contains("look into"), "{}", stdout(&output));
    for head in ["@", "+/-"] {
        let stages = format!("stage,target,at (yd),plate,{head}\nOne,g,300,1/2 in,50\n");
        let output = of_two_tables(folder.path(), "", "shooter,load\nAnn,308-168-match\n", &stages);
        assert!(!stdout(&output).starts_with("READY:"), "{head}\n{}", stdout(&output));
    }
}
