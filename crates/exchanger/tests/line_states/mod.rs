//! Shared by the `line_*` tests: cores of every kind at random states, winter and summer, from a fixed generator.
//!
//! Not here: what is asked of them.
#![allow(dead_code, clippy::unwrap_used, clippy::panic)]

use exchanger::{Arrangement, Core, CoreKind, Fluxes, Inlets, Outlets, outlets, solve};
use psychrometrics::formulas::{humidity_ratio, saturation_pa};

/// Every kind, and both plates in quasi-counterflow.
pub const SUBJECTS: [(CoreKind, Arrangement); 8] = [
    (CoreKind::SensiblePlate, Arrangement::Counter),
    (CoreKind::SensiblePlate, QUASI),
    (CoreKind::SensibleCrossPlate, Arrangement::Cross),
    (CoreKind::EnthalpyPlate, Arrangement::Counter),
    (CoreKind::EnthalpyPlate, QUASI),
    (CoreKind::EnthalpyCrossPlate, Arrangement::Cross),
    (CoreKind::SensibleWheel, Arrangement::Counter),
    (CoreKind::EnthalpyWheel, Arrangement::Counter),
];
const QUASI: Arrangement = Arrangement::QuasiCounter { counter_share: 0.6 };

/// A 64-bit counter, scrambled by multiplications and shifts (`SplitMix64`, Steele and others 2014; recalled).
pub struct Random(pub u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * ((self.next() >> 11) as f64 / (1_u64 << 53) as f64)
    }

    pub fn one_of<T: Copy>(&mut self, items: &[T]) -> T {
        items[usize::try_from(self.next() % items.len() as u64).unwrap()]
    }
}

#[derive(Debug, Clone, Copy)]
pub struct State {
    pub kind: CoreKind,
    pub core: Core<f64>,
    pub inlets: Inlets<f64>,
    /// As asked for, before the arrangement.
    pub ntu: f64,
}

impl State {
    pub fn solved(&self) -> (Fluxes<f64>, Outlets<f64>) {
        let fluxes = solve(self.kind, &self.core, &self.inlets);
        let out = outlets(&self.inlets, &fluxes);
        (fluxes, out)
    }

    pub fn with(&self, change: impl FnOnce(&mut Inlets<f64>)) -> Self {
        let mut other = *self;
        change(&mut other.inlets);
        other
    }

    pub fn is_winter(&self) -> bool {
        self.inlets.extract_c >= self.inlets.outdoor_c
    }

    pub fn flows(&self) -> bool {
        self.inlets.supply_kg_per_s > 0.0 && self.inlets.extract_kg_per_s > 0.0
    }
}

/// Which states.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Range {
    /// What a house and its climate can bring: −30…45 °C at 10…100 % and up to 30 g/kg outdoors (a dew point of 31 °C at
    /// sea level), 18…28 °C at 10…60 % indoors (45 % at most below −20 °C outdoors), NTU 0.3…6.
    House,
    /// Past any house: −45…55 °C and 5…40 °C, dry to saturated, NTU 0.3…6.
    Climate,
    /// To the ends of what the line solution says it is valid for: −60…60 °C on both sides, dry to saturated, NTU to 10.
    Whole,
}

pub fn w(t_c: f64, relative_humidity: f64, pressure_pa: f64) -> f64 {
    humidity_ratio(relative_humidity * saturation_pa(t_c), pressure_pa)
}

/// A core of this kind, sized at these flows.
pub fn sized(
    (kind, arrangement): (CoreKind, Arrangement),
    (ua, vapour): (f64, f64),
    flows: (f64, f64),
    capacity_ratio: f64,
) -> Core<f64> {
    let vapour = if kind.passes_vapour() { vapour } else { 0.0 };
    if kind.is_wheel() {
        Core::wheel((ua, vapour), flows, capacity_ratio).unwrap()
    } else {
        Core::new(arrangement, (ua, vapour), flows).unwrap()
    }
}

pub fn state(subject: (CoreKind, Arrangement), range: Range, r: &mut Random) -> State {
    let pressure_pa = r.between(55e3, 105e3);
    let (outdoor_c, extract_c) = match range {
        Range::House => (r.between(-30.0, 45.0), r.between(18.0, 28.0)),
        Range::Climate => (r.between(-45.0, 55.0), r.between(5.0, 40.0)),
        Range::Whole => (temperature(r), temperature(r)),
    };
    // Equal temperatures now and then.
    let extract_c = if r.between(0.0, 1.0) < 0.03 { outdoor_c } else { extract_c };
    let most_w = if range == Range::House { 0.03 } else { f64::INFINITY };
    let outdoor_w = w(outdoor_c, relative_humidity(range, r, 1.0), pressure_pa).min(most_w);
    let most_indoors = if outdoor_c < -20.0 { 0.45 } else { 0.6 };
    let extract_w = w(extract_c, relative_humidity(range, r, most_indoors), pressure_pa);
    // Equal humidities, where the colder air holds as much.
    let most = w(extract_c, 1.0, pressure_pa);
    let extract_w = if r.between(0.0, 1.0) < 0.03 { outdoor_w.min(most) } else { extract_w };
    let extract_kg_per_s = r.one_of(&[0.01, 0.05, 0.3, 1.0]);
    let supply_kg_per_s =
        extract_kg_per_s * if r.between(0.0, 1.0) < 0.3 { 1.0 } else { r.between(0.3, 3.0) };
    let ntu = match range {
        Range::House | Range::Climate => r.between(0.3, 6.0),
        Range::Whole => r.one_of(&[0.0, 1e-6, 0.1, 1.0, 3.0, 6.0, 10.0]),
    };
    let ua = ntu * 1006.0 * supply_kg_per_s.min(extract_kg_per_s);
    let vapour = r.between(0.0, 1.0) * ua / 1006.0;
    let core =
        sized(subject, (ua, vapour), (supply_kg_per_s, extract_kg_per_s), r.one_of(&[1.25, 3.0, 10.0]));
    let inlets = Inlets {
        outdoor_c,
        outdoor_humidity_ratio: outdoor_w,
        extract_c,
        extract_humidity_ratio: extract_w,
        supply_kg_per_s,
        extract_kg_per_s,
        pressure_pa,
    };
    State { kind: subject.0, core, inlets, ntu }
}

fn temperature(r: &mut Random) -> f64 {
    if r.between(0.0, 1.0) < 0.2 { r.one_of(&[-60.0, 60.0, 0.0, 0.01]) } else { r.between(-60.0, 60.0) }
}

/// In the range of a house 10 % up to this.
fn relative_humidity(range: Range, r: &mut Random, most: f64) -> f64 {
    match range {
        Range::House => r.between(0.1, most),
        _ if r.between(0.0, 1.0) < 0.4 => r.one_of(&[0.0, 1e-4, 1.0]),
        _ => r.between(0.0, 1.0),
    }
}
