package rehearse

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/judge"
)

// marker is one marking under way.
type marker struct {
	horse   *Horse
	routine exam.Routine
	entries []exam.Entry
	visit   exam.Visit
	judge   *judge.Judge
	truth   exam.Visit // the visit as the truth would have filled it in
	levels  map[exam.Key]exam.Level
	right   map[exam.Key]bool // of counts
	// outcomes are those of all places that have a truth.
	outcomes map[exam.Key]Outcome
	out      Marks
}

// Mark marks a rehearsal: entries are the stored lines of its visit, routine is the one it was opened with. An unfinished
// rehearsal is marked as far as it went. The error says that the entries are damaged, or are not of this horse or routine.
func Mark(h *Horse, routine exam.Routine, entries []exam.Entry, j *judge.Judge) (Marks, error) {
	v, err := exam.Fold(entries)
	if err != nil {
		return Marks{}, fmt.Errorf("mark a rehearsal: %w", err)
	}
	if o, ok := OriginOf(v); !ok || o != h.Origin {
		return Marks{}, fmt.Errorf("this visit was not made with the horse %s, so it cannot be marked against it", h.Origin)
	}
	if v.Routine != routine.Name {
		return Marks{}, fmt.Errorf("this visit was made with the routine %s, so it cannot be marked against %s", v.Routine, routine.Name)
	}
	m := &marker{
		horse: h, routine: routine.For(h.Class, h.table), entries: entries, visit: v, judge: j,
		levels: map[exam.Key]exam.Level{}, right: map[exam.Key]bool{},
		outcomes: map[exam.Key]Outcome{},
	}
	m.head()
	m.forgetLeft()
	m.forgetLate()
	m.markOrder()
	m.markTimes()
	m.markCounts()
	m.makeTruth()
	m.markFindings()
	m.markMissing()
	m.markContext()
	m.markRemarks()
	m.markSafety()
	m.markTelling()
	m.out.find = m.horse.Case.Find
	m.out.Count, m.out.Score = m.out.Tally(), m.out.ScoreBy(UsualWeights())
	m.out.Better = m.better()
	return m.out, nil
}

func (m *marker) head() {
	m.out = Marks{
		Schema: MarksSchema, CaseOrigin: m.horse.Origin, Title: m.horse.Case.Title, Horse: m.visit.Horse.Name,
		Class: m.horse.Class.Name, Visit: m.visit.ID, Routine: m.visit.Routine, By: m.visit.By, At: m.visit.OpenedAt,
		Finished: m.visit.Closed(), Missed: []Place{}, Sides: []SideMark{}, Passed: []PassedMark{}, Times: []TimeMark{},
		Counts: []CountMark{}, Findings: []FindingMark{}, Unraised: []RemarkMark{}, NoCause: []RemarkMark{},
		Tell: []TellMark{}, Safety: []SafetyMark{},
	}
	for _, p := range m.horse.Case.Teaching {
		m.out.Teaching = append(m.out.Teaching, Taught{p, m.horse.held.Cite(p.Source)})
	}
}

func (m *marker) place(k exam.Key) Place {
	p := Place{Step: k.Step, Site: k.Site, Name: string(k.Step)}
	if step, ok := m.horse.table.ByID(k.Step); ok {
		p.Name = step.Short
	}
	if k.Site != exam.NoSite {
		p.Name += ", " + k.Site.String()
	}
	return p
}

// asked lists the places of the routine in its order.
func (m *marker) asked() []exam.Key {
	var out []exam.Key
	for _, ask := range m.routine.Asks {
		out = append(out, ask.Keys()...)
	}
	return out
}

// finding is what stands at a place, the one answer for all sites included.
func (m *marker) finding(k exam.Key) (exam.Finding, bool) {
	if f, ok := m.visit.Finding(k); ok {
		return f, true
	}
	return m.visit.Finding(exam.Key{Step: k.Step, Site: exam.Overall})
}

