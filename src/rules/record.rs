//! Rules as they stand in a file, and their reading.

use super::apart;
use super::filter::Filter;
use super::rule::{Basis, Concern, Rule, Sense, Side, Step, Verdict};
use super::subject::Subject;
use super::value::Value;
use crate::load::{Class, Construction};
use crate::plate::{Condition, Duty, Mount, Steel};
use crate::quantity::{Angle, Energy, Length, Mass, Measure, QuantityError, Ratio, Text, Velocity, parse, written};
use crate::source::{Diagnostic, Faults, Keys, SourceText, accepted};
use serde::Deserialize;
use std::collections::HashSet;
use std::sync::Arc;
use toml::Spanned;

/// The schema a rules file states.
pub const SCHEMA: &str = "thickset/rules/1";
/// The most rules one file may hold.
pub const MAX_RULES: usize = 2000;

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct File {
    schema: Spanned<String>,
    name: Spanned<String>,
    #[serde(default)]
    rule: Vec<Spanned<Record>>,
}

/// A thickness, and the last value that suits there.
type StepTexts = (Spanned<String>, Spanned<String>);

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Record {
    id: Spanned<String>,
    subject: Spanned<Subject>,
    sense: Spanned<SenseWord>,
    suits: Option<Spanned<String>>,
    borderline: Option<Spanned<String>>,
    /// Thickness and the last value that suits there, from thin to thick.
    by_thickness: Option<Spanned<Vec<StepTexts>>>,
    /// So many concerns that are borderline at once.
    borderlines: Option<Spanned<u32>>,
    concern: Option<Concern>,
    outcome: Option<Verdict>,
    factor: Option<Spanned<Factor>>,
    below: Option<Spanned<String>>,
    above: Option<Spanned<String>>,
    per: Option<Text<Length>>,
    #[serde(default)]
    class: Vec<Class>,
    #[serde(default)]
    construction: Vec<Construction>,
    #[serde(default)]
    mount: Vec<Mount>,
    #[serde(default)]
    duty: Vec<Duty>,
    #[serde(default)]
    condition: Vec<Condition>,
    #[serde(default)]
    steel: Vec<Steel>,
    thickness_from: Option<Text<Length>>,
    thickness_below: Option<Text<Length>>,
    muzzle_speed_above: Option<Text<Velocity>>,
    muzzle_speed_at_most: Option<Text<Velocity>>,
    muzzle_energy_above: Option<Text<Energy>>,
    muzzle_energy_at_most: Option<Text<Energy>>,
    bullet_from: Option<Text<Mass>>,
    bullet_below: Option<Text<Mass>>,
    steel_common: Option<bool>,
    within: Option<Text<Length>>,
    #[serde(alias = "tilt-said")]
    tilt_given: Option<bool>,
    why: Spanned<String>,
    #[serde(default)]
    next: String,
    basis: Option<Basis>,
    source: Option<Spanned<String>>,
}

#[derive(Deserialize, Clone, Copy, PartialEq)]
#[serde(rename_all = "kebab-case")]
enum SenseWord {
    AtMost,
    AtLeast,
    Outcome,
    Factor,
    Caution,
}

/// What a limit is divided by, a share of one or more.
struct Factor(Ratio);

/// The factors that are taken, as a share.
const FACTORS: std::ops::RangeInclusive<f64> = 1.0..=10.0;

impl<'de> Deserialize<'de> for Factor {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        written(deserializer, |text| parse(text).map_err(|error| as_a_factor(error, text))).map(Self)
    }
}

/// A number without a unit is told as the factor that it may be: `125 %` for 1.25 and for 125.
fn as_a_factor(error: QuantityError, text: &str) -> QuantityError {
    let QuantityError::NoUnit { text: shown, name, .. } = &error else { return error };
    let Ok(number) = text.trim().parse::<f64>() else { return error };
    let share = [number, number / 100.0].into_iter().find(|share| FACTORS.contains(share));
    let would_do = share.map_or_else(
        || "a factor from `100 %` to `1000 %`".to_owned(),
        |share| format!("`{} %`", (share * 1e6).round() / 1e4),
    );
    QuantityError::NoUnit { text: shown.clone(), name, would_do }
}

/// The keys of a rules file.
#[must_use]
pub fn keys() -> Vec<Keys> {
    vec![Keys::of::<File>(""), Keys::of::<Record>("[[rule]]")]
}

/// The words of a rule's sense.
#[must_use]
pub fn senses() -> &'static [&'static str] {
    accepted::<SenseWord>()
}

