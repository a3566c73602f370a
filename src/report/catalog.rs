//! The catalogue as pages: loads, cartridges, plates, rules, sources, keys.

use super::answer::{Detail, Report};
use super::numbers::Numbers;
use super::page::{Block, Page};
use super::table::{Column, Place, Table, Value};
use super::tone::Tone;
use crate::advisor::answer::{
    CatalogAnswer, ListedCartridge, ListedKey, ListedLoad, ListedPlate, ListedRule, ListedSource, LoadFacts,
};
use crate::quantity::{Measure, unit};
use crate::words::{self, Units};

/// What rests on a source, named as far as these.
const NAMED: usize = 5;

impl Report for CatalogAnswer {
    fn page(&self, _: Detail) -> Page {
        let units = self.preamble.units;
        let mut page = Page::holding_notice(Tone::Plain, &self.preamble.headline);
        let tables = [
            self.loads.as_deref().map(|list| loads(list, units)),
            self.cartridges.as_deref().map(|list| cartridges(list, units)),
            self.plates.as_deref().map(|list| plates(list, units)),
            self.listed.as_deref().map(rules),
            self.sources.as_deref().map(sources),
        ];
        tables.into_iter().flatten().for_each(|table| page.push(Block::Table(table)));
        if let Some(rules) = &self.listed {
            page.push(Block::List(rules.iter().map(rule).collect()));
        }
        if let Some(list) = &self.keys {
            push_keys(&mut page, list);
        }
        page.push(Block::Text(self.preamble.notice.clone()));
        page
    }
}

fn text(text: &str) -> Value {
    Value::Words(text.to_owned())
}

/// A load's drag: `G7 0.223`, of a coefficient that goes by speed its least and its most.
pub(super) fn drag_words(load: &LoadFacts) -> String {
    let bands = load.bc.iter().flatten().map(|band| unit::POUND_PER_SQUARE_INCH.value(band.bc.0));
    let (least, most) = bands.fold((f64::INFINITY, 0.0_f64), |(least, most), bc| (least.min(bc), most.max(bc)));
    let drag = &load.drag;
    if most <= 0.0 {
        drag.clone()
    } else if least < most {
        format!("{drag} {least:.3}–{most:.3}")
    } else {
        format!("{drag} {most:.3}")
    }
}

fn loads(list: &[ListedLoad], units: Units) -> Table {
    let numbers = Numbers(units);
    let columns = vec![
        Column::words("name"),
        Column::words("load"),
        numbers.speed().column("muzzle_velocity", "velocity"),
        Column::words("drag"),
        Column::words("construction"),
        Column::words("basis"),
    ];
    let mut table = Table::named("loads", Place::Both, columns);
    for listed in list {
        let load = &listed.load;
        table.push_cells(
            Tone::Plain,
            vec![
                text(&load.id),
                text(&load.name),
                numbers.speed().cell(load.muzzle_velocity.0),
                Value::Words(drag_words(load)),
                Value::Words(load.construction.to_string()),
                text(&listed.basis),
            ],
        );
    }
    table
}

fn cartridges(list: &[ListedCartridge], units: Units) -> Table {
    let numbers = Numbers(units);
    let columns = vec![
        Column::words("cartridge"),
        Column::words("also"),
        numbers.thickness().column("calibre", "calibre"),
        numbers.speed().column("fastest", "fastest"),
        numbers.energy().column("energy", "most energy"),
        Column::numbers("loads"),
    ];
    let mut table = Table::named("cartridges", Place::Both, columns);
    for cartridge in list {
        let fastest = cartridge.envelope.iter().map(|load| load.muzzle_velocity.0);
        let energy = cartridge.envelope.iter().map(|load| {
            let speed = load.muzzle_velocity.0;
            crate::quantity::Energy::from_si(0.5 * load.bullet.0.si() * speed.si() * speed.si())
        });
        table.push_cells(
            Tone::Plain,
            vec![
                text(&cartridge.name),
                Value::Words(cartridge.aliases.join(", ")),
                numbers.thickness().cell(cartridge.calibre.map(|c| c.0)),
                numbers.speed().cell(fastest.reduce(|a, b| if a > b { a } else { b })),
                numbers.energy().cell(energy.reduce(|a, b| if a > b { a } else { b })),
                Value::count(u32::try_from(cartridge.loads.len()).unwrap_or(u32::MAX)),
            ],
        );
    }
    table
}

fn plates(list: &[ListedPlate], units: Units) -> Table {
    let thickness = Numbers(units).thickness();
    let columns = vec![Column::words("plate"), thickness.column("thickness", "thickness"), Column::words("source")];
    let mut table = Table::named("plates", Place::Both, columns);
    for plate in list {
        table.push_cells(Tone::Plain, vec![text(&plate.label), thickness.cell(plate.thickness.0), text(&plate.source)]);
    }
    table
}

fn rules(list: &[ListedRule]) -> Table {
    let columns = ["rule", "applies", "allows", "why", "next", "basis", "source", "range"];
    let mut table = Table::named("rules", Place::Spreadsheet, columns.map(Column::words).to_vec());
    for rule in list {
        let cells = vec![
            text(&rule.id),
            text(&rule.applies),
            rule.allows.clone().into(),
            text(&rule.why),
            text(&rule.next),
            Value::Words(rule.basis.to_string()),
            text(&rule.source),
            rule.overlay.clone().into(),
        ];
        table.push_cells(Tone::Plain, cells);
    }
    table
}

/// A rule whole, for a range officer.
fn rule(rule: &ListedRule) -> String {
    let basis = rule.basis.to_string();
    let founded =
        if rule.source.starts_with(&basis) { rule.source.clone() } else { format!("{basis}: {}", rule.source) };
    let range = rule.overlay.as_ref().map(|range| format!("{range}: ")).unwrap_or_default();
    format!("{range}{}: {} [{founded}]", rule.id, rule.words)
}

/// Each file and table by itself, as a person writes it; for a spreadsheet all of them in one table.
fn push_keys(page: &mut Page, list: &[ListedKey]) {
    let mut sheet =
        Table::named("keys", Place::Spreadsheet, ["file", "table", "key", "takes"].map(Column::words).to_vec());
    let mut under: Option<(&str, &str)> = None;
    let mut items: Vec<String> = Vec::new();
    for key in list {
        let place = (key.file.as_str(), key.table.as_str());
        if let Some(known) = under.filter(|known| *known != place) {
            page.push_list(&heading(known), std::mem::take(&mut items));
        }
        under = Some(place);
        items.push(format!("{}: {}.", key.key, key.takes));
        sheet.push_cells(Tone::Plain, vec![text(&key.file), text(&key.table), text(&key.key), text(&key.takes)]);
    }
    if let Some(place) = under {
        page.push_list(&heading(place), items);
    }
    page.push(Block::Table(sheet));
}

fn heading((file, table): (&str, &str)) -> String {
    if table.is_empty() { format!("{file} file, at its head") } else { format!("{file} file, {table}") }
}

fn sources(list: &[ListedSource]) -> Table {
    let columns = ["basis", "source", "what rests on it"].map(Column::words).to_vec();
    let mut table = Table::named("sources", Place::Both, columns);
    for source in list {
        let of = match source.of.len() {
            n if n > NAMED + 1 => format!("{} and {} more", source.of[..NAMED].join(", "), n - NAMED),
            _ => words::listed(&source.of),
        };
        table.push_cells(Tone::Plain, vec![text(&source.basis), text(&source.source), Value::Words(of)]);
    }
    table
}
