use super::*;
use crate::report::page::{Kind, Page};
use crate::report::samples;

fn order() -> Order<'static> {
    Order { customer: Some("A. Example"), dated: Some("1 May") }
}

fn sheets(units: Units) -> Vec<(&'static str, Page)> {
    vec![
        ("customer", customer(&samples::advise(units), order())),
        ("wall_chart", wall_chart(&samples::standoff(units, 40), None)),
        ("distance_table", distance_table(&samples::standoff_of_one(units), Some("Round 12"), None)),
        ("tag", tag(&samples::standoff_of_one(units), Some("1 May"))),
    ]
}

#[test]
fn every_sheet_has_eyes_first_its_notice_and_no_option() {
    for (name, page) in sheets(Units::Us) {
        let text = page.text(Some(110), false);
        let eyes = |line: &str| line.to_lowercase().contains("glasses");
        let first = text.lines().position(eyes).unwrap_or(usize::MAX);
        let html = page.html().replace('\u{a0}', " ");
        assert!(first < 30, "{name}\n{text}");
        assert!(html.contains("the range officer stand above"), "{name}");
        assert!(
            !text.contains("--") && !html.split("<body>").nth(1).unwrap_or_default().contains(" --"),
            "{name}\n{text}"
        );
        assert!(!html.contains('✓') && !html.contains('✗') && !html.contains("<img"), "{name}");
    }
}

#[test]
fn a_customers_sheet_names_what_it_is_for_and_what_it_costs() {
    let text = sheets(Units::Us)[0].1.text(Some(100), false);
    for words in [
        "AR500 plate, 3/8 in",
        "Example Steel",
        "For A. Example",
        "Dated 1 May",
        "12 in round",
        "quantity",
        "308 Win 168 gr match at 100 yd",
        "100 yd; nobody nearer while hot",
        "$33.25 each, $133.00 for 4",
        "Never: steel core",
        "leaning 15° toward the shooter",
        "Retire it:",
        "Holds for:",
    ] {
        assert!(text.contains(words), "{words}\n{text}");
    }
}

#[test]
fn a_customers_sheet_never_hides_a_doubt() {
    let mut answer = samples::advise(Units::Us);
    answer.verdict = crate::rules::Verdict::Borderline;
    answer.borderline = answer.recommended.take();
    assert!(customer(&answer, Order::default()).headline.contains("borderline"));
    answer.verdict = crate::rules::Verdict::Unsuitable;
    answer.borderline = None;
    assert!(customer(&answer, Order::default()).headline.starts_with("No AR500 plate"));
}

#[test]
fn a_wall_chart_groups_by_class_and_a_tag_has_its_ceilings() {
    let pages = sheets(Units::Us);
    let chart = pages[1].1.text(Some(100), false);
    for words in ["Rimfire, from a rifle", "Handgun", "Slugs", "Rifle", "(480)", "–", "100", "distances in yd"] {
        assert!(chart.contains(words), "{words}\n{chart}");
    }
    let tag = pages[3].1.text(Some(60), false);
    for words in ["3050 ft/s", "2800 ft·lbf", "Not listed: ask.", "Dated: 1 May", "100 yd"] {
        assert!(tag.contains(words), "{words}\n{tag}");
    }
    assert_eq!(pages[3].1.kind, Kind::Tag);
    assert!(pages[3].1.html().contains("size:4in 6in"));
}

#[test]
fn a_fragment_has_no_frame_and_a_strangers_name_is_escaped() {
    let page = distance_table(&samples::standoff_of_one(Units::Us), Some("<script>alert(1)</script>"), None);
    let fragment = page.fragment();
    assert!(fragment.starts_with("<section class=\"thickset product\">"), "{fragment}");
    for frame in ["<html", "<head>", "<style", "<script"] {
        assert!(!fragment.contains(frame), "{frame}");
    }
    assert!(fragment.contains("&lt;script&gt;"));
}

#[test]
fn every_sheet_reads_so() {
    for (name, page) in sheets(Units::Us) {
        insta::assert_snapshot!(name, page.text(None, false));
    }
}

#[test]
fn a_row_says_what_fires_it_and_a_title_its_steel_and_its_doubt() {
    let mut answer = samples::advise(Units::Us);
    answer.preamble.inputs.targets[0].target.steel = crate::plate::Steel::Ar550;
    assert_eq!(customer(&answer, Order::default()).headline, "AR550 plate, 3/8 in");
    answer.preamble.inputs.targets[0].target.steel = crate::plate::Steel::Unknown;
    assert!(customer(&answer, Order::default()).headline.starts_with("Plate of steel that is not known, "));
    let mut answer = samples::standoff_of_one(Units::Us);
    answer.rows[0].class = Class::PistolCarbine;
    let name = answer.rows[0].name.clone();
    for page in [tag(&answer, None), distance_table(&answer, None, None)] {
        let text = page.text(Some(110), false);
        assert!(text.contains(&format!("{name}, pistol carbine")), "{text}");
    }
}
