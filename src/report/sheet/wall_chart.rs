//! A chart for a wall: the nearest distance by load and plate, on one landscape page.

use super::EYES;
use crate::advisor::answer::{Cell, StandoffAnswer, StandoffRow};
use crate::load::Class;
use crate::report::answer::{chart, holds_for, safety};
use crate::report::numbers::Numbers;
use crate::report::page::{Block, Kind, Page};
use crate::report::table::Value;
use crate::report::tone::Tone;
use crate::words::Units;

/// The chart.
#[must_use]
pub fn wall_chart(answer: &StandoffAnswer) -> Page {
    let preamble = &answer.preamble;
    let unit = Numbers(preamble.units).distance().symbol();
    let mut page = Page::holding_notice(Tone::Plain, "Nearest distance, by load and plate");
    page.kind = Kind::WallChart;
    page.push_note("Eyes and ears", EYES);
    page.push_note("Safety", safety(preamble));
    page.push_note("Stands on", preamble.stands_on.as_str());
    page.push_note(
        "Read so",
        format!(
            "distances in {unit}; nobody nearer than the number while hot. In brackets: never better than borderline, \
             and that from there. A dash: never. A load that is not listed: ask."
        ),
    );
    page.push_note("Holds for", holds_for(preamble));
    for class in classes(&answer.rows) {
        page.push(Block::Heading(class_words(class).into()));
        let rows = answer.rows.iter().filter(move |row| row.class == class);
        page.push(Block::Table(chart(rows, |cell| bare(cell, preamble.units))));
    }
    page
}

/// The number alone: the chart says its unit once.
fn bare(cell: &Cell, units: Units) -> Value {
    let numbers = Numbers(units).distance_up();
    match (cell.nearest, cell.closest.borderline) {
        (Some(distance), _) => numbers.cell(distance.0),
        (None, Some(borderline)) => format!("({})", numbers.cell(borderline.0).plain()).into(),
        (None, None) => Value::None,
    }
}

/// The classes in the order of the list, each once.
fn classes(rows: &[StandoffRow]) -> Vec<Class> {
    let mut classes: Vec<Class> = Vec::new();
    for row in rows {
        if !classes.contains(&row.class) {
            classes.push(row.class);
        }
    }
    classes
}

fn class_words(class: Class) -> &'static str {
    match class {
        Class::RimfirePistol => "Rimfire, from a pistol",
        Class::RimfireRifle => "Rimfire, from a rifle",
        Class::Handgun => "Handgun",
        Class::PistolCarbine => "Pistol-calibre carbine",
        Class::Shot => "Shot",
        Class::Slug => "Slugs",
        Class::Rifle => "Rifle",
        Class::MuzzleLoader => "Muzzle-loader",
        Class::AirGun => "Air gun",
    }
}
