//! How plates ship: in parcels to a carrier's limit, or as freight by weight.

use super::money::Money;
use crate::quantity::{Mass, Measure, unit};

/// What a carrier takes for a parcel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rate {
    /// For the parcel.
    pub each: f64,
    /// For each kilogram in it.
    pub per_kilogram: f64,
}

/// A parcel that may be shipped.
#[derive(Debug, Clone, PartialEq)]
pub struct Parcel {
    /// What it is called.
    pub name: String,
    /// The most it may weigh.
    pub most: Mass,
    /// What it costs, where the shop's file says.
    pub rate: Option<Rate>,
    /// Where the limit stands.
    pub source: String,
}

/// Freight by weight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Freight {
    /// For each kilogram.
    pub per_kilogram: f64,
    /// The least that is taken.
    pub minimum: f64,
}

/// How plates ship.
#[derive(Debug, Clone, PartialEq)]
pub struct Shipping {
    /// The parcel's name; `None` for freight.
    pub parcel: Option<String>,
    /// How many parcels.
    pub parcels: u32,
    /// Mass of all of it.
    pub mass: Mass,
    /// What it costs, where the shop's file says.
    pub cost: Option<Money>,
}

impl Shipping {
    /// The way in words: `private parcel`, `2 postal parcels`, `freight`.
    #[must_use]
    pub fn words(&self) -> String {
        match (&self.parcel, self.parcels) {
            (None, _) => "freight".into(),
            (Some(parcel), 0 | 1) => parcel.clone(),
            (Some(parcel), many) => format!("{many} {parcel}s"),
        }
    }
}

/// The postal and private carriers' limits (from memory).
#[must_use]
pub fn usual_parcels() -> Vec<Parcel> {
    let parcel = |name: &str, pounds: f64| Parcel {
        name: name.into(),
        most: unit::POUND.of(pounds),
        rate: None,
        source: "from memory".into(),
    };
    vec![parcel("postal parcel", 70.0), parcel("private parcel", 150.0)]
}

/// The smallest parcel that a plate may be shipped in.
#[must_use]
pub fn smallest(parcels: &[Parcel], mass: Mass) -> Option<&Parcel> {
    parcels.iter().filter(|p| mass <= p.most).min_by(|a, b| a.most.si().total_cmp(&b.most.si()))
}

/// How so many plates of a mass ship: the cheapest way whose cost is known, else in the smallest parcel that takes one,
/// else as freight.
#[must_use]
pub fn ship(parcels: &[Parcel], freight: Option<&Freight>, mass: Mass, quantity: u32) -> Shipping {
    let all = mass * f64::from(quantity);
    let mut ways: Vec<Shipping> = parcels.iter().filter_map(|parcel| in_parcels(parcel, mass, quantity)).collect();
    if let Some(freight) = freight {
        let cost = Money::of((freight.per_kilogram * all.si()).max(freight.minimum));
        ways.push(Shipping { parcel: None, parcels: 0, mass: all, cost });
    }
    if let Some(cheapest) = ways.iter().filter(|way| way.cost.is_some()).min_by_key(|way| way.cost) {
        return cheapest.clone();
    }
    let parcel = smallest(parcels, mass).and_then(|parcel| in_parcels(parcel, mass, quantity));
    parcel.unwrap_or(Shipping { parcel: None, parcels: 0, mass: all, cost: None })
}

fn in_parcels(parcel: &Parcel, mass: Mass, quantity: u32) -> Option<Shipping> {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // Saturates.
    let in_one = (parcel.most.si() / mass.si() + 1e-9).floor() as u32;
    if in_one == 0 {
        return None;
    }
    let (parcels, all) = (quantity.div_ceil(in_one), mass * f64::from(quantity));
    let cost = |rate: Rate| Money::of(rate.each * f64::from(parcels) + rate.per_kilogram * all.si());
    Some(Shipping { parcel: Some(parcel.name.clone()), parcels, mass: all, cost: parcel.rate.and_then(cost) })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pounds(value: f64) -> Mass {
        unit::POUND.of(value)
    }

    #[test]
    fn plates_fill_parcels_to_their_limit() {
        let shipped = |mass: f64, quantity: u32| {
            let way = ship(&usual_parcels(), None, pounds(mass), quantity);
            (way.parcel, way.parcels)
        };
        assert_eq!(shipped(12.0, 1), (Some("postal parcel".into()), 1));
        let words = |mass: f64, quantity: u32| ship(&usual_parcels(), None, pounds(mass), quantity).words();
        assert_eq!([words(12.0, 5), words(12.0, 6), words(151.0, 2)], ["postal parcel", "2 postal parcels", "freight"]);
        assert_eq!(shipped(12.0, 5), (Some("postal parcel".into()), 1));
        assert_eq!(shipped(12.0, 6), (Some("postal parcel".into()), 2));
        assert_eq!(shipped(35.0, 2), (Some("postal parcel".into()), 1));
        assert_eq!(shipped(71.0, 2), (Some("private parcel".into()), 1));
        assert_eq!(shipped(151.0, 1), (None, 0));
    }

    #[test]
    fn the_cheapest_way_is_taken_where_costs_are_known() {
        let mut parcels = usual_parcels();
        parcels[0].rate = Some(Rate { each: 10.0, per_kilogram: 0.0 });
        let freight = Freight { per_kilogram: 1.0, minimum: 80.0 };
        let way = |quantity| ship(&parcels, Some(&freight), pounds(35.0), quantity);
        assert_eq!((way(2).parcels, way(2).cost), (1, Some(Money(1000))));
        assert_eq!((way(12).parcels, way(12).cost), (6, Some(Money(6000))));
        // Nine parcels would be 90: freight by its minimum is 80, and for more by weight.
        assert!(way(4).parcel.is_some());
        assert_eq!((way(18).parcel, way(18).cost), (Some("postal parcel".into()), Some(Money(9000))));
        let light = ship(&parcels, Some(&freight), pounds(4.0), 170);
        assert!(light.parcel.is_some() && light.cost == Some(Money(10_000)));
        let heavy = ship(&parcels, Some(&freight), pounds(71.0), 1);
        assert_eq!((heavy.parcel, heavy.cost), (None, Some(Money(8000))));
    }
}
