//! The hourly account of heat and water: every flow is a line, and the lines must explain the change of storage.
//!
//! Flows come from postings, storage from states; neither is computed from the other, so an error in either
//! shows as a residual. Four books: heat and water of the house, heat and water of the core.
//! Not here: what the flows are (`step`).

use lanes::{Mask, Real};

/// A book: one balance that must close every hour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Book {
    /// Heat of the house \[J\].
    Heat,
    /// Water of the house \[kg\].
    Water,
    /// Heat of the core \[J\].
    CoreHeat,
    /// Water of the core \[kg\].
    CoreWater,
}

/// The books, in the order in which they are shown.
pub const BOOKS: [Book; 4] = [Book::Heat, Book::Water, Book::CoreHeat, Book::CoreWater];

impl Book {
    /// Name in tables.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Heat => "heat",
            Self::Water => "water",
            Self::CoreHeat => "core heat",
            Self::CoreWater => "core water",
        }
    }

    /// Turnover below which the residual is judged against this instead [J or kg]: 1 kJ or 1 g an hour, what
    /// rounding of the stored amounts (about 1e-8 J and 1e-15 kg) would otherwise be held against.
    const fn floor(self) -> f64 {
        match self {
            Self::Heat | Self::CoreHeat => 1e3,
            Self::Water | Self::CoreWater => 1e-3,
        }
    }
}

macro_rules! lines {
    ($($(#[doc = $doc:literal])+ $name:ident $book:ident $label:literal),+ $(,)?) => {
        /// A line of a book; into the book is positive.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum Line { $($(#[doc = $doc])+ $name),+ }

        /// Every line, in the order in which they are written.
        pub const LINES: &[Line] = &[$(Line::$name),+];

        impl Line {
            /// The book that the line belongs to.
            pub const fn book(self) -> Book {
                match self { $(Self::$name => Book::$book),+ }
            }
            /// Name in tables.
            pub const fn label(self) -> &'static str {
                match self { $(Self::$name => $label),+ }
            }
            /// What the line holds.
            pub const fn meaning(self) -> &'static str {
                match self { $(Self::$name => concat!($($doc),+)),+ }
            }
        }
    };
}

