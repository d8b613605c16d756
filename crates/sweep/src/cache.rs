//! What is slow to make and shared by many runs, kept while there is room.
//!
//! Not here: what is kept. A value depends on its key alone, so that what is in the cache changes no result.

use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// A value that is made once, by whoever asks first.
type Slot<V> = Arc<OnceLock<Result<Arc<V>, String>>>;

/// The values asked for last.
#[derive(Debug)]
pub(crate) struct Cache<V> {
    most: usize,
    slots: Mutex<Vec<(String, Slot<V>)>>,
}

impl<V> Cache<V> {
    /// Room for so many, one at least.
    pub(crate) fn new(most: usize) -> Self {
        Self { most: most.max(1), slots: Mutex::new(Vec::new()) }
    }

    /// The value of a key; `make` is called where it is not kept.
    pub(crate) fn get(&self, key: &str, make: impl FnOnce() -> Result<V, String>) -> Result<Arc<V>, String> {
        let slot = self.slot(key);
        slot.get_or_init(|| make().map(Arc::new)).clone()
    }

    fn slot(&self, key: &str) -> Slot<V> {
        let mut slots = self.slots.lock().unwrap_or_else(PoisonError::into_inner);
        let entry = match slots.iter().position(|(kept, _)| kept == key) {
            Some(place) => slots.remove(place),
            None => (key.to_owned(), Slot::default()),
        };
        let slot = Arc::clone(&entry.1);
        slots.push(entry);
        // The one asked for longest ago stands first.
        if slots.len() > self.most {
            slots.remove(0);
        }
        slot
    }
}
