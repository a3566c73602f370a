//! Pages as HTML: one file without script or foreign parts, for a screen, a phone or a wall.

use super::page::{Align, Block, Page, Row, Table, Tone};
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// Renders a page to a whole document.
#[must_use]
pub fn render(page: &Page) -> String {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (page.headline) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                main {
                    header class=(tone(page.tone)) { h1 { (page.headline) } }
                    @for (block, heading) in headed(page) { (self::block(block, heading)) }
                    footer { p { (page.notice().text()) } }
                }
            }
        }
    }
    .into_string()
}

/// Each block with the words it stands under.
fn headed(page: &Page) -> impl Iterator<Item = (&Block, &str)> {
    page.blocks.iter().scan(page.headline.as_str(), |heading, block| {
        if let Block::Heading(text) = block {
            *heading = text;
        }
        Some((block, *heading))
    })
}

fn tone(tone: Tone) -> &'static str {
    match tone {
        Tone::Plain => "plain",
        Tone::Good => "good",
        Tone::Doubtful => "doubtful",
        Tone::Bad => "bad",
    }
}

fn block(block: &Block, heading: &str) -> Markup {
    match block {
        Block::Heading(text) => html! { h2 { (text) } },
        Block::Text(text) => html! { p { (text) } },
        Block::List(items) => html! { ul { @for item in items { li { (item) } } } },
        Block::Facts(facts) => html! { dl { @for (label, value) in facts { div { dt { (label) } dd { (value) } } } } },
        Block::Table(table) => self::table(table, heading),
    }
}

/// A table, in a region that scrolls by itself where the table is too broad. Roles are said outright: set as
/// cards on a phone, rows and cells would lose them.
fn table(table: &Table, heading: &str) -> Markup {
    let classes: Vec<&str> = (0..table.columns.len()).map(|index| class(table, index)).collect();
    html! {
        div.sheet role="region" aria-label=(heading) tabindex="0" { table role="table" {
            thead role="rowgroup" { tr role="row" { @for (column, class) in table.columns.iter().zip(&classes) {
                th scope="col" role="columnheader" class=(class) { (column.title) }
            } } }
            tbody role="rowgroup" { @for row in &table.rows { (self::row(row, table, &classes)) } }
        } }
    }
}

/// Words this short stand on one line.
const BRIEF: usize = 14;
/// Words longer than this have a card's whole width.
const LONG: usize = 18;

/// How a column is set: numbers, brief words, words, or long ones.
fn class(table: &Table, index: usize) -> &'static str {
    if table.columns.get(index).is_some_and(|c| c.align == Align::Right) {
        return "n";
    }
    let cells = table.rows.iter().filter_map(|row| row.cells.get(index)?.as_deref());
    match cells.map(|text| text.chars().count()).max() {
        Some(longest) if longest > LONG => "l",
        Some(longest) if longest > BRIEF => "w",
        _ => "b",
    }
}

fn row(row: &Row, table: &Table, classes: &[&str]) -> Markup {
    let cells = row.cells.iter().zip(&table.columns).zip(classes).enumerate();
    html! {
        tr role="row" class=(tone(row.tone)) {
            @for (index, ((cell, column), class)) in cells {
                @let text = cell.as_deref().unwrap_or("–");
                @if index == 0 {
                    th scope="row" role="rowheader" class=(class) { (text) }
                } @else {
                    td role="cell" class=(class) data-label=(column.title) { (text) }
                }
            }
        }
    }
}

