package exam

import (
	"fmt"
	"slices"
	"time"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/explain"
	"loosebox/exam/notation"
	"loosebox/exam/score"
	"loosebox/tui/chart"
	"loosebox/tui/layout"
)

// beside is what is drawn under the widget, from top to bottom.
type beside struct {
	how, soFar, usual, evidence, scale, last []string
}

func (b beside) all() []string {
	return slices.Concat(b.how, b.soFar, b.usual, b.evidence, b.scale, b.last)
}

// mostSoFar is the lines of what is known of a score so far; its source shows it whole.
const mostSoFar = 2

// roomy is the height of a body in which how a step is done always shows, and its last values with what follows from them.
const roomy = 26

func (s *screen) beside(size layout.Size) beside {
	var out beside
	if size.H >= roomy && !s.horse.blind() {
		out.how = append(s.drawHow(size.W), "")
	}
	if text := score.SoFar(s.visit, s.step().ID); text != "" {
		for _, line := range layout.WrapTo(text, size.W, mostSoFar) {
			out.soFar = append(out.soFar, s.Deps.Theme.Strong.Render(line))
		}
	}
	s.drawRange(&out, size.W)
	out.last = s.drawLast(size)
	return out
}

// drawRange says what is usual for this horse's class and on which evidence, in a line of its own where the class is long, and
// draws the range as a line with the value of the field on it; or it says why no range is held.
func (s *screen) drawRange(out *beside, width int) {
	t, step := s.Deps.Theme, s.step()
	if step.Range == "" {
		return
	}
	class := s.visit.Class()
	text, ok := s.Deps.Judge.Range(class, step, s.prefer())
	if !ok {
		out.scale = layout.WrapTo(text.Why, width, 3)
		return
	}
	whose := class.Name.String()
	if text.Practice {
		whose = "practice's range"
	}
	left, right := "usual "+text.Usual, whose+", "+text.Evidence.String()
	if len(left)+len(right) >= width {
		right = layout.Cut(whose, width-len(left)-1)
		out.evidence = []string{layout.Ends("", t.Faint.Render(text.Evidence.String()), width)}
	}
	out.usual = []string{layout.Ends(left, t.Faint.Render(right), width)}
	var value *float64
	if v, ok := s.field.Reading(text.Unit); ok {
		value = &v
	}
	line, limits := chart.Scale(t, text.Zones, value, width)
	if line == "" {
		out.usual, out.evidence, out.scale = nil, nil, layout.Wrap(text.Line, width)
		return
	}
	out.scale = []string{line, limits}
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
func (s *screen) explain() []explain.Section {
	a := explain.Subject{Judge: s.Deps.Judge, Step: s.step(), Site: s.field.Site(), Visit: s.visit, Earlier: s.earlier, Unit: s.prefer()}
	if f, ok := s.visit.Finding(s.key()); ok && f.Done() {
		a.Finding = &f
	}
	return append(s.field.Source(), explain.Parts(a)...)
}

// shown is a value in the units of the person.
func (s *screen) shown(step exam.Step, v exam.Value) string {
	return v.As(s.Deps.Settings.Units, step).Show(step)
}

// besideRange is an earlier value in the unit of the range that it stands beside: 101.7 F says little beside 36.5-38.3 C.
func (s *screen) besideRange(step exam.Step, v exam.Value) string {
	if step.Range == "" {
		return s.shown(step, v)
	}
	units := notation.Units{}
	for _, u := range step.Units {
		units[u] = s.prefer()
	}
	return v.As(units, step).Show(step)
}

// prefer is the unit in which this person thinks of the step.
func (s *screen) prefer() notation.Unit {
	return s.step().Prefer(s.Deps.Settings.Units)
}

// drawLast shows the horse's last values at this place, newest first, as many as the line holds whole, and all of them as a
// line of heights; in a roomy window its own range and what would be a change as well.
func (s *screen) drawLast(size layout.Size) []string {
	t, step, site := s.Deps.Theme, s.step(), s.field.Site()
	var parts []string
	var past []float64
	at := []time.Time{s.visit.OpenedAt}
	for _, v := range s.earlier {
		f, ok := v.Finding(exam.Key{Step: step.ID, Site: site})
		if !ok || !f.Done() {
			continue
		}
		if x, ok := f.Value.In(s.prefer()); ok {
			past = append(past, x)
		}
		if len(parts) < 3 {
			parts, at = append(parts, s.besideRange(step, f.Value)), append(at, v.OpenedAt)
		}
	}
	if len(parts) == 0 {
		return []string{""}
	}
	slices.Reverse(past)
	spark := t.Good.Render(chart.Spark(t, past, sparkWide))
	line := "last "
	for i, dates := 0, notation.NewDates(at...); i < len(parts); i++ {
		part := parts[i] + " (" + dates.Show(at[i+1]) + ")"
		switch wide := ansi.StringWidth(line + " · " + part); {
		case i == 0:
			line += part
		case wide+1+ansi.StringWidth(spark) <= size.W:
			line += " · " + part
		default:
			i = len(parts)
		}
	}
	lines := []string{layout.Ends(line, spark, size.W)}
	if size.H < roomy {
		return lines
	}
	if own, ok := s.Deps.Judge.Own(step.ID, site, s.prefer(), s.earlier); ok {
		lines = append(lines, layout.Cut(fmt.Sprintf("This horse's range: %s %s from %d visits", notation.Between(own.Low, own.High, 1), own.Unit, own.Visits), size.W))
	}
	if text := s.still(); text != "" {
		lines = append(lines, layout.Cut(text, size.W))
	}
	return lines
}

// sparkWide is the most earlier values in a line of heights.
const sparkWide = 12

// drawHow is how the step is done.
func (s *screen) drawHow(width int) []string {
	var lines []string
	for _, how := range s.step().How {
		for _, line := range layout.Wrap(how, width) {
			lines = append(lines, s.Deps.Theme.Faint.Render(line))
		}
	}
	return lines
}

// still says how much an answer must differ from the last value, measured in the same way, to be a change.
func (s *screen) still() string {
	n, last, _, ok := compare.NoiseAhead(s.Deps.Judge, s.visit, s.key(), s.prefer(), s.earlier)
	if !ok || !n.Complete() {
		return ""
	}
	return fmt.Sprintf("Changed: more than %s from %s", n.Most(s.step().Decimals), notation.Quantity{Value: last, Unit: n.Unit}.Text(s.step().Decimals))
}
