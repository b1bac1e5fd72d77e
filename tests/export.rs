//! Networks for other programs: the tables say what the noisy-MAX says.

#[cfg(test)]
#[path = "export/plain_tables.rs"]
mod plain_tables;
#[path = "inference/random_networks.rs"]
#[expect(dead_code, reason = "other tests keep nodes and leave findings out")]
mod random_networks;
#[cfg(test)]
#[path = "export/tables.rs"]
mod tables;
