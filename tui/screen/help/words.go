package help

import (
	"loosebox/ranges"
	"loosebox/tui/theme"
)

type entry struct{ word, means string }

type block struct {
	heading string
	entries []entry
}

// blocks explain the program; they are the same on every screen.
func blocks(sign theme.Signs) []block {
	return []block{
		{"what this program is", []entry{
			{"does", "it records, measures, compares and reminds"},
			{"does not", "it never diagnoses and never names a drug or a dose; the veterinarian decides"},
		}},
		{"levels", []entry{
			{ranges.LevelUsual.String(), "inside the range for this kind of horse"},
			{ranges.LevelNote.String(), "outside usual, no action limit reached; written " + theme.Mark(ranges.LevelNote) + " in tables"},
			{ranges.LevelRecheck.String(), "measure again: now, or after 10 to 15 minutes at rest; written " + theme.Mark(ranges.LevelRecheck)},
			{ranges.LevelTell.String(), "tell the veterinarian, who says what it means; written " + theme.Mark(ranges.LevelTell)},
		}},
		{"words", []entry{
			{"step", "one question of the exam, at one or more sites"},
			{"routine", "an ordered list of steps"},
			{"finding", "the answer to a step at a site"},
			{"not done", "a step that was not done, with its reason"},
			{"visit", "one horse on one occasion"},
			{"entry", "one line from the record: when, who, what; corrected by a later entry, never changed"},
			{"remark", "what the program says about a finding: level, range, source, reason"},
			{"range", "the published range for this kind of horse, with its source"},
			{"this horse's range", "what is usual for this horse, from four earlier visits or more"},
			{"class", "kind, age and size at the visit; each class has its own ranges"},
		}},
		{"how sure a range is", []entry{
			{ranges.Published.String(), "from a paper, a textbook, a university or a professional body"},
			{ranges.PracticePage.String(), "from the page of a practice, a charity or a company"},
			{ranges.CommonPractice.String(), "common in the trade, without a strong source"},
			{ranges.FromMemory.String(), "known, not yet checked in a source"},
			{ranges.PracticeOwn.String(), "from a file of this practice"},
		}},
		{"signs", []entry{
			{sign.Cursor, "the line under the cursor"},
			{sign.Done, "done"},
			{sign.NotDone, "not done, with its reason; before a message: why the program did not do it"},
			{sign.Left, "to do: not answered yet"},
			{theme.Caution, "handling caution: of this horse, or of what you do now"},
		}},
		{"where the record is", []entry{
			{"folder", "in the data folder of your system; --data or LOOSEBOX_DATA names another"},
			{"safe", "every answer is saved at once; an interrupted visit is offered at the next start"},
			{"health", "loosebox check reads the whole record and finds any damage"},
		}},
	}
}
