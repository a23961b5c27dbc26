// Package caution draws the cautions of the trade on a screen or a prompt: each in full the first time in a visit, one short
// line afterwards.
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

// Memory is what was shown in full, by visit, since the program was started. Its zero value is ready; it is used by one
// goroutine.
type Memory struct {
	shown map[exam.VisitID]procedure.Shown
}

// Tell says which cautions to show in a visit, and remembers it: it is called when keys and messages are handled, never when
// a screen is drawn.
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

// First says that one of them is shown in full for the first time in the visit.
func (t Display) First() bool { return len(t.full) > 0 }

// Lines are at most two lines of a width. Where the width cannot hold a caution
// in full its short line stands there, and the key for all of them shows the rest.
func (t Display) Lines(width int) []string { return t.Within(width, 2) }

// Within is Lines in at most so many lines.
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

// Whole are all cautions in full, for the key that shows them.
func (t Display) Whole(width int) []string {
	var out []string
	for _, c := range t.All {
		out = append(out, Marked(strings.Join(c.Full, " "), width)...)
		out = append(out, layout.Wrap(c.Evidence.String()+": "+c.Source, width)...)
	}
	return out
}

// Marked wraps a text in lines of a width behind the sign of a caution, which stands alone in its column.
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
