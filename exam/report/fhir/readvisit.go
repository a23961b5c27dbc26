package fhir

import (
	"cmp"
	"errors"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// readVisit is a visit while its document is read.
type readVisit struct {
	ForeignVisit
	animal   *resource
	end      time.Time // zero where it is not said
	closedBy string
	told     []*told
}

// told is a line with those that it names.
type told struct {
	exam.Entry
	late     bool  // written after the visit was closed
	corrects *told // nil for none
	beside   *told // what it stands beside; nil for none
}

// lines numbers what was told, in the order of time, around the closing.
func (v *readVisit) lines(document exam.Hash) ForeignVisit {
	slices.SortStableFunc(v.told, func(a, b *told) int {
		if a.late != b.late {
			if a.late {
				return 1
			}
			return -1
		}
		return a.At.Compare(b.At)
	})
	first := slices.IndexFunc(v.told, func(t *told) bool { return t.late })
	if first < 0 {
		first = len(v.told)
	}
	end := v.end
	if end.IsZero() {
		end = v.At
		for _, t := range v.told[:first] {
			if t.At.After(end) {
				end = t.At
			}
		}
	}
	closed := &told{Entry: exam.Entry{Kind: exam.EntryClosed, At: end, By: cmp.Or(v.closedBy, v.By), Reason: "imported"}}
	all := slices.Insert(slices.Clone(v.told), first, closed)
	for i, t := range all {
		t.Seq = i + 2
	}
	out := v.ForeignVisit
	for _, t := range all {
		if t.corrects != nil {
			t.Corrects = t.corrects.Seq
		}
		if t.beside != nil {
			newer, older := t, t.beside
			if newer.Seq < older.Seq {
				newer, older = older, newer
			}
			newer.Apart = append(newer.Apart, older.Seq)
		}
	}
	doses := 0
	for _, t := range all {
		if t.Injection != nil {
			doses++
			t.Injection.Number = doses
		}
		out.Lines = append(out.Lines, t.Entry)
	}
	if out.From != nil {
		out.From.Document, out.From.Lines = document, len(all)+1
	}
	return out
}

// visit is that of an animal and an encounter, or of a day where there is none; it is begun where it is new.
func (r *reader) visit(animal *resource, meeting string, at time.Time) *readVisit {
	key := animal.id + "\x00" + meeting
	if meeting == "" {
		key += at.Format(notation.DayForm)
	}
	if v := r.visits[key]; v != nil {
		return v
	}
	v := &readVisit{ForeignVisit: ForeignVisit{At: at, Horse: r.animals[animal].Horse}, animal: animal}
	e, _ := as[encounter](r.byURL[meeting])
	if started := moment(e.Period.Start); !started.IsZero() {
		v.At = started
	}
	v.end = moment(e.Period.End)
	for _, p := range e.Participant {
		v.By = r.person(p.Individual)
	}
	for _, c := range e.ReasonCode[:min(len(e.ReasonCode), 1)] {
		v.Reason = notation.CleanNote(c.words())
	}
	r.visits[key], r.keys = v, append(r.keys, key)
	return v
}

// answered puts an answer into its visit, behind the earlier ones of its place.
func (v *readVisit) answered(step exam.Step, e exam.Entry, n notes) error {
	last := &told{Entry: e}
	var beside *told
	for _, t := range v.told {
		if t.Step == e.Step && t.Site == e.Site && t.Kind != exam.EntryNote {
			beside = t // the newest of its place
		}
	}
	if beside != nil && !n.beside {
		return errors.New("its visit has an answer there already")
	}
	if n.beside {
		last.beside = beside
	}
	v.told = append(v.told, n.chain(last, func(said string) (exam.Entry, bool) {
		old := exam.Entry{Kind: exam.EntryFinding, Step: e.Step, Site: e.Site}
		if reason, ok := strings.CutPrefix(said, "not done, "); ok {
			old.Kind, old.Reason = exam.EntryNotDone, reason
			return old, true
		}
		value, err := step.ReadAnswer(said, notation.NoUnit)
		if err != nil && !errors.Is(err, exam.ErrUnlikely) {
			return old, false
		}
		old.Value = &value
		return old, true
	})...)
	return nil
}
