//! Tables of readings as chronographs and spreadsheets write them: a few lines about the day, a head, a row a shot,
//! and sums below.

mod judged;
mod others;

use super::Readings;
use super::above::{Above, Stands};
use super::apart::{Marks, ONE_STRING, Whereabouts, foreign_unit, is_down_range, taken_far};
use super::aside::{AT_THE_MUZZLE, comments_above, heard, unit_among};
use super::string::{
    Growing, Named, Reading, Shooting, Strings, SummaryRow, agreed, heading, placed, stated_unit, unit_help,
    unit_spelled,
};
use super::sums::{begins_like_a_reading, has, is_a_sum_of_rows, is_labelled_mean, is_sum, is_summary, said};
use super::title::{is_in_a_list, is_title};
use super::warmth::{AS_A_TEMPERATURE, Column, of_line};
use crate::order::Order;
use crate::quantity::Velocity;
use crate::quantity::unit::Unit;
use crate::source::grid::{self, Field, Line, SEPARATORS};
use crate::source::table::{MAX_COLUMNS, pointed, ragged};
use crate::source::{CellPlace, Diagnostic, SourceText, nearest};
use judged::{Odd, Told};
use others::Others;
use std::collections::HashSet;

/// What a column should be called.
const HEAD_HELP: &str = "head the column of readings with its unit, for instance `velocity (ft/s)`, or give `--unit`";
/// Lines that may stand above the head.
const MAX_PREAMBLE: usize = 200;
/// Names of a column of readings.
const READINGS: &[&str] = &["velocity", "muzzle velocity", "speed", "muzzle speed", "reading", "readings", "v0", "mv"];
/// Names of a column that says whose a reading is.
const BIBS: &[&str] = &["bib", "shooter", "competitor", "string", "series"];
/// Words of a column of notes.
#[rustfmt::skip]
const NOTES: &[&str] = &[
    "note", "notes", "comment", "comments", "remark", "remarks", "gun", "rifle", "firearm", "description", "bemerkung",
    "bemerkungen", "notiz", "name", "profile", "conditions", "weather", "label", "tag",
];
/// Words of a column that says what a bullet is made of.
#[rustfmt::skip]
const MADE_OF: &[&str] = &[
    "type", "typ", "kind", "construction", "core", "kern", "jacket", "mantel", "material", "tip", "style", "model", "make",
    "variant", "barrel", "lauf",
];
/// What stands in place of a reading that was not taken.
const NO_READINGS: &[&str] = &[
    "",
    "err",
    "error",
    "fail",
    "failed",
    "miss",
    "missed",
    "none",
    "no reading",
    "no read",
    "n/a",
    "na",
    "nan",
    "-",
    "--",
    "---",
];

/// A cell of the head and what it says.
type Title = (Field, String);
type Titles = Vec<Title>;

/// The head of a table.
pub(super) struct Head {
    line: Line,
    separator: char,
    titles: Titles,
    /// The column of readings, and its unit.
    at: usize,
    unit: Option<Unit<Velocity>>,
    /// A unit that a line above states.
    stated: Option<Unit<Velocity>>,
    bib: Option<usize>,
    above: Vec<Above>,
}

fn is_number(text: &str) -> bool {
    text.parse::<f64>().is_ok()
}

/// A line cut into cells, as the separator that makes the most of it has it.
fn titles(source: &SourceText, line: &Line) -> Option<(char, Titles)> {
    let mut best: Option<(usize, char, Titles)> = None;
    for separator in SEPARATORS {
        let mut cells = Vec::new();
        if grid::cut(source, line, separator, MAX_COLUMNS, &mut cells).is_err() || cells.len() > MAX_COLUMNS {
            continue;
        }
        let cells: Vec<_> = cells.into_iter().map(|field| (field.clone(), field.text(source).into_owned())).collect();
        let worth = cells.iter().filter(|(_, title)| is_of_readings(title)).count() * MAX_COLUMNS + cells.len();
        if best.as_ref().is_none_or(|(most, ..)| worth > *most) {
            best = Some((worth, separator, cells));
        }
    }
    best.map(|(_, separator, cells)| (separator, cells))
}

