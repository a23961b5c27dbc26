package questions

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/gs1"
	"loosebox/exam/label"
	"loosebox/exam/procedure/order"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
)

// TakeScan answers "right horse" where the chip of the horse was read. Where it was
// not this horse's, that answer is taken back if it was given; the root stops
// everything and says so.
func (c *checks) TakeScan(scan nav.Scan) (tea.Cmd, bool) {
	at := slices.IndexFunc(c.points, func(p order.AnsweredPoint) bool { return p.Key == "horse" })
	if at < 0 {
		return nil, false
	}
	switch {
	case scan.Wrong():
		if c.given[at].OK {
			c.given[at], c.at, c.words = exam.Checked{}, at, nil
			c.s.say("The first answer is removed: the chip that was read is not of this horse.")
		}
		return nil, true
	case !scan.Right():
		return nil, false
	}
	c.given[at] = exam.Checked{Key: c.points[at].Key, OK: true, Words: exam.ChipRead}
	if c.words == nil {
		c.at = c.next(c.at)
	}
	c.s.say(scan.Words())
	return nil, true
}

// Light of a check list is what is typed where words are asked; a letter answers.
func (c *checks) Light(p keys.Press) bool { return c.words != nil && c.words.Light(p) }

// Keep keeps the words.
func (c *checks) Keep() func() {
	if c.words == nil {
		return func() {}
	}
	return c.words.Keep()
}

// TakeCode hands the code of a package to a form that takes one, with what the practice
// wrote down of its item number before. A text that can be something else than a code
// is taken where a lot number is typed, and nowhere else.
func (s *Screen) TakeCode(text string) (tea.Cmd, bool) {
	f, ok := s.part.(*fields)
	if !ok || !s.Loaded || s.Saving() || s.open || s.origin.Open() || f.q.Form.Scan == nil {
		return nil, false
	}
	if !gs1.Is(text) {
		if _, err := gs1.Read(text, s.Deps.Now()); err != nil || f.lot == nil || !f.form.On(f.lot) {
			return nil, false
		}
	}
	store := s.Deps.Store
	return base.Read(s, func() ([]exam.Visit, error) { return store.Recent(label.Visits) }, func(visits []exam.Visit) tea.Cmd {
		if s.part != part(f) || s.Saving() { // the question is another one by now
			return nil
		}
		return s.do(f.q.Form.Scan(text, func(item string) (label.SavedProduct, bool) { return label.Last(item, visits) }))
	}), true
}

// Typed is the part, where what is typed into it can be taken back.
func (s *Screen) Typed() keys.Light {
	if !s.Loaded || s.Saving() || s.open || s.origin.Open() {
		return nil
	}
	part, _ := s.part.(keys.Light)
	return part
}

// TakeScan hands a chip that was read to the part.
func (s *Screen) TakeScan(scan nav.Scan) (tea.Cmd, bool) {
	part, ok := s.part.(scanPart)
	if !ok || !s.Loaded || s.Saving() {
		return nil, false
	}
	return part.TakeScan(scan)
}
