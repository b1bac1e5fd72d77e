//! One case held against its rules: every answer about it is worked out when it is first asked for, and once.

use super::bounded::bounded;
use super::evidence::{Evidence, findings};
use super::explain::{Explanation, explain};
use super::fit::{self, Fit};
use super::next::{NextCheck, next_checks};
use super::ranks::{everywhere, ranked};
use super::robust::{self, Robust, robust};
use super::steps::{Step, steps};
use super::{Diagnosis, Ranked, Ranks, Stop};
use crate::ground::{Ground, Origin};
use crate::infer::bounds::{Budget, Interval};
use crate::infer::engine::Engine;
use crate::infer::information::Effort;
use crate::infer::{Limits, TooWide};
use crate::model::{Hidden, Model};
use crate::network::NodeId;
use std::cell::OnceCell;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Probability from which a cause gets its reasons without being asked for
pub const WORTH_REASONS: f64 = 0.05;
/// Causes that get their reasons however small their probability
const ALWAYS_REASONED: usize = 3;

/// How far answers may go
#[derive(Clone, Debug)]
pub struct Settings {
    /// Width up to which the findings are weighed exactly
    pub limits: Limits,
    /// Width up to which questions that take hundreds of evaluations are answered: next checks, and how firm a cause stands
    pub often: Limits,
    /// Work allowed for bounds past the width
    pub budget: Budget,
    /// Outcomes and draws of the worth of checks
    pub effort: Effort,
}

impl Default for Settings {
    fn default() -> Self {
        Settings {
            limits: Limits::default(),
            often: Limits::often(),
            budget: Budget::default(),
            effort: Effort::default(),
        }
    }
}

/// What was worked out, or why it could not be; nothing as long as nobody asked
type Once<T> = OnceCell<Result<T, Stop>>;

/// A case held against its rules, weighed as far as it was asked
///
/// It owns the rules' model, the inspection bound to it and the engine of its network, so that it can be kept by whoever
/// answers for a case: a command, a line of a batch, a program that has no files. It stands in `reason` because that is the
/// last stage that knows the findings alone; what needs wear, parties or prices is made of it by later stages, which ask
/// it for its engine, evidence and ranks (`consultation` puts them together for one case).
///
/// What it answers does not depend on what it was asked before.
#[derive(Debug)]
pub struct Weighing {
    model: Arc<Model>,
    ground: Arc<Ground>,
    settings: Settings,
    engine: OnceCell<Arc<Engine>>,
    compiled: OnceCell<Result<Evidence, TooWide>>,
    possible: Once<()>,
    causes: Once<Vec<Ranked>>,
    conditions: Once<Vec<Ranked>>,
    fit: Once<Fit>,
    exactly: Once<Diagnosis>,
    in_bounds: Once<Diagnosis>,
    next: Once<Vec<NextCheck>>,
}

impl Weighing {
    /// A case by its rules; nothing is worked out yet
    pub fn new(model: impl Into<Arc<Model>>, ground: impl Into<Arc<Ground>>) -> Self {
        Weighing {
            model: model.into(),
            ground: ground.into(),
            settings: Settings::default(),
            engine: OnceCell::new(),
            compiled: OnceCell::new(),
            possible: Once::new(),
            causes: Once::new(),
            conditions: Once::new(),
            fit: Once::new(),
            exactly: Once::new(),
            in_bounds: Once::new(),
            next: Once::new(),
        }
    }

    /// The case with answers that may go as far as `settings` say
    #[must_use]
    pub fn within(self, settings: Settings) -> Self {
        Weighing { settings, engine: self.engine, ..Weighing::new(self.model, self.ground) }
    }

    /// The same rules and machine with other findings
    #[must_use]
    pub fn supposing(&self, ground: impl Into<Arc<Ground>>) -> Self {
        let other = Weighing::new(Arc::clone(&self.model), ground);
        let same = Arc::ptr_eq(&other.ground.network, &self.ground.network);
        let other = if same { other.by(self.engine()) } else { other };
        other.within(self.settings.clone())
    }

    /// The case weighed by an engine of its network, which has the circuits of earlier inspections
    #[must_use]
    pub fn by(self, engine: &Arc<Engine>) -> Self {
        Weighing { engine: OnceCell::from(Arc::clone(engine)), ..self }
    }