/// Whether a title could head readings.
fn is_of_readings(title: &str) -> bool {
    let (name, unit) = heading(title);
    unit.is_some() || READINGS.contains(&name.as_str())
}

/// Whether a line can be a head: it names things and holds no number.
fn is_head(cells: &[Title], reading: &Reading) -> bool {
    let names = |title: &String| match reading.column {
        Some(column) => title == column || heading(title).0 == heading(column).0,
        None => is_of_readings(title),
    };
    let separated =
        cells.len() > 1 || cells.iter().any(|(_, title)| title.contains(['(', '[']) || is_of_readings(title));
    separated
        && cells.iter().any(|(_, title)| names(title))
        && !cells.iter().any(|(_, title)| is_number(title) || begins_like_a_reading(title))
}

/// Finds the head; `None` where the text is a list of readings.
pub(super) fn head(source: &SourceText, reading: &Reading) -> Result<Option<Head>, Diagnostic> {
    let lines: Vec<Line> = grid::lines(&source.text)
        .filter(|line| !line.is_blank(source) && !line.is_comment(source))
        .take(MAX_PREAMBLE)
        .collect();
    let mut stated = None;
    let mut first = None;
    // A first line that begins with a number is a title where a table stands below it, and readings nowhere else.
    let is_titled = reading.column.is_none() && lines.first().is_some_and(|line| is_title(line.text(source)));
    let mut is_table = false;
    for (index, line) in lines.iter().enumerate() {
        let text = line.text(source).trim();
        if stated_unit(text).is_some() {
            return Ok(None);
        }
        let Some((separator, cells)) = titles(source, line) else { continue };
        if is_head(&cells, reading) {
            // A line that states the unit heads no table, though a bullet's mass stands below it, unless nothing else does.
            let of_the_day = unit_of_the_day(&cells);
            let followed = of_the_day.is_none()
                && lines.get(index + 1).is_some_and(|next| holds_a_reading(source, next, separator));
            if !followed {
                stated = stated.or(of_the_day);
            }
            if followed || first.is_none() {
                first = Some((index, separator, cells));
            }
            if followed {
                is_table = true;
                break;
            }
        } else if reading.column.is_none() && (index == 0 || is_titled) && is_in_a_list(text) {
            return Ok(None);
        } else if let Some(unit) = unit_of_the_day(&cells) {
            stated = Some(unit);
        }
    }
    if is_titled && !is_table {
        return Ok(None);
    }
    match (first, reading.column) {
        (Some((index, separator, titles)), _) => {
            let line = lines[index].clone();
            chosen(source, reading, line, separator, titles).map(|mut head| {
                head.stated = stated.filter(|_| index > 0);
                head.above = lines[..index].iter().map(|line| above(source, line, separator)).collect();
                head.above.extend(comments_above(source, head.line.number, separator));
                Some(head)
            })
        }
        (None, Some(name)) => Err(no_such_column(source, &lines, name)),
        // Words with a separator are a head that names no readings; anything else is read line by line.
        (None, None) => match lines.first().filter(|line| is_like_a_head(source, line)) {
            Some(line) => Err(source.fault(line.span.clone(), "no column has a unit of speed").help(HEAD_HELP)),
            None => Ok(None),
        },
    }
}

/// A line above the head; one that states the unit of the readings, and nothing else, is read.
fn above(source: &SourceText, line: &Line, separator: char) -> Above {
    let mut above = Above::of(source, line, separator);
    above.is_read = titles(source, line).is_some_and(|(_, cells)| {
        let words = cells.iter().flat_map(|(_, text)| text.split([':', '='])).filter(|word| !word.trim().is_empty());
        unit_of_the_day(&cells).is_some() && words.count() == 2
    });
    above
}

/// Whether a line has columns, or a unit in brackets, and does not begin like a number.
fn is_like_a_head(source: &SourceText, line: &Line) -> bool {
    let text = line.text(source).trim();
    !begins_like_a_reading(text) && !is_summary(text) && text.contains([',', ';', '\t', '(', '['])
}

