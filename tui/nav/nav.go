// Package nav says what a screen is and how one leads to another: a screen
// returns an address, and the root makes the screen that lives there.
package nav

import (
	"cmp"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/due"
	"loosebox/exam/intake"
	"loosebox/exam/procedure"
	"loosebox/exam/rehearse"
	"loosebox/exam/round"
	"loosebox/exam/volume"
	"loosebox/ranges"
	"loosebox/tui/caution"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
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
	From   Name         // of the signs of danger: the screen that they were opened from
	At     exam.Key     // a place in the exam, or the row of a comparison
	Last   int          // of a comparison: how many visits; 0 for as many as there are
	Heard  string       // of a count without a horse: heart or breath
	Chip   string       // of a form for a new horse: the number that was read
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
	// With is what the screen, and all that it opens, is made of; nil for what
	// the screen below is made of.
	With *Deps
}

// SheetPlan is what a spreadsheet is proposed to mean; the screen changes it.
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

// Screen is one screen of the program. It has pointer receivers and keeps its
// own state; Update returns only a command. It never reads or writes the store
// itself but in commands.
type Screen interface {
	Init() tea.Cmd
	// Update takes a message. Keys come as keys.Press.
	Update(tea.Msg) tea.Cmd
	// View draws the body: at most size.H lines of at most size.W columns.
	View(size layout.Size) string
	// Title is the left part of the top line, Right its right part.
	Title() string
	Right() string
	// Cautions are the horse's handling cautions, empty on screens without a horse.
	Cautions() []string
	// Keys are the bindings in the order of the bottom line.
	Keys() []keys.Binding
	// Typing says that letters are text now, so that no letter is a command of
	// the root.
	Typing() bool
	// Escape is asked before esc leaves the screen; true means that the screen
	// used the key itself, to close something within.
	Escape() bool
}

// Saver is a screen that writes to the record. While it waits for the answer of
// the store the program is not left, so that what was accepted is on the disk.
type Saver interface {
	// Saving says that a write is on its way.
	Saving() bool
}

// LongReader is a screen whose reading is given up where another screen takes the top.
type LongReader interface {
	// Hidden says that the screen is covered or closed; nav.ShownMsg comes when it is on top again.
	Hidden()
}

// Leaver is a screen from which esc may lead elsewhere than to the screen below.
type Leaver interface {
	// Instead is the screen that takes the place of this one; false for the one below.
	Instead() (Address, bool)
}

// The messages that lead from screen to screen.
type (
	// GoMsg opens a screen on top of the present one.
	GoMsg struct{ To Address }
	// ReplaceMsg opens a screen in place of the present one.
	ReplaceMsg struct{ To Address }
	// BackMsg goes back one screen.
	BackMsg struct{}
	// HomeMsg goes back to the first screen.
	HomeMsg struct{}
	// ShownMsg tells a screen that it is on top again after another one closed.
	ShownMsg struct{}
	// FailMsg carries an error that a person must read; the screen stays.
	FailMsg struct{ Err error }
	// WatchingMsg tells the root that a watch began or ended: it reads them again.
	WatchingMsg struct{}
	// ClockMsg comes once a second while a watch runs, and only then.
	ClockMsg struct{ Now time.Time }
	// SaidMsg carries a sentence that comes from beside the screens; nothing changes.
	SaidMsg struct {
		Text string
		Done bool // it says what was done, and no problem
	}
	// SharedMsg tells how sharing with other laptops stands, after each exchange.
	SharedMsg struct {
		At      time.Time // of the last exchange; zero for none yet
		Waiting int       // lines since
		Came    int       // lines that came in now
		Problem string    // a sentence, the first time it is so
	}
	// RoutineMsg tells of a routine that was stored, new or changed.
	RoutineMsg struct{ Routine exam.Routine }
	// SettingsMsg tells that the settings were changed and stored.
	SettingsMsg struct{ Settings exam.Settings }
)

// Go returns a command that opens a screen.
func Go(to Address) tea.Cmd { return func() tea.Msg { return GoMsg{to} } }

// Replace returns a command that opens a screen in place of the present one, or
// goes back to it where it lies below.
func Replace(to Address) tea.Cmd { return func() tea.Msg { return ReplaceMsg{to} } }

// Back returns a command that goes back one screen.
func Back() tea.Cmd { return func() tea.Msg { return BackMsg{} } }

// ToHome returns a command that goes back to the first screen.
func ToHome() tea.Cmd { return func() tea.Msg { return HomeMsg{} } }

