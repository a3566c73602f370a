//! A match in a file.

use super::admit::{Admission, InPart};
use super::called::{StageNames, folded, unclear};
use super::crowd::{Crowd, crowd};
use super::lines::StageRead;
use super::names::Names;
use super::place::{At, one_slope, positions};
use super::record::{LEVEL_GROUND, OPEN_HOOKS, StandRecord};
use super::rows::{self, TargetRow};
use super::table::{self, Mapping};
use super::unread::{Unread, named};
use super::written::{File, StageRecord, TargetRecord};
use super::{Brought, Course, Line, Refused, Stage, Target};
use crate::catalog::{AS_WRITTEN, Beside, Catalog, CatalogError, Entry, Resolver, key_span};
use crate::load::Load;
use crate::plate::{Duty, Kind, Ladder};
use crate::quantity::{Length, Measure, Text, Velocity};
use crate::rules::{SERVICE_NOTICE_NAME, service_notice};
use crate::source::{Diagnostic, Faults, SourceText};
use crate::spread::muzzle_at;
use crate::words::Units;
use serde::Deserialize;
use std::collections::{HashMap, HashSet};
use std::ops::Range;
use std::path::Path;
use std::sync::Arc;
use toml::Spanned;

/// The schema a match states.
pub const SCHEMA: &str = "thickset/course/1";
/// What is said behind the name of a load that takes the place of a listed one.
pub const REDEFINED: &str = ": the load given under this name, not the one listed before";
/// The most targets of a match.
pub const MAX_TARGETS: usize = 10_000;
/// The most loads of a match.
pub const MAX_LOADS: usize = 100_000;
/// The deepest base, m: 40 in.
const MAX_BASE_M: f64 = 1.016;
/// The most of one target.
const MAX_COUNT: u32 = 1000;

/// Opens a file that a match names.
pub type Open<'a> = &'a dyn Fn(&Path) -> Result<SourceText, Diagnostic>;

/// What a match is read with.
#[derive(Clone)]
pub struct Reading<'a> {
    /// The loads there are.
    pub catalog: Catalog,
    /// The plates there are.
    pub ladder: &'a Ladder,
    /// Opens the files that the match names; `None` for a stranger's text, which opens no file.
    pub open: Option<Open<'a>>,
    /// Where drag tables are looked for; `None` where none is read.
    pub folder: Option<&'a Path>,
    /// Units of the words.
    pub units: Units,
}

impl Reading<'_> {
    fn text(&self, source: &SourceText, path: &Path, span: Range<usize>) -> Result<SourceText, Diagnostic> {
        match self.open {
            Some(open) => open(path),
            None => Err(refused(source, path, span)),
        }
    }
}

fn refused(source: &SourceText, path: &Path, span: Range<usize>) -> Diagnostic {
    source
        .fault(span, format!("`{}` is another file, and this text opens none", path.display()))
        .help("write what it holds into the match, or read the match from its own file")
}

