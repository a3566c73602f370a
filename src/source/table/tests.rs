use super::*;
use crate::quantity::{BallisticCoefficient, Mass, Velocity, unit};

const COLUMNS: &[Column] = &[
    Column::words("shooter", &["bib"]),
    Column::words("load", &[]),
    Column::words("name", &[]).exact(),
    Column::measured::<Mass>("bullet", &["bullet weight"]),
    Column::measured::<Velocity>("velocity", &["muzzle velocity", "speed"]),
    Column::measured::<BallisticCoefficient>("bc", &[]),
];

fn read(text: &str) -> Result<Table, Diagnostic> {
    Table::read(&SourceText::new("loads.csv", text), COLUMNS, &[])
}

/// The bullets in grains and the speeds in ft/s.
fn values(text: &str) -> Vec<(f64, f64)> {
    let table = read(text).unwrap_or_else(|fault| panic!("{text}: {fault}"));
    assert!(table.faults().is_empty(), "{text}: {:?}", table.faults().shown());
    table
        .rows()
        .map(|row| {
            let bullet: Mass = row.cell("bullet").unwrap().quantity().unwrap();
            let speed: Velocity = row.cell("velocity").unwrap().quantity().unwrap();
            (unit::GRAIN.value(bullet), unit::FOOT_PER_SECOND.value(speed))
        })
        .collect()
}

#[test]
fn every_dialect_of_spreadsheets_reads_to_the_same_values() {
    for text in [
        "bullet (gr),velocity (ft/s)\n139.5,2650\n",
        "\u{feff}Bullet [gr];Velocity [fps]\r\n139,5;2650\r\n",
        "bullet\tmuzzle_velocity\n139,5 gr\t2650 ft/s\n",
        "# made by hand\n\n# second\nbullet weight (gr),speed fps,notes\n\"139.5\",2650,\"a, b\"\n",
        "velocity_ft_s,bullet gr\n2650,139.5\n",
        "bullet (gr);velocity (ft/s);;\n139,5;2650;;\n",
        "#,bullet (gr),velocity (ft/s)\n1,139.5,2650\n,,\n",
    ] {
        let read = values(text);
        assert_eq!(read.len(), 1, "{text}");
        assert!((read[0].0 - 139.5).abs() < 1e-9 && (read[0].1 - 2650.0).abs() < 1e-9, "{text}: {read:?}");
    }
}

#[test]
fn what_resembles_no_column_is_listed_and_what_resembles_one_is_refused() {
    let table = read("bib,Division,Lane,last name,bullet (gr),velocity (ft/s),,notes\n1,2,3,4,5,6,7,8\n").unwrap();
    assert_eq!(table.left_out(), ["Division", "Lane", "last name", "notes", "column 7"]);
    let table = read("bib,Bullet color,load #,loaded by,bullet sponsor\n1,2,3,4,5\n").unwrap();
    assert_eq!(table.left_out(), ["Bullet color", "load #", "loaded by", "bullet sponsor"]);
    for (head, said) in [
        ("bullet (grs)", "`grs` is not a unit of mass"),
        ("bulet (gr)", "resembles `bullet`"),
        ("laod", "resembles `load`"),
        ("bullet type", "resembles `bullet`"),
        ("round bullet", "resembles `bullet`"),
        ("shot load", "resembles `load`"),
        ("velocity 2 (ft/s)", "resembles `velocity`"),
        ("load (notes)", "no unit"),
    ] {
        let fault = read(&format!("bib,{head}\n1,2\n")).unwrap_err();
        assert!(fault.message.contains(said) && fault.help.is_some(), "{head}: {fault}");
        assert_eq!(fault.position(), Some((1, 5)), "{head}");
    }
}

#[test]
fn one_column_twice_is_refused_by_both_titles() {
    let fault = read("velocity (ft/s),muzzle velocity (m/s)\n1,2\n").unwrap_err();
    assert!(fault.message.contains("`velocity (ft/s)` and `muzzle velocity (m/s)`"), "{fault}");
}

