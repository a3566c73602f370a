//! Sheets to hand out at a match: a sign for each stage, an officer's sheet, a haul list. One printed page each,
//! black on white, system typefaces, marks that read without colour.

use super::sheet::{NO_DATE, given};
use crate::advisor::answer::{CourseAnswer, StageAnswer};
use crate::source::sanitize;
use crate::words::Units;
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// A sheet: the name of its file, and the whole document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    /// `sign-01-ridge.html`.
    pub name: String,
    /// The document.
    pub text: String,
}

/// What a sheet bears in its head, so that a later run knows it for its own.
const MARK: &str = "<meta name=\"generator\" content=\"thickset: sheet of a match\">";

/// Whether a text is a sheet that this program wrote.
#[must_use]
pub fn is_sheet(text: &str) -> bool {
    text.contains(MARK)
}

/// Whether a file's name is one that a sheet may have.
#[must_use]
pub fn is_sheet_name(name: &str) -> bool {
    let is_page = std::path::Path::new(name).extension().is_some_and(|end| end == "html");
    matches!(name, "officer.html" | "haul.html") || (name.starts_with("sign-") && is_page)
}

/// Every sheet of a match, with the day it is written.
#[must_use]
pub fn sheets(answer: &CourseAnswer, dated: Option<&str>) -> Vec<Sheet> {
    let signs = answer.stages.iter().enumerate().map(|(index, stage)| Sheet {
        name: format!("sign-{:02}-{}.html", index + 1, slug(&stage.name)),
        text: document(&stage.name, "portrait", &sign(answer, stage, dated)),
    });
    let mut sheets: Vec<Sheet> = signs.collect();
    sheets.push(Sheet {
        name: "officer.html".into(),
        text: document("Range officer", "landscape", &officer(answer, dated)),
    });
    sheets.push(Sheet { name: "haul.html".into(), text: document("To haul", "portrait", &haul(answer, dated)) });
    sheets
}

/// A name as part of a file's: letters, digits and dashes.
fn slug(name: &str) -> String {
    let dashed: String =
        name.to_lowercase().chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).take(40).collect();
    let parts: Vec<&str> = dashed.split('-').filter(|part| !part.is_empty()).collect();
    if parts.is_empty() { "stage".into() } else { parts.join("-") }
}

fn document(title: &str, page: &str, body: &Markup) -> String {
    let size = format!("@page{{size:{page};margin:9mm}}");
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                (PreEscaped(MARK))
                title { (sanitize(title)) }
                style { (PreEscaped(size)) (PreEscaped(STYLE)) }
            }
            body { main { (body) } }
        }
    }
    .into_string()
}

/// Lines of a sign before they are set small.
const FEW: usize = 4;
/// Items of a list on the officer's sheet before the rest is counted.
const MANY: usize = 24;

/// How large a list is set: the more of it, the smaller.
fn weight(lines: usize) -> &'static str {
    match lines {
        0..=FEW => "few",
        5..=10 => "some",
        _ => "many",
    }
}

fn items(list: &[String]) -> Markup {
    html! { @for item in list { li { (sanitize(item)) } } }
}

/// Rows beside each other that a sign has room for as it is set, and set smaller.
const ROOMY: usize = 22;
const CLOSE: usize = 26;
/// About how many letters a row of half a sign holds.
const LETTERS: usize = 44;

/// How large the rules of a sign are set, so that it stays on one page whatever is on it.
fn size(stage: &StageAnswer) -> &'static str {
    let rows = |list: &[String]| list.iter().map(|item| item.chars().count().div_ceil(LETTERS)).sum::<usize>();
    let refused: Vec<String> = stage.refused.iter().map(|load| load.words.clone()).collect();
    // Two headings, and two items that are always there, on two rows each.
    let left = rows(&stage.admitted) + rows(&stage.ask) + rows(&refused) + 6;
    let right = rows(&stage.plates) + rows(&stage.faces) + 2;
    let lines = rows(&stage.lines) + 2 * rows(&stage.closed);
    match left.max(right) + lines {
        0..=ROOMY => "roomy",
        rows if rows <= CLOSE => "close",
        rows if rows <= 2 * CLOSE => "closer",
        _ => "closest",
    }
}

