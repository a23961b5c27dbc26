package rehearse

import (
	"slices"

	"loosebox/exam"
	"loosebox/ranges"
)

// markRemarks sets the remarks of the answers beside those of the truth, from the level recheck up. What was measured
// within what is allowed is not held against anybody, though it may lie on the other side of a limit.
func (m *marker) markRemarks() {
	should, did := m.judge.Visit(m.truth, nil).Remarks, m.judge.Visit(m.visit, nil).Remarks
	m.out.Unraised = m.onlyIn(should, did)
	m.out.NoCause = m.onlyIn(did, should)
}

func (m *marker) onlyIn(here, there []exam.Remark) []RemarkMark {
	out := []RemarkMark{}
	for _, r := range here {
		if r.Injection > 0 || r.Level < ranges.LevelRecheck || m.allRight(r) || slices.ContainsFunc(there, func(o exam.Remark) bool { return same(r, o) }) {
			continue
		}
		mark := RemarkMark{Place: m.place(exam.Key{Step: r.Step, Site: r.Site}), Level: r.Level, Value: r.Value, Why: r.Why, Source: r.Source}
		for _, k := range r.Of {
			mark.Of = append(mark.Of, m.place(k))
		}
		out = append(out, mark)
	}
	return out
}

// same says that a remark answers another: the same step and rule, at its site or for all of them, no less urgent.
func same(r, other exam.Remark) bool {
	if r.Step != other.Step || r.Combination != other.Combination || other.Level < r.Level {
		return false
	}
	if r.Combination {
		return r.Why == other.Why
	}
	return r.Site == other.Site || other.Site == exam.Overall || r.Site == exam.Overall
}

func (m *marker) allRight(r exam.Remark) bool {
	places := r.Of
	if !r.Combination {
		places = []exam.Key{{Step: r.Step, Site: r.Site}}
	}
	for _, k := range places {
		step, ok := m.horse.table.ByID(k.Step)
		if k.Site != exam.Overall || !ok {
			step.Sites = nil
		}
		if len(step.Sites) == 0 && m.outcomes[k] != OutcomeRight {
			return false
		}
		for _, site := range step.Sites { // the one answer for all sites
			if m.outcomes[exam.Key{Step: k.Step, Site: site}] != OutcomeRight {
				return false
			}
		}
	}
	return len(places) > 0
}
