//! The answer, made of what was judged.

use super::counted::counted;
use super::words::{self, brought, count, people, place, shooters, some, why};
use super::{Told, beyond, brief, holds, leave};
use crate::advisor::answer::{
    AppliedRule, BarredLoad, CourseAnswer, CourseBrief, CourseRisk, FixParts, Needs, NotJudged, PositionAnswer,
    TargetAnswer, TargetFinding, TargetVerdict,
};
use crate::course::{Barred, ClassSet, Kept, Mending, Move, Stage};
use crate::load::Class;
use crate::quantity::{Degrees, Length, Measure, Number, Si};
use crate::rules::{Rule, Verdict};
use crate::source::{CellPlace, Diagnostic};

pub(super) fn answer(told: &Told) -> CourseAnswer {
    let targets: Vec<TargetAnswer> = (0..told.course.targets.len()).map(|index| target(told, index)).collect();
    let not_judged = not_judged(told, &targets);
    let risk = risk(told);
    let barred: Vec<BarredLoad> = told.barred.iter().map(leave::barred).collect();
    let worst = targets.iter().map(|t| verdict(t.verdict)).chain(barred.iter().map(|b| b.verdict)).max();
    let mut verdict = worst.unwrap_or(Verdict::Unsuitable);
    if risk.as_ref().is_some_and(|r| !r.nearer.is_empty()) {
        verdict = verdict.max(Verdict::Borderline);
    }
    // A class that the ammunition rules do not name is for the director to decide on, as is a name that speaks of
    // another thing than what was judged.
    let open = !told.course.in_part.is_empty() || !leave::silent(told).is_empty();
    if open || !beyond::named_otherwise(told).is_empty() {
        verdict = verdict.max(Verdict::Borderline);
    }
    // A load that the rules refuse was declared, and somebody must be written to.
    if !not_judged.is_empty() || !told.course.refused.is_empty() {
        verdict = Verdict::Unsuitable;
    }
    let (haul, haul_mass) = super::haul::of(told);
    let mut answer = CourseAnswer {
        preamble: holds::preamble(told, not_judged, applied(told)),
        name: told.course.name.clone(),
        verdict,
        ready: verdict == Verdict::Suits,
        stages: super::stages::of(told, &targets),
        fixes: super::stages::fixes(told),
        good: Vec::new(),
        refused: told.course.refused.iter().map(leave::refused).collect(),
        better_left: leave::better_left(told),
        leaving: leave::leaving(told),
        brief: CourseBrief::default(),
        leave: leave::at_home(told).iter().map(leave::Line::whole).collect(),
        decide: decided(told),
        bring: super::haul::told(told, &haul, haul_mass),
        haul,
        haul_mass: Si(haul_mass),
        explained: (0..told.course.targets.len()).map(|index| explained(told, index)).collect(),
        barred,
        risk,
        targets,
        faults: told.course.unread.clone().into_told(),
    };
    answer.good = answer.stages.iter().filter(|s| !s.good.is_empty()).map(|s| s.good.clone()).collect();
    answer.leave.extend(leave::lifts(told, crate::words::listed, false));
    answer.preamble.headline = headline(told, &answer);
    answer.preamble.nearest = beyond::told(told, answer.risk.as_ref());
    answer.brief = brief::of(told, &answer);
    answer
}

/// What the officer decides, everything named.
fn decided(told: &Told) -> Vec<String> {
    let mut lines: Vec<String> = leave::doubtful(told, true).iter().map(leave::Line::whole).collect();
    lines.extend(leave::in_part(told));
    lines.extend(super::standing::told(told, false).into_iter().map(|line| line + "."));
    lines
}

fn verdict(verdict: TargetVerdict) -> Verdict {
    match verdict {
        TargetVerdict::Suits => Verdict::Suits,
        TargetVerdict::Borderline => Verdict::Borderline,
        TargetVerdict::Unsuitable | TargetVerdict::NotJudged => Verdict::Unsuitable,
    }
}