/// The sign of a stage, read from where one stands. Nothing on it is counted instead of named.
fn sign(answer: &CourseAnswer, stage: &StageAnswer, dated: Option<&str>) -> Markup {
    html! {
        header { h1 { (sanitize(&stage.name)) } p.match { (sanitize(&answer.name)) } }
        @if !stage.closed.is_empty() {
            p.wait { "Closed until the officer signs: " (sanitize(&stage.closed.join("; "))) "." }
        }
        section class=(weight(stage.lines.len())) {
            h2 { "No nearer than" }
            ul.lines { (items(&stage.lines)) }
        }
        section class=(format!("rules {}", size(stage))) {
            div {
                h2 { "Who shoots here" }
                ul {
                    (items(&stage.admitted))
                    li { b { "Nobody brings another load than the match has judged." } }
                    @for load in &stage.ask { li { "By the officer's word alone: " (sanitize(load)) } }
                }
                h2 { "Not on this stage" }
                ul {
                    @for load in &stage.refused { li { (sanitize(&load.words)) } }
                    li { "Steel core or jacket, armour-piercing, tracer: try a magnet" }
                }
            }
            div {
                h2 { "Plates" }
                ul { (items(&stage.plates)) }
                h2 { "They stand" }
                ul { (items(&stage.faces)) }
            }
        }
        section.zone {
            (zone())
            p { b { "Nobody in the hatched zone: 20° to either side of a plate's plane." } }
        }
        footer {
            p { b { "Wrap-around glasses and ears, everyone." } }
            @for said in &answer.preamble.range_says { p { b { (sanitize(said)) } } }
            p { b { "Anything comes back: STOP." } " Call the officer." }
            p.small { (sanitize(&stage.stands_on)) }
            p.small { (date(dated)) }
            p.small { (answer.preamble.notice) }
        }
    }
}

/// The 20° zone from above: a plate, the shooter's line, the hatched wedges.
fn zone() -> Markup {
    // tan 20° = 0.364: over 150 units to a side the zone opens by 55.
    html! {
        svg viewBox="0 0 360 150" role="img" aria-label="From above: the zone within 20 degrees of the plate's plane" {
            defs {
                pattern id="hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)" {
                    line x1="0" y1="0" x2="0" y2="7" stroke="#000" stroke-width="2" {}
                }
            }
            path d="M180 60 L30 5 L30 115 Z M180 60 L330 5 L330 115 Z" fill="url(#hatch)" stroke="#000" stroke-width="1" {}
            rect x="155" y="57" width="50" height="6" fill="#000" {}
            line x1="180" y1="144" x2="180" y2="74" stroke="#000" stroke-width="2" stroke-dasharray="6 4" {}
            path d="M180 66 l-5 11 h10 Z" fill="#000" {}
            text x="212" y="52" font-size="13" { "plate" }
            text x="188" y="142" font-size="13" { "shooter" }
        }
    }
}

/// What a range officer carries.
fn officer(answer: &CourseAnswer, dated: Option<&str>) -> Markup {
    let lead = &answer.preamble;
    html! {
        header { h1 { (sanitize(&lead.headline)) } @if !lead.nearest.is_empty() { p { (sanitize(&lead.nearest)) } } }
        section.officer {
            @if !lead.not_judged.is_empty() {
                h2 { "Not judged" }
                ul { @for item in lead.not_judged.iter().take(MANY) { li { (sanitize(&item.what)) ": " (sanitize(&item.why)) } }
                    @if lead.not_judged.len() > MANY { li { (lead.not_judged.len() - MANY) " more: see the page itself" } }
                }
            }
            @if !lead.left_out.is_empty() {
                p { b { "Left out, and not judged: " } (sanitize(&lead.left_out.join("; "))) "." }
            }
            div.wide { table class=(if answer.stages.len() > 9 { "dense" } else { "" }) {
                thead { tr {
                    th { "stage" } th { "nearest line, fixes made" } th { "plates" } th { "to do" } th { "how each face stands" }
                    th.box { "both faces" } th.box { "hooks, bolts" } th.box { "clear zone" }
                } }
                tbody { @for stage in &answer.stages { tr {
                    th { (sanitize(&stage.name)) @if !stage.closed.is_empty() { br; "closed: " (sanitize(&stage.closed.join("; "))) } }
                    td {
                        (sanitize(&stage.lines.join("; ")))
                        @if !stage.positions.is_empty() { br; "As it stands: " (sanitize(&stage.positions.join("; "))) }
                    }
                    td { (sanitize(&stage.plates.join("; "))) }
                    td { @if stage.fixes.is_empty() { "nothing" } @else { (sanitize(&stage.fixes.join("; "))) } }
                    td { (sanitize(&stage.faces.join("; "))) }
                    td.box { span.tick {} } td.box { span.tick {} } td.box { span.tick {} }
                } } }
            } }
            div.below {
            @let admitted = admitted(answer);
            @if !admitted.is_empty() { h2 { "Admitted" } p { (sanitize(&admitted.join("; "))) } }
            @if !answer.leave.is_empty() || !answer.decide.is_empty() {
                h2 { "Loads to leave, or to decide on" }
                ul { (items(&answer.leave)) (items(&answer.decide)) }
            }
            h2 { "Stop and reset" }
            p { "Anything comes back, a plate cracks, craters, bows or leaves its hooks, anybody enters the 20° zone: stop, unload, cold line, then walk up. Reset leans and hooks, look at both faces, sign, open again." }
            h2 { "Assumes" }
            p { (sanitize(&assumes(answer))) }
            p { (sanitize(&lead.safety)) }
            }
        }
        footer { p { "Officer ______________________  " (date(dated)) } }
    }
}

