//! What is heavier or larger never costs less to bring by the same way, with one exception, which has a test of its own: by density, a heavier
//! crate of the same size may fall into a lower class (`shared/reference/delivery/freight_class.md` section 2).

use proptest::prelude::*;
use rust_decimal::Decimal;
use scantling_pricing::book::PriceBook;
use scantling_pricing::book::delivery::{FreightTable, ParcelTable, Rated};
use scantling_pricing::book::values::{Count, Measured, Share};
use scantling_pricing::brief::Site;
use scantling_pricing::delivery::{
    FreightClass, Mode, Order, Outcome, Packed, Parcel, Trip, Unreachable, accessorials, crated, density_class,
    linehaul, older_density_class, parcel_charge, read_place, region_for, ways,
};
use scantling_pricing::design::resolve;
use scantling_pricing::measure::{Area, Length, Volume, Weight};
use scantling_pricing::takeoff::take_off;

use crate::random::{briefs, destination, holds};
use crate::start::{demo, demo_shop, length};

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn agreed() -> Rated {
    Rated::Class(Measured::new(decimal("125")).unwrap())
}

/// Every freight table of the demo, by each way to rate it, with and without a discount.
fn freight_tables() -> Vec<FreightTable> {
    let own = demo_shop().delivery.freight;
    let discounts = [None, Share::new(decimal("0.4"))];
    let rated = [Rated::Density, Rated::OlderDensity, agreed()];
    let all = rated.into_iter().flat_map(|rated| discounts.map(|discount| (rated, discount)));
    let of = |(rated, discount)| own.iter().map(move |table| FreightTable { rated, discount, ..table.clone() });
    all.flat_map(of).collect()
}

/// Every parcel table of the demo, as it is and with every threshold a table may have.
fn parcel_tables() -> Vec<ParcelTable> {
    let mut tables = demo_shop().delivery.parcels;
    for mut table in tables.clone() {
        if let Some(awkward) = &mut table.awkward {
            (awkward.cubic_inches, awkward.length_and_girth) = (Count::new(10_368), Some(length("105 in")));
        }
        if let Some(large) = &mut table.large {
            (large.pounds, large.length_and_girth) = (Count::new(110), Some(length("130 in")));
        }
        tables.push(table);
    }
    tables
}

fn class(table: &FreightTable, gross: Weight, cube: Volume) -> Option<FreightClass> {
    match table.rated {
        Rated::Density => Some(density_class(gross, cube)),
        Rated::OlderDensity => Some(older_density_class(gross, cube)),
        Rated::Class(_) => None,
    }
}

fn cube(sides: [Length; 3]) -> Volume {
    Area::of(sides[0], sides[1]).by(sides[2])
}

fn pounds(weight: u32) -> Weight {
    Weight::pounds(Decimal::from(weight))
}

/// Sides, what each grows by, a weight, and what is added to it.
fn grown() -> impl Strategy<Value = ([Length; 3], [Length; 3], u32, u32)> {
    let sides = prop::array::uniform3((4_i32..110, 0_i32..30));
    (sides, 1_u32..900, 0_u32..400).prop_map(|(sides, light, heavier)| {
        let small = sides.map(|(side, _)| Length::inches(side));
        let large = sides.map(|(side, more)| Length::inches(side + more));
        (small, large, light, light + heavier)
    })
}

#[test]
fn freight_by_any_table_costs_no_less_for_more_space_nor_for_more_weight_in_its_class() {
    let tables = freight_tables();
    assert_eq!(tables.len(), 30);
    holds(600, &grown(), |(small, large, light, heavy)| {
        for table in &tables {
            let (less, more) =
                (linehaul(table, pounds(light), cube(small)), linehaul(table, pounds(light), cube(large)));
            prop_assert!(more >= less, "{:?} of {} lb in {:?} and {:?}", table.key, light, small, large);
            // The next break, where it is cheaper, holds down what lies under it: more weight costs the same there, never less.
            let (less, more) =
                (linehaul(table, pounds(light), cube(small)), linehaul(table, pounds(heavy), cube(small)));
            let fell = class(table, pounds(heavy), cube(small)) < class(table, pounds(light), cube(small));
            prop_assert!(more >= less || fell, "{:?}: {} lb for {}, {} lb for {}", table.key, light, less, heavy, more);
            prop_assert!(!fell || table.rated != agreed(), "one class as agreed never falls");
        }
        Ok(())
    });
}

