//! What every answer says beside what was asked.

use super::answer::{AppliedRule, NotJudged, Preamble};
use super::drawn;
use super::lean::Lean;
use super::resolve::loads::Asked;
use super::resolve::taken::Taken;
use super::safety::{self, NOTICE, Occasion};
use crate::load::{Construction, Load};
use crate::order::Order;
use crate::plate::{Condition, Steel};
use crate::quantity::{Si, Velocity, unit};
use crate::rules::{Allowance, Rule, Setup};
use crate::source::clean;
use crate::strike::Strike;
use crate::words::{self, Units};

/// What an answer says, as it comes together.
#[derive(Debug, Default)]
pub(crate) struct Said {
    pub headline: String,
    pub nearest: String,
    pub stands_on: String,
    pub remarks: Vec<String>,
    pub not_judged: Vec<NotJudged>,
    pub left_out: Vec<String>,
    pub rules: Vec<AppliedRule>,
    /// What rules that only speak say of the case.
    pub warned: Vec<String>,
    /// What the range's own rules say of it, which stands in the first paragraph of safety.
    pub of_range: Vec<String>,
}

impl Said {
    /// A remark, once.
    pub fn remark(&mut self, text: impl Into<String>) {
        let text = clean(&text.into());
        if !text.is_empty() && !self.remarks.contains(&text) {
            self.remarks.push(text);
        }
    }

    /// The rules that speak of a strike, those that only warn included.
    pub fn hear(&mut self, allowance: &Allowance, strike: &Strike) {
        for finding in allowance.findings(strike) {
            super::facts::applied(&mut self.rules, finding.rule());
        }
        allowance.cautions(strike).for_each(|rule| self.warn(rule));
    }

    /// A rule that warns.
    pub fn warn(&mut self, rule: &Rule) {
        super::facts::applied(&mut self.rules, rule);
        let text = clean(&(words::sentence(&rule.why) + "."));
        if let Some(range) = &rule.overlay {
            let told = format!("{}: {text}", clean(range));
            if !self.of_range.contains(&told) {
                self.of_range.push(told);
            }
        }
        let covered = rule.overlay.is_none() && safety::covers(&rule.id);
        if !covered && !self.warned.contains(&text) {
            self.warned.push(text);
        }
    }

    /// The whole, with the cautions of the occasion.
    pub fn preamble<I>(
        mut self,
        command: &str,
        units: Units,
        inputs: I,
        taken: Taken,
        occasion: &Occasion,
    ) -> Preamble<I> {
        for doubt in taken.remarks() {
            self.remark(doubt.as_str());
            let gap = if self.stands_on.is_empty() { "" } else { " " };
            self.stands_on += &format!("{gap}{doubt}");
        }
        for text in occasion.setups.iter().filter_map(|setup| drawn::left_out_words(&setup.face)) {
            if !self.left_out.contains(&text) {
                self.left_out.push(text);
            }
        }
        let doubts = taken.remarks().to_vec();
        let (assumed, holds_for) = taken.into_parts();
        let mut cautions = safety::list(occasion);
        cautions.extend(self.warned);
        Preamble {
            schema: format!("thickset/{command}/1"),
            program: concat!("thickset ", env!("CARGO_PKG_VERSION")).into(),
            units,
            inputs,
            headline: clean(&self.headline),
            nearest: clean(&self.nearest),
            nearest_distance: occasion.nearest.for_all().map(Si),
            stands_on: self.stands_on,
            assumed,
            holds_for,
            remarks: self.remarks,
            not_judged: self.not_judged,
            left_out: self.left_out,
            rules: self.rules,
            safety: safety::after_range(&self.of_range, safety::paragraph(occasion)),
            doubts,
            range_says: self.of_range,
            case_says: safety::of_case(occasion),
            cautions,
            notice: NOTICE.into(),
        }
    }
}