fn headline(told: &Told, answer: &CourseAnswer) -> String {
    let total = answer.targets.len();
    let to_fix = told.mendings.len();
    let unjudged = answer.targets.iter().filter(|t| t.verdict == TargetVerdict::NotJudged).count();
    let unread = answer.preamble.not_judged.iter().filter(|n| n.unreadable).count();
    let others = answer.preamble.not_judged.len() - unread - unjudged;
    let aimless = aimless(told).iter().map(|(_, loads)| loads.len()).sum::<usize>();
    let empty = empty_stages(told).count();
    let short = beyond::not_followed(told).len();
    let unused = others - self::aimless(told).len() - empty - short;
    let barred = answer.barred.iter().filter(|b| b.verdict == Verdict::Unsuitable).count();
    let refused = leave::at_home(told).len() - barred;
    let leave = barred + refused + usize::from(told.home.as_ref().is_some_and(|home| home.from.is_empty()));
    let mut parts = Vec::new();
    if to_fix > 0 {
        parts.push(format!("{to_fix} of {} to fix", count(total, "target")));
    }
    if unjudged > 0 {
        parts.push(format!("{} not judged", count(unjudged, "target")));
    }
    if aimless > 0 {
        parts.push(format!("{} without a target", count(aimless, "load")));
    }
    if short > 0 {
        parts.push(format!("{} not judged", count(short, "load")));
    }
    if unused > 0 {
        parts.push(format!("{} that nobody shoots from", count(unused, "position")));
    }
    if empty > 0 {
        parts.push(format!("{} without a target", count(empty, "stage")));
    }
    if told.course.unread.count() > 0 {
        parts.push(format!(
            "{} not read",
            count(told.course.unread.count(), "row or entry").replace("row or entrys", "rows or entries")
        ));
    }
    if leave > 0 {
        parts.push(format!("{} to leave", count(leave, "load")));
    }
    let silent = leave::silent(told);
    let unnamed = told.course.loads.iter().filter(|load| silent.contains(&load.class())).count();
    let decide = answer.barred.len() - barred + unnamed;
    if decide > 0 {
        parts.push(format!("{} to decide on", count(decide, "load")));
    }
    let in_part = told.course.known_in_part();
    if in_part > 0 {
        parts.push(format!("{} known in part", count(in_part, "cartridge")));
    }
    let named = beyond::named_otherwise(told).len();
    if named > 0 {
        parts.push(format!("{} to look into", count(named, "name")));
    }
    if answer.ready {
        let left_out = left_out(told);
        let loads = count(told.course.loads.len() - left_out.len(), "load");
        let up = match told.stays.len() {
            0 => String::new(),
            1 => "; 1 does not fall to every load".into(),
            several => format!("; {several} do not fall to every load"),
        };
        let out: Vec<String> = left_out.iter().flat_map(|&load| people(&told.course.loads[load])).collect();
        let out = if out.is_empty() { String::new() } else { format!("; {} left out everywhere", some(&out)) };
        let ready = format!("READY{}{}", beyond::air(told), beyond::as_far_as(told));
        return format!("{ready}: {} judged with {loads}, all pass{up}{out}. {}", count(total, "target"), answer.name);
    }
    if parts.is_empty() {
        parts.push("the risk of so many shots".into());
    }
    format!("NOT READY: {}. {}", parts.join(", "), answer.name)
}

fn class_name(class: Class) -> String {
    class.to_string()
}

fn position(told: &Told, target: usize, index: usize) -> PositionAnswer {
    let line = &told.course.lines[told.course.targets[target].line];
    let position = &line.positions[index];
    let cases = told.cases.iter().zip(&told.judged.outcomes);
    let found = cases.filter(|(c, _)| c.target == target && c.position == index);
    let mut verdict: TargetVerdict = found.filter_map(|(_, outcome)| outcome.verdict).max().into();
    if verdict != TargetVerdict::Unsuitable && beyond::short_of_the_way(told, target, Some(index)).is_some() {
        verdict = TargetVerdict::NotJudged;
    }
    let classes = if position.classes == ClassSet::ALL {
        Vec::new()
    } else {
        Class::ALL.iter().filter(|c| position.classes.has(**c)).map(|c| class_name(*c)).collect()
    };
    PositionAnswer {
        name: position.name.clone(),
        distance: Si(position.distance(told.course.targets[target].at)),
        classes,
        verdict,
        slope: position.slope.map(Degrees),
        words: words::position(told, target, index),
    }
}

