package entry

import (
	"fmt"
	"unicode"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// Text is the widget for free text: a note to a visit, or one line of a form.
type Text struct {
	label  string
	o      Options
	check  func(string) error
	input  textinput.Model
	said   error
	active bool
	fresh  bool // the first letter takes the place of what stands there
	none   bool // "none" stands there for the letter u alone
	cut    bool // what was pasted last did not fit
	note   bool // wrapped over several lines, and may not be empty
}

func newNote(step exam.Step, o Options) *Text {
	text := ""
	if o.Before != nil {
		text = o.Before.Text
	}
	f := NewText(step.Name, text, notation.MaxNote, nil, o)
	f.note = true
	return f
}

// NewText makes a line of a form with a label and its text. Limit is the most characters (0 for notation.MaxLine). Check
// returns a sentence as an error where the text is refused; nil accepts any text. Its Value has the kind KindNote.
func NewText(label, text string, limit int, check func(string) error, o Options) *Text {
	if limit <= 0 {
		limit = notation.MaxLine
	}
	f := &Text{label: label, o: o, check: check, input: textinput.New(), active: true}
	f.input.CharLimit = limit
	f.input.Prompt = ""
	f.input.Cursor.SetMode(cursor.CursorHide) // drawn here, and it does not blink
	f.input.KeyMap.Paste = key.NewBinding()   // the terminal pastes; nothing reads the clipboard
	f.input.Focus()
	f.input.SetValue(notation.CleanLine(text, limit))
	return f
}

// Init does nothing.
func (f *Text) Init() tea.Cmd { return nil }

// Update does nothing: text has no ticks.
func (f *Text) Update(tea.Msg) tea.Cmd { return nil }

// Typing is always true: every letter is text.
func (f *Text) Typing() bool { return true }

// Busy is never true.
func (f *Text) Busy() bool { return false }

// Keys are enter and backspace.
func (f *Text) Keys() []keys.Binding {
	return []keys.Binding{keys.Accept(), keys.TakeBack().With("", "remove the last character")}
}

// Fresh makes the first typed letter replace the text; a key that moves or deletes keeps the text.
func (f *Text) Fresh() { f.fresh = true }

// Active shows or hides the cursor, for a form of many lines.
func (f *Text) Active(on bool) { f.active = on }

// Press takes letters, and the keys that move and delete within a line. It ignores up, down and tab.
func (f *Text) Press(p keys.Press) (KeyResult, tea.Cmd) {
	if keys.Accept().Is(p) {
		if _, f.said = f.Value(); f.said != nil {
			return Taken, nil
		}
		return Accepted, nil
	}
	pasted, raw := p.Paste, len(p.Runes)
	switch p.Type {
	case tea.KeyRunes, tea.KeySpace:
		if p.Alt {
			return Ignored, nil
		}
		p.Runes = typeable(p)
		if len(p.Runes) == 0 {
			return Taken, nil
		}
		p.Paste = true // else the input takes the text "left", read at once, for the arrow key
	case tea.KeyBackspace, tea.KeyCtrlH, tea.KeyDelete, tea.KeyLeft, tea.KeyRight, tea.KeyHome, tea.KeyEnd,
		tea.KeyCtrlW, tea.KeyCtrlU, tea.KeyCtrlK, tea.KeyCtrlA, tea.KeyCtrlE:
	default:
		return Ignored, nil
	}
	if f.nothing(p, pasted) {
		return Taken, nil
	}
	if f.fresh && (p.Type == tea.KeyRunes || p.Type == tea.KeySpace) {
		f.input.SetValue("")
	}
	f.said, f.fresh = nil, false
	room := f.input.CharLimit - len([]rune(f.input.Value()))
	f.input, _ = f.input.Update(p.KeyMsg)
	f.cut = pasted && (len(p.Runes) > room || raw > notation.MaxNote)
	return Taken, nil
}

// None is the text of a comment for "nothing to say".
const None = "none"

// nothing lets u alone stand for "none" in an empty comment of the exam; a letter behind it begins a word with u.
func (f *Text) nothing(p keys.Press, pasted bool) bool {
	typed := p.Type == tea.KeyRunes || p.Type == tea.KeySpace
	switch {
	case f.none && typed:
		f.input.SetValue("u")
		f.input.CursorEnd()
	case f.o.Nothing && f.note && typed && !pasted && f.input.Value() == "" && string(p.Runes) == keys.Usual().Keys[0]:
		f.input.SetValue(None)
		f.input.CursorEnd()
		f.none, f.said = true, nil
		return true
	}
	f.none = false
	return false
}

// typeable is the characters of a press that may be typed: no control or bidi characters, no emoji.
func typeable(p keys.Press) []rune {
	if p.Paste {
		return []rune(notation.CleanNote(string(p.Runes)))
	}
	if p.Type == tea.KeySpace {
		return []rune{' '}
	}
	var out []rune
	for _, r := range p.Runes {
		switch {
		case unicode.IsSpace(r):
			out = append(out, ' ')
		case notation.CleanLine(string(r), 1) != "":
			out = append(out, r)
		}
	}
	return out
}

// Put replaces the text.
func (f *Text) Put(text string) { f.input.SetValue(notation.CleanLine(text, f.input.CharLimit)) }

// Content is the cleaned text.
func (f *Text) Content() string { return notation.CleanLine(f.input.Value(), f.input.CharLimit) }

// Value is the cleaned text. The error is that of the check, or a sentence for an empty note.
func (f *Text) Value() (exam.Value, error) {
	text := f.Content()
	if f.note && text == "" {
		return exam.Value{}, &notation.Refusal{Why: "nothing is typed yet: type a few words, or press tab"}
	}
	if f.check != nil {
		if err := f.check(text); err != nil {
			return exam.Value{}, err
		}
	}
	return exam.Value{Kind: exam.KindNote, Text: text}, nil
}

// Line is the label and the text on one line.
func (f *Text) Line(width int) string {
	return layout.Cut(f.label+": "+f.Content(), width)
}

// Wrapped draws the text without its label on at most size.H lines, with the cursor visible, and below it what is wrong.
func (f *Text) Wrapped(size layout.Size) []string {
	long := *f
	long.note = true
	return long.draw(size, f.wrong())
}

// wrong is what is wrong with what was accepted last; another line of a form may
// have put it right since.
func (f *Text) wrong() error {
	if f.said == nil {
		return nil
	}
	_, err := f.Value()
	return err
}

// View draws a note over as many lines as it needs, the end in sight, and a line
// of a form on one line.
func (f *Text) View(size layout.Size) []string { return f.draw(size, f.wrong()) }

func (f *Text) draw(size layout.Size, said error) []string {
	if said == nil && f.cut {
		said = fmt.Errorf("the pasted text was cut: at most %d characters here", f.input.CharLimit)
	}
	under := sentence(f.o.Theme, said, size.W)
	text := []rune(f.input.Value())
	at := min(f.input.Position(), len(text))
	shown := notation.CleanLine(string(text), f.input.CharLimit)
	if f.active {
		shown = string(text[:at]) + "_" + string(text[at:])
	}
	if !f.note {
		head := f.label + ": "
		room := size.W - ansi.StringWidth(head)
		if over := ansi.StringWidth(string(text[:at])) + 1 - room; f.active && over > 0 {
			shown = ansi.TruncateLeft(shown, over, "")
		}
		return fit(append([]string{head + shown}, under...), size)
	}
	if f.none {
		under = append(words(f.o.Theme, "enter saves it; type on for a word that begins with u", size.W), under...)
	}
	lines := layout.Wrap(shown, size.W)
	height := max(size.H-len(under), 1)
	if over := len(lines) - height; over > 0 {
		first := min(len(layout.Wrap(string(text[:at])+"_", size.W))-height, over)
		lines = lines[max(first, 0):]
		lines = lines[:min(height, len(lines))]
	}
	return fit(append(lines, under...), size)
}
