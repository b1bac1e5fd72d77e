//! What a checked set of rules means: everything resolved to typed ids, every share a number from 0 to 1.

pub mod drawn;
mod extent;
mod forms;
pub mod formula;
pub mod grades;
mod ids;
mod line;
pub mod named;
mod size;
pub mod subject;
pub mod test;
mod work;

use crate::model::drawn::Drawn;
use crate::model::formula::{Bounds, Formula};
use crate::model::grades::Grades;
use crate::model::test::Test;
use crate::source::Span;
use crate::units::{self, Unit};
pub use size::{Dimension, Size, Spans};
use std::collections::BTreeMap;
pub use work::{Hazard, Setting};

pub use extent::Extent;
pub use forms::{Chance, Forms};
pub use ids::{
    CauseId, CheckId, ConditionId, FactId, KindId, MeasureId, PartId, RemedyId, StateId, SymptomId,
};
pub use line::{Hidden, Leak, Line, Parent, ParentGrade, Reach};

macro_rules! lists {
    ($( $id:ident $list:ident $thing:ident; )*) => {
        $(
            impl std::ops::Index<$id> for Model {
                type Output = $thing;

                #[expect(clippy::indexing_slicing, reason = "ids are given out by the check stage for this model alone")]
                fn index(&self, id: $id) -> &$thing {
                    &self.$list[id.0]
                }
            }
        )*
    };
}

lists! {
    KindId kinds Kind;
    StateId states State;
    PartId parts Part;
    FactId facts Fact;
    CauseId causes Cause;
    ConditionId conditions Effect;
    SymptomId symptoms Symptom;
    MeasureId measures Measure;
    CheckId checks Check;
    RemedyId remedies Remedy;
}

/// A whole set of rules
#[derive(Clone, Debug, Default)]
pub struct Model {
    /// Words of frequency with their shares, commonest first
    pub scale: Vec<(String, f64)>,
    /// Kinds of causes
    pub kinds: Vec<Kind>,
    /// What can hurt
    pub hazards: Vec<Hazard>,
    /// States, in the order that cannot be gone back
    pub states: Vec<State>,
    /// Parts
    pub parts: Vec<Part>,
    /// Facts
    pub facts: Vec<Fact>,
    /// The facts again, each after those that its own lines test
    pub fact_order: Vec<FactId>,
    /// Causes
    pub causes: Vec<Cause>,
    /// Conditions
    pub conditions: Vec<Effect>,
    /// The conditions again, each after its parents
    pub condition_order: Vec<ConditionId>,
    /// Symptoms
    pub symptoms: Vec<Symptom>,
    /// Measures; none is reckoned from itself
    pub measures: Vec<Measure>,
    /// Size classes by name
    pub sizes: BTreeMap<String, Size>,
    /// Checks
    pub checks: Vec<Check>,
    /// Remedies
    pub remedies: Vec<Remedy>,
    /// Every block by its name
    pub(crate) by_name: BTreeMap<String, named::Named>,
}

/// What every named block has
#[derive(Clone, Debug, PartialEq)]
pub struct Common {
    /// Its name
    pub name: String,
    /// Its label in plain language
    pub label: String,
    /// The places it has
    pub extent: Extent,
    /// The part it is seen on, if it says so
    pub part: Option<PartId>,
    /// When it exists at all, its part's own gate included
    pub gate: Test,
    /// Where it comes from; none when it does not say
    pub basis: Option<Basis>,
    /// What it is, in a sentence or two
    pub text: Option<String>,
    /// Where its name is declared
    pub at: Span,
}

/// Where a block comes from
#[derive(Clone, Debug, Eq, PartialEq)]
pub enum Basis {
    /// What the trade commonly does
    CommonPractice,
    /// A guess to be corrected
    Estimate,
    /// A published source
    Source(String),
}

/// A kind of cause
#[derive(Clone, Debug, PartialEq)]
pub struct Kind {
    /// Name and label
    pub common: Common,
    /// The party it counts against: operator, owner, fitter, maker, site or nobody
    pub against: String,
}

/// A state the machine can be in
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// Name and label
    pub common: Common,
}

/// Most of a numbered part on a side that a machine made up is given
const MOST_TAKEN: u32 = 9;

/// A part of the machine
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Name, label and gate
    pub common: Common,
    /// Least and most of them along a side; none when there is one, or one a side
    pub numbered: Option<(u32, u32)>,
    /// The part it wears against
    pub rubs: Option<PartId>,
    /// Where it stands in the picture of a side; the first line whose test holds counts
    pub drawn: Vec<(Drawn, Test)>,
}