#[test]
fn rows_that_cannot_be_cut_are_named_and_the_next_is_read() {
    let table = read("bib,load\n1,\"9mm-115\n2,9mm-124\n3,a,b\n4\n#5,9mm-147\n# six\n7,x,,\n").unwrap();
    let read: Vec<_> = table.rows().map(|row| (row.number(), row.cell("load").unwrap().text().into_owned())).collect();
    assert_eq!(read, [(3, "9mm-124".into()), (6, "9mm-147".into()), (8, "x".into())]);
    let told: Vec<String> = table.faults().shown().iter().map(ToString::to_string).collect();
    assert_eq!(told.len(), 3, "{told:?}");
    assert!(told[0].contains("row 2: a quote is not closed") && told[0].contains("loads.csv:2:3"), "{}", told[0]);
    assert!(told[1].contains("row 4: 3 cells, the head has 2"), "{}", told[1]);
    assert!(told[2].contains("rows 5 and 7: 1 cell, the head has 2"), "{}", told[2]);
}

#[test]
fn a_fault_of_a_cell_names_file_row_column_and_cell() {
    let table = read("bib;bullet (gr);velocity\n1;fast;2650\n").unwrap();
    let row = table.rows().next().unwrap();
    let fault = row.cell("bullet").unwrap().quantity::<Mass>().unwrap_err();
    let text = fault.to_string();
    assert!(text.contains("row 2, column `bullet (gr)`: `fast`") && text.contains("loads.csv:2:3"), "{text}");
    assert_eq!(fault.cell.unwrap().text.as_deref(), Some("fast"));
    let fault = row.cell("velocity").unwrap().quantity::<Velocity>().unwrap_err();
    let help = fault.help.as_ref().unwrap();
    assert!(help.contains("one of `ft/s`, `m/s`; or head the column with it, as `velocity (ft/s)`"), "{fault}");
}

#[test]
fn a_mapping_gives_a_foreign_title_a_column_and_sets_one_aside() {
    let source = SourceText::new("loads.csv", "V0,load notes,bib\n2650,x,1\n");
    let mapping = [("V0", "velocity (ft/s)"), ("load notes", IGNORE)];
    let table = Table::read(&source, COLUMNS, &mapping).unwrap();
    assert_eq!(table.left_out(), ["load notes"]);
    let speed: Velocity = table.rows().next().unwrap().cell("velocity").unwrap().quantity().unwrap();
    assert!((unit::FOOT_PER_SECOND.value(speed) - 2650.0).abs() < 1e-9);
    assert_eq!(table.mapped().collect::<Vec<_>>(), ["V0", "load notes"]);
    // A title that stands in another table holds there.
    let other =
        Table::read(&source, COLUMNS, &[("load note", IGNORE), ("load notes", IGNORE), ("V0", "velocity (ft/s)")])
            .unwrap();
    assert_eq!(other.mapped().collect::<Vec<_>>(), ["V0", "load notes"]);
    for bad in [("V0", "speeds and feeds"), ("V0", "velocity (furlong)")] {
        assert!(Table::read(&source, COLUMNS, &[bad, ("load notes", IGNORE)]).is_err(), "{bad:?}");
    }
}

#[test]
fn a_comma_is_decimal_only_where_it_can_be_read_in_one_way() {
    assert_eq!(pointed("139,5 gr", ';'), "139.5 gr");
    assert_eq!((pointed("790,4", ','), pointed("2648,125", ',')), ("790.4".into(), "2648.125".into()));
    for (text, separator) in
        [("2,655", ','), ("1,139,5", ','), ("1.139,5", ';'), ("1,139,5", ';'), (",5", ';'), ("a,5", ';')]
    {
        assert_eq!(pointed(text, separator), text);
    }
}

#[test]
fn an_empty_table_says_how_to_begin() {
    for text in ["", "\n# only words\n"] {
        let fault = read(text).unwrap_err();
        assert!(fault.help.as_ref().unwrap().contains("`velocity (ft/s)`"), "{fault}");
    }
}

#[test]
fn ten_thousand_bad_rows_keep_twenty_faults_and_count_the_rest() {
    // Rows of 3 to 27 cells, 400 of each.
    let row = |cells: usize| "1,".repeat(cells - 1) + "1\n";
    let rows: String = (0..10_000).map(|index| row(3 + index % 25)).collect();
    let table = read(&format!("bib,load\n{rows}")).unwrap();
    assert_eq!((table.faults().count(), table.faults().shown().len()), (10_000, crate::source::MAX_SHOWN_FAULTS));
    let told = table.faults().clone().into_told();
    assert!(told.last().unwrap().message.starts_with("2000 more faults"), "{:?}", told.last());
}

