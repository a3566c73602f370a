//! The advice as a page and as a document.

use super::hanging::{self, Comparison, Hanging};
use super::page::{Block, Column, Notice, Page, Table};
use super::words::{self, Units};
use super::{Circumstances, Document, json, say};
use crate::advice::{Advice, Case, Choice, Remedy};
use crate::plate::Face;
use crate::quantity::Measure;
use crate::rules::{Finding, RuleSet, Verdict};
use crate::shop::price::Shop;
use serde_json::{Value, json};

/// What is told of an advice beside itself.
#[derive(Debug, Clone, Copy)]
pub struct Told<'a> {
    /// The cases, in the order of the advice.
    pub cases: &'a [Case<'a>],
    /// Inputs, assumptions and cautions.
    pub circumstances: &'a Circumstances,
    /// The plates compared as things that hang, one comparison for each face and mount.
    pub comparisons: &'a [Comparison<'a>],
    /// The shop's prices, where given.
    pub shop: Option<&'a Shop>,
    /// What else must be said: whether the answer flips in other air, what a range's rules change.
    pub remarks: &'a [String],
    /// Units of words.
    pub units: Units,
    /// Whether every finding is told.
    pub explain: bool,
}

/// A case in words: load, distance, and target where there are several.
#[must_use]
pub fn case_words(case: &Case, units: Units) -> String {
    let target = case.target.as_ref().map(|t| format!(" on {t}")).unwrap_or_default();
    format!("{} at {}{target}", case.load.facts().name, units.distance(case.strike.distance))
}

fn faces<'a>(told: &Told<'a>) -> Vec<&'a Face> {
    let mut faces: Vec<&Face> = Vec::new();
    for case in told.cases {
        if !faces.contains(&&case.question.setup.face) {
            faces.push(&case.question.setup.face);
        }
    }
    faces
}

/// The page: the answer, the choices side by side, why not thinner, what would suit, the cautions.
#[must_use]
pub fn page(advice: &Advice, told: &Told) -> Page {
    let mut page = Page::new(advice.verdict().into(), headline(advice, told), Notice::default());
    page.push(Block::Table(choices(advice, told)));
    push_comparisons(&mut page, advice, told);
    page.push_list("Why not thinner", thinner(advice, told));
    page.push_list("What would suit", advice.remedies.iter().map(|r| remedy(r, told)).collect());
    page.push_list("What arrives", told.cases.iter().map(|case| arrival(case, told.units)).collect());
    page.push_list("Mind", told.remarks.to_vec());
    if told.explain {
        let free = told.comparisons.iter().filter(|c| c.hung.is_some());
        page.push_list("Hanging", free.filter_map(|c| hanging::drilling(&c.setup.face, told.units)).collect());
        page.push_list("Every finding", explained(advice, told));
    }
    page.push(Block::Text(format!("Assumed: {}.", told.circumstances.assumed.join("; "))));
    page.push_list("Cautions", told.circumstances.cautions.clone());
    page
}

/// The named plate in a line for each face, then the plates side by side.
fn push_comparisons(page: &mut Page, advice: &Advice, told: &Told) {
    let named = advice.named().map(|i| advice.choices[i].plate.label.as_str());
    for comparison in told.comparisons {
        let several = told.comparisons.len() > 1;
        let heading = if several { format!("Side by side, {}", comparison.setup.face) } else { "Side by side".into() };
        page.push(Block::Heading(heading));
        if let Some(hanging) = comparison.plates.iter().find(|h| Some(h.plate.label.as_str()) == named) {
            page.push(Block::List(vec![hanging::reading(hanging, told.shop, told.units)]));
        }
        page.push(Block::Table(hanging::table(comparison, told.shop, told.units)));
    }
    if !told.comparisons.is_empty() {
        page.push(Block::List(vec![
            "Seen: the weakest slow shot through the glass. Carried: by one person within the NIOSH load constant of \
             23 kg. Wear: energy per hit and plate mass beside a .308 match load at 100 yd on a 12 in, 3/8 in round; a \
             ranking, not a life in rounds."
                .into(),
        ]));
    }
}

fn headline(advice: &Advice, told: &Told) -> String {
    let Some(choice) = advice.named().and_then(|index| advice.choices.get(index)) else {
        return no_plate(advice, told);
    };
    let worst = case_words(&told.cases[choice.worst], told.units);
    let label = &choice.plate.label;
    if advice.recommended.is_none() {
        return format!("Borderline at best: {label} AR500 for {worst}: {}.", say::judgement(&choice.judgement));
    }
    let held = say::judgement(&choice.judgement);
    match told.cases.len() {
        1 => format!("Hang {label} AR500: it takes {worst}, {held}."),
        n => format!("Hang {label} AR500: it takes all {n} asked of it; tightest is {worst}, {held}."),
    }
}