impl Course {
    /// Reads a match. Targets and loads that can't be read become faults of the course; the rest stands.
    ///
    /// # Errors
    /// A [`Diagnostic`] where the file as a whole can't be read.
    pub fn read(source: &SourceText, mut reading: Reading) -> Result<Self, Diagnostic> {
        let mut file: File = source.toml_of("matches", SCHEMA, |file: &File| &file.schema)?;
        let weather = match &file.air {
            Some(air) => air.get_ref().weather(source, &air.span())?,
            None => crate::air::Weather::default(),
        };
        let own: Vec<String> = file.load.iter().filter_map(|l| l.get_ref().id.clone()).collect();
        let resolver = reading.folder.map(Beside::folder);
        let resolver = resolver.as_ref().map(|beside| beside as &dyn Resolver);
        reading.catalog.add_records(source, resolver, std::mem::take(&mut file.load))?;
        let mut course = Self {
            name: file.name.clone(),
            units: reading.units,
            stages: Vec::new(),
            lines: Vec::new(),
            targets: Vec::new(),
            loads: Vec::new(),
            refused: Vec::new(),
            airs: vec![weather],
            coverage: file.coverage.map(|t| t.0),
            crowd: None,
            range_rules: Vec::new(),
            edges: Vec::new(),
            stage_rules: Vec::new(),
            assumed: Vec::new(),
            anything: Vec::new(),
            any: Vec::new(),
            in_part: Vec::new(),
            as_written: HashSet::new(),
            called_more: HashSet::new(),
            slow: Vec::new(),
            tables: Vec::new(),
            admission: Admission(std::mem::take(&mut file.ammunition)),
            unread: Faults::default(),
            unread_on: Unread::default(),
        };
        let asked = Crowd {
            shooters: file.shooters.take(),
            rounds: file.rounds.take(),
            risk: file.risk.take(),
            rifle_spread: file.rifle_spread,
        };
        course.crowd = crowd(source, &asked, &mut course)?;
        for path in &file.range_rules {
            let span = source.text.find("range-rules").map_or(0..0, |at| at..at + "range-rules".len());
            course.range_rules.push(if path.as_os_str() == SERVICE_NOTICE_NAME {
                service_notice()
            } else {
                reading.text(source, path, span)?
            });
        }
        let mut mapping = Mapping::new(std::mem::take(&mut file.columns), vec![&table::LOADS, &rows::TARGETS]);
        course.read_targets(source, &file, &reading, &mut mapping)?;
        course.read_loads(source, &file, &own, &reading, &mut mapping)?;
        course.counts_all(source, &asked)?;
        course.leave_out();
        course.keep_within();
        if let Some((title, message, help)) = mapping.fault() {
            let at = source.text.find(title).unwrap_or(0);
            return Err(source.fault(at..at + title.len(), message).help(help));
        }
        Ok(course)
    }

    fn read_loads(
        &mut self,
        source: &SourceText,
        file: &File,
        own: &[String],
        reading: &Reading,
        mapping: &mut Mapping,
    ) -> Result<(), Diagnostic> {
        let (catalog, names) = (&reading.catalog, Names::of(&reading.catalog));
        let mut known: HashMap<String, usize> = HashMap::new();
        let mut admit = |course: &mut Self, entry: &Entry, who: Option<String>| {
            course.admit(entry, who, reading, &mut known);
        };
        let fault = |span: Range<usize>, e: &CatalogError| source.fault(span, e.to_string()).help(e.help());
        for id in catalog.redefined() {
            self.note(format!("{id}{REDEFINED}"));
        }
        for name in &file.loads {
            match names.load(name.get_ref()) {
                Ok(entry) => admit(self, entry, None),
                Err(e) => self.unread_everywhere_one(fault(name.span(), &e)),
            }
        }
        for name in &file.any {
            match catalog.any(name.get_ref()) {
                Ok(any) => {
                    let of_extreme = |load: &Arc<crate::load::Load>| Entry {
                        load: Arc::clone(load),
                        basis: any.cartridge.basis().to_owned(),
                        assumed: Vec::new(),
                    };
                    any.envelope.iter().for_each(|load| admit(self, &of_extreme(load), None));
                    any.listed.iter().for_each(|entry| admit(self, entry, None));
                    let loads = any.envelope.iter().chain(any.listed.iter().map(|entry| &entry.load));
                    self.any.push((any.cartridge.name().to_owned(), loads.map(|load| load.class()).collect()));
                    self.in_part.extend(InPart::of(&any));
                }
                Err(e) => self.unread_everywhere_one(fault(name.span(), &e)),
            }
        }
        for id in own {
            if let Ok(entry) = catalog.load(id) {
                admit(self, entry, None);
            }
        }
        for path in &file.declared {
            let text = reading.text(source, path.get_ref(), path.span())?;
            table::loads(self, &text, mapping, &names, &mut admit)?;
        }
        self.admit_anything(source, &file.anything, catalog);
        self.unknown_cartridges(&reading.catalog).into_iter().for_each(|fault| self.unread_everywhere_one(fault));
        if self.loads.is_empty() && self.refused.is_empty() && self.unread.is_empty() {
            let help = "name them: `loads = [\"308-168-match\"]`, `any = [\".308 Win\"]`, `declared = [\"loads.csv\"]`, or `anything = [\"rifle\"]`";
            return Err(source.fault(file.schema.span(), "the match has no load").help(help));
        }
        if self.loads.len() > MAX_LOADS {
            let help = format!("a match has at most {MAX_LOADS}");
            return Err(source.fault(file.schema.span(), "too many loads").help(help));
        }
        Ok(())
    }

