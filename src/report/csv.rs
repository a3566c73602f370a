//! Tables as CSV: one table, its header first, numbers as numbers, nothing where there is no value.
//!
//! What a spreadsheet would take for a formula gets an apostrophe in front.

use super::table::{Table, Value};

pub(super) fn table(table: &Table) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing to memory can't fail; a row of another length can't be built from a page's own table.
    let _ = writer.write_record(table.columns.iter().map(|column| safe(&column.name())));
    for row in &table.rows {
        let _ = writer.write_record(row.cells.iter().map(|cell| match cell {
            Value::Number { .. } => cell.plain(),
            Value::None | Value::Words(_) => safe(&cell.plain()),
        }));
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
    use super::super::table::{Column, Rounding};
    use super::super::tone::Tone;
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
    fn absent_is_empty_a_number_is_bare_and_a_formula_is_disarmed() {
        let margin = Column::measured("margin", "margin", "%");
        let mut table = Table::new(vec![Column::words("load"), margin, Column::words("note")]);
        table.push_cells(Tone::Plain, vec!["=1+1".into(), Value::None, Value::None]);
        table.push_cells(Tone::Plain, vec!["a, b".into(), Value::number(-12.4, 0, Rounding::Down), "-5 °F".into()]);
        assert_eq!(super::table(&table), "load,margin_percent,note\n'=1+1,,\n\"a, b\",-13,-5 °F\n");
    }
}
