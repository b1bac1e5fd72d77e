//! The report as one page: what it holds, that nothing in a case gets out of its text, pictures, and whether a page is the
//! one its case makes.

mod bench;
mod drawn;
mod hostile;
mod page;
mod photos;
mod verified;