    fn admit(&mut self, entry: &Entry, who: Option<String>, reading: &Reading, known: &mut HashMap<String, usize>) {
        let load = &entry.load;
        for text in &entry.assumed {
            if text.contains(AS_WRITTEN) {
                self.as_written.insert(load.id().to_owned());
            } else {
                self.note(text.clone());
            }
        }
        if let Some((message, help)) = unclear(load) {
            let who = who.map(|w| format!("{w}: ")).unwrap_or_default();
            self.unread_everywhere_one(Diagnostic::plain(who + &message).help(help));
            return;
        }
        if let Some(why) = self.admission.refusal(load, self.hot_muzzle(load), &reading.catalog, reading.units) {
            self.refused.push(Refused { load: Arc::clone(load), who, why });
            return;
        }
        // The catalogue's loads may be brought by several, and are judged once.
        if let Some(&at) = known.get(load.id()).filter(|at| *self.loads[**at].load == **load) {
            self.loads[at].who.extend(who);
            return;
        }
        known.insert(load.id().to_owned(), self.loads.len());
        self.loads.push(Brought { who: who.into_iter().collect(), ..Brought::by_nobody(Arc::clone(load)) });
    }

    /// The mean muzzle velocity of a load where the powder is hottest at the match.
    fn hot_muzzle(&self, load: &Load) -> Velocity {
        let ends = self.airs.iter().flat_map(|air| [air.thin().temperature(), air.dense().temperature()]);
        ends.map(|at| muzzle_at(load, at)).fold(load.facts().muzzle_velocity, |a, b| if b > a { b } else { a })
    }

    fn read_targets(
        &mut self,
        source: &SourceText,
        file: &File,
        reading: &Reading,
        mapping: &mut Mapping,
    ) -> Result<(), Diagnostic> {
        let mut stages: Vec<(StageRecord, Range<usize>)> =
            file.stage.iter().map(|s| (s.get_ref().clone(), s.span())).collect();
        let mut rows: Vec<TargetRow> = Vec::new();
        for path in &file.targets {
            let text = reading.text(source, path.get_ref(), path.span())?;
            let known = stages.iter().map(|(stage, _)| &stage.name).chain(rows.iter().map(|row| &row.stage));
            let mut names = StageNames::of(known);
            rows.extend(rows::targets(self, &text, mapping, (&mut names, &Names::of(&reading.catalog)))?);
        }
        // A stage of which no row was read is one all the same: its sign is closed.
        let unread = self.unread_on.stages.keys();
        for stage in rows.iter().map(|row| &row.stage).chain(unread) {
            if !stages.iter().any(|(s, _)| s.name == *stage) {
                stages.push((StageRecord { name: stage.clone(), ..StageRecord::default() }, 0..0));
            }
        }
        let count = rows.len() + stages.iter().map(|s| s.0.target.len()).sum::<usize>();
        if (count == 0 && self.unread.is_empty()) || count > MAX_TARGETS {
            let help = format!(
                "a match has 1 to {MAX_TARGETS} targets: `[[stage]]` with `[[stage.target]]`, or `targets = [\"stages.csv\"]`"
            );
            return Err(source.fault(file.schema.span(), format!("{count} targets")).help(help));
        }
        let mut names: HashSet<String> = HashSet::new();
        if let Some((twice, span)) = stages.iter().find(|(stage, _)| !names.insert(folded(&stage.name))) {
            return Err(source
                .fault(key_span(source, span, "name"), format!("two stages are called `{}`", twice.name))
                .help("put their targets under one `[[stage]]`, or give one of them another name"));
        }
        for (record, span) in &stages {
            self.read_stage(source, (record, span), &rows, file, reading);
        }
        Ok(())
    }

