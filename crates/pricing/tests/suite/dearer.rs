//! What is heavier or larger never goes for less by one way, table by table, but where its freight class falls.
//!
//! The rule of the next break (`freight_class.md` section 4) makes no exception of its own: charged as so much more, a shipment costs what that
//! much would cost, and never more.

use proptest::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::delivery::{FreightTable, Rated};
use scantling_pricing::book::values::{Gravity, Measured, Share};
use scantling_pricing::brief::Site;
use scantling_pricing::cost::LineKind;
use scantling_pricing::delivery::{
    Mode, Packed, Parcel, Trip, accessorials, crated, density_class, linehaul, older_density_class, parcel_charge,
    read_place,
};
use scantling_pricing::estimate::{Estimate, Way, estimate};
use scantling_pricing::measure::{Area, Length, Volume, Weight};

use crate::random::{briefs, destination, holds};
use crate::start::{demo, demo_shop};

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn pounds(pounds: u32) -> Weight {
    Weight::pounds(Decimal::from(pounds))
}

fn cube([a, b, c]: [Length; 3]) -> Volume {
    Area::of(a, b).by(c)
}

/// Three sides, the same grown each by its own, a weight and a heavier one.
fn grown() -> impl Strategy<Value = ([Length; 3], [Length; 3], u32, u32)> {
    let side = || (4_i32..110).prop_map(Length::inches);
    let longer = || (0_i32..30).prop_map(Length::inches);
    ((side(), side(), side()), (longer(), longer(), longer()), 1_u32..1400, 0_u32..400)
        .prop_map(|((a, b, c), (x, y, z), light, more)| ([a, b, c], [a + x, b + y, c + z], light, light + more))
}

/// Every freight table of the demo, by both scales and by one class, at its rates and at a discount.
fn freight_tables() -> Vec<FreightTable> {
    let agreed = Rated::Class(Measured::new(decimal("125")).unwrap());
    let mut all = Vec::new();
    for table in demo_shop().delivery.freight {
        for rated in [Rated::Density, Rated::OlderDensity, agreed] {
            for discount in [None, Share::new(decimal("0.35"))] {
                all.push(FreightTable { rated, discount, ..table.clone() });
            }
        }
    }
    assert_eq!(all.len(), 30);
    all
}

/// The class a table charges by.
fn class(table: &FreightTable, gross: Weight, cube: Volume) -> Decimal {
    match table.rated {
        Rated::Density => density_class(gross, cube).number(),
        Rated::OlderDensity => older_density_class(gross, cube).number(),
        Rated::Class(class) => class.value(),
    }
}

#[test]
fn more_space_at_the_same_weight_never_goes_for_less_by_freight() {
    let tables = freight_tables();
    holds(400, &grown(), |(small, large, light, _)| {
        for table in &tables {
            let [less, more] = [small, large].map(|sides| linehaul(table, pounds(light), cube(sides)));
            prop_assert!(more >= less, "{}, {:?}: {} lb, {} to {}", table.key, table.rated, light, less, more);
        }
        Ok(())
    });
}

#[test]
fn a_denser_crate_may_cost_less_by_its_class_and_only_so() {
    // freight_class.md section 2, the lesson for the buyer. By hand, 80 cu ft by the demo's first table at cost: 319 lb are 3.99 a foot, class
    // 250: 46 x 2.5 x 3.19 = 366.85, with 28 % of fuel 469.57. One pound more is 4 a foot, class 175: 46 x 1.75 x 3.20 = 257.60, 329.73.
    let table = &demo_shop().delivery.freight[0];
    let eighty = Area::of(Length::inches(48), Length::inches(48)).by(Length::inches(60));
    let charge = |weight: u32| linehaul(table, pounds(weight), eighty);
    assert_eq!([charge(319), charge(320)], [decimal("469.568"), decimal("329.728")]);
    // More weight in the same space: at least what the lighter crate would cost in the class of the heavier one. So it is the class alone that
    // brings it down, and where the class stays, or is agreed, nothing does.
    let tables = freight_tables();
    let fell = std::cell::Cell::new(0);
    holds(400, &grown(), |(sides, _, light, heavy)| {
        let cube = cube(sides);
        for table in &tables {
            let [less, more] = [light, heavy].map(|weight| linehaul(table, pounds(weight), cube));
            let [before, after] = [light, heavy].map(|weight| class(table, pounds(weight), cube));
            let in_that_class = FreightTable { rated: Rated::Class(Measured::new(after).unwrap()), ..table.clone() };
            prop_assert!(more >= linehaul(&in_that_class, pounds(light), cube), "{}, {} lb", table.key, heavy);
            prop_assert!(more >= less || after < before, "{}: {} to {} lb, class {}", table.key, light, heavy, after);
            fell.set(fell.get() + i32::from(more < less));
        }
        Ok(())
    });
    assert!(fell.get() > 50, "it fell {} times", fell.get());
}

#[test]
fn what_a_place_asks_besides_never_falls_with_length_or_weight() {
    let book = demo();
    let sites = prop::sample::select(vec![Site::Home, Site::Dock, Site::LimitedAccess]);
    holds(500, &(grown(), sites, any::<bool>()), |((small, large, light, heavy), site, inside)| {
        let mut place = read_place(&destination("US", "60601").unwrap()).unwrap();
        (place.site, place.inside) = (site, inside);
        let trip = Trip { region: &book.regions[0], place: &place };
        for table in &book.delivery.freight {
            let asked = |sides: [Length; 3], weight: u32| {
                accessorials(table, &trip, sides.into_iter().max().unwrap(), pounds(weight))
            };
            let more = asked(large, heavy);
            for (kind, less) in asked(small, light) {
                let grown = more.iter().find(|(other, _)| *other == kind).map(|(_, charge)| *charge);
                prop_assert!(grown >= Some(less), "{}, {:?}: {} to {:?}", table.key, kind, less, grown);
            }
        }
        Ok(())
    });
}

