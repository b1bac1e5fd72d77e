//! Numbers that stand for the blocks of a model, a type for each sort.

macro_rules! ids {
    ($( $(#[$doc:meta])* $id:ident; )*) => {
        $(
            $(#[$doc])*
            #[derive(Clone, Copy, Debug, Eq, Hash, Ord, PartialEq, PartialOrd)]
            pub struct $id(pub usize);
        )*
    };
}

ids! {
    /// A kind of cause
    KindId;
    /// A state of the machine
    StateId;
    /// A part
    PartId;
    /// A fact
    FactId;
    /// A cause
    CauseId;
    /// A condition
    ConditionId;
    /// A symptom
    SymptomId;
    /// A measure
    MeasureId;
    /// A check
    CheckId;
    /// A remedy
    RemedyId;
}