lines! {
    /// Heat through walls, roof and floor.
    ConductionOpaque Heat "conduction_opaque",
    /// Heat through windows by conduction.
    ConductionWindows Heat "conduction_windows",
    /// Sun through windows.
    SolarGains Heat "solar_gains",
    /// Sensible heat of people and appliances.
    InternalGains Heat "internal_gains",
    /// The small part of the gains that the heat model sends straight outdoors.
    GainsLost Heat "gains_lost",
    /// Sensible heat of infiltration, against the room's temperature; air that leaves has none against it.
    InfiltrationSensible Heat "infiltration_sensible",
    /// Sensible heat of the supply air as it leaves the core, against the room's temperature.
    SupplySensible Heat "supply_sensible",
    /// Fan heat in the supply air after the core.
    SupplyFan Heat "supply_fan",
    /// Fan heat of house air that goes round through the core in a defrost.
    RecirculationFan Heat "recirculation_fan",
    /// Room heat lent to a defrost: it warms the core and melts ice.
    DefrostLent Heat "defrost_lent",
    /// Heat of the warmed core that comes back with the supply air.
    DefrostReturned Heat "defrost_returned",
    /// Heat of supply air above 0 °C that thaws a blocked core.
    SupplyThaw Heat "thaw_by_supply",
    /// Heat through the floor from the ground.
    Ground Heat "ground",
    /// Room heat that ducts of outdoor and exhaust air take as they pass.
    ColdDucts Heat "cold_ducts",
    /// Heat that the supply air's duct loses outside the rooms.
    WarmDucts Heat "warm_ducts",
    /// Electricity of the furnace's blower, which becomes room heat.
    Blower Heat "blower",
    /// Enthalpy of the humidifier's steam or water.
    HumidifierHeat Heat "humidifier",
    /// Electricity of the dehumidifier, which becomes room heat.
    DehumidifierHeat Heat "dehumidifier",
    /// Heat that leaves with the dehumidifier's water.
    DehumidifierDrain Heat "dehumidifier_drain",
    /// Heat that leaves with water that runs off windows.
    WindowRunOffHeat Heat "window_run_off",
    /// Heat from the heating.
    Heating Heat "heating",
    /// Sensible heat removed by the cooling coil.
    CoolingSensible Heat "cooling_sensible",
    /// Latent heat removed by the cooling coil.
    CoolingLatent Heat "cooling_latent",
    /// Heat that leaves with the coil's drain water.
    CoilDrain Heat "coil_drain",
    /// Enthalpy of vapour that infiltration brings.
    InfiltrationVapour Heat "infiltration_vapour",
    /// Enthalpy of vapour that exfiltration takes.
    ExfiltrationVapour Heat "exfiltration_vapour",
    /// Enthalpy of vapour that the supply air brings from the core.
    SupplyVapour Heat "supply_vapour",
    /// Enthalpy of vapour that the extract air takes to the core.
    ExtractVapour Heat "extract_vapour",
    /// Enthalpy of vapour of extract air that joined the supply air past the core; it has no sensible heat against the room.
    CrossLeakVapourIn Heat "cross_leaked_vapour_in",
    /// The same air as it left the rooms with the extract air.
    CrossLeakVapourOut Heat "cross_leaked_vapour_out",
    /// Enthalpy of vapour from people, showers and cooking.
    SourceVapour Heat "source_vapour",
    /// Enthalpy of the liquid that laundry, plants and a new building then evaporate with room heat.
    IndoorDrying Heat "indoor_drying",
    /// Heat that leaves with water condensed in the rooms.
    RoomCondensation Heat "room_condensation",

    /// Vapour with infiltration.
    InfiltrationIn Water "infiltration",
    /// Vapour with exfiltration.
    ExfiltrationOut Water "exfiltration",
    /// Vapour with the supply air from the core.
    SupplyIn Water "supply",
    /// Vapour with the extract air to the core.
    ExtractOut Water "extract",
    /// Vapour with extract air that joined the supply air past the core.
    CrossLeakIn Water "cross_leaked_in",
    /// The same vapour as it left the rooms with the extract air.
    CrossLeakOut Water "cross_leaked_out",
    /// Water from people.
    People Water "people",
    /// Water from showers.
    Showers Water "showers",
    /// Water from cooking.
    Cooking Water "cooking",
    /// Water from laundry.
    Laundry Water "laundry",
    /// Water from plants.
    Plants Water "plants",
    /// Water from a new building that dries out.
    NewBuilding Water "new_building",
    /// Water from the humidifier.
    HumidifierIn Water "humidifier",
    /// Water that the dehumidifier removes.
    DehumidifierOut Water "dehumidifier",
    /// Water that runs off windows.
    WindowRunOff Water "window_run_off",
    /// Water that the cooling coil removes.
    Coil Water "cooling_coil",
    /// Water that condenses in the rooms because the air cannot hold it.
    RoomWater Water "room_condensation",

    /// Enthalpy of outdoor air entering the core.
    CoreOutdoor CoreHeat "outdoor",
    /// Heat of a fan before the core.
    CoreFan CoreHeat "fan",
    /// Electric heat of the preheater.
    CorePreheat CoreHeat "preheat",
    /// Room heat that the outdoor air took on in its duct.
    CoreIntakeDuct CoreHeat "cold_duct",
    /// Heat that the extract air lost in its duct.
    CoreExtractDuct CoreHeat "warm_duct",
    /// Room heat lent to a defrost.
    CoreDefrost CoreHeat "defrost_lent",
    /// Heat of the warmed core that goes into the supply air.
    CoreReturned CoreHeat "defrost_returned",
    /// Heat of supply air above 0 °C that thaws a blocked core.
    CoreThaw CoreHeat "thaw_by_supply",
    /// Enthalpy of own exhaust air drawn in at the hood, at the state of the solution before.
    CoreDrawnIn CoreHeat "drawn_in",
    /// Enthalpy of extract air entering the core.
    CoreExtract CoreHeat "extract",
    /// Enthalpy of supply air leaving the core.
    CoreSupply CoreHeat "supply",
    /// Enthalpy of exhaust air leaving the core, less what is drawn in again.
    CoreExhaust CoreHeat "exhaust",
    /// Enthalpy of exhaust air that is drawn in again.
    CoreDrawnOut CoreHeat "drawn_out",
    /// Heat that leaves with the core's drain water.
    CoreDrain CoreHeat "drain",

    /// Vapour with outdoor air entering the core.
    CoreOutdoorWater CoreWater "outdoor",
    /// Vapour with own exhaust air drawn in at the hood.
    CoreDrawnInWater CoreWater "drawn_in",
    /// Vapour with extract air entering the core.
    CoreExtractWater CoreWater "extract",
    /// Vapour with supply air leaving the core.
    CoreSupplyWater CoreWater "supply",
    /// Vapour with exhaust air leaving the core, less what is drawn in again.
    CoreExhaustWater CoreWater "exhaust",
    /// Vapour with exhaust air that is drawn in again.
    CoreDrawnOutWater CoreWater "drawn_out",
    /// Liquid formed on the extract side, to the drain.
    CoreLiquid CoreWater "liquid",
    /// Melt water, to the drain.
    CoreMelt CoreWater "melt",
    /// Liquid formed on the supply side, to the drain.
    CoreSupplyLiquid CoreWater "supply_side_liquid",
}

/// How many lines there are.
pub(crate) const LINE_COUNT: usize = LINES.len();

/// How many lines a book has.
const fn lines_of(book: Book) -> usize {
    let (mut k, mut count) = (0, 0);
    while k < LINE_COUNT {
        if LINES[k].book() as usize == book as usize {
            count += 1;
        }
        k += 1;
    }
    count
}

/// How many lines stand before those of a book.
const fn lines_before(book: Book) -> usize {
    match book {
        Book::Heat => 0,
        Book::Water => const { lines_of(Book::Heat) },
        Book::CoreHeat => const { lines_of(Book::Heat) + lines_of(Book::Water) },
        Book::CoreWater => const { lines_of(Book::Heat) + lines_of(Book::Water) + lines_of(Book::CoreHeat) },
    }
}