impl Part {
    /// The word for several of them, which is also the fact that says how many a side has
    pub fn plural(&self) -> String {
        format!("{}s", self.common.name)
    }

    /// Least and most of them along a side on a machine made up, where the rules may leave the number open; none when
    /// it is not numbered
    pub fn taken(&self) -> Option<(u32, u32)> {
        let (least, most) = self.numbered?;
        Some((least, most.min(MOST_TAKEN.max(least))))
    }
}

/// A fact of the machine that changes which rules apply
#[derive(Clone, Debug, PartialEq)]
pub struct Fact {
    /// Name, label, places and gate
    pub common: Common,
    /// Names of its choices, in the order of the first `choices` line
    pub choices: Vec<String>,
    /// Shares of the choices, each row as long as `choices`; the first row whose test holds counts
    pub shares: Vec<(Test, Vec<f64>)>,
    /// How it is reckoned when the figures are there
    pub derived: Option<(Formula, Bounds)>,
    /// On what share of machines both sides are the same, from 0 to 1
    pub shared: f64,
    /// How a person can tell it, and how many minutes that takes
    pub tell: Option<(String, f64)>,
}

/// What went wrong at the root
#[derive(Clone, Debug, PartialEq)]
pub struct Cause {
    /// Name, label, places, gate and basis
    pub common: Common,
    /// What sort of cause it is
    pub kind: KindId,
    /// How often it is present; the first line whose test holds counts
    pub chances: Vec<Chance>,
    /// What it may look like when present
    pub forms: Forms,
    /// Of those that have it, the share that has had it only lately; none where it is not told apart
    pub recent: Option<f64>,
}

impl Cause {
    /// States of its node: absent, its forms at work for long, and where that is told apart its forms at work only lately
    pub fn states(&self) -> usize {
        self.forms.names().len() * self.times() + 1
    }

    /// Names of the states when present, in their order
    pub fn state_names(&self) -> Vec<String> {
        let long = self.forms.names().into_iter();
        let recent = self.forms.names().into_iter().map(|form| format!("{form}, lately"));
        long.chain(recent.filter(|_| self.recent.is_some())).collect()
    }

    /// The form of a state, 1 being the first; 0 when absent
    pub fn form(&self, state: usize) -> usize {
        state.checked_sub(1).map_or(0, |present| present % self.forms.names().len() + 1)
    }

    /// Whether a state is one at work only lately
    pub fn is_recent(&self, state: usize) -> bool {
        state > self.forms.names().len()
    }

    /// Probability of each form, absent first, from that of each state
    pub fn by_form(&self, states: &[f64]) -> Vec<f64> {
        let mut forms = vec![0.0; self.forms.names().len() + 1];
        for (state, chance) in states.iter().enumerate() {
            if let Some(slot) = forms.get_mut(self.form(state)) {
                *slot += chance;
            }
        }
        forms
    }

    fn times(&self) -> usize {
        1 + usize::from(self.recent.is_some())
    }
}

/// A condition, or what a symptom shares with one: grades brought about by parents
#[derive(Clone, Debug, PartialEq)]
pub struct Effect {
    /// Name, label, places, gate and basis
    pub common: Common,
    /// Its grades
    pub grades: Grades,
    /// Its `with` lines, in order
    pub lines: Vec<Line>,
    /// Its `without` lines: the first whose test holds counts
    pub leaks: Vec<Leak>,
    /// On what share of machines what shows without its causes is the same at all places, from 0 to 1
    pub shared: f64,
}

/// What can be seen, heard, felt or reckoned
#[derive(Clone, Debug, PartialEq)]
pub struct Symptom {
    /// Grades and what brings them about
    pub effect: Effect,
    /// How a reading gives its grade
    pub reading: Option<(Formula, Bounds)>,
    /// How a number of them gives its grade, furthest from normal last
    pub counts: Vec<Counted>,
    /// What may be counted: `joints`; a case names it
    pub counted: Vec<String>,
    /// The symptoms it gives way to
    pub gives_way: Vec<SymptomId>,
    /// Share of its places that show it in practice in any grade but the normal one, and where that is said
    pub seen: Option<(f64, Span)>,
}

/// A grade with the number or share it starts at
#[derive(Clone, Debug, PartialEq)]
pub struct Counted {
    /// Number among the named grades
    pub grade: usize,
    /// Where it starts
    pub from: Threshold,
    /// The figure itself is not enough
    pub over: bool,
}

/// A number of what is counted, or a share of it
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Threshold {
    /// So many
    Number(f64),
    /// A share from 0 to 1
    Share(f64),
}

