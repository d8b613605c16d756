//! What a study says about a unit's fans and filters, and about air that passes round its core.
//!
//! Here: plain values in SI, every check done; temperatures in °C. Not here: what follows from them (`build`).
//! Read next: `read/fan.rs`, which makes these.

/// The two fans of a unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Fan {
    /// Electrical power of both fans together, with clean filters and no frost \[W\], 0…5000.
    pub power_w: f64,
    /// Where they sit.
    pub position: FanPosition,
    /// What they keep when the way of the air gets narrower.
    pub kind: FanKind,
    /// Share of the power that the supply fan takes [-], 0…1; the extract fan takes the rest.
    pub supply_share: f64,
}

/// Where each fan sits in its stream.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum FanPosition {
    /// After the core: the supply fan warms the house, the extract fan the outdoors.
    AfterCore,
    /// Before the core: both warm what enters the core.
    BeforeCore,
}

/// What a fan keeps when the way of the air gets narrower.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FanKind {
    /// Its flow: the power rises.
    ConstantFlow,
    /// Its speed: the flow falls along the curve of the fan, both fans alike.
    FixedSpeed(FanCurve),
}

/// Pressure of a fan over its flow, and what stands against it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FanCurve {
    /// Pressure at no flow \[Pa\], 10…2500.
    pub shut_off_pa: f64,
    /// Flow against no pressure [m³/s], 2…5000 L/s; more than `ventilation.airflow`.
    pub free_flow_m3_per_s: f64,
    /// External static pressure of the ducts at `ventilation.airflow` \[Pa\], 0…1000; not more than the fan gives there.
    /// What the fan gives beyond it is left for the unit itself.
    pub system_pa: f64,
}

impl FanCurve {
    /// Pressure at a flow \[Pa\]: `p₀ (1 − (q/q₀)²)`, the parabola from shut-off to free flow; negative beyond free flow.
    pub fn pressure_pa(&self, flow_m3_per_s: f64) -> f64 {
        let share = flow_m3_per_s / self.free_flow_m3_per_s;
        self.shut_off_pa * (1.0 - share * share)
    }
}

/// How filters load between two changes of them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Filter {
    /// From one change to the next \[s\], 1…1000 d.
    pub interval_s: f64,
    /// Resistance added by the end of the interval, over that of the whole system with clean filters [-], 0…3.
    pub load: f64,
}

/// When air passes round the core to cool the house: while all three hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FreeCooling {
    /// The indoor air is warmer than this [°C], 10…35; at least the set-point of heating, below that of cooling.
    pub indoor_above_c: f64,
    /// The outdoor air is colder than the indoor air by more than this \[K\], 0…20.
    pub colder_by_k: f64,
    /// The supply air would not be colder than this [°C], 0…30; below `indoor_above_c`.
    pub supply_at_least_c: f64,
}
