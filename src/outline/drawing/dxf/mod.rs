//! DXF of any version, ASCII or binary: the few records that a cutter needs. Model space, visible, on layers that
//! are on, thawed and plotted; blocks where they are inserted. Everything else is counted.

mod entity;
mod heard;
mod pairs;
mod record;
mod written;

use super::layers::Around;
use super::{Fault, MAX_EDGES, Sketch, Stroke};
use crate::outline::read::{DrawnIn, ReadOptions};
use entity::Tracer;
use pairs::{Pair, pairs};
use record::{Record, records};
use std::collections::HashMap;

/// Blocks within blocks.
const MAX_DEPTH: usize = 24;
/// The least scale of an insert.
const MIN_SCALE: f64 = 1e-9;
/// Copies of one insert.
const MAX_COPIES: i64 = 10_000;

/// A layer as the table tells.
#[derive(Debug, Clone, Copy, Default)]
#[allow(clippy::struct_excessive_bools)] // Flags of the table, each on its own.
struct Layer {
    off: bool,
    frozen: bool,
    unplotted: bool,
    centre_lines: bool,
}

/// A block: where it is held, and what is in it.
struct Block<'a> {
    base: (f64, f64),
    outside: bool,
    /// What it is described as.
    described: String,
    records: Vec<Record<'a>>,
}

/// A drawing taken apart.
struct Drawing<'a> {
    layers: HashMap<String, Layer>,
    blocks: HashMap<String, Block<'a>>,
    records: Vec<Record<'a>>,
}

/// Where records stand: in which inserts, on whose layer.
#[derive(Clone, Copy)]
struct Within<'a> {
    transform: kurbo::Affine,
    /// The layer of the insert, which those on layer 0 within are on.
    layer: Option<&'a str>,
    /// The names of the blocks.
    around: Around,
    depth: usize,
}

/// Traces what a drawing shows.
pub(super) fn sketch(bytes: &[u8], options: &ReadOptions) -> Result<Sketch, Fault> {
    let pairs = pairs(bytes)?;
    let sections = sections(&pairs)?;
    if sections.is_empty() {
        return Err(("the file holds no drawing: no section begins in it".into(), "export it as DXF".into()));
    }
    if !pairs.last().is_some_and(|last| last.begins("EOF")) {
        let message = "the file breaks off: its end mark (EOF) is missing, and what stood before it may be as well";
        return Err((message.into(), "send the whole file, or export it anew".into()));
    }
    let header = sections.get("HEADER").map_or(&[][..], |s| *s);
    let (scale, unit) = unit(header, options)?;
    let mut sketch = Sketch { unit, scale, ..Sketch::default() };
    let drawing = Drawing {
        layers: layers(sections.get("TABLES").map_or(&[][..], |s| *s))?,
        blocks: blocks(sections.get("BLOCKS").map_or(&[][..], |s| *s))?,
        records: records(sections.get("ENTITIES").map_or(&[][..], |s| *s)),
    };
    let within = Within { transform: kurbo::Affine::scale(scale), layer: None, around: None, depth: 0 };
    show(&drawing, &drawing.records, within, &mut sketch)?;
    heard::hear(&drawing, &mut sketch)?;
    Ok(sketch)
}

/// The sections by name.
fn sections<'a, 'b>(pairs: &'b [Pair<'a>]) -> Result<HashMap<String, &'b [Pair<'a>]>, Fault> {
    let mut sections = HashMap::new();
    let mut i = 0;
    while i < pairs.len() {
        let name = pairs.get(i + 1).filter(|p| p.code == 2);
        if let (true, Some(name)) = (pairs[i].begins("SECTION"), name) {
            let body = &pairs[i + 2..];
            let end = body.iter().position(|p| p.begins("ENDSEC")).unwrap_or(body.len());
            let name = name.text().to_ascii_uppercase();
            if sections.insert(name.clone(), &body[..end]).is_some() {
                return Err((
                    format!("the file holds two sections `{name}`: one of them may hold edges to cut"),
                    "export the drawing anew, as one file".into(),
                ));
            }
            i += 2 + end;
        }
        i += 1;
    }
    Ok(sections)
}

fn variable<'b, 'a>(header: &'b [Pair<'a>], name: &str) -> Option<&'b Pair<'a>> {
    let at = header.iter().position(|p| p.code == 9 && p.text().eq_ignore_ascii_case(name))?;
    header.get(at + 1).filter(|p| p.code != 9)
}