/// A dimension
#[derive(Clone, Debug, PartialEq)]
pub struct Measure {
    /// Name, label, places and gate
    pub common: Common,
    /// How it comes about
    pub how: How,
    /// The pieces of a row that it is the length of; none for a size of one thing
    pub spans: Option<Spans>,
    /// Whether a turn of its part changes it, so that what was read before says nothing of the wear since
    pub anew: bool,
    /// What it is reckoned from where it is not read; the first line whose test holds counts
    pub sums: Vec<(Formula, Test)>,
    /// Instruments
    pub needs: Vec<String>,
    /// What its reading is held against
    pub against: Option<Expected>,
    /// What to mind once there is a figure: every line whose test holds
    pub advice: Vec<(String, Test)>,
}

/// What the reading of a measure is held against
#[derive(Clone, Debug, PartialEq)]
pub struct Expected {
    /// What it should come to
    pub formula: Formula,
    /// Standard deviation of the two from one another with no error in any reading, in the base unit
    pub tolerance: f64,
    /// What it mostly comes from when the reading is more; such a difference is not told where there is none
    pub more: Option<String>,
    /// What it mostly comes from when the reading is less; such a difference is not told where there is none
    pub less: Option<String>,
}

impl Measure {
    /// Unit it is shown in; what is reckoned from others is a length
    pub fn unit(&self) -> Unit {
        match &self.how {
            How::Read { unit, .. } => *unit,
            How::Reckoned => units::Dimension::Length.base(),
        }
    }
}

/// How a measure comes about
#[derive(Clone, Debug, PartialEq)]
pub enum How {
    /// With an instrument
    Read {
        /// Unit it is shown in
        unit: Unit,
        /// Least and most it can be, in the base unit of its dimension
        range: (f64, f64),
        /// Standard deviation of one careful reading, in the base unit
        error: f64,
        /// Of several values at one place the worst counts, else their mean
        worst: bool,
    },
    /// From other measures only
    Reckoned,
}

/// A procedure that shows symptoms or takes measures
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// Name, label, places and gate
    pub common: Common,
    /// Symptoms it shows
    pub shows: Vec<SymptomId>,
    /// Measures it takes
    pub reads: Vec<MeasureId>,
    /// State the machine must be in
    pub needs_state: Option<StateId>,
    /// State it brings about
    pub makes: Option<StateId>,
    /// States it puts an end to
    pub ends: Vec<StateId>,
    /// Minutes it takes
    pub minutes: f64,
    /// Tools
    pub needs: Vec<String>,
    /// How the machine must stand
    pub access: Option<String>,
    /// What to beware of
    pub cautions: Vec<String>,
}

impl Check {
    /// Whether it needs no machine, but asks people or reads papers
    pub fn is_of_records(&self) -> bool {
        self.access.as_deref() == Some("records")
    }
}

/// What is done about a cause, a condition or a worn part
#[derive(Clone, Debug, PartialEq)]
pub struct Remedy {
    /// Name, label, places and gate
    pub common: Common,
    /// Causes and conditions it fixes
    pub fixes: Vec<Hidden>,
    /// Signs that call for it by themselves, whatever brought them about
    pub mends: Vec<Sign>,
    /// Whether it is a look: it finds out what is wrong and mends nothing, so that it is done first in a visit
    pub finds_out: bool,
    /// Whether it is done where the machine works, by those who work it, and so in no visit
    pub on_site: bool,
    /// Whether it brings what is there into its right place and takes no parts, which repairs undo; none where it does not
    pub sets_right: Option<Setting>,
    /// Measures it renews, with the per cent worn from which it is due
    pub renews: Vec<Renewed>,
    /// Other remedies done in the same visit, each from a per cent worn of what it renews
    pub along: Vec<(RemedyId, f64)>,
    /// Other remedies that are needless at that place once this one is done
    pub spares: Vec<RemedyId>,
    /// What must last for it to pay; the first line whose test holds counts
    pub lasts: Vec<Lasts>,
    /// What must have been seen or read for it to be offered; all of them. Of all blocks only this one may ask it, apart from
    /// its gate, since what is seen is no ground for what exists
    pub signs: Vec<Sign>,
    /// State brought about for it, once for all work of a visit at that place
    pub state: Option<StateId>,
    /// Labour, hours, the bringing about of the state included
    pub hours: f64,
    /// Money, in the units of the rules
    pub costs: Option<f64>,
    /// Due within so many working hours
    pub within: Option<f64>,
    /// Chance of what it fixes from which work that may not wait forbids to work the machine, from 0 to 1; half where none
    /// is told
    pub forbids_over: Option<f64>,
    /// What happens if nothing is done, and what is lost
    pub left: Option<(String, f64)>,
    /// What to beware of
    pub cautions: Vec<String>,
}

