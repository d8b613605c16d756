//! Air through the envelope in an hour: natural leakage by wind and temperature, imbalance phase by phase, appliances, opened
//! windows; and how much ventilation is asked for.
//!
//! Natural leakage: `c |ΔT|ⁿ` and `w U²ⁿ` in quadrature, with the coefficients of the enhanced single-zone model worked out once a
//! house. Each phase of the hour (running, in defrost, off; with and without an appliance's exhaust) joins it with its own
//! imbalance, since quadrature is not linear. The indoor temperature is that of the last hour. Not here: where the coefficients come
//! from (`infiltration`), how flows hang together (`flows`).

use lanes::{Mask, Real};
use psychrometrics::formulas::fast_relative_humidity;

use crate::flows::envelope_of;
use crate::state::State;
use crate::step::Setting;

/// Air through the envelope over an hour [kg dry air/s].
#[derive(Debug, Clone, Copy)]
pub(crate) struct Through<R> {
    pub(crate) infiltration: R,
    /// All room air that leaves other than through the unit: leaks, windows, hood and dryer.
    pub(crate) exfiltration: R,
}

/// One phase of an hour: its share, and what the unit moves in it [kg dry air/s].
#[derive(Debug, Clone, Copy)]
pub(crate) struct Part<R> {
    pub(crate) share: R,
    pub(crate) supply: R,
    pub(crate) extract: R,
}

/// `x^p` for `x` of 0 or more; 0 of 0.
#[inline(always)]
fn power<R: Real>(x: R, p: R) -> R {
    let some = x.gt(R::zero());
    let raised = (R::select(some, x, R::one()).ln() * p).exp();
    R::select(some, raised, R::zero())
}

/// Natural leakage at the hour's wind and outdoor temperature and the last hour's indoor temperature [kg dry air/s].
#[inline(always)]
pub(crate) fn natural_leakage<R: Real>(setting: &Setting<'_, R>, state: &State<R>) -> R {
    let (h, site) = (&setting.house.numbers, &setting.house.site);
    let moves = site.stack_kg_per_s.gt(R::zero()) | site.wind_kg_per_s.gt(R::zero());
    if !moves.any() {
        return h.leakage_kg_per_s;
    }
    let n = site.leakage_exponent;
    let stack = site.stack_kg_per_s * power((state.last_air_c - setting.outdoor_c).abs(), n);
    let wind = site.wind_kg_per_s * power(R::splat(setting.driver.wind_m_per_s), n + n);
    h.leakage_kg_per_s + (stack * stack + wind * wind).sqrt()
}

/// Air through the envelope over the hour, whose phases' shares add up to 1.
#[inline(always)]
pub(crate) fn through<R: Real>(setting: &Setting<'_, R>, state: &State<R>, parts: &[Part<R>]) -> Through<R> {
    let site = &setting.house.site;
    let leakage = natural_leakage(setting, state);
    let clock = &setting.driver.clock;
    let appliances = [(clock.hood, site.hood_kg_per_s), (clock.dryer, site.dryer_kg_per_s)];
    let none = 1.0 - clock.hood - clock.dryer;
    let mut all = Through { infiltration: R::zero(), exfiltration: R::zero() };
    for part in parts {
        if !part.share.gt(R::zero()).any() {
            continue;
        }
        add(&mut all, leakage, part, (part.share * none, R::zero()));
        for &(share, exhaust) in &appliances {
            if share > 0.0 {
                add(&mut all, leakage, part, (part.share * share, exhaust));
            }
        }
    }
    let open = opened(setting, state);
    all.infiltration += open;
    all.exfiltration += open;
    all
}

#[inline(always)]
fn add<R: Real>(all: &mut Through<R>, leakage: R, part: &Part<R>, (share, exhaust): (R, R)) {
    let (infiltration, exfiltration) = envelope_of(leakage, part.supply, part.extract + exhaust);
    all.infiltration += infiltration * share;
    all.exfiltration += (exfiltration + exhaust) * share;
}

/// Air through opened windows [kg dry air/s].
#[inline(always)]
fn opened<R: Real>(setting: &Setting<'_, R>, state: &State<R>) -> R {
    let site = &setting.house.site;
    let warm = state.last_air_c.gt(site.airing_above_c);
    let cooler = (state.last_air_c - setting.outdoor_c).gt(site.airing_colder_by_k);
    R::select(warm & cooler, site.airing_kg_per_s, R::zero())
}

/// Flow that the last hour's air asks for, for each unit of the full flow: all of it where the rooms are damper than the limit,
/// which falls in frost, or staler than theirs; else the low share.
#[inline(always)]
pub(crate) fn asked_for<R: Real>(setting: &Setting<'_, R>, state: &State<R>) -> R {
    let site = &setting.house.site;
    let controlled = site.low_share.lt(R::one());
    if !controlled.any() {
        return R::one();
    }
    let rh = fast_relative_humidity(state.last_air_c, state.water.rest_w, setting.pressure_pa);
    let colder = (setting.outdoor_c - site.humid_falls_below_c).min(R::zero());
    let limit = (site.humid_above + site.humid_falls_per_k * colder).max(R::zero());
    let wanted = rh.gt(limit) | state.co2_ppm.gt(site.stale_above_ppm);
    R::select(controlled & !wanted, site.low_share, R::one())
}
