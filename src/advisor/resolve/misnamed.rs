//! What a target is called, and what its drawing says, against what would be judged.

use super::super::error::at;
use super::taken::Taken;
use crate::course::{
    KeptFor, drawn_otherwise, is_thickness, judged_otherwise, layers_not_cut, named_narrower, named_nearer,
    named_thinner, noted_damage, noted_scale, noted_size, noted_steel, noted_thinner, noted_unit, plate_within,
};
use crate::load::Load;
use crate::plate::{Face, Plate, same_thickness, sizes_named};
use crate::quantity::{Length, parse};
use crate::rules::Setup;
use crate::source::{Diagnostic, clean};
use crate::words::{Units, listed};

/// What a name is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Of {
    Product,
    /// A drawing of its own, or of a product.
    Drawing {
        product: bool,
    },
    Target,
    /// The label of a plate.
    Plate,
}

/// A name of a target.
#[derive(Debug, Clone)]
pub(crate) struct Called {
    pub of: Of,
    pub name: String,
}

impl Called {
    /// The key at fault.
    fn key(&self) -> &'static str {
        match self.of {
            Of::Product | Of::Drawing { product: true } => "product",
            Of::Drawing { product: false } => "outline",
            Of::Target => "targets",
            Of::Plate => "plates",
        }
    }

    /// What is called so, ``target `gong` ``.
    fn words(&self) -> String {
        let what = match self.of {
            Of::Product => "product",
            Of::Drawing { .. } => "drawing",
            Of::Target => "target",
            Of::Plate => "plate",
        };
        format!("{what} `{}`", self.name)
    }

    /// A name that speaks of another plate than the one that would be judged.
    pub fn check(&self, setup: &Setup, units: Units) -> Result<(), Diagnostic> {
        self.check_state(setup)?;
        self.check_width(setup, units)
    }

    fn check_state(&self, setup: &Setup) -> Result<(), Diagnostic> {
        let otherwise = if self.of == Of::Target { judged_otherwise } else { drawn_otherwise };
        otherwise(&self.name, setup).map_or(Ok(()), |judged| Err(self.otherwise(judged)))
    }

    fn check_width(&self, setup: &Setup, units: Units) -> Result<(), Diagnostic> {
        let width = || format!("{} wide", units.length(setup.face.narrowest_width()));
        if named_narrower(&self.name, setup) { Err(self.otherwise(&width())) } else { Ok(()) }
    }

    fn otherwise(&self, judged: &str) -> Diagnostic {
        let message = format!("{} would be judged as {judged}, and its name says otherwise", self.words());
        let help = "say its `condition`, `steel`, `mount`, `duty`, `tilt`, `oblique` or face, or give it another name";
        at(self.key(), message, help)
    }

    /// A name that says of a thinner plate than one that would be judged.
    pub fn check_plate(&self, plate: &Plate) -> Result<(), Diagnostic> {
        if !named_thinner(&self.name, plate.thickness) {
            return Ok(());
        }
        let message =
            format!("{} would be judged {} thick, and its name says thinner", self.words(), clean(&plate.label));
        Err(at(self.key(), message, OF_PLATES))
    }

    /// A name that says that it is for other firearms than what would be judged.
    pub fn check_load(&self, load: &Load) -> Result<(), Diagnostic> {
        if !KeptFor::of(&self.name).leaves_out(load) {
            return Ok(());
        }
        let load = clean(&load.facts().name);
        let message = format!("{} would be judged for `{load}`, and its name says that it is not for it", self.words());
        Err(at(self.key(), message, "ask for what is shot at it, or give it another name"))
    }

    /// Tells of a load that is of a hotter kind than a name speaks of: it may be no more than a name.
    pub fn doubt_load(&self, load: &Load, taken: &mut Taken) {
        if let Some(word) = KeptFor::of(&self.name).milder_than(load) {
            let load = clean(&load.facts().name);
            taken.remark(&format!("Judged for `{load}`, though {} says `{word}`: is it made for that?", self.words()));
        }
    }

    /// A name that says that it is shot from nearer than would be judged.
    pub fn check_distance(&self, nearest: Length, units: Units) -> Result<(), Diagnostic> {
        if !named_nearer(&self.name, nearest) {
            return Ok(());
        }
        let message = format!(
            "{} would be judged from {}, and its name says another distance",
            self.words(),
            units.distance(nearest)
        );
        Err(at(self.key(), message, "ask for the nearest point it is shot from, or give it another name"))
    }
}

/// What the labels of plates say against what would be judged, and what they leave in doubt.
pub(crate) fn check_labels(
    plates: &[Plate],
    setup: &Setup,
    (loads, nearest): (&[&Load], Option<Length>),
    units: Units,
    taken: &mut Taken,
) -> Result<(), Diagnostic> {
    // One that is called by its thickness says nothing else.
    let is_size = |size: &Length, plate: &Plate| same_thickness(*size, plate.thickness);
    let is_plain = |plate: &&Plate| parse::<Length>(&plate.label).is_ok_and(|size| is_size(&size, plate));
    for plate in plates.iter().filter(|plate| !is_plain(plate)) {
        let called = Called { of: Of::Plate, name: clean(&plate.label) };
        called.check_state(setup)?;
        // The size of a thick one may be its own thickness.
        if !sizes_named(&plate.label).iter().any(|size| is_size(size, plate) && !is_thickness(*size)) {
            called.check_width(setup, units)?;
        }
        for load in loads {
            called.check_load(load)?;
            called.doubt_load(load, taken);
        }
        nearest.map_or(Ok(()), |nearest| called.check_distance(nearest, units))?;
    }
    Ok(())
}