fn no_plate(advice: &Advice, told: &Told) -> String {
    let Some((choice, case)) = blocking(advice, told) else {
        return "No plate suits all that is asked.".into();
    };
    let why = say::judgement(&choice.each[case]);
    let fix = advice.remedies.iter().find(|r| r.case == case).and_then(|r| r.distance.as_ref());
    let fix =
        fix.map(|(distance, plate)| format!("; {} takes it from {}", plate.label, told.units.distance_up(*distance)));
    let rest = advice.rest.and_then(|i| advice.choices.get(i));
    let rest = rest.map(|choice| format!(" {} takes the rest.", choice.plate.label)).unwrap_or_default();
    format!("No plate for {}: {why}{}.{rest}", case_words(&told.cases[case], told.units), fix.unwrap_or_default())
}

/// The case that the thickest plate fails worst, which is what stands in the way.
fn blocking<'a, 'r>(advice: &'a Advice<'r>, told: &Told) -> Option<(&'a Choice<'r>, usize)> {
    let thickest = advice.choices.last()?;
    let unmet = advice.remedies.iter().map(|r| r.case).filter(|&c| c < told.cases.len());
    unmet.max_by_key(|&case| thickest.each[case].verdict).map(|case| (thickest, case))
}

fn choices(advice: &Advice, told: &Told) -> Table {
    let faces = faces(told);
    let mut columns = vec![Column::words("plate"), Column::words("verdict"), Column::numbers("in hand")];
    columns.extend(faces.iter().map(|face| Column::numbers(weight_title(face, faces.len()))));
    columns.push(Column::words("what governs"));
    let mut table = Table::new(columns);
    for (index, choice) in advice.choices.iter().enumerate() {
        let mark = if advice.named() == Some(index) { "→ " } else { "" };
        let mut cells = vec![
            Some(format!("{mark}{}", choice.plate.label)),
            Some(choice.judgement.verdict.to_string()),
            choice.judgement.margin.map(words::margin),
        ];
        cells.extend(faces.iter().map(|face| Some(told.units.mass(face.mass(choice.plate.thickness)))));
        cells.push(governing(choice, told).map(|f| say::weighed(&f, told.units)));
        table.push(choice.judgement.verdict.into(), cells);
    }
    table
}

fn weight_title(face: &Face, of: usize) -> String {
    if of == 1 { "weight".into() } else { face.to_string() }
}

/// The finding that governs a choice, with its numbers.
fn governing<'r>(choice: &Choice<'r>, told: &Told<'r>) -> Option<Finding<'r>> {
    let case = told.cases.get(choice.worst)?;
    let allowance = case.question.rules.allow(&case.load, &choice.plate, case.question.setup);
    let rule = choice.judgement.rule?;
    allowance.findings(&case.strike).into_iter().find(|f| f.rule().id == rule.id)
}

/// Why the two plates below the one that is named won't do.
fn thinner(advice: &Advice, told: &Told) -> Vec<String> {
    let Some(named) = advice.named() else { return Vec::new() };
    let below = advice.choices.iter().take(named).rev().take(2);
    below
        .filter_map(|choice| {
            let finding = governing(choice, told)?;
            let case = if told.cases.len() > 1 {
                format!(" with {}", case_words(&told.cases[choice.worst], told.units))
            } else {
                String::new()
            };
            let why = &finding.rule().why;
            let numbers = say::finding(&finding, told.units);
            let told_why = if numbers.contains(why.as_str()) { String::new() } else { format!(" ({why})") };
            Some(format!("{} is {}{case}: {numbers}{told_why}.", choice.plate.label, choice.judgement.verdict))
        })
        .collect()
}

fn remedy(remedy: &Remedy, told: &Told) -> String {
    let case = case_words(&told.cases[remedy.case], told.units);
    let mut ways = Vec::new();
    if let Some((distance, plate)) = &remedy.distance {
        ways.push(format!("{} from {} on", plate.label, told.units.distance_up(*distance)));
    }
    if let Some((speed, plate)) = &remedy.muzzle_velocity {
        let bullet = told.units.bullet(told.cases[remedy.case].load.facts().bullet);
        let speed = told.units.speed_down(*speed);
        ways.push(format!("{} with this {bullet} bullet at no more than {speed} from the muzzle", plate.label));
    }
    if ways.is_empty() {
        return format!("{case}: no distance, plate or speed would; {}.", way_out(&told.cases[remedy.case]));
    }
    format!("{case}: {}.", ways.join("; or "))
}

/// What the worst finding of a case says to do, where no distance, plate or speed would.
fn way_out(case: &Case) -> String {
    let plates = case.question.ladder.plates();
    let rule = plates.last().and_then(|plate| case.judge(plate).rule);
    rule.map_or_else(
        || "this load must stay off steel".to_owned(),
        |r| if r.next.is_empty() { r.why.clone() } else { r.next.clone() },
    )
}