fn target(told: &Told, index: usize) -> TargetAnswer {
    let target = &told.course.targets[index];
    let outcomes: Vec<_> =
        told.cases_of(index).iter().map(|&case| (&told.cases[case], &told.judged.outcomes[case])).collect();
    let worst = outcomes.iter().filter(|(_, o)| o.verdict.is_some()).max_by(|a, b| {
        let hold = |o: &crate::course::Outcome| o.margin.unwrap_or(0.0);
        a.1.verdict.cmp(&b.1.verdict).then(hold(b.1).total_cmp(&hold(a.1)))
    });
    let mut verdict: TargetVerdict = worst.and_then(|w| w.1.verdict).into();
    let is_short = beyond::short_of_the_way(told, index, None).is_some();
    if verdict != TargetVerdict::Unsuitable && is_short {
        verdict = TargetVerdict::NotJudged;
    }
    let load = worst.and_then(|w| w.1.worst).map(|w| &told.course.loads[w]);
    let mending = told.mending(index);
    let decided = leave::decided(told, index);
    let concerns = match decided {
        Some(barred) => people(&barred.brought),
        None => told.everybody_concerned(index),
    };
    let (failing, shot_by) = counted(told, index);
    let governing = worst.and_then(|w| w.1.rule);
    let fixed = mending.and_then(|m| m.fix.as_ref().map(|fix| (m, fix)));
    let nearest = told.course.nearest(target);
    TargetAnswer {
        stage: told.course.stages[target.stage].name.clone(),
        target: target.name.clone(),
        count: target.count,
        distance: Si(nearest),
        from: told.units.distance(nearest),
        plate: words::plate(told, &target.plate),
        face: words::face(told, &target.setup.face),
        worst_load: load.map(|l| l.load.id().to_owned()),
        worst_name: load.map(|l| l.load.facts().name.clone()),
        who: load.and_then(|l| l.who.first().cloned()),
        verdict,
        needs: Needs {
            label: mending.and_then(|m| m.plate.as_ref()).map(|p| words::plate(told, p)),
            distance: mending.and_then(|m| m.distance).map(Si),
        },
        fix: fix_words(told, index, mending, decided, is_short),
        parts: fixed.map(|(m, fix)| parts(told, m, fix)).unwrap_or_default(),
        or: mending.and_then(|m| m.other.as_ref().map(|other| or_words(told, index, m, other))),
        why: fixed
            .and_then(|(_, fix)| fix.reason)
            .or_else(|| mending.and_then(|m| m.blocking.first().copied()))
            .or_else(|| decided.map(|barred| barred.rule))
            .map(why)
            .or_else(|| beyond::only_here(told, index)),
        blocked_by: mending.map(|m| m.blocking.iter().map(|r| r.id.clone()).collect()).unwrap_or_default(),
        concerns,
        failing,
        shot_by,
        positions: (0..told.course.lines[target.line].positions.len()).map(|p| position(told, index, p)).collect(),
        findings: vec![finding(verdict, governing, worst.and_then(|w| w.1.margin))],
    }
}

fn finding(verdict: TargetVerdict, rule: Option<&Rule>, margin: Option<f64>) -> TargetFinding {
    TargetFinding {
        rule: rule.map(|r| r.id.clone()),
        overlay: rule.and_then(|r| r.overlay.as_deref().map(str::to_owned)),
        verdict,
        margin: margin.map(Number),
        text: rule.map(why),
    }
}

/// The fix that moves nobody in words: it holds with what is left at home, as the other does.
fn or_words(told: &Told, index: usize, mending: &Mending, other: &crate::course::Fix) -> String {
    words::beside_left(told, index, words::fix(told, mending, other))
}

