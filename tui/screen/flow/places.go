package flow

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/needle"
	"loosebox/tui/screen/list"
)

// Places is the choice of a site in words for this horse: where the last needles
// went, the proposed one first.
type Places struct {
	s        *Screen
	choices  []procedure.Choice
	proposed bool
	note     string // a sentence above the list, as of a volume over the limit
	list     list.List
	warned   int // the place whose warning was read once; -1 for none
	chosen   func(procedure.Choice) tea.Cmd
	more     []Extra
}

// NewPlaces makes the choice. Proposed says that the first one is proposed.
func NewPlaces(s *Screen, choices []procedure.Choice, proposed bool, note string, chosen func(procedure.Choice) tea.Cmd, more ...Extra) *Places {
	return &Places{s: s, choices: choices, proposed: proposed, note: note, warned: -1, chosen: chosen, more: more}
}

// Lines draws the list and what is known of the site under the cursor.
func (p *Places) Lines(size layout.Size) []string {
	t := p.s.Deps.Theme
	var lines []string
	for _, l := range layout.Wrap(p.note, size.W) {
		lines = append(lines, t.Caution.Render(l))
	}
	room := min(len(p.choices), max(size.H-len(lines)-6, 3))
	lines = append(lines, p.list.Draw(len(p.choices), room, func(i int, here bool) string { return p.row(i, here, size.W) })...)
	lines = append(lines, t.Across(size.W))
	if len(p.choices) == 0 {
		return lines
	}
	return append(lines, p.about(p.choices[p.list.Cursor].Site, p.choices[p.list.Cursor].Warning, size.W)...)
}

func (p *Places) row(i int, here bool, width int) string {
	t, c := p.s.Deps.Theme, p.choices[i]
	text := fmt.Sprintf("%d %s", i+1, c.Place())
	if i == 0 && p.proposed {
		text += " (proposed)"
	}
	if c.Warning != "" {
		text = "! " + text
	} else {
		text = "  " + text
	}
	last := "none in record"
	if c.Last != nil {
		last = c.Ago + ", " + c.Last.Product
		if c.Last.Blood {
			last = c.Ago + ", blood came"
		} else if c.Last.ML > 0 {
			last += fmt.Sprintf(" %s mL", exam.FormatNumber(c.Last.ML, 2))
		}
	}
	room := width - 2 - ansi.StringWidth(text) // the place is whole, what was there last gives way
	line := layout.Pad(text+layout.PadLeft(" "+exam.CleanLine(last, 0), max(room, 0)), width-2)
	if here {
		return t.Cursor.Render(t.Sign.Cursor + " " + line)
	}
	return "  " + line
}

// about is where a site is found, with the warning first.
func (p *Places) about(site procedure.Site, warning string, width int) []string {
	t := p.s.Deps.Theme
	var lines []string
	for _, l := range layout.Wrap(exam.CleanLine(warning, 0), width) {
		lines = append(lines, t.Caution.Render(l))
	}
	for _, text := range []string{site.Find, "Stand: " + site.Stand, "For: " + site.For, "Against: " + site.Against} {
		lines = append(lines, layout.Wrap(text, width)...)
	}
	if site.Source == "" { // it stood beside the list
		return lines
	}
	for _, l := range layout.Wrap(string(site.Evidence)+": "+site.Source, width) {
		lines = append(lines, t.Faint.Render(l))
	}
	return lines
}

// Press moves among the sites; one with a warning takes a second enter.
func (p *Places) Press(k keys.Press) tea.Cmd {
	if cmd, did := pressExtra(p.more, k); did {
		return cmd
	}
	switch {
	case p.list.Move(k, len(p.choices)):
		p.warned = -1
	case keys.Digit().Is(k):
		if i := digit(k); i < len(p.choices) {
			p.list.Cursor, p.warned = i, -1
		}
	case keys.Accept().Is(k) && len(p.choices) > 0:
		c := p.choices[p.list.Cursor]
		if c.Warning != "" && p.warned != p.list.Cursor {
			p.warned = p.list.Cursor
			p.s.Say("Read the warning first. enter again takes it all the same.")
			return nil
		}
		return p.chosen(c)
	}
	return nil
}

// Keys are those of a list.
func (p *Places) Keys() []keys.Binding {
	return append([]keys.Binding{keys.Accept().With("take it", "take the site under the cursor"), keys.Digit(), keys.Up()}, bindings(p.more)...)
}

// Typing is never true.
func (p *Places) Typing() bool { return false }

// Escape leaves; no needle is in.
func (p *Places) Escape() bool { return false }

// The fields of the needle part.
const (
	needleField = "needle"
	wordsField  = "nearer"
)

// NewNeedle is the part before the needle goes in: where, which needle, and i when
// it is in. In writes it down.
func NewNeedle(s *Screen, c procedure.Choice, before string, hint string, in func(place exam.Place, needle string) tea.Cmd, back func() Part) Part {
	a := Blank()
	a.Put(needleField, before)
	fields := []needle.Field{
		{Key: needleField, Label: "needle", Limit: 40, Hint: func(string) string { return "gauge and length, as 20 G, 1.5 in" }},
		{Key: wordsField, Label: "nearer", Limit: 80, Hint: func(string) string { return "anything nearer about the place, in words; may stay empty" }},
	}
	places := &Places{s: s}
	head := func(width int) []string {
		out := []string{s.Deps.Theme.Strong.Render(layout.Cut(c.Place().String(), width))}
		for _, l := range append([]string{procedure.NeedleRule}, strings.Split(hint, "\n")...) {
			out = append(out, layout.Wrap(l, width)...)
		}
		about := places.about(procedure.Site{Find: c.Site.Find, Stand: c.Site.Stand, For: c.Site.For, Against: c.Site.Against}, "", width)
		return append(append(out, about...), "")
	}
	sheet := NewSheet(s, "i: the needle is in", "needle is in", a, fields, head, func() tea.Cmd {
		place := c.Place()
		place.Words = a.Get(wordsField)
		return in(place, a.Get(needleField))
	}).ToEnd()
	sheet.Only = keys.Letter("i", "needle is in", "write down that the needle is in")
	return &backTo{sheet, s, back}
}

// backTo is a form from which esc goes back to another part.
type backTo struct {
	*Sheet
	s    *Screen
	back func() Part
}

// BackTo is a form from which esc goes back to another part.
func BackTo(sheet *Sheet, s *Screen, back func() Part) Part { return &backTo{sheet, s, back} }

// Escape shows the part before.
func (b *backTo) Escape() bool {
	b.s.Show(b.back())
	return true
}

// NeedleHint are the needles of the trade for a route.
func NeedleHint(route exam.Route) string {
	text := ""
	for _, n := range procedure.Needles() {
		if n.Route != route {
			continue
		}
		part := n.Gauge + " G, " + n.Length
		if n.For != "" {
			part = n.For + ": " + part
		}
		if n.Why != "" {
			part += " (" + n.Why + ")"
		}
		if text != "" {
			text += "\n"
		}
		text += part
	}
	return text
}