/// Inches for each unit, and its name: of `$INSUNITS`, else as asked. Versions before there was such a variable
/// are in inches, unless `$MEASUREMENT` says metric.
fn unit(header: &[Pair], options: &ReadOptions) -> Result<(f64, String), Fault> {
    let stated = variable(header, "$INSUNITS").map(Pair::whole).transpose()?;
    let named = match stated {
        Some(code) if code != 0 => {
            let found = UNITS.iter().find(|u| u.0 == code);
            if found.is_none() && options.unit.is_none() {
                return Err((
                    format!("the drawing's unit is number {code} of its format, which no plate is drawn in"),
                    "name the unit (`--outline-unit in`), or set it in the drawing to inches or millimetres".into(),
                ));
            }
            found.map(|(_, inches, name)| (*inches, (*name).to_owned()))
        }
        _ => None,
    };
    match (named, options.unit) {
        (Some((inches, name)), Some(asked)) if (inches / asked.inches() - 1.0).abs() > 1e-9 => Err((
            format!("the drawing is in {name}, and `{}` was asked for", asked.label()),
            "leave the unit out, or set the drawing's".into(),
        )),
        (Some(named), _) => Ok(named),
        (None, Some(asked)) => Ok((asked.inches(), words(asked).into())),
        (None, None) => unstated(header, stated.is_some()),
    }
}

fn words(unit: DrawnIn) -> &'static str {
    match unit {
        DrawnIn::Inches => "inches, as asked",
        DrawnIn::Millimetres => "millimetres, as asked",
    }
}

fn unstated(header: &[Pair], variable_there: bool) -> Result<(f64, String), Fault> {
    let version = variable(header, "$ACADVER").map(|p| p.text().to_ascii_uppercase()).unwrap_or_default();
    let number = version.strip_prefix("AC").and_then(|v| v.parse::<u32>().ok());
    if !variable_there && number.is_some_and(|n| n < FIRST_WITH_UNITS) {
        let metric = variable(header, "$MEASUREMENT").map(Pair::whole).transpose()? == Some(1);
        return Ok(if metric {
            (1.0 / 25.4, "millimetres, as its version's metric drawings".into())
        } else {
            (1.0, "inches: drawings of its version name no unit".into())
        });
    }
    Err(("the drawing names no unit".into(), "say which it is in: `--outline-unit in` or `--outline-unit mm`".into()))
}

/// The first version whose header names a unit.
const FIRST_WITH_UNITS: u32 = 1015;

/// Units of `$INSUNITS` with their inches, by the format's definition.
const UNITS: &[(i64, f64, &str)] = &[
    (1, 1.0, "inches"),
    (2, 12.0, "feet"),
    (4, 1.0 / 25.4, "millimetres"),
    (5, 1.0 / 2.54, "centimetres"),
    (6, 1.0 / 0.0254, "metres"),
    (8, 1e-6, "millionths of an inch"),
    (9, 1e-3, "thousandths of an inch"),
    (10, 36.0, "yards"),
    (13, 1e-3 / 25.4, "micrometres"),
    (14, 1.0 / 0.254, "decimetres"),
    (21, 1200.0 / 3937.0 / 0.0254, "survey feet"),
];

fn layers(tables: &[Pair]) -> Result<HashMap<String, Layer>, Fault> {
    let mut layers = HashMap::new();
    for record in records(tables).iter().filter(|r| r.name == "LAYER") {
        let Some(name) = record.text(2) else { continue };
        let flags = record.whole(70)?.unwrap_or(0);
        let layer = Layer {
            off: record.whole(62)?.is_some_and(|colour| colour < 0),
            frozen: flags & 1 != 0,
            unplotted: record.whole(290)? == Some(0),
            centre_lines: record.text(6).is_some_and(is_centre),
        };
        layers.insert(name.to_lowercase(), layer);
    }
    Ok(layers)
}

fn blocks<'a>(section: &[Pair<'a>]) -> Result<HashMap<String, Block<'a>>, Fault> {
    let mut blocks = HashMap::new();
    let mut open: Option<(String, Block)> = None;
    for record in records(section) {
        match record.name.as_str() {
            "BLOCK" => {
                let base = (record.real(10)?.unwrap_or(0.0), record.real(20)?.unwrap_or(0.0));
                // Another file, or one laid over it.
                let outside = record.whole(70)?.unwrap_or(0) & (4 | 8) != 0;
                let name = record.text(2).unwrap_or_default().to_lowercase();
                let described = written::plain(record.text(4).unwrap_or_default());
                open = Some((name, Block { base, outside, described, records: Vec::new() }));
            }
            "ENDBLK" => blocks.extend(open.take()),
            _ => {
                if let Some((_, block)) = &mut open {
                    block.records.push(record);
                }
            }
        }
    }
    blocks.extend(open);
    Ok(blocks)
}