/// What arrives: mean and fast speed and energy.
#[must_use]
pub fn arrival(case: &Case, units: Units) -> String {
    let strike = &case.strike;
    let energy = |speed| units.energy(case.load.charge_energy(speed));
    format!(
        "{}: {}, {}; fast shot {}, {}.",
        case_words(case, units),
        units.speed(strike.mean),
        energy(strike.mean),
        units.speed(strike.fast),
        energy(strike.fast)
    )
}

/// A finding with verdict, margin, basis and source.
#[must_use]
pub fn explained_finding(finding: &Finding, units: Units) -> String {
    let rule = finding.rule();
    let margin = finding.margin.map(|m| format!(", {}", words::in_hand(m))).unwrap_or_default();
    let (basis, source) = (rule.basis.to_string(), &rule.source);
    let founded = if source.starts_with(&basis) { source.clone() } else { format!("{basis}: {source}") };
    format!("{}: {}: {}{margin}. [{founded}]", finding.verdict, rule.id, say::finding(finding, units))
}

fn explained(advice: &Advice, told: &Told) -> Vec<String> {
    let mut items = Vec::new();
    for choice in &advice.choices {
        for case in told.cases {
            let allowance = case.question.rules.allow(&case.load, &choice.plate, case.question.setup);
            let case_name = case_words(case, told.units);
            let findings = allowance.findings(&case.strike);
            items.extend(
                findings
                    .iter()
                    .map(|f| format!("{}, {case_name}: {}", choice.plate.label, explained_finding(f, told.units))),
            );
        }
    }
    items
}

/// The document `thickset/advise/1`.
#[must_use]
pub fn document(advice: &Advice, told: &Told, rules: &RuleSet) -> String {
    let named = |index: Option<usize>| match index.and_then(|i| advice.choices.get(i)) {
        Some(choice) => plate_json(choice),
        None => Value::Null,
    };
    Document::new("thickset/advise/1", told.circumstances, rules)
        .with("verdict", json!(advice.verdict()))
        .with("recommended", named(advice.recommended))
        .with("borderline", named(advice.borderline))
        .with("plates", advice.choices.iter().map(|c| choice_json(c, told)).collect())
        .with("remedies", advice.remedies.iter().map(|r| remedy_json(r, told)).collect())
        .with("remarks", json!(told.remarks))
        .text()
}

fn plate_json(choice: &Choice) -> Value {
    json!({"label": choice.plate.label, "thickness_m": choice.plate.thickness.si()})
}

fn choice_json(choice: &Choice, told: &Told) -> Value {
    let mut findings = Vec::new();
    for case in told.cases {
        let allowance = case.question.rules.allow(&case.load, &choice.plate, case.question.setup);
        let name = case_words(case, Units::Si);
        let all = allowance.findings(&case.strike);
        findings.extend(all.iter().map(|f| json::finding(f, &name, &say::finding(f, Units::Si))));
    }
    let face = told.cases.get(choice.worst).map(|c| &c.question.setup.face);
    let hanging: Vec<&Hanging> =
        told.comparisons.iter().flat_map(|c| &c.plates).filter(|h| h.plate.label == choice.plate.label).collect();
    let first = hanging.first();
    json!({
        "label": choice.plate.label,
        "thickness_m": choice.plate.thickness.si(),
        "verdict": choice.judgement.verdict,
        "mass_kg": face.map(|f| f.mass(choice.plate.thickness).si()),
        "margin": choice.judgement.margin,
        "governed_by": choice.judgement.rule.map(|r| r.id.clone()),
        "findings": findings,
        "reaction": first.and_then(|h| h.reaction.as_ref()).map(hanging::reaction_json),
        "material": first.map(|h| hanging::material_json(&h.material, told.shop)),
    })
}

fn remedy_json(remedy: &Remedy, told: &Told) -> Value {
    json!({
        "case": case_words(&told.cases[remedy.case], Units::Si),
        "distance_m": remedy.distance.as_ref().map(|(d, _)| d.si()),
        "distance_plate": remedy.distance.as_ref().map(|(_, p)| p.label.clone()),
        "muzzle_velocity_m_s": remedy.muzzle_velocity.as_ref().map(|(v, _)| v.si()),
        "muzzle_velocity_plate": remedy.muzzle_velocity.as_ref().map(|(_, p)| p.label.clone()),
    })
}

/// Whether the answer is another one high and hot, in words.
#[must_use]
pub fn flips(here: &Advice, there: &Advice) -> Option<String> {
    let label = |advice: &Advice| advice.named().and_then(|i| advice.choices.get(i)).map(|c| c.plate.label.clone());
    if label(here) == label(there) && here.verdict() == there.verdict() {
        return None;
    }
    Some(match (label(there), there.verdict()) {
        (Some(label), Verdict::Suits) => format!("the answer is {label}"),
        (Some(label), _) => format!("{label} is borderline at best"),
        (None, _) => "no plate suits".into(),
    })
}
