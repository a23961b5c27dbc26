package rehearse

import (
	"slices"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// markSafety reads the choices at moments of danger, and injections that were given without drawing back.
func (m *marker) markSafety() {
	for _, c := range ChoicesIn(m.visit) {
		i := slices.IndexFunc(moments(), func(x DangerMoment) bool { return x.ID == c.Moment })
		if i < 0 {
			continue
		}
		moment := moments()[i]
		chose, ok := moment.Option(c.Option)
		if !ok {
			continue
		}
		m.out.Safety = append(m.out.Safety, m.safety(moment, exam.Key{Step: c.Step}, chose))
	}
	for _, given := range m.visit.Injections {
		n := len(given.Attempts)
		if given.State == exam.InjectionGiven && !given.Afterwards && n > 0 && given.Attempts[n-1].Seen == "" {
			moment := m.horse.AtInjection()
			press, _ := moment.Option("press")
			m.out.Safety = append(m.out.Safety, m.safety(moment, exam.Key{}, press))
		}
	}
}

func (m *marker) safety(moment DangerMoment, k exam.Key, chose Option) SafetyMark {
	mark := SafetyMark{
		Moment: moment.ID, Place: m.place(k), Happens: moment.Happens, Chose: chose.Words, Safe: chose.Safe,
		Why: moment.Why, Source: m.horse.held.Cite(moment.Source),
	}
	for _, o := range moment.Options {
		if o.Safe && !chose.Safe {
			mark.Better = o.Words
		}
	}
	return mark
}

// markTelling looks whether what must be told was found and handed off. A hand-off is needed where the case says that
// something must be told, or where a remark of the truth stands at recheck or above; it is complete when it names the
// veterinarian and comes after every finding that it must carry.
func (m *marker) markTelling() {
	h := HandOffMark{Done: len(m.visit.HandOffs) > 0, Lacks: []string{}}
	var last exam.HandOff
	if h.Done {
		last = m.visit.HandOffs[len(m.visit.HandOffs)-1]
	}
	if IsDrill(m.routine.Name) { // one step is practised, and nobody called
		m.out.HandOff = h
		return
	}
	asked := m.asked()
	for _, k := range m.horse.Case.Tell {
		if !slices.Contains(asked, k) {
			continue
		}
		step, _ := m.horse.table.ByID(k.Step)
		truth, _ := m.truth.Finding(k)
		t := TellMark{Place: m.place(k), Truth: truth.Value.Show(step), Outcome: m.outcomes[k]}
		t.Found = t.Outcome.Found()
		f, _ := m.finding(k)
		t.Told = t.Found && h.Done && last.Seq > f.Seq
		switch {
		case !t.Found:
			h.Lacks = append(h.Lacks, t.Name+" (not found)")
		case !t.Told && h.Done:
			h.Lacks = append(h.Lacks, t.Name+" (written after the hand-off)")
		}
		m.out.Tell = append(m.out.Tell, t)
	}
	h.Needed = len(m.out.Tell) > 0 || m.judge.Visit(m.truth, nil).Level >= ranges.LevelRecheck
	if h.Done && notation.CleanLine(last.To, 0) == "" {
		h.Lacks, h.unnamed = append(h.Lacks, "the veterinarian's name"), true
	}
	h.Complete = h.Done && len(h.Lacks) == 0
	m.out.HandOff = h
}
