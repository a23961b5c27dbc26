// Package caution draws handling cautions on screens and prompts: each in full the first time in a visit, and as one short
// line after that.
package caution

import (
	"maps"
	"strings"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// Display is the cautions of one place in a procedure or of a step, as they are shown
// now: one of them in full for the first time in the visit, or their short lines.
type Display struct {
	All   []procedure.Caution // every one that belongs there
	full  []string
	short []string
}

// Memory is what was shown in full, by visit, since the program started. Its zero value is ready to use; it is not safe for
// several goroutines.
type Memory struct {
	shown map[exam.VisitID]procedure.Shown
}

// Tell returns which cautions to show in a visit, and remembers those shown in full. Call it when keys and messages are
// handled, never when a screen is drawn.
func (m *Memory) Tell(id exam.VisitID, list []procedure.Caution) Display {
	if m.shown == nil {
		m.shown = map[exam.VisitID]procedure.Shown{}
	}
	if m.shown[id] == nil {
		m.shown[id] = procedure.Shown{}
	}
	before := maps.Clone(m.shown[id])
	out := Display{All: list, full: m.shown[id].Lines(list)}
	for _, c := range list {
		if m.shown[id][c.Key] && !before[c.Key] {
			out.short = []string{c.Line}
			return out
		}
	}
	out.short, out.full = out.full, nil
	return out
}

// First reports whether one of them is shown in full for the first time in the visit.
func (t Display) First() bool { return len(t.full) > 0 }

// Lines are at most two lines of width columns. A caution that does not fit in full has its short line; the key for
// cautions shows all of it.
func (t Display) Lines(width int) []string { return t.Within(width, 2) }

// Within is Lines with at most most lines.
func (t Display) Within(width, most int) []string {
	if lines := Marked(strings.Join(t.full, " "), width); len(lines) > 0 && len(lines) <= most {
		return lines
	}
	var out []string
	for _, l := range t.short {
		out = append(out, Marked(l, width)...)
	}
	return out[:min(len(out), most)]
}

// Whole are all cautions in full, wrapped to width columns, for the key that shows them.
func (t Display) Whole(width int) []string {
	var out []string
	for _, c := range t.All {
		out = append(out, Marked(strings.Join(c.Full, " "), width)...)
		out = append(out, layout.Wrap(c.Evidence.String()+": "+c.Source, width)...)
	}
	return out
}

// Marked wraps a text to width columns, with the sign of a caution before its first line and blanks before the others.
func Marked(text string, width int) []string {
	lines := layout.Wrap(text, width-2)
	for i := range lines {
		if i == 0 {
			lines[i] = theme.Caution + " " + lines[i]
		} else {
			lines[i] = "  " + lines[i]
		}
	}
	return lines
}
