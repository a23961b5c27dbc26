package entry

import (
	"strings"

	"loosebox/tui/keys"
)

// keys.Light of the widgets: which keys only type or move the cursor, and how they are undone when they turn out to come
// from a reader of chips. Every key of a widget that is not in this file may answer.

// chooses says that a press is the number of a line.
func chooses(p keys.Press) bool { return keys.Digit().Is(p) }

// Light of a list is the number of a line.
func (f *pick) Light(p keys.Press) bool { return chooses(p) }

// Keep keeps cursor and sentence.
func (f *pick) Keep() func() {
	cursor, said := f.list.cursor, f.said
	return func() { f.list.cursor, f.said = cursor, said }
}

// Light of a scale is a score or its half.
func (f *scale) Light(p keys.Press) bool {
	return chooses(p) || f.step.Parts.Halves && keys.Half().Is(p)
}

// Keep keeps the half as well.
func (f *scale) Keep() func() {
	back, half := f.pick.Keep(), f.half
	return func() {
		back()
		f.half = half
	}
}

// Light of marks is the number of a line; only space sets a mark.
func (m *marks) Light(p keys.Press) bool { return chooses(p) }

// Keep keeps cursor, sentence and what is known of the space bar.
func (m *marks) Keep() func() {
	cursor, said, key := m.list.cursor, m.said, m.key
	return func() { m.list.cursor, m.said, m.key = cursor, said, key }
}

// light says that a press types into the line.
func (l *typed) light(p keys.Press) bool {
	text, ok := keys.Text(p)
	return ok && !p.Paste && text != "" && strings.Map(l.only, text) == text
}

// Light of a number is what can stand in it.
func (n *number) Light(p keys.Press) bool { return n.line.light(p) && !keys.Timer().Is(p) }

// Keep keeps what is typed.
func (n *number) Keep() func() {
	line, said := n.line, n.said
	return func() { n.line, n.said = line, said }
}

// Light of a time is what can stand in it, while no watch runs.
func (w *stopwatch) Light(p keys.Press) bool { return !w.running && w.line.light(p) }

// Keep keeps what is typed.
func (w *stopwatch) Keep() func() {
	line, said := w.line, w.said
	return func() { w.line, w.said = line, said }
}

// Light of an event is a time of day.
func (e *event) Light(p keys.Press) bool { return e.line.light(p) }

// Keep keeps what is typed, and the cursor that follows it.
func (e *event) Keep() func() {
	line, said, cursor := e.line, e.said, e.list.cursor
	return func() { e.line, e.said, e.list.cursor = line, said, cursor }
}

// Light of a text is every character.
func (f *Text) Light(p keys.Press) bool {
	_, ok := keys.Text(p)
	return ok && !p.Paste
}

// Keep keeps the text and the place in it. The input changes its text where it
// lies, so the text is copied.
func (f *Text) Keep() func() {
	text, at, said, fresh, none := f.input.Value(), f.input.Position(), f.said, f.fresh, f.none
	return func() {
		f.input.SetValue(text)
		f.input.SetCursor(at)
		f.said, f.fresh, f.none = said, fresh, none
	}
}

// Light of a weighing is what can stand in the number; the number of a way of weighing goes on to its question.
func (w *weigh) Light(p keys.Press) bool {
	switch w.stage {
	case weighNumber, weighMeasure:
		return w.number.Light(p)
	case weighMethod, weighResult:
	}
	return false
}

// Keep keeps the method under the cursor, or the number.
func (w *weigh) Keep() func() {
	cursor, said, back := w.list.cursor, w.said, func() {}
	if w.number != nil {
		back = w.number.Keep()
	}
	return func() {
		w.list.cursor, w.said = cursor, said
		back()
	}
}

// Light of a count is a digit: where it means anything it chooses a line or is
// typed.
func (c *count) Light(p keys.Press) bool {
	switch {
	case c.ear != nil && c.ear.stage == earRead:
		return c.ear.number.Light(p)
	case c.ear != nil && c.ear.stage == earRun:
		return false
	}
	return chooses(p)
}

// Keep keeps what a digit can change.
func (c *count) Keep() func() {
	said, drop, cursor, back := c.said, c.drop, -1, func() {}
	if c.asking != nil {
		cursor = c.asking.list.cursor
	}
	if c.ear != nil {
		back = c.ear.keep()
	}
	return func() {
		c.said, c.drop = said, drop
		if c.asking != nil {
			c.asking.list.cursor = cursor
		}
		back()
	}
}

func (e *ear) keep() func() {
	cursor, line, said, back := e.list.cursor, e.line, e.said, func() {}
	if e.number != nil {
		back = e.number.Keep()
	}
	return func() {
		e.list.cursor, e.line, e.said = cursor, line, said
		back()
	}
}

// Light of a score by its parts is only what its total takes: a part that is
// scored goes on to the next.
func (p *parts) Light(k keys.Press) bool {
	total, ok := p.total.(keys.Light)
	return ok && !p.each && total.Light(k)
}

// Keep keeps the total.
func (p *parts) Keep() func() {
	if total, ok := p.total.(keys.Light); ok {
		return total.Keep()
	}
	return func() {}
}

// Typed is the field of the present site, where its presses can be taken back.
func (s *Sites) Typed() keys.Light {
	f, _ := s.field().(keys.Light)
	return f
}

// Light of a choice in a form is the number of a line; NewChoice makes a pick.
var _ keys.Light = (*OneOf)(nil)
