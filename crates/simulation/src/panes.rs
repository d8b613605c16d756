//! Water on the inside of windows: it condenses where the glass is colder than the air's dew point, runs off past what the
//! glass holds, and dries into the air again.
//!
//! Each kind of glass has a centre and an edge, each a film of its own. Below 0 °C the film is ice: the air meets saturation over ice,
//! nothing runs off, and the ice's heat of fusion is left out. Ice has no thickness at which it stops: what bounds it is the film
//! coefficient, 1.3 kg/m² a day where the air holds 5 g/kg more than the glass. When the glass passes 0 °C again, all above what glass
//! holds runs off in that sub-step. All glass is in the rest zone. Not here: the rooms' equations (`moisture`).

use lanes::{Mask, Real};
use psychrometrics::formulas::fast_saturation_humidity_ratio;

use crate::indoors::{IndoorsOf, MAX_PANES};

/// Films of a house: a centre and an edge of each kind of glass.
pub(crate) const FILMS: usize = 2 * MAX_PANES;
/// Mass transfer of a film [kg/(m² s)]: 3 W/(m² K) over 1006 J/(kg K) (Lewis number 1; the film coefficient is assumed).
const FILM_KG_PER_M2_S: f64 = 3.0 / 1006.0;
/// Water that glass holds before it runs off [kg/m²]: assumed.
const HELD_KG_PER_M2: f64 = 0.05;
/// A film thinner than this does not count as wet [kg/m²].
const WET_KG_PER_M2: f64 = 1e-3;

/// What the films meet in an hour.
#[derive(Debug, Clone, Copy)]
pub(crate) struct PanesHour<R> {
    area_m2: [R; FILMS],
    /// Saturation at the glass, and whether it is below 0 °C.
    saturation_w: [R; FILMS],
    held_kg: [R; FILMS],
    /// Whether any house of the row has glass.
    pub(crate) any: bool,
}

/// What the films did in a sub-step.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sweat<R> {
    /// Net water from the air [kg/s].
    pub(crate) from_air: R,
    pub(crate) ran_off_kg: R,
    /// 1 where a centre, or an edge, is wet.
    pub(crate) wet_centre: R,
    pub(crate) wet_edge: R,
}

/// Temperatures of the glass over the hour.
#[inline(always)]
pub(crate) fn panes_hour<R: Real>(
    indoors: &IndoorsOf<R>,
    (room_c, outdoor_c): (R, R),
    pressure_pa: R,
) -> PanesHour<R> {
    let zero = R::zero();
    let mut hour =
        PanesHour { area_m2: [zero; FILMS], saturation_w: [zero; FILMS], held_kg: [zero; FILMS], any: false };
    for k in 0..MAX_PANES {
        let pane = &indoors.panes[k];
        if !pane.area_m2.gt(zero).any() {
            continue;
        }
        hour.any = true;
        let edge_m2 = pane.area_m2 * pane.edge_share;
        fill(
            &mut hour,
            2 * k,
            (pane.area_m2 - edge_m2, pane.centre_factor),
            (room_c, outdoor_c),
            pressure_pa,
        );
        fill(&mut hour, 2 * k + 1, (edge_m2, pane.edge_factor), (room_c, outdoor_c), pressure_pa);
    }
    hour
}

#[inline(always)]
fn fill<R: Real>(
    hour: &mut PanesHour<R>,
    place: usize,
    (area_m2, factor): (R, R),
    (room_c, outdoor_c): (R, R),
    pressure_pa: R,
) {
    let glass_c = outdoor_c + (room_c - outdoor_c) * factor;
    let holds = glass_c.ge(R::zero());
    hour.area_m2[place] = area_m2;
    hour.saturation_w[place] = fast_saturation_humidity_ratio(glass_c, pressure_pa);
    hour.held_kg[place] = R::select(holds, area_m2 * HELD_KG_PER_M2, R::splat(f64::MAX));
}

/// Films through a sub-step: `end_w` is the air at its end without them, `response` what 1 kg/s into the air adds to that, `floor_w`
/// what a running coil leaves in it.
///
/// Each film meets the air that it leaves behind, so that it never dries the air past its own saturation; it gives no more than it has.
#[inline(always)]
pub(crate) fn sweat<R: Real>(
    hour: &PanesHour<R>,
    films_kg: &mut [R; FILMS],
    (end_w, response, floor_w): (R, R, R),
    seconds: f64,
) -> Sweat<R> {
    let zero = R::zero();
    let mut done = Sweat { from_air: zero, ran_off_kg: zero, wet_centre: zero, wet_edge: zero };
    let mut w = end_w;
    for (k, kept_kg) in films_kg.iter_mut().enumerate() {
        let has = hour.area_m2[k].gt(zero);
        if !has.any() {
            continue;
        }
        let film = *kept_kg;
        let passes = hour.area_m2[k] * FILM_KG_PER_M2_S;
        let wanted = passes * (w - hour.saturation_w[k].max(floor_w)) / (R::one() + passes * response);
        let most_dried = film * (-1.0 / seconds);
        let dries_up = wanted.le(most_dried);
        let rate = R::select(dries_up, most_dried, wanted);
        w -= rate * response;
        let grown = R::select(dries_up, zero, film + rate * seconds);
        let off = (grown - hour.held_kg[k]).max(zero);
        let left = grown - off;
        *kept_kg = left;
        done.from_air += rate;
        done.ran_off_kg += off;
        let wet = R::select(left.gt(hour.area_m2[k] * WET_KG_PER_M2), R::one(), zero);
        if k % 2 == 0 {
            done.wet_centre = done.wet_centre.max(wet);
        } else {
            done.wet_edge = done.wet_edge.max(wet);
        }
    }
    done
}
