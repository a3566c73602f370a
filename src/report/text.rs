//! Pages as text, for a terminal or a pipe.

use super::page::{Block, Page};
use super::table::{Align, Column, Place, Row, Table};
use super::tone::Tone;
use crate::order::Order;
use comfy_table::{
    Cell, CellAlignment, ColumnConstraint, ContentArrangement, ContentLineStyle, LineStyle, TableStyle, Width,
};
use std::fmt::Write;
use textwrap::core::display_width;
use textwrap::{Options, WordSeparator, WordSplitter};

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
    let headline = fill(&page.headline, width, "", "");
    if colour {
        let _ = writeln!(out, "\u{1b}[1;{}m{headline}\u{1b}[0m", code(page.tone));
    } else {
        let _ = writeln!(out, "{headline}");
    }
    for line in &page.lead {
        let _ = writeln!(out, "{}", fill(line, width, "", ""));
    }
    let mut before = None;
    for block in page.blocks.iter().filter(|block| is_shown(block)) {
        if stands_apart(before, block) {
            out.push('\n');
        }
        out.push_str(&self::block(block, width, colour));
        before = Some(block);
    }
    if let Some(notice) = page.notice() {
        let _ = writeln!(out, "\n{}", fill(notice.text(), width, "", ""));
    }
    out
}

fn is_shown(block: &Block) -> bool {
    match block {
        Block::Table(table) => table.place != Place::Spreadsheet,
        Block::Figure(_) => false,
        _ => true,
    }
}

/// Paragraphs with labels follow each other closely; a list or a table belongs to the heading above it.
fn stands_apart(before: Option<&Block>, block: &Block) -> bool {
    !matches!(
        (before, block),
        (Some(Block::Heading(_)), _)
            | (Some(Block::Note(..)), Block::Note(..))
            | (Some(Block::List(_)), Block::List(_))
    )
}

fn block(block: &Block, width: usize, colour: bool) -> String {
    match block {
        Block::Heading(text) | Block::Text(text) => fill(text, width, "", "") + "\n",
        // A paragraph that goes on under the label before it.
        Block::Note(label, text) if label.is_empty() => fill(text, width, "  ", "  ") + "\n",
        Block::Note(label, text) => fill(&format!("{label}: {text}"), width, "", "") + "\n",
        Block::List(items) => items.iter().map(|item| fill(item, width, "  - ", "    ") + "\n").collect(),
        Block::Facts(facts) => self::facts(facts, width),
        Block::Table(table) => self::table(table, width, colour),
        Block::Figure(_) => String::new(),
    }
}

/// Wraps at spaces alone: a name broken at its hyphen can't be typed in again, and a number stays by its unit.
fn fill(text: &str, width: usize, first: &str, rest: &str) -> String {
    let options = Options::new(width)
        .initial_indent(first)
        .subsequent_indent(rest)
        .word_separator(WordSeparator::AsciiSpace)
        .word_splitter(WordSplitter::NoHyphenation);
    textwrap::fill(&bound(text), options).replace('\u{a0}', " ")
}