fn holds_a_reading(source: &SourceText, line: &Line, separator: char) -> bool {
    let mut cells = Vec::new();
    grid::cut(source, line, separator, MAX_COLUMNS, &mut cells).is_ok()
        && cells.iter().any(|cell| begins_like_a_reading(&cell.text(source)))
}

/// The unit that a line above the head states: `Units,m/s`.
fn unit_of_the_day(cells: &[Title]) -> Option<Unit<Velocity>> {
    unit_among(&cells.iter().flat_map(|(_, text)| text.split([':', '='])).map(str::trim).collect::<Vec<_>>())
}

fn no_such_column(source: &SourceText, lines: &[Line], name: &str) -> Diagnostic {
    let head = lines.iter().find_map(|line| Some((line, titles(source, line)?.1)).filter(|(_, t)| t.len() > 1));
    let (span, titles) = head.map_or((0..0, Vec::new()), |(line, titles)| (line.span.clone(), titles));
    let names: Vec<String> = titles.iter().map(|(_, title)| heading(title).0).collect();
    let meant = nearest(&heading(name).0, names.iter().map(String::as_str));
    let meant = meant.map(|near| format!("did you mean `{near}`? ")).unwrap_or_default();
    let columns: Vec<&str> = titles.iter().map(|(_, title)| title.as_str()).collect();
    source
        .fault(span, format!("there is no column `{name}`"))
        .help(format!("{meant}the columns are: {}", columns.join(", ")))
}

/// The column of readings among the titles.
fn chosen(
    source: &SourceText,
    reading: &Reading,
    line: Line,
    separator: char,
    titles: Titles,
) -> Result<Head, Diagnostic> {
    let headings: Vec<_> = titles.iter().map(|(_, title)| heading(title)).collect();
    let those = |is_meant: &dyn Fn(usize) -> bool| (0..titles.len()).filter(|i| is_meant(*i)).collect::<Vec<_>>();
    let found = match reading.column {
        Some(name) if titles.iter().any(|(_, title)| title == name) => those(&|i| titles[i].1 == name),
        Some(name) => those(&|i| headings[i].0 == heading(name).0),
        None => {
            let named = those(&|i| READINGS.contains(&headings[i].0.as_str()));
            let measured = || those(&|i| headings[i].1.is_some() && !is_a_sum_of_rows(&titles[i].1));
            if named.is_empty() { measured() } else { named }
        }
    };
    let [at] = found.as_slice() else {
        let columns: Vec<&str> = titles.iter().map(|(_, title)| title.as_str()).collect();
        let (message, help) = if found.is_empty() {
            ("no column has a unit of speed".to_owned(), HEAD_HELP.to_owned())
        } else {
            let help = format!("name one with `--column`; the columns are: {}", columns.join(", "));
            ("more than one column could be meant".to_owned(), help)
        };
        return Err(source.fault(line.span, message).help(help));
    };
    let title = &titles[*at].1;
    if is_down_range(title) {
        return Err(source
            .fault(titles[*at].0.span.clone(), format!("`{title}` is no speed at the muzzle"))
            .help("give the column of muzzle readings, `v0` or `muzzle velocity`: farther out the bullet is slower"));
    }
    if let Some(unit) = foreign_unit(title).filter(|_| headings[*at].1.is_none()) {
        return Err(source
            .fault(titles[*at].0.span.clone(), format!("the head says {unit}, which readings are not read in"))
            .help("write them in ft/s or m/s"));
    }
    let bibs = those(&|i| i != *at && BIBS.contains(&headings[i].0.as_str()));
    // The more telling name first: a shooter has several strings.
    let bib = BIBS.iter().find_map(|name| bibs.iter().copied().find(|i| headings[*i].0 == *name));
    Ok(Head { line, separator, at: *at, unit: headings[*at].1, stated: None, bib, above: Vec::new(), titles })
}

