//! Which plate.

use super::common::{
    arrivals, close, divided_by, drawing, energy_of, explained, findings, flight_figures, go_by_cell, go_by_column,
    nearest_cell, nearest_column, open, outline_figure, round_figure, sentences, words,
};
use super::{Detail, Report};
use crate::advisor::answer::{AdviseAnswer, Finding, PlateChoice, Price, Remedy, StrikeRow, SwingWord, Visible};
use crate::quantity::Length;
use crate::report::figure;
use crate::report::numbers::{self, Numbers};
use crate::report::page::{Block, Page};
use crate::report::table::{Column, Place, Table, Value};
use crate::report::text;
use crate::rules::Verdict;

impl Report for AdviseAnswer {
    fn page(&self, detail: Detail) -> Page {
        let preamble = &self.preamble;
        let units = preamble.units;
        let mut page = open(preamble, self.verdict.into());
        let whatever = sentences(&whatever_plate(self));
        if !whatever.is_empty() {
            page.lead.push(format!("Whatever the plate: {whatever}"));
        }
        push_plates(&mut page, self);
        page.push(Block::Table(plates(self, Place::Spreadsheet, |choice| &choice.nearest_limit)));
        left_out(&mut page, self, detail);
        drawing(&mut page, self.outline.as_ref(), detail);
        if detail.full {
            long_form(&mut page, self);
        }
        let all: Vec<&Finding> = self.plates.iter().flat_map(|plate| &plate.findings).collect();
        page.push(Block::Table(findings("findings", &all, Place::Spreadsheet, true)));
        page.push(Block::Table(what_arrives(self, Place::Spreadsheet)));
        page.push(Block::Table(remedies(self)));
        page.push(Block::Table(nearest(self)));
        if detail.explain || detail.full {
            page.push_list("Every finding", explained(&all, true));
        }
        close(&mut page, preamble, detail);
        flight_figures(&mut page, &self.curves, units, detail);
        outline_figure(&mut page, self.outline.as_ref(), units);
        round_figure(&mut page, self.round.as_ref(), units);
        if let Some(figure) = self.cut_plan.as_ref().and_then(|plan| figure::cut_plan(plan, units)) {
            page.push(Block::Figure(figure));
        }
        page
    }
}

/// What no plate changes, but for what the headline says in the same words.
fn whatever_plate(answer: &AdviseAnswer) -> Vec<String> {
    let headline = answer.preamble.headline.to_lowercase();
    let is_new = |words: &str| !headline.contains(words.trim_end_matches('.').to_lowercase().as_str());
    // Of several cases each is called by its load and distance, and a sentence may say more between them.
    let is_said = |words: &str| {
        let words = words.trim_end_matches('.').to_lowercase();
        let places = words.rmatch_indices(" at ").map(|(at, _)| words.split_at(at));
        let apart = places.into_iter().find(|(_, rest)| rest.contains(": "));
        let mut sentences = headline.trim_end_matches('.').split(". ");
        apart.is_some_and(|(load, rest)| sentences.any(|said| said.contains(load) && said.ends_with(rest)))
    };
    let [only] = answer.whatever_plate.as_slice() else {
        let new = answer.whatever_plate.iter().filter(|words| is_new(words) && !is_said(words));
        return new.cloned().collect();
    };
    let reasons: Vec<&str> = only.split("; ").filter(|reason| is_new(reason)).collect();
    Some(reasons.join("; ")).filter(|words| !words.is_empty()).into_iter().collect()
}

/// The ladder; where its rows would wrap, what limits were divided by is told once below.
fn push_plates(page: &mut Page, answer: &AdviseAnswer) {
    let whole = plates(answer, Place::Page, |choice| &choice.nearest_limit);
    let by = divided_by(answer.plates.iter().flat_map(|plate| &plate.findings));
    if by.is_empty() || !text::wraps(&whole) {
        page.push(Block::Table(whole));
        return;
    }
    page.push(Block::Table(plates(answer, Place::Page, |choice| &choice.nearest_limit_brief)));
    page.push_note("Limits divided by", by);
}

/// What the headline names as excluded, what would bring it back, and what gives the swing that was asked for.
fn left_out(page: &mut Page, answer: &AdviseAnswer, detail: Detail) {
    if detail.full {
        let line = |e: &crate::advisor::answer::Excluded| format!("{}: {}: {}", e.case, e.verdict, e.why);
        page.push_list("No plate takes", answer.excluded.iter().map(line).collect());
    }
    let is_new = |remedy: &&Remedy| !says_the_whole_of(answer, remedy);
    let ways: Vec<String> = answer.remedies.iter().filter(is_new).map(|remedy| remedy.words.clone()).collect();
    page.push_note("Would suit", sentences(&ways));
    page.push_note("Swing asked", answer.swing_asked.clone().unwrap_or_default());
}

