package judge

import (
	"slices"
	"strings"
	"time"

	"loosebox/exam"
)

// colicKeys are answers that are signs of colic, by step. A grade of pain (mild) and what is told by itself are among them;
// restlessness and standing stretched count only beside another one, as a nervous horse shows them too.
func colicKeys() map[exam.StepID][]string {
	return map[exam.StepID][]string{
		"pain.signs": {
			"offfeed", "flank", "paws", "stretches", "teeth", "sweats", "kicks", "updown", "rolls", "mild", "severe", "constant",
		},
		"demeanour":        {"restless"},
		"posture":          {"stretched"},
		"gut.sounds":       {"none"},
		"belly.distension": {"moderate", "severe"},
		"manure":           {"none", "straining"},
	}
}

// colicSigns groups the findings that are signs of colic.
func (p *judgedVisit) colicSigns() [][]*assessment {
	var out [][]*assessment
	clear := false
	for _, step := range []exam.StepID{"pain.signs", "gut.sounds", "belly.distension", "manure", "demeanour", "posture"} {
		held := p.having(step, colicKeys()[step]...)
		if len(held) == 0 || !clear && besideOnly(step) {
			continue
		}
		clear, out = true, append(out, held)
	}
	return out
}

// besideOnly says that a sign at this step counts only beside one at another.
func besideOnly(step exam.StepID) bool { return step == "demeanour" || step == "posture" }

// colicCount counts different signs of colic. The grade of a pain is no sign beside the sign itself.
func (p *judgedVisit) colicCount() int {
	n := 0
	for _, group := range p.colicSigns() {
		if group[0].finding.Step != "pain.signs" {
			n++
			continue
		}
		signs, grades := 0, 0
		for _, key := range group[0].finding.Value.Words {
			switch {
			case slices.Contains([]string{"mild", "severe", "constant"}, key):
				grades = 1
			case slices.Contains(colicKeys()["pain.signs"], key):
				signs++
			}
		}
		n += max(signs, grades)
	}
	return n
}

// stillThere compares with an earlier answer to the same step, or with an earlier visit of the last hours.
func stillThere(p *judgedVisit) [][]*assessment {
	now := p.colicSigns()
	if len(now) == 0 {
		return nil
	}
	for _, group := range now {
		for _, a := range group {
			for _, f := range a.finding.Before {
				if colicSign(&f) && longEnough(a.finding.At.Sub(f.At)) {
					return now
				}
			}
		}
	}
	for i := range p.earlier {
		e := &p.earlier[i]
		if e.ID == p.visit.ID || e.Struck != nil || !longEnough(p.visit.OpenedAt.Sub(e.OpenedAt)) {
			continue
		}
		if slices.ContainsFunc(e.Findings, func(f exam.Finding) bool { return colicSign(&f) }) {
			return now
		}
	}
	return nil
}

func longEnough(ago time.Duration) bool {
	return ago >= stillThereMin*time.Minute && ago <= stillThereMax
}

func colicSign(f *exam.Finding) bool {
	return f.Done() && !besideOnly(f.Step) && slices.ContainsFunc(colicKeys()[f.Step], f.Value.Has)
}

// colicVisit says that a visit is one for colic: by its reason, its routine or any sign of it.
func colicVisit(v *exam.Visit) bool {
	return strings.Contains(strings.ToLower(v.Reason), "colic") || strings.Contains(v.Routine, "colic") ||
		slices.ContainsFunc(v.Findings, func(f exam.Finding) bool { return colicSign(&f) })
}
