package nav

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/gs1"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
)

// Typer is a screen on which some presses only type or move a cursor, so that they can be undone when they turn out to
// come from a reader.
type Typer interface {
	// Typed is the part that takes presses now; nil where every press may answer.
	Typed() keys.Light
}

// ScanTaker is a screen that uses a chip that was read.
type ScanTaker interface {
	// TakeScan reports whether it took the chip. If not, it must have changed nothing, and the root says whose chip it
	// is.
	TakeScan(Scan) (tea.Cmd, bool)
}

// CodeTaker is a screen that uses the code of a package.
type CodeTaker interface {
	// TakeCode reports whether it took what a scanner typed. If not, it must have changed nothing, and the root says what
	// the code is.
	TakeCode(text string) (tea.Cmd, bool)
}

// Scan is a chip that a reader typed.
type Scan struct {
	Chip string
	// Doubt says how the number was derived from another form; empty for the usual form.
	Doubt string
	Whose []exam.Horse // that have the chip in the record
	Here  *exam.Horse  // whom the screen is about; nil for nobody
}

// ReadScan makes a Scan of what a reader typed, without the horses; false where it is not a chip number.
func ReadScan(text string) (Scan, bool) {
	chip, err := exam.ReadChip(text)
	if number, ok := behindAKey(text); err != nil && ok {
		chip, err = exam.ReadChip(number)
	}
	var no *notation.Refusal
	if errors.As(err, &no) && no.Meant != "" {
		return Scan{Chip: no.Meant, Doubt: no.Why}, true
	}
	return Scan{Chip: chip}, err == nil && chip != ""
}

// behindAKey returns the chip number after a key that a person pressed just before the reader; false where there is none.
func behindAKey(text string) (string, bool) {
	at := len(text) - digits
	if at < 1 || at > mostBefore || strings.Trim(text[at:], "0123456789") != "" || strings.ContainsAny(text[:at], "0123456789 ") {
		return "", false
	}
	return text[at:], true
}

// The digits of a chip number, and how many presses of a key before it are left out.
const (
	digits     = 15
	mostBefore = 4
)

// Older reports whether the number is shorter than 15 digits, as other codes are too: it counts as a chip only where a
// horse has it.
func (s Scan) Older() bool { return len(s.Chip) < digits }

// Find sets Whose and Here from the record. Here is the horse that the screen is about, or empty. An error where the horses
// cannot be read.
func (s *Scan) Find(store exam.Store, here exam.HorseID) error {
	list, err := store.Horses()
	if err != nil {
		return fmt.Errorf("the horses cannot be read, so chip %s is not looked up: %w", s.Chip, err)
	}
	for _, f := range list {
		if f.Horse.HasChip(s.Chip) {
			s.Whose = append(s.Whose, f.Horse)
		}
		if f.Horse.Is(here) {
			s.Here = &f.Horse
		}
	}
	return nil
}

// Right reports whether the chip is that of the horse here and of no other horse.
func (s Scan) Right() bool {
	return s.Here != nil && s.Doubt == "" && len(s.Whose) == 1 && s.Whose[0].ID == s.Here.ID
}

// Wrong says that the chip is not that of the horse here: another horse has it, or none in the
// record and the horse here has one of its own.
func (s Scan) Wrong() bool {
	switch {
	case s.Here == nil:
		return false
	case len(s.Whose) == 0:
		own, err := exam.ReadChip(s.Here.Chip)
		return err == nil && own != "" && s.Doubt == "" && !s.Older()
	}
	return !slices.ContainsFunc(s.Whose, func(h exam.Horse) bool { return h.ID == s.Here.ID })
}

// One is the only horse that has the chip; false where none or several have it.
func (s Scan) One() (exam.Horse, bool) {
	if len(s.Whose) != 1 {
		return exam.Horse{}, false
	}
	return s.Whose[0], true
}

// Words is a sentence that says whose chip it is.
func (s Scan) Words() string {
	text := s.whose()
	if s.Doubt != "" {
		text += " Look at the number: " + s.Doubt + "."
	}
	return text
}

func (s Scan) whose() string {
	names := make([]string, len(s.Whose))
	for i, h := range s.Whose {
		names[i] = named(h)
	}
	switch all := strings.Join(names, " and "); {
	case len(names) == 0 && s.Here == nil:
		return fmt.Sprintf("No horse in the record has chip %s.", s.Chip)
	case len(names) == 0 && s.Here.Chip == "":
		return fmt.Sprintf("No horse in the record has chip %s. No chip of %s is recorded.", s.Chip, named(*s.Here))
	case len(names) == 0:
		return fmt.Sprintf("No horse in the record has chip %s. %s has %s.", s.Chip, named(*s.Here), notation.CleanLine(s.Here.Chip, 40))
	case s.Wrong():
		return fmt.Sprintf("Wrong horse: this is the chip of %s, not of %s.", all, named(*s.Here))
	case len(names) > 1:
		return fmt.Sprintf("%d horses have this chip in the record: %s.", len(names), all)
	case s.Here != nil:
		return fmt.Sprintf("Right horse: this is the chip of %s.", all)
	}
	return fmt.Sprintf("This is the chip of %s.", names[0])
}

func named(h exam.Horse) string { return notation.CleanLine(h.Name, 30) }

// Say returns a command that shows a sentence until the next key.
func Say(text string) tea.Cmd { return func() tea.Msg { return SaidMsg{Text: text} } }

// Done returns a command that shows what was done, at the bottom until the next key.
func Done(text string) tea.Cmd { return func() tea.Msg { return SaidMsg{Text: text, Done: true} } }

// CodeWords is a sentence about what the code of a package holds, for screens that do not take it.
func CodeWords(text string, now time.Time) string {
	code, err := gs1.Read(text, now)
	switch {
	case err != nil:
		return "A scanner sent the code of a package: " + err.Error() + ". Nothing was answered."
	case len(code.Readings) > 1:
		return "A scanner sent the code of a package; it can be read in more than one way. Scan it at an injection order or a past dose. Nothing was answered."
	}
	return "A scanner sent the code of a package: " + code.Readings[0].Words() + ". Scan it at an injection order or a past dose. Nothing was answered."
}