/// The fix of a target in words; why none is known where it was not judged.
fn fix_words(told: &Told, index: usize, mending: Option<&Mending>, decided: Option<&Barred>, is_short: bool) -> String {
    match mending {
        Some(mending) => {
            let own = match &mending.fix {
                Some(fix) => words::fix(told, mending, fix),
                None => words::none(told, mending),
            };
            match told.home_beside(index) {
                Some(_) => words::beside_left(told, index, own),
                None => words::or_left(told, index, own),
            }
        }
        None if is_short => "not judged on all of its way".into(),
        None if let Some(barred) = decided => {
            format!("decide on {}", barred.brought.load.facts().name)
        }
        None if beyond::named_otherwise(told).iter().any(|look| look.is_of(index)) => "look into its name".into(),
        None if told.cases_of(index).iter().any(|c| told.judged.outcomes[*c].verdict.is_some()) => "nothing".into(),
        None => "not judged: no load that was read shoots at it".into(),
    }
}

fn parts(told: &Told, mending: &Mending, fix: &crate::course::Fix) -> FixParts {
    let target = &told.course.targets[mending.target];
    let line = &told.course.lines[target.line];
    let back = fix.moves.iter().filter_map(|(_, m)| if let Move::Back(by) = m { Some(*by) } else { None });
    let from = fix.moves.iter().find_map(|(_, m)| if let Move::From(p) = m { Some(*p) } else { None });
    let up_to = fix.moves.iter().find_map(|(_, m)| if let Move::UpTo(p) = m { Some(*p) } else { None });
    let called = |p: usize| {
        let position = &line.positions[p];
        position.name.clone().unwrap_or_else(|| told.units.distance(position.distance(target.at)))
    };
    // A class of which every load is left out shoots from nowhere.
    let shoots = |class| fix.refuse.is_empty() || words::is_left(told.course, target, &fix.refuse, class);
    let distances = fix.distances.iter().filter(|(class, _)| shoots(*class)).map(|(_, at)| *at);
    let distance = distances.reduce(|a, b| if b < a { b } else { a });
    // Beside what is left at home every other fix holds only with it.
    let home = told.home_beside(mending.target).filter(|home| home.from.is_empty());
    let left = home.iter().flat_map(|home| &home.loads).filter(|load| !fix.refuse.contains(load));
    FixParts {
        back: back.reduce(|a, b| if b > a { b } else { a }).map(Si),
        distance: distance.map(Si),
        from: from.map(called),
        up_to: up_to.map(called),
        plate: fix.change.plate.as_ref().map(|p| words::plate(told, p)),
        new_plate: fix.change.fresh,
        steel: Some(words::steel(target).trim())
            .filter(|steel| fix.change.fresh && !steel.is_empty())
            .map(str::to_owned),
        tilt: fix.change.tilt.map(Degrees),
        square: fix.change.square,
        mount: fix.change.mount.map(|m| m.to_string()),
        look: fix.change.look,
        refuse: fix.refuse.iter().chain(left).map(|&i| brought(&told.course.loads[i])).collect(),
    }
}

fn explained(told: &Told, index: usize) -> String {
    let name = place(told, index);
    let worst = told.cases_of(index).iter().map(|c| &told.judged.outcomes[*c]).filter(|o| o.verdict.is_some());
    let worst = worst.max_by_key(|o| o.verdict);
    let Some(load) = worst.and_then(|o| o.worst) else {
        return format!("{name}: not judged.");
    };
    let outcome = worst.and_then(|o| o.verdict).map(|v| v.to_string()).unwrap_or_default();
    let brought = &told.course.loads[load];
    let concerned = told.everybody_concerned(index);
    let concerned = if concerned.is_empty() {
        String::new()
    } else {
        format!(" It concerns {}.", crate::words::listed(&concerned))
    };
    let each = if brought.load.facts().projectiles > 1 { " a pellet" } else { "" };
    let margin = worst.and_then(|o| o.margin).map(|m| format!(", {}", crate::words::to_spare(m))).unwrap_or_default();
    let arrives = worst.and_then(|o| o.strike).map(|strike| {
        let (speed, energy) = (told.units.speed(strike.fast), told.units.energy(brought.load.energy(strike.fast)));
        format!("fast shot {speed}, {energy}{each}; ")
    });
    format!(
        "{name}: {}: {}{outcome} by {}{margin}.{concerned}",
        words::shortly(brought),
        arrives.unwrap_or_default(),
        worst.and_then(|o| o.rule).map_or("no rule", |r| r.id.as_str())
    )
}