/// The text with a space that does not break between each number and its unit.
pub(super) fn bound(text: &str) -> String {
    const UNITS: [&str; 28] = [
        "yd", "m", "in", "mm", "ft", "ft/s", "m/s", "ft·lbf", "J", "lb", "kg", "gr", "g", "°F", "°C", "%", "Hz", "s",
        "x", "h", "inHg", "hPa", "kPa", "psi", "lb·ft/s", "kg·m/s", "rounds", "dB",
    ];
    let mut out = String::with_capacity(text.len());
    let mut words = text.split(' ').peekable();
    while let Some(word) = words.next() {
        out.push_str(word);
        if let Some(next) = words.peek() {
            let unit = next.trim_end_matches([',', ';', ':', '.', ')', '?']);
            out.push(if word.ends_with(|c: char| c.is_ascii_digit()) && UNITS.contains(&unit) {
                '\u{a0}'
            } else {
                ' '
            });
        }
    }
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

fn facts(facts: &[(String, String)], width: usize) -> String {
    let label_width = facts.iter().map(|(label, _)| display_width(label)).max().unwrap_or(0).min(width / 2);
    let indent = " ".repeat(label_width + 4);
    let line = |(label, value): &(String, String)| {
        let lead = format!("  {label:label_width$}  ");
        fill(value, width, &lead, &indent) + "\n"
    };
    facts.iter().map(line).collect()
}

/// A table, folded where its columns have no room side by side.
fn table(table: &Table, width: usize, colour: bool) -> String {
    let parts = folded(table, width);
    parts.iter().map(|part| unfolded(part, width, colour)).collect::<Vec<_>>().join("\n")
}

/// Faults in lines no wider than `width`, parted at spaces; lines of a file are shown as they are.
#[must_use]
pub fn fitted(text: &str, width: usize) -> String {
    const HELP: &str = " = help: ";
    let mut out = String::with_capacity(text.len());
    for line in text.split_inclusive('\n') {
        let (words, end) = line.strip_suffix('\n').map_or((line, ""), |words| (words, "\n"));
        let shows_a_file = words.contains(" | ") || words.contains("-->");
        if shows_a_file || display_width(words) <= width {
            out.push_str(words);
        } else {
            let indent = words.find(HELP).map_or(2, |at| at + HELP.len());
            out.push_str(&fill(words, width.max(MIN_WIDTH), "", &" ".repeat(indent)));
        }
        out.push_str(end);
    }
    out
}

/// Whether a table wraps where standard output is no terminal.
pub(super) fn wraps(table: &Table) -> bool {
    let between = table.columns.len().saturating_sub(1);
    let needs = (0..table.columns.len()).map(|index| Need::of(table, index).natural);
    needs.sum::<usize>() + between > PIPE_WIDTH
}

/// The columns in as many tables as they need, the first column in each.
fn folded(table: &Table, width: usize) -> Vec<Table> {
    let least: Vec<usize> = (0..table.columns.len()).map(|index| Need::of(table, index).least + 1).collect();
    let Some((first, rest)) = least.split_first() else { return Vec::new() };
    let mut groups: Vec<Vec<usize>> = vec![vec![0]];
    let mut taken = *first;
    for (index, need) in rest.iter().enumerate().map(|(index, need)| (index + 1, *need)) {
        if taken + need > width + 1 && groups.last().is_some_and(|group| group.len() > 1) {
            groups.push(vec![0]);
            taken = *first;
        }
        taken += need;
        if let Some(group) = groups.last_mut() {
            group.push(index);
        }
    }
    groups.iter().map(|group| table.only(group)).collect()
}

/// Each row is set by itself with the same widths, so that it is known which lines are whose.
fn unfolded(table: &Table, width: usize, colour: bool) -> String {
    let widths = widths(table, width);
    let heads: Vec<String> = table.columns.iter().map(Column::head).collect();
    let mut out = String::new();
    for line in lines(&heads, table, &widths) {
        let _ = writeln!(out, "{line}");
    }
    for row in &table.rows {
        for line in lines(&texts(row, table), table, &widths) {
            if colour && row.tone != Tone::Plain {
                let _ = writeln!(out, "\u{1b}[{}m{line}\u{1b}[0m", code(row.tone));
            } else {
                let _ = writeln!(out, "{line}");
            }
        }
    }
    out
}

fn texts(row: &Row, table: &Table) -> Vec<String> {
    let cells = row.cells.iter().zip(&table.columns);
    cells.map(|(cell, column)| cell.text(column).unwrap_or_else(|| "–".into())).collect()
}

/// The lines of one row of cells: columns stand apart by space alone.
fn lines(cells: &[String], table: &Table, widths: &[usize]) -> Vec<String> {
    let mut rendered = comfy_table::Table::new();
    let style =
        TableStyle::new().header_separator(LineStyle::none()).content_lines(ContentLineStyle::none().junction(' '));
    rendered.load_style(style).set_content_arrangement(ContentArrangement::Dynamic);
    let cell = |(text, column): (&String, &Column)| {
        Cell::new(bound(text)).set_alignment(match column.align {
            Align::Left => CellAlignment::Left,
            Align::Right => CellAlignment::Right,
        })
    };
    rendered.add_row(cells.iter().zip(&table.columns).map(cell));
    for (column, width) in rendered.column_iter_mut().zip(widths) {
        column.set_padding((0, 1));
        column.set_constraint(ColumnConstraint::Absolute(Width::Fixed(u16::try_from(*width).unwrap_or(u16::MAX))));
    }
    rendered.lines().map(|line| line.trim_end().replace('\u{a0}', " ")).collect()
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
        let head = column.head();
        let cells: Vec<String> =
            table.rows.iter().filter_map(|row| row.cells.get(index)?.text(column)).map(|text| bound(&text)).collect();
        let words = |text: &str| text.split(' ').map(display_width).max().unwrap_or(0);
        let longest = cells.iter().map(|text| display_width(text)).max().unwrap_or(0);
        let whole = column.align == Align::Right || longest <= BRIEF;
        let natural = longest.max(display_width(&head)) + PADDING;
        let broken = cells.iter().chain([&head]).map(|text| words(text)).max().unwrap_or(0) + PADDING;
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
    order.order_by_key(|&index| (index != 0, !needs[index].whole, needs[index].least));
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

#[cfg(test)]
mod tests {
    use super::super::page::Notice;
    use super::*;

    fn page() -> Page {
        let mut page = Page::new(Tone::Good, "Hang 3/8 in.", Notice::default());
        let mut table =
            Table::new(vec![Column::words("plate"), Column::numbers("margin"), Column::words("what governs")]);
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
    fn a_fault_is_fitted_to_a_narrow_terminal_and_a_file_s_line_is_left() {
        let line = "3 | velocity = \"a very long line of a file that is shown as it stands there\"";
        let text = format!(
            "error: a fault whose words are more than fit on a line of forty columns\n{line}\n  = help: say it in \
             fewer words, or widen the terminal\n"
        );
        let fitted = fitted(&text, 40);
        assert!(fitted.lines().all(|told| told.chars().count() <= 40 || told == line), "{fitted}");
        assert_eq!(fitted.split_whitespace().collect::<Vec<_>>(), text.split_whitespace().collect::<Vec<_>>());
        assert!(fitted.contains("\n          widen"), "{fitted}");
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
