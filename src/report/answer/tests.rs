use super::*;
use crate::report::samples;
use crate::words::Units;

const FULL: Detail = Detail { full: true, explain: true };

fn pages(units: Units, detail: Detail) -> Vec<(&'static str, Page)> {
    vec![
        ("advise", samples::advise(units).page(detail)),
        ("vet", samples::vet(units).page(detail)),
        ("standoff", samples::standoff_of_one(units).page(detail)),
        ("plates", samples::standoff(units, 1).page(detail)),
        ("chart", samples::standoff(units, 12).page(detail)),
        ("strike", samples::strike(units).page(detail)),
        ("chrono", samples::chrono(units).page(detail)),
    ]
}

#[test]
fn the_short_form_fits_a_screen() {
    let most = |name: &str| match name {
        "advise" => 26,
        "vet" => 24,
        "standoff" => 18,
        "strike" => 12 + samples::strike(Units::Us).rows.len(),
        _ => 60,
    };
    let mut over = Vec::new();
    for (name, page) in pages(Units::Us, Detail::default()) {
        let text = page.text(None, false);
        let lines = text.lines().count();
        if lines > most(name) {
            over.push(format!("{name}: {lines}\n{text}"));
        }
    }
    assert!(over.is_empty(), "{}", over.join("\n"));
}

#[test]
fn the_first_lines_are_the_answer_how_near_and_what_it_stands_on() {
    let answer = samples::advise(Units::Us);
    let text = page(&answer).text(Some(110), false);
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines[0], answer.preamble.headline);
    assert_eq!(lines[1], answer.preamble.nearest);
    assert_eq!(lines[2], answer.preamble.stands_on);
    assert!(lines[3].is_empty() && lines[4].starts_with("plate"), "{text}");
}

#[test]
fn what_was_not_judged_stands_on_the_first_lines() {
    let mut answer = samples::vet(Units::Us);
    answer.preamble.not_judged.push(crate::advisor::answer::NotJudged {
        what: "load `9mm-odd`".into(),
        why: "its bullet has no weight".into(),
        unreadable: true,
        place: Some("loads.csv:14:3".into()),
    });
    let text = page(&answer).text(None, false);
    assert!(text.contains("Not judged: load `9mm-odd` (loads.csv:14:3): its bullet has no weight."), "{text}");
    assert!(text.lines().position(|line| line.starts_with("Not judged")).is_some_and(|line| line <= 5), "{text}");
}

#[test]
fn no_page_is_without_its_notice_and_conditions_and_none_says_them_twice() {
    for detail in [Detail::default(), FULL] {
        for (name, page) in pages(Units::Us, detail) {
            for text in [page.text(Some(110), false), page.html()] {
                let text = text.replace(['\n', '\u{a0}'], " ");
                let most = if detail.full { 2 } else { 1 };
                let told = text.matches("the range officer stand above").count();
                assert!((1..=most).contains(&told), "{name}: {told}\n{text}");
                assert!(text.contains("Holds for:") && text.contains("20 to 90 °F"), "{name}\n{text}");
            }
        }
    }
}

#[test]
fn cautions_and_notice_stand_in_for_a_safety_that_is_not_there() {
    let mut answer = samples::vet(Units::Us);
    answer.preamble.safety = String::new();
    let text = page(&answer).text(Some(110), false);
    assert!(text.contains("Safety: Lead dust: wash before you eat. Rules of thumb"), "{text}");
}

/// Words of an answer with every name that must not be broken.
#[test]
fn narrow_terminals_break_no_word() {
    for detail in [Detail::default(), FULL] {
        for (name, page) in pages(Units::Us, detail) {
            let broad = page.text(Some(110), false);
            let whole: std::collections::HashSet<&str> = broad.split_whitespace().collect();
            for width in [60, 72, 80] {
                let text = page.text(Some(width), false);
                let widest = text.lines().map(|line| line.chars().count()).max().unwrap_or(0);
                assert!(widest <= width, "{name} {width}: {widest}\n{text}");
                for word in text.split_whitespace() {
                    assert!(whole.contains(word), "{name} {width}: `{word}`\n{text}");
                }
            }
        }
    }
}

/// Reads CSV as a strict spreadsheet would: one head, rows as long, columns with a unit or of numbers numeric.
fn read_strictly(name: &str, text: &str) {
    let mut reader = csv::ReaderBuilder::new().flexible(false).from_reader(text.as_bytes());
    let heads: Vec<String> = reader.headers().expect("a head").iter().map(str::to_owned).collect();
    let unique: std::collections::HashSet<&String> = heads.iter().collect();
    assert_eq!(unique.len(), heads.len(), "{name}: {heads:?}");
    for head in &heads {
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
        assert!(!head.is_empty() && head.chars().all(plain), "{name}: {head}");
    }
    let measured =
        ["_yd", "_m", "_ft_s", "_m_s", "_ft_lbf", "_j", "_percent", "_lb", "_kg", "_deg", "_s", "_hz", "_in", "_mm"];
    for record in reader.records() {
        let record = record.unwrap_or_else(|e| panic!("{name}: {e}\n{text}"));
        for (head, cell) in heads.iter().zip(&record) {
            let numeric = measured.iter().any(|unit| head.ends_with(unit))
                || ["n", "k", "price", "loads"].contains(&head.as_str());
            assert!(!numeric || cell.is_empty() || cell.parse::<f64>().is_ok(), "{name}: {head} is `{cell}`");
        }
    }
}

