package exam

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// rest is what "the rest of this area looks usual" saves: one answer after the other, each shown when it is on the disk.
type rest struct {
	left  []exam.Entry // not saved yet
	lines []string     // saved, as the screen shows them
	used  bool         // it was the last key: it counts again after another one
}

func (r *rest) clear() {
	if len(r.left) == 0 {
		*r = rest{}
	}
}

// restUsual is the key for the rest of the area, and why it does nothing here.
func (s *screen) restUsual() keys.Binding {
	b := keys.RestUsual()
	switch {
	case s.horse.Patient != nil:
		return b.OffIf("in a rehearsal every step is answered on its own")
	case s.visit.Closed():
		return b.OffIf("the visit is closed: correct each finding on its own")
	case s.once:
		return b.OffIf("only this step was opened")
	case s.rest.used:
		return b.OffIf("look at this area first")
	case s.unsafe():
		return b.OffIf("the horse is not safe: answer each step on its own")
	case len(s.looked()) == 0:
		return b.OffIf("no step to do in this area can be judged by eye")
	}
	return b
}

// unsafe says that nobody goes near the horse.
func (s *screen) unsafe() bool {
	f, ok := s.visit.First("approach")
	if !ok {
		return false
	}
	step, _ := s.Deps.Steps.ByID("approach")
	for _, key := range f.Value.Words {
		if c, ok := step.Choice(key); ok && c.Level >= ranges.LevelTell {
			return true
		}
	}
	return false
}

// looked are the places of this area that have no answer yet and are answered by eye alone.
func (s *screen) looked() []exam.Key {
	var out []exam.Key
	from, n := s.routine.Area(s.now)
	for _, ask := range s.routine.Asks[from : from+n] {
		if step, ok := s.Deps.Steps.ByID(ask.Step); ok && step.LooksUsual() {
			out = append(out, s.openIn(ask)...)
		}
	}
	return out
}

// answerRest saves the usual answer at every one of these places, one entry each.
func (s *screen) answerRest() tea.Cmd {
	if b := s.restUsual(); b.Off != "" {
		s.say(exam.Level(0), "Not here: "+b.Off+".")
		return nil
	}
	if s.field.Busy() {
		return s.leaving(nil)
	}
	s.rest = rest{used: true}
	for _, k := range s.looked() {
		step, _ := s.Deps.Steps.ByID(k.Step)
		v, ok := step.UsualValue()
		if !ok {
			continue
		}
		v.InOneGo = true
		s.rest.left = append(s.rest.left, exam.Entry{Kind: exam.EntryFinding, Step: k.Step, Site: k.Site, Value: &v})
	}
	return s.saveNextOfRest()
}

func (s *screen) saveNextOfRest() tea.Cmd {
	if len(s.rest.left) == 0 {
		return nil
	}
	e := s.rest.left[0]
	s.rest.left = s.rest.left[1:]
	return s.save(e)
}

// nextOfRest shows what was saved of the rest and saves the next of it; nil where nothing is left.
func (s *screen) nextOfRest(stored []exam.Entry) tea.Cmd {
	for _, e := range stored {
		if e.Value != nil && e.Value.InOneGo {
			step, _ := s.Deps.Steps.ByID(e.Step)
			s.rest.lines = append(s.rest.lines, s.placeOf(e)+": "+notation.CleanLine(e.Value.Show(step), 0))
		}
	}
	return s.saveNextOfRest()
}

func (s *screen) placeOf(e exam.Entry) string {
	step, _ := s.Deps.Steps.ByID(e.Step)
	if e.Site == exam.NoSite {
		return step.Short
	}
	return step.Short + ", " + e.Site.String()
}

// drawRest lists what one key saved, in at most so many lines; nil where it was not the last key.
func (s *screen) drawRest(width, most int) []string {
	if len(s.rest.lines) == 0 {
		return nil
	}
	t := s.Deps.Theme
	out := []string{layout.Cut(fmt.Sprintf("Saved in one go: %s", notation.Counted(len(s.rest.lines), "answer")), width)}
	room := max(most-1, 1)
	for i, text := range s.rest.lines {
		if i == room-1 && len(s.rest.lines) > room {
			out = append(out, layout.Cut(fmt.Sprintf("  and %d more; r shows all", len(s.rest.lines)-i), width))
			break
		}
		out = append(out, layout.Cut(t.Sign.Done+" "+text, width))
	}
	for i := range out {
		out[i] = t.Good.Render(out[i])
	}
	return out
}