/// What annotates, constructs or fills, by its plain name; `None` for what may be an edge to cut.
fn annotation(record: &str) -> Option<&'static str> {
    Some(match record {
        "TEXT" | "MTEXT" | "ATTDEF" | "ATTRIB" | "RTEXT" | "ARCALIGNEDTEXT" => "text",
        "DIMENSION" | "ARC_DIMENSION" | "LARGE_RADIAL_DIMENSION" | "TOLERANCE" => "dimension",
        "LEADER" | "MLEADER" | "MULTILEADER" => "leader",
        "HATCH" | "MPOLYGON" | "SOLID" | "TRACE" => "hatch",
        "POINT" => "point",
        "XLINE" | "RAY" => "construction line",
        "IMAGE" | "OLE2FRAME" | "OLEFRAME" | "WIPEOUT" | "PDFUNDERLAY" | "DWFUNDERLAY" | "DGNUNDERLAY" => "picture",
        "VIEWPORT" | "LIGHT" | "SUN" | "CAMERA" => "view",
        "ACAD_TABLE" => "table",
        _ => return None,
    })
}

/// The plain name of a record, else its own.
fn plain_name(record: &str) -> String {
    annotation(record).map_or_else(|| record.to_owned(), str::to_owned)
}

/// What may be an edge to cut and can't be read: left out, it could be the cut-out that makes a part thin.
fn unread(what: &str, why: &str) -> Fault {
    let name: String = what.chars().filter(|c| !c.is_control()).take(60).collect();
    (
        format!("{name} {why}, and may be an edge to cut"),
        "explode it to lines and arcs, or delete it, or turn its layer off, and export the drawing anew".into(),
    )
}

/// What would be cut, by the name of its record.
const CUT: &[&str] = &["LINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE", "LWPOLYLINE", "POLYLINE"];

fn show<'a>(
    drawing: &'a Drawing<'a>,
    records: &'a [Record<'a>],
    within: Within<'a>,
    sketch: &mut Sketch,
) -> Result<(), Fault> {
    for record in records {
        if matches!(record.name.as_str(), "SEQEND" | "VERTEX") {
            continue;
        }
        let own = record.text(8).filter(|l| !l.is_empty()).unwrap_or("0");
        let layer = if own == "0" { within.layer.unwrap_or(own) } else { own };
        if let Some(why) = hidden(drawing, record, own, layer)? {
            sketch.left_out.add(plain_name(&record.name), why);
        } else if record.name == "INSERT" {
            insert(drawing, record, Within { layer: Some(layer), ..within }, sketch)?;
        } else if CUT.contains(&record.name.as_str()) {
            let centre_line = is_centre_line(drawing, record, layer);
            let (layer, before) = (sketch.layers.at(layer, within.around), sketch.strokes.len());
            Tracer { transform: within.transform, layer, sketch: &mut *sketch }.trace(record)?;
            if centre_line {
                leave_closed(sketch, before);
            }
            sketch.strokes[before..].iter_mut().for_each(|stroke| stroke.centre_line = centre_line);
        } else if let Some(name) = annotation(&record.name) {
            sketch.left_out.add(name, "");
        } else {
            return Err(unread(&format!("a `{}`", record.name), "can't be read"));
        }
        if sketch.strokes.iter().rev().take(1).any(|s| s.points.len() > MAX_EDGES) || sketch.strokes.len() > MAX_EDGES {
            return Err((format!("the drawing has more than {MAX_EDGES} edges"), "thin the outline out".into()));
        }
    }
    Ok(())
}

/// Leaves out what is closed of the strokes from an index on: drawn as a centre line, it is no cut.
fn leave_closed(sketch: &mut Sketch, from: usize) {
    let traced = sketch.strokes.split_off(from);
    let (closed, open): (Vec<_>, Vec<_>) = traced.into_iter().partition(Stroke::encloses);
    sketch.strokes.extend(open);
    sketch.left_out.add_many("closed shape", "drawn as a centre line or a hidden edge", closed.len());
}

