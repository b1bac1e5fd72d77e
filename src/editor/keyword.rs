//! The words of the language, each with what it says and an example: the one table for whoever explains them.

use crate::syntax::tree::Sort;

/// A word of the language
#[derive(Clone, Copy, Debug)]
pub struct Keyword {
    /// The word
    pub word: &'static str,
    /// Where it can stand
    pub stands: Stands,
    /// What it says, in a sentence or two
    pub says: &'static str,
    /// It in use
    pub example: &'static str,
}

/// Where a word of the language can stand
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Stands {
    /// At the first column: it declares something
    Head(Sort),
    /// At the start of a clause
    Clause,
    /// Further on in a line
    Within,
}

const fn head(sort: Sort, word: &'static str, says: &'static str, example: &'static str) -> Keyword {
    Keyword { word, stands: Stands::Head(sort), says, example }
}

const fn clause(word: &'static str, says: &'static str, example: &'static str) -> Keyword {
    Keyword { word, stands: Stands::Clause, says, example }
}

const fn within(word: &'static str, says: &'static str, example: &'static str) -> Keyword {
    Keyword { word, stands: Stands::Within, says, example }
}

/// What a word says where it stands; in another place what comes nearest
pub fn keyword(word: &str, at_first_column: bool, starts_clause: bool) -> Option<&'static Keyword> {
    let rank = |keyword: &&Keyword| match keyword.stands {
        Stands::Head(_) => u8::from(!at_first_column) * 3,
        Stands::Clause => u8::from(!starts_clause) * 2,
        Stands::Within => 1,
    };
    KEYWORDS.iter().filter(|keyword| keyword.word == word).min_by_key(rank)
}