/// What an answer stands on: `Only if sound on both faces, marked AR500, leaning 15° toward you, lead core.` `leans` are
/// those that would suit; `slowest` says how slow any ammunition may be.
pub(crate) fn stands_on(
    setups: &[&Setup],
    loads: &[&Load],
    leans: Option<Lean>,
    slowest: Vec<String>,
    units: Units,
) -> String {
    let mut parts = vec![condition(setups, units)];
    let steels: Vec<Steel> = setups.iter().map(|s| s.steel).collect();
    let unknown = steels.contains(&Steel::Unknown);
    let alike = steels.first().filter(|first| **first != Steel::Other && steels.iter().all(|s| s == *first));
    if !unknown || alike.is_none() {
        parts.push(alike.map_or_else(|| "marked AR500".into(), |steel| format!("marked {steel}")));
    }
    parts.push(lean(setups, leans));
    parts.push(bullets(loads).to_owned());
    parts.extend(slowest);
    let steel = if unknown { "Steel not known: find its mark. " } else { "" };
    format!("{steel}Only if {}.", parts.join(", "))
}

/// How slow any ammunition may be, named where there are others: what is judged of it is its fastest. None where it is
/// judged in part only, and no yes.
pub(crate) fn no_slower(asked: &Asked, is_one: bool, least: Velocity, units: Units) -> Option<String> {
    let any = asked.any.as_ref().filter(|any| !any.is_in_part())?;
    let name = if is_one { String::new() } else { format!("{} ", any.in_short()) };
    Some(format!("{name}no slower than {} at the muzzle", units.speed_up(least)))
}

fn condition(setups: &[&Setup], units: Units) -> String {
    if setups.iter().any(|s| s.condition == Condition::Pitted) {
        let deepest = if units == Units::Us { "1/16 in" } else { "1.5 mm" };
        return format!("pitted no deeper than {deepest} and sound behind");
    }
    "sound on both faces".into()
}

fn lean(setups: &[&Setup], leans: Option<Lean>) -> String {
    let mut tilts: Vec<f64> = setups.iter().filter_map(|s| s.tilt).map(|tilt| unit::DEGREE.value(tilt)).collect();
    tilts.order_by(f64::total_cmp);
    let text = |lean: f64| words::degrees(unit::DEGREE.of(lean.abs()));
    match (tilts.first(), tilts.last()) {
        (Some(low), Some(high))
            if tilts.len() < setups.len() && leans.is_none() && high.abs().max(low.abs()) > 0.05 =>
        {
            "each at its own lean, plumb where none was given".into()
        }
        (Some(low), Some(high)) if *low < -0.05 && high - low > 0.05 && tilts.len() == setups.len() => {
            let to = if *high > 0.0 { "toward you" } else { "away from you" };
            format!("each at its own lean, {} away from you to {} {to}", text(*low), text(*high))
        }
        (Some(low), Some(high)) if tilts.len() == setups.len() => {
            if *low < 0.0 {
                format!("leaning {} away from you and no more", text(*low))
            } else if high - low < 0.05 && *low < 0.05 {
                "plumb, not leaning away".into()
            } else if high - low < 0.05 {
                format!("leaning {} toward you", text(*low))
            } else {
                format!("each at its own lean, {} to {} toward you", text(*low), text(*high))
            }
        }
        // Plumb is taken where none was given.
        _ => leans.map_or_else(|| "plumb, not leaning away".into(), Lean::words),
    }
}

/// What the bullets must be.
fn bullets(loads: &[&Load]) -> &'static str {
    let all = |is: &dyn Fn(Construction) -> bool| loads.iter().all(|l| is(l.judged_construction()));
    if loads.is_empty() {
        "lead core"
    } else if all(&|c| c == Construction::LeadShot) {
        "lead shot"
    } else if all(&|c| c == Construction::Frangible) {
        "frangible"
    } else if all(&|c| c == Construction::Lead) {
        "all lead"
    } else if all(&|c| c == Construction::Monolithic) {
        "solid copper or brass, no steel in it"
    } else {
        "lead core"
    }
}
