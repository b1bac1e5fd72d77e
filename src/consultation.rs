//! One case with all that is told of it: causes and checks, wear over its visits, and the work that they call for.

use crate::case::Inspection;
use crate::ground::{Ground, reread};
use crate::infer::engine::Engine;
use crate::model::{MeasureId, Model};
use crate::place::Place;
use crate::plan::prices::Terms;
use crate::plan::standstill::{self, Next};
use crate::plan::swing::{Moved, Swing};
use crate::plan::{self, Plan};
use crate::reason::{Settings, Stop, Weighing};
use crate::wear::advice::{self, Advice};
use crate::wear::contradiction::{self, Contradiction};
use crate::wear::history;
use crate::wear::overall::{self, Overall};
use crate::wear::trend::{self, Trend};
use crate::wear::{self, Worn};
use std::cell::OnceCell;
use std::sync::Arc;

/// One visit to a machine
#[derive(Clone, Debug)]
pub struct Visit {
    /// The inspection as written
    pub inspection: Arc<Inspection>,
    /// The inspection bound to the rules
    pub ground: Arc<Ground>,
}

impl Visit {
    /// The visit as wear is reckoned from it
    pub fn read(&self) -> history::Visit<'_> {
        history::Visit { machine: &self.ground.machine, readings: &self.ground.readings }
    }
}

/// A case put to the rules, with each answer worked out when it is first asked for, and once
///
/// It stands behind `plan`, the last of the stages that it asks, and before all that tells of its answers. What hangs on the
/// findings alone is the [`Weighing`]'s, which `reason` makes, so that a stage before this one can ask it; here is added
/// what needs wear over several visits, and prices. It takes no text and no file: a command reads them, and a page that
/// has none of its own builds the same from what its reader typed.
#[derive(Debug)]
pub struct Consultation {
    weighing: Weighing,
    inspection: Arc<Inspection>,
    visits: Vec<Visit>,
    terms: Terms,
    worn: OnceCell<Vec<Worn>>,
    trend: OnceCell<Trend>,
    overall: OnceCell<Option<Overall>>,
    contradictions: OnceCell<Vec<Contradiction>>,
    advice: OnceCell<Vec<Advice>>,
    plan: OnceCell<Result<Plan, Stop>>,
    next: OnceCell<Result<Next, Stop>>,
}

impl Consultation {
    /// A visit by itself, whatever earlier ones it names; nothing is worked out yet
    pub fn new(model: impl Into<Arc<Model>>, visit: Visit) -> Self {
        let weighing = Weighing::new(model, Arc::clone(&visit.ground));
        Consultation::of(weighing, Arc::clone(&visit.inspection), vec![visit], Terms::default())
    }

    fn of(weighing: Weighing, inspection: Arc<Inspection>, visits: Vec<Visit>, terms: Terms) -> Self {
        Consultation {
            weighing,
            inspection,
            visits,
            terms,
            worn: OnceCell::new(),
            trend: OnceCell::new(),
            overall: OnceCell::new(),
            contradictions: OnceCell::new(),
            advice: OnceCell::new(),
            plan: OnceCell::new(),
            next: OnceCell::new(),
        }
    }

    /// The case with answers that may go as far as `settings` say
    #[must_use]
    pub fn within(self, settings: Settings) -> Self {
        let (plan, next) = (OnceCell::new(), OnceCell::new());
        Consultation { weighing: self.weighing.within(settings), plan, next, ..self }
    }

    /// The case weighed by an engine of its network, which has the circuits of earlier inspections
    #[must_use]
    pub fn by(self, engine: &Arc<Engine>) -> Self {
        Consultation { weighing: self.weighing.by(engine), ..self }
    }

    /// The case with work priced by `terms`
    #[must_use]
    pub fn priced(self, terms: Terms) -> Self {
        Consultation { terms, plan: OnceCell::new(), next: OnceCell::new(), ..self }
    }

    /// The case as the last of several visits to its machine, itself among them, in the order of hours
    #[must_use]
    pub fn over(self, visits: Vec<Visit>) -> Self {
        Consultation {
            visits,
            worn: OnceCell::new(),
            trend: OnceCell::new(),
            overall: OnceCell::new(),
            plan: OnceCell::new(),
            next: OnceCell::new(),
            ..self
        }
    }