/// What is admitted, each rule once.
fn admitted(answer: &CourseAnswer) -> Vec<&str> {
    let mut lines: Vec<&str> = Vec::new();
    for line in answer.stages.iter().flat_map(|stage| &stage.admitted) {
        if !lines.contains(&line.as_str()) {
            lines.push(line);
        }
    }
    lines
}

fn assumes(answer: &CourseAnswer) -> String {
    let words = answer.preamble.holds_for.iter().map(|c| {
        let taken = if c.given { "" } else { " (not given)" };
        format!("{} {}{taken}", c.what, c.value)
    });
    format!("{}.", words.collect::<Vec<_>>().join("; "))
}

/// The day it is written, or a line to write it on.
fn date(dated: Option<&str>) -> String {
    given(dated).map_or_else(|| format!("Date {NO_DATE}"), |dated| format!("Dated {}", sanitize(dated)))
}

/// What goes on the trailer.
fn haul(answer: &CourseAnswer, dated: Option<&str>) -> Markup {
    let heavy = match answer.preamble.units {
        Units::Us => "50 lb",
        Units::Si => "20 kg",
    };
    html! {
        header { h1 { "To haul" } p.match { (sanitize(&answer.name)) } }
        section.officer {
            table {
                thead { tr { th.box { "on" } th { "plate" } th { "face" } th.n { "pieces" } th.n { "of them new" } th { "in words" } } }
                tbody { @for haul in &answer.haul { tr {
                    td.box { span.tick {} }
                    th { (sanitize(&haul.plate)) } td { (sanitize(&haul.face)) } td.n { (haul.count) } td.n { (haul.new) }
                    td { (sanitize(&haul.words)) }
                } } }
            }
            p { b { (sanitize(answer.bring.rsplit("; ").next().unwrap_or_default())) } }
            p { "Two people to a plate above " (heavy) ". Count hooks, chains, side screens and the first-aid bag apart." }
        }
        footer { p { "Look at both faces while loading: a crater, crack, hole or bow stays at home." } p.small { (date(dated)) } p.small { (answer.preamble.notice) } }
    }
}