#[test]
fn rows_with_the_same_fault_are_told_together_and_each_is_counted() {
    let table = read("bib,load\n1,2,3\n1,2,3\n1,2\n1,2,3\n1,2,3,4\n1,2,3\n").unwrap();
    let told: Vec<String> = table.faults().shown().iter().map(ToString::to_string).collect();
    assert_eq!((table.faults().count(), told.len()), (5, 2), "{told:?}");
    assert!(told[0].starts_with("error: rows 2 and 3, 5 and 7: 3 cells"), "{}", told[0]);
    assert!(told[1].starts_with("error: row 6: 4 cells"), "{}", told[1]);
}

#[test]
fn all_heads_that_cannot_stand_are_told_at_once() {
    let fault = read("bulet (gr),velocity (mph),laod,bib\n1,2,3,4\n").unwrap_err();
    let told: Vec<&str> = std::iter::once(&fault).chain(&fault.also).map(|fault| fault.message.as_str()).collect();
    assert_eq!(told.len(), 3, "{told:?}");
    assert!(told[0].contains("bulet") && told[1].contains("`mph`") && told[2].contains("laod"), "{told:?}");
}

#[test]
fn no_help_gives_numbers_another_unit_than_their_own() {
    for head in ["velocity (mph)", "bullet (stones)", "velocity mph", "velocity (3 knots)"] {
        let fault = read(&format!("bib,{head}\n1,2\n")).unwrap_err();
        let help = fault.help.unwrap();
        assert!(
            help.contains("turn its numbers into") || help.contains("in the unit that its numbers are in"),
            "{help}"
        );
    }
    let fault = read("bib,velocity\n1,2650\n2,2700\n").unwrap_err();
    assert!(fault.message.contains("numbers without a unit") && fault.help.unwrap().contains("`m/s`"));
}

#[test]
fn a_name_that_gives_way_is_another_column_where_the_column_itself_stands() {
    const NUMBERED: &[Column] = &[Column::words("shooter", &["who"]).else_by(&["bib"]), Column::words("load", &[])];
    for text in ["bib,shooter,load\n7,Ann,x\n", "shooter,bib,load\nAnn,7,x\n"] {
        let table = Table::read(&SourceText::new("loads.csv", text), NUMBERED, &[]).unwrap();
        let row = table.rows().next().unwrap();
        assert_eq!((row.cell("shooter").unwrap().text(), table.left_out()), ("Ann".into(), &["bib".to_owned()][..]));
    }
    let text = SourceText::new("loads.csv", "bib,load\n7,x\n");
    let table = Table::read(&text, NUMBERED, &[]).unwrap();
    assert_eq!(table.rows().next().unwrap().cell("shooter").unwrap().text(), "7");
    assert!(Table::read(&SourceText::new("loads.csv", "who,shooter,load\nA,B,x\n"), NUMBERED, &[]).is_err());
}

#[test]
fn a_title_above_the_head_is_told_with_the_row_of_the_head() {
    let fault = read("Loads of May,,\nall at 50 yd,,\n\nbib,load,notes\n1,x,\n").unwrap_err();
    assert!(fault.message.contains("head seems to stand in row 4") && fault.help.unwrap().contains("`#`"));
}

#[test]
fn an_inch_mark_stands_behind_its_number_and_nowhere_else() {
    let table = read("bib,load\n3/8\",12\" x 20\"\n").unwrap();
    let row = table.rows().next().unwrap();
    assert_eq!(
        (row.cell("shooter").unwrap().text(), row.cell("load").unwrap().text()),
        ("3/8\"".into(), "12\" x 20\"".into())
    );
    assert_eq!(read("bib,load\n1,a\"b\n").unwrap().faults().count(), 1);
}

#[test]
fn thousands_are_read_where_nothing_is_as_small_as_the_number_with_a_point() {
    for (text, number) in
        [("2,600", Some("2600")), ("2,600.5", Some("2600.5")), ("2,6", None), ("0,600", None), ("12,600", None)]
    {
        assert_eq!(without_thousands(text).as_deref(), number, "{text}");
    }
}
