//! The target of a question: face, mount, lean, steel, what it goes through.

use super::super::error::{at, refuse};
use super::super::question::{Inline, TargetPart};
use super::super::say;
use super::inline::Files;
use super::misnamed::{Called, Of, check_labels, check_notes, check_plates, check_uses, doubt_drawing};
use super::taken::Taken;
use crate::load::Load;
use crate::outline::{DrawnIn, Outline, ReadOptions};
use crate::plate::{Condition, Duty, Face, Kind, Mount, Plate, Steel, other_steel};
use crate::quantity::{Angle, Length, unit};
use crate::rules::{MAX_TILT_DEG, Setup};
use crate::shop::product::{Product, Shape};
use crate::source::{Diagnostic, clean};
use crate::words::{self, Units};
use std::sync::Arc;

/// The most a face is turned, degrees.
const MAX_OBLIQUE_DEG: f64 = 89.0;

/// A target as it stands, and the slope to it.
#[derive(Debug, Clone)]
pub(crate) struct Stand {
    pub setup: Setup,
    pub slope: Angle,
    /// Whether it is a plate that can be hung: no hook is a way out of what stands or spins.
    pub is_hung: bool,
    /// Whether it is to fall when it is hit.
    pub falls: bool,
    /// What it is called.
    pub called: Vec<Called>,
    /// Whether it is taken to hang, as nobody said how it is held.
    pub is_hung_taken: bool,
}

/// Reads a target. `condition` is what is taken where none was given; `name` sets its conditions apart.
pub(crate) fn stand(
    part: &TargetPart,
    product: Option<&Product>,
    condition: Condition,
    name: &str,
    files: &Files,
    units: Units,
    taken: &mut Taken,
) -> Result<Stand, Diagnostic> {
    // One of several is looked at with the others.
    if name.is_empty() {
        let drawn = product.is_some_and(|product| product.face().is_none());
        refuse_unread(part, part.outline.is_some() || drawn)?;
    }
    taken.begin(name);
    let face = match product {
        Some(product) => product_face(part, product, files, units, taken)?,
        None => face(part, files, units, taken)?,
    };
    if let Some(own) = product.and_then(|p| p.mount) {
        let other = part.mount.is_some_and(|given| given != own);
        let message = format!("the product is {}, by the shop's file", own.words());
        refuse(other, "mount", &message, "leave it out, or ask for the face by itself, without the product")?;
    }
    let given = part.mount.or_else(|| product.and_then(|p| p.mount));
    let kind = kind(part, product)?;
    let mount = kind.mount(given, None).map_err(|e| at("mount", e, e.help()))?.unwrap_or(Mount::OpenHook);
    let assumed = kind.held_assumed().unwrap_or("free-hung from open hooks");
    taken.take("mount", held(kind, mount, given.is_some()), given.is_some(), assumed);
    // A product's chain belongs to its own mount.
    let chain = part.chain.or_else(|| product.filter(|p| p.mount == Some(mount)).and_then(|p| p.chain));
    let chain = mount.chain(chain).map_err(|e| at("chain", e, e.help()))?;
    if mount == Mount::Chain {
        let words = chain.map_or_else(|| "too short to matter".into(), |length| units.length(length));
        let assumed = mount.chain_assumed(chain).unwrap_or_default();
        taken.take("chain", words, chain.is_some(), assumed);
    }
    let duty = part.duty.unwrap_or(Duty::Private);
    taken.take("duty", duty.to_string(), part.duty.is_some(), "private use");
    let state = part.condition.unwrap_or(condition);
    let assumed = if condition == Condition::Sound { "a sound plate" } else { "the plate's condition is not known" };
    taken.take("condition", state.to_string(), part.condition.is_some(), assumed);
    let named = product.filter(|_| part.steel.is_none()).and_then(|p| Some((p, other_steel(&p.name)?)));
    if let Some((product, steel)) = named {
        let message = format!("`{}` names another steel than AR500, `{steel}`", product.name);
        return Err(at("steel", message, "say what steel it is"));
    }
    let steel = part.steel.unwrap_or(Steel::Ar500);
    taken.take("steel", steel.to_string(), part.steel.is_some(), "AR500 steel");
    let tilt = bounded("tilt", part.tilt, MAX_TILT_DEG)?;
    let lean = tilt.map_or_else(|| "plumb".into(), lean_words);
    taken.take("lean", lean, tilt.is_some(), "face hung vertical");
    let oblique = bounded("oblique", part.oblique, MAX_OBLIQUE_DEG)?;
    let turn = oblique.map_or_else(|| "square on".into(), words::degrees);
    taken.take("turn", turn, oblique.is_some(), "face square to the shooter");
    let slope = bounded("slope", part.slope, crate::flight::MAX_SLOPE_DEG)?;
    taken.take("slope", slope_words(slope), slope.is_some(), "level ground");
    taken.begin("");
    let level = unit::DEGREE.of(0.0);
    let oblique = oblique.unwrap_or(level);
    let setup = Setup { face, mount, chain, duty, condition: state, steel, tilt, oblique };
    let called = called(product, &setup);
    called.iter().try_for_each(|called| called.check(&setup, units))?;
    check_notes(Of::Drawing { product: product.is_some() }, &setup)?;
    doubt_drawing(&setup, !part.layer.is_empty(), units, taken);
    for called in called.iter().filter(|_| kind == Kind::Plate) {
        taken.doubt_hung(&called.name, &setup, given.is_some());
    }
    Ok(Stand {
        setup,
        slope: slope.unwrap_or(level),
        is_hung: kind == Kind::Plate,
        falls: matches!(kind, Kind::Falling | Kind::Popper),
        called,
        is_hung_taken: kind == Kind::Plate && given.is_none(),
    })
}