/// Tone is said by words; the edge beside a row is whole, dashed or doubled, so that it also reads without colour.
const STYLE: &str = "
:root{--paper:#f4f2ee;--ink:#1d1f21;--soft:#5d6166;--rule:#c9c5bd;--edge:#8a4b2a;color-scheme:light dark}
@media(prefers-color-scheme:dark){:root{--paper:#1b1d1f;--ink:#ece9e3;--soft:#a5a9ad;--rule:#43474b;--edge:#d08a5c}}
*{box-sizing:border-box}
body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.5 Charter,Cambria,Georgia,serif;overflow-wrap:anywhere}
main{max-width:56rem;margin:0 auto;padding:1.5rem 1.25rem 3rem}
header{border-top:.5rem solid var(--ink);padding:.9rem 0 .2rem}
header.doubtful{border-top-style:dashed}
header.bad{border-top-style:double;border-top-width:.75rem}
h1{font-size:clamp(1.3rem,4.2vw,1.9rem);line-height:1.22;margin:0;font-weight:700;text-wrap:balance}
h2{font-size:1.02rem;margin:1.9rem 0 .4rem;padding-bottom:.15rem;border-bottom:1px solid var(--rule);break-after:avoid}
p,ul{margin:.5rem 0}ul{padding-left:1.2rem}li{margin:.15rem 0}
dl{margin:.6rem 0}dl div{display:flex;gap:1rem;padding:.12rem 0}
dt{flex:0 0 9.5rem;color:var(--soft)}dd{margin:0}
.sheet{overflow-x:auto;margin:1rem 0}
table{border-collapse:collapse;width:100%;font-size:.95rem;font-variant-numeric:tabular-nums lining-nums}
th,td{padding:.34rem .7rem;vertical-align:top;text-align:left;overflow-wrap:normal}
thead th{border-bottom:2px solid var(--ink);color:var(--soft);font-weight:600;vertical-align:bottom}
tbody tr{border-bottom:1px solid var(--rule)}tbody th{font-weight:600}
.n{text-align:right;white-space:nowrap}.b{white-space:nowrap}
tbody tr th{border-left:.32rem solid transparent}
tr.good th:first-child{border-left-color:var(--ink)}
tr.doubtful th:first-child{border-left:.32rem dashed var(--edge)}
tr.bad th:first-child{border-left:.32rem double var(--edge)}
footer{margin-top:2.2rem;border-top:2px solid var(--ink);font-weight:600}
@media screen and (max-width:38rem){
dt{flex-basis:8rem}
.sheet{overflow:visible}table,tbody{display:block}thead{position:absolute;clip-path:inset(50%);width:1px;height:1px;overflow:hidden}
tbody tr{display:grid;grid-template-columns:repeat(auto-fill,minmax(9.5rem,1fr));gap:.1rem 1rem;padding:.5rem 0 .55rem .6rem}
tbody tr:first-child{border-top:2px solid var(--ink)}
tr[class] th,tr[class] td{display:block;padding:0;text-align:left;white-space:normal;overflow-wrap:anywhere}
tr[class] th,tr[class] td.l{grid-column:1/-1}
tbody td::before{content:attr(data-label);margin-right:.55em;color:var(--soft)}
tbody tr[class] th:first-child{border-left:0 none}
tbody tr{border-left:.32rem solid transparent}
tr.good{border-left-color:var(--ink)}tr.doubtful{border-left:.32rem dashed var(--edge)}tr.bad{border-left:.32rem double var(--edge)}}
@media print{@page{margin:14mm}:root{--paper:#fff;--ink:#000;--soft:#333;--rule:#999;--edge:#000}
main{max-width:none;padding:0}body{font-size:10pt;line-height:1.35}.sheet{overflow:visible}tr,li{break-inside:avoid}}
";

#[cfg(test)]
mod tests {
    use super::super::page::{Column, Notice};
    use super::*;

    #[test]
    fn a_table_says_under_what_it_stands_and_each_cell_under_what_column() {
        let mut page = Page::new(Tone::Good, "Hang 3/8 in.", Notice::default());
        let mut table =
            Table::new(vec![Column::words("plate"), Column::numbers("in hand"), Column::words("what governs")]);
        table.push(
            Tone::Good,
            vec![Some("3/8 in".into()), Some("4 %".into()), Some("energy 2371 / 2800 ft·lbf".into())],
        );
        page.push(Block::Table(table.clone()));
        page.push(Block::Heading("Side by side".into()));
        page.push(Block::Table(table));
        let text = render(&page);
        for label in ["Hang 3/8 in.", "Side by side"] {
            assert!(text.contains(&format!("role=\"region\" aria-label=\"{label}\"")), "{label}\n{text}");
        }
        assert!(text.contains("<th scope=\"row\" role=\"rowheader\" class=\"b\">3/8 in</th>"), "{text}");
        assert!(text.contains("<td role=\"cell\" class=\"n\" data-label=\"in hand\">4 %</td>"), "{text}");
        assert!(text.contains("class=\"l\" data-label=\"what governs\""), "{text}");
    }

    #[test]
    fn text_is_escaped_and_the_document_is_whole_and_alone() {
        let mut page = Page::new(Tone::Bad, "<script>alert(1)</script>", Notice::default());
        let mut table = Table::new(vec![Column::words("a<b"), Column::numbers("n")]);
        table.push(Tone::Bad, vec![Some("\"x\"&y".into()), None]);
        page.push(Block::Table(table));
        let text = render(&page);
        assert!(!text.contains("<script") && text.contains("&lt;script&gt;"));
        assert!(text.contains("a&lt;b") && text.contains("range officer") && text.contains("data-label=\"n\">–</td>"));
        for foreign in ["http:", "https:", "src=", "url("] {
            assert!(!text.contains(foreign), "{foreign}");
        }
    }
}
