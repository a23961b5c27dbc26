// Package source is the panel that says where the numbers on a screen come from. One key opens it over the whole screen, on
// every screen that shows numbers.
package source

import (
	"strings"

	"loosebox/exam/explain"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// Panel is closed as its zero value. While it is open it takes every key.
type Panel struct {
	title string
	parts []explain.Section
	open  bool
	first int // line at the top
	page  int // lines in sight when it was drawn last
	all   int
}

// Show opens the panel with these parts.
func (p *Panel) Show(title string, parts []explain.Section) {
	*p = Panel{title: title, parts: parts, open: true}
}

// Open reports whether the panel covers the screen.
func (p *Panel) Open() bool { return p.open }

// Close closes the panel and reports whether it was open.
func (p *Panel) Close() bool {
	was := p.open
	*p = Panel{}
	return was
}

// Keys are those of the open panel.
func (p *Panel) Keys() []keys.Binding {
	return []keys.Binding{
		keys.Up().With("scroll", "scroll through the sources"), keys.Down(), keys.PageDown(),
		keys.Source().With("close", "close the sources; esc and enter do the same"),
	}
}

// Press handles a key while the panel is open; false where it is closed.
func (p *Panel) Press(k keys.Press) bool {
	if !p.open {
		return false
	}
	switch {
	case keys.Source().Is(k), keys.Accept().Is(k):
		p.Close()
		return true
	case keys.Up().Is(k):
		p.first--
	case keys.Down().Is(k):
		p.first++
	case keys.PageUp().Is(k):
		p.first -= max(p.page-1, 1)
	case keys.PageDown().Is(k):
		p.first += max(p.page-1, 1)
	}
	p.first = max(min(p.first, p.all-p.page), 0)
	return true
}

// Draw fills the window with the sources, a heading to each part.
func (p *Panel) Draw(t *theme.Theme, size layout.Size) string {
	lines := p.lines(t, size.W)
	head := t.Strong.Render(layout.Cut("Where it comes from: "+notation.CleanLine(p.title, 0), size.W))
	p.page, p.all = max(size.H-2, 1), len(lines)
	p.first = max(min(p.first, p.all-p.page), 0)
	body := layout.Fit(lines[p.first:min(p.first+p.page, p.all)], layout.Size{W: size.W, H: p.page})
	foot := ""
	if below := p.all - p.first - p.page; below > 0 {
		foot = t.Faint.Render(layout.Cut("down: more", size.W))
	}
	all := append(append([]string{head}, body...), foot)
	return strings.Join(all[:min(len(all), max(size.H, 0))], "\n")
}

func (p *Panel) lines(t *theme.Theme, width int) []string {
	var out []string
	for _, part := range p.parts {
		out = append(out, t.Heading.Render(layout.Cut(part.Head, width)))
		for _, line := range part.Lines {
			for _, text := range layout.Wrap(notation.CleanNote(line), width-2) {
				out = append(out, "  "+text)
			}
		}
	}
	return out
}
