//! A vetting as a page and as a document.

use super::advise::explained_finding;
use super::page::{Block, Column, Notice, Page, Table};
use super::words::{self, Units};
use super::{Circumstances, Document, json, say};
use crate::load::Load;
use crate::plate::Plate;
use crate::quantity::Measure;
use crate::rules::{Finding, RuleSet, Verdict};
use crate::vet::Vetting;
use serde_json::{Value, json};

/// What is told of a vetting beside itself.
#[derive(Debug, Clone, Copy)]
pub struct Told<'a> {
    /// The load.
    pub load: &'a Load,
    /// The plate.
    pub plate: &'a Plate,
    /// Inputs, assumptions and cautions.
    pub circumstances: &'a Circumstances,
    /// What else must be said.
    pub remarks: &'a [String],
    /// Units of words.
    pub units: Units,
    /// Whether every finding is told.
    pub explain: bool,
}

/// The page: the verdict, what would make it suit, the findings, the cautions.
#[must_use]
pub fn page(vetting: &Vetting, told: &Told) -> Page {
    let mut page = Page::new(vetting.judgement.verdict.into(), headline(vetting, told), Notice::default());
    page.push(Block::Table(findings(vetting, told)));
    if vetting.judgement.verdict != Verdict::Suits {
        page.push_list("What would make it suit", remedies(vetting, told));
    }
    page.push(Block::Heading("What arrives".into()));
    page.push(Block::Facts(arrival(vetting, told)));
    page.push_list("Mind", told.remarks.to_vec());
    if told.explain {
        let all = vetting.findings.iter().map(|f| explained_finding(f, told.units));
        page.push_list("Every finding", all.collect());
    }
    page.push(Block::Text(format!("Assumed: {}.", told.circumstances.assumed.join("; "))));
    page.push_list("Cautions", told.circumstances.cautions.clone());
    page
}

fn headline(vetting: &Vetting, told: &Told) -> String {
    let case = format!(
        "{} on {} at {}",
        told.load.facts().name,
        told.plate.label,
        told.units.distance(vetting.strike.distance)
    );
    let verdict = words::sentence(&vetting.judgement.verdict.to_string());
    let mark = if vetting.judgement.verdict == Verdict::Suits { "," } else { ":" };
    format!("{verdict}: {case}{mark} {}.", say::judgement(&vetting.judgement))
}

/// The findings that matter: those that are not met, else those that weigh the hit.
fn findings(vetting: &Vetting, told: &Told) -> Table {
    let mut table = Table::new(vec![
        Column::words("rule"),
        Column::words("verdict"),
        Column::numbers("found"),
        Column::numbers("limit"),
        Column::numbers("in hand"),
    ]);
    let unmet = vetting.findings.iter().any(|f| f.verdict != Verdict::Suits);
    let matters = |f: &&Finding| {
        let subject = f.rule().subject;
        if unmet { f.verdict != Verdict::Suits } else { subject.weighs() || subject.moves() }
    };
    for finding in vetting.findings.iter().filter(matters) {
        let subject = finding.rule().subject;
        let text = |v: Option<crate::rules::Value>| v.map(|v| say::value(subject, v, told.units));
        table.push(
            finding.verdict.into(),
            vec![
                Some(finding.rule().id.clone()),
                Some(finding.verdict.to_string()),
                text(finding.actual),
                text(finding.limit),
                finding.margin.map(words::margin),
            ],
        );
    }
    table
}

fn remedies(vetting: &Vetting, told: &Told) -> Vec<String> {
    let (remedies, units) = (&vetting.remedies, told.units);
    let mut ways = Vec::new();
    if let Some(distance) = remedies.distance {
        ways.push(format!("shoot it from {} or farther", units.distance_up(distance)));
    }
    if let Some(plate) = &remedies.plate {
        ways.push(format!("hang {} at this distance", plate.label));
    }
    if let Some(tilt) = remedies.tilt {
        ways.push(format!("lean the face {} toward the shooter", words::degrees(tilt)));
    }
    if let Some(turn) = remedies.oblique {
        ways.push(format!("turn the face to within {}", words::degrees(turn)));
    }
    if let Some(mount) = remedies.mount {
        ways.push(format!("have it {}", mount.words()));
    }
    if let Some(speed) = remedies.muzzle_velocity {
        ways.push(format!("load it to no more than {} at the muzzle", units.speed_down(speed)));
    }
    if ways.is_empty() {
        let next = vetting.judgement.rule.map(|r| r.next.clone()).filter(|n| !n.is_empty());
        ways.push(next.unwrap_or_else(|| "no distance, plate or muzzle velocity alone would".into()));
    }
    ways.iter().map(|w| words::sentence(w) + ".").collect()
}

fn arrival(vetting: &Vetting, told: &Told) -> Vec<(String, String)> {
    let (strike, units) = (&vetting.strike, told.units);
    let at = |speed| format!("{}, {}", units.speed(speed), units.energy(told.load.charge_energy(speed)));
    vec![
        ("mean shot".into(), at(strike.mean)),
        ("fast shot".into(), at(strike.fast)),
        ("slow shot".into(), units.speed(strike.slow)),
        ("falls at".into(), words::degrees(strike.fall)),
    ]
}

/// The document `thickset/vet/1`.
#[must_use]
pub fn document(vetting: &Vetting, told: &Told, rules: &RuleSet) -> String {
    let case = format!(
        "{} on {} at {}",
        told.load.facts().name,
        told.plate.label,
        Units::Si.distance(vetting.strike.distance)
    );
    let findings: Value =
        vetting.findings.iter().map(|f| json::finding(f, &case, &say::finding(f, Units::Si))).collect();
    let remedies = &vetting.remedies;
    Document::new("thickset/vet/1", told.circumstances, rules)
        .with("verdict", json!(vetting.judgement.verdict))
        .with("governed_by", json!(vetting.judgement.rule.map(|r| &r.id)))
        .with("margin", json!(vetting.judgement.margin))
        .with("findings", findings)
        .with("strike", json::strike(told.load, &vetting.strike))
        .with(
            "would_suit",
            json!({
                "distance_m": remedies.distance.map(Measure::si),
                "plate": remedies.plate.as_ref().map(|p| json!({"label": p.label, "thickness_m": p.thickness.si()})),
                "muzzle_velocity_m_s": remedies.muzzle_velocity.map(Measure::si),
                "tilt_deg": remedies.tilt.map(|a| crate::quantity::unit::DEGREE.value(a)),
                "oblique_deg": remedies.oblique.map(|a| crate::quantity::unit::DEGREE.value(a)),
                "mount": remedies.mount,
            }),
        )
        .with("remarks", json!(told.remarks))
        .text()
}
