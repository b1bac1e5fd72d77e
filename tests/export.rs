//! Networks and graphs for other programs: the tables say what the noisy-MAX says, any program can read the names, and
//! what is drawn is all there, apart, and says what the diagnosis says.

#[cfg(test)]
#[path = "export/forms.rs"]
mod forms;
#[cfg(test)]
#[path = "export/graph.rs"]
mod graph;
#[cfg(test)]
#[path = "export/plain_tables.rs"]
mod plain_tables;
#[cfg(test)]
#[path = "export/program.rs"]
mod program;
#[path = "inference/random_networks.rs"]
#[expect(dead_code, reason = "other tests keep nodes and leave findings out")]
mod random_networks;
#[cfg(test)]
#[path = "support/setting.rs"]
#[expect(dead_code, reason = "other tests ask for probabilities")]
mod setting;
#[cfg(test)]
#[path = "export/tables.rs"]
mod tables;
