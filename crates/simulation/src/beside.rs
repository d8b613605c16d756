//! What the houses run at that stand beside a unit's hour: the same air without recovery, the same air by one extract fan.
//!
//! Not here: the unit's own hour (`running`).

use lanes::Real;

use crate::avoidance::Avoidance;
use crate::inputs::UnitOf;
use crate::running::Running;

impl<R: Real> UnitOf<R> {
    /// What an `extract-only` house runs at beside this hour: one fan of half the power draws out as much air as this unit delivers
    /// of outdoor air, and the leaks supply it.
    #[inline(always)]
    pub(crate) fn extract_only_beside(&self, running: &Running<R>) -> Self {
        let zero = R::zero();
        Self {
            supply_kg_per_s: zero,
            extract_kg_per_s: running.unit.outdoor_kg_per_s(),
            cold_duct_w_per_k: zero,
            warm_duct_w_per_k: zero,
            fan_w: self.fan_w * (running.fan_share * 0.5),
            fan_heat_before_w: zero,
            fan_heat_after_w: zero,
            extract_fan_before_w: zero,
            ..self.baseline_beside(running)
        }
    }

    /// What the `no recovery` baseline of this rated unit runs at beside this hour: the same outdoor air delivered, the
    /// same air drawn and pressed through the envelope, the rated fans with the same filters.
    #[inline(always)]
    pub(crate) fn baseline_beside(&self, running: &Running<R>) -> Self {
        let zero = R::zero();
        let hour = &running.unit;
        let drawn_back = hour.drawn_back_kg_per_s();
        let fans = running.fan_share;
        Self {
            supply_kg_per_s: hour.supply_kg_per_s - drawn_back,
            extract_kg_per_s: hour.extract_kg_per_s + running.alone_kg_per_s - drawn_back,
            cross_leak_kg_per_s: zero,
            recirculated_share: zero,
            bypass_kg_per_s: zero,
            infiltration_kg_per_s: hour.infiltration_kg_per_s,
            exfiltration_kg_per_s: hour.exfiltration_kg_per_s,
            ua_w_per_k: zero,
            vapour_kg_per_s: zero,
            crossed_ua_w_per_k: zero,
            crossed_vapour_kg_per_s: zero,
            fan_w: self.fan_w * fans,
            fan_heat_before_w: self.fan_heat_before_w * fans,
            fan_heat_after_w: self.fan_heat_after_w * fans,
            extract_fan_before_w: self.extract_fan_before_w * fans,
            ..*self
        }
    }
}

impl<R: Real> Running<R> {
    /// `yes` where the mask is true, `no` elsewhere.
    #[inline(always)]
    pub(crate) fn select(mask: R::Mask, yes: &Self, no: &Self) -> Self {
        Self {
            unit: UnitOf::select(mask, &yes.unit, &no.unit),
            alone_kg_per_s: R::select(mask, yes.alone_kg_per_s, no.alone_kg_per_s),
            mixing_kg_per_s: R::select(mask, yes.mixing_kg_per_s, no.mixing_kg_per_s),
            avoidance: Avoidance {
                preheat_to_c: R::select(mask, yes.avoidance.preheat_to_c, no.avoidance.preheat_to_c),
                preheat_most_w: R::select(mask, yes.avoidance.preheat_most_w, no.avoidance.preheat_most_w),
                round_share: R::select(mask, yes.avoidance.round_share, no.avoidance.round_share),
                given_up: R::select(mask, yes.avoidance.given_up, no.avoidance.given_up),
            },
            defrost_share: R::select(mask, yes.defrost_share, no.defrost_share),
            lent_j: R::select(mask, yes.lent_j, no.lent_j),
            drawn_j: R::select(mask, yes.drawn_j, no.drawn_j),
            returned_j: R::select(mask, yes.returned_j, no.returned_j),
            to_exhaust_j: R::select(mask, yes.to_exhaust_j, no.to_exhaust_j),
            supply_thaw_j: R::select(mask, yes.supply_thaw_j, no.supply_thaw_j),
            melted_kg: R::select(mask, yes.melted_kg, no.melted_kg),
            room_fan_w: R::select(mask, yes.room_fan_w, no.room_fan_w),
            blocked_share: R::select(mask, yes.blocked_share, no.blocked_share),
            missed_kg_per_s: R::select(mask, yes.missed_kg_per_s, no.missed_kg_per_s),
            fan_share: R::select(mask, yes.fan_share, no.fan_share),
        }
    }
}
