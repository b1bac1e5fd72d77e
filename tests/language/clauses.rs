//! Every clause, read alone: the words of the line, and the tree they must become.

use crate::language::said::{clauses, declaration};
use crate::language::shown::clause;
use rstest::rstest;

#[rustfmt::skip] // One row, one line.
#[rstest]
// Grades in their three shapes
#[case("grades none, slight, heavy", "grades none , slight , heavy")]
#[case("grades none, inboard | outboard, both", "grades none , inboard | outboard , both")]
#[case("grades far_in < toed_in < straight > toed_out", "grades far_in < toed_in < straight > toed_out")]
#[case("grades tight<right>slack", "grades tight < right > slack")]
// Lines
#[case("with bent: usually", "with [bent] usually>")]
#[case("with bent: 2.5%", "with [bent] 2.5%>")]
#[case("with bent: often inboard, sometimes outboard", "with [bent] often>inboard sometimes>outboard")]
#[case("with toe toed_in: 60% inboard", "with [toe:toed_in] 60%>inboard")]
#[case("with pivot on either side: usually", "with [pivot@either] usually>")]
#[case("with play heavy on any roller: usually", "with [play:heavy@any-roller] usually>")]
#[case("with slope toward this side: sometimes", "with [slope@this] sometimes>")]
#[case("with slope toward the other side: sometimes", "with [slope@other] sometimes>")]
#[case("with dry most and slope: often", "with [dry:most & slope] often>")]
#[case("with a on either side and b on any roller and c: 1%", "with [a@either & b@any-roller & c] 1%>")]
#[case("with bent: often slight where type is dry or sealed", "with [bent] often>slight if type=dry/sealed")]
#[case("with bent: often only where type is dry", "with [bent] often> if type=dry")]
#[case("without 2% inboard, 1% both", "without [] 2%>inboard 1%>both")]
#[case("without seldom where bushings are turned", "without [] seldom> if bushings=turned")]
// Chances and choices
#[case("chance 5% of sides", "chance 5% of=sides")]
#[case("chance seldom of machines", "chance seldom of=machines")]
#[case("chance 6% of machines, toward one side", "chance 6% of=machines toward")]
#[case("chance 0.3% of rollers where roller is first", "chance 0.3% of=rollers if roller=first")]
#[case("chance 6% of machines, toward one side where a is b", "chance 6% of=machines toward if a=b")]
#[case("choices dry 10%, sealed 90%", "choices dry=10 sealed=90")]
#[case("choices a 25%, b 75% where x is y and z is not w", "choices a=25 b=75 if x=y & z!=w")]
#[case("forms upper, lower", "forms upper lower")]
// Tests
#[case("only where rollers over 6", "gate if rollers>6")]
#[case("only where hours under 2000", "gate if hours<2000")]
#[case("only where side is left", "gate if side=left")]
#[case("only where roller is first or last", "gate if roller=first/last")]
#[case("only where roller is in front half", "gate if roller=FRONT")]
#[case("only where roller is not in rear half", "gate if roller!=REAR")]
#[case("only where bushings are not turned", "gate if bushings!=turned")]
#[case("only where carriers is 0", "gate if carriers=0")]
// Readings and counts
#[case("from gap: ample, small under 5 mm, none under 1 mm", "from gap: ample small<5mm none<1mm")]
#[case("from worn height: early, late over 80%", "from (worn height): early late>80%")]
#[case("from turn of chain: first_side, turned", "from (turn chain): first_side turned")]
#[case("from sag: right, tight under 35 mm, slack over 60 mm", "from sag: right tight<35mm slack>60mm")]
#[case("counts one 1, several 2, most over 40% of joints", "counts one>=1 several>=2 most>40% of joints")]
#[case("counts one 1 of links or pins", "counts one>=1 of links pins")]
#[case("gives way to other_one", "gives way other_one")]
#[case("is new gap - loss height", "is (- (new gap) (loss height))")]
#[case("is new gap where type is dry", "is (new gap) if type=dry")]
#[case("is smallest of a and b where type is dry and side is left", "is (smallest a & b) if type=dry & side=left")]
#[case("against new gap - loss height", "against (- (new gap) (loss height))")]
#[case("against gap_by_sum tolerance 1.5 mm", "against gap_by_sum tolerance=1.5mm")]
#[case("more \"the tread was misread\"", "more \"the tread was misread\"")]
#[case("less \"the roller is smaller\"", "less \"the roller is smaller\"")]
#[case("advice \"set it packed\"", "advice \"set it packed\"")]
#[case("advice \"set it packed\" where ground is sticky", "advice \"set it packed\" if ground=sticky")]
#[case("unit mm", "unit mm")]
#[case("unit N·m", "unit N·m")]
#[case("unit °C", "unit °C")]
#[case("range -5 to 60.5", "range -5..60.5")]
#[case("error 0.5", "error 0.5")]
#[case("spread 18%", "spread 18")]
#[case("seen 12% of sides", "seen 12 of sides")]
#[case("seen 0.5 %", "seen 0.5 of -")]
// Words about a block
#[case("kind upkeep", "kind upkeep")]
#[case("basis common practice", "basis practice")]
#[case("basis estimate", "basis estimate")]
#[case("basis \"A handbook, table 3\"", "basis \"A handbook, table 3\"")]
#[case("text \"What it is: a 'thing', # and all.\"", "text \"What it is: a 'thing', # and all.\"")]
// Checks and remedies
#[case("shows bent, cracked", "shows bent cracked")]
#[case("reads height", "reads height")]
#[case("while cleaned", "while cleaned")]
#[case("makes cleaned", "makes cleaned")]
#[case("ends packed, hot", "ends packed hot")]
#[case("takes 4 min", "takes 4min")]
#[case("takes 1.5h", "takes 1.5h")]
#[case("needs \"torch\", \"mirror\"", "needs \"torch\" \"mirror\"")]
#[case("access parked", "access parked")]
#[case("caution \"Stand clear.\"", "caution \"Stand clear.\"")]
#[case("tell \"Look.\"", "tell \"Look.\"")]
#[case("fixes a, b, c", "fixes a b c")]
#[case("finds out", "finds out")]
#[case("on  site", "on site")]
#[case("sets right", "sets right")]
#[case("sets  right last", "sets right last")]
#[case("spans 4 links between pins", "spans 4 links pins")]
#[case("anew since turned", "anew")]
#[case("finds  out # nothing is mended", "finds out")]
#[case("renews tread from 85%, height from 95%", "renews tread>=85 height>=95")]
#[case("renews tread from 85% to 115%, height from 95%", "renews tread>=85..115 height>=95")]
#[case("spares a, b", "spares a b")]
#[case("lasts height 55% of 85%", "lasts height 55 of=85")]
#[case("lasts height 100% of 85% where impact is low", "lasts height 100 of=85 if impact=low")]
#[case("costs 150", "costs 150")]
#[case("within 100 h", "within 100h")]
#[case("left \"It goes on.\" loses 4000", "left \"It goes on.\" loses=4000")]
#[case("left \"It goes on.\"", "left \"It goes on.\"")]
#[case("rubs chain", "rubs chain")]
#[case("drawn as front wheel", "drawn front")]
#[case("drawn as rear wheel where layout is elevated", "drawn rear if layout=elevated")]
#[case("drawn as raised  wheel", "drawn raised")]
#[case("drawn as drive wheel", "drawn drive")]
#[case("drawn as hub", "drawn hub")]
#[case("drawn as bottom row", "drawn bottom")]
#[case("drawn as top row of 2", "drawn top 2")]
#[case("drawn along frame 20%", "drawn frame 20")]
#[case("drawn along top run 80%", "drawn run 80")]
fn a_clause_reads_to(#[case] line: &str, #[case] expected: &str) {
    let read: Vec<String> = clauses(line).iter().map(clause).collect();
    assert_eq!(read, [expected]);
}

#[rustfmt::skip] // One row, one line.
#[rstest]
#[case("link_height 114 mm 0%, 103 mm 100%", "row link_height 114mm@0 103mm@100")]
#[case("link_height 9 mm 0%, 5 mm 100%, after that 2.5 times as fast", "row link_height 9mm@0 5mm@100 after=2.5")]
#[case("gap 20 mm tolerance 0.3 mm where a is b", "row gap 20mm tolerance=0.3mm if a=b")]
#[case("gap 2 mm 0%, 1 mm 90%, after that 2 times as fast tolerance 0.1 mm", "row gap 2mm@0 1mm@90 after=2 tolerance=0.1mm")]
#[case("link_height 3500 h where abrasion is high", "row link_height 3500h if abrasion=high")]
#[case("always 98%", "row always 98%")]
fn a_row_reads_to(#[case] line: &str, #[case] expected: &str) {
    for head in ["scale", "dimensions medium: \"invented\"", "life medium: \"invented\""] {
        let declaration = declaration(&format!("{head}\n    {line}\n"));
        let read: Vec<String> = declaration.clauses.iter().map(|it| clause(&it.value)).collect();
        assert_eq!(read, [expected]);
    }
}
