//! Conductances and pressure drop from the measures of a laminar plate core.
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use approx::assert_abs_diff_eq;
use exchanger::geometry::{
    ChannelAir, GeometryError, PlateCore, Section, Wall, friction_reynolds, nusselt, plate_core,
};

const FLOW_M3_PER_S: f64 = 0.0333;

fn worked() -> PlateCore {
    PlateCore {
        gap_m: 0.002,
        length_m: 0.30,
        width_m: 0.20,
        channels_per_stream: 60,
        section: Section::BetweenPlates,
        wall: Wall::ConstantTemperature,
        plate_m2k_per_w: 0.0,
        membrane_s_per_m: None,
        air: ChannelAir::ROOM,
    }
}

/// Expected: the formulas worked through by hand in a separate program, to the digits printed here.
#[test]
fn the_worked_laminar_core_comes_out() {
    let answer = plate_core(&worked(), FLOW_M3_PER_S).unwrap();
    assert_abs_diff_eq!(answer.velocity_m_per_s, 1.3875, epsilon = 5e-5);
    assert_abs_diff_eq!(answer.reynolds, 369.2, epsilon = 0.05);
    assert_abs_diff_eq!(answer.pressure_drop_pa, 22.60, epsilon = 0.005);
    assert_abs_diff_eq!(answer.film_w_per_m2k, 48.45, epsilon = 0.005);
    assert_abs_diff_eq!(answer.u_w_per_m2k, 24.23, epsilon = 0.005);
    assert_abs_diff_eq!(answer.area_m2, 7.2, epsilon = 1e-12);
    let ntu = answer.ua_w_per_k / (FLOW_M3_PER_S * 1.204 * 1006.0);
    assert_abs_diff_eq!(ntu, 4.3245, epsilon = 5e-5);
    assert_abs_diff_eq!(ntu / (1.0 + ntu), 0.8122, epsilon = 5e-5);
    assert_eq!(answer.vapour_kg_per_s, 0.0);
    assert_eq!(answer.film_share_of_vapour, None);
}

/// `Δp = 12 μ L u/b²` between plates: Poiseuille's law, a second way to the pressure drop.
#[test]
fn pressure_drop_is_that_of_poiseuille() {
    let answer = plate_core(&worked(), FLOW_M3_PER_S).unwrap();
    let poiseuille_pa = 12.0 * 1.81e-5 * 0.30 * answer.velocity_m_per_s / (0.002 * 0.002);
    assert_abs_diff_eq!(answer.pressure_drop_pa, poiseuille_pa, epsilon = 1e-9);
}

/// Expected: worked by hand in a separate program, with 60 s/m over 1.2 kg/m³ (here 60.2 s/m over 1.204) and a heat
/// capacity of 1012 J/kgK in the film.
#[test]
fn the_worked_membrane_core_comes_out() {
    let core = PlateCore {
        membrane_s_per_m: Some(60.0 * 1.204 / 1.2),
        air: ChannelAir { heat_capacity_j_per_kgk: 1012.0, ..ChannelAir::ROOM },
        ..worked()
    };
    let answer = plate_core(&core, FLOW_M3_PER_S).unwrap();
    let ntu = answer.vapour_kg_per_s / (FLOW_M3_PER_S * 1.204);
    assert_abs_diff_eq!(ntu, 1.9568, epsilon = 1e-4);
    assert_abs_diff_eq!(ntu / (1.0 + ntu), 0.6618, epsilon = 5e-5);
    assert_abs_diff_eq!(answer.film_share_of_vapour.unwrap(), 0.2276, epsilon = 5e-5);
}

/// Equal films, no membrane: heat and vapour resistances are the same two films, so both NTU agree (Lewis number 1).
#[test]
fn without_a_membrane_vapour_passes_as_heat_does() {
    let core = PlateCore { membrane_s_per_m: Some(0.0), ..worked() };
    let answer = plate_core(&core, FLOW_M3_PER_S).unwrap();
    assert_abs_diff_eq!(answer.vapour_kg_per_s * 1006.0, answer.ua_w_per_k, epsilon = 1e-9);
    assert_abs_diff_eq!(answer.film_share_of_vapour.unwrap(), 0.5, epsilon = 1e-12);
}

/// Printed values of Shah and London's table (recalled; one-heat-flux column also from the library `ht`): aspect, f Re,
/// Nu of one heat flux, Nu of one temperature. The polynomials are theirs too and good to 0.1 %.
#[test]
fn rectangular_channels_follow_the_printed_table() {
    let table = [
        (0.0, 24.000, 8.235, 7.541),
        (0.1, 21.176, 6.788, 5.911),
        (0.125, 20.590, 6.492, 5.596),
        (0.25, 18.234, 5.333, 4.435),
        (0.5, 15.557, 4.126, 3.389),
        (1.0, 14.230, 3.610, 2.979),
    ];
    for (aspect, friction, flux, temperature) in table {
        let section = Section::Rectangular { aspect };
        assert_abs_diff_eq!(friction_reynolds(section), friction, epsilon = 0.005);
        assert_abs_diff_eq!(nusselt(section, Wall::ConstantFlux), flux, epsilon = 0.005);
        assert_abs_diff_eq!(nusselt(section, Wall::ConstantTemperature), temperature, epsilon = 0.005);
    }
}

#[test]
fn ribs_that_are_far_apart_change_nothing() {
    let ribbed = PlateCore { section: Section::Rectangular { aspect: 0.0 }, ..worked() };
    assert_eq!(plate_core(&ribbed, FLOW_M3_PER_S), plate_core(&worked(), FLOW_M3_PER_S));
}

#[test]
fn a_plate_of_plastic_costs_its_own_resistance() {
    let core = PlateCore { plate_m2k_per_w: 0.0005, ..worked() };
    let (with, without) =
        (plate_core(&core, FLOW_M3_PER_S).unwrap(), plate_core(&worked(), FLOW_M3_PER_S).unwrap());
    assert_abs_diff_eq!(1.0 / with.u_w_per_m2k - 1.0 / without.u_w_per_m2k, 0.0005, epsilon = 1e-12);
}

#[test]
fn turbulent_flow_is_refused() {
    let refused = plate_core(&worked(), 0.3).unwrap_err();
    assert!(matches!(refused, GeometryError::NotLaminar { .. }));
    // 369.2 (above) at 0.0333 m³/s, in proportion.
    assert_eq!(
        refused.to_string(),
        "Reynolds number 3326 is above 2300: the flow is not laminar, and these films do not hold"
    );
}

#[test]
fn measures_out_of_range_are_refused() {
    let text = |core: PlateCore, flow| plate_core(&core, flow).unwrap_err().to_string();
    assert_eq!(
        text(PlateCore { gap_m: 0.05, ..worked() }, FLOW_M3_PER_S),
        "gap 0.05 m is outside 0.0005…0.02 m"
    );
    assert_eq!(
        text(PlateCore { section: Section::Rectangular { aspect: 1.5 }, ..worked() }, FLOW_M3_PER_S),
        "aspect 1.5 is outside 0…1"
    );
    assert_eq!(
        text(PlateCore { channels_per_stream: 0, ..worked() }, FLOW_M3_PER_S),
        "number of channels 0 is outside 1…2000"
    );
    assert_eq!(text(worked(), f64::NAN), "flow NaN m³/s is outside 0.0001…10 m³/s");
}
