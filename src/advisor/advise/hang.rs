//! The plates of an advice as things that hang, swing, ring, are cut, carried and paid for.

use super::super::answer::{
    CutPlan as CutPlanTold, Material as MaterialTold, Mode, PerSheet, Placement, Price, Reaction as ReactionTold,
    Spotting as SpottingTold, Swing as SwingTold, SwingWord, Visible as VisibleTold,
};
use super::super::say;
use super::telling::Telling;
use crate::plate::{Mount, Plate};
use crate::quantity::{Angle, Degrees, Length, Number, Si, unit};
use crate::reaction::sight::{self, Spotting, SpottingRange, Visible};
use crate::reaction::swing::{Liveliness, Pendulum, Suspension, Swing};
use crate::reaction::wanted::{Wanted, Way, Wish, wanted};
use crate::reaction::{Hit, Reaction};
use crate::rules::{Setup, Verdict};
use crate::shop::Material;
use crate::shop::price::{Basis, Part};
use crate::shop::sheet::{self, CutPlan, Cutting};
use crate::source::clean;
use crate::spread::Flights;
use crate::words::{self, Units};

/// Plates below the one that is named which are shown beside it.
const NEIGHBOURS: usize = 2;

/// One plate.
struct Piece {
    reaction: Option<Reaction>,
    material: Material,
}

/// The plates of the first target, from two below the one that is named.
pub(super) struct Hanging<'a> {
    telling: Telling<'a>,
    setup: &'a Setup,
    suspension: Option<Suspension>,
    /// The lines that shoot at it, and what each does.
    lines: Vec<usize>,
    hits: Vec<Hit>,
    named: Option<usize>,
    first: usize,
    pieces: Vec<Piece>,
    cutting: Cutting,
    plans: [CutPlan; 3],
}

impl<'a> Hanging<'a> {
    pub fn of(telling: &Telling<'a>, left: &[usize], named: Option<usize>) -> Self {
        let setup = telling.setup(left.first().copied().unwrap_or(0));
        let alike = |s: &Setup| s.face == setup.face && s.mount == setup.mount && s.chain == setup.chain;
        let lines: Vec<usize> = left.iter().copied().filter(|&line| alike(telling.setup(line))).collect();
        let plate = named.unwrap_or(0);
        let hit = |&line: &usize| {
            let arriving = telling.arriving(plate, line);
            let of = telling.setup(line);
            Hit::of(&arriving.load, &arriving.strike, &of.face, of.tilt, of.oblique)
        };
        let hits: Vec<Hit> = lines.iter().map(hit).collect();
        let suspension = Suspension::from_mount(setup.mount, setup.chain);
        let plates = &telling.case.plates;
        let first = named.map_or(plates.len().saturating_sub(NEIGHBOURS), |plate| plate.saturating_sub(NEIGHBOURS));
        let shop = telling.case.books.shop.as_deref();
        let glass = telling.case.magnification;
        let cutting = shop.map_or_else(Cutting::default, |shop| shop.cutting);
        // Alike for every thickness.
        let plans = sheet::plans(&setup.face, &cutting);
        let piece = |plate: &Plate| Piece {
            reaction: suspension.and_then(|hung| Reaction::of(&setup.face, plate, hung, &hits, glass)),
            material: telling.case.priced(Material::with_plans(&setup.face, plate, shop, &plans), &setup.face, plate),
        };
        let pieces = plates[first..].iter().map(piece).collect();
        Self { telling: *telling, setup, suspension, lines, hits, named, first, pieces, cutting, plans }
    }

    fn piece(&self, plate: usize) -> Option<&Piece> {
        self.pieces.get(plate.checked_sub(self.first)?)
    }

    fn units(&self) -> Units {
        self.telling.case.units
    }

