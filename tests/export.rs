//! Networks and graphs for other programs: the tables say what the noisy-MAX says, any program can read the names, and
//! what is drawn is all there, apart, and says what the diagnosis says.

mod forms;
mod graph;
mod plain_tables;
mod program;
mod tables;
