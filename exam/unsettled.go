package exam

import "slices"

// Unsettled is something in a visit that somebody must look at: it was written on two
// laptops that did not know of each other.
type Unsettled struct {
	Kind UnsettledKind `json:"kind"`
	Step StepID        `json:"step,omitempty"` // of answers
	Site Site          `json:"site,omitempty"`
	Seqs []int         `json:"entries"` // the lines, in their order
}

// UnsettledKind says what somebody must look at.
type UnsettledKind string

// The kinds of what is not settled.
const (
	UnsettledAnswers  UnsettledKind = "answers"  // differ: a new answer chooses
	UnsettledNeedles  UnsettledKind = "needles"  // both went in, both count: tell the veterinarian
	UnsettledMissed   UnsettledKind = "missed"   // a needle without a decision that was changed: tell the veterinarian
	UnsettledDecision UnsettledKind = "decision" // made without something: a new decision
	UnsettledClosing  UnsettledKind = "closing"  // without lines, which stay
	UnsettledHorse    UnsettledKind = "horse"    // a field of it in two ways (HorseDispute)
	UnsettledDouble   UnsettledKind = "double"   // two horses may be one: join them, or say that they are two
	UnsettledParted   UnsettledKind = "parted"   // joined by one, two horses for another: join again, or part
	UnsettledSetting  UnsettledKind = "setting"  // of the practice, in two ways: the last one is in use
	UnsettledAtOnce   UnsettledKind = "at once"  // two exams of a horse are open on two laptops: finish or void each
	UnsettledCompare  UnsettledKind = "compare"  // they were, and both are closed: look at both
)

// String is the kind in words.
func (k UnsettledKind) String() string { return unsettledWords.Of(k) }

// Unsettled lists what somebody must look at: answers that differ, needles that did not
// know of each other or of a changed decision, decisions made without an answer or a needle, and lines that
// whoever closed the visit did not have. What a later line settles is not listed.
func (v Visit) Unsettled() []Unsettled {
	var out []Unsettled
	for _, f := range v.Findings {
		if f.Disputed() {
			u := Unsettled{Kind: UnsettledAnswers, Step: f.Step, Site: f.Site}
			for _, s := range f.Standing() {
				u.Seqs = append(u.Seqs, s.Seq)
			}
			out = append(out, u)
		}
	}
	for _, i := range v.Injections {
		for _, n := range i.Unaware {
			if n > i.Number {
				out = append(out, Unsettled{Kind: UnsettledNeedles, Seqs: []int{i.Seq, v.Injections[n-1].Seq}})
			}
		}
	}
	for _, d := range v.Draws {
		for _, n := range d.Unaware {
			if n > d.Number {
				out = append(out, Unsettled{Kind: UnsettledNeedles, Seqs: []int{d.Seq, v.Draws[n-1].Seq}})
			}
		}
	}
	for _, i := range v.Injections {
		out = append(out, v.changed(i.Seq, i.Missed)...)
	}
	for _, d := range v.Draws {
		out = append(out, v.changed(d.Seq, d.Missed)...)
	}
	for _, d := range v.Decisions {
		if missed := v.missed(d); len(missed) > 0 && !d.Corrected {
			out = append(out, Unsettled{Kind: UnsettledDecision, Seqs: append([]int{d.Seq}, missed...)})
		}
	}
	if len(v.ClosedWithout) > 0 {
		out = append(out, Unsettled{Kind: UnsettledClosing, Seqs: append([]int{v.ClosedSeq}, v.ClosedWithout...)})
	}
	for i := range out {
		slices.Sort(out[i].Seqs)
	}
	return slices.DeleteFunc(out, func(u Unsettled) bool {
		return v.looked(u) || (u.Kind == UnsettledNeedles || u.Kind == UnsettledMissed) && v.decidedKnowing(u.Seqs)
	})
}

// changed are the decisions that the needle of a line missed and that would have changed it: wait or stop, or
// another one in the place of what was decided.
func (v Visit) changed(needle int, missed []int) []Unsettled {
	var out []Unsettled
	for _, d := range v.Decisions {
		if slices.Contains(missed, d.Seq) && !d.Corrected && (d.Ruling != GoAhead || d.First != nil) {
			out = append(out, Unsettled{Kind: UnsettledMissed, Seqs: []int{needle, d.Seq}})
		}
	}
	return out
}

// looked says that a later line names all of it, other than answers, as looked at.
func (v Visit) looked(u Unsettled) bool {
	return u.Kind != UnsettledAnswers && !slices.ContainsFunc(u.Seqs, func(seq int) bool { return !slices.Contains(v.Settled, seq) })
}

// decidedKnowing says whether a valid decision was made by somebody who knew all these lines.
func (v Visit) decidedKnowing(seqs []int) bool {
	return slices.ContainsFunc(v.Decisions, func(d Decided) bool {
		return !d.Corrected && !slices.ContainsFunc(seqs, func(seq int) bool { return !d.Known().Has(seq) })
	})
}

// missed are the answers and needles before a decision that it did not know of, and that
// no later decision knew of either.
func (v Visit) missed(d Decided) []int {
	var out []int
	for _, seq := range d.Without {
		if !v.decidedKnowing([]int{d.Seq, seq}) && v.matters(seq) {
			out = append(out, seq)
		}
	}
	return out
}

// matters says that a line is an answer that stands or the beginning of a needle.
func (v Visit) matters(seq int) bool {
	return slices.ContainsFunc(v.Findings, func(f Finding) bool {
		return slices.ContainsFunc(f.Standing(), func(s Finding) bool { return s.Seq == seq })
	}) ||
		slices.ContainsFunc(v.Injections, func(i Injection) bool { return i.Seq == seq }) ||
		slices.ContainsFunc(v.Draws, func(d Draw) bool { return d.Seq == seq })
}