// Watching returns a command that tells of a watch that began or ended.
func Watching() tea.Cmd { return func() tea.Msg { return WatchingMsg{} } }

// Fail returns a command that shows an error.
func Fail(err error) tea.Cmd { return func() tea.Msg { return FailMsg{err} } }

// Settled returns a command that tells of settings that were stored.
func Settled(set exam.Settings) tea.Cmd { return func() tea.Msg { return SettingsMsg{set} } }

// Kept returns a command that tells of a routine that was stored.
func Kept(r exam.Routine) tea.Cmd { return func() tea.Msg { return RoutineMsg{r} } }

// Deps is what a screen is made of. It is handed to every maker and not changed,
// but for the settings and the theme they name, which the root replaces as a
// whole: a screen reads both when it draws.
type Deps struct {
	desk.Desk
	// Rehearsals keeps the visits of simulated horses, apart from the record; nil
	// where there are none.
	Rehearsals exam.Store
	Ranges     *ranges.Table
	// By is who was named on the command line for this run; empty for the person of the settings.
	By string
	// Rounds keeps the round of today between screens.
	Rounds *round.Reader
	// Schedule is the vaccination schedule, read when it is first asked for, because
	// most runs never do. Problem is a sentence about a practice's own schedule that
	// was refused; what is built in then stands. It is safe for several goroutines.
	Schedule func() (table *due.Table, problem string, err error)
	Now      func() time.Time
	Theme    *theme.Theme
	Settings exam.Settings
	// Bell rings the terminal's bell; screens ask Ring, which knows the settings.
	Bell tea.Cmd
	// After sends a message after a while; nil is the real timer. Tests set it,
	// so that they need not wait.
	After func(time.Duration, tea.Msg) tea.Cmd
	// Warm does what the store would do before its first write, so that the first
	// answer is not late; the root calls it once, in a command after the first
	// frame. Nil where there is nothing to do.
	Warm func() error
	// Folder is where the record is, and where a practice's own files go.
	Folder string
	// BackupKey says of a text whether it is a key that backups can be encrypted to;
	// nil where none are made.
	BackupKey func(string) error
	// Sharing is by what several laptops share this record; nil where it is not shared.
	Sharing Sharing
	// Arrived lists the visits that came in from other laptops since a time; nil where
	// nothing is shared.
	Arrived func(since time.Time) ([]exam.Arrival, error)
	// Picture reads the file of a logo as a PNG that fits into the record; nil where none is kept.
	Picture func(path string) ([]byte, error)
	// KeepRoutine stores a person's own order among the files of the data folder; nil where there is none.
	KeepRoutine func(exam.Routine) error
	// Problem is a sentence for the first screen, about a file that was refused.
	Problem string
	// Cases are the horses to rehearse with, read when they are first asked for; a
	// problem is a sentence about a teacher's own file that was refused.
	Cases func() (cases []rehearse.Case, problems []string)
	// Patient is the horse that is rehearsed with now; nil with real horses.
	Patient Patient
	// Player plays a sound, as a WAVE file, until it is stopped; nil where the
	// machine has nothing to play it with.
	Player func(wav []byte) (stop func())
	// Demo says that the record is a throw-away copy.
	Demo bool
	// Syringes is the practice's own table; nil for the built-in one.
	Syringes []volume.Syringe

	cautions *caution.Memory // of this run, whichever screen shows them
}

// Person is who signs what is written into a visit now: who was named for this run, the
// person of this machine, who took the visit over, or who began it.
func (d *Deps) Person(v exam.Visit) string {
	taken := ""
	if n := len(v.Taken); n > 0 {
		taken = v.Taken[n-1].By
	}
	return cmp.Or(d.By, d.Settings.Person, taken, v.By)
}

// Tell says which cautions to show in a visit; see caution.Memory.
func (d *Deps) Tell(id exam.VisitID, list []procedure.Caution) caution.Shown {
	if d.cautions == nil {
		d.cautions = &caution.Memory{}
	}
	return d.cautions.Tell(id, list)
}

// Ring is the bell, or nil where the settings silence it.
func (d *Deps) Ring() tea.Cmd {
	if d.Settings.Silent {
		return nil
	}
	return d.Bell
}

// Later sends a message after a while.
func (d *Deps) Later(after time.Duration, msg tea.Msg) tea.Cmd {
	if d.After != nil {
		return d.After(after, msg)
	}
	return tea.Tick(after, func(time.Time) tea.Msg { return msg })
}

// Maker makes the screen at an address.
type Maker func(*Deps, Address) Screen