/// Targets that some load is shot at from nearer than it must keep.
fn nearer_than(told: &Told, kept: &Kept) -> Vec<usize> {
    let mut nearer: Vec<usize> = Vec::new();
    for case in told.cases {
        let mut all = kept.all_of(told.course.targets[case.target].rules);
        if all.any(|(load, keep)| case.is_nearer_than(keep, load, told.course)) && !nearer.contains(&case.target) {
            nearer.push(case.target);
        }
    }
    nearer
}

fn risk(told: &Told) -> Option<CourseRisk> {
    let crowd = told.course.crowd?;
    let books = 0..=told.course.stage_rules.len();
    // What is told as far enough is so in all of the air that was not given.
    let all = books.flat_map(|book| told.keep_there.all_of(book));
    let (load, metres) = all.reduce(|best, other| if other.1 > best.1 { other } else { best })?;
    let (nearer, nearer_there) = (nearer_than(told, told.keep), nearer_than(told, told.keep_there));
    let distance = Length::from_si(metres);
    let brought = brought(&told.course.loads[load]);
    // A distance below a line is no leave to come nearer: what the rules ask stands apart.
    let crowded = format!("{} shooters × {} rounds", crowd.shooters, crowd.rounds);
    let chance = format!("{:.0} %", crowd.accepted * 100.0);
    let far = format!(
        "no closer than {} with {}",
        told.units.distance_up(distance),
        words::shortly(&told.course.loads[load])
    );
    let keep = format!("With {crowded} the lines keep the chance that one shot is too fast within {chance}");
    // What other air changes is told with the lines there.
    let elsewhere = told.elsewhere.as_ref().filter(|e| nearer_there.iter().all(|target| e.changed.contains(target)));
    let words = match (nearer.is_empty(), nearer_there.is_empty()) {
        (true, true) => format!("{keep}."),
        (true, false) if elsewhere.is_some() => {
            let holds = elsewhere.map(|elsewhere| elsewhere.holds.as_str()).unwrap_or_default();
            format!("With {crowded}, {holds}, the lines keep the chance that one shot is too fast within {chance}.")
        }
        (true, false) => {
            let whole = told.whole.as_deref().unwrap_or_default();
            format!("{keep} in the air that was taken; for all of {whole} by speed alone {far}.")
        }
        _ => format!("By speed alone {far} for {crowded}, at a chance of {chance} that one shot is too fast."),
    };
    Some(CourseRisk {
        load: brought,
        distance: Si(distance),
        accepted: Number(crowd.accepted),
        nearer: nearer.iter().map(|&t| place(told, t)).collect(),
        words,
    })
}

/// Everything that was given and not judged: what could not be read, targets and positions without a load, loads
/// without a target.
fn not_judged(told: &Told, targets: &[TargetAnswer]) -> Vec<NotJudged> {
    let mut list: Vec<NotJudged> = told.course.unread.shown().iter().map(unread).collect();
    let more = told.course.unread.beyond();
    if more > 0 {
        list.push(NotJudged {
            what: format!("{more} more"),
            why: "they can't be read either; mend the first ones, then run it again".into(),
            unreadable: true,
            place: None,
        });
    }
    let nothing = |what: String, why: &str| NotJudged { what, why: why.into(), unreadable: false, place: None };
    for (index, target) in targets.iter().enumerate() {
        if target.verdict == TargetVerdict::NotJudged {
            let short = beyond::short_of_the_way(told, index, None);
            let why = short.map(|loads| {
                format!("reached on a part of the way alone: {loads}; end the way nearer, or name the `class`")
            });
            list.push(nothing(place(told, index), why.as_deref().unwrap_or("no load that was read shoots at it")));
            continue;
        }
        for position in target.positions.iter().filter(|p| p.verdict == TargetVerdict::NotJudged) {
            let what = format!("{}, {}", place(told, index), position.words);
            list.push(nothing(what, "no load that was read is shot from there"));
        }
    }
    for stage in empty_stages(told) {
        list.push(nothing(format!("stage {}", crate::source::clean(&stage.name)), "it has no target"));
    }
    for (load, why) in beyond::not_followed(told) {
        list.push(nothing(words::shortly(&told.course.loads[load]), &why));
    }
    for (class, loads) in aimless(told) {
        let who = format!("{} ({})", shooters(class), some(&loads));
        let is_for = |target: &crate::course::Target| ClassSet::or_all(&target.classes).has(class);
        let why = if told.course.targets.iter().any(|target| is_for(target) && !target.without.is_empty()) {
            "every target that is for their class leaves them out"
        } else {
            "no target that was read is for their class"
        };
        list.push(nothing(who, why));
    }
    list
}