impl Stand {
    /// Refuses plates that a name, or what stands in the drawing, says it is thinner than.
    pub fn check_plates(&self, plates: &[Plate], taken: &mut Taken) -> Result<(), Diagnostic> {
        check_plates(&self.called, &self.setup, plates, taken)
    }

    /// Refuses loads that a name says it is not for, and tells of those of a hotter kind than it speaks of.
    pub fn check_loads<'l>(
        &self,
        mut loads: impl Iterator<Item = &'l Load>,
        taken: &mut Taken,
    ) -> Result<(), Diagnostic> {
        loads.try_for_each(|load| {
            self.called.iter().for_each(|called| called.doubt_load(load, taken));
            self.called.iter().try_for_each(|called| called.check_load(load))?;
            check_uses(&self.called, &self.setup, load, taken)
        })
    }

    /// Refuses plates whose labels speak against what would be judged on them.
    pub fn check_labels(
        &self,
        plates: &[Plate],
        asked: (&[&Load], Option<Length>),
        units: Units,
        taken: &mut Taken,
    ) -> Result<(), Diagnostic> {
        check_labels(plates, &self.setup, asked, units, taken)?;
        if self.is_hung_taken {
            plates.iter().for_each(|plate| taken.doubt_hung(&clean(&plate.label), &self.setup, false));
        }
        Ok(())
    }

    /// Refuses a distance that a name says it is shot from nearer than.
    pub fn check_distance(&self, nearest: Length, units: Units) -> Result<(), Diagnostic> {
        self.called.iter().try_for_each(|called| called.check_distance(nearest, units))
    }
}

/// What a target is called by its product and its drawing.
fn called(product: Option<&Product>, setup: &Setup) -> Vec<Called> {
    let mut called: Vec<Called> =
        product.map(|p| Called { of: Of::Product, name: p.name.clone() }).into_iter().collect();
    if let Face::Outline(outline) = &setup.face {
        called.push(Called { of: Of::Drawing { product: product.is_some() }, name: clean(&outline.name) });
    }
    called
}

/// What kind of target it is; the shop's file says it of its product.
fn kind(part: &TargetPart, product: Option<&Product>) -> Result<Kind, Diagnostic> {
    let own = product.map(|product| product.kind).filter(|kind| *kind != Kind::Plate);
    if let (Some(own), Some(given)) = (own, part.kind)
        && own != given
    {
        let message = format!("the product is a {}, by the shop's file, and `{given}` is given", own.name());
        return Err(at("kind", message, "leave it out, or ask for the face by itself, without the product"));
    }
    Ok(part.kind.or(own).unwrap_or(Kind::Plate))
}

/// How it is held; one that was not given is said as it is judged.
fn held(kind: Kind, mount: Mount, given: bool) -> String {
    match kind.held().filter(|_| !given) {
        Some(held) if mount.is_free() => format!("{held}, giving way"),
        Some(held) => format!("{held}, taken as {}", mount.words()),
        None => mount.words().into(),
    }
}

/// How a drawing is read has no use without one.
pub(crate) fn refuse_unread(part: &TargetPart, drawn: bool) -> Result<(), Diagnostic> {
    let given = [
        (part.outline_unit.is_some(), "outline_unit"),
        (!part.layer.is_empty(), "layer"),
        (part.part.is_some(), "part"),
    ];
    given.into_iter().try_for_each(|(given, key)| refuse(given && !drawn, key, "there is no outline", "leave it out"))
}

