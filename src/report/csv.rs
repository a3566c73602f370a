//! Pages as CSV: the tables, with what is not a table as comment lines above them.
//!
//! A line that begins with `# ` carries the headline, the lists and the notice. A cell without a value is
//! empty. What a spreadsheet would take for a formula gets an apostrophe in front, also behind a comma of a
//! comment line, which it splits like any other; quotes there are single, so that none spans lines.

use super::page::{Block, Page, Table};

/// Renders a page to CSV.
#[must_use]
pub fn render(page: &Page) -> String {
    let mut out = String::new();
    comment(&mut out, &page.headline);
    for block in &page.blocks {
        match block {
            Block::Heading(text) | Block::Text(text) => comment(&mut out, text),
            Block::List(items) => {
                for item in items {
                    comment(&mut out, item);
                }
            }
            Block::Facts(facts) => {
                for (label, value) in facts {
                    comment(&mut out, &format!("{label}: {value}"));
                }
            }
            Block::Table(_) => {}
        }
    }
    comment(&mut out, page.notice().text());
    for block in &page.blocks {
        if let Block::Table(table) = block {
            out.push_str(&self::table(table));
        }
    }
    out
}

/// Where spreadsheets split a line.
const SEPARATORS: [char; 3] = [',', ';', '\t'];

fn comment(out: &mut String, text: &str) {
    let text = text.replace('"', "'");
    for line in text.lines() {
        out.push_str("# ");
        for (index, part) in line.split_inclusive(SEPARATORS).enumerate() {
            let words = part.trim_start();
            out.push_str(&part[..part.len() - words.len()]);
            if index > 0 && is_formula(words.trim_end_matches(SEPARATORS)) {
                out.push('\'');
            }
            out.push_str(words);
        }
        out.push('\n');
    }
}

fn table(table: &Table) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing to memory can't fail; a row of another length can't be built from a page's own table.
    let _ = writer.write_record(table.columns.iter().map(|c| safe(&c.title)));
    for row in &table.rows {
        let _ = writer.write_record(row.cells.iter().map(|cell| safe(cell.as_deref().unwrap_or(""))));
    }
    writer.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}

fn safe(cell: &str) -> String {
    if is_formula(cell) { format!("'{cell}") } else { cell.to_owned() }
}

/// Whether a spreadsheet would reckon with a cell. A number with its unit is none: `-12 %`, `-5 °F`.
fn is_formula(cell: &str) -> bool {
    // The last four are what a keyboard of full-width letters types.
    const BEGINNINGS: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];
    let cell = cell.trim_start();
    let number = || {
        let end = cell.find(|c: char| !(c.is_ascii_digit() || "+-.".contains(c))).unwrap_or(cell.len());
        let unit = |c: char| c.is_alphabetic() || " %°·/".contains(c);
        cell[..end].parse::<f64>().is_ok() && cell[end..].chars().all(unit)
    };
    cell.starts_with(BEGINNINGS) && !number()
}

#[cfg(test)]
mod tests {
    use super::super::page::{Column, Notice, Tone};
    use super::*;

    #[test]
    fn formulas_are_known_and_numbers_are_none() {
        for formula in ["=1+1", "+cmd|' /C x'!A0", "-1 +cmd|' /C x'!A0", "@SUM(A1)", " =1", "－1", "-", "-1+2", "--1"]
        {
            assert!(is_formula(formula), "{formula}");
        }
        for other in ["-12 %", "-5 °F", "-0.1°", "12 in", "– thin", "+5 ft/s", "", "a=1"] {
            assert!(!is_formula(other), "{other}");
        }
    }

    #[test]
    fn a_comment_line_holds_no_formula_and_no_open_quote() {
        let mut out = String::new();
        comment(&mut out, "x,=1+1; @A1, -5 °F, \"a\n=2");
        assert_eq!(out, "# x,'=1+1; '@A1, -5 °F, 'a\n# =2\n");
    }

    #[test]
    fn absent_is_empty_and_a_formula_is_disarmed() {
        let mut page = Page::new(Tone::Plain, "Loads", Notice::default());
        let mut table = Table::new(vec![Column::words("load"), Column::numbers("margin")]);
        table.push(Tone::Plain, vec![Some("=1+1".into()), None]);
        table.push(Tone::Plain, vec![Some("a, b".into()), Some("-12 %".into())]);
        page.push(Block::Table(table));
        let text = render(&page);
        assert!(text.starts_with("# Loads\n# Eye and ear"));
        assert!(text.ends_with("load,margin\n'=1+1,\n\"a, b\",-12 %\n"), "{text}");
    }
}
