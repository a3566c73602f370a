//! A plate as a thing that hangs, swings, rings, is cut, carried and paid for.

use crate::quantity::{Area, Degrees, Frequency, Length, Mass, Number, Si, Time, Velocity};
use serde::Serialize;

/// How a plate swings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum SwingWord {
    /// It hardly moves.
    Calm,
    /// It swings.
    Lively,
    /// It goes over its hangers, or its face turns over.
    Over,
}

/// Whether a hit is seen to move the plate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Visible {
    /// By day.
    Visible,
    /// At best, without mirage.
    Faint,
    /// Not.
    No,
}

/// How far a plate swings.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Swing {
    /// In one word.
    pub word: SwingWord,
    /// How far, where it does not go over.
    #[serde(rename = "angle_deg")]
    pub angle: Option<Degrees>,
}

/// How far the movement of a hit plate can be seen.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Spotting {
    /// At the distance asked.
    pub visible: Visible,
    /// How far by day.
    #[serde(rename = "by_day_m")]
    pub by_day: Option<Si<Length>>,
    /// How far at best.
    #[serde(rename = "at_best_m")]
    pub at_best: Option<Si<Length>>,
    /// Magnification of the glass.
    pub magnification: Number,
}

/// A round face, and where it is still while a hit at its centre rings it: for a drawing of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RoundFacts {
    /// How broad the face is.
    #[serde(rename = "diameter_m")]
    pub diameter: Si<Length>,
    /// How broad the node circle is.
    #[serde(rename = "node_circle_m")]
    pub node_circle: Si<Length>,
    /// Where two holes damp its ring least, right and up of its centre.
    #[serde(rename = "quiet_holes_m")]
    pub quiet_holes: [[Si<Length>; 2]; 2],
}

/// A mode of the ring.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Mode {
    /// Its name: `(2,0)`, nodal diameters and circles.
    pub mode: String,
    /// Its frequency.
    pub hz: Si<Frequency>,
    /// Whether a hit at the centre rings it.
    pub from_centre: bool,
}

/// What the hits do to a plate that hangs free.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
#[allow(missing_docs)] // Names in use for scripts; see `reaction::Reaction` for each.
pub struct Reaction {
    /// Of the liveliest load.
    pub swing: Swing,
    pub swing_deg: Option<Degrees>,
    pub swing_low_edge_deg: Option<Degrees>,
    pub turn_deg: Option<Degrees>,
    pub turn_low_edge_deg: Option<Degrees>,
    pub centre_rise_m: Si<Length>,
    /// Whether a hit within 85 % of the half-height throws it over.
    pub thrown_over: bool,
    /// Whether it may leave an open hook.
    pub leaves_hook: bool,
    pub plate_speed_m_s: Si<Velocity>,
    pub period_s: Si<Time>,
    pub twist_rad_s: Number,
    pub rise_mrad: Number,
    pub visible: bool,
    pub spotting: Option<Spotting>,
    pub ring_hz: Option<Vec<Mode>>,
    /// The pitch that a hit at the centre rings, where it can be told.
    pub pitch_hz: Option<Si<Frequency>>,
    pub heard_after_s: Option<Si<Time>>,
    /// The same in sentences, for the long form.
    pub words: Vec<String>,
}

/// Pieces a sheet gives.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[allow(missing_docs)]
pub struct PerSheet {
    pub full: u32,
    pub half: u32,
    pub quarter: u32,
}

/// What a piece costs, in words and as it is made up.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Price {
    /// Of one piece: `$33.25`.
    pub each: String,
    /// Of the quantity asked.
    pub total: String,
    /// How one is made up: steel, scrap, cut, handling.
    pub made_of: Vec<String>,
    /// What shipping all of them costs, which is in neither; none where the shop's file does not say.
    pub shipping: Option<String>,
}

/// A plate as material.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
#[allow(missing_docs)] // Names in use for scripts; see `shop::Material` for each.
pub struct Material {
    /// Of one piece; a price by weight is of this.
    pub mass_kg: Si<Mass>,
    /// The same by the trade's 40.8 lb/ft² per inch.
    pub trade_mass_kg: Si<Mass>,
    pub cut_m: Si<Length>,
    pub per_sheet: PerSheet,
    pub utilisation: Number,
    /// Of one piece, as a number in text; none where it can't be cut or no shop's file was given.
    pub cost: Option<String>,
    pub currency: Option<String>,
    pub price: Option<Price>,
    /// Why it has no price at the shop: `not priced; the shop has 6 mm`.
    pub not_priced: Option<String>,
    /// The whole sheet that `per_sheet` counts on, the shorter side first: `4 × 8 ft`.
    pub sheet: String,
    /// The smallest parcel that one ships in: `postal parcel`, `private parcel`; none where it is freight.
    pub parcel: Option<String>,
    /// How the quantity asked ships: `private parcel`, `2 postal parcels`, `freight`.
    pub ships_as: String,
    /// Pieces one person carries.
    pub carried: u32,
}

