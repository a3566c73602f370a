//! Pages as text, for a terminal or a pipe.

use super::page::{Align, Block, Page, Table, Tone};
use comfy_table::{
    Cell, CellAlignment, ColumnConstraint, ContentArrangement, ContentLineStyle, LineStyle, TableStyle, Width,
};
use std::fmt::Write;
use textwrap::Options;
use textwrap::core::display_width;

/// Width where standard output is no terminal.
pub const PIPE_WIDTH: usize = 80;
const MIN_WIDTH: usize = 40;
const MAX_WIDTH: usize = 110;
/// Space behind each cell.
const PADDING: usize = 1;
/// Cells this short stand on one line.
const BRIEF: usize = 12;
/// What a column of longer words has at least while others are given theirs.
const CRAMPED: usize = 8;
/// No column wants more than this.
const LONG_LINE: usize = 60;

/// Renders a page to text no wider than `width`.
#[must_use]
pub fn render(page: &Page, width: Option<usize>, colour: bool) -> String {
    let width = width.unwrap_or(PIPE_WIDTH).clamp(MIN_WIDTH, MAX_WIDTH);
    let mut out = String::new();
    let headline = textwrap::fill(&page.headline, width);
    if colour {
        let _ = writeln!(out, "\u{1b}[1;{}m{headline}\u{1b}[0m", code(page.tone));
    } else {
        let _ = writeln!(out, "{headline}");
    }
    for block in &page.blocks {
        let text = match block {
            Block::Heading(text) => {
                out.push('\n');
                textwrap::fill(text, width) + "\n"
            }
            Block::Text(text) => format!("\n{}\n", textwrap::fill(text, width)),
            Block::List(items) => items.iter().map(|item| listed(item, width)).collect(),
            Block::Facts(facts) => self::facts(facts, width),
            Block::Table(table) => self::table(table, width, colour),
        };
        out.push_str(&text);
    }
    let _ = writeln!(out, "\n{}", textwrap::fill(page.notice().text(), width));
    out
}

fn code(tone: Tone) -> &'static str {
    match tone {
        Tone::Plain => "39",
        Tone::Good => "32",
        Tone::Doubtful => "33",
        Tone::Bad => "31",
    }
}

fn listed(item: &str, width: usize) -> String {
    textwrap::fill(item, Options::new(width).initial_indent("  - ").subsequent_indent("    ")) + "\n"
}

fn facts(facts: &[(String, String)], width: usize) -> String {
    let label_width = facts.iter().map(|(label, _)| label.chars().count()).max().unwrap_or(0).min(width / 2);
    let indent = " ".repeat(label_width + 4);
    let line = |(label, value): &(String, String)| {
        let lead = format!("  {label:label_width$}  ");
        textwrap::fill(value, Options::new(width).initial_indent(&lead).subsequent_indent(&indent)) + "\n"
    };
    facts.iter().map(line).collect()
}

fn table(table: &Table, width: usize, colour: bool) -> String {
    let mut rendered = comfy_table::Table::new();
    // Columns stand apart by space alone; one rule under the heads.
    let style = TableStyle::new()
        .header_lines(ContentLineStyle::none().junction(' '))
        .header_separator(LineStyle::none().fill('╌').junction(' '))
        .content_lines(ContentLineStyle::none().junction(' '));
    rendered.load_style(style).set_content_arrangement(ContentArrangement::Dynamic);
    rendered.set_width(u16::try_from(width).unwrap_or(80));
    let aligned = |text: &str, align: Align| {
        Cell::new(text).set_alignment(match align {
            Align::Left => CellAlignment::Left,
            Align::Right => CellAlignment::Right,
        })
    };
    rendered.set_header(table.columns.iter().map(|c| aligned(&c.title, c.align)).collect::<Vec<_>>());
    for row in &table.rows {
        let cells = row.cells.iter().zip(&table.columns);
        rendered.add_row(cells.map(|(cell, c)| aligned(cell.as_deref().unwrap_or("–"), c.align)).collect::<Vec<_>>());
    }
    for (column, width) in rendered.column_iter_mut().zip(widths(table, width)) {
        column.set_padding((0, 1));
        column.set_constraint(ColumnConstraint::Absolute(Width::Fixed(u16::try_from(width).unwrap_or(u16::MAX))));
    }
    let mut out = String::new();
    for line in rendered.lines() {
        let line = line.trim_end();
        let _ = writeln!(out, "{}", if colour { coloured(line) } else { line.to_owned() });
    }
    out
}

/// What a column wants, its padding included.
struct Need {
    /// Its longest cell on one line.
    natural: usize,
    /// Its longest word, or its longest cell where it is of numbers or brief: none is broken.
    least: usize,
    whole: bool,
}

impl Need {
    fn of(table: &Table, index: usize) -> Self {
        let column = &table.columns[index];
        let cells = || table.rows.iter().filter_map(|row| row.cells.get(index)?.as_deref());
        let words = |text: &str| text.split_whitespace().map(display_width).max().unwrap_or(0);
        let longest = cells().map(display_width).max().unwrap_or(0);
        let whole = column.align == Align::Right || longest <= BRIEF;
        let natural = longest.max(display_width(&column.title)) + PADDING;
        let broken = cells().chain([column.title.as_str()]).map(words).max().unwrap_or(0) + PADDING;
        Self { natural, least: if whole { natural } else { broken }, whole }
    }
}

