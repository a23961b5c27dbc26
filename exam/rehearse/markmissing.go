package rehearse

import (
	"slices"

	"loosebox/exam"
)

// markMissing finds steps without an answer, steps with some sites left out, and those passed over with a reason.
func (m *marker) markMissing() {
	var order []exam.StepID
	left, have := map[exam.StepID][]exam.Site{}, map[exam.StepID]bool{}
	for _, k := range m.asked() {
		step, _ := m.horse.table.ByID(k.Step)
		if !slices.Contains(order, k.Step) && step.Kind != exam.KindNote {
			order = append(order, k.Step)
		}
		f, ok := m.finding(k)
		switch {
		case !ok:
			left[k.Step] = append(left[k.Step], k.Site)
			continue
		case !f.Done() && m.routine.Name != OrderDrill:
			m.out.Passed = append(m.out.Passed, m.passed(k, f.NotDone))
		}
		have[k.Step] = true
	}
	for _, id := range order {
		p := m.place(exam.Key{Step: id})
		switch {
		case len(left[id]) == 0:
		case have[id]:
			m.out.Sides = append(m.out.Sides, SideMark{Place: p, Sites: left[id]})
		default:
			m.out.Missed = append(m.out.Missed, p)
		}
	}
}

// passed marks a place that was passed over. The reason is checked against the horse: only what cannot be examined on it
// may be passed over, and only for the reason that holds.
func (m *marker) passed(k exam.Key, reason exam.Reason) PassedMark {
	p := PassedMark{Place: m.place(k), Reason: reason, Needed: slices.Contains(m.horse.Case.Find, k)}
	holds, cannot := m.horse.Case.Excused[k]
	if k.Site == exam.Overall {
		holds, cannot = m.horse.Case.Excused[exam.Key{Step: k.Step, Site: exam.NoSite}]
	}
	p.Excused = cannot && reason == holds
	if !p.Excused {
		p.Holds = holds
	}
	return p
}

func (m *marker) markContext() {
	c := ContextMark{Answer: m.visit.Context.States, Truth: m.horse.Context.States}
	a, b := slices.Clone(c.Answer), slices.Clone(c.Truth)
	slices.Sort(a)
	slices.Sort(b)
	c.Right = slices.Equal(a, b)
	m.out.Context = c
}
