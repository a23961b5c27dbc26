package exam

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
)

// company is the simulated horse of a rehearsal. With a real horse its Patient is nil, and all methods do nothing.
type company struct {
	nav.Patient
	here    bool
	gone    bool // covered or closed, until the screen is shown again
	at      exam.Key
	began   time.Time
	running bool
}

// follow tells the patient the present place and what is timed there.
func (c *company) follow(s *screen) tea.Cmd {
	if c.Patient == nil || c.gone || !s.Loaded || s.field == nil || s.panel.kind == nextPanel {
		return nil
	}
	var cmds []tea.Cmd
	if k := s.key(); !c.here || k != c.at {
		c.here, c.at = true, k
		cmds = append(cmds, c.Come(k))
	}
	if began, running := s.field.Began(); began != c.began || running != c.running {
		c.began, c.running = began, running
		cmds = append(cmds, c.Timing(began, running))
	}
	return tea.Batch(cmds...)
}

// leave tells the patient that the screen is closed or covered.
func (c *company) leave() {
	c.stepBack()
	c.gone = true
}

// stepBack tells the patient that no place is examined now.
func (c *company) stepBack() {
	if c.Patient != nil {
		c.here = false
		c.Leave()
	}
}

func (c *company) update(msg tea.Msg) tea.Cmd {
	if _, shown := msg.(nav.ShownMsg); shown {
		c.here, c.gone = false, false
	}
	if c.Patient == nil {
		return nil
	}
	return c.Update(msg)
}

func (c *company) asks() bool { return c.Patient != nil && c.Asks() }

// command takes a key that neither the field nor the screen uses.
func (c *company) command(p keys.Press) tea.Cmd {
	if c.Patient == nil {
		return nil
	}
	cmd, _ := c.Command(p)
	return cmd
}

// keys are those of the patient beside the screen's own.
func (c *company) keys() []keys.Binding {
	if c.Patient == nil {
		return nil
	}
	return c.Keys()
}

func (c *company) before(k exam.Key, began time.Time) ([]exam.Entry, bool) {
	if c.Patient == nil {
		return nil, true
	}
	return c.Before(k, began)
}

// tooSoon is a sentence where "usual" cannot be answered at the places yet; empty where it can.
func (c *company) tooSoon(places []exam.Key, answer exam.Value) string {
	if c.Patient == nil {
		return ""
	}
	for _, k := range places {
		if why := c.TooSoon(k, answer); why != "" {
			return why
		}
	}
	return ""
}

func (c *company) stored(e exam.Entry) {
	if c.Patient != nil {
		c.Stored(e)
	}
}

func (c *company) blind() bool { return c.Patient != nil && c.Blind() }

func (c *company) right(text string) string {
	if c.Patient == nil {
		return text
	}
	if c.Blind() {
		return c.Right()
	}
	if own := c.Right(); own != "" {
		text += " · " + own
	}
	return text
}

// lines are what the patient shows of itself above the entry field.
func (c *company) lines(size layout.Size) []string {
	if c.Patient == nil {
		return nil
	}
	return c.View(size)
}

// question is the open question; nil where there is none.
func (c *company) question(size layout.Size) []string {
	if !c.asks() {
		return nil
	}
	return c.Question(size)
}