/// Reads the rows below a head.
pub(super) fn read(source: &SourceText, reading: &Reading, head: &Head) -> Result<Strings, Diagnostic> {
    let in_head = |fault| placed(source, head.line.span.clone(), fault);
    let written = head.unit.or(head.stated);
    if let (Some(unit), Some(stated)) = (head.unit, head.stated)
        && unit.symbol != stated.symbol
    {
        let message = format!("the head says {}, and a line above it {}", unit.symbol, stated.symbol);
        return Err(in_head(Diagnostic::plain(message).help("leave in the file the one that holds")));
    }
    let unit = agreed(reading.unit, written).map_err(in_head)?;
    let mut told = Vec::new();
    for line in &head.above {
        let sums = heard(source, line, head.separator, unit)?.into_iter();
        told.extend(sums.map(|sum| Told { row: source.position(line.span.start).0, span: line.span.clone(), sum }));
    }
    let shooting = Shooting::default();
    let beside = Beside::of(source, head);
    let names: Vec<String> = head.titles.iter().map(|(_, title)| heading(title).0).collect();
    let marks = Marks::of(&names, |i| i == head.at || Some(i) == head.bib);
    let mut rows = Rows {
        source,
        head,
        unit,
        beside,
        marks,
        sums: Vec::new(),
        told,
        bare: Vec::new(),
        odd: Vec::new(),
        warmth: Column::among(head.titles.iter().map(|(_, title)| title.as_str())),
        whereabouts: (0..head.titles.len())
            .filter(|&at| at != head.at)
            .filter_map(|at| Some((at, Whereabouts::of(&head.titles[at].1)?)))
            .collect(),
        of_load: of_load(head),
        others: Others::of(head, reading.column.is_some()),
        said: Vec::new(),
        heard: HashSet::new(),
        shooting,
    };
    let mut cells = Vec::new();
    for line in below(source, head) {
        rows.take(&line, &mut cells)?;
    }
    rows.judge_odd()?;
    rows.judge_sums()?;
    let Rows { mut sums, bare, shooting, warmth, said: mut beside, others, marks, .. } = rows;
    beside.extend(others.weighed(head));
    let is_sum = |line: &Line| sums.iter().any(|sum| sum.row == line.number);
    let lines = below(source, head).filter(is_sum);
    beside.extend(lines.map(|line| Above::of(source, &line, head.separator).below()));
    for line in beside.iter().filter(|said| said.stands == Stands::Below) {
        // What they sum up was heard cell by cell.
        heard(source, line, head.separator, unit)?;
    }
    // A note beside a shot may tell how cold it was as a line does.
    let lines = head.above.iter().chain(&beside);
    let warmth = warmth.into_iter().map(Column::told).chain(lines.filter_map(of_line)).collect();
    sums.extend(bare);
    sums.order_by_key(|row| row.row);
    let mut strings = Vec::new();
    for (bib, string) in shooting.strings {
        let readings = Readings::new(string.readings).map_err(|fault| {
            let message = bib.as_ref().map(|bib| format!("{bib}: {}", fault.message));
            placed(source, 0..0, Diagnostic { message: message.unwrap_or_else(|| fault.message.clone()), ..fault })
        })?;
        strings.push(Named { bib, readings });
    }
    if strings.is_empty() {
        Readings::new(Vec::new()).map_err(in_head)?;
    }
    let read = |i: usize| i == head.at || Some(i) == head.bib;
    let left_out = head.titles.iter().enumerate().filter(|(i, (_, title))| !read(*i) && !title.is_empty());
    Ok(Strings {
        strings,
        left_out: left_out.map(|(_, (_, title))| title.clone()).collect(),
        summary_rows: sums,
        missing: marks.missing(),
        warmth,
        above: head.above.clone(),
        beside,
    })
}

/// The columns that speak of the load, beside the readings.
fn of_load(head: &Head) -> Vec<usize> {
    let is_note = |title: &str| [NOTES, MADE_OF].iter().any(|list| has(&said(title), list));
    let heads = |title: &str| Above::heads(title) || is_note(title);
    (0..head.titles.len()).filter(|&i| i != head.at && heads(&head.titles[i].1)).collect()
}

/// The lines below a head that say something.
fn below<'t>(source: &'t SourceText, head: &Head) -> impl Iterator<Item = Line> + use<'t> {
    let first = head.line.number;
    let lines = grid::lines(&source.text).skip_while(move |line| line.number <= first);
    lines.filter(move |line| line.text(source).contains(char::is_alphanumeric))
}

