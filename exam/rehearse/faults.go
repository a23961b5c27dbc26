package rehearse

import (
	"cmp"

	"loosebox/exam"
)

// FaultKind is what sort of fault it is.
type FaultKind string

// The kinds of fault.
const (
	FaultSafety  FaultKind = "safety"
	FaultFinding FaultKind = "finding"
	FaultCount   FaultKind = "count"
	FaultMissed  FaultKind = "step missed"
	FaultSide    FaultKind = "side missed"
	FaultNotDone FaultKind = "not done"
	FaultOrder   FaultKind = "order"
	FaultContext FaultKind = "context"
	FaultRemark  FaultKind = "remark not raised"
	FaultHandOff FaultKind = "hand-off"
	FaultHurried FaultKind = "too soon"
)

// Fault is one thing that went wrong, for counting over many rehearsals.
type Fault struct {
	Kind  FaultKind
	Step  exam.StepID
	Site  exam.Site
	Name  string // of the place, for a person; empty where it has none
	Words string
}

// Faults lists everything that went wrong, once each. A step passed over is a fault unless this horse cannot be
// examined there and the reason says so. A perfect rehearsal has none.
func (m Marks) Faults() []Fault {
	var out []Fault
	add := func(kind FaultKind, p Place, words string) {
		out = append(out, Fault{kind, p.Step, p.Site, p.Name, words})
	}
	for _, s := range m.Safety {
		if !s.Safe {
			add(FaultSafety, s.Place, s.Moment)
		}
	}
	for _, f := range m.Findings {
		switch {
		case f.TooSoon != "":
			add(FaultHurried, f.Place, f.TooSoon)
		case !f.Right && f.Answer != "" && !m.counted(f.Place):
			add(FaultFinding, f.Place, f.Why)
		}
	}
	for _, c := range m.Counts {
		if !c.Right {
			add(FaultCount, c.Place, cmp.Or(c.Short, c.Basis))
		}
	}
	for _, p := range m.Missed {
		add(FaultMissed, p, "")
	}
	for _, s := range m.Sides {
		for _, site := range s.Sites {
			add(FaultSide, Place{Step: s.Step, Site: site, Name: s.Name}, "")
		}
	}
	for _, p := range m.Passed {
		if !p.Excused {
			add(FaultNotDone, p.Place, p.Reason.String())
		}
	}
	for _, p := range m.Order.OutOfOrder {
		add(FaultOrder, p, "")
	}
	if !m.Context.Right {
		add(FaultContext, Place{}, "")
	}
	for _, r := range m.Unraised {
		add(FaultRemark, r.Place, r.Why)
	}
	if m.HandOff.Needed && !m.HandOff.Complete {
		add(FaultHandOff, Place{}, "")
	}
	return out
}

func (m Marks) counted(p Place) bool {
	for _, c := range m.Counts {
		if c.Place == p {
			return true
		}
	}
	return false
}
