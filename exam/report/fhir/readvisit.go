package fhir

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

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

// readComposition begins the visit of a document, or says why nothing of it is taken.
func (r *reader) readComposition(res *resource) error {
	c, err := as[composition](res)
	if err != nil {
		return err
	}
	met := r.refers(c.Encounter)
	patient := r.refers(c.Subject)
	if met == nil || r.animals[patient] == nil {
		return nil // its resources say for themselves whose they are
	}
	e, err := as[encounter](met)
	if err != nil {
		return err
	}
	why := ""
	switch {
	case c.Status == inError:
		why = "it was entered in error there, and nothing of it is imported"
	case c.Status == "preliminary" || e.Status == "in-progress":
		why = "it is not finished there. Nothing of it is imported: close it, and export it again"
	}
	if why != "" {
		for _, ref := range append([]reference{c.Encounter}, c.named()...) {
			r.refused[ref.Reference] = true
		}
		return errors.New(why)
	}
	v := r.visit(patient, c.Encounter.Reference, time.Time{})
	v.Routine = routineOf(e)
	if i := c.Identifier; i != nil {
		if id, ok := isUUID(i.System, i.Value); ok && uuid.Validate(id) == nil {
			v.ID = exam.VisitID(id)
		}
	}
	for n, a := range c.Attester {
		if n == 0 {
			v.end, v.closedBy = moment(a.Time), r.person(a.Party)
			continue
		}
		r.left = append(r.left, fmt.Sprintf("Visit of %s: that %s read it and signed it off. A signature stays where it was given.",
			v.At.Format(notation.DayForm), r.person(a.Party)))
	}
	if v.Routine != "" {
		v.From = &exam.CameFrom{Practice: r.practice(c.Custodian), Line: r.bound(c.Encounter.Reference)}
		for _, old := range c.RelatesTo {
			v.From.Replaces = notation.CleanLine(old.TargetIdentifier.Value, 0)
		}
	}
	for _, ref := range c.named() {
		r.of[ref.Reference] = v
	}
	return nil
}

// named is what the sections of a document name.
func (c composition) named() []reference {
	var out []reference
	for _, s := range c.Section {
		out = append(out, s.Entry...)
	}
	return out
}

// routineOf is the key of the routine of an exam of this program; empty for none.
func routineOf(e encounter) string {
	for _, t := range e.Type {
		if code := t.code(systemRoutine); code != "" {
			return notation.CleanLine(code, 0)
		}
	}
	return ""
}

// practice is the one that keeps a document.
func (r *reader) practice(ref *reference) exam.Practice {
	if ref == nil {
		return exam.Practice{}
	}
	o, _ := as[organization](r.refers(*ref))
	p := exam.Practice{Name: notation.CleanLine(o.Name, 0)}
	for _, t := range o.Telecom {
		p.Phone = notation.CleanLine(t.Value, 0)
	}
	for _, a := range o.Address {
		p.Address = notation.CleanLine(a.Text, 0)
	}
	return p
}

// bound is the digest of the record that a document is bound to.
func (r *reader) bound(meeting string) exam.Hash {
	for _, res := range r.list {
		if res.kind != "Provenance" {
			continue
		}
		p, _ := as[provenance](res)
		about := slices.ContainsFunc(p.Target, func(t reference) bool { return t.Reference == meeting })
		for _, e := range p.Entity {
			if i := e.What.Identifier; about && i != nil && i.System == systemDigest {
				return exam.Hash(notation.CleanLine(i.Value, 64))
			}
		}
	}
	return ""
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
