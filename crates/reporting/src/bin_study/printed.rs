//! A bin study as it is printed: every figure rounded once, in its bin; totals, differences and parts are sums of those.
//!
//! Not here: how figures are found (`bin_study`), how they are laid out (`table`, `files`).

use super::{Amounts, Apart, BinStudy, Method};
use crate::{Cell, ReportError, ShowIn};

/// Sensible and latent heat \[kWh\], condensate [L or gal], ice [kg or lb], frost hours: what is counted, printed.
pub type Figures = [Cell; 5];

/// Digits after the point, in that order.
const DECIMALS: [u8; 5] = [2, 2, 2, 3, 0];

/// The printed figures of a study.
#[derive(Debug, Clone, PartialEq)]
pub struct Printed {
    /// A row for each bin; in it the order of [`Method::ALL`].
    pub rows: Vec<[Figures; 4]>,
    /// Sums of the rows.
    pub totals: [Figures; 4],
    /// `hourly − no history`, by what sets the hours apart, in the order of [`Apart::ALL`]; the last takes what rounding leaves.
    pub apart: [Figures; 4],
}

impl Printed {
    /// Rounds a study in these units.
    ///
    /// # Errors
    /// [`ReportError::TooLarge`] for a figure that is not finite.
    pub fn new(study: &BinStudy, show_in: ShowIn) -> Result<Self, ReportError> {
        let mut rows = Vec::with_capacity(study.rows.len());
        for row in &study.rows {
            let mut figures = [[Cell::Empty; 5]; 4];
            for (cells, amounts) in figures.iter_mut().zip(&row.amounts) {
                *cells = rounded(amounts, show_in)?;
            }
            rows.push(figures);
        }
        let totals = core::array::from_fn(|method| {
            core::array::from_fn(|figure| Cell::sum(rows.iter().map(|row| row[method][figure])))
        });
        let mut printed = Self { rows, totals, apart: [[Cell::Empty; 5]; 4] };
        let mut rest = printed.history();
        for (place, (_, amounts)) in study.apart.iter().enumerate().take(Apart::Rest as usize) {
            printed.apart[place] = rounded(amounts, show_in)?;
            rest = difference(&rest, &printed.apart[place]);
        }
        printed.apart[Apart::Rest as usize] = rest;
        Ok(printed)
    }

    /// The year's figures by one way.
    pub fn total(&self, method: Method) -> &Figures {
        &self.totals[method as usize]
    }

    /// What is between two ways: the first less the second.
    pub fn between(&self, first: Method, second: Method) -> Figures {
        difference(self.total(first), self.total(second))
    }

    /// History and control: the run less the plain core hour by hour.
    pub fn history(&self) -> Figures {
        self.between(Method::Hourly, Method::NoHistory)
    }

    /// Hours in place of means: the plain core hour by hour less the told bins.
    pub fn means(&self) -> Figures {
        self.between(Method::NoHistory, Method::Told)
    }

    /// Knowing the house: told bins less blind ones.
    pub fn house(&self) -> Figures {
        self.between(Method::Told, Method::Blind)
    }
}

fn difference(first: &Figures, second: &Figures) -> Figures {
    core::array::from_fn(|figure| Cell::sum([first[figure], second[figure].negated()]))
}

fn rounded(amounts: &Amounts, show_in: ShowIn) -> Result<Figures, ReportError> {
    let values = [
        amounts.recovered_sensible_kwh,
        amounts.recovered_latent_kwh,
        show_in.volume(amounts.condensate_l),
        show_in.mass(amounts.ice_formed_kg),
        amounts.frost_h,
    ];
    let mut cells = [Cell::Empty; 5];
    for ((cell, value), decimals) in cells.iter_mut().zip(values).zip(DECIMALS) {
        *cell = Cell::rounded(value, decimals)?;
    }
    Ok(cells)
}