/// Stages of which no target was read.
fn empty_stages<'t>(told: &'t Told) -> impl Iterator<Item = &'t Stage> {
    let mut has = vec![false; told.course.stages.len()];
    told.course.targets.iter().for_each(|target| has[target.stage] = true);
    told.course.stages.iter().zip(has).filter(|(_, has)| !has).map(|(stage, _)| stage)
}

/// Loads of classes that targets are for, and that every one of those leaves out.
fn left_out(told: &Told) -> Vec<usize> {
    let brought = told.course.classes_brought();
    let targets: Vec<(Vec<Class>, &[usize])> =
        told.course.targets.iter().map(|t| (told.course.classes_at(t, &brought), t.without.as_slice())).collect();
    if targets.iter().all(|(_, without)| without.is_empty()) {
        return Vec::new();
    }
    let is_out = |&load: &usize| {
        let mut mine =
            targets.iter().filter(|(classes, _)| classes.contains(&told.course.loads[load].class())).peekable();
        mine.peek().is_some() && mine.all(|(_, without)| without.contains(&load))
    };
    (0..told.course.loads.len()).filter(is_out).collect()
}

/// Loads that no target is for, by class: who brings each.
fn aimless(told: &Told) -> Vec<(Class, Vec<String>)> {
    let brought = told.course.classes_brought();
    let at = |target| told.course.classes_at(target, &brought);
    let shooting: Vec<Class> = told.course.targets.iter().flat_map(at).collect();
    let without = brought.iter().copied().filter(|class| !shooting.contains(class));
    let loads = |class: Class| {
        let mine = told.course.loads.iter().filter(|load| load.class() == class);
        mine.flat_map(people).collect::<Vec<String>>()
    };
    without.map(|class| (class, loads(class))).collect()
}

fn unread(fault: &Diagnostic) -> NotJudged {
    let file = fault.place.as_ref().map(|p| p.source.name.to_string());
    let place = file.as_ref().zip(fault.position()).map(|(file, (line, column))| format!("{file}:{line}:{column}"));
    let cell = fault.cell.as_ref().map(CellPlace::words);
    let what = match (&file, cell) {
        (Some(file), Some(cell)) => format!("{}, {cell}", short(file)),
        (Some(file), None) => {
            fault.position().map_or_else(|| short(file), |(line, _)| format!("{}, line {line}", short(file)))
        }
        (None, _) => "the match".into(),
    };
    NotJudged { what, why: fault.told(), unreadable: true, place }
}

/// A file's own name.
fn short(file: &str) -> String {
    std::path::Path::new(file).file_name().map_or_else(|| file.to_owned(), |n| n.to_string_lossy().into_owned())
}

/// The rules that governed, blocked, warned or barred.
fn applied(told: &Told) -> Vec<AppliedRule> {
    let governing = told.judged.outcomes.iter().filter_map(|o| o.rule);
    let blocking = told.mendings.iter().flat_map(|m| m.blocking.iter().copied());
    let warnings = told.judged.warnings.iter().map(|w| w.rule);
    let barred = told.barred.iter().map(|b| b.rule);
    let used: Vec<&Rule> = governing.chain(blocking).chain(warnings).chain(barred).collect();
    let is_used = |rule: &&Rule| used.iter().any(|u| std::ptr::eq(*u, *rule));
    let applied = told.rules.all().flat_map(crate::rules::RuleSet::rules).filter(is_used);
    let mut list: Vec<AppliedRule> = Vec::new();
    // A rule of the match is one, whichever range a stage stands on.
    for rule in applied.map(|r| AppliedRule { id: r.id.clone(), overlay: r.overlay.as_deref().map(str::to_owned) }) {
        if !list.contains(&rule) {
            list.push(rule);
        }
    }
    list
}
