package questions

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/script"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/screen/list"
	"loosebox/tui/theme"
)

// places is the choice of a site in words for this horse: where the last needles
// went, the proposed one first.
type places struct {
	silent
	s *Screen
	*script.Places
	list   list.List
	warned int // the place whose warning was read once; -1 for none
}

func newPlaces(s *Screen, q *script.Question) *places {
	return &places{s: s, Places: q.Places, warned: -1}
}

// Lines draws the list and what is known of the site under the cursor.
func (p *places) Lines(size layout.Size) []string {
	t := p.s.Deps.Theme
	var lines []string
	for _, l := range layout.Wrap(p.Note, size.W) {
		lines = append(lines, t.Caution.Render(l))
	}
	room := min(len(p.Choices), max(size.H-len(lines)-6, 3))
	lines = append(lines, p.list.Draw(len(p.Choices), room, func(i int, here bool) string { return p.row(i, here, size.W) })...)
	lines = append(lines, t.Across(size.W))
	if len(p.Choices) == 0 {
		return lines
	}
	return append(lines, p.about(p.Choices[p.list.Cursor].Site, p.Choices[p.list.Cursor].Warning, layout.Size{W: size.W, H: size.H - len(lines)})...)
}

func (p *places) row(i int, here bool, width int) string {
	t, c := p.s.Deps.Theme, p.Choices[i]
	text := fmt.Sprintf("%d %s", i+1, c.Place())
	if i == 0 && p.Proposed {
		text += " (proposed)"
	}
	if c.Warning != "" {
		text = theme.Caution + " " + text
	} else {
		text = "  " + text
	}
	last := "not used before"
	if c.Last != nil {
		last = c.Ago + ", " + c.Last.Product
		if c.Last.Blood {
			last = c.Ago + ", blood came"
		} else if c.Last.ML > 0 {
			last += fmt.Sprintf(" %s mL", notation.FormatNumber(c.Last.ML, 2))
		}
	}
	room := width - 2 - ansi.StringWidth(text) // the place is whole, what was there last gives way
	line := layout.Pad(text+layout.PadLeft(" "+notation.CleanLine(last, 0), max(room, 0)), width-2)
	if here {
		return t.Cursor.Render(t.Sign.Cursor + " " + line)
	}
	return "  " + line
}

// about is where a site is found, with the warning first. A text stands there whole or not at all: half a sentence could say
// the opposite.
func (p *places) about(site procedure.NeedleSite, warning string, room layout.Size) []string {
	t := p.s.Deps.Theme
	var blocks [][]string
	add := func(style lipgloss.Style, text string) {
		lines := layout.Wrap(text, room.W)
		for i, l := range lines {
			lines[i] = style.Render(l)
		}
		blocks = append(blocks, lines)
	}
	add(t.Caution, notation.CleanLine(warning, 0))
	for _, text := range []string{site.Find, "Stand: " + site.Stand, "For: " + site.For, "Against: " + site.Against} {
		add(lipgloss.NewStyle(), text)
	}
	words := slices.Concat(blocks...)
	add(t.Faint, site.Evidence.String()+": "+site.Source) // it is behind s as well
	if all := slices.Concat(blocks...); len(all) <= room.H {
		return all
	}
	if len(words) <= room.H {
		return words
	}
	var lines []string
	for _, b := range blocks {
		if len(lines)+len(b) > room.H-1 {
			break
		}
		lines = append(lines, b...)
	}
	return append(lines, t.Faint.Render(layout.Cut("The rest stands on the next question.", room.W)))
}

// Press moves among the sites; one with a warning takes a second enter.
func (p *places) Press(k keys.Press) tea.Cmd {
	if cmd, did := p.s.more(k); did {
		return cmd
	}
	switch {
	case p.list.Move(k, len(p.Choices)):
		p.warned = -1
	case keys.Digit().Is(k):
		if i := digit(k); i < len(p.Choices) {
			p.list.Cursor, p.warned = i, -1
		}
	case keys.Accept().Is(k) && len(p.Choices) > 0:
		c := p.Choices[p.list.Cursor]
		if c.Warning != "" && p.warned != p.list.Cursor {
			p.warned = p.list.Cursor
			p.s.say("Read the warning first. enter again uses this site anyway.")
			return nil
		}
		return p.s.do(p.Chosen(c))
	}
	return nil
}

// Keys are those of a list.
func (p *places) Keys() []keys.Binding {
	return append([]keys.Binding{keys.Accept().With("choose", "take the site under the cursor"), keys.Digit(), keys.Up()}, bindings(p.s.question.More)...)
}
