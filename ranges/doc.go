// Package ranges holds the usual range and the limits of each measured sign for each class of horse, with a source and
// an evidence word on every limit, and lays a practice's own file over them. A class that was never measured is lent the
// row of another one, named in lent.csv with the reason; its evidence is then common practice at most, and Row.From says
// whose row it is. Where nothing can be lent, Absent says why.
//
// # Files
//
// The built-in rows are CSV files in tables, one for a body system; a practice's own file has the same columns. The
// first line that is no comment names the columns, in this order; lines that begin with # are comments.
//
//	measure            identity of the step: temp.rectal heart.rate breath.rate gum.refill skin.tent
//	class              words of a Class, as Classes lists them
//	unit               C or F for a temperature, /min for a rate, s for a time
//	usual_low          lowest and highest usual value, both inside usual; at least one of the two
//	usual_high
//	usual_source       a code of sources.csv; in a practice's file also free text
//	usual_evidence     one of the four tiers below; a practice's file may leave it empty
//	recheck_low        below it: take the measure again
//	recheck_high       at or above it: take the measure again
//	recheck_source
//	recheck_evidence
//	tell_low           below it: tell the veterinarian
//	tell_high          at or above it: tell the veterinarian
//	tell_source
//	tell_evidence
//	words              one line for a person: what was measured, how sure, or why a limit is absent
//
// A source or evidence cell "A|B" speaks of the low limit and of the high limit. Numbers have at most one decimal, the
// step of the instruments; "above 3 s" is therefore written as from 3.1.
//
// # Evidence
//
// Evidence is one of four tiers, and never stronger than the tier of its source: published (a paper, textbook,
// university, professional body, or a specialist named with degree and place; read), practice page (a practice, charity,
// company or vet-written press), common practice, and from memory. A source that speaks of the horse, without a size or an
// age, is published for the adult light horse and common practice when read for another size or age; a limit that is only
// drawn from published figures (a mean and two standard deviations, just outside a printed range) is common practice too.
// Limits of a practice's file are the practice's own, whatever the cell says.
package ranges