#[test]
fn a_denser_crate_may_cost_less_by_its_class_and_only_so() {
    // The demo's first table, at 46.00 a hundredweight of class 100 and 28 % of fuel. 80 cu ft (10 x 4 x 2 ft): 319 lb are under 4 lb a foot, class
    // 250: 46 x 2.50 x 3.19 x 1.28 = 469.568. 320 lb are 4, class 175: 46 x 1.75 x 3.20 x 1.28 = 329.728.
    let table = &demo_shop().delivery.freight[0];
    let space = cube([Length::inches(120), Length::inches(48), Length::inches(24)]);
    let charge = |table: &FreightTable, weight: u32| linehaul(table, pounds(weight), space);
    assert_eq!((charge(table, 319), charge(table, 320)), (decimal("469.568"), decimal("329.728")));
    let classes = [319, 320].map(|weight| density_class(pounds(weight), space).number());
    assert_eq!(classes, [decimal("250"), decimal("175")]);
    // Pound by pound: it falls only where the class does, at a bound of the scale in force (`freight_class.csv`); agreed on one class, nowhere.
    let falls = |table: &FreightTable| -> Vec<u32> {
        (1..4100).filter(|weight| charge(table, weight + 1) < charge(table, *weight)).map(|weight| weight + 1).collect()
    };
    let bounds: Vec<Decimal> = ["1", "2", "4", "6", "8", "10", "12", "15", "22.5", "30", "35", "50"]
        .map(|density| decimal(density) * Decimal::from(80))
        .into();
    let found = falls(table);
    assert!(!found.is_empty() && found.iter().all(|at| bounds.contains(&Decimal::from(*at))), "{found:?}");
    assert_eq!(falls(&FreightTable { rated: agreed(), ..table.clone() }), Vec::<u32>::new());
}

#[test]
fn what_a_place_asks_for_costs_no_less_for_a_longer_or_heavier_crate() {
    let (book, tables) = (demo(), freight_tables());
    holds(300, &grown(), |(small, large, light, heavy)| {
        for (site, inside) in
            [(Site::Home, true), (Site::Dock, false), (Site::LimitedAccess, true), (Site::Home, false)]
        {
            let to = scantling_pricing::brief::Destination { site, inside, ..destination("US", "60601").unwrap() };
            let place = read_place(&to).unwrap();
            let trip = Trip { region: region_for(&book.regions, &place).unwrap(), place: &place };
            let longest = |sides: [Length; 3]| sides.into_iter().max().unwrap();
            for table in &tables {
                let sum = |sides: [Length; 3], weight: u32| -> Decimal {
                    accessorials(table, &trip, longest(sides), pounds(weight)).iter().map(|(_, charge)| *charge).sum()
                };
                prop_assert!(sum(large, heavy) >= sum(small, light), "{:?} {:?}", table.key, site);
            }
        }
        Ok(())
    });
}

#[test]
fn a_larger_or_heavier_parcel_costs_no_less_and_is_taken_no_sooner() {
    let tables = parcel_tables();
    assert_eq!(tables.len(), 4);
    holds(3000, &grown(), |(small, large, light, heavy)| {
        for table in &tables {
            let less = parcel_charge(table, &Parcel::new(small, pounds(light)));
            let more = parcel_charge(table, &Parcel::new(large, pounds(heavy)));
            match (less, more) {
                (Ok(less), Ok(more)) => prop_assert!(more >= less, "{:?}: {} and {}", table.key, less, more),
                (Err(_), Ok(_)) => prop_assert!(false, "{:?} takes the larger alone", table.key),
                (_, Err(_)) => {}
            }
        }
        Ok(())
    });
}

