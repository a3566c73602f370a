//! A sheet for a customer: the plate, what it is for, how near, what never, how it hangs, and when it is done.

use super::{NEVER, NO_DATE, RETIRE, given};
use crate::advisor::answer::{AdviseAnswer, Line, LoadFacts, PlateChoice, PlateName};
use crate::plate::Steel;
use crate::quantity::{Length, Si};
use crate::report::answer::{LEFT_OUT, holds_for, safety, sentences};
use crate::report::catalog::drag_words;
use crate::report::figure;
use crate::report::numbers::Numbers;
use crate::report::page::{Block, Kind, Page};
use crate::rules::Verdict;
use crate::words::sentence;

/// What is written on a sheet beside the answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Order<'a> {
    /// Whom it is for.
    pub customer: Option<&'a str>,
    /// The day it is written, as it is to be printed.
    pub dated: Option<&'a str>,
}

/// The sheet.
#[must_use]
pub fn customer(answer: &AdviseAnswer, order: Order<'_>) -> Page {
    let preamble = &answer.preamble;
    let mut page = Page::holding_notice(answer.verdict.into(), title(answer));
    page.kind = Kind::Customer;
    page.lead.extend(letterhead(answer, order));
    // The conditions that a verdict hangs on are in its sentence: the air it holds for, what is apart, what is spare.
    page.push_note("In short", sentences(&[preamble.headline.clone(), preamble.nearest.clone()]));
    page.push(Block::Facts(facts(answer)));
    page.push_note("Not for", excluded(answer));
    page.push_note(LEFT_OUT, sentences(&preamble.left_out));
    page.push_note("Stands on", preamble.stands_on.as_str());
    page.push_note("Safety", safety(preamble));
    page.push_note("Never", NEVER);
    page.push_note("Hanging", hanging(answer));
    page.push_note("Retire it", RETIRE);
    page.push_note("Holds for", holds_for(preamble));
    page.push_note("Judged", "the loads and distances on this sheet, and no others. Not listed: ask.");
    if let Some(figure) = answer.outline.as_ref().and_then(|outline| figure::outline(outline, preamble.units)) {
        page.push(Block::Figure(figure));
    }
    page
}

fn plate(answer: &AdviseAnswer) -> Option<&PlateName> {
    answer.recommended.as_ref().or(answer.for_the_rest.as_ref()).or(answer.borderline.as_ref())
}

fn choice(answer: &AdviseAnswer) -> Option<&PlateChoice> {
    plate(answer).and_then(|plate| answer.plates.iter().find(|choice| choice.label == plate.label))
}

/// The verdict is never left out: a sheet for a borderline plate says so on its first line.
fn title(answer: &AdviseAnswer) -> String {
    let steel = steel(answer);
    let Some(choice) = choice(answer) else { return format!("No {steel} takes what was asked") };
    let some = if answer.verdict == Verdict::Unsuitable { ", for some of what was asked" } else { "" };
    let doubtful = choice.verdict_of_the_left() != Verdict::Suits || answer.verdict == Verdict::Borderline;
    let doubt = if doubtful { ": borderline" } else { "" };
    format!("{}, {}{some}{doubt}", sentence(&steel), choice.label)
}

/// The steel as it was asked about.
fn steel(answer: &AdviseAnswer) -> String {
    let mut steels: Vec<String> = Vec::new();
    for target in &answer.preamble.inputs.targets {
        let steel = match target.target.steel {
            Steel::Unknown => "plate of steel that is not known".into(),
            Steel::Other => "plate of other steel".into(),
            made => format!("{made} plate"),
        };
        if !steels.contains(&steel) {
            steels.push(steel);
        }
    }
    let told = crate::words::listed(&steels);
    if told.is_empty() { "AR500 plate".into() } else { told }
}

fn letterhead(answer: &AdviseAnswer, order: Order<'_>) -> Vec<String> {
    let shop = answer.preamble.inputs.shop.as_deref();
    let named = |label: &str, words: Option<&str>| words.filter(|w| !w.is_empty()).map(|w| format!("{label}{w}"));
    let date = named("Dated ", given(order.dated)).or_else(|| Some(format!("Date {NO_DATE}")));
    [named("", shop), named("For ", order.customer), date].into_iter().flatten().collect()
}