    /// What the rules mean
    pub fn model(&self) -> &Model {
        &self.model
    }

    /// The inspection bound to them
    pub fn ground(&self) -> &Ground {
        &self.ground
    }

    /// How far answers may go
    pub fn settings(&self) -> &Settings {
        &self.settings
    }

    /// The engine of the case's network
    pub fn engine(&self) -> &Arc<Engine> {
        self.engine.get_or_init(|| Arc::new(Engine::new(Arc::clone(&self.ground.network))))
    }

    fn compiled(&self) -> Result<&Evidence, TooWide> {
        let compile = || Evidence::new(Arc::clone(self.engine()), &self.ground, &self.settings.limits);
        self.compiled.get_or_init(compile).as_ref().map_err(|width| *width)
    }

    /// The circuit over all findings, which can occur together
    ///
    /// # Errors
    /// [`Stop`] when they cannot, or couple too much for an exact answer.
    pub fn evidence(&self) -> Result<&Evidence, Stop> {
        let evidence = self.compiled()?;
        once(&self.possible, || match evidence.all().is_impossible() {
            true => Err(Stop::Impossible(fit::impossible(evidence))),
            false => Ok(()),
        })?;
        Ok(evidence)
    }

    /// All causes with their probabilities and no reasons, likeliest first
    ///
    /// # Errors
    /// [`Stop`] as for [`evidence`](Weighing::evidence).
    pub fn causes(&self) -> Result<&[Ranked], Stop> {
        let nodes = || self.ground.causes().map(|(id, place, node)| (Hidden::Cause(id), place, node));
        let causes = once(&self.causes, || Ok(ranked(&self.model, self.evidence()?, nodes())?));
        causes.map(Vec::as_slice)
    }

    /// All conditions, likewise
    ///
    /// # Errors
    /// [`Stop`] as for [`evidence`](Weighing::evidence).
    pub fn conditions(&self) -> Result<&[Ranked], Stop> {
        let nodes = || self.ground.conditions().map(|(id, place, node)| (Hidden::Condition(id), place, node));
        let conditions = once(&self.conditions, || Ok(ranked(&self.model, self.evidence()?, nodes())?));
        conditions.map(Vec::as_slice)
    }

    /// A cause or condition at each of its places, likeliest first, without its reasons
    ///
    /// # Errors
    /// [`Stop`] as for [`evidence`](Weighing::evidence).
    pub fn places(&self, hidden: Hidden) -> Result<Vec<Ranked>, Stop> {
        let evidence = self.evidence()?;
        let places = self.ground.machine.places(&self.model, self.model.common(hidden).extent);
        let nodes = places.iter().filter_map(|place| {
            let node = self.ground.node(&Origin::hidden(hidden, place.clone()))?;
            Some((hidden, place, node))
        });
        Ok(ranked(&self.model, evidence, nodes)?)
    }

    /// The same with the steps of each, whatever its probability
    ///
    /// # Errors
    /// [`Stop`] as for [`evidence`](Weighing::evidence).
    pub fn why(&self, hidden: Hidden) -> Result<Vec<Ranked>, Stop> {
        let mut found = self.places(hidden)?;
        for one in &mut found {
            one.reasons = self.steps(one.node)?;
        }
        Ok(found)
    }

    /// The steps from prior to probability of a cause or condition
    ///
    /// # Errors
    /// [`Stop`] as for [`evidence`](Weighing::evidence).
    pub fn steps(&self, node: NodeId) -> Result<Vec<Step>, Stop> {
        Ok(steps(&self.model, &self.ground, self.evidence()?, node))
    }

    /// How the findings go together
    ///
    /// # Errors
    /// [`Stop`] as for [`evidence`](Weighing::evidence), or when the question couples too much.
    pub fn fit(&self) -> Result<&Fit, Stop> {
        once(&self.fit, || Ok(fit::fit(&self.ground, self.evidence()?, &self.settings.limits)?))
    }

    /// What explains an observation, by its number
    ///
    /// # Errors
    /// [`Stop`] as for [`fit`](Weighing::fit).
    pub fn explain(&self, observation: usize) -> Result<Explanation, Stop> {
        explain(self, observation)
    }