// markTimes gives each step the time from the line before it; notes belong to the answer that follows them.
func (m *marker) markTimes() {
	at, last := map[exam.StepID]int{}, m.visit.OpenedAt
	for _, e := range m.entries {
		if e.Kind == exam.EntryNote {
			continue
		}
		seconds := e.At.Sub(last).Seconds()
		last = e.At
		m.out.TotalS = max(m.out.TotalS, e.At.Sub(m.visit.OpenedAt).Seconds())
		if e.Kind != exam.EntryFinding && e.Kind != exam.EntryNotDone {
			continue
		}
		i, ok := at[e.Step]
		if !ok {
			i = len(m.out.Times)
			at[e.Step] = i
			m.out.Times = append(m.out.Times, TimeMark{Place: m.place(exam.Key{Step: e.Step})})
		}
		m.out.Times[i].Seconds += max(0, seconds)
	}
}

func (m *marker) markCounts() {
	for _, f := range m.visit.Findings {
		step, ok := m.horse.table.ByID(f.Step)
		if !ok || step.Kind != exam.KindCount || !f.Done() {
			continue
		}
		if _, known := m.horse.Truth(f.Key()); known {
			c := m.markCount(step, f)
			m.out.Counts = append(m.out.Counts, c)
			m.right[f.Key()] = c.Right
		}
	}
}

// makeTruth fills in a visit as the truth would have it, with the true rate of each stretch that was counted.
func (m *marker) makeTruth() {
	m.truth = exam.Visit{Horse: m.visit.Horse, OpenedAt: m.visit.OpenedAt, Routine: m.visit.Routine, Context: m.horse.Context}
	for _, k := range m.asked() {
		if m.routine.Name == OrderDrill { // nothing is examined in it
			break
		}
		v, ok := m.horse.Truth(k)
		if !ok {
			continue
		}
		for _, c := range m.out.Counts {
			if c.Step == k.Step {
				step, _ := m.horse.table.ByID(k.Step)
				v = number(step, c.TruePerMin)
			}
		}
		m.truth.Findings = append(m.truth.Findings, exam.Finding{Step: k.Step, Site: k.Site, Value: v, At: m.visit.OpenedAt})
	}
	m.levels = m.levelsOf(m.truth)
}

// levelsOf is the level that each finding of a visit stands at.
func (m *marker) levelsOf(v exam.Visit) map[exam.Key]exam.Level {
	out := map[exam.Key]exam.Level{}
	standings, _ := m.judge.Standings(v, nil)
	for _, s := range standings {
		out[exam.Key{Step: s.Step, Site: s.Site}] = s.Level
	}
	return out
}

func (m *marker) markFindings() {
	found := m.levelsOf(m.visit)
	for _, truth := range m.truth.Findings {
		k := truth.Key()
		step, _ := m.horse.table.ByID(k.Step)
		mark := FindingMark{Place: m.place(k), Truth: truth.Value.Show(step), Level: m.levels[k], Outcome: OutcomeNotExamined}
		f, ok := m.finding(k)
		switch {
		case !ok:
			mark.Why = "no answer"
		case !f.Done():
			mark.Why = "not done: " + f.NotDone.String()
		case step.Kind == exam.KindCount:
			mark.Answer, mark.Right = f.Value.Show(step), m.right[k]
		default:
			mark.Answer = f.Value.Show(step)
			mark.Right, mark.Why = agrees(step, f.Value, truth.Value)
		}
		if ok && f.Done() {
			m.earn(&mark, step, k, f)
		}
		if ok && f.Done() && mark.TooSoon == "" {
			mark.Outcome = outcome(step, mark.Right, f.Value, truth.Value, found[f.Key()], m.levels[k])
		}
		m.outcomes[k] = mark.Outcome
		m.out.Findings = append(m.out.Findings, mark)
	}
}

// earn says whether the sense had the time that it takes; an answer that came sooner is none.
func (m *marker) earn(mark *FindingMark, step exam.Step, k exam.Key, f exam.Finding) {
	if mark.TooSoon = m.tooSoon(step, k, f); mark.TooSoon != "" {
		mark.Right, mark.Why = false, mark.TooSoon
	}
	if step.Kind == exam.KindCount {
		return
	}
	s, need := m.sensedAt(k, f.Seq), m.horse.NeedOf(k, f.Value)
	need.Source = m.horse.held.Cite(need.Source)
	mark.SensedS, mark.Need = &s, &need
}
