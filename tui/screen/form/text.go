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

// labelWide is the width of the labels in columns.
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

// NewText makes a row of text with a label and its content. Limit is the most characters (0 for notation.MaxLine). Check
// returns a sentence as an error where the content is refused; nil accepts any text.
func NewText(label, text string, limit int, check func(string) error, o entry.Options) *Text {
	return &Text{field: entry.NewText(layout.PadLeft(label, labelWide), text, limit, check, o), label: label, check: check}
}

// NewDay makes a row for a date, typed as people write it (see notation.Calendar). The date at the beginning is shown in
// words; Content, check and hint get it as 2026-11-25. With past, a span such as "3 months" counts back from now.
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

// Needed is a check that refuses an empty text with the sentence.
func Needed(sentence string) func(string) error {
	return func(text string) error {
		if strings.TrimSpace(text) == "" {
			return errors.New(sentence)
		}
		return nil
	}
}

// Named is a check that refuses, with the sentence, a text that is not a name.
func Named(sentence string) func(string) error {
	return func(text string) error {
		if !notation.IsName(text) {
			return errors.New(sentence)
		}
		return nil
	}
}

// Sentences for NewPerson.
const (
	Initials          = "type your name or initials"
	InitialsOfEntries = Initials + "; every entry carries it"
)

// NewPerson makes the row for the name of whoever saves the form. By is proposed; sentence is the error where the text is
// not a name.
func NewPerson(by, sentence string, o entry.Options) *Text {
	return NewText("your name", by, 60, Named(sentence), o)
}

// mostLong is how many lines a long text takes while it is active.
const mostLong = 5

// Long makes the row use up to 5 lines while it is active, and returns it.
func (r *Text) Long() *Text {
	r.long = true
	return r
}

// Hint sets a function that returns lines to show under the row while it is active, for the present text, and returns the
// row. Lines are separated by "\n".
func (r *Text) Hint(hint func(text string) string) *Text {
	r.hint = hint
	return r
}

// Moment is a hint for a future time: how to write it, or the time that the text means.
func Moment(now func() time.Time) func(string) string {
	return func(text string) string {
		m, err := notation.ReadMoment(text, now())
		if err != nil {
			return "as 1h, 90 min, 20:00, tonight, tomorrow 8:00, Mon, 3d, 2w, 4 Mar 2026"
		}
		return m.Words(now())
	}
}

// Day is a hint for a future day: how to write it, or the day that the text means.
func Day(now func() time.Time) func(string) string {
	return func(text string) string {
		day, err := notation.ReadAhead(text, now())
		if err != nil {
			return "as tomorrow, Mon, 3d, 2w, 4 Mar 2026"
		}
		return notation.Moment{Day: day}.Words(now())
	}
}

// PastDay is the day that the text means in words, with how long ago it was; how where the text is not a day.
func PastDay(text string, now time.Time, how string) string {
	at, err := time.ParseInLocation(notation.DayForm, text, now.Location())
	if err != nil {
		return how
	}
	today, _ := time.ParseInLocation(notation.DayForm, now.Format(notation.DayForm), now.Location()) // cannot fail: formatted just before
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

// Fresh makes the first typed letter replace the content, for a row that is filled in beforehand, and returns the row.
func (r *Text) Fresh() *Text {
	r.field.Fresh()
	return r
}

// Put replaces the content.
func (r *Text) Put(text string) { r.field.Put(text) }

// Content is the cleaned text; a date in it is 2026-11-25.
func (r *Text) Content() string { return r.iso(r.field.Content()) }

// iso replaces a date by its form 2026-11-25; a text that is not a date, or could be two, stays as it was typed.
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

// Press passes a key to the text.
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

// Keys is nil: the row has no keys beside those of the form.
func (r *Text) Keys() []keys.Binding { return nil }

// Typing is always true.
func (r *Text) Typing() bool { return true }
