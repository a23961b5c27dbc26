package entry

import (
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// event is the widget of something that happens once: digits type the time at which it was seen; the arrows choose "seen,
// time not known" or "not yet".
type event struct {
	still
	step exam.Step
	o    Options
	list list
	line typed
	said error
}

// The lines of the field.
const (
	eventAt = iota
	eventSometime
	eventNotYet
)

func newEvent(step exam.Step, o Options) *event {
	e := &event{step: step, o: o, line: typed{allowed: digitSigns + ":.+"}, list: list{cursor: -1}}
	e.list.choices = []exam.Choice{{Words: "seen at"}, {Words: "seen, time not known"}, {Words: "not yet"}}
	e.list.number = func(int) string { return "-" }
	if b := o.Before; b != nil && len(b.Words) > 0 {
		switch {
		case b.At != nil:
			e.list.cursor = eventAt
			e.line.text, e.line.fresh = notation.Clock(*b.At, o.Now()), true
		case b.Has(exam.EventNotYet):
			e.list.cursor = eventNotYet
		default:
			e.list.cursor = eventSometime
		}
	}
	return e
}

func (e *event) Keys() []keys.Binding {
	when := keys.Digit().With("when", "type the time of day, 340 or 3:40; or + and minutes since birth")
	when.Label = "0-9 : +"
	return []keys.Binding{when, keys.Up(), keys.Accept(), keys.TakeBack()}
}

func (e *event) Press(p keys.Press) (KeyResult, tea.Cmd) {
	switch {
	case keys.Accept().Is(p):
		if _, e.said = e.Value(); e.said != nil {
			return Taken, nil
		}
		return Accepted, nil
	case e.line.press(p):
		e.list.cursor, e.said = eventAt, e.line.pasteCut()
		return Taken, nil
	case e.list.press(p):
		e.said = nil
		return Taken, nil
	}
	return Ignored, nil
}

// Value is the moment that was typed, or the line under the cursor.
func (e *event) Value() (exam.Value, error) {
	switch e.list.cursor {
	case eventAt:
		if e.line.text == "" {
			return exam.Value{}, &notation.Refusal{Why: "type when it was seen, like 3:40, or go down to not yet"}
		}
		if b := e.o.Before; e.line.fresh && b != nil && b.At != nil {
			return *b, nil // unchanged: keep its day
		}
		return e.step.ReadEvent(e.line.text, e.o.Horse.Birth, e.o.Now())
	case eventSometime:
		return e.step.SeenAt(time.Time{}), nil
	case eventNotYet:
		return e.step.ChoiceValue(exam.EventNotYet)
	}
	return exam.Value{}, &notation.Refusal{Why: "type when it was seen, like 3:40, or choose not yet with the arrows"}
}

// View draws the three lines, how what is typed is read, and the age of the foal.
func (e *event) View(size layout.Size) []string {
	t := e.o.Theme
	choices := append([]exam.Choice(nil), e.list.choices...)
	choices[eventAt].Words = "seen at " + e.line.text + "_"
	shown := e.list
	shown.choices = choices
	lines := shown.view(t, layout.Size{W: size.W, H: max(size.H, 3)})
	if text := e.understood(); text != "" {
		lines = append(lines, words(t, text, size.W)...)
	}
	lines = append(lines, sentence(t, e.said, size.W)...)
	lines = append(lines, words(t, e.age(), size.W)...)
	return fit(append(lines, stands(e.o, e.step, size.W)...), size)
}

// understood says how the time is read, and how long after the birth it was.
func (e *event) understood() string {
	if e.line.text == "" || e.list.cursor != eventAt {
		text := "a time of day, 3:40; or + and the minutes since birth"
		if b := e.o.Horse.Birth; b.Precision == exam.BornMinute && e.o.Now().Sub(b.At) > 24*time.Hour {
			text = "a time of day, 3:40; or + and the minutes since birth"
		}
		return text
	}
	v, err := e.Value()
	if err != nil || v.At == nil {
		return ""
	}
	text := v.At.Format("2 January 15:04")
	if b := e.o.Horse.Birth; b.Precision == exam.BornMinute {
		text += ", " + span(v.At.Sub(b.At)) + " after the birth"
	}
	return text
}

// age says how old the foal is now, where its birth is known to the minute.
func (e *event) age() string {
	b := e.o.Horse.Birth
	if b.Precision != exam.BornMinute {
		return "The minute of birth is not known; the time is saved but not judged."
	}
	now := e.o.Now()
	return fmt.Sprintf("born %s, %s ago", b.At.In(now.Location()).Format("15:04"), span(now.Sub(b.At)))
}

// span writes a time span to the minute.
func span(d time.Duration) string {
	if m := int(d.Minutes()); m < 60 {
		return fmt.Sprintf("%d min", max(m, 0))
	}
	return fmt.Sprintf("%d h %02d min", int(d.Hours()), int(d.Minutes())%60)
}
