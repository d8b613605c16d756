//! The line solution measured against the cell solution over the plausible states (`exchanger::accuracy`).
#![allow(clippy::unwrap_used, clippy::float_cmp, clippy::panic)]

use exchanger::accuracy::{SUBJECTS, States, Subject, distance};

#[test]
fn try_it() {
    for set in [States::Plausible, States::Beyond] {
        for (name, subject) in SUBJECTS {
            let n = if matches!(subject, Subject::SensibleWheel | Subject::EnthalpyWheel) { 60 } else { 300 };
            let start = std::time::Instant::now();
            match distance(subject, set, n) {
                Ok(d) => println!("{set:?} {name} {:?}\n   wet {} K {:.3} {:.3} g {:.3} {:.3} water {:.3} {:.3} ice {:.3} plate {:.2} bias {:.3}", start.elapsed(), d.wet, d.supply_k.largest, d.supply_k.rms, 1e3*d.humidity_ratio.largest, 1e3*d.humidity_ratio.rms, d.water_share.largest, d.water_share.rms, d.ice_share.largest, d.plate_k.largest, d.water_bias),
                Err(e) => println!("{set:?} {name}: {e}"),
            }
        }
    }
}
#[test]
fn worst() {
    for i in [3] { println!("{}", SUBJECTS[i].0); exchanger::accuracy::debug_worst(SUBJECTS[i].1, States::Beyond, if i > 5 { 60 } else { 300 }); }
}
