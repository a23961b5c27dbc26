package progress

import (
	"cmp"
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/rehearse"
)

// What went wrong comes again by boxes, a plain schedule: wrong puts a step into the first box, right moves it one on,
// and a step is due one, two, four, eight or sixteen days after it was last examined. It needs no model of anybody's
// memory, and everybody can see why a step is due. (Boxes are common practice of learning by cards; the days are ours.)
const boxes = 5

// Due is a step that went wrong once, and when it is rehearsed again.
type Due struct {
	Step  exam.StepID `json:"step"`
	Wrong int         `json:"wrong"` // rehearsals in which it went wrong
	Of    int         `json:"of"`    // rehearsals in which it was asked
	Box   int         `json:"box"`   // 1 to 5
	At    time.Time   `json:"due"`
}

// Due lists the steps that ever went wrong, the one that is due first before the others; a step that came through all
// boxes is not listed.
func (p Person) Due() []Due {
	at := map[exam.StepID]*Due{}
	for _, point := range slices.Backward(p.Finished()) {
		wrong := map[exam.StepID]bool{}
		for _, f := range point.Faults {
			switch f.Kind {
			case rehearse.FaultFinding, rehearse.FaultCount, rehearse.FaultMissed, rehearse.FaultSide, rehearse.FaultNotDone, rehearse.FaultHurried:
				wrong[f.Step] = true
			case rehearse.FaultSafety, rehearse.FaultOrder, rehearse.FaultContext, rehearse.FaultRemark, rehearse.FaultHandOff:
			}
		}
		for _, step := range point.Steps {
			d := at[step]
			if d == nil {
				d = &Due{Step: step, Box: boxes + 1}
				at[step] = d
			}
			d.Of++
			if wrong[step] {
				d.Wrong++
				d.Box = 1
			} else if d.Wrong > 0 {
				d.Box++
			}
			d.At = point.At.AddDate(0, 0, 1<<(min(max(d.Box, 1), boxes)-1))
		}
	}
	var out []Due
	for _, d := range at {
		if d.Wrong > 0 && d.Box <= boxes {
			out = append(out, *d)
		}
	}
	slices.SortFunc(out, func(a, b Due) int {
		return cmp.Or(a.At.Compare(b.At), b.Wrong-a.Wrong, cmp.Compare(a.Step, b.Step))
	})
	return out
}
