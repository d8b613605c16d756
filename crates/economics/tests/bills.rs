//! One scale from a year's bills: by hand, and everything that is refused with its words.
#![allow(clippy::unwrap_used, clippy::float_cmp)]

use approx::assert_relative_eq;
use economics::bills::{Bills, BillsError, DegreeDays, Modelled, base_load_of_months, fit};
use economics::tariff::Carrier;

const GAS: Bills = Bills {
    heated_by: Carrier::Gas,
    bought_kwh: 20_000.0,
    other_uses_kwh: Some(4_000.0),
    electricity_kwh: Some(3_900.0),
    degree_days: None,
};
const HOUSE: Modelled = Modelled { heating_kwh: 12_800.0, other_electricity_kwh: 650.0 };

/// (20 000 − 4 000)/12 800.
#[test]
fn fuel_beyond_other_uses_over_modelled_heating() {
    let found = fit(&GAS, &HOUSE).unwrap();
    assert_relative_eq!(found.scale, 1.25);
    assert_relative_eq!(found.scaled_kwh(12_800.0) + 4_000.0, 20_000.0);
    assert_relative_eq!(found.base_load_electricity_kwh.unwrap(), 3_250.0);
    assert_eq!(
        found.told(),
        "Modelled heating is multiplied by 1.25, so that 12800 kWh meet the 16000 kWh on the bill. 3250 kWh of \
         electricity are lights and appliances, which no unit changes. The year of the bill is taken for a typical one."
    );
}

/// A year with a tenth fewer degree-days: the same bill asks for a scale a ninth greater.
#[test]
fn a_mild_year_raises_the_scale() {
    let mild = Bills { degree_days: Some(DegreeDays { bill: 3_600.0, typical: 4_000.0 }), ..GAS };
    let found = fit(&mild, &HOUSE).unwrap();
    assert_relative_eq!(found.scale, 1.25 / 0.9, max_relative = 1e-15);
    assert_relative_eq!(found.modelled_heating_kwh, 11_520.0);
    assert!(!found.weather_taken_for_typical);
}

#[test]
fn without_other_uses_all_fuel_is_heating_and_that_is_told() {
    let found = fit(&Bills { other_uses_kwh: None, electricity_kwh: None, ..GAS }, &HOUSE).unwrap();
    assert_relative_eq!(found.scale, 20_000.0 / 12_800.0);
    assert_eq!(found.base_load_electricity_kwh, None);
    assert!(found.told().contains("All that was bought is taken for heating."));
}

/// 16 000 − 3 000 lights − 650 fans = 12 350 over 12 800.
#[test]
fn electric_heating_is_what_lights_and_fans_leave() {
    let electric = Bills {
        heated_by: Carrier::Electricity,
        bought_kwh: 16_000.0,
        other_uses_kwh: Some(3_000.0),
        electricity_kwh: None,
        degree_days: None,
    };
    let found = fit(&electric, &HOUSE).unwrap();
    assert_relative_eq!(found.scale, 12_350.0 / 12_800.0);
    assert_relative_eq!(found.base_load_electricity_kwh.unwrap(), 3_000.0);
    let unsaid = fit(&Bills { other_uses_kwh: None, ..electric }, &HOUSE).unwrap_err();
    assert_eq!(
        unsaid.to_string(),
        "bills: the house is heated by electricity; say how much of 16000 kWh was for other uses (lights, appliances, \
         hot water), else heating cannot be told from them"
    );
}

#[test]
fn scales_at_the_limits_are_believed_and_beyond_are_not() {
    let with = |heating_kwh: f64| fit(&GAS, &Modelled { heating_kwh, ..HOUSE });
    assert_relative_eq!(with(40_000.0).unwrap().scale, 0.4);
    assert_relative_eq!(with(6_400.0).unwrap().scale, 2.5);
    assert_eq!(
        with(50_000.0).unwrap_err().to_string(),
        "bills: the bill has 16000 kWh for heating, the model 50000 kWh: a scale of 0.32, outside 0.4 to 2.5; look at \
         set-point, leakage and heat loss in the study, at rooms left cold, at a second heater that this bill does not \
         pay"
    );
    assert_eq!(
        with(5_000.0).unwrap_err().to_string(),
        "bills: the bill has 16000 kWh for heating, the model 5000 kWh: a scale of 3.20, outside 0.4 to 2.5; look at \
         heat loss, leakage and the heating's efficiency in the study, at hot water and other uses that this bill pays \
         too"
    );
}

#[test]
fn bills_that_contradict_themselves_or_the_model_are_refused() {
    let told = |bills: &Bills| fit(bills, &HOUSE).unwrap_err().to_string();
    assert_eq!(
        told(&Bills { other_uses_kwh: Some(20_000.0), ..GAS }),
        "bills: 20000 kWh of gas were bought and 20000 kWh went to other uses: nothing is left for heating"
    );
    assert_eq!(
        told(&Bills { electricity_kwh: Some(600.0), ..GAS }),
        "bills: 600 kWh of electricity were bought, but 650 kWh are modelled for fans, cooling and preheating alone: \
         is the house of the bill modelled, or one with more in it?"
    );
    assert_eq!(
        told(&Bills { bought_kwh: f64::NAN, ..GAS }),
        "bills: energy on the bill NaN kWh is outside 0 to 1000000000 kWh"
    );
    assert!(told(&Bills { other_uses_kwh: Some(-1.0), ..GAS }).contains("other uses on the bill -1 kWh"));
    let no_winter = Some(DegreeDays { bill: 0.0, typical: 4_000.0 });
    assert!(told(&Bills { degree_days: no_winter, ..GAS }).contains("heating degree-days 0 K d"));
    let none = Modelled { heating_kwh: 0.0, ..HOUSE };
    assert!(matches!(fit(&GAS, &none).unwrap_err(), BillsError::OutOfRange(_)));
}

/// Winter 600, summer with cooling 500, April, May and October 10 kWh a day: 3 650 kWh a year.
#[test]
fn base_load_is_that_of_the_months_with_least_a_day() {
    let months = [600.0, 560.0, 400.0, 300.0, 310.0, 500.0, 500.0, 500.0, 400.0, 310.0, 420.0, 600.0];
    assert_relative_eq!(base_load_of_months(&months).unwrap(), 3_650.0, max_relative = 1e-12);
    // February's 280 kWh are 10 a day too, though the number is the least.
    assert_relative_eq!(
        base_load_of_months(&[
            310.0, 280.0, 310.0, 300.0, 310.0, 300.0, 310.0, 310.0, 300.0, 310.0, 300.0, 310.0
        ])
        .unwrap(),
        3_650.0,
        max_relative = 1e-12
    );
    assert!(base_load_of_months(&[f64::NAN; 12]).is_err());
}
