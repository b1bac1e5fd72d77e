//! The report as one page: what it holds, that nothing in a case gets out of its text, pictures, and whether a page is the
//! one its case makes.

mod bench;
mod curve;
mod drawn;
mod extent;
mod field;
mod hostile;
mod hours_left;
mod markdown;
mod markup;
mod opinion;
mod page;
mod photos;
mod text;
mod track;
mod verified;
mod words;