    /// `12 in round, 12.0 lb, $33.25, parcel.`
    pub fn carried(&self) -> Vec<String> {
        let Some(piece) = self.named.and_then(|plate| self.piece(plate)) else { return Vec::new() };
        let mut parts = vec![say::face(&self.setup.face, self.units()), self.units().mass(piece.material.mass)];
        if let (Some(shop), Some(cost)) = (&self.telling.case.books.shop, piece.material.cost) {
            parts.push(clean(&format!("{}{}", shop.currency, cost.each)));
        }
        parts.push(if piece.material.parcel.is_some() { "parcel" } else { "freight" }.into());
        vec![format!("{}.", parts.join(", "))]
    }

    /// What a hit does to its hooks, for people on the phone.
    pub fn must_hear(&self) -> Option<String> {
        let reaction = self.named.and_then(|plate| self.piece(plate))?.reaction.as_ref()?;
        if reaction.leaves_open_hook() && self.setup.mount == Mount::OpenHook {
            Some("Closed hooks: a hard hit lifts it off.".into())
        } else if reaction.thrown_over() {
            Some("A low hit throws it over its hangers.".into())
        } else if reaction.flips() {
            Some("A low hit flips it on its chain.".into())
        } else {
            None
        }
    }

    pub fn reaction(&self, plate: usize) -> Option<ReactionTold> {
        let reaction = self.piece(plate)?.reaction.as_ref()?;
        let named = self.named == Some(plate);
        let spotting = if named { self.spotting(plate) } else { None };
        let heard = self.weakest().map(|line| {
            let strike = &self.telling.arriving(plate, line).strike;
            let sound = self.telling.conditions(line).thin().sound_speed();
            Si(sight::until_heard(strike.time, strike.distance, sound))
        });
        let angle = |swing: Swing| swing.angle().map(Degrees);
        let ring = reaction.ring.as_ref().map(|modes| {
            modes
                .iter()
                .map(|m| Mode { mode: m.name.into(), hz: Si(m.frequency), from_centre: m.from_centre })
                .collect()
        });
        let words = if named { self.told(plate, reaction) } else { Vec::new() };
        Some(ReactionTold {
            swing: swing(reaction.swing),
            swing_deg: angle(reaction.swing),
            swing_low_edge_deg: angle(reaction.edge.swing),
            turn_deg: angle(reaction.turn),
            turn_low_edge_deg: angle(reaction.edge.turn),
            centre_rise_m: Si(reaction.centre_rise),
            thrown_over: reaction.thrown_over(),
            leaves_hook: reaction.leaves_open_hook(),
            plate_speed_m_s: Si(reaction.plate_speed),
            period_s: Si(reaction.period),
            twist_rad_s: Number(reaction.twist),
            rise_mrad: Number(unit::MILLIRADIAN.value(reaction.seen.motion)),
            visible: reaction.seen.visible() == Visible::Visible,
            spotting: spotting.map(|(spotting, reach)| SpottingTold {
                visible: visible(reaction.seen.visible()),
                by_day: range(spotting.by_day, reach),
                at_best: range(spotting.at_best, reach),
                magnification: Number(self.telling.case.magnification),
            }),
            ring_hz: ring,
            pitch_hz: reaction.pitch().map(Si),
            heard_after_s: heard,
            words,
        })
    }

    pub fn material(&self, plate: usize) -> Option<MaterialTold> {
        let material = &self.piece(plate)?.material;
        let shop = self.telling.case.books.shop.as_deref();
        let currency = shop.map(|shop| clean(&shop.currency));
        let price = self.price(plate, material);
        let [full, half, quarter] = material.per_sheet;
        Some(MaterialTold {
            mass_kg: Si(material.mass),
            trade_mass_kg: Si(material.trade_mass),
            cut_m: Si(material.cut),
            per_sheet: PerSheet { full, half, quarter },
            utilisation: Number(material.utilisation),
            cost: material.cost.map(|cost| cost.each.to_string()),
            currency,
            price,
            parcel: material.parcel.as_deref().map(clean),
            carried: material.carried,
        })
    }

