//! The plates of an advice as things that hang, swing, ring, are cut, carried and paid for.

use super::super::answer::{
    CutPlan as CutPlanTold, Material as MaterialTold, Mode, PerSheet, Piece as PieceTold, Placement, Price,
    Reaction as ReactionTold, Spotting as SpottingTold, Swing as SwingTold, SwingWord, Together,
    Visible as VisibleTold,
};
use super::super::say;
use super::telling::Telling;
use crate::plate::{Face, Mount, Plate};
use crate::quantity::{Degrees, Length, Number, Si, unit};
use crate::reaction::sight::{self, Spotting, SpottingRange, Visible};
use crate::reaction::swing::{Liveliness, Pendulum, Suspension, Swing};
use crate::reaction::{Hit, Reaction};
use crate::rules::Setup;
use crate::shop::Material;
use crate::shop::money::Money;
use crate::shop::price::{Basis, Part, Quote};
use crate::shop::sheet::{self, CutPlan, Cutting, Sheet};
use crate::shop::ship::{Shipping, ship, usual_parcels};
use crate::source::clean;
use crate::spread::Flights;
use crate::words::{self, Units};

/// One plate.
struct Piece {
    /// Of the first target.
    reaction: Option<Reaction>,
    /// One for each face.
    materials: Vec<Material>,
}

/// The face of a target, and how it is cut: alike for every thickness.
struct Cut<'a> {
    target: usize,
    face: &'a Face,
    plans: [CutPlan; 3],
}

/// The plates of the targets.
pub(super) struct Hanging<'a> {
    telling: Telling<'a>,
    setup: &'a Setup,
    suspension: Option<Suspension>,
    /// The lines that shoot at it, and what each does.
    lines: Vec<usize>,
    hits: Vec<Hit>,
    named: Option<usize>,
    pieces: Vec<Piece>,
    cutting: Cutting,
    /// The faces of the targets that are shot at, that of the first line first.
    cuts: Vec<Cut<'a>>,
}

impl<'a> Hanging<'a> {
    pub fn of(telling: &Telling<'a>, left: &[usize], named: Option<usize>) -> Self {
        let setup = telling.setup(left.first().copied().unwrap_or(0));
        let alike = |s: &Setup| s.face == setup.face && s.mount == setup.mount && s.chain == setup.chain;
        let lines: Vec<usize> = left.iter().copied().filter(|&line| alike(telling.setup(line))).collect();
        let plate = named.unwrap_or(0);
        let hits: Vec<Hit> = lines.iter().map(|&line| telling.hit(plate, line)).collect();
        let suspension = Suspension::from_mount(setup.mount, setup.chain);
        let plates = &telling.case.plates;
        let shop = telling.case.books.shop.as_deref();
        let glass = telling.case.magnification;
        let cutting = shop.map_or_else(Cutting::default, |shop| shop.cutting);
        let cuts = cuts(telling, left, &cutting);
        let material = |cut: &Cut, plate: &Plate| {
            telling.case.priced(Material::with_plans(cut.face, plate, shop, &cut.plans), cut.face, plate)
        };
        let piece = |plate: &Plate| Piece {
            reaction: suspension.and_then(|hung| Reaction::of(&setup.face, plate, hung, &hits, glass)),
            materials: cuts.iter().map(|cut| material(cut, plate)).collect(),
        };
        let pieces = plates.iter().map(piece).collect();
        Self { telling: *telling, setup, suspension, lines, hits, named, pieces, cutting, cuts }
    }

    fn piece(&self, plate: usize) -> Option<&Piece> {
        self.pieces.get(plate)
    }

    fn units(&self) -> Units {
        self.telling.case.units
    }

    fn quantity(&self) -> u32 {
        self.telling.case.quantity
    }

    /// `12 in round, 12.0 lb, $33.25, parcel.`; of several faces each, and all together.
    pub fn carried(&self) -> Vec<String> {
        let Some((plate, piece)) = self.named.and_then(|plate| Some((plate, self.piece(plate)?))) else {
            return Vec::new();
        };
        let mut told: Vec<String> =
            self.cuts.iter().zip(&piece.materials).map(|(cut, material)| self.one(plate, cut, material)).collect();
        if let Some(together) = self.together(plate) {
            let mass = self.units().mass(*together.mass);
            let (set, of_all) = match (together.price, together.total) {
                (Some(set), Some(all)) if self.quantity() > 1 => {
                    (format!(" and {set} a set"), format!(", {all} for all, shipping apart"))
                }
                (Some(set), _) => (String::new(), format!(", {set} for all, shipping apart")),
                (None, _) if self.quantity() > 1 => (" a set".into(), String::new()),
                (None, _) => (String::new(), String::new()),
            };
            told.push(format!("together {mass}{set}{of_all}"));
        }
        vec![format!("{}.", told.join("; "))]
    }

