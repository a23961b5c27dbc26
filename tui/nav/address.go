package nav

import (
	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/tui/keys"
)

// Name names a kind of screen.
type Name string

// The screens.
const (
	Home    Name = "home"
	Horse   Name = "horse"
	NewForm Name = "horse form"
	Start   Name = "start" // who, which routine, what the horse was doing
	Exam    Name = "exam"
	Review  Name = "review"
	Compare Name = "comparison"
	Trend   Name = "trend"
	Tally   Name = "count" // the tap screen alone
	Help    Name = "help"
	Again   Name = "again"   // the next check of an episode
	Episode Name = "episode" // of the horse, the newest one, or the one of the visit

	Sums     Name = "sums" // of a horse of the record, or of none
	Settings Name = "settings"
	Practice Name = "tap practice"

	After     Name = "after the exam" // hand-off, decision, procedures, watch: what is open and what is locked
	HandOff   Name = "hand-off"
	Decision  Name = "decision"
	Injection Name = "injection"
	Draw      Name = "blood draw"
	Watch     Name = "watch"
	Dangers   Name = "signs of danger"
	Record    Name = "for the record" // consent, who was there, a product under control
	Dose      Name = "earlier dose"   // from papers
	Due       Name = "due"
	Round     Name = "round"
	Rehearse  Name = "rehearse" // choose a case and a routine, then play it
	Marks     Name = "marks"    // of one rehearsal
	Progress  Name = "progress" // a person's rehearsals over time
	Class     Name = "class"    // of the set exams that were taken here
	Strike    Name = "strike"   // a whole visit, entered on the wrong horse
	Late      Name = "added later"
	SignOff   Name = "sign off"
	Order     Name = "order"   // the groups of a routine, to be moved
	Sheet     Name = "import"  // what the columns of a spreadsheet mean
	Tour      Name = "tour"    // the keys of an exam, once, for somebody new
	Share     Name = "share"   // several laptops, one record
	Settle    Name = "settle"  // what two laptops wrote in two ways; of a visit: that somebody looked
	Join      Name = "join"    // two records of one horse, side by side
	Arrived   Name = "arrived" // visits that came in from other laptops
)

// Address is where a screen lives: its name and what it shows.
type Address struct {
	Screen Name
	Horse  exam.HorseID
	Visit  exam.VisitID
	Other  exam.HorseID // of a join: the horse that may be the same
	Number int          // of an injection or a draw in its visit, of a decision's entry; 0 for a new one
	// Procedure is what of a decision an injection begins; the zero value where it asks.
	Procedure exam.CoveredProcedure
	From      Name     // of the signs of danger: the screen that they were opened from
	At        exam.Key // a place in the exam, or the row of a comparison
	Last      int      // of a comparison: how many visits; 0 for as many as there are
	Heard     string   // of a count without a horse: heart or breath
	Chip      string   // of a form for a new horse: the number that was read
	// Setting is what of the practice is to be settled.
	Setting exam.SettingKey
	// Finish asks the review at once how to close the visit.
	Finish bool
	// Routine is the routine to offer first at the start of an exam.
	Routine string
	For     *HelpPage // of the help screen
	// Sheet is the spreadsheet whose columns are confirmed before it is imported.
	Sheet *SheetPlan
	// Play is what a rehearsal is to be begun with.
	Play *Play
	// With are the deps of the screen and of those opened from it; nil for the deps of the screen below.
	With *Deps
}

// SheetPlan is a spreadsheet and what its columns are taken for; the screen changes it in place.
type SheetPlan struct {
	Proposal *intake.Proposal
	Taker    string // who imports
	Done     bool   // it was confirmed, and is to be imported
}

// HelpPage is what the help screen shows.
type HelpPage struct {
	Title string
	Keys  []keys.Binding
	Words []string // paragraphs
}
