//! Engines of the networks met so far: machines of the same build share one

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};

use crate::infer::engine::{Engine, cache};
use crate::network::Network;

/// Most engines kept; the one used longest ago goes first
const MOST: usize = 16;

/// Engines by network, for any number of threads
#[derive(Debug, Default)]
pub struct Engines {
    known: Mutex<Known>,
}

/// Engines by fingerprint, with the number of the question each was last used for
#[derive(Debug, Default)]
struct Known {
    engines: BTreeMap<u64, (u64, Arc<Engine>)>,
    asked: u64,
}

impl Engines {
    /// The engine of a network, a new one where none is known
    pub fn of(&self, network: &Arc<Network>) -> Arc<Engine> {
        let fingerprint = network.fingerprint();
        let mut known = cache(&self.known);
        known.asked += 1;
        let asked = known.asked;
        if let Some((used, engine)) = known.engines.get_mut(&fingerprint)
            && engine.network() == network.as_ref()
        {
            *used = asked;
            return Arc::clone(engine);
        }
        let engine = Arc::new(Engine::new(Arc::clone(network)));
        known.engines.insert(fingerprint, (asked, Arc::clone(&engine)));
        if known.engines.len() > MOST
            && let Some(oldest) = known.engines.iter().min_by_key(|(_, (used, _))| *used).map(|(key, _)| *key)
        {
            known.engines.remove(&oldest);
        }
        engine
    }
}
