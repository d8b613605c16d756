//! Beam on a plane facing the sun from global and diffuse on the horizontal, for files that carry no beam. What is not
//! here: the sun's place ([`crate::sun`]). Read next: `complete.rs`.
//!
//! Near the horizon the division by the height of the sun has no meaning: nothing is derived above 87° of zenith, and at
//! most 0.85 of what arrives from space (a very clear sky).

use crate::findings::{Finding, FindingKind, Findings, Severity, counted};
use crate::sun;
use crate::year::WeatherYear;

const LOWEST_SUN_ZENITH_DEG: f64 = 87.0;
const CLEAREST_SHARE: f64 = 0.85;

/// Puts the beam into the year, with the sun at the year's offset, and says how often a limit held.
pub(crate) fn derive(year: &mut WeatherYear, findings: &mut Findings) {
    let calendar = year.calendar();
    let (mut low, mut limited) = (0_usize, 0_usize);
    let horizontal = year.global_horizontal_w_per_m2.iter().zip(&year.diffuse_horizontal_w_per_m2);
    let beam = (sun::positions(year).into_iter().enumerate().zip(horizontal))
        .map(|((h, position), (global, diffuse))| {
            let on_horizontal = (global - diffuse).max(0.0);
            if position.zenith_deg > LOWEST_SUN_ZENITH_DEG {
                low += usize::from(on_horizontal > 0.0);
                return 0.0;
            }
            let most = CLEAREST_SHARE * sun::extraterrestrial_w_per_m2(calendar.day_of_year(h));
            let beam = on_horizontal / position.height();
            limited += usize::from(beam > most);
            beam.min(most)
        })
        .collect();
    year.direct_normal_w_per_m2 = beam;
    let sentence = format!(
        "The file carries no beam: it was derived from global less diffuse. In {} the sun stood above 87° of zenith and none \
         was derived; in {} it was limited to 0.85 of what arrives from space.",
        counted(low, "hour"),
        counted(limited, "hour"),
    );
    findings.push(Finding::whole_file(FindingKind::BeamDerived, Severity::Warning, sentence));
}