    /// What the quantity asked costs, and what that is made of.
    fn price(&self, plate: usize, material: &Material) -> Option<Price> {
        let shop = self.telling.case.books.shop.as_deref()?;
        let (face, of) = (&self.setup.face, &self.telling.case.plates[plate]);
        let part = Part::of(face, of, material.per_sheet[0]);
        let quote = shop.quote(material.cost?, &part, material.mass, self.telling.case.quantity)?;
        let money = |amount: crate::shop::money::Money| clean(&format!("{}{amount}", shop.currency));
        let mut made_of: Vec<String> = match quote.cost.basis {
            Basis::Product => vec!["the product's own price".into()],
            Basis::Weight { scrap_included: true } => vec!["by weight, scrap in it".into()],
            Basis::Weight { scrap_included: false } => vec!["by weight, scrap charged".into()],
            Basis::Sheet => vec!["by its share of a sheet".into()],
        };
        for (amount, what) in quote.cost.made_of.into_iter().flatten().zip(["steel", "cut", "handling"]) {
            made_of.push(format!("{what} {}", money(amount)));
        }
        if let Some(cost) = quote.shipping.cost {
            made_of.push(format!("shipping {} for all", money(cost)));
        }
        Some(Price { each: money(quote.cost.each), total: money(quote.total), made_of })
    }

    /// How the piece lies on a full sheet.
    pub fn cut_plan(&self) -> Option<CutPlanTold> {
        let plan = &self.plans[0];
        let (length, breadth) = plan.part.size();
        let pieces = plan
            .pieces
            .iter()
            .map(|piece| Placement { at: [Si(piece.at.0), Si(piece.at.1)], turned: Degrees(piece.turned) });
        (!plan.pieces.is_empty()).then(|| CutPlanTold {
            sheet: [Si(length), Si(breadth)],
            kerf: Si(self.cutting.kerf),
            pieces: pieces.collect(),
            shapes: super::super::shapes::of(&self.setup.face),
        })
    }

    /// The line of the weakest slow shot.
    fn weakest(&self) -> Option<usize> {
        Hit::weakest(&self.hits).map(|index| self.lines[index])
    }

    fn spotting(&self, plate: usize) -> Option<(Spotting, Length)> {
        let weakest = Hit::weakest(&self.hits)?;
        let (line, hit) = (self.lines[weakest], self.hits[weakest]);
        let load = &self.telling.arriving(plate, line).load;
        let flights = Flights::new(load, self.telling.conditions(line)).ok()?;
        let (face, glass) = (&self.setup.face, self.telling.case.magnification);
        let pendulum = Pendulum::hung(face, &self.telling.case.plates[plate], self.suspension?);
        Some((sight::spotting(&pendulum, face, load, &flights, hit.incidence, glass), flights.reach()))
    }

    /// What must be said of the plate that is named.
    pub fn remarks(&self) -> Vec<String> {
        let Some(plate) = self.named else { return Vec::new() };
        let Some(reaction) = self.piece(plate).and_then(|piece| piece.reaction.as_ref()) else { return Vec::new() };
        let mut said = Vec::new();
        if reaction.leaves_open_hook() && self.setup.mount == Mount::OpenHook {
            let speed = self.units().small_speed(reaction.plate_speed);
            said.push(format!("Struck hardest it moves off at {speed}, and is likely to leave an open hook: hang it captive, or thicker."));
        }
        if reaction.returns_upward() {
            said.push("It swings beyond 20°: a second hit on the return leaves upward.".into());
        }
        said.extend(self.wanted_words(plate));
        said
    }