#[test]
fn every_answer_is_a_table_that_a_strict_reader_takes() {
    for units in [Units::Us, Units::Si] {
        for (name, page) in pages(units, Detail::default()) {
            let first = page.csv(None).expect("a table");
            assert!(first.lines().count() >= 2, "{name}\n{first}");
            assert_eq!(page.csv(page.tables().first().map(String::as_str)), Ok(first));
            for table in page.tables() {
                read_strictly(&format!("{name} {table}"), &page.csv(Some(&table)).expect("a table"));
            }
            let unknown = page.csv(Some("no-such")).expect_err("no table");
            assert!(unknown.help().contains(&page.tables()[0]), "{}", unknown.help());
        }
    }
}

#[test]
fn a_spreadsheet_gets_limits_rounded_to_the_strict_side() {
    let chart = page(&samples::standoff(Units::Us, 1)).csv(None).expect("a table");
    // 3050.7 ft/s and 2800.9 ft·lbf at most.
    assert!(chart.contains(",3050,2800,"), "{chart}");
    assert!(chart.starts_with("load,name,class,loads,plate,closest_yd,borderline_from_yd,"), "{chart}");
}

#[test]
fn metric_leaves_nothing_in_inches_grains_or_fahrenheit() {
    for detail in [Detail::default(), FULL] {
        for (name, page) in pages(Units::Si, detail) {
            // Words are the answer's own; what the report makes itself are heads, cells and labels.
            for table in page.tables() {
                let text = page.csv(Some(&table)).expect("a table");
                let head = text.lines().next().unwrap_or_default();
                for unit in ["_yd", "_ft_s", "_ft_lbf", "_lb", "_in,"] {
                    assert!(!head.contains(unit), "{name} {table}: {head}");
                }
            }
        }
    }
    let text = page(&samples::strike(Units::Si)).text(None, false);
    assert!(text.contains("mean m/s") && !text.contains("ft/s fast"), "{text}");
}

#[test]
fn rows_are_coloured_by_their_verdict_whatever_their_words() {
    let mut answer = samples::advise(Units::Us);
    answer.plates[2].nearest_limit = "unsuitable".into();
    let text = page(&answer).text(None, true);
    let row = text.lines().find(|line| line.contains("3/8 in") && line.contains("lb")).expect("the row");
    assert!(row.starts_with("\u{1b}[32m") && row.ends_with("\u{1b}[0m"), "{row:?}");
    let plain = page(&answer).text(None, false);
    let mut stripped = text;
    for code in ["\u{1b}[1;32m", "\u{1b}[32m", "\u{1b}[31m", "\u{1b}[33m", "\u{1b}[0m"] {
        stripped = stripped.replace(code, "");
    }
    assert_eq!(stripped, plain);
}

#[test]
fn more_detail_only_adds() {
    for ((name, short), (_, full)) in pages(Units::Us, Detail::default()).into_iter().zip(pages(Units::Us, FULL)) {
        let (short, full) = (short.text(None, false), full.text(None, false));
        assert!(full.lines().count() > short.lines().count(), "{name}");
        assert!(full.contains("Cautions"), "{name}\n{full}");
    }
    let text = samples::vet(Units::Us).page(Detail { full: false, explain: true }).text(None, false);
    assert!(text.contains("Every finding") && text.contains("house assumption"), "{text}");
}

#[test]
fn strangers_words_are_escaped_everywhere() {
    let mut answer = samples::advise(Units::Us);
    answer.preamble.headline = "<script>alert(1)</script>".into();
    answer.plates[0].label = "<img src=x>".into();
    answer.curves[0].load = "<script>".into();
    answer.preamble.remarks = vec!["\u{202e}<b>".into()];
    let html = answer.page(FULL).html();
    assert!(!html.contains("<script") && !html.contains("<img") && !html.contains('\u{202e}'));
    for foreign in ["http:", "https:", "src=\"", "url("] {
        assert!(!html.contains(foreign), "{foreign}");
    }
}

#[test]
fn every_page_reads_so() {
    for (name, page) in pages(Units::Us, Detail::default()) {
        insta::assert_snapshot!(format!("{name}_short"), page.text(None, false));
    }
    for (name, page) in pages(Units::Si, FULL) {
        insta::assert_snapshot!(format!("{name}_full_si"), page.text(None, false));
    }
}
