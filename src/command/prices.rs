//! `--prices FILE`: what work is priced by, read once for every command that plans.

use super::shell::{Exit, Halt, Run};
use super::{Format, digest, files, session};
use crate::case;
use crate::model::Model;
use crate::plan::prices::Terms;
use crate::problem::Problems;
use crate::source::Sources;
use std::path::{Path, PathBuf};

/// Prices in place of the units of the rules
#[derive(Clone, Debug, clap::Args)]
pub(super) struct PricesArgs {
    /// YAML file with your prices: `currency`, `labour` an hour, `standing` a visit, and under `remedies` what parts and
    /// bought-in work of each come to; without it costs are in the units of the rules
    #[arg(long, value_name = "FILE")]
    prices: Option<PathBuf>,
}

/// What work is priced by
#[derive(Debug, Default)]
pub(super) struct Priced {
    pub terms: Terms,
    /// Digest of the price file, whatever it is called; none without one
    #[cfg_attr(not(feature = "page"), expect(dead_code, reason = "only a page names it"))]
    pub digest: Option<String>,
}

impl PricesArgs {
    pub(super) fn file(&self) -> Option<&Path> {
        self.prices.as_deref()
    }

    /// What work is priced by; a faulty price file is told of and ends the run
    pub(super) fn read(&self, model: &Model, format: Format) -> Run<Priced> {
        let Some(path) = self.file() else {
            return Ok(Priced::default());
        };
        let (mut sources, mut problems) = (Sources::default(), Problems::default());
        let id = files::read(path, &mut sources, &mut problems);
        let mut priced = None;
        if !problems.any_error() {
            let (prices, said) = case::prices::read(&sources, id);
            problems.append(said);
            if let Some(prices) = prices {
                let (terms, said) = Terms::of(&prices, model);
                problems.append(said);
                let digest = digest::of_file(&sources, id);
                priced = Some(Priced { terms, digest: Some(digest) });
            }
        }
        let faulty = problems.any_error();
        session::tell(&problems, &sources, format, faulty)?;
        priced.filter(|_| !faulty).ok_or(Halt::Reported(Exit::FaultyInput))
    }
}