    /// A face as it is carried and paid for.
    fn one(&self, plate: usize, cut: &Cut, material: &Material) -> String {
        let (count, units) = (self.quantity(), self.units());
        let face = say::face(cut.face, units);
        let mass = units.mass(material.mass);
        let shipping = self.shipping(material);
        let Some(price) = self.price(plate, cut, material) else {
            let ships = short(&shipping);
            let why = self.not_priced(plate, cut, material);
            let ships = why.map_or(ships.clone(), |why| format!("{ships}, {}", why.replacen("; ", ": ", 1)));
            return if count == 1 {
                format!("{face}, {mass}, {ships}")
            } else {
                format!("{count} of {face}, {mass} each, {} in all, {ships}", units.mass(shipping.mass))
            };
        };
        let ships = match &price.shipping {
            Some(cost) => format!("{cost} more by {}", short(&shipping)),
            None => short(&shipping),
        };
        if count == 1 {
            format!("{face}, {mass}, {}, {ships}", price.each)
        } else {
            format!("{count} of {face}, {mass} and {} each, {} for all, {ships}", price.each, price.total)
        }
    }

    /// What a hit does to its hooks, for people on the phone.
    pub fn must_hear(&self) -> Option<String> {
        let reaction = self.named.and_then(|plate| self.piece(plate))?.reaction.as_ref()?;
        if reaction.leaves_open_hook() && self.setup.mount == Mount::OpenHook {
            Some("Closed hooks: a hard hit lifts it off open ones.".into())
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
        let words = if named { self.told(plate, reaction, spotting.as_ref()) } else { Vec::new() };
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
            spotting: spotting.map(|spotting| SpottingTold {
                visible: visible(reaction.seen.visible()),
                by_day: range(spotting.by_day),
                at_best: range(spotting.at_best),
                magnification: Number(self.telling.case.magnification),
            }),
            ring_hz: ring,
            pitch_hz: reaction.pitch().map(Si),
            heard_after_s: heard,
            words,
        })
    }

    /// Of the first target.
    pub fn material(&self, plate: usize) -> Option<MaterialTold> {
        let piece = self.piece(plate)?;
        Some(self.material_told(plate, self.cuts.first()?, piece.materials.first()?))
    }

    /// Of each target, where there are several.
    pub fn pieces(&self, plate: usize) -> Vec<PieceTold> {
        let Some(piece) = self.piece(plate).filter(|_| self.cuts.len() > 1) else { return Vec::new() };
        let one = |(cut, material): (&Cut, &Material)| PieceTold {
            target: clean(&self.telling.case.inquiry.targets[cut.target].name),
            face: say::face(cut.face, self.units()),
            mass: Si(material.mass),
            material: self.material_told(plate, cut, material),
        };
        self.cuts.iter().zip(&piece.materials).map(one).collect()
    }

    /// All of the targets together, where there are several.
    pub fn together(&self, plate: usize) -> Option<Together> {
        let piece = self.piece(plate).filter(|_| self.cuts.len() > 1)?;
        let mass = piece.materials.iter().map(|m| m.mass).reduce(|a, b| a + b).unwrap_or_else(|| unit::POUND.of(0.0));
        let quotes: Option<Vec<Quote>> =
            self.cuts.iter().zip(&piece.materials).map(|(cut, material)| self.quote(plate, cut, material)).collect();
        let sum = |of: fn(&Quote) -> Money| quotes.as_ref()?.iter().map(|q| Some(of(q))).reduce(|a, b| a?.plus(b?))?;
        let cost = sum(|quote| quote.cost.each);
        Some(Together {
            mass: Si(mass),
            cost: cost.map(|cost| cost.to_string()),
            price: cost.and_then(|cost| self.money(cost)),
            total: sum(|quote| quote.total).and_then(|total| self.money(total)),
        })
    }

    fn money(&self, amount: Money) -> Option<String> {
        self.telling.case.books.shop.as_deref().map(|shop| clean(&format!("{}{amount}", shop.currency)))
    }

    fn material_told(&self, plate: usize, cut: &Cut, material: &Material) -> MaterialTold {
        let shop = self.telling.case.books.shop.as_deref();
        let [full, half, quarter] = material.per_sheet;
        MaterialTold {
            mass_kg: Si(material.mass),
            trade_mass_kg: Si(material.trade_mass),
            cut_m: Si(material.cut),
            per_sheet: PerSheet { full, half, quarter },
            utilisation: Number(material.utilisation),
            cost: material.cost.map(|cost| cost.each.to_string()),
            currency: shop.map(|shop| clean(&shop.currency)),
            price: self.price(plate, cut, material),
            not_priced: self.not_priced(plate, cut, material),
            sheet: words::sheet(self.cutting.sheet.length, self.cutting.sheet.breadth, self.units()),
            parcel: material.parcel.as_deref().map(clean),
            ships_as: clean(&self.shipping(material).words()),
            carried: material.carried,
        }
    }

    fn not_priced(&self, plate: usize, cut: &Cut, material: &Material) -> Option<String> {
        self.telling.case.not_priced(cut.face, &self.telling.case.plates[plate], material.per_sheet[0])
    }

    /// How the quantity asked of a piece ships.
    fn shipping(&self, material: &Material) -> Shipping {
        let quantity = self.quantity();
        match self.telling.case.books.shop.as_deref() {
            Some(shop) => ship(&shop.parcels, shop.freight.as_ref(), material.mass, quantity),
            None => ship(&usual_parcels(), None, material.mass, quantity),
        }
    }

    fn quote(&self, plate: usize, cut: &Cut, material: &Material) -> Option<Quote> {
        let shop = self.telling.case.books.shop.as_deref()?;
        let part = Part::of(cut.face, &self.telling.case.plates[plate], material.per_sheet[0]);
        shop.quote(material.cost?, &part, material.mass, self.quantity())
    }

    /// What the quantity asked costs, and what one is made of.
    fn price(&self, plate: usize, cut: &Cut, material: &Material) -> Option<Price> {
        let quote = self.quote(plate, cut, material)?;
        let mut made_of: Vec<String> = match quote.cost.basis {
            Basis::Product => vec!["the product's own price".into()],
            Basis::Weight { scrap_included: true } => vec!["by weight, scrap in it".into()],
            Basis::Weight { scrap_included: false } => vec!["by weight, scrap charged".into()],
            Basis::Sheet => vec!["by its share of a sheet".into()],
        };
        for (amount, what) in quote.cost.made_of.into_iter().flatten().zip(["steel", "cut", "handling"]) {
            made_of.extend(self.money(amount).map(|money| format!("{what} {money}")));
        }
        Some(Price {
            each: self.money(quote.cost.each)?,
            total: self.money(quote.total)?,
            made_of,
            shipping: quote.shipping.cost.and_then(|cost| self.money(cost)),
        })
    }

    /// How the piece lies on a full sheet.
    pub fn cut_plan(&self) -> Option<CutPlanTold> {
        let cut = self.cuts.first()?;
        let plan = &cut.plans[0];
        let Sheet { length, breadth } = plan.sheet;
        let pieces = plan.pieces.iter().map(|piece| Placement {
            at: [Si(piece.at.0), Si(piece.at.1)],
            pivot: [Si(piece.pivot.0), Si(piece.pivot.1)],
            turned: Degrees(piece.turned),
        });
        (!plan.pieces.is_empty()).then(|| CutPlanTold {
            sheet: [Si(length), Si(breadth)],
            kerf: Si(self.cutting.kerf),
            pieces: pieces.collect(),
            shapes: super::super::shapes::of(cut.face),
        })
    }

    /// The line of the weakest slow shot.
    fn weakest(&self) -> Option<usize> {
        Hit::weakest(&self.hits).map(|index| self.lines[index])
    }

    fn spotting(&self, plate: usize) -> Option<Spotting> {
        let weakest = Hit::weakest(&self.hits)?;
        let (line, hit) = (self.lines[weakest], self.hits[weakest]);
        let load = &self.telling.arriving(plate, line).load;
        let flights = Flights::new(load, self.telling.conditions(line)).ok()?;
        let (face, glass) = (&self.setup.face, self.telling.case.magnification);
        let pendulum = Pendulum::hung(face, &self.telling.case.plates[plate], self.suspension?);
        Some(sight::spotting(&pendulum, face, load, &flights, hit.incidence, glass))
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
        said
    }

    /// The reaction in sentences, for the long form.
    fn told(&self, plate: usize, reaction: &Reaction, spotting: Option<&Spotting>) -> Vec<String> {
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
        if let Some(spotting) = spotting {
            let told = |of| range(of).map_or_else(|| "nowhere".into(), |far| units.distance_down(*far));
            said.push(format!(
                "Its swing is visible at {}× to {} by day, to {} at best.",
                self.telling.case.magnification,
                told(spotting.by_day),
                told(spotting.at_best)
            ));
        }
        said
    }
}

/// The faces of the targets that lines are shot at, each once.
fn cuts<'a>(telling: &Telling<'a>, lines: &[usize], cutting: &Cutting) -> Vec<Cut<'a>> {
    let mut cuts: Vec<Cut> = Vec::new();
    for &line in lines {
        let target = telling.matrix.lines[line].line.target;
        if !cuts.iter().any(|cut| cut.target == target) {
            let face = &telling.setup(line).face;
            let known = cuts.iter().find(|cut| cut.face == face).map(|cut| cut.plans.clone());
            let plans = known.unwrap_or_else(|| sheet::plans(face, cutting));
            cuts.push(Cut { target, face, plans });
        }
    }
    cuts
}

/// The way that pieces ship, without the carrier: `parcel`, `2 parcels`, `freight`.
fn short(shipping: &Shipping) -> String {
    match (&shipping.parcel, shipping.parcels) {
        (None, _) => "freight".into(),
        (Some(_), 0 | 1) => "parcel".into(),
        (Some(_), many) => format!("{many} parcels"),
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

fn range(of: SpottingRange) -> Option<Si<Length>> {
    match of {
        SpottingRange::To(far) | SpottingRange::AllTheWay(far) => Some(Si(far)),
        SpottingRange::Nowhere => None,
    }
}