#[test]
fn a_larger_or_heavier_parcel_never_goes_for_less_nor_where_a_smaller_is_refused() {
    let tables = demo_shop().delivery.parcels;
    assert!(tables.len() >= 2);
    let taken = std::cell::Cell::new(0);
    let parcels = (grown(), 1_u32..6);
    holds(4000, &parcels, |((small, large, light, heavy), shrunk)| {
        // Half of these are no parcels: the others are some fifth of that.
        let by = i32::try_from(shrunk).unwrap();
        let [small, large] = [small, large].map(|sides| sides.map(|side| side.scaled(1, i64::from(by))));
        for table in &tables {
            let charge = |sides, weight: u32| {
                parcel_charge(table, &Parcel::new(sides, Weight::pounds(Decimal::from(weight) / Decimal::from(shrunk))))
            };
            match (charge(small, light), charge(large, heavy)) {
                (Some(less), Some(more)) => {
                    taken.set(taken.get() + 1);
                    prop_assert!(more >= less, "{}: {} to {}", table.key, less, more);
                }
                (None, grown) => prop_assert_eq!(grown, None, "{}: larger, and taken", table.key),
                (Some(_), None) => {}
            }
        }
        Ok(())
    });
    assert!(taken.get() > 1000, "{} of these are parcels", taken.get());
}

#[test]
fn a_crate_a_pallet_and_a_carton_grow_with_what_they_hold() {
    let rates = demo().delivery;
    let sizes = [&rates.crating.size, &rates.pallets.as_ref().unwrap().size, &rates.cartons.as_ref().unwrap().size];
    holds(600, &(grown(), any::<[bool; 3]>(), any::<[bool; 3]>()), |((small, large, light, heavy), fragile, also)| {
        let pack = |sides, fragile| Packed { sides, fragile, on_pallet: false, holds: &[] };
        let all = [0, 1, 2].map(|side| fragile[side] || also[side]);
        for size in sizes {
            let less = crated(size, &pack(small, fragile), pounds(light));
            let more = crated(size, &pack(large, all), pounds(heavy));
            prop_assert!(more.surface().in_square_feet() >= less.surface().in_square_feet());
            prop_assert!(more.gross.in_pounds() >= less.gross.in_pounds());
            prop_assert!(more.sides.iter().zip(less.sides).all(|(more, less)| *more >= less));
        }
        Ok(())
    });
}

/// What a way costs, all but what goes by the class of the shipment; nothing where it is not to be had.
fn carriage(way: &Way) -> Option<Decimal> {
    let lines = &way.outcome.as_ref().ok()?.lines;
    Some(lines.iter().filter(|line| line.kind != LineKind::Freight).map(|line| line.amount.amount()).sum())
}

/// Whether nothing that reaches the larger piece costs less than for the smaller, nor reaches it where it does not reach the smaller.
fn no_way_costs_less(small: &Estimate, large: &Estimate) -> Result<(), TestCaseError> {
    for (less, more) in small.ways.iter().zip(&large.ways) {
        prop_assert_eq!(less.mode, more.mode);
        if less.mode == Mode::Collect {
            continue;
        }
        match (carriage(less), carriage(more)) {
            (Some(from), Some(to)) => prop_assert!(to >= from, "{:?}: {} to {}", less.mode, from, to),
            (None, to) => prop_assert!(to.is_none(), "{:?} has it larger", less.mode),
            (Some(_), None) => {}
        }
    }
    Ok(())
}

/// A place for each table of the demo.
const PLACES: [(&str, &str); 7] = [
    ("US", "54601"),
    ("US", "45202"),
    ("US", "10001"),
    ("US", "30301"),
    ("US", "98101"),
    ("CA", "K1A 0B1"),
    ("DE", "10115"),
];

#[test]
fn a_larger_piece_never_goes_for_less_by_any_way() {
    let book = demo();
    let asked = (briefs(), any::<prop::sample::Index>(), prop::sample::select(&PLACES[..]));
    holds(200, &asked, |(mut brief, which, (country, code))| {
        let site = brief.destination.take();
        brief.destination = destination(country, code);
        if let (Some(to), Some(site)) = (&mut brief.destination, site) {
            (to.site, to.inside) = (site.site, site.inside);
        }
        let design = book.design(&brief.design).unwrap();
        let dimension = &design.dimensions[which.index(design.dimensions.len())];
        let Ok(small) = estimate(&book, &brief) else { return Ok(()) };
        brief.dimensions.insert(dimension.key.clone(), dimension.most);
        let Ok(large) = estimate(&book, &brief) else { return Ok(()) };
        no_way_costs_less(&small, &large)
    });
}

#[test]
fn a_heavier_piece_of_the_same_size_never_goes_for_less_by_any_way() {
    let book = demo();
    holds(200, &(briefs(), 1_u32..60, prop::sample::select(&PLACES[..])), |(mut brief, more, (country, code))| {
        brief.destination = destination(country, code);
        let mut heavier = book.clone();
        for timber in &mut heavier.timbers {
            let gravity = timber.specific_gravity.value() * Decimal::new(i64::from(100 + more), 2);
            timber.specific_gravity = Gravity::new(gravity).unwrap();
        }
        let (Ok(light), Ok(heavy)) = (estimate(&book, &brief), estimate(&heavier, &brief)) else { return Ok(()) };
        prop_assert!(heavy.weight_pounds >= light.weight_pounds);
        no_way_costs_less(&light, &heavy)
    });
}
