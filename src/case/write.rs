//! A case as it is written: the shape of a case file, for cases that a program makes.

use serde::Serialize;
use std::collections::BTreeMap;

/// A case in the shape of its file
#[derive(Clone, Debug, Serialize)]
pub struct Written {
    /// Its title
    pub case: String,
    /// The machine
    pub machine: Machine,
    /// When its parts went on, and which were turned
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<Part>,
    /// The visit
    pub visit: Visit,
    /// What was looked at and found, by place
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub seen: BTreeMap<String, Seen>,
    /// What was there
    pub truth: Truth,
}

/// What stands under `machine`
#[derive(Clone, Debug, Serialize)]
pub struct Machine {
    /// What its people call it
    pub tag: String,
    /// Hours on its meter
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hours: Option<f64>,
    /// Its size class
    #[serde(skip_serializing_if = "Option::is_none")]
    pub size: Option<String>,
    /// Its facts and how many of each numbered part a side has
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub facts: BTreeMap<String, Fact>,
}

/// A fact given once, for each side, or as a number
#[derive(Clone, Debug, Serialize)]
#[serde(untagged)]
pub enum Fact {
    /// A choice of the whole machine or of both sides
    Choice(String),
    /// A choice for each side named
    Sides(BTreeMap<&'static str, String>),
    /// How many of a part a side has
    Count(u32),
}

/// An item of `parts`
#[derive(Clone, Debug, Serialize)]
pub struct Part {
    /// Name of the part
    pub part: String,
    /// Where; none for all of that name
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
    /// Hours of the machine when it went on
    pub on: f64,
    /// Hours of the machine when it was turned, or that it never was
    #[serde(skip_serializing_if = "Option::is_none")]
    pub turned: Option<Turned>,
}

/// When a part was turned
#[derive(Clone, Debug, Serialize)]
#[serde(untagged)]
pub enum Turned {
    /// The word `never`
    Never(&'static str),
    /// At so many hours of the machine
    At(f64),
}

/// What stands under `visit`
#[derive(Clone, Debug, Serialize)]
pub struct Visit {
    /// Who looked
    pub by: String,
    /// States that the machine was in
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub state: Vec<String>,
}

/// What was seen at a place
#[derive(Clone, Debug, Default, Serialize)]
pub struct Seen {
    /// Names of the checks done
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub looked: Vec<String>,
    /// Grades by symptom
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub found: BTreeMap<String, String>,
    /// What was seen at numbered parts of the side, as in `roller 3`
    #[serde(flatten)]
    pub below: BTreeMap<String, Seen>,
}

/// What stands under `truth`
#[derive(Clone, Debug, Serialize)]
pub struct Truth {
    /// What was there
    pub present: Vec<String>,
    /// What was not
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub absent: Vec<String>,
}

impl Written {
    /// The case as a YAML document, behind the mark that begins one
    ///
    /// # Errors
    /// When the library that writes YAML fails, which it does not for this shape; its words.
    pub fn document(&self) -> Result<String, String> {
        let text = serde_yaml::to_string(self).map_err(|fault| fault.to_string())?;
        Ok(format!("---\n{text}"))
    }
}
