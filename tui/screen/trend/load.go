package trend

import (
	"fmt"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/explain"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/theme"
)

// line is one visit's answer, as the list shows it.
type line struct {
	visit exam.VisitID
	at    time.Time
	mark  string
	level exam.Level
	text  string // the value in full, or why it was not done
	more  string // the range that day, and what the horse had been doing

	change string // against the number before, in full
}

// series is one finding over a horse's visits.
type series struct {
	horse  exam.Horse
	unit   notation.Unit
	step   exam.Step
	points []compare.TrendPoint // oldest first; none for words
	lines  []line               // newest first
	own    *exam.OwnRange
	visits []exam.Visit // newest first
}

// read is a measure, and the others that are drawn with it.
type read struct {
	series
	others []series
}

func (s *screen) load() tea.Cmd {
	deps, id, at, together := s.Deps, s.id, s.at, s.together
	return base.Read(s, func() (read, error) {
		visits, err := deps.Store.Past(id, keptVisits)
		if err != nil {
			return read{}, base.Unread("the visits of this horse", err)
		}
		visits = exam.ByClock(deps.Now(), visits)
		out := read{series: gather(deps, at, visits)}
		for _, step := range vital() {
			if together && step != at.Step {
				out.others = append(out.others, gather(deps, exam.Key{Step: step}, visits))
			}
		}
		return out, nil
	}, s.take)
}

// gather reads one place out of visits, which come newest first.
func gather(deps *nav.Deps, at exam.Key, visits []exam.Visit) series {
	var d series
	d.step, _ = deps.Steps.ByID(at.Step)
	if len(visits) == 0 {
		return d
	}
	d.horse, d.unit = visits[0].Horse, unitOf(at, d.step, visits, deps.Settings)
	d.points = compare.Trend(deps.Judge, d.step, at.Site, d.unit, visits)
	byVisit := make(map[exam.VisitID]*compare.TrendPoint, len(d.points))
	for i := range d.points {
		byVisit[d.points[i].Visit] = &d.points[i]
	}
	for i, v := range visits {
		if f, ok := v.Finding(at); ok {
			d.lines = append(d.lines, d.line(deps.Judge, v, f, visits[i+1:], byVisit[v.ID]))
		}
	}
	if d.unit != notation.NoUnit && d.unit != notation.Points {
		if own, ok := deps.Judge.OwnAt(visits[0], at, d.unit, visits[1:]); ok {
			d.own = &own
		}
	}
	d.visits = visits
	return d
}

// unitOf is the unit in which the person works, else that of the newest number; points for a score.
func unitOf(at exam.Key, step exam.Step, visits []exam.Visit, set exam.Settings) notation.Unit {
	if step.Kind == exam.KindScale {
		return notation.Points
	}
	if unit, ok := set.Units[step.Unit]; ok {
		return unit
	}
	for i := range visits {
		if f, ok := visits[i].Finding(at); ok && f.Done() && f.Value.Number != nil && f.Value.Number.Unit != notation.NoUnit {
			return f.Value.Number.Unit
		}
	}
	return step.Unit
}

func (d *series) line(j *judge.Judge, v exam.Visit, f exam.Finding, earlier []exam.Visit, p *compare.TrendPoint) line {
	l := line{visit: v.ID, at: v.OpenedAt}
	if !f.Done() {
		l.mark, l.text = "x", "not done: "+notation.CleanLine(f.NotDone.String(), 0)
		return l
	}
	l.text = notation.CleanLine(f.Value.Show(d.step), 0)
	var more []string
	if p != nil {
		l.level = p.Level
		if f.Value.Number != nil && f.Value.Number.Unit != d.unit && d.unit != notation.Points {
			l.text = notation.Quantity{Value: p.Value, Unit: d.unit}.Text(d.step.Decimals) + " (typed " + l.text + ")"
		}
		if p.Borderline {
			more = append(more, "borderline")
		}
		if p.Change.Verdict != compare.NoVerdict {
			l.change = p.Change.Means
		}
		if p.Change.Verdict == compare.Changed {
			more = append(more, "changed")
		}
		if text := notation.Ends(p.Low, p.High, 1); text != "" {
			more = append(more, fmt.Sprintf("usual %s for %s", d.with(text), p.Class))
		} else if len(p.Zones) > 0 {
			more = append(more, "what is usual is not known for "+p.Class.String())
		} else if d.step.Range != "" {
			more = append(more, "no range is known for "+p.Class.String())
		}
	} else if st, ok := j.Standing(v, f, earlier); ok {
		l.level = st.Level
	}
	for _, state := range v.Context.NotAtRest() {
		more = append(more, state.String())
	}
	if f.Note != "" {
		more = append(more, "comment: "+notation.CleanLine(f.Note, 0))
	}
	l.mark, l.more = theme.Mark(l.level), strings.Join(more, "; ")
	return l
}

// show opens where the finding under the cursor comes from.
func (s *screen) show() {
	d := &s.data
	l := d.lines[s.cursor.Cursor]
	for i, v := range d.visits {
		if v.ID != l.visit {
			continue
		}
		a := explain.Subject{Judge: s.Deps.Judge, Step: d.step, Site: s.at.Site, Visit: v, Earlier: d.visits[i+1:], Unit: d.unit}
		if f, ok := v.Finding(s.at); ok && f.Done() {
			a.Finding = &f
		}
		s.origin.Show(l.at.Format("2 Jan 2006 15:04")+": "+l.text, explain.Parts(a))
	}
}

// with is a number or a range with the unit of the series.
func (d *series) with(text string) string {
	if d.unit == notation.NoUnit || d.unit == notation.Points {
		return text
	}
	return text + " " + string(d.unit)
}