/// The rules of a file, and the name it gives them.
#[derive(Debug)]
pub(super) struct Read {
    pub name: Arc<str>,
    pub rules: Vec<Rule>,
}

/// Reads a rules file. The rules of a range's own file carry its name, and need no basis or source:
/// the range is the source.
pub(super) fn read(source: &SourceText, is_overlay: bool) -> Result<Read, Diagnostic> {
    let mut faults = Faults::default();
    let parse = |source: &SourceText| source.toml_of("rules", SCHEMA, |file: &File| &file.schema);
    let read = match apart::read(source, &mut faults, parse) {
        Some(file) => of_file(source, is_overlay, file, &mut faults),
        None => None,
    };
    match faults.into_one() {
        Some(fault) => Err(fault),
        None => read.ok_or_else(|| Diagnostic::plain("the rules can't be read")),
    }
}

/// What each rule of a file of our own begins with.
const HEAD: &str = "\n[[rule]]\n";

/// The rules of a shipped file, read one by one, which takes a fraction of the memory that the whole takes, and half the
/// time; none where one can't be read. A test holds them against the file read whole and checked.
pub(super) fn shipped(text: &str) -> Option<Vec<Rule>> {
    let source = SourceText::new("", "");
    let rule = |text: &str| {
        let record: Record = toml::from_str(text).ok()?;
        Reader { source: &source, record: &record, span: 0..0 }.rule(None).ok()
    };
    text.split(HEAD).skip(1).map(rule).collect()
}

/// The rules of a file's records; what is wrong goes to the faults.
fn of_file(source: &SourceText, is_overlay: bool, file: File, faults: &mut Faults) -> Option<Read> {
    let whole = is_whole(source, &file).map_err(|fault| {
        // Of a file whose every rule is at fault there is none left.
        if !file.rule.is_empty() || faults.is_empty() {
            faults.push(fault);
        }
    });
    whole.ok()?;
    let name: Arc<str> = file.name.get_ref().as_str().into();
    let overlay = is_overlay.then(|| Arc::clone(&name));
    let mut seen = HashSet::new();
    let mut rules = Vec::with_capacity(file.rule.len());
    for record in file.rule {
        let span = record.span();
        let record = record.into_inner();
        if !seen.insert(record.id.get_ref().clone()) {
            let message = format!("rule id `{}` stands twice", record.id.get_ref());
            faults.push(source.fault(record.id.span(), message).help("give each rule an id of its own"));
        }
        match (Reader { source, record: &record, span }).rule(overlay.clone()) {
            Ok(rule) => rules.push(rule),
            Err(fault) => faults.push(fault),
        }
    }
    Some(Read { name, rules })
}

/// Checks what a file says besides its rules.
fn is_whole(source: &SourceText, file: &File) -> Result<(), Diagnostic> {
    if file.name.get_ref().trim().is_empty() {
        return Err(source.fault(file.name.span(), "the rules have no name").help("name whose rules they are"));
    }
    if file.rule.len() > MAX_RULES {
        let message = format!("{} rules", file.rule.len());
        return Err(Diagnostic::plain(message).help(format!("a file may hold {MAX_RULES} rules at most")));
    }
    if file.rule.is_empty() {
        return Err(source.fault(file.name.span(), "there is no rule in this file").help("add a `[[rule]]`"));
    }
    Ok(())
}

struct Reader<'a> {
    source: &'a SourceText,
    record: &'a Record,
    span: std::ops::Range<usize>,
}