/// Whether a cell counts or measures: `3`, `#3`, `12:04`, `Shot 3`.
fn is_numbered(cell: &str) -> bool {
    cell.contains(|c: char| c.is_ascii_digit()) && !is_sum(cell)
}

/// What the columns beside the readings hold.
#[derive(Default)]
struct Beside {
    /// A number in most rows: a row without one there is no shot, whatever the word in its place.
    numbered: Vec<usize>,
    /// Words in the last rows alone, where no column is numbered: a note on a shot, or the label of a sum.
    labelled: Vec<usize>,
}

impl Beside {
    fn of(source: &SourceText, head: &Head) -> Self {
        let width = head.titles.len();
        // Numbers, cells that hold anything, and the first row that does.
        let mut counts = vec![(0_usize, 0_usize, usize::MAX); width];
        let (mut rows, mut cells) = (0_usize, Vec::new());
        for line in below(source, head) {
            let cut = grid::cut(source, &line, head.separator, width, &mut cells);
            if !cut.is_ok_and(|count| count == width) || cells.iter().any(|cell| is_sum(&cell.text(source))) {
                continue;
            }
            for ((numbers, filled, first), cell) in counts.iter_mut().zip(&cells) {
                let text = cell.text(source);
                *numbers += usize::from(is_numbered(&text));
                *filled += usize::from(!text.is_empty());
                *first = (*first).min(if text.is_empty() { usize::MAX } else { rows });
            }
            rows += 1;
        }
        let others = || (0..width).filter(|&i| i != head.at && Some(i) != head.bib);
        let numbered: Vec<usize> = others().filter(|&i| 2 * counts[i].0 > rows).collect();
        let trails = |&i: &usize| {
            let (numbers, filled, first) = counts[i];
            numbers == 0 && filled > 0 && first >= 2 && filled == rows - first
        };
        let labelled = if numbered.is_empty() { others().filter(trails).collect() } else { Vec::new() };
        Self { numbered, labelled }
    }
}

struct Rows<'t> {
    source: &'t SourceText,
    head: &'t Head,
    unit: Option<Unit<Velocity>>,
    beside: Beside,
    marks: Marks,
    sums: Vec<SummaryRow>,
    /// What sums tell of the shots.
    told: Vec<Told>,
    /// Shots of which no reading was taken.
    bare: Vec<SummaryRow>,
    odd: Vec<Odd>,
    warmth: Vec<Column>,
    /// The columns that may say from how far the readings are.
    whereabouts: Vec<(usize, Whereabouts)>,
    /// The columns that speak of the load, and what they say, each thing once.
    of_load: Vec<usize>,
    others: Others,
    said: Vec<Above>,
    heard: HashSet<String>,
    shooting: Shooting,
}