#[test]
fn a_larger_pack_takes_no_smaller_crate_pallet_or_carton() {
    let book = demo();
    let rates = &book.delivery;
    let all = [&rates.crating, rates.pallets.as_ref().unwrap(), rates.cartons.as_ref().unwrap()];
    holds(600, &(grown(), any::<[bool; 3]>()), |((small, large, light, heavy), fragile)| {
        for rate in all {
            let of = |sides: [Length; 3], weight: u32| {
                crated(&rate.size, &Packed { sides, fragile, on_pallet: false, holds: &[] }, pounds(weight))
            };
            let (less, more) = (of(small, light), of(large, heavy));
            let charge =
                |surface: Area| surface.in_square_feet() * rate.per_square_foot.value() + rate.per_crate.value();
            prop_assert!(charge(more.surface()) >= charge(less.surface()));
            prop_assert!(more.gross.in_pounds() >= less.gross.in_pounds());
            prop_assert!(more.sides.iter().zip(less.sides).all(|(more, less)| *more >= less));
            prop_assert!(more.batten >= less.batten && more.runner >= less.runner);
            prop_assert!(more.panel.in_square_feet() >= less.panel.in_square_feet());
        }
        Ok(())
    });
}

/// The demo with its freight rated by one class as agreed: by density, more weight may go for less, as above.
fn by_one_class() -> PriceBook {
    let mut book = demo();
    book.delivery.freight.iter_mut().for_each(|table| table.rated = agreed());
    book
}

/// Of each way that brings it: nothing where more does not cost less, else what went wrong.
fn dearer(less: &[(Mode, Outcome)], more: &[(Mode, Outcome)]) -> Result<(), TestCaseError> {
    for ((mode, less), (_, more)) in less.iter().zip(more) {
        let sum = |outcome: &Outcome| -> Option<Decimal> {
            Some(outcome.as_ref().ok()?.0.iter().map(|line| line.guess.mean).sum())
        };
        match (sum(less), sum(more)) {
            (Some(less), Some(more)) => prop_assert!(more >= less, "{:?}: {} and {}", mode, less, more),
            (None, Some(_)) => {
                prop_assert!(!matches!(less, Err(Unreachable::TooLarge(_))), "{:?} takes the larger alone", mode);
            }
            (_, None) => {}
        }
    }
    Ok(())
}

#[test]
fn a_heavier_or_larger_piece_never_goes_for_less_by_any_way() {
    let book = by_one_class();
    let places = prop::sample::select(vec![("", ""), ("CA", "K1A 0B1"), ("DE", "10115"), ("GB", "SW1A 1AA")]);
    let grown = (briefs(), places, any::<prop::sample::Index>(), 0_u32..300);
    let mut seen = std::collections::BTreeSet::new();
    let counted = std::cell::RefCell::new(&mut seen);
    holds(150, &grown, |(mut brief, (country, code), which, heavier)| {
        if !country.is_empty() {
            brief.destination = destination(country, code);
        }
        let Some(to) = brief.destination.clone() else { return Ok(()) };
        // A postal code that is in no use has no ways.
        let Ok(place) = read_place(&to) else { return Ok(()) };
        let trip = Trip { region: region_for(&book.regions, &place).unwrap(), place: &place };
        let design = book.design(&brief.design).unwrap();
        let Ok(small) = resolve(&book, &brief) else { return Ok(()) };
        let Ok(takeoff) = take_off(&book, &small) else { return Ok(()) };
        let declared = decimal("3000");
        let order = Order { book: &book, resolved: &small, takeoff: &takeoff, declared, quoted: None };
        let found = ways(&order, &trip);
        counted.borrow_mut().extend(found.iter().filter(|(_, way)| way.is_ok()).map(|(mode, _)| *mode));
        let mut heavy = takeoff.clone();
        heavy.weight = heavy.weight + pounds(heavier);
        dearer(&found, &ways(&Order { takeoff: &heavy, ..order }, &trip))?;
        let mut larger = brief.clone();
        let dimension = &design.dimensions[which.index(design.dimensions.len())];
        larger.dimensions.insert(dimension.key.clone(), dimension.most);
        let Ok(large) = resolve(&book, &larger) else { return Ok(()) };
        let Ok(of_large) = take_off(&book, &large) else { return Ok(()) };
        dearer(&found, &ways(&Order { resolved: &large, takeoff: &of_large, ..order }, &trip))
    });
    assert_eq!(seen.len(), 6, "every way was tried: {seen:?}");
}
