// Package ranges holds the usual range and the limits of each measured sign for each class of horse, with a source and
// an evidence word on every limit, and lays a practice's own file over them. A range belongs to one class: where no row
// is held, Absent says why, and no row of another class is borrowed.
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
//	usual_evidence     published, common practice or from memory; a practice's file may leave it empty
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
// Evidence is never stronger than its source: weight A or B, read, may be published; C and the habits of the trade are
// common practice; the rest is from memory. A source that speaks of the horse, without a size or an age, is published
// for the adult light horse and common practice when read for another size or age; one that speaks of the foal without
// an age likewise for a foal of a known age. Limits of a practice's file are the practice's own, whatever the cell says.
package ranges
