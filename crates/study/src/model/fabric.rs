//! What a study says of walls, roof and floor, and of the ground.
//!
//! Here: plain values in SI, every check done. Not here: windows (`model.rs`), or what the ground's temperature is.
//! Read next: `read/fabric.rs`, which makes these.

/// A part of the envelope that is no window.
#[derive(Debug, Clone, PartialEq)]
pub struct EnvelopePart {
    /// Its name, unique within the house.
    pub name: String,
    /// Conductance [W/K], 0.01…10 000: as given, or U × area.
    pub conductance_w_per_k: f64,
    /// What is on its other side.
    pub beyond: Beyond,
}

/// What is on the other side of a part of the envelope.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Beyond {
    /// Outdoor air.
    Outdoors,
    /// The ground.
    Ground,
    /// A space that is not heated.
    Unheated {
        /// Temperature difference from the house to that space over the one to outdoors [-], 0…1.
        temperature_factor: f64,
    },
}

impl EnvelopePart {
    /// Conductance to outdoors [W/K]: times the temperature factor where an unheated space lies between; 0 to the ground.
    ///
    /// # Source
    /// [ISO 13789:2017] 5 and 8 (recalled): the adjustment factor of an unheated space.
    pub fn outdoors_w_per_k(&self) -> f64 {
        match self.beyond {
            Beyond::Outdoors => self.conductance_w_per_k,
            Beyond::Unheated { temperature_factor } => temperature_factor * self.conductance_w_per_k,
            Beyond::Ground => 0.0,
        }
    }

    /// Conductance to the ground [W/K].
    pub fn ground_w_per_k(&self) -> f64 {
        if self.beyond == Beyond::Ground { self.conductance_w_per_k } else { 0.0 }
    }
}

/// What the house stands on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Foundation {
    /// A slab on the ground.
    Slab,
    /// A basement that is part of the heated house.
    Basement,
    /// A floor over a crawlspace that is open to outdoor air.
    Crawlspace,
}

impl Foundation {
    /// Share of the conduction through all that is not a window which goes to the ground where nothing is stated [-].
    ///
    /// # Source
    /// Assumed; no published share was found. For comparison, an insulated slab (2…4 m²K/W) of 10 m × 14 m by [ISO 13370:2017]
    /// (recalled) passes 25…38 W/K, 0.22…0.34 of 113 W/K; a second storey halves the share; a basement has walls in the
    /// ground as well; under the floor over a ventilated crawlspace most heat leaves with the outdoor air.
    pub const fn ground_share(self) -> f64 {
        match self {
            Self::Slab => 0.2,
            Self::Basement => 0.3,
            Self::Crawlspace => 0.1,
        }
    }
}