const OF_PLATES: &str = "ask for the plate that it is (`plate`), or give it another name";

/// The most letters of a note that are told.
const TOLD: usize = 120;

/// A note as it is told: of a long one its beginning.
fn shortly(note: &str) -> String {
    let told: String = note.chars().take(TOLD).collect();
    clean(&if told.len() < note.len() { told + "…" } else { told })
}

/// What is doubtful in a drawing: another unit than it is read in, damage, and layers that are taken as cut.
pub(super) fn doubt_drawing(setup: &Setup, layers_given: bool, units: Units, taken: &mut Taken) {
    let Face::Outline(outline) = &setup.face else { return };
    if let Some((width, height)) =
        plate_within(outline).filter(|_| !layers_given && !outline.reading().layers.is_empty())
    {
        let size = |(width, height)| format!("{} × {}", units.length(width), units.length(height));
        taken.remark(&format!(
            "A {} opening in a {} plate: if the outer line is the sheet's or a border, leave it out of the file or name \
             the plate's layer (`--layer NAME`).",
            size((width, height)),
            size(outline.size())
        ));
    }
    if let Some(note) = noted_unit(outline) {
        let read = clean(&outline.reading().unit);
        taken.remark(&format!("`{}` stands in the drawing, which is read in {read}: check its size.", shortly(note)));
    }
    if let Some(note) = noted_scale(outline) {
        let note = shortly(note);
        taken.remark(&format!("`{note}` stands in the drawing, which is read at its full size: check its size."));
    }
    if let Some(note) = noted_damage(outline, setup) {
        taken.remark(&format!("`{}` stands in the drawing: if the plate is so, say its `--condition`.", shortly(note)));
    }
    let layers: Vec<String> = layers_not_cut(outline).iter().map(|layer| format!("`{layer}`")).collect();
    if !layers.is_empty() && !layers_given {
        let verb = if layers.len() == 1 { "is" } else { "are" };
        taken.remark(&format!("{} {verb} taken as cut: if not so, name what is (`--layer NAME`).", listed(&layers)));
    }
}

/// What stands in a drawing that speaks of another steel than the one that would be judged.
pub(super) fn check_notes(of: Of, setup: &Setup) -> Result<(), Diagnostic> {
    let Face::Outline(outline) = &setup.face else { return Ok(()) };
    let Some(note) = noted_steel(outline, setup) else { return Ok(()) };
    let drawn = Called { of, name: clean(&outline.name) };
    let message = format!("{} would be judged as AR500, and `{}` stands in it", drawn.words(), shortly(note));
    Err(at(
        drawn.key(),
        message,
        "if the plate is of it, say so (`steel`); if the note is of another part, take it out of the drawing",
    ))
}

/// The key at fault for what stands in a drawing.
fn drawn_key(called: &[Called]) -> &'static str {
    called.iter().find(|called| matches!(called.of, Of::Drawing { .. })).map_or("outline", Called::key)
}

/// What stands in a drawing that says that it is for other firearms than what would be judged, or of a milder kind.
pub(super) fn check_uses(called: &[Called], setup: &Setup, load: &Load, taken: &mut Taken) -> Result<(), Diagnostic> {
    let Face::Outline(outline) = &setup.face else { return Ok(()) };
    let judged = clean(&load.facts().name);
    if let Some(note) = outline.reading().written().find(|note| KeptFor::of(note).notes_out(load)) {
        let note = shortly(note);
        let message =
            format!("the drawing would be judged for `{judged}`, and `{note}` stands in it, which is not for it");
        let help = "ask for what is shot at it; if the note is of another part, take it out of the drawing";
        return Err(at(drawn_key(called), message, help));
    }
    if let Some(note) = outline.reading().written().find(|note| KeptFor::of(note).milder_than(load).is_some()) {
        let note = shortly(note);
        taken.remark(&format!("Judged for `{judged}`, though `{note}` stands in the drawing: is it made for that?"));
    }
    Ok(())
}

/// What stands in a drawing of a thinner plate than the thickest that would be judged, or in its names.
pub(crate) fn check_plates(
    called: &[Called],
    setup: &Setup,
    plates: &[Plate],
    taken: &mut Taken,
) -> Result<(), Diagnostic> {
    let Some(plate) = plates.iter().reduce(|a, b| if b.thickness > a.thickness { b } else { a }) else { return Ok(()) };
    called.iter().try_for_each(|called| called.check_plate(plate))?;
    let Face::Outline(outline) = &setup.face else { return Ok(()) };
    let Some(note) = noted_thinner(outline, plate.thickness) else {
        if let Some(note) = noted_size(outline, plate.thickness) {
            let note = shortly(note);
            taken.remark(&format!("`{note}` stands in the drawing: if the plate is so thick, ask for it (`--plate`)."));
        }
        return Ok(());
    };
    let key = drawn_key(called);
    let message = format!(
        "the drawing would be judged {} thick, and `{}` stands in it, which is thinner",
        clean(&plate.label),
        shortly(note)
    );
    let help = "ask for the plate that it is (`plate`); if the note is of another part, take it out of the drawing";
    Err(at(key, message, help))
}
