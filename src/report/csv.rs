//! Pages as CSV: the tables, with what is not a table as comment lines above them.
//!
//! A line that begins with `# ` carries the headline, the lists and the notice. A cell without a value is
//! empty. A cell that a spreadsheet would take for a formula gets an apostrophe in front.

use super::page::{Block, Page, Table};

/// Renders a page to CSV.
#[must_use]
pub fn render(page: &Page) -> String {
    let mut out = String::new();
    let comment = |out: &mut String, text: &str| {
        for line in text.lines() {
            out.push_str("# ");
            out.push_str(line);
            out.push('\n');
        }
    };
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
    let number = cell.split([' ', '%']).next().is_some_and(|first| first.parse::<f64>().is_ok());
    if cell.starts_with(['=', '+', '-', '@']) && !number { format!("'{cell}") } else { cell.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::super::page::{Column, Notice, Tone};
    use super::*;

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
