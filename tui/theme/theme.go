// Package theme holds the styles by meaning, the signs and the rules. Whatever a colour says, a word or a sign says as well,
// so that nothing is lost without colour.
package theme

import (
	"cmp"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"loosebox/ranges"
)

// Name names a theme, as the settings keep it.
type Name string

// The themes. Sunlight is black on white without any colour.
const (
	Dark     Name = "dark"
	Light    Name = "light"
	Sunlight Name = "sunlight"
	Plain    Name = "plain"
)

// Caution is the sign of a handling caution, one column wide; Letters has its ASCII stand-in. It is no sign of a level: "!" is
// "tell the vet" and nothing else.
const Caution = "▴"

// Theme is a set of styles and signs; read only once made.
type Theme struct {
	Name    Name
	ASCII   bool           // rules and digits are drawn with ASCII
	Title   lipgloss.Style // name of the screen
	Heading lipgloss.Style // heading of a block
	Faint   lipgloss.Style // what can be overlooked
	Key     lipgloss.Style // a key on the bottom line
	Strong  lipgloss.Style // the value itself
	Cursor  lipgloss.Style // the line under the cursor; it has a sign too
	Caution lipgloss.Style // handling cautions
	Alarm   lipgloss.Style // the word "tell the vet"
	Warn    lipgloss.Style // the word "recheck"
	Mild    lipgloss.Style // the word "note"
	Good    lipgloss.Style // the word "usual", done
	Digits  lipgloss.Style // the large digits
	Error   lipgloss.Style // a refusal
	Sign    Signs
}

// Signs are the characters with a meaning; each is one column wide on every terminal.
type Signs struct {
	Cursor, Done, NotDone, Left, Now string
	Rule, Bar                        string // horizontal and vertical rule
	Block                            string // of the large digits
	Point, Band                      string // of a trend
	Up, Down, Same                   string // change against the visit before
	Changed                          string // behind a change that is more than noise
	Full, Empty                      string // of a bar of progress
	Line, Within, Edge               string // of a range drawn as a line: outside the usual, within it, at a limit
	Limit, Tick                      string // of a plot: a limit of a range, a moment on the axis of time
	Spark                            string // the heights of a line of earlier values, lowest first
}

func lines() Signs {
	return Signs{
		Cursor: ">", Done: "✓", NotDone: "x", Left: "-", Now: "▸",
		Rule: "─", Bar: "│", Block: "█", Point: "▪", Band: "░", Up: "+", Down: "-", Same: "=", Changed: "*",
		Full: "█", Empty: "░", Line: "─", Within: "═", Edge: "┼", Limit: "┄", Tick: "┬", Spark: "▁▂▃▄▅▆▇█",
	}
}

func ascii() Signs {
	s := lines()
	s.Rule, s.Bar, s.Block, s.Done, s.Now = "-", "|", "#", "+", "@"
	s.Band, s.Limit, s.Tick, s.Point = ":", "_", "+", "#"
	s.Full, s.Empty, s.Line, s.Within, s.Edge, s.Spark = "#", ".", "-", "=", "+", "_.-'\""
	return s
}

// Letters replaces our own signs by ASCII, one column for one, if the theme is ASCII. Letters of names and notes stay.
func (t *Theme) Letters(text string) string {
	if !t.ASCII {
		return text
	}
	return strings.NewReplacer("·", "-", Caution, "^", "²", "2", "³", "3", "×", "x", "–", "-").Replace(text)
}

// New makes a theme. Plain is used where no colour is wanted; asciiOnly draws
// rules and digits with ASCII.
func New(name Name, asciiOnly bool) *Theme {
	t := &Theme{Name: name, ASCII: asciiOnly, Sign: lines()}
	if asciiOnly {
		t.Sign = ascii()
	}
	st := lipgloss.NewStyle
	colour := func(s string) lipgloss.Style { return st().Foreground(lipgloss.Color(s)) }
	switch name {
	case Plain:
		return t
	case Sunlight:
		t.Title, t.Heading, t.Strong = st().Bold(true), st().Bold(true), st().Bold(true)
		t.Cursor, t.Alarm, t.Caution, t.Error = st().Reverse(true), st().Reverse(true).Bold(true), st().Bold(true), st().Bold(true)
		t.Warn, t.Digits, t.Key = st().Bold(true), st().Bold(true), st().Bold(true)
		return t
	case Light:
		t.Title, t.Heading, t.Strong = st().Bold(true), colour("4").Bold(true), st().Bold(true)
		t.Faint, t.Key, t.Cursor = st().Faint(true), st().Bold(true), st().Reverse(true)
		t.Caution, t.Error = colour("1").Bold(true), colour("1").Bold(true)
		t.Alarm = lipgloss.NewStyle().Foreground(lipgloss.Color("15")).Background(lipgloss.Color("1")).Bold(true)
		t.Warn, t.Mild, t.Good, t.Digits = colour("1"), colour("4"), st(), st().Bold(true)
		return t
	case Dark:
	}
	t.Title, t.Heading, t.Strong = st().Bold(true), colour("6").Bold(true), st().Bold(true)
	t.Faint, t.Key, t.Cursor = st().Faint(true), st().Bold(true), st().Bold(true)
	t.Caution, t.Error = colour("11").Bold(true), colour("9").Bold(true)
	t.Alarm = lipgloss.NewStyle().Foreground(lipgloss.Color("15")).Background(lipgloss.Color("1")).Bold(true)
	t.Warn, t.Mild, t.Good = colour("11"), colour("14"), colour("10")
	t.Digits = st().Bold(true)
	return t
}

// As is the theme with another name for the same terminal: its signs stay, and Plain stays Plain.
func (t *Theme) As(name Name) *Theme {
	if t.Name == Plain {
		return t
	}
	return New(name, t.ASCII)
}

// Level is the style of a level's word.
func (t *Theme) Level(l ranges.Level) lipgloss.Style {
	switch l {
	case ranges.LevelTell:
		return t.Alarm
	case ranges.LevelRecheck:
		return t.Warn
	case ranges.LevelNote:
		return t.Mild
	case ranges.LevelUsual:
	}
	return t.Good
}

// Limit is the style of a zone of a range with that level; unlike Level it has no background.
func (t *Theme) Limit(l ranges.Level) lipgloss.Style {
	switch l {
	case ranges.LevelTell:
		return t.Error
	case ranges.LevelRecheck:
		return t.Warn
	case ranges.LevelUsual:
		return t.Good
	case ranges.LevelNote:
	}
	return t.Faint
}

// Mark is the level as a sign of one column, for tables: blank, ~, ? or !.
func Mark(l ranges.Level) string { return cmp.Or(l.Sign(), " ") }

// Word is the level's word in its style.
func (t *Theme) Word(l ranges.Level) string { return t.Level(l).Render(l.String()) }

// Across is a horizontal rule of width columns.
func (t *Theme) Across(width int) string {
	return t.Faint.Render(strings.Repeat(t.Sign.Rule, max(width, 0)))
}