/// Whether the headline says all of a remedy: from where a plate takes it, and nothing else would do.
fn says_the_whole_of(answer: &AdviseAnswer, remedy: &Remedy) -> bool {
    let (Some(from), Some(plate)) = (&remedy.nearest, &remedy.distance_plate) else { return false };
    let from = Numbers(answer.preamble.units).distance_up().words(from.0);
    remedy.muzzle_velocity.is_none() && answer.preamble.headline.contains(&format!("{plate} takes it from {from}"))
}

/// The distances that were asked.
fn asked(answer: &AdviseAnswer) -> Vec<Length> {
    answer.preamble.inputs.lines.iter().map(|line| line.distance.0).collect()
}

fn is_named(answer: &AdviseAnswer, choice: &PlateChoice) -> bool {
    let named = answer.recommended.as_ref().or(answer.for_the_rest.as_ref()).or(answer.borderline.as_ref());
    named.is_some_and(|plate| plate.label == choice.label)
}

/// A head of what is of one of each of several targets.
fn of_a_set(head: &'static str, answer: &AdviseAnswer) -> &'static str {
    let is_set = answer.plates.iter().any(|choice| !choice.pieces.is_empty());
    match head {
        "weight" if is_set => "set weight",
        "price" if is_set => "set price",
        _ => head,
    }
}

/// The ladder: on a page what people compare, for a spreadsheet all there is.
fn plates(answer: &AdviseAnswer, place: Place, limit: impl Fn(&PlateChoice) -> &String) -> Table {
    let numbers = Numbers(answer.preamble.units);
    let sheet = place == Place::Spreadsheet;
    let is_of_the_rest = answer.plates.iter().any(|choice| choice.verdict_for_the_rest.is_some());
    let mut columns = vec![
        Column::words("plate"),
        // What no plate takes is set apart above the ladder, which is of the rest.
        Column::words(if is_of_the_rest && !sheet { "for the rest" } else { "verdict" }),
        Column::measured("margin", "margin", "%"),
        numbers.mass().column("weight", of_a_set("weight", answer)),
        Column::numbers(of_a_set("price", answer)).keyed("price"),
        Column::words("nearest limit"),
    ];
    if sheet {
        columns.extend([
            numbers.thickness().column("thickness", "thickness"),
            Column::words("governed by"),
            Column::words("currency"),
            numbers.degrees().column("swing", "swing"),
            numbers.hertz().column("pitch", "pitch"),
            Column::numbers("per sheet"),
            Column::words("ships as"),
            Column::words("sheet"),
            Column::words("not priced"),
            // What the verdicts hold for is told there: in which air, and without which load.
            Column::words("headline"),
            nearest_column(numbers),
            Column::words("for the rest"),
            Column::measured("margin_for_the_rest", "margin for the rest", "%"),
            // What weight and price are of, and whose swing, pitch and sheet are told of several targets.
            Column::words("weight and price of"),
            Column::words("first target"),
            Column::words("swing asked"),
        ]);
    }
    let mut table = Table::named(if sheet { "plates" } else { "" }, place, columns);
    for choice in &answer.plates {
        let (verdict, margin) = if sheet {
            (choice.verdict, choice.margin)
        } else {
            (choice.verdict_of_the_left(), choice.margin_of_the_left())
        };
        let fits = margin.map(|m| m.0).filter(|m| sheet || *m >= 0.0);
        let mut cells = vec![
            choice.label.as_str().into(),
            verdict.to_string().into(),
            numbers::margin(fits),
            numbers.mass().cell(choice.mass.map(|mass| mass.0)),
            price(choice, sheet),
            words(limit(choice)),
        ];
        if sheet {
            let material = choice.material.as_ref();
            let reaction = choice.reaction.as_ref();
            cells.extend([
                numbers.thickness().cell(choice.thickness.0),
                choice.governed_by.clone().into(),
                material.and_then(|m| m.currency.clone()).into(),
                numbers.degrees().cell(reaction.and_then(|r| r.swing.angle.as_ref()).map(|a| a.0)),
                numbers.hertz().cell(reaction.and_then(|r| r.pitch_hz).map(|hz| hz.0)),
                material.map_or(Value::None, |m| Value::count(m.per_sheet.full)),
                ships_as(choice).into(),
                material.map(|m| m.sheet.clone()).into(),
                material.and_then(|m| m.not_priced.clone()).into(),
                answer.preamble.headline.as_str().into(),
                nearest_cell(numbers, choice.nearest, &asked(answer)),
                choice.verdict_for_the_rest.map(|verdict| verdict.to_string()).into(),
                numbers::margin(choice.margin_for_the_rest.map(|m| m.0)),
                weighed(choice).into(),
                first_target(answer).into(),
                answer.swing_asked.clone().filter(|_| is_named(answer, choice)).into(),
            ]);
        }
        table.push_cells(verdict.into(), cells);
        if let Some(row) = table.rows.last_mut() {
            row.named = is_named(answer, choice);
        }
    }
    if sheet { table } else { table.without_empty_columns() }
}

/// What the weight and the price of a row are of: one piece, or one of each where there are several targets.
fn weighed(choice: &PlateChoice) -> String {
    match choice.pieces.len() {
        0 => "one piece".into(),
        count => format!("a set of {count}"),
    }
}

/// The target that swing, pitch and sheet are told of, where there are several.
fn first_target(answer: &AdviseAnswer) -> Option<String> {
    let named = answer.plates.iter().find_map(|choice| choice.pieces.first())?;
    Some(if named.target.is_empty() { named.face.clone() } else { named.target.clone() })
}

/// How the quantity asked ships; of several targets each.
fn ships_as(choice: &PlateChoice) -> Option<String> {
    if choice.pieces.is_empty() {
        return choice.material.as_ref().map(|m| m.ships_as.clone());
    }
    Some(choice.pieces.iter().map(|piece| piece.material.ships_as.as_str()).collect::<Vec<_>>().join(", "))
}

/// Of one piece, or of one of each where there are several targets: in words for people, as the number alone for a spreadsheet.
fn price(choice: &PlateChoice, sheet: bool) -> Value {
    if let Some(all) = &choice.together {
        let number = all.cost.as_ref().and_then(|cost| cost.parse().ok()).filter(|_| sheet);
        let words = all.price.clone().filter(|_| !sheet);
        return number
            .map_or_else(|| words.into(), |cost| Value::number(cost, 2, crate::report::table::Rounding::Near));
    }
    let Some(material) = &choice.material else { return Value::None };
    if !sheet {
        return material.price.as_ref().map(|price| price.each.clone()).into();
    }
    let number = material.cost.as_ref().and_then(|cost| cost.parse().ok());
    number.map_or(Value::None, |cost| Value::number(cost, 2, crate::report::table::Rounding::Near))
}

fn what_arrives(answer: &AdviseAnswer, place: Place) -> Table {
    let name = if place == Place::Spreadsheet { "strikes" } else { "" };
    arrivals(name, &arriving(answer), place, answer.preamble.units, true)
}

/// What arrives of each load that was asked, by its name.
fn arriving(answer: &AdviseAnswer) -> Vec<(Option<&str>, &StrikeRow)> {
    let lines = answer.preamble.inputs.lines.iter().map(|line| line.load.name.as_str());
    lines.map(Some).chain(std::iter::repeat(None)).zip(&answer.strikes).collect()
}

fn remedies(answer: &AdviseAnswer) -> Table {
    let numbers = Numbers(answer.preamble.units);
    let columns = vec![
        Column::words("case"),
        Column::words("verdict"),
        Column::words("why"),
        numbers.distance().column("suits_from", "suits from"),
        Column::words("on plate"),
        numbers.speed().column("suits_to_muzzle_velocity", "suits to muzzle velocity"),
        nearest_column(numbers),
        go_by_column(),
    ];
    let mut table = Table::named("excluded", Place::Spreadsheet, columns);
    for excluded in &answer.excluded {
        let remedy = answer.remedies.iter().find(|remedy| remedy.case == excluded.case);
        table.push_cells(
            excluded.verdict.into(),
            vec![
                excluded.case.as_str().into(),
                excluded.verdict.to_string().into(),
                words(&excluded.why),
                numbers.distance_up().cell(remedy.and_then(|r| r.distance).map(|d| d.0)),
                remedy.and_then(|r| r.distance_plate.clone()).into(),
                numbers.speed_under().cell(remedy.and_then(|r| r.muzzle_velocity).map(|v| v.0)),
                nearest_cell(numbers, remedy.and_then(|r| r.nearest), &asked(answer)),
                go_by_cell(numbers),
            ],
        );
    }
    table
}

/// How near anyone may come with each load on each target: on the plate that is named, else on its own.
fn nearest(answer: &AdviseAnswer) -> Table {
    let numbers = Numbers(answer.preamble.units);
    let columns = vec![Column::words("load"), Column::words("target"), Column::words("plate"), nearest_column(numbers)];
    let mut table = Table::named("nearest", Place::Spreadsheet, columns);
    for one in &answer.nearest_by_load {
        table.push_cells(
            if one.nearest.is_some() { Verdict::Suits } else { Verdict::Unsuitable }.into(),
            vec![
                one.name.as_str().into(),
                words(&one.target),
                one.plate.clone().into(),
                nearest_cell(numbers, one.nearest, &asked(answer)),
            ],
        );
    }
    table
}

/// What does not help to choose a plate.
fn long_form(page: &mut Page, answer: &AdviseAnswer) {
    let is_one = answer.preamble.inputs.lines.len() < 2;
    let unmet = |choice: &PlateChoice| {
        let unmet = choice.findings.iter().filter(|f| f.verdict != Verdict::Suits);
        let mut of: Vec<(&str, Vec<&str>)> = Vec::new();
        for finding in unmet {
            match of.iter_mut().find(|(text, _)| *text == finding.text) {
                Some((_, cases)) => cases.push(&finding.case),
                None => of.push((&finding.text, vec![&finding.case])),
            }
        }
        let told = |(text, cases): &(&str, Vec<&str>)| {
            if is_one { (*text).to_owned() } else { format!("{text} ({})", cases.join("; ")) }
        };
        let failing: Vec<String> = of.iter().map(told).collect();
        (!failing.is_empty())
            .then(|| format!("{} is {}: {}", choice.label, choice.verdict_of_the_left(), sentences(&failing)))
    };
    page.push_list("Why not thinner", answer.plates.iter().filter_map(unmet).collect());
    let of = first_target(answer).map(|name| format!(" (swing, ring and sheet of {name})")).unwrap_or_default();
    page.push(Block::Heading(format!("Side by side{of}")));
    page.push(Block::Table(side_by_side(answer)));
    let named = answer.plates.iter().find(|choice| is_named(answer, choice));
    if let Some(choice) = named {
        let mut said = choice.reaction.as_ref().map(|reaction| reaction.words.clone()).unwrap_or_default();
        let pieces = choice.pieces.iter().map(|piece| (format!("{}: ", piece.face), &piece.material));
        let alone = choice.material.iter().filter(|_| choice.pieces.is_empty()).map(|m| (String::new(), m));
        for (name, material) in pieces.chain(alone) {
            let count = &material.per_sheet;
            said.push(format!(
                "{name}{} from a {} sheet, {} from half of one, {} from a quarter",
                count.full, material.sheet, count.half, count.quarter
            ));
            let price = material.price.as_ref().map(|price| price_words(price, &material.ships_as));
            said.extend(price.or(material.not_priced.clone()).map(|words| format!("{name}{words}")));
        }
        said.extend(choice.together.as_ref().and_then(|all| Some(format!("Together {}", all.total.as_ref()?))));
        page.push_list(&format!("{} in use", choice.label), said);
    }
    page.push(Block::Heading("What arrives".into()));
    page.push(Block::Table(what_arrives(answer, Place::Page)));
    page.push_note("Energy", energy_of(&arriving(answer)));
}

fn price_words(price: &Price, ships_as: &str) -> String {
    let made = if price.made_of.is_empty() { String::new() } else { format!(" ({})", price.made_of.join("; ")) };
    let shipping = price.shipping.as_ref().map(|cost| format!("; shipping {cost} more, by {ships_as}"));
    format!("{} each{made}, {} together{}", price.each, price.total, shipping.unwrap_or_default())
}

fn side_by_side(answer: &AdviseAnswer) -> Table {
    let numbers = Numbers(answer.preamble.units);
    let mut table = Table::named(
        "",
        Place::Page,
        vec![
            Column::words("plate"),
            numbers.mass().column("weight", of_a_set("weight", answer)),
            Column::numbers("swings"),
            Column::words("visible"),
            numbers.hertz().column("pitch", "rings"),
            Column::numbers("per sheet"),
            Column::numbers("carried"),
            Column::words("ships as"),
            Column::numbers(of_a_set("price", answer)),
        ],
    );
    for choice in &answer.plates {
        let (material, reaction) = (choice.material.as_ref(), choice.reaction.as_ref());
        let swing = reaction.map(|r| match (r.swing.word, r.swing.angle.as_ref()) {
            (SwingWord::Over, _) => "over".to_owned(),
            (_, Some(angle)) => crate::words::degrees(angle.0),
            (SwingWord::Calm, None) => "hardly".into(),
            (SwingWord::Lively, None) => "yes".into(),
        });
        let visible = reaction.and_then(|r| r.spotting.as_ref()).map(|spotting| match spotting.visible {
            Visible::Visible => "yes".to_owned(),
            Visible::Faint => "faintly".into(),
            Visible::No => "no".into(),
        });
        table.push_cells(
            choice.verdict_of_the_left().into(),
            vec![
                choice.label.as_str().into(),
                numbers.mass().cell(choice.mass.map(|mass| mass.0)),
                swing.into(),
                visible.into(),
                numbers.hertz().cell(reaction.and_then(|r| r.pitch_hz).map(|hz| hz.0)),
                material.map_or(Value::None, |m| Value::count(m.per_sheet.full)),
                material.map_or(Value::None, |m| Value::count(m.carried)),
                ships_as(choice).into(),
                price(choice, false),
            ],
        );
    }
    table.without_empty_columns()
}
