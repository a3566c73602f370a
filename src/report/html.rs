//! Pages as HTML: one file without script or foreign parts, for a screen, a phone or a wall.

use super::page::{Block, Kind, Page};
use super::style;
use super::table::{Align, Column, Place, Row, Table};
use super::text::bound;
use super::tone::Tone;
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
                style { (PreEscaped(style::of(page.kind))) }
            }
            body { main class=(kind(page.kind)) { (body(page)) } }
        }
    }
    .into_string()
}

/// Renders a page without frame and style.
#[must_use]
pub fn fragment(page: &Page) -> String {
    html! { section class=(format!("thickset {}", kind(page.kind))) { (body(page)) } }.into_string()
}

fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Answer => "answer",
        Kind::Customer => "customer",
        Kind::WallChart => "wall",
        Kind::DistanceTable => "product",
        Kind::Tag => "tag",
        Kind::CloseTag => "tag close",
    }
}

fn body(page: &Page) -> Markup {
    html! {
        header class=(tone(page.tone)) {
            h1 { (bound(&page.headline)) }
            @for line in &page.lead { p { (bound(line)) } }
        }
        (blocks(page))
        @if let Some(notice) = page.notice() { footer { p { (notice.text()) } } }
    }
}

/// The blocks, each under the words it stands under; tables of a wall chart stand in columns together.
fn blocks(page: &Page) -> Markup {
    let shown: Vec<&Block> = page.blocks.iter().filter(|block| is_shown(block)).collect();
    if page.kind != Kind::WallChart {
        return html! { @for (block, heading) in headed(&page.headline, &shown) { (self::block(block, heading)) } };
    }
    let (tables, rest): (Vec<&Block>, Vec<&Block>) =
        shown.into_iter().partition(|block| matches!(block, Block::Heading(_) | Block::Table(_)));
    let lines: usize = tables.iter().map(|block| if let Block::Table(table) = block { lines(table) } else { 1 }).sum();
    html! {
        @for block in rest { (self::block(block, &page.headline)) " " }
        div class=(style::columns(lines)) {
            @for block in tables { (self::block(block, label_of(block).as_deref().unwrap_or(&page.headline))) }
        }
    }
}

/// Letters of a name on a line of a wall chart.
const NAME: usize = 64;

/// The lines of a table on a wall: long names wrap.
fn lines(table: &Table) -> usize {
    let name = |row: &Row| row.cells.first().map_or(0, |cell| cell.plain().chars().count());
    1 + table.rows.iter().map(|row| name(row).div_ceil(NAME).max(1)).sum::<usize>()
}

/// What a table of a wall chart is of: the head of its first column.
fn label_of(block: &Block) -> Option<String> {
    match block {
        Block::Table(table) => table.columns.first().map(Column::head),
        _ => None,
    }
}

fn is_shown(block: &Block) -> bool {
    !matches!(block, Block::Table(table) if table.place == Place::Spreadsheet)
}

/// Each block with the words it stands under.
fn headed<'a>(headline: &'a str, blocks: &'a [&'a Block]) -> impl Iterator<Item = (&'a Block, &'a str)> {
    blocks.iter().scan(headline, |heading, block| {
        if let Block::Heading(text) = block {
            *heading = text;
        }
        Some((*block, *heading))
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
        Block::Text(text) => html! { p { (bound(text)) } },
        Block::Note(label, text) => {
            html! { p.note { @if !label.is_empty() { b { (label) ":" } " " } (bound(text)) } }
        }
        Block::List(items) => html! { ul { @for item in items { li { (bound(item)) } } } },
        Block::Facts(facts) => {
            html! { dl { @for (label, value) in facts { div { dt { (label) } dd { (bound(value)) } } } } }
        }
        Block::Table(table) => self::table(table, heading),
        Block::Figure(figure) => figure.markup(),
    }
}

/// A table, in a region that scrolls by itself where the table is too broad.
fn table(table: &Table, heading: &str) -> Markup {
    let classes: Vec<&str> = (0..table.columns.len()).map(|index| class(table, index)).collect();
    html! {
        div.sheet { table aria-label=(heading) {
            thead { tr { @for (column, class) in table.columns.iter().zip(&classes) {
                th scope="col" class=(class) { (column.head()) }
            } } }
            tbody { @for row in &table.rows { (self::row(row, table, &classes)) } }
        } }
    }
}

/// Words this short stand on one line.
const BRIEF: usize = 14;
/// Words longer than this have a card's whole width.
const LONG: usize = 18;

/// How a column is set: numbers, brief words, words, or long ones.
fn class(table: &Table, index: usize) -> &'static str {
    let Some(column) = table.columns.get(index) else { return "b" };
    if column.align == Align::Right {
        return "n";
    }
    let cells = table.rows.iter().filter_map(|row| row.cells.get(index)?.text(column));
    match cells.map(|text| text.chars().count()).max() {
        Some(longest) if longest > LONG => "l",
        Some(longest) if longest > BRIEF => "w",
        _ => "b",
    }
}

fn row(row: &Row, table: &Table, classes: &[&str]) -> Markup {
    let cells = row.cells.iter().zip(&table.columns).zip(classes).enumerate();
    let class = if row.named { format!("{} named", tone(row.tone)) } else { tone(row.tone).into() };
    html! {
        tr class=(class) {
            @for (index, ((cell, column), class)) in cells {
                @let text = cell.text(column).unwrap_or_else(|| "–".into());
                @if index == 0 {
                    th scope="row" class=(class) { (bound(&text)) }
                } @else {
                    td class=(class) data-label=(label(column)) { (bound(&text)) }
                }
            }
        }
    }
}

/// What a cell is called where it stands without its column's head.
fn label(column: &Column) -> String {
    column.head()
}

#[cfg(test)]
mod tests {
    use super::super::page::Notice;
    use super::*;

    #[test]
    fn a_table_says_under_what_it_stands_and_each_cell_under_what_column() {
        let mut page = Page::new(Tone::Good, "Hang 3/8 in.", Notice::default());
        let mut table =
            Table::new(vec![Column::words("plate"), Column::numbers("margin"), Column::words("what governs")]);
        table.push(
            Tone::Good,
            vec![Some("3/8 in".into()), Some("4 %".into()), Some("energy 2371 / 2800 ft·lbf".into())],
        );
        page.push(Block::Table(table.clone()));
        page.push(Block::Heading("Side by side".into()));
        page.push(Block::Table(table));
        let text = render(&page);
        for label in ["Hang 3/8 in.", "Side by side"] {
            assert!(text.contains(&format!("<table aria-label=\"{label}\"")), "{label}\n{text}");
        }
        assert!(text.contains("<th scope=\"row\" class=\"b\">3/8\u{a0}in</th>"), "{text}");
        assert!(text.contains("<td class=\"n\" data-label=\"margin\">4\u{a0}%</td>"), "{text}");
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
