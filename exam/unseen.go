package exam

import (
	"reflect"
	"slices"
	"strings"
)

// Lines of one visit may be written on two laptops that do not hear of each other until
// evening. Entry.Unseen names the earlier lines that the writer's laptop did not hold;
// what follows from it is here, so that every laptop reads the same visit from the same
// lines, in whatever order they came.

// saw says whether the writer of the entry held an earlier line of the visit.
func (e Entry) saw(seq int) bool { return !slices.Contains(e.Unseen, seq) }

// names says that the entry names an earlier line as one that it replaces.
func (e Entry) names(seq int) bool {
	return seq > 0 && (e.Corrects == seq || slices.Contains(e.Settles, seq))
}

// Replace makes the entry an answer that replaces a finding and all answers beside it that its
// writer saw.
func (e *Entry) Replace(f Finding) {
	e.Corrects, e.Settles = f.Seq, nil
	for _, s := range f.Differ {
		e.Settles = append(e.Settles, s.Seq)
	}
}

// Standing are the answers that stand at the finding's place: the finding, and those that
// did not know of it. Theirs are without Before and Differ.
func (f Finding) Standing() []Finding {
	out := append([]Finding{f}, f.Differ...)
	out[0].Before, out[0].Differ = nil, nil
	return out
}

// Corrections lists what stood at the finding's place before, oldest first, each with what
// replaced it.
func (f Finding) Corrections() [][2]Finding {
	out := make([][2]Finding, 0, len(f.Before))
	every := append(slices.Clone(f.Before), f.Standing()...)
	for _, old := range f.Before {
		if i := slices.IndexFunc(every, func(o Finding) bool { return o.Seq == old.Replaced }); i >= 0 {
			out = append(out, [2]Finding{old, every[i]})
		}
	}
	return out
}

// Disputed says that answers which did not know of each other are not the same: somebody
// must choose.
func (f Finding) Disputed() bool {
	return slices.ContainsFunc(f.Differ, func(o Finding) bool { return !f.same(o) })
}

func (f Finding) same(o Finding) bool {
	return f.NotDone == o.NotDone && f.Note == o.Note && reflect.DeepEqual(f.Value, o.Value)
}

// after puts the finding of an entry in the place of an older one. It replaces what the
// entry names, or all that its writer knew of where it names none of those that stand.
func (f Finding) after(old Finding, e Entry) Finding {
	standing := old.Standing()
	named := slices.ContainsFunc(standing, func(s Finding) bool { return e.names(s.Seq) })
	f.Before = slices.Clone(old.Before)
	for _, s := range standing {
		if e.saw(s.Seq) && (!named || e.names(s.Seq)) {
			s.Replaced = f.Seq
			f.Before = append(f.Before, s)
		} else {
			f.Differ = append(f.Differ, s)
		}
	}
	slices.SortFunc(f.Before, func(a, b Finding) int { return a.Seq - b.Seq })
	return f.found()
}

// found prefers a value over a reason for not doing the step, where both count: somebody did it.
func (f Finding) found() Finding {
	i := slices.IndexFunc(f.Differ, Finding.Done)
	if f.Done() || i < 0 {
		return f
	}
	out := f.Differ[i]
	out.Before, out.Differ = f.Before, slices.Clone(f.Differ)
	f.Before, f.Differ = nil, nil
	out.Differ[i] = f
	return out
}

// Said is what the finding says, in words: its value, or that it was not done and why.
func (f Finding) Said(step Step) string {
	if !f.Done() {
		return "not done, " + f.NotDone.String()
	}
	return f.Value.Show(step)
}

// SaidBy is what each of the standing answers says and by whom, in the order of the record.
func (f Finding) SaidBy(step Step) string {
	all := f.Standing()
	slices.SortFunc(all, func(a, b Finding) int { return a.Seq - b.Seq })
	said := make([]string, len(all))
	for i, s := range all {
		said[i] = s.Said(step) + " by " + s.By
	}
	return strings.Join(said, ", or ")
}

// missing adds to a list the decisions that the writer of a line of a procedure did not hold.
func (v Visit) missing(e Entry, list []int) []int {
	for _, d := range v.Decisions {
		if !e.saw(d.Seq) && !slices.Contains(list, d.Seq) {
			list = append(slices.Clone(list), d.Seq)
		}
	}
	return list
}

// unaware notes of a procedure that an entry has just begun which others its writer did
// not hold: neither knew of the other.
func (v *Visit) unaware(e Entry) {
	if len(e.Unseen) == 0 {
		return
	}
	if n := len(v.Injections); e.Injection != nil && v.Injections[n-1].Seq == e.Seq {
		unaware(e, n, func(i int) (*Signed, int, *[]int) {
			x := &v.Injections[i]
			return &x.Signed, x.Number, &x.Unaware
		})
	}
	if n := len(v.Draws); e.Draw != nil && v.Draws[n-1].Seq == e.Seq {
		unaware(e, n, func(i int) (*Signed, int, *[]int) {
			x := &v.Draws[i]
			return &x.Signed, x.Number, &x.Unaware
		})
	}
}

// unaware marks the last of n procedures, which an entry began, and those before it that
// the writer did not hold. The function gives the first line, number and mark of each.
func unaware(e Entry, n int, at func(int) (*Signed, int, *[]int)) {
	_, newest, marked := at(n - 1)
	for i := range n - 1 {
		if first, number, other := at(i); !e.saw(first.Seq) {
			*other = append(slices.Clone(*other), newest)
			*marked = append(*marked, number)
		}
	}
}

// end notes that the visit was closed or struck by an entry, and which lines were not
// known to its writer. The first end that is read holds.
func (v *Visit) end(e Entry) {
	if v.ClosedAt == nil {
		at := e.At
		v.ClosedAt, v.WithoutHandOff, v.ClosedSeq = &at, e.WithoutHandOff, e.Seq
		v.ClosedWithout = slices.Clone(e.Unseen)
	}
}

// late notes a line that was written without knowing that the visit was closed.
func (v *Visit) late(e Entry) {
	if v.ClosedAt != nil && !e.saw(v.ClosedSeq) && e.Seq != v.ClosedSeq {
		v.ClosedWithout = append(slices.Clone(v.ClosedWithout), e.Seq)
	}
}
