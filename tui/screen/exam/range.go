package exam

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/explain"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
)

// drawRange says what is usual for this horse's class, or why no range is held.
func (s *screen) drawRange(width int) []string {
	t, step := s.Deps.Theme, s.step()
	if step.Range == "" {
		return nil
	}
	class := s.visit.Class()
	text, ok := s.Deps.Judge.Range(class, step, s.prefer())
	if !ok {
		return layout.Wrap(text.Why, width)
	}
	line := text.Line
	if text.Practice {
		line += " (practice's own)"
	}
	lines := layout.Wrap(fmt.Sprintf("%s: %s", class.Name, line), width)
	return append(lines, t.Faint.Render(layout.Cut(text.Evidence.String()+"; s shows the source", width)))
}

// placeName is the step with its site, as a title.
func (s *screen) placeName() string {
	if site := s.field.Site(); site != exam.NoSite {
		return s.step().Name + ", " + site.String()
	}
	return s.step().Name
}

// explain says where the numbers of this step come from: of what stands in the field, of the answer that is stored, and
// of what it is set beside.
func (s *screen) explain() []explain.Part {
	a := explain.Asked{Judge: s.Deps.Judge, Step: s.step(), Site: s.field.Site(), Visit: s.visit, Earlier: s.earlier, Unit: s.prefer()}
	if f, ok := s.visit.Finding(s.key()); ok && f.Done() {
		a.Finding = &f
	}
	return append(s.field.Source(), explain.Parts(a)...)
}

// shown is a value in the units of the person.
func (s *screen) shown(step exam.Step, v exam.Value) string {
	return v.As(s.Deps.Settings.Units, step).Show(step)
}

// prefer is the unit in which this person thinks of the step.
func (s *screen) prefer() notation.Unit {
	return s.step().Prefer(s.Deps.Settings.Units)
}

// drawLast shows the horse's last values at this place, newest first, and its
// own range where there is one.
func (s *screen) drawLast(width int) []string {
	step, site := s.step(), s.field.Site()
	var parts []string
	at := []time.Time{s.visit.OpenedAt}
	for _, v := range s.earlier {
		f, ok := v.Finding(exam.Key{Step: step.ID, Site: site})
		if !ok || !f.Done() {
			continue
		}
		parts, at = append(parts, s.shown(step, f.Value)), append(at, v.OpenedAt)
		if len(parts) == 3 {
			break
		}
	}
	if len(parts) == 0 {
		return nil
	}
	for i, dates := 0, notation.NewDates(at...); i < len(parts); i++ {
		parts[i] += " (" + dates.Show(at[i+1]) + ")"
	}
	lines := []string{layout.Cut("Last: "+strings.Join(parts, "; "), width)}
	if own, ok := s.Deps.Judge.Own(step.ID, site, s.prefer(), s.earlier); ok {
		lines = append(lines, layout.Cut(fmt.Sprintf("Own range: %s-%s from %d visits",
			notation.FormatNumber(own.Low, 1), notation.Quantity{Value: own.High, Unit: own.Unit}.Text(1), own.Visits), width))
	}
	if text := s.still(); text != "" {
		lines = append(lines, layout.Cut(text, width))
	}
	return lines
}

// still says how far an answer must lie from the last value, taken in the same way, to be more than noise.
func (s *screen) still() string {
	n, last, _, ok := compare.NoiseAhead(s.Deps.Judge, s.visit, s.key(), s.prefer(), s.earlier)
	if !ok || !n.Complete() {
		return ""
	}
	return fmt.Sprintf("Changed: more than %s from %s", notation.Quantity{Value: n.Limit, Unit: n.Unit}.Text(1), notation.Quantity{Value: last, Unit: n.Unit}.Text(1))
}
