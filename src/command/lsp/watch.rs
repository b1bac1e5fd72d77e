//! Who is told of the work in a conversation before it is begun.

/// Is told of a piece of work before it is begun: the method of a question, or the name of a file to be read
pub type Watch = fn(&str);