    /// The reaction in sentences, for the long form.
    fn told(&self, plate: usize, reaction: &Reaction) -> Vec<String> {
        let (label, units) = (clean(&self.telling.case.plates[plate].label), self.units());
        let mut said = Vec::new();
        if reaction.thrown_over() {
            said.push(format!("A low hit can throw the {label} plate over its hangers."));
        }
        if reaction.flips() {
            said.push(format!("A low hit can flip the {label} plate on its chain."));
        }
        if matches!(self.suspension, Some(Suspension::Chain(_))) {
            said.push(format!(
                "On its chain it swings about the chain's top; its centre rises {} at most.",
                units.size(reaction.centre_rise)
            ));
        }
        match &reaction.ring {
            Some(modes) if !modes.is_empty() && modes.iter().all(|m| !m.from_centre) => {
                said.push("A centre hit lies on a node of its lowest modes: it rings dull there.".into());
            }
            None => said.push("No published constants for the ring of this outline.".into()),
            Some(_) => {}
        }
        if let Some(line) = self.weakest() {
            let strike = &self.telling.arriving(plate, line).strike;
            let sound = self.telling.conditions(line).thin().sound_speed();
            let heard = sight::until_heard(strike.time, strike.distance, sound);
            let at = units.distance(strike.distance);
            said.push(format!("The ring of a hit at {at} is heard {} after the shot.", words::seconds(heard)));
        }
        if let Some((spotting, reach)) = self.spotting(plate) {
            let told = |of| range(of, reach).map_or_else(|| "nowhere".into(), |far| units.distance_down(*far));
            said.push(format!(
                "Its swing is visible at {}× to {} by day, to {} at best.",
                self.telling.case.magnification,
                told(spotting.by_day),
                told(spotting.at_best)
            ));
        }
        said
    }

    /// What gives a swing that is wanted; that nothing looked at does, where nothing does.
    fn wanted_words(&self, plate: usize) -> Option<String> {
        let swing_wanted: Angle = self.telling.case.question.want_swing.as_ref()?.value();
        let (hung, hit) = (self.suspension?, Hit::liveliest(&self.hits)?);
        let wish = Wish { swing: swing_wanted, momentum: hit.momentum, incidence: hit.incidence };
        let suits = |&other: &usize| {
            other != plate
                && self.lines.iter().all(|&l| self.telling.matrix.judged[other][l].judged.verdict == Verdict::Suits)
        };
        let plates = &self.telling.case.plates;
        let others: Vec<Plate> = (0..plates.len()).filter(suits).map(|other| plates[other].clone()).collect();
        let found = wanted(&self.setup.face, &plates[plate], hung, &others, &wish);
        Some(way_words(&clean(&plates[plate].label), swing_wanted, found.as_ref(), self.units()))
    }
}

fn way_words(label: &str, wanted: Angle, found: Option<&Wanted>, units: Units) -> String {
    let wanted = words::degrees(wanted);
    let Some(Wanted { way, low }) = found else {
        return format!(
            "No hanger line in the upper third, chain, bracket or other plate that suits gives the {label} plate a swing of {wanted}."
        );
    };
    let how = match way {
        Way::Line { above_centre } => {
            format!("put the hanger line of the {label} plate {} above its centre", units.size(*above_centre))
        }
        Way::Chain { length } => format!("hang the {label} plate on {} of chain", units.size(*length)),
        Way::Bracket { above_edge } => {
            format!("hold the {label} plate by a rigid bracket that turns {} above its edge", units.size(*above_edge))
        }
        Way::Thickness { plate } => format!("take {}, which comes nearest", clean(&plate.label)),
    };
    format!("For a swing of {wanted} from a centre hit, {how}; a low hit then: {}.", swing_words(*low))
}

fn swing_words(swing: Swing) -> String {
    match swing {
        Swing::To(angle) => format!("{:.0}°", unit::DEGREE.value(angle)),
        Swing::Flips => "flips".into(),
        Swing::ThrownOver => "thrown over".into(),
    }
}

fn swing(of: Swing) -> SwingTold {
    let word = match of.liveliness() {
        Liveliness::Calm => SwingWord::Calm,
        Liveliness::Lively => SwingWord::Lively,
        Liveliness::Over => SwingWord::Over,
    };
    SwingTold { word, angle: of.angle().map(Degrees) }
}

fn visible(of: Visible) -> VisibleTold {
    match of {
        Visible::Visible => VisibleTold::Visible,
        Visible::Faint => VisibleTold::Faint,
        Visible::No => VisibleTold::No,
    }
}

fn range(of: SpottingRange, reach: Length) -> Option<Si<Length>> {
    match of {
        SpottingRange::To(far) => Some(Si(far)),
        SpottingRange::Nowhere => None,
        SpottingRange::AllTheWay => Some(Si(reach)),
    }
}
