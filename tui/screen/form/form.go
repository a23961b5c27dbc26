// Package form is a list of rows with a last line that saves them: enter goes to the next row, up and down move between
// rows, left and right within one.
package form

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// Widget asks for the answer in one row of a form. It has pointer receivers and keeps its own state.
type Widget interface {
	// Press takes a key. Enter gives Accepted, or Taken where the content is refused, and the row then says why.
	Press(keys.Press) entry.KeyResult
	// Lines draws the row in lines of width columns; of an active row the place of the cursor is visible.
	Lines(t *theme.Theme, width int, active bool) []string
	// Err is a sentence that says what is wrong with the content; nil where nothing is.
	Err() error
	// State is the content as a text, to find out whether it was changed.
	State() string
	Keys() []keys.Binding
	Typing() bool
}

// Form is a list of rows and the line below that saves them.
type Form struct {
	theme  *theme.Theme
	action string // words of the last line
	does   string // the same in one word, for the line of keys
	named  func() (action, does string)
	rows   []line
	at     int // index into rows; len(rows) is the last line
	first  int // line of text at the top
	start  string
}

type line struct {
	row    Widget
	hidden func() bool
}

// New makes an empty form. Action is the text of its last line, does the shorter word for it in the line of keys.
func New(t *theme.Theme, action, does string) *Form {
	return &Form{theme: t, action: action, does: does}
}

// Named sets a function that gives action and does anew each time, where they depend on the content.
func (f *Form) Named(now func() (action, does string)) { f.named = now }

func (f *Form) words() (action, does string) {
	if f.named != nil {
		return f.named()
	}
	return f.action, f.does
}

// Add adds a row at the end. It is not shown while hidden returns true; nil means never hidden.
func (f *Form) Add(r Widget, hidden func() bool) {
	if hidden == nil {
		hidden = func() bool { return false }
	}
	f.rows = append(f.rows, line{r, hidden})
}

// With adds rows at the end that are never hidden, and returns the form.
func (f *Form) With(rows ...Widget) *Form {
	for _, r := range rows {
		f.Add(r, nil)
	}
	return f
}

// Begin takes the present content as unchanged.
func (f *Form) Begin() { f.start = f.state() }

// Changed reports whether the content differs from that at Begin.
func (f *Form) Changed() bool { return f.state() != f.start }

func (f *Form) state() string {
	text := ""
	for _, l := range f.rows {
		text += l.row.State() + "\x00"
	}
	return text
}

// KeyResult says what a form made of a key.
type KeyResult int

// The results of a key press.
const (
	Ignored KeyResult = iota
	Taken
	Save // the form is to be saved
)

// Press takes a key.
func (f *Form) Press(p keys.Press) KeyResult {
	switch {
	case keys.Save().Is(p):
		return Save
	case keys.Accept().Is(p) && f.at == len(f.rows):
		return Save
	case keys.Up().Is(p), keys.Earlier().Is(p):
		f.move(-1)
		return Taken
	case keys.Down().Is(p), keys.Later().Is(p):
		f.move(1)
		return Taken
	case f.at == len(f.rows):
		return Ignored
	}
	switch f.rows[f.at].row.Press(p) {
	case entry.Accepted:
		f.move(1)
		return Taken
	case entry.Taken:
		return Taken
	case entry.Ignored:
	}
	return Ignored
}

// move goes by so many rows that are not hidden; it stops at both ends.
func (f *Form) move(by int) {
	for to := f.at + by; to >= 0 && to <= len(f.rows); to += by {
		if to == len(f.rows) || !f.rows[to].hidden() {
			f.at = to
			return
		}
	}
}

// Check returns true where no row is refused; else it moves the cursor to the first that is, and the row says why.
func (f *Form) Check() bool {
	for i, l := range f.rows {
		if !l.hidden() && l.row.Err() != nil {
			f.at = i
			l.row.Press(enter())
			return false
		}
	}
	return true
}

// Go puts the cursor on a row.
func (f *Form) Go(r Widget) {
	for i, l := range f.rows {
		if l.row == r {
			f.at = i
		}
	}
}

// GoLast puts the cursor on the row that was added last.
func (f *Form) GoLast() { f.at = len(f.rows) - 1 }

// On reports whether the cursor is on the row.
func (f *Form) On(r Widget) bool { return f.at < len(f.rows) && f.rows[f.at].row == r }

// ToEnd puts the cursor on the last line.
func (f *Form) ToEnd() { f.at = len(f.rows) }

// Typing reports whether letters are text now.
func (f *Form) Typing() bool { return f.at < len(f.rows) && f.rows[f.at].row.Typing() }

// Keys are the bindings of the row under the cursor and of the form.
func (f *Form) Keys() []keys.Binding {
	action, does := f.words()
	next := keys.Accept().With("next", "save the line and go to the next")
	if f.at == len(f.rows) {
		next = keys.Accept().Own(does, action)
	}
	out := []keys.Binding{next, keys.Up()}
	if f.at < len(f.rows) {
		out = append(out, f.rows[f.at].row.Keys()...)
	}
	return append(out, keys.Save().Own(does, action+", from any line"))
}

// Lines draws the form in at most size.H lines; the row under the cursor is visible.
func (f *Form) Lines(size layout.Size) []string {
	var lines []string
	from, to := 0, 0
	for i, l := range f.rows {
		if l.hidden() {
			continue
		}
		drawn := l.row.Lines(f.theme, size.W-2, i == f.at)
		if i == f.at {
			from, to = len(lines), len(lines)+len(drawn)
		}
		for j, text := range drawn {
			lines = append(lines, f.point(text, i == f.at && j == 0, size.W))
		}
	}
	if f.at == len(f.rows) {
		from, to = len(lines), len(lines)+1
	}
	action, _ := f.words()
	lines = append(lines, f.point(f.theme.Strong.Render("["+action+"]"), f.at == len(f.rows), size.W))
	f.first = layout.Window(f.first, to-1, len(lines), size.H)
	f.first = layout.Window(f.first, from, len(lines), size.H)
	return lines[f.first:min(f.first+max(size.H, 0), len(lines))]
}

func (f *Form) point(text string, here bool, width int) string {
	if here {
		return layout.Cut(f.theme.Cursor.Render(f.theme.Sign.Cursor+" ")+text, width)
	}
	return layout.Cut("  "+text, width)
}

func enter() keys.Press { return keys.Press{KeyMsg: tea.KeyMsg{Type: tea.KeyEnter}} }