impl Rows<'_> {
    fn take(&mut self, line: &Line, cells: &mut Vec<Field>) -> Result<(), Diagnostic> {
        let (source, head) = (self.source, self.head);
        let width = head.titles.len();
        let place = |column, text| CellPlace { row: line.number, column, text, ..CellPlace::default() };
        let count = grid::cut(source, line, head.separator, width, cells)
            .map_err(|quote| quote.fault(source).cell(place(None, None)))?;
        let texts: Vec<_> = cells.iter().map(|cell| cell.text(source)).collect();
        if texts.iter().zip(&head.titles).all(|(text, (_, title))| text == title) && texts.len() == width {
            return Err(source
                .fault(line.span.clone(), "the head stands again")
                .help(ONE_STRING)
                .cell(place(None, None)));
        }
        let cell = cells.get(head.at);
        let text = cell.map(|cell| pointed(&cell.text(source), head.separator)).unwrap_or_default();
        // Below the sums only rows that are counted like shots are shots.
        let is_below = !self.sums.is_empty();
        let is_counted =
            count == width && begins_like_a_reading(&text) && texts.first().is_some_and(|first| is_number(first));
        let as_it_stands = || SummaryRow { row: line.number, text: line.text(source).trim().to_owned() };
        let is_mean = head.at > 0 && texts.first().is_some_and(|label| is_labelled_mean(label));
        if is_mean || texts.iter().any(|text| is_sum(text)) || (is_below && !is_counted) {
            self.sums.push(as_it_stands());
            self.hear(line, &texts);
            return Ok(());
        }
        if count != width {
            return Err(ragged(source, line, count, width).cell(place(None, None)));
        }
        if NO_READINGS.contains(&text.trim().to_lowercase().as_str()) {
            self.bare.push(as_it_stands());
            let bib = head.bib.map(|at| texts[at].clone().into_owned());
            self.marks.pass(bib.as_ref(), &texts);
            let numbered = &self.beside.numbered;
            self.told.extend(Others::astray(line, cells, &texts, head.separator, numbered, self.unit));
            return Ok(());
        }
        let title = &head.titles[head.at].1;
        let span = cell.map_or(line.span.clone(), |cell| cell.span.clone());
        let placed = |fault| placed(source, span.clone(), fault).cell(place(Some(title.clone()), Some(text.clone())));
        if let Some(word) = self.beside.labelled.iter().map(|&at| &texts[at]).find(|word| !word.is_empty()) {
            let message = format!("`{word}` stands beside the last readings alone");
            return Err(source
                .fault(line.span.clone(), message)
                .help("is it a shot? number the shots in a column `shot`, or take the word out; is it a sum? remove the row")
                .cell(place(None, None)));
        }
        if let Some(why) = self.oddity(&texts) {
            self.hear(line, &texts);
            let reading = Growing::alone(&text, self.unit);
            let SummaryRow { row, text } = as_it_stands();
            self.odd.push(Odd { row, span: line.span.clone(), text, reading, is_counted, why });
            return Ok(());
        }
        let bib = match head.bib {
            Some(at) if texts[at].is_empty() => {
                return Err(source
                    .fault(cells[at].span.clone(), "the row does not say whose it is")
                    .help("fill the cell")
                    .cell(place(Some(head.titles[at].1.clone()), None)));
            }
            at => at.map(|at| texts[at].clone().into_owned()),
        };
        let at_cell = |at: usize, why: String| {
            let place = place(Some(head.titles[at].1.clone()), Some(texts[at].clone().into_owned()));
            source.fault(cells[at].span.clone(), why).cell(place)
        };
        for (at, other) in texts.iter().enumerate().filter(|(at, _)| *at != head.at) {
            let Some(unit) = unit_spelled(other.trim()) else { continue };
            let own = *self.unit.get_or_insert(unit);
            if own.symbol != unit.symbol {
                let message = format!("the row says {}, and its reading is read in {}", unit.symbol, own.symbol);
                return Err(at_cell(at, message).help("give the unit that holds"));
            }
        }
        self.marks.take(bib.as_ref(), &texts).map_err(|(at, why, help)| at_cell(at, why).help(help))?;
        if let Some((at, why)) = self.whereabouts.iter().find_map(|(at, of)| Some((*at, of.far_off(&texts[*at])?))) {
            return Err(at_cell(at, why).help(AT_THE_MUZZLE));
        }
        let reading = Growing::alone(&text, self.unit);
        self.told.extend(self.others.take(line, (cells, &texts), head.separator, (reading, self.unit)));
        for column in &mut self.warmth {
            column.take(&texts, head.separator).map_err(|(at, why)| at_cell(at, why).help(AS_A_TEMPERATURE))?;
        }
        for &at in self.of_load.iter().filter(|&&at| !texts[at].trim().is_empty()) {
            let cell = Above::cell(cells[at].span.clone(), &head.titles[at].1, &texts[at]);
            if let Some(why) = taken_far("", &texts[at]) {
                return Err(at_cell(at, why).help(AT_THE_MUZZLE));
            }
            if self.heard.insert(cell.text.clone()) {
                self.said.push(cell);
            }
        }
        let string = self.shooting.of(bib, self.unit);
        string.push(&text).map_err(|fault| placed(unit_help(&text, fault)))?;
        if self.shooting.is_too_many() {
            return Err(placed(Diagnostic::plain("too many readings").help("split the file")));
        }
        Ok(())
    }
}
