package nav

import (
	"cmp"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/due"
	"loosebox/exam/procedure"
	"loosebox/exam/rehearse"
	"loosebox/exam/round"
	"loosebox/exam/volume"
	"loosebox/ranges"
	"loosebox/tui/caution"
	"loosebox/tui/theme"
)

// Deps is what screens are made with. Every maker gets it. Screens do not change it; the root replaces Settings, Theme and
// Judge when settings are stored, so screens read them when they draw.
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
	// Warm checks the store as it would before its first write, so that the first answer is not delayed. The root calls
	// it once, in a command after the first frame. Nil where there is nothing to do; an error where the record is damaged.
	Warm func() error
	// Folder is where the record is, and where a practice's own files go.
	Folder string
	// BackupKey checks a text: nil where backups can be encrypted to this key, else an error that is a sentence. The
	// function is nil where no backups are made.
	BackupKey func(string) error
	// Sharing is how several laptops share this record; nil where it is not shared.
	Sharing Sharing
	// Arrived lists the visits that came in from other laptops since a time; nil where
	// nothing is shared.
	Arrived func(since time.Time) ([]exam.Arrival, error)
	// Unsent is what waits to go to other laptops; nil where nothing is shared.
	Unsent func() ([]Waits, error)
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

// Person is the name that signs entries of a visit now: the first that is set of By, the person of the settings, who took
// the visit over last, and who began it.
func (d *Deps) Person(v exam.Visit) string {
	taken := ""
	if n := len(v.Taken); n > 0 {
		taken = v.Taken[n-1].By
	}
	return cmp.Or(d.By, d.Settings.Person, taken, v.By)
}

// Tell returns which cautions to show in a visit and remembers it: call it in Update, never in View. See caution.Memory.
func (d *Deps) Tell(id exam.VisitID, list []procedure.Caution) caution.Display {
	if d.cautions == nil {
		d.cautions = &caution.Memory{}
	}
	return d.cautions.Tell(id, list)
}

// Ring is the command that rings the bell; nil where the settings silence it.
func (d *Deps) Ring() tea.Cmd {
	if d.Settings.Silent {
		return nil
	}
	return d.Bell
}

// Later returns a command that sends a message after a time.
func (d *Deps) Later(after time.Duration, msg tea.Msg) tea.Cmd {
	if d.After != nil {
		return d.After(after, msg)
	}
	return tea.Tick(after, func(time.Time) tea.Msg { return msg })
}

// Maker makes the screen at an address.
type Maker func(*Deps, Address) Screen
