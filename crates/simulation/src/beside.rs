//! What the houses run at that stand beside a unit's hour: the same air without recovery, the same air by one extract fan.
//!
//! Not here: the unit's own hour (`running`).

use lanes::Real;

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