    /// What the findings say about the machine, exactly
    ///
    /// # Errors
    /// [`Stop`] as for [`fit`](Weighing::fit).
    pub fn exactly(&self) -> Result<&Diagnosis, Stop> {
        once(&self.exactly, || {
            let (mut causes, conditions) = (self.causes()?.to_vec(), self.conditions()?.to_vec());
            for (rank, cause) in causes.iter_mut().enumerate() {
                if rank < ALWAYS_REASONED || cause.probability >= WORTH_REASONS {
                    cause.reasons = self.steps(cause.node)?;
                }
            }
            let fit = self.fit()?.clone();
            let log_evidence = Interval::exact(fit.log_evidence);
            Ok(Diagnosis { causes, conditions, fit: Some(fit), log_evidence })
        })
    }

    /// The same with every probability in bounds that are certain to hold it, and without reasons
    ///
    /// # Errors
    /// [`Stop::Impossible`] when the findings cannot occur together; [`Stop::TooWide`] when the rules couple too much even
    /// with nothing found.
    pub fn in_bounds(&self) -> Result<&Diagnosis, Stop> {
        once(&self.in_bounds, || bounded(self.engine(), &self.ground, &self.settings.budget))
    }

    /// What the findings say about the machine, exactly, or in bounds where that would take too long
    ///
    /// # Errors
    /// [`Stop`] as for [`in_bounds`](Weighing::in_bounds).
    pub fn diagnosis(&self) -> Result<&Diagnosis, Stop> {
        match self.exactly() {
            Err(Stop::TooWide(_)) => self.in_bounds(),
            exact => exact,
        }
    }

    /// All causes and conditions without reasons, exactly or in bounds
    ///
    /// # Errors
    /// [`Stop`] as for [`in_bounds`](Weighing::in_bounds).
    pub fn ranks(&self) -> Result<Ranks<'_>, Stop> {
        match self.causes().and_then(|causes| Ok(Ranks { causes, conditions: self.conditions()? })) {
            Err(Stop::TooWide(_)) => self.in_bounds().map(Diagnosis::ranks),
            exact => exact,
        }
    }

    /// All causes without reasons and the logarithm of the probability of all findings, exactly or in bounds
    ///
    /// # Errors
    /// [`Stop`] as for [`in_bounds`](Weighing::in_bounds).
    pub fn ranking(&self) -> Result<(&[Ranked], Interval), Stop> {
        match self.causes() {
            Ok(causes) => Ok((causes, Interval::exact(self.evidence()?.all().log_evidence))),
            Err(Stop::TooWide(_)) => {
                self.in_bounds().map(|bounds| (bounds.causes.as_slice(), bounds.log_evidence))
            }
            Err(stop) => Err(stop),
        }
    }

    /// All checks and questions still open, in the order in which to do them
    ///
    /// # Errors
    /// [`Stop`] as for [`evidence`](Weighing::evidence), and when the findings are too entangled to be weighed often.
    pub fn next_checks(&self) -> Result<&[NextCheck], Stop> {
        let Settings { often, effort, .. } = &self.settings;
        let next = once(&self.next, || {
            self.compiled()?.hold(often)?;
            Ok(next_checks(&self.model, &self.ground, self.evidence()?, self.causes()?, often, effort)?)
        });
        next.map(Vec::as_slice)
    }

    /// How a cause stands when the figures of the rules are moved
    ///
    /// # Errors
    /// [`TooWide`] when the findings are too entangled to be weighed often.
    pub fn robust(&self, cause: NodeId, effort: &robust::Effort) -> Result<Robust, TooWide> {
        robust(&self.model, &self.ground, cause, &self.settings.often, effort)
    }

    /// Probability of each grade, form or choice of every node, given all findings
    ///
    /// # Errors
    /// [`Stop`] as for [`evidence`](Weighing::evidence), or when one of the nodes with the findings couples too much.
    pub fn everywhere(&self) -> Result<BTreeMap<NodeId, Vec<f64>>, Stop> {
        self.evidence()?;
        let (found, limits) = (findings(&self.ground), &self.settings.limits);
        Ok(everywhere(&self.model, &self.ground, self.engine(), &found, limits)?)
    }
}

/// What was worked out before, or now
fn once<T>(cell: &Once<T>, work: impl FnOnce() -> Result<T, Stop>) -> Result<&T, Stop> {
    cell.get_or_init(work).as_ref().map_err(Clone::clone)
}
