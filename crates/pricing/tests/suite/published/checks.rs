//! Bending, movement and moisture: `shared/reference/wood`.

use rust_decimal::Decimal;
use scantling_pricing::book::stock::Properties;
use scantling_pricing::checks::{Beam, deflection, equilibrium, moved};
use serde_json::json;

use super::{close, decimal, page_rows, rows};
use crate::start::{demo_value, length, sound};

#[test]
fn uniform_simply_supported_beams_bend_as_worked() {
    // shared/reference/wood/deflection.md, worked check values (computed there from FPL-GTR-190 eq. 9-2), route a.
    let page = include_str!("../../../../../shared/reference/wood/deflection.md");
    let mut checked = 0;
    for row in page_rows(page, "| case | W lb") {
        let [case, load, span, section, stiffness, moment, bend, ..] = row.as_slice() else { panic!("{row:?}") };
        if !case.contains("uniform, simply") {
            continue;
        }
        let (breadth, depth) = section.split_once(" x ").unwrap();
        let stiffness = decimal(&stiffness.replace(',', "")) / Decimal::from(1_000_000);
        let beam = Beam::new(length(span), [(length(breadth), length(depth), stiffness)]);
        close(beam.rigidity / stiffness / Decimal::from(1_000_000), decimal(moment), "0.0000005", case);
        close(deflection(beam, decimal(load)), decimal(bend), "0.000005", case);
        checked += 1;
    }
    assert_eq!(checked, 2, "case A and case D");
}

#[test]
fn two_shelves_of_the_furniture_rules_sag_as_worked() {
    // shared/reference/trade/furniture_rules.md, shelf sag (derived there): 0.75 x 11.25 in, E 1.8e6 psi, 40 lb/ft.
    for (span, expected) in [("36 in", "0.1024"), ("60 in", "0.790")] {
        let beam = Beam::new(length(span), [(length("11.25 in"), length("0.75 in"), decimal("1.8"))]);
        close(deflection(beam, Decimal::from(40) * length(span).in_feet()), decimal(expected), "0.0005", span);
    }
}

/// A timber that moves by this coefficient and shrinks by this much, tangentially.
fn timber(coefficient: &str, shrinkage: &str) -> Properties {
    let mut value = demo_value();
    value["timbers"][0]["properties"]["tangential_movement"] = json!(coefficient);
    value["timbers"][0]["properties"]["tangential_shrinkage"] = json!(shrinkage);
    sound(&value).timbers.first().unwrap().properties.clone()
}

#[test]
fn widths_move_as_the_handbook_and_the_tables_computed_from_it_say() {
    let page = include_str!("../../../../../shared/reference/wood/movement.md");
    let mut checked = 0;
    for row in page_rows(page, "| case | D_I in | C |") {
        let [case, size, coefficient, from, to, _, millimetres] = row.as_slice() else { panic!("{row:?}") };
        let by = moved(length(&format!("{size} in")), &timber(coefficient, "8"), decimal(from), decimal(to));
        close(by.in_millimetres(), decimal(millimetres).abs(), "0.0006", case);
        checked += 1;
    }
    for row in page_rows(page, "| case | D_I in | S % |") {
        let [case, size, shrinkage, from, to, inches] = row.as_slice() else { panic!("{row:?}") };
        if case.contains("inside 6 to 14") {
            continue;
        }
        let by = moved(length(&format!("{size} in")), &timber("0.003", shrinkage), decimal(from), decimal(to));
        close(by.in_inches(), decimal(inches).abs(), "0.000006", case);
        checked += 1;
    }
    assert_eq!(checked, 9);
    // FPL-GTR-190 p. 13-17, worked example as read: white fir, 232 mm from 8 to 11 %, change 1.7 mm (C from memory there).
    let fir = moved(length("232 mm"), &timber("0.00245", "7"), Decimal::from(8), Decimal::from(11));
    close(fir.in_millimetres(), decimal("1.7"), "0.05", "white fir");
}

#[test]
fn wood_comes_to_the_moisture_of_the_air_as_tabled() {
    // shared/reference/wood/emc.csv: FPL-GTR-190 Table 4-2 (cells from memory) and its eq. 4-3 in the metric form, computed.
    // Tolerances as emc.md gives them: 0.1 against the table; against the equation only its rounding.
    let mut checked = 0;
    for row in rows(include_str!("../../../../../shared/reference/wood/emc.csv")) {
        let [fahrenheit, _, humidity, table, _, metric, ..] = row.as_slice() else { panic!("{row:?}") };
        let celsius = (decimal(fahrenheit) - Decimal::from(32)) / decimal("1.8");
        if celsius < Decimal::ZERO || celsius > Decimal::from(50) {
            continue;
        }
        let actual = equilibrium(celsius, decimal(humidity) / Decimal::ONE_HUNDRED);
        close(actual, decimal(table), "0.1", &format!("{fahrenheit} F, {humidity} %, table"));
        close(actual, decimal(metric), "0.0006", &format!("{fahrenheit} F, {humidity} %, equation"));
        checked += 1;
    }
    assert_eq!(checked, 114, "cells from 40 to 120 F");
}
