//! What is checked against something outside the project; each check names its source.

mod inference_published;
mod inference_reference;