fn facts(answer: &AdviseAnswer) -> Vec<(String, String)> {
    let inputs = &answer.preamble.inputs;
    let mut facts: Vec<(String, String)> = Vec::new();
    let mut fact = |label: &str, value: String| {
        if !value.is_empty() {
            facts.push((label.into(), value));
        }
    };
    fact("product", inputs.product.clone().unwrap_or_default());
    for target in &inputs.targets {
        let label = if target.name.is_empty() { "face".into() } else { format!("face, {}", target.name) };
        fact(&label, target.target.face.clone());
    }
    fact("quantity", inputs.quantity.to_string());
    for (index, line) in inputs.lines.iter().enumerate() {
        if !answer.excluded.iter().any(|excluded| excluded.line == index) {
            fact("for", line_words(line, Numbers(answer.preamble.units)));
        }
    }
    let asked: Vec<Length> = inputs.lines.iter().map(|line| line.distance.0).collect();
    // One number for each load, unless one is right for all.
    let words = |nearest: Option<Si<Length>>| {
        let distance = nearest.map(|d| answer.preamble.units.distance_kept(d.0, &asked));
        distance.map_or("no distance is good".into(), |distance| format!("{distance}; nobody nearer while hot"))
    };
    match answer.preamble.nearest_distance {
        Some(nearest) => fact("nearest", words(Some(nearest))),
        None => answer.nearest_by_load.iter().for_each(|one| {
            let target = if one.target.is_empty() { String::new() } else { format!(", {}", one.target) };
            let on = one.plate.as_ref().filter(|_| plate(answer).is_none());
            let on = on.map(|plate| format!(" on {plate}")).unwrap_or_default();
            fact("nearest", format!("{}{target}{on}: {}", one.name, words(one.nearest)));
        }),
    }
    if let Some(choice) = choice(answer) {
        let several = choice.pieces.iter().map(|piece| (format!(", {}", piece.face), &piece.material));
        let alone = choice.material.iter().filter(|_| choice.pieces.is_empty()).map(|m| (String::new(), m));
        for (of, material) in several.chain(alone) {
            fact(&format!("weight{of}"), Numbers(answer.preamble.units).mass().words(material.mass_kg.0));
            let price = material.price.as_ref();
            let words = price.map(|p| price_words(&p.each, &p.total, inputs.quantity));
            fact(&format!("price{of}"), words.or(material.not_priced.clone()).unwrap_or_default());
            let shipping = price.and_then(|p| p.shipping.as_ref()).map(|cost| format!(", {cost} more"));
            fact(&format!("ships as{of}"), format!("{}{}", material.ships_as, shipping.unwrap_or_default()));
        }
        fact("together", choice.together.as_ref().and_then(|all| all.total.clone()).unwrap_or_default());
    }
    facts
}

fn line_words(line: &Line, numbers: Numbers) -> String {
    let target = if line.target.is_empty() { String::new() } else { format!(", {}", line.target) };
    let distance = numbers.distance_cell(line.distance.0).text(&numbers.distance().column("", ""));
    format!("{} at {}{target}: {}", line.load.name, distance.unwrap_or_default(), load_words(&line.load, numbers))
}

/// What was judged of a load, which its name may not say: `168 gr at 2650 ft/s, G7 0.223`.
fn load_words(load: &LoadFacts, numbers: Numbers) -> String {
    let many = if load.projectiles > 1 { format!("{} × ", load.projectiles) } else { String::new() };
    let speed = numbers.speed_under().words(load.muzzle_velocity.0);
    let bullet = numbers.0.bullet(load.bullet.0);
    format!("{many}{bullet} at {speed}, {}", drag_words(load))
}

fn price_words(each: &str, total: &str, quantity: u32) -> String {
    if quantity > 1 && !total.is_empty() { format!("{each} each, {total} for {quantity}") } else { each.into() }
}

fn excluded(answer: &AdviseAnswer) -> String {
    let said: Vec<String> = answer.excluded.iter().map(|e| format!("{}: {}", e.case, e.why)).collect();
    sentences(&said)
}

/// How it hangs and leans: what was read of the drawing, else how it is held; and what its movement asks for.
fn hanging(answer: &AdviseAnswer) -> String {
    let mut said = Vec::new();
    for target in &answer.preamble.inputs.targets {
        let name = if target.name.is_empty() { String::new() } else { format!("{}: ", target.name) };
        let lean = target.target.tilt.as_ref().map(|tilt| crate::words::degrees(tilt.0));
        let lean = lean.map_or("plumb".into(), |lean| format!("leaning {lean} toward the shooter"));
        said.push(format!("{name}{}, {lean}", target.target.mount.words()));
    }
    if let Some(outline) = &answer.outline {
        said.push(outline.hangs.clone());
    }
    if let Some(reaction) = choice(answer).and_then(|choice| choice.reaction.as_ref()) {
        if reaction.leaves_hook {
            said.push("a hard hit may lift it off an open hook: close the hooks".into());
        }
        if reaction.thrown_over {
            said.push("a low hit can throw it over its hangers".into());
        }
    }
    sentences(&said)
}
