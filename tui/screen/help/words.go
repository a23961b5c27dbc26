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
			{"does not", "it never diagnoses and never names a drug or a dose; the veterinarian decides, and the label and local rules come first"},
		}},
		{"levels", []entry{
			{ranges.LevelUsual.String(), "inside the range that is held for the class of this horse"},
			{ranges.LevelNote.String(), "outside what is usual, and short of a limit at which somebody must act; written " + theme.Mark(ranges.LevelNote) + " in tables"},
			{ranges.LevelRecheck.String(), "take it again: at once, or after 10 to 15 minutes at rest; written " + theme.Mark(ranges.LevelRecheck)},
			{ranges.LevelTell.String(), "tell the veterinarian, who says what it means; written " + theme.Mark(ranges.LevelTell)},
		}},
		{"words", []entry{
			{"step", "one question of the exam, at one or more sites"},
			{"routine", "an ordered list of steps"},
			{"finding", "what was written down for a step and site"},
			{"not done", "a step passed over, with its reason; there is never a silent gap"},
			{"visit", "one horse on one occasion"},
			{"entry", "one line of the record: when, by whom, what; it is never changed, only corrected by a later entry"},
			{"remark", "what the program says about a finding: level, range, source, reason"},
			{"range", "what is held for horses of this class, with its source; where none is held, the screen says so"},
			{"own range", "what is usual for this horse, from at least four earlier visits; it stands beside the published range, never in its place"},
			{"class", "kind, age and size at the visit; a foal, a donkey and a draft horse have ranges of their own"},
		}},
		{"how sure a range is", []entry{
			{ranges.Published.String(), "read in a paper, a textbook, or at a university or professional body"},
			{ranges.PracticePage.String(), "read on the page of a practice, a charity or a company"},
			{ranges.CommonPractice.String(), "a habit of the trade without a source of weight"},
			{ranges.FromMemory.String(), "known, but not read in a source yet"},
			{ranges.PracticeOwn.String(), "from this practice's own file"},
		}},
		{"signs", []entry{
			{sign.Cursor, "the line under the cursor"},
			{sign.Done, "done"},
			{sign.NotDone, "not done, with a reason"},
			{sign.Left, "left: neither done nor passed over yet"},
			{"!", "before a horse: handling cautions"},
		}},
		{"where the record is", []entry{
			{"folder", "loosebox in the data folder of your system ($XDG_DATA_HOME, or what Windows and macOS use); --data or LOOSEBOX_DATA names another"},
			{"safe", "every accepted answer is on the disk before the screen moves on; a visit that was cut off is offered again at the next start"},
			{"health", "loosebox check reads every line of the record and says whether it is whole"},
		}},
	}
}