/// Whether a line type is one of what is drawn and never cut, by its usual names: centre lines (`CENTER`, `CENTER2`,
/// `CENTERX2`), hidden edges, and phantoms of other parts.
fn is_centre(line_type: &str) -> bool {
    let name = line_type.trim().to_ascii_uppercase();
    ["CENTER", "CENTRE", "HIDDEN", "PHANTOM"].iter().any(|usual| name.starts_with(usual))
}

/// Whether a record is drawn as a centre line: by its own line type, or its layer's.
fn is_centre_line(drawing: &Drawing, record: &Record, layer: &str) -> bool {
    match record.text(6).map(str::trim).filter(|own| !own.is_empty() && !own.eq_ignore_ascii_case("BYLAYER")) {
        Some(own) => is_centre(own),
        None => drawing.layers.get(&layer.to_lowercase()).is_some_and(|layer| layer.centre_lines),
    }
}

/// Why a record is not shown where the plate is cut; `None` where it is.
fn hidden(drawing: &Drawing, record: &Record, own: &str, layer: &str) -> Result<Option<String>, Fault> {
    let paper = record.whole(67)? == Some(1)
        || record.text(410).is_some_and(|l| !l.is_empty() && !l.eq_ignore_ascii_case("Model"));
    if paper {
        return Ok(Some("in paper space".into()));
    }
    if record.whole(60)? == Some(1) {
        return Ok(Some("not visible".into()));
    }
    if layer.eq_ignore_ascii_case("defpoints") {
        return Ok(Some("on a layer that is never plotted".into()));
    }
    let state = |name: &str| drawing.layers.get(&name.to_lowercase()).copied().unwrap_or_default();
    // What is on layer 0 in a block is on the insert's; what is on a frozen layer is gone all the same.
    let (on, frozen) = (state(layer), state(layer).frozen || state(own).frozen);
    let why = match () {
        () if frozen => "is frozen",
        // An insert on a layer that is off shows what is on other layers in it.
        () if on.off && record.name != "INSERT" => "is off",
        () if on.unplotted && record.name != "INSERT" => "is not plotted",
        () => return Ok(None),
    };
    Ok(Some(format!("on layer `{layer}`, which {why}")))
}

fn insert<'a>(
    drawing: &'a Drawing<'a>,
    record: &'a Record<'a>,
    within: Within<'a>,
    sketch: &mut Sketch,
) -> Result<(), Fault> {
    let name = record.text(2).unwrap_or_default();
    let Some(block) = drawing.blocks.get(&name.to_lowercase()) else {
        return Err(unread(&format!("the block `{name}`"), "is inserted and is not in the file"));
    };
    if block.outside {
        return Err(unread(&format!("the block `{name}`"), "is in another file"));
    }
    if within.depth >= MAX_DEPTH {
        return Err((format!("the block `{name}` holds itself"), "explode its inserts".into()));
    }
    let Some(plane) = record.plane()? else {
        return Err(unread(&format!("the block `{name}`"), "is inserted out of the drawing's plane"));
    };
    let real = |code: i32, usual: f64| record.real(code).map(|v| v.unwrap_or(usual));
    let turned =
        kurbo::Affine::translate((real(10, 0.0)?, real(20, 0.0)?)) * kurbo::Affine::rotate(real(50, 0.0)?.to_radians());
    let scaled = kurbo::Affine::scale_non_uniform(real(41, 1.0)?, real(42, 1.0)?)
        * kurbo::Affine::translate((-block.base.0, -block.base.1));
    if scaled.determinant().abs() < MIN_SCALE * MIN_SCALE {
        return Err(unread(&format!("the block `{name}`"), "is inserted at a scale of nothing"));
    }
    let count = |code: i32| record.whole(code).map(|n| n.unwrap_or(1).max(1));
    let (columns, rows) = (count(70)?, count(71)?);
    if columns.saturating_mul(rows) > MAX_COPIES {
        return Err((format!("the block `{name}` is inserted {columns} × {rows} times"), "draw one part".into()));
    }
    let (across, up) = (real(44, 0.0)?, real(45, 0.0)?);
    // One without a name of its own is numbered behind a star.
    let around = if name.starts_with('*') { within.around } else { sketch.layers.enter(within.around, name) };
    for column in 0..columns {
        for row in 0..rows {
            let step = kurbo::Affine::translate((column as f64 * across, row as f64 * up));
            let transform = within.transform * plane * turned * step * scaled;
            show(drawing, &block.records, Within { transform, around, depth: within.depth + 1, ..within }, sketch)?;
        }
    }
    Ok(())
}