/// The widths of the columns, none wider than it wants. A name broken in two can't be typed in again, so the first
/// column has what it needs before the others, then numbers and what is brief, then short words; the rest of the
/// room is shared as it is wanted.
fn widths(table: &Table, width: usize) -> Vec<usize> {
    let needs: Vec<Need> = (0..table.columns.len()).map(|index| Need::of(table, index)).collect();
    let room = width.saturating_sub(needs.len().saturating_sub(1));
    let begin = CRAMPED.min(room / needs.len().max(1)).max(PADDING + 1);
    let mut widths: Vec<usize> = needs.iter().map(|need| need.least.min(begin)).collect();
    let spare = |widths: &[usize]| room.saturating_sub(widths.iter().sum());
    let mut order: Vec<usize> = (0..needs.len()).collect();
    order.sort_by_key(|&index| (index != 0, !needs[index].whole, needs[index].least));
    for &index in &order {
        widths[index] += (needs[index].least - widths[index]).min(spare(&widths));
    }
    // A column of paragraphs counts as one of long lines, so that it leaves room to its neighbours.
    let wants: Vec<usize> =
        needs.iter().zip(&widths).map(|(n, w)| n.natural.min(LONG_LINE).saturating_sub(*w)).collect();
    let (room, all) = (spare(&widths), wants.iter().sum::<usize>().max(1));
    for (width, want) in widths.iter_mut().zip(wants) {
        *width += (room * want / all).min(want);
    }
    widths
}

/// Colours the verdict words of a line: they stay words.
fn coloured(line: &str) -> String {
    let mut line = line.to_owned();
    for (word, tone) in [("unsuitable", Tone::Bad), ("borderline", Tone::Doubtful), ("suits", Tone::Good)] {
        line = line.replace(word, &format!("\u{1b}[{}m{word}\u{1b}[0m", code(tone)));
    }
    line
}

#[cfg(test)]
mod tests {
    use super::super::page::{Column, Notice};
    use super::*;

    fn page() -> Page {
        let mut page = Page::new(Tone::Good, "Hang 3/8 in.", Notice::default());
        let mut table =
            Table::new(vec![Column::words("plate"), Column::numbers("in hand"), Column::words("what governs")]);
        table.push(Tone::Good, vec![Some("3/8 in".into()), Some("4 %".into()), Some("demand".into())]);
        let long =
            "a very long reason that has to be wrapped because no terminal of eighty columns would hold it whole";
        table.push(Tone::Bad, vec![Some("1/4 in".into()), None, Some(long.into())]);
        page.push(Block::Table(table));
        page.push_list("Cautions", vec![long.into()]);
        page.push(Block::Facts(vec![("load".into(), long.into())]));
        page
    }

    #[test]
    fn nothing_is_wider_than_the_width_and_absent_is_a_dash() {
        for width in [40, 60, 80, 100] {
            let text = render(&page(), Some(width), false);
            let widest = text.lines().map(|l| l.chars().count()).max().unwrap_or(0);
            assert!(widest <= width, "{width}: {widest}\n{text}");
            assert!(text.contains('–'));
        }
    }

    #[test]
    fn a_name_is_not_broken_in_two() {
        let mut page = Page::new(Tone::Plain, "Loads", Notice::default());
        let mut table = Table::new(vec![Column::words("name"), Column::words("construction"), Column::words("source")]);
        let source = "a source that takes several lines since it is told with all that belongs to it, and then some";
        table
            .push(Tone::Plain, vec![Some("300wm-190-match".into()), Some("jacketed-lead".into()), Some(source.into())]);
        page.push(Block::Table(table));
        for width in [40, 60, 80] {
            let text = render(&page, Some(width), false);
            assert!(text.contains("300wm-190-match"), "{width}\n{text}");
            assert!(text.contains("jacketed-lead") || width < 50, "{width}\n{text}");
            assert!(text.lines().all(|line| line.chars().count() <= width), "{width}\n{text}");
        }
    }

    #[test]
    fn many_columns_share_a_narrow_terminal() {
        let mut page = Page::new(Tone::Plain, "Plates", Notice::default());
        let mut table = Table::new((0..9).map(|n| Column::numbers(format!("column {n}"))).collect());
        table.push(Tone::Plain, vec![Some("1820 Hz".into()); 9]);
        page.push(Block::Table(table));
        let text = render(&page, Some(40), false);
        assert!(text.lines().all(|line| line.chars().count() <= 40), "{text}");
    }

    #[test]
    fn the_answer_is_the_first_line_and_the_notice_the_last_words() {
        let text = render(&page(), None, false);
        assert!(text.starts_with("Hang 3/8 in.\n"));
        assert!(text.trim_end().ends_with("the stricter wins."));
        assert!(!text.contains('\u{1b}'));
    }

    #[test]
    fn colour_adds_nothing_but_escapes() {
        let plain = render(&page(), None, false);
        let mut coloured = render(&page(), None, true);
        for code in ["\u{1b}[0m", "\u{1b}[1;32m", "\u{1b}[32m", "\u{1b}[31m", "\u{1b}[33m"] {
            coloured = coloured.replace(code, "");
        }
        assert_eq!(plain, coloured);
    }
}
