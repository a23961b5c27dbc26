package tui

import (
	"github.com/charmbracelet/x/ansi"

	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// progressor is a screen with steps to go through, such as an exam.
type progressor interface {
	// Progress is a bar of at most width columns that shows how much is done; empty where there is no room.
	Progress(width int) string
}

// mostProgress is the greatest width of the bar, in columns.
const mostProgress = 36

// headline is the title at the left, and at the right how far the screen is, with a bar where there is room.
func (a *App) headline(width int) string {
	title, right := a.title(), a.top().Right()
	shown := a.deps.Theme.Faint.Render(right)
	if p, ok := a.top().Screen.(progressor); ok {
		if bar := p.Progress(min(width-ansi.StringWidth(title)-ansi.StringWidth(right)-4, mostProgress)); bar != "" {
			shown += "  " + bar
		}
	}
	return layout.Ends(title, shown, width)
}

// hint is a key of the bottom line with what it does.
func (a *App) hint(b keys.Binding) string {
	return a.deps.Theme.Key.Render(b.Shown()) + a.deps.Theme.Faint.Render(" "+b.Does)
}