    fn read_stage(
        &mut self,
        source: &SourceText,
        (record, span): (&StageRecord, &Range<usize>),
        rows: &[TargetRow],
        file: &File,
        reading: &Reading,
    ) {
        let ladder = reading.ladder;
        let index = self.stages.len();
        self.stages.push(Stage { name: record.name.clone(), rules: 0 });
        let mut place = 0;
        if let Some(own) = &record.air {
            let air = own.get_ref().clone().or(file.air.as_ref().map(Spanned::get_ref));
            match air.weather(source, &own.span()) {
                Ok(weather) => {
                    place = self.airs.len();
                    self.airs.push(weather);
                }
                Err(fault) => {
                    self.unread_at(&record.name, named(&record.name, None, fault));
                    return self.lose(record, rows, "its stage's air can't be read");
                }
            }
        }
        let rules = match self.rules_of(source, (record, span), rows, reading) {
            Ok(rules) => rules,
            Err(fault) => {
                self.unread_at(&record.name, named(&record.name, None, fault));
                return self.lose(record, rows, "the rules of its range can't be read");
            }
        };
        self.stages[index].rules = rules;
        let mut stage = StageRead {
            index,
            air: place,
            rules,
            line: None,
            distant: None,
            name: &record.name,
            without: &record.without,
            names: HashSet::new(),
        };
        if !record.positions.is_empty() {
            match positions(&record.positions) {
                Ok((positions, distant)) => {
                    stage.line = Some(self.lines.len());
                    stage.distant = Some(distant);
                    self.lines.push(Line { stage: index, positions });
                }
                Err((message, help)) => {
                    let fault = source.fault(key_span(source, span, "positions"), message).help(help);
                    self.unread_at(&record.name, named(&record.name, None, fault));
                    return self.lose(record, rows, "its stage's positions can't be read");
                }
            }
        }
        let stand = record.stand.clone().or(&file.stand);
        for target in &record.target {
            let at = At::Record(source, target.span());
            self.take(target.get_ref(), &at, &mut stage, &stand, ladder);
        }
        for row in rows.iter().filter(|row| row.stage == record.name) {
            let at = At::Row(&row.fault);
            self.take(&row.record, &at, &mut stage, &stand, ladder);
        }
    }

    /// The rules of the range that a stage stands on, as it names them or its rows do: 0 where they are the match's.
    fn rules_of(
        &mut self,
        source: &SourceText,
        (record, span): (&StageRecord, &Range<usize>),
        rows: &[TargetRow],
        reading: &Reading,
    ) -> Result<usize, Diagnostic> {
        let mut paths: Vec<&Path> = record.range_rules.iter().map(std::path::PathBuf::as_path).collect();
        let mine = rows.iter().filter(|row| row.stage == record.name);
        paths.extend(mine.flat_map(|row| row.range_rules.iter().map(|name| Path::new(name.as_str()))));
        let mut texts: Vec<SourceText> = Vec::new();
        for path in paths {
            let text = if path.as_os_str() == SERVICE_NOTICE_NAME {
                service_notice()
            } else {
                reading.text(source, path, key_span(source, span, "range-rules"))?
            };
            // What the whole match stands under, or another row names, is laid over once.
            if !self.range_rules.iter().chain(&texts).any(|known| known.text == text.text) {
                texts.push(text);
            }
        }
        if texts.is_empty() {
            return Ok(0);
        }
        let same = |known: &Vec<SourceText>| known.iter().map(|t| &t.text).eq(texts.iter().map(|t| &t.text));
        let at = self.stage_rules.iter().position(same).unwrap_or_else(|| {
            self.stage_rules.push(texts);
            self.stage_rules.len() - 1
        });
        Ok(at + 1)
    }

    /// Targets of a stage that can't be read are lost by name.
    fn lose(&mut self, record: &StageRecord, rows: &[TargetRow], why: &str) {
        let rows = rows.iter().filter(|row| row.stage == record.name).map(|row| &row.record);
        for target in record.target.iter().map(Spanned::get_ref).chain(rows) {
            let fault = Diagnostic::plain(format!("stage `{}`, target `{}`: {why}", record.name, name_of(target)));
            self.unread_at(&record.name, fault);
        }
    }