impl Remedy {
    /// Whether it turns what is there: it can come too late, which renewing cannot
    pub fn turns(&self) -> bool {
        self.renews.iter().any(|it| it.to.is_some())
    }

    /// Whether it renews what a measure tells of
    pub fn makes_new(&self, measure: MeasureId) -> bool {
        self.renews.iter().any(|it| it.measure == measure)
    }
}

/// What must have been seen or read of a symptom for a remedy to be offered, or calls for it by itself
#[derive(Clone, Debug, PartialEq)]
pub struct Sign {
    /// The symptom, which stands at the remedy's own place, its side or the machine
    pub symptom: SymptomId,
    /// Numbers of the grades that will do, sorted
    pub grades: Vec<usize>,
}

/// A measure that a remedy renews
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Renewed {
    /// The measure
    pub measure: MeasureId,
    /// Per cent worn from which it is due
    pub from: f64,
    /// Per cent worn past which the remedy comes too late; none where it never does
    pub to: Option<f64>,
}

/// What must last for a remedy to pay that gives a part its life once more
#[derive(Clone, Debug, PartialEq)]
pub struct Lasts {
    /// The measure that must last
    pub measure: MeasureId,
    /// Least share of the life won that it must last for, from 0
    pub share: f64,
    /// The life won as a share of the first, over 0
    pub again: f64,
    /// When the line holds
    pub test: Test,
}

impl Model {
    /// The places that a part has: along each side where it is numbered, else those of its block
    pub fn places_of(&self, part: PartId) -> Extent {
        self[part].numbered.map_or(self[part].common.extent, |_| Extent::Each(part))
    }

    /// What a cause or condition shares with every block
    pub fn common(&self, hidden: Hidden) -> &Common {
        match hidden {
            Hidden::Cause(id) => &self[id].common,
            Hidden::Condition(id) => &self[id].common,
        }
    }

    /// Whether a check shows a symptom by a look, so that it was normal when nothing is noted of it, and not by a
    /// measure that is then read
    pub fn by_eye(&self, check: CheckId, symptom: SymptomId) -> bool {
        let reads = &self[check].reads;
        let reading = self[symptom].reading.as_ref();
        reading.is_none_or(|(formula, _)| !formula.readings().iter().any(|measure| reads.contains(measure)))
    }

    /// Whether a symptom is reckoned from hours alone: what a case tells of its parts then says more than a look
    pub fn by_hours(&self, symptom: SymptomId) -> bool {
        self[symptom].reading.as_ref().is_some_and(|(formula, _)| formula.readings().is_empty())
    }

    /// The check that brings a state of the machine about, the quickest of several; none when the machine comes in it
    pub fn maker(&self, state: StateId) -> Option<CheckId> {
        let makers = (0..self.checks.len()).map(CheckId).filter(|id| self[*id].makes == Some(state));
        makers.min_by(|a, b| self[*a].minutes.total_cmp(&self[*b].minutes))
    }

    /// What the places of a block are counted in: `machines`, `sides`, or a numbered part in the plural
    pub fn noun(&self, extent: Extent) -> String {
        match extent {
            Extent::Machine => "machines".to_owned(),
            Extent::Side => "sides".to_owned(),
            Extent::Each(part) => self[part].plural(),
        }
    }

    /// What a picture can show: symptoms, measures and parts
    pub fn pictured(&self) -> impl Iterator<Item = &Common> {
        let symptoms = self.symptoms.iter().map(|it| &it.effect.common);
        let measures = self.measures.iter().map(|it| &it.common);
        symptoms.chain(measures).chain(self.parts.iter().map(|it| &it.common))
    }

    /// Every named block, in the order of the sorts
    pub fn blocks(&self) -> impl Iterator<Item = &Common> {
        let kinds = self.kinds.iter().map(|it| &it.common);
        let states = self.states.iter().map(|it| &it.common);
        let parts = self.parts.iter().map(|it| &it.common);
        let facts = self.facts.iter().map(|it| &it.common);
        let causes = self.causes.iter().map(|it| &it.common);
        let conditions = self.conditions.iter().map(|it| &it.common);
        let symptoms = self.symptoms.iter().map(|it| &it.effect.common);
        let measures = self.measures.iter().map(|it| &it.common);
        let checks = self.checks.iter().map(|it| &it.common);
        let remedies = self.remedies.iter().map(|it| &it.common);
        kinds
            .chain(states)
            .chain(parts)
            .chain(facts)
            .chain(causes)
            .chain(conditions)
            .chain(symptoms)
            .chain(measures)
            .chain(checks)
            .chain(remedies)
    }
}