    /// What the findings say
    pub fn weighing(&self) -> &Weighing {
        &self.weighing
    }

    /// What the rules mean
    pub fn model(&self) -> &Model {
        self.weighing.model()
    }

    /// The inspection bound to them
    pub fn ground(&self) -> &Ground {
        self.weighing.ground()
    }

    /// The inspection as written
    pub fn inspection(&self) -> &Inspection {
        &self.inspection
    }

    /// What work is priced by
    pub fn terms(&self) -> &Terms {
        &self.terms
    }

    /// How worn everything is that was read, at this visit and at earlier ones
    pub fn worn(&self) -> &[Worn] {
        self.worn.get_or_init(|| {
            if self.inspection.earlier.is_empty() && self.visits.len() == 1 {
                let ground = self.ground();
                wear::worn(self.model(), &ground.machine, &ground.readings)
            } else {
                trend::worn_over(self.model(), &self.read())
            }
        })
    }

    /// How the wear goes on over all visits
    pub fn trend(&self) -> &Trend {
        self.trend.get_or_init(|| trend::trend(self.model(), &self.read()))
    }

    fn read(&self) -> Vec<history::Visit<'_>> {
        self.visits.iter().map(Visit::read).collect()
    }

    /// One figure for all that is worn; none where too little was read
    pub fn overall(&self) -> Option<&Overall> {
        let Ground { machine, readings, .. } = self.ground();
        self.overall.get_or_init(|| overall::overall(self.model(), machine, readings, self.worn())).as_ref()
    }

    /// Readings that cannot all be right
    pub fn contradictions(&self) -> &[Contradiction] {
        let Ground { machine, readings, set_aside, .. } = self.ground();
        self.contradictions
            .get_or_init(|| contradiction::contradictions(self.model(), machine, readings, set_aside))
    }

    /// What to mind about what was read
    pub fn advice(&self) -> &[Advice] {
        let Ground { machine, readings, .. } = self.ground();
        self.advice.get_or_init(|| advice::advice(self.model(), machine, readings))
    }

    /// What work to do, by what was found and how worn everything is
    ///
    /// # Errors
    /// [`Stop`] as for [`Weighing::diagnosis`].
    pub fn plan(&self) -> Result<&Plan, Stop> {
        let plan = self.plan.get_or_init(|| {
            let ranks = self.weighing.ranks()?;
            Ok(plan::plan(self.model(), self.ground(), ranks, self.worn(), &self.terms))
        });
        plan.as_ref().map_err(Clone::clone)
    }

    /// How far one error of one reading moves what the plan costs
    ///
    /// # Errors
    /// [`Stop`] as for [`Weighing::diagnosis`].
    pub fn swing(&self) -> Result<Swing, Stop> {
        let mut swing = Swing::about(self.plan()?.cost);
        let model = self.model();
        for (key, reading) in &self.ground().readings {
            for at in [reading.value + reading.error, reading.value - reading.error] {
                let cost = self.reread(key, at).plan()?.cost;
                let (named, unit) = (model.subject(key.0, &key.1), model[key.0].unit());
                swing.take(Moved { named, at: unit.from_base(at), unit, cost });
            }
        }
        Ok(swing)
    }

    /// The same case with another value read of a measure at a place
    fn reread(&self, key: &(MeasureId, Place), value: f64) -> Consultation {
        let ground = Arc::new(reread(self.model(), self.ground(), key, value));
        let own = self.ground();
        let read = |visit: &Visit| {
            let ground = if std::ptr::eq(&*visit.ground, own) { &ground } else { &visit.ground };
            Visit { inspection: Arc::clone(&visit.inspection), ground: Arc::clone(ground) }
        };
        let visits = self.visits.iter().map(read).collect();
        let weighing = self.weighing.supposing(Arc::clone(&ground));
        Consultation::of(weighing, Arc::clone(&self.inspection), visits, self.terms.clone())
    }

    /// What to look at next: nothing that takes a moving machine where the plan does not let it be worked
    ///
    /// # Errors
    /// [`Stop`] as for [`Weighing::next_checks`].
    pub fn next(&self) -> Result<&Next, Stop> {
        let next = self.next.get_or_init(|| {
            let all = self.weighing.next_checks()?;
            Ok(standstill::allowed(self.model(), self.plan()?, all))
        });
        next.as_ref().map_err(Clone::clone)
    }
}