    fn take(&mut self, record: &toml::Table, at: &At, stage: &mut StageRead, stand: &StandRecord, ladder: &Ladder) {
        let name = name_of(record).to_owned();
        if record.contains_key("name") && stage.names.contains(&name) {
            let fault = at.key("name", "another target of the stage has this name");
            let help = "give one of them another name: nobody could tell them apart on a sheet; or write `count`";
            return self.unread_at(stage.name, named(stage.name, Some(&name), fault.help(help)));
        }
        stage.names.insert(name);
        match self.target(record, at, stage, stand, ladder) {
            Ok(target) => self.targets.push(target),
            Err(fault) => self.unread_at(stage.name, named(stage.name, Some(name_of(record)), fault)),
        }
    }

    fn target(
        &mut self,
        record: &toml::Table,
        at: &At,
        stage: &mut StageRead,
        stand: &StandRecord,
        ladder: &Ladder,
    ) -> Result<Target, Diagnostic> {
        let read: TargetRecord = TargetRecord::deserialize(toml::Value::Table(record.clone())).map_err(|e| {
            let mut lines = e.message().splitn(2, '\n');
            let message = lines.next().unwrap_or_default().to_owned();
            let help = lines
                .next()
                .unwrap_or("a target has `name`, `plate`, `at` or `positions`, `count`, `kind`, `class` and `stand`");
            at.culprit(record, &message).help(help)
        })?;
        let plate = ladder.named(&read.plate).map_err(|e| at.key("plate", e.to_string()).help(e.help()))?;
        let count = read.count.unwrap_or(1);
        if !(1..=MAX_COUNT).contains(&count) {
            return Err(at
                .key("count", format!("count of `{count}` is not between 1 and {MAX_COUNT}"))
                .help("write how many there are of it"));
        }
        let kind = read.kind.unwrap_or(Kind::Plate);
        let mut own = read.stand.clone();
        let mount = kind.mount(own.mount, stand.mount).map_err(|e| at.key("mount", e.to_string()).help(e.help()))?;
        if own.mount.is_none() && mount != stand.mount {
            kind.held_assumed().into_iter().for_each(|words| self.note(words));
        }
        own.mount = mount;
        let mut own = own.or(stand);
        if own.duty.is_none() {
            // What shoots at a match is many hits in a day.
            own.duty = Some(Duty::Match);
            self.note("match duty");
        }
        let stood = at.stand(&own)?;
        let base = base(read.base, kind, at)?;
        let (line, distance) = self.line_of(&read, at, stage)?;
        let places = &self.lines[line].positions;
        one_slope(read.stand.slope, places, at)?;
        if places.iter().any(|place| !(place.distance(distance).si() > 0.0)) {
            let message = "a position of its stage stands at the target, or behind it";
            return Err(at
                .key("at", message)
                .help("write a `back` toward the targets that is less than their distance"));
        }
        let target = Target {
            stage: stage.index,
            name: read.name,
            count,
            kind,
            line,
            at: distance,
            air: stage.air,
            rules: stage.rules,
            is_hung_taken: stood.assumed.contains(&OPEN_HOOKS),
            setup: stood.setup,
            slope: stood.slope,
            plate,
            base,
            classes: read.class,
            without: Vec::new(),
            without_names: stage.without.iter().cloned().chain(read.without).collect(),
        };
        self.too_far(&target, at)?;
        // Where every position has its own slope none was taken.
        let own = self.lines[target.line].positions.iter().all(|position| position.slope.is_some());
        let taken = stood.assumed.into_iter().filter(|text| !(own && *text == LEVEL_GROUND));
        taken.for_each(|text| self.note(text));
        Ok(target)
    }
}

/// The base of what falls.
fn base(given: Option<Text<Length>>, kind: Kind, at: &At) -> Result<Option<Length>, Diagnostic> {
    let Some(Text(base)) = given else { return Ok(None) };
    if !matches!(kind, Kind::Falling | Kind::Popper) {
        let fault = at.key("base", "only what falls stands on a base");
        return Err(fault.help("write `kind`, `falling` or `popper`, or leave `base` out"));
    }
    if !(base.si() > 0.0 && base.si() <= MAX_BASE_M) {
        return Err(at.key("base", "a base is not above zero and at most 40 in").help("write its depth, `2 in`"));
    }
    Ok(Some(base))
}

fn name_of(target: &toml::Table) -> &str {
    target.get("name").and_then(toml::Value::as_str).unwrap_or("without a name")
}
