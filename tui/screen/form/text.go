package form

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"loosebox/exam/notation"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// labelWide is the width of the labels, so that what stands behind them is in line.
const labelWide = 15

// Text is the widget for free text.
type Text struct {
	field *entry.Text
	label string
	long  bool
	chip  bool // a chip number belongs here
	check func(string) error
	hint  func(text string) string
	day   *notation.Calendar // of a row that is a date, or begins with one
}

// NewText makes a row of text with what stands in it, the most characters it may
// have (0 for notation.MaxLine) and a check whose error is a sentence.
func NewText(label, text string, limit int, check func(string) error, o entry.Options) *Text {
	return &Text{field: entry.NewText(layout.PadLeft(label, labelWide), text, limit, check, o), label: label, check: check}
}

// NewDay makes a row for a date, as people type it. What stands there at first is shown in words; content, check and hint have it
// as 2026-11-25; see notation.Calendar. In a row of the past a span counts back from now.
func NewDay(label, text string, limit int, past bool, check func(string) error, o entry.Options) *Text {
	c := notation.Calendar{Order: o.Settings.DayOrder, Past: past, Now: o.Now()}
	r := NewText(label, notation.Shown(text), limit, func(typed string) error {
		iso, err := c.ISO(typed)
		if err != nil {
			return err
		}
		return check(iso)
	}, o)
	r.day = &c
	return r
}

// Needed is the check of a row that may not be empty; the sentence says what is
// needed.
func Needed(sentence string) func(string) error {
	return func(text string) error {
		if strings.TrimSpace(text) == "" {
			return errors.New(sentence)
		}
		return nil
	}
}

// Named is the check of a row for the name of a person or a horse; the sentence says whose.
func Named(sentence string) func(string) error {
	return func(text string) error {
		if !notation.IsName(text) {
			return errors.New(sentence)
		}
		return nil
	}
}

// What NewPerson says where no name is typed.
const (
	Initials          = "type your name or initials"
	InitialsOfEntries = Initials + "; every entry carries it"
)

// NewPerson makes the row of the name of whoever saves the form: by is proposed, sentence is the
// error where it is no name.
func NewPerson(by, sentence string, o entry.Options) *Text {
	return NewText("your name", by, 60, Named(sentence), o)
}

// mostLong is how many lines a long text takes while it is active.
const mostLong = 5

// Long draws the text over several lines while the row is active, so that all of
// it is read.
func (r *Text) Long() *Text {
	r.long = true
	return r
}

// Hint shows lines under the row while it is active: how to write it, or what is
// odd about what stands there. The function is given the text; line ends part
// its lines.
func (r *Text) Hint(hint func(text string) string) *Text {
	r.hint = hint
	return r
}

// Moment is the hint of a time to come: how to write it, and which moment it is.
func Moment(now func() time.Time) func(string) string {
	return func(text string) string {
		m, err := notation.ReadMoment(text, now())
		if err != nil {
			return "as 1h, 90 min, 20:00, tonight, tomorrow 8:00, Mon, 3d, 2w, 4 Mar 2026"
		}
		return m.Words(now())
	}
}

// Day is the hint of a day to come: how to write it, and which day it is.
func Day(now func() time.Time) func(string) string {
	return func(text string) string {
		day, err := notation.ReadAhead(text, now())
		if err != nil {
			return "as tomorrow, Mon, 3d, 2w, 4 Mar 2026"
		}
		return notation.Moment{Day: day}.Words(now())
	}
}

// PastDay is the day of a text in words, with how long ago it was; otherwise how to write it.
func PastDay(text string, now time.Time, how string) string {
	at, err := time.ParseInLocation(notation.DayForm, text, now.Location())
	if err != nil {
		return how
	}
	today, _ := time.ParseInLocation(notation.DayForm, now.Format(notation.DayForm), now.Location()) // it was just written so
	switch days := int(today.Sub(at).Hours()/24 + 0.5); {
	case days == 0:
		return at.Format("Monday 2 Jan 2006, today")
	case days == 1:
		return at.Format("Monday 2 Jan 2006, yesterday")
	case days > 1:
		return at.Format("Monday 2 Jan 2006, ") + fmt.Sprintf("%d days ago", days)
	}
	return at.Format("Monday 2 Jan 2006")
}

// Fresh lets the first letter take the place of what stands there, for a row that is filled in beforehand.
func (r *Text) Fresh() *Text {
	r.field.Fresh()
	return r
}

// Put writes a text into the row, in place of what stands there.
func (r *Text) Put(text string) { r.field.Put(text) }

// Content is the cleaned text; a date in it is 2026-11-25.
func (r *Text) Content() string { return r.iso(r.field.Content()) }

// iso leaves what is no date, or could be two, as it was typed.
func (r *Text) iso(text string) string {
	if r.day == nil {
		return text
	}
	iso, err := r.day.ISO(text)
	if err != nil {
		return text
	}
	return iso
}

// Press hands a key to the text.
func (r *Text) Press(p keys.Press) entry.KeyResult {
	result, _ := r.field.Press(p)
	return result
}

// Lines draws the text on one line, and below it what is wrong or how to write it.
func (r *Text) Lines(t *theme.Theme, width int, active bool) []string {
	if !active {
		return []string{r.field.Line(width)}
	}
	lines, plain := r.field.View(layout.Size{W: width, H: mostLong}), 1
	if r.long {
		head := layout.PadLeft(r.label, labelWide) + ": "
		lines = r.field.Wrapped(layout.Size{W: max(width-labelWide-2, 1), H: mostLong})
		plain = len(lines)
		for i, line := range lines {
			lines[i] = head + line
			head = strings.Repeat(" ", labelWide+2)
		}
	}
	if r.hint != nil && len(lines) == plain {
		for _, hint := range strings.Split(r.hint(r.Content()), "\n") {
			for _, text := range layout.Wrap(notation.CleanNote(hint), width-labelWide-2) {
				lines = append(lines, strings.Repeat(" ", labelWide+2)+t.Faint.Render(text))
			}
		}
	}
	return lines
}

// Err is the error of the check.
func (r *Text) Err() error {
	if r.check == nil {
		return nil
	}
	return r.check(r.Content())
}

// State is the text.
func (r *Text) State() string { return r.Content() }

// Keys are none beside the form's.
func (r *Text) Keys() []keys.Binding { return nil }

// Typing is always true.
func (r *Text) Typing() bool { return true }