/// The slope of a question without a target.
pub(crate) fn slope(given: Option<Angle>, taken: &mut Taken) -> Result<Angle, Diagnostic> {
    let slope = bounded("slope", given, crate::flight::MAX_SLOPE_DEG)?;
    taken.take("slope", slope_words(slope), slope.is_some(), "level ground");
    Ok(slope.unwrap_or_else(|| unit::DEGREE.of(0.0)))
}

fn slope_words(slope: Option<Angle>) -> String {
    slope.map_or_else(|| "level".into(), words::degrees)
}

/// A lean in words: toward the shooter, or away.
pub(crate) fn lean_words(tilt: Angle) -> String {
    match unit::DEGREE.value(tilt) {
        lean if lean > 0.0 => format!("{} toward the shooter", words::degrees(tilt)),
        lean if lean < 0.0 => format!("{} away from the shooter", words::degrees(-tilt)),
        _ => "plumb".into(),
    }
}

fn bounded(key: &str, angle: Option<Angle>, most: f64) -> Result<Option<Angle>, Diagnostic> {
    match angle {
        Some(angle) if !(unit::DEGREE.value(angle).abs() <= most + 1e-9) => {
            let message = format!("{key} of `{}` is beyond {most} deg", words::degrees(angle));
            Err(at(key, message, format!("write an angle from -{most} deg to {most} deg")))
        }
        angle => Ok(angle),
    }
}

/// The face of a product; one that is given beside it can't be its own.
fn product_face(
    part: &TargetPart,
    product: &Product,
    files: &Files,
    units: Units,
    taken: &mut Taken,
) -> Result<Face, Diagnostic> {
    for (given, key) in [(part.face.is_some(), "face"), (part.outline.is_some(), "outline")] {
        refuse(given, key, "the product has a face of its own", "leave it out, or leave the product out")?;
    }
    let face = match &product.shape {
        Shape::Face(face) => face.clone(),
        Shape::File(reference) => Face::Outline(Arc::new(product_drawing(part, product, reference, files)?)),
    };
    taken.take("product", product.name.clone(), true, "");
    taken.take("face", say::face(&face, units), true, "");
    Ok(face)
}

/// The drawing that the shop's file names for a product.
fn product_drawing(
    part: &TargetPart,
    product: &Product,
    reference: &str,
    files: &Files,
) -> Result<Outline, Diagnostic> {
    if !files.are_read() {
        let message =
            format!("product `{}` refers to the file `{reference}`, and none may be opened here", product.name);
        return Err(at("product", message, "put the outline into the shop's file"));
    }
    let bytes = files.bytes("product", reference)?;
    let read = Outline::from_bytes(reference, &bytes, &read_options(part)?);
    read.map_err(|fault| if fault.field.is_none() { fault.field("product") } else { fault })
}

/// How a drawing is read.
fn read_options(part: &TargetPart) -> Result<ReadOptions, Diagnostic> {
    let unit = part.outline_unit.map(str::parse::<DrawnIn>).transpose();
    let unit = unit.map_err(|e| at("outline_unit", e, "write `in` or `mm`"))?;
    Ok(ReadOptions { unit, layers: part.layer.to_vec(), part: part.part })
}

fn face(part: &TargetPart, files: &Files, units: Units, taken: &mut Taken) -> Result<Face, Diagnostic> {
    let Some(outline) = part.outline else {
        let text = part.face.unwrap_or("12in");
        let face = text.parse::<Face>().map_err(|e| at("face", &e, e.help()))?;
        let words = say::face(&face, units);
        taken.take("face", words.clone(), part.face.is_some(), &format!("a {words} face"));
        return Ok(face);
    };
    if part.face.is_some() {
        return Err(at("face", "`face` stands beside `outline`", "keep one of them"));
    }
    let face = Face::Outline(Arc::new(drawing(part, outline, files)?));
    taken.take("face", say::face(&face, units), true, "");
    Ok(face)
}

/// A drawing, by its file or as the object that an outline's file holds.
fn drawing(part: &TargetPart, outline: &Inline, files: &Files) -> Result<Outline, Diagnostic> {
    let options = read_options(part)?;
    let read = match outline {
        Inline::File(reference) => Outline::from_bytes(reference, &files.bytes("outline", reference)?, &options),
        Inline::Object(_) => Outline::from_text(&files.source("outline", outline)?, &options),
    };
    read.map_err(|fault| if fault.field.is_none() { fault.field("outline") } else { fault })
}