/// The piece of one target, where there are several.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Piece {
    /// The target's name.
    pub target: String,
    /// Its face in words.
    pub face: String,
    /// Mass of one.
    #[serde(rename = "mass_kg")]
    pub mass: Si<Mass>,
    /// What it is as material.
    pub material: Material,
}

/// One piece for each target, in the quantity asked.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Together {
    /// Mass of one of each.
    #[serde(rename = "mass_kg")]
    pub mass: Si<Mass>,
    /// What one of each costs, as a number in text; none where one of them has no price.
    pub cost: Option<String>,
    /// The same in words: `$153.35`.
    pub price: Option<String>,
    /// What the quantity asked of each costs, in words.
    pub total: Option<String>,
}

/// A round hole of a drawing.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Hole {
    /// Its centre from the lower left of the outline.
    #[serde(rename = "at_m")]
    pub at: [Si<Length>; 2],
    /// Its diameter.
    #[serde(rename = "diameter_m")]
    pub diameter: Si<Length>,
}

/// A sharp inside corner of a drawing.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Corner {
    /// Where it is, from the lower left of the outline.
    #[serde(rename = "at_m")]
    pub at: [Si<Length>; 2],
    /// Its radius there.
    #[serde(rename = "radius_m")]
    pub radius: Si<Length>,
}

/// The narrowest place of a drawing.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Thinnest {
    /// Its width; none where it could not be made sure.
    #[serde(rename = "width_m")]
    pub width: Option<Si<Length>>,
    /// Where it is.
    #[serde(rename = "at_m")]
    pub at: Option<[Si<Length>; 2]>,
}

/// A piece of a contour.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Segment {
    /// A line to a point.
    Line([Si<Length>; 2]),
    /// An arc to a point: end, radius, whether the long way, whether counterclockwise.
    Arc([Si<Length>; 2], Si<Length>, bool, bool),
}

/// A closed contour: where it begins, and its pieces.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Shape {
    /// Where it begins.
    pub start: [Si<Length>; 2],
    /// Its pieces.
    pub segments: Vec<Segment>,
}

/// What was read of a drawing.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct OutlineFacts {
    /// Of the steel.
    #[serde(rename = "area_m2")]
    pub area: Si<Area>,
    /// Length of every cut.
    #[serde(rename = "cut_m")]
    pub cut: Si<Length>,
    /// From side to side.
    #[serde(rename = "width_m")]
    pub width: Si<Length>,
    /// From foot to top.
    #[serde(rename = "height_m")]
    pub height: Si<Length>,
    /// From the lower left.
    #[serde(rename = "centroid_m")]
    pub centroid: [Si<Length>; 2],
    /// Round holes.
    pub holes: Vec<Hole>,
    /// Inside corners sharper than the thickness asked.
    pub corners: Vec<Corner>,
    /// The narrowest place.
    pub thinnest: Thinnest,
    /// The least steel between where it hangs and its body; none where no part there is narrower than the
    /// plate, and where nobody knows where it hangs.
    pub hung_by: Option<Thinnest>,
    /// Layers that were read.
    pub layers: Vec<String>,
    /// What was left out, with how many.
    pub left_out: Vec<String>,
    /// Where it hangs, in words, and whether that was given.
    pub hangs: String,
    /// Height of the hanger line and its points, from the lower left.
    #[serde(rename = "hangers_m")]
    pub hangers: Vec<[Si<Length>; 2]>,
    /// The lean that results from where it hangs, where the balance point is not below the line's middle.
    #[serde(rename = "lean_deg")]
    pub lean: Option<Degrees>,
    /// The whole in a line: size, area, cut length, holes.
    pub words: String,
    /// The contours, for a figure: the outline first.
    #[serde(skip)]
    pub shapes: Vec<Shape>,
}

/// A piece on a sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Placement {
    /// Centre of the piece's bounds as it is turned, from the sheet's lower left.
    #[serde(rename = "at_m")]
    pub at: [Si<Length>; 2],
    /// Where the centre of its bounds, as it is drawn upright, lies then: its contours turn about it.
    #[serde(rename = "pivot_m")]
    pub pivot: [Si<Length>; 2],
    /// How far it is turned, counterclockwise.
    #[serde(rename = "turned_deg")]
    pub turned: Degrees,
}

/// How a piece lies on a sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct CutPlan {
    /// The sheet's length and breadth.
    #[serde(rename = "sheet_m")]
    pub sheet: [Si<Length>; 2],
    /// Kerf of the cut.
    #[serde(rename = "kerf_m")]
    pub kerf: Si<Length>,
    /// Each piece.
    pub pieces: Vec<Placement>,
    /// The piece's contours about the centre of its bounds, for a figure.
    #[serde(skip)]
    pub shapes: Vec<Shape>,
}

/// Whether a hit topples a standing plate.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Topple {
    /// Whether the slow shot does.
    pub falls: bool,
    /// The speed at the plate that just does, with this bullet.
    #[serde(rename = "least_speed_m_s")]
    pub least_speed: Option<Si<Velocity>>,
    /// The whole in a sentence.
    pub words: String,
}