/// Every word of the language
#[rustfmt::skip] // One row, one word.
pub const KEYWORDS: &[Keyword] = &[
    head(Sort::Scale, "scale", "Says what the words of frequency mean, in per cent. There is one scale for all files.", "scale\n    always 98%   often 60%"),
    head(Sort::Kind, "kind", "Declares a kind of cause, and the party it counts against: operator, owner, fitter, maker, site or nobody.", "kind upkeep: \"upkeep put off\" counts against owner"),
    head(Sort::State, "state", "Declares a state the machine can be in when it is looked at. Their order is the one that cannot be gone back.", "state cleaned: \"scraped and dry\""),
    head(Sort::Part, "part", "Declares a part of the machine: one of it, one for each side, or several numbered along each side.", "part roller, each side, numbered 5 to 9: \"bottom roller\""),
    head(Sort::Fact, "fact", "Declares something that is so about this machine and changes which rules hold. It is no fault.", "fact chain_type: \"kind of track chain\"\n    choices sealed 80%, dry 20%"),
    head(Sort::Cause, "cause", "Declares what can go wrong at the root. It has a kind and a chance of being there before anything is seen.", "cause yoke_bent, each side: \"idler yoke bent\"\n    kind    damage\n    chance  0.4% of sides"),
    head(Sort::Condition, "condition", "Declares a hidden state between causes and symptoms. It cannot be seen itself, only by what it brings about.", "condition joints_dry, each side: \"joints without oil\"\n    with    seals_gone: often\n    without 3%"),
    head(Sort::Symptom, "symptom", "Declares what can be seen, heard, felt or reckoned from readings, in grades, the normal one among them.", "symptom oil_streak, each roller: \"oil run down the roller's end\"\n    with    seal_failed: always\n    without 1%"),
    head(Sort::Measure, "measure", "Declares a dimension that is read with an instrument, or reckoned from other measures.", "measure link_height, each side, of chain: \"link height\"\n    unit mm   range 60 to 160   error 0.5"),
    head(Sort::Dimensions, "dimensions", "Gives, for one size class, the sizes of measures with the per cent worn that each means.", "dimensions medium: \"20 t class; invented figures\"\n    link_height 114 mm 0%, 103 mm 100%"),
    head(Sort::Life, "life", "Gives, for one size class, the hours in which measures go from new to 100 % worn.", "life medium: \"mixed dozing; invented figures\"\n    link_height 5000 h"),
    head(Sort::Check, "check", "Declares a procedure that shows symptoms or takes measures, or brings the machine into a state.", "check sight_idler, each side: \"Sight along the idler\"\n    shows   flange_worn\n    takes   2 min"),
    head(Sort::Remedy, "remedy", "Declares what is done about a cause, a condition or a worn part.", "remedy move_shims, each side: \"Move the shims\"\n    fixes   idler_off\n    takes   3 h"),

    clause("grades", "Names the grades of the block. Commas make a ladder, the normal grade first; `|` parts grades of which neither is worse, the one for both last; `<` and `>` make two arms with the normal grade between them. Without this clause the grades are `no` and `yes`.", "grades none, inboard | outboard, both"),
    clause("with", "Says what a cause or condition brings about, and how often: of a hundred places that have it, so many show the grade because of it. What is not named stays normal. The first line that holds counts, for one grade of one parent.", "with idler_off inboard: usually inboard, seldom both"),
    clause("without", "Says how many places show a grade with none of the causes and conditions of this block. The first line that holds counts.", "without 2% inboard, 1% both where idler_age is late"),
    clause("chance", "Says how often a cause is there before anything is seen, and among what that is counted. The first line that holds counts; where none holds it is never there.", "chance 5% of sides where impact is high"),
    clause("choices", "Names what a fact can be, with the share of machines of each, which stands in where a case does not tell. A line adds up to 100 %.", "choices sealed 80%, dry 20% where impact is low"),
    clause("forms", "Names what a cause can look like when it is there. Forms exclude one another and are equally likely.", "forms upper, lower"),
    clause("only", "`only where` says when the block exists at all. Where the test fails a cause is absent and a symptom normal. In a remedy it can also ask for a symptom: `bushing_cracked is none`.", "only where chain_type is sealed"),
    clause("kind", "Says what kind of cause it is, and so against whom it counts.", "kind upkeep"),
    clause("basis", "Says where the block comes from: `common practice`, an `estimate`, or the title of a published source.", "basis common practice"),
    clause("text", "Says in a sentence or two what the thing is, or how it is done.", "text \"The yoke holds the idler in the frame.\""),
    clause("from", "Gives the grade of a symptom, or the choice of a fact, by a reading. The first one named has no bound, each other starts at its own.", "from flange_gap: ample, small under 5 mm, none under 1 mm"),
    clause("counts", "Gives the grade by how many joints the case names, or by their share.", "counts one 1, several 2, most over 40%"),
    clause("seen", "Says how often the symptom shows in practice, on sound and faulty machines together, to hold the figures of the rules against.", "seen 12% of sides"),
    clause("gives", "`gives way to` uses this symptom only while the other has no finding, where both come from the same readings.", "gives way to flange_worn"),
    clause("unit", "Says in what a measure is read.", "unit mm"),
    clause("range", "Says between what a reading can lie; what lies outside is a slip of the pen.", "range 60 to 160"),
    clause("error", "Says by how much one careful reading strays: one standard deviation.", "error 0.5"),
    clause("needs", "Names tools or instruments.", "needs \"torch\", \"mirror\""),
    clause("is", "Reckons a measure from others, where it is not read itself. The first line that holds counts.", "is new flange_gap - loss link_height - half of loss roller_tread"),
    clause("against", "Holds a reading against what others make of it. Where the two lie farther apart than their errors allow, that is told; it does not weigh.", "against gap_by_sum tolerance 1 mm"),
    clause("more", "Says what it mostly comes from when a reading is more than what it is held against.", "more \"The roller is smaller than the one that was measured.\""),
    clause("less", "Says what it mostly comes from when a reading is less than what it is held against.", "less \"Earth stands between flange and boss.\""),
    clause("advice", "Says what to mind once the measure is read. Every line that holds is told.", "advice \"Set it as packed.\" where packing_ground is sticky"),
    clause("tell", "Says how a person can tell a fact.", "tell \"Look for an oil plug in the end of the pin.\""),
    clause("takes", "Says how long it takes.", "takes 4 min"),
    clause("shows", "Names the symptoms that a check shows. What was looked at and not noted counts as normal.", "shows flange_worn, idler_cracked"),
    clause("reads", "Names the measures that a check takes.", "reads link_height"),
    clause("while", "Names the state the machine must be in for the check; for a remedy, the state that is brought about once for all work of a visit at that place.", "while cleaned"),
    clause("makes", "Names the state that the check brings about.", "makes cleaned"),
    clause("ends", "Names the states that the check puts an end to.", "ends packed, hot"),
    clause("access", "Says how the machine must stand: `parked`, `moved`, `lifted`, or `records` where only papers are read.", "access parked"),
    clause("caution", "Says what to beware of. It is told before the check or remedy, and several may be given.", "caution \"Blade on the ground, engine off, key out.\""),
    clause("fixes", "Names the causes and conditions that a remedy does away with.", "fixes idler_off"),
    clause("finds", "`finds out` says that the remedy is a look: it finds out what is wrong and mends nothing. What it finds may change what is mended, so a plan has it done first in a visit.", "finds out"),
    clause("renews", "Names the measures that a remedy makes new, with the per cent worn from which that is due, and behind `to` the one past which it comes too late.", "renews roller_tread from 85%"),
    clause("spares", "Names other remedies that are needless at that place once this one is done.", "spares turn_bushings, reseal_joints"),
    clause("lasts", "Names the measure that must last for the remedy to pay: so much of the life that is won, which is so much of the first. The first line that holds counts.", "lasts link_height 55% of 85%"),
    clause("costs", "Says what the remedy costs, in the units of the rules.", "costs 150"),
    clause("within", "Says within how many working hours the remedy is due; `0 h` forbids work until it is done.", "within 100 h"),
    clause("left", "Says what happens if nothing is done, and with `loses` what that costs.", "left \"Flange and rail go on wearing.\" loses 4000"),
    clause("rubs", "Names the part that this one wears against. The two make a contact pair.", "rubs chain"),
    clause("spread", "Says by how much the life of one machine differs from another's on the same site: one standard deviation.", "spread 18%"),

    within("each", "Gives the block a place on each side, or at each of a numbered part.", "symptom oil_streak, each roller: \"oil run down\""),
    within("side", "The left or the right side, as the operator sees it, facing forward.", "with slope_work toward this side: often inboard"),
    within("numbered", "Says that there are several of the part along a side, and how many there can be.", "part roller, each side, numbered 5 to 9: \"bottom roller\""),
    within("of", "Names the part that a block is seen on, or what a share is counted among.", "chance 5% of sides"),
    within("against", "Names the party that a kind of cause counts against.", "kind upkeep: \"upkeep put off\" counts against owner"),
    within("counts", "Names the party that a kind of cause counts against.", "kind upkeep: \"upkeep put off\" counts against owner"),
    within("where", "Says when the line holds: a test of facts, of hours, or of where the place lies.", "without 2% where impact is high and side is left"),
    within("and", "Joins tests that must all hold, or two parents that bring something about only together.", "with frame_bent and shims_gone: often"),
    within("or", "Names another word of which any will do.", "without 2% where impact is moderate or high"),
    within("is", "Asks whether a fact is one of the choices named, or where a place lies.", "without 2% where roller is first or last"),
    within("are", "The same as `is`, for names in the plural.", "without 2% where bushings are turned"),
    within("not", "Turns the test round.", "without 2% where impact is not low"),
    within("over", "Holds for what is more than the figure.", "without 2% where hours over 8000"),
    within("under", "Holds for what is less than the figure.", "without 2% where hours under 2000"),
    within("on", "`on either side`, `on any roller`: each of those places brings it about by itself. Needed where the parent has more places than the block.", "with pivot_worn on either side: usually"),
    within("either", "`on either side`: the left and the right one each bring it about by themselves.", "with pivot_worn on either side: usually"),
    within("any", "`on any roller`: each one of them brings it about by itself.", "with seal_failed on any roller: usually"),
    within("toward", "`toward one side` in a `chance` gives a cause a left and a right form; a block of each side sees it as `toward this side` or `toward the other side`.", "with slope_work toward this side: often inboard"),
    within("common", "`common practice`: what the trade commonly holds, without a source that could be named.", "basis common practice"),
    within("practice", "`common practice`: what the trade commonly holds, without a source that could be named.", "basis common practice"),
    within("estimate", "A figure put down by judgement, to be corrected by whoever knows better.", "basis estimate"),
    within("loses", "Says what is lost if nothing is done, in the units of the rules.", "left \"It seizes.\" loses 4000"),
    within("from", "The per cent worn from which the remedy is due.", "renews roller_tread from 85%"),
    within("to", "Parts the least from the most.", "range 60 to 160"),
    within("worn", "How far a measure has gone from new to the size at which work is due, in per cent.", "from worn link_height: low, high over 80%"),
    within("loss", "What has gone from the new size of a measure.", "is loss link_height"),
    within("new", "The new size of a measure, from the dimensions of the size class.", "is new flange_gap"),
    within("limit", "The size of a measure at 100 % worn, from the dimensions of the size class.", "is new link_height - limit link_height"),
    within("pace", "Wear per hour over what `life` gives: 1 is the pace expected. Silent under 20 % worn.", "from pace link_height: usual, fast over 1.5"),
    within("life", "The hours to 100 % worn of a measure, from the `life` of the size class.", "from hours of chain / life link_height: early, late over 80%"),
    within("hours", "The hours on the meter in a test; in an expression, `hours of` a part since it went on.", "from hours of chain / life link_height: early, late over 80%"),
    within("since", "`since turned` counts the hours since the part was turned, or went on if it never was.", "from hours of chain since turned / life bushing_rev: early, due over 80%"),
    within("turned", "`since turned` counts the hours since the part was turned, or went on if it never was.", "from hours of chain since turned / life bushing_rev: early, due over 80%"),
    within("turn", "`turn of` a part: whether the case says that it was turned.", "from turn of chain: first_side, turned"),
    within("half", "`half of` an expression; `front half of` and `rear half of` a row of parts.", "is half of loss roller_tread"),
    within("across", "Gathers the figures of several places into one; with `and` instead, figures named one by one.", "from spread of worn roller_tread across rollers: even, uneven over 20%"),
    within("mean", "The mean of a figure across several places.", "from mean of worn roller_tread across rollers: low, high over 80%"),
    within("largest", "The largest of a figure across several places.", "from largest of worn roller_tread across rollers: low, high over 80%"),
    within("smallest", "The smallest of a figure across several places.", "from smallest of worn roller_tread across rollers: low, high over 80%"),
    within("spread", "The largest less the smallest of a figure across several places.", "from spread of worn roller_tread across rollers: even, uneven over 20%"),
    within("front", "The half of a row toward the front of the machine.", "without 2% where roller is in front half"),
    within("rear", "The half of a row toward the rear of the machine.", "without 2% where roller is in rear half"),
    within("first", "The foremost of a row of parts.", "without 2% where roller is first"),
    within("last", "The rearmost of a row of parts.", "without 2% where roller is last"),
    within("after", "`after that … times as fast`: how wear goes on past the last size of the row.", "bushing_rev 63 mm 0%, 55 mm 100%, after that 2.5 times as fast"),
    within("tolerance", "By how much a new size differs from the book, or a reading from what it is held against: one standard deviation.", "bushing_rev 63 mm 0%, 55 mm 100% tolerance 0.3 mm"),
];