impl Reader<'_> {
    fn rule(&self, overlay: Option<Arc<str>>) -> Result<Rule, Diagnostic> {
        let record = self.record;
        let sense = self.sense()?;
        let (basis, source) = self.authority(overlay.is_some())?;
        self.no_text(&record.id, "id")?;
        self.no_text(&record.why, "why")?;
        let filter = self.filter();
        self.has_an_effect(&sense, &filter)?;
        let concern = record.concern.or_else(|| Concern::of(*record.subject.get_ref(), &filter));
        Ok(Rule {
            id: record.id.get_ref().clone(),
            subject: *record.subject.get_ref(),
            sense,
            filter,
            concern,
            why: record.why.get_ref().clone(),
            next: record.next.clone(),
            basis,
            source,
            overlay,
        })
    }

    /// A rule that speaks of nothing, or forbids nothing where it speaks, is no rule.
    fn has_an_effect(&self, sense: &Sense, filter: &Filter) -> Result<(), Diagnostic> {
        fn crossed<T: PartialOrd>(low: Option<T>, high: Option<T>) -> bool {
            low.zip(high).is_some_and(|(low, high)| low >= high)
        }
        let crossing = [
            ("muzzle-speed-above", crossed(filter.muzzle_speed_above, filter.muzzle_speed_at_most)),
            ("muzzle-energy-above", crossed(filter.muzzle_energy_above, filter.muzzle_energy_at_most)),
            ("bullet-from", crossed(filter.bullet_from, filter.bullet_below)),
            ("thickness-from", crossed(filter.thickness_from, filter.thickness_below)),
        ];
        if let Some((key, _)) = crossing.iter().find(|(_, crossed)| *crossed) {
            let message = format!("the rule speaks of nothing: `{key}` is not below its other end");
            return Err(self.fault(message).help("write the lower value in it"));
        }
        // It would suit beyond the window, nearer than it asks for.
        if let (Sense::Limit { side: Side::AtLeast, suits, .. }, Subject::Distance, Some(within)) =
            (sense, self.record.subject.get_ref(), filter.within)
            && within.si() < suits.si()
        {
            let message = "the rule asks for a distance, and is heeded only nearer than that";
            return Err(self.fault(message).help("leave `within` out"));
        }
        if matches!(sense, Sense::Outcome(Verdict::Suits)) {
            let help =
                "write `outcome = \"unsuitable\"` or `\"borderline\"`: a rule makes an answer stricter, never looser";
            return Err(self.fault("an outcome that suits forbids nothing").help(help));
        }
        Ok(())
    }

    fn no_text(&self, text: &Spanned<String>, key: &str) -> Result<(), Diagnostic> {
        if text.get_ref().trim().is_empty() {
            return Err(self
                .source
                .fault(text.span(), format!("`{key}` is empty"))
                .help(format!("write the {key} of the rule")));
        }
        Ok(())
    }

    fn authority(&self, is_overlay: bool) -> Result<(Basis, String), Diagnostic> {
        let record = self.record;
        let source = record.source.as_ref().map(|s| s.get_ref().trim().to_owned()).filter(|s| !s.is_empty());
        match (record.basis, source) {
            (Some(basis), Some(source)) => Ok((basis, source)),
            (basis, source) if is_overlay => {
                Ok((basis.unwrap_or(Basis::RangeRule), source.unwrap_or_else(|| "the range's own rules".into())))
            }
            _ => Err(self.fault("the rule has no basis or no source").help("write `basis` and `source`")),
        }
    }

    fn fault(&self, message: impl Into<String>) -> Diagnostic {
        self.source.fault(self.span.clone(), message)
    }

    fn sense(&self) -> Result<Sense, Diagnostic> {
        let record = self.record;
        self.only_its_keys()?;
        match record.sense.get_ref() {
            SenseWord::AtMost => self.limit(Side::AtMost),
            SenseWord::AtLeast => self.limit(Side::AtLeast),
            SenseWord::Outcome => match (record.outcome, &record.borderlines) {
                (Some(outcome), Some(many)) if *record.subject.get_ref() == Subject::Case => {
                    let concerns = *many.get_ref();
                    if !(2..=7).contains(&concerns) {
                        let help = "write how many different concerns are borderline at once, 2 to 7";
                        return Err(self.source.fault(many.span(), "`borderlines` is not between 2 and 7").help(help));
                    }
                    Ok(Sense::Together { concerns, outcome })
                }
                (Some(verdict), None) if *record.subject.get_ref() == Subject::Case => Ok(Sense::Outcome(verdict)),
                _ => Err(self.fault("an outcome needs `subject = \"case\"` and `outcome`").help("write both")),
            },
            SenseWord::Factor => self.factor(),
            SenseWord::Caution => self.caution(),
        }
    }

    /// A key that the sense does not read would be silently without effect.
    fn only_its_keys(&self) -> Result<(), Diagnostic> {
        let record = self.record;
        let is = |word| *record.sense.get_ref() == word;
        let limit = is(SenseWord::AtMost) || is(SenseWord::AtLeast);
        let narrow = is(SenseWord::Caution) || is(SenseWord::Factor);
        let idle = [
            ("suits", record.suits.is_some() && !limit),
            ("borderline", record.borderline.is_some() && !limit),
            ("by-thickness", record.by_thickness.is_some() && !is(SenseWord::AtMost)),
            ("borderlines", record.borderlines.is_some() && !is(SenseWord::Outcome)),
            ("outcome", record.outcome.is_some() && !is(SenseWord::Outcome)),
            ("factor", record.factor.is_some() && !is(SenseWord::Factor)),
            ("below", record.below.is_some() && !narrow),
            ("above", record.above.is_some() && !is(SenseWord::Caution)),
            ("per", record.per.is_some() && !is(SenseWord::Factor)),
        ];
        match idle.iter().find(|(_, set)| *set) {
            Some((key, _)) => Err(self
                .source
                .fault(record.sense.span(), format!("`{key}` has no effect with this sense"))
                .help("remove the key, or change the sense")),
            None => Ok(()),
        }
    }

    fn limit(&self, side: Side) -> Result<Sense, Diagnostic> {
        self.side_fits(side)?;
        if let Some(steps) = &self.record.by_thickness {
            return self.by_thickness(steps);
        }
        let suits = self
            .record
            .suits
            .as_ref()
            .ok_or_else(|| self.fault("the limit has no `suits`").help("write the last value that suits"))?;
        let suits_value = self.value(suits)?;
        let borderline = match &self.record.borderline {
            None => suits_value,
            Some(text) => {
                let value = self.value(text)?;
                let (suits, value_si) = (suits_value.si(), value.si());
                let inside = if side == Side::AtMost { value_si < suits } else { value_si > suits };
                if inside {
                    let message = "`borderline` is stricter than `suits`";
                    return Err(self.source.fault(text.span(), message).help("borderline lies beyond what suits"));
                }
                value
            }
        };
        Ok(Sense::Limit { side, suits: suits_value, borderline })
    }

    /// A limit at each of some thicknesses, both growing.
    fn by_thickness(&self, list: &Spanned<Vec<StepTexts>>) -> Result<Sense, Diagnostic> {
        let fault = |message: &str| self.source.fault(list.span(), message);
        if !matches!(self.record.subject.get_ref(), Subject::Energy | Subject::Demand) || self.record.suits.is_some() {
            let help = "give it to a limit of energy or demand, in place of `suits`";
            return Err(fault("`by-thickness` does not go with this").help(help));
        }
        let mut steps = Vec::new();
        for (thickness, suits) in list.get_ref() {
            let thickness = Length::from_si(self.si::<Length>(thickness)?);
            steps.push(Step { thickness, suits: self.value(suits)? });
        }
        let grows = |pair: &[Step]| pair[0].thickness < pair[1].thickness && pair[0].suits.si() < pair[1].suits.si();
        let positive = steps.first().is_some_and(|first| first.thickness.si() > 0.0 && first.suits.si() > 0.0);
        if steps.len() < 2 || !positive || !steps.windows(2).all(grows) {
            let help =
                "write two or more pairs of thickness and limit, both growing: [[\"1/4 in\", \"700 ft-lbf\"], ..]";
            return Err(fault("the limits by thickness do not grow").help(help));
        }
        let borderline = match &self.record.borderline {
            None => Ratio::from_si(1.0),
            Some(text) => Ratio::from_si(self.si::<Ratio>(text)?),
        };
        if borderline.si() < 1.0 {
            return Err(fault("`borderline` is stricter than what suits").help("write a share from 100 %"));
        }
        Ok(Sense::ByThickness { steps, borderline })
    }

    /// Only the conservative side of a subject can be limited, but for angles.
    fn side_fits(&self, side: Side) -> Result<(), Diagnostic> {
        let fits = match self.record.subject.get_ref() {
            Subject::Distance | Subject::SlowSpeed | Subject::Thickness | Subject::Width | Subject::HangsBy => {
                side == Side::AtLeast
            }
            Subject::ImpactSpeed
            | Subject::MuzzleSpeed
            | Subject::MuzzleEnergy
            | Subject::Calibre
            | Subject::Energy
            | Subject::Demand
            | Subject::Oblique => side == Side::AtMost,
            Subject::Lean => true,
            Subject::Case | Subject::DutyFactor | Subject::MountFactor | Subject::FaceFactor => false,
        };
        if fits {
            return Ok(());
        }
        let help = "at-least: distance, slow-speed, thickness, width, hangs-by, lean; at-most: impact-speed, muzzle-speed, \
                    muzzle-energy, calibre, energy, demand, lean, oblique";
        Err(self.source.fault(self.record.sense.span(), "this subject has no limit of this sense").help(help))
    }

    fn factor(&self) -> Result<Sense, Diagnostic> {
        let record = self.record;
        let subject = *record.subject.get_ref();
        if !matches!(subject, Subject::DutyFactor | Subject::MountFactor | Subject::FaceFactor) {
            let help = "factors are `duty-factor`, `mount-factor` and `face-factor`";
            return Err(self.source.fault(record.subject.span(), "this subject takes no factor").help(help));
        }
        match (&record.factor, &record.below, record.per) {
            (Some(factor), None, None) => {
                let value = factor.get_ref().0.si();
                if FACTORS.contains(&value) {
                    return Ok(Sense::Factor(value));
                }
                Err(self
                    .source
                    .fault(factor.span(), "the factor is not between 100 % and 1000 %")
                    .help("factors never make a rule looser: a quarter more is `125 %`"))
            }
            (None, Some(below), Some(per)) if subject == Subject::FaceFactor && per.0.si() > 0.0 => {
                Ok(Sense::NarrowFactor { below: Length::from_si(self.si::<Length>(below)?), per: per.0 })
            }
            _ => Err(self.fault("the factor is not complete").help("write `factor`, or for a face `below` and `per`")),
        }
    }

    fn caution(&self) -> Result<Sense, Diagnostic> {
        let record = self.record;
        let below = record.below.as_ref().map(|t| self.value(t)).transpose()?;
        let above = record.above.as_ref().map(|t| self.value(t)).transpose()?;
        let is_case = *record.subject.get_ref() == Subject::Case;
        if is_case == (below.is_some() || above.is_some()) {
            let help = "a caution on a subject has `below` or `above`; one on the case has neither";
            return Err(self.source.fault(record.subject.span(), "the caution does not say when").help(help));
        }
        Ok(Sense::Caution { below, above })
    }

    /// A value in the subject's own quantity.
    fn value(&self, text: &Spanned<String>) -> Result<Value, Diagnostic> {
        let subject = *self.record.subject.get_ref();
        let si = match subject {
            Subject::Distance
            | Subject::Thickness
            | Subject::Width
            | Subject::HangsBy
            | Subject::FaceFactor
            | Subject::Calibre => self.si::<Length>(text),
            Subject::ImpactSpeed | Subject::SlowSpeed | Subject::MuzzleSpeed => self.si::<Velocity>(text),
            Subject::Energy | Subject::MuzzleEnergy => self.si::<Energy>(text),
            Subject::Demand | Subject::DutyFactor | Subject::MountFactor => self.si::<Ratio>(text),
            Subject::Lean | Subject::Oblique => self.si::<Angle>(text),
            Subject::Case => Err(self.no_value(text)),
        }?;
        subject.value(si).ok_or_else(|| self.no_value(text))
    }

    fn no_value(&self, text: &Spanned<String>) -> Diagnostic {
        self.source.fault(text.span(), "a case has no value").help("remove this key")
    }

    fn si<Q: Measure>(&self, text: &Spanned<String>) -> Result<f64, Diagnostic> {
        let sizes = sizes(*self.record.subject.get_ref());
        let fault = |e: QuantityError| self.source.fault(text.span(), e.to_string()).help(e.sized(sizes).help());
        let value = parse::<Q>(text.get_ref()).map_err(fault)?.si();
        if value < 0.0 && *self.record.subject.get_ref() != Subject::Lean {
            return Err(self
                .source
                .fault(text.span(), format!("`{}` is negative", text.get_ref()))
                .help("write zero or more"));
        }
        Ok(value)
    }

    fn filter(&self) -> Filter {
        let r = self.record;
        Filter {
            class: r.class.clone(),
            construction: r.construction.clone(),
            mount: r.mount.clone(),
            duty: r.duty.clone(),
            condition: r.condition.clone(),
            steel: r.steel.clone(),
            thickness_from: r.thickness_from.map(|t| t.0),
            thickness_below: r.thickness_below.map(|t| t.0),
            muzzle_speed_above: r.muzzle_speed_above.map(|t| t.0),
            muzzle_speed_at_most: r.muzzle_speed_at_most.map(|t| t.0),
            muzzle_energy_above: r.muzzle_energy_above.map(|t| t.0),
            muzzle_energy_at_most: r.muzzle_energy_at_most.map(|t| t.0),
            bullet_from: r.bullet_from.map(|t| t.0),
            bullet_below: r.bullet_below.map(|t| t.0),
            steel_common: r.steel_common,
            within: r.within.map(|t| t.0),
            tilt_given: r.tilt_given,
        }
    }
}

/// Lengths of the size that a subject has, in place of those of a distance.
fn sizes(subject: Subject) -> &'static [&'static str] {
    match subject {
        Subject::Calibre => &["0.308 in", "7.62 mm"],
        Subject::Thickness | Subject::Width | Subject::HangsBy => &["0.5 in", "12 mm"],
        _ => &[],
    }
}

#[cfg(test)]
mod tests;