const STYLE: &str = "
*{box-sizing:border-box}
body{margin:0;background:#fff;color:#000;font:12pt/1.35 system-ui,-apple-system,Segoe UI,Roboto,sans-serif;overflow-wrap:anywhere}
main{max-width:186mm;margin:0 auto;padding:4mm}
header{border-bottom:1.2mm solid #000;padding-bottom:2mm;margin-bottom:4mm}
h1{font-size:30pt;line-height:1.08;margin:0;text-wrap:balance}.match{margin:1mm 0 0}
h2{font-size:12pt;text-transform:uppercase;letter-spacing:.06em;margin:0 0 1mm}
ul{margin:0;padding-left:5mm}
.lines{list-style:none;padding:0;font-weight:750;line-height:1.15}
.few .lines{font-size:30pt}.some .lines{font-size:19pt}.many .lines{font-size:13pt;columns:2}
section{margin-bottom:5mm}
.wait{border:1mm dashed #000;padding:2mm 3mm;font-size:16pt;font-weight:700;margin:0 0 4mm}
.rules{display:grid;grid-template-columns:1fr 1fr;gap:6mm}.rules h2+ul{margin-bottom:2mm}.close{font-size:8.5pt;line-height:1.2}.closer{font-size:7.4pt;line-height:1.15}.closest{font-size:6.4pt;line-height:1.1}
.zone{display:grid;grid-template-columns:80mm 1fr;gap:6mm;align-items:center;font-size:14pt}
.zone svg{width:100%;height:auto}
footer{border-top:1.2mm solid #000;padding-top:2mm}footer p{margin:0 0 1mm;font-size:15pt}
footer .small,.small{font-size:8.5pt}
.officer{font-size:8.5pt;line-height:1.25}.officer h2{font-size:9pt;margin-top:2.5mm}.officer p{margin:1mm 0}
table{border-collapse:collapse;width:100%;margin-bottom:2mm}th,td{border:.2mm solid #000;padding:1mm 1.4mm;text-align:left;vertical-align:top}
th,td{overflow-wrap:normal}tbody th{min-width:24mm}thead th{font-weight:600}.n{text-align:right}.box{width:13mm;text-align:center}
.wide{overflow-x:auto}.dense{font-size:6.8pt;line-height:1.15}.dense th,.dense td{padding:.4mm 1mm}.dense .tick{width:3mm;height:3mm}
.columns{columns:2}
.tick{display:inline-block;width:5mm;height:5mm;border:.4mm solid #000}
header:has(+ .officer) h1{font-size:17pt}
@media screen and (max-width:640px){.zone,.rules{grid-template-columns:1fr}.many .lines,.columns{columns:1}h1{font-size:22pt}.wide table{min-width:720px}}
@media screen{main:has(.officer){max-width:273mm}}
@media screen and (max-width:40rem){.officer table{display:block;overflow-x:auto}.rules,.zone{grid-template-columns:1fr}h1{font-size:22pt}
.few .lines{font-size:20pt}.some .lines{font-size:15pt}.many .lines{columns:1}}
.below{columns:2;column-gap:6mm}.below h2{break-after:avoid}.below h2:first-child{margin-top:0}
@media screen and (max-width:64rem){.below{columns:1}}
@media print{main{max-width:none;padding:0}tr,li{break-inside:avoid}section{margin-bottom:3mm}header{margin-bottom:2.5mm}h1{font-size:26pt}
.roomy{font-size:10pt;line-height:1.25}.few .lines{font-size:26pt}.some .lines{font-size:17pt}.many .lines{font-size:11pt}.wait{font-size:13pt;padding:1mm 3mm}
.zone{grid-template-columns:62mm 1fr;font-size:12pt}footer p{font-size:12.5pt;margin:0 0 .6mm}footer .small{font-size:7.5pt}
.officer{font-size:7.6pt;line-height:1.18}.dense{font-size:6.5pt}.box{width:10mm}header:has(+ .officer){padding-bottom:1mm;margin-bottom:1.5mm;border-bottom-width:.6mm}
header:has(+ .officer) h1{font-size:13pt}main:has(.officer) footer{border-top-width:.6mm;padding-top:1mm}main:has(.officer) footer p{font-size:9pt}}
";

#[cfg(test)]
mod tests {
    use super::slug;

    #[test]
    fn a_sheet_is_known_by_its_mark_and_its_name() {
        assert!(super::is_sheet(&super::document("t", "portrait", &maud::html! { "x" })));
        assert!(!super::is_sheet("<meta name=\"generator\" content=\"other\">"));
        assert!(super::is_sheet_name("sign-02-b.html") && super::is_sheet_name("haul.html"));
        assert!(!super::is_sheet_name("sign-up.pdf") && !super::is_sheet_name("index.html"));
    }

    #[test]
    fn a_stage_s_name_becomes_a_file_s_and_never_leaves_the_folder() {
        assert_eq!(slug("Pistol bay"), "pistol-bay");
        assert_eq!(slug("../../etc"), "etc");
        assert_eq!(slug("……"), "stage");
    }
}
