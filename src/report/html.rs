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
                    @for block in &page.blocks { (self::block(block)) }
                    footer { p { (page.notice().text()) } }
                }
            }
        }
    }
    .into_string()
}

fn tone(tone: Tone) -> &'static str {
    match tone {
        Tone::Plain => "plain",
        Tone::Good => "good",
        Tone::Doubtful => "doubtful",
        Tone::Bad => "bad",
    }
}

fn block(block: &Block) -> Markup {
    match block {
        Block::Heading(text) => html! { h2 { (text) } },
        Block::Text(text) => html! { p { (text) } },
        Block::List(items) => html! { ul { @for item in items { li { (item) } } } },
        Block::Facts(facts) => html! { dl { @for (label, value) in facts { div { dt { (label) } dd { (value) } } } } },
        Block::Table(table) => self::table(table),
    }
}

fn table(table: &Table) -> Markup {
    let class = |index: usize| match table.columns.get(index).map(|c| c.align) {
        Some(Align::Right) => "n",
        _ => "w",
    };
    html! {
        div.sheet { table {
            thead { tr { @for (index, column) in table.columns.iter().enumerate() {
                th scope="col" class=(class(index)) { (column.title) }
            } } }
            tbody { @for row in &table.rows { (self::row(row, class)) } }
        } }
    }
}

fn row(row: &Row, class: impl Fn(usize) -> &'static str) -> Markup {
    html! {
        tr class=(tone(row.tone)) {
            @for (index, cell) in row.cells.iter().enumerate() {
                @let text = cell.as_deref().unwrap_or("–");
                @if index == 0 { th scope="row" class=(class(0)) { (text) } } @else { td class=(class(index)) { (text) } }
            }
        }
    }
}

/// Tone is said by words; the edge beside a row is whole, dashed or doubled, so that it also reads without colour.
const STYLE: &str = "
:root{--paper:#f4f2ee;--ink:#1d1f21;--soft:#5d6166;--rule:#c9c5bd;--edge:#8a4b2a}
@media(prefers-color-scheme:dark){:root{--paper:#1b1d1f;--ink:#ece9e3;--soft:#a5a9ad;--rule:#43474b;--edge:#d08a5c}}
*{box-sizing:border-box}
body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.5 Charter,Cambria,Georgia,serif}
main{max-width:56rem;margin:0 auto;padding:1.5rem 1.25rem 3rem}
header{border-top:.5rem solid var(--ink);padding:.9rem 0 .2rem}
header.doubtful{border-top-style:dashed}
header.bad{border-top-style:double;border-top-width:.75rem}
h1{font-size:clamp(1.3rem,4.2vw,1.9rem);line-height:1.22;margin:0;font-weight:700;text-wrap:balance}
h2{font-size:1.02rem;margin:1.9rem 0 .4rem;padding-bottom:.15rem;border-bottom:1px solid var(--rule)}
p,ul{margin:.5rem 0}ul{padding-left:1.2rem}li{margin:.15rem 0}
dl{margin:.6rem 0}dl div{display:flex;gap:1rem;padding:.12rem 0}
dt{flex:0 0 9.5rem;color:var(--soft)}dd{margin:0}
.sheet{overflow-x:auto;margin:1rem 0}
table{border-collapse:collapse;width:100%;font-size:.95rem;font-variant-numeric:tabular-nums lining-nums}
th,td{padding:.34rem .7rem;vertical-align:top;text-align:left}
thead th{border-bottom:2px solid var(--ink);color:var(--soft);font-weight:600;white-space:nowrap}
tbody tr{border-bottom:1px solid var(--rule)}tbody th{font-weight:600}
.n{text-align:right;white-space:nowrap}
tbody tr th{border-left:.32rem solid transparent}
tr.good th:first-child{border-left-color:var(--ink)}
tr.doubtful th:first-child{border-left:.32rem dashed var(--edge)}
tr.bad th:first-child{border-left:.32rem double var(--edge)}
footer{margin-top:2.2rem;border-top:2px solid var(--ink);font-weight:600}
@media(max-width:32rem){dl div{flex-direction:column;gap:0}th,td{padding:.3rem .45rem}}
@media print{@page{margin:14mm}:root{--paper:#fff;--ink:#000;--soft:#333;--rule:#999;--edge:#000}
main{max-width:none;padding:0}body{font-size:10pt;line-height:1.35}.sheet{overflow:visible}tr,li{break-inside:avoid}}
";

#[cfg(test)]
mod tests {
    use super::super::page::{Column, Notice};
    use super::*;

    #[test]
    fn text_is_escaped_and_the_document_is_whole_and_alone() {
        let mut page = Page::new(Tone::Bad, "<script>alert(1)</script>", Notice::default());
        let mut table = Table::new(vec![Column::words("a<b"), Column::numbers("n")]);
        table.push(Tone::Bad, vec![Some("\"x\"&y".into()), None]);
        page.push(Block::Table(table));
        let text = render(&page);
        assert!(!text.contains("<script") && text.contains("&lt;script&gt;"));
        assert!(text.contains("a&lt;b") && text.contains("range officer") && text.contains("<td class=\"n\">–</td>"));
        for foreign in ["http:", "https:", "src=", "url("] {
            assert!(!text.contains(foreign), "{foreign}");
        }
    }
}