// Each book's lines stand together, in the order of the books: a book is summed up without asking each line for its own.
const _: () = {
    let mut k = 1;
    while k < LINE_COUNT {
        assert!(LINES[k - 1].book() as usize <= LINES[k].book() as usize);
        k += 1;
    }
};

/// Largest residual for each unit of turnover.
pub(crate) const TOLERANCE: f64 = 1e-9;

/// A deliberate false posting, to prove that the books notice.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tamper {
    /// The line that is falsified.
    pub line: Line,
    /// What its amount is multiplied by.
    pub factor: f64,
}

/// One hour's lines, and what they were checked against.
#[derive(Debug, Clone, Copy)]
pub struct Ledger<R> {
    lines: [R; LINE_COUNT],
    residuals: [R; 4],
    inflows: [R; 4],
    tamper: Option<Tamper>,
}

impl<R: Real> Ledger<R> {
    /// An empty ledger; a tamper falsifies one line of every hour.
    #[inline(always)]
    pub fn new(tamper: Option<Tamper>) -> Self {
        let zero = R::zero();
        Self { lines: [zero; LINE_COUNT], residuals: [zero; 4], inflows: [zero; 4], tamper }
    }

    /// What passed in this hour [J or kg], positive into the book: it replaces the hour before, and every line is posted once an hour.
    #[inline(always)]
    pub(crate) fn post(&mut self, line: Line, amount: R) {
        // A zero without sign.
        self.lines[line as usize] = amount + 0.0;
    }

    /// What a line holds this hour [J or kg].
    #[inline(always)]
    pub fn line(&self, line: Line) -> R {
        self.lines[line as usize]
    }

    /// Lines less change of storage [J or kg].
    #[inline(always)]
    pub fn residual(&self, book: Book) -> R {
        self.residuals[book as usize]
    }

    /// What entered the book: positive lines, and what storage gave [J or kg].
    #[inline(always)]
    pub fn inflow(&self, book: Book) -> R {
        self.inflows[book as usize]
    }

    /// Checks each book against its change of storage, from the states before and after [J or kg].
    #[inline(always)]
    pub(crate) fn close(&mut self, before: [R; 4], after: [R; 4]) {
        if let Some(Tamper { line, factor }) = self.tamper {
            self.lines[line as usize] = self.lines[line as usize] * factor;
        }
        for book in BOOKS {
            self.sum_up(book, after[book as usize] - before[book as usize]);
        }
    }

    #[inline(always)]
    fn sum_up(&mut self, book: Book, stored: R) {
        let zero = R::zero();
        let (mut sum, mut inflow) = (-stored, (-stored).max(zero));
        for amount in &self.lines[lines_before(book)..lines_before(book) + lines_of(book)] {
            sum += *amount;
            inflow += amount.max(zero);
        }
        self.residuals[book as usize] = sum;
        self.inflows[book as usize] = inflow;
    }

    /// The first lane and book that do not close, if any. A residual that is not a number does not close.
    #[inline(always)]
    pub(crate) fn open_book(&self) -> Option<(usize, Book)> {
        let mut all = R::Mask::splat(true);
        for book in BOOKS {
            all = all & self.closes(book);
        }
        if all.all() { None } else { self.find_open() }
    }

    #[inline(always)]
    fn closes(&self, book: Book) -> R::Mask {
        let allowed = self.inflow(book).max(R::splat(book.floor())) * TOLERANCE;
        self.residual(book).abs().le(allowed)
    }

    #[cold]
    fn find_open(&self) -> Option<(usize, Book)> {
        (0..R::LANES).flat_map(|lane| BOOKS.map(|book| (lane, book))).find(|&(lane, book)| {
            let allowed = TOLERANCE * self.inflow(book).lane(lane).max(book.floor());
            let closes = self.residual(book).lane(lane).abs() <= allowed;
            !closes
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whether the heat book closes with this much in, and this much of it out.
    fn closes(inflow_j: f64, outflow_j: f64) -> bool {
        let mut ledger = Ledger::<f64>::new(None);
        ledger.post(Line::SolarGains, inflow_j);
        ledger.post(Line::CoolingSensible, -outflow_j);
        ledger.close([0.0; 4], [0.0; 4]);
        ledger.open_book().is_none()
    }

    /// Of much heat a billionth may be missing; of less than a kilojoule a billionth of a kilojoule (own rule).
    #[test]
    fn a_book_closes_to_a_billionth_of_its_turnover_or_of_its_floor() {
        assert!(closes(1e9, 1e9 - 0.9) && !closes(1e9, 1e9 - 1.1));
        assert!(closes(0.9e-6, 0.0) && !closes(1.1e-6, 0.0));
        assert!(closes(10.0, 10.0 - 0.9e-6) && !closes(10.0, 10.0 - 1.1e-6));
        assert!(!closes(f64::NAN, 0.0));
    }
}
