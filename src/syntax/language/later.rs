//! Words that stand further on in a line.

/// A word of the language that starts neither block nor clause where it is meant so
#[derive(Clone, Copy, Debug)]
pub struct LaterWord {
    /// The word
    pub word: &'static str,
    /// What it says, in a sentence or two
    pub says: &'static str,
    /// It in use
    pub example: &'static str,
}

/// Every such word
#[rustfmt::skip] // One row, one word.
pub const LATER: &[LaterWord] = &[
    LaterWord { word: "opposites", says: "At the first column: words that a `mirror` line swaps, in all files.", example: "opposites \"inboard\" and \"outboard\"" },
    LaterWord { word: "hazard", says: "At the first column: what can hurt, with the words that tell of it, in all files. A check or a remedy that tells of it must carry a `caution` against it.", example: "hazard \"lifting\": \"lift\", \"jack\"" },
    LaterWord { word: "beware", says: "Behind the words of a `hazard`: the words of which a caution against it says one, or how such words start.", example: "hazard \"lifting\": \"lift\", \"jack\" beware \"crib\", \"block\"" },
    LaterWord { word: "for", says: "Behind the basis of a whole file: the sorts of blocks that it is for.", example: "basis estimate for remedy" },
    LaterWord { word: "times", says: "The factor by which the rows of another size class are multiplied.", example: "as medium times 0.9" },
    LaterWord { word: "nearest", says: "The figure that products are rounded to a multiple of.", example: "as medium times 0.9, to the nearest 50 h" },
    LaterWord { word: "each", says: "Gives the block a place on each side, or at each of a numbered part.", example: "symptom oil_streak, each roller: \"oil run down\"" },
    LaterWord { word: "side", says: "The left or the right side, as the operator sees it, facing forward.", example: "with slope_work toward this side: often inboard" },
    LaterWord { word: "numbered", says: "Says that there are several of the part along a side, and how many there can be.", example: "part roller, each side, numbered 5 to 9: \"bottom roller\"" },
    LaterWord { word: "of", says: "Names the part that a block is seen on, or what a share is counted among.", example: "chance 5% of sides" },
    LaterWord { word: "against", says: "Names the party that a kind of cause counts against.", example: "kind upkeep: \"upkeep put off\" counts against owner" },
    LaterWord { word: "counts", says: "Names the party that a kind of cause counts against.", example: "kind upkeep: \"upkeep put off\" counts against owner" },
    LaterWord { word: "where", says: "Says when the line holds: a test of facts, of hours, or of where the place lies.", example: "without 2% where impact is high and side is left" },
    LaterWord { word: "slowly", says: "Says that a line shows only with time: a tenth as often while its cause is recent.", example: "with packing: usually sharp slowly" },
    LaterWord { word: "and", says: "Joins tests that must all hold, or two parents that bring something about only together.", example: "with frame_bent and shims_gone: often" },
    LaterWord { word: "or", says: "Names another word of which any will do.", example: "without 2% where impact is moderate or high" },
    LaterWord { word: "is", says: "Asks whether a fact is one of the choices named, or where a place lies.", example: "without 2% where roller is first or last" },
    LaterWord { word: "are", says: "The same as `is`, for names in the plural.", example: "without 2% where bushings are turned" },
    LaterWord { word: "not", says: "Turns the test round.", example: "without 2% where impact is not low" },
    LaterWord { word: "over", says: "Holds for what is more than the figure.", example: "without 2% where hours over 8000" },
    LaterWord { word: "under", says: "Holds for what is less than the figure.", example: "without 2% where hours under 2000" },
    LaterWord { word: "on", says: "`on either side`, `on any roller`: each of those places brings it about by itself. Needed where the parent has more places than the block.", example: "with pivot_worn on either side: usually" },
    LaterWord { word: "either", says: "`on either side`: the left and the right one each bring it about by themselves.", example: "with pivot_worn on either side: usually" },
    LaterWord { word: "any", says: "`on any roller`: each one of them brings it about by itself.", example: "with seal_failed on any roller: usually" },
    LaterWord { word: "toward", says: "`toward one side` in a `chance` gives a cause a left and a right form; a block of each side sees it as `toward this side` or `toward the other side`.", example: "with slope_work toward this side: often inboard" },
    LaterWord { word: "common", says: "`common practice`: what the trade commonly holds, without a source that could be named.", example: "basis common practice" },
    LaterWord { word: "practice", says: "`common practice`: what the trade commonly holds, without a source that could be named.", example: "basis common practice" },
    LaterWord { word: "estimate", says: "A figure put down by judgement, to be corrected by whoever knows better.", example: "basis estimate" },
    LaterWord { word: "loses", says: "Says what is lost if nothing is done, in the units of the rules.", example: "left \"It seizes.\" loses 4000" },
    LaterWord { word: "from", says: "The per cent worn from which the remedy is due.", example: "renews roller_tread from 85%" },
    LaterWord { word: "to", says: "Parts the least from the most.", example: "range 60 to 160" },
    LaterWord { word: "worn", says: "How far a measure has gone from new to the size at which work is due, in per cent.", example: "from worn link_height: low, high over 80%" },
    LaterWord { word: "loss", says: "What has gone from the new size of a measure.", example: "is loss link_height" },
    LaterWord { word: "new", says: "The new size of a measure, from the dimensions of the size class.", example: "is new flange_gap" },
    LaterWord { word: "limit", says: "The size of a measure at 100 % worn, from the dimensions of the size class.", example: "is new link_height - limit link_height" },
    LaterWord { word: "pace", says: "Wear per hour over what `life` gives: 1 is the pace expected. Silent under 20 % worn.", example: "from pace link_height: usual, fast over 1.5" },
    LaterWord { word: "life", says: "The hours to 100 % worn of a measure, from the `life` of the size class.", example: "from hours of chain / life link_height: early, late over 80%" },
    LaterWord { word: "hours", says: "The hours on the meter in a test; in an expression, `hours of` a part since it went on.", example: "from hours of chain / life link_height: early, late over 80%" },
    LaterWord { word: "since", says: "`since turned` counts the hours since the part was turned, or went on if it never was.", example: "from hours of chain since turned / life bushing_rev: early, due over 80%" },
    LaterWord { word: "turned", says: "`since turned` counts the hours since the part was turned, or went on if it never was.", example: "from hours of chain since turned / life bushing_rev: early, due over 80%" },
    LaterWord { word: "turn", says: "`turn of` a part: whether the case says that it was turned.", example: "from turn of chain: first_side, turned" },
    LaterWord { word: "half", says: "`half of` an expression; `front half of` and `rear half of` a row of parts.", example: "is half of loss roller_tread" },
    LaterWord { word: "across", says: "Gathers the figures of several places into one; with `and` instead, figures named one by one.", example: "from spread of worn roller_tread across rollers: even, uneven over 20%" },
    LaterWord { word: "mean", says: "The mean of a figure across several places.", example: "from mean of worn roller_tread across rollers: low, high over 80%" },
    LaterWord { word: "largest", says: "The largest of a figure across several places.", example: "from largest of worn roller_tread across rollers: low, high over 80%" },
    LaterWord { word: "smallest", says: "The smallest of a figure across several places.", example: "from smallest of worn roller_tread across rollers: low, high over 80%" },
    LaterWord { word: "lead", says: "A figure of the left less that of the right: how far the left is ahead.", example: "from lead of pace link_height across sides: left over 0.35, alike, right under -0.35" },
    LaterWord { word: "spread", says: "The largest less the smallest of a figure across several places.", example: "from spread of worn roller_tread across rollers: even, uneven over 20%" },
    LaterWord { word: "front", says: "The half of a row toward the front of the machine.", example: "without 2% where roller is in front half" },
    LaterWord { word: "rear", says: "The half of a row toward the rear of the machine.", example: "without 2% where roller is in rear half" },
    LaterWord { word: "first", says: "The foremost of a row of parts.", example: "without 2% where roller is first" },
    LaterWord { word: "last", says: "The rearmost of a row of parts.", example: "without 2% where roller is last" },
    LaterWord { word: "after", says: "`after that … times as fast`: how wear goes on past the last size of the row.", example: "bushing_rev 63 mm 0%, 55 mm 100%, after that 2.5 times as fast" },
    LaterWord { word: "tolerance", says: "By how much a new size differs from the book, or a reading from what it is held against: one standard deviation.", example: "bushing_rev 63 mm 0%, 55 mm 100% tolerance 0.3 mm" },
];
